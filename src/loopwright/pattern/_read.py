"""Read instructions as designers write them: a head, headings, and one sentence after another.

A line goes on in the next one where it ends with a comma or semicolon, or where the next line is
indented. A repeat of rounds ("rep rnds 1 and 2 …") is resolved to the rounds it names, so that a
pattern holds no numbers that could go stale.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import attrs

from loopwright.errors import PatternSyntaxError, SizeError, StepError
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.making import Hand
from loopwright.pattern import steps as st
from loopwright.pattern._assemble import Assembler
from loopwright.pattern._builder import Remark
from loopwright.pattern._contents import rewritten
from loopwright.pattern._parse import parse_sentence
from loopwright.pattern._parts import part_named
from loopwright.pattern.program import MATERIAL_HEADS, GaugeLine, Pattern
from loopwright.pattern.values import Length, Sized

__all__ = ["Located", "Reading", "instructions", "read", "read_closely"]

MAX_ERRORS = 100  # behind as many the file is something else than a pattern
MAX_TEXT = 2_000_000  # characters; the longest printed pattern books stay below

_HEAD = re.compile(
    r"(?P<head>title|sizes?|hand|gauge|tension|abbreviations|note|caution|"
    + "|".join(MATERIAL_HEADS) + r")\s*:\s*(?P<rest>.*)$",
    re.IGNORECASE,
)  # fmt: skip
_ONLY = re.compile(r"sizes?\s+(?P<names>[^:]+?)\s+only\s*:\s*", re.IGNORECASE)
_COUNTED = r"[(\[]\s*=?\s*\d+[^)\]a-z]*[)\]]?\s*(?:sts?|stitches)\b"
_BOUNDARY = re.compile(
    rf"(?<=\.)\s+(?=[A-Z*(\[])(?!{_COUNTED})|(?<=st[)\]]|ts[)\]]|es[)\]])\s+(?=[A-Z*])"
)
_GAUGE = re.compile(
    r"(?P<sts>\d+(?:\.\d+)?)\s*(?:sts?|stitches)\s*(?:and|x|×|,|&|/)\s*(?P<rnds>\d+(?:\.\d+)?)\s*"
    r"(?:rnds?|rounds?|rows?)\s*(?:=|to|over|in|per)\s*(?P<over>\d+(?:\.\d+)?)\s*"
    r"(?P<unit>cm|mm|inches|inch|in)\b(?:\s*\([^)]*\))?(?:\s+in\s+(?P<fabric>.+?))?\.?$",
    re.IGNORECASE,
)


@attrs.frozen
class Located:
    """A remark with its place in the text."""

    kind: str
    text: str
    line: int
    column: int


@attrs.frozen
class Reading:
    """A pattern, and what a close reader noticed on the way.

    ``errors`` holds what could not be read, where the reader was asked to go on behind it.
    """

    pattern: Pattern
    remarks: tuple[Located, ...]
    errors: tuple[PatternSyntaxError, ...] = ()


@attrs.frozen
class _Line:
    """A logical line: its text, and where its pieces stood."""

    text: str
    pieces: tuple[tuple[int, int, int], ...]  # offset in `text`, line, column

    def place(self, offset: int) -> st.Place:
        line, column = 1, 1
        breaks = []
        for start, at_line, at_column in self.pieces:
            if start <= offset:
                line, column = at_line, at_column + offset - start
            else:
                breaks.append((start - offset + 1, at_line, at_column))
        return st.Place(line, column, tuple(breaks))


def read(text: str, *, stitches: StitchTable = STITCHES) -> Pattern:
    """Return the pattern that a text describes.

    Parameters
    ----------
    text : str
        Instructions in American or British words; see the documentation for the language.
    stitches : StitchTable
        With stitches of your own, where the text uses any.

    Raises
    ------
    PatternSyntaxError
        Carries ``line``, ``column``, ``found`` and what was ``expected``.

    Examples
    --------
    >>> pattern = read("CO 8. Join in the round. Rnd 1: *K2, k2tog; rep from * to end. (6 sts)")
    >>> pattern.steps[2].count
    6
    """
    return read_closely(text, stitches=stitches).pattern


def read_closely(text: str, *, stitches: StitchTable = STITCHES, go_on: bool = False) -> Reading:
    """Return the pattern, and remarks on wording that reads two ways.

    With `go_on` a line that cannot be read is left out and reported among ``errors``.
    """
    if len(text) > MAX_TEXT:
        raise PatternSyntaxError(1, 1, f"the text is longer than {MAX_TEXT} characters", ())
    reader = _Reader(stitches)
    errors: list[PatternSyntaxError] = []
    for line in _logical_lines(text):
        try:
            reader.take(line)
        except PatternSyntaxError as error:
            if not go_on or len(errors) == MAX_ERRORS:
                raise
            errors.append(error)
    try:
        return attrs.evolve(reader.finish(), errors=tuple(errors))
    except PatternSyntaxError as error:
        if not go_on:
            raise
        return Reading(Pattern("", ()), (), (*errors, error))


def instructions(text: str, *, stitches: StitchTable = STITCHES) -> tuple[st.Step, ...]:
    """Return the steps that a few lines of instructions describe, without a head.

    Examples
    --------
    >>> heel = 32
    >>> for step in instructions(f"Place next {heel} sts on a holder as instep."):
    ...     print(step.name, step.stitches)
    instep 32
    """
    steps: tuple[st.Step, ...] = rewritten(read(text, stitches=stitches).steps, _without_place)
    return steps


def _without_place(thing: Any) -> Any:
    """Drop a place: a fragment's lines are not those of the pattern it will stand in."""
    return attrs.evolve(thing, at=None) if isinstance(thing, st.Step) else thing


