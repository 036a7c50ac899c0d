"""Two needles, holders and a list of moves: what an unpicker holds in its hands.

`left` and `right` are lists with the points of the needles at their ends. Methods bring a stitch to
the point of the left needle by turning, slipping, holding, joining or returning, and write down
each move.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import attrs
import numpy as np

from loopwright.errors import NotKnittableError
from loopwright.fabric.checks import place_in_words
from loopwright.fabric.columns import (
    FLOAT,
    FLOAT_FRONT,
    GONE,
    LEFT_FLANK,
    OUTSIDE,
    TURNED,
)
from loopwright.fabric.fabric import Fabric, Strand
from loopwright.fabric.stitches import Kind
from loopwright.making import Hand
from loopwright.pattern import steps as st

__all__ = ["MadeLoops", "NeedleMove", "TwoNeedles"]

_MANY_ROWS: Final = 6  # rows for which stitches that wait are put on a holder


@attrs.frozen
class NeedleMove:
    """One thing that the hands do.

    Parameters
    ----------
    what : str
        ``"work"``, ``"turn"``, ``"wrap"``, ``"round"`` (a round has come to its end),
        ``"pick up"``, ``"lift"`` or ``"step"``.
    key : str
        The stitch that is worked.
    with_wraps : bool
    step : Step, optional
        What is neither row nor round.
    many : int
        Stitches picked up.
    strand : str
        Which strand is lifted, as in `Lift`.
    beyond : bool
        It was lifted behind the stitch that it is worked with.
    """

    what: str
    key: str = ""
    with_wraps: bool = False
    step: st.Step | None = None
    many: int = 1
    strand: str = "across"
    beyond: bool = False


class MadeLoops:
    """The columns of a fabric as lists, those of waste yarn that was taken out among them."""

    def __init__(self, fabric: Fabric) -> None:
        self.fabric = fabric
        self.rows = fabric.stitches.rows
        self.code: list[int] = fabric.stitch.tolist()
        self.kind = [self.rows[code].kind for code in self.code]
        self.flags: list[int] = fabric.flags.tolist()
        self.next: list[int] = fabric.next.tolist()
        self.previous: list[int] = fabric.previous.tolist()
        self.strand: list[int] = fabric.strand.tolist()
        self.course: list[int] = fabric.course.tolist()
        self.parents: dict[int, list[tuple[int, int]]] = {}
        self.children: dict[int, list[int]] = {}
        edges = zip(
            fabric.parent.tolist(), fabric.child.tolist(), fabric.info.tolist(), strict=True
        )
        for parent, child, info in edges:
            self._add(parent, child, info)
        for parent, child in fabric.removed.tolist():
            self._add(parent, child, 0)
        self.neighbours = set(zip(fabric.right.tolist(), fabric.left.tolist(), strict=True))
        self.strands = list(fabric.strands)
        self.order = [loop for loop, kind in enumerate(self.kind) if kind is not Kind.LIFTED]
        self._hang_on_waste()
        waste = [strand.role == "waste" for strand in self.strands]
        self.is_waste = [waste[number] for number in self.strand]

    def _add(self, parent: int, child: int, info: int) -> None:
        self.parents.setdefault(child, []).append((parent, info))
        self.children.setdefault(parent, []).append(child)

    def stands_beside(self, loop: int, other: int) -> bool:
        """Whether two loops are neighbours in a course, by the yarn or without it."""
        return self.is_beside(loop, other) or self.next[loop] == other or self.next[other] == loop

    def is_beside(self, loop: int, other: int) -> bool:
        """Whether two loops are neighbours that no yarn joins."""
        return (loop, other) in self.neighbours or (other, loop) in self.neighbours

    def _hang_on_waste(self) -> None:
        """Put waste yarn under loops that are drawn through nothing, as it must have been there."""
        hang = {
            loop
            for loop, kind in enumerate(self.kind)
            if kind is Kind.WORKED and loop not in self.parents and not self.flags[loop] & GONE
        }
        for first in sorted(loop for loop in hang if self.past(loop, self.previous) not in hang):
            row = [first]
            while (after := self.past(row[-1], self.next)) in hang:
                row.append(after)
            self._cast_on_waste(row)

    def follows(self, loop: int, other: int) -> bool:
        """Whether a loop was made with the yarn just after another."""
        return self.past(loop, self.next) == other

    def past(self, loop: int, way: list[int]) -> int:
        """Return the loop beside another on its yarn before strands were lifted there."""
        at = way[loop]
        while at >= 0 and self.kind[at] is Kind.LIFTED:
            at = way[at]
        return at

    def beside(self, loop: int) -> tuple[int, ...]:
        """Return the loops beside one on its yarn, those lifted there since among them."""
        ways = (self.next, self.previous)
        return (*(way[loop] for way in ways), *(self.past(loop, way) for way in ways))

    def _waste_strand(self) -> int:
        """Return the number of a waste strand without loops; a new one if there is none."""
        used = set(self.strand)
        for number, strand in enumerate(self.strands):
            if strand.role == "waste" and number not in used:
                return number
        names = {strand.name for strand in self.strands}
        name, number = "waste", 2
        while name in names:
            name, number = f"waste {number}", number + 1
        self.strands.append(Strand(name, "waste", cut=True))
        return len(self.strands) - 1

    def _cast_on_waste(self, row: list[int]) -> None:
        """Cast on a loop of waste yarn under each of these."""
        number = self._waste_strand()
        start, size = len(self.code), len(row)
        waste = list(range(start, start + size))
        self.code += [self.fabric.stitches.code("co")] * size
        self.kind += [Kind.CAST_ON] * size
        self.flags += [GONE | (self.flags[row[0]] & LEFT_FLANK)] * size
        self.next += [*waste[1:], -1]
        self.previous += [-1, *waste[:-1]]
        self.strand += [number] * size
        self.course += [self.course[row[0]]] * size
        for below, loop in zip(waste, row, strict=True):
            self._add(below, loop, 0)
        place = self.order.index(row[0])
        self.order[place:place] = waste


class TwoNeedles:
    """Stitches on two needles and on holders, and the moves that brought them there.

    Parameters
    ----------
    fabric : Fabric
    hand : Hand
    holds : bool
        As for `unpick`.
    """

    def __init__(self, fabric: Fabric, hand: Hand, *, holds: bool) -> None:
        self.holds = holds
        self.loops = MadeLoops(fabric)
        self.fabric, self.hand = fabric, hand
        self.order = self.loops.order
        self.moves: list[NeedleMove] = []
        self.left: list[int] = []
        self.right: list[int] = []
        self.held: dict[str, list[int]] = {}
        self.wraps: dict[int, list[int]] = {}
        self.in_rounds = False
        self.facing = True
        self.began_on_right_side = True
        self.strand = -1
        self.joined: set[int] = set()
        self.cut: set[int] = set()
        self.round_start = 0  # the move with which this row or round begins
        self.opened: set[int] = set()  # waste strands that were recaptured
        self.last = -1
        self.passed: set[tuple[int, int]] = set()  # slipped stitches, and the loops made beyond
        self.turns_before = np.cumsum((fabric.flags & TURNED) != 0).tolist()

    # Needles ----------------------------------------------------------------------------------

    def _faces(self, loop: int) -> bool:
        """Whether the right side faces the knitter as a loop is made."""
        leftward = not self.loops.flags[loop] & LEFT_FLANK
        return leftward == (self.hand is Hand.RIGHT)

    def _do(self, what: str, **details: object) -> None:
        self.moves.append(NeedleMove(what, **details))  # type: ignore[arg-type]

    def _step(self, step: st.Step) -> None:
        self._do("step", step=step)
        if not self.right:
            self.round_start = len(self.moves)

    def _refuse(self, loop: int, problem: str, advice: str = "") -> None:
        raise NotKnittableError(loop, place_in_words(self.fabric, [loop]), problem, advice)

    def _turn(self) -> None:
        if self.holds and self.in_rounds and not self.held and self.left and self.last >= 0:
            self._hold_for_long()
        if self.in_rounds and self.held:
            self.in_rounds = False
        self._do("turn")
        self.left, self.right = self.right, self.left
        self.facing = not self.facing
        self.round_start = len(self.moves)
        if self.in_rounds and not self.left:
            self._go_round_silently()

    def _hold_for_long(self) -> None:
        """Put on a holder what waits while many rows are worked over the other stitches."""
        children = self.loops.children
        above = [children[loop][0] for loop in self.left if loop in children]
        wrapped = any(
            self.loops.kind[parent] is Kind.WRAP
            for loop in above
            for parent, _ in self.loops.parents[loop]
        )
        if not above or wrapped:
            return
        again = min(above)
        turns = self.turns_before[again] - self.turns_before[self.last]
        if turns >= _MANY_ROWS:
            self._hold(len(self.left))

    def _ends_round(self, loop: int) -> bool:
        """Whether a loop that takes no stitch still belongs to the round that is worked."""
        row = self.loops.rows[self.loops.code[loop]]
        course = self.loops.course
        return (
            not row.takes
            and (row.lifts > 0 or row.kind is Kind.OVER)
            and self.last >= 0
            and course[loop] == course[self.last]
        )

    def _settle(self) -> None:
        """Begin the next round where one has come to its end."""
        if self.in_rounds and not self.left and self.right:
            self._go_round()

    def _go_round(self) -> None:
        self.left, self.right = self.right[::-1], []
        self._do("round")
        self.round_start = len(self.moves)

    def _slip(self, many: int, loop: int) -> None:
        """Pass stitches to the right needle, unworked, on the way to making `loop`."""
        before = self.loops.previous[loop]
        front = before >= 0 and bool(self.loops.flags[before] & FLOAT_FRONT)
        hangs = before >= 0 and many == 1 and self.left[-1] == before
        key = "slf" if front or (hangs and not self.facing) else "sl"
        for _ in range(many):
            self._settle()
            self._do("work", key=key)
            self.right.append(self.left.pop())
        self._settle()

    def _reach(self, first: int, loop: int) -> None:
        """Bring the stitch `first` to the point of the left needle, so that `loop` is next."""
        if self._faces(loop) != self.facing:
            if first not in self.right and first in self.left:
                beyond = self.left.index(first)
                if not self.in_rounds or len(self.left) - beyond <= len(self.right) + beyond:
                    self._slip(len(self.left) - beyond, loop)
            elif self._slipped_next():
                self._slip(1 if self.in_rounds else len(self.left), loop)
            self._turn()
        elif self._floats_to(loop):
            self._slip_all(first, loop)
        for _ in range(8):
            if self.left and self.left[-1] == first:
                return
            self._nearer(first, loop)
        self._refuse(loop, "the stitch that it is drawn through is out of reach")

    def _slipped_next(self) -> bool:
        """Whether the yarn has passed the stitch that is next on the left needle."""
        return bool(
            self.left
            and self.last >= 0
            and self.loops.flags[self.last] & FLOAT
            and self.loops.is_beside(self.last, self.left[-1])
        )

    def _floats_to(self, loop: int) -> bool:
        last = self.last
        return last >= 0 and self.loops.follows(last, loop) and bool(self.loops.flags[last] & FLOAT)

    def _slip_all(self, first: int, loop: int) -> None:
        """Slip a whole round, or a row there and back, if the yarn passes what it then works."""
        self._settle()
        if self.in_rounds and self.left and self.left[-1] == first:
            self._slip(len(self.left) + len(self.right), loop)
        elif (
            not self.in_rounds
            and not self.left
            and first in self.right
            and self.loops.course[loop] > self.loops.course[self.last] + 1
        ):
            self._turn()
            self._slip(len(self.left), loop)
            self._turn()

    def _stand_at(self, loop: int) -> None:
        """Go to where a loop is made that is drawn through nothing."""
        if self._faces(loop) != self.facing:
            self._turn()
        before, course = self.loops.previous[loop], self.loops.course
        fresh = before >= 0 and before == self.last and course[loop] > course[before]
        if fresh and not self.in_rounds and not self.left and self.right:
            self._join()
        if self._hangs_beyond(before):
            self._slip(1, loop)  # the yarn hangs there: it passes nothing
            return
        floats = before >= 0 and self.loops.flags[before] & FLOAT
        if not floats or (self._ends_round(loop) and not self.left):
            return
        self._settle()
        for many, waiting in enumerate(reversed(self.left), start=1):
            if self.loops.is_beside(waiting, loop) and waiting < loop:
                self._slip(many, loop)
                return

    def _hangs_beyond(self, before: int) -> bool:
        """Whether the work was turned after a loop that is passed before anything is made."""
        flags = self.loops.flags[before]
        return (
            0 <= before == self.last
            and bool(self.left)
            and self.left[-1] == before
            and bool(flags & TURNED)
            and not flags & OUTSIDE
        )

    def _nearer(self, first: int, loop: int) -> None:
        self._settle()
        if self.left and self.left[-1] == first:
            return
        if not self.left and not self.in_rounds and first in self.right:
            self._join()
        elif first in self.left:
            self._pass(len(self.left) - 1 - self.left.index(first), loop)
        elif first in self.right and self.in_rounds:
            self._pass_round(first, loop)
        elif any(first in loops for loops in self.held.values()):
            self._return_held(first)
        elif not self._recapture(first):
            self._refuse(
                loop,
                f"it is drawn through loop {first}, which no needle and no holder carries by then",
                "make what it hangs on first, or draw it through a loop that is live",
            )

    def _join(self) -> None:
        self._step(st.Join())
        self.in_rounds = True
        self._go_round_silently()

    def _go_round_silently(self) -> None:
        self.left, self.right = self.right[::-1], []
        self.round_start = len(self.moves)

    def _pass(self, many: int, loop: int) -> None:
        """Go past stitches that stand before the one that is wanted: slipped, or held."""
        nearest = self.left[-many]
        if self.loops.stands_beside(nearest, loop):
            self.passed.add((nearest, loop))
            self._slip(many, loop)
        else:
            self._hold(many)

    def _pass_round(self, first: int, loop: int) -> None:
        """The same where the end of the round lies between."""
        beyond = self.right.index(first)
        nearest = self.right[beyond - 1] if beyond else self.left[0]
        if self.loops.stands_beside(nearest, loop):
            self.passed.add((nearest, loop))
            self._slip(len(self.left) + beyond, loop)
        else:
            self._hold(len(self.left))

    def _hold(self, many: int) -> None:
        """Put the next stitches on a holder, before what was cast on in their place."""
        waiting = [self.left.pop() for _ in range(many)]
        carried = {
            name for name, loops in self.fabric.held.items() if set(waiting) & set(loops.tolist())
        }
        number = 1
        while (name := f"part {number}") in self.held:
            number += 1
        name = min(carried - set(self.held), default=name)
        self.held[name] = waiting if self.facing else waiting[::-1]
        place = len(self.moves)
        while place and isinstance(self.moves[place - 1].step, st.CastOn | st.ProvisionalCastOn):
            place -= 1
        self.moves.insert(place, NeedleMove("step", step=st.Hold(many, name)))

    def _return_held(self, first: int) -> None:
        name = next(name for name, loops in self.held.items() if first in loops)
        loops = self.held.pop(name)
        ahead = loops[::-1] if self.facing else loops
        self._step(st.ReturnHeld(name, next_to_work=bool(self.left)))
        self.left += ahead

    def _is_lifted(self, loop: int) -> bool:
        """Whether a loop is a running strand that isn't on the needle."""
        return self.loops.kind[loop] is Kind.LIFTED and not self._is_live(loop)

    def _is_live(self, loop: int) -> bool:
        return loop in self.left or loop in self.right

    def _bring(self, loop: int) -> None:
        """Recapture what a loop is drawn through, if waste yarn carries it."""
        for parent, _ in self.loops.parents.get(loop, ()):
            held = any(parent in loops for loops in self.held.values())
            if held or self._is_live(parent) or self.loops.is_waste[loop]:
                continue
            if self._recapture(parent):
                return

    def _bring_lifted(self, drawn: list[tuple[int, int]]) -> None:
        for parent, _ in drawn:
            if self._is_lifted(parent):
                self._recapture(parent)

    def _recapture(self, wanted: int) -> bool:
        """Put back on the needle what a waste yarn carried, if `wanted` is among it."""
        loops = self.loops
        for number, strand in enumerate(loops.strands):
            if strand.role != "waste" or number in self.opened:
                continue
            waste = [n for n, of in enumerate(loops.strand) if of == number]
            above = _once(child for one in waste for child in loops.children.get(one, ()))
            below = [p for one in waste for p, _ in loops.parents.get(one, ())]
            found = self._strands(above)
            if found is None or wanted not in (*below, *found[1]):
                continue
            corner, strands = found
            if below and (not self._faces(waste[0])):
                below.reverse()
            flank = bool(loops.flags[above[0]] & LEFT_FLANK)
            if flank == (self.hand is Hand.LEFT):
                strands = strands[::-1]
            self._open(number, [*below, *strands], st.Recapture(strand.name, corner))
            return True
        return False

    def _open(self, number: int, loops: list[int], step: st.Recapture) -> None:
        self.opened.add(number)
        place = self.round_start if self.right else len(self.moves)
        self.moves.insert(place, NeedleMove("step", step=step))
        self.left = (loops[::-1] if self.facing else loops) + self.left

    def _strands(self, above: list[int]) -> tuple[str, list[int]] | None:
        """Return the strands lifted beside the loops of a row, and at which corner."""
        if not above:
            return None
        before = [self._lifted_beside(loop, self.loops.previous) for loop in above]
        after = [self._lifted_beside(loop, self.loops.next) for loop in above]
        ways = []
        if all(before[1:]) and before[0]:
            inner = [strands[0] for strands in before[1:]]
            ways.append(("first", [_nearest(before[0], inner[:1], -1), *inner]))
        if all(after[:-1]) and after[-1]:
            inner = [strands[0] for strands in after[:-1]]
            ways.append(("last", [*inner, _nearest(after[-1], inner[-1:], 1)]))
        for corner, strands in ways:
            if strands == list(range(strands[0], strands[0] + len(strands))):
                return corner, strands
        return ways[0] if ways else None

    def _lifted_beside(self, loop: int, way: list[int]) -> list[int]:
        """Return the lifted strands that follow each other on one side of a loop."""
        found, at = [], way[loop]
        while at >= 0 and self.loops.kind[at] is Kind.LIFTED:
            found.append(at)
            at = way[at]
        return found


def _nearest(strands: list[int], beside: list[int], step: int) -> int:
    """Return the strand that was lifted just before or after another, else the first."""
    wanted = beside[0] + step if beside else -1
    return wanted if wanted in strands else strands[0]


def _once(loops: Iterator[int]) -> list[int]:
    return list(dict.fromkeys(loops))
