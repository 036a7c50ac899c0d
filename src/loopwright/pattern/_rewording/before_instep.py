# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The decreases of a gusset before and behind the instep, whatever that is called, in one form.

"Knit to 3 stitches before the holder stitches, k2tog, k1; knit 32; k1, ssk; knit to the end" is
``Knit to 3 sts before the instep, k2tog, k1, knit 32, k1, ssk, knit to the end``.
"""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["with_instep_named"]

_STS = r"(?:sts|stitches)\b"
_DEC = r"(?:k(?:nit)? ?(?:2|two) ?tog(?:ether)?|ssk|skpo?|k2tog tbl)"
_CALLED = rf"(?:(?:the |your )?(?:(?:holder|front|top[- ]of[- ](?:the[- ])?foot|reserve[d]?|spare|resting|foot[- ]top|upper) {_STS}|front(?= *,)|instep(?: {_STS})?)|the rib(?:bing|bed)?(?: {_STS})?(?= *,))"
_TO = WordForm(  # "k to 3 sts from the top-of-foot sts", "to the last 3 picked-up sts before the instep"
    rf"\b(?P<k>knit|k) (?:to|until) (?:the )?(?:last )?(?P<n>[1-4])(?: picked[- ]up)?(?: {_STS})?(?: (?:are left|remain))? (?:before|from) {_CALLED}(?=,? (?:and )?{_DEC})"
)
_WHEN = WordForm(  # "k2tog when 3 sts remain before the instep, k1"
    rf"(?P<b>^|[.;:] )(?P<dec>{_DEC}) (?:when|as soon as|where) (?P<n>[1-4]) {_STS} (?:remain|are left) before {_CALLED}"
)
_ROUND = WordForm(  # a round in which each part ends in a semicolon
    rf"\bk(?:nit)? to [1-4] sts before the instep,[^.;:*]*?{_DEC}[^.:*;]*; (?:knit|k|work|rib)(?: across)? ?(?:the )?(?:\d{{2,3}}(?: ?[(\[][^()\[\]]*[)\]])?(?: (?:instep )?{_STS})?|instep(?: {_STS})?)[;,] (?:[^.:*;]*;)*[^.:*;]*(?=\.|$)"
)
_IN_PATTERN = WordForm(  # "…, k2tog, k1, rib 32, k1, ssk, k to end": so many of the instep
    rf"(?P<lead>\bk(?:nit)? to (?:the last )?[1-4] sts before (?:the )?instep(?: {_STS})?,[^.;:*]*?[,;] )(?:(?:rib|patt(?:ern)?)(?: across)? (?:the )?(?P<n>\d[\d ,()\[\]:/]*)(?: {_STS})?|work (?P<n2>\d[\d ,()\[\]:/]*)(?: {_STS})? in (?:rib(?:bing)?|patt\w*)(?: as set)?)(?=[,;])"
)
_STOPS = re.compile(r"; (?=(?:k|knit|ssk|skpo?|rib|work)\b|k\d)", re.IGNORECASE)


def with_instep_named(said: MappedText) -> MappedText:
    """Return a line with the instep called by its name where a gusset decreases before it.

    Examples
    --------
    >>> with_instep_named(MappedText.of("K to 3 sts before the reserve sts, k2tog, k1; k32; k1, ssk; k to end.")).text
    'K to 3 sts before the instep, k2tog, k1, k32, k1, ssk, k to end.'
    >>> with_instep_named(MappedText.of("K to 3 sts before the marker, k2tog, k1; k32.")).text
    'K to 3 sts before the marker, k2tog, k1; k32.'
    """
    said = said.sub(_WHEN, _when).sub(_TO, _to)
    said = said.sub(_IN_PATTERN, lambda one: f"{one['lead']}work {(one['n'] or one['n2']).strip()}")
    return said.sub(_ROUND, lambda match: _STOPS.sub(", ", match[0]))


def _to(match: re.Match[str]) -> str:
    """Name the instep in a round; a sentence on how to decrease on many rounds is read otherwise."""
    if "every " in match.string[: match.start()].lower():
        return match[0]
    return f"{match['k']} to {match['n']} sts before the instep"


def _when(match: re.Match[str]) -> str:
    knit = "K" if match["dec"][0].isupper() else "k"
    return f"{match['b']}{knit} to {match['n']} sts before the instep, {match['dec'].lower()}"
