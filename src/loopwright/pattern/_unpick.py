"""From a fabric to what the hands did: the loops are gone through in the order of their yarn.

The unpicker keeps two needles, as a knitter does: `left` and `right`, each with its point at the
end of the list. For the next loop of the yarn in use it asks where the loops stand that it is drawn
through. Next on the left needle: a stitch. Farther on: those between were slipped, if the yarn or a
neighbour shows it, or held. On a holder: they come back. Nowhere: a running strand was lifted, an
edge picked up, or waste yarn carries it. Whatever fits none of these can't be made by hand in this
order, and the loop is the witness.

It knows nothing of repeats; :mod:`loopwright.pattern._gather` finds those again.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import attrs
import numpy as np

from loopwright.errors import NotKnittableError
from loopwright.fabric.checks import place_in_words
from loopwright.fabric.columns import (
    BACK,
    CHAIN,
    DRAWN,
    EDGE,
    FACING,
    FLOAT,
    FLOAT_FRONT,
    GONE,
    LEFT_FLANK,
    RANK,
    TURNED,
)
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import Kind, Stitch
from loopwright.making import Hand
from loopwright.pattern import steps as st
from loopwright.pattern.items import LIFTED

__all__ = ["Move", "Moves", "hands_of", "unpick"]

_MANY_ROWS: Final = 6  # rows for which stitches that wait are put on a holder


@attrs.frozen
class Move:
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
    """

    what: str
    key: str = ""
    with_wraps: bool = False
    step: st.Step | None = None
    many: int = 1


@attrs.frozen
class Moves:
    """All that the hands did, and with which side of the cast-on before them."""

    moves: tuple[Move, ...]
    starts_on_right_side: bool


def hands_of(fabric: Fabric) -> tuple[Hand, Hand]:
    """Return the hand that more likely made a fabric, and the other.

    A knit stitch that looks like one from the right side was worked with the right side before
    the knitter: travelling leftwards, by a right hand.
    """
    rows = fabric.stitches.rows
    plain = np.array([row.takes == row.makes == 1 and row.kind is Kind.WORKED for row in rows])
    purl = np.array([row.faces.startswith("p") for row in rows])
    edges = plain[fabric.stitch[fabric.child]] & ((fabric.info & (EDGE | CHAIN)) == 0)
    child = fabric.child[edges]
    facing = purl[fabric.stitch[child]] == ((fabric.info[edges] & BACK) != 0)
    leftward = (fabric.flags[child] & LEFT_FLANK) == 0
    right = int(np.count_nonzero(facing == leftward))
    both = (Hand.RIGHT, Hand.LEFT)
    return both if 2 * right >= len(child) else (Hand.LEFT, Hand.RIGHT)


def unpick(fabric: Fabric, hand: Hand, *, holds: bool = True) -> Moves:
    """Return what the hands did to make a fabric, in order.

    Parameters
    ----------
    holds : bool
        Put on a holder what waits while many rows are worked over the other stitches.

    Raises
    ------
    NotKnittableError
        A loop can't be made by hand in the order of the yarn; carries it as witness.
    """
    unpicker = _Unpicker(fabric, hand, holds=holds)
    return Moves(tuple(unpicker.all()), unpicker.began_on_right_side)


class _Loops:
    """The columns of a fabric as lists, those of waste yarn that was taken out among them."""

    def __init__(self, fabric: Fabric) -> None:
        self.fabric = fabric
        self.rows = fabric.stitches.rows
        self.code = fabric.stitch.tolist()
        self.kind = [self.rows[code].kind for code in self.code]
        self.flags = fabric.flags.tolist()
        self.next = fabric.next.tolist()
        self.previous = fabric.previous.tolist()
        self.strand = fabric.strand.tolist()
        self.course = fabric.course.tolist()
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
        waste = [strand.role == "waste" for strand in fabric.strands]
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

    def made(self) -> list[int]:
        """All loops but lifted strands, in the order of making."""
        return [loop for loop, kind in enumerate(self.kind) if kind is not Kind.LIFTED]


