# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Steps and sections that a text sends its reader to, against those that it has."""

from __future__ import annotations

import re
from collections.abc import Iterator

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Lines, Sentences, plain_lines
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["places_named"]

_STEP = WordForm(r"[^\w\n]*(?:\[ ?\] ?)?(?:step )?(?P<n>\d{1,2})[.):](?=\s|$)")
_TO_STEP = WordForm(
    r"\b(?:as|like|see|from|to|of|under|repeat|in|at|after|with|finish|follow)\b[^.;:\d]{0,16}\bstep (?P<n>\d{1,2})\b"
)
_PART = r"(?P<what>section|part|chart|panel|band)"
_OF_PART = WordForm(
    rf"\b(?:of|work|repeat|as|like|for|from|in|foll\w*)\b(?: [a-z]+)? {_PART} (?P<name>[A-H]|[1-9])\b"
)
_NAMED = WordForm(rf"\b{_PART}s? (?P<name>[A-H]|[1-9])\b")
ENOUGH = 3  # steps or sections, before one can be missing among them


def places_named(text: str, sentences: Sentences) -> Iterator[Finding]:
    """Find a step, or a section by its letter, that a text speaks of and does not have."""
    lines = plain_lines(text)
    numbered = filter(None, (_STEP.match(line.text) for _, line in lines.about(_STEP)))
    steps = {int(match["n"]) for match in numbered}
    if len(steps) >= ENOUGH and {*range(1, max(steps) + 1)} == steps:
        yield from _steps(sentences, max(steps))
    if re.search(r"section|part|chart|panel|band", text, re.IGNORECASE):
        yield from _sections(lines, sentences)


def _steps(sentences: Sentences, last: int) -> Iterator[Finding]:
    for one in sentences.about(_TO_STEP):
        for match in _TO_STEP.finditer(one.text):
            if int(match["n"]) > last:
                place = one.place(match.start("n"))
                said = f"there is no step {match['n']}; the last is {last}"
                yield Finding(WARNING, "named", said, place.line, place.column)


def _sections(lines: Lines, sentences: Sentences) -> Iterator[Finding]:
    """Find a section that is named once only, where others that it could be begin a line of their own."""
    heads: dict[str, set[str]] = {}
    names: dict[tuple[str, str], int] = {}
    for _, line in lines.about(_NAMED):
        head = _NAMED.match(line.text.lstrip("# "))
        if head is not None:
            heads.setdefault(head["what"].lower(), set()).add(head["name"].upper())
        for match in _NAMED.finditer(line.text):
            key = match["what"].lower(), match["name"].upper()
            names[key] = names.get(key, 0) + 1
    for one in sentences.about(_OF_PART):
        for match in _OF_PART.finditer(one.text):
            what, name = match["what"].lower(), match["name"].upper()
            others = heads.get(what, set())
            if name in others or len(others) < ENOUGH or names.get((what, name), 0) > 1:
                continue
            place = one.place(match.start("what"))
            said = f"there is no {what} {name}; there are {', '.join(sorted(others))}"
            yield Finding(WARNING, "named", said, place.line, place.column)
