"""Usual words for going on, crossed: what each comes to is counted by hand (common practice)."""

from pattern.crossed import Ending, crossed, table_of, wrong

TABLE = r"""
Cast on 48 sts. Join.
Round 1: K1, ssk, k to last 3 sts, k2tog, k1.
Round 2: Knit.
---
And so on {}.
Keep going {}.
---
till you are down to 40 | 40 | 8
until you have 40 left | 40 | 8
"""


def test_usual_words_for_going_on_come_to_the_same() -> None:
    """Four rounds of two decreases, and a plain round behind each."""
    assert list(wrong(*table_of(TABLE))) == []


def test_a_crossing_that_is_read_wrong_is_shown() -> None:
    """A count that nobody would reach, and a word that nobody knows."""
    before = "Cast on 48 sts. Join."
    ((one, wanted),) = wrong(before, ["Knit {}."], [Ending("4 rounds", 47)])
    assert (one.count, one.knitted, one.rows, wanted.count) == (48, 48, 4, 47)
    lost = crossed(before, "Next round: k40, frobnicate 8.")
    assert lost.lost
    assert not lost.is_right(Ending("", 48))
