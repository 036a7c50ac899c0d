"""What the hands may have done, found by trying: each loop is made again on real needles.

Where the unpicker's one reading of the yarn fails, others may fit: the round was joined earlier, a
stitch was slipped at its end, the work was turned twice. Here every way is tried, the shortest
first, and gone back on where the next loop does not come out as it lies. What no way makes within
the tries that are allowed is left to the unpicker's refusal.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from itertools import product
from typing import Final

import attrs
import numpy as np

from loopwright.errors import LoopwrightError
from loopwright.fabric import same_fabric
from loopwright.fabric.columns import (
    CHAIN,
    DRAWN,
    FACING,
    FLOAT,
    FLOAT_FRONT,
    GONE,
    LEFT_FLANK,
    TURNED,
)
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import Kind
from loopwright.making import Hand, Work
from loopwright.pattern import steps as st
from loopwright.pattern._deriving.needles import MadeLoops, NeedleMove
from loopwright.pattern._deriving.unpick import Moves
from loopwright.pattern._step_work import do_step

__all__ = ["retrace"]

_LARGEST: Final = 400  # loops; each is made anew for each try
_TRIES: Final = 2000  # a search
_DEPTHS: Final = (1, 2, 3, 4)  # moves without a loop between two loops, in turn
_SEEN: Final = LEFT_FLANK | TURNED | FLOAT | FLOAT_FRONT


class _Spent(Exception):  # noqa: N818 - ends a search
    """All tries are spent."""


@attrs.define
class _State:
    """Needles in the midst of the work, and what has been done so far."""

    work: Work
    place: int  # in the order of making: the next loop to be made
    loops: tuple[int, ...]  # the fabric's loop for each loop of the work, -1 if not known yet
    moves: tuple[NeedleMove, ...]
    idle: tuple[str, ...] = ()  # what was done since the last loop


def retrace(fabric: Fabric, hand: Hand) -> Moves | None:
    """Return what one hand can have done to make a fabric, None if no way was found.

    What the loops remember of their courses is gone by first, and then left aside.
    """
    if not 0 < len(fabric.ids) <= _LARGEST or not fabric.is_on_spheres:
        return None  # strands that cross are no hands' work: no way would be found
    for by_course, deepest in product((True, False), _DEPTHS):
        with suppress(_Spent):
            return _Retracing(fabric, hand, deepest, by_course=by_course).moves()
    return None


class _Retracing:
    """The search for one fabric and one hand."""

    def __init__(self, fabric: Fabric, hand: Hand, deepest: int, *, by_course: bool) -> None:
        self.fabric, self.hand = fabric, hand
        self.deepest, self.by_course = deepest, by_course
        self.loops = MadeLoops(fabric)
        self.order = self.loops.order
        self.beside = {
            frozenset(pair)
            for pair in zip(fabric.right.tolist(), fabric.left.tolist(), strict=True)
        }
        self.gone = {
            self.loops.strands[self.loops.strand[n]].name
            for n, flags in enumerate(self.loops.flags)
            if flags & GONE
        }
        self.tries = 0
        self.seen: dict[object, int] = {}  # needles come to, after so many idle moves

    def moves(self) -> Moves:
        """Go on until one way has made the whole fabric; `_Spent` if none does."""
        work = Work(hand=self.hand, stitches=self.fabric.stitches)
        work.right_side_facing = self._faces(self.order[0])
        ways = [self._onward(_State(work, 0, (), ()))]
        while ways:
            state = next(ways[-1], None)
            if state is None:
                ways.pop()
            elif state.place < len(self.order):
                ways.append(self._onward(state))
            else:
                for ended in self._endings(state):
                    if self._is_whole(ended.work):
                        return self._with_rounds(ended.moves)
        raise _Spent

    def _is_whole(self, work: Work) -> bool:
        """Whether these needles have made the fabric: first by numbers, then loop by loop."""
        columns, theirs = work.columns, self.fabric
        flags = columns.loops.flags[: columns.loops.size]
        alike = columns.through.size == len(theirs.parent) and len(theirs.right) == (
            columns.beside.size
        )
        for bit in (FLOAT, FLOAT_FRONT, DRAWN):
            mine = np.count_nonzero(flags & bit)
            alike = alike and mine == np.count_nonzero(theirs.flags & bit)
        if not alike:
            return False
        self.tries += 5  # as much time as so many moves
        return same_fabric(theirs, work.fabric())

    def _with_rounds(self, moves: tuple[NeedleMove, ...]) -> Moves:
        """Return the moves with the ends of rounds among them, and cast-ons as one."""
        work = Work(hand=self.hand, stitches=self.fabric.stitches)
        facing = work.right_side_facing = self._faces(self.order[0])
        found: list[NeedleMove] = []
        for move in moves:
            last = found[-1].step if found else None
            if isinstance(move.step, st.CastOn) and isinstance(last, st.CastOn):
                many = _number(last.stitches) + _number(move.step.stitches)
                found[-1] = _step(st.CastOn(many))
            else:
                found.append(move)
            _move(work, move)
            if move.what == "work" and work.in_rounds and len(work.upcoming) == work.count:
                found.append(NeedleMove("round"))
        return Moves(tuple(found), facing)

    def _faces(self, loop: int) -> bool:
        return (not self.loops.flags[loop] & LEFT_FLANK) == (self.hand is Hand.RIGHT)

    # One more loop ----------------------------------------------------------------------------

    def _onward(self, state: _State) -> Iterator[_State]:
        """Yield every state in which the next loop is made as it lies, the shortest way first."""
        for ready in self._readied(state):
            for moves, made in self._ways(ready):
                after = self._done(ready, *moves)
                if after is not None and (found := self._matched(ready, after, made)) is not None:
                    yield found

    def _readied(self, state: _State) -> Iterator[_State]:
        """Yield the state, and those that moves without a loop lead to."""
        level = [state]
        for depth in range(self.deepest + 1):
            yield from level
            if depth < self.deepest:
                level = [after for one in level for after in self._idled(one)]

    def _idled(self, state: _State) -> Iterator[_State]:
        for name, moves in self._idle_moves(state):
            if state.idle and name == state.idle[-1]:
                continue
            after = self._done(state, *moves)
            if after is not None and self._is_new(after, len(state.idle) + 1):
                yield attrs.evolve(after, idle=(*state.idle, name))

    def _is_new(self, state: _State, idle: int) -> bool:
        """Whether needles that stand so were not come to before, or only by more idle moves."""
        how = _stands(state.work)
        if self.seen.get((state.loops, how), idle + 1) <= idle:
            return False
        self.seen[state.loops, how] = idle
        return True

    def _idle_moves(self, state: _State) -> Iterator[tuple[str, tuple[NeedleMove, ...]]]:
        """Yield what can be done without making a loop."""
        work = state.work
        if work.yarn is not None and (work.count or work.held) and "yarn" not in state.idle:
            live = [state.loops[loop] for loop in work.live.tolist()]
            if live and all(self.loops.flags[loop] & DRAWN for loop in live if loop >= 0):
                yield "draw", (_step(st.DrawUp()),)
        strand = self._strand_of_next(state)
        if strand is not None and strand != work.yarn:
            yield "yarn", (_step(st.UseYarn(strand)),)
        if work.count:
            yield "turn", (NeedleMove("turn"),)
            if work.yarn is not None:
                yield from self._slips(state)
            yield (
                ("rows", (_step(st.InRows()),))
                if work.in_rounds
                else (
                    "join",
                    (_step(st.Join()),),
                )
            )
            if work.in_rounds and 0 < len(work.upcoming) < work.count:
                yield "begin", (_step(st.BeginHere()),)
        yield from self._holders(state)

    def _strand_of_next(self, state: _State) -> str | None:
        """Return the yarn of the next loop that is not waste."""
        for loop in self.order[state.place :]:
            if not self.loops.is_waste[loop]:
                return self.loops.strands[self.loops.strand[loop]].name
        return None

    def _slips(self, state: _State) -> Iterator[tuple[str, tuple[NeedleMove, ...]]]:
        ahead = state.work.upcoming.tolist()
        many = {1, len(ahead)}
        if state.place < len(self.order):
            parents = [parent for parent, _ in self.loops.parents.get(self.order[state.place], ())]
            many |= {n for n, loop in enumerate(ahead) if state.loops[loop] in parents[:1] and n}
        for key in ("sl", "slf"):
            for count in sorted(many):
                if count:
                    yield f"{key}{count}", (NeedleMove("work", key),) * count

    def _holders(self, state: _State) -> Iterator[tuple[str, tuple[NeedleMove, ...]]]:
        work = state.work
        for name in work.held:
            for near in (True, False):
                yield "return", (_step(st.ReturnHeld(name, next_to_work=near)),)
        if state.idle[-1:] != ("return",) and len(work.upcoming):
            name = f"part {sum(1 for move in state.moves if isinstance(move.step, st.Hold)) + 1}"
            yield "hold", (_step(st.Hold(len(work.upcoming), name)),)
        for strand in work.strands:
            if strand.name not in self.gone:
                continue
            for corner in ("first", "last"):
                yield "open", (_step(st.Recapture(strand.name, corner)),)

    # Ways to make the next loop ---------------------------------------------------------------

    def _ways(self, state: _State) -> Iterator[tuple[tuple[NeedleMove, ...], int]]:
        """Yield the moves that may make the next loop, and how many loops they make."""
        loop, loops = self.order[state.place], self.loops
        if self._faces(loop) != state.work.right_side_facing:
            return
        if loops.is_waste[loop]:
            yield from self._waste(state.place)
            return
        if state.work.yarn not in (None, loops.strands[loops.strand[loop]].name):
            return
        kind, key = loops.kind[loop], loops.rows[loops.code[loop]].key
        if kind is Kind.CAST_ON:
            yield (_step(st.CastOn(1)),), 1
        elif kind is Kind.CLOSED:
            run = self._run(state.place)
            yield (_step(st.ClosedCastOn(run // 2)),), run
        elif kind is Kind.GRAFTED:
            yield (_step(st.Graft()),), self._run(state.place)
        elif kind is Kind.BOUND_OFF:
            yield from self._bound_off(state)
        elif key == "wrap":
            yield (NeedleMove("wrap"),), 1
        else:
            yield from self._worked(state)

    def _run(self, place: int) -> int:
        """Return how many loops from here on are of one kind and strand."""
        first = self.order[place]
        many = 0
        for loop in self.order[place:]:
            same = self.loops.kind[loop] is self.loops.kind[first]
            if not same or self.loops.strand[loop] != self.loops.strand[first]:
                break
            many += 1
        return many

    def _waste(self, place: int) -> Iterator[tuple[tuple[NeedleMove, ...], int]]:
        run = self._run(place)
        name = self.loops.strands[self.loops.strand[self.order[place]]].name
        if self.loops.kind[self.order[place]] is not Kind.CAST_ON:
            yield (_step(st.WasteRow(run, name)),), run
            return
        above = self.order[place + run : place + 2 * run]
        moves: tuple[NeedleMove, ...] = (_step(st.ProvisionalCastOn(run, name)),)
        if above and self.loops.rows[self.loops.code[above[-1]]].key == "ds":
            moves += (NeedleMove("turn"), NeedleMove("work", "ds"))
        yield moves, 2 * run

    def _worked(self, state: _State) -> Iterator[tuple[tuple[NeedleMove, ...], int]]:
        loop, loops = self.order[state.place], self.loops
        row = loops.rows[loops.code[loop]]
        parents = loops.parents.get(loop, [])
        wraps = any(loops.kind[parent] is Kind.WRAP for parent, _ in parents)
        if row.key == "ds":
            # Of a stitch, with its wraps or without, or of a strand that was just lifted.
            for key, with_wraps in (("k", False), ("k", True), ("m1l", False)):
                work = NeedleMove("work", key, with_wraps)
                yield (work, NeedleMove("turn"), NeedleMove("work", "ds")), 1
            return
        ahead = [state.loops[one] for one in state.work.upcoming[: row.takes].tolist()]
        through = [parent for parent, _ in parents if loops.kind[parent] is not Kind.WRAP]
        if -1 not in ahead and set(ahead) - set(through):
            return
        alike = (
            other
            for other in loops.rows
            if (other.takes, other.makes, other.lifts, other.kind)
            == (row.takes, row.makes, row.lifts, row.kind)
            and other.key not in ("pu", row.key)
        )
        for one in (row, *alike):
            yield (NeedleMove("work", one.key, wraps),), one.makes

    def _bound_off(self, state: _State) -> Iterator[tuple[tuple[NeedleMove, ...], int]]:
        place, loops = state.place, self.loops
        if any(info & FACING for _, info in loops.parents.get(self.order[place], ())):
            yield (_step(st.ThreeNeedleBindOff()),), self._run(place)
            return
        made, many, how = 1, 1, "plain"
        while True:
            for step, name in ((1, "plain"), (2, "stretchy")):
                at = place + made + step - 1
                if at < len(self.order) and self._is_chained(at, place + made - 1):
                    made, many = made + step, many + 1
                    how = name
                    break
            else:
                break
        everything = many == state.work.count
        yield (_step(st.BindOff(None if everything else many - 1, how)),), made

    def _is_chained(self, place: int, before: int) -> bool:
        loop, last = self.order[place], self.order[before]
        return self.loops.kind[loop] is Kind.BOUND_OFF and any(
            parent == last and info & CHAIN for parent, info in self.loops.parents.get(loop, ())
        )

    # Doing and comparing ----------------------------------------------------------------------

    def _done(self, state: _State, *moves: NeedleMove) -> _State | None:
        """Return the state after these moves, None if the hands refuse them."""
        self.tries += 1
        if self.tries > _TRIES:
            raise _Spent
        work = state.work.copy()
        try:
            for move in moves:
                _move(work, move)
        except LoopwrightError:
            return None
        new = work.columns.loops.size - len(state.loops)
        return _State(
            work, state.place, (*state.loops, *[-1] * new), (*state.moves, *moves), state.idle
        )

    def _matched(self, before: _State, after: _State, made: int) -> _State | None:
        """Return the state with the new loops named, None if they don't lie as the fabric's do."""
        code = after.work.columns.loops.stitch
        lifted = after.work.stitches.code("lift")
        known = list(after.loops)
        fresh = [n for n in range(len(before.loops), len(known)) if code[n] != lifted]
        if len(fresh) != made:
            return None
        for loop, mine in zip(self.order[before.place :], fresh, strict=False):
            known[mine] = loop
        if not all(self._lies_alike(after.work, known, mine) for mine in fresh):
            return None
        if not self._stand_alike(after.work, known):
            return None
        found = _State(after.work, before.place + made, tuple(known), after.moves)
        return found if self._is_new(found, 0) else None

    def _lies_alike(self, work: Work, known: list[int], mine: int) -> bool:
        loop, through = known[mine], work.columns.through
        late = int(work.columns.loops.course[mine]) - self.loops.course[loop]
        # What takes no stitch at a round's end belongs to that round, or to the next.
        takes = self.loops.rows[self.loops.code[loop]].takes
        if self.by_course and late and (late != 1 or takes):
            return False
        edges = range(max(0, through.size - 40), through.size)
        drawn = [
            (int(through.parent[n]), int(through.info[n]))
            for n in edges
            if through.child[n] == mine
        ]
        wanted = self.loops.parents.get(loop, [])
        if len(drawn) != len(wanted):
            return False
        by_loop = sorted((known[parent], info) for parent, info in drawn)
        if any(self.loops.is_waste[parent] for parent, _ in wanted):  # how, is forgotten
            return [parent for parent, _ in by_loop] == sorted(parent for parent, _ in wanted)
        if -1 not in (parent for parent, _ in by_loop):
            return by_loop == sorted(wanted)
        for (parent, info), (theirs, bits) in zip(drawn, wanted, strict=True):
            if known[parent] == -1 and self.loops.kind[theirs] is Kind.LIFTED and info == bits:
                known[parent] = theirs
        return sorted((known[parent], info) for parent, info in drawn) == sorted(wanted)

    def _stand_alike(self, work: Work, known: list[int]) -> bool:
        """Whether yarn and neighbours agree, of all loops that have a next one."""
        columns, theirs = work.columns, self.loops
        for mine in range(max(0, len(known) - 60), len(known)):
            loop, after = known[mine], int(columns.loops.next[mine])
            if loop < 0 or after < 0 or known[after] < 0 or theirs.next[loop] != known[after]:
                continue
            if (int(columns.loops.flags[mine]) ^ theirs.flags[loop]) & _SEEN:
                return False
        beside = columns.beside
        for n in range(max(0, beside.size - 20), beside.size):
            pair = known[int(beside.right[n])], known[int(beside.left[n])]
            if -1 not in pair and frozenset(pair) not in self.beside:
                return self._has_waste(pair)
        return True

    def _has_waste(self, pair: tuple[int, int]) -> bool:
        return any(self.loops.is_waste[loop] for loop in pair)

    # The end ----------------------------------------------------------------------------------

    def _endings(self, state: _State) -> Iterator[_State]:
        for ready in self._readied(state):
            ended = self._finished(ready)
            if ended is not None:
                yield ended

    def _finished(self, state: _State) -> _State | None:
        """Return the state with waste taken out, yarns cut and ends woven as the fabric says."""
        work = state.work
        moves: list[NeedleMove] = []
        there = {work.columns.loops.strand[n] for n in range(work.columns.loops.size)
                 if not work.columns.loops.flags[n] & GONE}  # fmt: skip
        names = {work.strands[n].name for n in there}
        moves += [_step(st.TakeOut(name)) for name in sorted(self.gone & names)]
        for strand in self.fabric.strands:
            mine = next((one for one in work.strands if one.name == strand.name), None)
            if mine is not None and strand.cut and not mine.cut:
                moves.append(_step(st.CutYarn("" if mine.name == work.yarn else mine.name)))
        woven = [s for s in self.fabric.strands if s.role != "waste"]
        if woven and all(all(strand.woven) for strand in woven):
            moves.append(_step(st.WeaveIn()))
        return self._done(state, *moves) if moves else state


def _stands(work: Work) -> tuple[object, ...]:
    """Return all that tells how the work can go on from here."""
    columns, line = work.columns, work._line
    return (
        work._seq.tobytes(), work._cursor, work.course, work.in_rounds, work.right_side_facing,
        work._round_over, work._behind, work._last_taken, line and attrs.astuple(line),
        frozenset((name, loops.tobytes()) for name, loops in work._held.items()),
        frozenset((stitch, *wraps) for stitch, wraps in work._wraps.items()),
        frozenset(work._reseated), frozenset(work._pairs), frozenset(work._opened),
        columns.loops.flags[: columns.loops.size].tobytes(),
        columns.loops.next[: columns.loops.size].tobytes(),
    )  # fmt: skip


def _number(value: object) -> int:
    assert isinstance(value, int)
    return value


def _step(step: st.Step) -> NeedleMove:
    return NeedleMove("step", step=step)


def _move(work: Work, move: NeedleMove) -> None:
    """Do one move on these needles."""
    if move.what == "turn":
        work.turn()
    elif move.what == "wrap":
        work.wrap()
        work.turn()
    elif move.key == "ds":
        work.double_stitch()
    elif move.what == "work":
        work.work([move.key], with_wraps=move.with_wraps)
    else:
        assert move.step is not None
        work._held_at.clear()  # no float is made that the way so far does not show
        do_step(move.step, work)
