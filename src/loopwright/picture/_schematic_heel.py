"""The heel by itself, lying flat: the outline that its stitches and rows come to, to scale.

A heel in the round is a pocket and lies flat as a toe does; a flap heel is laid out as flap, turn,
and the sole between its gussets; short rows are two wedges, narrow end to narrow end. The leg's end
is at the top, in whichever direction the sock is knitted. A heel of your own whose numbers are none
of these has no outline.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from functools import singledispatch
from math import hypot
from typing import TypeAlias

import attrs

from loopwright.sock.heels import HeelNumbers, RoundHeelNumbers, Setting
from loopwright.sock.heels.flap import FlapNumbers
from loopwright.sock.heels.short_row import ShortRowHeelNumbers

__all__ = ["DEPTH", "HeelForm", "HeelKind", "HeelMeasure", "HeelPart", "Place", "Spot", "heel_form"]

Spot: TypeAlias = tuple[float, float]
"""A place: mm from the middle to the right, and up."""

DEPTH = "heel, depth"
"""What a heel adds to the length of the foot; the sock and its heel both show it."""


class HeelKind(Enum):
    """How a heel lies in the sock."""

    POCKET = "the heel by itself, lying flat"
    FLAP = "flap, turn and gusset, laid out"
    SHORT_ROWS = "short rows, laid out"


class Place(Enum):
    """Where a measure is drawn."""

    ABOVE = "above"
    BELOW = "below"
    BESIDE = "beside"
    ACROSS = "across"


@attrs.frozen
class HeelPart:
    """A piece of the heel: its name and its outline, mm."""

    name: str
    outline: tuple[Spot, ...]


@attrs.frozen
class HeelMeasure:
    """A length of the heel, in words, from one place to another."""

    words: str
    start: Spot
    stop: Spot
    place: Place

    @property
    def mm(self) -> float:
        """Its length, mm."""
        return hypot(self.stop[0] - self.start[0], self.stop[1] - self.start[1])


@attrs.frozen(kw_only=True)
class HeelForm:
    """A heel's own outline.

    Parameters
    ----------
    kind : HeelKind
    parts : tuple of HeelPart
    measures : tuple of HeelMeasure
    closed_mm : float, mm
        What is left to be closed, or between the turns of short rows, at the tip.
    flap_mm, gusset_mm : float, mm
        How high the flap is and how long the gusset, along the foot.
    """

    kind: HeelKind
    parts: tuple[HeelPart, ...]
    measures: tuple[HeelMeasure, ...]
    closed_mm: float = 0.0
    flap_mm: float = 0.0
    gusset_mm: float = 0.0


@singledispatch
def heel_form(numbers: HeelNumbers, setting: Setting) -> HeelForm | None:
    """Return the outline of a heel; None for numbers that aren't known here.

    Parameters
    ----------
    numbers : HeelNumbers
    setting : Setting
        Where the heel stands, and the size of its stitches.

    Examples
    --------
    >>> from loopwright.sock.heels import heel_named
    >>> setting = Setting(32, 32)  # at 32 stitches to 10 cm
    >>> form = heel_form(heel_named("forethought").numbers(setting), setting)
    >>> for measure in form.measures:
    ...     print(f"{measure.words}: {measure.mm:.0f} mm")
    heel, width at its opening: 100 mm
    heel, depth: 51 mm
    heel, width where it is closed: 31 mm
    """
    return None


@heel_form.register
def _pocket(numbers: RoundHeelNumbers, setting: Setting) -> HeelForm:
    """Narrow a tube as the wedge's phases do: each decrease takes two stitches of either half."""
    stitch, course = setting.stitch_mm, setting.course_mm
    half, low = numbers.half * stitch, -(numbers.plain_rounds + numbers.wedge.set_up) * course
    edge = [(half / 2, 0.0), (half / 2, low)]
    for phase in numbers.wedge.phases:
        half -= 2 * phase.rounds * stitch
        low -= phase.rounds * (1 + phase.plain) * course
        edge.append((half / 2, low))
    tip = -numbers.foot_courses * course  # the rounds after the last decrease aren't worked
    edge[-1] = (half / 2, tip)
    parts = [HeelPart("heel", _mirrored(edge)), *_little_gusset(numbers.gusset, setting, 0.0)]
    right = edge[0][0]
    return HeelForm(
        kind=HeelKind.POCKET,
        parts=tuple(parts),
        measures=(
            _across("heel, width at its opening", 2 * right, 0.0, Place.ABOVE),
            HeelMeasure(DEPTH, (right, 0.0), (right, tip), Place.BESIDE),
            _across("heel, width where it is closed", half, tip, Place.BELOW),
        ),
        closed_mm=half,
    )


