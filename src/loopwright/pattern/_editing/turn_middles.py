# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Where a turn lies: its first two rows, its sides and its middle, against the stitches that there are.

The first two rows of a turn leave as many stitches on either side (common practice), so that the two
tell how many there are in all: "k17, ssk, k1, turn" and "sl 1, p5, p2tog, p1, turn" are a turn of 30.
So do "9 wrapped sts on each side and 10 in the middle".
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise, takewhile

from loopwright.pattern._editing.figures import alike, bracketed, is_near
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._reading.stated import whole_numbers
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["FAR", "MIDDLE", "ROW", "WORKS", "goes_back", "rows_more", "turn_middles"]

_Values = tuple[int, ...]
_SLIP = r"(?P<slip>(?:sl(?:ip)?\.? ?(?:1|one)|make (?:a |1 |one )?(?:ds|double st\w*)|m?ds|t ?st|tw ?st)(?: ?st(?:itch)?)?(?: (?:purlwise|knitwise|pwise|kwise|wyif|wyib))?(?: with yarn in (?:front|back))?,? (?:and )?(?:then )?)?"
_DEC = r"(?:ssk|sl(?:ip)?,? sl(?:ip)?,? k(?:nit)?(?! ?\d)|skpo?|k2tog(?: tbl)?|p2tog(?: tbl)?|ssp|k ?2 ?tog\.?(?: tbl)?|p ?2 ?tog\.?|sl ?1,? ?k ?1,? ?psso|(?:knit|purl) (?:2|two) tog\w*)"
_TURN = r"(?:and )?(?:(?:make )?(?:a )?(?:twin|double|turned|shadow) st\w*(?: (?:in|of) the next st\w*)?,? (?:and )?)?(?:turn\b|(?:sw|w\.),? (?:and )?turn\b|w ?& ?t\b|w/t\b|wrap (?:the )?(?:next |and |& ?)?[a-z ]*?turn|wrap\b)"
_ROW = rf"{_SLIP}(?P<letter>k|p|knit|purl)\.? ?(?P<n>{COUNT})(?: ?{STS})?(?:,? (?:and )?(?P<dec>{_DEC})(?:,? (?P<tail>(?:k|p|knit|purl)\.? ?(?:1|one)(?: st)?))?|,? (?P<inc>m1[lrp]?),? (?:k|p|knit|purl) ?1)?[,.;]? (?P<turn>{_TURN})"
ROW = WordForm(rf"\W*{_ROW}")
_COUNTED = WordForm(rf"(?P<n>{COUNT})\s*(?:[a-z]+ ){{0,2}}?{STS}")
_ON = WordForm(
    rf"(?P<n>{COUNT})(?: of (?:them|these|those|which))?(?: are| lie| being)? (?:on|for|at|in) (?:[nN] ?\d|[nN]eedle|the|each|[A-D])\b",
    re.NOFLAG,
)
_BEGUN = WordForm(
    rf"\b(?:cast(?:ing)? (?:on|up)|co|to|over(?: the)?|these|first|last|next|until)\.? ?(?P<n>{COUNT})",
)
_SET_OFF = WordForm(  # "k26, turn": the heel
    rf"(?<![a-z])(?:k|p|knit|purl) ?(?P<n>{COUNT}),? (?:and )?turn\b"
)
_OF_A_SWATCH = WordForm(
    r"\b(?:gauge|tension)\b|(?:=|\bto|\bper|\bover|\bin|\bmeasure) ?(?:(?:10|5) ?(?:cm\b|x|×)|[42] ?(?:in|\"|x|×)|(?:an?|1|one|the) inch)",
)
NEAR = 2  # stitches by which a turn may miss a count, and be meant for it all the same
FAR = 4  # and where it misses it in several sizes by as many
BEHIND = 8  # lines behind the first two rows, in which a turn may be told of
LEAST = 10  # stitches of a turn


