"""Small pieces that a sock is put together from."""

from __future__ import annotations

import math
from collections.abc import Iterable

import attrs

from loopwright.errors import SizingError
from loopwright.gauge import Gauge
from loopwright.length import Length
from loopwright.pattern.panels import PanelRounds
from loopwright.pattern.program import GaugeLine
from loopwright.pattern.steps import RepeatRounds, Round, Step
from loopwright.plurals import plural
from loopwright.sock._sizing import Fitted
from loopwright.sock._yarns import SockYarn

__all__ = ["gauge_line", "height", "named", "rounds_left", "uncounted"]


def uncounted(steps: list[Step]) -> list[Step]:
    """Return the steps without stated counts once there is a panel that changes them."""
    told = next(at for at, step in enumerate(steps) if isinstance(step, PanelRounds))
    bare = (
        attrs.evolve(step, count=None) if isinstance(step, Round | RepeatRounds) else step
        for step in steps[told:]
    )
    return [*steps[:told], *bare]


def named(one: SockYarn) -> str:
    """Return what the pattern calls a yarn, and its band."""
    if one.yarn is None or one.yarn.name == one.name:
        return one.name
    return f"{one.name}, {one.yarn.name}"


def height(parts: Iterable[tuple[Gauge, float]]) -> Length:
    """Return the height of courses of one gauge or several; of one, with how it was found."""
    by_gauge: dict[Gauge, float] = {}
    for gauge, courses in parts:
        by_gauge[gauge] = by_gauge.get(gauge, 0) + courses
    heights = [gauge.height(courses) for gauge, courses in by_gauge.items()]
    if len(heights) == 1:
        return heights[0]
    return Length(sum(one.mm for one in heights), math.hypot(*(one.sd_mm for one in heights)))


def rounds_left(what: str, whole: Fitted, used: int, advice: str) -> int:
    """Return the plain rounds that are left when the heel's own are taken off."""
    if whole.count < used:
        found = f"{plural(whole.count, 'round')}, of which the heel's gusset needs {used}"
        raise SizingError(what, found, f"choose {advice}")
    return whole.count - used


def gauge_line(gauge: Gauge) -> GaugeLine:
    """Return a gauge as a pattern's head states it."""
    return GaugeLine(_short(10 * gauge.stitches_per_cm), _short(10 * gauge.courses_per_cm))


def _short(number: float) -> float:
    """Return a number to one decimal, whole where it is, as text gives it back."""
    rounded = round(number, 1)
    return int(rounded) if rounded.is_integer() else rounded
