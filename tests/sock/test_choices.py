"""A wrong word for a choice is refused with what was given and what there is to choose from."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from loopwright.choice import Choice
from loopwright.errors import ChoiceError, LoopwrightError, SizingError
from loopwright.gauge import Gauge
from loopwright.pattern import Pattern, write
from loopwright.pattern.items import Mark
from loopwright.sock import Foot, Sock, cuff_named, heel_named, leg_named, toe_named
from loopwright.sock._toes import ShortRowToe
from loopwright.sock.heels import (
    Afterthought,
    Flap,
    Forethought,
    HeelTurn,
    ShortRow,
    ShortRowGusset,
    corner_round,
)
from loopwright.sock.shortrows import ShortRows
from loopwright.sock.wedge import Wedge
from together import together

WRONG: dict[str, tuple[Callable[[Any], object], str]] = {
    "corners, forethought": (lambda word: Forethought(corners=word), "'left as they are'"),
    "corners, afterthought": (lambda word: Afterthought(corners=word), "'closed'"),
    "corners, flap": (lambda word: Flap(corners=word), "'closed'"),
    "corners, short-row": (lambda word: ShortRow(corners=word), "'closed'"),
    "corners, short-row with gusset": (lambda word: ShortRowGusset(corners=word), "'closed'"),
    "corners, by name": (lambda word: heel_named("flap", corners=word), "'closed'"),
    "flap fabric": (lambda word: Flap(fabric=word), "'slip stitch'"),
    "turned": (lambda word: HeelTurn(shape=word), "'round', 'V' or 'square'"),
    "turning": (lambda word: ShortRows(turning=word), "'wrapped' or 'double stitch'"),
    "placement": (lambda word: Wedge(placement=word), "'band', 'pair' or 'line'"),
    "closing": (lambda word: Wedge(closing=word), "'drawn up'"),
    "closing, toe": (lambda word: toe_named("short-row", closing=word), "'drawn up'"),
    "closing, short-row toe": (lambda word: ShortRowToe(closing=word), "'drawn up'"),
    "direction": (
        lambda word: Sock(foot=Foot.of(length="25 cm"), gauge=Gauge.of(32, 44), direction=word),
        "'cuff down' or 'toe up'",
    ),
    "needles": (
        lambda word: Sock(foot=Foot.of(length="25 cm"), gauge=Gauge.of(32, 44), needles=word),
        "'two circulars'",
    ),
    "words": (lambda word: write(Pattern("", ()), words=word), "'US' or 'UK'"),
    "marking": (lambda word: Mark(word), "'place', 'slip' or 'remove'"),
}


@together("name", WRONG, tests=2)
@together("word", ["left", "", 3, None])
def test_a_wrong_word_is_told_with_the_right_ones(name: str, word: object) -> None:
    make, expected = WRONG[name]
    with pytest.raises(ChoiceError) as refusal:
        make(word)
    assert refusal.value.what == name.split(",")[0]
    assert refusal.value.found == repr(word)
    assert expected in refusal.value.expected
    assert isinstance(refusal.value, ValueError)


def test_the_nearest_word_is_suggested() -> None:
    with pytest.raises(ChoiceError) as refusal:
        Forethought(corners="left")
    assert str(refusal.value) == (
        "corners: found 'left'; expected 'left as they are', 'closed' or 'closed at both ends'; "
        "'left as they are' may be meant"
    )


@together(
    "make",
    [
        lambda: heel_named("flop"),
        lambda: toe_named("wedged"),
        lambda: cuff_named("3x1"),
        lambda: leg_named("plane"),
        lambda: heel_named("flap", corner_s=1),
        lambda: toe_named("wedge", wedges=1),
        lambda: cuff_named("2x2 rib", hight_mm=1),
        lambda: leg_named("shaped", widest_at=1),
    ],
)
def test_no_construction_or_option_is_guessed(make: Callable[[], object]) -> None:
    with pytest.raises(LoopwrightError, match=r"expected one of|it has:"):
        make()


def test_a_member_is_taken_as_it_is() -> None:
    class Edge(Choice):
        CHAIN = "chain"
        BEAD = "bead"

    assert Edge(Edge.CHAIN) is Edge("chain") is Edge.CHAIN


def test_a_heel_of_ones_own_finds_the_corner_round_beside_the_others() -> None:
    from loopwright.sock.heels._heel import corner_round as home

    assert corner_round is home


def test_a_name_alone_that_does_not_do_says_what_it_needs() -> None:
    """A patterned leg is nothing without its pattern."""
    foot, gauge = Foot.of(length="24 cm"), Gauge.of(20, 28)
    refusal = r"patterned leg: found no rounds; expected leg_named\('patterned', rounds=...\)"
    for make in (
        lambda: leg_named("patterned"),
        lambda: Sock(foot=foot, gauge=gauge, leg="patterned"),
    ):
        with pytest.raises(SizingError, match=refusal):
            make()