def turn_middles(sentences: Sentences) -> Iterator[Finding]:
    """Find turns that lie off the middle of the stitches that a text speaks of."""
    every = ((at, sentences[at]) for at in sentences.places_about(ROW))
    rows = {at: row for at, one in every if (row := ROW.match(one.figures, one.start)) is not None}
    yield from _waiting(sentences, rows)
    alone = ((form, one) for form in _ALONE for one in sentences.about(form))
    if rows or any(form.search(one.figures) for form, one in alone):
        yield from _off_the_middle(sentences, rows)


def _off_the_middle(sentences: Sentences, rows: Mapping[int, re.Match[str]]) -> Iterator[Finding]:
    """Find turns, told by their first two rows or by what lies between, that do not lie there."""
    spoken_of = list(_counts(sentences))
    counts = {values for _, values in spoken_of}
    turned = set[_Values]()  # stitches of earlier turns, of which nothing else tells
    first: tuple[Spoken, re.Match[str]] | None = None
    whole: _Values | None = None  # the stitches of the turn in hand
    section: int | None = None
    more, within = _Values(), set[_Values]()
    left: _Values | None = None  # the stitches that a turned heel leaves
    paired: int | None = None  # the section whose first two rows were told
    spared = (_SPARED.search(one.figures) for one in sentences.about(_SPARED))
    anew, spares = _anew(sentences, rows), any(spared)
    pairs = _Values()  # of rows that are worked behind its first two
    for at, passed in sentences.passing(ROW, *_ALONE, _WORKED_OUT, MORE, _SO_OFTEN):
        one, after = sentences.pairs[at]
        first = None if any(map(_goes_on, passed)) else first
        text = one.figures
        if one.section != section:
            section, whole, more, first, left = one.section, None, (), None, None
        row = rows.get(at)
        if first is not None and row is not None and goes_back(first, (one, row)):
            paired, within = one.section, within | {_inside(row)}
            whole = _in_all(first[1], row, few="instep" in one.title)
            there = _told_till(spoken_of, one.line) if whole in counts else counts
            if said := _off_centre(
                whole,
                there | turned | _behind_first(whole, first, spoken_of),
                first[1],
                row,
                _soon_behind(sentences, at),
            ):
                message, back = said
                place = one.place(one.start) if back else first[0].place(first[0].start)
                yield Finding(WARNING, "centre", message, place.line, place.column)
                whole = None
            elif whole is not None and whole not in counts:
                turned.add(whole)
                whole = None
            left = _turned(whole, first[1], row) if whole is not None else None
            pairs = _pairs(whole, first[1]) if whole is not None and left is not None else ()
            first = None
            continue
        if left is not None and _WORKED_OUT.search(text):
            yield from _found(one, "sum", _not_left(left, text, after))
            left = None
        told = _both_told(text, counts) if row is None and one.label is None else None
        yield from _found(one, "centre", told)
        if first is not None and not _goes_on(one):
            continue  # "Yes, turn, in the middle of the row."
        begins = _begins(one, row, paired, anew)
        first = (one, row) if begins and row is not None and not _CAST_ON.match(text, row.end()) else None  # fmt: skip
        more = next(told for told in (rows_more(text), more) if told is not None)
        if times := MORE.search(text):
            often = _too_often(pairs, times, sentences[at + 1 : at + 4]) if pairs else ""
            yield from _found(one, "turn", (often, times.start("n")) if often else None)
            pairs = ()
        yield from _found(
            one,
            "sum",
            _sides(
                text,
                whole,
                counts | within,
                more,
                sentences[max(0, at - 1)].figures,
                _spared(sentences[max(0, at + 1 - BEHIND) : at + 1], section) if spares else 0,
            ),
        )


def _goes_on(one: Spoken) -> bool:
    """Tell whether a sentence says what is worked next."""
    return one.label is not None or WORKS.match(one.figures) is not None


def _soon_behind(sentences: Sentences, at: int) -> list[Spoken]:
    """Return the sentences of the next lines."""
    line = sentences[at].line
    near = takewhile(lambda one: one.line - line <= BEHIND, sentences[at + 1 :])
    return [one for one in near if one.line > line]


def _inside(row: re.Match[str]) -> _Values:
    """Return the stitches of the second row of a turn: others may wait on both sides of them."""
    more = 2 if "w" in row["turn"].lower() else int(row["slip"] is not None)  # wrapped: one a side
    return tuple(n + more for n in whole_numbers(row["n"]))


