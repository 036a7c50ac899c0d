"""Read instructions as designers write them: a head, headings, and one sentence after another.

A text is taken line by line: what stands before the work is kept as text, what is a heading begins
a section, and the rest is read sentence by sentence, in the language itself or by what it means
where it stands. What seems to be an instruction and means nothing is listed, and stops nothing.
"""

from __future__ import annotations

import contextlib
import re
from collections import Counter
from collections.abc import Sequence
from typing import Any

import attrs

from loopwright.border import guard
from loopwright.errors import PatternSyntaxError, SizeError, StepError
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.making import Hand
from loopwright.pattern import steps as st
from loopwright.pattern._cables import called_in, explained, with_defined
from loopwright.pattern._contents import entries_in, rewritten, stands_at
from loopwright.pattern._grammar.said import refuse_nothing
from loopwright.pattern._grammar.sentences import Sentence, parse_sentence, sentence_in
from loopwright.pattern._noted import with_numbers
from loopwright.pattern._reading.elsewhere import described_elsewhere
from loopwright.pattern._reading.front import (
    TEXT_SECTIONS,
    casts_on,
    definition,
    gauge_in,
    head_in,
    heading_in,
    is_row,
    sizes_in,
)
from loopwright.pattern._reading.labels import label_of
from loopwright.pattern._reading.lines import Line, logical_lines, sentences_in
from loopwright.pattern._reading.meaning import say
from loopwright.pattern._reading.scribe import Lost, Scribe
from loopwright.pattern._reading.titles import is_title
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.terse import Habits, habits_of, only_sizes, with_all_sizes
from loopwright.pattern._rewording.wordings import WORDINGS, OwnWording
from loopwright.pattern._tolerant_walk import Claim, Key
from loopwright.pattern.program import GaugeLine, Pattern

__all__ = ["Located", "ReadLine", "Reading", "instructions", "read", "read_closely"]

MAX_ERRORS = 100  # behind as many the file is something else than a pattern
MAX_TEXT = 500_000  # characters; a book of forty patterns stays below
MAX_LINE = 20_000  # characters, of a line and what it is joined with: four pages without a break


@attrs.frozen
class Located:
    """A remark with its place in the text."""

    kind: str
    text: str
    line: int
    column: int


@attrs.frozen
class ReadLine:
    """How a line was taken: its number, as what, and the steps that came of it.

    ``kind`` is ``"title"``, ``"head"``, ``"heading"``, ``"text"``, ``"definition"``, ``"count"``,
    ``"instruction"`` or ``"lost"``; ``after`` holds the stitches in work after it, for each size.

    Examples
    --------
    >>> from loopwright.pattern import explain
    >>> (line,) = explain("Cast on 48 (56) sts.").lines
    >>> line.kind, line.after
    ('instruction', (48, 56))
    """

    line: int
    last_line: int
    text: str
    kind: str
    steps: tuple[st.Step, ...] = ()
    after: tuple[int, ...] = ()


@attrs.frozen
class Reading:
    """A pattern, and what a close reader noticed on the way.

    ``errors`` holds what could not be read, where the reader was asked to go on behind it;
    ``claims`` what the text states besides its instructions.
    """

    pattern: Pattern
    remarks: tuple[Located, ...]
    errors: tuple[PatternSyntaxError, ...] = ()
    claims: dict[Key, tuple[Claim, ...]] = attrs.field(factory=dict, repr=False)
    lines: tuple[ReadLine, ...] = attrs.field(default=(), repr=False)
    loose: bool = False  # whether anything was read by its meaning


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
    pattern = read_closely(text, stitches=stitches, wordings=wordings).pattern
    refuse_nothing(pattern.steps)
    return pattern


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
    if len(text) > MAX_TEXT:
        raise PatternSyntaxError(1, 1, f"the text is longer than {MAX_TEXT} characters", ())
    reader = _Reader(stitches, wordings, go_on, explain)
    reader.casts_on_later, reader.habits = casts_on(text), habits_of(text)
    for line in logical_lines(text):
        if len(line.text) > MAX_LINE:
            problem = f"the line is longer than {MAX_LINE} characters"
            raise PatternSyntaxError(line.place(0).line, 1, problem, ())
        reader.take(line)
    return reader.finish()


