# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The scribe: takes what sentences mean in their context, and has it put into steps.

A sentence seldom says all: "work even" needs the pattern in work, "rep these 2 rows" the rows,
"over the next 32 sts" what is on the needles. The scribe keeps that context.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Any, TypeAlias

import attrs

from loopwright.errors import PatternSyntaxError, SizeError, StepError
from loopwright.fabric.stitches import StitchTable
from loopwright.pattern import steps as st
from loopwright.pattern._contents import rounds_in, with_fields
from loopwright.pattern._grammar.said import Again, Header, Numbered, Remark
from loopwright.pattern._grammar.sentences import Sentence, sentence_in
from loopwright.pattern._grammar.yarn_rules import PanelRound
from loopwright.pattern._parts import part_named
from loopwright.pattern._reading.assemble import Assembler
from loopwright.pattern._reading.before_giving import (
    along_strip,
    amid_needle,
    held_first,
    lacks_needles,
    taken_by,
    turned_once,
    without_idle_words,
)
from loopwright.pattern._reading.context import Context
from loopwright.pattern._reading.ends import ended_within, may_end_within
from loopwright.pattern._reading.labels import row_name
from loopwright.pattern._reading.lines import Line
from loopwright.pattern._reading.live import Live, meant_first
from loopwright.pattern._reading.stated import for_sizes
from loopwright.pattern._reading.yarn_in_hand import yarn_in_hand
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.wordings import OwnWording, rewordings
from loopwright.pattern._tolerant_walk import Claim, Key
from loopwright.pattern.items import KNIT, PURL, Item, On, PickUp, Repeat, Run, Turn, WrapTurn
from loopwright.pattern.values import Count, Sized, To, UntilCount, UntilWorked, sized, values_of

__all__ = ["Lost", "Says", "Scribe", "made"]

Says: TypeAlias = st.Step | Numbered | Again | Header | PanelRound


MAX_WORDED = 800  # characters
_CONTRADICTS = re.compile(r" in all, not |needles are named and|is too large|nested more than")


class Lost(Exception):  # noqa: N818 - never reaches a user
    """A sentence that means nothing here."""


