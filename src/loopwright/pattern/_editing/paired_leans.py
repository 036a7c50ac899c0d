# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Two decreases of one repeat that lean the same way, where another row of the text pairs them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Spoken
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["paired_leans"]

_LEFT = r"(?:ssk|skpo?)"
_PAIR = WordForm(
    rf"\*\s*(?:k|knit) ?(?:1|2), (?P<a>{_LEFT}|k2tog), (?:k|knit) ?(?:\d[^*;a-z]{{0,24}}|to (?:the )?(?:last )?[^*;]{{1,30}}?), (?P<b>{_LEFT}|k2tog)(?:, (?:k|knit) ?(?:1|2))?[;,.]? ?rep(?:eat)? (?:from )?\* (?:once|1 time|on|over|across|for)",
)


def paired_leans(sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find a top or a toe that is taken in with two decreases of one lean at its edges."""
    found = [(one, match) for one in sentences if (match := _PAIR.search(one.figures)) is not None]
    alike = [(one, m) for one, m in found if _leans(m["a"]) == _leans(m["b"])]
    if not alike or len(alike) == len(found):
        return
    for one, match in alike:
        place = one.place_in_figures(match.start("b"))
        said = f"{match['a']} and {match['b']} lean the same way, and do not in other rows: are they a pair?"
        yield Finding(WARNING, "lean", said, place.line, place.column)


def _leans(name: str) -> bool:
    return re.fullmatch(_LEFT, name, re.IGNORECASE) is not None
