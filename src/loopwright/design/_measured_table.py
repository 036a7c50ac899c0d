"""``[[measured]]``: pieces that were knitted, and what a tape said of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Protocol

from loopwright import pattern
from loopwright.design._table import DesignTable
from loopwright.gauge import Relaxation
from loopwright.length import Length, Origin
from loopwright.sock import Measured, Sock
from loopwright.sock.foot import TAPE_SD_MM

__all__ = ["measured_in"]

_TAPED = ("heel_girth", "foot_girth", "leg_girth", "foot_length")
_KEYS = ("name", "size", "design", "pattern", "state", "tape", "note", *_TAPED)


class Elsewhere(Protocol):
    """What reads a file that a design names."""

    def text(self, table: DesignTable, key: str) -> str:
        """Return a file's text; refused at its key where there is none."""

    def socks(self, table: DesignTable, key: str) -> dict[str, Sock]:
        """Return a design's socks by size."""


def measured_in(
    top: DesignTable, socks: Mapping[str, Sock], elsewhere: Elsewhere
) -> tuple[Measured, ...]:
    """Return the measured pieces of a design.

    Parameters
    ----------
    top : DesignTable
    socks : mapping of str to Sock
        Of this design, by size.
    elsewhere : Elsewhere

    Raises
    ------
    DesignError
        What can't be used; carries the key and its line.
    """
    return tuple(_pieces(top, socks, elsewhere))


def _pieces(
    top: DesignTable, socks: Mapping[str, Sock], elsewhere: Elsewhere
) -> Iterator[Measured]:
    for table in top.tables("measured"):
        table.allow(*_KEYS)
        sd_mm = table.length_mm("tape") if "tape" in table else TAPE_SD_MM
        given: dict[str, Any] = {
            key: Length(table.length_mm(key), sd_mm, Origin.MEASURED)
            for key in _TAPED
            if key in table
        }
        given["name"] = table.line_of_text("name") if "name" in table else ""
        given["state"] = table.choice("state", Relaxation, Relaxation.WASHED)
        if "pattern" in table:
            if "design" in table or "size" in table:
                raise table.refuse("pattern", "a pattern beside a design", "one of the two")
            text = elsewhere.text(table, "pattern")
            given["pattern"] = table.call("pattern", pattern.read, text)
            given["gauge"] = next(iter(socks.values())).gauge
        else:
            known = elsewhere.socks(table, "design") if "design" in table else socks
            given["sock"] = _of_size(table, known)
        yield table.call("", Measured, **given)


def _of_size(table: DesignTable, socks: Mapping[str, Sock]) -> Sock:
    if "size" not in table and len(socks) == 1:
        return next(iter(socks.values()))
    name = table.line_of_text("size") if "size" in table else ""
    if name not in socks:
        raise table.refuse("size", repr(name) if name else "no size", f"one of {', '.join(socks)}")
    return socks[name]
