"""The fabric as a surface: the order of edges round each loop, and the cells that follow from it.

Every edge of the surface has two **darts**, one leaving each of its ends. Round each loop the
darts stand in a fixed order, counter-clockwise as seen from the right side; that makes the fabric
a combinatorial map. Arriving at b from a, a walk that leaves by the dart just before (b to a) in
b's order, again and again, goes once round a **cell** with the cell on its left hand.

Where a dart stands is a table (`_ORDERS`): what kind of end it is against what kind of loop it
leaves. Most loops of a fabric are *full*: previous, one child, next, one parent, and nothing else;
for those the order needs no sorting. The others (edges, decreases, corners) are sorted.

Dart numbers, for n rows of loops, t through and b beside edges: v leaves loop v for the next loop;
n + v leaves the next loop for v; 2n + i leaves the parent of through edge i and 2n + t + i its
child; then right and left ends of the beside edges likewise. Where stitches cross, a through edge
is cut at its crossing vertices (:mod:`loopwright.fabric._crossings`), which are numbered from n on.
Crossing vertex x has four darts more, down and up along the edge that goes left and the one that
goes right.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.fabric._crossings import Crossings, crossings
from loopwright.fabric._dart_ends import Columnar, DartEnds
from loopwright.fabric.columns import (
    CHAIN,
    DRAWN,
    EDGE,
    FACING,
    FLOAT,
    GONE,
    LEFT_FLANK,
    OUTSIDE,
    TURNED,
    Ints,
)
from loopwright.fabric.stitches import Kind

__all__ = ["Cell", "CellMap", "surface"]


# Ends of edges, named from the loop that the dart leaves.
_ENDS: Final = (
    "previous",
    "next",
    "child",
    "pick-up",  # a loop picked up at this loop's edge
    "parent",
    "right",  # beside edge to the right neighbour of a tall loop
    "left",
    "chain parent",  # bind-off: the loop before, passed over this one
    "chain child",  # bind-off: the loop that this one was passed over
    "facing parent",  # three-needle bind-off: the loop of the facing fabric
)
_END: Final = {name: number for number, name in enumerate(_ENDS)}

# Counter-clockwise from the right, for loops of side +1. Side -1 is the mirror image: the same
# order backwards, with right and left exchanged.
_ORDERS: Final = {
    "plain": "previous, right, child, left, next, pick-up, parent",
    "first after a turn": "previous, pick-up, right, child, left, next, parent",
    "turned, next beyond it": "previous, next, right, child, left, pick-up, parent",
    "bound off": (
        "previous, chain parent, facing parent, right, child, pick-up, left, chain child, next, "
        "parent"
    ),
    "bound off, drawn through the stitch that it was worked with": (
        "chain parent, facing parent, right, child, pick-up, left, chain child, next, previous, "
        "parent"
    ),
    "bound off last, turned, next beyond it": (
        "previous, chain parent, facing parent, next, right, child, pick-up, left, chain child, "
        "parent"
    ),
    "the same, drawn through the stitch that it was worked with": (
        "chain parent, facing parent, next, right, child, pick-up, left, chain child, previous, "
        "parent"
    ),
}
_PLAIN, _FIRST, _TURNED, _BOUND, _STRETCHY, _BOUND_TURNED, _STRETCHY_TURNED = range(len(_ORDERS))


_CHUNK: Final = 1 << 16  # darts looked at together: what is made for them stays in the cache


def _chunks(size: int) -> Iterator[slice]:
    """Cut the numbers below `size` into stretches: large arrays are slow to make."""
    for start in range(0, size, _CHUNK):
        yield slice(start, min(start + _CHUNK, size))


def _places() -> NDArray[np.int64]:
    """Return place[order + orders * (side is -1), end]."""
    table = np.full((2 * len(_ORDERS), len(_ENDS)), len(_ENDS), dtype=np.int64)
    for number, words in enumerate(_ORDERS.values()):
        order = words.split(", ")
        swap = {"right": "left", "left": "right"}
        mirrored = [swap.get(word, word) for word in reversed(order)]
        for side, sequence in enumerate((order, mirrored)):
            for place, word in enumerate(sequence):
                table[number + side * len(_ORDERS), _END[word]] = place
    return table


_PLACES: Final = _places()


@attrs.frozen
class Cell:
    """One face of the fabric.

    Parameters
    ----------
    loops : tuple of int
        The loops round it, counter-clockwise as seen from the right side.
    crossings : int
        How many crossing vertices are round it too.
    size : int, edges
        A loop met twice (at a dead end) counts twice.
    """

    loops: tuple[int, ...]
    crossings: int = 0

    @property
    def size(self) -> int:
        """How many edges bound the cell."""
        return len(self.loops) + self.crossings


@attrs.frozen(slots=False, eq=False, repr=False)
class CellMap:
    """The combinatorial map of a fabric.

    Parameters
    ----------
    dart_ends : DartEnds
        Where each dart leaves and comes to: see `origin` and `twin`.
    valid : ndarray, shape (darts,), bool
        False for numbers that stand for no edge (a strand's end, a float, a loop taken out).
    follow : ndarray, shape (darts,), int32
        The next dart round the cell on the left hand; itself where not valid.
    open_corners : ndarray, shape (k,), int32
        Darts that leave a corner where something may still be joined: below a cast-on loop, above
        a live or bound-off one. Their cells are openings.
    drawn_corners : ndarray, shape (k,), int32
        The same for loops with a strand drawn up through them: their cells are closed.
    vertices, edges : int
        Loops and crossing vertices, and surface edges.
    lone : int
        Loops without any edge; each lies in a cell of its own.
    rows : int
        Rows of loops, those taken out among them.
    left_over : ndarray, shape (crossings,), bool
        For each crossing vertex, whether the edge that goes left lies in front.
    crossed : ndarray, shape (crossings, 2), int64
        The through edges that meet there: the one that goes left and the one that goes right.

    Examples
    --------
    >>> from loopwright.making import Work, cast_on, draw_up
    >>> work = Work()
    >>> cast_on(work, 8)
    >>> work.join_round()
    >>> work.plain_rounds(1)
    >>> draw_up(work)
    >>> tube = work.fabric().surface
    >>> opening, tip = *tube.opening_leaders, *tube.drawn_leaders
    >>> tube.cell(opening).size, tube.cell(tip).size
    (9, 9)
    >>> tube.large_leaders(6) == [opening, tip]
    True
    >>> bool((tube.leader[tube.walk(tip)] == tip).all())
    True
    >>> there, back = tube.origin[tip], tube.origin[tube.twin[tip]]  # the two ends of an edge
    >>> bool(there != back), bool(tube.twin[tube.twin[tip]] == tip)
    (True, True)
    """

    dart_ends: DartEnds
    valid: NDArray[np.bool_]
    follow: Ints
    open_corners: Ints
    drawn_corners: Ints
    vertices: int
    edges: int
    lone: int
    rows: int
    left_over: NDArray[np.bool_]
    crossed: NDArray[np.int64]

    @cached_property
    def origin(self) -> Ints:
        """The loop that each dart leaves, or the crossing vertex: numbered from `rows` on."""
        return self.dart_ends.origin()

    @cached_property
    def twin(self) -> Ints:
        """The other dart of the same edge, shape (darts,)."""
        return self.dart_ends.twin()

    @property
    def crossings(self) -> int:
        """How many crossing vertices there are."""
        return len(self.left_over)

    @cached_property
    def _short(self) -> tuple[tuple[int, ...], Ints]:
        """How many darts lie in cells of 1, 2, 3 and 4 edges; the darts of all other cells."""
        follow, found, others = self.follow, np.zeros(4, dtype=np.int64), []
        for some in _chunks(len(follow)):
            here = np.arange(some.start, some.stop, dtype=np.int32)
            first = follow[some]
            second = follow[first]
            third = follow[second]
            back = follow[third] == here  # after four steps; after one or two as well
            in_two = np.count_nonzero(second == here)
            in_one = np.count_nonzero(first == here)
            found[[0, 1, 3]] += in_one, in_two - in_one, np.count_nonzero(back) - in_two
            found[0] -= np.count_nonzero(~self.valid[some])  # no edges: they follow themselves
            rest = ~back
            in_three = rest & (third == here)
            found[2] += np.count_nonzero(in_three)
            rest &= ~in_three
            others.append(here[rest])
        counts = found.tolist()
        return tuple(counts), np.concatenate(others or [np.zeros(0, dtype=np.int32)])

    @cached_property
    def _long(self) -> tuple[Ints, Ints]:
        """Darts of cells of five edges or more, and for each the smallest dart of its cell."""
        _, darts = self._short
        step = np.searchsorted(darts, self.follow[darts])  # all of a cell are among them
        least = np.arange(len(darts), dtype=np.int32)
        # Doubling: after k turns `least` looks 2**k darts ahead.
        while True:
            ahead = np.minimum(least, least[step])
            if np.array_equal(ahead, least):
                return darts, darts[least]
            least, step = ahead, step[step]

    @cached_property
    def sizes(self) -> dict[int, int]:
        """How many cells there are of each size."""
        in_short, _ = self._short
        counts = {size: darts // size for size, darts in enumerate(in_short, start=1)}
        _, leaders = self._long
        _, lengths = np.unique(leaders, return_counts=True)
        for size, count in zip(*np.unique(lengths, return_counts=True), strict=True):
            counts[int(size)] = int(count)
        return {size: count for size, count in sorted(counts.items()) if count}

    @property
    def cells(self) -> int:
        """How many cells there are; a loop without any edge lies in one."""
        return sum(self.sizes.values()) + self.lone

    @property
    def euler_characteristic(self) -> int:
        """V - E + C."""
        return self.vertices - self.edges + self.cells

    @cached_property
    def leader(self) -> Ints:
        """The smallest dart of each dart's cell, shape (darts,); -1 where not valid."""
        follow = self.follow
        second = follow[follow]
        leader = np.minimum(np.arange(len(follow), dtype=np.int32), follow)
        leader = np.minimum(leader, np.minimum(second, follow[second]))
        darts, leaders = self._long
        leader[darts] = leaders
        leader[~self.valid] = -1
        return leader

    def walk(self, dart: int) -> list[int]:
        """Return the darts round the cell on the left hand of `dart`, starting with it."""
        darts = [dart]
        following = int(self.follow[dart])
        while following != dart:
            darts.append(following)
            following = int(self.follow[following])
        return darts

    def cell(self, dart: int) -> Cell:
        """Return the cell on the left hand of `dart`."""
        corners = [int(self.origin[step]) for step in self.walk(dart)]
        loops = tuple(corner for corner in corners if corner < self.rows)
        return Cell(loops, len(corners) - len(loops))

    @cached_property
    def opening_leaders(self) -> list[int]:
        """The smallest dart of each opening, ascending."""
        return self._leaders(self.open_corners)

    @cached_property
    def drawn_leaders(self) -> list[int]:
        """The smallest dart of each cell drawn up tight, ascending."""
        return self._leaders(self.drawn_corners)

    def _leaders(self, corners: Ints) -> list[int]:
        seen: set[int] = set()
        leaders = []
        for dart in corners.tolist():
            if dart not in seen:
                round_it = self.walk(dart)
                seen.update(round_it)
                leaders.append(min(round_it))
        return sorted(leaders)

    def large_leaders(self, limit: int) -> list[int]:
        """One dart for each cell of more than `limit` edges, openings and closed cells among them.

        `limit` is at least 4.
        """
        _, leaders = self._long
        firsts, lengths = np.unique(leaders, return_counts=True)
        return [int(dart) for dart in firsts[lengths > limit]]


def surface(fabric: Columnar) -> CellMap:
    """Return the combinatorial map of `fabric`.

    Examples
    --------
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 16)
    >>> work.join_round()
    >>> work.plain_rounds(5)
    >>> surface(work.fabric()).sizes
    {4: 79, 17: 2}
    """
    return _Builder(fabric).build()


class _Builder:
    """Places the darts. Steps share many arrays, hence a class; it lives for one call."""

    def __init__(self, fabric: Columnar) -> None:
        self.fabric = fabric
        self.n, self.t, self.b = len(fabric.next), len(fabric.parent), len(fabric.right)
        self.flags, self.info = fabric.flags, fabric.info
        self.previous = fabric.previous
        self.on_surface = (fabric.next >= 0) & ((fabric.flags & FLOAT) == 0)

    def build(self) -> CellMap:
        fabric, n, t, b = self.fabric, self.n, self.t, self.b
        found = crossings(fabric)
        ends = DartEnds(fabric, found)
        self.valid = np.concatenate(
            (self.on_surface, self.on_surface, np.ones(2 * (t + b), dtype=np.bool_))
        )
        # before_back[d]: the dart just before the way back of d, counter-clockwise, round the loop
        # that d leads to. Without crossings, that is the dart which follows d round its cell.
        self.back = DartEnds(fabric, None).twin()  # the way back of each dart, no edge cut yet
        self.before_back = self.back.copy()
        corners = self._place_sorted(self._place_full())
        follow = self.before_back if found is None else self._cut(found, ends.twin())
        follow[: 2 * n][~self.valid[: 2 * n]] = np.flatnonzero(~self.valid[: 2 * n])
        open_corners, drawn_corners = corners
        crossed = len(found or ())
        edges = int(np.count_nonzero(self.on_surface)) + t + b + 2 * crossed
        over = np.zeros(0, dtype=np.bool_) if found is None else found.left_over
        met = np.zeros((0, 2), dtype=np.int64)
        if found is not None:
            met = np.stack((found.leftward, found.rightward), axis=1)
        return CellMap(
            ends, self.valid, follow, open_corners, drawn_corners,
            len(fabric) + crossed, edges, self.lone, n, over, met,
        )  # fmt: skip

    def _cut(self, found: Crossings, twin: Ints) -> Ints:
        """Return what follows each dart, where through edges are cut at crossing vertices."""
        count, old = len(found), len(self.before_back)
        left_down, left_up, right_down, right_up = np.arange(
            old, old + 4 * count, dtype=np.int32
        ).reshape(4, count)
        # Counter-clockwise from the right: the one goes up right, the other up left.
        before = np.concatenate((right_down, right_up, left_up, left_down))
        self.valid = np.concatenate((self.valid, np.ones(4 * count, dtype=np.bool_)))
        return np.concatenate((self.before_back[self.back], before))[twin]

    def _place_full(self) -> NDArray[np.bool_]:
        """Place the darts of loops with previous, child, next and parent, and no more."""
        fabric, n, t = self.fabric, self.n, self.t
        rows = np.arange(t, dtype=np.int32)
        child_edge = np.full(n, -1, dtype=np.int32)
        child_edge[fabric.parent] = rows
        parent_edge = np.full(n, -1, dtype=np.int32)
        parent_edge[fabric.child] = rows
        # Where an edge is overwritten by a later one of the same loop, the loop has several.
        full: NDArray[np.bool_] = (child_edge >= 0) & (parent_edge >= 0)
        full &= self.on_surface & (self.previous >= 0)
        full[fabric.parent[child_edge[fabric.parent] != rows]] = False
        full[fabric.child[parent_edge[fabric.child] != rows]] = False
        floats = np.flatnonzero((self.flags & FLOAT) != 0)
        full[fabric.next[floats]] = False
        turned = np.flatnonzero((self.flags & (TURNED | GONE)) != 0)
        full[turned] = False
        after = fabric.next[turned]
        full[after[after >= 0]] = False
        odd = np.flatnonzero((self.info & (EDGE | CHAIN | FACING)) != 0)
        full[fabric.parent[odd]] = False
        full[fabric.child[odd]] = False
        full[fabric.right] = False
        full[fabric.left] = False

        for some in _chunks(n):
            loops = np.flatnonzero(full[some]).astype(np.int32) + some.start
            mirrored = (self.flags[loops] & LEFT_FLANK) != 0
            previous, following = self.previous[loops], loops
            child, parent = 2 * n + child_edge[loops], 2 * n + t + parent_edge[loops]
            # The darts come back along their edges: by `next` from the loop before, and so on.
            first = np.where(mirrored, following, n + previous)
            third = np.where(mirrored, n + previous, following)
            to_first = np.where(mirrored, n + following, previous)
            to_third = np.where(mirrored, previous, n + following)
            self.before_back[child + t] = first
            self.before_back[to_third] = child
            self.before_back[parent - t] = third
            self.before_back[to_first] = parent
        return full

    def _categories(self, edges: Ints) -> NDArray[np.int8]:
        """Return the row of `_PLACES` for each loop that is not full; `edges` lead up to them."""
        fabric = self.fabric
        # Which loops are drawn through the loop before them on their yarn; full ones aside.
        plain = edges[(self.info[edges] & (CHAIN | FACING)) == 0]
        plain = plain[self.previous[fabric.child[plain]] == fabric.parent[plain]]
        through_previous = np.zeros(self.n, dtype=np.bool_)
        through_previous[fabric.child[plain]] = True
        category = np.full(self.n, _PLAIN, dtype=np.int8)
        turned = np.flatnonzero((self.flags & TURNED) != 0)
        after = fabric.next[turned]
        turned, after = turned[after >= 0], after[after >= 0]
        beyond = ~through_previous[after] | fabric.kinds(Kind.WRAP)[turned]
        beyond &= (self.flags[turned] & OUTSIDE) == 0
        # Where the row begins with a slip, its first new loop does not stand at the edge.
        category[after[~beyond]] = _FIRST
        category[turned[beyond]] = _TURNED
        bound = fabric.kinds(Kind.BOUND_OFF)
        category[bound] = np.where(category[bound] == _TURNED, _BOUND_TURNED, _BOUND)
        chained = fabric.child[(self.info & CHAIN) != 0]
        stretchy = chained[through_previous[chained]]
        category[stretchy] += _STRETCHY - _BOUND
        category[(self.flags & LEFT_FLANK) != 0] += len(_ORDERS)
        return category

    def _ends_and_order(self, darts: Ints) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Return the kind of end of each dart, and its order among those of one kind and loop."""
        n, t, b = self.n, self.t, self.b
        ends = np.where(darts < n, _END["next"], _END["previous"])
        order = np.zeros(len(darts), dtype=np.int64)

        def block(start: int, size: int) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
            where = np.flatnonzero((darts >= start) & (darts < start + size))
            return where, darts[where].astype(np.int64) - start

        # Children right to left, parents left to right: what that is in time depends on the way
        # in which the row that made them was worked.
        for start, at_child in ((2 * n, False), (2 * n + t, True)):
            where, edge = block(start, t)
            info = self.info[edge]
            if at_child:
                end = np.where(info & CHAIN, _END["chain parent"], _END["parent"])
                ends[where] = np.where(info & FACING, _END["facing parent"], end)
            else:
                end = np.where(info & EDGE, _END["pick-up"], _END["child"])
                ends[where] = np.where(info & CHAIN, _END["chain child"], end)
            leftward = (self.flags[self.fabric.child[edge]] & LEFT_FLANK) == 0
            facing = (info & FACING) != 0
            order[where] = np.where(leftward ^ (at_child & ~facing), edge, -edge)
        for start, left in ((2 * n + 2 * t, True), (2 * n + 2 * t + b, False)):
            where, edge = block(start, b)
            ends[where] = _END["left" if left else "right"]
            order[where] = -edge if left else edge
            self._take_floats_place(ends, where, edge, left=left)
        return ends, order

    def _take_floats_place(
        self,
        ends: NDArray[np.int64],
        where: NDArray[np.intp],
        edge: NDArray[np.int64],
        *,
        left: bool,
    ) -> None:
        """Put a neighbour that stands at a loop's base where the yarn would be, were it no float.

        The yarn that comes to a loop past slipped ones is no edge of the surface. The first loop
        beside it on that side is the one that the yarn passed last. Nor does an edge come to the
        first loop of a strand: what stood there when it was made is beside it.
        """
        fabric = self.fabric
        mine, others = (fabric.right, fabric.left) if left else (fabric.left, fabric.right)
        loops = mine[edge]
        before = self.previous[loops]
        arrives = (before < 0) | ((self.flags[before] & FLOAT) != 0)
        arrives &= fabric.course[others[edge]] <= fabric.course[loops]
        arrives &= ((self.flags[loops] & LEFT_FLANK) != 0) == left
        found = np.flatnonzero(arrives)
        _, first = np.unique(loops[found], return_index=True)
        ends[where[found[first]]] = _END["previous"]

    def _darts_of(self, odd: NDArray[np.bool_]) -> tuple[Ints, NDArray[np.int64]]:
        """Return the darts that leave these loops, ascending, and the loop that each leaves."""
        fabric, start = self.fabric, self.n
        some = np.flatnonzero(odd & self.on_surface)
        darts, loops = [some], [some]
        for origins in (fabric.next, fabric.parent, fabric.child, fabric.right, fabric.left):
            leaves = odd[origins]
            if origins is fabric.next:
                leaves &= self.on_surface
            some = np.flatnonzero(leaves)
            darts.append(some + start)
            loops.append(origins[some].astype(np.int64))
            start += len(origins)
        return np.concatenate(darts).astype(np.int32), np.concatenate(loops)

    def _place_sorted(self, full: NDArray[np.bool_]) -> tuple[Ints, Ints]:
        """Place the darts of all other loops; return those that leave open and drawn corners."""
        darts, loops = self._darts_of(~full)
        first_up = 2 * self.n + self.t
        edges = darts[(darts >= first_up) & (darts < first_up + self.t)] - first_up
        self.category = self._categories(edges)
        ends, among = self._ends_and_order(darts)
        place = _PLACES[self.category[loops], ends]
        key = ((loops * 16 + place) << 32) + among  # which is small, before or after the place
        order = np.argsort(key)
        darts, key, loops = darts[order], key[order], loops[order]
        first = np.flatnonzero(np.diff(loops, prepend=-1))
        self.lone = len(self.fabric) - int(np.count_nonzero(full)) - len(first)
        last = np.concatenate((first[1:], [len(darts)]))[: len(first)] - 1
        before = np.empty_like(darts)
        before[1:] = darts[:-1]
        before[first] = darts[last]
        self.before_back[self.back[darts]] = before
        return self._open_corners(darts, key, loops[first], first, last)

    def _open_corners(
        self,
        darts: Ints,
        key: NDArray[np.int64],
        loops: NDArray[np.int64],
        first: NDArray[np.int64],
        last: NDArray[np.int64],
    ) -> tuple[Ints, Ints]:
        fabric = self.fabric
        has_parent = np.zeros(self.n, dtype=np.bool_)
        has_parent[fabric.child] = True
        has_child = np.zeros(self.n, dtype=np.bool_)
        has_child[fabric.parent[(self.info & (EDGE | CHAIN)) == 0]] = True
        faced = np.zeros(self.n, dtype=np.bool_)
        faced[fabric.child[(self.info & FACING) != 0]] = True
        edge = fabric.kinds(Kind.BOUND_OFF) & ~faced
        edge[fabric.live] = True
        edge &= ~has_child
        drawn = (self.flags & DRAWN) != 0
        start = fabric.kinds(Kind.CAST_ON) & ~has_parent
        corners = []
        for wanted, end in ((edge & ~drawn, "child"), (start, "parent"), (drawn, "child")):
            groups = np.flatnonzero(wanted[loops])
            at = loops[groups]
            wedge = (at * 16 + _PLACES[self.category[at], _END[end]]) << 32
            # The dart before the empty place, cyclically among the loop's own.
            found = np.searchsorted(key, wedge) - 1
            found = np.where(found < first[groups], last[groups], found)
            corners.append(darts[found].astype(np.int32))
        return np.concatenate(corners[:2]), corners[2]