def _logical_lines(text: str) -> Iterator[_Line]:
    """Join wrapped lines, and keep where each piece stood."""
    pieces: list[tuple[int, int, int]] = []
    joined = ""
    for number, raw in enumerate(text.split("\n"), start=1):
        bare = raw.strip()
        indent = len(raw) - len(raw.lstrip())
        if joined and bare and (indent or _goes_on(joined)):
            joined += " "
            pieces.append((len(joined), number, indent + 1))
            joined += bare
            continue
        if joined:
            yield _Line(joined, tuple(pieces))
        joined, pieces = bare, [(0, number, indent + 1)]
    if joined:
        yield _Line(joined, tuple(pieces))


def _goes_on(line: str) -> bool:
    """Tell whether instructions stop in their midst; headings and remarks may end as they like."""
    return line.endswith((",", ";")) and not line.startswith("#") and not _HEAD.match(line)


class _Reader:
    """Gathers head and steps, line by line."""

    def __init__(self, table: StitchTable) -> None:
        self.table = table
        self.head: dict[str, object] = {"title": ""}
        self.materials: list[str] = []
        self.assembler = Assembler()
        self.remarks: list[Located] = []
        self.begun = False

    def take(self, line: _Line) -> None:
        try:
            self._take(line)
        except PatternSyntaxError as error:
            raise attrs.evolve(error, source=error.source or line.text) from None

    def _take(self, line: _Line) -> None:
        text, first = line.text, not self.begun
        self.begun = True
        if text.startswith("#"):
            self._heading(line)
        elif head := _HEAD.match(text):
            self._head(
                head["head"].lower(), " ".join(head["rest"].split()), line, head.start("rest")
            )
        elif only := _ONLY.match(text):
            names = re.split(r"\s*,\s*(?:and\s+)?|\s+and\s+", only["names"])
            self._sentences(line, only.end(), tuple(names))
        elif text.isupper() and not re.search(r"[\d:;,.*\[(]", text):
            self._section(" ".join(text.split()), line)
        elif first and not re.search(r"\d|[:.;]", text) and not self._is_sentence(text):
            self.head["title"] = " ".join(text.split())
        else:
            self._sentences(line, 2 if text[:2] in ("- ", "• ") else 0, ())

    def _is_sentence(self, text: str) -> bool:
        try:
            parse_sentence(text, self.table)
        except PatternSyntaxError:
            return False
        return True

    def _heading(self, line: _Line) -> None:
        title = " ".join(line.text.lstrip("#").split())
        if not title:
            raise _error(line, 0, "a heading without words", "a heading such as ## Leg")
        if line.text.startswith("##"):
            self._section(title, line)
        else:
            self.head["title"] = title

    def _section(self, title: str, line: _Line) -> None:
        section = st.Section(title, part=part_named(title), at=line.place(0))
        self.assembler.add_plain(section)

    def _head(self, head: str, rest: str, line: _Line, offset: int) -> None:
        if not rest:
            raise _error(line, offset, f"nothing follows {head!r}", "a text after the colon")
        if head in ("note", "caution"):
            note = st.Note(rest, head == "caution", at=line.place(0))
            self.assembler.add_plain(note)
        elif head in MATERIAL_HEADS:
            self.materials.append(rest if head == "materials" else f"{head.capitalize()}: {rest}")
        elif head == "title":
            self.head["title"] = rest
        elif head in ("size", "sizes"):
            self.head["sizes"] = _sizes(rest)
        elif head == "hand":
            self.head["hand"] = _hand(rest, line, offset)
        elif head == "abbreviations":
            self.head["abbreviations"] = _abbreviations(rest, line, offset)
        else:
            self.head["gauge"] = _gauge(rest, line, offset)

    def _sentences(self, line: _Line, offset: int, only: tuple[str, ...]) -> None:
        for start, text in _split(line.text, offset):
            place = line.place(start)
            try:
                sentence = parse_sentence(text, self.table)
            except PatternSyntaxError as error:
                where = line.place(start + error.column - 1)
                source = line.text if len(line.pieces) == 1 else text
                shift = line.pieces[0][2] - 1 if len(line.pieces) == 1 else 0
                raise attrs.evolve(
                    error, line=where.line, column=where.column, source=" " * shift + source
                ) from None
            try:
                self.assembler.add(sentence, place, only)
            except (StepError, SizeError) as error:
                raise PatternSyntaxError(place.line, place.column, error.problem, ()) from None
            self._note(sentence.remarks, place)

    def _note(self, remarks: tuple[Remark, ...], place: st.Place) -> None:
        for remark in remarks:
            at = place.within(remark.column)
            self.remarks.append(Located(remark.kind, remark.text, at.line, at.column))

    def finish(self) -> Reading:
        steps = self.assembler.finish()
        noticed = [
            Located(kind, text, at.line, at.column) for kind, text, at in self.assembler.remarks
        ]
        try:
            pattern = Pattern(steps=steps, materials=tuple(self.materials), **self.head)  # type: ignore[arg-type]
            if pattern.size_count > 1:
                noted = tuple(_with_numbers(step, pattern.size_count) for step in pattern.steps)
                pattern = attrs.evolve(pattern, steps=noted)
        except StepError as error:
            raise PatternSyntaxError(1, 1, error.problem, ()) from None
        remarks = sorted(self.remarks + noticed, key=lambda one: (one.line, one.column))
        return Reading(pattern, tuple(remarks))


