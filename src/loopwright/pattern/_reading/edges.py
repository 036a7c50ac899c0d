# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Shaping at the ends of rows said in words, and how often a shaping row comes.

"Dec 1 st at each end of next row, then every 4th row 5 times, then every other row until 20 sts
remain": a shaping row, and plain rows between its repeats.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.legs import COURSES, FEW, NTH, ShapingLeg, legs_in, on_listed
from loopwright.pattern._reading.named_rows import is_shaping, last_shaping, named_row
from loopwright.pattern._reading.rule_table import alone, rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in, number_of
from loopwright.pattern._reading.uncounted import changes_count
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern._words import figure
from loopwright.pattern.items import KNIT, PURL, Item, On, Repeat, Run, Turn
from loopwright.pattern.values import (
    Count,
    Sized,
    To,
    UntilCount,
    Where,
    as_many,
    plus,
    sized,
    values_of,
)

__all__ = ["every_round", "in_all_needles", "shaped_at_ends", "staggered"]

_AT_ENDS = WordForm(
    rf"(?:(?:now|then|and|work as set,|(?:continu(?:e|ing)|cont|work(?:ing)?) in [a-z ]+(?: \([^()]*\))?,?(?: and)?|(?:work(?:ing)? )?on these {COUNT} {STS}(?: only)?,?) )*(?P<what>dec|inc)(?:reas(?:e|ing))?\.? (?P<n>{COUNT}|one) (?:{STS} )?(?:at |on )?"
    rf"(?P<where>(?:each|both|either) (?:ends?|sides?|edges?)|(?:the )?(?:beg(?:inning)?|start) and (?:the )?end|(?:the )?(?:beg(?:inning)?|start)|(?:the )?end|(?:the |that |same )*(?P<edge>neck|armhole|front|side|inner|outer|shaped|raglan|sleeve|centre|center)(?: front)? edges?)"
    rf"(?: only)?(?: of)?[ ,]+(?:(?:the )?(?:row|rnd|round)s?,? )?(?P<rest>.+)$",
    re.NOFLAG,
)


def shaped_at_ends(scribe: Scribe, text: str) -> list[Says] | None:
    """Return the rows of "dec 1 st at each end of next row, then …"; None if it says no such."""
    match = _AT_ENDS.match(text.strip(" ."))
    if match is None:
        return None
    down, where = match["what"] == "dec", match["where"]
    both = re.match(r"each|both|either", where) or " and " in where
    edge = (
        match["edge"] is not None
    )  # which lies at the end of a row, and at the beginning of the next
    start, end = bool(both) or "end" not in where, bool(both) or "end" in where
    amount = count_in(match["n"]) if match["n"] != "one" else 1
    legs = _with_next(legs_in(match["rest"], growing=not down), match["rest"])
    live = scribe.now()
    if legs is None or not live.tallies:
        return None
    goes_round = live.in_rounds and scribe.context.course != "ROW"
    right = goes_round or live.tallies[0].right_side == bool(
        live.tallies[0].ahead or not live.tallies[0].behind
    )

    def shaping(front: bool) -> st.Round | st.Row:
        at_start, at_end = (not front, front) if edge else (start, end)
        items = _shaping_items(amount, down=down, start=at_start, end=at_end, front=front)
        return st.Round(items) if goes_round else st.Row(items)

    first = shaping(right)
    scribe.numbered(first, (), "dec" if down else "inc")
    return _worked(scribe, legs, (shaping(True), shaping(False)), right)


def _with_next(legs: list[ShapingLeg] | None, rest: str) -> list[ShapingLeg] | None:
    """Count the first row among "next row and every 4th row, 5 times in all"."""
    if legs is None or len(legs) != 2 or legs[0].times != 1 or not _OF_ALL.search(rest):
        return legs
    times = legs[1].times
    if isinstance(times, UntilCount) or min(values_of(times)) < 2:
        return legs
    return [legs[0], ShapingLeg(legs[1].stride, plus(times, -1))]


_OF_ALL = WordForm(r"\btimes (?:in all|in total|altogether)\b", re.NOFLAG)


