# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stripes: the rounds of each colour, against what they are said to make together."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

import attrs

from loopwright.pattern._editing.figures import alike, digits, sizes_in_brackets, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import plain_lines
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT

__all__ = ["stripe_sums"]

_CRS = r"(?:rounds?|rnds?|rows?)"
_COLOUR = r"(?:(?:in|of|with) )?(?:(?:the )?colou?r |yarn |shade )?(?:MC|CC(?: ?\d)?|C\d|[A-FM]\b|(?:(?:light|dark|pale|main|contrast) )?(?!(?:more|in|of|times|have|every|each|then|and|or)\b)[A-Za-z]{3,10}\b)"
_ONE = WordForm(rf"\b(?:knit |work |k )?(?P<n>\d+) {_CRS} (?P<colour>{_COLOUR})", re.NOFLAG)
_BETWEEN = WordForm(r"(?:,|;|\.| and| then|, then|, and)? *", re.NOFLAG)
_TOTALS = WordForm(
    rf"\b(?:one |each |the )?(?:stripe )?(?:repeat|sequence)s? (?:is|has|takes|of|are) (?P<a>\d+) {_CRS}\b|\((?P<b>\d+)[- ]{_CRS}(?: (?:stripe )?(?:repeat|sequence))?\)|\ball (?P<c>\d+) {_CRS}|^\W*[^.]*\. these (?P<e>\d+) {_CRS} (?:are|form|make)\b|\b(?P<d>\d+)[- ](?:{_CRS}[- ]stripe|stripe {_CRS})",
)
_STARRED = WordForm(
    rf"(?:rep|repeat) from \* (?P<n>\d+) (?P<more>more )?times[^.;\d]{{0,14}}[(=:,] ?(?P<t>\d+) {_CRS}",
)
_SIZED = WordForm(
    rf"(?P<n>{COUNT}) (?:more )?{_CRS}\b[,;:(—–-]* ?\(?(?:(?:that['’]s|that is|which (?:is|makes)|or|=|making) )?(?P<k>{COUNT}) (?:full |whole |complete )?(?:stripes|stripe repeats)\b"
)
_OF_EACH = WordForm(
    rf"\b(?P<n>\d+) (?P<a>\w+) stripes? and (?P<m>\d+) (?P<b>\w+) stripes?\W{{1,3}}(?P<t>\d+) {_CRS}|\b(?P<k>\d+) stripes(?: in all| altogether|\b[^.;:\d()]{{0,60}})?[ (=,:]{{1,3}}(?P<t2>\d+) {_CRS}|\b(?P<k3>\d+) (?:full |complete )?(?:repeats|times)[^.;\d]{{0,12}}[(=:] ?(?P<t3>\d+) {_CRS}",
)


@attrs.frozen
class _Stripes:
    """Stripes told one after the other: the rounds of each."""

    rounds: tuple[int, ...]
    colours: tuple[str, ...]
    line: int
    start: int
    end: int


def stripe_sums(text: str) -> Iterator[Finding]:
    r"""Find stripes whose rounds do not make what the text says of them.

    Examples
    --------
    >>> text = "Stripes: 4 rnds white, 4 rnds red.\nWork 5 white stripes and 5 red stripes (48 rnds)."
    >>> [one.message for one in stripe_sums(text)]
    ['10 stripes of 4 rounds make 40, not 48']
    """
    lines = plain_lines(text)
    by_sign = sizes_in_brackets(text)
    for number, line in lines.about(_SIZED):
        sized = line if by_sign is None else line.sub(*by_sign)
        if uneven := _by_size(digits(sized.text)):
            yield Finding(WARNING, "sum", uneven, number, 1)
    said = {number: digits(line.text) for number, line in lines.about(_ONE)}
    told = [one for number, line in said.items() for one in _told(number, line)]
    told += _listed(said)
    if not told:
        return
    said |= {
        number: digits(line.text)
        for number, line in lines.about(_STARRED, _TOTALS, _OF_EACH, _CALLED_ONE)
    }
    for number, offset, message in _wrong(dict(sorted(said.items())), told):
        at = lines[number - 1].at
        column = at[min(offset, max(0, len(at) - 1))] + 1
        yield Finding(WARNING, "sum", message, number, column)


def _by_size(line: str) -> str:
    """Compare "60 (72) rounds, that's 10 (12) stripes": stripes are as deep in all sizes."""
    match = _SIZED.search(line)
    if match is None:
        return ""
    rounds, stripes = alike(values(match["n"]), values(match["k"]))
    deep = {n / many for n, many in zip(rounds, stripes, strict=True) if many}
    if len(stripes) < 2 or len(deep) == 1 or all(one.is_integer() for one in deep):
        return ""
    return f"{by_size(stripes)} stripes are not of as many rounds in {by_size(rounds)} rounds"