class Scribe:
    """Keeps the context of a text, and gives what it takes to the assembler."""

    def __init__(self, table: StitchTable, wordings: Sequence[OwnWording]) -> None:
        self.table = table
        self._words = rewordings(wordings)
        self.defined: tuple[re.Pattern[str], ...] = ()  # what the text calls crossings
        self.meanings: tuple[str, ...] = ()  # their keys
        self.assembler = Assembler()
        self.claims: dict[Key, tuple[Claim, ...]] = {}
        self.live = Live(table, self.claims)
        self.remarks: list[tuple[Remark, st.TextPlace]] = []
        self.context = Context()
        self.place = st.TextPlace(1, 1)
        self.start = 0  # where the sentence begins in its line
        self.first_line = 1  # of the logical line that is being read
        self.only: tuple[str, ...] = ()
        self.refusal: PatternSyntaxError | None = None  # why a sentence was refused, if on purpose
        self.picked = False  # whether stitches were picked up since the work last went round
        self.after: Count | None = None  # stitches that a rule says there are behind its steps
        self.stated: Count | None = None  # the count at the end of the sentence in hand
        self.following = ""  # the sentence behind the one in hand, on the same line
        self.next_line = ""
        self.ignored = False  # whether the count in hand is of something that is yet to be parted
        self.loose = False  # whether anything was read by meaning
        self.unlabelled: list[tuple[list[st.Step], st.Part]] = []  # each with all before it

    # what is there

    def now(self) -> Live:
        """Return what is on the needles at this point."""
        self.live.follow(self.assembler.entries)
        return self.live

    @property
    def course(self) -> str:
        """``"RND"`` or ``"ROW"``: how the work goes here."""
        if self.context.course:
            return self.context.course
        return "RND" if self.now().in_rounds else "ROW"

    # reading words

    def stand_at(self, line: Line, start: int) -> st.TextPlace:
        """Go to where a sentence begins in its line; return that place."""
        self.place, self.start = line.place(start), start
        return self.place

    def parsed(self, said: MappedText, prefix: str = "") -> Sentence | None:
        """Return what a sentence says in the language itself, or in the words of the table."""
        self.refusal, whole = None, said
        said = self.as_called(said)
        for text in (said, None):
            if text is None:
                if len(said.text) > MAX_WORDED:
                    return None
                text = self.worded(said)
                if text.text == said.text:
                    return None
            found = sentence_in(prefix + text.text.strip(), self.table)
            if isinstance(found, PatternSyntaxError) and _CONTRADICTS.search(found.found):
                self.refusal = found
                return None
            if not isinstance(found, Sentence):
                continue
            if text is not whole or prefix or not _is_as_written(text):
                found = _placed(found, text, len(prefix), self.start)
            return found
        return None

    def as_called(self, said: MappedText) -> MappedText:
        """Return a piece of text with what the text itself calls crossings called as we do."""
        for spelt, key in zip(self.defined, self.meanings, strict=True):
            said = said.sub(spelt, key)
        return said

    def define(self, short: str, key: str, table: StitchTable) -> None:
        """Take what a text calls a crossing, whatever others mean by it."""
        self.table = table
        self.live.learn(table)
        spelt = re.escape(short.strip())
        self.defined = (*self.defined, re.compile(rf"(?<![a-z0-9/]){spelt}(?![a-z0-9])", re.I))
        self.meanings = (*self.meanings, key)

    def worded(self, said: MappedText) -> MappedText:
        """Return a piece of text with what the table knows put in our words."""
        known = self._words.of(said.text)
        return MappedText(known.text, tuple(said.at[place] for place in known.at))

    def items(self, said: MappedText) -> tuple[Item, ...] | None:
        """Return the items of a row that a piece of text lists, None if it lists none."""
        if not said.text:
            return None
        found = self.parsed(said, "Next rnd: ")
        if found is None or not isinstance(found.says, Numbered) or found.count is not None:
            return None
        if found.says.times is not None:
            return None
        for remark in found.remarks:
            self.remarks.append((remark, self.place))
        return _whole_words(found.says.step.items, said.text)

    # giving steps

    def give(self, says: Iterable[Says], count: Count | None = None) -> None:
        """Hand things on, the count stated after the last of them."""
        listed = turned_once(says, self.has_turned) if self.loose else list(says)
        backwards = (entry.step for entry in reversed(self.assembler.entries))
        listed = [*held_first(backwards, listed, self.now), *listed]
        count, self.after = self.after if count is None else count, None
        for number, one in enumerate(listed, start=1):
            stated = count if number == len(listed) else None
            self._hand(one, stated)

    def _hand(self, says: Says, count: Count | None) -> None:
        if isinstance(says, st.Part) and any(isinstance(item, PickUp) for item in says.items):
            self.picked = True
        elif isinstance(says, st.Join | st.Section | Numbered):
            self.picked = False
        says = without_idle_words(says, self.now)
        if isinstance(says, st.OnlySizes) and count is not None:
            says, count = attrs.evolve(says, step=attrs.evolve(says.step, count=count)), None
        if isinstance(says, Numbered) and lacks_needles(says.step, self.now):
            self.claim("loose", 0)
        if isinstance(says, st.RepeatRounds):
            says = _located(says, self.place)
        if isinstance(says, st.WasteRow) and (entries := self.assembler.entries):
            entries[-1].step = amid_needle(entries[-1].step)
        try:
            self.assembler.add(Sentence(says, count, ()), self.place, self.only)
        except (StepError, SizeError) as error:
            raise Lost(error.problem) from None
        if isinstance(says, Again) and isinstance(says.times, UntilCount | UntilWorked):
            entries = self.assembler.entries
            if may_end_within(entries[-1].step):
                self.live.follow(entries[:-1])
                entries[-1].step = ended_within(entries[-1].step, self.live)

    def taking(self, yarn: str) -> list[st.Step]:
        """Return the step that takes this yarn in hand; none where it is."""
        return [] if yarn_in_hand(self.assembler.as_read()) == yarn else [st.UseYarn(yarn)]

    def note(self, text: str) -> None:
        """Keep a text as a note."""
        self.assembler.add_plain(st.Note(" ".join(text.split()), at=self.place))

    def claim(self, kind: str, *numbers: Count) -> None:
        """Keep what is stated about the step at this place."""
        columns = [tuple(int(v) for v in values_of(number)) for number in numbers]
        many = max((len(column) for column in columns), default=1)
        rows = tuple(
            tuple(column[min(size, len(column) - 1)] for column in columns) for size in range(many)
        )
        key = (self.place.line, self.place.column)
        self.claims[key] = (*self.claims.get(key, ()), Claim(kind, rows, *key))
        self.live.hear_anew(key)

    def doubt(self, text: str) -> None:
        """Keep that words which nobody knows were taken to ask for nothing."""
        self.claim("doubt", 0)
        said = " ".join(text.split()).strip(" .,;:!")
        remark = Remark("doubt", f"not understood, and taken to ask for nothing: '{said}'", 1)
        self.remarks.append((remark, self.place))

    def state(self, count: Count) -> None:
        """Take a count that stands by itself: it belongs to the step before."""
        entries = self.assembler.entries
        last = entries[-1] if entries else None
        if last is None:
            raise Lost("a count before anything is on the needles")
        step = last.step
        woven = self.assembler.woven
        if self.context.last in woven:  # "rnds 2, 4" were told, and this is round 3
            woven[self.context.last] = attrs.evolve(woven[self.context.last], count=count)
        elif isinstance(step, st.Note | st.Section):
            self.place = step.at or self.place
            self.claim("count", count)
        elif isinstance(step, st.OnlySizes):
            last.step = attrs.evolve(step, step=attrs.evolve(step.step, count=count))
        elif step.count is not None:
            if step.count != count:
                self.place = step.at or self.place
                self.claim("count", count)
        else:
            last.step = attrs.evolve(step, count=count)

    # sections and numbers

    def heading(self, title: str) -> None:
        """Begin a section."""
        self._close_section()
        title = " ".join(title.split())
        self.context.section = title.lower()
        self.assembler.add_plain(st.Section(title, part=part_named(title), at=self.place))
        self.context.forget_rows()
        goes_round = re.search(r"\b(?:leg|foot|cuff|toe|ankle)\b", title.lower())
        if goes_round and self.context.course != "RND" and self.now().held():
            self.context.course = "RND"

    def _close_section(self) -> None:
        context = self.context
        if context.rows:
            context.sections[context.section] = (dict(context.rows), len(self.assembler.entries))

    def numbered(self, step: st.Round | st.Row, numbers: tuple[int, ...], name: str = "") -> None:
        """Remember a row by its numbers or its name."""
        context = self.context
        context.course = "RND" if isinstance(step, st.Round) else "ROW"
        if numbers and numbers[0] == 1:
            context.began = len(self.assembler.entries)
        if numbers and numbers[0] <= context.last:
            self._close_section()
            context.rows = (
                {n: row for n, row in context.rows.items() if n < numbers[0]}
                if numbers[0] > 1
                else {}
            )
            if numbers[0] == 1 and context.alternate_at != len(self.assembler.entries):
                context.alternate = None
        bare = with_fields(step, count=None, at=self.place)
        for number in numbers:
            context.rows[number] = bare
        if numbers:
            context.last = numbers[-1]
        if name and name not in ("next", "last", "foll", "following"):
            context.named[row_name(name)] = bare
        context.named["last"], context.every = bare, bare if name == "every" else None
        self._learn(step)

    def _learn(self, step: st.Round | st.Row) -> None:
        """Take a round of ribs, or a plain one, for the pattern in work."""
        items = step.items
        if isinstance(step, st.Row) or _has_slips(items):
            return
        repeat = items[0] if len(items) == 1 else None
        if not isinstance(repeat, Repeat) or not isinstance(repeat.times, To):
            return
        for item in repeat.items:
            if not isinstance(item, Run) or isinstance(item.amount, To):
                return
            if item.stitch not in self.table or self.table[item.stitch].change:
                return
        self.context.ground = items

    def has_turned(self) -> bool:
        """Tell whether the last row ends with a turn, which another "turn" only repeats."""
        entries = self.assembler.entries
        steps = [e.step for e in entries[-8:] if not isinstance(e.step, st.Note | st.Section)]
        last = steps[-1] if steps else None
        if isinstance(last, st.ReturnHeld) and len(steps) > 1:  # both halves of a heel, turned
            return isinstance(part := steps[-2], st.Part) and part.items == (Turn(),)
        if isinstance(last, st.RepeatRounds) and last.steps:
            last = last.steps[-1] if not last.ending else last.steps[last.ending - 1]
        return isinstance(last, st.Row) and last.is_turned

    def section_steps(self, name: str) -> list[st.Step]:
        """Return all steps of the sections with a name in their title, none that it works again."""
        inside, found = False, []
        for entry in self.assembler.entries:
            if isinstance(entry.step, st.Section):
                title = entry.step.title.lower()  # "With A only:" stands under the title itself
                inside = name in title or (inside and title.startswith(("with ", "using ", "in ")))
            elif inside:
                found.append(entry.step)
        told = [
            one for one in found if one.at is None or one.at.line not in self.context.told_again
        ]
        return told or found

    def rows_between(self, first: int, last: int) -> list[st.Step]:
        """Return the rows and their repeats that stand on these lines of the text."""
        rows: list[st.Step] = []
        for entry in self.assembler.entries:
            step = entry.step
            there = step.at is not None and first <= step.at.line <= last
            if there and isinstance(step, st.Row | st.Round | st.RepeatRounds):
                rows.append(attrs.evolve(step, count=None, at=self.place))
        return rows

    def section_rows(self, name: str) -> list[st.Step]:
        """Return the rows of a section that was worked before, without the rounds that join it."""
        rows: list[st.Step] = []
        for step in self.section_steps(name):
            flat = all(isinstance(row, st.Row) for row in rounds_in((step,)))
            if flat and isinstance(step, st.Row | st.RepeatRounds):
                rows.append(attrs.evolve(step, count=None, at=self.place))
        plain = rows and isinstance(rows[0], st.RepeatRounds)
        if rows and isinstance(rows[0], st.Row | st.RepeatRounds) and not plain:
            first = rows[0]
            if isinstance(first, st.Row) and len(first.items) == 1:
                rows = rows[1:]
        return rows[1:] if plain and len(list(rounds_in((rows[0],)))) == 1 else rows

    def plain(self, *, ground: bool = True) -> tuple[st.Round | st.Row, ...]:
        """Return the rounds or rows that "work even" stands for."""
        items = self.context.ground if ground else None
        if self.course == "RND":
            if items is not None and not self._fits(items):
                items = None
            return (st.Round(items or (KNIT,)),)
        if self.context.ground_name == "garter" and ground:
            return (st.Row((KNIT,)),)
        if ground and self.context.last == 0 and self.context.ground_name != "stockinette":
            return (st.Row((KNIT,)),)
        return (st.Row((KNIT,)), st.Row((PURL,)))

    def _fits(self, items: tuple[Item, ...]) -> bool:
        live = self.now()
        if not live.sure:
            return bool(live.tallies)
        return all(
            not live.trial((st.Round(items),), size).troubles for size in range(len(live.tallies))
        )

    def times_of(self, unit: tuple[st.Round | st.Row, ...], rounds: st.Times) -> list[st.Step]:
        """Return a number of rounds of a unit."""
        if len(unit) == 1:
            return [unit[0] if rounds == 1 else st.RepeatRounds(unit, rounds)]
        if not isinstance(rounds, int | Sized):
            return [st.RepeatRounds(unit, rounds)]
        often, left = zip(*(divmod(int(n), len(unit)) for n in values_of(rounds)), strict=True)
        if isinstance(rounds, Sized) and (any(left) or not all(often)):
            return [st.RepeatRounds((st.Row((KNIT,)),), rounds)]
        whole: list[st.Step] = [st.RepeatRounds(unit, sized(often))] if any(often) else []
        return [*(unit if set(often) == {1} else whole), *unit[: left[0]]]

    # what is worked on

    def focus(self, stitches: Count, *, ahead: bool = False) -> list[st.Step]:
        """Return the steps after which only the next stitches, or those just worked, remain.

        Where there are as many of both, it is those just worked unless `ahead` is set.
        """
        live = self.now()
        rest = _less(live.count, stitches)
        if not live.is_free or live.count == stitches or rest is None:
            return []
        if all(not tally.behind for tally in live.tallies):
            return [st.Hold(stitches, "heel"), st.Hold(rest, "instep"), st.ReturnHeld("heel")]
        if (amid := self._amid(stitches)) is not None:
            return amid
        if live.ahead == stitches and self.is_turned():
            if self._cast_on_before():
                return [st.Part((Turn(),)), st.Hold(rest, "instep")]
            self.turn_later()
            return [st.Hold(rest, "instep")]
        if live.behind == stitches and not (ahead and live.ahead == stitches):
            return [st.Hold(rest, "instep")]
        if live.ahead == stitches or (ahead and live.in_rounds and not self.is_turned()):
            self.context.hung = live.marks_ahead() or self.context.hung  # on a holder they are lost
            return [
                st.BeginHere(), st.Hold(stitches, "heel"), st.Hold(rest, "instep"), st.ReturnHeld("heel"),
            ]  # fmt: skip
        return []

    def parted(self, stitches: Count) -> list[st.Step]:
        """Return the steps that leave these, between two turns, alone in work."""
        live = self.now()
        if not live.is_free or live.count == stitches:
            return []
        return self._amid(stitches) or []

    def _cast_on_before(self) -> bool:
        entries = self.assembler.entries
        return len(entries) > 1 and isinstance(entries[-2].step, st.CastOn)

    def _amid(self, stitches: Count) -> list[st.Step] | None:
        """Part the stitches just worked from those on both sides of them: a thumb, an instep."""
        live = self.now()
        many = for_sizes(tuple(map(int, values_of(stitches))), len(live.tallies))
        if live.in_rounds or not self.is_turned() or len(many) != len(live.tallies):
            return None
        near = [t.ahead - n for t, n in zip(live.tallies, many, strict=True)]
        far = [tally.behind for tally in live.tallies]
        if min(near) <= 0 or min(far) <= 0:
            return None
        self.turn_later()
        return [
            st.Hold(sized(far), "instep"), st.Part((Turn(),)), st.Hold(stitches, "heel"),
            st.Hold(sized(near), "side"), st.ReturnHeld("heel"),
        ]  # fmt: skip

    def is_turned(self) -> bool:
        entry = self._worked_last()
        step = entry.step if entry else None
        return isinstance(step, st.Row | st.Part) and isinstance(step.items[-1], Turn)

    def _worked_last(self) -> Any:
        """Return the entry that was worked last, words that were kept behind it left out."""
        entries = self.assembler.entries
        return next((e for e in reversed(entries[-4:]) if not isinstance(e.step, st.Note)), None)

    def turn_later(self) -> None:
        """Let the row that was turned end without a turn: what is left is held first."""
        entry = self._worked_last()
        assert isinstance(entry.step, st.Row | st.Part)
        items = entry.step.items[:-1]
        if items:
            entry.step = st.Part(items, at=entry.step.at, count=entry.step.count)
            entry.span = None
        else:
            self.assembler.entries.remove(entry)

    def together(self) -> list[st.Step]:
        """Return the steps that bring all held stitches back, and join the round."""
        live = self.now()
        steps: list[st.Step] = [
            st.ReturnHeld(name) for name in live.held() if name not in ("thumb", "rest")
        ]
        if steps or not live.in_rounds:
            steps.append(st.Join())
        return steps if not live.in_rounds or steps else []

    def laid_out(self, items: tuple[Item, ...], *, whole: bool = True) -> list[st.Step]:
        """Return a set-up round as parts, with what is held taken up where it is reached.

        It is joined at its end if it is the `whole` round.
        """
        live = self.now()
        flat = [one for item in items for one in (item.items if isinstance(item, On) else (item,))]
        steps = along_strip(live, flat)
        held = [name for name in live.held() if name != "rest"]  # of another piece
        waiting = [name for name in held if not steps or name != "side"]
        part: list[Item] = []
        joined = live.in_rounds or bool(steps) or ("neck" in waiting and self.course == "ROW")
        past = False
        first = [0] * len(live.tallies)  # worked before the instep came back

        def flush() -> None:
            if part:
                steps.append(st.Part(tuple(part)))
                part.clear()

        for item in flat:
            done = [*steps, *([st.Part(tuple(part))] if part else [])]
            room = live.trial(done, 0).tally.ahead if live.sure else None
            needs = taken_by(item)
            if room is not None and needs is not None and room < max(1, needs):
                flush()
                if waiting and room == 0:
                    waiting = meant_first(waiting, live.held(), item)
                    if waiting[0] == "instep":
                        first = [live.trial(steps, n).tally.behind for n in range(len(first))]
                    steps.append(st.ReturnHeld(waiting.pop(0)))
                    while waiting and waiting[0] == "instep2":  # slipped to it later
                        steps.append(st.ReturnHeld(waiting.pop(0)))
                elif not joined:
                    steps.append(st.Join())
                    joined = past = True
                    if item == KNIT and all(first):  # to where the instep begins
                        item = Run("k", sized(first))
            part.append(item)
        flush()
        left = [name for name in waiting if name != "thumb"]  # a sentence to come takes them up
        if not joined and whole and not left:
            steps.append(st.Join())
        elif past:
            steps.append(st.BeginHere())
        return steps


