"""Shaping in unknown words is taken from its counts only where these agree (common practice)."""

from __future__ import annotations

import pytest

from loopwright.pattern import review
from loopwright.pattern._reading.reader import read_closely

TUBE = "Cast on 64 sts. Join in the round.\nRnd 1: Knit.\n"
FLAP = "Cast on 30 sts.\nK17, ssk, k1, turn. Sl 1, p5, p2tog, p1, turn.\n"
CORNERS = TUBE + "Rnd 2: k2tog at each corner. 60 sts.\n"


def lost(text: str) -> list[int]:
    return [error.line for error in read_closely(text, go_on=True).errors]


def remarks(text: str) -> list[str]:
    return [one.message for one in review(text).findings if "by its count" in one.message]


def test_a_note_says_that_the_places_are_not_known() -> None:
    assert lost(CORNERS) == []
    assert remarks(CORNERS) == [
        "read by its count only: 4 sts fewer; where the shaping lies was not understood"
    ]


def test_words_that_are_known_are_not_taken_from_their_count() -> None:
    text = TUBE + "Rnd 2: *K14, k2tog; rep from * to end. 59 sts."
    assert remarks(text) == []
    assert any("states 59 sts" in one.message for one in review(text).findings)


@pytest.mark.parametrize(
    "said",
    [
        "Rnd 3: k2tog in the middle of each quarter. 66 sts.",  # fewer said, more stated
        "Rnd 3: kfb in the middle of each quarter. 56 sts.",
    ],
)
def test_counts_that_disagree_settle_nothing(said: str) -> None:
    assert lost(CORNERS + said) == [4]


def test_a_count_that_no_decreasing_reaches_is_called_wrong() -> None:
    text = CORNERS + "Go on narrowing at the corners until 31 sts remain."  # 4 at a time
    assert lost(text) == []
    assert any("misses 31" in one.message for one in review(text).findings)


def test_a_round_worked_again_is_known_and_checked_against_what_is_stated() -> None:
    text = CORNERS + "Decrease like this every other round 6 more times. 32 sts."  # 6 times 4
    assert lost(text) == []
    errors = [one.message for one in review(text).findings if one.severity == "error"]
    assert errors == ["states 32 sts; working it leaves 36"]


def test_a_turn_goes_on_to_its_end_only_if_it_leaves_what_is_stated() -> None:
    turn = (
        "Work to 1 st before the gap, close the gap with ssk or p2tog, work 1 more st, turn, until"
        " the last st at each side has been used up - {} heel sts."
    )
    assert lost(FLAP + turn.format(18)) == []
    assert lost(FLAP + turn.format(20)) == [3]
