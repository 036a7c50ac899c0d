# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""How stitches are dealt out to the needles, told needle by needle: "6 on needle 1, 12 on needle 2"."""

from __future__ import annotations

import re
from typing import Final

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import whole_number

__all__ = ["with_needles_in_order"]

_N: Final = r"\d+(?: ?[(\[][^)\]]{0,60}[)\]])?"
_HALF: Final = r"(?:sole|instep|heel|back|front|palm)"
_STS: Final = rf"(?:{_HALF} )?(?:sts|stitches|loops)(?: for the {_HALF})?"
_NTHS: Final = ("first 1st one", "second 2nd two", "third 3rd three", "fourth 4th four")
_NEEDLE: Final = (
    r"(?:(?:the )?(?:first|1st|second|2nd|third|3rd|fourth|4th)(?: (?:needle|dpn))?"
    r"|(?:needle|dpn|n) ?(?:[1-4]|one|two|three|four))\b"
)
_ASIDE: Final = rf"(?: ?\([a-z ]+\)| for the {_HALF}\b)?"
_PART: Final = (
    rf"(?:(?:the )?(?:first|next|last|rem\w*|other|following) )?(?:{_N})(?: {_STS})? (?:on(?: ?to)?|to|for|over) (?:{_NEEDLE}){_ASIDE}"
    rf"|{_NEEDLE}{_ASIDE}(?: ?[:=]| gets| takes| holds| with)? (?:{_N})(?: {_STS})?"
)
_LEAD: Final = rf"(?:(?:now|then|next|and),? )*(?:re-?)?(?:divid|arrang|distribut|plac|put|spread|split|shar|set|slip|deal|separat|organi[sz]|position|have)(?:e|t)?(?: out| up)?(?: (?:all|the|your|these|those|them))*(?: {_N})?(?: {_STS})?(?: again| evenly| anew)?(?: (?:on|on ?to|over|among|between|across) (?:the |your )?(?:(?:\d|two|three|four) )?(?:needles|dpns))?(?: (?:as follows|as foll\.?|thus|like this|so(?: that)?(?: (?:there are|you have))?|with))?[:,–—-]? "
_DEALT: Final = re.compile(
    rf"(?P<before>^|[.;] )(?P<lead>{_LEAD})(?P<parts>(?:{_PART})(?:(?:,| and|, and|;| &) (?:{_PART}))+)(?P<behind> ?\({_N}(?: {_STS})?\))?(?=[.;]|$)",
    re.IGNORECASE,
)
_IN_SHORT: Final = WordForm(  # "Needles: 10 - 6 - 6 - 10.": not sizes, behind which more is said
    rf"^(?:now |then )?(?:(?:{_STS} )?(?:are )?(?:(?:now )?on (?:the |your )?)?needles(?: now)?|divide[d]?|arrange(?:ment)?)(?:: ?| )(?P<parts>{_N}(?:(?P<sign> ?[-–/] ?| ?, ?){_N})(?:(?P=sign){_N}){{1,2}})(?=\.?$)"
)
_THE_OTHERS: Final = re.compile(  # "… on the first needle, and 6 on each of the other two"
    rf"\b(?P<n>{_N})(?P<sts> {_STS})? on (?:each|both|all)(?: of)? the other (?P<many>two|2|three|3)(?: (?:needles|dpns))?(?P<aside>{_ASIDE})\b",
    re.IGNORECASE,
)
_VERB: Final = (
    r"(?:(?:divid|arrang|distribut|plac|put|spread|split|shar|set|deal|separat|lay)(?:e|ing)?"
    rf"(?: (?:all|the|your|these|those|them|out|up|{_STS}))*(?: as(?: follows:?)?)?)"
)
_LIST: Final = rf"(?P<parts>{_N}(?:(?:,? and |, ?| ?[-–+/] ?){_N}){{1,3}})"
_NEEDLES: Final = (
    r"(?:on|on ?to|over|among|between|across) (?:the |your )?(?P<many>two|three|four|[234])"
    r"(?: (?:double-pointed|dp|working|of (?:the|your)))* (?:needles|dpns|ndls|pins)"
)
_THEN: Final = r"(?:(?:[,;] (?:and |then )*|,? (?:and|then) )(?P<next>[a-z])|(?=[.:]|$))"
_BY_LIST: Final = WordForm(  # "arrange them 18, 36, 18 on three needles", "on 3 needles (12-24-12)"
    rf"(?:^|(?P<before>[.;,])? ?)(?:and |then )*(?:(?P<verb>{_VERB})|with|in)? ?{_LIST}(?: {_STS})? {_NEEDLES}{_THEN}"
)
_ON_LIST: Final = WordForm(
    rf"(?:^|(?P<before>[.;,])? ?)(?:and |then )*(?P<verb>{_VERB})? ?{_NEEDLES}(?: ?\(|[:,]? (?:as |with )?){_LIST}(?: {_STS})?(?: respectively)?\)?{_THEN}"
)
_CASTS_ON: Final = re.compile(r"\b(?:cast on|co)\b[^.]*$", re.IGNORECASE)
_ONE: Final = re.compile(_PART, re.IGNORECASE)
_OF_NEEDLE: Final = re.compile(_NEEDLE, re.IGNORECASE)
_MANY: Final = re.compile(rf"(?<![\w(]){_N}")


