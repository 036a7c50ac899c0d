# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches cast on needle by needle: "cast on 8 sts on needle A and 8 on needle B"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Rewordings
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import NUMBER_WORDS

__all__ = ["with_cast_on_needles"]

_N = r"\d+(?: ?[(\[][\d, :]+[)\]])?"
_STS = r"(?:(?:sts|stitches|loops|wraps) )?"
_ON = r"(?:on ?to|on|to|over)"
_FIRST = r"(?:needle (?:1|a|one)|n ?1|(?:(?:first|1st|top|upper|one)(?: needle| dpn)?)|one)"
_OTHER = r"(?:needle (?:2|b|two)|n ?2|(?:second|2nd|other|bottom|lower)(?: needle| dpn)?)"
_MANY = rf"(?P<many>[2-5]|{'|'.join(NUMBER_WORDS[1:5])})"
_BEGIN = r"\b(?P<on>cast on|co|put|place|wind|make|set up)"
_TOTAL = r"(?=(?P<rest>[^.;:]{0,60}[.;:,(—–-]* ?[^.;\d]{0,24}?(?<!\d)(?P<total>\d+)(?: ?[(\[][\d, :]+[)\]])? ?(?:sts|stitches|in all|altogether|total|\)|\.|$))?)"
_CLOSED = WordForm(r"\bclosed cast-on, $")


def _numbers(text: str) -> list[int]:
    return [int(one) for one in re.findall(r"\d+", text)]


def _listed(numbers: list[int]) -> str:
    first, *more = map(str, numbers)
    return f"{first} ({', '.join(more)})" if more else first


def _casts_on(match: re.Match[str]) -> bool:
    """Tell whether stitches are cast on, and not arranged: "with a looped cast-on, put 8 …"."""
    if match["on"].lower() in ("cast on", "co"):
        return True
    return (
        re.search(r"\bcast[- ]on\b[^.\d]*$", match.string[: match.start()], re.IGNORECASE)
        is not None
    )


def _said(match: re.Match[str], each: list[int], many: int) -> str:
    verb = "Cast on" if match["on"][0].isupper() else "cast on"
    return (
        f"{verb} {_listed([many * n for n in each])} sts, {_listed(each)} on each of {many} needles"
    )


def _two(match: re.Match[str]) -> str:
    one, other = _numbers(match["n"]), _numbers(match["m"])
    if not _casts_on(match) or len(one) != len(other):
        return match[0]
    if one == other:
        return _said(match, one, 2)
    verb = "Cast on" if match["on"][0].isupper() else "cast on"
    both = _listed([a + b for a, b in zip(one, other, strict=True)])
    return (
        f"{verb} {both} sts, {_listed(one)} on the first needle and {_listed(other)} on the second"
    )


def _some(match: re.Match[str]) -> str:
    word = match["many"].lower()
    many = int(word) if word.isdigit() else 1 + NUMBER_WORDS.index(word)
    own = _CLOSED.search(match.string[: match.start()])  # our own form of a closed cast-on
    return match[0] if own or not _casts_on(match) else _said(match, _numbers(match["n"]), many)


def _each(match: re.Match[str]) -> str:
    each = _numbers(match["n"])
    total = int(match["total"]) if match["total"] else 2 * each[0]
    many = total // each[0]
    if not _casts_on(match) or total % each[0] or many not in (2, 3, 4):
        return match[0]
    return _said(match, each, many)


_NTH = r"(?:needle \d|n ?\d|(?:the )?(?:first|second|third|fourth|1st|2nd|3rd|4th|last|other)(?: needle| dpn)?)"
_SHARE = rf"{_N} {_STS}{_ON} {_NTH}"
_SHARES = rf"(?P<shares>{_SHARE}(?:(?:, and|,| and|;) {_SHARE})+)"
_COUNT = re.compile(rf"(?P<n>{_N})(?= (?:(?:sts|stitches|loops|wraps) )?(?:on ?to|on|to|over) )")


def _by_needle(match: re.Match[str]) -> str:
    """Put what each needle gets behind what is cast on, where it makes as much together."""
    told = match.groupdict()
    shares = [_numbers(one["n"]) for one in _COUNT.finditer(told.get("shares") or "")]
    shares = shares or [[int(one)] for one in re.findall(r"\d+", told.get("list") or "")]
    if not _casts_on(match) or len({len(one) for one in shares}) != 1:
        return match[0]
    whole = [sum(each) for each in zip(*shares, strict=True)]
    if told.get("whole") and _numbers(told["whole"]) != whole:
        return match[0]
    verb = "Cast on" if match["on"][0].isupper() else "cast on"
    parts = ", ".join(map(_listed, shares))
    return f"{verb} {_listed(whole)} sts. Divide sts over {len(shares)} needles: {parts}"


