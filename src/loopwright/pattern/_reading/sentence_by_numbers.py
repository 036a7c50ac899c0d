# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Sentences that were lost, taken by the stitches in their words, or without the talk in them."""

from __future__ import annotations

import re
from collections.abc import Callable

import attrs

from loopwright.errors import PatternSyntaxError, SizeError, StepError
from loopwright.pattern import steps as st
from loopwright.pattern._reading.assemble import Kept
from loopwright.pattern._reading.by_numbers import (
    count_beside,
    may_be_row,
    names_row,
    row_as_numbered,
)
from loopwright.pattern._reading.lines import sentences_in
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.meaning import say
from loopwright.pattern._reading.plainer import plainer
from loopwright.pattern._reading.scribe import Lost, Scribe
from loopwright.pattern._reading.talk import without_talk
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.stretches import in_stretches
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.values import sized

__all__ = ["in_place_of", "taken_by_numbers", "taken_otherwise", "taken_when_lost"]


def in_place_of(said: MappedText, words: str) -> MappedText:
    """Return other words that stand where a line stands."""
    last = len(said.at) - 1
    return MappedText(words, tuple(said.at[min(n, last)] for n in range(len(words) + 1)))


def taken_otherwise(scribe: Scribe, said: MappedText, before: Kept) -> None:
    """Take a row by its stitches where it does not work out, or leaves others than stated."""
    assembler, live = scribe.assembler, scribe.now()
    steps = [entry.step for entry in assembler.entries[len(before[0]) :]]
    if len(steps) != 1 or not isinstance(steps[0], st.Round | st.Row | st.Part):
        return
    there = tuple(tally.count for tally in live.tallies)
    stated = steps[0].count or count_beside(scribe.following, len(there))
    differs = stated is not None and all(there) and stated != sized(there)
    after = assembler.kept()
    assembler.back_to(before)
    live = scribe.now()
    doubtful = differs or (isinstance(steps[0], st.Part) and names_row(said.text))
    doubtful |= any(live.trial(steps, size).troubles for size in range(len(there)))
    if not doubtful or not taken_by_numbers(scribe, said):
        assembler.back_to(after)


def taken_by_numbers(scribe: Scribe, said: MappedText) -> bool:
    """Take a row that could not be read, where its stitches are picked out of its words."""
    if not may_be_row(said.text):
        return False
    text = scribe.as_called(said).text
    short = row_as_numbered(scribe.now(), text, beside=scribe.following, is_sentence=True)
    return short is not None and _taken(scribe, in_place_of(said, short.said), short.is_met)


def taken_when_lost(scribe: Scribe, said: MappedText) -> bool:
    """Take a sentence that could not be read: plainer, by its stitches, by stretches, without talk."""
    ways = (_taken_plainer, taken_by_numbers, _taken_in_stretches, _taken_in_steps)
    return any(taken(scribe, said) for taken in ways)


def _taken_plainer(scribe: Scribe, said: MappedText) -> bool:
    """Take a sentence that could not be read in plainer words."""
    return any(_taken(scribe, one) for one in plainer(said))


def _taken_without_talk(scribe: Scribe, said: MappedText) -> bool:
    """Take a sentence that could not be read without the talk behind it."""
    return any(_taken(scribe, one) for one in without_talk(said))


_SETS_UP = WordForm(r"[^*]*\b(?:cast(?:ing)? on|co) \d")
_AND_THEN = WordForm(
    r"(?:[,;:—–]|(?<=\w))\s+(?:(?:and|then) ){0,2}(?=(?:join|knit|purl|work|put|place|pm|hang|mark|rib|divide|share|spread|arrange|distribute|k|p)\b|[kp]\d)",
)
_MOST_PARTS = 6


