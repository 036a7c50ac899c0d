"""Small pieces that a sock is put together from."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any, TypeVar

import attrs

from loopwright.errors import SizingError
from loopwright.gauge import Gauge
from loopwright.length import Length
from loopwright.pattern.panels import PanelRounds
from loopwright.pattern.program import GaugeLine
from loopwright.pattern.steps import RepeatRounds, Round, Step
from loopwright.plurals import plural
from loopwright.ranges import require_ranges
from loopwright.sock._cuffs import Cuff, cuff_named
from loopwright.sock._legs import Leg, leg_named
from loopwright.sock._sizing import Fitted
from loopwright.sock._toes import Toe, toe_named
from loopwright.sock._yarns import SockYarn
from loopwright.sock.heels import Heel, heel_named

__all__ = ["as_cuff", "as_heel", "as_leg", "as_toe", "gauge_line", "height", "named",
           "require_numbers", "rounds_left", "uncounted"]  # fmt: skip

T = TypeVar("T")


def uncounted(steps: list[Step]) -> list[Step]:
    """Return the steps without stated counts once there is a panel that changes them."""
    told = next(at for at, step in enumerate(steps) if isinstance(step, PanelRounds))
    bare = (
        attrs.evolve(step, count=None) if isinstance(step, Round | RepeatRounds) else step
        for step in steps[told:]
    )
    return [*steps[:told], *bare]


def require_numbers(sock: Any, **parts: Any) -> None:
    """Refuse numbers of a sock and of its parts that none can have, before any work."""
    require_ranges(sock, "sock", deep=False)
    for name, part in parts.items():
        require_ranges(part, name)


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


def as_heel(value: Heel | str) -> Heel:
    """Return a heel, the usual one of a name."""
    return heel_named(value) if isinstance(value, str) else _is_a(Heel, "heel", value)


def as_toe(value: Toe | str) -> Toe:
    """Return a toe, the usual one of a name."""
    return toe_named(value) if isinstance(value, str) else _is_a(Toe, "toe", value)


def as_cuff(value: Cuff | str) -> Cuff:
    """Return a cuff, the usual one of a name."""
    return cuff_named(value) if isinstance(value, str) else _is_a(Cuff, "cuff", value)


def as_leg(value: Leg | str) -> Leg:
    """Return a leg, the usual one of a name."""
    return leg_named(value) if isinstance(value, str) else _is_a(Leg, "leg", value)


def _is_a(kind: Any, what: str, value: T) -> T:
    if not isinstance(value, kind):
        expected = f"expected its name, or one made of a class that derives from {kind.__name__}"
        raise SizingError(what, repr(value), expected)
    return value