_AT_CAST_ON = r"(?P<cast>^(?:[^.:;]*[,:] )?cast(?:ing)? on \d+(?!\d)[^.;:]*?(?: sts| stitches)?(?: (?:with|by|in|using) [^.;:,]*)?)(?:[,;:–—(-]|\.| -)? ?(?:with |and |split |placing |having |so that there are )*"
_TABLE = Rewordings(
    (
        (  # "cast on 16 sts, the same number on each needle tip", "cast on 16 sts, split equally"
            rf"{_AT_CAST_ON}(?:(?:an? )?(?:the same|equal|as many)(?: numbers?| many| sts| stitches| of sts)*(?:,)? (?:on|to|for|over|between) (?:each|both|either|the two|one)(?: of the)?(?: (?:needles?|tips?))*(?: as on the other)?|(?:split|divided|shared) (?:equally|evenly)(?! over| between| among| onto| on))(?P<end>\)?(?=[.;,]|$))",
            r"\g<cast>, half on each needle",
        ),
        (  # "cast on 16 sts, 8 on either needle", "8 sts each needle", "8 on the front tip and 8 on the back tip"
            rf"{_AT_CAST_ON}(?P<n>{_N}) (?:sts |stitches )?(?:(?:on|to|for|per) )?(?:(?:either|each) (?:needle|tip)|on the (?:front|top|upper|instep|first) (?:tip|needle) and (?P=n) (?:sts |stitches )?on the (?:back|bottom|lower|sole|second) (?:tip|needle|one))(?=[.;,)]|$)",
            r"\g<cast>, \g<n> on each needle",
        ),
        (  # "cast on 62 sts: 18 on the first needle, 27 on the second and 17 on the third"
            rf"{_BEGIN} (?P<whole>{_N}) (?:sts|stitches)(?:,|:|;| \()? ?(?:(?:with|having|placing|so that there are) )?{_SHARES}\)?(?=[.;,]|$)",
            _by_needle,
        ),
        (  # "cast on 62 sts and divide them 18, 27, 17"
            rf"{_BEGIN} (?P<whole>\d+) (?:sts|stitches),? (?:and )?(?:divide|share|arrange|put|place|spread) (?:them )?(?P<list>\d+(?:, \d+)+(?:,? and \d+)?)(?=[.;]|$)",
            _by_needle,
        ),
        (  # "cast on 18 sts on needle 1, 27 on needle 2 and 17 on needle 3: 62 sts"
            rf"{_BEGIN} (?P<shares>{_SHARE}(?:(?:, and|,| and|;) {_SHARE}){{2,}})(?:[:,(=–—. ]+(?P<whole>{_N}) (?:sts|stitches)(?: in all| altogether)?\)?)?(?=[.;,]|$)",
            _by_needle,
        ),
        (  # "cast on 8 stitches on Needle A and 8 on Needle B"
            rf"{_BEGIN} (?P<n>{_N}) {_STS}{_ON} (?:the |your )?{_FIRST},? (?:and |then )*(?:another |also )?(?P<m>{_N}) (?:more )?{_STS}{_ON} (?:the |your )?{_OTHER}\b",
            _two,
        ),
        (  # "cast on 8 sts on each of 2 needles"
            rf"{_BEGIN} (?P<n>{_N}) {_STS}{_ON} each of (?:the |your )?{_MANY} (?:[a-z-]+ ){{0,2}}?(?:needles|dpns|ndls|tips)\b",
            _some,
        ),
        (  # "cast on 12 sts onto each needle. Total 24."
            rf"{_BEGIN} (?P<n>{_N}) {_STS}{_ON} each (?:of the |of your |of )?(?:needles?|dpns?|tips?)\b{_TOTAL}",
            _each,
        ),
    )
)


def with_cast_on_needles(said: MappedText) -> MappedText:
    """Return a line with what is cast on each needle told as a whole, and its shares.

    Examples
    --------
    >>> with_cast_on_needles(MappedText.of("Cast on 8 sts on needle A and 8 on needle B.")).text
    'Cast on 16 sts, 8 on each of 2 needles.'
    """
    return _TABLE.put_in(said)
