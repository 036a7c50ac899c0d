# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Counts told in prose, for the knitter to check: long edge stitches, a middle, halves, rounds in all."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from functools import partial

from loopwright.pattern._editing.figures import alike, digits
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.row_slips import tokens_at
from loopwright.pattern._editing.spoken import Before, Sentences, Spoken, plain_lines
from loopwright.pattern._editing.sums import change_in
from loopwright.pattern._reading.stated import for_sizes, whole_numbers
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.plurals import plural

__all__ = ["prose_counts"]

_Values = tuple[int, ...]
_Said = tuple[str, int] | None
_Known = Callable[[], Sequence[_Values]]  # what was told before
_CRS = r"(?:rounds?|rnds?|rows?)"


def prose_counts(text: str, sentences: Sentences) -> Iterator[Finding]:
    """Find counts told in prose that what is worked does not give."""
    said = [one.figures for one in sentences]
    counted, ended = Before(sentences, _COUNTED, _counted), Before(sentences, _END, _ended)
    alone = (_LONG, _BETWEEN, _TWO_HALVES, _EACH_SIDE, _IN_ALL, _EVERY, _HALF)
    for at in sentences.places_about(*alone, _MARKED):
        one, counts, ends = sentences[at], partial(counted, at), partial(ended, at)
        found = _said(at, sentences, said, counts, ends) if _MAY.search(said[at]) else None
        behind = said[at + 1] if at + 1 < len(said) and _near(one, sentences[at + 1]) else ""
        parted = _sections(said[at], behind, counts) if found is None else None
        if wrong := found or parted:
            place = one.place_in_figures(wrong[1])
            kind = "sum" if found else "sections"
            yield Finding(WARNING, kind, wrong[0], place.line, place.column)
    yield from _grows(text, sentences)


_MAY = WordForm(
    r"\b(?:long|slip\w*|chain|edge|selvedge|between|side|half|every|sections|wedges|parts|segments|markers|pm|place|instep|sole|front|back|palm|top|heel|upper|first|second|needle|left|right|dec\w*|inc\w*|shaping)\b",
)


def _said(
    at: int,
    sentences: Sequence[Spoken],
    said: Sequence[str],
    counts: _Known,
    ends: _Known,
) -> _Said:
    """Return what is wrong with the counts of one sentence, and where."""
    one = sentences[at]
    same = [two for two in (at - 2, at - 1) if two >= 0 and _near(sentences[two], one)]
    before = " ".join(said[two] for two in same)
    behind = said[at + 1] if at + 1 < len(said) and _near(one, sentences[at + 1]) else ""
    return (
        _edges(before, said[at])
        or _middle(said[at], counts)
        or _halves(said[at], counts)
        or _sides(before, said[at])
        or _rounds_in_all(said[at], ends)
        or _often(said[at], behind, counts)
        or _half_of(said[at])
    )


def _near(one: Spoken, other: Spoken) -> bool:
    return other.section == one.section and 0 <= other.line - one.line <= 1


_COUNTED = WordForm(
    rf"(?P<n>{COUNT}) (?:[a-z]+ )?{STS}(?! (?:dec|inc|fewer|more|before|after|from))|\b(?:cast(?:ing)? (?:on|up)|co)\b\D{{0,12}}(?P<m>{COUNT})|[(=] ?(?P<o>{COUNT}) ?\)",
)


_END = WordForm(
    rf"(?P<n>{COUNT}) (?:[a-z]+ )?{STS}(?: (?:are |now )?(?:rem\w*|left|in all))?\W*$",
)


def _counted(text: str) -> Iterator[_Values]:
    for match in _COUNTED.finditer(text):
        yield whole_numbers(match["n"] or match["m"] or match["o"])


def _ended(text: str) -> Iterator[_Values]:
    """Yield the count that stands at the end of a sentence."""
    if (end := _END.search(text)) is not None:
        yield whole_numbers(end["n"])


def _pairwise(first: _Values, second: _Values) -> list[tuple[int, int]]:
    """Return both by size; nothing where they have different ones."""
    return [*zip(*alike(first, second), strict=True)]


