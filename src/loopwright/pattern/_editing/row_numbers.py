# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Numbers of rows: one left out, one given twice, and repeats of rows that are not there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice

from loopwright.pattern._editing.figures import rows_by_number
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._reading.labels import LAST_ONE, Label
from loopwright.pattern._reading.stated import number_of
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import NUMBER_WORDS, figure
from loopwright.plurals import plural

__all__ = ["row_numbers"]

_AGAIN = WordForm(
    r"(?:and |then )?(?:rep(?:eat)?(?:ing)?|do (?:these|those|them|both|all|the|this)|alternate|cont(?:inue)?|work(?:ing)?|(?:go|carry|keep|follow) (?:on|along|this)|(?:knit|purl|k|p) (?:\d+|one|two|three|four|five|six) (?:more )?(?:rounds?|rnds?|rows?))\b",
)
_REPEATS = WordForm(r"\b(?:rep(?:eat)?(?:ing)?|work(?:ing)?) ")
_LIKE = WordForm(r"\b(?:as|like|rep(?:eat)?) ")
_ROWS = r"(?:rounds?|rnds?|rows?|r)"
_REPEATED = WordForm(
    rf"\b(?:rep(?:eat)?(?:ing)?|work(?:ing)?) (?:the )?{_ROWS}s? ?(?P<a>\d+)"
    rf"(?:\s*(?P<sign>-|–|and|&|to)\s*(?:{_ROWS} ?)?(?P<b>\d+))?(?![\d.]|(?:\s*(?:-|–|and|&|to)\s*\d+)? ?(?:of|from|\())",
)
_SEVERAL = WordForm(
    rf"^[^:]*\b(?:all|every|each|alt\w*|even|odd)\b[^:]*:|"
    rf"\b(?:all|every|each)\b[^:]{{0,20}}\b(?:alt\w*|even|odd|other|foll\w*|rem\w*|ws|rs|wrong|right)\b[^:]{{0,20}}\b{_ROWS}\b",
)


