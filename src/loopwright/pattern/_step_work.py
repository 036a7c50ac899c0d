"""What the hands do for steps that are neither rows nor rounds."""

from __future__ import annotations

from functools import singledispatch
from itertools import chain, count

from loopwright.making import (
    Work,
    bind_off,
    cast_on,
    closed_cast_on,
    draw_up,
    graft,
    hold,
    provisional_cast_on,
    recapture,
    return_held,
    take_out,
    three_needle_bind_off,
    waste_row,
    weave_in,
)
from loopwright.pattern import steps as st

__all__ = ["do_step", "use_yarn"]


@singledispatch
def do_step(step: st.Step, work: Work) -> None:
    """Work a step that is neither row nor round."""


@do_step.register
def _(step: st.CastOn, work: Work) -> None:
    cast_on(work, _n(step.stitches), how=step.how)


@do_step.register
def _(step: st.ClosedCastOn, work: Work) -> None:
    closed_cast_on(work, _n(step.each_half))


@do_step.register
def _(step: st.ProvisionalCastOn, work: Work) -> None:
    provisional_cast_on(work, _n(step.stitches), step.waste)


@do_step.register
def _(step: st.Join, work: Work) -> None:
    work.join_round()


@do_step.register
def _(step: st.InRows, work: Work) -> None:
    work.to_rows()


@do_step.register
def _(step: st.BeginHere, work: Work) -> None:
    work.begin_round_here()


@do_step.register
def _(step: st.Arrange, work: Work) -> None:
    work.arrange([_n(stitches) for _, stitches in step.parts])


@do_step.register
def _(step: st.Hold, work: Work) -> None:
    hold(work, _n(step.stitches), step.name)


@do_step.register
def _(step: st.ReturnHeld, work: Work) -> None:
    return_held(work, step.name, next_to_work=step.next_to_work)


@do_step.register
def _(step: st.WasteRow, work: Work) -> None:
    waste_row(work, _n(step.stitches), step.name)


@do_step.register
def _(step: st.TakeOut, work: Work) -> None:
    take_out(work, step.name)


@do_step.register
def _(step: st.Recapture, work: Work) -> None:
    recapture(work, step.name, corner=step.corner)


@do_step.register
def _(step: st.Graft, work: Work) -> None:
    graft(work)


@do_step.register
def _(step: st.ThreeNeedleBindOff, work: Work) -> None:
    three_needle_bind_off(work)


@do_step.register
def _(step: st.BindOff, work: Work) -> None:
    # "Bind off 4 sts" works a fifth, over which the fourth is passed.
    stitches = None if step.stitches in (None, work.count) else _n(step.stitches) + 1
    bind_off(work, stitches, how=step.how)


@do_step.register
def _(step: st.DrawUp, work: Work) -> None:
    draw_up(work)


@do_step.register
def _(step: st.UseYarn, work: Work) -> None:
    use_yarn(work, step.name, new=step.new)


def use_yarn(work: Work, called: str, *, new: bool = False) -> None:
    """Change to the strand of this yarn that is on its ball, or join another."""
    uncut = _on_ball(work, called)
    if uncut is not None and not new:
        if uncut != work.yarn:
            work.change_to(uncut)
        return
    names = {strand.name for strand in work.strands}
    more = (f"{called} {number}" for number in count(2))
    work.join_yarn(next(name for name in chain([called], more) if name not in names))


def _on_ball(work: Work, called: str) -> str | None:
    """Return the strand of this yarn that is still on its ball, None if there is none."""
    mine = (s.name for s in work.strands if called in (s.name, s.yarn) and not s.cut)
    return next(mine, None)


@do_step.register
def _(step: st.CutYarn, work: Work) -> None:
    in_use = work.yarn
    cut = _on_ball(work, step.name) if step.name else in_use
    if step.name and cut != in_use:
        if cut is None:
            return  # closing a piece cuts its yarn, and a stripe may not have come yet
        work.change_to(cut)
        work.cut()
        if in_use is not None:
            work.change_to(in_use)
    elif in_use is not None:  # grafting and binding off all have cut it already
        work.cut()


@do_step.register
def _(step: st.WeaveIn, work: Work) -> None:
    weave_in(work)


def _n(value: object) -> int:
    assert isinstance(value, int), "the pattern is of one size"
    return value
