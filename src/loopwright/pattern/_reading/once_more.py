"""Rows worked again: so often, or once more behind a repeat, by number, place, side or stitch."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._reading.assemble import on_both_sides
from loopwright.pattern._reading.labels import numbers_in
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern.items import Item, Repeat, Run

__all__ = ["ROW_OF_KIND", "is_apart", "once_more", "so_often"]

ROW_OF_KIND = r"(?:[rw]s|right[- ]side|wrong[- ]side|knit|purl) (?:row|round|rnd)"
_PLACES = {"first": 0, "second": 1, "last": -1}


def once_more(scribe: Scribe, what: str) -> list[Says] | None:
    """Return the row that "then row 1 once more" or "then the WS row once more" means."""
    if any(letter.isdigit() for letter in what):
        numbers = numbers_in(what)
        row = scribe.context.row(numbers[0]) if numbers else None
    else:
        rows = _last_repeated(scribe)
        place = _PLACES.get(what.split()[0])
        if place is not None:
            row = rows[place] if len(rows) > max(place, 0) else None
        elif what.startswith(("knit", "purl")):
            row = _of_stitch(rows, what[0])
        else:
            row = _of_side(scribe, rows, what[0])
    return None if row is None else [attrs.evolve(row, count=None)]


def so_often(steps: Sequence[st.Step], times: st.Times, place: st.TextPlace) -> list[Says]:
    """Return rows worked so often; one that is repeated alone is worked on both sides."""
    if times == 1:
        return list(steps)
    return [st.RepeatRounds(tuple(on_both_sides(steps, times)), times, at=place)]


def _last_repeated(scribe: Scribe) -> Sequence[st.Round | st.Row]:
    """Return the rows of the last repeat."""
    entries = reversed(scribe.assembler.entries)
    last = next((e.step for e in entries if isinstance(e.step, st.RepeatRounds)), None)
    return [] if last is None else list(rounds_in(last.steps))


def _of_side(
    scribe: Scribe, rows: Sequence[st.Round | st.Row], side: str
) -> st.Round | st.Row | None:
    """Return the one row of a pair that is worked on a side, stated or as the work lies."""
    pair = [row for row in rows if isinstance(row, st.Row)]
    if len(pair) != 2 or len(rows) != 2:
        return None
    for row, other in (pair, pair[::-1]):
        if row.side is not None:
            return row if st.Side(row.side).value[0].lower() == side else other
    faces = {"r" if tally.right_side else "w" for tally in scribe.now().tallies}
    if len(faces) != 1:
        return None
    return pair[0] if faces == {side} else pair[1]


def _of_stitch(rows: Sequence[st.Round | st.Row], stitch: str) -> st.Round | st.Row | None:
    """Return the one row that knits and does not purl, or the other way about."""
    kinds = [_stitches(row.items) & {"k", "p"} for row in rows]
    found = [row for row, kind in zip(rows, kinds, strict=True) if kind == {stitch}]
    return found[0] if len(found) == 1 else None


def _stitches(items: Sequence[Item]) -> set[str]:
    found: set[str] = set()
    for item in items:
        if isinstance(item, Run):
            found.add(item.stitch)
        elif isinstance(item, Repeat):
            found |= _stitches(item.items)
    return found


def is_apart(scribe: Scribe, numbers: Sequence[int]) -> bool:
    """Tell whether other rows were worked since those of these numbers, or they were repeated."""
    known = bool(numbers) and all(scribe.context.row(number) is not None for number in numbers)
    return known and not scribe.assembler.ends_with(numbers[0], numbers[-1])
