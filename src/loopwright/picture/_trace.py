"""Rows for charts, read off a journal: each stitch, and the wale that it stands in.

Stitches stand in *wales*: a stitch worked into one loop stays in that loop's wale. A decrease keeps
the wale that it leans to and leaves the others empty; an increase goes to an empty wale beside it
or opens a new one. Wales are ordered right to left, as the right side shows them. When the live
stitches no longer follow that order (the round begins anew, held stitches come back), a new *sheet*
begins.
"""

from __future__ import annotations

from itertools import pairwise, takewhile

import attrs

from loopwright.fabric.fabric import Fabric, Strand
from loopwright.fabric.stitches import Lean, Stitch
from loopwright.making import Standing, Work
from loopwright.pattern import BeginHere, Doing, Entry, Knitted, Move, Part, WasteRow

__all__ = ["Spot", "Trace", "WorkedRow", "trace"]

_NEW = {"pu": "pu", "bo": "bo"}  # how a loop that was not worked is shown; others as cast on
_LIFTED = {"m1l": "ktbl"}  # how a lifted strand is worked, where not as the word says
_WORD = {how: word for word, how in _LIFTED.items()}


@attrs.frozen
class Spot:
    """One stitch of a row: where it stands and how it was worked.

    Parameters
    ----------
    wale : int
    stitch : str
        Key of the stitch table.
    extra : str
        ``"wraps"`` for a stitch worked together with its wraps, ``"lifted"`` for one worked
        with a strand that was lifted before it to close a corner, ``"lifted after"`` with one
        behind it, else ``""``.
    yarn : str
    """

    wale: int
    stitch: str
    extra: str = ""
    yarn: str = ""


@attrs.define
class WorkedRow:
    """One row or round as it was worked, in working order.

    Parameters
    ----------
    sheet : int
    section : str
        The heading that it stands under.
    right_side, in_rounds : bool
    before, after : tuple of int
        Wales of the live stitches, right to left, before and after it.
    needles : tuple of int
        Stitches on each needle after it.
    ends : str
        ``""`` at the end of the row or round, ``"turn"``, ``"wrap"`` or ``"part"`` short of it.
    times : int
        How many times over.
    numbered : bool
        Whether the written rounds give it a number.
    """

    sheet: int
    section: str
    right_side: bool
    in_rounds: bool
    before: tuple[int, ...]
    spots: list[Spot] = attrs.field(factory=list)
    after: tuple[int, ...] = ()
    needles: tuple[int, ...] = ()
    ends: str = ""
    times: int = 1
    numbered: bool = True


@attrs.frozen
class Trace:
    """The rows of one size, and the wales of each sheet, right to left."""

    rows: tuple[WorkedRow, ...]
    orders: tuple[tuple[int, ...], ...]