def _behind_first(
    whole: _Values | None,
    first: tuple[Spoken, re.Match[str]],
    spoken_of: Sequence[tuple[int, _Values]],
) -> set[_Values]:
    """Return the stitches of a turn if the count behind its first row, which takes one, tells them."""
    if whole is None or not first[1]["dec"]:
        return set()
    less = tuple(n - 1 for n in whole)
    return {whole} if (first[0].line, less) in spoken_of else set()


_ALL_WORKED = WordForm(r"(?!.*\b(?:rep\w*|turn|wrap|w&t)\b).*\b(?:rounds?|rnds?|all|end)\b")


def _anew(sentences: Sentences, rows: Container[int]) -> list[Spoken]:
    """Return the turning rows behind one that works all stitches, whatever their number."""
    worked = [
        (at, one)
        for at, one in enumerate(sentences)
        if one.label is not None or WORKS.match(one.text)
    ]
    return [
        one
        for (_, before), (at, one) in pairwise(worked)
        if at in rows and before.section == one.section and _ALL_WORKED.match(before.text)
    ]


def _begins(
    one: Spoken, row: re.Match[str] | None, paired: int | None, anew: Sequence[Spoken]
) -> bool:
    """Tell whether a row may be the first of a turn: it has no number, or 1, or it begins anew."""
    if row is None or one.label is None or (paired == one.section and not one.label.numbers):
        return False
    return one.label.numbers in ((), (1,)) or (not row["slip"] and any(one is a for a in anew))


_WAITING = WordForm(
    rf"(?<![\d.])(?P<n>{COUNT}) (?:{STS} |of them |more )?(?:(?:are|is|still|now|left|will be) )*(?:waiting|unworked|unknitted|not (?:yet )?worked|untouched|(?:that )?you (?:have|did)(?:n['’]t| not) (?:touch|work|knit)\w*|remain\w*|(?:left )?(?:on|at|before) the (?:left|end|tip)|left over|to the left|beyond|past)|\bleft (?P<m>{COUNT}) {STS} (?:behind|there|alone|unworked)"
)


def _waiting(sentences: Sentences, rows: Mapping[int, re.Match[str]]) -> Iterator[Finding]:
    """Find what is said to wait behind the first row of a turn, and does not."""
    first: re.Match[str] | None = None
    told: tuple[Spoken, re.Match[str]] | None = None
    for at, passed in sentences.passing(ROW, _WAITING):
        one, row = sentences[at], rows.get(at)
        if any(other.label is not None for other in passed):
            first = None
        if row is not None:
            whole = _in_all(first, row) if first is not None and told is not None else None
            if first is not None and told is not None and whole is not None:
                yield from _found(told[0], "sum", _not_waiting(whole, first, told[1]))
            waits = _WAITING.search(one.figures, row.end())
            first = row if one.label is None or one.label.numbers in ((), (1,)) else None
            told = None if waits is None else (one, waits)
        elif one.label is not None:
            first = None
        elif first is not None and (waits := _WAITING.search(one.figures)) is not None:
            told = one, waits


def _not_waiting(
    whole: _Values, first: re.Match[str], told: re.Match[str]
) -> tuple[str, int] | None:
    """Compare what the first row of a turn leaves with what is said to wait behind it."""
    worked, there, stated = alike(
        whole_numbers(first["n"]), whole, whole_numbers(told["n"] or told["m"])
    )
    shaped = bool(first["slip"]) + 2 * bool(first["dec"]) + bool(first["tail"])
    left = tuple(n - k - shaped for k, n in zip(worked, there, strict=True))
    if left == stated or not is_near(left, stated, FAR):
        return None
    return f"this row leaves {by_size(left)} sts unworked, not {by_size(stated)}", max(
        told.start("n"), told.start("m")
    )


def _found(one: Spoken, kind: str, said: tuple[str, int] | None) -> Iterator[Finding]:
    if said is not None:
        place = one.place_in_figures(said[1])
        yield Finding(WARNING, kind, said[0], place.line, place.column)


