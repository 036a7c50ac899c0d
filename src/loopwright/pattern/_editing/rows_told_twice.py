# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A row that shapes, and is told with all the even or the odd ones before it too."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Spoken
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["rows_told_twice"]

_ROWS = r"(?:rounds?|rnds?|rows?)"
_ALL = WordForm(
    rf"^{_ROWS} (?P<n>\d+) and (?:all|every) (?:the |other )?(?:foll\w* |subsequent |remaining )?(?:even|odd|alt\w*)(?:[- ]numbered)? {_ROWS}(?= ?(?:\([rw]s\))?:)"
)
_SOME = WordForm(r"\b(?:except|unless|otherwise|until|till|through|to)\b")
_SHAPES = WordForm(
    r"(?<![a-z0-9])(?:k2tog|p2tog|ssk|ssp|skpo?|psso|yo|m ?1[lrp]?|kfb|pfb|cdd|inc(?!h)\w*|dec\w*|c\d+[fb])(?![a-z])"
)


def rows_told_twice(sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find a row that shapes, where it is one of "all even rounds", which do not."""
    told: tuple[int, int, str] | None = None  # the first of them, the section, how they are called
    for one in sentences:
        match = _ALL.match(one.text)
        if match is not None:
            plain = not _SOME.search(one.text) and not _SHAPES.search(one.text)
            told = (int(match["n"]), one.section, match[0]) if plain else None
        elif told is not None and one.label is not None and one.label.numbers:
            first, section, called = told
            number = one.label.numbers[0]
            if one.section != section or number < first:
                told = None
            elif (
                len(one.label.numbers) == 1
                and (number - first) % 2 == 0
                and _SHAPES.search(one.text)
            ):
                said = f"row {number} is told here, and is one of '{called}' too: which is meant?"
                place = one.place()
                yield Finding(WARNING, "twice", said, place.line, place.column)
