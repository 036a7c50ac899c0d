"""The chart as data: rows of cells and what repeats.

A grid shows the right side. Column 0 is where right-side rows begin: at the right, in a left-handed
chart at the left. The first row is at the bottom. Where no cell stands there is no stitch.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property

import attrs

from loopwright.border import guard
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.making import Hand
from loopwright.pattern import Side

__all__ = ["MORE", "WAITING", "Block", "ChartRow", "Grid", "Square"]

WAITING = "."  # a live stitch that this row leaves unworked
MORE = "&"  # a further loop of the stitch worked just before it


@attrs.frozen
class Square:
    """One square.

    Parameters
    ----------
    column : int
        0 where right-side rows begin.
    stitch : str
        Key of the stitch table, `WAITING` or `MORE`.
    extra : str
        ``"wraps"`` (with the wraps beside it), ``"lifted"`` (with a strand lifted before it),
        ``"lifted after"`` (with one behind it) or ``""``.
    yarn : str
        Name of the yarn; ``""`` in a chart of one yarn.
    """

    column: int
    stitch: str
    extra: str = ""
    yarn: str = ""


def _cells(cells: Iterable[Square]) -> tuple[Square, ...]:
    return tuple(sorted(cells, key=lambda cell: cell.column))


@attrs.frozen
class ChartRow:
    """One row or round.

    Parameters
    ----------
    number : int
        As the written rounds count, under the same heading; 0 where they give it none.
    side : Side
        The side that faces the knitter.
    in_rounds : bool
    cells : tuple of Square
        By column.
    ends : str
        ``""`` at the end of the row or round, ``"turn"``, ``"wrap"`` (wrap the next stitch and
        turn) or ``"part"`` (the round goes on elsewhere).
    count : int
        Live stitches after it.
    """

    number: int
    side: Side
    in_rounds: bool
    cells: tuple[Square, ...] = attrs.field(converter=_cells)
    ends: str = ""
    count: int = 0

    @property
    def goes_up(self) -> bool:
        """Whether it is worked from column 0 on: right-side rows and rounds are."""
        return self.side is Side.RS

    @property
    def worked(self) -> tuple[Square, ...]:
        """The stitches in the order in which they are worked, without those left waiting."""
        cells = tuple(cell for cell in self.cells if cell.stitch not in (WAITING, MORE))
        return cells if self.goes_up else cells[::-1]

    def turning_column(self) -> int | None:
        """Return the column of the stitch at which the work turned, None where there was none."""
        if self.ends not in ("turn", "wrap") or not self.worked:
            return None
        last = self.worked[-1].column
        columns = [cell.column for cell in self.cells if cell.stitch == WAITING]
        if self.goes_up:
            return min((c for c in columns if c > last), default=None)
        return max((c for c in columns if c < last), default=None)


def _rows(rows: Iterable[ChartRow]) -> tuple[ChartRow, ...]:
    return tuple(rows)


@attrs.frozen
class Block:
    """Rows worked one after the other, `times` times in all."""

    rows: tuple[ChartRow, ...] = attrs.field(converter=_rows)
    times: int = 1

    def numbers(self, row: int) -> str:
        """Return the numbers of one of its rows, in words for the margin.

        Examples
        --------
        >>> rib = ChartRow(3, Side.RS, True, [Square(0, "k")])
        >>> Block([rib], 12).numbers(0), Block([rib, rib], 6).numbers(0)
        ('3–14', '3, 5 … 13')
        """
        first, step = self.rows[row].number, len(self.rows)
        if not first:
            return ""
        last = first + step * (self.times - 1)
        if self.times == 1:
            return str(first)
        if step == 1:
            return f"{first}\N{EN DASH}{last}"
        return f"{first}, {last}" if self.times == 2 else f"{first}, {first + step} … {last}"


def _blocks(blocks: Iterable[Block]) -> tuple[Block, ...]:
    return tuple(blocks)


@attrs.frozen
class Grid:
    """Some rows of one size.

    Parameters
    ----------
    title : str
    width : int, columns
    blocks : tuple of Block
        Bottom first.
    across : int
        How many times the columns shown stand side by side in a round.
    start : int, stitches
        Live before the first row.
    size : str
    hand : Hand
        Whose; a left-handed knitter's fabric, and so the chart, is the mirror image.
    stitches : StitchTable
        Where the key finds what stitches are called; two charts of the same rows are equal without.
    colours : mapping of str to str
        Of yarns by name, for drawing: ``"#24476b"``; ours for those that have none.
    """

    title: str
    width: int
    blocks: tuple[Block, ...] = attrs.field(converter=_blocks)
    across: int = 1
    start: int = 0
    size: str = ""
    hand: Hand = Hand.RIGHT
    stitches: StitchTable = attrs.field(default=STITCHES, eq=False, repr=False)
    colours: Mapping[str, str] = attrs.field(factory=dict, eq=False, repr=False, hash=False)

    @property
    def mirrored(self) -> bool:
        """Whether column 0 is at the left."""
        return self.hand is Hand.LEFT

    def reads_left(self, row: ChartRow) -> bool:
        """Return whether a row is read from right to left."""
        return row.goes_up != self.mirrored

    def amid_crossings(self, row: ChartRow) -> frozenset[int]:
        """Return the columns of squares that the sign of a crossing fills, but for its first.

        Examples
        --------
        >>> row = ChartRow(1, Side.RS, True, [Square(0, "2/1rc"), Square(1, MORE), Square(2, MORE)])
        >>> sorted(Grid("Cable", 3, [Block([row])]).amid_crossings(row))
        [1, 2]
        """
        found, left = set(), 0
        for cell in row.cells if row.goes_up else reversed(row.cells):
            if cell.stitch == MORE and left:
                found.add(cell.column)
                left -= 1
            elif cell.stitch in self.stitches and self.stitches[cell.stitch].is_crossing:
                left = self.stitches[cell.stitch].takes - 1
            else:
                left = 0
        return frozenset(found)

    @cached_property
    def rows(self) -> tuple[ChartRow, ...]:
        """The rows shown, bottom first."""
        return tuple(row for block in self.blocks for row in block.rows)

    @property
    def yarns(self) -> tuple[str, ...]:
        """Names of the yarns, in the order of their first use; empty if there is just one."""
        names = [cell.yarn for row in self.rows for cell in row.worked]
        return tuple(dict.fromkeys(name for name in names if name))

    def all_rows(self) -> Iterator[ChartRow]:
        """Yield the rows in the order of working, repeated ones again and again."""
        for block in self.blocks:
            for time in range(block.times):
                for row in block.rows:
                    more = time * len(block.rows) if row.number else 0
                    yield attrs.evolve(row, number=row.number + more)


guard(globals())
