"""Which sizes work a line: "Adult only: …", or those that "begin here" so far."""

from __future__ import annotations

from loopwright.pattern._reading.front_reader import FrontReader
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._rewording.habits import begins_here, only_sizes, sizes_named

__all__ = ["sizes_at_work"]


def sizes_at_work(
    front: FrontReader, scribe: Scribe, text: str, start: int
) -> tuple[tuple[str, ...], int]:
    """Return the sizes that a line is for, none where it is for all, and where its words begin."""
    many = len(scribe.now().tallies) if " only" in text else 0
    if only := only_sizes(text, start, front.sizes or tuple(map(str, range(many)))):
        front.number_sizes(many)
        return sizes_named(only["names"], front.sizes), only.end()
    context = scribe.context
    if here := begins_here(text, start, front.sizes):
        named = sizes_named(here["names"] or here["names2"], front.sizes)
        context.joined, start = (*context.joined, *named), here.end()
    joined = tuple(name for name in front.sizes if name in context.joined)
    return (joined if len(joined) < len(front.sizes) else ()), start
