# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A round that is the same on each needle, in one form of words.

"Knit to the last 3 sts of every needle, k2tog, k1", "knit 1 round, k2tog at the end of each needle"
and "all needles: k13, ssk, k1" are ``On each needle: …``.
"""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import MANY, whole_number

__all__ = ["with_each_needle"]

_STS = r"(?:sts?\b|stitch(?:es)?\b)"
_NEEDLE = r"(?:each|every|all|both)(?: of the)?(?: (?:two|three|four|2|3|4))? needles?"
_BEGIN = r"(?P<b>^|: |[.;] )(?:(?:and|then|now),? )*"
_STOP = r"(?=[.;]|\s*$| ?[(\[=–—]|: \d)"
_ROUND = r"(?:(?:k|knit|work) (?:1|one|a|the next) (?:round|rnd)(?:,? (?:and |but )?(?:in|on) (?:this|that|the same) (?:round|rnd))?)"
_DEC = rf"(?:k ?2 ?tog|ssk|skp|k(?:nit)? (?:2|two)(?: {_STS})? tog(?:ether)?|m1[lr]?|kfb)"
_LABEL = WordForm(  # "all needles: k13, ssk, k1", "every needle alike: …"
    rf"(?P<b>^|: |[.;] )(?:on )?{_NEEDLE}(?: the same| alike)?[:,] (?=[kp] ?\d|k to|knit to|ssk|k2tog|sl)"
)
_BRACKETED = WordForm(rf"(?P<round>^(?:round|rnd) \d{{1,3}}) ?\((?:on )?{_NEEDLE}\): ?")
_TO_LAST = WordForm(
    rf"{_BEGIN}(?P<row>(?:k|knit|p|purl|k1|ssk)\b(?:(?! to )[^.:;*()])*?(?:(?<=k)|(?<=knit)|(?<=p)|(?<=purl)|(?<=work)) )to (?:the )?last (?P<n>{MANY}) {_STS} (?:(?:of|on) {_NEEDLE}|on needle)(?:, | and )(?P<then>[^.:;*()]*?){_STOP}"
)
_AT_END = WordForm(
    rf"{_BEGIN}(?:{_ROUND}|k|knit)?(?:,? (?:and|but|with|working|making)| while| always)*,? ?(?P<dec>{_DEC})(?P<more>, k1)? at the (?P<where>end|beginning|start) of {_NEEDLE}{_STOP}"
)
_BOTH_ENDS = WordForm(
    rf"{_BEGIN}(?P<first>k1, {_DEC}) at the (?:beginning|start) and (?P<last>{_DEC}, k1) at the end of {_NEEDLE}{_STOP}"
)
_THESE_TWO = re.compile(rf"\bk(?:nit)? these (?:2|two)(?: {_STS})? tog(?:ether)?", re.IGNORECASE)
_PARTS = WordForm(  # "each part: k7, k2tog"
    rf"(?P<b>^|: |[.;] )(?:on |in )?(?:each|every) (?:part|section|quarter|third|sixth|wedge)[:,] (?P<row>[kp] ?\d[^.:;*()]*?){_STOP}"
)


def with_each_needle(said: MappedText) -> MappedText:
    """Return a line with a round that is alike on all needles told in one form of words.

    Examples
    --------
    >>> with_each_needle(MappedText.of("Knit 1 round, k2tog at the end of each needle.")).text
    'On each needle: k to last 2 sts, k2tog.'
    >>> with_each_needle(MappedText.of("Each part: k7, k2tog. 32 sts.")).text
    '*K7, k2tog; rep from * to end. 32 sts.'
    """
    said = said.sub(_LABEL, r"\g<b>On each needle: ")
    said = said.sub(_BRACKETED, r"\g<round>: On each needle: ")
    said = said.sub(_TO_LAST, _to_last).sub(_AT_END, _at_end).sub(_BOTH_ENDS, _both_ends)
    return said.sub(_PARTS, _around)


_BY_ITSELF = re.compile(
    r"\bneedles? (?:\d|one|two)|\bN\d|\bhal(?:f|ves)\b|\*|\bsides?\b", re.IGNORECASE
)


def _to_last(match: re.Match[str]) -> str:
    if _BY_ITSELF.search(match.string):
        return match[0]
    many = match["n"] if match["n"][0].isdigit() else str(whole_number(match["n"]))
    then = _THESE_TWO.sub("k2tog", match["then"])
    return f"{match['b']}On each needle: {match['row'].lower()}to last {many} sts, {then}"


def _at_end(match: re.Match[str]) -> str:
    dec = match["dec"].lower() if " " not in match["dec"] else "k2tog"
    if match["where"] != "end":
        return f"{match['b']}On each needle: {dec}{match['more'] or ''}, k to end"
    takes = {"m1": 0, "m1l": 0, "m1r": 0, "kfb": 1}.get(dec, 2) + bool(match["more"])
    far = f"k to last {takes} sts" if takes else "k to end"
    return f"{match['b']}On each needle: {far}, {dec}{match['more'] or ''}"


def _both_ends(match: re.Match[str]) -> str:
    return f"{match['b']}On each needle: {match['first']}, k to last 3 sts, {match['last']}"


def _around(match: re.Match[str]) -> str:
    return f"{match['b']}*{match['row'].capitalize()}; rep from * to end"
