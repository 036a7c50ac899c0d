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
from loopwright.pattern._tally import MARKER, Tally
from loopwright.pattern.items import KNIT, Item, Mark, Marking, On, PickUp, Repeat, Run
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
    if repeat != items[0] and isinstance(repeat.times, To) and _leans_both_ways(repeat):
        repeat = attrs.evolve(repeat, times=2)  # the markers were told of, not placed
    if (written := _written_out(scribe, repeat)) is not None:
        return st.Round(written)
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
    last = scribe.assembler.entries[-1].step if scribe.assembler.entries else None
    picked = isinstance(last, st.Part) and isinstance(last.items[-1], PickUp)  # at a corner
    begins = [st.BeginHere()] if picked and any(tally.behind for tally in live.tallies) else []
    if any(
        tally.parts or tally.count % 2 or (tally.behind and not begins) for tally in live.tallies
    ):
        return
    slants = {item.stitch for item in each[0].items if isinstance(item, Run)}
    if (slants & {"ssk", "skp"} and "k2tog" in slants) or {"m1l", "m1r"} <= slants:
        half = live._all([tally.count // 2 for tally in live.tallies])
        found = change_of(tuple(one for one in each[0].items if _is_counted(one)), scribe.table)
        stated = scribe.stated or stated_in(MappedText.of(scribe.following)).count
        if found is None or (stated and stated != plus(live.count, 2 * found[1])):
            return  # four needles, as the stated count shows
        entry = type(scribe.assembler).entry
        scribe.assembler.entries += [entry(one) for one in begins]
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


def _written_out(scribe: Scribe, repeat: Repeat) -> tuple[Item, ...] | None:
    """Return a repeat from marker to marker as it is where the last of them is the round's end."""
    live = scribe.now()
    inside = {len(_markers_inside(tally)) for tally in live.tallies}
    if (
        not live.sure
        or not live.in_rounds
        or repeat.times not in range(2, 7)
        or not _is_slip(repeat.items[-1])
    ):
        return None
    if inside != {int(repeat.times) - 1} or any(_marked_end(tally) for tally in live.tallies):  # type: ignore[arg-type]
        return None
    if not any(_leads_to_marker(item) for item in repeat.items):
        return None
    ended = tuple(_to_end(item) for item in repeat.items[:-1])
    return (*(repeat.items * (int(repeat.times) - 1)), *ended)  # type: ignore[arg-type]


def _leans_both_ways(repeat: Repeat) -> bool:
    """Tell whether a repeat shapes at both of its ends, as the halves of a round do."""
    slants = {item.stitch for item in repeat.items if isinstance(item, Run)}
    return "k2tog" in slants and bool(slants & {"ssk", "skp"})


def _markers_inside(tally: Tally) -> list[int]:
    return [at for key, at in tally.ahead_at.items() if key[0] == MARKER and 0 < at < tally.ahead]


def _marked_end(tally: Tally) -> bool:
    return any(key[0] == MARKER and at == 0 for key, at in tally.ahead_at.items())


def _leads_to_marker(item: Item) -> bool:
    return (
        isinstance(item, Run)
        and isinstance(item.amount, To)
        and item.amount.where is Where.MARKER
        and not item.amount.name
    )


def _to_end(item: Item) -> Item:
    """Return a run to a marker as one to the end."""
    if isinstance(item, Run) and _leads_to_marker(item):
        return attrs.evolve(item, amount=attrs.evolve(To(), before=item.amount.before))  # type: ignore[union-attr]
    return item


def _to_its_end(scribe: Scribe, repeat: Repeat) -> Repeat:
    """Read "to 3 sts before marker" as the end of each part where no marker was placed inside."""
    if any(_markers_inside(tally) for tally in scribe.now().tallies):
        return repeat
    items = [_to_end(item) for item in repeat.items]
    if items != list(repeat.items) and _is_slip(items[-1]):
        del items[-1]  # a marker that was told of, and hangs where the part ends
    return attrs.evolve(repeat, items=tuple(items))


def _is_slip(item: Item) -> bool:
    return isinstance(item, Mark) and item.doing == Marking.SLIP