def _shaping_items(
    amount: Count, *, down: bool, start: bool, end: bool, front: bool
) -> tuple[Item, ...]:
    first, last = ("k2tog", "ssk") if front else ("p2tog", "p2tog")
    if not down:
        first = last = "kfb" if front else "pfb"
    plain = "k" if front else "p"
    items: list[Item] = [Run(first, amount)] if start else []
    if not end:
        return (*items, Run(plain, To()))
    width = sized([int(value) * (2 if down else 1) for value in values_of(amount)])
    return (*items, Run(plain, To(Where.END, width)), Run(last, amount))


def _worked(
    scribe: Scribe,
    legs: list[ShapingLeg],
    shaping: tuple[st.Round | st.Row, st.Round | st.Row],
    right: bool,
) -> list[Says]:
    """Return the rows of a schedule; `right` says which side faces as it begins."""
    steps: list[Says] = []
    plain = _plain_since(scribe, shaping[0])
    for leg in legs:
        behind = _has_just_shaped(scribe, steps)
        body, right = _body(scribe, leg.stride, shaping, right, behind=behind)
        body = tuple(attrs.evolve(row, count=None, at=scribe.place) for row in body)
        if 0 < plain < len(body) and leg is legs[0] and leg.times != 1:  # these were told
            steps += body[plain:]
            if not isinstance(leg.times, UntilCount):
                leg = attrs.evolve(leg, times=plus(leg.times, -1))
        if leg.times == 1 and len(body) > 2 and isinstance(body[0], st.Round):
            steps += [st.RepeatRounds(body[:1], len(body) - 1, at=scribe.place), body[-1]]
        elif leg.times == 1:
            steps += body
        elif (pairs := _in_pairs(leg)) is not None and not isinstance(body[0], st.Round):
            odd, half = pairs
            (other,) = _body(scribe, 1, shaping, right)[0]
            steps += body * odd
            both = (other, *body) if odd else (*body, other)
            steps.append(st.RepeatRounds(both, half, at=scribe.place))
            right = right if odd else not right
        elif len(body) % 2 and not isinstance(body[0], st.Round) and isinstance(leg.times, int):
            for _ in range(leg.times):
                steps += body
                body, right = _body(scribe, leg.stride, shaping, right)
        else:
            steps.append(st.RepeatRounds(body, leg.times, at=scribe.place))
    return steps


def _plain_since(scribe: Scribe, row: st.Round | st.Row) -> int:
    """Return how many plain rounds were told since a round, where that was the last to shape."""
    plain = 0
    for entry in reversed(scribe.assembler.entries):
        step = entry.step
        if isinstance(step, st.Note):
            continue
        if not isinstance(step, st.Round) or (step.items == row.items):
            return plain if isinstance(step, st.Round) else 0
        if is_shaping(step):
            return 0
        plain += 1
    return 0


def _has_just_shaped(scribe: Scribe, steps: Sequence[Says]) -> bool:
    """Tell whether the row before shaped: those that are plain come first then."""
    last: object = steps[-1] if steps else None
    if last is None and scribe.assembler.entries:
        last = scribe.assembler.entries[-1].step
    if isinstance(last, st.RepeatRounds) and last.steps:
        last = last.steps[-1]
    return isinstance(last, st.Row) and changes_count(scribe, last)


