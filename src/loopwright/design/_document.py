"""A TOML text that remembers on which line each key stands, for messages that point at it.

The text is read by Python's own reader; only the places of keys are found here, after it has
vouched for the syntax.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from typing import Any, Final, TypeAlias

import attrs

from loopwright.characters import find_strange
from loopwright.errors import DesignError

__all__ = ["VERSION", "Document", "Path", "parse"]

VERSION = 1  # of design files; a file without a version is of this one

Path: TypeAlias = tuple[str | int, ...]
"""Keys, and numbers of entries, from the top of the document."""

_QUOTES = "\"'\u201c\u201d\u201e\u2018\u2019\u00ab\u00bb "
_KEY_AND_VALUE = re.compile(
    r"(?P<key>[\w.-]+(?: [\w.-]+)*)\s*[=:]\s*(?P<value>[^#\s[{][^#]*)(?:#.*)?"
)
_DECIMAL_COMMA = re.compile(r"[-+]?\d+,\d+")
_AT = re.compile(r"(?P<problem>.*?) \(at (?:line (?P<line>\d+), column (?P<column>\d+)|.*)\)$")
_PART = r"""(?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*')"""
_KEYS = rf"{_PART}(?:\s*\.\s*{_PART})*"
_LINE = re.compile(rf"\s*(?:(?P<many>\[\[)|(?P<one>\[))?\s*(?P<keys>{_KEYS})\s*(?P<end>\]|=)")
LARGEST: Final = 500_000  # characters
_MOST_ENTRIES: Final = 1000  # of a list; no sock has as many sizes, yarns or rounds of a pattern
_MOST_BITS: Final = 14_000  # of a whole number: more digits than Python itself will print
_DOTS = 50  # in a key; no design has more than two
_MANY_PARTS = re.compile(rf"\s*\[?\[?\s*{_PART}(?:\s*\.\s*{_PART}){{{_DOTS}}}")
_LONG = re.compile(r'"""|\'\'\'')


@attrs.frozen
class Document:
    """What a TOML text says, and where.

    Parameters
    ----------
    values : mapping
    lines : mapping of tuple to int
        Line of each key, from 1, by its path.
    """

    values: Mapping[str, Any]
    lines: Mapping[Path, int]

    def line(self, path: Path) -> int:
        """Return the line of a key, or of the nearest key around it; 1 at the top."""
        while path and path not in self.lines:
            path = path[:-1]
        return self.lines.get(path, 1)


def parse(text: str) -> Document:
    r"""Return what a TOML text says.

    Raises
    ------
    DesignError
        It is no TOML; carries the line.

    Examples
    --------
    >>> document = parse('title = "Pier"\n[[sizes]]\nname = "S"\n[[sizes]]\nname = "M"')
    >>> document.line(("sizes", 1, "name"))
    5
    """
    _refuse_before_reading(text)
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _syntax(text, str(error)) from None
    except RecursionError:
        raise DesignError("", 1, "brackets inside brackets without end", "a design") from None
    except ValueError as error:  # a number of thousands of digits
        raise _syntax(text, str(error)) from None
    document = Document(values, _lines(text))
    _refuse_odd(document, values, ())
    return document


def _refuse_before_reading(text: str) -> None:
    """Refuse what would take the reader too long or too much memory."""
    if len(text) > LARGEST:
        found = f"{len(text) // 1000} thousand characters"
        raise DesignError("", 1, found, "a design: a few thousand characters")
    for number, line in enumerate(text.splitlines(), start=1):
        if line.count(".") > _DOTS and (keys := _MANY_PARTS.match(line)):
            found = f"{keys[0].strip()[:40]}...: a key of more than {_DOTS} parts"
            raise DesignError("", number, found, "a key of this design")


def _refuse_odd(document: Document, value: Any, path: Path) -> None:
    """Refuse what no design has: controls, what is no character, endless lists and numbers."""
    if isinstance(value, list) and len(value) > _MOST_ENTRIES:
        raise _odd(document, path, f"{len(value)} entries", f"at most {_MOST_ENTRIES}")
    entries = value.items() if isinstance(value, dict) else enumerate(value)
    for key, entry in entries:
        place = (*path, key)
        for text in (key, entry):
            if isinstance(text, str) and (found := find_strange(text)):
                shown = ".".join(str(part) for part in path) or ""
                raise DesignError(
                    shown, document.line(place), f"the character {found}", "letters, digits, signs"
                )
        if isinstance(entry, dict | list):
            _refuse_odd(document, entry, place)
        elif isinstance(entry, int) and entry.bit_length() > _MOST_BITS:
            raise _odd(document, place, "a number of thousands of digits", "a number")


def _odd(document: Document, path: Path, found: str, expected: str) -> DesignError:
    shown = ".".join(str(part) for part in path)
    return DesignError(shown, document.line(path), found, expected)


def _syntax(text: str, message: str) -> DesignError:
    found = _AT.fullmatch(message)
    lines = text.splitlines() or [""]
    number = int(found["line"]) if found and found["line"] else len(lines)
    problem = found["problem"] if found else message
    shown = lines[min(number, len(lines)) - 1].strip()
    problem = problem[:1].lower() + problem[1:]
    expected = "TOML: key = value"
    if problem.startswith("cannot "):  # declare or overwrite
        expected = "each key and each table once"
    elif meant := _meant(shown):
        return DesignError("", number, repr(shown[:60]), meant)
    elif problem == "invalid value":
        expected = "a text in quotes, a number, true or false"
    return DesignError("", number, f"{shown[:60]!r}: {problem}", expected)


def _meant(line: str) -> str:
    """Return a line with its key in one word and its value in quotes, if that is TOML."""
    if not (found := _KEY_AND_VALUE.fullmatch(line)):
        return ""
    key, value = found["key"].replace(" ", "_"), found["value"].strip(_QUOTES)
    if _DECIMAL_COMMA.fullmatch(value):
        return f"{key} = {value.replace(',', '.')}, with a point"
    meant = f'{key} = "{value}"'
    try:
        tomllib.loads(meant)
    except tomllib.TOMLDecodeError:
        return ""
    return f"{meant}, with the text in quotes" if value else ""


def _lines(text: str) -> dict[Path, int]:
    found: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    base: Path = ()
    long = ""
    for number, line in enumerate(text.splitlines(), start=1):
        if not long and (match := _LINE.match(line)):
            keys = tuple(part.strip("\"'") for part in re.findall(_PART, match["keys"]))
            if match["end"] == "]":
                base = _inside(keys[:-1], counts) + keys[-1:]
                if match["many"]:
                    found.setdefault(base, number)
                    counts[base] = counts.get(base, -1) + 1
                    base = (*base, counts[base])
                elif base in counts:
                    base = (*base, counts[base])
                found.setdefault(base, number)
            else:
                for depth in range(1, len(keys) + 1):
                    found.setdefault(base + keys[:depth], number)
        long = _open_string(line, long)
    return found


def _inside(keys: tuple[str, ...], counts: Mapping[Path, int]) -> Path:
    """Return the path of a table's parents; of several, the one begun last."""
    path: Path = ()
    for key in keys:
        path = (*path, key)
        if path in counts:
            path = (*path, counts[path])
    return path


def _open_string(line: str, long: str) -> str:
    """Return the quotes of a string that goes on in the next line, or nothing."""
    for quotes in _LONG.findall(line):
        if not long:
            long = quotes
        elif quotes == long:
            long = ""
    return long
