# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches made out of each stitch of a round, in one form of words: "knit each stitch front and back"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["with_each_stitch"]

_EACH = r"(?:each|every)(?: single)? (?:st|stitch)\b"
_BOTH = r"(?:the )?front and (?:the )?back"
_ROUND = r"(?: (?:all )?(?:a?round|across|along|to (?:the )?end|(?:in|of) the (?:round|rnd|row)))?"
_LEAD = r"(?P<lead>^|[.;] |(?<=: ))(?:(?:then|now|and),? )*"
_STOP = r"(?=[.;:,]|\s*$| ?[(\[—–=])"
_TWICE = WordForm(  # "knit each stitch front and back", "knit into front and back of every st"
    rf"{_LEAD}(?P<k>knit|k|purl|p) (?:(?:in(?:to)? )?{_EACH},? (?:twice,? )?(?:in(?:to)?|through|in)?,? ?{_BOTH}(?: loops?)?|(?:in(?:to)? )?{_BOTH} (?:loops? )?of {_EACH}){_ROUND}{_STOP}"
)
_INCREASED = WordForm(rf"{_LEAD}inc(?:rease)? (?:1 |one )?(?:st )?(?:in(?:to)? |on ){_EACH}{_ROUND}{_STOP}")  # fmt: skip
_KFB = WordForm(
    rf"{_LEAD}(?:work|make|do) (?P<how>[kp]fb) (?:in(?:to)? |on )?{_EACH}{_ROUND}{_STOP}"
)
_INTO = rf"(?:(?P<how>[kp]fb) (?:in(?:to)? |on )|(?P<k>knit|k|purl|p) (?:(?:in(?:to)? )?{_BOTH} (?:loops? )?of |(?:twice|2 times) (?:in(?:to)? )))"
_IN_ONE = WordForm(  # "kfb in the first st, k to end": the stitch is the next one
    rf"(?P<b>^|[:;,.(\[] |[(\[]|\band ){_INTO}(?:the )?(?:first|next|1st|following) (?:st|stitch)\b(?=[,;.)\]]|$| and| \()"
)
_IN_LAST = WordForm(  # "k to last st, kfb in last stitch"
    rf"(?P<b>\blast (?:1 )?(?:st|stitch), (?:and )?){_INTO}(?:the )?(?:last|that) (?:st|stitch)\b(?=[,;.)\]]|$| and| \()"
)
_IN_SOME = WordForm(  # "k5, kfb in next 2 sts, k to end"
    r"\b(?P<how>[kp]fb) (?:in(?:to)? |on )(?:the )?(?:next|first|following|last) (?P<n>\d+(?: ?[(\[][\d ,:;/]+[)\]])?) (?:sts|stitches)\b"
)
_OVER = WordForm(  # "k2tog over the last 2 sts"
    r"\b(?P<dec>[kp]2tog|ssk|ssp|skpo?) (?:over|on|in) (?:the )?(?:first|last|next|following) (?:2|two) (?:sts|stitches)\b(?=[,;.)\]]|$| and)"
)


def with_each_stitch(said: MappedText) -> MappedText:
    """Return a line with what is made out of each stitch told in one form of words.

    Examples
    --------
    >>> with_each_stitch(MappedText.of("Knit into the front and back of every stitch: 24 sts.")).text
    'Kfb around: 24 sts.'
    >>> with_each_stitch(MappedText.of("Knit every stitch through the back loop.")).text
    'Knit every stitch through the back loop.'
    """
    said = said.sub(_TWICE, _all_round).sub(_INCREASED, _all_round).sub(_KFB, _all_round)
    said = said.sub(_IN_ONE, _in_one).sub(_IN_LAST, _in_one).sub(_OVER, r"\g<dec>")
    return said.sub(_IN_SOME, r"\g<how> in each of next \g<n> sts")


def _made(told: dict[str, str | None]) -> str:
    return told.get("how") or ("pfb" if (told.get("k") or "k")[0].lower() == "p" else "kfb")


def _in_one(match: re.Match[str]) -> str:
    how = _made(match.groupdict())
    return f"{match['b']}{how if match['b'] else how.capitalize()}"


def _all_round(match: re.Match[str]) -> str:
    how = _made(match.groupdict())
    amid = match.start() > 0 and not match["lead"].startswith((".", ";"))
    return f"{match['lead']}{how.lower() if amid else how.capitalize()} around"
