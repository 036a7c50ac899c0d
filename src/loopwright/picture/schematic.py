"""The schematic: a sock lying flat, with its finished measures by size.

Letters stand on the drawing, the measures in a table below it, so that any number of sizes fits.
The drawing is to scale for the first size.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from xml.etree import ElementTree as ET

import attrs

from loopwright.errors import PictureError
from loopwright.picture.svg import (
    Picture,
    arrow_head,
    group,
    label,
    line,
    number,
    path,
    text_width,
)
from loopwright.sock.plan import Plan

__all__ = ["Dimensions", "dimensions", "schematic"]

_MM_PER = {"cm": 10.0, "in": 25.4}  # the inch exact by the international definition (1959)
_LONGEST = 300.0  # px: the drawing's longer side


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
    """

    cuff_width_mm: float
    foot_width_mm: float
    cuff_height_mm: float
    leg_height_mm: float
    foot_length_mm: float
    toe_length_mm: float = 0.0
    heel_depth_mm: float = 0.0

    def __attrs_post_init__(self) -> None:
        for field in attrs.fields(Dimensions):
            value = getattr(self, field.name)
            if not 0 <= value < 5000:
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
    ("G", "heel, depth", lambda d: d.heel_depth_mm),
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
    )


def schematic(
    sizes: Dimensions | Mapping[str, Dimensions],
    *,
    title: str = "Sock",
    units: Sequence[str] = ("cm", "in"),
) -> Picture:
    """Return the schematic of one size, or of several by name, smallest first.

    Parameters
    ----------
    sizes : Dimensions, or mapping of str to Dimensions
    title : str
    units : sequence of str
        In which the measures are given: ``"cm"``, ``"in"`` or both.

    Raises
    ------
    PictureError
        There is no size, or no such unit.

    Examples
    --------
    >>> one = Dimensions(cuff_width_mm=100, foot_width_mm=100, cuff_height_mm=40,
    ...                  leg_height_mm=180, foot_length_mm=240, toe_length_mm=45)
    >>> "24.0 cm" in schematic(one).svg()
    True
    """
    named = {"": sizes} if isinstance(sizes, Dimensions) else dict(sizes)
    if not named:
        raise PictureError("schematic", "there is no size", "give one or more")
    if isinstance(units, str) or not units or set(units) - set(_MM_PER):
        raise PictureError("schematic", f"units are {units!r}", "give ('cm',), ('in',) or both")
    first = next(iter(named.values()))
    flat = _Flat.of(first)
    drawing = [*_outline(flat), *_measures(flat)]
    table, wide, high = _table(named, flat.bottom + 66, units)
    width = max(flat.right + 60, wide, text_width(title, 12) + 16)
    words = f"{title}: schematic"
    return Picture(
        width, high + 6, words, _description(named, units),
        (label(8, 17, words, size=12, font_weight="bold"), *drawing, *table),
    )  # fmt: skip


def _said(mm: float, units: Sequence[str]) -> str:
    return ", ".join(f"{mm / _MM_PER[unit]:.1f} {unit}" for unit in units)


def _description(named: Mapping[str, Dimensions], units: Sequence[str]) -> str:
    said = ["A sock lying flat, the toe to the left, the cuff at the top."]
    for name, one in named.items():
        parts = [f"{words} {_said(of(one), units)}" for _, words, of in _ROWS if of(one)]
        said.append((f"Size {name}: " if name else "") + "; ".join(parts) + ".")
    return " ".join(said)


