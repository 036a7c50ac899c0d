"""The last two rows of a turned heel, which end without the stitch behind their decrease."""

from __future__ import annotations

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._contents import with_fields
from loopwright.pattern._tally import GAP, Tally
from loopwright.pattern.items import Run, Turn
from loopwright.pattern.values import UntilCount, UntilWorked, as_many, sized

__all__ = ["closed_at_edges"]


def closed_at_edges(step: st.Step, tallies: tuple[Tally, ...]) -> tuple[st.Step, ...]:
    """Let a turn that takes two stitches on each side end without the one behind its decrease.

    An odd number lies beyond the gaps: one is left for the last decrease, and none for the k1.
    Sizes where the number is even work no such rows.
    """
    if not isinstance(step, st.RepeatRounds) or not isinstance(
        step.times, UntilWorked | UntilCount
    ):
        return (step,)
    rows = step.steps
    if len(rows) != 2 or not tallies or not all(map(_works_one_more, rows)):
        return (step,)
    beyond = [(_beyond(tally), tally.behind) for tally in tallies]
    odd = [far % 2 for far, _ in beyond]
    if any(far != near or far < 2 for far, near in beyond) or not any(odd):
        return (step,)
    leaves = [t.count - far - far % 2 for t, (far, _) in zip(tallies, beyond, strict=True)]
    until = step.times.count if isinstance(step.times, UntilCount) else sized(leaves)
    if as_many(until, sized(leaves)) != tuple(leaves):
        return (step,)
    many = sized([far // 2 for far, _ in beyond])
    last = [with_fields(row, items=(*row.items[:-2], row.items[-1]), count=None) for row in rows]  # type: ignore[attr-defined]
    repeated = with_fields(step, times=many, count=None)
    if not all(odd):
        return (repeated, st.RepeatRounds(tuple(last), sized(odd), count=step.count, at=step.at))
    last[-1] = attrs.evolve(last[-1], count=step.count)
    return (repeated, *last)


def _works_one_more(row: st.Step) -> bool:
    """Tell whether a row ends with a decrease, one stitch more, and a turn."""
    if not isinstance(row, st.Row) or len(row.items) < 4 or row.items[-1] != Turn():
        return False
    shaped, more = row.items[-3:-1]
    one = more in (Run("k", 1), Run("p", 1))
    return one and isinstance(shaped, Run) and shaped.amount == 1 and shaped.stitch not in "kp"


def _beyond(tally: Tally) -> int:
    """Return how many stitches lie beyond the next gap, 0 where there is none."""
    gap = tally.next_of(GAP, beyond=1)
    return 0 if gap is None else tally.ahead - gap
