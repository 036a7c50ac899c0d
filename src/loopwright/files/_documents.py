"""The document round a result: what it is, its version, the package that wrote it."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from importlib.metadata import version
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final, TypeAlias

from loopwright.design import design_schema
from loopwright.errors import RecordError
from loopwright.fabric import Fabric
from loopwright.file_reading import parse_json, read_at_most
from loopwright.file_writing import write_whole
from loopwright.files._forms import Schema, form_of
from loopwright.fitting import Comparison, Fit
from loopwright.geometry import Shape
from loopwright.pattern import Pattern, Review
from loopwright.sock import Design, Plan, Sock

__all__ = ["KINDS", "VERSION", "from_json", "load", "save", "schema", "to_json"]

Result: TypeAlias = Plan | Fit | Shape

VERSION: Final = 1
"""Of the files that this package writes, and the only one that it reads."""

KINDS: Final[Mapping[str, type[Result]]] = MappingProxyType(
    {"plan": Plan, "fit": Fit, "shape": Shape}
)
"""What has files of this kind, by the word for it."""

_OTHERS: Final = {  # what is written elsewhere, and where
    Fabric: "loopwright.fabric.files",
    Pattern: "loopwright.write",
    Sock: "loopwright.design.write_design, of a Design",
    Design: "loopwright.design.write_design",
    Comparison: "loopwright.report.comparison_files",
    Review: "its own method to_json",
}
_LARGEST: Final = 64 * 2**20  # bytes: a shape of half a million loops
_HEAD: Final = ("format", "version", "package", "seed")
_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"


def to_json(result: Result) -> str:
    """Return a plan, a fit or a shape as a JSON document; see `from_json`.

    Raises
    ------
    RecordError
        It is something else that has files of its own; names what writes them.
    """
    if type(result) in _OTHERS:
        kind = type(result).__name__
        advice = f"it is written by {_OTHERS[type(result)]}"
        raise RecordError(kind, "it is no plan, fit or shape", advice)
    kind = next(word for word, cls in KINDS.items() if isinstance(result, cls))
    head = {
        "format": f"loopwright {kind}",
        "version": VERSION,
        "package": version("loopwright"),
        "seed": None,  # nothing in it is drawn by chance
    }
    document = head | {kind: form_of(KINDS[kind]).out(result)}
    return json.dumps(document, ensure_ascii=False, allow_nan=False, separators=(",", ":")) + "\n"


def from_json(text: str) -> Result:
    """Return the plan, fit or shape that a JSON document holds.

    Raises
    ------
    RecordError
        The text is no such document, of another version, cut short, or contradicts itself; names
        the place and what was expected there.

    Examples
    --------
    >>> from loopwright import Foot, Gauge, Sock
    >>> plan = Sock(foot=Foot.of(length="24.6 cm"), gauge=Gauge.of(32, 44)).plan()
    >>> from_json(to_json(plan)) == plan
    True
    >>> from_json(to_json(plan).replace('"version":1', '"version":7'))
    Traceback (most recent call last):
      ...
    loopwright.errors.RecordError: version: found 7, and this package reads version 1; use the
    package that wrote it, or a later one
    """
    document = _document(text)
    word = document.get("format")
    kind = word.removeprefix("loopwright ") if isinstance(word, str) else ""
    if kind not in KINDS or word != f"loopwright {kind}":
        if word == "loopwright fabric":
            advice = "load it with loopwright.fabric.files.load"
            raise RecordError("format", "it is a fabric, which has files of its own", advice)
        known = ", ".join(f"'loopwright {one}'" for one in KINDS)
        raise RecordError("format", f"found {word!r:.40}; expected one of {known}", _ADVICE)
    found = document.get("version")
    if found != VERSION or type(found) is not int:
        raise RecordError(
            "version", f"found {found!r:.20}, and this package reads version {VERSION}",
            "use the package that wrote it, or a later one",
        )  # fmt: skip
    keys = {*_HEAD, kind}
    for wrong, problem in ((keys - set(document), "missing"), (set(document) - keys, "unknown")):
        if wrong:
            raise RecordError("the document", f"the entry {min(wrong)!r:.40} is {problem}", _ADVICE)
    for key, expected in (("package", str), ("seed", type(None))):
        if not isinstance(document[key], expected):
            raise RecordError(key, f"found {document[key]!r:.40}", _ADVICE)
    result: Result = form_of(KINDS[kind]).back(document[kind], kind)
    return result


_ADVICE: Final = "write the file again"


def _document(text: str) -> dict[str, Any]:
    if len(text) > _LARGEST:
        raise RecordError("the document", "it is larger than any that is read", _ADVICE)
    try:
        document = parse_json(text)
    except ValueError as error:
        place, problem = "the document", str(error)[:80]
        if isinstance(error, json.JSONDecodeError):
            place = f"line {error.lineno}, column {error.colno}"
            problem = f"the text is no JSON from here on ({problem})"
        raise RecordError(place, problem, "it may be cut short: write the file again") from error
    if not isinstance(document, dict):
        raise RecordError("the document", "expected named entries", "is it such a file?")
    return document


def save(result: Result, path: str | os.PathLike[str]) -> None:
    """Save a plan, a fit or a shape as ``.json``, whole or not at all.

    A fabric has :func:`loopwright.fabric.files.save`; a comparison is written by
    :func:`loopwright.report.comparison_files`, as a page, CSV and JSON.

    Raises
    ------
    RecordError
        The name ends otherwise, or the file cannot be written; what stood there is unharmed.

    Examples
    --------
    >>> from pathlib import Path
    >>> from tempfile import TemporaryDirectory
    >>> from loopwright import Foot, Gauge, Sock
    >>> plan = Sock(foot=Foot.of(length="24.6 cm"), gauge=Gauge.of(32, 44)).plan()
    >>> with TemporaryDirectory() as folder:
    ...     save(plan, Path(folder) / "plan.json")
    ...     load(Path(folder) / "plan.json") == plan
    True
    """
    place = Path(path)
    if place.suffix != ".json":
        raise RecordError(str(place), "a file of a result is JSON", "let its name end in .json")
    try:
        write_whole(place, to_json(result).encode())
    except OSError as error:
        raise RecordError(str(place), _reason(error), "choose another place") from error


def load(path: str | os.PathLike[str]) -> Result:
    """Return the plan, fit or shape of a file; raises as `from_json` does."""
    try:
        text = read_at_most(Path(path), _LARGEST).decode()
    except (OSError, ValueError) as error:
        raise RecordError(str(path), _reason(error), "check the name and its folder") from error
    return from_json(text)


def _reason(error: Exception) -> str:
    told = getattr(error, "strerror", None)
    return str(told).lower() if told else "it is no UTF-8 text"


def schema(kind: str) -> Schema:
    """Return the JSON Schema of a kind of file.

    Parameters
    ----------
    kind : str
        One of `KINDS`, or ``"design"`` for a design file read as TOML.

    Raises
    ------
    RecordError
        There is no such kind.

    Examples
    --------
    >>> found = schema("plan")
    >>> found["title"], found["properties"]["version"], len(found["$defs"]) > 10
    ('loopwright plan', {'const': 1}, True)
    """
    if kind == "design":
        return design_schema()
    if kind not in KINDS:
        known = ", ".join((*KINDS, "design"))
        raise RecordError("schema", f"found {kind!r:.40}; expected one of {known}", "choose one")
    shared: dict[str, Schema] = {}
    inside = form_of(KINDS[kind]).schema(shared)
    return {
        "$schema": _DIALECT,
        "title": f"loopwright {kind}",
        "type": "object",
        "properties": {
            "format": {"const": f"loopwright {kind}"},
            "version": {"const": VERSION},
            "package": {"type": "string"},
            "seed": {"type": "null"},
            kind: inside,
        },
        "required": [*_HEAD, kind],
        "additionalProperties": False,
        "$defs": {name: shared[name] for name in sorted(shared)},
    }
