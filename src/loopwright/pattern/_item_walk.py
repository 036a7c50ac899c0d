"""Walk through the items of a row: which stitches each of them takes, and where they lie.

Stitches are counted out into a buffer, and handed to the worker as one run when something else
than stitches is done, or when the row is over.
"""

from __future__ import annotations

import attrs

from loopwright.fabric.stitches import StitchTable
from loopwright.pattern._tally import GAP, MARKER, NEEDLE, Key, Piece, Tally, Trouble, apart
from loopwright.pattern._turns import Turns
from loopwright.pattern._words import spelt
from loopwright.pattern.items import (
    Item,
    Lift,
    Mark,
    Marking,
    On,
    PickUp,
    Repeat,
    Run,
    Turn,
    With,
    WorkPanel,
    WrapTurn,
)
from loopwright.pattern.stitch_worker import StitchWorker
from loopwright.pattern.values import To, Where
from loopwright.plurals import plural

__all__ = ["MAX_REPEATS", "MAX_STITCHES", "Buffer", "ItemWalk"]

MAX_STITCHES = 1_000_000  # a sock has ten thousand; beyond this a count was mistyped
MAX_REPEATS = 10_000


@attrs.define
class Buffer:
    """Stitches counted out and not worked yet."""

    keys: tuple[str, ...] = ()
    pieces: list[Piece] = attrs.field(factory=list)
    taken: int = 0
    wraps: bool = False


