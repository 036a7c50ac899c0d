"""Steps of a text that are numbered like rows: "9. Slip 1, purl 6, purl 2 together, turn."."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loopwright.pattern import steps as st
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.items import Turn, WrapTurn

if TYPE_CHECKING:
    from loopwright.pattern._reading.scribe import Scribe

__all__ = ["last_parts_as_rows", "row_of_step"]

_LAST_ROWS = WordForm(r"\b(?:last|these|those|previous) (?:(?:2|two|4|four) )?rows\b")


def last_parts_as_rows(scribe: Scribe, text: str) -> None:
    """Take parts of a round that were turned for rows, where "the last two rows" are spoken of."""
    if not _LAST_ROWS.search(text):
        return
    found = []
    for entry in reversed(scribe.assembler.entries):
        if not isinstance(entry.step, st.Part) or not _is_turned(entry.step):
            break
        found.append(entry)
    for entry in reversed(found[:-1]):  # the first one begins amid a round
        part = entry.step
        entry.step = row = st.Row(part.items, at=part.at, count=part.count)  # type: ignore[attr-defined]  # a part
        scribe.numbered(row, ())


def row_of_step(scribe: Scribe, first: int) -> None:
    """Take what a numbered step came to, from an entry on, for a row if it is one between turns.

    "Repeat steps 9 and 10" can only be said of rows.
    """
    entries = scribe.assembler.entries
    worked = [entry for entry in entries[first:] if not isinstance(entry.step, st.Note)]
    if len(worked) != 1:
        return
    if _goes_round(scribe, worked[0].step, first):
        part = worked[0].step
        worked[0].step = whole = st.Round(part.items, at=part.at, count=part.count)  # type: ignore[attr-defined]  # a part
        scribe.numbered(whole, ())
        return
    if not _is_turned(worked[0].step):
        return
    backwards = (e.step for e in reversed(entries[:first]) if not isinstance(e.step, _WORDS))
    before = next(backwards, None)
    if not (before is not None and (_is_turned(before) or _ends_with_row(before))):
        return
    only = worked[0]
    if isinstance(only.step, st.Part):
        only.step = row = st.Row(only.step.items, at=only.step.at, count=only.step.count)
        scribe.numbered(row, ())


def _goes_round(scribe: Scribe, step: st.Step, first: int) -> bool:
    """Tell whether a part takes all stitches of a round, from its beginning to its end."""
    live = scribe.now()
    before = live.tallies_after(first)
    return (
        isinstance(step, st.Part)
        and not _is_turned(step)
        and live.in_rounds
        and not live.behind_any()
        and bool(before)
        and not any(tally.behind for tally in before)
    )


_WORDS = (st.Note, st.Section)


def _ends_with_row(step: st.Step) -> bool:
    last = step.steps[-1] if isinstance(step, st.RepeatRounds) else step
    return isinstance(last, st.Row)


def _is_turned(step: st.Step) -> bool:
    return isinstance(step, st.Row | st.Part) and isinstance(step.items[-1], Turn | WrapTurn)
