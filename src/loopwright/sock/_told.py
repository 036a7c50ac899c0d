"""What a knitter asks along the way: where the round begins, and how long a tail is left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from loopwright.gauge import Gauge
from loopwright.pattern.steps import (
    BindOff,
    CastOn,
    CutYarn,
    Graft,
    Join,
    Note,
    Step,
    ThreeNeedleBindOff,
)

__all__ = ["told_along"]

_TIMES = 4.0  # the width of the join: a course takes 3.8 to 4.2 times its width (shared/)
_HELD_CM = 15.0  # to hold, and to weave in: common practice
_CM_PER_INCH = 2.54
_END = "Cut the yarn, leaving a tail of {} cm or {} in, and draw it through the last loop."
_GRAFT = "Cut the yarn, leaving a tail of {} cm or {} in, and thread it into a blunt needle."
_CHANGE = "Wherever a yarn is cut or joined leave a tail of {} cm or {} in."


def told_along(steps: Sequence[Step], gauge: Gauge, *, first: str, second: str) -> list[Step]:
    """Return the steps with notes: where the round begins, and tails.

    Parameters
    ----------
    steps : sequence of Step
    gauge : Gauge
        A tail is as long as the stitches that it joins are wide, four times, and a hand more.
    first, second : str
        What the round's halves are where it begins: ``"the back"``.

    Examples
    --------
    >>> from loopwright.pattern.steps import CastOn
    >>> work = [CastOn(20), Join(), Graft()]
    >>> for step in told_along(work, Gauge.of(32, 44), first="the sole", second="the instep"):
    ...     print(getattr(step, "words", type(step).__name__))
    CastOn
    Join
    The rnd begins here, at the side: mark it. First comes the sole, then the instep.
    Cut the yarn, leaving a tail of 30 cm or 12 in, and thread it into a blunt needle.
    Graft
    """
    return list(_told(steps, gauge, f"First comes {first}, then {second}."))


def _told(steps: Sequence[Step], gauge: Gauge, halves: str) -> Iterator[Step]:
    count, begun, changed = 0, False, False
    for step in steps:
        if isinstance(step, CutYarn) and not changed:
            changed = True
            yield _tail(_CHANGE, _HELD_CM)
        if isinstance(step, Graft):
            yield _tail(_GRAFT, _TIMES * count / 2 / gauge.stitches_per_cm + _HELD_CM)
        yield step
        count = _live(step, count)
        if isinstance(step, Join) and not begun:
            begun = True
            yield Note(f"The rnd begins here, at the side: mark it. {halves}")
        elif isinstance(step, ThreeNeedleBindOff) or (
            isinstance(step, BindOff) and step.stitches is None
        ):
            yield _tail(_END, _HELD_CM)


def _live(step: Step, before: int) -> int:
    """Return the stitches after a step as far as it says so."""
    stated = step.stitches if isinstance(step, CastOn) and step.count is None else step.count
    return stated if isinstance(stated, int) else before


def _tail(text: str, cm: float) -> Note:
    """Return a note with a length, rounded up to 5 cm and to whole inches."""
    rounded = int(-(-cm // 5) * 5)
    return Note(text, numbers=[rounded, round(rounded / _CM_PER_INCH)])
