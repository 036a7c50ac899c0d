"""What reading and reviewing a text of 2,000 lines costs, against knitting it by hand.

Run by hand: ``python tests/benchmarks/bench_review.py``. One text is 84 socks in the package's
own words, each of another number of stitches; one an ordinary pattern forty times over. The
third is a book of different patterns, as people write them: hardly a sentence stands there twice.
Seconds are those of the processor, the least of a few runs; the ratio is to the 84 socks knitted
by direct operations. The first time nothing is remembered of any sentence; the grammar
is built before.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from benchmarks.bench_pattern import by_hand, forget, sock, timed
from loopwright.pattern import review
from loopwright.pattern._reading.reader import read_closely

SOCKS = range(48, 48 + 84 * 4, 4)
SHARED = Path(__file__).parents[2] / "shared"
ORDINARY, MORE = SHARED / "ordinary", SHARED / "ordinary-more"


def knitted_by_hand() -> None:
    for stitches in SOCKS:
        by_hand(stitches).fabric()


def anew(call: Callable[[], object]) -> float:
    forget()
    return timed(call)


def show(what: str, call: Callable[[str], object], text: str, base: float) -> None:
    """Show what it costs first, with a line more each time, and of the same text once more."""
    first = min(anew(partial(call, text)) for _ in range(2))
    more = min(timed(partial(call, f"{text}\n\nNote: version {n}.\n")) for n in range(3))
    call(text)
    again = min(timed(partial(call, text)) for _ in range(3))
    seconds = {"first": first, "a line more": more, "again": again}
    shown = "   ".join(f"{name} {s:5.2f} s {s / base:5.1f} x" for name, s in seconds.items())
    print(f"  {what:8} {shown}")


def main() -> None:
    base = min(timed(knitted_by_hand) for _ in range(3))
    texts = {"84 socks": "\n".join(map(sock, SOCKS))}
    for path in sorted(ORDINARY.glob("01-*.txt")):
        texts["ordinary"] = "\n\n".join([path.read_text(encoding="utf-8").strip()] * 40)
    different = sorted((*ORDINARY.glob("*.txt"), *MORE.glob("*.txt")))[:50]
    texts["different"] = "\n\n".join(path.read_text(encoding="utf-8") for path in different)
    print(f"84 socks by hand      {base:5.2f} s")
    for name, text in texts.items():
        read_closely(text, go_on=True)
        print(f"{name}: {len(text.splitlines())} lines")
        show("read", partial(read_closely, go_on=True), text, base)
        show("review", review, text, base)


if __name__ == "__main__":
    main()