def goes_back(first: tuple[Spoken, re.Match[str]], second: tuple[Spoken, re.Match[str]]) -> bool:
    """Tell whether a row is the way back of another: purled, or in garter knitted not so far."""
    (one, there), (other, back) = first, second
    if there["letter"][0].lower() != back["letter"][0].lower():
        return True
    named = one.label is not None and other.label is not None
    if not named or one.label.numbers or other.label.numbers or there["dec"]:  # type: ignore[union-attr]
        return False
    far, near = whole_numbers(there["n"]), whole_numbers(back["n"])
    return len(far) == len(near) and all(a > b for a, b in zip(far, near, strict=True))


def _both_told(text: str, counts: set[_Values]) -> tuple[str, int] | None:
    """Look at the two rows of a turn where one sentence tells both."""
    rows = list(_WITHIN.finditer(text))
    if len(rows) != 2 or rows[0]["letter"][0].lower() == rows[1]["letter"][0].lower():
        return None
    said = _off_centre(_in_all(*rows), counts, rows[0], rows[1])
    return None if said is None else (said[0], rows[said[1]].start())


_WITHIN = WordForm(rf"(?<=[ ,;:]){_ROW}")
WORKS = WordForm(
    r"\W*(?:k|p|knit|purl|work|rep|repeat|sl|slip|turn|wrap|join|pick|cont|continue|place|set)\b",
)
_CAST_ON = WordForm(r"[,;]? (?:and )?(?:cast on|co)\b")
MORE = WordForm(
    rf"\b(?:rep(?:eat)?|do|work) (?:(?:rows?|short[- ]rows?|r|steps?) 3 ?(?:and|&|-|–) ?(?:row )?4|(?:the )?3rd (?:and|&) (?:the )?4th rows?) (?:another |a further )?(?P<n>{COUNT}) (?:more |further )?times(?: more)?(?! (?:in (?:all|total)|altogether|all told))",
)
_SO_OFTEN = WordForm(  # of which the rows themselves are the first time
    r"\b(?:rep(?:eat)?|do|work) (?:(?:rows?|short[- ]rows?|r|steps?) 3 ?(?:and|&|-|–) ?(?:row )?4|(?:the )?3rd (?:and|&) (?:the )?4th rows?) "
    rf"(?P<total>(?:for )?a total of )?(?P<n>{COUNT}) times\b(?(total)| (?:in (?:all|total)|altogether|all told)\b)"
)


def rows_more(text: str) -> _Values | None:
    """Return how often rows 3 and 4 are worked again; None if it is not told."""
    if (times := MORE.search(text)) is not None:
        return whole_numbers(times["n"])
    times = _SO_OFTEN.search(text)
    return None if times is None else tuple(n - 1 for n in whole_numbers(times["n"]))


_KIND = r"(?:(?:wrapped|collars?|pairs?|shadows?|shadowed|unworked|double|turned|twins?|live|sts?|stitch(?:es)?|ds|w&t|(?:with )?wraps?|are|is|lie|left)\b ?){1,5}"


def _spared(sentences: Sequence[Spoken], section: int | None) -> int:
    """Return how many stitches at the edges are said to be left over, and so are never turned."""
    own = (one.figures for one in sentences if one.section == section)
    return 2 if any(map(_SPARED.search, own)) else 0


