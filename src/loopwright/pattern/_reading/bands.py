# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Bands of colour told as a list: "4 rnds A", "2 rnds B"."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.scribe import Says, Scribe, made
from loopwright.pattern._reading.stated import number_of
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.striped import called
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COLOUR
from loopwright.pattern.items import KNIT, With

__all__ = ["banded"]

_CRS = r"(?:rounds?|rnds?|rows?)"
_MANY = r"\d{1,2}|one|two|three|four|five|six|eight|ten"
_COL = rf"(?:(?:colou?r |yarn )?(?-i:[A-EM])\b|{COLOUR}\b)"
_BAND = re.compile(
    rf"(?:(?P<n>{_MANY}) (?P<c>{_CRS})(?: (?:in|with|of))?,? (?P<col>{_COL})|(?P<col2>{_COL}) ?[:–-]? ?(?P<n2>{_MANY}) (?P<c2>{_CRS})|(?P<n3>{_MANY})(?: (?:in|with|of))? (?P<col3>{_COL}))",
    re.IGNORECASE,
)
_ONE = re.sub(r"\?P<\w+>", "?:", _BAND.pattern)
_LIST = WordForm(
    rf"(?P<label>[a-z][^:.;\d]*: ?)?(?P<bands>(?:join (?:yarn )?)?(?={_COL}|\S+ {_CRS}){_ONE}(?:(?:[,;]| and| then)+ {_ONE})*)\s*[.;,]?\s*",
)
_AGAIN = WordForm(
    rf"(?:and |then |now )*(?:rep(?:eat)?|work|continue|keep)\b[^.;]*?\b(?:these|the last|all|this)(?: \S+)?[ -]{_CRS}\b",
)
_OF_STRIPES = WordForm(r"\b(?:strip|colou?r|sequence|patt|yarn|repeat)")
_CALLS = WordForm(r"\b(?:strip|sequence)")
_IS_PAST = WordForm(r"(?:then|next|now|after (?:this|that|these)|break|cut|fasten) ")


def banded(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read a list of bands, one by one or all in a line."""
    match = _LIST.fullmatch(said.text)
    live = scribe.now()
    if match is None or not live.tallies or not any(tally.count for tally in live.tallies):
        return None
    after = (scribe.following or scribe.next_line).strip()
    bands = list(_BAND.finditer(match["bands"]))
    is_named = match["label"] is not None or said.at[0] > scribe.start
    again = _AGAIN.match(after) or _LIST.fullmatch(after)
    if not (again or _is_worked(scribe, len(bands), after, is_named=is_named)):
        return None  # it may only tell what the stripes are
    found: list[Says] = []
    course = "ROW" if "row" in match["bands"].lower() else "RND"
    for band in bands:
        word = (band["n"] or band["n2"] or band["n3"]).lower()
        many = int(word) if word.isdigit() else number_of(word)
        yarn = called(band["col"] or band["col2"] or band["col3"])
        row = made(course, (With(yarn), KNIT), "")
        found.append(st.RepeatRounds((row,), many) if many > 1 else row)
    return found


def _is_worked(scribe: Scribe, many: int, after: str, *, is_named: bool) -> bool:
    """Tell whether bands are worked where they are told, and not only listed."""
    if is_named:
        return many > 1 and _IS_PAST.match(after) is not None
    if _OF_STRIPES.search(scribe.context.section) or _CALLS.search(after):
        return False
    return many > 1 or _is_band(scribe)


def _is_band(scribe: Scribe) -> bool:
    """Tell whether a band of this line was worked last."""
    last = scribe.assembler.entries[-1].step if scribe.assembler.entries else None
    place = getattr(last, "at", None)
    row = last.steps[0] if isinstance(last, st.RepeatRounds) else last
    return (
        isinstance(row, st.Round | st.Row)
        and isinstance(row.items[0], With)
        and place is not None
        and place.line == scribe.place.line
    )
