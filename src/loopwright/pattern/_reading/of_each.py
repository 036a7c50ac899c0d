# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Two rows just told, so many of each: "five of each", "six dec rounds in all, a plain one after each"."""

from __future__ import annotations

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._grammar.said import Again
from loopwright.pattern._reading.named_rows import is_shaping
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in, number_of
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._words import NUMBER_WORDS
from loopwright.pattern.values import plus, values_of

__all__ = ["of_each", "tells_of_each"]

_N = rf"(?P<n>{COUNT}|{'|'.join(NUMBER_WORDS)})"
_C = r"(?:rounds?|rnds?|rows?)"
_ALL = r"(?:in all|in total|altogether|all told|all in all)"
_SHAPES = r"(?:(?:dec|inc)\w*|shaping|narrowing|widening|odd(?:-numbered)?)"
_PLAIN = r"(?:plain|even|knit|straight|unshaped)"
_LEAD = r"(?:(?:and|then|now|so|in all|altogether)[ ,]+)*(?:(?:you |we )?(?:do|work|knit|make|there (?:are|will be|should be)|you (?:need|have|make|will work))(?: them)? )?"
_OF_EACH = (
    WordForm(  # "five of each, 10 rows", "10 rows, five of each kind", "work each five times"
        rf"{_LEAD}(?:(?:{COUNT}|{'|'.join(NUMBER_WORDS)}) {_C}(?: {_ALL})?[,:;(] ?(?:that is,? )?)?(?:{_N} (?:times )?(?:of )?each(?: (?:kind|sort|one|of them|of (?:the|these) two|{_C}))?|each(?: (?:of them|one|{_C}))? {_N.replace('<n>', '<m>')} times)(?:,? (?:by turns|in turn|alternately|turn about))?(?:,? (?:makes?|which makes|that is|so|=)? ?(?:{COUNT}|{'|'.join(NUMBER_WORDS)}) {_C}(?: {_ALL})?)?"
    ),
    WordForm(  # "six dec rounds in all, each followed by a plain one", "four odd rounds in all"
        rf"{_LEAD}(?:a total of )?{_N} (?P<more>more |further )?{_SHAPES} {_C}(?:,? {_ALL})?(?P<plain>,? (?:(?:each|every one|all)(?: of them)?(?: (?:is|being))?(?: followed by| with)|with|and|always with) (?:an?|one|the) {_PLAIN} (?:{_C}|one)(?: (?:after|behind|following|to follow) ?(?:each|every one|every time|it|them)?(?: of them)?)?(?P<between> (?:in )?between(?: each| them| two)?)?)?(?:,? {_ALL})?"
    ),
)


def tells_of_each(text: str) -> bool:
    """Tell whether a sentence asks for so many of each of two rows."""
    text = " ".join(text.replace(")", "").split()).strip(" .!,;:")
    return any(form.fullmatch(text) for form in _OF_EACH)


def of_each(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Return the two rows just told, so often that there are so many of each."""
    text = " ".join(said.text.replace(")", "").split()).strip(" .!,;:")
    match = next((found for form in _OF_EACH if (found := form.fullmatch(text))), None)
    if match is None:
        return None
    entries = [e for e in scribe.assembler.entries if not isinstance(e.step, st.Note)]
    rows = [e.step for e in entries[-2:] if isinstance(e.step, st.Round | st.Row)]
    told = match.groupdict()
    number = (told["n"] or told.get("m") or "").lower()
    many = count_in(number) if number[:1].isdigit() else number_of(number)
    if len(rows) < 2 or rows[0].items == rows[1].items or min(values_of(many)) < 1:
        return None
    if told.get("more") and not told["plain"]:
        return None  # others read that
    shaped = is_shaping(rows[0]) and not is_shaping(rows[1])
    before = getattr(entries[-3].step, "items", None) if len(entries) > 2 else None
    if not shaped and ("plain" in told or before == rows[1].items):
        return None  # which belongs to which is open
    if told.get("between"):
        return [Again((), 2, plus(many, -1), False, 1, 0, False), attrs.evolve(rows[0], count=None)]
    many = plus(many, 1) if told.get("more") else many
    return [Again((), 2, many, bool(told.get("more")), 1, 0, False)]
