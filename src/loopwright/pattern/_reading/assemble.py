"""From sentences to steps: rounds are woven, and gathered into the repeats that name them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, TypeAlias

import attrs

from loopwright.errors import PatternSyntaxError
from loopwright.pattern import steps as st
from loopwright.pattern._contents import rewritten, with_fields
from loopwright.pattern._grammar.said import Again, Header, Numbered
from loopwright.pattern._grammar.sentences import Sentence
from loopwright.pattern._grammar.yarn_rules import PanelRound
from loopwright.pattern._reading.yarn_in_hand import with_first_yarn
from loopwright.pattern.items import PURL, On, Turn, check_times
from loopwright.pattern.panels import PanelRounds
from loopwright.pattern.values import Count, Sized, plus, sized, values_of
from loopwright.plurals import plural

__all__ = ["Assembler", "Kept", "fresh", "on_both_sides"]

_YARNS = (st.UseYarn, st.CutYarn)


@attrs.define
class _Entry:
    """A step with the round numbers it had in the text, where it had any."""

    step: st.Step
    span: tuple[int, int] | None = None
    headed: tuple[list[_Entry], _Open] | None = (
        None  # "work the next 2 rnds …": what it was made of
    )


Kept: TypeAlias = tuple[list[_Entry], list[tuple[_Entry, st.Step, tuple[int, int] | None]]]


@attrs.define
class _Open:
    """A header that waits for its rounds."""

    header: Header
    count: Count | None
    at: st.TextPlace
    start: int


class Assembler:
    """Takes sentences in order and gives the steps."""

    entry = _Entry

    def __init__(self) -> None:
        self.entries: list[_Entry] = []
        self.remarks: list[tuple[str, str, st.TextPlace]] = []
        self.scope = 0  # entries before it have numbers of an earlier count
        self.last = 0
        self.kind: type[st.Step] | None = None
        self.woven: dict[int, st.Step] = {}
        self.open: list[_Open] = []  # headers that wait for their rounds, outermost first

    def as_read(self) -> list[st.Step]:
        """Return what was read, as it stands now."""
        return [entry.step for entry in self.entries]

    def kept(self) -> Kept:
        """Return what was read, to come back to it where a sentence turns out to mean nothing."""
        return list(self.entries), [(one, one.step, one.span) for one in self.entries[-8:]]

    def back_to(self, kept: Kept) -> None:
        """Go back to what was read before; the last steps may have been changed since."""
        self.entries[:] = kept[0]
        for entry, step, span in kept[1]:
            entry.step, entry.span = step, span

    def add_plain(self, step: st.Step) -> None:
        """Add a heading or a note."""
        if isinstance(step, st.Section):
            self._close_scope()
        self.entries.append(_Entry(step))

    def add(self, sentence: Sentence, place: st.TextPlace, only: tuple[str, ...]) -> None:
        """Add what a sentence says."""
        says, count = sentence.says, sentence.count
        if only and not (isinstance(says, Header) and isinstance(says.times, Sized)):
            self._add_only(says, count, place, only)  # the others work a repeat 0 times
        elif isinstance(says, Numbered):
            self._add_numbered(says, count, place)
        elif isinstance(says, Again):
            self._again(says, count, place)
        elif isinstance(says, PanelRound):
            self._panel(says, place)
        elif isinstance(says, Header):
            self.open.append(_Open(says, count, place, len(self.entries)))
        elif not self._joins_last(says, count, place):
            self.entries.append(_Entry(_stated(says, count, place)))

    def _panel(self, says: PanelRound, place: st.TextPlace) -> None:
        """Add a round to the panel that is being described, or begin one."""
        tail = self.entries[-1].step if self.entries else None
        told = tail.rounds if isinstance(tail, PanelRounds) and says.number > 1 else ()
        problem = f"this is panel rnd {len(told) + 1}, not {says.number}"
        self._need(says.number == len(told) + 1, place, problem)
        if told:
            self.entries.pop()
        self.entries.append(_Entry(PanelRounds((*told, *says.step.rounds), at=place)))

    def finish(self) -> tuple[st.Step, ...]:
        """Return all steps; an error if a repeat or a list of rounds is incomplete."""
        self._close_scope()
        return tuple(entry.step for entry in self.entries)

    def _need(self, right: bool, place: st.TextPlace | None, problem: str) -> None:
        if not right:
            line, column = (place.line, place.column) if place else (1, 1)
            raise PatternSyntaxError(line, column, problem, ())

    def _close_scope(self) -> None:
        place = self.open[-1].at if self.open else None
        self._need(not self.open, place, "the rounds of this repeat do not follow")
        if self.woven:
            gaps = sorted(set(range(min(self.woven), max(self.woven))) - set(self.woven))
            at = next(iter(self.woven.values())).at
            self._need(False, at, f"nothing is said of round {', '.join(map(str, gaps[:5]))}")
        self.scope, self.last, self.kind = len(self.entries), 0, None

    # rounds and rows

    def _add_only(
        self, says: object, count: Count | None, place: st.TextPlace, only: tuple[str, ...]
    ) -> None:
        if isinstance(says, Numbered):
            step: st.Step = attrs.evolve(says.step, count=count, at=place)
            times = says.times if says.times is not None else max(1, len(says.numbers))
            if times != 1:
                step = st.RepeatRounds(
                    (attrs.evolve(says.step, at=place),), times, count=count, at=place
                )
        else:
            self._need(
                isinstance(says, st.Step), place, "a repeat for some sizes only names no rounds"
            )
            assert isinstance(says, st.Step)
            step = attrs.evolve(says, count=count, at=place)
        self.entries.append(_Entry(st.OnlySizes(only, step, at=place)))

    def _add_numbered(self, says: Numbered, count: Count | None, place: st.TextPlace) -> None:
        if says.times is not None:
            once = attrs.evolve(says.step, at=place)
            self._append(st.RepeatRounds((once,), says.times, count=count, at=place), None)
            return
        step = _stated(says.step, count, place)
        if not says.numbers:
            self._append(step, None)
            return
        first, final = says.numbers[0], says.numbers[-1]
        if self.woven or says.numbers != tuple(range(first, final + 1)):
            self._weave(says, step, place)
            return
        self._start_numbers(type(step), first, place)
        if len(says.numbers) > 1:
            single = with_fields(step, count=None)
            many = st.RepeatRounds(
                (single,), len(says.numbers), count=count, at=place, either_side=True
            )
            self._append(many, (first, final))
        else:
            self._append(step, (first, final))
        self.last = final

    def _start_numbers(self, kind: type[st.Step], first: int, place: st.TextPlace) -> None:
        anew = not self.open or self.open[0].start == len(self.entries)
        if anew and (first <= self.last or kind is not self.kind):
            self.scope, self.last, self.kind = len(self.entries), 0, kind
        if first != self.last + 1:
            self.remarks.append(
                ("numbers", f"expected number {self.last + 1}, found {first}", place)
            )

    def _weave(self, says: Numbered, step: st.Step, place: st.TextPlace) -> None:
        """Collect "rnds 1, 3, 5" and "rnds 2, 4" until no number between them is missing."""
        if not self.woven:
            if self._put_between(says.numbers, step):
                return
            self._start_numbers(type(step), says.numbers[0], place)
        for number in says.numbers:
            self._need(number not in self.woven, place, f"round {number} is described twice")
            self.woven[number] = attrs.evolve(step, count=step.count)
        first, final = min(self.woven), max(self.woven)
        if len(self.woven) == final - first + 1:
            for number in range(first, final + 1):
                self._append(self.woven[number], (number, number))
            self.woven, self.last = {}, final

    def _put_between(self, numbers: tuple[int, ...], step: st.Step) -> bool:
        """Put rows between those told before them, "rows 2, 4 and 6: purl" behind rows 1, 3 and 5;
        tell whether they fit there.
        """
        told = {
            entry.span[0]: at
            for at, entry in enumerate(self.entries)
            if at >= self.scope and entry.span and entry.span[0] == entry.span[1]
        }
        every = sorted({*told, *numbers})
        fits = all(number not in told and number - 1 in told for number in numbers)
        if self.open or not fits or type(step) is not self.kind or numbers[0] > self.last:
            return False
        if every != list(range(every[0], every[-1] + 1)):
            return False
        for number in reversed(numbers):
            entry = _Entry(attrs.evolve(step, count=step.count), (number, number))
            self.entries.insert(told[number - 1] + 1, entry)
        filled = tuple(f"expected number {number}, " for number in numbers)
        self.remarks[:] = [one for one in self.remarks if not one[1].startswith(filled)]
        self.last = every[-1]
        return True

    def _append(self, step: st.Step, span: tuple[int, int] | None) -> None:
        self.entries.append(_Entry(step, span))
        while self.open:
            needed = self.open[-1].header.rounds
            body = self.entries[self.open[-1].start :]
            found = sum(entry.span[1] - entry.span[0] + 1 if entry.span else 1 for entry in body)
            self._need(
                found <= needed,
                step.at,
                f"{plural(needed, 'round', be=True)} to be repeated, not {found}",
            )
            if found < needed:
                return
            self._wrap_headed(self.open.pop())

    def _wrap_headed(self, opened: _Open) -> None:
        header, body = opened.header, self.entries[opened.start :]
        ending = header.ending
        if ending:
            ending = self._ending(body, ending, opened.at)
        step = st.RepeatRounds(
            tuple(entry.step for entry in body), header.times,
            every=header.every, ending=ending, count=opened.count, at=opened.at,
        )  # fmt: skip
        spans = [entry.span for entry in body if entry.span]
        span = (spans[0][0], spans[-1][1]) if spans else None
        del self.entries[opened.start :]
        self.entries.append(_Entry(step, span, (body, opened)))

    # repeats

    def _again(self, says: Again, count: Count | None, place: st.TextPlace) -> None:
        self._need(not self.woven, place, "rounds are still missing before this repeat")
        if not says.numbers:
            start = self._last_rounds(says.last, place)
            rows = [entry.step for entry in self.entries[start:] if not _is_text(entry)]
            many = next((n for n, row in enumerate(rows) if isinstance(row, _YARNS)), len(rows))
            if many < len(rows) and all(isinstance(row, _YARNS) for row in rows[many:]):
                # the yarn was changed behind them: they are worked again in the other
                self._give_copies([fresh(row, place) for row in rows[:many]], says, count, place)
            else:
                self._repeat_from(start, says, count, place)
            return
        numbers = says.numbers
        first, final = numbers[0], numbers[-1]
        self._need(
            numbers == tuple(range(first, final + 1)), place, "repeat rounds that follow each other"
        )
        tail = self.entries[-1] if self.entries else None
        if tail is not None and tail.headed and tail.span and tail.span[0] < first <= tail.span[1]:
            # The repeat is of the last rounds inside: "work the next 2 rnds 0 (1) times: …"
            body, opened = tail.headed
            self.entries[-1:] = body
            self._again(says, count, place)
            self._wrap_headed(opened)
            return
        found = self._find(first, final)
        if found is not None:
            self._repeat_from(found, says, count, place)
        else:
            self._repeat_copies(first, final, says, count, place)

    def _find(self, first: int, final: int) -> int | None:
        """Return where the rounds `first` to `final` begin, if they are the last ones."""
        last = next((entry for entry in reversed(self.entries) if not _is_text(entry)), None)
        if last is None or last.span is None or last.span[1] != final:
            return None
        for place in range(len(self.entries) - 1, self.scope - 1, -1):
            span = self.entries[place].span
            if span is not None and span[0] == first:
                alone = self.entries[place] is last
                return (
                    None
                    if alone and isinstance(self.entries[place].step, st.RepeatRounds)
                    else place
                )
        return None

    def ends_with(self, first: int, final: int) -> bool:
        """Tell whether the rounds `first` to `final` are the last ones, each told once."""
        return self._find(first, final) is not None

    def _last_rounds(self, many: Count, place: st.TextPlace) -> int:
        """Return where as many rounds begin; sizes repeat the same steps, however often each."""
        self._need(min(values_of(many)) > 0, place, "a repeat of no rounds")
        start, left = len(self.entries), [int(value) for value in values_of(many)]
        while any(left):
            start -= 1
            found = sized(
                [all_of - rest for all_of, rest in zip(values_of(many), left, strict=True)]
            )
            said = plural(found, "round") if isinstance(found, int) else f"{found} rounds"
            self._need(start >= 0, place, f"only {said} before this to repeat")
            entry = self.entries[start]
            if _is_text(entry) or isinstance(entry.step, _YARNS):
                continue
            rows = _rows_in(entry.step, len(left))
            if max(rows) > 1 and all(some <= rest for some, rest in zip(rows, left, strict=True)):
                left = [rest - some for some, rest in zip(rows, left, strict=True)]
                continue
            if isinstance(entry.step, st.Part) and isinstance(entry.step.items[-1], Turn):
                row = st.Row(entry.step.items, count=entry.step.count, at=entry.step.at)
                entry = self.entries[start] = _Entry(row)
            single = isinstance(entry.step, st.Round | st.Row) and all(left)
            wanted = plural(many, "round") if isinstance(many, int) else f"{many} rounds"
            self._need(single, place, f"of the last {wanted} only {found} directly before this")
            left = [rest - 1 for rest in left]
        return start

    def _repeat_from(
        self, start: int, says: Again, count: Count | None, place: st.TextPlace
    ) -> None:
        if any(isinstance(entry.step, _YARNS) for entry in self.entries[start:]):
            # The yarn that the first of these rounds was worked in is taken up again, too.
            while start and isinstance(self.entries[start - 1].step, _YARNS):
                start -= 1
        steps = self.as_read()
        self.entries[start].step = with_first_yarn(steps[:start], steps[start:])
        notes = [entry for entry in self.entries[start:] if _is_text(entry)]
        body = [entry for entry in self.entries[start:] if not _is_text(entry)]
        ending = self._ending(body, says.ending, place) if says.ending else 0
        if says.times == 1 and not ending:
            if count is not None:
                body[-1].step = attrs.evolve(body[-1].step, count=count)
            return  # they stand here once
        spans = [entry.span for entry in body if not isinstance(entry.step, _YARNS)]
        begin, end = spans[0], spans[-1]
        alone = len(spans) == 1 and begin is not None and begin[0] == begin[1]
        if begin != (1, 1) and getattr(body[0].step, "items", ()) == (PURL,):
            alone = False  # a purl row goes with a knit row
        step = st.RepeatRounds(
            tuple(entry.step for entry in body), says.times, every=says.every, ending=ending,
            vague=says.vague, count=count, at=place, either_side=alone,
        )  # fmt: skip
        span = (begin[0], end[1]) if begin is not None and end is not None else None
        self.entries[start:] = [*notes, _Entry(step, span)]

    def _repeat_copies(
        self, first: int, final: int, says: Again, count: Count | None, place: st.TextPlace
    ) -> None:
        """Work rounds again that were written earlier: they stand here a second time."""
        copies: list[st.Step] = []
        wanted = first
        for entry in self.entries[self.scope :]:
            if entry.span is not None and entry.span[0] == wanted and entry.span[1] <= final:
                copies.append(fresh(entry.step, place))
                wanted = entry.span[1] + 1
        self._need(
            wanted == final + 1 and copies != [], place,
            f"there are no rounds {first} to {final} under this heading to repeat",
        )  # fmt: skip
        self._give_copies(copies, says, count, place)

    def _give_copies(
        self, copies: list[st.Step], says: Again, count: Count | None, place: st.TextPlace
    ) -> None:
        times = says.times
        if isinstance(times, int | Sized):
            smallest = min(times.values) if isinstance(times, Sized) else times
            self._need(
                smallest > 0, place, "a round that was worked can't be worked 0 times in all"
            )
            times = plus(times, -1)
        self._need(not says.ending, place, "'ending with' needs its rounds directly before")
        if len(copies) == 1 and isinstance(copies[0], st.RepeatRounds):
            copies = list(copies[0].steps)
        if says.every == 1:
            copies = on_both_sides(copies, times)
        step = st.RepeatRounds(
            tuple(copies), times, every=says.every, vague=says.vague, count=count, at=place
        )
        if times == 1 and says.every == 1:
            copies[-1] = attrs.evolve(copies[-1], count=count)
            self.entries.extend(_Entry(copy) for copy in copies)
        else:
            self.entries.append(_Entry(step))

    def _ending(self, body: list[_Entry], number: int, place: st.TextPlace) -> int:
        for position, entry in enumerate(body, start=1):
            if entry.span is not None and entry.span[1] == number:
                return 0 if position == len(body) else position
        self._need(False, place, f"round {number} is not one of those repeated")
        raise AssertionError

    # sentences that belong to the one before

    def _joins_last(self, says: st.Step, count: Count | None, place: st.TextPlace) -> bool:
        """Join "Needle 2: …" to its round, and "Turn." to its row."""
        tail = self.entries[-1].step if self.entries else None
        if not isinstance(says, st.Part) or tail is None or tail.count is not None:
            return False
        if isinstance(tail, st.Round):
            fits = all(isinstance(item, On) for item in (*tail.items, *says.items))
        elif isinstance(tail, st.Row):
            same_line = tail.at is not None and tail.at.line == place.line
            fits = says.items == (Turn(),) and same_line and not tail.is_turned
        else:
            return False
        if fits:
            items = (*tail.items, *says.items)
            self.entries[-1].step = attrs.evolve(tail, items=items, count=count)
        return fits


def _stated(step: st.Step, count: Count | None, place: st.TextPlace) -> st.Step:
    """Put in what a sentence states of the count after its step, and where it stands."""
    if count is not None:
        check_times(f"{type(step).__name__}, count", count)
    return with_fields(step, count=count, at=place)


def _rows_in(step: st.Step, sizes: int) -> list[int]:
    """Return how many rows a repeat of single rows makes, by size; 0 for other steps."""
    none = [0] * sizes
    if not isinstance(step, st.RepeatRounds) or step.ending or step.every != 1:
        return none
    times = (
        [int(many) for many in values_of(step.times)] if isinstance(step.times, int | Sized) else []
    )
    single = all(isinstance(row, st.Round | st.Row) for row in step.steps)
    if not single or len(times) not in (1, sizes):
        return none
    return [many * len(step.steps) for many in times] * (sizes // len(times))


def _is_text(entry: _Entry) -> bool:
    """Tell whether an entry is a remark, which stands between rounds without parting them."""
    return isinstance(entry.step, st.Note)


def on_both_sides(steps: Sequence[st.Step], times: st.Times) -> list[st.Step]:
    """Return rows that are repeated; one that is so alone, without the side of its first time."""
    most = max(values_of(times)) if isinstance(times, int | Sized) else 2
    if len(steps) == 1 and isinstance(row := steps[0], st.Row) and most > 1:
        return [attrs.evolve(row, side=None)]
    return list(steps)


def fresh(step: st.Step, place: st.TextPlace) -> st.Step:
    """Return a step as it is worked again at another place: what was stated there holds no more."""

    def anew(thing: Any) -> Any:
        return attrs.evolve(thing, count=None, at=place) if isinstance(thing, st.Step) else thing

    fresh: st.Step = rewritten(step, anew)
    return fresh
