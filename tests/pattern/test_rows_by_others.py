# ruff: noqa: E501 - a text stands on one line, long as it may be
"""Rows told by other rows, and which comes last: a right text of each kind, and one with a slip.

That the two sides of a piece come by turns, and that both sides of a turn have as many stitches, is
common practice; the rows were counted by hand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from loopwright.pattern import review
from loopwright.pattern._editing.findings import Finding
from loopwright.pattern._editing.like_rows import like_rows
from loopwright.pattern._editing.row_ends import row_ends
from loopwright.pattern._editing.spoken import Sentences, spoken
from loopwright.pattern._editing.turning_rows import turning_rows
from together import together

Look = Callable[[Sentences], Iterator[Finding]]

TURN = "Row 1 (RS): Sl 1, k16, ssk, k1, turn.\nRow 2 (WS): Sl 1, p3, p2tog, p1, turn.\nRow 3: Sl 1, k to 1 st before gap, ssk, k1, turn.\nRow 4: Sl 1, p to 1 st before gap, p2tog, p1, turn.\nRep Rows 3 and 4 until all heel sts have been worked, ending with a WS row. 18 sts.\n"
PURLED = "Row 1: P17, p2tog, p1, turn.\nRow 2: Sl 1, k3, ssk, k1, turn.\nRow 3: Sl 1, p to 1 st before gap, p2tog, p1, turn.\nGo on until all sts are worked, ending with a knit row.\n"
DUTCH = "Row 1: K18, ssk, turn.\nRow 2: Sl 1, p8, p2tog, turn.\nRow 3: Sl 1, k8, ssk, turn.\nRep Rows 2 and 3 until all side sts are used, ending with Row 2. 10 sts.\n"
FLAP = "HEEL FLAP\nRow 1 (WS): Sl 1, p29.\nRow 2 (RS): *Sl 1, k1; rep from * to end.\nRep Rows 1 and 2 until 28 rows are done, ending with a RS row.\n\nHEEL TURN\nRow 1 (WS): Sl 1, p16, p2tog, p1, turn.\nRow 2: Sl 1, k5, ssk, k1, turn.\n"
SWATCH = "Row 1 (WS): Sl 1, p23.\nRow 2 (RS): (Sl 1, k1) 12 times.\nRepeat rows 1 and 2 until you can count 12 slipped stitches. Finish with row 2.\n\nTHE TURN\nRow 1: p13, p2tog, p1, turn.\nRow 2: sl 1, k3, ssk, k1, turn.\n"
THUMB = (
    "Work in st st until thumb measures 6 cm, ending with a purl row.\nNext row: K2tog to end.\n"
)
CUFF = "Rep these 2 rows until cuff measures 7 cm, ending with a WS row.\nChange to 4 mm needles and, beginning with a knit row, work 4 rows in st st.\n"
LACE = "Rnd 1: *Yo, k2tog; rep from *.\nRnd 2: Knit.\nRnd 3: *K1, yo; rep from *.\nRnd 4: Knit.\nRepeat them until leg measures 6 inches, ending with Rnd 4.\n"
ENDS = {
    "a turn": (TURN, "a WS row. 18", "a RS row. 18", "row 1 is a right-side row, and both sides of the turn have as many sts: it ends with a wrong-side row"),
    "a turn that begins purled": (PURLED, "a knit row", "a purl row", "row 1 is a wrong-side row, and both sides of the turn have as many sts: it ends with a right-side row"),
    "a Dutch turn": (DUTCH, "with Row 2", "with Row 3", "both sides of the turn have as many sts: it ends with the other row, not with row 3"),
    "a number of rows": (FLAP, "a RS row.\n", "a WS row.\n", "28 rows that begin with row 1 end with row 2, which is a right-side row"),
    "these two rows": (FLAP.replace("Rows 1 and 2", "these 2 rows"), "a RS row.\n", "a WS row.\n", "28 rows that begin with row 1 end with row 2, which is a right-side row"),
    "an odd number": (FLAP, "28 rows", "27 rows", "27 rows that begin with row 1 end with row 1, which is a wrong-side row"),
    "the row behind": (FLAP, "TURN\nRow 1 (WS)", "TURN\nRow 1 (RS)", "the last row is of the right side, and the next of it too: one of them is the other's"),
    "a turn behind it": (SWATCH, "with row 2", "with row 1", "the last row is of the wrong side, and the next of it too: one of them is the other's"),
    "a row that is knitted": (THUMB, "a purl row", "a knit row", "the last row is of the right side, and the next of it too: one of them is the other's"),
    "rows that begin so": (CUFF, "a WS row", "a RS row", "the last row is of the right side, and the next of it too: one of them is the other's"),
    "an ordinal": (LACE.replace("with Rnd 4", "with a 4th round"), "a 4th round", "a 5th round", "there is no row 5 here to end with; those given are 1 to 4"),
    "a sentence between": (SWATCH.replace("TURN\n", "TURN\nPut a pin in the middle.\n"), "with row 2", "with row 1", "the last row is of the wrong side, and the next of it too: one of them is the other's"),
    "a row that is not there": (LACE, "with Rnd 4", "with Rnd 5", "there is no row 5 here to end with; those given are 1 to 4"),
}  # fmt: skip

SIDES = "Row 1 (RS): K3, p3.\nRow 2 (WS): Purl.\nRow 3: K6, p2, k to end.\nRow 4: As Row 2.\n"
PLAIN = "Round 1: *K2, yo, ssk; rep from *.\nRound 2: Knit.\nRound 3: *K1, yo, k2tog; rep from *.\nRound 4: As Round 2.\n"
FRET = "Round 1: *K1, p3; rep from *.\nRound 2: *P1, k3; rep from *.\nRound 3: *P2, k2; rep from *.\nRound 4: As Round 2.\nRound 5: As Round 3.\nRound 6: As Round 2.\n"
TOE = "TOE\nRound 1: Knit.\nRound 2: K2tog, k to end.\nRound 3: Knit.\n\nHEEL\nWork Rounds 1-3 as for the toe. Cut yarn.\n"
SIX = "Rnd 1: Yo, k2tog.\nRnd 2: K.\nRnd 3: K1, yo.\nRnd 4: K.\nRnd 5: Yo.\nRnd 6: K.\nRnd 7: K.\nRnd 8: K.\nRep these 8 rnds 5 times more.\n"
RIDGES = "R1: Knit\nR2: Purl\nR3-R6: Repeat R1 and R2 twice more\n"
NAMED = "WAVE PATTERN\nRnd 1: Yo, k2tog.\nRnd 2: K.\nRnd 3: K1, yo.\nRnd 4: K.\n\nLEG\nWork Rnds 1-4 of the wave pattern 13 times.\n"
BODY = "BODY\nRow 1 (RS): K3, yo, k to end.\nRow 2 (WS): K3, p to end.\n\nBORDER\nRow 1 (RS): K3, *yo, k2tog.\nRow 2: As Row 2 of Body.\n"
LIKE = {
    "a row of the other side": (SIDES, "As Row 2", "As Row 3", "row 4 is to be as row 3, which is one of the other side"),
    "an ordinal": (SIDES.replace("As Row 2", "As 2nd row"), "As 2nd", "As 3rd", "row 4 is to be as row 3, which is one of the other side"),
    "one of another section": (BODY, "As Row 2", "As Row 1", "row 2 is to be as row 1, which is one of the other side"),
    "a plain round": (PLAIN, "As Round 2", "As Round 3", "round 4 is to be as round 3; rounds 2 and on, by twos, are plain so far"),
    "the odd one of three": (FRET, "Round 5: As Round 3", "Round 5: As Round 2", "round 5 is to be as round 2, an odd one as an even one or the other way round, where none of the others is"),
    "rounds of the toe": (TOE, "Rounds 1-3", "Rounds 1-4", "there is no row 4 in toe; the last there is 3"),
    "fewer than there are": (SIX, "these 8", "these 6", "6 rows are spoken of; 8 are numbered here"),
    "times and rows": (RIDGES, "R3-R6", "R3-R8", "2 rows, 2 times, are 4; rows 3 to 8 are 6"),
    "nearly all of a pattern": (NAMED, "Rnds 1-4", "Rnds 2-4", "row 1 of wave is left out each time: are rows 1 to 4 meant?"),
    "the last of them": (SIX.replace("these 8", "the last 8"), "last 8", "last 10", "10 rows are spoken of; 8 are numbered here"),
    "those of a pattern": (SIX.replace("Rep these 8 rnds", "Work the 8 rnds of the pattern"), "the 8", "the 6", "6 rows are spoken of; 8 are numbered here"),
    "from one to another": (SIX.replace("Rep these 8 rnds", "Repeat from Rnd 1 to Rnd 8"), "to Rnd 8", "to Rnd 9", "there is no row 9 here; the last is 8"),
    "no row": (RIDGES, "R1 and", "R0 and", "there is no row 0"),
    "one row for two": (RIDGES, "R1 and R2", "R2 and R2", "row 2 and row 2 are one row: which two are meant?"),
}  # fmt: skip


@together(
    ("look", "kind"), [*((row_ends, kind) for kind in ENDS), *((like_rows, kind) for kind in LIKE)]
)
def test_a_slip_is_found_and_the_right_text_is_not(look: Look, kind: str) -> None:
    right, old, new, said = (ENDS if look is row_ends else LIKE)[kind]
    assert right.count(old) == 1
    assert not list(look(spoken(right)))
    assert [one.message for one in look(spoken(right.replace(old, new)))] == [said]


@pytest.mark.parametrize(
    "text",
    [
        "Row 1: K2, yo, k to end.\nRow 2: Knit.\nRow 3: K2, yo, k to end.\nRow 4: As Row 3.",  # garter
        "Row 1 (RS): K9, turn.\nRow 2: Make a DS, p8, turn.\nRep until all are used, ending with a RS row. Do not turn.",
        "Rnd 1: K.\nRnd 2: *K1, p1; rep from *.\nRnd 3: As Rnd 2.",
        "Row 1: Knit.\nRow 2: Knit.\nRep rows 1 and 2 until 28 rows are done, ending with a RS row.",  # any side may face
        "Row 1: K2.\nRow 2: P2.\nRep rows 1 and 2 until 28 rows are done, ending with a RS row.",
        "Work in rib until thumb measures 6 cm, ending with a RS row.\nNext row: K2tog to end.",  # a rib may begin so
        "",
    ],
)
def test_what_may_well_be_meant_is_not_asked_about(text: str) -> None:
    assert not [*row_ends(spoken(text)), *like_rows(spoken(text))]


def test_a_review_says_so() -> None:
    text = "Cast on 20 sts.\nRow 1: *K1, p1; rep from * to end.\nRow 2: Purl.\nRep Rows 1 and 2 until 11 rows are done, ending with Row 1.\nRow 3: Purl.\nRow 4: As Row 2.\nBind off."
    assert not review(text).of("numbers")
    assert [one.line for one in review(text.replace("11", "12")).of("numbers")] == [4]
    assert [one.line for one in review(text.replace("As Row 2", "As Row 0")).of("named")] == [6]


WRAPS = "Row 1 (RS): K20, w&t.\nRow 2 (WS): P10, w&t.\nRow 3: K to wrapped st, k it with its wrap, w&t.\nRow 4: P to wrapped st, p it with its wrap, w&t.\nRepeat Rows 3 and 4 until all are worked.\n"


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [("P10, w&t", "P10", 2), ("K to wrapped st, k it with its wrap, w&t", "K to wrapped st, k it with its wrap", 3), ("p it with its wrap, w&t", "p it with its wrap", 4)],
)  # fmt: skip
def test_each_row_that_is_repeated_turns(old: str, new: str, line: int) -> None:
    assert not list(turning_rows(spoken(WRAPS)))
    found = list(turning_rows(spoken(WRAPS.replace(old, new))))
    assert [(one.line, one.kind) for one in found] == [(line, "turn")]
    once = "Row 8: K9, turn.\nRow 9: P9, turn.\nRow 10: K10, turn.\nRow 11: P11."  # then on to the foot
    assert not list(turning_rows(spoken(once)))
