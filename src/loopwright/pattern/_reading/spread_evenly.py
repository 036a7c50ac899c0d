"""Rounds whose decreases or increases are spread evenly: "decrease 6 sts evenly"."""

from __future__ import annotations

from loopwright.pattern import steps as st
from loopwright.pattern._grammar.said import Numbered
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import for_sizes
from loopwright.pattern.items import Item, Repeat, Run
from loopwright.pattern.values import Count, To, sized, values_of

__all__ = ["evenly"]


def evenly(scribe: Scribe, amount: Count, *, down: bool, course: str) -> list[Says] | None:
    """Return a round with decreases or increases spread evenly over it."""
    live = scribe.now()
    if not live.sure:
        return None
    counts = [tally.count for tally in live.tallies]
    many = for_sizes(tuple(map(int, values_of(amount))), len(counts))
    if len(many) != len(counts):
        return None
    takes = 2 if down else 1
    between = []
    for count, each in zip(counts, many, strict=True):
        if each and count // each < takes:
            return None
        between.append(count // each - takes if each else 0)
        if not down:
            between[-1] += takes
    plain: Count = sized(between)
    times: Count = sized(many)
    stitch = Run("k2tog" if down else "m1l")
    group: tuple[Item, ...] = (Run("k", plain), stitch) if plain != 0 else (stitch,)
    items: tuple[Item, ...] = (Repeat(group, times), Run("k", To()))
    step: st.Round | st.Row = st.Round(items) if course == "RND" else st.Row(items)
    scribe.numbered(step, ())
    return [Numbered(step)]
