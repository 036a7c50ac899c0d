# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""How wide a thumb gusset is to get, in one form of words.

"Until you have 11 thumb sts, 49 in all" and "till the thumb gusset is 11 sts wide" are ``until there
are 11 sts in the gusset``, with the count of the round behind it in brackets.
"""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import MANY

__all__ = ["with_gusset_widths"]

_STS = r"(?:sts?\b|stitch(?:es)?\b)"
_PART = r"(?:thumb gusset|thumb|gusset)"
_THERE = r"(?P<until>\b(?:un)?til+),? (?:there are|you have|we have|you get|we get|it has)"
_IN_ALL = rf"(?: (?:{_STS}|in all|altogether|in total|in the round|on the needles?|all told))*"
_WIDE = WordForm(
    rf"{_THERE} (?P<n>{MANY}) (?:thumb(?: gusset)? {_STS}|gusset {_STS}(?=[,;:]| =| and)|{_STS} for the {_PART})|(?P<until2>\b(?:un)?til+),? the {_PART} (?:is|gets|measures) (?P<n2>{MANY}) {_STS}(?: wide)?"
)
_WITH_ALL = WordForm(
    rf"(?P<wide>there are {MANY} sts in the gusset)(?:[,;:]| =| and|, and|,? (?:making|that is|which is|giving)) (?P<all>{MANY}){_IN_ALL}(?=[.;]|\s*$)"
)


def with_gusset_widths(said: MappedText) -> MappedText:
    """Return a line with the width of a thumb gusset told in one form of words.

    Examples
    --------
    >>> said = MappedText.of("Go on like this until you have 11 gusset sts, 49 sts in all.")
    >>> with_gusset_widths(said).text
    'Go on like this until there are 11 sts in the gusset (49 sts).'
    """
    return said.sub(_WIDE, _in_one_form).sub(_WITH_ALL, r"\g<wide> (\g<all> sts)")


def _in_one_form(match: re.Match[str]) -> str:
    until, many = match["until"] or match["until2"], match["n"] or match["n2"]
    return f"{until} there are {many} sts in the gusset"
