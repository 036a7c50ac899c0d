"""Which side of the work faces the knitter, as steps state it."""

from __future__ import annotations

from loopwright.pattern import steps as st
from loopwright.pattern._contents import rounds_in
from loopwright.pattern.items import Stay
from loopwright.pattern.program import Pattern

__all__ = ["faces_after", "starts_on_right_side"]


def starts_on_right_side(pattern: Pattern) -> bool:
    """Tell whether the cast-on is seen from the right side: not if the first row is an RS row.

    Where the first rows don't state their sides, the first that does tells theirs.
    """
    rows = 0
    for step in pattern.steps:
        if isinstance(step, st.Join):
            return True
        for row in rounds_in((step,)):
            if not isinstance(row, st.Row):
                return True
            if row.side is not None:
                return (row.side == st.Side.WS) == (rows % 2 == 0)
            rows += 1
        if isinstance(step, st.RepeatRounds | st.OnlySizes):
            break  # how many rows that are in the end is not known here
    return not rows


def faces_after(row: st.Step, right_side: bool) -> bool:
    """Tell whether the right side faces after this row, if it was worked as it states."""
    if not isinstance(row, st.Row):
        return True
    if row.side is None:
        return right_side
    stays = isinstance(row.items[-1], Stay)
    return (st.Side(row.side) is st.Side.RS) == stays