@attrs.frozen
class _Flat:
    """Where the sock lies on the sheet; y goes up from the sole in the sock, down on the sheet."""

    size: Dimensions
    scale: float
    left: float
    bottom: float

    @classmethod
    def of(cls, size: Dimensions) -> _Flat:
        high = max(size.leg_height_mm, size.foot_width_mm * 1.15 + size.cuff_height_mm)
        scale = _LONGEST / max(high, size.foot_length_mm)
        return cls(size, scale, 40.0, 66.0 + high * scale)

    def at(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        """Return a place: mm from the toe's tip to the right, and up from the sole."""
        return self.left + x_mm * self.scale, self.bottom - y_mm * self.scale

    @property
    def top_mm(self) -> float:
        return (self.bottom - 66.0) / self.scale

    @property
    def right(self) -> float:
        return self.at(self.size.foot_length_mm, 0)[0]

    @property
    def leg_front_mm(self) -> tuple[float, float]:
        """Where the front of the leg is: at the ankle, at the top."""
        length = self.size.foot_length_mm
        wide = self.size.foot_width_mm
        ankle = max(length - wide, self.size.toe_length_mm)
        return ankle, length - self.size.cuff_width_mm


def _outline(flat: _Flat) -> list[ET.Element]:
    size = flat.size
    length, wide, toe = size.foot_length_mm, size.foot_width_mm, size.toe_length_mm
    ankle, top_front = flat.leg_front_mm
    top, tip, bend = flat.top_mm, wide * 0.17, wide * 0.3

    def p(x: float, y: float) -> str:
        return " ".join(map(number, flat.at(x, y)))

    d = (
        f"M{p(length, top)}L{p(length, bend)}Q{p(length, 0)} {p(length - bend, 0)}L{p(toe, 0)}"
        f"L{p(tip * 0.4, wide / 2 - tip)}Q{p(-tip * 0.25, wide / 2)} "
        f"{p(tip * 0.4, wide / 2 + tip)}L{p(toe, wide)}L{p(ankle - bend * 0.5, wide)}"
        f"Q{p(ankle, wide)} {p(ankle, wide + bend * 0.5)}L{p(top_front, top)}Z"
    )
    cuff = top - size.cuff_height_mm
    share = (top - cuff) / max(top - wide, 1e-9)
    cuff_front = top_front + (ankle - top_front) * min(share, 1.0)
    parts = [path(d, fill="#f4f1ea", stroke_width=1.6, stroke_linejoin="round", class_="outline")]
    if size.cuff_height_mm:
        parts.append(_part(flat, (cuff_front, cuff), (length, cuff)))
        parts += _ribs(flat, cuff_front, top_front, cuff, top)
    if toe:
        parts.append(_part(flat, (toe, 0), (toe, wide)))
    if size.heel_depth_mm:
        depth = size.heel_depth_mm
        parts.append(_part(flat, (max(length - depth, toe), 0), (ankle + (length - ankle) * 0.45,
                                                               wide * 0.62)))  # fmt: skip
        parts.append(_part(flat, (ankle + (length - ankle) * 0.45, wide * 0.62), (length, wide)))
    for words, x, y in (
        ("cuff", (cuff_front + length) / 2, (cuff + top) / 2)
        if size.cuff_height_mm
        else ("", 0, 0),
        ("leg", (ankle + length) / 2, (cuff + wide) / 2),
        ("foot", (toe + ankle) * 0.42, wide * 0.5),
        ("toe", toe * 0.5, wide * 0.5) if toe else ("", 0, 0),
        ("heel", length - (length - ankle) * 0.24, wide * 0.33),
    ):
        if words:
            px, py = flat.at(x, y)
            backed = {"stroke": "#f4f1ea", "stroke_width": 4, "paint_order": "stroke"}
            parts.append(label(px, py + 3, words, size=10, anchor="middle", font_style="italic",
                               **backed))  # fmt: skip
    return [group(parts, class_="sock")]


def _part(flat: _Flat, start: tuple[float, float], stop: tuple[float, float]) -> ET.Element:
    return line(*flat.at(*start), *flat.at(*stop), stroke_dasharray="4 3", stroke_width=0.9,
                class_="part")  # fmt: skip


def _ribs(
    flat: _Flat, low_front: float, top_front: float, low: float, top: float
) -> list[ET.Element]:
    length, ribs = flat.size.foot_length_mm, 9
    found = []
    for at in range(1, ribs):
        share = at / ribs
        x1 = low_front + (length - low_front) * share
        x2 = top_front + (length - top_front) * share
        found.append(line(*flat.at(x1, low), *flat.at(x2, top), stroke="#b9b4aa", stroke_width=1.4))
    return found


def _measures(flat: _Flat) -> list[ET.Element]:
    """Draw a line with a letter for each measure, all outside the drawing but the foot's width."""
    size = flat.size
    length, top = size.foot_length_mm, flat.top_mm
    front = flat.leg_front_mm[1]
    x, y = flat.at(length, 0)
    found = [_dimension("A", *flat.at(front, top), *flat.at(length, top), 0, -16)]
    if size.cuff_height_mm:
        low = top - size.cuff_height_mm
        edge = min(front, flat.leg_front_mm[0])
        found.append(_dimension("B", *flat.at(edge, top), *flat.at(edge, low), -16, 0))
    found.append(_dimension("C", *flat.at(length, top), x, y, 22, 0))
    middle = size.toe_length_mm + (flat.leg_front_mm[0] - size.toe_length_mm) * 0.72
    found.append(_dimension("D", *flat.at(middle, size.foot_width_mm), *flat.at(middle, 0), 0, 0))
    found.append(_dimension("E", *flat.at(0, 0), x, y, 0, 38))
    if size.toe_length_mm:
        found.append(_dimension("F", *flat.at(0, 0), *flat.at(size.toe_length_mm, 0), 0, 18))
    if size.heel_depth_mm:
        inner = max(length - size.heel_depth_mm, size.toe_length_mm)
        found.append(_dimension("G", *flat.at(inner, 0), x, y, 0, 18))
    return found


def _dimension(
    letter: str, x1: float, y1: float, x2: float, y2: float, dx: float, dy: float
) -> ET.Element:
    """Draw a measuring line, moved by (dx, dy), with its letter in the middle."""
    helpers = [
        line(x, y, x + dx * 1.2, y + dy * 1.2, stroke="#8a8a8a", stroke_width=0.5)
        for x, y in ((x1, y1), (x2, y2))
        if dx or dy
    ]
    x1, y1, x2, y2 = x1 + dx, y1 + dy, x2 + dx, y2 + dy
    far = max(abs(x2 - x1), abs(y2 - y1), 1e-9)
    ux, uy = (x2 - x1) / far, (y2 - y1) / far
    heads = [
        arrow_head(x, y, s * ux, s * uy, long=6, half=2.4)
        for x, y, s in ((x1, y1, -1), (x2, y2, 1))
    ]
    words = label((x1 + x2) / 2, (y1 + y2) / 2 + 3.6, letter, size=10.5, anchor="middle",
                  font_weight="bold", stroke="#ffffff", stroke_width=6,
                  paint_order="stroke")  # fmt: skip
    return group(
        (*helpers, line(x1, y1, x2, y2, stroke_width=0.9), *heads, words),
        class_="dimension", data_letter=letter,
    )  # fmt: skip


def _table(
    named: Mapping[str, Dimensions], top: float, units: Sequence[str]
) -> tuple[list[ET.Element], float, float]:
    """Return the table of measures, how far it reaches to the right, and down."""
    rows = [(letter, words, of) for letter, words, of in _ROWS if any(map(of, named.values()))]
    start = 34 + max(text_width(words, 9) for _, words, _ in rows)
    each = max(118.0, *(text_width(name, 9) + 14 for name in named))
    found = []
    if any(named):
        found.append(label(28, top, "size", size=9, font_style="italic"))
        found += [
            label(start + at * each, top, name, size=9, font_weight="bold", class_="size")
            for at, name in enumerate(named)
        ]
    y = top + (16 if any(named) else 0)
    for letter, words, of in rows:
        found += [
            label(12, y, letter, size=9, font_weight="bold"),
            label(28, y, words, size=9),
            *(
                label(start + at * each, y, _said(of(one), units) if of(one) else "none", size=9,
                      class_="measure", data_letter=letter, data_size=name)
                for at, (name, one) in enumerate(named.items())
            ),
        ]  # fmt: skip
        y += 15
    return found, start + each * len(named) + 4, y - 6
