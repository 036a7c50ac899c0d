"""How the numbers of a row grow from one to the next like it, and what comes after them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern.items import Item, On, Repeat, Run
from loopwright.pattern.values import Count, Sized, To, sized, values_of

__all__ = ["grown_by", "growth_of", "shapes", "shapes_items", "without_nothing"]


def shapes(row: st.Round | st.Row) -> bool:
    """Tell whether a row does more than one stitch on and on."""
    return not (
        len(row.items) == 1 and isinstance(row.items[0], Run) and row.items[0].amount == To()
    )


def shapes_items(items: Sequence[Item]) -> bool:
    """Tell whether items do more than one stitch on and on."""
    return not (len(items) == 1 and isinstance(items[0], Run) and items[0].amount == To())


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
    many = max(len(values_of(old)), len(values_of(new)))
    a, b = (list(values_of(one)) * (many if len(values_of(one)) == 1 else 1) for one in (old, new))
    return sized([int(y) - int(x) for x, y in zip(a, b, strict=False)])


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
        many = max(len(values_of(value)), len(values_of(growth)))
        a, b = (
            list(values_of(one)) * (many if len(values_of(one)) == 1 else 1)
            for one in (value, growth)
        )
        return sized([max(0, int(x) + int(y)) for x, y in zip(a, b, strict=True)])
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
