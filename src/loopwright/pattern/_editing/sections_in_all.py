# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rounds that are said to be worked in all where sections are repeated by name, against those that are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from loopwright.pattern import steps as st
from loopwright.pattern._contents import courses_in, steps_in
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Spoken
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.program import Pattern

__all__ = ["sections_in_all"]

_TOLD = WordForm(
    r"\b(?:rep(?:eat)?|work|knit|do)\b[^.;*]*\b(?:sections?|parts?|blocks?|bands?|panels?|stripes?)\b[^.;*]*[(=:,.–—-] ?(?:that (?:is|makes) |making |for )?(?P<n>\d+) (?:rounds|rnds|rows) (?:in all|in total|altogether|all told)"
)
NEAR = 0.25  # of the rounds, by which a total may miss, and be meant for them all the same


def sections_in_all(pattern: Pattern, sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find a total of rounds behind repeated sections that those do not make.

    The rounds are counted from the cast-on, and from each heading, to the end of the line: whichever
    of them the total is meant for, one has to have it.
    """
    for one in sentences:
        if (told := _TOLD.search(one.figures)) is None:
            continue
        steps = [step for step in pattern.steps if step.at is None or step.at.line <= one.line]
        repeats = (step for step in steps_in(steps) if isinstance(step, st.RepeatRounds))
        if not all(isinstance(step.times, int) for step in repeats):
            continue
        begins = [n for n, step in enumerate(steps) if n == 0 or isinstance(step, st.Section)]
        begins += [n for n, step in enumerate(steps) if step.at and step.at.line == one.line][:1]
        made, stated = [courses_in(steps[n:]) for n in begins], int(told["n"])
        if not made or stated in made or abs(made[0] - stated) > NEAR * made[0]:
            continue
        place = one.place_in_figures(told.start("n"))
        said = f"{made[0]} rounds are worked up to here, not {stated}"
        yield Finding(WARNING, "sum", said, place.line, place.column)
