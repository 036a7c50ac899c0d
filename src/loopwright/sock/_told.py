"""What a knitter asks along the way: where the round begins, and how long a tail is left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from loopwright.gauge import Gauge
from loopwright.pattern import SockPart
from loopwright.pattern.steps import (
    Arrange,
    BeginHere,
    BindOff,
    CastOn,
    CutYarn,
    DrawUp,
    Graft,
    Join,
    Note,
    Part,
    Step,
    ThreeNeedleBindOff,
)
from loopwright.pattern.values import Count, values_of
from loopwright.sock._all_round import AllRound
from loopwright.sock._plan import Plan

__all__ = ["foot_adds", "heel_and_instep", "told_along"]

_TIMES = 4.0  # the width of the join: a course takes 3.8 to 4.2 times its width (shared/)
_HELD_CM = 15.0  # to hold, and to weave in: common practice
_CM_PER_INCH = 2.54
_MM_PER = (10.0, 25.4)  # cm and inch
_END = "Cut the yarn, leaving a tail of {} cm or {} in, and draw it through the last loop."
_GRAFT = "Cut the yarn, leaving a tail of {} cm or {} in, and thread it into a blunt needle."
_MOVED = Note("Move the marker here.")
_CLOSING = (BindOff, DrawUp, Graft, ThreeNeedleBindOff)
_CHANGE = "Wherever a yarn is cut or joined leave a tail of {} cm or {} in."


def told_along(steps: Sequence[Step], gauge: Gauge, halves: tuple[str, str]) -> list[Step]:
    """Return the steps with notes: where the round begins, each time anew, and tails.

    Parameters
    ----------
    steps : sequence of Step
    gauge : Gauge
        A tail is as long as the stitches that it joins are wide, four times, and a hand more.
    halves : tuple of str
        What the round's halves are where it begins: ``"the back"``.

    Examples
    --------
    >>> from loopwright.pattern.steps import CastOn
    >>> work = [CastOn(20), Join(), Graft()]
    >>> for step in told_along(work, Gauge.of(32, 44), ("the sole", "the instep")):
    ...     print(getattr(step, "words", type(step).__name__))
    CastOn
    Join
    The rnd begins here, at the side: mark it. First comes the sole, then the instep.
    Cut the yarn, leaving a tail of 30 cm or 12 in, and thread it into a blunt needle.
    Graft
    """
    return list(_told(steps, gauge, f"First comes {halves[0]}, then {halves[1]}."))


def heel_and_instep(*, up: bool) -> tuple[str, str]:
    """Return what the halves of the first round are, and what becomes of them."""
    if up:
        return "the sole (later the back)", "the instep (later the front)"
    return "the back (later the sole)", "the front (later the instep)"


def foot_adds(plan: Plan, all_round: Sequence[AllRound] = ()) -> list[Step]:
    """Return the note that says what length the foot gets besides its own rounds.

    None where a pattern says how many rounds it has.

    Examples
    --------
    >>> from loopwright import Foot, Sock
    >>> plan = Sock(foot=Foot.of(length="24.6 cm"), gauge=Gauge.of(32, 44)).plan()
    >>> print(foot_adds(plan)[0].words)
    The toe adds 4.9 cm or 1.9 in to the foot: for another length work more rnds here, or fewer.
    """
    if plan.panel is not None or any(one.part is SockPart.FOOT for one in all_round):
        return []
    up, heel, courses = plan.setting.is_toe_up, plan.heel, dict[str, float]()
    if not up:
        courses["toe"] = plan.toe.courses
    if up or plan.construction.later_steps(plan.setting):
        courses["heel"] = heel.foot_courses + heel.foot_rounds * up
    named = " and ".join(f"the {name} {{}} cm or {{}} in" for name in courses)
    first = named.removeprefix("the ").replace(" {}", " adds {}", 1)
    text = f"The {first} to the foot: for another length work more rnds here, or fewer."
    mm = [each * plan.gauge.course_height_mm for each in courses.values()]
    return [Note(text, numbers=[round(each / per, 1) for each in mm for per in _MM_PER])]


def _told(steps: Sequence[Step], gauge: Gauge, halves: str) -> Iterator[Step]:
    count, joined, begun, changed = 0, False, False, False
    needles: tuple[tuple[str, Count], ...] = ()
    for step, following in zip(steps, (*steps[1:], None), strict=True):
        if isinstance(step, CutYarn) and not changed:
            changed = True
            yield _tail(_CHANGE, _HELD_CM)
        if isinstance(step, Arrange):
            needles = step.parts
        if isinstance(step, Graft | ThreeNeedleBindOff) and len(needles) > 2:
            yield _on_two_needles([name for name, _ in needles], _first_half(needles))
        if isinstance(step, Graft):
            yield _tail(_GRAFT, _TIMES * count / 2 / gauge.stitches_per_cm + _HELD_CM)
        yield step
        count = _live(step, count)
        joined = joined or isinstance(step, Join)
        # Short-row toes toe up: half a round is worked before the round begins.
        if joined and not begun and not (isinstance(step, Join) and isinstance(following, Part)):
            begun = True
            yield Note(f"The rnd begins here, at the side: mark it. {halves}")
        elif isinstance(step, BeginHere) and not isinstance(following, _CLOSING):
            yield _MOVED
        elif isinstance(step, ThreeNeedleBindOff) or (
            isinstance(step, BindOff) and step.stitches is None
        ):
            yield _tail(_END, _HELD_CM)


def _first_half(needles: Sequence[tuple[str, Count]]) -> int:
    """Return how many of the needles carry the first half of the stitches."""
    counts = [values_of(count)[0] for _, count in needles]
    return next(many for many in range(1, 9) if 2 * sum(counts[:many]) >= sum(counts))


def _on_two_needles(names: Sequence[str], first: int) -> Note:
    """Return the note that brings each half on one needle, for a closing."""
    numbers = [name.removeprefix("needle ") for name in names]
    halves = [some for some in (numbers[:first], numbers[first:]) if len(some) > 1]
    one, *another = (f"needles {' and '.join(some)}" for some in halves)
    also = f", and those of {another[0]} on another" if another else ""
    return Note(f"Slip the sts of {one} on one needle{also}, without working them.")


def _live(step: Step, before: int) -> int:
    """Return the stitches after a step as far as it says so."""
    stated = step.stitches if isinstance(step, CastOn) and step.count is None else step.count
    return stated if isinstance(stated, int) else before


def _tail(text: str, cm: float) -> Note:
    """Return a note with a length, rounded up to 5 cm and to whole inches."""
    rounded = int(-(-cm // 5) * 5)
    return Note(text, numbers=[rounded, round(rounded / _CM_PER_INCH)])
