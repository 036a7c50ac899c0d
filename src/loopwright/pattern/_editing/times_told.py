# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""How often a row is worked, between the count before it and the count behind it.

Only a near miss is a finding: where another number of times, or another count in one of the sizes,
makes all come out. What changes the stitches otherwise, and is not understood, never does.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache

import attrs

from loopwright.pattern._editing.figures import alike, is_near, rows_by_number, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.needle_parts import PART_OF_NEEDLE, held_together
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._editing.sums import change_in
from loopwright.pattern._reading.labels import numbers_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["BY_NAME", "IN_TURNS", "times_told"]

_Values = tuple[int, ...]
_COUNTED = WordForm(
    rf"(?<![\d.])(?P<n>{COUNT}) (?:(?!more|less|fewer|rows|rounds|rnds|cm|times)[a-z-]+ ){{0,2}}?{STS}(?! (?:more|less|fewer|before|after|from|dec|inc|(?:are|were|have been) (?:dec|inc|add)|at a time))"
    rf"|\b(?:total|cast(?:ing)? (?:on|up)|co|count)\b:? ?(?P<m>{COUNT})|(?P<o>{COUNT}) (?:in all|altogether|total|all told|in the whole [a-z]+)"
    rf"|\bthat(?:['’]s| is| makes) (?P<q>{COUNT})(?=\W*$)|(?<!\d )(?<!\d)[=(\[] ?(?P<p>{COUNT})\W*$",
)
_WHOLE = WordForm(
    rf"(?:^|[.:;,=(\[—–-]|--|\b(?:have|are)) ?(?P<n>{COUNT}) {STS}(?: (?:in all|in total|total|altogether|now|rem\w*\.?|on (?:the |your )?needles?))*(?:[;:.)\],—–]|$)|\b(?:total|cast(?:ing)? (?:on|up)|co|count)\b:? ?(?P<m>{COUNT})",
)  # where stitches are moved, too, what is told of the whole
_IN_ALL = WordForm(
    rf"(?<![\d.])(?P<n>{COUNT}) (?:{STS} )?(?:in all|altogether|in total|all told)\b|\bthat(?:['’]s| is| makes) (?P<m>{COUNT})(?=\.|\W*$)"
)
_OFTEN = WordForm(
    rf"\b(?:(?P<verb>rep(?:eat)?|work|do|alternate|then|decrease|increase)\b|by turns)[^;=*]*?(?P<more> another| a further|,? a total of)? (?P<n>{COUNT}|twice)(?:(?<=twice)| (?P<more2>more |further )?times?\b)(?P<more3> more| further)?"
    r"(?! (?:(?:on|around|across|over|to)\b|\d))(?P<all>,? (?:in all|in total|total|altogether|each))?",
)
IN_TURNS = WordForm(  # "1 rnd plain and 1 inc rnd 6 times": a row told alone before may not be of them
    r"\b(?:plain|knit|even|straight) (?:rnds?|rounds?|rows?)\b|\b(?:rnds?|rounds?|rows?) (?:plain|even|straight)\b|\bknit (?:1|one|2|two|3|three) (?:rnds?|rounds?|rows?)\b|\bevery (?:other|second|2nd|third|3rd|fourth|4th|alt\w*)\b"
)
BY_NAME = WordForm(  # "work the two garter rows 5 times", one of which may have been worked before
    r"\bthe (?:(?:\d|two|three|four|six|eight) )?(?!last|same|previous|dec|inc|shap)[a-z]{3,} (?:rows|rnds|rounds)\b"
)
_TAKES = WordForm(
    rf"\b(?:takes?|that is|that['’]s|that makes|which is|=|in all,?|until you have worked|worked) (?P<n>{COUNT}) (?:(?:dec|inc|gusset|shap)\w* )(?:rounds?|rnds?|rows?)\b|\btakes (?:you )?(?P<m>{COUNT}) (?:times|goes)\b"
    rf"|[(:;,—–-] ?(?P<o>{COUNT}) (?:dec|inc|gusset|shap)\w*\.? (?:rounds?|rnds?|rows?|r)\b(?: (?:in all|altogether|in total|worked)|(?=\)))",
)
_TARGET = WordForm(
    rf"(?:\b(?:until|till|down to|up to)\b[^.;,\d]{{0,24}}|^(?:rep(?:eat)?|work) (?:the )?(?:last|rnds|rounds|rows|these)[^.;*]{{0,20}} to )(?P<n>{COUNT}) (?:live )?{STS}"
    rf"(?P<aside>[^.;,]{{0,24}}\b(?:between|on|in|at|each|every|before|after|past|beyond|un\w+ed|wrapped|worked|outside|inside|from)\b)?|\bback to (?P<m>{COUNT})(?P<aside2>)(?=[.,;]|$)"
)
_SHAPES = WordForm(
    r"(?:[kp] ?\.?\d ?tog)|(?<!no )(?<!any )(?<!without )\b(?:inc(?!h)|dec|ssk|ssp|skpo?|yo\b|m\.?1|make (?:1|one)|kfb|pfb|tog|together|cdd|sk2p|s2k|psso|p\.s\.s\.o)",
)
_WORKED = WordForm(r"[kp]\d|ssk|(?<![a-z])(?:m1|kfb|yo\b|skp)|tog\b")
_MOVES = WordForm(
    r"(?<!from )\b(?:pick|cast|bind|co|bo|hold|held|graft|turn|w&t|wrap|join(?:ing)?)\b|\b(?:put|place)\b.*\bon\b|\b(?:on|to|onto)\b[^.;,]{0,20}\b(?:waste|scrap|holder|thread)",
)
_TOLD = WordForm(
    r"\b(?P<n>\d{1,2}) (?P<how>more|fewer|less) (?:sts|stitches)\b|\b(?P<n2>\d{1,2}) (?:sts|stitches) (?P<how2>more|fewer|less|added)\b|"
    r"\b(?P<how3>adds|added|gains?|takes? away|takes? (?:out|off)|loses?|reduces? by|inc\w* by|dec\w* by) (?P<n3>\d{1,2}) (?:sts|stitches)\b|"
    r"\b(?P<n4>\d{1,2}) (?:sts|stitches) (?:(?:are|have been|were|have) )?(?P<how4>dec|inc|gone|lost)|"
    r"\b(?P<how5>made|gained|added|lost) (?P<n5>\d{1,2})(?: (?:new|extra|more))? (?:sts|stitches)\b",
)
_LESS = WordForm(r"fewer|less|take|lose|lost|gone|reduc|dec")
_NEEDLE = WordForm(
    r"(?<!\w)(?:(?:on|with) )?(?:(?:the )?(?:n|ndl\.?|needles?) ?\d(?: (?:and|&) (?:n|needle )?\d)?|\d(?:st|nd|rd|th) needle|(?:first|second|third|fourth|next|other) needle|instep|sole|back|front|palm|[AB])\b(?: ?\([^)]*\))?[:,]",
)
_OF_ANOTHER = WordForm(r"\b(?:same|as|like|rep\w*|each|every|both)\b|\bthen on\b|[*]")
_AS_BEFORE = WordForm(
    r"\b(?:instructions|directions|(?:same|just|exactly) as|as (?:you did|for|on|in) (?:the )?[a-z]+|again from|from (?:row|rnd|round|step) 1)\b",
)
_GOES_ON = WordForm(r"\W*(?:go on|carry on|keep|cont(?:inue)?\b)")
_BY_SIZE = WordForm(r" ?[(\[]\d[\d,: ]*[)\]]", re.NOFLAG)
_ONCE_MORE = WordForm(
    r"\b(?:then|and|ending)\b[^.;]*(?<!\bsts)(?<!\bstitches) (?:once|again|one more)\b"
)
_STEADY = WordForm(r"\b(?:even|plain|straight)\b|\bevery (?:round|rnd|row)\b")
LEAST = 4  # stitches; fewer are parts
MOST = 16  # stitches that a row changes
FAR = 2  # times by which a number may miss, and be meant for it all the same
LAST = 10  # counts before
GOING_ON = 2  # rows that show how a shaping goes on
STEPS = (1, 2, 3, 4, 6, 7, 8, 9, 10)  # stitches that a row of shaping changes (common practice)


