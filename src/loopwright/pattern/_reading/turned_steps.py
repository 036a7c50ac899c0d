"""Steps of a text that are numbered like rows: "9. Slip 1, purl 6, purl 2 together, turn."."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._contents import courses_in
from loopwright.pattern._reading.how_often import times_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.items import Turn, WrapTurn
from loopwright.pattern.values import plus

if TYPE_CHECKING:
    from loopwright.pattern._reading.scribe import Says, Scribe
    from loopwright.pattern._rewording.mapped import MappedText

__all__ = ["last_parts_as_rows", "row_of_step", "step_number", "with_parted_row"]

_REPEATS = WordForm(
    r"(?:rep(?:eat)?|work) (?:the )?(?:last|these|those) (?:2|two) rows\b[^,;]*\btimes\b"
)
_LAST_ROWS = WordForm(r"\b(?:last|these|those|previous) (?:(?:2|two|4|four) )?rows\b")


def last_parts_as_rows(scribe: Scribe, text: str) -> None:
    """Take parts of a round that were turned for rows, where "the last two rows" are spoken of."""
    if not _LAST_ROWS.search(text):
        return
    entries = scribe.assembler.entries
    for at in range(max(0, len(entries) - 8), len(entries)):
        if _takes_row(scribe, part := entries[at].step, at):
            entries[at].step = row = st.Row(part.items, at=part.at, count=part.count)  # type: ignore[attr-defined]  # a part
            scribe.numbered(row, ())
    found = []
    for entry in reversed(entries):
        if not isinstance(entry.step, st.Part) or not _is_turned(entry.step):
            break
        found.append(entry)
    for entry in reversed(found[:-1]):  # the first one begins amid a round
        part = entry.step
        entry.step = row = st.Row(part.items, at=part.at, count=part.count)  # type: ignore[attr-defined]  # a part
        scribe.numbered(row, ())


def with_parted_row(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read "repeat these two rows 13 more times" of which the first has set the others apart.

    "*Sl 1, k1* to 28 sts, turn, leaving the others unworked" is a part of a round, and then a row.
    """
    if not (_LAST_ROWS.search(said.text) and _REPEATS.match(said.text)):
        return None
    steps = [entry.step for entry in scribe.assembler.entries[-6:]]
    last = [step for step in steps if not isinstance(step, st.Note)][-3:]
    times = times_in(said.text)
    if times is None or len(last) < 3:
        return None
    part, hold, row = last
    if not (isinstance(part, st.Part) and isinstance(hold, st.Hold) and isinstance(row, st.Row)):
        return None
    if _is_turned(part) or not _is_turned(row) or part.count is not None:
        return None
    if re.search(r"\b(?:in all|in total|altogether)\b", said.text):
        times = plus(times, -1)
    first = st.Row((*part.items, Turn()))
    rows = tuple(attrs.evolve(one, at=scribe.place, count=None) for one in (first, row))
    return [st.RepeatRounds(rows, times, at=scribe.place)]


def row_of_step(scribe: Scribe, first: int, label: str = "") -> bool:
    """Take what a numbered step came to, from an entry on, for a row if it is one between turns.

    "Repeat steps 9 and 10" can only be said of rows. Return whether it is no more than one row.
    """
    entries = scribe.assembler.entries
    worked = [entry for entry in entries[first:] if not isinstance(entry.step, st.Note)]
    if len(worked) != 1:
        places = [(entry.step, getattr(entry.step, "at", None)) for entry in worked]
        told = [step for step, at in places if at is None or at.line == scribe.place.line]
        parts = any(
            isinstance(step, st.Part) for step in told
        )  # "k2tog 4 times, then knit 1 round"
        return courses_in(told) + parts < 2
    if _takes_all(scribe, worked[0].step, first):
        part = worked[0].step
        worked[0].step = whole = st.Round(part.items, at=part.at, count=part.count)  # type: ignore[attr-defined]  # a part
        scribe.numbered(whole, ())
        return True
    if label[1:2] == ")" and label[:1].isalpha() and _takes_row(scribe, worked[0].step, first):
        part = worked[0].step
        worked[0].step = row = st.Row(part.items, at=part.at, count=part.count)  # type: ignore[attr-defined]  # a part
        scribe.numbered(row, ())
        return True
    if not _is_turned(worked[0].step):
        return courses_in([worked[0].step]) < 2
    before = _last_worked(scribe, first)
    if not (before is not None and (_is_turned(before) or _ends_with_row(before))):
        return True
    only = worked[0]
    if isinstance(only.step, st.Part):
        only.step = row = st.Row(only.step.items, at=only.step.at, count=only.step.count)
        scribe.numbered(row, ())
    return True


def step_number(label: str) -> int:
    """Return the number of "4.", "step 4:" or "d)"; 0 for a bullet."""
    digits = re.search(r"\d+", label)
    lettered = label[1:2] == ")"
    return int(digits[0]) if digits else ord(label[0].lower()) - 96 if lettered else 0


def _takes_all(scribe: Scribe, step: st.Step, first: int) -> bool:
    """Tell whether a part takes all stitches of a round, from its beginning to its end."""
    live = scribe.now()
    before = live.tallies_after(first)
    if not isinstance(step, st.Part) or _is_turned(step) or not before:
        return False
    return live.in_rounds and not live.behind_any() and not any(tally.behind for tally in before)


def _takes_row(scribe: Scribe, step: st.Step, first: int) -> bool:
    """Tell whether a part takes all stitches of a flat piece, from one edge to the other."""
    live = scribe.now()
    before, after = live.tallies_after(first), live.tallies_after(first + 1)
    if not isinstance(step, st.Part) or not before or not after:
        return False
    if any(isinstance(item, Turn | WrapTurn) for item in step.items):
        return False
    fresh = all(bool(tally.ahead) != bool(tally.behind) for tally in before)
    ended = all(tally.behind and not tally.ahead for tally in after)
    return fresh and ended and live.sure and not live.in_rounds


def _last_worked(scribe: Scribe, first: int) -> st.Step | None:
    """Return the step before an entry that is no words."""
    before = (entry.step for entry in reversed(scribe.assembler.entries[:first]))
    return next((step for step in before if not isinstance(step, _WORDS)), None)


_WORDS = (st.Note, st.Section)


def _ends_with_row(step: st.Step) -> bool:
    last = step.steps[-1] if isinstance(step, st.RepeatRounds) else step
    return isinstance(last, st.Row)


def _is_turned(step: st.Step) -> bool:
    return isinstance(step, st.Row | st.Part) and isinstance(step.items[-1], Turn | WrapTurn)
