"""With which of its rows a repeat ends: "ending with row 2", "with a WS row", "with a purl row"."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.how_far import RepeatBody
from loopwright.pattern._reading.scribe import Lost, Scribe
from loopwright.pattern.items import Run

__all__ = ["by_their_numbers", "ends_with", "names_side"]


def by_their_numbers(scribe: Scribe, body: RepeatBody) -> RepeatBody:
    """Return "the last 2 rows" by their numbers, of which a repeat may end with one."""
    context, entries = scribe.context, scribe.assembler.entries
    numbers = tuple(range(context.last - body.last + 1, context.last + 1))
    if body.last < 2 or body.numbers or not all(number in context.rows for number in numbers):
        return body
    steps = [entry.step for entry in entries if not isinstance(entry.step, st.Note)]
    just = [getattr(step, "items", None) for step in steps[-body.last :]]
    told = [context.rows[number].items for number in numbers]
    return RepeatBody(numbers=numbers) if just == told else body


def names_side(ending: re.Match[str]) -> bool:
    """Tell whether the row that a repeat ends with is named by its side."""
    return (ending["side"] or "")[:1] in ("w", "r")


def ends_with(scribe: Scribe, body: RepeatBody, ending: re.Match[str] | None) -> int:
    """Return the number of the row that the repeat ends with, 0 for its last."""
    if ending is None or not body.numbers:
        return 0
    if ending["n"] or ending["nth"]:
        number = int(ending["n"] or ending["nth"])
        if number not in body.numbers:
            raise Lost(f"round {number} is not one of those repeated")
        return number
    side = ending["side"] or ""
    if side in ("purl", "knit"):
        return _of_stitch(scribe, body, side[0])
    wanted = "WS" if side.startswith("w") else "RS" if side.startswith("r") else ""
    if not wanted:
        return 0
    side = scribe.context.side_of(body.numbers[-1])
    if not side:  # nobody said which side is which: a purl row shows the wrong one
        return _of_stitch(scribe, body, "p" if wanted == "WS" else "k")
    if side != wanted:
        return body.numbers[-2] if len(body.numbers) > 1 else 0
    return 0


def _of_stitch(scribe: Scribe, body: RepeatBody, stitch: str) -> int:
    """Return the number of the one row that mostly knits, or purls: "ending with a purl row"."""
    found = []
    for number in body.numbers:
        row = scribe.context.row(number)
        runs = [item for item in row.items if isinstance(item, Run)] if row else []
        if any(run.stitch == stitch for run in runs) and not any(
            run.stitch == {"k": "p", "p": "k"}[stitch] for run in runs
        ):
            found.append(number)
    return found[0] if len(found) == 1 else 0
