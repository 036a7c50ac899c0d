# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A walk as an editor makes it: it goes on where a fabric could not be made.

Where needles were never said to be divided, or markers were placed in words that nobody could
read, a round is taken by what it adds and takes away: the stretches "to end" and "to marker"
take up the rest. What can't be counted at all leaves the walk *blind* until a count is stated.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import inf

import attrs

from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.pattern import _certain_changes as certain
from loopwright.pattern import steps as st
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._gaps_crossed import gap_left_open
from loopwright.pattern._tally import GAP, MARKER, NEEDLE, Tally, Trouble, apart, never, otherwise
from loopwright.pattern._tally import Key as Place
from loopwright.pattern._worked_once import WalkInNumbers
from loopwright.pattern.items import (
    Item,
    Lift,
    On,
    PickUp,
    Repeat,
    Run,
    Stay,
    Turn,
    WrapTurn,
)
from loopwright.pattern.program import Pattern
from loopwright.pattern.stitch_worker import StitchWorker
from loopwright.pattern.values import To, UntilCount, UntilMeasures, Where
from loopwright.plurals import plural

__all__ = ["Claim", "Editor", "Key"]

Key = tuple[int, int]  # line and column of a step


@attrs.frozen
class Claim:
    """Something that a text says besides its instructions, about the step at a place.

    ``kind`` is ``"count"`` (stitches after it), ``"change"`` (by how many they grow), ``"waiting"``
    (left unworked at a turn), ``"sides"`` (plain in the middle, turned on each side) or ``"lost"``
    (something there could not be read).
    """

    kind: str
    values: tuple[tuple[int, ...], ...]  # for each size, the numbers
    line: int
    column: int

    def of(self, size: int) -> tuple[int, ...]:
        """Return the numbers for a size."""
        return self.values[min(size, len(self.values) - 1)]


