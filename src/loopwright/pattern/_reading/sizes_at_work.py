# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Which sizes work a line: "Adult only: …", who "begin here", who did not "go to ** below"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from loopwright.pattern._reading.front_reader import FrontReader
from loopwright.pattern._reading.lines import Line
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._rewording.habits import (
    begins_here,
    goes_to,
    is_size_label,
    only_sizes,
    sizes_named,
)
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.steps import Note, OnlySizes

__all__ = ["own_sizes", "sizes_at_work"]

_ALL = WordForm(r"(?:for |in )?(?:all|both) sizes:\s+(?=\S)")

_OF_ALL = WordForm(r"\W*(?:for |in )?(?:all|both|every)(?: the)?(?: [a-z]+| \d)? sizes?\b")

_LABELLED = WordForm(r"(?:^|[.:] )(?:rounds?|rnds?|rows?) (?P<n>\d{1,3})\b")

_ROW = r"(?:rounds?|rnds?|rows?)"
_FIRST_ROW = WordForm(  # "begin with Rnd 5 (3, 1)", "start the crown at Rnd 5"
    rf"\b(?:begin|start)(?:s|ning|ing)?(?: [a-z]+){{0,3}}? (?:with|at|on|from|in) (?:the )?{_ROW} (?P<n>\d{{1,3}}(?: ?[(\[]\d{{1,3}}(?:, ?\d{{1,3}})*[)\]])?)"
)
_FIRST_ROWS_ALONE = WordForm(
    rf"[^.]*\b(?:begin|start|skip|omit|leave)[^.]*\b{_ROW} \d[^.]*(?:\.[^.]*\b(?:begin|start|skip|omit|leave)[^.]*\b{_ROW} \d[^.]*)*\.?$"
)
_SKIP = (
    rf"\b(?:skip|omit|leave)s?(?: out)? {_ROW} (?:1(?: ?(?:-|–|to|and|&) ?(?P<n>\d{{1,2}}))?)(?!\d)"
)
_SKIPS = WordForm(_SKIP)

_TOLD = WordForm(r"(note|caution):\s+(?=\S)")

_UNDER, _BEGUN = "under the label", "rows stand under the label"  # instead of a mark


def sizes_at_work(
    front: FrontReader, scribe: Scribe, text: str, start: int, line: Line
) -> tuple[tuple[str, ...], int]:
    """Return the sizes that a line is for, none where it is for all, and where its words begin.

    The line is looked at as it was written, too: "all sizes" is left out of the words that are
    read. Rows under "Adult only:" alone on its line are that size's up to a blank line.
    """
    context, written = scribe.context, line.text
    if is_size_label(written, front.sizes):
        names = only_sizes(f"{written.strip(' .:')}: ", 0, front.sizes)
        context.joined = sizes_named(names["names"], front.sizes) if names else ()
        context.gone_to = _UNDER if names else ""
        return (), len(text)
    if context.gone_to == _BEGUN and line.after_blank:
        context.joined, context.gone_to = (), ""
    context.gone_to = _BEGUN if context.gone_to == _UNDER else context.gone_to
    if (rows := _first_rows(text, front.sizes)) and not {*rows.values()} & {*context.rows}:
        context.first_rows = rows
        return (), len(text) if _FIRST_ROWS_ALONE.match(text, start) else start
    if context.first_rows and (row := _LABELLED.search(text, start)) is not None:
        first = context.first_rows
        context.joined = tuple(size for size in front.sizes if first.get(size, 0) <= int(row["n"]))
        if len(context.joined) == len(front.sizes):
            context.joined, context.first_rows = (), {}
    many = len(scribe.now().tallies) if " only" in text else 0
    of_all = bool(context.joined or context.gone_to) and _OF_ALL.match(written) is not None
    if of_all or (context.gone_to and text.startswith(context.gone_to)):
        start = len(text) if text == context.gone_to else start
        context.joined, context.gone_to = (), ""
    if for_all := _ALL.match(text, start):
        return (), for_all.end()
    if left := goes_to(text, start, front.sizes):
        gone = sizes_named(left["names"], front.sizes)
        context.joined = tuple(name for name in front.sizes if name not in gone)
        context.gone_to = left["mark"].lower()
        return (), start
    if only := only_sizes(text, start, front.sizes or tuple(map(str, range(many)))):
        front.number_sizes(many)
        named = sizes_named(only["names"], front.sizes)
        if told := _TOLD.match(text, only.end()):
            note = Note(text[told.end() :], told[1].lower() == "caution", at=line.place(0))
            scribe.assembler.add_plain(OnlySizes(named, note, at=line.place(0)))
            return (), len(text)
        if context.joined and set(context.joined) < set(named):
            context.joined = named  # "Sizes M and L: Rnd 3: …" behind what L has begun
        context.ahead = (*context.ahead, *named)
        return named, only.end()
    if here := begins_here(text, start, front.sizes):
        named = sizes_named(here["names"] or here["names2"], front.sizes)
        context.joined, start = (*context.joined, *context.ahead, *named), here.end()
    elif _LABELLED.search(text, start):
        context.ahead = ()
    joined = tuple(name for name in front.sizes if name in context.joined)
    return (joined if len(joined) < len(front.sizes) else ()), start


def own_sizes(front: FrontReader, scribe: Scribe, said: MappedText) -> MappedText:
    """Return a later sentence of a line without the sizes it names, "M only: …": they work it."""
    if only := only_sizes(said.text, 0, front.sizes):
        scribe.only = sizes_named(only["names"], front.sizes)
    elif only := _ALL.match(said.text):
        scribe.only = ()
    return said if only is None else said.piece(only.end(), len(said.text))


def _first_rows(text: str, sizes: Sequence[str]) -> dict[str, int]:
    """Return the row that each size begins with, "Large begins with Rnd 1, Small with Rnd 5"."""
    told = _FIRST_ROW.search(text)
    skips = _SKIPS.search(text) if told is None else None
    if len(sizes) < 2 or (told is None and skips is None) or _LABELLED.search(text):
        return {}
    if told is not None and len(rows := [*map(int, re.findall(r"\d+", told["n"]))]) > 1:
        return dict(zip(sizes, rows, strict=True)) if len(rows) == len(sizes) else {}
    named = "|".join(map(re.escape, sorted(sizes, key=len, reverse=True)))
    if skips is not None:
        each = rf"(?<!\w)(?P<name>{named})(?: sizes?)?,?:? {_SKIP}"
        found = [(m["name"], int(m["n"] or 1) + 1) for m in re.finditer(each, text, re.IGNORECASE)]
    else:
        verb = r"(?:(?:begin|start|join)(?:s|ning)?(?: in)?(?: the [a-z]+)? )?"
        before = rf"(?<!\w)(?P<name>{named})(?: sizes?)?[,:]? {verb}(?:with|at|on|from) (?:the )?{_ROW} (?P<n>\d+)"
        behind = rf"{_ROW} (?P<n>\d+) (?:for|in) (?:the )?(?:sizes? )?(?P<name>{named})(?!\w)"
        found = [
            (m["name"], int(m["n"]))
            for form in (behind, before)
            for m in re.finditer(form, text, re.IGNORECASE)
        ]
    known = {size.lower(): size for size in sizes}
    first = {known[name.lower()]: row for name, row in found}
    return first if len(first) == len(found) else {}