def instructions(text: str, *, stitches: StitchTable = STITCHES) -> tuple[st.Step, ...]:
    """Return the steps that a few lines of instructions describe, without a head.

    Examples
    --------
    >>> heel = 32
    >>> for step in instructions(f"Place next {heel} sts on a holder as instep."):
    ...     print(step.name, step.stitches)
    instep 32
    """
    found = read_closely(text, stitches=stitches).pattern
    steps: tuple[st.Step, ...] = rewritten(found.steps, _without_place)
    return steps


def _without_place(thing: Any) -> Any:
    """Drop a place: a fragment's lines are not those of the pattern it will stand in."""
    return attrs.evolve(thing, at=None) if isinstance(thing, st.Step) else thing


_KEPT_HEADS = re.compile("notes?|caution|about|about this pattern|tips?|answers?")
_FOR = re.compile(r"(?:to fit|fits|for|in|available in)? ?sizes? (?=\S)", re.IGNORECASE)
_BEGINS = re.compile(
    r"(?:(?:using|with) [^.]{1,40}?,? )?(?:loosely )?(?:cast on|co) \d+", re.IGNORECASE
)
_SIZES = re.compile(r"sizes?\s+(?P<names>[^.;=]{3,60})$", re.IGNORECASE)
_ABBREVIATIONS = re.compile(r"abbreviations?\s*(?:used)?\s*:\s*\S", re.IGNORECASE)
_NUMBERED = re.compile(
    r"(?:step\s+\d{1,2}\s*[:.)–-]|\d{1,2}[.)])\s+(?=\S)|[-•–]\s+(?=\S)|\*\*+\s*(?=\S)",
    re.IGNORECASE,
)


_CLOSING = (st.BindOff, st.DrawUp, st.Graft, st.ThreeNeedleBindOff, st.WeaveIn, st.CutYarn)


