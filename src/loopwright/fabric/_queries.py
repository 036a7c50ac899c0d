"""Questions about a fabric: what runs down, whether two are the same, how to close a gap."""

from __future__ import annotations

from collections.abc import Iterable

import attrs
import numpy as np

from loopwright.fabric._surface import Cell
from loopwright.fabric.columns import Ints
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import Kind

__all__ = ["Closing", "closings", "run_down", "same_fabric"]


def run_down(fabric: Fabric, loops: Iterable[int]) -> Ints:
    """Return which loops fall if these are let go.

    A loop falls when nothing drawn through it is left standing. It stops at what needs no loop
    through it: a cast-on edge comes undone, a graft and a wrap hold.

    Parameters
    ----------
    loops : iterable of int
        Ids of the loops let go; whatever is drawn through them falls with them.

    Returns
    -------
    ndarray, shape (k,), int32
        Ids ascending, those let go included.

    Raises
    ------
    UnknownLoopError
        One of the loops is not in the fabric.
    """
    start = np.unique(np.array([fabric.require(loop) for loop in loops], dtype=np.int32))
    fallen = np.zeros(len(fabric.flags), dtype=np.bool_)
    standing = np.bincount(fabric.parent, minlength=len(fallen))
    # What was drawn through a dropped loop has lost its hold: it falls as well, and upwards on.
    front = start
    while len(front):
        fallen[front] = True
        above = fabric.child[fallen[fabric.parent]]
        front = np.unique(above[~fallen[above]])
    held = fabric.kinds(Kind.GRAFTED, Kind.WRAP)
    while True:
        standing = np.bincount(fabric.parent[~fallen[fabric.child]], minlength=len(fallen))
        below = fabric.parent[fallen[fabric.child]]
        more = below[(standing[below] == 0) & ~fallen[below] & ~held[below]]
        if not len(more):
            return np.flatnonzero(fallen).astype(np.int32)
        fallen[more] = True


@attrs.frozen
class Closing:
    """One way of closing a gap: lift a strand and work it with a stitch.

    Parameters
    ----------
    strand : (int, int)
        The yarn edge to lift.
    stitch : int
        The loop at the gap into which a stitch was worked, that should take the strand too.
    cells : (int, int), edges
        Sizes of the two cells that are left.
    """

    strand: tuple[int, int]
    stitch: int
    cells: tuple[int, int]


def closings(fabric: Fabric, gap: Cell) -> tuple[Closing, ...]:
    """Return every way to close `gap` by one lifted strand, the best first.

    The best is the one that leaves the smallest largest cell.

    Parameters
    ----------
    fabric : Fabric
    gap : Cell
        One of ``fabric.gaps()``.

    Returns
    -------
    tuple of Closing
        Empty where no strand can be lifted, and beside a crossing.
    """
    if gap.crossings:
        return ()
    loops, size = gap.loops, gap.size
    at_gap = np.zeros(len(fabric.flags), dtype=np.bool_)
    at_gap[list(loops)] = True
    edges = at_gap[fabric.parent] & at_gap[fabric.child]
    drawn = set(zip(fabric.parent[edges].tolist(), fabric.child[edges].tolist(), strict=True))
    strands = [
        (place, (a, b) if fabric.next[a] == b else (b, a))
        for place, (a, b) in enumerate(zip(loops, loops[1:] + loops[:1], strict=True))
        if b in (fabric.next[a],) or a in (fabric.next[b],)
    ]
    found = []
    for at, child in enumerate(loops):
        for beside in (at - 1, (at + 1) % size):
            if (loops[beside], child) not in drawn:
                continue
            for place, strand in strands:
                # The lifted loop stands between places `place` and `place + 1`; a chord joins it
                # to `at` and splits the size + 1 corners in two.
                behind = (at - place - 1) % size + 2
                found.append(Closing(strand, loops[beside], (behind, size + 3 - behind)))
    return tuple(sorted(found, key=lambda closing: (max(closing.cells), closing.strand)))


def same_fabric(one: Fabric, other: Fabric) -> bool:
    """Return whether two fabrics are the same, whatever the order in which they were made.

    They are when their maps are: cells, faces (knit or purl), leans and twists agree loop for loop.
    So do floats and the side on which they pass, and what is live or drawn up. Mirror images
    differ; names of yarns and loop ids don't matter. `difference` says where two part.

    See Also
    --------
    Fabric.canonical_key : the text that fabrics share when they are the same.
    """
    if len(one) != len(other) or one.surface.edges != other.surface.edges:
        return False
    return one.canonical_key == other.canonical_key
