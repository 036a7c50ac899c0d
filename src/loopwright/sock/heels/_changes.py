"""The changes that several heels have in common: more and fewer of what a field counts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

import attrs

from loopwright.sock.heels._heel import Heel, HeelChange

__all__ = ["MOST_ROUNDS", "gusset_changes", "more", "plain_round_changes"]

MOST_ROUNDS: Final = 24  # plain rounds or rows of flap that are tried at most; more is another heel
_GUSSET: Final = 12  # stitches a side; about 4 are common practice at fine gauge


def more(count: int, one: str, many: str, roomier: bool) -> str:
    """Return how many more, or fewer: "2 rows more"."""
    return f"{count} {one if count == 1 else many} {'more' if roomier else 'fewer'}"


def plain_round_changes(heel: Heel, rounds: int, *, roomier: bool) -> Iterator[HeelChange]:
    """Yield a heel with more plain rounds before its shaping (``plain_rounds``), or fewer."""
    for by in range(1, 1 + (MOST_ROUNDS if roomier else rounds)):
        words = f"{more(by, 'plain round', 'plain rounds', roomier)} before the shaping"
        yield _changed("plain rounds", words, heel, "plain_rounds", rounds, by if roomier else -by)


def gusset_changes(heel: Heel, stitches: int, *, roomier: bool) -> Iterator[HeelChange]:
    """Yield a heel with more stitches in its small gusset (``gusset``), or fewer."""
    for by in range(1, 1 + (_GUSSET if roomier else stitches)):
        words = f"small gusset: {more(by, 'stitch', 'stitches', roomier)} at each side"
        yield _changed("small gusset", words, heel, "gusset", stitches, by if roomier else -by)


def _changed(key: str, words: str, heel: Heel, field: str, now: int, by: int) -> HeelChange:
    made: Any = heel
    return HeelChange(key, words, by, attrs.evolve(made, **{field: now + by}))
