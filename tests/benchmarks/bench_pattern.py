"""What reading and knitting a whole sock's instructions costs, against the same operations direct.

Run by hand: ``python tests/benchmarks/bench_pattern.py``. Both sides make the same loops, which is
checked first; the number that counts is the ratio of the least times of alternating runs, in
seconds of the processor: other work on the machine does not change it.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from functools import _lru_cache_wrapper, partial

import numpy as np

from loopwright.making import (
    Work,
    bind_off,
    cast_on,
    graft,
    hold,
    provisional_cast_on,
    recapture,
    return_held,
    weave_in,
)
from loopwright.pattern import knit, read
from loopwright.pattern._rewording.wordings import USUAL

MEMORY = (2, 8192, 16384, 32768)  # texts, lines or sentences of which a thing is remembered

WEDGE = "On each needle: k1, ssk, k to last 3 sts, k2tog, k1."


def sock(stitches: int) -> str:
    """Return the text of a sock, a multiple of 8 stitches around."""
    half = stitches // 2
    return f"""# A sock of {stitches} stitches
Cast on {stitches} sts.
Join to work in the round.
Rnds 1-20: *K2, p2; rep from * to end.
Rnds 21-60: Knit.
K{half}.
Place next {half} sts on waste yarn as instep.
Provisionally cast on {half} sts over waste yarn called heel. ({stitches} sts)
Divide sts over 2 needles: {half}, {half}.
Rnd 1: Knit.
Rnd 2: {WEDGE} ({stitches - 4} sts)
Rnd 3: Knit.
Rep rnds 2 and 3 until 20 sts remain, ending with rnd 2. (20 sts)
Graft the sts of the two needles together, stitch by stitch.
Join yarn foot.
Return to needle the sts held as instep.
Recapture the sts from the waste yarn called heel. ({stitches} sts)
Divide sts over 2 needles: {half}, {half}.
Rnds 4-63: Knit.
Rnd 64: {WEDGE} ({stitches - 4} sts)
Rnd 65: Knit.
Rep rnds 64 and 65 until 20 sts remain, ending with rnd 64. (20 sts)
Graft the sts of the two needles together, stitch by stitch.
Weave in all ends.
"""


SOCK = sock(64)


def wedge(work: Work) -> None:
    while work.count > 20:
        half = work.count // 2
        work.round((["k", "ssk", *["k"] * (half - 6), "k2tog", "k"]) * 2)
        if work.count > 20:
            work.plain_rounds(1)


def by_hand(stitches: int = 64) -> Work:
    work, half = Work(), stitches // 2
    cast_on(work, stitches)
    work.join_round()
    work.rounds(["k", "k", "p", "p"] * (stitches // 4), 20)
    work.plain_rounds(40)
    work.work(["k"] * half)
    hold(work, half, "instep")
    provisional_cast_on(work, half, "heel")
    work.plain_rounds(1)
    wedge(work)
    graft(work)
    work.join_yarn("foot")
    return_held(work, "instep")
    recapture(work, "heel")
    work.plain_rounds(60)
    wedge(work)
    graft(work)
    weave_in(work)
    return work


def flat_by_hand() -> Work:
    """Rows with decreases, the worst case for reading: each row is a sentence of its own."""
    work = Work()
    work.right_side_facing = False
    cast_on(work, 64)
    for number in range(40):
        work.turn() if number == 0 else None
        face, together = ("k", "ssk") if number % 2 == 0 else ("p", "p2tog")
        work.work(["sl" if number % 2 == 0 else "slf", *[face] * (60 - number), together, face])
        work.turn()
    bind_off(work)
    return work


FLAT = "Cast on 64 sts.\n" + "".join(
    f"Row {number + 1} (RS): Sl 1 pwise wyib, k{60 - number}, ssk, k1.\n"
    if number % 2 == 0
    else f"Row {number + 1} (WS): Sl 1 pwise wyif, p{60 - number}, p2tog, p1.\n"
    for number in range(40)
) + "Bind off all sts.\n"  # fmt: skip


def forget() -> None:
    """Forget all lines and sentences that were read; the grammar stays built."""
    USUAL.of.cache_clear()  # type: ignore[attr-defined]
    modules = [one for name, one in sys.modules.items() if name.startswith("loopwright.pattern")]
    for kept in [kept for module in modules for kept in vars(module).values()]:
        if isinstance(kept, _lru_cache_wrapper) and kept.cache_parameters()["maxsize"] in MEMORY:
            kept.cache_clear()


def cold(text: str) -> object:
    """Read with nothing remembered of any sentence; the grammar is built once in a process."""
    forget()
    return knit(read(text))


def timed(call: Callable[[], object]) -> float:
    start: float = time.process_time()
    call()
    return time.process_time() - start


def compare(name: str, direct: Callable[[], Work], text: str, runs: int = 25) -> None:
    expected, found = direct().fabric(), knit(read(text))
    assert np.array_equal(expected.parent, found.parent)
    assert np.array_equal(expected.stitch, found.stitch)
    times: dict[str, list[float]] = {
        "direct": [], "read + knit": [], "one more line": [], "first time": []
    }  # fmt: skip
    for run in range(runs):
        times["direct"].append(timed(lambda: direct().fabric()))
        times["read + knit"].append(timed(lambda: knit(read(text))))
        changed = f"{text}Note: version {run}.\n"
        times["one more line"].append(timed(partial(lambda text: knit(read(text)), changed)))
    for _ in range(runs):  # by themselves: they leave nothing warm
        times["first time"].append(timed(lambda: cold(text)))
    base = min(times["direct"])
    print(f"{name}: {len(found)} loops, {len(text.splitlines())} lines")
    for what, values in times.items():
        print(f"  {what:13} {1000 * min(values):7.2f} ms  {min(values) / base:5.2f} x")


if __name__ == "__main__":
    compare("sock with a heel made at once", by_hand, SOCK)
    compare("40 rows, each written out", flat_by_hand, FLAT)
