# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Numbers that a text tells in words: "thirty-nine more times", "the thirteen stitches"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import NUMBER_WORDS

__all__ = ["LARGE_NUMBER", "large_number", "stitches_in_figures"]

_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_ONES = "|".join(NUMBER_WORDS[:9])
_UNDER_100 = rf"(?:{'|'.join(_TENS)})(?:[- ](?:{_ONES})\b)?"
LARGE_NUMBER = WordForm(  # beyond twenty: "thirty-nine", "a hundred and twelve"
    rf"\b(?:(?:a |one )?hundred(?:(?: and)? (?:{_UNDER_100}|{'|'.join(NUMBER_WORDS)}))?|(?!twenty\b(?![- ](?:{_ONES})\b)){_UNDER_100})(?= (?:[a-z]+ ){{0,2}}(?:times?|sts?|stitch(?:es)?|rounds?|rnds?|rows?|loops?)\b)"
    rf"|\b(?:{'|'.join(NUMBER_WORDS)})(?= (?:more |further )?(?:inch|inches|cm)\b)",  # "three inches"
)


def large_number(words: re.Match[str]) -> str:
    """Return a number beyond twenty, told in words, in figures.

    Examples
    --------
    >>> LARGE_NUMBER.sub(large_number, "thirty-nine more times, a hundred and twelve sts, thirty years")
    '39 more times, 112 sts, thirty years'
    """
    total = 0
    for word in re.split(r"[- ]", words[0].lower()):
        if word == "hundred":
            total = 100
        elif word in _TENS:
            total += 20 + 10 * _TENS.index(word)
        elif word in NUMBER_WORDS:
            total += 1 + NUMBER_WORDS.index(word)
    return str(total)


_OF_STITCHES = WordForm(
    rf"\b(?P<n>{'|'.join(NUMBER_WORDS)})\b(?=(?: (?!needles?|sides?|rounds?|rows?|dpns?|of\b)[a-z-]+)? (?:sts?|stitch(?:es)?|loops?)\b)"
    rf"|(?P<does>\b(?:knit|k|purl|work|make|making|makes|leaves|leaving|cast(?:ing)? on|pick(?:ing)? up(?: and k(?:nit)?)?) )(?P<m>{'|'.join(NUMBER_WORDS)})\b(?=[.,;:)]|$| (?:more|in|at|over|from|for|again)\b)",
)


def stitches_in_figures(text: str) -> str:
    """Return a text whose numbers of stitches are figures.

    Examples
    --------
    >>> stitches_in_figures("Knit one stitch onto one needle, pick up three more, making sixteen.")
    'Knit 1 stitch onto one needle, pick up 3 more, making 16.'
    """
    return _OF_STITCHES.sub(
        lambda match: (
            f"{match['does'] or ''}{1 + NUMBER_WORDS.index((match['n'] or match['m']).lower())}"
        ),
        text,
    )
