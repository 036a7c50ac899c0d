"""A design file with another sock in it: its text, with as few keys changed as will do.

Comments and order stay. What a size may have for itself (ease, stitches, the heel's share, the
length) is written at that size; heel and leg are those of all sizes, as in every design file.
"""

from __future__ import annotations

from collections.abc import Iterator, MutableMapping
from enum import Enum
from pathlib import Path
from typing import Any, Final

import attrs
import tomlkit
from tomlkit.items import AoT

from loopwright.design._reader import read_design
from loopwright.errors import DesignError
from loopwright.sock import Sock, heel_named, leg_named

__all__ = ["with_sock"]

_OWN: Final = {"ease": "ease", "share": "heel_share", "stitches": "stitches",
               "length_ease_mm": "length_ease"}  # fmt: skip
_PARTS: Final = {"heel": heel_named, "leg": leg_named}


def with_sock(
    text: str,
    sock: Sock,
    *,
    size: str = "",
    run_parts_in: Path | None = None,
    folder: Path | None = None,
) -> str:
    """Return a design file's text with another sock for one of its sizes.

    Parameters
    ----------
    text : str
        A design file that `read_design` takes.
    sock : Sock
        What that size is to be. Only ease, stitches, share, length, heel and leg may differ.
    size : str
        Empty where the design has one foot without a name.
    run_parts_in, folder : Path, optional
        As for `read_design`.

    Raises
    ------
    DesignError
        The text is no design, has no such size, or the sock differs in what no key says.

    Examples
    --------
    >>> text = '''
    ... gauge = {stitches = 32, rounds = 44, over = "10 cm"}  # washed
    ... [foot]
    ... length = "25 cm"
    ... ball_girth = "24 cm"
    ... '''
    >>> sock = read_design(text).design.socks[0][1]
    >>> roomy = attrs.evolve(sock, ease=-0.06, heel=heel_named("flap", longer=4))
    >>> print(with_sock(text, roomy))
    <BLANKLINE>
    gauge = {stitches = 32, rounds = 44, over = "10 cm"}  # washed
    [foot]
    length = "25 cm"
    ball_girth = "24 cm"
    <BLANKLINE>
    [fit]
    ease = -0.06
    <BLANKLINE>
    [heel]
    kind = "flap"
    longer = 4
    <BLANKLINE>
    """
    before = dict(read_design(text, run_parts_in=run_parts_in, folder=folder).design.socks)
    if size not in before:
        names = ", ".join(name for name in before if name) or "one size without a name"
        raise DesignError("size", 1, repr(size), f"the design has {names}")
    document = tomlkit.parse(text)
    was = before[size]
    for field, key in _OWN.items():
        if getattr(sock, field) != getattr(was, field):
            _own_table(document, size)[key] = _value(field, getattr(sock, field))
    for what, named in _PARTS.items():
        if getattr(sock, what) != getattr(was, what):
            _put(document, what, _as_table(getattr(sock, what), named))
    new = tomlkit.dumps(document)
    if dict(read_design(new, run_parts_in=run_parts_in, folder=folder).design.socks)[size] != sock:
        raise DesignError("", 1, "a sock that no key of a design file tells", "another change")
    return new


def _own_table(document: MutableMapping[str, Any], size: str) -> MutableMapping[str, Any]:
    """Return the table of a size, or of all where there is one."""
    entries = document.get("sizes")
    if isinstance(entries, AoT | list):
        return next(entry for entry in entries if entry.get("name") == size)
    if "fit" not in document:
        _put(document, "fit", tomlkit.table())
    return document["fit"]  # type: ignore[no-any-return]


def _put(document: MutableMapping[str, Any], key: str, table: Any) -> None:
    if key in document:
        document[key] = table
        return
    if isinstance(document, tomlkit.TOMLDocument):
        document.add(tomlkit.nl())
    document[key] = table


def _as_table(part: Any, named: Any) -> Any:
    """Return a heel or a leg as the table that makes it: its kind, and what isn't usual."""
    table = tomlkit.table()
    table["kind"] = part.name
    for key, value in _unusual(part, named(part.name)):
        table[key] = value
    return table


def _unusual(part: Any, usual: Any) -> Iterator[tuple[str, Any]]:
    for field in attrs.fields(type(part)):
        value = getattr(part, field.name)
        if value != getattr(usual, field.name) and field.init:
            yield (
                field.name.removesuffix("_mm"),
                _value(field.name, value, getattr(usual, field.name)),
            )


def _value(name: str, value: Any, usual: Any = None) -> Any:
    """Return a field's value as a design file has it."""
    if isinstance(value, Enum):
        return value.value
    if attrs.has(type(value)):
        other = usual if type(usual) is type(value) else type(value)()
        inner = tomlkit.inline_table()
        inner.update(dict(_unusual(value, other)))
        return inner
    if isinstance(value, tuple):
        return [_value(name, one) for one in value]
    return f"{value:g} mm" if name.endswith("_mm") else value