@attrs.define
class _Known:
    """What is told on the way: counts and shaping, each with the number of its line."""

    counts: list[tuple[int, _Values]] = attrs.field(factory=list)
    shapes: list[tuple[int, int | None]] = attrs.field(factory=list)
    moved: int = -1  # the last line that moves stitches
    done: int = -1  # the last line that says how often, or until when
    named: int = -1  # a line that is a row's name alone
    numbers: dict[int, tuple[int, ...]] = attrs.field(factory=dict)  # of the rows of a line

    def worked(self, since: int, rows: Sequence[int]) -> tuple[list[tuple[int, int | None]], int]:
        """Return the shaping since a line, of the rows with some numbers where any are told.

        And the last line of the shaping that is left out: a count from before it tells nothing.
        """
        group = [one for one in self.shapes if one[0] > since] or self.shapes[-1:]
        of_rows = [one for one in group if {*self.numbers.get(one[0], rows)} & {*rows}]
        others = [line for line, _ in group if line not in {line for line, _ in of_rows}]
        return (of_rows, max(others, default=-1)) if of_rows else (group, -1)


@attrs.frozen
class _Often:
    """How often a row is worked from the count before it, or from the one behind it."""

    n: _Values
    before: tuple[int, ...]  # what may have to be added to `n`
    behind: tuple[int, ...]
    at: int
    rows: tuple[int, ...] = ()  # the numbers of the rows, where they are told


