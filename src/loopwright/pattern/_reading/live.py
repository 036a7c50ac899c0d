"""What is on the needles while a text is being read, for each size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from typing import Protocol

import attrs

from loopwright.errors import SizeError
from loopwright.fabric.stitches import StitchTable
from loopwright.pattern import steps as st
from loopwright.pattern._contents import courses_in, simplified, steps_of_size
from loopwright.pattern._reading.closed_edges import closed_at_edges
from loopwright.pattern._tally import MARKER, Tally, Trouble
from loopwright.pattern._tolerant_walk import Claim, Editor, Key
from loopwright.pattern.items import Item, PickUp, Turn
from loopwright.pattern.program import GaugeLine, Pattern, of_size
from loopwright.pattern.values import Count, Sized

__all__ = ["LastChange", "Live", "between_turns", "meant_first"]


class _Read(Protocol):
    """What was read: a step, which may be put in another's place."""

    step: st.Step


@attrs.frozen
class LastChange:
    """A step that changed how many stitches there are, and when it was worked.

    ``plain`` rounds were worked since; ``period`` is the number of rounds from the change before
    it, None where there is none.
    """

    step: st.Step
    plain: int
    period: int | None = None


@attrs.define
class _Fed:
    """A step that was worked, and how things stood after it."""

    step: st.Step
    tallies: tuple[Tally, ...]
    doubts: tuple[dict[str, bool | int], ...]  # what the editor of each size is not sure of


_DOUBTS = ("blind", "sure_of_side", "doubt", "unsure", "astray", "moved", "nameless")


def _is_on(tally: Tally) -> bool:
    """Tell whether there are live stitches anywhere."""
    return bool(tally.count or tally.held or tally.waste or tally.opened)


@cache
def _names(kind: type) -> tuple[str, ...]:
    """Return the fields of a class that may hold numbers."""
    if issubclass(kind, int | str | float) or not attrs.has(kind):
        return ()
    return tuple(field.name for field in attrs.fields(kind) if field.name not in ("at", "column"))


def _entries(value: object) -> int:
    """Return for how many sizes the fullest value in a step has numbers."""
    if isinstance(value, Sized):
        return len(value.values)
    if isinstance(value, tuple):
        inside = value
    else:
        names = _names(type(value))  # type: ignore[arg-type]  # every class has a hash
        inside = tuple(getattr(value, name) for name in names)
    most = 1
    for one in inside:
        if not isinstance(one, int | str):
            most = max(most, _entries(one))
    return most


