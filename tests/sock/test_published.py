"""Turns, gussets and toes against published chains: the sources' counts in, their counts out.

Figures and sources stand in shared/sock/constructions.toml.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loopwright.errors import SizingError
from loopwright.fabric import check
from loopwright.pattern import (
    CastOn,
    Join,
    Pattern,
    PickUp,
    Row,
    Run,
    WeaveIn,
    knit_rounds,
    simplified,
)
from loopwright.pattern._knit import knit
from loopwright.pattern.steps import Step
from loopwright.sock._toes import StarToe
from loopwright.sock.heels import Flap, HeelTurn, Setting, Turned
from loopwright.sock.needles import Layout, taken
from loopwright.sock.shortrows import ShortRows
from loopwright.sock.wedge import Phase, Wedge

FIGURES = tomllib.loads(
    (Path(__file__).parents[2] / "shared/sock/constructions.toml").read_text(encoding="utf-8")
)


def turned(turn: HeelTurn, heel: int) -> int:
    """Knit a flap and its turn; return the stitches that are left."""
    rows = simplified(turn.rows(turn.numbers(heel)))
    flap: list[Step] = [CastOn(heel), Row((Run("p", heel),), side="WS")]
    steps = (*flap, *(_uncounted(row) for row in rows))
    return len(knit(Pattern("turn", steps)).live)


def _uncounted(step: Step) -> Step:
    """Leave out what the step states, so that knitting alone says how many are left."""
    return attrs.evolve(step, count=None)


def first_numbers(turn: HeelTurn, heel: int) -> list[int]:
    """Stitches before the decrease in rows 1 and 2, the slipped one included."""
    rows = turn.rows(turn.numbers(heel))[:2]
    found = []
    for row in rows:
        assert isinstance(row, Row)
        decrease = row.items.index(Run("ssk") if Run("ssk") in row.items else Run("p2tog"))
        found.append(taken(row.items[:decrease]))
    return found


@pytest.mark.parametrize("figures", FIGURES["turn"], ids=lambda f: f["source"][:20])
def test_published_turns(figures: dict[str, Any]) -> None:
    heel = figures["heel"]
    turn = HeelTurn(past_middle=figures["first"] - heel // 2)
    numbers = turn.numbers(heel)
    assert first_numbers(turn, heel) == [figures["first"], figures["second"]]
    assert (numbers.left, numbers.rows) == (figures["left"], figures["rows"])
    assert turned(turn, heel) == figures["left"]


@given(half=st.integers(6, 30), past=st.integers(0, 6))
def test_round_turn_follows_the_closed_formula(half: int, past: int) -> None:
    """Common practice: u = H/2 - j - 3, left H - 2 - 2 ceil(u/2), for H from 12 to 60; knitted."""
    unworked = half - past - 3
    if unworked < 1:
        with pytest.raises(SizingError) as refused:
            HeelTurn(past_middle=past).numbers(2 * half)
        assert str(2 * half) in refused.value.found
        return
    assert turned(HeelTurn(past_middle=past), 2 * half) == 2 * half - 2 - 2 * -(-unworked // 2)


@given(heel=st.integers(12, 60), shape=st.sampled_from(Turned), past=st.none() | st.integers(0, 4))
def test_every_turn_leaves_what_it_says(heel: int, shape: Turned, past: int | None) -> None:
    turn = HeelTurn(shape=shape, past_middle=past)
    try:
        numbers = turn.numbers(heel)
    except SizingError:
        assert past is not None  # the usual turn fits every heel, odd ones too
        return
    assert turned(turn, heel) == numbers.left


def test_constant_band_keeps_its_width() -> None:
    """Common practice: H 40, j 5: band 12, 13 left unworked a side, 28 rows."""
    numbers = HeelTurn(shape="square", past_middle=5).numbers(40)
    assert (numbers.left, numbers.unworked, numbers.rows) == (12, 13, 28)


@pytest.mark.parametrize("figures", FIGURES["gusset"], ids=lambda f: f["source"][:20])
def test_published_gusset(figures: dict[str, Any]) -> None:
    heel, instep = figures["heel"], figures["instep"]
    flap = Flap(
        fabric="plain",
        rows=figures["flap_rows"],
        corner=figures["corner"],
        turn=HeelTurn(past_middle=figures["past_middle"]),
    )
    setting = Setting(heel, instep)
    numbers = flap.numbers(setting)
    assert numbers.picked_up == figures["picked_up"]
    assert numbers.gusset == figures["decrease_rounds"]
    steps = simplified([CastOn(heel + instep), Join(), knit_rounds(2), *flap.steps(setting)])
    after_picking = next(step for step in steps if _picks_last(step))
    assert after_picking.count == figures["total"]
    assert len(knit(Pattern("gusset", tuple(steps))).live) == figures["end"]


def _picks_last(step: Step) -> bool:
    items = getattr(step, "items", ())
    return step.count is not None and any(isinstance(item, PickUp) for item in items)


@pytest.mark.parametrize("figures", FIGURES["wedge"], ids=lambda f: f["source"][:20])
def test_published_wedges(figures: dict[str, Any]) -> None:
    phases = tuple(Phase(rounds, between) for rounds, between in figures["phases"])
    wedge = Wedge(phases=phases, band=2)
    start = figures["start"]
    numbers = wedge.numbers(start)
    assert numbers.left == figures["left"]
    layout = Layout((("instep", start // 2), ("sole", start // 2)))
    steps = simplified([CastOn(start), Join(), *wedge.steps(numbers, layout)])
    closing = len(steps) - 1
    assert (
        len(knit(Pattern("toe", (*steps[:2], layout.arrange(), *steps[2:closing]))).live)
        == (figures["left"])
    )


@pytest.mark.parametrize("figures", FIGURES["round_toe"], ids=lambda f: f["source"][:20])
def test_published_round_toes(figures: dict[str, Any]) -> None:
    toe = StarToe(sectors=figures["sectors"], last=figures["last"])
    numbers = toe.numbers(figures["start"])
    assert numbers.set_up == figures["set_up"]
    assert list(numbers.counts) == figures["counts"]
    layout = Layout((("instep", figures["start"] // 2), ("sole", figures["start"] // 2)))
    steps = [CastOn(figures["start"]), Join(), knit_rounds(2), *toe.steps(layout), WeaveIn()]
    fabric = knit(Pattern("toe", tuple(simplified(steps))))
    assert check(fabric, openings=1).ok
    assert len(fabric.surface.drawn_leaders) == 1  # drawn up: closed, and not grafted


@pytest.mark.parametrize("figures", FIGURES["short_rows"], ids=lambda f: str(f["heel"]))
def test_published_thirds(figures: dict[str, Any]) -> None:
    numbers = ShortRows().numbers(figures["heel"])
    assert (numbers.side, numbers.middle) == (figures["side"], figures["middle"])


@pytest.mark.parametrize(("start", "left"), [(48, 16), (64, 20), (60, 20), (72, 24)])
def test_wedge_ends_at_about_a_third(start: int, left: int) -> None:
    """Common practice: 48 to 16; 64 to 20, since 21 1/3 can't be reached four at a time."""
    numbers = Wedge().numbers(start)
    assert numbers.left == left
    assert (start - left) % 4 == 0
    # Stops on a decrease round: one plain round between two decreases, none after the last.
    assert numbers.courses == 2 * numbers.decrease_rounds - 1


def test_wedge_with_three_eighths_and_every_round_at_the_end() -> None:
    numbers = Wedge(stop=3 / 8, every_round_last=3).numbers(64)
    assert numbers.left == 24
    assert numbers.phases == (Phase(7, 1), Phase(3, 0))
    assert numbers.courses == 7 * 2 + 3


def test_wedge_refuses_what_four_at_a_time_cannot_reach() -> None:
    with pytest.raises(SizingError) as refused:
        Wedge(left=22).numbers(64)
    assert refused.value.found == "22 stitches left of 64"
