"""Columns of a fabric as they are kept: of one type, and nobody can write to them."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray

from loopwright.errors import UnknownLoopError
from loopwright.fabric.columns import Ints

__all__ = [
    "as_bits",
    "as_frozen_map",
    "as_ids",
    "as_ledger",
    "as_pairs",
    "as_small",
    "require_loops",
]


def frozen(array: Any) -> Any:
    # One that nobody can write to, nor what it looks into, needs no copy.
    if array.flags.owndata and not array.flags.writeable:
        return array
    copy = np.array(array)
    copy.flags.writeable = False
    return copy


def as_frozen_map(groups: Mapping[str, Any]) -> Mapping[str, Ints]:
    """Return groups of loops that nobody can change."""
    return MappingProxyType(
        {name: frozen(np.asarray(ids, dtype=np.int32)) for name, ids in groups.items()}
    )


def as_ids(array: Any) -> Ints:
    """Return numbers of loops, frozen."""
    return cast(Ints, frozen(np.asarray(array, dtype=np.int32)))


def as_small(array: Any) -> NDArray[np.int16]:
    """Return small numbers, frozen."""
    return cast("NDArray[np.int16]", frozen(np.asarray(array, dtype=np.int16)))


def as_bits(array: Any) -> NDArray[np.uint8]:
    """Return flags, frozen."""
    return cast("NDArray[np.uint8]", frozen(np.asarray(array, dtype=np.uint8)))


def as_ledger(rows: Any) -> Ints:
    """Return rows of six numbers, frozen."""
    return as_ids(np.asarray(rows, dtype=np.int32).reshape(-1, 6))


def as_pairs(rows: Any) -> Ints:
    """Return rows of two numbers, frozen."""
    return as_ids(np.asarray(rows, dtype=np.int32).reshape(-1, 2))


def require_loops(ids: Ints, rows: int) -> None:
    """Raise `UnknownLoopError` where one of these is no row of the fabric."""
    if len(ids) and (ids.min() < 0 or ids.max() >= rows):
        strange = ids[(ids < 0) | (ids >= rows)]
        raise UnknownLoopError(int(strange[0]), rows)
