"""What items and steps do to a count, where that hangs on nothing but themselves."""

from __future__ import annotations

from loopwright.fabric.stitches import StitchTable
from loopwright.pattern import steps as st
from loopwright.pattern._contents import things_in
from loopwright.pattern.items import (
    Item,
    Lift,
    Mark,
    Marking,
    On,
    PickUp,
    Repeat,
    Run,
    Stay,
    Turn,
    WrapTurn,
)
from loopwright.pattern.values import Sized, To
from loopwright.plurals import plural

__all__ = [
    "change_of",
    "ends_within",
    "grown_otherwise",
    "is_double",
    "is_whole",
    "unmarks",
]


def change_of(items: tuple[Item, ...], table: StitchTable) -> tuple[int, int] | None:
    """Return stitches surely taken, and by how many the count grows; None where that is open.

    It is open, too, where a number differs from size to size.
    """
    taken = change = 0
    for item in items:
        numbers = (getattr(item, "amount", 0), getattr(item, "times", 0))
        if any(isinstance(number, Sized) for number in numbers):
            return None
        if isinstance(item, Run):
            row = table[item.stitch] if item.stitch != "ds" else None
            if isinstance(item.amount, To):
                if row is not None and row.change:
                    return None
                continue
            times = int(item.amount)  # type: ignore[arg-type]
            taken += times * (row.takes if row else 1)
            change += times * (row.change if row else 0)
        elif isinstance(item, Repeat):
            inner = change_of(item.items, table)
            if inner is None or (isinstance(item.times, To) and inner[1]):
                return None
            times = 0 if isinstance(item.times, To) else int(item.times)  # type: ignore[arg-type]
            taken, change = taken + times * inner[0], change + times * inner[1]
        elif isinstance(item, On):
            inner = change_of(item.items, table)
            if inner is None or not item.parts:
                return None
            many = len(item.parts)
            taken, change = taken + many * inner[0], change + many * inner[1]
        elif isinstance(item, PickUp):
            change += int(item.amount)  # type: ignore[arg-type]
        elif isinstance(item, Lift):
            change += int(item.stitch == "m1l")
    return taken, change


def is_whole(step: st.Step) -> bool:
    """Tell whether what a step does to the count hangs on the count alone, and not on places."""
    if isinstance(step, st.RepeatRounds):
        return isinstance(step.times, int) and all(is_whole(one) for one in step.steps)
    if isinstance(step, st.Part):
        return not any(
            isinstance(item, Turn | WrapTurn | Stay | On | PickUp) for item in step.items
        ) and not any(isinstance(thing, To) for item in step.items for thing in things_in(item))
    if isinstance(step, st.Hold | st.CastOn):
        return True
    if not isinstance(step, st.Round | st.Row):
        return isinstance(step, st.Section | st.CutYarn | st.UseYarn)
    return not any(isinstance(item, Turn | WrapTurn | Stay | On | PickUp) for item in step.items)


def ends_within(items: tuple[Item, ...]) -> bool:
    """Tell whether a run "to end" stands before others: it ends at a place that has no name."""
    return any(isinstance(item, Run) and item.amount == To() for item in items[:-1])


def unmarks(step: st.Part) -> bool:
    """Tell whether markers are slipped or taken off, and nothing else is done."""
    return all(isinstance(item, Mark) and item.doing is not Marking.PLACE for item in step.items)


def is_double(step: st.Step | None) -> bool:
    """Tell whether a row begins with a double stitch."""
    return isinstance(step, st.Row | st.Part) and step.items[0] == Run("ds", 1)


def grown_otherwise(stated: int, made: int) -> str:
    """Say that a row changes the count by another number than is stated: "4 sts fewer"."""
    told, done = (f"{plural(abs(n), 'st')} {'fewer' if n < 0 else 'more'}" for n in (stated, made))
    return f"{told} stated; this makes {done}"