_SPARED = WordForm(  # "One stitch is left over at each end."
    r"\b(?:one|1|a single) (?:st|stitch) (?:(?:now |always )?(?:is|stays|remains|waits) )?(?:left(?: over)?|unworked|waiting|over|plain|(?:left )?alone|behind),? (?:at|on) (?:each|either|both) (?:ends?|sides?|edges?)\b"
)
_EACH_SIDE = WordForm(
    rf"(?P<n>{COUNT}) {_KIND}(?:lie )?(?:on|at) (?:each|either|both) (?:side|end)s?\b"
)
MIDDLE = WordForm(
    rf"(?<!by )(?P<n>{COUNT}) (?:(?:[a-z]+ ){{0,4}}?(?:(?:in|at) (?:the )?(?:middle|cent(?:er|re))(?! back| of (?:the )?(?:back|heel|sole|needle))|in between|between(?! (?:the )?(?:two )?needles))\b|(?:plain|bare|unwrapped|ordinary|cent(?:er|re)|middle)\b|(?:sts?|stitches) (?:are )?(?:left )?(?:unwrapped|plain)|(?:(?:sts?|stitches|ones) )?(?:without|with no|that have no) (?:any )?wraps?\b)",
)
_LAST_ROW = WordForm(  # "until a purl row of 6 sts has been worked, and wrap and turn"
    rf"\b(?:until|till|down to|end(?:ing)? with)\b(?=[^.]*\b(?:wrap|w&t))[^.;:\d]*\b(?:row of (?:only |just )?|(?:k|p|knit(?:ted)?|purl(?:led|ed)?) ?)(?P<n>{COUNT})(?: {STS})?",
)
_LEFT_RIGHT = WordForm(
    rf"(?P<a>{COUNT}) (?:double sts?|double stitches|ds(?:['’]?e?s)?|wrapped sts?|wrapped stitches|twin stitches) (?:(?:on|at) (?:the )?)?left\b[^.;\d]{{0,24}}(?P<b>{COUNT}) (?:[a-z]+ ){{0,2}}?(?:(?:on|at) (?:the )?)?right\b(?:[^.;\d]{{0,8}}(?P<m>{COUNT}) (?:[a-z]+ ){{0,3}}?(?:in between|between|in the middle|without wraps?))?",
)
_IN_A_ROW = WordForm(
    rf"(?P<a>{COUNT}) (?:ds|double st\w*|(?:wrapped|twin|turned)(?: (?:sts?|stitches|ones))?),? (?:and |then )?(?P<m>{COUNT})(?: [a-z]+){{0,3}}?,? (?:and |then )*(?P<b>{COUNT}) (?:more |other |further )?(?:ds|double|wrapped|twins?|turned)",
)
_ALONE = (
    _WITHIN,
    MIDDLE,
    _LAST_ROW,
    _LEFT_RIGHT,
    _IN_A_ROW,
)  # what tells of a turn without its rows
_DS_FIRST = WordForm(
    r"\W*(?:[^:]{1,20}: )?(?:make (?:a )?)?(?:m?ds|double st\w*)(?:[,;]? \(|[,;] )"
)
_ONE_MORE = WordForm(  # "make the tenth DS on the right", "one last twin stitch", "that makes 11"
    r"\b(?:that|which|this)(?: now)? makes \d+\b|^\W*(?:[^:]{1,20}: )?(?:ds|double st\w*)(?: once more| again| one (?:last|more) time)?,? (?:so (?:that )?|to make )(?:(?:now|the) )*(?:both|two) (?:sides|ends)\b|\b(?:ds|double st\w*) (?:once more|again|one (?:last|more) time)\b|\b(?:make|work|making|working) (?:the |an? )?[a-z0-9]+ (?:more )?(?:ds|double|twin|turned)\b|\b(?:one|1|a) (?:more|last|further|final) (?:ds|double|twin|turned|wrapped)\b"
)


