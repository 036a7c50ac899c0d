# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Sums that are told in words: stripes and their rounds, a gusset and all the rest, ridges and rows."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache

from loopwright.pattern._editing.figures import alike, bracketed, is_near
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences, Spoken, next_on_line, plain_lines
from loopwright.pattern._reading.stated import numbers_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["told_sums"]

_Values = tuple[float, ...]
_Said = tuple[str, int] | None
_CRS = r"(?:rows|rounds|rnds)"


_EVEN = WordForm(  # "… so the number of stitches stays the same"
    r"\b(?:st(?:itch)?[- ]count|(?:number|count|total) of (?:sts|stitches)|(?:number|count))\b[^.;:]{0,12}\b(?:stays?|remains?|keeps?|is|do(?:es)?(?: not|n['’]t)|never|won['’]t)\b[^.;:]{0,12}\b(?:same|chang\w+|constant|even|unchanged|alter\w*)|\b(?:balanced? (?:by|out)|make up for|made up for by|cancel(?:led)?(?: out)?)\b"
)
_GROWN = re.compile(r"\b(\d+) (?:yarn[- ]?overs?|yos?|yo['’]s|increases?|m1s?)\b", re.IGNORECASE)
_TAKEN = re.compile(
    r"\b(\d+) (?:(?:single|left|right)[a-z-]* )?(?:k2togs?|ssks?|skp[os]*|p2togs?|decreases?)\b",
    re.IGNORECASE,
)
_BY_TWO = WordForm(r"double|twice|two at a time|[ks]3tog|sk2p|s2kp|cdd")


def _made_up_for(said: str) -> _Said:
    """Tell where as many are said to be made as are taken together, and the numbers differ."""
    if _EVEN.search(said) is None or _BY_TWO.search(said):
        return None
    more, less = ([int(one[1]) for one in form.finditer(said)] for form in (_GROWN, _TAKEN))
    if not more or not less or sum(more) == sum(less):
        return None
    last = list(_TAKEN.finditer(said))[-1]
    return f"{sum(more)} sts made and {sum(less)} taken together do not leave as many", last.start(
        1
    )


def told_sums(text: str, sentences: Sentences) -> Iterator[Finding]:
    """Find sums told in words that do not come out."""
    rest: tuple[_Values, int] | None = None  # outside of the markers, and in which section
    alone = (_TIMES, _IN_STRIPES, _LESS, _ROWS_ENDING, _EVEN, _ENDED)
    for at in sentences.places_about(*alone, ahead=(_STEPS, _TOLD_PARTS, _RIDGED, _BETWEEN)):
        one, after = sentences.pairs[at]
        said = one.figures
        behind = next_on_line(one, after)
        more = f" {behind.figures}" if behind is not None and behind.label is None else ""
        whole = said + more
        before = sentences[at - 1] if at else one
        lead = before.figures if before is not one and before.line == one.line else ""
        found = (
            _in_step(whole)
            or _range_times(said)
            or _stripes_of(said)
            or _in_parts(whole)
            or _ridges(whole, lead)
            or _shorter(said, text)
            or _parity(said)
            or _made_up_for(said)
            or _next_side(one, after)
        )
        between = _BETWEEN.search(whole)
        if between is not None and (between.start() < len(said) or not more):
            inner, total = alike(
                numbers_in((between["n"] or between["n2"]).lower().replace("one", "1")),
                numbers_in(between["t"] or between["t2"]),
            )
            outside = tuple(t - i for t, i in zip(total, inner, strict=True))
            if outside and rest is not None and rest[1] == one.section and _near(outside, rest[0]):
                right = tuple(i + r for i, r in zip(inner, rest[0], strict=True))
                found = found or (
                    f"{_shown(inner)} sts between the markers and {_shown(rest[0])} others are {_shown(right)}, not {_shown(total)}",
                    between.start(),
                )
            elif outside:
                rest = outside, one.section
        if found:
            message, offset = found
            place = one.place_in_figures(offset)
            yield Finding(WARNING, "sum", message, place.line, place.column)


def _shown(values: Sequence[float]) -> str:
    if any(value != int(value) for value in values):
        return f"{values[0]:g} ({', '.join(f'{v:g}' for v in values[1:])})"
    return by_size([int(value) for value in values])


_BETWEEN = WordForm(
    rf"(?P<n>{COUNT})(?: {STS})?,? (?:lie |now |are |sts )*(?:between (?!the (?:first|two) )[^.,;\d]{{3,30}}|(?:in|for) the (?:thumb )?gusset)[,.;:]? ?[^.;\d]{{0,24}}(?P<t>{COUNT})(?: {STS})? ?(?:in all|altogether|in total|on the needles|total)\b|"
    rf"(?P<t2>{COUNT}) {STS},? (?:with )?(?P<n2>{COUNT}|one) (?:of them )?(?:sts )?between the markers",
)
NEAR = 4  # stitches by which a sum may miss, and be meant for it all the same


