"""Knit a pattern: the walk's stitches, worked on the needles of the loop graph."""

from __future__ import annotations

from collections.abc import Callable
from functools import singledispatch

import attrs

from loopwright.errors import CannotWorkError, KnitError
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.making import (
    Hand,
    Work,
    bind_off,
    cast_on,
    closed_cast_on,
    corner_strands,
    draw_up,
    graft,
    hold,
    lift_strand,
    pick_up,
    provisional_cast_on,
    recapture,
    return_held,
    selvedge,
    take_out,
    three_needle_bind_off,
    waste_row,
    weave_in,
)
from loopwright.making.casting import spread
from loopwright.pattern import steps as st
from loopwright.pattern._tally import Tally, Trouble
from loopwright.pattern._write import in_words
from loopwright.pattern.hands import Hands
from loopwright.pattern.program import Pattern, of_size
from loopwright.pattern.walk import Walk, starts_on_right_side

__all__ = ["Picked", "knit", "knit_on"]


def knit(
    pattern: Pattern,
    *,
    size: str | int | None = None,
    hand: Hand = Hand.RIGHT,
    stitches: StitchTable = STITCHES,
) -> Fabric:
    """Return the fabric that the instructions make.

    Parameters
    ----------
    pattern : Pattern
    size : str or int, optional
        Name or index of the size; the first by default.
    hand : Hand
        A left-handed knitter's fabric is mirrored.
    stitches : StitchTable

    Raises
    ------
    KnitError
        An instruction cannot be worked, or states a count that does not follow; says at which
        step and stitch, and what was on the needles.

    Examples
    --------
    >>> from loopwright.pattern._read import read
    >>> tube = read("Cast on 8 sts. Join in the round. Rnds 1-3: Knit. Bind off all sts.")
    >>> knit(tube).euler_characteristic
    2
    """
    work = Work(hand=hand, stitches=stitches)
    knit_on(work, pattern, size=size)
    return work.fabric()


@attrs.frozen
class Picked:
    """Stitches picked up along an edge: the step, how many, how many edge stitches there are."""

    step: st.Step
    stitches: int
    edges: int


def knit_on(
    work: Work,
    pattern: Pattern,
    *,
    size: str | int | None = None,
    before: Callable[[st.Step], None] | None = None,
) -> list[Picked]:
    """Work the instructions on these needles, empty so far, and return what was picked up.

    See :func:`knit`, which returns the fabric.

    `before` is called with each step of the pattern just before it is worked: pictures follow the
    work that way.

    Raises
    ------
    KnitError
        As `knit` does; the work stands where the mistake was met.

    Examples
    --------
    >>> from loopwright.pattern._read import read
    >>> work = Work()
    >>> picked = knit_on(work, read("Cast on 8 sts. Join in the round. Rnds 1-3: Knit."))
    >>> work.count, work.course, picked
    (8, 4, [])
    >>> work.round(["k2tog"] * 4)  # on by hand
    """
    one = of_size(pattern, size)
    hands = _Hands(work, starts_on_right_side(one))
    walk = _Heard(one, hands, stitches=work.stitches)
    walk.before, hands.walk = before, walk
    name = one.sizes[0] if len(pattern.sizes) > 1 else ""
    try:
        walk.all()
    except Trouble as trouble:
        raise _error(walk, trouble, name) from None
    except CannotWorkError as error:
        advice = f"; {error.advice}" if error.advice else ""
        problem = f"cannot {error.operation}: {error.problem}{advice}"
        raise _error(walk, Trouble("work", problem), name) from None
    return hands.picked


class _Heard(Walk):
    """A walk that says which step of the pattern comes next."""

    before: Callable[[st.Step], None] | None = None

    def one(self, step: st.Step) -> None:
        if self.before is not None and step is self.step:
            self.before(step)
        super().one(step)


def _error(walk: Walk, trouble: Trouble, size: str) -> KnitError:
    step = walk.step
    assert step is not None
    at = step.at.within(max(1, trouble.column)) if step.at else st.Place(0, 0)
    return KnitError(
        _shown(step), trouble.stitch, walk.on_needles(), trouble.problem, at.line, at.column, size
    )


def _shown(step: st.Step) -> str:
    text = in_words(step).removesuffix(".")
    return text if len(text) < 80 else text[:77] + "..."


