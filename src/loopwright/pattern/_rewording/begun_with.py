# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches that a piece begins with, in one form of words.

"Make the cuff: 40 sts, joined", "start with 50 sts on a straight needle" and
"take 4 mm needles and cast on 34 sts" are all ``cast on … sts``.
"""

from __future__ import annotations

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import MANY

__all__ = ["with_sts_begun"]

_STS = r"(?:sts?\b|stitch(?:es)?\b)"
_BEGIN = r"(?P<b>^|[.;] )"
_LEAD = r"(?:(?:begin(?:ning)?|start(?:ing)?)(?: (?:at|with|from) the [a-z]+)?[:,] |(?:make|work) the [a-z]+: )"
_JOINED = r"(?:joined|closed)(?: (?:in(?:to)?|to) (?:a|the) (?:ring|round|circle|rnd))?"
_JOINED_ON = WordForm(  # "make the cuff: 40 sts, joined"
    rf"{_BEGIN}{_LEAD}(?P<n>{MANY}) {_STS},? (?:and )?{_JOINED}"
)
_START = WordForm(
    rf"{_BEGIN}(?:start|begin) with (?P<n>{MANY}) {_STS} on (?:a |the |your )?(?:[\d.]+ ?mm )?(?:[a-z-]+ )?needles?\b(?! \d)"
)
_TAKE = WordForm(
    rf"{_BEGIN}take (?:the |a |your )?(?P<needle>(?:[\d.]+ ?mm|smaller|finer|larger|thicker) needles?)(?:,? and|,)(?: then)? (?=cast on|co )"
)
_IN_COLOUR = WordForm(r"(?P<b>[.;] )(?P<yarn>[A-Z]{1,2}): (?=cast on \d)")
_OF_KNIT = WordForm(
    rf"(?P<b>^|[.;,] (?:then |and then |and )?)(?P<n>{MANY}) (?P<crs>rounds?|rnds?|rows?) of (?P<how>knit|purl)(?=[.;]|\s*$)"
)
_RIB_AGAIN = WordForm(
    rf"(?P<b>^|[.;,] )(?P<then>(?:then|and) )?rib (?P<rib>k ?\d,? ?p ?\d) once more,? (?:for )?(?=(?:{MANY}) (?:rounds?|rnds?|rows?)\b)"
)


def with_sts_begun(said: MappedText) -> MappedText:
    """Return a line with the stitches that a piece begins with told in one form of words.

    Examples
    --------
    >>> with_sts_begun(MappedText.of("Make the cuff: 40 sts, joined, 15 rounds of k1, p1.")).text
    'Cast on 40 sts and join, 15 rounds of k1, p1.'
    >>> with_sts_begun(MappedText.of("Take 4 mm needles and cast on 34 sts.")).text
    'With 4 mm needles cast on 34 sts.'
    """
    said = said.sub(_JOINED_ON, r"\g<b>Cast on \g<n> sts and join")
    said = said.sub(_START, r"\g<b>Cast on \g<n> sts").sub(_TAKE, r"\g<b>With \g<needle> ")
    said = said.sub(_IN_COLOUR, r"\g<b>With \g<yarn> ")
    said = said.sub(_OF_KNIT, r"\g<b>\g<how> \g<n> \g<crs>")
    return said.sub(_RIB_AGAIN, r"\g<b>\g<then>work \g<rib> rib for ")
