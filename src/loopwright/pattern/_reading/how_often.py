# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""How often something is done, in figures or words, and on which rows."""

from __future__ import annotations

import re

from loopwright.pattern._reading.stated import count_in, number_of
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, NUMBER
from loopwright.pattern._words import figure
from loopwright.pattern.values import Count

__all__ = ["TIMES", "in_addition", "in_all", "stride_in", "times_in"]

TIMES = WordForm(
    rf"(?P<pre>another |a further |a total of |for a total of |in total )?(?P<n>{COUNT}|\w+) (?P<more1>more |further |additional )?times?(?P<more2> more| further)?(?P<all>,? (?:in all|in total|altogether|total))?|(?P<word>once|twice)(?P<more3> more| again)?(?P<all2> in all| in total)?",
)


def times_in(text: str) -> Count | None:
    """Return how often a text asks for something, in figures or words; None if it doesn't say."""
    found = TIMES.search(text)
    if found is None:
        return None
    if found["n"] and re.match(NUMBER, found["n"]):
        return count_in(found["n"])
    return number_of(found["word"] or found["n"] or "") or None


def stride_in(text: str) -> int:
    """Return on which rows something is done: 2 for "every other round", else 1."""
    found = re.search(
        r"\b(?:every|each) (?:foll\w* )?(other|alt\w*|second|third|fourth|fifth|sixth|eighth|tenth|odd|even|\d+|[rw]s\b|right[- ]side|wrong[- ]side)|\balt(?:ernate)?\b",
        text,
        re.IGNORECASE,
    )
    if not found:
        return 1
    if not found[1]:
        return 2
    word = re.sub(r"(?<=\d)(?:st|nd|rd|th)$", "", found[1].lower())
    if word.isdigit():
        return max(1, figure(word))
    return {"third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "eighth": 8, "tenth": 10}.get(word, 2)


def in_all(times: re.Match[str]) -> bool:
    """Tell whether `TIMES` were told as all of them: "5 times in total"."""
    return bool(times["all"] or times["all2"] or "total" in (times["pre"] or ""))


def in_addition(times: re.Match[str]) -> bool:
    """Tell whether `TIMES` were told as added to what is worked: "another 5 times"."""
    more = times["more1"] or times["more2"] or times["more3"]
    return bool(more or (times["pre"] or "").startswith(("another", "a further")))