class _Reader:
    """Gathers head and steps, line by line."""

    def __init__(
        self, table: StitchTable, wordings: Sequence[OwnWording], go_on: bool, explain: bool
    ) -> None:
        self.table, self.go_on, self.explain = table, go_on, explain
        self.scribe = Scribe(table, wordings)
        self.title = ""
        self.sizes: tuple[str, ...] = ()
        self.gauge: GaugeLine | None = None
        self.hand: Hand | None = None
        self.materials: list[str] = []
        self.abbreviations: list[tuple[str, str]] = []
        self.errors: list[PatternSyntaxError] = []
        self.lines: list[ReadLine] = []
        self.begun = False  # a line was read
        self.is_working = False  # an instruction was
        self.text_section = ""  # a heading whose lines are kept as text
        self.casts_on_later = False
        self.habits = Habits({})
        self.pattern_name = ""  # a stitch pattern that is written out before the work begins

    def take(self, line: Line) -> None:
        before = len(self.scribe.assembler.entries)
        try:
            kind = self._line(line)
        except PatternSyntaxError as error:
            self._lost(error, line)
            kind = "lost"
        if self.explain:
            self._explained(line, kind, before)

    def _explained(self, line: Line, kind: str, before: int) -> None:
        live = self.scribe.now()
        entries = self.scribe.assembler.entries
        steps = tuple(entry.step for entry in entries[before:])
        if not steps and kind == "instruction" and entries:
            steps = (entries[-1].step,)
        after = tuple(tally.count for tally in live.tallies)
        merged = len(entries) <= before  # rows before became part of a repeat
        while (
            entries
            and isinstance(entries[-1].step, _CLOSING)
            and (merged or len(entries) > before + 1)
        ):
            after = live.after(len(entries) - 1) or after
            entries = entries[:-1]
        numbers = [piece[1] for piece in line.pieces]
        self.lines.append(ReadLine(numbers[0], numbers[-1], line.text, kind, steps, after))

    def _lost(self, error: PatternSyntaxError, line: Line) -> None:
        error = attrs.evolve(error, source=error.source or line.text)
        if not self.go_on or len(self.errors) >= MAX_ERRORS:
            raise error from None
        self.errors.append(error)

    def _line(self, line: Line) -> str:
        text, first = line.text, not self.begun
        self.begun = True
        if text.startswith("#"):
            return self._marked_heading(line)
        tidy = self.habits.spelt_out(text, len(self.sizes))
        if head := head_in(tidy.text):
            return self._head(head[0], head[1], line)
        if _ABBREVIATIONS.match(text):
            return self._abbreviations(re.sub(r"^[^:]*:\s*", "", text))
        if not self.sizes and not self._is_working() and (named := _SIZES.match(text)):
            names = sizes_in(named["names"])
            if len(names) > 1:
                self._name_sizes(names)
                self.habits.slashed = "/" in text and len(names) > 2
                return "head"
        title = heading_in(line)
        if first and title is None and is_title(text, self.table):
            self.title = " ".join(text.split())
            return "title"
        if title is not None:
            if (first and not text.isupper()) or (first and is_title(text, self.table)):
                self.title = " ".join(text.split())
                return "title"
            return self._heading(title, line, text)
        if not self._is_working() and (found := self._before_the_work(line, tidy)):
            return found
        if _BEGINS.match(tidy.text) and not self.text_section.startswith("note"):
            self.text_section = ""  # the work begins, whatever the heading was
        if self.text_section and not is_row(tidy.text):
            return self._kept(line, tidy)
        return self._sentences(line, tidy)

    def _is_working(self) -> bool:
        if not self.is_working:
            entries = self.scribe.assembler.entries
            self.is_working = any(not isinstance(e.step, st.Note | st.Section) for e in entries)
        return self.is_working

    def _marked_heading(self, line: Line) -> str:
        title = " ".join(line.text.lstrip("#").split())
        if not title:
            at = line.place(0)
            wanted = ("a heading such as ## Leg",)
            raise PatternSyntaxError(
                at.line, at.column, "a heading without words", wanted, line.text
            )
        if line.text.startswith("##"):
            self.scribe.place = line.place(0)
            self._begin_section(title)
            self.pattern_name = ""
            return "heading"
        self.title = title
        return "title"

    def _begin_section(self, title: str) -> None:
        self.text_section = self.pattern_name = ""
        low = re.sub(r"^[a-z][.)]\s+|^part \w+\s*[-:–—]\s*", "", title.lower())
        bare = re.sub(r"\s*[(\[].*$", "", low).strip(" :-")
        if bare in TEXT_SECTIONS or bare.startswith("questions"):
            self.text_section = bare
        elif (
            self.casts_on_later
            and not self._is_working()
            and not re.match(r"cuff|toe|brim|leg|body|cast|begin|start", bare)
        ):
            self.pattern_name = bare
        self.scribe.heading(title)

    def _heading(self, title: str, line: Line, text: str) -> str:
        self.scribe.place = line.place(0)
        self._begin_section(title)
        return "heading"

    # heads and what is kept as text

    def _head(self, head: str, rest: str, line: Line) -> str:
        self.scribe.place = line.place(0)
        if not rest:
            self._begin_section(head.capitalize())
            self.text_section = head
            return "heading"
        if _KEPT_HEADS.fullmatch(head):
            self.scribe.assembler.add_plain(st.Note(rest, head == "caution", at=line.place(0)))
            return "text"
        if head == "title":
            self.title = rest
            return "title"
        if head == "hand" and rest.rstrip(".").lower() in ("left", "right"):
            self.hand = Hand.LEFT if rest.lower().startswith("l") else Hand.RIGHT
            return "head"
        if head in ("size", "sizes", "sizing") and (names := sizes_in(rest)):
            self._name_sizes(names)
            self.habits.slashed = "/" in rest and len(names) > 2
            if re.fullmatch(r"[^()\[\]]*[(\[][^()\[\]]*[)\]]\.?|[\w /.-]+", rest):
                return "head"
        elif head in ("gauge", "tension", "tension/gauge", "gauge/tension"):
            self.scribe.live.gauge = self.gauge = gauge_in(rest) or self.gauge
            if self.gauge is not None and gauge_in(rest) is not None:
                return "head"
        self._keep(f"{head.capitalize()}: {rest}" if head != "materials" else rest)
        return "head"

    def _keep(self, text: str) -> None:
        self.materials.append(" ".join(text.split()))

    def _name_sizes(self, names: tuple[str, ...]) -> None:
        self.sizes = names
        self.scribe.live.names = names if len(names) > 1 else ()

    def _abbreviations(self, rest: str) -> str:
        for entry in re.split(r"\s*;\s*", rest.strip(" .")):
            short, sign, long = entry.partition("=") if "=" in entry else entry.partition(":")
            if sign and short.strip() and long.strip():
                self._defined(short.strip(), long.strip())
        return "definition"

    def _defined(self, short: str, long: str) -> None:
        pair = (" ".join(short.split()), " ".join(long.split()).replace(";", ",").rstrip("."))
        if "=" not in pair[0] and pair[0] not in dict(self.abbreviations):
            self.abbreviations.append(pair)
        row = explained(short, long)
        if row is not None:
            self.table = with_defined(self.table, ((short, long),))
            self.scribe.define(short, called_in(self.table, row) or row.key, self.table)

    def _before_the_work(self, line: Line, tidy: MappedText) -> str:
        """Take a line that stands before anything is cast on; "" if it is an instruction."""
        self.scribe.place = line.place(0)
        text = tidy.text
        only = only_sizes(text, 0, self.sizes)
        if not self.text_section and (only or (label_of(text) is None and self._parses_all(text))):
            return ""
        if (
            not self.sizes
            and (names := sizes_in(_FOR.sub("", text), sure=self._says_sizes(text)))
            and len(names) > 1
        ):
            self._name_sizes(names)
            self.habits.slashed = "/" in text and len(names) > 2
            rest = re.sub(r"^[^)\]]*[)\]]\s*", "", text)
            if rest:
                self._keep(text)
            return "head"
        if self.gauge is None and (gauge := gauge_in(text)):
            self.scribe.live.gauge = self.gauge = gauge
            return "head"
        if self.text_section.startswith("abbreviations") and ";" in text:
            return self._abbreviations(text)
        label = label_of(text)
        if re.match(r"\w+: (?:cast on|co) \d", text, re.IGNORECASE) and not self.text_section:
            return ""
        if label is None and (found := definition(text)):
            self._defined(*found)
            return "definition"
        if label is not None and self.pattern_name:
            return self._pattern_row(line, tidy)
        if re.search(
            r"\b(?:cast(?:ing)? on|co)\b\s+(?:\d|only)|\b(?:cast on|co)\b[^.]*\d",
            text,
            re.IGNORECASE,
        ) and not self.text_section.startswith("note"):
            return ""
        if label is not None:
            return ""
        self.scribe.note(text)
        return "text"

    def _says_sizes(self, text: str) -> bool:
        return self.text_section in ("sizes", "size") or bool(_FOR.match(text))

    def _parses_all(self, text: str) -> bool:
        sentences = (sentence for _, sentence in sentences_in(text))
        return any(isinstance(sentence_in(one, self.table), Sentence) for one in sentences)

    def _pattern_row(self, line: Line, tidy: MappedText) -> str:
        """Keep a row of a stitch pattern: it is worked where the pattern is named."""
        scribe = self.scribe
        rows = scribe.context.patterns.setdefault(self.pattern_name, {})
        kept = list(scribe.assembler.entries)
        scribe.context.rows = rows
        with contextlib.suppress(Lost, PatternSyntaxError, StepError, SizeError):
            say(scribe, tidy)
        rows.update(scribe.context.rows)
        scribe.assembler.entries[:] = kept
        scribe.claims.pop((scribe.place.line, scribe.place.column), None)
        scribe.assembler.last, scribe.assembler.kind = 0, None
        scribe.assembler.remarks.clear()
        scribe.note(tidy.text)
        return "definition"

    def _kept(self, line: Line, tidy: MappedText) -> str:
        self.scribe.place = line.place(0)
        found = definition(tidy.text)
        if found is not None and self.text_section in TEXT_SECTIONS:
            self._defined(*found)
            return "definition"
        self.scribe.note(tidy.text)
        return "text"

    # instructions

    def _sentences(self, line: Line, tidy: MappedText) -> str:
        scribe = self.scribe
        if self.habits.is_for_the_other(tidy.text, self._titles):
            scribe.place = line.place(0)
            scribe.note(tidy.text)
            if described_elsewhere(scribe, tidy.text):
                self._anchor(scribe.place, tidy)
            return "text"
        scribe.first_line = line.pieces[0][1]
        start = 0
        if match := _NUMBERED.match(tidy.text):
            start = match.end()
        scribe.only = ()
        if only := only_sizes(tidy.text, start, self.sizes):
            names = re.split(r"\s*,\s*(?:and\s+)?|\s+and\s+|\s*&\s*", only["names"].strip())
            known = {name.lower(): name for name in self.sizes}
            scribe.only = tuple(known.get(name.lower(), name) for name in names)
            start = only.end()
            tidy = with_all_sizes(tidy, start, scribe.only, self.sizes)
        kinds = []
        before = scribe.context.named.get("last")
        try:
            for offset, sentence in sentences_in(tidy.text, start):
                kinds.append(self._sentence(line, tidy.piece(offset, offset + len(sentence))))
        finally:
            scribe.only = ()
        if match and (number := re.search(r"\d+", match[0])):
            scribe.name_step(int(number[0]), before)
        for kind in ("lost", "instruction", "count", "definition"):
            if kind in kinds:
                return kind
        return "text"

    def _titles(self) -> str:
        entries = self.scribe.assembler.entries
        return " ".join(e.step.title for e in entries if isinstance(e.step, st.Section)).lower()

    def _sentence(self, line: Line, said: MappedText) -> str:
        scribe = self.scribe
        place = scribe.place = line.place(said.at[0])
        kept, remarks = list(scribe.assembler.entries), len(scribe.remarks)
        try:
            kind = say(scribe, said)
            if kind == "text" and self._is_working():
                described_elsewhere(scribe, said.text)
            self._anchor(place, said)
        except (Lost, PatternSyntaxError, StepError, SizeError, ValueError) as problem:
            # a ValueError: two lists of numbers by size that have to do with each other differ
            scribe.assembler.entries[:] = kept
            del scribe.remarks[remarks:]
            scribe.place = place
            self._lost(self._error(line, said, problem), line)
            scribe.note(said.text)
            scribe.claims.pop((place.line, place.column), None)
            scribe.claim("lost", 0)
            return "lost"
        return kind

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
            parse_sentence(said.text, self.table)
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
        pattern = self._pattern(steps)
        remarks = tuple(sorted(noticed, key=lambda one: (one.line, one.column)))
        return Reading(
            pattern,
            remarks,
            tuple(self.errors),
            dict(scribe.claims),
            tuple(self.lines),
            scribe.loose,
        )

    def _pattern(self, steps: tuple[st.Step, ...]) -> Pattern:
        try:
            pattern = Pattern(
                self.title, steps, sizes=self._sizes(steps), gauge=self.gauge,
                materials=tuple(self.materials),
                abbreviations=tuple(self.abbreviations),
                **({} if self.hand is None else {"hand": self.hand}),
            )  # fmt: skip
            if pattern.size_count > 1:
                noted = tuple(with_numbers(step, pattern.size_count) for step in pattern.steps)
                pattern = attrs.evolve(pattern, steps=noted)
            return pattern
        except StepError as error:
            if not self.go_on:
                raise PatternSyntaxError(1, 1, error.problem, ()) from None
            return Pattern("", ())

    def _sizes(self, steps: tuple[st.Step, ...]) -> tuple[str, ...]:
        """Leave names out that can't be those of sizes: most numbers have other entries."""
        if len(self.sizes) < 2 or not self.scribe.loose:
            return self.sizes
        found = Counter(entries_in(steps))
        if found and found.most_common(1)[0][0] != len(self.sizes) and len(self.sizes) not in found:
            return ()
        return self.sizes


guard(globals())
