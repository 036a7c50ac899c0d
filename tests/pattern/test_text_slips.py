# ruff: noqa: E501 - a text stands on one line, long as it may be
"""What a text shows by itself: each slip with the smallest text that has it, and one that is right.

The rules of thumb are those of technical editors (common practice); counts were made by hand.
"""

from __future__ import annotations

import pytest

from loopwright.pattern import review
from loopwright.pattern._findings import NOTE
from loopwright.pattern._row_slips import row_slips
from loopwright.pattern._spoken import spoken

FLAT = "Using the long-tail method, cast on 20 sts.\n"
ROUND = "Using the long-tail method, cast on 40 sts. Join in the round.\n"
SIZES = "Title\n\nSizes: S (M, L)\n\nUsing the long-tail method, cast on 40 (44, 48) sts. Join in the round.\n"
RIB = "Rnd 1: *K2, p2; rep from * to end.\n"
ROWS = "Row 1: Knit.\nRow 2: Purl.\nRow 3: Knit.\nRow 4: Purl.\n"
MARKERS = ROUND + "K10, pm, k20, pm, k10.\n"
DEC = "Rnd 1: K to 3 sts before m, k2tog, k1, sm, k to m, sm, k1, ssk, k to end.\n"

# What is right, what is changed into what, and what is said of it.
SLIPS = {
    "a size without its number": (
        SIZES + RIB + "Rnd 2: K10 (11, 12), p to end.\nRnd 3: K20 (22, 24), p to end.\nBind off.",
        "K20 (22, 24)", "K20 (22)", "20 (22) has 2 entries for 3 sizes",
    ),
    "two sizes swapped": (
        SIZES + "Work even in St st until it measures 10 (11, 12) cm.\nBind off.",
        "10 (11, 12) cm", "10 (12, 11) cm",
        "10 (12, 11) does not grow from size to size: are two of them swapped?",
    ),
    "a number twice": (
        FLAT + ROWS + "Bind off.", "Row 3", "Row 2",
        "expected number 3, found 2 again: was a row left out, or misnumbered?",
    ),
    "a row left out": (
        FLAT + ROWS + "Bind off.", "Row 2: Purl.\n", "",
        "expected number 2, found 3: was a row left out, or misnumbered?",
    ),
    "a repeat of a row that is not there": (
        FLAT + ROWS + "Rep rows 3 and 4 twice more.\nBind off.", "rows 3 and 4", "rows 3 and 5",
        "there is no row 5 here to repeat; those given are 1-4",
    ),
    "a repeat backwards": (
        FLAT + ROWS + "Rep rows 3 and 4 twice more.\nBind off.", "rows 3 and 4", "rows 3 and 3",
        "rows 3 to 3: the second number should be the greater one",
    ),
    "rows that no repeat fills": (
        FLAT + ROWS + "Rows 5-12: Rep rows 1-4.\nBind off.", "Rows 5-12", "Rows 5-11",
        "7 rows can't be 4 rows repeated: which rows are meant?",
    ),
    "stitches before the end": (
        ROUND + "Work even, then on the way home: K to last 3 sts, k2tog, k1.\nBind off.",
        "last 3", "last 4",
        "the last 4 sts are spoken of; 'k2tog, k1' takes 3 sts",
    ),
    "a marker passed": (
        MARKERS + DEC + "Bind off.", "k1, sm, k to m", "k1, k1, k to m",
        "the marker is passed here and not slipped: sm?",
    ),
    "one run in two": (
        ROUND + RIB + "Bind off.", "*K2, p2", "*P2, p2",
        "'P2, p2' is one run of stitches: is something left out in between, or knit meant?",
    ),
    "a repeat of one stitch": (
        ROUND + RIB + "Bind off.", "*K2, p2", "*K2",
        "a repeat of k2 alone is 'knit to end': is something left out of it?",
    ),
    "edges that differ": (
        ROUND + "Rnd 1: K1, ssk, k to last 3 sts, k2tog, k1.\nBind off.",
        "K1, ssk, k to last 3", "K2, ssk, k to last 3",
        "k2 on one side and k1 on the other of two shapings that should mirror each other",
    ),
}  # fmt: skip


def _found(text: str) -> list[str]:
    return [one.message for one in review(text).findings if one.severity != NOTE]


@pytest.mark.parametrize("name", SLIPS)
def test_the_right_text_is_left_alone(name: str) -> None:
    assert _found(SLIPS[name][0]) == []


@pytest.mark.parametrize("name", SLIPS)
def test_the_slip_is_noticed(name: str) -> None:
    right, old, new, said = SLIPS[name]
    assert right.count(old) == 1
    assert said in _found(right.replace(old, new))


def test_the_end_of_a_row_that_is_not_said() -> None:
    right = "Row 1: *K2, p2; rep from * to last 4 sts, k4."
    assert list(row_slips(list(spoken(right)))) == []
    (one,) = row_slips(list(spoken(right.replace(", k4", ""))))
    assert one.message == "how the last 4 sts are worked is not said"


@pytest.mark.parametrize(
    "text",
    [
        "Row 1: Knit.\nRow 2 and every other row: Purl.\nRow 3: Knit.\nRow 5: Knit.\n",
        "Rows 1-4: Knit.\nRep rows 1-4 once more.\nRow 9: Purl.\n",
        "Row 1: Knit.\nRow 2: Purl.\nRep these 2 rows once.\n\nRow 1: Purl.\nRow 2: Knit.\n",
    ],
)
def test_rows_are_numbered_in_many_right_ways(text: str) -> None:
    assert not review(FLAT + text + "Bind off.").of("numbers")


def test_an_entry_that_is_missing_never_breaks_a_review() -> None:
    more = "Instep = first 20 (22, 24) sts. Heel = last 20 (22) sts.\n" + RIB
    for text in (SIZES + more, SIZES.replace("40 (44, 48)", "40 (44)") + more):
        assert _found(text)
