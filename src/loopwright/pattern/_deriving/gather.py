"""From what the hands did to instructions as a person would write them.

Moves are gathered into rows and rounds. Each can be said in several ways: "k1, ssk, k26, k2tog,
k1", or "k1, ssk, k to last 3 sts, k2tog, k1", or as far as a gap, or on each needle. Rows that can
be said in the same words are repeated, whatever their counts: that is how shaping is found again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from copy import deepcopy
from itertools import groupby, pairwise
from typing import Final, TypeAlias

import attrs

from loopwright.fabric.stitches import StitchTable
from loopwright.pattern import steps as st
from loopwright.pattern._deriving.needles import NeedleMove
from loopwright.pattern._deriving.unpick import Moves
from loopwright.pattern._phrases import PatternWording, Phrase, Token, Wordings, literal
from loopwright.pattern._tally import GAP, Tally
from loopwright.pattern.items import Item, Lift, PickUp, Turn, With, WrapTurn
from loopwright.pattern.program import Pattern
from loopwright.pattern.stitch_worker import StitchWorker
from loopwright.pattern.stripes import Stripes
from loopwright.pattern.walk import Walk

__all__ = ["gather", "literally"]

_LONGEST: Final = 24  # rows in the body of a repeat that is looked for
_EDGE: Final = "edge"  # what picked-up stitches stand along


@attrs.frozen
class Course:
    """One row or round, or a part of one, with what it is worked on.

    Parameters
    ----------
    kind : type
        `Round`, `Row` or `Part`.
    phrase : Phrase
    before, after : int, stitches
        On the needles, all together.
    side : Side or None
    """

    kind: type[st.Round] | type[st.Row] | type[st.Part]
    phrase: Phrase
    before: int
    after: int
    side: st.Side | None = None

    @property
    def is_of_one_yarn(self) -> bool:
        """Whether it is a whole row or round, in the midst of which no yarn changes."""
        changes = any(isinstance(token, With) for token in self.phrase.tokens)
        return self.kind is not st.Part and not changes

    def step(self, items: Sequence[Item]) -> st.Step:
        """Return the step that says it in these items."""
        if self.kind is st.Row:
            return st.Row(items, side=self.side)
        return self.kind(items)


_Entry: TypeAlias = Course | st.Step


def gather(moves: Moves, table: StitchTable, *, plainly: bool = False) -> tuple[st.Step, ...]:
    """Return the steps for these moves.

    Parameters
    ----------
    plainly : bool
        Say every row in numbers, and repeat only what is the same number for number.
    """
    entries: Sequence[_Entry] = _Courses(moves, table).entries
    if not plainly:
        entries = _striped(entries)
    return tuple(_Gatherer(entries, table, plainly=plainly).steps())


def literally(moves: Moves, table: StitchTable) -> tuple[st.Step, ...]:
    """Return steps that say these moves one after another, without rows, rounds or repeats."""
    steps: list[st.Step] = []
    tokens: list[Token] = []

    def put(*end: Item) -> None:
        if tokens or end:
            steps.append(st.Part((*literal(Phrase(tuple(tokens), 0, (), ()), table), *end)))
            tokens.clear()

    for move in moves.moves:
        if move.what == "work":
            tokens.append((move.key, move.with_wraps))
        elif move.what == "turn":
            put(Turn())
        elif move.what == "wrap":
            put(WrapTurn())
        elif move.step is not None:
            put()
            steps.append(move.step)
    put()
    return tuple(steps)


class _Courses:
    """Cuts moves into rows, rounds, parts and steps, counting along."""

    def __init__(self, moves: Moves, table: StitchTable) -> None:
        self.table = table
        self.walk = Walk(Pattern("", ()), StitchWorker(), stitches=table)
        self.tally.right_side = moves.starts_on_right_side
        self.entries: list[_Entry] = []
        self.tokens: list[Token] = []
        self.turn_waits = False
        self._first_side: st.Side | None = (  # of the first row, which tells how the cast-on faced
            st.Side.WS if moves.starts_on_right_side else st.Side.RS
        )
        self._yarn = "main"
        for move in _turned_first(moves.moves):
            self._add(move)
        self._flush(at_end=True)

    @property
    def tally(self) -> Tally:
        return self.walk.tally

    def _add(self, move: NeedleMove) -> None:
        if move.what == "work":
            self.tokens.append((move.key, move.with_wraps))
        elif move.what == "pick up":
            self.tokens.append(PickUp(move.many, _EDGE))
        elif move.what == "lift":
            self.tokens.append(Lift(move.key, move.strand, beyond=move.beyond))
        elif move.what == "turn":
            self._turn()
        elif move.what == "wrap":
            self._row(WrapTurn())
        elif move.what == "round":
            if self.tokens:
                self._course(st.Round, ())
        elif isinstance(move.step, st.UseYarn):
            self._use(move.step)
        else:
            assert move.step is not None
            self._flush()
            self._other(move.step)

    def _use(self, step: st.UseYarn) -> None:
        """Change to a yarn: in the midst of a row by words of that row."""
        if not self.tokens or self._ready(st.Part).ahead == self._taken():
            self._flush()
            self._other(step)
        else:
            if not any(isinstance(token, With) for token in self.tokens):
                self.tokens.insert(0, With(self._yarn))
            self.tokens.append(With(step.name))
        self._yarn = step.name

    def _other(self, step: st.Step) -> None:
        self._turn_now()
        if isinstance(step, st.Join):
            self._first_side = None
        self.walk.one(step)
        if isinstance(step, st.ReturnHeld | st.Recapture | st.BindOff) and self.tally.count:
            step = attrs.evolve(step, count=self.tally.count)
        self.entries.append(step)

    def _flush(self, *, at_end: bool = False) -> None:
        """Write down what was worked in this row before something else comes."""
        if not self.tokens:
            return
        rest = self._ready(st.Part).ahead - self._taken()
        if not rest and self.tally.in_rounds:
            self._course(st.Round, ())
        elif not rest and at_end:
            self._course(st.Row, ())
        else:
            self._course(st.Part, ())

    def _taken(self) -> int:
        return sum(self.table[t[0]].takes for t in self.tokens if isinstance(t, tuple))

    def _turn(self) -> None:
        if not self.tokens:
            self._turn_now()
            in_rounds = self.tally.in_rounds and not self.tally.held
            if self.tally.ahead or in_rounds or not self.tally.behind:
                self._put(st.Part((Turn(),)))
            else:
                self.turn_waits = True
            return
        ready = self._ready(st.Row)
        in_rows = not ready.in_rounds
        self._row(*([] if in_rows and ready.ahead == self._taken() else [Turn()]))

    def _turn_now(self) -> None:
        """Say a turn that no row says by itself."""
        if self.turn_waits:
            self.turn_waits = False
            self._put(st.Part((Turn(),)))

    def _put(self, step: st.Step) -> None:
        self.walk.one(step)
        self.entries.append(step)

    def _row(self, *end: Item) -> None:
        self._course(st.Row, end)

    def _ready(self, kind: type[st.Step]) -> Tally:
        """Return the tally as it will be when the next row or round begins."""
        tally = deepcopy(self.tally)
        if kind is st.Row:
            if tally.in_rounds and tally.held:
                tally.to_rows()
            if not tally.ahead and not tally.in_rounds:
                tally.turn()
        elif self.turn_waits:
            tally.turn()
        tally.go_round()
        return tally

    def _course(
        self, kind: type[st.Round] | type[st.Row] | type[st.Part], end: tuple[Item, ...]
    ) -> None:
        if kind is st.Row and self._first_side is not None:
            if self._ready(st.Row).right_side == (self._first_side is st.Side.RS):
                self._first_side = None
            else:
                kind, end = st.Part, end or (Turn(),)
        if kind is st.Row:
            self.turn_waits = False
        self._turn_now()
        ready = self._ready(kind)
        gaps = sorted(
            ready.ahead - from_end for (what, _), from_end in ready.ahead_at.items() if what == GAP
        )
        whole = kind is not st.Part and not end
        phrase = Phrase(
            tuple(self.tokens), ready.ahead, tuple(gaps), end,
            whole=whole and not ready.behind and ready.right_side and kind is st.Round,
        )  # fmt: skip
        match self.tokens[:1], self.entries[-1:]:
            case [With()], [st.UseYarn()]:
                self.entries.pop()  # the row says it
        before, self.tokens = self.tally.count, []
        side = st.Side.RS if ready.right_side else st.Side.WS
        course = Course(kind, phrase, before, 0, side if kind is st.Row else None)
        self.walk.one(course.step(literal(phrase, self.table)))
        self.entries.append(attrs.evolve(course, after=self.tally.count))


def _turned_first(moves: Sequence[NeedleMove]) -> list[NeedleMove]:
    """Return the moves with a turn before a change of yarn: it ends the row, and makes the same."""
    found = list(moves)
    for at, (one, two) in enumerate(pairwise(moves)):
        if two.what == "turn" and isinstance(one.step, st.UseYarn):
            found[at : at + 2] = two, one
    return found


def _striped(entries: Sequence[_Entry]) -> list[_Entry]:
    """Return the entries with yarns that take turns named once, as a sequence of stripes.

    The rounds between them then follow each other, and their repeats are found as without stripes.
    """
    found: list[_Entry] = []
    place = 0
    while place < len(entries):
        yarns = _yarns_in_turn(entries, place)
        period = _period(yarns)
        if not period:
            found.append(entries[place])
            place += 1
            continue
        bands = [(yarn, len(list(group))) for yarn, group in groupby(yarns[:period])]
        found.append(Stripes(bands))
        rounds = 0
        while rounds < len(yarns):
            entry = entries[place]
            place += 1
            if isinstance(entry, Course):
                found.append(entry)
                rounds += 1
        after = entries[place:]
        more = any(isinstance(one, Course) for one in after)
        if more and not isinstance(after[0], st.UseYarn):
            found.append(st.UseYarn(yarns[-1]))  # stripes end where a yarn is named
    return found


def _yarns_in_turn(entries: Sequence[_Entry], place: int) -> list[str]:
    """Return the yarn of each round from here on, as long as nothing but yarns comes between."""
    yarns: list[str] = []
    if not isinstance(entries[place], st.UseYarn):
        return yarns
    for entry in entries[place:]:
        if isinstance(entry, st.UseYarn):
            yarn = entry.name
        elif isinstance(entry, Course) and entry.is_of_one_yarn:
            yarns.append(yarn)
        else:
            break
    return yarns


def _period(yarns: list[str]) -> int:
    """Return after how many rounds a sequence of stripes begins again; 0 if it is none.

    It comes twice at least, and with several changes: fewer are said one by one. Rounds at the
    end that don't fit it are taken off.
    """
    for period in range(2, len(yarns) // 2 + 1):
        if yarns[0] == yarns[period - 1]:
            continue
        fits = period
        while fits < len(yarns) and yarns[fits] == yarns[fits % period]:
            fits += 1
        if fits >= 2 * period and fits > 4:
            while fits < len(yarns) and fits % period and yarns[fits - 1] == yarns[fits]:
                fits -= 1  # the band that does not fit begins earlier
            del yarns[fits:]
            return period
    return 0


@attrs.frozen
class _Found:
    """Rows that are said in the same words again and again."""

    period: int
    times: int
    ending: int
    wordings: tuple[PatternWording, ...]
    parts: tuple[int, ...]

    @property
    def covers(self) -> int:
        """How many rows it says."""
        return self.period * (self.times - bool(self.ending)) + self.ending

    @property
    def saves(self) -> int:
        """How many rows need not be written."""
        return self.covers - self.period


class _Gatherer:
    """Finds repeats among rows, and writes the steps."""

    def __init__(self, entries: Sequence[_Entry], table: StitchTable, *, plainly: bool) -> None:
        self.entries, self.table, self.plainly = entries, table, plainly
        self.wordings = Wordings(table, plainly=plainly)
        self.parts: tuple[int, ...] = ()

    def steps(self) -> Iterator[st.Step]:
        for is_course, group in groupby(self.entries, key=lambda one: isinstance(one, Course)):
            if is_course:
                yield from self._courses([one for one in group if isinstance(one, Course)])
            else:
                self.parts = ()
                yield from (one for one in group if isinstance(one, st.Step))

    def _courses(self, courses: list[Course]) -> Iterator[st.Step]:
        place = 0
        while place < len(courses):
            found = self._repeat_at(courses, place)
            if found is None:
                yield self._single(courses[place])
                place += 1
                continue
            if found.parts and found.parts != self.parts:
                yield st.Arrange(found.parts)
                self.parts = ()
            stretch = courses[place : place + found.covers]
            yield self._repeated(found, stretch)
            place += found.covers

    def _single(self, course: Course) -> st.Step:
        step = course.step(self.wordings.best(course.phrase))
        return attrs.evolve(step, count=course.after) if course.after != course.before else step

    def _repeated(self, found: _Found, stretch: list[Course]) -> st.Step:
        bodies: list[st.Step] = [
            course.step(wording.items)
            for course, wording in zip(stretch, found.wordings, strict=False)
        ]
        count = stretch[-1].after if stretch[-1].after != stretch[0].before else None
        steps = bodies if found.ending else _shortened(bodies)
        if len(steps) == 1 and isinstance(steps[0], st.RepeatRounds):
            steps = bodies[:1]
        return st.RepeatRounds(steps, found.times, ending=found.ending, count=count)

    def _repeat_at(self, courses: list[Course], place: int) -> _Found | None:
        """Return the repeat that saves most, if there is one here."""
        best: _Found | None = None
        for period in range(1, min(_LONGEST, len(courses) - place - 1) + 1):
            found = self._repeat_of(courses, place, period)
            if found is not None and (best is None or found.saves > best.saves):
                best = found
            if best is not None and best.covers >= len(courses) - place:
                break
        return best

    def _repeat_of(self, courses: list[Course], place: int, period: int) -> _Found | None:
        first = courses[place : place + period]
        if any(course.kind is st.Part for course in first):
            return None
        if len({course.kind for course in first}) > 1:
            return None
        wordings: list[PatternWording] = []
        parts: tuple[int, ...] = ()
        for number, one in enumerate(first):
            again = place + period + number
            two = courses[again] if again < len(courses) else None
            common = self._common(one, two)
            if common is None and number >= _worth(period):
                common = PatternWording(self.wordings.best(one.phrase))
            if common is None or (parts and common.parts and common.parts != parts):
                return None
            wordings.append(common)
            parts = parts or common.parts
        said = period
        while place + said < len(courses) and self._is_said(
            courses[place + said], first[said % period], wordings[said % period]
        ):
            said += 1
        if said < period + _worth(period):
            return None
        times, ending = divmod(said, period)
        return _Found(period, times + bool(ending), ending, tuple(wordings), parts)

    def _common(self, one: Course, two: Course | None) -> PatternWording | None:
        if two is None or one.kind is not two.kind or one.side is not two.side:
            return None
        return self.wordings.common(one.phrase, two.phrase)

    def _is_said(self, course: Course, first: Course, wording: PatternWording) -> bool:
        if course.kind is not first.kind or course.side is not first.side:
            return False
        return self.wordings.says(course.phrase, wording)


def _worth(period: int) -> int:
    """Return how often rows of this period must come again for a repeat to be worth its words."""
    return max(1, period // 2)


def _shortened(bodies: Sequence[st.Step]) -> list[st.Step]:
    """Repeat equal rows that follow each other."""
    short: list[st.Step] = []
    for body, group in groupby(bodies):
        times = len(list(group))
        short.append(body if times == 1 else st.RepeatRounds((body,), times))
    return short
