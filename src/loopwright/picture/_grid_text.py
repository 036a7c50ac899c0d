"""A grid as a table of comma-separated values, and back.

The table looks like the chart: the last row of the work is at the top, the first column of the
chart at the right. A few lines before it say what the squares can't::

    chart,Toe
    size,M
    start,24
    across,1
    round,side,way,ends,count,block,times,8,7,6,5,4,3,2,1
    2,RS,round,,8,2,1,k,k,k,k,k,k,k,k
    1,RS,round,,8,1,1,k,k2tog,,k,k,k2tog,,k

A left-handed chart says ``hand,left`` as well, and its first column is at the left.

A square holds the key of a stitch, ``.`` for a stitch left waiting, ``&`` for a further loop of the
stitch before it, or nothing for no stitch. ``+wraps`` or ``+lifted`` and ``@yarn`` follow.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from itertools import groupby
from typing import TypeVar

from loopwright.errors import PictureError
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.making import Hand
from loopwright.pattern import Side
from loopwright.picture._symbols import symbol_for
from loopwright.picture.grid import MORE, WAITING, Block, ChartRow, Grid, Square

__all__ = ["from_csv", "square", "to_csv"]

_T = TypeVar("_T")
_HEADS = ("round", "side", "way", "ends", "count", "block", "times")
_ENDS = ("", "turn", "wrap", "part")
_EXTRAS = ("", "wraps", "lifted", "lifted after")
_WIDEST, _MOST_ROWS, _MOST = 2000, 20000, 1_000_000
_LARGEST = 4 * 2**20  # characters
_MOST_HEADS = 100  # lines above the rounds


def square(cell: Square) -> str:
    """Return what stands in a square."""
    extra = f"+{cell.extra}" if cell.extra else ""
    return cell.stitch + extra + (f"@{cell.yarn}" if cell.yarn else "")


def to_csv(grid: Grid) -> str:
    """Return the table."""
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\n")
    table.writerow(("chart", grid.title))
    if grid.size:
        table.writerow(("size", grid.size))
    table.writerow(("start", grid.start))
    table.writerow(("across", grid.across))
    if grid.mirrored:
        table.writerow(("hand", "left"))
    table.writerow((*_HEADS, *_seen(grid.mirrored, list(range(1, grid.width + 1)))))
    rows = [(row, number, block.times) for number, block in enumerate(grid.blocks, start=1)
            for row in block.rows]  # fmt: skip
    for row, block, times in reversed(rows):
        squares = [""] * grid.width
        for cell in row.cells:
            squares[cell.column] = square(cell)
        way = "round" if row.in_rounds else "row"
        heads = (row.number or "", row.side.value, way, row.ends, row.count, block, times)
        table.writerow((*heads, *_seen(grid.mirrored, squares)))
    return text.getvalue()


def _seen(mirrored: bool, columns: list[_T]) -> list[_T]:
    """Return columns, from the first on, as the chart has them from left to right; and back."""
    return columns if mirrored else columns[::-1]


def from_csv(text: str, *, stitches: StitchTable = STITCHES) -> Grid:
    """Read the table.

    Raises
    ------
    PictureError
        A line is not as it should be; says which, what was found and expected.
    """
    if len(text) > _LARGEST or text.count("\n") > _MOST_ROWS + _MOST_HEADS:
        raise PictureError("chart", "is larger than any that is read", "chart a part of it")
    try:
        lines = [(at, line) for at, line in enumerate(csv.reader(io.StringIO(text)), start=1)
                 if any(field.strip() for field in line)]  # fmt: skip
    except csv.Error as error:
        raise PictureError(
            "chart", f"is no table: {error}", "give comma-separated values"
        ) from None
    facts: dict[str, str] = {}
    while lines and lines[0][1][0].strip() != _HEADS[0]:
        at, line = lines.pop(0)
        if line[0] not in ("chart", "size", "start", "across", "hand") or len(line) < 2:
            raise _wrong(at, f"{line[0]!r} is no head of a chart", f"expected {_HEADS[0]!r}")
        facts[line[0]] = line[1]
    if not lines:
        raise PictureError(
            "chart", "has no line that begins with 'round'", f"give the heads {','.join(_HEADS)}"
        )
    at, heads = lines.pop(0)
    if tuple(heads[: len(_HEADS)]) != _HEADS:
        raise _wrong(at, f"the heads are {','.join(heads[:7])}", f"expected {','.join(_HEADS)}")
    width = len(heads) - len(_HEADS)
    if not 0 < width <= _WIDEST or len(lines) > _MOST_ROWS:
        raise _wrong(at, f"{width} columns, {len(lines)} rows", "expected 1 to 2000 columns")
    mirrored = _one_of(0, facts.get("hand", "right"), "hand", ("left", "right")) == "left"
    found = [_row(at, line, width, stitches, mirrored) for at, line in reversed(lines)]
    blocks = []
    for _, group in groupby(found, key=lambda one: one[1:]):
        rows = list(group)
        blocks.append(Block([row for row, _, _ in rows], rows[0][2]))
    return Grid(
        facts.get("chart", ""), width, blocks, _whole(0, facts.get("across", "1"), "across", 1),
        _whole(0, facts.get("start", "0"), "start", 0), facts.get("size", ""),
        Hand.LEFT if mirrored else Hand.RIGHT, stitches,
    )  # fmt: skip


def _wrong(at: int, problem: str, advice: str) -> PictureError:
    return PictureError(f"chart, line {at}" if at else "chart", problem, advice)


def _whole(at: int, text: str, what: str, least: int) -> int:
    if not (text.isascii() and text.isdigit() and least <= int(text[:9]) <= _MOST):
        raise _wrong(at, f"{what} is {text!r}", f"expected a whole number from {least}")
    return int(text)


def _one_of(at: int, text: str, what: str, known: Iterable[str]) -> str:
    known = tuple(known)
    if text not in known:
        shown = ", ".join(repr(word) for word in known)
        raise _wrong(at, f"{what} is {text!r}", f"expected one of {shown}")
    return text


def _row(
    at: int, line: list[str], width: int, stitches: StitchTable, mirrored: bool
) -> tuple[ChartRow, int, int]:
    """Return a row with the number of its block and how many times that is worked."""
    if len(line) != len(_HEADS) + width:
        raise _wrong(at, f"{len(line)} fields", f"expected {len(_HEADS) + width}")
    number, side, way, ends, count, block, times = (field.strip() for field in line[:7])
    cells = []
    for column, text in enumerate(_seen(mirrored, line[len(_HEADS) :])):
        if text.strip():
            cells.append(_cell(at, column, text.strip(), stitches))
    row = ChartRow(
        _whole(at, number or "0", "round", 0),
        Side(_one_of(at, side, "side", ("RS", "WS"))),
        _one_of(at, way, "way", ("round", "row")) == "round",
        cells,
        _one_of(at, ends, "ends", _ENDS),
        _whole(at, count, "count", 0),
    )
    return row, _whole(at, block, "block", 0), _whole(at, times, "times", 1)


def _is_charted(stitch: str, stitches: StitchTable) -> bool:
    """Tell whether a square may hold this: not what stands between rows, a graft for one."""
    own = stitch in stitches and (stitch not in STITCHES or stitches[stitch].is_crossing)
    return own or stitch in (WAITING, MORE) or symbol_for(stitch, "RS") is not None


def _cell(at: int, column: int, text: str, stitches: StitchTable) -> Square:
    worked, _, yarn = text.partition("@")
    stitch, _, extra = worked.partition("+")
    if not _is_charted(stitch, stitches):
        raise _wrong(at, f"column {column + 1} holds {stitch!r}", "expected the key of a stitch")
    return Square(column, stitch, _one_of(at, extra, f"column {column + 1}", _EXTRAS), yarn)