_CHECKED = WordForm(r"\W*(?:check|count|you (?:should )?(?:now )?have|(?:now )?there are|total)\b")


def times_told(sentences: Sentences) -> Iterator[Finding]:
    """Find numbers of times that do not lead from a count to the next."""
    if not any(True for _ in sentences.about(_TAKES, _OFTEN, _SO_MANY_ROWS, _TARGET)):
        return
    known, lines = _Known(), [*sentences.lines, []]
    says = (_TAKES, _OFTEN, _SO_MANY_ROWS, _TARGET, _COUNTED, _HALF, PART_OF_NEEDLE)
    for at_line in sentences.lines_about(*says, _MOVES, _SHAPES, _NEEDLE):
        before, parts, behind = lines[at_line - 1], lines[at_line], lines[at_line + 1]
        checked = behind if behind and _CHECKED.match(behind[0].figures) else []
        for at, one in enumerate(parts):
            often = _often(one.figures)
            ends = _ends([*parts, *checked], at, often) if often else []
            if often is not None and ends and (said := _missed(known, often, ends)):
                place = one.place_in_figures(often.at)
                yield Finding(WARNING, "sum", said, place.line, place.column)
                break
            if often is None and (rows := _so_many_rows(known, one, parts, before)):
                place = one.place_in_figures(rows[1])
                yield Finding(WARNING, "sum", rows[0], place.line, place.column)
                break
            if often is None and (never := _never_reached(known, one.figures)):
                place = one.place_in_figures(never[1])
                yield Finding(WARNING, "sum", never[0], place.line, place.column)
                break
        _take(known, parts[0].line, parts)


@lru_cache(maxsize=8192)
def _often(text: str) -> _Often | None:
    """Return where a sentence says how often."""
    match = _TAKES.search(text)
    if match is not None:
        many = next(name for name in ("n", "m", "o") if match[name])
        return _Often(values(match[many]), (0,), (0, -1), match.start(many))
    match = _OFTEN.search(text)
    if match is None:
        return None
    if _OFTEN.search(text, match.end()):
        return None
    lead = text[: match.end()]
    if "*" in lead or re.search(r"\d ?tog\b|\bssk\b|\btogether\b", lead, re.IGNORECASE):
        return None
    total = match["all"] or "total" in (match["more"] or "")
    more = (match["more"] or match["more2"] or match["more3"]) and not total
    again = (match["verb"] or "").lower().startswith("rep") and not total
    before: tuple[int, ...] = (1,) if more else (0, 1) if again else (0,)
    if (IN_TURNS.search(text) or BY_NAME.search(text)) and not total:
        before = (0, 1)
    behind: tuple[int, ...] = (0,) if more or again else (0, -1)
    if _ONCE_MORE.search(text, match.end()):
        before, behind = tuple(n + 1 for n in before), tuple(n + 1 for n in behind)
    number = (2,) if match["n"].lower() == "twice" else values(match["n"])
    named = [*_NUMBERED.finditer(rows_by_number(lead))][-1:]
    rows = numbers_in(named[0][1]) if named else ()
    return _Often(number, before, behind, match.start("n"), rows)


_NUMBERED = WordForm(
    r"\b(?:rows?|rounds?|rnds?) (\d+(?:(?:, and |, | and | & | ?[-–] ?| to )\d+)*)\b(?! (?:more )?times)(?!.*\b(?:of|from|in)\b)"
)


_OTHER_PLAN = WordForm(  # "every 2nd round 4 times, then every round until 8 sts are left"
    r"\b(?:then|after that|afterwards|and)\b[^.;]{0,25}\b(?:every|each) "
)


