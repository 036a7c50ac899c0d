"""Drawing one square of a chart: its symbol, its yarn, its marks.

Everything that carries meaning is a shape, so a black and white print loses nothing: yarns differ
by a mark in the corner of the square besides their colour.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from xml.etree import ElementTree as ET

from loopwright.pattern import Side
from loopwright.picture._colours import YARNS
from loopwright.picture._crossing_shape import draw_crossing
from loopwright.picture._symbols import Symbol, symbol_for
from loopwright.picture.grid import WAITING, ChartRow, Grid, Square
from loopwright.picture.svg import GREY, INK, group, label, number, path, rect

__all__ = [
    "EXTRA",
    "SQUARE",
    "WAITS",
    "WRAP",
    "draw_cell",
    "draw_no_stitch",
    "draw_symbol",
    "draw_words",
    "draw_yarn",
    "placed",
    "yarn_places",
]

SQUARE = 14.0  # px; 3.7 mm on paper, which reads at arm's length
_EMPTY = "#d0d0d0"
EXTRA = {
    "wraps": ("with a bar below: worked together with its wrap", "M.12 .8V.93H.88V.8"),
    "lifted": (
        "with a wedge below: worked with a strand lifted across the corner",
        "M.3 .97L.5 .8L.7 .97",
    ),
    "lifted after": (
        "with a wedge below at the left: worked with a strand lifted across the corner after it",
        "M.03 .97L.2 .8L.37 .97",
    ),
}
WAITS = "M.32 .8V.5A.18 .18 0 0 1 .68 .5V.8"
WRAP = "M.18 .35V.72Q.18 .92 .5 .92T.82 .72V.35"
_MARKS = ("", "M.62 0H1V.38Z", "M0 0H.38L0 .38Z", "M.62 0H1V.38ZM0 0H.38L0 .38Z",
          "M0 .86H1V1H0Z", "M0 0H1V.12H0Z", "M0 .86H1V1H0ZM0 0H1V.12H0Z",
          "M0 0H.12V1H0Z")  # fmt: skip


def draw_no_stitch(x: float, y: float, squares: int) -> ET.Element:
    """Return squares that hold no stitch, hatched so that they print."""
    lines = "".join(
        f"M{number(x + half * SQUARE / 2)} {number(y + SQUARE)}"
        f"L{number(x + half * SQUARE / 2 + SQUARE / 2)} {number(y)}"
        for half in range(2 * squares)
    )
    filled = rect(x, y, squares * SQUARE, SQUARE, fill=_EMPTY)
    return group(
        (filled, path(lines, stroke="#a8a8a8", stroke_width=0.6)),
        class_="no-stitch", data_squares=squares,
    )  # fmt: skip


def yarn_places(grids: Iterable[Grid]) -> dict[str, int]:
    """Return which of our marks each yarn has: by its place among those of the whole pattern."""
    names = (name for grid in grids for name in (*grid.colours, *grid.yarns))
    return {name: at for at, name in enumerate(dict.fromkeys(names))}


def draw_yarn(index: int, x: float, y: float, name: str, colour: str) -> list[ET.Element]:
    """Return the ground of a square: the yarn's colour, its own or one of ours, and mark."""
    index %= len(YARNS)
    fill = rect(
        x, y, SQUARE, SQUARE, fill=colour or YARNS[index], fill_opacity=0.45, class_="yarn",
        data_yarn=name,
    )  # fmt: skip
    mark = placed(_MARKS[index], x, y)
    return [fill, path(mark, stroke="none", fill=INK, class_="mark")] if mark else [fill]


