# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Plain work that says that it goes over all stitches: "knit all sts every round for 45 rounds"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import MANY

__all__ = ["without_all_sts"]

_ROUND = r"(?:rounds?|rnds?|rows?)"
_ROUNDS = rf"(?:every|each|all) {_ROUND}"
_SO_MANY_STS = r"(?P<n> \d{1,4}(?: ?[(\[][\d ,:;/]+[)\]])?)?"
_ALL_STS = rf"(?:(?:on|over|across) )?(?:all|every|each)(?: of)?(?: (?:the|these|your|single))?{_SO_MANY_STS} (?:sts?|stitch(?:es)?)(?:,? (?:(?:of|on|in) )?{_ROUNDS})?"
_AROUND = r"(?:around(?: and (?:around|round))?|round and round|round after round)"
_LENGTH = r"(?:another |a further |about )?\d[\d.½¼¾ /]*(?:[(\[][\d., :;/½¼¾]+[)\]])? ?(?:cm|in|inch(?:es)?|[\"”″])(?![a-z])"
_OVER_ALL = WordForm(
    rf"\b(?P<verb>knit|purl|k|p|work|continue|cont|carry on|go on|keep on)(?P<even> even| straight| plain)? (?:{_ALL_STS}|(?P<round>{_ROUNDS})|{_AROUND})(?P<fabric> in [a-z][a-z .]{{2,30}}?| even| straight| plain)?,? "
    rf"(?:for (?P<another>another |a further )?(?P<many>{MANY}) (?:more )?(?P<crs>{_ROUND})|(?P<times>{MANY}) times|(?P<far>for {_LENGTH}|(?:un)?till?\b))"
)


def without_all_sts(said: MappedText) -> MappedText:
    """Return a line where plain work only says how far it goes.

    Examples
    --------
    >>> for text in ("Knit all sts every round for 45 rounds.", "Work over all 56 sts in St st for 4 in."):
    ...     print(without_all_sts(MappedText.of(text)).text)
    Knit for 45 rounds.
    Work over all 56 sts in St st for 4 in.
    """
    return said.sub(_OVER_ALL, _how_far)


def _how_far(match: re.Match[str]) -> str:
    verb, how = match["verb"], (match["even"] or "") + (match["fabric"] or "")
    if match["round"] and match["far"]:
        return match[0]  # "knit every round until": as everyone says it
    if match["times"]:
        return f"{verb} {match['times']} rounds{how}" if match["round"] else match[0]
    if match["far"]:
        return match[0] if match["n"] else f"{verb}{how} {match['far']}"
    far = f"{verb}{how} for {match['another'] or ''}{match['many']} {match['crs']}"
    return f"{far} ({match['n'].strip()} sts)" if match["n"] else far
