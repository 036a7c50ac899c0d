# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Parts of a text between two marks that are worked again: "rep from ** to **"."""

from __future__ import annotations

import re
from typing import TypeAlias

from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["CALL", "Span", "with_marked_parts"]

Span: TypeAlias = tuple[tuple[int, int], tuple[int, int]]  # line and column, from and to
CALL = r"(?:from MM?(?: to MM?)?|(?:to|until|as far as) MM)"  # how a text calls such a part, once its marks are taken out

_CALLED = WordForm(r"\b(?:from|between) (\*\*?) (?:to|and) \1(?!\*)")
_TWO = re.compile(r"(?<!\*)\*\*(?!\*)")
_ONE = re.compile(
    r"(?m)^[ \t]*\*(?=[ \t]?[A-Z](?:[^*\n]*|[^*\n]*\.[^*\n]*\*[ \t]*)$)|(?<=[.)\w]) ?\*(?=[ \t]*$)"
)
_UP_TO = WordForm(  # "work as for back to **"
    r"\b(?:as|like) (?:(?:given|told|described|worked) )?(?:(?:for|on|in) )?(?:the )?(?P<name>[a-z]+(?: [a-z]+)?),? (?:up )?(?:to|until|as far as) (?P<mark>\*\*\*?)(?!\*)",
)
_AS_PIECE = r"(?:(?:as|like|to match)(?: (?:given|told|described|worked))?(?: (?:for|on|in))? (?:the )?(?P<name{0}>[a-z]+(?: [a-z]+)?))"
_TO_END = r"(?: (?:on)?(?:to (?:the )?end|onwards?))?"
_FROM = (
    WordForm(  # "complete as for right mitten from **", "work from ** to end as for right mitten"
        rf"\b{_AS_PIECE.format(1)},? (?P<call1>from (?P<mark1>\*\*\*?)(?!\*)(?! to \*){_TO_END})|"
        rf"(?P<call2>\bfrom (?P<mark2>\*\*\*?)(?!\*)(?! to \*){_TO_END}),? {_AS_PIECE.format(2)}",
    )
)
_OF_A_PAIR = WordForm(
    r"(?im)^[ \t*#]*(?:the )?(?:left|right|second|2nd|other|front|back)\b[^.\n]{0,20}$", re.NOFLAG
)
_HEADING = WordForm(r"(?m)^[ \t]*\*\*[A-Z][^*\n]*\*\*:?[ \t]*$", re.NOFLAG)


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
    if not calls and (found := _up_to_mark(text) or _from_mark(text)) is not None:
        return found
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


def _up_to_mark(text: str) -> tuple[str, tuple[Span, ...]] | None:
    """Return a text that calls all of a section up to a mark, and that part; None if it calls none."""
    calls = list(_UP_TO.finditer(text))
    first = calls[0] if calls else None
    if first is None or len({call["mark"] for call in calls}) > 1:
        return None
    stars = re.escape(first["mark"])
    marks = list(
        re.finditer(rf"(?<!\*){stars}(?!\*)(?=[ \t]*$)", text[: first.start()], re.MULTILINE)
    )
    headings = _headings(first["name"], text[: marks[0].start() if marks else 0])
    if len(marks) != 1 or not headings or len({call["name"].lower() for call in calls}) > 1:
        return None
    said = list(text)
    for start, end in (marks[0].span(), *(call.span("mark") for call in calls)):
        put = "" if start == marks[0].start() else "MM"
        said[start:end] = put.ljust(end - start)
    return "".join(said), ((_place(text, headings[-1]), _place(text, marks[0].start())),)


def _from_mark(text: str) -> tuple[str, tuple[Span, ...]] | None:
    """Return a text that calls the rest of a piece from a mark on, and that part; None if it calls none."""
    call = _FROM.search(text)
    if call is None or _FROM.search(text, call.end()) is not None:
        return None
    n = "1" if call["call1"] else "2"
    before = text[: call.start()]
    stars = re.escape(call["mark" + n])
    marks = list(re.finditer(rf"(?m)^[ \t]*(?P<mark>{stars})(?!\*)", before))
    own = [one.start() for one in _OF_A_PAIR.finditer(before)]
    if len(marks) != 1 or not own or own[-1] < marks[0].start():
        return None
    if not _headings(call["name" + n], text[: marks[0].start()]):
        return None
    start, end = marks[0].span("mark")
    said = list(text)
    behind = text[end:].partition("\n")[0].strip()
    said[start:end] = ("•" if behind else "").ljust(end - start)
    said[slice(*call.span("call" + n))] = "from MM".ljust(len(call["call" + n]))
    return "".join(said), ((_place(text, end), _place(text, own[-1])),)


def _headings(name: str, text: str) -> list[int]:
    """Return where a piece is headed by its name."""
    form = rf"(?im)^[ \t*#]*(?:the )?{re.escape(name)}\b[^.\n]{{0,20}}$"
    return [one.start() for one in re.finditer(form, text)]


def _place(text: str, at: int) -> tuple[int, int]:
    before = text[:at]
    return before.count("\n") + 1, at - before.rfind("\n")
