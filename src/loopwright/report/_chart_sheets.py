"""Charts cut to the sheets that they are printed on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import attrs

from loopwright.pattern import Side
from loopwright.picture import Chart
from loopwright.picture.grid import WAITING, Block, ChartRow
from loopwright.picture.grid_key import key_entries, key_notes
from loopwright.report.data import KeyLine, PictureKind, ReportPicture

__all__ = ["chart_picture", "cut", "without_waiting"]

_TALLEST = 56  # rows of a chart that can be read on a sheet on its side
_TALLEST_FLAT = 46  # the same of rows to and fro, which share the sheet with the rounds around them
_WIDEST = 76  # columns
_WORTH = 4  # waiting stitches that are left out, at least


def cut(chart: Chart) -> list[Chart]:
    """Return a chart that is too large for a sheet in parts.

    A tall one is cut after a whole round near its middle, a wide one where its parts come out
    narrowest. What is still taller than a sheet on its side has no round there: it is cut after a
    row back, so that rows to and fro stay together.
    """
    parts = _cut_after_rounds(chart)
    return [piece for part in parts for piece in _cut_after_rows(part)]


def _cut_after_rounds(chart: Chart) -> list[Chart]:
    rows = chart.rows
    ends = [at for at, row in enumerate(rows, 1) if row.in_rounds and not row.ends][:-1]
    if not ends:
        return [chart]
    middle = _nearest(ends, len(rows))
    to_and_fro = any(row.ends for row in rows)
    is_even = min(middle, len(rows) - middle) > len(rows) / 4
    if len(rows) > (_TALLEST_FLAT if to_and_fro and is_even else _TALLEST):
        return _parted(chart, middle)
    if chart.width > _WIDEST and chart.across == 1:
        width, at = min((max(_widths(chart, at)), at) for at in ends)
        if width < 0.8 * chart.width:
            return _parted(chart, at)
    return [chart]


def _cut_after_rows(chart: Chart) -> list[Chart]:
    rows = chart.rows
    backs = [at for at, row in enumerate(rows, 1) if row.side is Side.WS and at < len(rows)]
    if len(rows) <= _TALLEST_FLAT or len(backs) < len(rows) // 3:
        return [chart]
    return _parted(chart, _nearest(backs, len(rows)))


def _nearest(ends: Sequence[int], rows: int) -> int:
    """Return the end of a row or round that is nearest to the middle."""
    return min(ends, key=lambda at: abs(at - rows / 2))


def without_waiting(chart: Chart) -> tuple[Chart, int]:
    """Return a chart without the last stitches where they wait in each of its rows, and how many.

    One of them stays, for the mark of a turn before it. Two or three are not worth a note.
    """
    waiting = [{c.column for c in row.cells if c.stitch == WAITING} for row in chart.rows]
    width = chart.width
    while width > 1 and all({width - 1, width - 2} <= columns for columns in waiting):
        width -= 1
    if chart.width - width < _WORTH:
        return chart, 0

    def kept(row: ChartRow) -> ChartRow:
        return attrs.evolve(row, cells=tuple(c for c in row.cells if c.column < width))

    blocks = (attrs.evolve(block, rows=tuple(map(kept, block.rows))) for block in chart.blocks)
    return attrs.evolve(chart, width=width, blocks=tuple(blocks)), chart.width - width


def _split(chart: Chart, after: int) -> tuple[list[Block], list[Block]]:
    """Return the rows up to one, and those that follow; rows that repeat stay together."""
    lower, upper = list[Block](), list[Block]()
    at = 0
    for block in chart.blocks:
        for piece in [block] if block.times > 1 else [Block((row,)) for row in block.rows]:
            (lower if at + len(piece.rows) <= after else upper).append(piece)
            at += len(piece.rows)
    return lower, upper


def _widths(chart: Chart, after: int) -> list[int]:
    """Return how many columns the parts have that `_parted` makes."""
    columns = [
        [cell.column for piece in part for row in piece.rows for cell in row.cells]
        for part in _split(chart, after)
    ]
    return [max(used) + 1 - min(used) for used in columns if used]


def _parted(chart: Chart, after: int) -> list[Chart]:
    lower, upper = _split(chart, after)
    start = lower[-1].rows[-1].count if lower else chart.start
    first = attrs.evolve(chart, blocks=tuple(lower))
    second = attrs.evolve(chart, blocks=tuple(upper), start=start)
    return [_trimmed(one) for one in (first, second) if one.blocks]


def _trimmed(chart: Chart) -> Chart:
    """Return a chart without the columns beside all of its rows."""
    used = [cell.column for row in chart.rows for cell in row.cells]
    first, width = min(used), max(used) + 1 - min(used)

    def moved(row: ChartRow) -> ChartRow:
        cells = tuple(attrs.evolve(cell, column=cell.column - first) for cell in row.cells)
        return attrs.evolve(row, cells=cells)

    blocks = (attrs.evolve(block, rows=tuple(map(moved, block.rows))) for block in chart.blocks)
    return attrs.evolve(chart, width=width, blocks=tuple(blocks))


def _is_plain(chart: Chart) -> bool:
    """Whether it is one row of knit stitches, of which the words say as much."""
    cells = [cell for row in chart.rows for cell in row.cells]
    return len(chart.rows) == 1 and all(
        c.stitch in ("k", WAITING) and not c.extra and not c.yarn for c in cells
    )


def chart_picture(stem: str, title: str, whole: Iterable[Chart]) -> ReportPicture | None:
    """Return charts in their parts, each with a key of its own as a file, and one key for all.

    Without single rows of knit stitches; None where nothing is left.
    """
    sheets = [part for chart in whole for part in cut(chart) if not _is_plain(part)]
    if not sheets:
        return None
    parts, notes = [], [*key_notes(sheets[0])]
    for number, sheet in enumerate(sheets, start=1):
        part = f", part {number} of {len(sheets)}" if len(sheets) > 1 else ""
        name = f"{stem}-{number}" if part else stem
        chart = attrs.evolve(sheet, title=f"{title}{part}")
        words = f"{title}, stitch by stitch{part}"
        narrowed, waiting = without_waiting(chart)
        if waiting:
            where = part.removeprefix(", ").capitalize() or "It"
            notes.append(f"{where} leaves out {waiting} stitches that wait in all its rows.")
        drawn = narrowed.picture(key=False)
        parts.append(
            ReportPicture(
                name,
                words,
                chart.svg(),
                kind=PictureKind.CHART,
                bare=drawn.svg(),
                description=f"{words}: {drawn.description} The instructions say the same in words.",
            )
        )
    key = tuple(KeyLine(one.picture().svg(), one.words) for one in key_entries(sheets))
    words = f"{title}, stitch by stitch"
    return ReportPicture(stem, words, "", tuple(parts), " ".join(notes), PictureKind.CHART, key=key)
