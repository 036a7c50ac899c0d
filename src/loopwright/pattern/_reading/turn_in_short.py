# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A heel's turn that goes on until nothing is left beside it: told in any words, known by its end."""

from __future__ import annotations

import re

from loopwright.fabric.stitches import STITCHES
from loopwright.pattern import steps as st
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.stated import numbers_of_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.items import Run, Turn
from loopwright.pattern.values import Count, sized

__all__ = ["may_go_on_turning", "turned_in_short"]

_GOES_ON = WordForm(
    r"\b(?:go on|going on|continu\w*|cont|carry on|keep|repeat\w*|rep|alternat\w*|do|work)\b[^.;]*\b(?:rows?|these|(?:this|that|same) (?:way|manner|fashion)|thus|like this)\b"
)
_LEFT = WordForm(
    rf"(?P<n>{COUNT}) ?(?:heel |live )?(?:sts?|stitches)\b(?! (?:before|between|from|each|at|on either|beyond|fewer|less|more))",
)
_ROWS = re.compile(r"\brows (?P<a>\d+) ?(?:and|&|-|–|to) ?(?P<b>\d+)\b", re.IGNORECASE)
_OTHERWISE = WordForm(
    r"\b(?:wrap\w*|w&t|ds|double|rounds?|rnds?|times|twice|pick|instep|markers?)\b|\brow \d+:"
)


def may_go_on_turning(text: str) -> bool:
    """Tell whether a line asks for turned rows told before, and tells how many stitches are left.

    Examples
    --------
    >>> may_go_on_turning("Go on with Rows 3 and 4. When no side sts are left, you have 8 stitches.")
    True
    >>> may_go_on_turning("Repeat Rows 3 and 4 five more times. 8 sts.")
    False
    """
    return bool(_GOES_ON.search(text) and _LEFT.search(text)) and not _OTHERWISE.search(text)


def turned_in_short(live: Live, text: str) -> tuple[str, Count] | None:
    """Return in short that a heel is turned to its end, and its stitches then."""
    there = tuple(tally.count for tally in live.tallies)
    last = live.last_rows(4)
    rows = last[-2:]
    if len(last) == 4 and last[1].items != last[3].items:
        return None  # they grow, and are told by their numbers
    turns = [isinstance(row, st.Row) and isinstance(row.items[-1], Turn) for row in rows]
    if live.in_rounds or len(rows) < 2 or not all(turns) or not all(map(_decreases, rows)):
        return None
    told = [numbers_of_sizes(one["n"], len(there)) for one in _LEFT.finditer(text)]
    left = [n for n in told if n and all(0 < a < b for a, b in zip(n, there, strict=True))]
    if not left:
        return None
    named = _ROWS.search(text)
    which = f"Rows {named['a']} and {named['b']}" if named else "the last 2 rows"
    count = sized(left[-1])
    return f"Rep {which} until all heel sts have been worked. {count} sts", count


def _decreases(row: st.Row | st.Round) -> bool:
    runs = [item for item in row.items if isinstance(item, Run) and item.stitch in STITCHES]
    return any(STITCHES[run.stitch].change < 0 for run in runs)
