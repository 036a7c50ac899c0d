"""Read instructions as designers write them: a head, headings, and one sentence after another.

A text is taken line by line: what stands before the work is kept as text, what is a heading begins
a section, and the rest is read sentence by sentence, in the language itself or by what it means
where it stands. What seems to be an instruction and means nothing is listed, and stops nothing.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import lru_cache

import attrs

from loopwright.border import guard
from loopwright.errors import PatternSyntaxError, SizeError, StepError
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.pattern import steps as st
from loopwright.pattern._contents import stands_at
from loopwright.pattern._grammar.said import refuse_nothing
from loopwright.pattern._grammar.sentences import parse_sentence
from loopwright.pattern._reading.alternate import weave_before
from loopwright.pattern._reading.as_given import as_given, reading_as_given
from loopwright.pattern._reading.by_numbers import (
    in_short,
    is_told_together,
    may_be_in_short,
    may_be_lost_row,
    may_be_row,
    parted_in_title,
    row_as_numbered,
)
from loopwright.pattern._reading.clauses import began_rows
from loopwright.pattern._reading.elsewhere import described_elsewhere, is_doubted, sides_told
from loopwright.pattern._reading.flat_thumb import part_thumb
from loopwright.pattern._reading.front_reader import FrontReader
from loopwright.pattern._reading.labels import label_of
from loopwright.pattern._reading.left_unsaid import left_unsaid
from loopwright.pattern._reading.lines import Line, logical_lines, sentences_in
from loopwright.pattern._reading.marked_parts import with_marked_parts
from loopwright.pattern._reading.meaning import say
from loopwright.pattern._reading.other_hand import told_for_each_hand
from loopwright.pattern._reading.reading import Located, Reading, ReadLine
from loopwright.pattern._reading.said_out import said_out
from loopwright.pattern._reading.scribe import Lost, Scribe
from loopwright.pattern._reading.sentence_by_numbers import (
    in_place_of,
    taken_otherwise,
    taken_when_lost,
)
from loopwright.pattern._reading.set_apart import alone_in_title
from loopwright.pattern._reading.sizes_at_work import own_sizes, sizes_at_work
from loopwright.pattern._reading.star_blocks import since_star, stars_in
from loopwright.pattern._reading.stated import count_in, stated_in
from loopwright.pattern._reading.told_heel import heel_told
from loopwright.pattern._reading.told_needles import count_of_own_needle
from loopwright.pattern._reading.turned_steps import row_of_step, step_number
from loopwright.pattern._reading.workable import workable
from loopwright.pattern._rewording.habits import sizes_first, with_all_sizes
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.one_hand import in_one_hand
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, WORDINGS, OwnWording
from loopwright.pattern.program import Pattern

__all__ = ["read", "read_closely"]

MAX_ERRORS = 100  # behind as many the file is something else than a pattern
MAX_TEXT = 500_000  # characters; a book of forty patterns stays below
MOST_SENTENCES, LONGEST = 6, 800  # sentences and characters in which one thing is told
MAX_LINE = 20_000  # characters, of a line and what it is joined with: four pages without a break


def read(
    text: str, *, stitches: StitchTable = STITCHES, wordings: Sequence[OwnWording] = WORDINGS
) -> Pattern:
    """Return the pattern that a text describes.

    Parameters
    ----------
    text : str
        Instructions in American or British words; see the documentation for the language.
    stitches : StitchTable
        With stitches of your own, where the text uses any.
    wordings : sequence of OwnWording
        With ways of saying things of your own.

    Raises
    ------
    PatternSyntaxError
        Carries ``line``, ``column``, ``found`` and what was ``expected``. A text without an
        instruction is refused, too.

    Examples
    --------
    >>> pattern = read("CO 8. Join in the round. Rnd 1: *K2, k2tog; rep from * to end. (6 sts)")
    >>> pattern.steps[2].count
    6
    """
    reading = read_closely(text, stitches=stitches, wordings=wordings)
    pattern = reading.pattern
    refuse_nothing(pattern.steps)
    if reading.loose:
        pattern = attrs.evolve(pattern, steps=said_out(pattern.steps))
        return attrs.evolve(pattern, steps=workable(pattern, text, stitches))
    return pattern


def _read_otherwise(scribe: Scribe) -> bool:
    """Tell whether a text in others' words means something else by what was read before that."""
    return scribe.context.unparted or began_rows(scribe)


