# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Work over all stitches that there are, told by their number: "on the remaining 23 sts work 8 rows"."""

from __future__ import annotations

from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._reading.stated import numbers_of_sizes
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["over_all"]

_LEFT = r"(?: (?:in the (?:middle|cent(?:er|re))|left|(?:that|which) (?:are|were)? ?(?:left|remain)|remaining|still on the needles?|on the needles?))?"
_OVER = WordForm(
    rf"(?:on|over|with) (?:just )?(?:the|these|those) (?:(?:remaining|middle|cent(?:er|re)|other) )?(?P<n>{COUNT})(?: (?:remaining |live )?{STS})?{_LEFT}(?: only| alone)?,? (?:in (?P<fabric>[a-z][a-z. ]{{1,24}}),? )?(?P<work>work|knit) (?P<many>\d+|[a-z]+)(?: more)? (?P<crs>rows|rounds|rnds)(?: more)?(?P<in> (?:in|of) [a-z][a-z. ]{{1,24}})?(?P<end>, [a-z -]+)?[.]?$",
)


def over_all(scribe: Scribe, said: MappedText) -> MappedText:
    """Leave away the number of all stitches that so many rows are worked over."""
    match = _OVER.match(said.text)
    if match is None:
        return said
    live = scribe.now()
    if not live.sure or live.is_within or not live.tallies:
        return said
    whole = tuple(tally.count for tally in live.tallies)
    if numbers_of_sizes(match["n"], len(whole)) != whole or (match["fabric"] and match["in"]):
        return said
    fabric = match["in"] or (f" in {match['fabric']}" if match["fabric"] else "")
    words = (
        f"{match['work'].capitalize()} {match['many']} {match['crs']}{fabric}{match['end'] or ''}."
    )
    last = len(said.at) - 1
    return MappedText(words, tuple(said.at[min(n, last)] for n in range(len(words) + 1)))
