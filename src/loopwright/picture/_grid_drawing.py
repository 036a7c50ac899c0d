"""Drawing a grid: squares, symbols, frames, numbers, and the key that is always printed.

Text stands in the margins and the key only, and is the larger the wider the chart is: a sheet that
it is printed on makes it smaller.
"""

from __future__ import annotations

from xml.etree import ElementTree as ET

import attrs

from loopwright.picture._grid_squares import (
    SQUARE,
    WRAP,
    draw_cell,
    draw_no_stitch,
    draw_yarn,
    placed,
    yarn_places,
)
from loopwright.picture.grid import MORE, Block, ChartRow, Grid
from loopwright.picture.grid_key import draw_key
from loopwright.picture.svg import INK, Picture, group, label, line, number, path, rect, text_width

__all__ = ["SQUARE", "draw"]

_TEXT = 11.5  # px, at least
_SHEET = 99.0, 69.0  # px of a chart's width and height to 1 of text: 7 pt on a sheet on its side
_UPRIGHT = 68.5  # the same of the width on an upright sheet of A4, which a chart goes on
_SOMEWHAT = 13.0  # px, if letters of this size do
_LARGEST = 18.0  # px: digits are three quarters as high, and a row is 14


@attrs.frozen
class _Sheet:
    """Where the squares lie."""

    grid: Grid
    left: float
    top: float
    at_left: float  # room for the numbers of rows that begin at the left, and at the right
    at_right: float
    text: float  # size of the letters

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


def draw(grid: Grid, table: str = "", *, key: bool = True) -> Picture:
    """Return a grid drawn, with its key.

    Parameters
    ----------
    grid : Grid
    table : str
        What a reader of charts finds in the SVG (see `loopwright.picture._grid_text`).
    key : bool
        Whether the key stands below it: without, whoever sets it prints the key beside.
    """
    labels = [block.numbers(at) for block in grid.blocks for at in range(len(block.rows))]
    sheet, beside, width = _laid_out(grid, labels, _TEXT)
    for _ in range(3):  # larger letters make it wider
        sheet, beside, width = _laid_out(grid, labels, _text_size(width, sheet.bottom + 30))
    own = {"colours": "own"} if grid.yarns else {}
    body = [
        *_headings(sheet),
        *_empty(sheet),
        *_lattice(sheet),
        *_rows(sheet),
        *_margins(sheet, labels),
        *_frames(sheet, beside),
    ]
    bottom = sheet.bottom + (3 if grid.across > 1 else 1.5) * sheet.text
    if key:
        drawn, wide, bottom = draw_key(grid, bottom + 16, sheet.text)
        body, width = [*body, *drawn], max(width, wide)
    own = {"colours": "own"} if grid.yarns else {}
    return Picture(
        width, bottom + 8, f"Chart: {_title(grid)}" if grid.title else _title(grid),
        _description(grid), tuple(body), ({"chart": table} if table else {}) | own,
    )  # fmt: skip


def _laid_out(grid: Grid, labels: list[str], text: float) -> tuple[_Sheet, float, float]:
    """Return where all lies with letters of one size, how far brackets stand off, and the width."""
    rows = grid.rows
    margin = 18 + max([text_width(words, text) for words in labels] or [0])
    counts = max(10 + max([text_width(str(row.count), text) for row in rows] or [0]),
                 text_width("sts", text) + 4)  # fmt: skip
    # Numbers stand where rows begin, counts on the side where rounds end.
    ways = {grid.reads_left(row) for row in rows} | {not grid.mirrored}
    at_left, at_right = (margin if way in ways else 0.0 for way in (False, True))
    left = 8 + at_left + (0 if grid.mirrored else counts)
    sheet = _Sheet(grid, left, 14 + text, at_left, at_right, text)
    beside = at_right + (counts + 6 if grid.mirrored else 0)
    notes = [text_width(f"{b.times} times in all", text) + 16 for b in grid.blocks if b.times > 1]
    foot = sheet.left + text_width(_across(grid), text) + 8 if grid.across > 1 else 0
    width = max(foot, sheet.right + beside + max(notes, default=0) + 8,
                sheet.left + text_width(_title(grid), text + 1) + 8)  # fmt: skip
    return sheet, beside, width


