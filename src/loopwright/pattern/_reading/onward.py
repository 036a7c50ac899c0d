# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows that go on as those before them did: "continue in this way until 36 sts remain"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._certain_changes import change_of
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._grammar.said import Numbered
from loopwright.pattern._reading.alternate import among_plain, weave_in
from loopwright.pattern._reading.by_count import turned
from loopwright.pattern._reading.ends import ALL_WORKED, COUNT_REACHED
from loopwright.pattern._reading.fitting import from_itself
from loopwright.pattern._reading.growth import (
    changes,
    cycle_of,
    grown_by,
    growth_of,
    longest,
    longest_changed,
    shapes,
    shapes_items,
    without_nothing,
)
from loopwright.pattern._reading.named_rows import named_row
from loopwright.pattern._reading.narrowing import narrowed, other_side, rows_of
from loopwright.pattern._reading.scribe import Lost, Says, Scribe
from loopwright.pattern._reading.stated import count_in, for_sizes, number_of, stated_in
from loopwright.pattern._reading.widening import lengthened, widened
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tally import GAP
from loopwright.pattern._tolerant_walk import Editor
from loopwright.pattern.items import Run, Turn, WrapTurn
from loopwright.pattern.program import Pattern, of_size
from loopwright.pattern.values import Count, To, UntilCount, plus, values_of
from loopwright.plurals import plural

__all__ = ["carried", "carry_on", "goes_on", "on_each_round", "onward", "rows_before", "turning"]  # fmt: skip

MAX_CYCLES = 200
_GOING_ON = re.compile(
    r"(?:and |now |then )*(?:without (?:the |any )?plain (?:rounds?|rnds?|rows?)(?: between| in between)?,? )?(?:continue|(?:dec|inc)(?:rease)?|cont\b\.?|carry on|keep(?: on| going)?|go on|proceed|work|repeat|rep|knit)\b[^;:]*?"
    r"\b(?:in (?:this|the same|that|like) (?:way|manner|fashion)|(?:work|knitt?|purl|hav)ing\b[^;:]*?\b(?:more|fewer|less|further)\b|with\b[^;:]*?\b(?:more|fewer|less|further)\b|(?:more|fewer|less)\b(?: (?:sts?|stitch(?:es)?|plain|knit))* (?:before|between|ahead of|in front of)\b|like this|this way|thus|in like manner|as set|as established|as before|to (?:dec|inc|decrease|increase)\w*|dec\w*|inc\w*|shaping|as (?:in|for) (?:the )?(?:last|row|round|rnd))[^;:]*?"
    r"\b(?:(?:un)?til+\b|(?:down |up )?to (?=\d)) ?(?P<until>.*)$"
)
_AND_COUNT = re.compile(  # "until the whole heel has been worked and 19 sts remain"
    rf"\b(?:and|so that|leaving) (?:only )?(?P<n>{COUNT}) (?:\w+ )?(?:sts?|stitches)(?P<rest> (?:remain|rem|are left|left)\b[^;]*)$"
)
_ROUNDS = re.compile(
    rf"work (?:[^;]*?)(?:continu\w+|inc\w+|dec\w+)[^;]*?\bas in (?:row|round|rnd) (?P<row>\d+) on every (?P<every>rs|other|alt\w*|\w+) (?:row|round|rnd),? for (?P<n>{COUNT}) (?:rows|rounds|rnds)"
)
_EVERYS = re.compile(
    r"every (?P<nth>\d+)(?:st|nd|rd|th) (?:round|rnd|row) (?P<n>\w+)(?: more)? times?|every (?:other|alt\w*|2nd) (?:round|rnd|row) (?P<n2>\w+)(?: more)? times?|every (?:round|rnd|row) (?P<n3>\w+)(?: more)? times?"
)


_EVERY_ROUND = re.compile(
    rf"(?:and |then |now )*(?:continue (?:to )?)?(?:dec|inc)\w*(?: as (?:set|before|established))? (?:on |in )?(?:every|each) (?:round|rnd|row),? (?:(?:un)?til+(?: there are| you have| only)*|(?:down )?to) (?P<n>{COUNT}) (?:sts|stitches)\b"
)


