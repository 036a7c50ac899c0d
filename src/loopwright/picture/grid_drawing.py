"""Drawing a grid: squares, symbols, frames, numbers, and the key that is always printed.

Everything that carries meaning is a shape, so a black and white print loses nothing: yarns differ
by a mark in the corner of the square besides their colour. Text stands in the margins and the key
only.
"""

from __future__ import annotations

from functools import cache
from xml.etree import ElementTree as ET

import attrs

from loopwright.picture.colours import YARNS
from loopwright.picture.grid import MORE, WAITING, Block, Cell, ChartRow, Grid
from loopwright.picture.svg import (
    GREY,
    INK,
    Picture,
    group,
    label,
    line,
    number,
    path,
    rect,
    text_width,
)
from loopwright.picture.symbols import SYMBOLS, Symbol, symbol_for

__all__ = ["SQUARE", "draw"]

SQUARE = 14.0  # px; 3.7 mm on paper, which reads at arm's length
_TEXT = 11.0  # px: 7 pt where 72 stitches are as wide as a sheet on its side
_SMALL = 10.0
_EMPTY = "#d0d0d0"
_EXTRA = {
    "wraps": ("with a bar below: worked together with its wrap", "M.12 .8V.93H.88V.8"),
    "lifted": (
        "with a wedge below: worked with a strand lifted across the corner",
        "M.3 .97L.5 .8L.7 .97",
    ),
}
_WAITS = "M.32 .8V.5A.18 .18 0 0 1 .68 .5V.8"
_MARKS = ("", "M.62 0H1V.38Z", "M0 0H.38L0 .38Z", "M.62 0H1V.38ZM0 0H.38L0 .38Z",
          "M0 .86H1V1H0Z", "M0 0H1V.12H0Z", "M0 .86H1V1H0ZM0 0H1V.12H0Z",
          "M0 0H.12V1H0Z")  # fmt: skip
_NOTES = (
    "RS: right-side rows and rounds; WS: wrong-side rows.",
    "The chart shows the right side. Numbers count all rounds and rows",
    "worked under this heading.",
)
_MIRRORED = "Left-handed: what leans left in the words leans right here."
_WRITTEN = {"slf": "sl", "slk": "sl", "slkf": "sl", "ktbl": "k tbl", "ptbl": "p tbl"}  # as in rows
_NAMES = {symbol.name: symbol for symbol in SYMBOLS}


@attrs.frozen
class _Sheet:
    """Where the squares lie."""

    grid: Grid
    left: float
    top: float
    at_left: float  # room for the numbers of rows that begin at the left, and at the right
    at_right: float

    def x(self, column: float) -> float:
        """Left edge of a column."""
        place = column if self.grid.mirrored else self.grid.width - 1 - column
        return self.left + place * SQUARE

    def y(self, row: int) -> float:
        """Top edge of a row, 0 at the bottom."""
        return self.top + (len(self.grid.rows) - 1 - row) * SQUARE

    @property
    def right(self) -> float:
        return self.left + self.grid.width * SQUARE

    @property
    def bottom(self) -> float:
        return self.top + len(self.grid.rows) * SQUARE


def draw(grid: Grid, table: str = "") -> Picture:
    """Return a grid drawn, with its key.

    Parameters
    ----------
    grid : Grid
    table : str
        What a reader of charts finds in the SVG (see `loopwright.picture.grid_text`).
    """
    rows = grid.rows
    labels = [block.numbers(at) for block in grid.blocks for at in range(len(block.rows))]
    margin = 18 + max([text_width(text, _TEXT) for text in labels] or [0])
    counts = max(10 + max([text_width(str(row.count), _TEXT) for row in rows] or [0]),
                 text_width("sts", _TEXT) + 4)  # fmt: skip
    # Numbers stand where rows begin, counts on the side where rounds end.
    ways = {grid.reads_left(row) for row in rows} | {not grid.mirrored}
    at_left, at_right = (margin if way in ways else 0.0 for way in (False, True))
    sheet = _Sheet(grid, 8 + at_left + (0 if grid.mirrored else counts), 40.0, at_left, at_right)
    beside = at_right + (counts + 6 if grid.mirrored else 0)
    notes = [text_width(f"{b.times} times in all", _TEXT) + 16 for b in grid.blocks if b.times > 1]
    body = [
        *_headings(sheet),
        *_empty(sheet),
        *_lattice(sheet),
        *_rows(sheet),
        *_margins(sheet, labels),
        *_frames(sheet, beside),
    ]
    key, wide, high = _key(grid, sheet.bottom + (48 if grid.across > 1 else 34))
    foot = sheet.left + text_width(_across(grid), _TEXT) + 8
    foot = foot if grid.across > 1 else 0
    width = max(foot, sheet.right + beside + max(notes, default=0) + 8, wide,
                text_width(_title(grid), 12) + 16)  # fmt: skip
    return Picture(
        width, high + 8, f"Chart: {_title(grid)}" if grid.title else _title(grid),
        _description(grid), (*body, *key),
        {"chart": table} if table else {},
    )  # fmt: skip


