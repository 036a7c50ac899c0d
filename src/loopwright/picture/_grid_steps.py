"""From the rows of a grid back to the steps of a pattern."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from loopwright.pattern import (
    CastOn,
    Item,
    Join,
    Lift,
    Part,
    Pattern,
    PickUp,
    Repeat,
    RepeatRounds,
    Round,
    Row,
    Run,
    Step,
    Turn,
    UseYarn,
    With,
    WrapTurn,
)
from loopwright.picture.grid import ChartRow, Grid, Square

__all__ = ["pattern_of", "steps_of"]

_LIFTING = {"k2tog", "ssk", "m1l"}


def pattern_of(grid: Grid) -> Pattern:
    """Return the rows as a pattern that casts on what they start with."""
    rows = grid.rows
    opening: list[Step] = [UseYarn(name, new=True) for name in grid.yarns[:1]]
    opening.append(CastOn(grid.start))
    opening += [Join()] if rows and rows[0].in_rounds else []
    return Pattern(grid.title, (*opening, *steps_of(grid)))


def steps_of(grid: Grid) -> tuple[Step, ...]:
    """Return the rows as steps, repeated rows as repeats."""
    yarn = next(iter(grid.yarns), "")
    steps: list[Step] = []
    for block in grid.blocks:
        if block.times > 1:
            made, after = _block(block.rows, grid.across, yarn)
            if all(isinstance(step, Round | Row) for step in made) and (
                after == yarn or _names_yarn(made[0])
            ):
                steps.append(RepeatRounds(made, block.times))
                yarn = after
                continue
        for _ in range(block.times):
            made, yarn = _block(block.rows, grid.across, yarn)
            steps += made
    return tuple(steps)


def _names_yarn(step: Step) -> bool:
    """Whether a round says which yarn it begins with."""
    item = step.items[0] if isinstance(step, Round | Row) else None
    return isinstance(item.items[0] if isinstance(item, Repeat) else item, With)


def _block(rows: Iterable[ChartRow], across: int, yarn: str) -> tuple[list[Step], str]:
    steps: list[Step] = []
    for row in rows:
        made, yarn = _row(row, across, yarn)
        steps += made
    return steps, yarn


def _row(row: ChartRow, across: int, yarn: str) -> tuple[list[Step], str]:
    """Return the steps of one row, and the yarn in hand after it."""
    steps: list[Step] = []
    items: list[Item] = []
    several = len({cell.yarn for cell in row.worked}) > 1

    def part() -> None:
        if items:
            steps.append(Part(tuple(items)))
            items.clear()

    for (stitch, extra, name), cells in groupby(row.worked * _whole(row, across), key=_kind):
        times = sum(1 for _ in cells)
        if several and (name != yarn or not items):
            items.append(With(name))
            yarn = name
        elif name and name != yarn:
            part()
            steps.append(UseYarn(name))
            yarn = name
        if stitch == "co":
            part()
            steps.append(CastOn(times))
        elif stitch == "pu":
            items.append(PickUp(times, "edge"))
        elif extra.startswith("lifted") and stitch in _LIFTING:
            items += [Lift(stitch, beyond=extra == "lifted after")] * times
        else:
            items.append(Run(stitch, times, extra == "wraps"))
    if across > 1 and not _whole(row, across) - 1:
        items = [Repeat(tuple(items), across)]
    if items:
        steps.append(_closed(row, items))
    return steps, yarn


def _whole(row: ChartRow, across: int) -> int:
    """How often the columns must be written out: where one run fills all."""
    return across if len({_kind(cell) for cell in row.worked}) == 1 else 1


def _kind(cell: Square) -> tuple[str, str, str]:
    return cell.stitch, cell.extra, cell.yarn


def _closed(row: ChartRow, items: list[Item]) -> Step:
    if row.ends == "part":
        return Part(tuple(items))
    if row.ends == "wrap":
        return Row((*items, WrapTurn()), side=row.side)
    if row.ends == "turn":
        return Row((*items, Turn()), side=row.side)
    return Round(tuple(items)) if row.in_rounds else Row(tuple(items), side=row.side)
