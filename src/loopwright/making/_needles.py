"""Needles, holders and strands: what is live, where the work stands, and what yarn is in hand.

The live loops on the needles are one sequence, in working order as the right side is worked, and a
cursor stands between two of them. Needles and markers are places in that sequence. So
double-pointed needles, two circulars and one long one are views of the same loops. Turning
reverses the direction and leaves the cursor.

Which way the fabric lies follows from one number, `NeedleState.side`: +1 while the yarn travels
right to left as seen from the right side. A left-handed knitter works the right side left to right:
side is -1 there, and the whole fabric comes out mirrored.

Methods that begin with an underscore are for the operations of this package: they change the
columns and check nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import IntEnum
from itertools import pairwise
from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.characters import find_strange
from loopwright.errors import CannotWorkError, CountError
from loopwright.fabric.columns import (
    BACK,
    FLOAT,
    FLOAT_FRONT,
    LEFT_FLANK,
    NONE,
    OUTSIDE,
    TURNED,
    Columns,
    Ints,
)
from loopwright.fabric.fabric import Fabric, Strand
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.making._plan import StitchRun, plan
from loopwright.making._standing import Hand, Standing
from loopwright.plurals import plural
from loopwright.shown import Shown

__all__ = ["Hand", "NeedleState", "Op", "WorkingStrand"]

_MOST_LOOPS: Final = 10_000_000  # a sock has ten thousand, the largest blankets a million
_ROLES: Final = ("working", "waste")
_NEWEST: Final = 512  # loops among which a strand that is carried along has its end
_NO_LOOPS: Final = np.zeros(0, dtype=np.int32)


class Op(IntEnum):
    """What a row of the ledger stands for."""

    WORK = 0
    CAST_ON = 1
    LIFT = 2
    CLOSE = 3
    DRAW = 4
    TAKE_OUT = 5
    STATED = 6


@attrs.define
class WorkingStrand:
    """The working strand: its number, its last loop, and what its yarn passed last."""

    strand: int
    last: int = NONE  # last loop made with it
    item: int = NONE  # last loop passed, made or slipped
    front: bool = False  # yarn lies in front of what was slipped since `last`
    turned: bool = False  # the work was turned and nothing passed since
    place: int = NONE  # the stitch that stands where `last` did: itself, or waste worked over it
    wrapped: bool = False  # a stitch was wrapped and the work not turned since


class NeedleState(Shown):
    """Live loops, markers and yarn; see :class:`loopwright.making._work.Work`."""

    def __init__(self, *, hand: Hand = Hand.RIGHT, stitches: StitchTable = STITCHES) -> None:
        # Fixed from the start.
        self.hand: Hand = hand
        self._hand_side: int = hand.value
        self.stitches: StitchTable = stitches
        # What is made: loops and edges grow only (`double_stitch` and `take_out` mark or undo
        # some), so that ids stay. The ledger has a row for each operation, `_pairs` each beside
        # edge that was drawn, `_removed` the through edges that went with waste yarn.
        self.columns: Columns = Columns()
        self._pairs: set[tuple[int, int]] = set()
        self._ledger: list[tuple[int, int, int, int, int, int]] = []
        self._removed: list[tuple[int, int]] = []
        # Where the work stands. `_cursor` is a place in `_seq`, from 0 to its length, however the
        # work is turned: what is ahead lies after it while the right side faces, else before it.
        # At the end of a round it goes back to the beginning. `_markers` and `_needles` (where
        # one needle ends and the next begins) hold places in `_seq` too, which move with it.
        self.course: int = 0
        self.in_rounds: bool = False
        self.right_side_facing: bool = True
        self._seq: Ints = _NO_LOOPS
        self._cursor = 0
        self._round_over = False  # rows began at a round's end, and nothing was passed since
        self._markers: dict[str, int] = {}
        self._needles: list[int] = []
        # Live or waiting, and not in `_seq`: holders by name, stitches opened above a waste yarn
        # that was taken out and not recaptured yet. `_total` counts all that is live.
        self._held: dict[str, Ints] = {}
        self._opened: dict[str, Ints] = {}
        self._total = 0
        # How the work stood when each holder took its stitches, with what was behind it: the last
        # loop of the needle and the last taken, and the yarn's own.
        self._held_at: dict[str, tuple[tuple[int, ...], tuple[int, int, int]]] = {}
        # Of single stitches that are still to be worked: the wraps beside each, and which of them
        # sit turned round because they were slipped knitwise. Working a stitch clears both.
        self._wraps: dict[int, list[int]] = {}
        self._reseated: set[int] = set()
        # The yarn in use: from `join_yarn` or `change_to` until `cut`, else None.
        self._line: WorkingStrand | None = None
        self.strands: list[Strand] = []
        # The last loop taken off the needle, and the loop just behind the cursor if what is made
        # next stands beside it. A turn and whatever takes the order of `_seq` apart set them to
        # -1; the end of a round does not, for the next round goes on beside it.
        self._last_taken = NONE
        self._behind = NONE
        # Whether strands cross is looked for at each lift; or, for whoever sees to it that
        # `_goes_on` is asked, once behind all that were left unseen.
        self._looks_later = False
        self._unseen = 0

    def __str__(self) -> str:
        where = "in the round" if self.in_rounds else "in rows"
        held = "".join(f", {n} on {name}" for name, n in self.held.items())
        return f"{plural(self.count, 'stitch')} {where}{held}; yarn {self.yarn}"

    # What is on the needles -----------------------------------------------------------------

    @property
    def count(self) -> int:
        """Live stitches on the needles; those on holders are not counted."""
        return len(self._seq)

    @property
    def left(self) -> int:
        """Stitches still to be worked in this row or round."""
        left = len(self._seq) - self._cursor if self.right_side_facing else self._cursor
        return left or (len(self._seq) if self.in_rounds else 0)

    @property
    def side(self) -> int:
        """+1 while the yarn travels right to left as seen from the right side, else -1."""
        return self._hand_side if self.right_side_facing else -self._hand_side

    @property
    def live(self) -> Ints:
        """Ids of the loops on the needles, in working order of the right side; a copy."""
        return self._seq.copy()

    @property
    def upcoming(self) -> Ints:
        """Ids of the loops still to be worked in this row or round, in working order."""
        return self._next_loops(self.left, "look ahead").copy()

    @property
    def held(self) -> dict[str, int]:
        """How many loops each holder carries."""
        return {name: len(loops) for name, loops in self._held.items()}

    @property
    def needle_counts(self) -> tuple[int, ...]:
        """Stitches on each needle, in working order of the right side."""
        edges = [0, *self._needles, len(self._seq)]
        return tuple(b - a for a, b in pairwise(edges))

    def arrange(self, counts: Sequence[int]) -> None:
        """Spread the stitches over needles; `CountError` unless the counts add up."""
        if sum(counts) != self.count or min(counts, default=0) < 0:
            raise CountError(
                f"spread {'+'.join(map(str, counts))} stitches over needles",
                f"that makes {sum(counts)}",
                self.course,
                self.count,
                "give counts that add up",
                sum(counts),
                self.count,
            )
        self._needles = np.cumsum(counts)[:-1].tolist()

    def begin_needle_here(self, number: int) -> None:
        """Let a needle, counted from 2, begin where the work stands.

        What is made between two needles belongs to either of them: this says to which.

        Raises
        ------
        CannotWorkError
            There is no such needle, or those beside it end beyond this place.
        """
        operation, needles = f"begin needle {number} here", len(self._needles) + 1
        some = f"there are {needles} needles, of which the first begins where the round does"
        self._refuse(not 2 <= number <= needles, operation, some)
        before, after = ([0, *self._needles, self.count][at] for at in (number - 2, number))
        self._refuse(
            not before <= self._cursor <= after,
            operation,
            "the needles beside it end beyond this place",
        )
        self._needles[number - 2] = self._cursor

    def place_marker(self, name: str) -> None:
        """Place a marker where the work stands."""
        self._refuse(name in self._markers, f"place marker {name!r}", "it is on the needle already")
        self._markers[name] = self._cursor

    def remove_marker(self, name: str) -> None:
        """Take a marker off the needle."""
        self._require_marker(name)
        del self._markers[name]

    def to_marker(self, name: str) -> int:
        """Return how many stitches stand before a marker; 0 when the work stands at it."""
        self._require_marker(name)
        ahead = self._markers[name] - self._cursor
        ahead = ahead if self.right_side_facing else -ahead
        self._refuse(
            ahead < 0, f"work to marker {name!r}", f"it was passed {plural(-ahead, 'stitch')} ago"
        )
        return ahead

    def _require_marker(self, name: str) -> None:
        placed = ", ".join(self._markers) or "none"
        self._refuse(
            name not in self._markers, f"find marker {name!r}", f"markers placed: {placed}"
        )

    def state_count(self, expected: int) -> None:
        """Record that the pattern states this many stitches on the needles.

        Raises
        ------
        CountError
            There are more or fewer; carries ``expected``, ``found``.
        """
        if self.count != expected:
            raise CountError(
                f"agree to {plural(expected, 'stitch')}",
                f"{plural(self.count, be=True)} there",
                self.course,
                self.count,
                "look for the miscount in this course or the one before",
                expected,
                self.count,
            )
        waiting = sum(self.held.values())
        self._ledger.append(
            (int(Op.STATED), self._next_id, expected, 0, waiting, expected + waiting)
        )

    # Strands --------------------------------------------------------------------------------

    def join_yarn(self, name: str = "main", *, role: str = "working") -> int:
        """Join a new strand at the needles and work with it from here; return its number.

        Parameters
        ----------
        name : str
        role : str
            ``"working"``, or ``"waste"`` for one that is taken out again.

        Raises
        ------
        CannotWorkError
            There is a strand of that name, it is no name, or there is no such role; or a stitch
            was wrapped and the work not turned since.
        """
        operation = f"join a yarn called {name!r}"
        taken = any(strand.name == name for strand in self.strands)
        number = "number the strands of one ball: 'main 2'"
        self._refuse(taken, operation, "there is one of that name", number)
        self._refuse_wrapped(operation)
        strange = find_strange(name)
        problem = f"{strange} is no character of a name" if strange else "it is no name"
        letters = "give it a name of letters, digits and signs"
        self._refuse(strange or not name.strip(), operation, problem, letters)
        roles = f"choose {' or '.join(map(repr, _ROLES))}"
        self._refuse(role not in _ROLES, operation, f"no role {role!r} is known", roles)
        self.strands.append(Strand(name, role))
        self._line = WorkingStrand(len(self.strands) - 1)
        return self._line.strand

    def change_to(self, name: str) -> None:
        """Work on with a strand that was joined before and is still on its ball.

        To change to the strand in hand changes nothing.
        """
        self._refuse_wrapped(f"change to yarn {name!r}")
        if name == self.yarn:
            return
        for number, strand in enumerate(self.strands):
            if strand.name == name and not strand.cut:
                last = self._end_of(number)
                # Its yarn is carried past whatever was worked in between.
                at_turn = last != NONE and self._hangs_at_turn(last)
                stays = last in (self._behind, NONE) and self._hangs_free(last)
                stays = stays or at_turn
                item = last if stays else NONE
                self._line = WorkingStrand(number, last, item, turned=at_turn, place=last)
                return
        self._refuse(True, f"change to yarn {name!r}", "no uncut strand has that name")

    def _end_of(self, strand: int) -> int:
        """Return the loop that a strand ends in, -1 if it has none; mostly one of the newest."""
        loops = self.columns.loops
        for start in (max(0, self._next_id - _NEWEST), 0):
            mine = loops.strand[start : self._next_id] == strand
            found = np.flatnonzero(mine & (loops.next[start : self._next_id] == NONE))
            if len(found):
                return start + int(found[0])
        return NONE

    def _hangs_at_turn(self, last: int) -> bool:
        """Whether the yarn at `last` was turned when in hand, and goes back from there now."""
        flags = self.columns.loops.flags
        if self._along(last):
            flags[last] &= ~np.uint8(TURNED)  # turned back meanwhile, with another yarn in hand
        turned = bool(flags[last] & TURNED)
        return turned and self._is_next(last) and not self._is_passed(last)

    def _hangs_free(self, last: int) -> bool:
        """Whether the yarn at `last`, if it has one, goes on as it came, with nothing beside it."""
        return last == NONE or (self._along(last) and not self._is_passed(last))

    def _is_passed(self, loop: int) -> bool:
        """Whether a loop that no yarn joins to it stands ahead of it in its own course."""
        ahead_is_left = not self.columns.loops.flags[loop] & LEFT_FLANK
        return self._stands_beside(loop, on_left=bool(ahead_is_left))

    def cut(self) -> None:
        """Cut the working strand."""
        line = self._working("cut the yarn")
        self.strands[line.strand] = attrs.evolve(self.strands[line.strand], cut=True)
        self._line = None

    @property
    def yarn(self) -> str | None:
        """Name of the working strand, None when it is cut."""
        return None if self._line is None else self.strands[self._line.strand].name

    def standing(self) -> Standing:
        """Return how the work stands now; going on does not change it."""
        return Standing(
            self._seq, self._cursor, self.needle_counts, self.course, self.in_rounds,
            self.right_side_facing, self._next_id, self.yarn or "", frozenset(self._wraps),
            self.hand,
        )  # fmt: skip

    def fabric(self) -> Fabric:
        """Return the fabric as it is now; the work can go on and does not change it."""
        needles: dict[str, Ints] = {}
        edges = [0, *self._needles, self.count]
        for number, (start, stop) in enumerate(pairwise(edges), start=1):
            needles[f"needle {number}"] = self._seq[start:stop]
        pairs = [(loop, stitch) for stitch, loops in self._wraps.items() for loop in loops]
        columns = self.columns
        return Fabric(
            **columns.loops.trimmed(),
            **columns.through.trimmed(),
            **columns.beside.trimmed(),
            strands=tuple(self.strands),
            needles=needles if self.count else {},
            held=self._held,
            wraps={"wrap": [w for w, _ in pairs], "stitch": [s for _, s in pairs]},
            ledger=self._ledger,
            removed=self._removed,
            stitches=self.stitches,
        )

    # For the operations in the sister modules -----------------------------------------------

    @property
    def _next_id(self) -> int:
        return self.columns.loops.size

    @property
    def _stands_at(self) -> tuple[int, ...]:
        """What any step changes, but those that only look or change the yarn."""
        facing = int(self.right_side_facing)
        return self._next_id, len(self._ledger), self.course, self._cursor, self.count, facing

    def _refuse(self, wrong: object, operation: str, problem: str, advice: str = "") -> None:
        if wrong:
            raise CannotWorkError(operation, problem, self.course, self.count, advice)

    def _use_up(self, what: str, keys: Sequence[str]) -> None:
        takes = plan(self.stitches, keys).takes
        if takes != self.left:
            raise CountError(
                f"work this {what}",
                f"its instructions use {plural(takes, 'stitch')} of {self.left}",
                self.course,
                self.count,
                _mend(takes, self.left, at_end=bool(self.count and not self.left)),
                takes,
                self.left,
            )

    def _working(self, operation: str) -> WorkingStrand:
        if self._line is None:
            raise CannotWorkError(
                operation, "no yarn is joined", self.course, self.count, "join a yarn first"
            )
        self._refuse_wrapped(operation)
        return self._line

    @property
    def _turn_first(self) -> str:
        """What to do where stitches are wanted of a row that is worked to its end."""
        return _TURN if self.count and not self.left else ""

    def _refuse_count(self, count: int, operation: str, *, loops: int = 1) -> None:
        """Refuse to cast on too few or too many, `loops` for each stitch."""
        self._refuse(count < 1, operation, "the number must be 1 or more")
        self._refuse_many(loops * count, operation)

    def _refuse_many(self, loops: int, operation: str) -> None:
        many = self._next_id + loops
        problem = f"that makes {many} loops, and a fabric has at most {_MOST_LOOPS}"
        self._refuse(many > _MOST_LOOPS, operation, problem)

    def _refuse_wrapped(self, operation: str) -> None:
        wrapped = self._line is not None and self._line.wrapped
        self._refuse(wrapped, operation, "a stitch was just wrapped", "turn first")

    def _record(self, op: Op, taken: int, made: int) -> None:
        before, self._total = self._total, self._total - taken + made
        self._ledger.append((int(op), self._next_id, before, taken, made, self._total))

    def _append_loops(self, codes: NDArray[np.int16], *, course: int | Ints | None = None) -> int:
        """Add loops at the end of the working strand and return the id of the first."""
        line = self._working("work")
        rows = self.columns.loops.extend(len(codes))
        loops, first = self.columns.loops, rows.start
        loops.next[rows] = np.arange(first + 1, rows.stop + 1, dtype=np.int32)
        loops.next[rows.stop - 1] = NONE
        loops.strand[rows] = line.strand
        loops.course[rows] = self.course if course is None else course
        loops.stitch[rows] = codes
        loops.flags[rows] = LEFT_FLANK * (self.side < 0)
        if line.last != NONE:
            loops.next[line.last] = first
            if line.item != line.last:
                loops.flags[line.last] |= FLOAT | (FLOAT_FRONT if line.front else 0)
            if line.turned and loops.flags[line.last] & TURNED and self._comes_first(line.place):
                loops.flags[line.last] |= OUTSIDE
        line.turned = False
        line.last = line.item = line.place = rows.stop - 1
        line.front = False
        if self._behind != NONE:
            self._join_beside(self._behind, first)
        self._behind = line.last
        return int(first)

    def _join_beside(self, before: int, after: int) -> None:
        """Join two neighbours on the needle, unless the yarn does."""
        loops = self.columns.loops
        if self._wraps:
            before = self._outermost(before, ahead=True)
            after = self._outermost(after, ahead=False)
        for a, b in ((before, after), (after, before)):
            if loops.next[a] == b and not loops.flags[a] & FLOAT:
                return
        pair = (before, after) if self.side > 0 else (after, before)
        if before == after or pair in self._pairs:
            return
        self._pairs.add(pair)
        rows = self.columns.beside.extend(1)
        self.columns.beside.right[rows], self.columns.beside.left[rows] = pair

    def _stands_beside(self, loop: int, *, on_left: bool) -> bool:
        """Whether a loop that no yarn joins to it stands beside `loop` on that side."""
        beside = self.columns.beside
        column = beside.right if on_left else beside.left
        return bool((column[: beside.size] == loop).any())

    def _outermost(self, loop: int, *, ahead: bool) -> int:
        """Return the last wrap that waits beside a loop, ahead of it or behind; else the loop."""
        for wrap in reversed(self._wraps.get(loop, ())):
            if self._along(wrap) != ahead:
                return wrap
        return loop

    def _along(self, loop: int) -> bool:
        """Whether the yarn came to `loop` the way that the work goes now."""
        left = self.columns.loops.flags[loop] & LEFT_FLANK != 0
        return bool(left) == (self.side < 0)

    def _comes_first(self, loop: int) -> bool:
        """Whether what is made now stands before `loop` in this row: it is next, or to return."""
        if self._is_next(loop):
            return True
        covered = self._line is not None and loop != self._line.last  # by waste yarn
        held = any(loop in loops for loops in self._held.values())
        return held and (covered or not self.left)

    def _is_next(self, loop: int) -> bool:
        """Whether `loop` is the first to be worked."""
        place = self._cursor - (not self.right_side_facing)
        return 0 <= place < len(self._seq) and int(self._seq[place]) == loop

    @property
    def _knit(self) -> int:
        """Bits of the through edge of a stitch knitted now: a purl from the right side or not."""
        return 0 if self.right_side_facing else BACK

    def _append_through(self, parents: Ints, children: Ints, info: NDArray[np.uint8] | int) -> None:
        rows = self.columns.through.extend(len(parents))
        self.columns.through.parent[rows] = parents
        self.columns.through.child[rows] = children
        self.columns.through.info[rows] = info

    def _replace(self, taken: int, new: Ints, run: StitchRun | None = None) -> None:
        """Put `new` (in working order) where the next `taken` loops were, and go past them."""
        if taken:
            self._end_of_round()
        old = self._cursor
        self._round_over = False
        if self.right_side_facing:
            start, stop = old, old + taken
            self._cursor = start + len(new)
        else:
            start, stop = old - taken, old
            self._cursor = start
            new = new[::-1]
        if start == 0 and stop == len(self._seq):
            self._seq = np.ascontiguousarray(new)
        else:
            self._seq = np.concatenate((self._seq[:start], new, self._seq[stop:]))
        if self._markers or self._needles:
            self._move_places(start, taken, len(new), run)

    def _move_places(self, start: int, taken: int, left: int, run: StitchRun | None) -> None:
        """Move markers and needle ends along with the stitches that stand before them."""
        stop = start + taken
        ends = run.ends if run is not None else np.array([taken])
        ends_left = run.ends_left if run is not None else np.array([left])

        def moved(place: int) -> int:
            if place < start or (place == start and self.right_side_facing):
                return place
            if place >= stop:
                return place + left - taken
            # Whole stitches done before the place, counted from where the run began.
            inside = place - start if self.right_side_facing else stop - place
            after = int(ends_left[ends.searchsorted(inside)])
            return start + after if self.right_side_facing else start + left - after

        self._markers = {name: moved(place) for name, place in self._markers.items()}
        self._needles = [moved(place) for place in self._needles]

    def _end_of_round(self) -> None:
        if not self.in_rounds or not self.count:
            return
        if self.right_side_facing and self._cursor == self.count:
            self._cursor = 0
            self.course += 1
        elif not self.right_side_facing and self._cursor == 0:
            self._cursor = self.count
            self.course += 1

    def _next_loops(self, count: int, operation: str) -> Ints:
        """Return the next `count` loops in working order."""
        if count > self.left:
            self._refuse(
                True,
                operation,
                f"{plural(count, 'stitch', be=True)} wanted and {plural(self.left, be=True)} left "
                f"in this {'round' if self.in_rounds else 'row'}",
                self._turn_first,
            )
        at = self._cursor
        if self.in_rounds and at == (self.count if self.right_side_facing else 0):
            at = self.count - at
        if self.right_side_facing:
            return self._seq[at : at + count]
        return self._seq[at - count : at][::-1]


_TURN = "turn first: all stitches of this row are worked"


def _mend(takes: int, left: int, *, at_end: bool) -> str:
    """Return what to do where a row's stitches don't use up those that are left."""
    if at_end:
        return _TURN
    return f"{'leave out' if takes > left else 'add'} {abs(takes - left)}"