class ItemWalk:
    """Works the items of one row after another.

    Parameters
    ----------
    worker : StitchWorker
    tally : Tally
        What is on the needles.
    stitches : StitchTable
    """

    def __init__(self, worker: StitchWorker, tally: Tally, stitches: StitchTable) -> None:
        self.worker: StitchWorker = worker
        self.tally: Tally = tally
        self.stitches: StitchTable = stitches
        self.total: int = 0
        self._buffer = Buffer()
        self._budget = self._used = 0
        self._turns = Turns()
        self._sizes: dict[str, tuple[int, int]] = {}  # stitches taken and left, by key

    def _begin(self) -> None:
        self.tally.go_round()
        self._budget, self._used = self.tally.ahead, 0

    def _change_to(self, yarn: str) -> None:
        if yarn:
            self.worker.yarn(yarn)

    def _turn(self) -> None:
        self.worker.turn()
        self.tally.turn()

    def _room(self, part: Key | None = None) -> int:
        if part is None:
            return self._budget - self._used - self._buffer.taken
        return (self.tally.distance(part) or 0) - self._buffer.taken

    def _spend(self, stitches: int) -> None:
        self.total += stitches
        if self.total > MAX_STITCHES:
            raise Trouble("limit", f"more than {MAX_STITCHES} stitches in all")

    def work_what_was_read(self) -> None:
        """Work the stitches before one that can't be worked: they are gathered in runs."""
        self._flush()

    def _flush(self) -> None:
        buffer, self._buffer = self._buffer, Buffer()
        if not buffer.keys:
            return
        self.worker.work(buffer.keys, buffer.wraps)
        self.tally.advance(buffer.pieces)
        self._used += buffer.taken

    def _items(self, items: tuple[Item, ...], part: Key | None = None) -> None:
        for item in items:
            try:
                if type(item) is Run:
                    self._run(item, part)
                else:
                    self._item(item, part)
            except Trouble as trouble:
                if not trouble.column:
                    trouble.column = item.column
                    trouble.stitch = self._used + self._buffer.taken + 1
                raise

    def _item(self, item: Item, part: Key | None) -> None:
        if isinstance(item, Repeat):
            self._repeat(item, part)
        elif isinstance(item, On):
            self._on(item)
        elif isinstance(item, Mark):
            self._flush()
            doing = Marking(item.doing)
            self.tally.mark(doing is Marking.PLACE, doing is Marking.SLIP, item.name)
        elif isinstance(item, With):
            self._flush()
            self.worker.yarn(item.yarn)
        elif isinstance(item, WorkPanel):
            self._items(self._turns.next_round(), part)
        elif isinstance(item, Turn | WrapTurn):
            self._flush()
            if isinstance(item, WrapTurn):
                self._wrap()
            self._turn()
            self._begin()
        elif isinstance(item, PickUp):
            self._flush()
            amount = int(item.amount)  # type: ignore[arg-type]
            self._spend(amount)
            self.worker.pick_up(amount, item.twisted, item.along)
            self.tally.behind += amount
        elif isinstance(item, Lift):
            self._flush()
            with_next = int(item.stitch != "m1l")
            if self._room(part) < with_next:
                raise Trouble("count", "no stitch is left to work the strand with")
            self.worker.lift(item.stitch, item.strand, beyond=item.beyond)
            self.tally.advance([(with_next, 1, 1)])
            self._used += with_next

    def _wrap(self) -> None:
        if not self.tally.ahead:
            raise Trouble("count", "no stitch is left to be wrapped")
        self.worker.wrap()

    def _run(self, run: Run, part: Key | None) -> None:
        stitch, amount = run.stitch, run.amount
        sizes = self._sizes.get(stitch)
        if sizes is None:
            if stitch == "ds":
                self._double_stitch(part)
                return
            sizes = self._look_up(stitch)
        takes, leaves = sizes
        buffer = self._buffer
        if isinstance(amount, To):
            times = self._fits(self._distance(amount, part), takes, stitch)
        else:
            times = int(amount)  # type: ignore[arg-type]
            if times * takes > (room := self._room(part)):
                raise _too_few(stitch, takes, times, room)
        if takes == leaves > 1:
            self.tally.keep_markers_out(takes, times, buffer.taken)
        if run.with_wraps != buffer.wraps and buffer.keys:
            self._flush()
            buffer = self._buffer
        buffer.wraps = run.with_wraps
        if times:
            self._spend(times)
            buffer.keys += (stitch,) * times
            buffer.pieces.append((takes, leaves, times))
            buffer.taken += takes * times

    def _double_stitch(self, part: Key | None) -> None:
        self._flush()
        if self._room(part) < 1:
            raise Trouble("count", "no stitch is left for a double stitch")
        self.worker.double_stitch()
        self.tally.advance([(1, 1, 1)])
        self._used += 1

    def _look_up(self, key: str) -> tuple[int, int]:
        """How many stitches one takes and leaves, remembered."""
        if key not in self._sizes:
            row = self.stitches[key]
            self._sizes[key] = row.takes, row.leaves
        return self._sizes[key]

    def _fits(self, room: int, each: int, what: str) -> int:
        if not each:
            raise Trouble("count", f"{what} takes no stitches and never gets there")
        if room < 0:
            raise Trouble("count", f"the place is {plural(-room, 'st')} behind")
        times, over = divmod(room, each)
        if over:
            found, after = plural(room, "st", be=True), plural(times, "time")
            rest = f"after {after} {plural(over, be=True)} left over"
            raise Trouble("multiple", f"{found} no multiple of {each}: {rest}")
        return times

    def _distance(self, to: To, part: Key | None) -> int:
        """Return how many stitches are to be taken to get there."""
        before = int(to.before)  # type: ignore[arg-type]
        taken = self._buffer.taken
        if to.where is Where.END:
            found: int | None = self._room(part) + taken
        elif to.where is Where.GAP:
            found = self.tally.next_of(GAP, beyond=taken)
            if found is None:
                raise Trouble("place", "there is no gap ahead: no row was turned there")
        else:
            found = self._marker_ahead(to.name, part)
            if before and found == taken and not to.name:  # who stands at one means the next
                found = self.tally.next_of(MARKER, beyond=taken + 1)
                found = self._room(part) + taken if found is None else found
        assert found is not None
        room = found - taken - before
        if room < 0:
            there, stay = plural(found - taken, "st", be=True), plural(before, be=True)
            said = f"only {there} left before it, {stay} to stay"
            raise Trouble("count", said, off=(-room, before))
        return room

    def _marker_ahead(self, name: str, part: Key | None) -> int:
        tally, taken = self.tally, self._buffer.taken
        at_start = tally.in_rounds and not tally.behind and not taken
        found = tally.distance((MARKER, name)) if name else tally.next_of(MARKER, beyond=taken)
        if not name and found == 0 and at_start:  # the marker of the beginning is behind
            found = tally.next_of(MARKER, beyond=1) or 0
        if found is None or found < taken:
            if tally.ends_at_marker(name):
                return self._room(part) + taken
            sought = f"marker {name} is not" if name else "no marker is"
            placed = ", ".join(tally.names(MARKER)) or "none"
            raise Trouble("place", f"{sought} ahead; markers placed: {placed}")
        return self._room(part) if found == 0 and at_start else found

    def _repeat(self, repeat: Repeat, part: Key | None) -> None:
        fixed = self._fixed(repeat.items)
        if fixed is None:
            self._repeat_freely(repeat, part)
            return
        keys, pieces, taken, _ = fixed
        if isinstance(repeat.times, To):
            times = self._fits(self._distance(repeat.times, part), taken, "the repeat")
        else:
            times = int(repeat.times)  # type: ignore[arg-type]
            room = self._room(part)
            if times * taken > room:
                asked = f"{plural(times, 'repeat')} of {plural(taken, 'st')}"
                raise Trouble(
                    "count",
                    f"{asked} need{'s' * (times == 1)} {times * taken}, "
                    f"{plural(room, be=True)} left: they give out in repeat {room // taken + 1}",
                    off=apart(times * taken, room),
                )
        if times * max(len(keys), 1) > MAX_STITCHES:
            raise Trouble("limit", f"more than {MAX_STITCHES} stitches in all")
        if self._buffer.wraps:
            self._flush()
        one = [(1, 1, taken * times)] if self._is_even(pieces) else pieces * times
        self._spend(len(keys) * times)
        self._buffer.keys += keys * times
        self._buffer.pieces += one
        self._buffer.taken += taken * times

    @staticmethod
    def _is_even(pieces: list[Piece]) -> bool:
        return all(takes == leaves == 1 for takes, leaves, _ in pieces)

    def _fixed(
        self, items: tuple[Item, ...]
    ) -> tuple[tuple[str, ...], list[Piece], int, int] | None:
        """Count out items once, if they are the same each time: fixed numbers only."""
        keys: tuple[str, ...] = ()
        pieces: list[Piece] = []
        for item in items:
            if isinstance(item, Run):
                if isinstance(item.amount, To) or item.with_wraps or item.stitch == "ds":
                    return None
                row, times = self.stitches[item.stitch], int(item.amount)  # type: ignore[arg-type]
                if row.is_crossing and self.tally.has(MARKER):  # each is looked at by itself
                    return None
                self._within_limits(times)
                keys += (item.stitch,) * times
                pieces.append((row.takes, row.leaves, times))
            elif isinstance(item, Repeat) and not isinstance(item.times, To):
                inner = self._fixed(item.items)
                if inner is None:
                    return None
                times = int(item.times)  # type: ignore[arg-type]
                self._within_limits(times * max(1, len(inner[0])))
                keys += inner[0] * times
                pieces += inner[1] * times
            else:
                return None
            self._within_limits(len(keys))
        taken = sum(takes * times for takes, _, times in pieces)
        return keys, pieces, taken, sum(leaves * times for _, leaves, times in pieces)

    @staticmethod
    def _within_limits(stitches: int) -> None:
        if stitches > MAX_STITCHES:
            raise Trouble("limit", f"more than {MAX_STITCHES} stitches in all")

    def _repeat_freely(self, repeat: Repeat, part: Key | None) -> None:
        """Repeat items that hold places, markers or turns: each time is worked out by itself."""
        done = 0
        while True:
            if isinstance(repeat.times, To):
                room = self._distance(repeat.times, part)
                if not room:
                    return
            elif done >= int(repeat.times):  # type: ignore[arg-type]
                return
            before = self._used + self._buffer.taken
            self._items(repeat.items, part)
            done += 1
            progress = self._used + self._buffer.taken - before
            if isinstance(repeat.times, To) and progress <= 0:
                raise Trouble("count", "the repeat takes no stitches and never gets there")
            if done > MAX_REPEATS:
                raise Trouble("limit", f"repeated more than {MAX_REPEATS} times")

    def _on(self, item: On) -> None:
        tally = self.tally
        if not tally.parts:
            raise Trouble("order", "no needles are arranged: say how the sts are divided first")
        if not tally.right_side:
            raise Trouble("order", "needles are named in the order of right-side rounds")
        for name in item.parts or tally.parts:
            if name not in tally.parts:
                raise Trouble("place", f"no {name} there; sts lie on: {', '.join(tally.parts)}")
            number = tally.parts.index(name)
            start = 0 if number == 0 else self._room((NEEDLE, number - 1))
            if start or (number == 0 and (self._used or self._buffer.taken)):
                raise Trouble("place", f"the work does not stand at the beginning of {name}")
            end = (NEEDLE, number) if number < len(tally.parts) - 1 else None
            if number and not self._takes(item.items[0]):
                self._next_needle(number + 1)
            self._items(item.items, end)
            if left := self._room(end):
                raise Trouble("count", f"{plural(left, be=True)} left over on {name}")
            if end is not None and not self._takes(item.items[-1]):
                self._next_needle(number + 2)

    def _takes(self, item: Item) -> bool:
        """Tell whether an item surely takes stitches, so that it stands on their needle."""
        return isinstance(item, Run) and self._look_up(item.stitch)[0] > 0

    def _next_needle(self, number: int) -> None:
        self._flush()
        self.tally.next_needle(number)
        self.worker.next_needle(number)


def _too_few(stitch: str, takes: int, times: int, room: int) -> Trouble:
    what = spelt(stitch) + f"{times}" * (takes == 1)
    often = f" {times} times" if takes > 1 < times else ""
    need = f"needs {plural(times * takes, 'st')}{often and ' in all'}"
    problem = f"{what}{often} {need}, {plural(room, be=True)} left"
    return Trouble("count", problem, off=(times * takes - room, times * takes))