_ALL_OTHERS = WordForm(  # "Purl all wrong-side rows.", "Even-numbered rounds: Knit."
    rf"(?:\W*(?:knit|purl|k|p|work)\b[^:.]{{0,20}}\b)?(?:all|every|each|(?:odd|even)(?:-numbered)?)\b[^:.]{{0,24}}\b{_ROWS}\b"
)
_TOLD_PLAIN = WordForm(  # "rounds 2, 4 and 6 are knit plain"
    rf"\b{_ROWS} (?P<list>\d+(?:,? (?:and |& )?\d+)+) (?:are |is )?(?:all )?(?:worked )?(?:knit|knitted|plain|purl|purled|even)\b"
)
_ON_ALL_OTHERS = WordForm(  # "RS rows are as follows; on all WS rows purl"
    r"\bon (?:all|every|each) (?:the )?(?:ws|wrong[- ]side|even|alternate) rows?,? (?:knit|purl)\b"
)
_TOLD_ALIKE = WordForm(  # "do the same on rows 8, 10 and 12", "rows 4 and 6 are the same"
    rf"\b(?:do the same|and so|likewise|work(?: the same)?|(?:knit|purl)(?: the same)?|the same)(?: (?:on|in|for))? {_ROWS} (?P<list>\d+(?:,? (?:and |& )?\d+)*)|"
    rf"^{_ROWS} (?P<list2>\d+(?:,? (?:and |& )?\d+)*) are (?:worked )?(?:the same|alike|like this)\b"
)
_LIKEWISE = WordForm(r"(?:(?:just |exactly )?the same|likewise|ditto)\.?$")
_SAME_WAY = WordForm(rf"\b{_ROWS} \d[\d, and]* (?:in )?(?:the same(?: way)?|like this|alike|too)\b")
_TOLD_ONCE = WordForm(  # "purl every even-numbered row", "all even rows are purled"
    rf"\b(?:all|every|each) (?:the )?(?P<which>even|odd)(?:[- ]numbered)? {_ROWS}\b"
)
_NOT_GIVEN = WordForm(  # "on every round not given, work the sts as they look"
    rf"\b{_ROWS},? (?:(?:that|which) )?(?:(?:(?:is|are|was|were)(?:n['’]t| not)|not) (?:given|listed|mentioned|written|told|shown|described|numbered|named|spelled|here|below)|(?:in[- ])?between(?=[,.:;]| (?:are|is)\b))"
    r"|\b(?:only|just) (?:the )?(?:[a-z]+ ){0,6}(?:is|are) (?:given|listed|written|told|shown|described|mentioned)\b"
)
_ALL_OTHER = WordForm(r"(?:knit |work )?all (?:the )?other (?:rounds|rnds)\b")
_UNTIL_ROWS = WordForm(  # "knit these two rows until you have 30 rows"
    rf"\b(?:until|till) (?:(?:you|there|have|has|are|is|worked|done|knitted|made|a total of|the|heel|flap|piece) )*(?P<n>\d{{1,3}}) (?:heel |flap )?{_ROWS}\b"
)
_SOME_ROWS = WordForm(
    r"\b(?:work|knit|purl|k|p) (?P<many>\d{1,2}|two|three|four|five|six) (?:more )?(?:rounds|rnds|rows)\b"
)
_AMID = WordForm(r"^[a-z -]+, (?:row|rnd|round) (?P<n>\d{1,3})(?: ?\([^()]*\))?: ")
_ROWS_OF_THIS = WordForm(r"(?P<many>\d{1,2}) (?:rounds|rnds|rows) of (?:this|it|these)\b")
_PLAIN_ROWS = WordForm(
    rf"(?:then )?(?:knit|purl|k|p|work) [a-z\d]+ (?:more )?{_ROWS}\b|(?:[a-z][^:.;\d]*: ?)?(?:\d{{1,2}}|two|three|four) {_ROWS}\b",
)
_STANDS = WordForm(  # "Row 7: 5 stitches between the markers": how it looks then
    r"(?:you have |there are )?\d+ (?:sts|stitches) (?:between|in|on|before|after|at)\b",
)
_STOPS = WordForm(
    rf"\b(?:stop(?:ping)?|end(?:ing)?) (?:after|with|on) {_ROWS} ?(?P<row>\d{{1,4}})\b",
)
_TALLY = re.compile(
    r"\s*\d+ (?:sts|stitches)\b[^:;*]*?\b(?:in all|between the markers)\W*", re.IGNORECASE
)
_FIRST_BEGINS = WordForm(r"\b(?:round|rnd|row) 1:|\b(?:1st|first) (?:round|rnd|row):")
_FIRST_ROW = WordForm(r"\b(?:rounds?|rnds?|rows?|r) ?1\b")


_SO_MANY = WordForm(  # "knit 5 rows", "rib 22 rounds", "in k2, p2 rib for ten rounds"
    rf"(?<!last )(?<!these )(?<!those )\b(\d{{1,3}}|{'|'.join(NUMBER_WORDS)}) (?:more )?(?:rounds?|rnds?|rows?)\b(?! of (?:this|it|these)\b)"
)
_IN_PROSE = WordForm(
    r"(?:in|on|for) the (?:next|following|first|second|third) (?:round|rnd|row|needle)\b",
)


