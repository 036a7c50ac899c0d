"""Techniques in words, for what the steps of a pattern use, in the order in which they come.

The texts stand in ``assets/techniques.toml``; a technique is described where a step of its kind
stands in the pattern, with the numbers of that step where they matter.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache

import attrs

from loopwright.pattern import (
    BindOff,
    CastOn,
    ClosedCastOn,
    DrawUp,
    Graft,
    Hold,
    Lift,
    Part,
    PickUp,
    ProvisionalCastOn,
    Recapture,
    Round,
    Row,
    Run,
    Step,
    ThreeNeedleBindOff,
    WasteRow,
    Words,
    WrapTurn,
    items_of,
    steps_in,
)
from loopwright.report._assets import asset
from loopwright.report._tables import by_size

__all__ = ["Technique", "techniques"]


@attrs.frozen
class Technique:
    """How something is done with the hands.

    Parameters
    ----------
    key : str
    title : str
    lines : tuple of str
        One movement or remark each.
    caution : str
        What can go wrong for good.
    """

    key: str
    title: str
    lines: tuple[str, ...]
    caution: str = ""


@cache
def _all() -> dict[str, Technique]:
    rows = tomllib.loads(asset("techniques.toml"))
    return {
        key: Technique(key, row["title"], tuple(row["lines"]), row.get("caution", ""))
        for key, row in rows.items()
    }


def techniques(
    steps: Iterable[Step], grafted: Sequence[int] = (), *, words: Words = Words.US
) -> tuple[Technique, ...]:
    """Return what steps need to be known for, each once, in working order.

    Parameters
    ----------
    steps : iterable of Step
    grafted : sequence of int
        Stitches on each needle at the first graft, a number for each size.
    words : Words
        American or British terms.
    """
    found: dict[str, Technique] = {}
    for step in steps_in(steps):
        for key in _needed(step):
            found.setdefault(key, _all()[key])
    if "graft" in found:
        found["graft"] = _numbered(found["graft"], grafted)
    return tuple(
        attrs.evolve(one, title=words.said(one.title), lines=tuple(map(words.said, one.lines)))
        for one in found.values()
    )


_FLAP = re.compile(r"\b(?:flap|heel|gusset)\b")  # whose edge is a chain of slipped stitches
_OF_STEPS: Mapping[type[Step], str] = {
    ProvisionalCastOn: "provisional",
    ClosedCastOn: "closed",
    WasteRow: "waste row",
    Recapture: "recapture",
    Graft: "graft",
    ThreeNeedleBindOff: "three needles",
    DrawUp: "draw up",
}


def _needed(step: Step) -> Iterator[str]:
    if type(step) in _OF_STEPS:
        yield _OF_STEPS[type(step)]
    elif isinstance(step, CastOn) and step.how != "long-tail":
        yield "stretchy"
    elif isinstance(step, BindOff) and step.how != "plain":
        yield "stretchy end"
    elif isinstance(step, Hold) and step.on == "waste yarn":
        yield "hold"
    elif isinstance(step, Round | Row | Part):
        for item in items_of((step,)):
            yield from _of_item(item)


def _of_item(item: object) -> Iterator[str]:
    if isinstance(item, Lift):
        yield "corner stitch" if item.stitch == "m1l" else "corner"
    elif isinstance(item, PickUp):
        yield "pick up" if _FLAP.search(item.along) else "pick up anywhere"
    elif isinstance(item, WrapTurn):
        yield "wraps"
    elif isinstance(item, Run) and item.stitch == "ds":
        yield "double"


def _numbered(one: Technique, grafted: Sequence[int]) -> Technique:
    """Give a graft the numbers of its size, or of all sizes in brackets."""
    if not grafted:
        lines = tuple(line for line in one.lines if "{n}" not in line)
        return attrs.evolve(one, lines=lines)
    told = {"n": by_size(map(str, grafted)), "again": by_size(str(n - 1) for n in grafted)}
    return attrs.evolve(
        one, lines=tuple(line.format(**told) if "{n}" in line else line for line in one.lines)
    )
