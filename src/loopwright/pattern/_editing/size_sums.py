# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Sums that come out in all sizes but one, counts that no repeat divides, and two hands that are one."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import combinations

from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.row_slips import tokens_at
from loopwright.pattern._editing.spoken import Spoken
from loopwright.pattern._reading.stated import whole_numbers
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["size_sums"]

_Values = tuple[int, ...]
_Said = tuple[str, int, _Values | None] | None  # the last: the count that is meant


def size_sums(sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find counts that other sizes, or the row itself, contradict."""
    texts = [one.figures for one in sentences]
    stated: list[_Values] = []
    there: list[_Values] = []  # since stitches were cast on
    for at, one in enumerate(sentences):
        begun = _BEGUN.search(texts[at])
        if begun is not None:
            many = whole_numbers(begun["n"])
            there = (
                [many] if min(many) > FEW else []
            )  # few bridge a gap: how many there are is open
        after = texts[at + 1] if at + 1 < len(texts) else ""
        said = (
            _picked_up(texts, at, stated)
            or (_until(texts[at], stated) if _TAPERS.search(one.title) else None)
            or _more_times(texts[at], after, stated)
            or _divided(one, texts[at], after)
            or _around(texts[at], one.start, there)
        )
        if said:
            message, offset, meant = said
            place = one.place(min(offset, max(0, len(one.text) - 1)))
            yield Finding(WARNING, "sum", message, place.line, place.column)
            stated += [meant] if meant is not None else []  # what follows may go on from it
        told = [whole_numbers(match["n"]) for match in _STATED.finditer(texts[at])]
        stated += told
        there += told if there else []
    yield from _colour_rows(sentences)
    yield from _hands(sentences, texts)


_STATED = re.compile(rf"(?P<n>{COUNT}) {STS}", re.IGNORECASE)
_BEGUN = re.compile(
    rf"\b(?:cast(?:ing)? (?:on|up)|co)\b\D{{0,12}}(?P<n>{COUNT})(?![\d.]| ?(?:cm|in\b|mm|\"))",
    re.IGNORECASE,
)
_WHOLE = re.compile(
    rf"(?:^|[.:;,(=—–-] ?|\bhave |\bare |\bcount )(?P<n>{COUNT}) {STS}(?: in all| in total| altogether| now)?[.)\]]*\s*$",
    re.IGNORECASE,
)
_GAINS = re.compile(
    r"\b(?:pick(?:ing)?|picked|pu|take|taking|knit)(?: up)? ?(?:and (?:k|knit) )?\d|\bpick(?:ing)? up\b",
    re.IGNORECASE,
)
_NUMBER = re.compile(rf"(?<![\w./])(?:[kp]\.? ?)?(?P<n>{COUNT})(?! ?(?:cm|mm|in\b|rows|rnds|rounds|needles?|\"|g\b|m\b|times|st |nd |rd |th ))", re.I)  # fmt: skip
_SHAPED = re.compile(r"\b(?:until|times|k2tog|ssk|skpo|dec\w*|inc\w*)\b", re.IGNORECASE)
FEW = 7  # stitches; no piece begins with fewer and is worked around at once
WINDOW = 5  # sentences in which a gusset is told
MOST = 9  # numbers among which the parts are looked for
OFF = 4  # stitches by which one size may be off


def _picked_up(texts: Sequence[str], at: int, stated: Sequence[_Values]) -> _Said:
    """Compare a total with the parts that make it in all sizes but one, behind a pick-up."""
    match = _WHOLE.search(texts[at])
    last = texts[at][: match.start("n")] if match else ""
    window = [*texts[max(0, at - WINDOW) : at], last]
    picks = [text for text in window if _GAINS.search(text)]
    if match is None or not picks:
        return None
    total = whole_numbers(match["n"])
    sizes = len(total)
    if sizes < 3:
        return None
    first = next(n for n, text in enumerate(window) if _GAINS.search(text))
    if any(_SHAPED.search(text) for text in window[first:]):
        return None
    parts = [
        whole_numbers(number["n"]) for text in window[first:] for number in _NUMBER.finditer(text)
    ] + list(stated[-6:])
    parts = [part * sizes if len(part) == 1 else part for part in parts]
    parts = list(dict.fromkeys(part for part in parts if len(part) == sizes and part != total))[
        -MOST:
    ]
    gained = {whole_numbers(number["n"]) for text in picks for number in _NUMBER.finditer(text)}
    nearly: _Values | None = None
    for many in range(1, 5):
        for chosen in combinations(parts, many):
            for twice in (*((one,) for one in chosen), (), *combinations(chosen, 2)):
                made = tuple(map(sum, zip(*chosen, *twice, strict=True)))
                if made == total:
                    return None
                off = [a - b for a, b in zip(made, total, strict=True) if a != b]
                sure = sizes > 3 or (len(twice) and set(twice) & gained and many > 1)
                if len(off) == 1 and abs(off[0]) <= OFF and sure and set(chosen) & gained and nearly is None:  # fmt: skip
                    nearly = made
    if nearly is None:
        return None
    return (
        f"{by_size(total)} sts are stated; what is picked up and worked makes {by_size(nearly)}",
        match.start("n"),
        nearly,
    )


_UNTIL = re.compile(
    rf"\brep(?:eat)?\b[^.;]*\buntil (?:there are |you have )?(?P<n>{COUNT}) {STS}(?: (?:rem\w*\.?|(?:are )?left))?\W*$",
    re.IGNORECASE,
)
_TAPERS = re.compile(r"\b(?:toes?|tops?|crown|tip)\b")
FOURS = 4  # stitches that a toe or a top loses in a round (common practice)


def _until(text: str, stated: Sequence[_Values]) -> _Said:
    """Find the one size that no steps of four lead to, where they lead to all others."""
    match = _UNTIL.search(text)
    if match is None:
        return None
    end = whole_numbers(match["n"])
    start = next((one for one in reversed(stated) if len(one) == len(end)), None)
    if start is None or len(end) < 3 or any(a <= b for a, b in zip(start, end, strict=True)):
        return None
    rest = [(a - b) % FOURS for a, b in zip(start, end, strict=True)]
    if rest.count(0) != len(rest) - 1:
        return None
    at = next(n for n, one in enumerate(rest) if one)
    return (
        f"from {start[at]} sts, {FOURS} at a time as in the other sizes, there are never {end[at]}",
        match.start("n"),
        None,
    )


_TIMES = re.compile(
    rf"\brep(?:eat)?\b[^.;]*?\b(?P<n>{COUNT}) (?P<more>more |further )?times(?P<more2> more)?(?P<rest>[^;]*)$|"
    rf"\bwork\b[^.;]*?\b(?:a total of )(?P<all>{COUNT}) times(?P<rest2>[^;]*)$",
    re.IGNORECASE,
)
STEPS = (2, 4, 6, 8)  # stitches that a round of shaping adds or takes (common practice)


def _more_times(text: str, after: str, stated: Sequence[_Values]) -> _Said:
    """Find the one size whose count so many rounds do not lead to, where they do in the others."""
    match = _TIMES.search(text)
    if match is None:
        return None
    rest = match["rest"] if match["n"] else match["rest2"]
    told = _TOLD.match(rest) if rest.strip(" .,=)") else _TOLD.match(after)
    if told is None:
        return None
    times, end = whole_numbers(match["n"] or match["all"]), whole_numbers(told["n"])
    sizes = len(end)
    if len(times) not in (1, sizes) or sizes < 3:
        return None
    more = bool(match["n"] and (match["more"] or match["more2"]))
    times = times * sizes if len(times) == 1 else times
    before = [one for one in stated[-8:] if len(one) == sizes]
    found: tuple[int, int, _Values] | None = None
    for step in (*STEPS, *(-one for one in STEPS)):
        for first in (1, 0) if more else (0,):
            made = tuple(n + step * (t + first) for n, t in zip(end, times, strict=True))
            if made in before:
                return None
            for start in before:
                off = [n for n, (a, b) in enumerate(zip(made, start, strict=True)) if a != b]
                if len(off) == 1 and abs(made[off[0]] - start[off[0]]) <= abs(step) and len(set(times)) > 1:  # fmt: skip
                    found = found or (off[0], made[off[0]] - start[off[0]], start)
    if found is None:
        return None
    at, by, start = found
    return (
        f"from {start[at]} sts, as many at a time as in the other sizes, so often makes {end[at] - by}, not {end[at]}",
        match.start(),
        tuple(n - by * (size == at) for size, n in enumerate(end)),
    )


_STAR = re.compile(
    r"\*\s*(?P<inner>[^*;]+?)[;,.] ?rep(?:eat)? (?:from )?\* ?(?:to (?:the )?end(?: of (?:the )?(?:round|rnd|row))?|a?round|all round|across)(?P<rest>.*)$",
    re.IGNORECASE,
)
_TOLD = re.compile(
    rf"^\W*(?:there are |you have |= ?)?(?P<n>{COUNT}) {STS}(?: in all| now| rem\w*| left)?\W*$",
    re.IGNORECASE,
)


def _divided(one: Spoken, text: str, after: str) -> _Said:
    """Compare a repeat all around with the count that is stated behind it."""
    match = _STAR.match(text, one.start)
    if match is None:
        return None
    tokens = tokens_at(match["inner"], 0)
    told = _TOLD.match(match["rest"]) if match["rest"].strip(" .") else _TOLD.match(after)
    if not tokens or tokens[-1].end != len(match["inner"]) or told is None:
        return None
    if any(len(token.takes) > 1 for token in tokens):
        return None
    leaves = sum(token.takes[0] + token.change for token in tokens)
    if leaves < 2 or not any(token.change for token in tokens):
        return None
    left = [n for n in whole_numbers(told["n"]) if n % leaves]
    if not left:
        return None
    return (
        f"each repeat leaves {leaves} sts: {left[0]} sts are no multiple of {leaves}",
        match.start("inner"),
        None,
    )


_ROUND = re.compile(
    r"\*\s*(?P<inner>[^*;()\[\]]+?)(?:[;,.] ?rep(?:eat)? (?:from )?\* ?|\* ?)(?:to (?:the )?end(?: of (?:the )?(?:round|rnd))|a?round|all round)\b",
    re.IGNORECASE,
)


def _around(text: str, start: int, stated: Sequence[_Values]) -> _Said:
    """Find a repeat all around that divides none of the counts that were spoken of before."""
    match = _ROUND.match(text, start)
    if match is None or len(stated) < 1:
        return None
    tokens = tokens_at(match["inner"], 0)
    if not tokens or tokens[-1].end != len(match["inner"]) or any(len(t.takes) > 1 for t in tokens):
        return None
    takes = sum(token.takes[0] for token in tokens)
    near = stated[-6:]
    if takes < 2 or any(all(n % takes == 0 for n in one) for one in near):
        return None
    said = f"a repeat of {takes} sts goes into none of the counts before: the last is {by_size(near[-1])}"
    return said, match.start("inner"), None


_RUNS = re.compile(r"\W*(?P<row>\d+ [A-Z]{1,2}\d?(?:, \d+ [A-Z]{1,2}\d?)+)\W*$")


def _colour_rows(sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find the one row of a colour pattern that is not as wide as its like."""
    groups: dict[int, list[tuple[Spoken, int]]] = {}
    for one in sentences:
        match = _RUNS.match(one.text, one.start)
        if match is not None and one.label is not None:
            wide = sum(map(int, re.findall(r"(?<![A-Z\d])\d+", match["row"])))
            groups.setdefault(one.section, []).append((one, wide))
    for rows in groups.values():
        widths = [wide for _, wide in rows]
        usual = max(set(widths), key=widths.count)
        odd = [(one, wide) for one, wide in rows if wide != usual]
        if len(rows) > 2 and len(odd) == 1:
            ((one, wide),) = odd
            place = one.place(one.start)
            said = f"this row has {wide} sts; the others of the pattern have {usual}"
            yield Finding(WARNING, "panel", said, place.line, place.column)


_HAND = re.compile(r"\W*(?:for (?:the )?)?(?P<hand>right|left)(?: hand| mitten| mitt| glove)s?\b[^:.]{0,24}[:.]", re.I)  # fmt: skip
_PUT_IN = re.compile(r"\b(?:waste|scrap|holder|thread|thumb)\b", re.IGNORECASE)


def _hands(sentences: Sequence[Spoken], texts: Sequence[str]) -> Iterator[Finding]:
    """Find a left thumb that stands where the right one does: then there are two of one hand."""
    found: dict[str, tuple[Spoken, str]] = {}
    for one, text in zip(sentences, texts, strict=True):
        match = _HAND.match(text)
        if match is None or not _PUT_IN.search(text):
            continue
        hand, rest = match["hand"].lower(), re.sub(r"\W+", " ", text[match.end() :].lower()).strip()
        found[hand] = one, rest
        if len(found) == 2 and re.search(r"\d", rest):
            (_, right), (_, left) = found["right"], found["left"]
            numbers = [re.findall(r"\d+", said)[:2] for said in (right, left)]
            alike = right == left or (numbers[0] == numbers[1] and right[:24] == left[:24])
            found = {}
            if alike:
                place = one.place()
                said = "both thumbs stand at the same place: this makes two mittens for one hand"
                yield Finding(WARNING, "mirror", said, place.line, place.column)