def _told(number: int, line: str) -> Iterator[_Stripes]:
    """Yield the stripes that one line tells."""
    run: list[re.Match[str]] = []
    for match in _ONE.finditer(line):
        if run and _BETWEEN.fullmatch(line[run[-1].end() : match.start()]) is None:
            if len(run) > 1:
                yield _stripes(run, number)
            run = []
        run.append(match)
    if len(run) > 1:
        yield _stripes(run, number)


def _stripes(run: Sequence[re.Match[str]], line: int) -> _Stripes:
    return _Stripes(
        tuple(int(m["n"]) for m in run), _colours(run), line, run[0].start(), run[-1].end()
    )


def _colours(run: Sequence[re.Match[str]]) -> tuple[str, ...]:
    return tuple(m["colour"].split()[-1].lower() for m in run)


def _listed(lines: Mapping[int, str]) -> Iterator[_Stripes]:
    """Yield stripes that stand in lines of their own, one below the other."""
    run: list[tuple[int, re.Match[str]]] = []
    for number, line in [*lines.items(), (0, ".")]:
        match = _ONE.fullmatch(line.strip(" .,-•"))
        if match is not None and run and run[-1][0] == number - 1:
            run.append((number, match))
            continue
        if len(run) > 1:
            rounds = tuple(int(m["n"]) for _, m in run)
            yield _Stripes(rounds, _colours([m for _, m in run]), run[0][0], 0, 0)
        run = [] if match is None else [(number, match)]


_CALLED_ONE = WordForm(
    r"\b(?:is|that['’]s|are|makes?|form|=) (?:one|1|a) (?:whole |full )?stripe\b"
)


def _wrong(lines: Mapping[int, str], told: Sequence[_Stripes]) -> Iterator[tuple[int, int, str]]:
    """Yield what the stripes of a text do not make."""
    sums = {sum(one.rounds) for one in told}
    for one, other in pairwise(one for one in told if len(one.rounds) == 2):
        of_one = sorted(zip(one.colours, one.rounds, strict=True))
        of_other = sorted(zip(other.colours, other.rounds, strict=True))
        if (
            [c for c, _ in of_one] == [c for c, _ in of_other]
            and of_one != of_other
            and "stripe" in lines[other.line].lower()
            and "stripe" in lines[one.line].lower()
        ):
            yield (
                other.line,
                other.start,
                f"these stripes are of {other.rounds[0]} and {other.rounds[1]} rounds; before they were of {one.rounds[0]} and {one.rounds[1]}",
            )
    widths = {one.rounds[0] for one in told if len(set(one.rounds)) == 1}
    if any(
        map(_CALLED_ONE.search, lines.values())
    ):  # "2 rnds B, then 2 rnds A. That is one stripe."
        widths = set()
    for number, line in lines.items():
        star = _STARRED.search(line)
        here = [one for one in told if one.line == number and one.end]
        if star is not None and len(here) == 1 and "*" in line[: here[0].start + 1]:
            times = int(star["n"]) + bool(star["more"])
            each, total = sum(here[0].rounds), int(star["t"])
            if total not in (times * each, (int(star["n"]) + 1) * each):
                yield (
                    number,
                    star.start("t"),
                    f"{times} times {each} rounds are {times * each}, not {total}",
                )
        if len(sums) != 1:
            continue
        (each,) = sums
        if (said := _in_all(line, each, bool(here))) and any(
            0 <= number - one.line <= 3 or 0 <= one.line - number <= 2 for one in told
        ):
            yield number, said[0], f"the stripes of a repeat make {each} rounds, not {said[1]}"
        for match in _OF_EACH.finditer(line):
            if match["k3"]:
                total, many, width = int(match["t3"]), int(match["k3"]), each
                if any(one.start < match.end() < one.end for one in here):
                    continue  # "8 times in stripes: 4 rows A, 4 rows B"
                if "stripe" not in line.lower() and "sequence" not in line.lower():
                    continue
            elif widths and len(widths) == 1 and len(told) == 1:
                total = int(match["t"] or match["t2"])
                many = int(match["k"]) if match["k"] else int(match["n"]) + int(match["m"])
                (width,) = widths
            else:
                continue
            if total != many * width and total != (many + 1) * width:
                what = "repeats" if match["k3"] else "stripes"
                yield (
                    number,
                    match.start(),
                    f"{many} {what} of {width} rounds make {many * width}, not {total}",
                )


def _in_all(line: str, each: int, told: bool) -> tuple[int, int] | None:
    """Return where a line tells how many rounds a repeat has, and how many, if it is wrong."""
    if not told and not re.search(r"stripe|sequence", line, re.IGNORECASE):
        return None
    for match in _TOTALS.finditer(line):
        group = next(g for g in "abcde" if match[g])
        if group == "b" and re.search(r"\btimes\b|\d (?:\w+ )?stripes?", line[: match.start()]):
            continue
        if int(match[group]) % each:
            return match.start(group), int(match[group])
    return None
