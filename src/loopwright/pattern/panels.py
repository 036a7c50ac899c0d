"""A panel: a stitch pattern described once, whose next round is worked wherever a round says so.

So a round that shapes a gusset says "instep: work panel; sole: k1, ssk ...", and says the same in
every repeat, whichever round of the panel is due.

Examples
--------
>>> from loopwright.pattern import PanelRounds, Round, Run, WorkPanel, in_words, k, k_to
>>> lace = PanelRounds([[Run("k2tog"), Run("yo"), k(2)], [k(4)]])
>>> in_words(lace)
'Panel rnd 1: K2tog, yo, k2. Panel rnd 2: K4.'
>>> in_words(Round([k(20), WorkPanel(), k_to()]))
'Rnd 1: K20, work panel, k to end.'
"""

from __future__ import annotations

from collections.abc import Iterable

import attrs

from loopwright.border import guard
from loopwright.errors import StepError
from loopwright.pattern.items import (
    Item,
    On,
    Repeat,
    Run,
    Stay,
    Turn,
    WorkPanel,
    WrapTurn,
    check_items,
    items_in,
)
from loopwright.pattern.steps import Step
from loopwright.pattern.values import To

__all__ = ["PanelRounds"]


def _as_rounds(rounds: Iterable[Iterable[Item]]) -> tuple[tuple[Item, ...], ...]:
    return tuple(tuple(items) for items in rounds)


@attrs.frozen
class PanelRounds(Step):
    """What the panel is, round by round; its first round is worked next.

    Parameters
    ----------
    rounds : tuple of tuple of Item
        Each as wide as the panel, in numbers: "to end" would be the round's.
    """

    rounds: tuple[tuple[Item, ...], ...] = attrs.field(converter=_as_rounds)

    def __attrs_post_init__(self) -> None:
        if not self.rounds or self.count is not None:
            raise StepError("PanelRounds", "a panel needs its rounds and states no count")
        for items in self.rounds:
            check_items("PanelRounds", items)
            for item in items_in(items):
                to = isinstance(item, Run) and isinstance(item.amount, To)
                to = to or (isinstance(item, Repeat) and isinstance(item.times, To))
                if to or isinstance(item, On | Stay | Turn | WrapTurn | WorkPanel):
                    raise StepError("PanelRounds", "a panel is made of stitches and numbers")


guard(globals())
