# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A round told for one half, with words that the other is worked alike, in one form of words.

"On the top k1, ssk, k to 3 before the end, k2tog, k1; on the sole exactly the same" and "front
needle: …; back needle: as front needle" are ``…; then the same over the other half``.
"""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["with_other_half"]

_PART = r"(?:needle|tip|sts|stitches|half|side)"
_UPPER = r"(?:instep|top|front|upper|back of the hand)"
_LOWER = r"(?:sole|palm|back|underside|bottom|lower|heel)"
_A = rf"(?:(?:the )?(?:{_UPPER}|{_LOWER})(?: {_PART})?|(?:the )?first (?:{_PART}))"
_OTHER = (
    rf"(?:the )?(?:(?:{_LOWER}|{_UPPER})(?: {_PART})?|(?:other|second|2nd|next|remaining) {_PART})"
)
_ON = r"(?:on|over|across|for|along|at)"
_SAME = rf"(?:(?:exactly|just|quite) )?(?:(?:in )?the (?:very )?same(?: way| manner| again)?|same|alike|likewise|similarly|ditto|so too|(?:as|like)(?: {_ON})? {_A})"
_DOES = r"(?:(?:do|work|knit|make|repeat|rep) )?"
_ALIKE = (
    rf"(?:{_DOES}(?:{_ON} )?{_OTHER}[:,]? (?:is |are )?(?:worked |done |knitted |shaped )?{_SAME}"
    rf"|{_DOES}{_SAME}(?: thing)? {_ON} {_OTHER}|(?:repeat|rep)(?: this| it)? {_ON} {_OTHER})"
)
_SHAPES = r"(?:k2tog|ssk|skpo?|k ?2 ?tog|ssp|p2tog|m1\w?|kfb|yo)"
_SET = WordForm(
    rf"(?P<b>^|: |[.;] )(?P<first>(?:{_ON} )?{_A}[:,]? )?(?P<row>(?:[kp] ?\d|knit|purl|k to|ssk|skp|sl)(?=[^.:;*()]*\b{_SHAPES})[^.:;*()]*?)(?:[;,.]| and| [–—-]) (?:(?:and|then|now),? )*{_ALIKE}(?=\.|;|,? \(|\s*$| [(=–—]|: \d)"
)
_TO_LAST = WordForm(
    rf"\bto (?:(?:the )?last (?P<n>\d+)(?: (?:{_UPPER}|{_LOWER}))?|(?P<m>\d+)(?: sts?| stitch(?:es)?)? (?:before|from) the end(?: of (?:the )?(?:(?:{_UPPER}|{_LOWER}|first) )?{_PART})?)(?: sts?\b| stitch(?:es)?\b)?"
)


def with_other_half(said: MappedText) -> MappedText:
    """Return a line with a half that is worked like one told in one form of words.

    Examples
    --------
    >>> told = "Round 1: On the top k1, ssk, k to 3 before the end, k2tog, k1; on the sole the same."
    >>> with_other_half(MappedText.of(told)).text
    'Round 1: k1, ssk, k to last 3 sts, k2tog, k1; then the same over the other half.'
    """
    return said.sub(_SET, _in_one_form)


def _in_one_form(match: re.Match[str]) -> str:
    row = _TO_LAST.sub(lambda far: f"to last {far['n'] or far['m']} sts", match["row"])
    if "turn" in row or " to " not in row:
        return match[0]
    return f"{match['b']}{row}; then the same over the other half"
