# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Sums that come out in all sizes but one."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import combinations

from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences
from loopwright.pattern._reading.stated import for_sizes, whole_numbers
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["size_sums"]

_Values = tuple[int, ...]
_Said = tuple[str, int, _Values | None] | None  # the last: the count that is meant


def size_sums(sentences: Sentences) -> Iterator[Finding]:
    """Find counts that other sizes contradict."""
    texts = [one.figures for one in sentences]
    stated: list[_Values] = []
    taken = 0
    for at in sentences.places_about(_WHOLE, _TIMES):
        one, after = sentences[at], texts[at + 1] if at + 1 < len(texts) else ""
        told = (match for text in texts[taken:at] for match in _STATED.finditer(text))
        stated += (whole_numbers(match["n"]) for match in told)
        taken = at
        said = _picked_up(texts, at, stated) or _more_times(texts[at], after, stated)
        if said:
            message, offset, meant = said
            place = one.place_in_figures(offset)
            yield Finding(WARNING, "sum", message, place.line, place.column)
            stated += [meant] if meant is not None else []  # what follows may go on from it


_STATED = WordForm(rf"(?P<n>{COUNT}) {STS}")
_WHOLE = WordForm(
    rf"(?:^|[.:;,(=—–-] ?|\bhave |\bare |\bcount )(?P<n>{COUNT}) {STS}(?: in all| in total| altogether| now)?[.)\]]*\s*$",
)
_GAINS = WordForm(
    r"\b(?:pick(?:ing)?|picked|pu|take|taking|knit)(?: up)? ?(?:and (?:k|knit) )?\d|\bpick(?:ing)? up\b",
)
_NUMBER = WordForm(rf"(?<![\w./])(?:[kp]\.? ?)?(?P<n>{COUNT})(?! ?(?:cm|mm|in\b|rows|rnds|rounds|needles?|\"|g\b|m\b|times|st |nd |rd |th ))")  # fmt: skip
_SHAPED = WordForm(r"\b(?:until|times|k2tog|ssk|skpo|dec\w*|inc\w*)\b")
WINDOW = 5  # sentences in which a gusset is told
MOST = 9  # numbers among which the parts are looked for
OFF = 4  # stitches by which one size may be off


def _picked_up(texts: Sequence[str], at: int, stated: Sequence[_Values]) -> _Said:
    """Compare a total with the parts that make it in all sizes but one, behind a pick-up."""
    match = _WHOLE.search(texts[at])
    total = whole_numbers(match["n"]) if match is not None else ()
    sizes = len(total)
    if match is None or sizes < 3:
        return None
    window = [*texts[max(0, at - WINDOW) : at], texts[at][: match.start("n")]]
    picks = [text for text in window if _GAINS.search(text)]
    if not picks:
        return None
    first = next(n for n, text in enumerate(window) if _GAINS.search(text))
    if any(_SHAPED.search(text) for text in window[first:]):
        return None
    parts = [
        whole_numbers(number["n"]) for text in window[first:] for number in _NUMBER.finditer(text)
    ] + list(stated[-6:])
    parts = [for_sizes(part, sizes) for part in parts]
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


_TIMES = WordForm(
    rf"\brep(?:eat)?\b[^.;]*?\b(?P<n>{COUNT}) (?P<more>more |further )?times(?P<more2> more)?(?P<rest>[^;]*)$|"
    rf"\bwork\b[^.;]*?\b(?:a total of )(?P<all>{COUNT}) times(?P<rest2>[^;]*)$",
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
    more = bool(
        match["n"]
        and (match["more"] or match["more2"] or _ANOTHER.search(text, 0, match.start("n")))
    )
    times = for_sizes(times, sizes)
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


_ANOTHER = re.compile(r"\b(?:another|further|extra) $", re.IGNORECASE)
_TOLD = WordForm(
    rf"^\W*(?:there are |you have |= ?)?(?P<n>{COUNT}) {STS}(?: in all| now| rem\w*| left)?\W*$",
)