class Live:
    """Editors of all sizes, led along the steps that have been read so far.

    Steps are taken in when something is asked, and only those that are new.
    """

    def __init__(self, stitches: StitchTable, claims: dict[Key, tuple[Claim, ...]]) -> None:
        self.stitches, self.claims = stitches, claims
        self.names: tuple[str, ...] = ()
        self.gauge: GaugeLine | None = None
        self._size_count = 0
        self._editors: list[Editor] = []
        self._fed: list[_Fed] = []

    def follow(self, read: Sequence[_Read]) -> None:
        """Work what was read since, from where it was changed.

        What is read is changed from some place to its end, never before it: so the last step that
        is still the one that was worked tells that all before it are.
        """
        same = min(len(self._fed), len(read))
        while same and self._fed[same - 1].step is not read[same - 1].step:
            same -= 1
        sizes = len(self.names) or self._size_count
        if same == len(self._fed) == len(read) and self._editors and sizes == self._size_count:
            return
        new = [one.step for one in read[same:]]
        entries = [_entries(step) for step in new]
        most = max(entries, default=1)
        count = len(self.names) or max(most, self._size_count)
        if count != self._size_count:
            same = min(same, self._last_end())
            self._size_count, self._editors = count, []
        if same < len(self._fed) or not self._editors:
            del self._fed[same:]
            self._restart()
        if len(new) < len(read) - same:
            new = [one.step for one in read[same:]]
            entries = [_entries(step) for step in new]
        for step, many in zip(new, entries, strict=True):
            self._take(step, many)

    @property
    def steps(self) -> list[st.Step]:
        """All that was worked so far."""
        return [one.step for one in self._fed]

    def anew(self) -> Live:
        """Return what is on the needles before anything is read."""
        live = Live(self.stitches, self.claims)
        live.names, live.gauge = self.names, self.gauge
        return live

    def hear_anew(self, place: Key) -> None:
        """Work the last step again, if it stands at a place of which more is said."""
        at = self._fed[-1].step.at if self._fed else None
        if at is not None and (at.line, at.column) == place:
            self._fed.pop()
            self._restart()

    def behind_any(self) -> bool:
        """Tell whether a round or row was begun, in any size."""
        return any(editor.tally.behind for editor in self._editors)

    def marks_ahead(self) -> tuple[tuple[int, ...], tuple[int, ...]] | None:
        """Return the stitches before the first, and behind the last, of two markers ahead."""
        marks = [
            sorted(
                n for (kind, _), n in tally.ahead_at.items() if kind == MARKER and n < tally.ahead
            )
            for tally in self.tallies
        ]
        if not self.sure or not marks or any(len(two) != 2 or not two[0] for two in marks):
            return None
        first = (tally.ahead - two[1] for tally, two in zip(self.tallies, marks, strict=True))
        return tuple(first), tuple(two[0] for two in marks)

    def learn(self, stitches: StitchTable) -> None:
        """Take a table with more stitches."""
        self.stitches = stitches
        for editor in self._editors:
            editor.stitches = stitches

    def _restart(self) -> None:
        names = self.size_names
        self._editors = []
        for size in range(self._size_count):
            whole = Pattern("", (), sizes=(names[size],), gauge=self.gauge)
            editor = Editor(whole, self.claims, size, free=True, stitches=self.stitches)
            if self._fed:
                last = self._fed[-1]
                before = min(size, len(last.tallies) - 1)  # fewer sizes may have been known then
                editor.tally = last.tallies[before].copy()
                for name, value in last.doubts[before].items():
                    setattr(editor, name, value)
                editor.begun = True  # words that follow stand behind the cast-on
            self._editors.append(editor)

    def _last_end(self) -> int:
        """Return after how many steps there was nothing on the needles last, in no size."""
        for steps in range(len(self._fed), 0, -1):
            if not any(map(_is_on, self._fed[steps - 1].tallies)):
                return steps
        return 0

    def _take(self, step: st.Step, entries: int) -> None:
        plain = not isinstance(step, st.RepeatRounds | st.OnlySizes) and entries == 1
        parts = closed_at_edges(step, self.tallies)
        for size, editor in enumerate(self._editors):
            try:
                steps = (step,) if plain else self.of_size(parts, size)
            except SizeError:  # it has no number for this size
                editor.blind, steps = True, ()
            for one in steps:
                try:
                    editor.take(one)
                except Trouble:  # a limit was met on the way to recover
                    editor.blind = True
        tallies = tuple(editor.tally.copy() for editor in self._editors)
        doubts = tuple({name: getattr(e, name) for name in _DOUBTS} for e in self._editors)
        self._fed.append(_Fed(step, tallies, doubts))

    def of_size(self, steps: Sequence[st.Step], size: int) -> tuple[st.Step, ...]:
        """Return steps with the numbers of one size."""
        found = steps_of_size(simplified(steps), size, self.size_names[size])
        return simplified(found)

    @property
    def tallies(self) -> tuple[Tally, ...]:
        """Return what is on the needles in each size."""
        return tuple(editor.tally for editor in self._editors)

    @property
    def sure(self) -> bool:
        """Tell whether the counts are known."""
        return bool(self._editors) and not any(editor.blind for editor in self._editors)

    @property
    def is_free(self) -> bool:
        """Tell whether the counts are known, and all stitches are in work."""
        return self.sure and not self.held()

    @property
    def is_whole_round(self) -> bool:
        """Tell whether the counts are known, and all stitches lie ahead in one round."""
        return self.is_free and self.in_rounds and not self.behind_any()

    @property
    def is_within(self) -> bool:
        """Tell whether a round or row was begun and is not at its end, in any size."""
        return any(tally.behind and tally.ahead for tally in self.tallies)

    @property
    def size_names(self) -> tuple[str, ...]:
        """Names of the sizes, numbers where they have none."""
        return self.names or tuple(str(number) for number in range(1, self._size_count + 1))

    @property
    def in_rounds(self) -> bool:
        """Tell whether the work goes round."""
        return bool(self._editors) and self._editors[0].tally.in_rounds

    def worked_after(self, entry: int) -> tuple[int, ...]:
        """Return how many stitches of the round were worked before those a step cast on."""
        if not 0 < entry < len(self._fed):
            return ()
        return tuple(tally.behind for tally in self._fed[entry - 1].tallies)

    def after(self, steps: int) -> tuple[int, ...]:
        """Return the stitches on the needles after a number of steps, for each size."""
        return tuple(tally.count for tally in self.tallies_after(steps))

    def tallies_after(self, steps: int) -> tuple[Tally, ...]:
        """Return what is on the needles after a number of steps, in each size."""
        return self._fed[steps - 1].tallies if 0 < steps <= len(self._fed) else ()

    def _all(self, values: list[int]) -> Count:
        return values[0] if len(set(values)) == 1 else Sized(tuple(values))

    def last_change(self) -> LastChange | None:
        """Return the step that last changed how many stitches there are, and when it was worked."""
        rounds, found = 0, None
        for at in range(len(self._fed) - 1, 0, -1):
            step = self._fed[at].step
            before, there = self._fed[at - 1].tallies, self._fed[at].tallies
            if [t.count for t in before] == [t.count for t in there]:
                rounds += isinstance(step, st.Part) or courses_in((step,))
            elif isinstance(step, st.CastOn | st.Hold):
                break
            elif found is not None:
                return attrs.evolve(found, period=rounds - found.plain)
            else:
                found = LastChange(step, rounds)
                rounds += 1
        return found

    @property
    def count(self) -> Count:
        """Stitches on the needles."""
        return self._all([tally.count for tally in self.tallies] or [0])

    @property
    def ahead(self) -> Count:
        """Stitches not worked yet in this row or round."""
        return self._all([tally.ahead for tally in self.tallies] or [0])

    @property
    def behind(self) -> Count:
        """Stitches worked in this row or round."""
        return self._all([tally.behind for tally in self.tallies] or [0])

    @property
    def ends_picking_up(self) -> bool:
        """Tell whether stitches were picked up last of all."""
        steps = (fed.step for fed in reversed(self._fed) if not isinstance(fed.step, st.Note))
        last = next(steps, None)
        return isinstance(last, st.Part) and isinstance(last.items[-1], PickUp)

    def last_rows(self, many: int, *, parts: bool = False) -> list[st.Row | st.Round]:
        """Return the rows or rounds that were worked last, as many as there are without a break.

        With `parts`, stitches without a label that end with a turn are rows, too.
        """
        found: list[st.Row | st.Round] = []
        for fed in reversed(self._fed):
            if isinstance(fed.step, st.Note) and found:
                break
            if isinstance(fed.step, st.Row | st.Round):
                found.append(fed.step)
            elif parts and isinstance(fed.step, st.Part) and isinstance(fed.step.items[-1], Turn):
                rows = [st.Row(items) for items in between_turns(fed.step.items) if len(items) > 1]
                found += rows[::-1]
            elif not isinstance(fed.step, st.Note):
                break
            if len(found) >= many:
                break
        return found[:many][::-1]

    def held(self) -> dict[str, Count]:
        """Return what is held, by name."""
        first = self.tallies[0].held if self._editors else {}
        return {
            name: self._all([tally.held.get(name, 0) for tally in self.tallies]) for name in first
        }

    def trial(self, steps: Sequence[st.Step], size: int) -> Editor:
        """Return an editor of one size that has worked some more steps."""
        whole = Pattern("", tuple(steps), sizes=self.size_names)
        editor = Editor(
            Pattern("", (), gauge=self.gauge), {}, size, free=True, stitches=self.stitches
        )
        editor.tally = self._editors[size].tally.copy()
        editor.sure_of_side = self._editors[size].sure_of_side
        editor.begun = bool(self._fed)
        for one in of_size(whole, size).steps:
            editor.take(one)
        return editor


def between_turns(items: Sequence[Item]) -> Iterator[tuple[Item, ...]]:
    """Return the rows that items are, each with the turn at its end.

    Examples
    --------
    >>> from loopwright.pattern.items import Run
    >>> [len(row) for row in between_turns([Run("k"), Turn(), Run("p"), Run("ssp"), Turn()])]
    [2, 3]
    """
    begin = 0
    for at, item in enumerate(items, start=1):
        if isinstance(item, Turn) or at == len(items):
            yield tuple(items[begin:at])
            begin = at


def meant_first(names: list[str], held: dict[str, Count], item: Item) -> list[str]:
    """Put the stitches first, of several that wait, that are as many as are worked next."""
    amount = getattr(item, "amount", None)
    if "neck" not in names:
        return names
    return sorted(names, key=lambda name: held[name] != amount)