def _near(first: _Values, second: _Values) -> bool:
    """Tell whether two lists differ, and not by much."""
    return first != second and is_near(first, second, NEAR)


_STEPS = WordForm(
    rf"(?P<n>{COUNT}) (?:more )?(?:times|stripes|repeats|bands|waves)\b(?! more)[^.;\d]{{0,30}}[.:(,=]+ ?(?!(?:and )?then\b|(?:k|knit|purl)\b)(?:[a-z]+ ){{0,5}}?(?P<t>{COUNT}) {_CRS}\b",
)


def _in_step(text: str) -> _Said:
    """Compare times and rows by size: each time more is as many rows more."""
    match = _STEPS.search(text)
    if match is None:
        return None
    times, rows = alike(numbers_in(match["n"]), numbers_in(match["t"]))
    if len(times) < 2:
        return None
    steps = {
        ((rows[b] - rows[a]) / (times[b] - times[a]) if times[b] != times[a] else None)
        for a in range(len(times))
        for b in range(a + 1, len(times))
        if times[a] != times[b] or rows[a] != rows[b]
    }
    if len(steps) <= 1 and all(one is not None and one >= 1 and one == int(one) for one in steps):
        return None
    return (
        f"{_shown(times)} times and {_shown(rows)} rows: the sizes do not differ alike",
        match.start("t"),
    )


_RANGE = WordForm(rf"\b{_CRS} (?P<a>\d+) ?(?:-|–|to) ?(?P<b>\d+)\b")
_TIMES = WordForm(rf"\b(?P<n>\d+) (?P<more>more )?times[^.;\d]{{0,20}}[(=:] ?(?P<t>\d+) {_CRS}")


_IN_STRIPES = WordForm(
    rf"(?P<t>{COUNT}) {_CRS},? (?:that is|which is|that makes|which makes|or|=|so) (?P<n>{COUNT}) (?:(?:full|whole|complete) )?(?:stripes|repeats|times|bands|sequences)\b",
)


def _stripes_of(text: str) -> _Said:
    """Compare rounds with the stripes that they are: as many rounds to each in all sizes."""
    match = _IN_STRIPES.search(text)
    if match is None:
        return None
    rounds, stripes = alike(numbers_in(match["t"]), numbers_in(match["n"]))
    each = {t / n for t, n in zip(rounds, stripes, strict=True) if n}
    if len(each) <= 1 and all(one == int(one) for one in each):
        return None
    return (
        f"{_shown(rounds)} rounds and {_shown(stripes)} of them: the sizes do not differ alike",
        match.start("n"),
    )


def _range_times(text: str) -> _Said:
    """Compare "rows 1-12 … 36 times (432 rows)" with the rows that it makes."""
    rows, times = _RANGE.search(text), _TIMES.search(text)
    if rows is None or times is None or rows.start() > times.start():
        return None
    each = int(rows["b"]) - int(rows["a"]) + 1
    often = int(times["n"])
    made = {each * often, each * (often + 1)} if times["more"] else {each * often}
    if each < 2 or int(times["t"]) in made:
        return None
    return f"{often} times {each} rows are {each * often}, not {times['t']}", times.start("t")


_TOLD_PARTS = WordForm(r"\bparts?: ?\d")
_THREE = WordForm(r"\bparts?: ?(?P<a>\d+(?:/\d+)+)(?: ?[\[(](?P<b>\d+(?:/\d+)+)[\])])?")
_OVER = WordForm(rf"\b(?:over|of) (?:the )?(?P<n>{COUNT}) (?:[a-z]+ )?{STS}")


def _in_parts(text: str) -> _Said:
    """Compare "three parts: 10/10/10" with the stitches that are divided."""
    if _TOLD_PARTS.search(text) is None:
        return None
    text = re.sub(r"(\d+) \((\d+), (\d+)\)(?= ?[\[(]|\W*$)", r"\1/\2/\3", text)
    text = re.sub(r"\[(\d+) \((\d+), (\d+)\)\]", r"[\1/\2/\3]", text)
    match, over = _THREE.search(text), _OVER.search(text)
    if match is None:
        return None
    parts = tuple(
        float(sum(map(int, match[name].split("/")))) for name in ("a", "b") if match[name]
    )
    if over is None:
        return None
    whole = numbers_in(over["n"])
    if len(whole) != len(parts) or whole == parts:
        return None
    return f"the parts are {_shown(parts)} sts, not {_shown(whole)}", match.start("a")


_RIDGED = WordForm(
    rf"\b(?:knit|k|work(?:ed)?) (?P<rows>{COUNT}) rows\b(?! more)[^.;\d(]{{0,40}}[.;,(]? ?(?:so that |or |that is |there are |you have ){{0,2}}(?P<ridges>{COUNT}) (?:garter )?ridges\b",
)


