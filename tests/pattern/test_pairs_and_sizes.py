# ruff: noqa: E501 - a text stands on one line, long as it may be
"""Cables that come in pairs, sizes that are told of alone, lace that keeps its count, sets of needles.

That the cables of two hands mirror each other, and that a set has a needle more than hold the work,
is common practice.
"""

from __future__ import annotations

from loopwright.pattern import review
from loopwright.pattern._editing.cable_pairs import cable_pairs
from loopwright.pattern._editing.listed_rows import listed_rows
from loopwright.pattern._editing.needle_names import needle_names
from loopwright.pattern._editing.size_words import size_words
from loopwright.pattern._editing.spoken import spoken
from loopwright.pattern._editing.wraps_taken_up import wraps_taken_up
from together import together

ROWS = "Rnd 1: [P2, C4B, p2, C4F] 10 times.\nRnd 2: Knit.\nRnd 3: P2, C4F, C4B, p2.\n"
HANDS = "Rnd 6: P2, C6B (right mitten) or C6F (left mitten), p2.\nWork as for right mitten, crossing the cable with C6F, to the thumb.\n"
CABLES = {
    "a row": (ROWS, "p2, C4F]", "p2, C4B]", "the cables of this row cross one way; those of the other rows mirror each other"),
    "the second of a row": (ROWS, "C4B, p2.", "C4F, p2.", "the cables of this row cross one way; those of the other rows mirror each other"),
    "both hands alike": (HANDS, "C6B (right", "C6F (right", "C6F is the cable of the right one: the two should mirror each other"),
    "hands exchanged": (HANDS, "C6B (right mitten) or C6F (left", "C6F (right mitten) or C6B (left", "the left one is crossed with C6F here, and with C6B elsewhere"),
    "a hand told twice": (HANDS, "with C6F", "with C6B", "the left one is crossed with C6B here, and with C6F elsewhere"),
}  # fmt: skip


@together("kind", CABLES)
def test_cables_mirror_each_other(kind: str) -> None:
    right, old, new, said = CABLES[kind]
    assert right.count(old) == 1
    assert not list(cable_pairs(spoken(right)))
    found = list(cable_pairs(spoken(right.replace(old, new))))
    assert [one.message for one in found] == [said]
    assert kind != "the second of a row" or (found[0].line, found[0].column) == (3, 12)


SIZES = "TOP\nDecrease. 28 (32) sts.\nSize Small: go to ** below.\nSize Large only: K7, k2tog.\n"


def test_each_size_is_told_of_once() -> None:
    names = ("Small", "Large")
    assert not list(size_words(spoken(SIZES), names))
    wrong = list(size_words(spoken(SIZES.replace("Small", "Large")), names))
    assert [one.message for one in wrong] == [
        "size Large is told of in line 3: is Small meant in one of the two?"
    ]
    assert [one.line for one in wrong] == [4]
    several = "Sizes L and M only: knit 2 rounds.\nSizes M{} only: knit 4 rounds.\n"
    both = [
        list(size_words(spoken(several.format(more)), ("S", "M", "L"))) for more in ("", " and S")
    ]
    assert [[one.message for one in found] for found in both] == [
        ["size M is told of in line 1: is S meant in one of the two?"], [],
    ]  # fmt: skip
    all_sizes = SIZES.replace("Size Small", "All sizes")
    assert not list(size_words(spoken(all_sizes), names))
    assert not list(size_words(spoken(SIZES), ()))
    joining = "Size L only: knit 2 rounds.\nSizes M and L only: knit 4 rounds.\nAll sizes: purl."
    assert not list(size_words(spoken(joining), ("S", "M", "L")))


def test_a_size_that_is_none_is_asked_about() -> None:
    text = "Sizes Small and Huge only: K7, k2tog."
    found = list(size_words(spoken(text), ("Small", "Large")))
    assert [one.message for one in found] == ["there is no size huge; the sizes are Small, Large"]


def test_a_row_of_a_mesh_keeps_its_count() -> None:
    mesh = "MESH (multiple of 4 sts)\nRound 1: *K2, yo, ssk; repeat from * to end.\nRound 2: Knit.\nRound 3: *K2tog, yo, k2; repeat from * to end.\n"
    assert not list(listed_rows(spoken(mesh)))
    found = list(listed_rows(spoken(mesh.replace("K2tog, yo, k2", "K2tog, k2"))))
    assert [one.line for one in found] == [4]


def test_one_needle_of_a_set_knits() -> None:
    text = "Needles: 3 mm dpns, set of 5.\nCast on 60 sts. Divide over 4 needles and join.\n"
    assert not list(needle_names(text))
    said = ["the set has 4 needles: one of them is needed to knit with"]
    assert [one.message for one in needle_names(text.replace("set of 5", "set of 4"))] == said
    assert not list(needle_names(text.replace("set of 5", "a set of 4 mm ones")))
    fifth = [one.message for one in needle_names(text + "Knit needle 1 on to needle 5.")]
    assert fifth == ["the set has 5 needles: 4 of them hold the work, and none is needle 5"]


SHORT = "Row 1 (RS): K20, w&t.\nRow 2 (WS): P10, w&t.\nRow 3: K to the wrapped st, knit it with its wrap, w&t.\nNext rnd: Knit.\n"
DOUBLE = "Row 1 (RS): K20, turn.\nRow 2 (WS): Make a DS, p10, turn.\nRow 3: Make a DS, k to the DS, turn.\nNext rnd: Knit, working each DS as one st.\n"


def test_wraps_are_taken_up() -> None:
    assert not list(wraps_taken_up(SHORT, spoken(SHORT)))
    left = SHORT.replace("knit it with its wrap", "knit it")
    found = list(wraps_taken_up(left, spoken(left)))
    assert [(one.line, one.message) for one in found] == [
        (3, "the wraps are nowhere taken up: is a row missing that works each with its stitch?")
    ]
    rows = left.replace("Next rnd: Knit.\n", "")
    assert not list(wraps_taken_up(rows, spoken(rows)))
    garter = left + "In garter stitch nothing more is done.\n"
    assert not list(wraps_taken_up(garter, spoken(garter)))


def test_double_stitches_are_worked_as_one() -> None:
    assert not list(wraps_taken_up(DOUBLE, spoken(DOUBLE)))
    left = DOUBLE.replace(", working each DS as one st", "")
    found = list(wraps_taken_up(left, spoken(left)))
    assert [(one.line, one.message) for one in found] == [
        (3, "it is nowhere said that both strands of a double stitch are worked as one")
    ]


def test_a_review_says_so() -> None:
    text = "Sizes: Small (Large)\n\nCast on 40 (44) sts. Join in the round.\nRnd 1: Knit.\nSize Small: Knit 1 round.\nSize Large only: Knit 2 rounds.\nBind off."
    assert not review(text).of("sizes")
    assert [one.line for one in review(text.replace("Size Small", "Size Large")).of("sizes")] == [6]