def _located(step: Any, place: st.TextPlace) -> Any:
    """Return a repeat whose rounds stand at a place, where they have none of their own."""
    if isinstance(step, st.RepeatRounds):
        step = attrs.evolve(step, steps=tuple(_located(one, place) for one in step.steps))
    return step if step.at is not None else attrs.evolve(step, at=place)


def _has_slips(items: Iterable[Item]) -> bool:
    return any(
        (isinstance(item, Run) and item.stitch.startswith("sl"))
        or (isinstance(item, Repeat | On) and _has_slips(item.items))
        for item in items
    )


def made(course: str, items: Sequence[Item], side: str) -> st.Round | st.Row:
    """Return the row or round of these stitches; one that is turned is a row."""
    if course == "RND" and not isinstance(items[-1], Turn | WrapTurn):
        return st.Round(tuple(items))
    return st.Row(tuple(items), side=side.strip("()") or None)


def _less(count: Count, some: Count) -> Count | None:
    """Return a count less another, None where nothing or less would be left in a size."""
    wholes, parts = values_of(count), values_of(some)
    many = max(len(wholes), len(parts))
    if len(wholes) not in (1, many) or len(parts) not in (1, many):
        return None
    values = [
        int(wholes[min(n, len(wholes) - 1)]) - int(parts[min(n, len(parts) - 1)])
        for n in range(many)
    ]
    return None if min(values) <= 0 else sized(values)


