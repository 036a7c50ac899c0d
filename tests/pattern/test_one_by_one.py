"""Small rules of patterns, each with the cases on either side of it."""

from __future__ import annotations

import pytest

from loopwright.fabric import STITCHES
from loopwright.pattern import CutYarn, Part, Pattern, Section, knitted, read, review, write
from loopwright.pattern._certain_changes import is_whole
from loopwright.pattern._deriving.gather import _period, literally
from loopwright.pattern._deriving.needles import NeedleMove
from loopwright.pattern._deriving.unpick import Moves
from loopwright.pattern._facing import starts_on_right_side
from together import together


@together(
    ("yarns", "period", "kept"),
    [
        ("ababab", 2, "ababab"),
        ("abab", 0, "abab"),  # four bands are said one by one
        ("ababa", 2, "ababa"),
        ("aabaab", 3, "aabaab"),
        ("aabaaba", 3, "aabaaba"),
        ("abcabca", 3, "abcabca"),
        ("abcabc", 3, "abcabc"),
        ("abcab", 0, "abcab"),  # it has to come twice
        ("aaab", 0, "aaab"),
        ("aaaaaa", 0, "aaaaaa"),
        ("ababaa", 2, "abab"),  # the last band is wider, and is none of the stripes
        ("abababb", 2, "ababab"),
        ("abababc", 2, "ababab"),
    ],
)
def test_stripes_begin_again_after_so_many_rounds(yarns: str, period: int, kept: str) -> None:
    rounds = list(yarns)
    assert (_period(rounds), "".join(rounds)) == (period, kept)


@together(
    ("rows", "right"),
    [
        ("Row 1 (RS): Knit.", False),
        ("Row 1 (WS): Purl.", True),
        ("Row 1: Knit.\nRow 2 (RS): Knit.", True),
        ("Row 1: Knit.\nRow 2 (WS): Purl.", False),
        ("Row 1: Knit.\nRow 2: Purl.\nRow 3 (RS): Knit.", False),
        ("Row 1: Knit.", False),
        ("", True),
        ("Join to work in the round.\nRnd 1: Knit.", True),
        ("Row 1: Knit.\nJoin to work in the round.\nRnd 1: Knit.", True),
        ("Rnd 1: Knit.", True),
    ],
)
def test_the_side_on_which_the_cast_on_is_seen(rows: str, right: bool) -> None:
    """The right side faces on RS rows, and rows are turned: common practice."""
    assert starts_on_right_side(read(f"Cast on 8 sts.\n{rows}\n")) is right


@together(
    ("said", "whole"),
    [
        ("Rnd 1: Knit.", True),
        ("Rnd 1: K2tog, k to end.", True),
        ("Row 1: K3, turn.", False),
        ("Row 1: K3, w&t.", False),
        ("Cut yarn.", True),
        ("Join yarn B.", True),
        ("Cast on 4 sts.", True),
        ("Place marker a.", True),
        ("Put the next 4 sts on a holder.", True),
        ("Bind off.", False),
        ("Join to work in the round.", False),
        ("Rep rnd 1 3 more times.", True),
        ("Rep rnd 1 until 4 sts remain.", False),
    ],
)
def test_what_changes_a_count_wherever_it_is_worked(said: str, whole: bool) -> None:
    before = "Cast on 8 sts.\nJoin to work in the round.\n"
    if said.startswith("Rep"):
        before += "Rnd 1: K2tog, k to end.\n"
    assert is_whole(read(f"{before}{said}\n").steps[-1]) is whole


def test_rows_that_are_turned_half_way_count() -> None:
    made = knitted(
        read(
            "Cast on 8 sts.\n"
            "Row 1 (RS): Knit.\n"
            "Row 2 (WS): P4, turn.\n"
            "Row 3 (RS): Knit.\n"
            "Row 4 (WS): Purl.\n"
            "Rep rows 1 and 4 twice more.\n"
            "Bind off.\n"
        )
    )
    assert [entry.rows for entry in made.journal.entries][:5] == [0, 1, 1, 1, 1]


def test_moves_are_said_one_after_another() -> None:
    work = [NeedleMove("work", key=key) for key in ("k", "p", "k", "k", "p")]
    turn, cut = NeedleMove("turn"), NeedleMove("step", step=CutYarn())
    said = literally(Moves((*work[:3], turn, work[3], cut, turn, work[4]), True), STITCHES)
    assert [type(step) for step in said] == [Part, Part, CutYarn, Part, Part]
    words = write(Pattern("", [Section("Strip"), *said])).lower()
    assert [words.count(one) for one in ("k1", "p1", "turn", "cut")] == [3, 2, 2, 1]


@pytest.mark.parametrize("before", ["", "K1, ", "K1, p1, "])
def test_a_choice_left_open_is_shown_at_its_word(before: str) -> None:
    row = f"Rnd 1: {before}m1, k to end."
    text = f"Cast on 8 sts.\nJoin to work in the round.\n{row}\n"
    (found,) = (one for one in review(text).findings if "does not say which" in str(one))
    assert (found.line, found.column) == (3, row.index("m1") + 1)
