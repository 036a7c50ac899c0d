"""Short rows that go outwards over a part of the round, until all of its stitches are worked."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._tally import GAP
from loopwright.pattern.items import Run, Turn

__all__ = ["widened"]

_ALL_OF = re.compile(r"all (?:the |of the )?(?P<n>\d{1,3}) (?:heel )?(?:sts|stitches)\b")


def widened(scribe: Scribe, rows: list[st.Round | st.Row], until: str) -> list[Says] | None:
    """Return the last two rows over and over, if both sides come to an end at the same time.

    In a round nothing else tells where the part ends: it begins where the round does.
    """
    said, live = _ALL_OF.match(until), scribe.now()
    if said is None or len(rows) < 2 or not live.in_rounds or not live.sure:
        return None
    if not all(isinstance(row, st.Row) and row.items[-1] == Turn() for row in rows[-2:]):
        return None
    if not all(_takes_one_up(row) for row in rows[-2:]):
        return None
    left = set()
    for tally in live.tallies:
        gap = tally.next_of(GAP, beyond=1)
        if gap is None or not tally.right_side:
            return None
        left |= {tally.behind, int(said["n"]) - tally.behind - gap}
    (times,) = left if len(left) == 1 else (0,)
    return [st.RepeatRounds(tuple(rows[-2:]), times, at=scribe.place)] if times > 0 else None


def _takes_one_up(row: st.Round | st.Row) -> bool:
    """Tell whether a row goes one stitch farther than the last: "knit DS as one, k1, turn"."""
    ends = row.items[-3:-1]
    taken = [item for item in ends if isinstance(item, Run) and item.amount == 1]
    return len(taken) == 2 and taken[0].with_wraps and not taken[1].with_wraps