class _Hands(Hands):
    """Hands that knit."""

    def __init__(self, work: Work, starts_on_right_side: bool) -> None:
        self._work = work
        self.picked: list[Picked] = []
        self.walk: Walk | None = None
        work.right_side_facing = starts_on_right_side

    def work(self, keys: tuple[str, ...], with_wraps: bool) -> None:
        self._work.work(keys, with_wraps=with_wraps)

    def rounds(self, keys: tuple[str, ...], times: int) -> None:
        self._work.rounds(keys, times)

    def turn(self) -> None:
        self._work.turn()

    def wrap(self) -> None:
        self._work.wrap()

    def double_stitch(self) -> None:
        self._work.double_stitch()

    def pick_up(self, amount: int, twisted: bool) -> None:
        edge = selvedge(self._work)
        if not edge:
            raise Trouble("place", "there is no edge here to pick up along")
        if self.walk is not None and self.walk.step is not None:
            self.picked.append(Picked(self.walk.step, amount, len(edge)))
        pick_up(self._work, [edge[place] for place in spread(len(edge), amount)])

    def lift(self, stitch: str, strand: str) -> None:
        found = corner_strands(self._work)
        if not found:
            raise Trouble("place", "there is no strand here to be lifted")
        # Best first; the one beside the stitch leaves no new cell between itself and the stitch.
        chosen = found[0] if strand == "across" else min(found, key=lambda one: one.cells[1])
        lift_strand(self._work, chosen.strand, left_flank=chosen.left_flank)
        self._work.work(["ktbl" if stitch == "m1l" else stitch])

    def next_needle(self, number: int) -> None:
        self._work.begin_needle_here(number)

    def step(self, step: st.Step, tally: Tally) -> None:
        _do(step, self._work)
        if step.count == self._work.count:
            self._work.state_count(self._work.count)


@singledispatch
def _do(step: st.Step, work: Work) -> None:
    """Work a step that is neither row nor round."""


@_do.register
def _(step: st.CastOn, work: Work) -> None:
    cast_on(work, _n(step.stitches), how=step.how)


@_do.register
def _(step: st.ClosedCastOn, work: Work) -> None:
    closed_cast_on(work, _n(step.each_half))


@_do.register
def _(step: st.ProvisionalCastOn, work: Work) -> None:
    provisional_cast_on(work, _n(step.stitches), step.waste)


@_do.register
def _(step: st.Join, work: Work) -> None:
    work.join_round()


@_do.register
def _(step: st.InRows, work: Work) -> None:
    work.to_rows()


@_do.register
def _(step: st.BeginHere, work: Work) -> None:
    work.begin_round_here()


@_do.register
def _(step: st.Arrange, work: Work) -> None:
    work.arrange([_n(stitches) for _, stitches in step.parts])


@_do.register
def _(step: st.Hold, work: Work) -> None:
    hold(work, _n(step.stitches), step.name)


@_do.register
def _(step: st.ReturnHeld, work: Work) -> None:
    return_held(work, step.name, next_to_work=step.next_to_work)


@_do.register
def _(step: st.WasteRow, work: Work) -> None:
    waste_row(work, _n(step.stitches), step.name)


@_do.register
def _(step: st.TakeOut, work: Work) -> None:
    take_out(work, step.name)


@_do.register
def _(step: st.Recapture, work: Work) -> None:
    recapture(work, step.name, corner=step.corner)


@_do.register
def _(step: st.Graft, work: Work) -> None:
    graft(work)


@_do.register
def _(step: st.ThreeNeedleBindOff, work: Work) -> None:
    three_needle_bind_off(work)


@_do.register
def _(step: st.BindOff, work: Work) -> None:
    # "Bind off 4 sts" works a fifth, over which the fourth is passed.
    stitches = None if step.stitches in (None, work.count) else _n(step.stitches) + 1
    bind_off(work, stitches, how=step.how)


@_do.register
def _(step: st.DrawUp, work: Work) -> None:
    draw_up(work)


@_do.register
def _(step: st.UseYarn, work: Work) -> None:
    names = {strand.name for strand in work.strands}
    uncut = any(strand.name == step.name and not strand.cut for strand in work.strands)
    if uncut and not step.new:
        work.change_to(step.name)
        return
    name, number = step.name, 2
    while name in names:  # another strand of the same yarn
        name, number = f"{step.name} {number}", number + 1
    work.join_yarn(name)


@_do.register
def _(step: st.CutYarn, work: Work) -> None:
    in_use = work.yarn
    if step.name and in_use != step.name:
        work.change_to(step.name)
        work.cut()
        if in_use is not None:
            work.change_to(in_use)
    elif in_use is not None:  # grafting and binding off all have cut it already
        work.cut()


@_do.register
def _(step: st.WeaveIn, work: Work) -> None:
    weave_in(work)


def _n(value: object) -> int:
    assert isinstance(value, int), "the pattern is of one size"
    return value