def _ends(parts: Sequence[Spoken], at: int, often: _Often) -> list[_Values]:
    """Return the counts that are told behind the number of times, before anything else is done."""
    text = parts[at].figures
    if (target := _TARGET.search(text)) is not None:
        other_plan = _OTHER_PLAN.search(text[often.at : target.end()])
        return [] if other_plan else [_reached(target)]
    if at and (target := _TARGET.search(parts[at - 1].figures)) is not None and _TAKES.search(text):
        return [_reached(target)]
    found = [*_counts(text[often.at :])]
    for other in parts[at + 1 : at + 3]:
        if (
            (other.label is not None and not _CHECKED.match(other.text))
            or _SHAPES.search(other.text)
            or _MOVES.search(other.text)
        ):
            break
        found += _counts(other.figures)
    if len(found) == 2 and len(found[0]) == len(found[1]):
        found.append(tuple(map(sum, zip(*found, strict=True))))  # instep and sole
    return found


def _reached(target: re.Match[str]) -> _Values:
    return values(target["n"] or target["m"])


@lru_cache(maxsize=8192)
def _counts(text: str) -> tuple[_Values, ...]:
    found = (values(next(filter(None, match.groups()))) for match in _COUNTED.finditer(text))
    return tuple(many for many in found if min(many) >= LEAST)


def _take(known: _Known, line: int, parts: Sequence[Spoken]) -> None:
    """Keep the counts and the shaping of a line."""
    text = " ".join(one.figures for one in parts)
    counts = [(line, many) for one in parts for many in _counts(one.figures)]
    wholes = _wholes(text)
    counts += [(line, many) for many in wholes]
    if parts[0].label is not None and parts[0].label.numbers:
        known.numbers[line] = parts[0].label.numbers
    if _MOVES.search(text):
        known.moved = line
        in_all = {values(match["n"] or match["m"]) for match in _IN_ALL.finditer(text)}
        whole = in_all or {values(match["n"] or match["m"]) for match in _WHOLE.finditer(text)}
        whole |= {*wholes}
        counts = [(line if many in whole else line - 1, many) for line, many in counts]
    if any(_often(one.figures) or _TARGET.search(one.figures) for one in parts):
        known.done = line
    elif (not _GOES_ON.match(text) and _SHAPES.search(text)) or (
        _NEEDLE.match(text) and known.shapes
    ):
        _shape(known, line, text, parts[0].start)
        at, step = known.shapes[-1]
        sure = [many for before, many in known.counts if before >= max(known.moved, known.done)]
        if step is None and at == line and counts:
            known.shapes[-1] = (
                at,
                next(filter(None, (_grown(many, counts[-1][1]) for many in reversed(sure))), None),
            )
    known.counts = [*known.counts, *counts][-LAST:]


_HALF = WordForm(rf"\bhalf (?:of )?(?:the |your )?{STS}[,(: ]+(?P<n>{COUNT})")


@lru_cache(maxsize=8192)
def _wholes(text: str) -> tuple[_Values, ...]:
    """Return counts that a line tells by their parts: needles that are named, or a half."""
    found = held_together(text)
    return *found[:1], *(tuple(2 * n for n in values(m["n"])) for m in _HALF.finditer(text))


def _grown(before: _Values, after: _Values) -> int | None:
    """Return by how many two counts differ, where they do so alike in all sizes."""
    steps = {b - a for a, b in zip(*alike(before, after), strict=True)}
    return steps.pop() if len(steps) == 1 and max(map(abs, steps)) <= MOST else None


def _shape(known: _Known, line: int, text: str, start: int) -> None:
    """Keep by how many stitches a line changes the count: a needle alone adds to the one before."""
    told = _TOLD.search(text)
    if told is not None:
        step: int | None = int(
            next(told[name] for name in ("n", "n2", "n3", "n4", "n5") if told[name])
        )
        if _LESS.search(told[0]):
            step = -(step or 0)
        if known.shapes and (len(text) < 60 and not _WORKED.search(text)):
            known.shapes[-1] = known.shapes[-1][0], step
            return
    else:
        step = None if _TURNED.search(text) else _step(text[start:])
    if known.shapes and _NEEDLE.match(text):
        at, before = known.shapes[-1]
        first = known.named == at  # "Decrease round", with its needles on the lines behind it
        known.named = -1
        before = 0 if first else before
        known.shapes[-1] = at, None if before is None or step is None else before + step
        return
    known.named = line if not re.search(r"\d|,", text) else -1
    known.shapes.append((line, step))


