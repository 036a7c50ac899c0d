"""Usual words for going on, crossed: what each comes to is counted by hand (common practice)."""

from pattern.crossed import Crossing, Ending, crossed, table_of, wrong

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


def test_a_false_finding_makes_a_crossing_wrong() -> None:
    right = Crossing("Knit 4 rounds.", 48, 48, 4, (), ())
    found = Crossing("Knit 4 rounds.", 48, 48, 4, (), ("48 sts are no multiple of 5",))
    assert right.is_right(Ending("", 48, 4))
    assert not found.is_right(Ending("", 48, 4))


def test_middles_are_crossed_with_beginnings_and_ends() -> None:
    before, beginnings, ends = table_of(
        "Join.\n---\nGo on{}\nKeep on{}\n---\n {}\n so {}\n---\nto 40 | 40"
    )
    assert (before, ends) == ("Join.", [Ending("to 40", 40)])
    assert beginnings == ["Go on {}", "Go on so {}", "Keep on {}", "Keep on so {}"]
