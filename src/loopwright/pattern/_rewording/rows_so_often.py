# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows by their numbers and how often, without a verb or the other way round; a fabric and how many rounds of it."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import MANY

__all__ = ["with_rows_so_often"]

_TIMES = rf"(?:{MANY} times|twice|once)(?: more)?"
_BARE = WordForm(  # "R1-R2 three times", "R1 and R2 three times, then R1 once"
    rf"(?P<b>(?:^\s*|[.;] |, then ))(?P<rows>R\d{{1,2}}(?: ?(?:-|–|(?i:to|and)|&) ?R?\d{{1,2}})?)(?= (?i:{_TIMES})(?:[.;,]|\s*$))",
    re.NOFLAG,
)
_ONCE = WordForm(  # "R1-R6 four times, then R1-R3: …"
    r"(?P<b>, then )(?P<rows>R\d{1,2}(?: ?(?:-|–|(?i:to|and)|&) ?R?\d{1,2})?)(?=\.|:|\s*$)",
    re.NOFLAG,
)
_TIMES_FIRST = WordForm(  # "three times rows 1 and 2", "work three times rounds 1-4"
    rf"(?P<b>^\s*|[.;] )(?:(?:work|knit|do) )?(?P<times>{_TIMES}) (?:the )?(?P<rows>(?:rows|rounds|rnds) \d{{1,2}} ?(?:-|–|to|and|&) ?\d{{1,2}})(?=[.;]|\s*$)"
)
_ROW = r"(?P<row>[*(\[][kp] ?\d[^:.]*?)(?: (?:to|until) (?:the )?end(?: of (?:the )?(?:round|rnd|row))?| a?round| across)?"
_OF_THIS = WordForm(  # "Rib: [k3, p1] around. Work this rib for 25 rounds."
    rf"^(?P<lead>\s*)(?:[a-z]+ )?(?:rib|ribbing|pattern|patt)(?: (?:round|rnd|row))?: {_ROW}[.;] (?:work|knit) (?:(?:in )?this (?:rib|pattern|patt) for (?P<n>{MANY}) (?P<crs>rounds|rnds|rows)|(?P<n2>{MANY}) (?P<crs2>rounds|rnds|rows) (?:of|in|like) (?:this|it)(?: (?:rib|pattern|patt|way))?)(?=[.;]|\s*$)"
)
_THIS_FOR = WordForm(  # "Work this rib for 25 rounds: [k3, p1] to end."
    rf"^(?P<lead>\s*)(?:work|knit) (?:in )?this (?:rib|pattern|patt) for (?P<n>{MANY}) (?P<crs>rounds|rnds|rows): {_ROW}(?=[.;]|\s*$)"
)


def with_rows_so_often(said: MappedText) -> MappedText:
    """Return a line where rows and fabrics that are worked so often have a verb ahead.

    Examples
    --------
    >>> for text in ("R1-R2 three times, then R1 once.", "Three times rows 1 and 2.", "Rib: [k3, p1] around. Work this rib for 25 rounds."):
    ...     print(with_rows_so_often(MappedText.of(text)).text)
    Work R1-R2 three times, then work R1 once.
    Work rows 1 and 2 three times.
    Work 25 rounds of rib: [k3, p1].
    """
    said = (
        said.sub(_ONCE, r"\g<b>work \g<rows> once")
        .sub(_BARE, _with_verb)
        .sub(_TIMES_FIRST, _behind)
    )
    return said.sub(_OF_THIS, _of_rib).sub(_THIS_FOR, _of_rib)


def _with_verb(match: re.Match[str]) -> str:
    verb = "work" if match["b"].startswith(",") else "Work"
    return f"{match['b']}{verb} {match['rows']}"


def _behind(match: re.Match[str]) -> str:
    return f"{match['b']}Work {match['rows']} {match['times'].lower()}"


def _of_rib(match: re.Match[str]) -> str:
    told = match.groupdict()
    many, course = told["n"] or told["n2"], told["crs"] or told["crs2"]
    return f"{match['lead']}Work {many} {course} of rib: {match['row']}"
