"""Parts of a text between two marks that are worked again: "rep from ** to **"."""

from __future__ import annotations

import re
from typing import TypeAlias

__all__ = ["CALL", "Span", "with_marked_parts"]

Span: TypeAlias = tuple[tuple[int, int], tuple[int, int]]  # line and column, from and to
CALL = r"from MM? to MM?"  # how a text calls such a part, once its marks are taken out

_CALLED = re.compile(r"\b(?:from|between) (\*\*?) (?:to|and) \1(?!\*)", re.IGNORECASE)
_TWO = re.compile(r"(?<!\*)\*\*(?!\*)")
_ONE = re.compile(r"(?m)^[ \t]*\*(?=[ \t]?[A-Z][^*\n]*$)|(?<=[.)\w]) ?\*(?=[ \t]*$)")
_HEADING = re.compile(r"(?m)^[ \t]*\*\*[A-Z][^*\n]*\*\*:?[ \t]*$")


def with_marked_parts(text: str) -> tuple[str, tuple[Span, ...]]:
    r"""Return a text, as long as before, without the marks that it calls, and what lies between.

    Examples
    --------
    >>> said, parts = with_marked_parts("** Rnd 1: Purl. **\nRep from ** to ** twice.")
    >>> said.split("\n")
    ['•  Rnd 1: Purl.   ', 'Rep from MM to MM twice.']
    >>> parts
    (((1, 3), (1, 17)),)
    """
    calls = list(_CALLED.finditer(text))
    kinds = {call[1] for call in calls}
    if len(kinds) != 1:
        return text, ()
    form = _TWO if kinds == {"**"} else _ONE
    headings = [match.span() for match in _HEADING.finditer(text)]
    apart = [*headings, *(call.span() for call in calls)]
    marks = [
        match
        for match in form.finditer(text)
        if not any(start <= match.start() < end for start, end in apart)
    ]
    lines = {_place(text, mark.start())[0] for mark in marks}
    inside = any(_place(text, call.start())[0] in lines for call in calls)
    if not marks or len(marks) % 2 or inside:  # a repeat in a row is another thing
        return text, ()
    said = list(text)
    for at, mark in enumerate(marks):
        begins = at % 2 == 0 and not text[: mark.start()].rpartition("\n")[2].strip()
        behind = text[mark.end() :].partition("\n")[0].strip()
        sign = "•" if begins and behind else ""
        said[mark.start() : mark.end()] = sign.ljust(len(mark[0]))
    for call in calls:
        words = "from M to M" if call[1] == "*" else "from MM to MM"
        said[call.start() : call.end()] = words.ljust(len(call[0]))
    begun = (_place(text, mark.end()) for mark in marks[::2])
    ended = (_place(text, mark.start()) for mark in marks[1::2])
    return "".join(said), tuple(zip(begun, ended, strict=True))


def _place(text: str, at: int) -> tuple[int, int]:
    before = text[:at]
    return before.count("\n") + 1, at - before.rfind("\n")