_AS_SET = "go on as set"
_ON_EVERY = re.compile(r"\bdec\w*\b.*\bevery (?:round|rnd|row)\b")
_ONE_ROW = re.compile(r"\b(?:r|rnd|row|round) ?\d+,? (?:only|alone)\b")


def _is_by_size(step: st.Step) -> bool:
    """Tell whether each size worked rounds of its own, or none were written out."""
    return isinstance(step, st.OnlySizes) or (isinstance(step, st.Note) and step.text == _AS_SET)


def _by_size(scribe: Scribe) -> list[st.Step]:
    return [e.step for e in scribe.assembler.entries[-24:] if _is_by_size(e.step)]


def on_each_round(scribe: Scribe, target: Count) -> list[Says] | None:
    """Read "dec every round until 12 sts remain": the last shaping round, over and over."""
    rows = [row for row in rows_before(scribe) if shapes(row)]
    if not rows:
        steps = [row for e in scribe.assembler.entries for row in rounds_in((e.step,))]
        rows = [row for row in steps if shapes(row)]
    if not rows:
        return None
    by_size = _by_size(scribe)
    if by_size and all(isinstance(step, st.OnlySizes) for step in by_size):
        return _each_by_itself(scribe, target)
    if by_size:
        # each size goes on from a row of its own; what is stated holds behind the rows before
        scribe.place = attrs.evolve(scribe.place, column=scribe.place.column + 1)
        scribe.note("decrease on every round")
        scribe.claim("adopt", target)
        return []
    growth = growth_of(rows[-2].items, rows[-1].items) if len(rows) > 1 else None
    if growth is not None and grown_by(rows[-1].items, growth) != rows[-1].items:
        return carry_on(scribe, [rows[-1]], [growth], target)
    if growth is None and (own := from_itself(scribe, rows[-1])) is not None:
        return carry_on(scribe, [own[0]], [own[1]], target)
    once = attrs.evolve(rows[-1], count=None, at=scribe.place)
    return [st.RepeatRounds((once,), UntilCount(target), at=scribe.place)]


def _each_by_itself(scribe: Scribe, target: Count) -> list[Says]:
    """Go on from the row that each size worked last: some sizes worked more of them."""
    live = scribe.now()
    steps: list[Says] = []
    for size, name in enumerate(live.size_names):
        rows = [row for row in rows_before(scribe, name) if shapes(row)]
        if not rows:  # this size has worked none
            scribe.claim("missed", target)
            return []
        growth = growth_of(rows[-2].items, rows[-1].items) if len(rows) > 1 else None
        row, editor = rows[-1], live.trial((), size)
        want = int(values_of(target)[min(size, len(values_of(target)) - 1)])
        while editor.tally.count > want:
            row = attrs.evolve(row, items=grown_by(row.items, growth), count=None, at=scribe.place)
            items = without_nothing(row.items)
            step = attrs.evolve(row, items=items) if items else row
            for one in of_size(Pattern("", (step,), sizes=live.size_names), size).steps:
                editor.take(one)
            if editor.troubles or not items or len(steps) > MAX_CYCLES:
                scribe.claim("missed", target)
                return []
            steps.append(st.OnlySizes((name,), step, at=scribe.place))
    return steps


def onward(scribe: Scribe, text: str) -> list[Says] | None:
    """Return the rows that a sentence asks to go on with; None if it asks nothing such."""
    found = _onward(scribe, text)
    return lengthened(scribe, text, rows_before(scribe)) if found is None else found


