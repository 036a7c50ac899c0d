# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The round just told, on and on: "do this for 2 inches"."""

from __future__ import annotations

import re

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._grammar.said import Again
from loopwright.pattern._reading.onward import rows_before
from loopwright.pattern._reading.plain_work import LENGTH, SHORT_OF, length_in
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import number_of
from loopwright.pattern._reading.uncounted import unshaped_block
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import NUMBER_WORDS
from loopwright.pattern.values import UntilMeasures

__all__ = ["do_this"]

_DO_THIS = WordForm(
    r"do this|repeat this|keep (?:doing|on doing) this|keep going|carry on|continue(?= like this)",
)
_FOR_LENGTH = WordForm(r"\bfor (?:about |another |a further |some )*\d")
_SO_MANY_ROWS = WordForm(
    rf"(?:do|work|knit) (?:this|that|so|it)(?: again)? (?:for|over) (?P<n>\d{{1,3}}|{'|'.join(NUMBER_WORDS[2:])}) rows(?: in all| in total| altogether)?"
)


def _so_many_rows(scribe: Scribe, many: int) -> list[Says] | None:
    """Read "do this for 28 rows": those of both sides by turns, or the one row."""
    pair = rows_before(scribe)[-2:]
    sides = [row.side for row in pair if isinstance(row, st.Row)]
    told = [scribe.context.rows.get(number) for number in (1, 2)]
    same = [row.items for row in pair] == [row.items for row in told if row is not None]
    both = len({*sides} - {None, ""}) == 2 or (same and len(sides) == 2 == scribe.context.last)
    if not sides or (both and many % 2):
        return None
    return [Again((), 1 + both, many // (1 + both), False, 1, 0, False)]


def do_this(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read "do this for 2 inches": the round before, on and on."""
    text = said.text.strip(" .")
    match = _DO_THIS.match(text)
    if (far := _SO_MANY_ROWS.fullmatch(text)) is not None:
        return _so_many_rows(scribe, number_of(far["n"]) or int(far["n"]))
    entries = scribe.assembler.entries
    last = entries[-1] if entries else None
    if re.search(
        r"\b(?:with|fewer|more|sts?|stitch(?:es)?|way|manner|worked|used|remain|left|(?:dec|inc(?!h)|shap)\w*|\d+ (?:rows|rounds|rnds))\b",
        text,
    ):
        return None
    if match is None or last is None or not isinstance(last.step, st.Round | st.Row):
        return None
    if "this" not in match[0] and "-" in unshaped_block(scribe):
        return None  # several rows go on
    found = re.search(LENGTH, text[match.end() :], re.IGNORECASE)
    length = length_in(found) if found else None
    if times := re.fullmatch(
        r"(\w+) times(?: in all)?", text[match.end() :].strip(), re.IGNORECASE
    ):
        rounds = [e for e in entries if e.step.at and e.step.at.line >= scribe.first_line]
        many = number_of(times[1])
        return [Again((), len(rounds), many, False, 1, 0, False)] if many else None
    if length is None and not re.search("until|till", text):
        return None
    del entries[-1]
    since = "here" if _FOR_LENGTH.search(text) else "cast-on"
    until = UntilMeasures(length, "wanted" if not length or SHORT_OF.search(text) else since)
    return [st.RepeatRounds((attrs.evolve(last.step, count=None),), until)]
