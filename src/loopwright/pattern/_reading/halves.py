"""Rounds of two halves or needles that are worked alike: told for one of them, or by its end."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from loopwright.fabric.stitches import STITCHES
from loopwright.pattern import steps as st
from loopwright.pattern._certain_changes import change_of
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._reading.stated import stated_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._tally import MARKER
from loopwright.pattern.items import KNIT, Item, Mark, On, Repeat, Run
from loopwright.pattern.values import Count, To, Where, plus

__all__ = ["on_halves"]


def on_halves(scribe: Scribe, step: st.Round | st.Row) -> st.Round | st.Row:
    """Read ``*k1, ssk, k to last 3 sts of this half …; rep from * once more`` as what it is."""
    if (items := _past_markers(step.items)) != step.items:
        step = attrs.evolve(step, items=items)
    if scribe.context.alike and isinstance(step, st.Round) and _is_of_a_half(scribe, items):
        step = attrs.evolve(step, items=(items := (Repeat(items, 2),)))
    _halve_for_needles(scribe, step)
    if isinstance(step, st.Row) or len(items) != 1 or not isinstance(items[0], Repeat):
        return step
    repeat = _to_its_end(scribe, items[0])
    if (
        not isinstance(repeat.times, int)
        or not 1 < repeat.times < 7
        or not any(
            isinstance(item, Run) and isinstance(item.amount, To) and item.amount.where is Where.END
            for item in repeat.items
        )
    ):
        return step
    live = scribe.now()
    if live.sure and len(live.tallies[0].parts) != repeat.times:
        counts = [tally.count for tally in live.tallies]
        if any(count % repeat.times for count in counts):
            return step
        each: Count = live._all([count // repeat.times for count in counts])
        arranged = st.Arrange(tuple(each for _ in range(repeat.times)), at=scribe.place)
        entries = scribe.assembler.entries
        at = len(entries)
        while at and getattr(entries[at - 1].step, "items", ()) == (KNIT,):
            at -= 1  # plain rounds before belong to what will be repeated
        entries.insert(at, type(scribe.assembler).entry(arranged))
    return st.Round((On((), repeat.items),))


def _is_of_a_half(scribe: Scribe, items: tuple[Item, ...]) -> bool:
    """Tell whether a round shapes, and is told once, not for each half or in a repeat."""
    found = change_of(items, scribe.table) if all(isinstance(one, Run) for one in items) else (0, 0)
    return found is None or found[1] != 0


def _halve_for_needles(scribe: Scribe, step: st.Round | st.Row) -> None:
    """Lay the stitches on two needles where "each needle" is worked, and no more is known."""
    each = isinstance(step, st.Round) and [one for one in step.items if isinstance(one, On)]
    if not scribe.loose or not each or len(step.items) > 1 or each[0].parts:
        return
    live = scribe.now()
    if not live.sure or not live.in_rounds:
        return
    if any(tally.parts or tally.count % 2 or tally.behind for tally in live.tallies):
        return
    slants = {item.stitch for item in each[0].items if isinstance(item, Run)}
    if (slants & {"ssk", "skp"} and "k2tog" in slants) or {"m1l", "m1r"} <= slants:
        half = live._all([tally.count // 2 for tally in live.tallies])
        found = change_of(tuple(one for one in each[0].items if _is_counted(one)), scribe.table)
        stated = scribe.stated or stated_in(MappedText.of(scribe.following)).count
        if found is None or (stated and stated != plus(live.count, 2 * found[1])):
            return  # four needles, as the stated count shows
        entry = type(scribe.assembler).entry
        scribe.assembler.entries.append(entry(st.Arrange((half, half), at=scribe.place)))


def _is_counted(item: Item) -> bool:
    return not (isinstance(item, Run) and isinstance(item.amount, To))


def _past_markers(items: Sequence[Item]) -> tuple[Item, ...]:
    """Slip the marker in "k to 3 sts before first marker, k2tog, k1; k to second marker, k1, …".

    The stitches between lead up to it, so that it is the next one that is meant then.
    """
    found: list[Item] = []
    left: int | None = None  # stitches to the marker ahead, where that is known
    for item in items:
        takes = None
        if isinstance(item, Run):
            if isinstance(item.amount, To):
                to = item.amount
                if to.where is Where.MARKER and not to.name and isinstance(to.before, int):
                    if left == 0:
                        found.append(Mark("slip"))
                    left = to.before
                    found.append(item)
                    continue
            elif isinstance(item.amount, int) and item.stitch in STITCHES:
                takes = item.amount * STITCHES[item.stitch].takes
        left = None if left is None or takes is None or takes > left else left - takes
        found.append(item)
    return tuple(found)


def _to_its_end(scribe: Scribe, repeat: Repeat) -> Repeat:
    """Read "to 3 sts before marker" as the end of each part where no marker was placed inside."""
    for tally in scribe.now().tallies:
        if any(key[0] == MARKER and 0 < at < tally.ahead for key, at in tally.ahead_at.items()):
            return repeat
    end = To(where=Where.END)
    items = tuple(
        attrs.evolve(item, amount=attrs.evolve(end, before=item.amount.before))
        if isinstance(item, Run)
        and isinstance(item.amount, To)
        and item.amount.where is Where.MARKER
        else item
        for item in repeat.items
    )
    return attrs.evolve(repeat, items=items)
