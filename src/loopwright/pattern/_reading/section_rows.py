# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""So many rows of another section: "work 8 rows as for Ridges", "8 rounds as before" under its title."""

from __future__ import annotations

from collections.abc import Sequence

from loopwright.pattern import steps as st
from loopwright.pattern._reading.labels import numbers_in
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import number_of
from loopwright.pattern._reading.told_sections import again_here, only_rows, rows_under, title_of
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import NUMBER_WORDS

__all__ = ["section_rows"]

_N = rf"(?:another |a further )?(?P<n>\d{{1,3}}|{'|'.join(NUMBER_WORDS[:20])}) (?:more )?(?:rounds|rnds|rows)"
_GO = r"(?:(?:and|now|then) )*(?:(?:re)?work|knit|make|do)"
_ROWS = r"(?:rounds?|rnds?|rows?) \d{1,3}(?: ?(?:-|–|to|and|&) ?\d{1,3})?"
_OF = WordForm(  # "work 8 rows as for Ridges, rows 1 and 2"
    rf"{_GO} {_N} (?:(?:exactly |just )?(?:as|like)(?: (?:given|told|worked|set|you did|described))?(?: (?:for|in|on))?|of|from|in) (?:the )?(?:(?P<rows>{_ROWS}) (?:of|from|in) (?:the )?)?(?P<name>[a-z][a-z' -]{{2,40}}?)(?:,? [(]?(?P<rows2>{_ROWS})[)]?)?(?: (?:as before|again|above))*"
)
_BEFORE = WordForm(
    rf"{_GO} (?:{_N} (?:exactly |just )?as (?:before|above)|(?:exactly |just )?as (?:before|above)(?: for)? {_N.replace('<n>', '<m>')})"
)

MAX_ROWS = 400


def section_rows(scribe: Scribe, said: str) -> list[Says] | None:
    """Return so many rows like those under another heading, or an earlier one of the same name."""
    text = said.strip(" .").lower()
    if (match := _BEFORE.fullmatch(text)) is not None:
        name, listed, many = _title_here(scribe), None, number_of(match["n"] or match["m"])
    elif (match := _OF.fullmatch(text)) is not None:
        name, listed = match["name"], match["rows"] or match["rows2"]
        many = number_of(match["n"])
    else:
        return None
    told = rows_under(scribe, name) if name else []
    if not only_rows(told) or not many:
        return None
    block = _written_out(told)
    if listed:
        rows = [scribe.context.row(number, name) for number in numbers_in(listed)]
        block = [row for row in rows if row is not None]
        if len(block) != len(rows):
            return None
    if not block or many > MAX_ROWS:
        return None
    often, rest = divmod(many, len(block))
    return list(again_here(scribe, block * often + block[:rest], f"of '{name}'"))


def _written_out(steps: Sequence[st.Step]) -> list[st.Step]:
    """Return rows one after another, those of repeats too; none where a repeat has no number."""
    rows: list[st.Step] = []
    for step in steps:
        if isinstance(step, st.RepeatRounds):
            inner = _written_out(step.steps)
            if not isinstance(step.times, int) or step.every > 1 or not inner:
                return []
            rows += inner * min(step.times, MAX_ROWS)
        elif isinstance(step, st.Round | st.Row):
            rows.append(step)
    return rows


def _title_here(scribe: Scribe) -> str:
    """Return the heading under which nothing was worked yet, "" elsewhere."""
    steps = [entry.step for entry in scribe.assembler.entries]
    last = steps[-1] if steps else None
    return title_of(last) if isinstance(last, st.Section) else ""
