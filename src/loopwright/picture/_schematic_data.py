"""The finished measures of a sock lying flat, and the letters that stand for them."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import attrs

from loopwright.errors import PictureError
from loopwright.sock import Plan
from loopwright.sock.heels import DEPTH, HeelOutline

__all__ = ["Dimensions", "Lettered", "dimensions", "lettered"]


@attrs.frozen(kw_only=True)
class Dimensions:
    """Finished measures of a sock lying flat, relaxed, all in mm; 0 where there is none.

    Parameters
    ----------
    cuff_width_mm, foot_width_mm : float, mm
        Half of the girth.
    cuff_height_mm, leg_height_mm : float, mm
        The leg's from the sole to the top, cuff included.
    foot_length_mm, toe_length_mm, heel_depth_mm : float, mm
        The foot's from the back of the heel to the tip of the toe.
    heel : HeelOutline, optional
        The heel's own outline.
    """

    cuff_width_mm: float
    foot_width_mm: float
    cuff_height_mm: float
    leg_height_mm: float
    foot_length_mm: float
    toe_length_mm: float = 0.0
    heel_depth_mm: float = 0.0
    heel: HeelOutline | None = None

    def __attrs_post_init__(self) -> None:
        for field in attrs.fields(Dimensions):
            value = getattr(self, field.name)
            if field.name.endswith("_mm") and not 0 <= value < 5000:
                raise PictureError("schematic", f"{field.name} is {value}", "expected 0 to 5000 mm")
        for name in ("foot_width_mm", "foot_length_mm", "leg_height_mm", "cuff_width_mm"):
            if not getattr(self, name):
                raise PictureError("schematic", f"{name} is 0", "give a length above 0")


_ROWS: tuple[tuple[str, str, Callable[[Dimensions], float]], ...] = (
    ("A", "cuff, width lying flat", lambda d: d.cuff_width_mm),
    ("B", "cuff, height", lambda d: d.cuff_height_mm),
    ("C", "leg, height from the sole", lambda d: d.leg_height_mm),
    ("D", "foot, width lying flat", lambda d: d.foot_width_mm),
    ("E", "foot, length with heel and toe", lambda d: d.foot_length_mm),
    ("F", "toe, length", lambda d: d.toe_length_mm),
    ("G", DEPTH, lambda d: d.heel_depth_mm),
)


def dimensions(plan: Plan) -> Dimensions:
    """Return the measures of a planned sock lying flat."""
    course = plan.gauge.course_height_mm
    return Dimensions(
        cuff_width_mm=plan.measure("cuff girth").finished.mm / 2,
        foot_width_mm=plan.measure("foot girth").finished.mm / 2,
        cuff_height_mm=plan.measure("cuff height").finished.mm,
        leg_height_mm=plan.measure("leg height").finished.mm,
        foot_length_mm=plan.measure("foot length").finished.mm,
        toe_length_mm=plan.toe.courses * course,
        heel_depth_mm=plan.heel.foot_courses * course,
        heel=plan.outline,
    )


@attrs.frozen
class Lettered:
    """A measure of one or several sizes.

    Parameters
    ----------
    letter, words : str
    mm : dict of str to float, mm
        By size; those that a size lacks are left out.
    """

    letter: str
    words: str
    mm: dict[str, float]


def lettered(named: Mapping[str, Dimensions]) -> tuple[Lettered, ...]:
    """Return all measures that any of the sizes has, each with its letter.

    Parameters
    ----------
    named : mapping of str to Dimensions

    Examples
    --------
    >>> import loopwright as lw
    >>> from loopwright.picture import dimensions, lettered
    >>> plan = lw.Sock(foot=lw.Foot.of(length="24 cm"), gauge=lw.Gauge.of(32, 44)).plan()
    >>> lettered({"": dimensions(plan)})[0].words
    'cuff, width lying flat'
    """
    found = [
        Lettered(letter, words, {name: of(one) for name, one in named.items() if of(one)})
        for letter, words, of in _ROWS
    ]
    of_heels: dict[str, dict[str, float]] = {}
    for name, one in named.items():
        for measure in one.heel.measures if one.heel else ():
            if measure.words != DEPTH:
                of_heels.setdefault(measure.words, {})[name] = measure.mm
    first = ord(_ROWS[-1][0]) + 1
    found += [
        Lettered(chr(letter), words, mm)
        for letter, (words, mm) in enumerate(of_heels.items(), start=first)
    ]
    return tuple(measure for measure in found if measure.mm)
