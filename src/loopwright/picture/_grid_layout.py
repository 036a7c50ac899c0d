"""From the rows as worked to a grid: which column each stitch stands in, what repeats."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

import attrs

from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.making import Hand
from loopwright.pattern import Side
from loopwright.picture._trace import WorkedRow
from loopwright.picture.grid import MORE, WAITING, Block, ChartRow, Grid, Square

__all__ = ["grid_of"]

_EDGE = 4  # stitches that a shaping keeps beside its decreases, at most
_TALLEST = 12  # rows of a repeat that is looked for


def grid_of(
    title: str,
    lines: Sequence[tuple[WorkedRow, int]],
    order: Sequence[int],
    *,
    in_yarns: bool = False,
    size: str = "",
    folded: bool = True,
    hand: Hand = Hand.RIGHT,
    stitches: StitchTable = STITCHES,
) -> Grid:
    """Lay out rows of one sheet.

    Parameters
    ----------
    title : str
    lines : sequence of (WorkedRow, int)
        Each with its number, 0 for none.
    order : sequence of int
        Wales, right to left.
    in_yarns : bool
        Say of each square in which yarn it is, though these rows be in one; said of several anyway.
    folded : bool
        Show what repeats once, with the number of times.
    hand : Hand
    stitches : StitchTable
    """
    used = {spot.wale for line, _ in lines for spot in line.spots}
    column = {wale: at for at, wale in enumerate(wale for wale in order if wale in used)}
    several = in_yarns or len({spot.yarn for line, _ in lines for spot in line.spots}) > 1
    again = _come_again([line for line, _ in lines], column)
    # From the first short row on stitches stay above those they belong to.
    short = accumulate((line.ends in ("turn", "wrap") for line, _ in lines), max)
    rows = [
        (_row(line, number, column, several, None if stays else again), line.times)
        for (line, number), stays in zip(lines, short, strict=True)
    ]
    blocks = _folded(rows) if folded else [
        Block([attrs.evolve(row, number=row.number and row.number + time)])
        for row, times in rows
        for time in range(times)
    ]  # fmt: skip
    start = len(lines[0][0].before) if lines else 0
    grid = Grid(title, len(column), blocks, 1, start, size, hand, stitches)
    return _narrowed(grid) if folded else grid


def _come_again(lines: Sequence[WorkedRow], column: dict[int, int]) -> set[int]:
    """Return the columns that are left empty and filled again: of bobbles, for one."""
    seen: set[int] = set()
    gone: set[int] = set()
    found: set[int] = set()
    for line in lines:
        here = {column[w] for w in {*(s.wale for s in line.spots), *line.after} if w in column}
        gone |= seen - here
        found |= gone & here
        seen |= here
    return found


def _row(
    line: WorkedRow, number: int, column: dict[int, int], several: bool, again: set[int] | None
) -> ChartRow:
    """Lay out one row, drawn in at its ends but for what comes `again`; not without that."""
    spots = {spot.wale: spot for spot in line.spots}
    wales = sorted((w for w in {*spots, *line.after} if w in column), key=column.__getitem__)
    places = [column[wale] for wale in wales]
    if again is not None and all(wale in spots for wale in wales):
        places = _drawn_in(places, _needle_of(line, wales), again)
    cells = []
    for wale, place in zip(wales, places, strict=True):
        spot = spots.get(wale)
        if spot is None:
            cells.append(Square(place, WAITING))
        else:
            yarn = spot.yarn if several else ""
            cells.append(Square(place, spot.stitch or MORE, spot.extra, yarn))
    side = Side.RS if line.right_side else Side.WS
    return ChartRow(number, side, line.in_rounds, cells, line.ends, len(line.after))


def _needle_of(line: WorkedRow, wales: list[int]) -> list[int]:
    """Return on which needle each wale lies."""
    ends = list(accumulate(line.needles))
    place = {wale: at for at, wale in enumerate(line.after)}
    found, last = [], 0
    for wale in wales:
        if wale in place:
            last = sum(end <= place[wale] for end in ends)
        found.append(last)
    return found if found == sorted(found) else [0] * len(found)


def _drawn_in(columns: list[int], needles: list[int], again: set[int]) -> list[int]:
    """Draw the few stitches at either end of a needle in to their neighbours.

    A decrease beside the edge leaves its empty column between the edge stitches and the rest.
    Charts show it outside, as the outline of the piece, unless its stitch comes `again`.
    """
    places = list(columns)
    for needle in dict.fromkeys(needles):
        here = [at for at, mine in enumerate(needles) if mine == needle]
        for ends, step in ((here, 1), (here[::-1], -1)):
            for done in range(1, min(_EDGE, len(ends) // 2) + 1):
                here_at, there_at = places[ends[done - 1]], places[ends[done]]
                gap = (there_at - here_at) * step - 1
                if gap > 0 and again.isdisjoint(range(here_at + step, there_at, step)):
                    for at in ends[:done]:
                        places[at] += gap * step
    return places


def _folded(rows: list[tuple[ChartRow, int]]) -> list[Block]:
    """Find rows that repeat, the way that shows the fewest."""
    looks = [(attrs.evolve(row, number=0), times) for row, times in rows]
    blocks, at = [], 0
    while at < len(rows):
        tall, times = _repeat_at(looks, at)
        each = rows[at][1] if tall == 1 else 1
        together = sum(times for _, times in rows[at : at + times]) if tall == 1 else times
        blocks.append(Block([row for row, _ in rows[at : at + tall]], max(together, each)))
        at += tall * times
    return blocks


def _repeat_at(looks: list[tuple[ChartRow, int]], at: int) -> tuple[int, int]:
    """Return how many rows repeat from here on, and how many times."""
    alike = 1
    while at + alike < len(looks) and looks[at + alike][0] == looks[at][0]:
        alike += 1
    if alike > 1 or looks[at][1] > 1:
        return 1, alike
    best = (1, 1)
    for tall in range(2, _TALLEST + 1):
        body = looks[at : at + tall]
        times = 1
        while looks[at + times * tall : at + (times + 1) * tall] == body:
            times += 1
        if times > 1 and tall * times > best[0] * best[1] and all(n == 1 for _, n in body):
            best = (tall, times)
    return best


def _narrowed(grid: Grid) -> Grid:
    """Show the columns of a repeat once, if all rows repeat in the same way."""
    rows = grid.rows
    whole = all(
        row.in_rounds and not row.ends and row.goes_up and len(row.cells) == grid.width
        and not any(
            cell.extra or cell.stitch in (WAITING, "co", "pu")
            or (cell.stitch == MORE and cell.column not in grid.amid_crossings(row))
            for cell in row.cells
        )
        for row in rows
    )  # fmt: skip
    if not rows or not whole:
        return grid
    keys = [[(cell.stitch, cell.yarn) for cell in row.cells] for row in rows]
    for width in range(1, grid.width // 2 + 1):
        times, over = divmod(grid.width, width)
        if not over and all(key == key[:width] * times for key in keys):
            blocks = [
                Block([attrs.evolve(row, cells=row.cells[:width]) for row in block.rows],
                      block.times)
                for block in grid.blocks
            ]  # fmt: skip
            return attrs.evolve(grid, width=width, blocks=blocks, across=times)
    return grid
