# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A text in which nothing is cast on, and sections that are numbered out of order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Spoken, plain_lines
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["nothing_before"]

_CAST_ON = WordForm(
    r"\bcast\w*[ -]*(?:on|up)\b|\bc\.?o\b|\bset (?:up|on)\b|\bpick\w* up\b|\bprovisional|\bchain\b|\bloops?\b|\bfrom (?:the )?holder|\bstitches on\b|\bmake \d+ (?:st|loop)|\bbegin with \d|\bon the needles?\b",
)
_CLOSED = WordForm(r"\b(?:cast|bind|bound) off\b|\bgraft|\bfasten off\b|\bbo\b|\bkitchener\b")
_NEEDS = WordForm(r"\bneedles?\b.*\b\d|\bdpns?\b")
_NUMBERED = WordForm(r"(?P<what>section|part|band|stage|clue|piece) (?P<n>\d{1,2})\b")
_SPOKEN_OF = WordForm(
    r"\b(?:work|repeat|rep|of|as for|as) (?P<what>section|part|band|stage) (?P<n>\d{1,3})\b",
)
LONG = 12  # lines; a shorter text is a piece of one


def nothing_before(text: str, sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find a whole text without a cast-on, and a section that has another's number."""
    lines = [line for line in text.split("\n") if line.strip()]
    whole = len(lines) >= LONG and _CLOSED.search(text) and _NEEDS.search(text)
    if whole and _CAST_ON.search(text) is None:
        first = next((one for one in sentences if one.label and one.label.numbers), None)
        if first is not None:
            place = first.place()
            said = "nothing was cast on before this"
            yield Finding(WARNING, "order", said, place.line, place.column)
    yield from _sections(text)


def _sections(text: str) -> Iterator[Finding]:
    told: dict[str, list[tuple[int, int]]] = {}
    lines = plain_lines(text)
    for number, line in lines.raw_about(_NUMBERED):
        match = _NUMBERED.match(line.strip(" #*_"))
        if match is not None:
            told.setdefault(match["what"].lower(), []).append((int(match["n"]), number))
    for number, line in lines.raw_about(_SPOKEN_OF):
        for match in _SPOKEN_OF.finditer(line):
            found = told.get(match["what"].lower(), [])
            if len(found) > 1 and int(match["n"]) not in {n for n, _ in found}:
                said = f"there is no {match['what'].lower()} {match['n']} here"
                yield Finding(WARNING, "numbers", said, number, match.start() + 1)
    for what, found in told.items():
        numbers = [n for n, _ in found]
        if len(found) < 2 or (numbers == list(range(numbers[0], numbers[0] + len(found))) and numbers[0] == 1):  # fmt: skip
            continue
        for at, (n, number) in enumerate(found, start=1):
            others = [m - i for i, (m, _) in enumerate(found, start=1) if i != at]
            if n != at and not any(others):
                said = f"{what} {n} stands here as number {at}: is it misnumbered?"
                yield Finding(WARNING, "numbers", said, number, 1)