class _Unpicker:
    """Two needles, holders and a list of moves."""

    def __init__(self, fabric: Fabric, hand: Hand, *, holds: bool) -> None:
        self.holds = holds
        self.loops = _Loops(fabric)
        self.fabric, self.hand = fabric, hand
        self.order = self.loops.made()
        self.moves: list[Move] = []
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
        self.turns_before = np.cumsum((fabric.flags & TURNED) != 0).tolist()

    def all(self) -> list[Move]:
        place, order = 0, self.order
        if order:
            self.facing = self.began_on_right_side = self._faces(order[0])
        while place < len(order):
            place += self._next(place)
        self._leave_strand()
        self._finish()
        return self.moves

    def _next(self, place: int) -> int:
        """Find out how the loop at a place of the order was made; return how many go with it."""
        loop, loops = self.order[place], self.loops
        kind = loops.kind[loop]
        if loops.strand[loop] != self.strand and not loops.is_waste[loop]:
            self._draw_up()
        if self.in_rounds and not self.left and not loops.rows[loops.code[loop]].lifts:
            self._bring(loop)
        if not self._ends_round(loop) and self._faces(loop) == self.facing:
            self._settle()
        if loops.is_waste[loop] or self._is_waste_row(place):
            return self._waste(place)
        if loops.strand[loop] != self.strand:
            self._change_strand(loops.strand[loop])
        if kind is Kind.CAST_ON:
            return self._cast_on(place)
        if kind is Kind.CLOSED:
            return self._closed_cast_on(place)
        if kind is Kind.WRAP:
            return self._wrap(loop)
        if kind is Kind.GRAFTED:
            return self._close(place, st.Graft())
        if kind is Kind.BOUND_OFF:
            return self._bind_off(place)
        if any(info & EDGE for _, info in loops.parents.get(loop, ())):
            return self._pick_up(place)
        return self._stitch(place)

    # Needles ----------------------------------------------------------------------------------

    def _faces(self, loop: int) -> bool:
        """Whether the right side faces the knitter as a loop is made."""
        leftward = not self.loops.flags[loop] & LEFT_FLANK
        return leftward == (self.hand is Hand.RIGHT)

    def _do(self, what: str, **details: object) -> None:
        self.moves.append(Move(what, **details))  # type: ignore[arg-type]

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
        return last >= 0 and self.loops.next[last] == loop and bool(self.loops.flags[last] & FLOAT)

    def _slip_all(self, first: int, loop: int) -> None:
        """Slip a whole round, or a row there and back, if the yarn passes what it then works."""
        self._settle()
        if self.in_rounds and self.left and self.left[-1] == first:
            self._slip(len(self.left) + len(self.right), loop)
        elif not self.in_rounds and not self.left and first in self.right:
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
        floats = before >= 0 and self.loops.flags[before] & FLOAT
        if not floats or (self._ends_round(loop) and not self.left):
            return
        self._settle()
        for many, waiting in enumerate(reversed(self.left), start=1):
            if self.loops.is_beside(waiting, loop) and waiting < loop:
                self._slip(many, loop)
                return

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
            self._slip(many, loop)
        else:
            self._hold(many)

    def _pass_round(self, first: int, loop: int) -> None:
        """The same where the end of the round lies between."""
        beyond = self.right.index(first)
        nearest = self.right[beyond - 1] if beyond else self.left[0]
        if self.loops.stands_beside(nearest, loop):
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
        self.moves.insert(place, Move("step", step=st.Hold(many, name)))

    def _return_held(self, first: int) -> None:
        name = next(name for name, loops in self.held.items() if first in loops)
        loops = self.held.pop(name)
        ahead = loops[::-1] if self.facing else loops
        self._step(st.ReturnHeld(name, next_to_work=bool(self.left)))
        self.left += ahead

    # Yarns ------------------------------------------------------------------------------------

    def _change_strand(self, strand: int) -> None:
        self._leave_strand()
        name = self.fabric.strands[strand].name
        begins = not self.joined and name == "main"
        if not begins:
            self._step(st.UseYarn(name))
        self.joined.add(strand)
        self.strand = strand

    def _leave_strand(self) -> None:
        """Draw up what is drawn up with the yarn in use, and cut it if it is used no more."""
        self._draw_up()
        if self.strand < 0 or self.strand in self.cut:
            return
        ended = self.last >= 0 and self.loops.next[self.last] < 0
        if ended and self.fabric.strands[self.strand].cut:
            self._step(st.CutYarn())
            self.cut.add(self.strand)

    def _draw_up(self) -> None:
        live = [*self.left, *self.right]
        if live and all(self.loops.flags[loop] & DRAWN for loop in live):
            self._step(st.DrawUp())
            self._clear()

    def _clear(self) -> None:
        self.left, self.right = [], []
        self.wraps.clear()
        self.cut.add(self.strand)
        self.round_start = len(self.moves)

    def _finish(self) -> None:
        if self.left and self.last >= 0 and self.loops.is_beside(self.last, self.left[-1]):
            self._slip(1 if self.in_rounds else len(self.left), self.last)
        for loop in self.fabric.live.tolist():
            if not self._is_live(loop) and self.loops.kind[loop] is Kind.LIFTED:
                self._recapture(loop)
        for number, strand in enumerate(self.fabric.strands):
            mine = (self.fabric.strand == number) & ((self.fabric.flags & GONE) != 0)
            if mine.any() and number not in self.opened:
                self._step(st.TakeOut(strand.name))
        there = {self.loops.strand[loop] for loop in self.fabric.ids.tolist()}
        working = [self.fabric.strands[n] for n in there if self.fabric.strands[n].role != "waste"]
        if working and all(all(strand.woven) for strand in working):
            self._step(st.WeaveIn())

    # Casting on -------------------------------------------------------------------------------

    def _run(self, place: int, kind: Kind) -> list[int]:
        """Return the loops from a place on that are of one kind, one yarn and one row."""
        first = self.order[place]
        found = [first]
        for loop in self.order[place + 1 :]:
            same = self.loops.kind[loop] is kind and self.loops.next[found[-1]] == loop
            if not same and not (self.loops.flags[loop] & GONE and self.loops.kind[loop] is kind):
                break
            if self.loops.strand[loop] != self.loops.strand[first]:
                break
            found.append(loop)
        return found

    def _cast_on(self, place: int) -> int:
        loops = self._run(place, Kind.CAST_ON)
        if self._faces(loops[0]) != self.facing:
            self._turn()
        facing = [self._faces(loop) for loop in loops]
        many = next((n for n, faces in enumerate(facing) if faces != facing[0]), len(loops))
        self._step(st.CastOn(many))
        self.right += loops[:many]
        self.last = loops[many - 1]
        return many

    def _closed_cast_on(self, place: int) -> int:
        loops = self._run(place, Kind.CLOSED)
        if len(loops) % 2:
            self._refuse(loops[-1], "a closed cast-on has as many loops on either side")
        if self.left or self.right:
            self._refuse(loops[0], "a closed cast-on begins on empty needles")
        self._step(st.ClosedCastOn(len(loops) // 2))
        self.right = [*loops[1::2][::-1], *loops[0::2]]
        self.last = loops[-1]
        return len(loops)

    # Waste yarn -------------------------------------------------------------------------------

    def _is_waste_row(self, place: int) -> bool:
        """Whether a whole strand was worked and slid back, to be worked again at once."""
        loop, loops = self.order[place], self.loops
        if loops.strand[loop] == self.strand or loops.previous[loop] >= 0:
            return False
        run = self._run(place, loops.kind[loop])
        after = self.order[place + len(run)] if place + len(run) < len(self.order) else -1
        if self.in_rounds and len(run) == len(self.left) + len(self.right):
            return False  # a whole round: what follows is the next
        if after < 0 or loops.strand[after] == loops.strand[loop] or loops.next[run[-1]] >= 0:
            return False
        return (
            loops.kind[loop] in (Kind.WORKED, Kind.CAST_ON)
            and bool(loops.parents.get(after))
            and loops.parents[after][0][0] == loop
            and self._faces(after) == self._faces(loop)
            and loops.strand[after] in self.joined
        )

    def _waste(self, place: int) -> int:
        run = self._run(place, self.loops.kind[self.order[place]])
        name = self.fabric.strands[self.loops.strand[run[0]]].name
        if self.loops.kind[run[0]] is Kind.CAST_ON:
            return self._provisional(place, run, name)
        first = self.loops.parents[run[0]][0][0]
        self._reach(first, run[0])
        below = self.left[-len(run) :][::-1]
        if below != [self.loops.parents[loop][0][0] for loop in run]:
            self._refuse(run[0], "its row is not knitted over the next stitches")
        self._step(st.WasteRow(len(run), name))
        self.left[-len(run) :] = run[::-1]
        return len(run)

    def _provisional(self, place: int, run: list[int], name: str) -> int:
        above = self.order[place + len(run) : place + 2 * len(run)]
        drawn = [self.loops.parents.get(loop, [(-1, 0)])[0][0] for loop in above]
        if drawn != run:
            self._refuse(run[0], "waste yarn was cast on, and nothing is cast on over it")
        strand = self.loops.strand[above[0]]
        if strand != self.strand:
            self._change_strand(strand)
        if self._faces(above[0]) != self.facing:
            self._turn()
        self._step(st.ProvisionalCastOn(len(run), name))
        self.right += above
        self.last = above[-1]
        return 2 * len(run)

    def _recapture(self, wanted: int) -> bool:
        """Put back on the needle what a waste yarn carried, if `wanted` is among it."""
        fabric, loops = self.fabric, self.loops
        for number, strand in enumerate(fabric.strands):
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
        self.moves.insert(place, Move("step", step=step))
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

    # Stitches ---------------------------------------------------------------------------------

    def _stitch(self, place: int) -> int:
        loop, loops = self.order[place], self.loops
        parents = loops.parents.get(loop, [])
        wrapped = [parent for parent, _ in parents if loops.kind[parent] is Kind.WRAP]
        drawn = [(p, info) for p, info in parents if loops.kind[p] is not Kind.WRAP]
        row = loops.rows[loops.code[loop]]
        if not row.lifts:
            self._bring_lifted(drawn)
        through = [p for p, _ in drawn if not self._is_lifted(p)]
        if through:
            self._reach(through[0], loop)
        else:
            self._stand_at(loop)
        if through and (self._begins_round(loop) or self._goes_on(place)):
            self._begin_here()
        return self._worked(place, row, drawn, through, wrapped)

    def _worked(
        self,
        place: int,
        row: Stitch,
        drawn: list[tuple[int, int]],
        through: list[int],
        wrapped: list[int],
    ) -> int:
        loop = self.order[place]
        if len(through) > len(self.left) and self.in_rounds:
            self._begin_here()
        taken = self.left[len(self.left) - len(through) :][::-1]
        if taken != through:
            self._refuse(
                loop,
                f"it is drawn through loops {_listed(through)}, which don't stand together on the "
                "needle",
            )
        lifts = [p for p, _ in drawn if self._is_lifted(p)]
        made = self._group(place, row)
        if lifts and not row.lifts:
            key = "m1l" if row.key == "ktbl" else row.key
            if key not in LIFTED:
                self._refuse(
                    loop,
                    f"it is drawn through the running strand of loop {lifts[0]}, and not as any "
                    "hands work a lifted strand",
                )
            self._do("lift", key=key)
        else:
            self._do("work", key=self._key(made, row, drawn), with_wraps=bool(wrapped))
        del self.left[len(self.left) - len(through) :]
        for stitch in through:
            self.wraps.pop(stitch, None)
        self.right += made
        self.last = made[-1]
        return len(made)

    def _group(self, place: int, row: Stitch) -> list[int]:
        """Return the loops that one stitch makes."""
        loop, loops = self.order[place], self.loops
        made = [loop]
        parents = [p for p, _ in loops.parents.get(loop, ())]
        while len(made) < row.makes and parents:
            after = self.order[place + len(made)] if place + len(made) < len(self.order) else -1
            drawn = [p for p, _ in loops.parents.get(after, ())]
            same = after >= 0 and loops.next[made[-1]] == after and drawn == parents
            if not same:
                break
            made.append(after)
        return made

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

    def _begins_round(self, loop: int) -> bool:
        """Whether the fabric counts a new course here, in the midst of what is a round so far."""
        if not (self.in_rounds and self.right) or self.moves[-1].what != "work":
            return False
        before, course = self.loops.previous[loop], self.loops.course
        return before == self.last and course[loop] == course[before] + 1

    def _begin_here(self) -> None:
        self._step(st.BeginHere())
        self.left = self.right[::-1] + self.left
        self.right = []
        self.round_start = len(self.moves)

    def _goes_on(self, place: int) -> bool:
        """Whether the course that begins here goes on beyond the end of the round."""
        end = place + len(self.left)
        if not (self.in_rounds and self.right) or end >= len(self.order):
            return False
        if self.moves[-1].what != "step" or isinstance(self.moves[-1].step, st.BeginHere):
            return False
        loop, beyond = self.order[place], self.order[end]
        return (
            self.loops.course[loop] == self.loops.course[beyond]
            and self.loops.strand[loop] == self.loops.strand[beyond]
        )

    def _key(self, made: list[int], row: Stitch, drawn: list[tuple[int, int]]) -> str:
        """Return the stitch that lies as these loops do, as the knitter sees it."""
        infos = [
            [
                info
                for p, info in self.loops.parents.get(one, ())
                if (p, info) in drawn or len(made) > 1
            ]
            for one in made
        ]
        if self._fits(row, made, infos):
            return row.key
        for other in self.loops.rows:
            if other.twist == row.twist and self._fits(other, made, infos):
                return other.key
        self._refuse(
            made[0],
            "no stitch of the table lies as it does",
            "add one with StitchTable.with_stitch",
        )
        raise AssertionError

    def _fits(self, row: Stitch, made: list[int], infos: list[list[int]]) -> bool:
        if row.kind not in (Kind.WORKED, Kind.OVER) or row.makes != len(made):
            return False
        width = row.takes + row.lifts
        if row.kind is Kind.OVER:
            return not infos[0]
        if any(len(info) != width for info in infos) or row.key == "pu":
            return False
        for face, info in zip(row.faces, infos, strict=True):
            purl = face == "p"
            for rank, bits in zip(row.stack, info, strict=True):
                seen = rank if self.facing else width - 1 - rank
                if bits & (RANK | BACK) != seen | (BACK if purl == self.facing else 0):
                    return False
        return True

    # Turns ------------------------------------------------------------------------------------

    def _wrap(self, loop: int) -> int:
        key = self.loops.rows[self.loops.code[loop]].key
        if self._faces(loop) != self.facing:
            self._turn()
        self._settle()
        if not self.left:
            self._refuse(loop, "it wraps a stitch, and none is left in this row")
        stitch = self.left[-1]
        self.last = loop
        if key == "wrap":
            self.wraps.setdefault(stitch, []).append(loop)
            self._do("wrap")
            self._turn()
            self.moves.pop()  # the wrap says it already
            self.round_start = len(self.moves)
            return 1
        waiting = self.wraps.get(stitch, [])
        kept = any(self.loops.children.get(wrap) for wrap in waiting)
        self._do("work", key="k" if self.facing else "p", with_wraps=kept)
        self.left.pop()
        self.right.append(loop)
        self._turn()
        self._do("work", key="ds")
        self.left.pop()
        self.right.append(stitch)
        self.wraps.setdefault(stitch, []).append(loop)
        return 1

    # Closings and edges -----------------------------------------------------------------------

    def _pick_up(self, place: int) -> int:
        found = []
        for loop in self.order[place:]:
            edges = self.loops.parents.get(loop, [])
            goes_on = not found or self.loops.next[found[-1]] == loop
            if not goes_on or not any(info & EDGE for _, info in edges):
                break
            if self._faces(loop) != self._faces(self.order[place]):
                break
            found.append(loop)
        if self._faces(found[0]) != self.facing:
            self._turn()
        self._do("pick up", many=len(found))
        self.right += found
        self.last = found[-1]
        return len(found)

    def _bind_off(self, place: int) -> int:
        loops = self.loops
        first = self.order[place]
        if any(info & FACING for _, info in loops.parents.get(first, ())):
            return self._close(place, st.ThreeNeedleBindOff())
        run, taken, how = self._bound_run(place)
        self._reach(taken[0], first)
        if self.left[len(self.left) - len(taken) :][::-1] != taken:
            self._refuse(first, "what is bound off does not stand together on the needle")
        everything = len(taken) == len(self.left) + len(self.right)
        self._step(st.BindOff(None if everything else len(taken) - 1, how))
        self.last = run[-1]
        if everything:
            self._clear()
            return len(run)
        del self.left[len(self.left) - len(taken) :]
        self.right.append(run[-1])
        return len(run)

    def _bound_run(self, place: int) -> tuple[list[int], list[int], str]:
        """Return the loops of a bind-off, the stitches that it takes, and how it is worked."""
        loops, run, how = self.loops, [self.order[place]], "plain"
        taken = [loops.parents[run[0]][0][0]]
        while place + len(run) < len(self.order):
            after = self.order[place + len(run)]
            beyond = (
                self.order[place + len(run) + 1] if place + len(run) + 1 < len(self.order) else -1
            )
            if self._is_chained(after, run[-1]):
                run.append(after)
                taken.append(loops.parents[after][0][0])
            elif beyond >= 0 and self._is_chained(beyond, run[-1]):
                how = "stretchy"
                taken.append(loops.parents[after][0][0])
                run += [after, beyond]
            else:
                break
        return run, taken, how

    def _is_chained(self, loop: int, before: int) -> bool:
        return self.loops.kind[loop] is Kind.BOUND_OFF and any(
            parent == before and info & CHAIN for parent, info in self.loops.parents.get(loop, ())
        )

    def _close(self, place: int, step: st.Step) -> int:
        """Join the two halves of all stitches on the needles."""
        kind = self.loops.kind[self.order[place]]
        run = self._run(place, kind)
        if isinstance(step, st.Graft):
            pairs = [p for loop in run for p, _ in self.loops.parents.get(loop, ())]
            near, far = pairs[0::2], pairs[1::2]
        else:
            drawn = [self.loops.parents[loop] for loop in run]
            far = [p for edges in drawn for p, info in edges if info & FACING]
            near = [p for edges in drawn for p, info in edges if not info & (FACING | CHAIN)]
        if self._slipped_next():
            self._slip(len(self.left), run[0])
        around = [*self.left[::-1], *self.right]
        if not near or around[:1] != near[:1]:
            self._reach(near[0], run[0])
            around = [*self.left[::-1], *self.right]
        half = len(around) // 2
        if around[:half] != near or around[half:][::-1] != far:
            self._refuse(run[0], "what is joined here are not the two halves on the needles")
        self._step(step)
        self.last = run[-1]
        self._clear()
        return len(run)


def _nearest(strands: list[int], beside: list[int], step: int) -> int:
    """Return the strand that was lifted just before or after another, else the first."""
    wanted = beside[0] + step if beside else -1
    return wanted if wanted in strands else strands[0]


def _once(loops: Iterator[int]) -> list[int]:
    return list(dict.fromkeys(loops))


def _listed(loops: list[int]) -> str:
    return " and ".join(map(str, loops))