def _onward(scribe: Scribe, text: str) -> list[Says] | None:
    if match := _ROUNDS.match(text):
        return _shaping_on_every(scribe, match)
    if (found := _staggered(scribe, text)) is not None:
        return found
    if match := _MORE_ROWS.match(text):
        return _more_rows(scribe, text, count_in(match["n"]))
    if _OF_THIS_KIND.match(text):
        if (more := _more_rows(scribe, text, 1)) is None:
            raise Lost(text)
        return more
    if match := _EVERY_ROUND.match(text):
        return on_each_round(scribe, count_in(match["n"]))
    if (shorter := narrowed(scribe, text, rows_before(scribe))) is not None:
        return shorter
    if goes_on(text) and (numbers := _up_to_the_next(scribe)):
        return carried(scribe, numbers)
    match = _GOING_ON.match(text)
    if match is None:
        return None
    until = match["until"].strip(" .")
    if re.search(r"[,;] (?:and )?then\b", until):
        return None  # more is asked than this
    if (row := _TO_ROW.match(until) or _IS_ROW.search(until)) is not None:
        return carried(scribe, range(scribe.context.last + 1, int(row[1]) + 1), _by_size_in(until))
    target: Count | None = None
    all_worked = ALL_WORKED.match(until)
    if number := COUNT_REACHED.match(until) or (None if all_worked else _AND_COUNT.search(until)):
        if re.search(
            r"unworked|wrapped|doubled|middle|centre|center|between|\b(?:in|for) (?:the |each )?(?:thumb|gusset|gore)",
            number["rest"],
        ):
            return None
        target = count_in(number["n"])
    elif _THAT_ROW.match(until):
        target = scribe.stated or stated_in(MappedText.of(scribe.following)).count
        if target is None:
            raise Lost(text)
    elif not all_worked:
        return None
    alone = _ONE_ROW.search(text) or (_ON_EVERY.search(text) and _by_size(scribe))
    if target is not None and alone and not _FEWER.search(text):
        return on_each_round(scribe, target)
    rows = rows_before(scribe)
    if _EVERY_ONE.search(text):
        rows = [row for row in rows if shapes(row)]
    if target is None and (wider := widened(scribe, rows, until)) is not None:
        return wider
    if (turned_rows := turning(rows)) is not None:
        return carry_on(scribe, *turned_rows, target)
    goal = target or scribe.stated or stated_in(MappedText.of(scribe.following)).count
    if (closed := turned(scribe, goal)) is not None:
        return closed
    shown = cycle_of(rows)  # how the numbers grow, from two rows that were written out
    if shown is not None and len(shown[0]) > 1 and any(map(changes, shown[1])):
        return carry_on(scribe, *shown, target)
    if (said := _between(scribe, text, rows)) is not None:
        return carry_on(scribe, *said, target)
    cycle = _with_plain(scribe, text, shown or _of_itself(scribe, rows))
    return None if cycle is None else carry_on(scribe, *cycle, target)


def _of_itself(
    scribe: Scribe, rows: list[st.Round | st.Row]
) -> tuple[list[st.Round | st.Row], list[Any]] | None:
    """Return the one shaping row that was told, in counted stitches, and the plain rows since."""
    last = max((at for at, row in enumerate(rows) if shapes(row)), default=-1)
    own = from_itself(scribe, rows[last]) if last >= 0 else None
    if own is None or any(shapes(row) for row in rows[:last]):
        return None
    plain = rows[last + 1 :]
    return [own[0], *plain], [own[1], *[None] * len(plain)]


_TO_ROW = re.compile(
    r"(?:you (?:have |are )?(?:worked|finished|done|completed|knitted|reach(?:ed)?|at|come to|get to) |through )?(?:(?:the )?end of )?(?:round|rnd|row) (\d{1,3})\b"
)
_BY_SIZE = re.compile(rf"\b(?:round|rnd|row) (?P<n>{COUNT})")


def _by_size_in(until: str) -> Count | None:
    """Return the numbers of rows that each size goes on to, None where it is the same for all."""
    told = _BY_SIZE.search(until)
    last = count_in(told["n"]) if told else 0
    return last if len(values_of(last)) > 1 else None


_ROW_IS = re.compile(  # the sentence behind: "Row 30 is P22, w&t."
    r"(?i:so |thus |the )?(?i:last )?(?i:round|rnd|row) (\d{1,3}) (?:is|will be|should be|reads|will read)\b"
)
_ROW_FOLLOWS = re.compile(  # or "In the last two rows just turn: Row 43: K30, turn."
    r"(?:\d{1,2}[.)] )?(?:[^:*.]*: ?)?(?:round|rnd|row) (\d{1,3}) ?(?:\([^)]*\))?:", re.IGNORECASE
)


