# ruff: noqa: E501 - a text stands on one line, long as it may be
"""What an editor missed in a review, or found poorly worded: each with its smallest text.

Counts were made by hand.
"""

from __future__ import annotations

import pytest

from loopwright.errors import PatternSyntaxError
from loopwright.pattern import knit, read, review

ROUND = "Cast on 12 sts. Join in the round.\n"
SHORT = "Cast on 30 sts.\nRow 1: K20, w&t.\nRow 2: P10, w&t.\n"
CROWN = (
    "Sizes: S (M, L)\n\nCO 80 (88, 96) sts. Join in the round.\n"
    "Set-up rnd: *K10 (11, 12), pm; rep from * to end. (8 markers)\n"
)
GIRTHS = "Sizes: S (M, L)\nFinished circumference: {} in\nGauge: 20 sts = 4 in\nCO {} sts. Join in the round.\nRnd 1: Knit.\nBind off.\n"
FLAP = (
    "Cast on 12 (14, 16) sts.\nRow 1 (RS): K1, k2tog, k to end.\nRow 2 (WS): P1, p2tog, p to end.\n"
)


def said(text: str) -> list[str]:
    return [str(one) for one in review(text).findings if one.severity != "note"]


FAULTS = {
    "sizes that are not closed": (
        "Cast on 8 (12, 16 sts. Join in the round.\nRnd 1: Knit.\nBind off.\n",
        "1:11: warning: this ( is not closed",
    ),
    "sizes in square brackets": (
        "Cast on 8 [12, 16 sts. Join in the round.\nRnd 1: Knit.\nBind off.\n",
        "1:11: warning: this [ is not closed",
    ),
    "sizes of a later row": (
        "Cast on 8 (12, 16) sts. Join in the round.\nRnd 1: Knit 4 (6, 8, purl to end.\nBind off.\n",
        "2:15: warning: this ( is not closed",
    ),
    "a bracket too many": (
        "Cast on 8 (12, 16)) sts. Join in the round.\nRnd 1: Knit.\nBind off.\n",
        "1:19: warning: there is no bracket that this ) closes",
    ),
    "one bracket of two kinds": (
        "Cast on 8 (12, 16] sts. Join in the round.\nRnd 1: Knit.\nBind off.\n",
        "1:18: warning: this ] closes a (",
    ),
    "short rows that do not mirror": (
        SHORT
        + "Row 3: K to 5 sts before wrapped st, w&t.\nRow 4: P to 4 sts before wrapped st, w&t.\n",
        "5:13: warning: this row stops 4 sts before the turn, and the one before it 5: is it meant?",
    ),
    "a length that was there already": (
        ROUND
        + "Rib until cuff measures 6.5 in from cast-on edge.\nKnit until piece measures 6 in from cast-on edge.\n",
        "3:27: warning: 6 in from the cast-on edge: it measures 6.5 in from there already (line 2)",
    ),
    "a part and the rest": (
        (
            "Cast on 60 (72) sts. Join in the round.\nKnit the first 30 (36) stitches of the round onto one "
            "needle, then turn work. Put the other 32 (38) stitches on waste yarn.\n"
        ),
        "2:16: warning: 30 (36) and 32 (38) sts are 62 (74), not 60 (72)",
    ),
    "markers, where one size fits its stitches": (
        CROWN.replace("K10 (11, 12)", "K8 (9, 10)"),
        "4:13: warning: 80 sts, 8 at a time, make 10 sections, not 8",
    ),
    "every size of a girth": (
        GIRTHS.format("20 (24, 28)", "80 (100, 120)"),
        (
            "2:25: warning: 20 (24, 28) in around is printed; 80 (100, 120) sts at this gauge are "
            "16.0 (20.0, 24.0) in (size S, M, L)"
        ),
    ),
    "a girth that is far off": (
        GIRTHS.format("30 (35, 40)", "80 (90, 100)"),
        (
            "2:25: warning: 30 (35, 40) in around is printed; 80 (90, 100) sts at this gauge are "
            "16.0 (18.0, 20.0) in (size S, M, L)"
        ),
    ),
    "a row of the even ones": (
        ROUND
        + "Rnd 1: Knit.\nRnd 2 and all even rounds: Knit.\nRnd 3: Knit.\nRnd 4: K2tog around.\n",
        "5:1: warning: row 4 is told here, and is one of 'Rnd 2 and all even rounds' too: which is meant?",
    ),
    "a stated count, where it stands": (
        ROUND + "Rnd 1: K2tog around. 8 sts.\nBind off.\n",
        "2:22: error: states 8 sts; working it leaves 6",
    ),
    "a count behind a row of the other side": (
        FLAP
        + "Repeat rows 1 and 2 until 8 (10, 12) sts remain, ending with a RS row.\nBind off.\n",
        "4:1: error: 8 (10, 12) sts are reached with a WS row, not with a RS row (size 1, 2, 3)",
    ),
}


@pytest.mark.parametrize(("text", "expected"), FAULTS.values(), ids=FAULTS.keys())
def test_a_fault_is_said_once_and_in_the_words_of_the_trade(text: str, expected: str) -> None:
    line = expected.split(":")[0]
    others = (" needs ", " still live ")
    found = [one for one in said(text) if not any(other in one for other in others)]
    assert [one for one in found if one.split(":")[0] == line] == [expected]