def with_needles_in_order(said: MappedText) -> MappedText:
    """Return a line with what lies on each needle told in the order of the needles.

    Examples
    --------
    >>> told = MappedText.of("Divide the sts: 6 on needle 1, 12 on needle 2, 18 on needle 3.")
    >>> with_needles_in_order(told).text
    'Divide sts over 3 needles: 6, 12, 18.'
    """
    said = said.sub(_IN_SHORT, _dealt_in_short)
    if re.search(r"\d", said.text) is None:
        return said
    said = said.sub(_BY_LIST, _by_list).sub(_ON_LIST, _by_list)
    return said.sub(_THE_OTHERS, _one_by_one).sub(_DEALT, _in_order)


def _by_list(match: re.Match[str]) -> str:
    """Put "…, with 14, 28 and 14 stitches on three needles; " as a sentence of its own."""
    before = match.string[: match.start()]
    parts = re.findall(_N, match["parts"])
    many = whole_number(match["many"])
    cast_on = _CASTS_ON.search(before)
    by_size = "(" in match[0] and cast_on is not None and "(" in cast_on[0]  # not by needle
    if len(parts) != many or by_size or not (match["verb"] or cast_on):
        return match[0]
    lead = ". " if before else ""
    end = f". {match['next'].upper()}" if match["next"] else ""
    return f"{lead}Divide sts over {many} needles: {', '.join(parts)}{end}"


def _one_by_one(match: re.Match[str]) -> str:
    """Put "6 on each of the other two" as what lies on needles 2 and 3, behind the first."""
    before = match.string[: match.start()]
    if [_number(one) for one in _OF_NEEDLE.findall(before)] != [1]:
        return match[0]
    many = 2 if match["many"] in "two2" else 3
    return " and ".join(f"{match['n']} sts on needle {at}" for at in range(2, 2 + many))


def _dealt_in_short(match: re.Match[str]) -> str:
    parts = [one.strip() for one in match["parts"].split(match["sign"])]
    return f"Divide sts over {len(parts)} needles: {', '.join(parts)}"


def _in_order(match: re.Match[str]) -> str:
    parts = [one[0] for one in _ONE.finditer(match["parts"])]
    counts = [_MANY.findall(_OF_NEEDLE.sub("", one)) for one in parts]
    needles = [_number(_OF_NEEDLE.findall(one)[-1]) for one in parts]
    if needles != [*range(1, len(parts) + 1)] or any(len(one) != 1 for one in counts):
        return match[0]
    told = ", ".join(one[0] for one in counts)
    return f"{match['before']}Divide sts over {len(parts)} needles: {told}"


def _number(needle: str) -> int:
    low = needle.lower()
    if (digit := re.search(r"[1-4]", low)) is not None:
        return int(digit[0])
    return next(at for at, names in enumerate(_NTHS, 1) if any(one in low for one in names.split()))
