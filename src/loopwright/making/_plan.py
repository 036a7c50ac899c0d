"""A run of stitches, worked out once: which new loop is drawn through which of those taken.

The same rounds come again and again in a sock. So the arithmetic of a run (who takes whom, what
lies on top, what ends up on the needle) is done once for each run of stitches. Then it is only
shifted to the ids at hand.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.fabric.columns import BACK, CROSSED
from loopwright.fabric.stitches import Kind, Stitch, StitchTable

__all__ = ["StitchRun", "plan"]


@attrs.frozen(eq=False)
class StitchRun:
    """What a run of stitches does, in relative numbers.

    Parents are numbered in the order taken, lifted strands among them; new loops in the order
    made.

    Parameters
    ----------
    takes, makes : int
        Loops taken off the needle (without lifted strands), and loops made.
    lifts : tuple of int
        Numbers of the parents that are lifted strands.
    parent, child : ndarray, shape (k,)
        Through edges: number of the parent, number of the new loop.
    info_front, info_back : ndarray, shape (k,), uint8
        Their bits when the right side, or the wrong side, faces the knitter.
    stitch : ndarray, shape (makes,), int16
    items : ndarray, shape (leaves,)
        What is left on the needle in working order: new loop j as j, slipped parent i as -1 - i.
    slipped : tuple of (int, bool, bool)
        Which items are slipped, each with: yarn in front, knitwise.
    floats : tuple of (int, bool)
        New loops after which the yarn passes slipped ones within the run, each with: in front.
    leading, trailing : int
        Slipped loops before the first new loop and after the last; all lead where none is made.
    ends : ndarray, shape (stitches,)
        How many loops are taken when each stitch is done, and `ends_left`, how many are left.
    simple : bool
        One loop into one throughout, nothing slipped: the run can be repeated in one block.
    crossed : frozenset of int
        Numbers of the parents that take part in crossings.
    """

    takes: int
    makes: int
    lifts: tuple[int, ...]
    parent: NDArray[np.int32]
    child: NDArray[np.int32]
    info_front: NDArray[np.uint8]
    info_back: NDArray[np.uint8]
    stitch: NDArray[np.int16]
    items: NDArray[np.int32]
    slipped: tuple[tuple[int, bool, bool], ...]
    floats: tuple[tuple[int, bool], ...]
    leading: int
    trailing: int
    ends: NDArray[np.int64]
    ends_left: NDArray[np.int64]
    simple: bool
    crossed: frozenset[int] = frozenset()

    @property
    def leaves(self) -> int:
        """Loops on the right needle afterwards."""
        return len(self.items)


def plan(table: StitchTable, keys: Sequence[str]) -> StitchRun:
    """Return the plan of a run of stitches; `UnknownStitchError` for a key not in the table."""
    return _plan(table, tuple(keys))


def _floats(
    items: list[int], slipped: list[tuple[int, bool, bool]]
) -> tuple[tuple[tuple[int, bool], ...], int, int]:
    """Return which new loops the yarn leaves past slipped ones, and the slips at either end."""
    made = [place for place, item in enumerate(items) if item >= 0]
    if not made:
        return (), len(items), 0
    front = {place: in_front for place, in_front, _ in slipped}
    floats = tuple((items[a], front[b - 1]) for a, b in pairwise(made) if b > a + 1)
    return floats, made[0], len(items) - 1 - made[-1]


def _drawn(row: Stitch, number: int) -> list[tuple[int, int]]:
    """Return what a stitch's new loop of this number is drawn through, with its rank."""
    if row.order:
        return [(row.order[number], row.stack[row.order[number]])]
    return list(enumerate(row.stack))


@lru_cache(maxsize=4096)
def _plan(table: StitchTable, keys: tuple[str, ...]) -> StitchRun:
    parents: list[int] = []
    children: list[int] = []
    front: list[int] = []
    back: list[int] = []
    codes: list[int] = []
    items: list[int] = []
    lifts: list[int] = []
    slipped: list[tuple[int, bool, bool]] = []
    ends: list[int] = []
    ends_left: list[int] = []
    crossed: set[int] = set()
    taken = made = 0  # taken counts lifted strands, since they are parents too
    for key in keys:
        row = table[key]
        for _ in range(row.lifts):
            lifts.append(taken)
        width = row.takes + row.lifts
        if row.order:
            crossed.update(range(taken, taken + width))
        if row.kind is Kind.SLIPPED:
            for _ in range(width):
                slipped.append((len(items), row.yarn_in_front, row.knitwise))
                items.append(-1 - taken)
                taken += 1
        else:
            for number in range(row.makes):
                for place, rank in _drawn(row, number):
                    parents.append(taken + place)
                    children.append(made + number)
                    purl = row.faces[number] == "p"
                    bits = CROSSED * row.is_crossing
                    front.append(rank | BACK * purl | bits)
                    back.append((max(row.stack) - rank) | BACK * (not purl) | bits)
                codes.append(table.code(key))
                items.append(made + number)
            taken += width
            made += row.makes
        ends.append(taken - len(lifts))
        ends_left.append(len(items))
    simple = not slipped and not lifts and parents == children == list(range(len(keys)))
    return StitchRun(
        taken - len(lifts),
        made,
        tuple(lifts),
        np.array(parents, dtype=np.int32),
        np.array(children, dtype=np.int32),
        np.array(front, dtype=np.uint8),
        np.array(back, dtype=np.uint8),
        np.array(codes, dtype=np.int16),
        np.array(items, dtype=np.int32),
        tuple(slipped),
        *_floats(items, slipped),
        np.array(ends, dtype=np.int64),
        np.array(ends_left, dtype=np.int64),
        simple,
        frozenset(crossed),
    )