def row_numbers(sentences: Sentences) -> Iterator[Finding]:
    """Find numbers of rows that are left out or doubled, and repeats of rows that are not there."""
    yield from _of_sections(sentences)
    yield from _nowhere(sentences)
    between = {  # sections with "purl all WS rows"
        one.section
        for one in sentences.about(_ALL_OTHERS, _ON_ALL_OTHERS)
        if (one.label is None or not one.label.numbers)
        and (_ALL_OTHERS.match(one.text) or _ON_ALL_OTHERS.search(one.text))
    }
    section = begun = skips = -1  # the last: the number behind a row told with others
    seen, run, before, last, again = set[int](), list[Spoken](), list[Spoken](), 0, False
    # rows told without their numbers: "knit 5 rows", and row 6 comes next; words before on a line
    # and the first row of the section before: those of the other hand begin there, too
    others, so_far, plain, said, line, opened = False, 0, False, "", 0, 0
    apart = set[int]()  # rows of the section that were told for themselves: "even rounds: knit"
    stands, stops, so_many, begins, plainly, repeats, these, likes, apart_told = (
        set(sentences.places_about(*forms))
        for forms in (
            [_STANDS],
            [_STOPS],
            [_SO_MANY, _ROWS_OF_THIS, _AMID],
            [_FIRST_BEGINS, _AGAIN],
            [_PLAIN_ROWS, _IN_PROSE],
            [_REPEATS],
            [_THESE],
            [_LIKE],
            _APART,
        )
    )
    for at, one in enumerate(sentences):
        if one.section != section:
            yield from _in_order(run, apart, told=section in between)
            skips = last + 2 if section in between or last + 1 in apart | seen else 0
            section, seen, run, before, so_far, apart = (
                one.section, set(), [], [], 0, _all_apart(one.title),
            )  # fmt: skip
        label = None if at in stands and _STANDS.match(one.text, one.start) else one.label
        told = one.line == line and _FIRST_ROW.search(said) is not None
        by_name = _by_its_name(label, last, apart) if seen else set()
        tells = at in apart_told or (one.label is not None and not one.label.numbers)
        apart |= by_name | (_told_apart(one, last) if tells else set())
        said, line = one.text if one.line != line else f"{said} {one.text}", one.line
        stop = _STOPS.search(one.text) if at in stops else None
        last = int(stop["row"]) if stop else last
        if label is not None and label.numbers and label.course:
            if _TALLY.fullmatch(one.text, one.start) or _is_likewise(one, run):
                continue  # what a row leaves, and no row of its own; rows told before their turn
            if label.numbers[0] == 1:
                yield from _in_order(run, apart, told=section in between)
                run = []
            elif (
                not seen
                and not told
                and begun != one.section
                and not (again and label.numbers[0] > last)
                and label.numbers[0] not in (skips, opened)
                and not apart.issuperset(range(1, label.numbers[0]))  # "odd rounds: knit"
            ):
                yield from _begins_late(one, so_far or last)
            opened = opened if seen else label.numbers[0]
            others = bool(label.which) or (bool(run) and others)  # "row 2 and all WS rows"
            run.append(one)
            seen.update(label.numbers)
            if others:
                seen.add(label.numbers[-1] + 1)
            last, again = label.numbers[-1], False
            yield from _as_many(one)
            yield from _as_itself(one) if at in likes else ()
        elif label is None and (at in so_many or at in begins):
            so_far = _rows_in_prose(one.text, so_far)
            first = _FIRST_BEGINS.search(one.text) is not None
            begun = one.section if first else begun  # "With the main colour only, rnd 1: …"
            if first or _AGAIN.match(one.text):
                yield from _in_order(run, apart, told=section in between)
                # how many rows were worked again, the numbers behind them tell
                run, again = [], again or not first
        yield from _there(one, seen) if seen and at in repeats else ()
        yield from _these(one, run or before, apart) if seen and at in these and not plain else ()
        plain = (
            at in plainly and bool(_PLAIN_ROWS.match(one.text) or _IN_PROSE.match(one.text))
            if label is None
            else bool(label.course) and not label.numbers  # "Next round: Knit." is one of these
        )
        before = run or before
    yield from _in_order(run, apart, told=section in between)


_OF_SECTION = WordForm(
    rf"\b(?:rep(?:eat)?(?:ing)?|work(?:ing)?) (?:the )?{_ROWS}s? ?(?P<a>\d{{1,3}})(?:\s*(?:-|–|and|&|to)\s*(?:{_ROWS} ?)?(?P<b>\d{{1,3}}))? of (?:the )?(?:(?:first|second|third|last|other|previous|upper|lower|1st|2nd|3rd) (?=[a-z]{{3,}}))?(?P<name>[a-z]+(?: (?:\d+|[a-z])\b(?! (?:more |further )?times?\b))?)",
)  # "of point 3 times": the number is not of the name


_AND_MORE = WordForm(r",? and (?:the )?(?P<name>[a-z]{3,})")


def _all_apart(title: str) -> set[int]:
    """Return the rows that a title tells: all, for "Gusset (rounds not named are plain)"."""
    return set(range(1, MOST)) if _NOT_GIVEN.search(title) else set()