RIGHT = {
    "bound off from the cast-on": "Cast on 40 sts.\nBind off.\n",
    "a part of it, and the rest worked": "Cast on 40 sts.\nBind off 10 sts, knit to end.\nBind off.\n",
    "a thumb that waits from the first row": (
        "Cast on 40 sts.\nHold 10 sts as thumb.\nKnit to end.\nBind off.\n"
        "Return the thumb sts to the needle.\nBind off.\n"
    ),
    "words behind the sizes": (
        "Cast on 8 (12, 16 sts for a wide leg). Join in the round.\nRnd 1: Knit.\nBind off.\n"
    ),
    "some stitches of a row that nobody reads": (
        ROUND
        + "Rnd 1: Frobnicate over next 3 sts.\nRnd 2: *K2, p2; rep from * to end.\nBind off.\n"
    ),
    "as small a part of them": (
        ROUND + "Rnd 1: Frobnicate 3 sts.\nRnd 2: *K2, p2; rep from * to end.\nBind off.\n"
    ),
    "short rows that mirror": (
        SHORT
        + "Row 3: K to 4 sts before wrapped st, w&t.\nRow 4: P to 4 sts before wrapped st, w&t.\n"
        "Row 5: Knit.\nBind off.\n"
    ),
    "lengths of two pieces": (
        ROUND + "Rib until cuff measures 6.5 in from cast-on edge.\nBind off.\n\n"
        "Cast on 12 sts. Join in the round.\nRib until cuff measures 6 in from cast-on edge.\nBind off.\n"
    ),
    "markers, one less than sections": CROWN.replace(
        "to end. (8", "to last 10 (11, 12) sts, k to end. (7"
    ),
    "an even row that is told as an exception": (
        ROUND + "Rnd 1: Knit.\nRnd 2 and all even rounds except rnd 4: Knit.\nRnd 3: Knit.\n"
        "Rnd 4: K2tog around.\nBind off.\n"
    ),
    "a wrapped stitch that closes its gap with the next": (
        "Cast on 48 sts.\nRow 1 (RS): K38, w&t.\nRow 2 (WS): P28, w&t.\nRow 3: K27, w&t.\nRow 4: P26, w&t.\n"
        "Row 5: K26, ssk (wrapped st with gusset st), turn.\nRow 6: Sl 1, p26, p2tog, turn.\n"
    ),
    "a girth worked flat": GIRTHS.format("32 (36, 40)", "80 (90, 100)").replace(
        "Join in the round.\nRnd 1: Knit.", "\nRow 1: Knit."
    ),
}


@pytest.mark.parametrize("text", RIGHT.values(), ids=RIGHT.keys())
def test_a_right_text_is_let_be(text: str) -> None:
    assert [
        one for one in said(text) if "still live" not in one and "never returned" not in one
    ] == []


def test_all_can_be_bound_off_behind_the_cast_on() -> None:
    fabric = knit(read("Cast on 40 sts.\nBind off.\n"))
    assert len(knit(read("Cast on 40 sts. Join in the round.\nBind off.\n"))) == len(fabric)


def test_the_unknown_word_is_shown_and_not_the_number_behind_it() -> None:
    with pytest.raises(PatternSyntaxError) as caught:
        read("Cast on 10 sts.\nRow 1: K2, frob 3, k5.")
    assert (caught.value.column, caught.value.found) == (12, "found 'frob'")
    assert caught.value.expected[0] == "a stitch such as k3, p2, ssk"


def test_short_words_of_the_text_are_asked_about_too() -> None:
    text = "Abbreviations: k = knit; st = stitch; rnd = round.\nCO 12 sts. PM and join in the round.\nRnd 1: Knit.\nBO.\n"
    (note,) = [one.message for one in review(text).findings if one.kind == "abbreviations"]
    assert note == "used and not explained: BO, CO, pm"


def test_one_stitch_in_one_size_and_several_in_another_are_one_finding() -> None:
    text = (
        "Sizes: S (M)\nUsing the long-tail method, cast on 49 (51) sts. Join in the round.\n"
        "Round 1: *K2, p2; rep from * to end.\nBind off."
    )
    (found,) = said(text)
    assert found.endswith(
        "49 (51) sts are no multiple of 4: after 12 times 1 (3) are left over (size S, M)"
    )
    alike = said(text.replace("49 (51)", "49 (53)"))
    assert alike[0].endswith("after 12 (13) times 1 is left over (size S, M)")


def test_markers_without_a_name_do_not_pass_for_numbers_of_sizes() -> None:
    text = "Sizes: S (M)\nCast on 40 (48) sts. Join in the round.\nRnd 1: K10, pm, k to end.\nRnd 2: K to marker Q, k2tog, k to end.\n"
    assert said(text)[0] == "4:8: error: marker Q is not ahead; markers placed: #1 (size S, M)"


def test_two_findings_of_each_size_that_differ_in_numbers_alone_stay_two() -> None:
    text = "Sizes: S (M)\nCast on 40 (44) sts. Join in the round.\nRnd 1: Knit.\nPlace next 4 (5) sts on a holder as finger 1.\nPlace next 6 (7) sts on a holder as finger 2.\nBind off.\n"
    assert said(text) == [
        f"6:1: warning: {held} and never returned to the needle (size S, M)"
        for held in ("4 (5) sts are held as finger 1", "6 (7) sts are held as finger 2")
    ]