_TURNED = WordForm(r"\bturn\W*$")  # two rows make one time
_ON_BOTH = WordForm(
    r"\W*\*(?P<inner>[^*]+?)[.;,]? ?\*?[;,.]? ?rep(?:eat)? (?:(?:from|between) (?:\*|the stars) )?(?:(?:to \* )?(?:on|for|across|over) (?:the )?(?:2nd|second|other) (?:half|side|needle)|once(?: more)?)\W*$"
)


def _parts_of(text: str) -> Iterator[str]:
    """Yield what a text tells of each needle, and what stands before them."""
    end = 0
    for needle in _NEEDLE.finditer(text):
        yield text[end : needle.start()]
        end = needle.end()
    yield text[end:]


def _step(text: str) -> int | None:
    if (both := _ON_BOTH.match(text)) is not None:
        once = _step(both["inner"])
        return None if once is None else 2 * once
    if _OF_ANOTHER.search(text):
        return None
    total = 0
    for part in _parts_of(_BY_SIZE.sub("", text)):
        if _SHAPES.search(part):
            change = change_in(part)
            if change is None:
                return None
            total += change
    return total


def _missed(known: _Known, often: _Often, ends: Sequence[_Values]) -> str:
    """Say what is wrong with a number of times; "" where it comes out, or nothing is near."""
    since = max(known.done, known.moved)
    group, other = known.worked(since, often.rows)
    if not group or not known.counts:
        return ""
    first = group[0][0] if group[0][0] > since else 1_000_000
    steps = [step for _, step in group]
    near = ""
    for line, count in _sure(known, since, max(map(len, (often.n, *ends)))):
        if line < other:
            continue
        more = often.before if line < first else often.behind
        if first == 1_000_000 or first <= line < group[-1][0]:  # it lies between rows that shape
            more = tuple({*often.before, *often.behind, 0})
        for end in ends:
            start, stop, times = alike(count, end, often.n)
            if not start or start == stop:
                continue
            for extra in more:
                so_often = tuple(n + extra for n in times)
                if _comes_out(start, stop, so_often):
                    return ""
                if not near and len(group) == 1:
                    near = _near(start, stop, so_often, steps[0], extra)
                    made = [a + n * (steps[0] or 0) for a, n in zip(start, so_often, strict=True)]
                    if line < since and (len(made) < 3 or _agree(made, stop) < len(made) - 1):
                        near = ""
    return near


def _never_reached(known: _Known, text: str) -> tuple[str, int] | None:
    """Say that a row never leads to the count that it is worked to."""
    target = _TARGET.search(text)
    if target is None or target["aside"] or _AS_BEFORE.search(text):
        return None
    since = max(known.done, known.moved)
    shapes = [step for line, step in known.shapes if line > since]
    steps = set(shapes[-GOING_ON:] if _GOES_ON.match(text) else shapes)
    if len(steps) != 1:
        return None
    step, wanted = steps.pop(), _reached(target)
    if not step or abs(step) < 2 or min(wanted) < LEAST:
        return None
    found = None
    sizes = max((len(many) for line, many in known.counts if line >= since), default=0)
    for line, count in _sure(known, since, max(sizes, len(wanted))):
        start, stop = alike(count, wanted)
        if not start:
            continue
        fits = [
            (b - a) % step == 0 and (b - a) // step > 0 for a, b in zip(start, stop, strict=True)
        ]
        if all(fits):
            return None
        towards = all((b - a) * step > 0 for a, b in zip(start, stop, strict=True))
        if line >= since and towards and found is None:
            at = fits.index(False)
            found = f"from {start[at]} sts, {abs(step)} at a time, there are never {stop[at]}"
    return (found, max(target.start("n"), target.start("m"))) if found else None


_SO_MANY_ROWS = WordForm(  # "until you have 121 sts (116 rows worked)"
    rf"\b(?:until|till)\b[^.;(\d]{{0,24}}(?P<n>{COUNT}) (?:live )?{STS}(?: remain)?,? ?[(—–-]+ ?(?:(?:about|that is|which is|after) )?(?P<rows>{COUNT}) (?:rows|rounds|rnds)(?: (?:worked|in all|altogether|so far|done|later))?(?=[ ).;]|$)"
)
_EVERY_ROW = WordForm(
    r"\b(?:every|each) (?:row|round|rnd)\b|\brep(?:eat)? (?:this|that|the last|(?:the )?(?:same )?(?:row|round|rnd) ?1?)(?: (?:row|round|rnd))?\b(?! ?(?:-|–|and|to)? ?\d)"
)
_EVERY_OTHER = WordForm(
    r"\b(?:every|each) (?:other|second|2nd|alternate)\b|\balternate (?:rows|rounds|rnds)\b"
)
SLIP = 6  # rows by which a number may miss, and be meant for it all the same