_LONG = WordForm(
    rf"(?:\b(?:count|see|are|is|be|have|has|with|of|or|and)|['’]s|[:,(\]—–]) ?(?:the )?(?P<m>{COUNT}) (?:(?:(?:big|long|slipped|slip|chain|edge|selvedge) )+(?:{STS}|chains|loops)|(?:(?:big|slip|edge) )?(?:chains|loops|(?:garter )?(?:bumps|ridges|notches)))[^.;]{{0,20}}\b(?:each|either|both|every|side|edge)s?\b|"
    rf"\b(?:long|slipped|chain|edge) (?:edge )?(?:{STS}|chains|loops)\b[^.;\d]{{0,16}}[:;]? ?(?:there )?(?:should be|are|is|will be) (?P<m2>{COUNT}) (?:{STS} )?(?:on|at|up|along|down) (?:each|either|both)",
)
_ROWS = WordForm(
    rf"(?<!these )(?<!last )(?<!the )(?P<n>{COUNT}) (?:[a-z]+ )?rows\b(?! (?:once|twice|\d+|of|more|a further|[1-9]))(?! [^.;\d]{{0,12}}\btimes)",
)
_MAKES = WordForm(rf"\b(?:that |which |this )?makes? (?P<n>{COUNT})\b")
_TWO_ROWS = WordForm(
    rf"\b(?:these|last) 2 rows (?P<n>{COUNT}) (?P<more>more )?times|\b(?:rows 1 (?:and|&|-) 2|steps \d+ (?:and|&) \d+) (?:another |a further )?(?P<n2>{COUNT}) (?P<more2>more )?times",
)


def _edges(before: str, here: str) -> _Said:
    """Compare the long stitches at an edge with the rows of a flap: one for every two."""
    match = _LONG.search(here)
    if match is None:
        return None
    lead = f"{before} {here[: match.start()]}"
    told = [*_MAKES.finditer(lead), *_ROWS.finditer(lead)]
    long = whole_numbers(match["m"] or match["m2"])
    more = 2 if "ridge" in match[0] or "bump" in match[0] else 1  # that of the cast-on edge
    if told:
        rows = whole_numbers(told[0]["n"])
        pairs = _pairwise(rows, long)
        if pairs and all(abs(2 * m - n) <= more for n, m in pairs):
            return None
        if not pairs or any(m >= n or m < n / 4 for n, m in pairs):
            return None
        return (
            f"{by_size(rows)} rows make {by_size([n // 2 for n in rows])} long edge stitches, not {by_size(long)}",
            match.start(),
        )
    times = _TWO_ROWS.search(lead)
    if times is None:
        return None
    often = whole_numbers(times["n"] or times["n2"])
    pairs = _pairwise(often, long)
    same = (1,) if times["more"] or times["more2"] else (0, 1)
    if not pairs or all(m - n in same for n, m in pairs) or any(m > 2 * n for n, m in pairs):
        return None
    return (
        f"2 rows, {by_size(often)} times, make as many long edge stitches, not {by_size(long)}",
        match.start(),
    )


_BETWEEN = WordForm(
    rf"\bbetween (?:the )?(?P<a>\d+)(?:st|nd|rd|th) and (?:the )?(?P<b>\d+)(?:st|nd|rd|th) (?:of (?:the|these) )?(?:{STS})[^.;]*\b(?:middle|cent(?:er|re))",
)


def _middle(text: str, counts: _Known) -> _Said:
    """Compare "between the 12th and 13th stitches, the middle" with the count."""
    match = _BETWEEN.search(text)
    if match is None:
        return None
    before, known = int(match["a"]), {n for values in counts() for n in values}
    if int(match["b"]) != before + 1 or 2 * before in known:
        return None
    for other in (before - 1, before + 1):
        if 2 * other in known:
            said = (
                f"the middle of {2 * other} sts lies between number {other} and number {other + 1}"
            )
            return said, match.start("a")
    return None


