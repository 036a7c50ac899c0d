"""The drawing of a sock that lies flat, to scale: outline, the heel's lines and the measures."""

from __future__ import annotations

from typing import TypeAlias
from xml.etree import ElementTree as ET

import attrs

from loopwright.picture._schematic_data import Dimensions
from loopwright.picture.svg import (
    PAPER,
    arrow_head,
    group,
    label,
    line,
    number,
    path,
    rect,
    text_width,
)
from loopwright.sock.heels import HeelOutline, Spot

__all__ = ["FILL", "Flat", "dimension", "named", "sock_elements"]

FILL = "#f4f1ea"
_LONGEST = 300.0  # px: the drawing's longer side
_TOP = 34.0  # px above the drawing: the cuff's measure
_BEND = 0.3  # of the foot's width: how round the heel and the ankle are drawn
_BELOW = 52.0  # px below it: the measures along the sole

_Seam: TypeAlias = tuple[Spot, Spot]
_Name: TypeAlias = tuple[str, float, float]


@attrs.frozen
class Flat:
    """Where the sock lies on the sheet; y goes up from the sole in the sock, down on the sheet."""

    size: Dimensions
    scale: float
    left: float
    bottom: float

    @classmethod
    def of(cls, size: Dimensions) -> Flat:
        """Return the sheet for a size: as large as its longer side allows."""
        high = max(size.leg_height_mm, size.foot_width_mm * 1.15 + size.cuff_height_mm)
        scale = _LONGEST / max(high, size.foot_length_mm)
        return cls(size, scale, 40.0, _TOP + high * scale)

    def at(self, x_mm: float, y_mm: float) -> Spot:
        """Return a place: mm from the toe's tip to the right, and up from the sole."""
        return self.left + x_mm * self.scale, self.bottom - y_mm * self.scale

    @property
    def top_mm(self) -> float:
        """Height of the drawing."""
        return (self.bottom - _TOP) / self.scale

    @property
    def right(self) -> float:
        """The back of the heel, px."""
        return self.at(self.size.foot_length_mm, 0)[0]

    @property
    def width(self) -> float:
        """Of the sheet, px."""
        return self.right + 40

    @property
    def height(self) -> float:
        """Of the sheet, px."""
        return self.bottom + _BELOW

    @property
    def leg_front_mm(self) -> tuple[float, float]:
        """Where the front of the leg is: at the ankle, at the top."""
        length = self.size.foot_length_mm
        wide = self.size.foot_width_mm
        ankle = max(length - wide, self.size.toe_length_mm)
        return ankle, length - self.size.cuff_width_mm


def sock_elements(flat: Flat) -> list[ET.Element]:
    """Return the sock and the measuring lines round it."""
    return [_sock(flat), *_measures(flat)]


def named(x: float, y: float, words: str) -> ET.Element:
    """Return the name of a part, legible on top of lines.

    A ground of its own keeps the lines off. A seam of paper round the letters would not do: what
    sets a PDF paints letter by letter, and each seam eats the letter before it.
    """
    wide = 0.85 * text_width(words, 11.5)
    ground = rect(x - wide / 2 - 2, y - 6.5, wide + 4, 14, fill=FILL)
    name = label(x, y + 4, words, size=11.5, anchor="middle", font_style="italic")
    return group((ground, name), class_="part-name")


def _sock(flat: Flat) -> ET.Element:
    size = flat.size
    length, wide, toe = size.foot_length_mm, size.foot_width_mm, size.toe_length_mm
    ankle, top_front = flat.leg_front_mm
    top, cuff = flat.top_mm, flat.top_mm - size.cuff_height_mm
    share = (top - cuff) / max(top - wide, 1e-9)
    cuff_front = top_front + (ankle - top_front) * min(share, 1.0)
    parts = [path(_outline(flat), fill=FILL, stroke_width=1.6, stroke_linejoin="round",
                  class_="outline")]  # fmt: skip
    names: list[_Name] = [
        ("leg", (ankle + length) / 2, (cuff + wide) / 2),
        ("foot", (toe + ankle) * 0.42, wide * 0.5),
    ]
    if size.cuff_height_mm:
        parts.append(_part(flat, (cuff_front, cuff), (length, cuff)))
        parts += _ribs(flat, cuff_front, top_front, cuff, top)
        names.append(("cuff", (cuff_front + length) / 2, (cuff + top) / 2))
    if toe:
        parts.append(_part(flat, (toe, 0), (toe, wide)))
        names.append(("toe", toe * 0.5, wide * 0.5))
    if size.heel_depth_mm:
        seams, of_heel = _heel(flat)
        parts += [_part(flat, *seam) for seam in seams]
        names += of_heel
    parts += [named(*flat.at(x, y), words) for words, x, y in names]
    return group(parts, class_="sock")


def _outline(flat: Flat) -> str:
    size = flat.size
    length, wide, toe = size.foot_length_mm, size.foot_width_mm, size.toe_length_mm
    ankle, top_front = flat.leg_front_mm
    top, tip, bend = flat.top_mm, wide * 0.17, wide * _BEND

    def p(x: float, y: float) -> str:
        return " ".join(map(number, flat.at(x, y)))

    return (
        f"M{p(length, top)}L{p(length, bend)}Q{p(length, 0)} {p(length - bend, 0)}L{p(toe, 0)}"
        f"L{p(tip * 0.4, wide / 2 - tip)}Q{p(-tip * 0.25, wide / 2)} "
        f"{p(tip * 0.4, wide / 2 + tip)}L{p(toe, wide)}L{p(ankle - bend * 0.5, wide)}"
        f"Q{p(ankle, wide)} {p(ankle, wide + bend * 0.5)}L{p(top_front, top)}Z"
    )


