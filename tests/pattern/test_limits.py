"""Deep nesting, huge numbers, random text: a clear error, never a hang."""

from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as s

from loopwright.errors import KnitError, LoopwrightError, PatternSyntaxError, StepError
from loopwright.pattern import Pattern, Repeat, RepeatRounds, k, knit, knit_rounds, read, review
from loopwright.pattern._words import phrases_by_head
from together import together

TUBE = "Cast on 8 sts. Join in the round.\n"


@together(
    "text",
    [
        TUBE + "Rnd 1: " + "[" * 13 + "k1" + "] 2 times" * 13,
        TUBE + "Rnd 1: " + "[" * 100_000,
        TUBE + "Rnd 1: " + "*" * 100_000,
        "Cast on " + "9" * 100_000 + " sts.",
        "Cast on 1000001 sts.",
        TUBE + "Rnds 1-20002: Knit.",
        TUBE + "Rnds 1-" + "9" * 5000 + ": Knit.",
        "x" * 500_001,
        TUBE + "Rnd 1: " + "*k1; " * 4001,
        TUBE + "Rnd 1: " + "k1, p1,\n" * 3000,
        TUBE + "Rnd 1: " + "slip " * 3900,
        "Cast on 8 (" + "7, " * 100_000 + "7) sts" + "(" * 10_000,
    ],
)
def test_too_much_to_read(text: str) -> None:
    with pytest.raises(PatternSyntaxError):
        read(text)


@pytest.mark.parametrize(
    "text",
    [
        "Cast on 1000000 sts. Join in the round. Rnd 1: Knit.",
        TUBE + "Rnd 1: [[[[k1] 999 times] 999 times] 999 times] 999 times.",
        TUBE + "Next 999999 rnds: Knit.",
        TUBE + "Rnd 1: [K1, yo] 8 times, knit.\nRnd 2: Knit.\n"
        "Rep rnds 1 and 2 until there are 800000 sts.",
        TUBE + "Rnd 1: [yo] 1000000 times, knit. Rnd 2: [k2tog] 4 times.",
        TUBE + "Pick up and knit 1000000 sts along edge.",
        TUBE + "Rnd 1: [pm, rm] 1000000 times, knit.",
    ],
)
def test_too_much_to_knit(text: str) -> None:
    with pytest.raises(KnitError):
        knit(read(text))


@pytest.mark.parametrize("words", ["*k1; ", "K1, p1, ", "please knit softly ", "(", "9"])
def test_a_line_without_end_is_refused_before_it_is_read(words: str) -> None:
    """Read to its end, half a million characters of stars took eight seconds."""
    text = TUBE + words * (400_000 // len(words))
    for reader in (read, review):
        with pytest.raises(PatternSyntaxError) as refusal:
            reader(text)
        assert refusal.value.line == 2
        assert "longer than 20000 characters" in str(refusal.value)


def test_a_number_without_end_is_said_to_be_none() -> None:
    """Looked at by each check of figures, its digits took ten seconds."""
    assert review(TUBE + "9" * 19_000 + "\nRnd 1: Knit.").findings


def _nested(depth: int) -> Repeat:
    item = Repeat([k(1)], 2)
    for _ in range(depth - 1):
        item = Repeat([item], 2)
    return item


def _nested_rounds(depth: int) -> RepeatRounds:
    step = knit_rounds(2)
    for _ in range(depth - 1):
        step = RepeatRounds([step, step], 2)
    return step


def test_repeats_nest_only_so_deep() -> None:
    assert _nested(12).depth == _nested_rounds(12).depth == 12
    with pytest.raises(StepError, match="nested more than 12 deep"):
        _nested(13)
    with pytest.raises(StepError, match="nested more than 12 deep"):
        _nested_rounds(13)


def _refusal(text: str) -> PatternSyntaxError | None:
    try:
        assert isinstance(read(text), Pattern)
    except PatternSyntaxError as error:
        return error
    return None


TRADE = sorted({*phrases_by_head(), "k1", "p2", *"*[](),;.:", "2", "(3, 4)", "\n"})


@given(s.text(max_size=60) | s.lists(s.sampled_from(TRADE), max_size=14).map(" ".join))
@settings(max_examples=150, deadline=None)
@example("Rnd 1: K1 (2")
@example("(")
@example("Sizes: S (M)\nSize S only:")
def test_any_text_is_read_or_refused_with_a_place(text: str) -> None:
    refused = _refusal(text)
    if refused is not None:
        assert 1 <= refused.line <= len(text.split("\n"))
        assert 1 <= refused.column <= len(text.split("\n")[refused.line - 1]) + 1
        assert str(refused)


@given(s.lists(s.sampled_from(TRADE), max_size=10).map(" ".join))
@settings(max_examples=60, deadline=None)
def test_any_text_is_reviewed_and_knitted_or_refused(text: str) -> None:
    text = f"Cast on 8 sts. Join in the round.\nRnd 1: K1, {text}\n"
    assert review(text).shown()
    with suppress(LoopwrightError):
        assert knit(read(text)).euler_characteristic is not None


def test_more_waste_yarns_than_a_glove_has_are_no_failure() -> None:
    one = "K1, k2 with waste yarn, slip these 2 sts back and knit them again, k to end.\n"
    assert review(TUBE + one * 12).shown()
    halves = "Divide sts over 2 needles: 4, 4.\n"
    back = "slide these 4 sts back to the left needle and knit them again.\n"
    one = f"Needle 1: knit; needle 2: knit 4 sts with waste yarn, {back}"
    assert review(TUBE + halves + one * 9).shown()


def test_a_line_of_one_thing_over_and_over_comes_to_an_end() -> None:
    """The first took most of a minute, by an expression that tried its parts in all ways."""
    for said in (
        "10 (12, 14) sts then every round until ",
        "(1 ",
        "12 sts on each of the other two ",
    ):
        with suppress(LoopwrightError):
            assert review(TUBE + (said * 20_000)[:19_900]).shown()