def draw_cell(cell: Square, row: ChartRow, x: float, y: float, grid: Grid) -> list[ET.Element]:
    """Return what stands in a square."""
    if cell.stitch == WAITING:
        return [path(placed(WAITS, x, y), stroke=GREY, stroke_width=0.9, class_="waiting")]
    found = []
    symbol = symbol_for(cell.stitch, row.side.value, grid.stitches)
    mirrored = grid.mirrored
    crossed = cell.stitch in grid.stitches and grid.stitches[cell.stitch].is_crossing
    if crossed:
        stitch, from_right = grid.stitches[cell.stitch], grid.reads_left(row)
        sign = draw_crossing(
            stitch, x - (stitch.takes - 1) * SQUARE * from_right, y, SQUARE, from_right=from_right,
            right_side=row.side is Side.RS,
        )  # fmt: skip
        found.append(group(sign, class_="symbol", data_stitch=cell.stitch))
    elif symbol is None:
        spelt = draw_words(cell.stitch, x, y)
        found.append(group(spelt, class_="symbol", data_stitch=cell.stitch))
    else:
        found += draw_symbol(symbol, x, y, cell.stitch, mirrored=mirrored)
    if cell.extra:
        mark = placed(EXTRA[cell.extra][1], x, y, mirrored=mirrored)
        found.append(path(mark, stroke_width=1, class_="extra"))
    return found


def draw_words(stitch: str, x: float, y: float) -> list[ET.Element]:
    """Write an abbreviation into a square, on two lines where one would be too small to read."""
    half = -(-len(stitch) // 2)
    after_digit = next((at for at, one in enumerate(stitch, start=1) if one.isdigit()), half)
    cut = after_digit if 0 < len(stitch) - after_digit <= half else half  # k4|tog
    lines = [stitch] if len(stitch) < 4 else [stitch[:cut], stitch[cut:]]
    size = min(8.0 if len(lines) == 1 else 7.0, SQUARE / (0.62 * max(map(len, lines))))
    first = 0.66 if len(lines) == 1 else 0.45
    return [
        label(x + SQUARE / 2, y + SQUARE * (first + 0.47 * at), part, size=size, anchor="middle")
        for at, part in enumerate(lines)
    ]


def draw_symbol(
    symbol: Symbol, x: float, y: float, stitch: str, *, mirrored: bool
) -> list[ET.Element]:
    """Return a symbol in its square."""
    found = []
    if symbol.strokes:
        found.append(
            path(placed(symbol.strokes, x, y, mirrored=mirrored), stroke_width=1.3,
                 stroke_linejoin="round", class_="symbol", data_stitch=stitch)
        )  # fmt: skip
    if symbol.solid:
        more = {} if symbol.strokes else {"class_": "symbol", "data_stitch": stitch}
        solid = placed(symbol.solid, x, y, mirrored=mirrored)
        found.append(path(solid, fill=INK, stroke="none", **more))
    return found


@cache
def _parsed(d: str) -> tuple[tuple[str, tuple[float, ...]], ...]:
    found = []
    letter, digits = "", ""
    for character in d + "Z":
        if character.isalpha():
            if letter:
                found.append((letter, tuple(float(part) for part in digits.split())))
            letter, digits = character, ""
        else:
            digits += character
    return tuple(found)


def placed(d: str, x: float, y: float, side: float = SQUARE, *, mirrored: bool = False) -> str:
    """Move a shape of the unit square to a square of the sheet, or its mirror image."""
    said = []

    def across(v: float) -> str:
        return number(x + (1 - v if mirrored else v) * side)

    for letter, values in _parsed(d if d.endswith("Z") or not d else d + " "):
        if letter == "H":
            said.append("H" + across(values[0]))
        elif letter == "V":
            said.append("V" + number(y + values[0] * side))
        elif letter == "A":
            rx, ry, turn, large, sweep, to_x, to_y = values
            sweep = 1 - sweep if mirrored else sweep
            said.append(
                f"A{number(rx * side)} {number(ry * side)} {number(turn)} {number(large)} "
                f"{number(sweep)} {across(to_x)} {number(y + to_y * side)}"
            )
        else:
            places = [
                number(y + v * side) if odd % 2 else across(v) for odd, v in enumerate(values)
            ]
            said.append(letter + " ".join(places))
    return "".join(said)
