"""Rounds told as what stands before the instep, the instep, and what follows, without markers."""

from __future__ import annotations

from collections.abc import Sequence

from loopwright.pattern import steps as st
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern.items import Item, On, Run
from loopwright.pattern.values import To, as_many, sized

__all__ = ["arrange_by_instep"]

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
    if not live.sure or not live.tallies or live.held():
        return
    if any(tally.parts or tally.behind for tally in live.tallies):
        return
    instep = as_many(amid[0].amount, live.count)
    around = [tally.count - one for tally, one in zip(live.tallies, instep, strict=True)]
    if any(one < 4 or one % 2 for one in around):
        return
    side = sized([one // 2 for one in around])
    scribe.assembler.add_plain(st.Arrange((side, amid[0].amount, side), at=scribe.place))
