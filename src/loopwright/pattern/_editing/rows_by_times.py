# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows that stand for others so many times: "rows 5-12: work rows 3 and 4 four times"."""

from __future__ import annotations

from collections.abc import Iterator

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import NUMBER_WORDS, whole_number

__all__ = ["rows_by_times"]

_OFTEN = {"once": 1, "twice": 2, "thrice": 3}
_TIMES = WordForm(
    rf"(?:(?:work|rep(?:eat)?|knit|do)\b\.? )?(?:rows|rounds|rnds) (?P<a>\d+) ?(?:and|to|through|&|-|–) ?(?P<b>\d+),? (?:(?P<few>once|twice|thrice)|(?P<n>\d+|{'|'.join(NUMBER_WORDS)}) (?:more )?times)(?: more| again| in all| in total| altogether)?(?=[.;(]| \(|$)"
)


def rows_by_times(sentences: Sentences) -> Iterator[Finding]:
    """Find rows that are more or fewer than those that stand for them, so often as is told."""
    for one in sentences.about(_TIMES):
        numbers = one.label.numbers if one.label is not None else ()
        match = _TIMES.match(one.text, one.start) if len(numbers) > 1 else None
        if match is None or len(numbers) != numbers[-1] - numbers[0] + 1:
            continue
        each = int(match["b"]) - int(match["a"]) + 1
        times = _OFTEN[match["few"].lower()] if match["few"] else whole_number(match["n"])
        if each > 0 and each * times != len(numbers):
            said = f"these are {len(numbers)} rows; {each} rows, {times} times, are {each * times}"
            place = one.place(match.start("few") if match["few"] else match.start("n"))
            yield Finding(WARNING, "numbers", said, place.line, place.column)
