from __future__ import annotations

import pytest
from hypothesis import given, settings

from loopwright.pattern import (
    KNIT,
    CastOn,
    Join,
    Note,
    Pattern,
    RepeatRounds,
    Round,
    Section,
    Sized,
    instructions,
    k,
    of_size,
    p,
    p_to,
    read,
    write,
)
from pattern.strategies import patterns

ON_NEEDLES = "Cast on 6 sts.\nJoin to work in the round.\n"


@pytest.mark.parametrize(
    ("line", "needed"),
    [("Instep: k1; sole: k2.", False), ("Instep: place marker; instep: k2.", True)],
)
def test_sides_of_a_round_that_begins_elsewhere_stay_sides(line: str, needed: bool) -> None:
    """Where all stitches are there and nobody shared them out, two sides are one run of them."""
    text = f"Rnd 1: {line}\n"
    assert write(read(text)).strip() == text.strip()
    assert ("nstep" in write(read(ON_NEEDLES + text))) == needed


def test_a_repeat_within_rounds_for_some_sizes_stays_within() -> None:
    inner = RepeatRounds((Round((p_to(),)), Round((k(2), p(6)))), 3)
    outer = RepeatRounds((Round((KNIT,)), inner), Sized((0, 1)))
    pattern = Pattern("", (CastOn(8), Join(), outer), sizes=("S", "M"))
    assert read(write(pattern)) == pattern


def test_no_size_is_told_to_work_rounds_another_0_times() -> None:
    """Where a size works them once, the times stand first, and no size is left out by name."""
    text = (
        "Sizes: S (M, L)\n\nCast on 8 sts, long-tail.\nJoin to work in the round.\n"
        "Work next 2 rnds 1 (3, 5) times in all:\nRnd 1: Knit.\nRnd 2: Purl.\n"
    )
    assert write(read(text)) == text


@pytest.mark.parametrize("times", [0, 1])
def test_a_repeat_of_once_or_never_in_every_size_is_none(times: int) -> None:
    """A draw: "once in all" has no sizes, and no size can be told to work rounds 0 times."""
    body = (Round((k(3),)), Round((KNIT,)))
    repeated = RepeatRounds(body, Sized((times, times)), count=3)
    pattern = Pattern("", (CastOn(3), Join(), repeated), sizes=("S", "M"))
    assert not any(isinstance(one, RepeatRounds) for one in pattern.steps)
    assert pattern.steps[-1].count == 3
    assert len(pattern.steps) == 2 + 2 * times
    assert read(write(pattern)) == pattern


def test_what_is_returned_is_not_taken_for_what_waits_from_before() -> None:
    """A draw: "instep" and a count in our own words, with fewer stitches on the needles."""
    text = (
        "Return to needle the sts held as instep. (1 st)\n"
        "Return to needle the sts held as instep. (2 sts)\n"
    )
    assert write(read(text)) == text


@given(patterns())
@settings(max_examples=60, deadline=None)
def test_what_is_written_reads_back_the_same(pattern: Pattern) -> None:
    text = write(pattern)
    assert read(text) == pattern
    assert write(read(text)) == text


@given(patterns())
@settings(max_examples=30, deadline=None)
def test_british_words_say_the_same(pattern: Pattern) -> None:
    assert read(write(pattern, words="UK")) == pattern


@given(patterns())
@settings(max_examples=30, deadline=None)
def test_one_size_written_alone_is_that_size(pattern: Pattern) -> None:
    for size in range(pattern.size_count):
        alone = of_size(pattern, size)
        if not all(isinstance(step, Note | Section) for step in alone.steps):
            assert read(write(pattern, size=size)) == alone


@pytest.mark.parametrize("words", ["US", "UK"])
def test_words_differ_where_the_trade_differs(words: str) -> None:
    steps = instructions("Rnd 1: K2, skp, sk2p, cdd, k2. Bind off all sts.")
    text = write(Pattern("", steps), words=words)
    american = "Rnd 1: K2, skp, sk2p, cdd, k2.\nBind off all sts.\n"
    british = "Rnd 1: K2, skpo, sk2po, s2kpo, k2.\nCast off all sts.\n"
    assert text == (american if words == "US" else british)
