# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A rib of two rows worked again: "beg with a 2nd row, work 5 rows in rib as given for back"."""

from __future__ import annotations

from collections.abc import Sequence

from loopwright.pattern import steps as st
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._reading.rule_table import expression
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern.items import Item, Repeat, Run

__all__ = ["rib_again"]

_AS = r",? (?:exactly )?(?:as|like) (?:(?:given|worked|told|set) )?(?:for|on|at) (?:the )?[a-z]+(?: [a-z]+)?|,? as (?:set|before|est\w*)"
_AGAIN = expression(
    r"(?:(?:beg\w*\.?|start\w*|commenc\w*) (?:with|on|from) (?:a |the )?(?:(?P<nth>1st|2nd|first|second) row|row (?P<row>[12]))(?: of (?:the )?rib\w*)?,? )?(?:(?:and|then|now) )*"
    rf"(?:(?:work|knit|continue|cont|rib) (?P<n>{{N}}) rows(?: (?:in|of) (?:the )?rib\w*)?(?:{_AS})?|(?:work|knit|continue|cont) in (?:the )?rib\w*(?:{_AS})? for (?P<n2>{{N}}) rows(?:{_AS})?)"
)


def rib_again(scribe: Scribe, text: str) -> list[Says] | None:
    """Read so many rows of a rib that was told as two rows, in rows again."""
    if "rib" not in (low := text.lower()) or scribe.course != "ROW":
        return None
    match = _AGAIN.match(low)
    if match is None:
        return None
    many, rows = count_in(match["n"] or match["n2"]), _rib_rows(scribe)
    if not rows or not isinstance(many, int):
        return None
    if (match["nth"] or match["row"]) in ("2nd", "second", "2"):
        rows = rows[::-1]
    times, over = divmod(many, len(rows))
    again: list[Says] = [st.RepeatRounds(rows, times)] if times > 1 else [*rows] * times
    return again + [rows[0]] * over


def _rib_rows(scribe: Scribe) -> tuple[st.Row, ...]:
    """Return the first two rows of a rib, one behind the other; one where it is repeated alone."""
    last: st.Step | None = None
    for entry in scribe.assembler.entries:
        step, rows = entry.step, list(rounds_in((entry.step,)))
        ribs = [st.Row(row.items) for row in rows if isinstance(row, st.Row) and _is_rib(row.items)]
        if len(ribs) == len(rows) == 2:
            return tuple(ribs)  # told with how often they are repeated
        if len(rows) == 1 and isinstance(rows[0], st.Row) and _is_rib(rows[0].items):
            if rows[0] is not step or (isinstance(last, st.Row) and last.items == rows[0].items):
                return (st.Row(rows[0].items),)
            if isinstance(last, st.Row):
                return st.Row(last.items), st.Row(rows[0].items)  # on either side
            last = step
        elif not isinstance(step, st.Note):
            last = None
    return ()


def _is_rib(items: Sequence[Item]) -> bool:
    """Tell whether a row has runs of knit and of purl stitches alone, some of them repeated."""
    runs = [one for item in items for one in (item.items if isinstance(item, Repeat) else (item,))]
    names = {one.stitch if isinstance(one, Run) else "" for one in runs}
    return names == {"k", "p"} and any(isinstance(item, Repeat) for item in items)