class Editor(WalkInNumbers):
    """A walk that goes on behind what it can't follow.

    Parameters
    ----------
    pattern : Pattern
        Of one size.
    claims : mapping
        What the text says besides, by the place of the step it belongs to.
    size : int
        Which numbers of the claims are meant.
    """

    def __init__(
        self,
        pattern: Pattern,
        claims: Mapping[Key, tuple[Claim, ...]],
        size: int = 0,
        *,
        free: bool = False,
        stitches: StitchTable = STITCHES,
    ) -> None:
        super().__init__(pattern, StitchWorker(), stitches=stitches)
        self.claims, self.size = claims, size
        self.blind = self.was_blind = False  # now, and behind any of the steps
        self.unsure = False  # a sentence was lost, and no stated count has followed since
        self.doubt = 0  # by how much a stated count exceeds what was worked
        self.sure_of_side = True
        self.free = free or bool(claims)
        self.troubles: list[tuple[st.Step, Trouble]] = []
        self.agreed: set[int] = set()  # how many troubles there were where a stated count came out
        self.open_to_doubt: set[int] = set()  # troubles where no count told yet what is in work
        self.parted = False  # since a stated count came out, stitches were put aside or taken up
        self.astray = False  # a sentence was lost: where markers hang and needles end is not known
        self.moved = False  # since a count was stated, more than whole rounds and rows was worked
        self.forgotten: set[str] = set()  # what waited where a sentence was lost: it may be back
        self._taken: st.Step | None = None  # the step of the pattern in hand, and not one within it
        self.begun = False  # stitches were cast on, or worked
        self._lost_line = 0  # where a sentence was lost last
        self._repeated: st.TextPlace | None = None  # where rounds are told that are being repeated
        self.nameless = False  # rows stand before anything is cast on
        self._noted = False  # words that were kept as text stand before
        self._first_turn: int | None = None  # stitches left at the turn of the row before
        self._turned_both = False
        self._wraps = False  # since the last round, stitches were wrapped at a turn
        self._before = 0  # stitches before the step
        self._seen: set[tuple[int, int, str]] = set()

    def take(self, step: st.Step) -> None:
        """Work a step of the pattern; what can't be worked is kept among ``troubles``."""
        self.step = self._taken = step
        self._unmarked = False
        try:
            self.one(step)
        except Trouble as trouble:
            self.found(trouble)
            self.recover(step)
            self.blind = step.count is None
            self.sure_of_side = self.sure_of_side and not self.free
        else:
            begun = isinstance(step, st.CastOn) and not self._before and not self.unsure
            if step.count is not None or begun:
                self.blind = False
        if isinstance(step, st.RepeatRounds) and isinstance(step.times, UntilCount):
            if step.count is None:  # it goes on until there are so many, and they are there
                self._adopt(int(step.times.count))  # type: ignore[arg-type]
            self.blind = False
        self.was_blind = self.was_blind or self.blind

    def found(self, trouble: Trouble) -> None:
        """Keep a trouble, unless nothing is sure here, or an earlier count may be to blame."""
        assert self.step is not None
        if self.doubt:
            self.doubt, self.blind = 0, True
        repeats = self._repeats_lost() or (
            isinstance(self.step, st.RepeatRounds | st.Part) and trouble.kind == "count"
        )
        lost = self.astray and (trouble.kind in _OF_PLACES or self.moved)
        lost = lost or (self._unmarked and " needs " in trouble.problem)
        if not (self.blind or lost or (self.unsure and repeats)):
            within = self.parted or self.astray or (self.moved and self._ends_in_a_turn)
            if within or trouble.is_at_the_end:
                self.open_to_doubt.add(len(self.troubles))
            self.troubles.append((self.step, trouble))
        elif self.astray and self.step.count is None:
            self.blind = True

    def _found_at(self, step: st.Step, trouble: Trouble) -> None:
        kept, self.step = self.step, step
        self.found(trouble)
        self.step = kept

    def _repeats_lost(self) -> bool:
        """Tell whether rows are repeated of which one could not be read."""
        whole = self._taken
        if not isinstance(whole, st.RepeatRounds) or whole.at is None:
            return False
        first = next(rounds_in(whole.steps)).at
        return first is None or self._lost_line >= first.line or first == whole.at

    def _differs(self, step: st.Step, stated: int, problem: str) -> None:
        """Keep a count that does not follow, and go on with both until the next one tells.

        One slip of the pen is one finding, whether the count was wrong or what was worked.
        """
        now = self.tally.count
        moved = self.moved or not certain.is_whole(step)
        if (self.astray and moved) or (self.unsure and stated > now):
            self._adopt(stated)  # what was lost may have put stitches aside
            return
        if self.doubt and stated == now + self.doubt:
            self._adopt(stated)
            self.doubt = 0
            return
        if self.parted or self.astray:
            self.open_to_doubt.add(len(self.troubles))
        self.troubles.append((step, Trouble("count", problem, off=apart(stated, now))))
        self.doubt = stated - now

    # what may be missing

    def one(self, step: st.Step) -> None:
        if step.at is not None and self.claims:
            said = self.claims.get((step.at.line, step.at.column), ())
            if any(claim.kind == "doubt" for claim in said):
                self.step = step
                self._lose_sight()
        if isinstance(step, st.Note):
            self._noted = True
            self._about(step, self.tally.count)
            return
        if not self.begun and not isinstance(step, st.Section | st.UseYarn):
            self.begun = True
            if self.free and self._noted and not isinstance(step, _CASTS_ON):
                self._lose_sight()  # how many were cast on stands in words that nobody read
                self.nameless = True
        if self.nameless and isinstance(step, _CASTS_ON):  # they told a stitch pattern
            self.nameless = self.blind = self.unsure = self.astray = self.moved = False
        if isinstance(step, st.Join) and self.free and self.tally.in_rounds:
            return  # said in passing: whoever cast on for a round has joined it
        if not isinstance(step, st.Row | st.RepeatRounds | st.OnlySizes):
            self.sure_of_side, self._first_turn = self.sure_of_side and not self.free, None
        before = self._before = self.tally.count
        self.parted = self.parted or isinstance(step, _PARTS)
        if isinstance(step, st.Part) and isinstance(step.items[0], PickUp) and self.free:
            self._as_not_turned()
        if self.free and isinstance(step, st.Part) and step.items == (Stay(),):
            self._as_not_turned(turned=True)
        if not self._is_whole_round(step):
            super().one(step)
        if isinstance(step, st.Part) and isinstance(step.items[-1], Turn | WrapTurn):
            self._turned_both = True  # what it left is not compared
        if isinstance(step, st.BindOff | st.CastOn) and self.free:
            self._opening(bound_off=isinstance(step, st.BindOff))
        if isinstance(step, st.Join) and self.free:
            self.tally.right_side = True  # whoever goes round again has the right side before her
        if not isinstance(step, st.Round | st.Row | st.OnlySizes):
            self._about(step, before)
        whole = certain.is_whole(step)
        if isinstance(step, st.Row) and not whole:  # a turn, with nothing left unworked before it
            whole = not (self.tally.ahead and self.tally.behind)
        elif isinstance(step, st.RepeatRounds) and self.tally.count == before:
            whole = all(certain.is_whole(one) for one in step.steps)
        self.moved = self.moved or (step.count is None and not whole)

    def _is_whole_round(self, step: st.Step) -> bool:
        """Work what takes all stitches from here on, as its stated count tells, and say so."""
        tally = self.tally
        if (
            isinstance(step, st.Part)
            and self.free
            and not tally.has(MARKER)
            and certain.unmarks(step)
        ):
            return True  # where the markers hung was not known any more
        if not (isinstance(step, st.Part) and self.free and tally.behind and tally.ahead):
            return False
        found = certain.change_of(step.items, self.stitches)
        if step.count is None or found != (tally.count, int(step.count) - tally.count):  # type: ignore[arg-type]
            return False
        self._adopt(int(step.count))  # type: ignore[arg-type]
        return True

    def _opening(self, *, bound_off: bool) -> None:
        """Let a round remember where stitches were bound off in it, until others are cast on."""
        tally, key = self.tally, (GAP, _OPENING)
        if bound_off and tally.in_rounds and tally.behind:
            tally.behind_at[key] = tally.behind - 1  # one stitch is worked behind them
        else:
            tally.ahead_at.pop(key, None)
            tally.behind_at.pop(key, None)

    def _check_count(self, step: st.Step) -> None:
        bound_off = isinstance(step, st.BindOff) and not self.tally.count
        if step.count is None or (bound_off and step.count == self._before):
            return None  # none is stated, or so many were bound off
        if step.at is not None:
            said = self.claims.get((step.at.line, step.at.column), ())
            self.blind = self.blind or any(claim.kind == "lost" for claim in said)
        if self.blind:
            return self._hear_count(int(step.count), self.tally.count)  # type: ignore[arg-type]
        try:
            super()._check_count(step)
        except Trouble as trouble:
            self._differs(step, int(step.count), trouble.problem)  # type: ignore[arg-type]
        else:
            self.doubt, self.unsure, self.moved, self.parted = 0, False, False, False
            self.agreed.add(len(self.troubles))

    def _adopt(self, count: int) -> None:
        """Take a stated count for true."""
        tally = self.tally
        if count == tally.count:
            return
        tally.ahead, tally.behind = count, 0
        self.sure_of_side = self.sure_of_side and tally.in_rounds
        tally.ahead_at, tally.behind_at, tally.parts = {}, {}, ()

    def _round(self, step: st.Round) -> None:
        before, tally, self._wraps = self.tally.count, self.tally, False
        if not tally.in_rounds and self.free:
            self._join()
        if self.free and tally.behind and tally.ahead:
            parts = tally.parts
            tally.begin_here()
            tally.parts = parts if any(key[0] == NEEDLE for key in tally.ahead_at) else ()
        if not self._was_worked(step):
            kept = tally.copy() if self._needs_places(step.items) else None
            try:
                super()._round(step)
            except Trouble as trouble:
                open_end = trouble.kind == "count" and certain.ends_within(step.items)
                if kept is None or not (trouble.kind in _OF_SHARES or open_end):
                    raise
                self._loosely(step, kept)
        self._about(step, before)

    def _row(self, step: st.Row) -> None:
        before, tally = self.tally.count, self.tally
        if step.side is not None and not self.sure_of_side:
            turns = not tally.ahead and not (tally.in_rounds and not tally.held)
            faces = tally.right_side != turns
            if (st.Side(step.side) is st.Side.RS) != faces:
                tally.right_side = not tally.right_side
            self.sure_of_side = True
        elif step.side is not None:
            self.sure_of_side = True
        within = tally.ahead and tally.behind and not tally.in_rounds
        turned = any(key[0] == GAP and at == tally.behind for key, at in tally.behind_at.items())
        if self.free and within and not turned:
            tally.ahead, tally.behind = tally.count, 0
            tally.ahead_at, tally.behind_at = {}, {}
        crosses = isinstance(step.items[-1], Turn) and not self.blind
        gap = ""
        if crosses:
            gap = gap_left_open(step.items[:-1], tally, self.stitches, wraps=self._wraps)
        self._wraps = self._wraps or isinstance(step.items[-1], WrapTurn)
        if not self._was_worked(step, step.side):
            kept = tally.copy() if self._needs_places(step.items) else None
            try:
                super()._row(step)
            except Trouble as trouble:
                if kept is None or trouble.kind not in _OF_SHARES:
                    raise
                self._loosely(step, kept)
        self._about(step, before)
        self._mirrored(step)
        if gap:
            self._found_at(step, Trouble("gap", gap))

    def _mirrored(self, step: st.Row) -> None:
        """Compare what the first two short rows leave at either side: a turn is symmetrical."""
        waiting = self.tally.behind if isinstance(step.items[-1], Turn | WrapTurn) else 0
        if not waiting or self.blind:
            self._first_turn, self._turned_both = None, False
            return
        first, self._first_turn = self._first_turn, waiting
        if first is None or self._turned_both:
            return
        self._turned_both = True
        doubled = any(isinstance(item, Run) and item.stitch == "ds" for item in step.items)
        wrapped = isinstance(step.items[-1], WrapTurn) or doubled
        if 0 < abs(first - waiting) < 4 and (first > 2 or wrapped):
            trouble = Trouble(
                "mirror",
                f"{plural(waiting, 'st')} left on this side, {first} on the other: should the two sides mirror each other?",
            )
            self._found_at(step, trouble)

    def _as_not_turned(self, *, turned: bool = False) -> None:
        """Let the row before end without a turn: who picks up has the right side before her.

        Where `turned`, a sentence said so behind the row: "Knit 8 rows. Do not turn."
        """
        tally = self.tally
        if not tally.in_rounds and not tally.behind and (turned or not tally.right_side):
            tally.ahead, tally.behind = 0, tally.ahead
            tally.right_side = not tally.right_side
            tally.ahead_at, tally.behind_at = {}, {}

    def _marker_ahead(self, name: str, part: Place | None) -> int:
        tally, end = self.tally, self._room(part) + self._buffer.taken
        may_end = not name and self.free and tally.in_rounds
        if may_end and not tally.has(MARKER):  # the one at the beginning was never spoken of
            self._unmarked = True
            return end
        try:
            return super()._marker_ahead(name, part)
        except Trouble:
            if not may_end or len(tally.names(MARKER)) != 1:
                raise
            return end

    def _distance(self, to: To, part: Place | None) -> int:
        if to.where is Where.GAP and self.free and certain.is_double(self.step):
            edge = self.tally.next_of(GAP, beyond=self._buffer.taken) is None
            where = Where.END if edge and not self.tally.in_rounds else to.where
            to = attrs.evolve(to, where=where)
        return super()._distance(to, part)

    def _on(self, item: On) -> None:
        alone = self.free and not self.tally.parts and getattr(self.step, "items", 0) == (item,)
        if alone and item.parts and not item.parts[0].startswith("needle "):
            self._items(item.items)
        else:
            super()._on(item)

    def _wrap(self) -> None:
        if self.tally.ahead or not self.free:
            super()._wrap()

    def _repeat_rounds(self, step: st.RepeatRounds) -> None:
        around, self._repeated = self._repeated, step.at or self._repeated
        try:
            super()._repeat_rounds(step)
        except Trouble:
            uneven = [row for row in rounds_in(step.steps) if self._is_uneven(row)]
            if (
                self.free
                and len(uneven) == 1
                and uneven[0].at is not None
                and self.step != uneven[0]
            ):
                rows = list(rounds_in(step.steps))
                if len(rows) > 2 and isinstance(step.times, int):
                    self.step = uneven[0]
                    raise Trouble(
                        "count", "this row changes the count, and no other makes up for it"
                    ) from None
            raise
        finally:
            self._repeated = around

    def _is_uneven(self, row: st.Step) -> bool:
        """Tell whether a repeat in a row takes other stitches than it leaves."""
        for item in getattr(row, "items", ()):
            if isinstance(item, Repeat) and isinstance(item.times, To):
                found = certain.change_of(item.items, self.stitches)
                if found is not None and found[1]:
                    return True
        return False

    def _join(self) -> None:
        tally = self.tally
        for name in [held for held in tally.held if held != "rest"]:  # that is a toe, finished
            tally.ahead += tally.held.pop(name)
        tally.in_rounds = True
        tally.right_side = True
        tally.go_round()

    def _needs_places(self, items: tuple[Item, ...]) -> bool:
        return self.free and any(
            not isinstance(item, Run | Turn | WrapTurn | Stay | PickUp | Lift)
            or (isinstance(item, Run) and isinstance(item.amount, To))
            for item in items
        )

    def _loosely(self, step: st.Round | st.Row, kept: Tally) -> None:
        """Work a round by what it adds and takes away."""
        self.tally, self._buffer = kept, type(self._buffer)()
        found = certain.change_of(step.items, self.stitches)
        tally = self.tally
        if found is None:
            self.blind = True
            found = (0, 0)
        taken, change = found
        if taken > tally.count:
            many = plural(taken, "st")
            said = f"this takes {many} or more, {tally.count} are there"
            raise Trouble("count", said, off=apart(taken, tally.count))
        count = tally.count + change
        tally.ahead_at, tally.behind_at, tally.parts = {}, {}, ()
        if isinstance(step, st.Round):
            tally.ahead, tally.behind = count, 0
            tally.courses += 1
        else:
            tally.ahead, tally.behind = 0, count
            self.sure_of_side = False
            tally.right_side = not tally.right_side
            tally.ahead, tally.behind = count, 0

    def _rounds_for(self, step: st.RepeatRounds, until: UntilMeasures) -> int:
        try:
            return super()._rounds_for(step, until)
        except Trouble:
            if not self.free:
                raise
            return 1

    # what is claimed

    def _about(self, step: st.Step, before: int) -> None:
        """Compare what the text says about a step with what it did."""
        if step.at is None or not self.claims:
            return
        for claim in self.claims.get((step.at.line, step.at.column), ()):
            key = (claim.line, claim.column, claim.kind)
            if key in self._seen or (claim.kind == "change" and isinstance(step, _QUIET)):
                continue
            if claim.kind == "graft" and isinstance(step, _WORKED):
                continue  # "rep these rounds until 16 sts remain, then graft 8 to 8"
            if claim.kind == "missed" and step.at == self._repeated:
                wanted = claim.of(self.size)[0]
                if abs(self.tally.count - wanted) <= abs(before - wanted):
                    continue  # said of all the times, and this one leads nearer
            self._seen.add(key)
            try:
                self._hear(claim, before)
            except Trouble as trouble:
                self._found_at(step, trouble)

    def _lose_sight(self) -> None:
        """Go on behind a sentence that could not be read."""
        if self.step is not None and self.step.at is not None:
            self._lost_line = self.step.at.line
        self.blind = self.unsure = self.astray = True
        self.sure_of_side = False
        self._first_turn = None
        self.forgotten |= {*self.tally.held, *self.tally.waste, *self.tally.opened}

    def _hear_count(self, stated: int, now: int) -> None:
        if self.blind:
            if self.astray and now + sum(self.tally.held.values()) <= stated > now:  # all is back
                self.tally.held.clear()
                self.tally.in_rounds = True
            self._adopt(stated)
            self.blind = self.moved = False
            return
        assert self.step is not None
        if stated == now:
            self.agreed.add(len(self.troubles))
            self.parted = False
        else:
            self._differs(self.step, stated, f"{plural(stated, 'st')} stated; there are {now}")

    @property
    def _ends_in_a_turn(self) -> bool:
        return isinstance(getattr(self.step, "items", (None,))[-1], Turn | WrapTurn)

    def _waiting(self, stated: int) -> int:
        """Return how many stitches the row just worked has left, turned or yet to be turned."""
        return (
            stated if not self._ends_in_a_turn and self.tally.ahead == stated else self.tally.behind
        )

    def _hear_sides(self, middle: int, side: int, now: int, near: float) -> None:
        made = middle + 2 * side
        if not self.blind and 0 < abs(made - now) <= near:
            said = f"{middle} in the middle and {side} on each side are {made}; there are {now}"
            raise Trouble("count", said, off=apart(made, now))

    def _hear(self, claim: Claim, before: int) -> None:
        numbers, now = claim.of(self.size), self.tally.count
        if claim.kind == "lost":
            self._lose_sight()
        elif claim.kind == "loose":
            self.sure_of_side = False
        elif claim.kind in ("missed", "never", "odd") and self.astray:
            self._adopt(numbers[0])
        elif claim.kind == "missed" and now != numbers[0]:  # and no other reading reached it
            self._adopt(numbers[0])
            raise never("going on like this", numbers[0])
        elif claim.kind == "adopt":
            self._adopt(numbers[0])
            self.blind = self.moved = False
        elif claim.kind == "never":
            raise never("working this", numbers[0], " there")
        elif claim.kind == "odd":
            said = f"can't be left in the middle of {now}"
            raise Trouble("count", f"{plural(numbers[0], 'st')} {said}")
        elif claim.kind == "graft":
            if not self.blind and numbers[0] != before:
                said = f"{plural(numbers[0], 'st')} to be joined; there are {before}"
                raise Trouble("halves", said, off=apart(numbers[0], before))
        elif claim.kind == "held":
            held = sum(self.tally.held.values())
            if not self.blind and held and held != numbers[0]:
                raise otherwise(numbers[0], held, f"stated to wait; {held} do")
        elif claim.kind == "freed":
            if numbers[0] not in (numbers[1], 2 * numbers[1]):
                said = f"to be freed; {numbers[1]} hang on the waste yarn"
                raise otherwise(numbers[0], numbers[1], said)
        elif claim.kind == "other":
            if numbers[0] != numbers[1]:
                raise otherwise(numbers[0], numbers[1], f"stated there; there are {numbers[1]}")
        elif claim.kind == "rounds":
            if numbers[0] != numbers[1]:
                raise Trouble(
                    "count", f"{plural(numbers[0], 'round')} stated; this makes {numbers[1]}"
                )
        elif claim.kind == "sides":
            self._hear_sides(numbers[0], numbers[1], now, inf)
        elif claim.kind == "each side":
            self._hear_sides(numbers[0], numbers[1], now, NEAR)
        elif claim.kind == "count":
            self._hear_count(numbers[0], now)
        elif claim.kind == "change" and self._unmarked and not self.blind:
            self._adopt(before + numbers[0])
        elif claim.kind == "change" and not self.blind and now - before != numbers[0]:
            raise Trouble("count", certain.grown_otherwise(numbers[0], now - before))
        elif claim.kind == "waiting" and not self.blind:
            waiting = self._waiting(numbers[0])
            if numbers[0] not in (waiting, *self.tally.held.values()):
                raise otherwise(numbers[0], waiting, f"stated to wait; {waiting} do")


_OF_SHARES = ("place", "order", "needles")  # troubles with how stitches are shared out
_OF_PLACES = ("place", "order", "needles", "mirror", "gap")  # troubles with where things lie
NEAR = 4  # stitches by which a sum misses a count that it is about, and not another
_OPENING = -1  # the number of a gap that no turn left

_CASTS_ON = (st.CastOn, st.ProvisionalCastOn, st.ClosedCastOn)
_PARTS = (st.Hold, st.ReturnHeld, st.WasteRow, st.TakeOut, st.Recapture)
_WORKED = (st.Round, st.Row, st.RepeatRounds, st.Part)
_QUIET = (st.Arrange, st.Hold, st.ReturnHeld, st.Join, st.BeginHere, st.UseYarn)  # change no count
