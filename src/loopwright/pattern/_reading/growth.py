"""How the numbers of a row grow from one to the next like it, and what comes after them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

import attrs

from loopwright.fabric.stitches import STITCHES
from loopwright.pattern import steps as st
from loopwright.pattern.items import Item, Mark, Marking, On, Repeat, Run, items_in
from loopwright.pattern.values import Count, Sized, To, as_many, plus, sized, values_of

__all__ = [
    "changes", "cycle_of", "grown_by", "growth_of", "longest", "longest_changed", "one_less",
    "shapes", "shapes_items", "without_nothing",
]  # fmt: skip


def shapes(row: st.Round | st.Row) -> bool:
    """Tell whether a row does more than knit, purl and slip."""
    return shapes_items(row.items)


def shapes_items(items: Sequence[Item]) -> bool:
    """Tell whether items do more than knit, purl and slip: a rib or an edge shapes nothing."""
    if len(items) == 1 and isinstance(items[0], Run) and items[0].amount == To():
        return False
    return not all(map(_is_plain, items_in(items)))


def _is_plain(item: Item) -> bool:
    if isinstance(item, Run):
        return item.stitch in _PLAIN
    return isinstance(item, Repeat | On) or (isinstance(item, Mark) and item.doing is Marking.SLIP)


_PLAIN: Final = frozenset({"k", "p", "ktbl", "ptbl", "sl", "slf", "slk", "slkf"})


def growth_of(old: Any, new: Any) -> Any:
    """Return by how much each number grows, None if the two are not of one shape."""
    if isinstance(new, tuple):
        if not isinstance(old, tuple) or len(old) != len(new):
            return None
        parts = [growth_of(a, b) for a, b in zip(old, new, strict=True)]
        return None if any(part is None for part in parts) else tuple(parts)
    if type(old) is not type(new):
        if isinstance(old, int | Sized) and isinstance(new, int | Sized):
            return _difference(old, new)
        return None
    if isinstance(new, Run):
        same = old.stitch == new.stitch and old.with_wraps == new.with_wraps
        return growth_of(old.amount, new.amount) if same else None
    if isinstance(new, Repeat):
        inner, times = growth_of(old.items, new.items), growth_of(old.times, new.times)
        return None if inner is None or times is None else (inner, times)
    if isinstance(new, On):
        return growth_of(old.items, new.items) if old.parts == new.parts else None
    if isinstance(new, int | Sized):
        return _difference(old, new)
    return 0 if old == new else None


def _difference(old: Count, new: Count) -> Count:
    pairs = zip(as_many(old, new), as_many(new, old), strict=False)
    return sized([after - before for before, after in pairs])


def grown_by(value: Any, growth: Any) -> Any:
    """Return a value with each of its numbers grown by so much."""
    if growth is None:
        return value
    if isinstance(value, tuple):
        return tuple(grown_by(one, by) for one, by in zip(value, growth, strict=True))
    if isinstance(value, Run):
        return attrs.evolve(value, amount=grown_by(value.amount, growth))
    if isinstance(value, Repeat):
        return attrs.evolve(
            value, items=grown_by(value.items, growth[0]), times=grown_by(value.times, growth[1])
        )
    if isinstance(value, On):
        return attrs.evolve(value, items=grown_by(value.items, growth))
    if isinstance(value, int | Sized):
        pairs = zip(as_many(value, growth), as_many(growth, value), strict=True)
        return sized([max(0, number + by) for number, by in pairs])
    return value


def without_nothing(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """Leave out runs of no stitches: "k0"."""
    found: list[Item] = []
    for item in items:
        if isinstance(item, Run) and item.amount == 0:
            continue
        if isinstance(item, Repeat | On):
            inner = without_nothing(item.items)
            if not inner:
                continue
            item = attrs.evolve(item, items=inner)
        found.append(item)
    return tuple(found)


def longest(items: tuple[Item, ...]) -> int:
    """Return the number of the longest run in a row, of its first size."""
    found = [0]
    for item in items:
        if isinstance(item, Run) and not isinstance(item.amount, To):
            found.append(int(values_of(item.amount)[0]))
        elif isinstance(item, Repeat | On):
            found.append(longest(item.items))
    return max(found)


def longest_changed(items: tuple[Item, ...], by: int, longest: int) -> tuple[Item, ...]:
    """Return a row whose longest runs are so many stitches longer."""
    found: list[Item] = []
    for item in items:
        if isinstance(item, Run) and not isinstance(item.amount, To):
            first = int(values_of(item.amount)[0])
            alone = by > 0 and item.stitch in ("k", "p")  # "*k1, kfb": not the kfb
            if first == longest and (first > 1 or alone):
                item = attrs.evolve(item, amount=plus(item.amount, by))
        elif isinstance(item, Repeat | On):
            item = attrs.evolve(item, items=longest_changed(item.items, by, longest))
        found.append(item)
    return tuple(found)


def changes(growth: Any) -> bool:
    """Tell whether any number grows."""
    if isinstance(growth, tuple):
        return any(changes(one) for one in growth)
    return growth is not None and any(values_of(growth))


def one_less(row: st.Round | st.Row) -> Any:
    """Return the growth of a row that is worked again with what it took off taken from its parts.

    Of ``*k8, k2tog`` the next is ``*k7, k2tog``. None if it has no such part.

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> row = read("Cast on 20 sts. Row 1: K2tog, [k8, p1] twice.").steps[1]
    >>> print(one_less(row))  # nothing is taken off beside the eight
    None
    """
    by = _change_beside(row.items, longest(row.items))
    changed = longest_changed(row.items, by, longest(row.items))
    return None if changed == row.items else growth_of(row.items, changed)


def _change_beside(items: tuple[Item, ...], longest: int) -> int:
    """Return how many stitches are added, or lost, beside the longest run."""
    runs = [item for item in items if isinstance(item, Run)]
    if any(not isinstance(run.amount, To) and values_of(run.amount)[0] == longest for run in runs):
        return sum(
            STITCHES[run.stitch].change * int(values_of(run.amount)[0])
            for run in runs
            if run.stitch in STITCHES and not isinstance(run.amount, To)
        )
    inside = (item.items for item in items if isinstance(item, Repeat | On))
    return next((by for by in (_change_beside(one, longest) for one in inside) if by), 0)


def cycle_of(rows: list[st.Round | st.Row]) -> tuple[list[st.Round | st.Row], list[Any]] | None:
    """Return the last rows that make one cycle, and how their numbers grow from cycle to cycle."""
    for length in range(1, 9):
        last, before = rows[-length:], rows[-2 * length : -length]
        if len(before) < length:
            before = [*([None] * (length - len(before))), *before]  # type: ignore[list-item]
        if len(last) < length or not any(shapes(row) for row in last):
            continue
        grown: list[Any] = []
        for new, old in zip(last, before, strict=True):
            if old is None:
                if shapes(new):
                    break
                grown.append(None)
                continue
            growth = growth_of(old.items, new.items)
            earlier = rows[: len(rows) - 2 * length + len(grown) + 1]
            if growth is None and not any(map(shapes, (*earlier, new))):
                grown.append(None)  # a plain row of another kind, before the first cycle
                continue
            if growth is None or type(old) is not type(new):
                break
            grown.append(growth)
        else:
            return list(last), grown
    return _block_of(rows)


def _block_of(
    rows: list[st.Round | st.Row],
) -> tuple[list[st.Round | st.Row], list[Any]] | None:
    """Return cycles whose plain rows differ as one: of three, the last may end with a purl row."""
    for length in range(2, 5):
        cycles = list[list[st.Round | st.Row]]()
        by: Any = None
        for end in range(len(rows), length - 1, -length):
            first, *plain = cycle = rows[end - length : end]
            growth = growth_of(first.items, cycles[0][0].items) if cycles else None
            grows_on = not cycles or (growth is not None and by in (None, growth))
            if not grows_on or not shapes(first) or any(map(shapes, plain)):
                break
            cycles.insert(0, cycle)
            by = growth
        asides = [[row.items for row in cycle[1:]] for cycle in cycles]
        fits = (n for n in range(1, len(cycles) + 1) if asides[n:] == asides[:-n])
        many = next(fits, 0)
        if many < 2 or not changes(by):
            continue
        block = [row for cycle in cycles[-many:] for row in cycle]
        return block, [_so_often_grown(row, by, many) if shapes(row) else None for row in block]
    return None


def _so_often_grown(row: st.Round | st.Row, by: Any, times: int) -> Any:
    """Return the growth of a row that is so many steps on."""
    items: Any = row.items
    for _ in range(times):
        items = grown_by(items, by)
    return growth_of(row.items, items)
