# ruff: noqa: E501 - a text stands on one line, long as it may be
"""What a text shows by itself: each slip with the smallest text that has it, and one that is right.

The rules of thumb are those of technical editors (common practice); counts were made by hand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeAlias

import pytest

from loopwright.pattern import review
from loopwright.pattern._editing.chains import chains
from loopwright.pattern._editing.entries import sized_numbers
from loopwright.pattern._editing.findings import Finding
from loopwright.pattern._editing.lean_words import worded_leans
from loopwright.pattern._editing.odd_ones import odd_ones
from loopwright.pattern._editing.panel_rows import panel_rows
from loopwright.pattern._editing.row_slips import row_slips
from loopwright.pattern._editing.size_words import size_words
from loopwright.pattern._editing.spoken import Sentences, spoken
from loopwright.pattern._editing.sums import sums
from pattern.slips import found, found_with_slip
from together import together

Look: TypeAlias = Callable[[Sentences], Iterator[Finding]]

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
    "a row that another section has not": (
        FLAT + "\nEdge\n\n" + ROWS + "\nMiddle\n\nWork rows 3 and 4 of the edge twice.\nBind off.",
        "rows 3 and 4", "rows 3 and 5", "there is no row 5 in edge; the last there is 4",
    ),
    "parts and all that do not agree": (
        FLAT + ROWS + "There are 4 sts between the markers and 20 sts in all.\nBind off.",
        "20 sts in all", "24 sts in all", "states 24 sts; working it leaves 20",
    ),
    "needles that hold another number": (
        FLAT + ROWS + "You have 5 sts on needle 1, 10 on needle 2 and 5 on needle 3.\nBind off.",
        "10 on needle 2", "12 on needle 2", "states 22 sts; working it leaves 20",
    ),
    "a garter turn off the middle": (
        FLAT + "Next row: K14, turn.\nNext row: K8, turn.\nNext row: K14.\nNext row: K20.\nBind off.",
        "K14, turn", "K13, turn",
        "the first two rows of this turn leave as many sts on either side of 18; there are 20: is k14 meant?",
    ),
    "a repeat backwards": (
        FLAT + ROWS + "Rep rows 3 and 4 twice more.\nBind off.", "rows 3 and 4", "rows 3 and 3",
        "rows 3 to 3: the second number should be the greater one",
    ),
    "rows that no repeat fills": (
        FLAT + ROWS + "Rows 5-12: Rep rows 1-4.\nBind off.", "Rows 5-12", "Rows 5-11",
        "7 rows can't be 4 rows repeated: which rows are meant?",
    ),
    "a repeat that ends with another row": (
        FLAT + ROWS + "Rows 5-11: Rep rows 1-4, ending with row 3.\nBind off.", "Rows 5-11", "Rows 5-10",
        "6 rows of rows 1 to 4 end with row 2, not row 3",
    ),
    "rows of a part that its label names": (
        FLAT + "Row 1 of band: Knit.\nRow 2 of band: Purl.\nRow 3 of band: Knit.\nBind off.",
        "Row 3 of", "Row 4 of", "expected number 3, found 4: was a row left out, or misnumbered?",
    ),
    "repeats that are counted in words": (
        ROUND + "Rnd 1: *K1, yo, k2tog, k1; rep from * to end: ten repeats.\nBind off.",
        "ten repeats", "twelve repeats", "12 repeats of 4 sts are told; 10 fit into 40 sts",
    ),
    "ribs that are counted": (
        ROUND + "Work in k2, p2 rib for 9 rounds. You have 10 ribs.\nBind off.",
        "10 ribs", "11 ribs", "11 repeats of 4 sts are told; 10 fit into 40 sts",
    ),
    "a round of one size": (
        "Sizes: Small (Large)\nCast on 48 (56) sts. Join in the round.\nRound 1 (Large): *K6, k2tog; rep from * to end.\nRound 2: Knit.\nBind off.",
        "*K6, k2tog", "*K7, k2tog", "56 sts are no multiple of 9: after 6 times 2 are left over",
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
    "needles that do not hold it": (
        "Cast on 84 sts, 28 on each of three needles. Join in the round.\nKnit.\nBind off.",
        "28 on", "24 on", "24 sts on each of 3 needles are 72, not 84",
    ),
    "needles in two sizes": (
        "Cast on 48 [56] sts, 12 [14] on each needle. Join in the round.\nKnit.\nBind off.",
        "12 [14]", "12 [16]", "48 (56) sts are not 12 (16) on each needle",
    ),
    "needles by two numbers": (
        "Cast on 48 [60] sts, 12 [15] on each needle. Join in the round.\nKnit.\nBind off.",
        "12 [15]", "12 [12]", "48 (60) sts are not 12 on each needle",
    ),
    "stripes in all": (
        ROUND + "Stripe sequence: 6 rounds B, 6 rounds A.\nKnit the stripe sequence 6 times = 72 rounds.\nBind off.",
        "= 72", "= 66", "6 times 12 rounds are 72, not 66",
    ),
    "a repeat around": (
        ROUND + "The pattern is a multiple of 8 sts. You work it 5 times around.\nKnit 8 rounds.\nBind off.",
        "5 times", "6 times", "6 repeats of 8 sts take 48 sts: so many are spoken of nowhere",
    ),
    "a leaning gusset": (
        ROUND + "\nGusset\n\nRound 1: Lace over 20 sts; ssk, k to last 2 sts, k2tog.\nRound 2: Knit.\nBind off.",
        "ssk, k to last 2 sts, k2tog", "k2tog, k to last 2 sts, ssk",
        "k2tog behind a line leans away from it: k1, ssk?",
    ),
    "decreases of a top": (
        ROUND + "\nShape top\n\nRow 1: (K1, ssk, k14, k2tog, k1) twice.\nBind off.",
        "ssk, k14, k2tog", "k2tog, k14, ssk", "k2tog behind a line leans away from it: k1, ssk?",
    ),
    "the first turns of double stitches": (
        FLAT + "Row 1 (RS): K19, turn.\nRow 2 (WS): DS, p17, turn.\nRow 3: DS, k to end.\nBind off.",
        "p17", "p15", "the first two rows of this turn leave as many sts on either side of 22; there are 20: is k18 meant?",
    ),
    "a girth": (
        "Gauge: 30 sts = 10 cm.\nFoot: 20 cm around.\n\nCast on 60 sts. Join in the round.\nKnit 9 rounds. 60 sts.\nBind off.",
        "20 cm", "26 cm", "26 cm around is printed; 60 sts at this gauge are 20.0 cm",
    ),
}  # fmt: skip


@together("name", SLIPS)
def test_the_right_text_is_left_alone(name: str) -> None:
    assert found(SLIPS[name][0]) == []


@together("name", SLIPS)
def test_the_slip_is_noticed(name: str) -> None:
    right, old, new, said = SLIPS[name]
    assert said in found_with_slip(right, old, new)


# Each line states by itself what is wrong with it; nothing is worked (common practice).
SUMS = {
    "two needles": (
        "Cast on 40 sts, 10 on each needle.\nThe heel lies over needles 1 and 2, that is 20 sts.",
        "is 20", "is 22", "two needles of 10 sts hold 20, not 22",
    ),
    "all that is picked up": (
        "K17, pick up and k20 sts along the side, k the 15 instep sts, pick up and k20 sts along the other side, k the rem 17 sts. 89 sts.",
        "89", "87", "the parts are 89 sts together, not 87",
    ),
    "a repeat of so many": (
        "CO 96. Knit.\n6-st rep, 16 times around.", "16 times", "17 times",
        "17 repeats of 6 sts take 102 sts: so many are spoken of nowhere",
    ),
    "what the needles hold": (
        "You should count 58: needle 1 has 17, needles 2 and 3 have 12 each, needle 4 has 17.",
        "4 has 17", "4 has 13", "the needles hold 54 sts together, not 58",
    ),
    "what a round is said to add": (
        "Row 3: K2, yo, k to m, yo, sm, k1, sm, yo, k to last 2 sts, yo, k2. 4 sts increased.",
        "m, yo, sm", "m, sm", "4 sts more are stated; this row makes 3 sts more",
    ),
    "two sides of a flap": (
        "K9, pick up and knit 15 sts along the side of the flap, k30, pick up and knit 15 sts along the other side.",
        "knit 15 sts along the side", "knit 17 sts along the side",
        "17 sts picked up on one side and 15 on the other: should the two be alike?",
    ),
    "the middle and the sides": (
        "Repeat row 3 until 27 sts remain in all: 7 in the middle and 10 at each side.",
        "and 10", "and 11", "7 and twice 11 are 29, not 27",
    ),
    "the parts of a total": (
        "Knit. 72 (82) sts: 28 (32) on N1, 44 (50) on N2.",
        "72 (82)", "72 (90)", "the parts are 72 (82) sts together, not 72 (90)",
    ),
    "sections": (
        "Go on until there are 10 (11, 12) sts in each section: 80 (88, 96) sts.",
        "96", "98", "80 (88, 98) sts are no whole number of sections of 10 (11, 12)",
    ),
    "the first and the other": (
        "Cast on 60 sts.\nWork the first 31 sts. The other 29 sts are the heel.",
        "first 31", "first 30", "30 and 29 sts are 59, not 60",
    ),
}  # fmt: skip
TWO_LESS = (
    "Rnd 1: N1: patt. N2: K1, ssk, k to last 3 sts, k2tog, k1. 2 sts dec'd.\n"
    "Rnd 2: N1: patt. N2: knit.\n"
)
CHAINS = {
    "a part of a row": (
        "Knit. 36 sts.\nNext row: K24, turn; leave the last 12 sts.\nNext row: K12, turn; leave the other 12 sts.",
        "K12", "K14", "14 and 12 sts are 26; there are 24",
    ),
    "until so many": (
        "Knit. 42 sts, 21 on each half.\nRnd 1: On each half: k1, ssk, k to last 3 sts, k2tog, k1.\nRnd 2: Knit.\nRep these 2 rnds until 18 sts are left.",
        "until 18", "until 20", "from 38 sts, 4 at a time, there are never 20",
    ),
    "all around": (
        "Rnd 1: *K7, k2tog; rep from * to end. 72 sts.\nRnd 2: *K6, k2tog; rep from * to end. 63 sts.",
        "*K6", "*K5", "72 sts are no multiple of 7",
    ),
    "each once": (
        "Knit. 84 sts.\nNext round: K1, k2tog, k to last 3 sts, ssk, k1. 82 sts.",
        "82", "83", "83 sts are stated; from the count before, there are 82",
    ),
    "so many times more": (
        "Knit. 72 sts.\n" + TWO_LESS + "Rep rnds 1 and 2 another 7 times. 56 sts.",
        "another 7", "another 8", "56 sts are stated; from the count before, there are 54",
    ),
    "a total of so many times": (
        "Knit. 44 sts.\n" + TWO_LESS + "Work rnds 1 and 2 a total of 4 times. 36 sts.",
        "of 4", "of 5", "36 sts are stated; from the count before, there are 34",
    ),
}  # fmt: skip


ODD = {
    "a purl run": (
        "Rnd 1: *K4, k2tog; rep from * to end.\nRnd 2: *K3, k2tog; rep from * to end.",
        "*K3", "*P3", "P3 here; like rows of this section knit only: is it meant?",
    ),
    "a lean over the gap": (
        "Row 1: K13, ssk, turn.\nRow 2: Sl 1, p4, p2tog, turn.\nRow 3: Sl 1, k4, ssk, turn.",
        "k4, ssk", "k4, k2tog", "k2tog here, ssk in the other rows of this section: is it meant?",
    ),
    "a lean among many": (
        "Rnd 1: *K4, k2tog; rep from * to end.\nRnd 2: *K3, k2tog; rep from * to end.\nRnd 3: *K2, k2tog; rep from * to end.",
        "K3, k2tog", "K3, ssk", "ssk here, k2tog in the other rows of this section: is it meant?",
    ),
}  # fmt: skip
PANELS = {
    "colours": (
        "6-st rep, worked all around.\n7: *1A, 5B*\n8: *2A, 4B*", "4B", "5B",
        "this takes 7 sts; the pattern is 6 sts wide",
    ),
    "a panel": (
        "Rope Panel (10 sts, 8 rnds)\nRnd 1: P2, C6F, p2.\nRnds 2-8: P2, k6, p2.",
        "k6", "k8", "this takes 12 sts; the pattern is 10 sts wide",
    ),
    "a multiple": (
        "The pattern is a multiple of 6 sts plus 7.\nRow 1: K3, *yo, k1, cdd, k1, yo, k1; rep from * to last 3 sts, k3.",
        "yo, k1, cdd", "yo, k2, cdd", "this takes 7 sts; the pattern is 6 sts wide",
    ),
}  # fmt: skip


@together(
    ("look", "one"),
    [(sums, one) for one in SUMS.values()]
    + [(chains, one) for one in CHAINS.values()]
    + [(panel_rows, one) for one in PANELS.values()]
    + [(odd_ones, one) for one in ODD.values()],
)
def test_what_sentences_state_is_added_up(look: Look, one: tuple[str, str, str, str]) -> None:
    right, old, new, said = one
    assert right.count(old) == 1
    assert list(look(spoken(right))) == []
    found = list(look(spoken(right.replace(old, new))))
    assert [finding.message for finding in found] == [said]


def test_two_rounds_of_one_size_are_told_one_after_the_other() -> None:
    right = "CROWN\nSize L only: Rnd 1: *K7, k2tog; rep from * to end.\nSize L only: Rnd 2: Knit.\n"
    assert list(size_words(spoken(right), ("S", "L"))) == []
    (one,) = size_words(spoken(right.replace("Rnd 2", "Rnd 1")), ("S", "L"))
    assert one.message == "size L is told of in line 2: is S meant in one of the two?"


def test_one_edge_of_a_flat_piece_leans_as_it_likes() -> None:
    """A shawl that is shaped at one edge alone has no other to mirror (common practice)."""
    one_edge = "Second tip\nRow 1 (RS): K1, k2tog, k to end.\n"
    assert list(worded_leans(spoken(one_edge))) == []
    (one,) = worded_leans(spoken(one_edge.replace("Row 1 (RS)", "Rnd 1")))
    assert one.message == "k2tog behind a line leans away from it: k1, ssk?"


def test_a_number_out_of_step_with_its_like() -> None:
    right = "K20 (22, 24), p20 (22, 24).\nP20 (22, 24), then k20 (22, 24)."
    assert list(sized_numbers(right, 3)) == []
    (one,) = sized_numbers(right.replace("then k20 (22, 24)", "then k24 (22, 20)"), 3)
    assert one.message.startswith("24 (22, 20) does not grow")
    (one,) = sized_numbers("K4 (6), p4 (6), k6 (4).", 2)
    assert one.message == "6 (4) here, in growing order elsewhere: are two sizes swapped?"
    (one,) = sized_numbers(right.replace("then k20 (22, 24)", "then k20 (22, 25)"), 3)
    assert one.message == "20 (22, 25) here, 20 (22, 24) elsewhere: is one number mistyped?"
    rounded = right.replace("then k20 (22, 24)", "then k20 (20, 24)")  # two sizes have the same
    assert list(sized_numbers(rounded, 3)) == []


@pytest.mark.parametrize(
    ("names", "said"),
    [("S (S, L)", "two sizes are called S"), ("S (, L)", "a size has no name")],
)
def test_what_is_wrong_with_sizes_is_laid_on_their_line(names: str, said: str) -> None:
    one = review(SIZES.replace("S (M, L)", names) + RIB + "Bind off.").of("sizes")[0]
    assert (one.line, one.message) == (3, f"{said}: give each a name of its own")
    assert not review(SIZES + RIB + "Bind off.").of("sizes")


def test_the_end_of_a_row_that_is_not_said() -> None:
    right = "Row 1: *K2, p2; rep from * to last 4 sts, k4."
    assert list(row_slips(spoken(right))) == []
    (one,) = row_slips(spoken(right.replace(", k4", "")))
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
    waste = (
        "With waste yarn, knit 20 (22) sts. Slide these sts back to the left needle and knit all around.\n"
        "Knit 9 rounds.\nRemove the waste yarn and place the 40 (44, 48) live sts on needles.\n"
    )
    assert found(SIZES + RIB + waste)
    for text in (SIZES + more, SIZES.replace("40 (44, 48)", "40 (44)") + more):
        assert found(text)
