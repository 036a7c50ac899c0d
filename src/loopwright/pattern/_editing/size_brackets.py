"""Brackets of the other sizes: not closed, closed twice, or by one of the other form."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Spoken, by_line
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["size_brackets"]

_PAIRS = {"(": ")", "[": "]"}
_BRACKET = WordForm(r"[()\[\]]", re.NOFLAG)
_SIZED = WordForm(r"(?<![\d.])\d+(?:\.\d+)?\"? ?$", re.NOFLAG)  # what stands before the other sizes
_NUMBERS = re.compile(r" ?(?:\d+(?:\.\d+)?|-)\"?(?: ?, ?(?:\d+(?:\.\d+)?|-)\"?)*")
_NEEDLES = WordForm(r"\b(?:needles?|ndls?|dpns?|n) ?\d(?:(?:,|,? and| &| to) ?\d)* $")
_LISTED = re.compile(r"(?:\d, ?\d+(?:\.\d+)?\"?|\d[)\]]) ?$")  # "12, 16", "8 (12, 16)"
_FEW = 20  # characters, in which what stands right before a bracket is looked for


def size_brackets(sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find numbers by size whose bracket has no partner, or one of the other form."""
    for line in by_line(sentences):
        if any(sign in one.text for one in line for sign in "()[]"):
            yield from _of_line(line)


def _of_line(line: Sequence[Spoken]) -> Iterator[Finding]:
    open_: list[tuple[Spoken, int, bool]] = []  # the sentence, where, and whether sizes follow
    for one in line:
        for match in _BRACKET.finditer(one.text):
            sign, at = match[0], match.start()
            if sign in _PAIRS:
                if open_ and open_[-1][2]:
                    yield _unclosed(*open_.pop()[:2])  # in the numbers of sizes nothing is opened
                open_.append((one, at, _holds_sizes(one.text, at)))
            elif not open_:
                if _LISTED.search(one.text, max(0, at - _FEW), at):
                    yield _finding(one, at, f"there is no bracket that this {sign} closes")
            else:
                there, start, sized = open_.pop()
                opening = there.text[start]
                alone = there is one and _NUMBERS.fullmatch(one.text, start + 1, at)
                if sized and alone and _PAIRS[opening] != sign:
                    yield _finding(one, at, f"this {sign} closes a {opening}", "wording")
    for one, at, sized in open_:
        if sized:
            yield _unclosed(one, at)


def _holds_sizes(text: str, at: int) -> bool:
    """Tell whether a bracket stands between numbers: "8 (12, 16"."""
    before = text[max(0, at - _FEW) : at]
    if _NEEDLES.search(before):
        return False  # "needles 2 and 3 (18 (20, 22) sts)": the sizes are those of a number within
    return bool(_SIZED.search(before) and _NUMBERS.match(text, at + 1))


def _unclosed(one: Spoken, at: int) -> Finding:
    return _finding(one, at, f"this {one.text[at]} is not closed")


def _finding(one: Spoken, at: int, said: str, kind: str = "brackets") -> Finding:
    place = one.place(at)
    return Finding(WARNING, kind, said, place.line, place.column)