def _up_to_the_next(scribe: Scribe) -> range:
    """Return the numbers of the rows that lie before the one told next, or up to it."""
    last = scribe.context.last
    if (row := _ROW_IS.match(scribe.following)) is not None:
        return range(last + 1, int(row[1]) + 1)
    row = _ROW_FOLLOWS.match(scribe.following or scribe.next_line)
    return range(last + 1, int(row[1])) if row is not None and last else range(0)


def _with_plain(
    scribe: Scribe, text: str, cycle: tuple[list[st.Round | st.Row], list[Any]] | None
) -> tuple[list[st.Round | st.Row], list[Any]] | None:
    """Put a plain round before each shaping round of "increase every other round"."""
    if cycle is None or not _EVERY_OTHER.search(text) or not all(shapes(row) for row in cycle[0]):
        return cycle
    rows: list[st.Round | st.Row] = []
    grown: list[Any] = []
    for row, by in zip(*cycle, strict=True):
        rows += [attrs.evolve(row, items=scribe.plain(ground=False)[0].items, count=None), row]
        grown += [None, by]
    return rows, grown


_EVERY_ONE = re.compile(r"\bevery (?:round|rnd|row)\b|without (?:the |any )?plain|no plain")
_EVERY_OTHER = re.compile(r"\bevery (?:other|alt\w*|2nd|second)\b")
_IS_ROW = re.compile(r"\((?:this is |that is |= ?)?(?:round|rnd|row) (\d{1,3})\)$")
_THAT_ROW = re.compile(  # "until (k4, k2tog) 6 times has been worked"
    r"(?:you have (?:worked|done|knitted) )?(?:the (?:round|rnd|row) )?[(*\[][^)*\]]*[)*\]](?: (?:\w+ times|twice|a?round|to end))?(?: (?:has|have) been (?:worked|done|knitted))?$"
)
_MORE_ROWS = re.compile(
    r"(?:and |then |now )*(?:work|knit|make|do) (?P<n>\d{1,2}|two|three|four|five|six) more (?:dec|inc|shap)\w* (?:rounds?|rnds?|rows?)\b(?!.*\b(?:un)?til\b)"
)
_OF_THIS_KIND = re.compile(
    r"(?:work|knit) (?:one|1) more (?:round|rnd|row) (?:of this kind|like this)\b"
)
_LIKE_THIS = re.compile(
    r"(?:go on|continue|cont\b\.?|carry on|keep (?:on|going)|work|proceed)\b[^;:.]*?"
    r"\b(?:in (?:this|the same|that) (?:way|manner|fashion)|like this|thus|as (?:set|before|established|you (?:are|were|began|started|have been(?: doing)?)))\b(?!.*\b(?:un)?til\b)"
    r"|(?:go on|continue|cont\b\.?|carry on|keep)(?: to)? (?:dec|inc)[a-z]*\b[^;:.]*?\b(?:on|in) (?:each|every|all|the) (?:other|odd|even|alt\w*|2nd|second|following alt\w*)\b(?!.*\b(?:un)?til\b)"
)


def goes_on(text: str) -> bool:
    """Tell whether words ask to go on as before, with no end: "go on in the same way"."""
    return _LIKE_THIS.match(text.lower()) is not None


