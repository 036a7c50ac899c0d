"""The rows that "carry on in stripes" asks for: those of the colours that were worked by turns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._reading.uncounted import changes_count
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.items import Item, Run, With, items_in
from loopwright.pattern.stripes import Stripes

__all__ = ["striped_rows"]

_Row = st.Round | st.Row
_IN_STRIPES = WordForm(r"\bstrip(?:es?|ed|ing)\b")


def striped_rows(scribe: Scribe, words: str) -> tuple[_Row, ...] | None:
    """Return one sequence of the stripes in work, each row in its yarn; None if none is known."""
    if _IN_STRIPES.search(words) is None or _go_on_by_themselves(scribe):
        return None
    found = _numbered(scribe) or _worked(scribe)
    return tuple(attrs.evolve(row, count=None, at=scribe.place) for row in found) or None


def _go_on_by_themselves(scribe: Scribe) -> bool:
    """Tell whether yarns take turns already, whatever the rounds are."""
    steps = (one.step for one in reversed(scribe.assembler.entries))
    last = next((step for step in steps if isinstance(step, st.UseYarn | Stripes)), None)
    return isinstance(last, Stripes)


def _numbered(scribe: Scribe) -> list[_Row]:
    """Return the numbered rows of this section, or of the last that has some, if all name yarns."""
    context = scribe.context
    sections = [rows for rows, _ in reversed(list(context.sections.values()))]
    for rows in (context.rows, *sections):
        told = [rows[number] for number in sorted(rows)]
        yarns = [_yarn_of(row) for row in told]
        if len({*yarns} - {"", None}) > 1 and yarns[0] and None not in yarns:
            whole = [*sorted(rows)] == [*range(1, len(rows) + 1)]
            shaped = any(changes_count(scribe, row) for row in told)
            return told if whole and not shaped else []
    return []


def _yarn_of(row: _Row) -> str | None:
    """Return the yarn that a row begins with, "" where it goes on with that of the row before; None
    for a row of two yarns.
    """
    first, *others = items_in(row.items)
    if any(isinstance(item, With) for item in others):
        return None
    return first.yarn if isinstance(first, With) else ""


def _worked(scribe: Scribe) -> list[_Row]:
    """Return one sequence of the bands of plain rows worked last, if its end can be told."""
    bands = list(_bands(scribe))
    yarns = {name for name, _ in bands}
    for many in range(2, len(bands) + 1):
        again = all(band == bands[at % many] for at, band in enumerate(bands))
        if again and len({name for name, _ in bands[:many]}) == len(yarns):
            sequence = bands[many - 1 :: -1]
            return [
                attrs.evolve(row, items=(With(name), *row.items))
                for name, rows in sequence
                for row in rows
            ]
    return []


def _bands(scribe: Scribe) -> Iterator[tuple[str, tuple[_Row, ...]]]:
    """Yield the yarns of the last plain rows with these, the last of them first."""
    rows: list[_Row] = []
    items: tuple[Item, ...] | None = None
    for step in (one.step for one in reversed(scribe.assembler.entries)):
        if isinstance(step, st.UseYarn):
            if not rows:
                return
            yield step.name, tuple(reversed(rows))
            rows = []
        elif not isinstance(step, st.Note | st.CutYarn):
            one = _rows_of(step)
            items = items or (one[0].items if one else None)
            if not one or any(row.items != items for row in one) or not _is_plain(items):
                return
            rows += one


def _rows_of(step: st.Step) -> Sequence[_Row]:
    if isinstance(step, st.RepeatRounds) and isinstance(step.times, int):
        return list(rounds_in(step.steps)) * step.times
    return [step] if isinstance(step, st.Round | st.Row) else []


def _is_plain(items: Iterable[Item] | None) -> bool:
    return items is not None and all(isinstance(one, Run) and one.stitch == "k" for one in items)