def _title(grid: Grid) -> str:
    name = grid.title or "Chart"
    sized = f"{name}, size {grid.size}" if grid.size else name
    return f"{sized}, left-handed" if grid.mirrored else sized


def _description(grid: Grid) -> str:
    rows = grid.rows
    kind = "rounds" if all(row.in_rounds for row in rows) else "rows"
    how_many = sum(len(block.rows) * block.times for block in grid.blocks)
    said = [f"{how_many} {kind}, shown from the right side, the first at the bottom."]
    if grid.mirrored:
        said.append("Left-handed: right-side rows are read from the left.")
    said.append(f"{grid.start} stitches before it.")
    if grid.across > 1:
        said.append(f"The {grid.width} columns are repeated {grid.across} times.")
    said += [_repeated(block, kind) for block in grid.blocks if block.times > 1]
    return " ".join(said)


def _repeated(block: Block, kind: str) -> str:
    first, each = block.rows[0].number, len(block.rows)
    which = f" {first} to {first + each * block.times - 1}" if first else ""
    what = f"one {kind[:-1]}" if each == 1 else f"{each} {kind}"
    return f"{kind.capitalize()}{which}: {what}, worked {block.times} times in all."


def _headings(sheet: _Sheet) -> list[ET.Element]:
    return [
        label(8, 17, _title(sheet.grid), size=12, font_weight="bold"),
        _count(sheet, 33, "sts"),
    ]


def _count(sheet: _Sheet, y: float, words: str, class_: str = "unit") -> ET.Element:
    """Write in the column of counts: at the left, in a left-handed chart at the right."""
    x = sheet.right + sheet.at_right + 6 if sheet.grid.mirrored else 8.0
    return label(x, y, words, size=_TEXT, font_style="italic", class_=class_)


# the squares


def _empty(sheet: _Sheet) -> list[ET.Element]:
    """Fill the squares that are no stitch, hatched so that they print."""
    found = []
    for at, row in enumerate(sheet.grid.rows):
        taken = {cell.column for cell in row.cells}
        column = 0
        while column < sheet.grid.width:
            start = column
            while column < sheet.grid.width and column not in taken:
                column += 1
            if column > start:
                x = min(sheet.x(start), sheet.x(column - 1))
                found.append(_no_stitch(x, sheet.y(at), column - start))
            column += 1
    return found


def _no_stitch(x: float, y: float, squares: int) -> ET.Element:
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


def _lattice(sheet: _Sheet) -> list[ET.Element]:
    grid, rows = sheet.grid, len(sheet.grid.rows)
    thin: list[str] = []
    thick: list[str] = []
    for column in range(grid.width + 1):
        x = number(sheet.x(column - 1 if sheet.grid.mirrored else column) + SQUARE)
        (thin if column % 5 else thick).append(f"M{x} {number(sheet.top)}V{number(sheet.bottom)}")
    fives = {0, rows}
    fives |= {at for at, row in enumerate(grid.rows, start=1) if row.number and not row.number % 5}
    for row in range(rows + 1):
        y = number(sheet.bottom - row * SQUARE)
        (thick if row in fives else thin).append(f"M{number(sheet.left)} {y}H{number(sheet.right)}")
    return [
        path("".join(thin), class_="lattice", stroke="#9a9a9a", stroke_width=0.5),
        path("".join(thick), class_="lattice", stroke="#555555", stroke_width=0.8),
    ]


