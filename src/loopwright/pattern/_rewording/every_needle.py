# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What is worked on every needle of a round alike, in one form of words.

"K2tog at the end of every needle" and "knit to the last 2 sts of each needle, k2tog" are ``On each
needle: k to last 2 sts, k2tog``, as is "on all four needles k to last 2 sts, k2tog".
"""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import NUMBER_WORDS, whole_number

__all__ = ["with_every_needle"]

_STS = r"(?:sts?\b|stitch(?:es)?\b)"
_FEW = rf"(?:\d|{'|'.join(NUMBER_WORDS[:8])})"
_NEEDLES = r"(?:needles?|ndls?|dpns?|tips?)\b"
_EVERY = (
    rf"(?:(?:each|every|all)(?: (?:and every|of the|of your|the|your|single|other))*"
    rf"(?: (?:[2-5]|two|three|four|five))?(?: of the| of your)? {_NEEDLES})"
)
_LEAD = r"(?P<lead>(?:^|[.;] )(?:(?:then|now|and),? )*(?:[a-z0-9 ().-]{3,30}: )?|, )"
_LABEL = r"(?P<lead>(?:^|[.;] )(?:(?:then|now|and),? )*(?:[a-z0-9 ().-]{3,30}: )?)"
_STITCH = (
    r"[*(\[]?(?:[kp] ?\d|[kp] to\b|(?:k|p)\d?tog|ssk|ssp|skpo?|sl\b|m1|kfb|yo|(?:knit|purl|work) )"
)
_STOP = r"(?=[.;]|\s*$| ?[(\[—–=]|: \d)"
_ON = WordForm(rf"{_LEAD}(?:on )?{_EVERY}(?<!each needle)[,:]? (?={_STITCH})")
_BEHIND = WordForm(
    rf"(?P<row>\b(?:[kp] ?\d|[kp]\d?tog|ssk|ssp|skpo?|m1\w?|kfb|yo|[kp] to)\b[^.;:]*?) (?:on|of|over) {_EVERY}{_STOP}"
)
_TO_LAST = WordForm(  # "knit to the last 2 sts of each needle, k2tog"
    rf"{_LABEL}(?P<star>\* ?)?(?:knit|k|work) to (?:the |within )*(?:last )?(?P<n>{_FEW})(?: {_STS})? (?:of|on|from|before) (?:the end of )?{_EVERY},? (?:and |then )*(?P<rest>(?:[kp]\d?tog|ssk|skpo?|[kp] ?\d|m1\w?|kfb|yo)[^.;:()*]*?)(?(star)(?:\*|; ?rep(?:eat)? from \*)(?: to (?:the )?end(?: of (?:the )?(?:round|rnd))?| around| across)?){_STOP}"
)
_DEC = r"(?P<dec>k2tog|k3tog|p2tog|ssk|skpo?|(?:knit|k) (?:2|two) tog(?:ether)?|(?:dec(?:rease)?|lose) (?:1|one) (?:st|stitch))"
_ENDS = r"(?:(?:at|over|on) (?:the )?(?:very )?(?P<at>end|beginning|start)|over (?:the )?(?P<at2>last|first) (?:2|two)(?: {STS})?) of ".replace(
    "{STS}", _STS
)
_AT_ENDS = WordForm(  # "k2tog at the end of every needle", "dec 1 st at the end of each needle"
    rf"{_LABEL}(?:work |make |by )?(?:an? )?{_DEC} {_ENDS}{_EVERY}(?: (?:on|in) the next (?:round|rnd))?{_STOP}"
)
_TOGETHER = WordForm(  # "knit the last 2 sts of each needle together", "knit together the first 2 sts on …"
    rf"{_LABEL}(?:knit|k|work) (?P<tog>together )?(?:the )?(?P<at>first|last) (?:2|two)(?: {_STS})? (?:of|on) {_EVERY}(?(tog)| tog(?:ether)?){_STOP}"
)
_IN_STARS = WordForm(rf"(?P<last>\blast (?:\d+ )?{_STS}) of each needle\b")
_BEGIN = r"(?P<b>^|: |[.;] )(?:(?:and|then|now),? )*"
_ONE_ROUND = r"(?:(?:k|knit|work) (?:1|one|a|the next) (?:round|rnd)(?:,? (?:and |but )?(?:in|on) (?:this|that|the same) (?:round|rnd))?)"
_SHAPING = rf"(?:k ?2 ?tog|ssk|skp|k(?:nit)? (?:2|two)(?: {_STS})? tog(?:ether)?|m1[lr]?|kfb)"
_BRACKETED = WordForm(rf"(?P<round>^(?:round|rnd) \d{{1,3}}) ?\((?:on )?{_EVERY}\): ?")
_ROUND_WITH = WordForm(
    rf"{_BEGIN}(?:{_ONE_ROUND}|k|knit)?(?:,? (?:and|but|with|working|making)| while| always)*,? ?(?P<dec>{_SHAPING})(?P<more>, k1)? at the (?P<where>end|beginning|start) of {_EVERY}{_STOP}"
)
_BOTH_ENDS = WordForm(
    rf"{_BEGIN}(?P<first>k1, {_SHAPING}) at the (?:beginning|start) and (?P<last>{_SHAPING}, k1) at the end of {_EVERY}{_STOP}"
)
_PARTS = WordForm(  # "each part: k7, k2tog"
    rf"(?P<b>^|: |[.;] )(?:on |in )?(?:each|every) (?:part|section|quarter|third|sixth|wedge)[:,] (?P<row>[kp] ?\d[^.:;*()]*?){_STOP}"
)
_MAY_BE = WordForm(r"\b(?:each|every|all)\b.*\b(?:needles?|ndls?|dpns?|tips?)\b")


def with_every_needle(said: MappedText) -> MappedText:
    """Return a line with what is worked on every needle told in one form of words.

    Examples
    --------
    >>> with_every_needle(MappedText.of("Dec rnd: k2tog at the end of every needle.")).text
    'Dec rnd: on each needle: k to last 2 sts, k2tog.'
    >>> with_every_needle(MappedText.of("Knit to the last 2 sts of each needle, k2tog.")).text
    'On each needle: k to last 2 sts, k2tog.'
    >>> with_every_needle(MappedText.of("Divide over all four needles.")).text
    'Divide over all four needles.'
    """
    said = said.sub(_PARTS, _around)
    if not _MAY_BE.search(said.text):
        return said
    said = said.sub(_BRACKETED, r"\g<round>: On each needle: ")
    said = said.sub(_BOTH_ENDS, _both_ends).sub(_ROUND_WITH, _round_with)
    said = said.sub(_TO_LAST, _to_last).sub(_AT_ENDS, _at_ends).sub(_TOGETHER, _at_ends)
    said = said.sub(_IN_STARS, r"\g<last> on needle")
    return said.sub(_ON, _on_each).sub(_BEHIND, r"\g<row> on each needle")


def _on_each(match: re.Match[str]) -> str:
    lead = match["lead"]
    return f"{lead}{'o' if lead.endswith((': ', ', ')) else 'O'}n each needle: "


def _to_last(match: re.Match[str]) -> str:
    few = match["n"] if match["n"].isdigit() else str(whole_number(match["n"]))
    return f"{_on_each(match)}k to last {few} sts, {match['rest']}"


def _at_ends(match: re.Match[str]) -> str:
    told = match.groupdict()
    at, dec = (told["at"] or told["at2"]).lower(), (told.get("dec") or "").lower()
    at_end = at in ("end", "last")
    if not dec or dec[0] in "dl" or " " in dec:
        dec = "k2tog" if at_end else "ssk"
    if "tog" in told and not at_end:
        dec = "k2tog"
    return f"{_on_each(match)}{_shaped(dec, at_end=at_end)}"


def _shaped(dec: str, *, at_end: bool) -> str:
    few = 3 if "3" in dec else 2
    return f"k to last {few} sts, {dec}" if at_end else f"{dec}, k to end"


def _round_with(match: re.Match[str]) -> str:
    dec = match["dec"].lower() if " " not in match["dec"] else "k2tog"
    if match["where"] != "end":
        return f"{match['b']}{_on(match['b'])} each needle: {dec}{match['more'] or ''}, k to end"
    takes = {"m1": 0, "m1l": 0, "m1r": 0, "kfb": 1}.get(dec, 2) + bool(match["more"])
    far = f"k to last {takes} sts" if takes else "k to end"
    return f"{match['b']}{_on(match['b'])} each needle: {far}, {dec}{match['more'] or ''}"


def _both_ends(match: re.Match[str]) -> str:
    return f"{match['b']}{_on(match['b'])} each needle: {match['first']}, k to last 3 sts, {match['last']}"


def _on(before: str) -> str:
    return "on" if before == ": " else "On"


def _around(match: re.Match[str]) -> str:
    return f"{match['b']}*{match['row'].capitalize()}; rep from * to end"