def _sides(
    text: str,
    whole: _Values | None,
    counts: set[_Values],
    more: _Values,
    before: str = "",
    spare: int = 0,
) -> tuple[str, int] | None:
    """Add up the two sides and the middle of a turn, as a sentence tells them, or two of them.

    Of a turn in double sts, as many as are `spare` at the edges are never turned.
    """
    side, middle = _EACH_SIDE.search(text), MIDDLE.search(text) or _LAST_ROW.search(text)
    pair = _LEFT_RIGHT.search(text) or _IN_A_ROW.search(text)
    if pair is not None:
        left, right = alike(whole_numbers(pair["a"]), whole_numbers(pair["b"]))
        if len({a - b for a, b in zip(left, right, strict=True)}) > 1:
            return (
                f"{by_size(left)} sts on the left and {by_size(right)} on the right: "
                "the sizes do not differ alike"
            ), pair.start("a")
        if said := _times_more(tuple(map(max, left, right)), more):
            return said, pair.start("a")
        made = alike(left, whole_numbers(pair["m"])) if pair["m"] else ((), ())
        parts = tuple(a + b + m for a, b, m in zip(left, right, made[1], strict=False))
        at = pair.start("a")
    elif side is not None and middle is not None and side.start("n") != middle.start("n"):
        sides, between = alike(whole_numbers(side["n"]), whole_numbers(middle["n"]))
        if said := _times_more(sides, more):
            return said, side.start("n")
        parts = tuple(2 * a + m for a, m in zip(sides, between, strict=True))
        at = middle.start("n")
    elif middle is not None and (pair := _LEFT_RIGHT.search(before)) and not pair["m"]:
        left, right = alike(whole_numbers(pair["a"]), whole_numbers(pair["b"]))
        left, between = alike(left, whole_numbers(middle["n"]))
        behind = _DS_FIRST.match(text) and {a - b for a, b in zip(left, right, strict=True)} == {1}
        one_more = bool(behind or _ONE_MORE.search(text))
        parts = tuple(a + b + m + one_more for a, b, m in zip(left, right, between, strict=False))
        at = middle.start("n")
    else:
        return None
    if not parts or min(parts) < LEAST:
        return None
    if whole is not None and len(whole) != len(parts):
        return None
    if whole is not None and not is_near(whole, parts, 2 * NEAR):
        whole = None  # with the sts of a gusset beside the heel
    if spare and whole == tuple(n + spare for n in parts):
        return None
    if whole is not None and whole != parts:
        return (
            f"the sides and the middle are {by_size(parts)} sts; the turn is one of {by_size(whole)}"
        ), at
    near = _near(parts, counts) if whole is None and parts not in counts else None
    if near is None:
        return None
    return f"the sides and the middle are {by_size(parts)} sts; there are {by_size(near)}", at


def _times_more(sides: _Values, more: _Values) -> str:
    """Compare the sides with the rows that made them: the first two, and two more each time."""
    if not more:
        return ""
    sides, times = alike(sides, more)
    made = tuple(n + 2 for n in times)
    if sides == made or not is_near(sides, made, NEAR):
        return ""
    return f"{by_size(sides)} sts at a side; {by_size(times)} times more than once make {by_size(made)}"


def _told_till(spoken_of: Sequence[tuple[int, _Values]], line: int) -> set[_Values]:
    """Return the numbers of stitches that are spoken of up to a turn, and right behind it."""
    return {values for told, values in spoken_of if told <= line + BEHIND}


def _counts(sentences: Sequence[Spoken]) -> Iterator[tuple[int, _Values]]:
    """Yield all numbers of stitches that a text speaks of, with the lines of their sentences."""
    for one in sentences:
        numbered = one.label is not None and bool(one.label.numbers)  # a row of the turn itself
        for many in _told_in(one.text, numbered):
            yield one.line, many


@lru_cache(maxsize=8192)
def _told_in(text: str, numbered: bool) -> tuple[_Values, ...]:
    if _OF_A_SWATCH.search(text):
        return ()
    text = bracketed(text)
    forms = (_COUNTED, _BEGUN, _ON) if numbered else (_COUNTED, _BEGUN, _ON, _SET_OFF)
    return tuple(whole_numbers(match["n"]) for form in forms for match in form.finditer(text))


def _in_all(first: re.Match[str], second: re.Match[str], *, few: bool = False) -> _Values | None:
    """Return how many stitches there are, where two rows leave as many on either side.

    Of few stitches amid many that is only sure where `few` says so: a thumb need not lie in the middle.
    """
    if bool(first["dec"]) != bool(second["dec"]) or bool(first["tail"]) != bool(second["tail"]):
        return None
    one, two = whole_numbers(first["n"]), whole_numbers(second["n"])
    one, two = alike(one, two)
    if not one:
        return None
    if bool(first["inc"]) != bool(second["inc"]):
        return None
    shaped = 2 * bool(first["dec"]) + bool(first["tail"]) + bool(first["inc"])
    lost = bool(first["dec"]) - bool(first["inc"])
    worked = [n + bool(first["slip"]) + shaped for n in one]
    back = [n + bool(second["slip"]) + shaped for n in two]
    whole = tuple(2 * a - lost - b for a, b in zip(worked, back, strict=True))
    if (
        not first["dec"]
        and not second["slip"]
        and not few
        and any(3 * one < many for one, many in zip(back, whole, strict=True))
    ):
        return None
    return whole