_BY_SIZE = re.compile(r"(\d+(?:\.\d+)?) \((\d+(?:\.\d+)?(?:, \d+(?:\.\d+)?)*)\)")


def _with_numbers(step: st.Step, sizes: int) -> st.Step:
    """Return a note with the numbers that its text gives by size, as ``24 (28, 32)``, apart."""
    if isinstance(step, st.OnlySizes):
        return attrs.evolve(step, step=_with_numbers(step.step, sizes))
    if not isinstance(step, st.Note) or "{}" in step.text:
        return step
    numbers: list[Sized] = []

    def apart(found: re.Match[str]) -> str:
        entries = (found[1], *found[2].split(", "))
        value = Sized(tuple(float(one) if "." in one else int(one) for one in entries))
        if len(entries) != sizes or str(value) != found[0]:
            return found[0]
        numbers.append(value)
        return "{}"

    text = _BY_SIZE.sub(apart, step.text)
    return attrs.evolve(step, text=text, numbers=numbers) if numbers else step


def _split(text: str, offset: int) -> Iterator[tuple[int, str]]:
    """Yield the sentences of a line, with the offset of each."""
    start = offset
    for boundary in _BOUNDARY.finditer(text, offset):
        if text[start : boundary.start()].strip():
            yield start, text[start : boundary.start()]
        start = boundary.end()
    if text[start:].strip():
        lead = len(text[start:]) - len(text[start:].lstrip())
        yield start + lead, text[start + lead :]


def _error(line: _Line, offset: int, found: str, *expected: str) -> PatternSyntaxError:
    at = line.place(offset)
    return PatternSyntaxError(at.line, at.column, found, expected, line.text)


def _hand(text: str, line: _Line, offset: int) -> Hand:
    word = text.rstrip(".").lower()
    if word not in ("left", "right"):
        raise _error(line, offset, f"no hand is called {text!r}", "left or right")
    return Hand.LEFT if word == "left" else Hand.RIGHT


def _sizes(text: str) -> tuple[str, ...]:
    names = re.split(r"\s*[,;(\[\])]\s*", text.rstrip(" ."))
    return tuple(name for name in (" ".join(name.split()) for name in names) if name)


def _abbreviations(text: str, line: _Line, offset: int) -> tuple[tuple[str, str], ...]:
    pairs = []
    for entry in text.split(";"):
        short, sign, long = entry.partition("=") if "=" in entry else entry.partition(":")
        if not (sign and short.strip() and long.strip()):
            raise _error(line, offset, f"{entry.strip()!r} explains nothing", "k = knit; p = purl")
        pairs.append((short.strip(), long.strip()))
    return tuple(pairs)


def _gauge(text: str, line: _Line, offset: int) -> GaugeLine:
    match = _GAUGE.match(text)
    if match is None:
        raise _error(line, offset, "not a gauge", "32 sts and 44 rnds = 10 cm in stocking stitch")
    unit = match["unit"].lower()
    try:
        over = Length(_plain(match["over"]), "in" if unit.startswith("in") else unit)
        fabric = " ".join((match["fabric"] or "").split())
        return GaugeLine(_plain(match["sts"]), _plain(match["rnds"]), over, fabric)
    except (StepError, SizeError) as error:
        raise _error(line, offset, error.problem, "a gauge above nothing") from None


def _plain(text: str) -> int | float:
    value = float(text[:12])
    return int(value) if value.is_integer() else value
