"""The least wedge: what is refused can't be knitted, what is given can, in every arrangement."""

from __future__ import annotations

import itertools

import attrs
import pytest

from loopwright.errors import KnitError, SizingError
from loopwright.fabric import Fabric, check
from loopwright.making import Work
from loopwright.pattern import Pattern, simplified
from loopwright.pattern._knit import knit, knit_on
from loopwright.pattern.steps import BindOff, CastOn, ClosedCastOn, Join
from loopwright.sock.needles import Layout, Needles
from loopwright.sock.rounds import plain
from loopwright.sock.wedge import Phase, Placement, Wedge, WedgeClosing, WedgeNumbers

SHAPES = [
    *(Wedge(band=band) for band in (2, 4, 6, 8)),
    Wedge(placement=Placement.PAIR),
    Wedge(placement=Placement.LINE),
]
EACH = pytest.mark.parametrize("wedge", SHAPES, ids=lambda w: f"{w.placement.value} {w.band}")


def layout(stitches: int, needles: Needles) -> Layout:
    half = stitches // 2
    return Layout((("instep", half), ("sole", half)), needles)


def narrowed(wedge: Wedge, left: int, needles: Needles) -> Fabric:
    """A tube decreased twice, down to so many stitches, and closed."""
    numbers = WedgeNumbers(left + 8, left, (Phase(2),))
    around = layout(numbers.start, needles)
    steps = [CastOn(numbers.start), Join(), *around.arranged(), *plain(1)]
    return knit(Pattern("", simplified([*steps, *wedge.steps(numbers, around)])))


def widened(wedge: Wedge, left: int, needles: Needles) -> Fabric:
    """The same from its tip."""
    numbers = WedgeNumbers(left + 8, left, (Phase(2),))
    steps = [ClosedCastOn(left // 2), Join(), *layout(left, needles).arranged(), *plain(1)]
    steps += wedge.increase_steps(numbers, layout(numbers.start, needles))
    return knit(Pattern("", simplified([*steps, BindOff(None)])))


@EACH
def test_so_few_can_be_left_on_all_needles_however_closed(wedge: Wedge) -> None:
    for needles, closing in itertools.product(Needles, WedgeClosing):
        closed = attrs.evolve(wedge, closing=closing)
        assert check(narrowed(closed, wedge.least, needles), openings=1).ok
    for needles in Needles:
        assert check(widened(wedge, wedge.least, needles), openings=1).ok


@EACH
def test_fewer_can_not(wedge: Wedge) -> None:
    """Two less: on some needles, one way or the other, a round asks for more than there are."""

    def refused(needles: Needles) -> bool:
        try:
            narrowed(wedge, wedge.least - 2, needles)
            widened(wedge, wedge.least - 2, needles)
        except KnitError:
            return True
        return False

    assert any(map(refused, Needles))


@EACH
def test_numbers_stop_at_the_least(wedge: Wedge) -> None:
    least = wedge.least
    assert attrs.evolve(wedge, left=least).numbers(least + 4).left == least
    assert attrs.evolve(wedge, stop=0.01).numbers(least + 40).left == least
    with pytest.raises(SizingError, match=f"expected {least} to {least + 36}"):
        attrs.evolve(wedge, left=least - 4).numbers(least + 40)
    with pytest.raises(SizingError, match=f"an even number from {least + 4}"):
        wedge.numbers(least + 2)


@EACH
@pytest.mark.parametrize("needles", Needles)
def test_halves_stay_equal_from_the_tip(wedge: Wedge, needles: Needles) -> None:
    """A make-one at the end of a needle stays on it: the next round begins beside it."""
    numbers = WedgeNumbers(wedge.least + 24, wedge.least, (Phase(6),))
    tip, around = layout(numbers.left, needles), layout(numbers.start, needles)
    steps = [ClosedCastOn(numbers.left // 2), Join(), *tip.arranged(), *plain(1)]
    work = Work()
    knit_on(work, Pattern("", simplified([*steps, *wedge.increase_steps(numbers, around)])))
    counts = list(work.needle_counts)
    parts = [len(around.names(name)) for name, _ in around.parts]
    assert sum(counts[: parts[0]]) == sum(counts[parts[0] :]) == numbers.start // 2
