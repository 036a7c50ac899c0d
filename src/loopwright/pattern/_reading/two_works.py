# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Plain work told in one sentence with more plain work, or with a slipped edge."""

from __future__ import annotations

import re
from collections.abc import Callable

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.rule_table import Says
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.terse import with_verb
from loopwright.pattern.items import KNIT, PURL, Run

__all__ = ["apart", "without_slips"]

Reads = Callable[[Scribe, MappedText], list[Says] | None]

_COURSES = r"(?:rounds?|rnds?|rows?)"
_EXTENT = re.compile(
    rf"\d[^;:*]*?(?:\b(?:{_COURSES}|cm|mm|in|inch|inches|ins)\b|\")|\b(?:until|till)\b",
    re.IGNORECASE,
)
_NEXT = re.compile(  # "rib 12 rounds, then st st until 15 cm": each with an extent of its own
    rf"[,;]? (?:and )?then (?:keep |go on |continue |carry on )?|[,;] (?:and )?(?=(?:change|switch|keep|go on|continue|carry)\b)|,? and (?=(?:knit|work|purl|rib|\d+ {_COURSES})\b)|, (?=\d+ {_COURSES}\b)",
    re.IGNORECASE,
)
_CHANGED = re.compile(
    r"^(?:change|switch) (?:back )?to (?=[^,;]*? (?:for|until|till) )|^(?=in )", re.I
)


def apart(scribe: Scribe, text: str, read: Reads) -> list[Says] | None:
    """Read two plain works in one sentence, each with a number of rounds or a length."""
    for between in _NEXT.finditer(text):
        first, then = text[: between.start()], text[between.end() :]
        if _EXTENT.search(first) and _EXTENT.search(then):
            before = read(scribe, MappedText.of(first))
            said = _CHANGED.sub("work in " if then[:2].lower() != "in" else "work ", then)
            after = before and read(scribe, MappedText.of(with_verb(said)))
            if before and after:
                return [*before, *after]
    return None


_FIRST = (
    r"(?:(?:the |an? )?(?:first|1st|edge) st(?:itch)?|(?:the )?(?:every|each) first st(?:itch)?)"
)
_OF_ROWS = r"(?: (?:of|on|in|at the (?:start|beginning) of) (?:each|every|all(?: the)?|the) (?:new |single )?rows?)?"
_SLIPS = re.compile(
    rf"(?:,? (?:and |but )?(?:always )?|^)(?:slipping|slip|with) (?:{_FIRST}{_OF_ROWS}(?P<off> slipped)?|(?:a |the )?slipped first st(?:itch)?{_OF_ROWS})(?: (?:purlwise|pwise|as if to purl))?(?:,? (?:with )?(?:the )?yarn (?:in|at) (?:the )?(?:back|front))?(?:(?<!^), ?(?:and )?)?"
    rf"|,? (?:and )?(?:{_FIRST} of (?:each|every) row|(?:each|every) first st(?:itch)?) (?:is |being )?slipped"
    rf"|,? (?:each|every one) beginning with (?:sl 1|a slipped st(?:itch)?)",
    re.IGNORECASE,
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
