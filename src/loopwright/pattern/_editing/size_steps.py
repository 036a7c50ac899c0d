# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Counts by size before and behind one row: what it tells for all sizes it does to all of them alike."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.figures import values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["size_steps"]

_Values = tuple[int, ...]
_STATED = WordForm(
    rf"(?:^|[.:;,(=\[—–]|\b(?:have|are))\s*(?:now )?(?P<n>{COUNT}) ?{STS}(?: (?:rem\w*|left|now|in all|total))*\s*[.)\]]*\s*$",
)
_SHAPES = WordForm(r"(?<![a-z])(?:k2tog|ssk|skpo?|p2tog|ssp|m1[lrp]?|kfb|yo|cdd|sk2po?)(?![a-z])")
_BY_SIZE = WordForm(r"\d ?[(\[]\d|\d: ?\d|\d/\d", re.NOFLAG)
_OPEN = WordForm(
    r"[*\[]|\([^)]*(?:tog|ssk|m1|yo|k ?\d)|\b(?:rep\w*|every|evenly|times|until|across|pick|cast|bind|bo\b|co ?\d|sizes?|only|hold\w*|turn|panel|chart|patt\w*|lace)\b",
)
_BY_MARKERS = WordForm(
    r"\*[^*]*\b(?:k|knit|work) to \d (?:sts |stitches )?before (?:the |next )*(?:m|marker)\b[^*]*\* (?:a?round|to (?:the )?end)|\*[^*]*\b(?:k|knit|work) to \d (?:sts |stitches )?before (?:the |next )*(?:m|marker)\b[^*]*\brep(?:eat)? from \* (?:a?round|to (?:the )?end)"
)
MOST = 20  # stitches that a round by markers changes
TWO = 2  # sizes, of which none can be called odd
LESS = 8  # stitches, the most that a row changes which names each of its shapings


def size_steps(sentences: Sentences) -> Iterator[Finding]:
    """Find a row whose stated counts differ from those before by more in one size than in others."""
    for at in sentences.lines_about(_STATED):
        one = sentences.lines[at][-1]
        count, row = _stated(sentences.lines[at])
        if len(count) <= TWO or not at:
            continue
        before, _ = _stated(sentences.lines[at - 1])
        wrong = (
            len(count) == len(before)
            and _SHAPES.search(row)
            and (not _OPEN.search(row) or _BY_MARKERS.search(row))
            and not _BY_SIZE.search(row)
        )
        if wrong:
            steps = [b - a for a, b in zip(before, count, strict=True)]
            usual = max(set(steps), key=steps.count)
            most = MOST if _BY_MARKERS.search(row) else LESS
            if steps.count(usual) == len(steps) - 1 and 0 < abs(usual) <= most:
                place = one.place(one.start)
                said = f"from {by_size(before)} to {by_size(count)} sts: one size does not change as the others do"
                yield Finding(WARNING, "sum", said, place.line, place.column)


def _stated(line: Sequence[Spoken]) -> tuple[_Values, str]:
    """Return the counts that a line states at its end, and what stands before them."""
    text = " ".join([line[0].figures[line[0].start :], *(one.figures for one in line[1:])])
    told = _STATED.search(text)
    return ((), text) if told is None else (values(told["n"]), text[: told.start()])