class _Tracer:
    """Follows a journal and writes down its rows."""

    def __init__(self, fabric: Fabric, start: Standing) -> None:
        self.fabric, self.now = fabric, start
        self.stitches = fabric.stitches
        self.lines: list[WorkedRow] = []
        self.heading = ""
        self.numbered = True
        self.orders: list[list[int]] = [[]]  # wales of each sheet, right to left
        self._wale: dict[int, int] = {}
        self._open: WorkedRow | None = None
        self._worked = start  # when the hands last did something
        self._new_wale = 0
        self._last_live: set[int] = set()  # when the last row was closed
        self._over: dict[int, int] = {}  # loops of waste yarn, and those they were knitted into

    # what was done

    def take(self, entry: Entry) -> None:
        """Write down what one step did."""
        self.heading, self.numbered = entry.heading, not isinstance(entry.step, Part)
        self.now = entry.before
        if isinstance(entry.step, BeginHere) and self._open is not None:
            self._close("part")
        if isinstance(entry.step, WasteRow):
            changed = zip(entry.after.live.tolist(), entry.before.live.tolist(), strict=True)
            self._over.update((loop, below) for loop, below in changed if loop != below)
        for move in entry.moves:
            self.now = move.before
            self._move(move)
            self._worked = move.after
        self.now = entry.after

    def _move(self, move: Move) -> None:
        match move.doing:
            case Doing.WORK:
                self._work(move, move.keys, None)
            case Doing.LIFT:
                key = move.keys[0]
                self._work(move, (_LIFTED.get(key, key),), move.before.made - 1)
            case Doing.ROUNDS:
                self._rounds(move)
            case Doing.TURN:
                self._turn(move)
            case Doing.WRAP if self._open is not None:
                self._open.ends = "wrap"
            case Doing.DOUBLE_STITCH:
                self._notice(None)
                line, wale = self._begin(), self._wale[int(self.now.upcoming[0])]
                line.spots.append(Spot(wale, "ds", "", _yarn(move.after.yarn)))
            case Doing.PICK_UP if self._open is not None:
                self.now = move.after
                self._notice(None)

    def _work(self, move: Move, keys: tuple[str, ...], lifted: int | None) -> None:
        self._notice(lifted)
        line, before = self._begin(), move.before
        rows = [self.stitches[key] for key in keys]
        takes, leaves = sum(row.takes for row in rows), sum(row.leaves for row in rows)
        taken = before.upcoming[:takes].tolist()
        forward = before.right_side
        start = before.count - before.left if forward else before.left - takes
        wrapped = before.wrapped if move.with_wraps else frozenset()
        self.now = move.after
        items = self.now.live[start : start + leaves].tolist()
        self._write(line, rows, taken, items if forward else items[::-1], wrapped, lifted)
        if self.now.in_rounds and self.now.course != before.course:
            self._close("")

    def _rounds(self, move: Move) -> None:
        """Write down a round of single stitches that was worked several times over."""
        self._notice(None)
        if self._open is not None:
            self._close("")
        line = self._begin()
        wales = [self._wale[loop] for loop in self.now.live.tolist()]
        self.now = move.after
        self._wale.update(zip(self.now.live.tolist(), wales, strict=True))
        yarn = _yarn(self.now.yarn)
        line.spots = [Spot(w, key, "", yarn) for w, key in zip(wales, move.keys, strict=True)]
        line.times = move.times
        self._close("")

    def _turn(self, move: Move) -> None:
        before, self.now = move.before, move.after
        short = bool(before.left) and not (before.in_rounds and before.left == before.count)
        if self._open is not None:
            self._close(self._open.ends or ("turn" if short or before.in_rounds else ""))

    def finish(self) -> Trace:
        """Close a row that was left half worked, and return all."""
        self._notice(None)
        if self._open is not None:
            self._close("part")
        return Trace(tuple(self.lines), tuple(map(tuple, self.orders)))

    # how it is written down

    def _begin(self) -> WorkedRow:
        if self._open is None:
            self._open = WorkedRow(
                len(self.orders) - 1, self.heading, self.now.right_side, self.now.in_rounds,
                self._live_wales(), numbered=self.numbered,
            )  # fmt: skip
        return self._open

    def _live_wales(self) -> tuple[int, ...]:
        return tuple(self._wale[loop] for loop in self.now.live.tolist() if loop in self._wale)

    def _close(self, ends: str) -> None:
        line, self._open = self._open, None
        assert line is not None
        line.after, line.needles, line.ends = self._live_wales(), self.now.needles, ends
        line.numbered = line.numbered and self.numbered
        if line.spots:
            self.lines.append(line)
            self._last_live = set(self.now.live.tolist())

    def _notice(self, lifted: int | None) -> None:
        """Give wales to live loops that came without being worked here."""
        live = [loop for loop in self.now.live.tolist() if loop != lifted]
        if self._open is not None and self._all_known(live):
            return
        self._stand_on_waste([loop for loop in live if loop not in self._wale])
        known = [loop for loop in live if loop in self._wale]
        # What is on the needles now may have nothing to do with the rows before: a heel is closed
        # and held stitches are back.
        apart = self._open is None and bool(self._last_live) and self._last_live.isdisjoint(live)
        if apart or not self._follows(known):
            if self._open is not None:  # before what came back to the needles did
                now, self.now = self.now, self._worked
                self._close("part")
                self.now = now
            self.orders.append([])
            self._wale = {}
        for place, loop in enumerate(live):
            if loop not in self._wale:
                wale = self._insert(
                    self._wale.get(live[place - 1]) if place else None,
                    next((self._wale[b] for b in live[place + 1 :] if b in self._wale), None),
                )
                self._wale[loop] = wale
                self._write_new(loop, wale)

    def _stand_on_waste(self, new: list[int]) -> None:
        """Leave the loops of a row of waste yarn in the wales that it was knitted into."""
        for loop in new:
            below = self._over.get(loop)
            if below in self._wale:
                self._wale[loop] = self._wale[below]
                self._last_live.add(loop)

    def _all_known(self, live: list[int]) -> bool:
        return all(loop in self._wale for loop in live) and self._follows(live)

    def _write_new(self, loop: int, wale: int) -> None:
        if self._open is not None and self._open.spots:
            key = self.stitches.rows[int(self.fabric.stitch[loop])].key
            shown = _NEW.get(key, "co")
            self._open.spots.append(Spot(wale, shown, "", _yarn(self.now.yarn)))

    def _follows(self, live: list[int]) -> bool:
        place = {wale: at for at, wale in enumerate(self.orders[-1])}
        places = [place.get(self._wale.get(loop, -1), -1) for loop in live]
        return all(a < b for a, b in pairwise(places)) and -1 not in places

    def _insert(self, right: int | None, left: int | None) -> int:
        """Open a wale between two others, or at an end."""
        order = self.orders[-1]
        self._new_wale += 1
        if right is not None:
            place = order.index(right) + 1
        else:
            place = order.index(left) if left is not None else len(order)
        order.insert(place, self._new_wale)
        return self._new_wale

    def _write(
        self,
        line: WorkedRow,
        rows: list[Stitch],
        taken: list[int],
        items: list[int],
        wrapped: frozenset[int],
        lifted: int | None,
    ) -> None:
        at, spans, extras = 0, [], []
        busy = {*self._live_wales(), *(self._wale[loop] for loop in taken if loop != lifted)}
        for row in rows:
            loops = [loop for loop in taken[at : at + row.takes] if loop != lifted]
            spans.append(self._kept(row, [self._wale[loop] for loop in loops], busy))
            extras.append("wraps" if not wrapped.isdisjoint(loops) else "")
            at += row.takes
        keys = [row.key for row in rows]
        if lifted is not None:
            behind = lifted in taken[1:]
            keys = [_WORD.get(keys[0], keys[0])]
            extras = ["lifted after" if behind else "lifted"]
        flat = self._fill([wale for span in spans for wale in span])
        yarn = _yarn(self.now.yarn)
        place = 0
        for key, extra, span in zip(keys, extras, spans, strict=True):
            here = flat[place : place + len(span)]
            line.spots += [
                Spot(wale, key if number == 0 else "", extra, yarn)
                for number, wale in enumerate(here)
            ]
            place += len(span)
        self._wale.update(zip(items, flat, strict=True))

    def _kept(self, row: Stitch, wales: list[int], busy: set[int]) -> list[int | None]:
        """Return the wales that a stitch leaves its loops in; None where one has to be found."""
        if row.leaves >= len(wales):
            more = row.leaves - len(wales)
            # Wales behind it that were left before, by a centred decrease for one, come again.
            behind = min(more, self._left_behind(wales[0], busy)) if wales else 0
            return [*[None] * behind, *wales, *[None] * (more - behind)]
        lean = row.lean
        if lean is Lean.CENTRED:
            return [wales[len(wales) // 2]]
        # Left is the last taken while the right side faces, the first taken on the wrong side.
        return [wales[-1] if (lean is Lean.LEFT) == self._was_right_side else wales[0]]

    def _left_behind(self, wale: int, busy: set[int]) -> int:
        """Return how many wales without a live stitch lie right behind one."""
        order = self.orders[-1]
        place = order.index(wale)
        behind = order[:place][::-1] if self._was_right_side else order[place + 1 :]
        return len(list(takewhile(lambda one: one not in busy, behind)))

    @property
    def _was_right_side(self) -> bool:
        return self._open.right_side if self._open is not None else True

    def _fill(self, flat: list[int | None]) -> list[int]:
        """Find wales for increases: an empty one between the neighbours, or a new one."""
        order, forward = self.orders[-1], self._was_right_side
        living = {wale for wale in flat if wale is not None}
        if None in flat:
            gone = set(self._taken_and_dropped(living))
        filled: list[int] = []
        for number, wale in enumerate(flat):
            if wale is None:
                behind = filled[-1] if filled else self._behind_wale(living)
                ahead = next((w for w in flat[number:] if w is not None), None)
                if ahead is None:
                    ahead = self._ahead_wale()
                right, left = (behind, ahead) if forward else (ahead, behind)
                lo = order.index(right) + 1 if right is not None else 0
                hi = order.index(left) if left is not None else len(order)
                free = [w for w in order[lo:hi] if w in gone and w not in filled]
                nearest = free[:1] if forward else free[-1:]
                wale = nearest[0] if nearest else self._insert(right, left)
            filled.append(wale)
        return filled

    def _taken_and_dropped(self, living: set[int]) -> list[int]:
        """Return the wales that hold no live stitch any more."""
        busy = living | set(self._live_wales())
        return [wale for wale in self.orders[-1] if wale not in busy]

    def _behind_wale(self, living: set[int]) -> int | None:
        wales = [spot.wale for spot in self._open.spots] if self._open is not None else []
        return wales[-1] if wales else None

    def _ahead_wale(self) -> int | None:
        now = self.now
        return self._wale.get(int(now.upcoming[0])) if 0 < now.left < now.count else None


def trace(made: Knitted) -> Trace:
    """Return the rows of what was knitted, as charts show them."""
    tracer = _Tracer(made.fabric, Work().standing())
    for entry in made.journal:
        tracer.take(entry)
    return tracer.finish()


def _yarn(strand: str) -> str:
    """Return the yarn that a strand is of: the knitter sees no numbers."""
    return Strand(strand).yarn