_PART = r"(?:for|on|in|are|at)(?: on)? (?:the |each )?(?:instep|sole|front|back|palm|top|heel|upper|first|second|other|needle|left|right)"
_TWO_HALVES = WordForm(
    rf"(?P<a>{COUNT}) (?:{STS} )?(?:{_PART})[^.;\d]{{0,30}}(?P<b>{COUNT}) (?:{STS} )?(?:{_PART}|below\b|underneath\b|above\b|at the bottom\b)",
)

_NUMBER = re.compile(COUNT)
_MORE_PARTS = WordForm(rf"[^.;\d]{{0,16}}\d+ (?:{STS} )?(?:on|for|in) ")


def _halves(text: str, counts: _Known) -> _Said:
    """Compare two halves that are nearly alike with the counts before: they should be alike."""
    match = _TWO_HALVES.search(text)
    if match is None or _MORE_PARTS.match(text, match.end()):
        return None
    a, b = whole_numbers(match["a"]), whole_numbers(match["b"])
    pairs = _pairwise(a, b)
    made = tuple(x + y for x, y in pairs)
    if (
        not pairs
        or all(x == y for x, y in pairs)
        or any(abs(x - y) > 2 for x, y in pairs)
        or made in counts()
        or made in [whole_numbers(one[0]) for one in _NUMBER.finditer(text, 0, match.start())]
    ):
        return None
    for one in (a, b):
        twice = tuple(2 * n for n in one)
        if twice in counts():
            return (
                f"{by_size(a)} and {by_size(b)} make {by_size(made)}; there were {by_size(twice)}",
                match.start(),
            )
    return None


_EACH_SIDE = WordForm(
    rf"(?P<m>{COUNT}) {STS}? ?(?:on|at) (?:each|either) side of the (?:cent(?:er|re)|middle|spine)(?P<one> (?:st\b|stitch))?",
)
_TOTAL = WordForm(rf"(?P<n>{COUNT}) {STS}")


def _sides(before: str, here: str) -> _Said:
    """Compare what lies at each side of the middle with all that there is."""
    match = _EACH_SIDE.search(here)
    if match is None:
        return None
    totals = [*_TOTAL.finditer(f"{before} {here[: match.start()]}")]
    if not totals:
        return None
    each, total = whole_numbers(match["m"]), whole_numbers(totals[-1]["n"])
    pairs = _pairwise(each, total)
    one = 1 if match["one"] else 0
    if (
        not pairs
        or all(2 * m + one == n for m, n in pairs)
        or any(abs(2 * m + one - n) > 6 for m, n in pairs)
    ):
        return None
    made = [2 * m + one for m, _ in pairs]
    return (
        f"twice {by_size(each)}{' and the middle' if one else ''} are {by_size(made)} sts, not {by_size(total)}",
        match.start(),
    )


_IN_ALL = WordForm(
    rf"\b(?:that (?:is|makes)|which (?:is|makes)|there are|you have worked|this (?:is|makes)) (?P<k>{COUNT}) (?:dec\w*|inc\w*|shaping) {_CRS}(?P<all> in all| altogether| in total)?",
)


