"""The schematic: a sock lying flat, its heel beside it, and its finished measures by size.

Letters stand on the drawing, the measures in a table below it, so that any number of sizes fits.
The drawing is to scale for the first size.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from xml.etree import ElementTree as ET

from loopwright.errors import PictureError
from loopwright.picture._schematic_data import Dimensions, dimensions, lettered
from loopwright.picture._schematic_sock import FILL, Flat, dimension, named, sock_elements
from loopwright.picture.svg import Picture, group, label, number, polygon, text_width
from loopwright.sock.heels import HeelMeasure, HeelOutline, HeelPart, MeasureLine, Spot

__all__ = ["Dimensions", "dimensions", "lettered", "schematic", "schematic_parts"]

_MM_PER = {"cm": 10.0, "in": 25.4}  # the inch exact by the international definition (1959)
_TEXT = 11.0  # px, of the table
_TITLE = 26.0  # px above the drawings


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
    several = _by_name(sizes)
    if not units or set(units) - set(_MM_PER):
        raise PictureError("schematic", f"units are {units!r}", "give ('cm',), ('in',) or both")
    sock, *heel = schematic_parts(several)
    high = _TITLE + max(sock.height, *(one.height for one in heel), 0.0)
    drawing, width = [], 0.0
    for one in (sock, *heel):  # on one base line
        to = f"translate({number(width)} {number(high - one.height)})"
        drawing.append(group(one.body, transform=to))
        width += one.width
    table, wide, low = _table(several, high + 14, units)
    words = f"{title}: schematic"
    return Picture(
        max(width, wide, text_width(title, 13) + 16), low + 6, words, _description(several, units),
        (label(8, 18, words, size=13, font_weight="bold"), *drawing, *table),
    )  # fmt: skip


def schematic_parts(sizes: Dimensions | Mapping[str, Dimensions]) -> tuple[Picture, ...]:
    """Return the drawings alone, to scale for the first size: the sock, and its heel if known.

    Parameters
    ----------
    sizes : Dimensions, or mapping of str to Dimensions
        All sizes have the letters that `lettered` gives them together.

    Raises
    ------
    PictureError
        There is no size.
    """
    several = _by_name(sizes)
    flat = Flat.of(next(iter(several.values())))
    said = "A sock lying flat, the toe to the left, the cuff at the top."
    found = [Picture(flat.width, flat.height, "Sock", said, tuple(sock_elements(flat)))]
    if flat.size.heel is not None:
        letters = {measure.words: measure.letter for measure in lettered(several)}
        found.append(_heel(flat.size.heel, flat.scale, letters))
    return tuple(found)


def _by_name(sizes: Dimensions | Mapping[str, Dimensions]) -> dict[str, Dimensions]:
    several = {"": sizes} if isinstance(sizes, Dimensions) else dict(sizes)
    if not several:
        raise PictureError("schematic", "there is no size", "give one or more")
    return several


def _heel(form: HeelOutline, scale: float, letters: Mapping[str, str]) -> Picture:
    """Draw the heel's own outline, the leg's end at the top."""
    spots = [spot for part in form.parts for spot in part.outline]
    right, top = max(x for x, _ in spots), max(y for _, y in spots)
    bottom = min(y for _, y in spots)
    title = form.title
    half = max(right * scale + 12, text_width(title, 11) / 2)
    middle, above = half + 8, 52.0

    def at(spot: Spot) -> Spot:
        return middle + spot[0] * scale, above + (top - spot[1]) * scale

    body = [label(middle, 16, title, size=11, anchor="middle", font_style="italic")]
    for part in form.parts:
        corners = [at(spot) for spot in part.outline]
        body.append(
            polygon(
                corners,
                fill=FILL,
                stroke="#1a1a1a",
                stroke_width=1.2,
                stroke_linejoin="round",
                class_="heel-part",
                data_name=part.name,
            )
        )
    body += [named(*at((0.0, _name_height(part, scale))), part.name) for part in form.parts]
    for measure in form.measures:
        body.append(_measured(measure, letters[measure.words], at, (right, top, bottom)))
    words = "; ".join(part.name for part in form.parts)
    return Picture(
        middle + half + 26, above + (top - bottom) * scale + 34, title,
        f"{title}: {words}, the leg's end at the top.", tuple(body),
    )  # fmt: skip


def _name_height(part: HeelPart, scale: float) -> float:
    """Return where a part's name stands: in its middle, or nearer its wide end if that is tight."""
    ys = [y for _, y in part.outline]
    low, high = min(ys), max(ys)
    ends = {end: max(abs(x) for x, y in part.outline if y == end) for end in (low, high)}
    if (ends[low] + ends[high]) * scale > text_width(part.name, 11.5) + 8:
        return (low + high) / 2
    wide = max(ends, key=ends.__getitem__)
    inward = min((high - low) / 2, max(11 / scale, 0.25 * (high - low)))
    return wide + inward if wide == low else wide - inward


def _measured(
    measure: HeelMeasure,
    letter: str,
    at: Callable[[Spot], Spot],
    reach: tuple[float, float, float],
) -> ET.Element:
    """Draw a measure outside whatever reaches farthest right, up or down, or where parts meet."""
    (x1, y1), (x2, y2) = sorted((at(measure.start), at(measure.stop)))
    right, top, bottom = reach
    dx = dy = 0.0
    if measure.line is MeasureLine.BESIDE:
        dx = at((right, 0.0))[0] + 20 - x1
    elif measure.line is MeasureLine.ABOVE:
        dy = at((0.0, top))[1] - 16 - y1
    elif measure.line is MeasureLine.BELOW:
        dy = at((0.0, bottom))[1] + 18 - y1
    return dimension(letter, x1, y1, x2, y2, dx, dy)


def _said(mm: float, units: Sequence[str]) -> str:
    return ", ".join(f"{mm / _MM_PER[unit]:.1f} {unit}" for unit in units)


def _description(several: Mapping[str, Dimensions], units: Sequence[str]) -> str:
    said = ["A sock lying flat, the toe to the left, the cuff at the top."]
    for name in several:
        parts = [
            f"{measure.words} {_said(measure.mm[name], units)}"
            for measure in lettered(several)
            if name in measure.mm
        ]
        said.append((f"Size {name}: " if name else "") + "; ".join(parts) + ".")
    return " ".join(said)


def _table(
    several: Mapping[str, Dimensions], top: float, units: Sequence[str]
) -> tuple[list[ET.Element], float, float]:
    """Return the table of measures, how far it reaches to the right, and down."""
    rows = lettered(several)
    start = 40 + max(text_width(row.words, _TEXT) for row in rows)
    room = max(text_width(_said(mm, units), _TEXT) for row in rows for mm in row.mm.values())
    each = max(room, *(text_width(name, _TEXT) for name in several)) + 14
    found = []
    if any(several):
        found.append(label(30, top, "size", size=_TEXT, font_style="italic"))
        found += [
            label(start + at * each, top, name, size=_TEXT, font_weight="bold", class_="size")
            for at, name in enumerate(several)
        ]
    y = top + (18 if any(several) else 0)
    for row in rows:
        found += [
            label(12, y, row.letter, size=_TEXT, font_weight="bold"),
            label(30, y, row.words, size=_TEXT),
            *(
                label(start + at * each, y, _said(row.mm[name], units) if name in row.mm else
                      "none", size=_TEXT, class_="measure", data_letter=row.letter, data_size=name)
                for at, name in enumerate(several)
            ),
        ]  # fmt: skip
        y += 18
    return found, start + each * len(several) + 4, y - 8