def _rows(sheet: _Sheet) -> list[ET.Element]:
    yarns = {name: at for at, name in enumerate(sheet.grid.yarns)}
    found = []
    for at, row in enumerate(sheet.grid.rows):
        shown: list[ET.Element] = []
        for cell in row.cells:
            x, y = sheet.x(cell.column), sheet.y(at)
            if cell.stitch == MORE:
                shown.append(_joined(sheet.grid.reads_left(row), x, y))
                continue
            if cell.yarn:
                shown += _yarn(yarns[cell.yarn], x, y, cell.yarn)
            shown += _cell(cell, row, x, y, mirrored=sheet.grid.mirrored)
        shown += _turn(sheet, at, row)
        found.append(
            group(shown, class_="row", data_round=row.number, data_side=row.side.value,
                  data_count=row.count)
        )  # fmt: skip
    return found


def _joined(reads_left: bool, x: float, y: float) -> ET.Element:
    """Show that one stitch fills this square too: a bar across the line between the two."""
    step = 1 if reads_left else -1
    edge = x + (SQUARE if reads_left else 0)
    middle = number(y + SQUARE * 0.75)
    return path(
        f"M{number(edge + step * SQUARE * 0.3)} {middle}H{number(edge - step * SQUARE * 0.6)}",
        class_="more", stroke_width=1.4,
    )  # fmt: skip


def _yarn(index: int, x: float, y: float, name: str) -> list[ET.Element]:
    index %= len(YARNS)
    fill = rect(
        x, y, SQUARE, SQUARE, fill=YARNS[index], fill_opacity=0.45, class_="yarn", data_yarn=name
    )
    mark = _placed(_MARKS[index], x, y)
    return [fill, path(mark, stroke="none", fill=INK, class_="mark")] if mark else [fill]


def _cell(cell: Cell, row: ChartRow, x: float, y: float, *, mirrored: bool) -> list[ET.Element]:
    if cell.stitch == WAITING:
        return [path(_placed(_WAITS, x, y), stroke=GREY, stroke_width=0.9, class_="waiting")]
    found = []
    symbol = symbol_for(cell.stitch, row.side.value)
    if symbol is None:
        spelt = _spelt(cell.stitch, x, y)
        found.append(group(spelt, class_="symbol", data_stitch=cell.stitch))
    else:
        found += _drawn(symbol, x, y, cell.stitch, mirrored=mirrored)
    if cell.extra:
        mark = _placed(_EXTRA[cell.extra][1], x, y, mirrored=mirrored)
        found.append(path(mark, stroke_width=1, class_="extra"))
    return found


def _spelt(stitch: str, x: float, y: float) -> list[ET.Element]:
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


def _drawn(symbol: Symbol, x: float, y: float, stitch: str, *, mirrored: bool) -> list[ET.Element]:
    found = []
    if symbol.strokes:
        found.append(
            path(_placed(symbol.strokes, x, y, mirrored=mirrored), stroke_width=1.3,
                 stroke_linejoin="round", class_="symbol", data_stitch=stitch)
        )  # fmt: skip
    if symbol.solid:
        more = {} if symbol.strokes else {"class_": "symbol", "data_stitch": stitch}
        solid = _placed(symbol.solid, x, y, mirrored=mirrored)
        found.append(path(solid, fill=INK, stroke="none", **more))
    return found


def _turn(sheet: _Sheet, at: int, row: ChartRow) -> list[ET.Element]:
    """Mark where the work turned short: a bar, and a hook round a wrapped stitch."""
    column = row.turning_column()
    if column is None:
        return []
    x, y = sheet.x(column), sheet.y(at)
    edge = x + SQUARE if sheet.grid.reads_left(row) else x
    marks = [line(edge, y, edge, y + SQUARE, stroke_width=2.2, class_="turn")]
    if row.ends == "wrap":
        marks.append(path(_placed("M.18 .35V.72Q.18 .92 .5 .92T.82 .72V.35", x, y),
                          stroke_width=1.2, class_="wrap"))  # fmt: skip
    return marks


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


