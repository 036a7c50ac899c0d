# ruff: noqa: E501 - a message stands on one line
"""The one decrease of a turning row, against the gap that an earlier turn left before it."""

from __future__ import annotations

from collections.abc import Iterator

from loopwright.fabric.stitches import StitchTable
from loopwright.pattern._tally import GAP, Tally
from loopwright.pattern.items import Item, Repeat, Run
from loopwright.pattern.values import To, Where

__all__ = ["gap_left_open"]

FAR_FROM_GAP = 4  # stitches
MOST = 200  # times; no row repeats more


def gap_left_open(
    items: tuple[Item, ...], tally: Tally, table: StitchTable, *, wraps: bool = False
) -> str:
    """Say that the one decrease of a row does not close the gap that it comes to.

    Where stitches were wrapped, the wrapped one lies behind the gap, and may be taken with the next.
    """
    tally = tally.copy()
    if not tally.ahead and not tally.in_rounds:
        tally.turn()
    gap = tally.next_of(GAP, beyond=1)
    if gap is None:
        return ""
    place, found = 0, []
    for item in _one_by_one(items):
        if not isinstance(item, Run) or item.with_wraps or item.stitch == "ds":
            return ""
        if isinstance(item.amount, To):
            if item.amount.where is not Where.GAP:
                return ""
            place = gap - int(item.amount.before)  # type: ignore[arg-type]
            continue
        row = table[item.stitch]
        for _ in range(int(item.amount)):  # type: ignore[arg-type]
            if row.takes == 2 and row.leaves == 1:
                found.append(place)
            place += row.takes
    if len(found) != 1 or found[0] in (gap - 1, gap if wraps else gap - 1):
        return ""
    if place < gap and (found[0] + 2 != place or gap - place >= FAR_FROM_GAP):  # not at its end
        return ""
    if found[0] > gap + FAR_FROM_GAP:  # it passes gaps that were closed by their wraps
        return ""
    return f"the decrease takes stitches {found[0] + 1} and {found[0] + 2}, the gap lies behind stitch {gap}: it stays open"


def _one_by_one(items: tuple[Item, ...]) -> Iterator[Item]:
    """Yield items, those of a repeat of so many times one time after another."""
    for item in items:
        if isinstance(item, Repeat) and isinstance(item.times, int) and item.times <= MOST:
            for _ in range(item.times):
                yield from _one_by_one(item.items)
        else:
            yield item
