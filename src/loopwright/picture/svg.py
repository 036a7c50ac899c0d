"""Pictures as SVG: a few shapes, text, and the sheet that they lie on.

Elements are plain `xml.etree` elements, so escaping is the library's. Every picture carries a
title and a description for those who hear it read. Widths of text are estimated and never relied
on for meaning; symbols are paths, so that no font can change them.
"""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree import ElementTree as ET

import attrs

from loopwright.border import guard
from loopwright.extras import from_extra

__all__ = [
    "FONT",
    "GREY",
    "INK",
    "PAPER",
    "Picture",
    "arrow_head",
    "circle",
    "group",
    "label",
    "line",
    "number",
    "path",
    "polygon",
    "rect",
    "side_by_side",
    "stacked",
    "text_width",
    "thread",
]

INK = "#1a1a1a"
GREY = "#8a8a8a"
PAPER = "#ffffff"
FONT = "DejaVu Sans, Verdana, Arial, sans-serif"
_EM_WIDTH = 0.6  # mean advance of a letter, in ems; wide sans-serif faces reach 0.6


def number(value: float) -> str:
    """Return a coordinate as short as two decimals allow.

    Examples
    --------
    >>> number(3.0), number(2 / 3), number(-0.001)
    ('3', '0.67', '0')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _element(tag: str, children: Iterable[ET.Element], given: dict[str, object]) -> ET.Element:
    attributes = {
        name.rstrip("_").replace("_", "-"): number(value)
        if isinstance(value, float)
        else str(value)
        for name, value in given.items()
        if value is not None
    }
    element = ET.Element(tag, attributes)
    element.extend(children)
    return element


def group(children: Iterable[ET.Element], **attributes: object) -> ET.Element:
    """Return elements held together."""
    return _element("g", children, attributes)


def line(x1: float, y1: float, x2: float, y2: float, **attributes: object) -> ET.Element:
    """Return a straight line, in ink unless another colour is given."""
    given = {"x1": float(x1), "y1": float(y1), "x2": float(x2), "y2": float(y2), "stroke": INK}
    return _element("line", (), {**given, **attributes})


def rect(x: float, y: float, width: float, height: float, **attributes: object) -> ET.Element:
    """Return a rectangle without filling."""
    given = {
        "x": float(x), "y": float(y), "width": float(width), "height": float(height),
        "fill": "none",
    }  # fmt: skip
    return _element("rect", (), {**given, **attributes})


def circle(x: float, y: float, radius: float, **attributes: object) -> ET.Element:
    """Return a circle without filling."""
    given = {"cx": float(x), "cy": float(y), "r": float(radius), "fill": "none"}
    return _element("circle", (), {**given, **attributes})


def path(d: str, **attributes: object) -> ET.Element:
    """Return a path without filling, in ink unless another colour is given."""
    return _element("path", (), {"d": d, "fill": "none", "stroke": INK, **attributes})


def thread(
    d: str, colour: str, width: float, *, outline: str = "", **attributes: object
) -> ET.Element:
    """Return a path in a yarn's colour; with an outline it shows on paper of any colour.

    Examples
    --------
    >>> thread("M0 0L9 0", "#f4e9cf", 1.4).tag
    'path'
    >>> [part.get("stroke-width") for part in thread("M0 0L9 0", "#f4e9cf", 1.4, outline=INK)]
    ['2.6', '1.4']
    """
    drawn = path(d, **{"stroke": colour, "stroke_width": width, **attributes})
    if not outline:
        return drawn
    cap = attributes.get("stroke_linecap")
    return group((path(d, stroke=outline, stroke_width=width + 1.2, stroke_linecap=cap), drawn))


def polygon(points: Iterable[tuple[float, float]], **attributes: object) -> ET.Element:
    """Return a closed polygon."""
    places = " ".join(f"{number(x)},{number(y)}" for x, y in points)
    return _element("polygon", (), {"points": places, "fill": "none", **attributes})


def arrow_head(x: float, y: float, ux: float, uy: float, *, long: float, half: float) -> ET.Element:
    """Return the head of an arrow whose tip is at (x, y), pointing along (ux, uy) of length 1."""
    bx, by = x - long * ux, y - long * uy
    return polygon(
        ((x, y), (bx - half * uy, by + half * ux), (bx + half * uy, by - half * ux)), fill=INK
    )


def label(
    x: float, y: float, words: str, *, size: float = 9, anchor: str = "start", **attributes: object
) -> ET.Element:
    """Return text; `anchor` is ``"start"``, ``"middle"`` or ``"end"``."""
    given = {"x": float(x), "y": float(y), "font-size": float(size), "fill": INK}
    if anchor != "start":
        given["text-anchor"] = anchor
    element = _element("text", (), {**given, **attributes})
    element.text = words
    return element


def text_width(words: str, size: float) -> float:
    """Return about how wide text comes out, rather too wide than too narrow."""
    return len(words) * size * _EM_WIDTH


@attrs.frozen(eq=False)
class Picture:
    """A picture: vector graphics with words for those who cannot see it.

    Parameters
    ----------
    width, height : float
        In CSS pixels (96 to the inch).
    title, description : str
    body : tuple of elements

    Examples
    --------
    >>> picture = Picture(40, 20, "A line", "One line across.", (line(0, 10, 40, 10),))
    >>> picture.svg().startswith('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20"')
    True
    >>> [part.tag for part in picture.element()]
    ['title', 'desc', 'rect', 'line']
    >>> picture.png(zoom=2)[1:4]
    b'PNG'
    """

    width: float
    height: float
    title: str
    description: str
    body: tuple[ET.Element, ...] = attrs.field(repr=False)
    data: dict[str, str] = attrs.field(factory=dict, repr=False)

    def element(self) -> ET.Element:
        """Return the ``<svg>`` element."""
        # Name and description are read from the first two children (SVG Accessibility API Mappings,
        # W3C): no id is needed, that another picture of the page might have as well.
        root = ET.Element(
            "svg",
            {
                "xmlns": "http://www.w3.org/2000/svg",
                "viewBox": f"0 0 {number(self.width)} {number(self.height)}",
                "width": number(self.width),
                "height": number(self.height),
                "role": "img",
                "font-family": FONT,
                **{f"data-{key}": value for key, value in self.data.items()},
            },
        )
        ET.SubElement(root, "title").text = self.title
        ET.SubElement(root, "desc").text = self.description
        root.append(rect(0, 0, self.width, self.height, fill=PAPER, class_="paper"))
        root.extend(self.body)
        return root

    def svg(self) -> str:
        """Return the SVG text, without an XML declaration, so that a page can hold it as it is."""
        return ET.tostring(self.element(), encoding="unicode")

    def png(self, *, zoom: float = 2.0) -> bytes:
        """Return a PNG image.

        Raises
        ------
        MissingExtraError
            The renderer is not installed: it comes with the extra ``pictures``.
        """
        return bytes(
            from_extra("resvg_py", "a PNG", "pictures").svg_to_bytes(
                svg_string=self.svg(),
                width=round(self.width * zoom),
                height=round(self.height * zoom),
            )
        )

    def _repr_svg_(self) -> str:
        return self.svg()

    def _repr_html_(self) -> str:
        # Notebooks put an SVG into an <img> without alternative text; in the page it is read out.
        return self.svg()


def _placed(picture: Picture, x: float, y: float) -> ET.Element:
    return group(picture.body, transform=f"translate({number(x)} {number(y)})")


def stacked(title: str, pictures: Iterable[Picture], *, gap: float = 16) -> Picture:
    """Return pictures one below the other, as one."""
    placed, y, width, words = [], 0.0, 1.0, []
    for picture in pictures:
        placed.append(_placed(picture, 0, y))
        y += picture.height + gap
        width = max(width, picture.width)
        words.append(f"{picture.title}: {picture.description}")
    return Picture(width, max(y - gap, 1.0), title, " ".join(words), tuple(placed))


def side_by_side(
    title: str, pictures: Iterable[Picture], *, columns: int = 4, gap: float = 16
) -> Picture:
    """Return pictures in lines of `columns`, read left to right and down, as one."""
    pictures = tuple(pictures)
    rows = [pictures[at : at + columns] for at in range(0, len(pictures), columns)]
    wide = max((picture.width for picture in pictures), default=1.0)
    placed, y = [], 0.0
    for row in rows:
        placed += [_placed(p, place * (wide + gap), y) for place, p in enumerate(row)]
        y += max(picture.height for picture in row) + gap
    width = max((len(row) for row in rows), default=1) * (wide + gap) - gap
    words = " ".join(f"{picture.title}: {picture.description}" for picture in pictures)
    return Picture(max(width, 1.0), max(y - gap, 1.0), title, words, tuple(placed))


guard(globals())
