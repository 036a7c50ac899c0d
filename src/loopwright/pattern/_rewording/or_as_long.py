# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""So many rounds, or as many as one likes: "knit 60 rounds, or until the leg is long enough"."""

from __future__ import annotations

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import MANY

__all__ = ["without_as_long_as_liked"]

_SO_MANY = rf"(?P<many>\b{MANY} (?:(?:more|further) )?(?:rounds?|rnds?|rows?|times)\b(?: more| in all| altogether| in total)?(?: (?:in|of) [a-z0-9][a-z0-9, ]{{1,30}}?)?)"
_LIKED = (
    r"(?:(?:un)?till? (?!\D*\d[^.;]*\bst)[^.;:()]+?|(?:to|the|any|whatever|your) (?:[a-z]+ ){0,2}(?:length|height|depth)\b[^.;:()]*?"
    r"|(?:for )?as (?:long|many|far|deep|tall|high)[^.;:()]*?|however (?:long|many|far)[^.;:()]*?|(?:more|longer|fewer|less)\b[^.;:()]*?|(?:as )?(?:required|desired|preferred|liked|wished|needed)"
    r"|to (?:fit|suit|taste)[^.;:()]*?|about \d[^.;:()]*? (?:cm|in|inches))"
)
_OR_LIKED = WordForm(
    rf"{_SO_MANY}(?: \((?:or )(?:for )?{_LIKED}\)|(?:,| ?[-–—])? or (?:for )?{_LIKED})(?=[.;]|\s*$|, (?:then|end|and then)\b)"
)


def without_as_long_as_liked(said: MappedText) -> MappedText:
    """Return a line where a number of rounds holds, not what one may knit instead.

    Examples
    --------
    >>> without_as_long_as_liked(MappedText.of("Knit 60 rounds, or until it is as long as you like.")).text
    'Knit 60 rounds.'
    >>> without_as_long_as_liked(MappedText.of("Rep these 2 rnds 5 times or until 24 sts remain.")).text
    'Rep these 2 rnds 5 times or until 24 sts remain.'
    """
    return said.sub(_OR_LIKED, r"\g<many>")
