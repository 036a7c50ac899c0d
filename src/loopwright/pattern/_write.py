"""Write a pattern as instructions, in the language that ``read`` reads.

The writer has one form for each thing and always the one that reads one way only: a repeat is
"another 7 times (8 times in all)", a slip says purlwise or knitwise and where the yarn is.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

import attrs

from loopwright.choice import Choice
from loopwright.errors import StepError
from loopwright.making import Hand
from loopwright.pattern import steps as st
from loopwright.pattern._contents import rewritten, rounds_in
from loopwright.pattern._step_words import step_words, sts
from loopwright.pattern._words import spelt
from loopwright.pattern._yarn_words import in_yarn, yarn_words
from loopwright.pattern.items import (
    Item,
    Lift,
    Mark,
    Marking,
    On,
    PickUp,
    Repeat,
    Run,
    Stay,
    Turn,
    With,
    WorkPanel,
    WrapTurn,
)
from loopwright.pattern.panels import PanelRounds
from loopwright.pattern.program import MATERIAL_HEADS, GaugeLine, Pattern, of_size
from loopwright.pattern.values import (
    Amount,
    Count,
    Sized,
    To,
    UntilCount,
    UntilMeasures,
    UntilWorked,
    Where,
    at_size,
    plus,
    sized,
    values_of,
)
from loopwright.plurals import nth

__all__ = ["Words", "in_words", "in_words_alone", "lines_by_step", "write"]


class Words(Choice):
    """American or British terms.

    Examples
    --------
    >>> from loopwright.pattern.steps import BindOff
    >>> in_words(BindOff(), words=Words.US), in_words(BindOff(), words=Words.UK)
    ('Bind off all sts.', 'Cast off all sts.')
    """

    US = "US"
    UK = "UK"

    def said(self, text: str) -> str:
        """Return a text in American words in these.

        Examples
        --------
        >>> Words.UK.said("A stretchy bind-off")
        'A stretchy cast-off'
        """
        if self is Words.UK:
            for american, british in _BRITISH.items():
                text = text.replace(american, british)
                text = text.replace(american.capitalize(), british.capitalize())
        return text


_BRITISH = {
    "bind off": "cast off", "bind-off": "cast-off", "bound off": "cast off", "Gauge": "Tension",
}  # fmt: skip
_STITCHES_US = {
    "sl": "sl {n} pwise wyib", "slf": "sl {n} pwise wyif",
    "slk": "sl {n} kwise wyib", "slkf": "sl {n} kwise wyif",
    "ktbl": "k{n} tbl", "ptbl": "p{n} tbl", "k": "k{n}", "p": "p{n}",
}  # fmt: skip
_EVEN_CROSSING = re.compile(r"(\d+)/\1([lr])c")  # in British terms C4F (held in front), C4B
_STITCHES_UK = {"skp": "skpo", "sk2p": "sk2po", "cdd": "s2kpo"}
_MARKS = {
    Marking.PLACE: "place marker",
    Marking.SLIP: "slip marker",
    Marking.REMOVE: "remove marker",
}


def write(pattern: Pattern, *, words: Words | str = Words.US, size: str | int | None = None) -> str:
    """Return the pattern as instructions.

    Parameters
    ----------
    pattern : Pattern
    words : Words or str
        American or British terms.
    size : str or int, optional
        One size only; all sizes with brackets where it is left out.

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> tube = read("CO 48 (56) sts. Join in the round. Rnds 1-3: *K1, p1; rep from * around.")
    >>> print(write(tube, size=1), end="")
    Cast on 56 sts, long-tail.
    Join to work in the round.
    Rnds 1-3: *K1, p1; rep from * to end.
    """
    if size is not None:
        pattern = of_size(pattern, size)
    writer = _Writer(Words(words), sizes=pattern.sizes)
    return writer.text(pattern)


def lines_by_step(
    pattern: Pattern, *, words: Words | str = Words.US
) -> tuple[tuple[st.Step, tuple[str, ...]], ...]:
    """Return each step with the lines that `write` writes for it; a heading's begins a paragraph.

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> ring = read("CO 8 sts. Join in the round. Rnds 1-3: Knit. BO all sts.")
    >>> [lines for _, lines in lines_by_step(ring)][2]
    ('Rnds 1-3: Knit.',)
    """
    writer = _Writer(Words(words), sizes=pattern.sizes)
    return tuple((step, tuple(writer.lines(step))) for step in pattern.steps)


def in_words(step: st.Step, *, words: Words | str = Words.US) -> str:
    """Return one step as a sentence, as messages name it."""
    return " ".join(_Writer(Words(words)).lines(step))


_FIRST = re.compile(r"^(Rnd|Row) 1\b")


def in_words_alone(step: st.Step) -> str:
    """Return one step as a sentence without a number: that of a row follows from those before."""
    text = in_words(step)
    return _FIRST.sub(r"\1", text) if isinstance(step, st.Round | st.Row) else text


@attrs.define
class _Writer:
    words: Words
    number: int = 0
    kind: type[st.Step] | None = None
    unnumbered: bool = False  # the last rounds took no numbers: one that follows them has none
    sizes: tuple[str, ...] = ()  # of the pattern
    each: str = "on each needle"  # "on each half" where the stitches lie in two named parts

    def text(self, pattern: Pattern) -> str:
        head = list(self._head(pattern))
        body = [line for step in pattern.steps for line in self.lines(step)]
        lines = [*head, *([""] if head and body and not body[0].startswith("\n") else []), *body]
        return "".join(f"{line}\n" for line in lines).lstrip("\n")

    def _head(self, pattern: Pattern) -> Iterator[str]:
        if pattern.title:
            yield f"# {pattern.title}"
        if pattern.sizes:
            first, *others = pattern.sizes
            yield f"Sizes: {first} ({', '.join(others)})" if others else f"Sizes: {first}"
        if pattern.hand is Hand.LEFT:
            yield "Hand: left"
        for line in pattern.materials:
            yield line if _has_own_head(line) else f"Materials: {line}"
        if pattern.gauge:
            yield self.words.said(f"Gauge: {_gauge(pattern.gauge)}")
        if pattern.abbreviations:
            listed = "; ".join(f"{short} = {long}" for short, long in pattern.abbreviations)
            yield f"Abbreviations: {listed}"

    def lines(self, step: st.Step) -> Iterator[str]:
        """Yield the lines of one step."""
        if isinstance(step, st.Section):
            self.number, self.kind, self.unnumbered = 0, None, False
            yield f"\n## {step.title}"
        elif isinstance(step, st.Note):
            yield f"{'Caution' if step.caution else 'Note'}: {step.words}"
        elif isinstance(step, st.OnlySizes):
            inner = next(self._unnumbered(_of_these(step, self.sizes)))
            yield f"{_only(step.sizes)}: {inner}"
        elif isinstance(step, st.RepeatRounds):
            yield from self._repeat(step, inside=False)
        elif isinstance(step, PanelRounds):
            for number, items in enumerate(step.rounds, start=1):
                yield f"Panel rnd {number}: {self.items(items)}."
        elif isinstance(step, st.Round | st.Row):
            if self.unnumbered and self.kind in (None, type(step)):
                yield from self._unnumbered(step)
            else:
                yield self._numbered(step, 1, step.count)
        else:
            if isinstance(step, st.Arrange):
                self.number, self.kind, self.unnumbered = 0, None, False  # shared out again
                in_halves = len(step.parts) == 2 and step.parts[0][0] != "needle 1"
                self.each = "on each half" if in_halves else "on each needle"
            yield _sentence(self.words.said(_plain(step, self)), step.count)

    def _unnumbered(self, step: st.Step) -> Iterator[str]:
        """Write a round that only some sizes work: it takes no number."""
        if isinstance(step, st.RepeatRounds):
            yield self._next(step)
        elif isinstance(step, st.Round | st.Row):
            yield _sentence(
                f"Next {_course(step)}{_side(step)}: {self.items(step.items)}", step.count
            )
        else:
            yield from self.lines(step)

    def _next(self, step: st.RepeatRounds) -> str:
        """Write one round for several times without a number, ``Next 10 (12) rnds``."""
        (once,) = step.steps
        assert isinstance(once, st.Round | st.Row)
        self.unnumbered = True
        if isinstance(step.times, UntilMeasures):
            length = step.times.length
            label = f"Next {length}"
            if step.times.since == "cast-on":
                label = f"Until piece measures {length} from cast-on"
            elif step.times.since == "wanted":
                label = _wanted(step.times).capitalize()
        else:
            label = f"Next {step.times} {_course(once)}s"
        return _sentence(f"{label}: {self.items(once.items)}", step.count)

    def _numbered(self, step: st.Round | st.Row, times: int, count: Count | None) -> str:
        if type(step) is not self.kind:
            self.number, self.kind = 0, type(step)
        self.unnumbered = False
        first, self.number = self.number + 1, self.number + times
        name = _course(step).capitalize()
        numbers = f"{name} {first}" if times == 1 else f"{name}s {first}-{self.number}"
        return _sentence(f"{numbers}{_side(step)}: {self.items(step.items)}", count)

    def _repeat(self, step: st.RepeatRounds, *, inside: bool) -> Iterator[str]:
        once = step.steps[0]
        if len(step.steps) == 1 and isinstance(once, st.Round | st.Row) and step.every == 1:
            if isinstance(step.times, int) and step.times > 1 and once.count is None:
                yield self._numbered(once, step.times, step.count)
                return
            bare = once.count is None and (isinstance(once, st.Round) or once.side is None)
            counted = isinstance(step.times, int | Sized)
            measured = isinstance(step.times, UntilMeasures) and isinstance(once, st.Round)
            if not inside and bare and (counted or measured):
                yield self._next(step)
                return
        if isinstance(step.times, int | Sized) and min(values_of(step.times)) < 2:
            yield from self._headed(step)
            return
        many = _of_many_sizes(step)
        body, ends = self._body(step, by_size=many is not None)
        yield from body
        again = self._again(step, ends) if many is None else self._last(step, many)
        yield _sentence(again, step.count)

    def _body(
        self, step: st.RepeatRounds, *, by_size: bool = False
    ) -> tuple[list[str], list[tuple[int, int]]]:
        """Write the rounds of a repeat; also the first and last number of each of its steps.

        Rounds whose number goes `by_size` have none of their own.
        """
        lines: list[str] = []
        spans = []
        for inner in step.steps:
            if isinstance(inner, st.UseYarn | st.CutYarn):
                lines += self.lines(inner)
                spans.append((self.number, self.number))
                continue
            kind = type(next(iter(rounds_in((inner,)))))
            before = self.number if kind is self.kind else 0
            if isinstance(inner, st.RepeatRounds):
                alike = by_size and isinstance(inner.times, Sized)
                lines += [self._next(inner)] if alike else self._repeat(inner, inside=True)
            else:
                assert isinstance(inner, st.Round | st.Row)
                lines.append(self._numbered(inner, 1, inner.count))
            spans.append((before + 1, self.number))
        return lines, spans

    def _headed(self, step: st.RepeatRounds) -> Iterator[str]:
        """Write a repeat that some sizes work once or never: the number of times stands first."""
        body, spans = self._body(step)
        many = spans[-1][1] - spans[0][0] + 1
        name = _course(next(iter(rounds_in(step.steps))))
        label = f"Work next {many} {name}{'s' if many > 1 else ''}{_every(step, name)}"
        times = step.times
        if isinstance(times, Sized) and len(times.values) == len(self.sizes):
            working = [
                (name, many) for name, many in zip(self.sizes, times.values, strict=True) if many
            ]
            times = sized([int(many) for _, many in working])
            if len(working) < len(self.sizes):
                label = f"{_only([name for name, _ in working])}: {label}"
        often = "once" if times == 1 else f"{times} times"
        label = f"{label} {often} in all{_ending(step, name, spans)}:"
        yield label if step.count is None else f"{label} {_stated(step.count)}"
        yield from body

    def _last(self, step: st.RepeatRounds, many: Sized) -> str:
        name = _course(next(iter(rounds_in(step.steps))))
        return f"Rep the last {many} {name}s {_until(step.times)}"

    def _again(self, step: st.RepeatRounds, spans: list[tuple[int, int]]) -> str:
        name = _course(next(iter(rounds_in(step.steps))))
        rounds = [
            span
            for span, inner in zip(spans, step.steps, strict=True)
            if not isinstance(inner, st.UseYarn | st.CutYarn)
        ]
        first, last = rounds[0][0], rounds[-1][1]
        which = f"{name} {first}"
        if last == first + 1:
            which = f"{name}s {first} and {last}"
        elif last > first:
            which = f"{name}s {first}-{last}"
        return f"Rep {which}{_every(step, name)} {_until(step.times)}{_ending(step, name, spans)}"

    # items

    def items(self, items: tuple[Item, ...], *, nested: bool = False) -> str:
        """Return items as they stand in a line, the first word with a capital if not nested."""
        alone = not nested and sum(not isinstance(item, With) for item in items) == 1
        text = self._listed(items, nested=nested, alone=alone)
        return text if nested else _capital(text)

    def _listed(self, items: tuple[Item, ...], *, nested: bool, alone: bool) -> str:
        """Return items one after the other; where yarns take turns, each run has its yarn."""
        takes_turns = nested or sum(isinstance(item, With) for item in items) > 1
        text, yarn = "", ""
        for item, following in zip(items, (*items[1:], None), strict=True):
            if isinstance(item, With) and takes_turns and isinstance(following, Run):
                yarn = item.yarn
                continue
            joint = "" if not text else "; " if isinstance(item, On) else ", "
            text += joint + self.item(item, nested=nested, alone=alone and not yarn)
            text += f" {in_yarn(yarn)}" if yarn else ""
            yarn = ""
        return text

    def item(self, item: Item, *, nested: bool = False, alone: bool = False) -> str:
        """Return one item."""
        if isinstance(item, Run):
            return self._run(item, alone=alone)
        if isinstance(item, Repeat):
            inner = self.items(item.items, nested=True)
            if not isinstance(item.times, To):
                return f"[{inner}] {_times(item.times)}"
            if nested:
                return f"[{inner}] {_to(item.times)}"
            return f"*{inner}; rep from * {_to(item.times)}"
        if isinstance(item, On):
            alone = len(item.items) == 1
            inner = self._listed(item.items, nested=True, alone=alone)
            return f"{_parts(item.parts) or self.each}: {inner}"
        if isinstance(item, Mark):
            return _MARKS[Marking(item.doing)] + (f" {item.name}" if item.name else "")
        if isinstance(item, With):
            return f"with {yarn_words(item.yarn)}"
        if isinstance(item, WorkPanel):
            return "work panel"
        if isinstance(item, PickUp):
            twisted = " tbl" if item.twisted else ""
            return f"pick up and knit {sts(item.amount)}{twisted} along {item.along}"
        if isinstance(item, Lift):
            place = "corner" if item.strand == "across" else "st"
            told = "" if item.stitch == "m1l" else f" with {'last' if item.beyond else 'next'} st"
            return f"lift strand {item.strand} {place} and {item.stitch}{told}"
        if isinstance(item, Turn):
            return "turn"
        if isinstance(item, WrapTurn):
            return "w&t"
        assert isinstance(item, Stay)
        return "do not turn"

    def _run(self, run: Run, *, alone: bool) -> str:
        wraps = " with wraps" if run.with_wraps else ""
        key = run.stitch
        if self.words is Words.UK:
            key = _STITCHES_UK.get(key, key)
        form = _STITCHES_US.get(run.stitch)
        even = _EVEN_CROSSING.fullmatch(key) if self.words is Words.UK else None
        key = f"C{2 * int(even[1])}{'FB'['lr'.index(even[2])]}" if even else spelt(key)
        if isinstance(run.amount, To):
            if alone and run.stitch in ("k", "p") and run.amount == To() and not wraps:
                return "knit" if run.stitch == "k" else "purl"
            if form is None:
                return f"{key} {_to(run.amount)}{wraps}"
            stem, _, manner = form.partition("{n}")
            return f"{stem.strip()} {_to(run.amount)}{manner}{wraps}"
        if form is not None:
            return form.format(n=run.amount) + wraps
        return (key if run.amount == 1 else f"{key} {_times(run.amount)}") + wraps


def _plain(step: st.Step, writer: _Writer) -> str:
    if isinstance(step, st.Part):
        return writer.items(step.items)
    return step_words(step)


def _sentence(text: str, count: Count | None) -> str:
    return f"{text}." if count is None else f"{text}. {_stated(count)}"


def _stated(count: Count) -> str:
    return f"({sts(count)})"


def _only(names: Sequence[str]) -> str:
    *others, last = names
    return f"Sizes {', '.join(others)} and {last} only" if others else f"Size {last} only"


def _of_these(step: st.OnlySizes, sizes: tuple[str, ...]) -> st.Step:
    """Return what some sizes work, with numbers for them alone where the others have 0."""
    theirs = [at for at, name in enumerate(sizes) if name in step.sizes]

    def kept(value: Any) -> Any:
        if not isinstance(value, Sized) or len(value.values) != len(sizes):
            return value
        found = sized([value.values[at] for at in theirs])
        rest = [entry for at, entry in enumerate(value.values) if at not in theirs]
        return found if isinstance(found, Sized) and not any(rest) else value

    told: st.Step = rewritten(step.step, kept)
    return told


def _of_many_sizes(step: st.RepeatRounds) -> Sized | None:
    """Return how many rounds are repeated, where that goes by size and has to be said so."""
    rounds: list[Count] = []
    for inner in step.steps:
        if isinstance(inner, st.Round | st.Row):
            rounds.append(1)
            continue
        if not isinstance(inner, st.RepeatRounds) or not isinstance(inner.times, int | Sized):
            return None
        (once, *others), often = inner.steps, values_of(inner.times)
        bare = isinstance(once, st.Round | st.Row) and once.count is inner.count is None
        if others or not bare or inner.every != 1 or min(often) < 1:
            return None
        rounds.append(inner.times)
    sizes = max(len(values_of(many)) for many in rounds)
    total = sized([sum(int(at_size(many, size)) for many in rounds) for size in range(sizes)])
    return total if isinstance(total, Sized) and step.every == 1 and not step.ending else None


def _times(count: Count) -> str:
    return "once" if count == 1 else "twice" if count == 2 else f"{count} times"


def _capital(text: str) -> str:
    """Raise the first letter: ``*K2, p2``."""
    for place, letter in enumerate(text):
        if letter.isalpha():
            return text[:place] + letter.upper() + text[place + 1 :]
    return text


def _course(step: st.Step) -> str:
    return "row" if isinstance(step, st.Row) else "rnd"


def _side(step: st.Step) -> str:
    return f" ({st.Side(step.side).value})" if isinstance(step, st.Row) and step.side else ""


def _to(place: Amount) -> str:
    assert isinstance(place, To)
    some = place.before != 0
    if place.where is Where.END:
        last = "st" if place.before == 1 else sts(place.before)
        return f"to last {last}" if some else "to end"
    name = "gap" if place.where is Where.GAP else f"marker {place.name}".rstrip()
    return f"to {sts(place.before)} before {name}" if some else f"to {name}"


def _every(step: st.RepeatRounds, name: str) -> str:
    if step.every == 1:
        return ""
    return f" every {'other' if step.every == 2 else nth(step.every)} {name}"


def _ending(step: st.RepeatRounds, name: str, spans: list[tuple[int, int]]) -> str:
    return f", ending with {name} {spans[step.ending - 1][1]}" if step.ending else ""


def _until(times: st.Times) -> str:
    if isinstance(times, UntilCount):
        if times.growing:
            return f"until there are {sts(times.count)}"
        return f"until {sts(times.count)} remain"
    if isinstance(times, UntilWorked):
        return "until all sts have been worked"
    if isinstance(times, UntilMeasures):
        if times.since == "cast-on":
            return f"until piece measures {times.length} from cast-on"
        if times.since == "wanted":
            return _wanted(times)
        return f"for {times.length} in all"
    if times == 1:
        raise StepError("RepeatRounds", "a single time is no repeat")
    more = "once more" if times == 2 else f"another {plus(times, -1)} times"
    return f"{more} ({times} times in all)"


def _wanted(times: UntilMeasures) -> str:
    if times.length is None:
        return "until piece is as long as wanted"
    return f"until piece is {times.length} short of the length wanted"


def _parts(parts: tuple[str, ...]) -> str:
    if not parts:
        return ""
    if parts[0].startswith("needle "):
        numbers = [part.removeprefix("needle ") for part in parts]
        if len(numbers) == 1:
            return parts[0]
        return "needles " + ", ".join(numbers[:-1]) + " and " + numbers[-1]
    return parts[0]


def _gauge(gauge: GaugeLine) -> str:
    fabric = f" in {gauge.fabric}" if gauge.fabric else ""
    return f"{gauge.stitches} sts and {gauge.courses} rnds = {gauge.over}{fabric}"


def _has_own_head(line: str) -> bool:
    return ":" in line and line.partition(":")[0].lower() in MATERIAL_HEADS