def _heel(flat: Flat) -> tuple[list[_Seam], list[_Name]]:
    """Return the lines of the heel as one side shows them, and the names of its parts."""
    size = flat.size
    form = size.heel
    if form is not None and form.flap_mm:
        return _flap_heel(flat, form)
    if form is None or not form.closed_mm:
        return _any_heel(flat), [("heel", *_behind(flat))]
    length, half = size.foot_length_mm, size.foot_width_mm / 2
    depth = max(length - size.heel_depth_mm, size.toe_length_mm)
    # Opening and foot meet where half the foot's width is as high as the heel is deep, or between.
    corner = min((length - depth + half) / 2, 1.5 * half)
    at = (length - corner, corner)
    # One side shows half of what is closed, or of the stitches between the turns, round the back.
    end = size.foot_width_mm * _BEND / 4
    shown = min(form.closed_mm / 2 * 0.71 + end, 0.8 * corner)
    seams = [
        ((depth, 0.0), at),
        (at, (length, size.heel_depth_mm)),
        (at, (length - shown, shown)),
    ]
    if form.is_closed:
        seams.append(((length - shown, shown), (length - end, end)))
    return seams, [("heel", length - corner * 0.62, corner * 0.3)]


def _flap_heel(flat: Flat, form: HeelOutline) -> tuple[list[_Seam], list[_Name]]:
    """Return a flap at the back, the turn under it, and the gusset between flap and instep."""
    size = flat.size
    length, half = size.foot_length_mm, size.foot_width_mm / 2
    top = min(form.flap_mm, flat.top_mm - size.cuff_height_mm)
    front, under = length - half, length - size.heel_depth_mm
    tip = max(under - form.gusset_mm, size.toe_length_mm)
    upper, lower, end = (front, top), (under, 0.0), (tip, half)
    names: list[_Name] = [
        ("flap", length - half * 0.5, top * 0.62),
        ("gusset", (front + under + tip) / 3, (top + half) / 3),
    ]
    return [((length, top), upper), (upper, lower), (upper, end), (lower, end)], names


def _any_heel(flat: Flat) -> list[_Seam]:
    size = flat.size
    length, wide = size.foot_length_mm, size.foot_width_mm
    ankle = flat.leg_front_mm[0]
    corner = (ankle + (length - ankle) * 0.45, wide * 0.62)
    sole = max(length - size.heel_depth_mm, size.toe_length_mm)
    return [((sole, 0.0), corner), (corner, (length, wide))]


def _behind(flat: Flat) -> Spot:
    length, wide = flat.size.foot_length_mm, flat.size.foot_width_mm
    return length - (length - flat.leg_front_mm[0]) * 0.24, wide * 0.33


def _part(flat: Flat, start: tuple[float, float], stop: tuple[float, float]) -> ET.Element:
    return line(*flat.at(*start), *flat.at(*stop), stroke_dasharray="4 3", stroke_width=0.9,
                class_="part")  # fmt: skip


def _ribs(
    flat: Flat, low_front: float, top_front: float, low: float, top: float
) -> list[ET.Element]:
    length, ribs = flat.size.foot_length_mm, 9
    found = []
    for at in range(1, ribs):
        share = at / ribs
        x1 = low_front + (length - low_front) * share
        x2 = top_front + (length - top_front) * share
        found.append(line(*flat.at(x1, low), *flat.at(x2, top), stroke="#b9b4aa", stroke_width=1.4))
    return found


def _measures(flat: Flat) -> list[ET.Element]:
    """Draw a line with a letter for each measure, all outside the drawing but the foot's width."""
    size = flat.size
    length, top = size.foot_length_mm, flat.top_mm
    front = flat.leg_front_mm[1]
    x, y = flat.at(length, 0)
    found = [dimension("A", *flat.at(front, top), *flat.at(length, top), 0, -16)]
    if size.cuff_height_mm:
        low = top - size.cuff_height_mm
        edge = min(front, flat.leg_front_mm[0])
        found.append(dimension("B", *flat.at(edge, top), *flat.at(edge, low), -16, 0))
    found.append(dimension("C", *flat.at(length, top), x, y, 22, 0))
    middle = size.toe_length_mm + (flat.leg_front_mm[0] - size.toe_length_mm) * 0.72
    found.append(dimension("D", *flat.at(middle, size.foot_width_mm), *flat.at(middle, 0), 0, 0))
    found.append(dimension("E", *flat.at(0, 0), x, y, 0, 38))
    if size.toe_length_mm:
        found.append(dimension("F", *flat.at(0, 0), *flat.at(size.toe_length_mm, 0), 0, 18))
    if size.heel_depth_mm:
        inner = max(length - size.heel_depth_mm, size.toe_length_mm)
        found.append(dimension("G", *flat.at(inner, 0), x, y, 0, 18))
    return found


def dimension(
    letter: str, x1: float, y1: float, x2: float, y2: float, dx: float, dy: float
) -> ET.Element:
    """Draw a measuring line, moved by (dx, dy), with its letter in the middle."""
    helpers = [
        line(x, y, x + _past(dx), y + _past(dy), stroke="#8a8a8a", stroke_width=0.5)
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
    ground = PAPER if dx or dy else FILL  # outside the sock, or across it
    words = label((x1 + x2) / 2, (y1 + y2) / 2 + 4.6, letter, size=13, anchor="middle",
                  font_weight="bold", stroke=ground, stroke_width=7,
                  paint_order="stroke")  # fmt: skip
    return group(
        (*helpers, line(x1, y1, x2, y2, stroke_width=0.9), *heads, words),
        class_="dimension", data_letter=letter,
    )  # fmt: skip


def _past(far: float) -> float:
    """Return how far a helper line goes: 3 px past the measuring line."""
    return far + (3 if far > 0 else -3 if far < 0 else 0)
