"""Rounds told as what stands before the instep, the instep, and what follows, without markers."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern.items import Item, On, Repeat, Run
from loopwright.pattern.values import Sized, To, as_many, sized

__all__ = ["arrange_by_instep", "without_sides"]

_NAMES = [("needle 1",), ("needle 2",), ("needle 3",)]


def arrange_by_instep(scribe: Scribe, items: Sequence[Item]) -> None:
    """Share stitches out that nobody did, where the round begins at the centre of the heel.

    "Knit to 3 sts before the instep, k2tog, k1, knit the 20 instep sts, k1, ssk, knit to end":
    the others lie half before the instep, half behind it.
    """
    parts = [item for item in items if isinstance(item, On)]
    if len(parts) != len(items) or [list(part.parts) for part in parts] != [
        list(names) for names in _NAMES
    ]:
        return
    amid, live = parts[1].items, scribe.now()
    if len(amid) != 1 or not isinstance(amid[0], Run) or isinstance(amid[0].amount, To):
        return
    if not live.is_free:
        return
    if any(tally.parts or tally.behind for tally in live.tallies):
        return
    instep = as_many(amid[0].amount, live.count)
    around = [tally.count - one for tally, one in zip(live.tallies, instep, strict=True)]
    if any(one < 4 or one % 2 for one in around):
        return
    side = sized([one // 2 for one in around])
    scribe.assembler.add_plain(st.Arrange((side, amid[0].amount, side), at=scribe.place))


_SIDES = frozenset(("sole", "instep", "palm", "back", "front"))


def without_sides(scribe: Scribe, step: st.Round) -> st.Round:
    """Return a round told side by side as one run of stitches, where nobody has shared them out.

    "Sole: k28. Instep: *k2, p2; rep from * to end" needs no needles.
    """
    sides = [item for item in step.items if isinstance(item, On)]
    if len(sides) < 2 or len(sides) != len(step.items):
        return step
    if any(len(side.parts) != 1 or side.parts[0] not in _SIDES for side in sides):
        return step
    if len({side.parts for side in sides}) < len(sides):
        return step  # one side told in two pieces
    tallies = scribe.now().tallies
    if not tallies or not all(tally.count for tally in tallies):
        return step  # of a pattern that begins elsewhere: how its stitches lie is not told here
    if scribe.context.places or any(tally.parts for tally in tallies):
        return step
    if any(isinstance(entry.step, st.Arrange) for entry in scribe.assembler.entries):
        return step
    if any(_goes_far(side.items) for side in sides[:-1]):
        return step
    return attrs.evolve(step, items=tuple(item for side in sides for item in side.items))


def _goes_far(items: Sequence[Item]) -> bool:
    """Tell whether items go to the end of something, however many stitches that is."""
    return any(
        (isinstance(item, Run) and isinstance(item.amount, To))
        or (isinstance(item, Repeat) and not isinstance(item.times, int | Sized))
        or (isinstance(item, On | Repeat) and _goes_far(item.items))
        for item in items
    )
