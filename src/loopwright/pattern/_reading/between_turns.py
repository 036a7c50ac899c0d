"""Rows of one sentence, from turn to turn: "k17, ssk, turn; sl 1, p5, p2tog, turn"."""

from __future__ import annotations

import re
from collections.abc import Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._certain_changes import is_double
from loopwright.pattern._reading.how_far import RepeatBody, until
from loopwright.pattern._reading.how_often import times_in
from loopwright.pattern._reading.live import Live, between_turns
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._tally import GAP, Tally
from loopwright.pattern.items import Item, Repeat, Run, Turn
from loopwright.pattern.values import To, Where

__all__ = ["rows_begun", "starred_rows", "up_to_the_edge"]


def rows_begun(live: Live, items: Sequence[Item]) -> list[st.Row] | None:
    """Return items as rows, where the row before is at its end and these can be worked as such."""
    slipped = isinstance(items[0], Run) and items[0].stitch.startswith("sl")
    of_heel = slipped and "instep" in live.held()  # no instep begins so
    ended = of_heel or (live.is_free and not live.in_rounds)
    if not ended or any(tally.ahead or not tally.behind for tally in live.tallies):
        return None
    rows = list(between_turns(items))
    if not all(isinstance(row[0], Run | Repeat) for row in rows):
        return None
    steps = [st.Row(row) for row in rows]
    fit = not any(live.trial(steps, size).troubles for size in range(len(live.tallies)))
    return steps if fit else None


_STARRED = WordForm(
    r"\*\s*(?P<rows>[^*]*\bturn)\b\s*(?:[;,.]|\*)?\s*"
    r"(?:and )?rep(?:eat)?\b(?: from \*| these (?:two|2) rows)?,?\s*"
    r"(?:(?P<until>un?til+ .*)|(?P<times>[^*;]*\btimes\b[^*;]*|twice\b[^*;]*|once\b[^*;]*))$",
)
_TO_TURN = WordForm(r"(?P<row>.+?\bturn)\b[;,.\s]*(?:and )?(?:then )?")


def starred_rows(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read ``*sl 1, k6, ssk, turn; sl 1, p6, p2tog, turn; rep from * until 8 sts are left``."""
    match = _STARRED.match(said.text.strip(" ."))
    if match is None or scribe.now().in_rounds:
        return None
    items: list[Item] = []
    start = match.start("rows")
    for row in _TO_TURN.finditer(match["rows"]):
        found = scribe.items(said.piece(start + row.start("row"), start + row.end("row")))
        if found is None or not isinstance(found[-1], Turn):
            return None
        items += found
    rows = tuple(attrs.evolve(st.Row(row), at=scribe.place) for row in between_turns(items))
    if not rows:
        return None
    if match["until"]:
        end = re.sub(r"^un?til+ ", "", match["until"].lower())
        times = until(scribe, end, RepeatBody(copies=rows))
    else:
        times = times_in(match["times"])
    return None if times is None else [st.RepeatRounds(rows, times, at=scribe.place)]


def up_to_the_edge(row: st.Row | st.Part, tally: Tally) -> st.Row | st.Part:
    """Return a row "to the double stitch" that ends before the one at the edge.

    The row before was turned at the end of the heel, so that no gap is there yet.
    """
    within = tally.in_rounds and tally.behind
    if not is_double(row) or tally.next_of(GAP) is not None or within:
        return row
    return attrs.evolve(row, items=tuple(map(_to_the_end, row.items)))


def _to_the_end(item: Item) -> Item:
    to = getattr(item, "amount", None)
    if not isinstance(item, Run) or not isinstance(to, To) or to.where is not Where.GAP:
        return item
    return attrs.evolve(item, amount=attrs.evolve(to, where=Where.END))