@heel_form.register
def _flap(numbers: FlapNumbers, setting: Setting) -> HeelForm:
    """Lay out flap, turn and the sole between the gussets, one below the other."""
    stitch, course = setting.stitch_mm, setting.course_mm
    heel, turn = setting.heel * stitch, numbers.turn
    flap, foot = numbers.rows * course, 2 * numbers.gusset * course
    deep = numbers.foot_courses * course
    if setting.is_toe_up:
        # The cup of short rows grows from all the heel's stitches; the flap takes in the gusset.
        bottom, top = heel, (turn.start - 2 * turn.unworked) * stitch
        widest = (setting.heel + 2 * numbers.gusset) * stitch
    else:
        bottom, top = turn.left * stitch, heel
        widest = (turn.left + 2 * numbers.picked_up) * stitch
    below, sole = -deep, -deep - foot
    return HeelForm(
        kind=HeelKind.FLAP,
        parts=(
            HeelPart("flap", _band(heel, flap, heel, 0.0)),
            HeelPart("turn", _band(top, 0.0, bottom, below)),
            HeelPart("gussets and sole", _band(widest, below, heel, sole)),
        ),
        measures=(
            _across("flap, width", heel, flap, Place.ABOVE),
            HeelMeasure("flap, height", (heel / 2, flap), (heel / 2, 0.0), Place.BESIDE),
            HeelMeasure(DEPTH, (heel / 2, 0.0), (heel / 2, below), Place.BESIDE),
            HeelMeasure("gusset, length", (heel / 2, below), (heel / 2, sole), Place.BESIDE),
            _across("sole with gussets, at its widest", widest, below, Place.ACROSS),
            _across("sole, width", heel, sole, Place.BELOW),
        ),
        flap_mm=flap,
        gusset_mm=foot,
    )


@heel_form.register
def _short_rows(numbers: ShortRowHeelNumbers, setting: Setting) -> HeelForm:
    """Lay out the rows in above the rows out: each turn is a stitch earlier, then one later."""
    stitch, course = setting.stitch_mm, setting.course_mm
    wide, narrow = numbers.rows.width * stitch, numbers.rows.middle * stitch
    deep = numbers.foot_courses * course
    return HeelForm(
        kind=HeelKind.SHORT_ROWS,
        parts=(
            HeelPart("back of the heel", _band(wide, deep, narrow, 0.0)),
            HeelPart("under the heel", _band(narrow, 0.0, wide, -deep)),
            *_little_gusset(numbers.gusset, setting, deep),
            *_little_gusset(numbers.gusset, setting, -deep, down=True),
        ),
        measures=(
            _across("heel, width before the turns", wide, deep, Place.ABOVE),
            HeelMeasure(DEPTH, (wide / 2, 0.0), (wide / 2, -deep), Place.BESIDE),
            _across("between the turns", narrow, 0.0, Place.ACROSS),
        ),
        closed_mm=narrow,
    )


def _little_gusset(
    stitches: int, setting: Setting, at: float, *, down: bool = False
) -> list[HeelPart]:
    """Return the gusset before or after a heel: a stitch at each side every other round."""
    if not stitches:
        return []
    narrow = setting.heel * setting.stitch_mm
    wide = narrow + 2 * stitches * setting.stitch_mm
    far = at + (-2 if down else 2) * stitches * setting.course_mm
    upper, lower = ((wide, at), (narrow, far)) if down else ((narrow, far), (wide, at))
    return [HeelPart("gusset", _band(*upper, *lower))]


def _band(upper: float, high: float, lower: float, low: float) -> tuple[Spot, ...]:
    """Return a piece between two level edges of these widths."""
    return _mirrored([(upper / 2, high), (lower / 2, low)])


def _mirrored(edge: Sequence[Spot]) -> tuple[Spot, ...]:
    """Return an outline from its right edge."""
    return (*edge, *((-x, y) for x, y in reversed(edge)))


def _across(words: str, wide: float, y: float, place: Place) -> HeelMeasure:
    return HeelMeasure(words, (-wide / 2, y), (wide / 2, y), place)
