"""A row of counted stitches that goes on from itself: each time its longest run fits anew.

"*K1, ssk, k20, k2tog, k1; rep from * once more. Continue to decrease like this on every other
round": the run between the decreases holds what there is between them.
"""

from __future__ import annotations

from typing import Any

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._certain_changes import change_of
from loopwright.pattern._contents import things_in
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern.items import Item, On, Repeat, Run
from loopwright.pattern.program import Pattern, of_size
from loopwright.pattern.values import To, sized, values_of

__all__ = ["from_itself"]


def from_itself(scribe: Scribe, row: st.Round | st.Row) -> tuple[st.Round | st.Row, Any] | None:
    """Return a row such that the next like it fits what is on the needles, and how it grows."""
    live = scribe.now()
    body, times, only = row.items, 1, row.items[0]
    if len(body) == 1 and isinstance(only, Repeat) and isinstance(only.times, int):
        body, times = only.items, only.times
    if any(isinstance(one, To | Repeat | On) for item in body for one in things_in(item)):
        return None
    counted = [item for item in body if isinstance(item, Run) and item.stitch in ("k", "p")]
    if not counted or not live.sure or live.behind_any():
        return None
    most = max(counted, key=lambda item: int(values_of(item.amount)[0])).amount  # type: ignore[arg-type]
    longest = [item for item in counted if item.amount == most]
    amounts, changes = [], set()
    for size, tally in enumerate(live.tallies):
        once = attrs.evolve(row, items=body, count=None)
        (one,) = of_size(Pattern("", (once,), sizes=live.size_names), size).steps
        found = change_of(one.items, scribe.table)  # type: ignore[attr-defined]
        if found is None or not found[1] or tally.count % times or found[1] % len(longest):
            return None
        more, uneven = divmod(tally.count // times - found[0] - found[1], len(longest))
        if uneven:
            return None
        had = values_of(most)  # type: ignore[arg-type]
        amounts.append(int(had[min(size, len(had) - 1)]) + more)
        changes.add(found[1] // len(longest))
    if len(changes) != 1 or min(amounts) + min(changes) < 0:
        return None
    return _with_runs(row, body, longest, amounts), _growth(row, body, longest, changes.pop())


def _with_runs(
    row: st.Round | st.Row, body: tuple[Item, ...], longest: list[Run], amounts: list[int]
) -> st.Round | st.Row:
    new = tuple(
        attrs.evolve(item, amount=sized(amounts))
        if isinstance(item, Run) and _is_one_of(item, longest)
        else item
        for item in body
    )
    only = row.items[0]
    items = (attrs.evolve(only, items=new),) if isinstance(only, Repeat) else new
    return attrs.evolve(row, items=items, count=None)


def _growth(row: st.Round | st.Row, body: tuple[Item, ...], longest: list[Run], by: int) -> Any:
    inner = tuple(by if _is_one_of(item, longest) else 0 for item in body)
    return inner if body is row.items else ((inner, 0),)


def _is_one_of(item: Item, some: list[Run]) -> bool:
    return any(item is one for one in some)