def read_closely(
    text: str,
    *,
    stitches: StitchTable = STITCHES,
    wordings: Sequence[OwnWording] = WORDINGS,
    go_on: bool = False,
    explain: bool = False,
) -> Reading:
    """Return the pattern, and remarks on wording that reads two ways.

    With `go_on` a sentence that cannot be read is kept as a note and reported among ``errors``;
    with `explain` the reading says of each line how it was taken.
    """
    if stitches is STITCHES and wordings is WORDINGS:
        return _read_last(text, go_on, explain)
    return _read_anew(text, stitches, wordings, go_on, explain)


@lru_cache(maxsize=2)
def _read_last(text: str, go_on: bool, explain: bool) -> Reading:
    """Read a text with the tables of the library; it is asked for again when it is reviewed."""
    return _read_anew(text, STITCHES, WORDINGS, go_on, explain)


def _read_anew(
    text: str, table: StitchTable, wordings: Sequence[OwnWording], go_on: bool, explain: bool
) -> Reading:
    if len(text) > MAX_TEXT:
        raise PatternSyntaxError(1, 1, f"the text is longer than {MAX_TEXT} characters", ())
    written = in_one_hand(text)
    try:
        reading = _read_one_hand(written.text, table, wordings, go_on, explain)
    except PatternSyntaxError as error:
        raise as_given(error, text, written) from None
    return reading if written.text == text else reading_as_given(reading, text, written)


def _read_one_hand(
    text: str, table: StitchTable, wordings: Sequence[OwnWording], go_on: bool, explain: bool
) -> Reading:
    reader = _Reader(text, table, wordings, go_on, explain)
    try:
        reader.take_all()
    except PatternSyntaxError:
        if reader.scribe.loose or not _read_otherwise(reader.scribe):
            raise
        reader.scribe.loose = True
    if (reader.scribe.loose or reader.errors) and _read_otherwise(reader.scribe):
        reader = _Reader(text, table, wordings, go_on, explain)
        reader.scribe.loose = True  # rows without a label are others than the language has
        reader.take_all()
    return reader.finish()


_NUMBERED = re.compile(
    r"(?:step\s+\d{1,4}\s*[:.)–-]|\d{1,2}[.)]|[a-h]\))\s+(?=\S)|[-•–]\s+(?=\S)|•(?=\S)|\*\*+\s*(?=\S)",
    re.IGNORECASE,
)
_ON_THESE = WordForm(  # a line that tells which stitches the one before it has left in work
    rf"(?:now |then )?(?:work(?:ing)? |continue |cont\.? )?(?:on|over) these (?P<n>{COUNT}) "
    r"(?:sts|stitches)\b",
)
_CLOSING = (st.BindOff, st.DrawUp, st.Graft, st.ThreeNeedleBindOff, st.WeaveIn, st.CutYarn)


def _repeated(known: list[st.Step], steps: list[st.Step]) -> tuple[st.Step, ...]:
    """Return the steps from a repeat on that took up rows of lines before; none without one."""
    pairs = enumerate(zip(known, steps, strict=False))
    first = next((at for at, (old, new) in pairs if old is not new), len(known))
    found = tuple(steps[first:])
    taken = first < len(known) and found and isinstance(found[0], st.RepeatRounds)
    return found if taken else ()


def _only_states(sentences: Sequence[str]) -> bool:
    """Tell whether the next sentence is a count, of what was told before it."""
    return bool(sentences) and not stated_in(MappedText.of(sentences[0])).said.text.strip(" .,")


