"""Which sizes work a line: "Adult only: …", who "begin here", who did not "go to ** below"."""

from __future__ import annotations

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

_OF_ALL = WordForm(r"\W*(?:for |in )?(?:all|both) sizes\b")

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
    many = len(scribe.now().tallies) if " only" in text else 0
    if context.gone_to and (text.startswith(context.gone_to) or _OF_ALL.match(written)):
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
        return named, only.end()
    if here := begins_here(text, start, front.sizes):
        named = sizes_named(here["names"] or here["names2"], front.sizes)
        context.joined, start = (*context.joined, *named), here.end()
    joined = tuple(name for name in front.sizes if name in context.joined)
    return (joined if len(joined) < len(front.sizes) else ()), start


def own_sizes(front: FrontReader, scribe: Scribe, said: MappedText) -> MappedText:
    """Return a later sentence of a line without the sizes it names, "M only: …": they work it."""
    if only := only_sizes(said.text, 0, front.sizes):
        scribe.only = sizes_named(only["names"], front.sizes)
    elif only := _ALL.match(said.text):
        scribe.only = ()
    return said if only is None else said.piece(only.end(), len(said.text))