_WORKED_OUT = WordForm(
    r"\b(?:until|till) (?:(?:there (?:is|are)|there['’]s|you have) )?(?:all|no|every|nothing)\b|\buntil you run out\b|\bno (?:more )?(?:sts|stitches) (?:are )?(?:left|remain)|\ball (?:of )?(?:the )?(?:heel |side )?(?:sts|stitches) (?:have been|are) (?:worked|used)",
)
_LEFT = WordForm(
    rf"(?:^|[.:;,(=—–-] ?|\b(?:have|are|leaves?|and) )(?P<n>{COUNT}) (?:heel )?{STS}(?: (?:rem\w*\.?|(?:are )?left|now))*(?: (?:on|for) the (?:heel|needle))?(?:[.)\]]*\s*$|, and a\b)"
    rf"|^\W*heel {STS} ?[=:] ?(?P<m>{COUNT})\W*$",
)


def _turned(whole: _Values, first: re.Match[str], second: re.Match[str]) -> _Values | None:
    """Return how many stitches a heel leaves that is turned as its first two rows begin.

    With a stitch worked behind each decrease a row takes in two of a side, and the last one alone
    where they are odd; without it, all but the middle go.
    """
    if not first["dec"] or not second["dec"]:
        return None
    one, other = alike(whole_numbers(first["n"]), whole)
    shaped = bool(first["slip"]) + 2 + bool(first["tail"])
    sides = tuple(n - k - shaped for k, n in zip(one, other, strict=True))
    if not sides or min(sides) < 1:
        return None
    if not first["tail"]:
        return tuple(n - 2 * (side + 1) for n, side in zip(other, sides, strict=True))
    return tuple(n - 2 - 2 * ((side + 1) // 2) for n, side in zip(other, sides, strict=True))


def _pairs(whole: _Values, first: re.Match[str]) -> _Values:
    """Return how many pairs of rows a heel takes behind the first two, in each size."""
    one, other = alike(whole_numbers(first["n"]), whole)
    shaped = bool(first["slip"]) + 2 + bool(first["tail"])
    sides = tuple(n - k - shaped for k, n in zip(one, other, strict=True))
    return tuple((side + 1) // 2 if first["tail"] else side for side in sides)


_LONE = (
    WordForm(  # "Next row: sl 1, p to 1 st before gap, p2tog, turn": no stitch is left behind it
        r"^\W*next row\b[^:]*: ?(?:[^.*]*, )?(?:[kp]2tog|ssk|ssp|skpo?)(?: tbl)?(?:, turn)?\.?\s*$",
    )
)


def _too_often(pairs: _Values, times: re.Match[str], behind: Sequence[Spoken]) -> str:
    """Compare how often the last two rows are worked with the stitches that are left at a side."""
    stated, wanted = alike(whole_numbers(times["n"]), pairs)
    if stated == tuple(n - 2 for n in wanted) and any(_LONE.search(one.figures) for one in behind):
        return ""  # the last two rows are told apart
    again = tuple(n - 1 for n in wanted)
    more = re.search(r"\b(?:more|another|further)\b", times[0], re.IGNORECASE)
    if not stated or stated == again or (not more and stated == wanted):
        return ""
    if not is_near(stated, again, FAR):
        return ""
    return f"the sts at the sides are worked out after {by_size(again)} times more, not {by_size(stated)}"


def _not_left(left: _Values, text: str, after: Spoken | None) -> tuple[str, int] | None:
    """Compare what a turned heel leaves with the count that is stated for it."""
    told = _LEFT.search(text, _WORKED_OUT.search(text).end())  # type: ignore[union-attr]
    at = told.start() if told is not None else 0
    if told is None and after is not None and after.label is None:
        told = _LEFT.match(after.figures)
    if told is None:
        return None
    stated, made = alike(whole_numbers(told["n"] or told["m"]), left)
    if stated == made or not is_near(stated, made, 2 * FAR):
        return None
    return f"this turn leaves {by_size(made)} sts, not {by_size(stated)}", at


def _near(made: _Values, counts: set[_Values]) -> _Values | None:
    """Return the count that some stitches nearly make; None where they make one, or none is near."""
    if made in counts or (len(set(made)) == 1 and made[:1] in counts):
        return None
    near = [other for other in counts if len(other) == len(made) and _misses(other, made)]
    if not near or any(len(other) == 1 < len(made) and other[0] in made for other in counts):
        return None

    def far(other: _Values) -> tuple[int, int]:
        off = [a - b for a, b in zip(other, made, strict=True)]
        return len(set(off)), sum(map(abs, off))

    return min(near, key=far)


def _misses(other: _Values, made: _Values) -> bool:
    """Tell whether a count is nearly one that is spoken of, or off by a little more in all sizes alike."""
    off = [a - b for a, b in zip(other, made, strict=True)]
    in_one = [n for n in off if n]  # the other sizes are right
    return max(map(abs, off)) <= NEAR or (
        len(off) > 1 and (len(set(off)) == 1 or len(in_one) == 1) and abs(in_one[0]) == FAR
    )


def _second_is_wrong(
    meant: _Values, first: re.Match[str], second: re.Match[str], behind: Sequence[Spoken]
) -> bool:
    """Tell whether what is told of the end of a turn fits its first row, and not its second.

    A turned heel leaves as many stitches as its first row alone says; in short rows the middle is
    what the second row works, less one for each row behind it.
    """
    left = _turned(meant, first, second)
    if left is None and _third_fits(meant, first, second, behind):
        return True
    more: _Values = ()
    for one in behind:
        if left is not None and any(
            left == whole_numbers(m["n"]) for m in _COUNTED.finditer(one.figures)
        ):
            return True
        if (times := MORE.search(one.figures)) is not None:
            more = whole_numbers(times["n"])
        middle = MIDDLE.search(one.figures) if more else None
        if middle is not None:
            worked, often, there = alike(
                whole_numbers(second["n"]), more, whole_numbers(middle["n"])
            )
            ends = [n - 2 * (k + 1) for n, k in zip(worked, often, strict=True)]
            return bool(ends) and ends != list(there)
    return False


def _third_fits(
    meant: _Values, first: re.Match[str], second: re.Match[str], behind: Sequence[Spoken]
) -> bool:
    """Tell whether the third row is a stitch less than the second would be that fits the first."""
    third = next((ROW.match(one.figures, one.start) for one in behind if one.label), None)
    if third is None or third["dec"] or third["slip"] or second["slip"]:
        return False
    end, far, there = alike(meant, whole_numbers(first["n"]), whole_numbers(third["n"]))
    made = tuple(2 * a - n - 1 for a, n in zip(far, end, strict=True))  # less one for its turn
    return third["letter"][0].lower() == first["letter"][0].lower() and made == there


def _off_centre(
    whole: _Values | None,
    counts: set[_Values],
    first: re.Match[str],
    second: re.Match[str],
    behind: Sequence[Spoken] = (),
) -> tuple[str, bool] | None:
    """Say that a turn is meant for another number of stitches, and whether its second row is why.

    A stitch more in the first row stands for two, one in the second row for one.
    """
    meant = _near(whole, counts) if whole is not None and min(whole) >= LEAST else None
    if whole is None or meant is None:
        return None
    less = [b - a for a, b in zip(whole, meant, strict=True)]
    back = any(n % 2 for n in less) or _second_is_wrong(meant, first, second, behind)
    row, by = (second, [-n for n in less]) if back else (first, [n // 2 for n in less])
    told = whole_numbers(row["n"])
    better = [n + m for n, m in zip(told * (len(by) // len(told)), by, strict=True)]
    return (
        f"the first two rows of this turn leave as many sts on either side of {by_size(whole)}; "
        f"there are {by_size(meant)}: is {row['letter'].lower()}{by_size(better)} meant?"
    ), back