def _of_sections(sentences: Sentences) -> Iterator[Finding]:
    """Find "work rows 1 and 3 of section 1", where section 1 has no row 3."""
    spoken_of = set(sentences.places_about(_OF_SECTION))
    rows: dict[str, set[int]] = {}
    for at, one in enumerate(sentences if spoken_of else ()):
        if one.label is not None and one.label.course:
            if one.label.which:
                rows.setdefault(one.title, set()).update(range(1000))
            rows.setdefault(one.title, set()).update(one.label.numbers)
        for match in _OF_SECTION.finditer(one.text, one.start) if at in spoken_of else ():
            called = re.compile(rf"\b{re.escape(match['name'].lower())}\b")
            there = set().union(*(found for title, found in rows.items() if called.search(title)))
            more = _AND_MORE.match(one.text, match.end())
            if more and any(more["name"].lower() in title.lower() for title in rows):
                continue  # "the 18 rounds of blocks and eyelets"
            asked = int(match["b"] or match["a"])
            if there and asked not in there and 1 in there:
                place = one.place(match.start())
                said = f"there is no row {asked} in {match['name']}; the last there is {max(there)}"
                yield Finding(WARNING, "numbers", said, place.line, place.column)


_FROM_TO = WordForm(
    rf"\b{_ROWS}s? (?P<a>\d{{1,2}}) ?(?:-|–|to|through) ?(?P<b>\d{{1,2}})\b(?!:| ?\()"
)
ENOUGH = 3  # numbered rows, of which the next is asked for


def _nowhere(sentences: Sentences) -> Iterator[Finding]:
    """Find "rounds 1-6", where a text has the rounds 1 to 5 alone."""
    rows = [one.label for one in sentences if one.label is not None and one.label.course]
    numbers = {n for label in rows for n in label.numbers}
    if len(numbers) < ENOUGH or any(label.which for label in rows):
        return
    last = max(numbers)
    if numbers != set(range(1, last + 1)):
        return
    for one in sentences.about(_FROM_TO):
        match = _FROM_TO.search(one.text, one.start)
        if match is None or int(match["a"]) not in numbers:
            continue
        if int(match["b"]) == last + 1:
            if any("chart" in one.text.lower() or _SEVERAL.search(one.text) for one in sentences):
                return
            place = one.place(match.start())
            said = f"there is no row {match['b']} in this text: the last is {last}"
            yield Finding(WARNING, "numbers", said, place.line, place.column)


def _is_likewise(one: Spoken, run: list[Spoken]) -> bool:
    """Tell whether rows are like one of their line: "Row 8: purl. Rows 10 and 12: the same."."""
    there = bool(run) and run[-1].line == one.line
    return there and _LIKEWISE.match(one.text, one.start) is not None


def _by_its_name(label: Label | None, last: int, apart: set[int]) -> set[int]:
    """Return the number that a row without one stands for: "Eyelet row: …", behind row 3."""
    if label is None or not label.course or label.numbers or label.which:
        return set()
    free = (n for n in range(last + 1, last + MOST) if n not in apart)
    return {*islice(free, 1)}


_INSTEAD = WordForm(
    r"\b(?:as|like)\b[^.;]*[,;] (?:but|except|only)\b[^.]*\b(?:thus|as follows|like this|these (?:rows|rounds|rnds))\W*$"
)


def _rows_in_prose(text: str, so_far: int) -> int:
    """Return how many rows were told without numbers: "knit 5 rows", "10 rows of this"."""
    so_far += sum(number_of(match[1]) for match in _SO_MANY.finditer(text))
    if (of_this := _ROWS_OF_THIS.match(text)) is not None:
        so_far += int(of_this["many"])
    amid = _AMID.search(text)  # "Turn-back, row 4 (RS): k1, …"
    return so_far if amid is None else max(so_far, int(amid["n"]))


_APART = [
    _ALL_OTHER, _LIKEWISE, _INSTEAD, _UNTIL_ROWS, _SOME_ROWS, _NOT_GIVEN, _TOLD_ONCE, _TOLD_PLAIN, _TOLD_ALIKE,
]  # fmt: skip