def _placed(d: str, x: float, y: float, side: float = SQUARE, *, mirrored: bool = False) -> str:
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


# margins, frames, key


def _margins(sheet: _Sheet, labels: list[str]) -> list[ET.Element]:
    grid = sheet.grid
    found = []
    for at, (row, text) in enumerate(zip(grid.rows, labels, strict=True)):
        middle = sheet.y(at) + SQUARE / 2
        found.append(_count(sheet, middle + 4, str(row.count), class_="count"))
        side, step = (sheet.right, 1) if grid.reads_left(row) else (sheet.left, -1)
        found.append(_arrow(side + 3 * step, middle, step))
        found.append(
            label(side + 14 * step, middle + 4, text, size=_TEXT,
                  anchor="start" if step > 0 else "end", class_="number")
        )  # fmt: skip
    numbered = [1, *range(5, grid.width + 1, 5)] if grid.width > 7 else range(1, grid.width + 1)
    found += [
        label(sheet.x(column - 1) + SQUARE / 2, sheet.bottom + 12, str(column), size=_SMALL,
              anchor="middle", class_="column")
        for column in numbered
    ]  # fmt: skip
    return found


def _arrow(x: float, y: float, step: int) -> ET.Element:
    """Draw the direction of reading, from `x` outside towards the squares."""
    tip, tail = number(x), number(x + 9 * step)
    head = number(x + 3.5 * step)
    return path(
        f"M{tail} {number(y)}H{tip}M{head} {number(y - 2.5)}L{tip} {number(y)}"
        f"L{head} {number(y + 2.5)}",
        stroke_width=0.9, class_="reads",
    )  # fmt: skip


def _frames(sheet: _Sheet, margin: float) -> list[ET.Element]:
    grid = sheet.grid
    found = []
    if grid.across > 1:
        words = _across(grid)
        found.append(_frame(sheet, 0, len(grid.rows), words))
        found.append(label(sheet.left, sheet.bottom + 28, words, size=_TEXT))
    row = 0
    for block in grid.blocks:
        tall = len(block.rows)
        if block.times > 1:
            words = f"{block.times} times in all"
            found.append(_frame(sheet, row, tall, words))
            found += _bracket(sheet, row, block, margin, words)
        row += tall
    return found


def _across(grid: Grid) -> str:
    sts = "this stitch" if grid.width == 1 else f"these {grid.width} stitches"
    return f"work {sts} {grid.across} times in all"


def _frame(sheet: _Sheet, row: int, tall: int, words: str) -> ET.Element:
    return rect(
        sheet.left, sheet.y(row + tall - 1), sheet.right - sheet.left, tall * SQUARE,
        stroke=INK, stroke_width=2, class_="frame", data_repeat=words,
    )  # fmt: skip


def _bracket(sheet: _Sheet, row: int, block: Block, margin: float, words: str) -> list[ET.Element]:
    x = sheet.right + margin
    top, bottom = sheet.y(row + len(block.rows) - 1) + 2, sheet.y(row) + SQUARE - 2
    middle = (top + bottom) / 2
    return [
        path(f"M{number(x)} {number(top)}h4V{number(bottom)}h-4", stroke_width=0.9),
        label(x + 8, middle + 4, words, size=_TEXT),
    ]


