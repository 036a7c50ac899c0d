# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches told for a part of the round: "until 2 sts remain in each wedge", "to 12 gusset sts"."""

from __future__ import annotations

import re
from typing import Final

from loopwright.pattern._certain_changes import change_of
from loopwright.pattern._reading.named_rows import last_shaping
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._reading.stated import numbers_of_sizes
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern._tally import MARKER
from loopwright.pattern.items import Repeat, Run
from loopwright.pattern.values import To, sized

__all__ = ["of_all_wedges", "of_gusset_and_hand"]

_WEDGE: Final = r"(?:wedge|section|segment|gore|repeat|part|petal|triangle)"
_LEFT: Final = r"(?:remain|rem\b\.?|are left|left)"
_IN_EACH = WordForm(
    rf"\b(?:un)?til+ (?:there (?:are|is) |you have |only )*(?P<n>\d+)(?: {STS})?(?: {_LEFT})? (?:in|on|per|for) (?:each|every)(?: of the)?(?: \w+)? {_WEDGE}s?\b(?: {_LEFT})?"
    rf"|\b(?:un)?til+ (?:each|every)(?: of the)? {_WEDGE}s? (?:has|holds|counts|is down to|is|contains) (?:only )?(?P<n2>\d+)(?: {STS})?(?: {_LEFT})?"
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


_GUSSET: Final = r"(?:thumb|gusset|gore)"
_OF_GUSSET = WordForm(
    rf"\b(?:(?:un)?til+|up to|to) (?:there are |you have |you've got )?(?P<n>{COUNT}) (?:{_GUSSET} {STS}|{STS} (?:for|in|on|to) (?:the |your )?{_GUSSET})(?! gusset)(?!\s*[,;(=:–—-]+ ?\d)"
    rf"|\b(?:un)?til+ (?:the |your )?{_GUSSET}(?: gusset)? (?:has|holds|counts|is|(?:measures|reaches)(?= {COUNT} {STS})) (?P<n2>{COUNT})(?: {STS})?(?: wide)?(?!\s*[,;(=:–—-]+ ?\d)"
)


def of_gusset_and_hand(scribe: Scribe, said: MappedText) -> MappedText:
    """Put all stitches there are to be for those that a gusset between two markers is to have."""
    if _OF_GUSSET.search(said.text) is None:
        return said
    live = scribe.now()
    rest: list[int] = []
    for tally in live.tallies:
        hung = [n for (kind, _), n in tally.ahead_at.items() if kind == MARKER]
        within = sorted(n for n in hung if 0 < n < tally.ahead)
        if not 1 <= len(within) <= 2 or tally.behind:
            return said
        gusset = within[-1] - within[0] or min(within[0], tally.count - within[0])
        if len(within) == 1 and gusset * LARGER > tally.count:
            return said  # which of the two sides it is, is not known
        rest.append(tally.count - gusset)
    if not live.sure:
        return said

    def whole(match: re.Match[str]) -> str:
        many = numbers_of_sizes(match["n"] or match["n2"], len(rest))
        if not many:
            return match[0]
        return f"until there are {sized([a + b for a, b in zip(rest, many, strict=True)])} sts"

    return said.sub(_OF_GUSSET, whole)


LARGER = 3  # times that a hand is wider than the gusset beside its one marker (nobody's figure)


def _wedges(scribe: Scribe) -> int:
    """Return how many repeats the last round that shaped had, 0 where it is not all repeats."""
    row, live = last_shaping(scribe), scribe.now()
    if row is None or len(row.items) != 1 or not isinstance(row.items[0], Repeat):
        return 0
    repeat = row.items[0]
    if isinstance(repeat.times, int):
        return repeat.times
    if any(isinstance(one, Run) and isinstance(one.amount, To) for one in repeat.items):
        return 0
    made = change_of(repeat.items, scribe.table)
    leaves = 0 if made is None else sum(made)
    counts = {tally.count for tally in live.tallies}
    if leaves <= 0 or len(counts) != 1 or not live.sure:
        return 0
    wedges, over = divmod(counts.pop(), leaves)
    return 0 if over else wedges
