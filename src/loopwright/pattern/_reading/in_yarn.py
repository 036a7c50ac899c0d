"""Rounds that begin with the name of their yarn, which they keep when they are worked again."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from loopwright.pattern._grammar.said import Numbered
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern.items import With

__all__ = ["in_yarn"]


def in_yarn(scribe: Scribe, yarn: str, says: Sequence[Says]) -> list[Says]:
    """Return what is worked in a yarn: a round begins with it, before all else it is taken up."""
    kept = scribe.context.named.get("last")
    first = says[0] if len(says) == 1 else None
    if not isinstance(first, Numbered) or kept is None:
        return [*scribe.taking(yarn), *says]
    row = first.step
    if row.items != kept.items:
        return [*scribe.taking(yarn), *says]
    told = [isinstance(item, With) for item in row.items]  # "with A, as row 1": not in its B
    items = With(yarn), *row.items[told.index(False) if False in told else 0 :]
    again = attrs.evolve(kept, items=items)
    for name, one in scribe.context.named.items():
        if one is kept:
            scribe.context.named[name] = again
    for number, one in scribe.context.rows.items():
        if one is kept:
            scribe.context.rows[number] = again
    return [attrs.evolve(first, step=attrs.evolve(row, items=items))]
