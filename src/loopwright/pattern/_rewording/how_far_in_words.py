# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""How far and how often rows are worked, in words that others use: "up to 78 sts", "six ridges"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Means, Rewordings
from loopwright.pattern._words import NUMBER_WORDS

__all__ = ["how_far_in_words"]

_N = rf"(?:\d{{1,3}}(?: ?[(\[][^)\]]{{1,40}}[)\]])?|{'|'.join(NUMBER_WORDS)})"
_CRS = r"(?:rounds|rnds|rows)"


def _by_numbers(match: re.Match[str]) -> str:
    """Put odd and even rows as rows 1 and 2, and "do rows 1 to 12" as how many there are."""
    row = match["c"].capitalize()
    many = f" Work {match['n']} {match['rows']} like these in all" if match["n"] else ""
    return f"{match['b']}{row} 1: {match['odd'].strip()} {row} 2: {match['even']}.{many}"


_ROWS: tuple[tuple[str, Means], ...] = (
    # "On right-side rows: …", "Odd-numbered rows: …. Even-numbered rows: …. Do rows 1 to 12"
    (r"(?P<b>^|[.;] )(?:on|in) (?:all |the |every )*(?P<side>right|wrong)[- ]side rows?: ", lambda match: f"{match['b']}{match['side'].capitalize()}-side rows: "),
    (rf"(?P<b>^|[.;] )(?:(?:all|the|on) )*odd(?:-| )?(?:numbered )?{_CRS}: (?P<odd>[^:]+[.;] )(?:(?:all|the|on) )*even(?:-| )?(?:numbered )?(?P<c>row|round|rnd)s: (?P<even>[^:.]+)\.(?: (?:do|work|knit) (?P<rows>{_CRS}) 1 ?(?:to|-|–|through) ?(?P<n>\d+)(?=[.;]|$))?", _by_numbers),
    # "dec rnd = k1, ssk, …": it is told, and not worked yet
    (r"^(?P<name>(?:[a-z]+ )?(?:dec|inc)\w*\.? (?:rnd|round|row)) ?= ?(?=[*(\[]|[kp] ?\d|(?:k|p|sl|knit|purl|ssk|yo)\b)", r"\g<name> (told only): "),
    # "Work 10 rows of this rib, then 20 rows of st st"
    (rf"(?P<first>\b(?:work|knit|do) {_N} {_CRS} (?:of|in) (?:this|that|the) (?:rib|pattern|patt|stitch|moss|lace)(?: (?:stitch|pattern))?),? (?:and )?then (?=(?:another )?{_N} {_CRS} (?:of|in) )", r"\g<first>. Work "),
)  # fmt: skip
_TABLE = Rewordings(_ROWS)


def how_far_in_words(said: MappedText) -> MappedText:
    """Return a line in the words that the reader knows for how far and how often.

    Examples
    --------
    >>> how_far_in_words(MappedText.of("Work 10 rows of this rib, then 20 rows of st st.")).text
    'Work 10 rows of this rib. Work 20 rows of st st.'
    """
    return _TABLE.put_in(said)
