"""Converters and checks of the fields of steps."""

from __future__ import annotations

from collections.abc import Iterable

import attrs

from loopwright.errors import StepError
from loopwright.pattern.items import Item
from loopwright.pattern.values import Count, Number, Sized, as_count

__all__ = ["as_items", "as_names", "as_numbers", "as_parts", "of_line"]


def of_line(instance: object, field: attrs.Attribute[str], value: str) -> None:
    """Refuse a text that is not one line."""
    if value != " ".join(value.split()):
        raise StepError(
            type(instance).__name__, f"{field.name} must be one line, single-spaced: {value!r}"
        )


def as_items(items: Iterable[Item]) -> tuple[Item, ...]:
    """Return items as a tuple."""
    return tuple(items)


def as_names(names: Iterable[str]) -> tuple[str, ...]:
    """Return names as a tuple."""
    return tuple(names)


def as_numbers(numbers: Iterable[Number | Sized]) -> tuple[Number | Sized, ...]:
    """Return numbers as a tuple."""
    return tuple(numbers)


def as_parts(parts: Iterable[tuple[str, Count] | Count]) -> tuple[tuple[str, Count], ...]:
    """Return pairs of name and count; counts without a name are numbered needles."""
    return tuple(
        (part[0], as_count(part[1])) if isinstance(part, tuple) else (f"needle {number}", part)
        for number, part in enumerate(parts, start=1)
    )