def _text_size(width: float, height: float) -> float:
    """Return the size of letters that a print of a chart, as large as its sheet, can do with."""
    upright = width / _UPRIGHT
    across = upright if upright <= _SOMEWHAT else width / _SHEET[0]
    return min(max(_TEXT, across, height / _SHEET[1]), _LARGEST)


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
        label(
            sheet.left, sheet.top - 7, _title(sheet.grid), size=sheet.text + 1, font_weight="bold"
        ),
        _count(sheet, sheet.top - 7, "sts"),
    ]


def _count(sheet: _Sheet, y: float, words: str, class_: str = "unit") -> ET.Element:
    """Write in the column of counts: at the left, in a left-handed chart at the right."""
    x = sheet.right + sheet.at_right + 6 if sheet.grid.mirrored else 8.0
    return label(x, y, words, size=sheet.text, font_style="italic", class_=class_)


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
                found.append(draw_no_stitch(x, sheet.y(at), column - start))
            column += 1
    return found


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
    yarns = yarn_places([sheet.grid])
    found = []
    for at, row in enumerate(sheet.grid.rows):
        shown: list[ET.Element] = []
        filled = sheet.grid.amid_crossings(row)
        for cell in row.cells:
            if cell.yarn and (cell.stitch != MORE or cell.column in filled):
                x, y = sheet.x(cell.column), sheet.y(at)
                colour = sheet.grid.colours.get(cell.yarn, "")
                shown += draw_yarn(yarns[cell.yarn], x, y, cell.yarn, colour)
        for cell in row.cells:
            x, y = sheet.x(cell.column), sheet.y(at)
            if cell.stitch != MORE:
                shown += draw_cell(cell, row, x, y, sheet.grid)
            elif cell.column not in filled:
                shown.append(_joined(sheet.grid.reads_left(row), x, y))
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


def _turn(sheet: _Sheet, at: int, row: ChartRow) -> list[ET.Element]:
    """Mark where the work turned short: a bar, and a hook round a wrapped stitch."""
    column = row.turning_column()
    if column is None:
        return []
    x, y = sheet.x(column), sheet.y(at)
    edge = x + SQUARE if sheet.grid.reads_left(row) else x
    marks = [line(edge, y, edge, y + SQUARE, stroke_width=2.2, class_="turn")]
    if row.ends == "wrap":
        marks.append(path(placed(WRAP, x, y),
                          stroke_width=1.2, class_="wrap"))  # fmt: skip
    return marks


# margins, frames


def _margins(sheet: _Sheet, labels: list[str]) -> list[ET.Element]:
    grid = sheet.grid
    found = []
    for at, (row, text) in enumerate(zip(grid.rows, labels, strict=True)):
        middle = sheet.y(at) + SQUARE / 2
        found.append(_count(sheet, middle + 0.35 * sheet.text, str(row.count), class_="count"))
        side, step = (sheet.right, 1) if grid.reads_left(row) else (sheet.left, -1)
        found.append(_arrow(side + 3 * step, middle, step))
        found.append(
            label(side + 14 * step, middle + 0.35 * sheet.text, text, size=sheet.text,
                  anchor="start" if step > 0 else "end", class_="number")
        )  # fmt: skip
    numbered = [1, *range(5, grid.width + 1, 5)] if grid.width > 7 else range(1, grid.width + 1)
    found += [
        label(sheet.x(column - 1) + SQUARE / 2, sheet.bottom + 2 + sheet.text, str(column),
              size=sheet.text, anchor="middle", class_="column")
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
        found.append(label(sheet.left, sheet.bottom + 6 + 2 * sheet.text, words, size=sheet.text))
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
        label(x + 8, middle + 0.35 * sheet.text, words, size=sheet.text),
    ]