def _whole_words(items: tuple[Item, ...], text: str) -> tuple[Item, ...]:
    """Read a lone "K" or "P" as the whole round: one stitch would be written k1."""
    alone = items[0] if len(items) == 1 else None
    if isinstance(alone, Run) and re.fullmatch(r"\s*[kp]\.?\s*", text, re.IGNORECASE):
        return (attrs.evolve(alone, amount=To()),)
    return items


def _is_as_written(said: MappedText) -> bool:
    return said.at[-1] - said.at[0] == len(said.text)


def _placed(found: Sentence, said: MappedText, prefix: int, start: int) -> Sentence:
    """Return a sentence whose columns are those of the text as written, from its start on."""
    lead = len(said.text) - len(said.text.lstrip())

    def column(at: int) -> int:
        place = min(max(0, at - 1 - prefix + lead), len(said.at) - 1)
        return max(0, said.at[place] - start) + 1

    def moved(value: Any) -> Any:
        if isinstance(value, tuple):
            return tuple(moved(one) for one in value)
        if isinstance(value, Numbered):
            return with_fields(value, step=moved(value.step))
        if isinstance(value, st.Round | st.Row | st.Part):
            return with_fields(value, items=moved(value.items))
        if isinstance(value, Repeat | On):
            return with_fields(value, items=moved(value.items), column=column(value.column))
        if isinstance(value, Item):
            return with_fields(value, column=column(value.column))
        return value

    remarks = tuple(attrs.evolve(one, column=column(one.column)) for one in found.remarks)
    return attrs.evolve(found, says=moved(found.says), remarks=remarks)