def _taken_in_steps(scribe: Scribe, said: MappedText) -> bool:
    """Take a sentence that could not be read without the talk behind it, or a step at a time.

    A step at a time: "Cast on 36 sts, join and put a marker after the first 18".
    """
    if _taken_without_talk(scribe, said):
        return True
    if not _SETS_UP.match(said.text) or any(tally.count for tally in scribe.now().tallies):
        return False
    places = [match.span() for match in _AND_THEN.finditer(said.text)]
    for many in range(len(places), 0, -1):
        parts = _cut(said, places[:many])
        if len(parts) <= _MOST_PARTS and _all_taken(scribe, parts):
            return True
    return False


def _cut(said: MappedText, places: list[tuple[int, int]]) -> list[MappedText]:
    ends = [start for start, _ in places] + [len(said.text)]
    starts = [0] + [end for _, end in places]
    found = [said.piece(a, b) for a, b in zip(starts, ends, strict=True)]
    return [in_place_of(one, one.text[:1].upper() + one.text[1:]) for one in found if one.text]


def _all_taken(scribe: Scribe, parts: list[MappedText]) -> bool:
    """Take each of these sentences, or none."""
    kept, remarks = scribe.assembler.kept(), len(scribe.remarks)
    context = scribe.context.kept()
    if all(_is_taken(scribe, one) for one in parts):
        scribe.loose = True
        return True
    scribe.assembler.back_to(kept)
    scribe.context.back_to(context)
    del scribe.remarks[remarks:]
    return False


_DOES_WORK = WordForm(
    r"\b(?:join\w*|knit\w*|purl\w*|work\w*|rib|bind|cast|co|inc\w*|dec\w*|pick\w*|sl|slip|turn|rows?|rounds?|rnds?|k|p|[kp] ?\d|\w+tog|yo|rep\w*)\b"
)


def _is_taken(scribe: Scribe, said: MappedText) -> bool:
    """Take a sentence as an instruction, or as words about markers and needles."""
    try:
        kind = say(scribe, said)
    except (Lost, PatternSyntaxError, StepError, SizeError, ValueError):
        return taken_by_numbers(scribe, said) or _taken_without_talk(scribe, said)
    return kind in ("instruction", "count") or (kind == "text" and not _DOES_WORK.search(said.text))


def _taken_in_stretches(scribe: Scribe, said: MappedText) -> bool:
    """Take a sentence that could not be read stretch by stretch: "12 rnds k2, p2; 8 rnds k"."""
    parts = in_stretches(said)
    if parts is None:
        return False
    kept, remarks, place = scribe.assembler.kept(), len(scribe.remarks), scribe.place
    for number, part in enumerate(parts):
        scribe.place = attrs.evolve(place, column=place.column + part.at[0] - said.at[0])
        harmless = _TITLE if number == 0 else _TOOLS
        if not harmless.match(part.text) and not all(
            _taken(scribe, part.piece(at, at + len(one))) for at, one in sentences_in(part.text)
        ):
            scribe.assembler.back_to(kept)
            del scribe.remarks[remarks:]
            scribe.place = place
            return False
    return True


_TITLE = re.compile(r"[A-Z][a-z]{2,15}(?: [a-z]{2,15})?\.$")  # "Border: 12 rnds k2, p2"
_TOOLS = re.compile(
    r"(?:change|switch|go) (?:back )?to (?:the )?(?:\w+ )?needles?\.$", re.IGNORECASE
)


def _taken(scribe: Scribe, said: MappedText, is_met: Callable[[Live], bool] | None = None) -> bool:
    """Take a sentence if it is an instruction, and what is on the needles behind it fits."""
    kept, remarks = scribe.assembler.kept(), len(scribe.remarks)
    try:
        kind = say(scribe, said)
    except (Lost, PatternSyntaxError, StepError, SizeError, ValueError):
        pass
    else:
        if kind == "instruction" and (is_met is None or is_met(scribe.now())):
            scribe.loose = True
            return True
    scribe.assembler.back_to(kept)
    del scribe.remarks[remarks:]
    return False