def _ridges(text: str, lead: str) -> _Said:
    """Compare garter ridges with the rows that make them: two rows each, or one more at an edge."""
    match = _RIDGED.search(text)
    if match is None:
        return None
    rows, ridges = alike(numbers_in(match["rows"]), numbers_in(match["ridges"]))
    begun = _CAST_ON.search(lead + text[: match.start()]) is not None
    for many, there in zip(rows, ridges, strict=True):
        more = there - many / 2  # ridges of rows worked before
        most = 1 if "(" in match[0][match.end("rows") - match.start() :] else 2
        if (begun and more) or not -0.5 <= more <= most:
            return f"{many:g} rows make {many / 2:g} ridges, not {there:g}", match.start("ridges")
    return None


_CAST_ON = WordForm(r"\b(?:co|cast on)\b")
_UNIT = r"(?:cm|mm|inches|inch|ins?\b|\")"
_LENGTH = WordForm(rf"(?P<n>{COUNT}) ?-?{_UNIT}")
_LESS = WordForm(
    rf"(?P<a>{COUNT}) ?{_UNIT}[^.;\d]{{0,40}}?\b(?:which is|that is|or|this is) (?:about )?(?P<b>{COUNT}) ?{_UNIT} (?:less|shorter) than (?:the )?(?:finished|full|total|printed) (?:[a-z]+ )?length",
)


@lru_cache(maxsize=2)
def _lengths(text: str) -> set[_Values]:
    return {
        numbers_in(match["n"])
        for line in plain_lines(text)
        for match in _LENGTH.finditer(bracketed(line.text))
    }


def _shorter(said: str, text: str) -> _Said:
    """Compare "12 cm, which is 3 cm less than the finished length" with the lengths that are printed."""
    match = _LESS.search(said)
    if match is None:
        return None
    a, b = alike(numbers_in(match["a"]), numbers_in(match["b"]))
    made = tuple(x + y for x, y in zip(a, b, strict=True))
    same = [one for one in _lengths(text) if len(one) == len(made)]
    off = [sum(abs(x - y) > 0.05 for x, y in zip(one, made, strict=True)) for one in same]
    near = [
        one
        for one, many in zip(same, off, strict=True)
        if many <= len(made) / 2
        and all(abs(x - y) < 0.15 * y for x, y in zip(one, made, strict=True))
    ]
    if 0 in off or not near:
        return None
    return f"{_shown(a)} and {_shown(b)} make {_shown(made)}; {_shown(near[0])} is printed", match.start("a")  # fmt: skip


_ROWS_ENDING = WordForm(
    rf"\b(?:work|for) (?:a )?(?:further )?(?P<n>{COUNT}) (?:more )?rows\b(?P<how>[^.;]*?),? (?:end|finish)ing (?:with|on|after) an? (?P<side>p|purl|ws|wrong[- ]side|k|knit|rs|right[- ]side) row",
)
_BEGINS = WordForm(r"\b(?:begin|start|beg)\w*\.?(?: (?:with|on)\b| and$)")


def _parity(text: str) -> _Said:
    """Find rows of stocking stitch that can't end with a purl row: they begin with a knit one."""
    match = _ROWS_ENDING.search(text)
    if match is None or _BEGINS.search(match["how"]):
        return None
    purl = match["side"].lower()[0] in "pw"
    rows = numbers_in(match["n"])
    odd = {int(n) % 2 for n in rows}
    if odd == {0} or (not purl and odd == {1}):
        return None
    if len(odd) == 1 and not re.search(r"\bst(?:ocking|ockinette)?\.? ?st", match["how"], re.I):
        return None
    what = "purl" if purl else "knit"
    return (
        f"{_shown(rows)} rows, knit and purl by turns, do not all end with a {what} row",
        match.start("n"),
    )


_ENDED = WordForm(
    r"\b(?:end|finish)ing (?:with|on|after) an? (?P<side>p|purl|ws|wrong[- ]side|k|knit|rs|right[- ]side) row\W*$",
)
_GARTER = WordForm(r"\b(?:garter|g[- ]st|moss|rib)\b")


def _next_side(one: Spoken, after: Spoken | None) -> _Said:
    """Find a row of one side right behind rows that end with one of the same."""
    match = _ENDED.search(one.text)
    if match is None or after is None or after.label is None or after.section != one.section:
        return None
    side = match["side"].lower()
    there = after.label.side.upper().strip("() ")[:1]
    if side in ("p", "purl", "k", "knit") and _GARTER.search(one.text):
        return None
    ended = "W" if side[0] in "pw" else "R"
    if there != ended or after.label.numbers not in ((), (1,)):
        return None
    names = {"W": "wrong-side", "R": "right-side"}
    return (
        f"the next row is one of the {names[there][:-5]} side: one of the other side comes before it",
        match.start("side"),
    )