class _Reader:
    """Gathers head and steps, line by line."""

    def __init__(
        self,
        text: str,
        table: StitchTable,
        wordings: Sequence[OwnWording],
        go_on: bool,
        explain: bool,
    ) -> None:
        self.go_on, self.explain = go_on, explain
        self.scribe = Scribe(table, wordings)
        self.text, self.scribe.context.parts = with_marked_parts(text)
        self.front = FrontReader(self.text, table, self.scribe)
        self.errors: list[PatternSyntaxError] = []
        self.lines: list[ReadLine] = []
        self.of_other: frozenset[int] = frozenset()  # lines that tell of the other hand
        self.star: int | None = None  # how many steps there were where a line opened a star
        self.whole = False  # whether a line is known by its numbers as a whole

    def take_all(self) -> None:
        lines = logical_lines(self.text)
        for line in lines:
            if len(line.text) > MAX_LINE:
                problem = f"the line is longer than {MAX_LINE} characters"
                raise PatternSyntaxError(line.place(0).line, 1, problem, ())
        _, self.of_other = told_for_each_hand(lines)
        for line, following in zip(lines, [*lines, None][1:], strict=True):
            self.take(line, following.text if following else "")

    def take(self, line: Line, following: str = "") -> None:
        known = self._steps() if self.explain else []
        before = len(self.scribe.assembler.entries)
        try:
            tidy = self.front.habits.spelt_out(line.text, len(self.front.sizes))
            tidy = sizes_first(tidy, self.front.sizes)
            kind = self._of_other_hand(line, tidy) or self.front.take(line, tidy)
            if not kind:
                tidy, kind = self._with_crossings(line, tidy)
                weave_before(self.scribe, tidy.text)
            kind = kind or self._by_numbers(line, tidy, following)
            if kind == "heading" and (said := parted_in_title(self.scribe.now(), tidy.text)):
                self._sentences(line, in_place_of(tidy, said), following)
        except PatternSyntaxError as error:
            self._lost(error, line)
            kind = "lost"
        if kind == "instruction":
            count_of_own_needle(self.scribe, tidy.text, before)
        if kind == "instruction" and (these := _ON_THESE.match(following)):
            parted = self.scribe.parted(count_in(these["n"]))
            self.scribe.give(parted)
            self.scribe.loose = self.scribe.loose or bool(parted)
        if kind == "heading":
            apart = alone_in_title(self.scribe, line.text)
            self.scribe.give(apart)
            if not apart:
                heel_told(self.scribe, line.text)
        if self.explain:
            self._explained(line, kind, before, known)

    def _with_crossings(self, line: Line, tidy: MappedText) -> tuple[MappedText, str]:
        """Return a line without what it explains; it is a definition where nothing else is left."""
        said = self.front.with_crossings(tidy)
        if said is tidy or re.search(r"\w", said.text[self.front.run_in :]):
            return said, ""
        self.scribe.stand_at(line, 0)
        self.scribe.note(tidy.text)
        return tidy, "definition"

    def _steps(self) -> list[st.Step]:
        return [entry.step for entry in self.scribe.assembler.entries]

    def _explained(self, line: Line, kind: str, before: int, known: list[st.Step]) -> None:
        live = self.scribe.now()
        entries = self.scribe.assembler.entries
        steps = tuple(entry.step for entry in entries[before:])
        if kind == "instruction" and (repeated := _repeated(known, self._steps())):
            steps = repeated
        elif not steps and kind == "instruction" and entries:
            steps = (entries[-1].step,)
        after, left = tuple(tally.count for tally in live.tallies), steps
        merged = len(entries) <= before and kind == "instruction"  # with rows before, a repeat
        while (
            entries
            and (
                isinstance(entries[-1].step, _CLOSING)
                or (isinstance(entries[-1].step, st.Hold) and not any(after))  # a piece set aside
            )
            and (
                merged
                or len(entries) > before + 1
                or (isinstance(entries[-1].step, st.Graft) and len(left) > 2)
            )
        ):
            left = left[:-1]
            after = live.after(len(entries) - 1) or after
            entries = entries[:-1]
        numbers = [piece[1] for piece in line.pieces]
        self.lines.append(ReadLine(numbers[0], numbers[-1], line.text, kind, steps, after))

    def _lost(self, error: PatternSyntaxError, line: Line) -> None:
        error = attrs.evolve(error, source=error.source or line.text)
        if not self.go_on or len(self.errors) >= MAX_ERRORS:
            raise error from None
        self.errors.append(error)

    # instructions

    def _by_numbers(self, line: Line, tidy: MappedText, following: str) -> str:
        """Take a line; one that is lost, or leaves stitches other than it says, in short."""
        scribe = self.scribe
        titled = self._behind_heel_title()
        other = self.front.habits.is_for_the_other(tidy.text, self._titles)
        if other or not may_be_in_short(tidy.text, titled):
            return self._row_by_numbers(line, tidy, following)
        back = self._way_back()
        if not scribe.loose:  # in our own words nothing is worked to be understood
            kind = self._tried(line, tidy, following, whole=not is_told_together(tidy.text))
            if kind and not scribe.loose:
                return kind
            back()
        short, steps = in_short(scribe.now(), tidy.text, titled), len(scribe.assembler.entries)
        kind = self._tried(line, tidy, following, whole=short is not None)
        told = scribe.context.told is not None and scribe.context.told_at >= steps
        read = kind not in ("", "text", "count")
        as_it_stands = told and not scribe.now().held()
        if short and read:
            as_it_stands |= short.leaves(scribe.now())
        if short and not as_it_stands:
            back()
            lead = tidy.text[: self.front.run_in]  # a title before it, "Thumb:"
            kind = self._tried(line, in_place_of(tidy, lead + short.said), following, whole=True)
            kind = kind if short.is_met(scribe.now()) else ""
            scribe.loose = scribe.loose or bool(kind)
        if kind:
            return kind
        back()
        return self._sentences(line, tidy, following)

    def _row_by_numbers(self, line: Line, tidy: MappedText, following: str) -> str:
        """Take a line; a lost row by the stitches that are picked out of it."""
        if not may_be_lost_row(tidy.text):
            return self._sentences(line, tidy, following)
        back = self._way_back()
        if kind := self._tried(line, tidy, following):
            return kind
        back()
        if short := row_as_numbered(self.scribe.now(), self.scribe.as_called(tidy).text):
            kind = self._tried(line, in_place_of(tidy, short.said), following)
            if kind and short.is_met(self.scribe.now()):
                self.scribe.loose = True
                return kind
            back()
        return self._sentences(line, tidy, following)

    def _way_back(self) -> Callable[[], None]:
        """Return what goes back to how things stand now."""
        scribe = self.scribe
        kept, remarks, errors = scribe.assembler.kept(), len(scribe.remarks), len(self.errors)
        claims, loose, context = dict(scribe.claims), scribe.loose, scribe.context.kept()

        def back() -> None:
            scribe.assembler.back_to(kept)
            scribe.context.back_to(context)
            del scribe.remarks[remarks:], self.errors[errors:]
            scribe.claims.clear()
            scribe.claims.update(claims)
            scribe.loose = loose

        return back

    def _tried(self, line: Line, said: MappedText, following: str, whole: bool = False) -> str:
        """Take a line, as a whole or by its parts; return nothing where any of it is lost."""
        errors, self.whole = len(self.errors), whole
        try:
            kind = self._sentences(line, said, following)
        except PatternSyntaxError:
            return ""
        finally:
            self.whole = False
        return kind if len(self.errors) == errors else ""

    def _behind_heel_title(self) -> bool:
        """Tell whether nothing was worked since a title that tells of the heel."""
        steps = (entry.step for entry in reversed(self.scribe.assembler.entries))
        last = next((step for step in steps if not isinstance(step, st.Note)), None)
        return any(word in getattr(last, "title", "").lower() for word in ("heel", "flap"))

    def _of_other_hand(self, line: Line, tidy: MappedText) -> str:
        """Keep as text what is told of the other hand as it was of the first."""
        if line.pieces[0][1] not in self.of_other:
            return ""
        self.scribe.stand_at(line, 0)
        self.scribe.note(tidy.text)
        return "text"

    def _sentences(self, line: Line, tidy: MappedText, following: str) -> str:
        scribe = self.scribe
        if self.front.habits.is_for_the_other(tidy.text, self._titles):
            scribe.stand_at(line, 0)
            scribe.note(tidy.text)
            if described_elsewhere(scribe, tidy.text):
                self._anchor(scribe.place, tidy)
            return "text"
        scribe.first_line, scribe.next_line = line.pieces[0][1], following
        start = self.front.run_in
        if match := _NUMBERED.match(tidy.text, start):
            start = match.end()
        scribe.only, start = sizes_at_work(self.front, scribe, tidy.text, start, line)
        tidy = with_all_sizes(tidy, start, scribe.only, self.front.sizes)
        kinds = []
        before, so_far = scribe.context.named.get("last"), len(scribe.assembler.entries)
        try:
            sentences = sentences_in(tidy.text, start)
            behind = [*sentences[1:], (0, "")]
            texts = [sentence for _, sentence in sentences]
            block, self.star = stars_in(texts, self.star, so_far)
            begun, told = self.star or 0, 0
            for at, ((offset, sentence), after) in enumerate(zip(sentences, behind, strict=False)):
                scribe.following = after[1]
                said = tidy.piece(offset, offset + len(sentence))
                if at < told:
                    continue
                said = own_sizes(self.front, scribe, said) if at else said
                scribe.stand_at(line, said.at[0])
                if many := self._told_together(line, tidy, sentences[at:]):
                    told = at + many
                    kinds.append("instruction")
                    continue
                if block and at == block[0]:
                    begun = len(scribe.assembler.entries)
                    said = said.piece(said.text.index("*") + 1, len(said.text))
                elif block and at == block[1]:
                    kinds.append(self._since_star(line, said, begun))
                    continue
                kinds.append(self._sentence(line, said))
        finally:
            scribe.only, scribe.following = (), ""
        if match and (number := step_number(match[0])):
            if row_of_step(scribe, so_far, match[0]):
                scribe.context.name_step(number, before)
            scribe.context.steps[number] = line.pieces[0][1], line.pieces[-1][1]
        for kind in ("lost", "instruction", "count", "definition"):
            if kind in kinds:
                return kind
        return "text"

    def _told_together(
        self, line: Line, tidy: MappedText, sentences: Sequence[tuple[int, str]]
    ) -> int:
        """Take sentences in short that tell one thing by their numbers; return how many do."""
        if self.whole:
            return 0
        scribe, back = self.scribe, self._way_back()
        for many in range(1, min(len(sentences), MOST_SENTENCES) + 1):
            text = " ".join(one for _, one in sentences[:many])
            if len(text) > LONGEST:
                return 0
            if not may_be_in_short(text, False) or _only_states(
                [one for _, one in sentences[many:]]
            ):
                continue
            short = in_short(scribe.now(), text, False)
            if short is None:
                continue
            parts = [tidy.piece(at, at + len(one)) for at, one in sentences[:many]]
            if self._each(line, parts) and short.leaves(scribe.now()):
                return many
            back()
            said = in_place_of(tidy.piece(sentences[0][0], len(tidy.text)), short.said)
            parts = [said.piece(at, at + len(one)) for at, one in sentences_in(short.said)]
            if self._each(line, parts) and short.is_met(scribe.now()):
                scribe.loose = True
                return many
            back()
        return 0

    def _each(self, line: Line, sentences: Sequence[MappedText]) -> bool:
        """Take sentences; tell whether all of them were understood."""
        errors = len(self.errors)
        for said, after in zip(sentences, [*sentences[1:], MappedText.of("")], strict=True):
            self.scribe.following = after.text
            try:
                self._sentence(line, said)
            except PatternSyntaxError:
                return False
        return len(self.errors) == errors

    def _titles(self) -> str:
        entries = self.scribe.assembler.entries
        return " ".join(e.step.title for e in entries if isinstance(e.step, st.Section)).lower()

    def _sentence(self, line: Line, said: MappedText) -> str:
        scribe = self.scribe
        place = scribe.stand_at(line, said.at[0])
        kept, remarks = scribe.assembler.kept(), len(scribe.remarks)
        others = scribe.loose or label_of(said.text) is None  # in our own words a row has its label
        sure = others and may_be_row(said.text) and scribe.now().sure
        try:
            part_thumb(scribe, said.text)
            kind = say(scribe, said)
            part_thumb(scribe)
            if kind == "instruction" and sure:
                taken_otherwise(scribe, said, kept)
            if kind == "text" and self.front.is_working():
                sides_told(scribe, said.text)
                known = described_elsewhere(scribe, said.text)
                if not known and is_doubted(said.text):
                    scribe.doubt(said.text)
            self._anchor(place, said)
        except (Lost, PatternSyntaxError, StepError, SizeError, ValueError) as problem:
            # a ValueError: two lists of numbers by size that have to do with each other differ
            scribe.assembler.back_to(kept)
            scribe.assembler.woven.clear()  # one of the rounds between them may be what is lost
            del scribe.remarks[remarks:]
            scribe.place = place
            if taken_when_lost(scribe, said):
                return "instruction"
            self._lost(self._error(line, said, problem), line)
            scribe.note(said.text)
            scribe.claims.pop((place.line, place.column), None)
            scribe.claim("lost", 0)
            if (stated := stated_in(said).count) is not None:
                scribe.claim("adopt", stated)
            return "lost"
        return kind

    def _since_star(self, line: Line, said: MappedText, begun: int) -> str:
        """Read the sentence that repeats those since a star."""
        kept = self.scribe.assembler.kept()
        self.scribe.stand_at(line, said.at[0])
        try:
            if since_star(self.scribe, said, begun):
                self.scribe.loose = True
                return "instruction"
        except (Lost, PatternSyntaxError, StepError, SizeError, ValueError):
            self.scribe.assembler.back_to(kept)
        return self._sentence(line, said)

    def _anchor(self, place: st.TextPlace, said: MappedText) -> None:
        """See that what is stated at this place hangs on a step."""
        key = (place.line, place.column)
        if key not in self.scribe.claims:
            return
        entries = self.scribe.assembler.entries
        if not entries or not any(stands_at(entry.step, place) for entry in entries[-8:]):
            self.scribe.place = place
            self.scribe.note(said.text)

    def _error(self, line: Line, said: MappedText, problem: Exception) -> PatternSyntaxError:
        """Return the error for a sentence that means nothing, with what its grammar expected."""
        try:
            parse_sentence(said.text, self.front.table)
        except PatternSyntaxError as error:
            column = said.at[min(max(0, error.column - 1), len(said.at) - 1)]
            at = line.place(column)
            source = line.text if len(line.pieces) == 1 else said.text
            shift = line.pieces[0][2] - 1 if len(line.pieces) == 1 else 0
            return attrs.evolve(error, line=at.line, column=at.column, source=" " * shift + source)
        at = line.place(said.at[0])
        if isinstance(problem, PatternSyntaxError):
            return problem
        return PatternSyntaxError(at.line, at.column, getattr(problem, "problem", str(problem)), ())

    # the end

    def finish(self) -> Reading:
        scribe = self.scribe
        try:
            steps = scribe.assembler.finish()
            if scribe.loose:
                steps = left_unsaid(steps, scribe.now())
        except PatternSyntaxError as error:
            if not self.go_on:
                raise
            self.errors.append(error)
            steps = tuple(entry.step for entry in scribe.assembler.entries)
        noticed = [
            Located(kind, text, at.line, at.column)
            for kind, text, at in scribe.assembler.remarks
            if not scribe.loose
        ]
        for remark, place in scribe.remarks:
            at = place.within(remark.column)
            noticed.append(Located(remark.kind, remark.text, at.line, at.column))
        remarks = tuple(sorted(noticed, key=lambda one: (one.line, one.column)))
        return Reading(
            self._pattern(steps),
            remarks,
            tuple(self.errors),
            dict(scribe.claims),
            tuple(self.lines),
            scribe.loose,
        )

    def _pattern(self, steps: tuple[st.Step, ...]) -> Pattern:
        try:
            return self.front.pattern(steps)
        except StepError as error:
            if not self.go_on:
                raise PatternSyntaxError(1, 1, error.problem, ()) from None
            return Pattern("", ())


guard(globals())
