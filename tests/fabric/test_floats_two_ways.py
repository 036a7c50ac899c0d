"""How many stitches a float passes: found at once for many, and walked one by one."""

from __future__ import annotations

import random

import numpy as np

from fabric.pieces import PIECES
from loopwright.fabric import Fabric
from loopwright.fabric._floats import _by_all_ways, passed
from loopwright.fabric.columns import FLOAT, TURNED
from loopwright.making import Hand, Work, cast_on
from together import together


def walked(fabric: Fabric, starts: np.ndarray) -> list[int]:
    """The same, each float by itself along every way there is."""
    along = np.flatnonzero((fabric.next >= 0) & ((fabric.flags & (FLOAT | TURNED)) == 0))
    onward, leftward = fabric.next[along], fabric.side[along] > 0
    right = np.concatenate((fabric.right, np.where(leftward, along, onward)))
    left = np.concatenate((fabric.left, np.where(leftward, onward, along)))
    ends = fabric.next[starts].astype(np.int64)
    carried = (ends != starts + 1) & (fabric.course[ends] != fabric.course[starts])
    floats = (starts, ends, fabric.side[ends] > 0, carried)
    return _by_all_ways(fabric, floats, right.astype(np.int64), left.astype(np.int64))


def stranded(seed: int, hand: Hand) -> Work:
    """Rounds or rows of two yarns with slips at random, each yarn joined again where it is."""
    r = random.Random(seed)
    work = Work(hand=hand)
    cast_on(work, 12)
    if seed % 2:
        work.join_round()
    else:
        work.turn()
    work.join_yarn("other")
    for _ in range(6):
        while work.left:
            work.change_to(r.choice(["main", "other"]))
            keys = r.choices(["k", "sl", "slf", "k", "p"], k=min(work.left, r.randint(1, 8)))
            if keys[0].startswith("sl") and all(key.startswith("sl") for key in keys):
                keys[0] = "k"
            before = work.course
            work.work(keys)
            if work.course != before and seed % 2:
                break
        if not seed % 2:
            work.turn()
    return work


@together("hand", Hand)
@together("seed", range(12))
def test_floats_of_two_yarns(seed: int, hand: Hand) -> None:
    fabric = stranded(seed, hand).fabric()
    starts = np.flatnonzero(((fabric.flags & FLOAT) != 0) & (fabric.next >= 0))
    assert len(starts) > 5
    assert passed(fabric, starts).tolist() == walked(fabric, starts)


@together("hand", Hand, tests=2)
@together("name", PIECES)
def test_floats_of_pieces(name: str, hand: Hand) -> None:
    fabric = PIECES[name](hand).fabric()
    starts = np.flatnonzero(((fabric.flags & FLOAT) != 0) & (fabric.next >= 0))
    assert passed(fabric, starts).tolist() == walked(fabric, starts)
