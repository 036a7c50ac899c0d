# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Plain rows whose first stitch is slipped: "16 rows in stocking stitch, slipping the first st of each"."""

from __future__ import annotations

from collections.abc import Callable

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.items import KNIT, PURL, Run

__all__ = ["without_slips"]

Reads = Callable[[Scribe, MappedText], list[Says] | None]

_FIRST = (
    r"(?:(?:the |an? )?(?:first|1st|edge) st(?:itch)?|(?:the )?(?:every|each) first st(?:itch)?)"
)
_OF_ROWS = r"(?: (?:of|on|in|at the (?:start|beginning) of) (?:each|every|all(?: the)?|the) (?:new |single )?rows?)?"
_SLIPS = WordForm(
    rf"(?:,? (?:and |but )?(?:always )?|^)(?:slipping|slip|with) (?:{_FIRST}{_OF_ROWS}(?: slipped)?|(?:a |the )?slipped first st(?:itch)?{_OF_ROWS})(?: (?:purlwise|pwise|as if to purl))?(?:,? (?:with )?(?:the )?yarn (?:in|at) (?:the )?(?:back|front))?"
    rf"|,? (?:and )?(?:{_FIRST} of (?:each|every) row|(?:each|every) first st(?:itch)?) (?:is |being )?slipped"
    r"|,? (?:each|every one) beginning with (?:sl 1|a slipped st(?:itch)?)",
)


def without_slips(scribe: Scribe, said: MappedText, read: Reads) -> list[Says] | None:
    """Read rows "slipping the first st of each": that stitch is slipped in each plain row."""
    match = _SLIPS.search(said.text)
    if match is None:
        return None
    rest = f"{said.text[: match.start()]}{said.text[match.end() :]}".strip(" ,")
    found = read(scribe, MappedText.of(rest)) if rest else None
    slipped = [_slipped(one) if isinstance(one, st.Step) else one for one in found or ()]
    return slipped if found and slipped != found else None


def _slipped(step: st.Step) -> st.Step:
    if isinstance(step, st.RepeatRounds):
        return attrs.evolve(step, steps=tuple(map(_slipped, step.steps)))
    if isinstance(step, st.Row) and step.items in ((KNIT,), (PURL,)):
        return attrs.evolve(step, items=(Run("sl"), *step.items))
    return step
