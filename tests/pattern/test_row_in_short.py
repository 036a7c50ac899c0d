# ruff: noqa: E501 - a row stands on one line, long as it may be
"""Rows in words nobody listed: the stitches are picked out, and must use up what is there."""

from __future__ import annotations

import pytest

from loopwright.pattern._reading.reader import read_closely

TUBE = "Cast on {} sts. Join in the round.\n\nRnd 1: Knit.\n{}\nRnd 9: Knit.\n"


def _read(sts: str, row: str) -> tuple[list[str], tuple[int, ...]]:
    reading = read_closely(TUBE.format(sts, row), go_on=True, explain=True)
    return [error.found for error in reading.errors], reading.lines[-2].after


@pytest.mark.parametrize(
    ("sts", "row", "after"),
    [
        ("70", "Rnd 2: *Knit 8, k2tog. Repeat from * to the marker. (63 stitches)", (63,)),
        ("14", "Rnd 2: K2tog all the way round. (7 stitches)", (7,)),
        ("60", "*K1, p1* to EOR.", (60,)),
        ("61", "Rnd 2: K.1, * wl.fwd., K.2 tog.; repeat from * to end.", (61,)),
        ("63", "Rnd 2: K1, kfb, *yo, k2tog*; work from * to * to last st, k1.", (64,)),
        ("72", "Next round: knit seven, knit two stitches together, and repeat to the end: 64 stitches.", (64,)),
        ("48 (56)", "Rnd 2: (K1, M1R, k to within 1 st of the end, M1L, k1) twice. (52 (60) sts)", (52, 60)),
        ("60", "1st round: Sole: k1, sl 1, k1, psso, knit to last 3 sts of sole, k2tog, k1; top of foot: k1, sl 1, k1, psso, knit to last 3 sts, k2tog, k1. 4 sts decreased.", (56,)),
        ("48", "1st round: Knit 1, slip 1, knit 1, pass the slipped stitch over, knit to the last 3 sts, knit 2 together, knit 1 (46 sts).", (46,)),
        ("72", "Rnd 2: K7, k2tog around. (64 sts)", (64,)),
        ("45", "2. K4, p1; repeat to end of round.", (45,)),
        ("46", "Rnd 2: K1, ssk, k18, k2tog; then do just the same over the back. (42 sts)", (42,)),
        ("72", "Now the top. Knit 7, k2tog, and repeat these nine stitches all the way round: you'll have 64 stitches.", (64,)),
        ("45", "Then make 3 more rounds of knit 4, purl 1.", (45,)),
        ("63", "On the following round, knit 5, knit 2 together, and repeat all the way around; you will have 9 wedges.", (54,)),
        ("30", "Rnd 2: [c4f, p1] rep to end. (30 sts)", (30,)),
    ],
)  # fmt: skip
def test_a_row_is_known_by_its_stitches(sts: str, row: str, after: tuple[int, ...]) -> None:
    assert _read(sts, row) == ([], after)


@pytest.mark.parametrize(
    ("sts", "row"),
    [
        ("64", "Rnd 2: K1, kfb, *yo, k2tog*; work from * to * to last st, k1."),  # an odd one left
        ("61", "Rnd 2: K.1, * wl.fwd., K.2 tog.; then something quite else to end."),
    ],
)
def test_a_row_that_does_not_work_out_or_says_more_is_not(sts: str, row: str) -> None:
    assert _read(sts, row)[0]


def test_a_row_that_leaves_other_stitches_than_it_says_is_taken_by_its_stitches() -> None:
    """Where both ways of reading work out, the count that is stated tells which is meant."""
    assert _read("70", "Rnd 2: Knit 5, k2tog, all the way around: 60 stitches.") == ([], (60,))
    assert _read("70", "Rnd 2: Knit 68, k2tog.") == ([], (69,))


def test_a_row_over_one_needle_is_not_one_over_all() -> None:
    text = "Divide sts over 3 needles: 6, 12, 6.\nRnd 2: Knit to the last 3 sts on needle 1, k2tog, k1. Knit needles 2 and 3."
    assert _read("24", text)[1] in ((23,), (24,))
    reading = read_closely(TUBE.format("24", text), go_on=True, explain=True)
    assert not any("(23 sts)" in str(step) for line in reading.lines for step in line.steps)