def _told_apart(one: Spoken, last: int) -> set[int]:
    """Return the rows that a sentence tells of all together, beside those that stand in order."""
    if _ALL_OTHER.match(one.text):
        return set(range(1, MOST))
    if one.label is not None and _LIKEWISE.match(one.text, one.start):
        return set(one.label.numbers)
    if one.label is None and _INSTEAD.search(one.text):  # those below stand for some of the rows
        return set(range(1, MOST))
    if one.label is None and (upto := _UNTIL_ROWS.search(one.text)):  # and row 31 comes next
        return set(range(last + 1, int(upto["n"]) + 1)) if last else set()
    if one.label is None and (some := _SOME_ROWS.search(one.text)):  # "work 3 rows", behind row 1
        return set(range(last + 1, last + 1 + number_of(some["many"]))) if last else set()
    if one.label is not None and not one.label.numbers:
        which = one.label.which or one.label.name.partition("-")[0]  # "odd-numbered rows: …"
        first = {"even": 2, "odd": 1}.get(which)
        return set(range(first, MOST, 2)) if first else set()
    if one.label is not None and one.label.which:
        return set()
    if one.label is None and _NOT_GIVEN.search(one.text):
        return set(range(1, MOST))
    if once := _TOLD_ONCE.search(one.text):
        return set(range(2 if once["which"].lower() == "even" else 1, MOST, 2))
    if one.label is None and (match := _TOLD_PLAIN.search(one.text)):
        return {int(number) for number in re.findall(r"\d+", match["list"])}
    alike = _TOLD_ALIKE.search(one.text)
    return {int(n) for n in re.findall(r"\d+", alike["list"] or alike["list2"])} if alike else set()


MOST = 200  # rows of a pattern


def _in_order(run: list[Spoken], apart: set[int], *, told: bool) -> Iterator[Finding]:
    """Find what is out of order in rows that are numbered one after another.

    Every second one may be left out where these were `told` without their numbers.
    """
    elsewhere = apart - {n for one in run if one.label for n in one.label.numbers}
    for numbers in (one.label.numbers for one in run if one.label):
        if len(numbers) < numbers[-1] - numbers[0] + 1:
            elsewhere |= set(numbers)  # "rows 2, 4 and 6: purl", behind rows 1, 3 and 5
    if any(one.label.which or _SEVERAL.search(one.text) for one in run if one.label):
        return
    firsts = [one.label.numbers[0] for one in run if one.label]
    seen: set[int] = set()
    for at, one in enumerate(run):
        assert one.label is not None
        first, after = firsts[at], firsts[at + 1] if at + 1 < len(run) else 0
        if told and first - 2 in seen:
            seen.add(first - 1)
        expected = first if at else first - (first == after > 1)
        if at and (first in seen or first - 1 not in seen):
            known = seen | elsewhere
            expected = next(n for n in range(min(seen), max(*known, first) + 2) if n not in known)
        if first == expected:
            seen.update(one.label.numbers)
            continue
        place = one.place()
        again = " again" if first in seen else ""
        said = (
            f"expected number {expected}, found {first}{again}: was a row left out, or misnumbered?"
        )
        yield Finding(WARNING, "numbers", said, place.line, place.column)
        slipped = first in seen or after in (expected + 1, first)
        seen.update((expected,) if slipped else one.label.numbers)


def _there(one: Spoken, seen: set[int]) -> Iterator[Finding]:
    """Find a repeat of rows that stand nowhere in its section."""
    if _SAME_WAY.search(one.text):
        return  # rows that are told beforehand, like this one
    said = one.text[: one.start] + rows_by_number(one.text[one.start :])
    for match in _REPEATED.finditer(said, one.start):
        first, last = figure(match["a"]), figure(match["b"] or match["a"])
        place = one.place(match.start())
        if match["b"] and last < first and re.search(r" (?:and|&) ", match[0]):
            continue  # "work the 3rd and 2nd rows by turns"
        if match["b"] and last <= first:
            said = f"rows {first} to {last}: the second number should be the greater one"
        elif last not in seen and min(seen) <= first:
            listed = "-".join(str(n) for n in sorted({min(seen), max(seen)}))
            said = f"there is no row {last} here to repeat; those given are {listed}"
        else:
            continue
        yield Finding(WARNING, "numbers", said, place.line, place.column)


_ALONE = WordForm(
    rf"(?:rep(?:eat)?|as|work) (?:the )?{_ROWS}s? ?(?P<a>\d+)(?:\s*(?:-|–|and|&|to)\s*(?:{_ROWS} ?)?(?P<b>\d+))?\.?$",
)


