"""Numbers by size: one missing or too many, and sizes that do not grow."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from loopwright.pattern._editing.figures import sizes_in_brackets, sizes_of_another_number
from loopwright.pattern._editing.findings import ERROR, WARNING, Finding
from loopwright.pattern._editing.spoken import plain
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.plurals import plural

__all__ = ["sized_numbers"]

_NUMBER = r"(?:\d+(?:\.\d+)?|[-–—])"
_LIST = WordForm(
    rf"(?<![\d.])(?P<first>\d+(?:\.\d+)?)\s*[(\[]\s*(?P<rest>{_NUMBER}(?:\s*[,:;]\s*{_NUMBER})*)\s*[)\]]",
    re.NOFLAG,
)
_DECIMAL = WordForm(r"\b\d,\d{1,2} ?mm\b", re.NOFLAG)
_COMMA = WordForm(r"(?<=\d),(?=(?:5|25|75)\b)", re.NOFLAG)
_STITCHES = WordForm(r"\s*(?:(?:[a-z]+ )?(?:sts?|stitch(?:es)?)|sole|instep|heel)\b")
_OFTEN = WordForm(
    r"\s*(?:(?:more|further|additional|other|plain) )?(?:times|rows|rounds|rnds|repeats)\b"
)
_LENGTH = WordForm(r"\s*-?\s*(?:cm|g\b|grams|inch(?:es)?|ins?\b|\"|m\b|yds?\b|yards|metres|meters)")
_TOLD = WordForm(r"(?<![a-z])[kp]\s*$")
_RANGE = WordForm(r"\b(?:rounds|rnds|rows) \d+ ?(?:-|–|to) ?$")  # "Rnds 1-10 (12, 14)"
_DEPTH = WordForm(r"\b(?:depth|deep|height|tall|high)\b[^\d,;.]*$")
_SOME = WordForm(r"\b(?:sizes? .{0,40}\bonly|only\b.{0,20}\bsizes?)\b")
_EVENED = WordForm(
    r"\b(?:inc|dec)\w*\D{0,30}\d+ ?\((?:[^)]*, ?)?0\b|\b(?:inc|dec)\w*\D{0,30}(?<!\d)0 ?\("
)
_ON_NEEDLE = WordForm(
    r" ?(?:sts?|stitches)?\.? ?(?:on|onto|to|for) (?:the )?"
    r"(?:n ?\d|needles? ?\d|\d(?:st|nd|rd|th)\b|first|second|third|fourth)"
)
_SHAPED = WordForm(r"\b(?:dec|inc)\w*\b[^.;]*\btimes[:,=—– -]*$")
_AIM = WordForm(r"\buntil (?:only |there are |you have )*$")
ENOUGH = 4  # lists, before the others can be called wrong
FEW = 0.2  # of the lists; where more are of another length, sizes come and go
_SO_OFTEN = WordForm(
    r"\d ?[(\[][\d, :]+[)\]] (?:more |further )?times\b[^.;]{0,12}[.;:,(\[—–-]* ?[(\[]?$"
)
CLOSED = 24  # stitches; a tip is closed over no more
BIG = 10  # stitches; below it the rest of a division goes up and down with the sizes


_SIZES = WordForm(r"\s*(?:sizes?|sizing)\s*:\s*(?P<names>.+)")


def _named(number: int, line: str) -> Iterator[Finding]:
    """Find a size without a name, or a name that two sizes have."""
    match = _SIZES.match(line)
    listed = _SIZE_LIST.match(match["names"]) if match else None
    if match is None or listed is None:
        return
    names = [name.strip() for name in (listed["first"], *re.split(r"[,:;]", listed["rest"]))]
    twice = next((name for name in names if names.count(name) > 1 or not name), None)
    if twice is not None:
        said = f"two sizes are called {twice}" if twice else "a size has no name"
        column = match.start("names") + 1
        yield Finding(ERROR, "sizes", f"{said}: give each a name of its own", number, column)


_SIZE_LIST = WordForm(r"(?P<first>[^(\[]{1,30}?)\s*[(\[](?P<rest>[^)\]]*)[)\]]", re.NOFLAG)


def sized_numbers(text: str, sizes: int) -> Iterator[Finding]:
    r"""Find lists of numbers by size with an entry too few or too many, and some that shrink.

    Examples
    --------
    >>> text = "CO 40 (44, 48) sts.\nK10 (11, 12).\nK10 (11).\nK20 (22, 24).\nK5 (6, 7)."
    >>> [str(one) for one in sized_numbers(text, 3)]
    ['3:2: error: 10 (11) has 2 entries for 3 sizes']
    """
    found = []
    if _DECIMAL.search(text):  # "2,5 mm": what looks like two numbers is one
        text = _COMMA.sub(".", text)
    by_sign = sizes_in_brackets(text)
    for number, line in enumerate(text.split("\n"), start=1):
        if "(" not in line and "[" not in line and by_sign is None and not _COMMAS.search(line):
            continue
        yield from _named(number, line[:200])
        tidy = plain(line)
        if by_sign is not None:
            yield from _by_sign(text, tidy, number)
            tidy = tidy.sub(*by_sign)
        tidy = tidy.sub(_COMMAS, lambda m: f"{m[1]} ({m[2].lstrip(', ')})")
        only = _SOME.search(tidy.text) is not None
        found += [(number, tidy, match, only) for match in _LIST.finditer(tidy.text)]
    lengths = Counter(_entries(match) for _, _, match, _ in found)
    usual = _usual(lengths, sizes)
    told = {
        long: Counter(_listed(match) for _, _, match, _ in found if _is_length(match) == long)
        for long in (True, False)
    }
    evened = _EVENED.search(text) is not None  # some sizes are increased to a number of others
    for number, tidy, match, only in found:
        often = told[_is_length(match)]
        column = tidy.at[match.start()] + 1
        entries = _entries(match)
        if usual and entries != usual and not only and _is_list(match, tidy.text):
            said = f"{match[0]} has {entries} entries for {plural(usual, 'size')}"
            yield Finding(ERROR, "sizes", said, number, column)
        elif said := (
            _shrinks(match, tidy.text)
            or _leaps(match, tidy.text)
            or _swapped(match, often)
            or ("" if evened else _mistyped(match, often))
        ):
            yield Finding(WARNING, "grading", said, number, column)


def _by_sign(text: str, tidy: MappedText, number: int) -> Iterator[Finding]:
    """Find a list with a size too few or too many, where a sign stands between the sizes."""
    match = sizes_of_another_number(text, tidy.text)
    if match is not None:
        said = f"{match[0]} has another number of sizes than the lists elsewhere"
        yield Finding(ERROR, "sizes", said, number, tidy.at[match.start()] + 1)


def _entries(match: re.Match[str]) -> int:
    return 1 + len(re.split(r"[,:;]", match["rest"]))


def _is_length(match: re.Match[str]) -> bool:
    """Tell whether a list holds lengths, which have nothing to do with counts of stitches."""
    return _LENGTH.match(match.string, match.end()) is not None


def _usual(lengths: Counter[int], sizes: int) -> int:
    """Return how many entries a list should have; 0 where the text does not tell."""
    if not lengths:
        return 0
    entries, often = lengths.most_common(1)[0]
    if sizes > 1 and sizes == entries and often > sum(lengths.values()) / 2:
        return entries
    sure = often >= ENOUGH and sum(lengths.values()) - often <= FEW * often
    return entries if sure and entries > 1 else 0


def _is_list(match: re.Match[str], text: str) -> bool:
    """Tell a list of sizes from a number with another one in brackets, such as 8 (5 mm)."""
    if _entries(match) > 2:
        return True
    behind = text[match.end() :]
    return bool(
        _STITCHES.match(behind)
        or _OFTEN.match(behind)
        or _LENGTH.match(behind)
        or _TOLD.search(text[: match.start()])
        or _RANGE.search(text[: match.start()])
    )


def _shrinks(match: re.Match[str], text: str) -> str:
    """Say that sizes do not grow: lengths ever, counts of stitches where they go up and down."""
    values = [float(one) for one in re.findall(r"\d+(?:\.\d+)?", match[0])]
    grown = sorted(values)
    if values == grown or (0.0 in values and not _BALLS.match(text, match.end())):
        return ""
    long, counted = _LENGTH.match(text, match.end()), _STITCHES.match(text, match.end())
    counted = counted or _TOLD.search(text[: match.start()])
    both_ways = values != grown[::-1]
    if counted and _ON_NEEDLE.match(text, match.end()):
        return ""  # as the rib divides: only together they grow
    if counted and both_ways and min(values) < CLOSED and _SO_OFTEN.search(text[: match.start()]):
        return ""  # what is left at a tip: each size is worked as often as is said
    deep = _DEPTH.search(text[: match.start()]) or _IS_DEEP.match(text, match.end())
    if long and not both_ways and deep:
        return ""  # a longer cowl is less deep
    if _BALLS.match(text, match.end()):
        return f"{match[0]} does not grow from size to size: is one of them mistyped?"
    if long or (counted and min(values) >= (BIG if both_ways or len(values) == 2 else 2 * BIG)):
        return f"{match[0]} does not grow from size to size: are two of them swapped?"
    return ""


_IS_DEEP = WordForm(r"\s*(?:cm|mm|in(?:ches|ch|s)?\b\.?|\"),? (?:deep|tall|high)\b")
_COMMAS = WordForm(  # "40, 60, 80 g"
    r"(?<![\d.,(\[])(?<![\d,(\[] )(\d+(?:\.\d+)?)((?:, \d+(?:\.\d+)?){2,})"
    r"(?= ?(?:g|cm|m|yards|yds|inches)\b)",
    re.NOFLAG,
)
_BALLS = WordForm(r"\s*(?:[a-z-]+ )?(?:skeins?|balls?|hanks?)\b")
_COURSES = WordForm(r"\s*(?:rounds|rnds|rows)\b")
_AMOUNT = WordForm(r"\s*(?:m|g|yds?|yards|metres|meters|grams)\b")
BALLS = (25, 100)  # grams, the least and the most that a ball holds as a rule (common practice)
LEAP = 2.0  # from one size to the next; it grows by a tenth to a half, from a child on by more


def _leaps(match: re.Match[str], text: str) -> str:
    """Say that an amount of yarn grows too much from one size to the next."""
    if _AMOUNT.match(text, match.end()) is None:
        return ""
    amounts = _listed(match)
    ball = math.gcd(*map(int, amounts))
    for less, more in pairwise(amounts):
        if BALLS[0] <= ball <= BALLS[1] and more - less == ball:
            continue  # one ball more: what is left of it is not told
        if less and more / less > LEAP:
            return f"from {less:g} to {more:g} from one size to the next: is one of them mistyped?"
    return ""


def _listed(match: re.Match[str]) -> tuple[float, ...]:
    return tuple(float(one) for one in re.findall(r"\d+(?:\.\d+)?", match[0]))


def _swapped(match: re.Match[str], often: Counter[tuple[float, ...]]) -> str:
    """Say that a list shrinks whose numbers stand in growing order elsewhere."""
    values = _listed(match)
    grown = tuple(sorted(values))
    on_needle = _ON_NEEDLE.match(match.string, match.end())
    if values == grown or 0.0 in values or not often[grown] or on_needle:
        return ""
    return f"{match[0]} here, in growing order elsewhere: are two sizes swapped?"


def _mistyped(match: re.Match[str], often: Counter[tuple[float, ...]]) -> str:
    """Say that one number is out of step, where the text has the even list elsewhere."""
    values = _listed(match)
    lead = match.string[: match.start()]
    if (_AIM.search(lead) or _SHAPED.search(lead)) and not any(value % 4 for value in values):
        return ""  # a toe or a top ends with so many as come out in fours
    if often[values] > 1 or len(values) < 3 or min(values) < BIG or _is_even(values):
        return ""
    if _COURSES.match(match.string, match.end()):
        return ""  # rounds are worked to a length of their own
    if any(less == more for less, more in pairwise(values)):
        return ""  # two sizes have the same: so rounded, not so mistyped
    if any(_is_shifted(values, other) for other in often):
        return ""  # "cast on 10 (12, 12) sts", and then 11 (13, 13)
    for other, times in often.items():
        if times < 2 or len(other) != len(values) or not _is_even(other):
            continue
        apart = [abs(a - b) for a, b in zip(values, other, strict=True) if a != b]
        if len(apart) == 1 and apart[0] <= (4 if _STITCHES.match(match.string, match.end()) else 2):
            shown = f"{other[0]:g} ({', '.join(f'{value:g}' for value in other[1:])})"
            return f"{match[0]} here, {shown} elsewhere: is one number mistyped?"
    return ""


def _is_shifted(values: tuple[float, ...], other: tuple[float, ...]) -> bool:
    """Tell whether another list has as many stitches more, or fewer, in each size."""
    return (
        len(values) == len(other)
        and len({a - b for a, b in zip(values, other, strict=True)} - {0}) == 1
        and all(a != b for a, b in zip(values, other, strict=True))
    )


def _is_even(values: tuple[float, ...]) -> bool:
    """Tell whether sizes grow by the same step."""
    return len({b - a for a, b in pairwise(values)}) == 1
