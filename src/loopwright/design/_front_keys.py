"""The table ``[document]`` of a design file: what a designer says beside the sock."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from loopwright.design._document import parse
from loopwright.design._table import DesignTable
from loopwright.design.front import FrontMatter, Paper, Wording
from loopwright.units import to_mm

__all__ = ["front_matter", "front_of"]

_KEYS = (
    "author", "credits", "copyright", "skill", "notes", "picture", "paper", "large_print", "rounds",
    "inches_first", "needle", "needle_for", "before", "after", "wording",
)  # fmt: skip


def front_matter(table: DesignTable) -> FrontMatter:
    """Return what a table ``[document]`` says."""
    table.allow(*_KEYS)
    given: dict[str, Any] = {
        key: table.line_of_text(key)
        for key in ("author", "credits", "copyright", "skill")
        if key in table
    }
    given["notes"] = _texts(table, "notes")
    given["needle_for"] = _texts(table, "needle_for")
    given["needle_mm"] = tuple(_needles(table))
    if "picture" in table:
        given["picture"] = Path(table.line_of_text("picture"))
    if "paper" in table:
        given["paper"] = table.choice("paper", Paper, Paper.A4)
    given["rounds"] = table.one_of("rounds", ("rnd", "round"), "rnd")
    given["large_print"] = table.yes("large_print")
    given["inches_first"] = table.yes("inches_first")
    for key in ("before", "after"):
        inner = table.table(key)
        given[key] = {part: inner.text(part).strip() for part in inner.values}
    given["wording"] = tuple(map(_wording, table.tables("wording"))) if "wording" in table else ()
    last = "needle" if "needle" in table else ""
    return table.call(last, FrontMatter, **given)


def front_of(text: str) -> FrontMatter:
    """Return what the keys of a table ``[document]`` say that stand by themselves.

    Raises
    ------
    DesignError
        A key that can't be used; carries its line.

    Examples
    --------
    >>> front_of('author = "Ione Skerry"').author
    'Ione Skerry'
    """
    document = parse(text)
    return front_matter(DesignTable(document, document.values))


def _texts(table: DesignTable, key: str) -> tuple[str, ...]:
    if key not in table:
        return ()
    found = table.values[key]
    several = found if isinstance(found, list) else [found]
    if not all(isinstance(one, str) for one in several):
        raise table.refuse(key, repr(found)[:40], "a text, or a list of texts")
    return tuple(" ".join(one.split()) for one in several)


def _needles(table: DesignTable) -> list[float]:
    found_mm = []
    if "needle" not in table:
        return []
    found = table.values["needle"]
    for one in found if isinstance(found, list) else [found]:
        if not isinstance(one, str):
            raise table.refuse("needle", repr(one), '"2.25 mm", or a list of them')
        found_mm.append(table.call("needle", _millimetres, one))
    return found_mm


def _millimetres(text: str) -> float:
    return to_mm(text, what="needle")


def _wording(table: DesignTable) -> Wording:
    table.allow("instead_of", "says", "part")
    for key in ("instead_of", "says"):
        table.require(key, "the line as it is printed, and your own words")
    part = table.line_of_text("part") if "part" in table else ""
    return Wording(table.line_of_text("instead_of"), table.line_of_text("says"), part)
