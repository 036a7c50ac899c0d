"""Checks of what single loops and edges say: a stitch by its key, turns, courses, neighbours.

The surface sees edges that cross; it does not see a k2tog with one parent, a knit stitch drawn to
the back, a float that passes nothing. These checks hold each loop to the table of stitches and to
the loops beside it. Each goes over columns whole and looks closer only at what stands out.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property, lru_cache
from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.fabric._crossings import places_in_crossings
from loopwright.fabric._place import finding
from loopwright.fabric._report import Flaw, Limits
from loopwright.fabric.columns import (
    BACK,
    CHAIN,
    CROSSED,
    DRAWN,
    EDGE,
    FACING,
    FASTENED,
    FLOAT,
    FLOAT_FRONT,
    GONE,
    LEFT_FLANK,
    OUTSIDE,
    RANK,
    TURNED,
)
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import Kind, StitchTable

__all__ = ["check_beside", "check_courses", "check_marks", "check_stitches", "check_wraps"]

_Bools = NDArray[np.bool_]
_Longs = NDArray[np.int64]
_SPECIAL: Final = EDGE | CHAIN | FACING  # through edges that no stitch of a row has
_PICKED_UP: Final = "pu"
_UNFASTENED: Final = "the end of a graft, and not fastened"  # a blemish: it holds for a while
_LEAP: Final = 40  # courses; nobody turns more often on one spot


@attrs.frozen(eq=False)
class _Codes:
    """What the table of stitches says, by code."""

    parents: _Longs
    purl: _Bools  # of one loop; several are looked at one by one
    worked: _Bools
    several: _Bools  # several loops into one: their faces go by their number
    slipping: _Bools
    lifting: _Bools
    bound: _Bools
    picked: _Bools
    crossed: _Longs  # how many stitches a crossing has
    parents_stacked: _Longs  # how many loops lie on each other
    stacks: _Longs  # in which order, shape (codes, most)


@lru_cache(maxsize=64)
def _codes(table: StitchTable) -> _Codes:
    bound = table.of_kind(Kind.BOUND_OFF)
    worked = table.of_kind(Kind.WORKED)
    stacks = [row.stack for row in table]
    most = max(map(len, stacks))
    return _Codes(
        np.array([row.parents for row in table], dtype=np.int64),
        np.array([row.faces == "p" for row in table], dtype=np.bool_),
        worked,
        np.array([row.makes > 1 and not row.order for row in table], dtype=np.bool_),
        table.of_kind(Kind.SLIPPED),
        np.array([row.lifts > 0 for row in table], dtype=np.bool_),
        bound,
        np.array([row.key == _PICKED_UP for row in table], dtype=np.bool_),
        np.array([len(row.order) for row in table], dtype=np.int64),
        np.array([len(stack) for stack in stacks], dtype=np.int64),
        np.array([(*stack, *[0] * (most - len(stack))) for stack in stacks], dtype=np.int64),
    )


def check_stitches(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """Each loop is drawn through as many loops, in that order and to that side, as its key says."""
    codes = _codes(fabric.stitches)
    row = _Rows(fabric, codes)
    for loops, problem in (
        (row.miscounted(), "drawn through another number of loops than its stitch takes"),
        (row.wrong_way(), "drawn to the other side than its stitch is"),
        (row.wrong_lean(), "drawn through its loops in another order than its stitch leans"),
        (row.miscrossed(), "of a crossing that is not whole, or lies otherwise than its stitch"),
        (row.not_lifted(), "made of a strand that was not lifted"),
        (row.wrongly_marked(), "marked as picked up, chained or facing, and its stitch is not so"),
    ):
        if len(loops):
            yield finding(
                fabric, "stitches", loops, f"{_named(fabric, loops)} {problem}",
                "look at this stitch: work it again, or call it what it is",
            )  # fmt: skip


def _named(fabric: Fabric, loops: NDArray[np.integer]) -> str:
    key = fabric.stitches.rows[fabric.stitch[loops[0]]].key
    return f"a stitch ({key}) is" if len(loops) == 1 else f"{len(loops)} stitches ({key}...) are"


class _Rows:
    """The through edges of a fabric beside what the stitches say of them."""

    def __init__(self, fabric: Fabric, codes: _Codes) -> None:
        self.fabric, self.codes = fabric, codes
        self.stitch, self.size = fabric.stitch, len(fabric.flags)
        self.info = fabric.info
        child = fabric.child
        self.there = fabric.is_used
        self.wrap: _Bools = np.zeros(len(child), dtype=np.bool_)
        wraps = fabric.stitches.of_kind(Kind.WRAP)
        if (wraps & self.there).any():
            self.wrap = wraps[self.stitch[fabric.parent]]
        aside = (self.info & (CHAIN | FACING)) != 0
        self.plain = ~(aside | self.wrap)  # edges to what the stitch itself took
        self.counted = np.bincount(child[self.plain], minlength=self.size)
        removed = fabric.removed
        if len(removed):
            mine = removed[~wraps[self.stitch[removed[:, 0]]]]
            self.counted += np.bincount(mine[:, 1], minlength=self.size)
            # What is gone doesn't say which loop of a bind-off from two needles faced the other.
            bound = mine[:, 1][codes.bound[self.stitch[mine[:, 1]]]]
            self.counted[bound] = np.minimum(self.counted[bound], codes.parents[self.stitch[bound]])

    def miscounted(self) -> _Longs:
        """Loops that took more or fewer than their stitches take."""
        want = self.codes.parents[self.stitch]
        off = (self.counted != want) & self.fabric.present
        if (self.codes.slipping & self.there).any():  # a slip makes no loop
            off |= self.codes.slipping[self.stitch]
        if (self.codes.several & self.there).any():
            self._faces_of_several(np.zeros(self.size, dtype=np.bool_), off)
        return np.flatnonzero(off)

    @cached_property
    def _faces(self) -> tuple[_Bools, _Bools]:
        """Return which edges say how their loop was worked, and which show the other face.

        What is knitted on the one side shows a purl on the other. A left-handed fabric is mirrored
        whole: there the other face is the right one, which most loops tell.
        """
        codes, child = self.codes, self.fabric.child
        faces = codes.purl[self.stitch]
        if (codes.several & self.there).any():
            faces = self._faces_of_several(faces)
        if len(self.crossed):
            faces[self.crossed] = self._told_of_crossed[0]
        faces ^= (self.fabric.flags & LEFT_FLANK) != 0
        odd = ((self.info & BACK) != 0) ^ faces[child]
        judged = (codes.worked | codes.bound)[self.stitch][child] & self._single_or_plain
        return judged, odd

    @cached_property
    def _single_or_plain(self) -> _Bools:
        """Which edges are neither chains nor of a bind-off from two needles."""
        special = self.info & (CHAIN | FACING)
        kept = special == 0
        if special.any():
            faced = np.zeros(self.size, dtype=np.bool_)
            faced[self.fabric.child[(special & FACING) != 0]] = True
            kept &= ~faced[self.fabric.child]
        return np.asarray(kept)

    @cached_property
    def right_handed(self) -> bool:
        """Whether loops worked on the right side have side +1."""
        judged, odd = self._faces
        return bool(2 * np.count_nonzero(odd & judged) <= np.count_nonzero(judged))

    def wrong_way(self) -> _Longs:
        """Loops knitted where they should be purled, seen from the side that was worked."""
        judged, odd = self._faces
        wrong = judged & (odd if self.right_handed else ~odd)
        return np.unique(self.fabric.child[wrong]).astype(np.int64)

    def _faces_of_several(self, faces: _Bools, incomplete: _Bools | None = None) -> _Bools:
        """Say of each of several loops worked into one which face it shows; and which lack some."""
        fabric, child = self.fabric, self.fabric.child
        mine = np.flatnonzero(self.codes.several[self.stitch[child]] & self.plain)
        groups: dict[int, list[int]] = {}
        for parent, loop in zip(fabric.parent[mine].tolist(), child[mine].tolist(), strict=True):
            groups.setdefault(parent, []).append(loop)
        for loops in groups.values():
            row = fabric.stitches.rows[self.stitch[loops[0]]]
            faces[loops] = [row.faces[number % row.makes] == "p" for number in range(len(loops))]
            if incomplete is not None:
                incomplete[loops] |= len(loops) != row.makes
        return faces

    def wrong_lean(self) -> _Longs:
        """Loops whose parents lie on each other in another order than their stitches say."""
        told = (self.info & (RANK | CHAIN | FACING)).any() or self.wrap.any()
        if not told and not (self.counted > 1).any():
            return np.zeros(0, dtype=np.int64)  # each alone, as most pieces of plain knitting
        chained = np.zeros(self.size, dtype=np.bool_)
        chained[self.fabric.child[(self.info & CHAIN) != 0]] = True
        several = (self.counted > 1) | chained
        some = ((self.info & (RANK | CHAIN | FACING)) != 0) | self.wrap
        mine = np.flatnonzero(some | several[self.fabric.child])  # all others lie alone
        child, info, plain = self.fabric.child[mine], self.info[mine], self.plain[mine]
        rank, uncrossed = info & RANK, (info & CROSSED) == 0
        bound = self.codes.bound[self.stitch[child]]
        single = plain & (self.counted[child] <= 1) & uncrossed
        wanted = np.where(bound & single & chained[child], 1, 0)
        off = single & (rank != wanted)
        off |= ((info & FACING) != 0) & (rank != 1 + chained[child])
        off |= ((info & CHAIN) != 0) & (rank != 0)
        # Wraps lie below the others.
        off |= self.wrap[mine] & (rank < np.minimum(RANK, self.counted[child]))
        wrong = {*child[off].tolist()}
        wrong |= {*self._mislaid(mine[plain & ~single & uncrossed]).tolist()}
        return np.array(sorted(wrong), dtype=np.int64)

    @cached_property
    def crossed(self) -> _Longs:
        """Loops of crossings, by their stitches."""
        if not ((self.codes.crossed > 0) & self.there).any():
            return np.zeros(0, dtype=np.int64)
        return np.flatnonzero((self.codes.crossed[self.stitch] > 0) & self.fabric.present)

    @cached_property
    def _told_of_crossed(self) -> tuple[_Bools, _Longs, _Longs]:
        """Return for each loop of a crossing what its row says: purled, its depth, the deepest."""
        _, place = self._places
        faces, depth, deepest = [], [], []
        for loop in self.crossed.tolist():
            row = self.fabric.stitches.rows[self.stitch[loop]]
            at = int(place[loop])
            faces.append(row.faces[at] == "p")
            depth.append(row.stack[row.order[at]])
            deepest.append(max(row.stack))
        return np.array(faces, dtype=np.bool_), np.array(depth), np.array(deepest)

    @cached_property
    def _places(self) -> tuple[_Longs, _Longs]:
        return places_in_crossings(self.fabric)

    def miscrossed(self) -> _Longs:
        """Loops of crossings that are cut short or lie at another depth; others marked so."""
        fabric, codes = self.fabric, self.codes
        marked = (self.info & CROSSED) != 0
        if not marked.any() and not len(self.crossed):
            return np.zeros(0, dtype=np.int64)
        width = codes.crossed[self.stitch]
        off = marked & (width[fabric.child] == 0)
        off |= ~marked & self.plain & (width[fabric.child] > 0)
        wrong = {*fabric.child[off].tolist()}
        if len(self.crossed):
            _, depth, deepest = self._told_of_crossed
            want = np.zeros((2, self.size), dtype=np.int64)
            want[:, self.crossed] = depth, deepest - depth
            left = (fabric.flags & LEFT_FLANK) != 0
            seen = np.where(left == self.right_handed, want[1], want[0])
            off = marked & ((self.info & RANK) != seen[fabric.child])
            wrong |= {*fabric.child[off].tolist()}
            begins = self._places[0][self.crossed]
            first, count = np.unique(begins, return_counts=True)
            broken = first[count != width[first]]
            wrong |= {*self.crossed[np.isin(begins, broken)].tolist()}
        return np.array(sorted(wrong), dtype=np.int64)

    def _mislaid(self, edges: _Longs) -> _Longs:
        """Return which loops of these edges have all their parents, and not in their order."""
        child = self.fabric.child[edges]
        order = np.argsort(child, kind="stable")
        edges, child = edges[order], child[order]
        _, first, many = np.unique(child, return_index=True, return_counts=True)
        place = np.arange(len(child)) - np.repeat(first, many)
        stacks, code = self.codes.stacks, self.stitch[child]
        depth = self.codes.parents_stacked[code]
        rank = stacks[code, np.minimum(place, stacks.shape[1] - 1)]
        left = (self.fabric.flags[child] & LEFT_FLANK) != 0
        seen = np.where(left == self.right_handed, depth - 1 - rank, rank)  # from the right side
        whole = np.repeat(many, many) == depth
        return np.asarray(child[whole & ((self.info[edges] & RANK) != seen)], dtype=np.int64)

    def not_lifted(self) -> _Longs:
        """Make-ones whose parent is no lifted strand."""
        fabric, codes = self.fabric, self.codes
        if not (codes.lifting & self.there).any():
            return np.zeros(0, dtype=np.int64)
        mine = np.flatnonzero(codes.lifting[self.stitch[fabric.child]] & self.plain)
        lifted = fabric.stitches.of_kind(Kind.LIFTED)[self.stitch[fabric.parent[mine]]]
        return np.unique(fabric.child[mine[~lifted]]).astype(np.int64)

    def wrongly_marked(self) -> _Longs:
        """Loops with an edge picked up, chained or facing whose stitch is of another kind."""
        fabric, codes, child = self.fabric, self.codes, self.fabric.child
        if not (codes.picked & self.there).any() and not (self.info & _SPECIAL).any():
            return np.zeros(0, dtype=np.int64)
        off = (codes.picked[self.stitch[child]] & self.plain) ^ ((self.info & EDGE) != 0)
        special = np.flatnonzero((self.info & (CHAIN | FACING)) != 0)
        off[special] |= ~codes.bound[self.stitch[child[special]]]
        chain = special[(self.info[special] & CHAIN) != 0]
        off[chain] |= ~codes.bound[self.stitch[fabric.parent[chain]]]
        for bit in (CHAIN, FACING):  # a loop has one of either at most
            mine_of = np.flatnonzero((self.info & bit) != 0)
            _, first = np.unique(child[mine_of], return_index=True)
            off[np.delete(mine_of, first)] = True
        return np.unique(child[off]).astype(np.int64)


def check_marks(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """Turns stand where the yarn goes back; ends are fastened, tips drawn up, where they can be."""
    flags, following = fabric.flags, fabric.next
    mirrored = (flags & LEFT_FLANK) != 0
    off = ((flags & TURNED) != 0) ^ mirrored ^ mirrored[following]
    along = np.flatnonzero(off & (following >= 0) & ((flags & (FLOAT | GONE)) == 0))
    free = fabric.kinds(Kind.LIFTED, Kind.GRAFTED, Kind.CLOSED)
    along = along[~(free[along] | free[following[along]])]
    ends = following < 0
    closing = fabric.kinds(Kind.BOUND_OFF, Kind.GRAFTED)
    fastened = (flags & FASTENED) != 0
    grafted = fabric.kinds(Kind.GRAFTED)
    grafted_end = grafted & ends & fabric.present
    drawn = np.flatnonzero((flags & DRAWN) != 0)
    if len(drawn):
        secured = fabric.kinds(Kind.GRAFTED, Kind.WRAP) | fastened
        secured[fabric.parent] = True
        drawn = drawn[secured[drawn]]
    front = (flags & (FLOAT | FLOAT_FRONT)) == FLOAT_FRONT
    outside = (flags & (OUTSIDE | TURNED)) == OUTSIDE
    leads_nowhere = ((flags & FLOAT) != 0) & fabric.present & ends
    of_graft = np.flatnonzero(((flags & FLOAT) != 0) & grafted & ~ends)
    of_graft = of_graft[grafted[following[of_graft]]]
    for loops, problem in (
        (along, "turned after, or not, against the way that the yarn goes on"),
        (np.flatnonzero(fastened & ~(ends & closing)), "fastened, and is no end of a closing"),
        (np.flatnonzero(grafted_end & ~fastened), _UNFASTENED),
        (drawn, "drawn up, and secured already"),
        (np.flatnonzero(leads_nowhere), "left by a float that leads nowhere"),
        (of_graft, "left by a float within a graft"),
        (np.flatnonzero(front), "marked as a float on the right side, and no float leaves it"),
        (np.flatnonzero(outside), "marked as turned outside, and was not turned after"),
    ):
        if len(loops):
            yield finding(
                fabric, "marks", loops, f"a loop is {problem}",
                "follow the yarn there and mark what it does",
                is_mistake=problem != _UNFASTENED,
            )  # fmt: skip


def check_courses(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """Courses rise as loops are made, and no loop is worked into one of a later course."""
    lifted = fabric.kinds(Kind.LIFTED)
    made = np.flatnonzero(~lifted)
    course = fabric.course[made]
    falls = np.flatnonzero(np.diff(course) < 0)
    # Another yarn's cast-on may be numbered from 0 by itself.
    fallen = made[falls + 1]
    falls = falls[~(fabric.kinds(Kind.CAST_ON)[fallen] & (fabric.previous[fallen] < 0))]
    leaps = np.flatnonzero(np.diff(course) > _LEAP)
    early = fabric.course[fabric.parent] > fabric.course[fabric.child]
    before = fabric.previous
    strays = np.flatnonzero(lifted & (before >= 0))
    strays = strays[fabric.course[strays] != fabric.course[before[strays]]]
    loops = np.unique(
        np.concatenate((made[falls + 1], made[leaps + 1], fabric.child[early], strays))
    )
    if len(loops):
        yield finding(
            fabric, "courses", loops,
            f"loop {loops[0]} stands in another course than those made before and after it",
            "number the rows and rounds in the order of making",
        )  # fmt: skip


def check_wraps(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """A wrap is worked with the stitch that it stands beside, once; none waits in the end."""
    wrap, stitch = fabric.wraps.get("wrap", ()), fabric.wraps.get("stitch", ())
    kinds = fabric.kinds(Kind.WRAP)
    waiting = np.asarray(wrap, dtype=np.int64)
    waste = _of_waste(fabric)
    if len(waiting) and limits.is_finished(fabric) and not waste.any():
        yield finding(
            fabric, "wraps", waiting, "wraps still wait to be worked in a finished piece",
            "work each together with its stitch",
        )  # fmt: skip
    covered = fabric.parent[waste[fabric.child]]
    live = {*fabric.live.tolist(), *covered.tolist()}
    odd = [w for w, s in zip(waiting.tolist(), np.asarray(stitch).tolist(), strict=True)
           if not kinds[w] or s not in live]  # fmt: skip
    edges = np.flatnonzero(kinds[fabric.parent]) if kinds.any() else np.zeros(0, dtype=np.int64)
    size = len(fabric.flags)
    pairs = fabric.parent[edges].astype(np.int64) * size + fabric.child[edges]
    pairs, times = np.unique(pairs, return_counts=True)
    odd += (pairs[times > 1] // size).tolist()
    odd += np.intersect1d(waiting, fabric.parent[edges]).tolist()
    if odd:
        yield finding(
            fabric, "wraps", odd, "a wrap is worked twice, or waits beside a stitch that is gone",
            "work each wrap once, together with its stitch",
        )  # fmt: skip


def _of_waste(fabric: Fabric) -> _Bools:
    """Return which loops are of waste yarn that is still in, shape (rows,)."""
    waste = np.array([strand.role == "waste" for strand in fabric.strands], dtype=np.bool_)
    if not waste.any():
        return np.zeros(len(fabric.flags), dtype=np.bool_)
    return waste[fabric.strand] & fabric.present


def check_beside(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """Neighbours without a yarn between them stand beside each other, once; floats pass a loop."""
    beside = _Beside(fabric.uncrossed)
    for loops, problem, is_mistake in (
        (beside.doubled(), "beside itself, or beside one loop twice", True),
        (beside.passing_nothing(), "left by a float that passes no loop", True),
        (beside.passing_unmarked(), "reached by a yarn that passed a loop and is no float", True),
        # Where the work was turned and turned back, or stitches were held, this can be meant.
        (beside.apart(), "next to a loop, and nothing joins the two", False),
    ):
        if len(loops):
            yield finding(
                fabric, "beside", loops, f"a loop is {problem}",
                "look along its row: what stands next to it, and which way the yarn goes",
                is_mistake=is_mistake,
            )  # fmt: skip


class _Beside:
    """Who stands beside whom, by beside edges, floats and yarn."""

    def __init__(self, fabric: Fabric) -> None:
        self.fabric, self.size = fabric, len(fabric.flags)
        self.right, self.left = fabric.right.astype(np.int64), fabric.left.astype(np.int64)
        self.floats = (fabric.flags & FLOAT) != 0
        self.mirrored = (fabric.flags & LEFT_FLANK) != 0

    def doubled(self) -> _Longs:
        """Loops with a beside edge that is there already, or leads back to them."""
        keys, times = np.unique(self.right * self.size + self.left, return_counts=True)
        return np.concatenate((keys[times > 1] // self.size, self.right[self.right == self.left]))

    def _straight(self) -> tuple[_Longs, _Longs]:
        """Return floats, start and end, within one row that goes one way."""
        fabric = self.fabric
        start = np.flatnonzero(self.floats & (fabric.next >= 0) & fabric.present)
        stop = fabric.next[start].astype(np.int64)
        kept = self.mirrored[start] == self.mirrored[stop]
        kept &= fabric.course[start] == fabric.course[stop]
        lifted = fabric.kinds(Kind.LIFTED)
        kept &= ~(lifted[start] | lifted[stop])
        return start[kept], stop[kept]

    def passing_nothing(self) -> _Longs:
        """Loops left by a float to one whose stitch below stood next to their own."""
        start, stop = self._straight()
        if not self.floats.any():
            return start
        fabric = self.fabric
        first, last = (np.full(self.size, -1, dtype=np.int64) for _ in range(2))
        drawn = (fabric.info & CHAIN) == 0  # what was passed over stands beside, not below
        parent, child = fabric.parent[drawn], fabric.child[drawn]
        last[child] = parent
        first[child[::-1]] = parent[::-1]
        below, other = last[start], first[stop]
        known = (below >= 0) & (other >= 0)
        near = known & (below == other)
        same_way = self.mirrored[below] == self.mirrored[start]
        for a, b, way in ((below, other, same_way), (other, below, ~same_way)):
            straight = self.mirrored[a] == self.mirrored[b]
            near |= known & way & straight & (fabric.next[a] == b) & ~self.floats[a]
        # Stitches cast on in between may stand above two that stood next to each other.
        added = np.cumsum(fabric.kinds(Kind.CAST_ON))
        near &= added[start] == added[stop]
        return np.asarray(start[near])

    def _drawn_through_the_last(self) -> _Longs:
        """Loops left by a float to one that is made next, and drawn through them."""
        fabric = self.fabric
        edges = np.flatnonzero(fabric.child == fabric.parent + 1)
        loops = fabric.parent[edges]
        return np.unique(loops[self.floats[loops] & (fabric.next[loops] == loops + 1)])

    def _sides(self) -> tuple[_Bools, _Bools, _Bools]:
        """Return which loops have one beside them: where they were come to, an older one; ahead."""
        came, older, ahead = (np.zeros(self.size, dtype=np.bool_) for _ in range(3))
        for loop, other, on_right in (
            (self.left, self.right, True),
            (self.right, self.left, False),
        ):
            behind = self.mirrored[loop] != on_right
            came[loop[behind]] = True
            older[loop[behind & (other < loop)]] = True
            ahead[loop[~behind]] = True
        return came, older, ahead

    def passing_unmarked(self) -> _Longs:
        """Loops with an older neighbour where the yarn came from, which comes by no float."""
        if not len(self.right):
            return np.zeros(0, dtype=np.int64)
        fabric = self.fabric
        _, older, _ = self._sides()
        loops = np.flatnonzero(older)
        before = fabric.previous[loops]
        loops, before = loops[before >= 0], before[before >= 0]
        off = ~self.floats[before] & ((fabric.flags[before] & TURNED) == 0)
        off &= self.mirrored[before] == self.mirrored[loops]
        return np.asarray(loops[off & ~fabric.kinds(Kind.BOUND_OFF)[loops]])

    def apart(self) -> _Longs:
        """Loops that stand next to another, with neither yarn nor a beside edge between."""
        start, stop = self._straight()
        came, _, ahead = self._sides()
        broken = start[ahead[start] != came[stop]]
        alone = ~ahead[start] & ~came[stop] & (stop == start + 1)
        drawn, above = self._drawn_through_the_last(), self._above_neighbours()
        return np.unique(np.concatenate((broken, start[alone], drawn, above)))

    def _above_neighbours(self) -> _Longs:
        """Loops drawn alone through neighbours, in one course, that nothing joins."""
        fabric, size = self.fabric, self.size
        yarn = np.where(self.floats, np.int32(-2), fabric.next)
        above = np.full(size, -1, dtype=np.int32)
        above[fabric.parent] = fabric.child
        below = np.flatnonzero((above >= 0) & (yarn >= 0))
        a, b = above[below], above[yarn[below]]
        # Most are joined by the yarn that goes on; few are left to look at further.
        unjoined = np.flatnonzero(yarn[a] != b)
        below, a, b = below[unjoined], a[unjoined].astype(np.int64), b[unjoined].astype(np.int64)
        unjoined = np.flatnonzero((yarn[b] != a) & (a != b))
        below, a, b = below[unjoined], a[unjoined], b[unjoined]
        beyond = yarn[below]
        if not len(below):
            return below
        alone = np.bincount(fabric.parent, minlength=size) == 1
        alone &= fabric.kinds(Kind.WORKED, Kind.CAST_ON)
        worked = fabric.kinds(Kind.WORKED)
        row = alone[below] & alone[beyond] & worked[a] & worked[b]
        row &= (self.mirrored[below] == self.mirrored[beyond]) & (fabric.flags[below] & TURNED == 0)
        a, b = a[row], b[row]
        following = fabric.next
        same = fabric.course[a] == fabric.course[b]
        waste = _of_waste(fabric)
        same &= ~(waste[a] | waste[b])
        a, b = a[same], b[same]
        led_to = np.zeros(len(a), dtype=np.bool_)
        for x, y in ((a, b), (b, a)):
            step = following[x]
            for _ in range(3):  # past increases between the two
                step = np.where(step >= 0, following[step], -1)
                led_to |= step == y
        a, b = a[~led_to], b[~led_to]
        keys = self.right * size + self.left
        joined = np.isin(a * size + b, keys) | np.isin(b * size + a, keys)
        return np.asarray(a[~joined])
