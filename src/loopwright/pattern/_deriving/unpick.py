"""From a fabric to what the hands did: the loops are gone through in the order of their yarn.

The unpicker keeps two needles, as a knitter does: `left` and `right`, each with its point at the
end of the list. For the next loop of the yarn in use it asks where the loops stand that it is drawn
through. Next on the left needle: a stitch. Farther on: those between were slipped, if the yarn or a
neighbour shows it, or held. On a holder: they come back. Nowhere: a running strand was lifted, an
edge picked up, or waste yarn carries it. Whatever fits none of these can't be made by hand in this
order, and the loop is the witness.

It knows nothing of repeats; :mod:`loopwright.pattern._deriving.gather` finds those again.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import attrs
import numpy as np

from loopwright.fabric.columns import (
    BACK,
    CHAIN,
    DRAWN,
    EDGE,
    FACING,
    GONE,
    LEFT_FLANK,
    RANK,
)
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import Kind, Stitch
from loopwright.making import Hand
from loopwright.pattern import steps as st
from loopwright.pattern._deriving.needles import NeedleMove, TwoNeedles
from loopwright.pattern.items import LIFTED

__all__ = ["OFF_THE_NEEDLES", "Moves", "hands_of", "unpick"]

OFF_THE_NEEDLES: Final = (
    "it is picked up from an edge away from the work, which instructions have no words for"
)


@attrs.frozen
class Moves:
    """All that the hands did, and with which side of the cast-on before them."""

    moves: tuple[NeedleMove, ...]
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


class _Unpicker(TwoNeedles):
    """Goes through the loops in the order of making and finds out how each was made."""

    def all(self) -> list[NeedleMove]:
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

    def _slip_what_trails(self) -> None:
        """Slip what stands beside the loop made last, where nothing more is worked there."""
        if not self.left or self.last < 0 or (self.left[-1], self.last) in self.passed:
            return
        if self.loops.is_beside(self.last, self.left[-1]):
            self._slip(1 if self.in_rounds else len(self.left), self.last)

    def _draw_up(self) -> None:
        live = [*self.left, *self.right]
        if live and all(self.loops.flags[loop] & DRAWN for loop in live):
            self._slip_what_trails()
            self._step(st.DrawUp())
            self._clear()

    def _clear(self) -> None:
        self.left, self.right = [], []
        self.wraps.clear()
        self.cut.add(self.strand)
        self.round_start = len(self.moves)

    def _finish(self) -> None:
        self._slip_what_trails()
        for loop in self.fabric.live.tolist():
            if not self._is_live(loop) and self.loops.kind[loop] is Kind.LIFTED:
                self._recapture(loop)
        gone = {self.loops.strand[n] for n, flags in enumerate(self.loops.flags) if flags & GONE}
        for number in sorted(gone - self.opened):
            self._step(st.TakeOut(self.loops.strands[number].name))
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
            same = self.loops.kind[loop] is kind and self.loops.follows(found[-1], loop)
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
        """Whether a whole strand was worked and slid back, to be worked again next."""
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
        name = self.loops.strands[self.loops.strand[run[0]]].name
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

    # Stitches ---------------------------------------------------------------------------------

    def _stitch(self, place: int) -> int:
        loop, loops = self.order[place], self.loops
        parents = loops.parents.get(loop, [])
        wrapped = [parent for parent, _ in parents if loops.kind[parent] is Kind.WRAP]
        drawn = [(p, info) for p, info in parents if loops.kind[p] is not Kind.WRAP]
        row = loops.rows[loops.code[loop]]
        if row.order:
            drawn = self._crossed(place, row)
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

    def _crossed(self, place: int, row: Stitch) -> list[tuple[int, int]]:
        """Return what the loops of a crossing are drawn through, as it stood on the needle."""
        made = self.order[place : place + len(row.order)]
        drawn = [edge for loop in made for edge in self.loops.parents.get(loop, ())]
        joined = all(self.loops.follows(a, b) for a, b in pairwise(made))
        if len(made) != len(drawn) or len(made) < len(row.order) or not joined:
            self._refuse(made[0], f"it begins a crossing ({row.key}) that is not whole")
        return [drawn[row.order.index(at)] for at in range(len(made))]

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
            beside = bool(through) and through[0] in self.loops.beside(lifts[0])
            beyond = bool(through) and drawn[0][0] == through[0]
            strand = "beside" if beside else "across"
            self._do("lift", key=key, strand=strand, beyond=beyond)
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
        if row.order:
            return self.order[place : place + len(row.order)]
        made = [loop]
        parents = [p for p, _ in loops.parents.get(loop, ())]
        while len(made) < row.makes and parents:
            after = self.order[place + len(made)] if place + len(made) < len(self.order) else -1
            drawn = [p for p, _ in loops.parents.get(after, ())]
            same = after >= 0 and loops.follows(made[-1], after) and drawn == parents
            if not same:
                break
            made.append(after)
        return made

    def _begins_round(self, loop: int) -> bool:
        """Whether the fabric counts a new course here, in the midst of what is a round so far."""
        if not (self.in_rounds and self.right) or self.moves[-1].what != "work":
            return False
        since = self.moves[max(0, self.round_start - 1) :]
        if since[0].what == "turn" and all(move.key in ("sl", "slf") for move in since[1:]):
            return False  # it began with the turn
        before, course = self.loops.past(loop, self.loops.previous), self.loops.course
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
        if row.order or self._fits(row, made, infos):
            return row.key  # a crossing is worked as it is called: the surface shows if it is not
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
        if row.kind not in (Kind.WORKED, Kind.OVER) or row.makes != len(made) or row.order:
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
        if not self.left and self.right and not self.in_rounds:
            self._join()
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
        found: list[int] = []
        for loop in self.order[place:]:
            edges = self.loops.parents.get(loop, [])
            goes_on = not found or self.loops.follows(found[-1], loop)
            if not goes_on or not any(info & EDGE for _, info in edges):
                break
            if self._faces(loop) != self._faces(self.order[place]):
                break
            found.append(loop)
        if len(self.left) + len(self.right) < 2:
            self._refuse(found[0], OFF_THE_NEEDLES, "derive what was made before by itself")
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
        if self.in_rounds and len(self.left) < len(taken) <= len(self.left) + len(self.right):
            self._begin_here()
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


def _listed(loops: list[int]) -> str:
    return " and ".join(map(str, loops))
