"""What is looked at before steps are handed on: stitches on hold, needles that nobody arranged.

Behind a cast-off, "Thumb: Knit the 13 sts from the holder, pick up and knit 3 more" does not say
that they are put on the needle: nothing else is there to be knitted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, TypeVar

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._grammar.said import Numbered
from loopwright.pattern.items import Item, On, PickUp, Repeat, Run, Turn
from loopwright.pattern.values import To, sized, values_of

if TYPE_CHECKING:
    from loopwright.pattern._reading.live import Live

__all__ = [
    "along_strip",
    "amid_needle",
    "held_first",
    "lacks_needles",
    "taken_by",
    "turned_once",
    "without_idle_words",
]

_S = TypeVar("_S")
_CLOSES = (st.BindOff, st.ThreeNeedleBindOff, st.DrawUp, st.Graft)
_BETWEEN = (st.Section, st.Note, st.UseYarn, st.CutYarn, st.WeaveIn)


def held_first(
    backwards: Iterable[st.Step], says: Sequence[object], now: Callable[[], Live]
) -> list[st.Step]:
    """Return what brings a held group back, if these steps can only be worked on it.

    Rounds by two needles need those that were on waste yarn shared out first.
    """
    if any(isinstance(one, st.RepeatRounds) for one in says):
        return _halved_again(backwards, says, now)
    first = next((one for one in says if not isinstance(one, _BETWEEN)), None)
    first = first.step if isinstance(first, Numbered) else first
    if isinstance(first, st.BindOff):
        wanted: object = first.stitches
    elif isinstance(first, st.Part | st.Row | st.Round) and _takes(first.items[0]):
        wanted = getattr(first.items[0], "amount", None)
    else:
        return []
    if wanted is None:
        return []
    last = next((step for step in backwards if not isinstance(step, _BETWEEN)), None)
    if not isinstance(last, _CLOSES):
        return []
    live = now()
    if not live.tallies or any(tally.count for tally in live.tallies):
        return []
    steps = [one.step if isinstance(one, Numbered) else one for one in says]
    for name in sorted(live.held(), key=lambda name: live.held()[name] != wanted):
        back = [st.ReturnHeld(name), *(one for one in steps if isinstance(one, st.Step))]
        if not any(live.trial(back, size).troubles for size in range(len(live.tallies))):
            return back[:1]
    return []


def turned_once(says: Iterable[_S], has_turned: Callable[[], bool]) -> list[_S | st.Step]:
    """Return steps without the turn ahead of stitches that the row before them ends with."""
    given: list[_S | st.Step] = list(says)
    first = given[0] if given else None
    if not isinstance(first, st.Part) or first.items[0] != Turn() or len(first.items) == 1:
        return given  # a turn alone takes one back
    if not has_turned():
        return given
    return [attrs.evolve(first, items=first.items[1:]), *given[1:]]


def _takes(item: Item) -> bool:
    """Tell whether an item takes so many stitches, said by their number."""
    return isinstance(item, Run) and not isinstance(item.amount, To)


def amid_needle(step: st.Step) -> st.Step:
    """Return a part that ends amid a needle without that needle's name: waste yarn comes next."""
    if not isinstance(step, st.Part):
        return step
    *before, last = step.items
    if not isinstance(last, On) or len(last.parts) != 1 or not all(map(_takes, last.items)):
        return step
    return attrs.evolve(step, items=(*before, *last.items))


def without_idle_words(says: _S, now: Callable[[], Live]) -> _S:
    """Return something said without "once", and without the needle that holds all that is in work.

    Where the heel alone is worked, "Row 1: K to the last 9 sts of Needle 2, ssk, turn" has no
    other needle to go on to.
    """
    if isinstance(says, Numbered):
        says = attrs.evolve(says, times=None) if says.times == 1 else says
        step = without_idle_words(says.step, now)
        return says if step is says.step else attrs.evolve(says, step=step)
    if not isinstance(says, st.Row) or not isinstance(only := says.items[0], On):
        return says
    if len(says.items) > 1 or len(only.parts) != 1 or not only.parts[0].startswith("needle"):
        return says
    live = now()
    alone = live.held() and not any(tally.parts for tally in live.tallies)
    return attrs.evolve(says, items=only.items) if alone else says


def lacks_needles(step: st.Step, now: Callable[[], Live]) -> bool:
    """Tell whether a round is told by needles that nobody shared the stitches out to."""
    if not isinstance(step, st.Round):
        return False
    if not any(isinstance(item, On) and item.parts for item in step.items):
        return False
    return not any(tally.parts for tally in now().tallies)


def _halved_again(
    backwards: Iterable[st.Step], says: Sequence[object], now: Callable[[], Live]
) -> list[st.Step]:
    """Return what shares stitches out that were on waste yarn, where rounds go by two needles."""
    rounds = [one for one in says if isinstance(one, st.RepeatRounds)]
    if not any(isinstance(item, On) for one in rounds_in(rounds) for item in one.items):
        return []
    last = next((s for s in backwards if isinstance(s, st.Arrange | st.Recapture)), None)
    live = now() if isinstance(last, st.Recapture) else None
    if live is None or not live.is_whole_round or any(tally.parts for tally in live.tallies):
        return []
    counts = [tally.count for tally in live.tallies]
    if any(count % 2 or not count for count in counts):
        return []
    half = sized([count // 2 for count in counts])
    return [st.Arrange((half, half))]


def along_strip(live: Live, items: Sequence[Item]) -> list[st.Step]:
    """Return what begins a row along both sides of a strip knitted amid others: a bootee's instep.

    What lies on the right-hand needle is slipped, where the row does not knit it.
    """
    picks = sum(isinstance(item, PickUp) for item in items)
    if live.in_rounds or {*live.held()} != {"side", "instep"} or picks < 2:
        return []
    back: list[st.Step] = [st.ReturnHeld("side", next_to_work=True)]
    if isinstance(items[0], PickUp):
        back.append(st.Part((Run("sl", live.held()["side"]),)))
    return back


def taken_by(item: Item) -> int | None:
    """Return how many stitches an item takes at least; None where it takes none."""
    if isinstance(item, Run):
        return 1 if isinstance(item.amount, To) else int(values_of(item.amount)[0])
    return 1 if isinstance(item, Repeat) else None