def carried(
    scribe: Scribe, numbers: Sequence[int], by_size: Count | None = None
) -> list[Says] | None:
    """Return rows with these numbers that go on as those before them did, by size to others."""
    rows, names = rows_before(scribe), scribe.now().size_names
    lasts = values_of(by_size) if by_size is not None else ()
    if lasts:
        if len(lasts) != len(names) or min(lasts) < (first := scribe.context.last + 1):
            return None
        numbers = range(first, int(max(lasts)) + 1)
    found = turning(rows) or cycle_of(rows)
    if found is None or not 0 < len(numbers) < 120:
        return None
    steps = among_plain(scribe, numbers, *found, carry_on)
    if steps is None:
        cycles = -(-len(numbers) // len(found[0]))
        steps = carry_on(scribe, *found, None, cycles=cycles)
        steps = steps and steps[: len(numbers)]
    if not steps or len(steps) != len(numbers):
        return None
    weave_in(scribe, tuple(numbers))
    told: list[Says] = []
    for number, step in zip(numbers, steps, strict=True):
        assert isinstance(step, st.Round | st.Row)
        scribe.numbered(step, (number,))
        who = tuple(n for n, last in zip(names, lasts, strict=False) if number <= last)
        alone = st.OnlySizes(who, step, at=scribe.place) if len(who) < len(lasts) else None
        told.append(alone or Numbered(step, (number,)))
    return told


def _more_rows(scribe: Scribe, text: str, many: Count) -> list[Says] | None:
    """Read "work 2 more dec rows, with 2 sts fewer between each pair of decs"."""
    rows = rows_before(scribe)
    found = cycle_of(rows) or _between(scribe, text, rows)
    if found is None or not isinstance(many, int):
        return None
    steps = carry_on(scribe, *found, None, cycles=many)
    while steps and isinstance(steps[-1], st.Round | st.Row) and not shapes(steps[-1]):
        steps = steps[:-1]
    return steps or None


_FEWER = re.compile(
    r"(?P<n>\d|one|two|three|four) (?:sts? |stitch(?:es)? )?(?P<how>fewer|less|more) (?:sts? |stitch(?:es)? )?(?:between|before|after)"
)


def _between(
    scribe: Scribe, text: str, rows: list[st.Round | st.Row]
) -> tuple[list[st.Round | st.Row], list[Any]] | None:
    """Read "with 2 sts fewer between the decreases each time": how the longest run changes."""
    match = _FEWER.search(text)
    shaping = [row for row in rows if shapes(row)]
    if match is None or not shaping or re.search(r"\bsets?\b|\btwice\b", text):
        return None
    by = number_of(match["n"]) * (1 if match["how"] == "more" else -1)
    row = attrs.evolve(shaping[-1], count=None)
    changed = longest_changed(row.items, by, longest(row.items))
    growth = growth_of(row.items, changed)
    if growth is None or changed == row.items:
        return None
    if _EVERY_OTHER.search(text):
        plain = attrs.evolve(row, items=scribe.plain(ground=False)[0].items)
        return [plain, row], [None, growth]
    last = max(n for n, one in enumerate(rows) if shapes(one))
    between = rows[last + 1 :]  # plain rounds that stand behind each of them
    if not between and scribe.context.alternate is not None and not _EVERY_ONE.search(text):
        items = scribe.context.alternate[1]
        between = [attrs.evolve(row, items=items)] if not shapes_items(items) else []
        if between:
            return [*between, row], [None, growth]
    return [row, *between], [growth, *[None] * len(between)]


def rows_before(scribe: Scribe, size: str = "") -> list[st.Round | st.Row]:
    """Return the rows of this section, one after another, repeats of one row written out.

    Rows that only some sizes worked are left out, but those of the `size` asked for.
    """
    rows: list[st.Round | st.Row] = []
    for entry in reversed(scribe.assembler.entries):
        if isinstance(entry.step, st.Section) or len(rows) >= MOST_BEFORE:
            break
        rows[:0] = _written_out(entry.step, size)
    return rows[-MOST_BEFORE:]


MOST_BEFORE = 48


def _written_out(step: st.Step, size: str) -> list[st.Round | st.Row]:
    """Return the rows that a step is, one after another."""
    if isinstance(step, st.Round | st.Row):
        return [step]
    if isinstance(step, st.Part) and isinstance(step.items[-1], Turn | WrapTurn):
        return [st.Row(row) for row in rows_of(step.items)]
    if isinstance(step, st.RepeatRounds) and len(step.steps) == 1:
        (once,) = step.steps
        if isinstance(step.times, int) and isinstance(once, st.Round | st.Row):
            return [once] * min(step.times, 40)
    elif isinstance(step, st.OnlySizes) and size in step.sizes:
        return [step.step] if isinstance(step.step, st.Round | st.Row) else []
    return []


def turning(rows: list[st.Round | st.Row]) -> tuple[list[st.Round | st.Row], list[Any]] | None:
    """Return the two last rows of a turn whose band grows row by row, and the growth of each."""
    last = rows[-3:]
    if len(last) < 3 or not all(isinstance(row, st.Row) and row.is_turned for row in last):
        return None
    mirrored = [other_side(row.items) for row in last[:-1]]
    if None in mirrored:
        return None
    grown = [
        growth_of(mirror, other_side(other_side(row.items) or ()))
        for mirror, row in zip(mirrored, last[1:], strict=True)
    ]
    if None in grown or grown[0] != grown[1] or not any(grown[0]):
        return None
    twice = tuple(
        plus(one, int(values_of(one)[0])) if isinstance(one, int) else one for one in grown[0]
    )
    return list(last[1:]), [twice, twice]


def carry_on(
    scribe: Scribe,
    last: list[st.Round | st.Row],
    grown: list[Any],
    target: Count | None,
    cycles: Count | None = None,
    *,
    whole: bool = False,
) -> list[Says] | None:
    """Return more cycles of some rows: a number of them, or as many as it takes to reach a
    count.

    The last one ends where the count is reached, or with its last row (`whole`).
    """
    live = scribe.now()
    sizes = range(len(live.tallies))
    part_here = not live.names and target is not None and len(sizes) < len(values_of(target))
    if not sizes or not live.sure or part_here:  # sizes without names that part only here
        if target is not None:
            scribe.claim("adopt", target)
        return []
    editors = [live.trial((), size) for size in sizes]
    targets, often = (_for_each(one, len(editors)) for one in (target, cycles))
    names = live.size_names
    done = [
        cycles is None and _is_done(editor, targets[size] if targets else None)
        for size, editor in enumerate(editors)
    ]
    missed = False
    rows: list[st.Step] = []
    current = list(last)
    for cycle in range(MAX_CYCLES):
        if often:
            done = [cycle >= times for times in often]
        if all(done):
            break
        current = [
            attrs.evolve(row, items=grown_by(row.items, by), count=None, at=scribe.place)
            for row, by in zip(current, grown, strict=True)
        ]
        before = [editor.tally.count for editor in editors]
        for row in current:
            items = without_nothing(row.items)
            if not items:
                missed = True
                break
            working = [size for size in sizes if not done[size]]
            if not working:
                break
            step = _to_the_edge(scribe, attrs.evolve(row, items=items), working, editors)
            fits = True
            for size in working:
                one = of_size(Pattern("", (step,), sizes=names), size).steps
                for each in one:
                    editors[size].take(each)
                fits = fits and not _wrong(editors[size])
            if not fits:
                missed = True
                break
            rows.append(
                step
                if len(working) == len(sizes)
                else st.OnlySizes(tuple(names[s] for s in working), step, at=scribe.place)
            )
            for size in working if cycles is None and not whole else ():
                done[size] = _is_done(editors[size], targets[size] if targets else None)
        for size in sizes if whole and cycles is None else ():
            done[size] = _is_done(editors[size], targets[size] if targets else None)
        if missed or _stuck(editors, before, done, targets):
            missed = True
            break
    else:
        missed = True
    if missed:
        if target is not None:
            scribe.claim("missed", target)
            return []
        scribe.claim("lost", 0)
        return []
    if len(live.names) == 0 and any(isinstance(row, st.OnlySizes) for row in rows):
        scribe.note(_AS_SET)
        scribe.claim(
            "adopt", target if target is not None else live._all([e.tally.count for e in editors])
        )
        return []
    return list(rows)


def _for_each(count: Count | None, sizes: int) -> tuple[float, ...]:
    """Return the numbers for so many sizes, none where none is told."""
    found = () if count is None else for_sizes(values_of(count), sizes)
    if found and len(found) != sizes:
        raise Lost(f"{plural(len(found), 'number')} for {plural(sizes, 'size')}")
    return found


def _wrong(editor: Editor) -> bool:
    """Tell whether rows could not be worked; a turn in hand is compared with its first rows later."""
    return any(trouble.kind != "mirror" for _, trouble in editor.troubles)


def _to_the_edge(
    scribe: Scribe, row: st.Round | st.Row, sizes: Sequence[int], editors: Sequence[Editor]
) -> st.Round | st.Row:
    """Leave out the one stitch behind the decrease of a turn where none is left for it."""
    items, short = row.items, set()
    if len(items) < 4 or items[-1] != Turn() or items[-2] not in (Run("k", 1), Run("p", 1)):
        return row
    for size in sizes:
        (one,) = scribe.now().of_size((row,), size)
        found = change_of(getattr(one, "items", ()), scribe.table)
        short.add(0 if found is None else found[0] - editors[size].tally.ahead)
    run = items[-4]
    if short == {2} and isinstance(run, Run) and not isinstance(run.amount, To):
        items = (*items[:-4], attrs.evolve(run, amount=plus(run.amount, -1)), *items[-3:])
    return attrs.evolve(row, items=(*items[:-2], items[-1])) if short in ({1}, {2}) else row


def _is_done(editor: Editor, target: Any) -> bool:
    if target is None:
        return not editor.tally.has(GAP)
    return editor.tally.count == int(target)


def _stuck(
    editors: Sequence[Editor], before: list[int], done: list[bool], targets: Sequence[float]
) -> bool:
    for size, editor in enumerate(editors):
        now = editor.tally.count
        if done[size]:
            continue
        if not targets:
            continue
        want = int(targets[size])
        if now == before[size] or (now - want) * (before[size] - want) < 0:
            return True
    return False


def _staggered(scribe: Scribe, text: str) -> list[Says] | None:
    """Read "work the dec round every 4th round twice more, then every round 5 times"."""
    parts = list(_EVERYS.finditer(text))
    lead = re.match(
        r"(?:rep(?:eat)?|work|continue (?:to )?(?:dec|inc)\w*|dec\w*|inc\w*)(?: (?:the|this))? ?(?P<name>[a-z]+)? ?(?:round|rnd|row)?",
        text,
    )
    if (
        not parts
        or lead is None
        or (len(parts) < 2 and not re.search(r"\b(?:the|this) \w+ (?:round|rnd|row)\b", text))
    ):
        return None
    name = (lead["name"] or "last") if lead["name"] not in ("the", "this", None) else "last"
    shaping = named_row(scribe, name) or scribe.context.named.get("last")
    if shaping is None or not isinstance(shaping, st.Round):
        return None
    plain = st.Round(scribe.plain(ground=False)[0].items)
    steps: list[Says] = []
    for part in parts:
        stride = int(part["nth"]) if part["nth"] else 2 if part["n2"] else 1
        times = number_of(part["n"] or part["n2"] or part["n3"] or "")
        if not times or not 0 < stride < 40:
            return None
        body = (*([plain] * (stride - 1)), attrs.evolve(shaping, count=None, at=scribe.place))
        body = tuple(attrs.evolve(row, at=scribe.place) for row in body)
        steps += body if times == 1 else [st.RepeatRounds(body, times, at=scribe.place)]
    return steps


def _shaping_on_every(scribe: Scribe, match: re.Match[str]) -> list[Says] | None:
    """Read "work in garter stitch, increasing as in row 1 on every RS row, for 10 rows"."""
    row = scribe.context.row(int(match["row"]))
    rows = values_of(count_in(match["n"]))
    if row is None or len(rows) != 1 or int(rows[0]) % 2:
        return None
    other: st.Round | st.Row = (
        st.Row(scribe.plain(ground=False)[0].items)
        if isinstance(row, st.Row)
        else st.Round(scribe.plain()[0].items)
    )
    body = tuple(attrs.evolve(one, count=None, at=scribe.place) for one in (row, other))
    return (
        [st.RepeatRounds(body, int(rows[0]) // 2, at=scribe.place)]
        if int(rows[0]) > 2
        else list(body)
    )