def _key_entries(grid: Grid) -> list[tuple[str, str, str]]:
    """Return what the key explains: kind of sample, which, words."""
    used: dict[tuple[str, str], dict[str, str]] = {}
    extras: dict[str, None] = {}
    special: dict[str, None] = {}
    for row in grid.rows:
        if len(row.cells) < grid.width:
            special["no stitch"] = None
        for cell in row.cells:
            if cell.stitch == WAITING:
                special["waiting"] = None
            elif cell.stitch == MORE:
                special["more"] = None
            else:
                symbol = symbol_for(cell.stitch, row.side.value)
                sample = ("symbol", symbol.name) if symbol else ("words", cell.stitch)
                used.setdefault(sample, {})[row.side.value] = cell.stitch
                if cell.extra:
                    extras[cell.extra] = None
        if row.turning_column() is not None:
            special["wrap" if row.ends == "wrap" else "turn"] = None
    entries = [
        (*sample, "; ".join(f"{side}: {_said(key, grid)}" for side, key in sorted(sides.items())))
        for sample, sides in sorted(used.items(), key=lambda one: _rank(one[0]))
    ]
    entries += [("extra", extra, _EXTRA[extra][0]) for extra in extras]
    words = {
        "no stitch": "no stitch: pass over this square",
        "waiting": "a stitch left unworked in this row",
        "more": "a further stitch made by the one before",
        "turn": "turn the work here",
        "wrap": "wrap this stitch and turn",
    }
    entries += [("special", kind, words[kind]) for kind in words if kind in special]
    entries += [("yarn", str(at), f"yarn {name}") for at, name in enumerate(grid.yarns)]
    return entries


def _said(stitch: str, grid: Grid) -> str:
    name = grid.stitches[stitch].name if stitch in grid.stitches else stitch
    return name if name == stitch else f"{_WRITTEN.get(stitch, stitch)}, {name}"


def _rank(sample: tuple[str, str]) -> int:
    names = list(_NAMES)
    return names.index(sample[1]) if sample[0] == "symbol" else len(names)


def _key(grid: Grid, top: float) -> tuple[list[ET.Element], float, float]:
    """Return the key, how far it reaches to the right, and down."""
    entries = _key_entries(grid)
    found = [label(8, top, "Key", size=11.5, font_weight="bold")]
    wide = max((text_width(words, _TEXT) for _, _, words in entries), default=0) + 38
    columns = max(1, min(3, int((grid.width * SQUARE + 120) / wide), len(entries)))
    tall = -(-len(entries) // columns)
    for at, (kind, which, words) in enumerate(entries):
        x, y = 8 + at // tall * wide, top + 8 + at % tall * (SQUARE + 5)
        sample = _sample(kind, which, x, y, mirrored=grid.mirrored)
        said = label(x + SQUARE + 8, y + SQUARE * 0.72, words, size=_TEXT)
        found.append(group((*sample, said), class_="key", data_kind=kind, data_which=which))
    bottom = top + 8 + tall * (SQUARE + 5)
    notes = [*_NOTES, _MIRRORED] if grid.mirrored else [*_NOTES]
    found += [label(8, bottom + 12 + 13 * at, note, size=_SMALL) for at, note in enumerate(notes)]
    broad = text_width(max(notes, key=len), _SMALL) + 16
    return found, max(8 + columns * wide, broad), bottom + 4 + 13 * len(notes)


def _sample(kind: str, which: str, x: float, y: float, *, mirrored: bool) -> list[ET.Element]:
    box = rect(x, y, SQUARE, SQUARE, stroke="#555555", stroke_width=0.8)
    if kind == "symbol":
        return [box, *_drawn(_NAMES[which], x, y, "", mirrored=mirrored)]
    if kind == "extra":
        return [box, path(_placed(_EXTRA[which][1], x, y, mirrored=mirrored), stroke_width=1)]
    if kind == "yarn":
        return [*_yarn(int(which), x, y, ""), box]
    if kind == "words":
        return [box, *_spelt(which, x, y)]
    return [box, *_special(which, x, y)]


def _special(which: str, x: float, y: float) -> list[ET.Element]:
    if which == "no stitch":
        return [_no_stitch(x, y, 1)]
    if which == "more":
        return [path(f"M{number(x + 3)} {number(y + SQUARE * 0.75)}h8", stroke_width=1.4)]
    if which == "turn":
        return [line(x, y, x, y + SQUARE, stroke_width=2.2)]
    found = [path(_placed(_WAITS, x, y), stroke=GREY, stroke_width=0.9)]
    if which == "wrap":
        found.append(path(_placed("M.18 .35V.72Q.18 .92 .5 .92T.82 .72V.35", x, y),
                          stroke_width=1.2))  # fmt: skip
    return found
