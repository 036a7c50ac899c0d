"""Sentences that were lost, taken by the stitches in their words, or without the talk in them."""

from __future__ import annotations

from collections.abc import Callable

from loopwright.errors import PatternSyntaxError, SizeError, StepError
from loopwright.pattern import steps as st
from loopwright.pattern._reading.assemble import Kept
from loopwright.pattern._reading.by_numbers import (
    count_beside,
    may_be_row,
    names_row,
    row_as_numbered,
)
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.meaning import say
from loopwright.pattern._reading.scribe import Lost, Scribe
from loopwright.pattern._reading.talk import without_talk
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern.values import sized

__all__ = ["in_place_of", "taken_by_numbers", "taken_otherwise", "taken_without_talk"]


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


def taken_without_talk(scribe: Scribe, said: MappedText) -> bool:
    """Take a sentence that could not be read without the talk behind it."""
    return any(_taken(scribe, one) for one in without_talk(said))


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
