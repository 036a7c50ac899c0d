"""Charts cut to the sheets that they are printed on."""

from __future__ import annotations

import attrs

from loopwright.picture.chart import Chart
from loopwright.picture.grid import Block, ChartRow

__all__ = ["cut"]

_TALLEST = 56  # rows of a chart that can be read on a sheet on its side
_WIDEST = 76  # columns


def cut(chart: Chart) -> list[Chart]:
    """Return a chart that is too large for a sheet in two, cut after a whole round.

    A tall one is cut near its middle, a wide one where its parts come out narrowest. A chart that
    has no round there stays whole: rows to and fro belong together.
    """
    rows = chart.rows
    ends = [at for at, row in enumerate(rows, 1) if row.in_rounds and not row.ends][:-1]
    if not ends:
        return [chart]
    if len(rows) > _TALLEST:
        return _parted(chart, min(ends, key=lambda at: abs(at - len(rows) / 2)))
    if chart.width > _WIDEST and chart.across == 1:
        parted = min(
            (_parted(chart, at) for at in ends), key=lambda two: max(one.width for one in two)
        )
        if max(one.width for one in parted) < 0.8 * chart.width:
            return parted
    return [chart]


def _parted(chart: Chart, after: int) -> list[Chart]:
    """Return the rows up to one, and those that follow."""
    lower, upper = list[Block](), list[Block]()
    at = 0
    for block in chart.blocks:
        for piece in [block] if block.times > 1 else [Block((row,)) for row in block.rows]:
            (lower if at + len(piece.rows) <= after else upper).append(piece)
            at += len(piece.rows)
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