def _in_pairs(leg: ShapingLeg) -> tuple[int, Count] | None:
    """Return what rows behind one another, so many by size, are in pairs, and whether one is over."""
    if leg.stride != 1 or not isinstance(leg.times, Sized):
        return None
    many = [int(value) for value in values_of(leg.times)]
    odd = {n % 2 for n in many}
    return (odd.pop(), sized([n // 2 for n in many])) if len(odd) == 1 and min(many) > 1 else None


def _body(
    scribe: Scribe,
    stride: int,
    shaping: tuple[st.Round | st.Row, st.Round | st.Row],
    right: bool,
    *,
    behind: bool = False,
) -> tuple[tuple[st.Round | st.Row, ...], bool]:
    """Return one shaping row with the plain ones of its cycle, and the side that faces then."""
    if isinstance(shaping[0], st.Round):
        plain = st.Round(scribe.plain(ground=False)[0].items)
        return (*([plain] * (stride - 1)), shaping[0]), True
    garter = scribe.context.ground_name == "garter"

    def even(front: bool) -> st.Row:
        return st.Row((KNIT if front or garter else PURL,))

    if stride % 2:
        rows: list[st.Round | st.Row] = []
        for _ in range(stride - 1):
            rows.append(even(right))
            right = not right
        return (*rows, shaping[0 if right else 1]), not right
    sides = [right != bool(number % 2) for number in range(stride)]
    at = 0 if right and not behind else stride - 1
    worked = shaping[0 if sides[at] else 1]
    return tuple(worked if n == at else even(side) for n, side in enumerate(sides)), right


_NAMED = WordForm(
    rf"(?:and |now |then )*(?:rep(?:eat)?(?:ing)?|work(?:ing)?|do|keep(?: on)? (?:dec|inc)reasing|(?:continue|cont)\b\.?(?: (?:to )?(?:work(?:ing)?|rep(?:eat)?(?:ing)?|dec(?:reas(?:e|ing))?|inc(?:reas(?:e|ing))?|shap\w+))?|dec(?:rease)?|inc(?:rease)?|shape)\b\.?(?: (?P<sts>\d{{1,2}}) {STS}(?= (?:on |in )?(?:every|each|alt|\d)))?"
    rf"(?: (?:the |this |these |last |an? |another )*(?:(?P<name>[a-z][\w-]*)(?: {COURSES}))?(?: (?:row|round|rnd))?)?(?: (?:in )?(?:(?:this|the same|as) (?:way|manner|set|established|before)|as (?:in|for|on) (?:the )?(?P<as>(?:rounds?|rnds?|rows?) \d+|\d+(?:st|nd|rd|th) (?:rounds?|rnds?|rows?)|(?:last|first|previous) (?:rounds?|rnds?|rows?))|thus|likewise|so))?(?: (?:dec\w*|inc\w*|shaping))?(?:,? (?:again|once more))?[ ,]+(?:(?:at )?first,? )?(?P<rest>(?:(?:on |in )?(?:the )?(?:following |foll\.? |next )?(?:every|each|foll|alt|next|(?:{COUNT}|{FEW}) {COURSES}|{NTH} {COURSES})|after (?:{COUNT}|{FEW}) (?:plain |knit |even )?{COURSES}|(?:{COUNT}|{FEW})(?: times?)?(?: more)? (?:on |in |after )?(?:the )?(?:every|foll|each|{NTH} {COURSES}|(?:{COUNT}|{FEW}) (?:plain |knit )?{COURSES})).*)$",
    re.NOFLAG,
)


def staggered(scribe: Scribe, text: str) -> list[Says] | None:
    """Return the rows of "rep dec rnd every 6 rnds 3 times more, then every 4 rnds twice"."""
    text = on_listed(text.strip(" ."), _just_worked(scribe))
    text = _AS_TIMES.sub(r" \g<n>\g<m> times", text)
    text, told = _plainly_said(scribe, _PER_NEEDLE.sub("", text))
    if (found := _alternated(scribe, text)) is not None:
        return found
    match = _NAMED.match(text)
    if match is None:
        return None
    growing = bool(re.search(r"\bthere are\b|\bup to\b|\binc", text))
    legs = legs_in(match["rest"], growing=growing)
    if legs is None:
        return None
    name = match["name"] or "last"
    if match["as"] and (number := re.search(r"\d+", match["as"])):
        row = scribe.context.row(int(number[0]))
        if row is None or not is_shaping(row) or not _is_open(row.items) or _is_spiral(row):
            return None
        return _worked(scribe, legs, (row, row), _on_right_side(scribe))
    name = "last" if name in ("thus", "so", "likewise", "again") else name
    row = told or named_row(scribe, name) or (last_shaping(scribe) if name in _ANY else None)
    if row is None or not is_shaping(row):
        row = last_shaping(scribe) if name in _ANY else row
    if row is None or (name in _ANY and _is_spiral(row)):
        return None
    if match["sts"] and _change(scribe, row) != int(match["sts"]):
        return None
    if not _MORE.search(text):
        legs = _as_counted(scribe, legs, row)
    elif len(legs) > 1 and _COUNTS_ITSELF.search(text) and _was_last(scribe, row):
        legs = [attrs.evolve(legs[0], times=plus(legs[0].times, -1)), *legs[1:]]  # type: ignore[arg-type]
    return _worked(scribe, legs, (row, row), _on_right_side(scribe))


def _just_worked(scribe: Scribe) -> int:
    """Return the number of the row worked last, 0 where it has none."""
    steps = (entry.step for entry in reversed(scribe.assembler.entries))
    last = next((step for step in steps if not isinstance(step, st.Note)), None)
    row = scribe.context.rows.get(scribe.context.last)
    same = row is not None and row.items == getattr(last, "items", None)
    return scribe.context.last if same else 0


_AS_TIMES = WordForm(  # "every round x 6", "every rnd 6x", "every round (6 times)"
    r"(?:,? [x×] ?(?P<n>\d{1,2})|,? (?P<m>\d{1,2}) ?[x×])(?=[ ,;.]|$)", re.NOFLAG
)
_COUNTS_ITSELF = (
    WordForm(  # "every other round five times in all, then every round": one was worked
        rf"^[^,;]*?{COURSES} (?:{COUNT}|{FEW}) times (?:in all|in total|altogether)\b", re.NOFLAG
    )
)
_ON_EACH = WordForm(  # "until 9 sts remain on each needle"
    rf"(?P<until>(?:un)?til+ (?:there are |only )*)(?P<n>\d+)(?P<left>(?: {STS})?(?: (?:remain|rem|are left|left))?) (?:on|for) each(?: of the)?(?: needles?)?",
    re.NOFLAG,
)


def _was_last(scribe: Scribe, row: st.Round | st.Row) -> bool:
    """Tell whether a row is the last that shaped."""
    last = last_shaping(scribe)
    return last is not None and last.items == row.items


def in_all_needles(scribe: Scribe, text: str) -> str:
    """Put the stitches of all needles for those that are to remain on each."""
    if _ON_EACH.search(text) is None:
        return text
    needles = len(scribe.now().tallies[0].parts) if scribe.now().tallies else 0
    if needles < 2:
        return text

    def of_all(match: re.Match[str]) -> str:
        return f"{match['until']}{needles * int(match['n'])}{match['left']}"

    return _ON_EACH.sub(of_all, text)


def _change(scribe: Scribe, row: st.Round | st.Row) -> int:
    """Return by how many stitches a row changes the count, 0 where it can't be worked twice."""
    live = scribe.now()
    twice = live.trial((row, row), 0)
    return 0 if twice.troubles else abs(twice.tally.count - live.tallies[0].count) // 2


_MORE = WordForm(r"\b(?:more|further|again|then)\b", re.NOFLAG)


def _as_counted(scribe: Scribe, legs: list[ShapingLeg], row: st.Round | st.Row) -> list[ShapingLeg]:
    """Count the row that was told among so many times, where that gives the count stated."""
    live, stated, times = scribe.now(), scribe.stated, legs[0].times
    if stated is None or not live.sure or len(legs) > 1 or not isinstance(times, int | Sized):
        return legs
    if min(values_of(times)) < 2:
        return legs
    wanted, right = list(as_many(stated, live.count)), _on_right_side(scribe)
    for found in (legs, [attrs.evolve(legs[0], times=plus(times, -1))]):
        steps = [s for s in _worked(scribe, found, (row, row), right) if isinstance(s, st.Step)]
        ends = [live.trial(steps, size) for size in range(len(live.tallies))]
        if [end.tally.count for end in ends] == wanted and not any(end.troubles for end in ends):
            return found
    return legs


def _on_right_side(scribe: Scribe) -> bool:
    """Tell whether the next row shows the right side."""
    live = scribe.now()
    return not live.tallies or live.tallies[0].right_side == bool(
        live.tallies[0].ahead or not live.tallies[0].behind
    )


_LIKE = WordForm(  # "decrease as on the 2nd round, next to the rib, on every other round"
    r"^(?P<verb>(?:and |now |then )*(?:(?:keep|go) (?:on )?|continue |carry on )?(?:dec|inc|shap)\w*\b)(?P<between>[^;]*?),? ?\b"
    rf"(?:in (?:this|that|the same) (?:way|manner|fashion)|like (?:this|that)|thus|likewise|as (?:on|in|for) (?:the )?(?:(?P<nth>\d+)(?:st|nd|rd|th) {COURSES}|{COURSES} (?P<num>\d+)|(?P<name>[a-z][\w-]*) {COURSES}))"
    r"(?:,? (?:next to|beside|close to|inside|along|at|on) (?!the (?:next|foll)|each end)(?:the |each |both |either )[a-z -]+?(?=,| (?:on |in )?every))?,?(?= |$)",
    re.NOFLAG,
)
_DECS = WordForm(
    r"\b(rep(?:eat)?|work) (?:it|them|(?:the|this|these) (?:decs?|decreases?|decreasing|incs?|increases?|increasing|shaping))\b(?! (?:round|rnd|row))",
    re.NOFLAG,
)
_ALTERNATE = WordForm(
    rf"\b(?:on|in) (?:alt(?:ernate|\.)?|every second|every other) {COURSES}", re.NOFLAG
)
_ON_THE_NTH = WordForm(
    rf"\b(?:on|in) the (\d+(?:nd|rd|th)) ({COURSES}) (?={FEW}\b|\d+ times)", re.NOFLAG
)
_SPELT_OUT = WordForm(  # "…: work 2 rounds plain, 1 round decreasing"
    rf"(?:(?<=times)|(?<=twice))[:;,] (?:that is,? )?(?:work )?(?:{COUNT}|{FEW}) (?:plain {COURSES}|{COURSES} (?:plain|even))[^;.]*$",
    re.NOFLAG,
)
_BARE = WordForm(r"(?:and |now |then )*(?=(?:on |in )?(?:every|each)\b)", re.NOFLAG)
_WITHOUT_PLAIN = WordForm(
    rf"(?:and |now |then )*(?:omit(?:ting)?|leave out|leaving out|skip(?:ping)?|drop(?:ping)?) the (?:plain|even|knit) {COURSES}(?: in between| between)?,? (?:and )?(?:(?:dec\w*|work\w*)(?: on)? every {COURSES},? )?(?=(?:un)?til|\d|down to)",
    re.NOFLAG,
)


def every_round(text: str) -> str:
    """Put "omit the plain rounds until 6 sts are left" as what is done on every round."""
    return _WITHOUT_PLAIN.sub("dec every round ", text)


def _plainly_said(scribe: Scribe, text: str) -> tuple[str, st.Round | st.Row | None]:
    """Return shaping told in one of many ways in one of them, and the row that it names."""
    text = _DECS.sub(r"\1 this round", text)
    text = _ALTERNATE.sub("every other round", text)
    text = _SPELT_OUT.sub("", _ON_THE_NTH.sub(r"every \1 \2 ", text))
    if bare := _BARE.match(text):
        text = f"rep this round {text[bare.end() :]}"
    match = _LIKE.match(text)
    if match is None:
        return text, None
    if match["name"] and named_row(scribe, match["name"]) is None:
        return text, None
    number = match["nth"] or match["num"]
    row = scribe.context.row(figure(number)) if number else None
    row = named_row(scribe, match["name"]) if match["name"] else row
    between, rest = match["between"].strip(" ,"), text[match.end() :].strip(" ,")
    verb = re.sub(r"^.*\b(dec|inc|shap)\w*$", r"\1", match["verb"]).replace("shap", "dec")
    return f"{verb} {f'{between} ' if between else ''}{rest}", row


_IN_TURN = WordForm(
    rf"(?:and |now |then )*(?:alternat\w+|(?:go|carry|keep) on|continue|work|rep(?:eat)?)(?: with| working| to work)? (?:the |one |an? |1 )?(?P<a>[a-z][\w-]*) (?:{COURSES} )?(?:and|with|then) (?:the |one |an? |1 )?(?P<b>[a-z][\w-]*) {COURSES}(?: alternately| in turn)?,? (?P<rest>.+)$",
    re.NOFLAG,
)
_PLAIN = ("plain", "knit", "even", "straight")


def _alternated(scribe: Scribe, text: str) -> list[Says] | None:
    """Read "alternate the dec round and a plain round until 28 sts are left"."""
    match = _IN_TURN.match(text)
    if match is None or not {match["a"], match["b"]} & set(_PLAIN):
        return None
    name = match["b"] if match["a"] in _PLAIN else match["a"]
    row = named_row(scribe, name)
    rest = re.sub(r",? (?:and )?(?:end|finish)ing (?:with|on|after) .*$", "", match["rest"])
    growing = bool(re.search(r"\bthere are\b|\bup to\b", rest)) and name.startswith("inc")
    legs = legs_in(f"every other round {rest}", growing=growing)
    if row is None or legs is None or not isinstance(row, st.Round) or not is_shaping(row):
        return None
    entries = (entry.step for entry in reversed(scribe.assembler.entries))
    last = next((s for s in entries if not isinstance(s, st.Note)), None)
    if isinstance(last, st.Round) and last.items == row.items:
        return _worked(scribe, legs, (row, row), True)
    plain = st.Round(scribe.plain(ground=False)[0].items, at=scribe.place)
    (leg,) = legs if len(legs) == 1 else (None,)
    if leg is None or (isinstance(leg.times, int | Sized) and _just_told(scribe, row, plain)):
        return None  # so many times "in all" or "more": as any rows are repeated
    body = (attrs.evolve(row, count=None, at=scribe.place), plain)
    return [st.RepeatRounds(body, leg.times, at=scribe.place)]


def _just_told(scribe: Scribe, row: st.Round | st.Row, plain: st.Round) -> bool:
    steps = [e.step for e in scribe.assembler.entries if not isinstance(e.step, st.Note)]
    return [getattr(step, "items", ()) for step in steps[-2:]] == [row.items, plain.items]


_PER_NEEDLE = WordForm(
    rf",? [(\[]?{COUNT} (?:{STS} )?(?:per|on each|on every) needle[)\]]?$", re.NOFLAG
)
_ANY = ("last", "this", "that", "these")


def _is_spiral(row: st.Round | st.Row) -> bool:
    """Tell whether a row shapes in each repeat of itself, or tells every stitch by its number.

    The next such row is another one.
    """
    repeats = [item for item in row.items if isinstance(item, Repeat)]
    return any(isinstance(item.times, To) for item in repeats) or not _is_open(row.items)


def _is_open(items: Sequence[Item]) -> bool:
    """Tell whether somewhere it is worked to a place: over as many stitches as there are."""
    return any(
        isinstance(getattr(item, "amount", getattr(item, "times", None)), To)
        or (isinstance(item, Repeat | On) and _is_open(item.items))
        for item in items
    )


@rule(
    r"(?:then )?(?P<what>dec|inc)(?:rease)? (?:again|as before|in the same way|the same way|likewise) (?:on |in )?(?:the )?(?:next|foll(?:owing)?) (?:(?P<many>\w+) )?{CRS}"
)
@alone
def _shaped_again(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "inc again on next rnd"."""
    row, many = last_shaping(scribe), number_of(said["many"] or "one")
    if row is None or not 0 < many < 40:
        return None
    return [attrs.evolve(row, count=None, at=scribe.place) for _ in range(many)]


_AT_ROWS = r"(?:at|on) (?:the )?(?P<where>beg(?:inning)?|start|ends?)\.? of (?:(?:each of )?(?:the )?(?:next|foll(?:owing)?|these|first) (?:(?P<side>rs|ws|right[- ]side|wrong[- ]side) )?(?P<many>\w+)? ?{CRS}|(?:each of )?the (?P<after>\w+) {CRS} (?:after|that follow)(?: (?:these|those|that|them))?|(?:every|each) row(?:,? (?:and )?(?:then )?(?:knit|work|purl)(?:ing)?(?: (?:across|back|to (?:the )?end|the rest))?)?(?:,| for)+ (?:the next )?(?P<each>\w+) rows)(?: (?:for|to (?:shape|form|make)) (?:the |each |both )?(?:[a-z]+ )?[a-z]+)?"


_FIRST = r"(?:for (?:the |each )?[a-z ]+, )?"
_PURPOSE = r"(?: for (?:the |each |both )?[^;\d]*)?"
_NEXT_ROW = r"(?:at|on) (?:the )?(?P<where>beg(?:inning)?|start|ends?)\.? of (?:the )?(?:next|foll(?:owing)?|first) (?:(?P<side>rs|ws|right[- ]side|wrong[- ]side) )?row,? "


@rule(_FIRST + r"(?:bind|cast|bo)(?:ing)?(?:[ -]off)? (?P<n>{N}) (?:{STS} )?" + _AT_ROWS)
@rule(_NEXT_ROW + r"(?:(?:bind|cast) off|bo) (?P<n>{N})(?: {STS})?" + _PURPOSE)
@alone
def _off_at_beginnings(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "bind off 3 sts at beg of next 2 rows"."""
    if said["where"].lower().startswith("end"):
        return None
    return _at_rows(scribe, said, st.BindOff(count_in(said["n"])))


@rule(_FIRST + r"(?:cast on|co) (?P<n>{N}) (?:{STS} )?" + _AT_ROWS)
@rule(_NEXT_ROW + r"(?:cast on|co) (?P<n>{N})(?: {STS})?" + _PURPOSE)
@alone
def _on_at_rows(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "cast on 3 sts at beg of next 2 rows", "cast on 10 sts at the end of the next 2 rows"."""
    return _at_rows(scribe, said, st.CastOn(count_in(said["n"]))) if scribe.now().tallies else None


@rule(r"(?:and )?(?:then )?(?P<n>{N}) (?:{STS} )?" + _AT_ROWS)
@alone
def _again_at_rows(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "and 5 at the beginning of the 2 rows after these", behind stitches bound off so."""
    steps = (entry.step for entry in reversed(scribe.assembler.entries))
    done = next((step for step in steps if not isinstance(step, st.Part | st.Note)), None)
    if isinstance(done, st.BindOff):
        return _off_at_beginnings(scribe, said)
    return _on_at_rows(scribe, said) if isinstance(done, st.CastOn) else None


def _at_rows(
    scribe: Scribe, said: re.Match[str], done: st.BindOff | st.CastOn
) -> list[Says] | None:
    """Return so many plain rows, with stitches bound off or cast on at an end of each."""
    told = said.groupdict()
    many = number_of(told.get("many") or told.get("after") or told.get("each") or "one")
    if not 0 < many < 40:
        return None
    scribe.context.course = "ROW"
    live = scribe.now()
    right = not live.tallies or live.tallies[0].right_side
    steps: list[Says] = []
    if live.tallies and all(tally.behind and not tally.ahead for tally in live.tallies):
        steps.append(st.Part((Turn(),)))  # they were cast on just now
    fresh = live.is_free and not any(tally.behind for tally in live.tallies)
    if said["side"] and fresh and right == said["side"].lower().startswith("w"):
        garter = scribe.context.ground_name == "garter"  # a row lies before it
        steps.append(st.Row((KNIT if right or garter else PURL,)))
        right = not right
    for _ in range(many):
        plain = KNIT if right or scribe.context.ground_name == "garter" else PURL
        if said["where"].lower().startswith("end"):
            steps += [st.Part((plain,)), done, st.Part((Turn(),))]
        else:
            steps += [done, st.Part((plain, Turn()))]
        right = not right
    return steps
