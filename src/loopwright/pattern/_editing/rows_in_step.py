"""Rows that say the same with other numbers: these go on in even steps, but for one of them.

"K1, m1, k3, m1", "k1, m1, k5, m1", "k1, m1, k7, m1": six in the middle one would be out of step.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from loopwright.pattern._editing.figures import alike as _alike
from loopwright.pattern._editing.figures import values
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.plurals import plural

__all__ = ["rows_in_step"]

_SHAPED = WordForm(r"(?:[kp] ?\d ?tog|\d tog)|\b(?:ssk|ssp|skpo?|m1[lrp]?|kfb|cdd|sk2p|together)\b")
_NUMBER = WordForm(rf"(?<![\w.])(?:k|p)?(?P<n>{COUNT})(?! ?tog)")
_BETWEEN = WordForm(
    rf"\bm1[lr]?, k ?(?P<k>{COUNT}), m1[lr]?\b.*?[.(=—–-] ?(?P<n>{COUNT}) (?:sts|stitches)\W*$",
)
_Row = tuple[Spoken, list[tuple[tuple[int, ...], int]]]
FEW = 3  # rows, of which the middle one is asked about only if another number shows the steps
NEAR = 2  # stitches by which a number may miss, and be meant for the step all the same


def rows_in_step(sentences: Sentences) -> Iterator[Finding]:
    """Find the one row among rows alike whose number is out of step."""
    odd = [*_of_templates(sentences)]
    yield from odd or _between(sentences)


def _of_templates(sentences: Sentences) -> Iterator[Finding]:
    section, alike = -1, dict[str, list[_Row]]()
    for one in [*sentences.about(_SHAPED), None]:
        if one is None or one.section != section:
            for rows in alike.values():
                yield from _odd(rows)
            section, alike = one.section if one is not None else -1, {}
        if one is None or not _SHAPED.search(one.text) or one.label is None:
            continue
        said = one.figures[one.start :]
        numbers = [(values(m["n"]), one.start + m.start("n")) for m in _NUMBER.finditer(said)]
        alike.setdefault(_NUMBER.sub("#", said.lower()), []).append((one, numbers))


def _between(sentences: Sentences) -> Iterator[Finding]:
    """Find two increases whose middle has not grown by what the row before made."""
    before: tuple[int, tuple[int, ...], tuple[int, ...]] | None = None
    for at in sentences.lines_about(_BETWEEN):
        parts = sentences.lines[at]
        match = _BETWEEN.search(" ".join(one.figures for one in parts))
        if match is None:
            continue
        there = values(match["k"]), values(match["n"])
        if before is not None and before[0] == parts[0].section:
            more = {b - a for a, b in zip(*_alike(before[1], there[0]), strict=True)}
            grown = {b - a for a, b in zip(*_alike(before[2], there[1]), strict=True)}
            if len(more) == len(grown) == 1 and grown == {2} and more != grown:
                place = parts[0].place_in_figures(parts[0].start)
                said = (
                    f"{plural(more.pop(), 'st')} more between the increases than the last time, "
                    "and 2 sts more in all: should they be as many?"
                )
                yield Finding(WARNING, "row", said, place.line, place.column)
                return
        before = parts[0].section, *there


def _odd(rows: Sequence[_Row]) -> Iterator[Finding]:
    if len(rows) < FEW or not rows[0][1]:
        return
    columns = list(zip(*(numbers for _, numbers in rows), strict=True))
    steady = [_is_steady([numbers for numbers, _ in column]) for column in columns]
    for column in columns:
        for size in range(min(len(numbers) for numbers, _ in column)):
            if len({len(numbers) for numbers, _ in column}) > 1:
                break
            there = [numbers[size] for numbers, _ in column]
            odd = _out_of_step(there, sure=len(rows) > FEW or any(steady))
            if odd is not None:
                at, wanted = odd
                place = rows[at][0].place_in_figures(column[at][1])
                said = (
                    f"{there[at]} here, amid rows alike with {there[at - 1]} before and "
                    f"{there[at + 1]} behind: is {wanted} meant?"
                )
                yield Finding(WARNING, "row", said, place.line, place.column)
                return


def _is_steady(numbers: Sequence[tuple[int, ...]]) -> bool:
    """Tell whether numbers change from row to row, by as many each time."""
    first = [one[0] for one in numbers]
    steps = {b - a for a, b in pairwise(first)}
    return len(steps) == 1 and steps != {0}


def _out_of_step(there: Sequence[int], *, sure: bool) -> tuple[int, int] | None:
    """Return which number between others is out of step, and what it should be."""
    if not sure:
        return None
    for at in range(1, len(there) - 1):
        rest = [(n, value) for n, value in enumerate(there) if n != at]
        (a, first), (b, last) = rest[0], rest[-1]
        step, over = divmod(last - first, b - a)
        if over or not step:
            continue
        if any(value != first + step * (n - a) for n, value in rest):
            continue
        wanted = first + step * (at - a)
        if 0 < abs(wanted - there[at]) <= NEAR:
            return at, wanted
    return None