def _so_many_rows(
    known: _Known, one: Spoken, parts: Sequence[Spoken], before: Sequence[Spoken]
) -> tuple[str, int] | None:
    """Compare the rows that a sentence counts with those that its shaping takes, one in each row or in two."""
    told = _SO_MANY_ROWS.search(one.figures)
    if told is None:
        return None
    said = " ".join(other.figures for other in (*before, *parts))
    period = 2 if _EVERY_OTHER.search(said) else 1 if _EVERY_ROW.search(said) else 0
    steps = {step for line, step in known.shapes if line > max(known.done, known.moved)}
    if not period or len(steps) != 1 or not (step := steps.pop()):
        return None
    near = ""
    for _, count in reversed(known.counts):
        start, stop, rows = alike(count, values(told["n"]), values(told["rows"]))
        if not start or any(
            (b - a) % step or (b - a) // step <= 0 for a, b in zip(start, stop, strict=True)
        ):
            continue
        made = tuple((b - a) // step * period for a, b in zip(start, stop, strict=True))
        first = tuple(n - 1 for n in made)  # of which the first was told before
        if is_near(made, rows, period - 1) or first == rows:
            return None
        if is_near(made, rows, SLIP):
            near = f"from {by_size(start)} to {by_size(stop)} sts, {abs(step)} in {'every row' if period == 1 else '2 rows'}, are {by_size(made)} rows, not {by_size(rows)}"
    return (near, told.start("rows")) if near else None


def _sure(known: _Known, since: int, sizes: int) -> list[tuple[int, _Values]]:
    """Return the counts that nothing moved since, the last first; or where there are none, all."""
    fit = [
        one
        for one in reversed(known.counts)
        if sizes == 1 or len(one[1]) == sizes or len(one[1]) == 1
    ]
    return [one for one in fit if one[0] >= since and len(one[1]) == sizes] or fit


def _comes_out(start: _Values, stop: _Values, times: _Values) -> bool:
    """Tell whether as many stitches at a time lead from a count to the other, in all sizes."""
    steps = set()
    for a, b, n in zip(start, stop, times, strict=True):
        if n == 0 and a == b:
            continue
        if n <= 0 or (b - a) % n:
            return False
        steps.add((b - a) // n)
    return len(steps) == 1 and max(map(abs, steps)) <= MOST


def _agree(first: Sequence[int], second: Sequence[int]) -> int:
    return sum(a == b for a, b in zip(first, second, strict=True))


def _near(start: _Values, stop: _Values, times: _Values, step: int | None, extra: int) -> str:
    """Say what would make it come out, where little would."""
    if step is None:
        step = _usual(start, stop, times)
    if not step:
        return ""
    gaps = [b - a for a, b in zip(start, stop, strict=True)]
    made = tuple(a + n * step for a, n in zip(start, times, strict=True))
    if all(gap % step == 0 and gap // step > 0 for gap in gaps):
        wanted = tuple(gap // step for gap in gaps)
        if all(abs(a - b) <= FAR for a, b in zip(wanted, times, strict=True)):
            return (
                f"from {by_size(start)} to {by_size(stop)} sts, {abs(step)} at a time, are {by_size([n - extra for n in wanted])} times"
                f"{' more' if extra else ''}, not {by_size([n - extra for n in times])}"
            )
    if len(made) > 1 and _agree(made, stop) == len(made) - 1:
        return f"{abs(step)} sts at a time, so often, make {by_size(made)} sts, not {by_size(stop)}"
    if min(made) > 0 and all(abs(a - b) <= abs(step) for a, b in zip(made, stop, strict=True)):
        return f"{abs(step)} sts at a time, so often, make {by_size(made)} sts, not {by_size(stop)}"
    return ""


def _usual(start: _Values, stop: _Values, times: _Values) -> int | None:
    """Return the step that all sizes but one have, or all of them with one time more or less."""
    for extra in (0, 1, -1):
        found = [
            (b - a) // (n + extra) if n + extra > 0 and (b - a) % (n + extra) == 0 else None
            for a, b, n in zip(start, stop, times, strict=True)
        ]
        for step in {one for one in found if one and abs(one) in STEPS}:
            least = len(found) - 1 if not extra else len(found)
            if len(found) > 1 and found.count(step) >= max(2, least):
                return step
    return None