def _as_many(one: Spoken) -> Iterator[Finding]:
    """Compare "rows 5-8: rep rows 1-4" with the number of rows that are repeated."""
    label = one.label
    assert label is not None
    if len(label.numbers) == 1:
        return
    ends = LAST_ONE.search(one.text.rstrip(" ."), one.start)
    match = _ALONE.match(one.text[: ends.start()] if ends else one.text, one.start)
    if match is None:
        return
    first, last = figure(match["a"]), figure(match["b"] or match["a"])
    each, many = last - first + 1, len(label.numbers)
    if each < 1:
        return
    over = first + (many - 1) % each  # the row that such a repeat ends with
    if over == (figure(ends["last"]) if ends else last):
        return
    said = f"{plural(many, 'row')} can't be {plural(each, 'row')} repeated: which rows are meant?"
    if ends:
        said = f"{plural(many, 'row')} of rows {first} to {last} end with row {over}, not row {ends['last']}"
    place = one.place()
    yield Finding(WARNING, "numbers", said, place.line, place.column)


def _begins_late(one: Spoken, last: int) -> Iterator[Finding]:
    """Find a section whose rows begin with another number than 1, and go on from no others."""
    label = one.label
    assert label is not None
    first = label.numbers[0]
    if first in (1, last + 1) or label.which or _SEVERAL.search(one.text):
        return
    place = one.place()
    said = (
        f"the rows of this section begin with number {first}: was a row left out, or misnumbered?"
    )
    yield Finding(WARNING, "numbers", said, place.line, place.column)


_AS_ONE = WordForm(
    rf"\b(?:as|like|same as|rep(?:eat)?) (?:for )?(?:the )?(?P<crs>{_ROWS}) ?(?P<a>\d{{1,4}})\b(?!(?:(?:,|,? and|,? &| to| ?[-–]) ?\d+)* ?(?:of|in|from|to|above|before|earlier|-|–)(?! turn))",
)


def _as_itself(one: Spoken) -> Iterator[Finding]:
    """Find "round 4: as round 4": a row is as one before it."""
    label = one.label
    assert label is not None
    worded = one.text[: one.start] + rows_by_number(one.text[one.start :])
    match = _AS_ONE.search(worded, one.start)
    if match is None or label.which or int(match["a"]) < label.numbers[0]:
        return
    if len(label.numbers) > 1 and label.numbers[0] == 1:
        return  # "rows 1-10: repeat rows 1 and 2 five times" are those of the section before
    if label.course == "ROW" and match["crs"].lower().startswith(("rnd", "round")):
        return  # rows told by the rounds before the work was turned
    place = one.place(match.start())
    said = f"row {label.numbers[0]} is to be as row {match['a']}, which is not before it"
    yield Finding(WARNING, "numbers", said, place.line, place.column)


_THESE = WordForm(
    r"\b(?:rep(?:eat)?|work) (?:these|the last|last) (?P<many>\d{1,2}|two|three|four|five|six|eight) (?:rows|rounds|rnds)\b",
)
_TOLD = re.compile(
    r"\b(?:knit|purl|k|p) (?:\d+|one|two|three|a) (?:rounds?|rnds?|rows?)\b", re.IGNORECASE
)


FAR_IN = 16  # columns; what stands there has a sentence before it


def _these(one: Spoken, run: list[Spoken], apart: set[int]) -> Iterator[Finding]:
    """Find "repeat these 4 rows" behind fewer rows than that."""
    match = _THESE.search(one.text, one.start)
    if (
        match is None
        or "these" not in match[0].lower()
        or _TOLD.search(one.text, one.start, match.start())
        or any(r.label and r.label.which for r in run)
    ):
        return
    many = number_of(match["many"])
    numbers = [n for row in run if row.label for n in row.label.numbers]
    there = len(numbers) + len({n for n in apart if n <= max(numbers, default=0) + 1} - {*numbers})
    first = run[0].label.numbers[:1] if run and run[0].label else ()
    place = one.place(match.start())
    alone = run and (
        run[-1].line == one.line or one.place(0).column < FAR_IN
    )  # or they are told before it
    if first == (1,) and there < many and run[0].section == one.section and alone:
        said = f"{plural(many, 'row')} to repeat, and {plural(there, 'row')} numbered here: was one left out?"
        yield Finding(WARNING, "numbers", said, place.line, place.column)
