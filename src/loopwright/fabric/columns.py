"""Columns that grow: the one place where loops and edges are stored while a fabric is made.

Arrays are filled in blocks and doubled when full, so that appending a round costs a few slice
assignments. A reader never keeps one of these arrays: growing replaces them.

Invariants that everything above relies on
------------------------------------------
* A loop's id is its row, given in the order of making; rows are never removed (`GONE` is set).
* Through edges are stored child by child, in the order of making, and for one child in the order
  in which its parents were taken.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from loopwright.border import guard

__all__ = [
    "BACK",
    "CHAIN",
    "CROSSED",
    "DRAWN",
    "EDGE",
    "FACING",
    "FASTENED",
    "FLOAT",
    "FLOAT_FRONT",
    "GONE",
    "LEFT_FLANK",
    "NONE",
    "OUTSIDE",
    "RANK",
    "TURNED",
    "Columns",
    "Ints",
]

Ints = NDArray[np.int32]

NONE: Final = -1  # in the place of a loop: there is none

# Bits of a loop's `flags`.
LEFT_FLANK: Final = 1  # side -1: loops are drawn through it on the left-hand flank of its strand
TURNED: Final = 2  # the work was turned after it
FLOAT: Final = 4  # its yarn edge to the next loop passes a slipped loop: no edge of the surface
FLOAT_FRONT: Final = 8  # ... and passes it on the right side
GONE: Final = 16  # a waste loop that was taken out
FASTENED: Final = 32  # the yarn's end is drawn through it
DRAWN: Final = 64  # a strand is drawn up through it
OUTSIDE: Final = 128  # turned after, and the next loop stands before it in the new row (yarn over)

# Bits of a through edge's `info`.
RANK: Final = 7  # mask: place of the parent in the stack as seen from the right side, 0 on top;
# of a crossing's edge how deep it lies
BACK: Final = 8  # drawn through to the back: a purl as seen from the right side
EDGE: Final = 16  # picked up at the edge, not drawn through the head
CHAIN: Final = 32  # the loop before, passed over this one in a bind-off
FACING: Final = 64  # the loop of the facing fabric in a three-needle bind-off
CROSSED: Final = 128  # of a crossing: it passes in front of or behind its neighbours

_LOOP_COLUMNS: Final = (
    ("next", np.int32),  # the next loop of its strand, -1 at the end
    ("strand", np.int16),
    ("course", np.int32),
    ("stitch", np.int16),  # code in the stitch table
    ("flags", np.uint8),
)
_THROUGH_COLUMNS: Final = (("parent", np.int32), ("child", np.int32), ("info", np.uint8))
_BESIDE_COLUMNS: Final = (("right", np.int32), ("left", np.int32))


class _Block:
    """Parallel arrays with spare room."""

    def __init__(self, columns: tuple[tuple[str, type], ...]) -> None:
        self.size: int = 0
        self._names = tuple(name for name, _ in columns)
        for name, dtype in columns:
            setattr(self, name, np.zeros(64, dtype=dtype))

    def extend(self, count: int) -> slice:
        """Return the slice of `count` new rows."""
        start, self.size = self.size, self.size + count
        room = len(getattr(self, self._names[0]))
        if self.size > room:
            room = max(self.size, 2 * room)
            for name in self._names:
                old = getattr(self, name)
                grown = np.zeros(room, dtype=old.dtype)
                grown[:start] = old[:start]
                setattr(self, name, grown)
        return slice(start, self.size)

    def trimmed(self) -> dict[str, Any]:
        """Return copies without the spare room, read-only."""
        copies = {name: getattr(self, name)[: self.size].copy() for name in self._names}
        for copy in copies.values():
            copy.flags.writeable = False
        return copies

    def keep(self, mask: NDArray[np.bool_]) -> None:
        """Drop the rows where `mask` is false, keeping the order."""
        kept = int(mask.sum())
        for name in self._names:
            column = getattr(self, name)
            column[:kept] = column[: self.size][mask]
        self.size = kept


class Loops(_Block):
    """One row a loop."""

    next: Ints
    strand: NDArray[np.int16]
    course: Ints
    stitch: NDArray[np.int16]
    flags: NDArray[np.uint8]

    def __init__(self) -> None:
        super().__init__(_LOOP_COLUMNS)


class Through(_Block):
    """One row a through edge."""

    parent: Ints
    child: Ints
    info: NDArray[np.uint8]

    def __init__(self) -> None:
        super().__init__(_THROUGH_COLUMNS)


class Beside(_Block):
    """One row a beside edge, from a loop to its left neighbour as seen from the right side."""

    right: Ints
    left: Ints

    def __init__(self) -> None:
        super().__init__(_BESIDE_COLUMNS)


class Columns:
    """The three tables of a fabric in the making."""

    def __init__(self) -> None:
        self.loops: Loops = Loops()
        self.through: Through = Through()
        self.beside: Beside = Beside()


guard(globals())
