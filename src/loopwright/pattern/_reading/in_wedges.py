# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches told for one wedge of many: "until 2 sts remain in each wedge"."""

from __future__ import annotations

from typing import Final

from loopwright.pattern._certain_changes import change_of
from loopwright.pattern._reading.named_rows import last_shaping
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import STS
from loopwright.pattern.items import Repeat

__all__ = ["of_all_wedges"]

_WEDGE: Final = r"(?:wedge|section|segment|gore|repeat|part|petal|triangle)"
_LEFT: Final = r"(?:remain|rem\b\.?|are left|left)"
_IN_EACH = WordForm(
    rf"\buntil (?:there are |you have |only )*(?P<n>\d+)(?: {STS})?(?: {_LEFT})? (?:in|on|per|for) (?:each|every)(?: of the)?(?: \w+)? {_WEDGE}s?\b(?: {_LEFT})?"
    rf"|\buntil (?:each|every)(?: of the)? {_WEDGE}s? (?:has|holds|counts|is down to|is|contains) (?:only )?(?P<n2>\d+)(?: {STS})?(?: {_LEFT})?"
)


def of_all_wedges(scribe: Scribe, said: MappedText) -> MappedText:
    """Put the stitches of the whole round for those that are to remain in each wedge.

    There are as many wedges as the last round that shaped had repeats.
    """
    wedges = _wedges(scribe) if _IN_EACH.search(said.text) is not None else 0
    if not wedges:
        return said
    return said.sub(
        _IN_EACH, lambda match: f"until {wedges * int(match['n'] or match['n2'])} sts remain"
    )


def _wedges(scribe: Scribe) -> int:
    """Return how many repeats the last round that shaped had, 0 where it is not all repeats."""
    row, live = last_shaping(scribe), scribe.now()
    if row is None or len(row.items) != 1 or not isinstance(row.items[0], Repeat):
        return 0
    repeat = row.items[0]
    if isinstance(repeat.times, int):
        return repeat.times
    made = change_of(repeat.items, scribe.table)
    leaves = 0 if made is None else sum(made)
    counts = {tally.count for tally in live.tallies}
    if leaves <= 0 or len(counts) != 1 or not live.sure:
        return 0
    wedges, over = divmod(counts.pop(), leaves)
    return 0 if over else wedges
