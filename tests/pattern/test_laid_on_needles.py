"""Where stitches lie that nobody divided: by markers, the instep, or evenly (common practice)."""

from __future__ import annotations

import pytest

from loopwright.pattern import Pattern, Round, read, write
from loopwright.pattern._reading.workable import _by_needles, _share
from loopwright.pattern._tally import MARKER, Tally
from together import together

BOTH = {"needle 1", "needle 2"}


@together(
    ("total", "instep", "many", "shaped", "lie"),
    [
        (32, 0, 2, BOTH, [16, 16]),
        (32, 16, 2, BOTH, [16, 16]),
        (33, 0, 2, BOTH, None),
        (32, 12, 2, BOTH, None),
        (32, 12, 2, set(), None),
        (32, 12, 2, {"needle 1"}, [20, 12]),
        (32, 12, 2, {"needle 2"}, [12, 20]),
        (13, 12, 2, {"needle 2"}, [12, 1]),
        (32, 1, 2, {"needle 2"}, [1, 31]),
        (32, 32, 2, {"needle 1"}, None),
        (32, 12, 3, BOTH, [10, 12, 10]),
        (33, 13, 3, BOTH, [10, 13, 10]),
        (3, 1, 3, BOTH, [1, 1, 1]),
        (32, 12, 4, BOTH, [10, 6, 6, 10]),
        (33, 13, 4, BOTH, None),
        (32, 13, 4, BOTH, [8, 8, 8, 8]),
        (32, 13, 3, BOTH, [8, 16, 8]),
        (32, 0, 3, BOTH, [8, 16, 8]),
        (32, 0, 4, BOTH, [8, 8, 8, 8]),
        (32, 32, 4, BOTH, [8, 8, 8, 8]),
        (30, 0, 3, BOTH, None),
        (30, 0, 4, BOTH, None),
        (32, 0, 5, BOTH, None),
    ],
)
def test_stitches_are_shared_out(
    total: int, instep: int, many: int, shaped: set[str], lie: list[int] | None
) -> None:
    assert _share(Tally(total), instep, many, shaped) == lie


@together(
    ("at", "many", "lie"),
    [
        ((10,), 2, [10, 22]),
        ((31, 0), 2, [31, 1]),
        ((1, 32), 2, [1, 31]),
        ((20, 10), 3, [10, 10, 12]),
        ((10,), 3, [8, 16, 8]),
        ((), 1, None),
    ],
)
def test_stitches_lie_between_markers_that_hang(
    at: tuple[int, ...], many: int, lie: list[int] | None
) -> None:
    tally = Tally(32, ahead_at={(MARKER, n): 32 - one for n, one in enumerate(at)})
    tally.ahead_at["gap", 0] = 3
    assert _share(tally, 0, many, BOTH) == lie


AFTER = "k to 3 sts before marker"


@together(
    ("told", "by_needles"),
    [
        (f"{AFTER}, k2tog, k1; slip marker; k to last 3 sts, k2tog, k1",
         "Needle 1: k to last 3 sts, k2tog, k1; needle 2: k to last 3 sts, k2tog, k1"),
        ("k to marker, remove marker, k1, k to end", "Needle 1: knit; needle 2: k1, k to end"),
        (f"k5, {AFTER}, k2tog, k2, ssk, k to last 2 sts, k2",
         "Needle 1: k5, k to last 3 sts, k2tog, k1; needle 2: k1, ssk, k to last 2 sts, k2"),
        (f"{AFTER}, k3tog, k2tog, k to end",
         "Needle 1: k to last 3 sts, k3tog; needle 2: k2tog, k to end"),
        (f"*{AFTER}, k2tog, k1; rep from * to end", "On each needle: k to last 3 sts, k2tog, k1"),
        (f"*{AFTER}, k3tog; rep from * once more", "On each needle: k to last 3 sts, k3tog"),
        ("k to marker, k to marker, k to marker, k to end",
         "Needle 1: knit; needle 2: knit; needle 3: knit; needle 4: knit"),
    ],
)  # fmt: skip
def test_rounds_from_marker_to_marker_go_from_needle_to_needle(told: str, by_needles: str) -> None:
    (step,) = read(f"Rnd 1: {told}.").steps[-1:]
    assert isinstance(step, Round)
    made = _by_needles(step)
    assert isinstance(made, Round)
    assert write(Pattern("", (made,))) == f"Rnd 1: {by_needles}.\n"


@pytest.mark.parametrize(
    "told",
    [
        "k5", "k to end", "k to last 3 sts, k2tog, k1", "k to gap, k to end",
        f"[{AFTER}, k2tog, k1] 3 times", f"{AFTER}, k2tog, slip marker, k1, k to end",
        f"{AFTER}, k2tog, ssk, k to end", f"{AFTER}, k1, k to marker, k1",
        f"{AFTER}, k2tog, k1, place marker, k to end", f"{AFTER}, [k1] 3 times, k to end",
        "*k to end; rep from * to end", "*k to marker, k to marker; rep from * to end",
        "k to marker, k to marker, k to marker, k to marker, k to end",
        "k to marker, k2 (3, 4)", f"{AFTER}, k2 (3, 4), k to end",
    ],
)  # fmt: skip
def test_other_rounds_stay_as_they_are(told: str) -> None:
    (step,) = read(f"Rnd 1: {told}.").steps[-1:]
    assert _by_needles(step) is step