def _rounds_in_all(text: str, counts: _Known) -> _Said:
    """Compare the rounds of a shaping with the stitches before, at its first round and at its end."""
    match = _IN_ALL.search(text)
    told_before = counts()[-3:] if match is not None else ()
    if match is None or len(told_before) < 3:
        return None
    start, first, end = told_before
    told = whole_numbers(match["k"])
    rounds = []
    for a, b, c, k in zip(start, first, end, for_sizes(told, len(start)), strict=False):
        if a == b or (a - c) % (a - b) or (a - b) * (b - c) < 0:
            return None
        rounds.append(((a - c) // (a - b), k))
    if not rounds or all(k == made or (k == made - 1 and not match["all"]) for made, k in rounds):
        return None
    made_all = [made for made, _ in rounds]
    return (
        f"from {by_size(start)} to {by_size(end)}, as in the first round, takes {by_size(made_all)} rounds, not {by_size(told)}",
        match.start(),
    )


_EVERY = WordForm(
    rf"\bevery (?:(?:\d+(?:st|nd|rd|th)|other|alternate|second|third|fourth|foll\w*) )*{_CRS} (?:another |a further )?(?P<n>\d+) (?P<more>more )?times",
)
_LEFT = WordForm(rf"^\W*(?:there are )?(?P<n>\d+) {STS}(?: (?:rem\w*|are left|left))?\W*$")


def _often(text: str, behind: str, counts: _Known) -> _Said:
    """Add up "every 4th round twice more, then every round 5 times": all of them decrease alike."""
    told = list(_EVERY.finditer(text))
    left = _LEFT.match(behind)
    if len(told) < 2 or left is None or not told[0]["more"]:
        return None
    last = counts()[-1] if counts() else ()
    if len(last) != 1:
        return None
    (before,) = last
    lost, times = before - int(left["n"]), sum(int(match["n"]) for match in told)
    if lost > 0 and lost % times == 0:
        return None
    return f"{times} rounds that decrease alike can't lead from {before} to {left['n']}", told[
        0
    ].start()


_MARKED = WordForm(r"\*\s*(?P<inner>[^*;]+?), (?:pm|place (?:a )?marker)[;,.]? rep(?:eat)? from \*")
_SECTIONS = WordForm(r"(?P<n>\d+) (?:sections|wedges|parts|segments|(?P<markers>markers))")


def _sections(text: str, behind: str, counts: _Known) -> _Said:
    """Compare the sections between markers with the stitches of each and with all."""
    match = _MARKED.search(text)
    sections = _SECTIONS.search(f"{text} {behind}")
    if match is None or sections is None or not counts():
        return None
    tokens = tokens_at(match["inner"], 0)
    each = sum(token.takes[0] for token in tokens)
    there = counts()[-1][0]
    if not tokens or tokens[-1].end < len(match["inner"].rstrip()) or not each or there % each:
        return None
    one_less = 1 if sections["markers"] else 0  # the round begins at one that may not be counted
    if there // each - int(sections["n"]) in (0, one_less):
        return None
    return (
        f"{there} sts, {each} at a time, make {there // each} sections, not {sections['n']}",
        match.start(),
    )


_HALF = WordForm(rf"(?P<n>\d+) {STS}\b[^\d]{{0,40}}\bhalf of (?:them|these|it)[:,=] ?(?P<m>\d+)")


def _half_of(text: str) -> _Said:
    match = _HALF.search(text)
    if match is None or 2 * int(match["m"]) == int(match["n"]):
        return None
    return f"half of {match['n']} is {int(match['n']) / 2:g}, not {match['m']}", match.start("m")


_GROWN = WordForm(r"\b(?:grow|widen|increas|gain)")
_GROWS = WordForm(
    r"\b(?:grow|widen|increas|gain)\w* (?:by )?(?P<n>\d+) (?:sts|stitches) (?:on|in|at) (?:every|each) (?P<side>rs|right[- ]side|other|second|alternate) row",
)


def _grows(text: str, sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Compare "grows by 4 stitches on every right-side row" with what its rows make."""
    for number, line in plain_lines(text).about(_GROWN):
        match = _GROWS.search(digits(line.text))
        if match is None:
            continue
        changes = [
            made for one in sentences
            if one.label is not None and one.label.numbers and one.line > number
            and (made := _change(one)) is not None and made > 0
        ]  # fmt: skip
        if changes and int(match["n"]) not in changes and len({*changes[:2]}) == 1:
            said = f"{match['n']} sts more are spoken of; row {_first(sentences, number)} makes {plural(changes[0], 'st')} more"
            yield Finding(
                WARNING, "sum", said, number, line.at[min(match.start(), len(line.at) - 1)] + 1
            )


def _change(one: Spoken) -> int | None:
    return None if "*" in one.text else change_in(one.text[one.start :])


def _first(sentences: Sequence[Spoken], line: int) -> int:
    """Return the number of the first row that grows, behind a line."""
    return next(
        one.label.numbers[0] for one in sentences
        if one.label is not None and one.label.numbers and one.line > line and (_change(one) or 0) > 0
    )  # fmt: skip
