"""Walk through a pattern, stitch by stitch but without a fabric: what each step works.

The walk turns "to last 3 sts" into numbers, notices what cannot be worked, and hands runs of
stitches to a *worker*. One worker knits them (:mod:`loopwright.pattern._knit`); another does
nothing, for when only the counts matter (:mod:`loopwright.pattern._editing.reviewer`).
"""

from __future__ import annotations

import attrs

from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.pattern import steps as st
from loopwright.pattern._cables import with_defined
from loopwright.pattern._contents import courses_in, rounds_in
from loopwright.pattern._count_changes import change_counts
from loopwright.pattern._facing import faces_after, starts_on_right_side
from loopwright.pattern._item_walk import MAX_REPEATS, Buffer, ItemWalk
from loopwright.pattern._tally import GAP, Tally, Trouble, apart
from loopwright.pattern.items import KNIT, PURL, Item, On, Repeat, Run, Stay, Turn, WrapTurn
from loopwright.pattern.program import Pattern
from loopwright.pattern.stitch_worker import StitchWorker
from loopwright.pattern.values import UntilCount, UntilMeasures, UntilWorked
from loopwright.plurals import plural

__all__ = ["Walk"]


class Walk(ItemWalk):
    """One walk through a pattern of one size.

    Parameters
    ----------
    pattern : Pattern
        Of one size, see :func:`loopwright.pattern.of_size`.
    worker : StitchWorker
    stitches : StitchTable
    """

    def __init__(
        self, pattern: Pattern, worker: StitchWorker, *, stitches: StitchTable = STITCHES
    ) -> None:
        tally = Tally(right_side=starts_on_right_side(pattern))
        super().__init__(worker, tally, with_defined(stitches, pattern.abbreviations))
        self.pattern: Pattern = pattern
        self.step: st.Step | None = None
        self._cast_on_course = 0

    def all(self) -> Tally:
        """Work all steps and return what is on the needles then."""
        for step in self.pattern.steps:
            self.step = step
            self.worker.begin(step)
            self.one(step)
        return self.tally

    def on_needles(self) -> str:
        """Say what is on the needles, the stitches that are counted out taken as worked."""
        return str(self.tally.after(self._buffer.pieces))

    def recover(self, step: st.Step) -> None:
        """Go on behind trouble as if the step had ended as it states."""
        tally, self._buffer = self.tally, Buffer()
        count = step.count if isinstance(step.count, int) else tally.count
        rows = list(rounds_in((step,)))
        if rows:
            at_end = isinstance(rows[0], st.Row)
            tally.ahead, tally.behind = (0, count) if at_end else (count, 0)
            tally.ahead_at, tally.behind_at = {}, {}
            tally.right_side = faces_after(rows[-1], tally.right_side)
        else:
            tally.ahead = max(0, tally.ahead + count - tally.count)

    def one(self, step: st.Step) -> None:
        """Work one step and check the count that it states."""
        if isinstance(step, st.Round):
            self._round(step)
        elif isinstance(step, st.Row):
            self._row(step)
        elif isinstance(step, st.RepeatRounds):
            self._repeat_rounds(step)
        elif isinstance(step, st.Part):
            self._begin()
            self._items(step.items)
            self._flush()
        elif not isinstance(step, st.Section | st.Note):
            self._other(step)
        self.step = step
        self._check_count(step)

    def _check_count(self, step: st.Step) -> None:
        if step.count is not None and step.count != self.tally.count:
            stated, worked = int(step.count), self.tally.count  # type: ignore[arg-type]
            raise Trouble(
                "count",
                f"states {plural(stated, 'st')}; working it leaves {worked}",
                off=apart(stated, worked),
            )

    # rows and rounds

    def _round(self, step: st.Round) -> None:
        self.step = step
        self.worker.row(step)
        self._change_to(self._turns.next_yarn())
        if not self.tally.in_rounds:
            raise Trouble("order", "a round, but the work is not joined: say 'join in the round'")
        self._begin()
        self._items(step.items)
        self._use_up("round")
        self._flush()

    def _use_up(self, what: str) -> None:
        left = self._room()
        if left:
            used = self._used + self._buffer.taken
            whole, over = plural(used + left, "st"), plural(left, be=True)
            raise Trouble(
                "count",
                f"this {what} uses {used} of {whole}; {over} left over",
                stitch=used + 1,
                off=(left, used + left),
            )

    def _row(self, step: st.Row) -> None:
        self.step = step
        self.worker.row(step)
        tally = self.tally
        if tally.in_rounds and tally.held:
            tally.to_rows()
            self.worker.step(st.InRows(), tally)
        if not tally.ahead and not tally.in_rounds:
            self._turn()
        self._change_to(self._turns.next_yarn())
        side = "RS" if tally.right_side else "WS"
        if step.side is not None and st.Side(step.side).value != side:
            raise Trouble(
                "side", f"stated for the {st.Side(step.side).value}, but the {side} faces here"
            )
        self._begin()
        self._items(step.items)
        last = step.items[-1]
        if isinstance(last, Turn | WrapTurn):
            return
        if not (isinstance(last, Stay) and tally.in_rounds):
            self._use_up("row")
        self._flush()
        if not tally.in_rounds:
            tally.courses += 1
        if not isinstance(last, Stay):
            self._turn()

    def _repeat_rounds(self, step: st.RepeatRounds) -> None:
        times = step.times
        if isinstance(times, int) and self._repeat_at_once(step, times):
            return
        if isinstance(times, UntilMeasures):
            times = self._rounds_for(step, times)
        done, most = 0, MAX_REPEATS
        if isinstance(times, UntilWorked):
            most = min(most, self.tally.count + 1)  # each time one more is worked, or none
        while not isinstance(times, int) or done < times:
            done += 1
            if done > most:
                left = ", and sts are left unworked" if isinstance(times, UntilWorked) else ""
                raise Trouble("limit", f"repeated {most} times{left}")
            before = self.tally.count
            last = isinstance(times, int) and done == times
            try:
                if done > 1:
                    self._plain_between(step)
                if self._pass(step, first=done == 1, last=last):
                    return
            except Trouble as trouble:
                raise Trouble(
                    trouble.kind,
                    f"in repeat {done}: {trouble.problem}" if done > 1 else trouble.problem,
                    trouble.column,
                    trouble.stitch,
                    trouble.off,
                ) from None
            self.step = step
            self._must_come_nearer(step, times, before)

    def _pass(self, step: st.RepeatRounds, *, first: bool, last: bool) -> bool:
        """Work the body once; True if it was repeated far enough."""
        until = step.times
        for number, inner in enumerate(step.steps, start=1):
            if first or not isinstance(inner, st.Round | st.Row):
                self.one(inner if first else attrs.evolve(inner, count=None))
            elif isinstance(inner, st.Round):
                self._round(inner)
            else:
                self._row(attrs.evolve(inner, side=None) if step.either_side else inner)
            here = number == (step.ending or len(step.steps))
            if here and isinstance(until, UntilCount) and self.tally.count == until.count:
                return True
            if here and (last or self._is_worked(until)):
                return True
        return self._is_worked(until)

    def _is_worked(self, until: st.Times) -> bool:
        """Tell whether rows that go on until all sts are worked have come to their end."""
        return isinstance(until, UntilWorked) and not self.tally.has(GAP)

    def _plain_between(self, step: st.RepeatRounds) -> None:
        for _ in range(step.every - 1):
            if isinstance(step.steps[0], st.Round):
                self._round(st.Round((KNIT,)))
            else:
                facing = self.tally.right_side == bool(self.tally.ahead)
                self._row(st.Row((KNIT if facing else PURL,)))

    def _must_come_nearer(self, step: st.RepeatRounds, until: st.Times, before: int) -> None:
        if not isinstance(until, UntilCount):
            return
        wanted, now = int(until.count), self.tally.count  # type: ignore[arg-type]
        if before == wanted and step.ending:
            raise Trouble("count", self._reached_elsewhere(step, wanted))
        if now == before:
            never = f"repeating this never leads from {plural(now, 'st')} to {wanted}"
            raise Trouble("count", never, off=apart(wanted, now))
        if abs(now - wanted) >= abs(before - wanted) or (now - wanted) * (before - wanted) < 0:
            missed = f"the count goes from {before} to {now} and misses {wanted}"
            nearest = min(before, now, key=lambda there: abs(there - wanted))
            raise Trouble("count", missed, off=apart(wanted, nearest))

    def _reached_elsewhere(self, step: st.RepeatRounds, wanted: int) -> str:
        """Say behind which row there are so many, where they are to be there behind another."""
        assert step.ending is not None
        many, at_end = len(step.steps), step.ending
        if isinstance(step.steps[-1], st.Row) and (many - at_end) % 2:
            last = "WS" if self.tally.right_side else "RS"  # the work was turned behind it
            other = "RS" if last == "WS" else "WS"
            return f"{plural(wanted, 'st')} are reached with a {last} row, not with a {other} row"
        return f"{plural(wanted, 'st')} are reached with row {many} of these, not with row {at_end}"

    def _repeat_at_once(self, step: st.RepeatRounds, times: int) -> bool:
        """Work the same round many times in one go, where nothing but plain stitches is in it."""
        (once, *others) = step.steps
        steady = (
            times > 1
            and not others
            and step.every == 1
            and not self._turns.sequence
            and isinstance(once, st.Round)
            and self.tally.in_rounds
            and not self.tally.behind
            and all(self._is_steady(item) for item in once.items)
        )
        if not steady:
            return False
        assert isinstance(once, st.Round)
        self.step = once
        self._begin()
        self._items(once.items)
        self._use_up("round")
        keys, self._buffer = self._buffer.keys, Buffer()
        self._spend(len(keys) * times)
        self.worker.rounds(keys, times)
        tally = self.tally
        tally.courses += times
        tally.ahead_at = {key: at for key, at in tally.ahead_at.items() if key[0] != GAP}
        self._check_count(once)
        return True

    def _is_steady(self, item: Item) -> bool:
        if isinstance(item, Run):
            if item.stitch == "ds" or item.with_wraps:
                return False
            row = self.stitches[item.stitch]
            return row.takes == row.leaves == 1
        return isinstance(item, Repeat | On) and all(map(self._is_steady, item.items))

    def _rounds_for(self, step: st.RepeatRounds, until: UntilMeasures) -> int:
        if until.length is None or until.since == "wanted":
            return 1
        gauge = self.pattern.gauge
        if gauge is None:
            raise Trouble("gauge", f"{until.length} can't be counted in rounds without a gauge")
        rounds = until.length.mm() * gauge.courses_per_mm
        if until.since == "cast-on":
            rounds -= self.tally.courses - self._cast_on_course
        each = courses_in(step.steps) + step.every - 1
        times = round(rounds / each)
        if times < 1:
            raise Trouble("gauge", f"the piece measures {until.length} or more already")
        return times

    def _other(self, step: st.Step) -> None:
        """Work a step that is neither row nor round."""
        tally = self.tally
        if isinstance(step, st.CastOn | st.ProvisionalCastOn | st.ClosedCastOn) and not tally.count:
            self._cast_on_course = tally.courses
        if isinstance(step, _TAKES_THE_NEXT) and not tally.ahead and not tally.in_rounds:
            self._turn()  # nobody says so behind the cast-on, or a row that is told in parts
        courses = tally.courses
        self._spend(change_counts(step, tally))
        self._cast_on_course += tally.courses - courses  # joining closes the cast-on: no round yet
        self.worker.step(step, tally)
        self._change_to(self._turns.told(step))


_TAKES_THE_NEXT = (st.BindOff, st.Hold, st.WasteRow)
