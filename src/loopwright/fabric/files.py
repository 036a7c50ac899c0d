"""Save and load a fabric: JSON to exchange, a compact file for size, GraphML for graph tools.

The JSON document and the compact file hold the same (see the reference page *Fabric files*). What
is read is checked entry by entry: a truncated or edited file is refused with the place and the
reason. Whether the fabric is *sound* is another question, for :func:`loopwright.fabric.check`: a
fabric with mistakes can be saved, sent and looked at.
"""

from __future__ import annotations

import io
import json
import os
import zipfile
import zlib
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.border import guard
from loopwright.characters import find_strange
from loopwright.errors import FabricFileError, StitchDefinitionError
from loopwright.fabric._graph_files import (
    brief,
    from_graphml,
    from_node_link,
    to_graphml,
    to_node_link,
)
from loopwright.fabric.columns import (
    BACK,
    CHAIN,
    CROSSED,
    DRAWN,
    EDGE,
    FACING,
    FASTENED,
    FLOAT,
    FLOAT_FRONT,
    GONE,
    LEFT_FLANK,
    OUTSIDE,
    RANK,
    TURNED,
    Ints,
)
from loopwright.fabric.fabric import Fabric, Strand
from loopwright.fabric.stitches import STITCHES, Kind, Stitch, StitchTable
from loopwright.file_reading import parse_json, read_at_most
from loopwright.file_writing import write_whole

__all__ = [
    "VERSION",
    "from_bytes",
    "from_graphml",
    "from_json",
    "from_node_link",
    "load",
    "save",
    "to_bytes",
    "to_graphml",
    "to_json",
    "to_node_link",
]

VERSION: Final = 2
_FORMAT: Final = "loopwright fabric"
_LARGEST_TEXT: Final = 16 * 2**20  # bytes of JSON: some 250,000 loops
_LARGEST_PACKED: Final = 32 * 2**20  # bytes of a compact file
_LARGEST_LISTING: Final = 2**16  # bytes of a compact file's list of entries
_MOST_ROWS: Final = 2_000_000  # of a table in a compact file
_LISTED: Final = "fabric.json"  # in the compact file: all but the columns
_FILE_DATE: Final = (1980, 1, 1, 0, 0, 0)  # the same fabric gives the same file

_LOOP_BITS: Final = {
    "left flank": LEFT_FLANK,
    "turned after": TURNED,
    "float to next": FLOAT,
    "float on the right side": FLOAT_FRONT,
    "taken out": GONE,
    "fastened": FASTENED,
    "drawn up": DRAWN,
    "turned after, next before it": OUTSIDE,
}
_THROUGH_BITS: Final = {
    "rank": RANK,
    "to the back": BACK,
    "picked up at the edge": EDGE,
    "chain": CHAIN,
    "facing": FACING,
    "crossed": CROSSED,
}
_BITS: Final = {"flags": _LOOP_BITS, "info": _THROUGH_BITS}
_BITS_OF: Final = {  # by version: version 1 knew no crossings
    1: {
        "flags": _LOOP_BITS,
        "info": {name: bit for name, bit in _THROUGH_BITS.items() if bit != CROSSED},
    },
    VERSION: _BITS,
}
# Table, columns with their types; every column of a table is as long as the others.
_TABLES: Final[Mapping[str, Mapping[str, str]]] = {
    "loops": {"next": "<i4", "strand": "<i2", "course": "<i4", "stitch": "<i2", "flags": "|u1"},
    "through": {"parent": "<i4", "child": "<i4", "info": "|u1"},
    "beside": {"right": "<i4", "left": "<i4"},
}
_OF_RESULTS: Final = ("loopwright plan", "loopwright fit", "loopwright shape")
_KEYS: Final = (
    "format", "version", "bits", "stitches", "strands", "loops", "through", "beside", "needles",
    "held", "wraps", "ledger", "removed",
)  # fmt: skip


def to_json(fabric: Fabric) -> str:
    """Return a fabric as a JSON document; see `from_json`."""
    document = _listed(fabric)
    for table, columns in _TABLES.items():
        document[table] = {name: getattr(fabric, name).tolist() for name in columns}
    ordered = {key: document[key] for key in _KEYS}
    return json.dumps(ordered, ensure_ascii=False, separators=(",", ":")) + "\n"


def from_json(text: str) -> Fabric:
    """Return the fabric that a JSON document holds.

    Raises
    ------
    FabricFileError
        The text is no such document, of another version, cut short, or contradicts itself; names
        the place and what was expected there.

    Examples
    --------
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 4)
    >>> fabric = work.fabric()
    >>> from_json(to_json(fabric)) == fabric
    True
    >>> from_json(to_json(fabric)[:40])
    Traceback (most recent call last):
      ...
    loopwright.errors.FabricFileError: line 1, column ...: the text is no JSON...
    """
    if len(text) > _LARGEST_TEXT:
        raise _too_large("the document")
    try:
        document = parse_json(text)
    except ValueError as error:
        place, problem = "the document", brief(error)
        if isinstance(error, json.JSONDecodeError):
            place = f"line {error.lineno}, column {error.colno}"
            problem = f"the text is no JSON from here on ({problem})"
        raise FabricFileError(
            place, problem, "it may be cut short: save the fabric again"
        ) from error
    if isinstance(document, dict) and document.get("format") in _OF_RESULTS:
        raise FabricFileError(
            "format", f"it is a {document['format'].removeprefix('loopwright ')} and no fabric",
            "load it with loopwright.files.load",
        )  # fmt: skip
    return _fabric(_required(document, _KEYS, "the document"), {})


def to_bytes(fabric: Fabric) -> bytes:
    """Return a fabric as a compact file: a ZIP of one JSON list and a file a column."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:

        def write(name: str, data: bytes) -> None:
            entry = zipfile.ZipInfo(name, _FILE_DATE)
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, data)

        listed = _listed(fabric)
        ordered = {key: listed[key] for key in _KEYS if key in listed}
        write(_LISTED, json.dumps(ordered, ensure_ascii=False).encode())
        for table, columns in _TABLES.items():
            for name, dtype in columns.items():
                column = _steps(name, np.asarray(getattr(fabric, name)))
                write(f"{table}/{name}", column.astype(dtype).tobytes())
    return buffer.getvalue()


def _steps(name: str, column: NDArray[np.generic]) -> NDArray[np.generic]:
    """Return ids as steps from one row to the next, which deflate to almost nothing."""
    if name in ("next", "parent", "child", "course", "right", "left"):
        return np.asarray(np.diff(column.astype(np.int32), prepend=np.int32(0)))
    return column


def from_bytes(data: bytes) -> Fabric:
    """Return the fabric that a compact file holds; raises as `from_json` does."""
    try:
        if len(data) > _LARGEST_PACKED or _listing_bytes(data) > _LARGEST_LISTING:
            raise _too_large("the file")
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            for entry in archive.infolist():
                if entry.file_size > _most_bytes(entry.filename):
                    raise _too_large(entry.filename)
            parts = {entry.filename: archive.read(entry) for entry in archive.infolist()}
        document = parse_json(parts.pop(_LISTED, b"null"))
    except FabricFileError:
        raise
    except (
        zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError, NotImplementedError,
        RuntimeError, KeyError, RecursionError, OverflowError,
    ) as error:  # fmt: skip
        raise FabricFileError(
            "the file", f"it is no compact fabric, or damaged ({brief(error)})",
            "it may be cut short: save the fabric again",
        ) from error  # fmt: skip
    keys = [key for key in _KEYS if key not in _TABLES]
    columns: dict[str, Any] = {}
    for table, names in _TABLES.items():
        for name, dtype in names.items():
            raw = parts.pop(f"{table}/{name}", None)
            if raw is None or len(raw) % np.dtype(dtype).itemsize:
                found = "is missing" if raw is None else f"ends amid an entry ({len(raw)} bytes)"
                raise FabricFileError(f"{table}/{name}", found, "save the fabric again")
            values = np.frombuffer(raw, dtype=dtype)
            columns[name] = (
                np.cumsum(values, dtype=np.int64) if _is_stepped(name) else values.astype(np.int64)
            )
    if parts:
        raise FabricFileError(sorted(parts)[0], "is not part of a fabric", "take it out")
    return _fabric(_required(document, keys, _LISTED), columns)


def _too_large(place: str) -> FabricFileError:
    return FabricFileError(
        place, "it is larger than any fabric that is read",
        f"save it as a compact file, or in parts of at most {_MOST_ROWS:,} loops",
    )  # fmt: skip


def _listing_bytes(data: bytes) -> int:
    """Return how long a ZIP says its list of entries is."""
    end = data.rfind(b"PK\x05\x06")
    return int.from_bytes(data[end + 12 : end + 16], "little") if end >= 0 else 0


def _most_bytes(entry: str) -> int:
    """Return how many bytes an entry of a compact file may unpack to."""
    table, _, name = entry.partition("/")
    dtype = _TABLES.get(table, {}).get(name)
    return _LARGEST_TEXT if dtype is None else _MOST_ROWS * np.dtype(dtype).itemsize


def _is_stepped(name: str) -> bool:
    return name in ("next", "parent", "child", "course", "right", "left")


def save(fabric: Fabric, path: str | os.PathLike[str]) -> None:
    """Save a fabric, whole or not at all: JSON as ``.json``, compact as ``.loops``.

    Raises
    ------
    FabricFileError
        The name ends in neither, or the file cannot be written; what stood there before is
        unharmed.
    """
    place = Path(path)
    if place.suffix not in (".json", ".loops"):
        raise FabricFileError(
            str(place), f"what {place.suffix or 'a name without an ending'!r} holds is not known",
            "let the name end in .json or .loops",
        )  # fmt: skip
    data = to_json(fabric).encode() if place.suffix == ".json" else to_bytes(fabric)
    if len(data) > (_LARGEST_TEXT if place.suffix == ".json" else _LARGEST_PACKED):
        raise _too_large(str(place))
    try:
        write_whole(place, data)
    except OSError as error:
        raise FabricFileError(
            str(place), f"it cannot be written ({brief(error)})", "name a folder you may write to"
        ) from error


def load(path: str | os.PathLike[str]) -> Fabric:
    """Return the fabric in a file that `save` wrote; raises as `from_json` does."""
    place = Path(path)
    try:
        data = read_at_most(place, _LARGEST_PACKED)
    except OSError as error:
        raise FabricFileError(
            str(place), f"it cannot be read ({brief(error)})", "check the name and its folder"
        ) from error
    if data[:2] == b"PK":
        return from_bytes(data)
    if len(data) > _LARGEST_TEXT:
        raise _too_large(str(place))
    try:
        return from_json(data.decode())
    except UnicodeDecodeError as error:
        raise FabricFileError(
            str(place), f"it is neither a compact fabric nor text (byte {error.start})",
            "is it a fabric file?",
        ) from error  # fmt: skip


def _listed(fabric: Fabric) -> dict[str, Any]:
    """Return all but the columns, as plain values."""
    groups = {
        "needles": fabric.needles,
        "held": fabric.held,
        "wraps": fabric.wraps,
    }
    return {
        "format": _FORMAT,
        "version": VERSION,
        "bits": _BITS,
        "stitches": _table_out(fabric.stitches),
        "strands": [attrs.asdict(strand) for strand in fabric.strands],
        **{
            key: {name: ids.tolist() for name, ids in group.items()}
            for key, group in groups.items()
        },
        "ledger": fabric.ledger.tolist(),
        "removed": fabric.removed.tolist(),
    }


@lru_cache(maxsize=16)
def _table_out(table: StitchTable) -> list[dict[str, Any] | str]:
    """Return the rows; a crossing of the package's own by its key, which says it all."""
    return [row.key if _is_ours(row) else _stitch_out(row) for row in table]


def _is_ours(row: Stitch) -> bool:
    return row.is_crossing and row.key in STITCHES and STITCHES[row.key] == row


def _stitch_out(row: Stitch) -> dict[str, Any]:
    # How a chart draws it is no part of the fabric; what is usual isn't said.
    told = attrs.asdict(
        row, filter=lambda field, value: field.name != "symbol" and value != field.default
    )
    return {name: _plain(value) for name, value in told.items()}


def _plain(value: Any) -> Any:
    return list(value) if isinstance(value, tuple) else getattr(value, "value", value)


# Reading: from here on everything is checked, and the first thing wrong is named.


def _refuse(wrong: object, place: str, problem: str, advice: str = "restore it") -> None:
    if wrong:
        raise FabricFileError(place, problem, advice)


def _refuse_strange(text: str, place: str) -> None:
    found = find_strange(text)
    _refuse(found, place, f"the character {found} is none of a name", "take it out")


def _required(value: Any, keys: Any, place: str) -> dict[str, Any]:
    """Return a JSON object that has these keys and no others."""
    _refuse(not isinstance(value, dict), place, f"expected named entries, found {_kind(value)}")
    missing = [key for key in keys if key not in value]
    unknown = [key for key in value if key not in keys]
    _refuse(missing, place, f"{missing[:1]} is missing", "save the fabric again")
    _refuse(unknown, place, f"{unknown[:1]} is not known", "take it out")
    return dict(value)


def _kind(value: Any) -> str:
    names = {dict: "named entries", list: "a list", str: "a text", bool: "true or false"}
    return next((word for kind, word in names.items() if isinstance(value, kind)), repr(value)[:40])


def _list(value: Any, place: str) -> list[Any]:
    _refuse(not isinstance(value, list), place, f"expected a list, found {_kind(value)}")
    return list(value)


def _whole(values: Any, place: str, low: int, high: int) -> NDArray[np.int64]:
    """Return a list of whole numbers from `low` to `high`, shape (n,)."""
    if not isinstance(values, np.ndarray):
        for number, entry in enumerate(_list(values, place)):
            if type(entry) is not int:
                _refuse(True, f"{place}[{number}]", f"expected a number, found {_kind(entry)}")
        values = np.array(values, dtype=object)  # however large they are
    outside = np.flatnonzero((values < low) | (values > high))
    if len(outside):
        at = int(outside[0])
        _refuse(True, f"{place}[{at}]", f"expected {low} to {high}, found {int(values[at])}")
    return np.asarray(values, dtype=np.int64)


def _fabric(document: dict[str, Any], columns: dict[str, Any]) -> Fabric:
    _refuse(
        document["format"] != _FORMAT, "format", f"expected {_FORMAT!r}", "is it a fabric file?"
    )
    _refuse(
        type(document["version"]) is not int or document["version"] not in _BITS_OF,
        "version",
        f"this package reads versions up to {VERSION}, found {repr(document['version'])[:20]}",
        "use the package that wrote it, or a later one",
    )
    _refuse(
        document["bits"] != _BITS_OF[document["version"]], "bits",
        "the bits of flags and info mean something else than in this version",
    )  # fmt: skip
    usual = document["stitches"] == _table_out(STITCHES)
    table = STITCHES if usual else StitchTable(_stitches(document["stitches"]))
    strands = _strands(document["strands"])
    for name, keys in _TABLES.items():
        if name in document:
            columns.update(_required(document[name], keys, name))
        elif not all(key in columns for key in keys):
            _refuse(True, name, "is missing", "save the fabric again")
    columns = _checked_columns(columns, len(table), len(strands))
    gone = (columns["flags"] & GONE) != 0
    groups = {
        key: _groups(document[key], key, columns["next"], gone) for key in ("needles", "held")
    }
    _once_each(groups)
    return Fabric(
        **columns,
        strands=strands,
        **groups,
        wraps=_wraps(document["wraps"], len(gone)),
        ledger=_rows(document["ledger"], "ledger", 6),
        removed=_rows(document["removed"], "removed", 2, high=len(gone) - 1),
        stitches=STITCHES if table == STITCHES else table,
    )


def _stitches(value: Any) -> list[Stitch]:
    usual = {
        field.name: _plain(field.default)
        for field in attrs.fields(Stitch)
        if field.name not in ("symbol", "key", "name")
    }
    kinds = {kind.value: kind for kind in Kind}
    rows: list[Stitch] = []
    for number, entry in enumerate(_list(value, "stitches")):
        place = f"stitches[{number}]"
        if isinstance(entry, str):
            ours = entry in STITCHES and STITCHES[entry].is_crossing
            _refuse(not ours, place, f"no crossing of this package is called {entry!r}")
            _refuse(STITCHES[entry] in rows, place, f"{entry!r} comes twice")
            rows.append(STITCHES[entry])
            continue
        entry = {**usual, **entry} if isinstance(entry, dict) else entry
        given = _required(entry, ("key", "name", *usual), place)
        for name in ("takes", "makes", "lifts"):
            _whole([given[name]], f"{place}.{name}", 0, 24)
        for name in ("key", "name", "faces", "twist"):
            _refuse(not isinstance(given[name], str), f"{place}.{name}", "expected a text")
        for name in ("yarn_in_front", "knitwise"):
            _refuse(not isinstance(given[name], bool), f"{place}.{name}", "expected true or false")
        for name in ("key", "name"):
            _refuse_strange(given[name], f"{place}.{name}")
        for name in ("stack", "order"):
            given[name] = tuple(_whole(given[name], f"{place}.{name}", 0, 24).tolist())
        _refuse(
            not isinstance(given["kind"], str) or given["kind"] not in kinds, f"{place}.kind",
            f"expected one of {', '.join(kinds)}",
        )  # fmt: skip
        given["kind"] = kinds[given["kind"]]
        _refuse(given["key"] in {row.key for row in rows}, place, f"{given['key']!r} comes twice")
        try:
            rows.append(Stitch(**given))
        except StitchDefinitionError as error:
            raise FabricFileError(place, error.problem, "restore it") from error
    return rows


def _strands(value: Any) -> list[Strand]:
    strands = []
    for number, entry in enumerate(_list(value, "strands")):
        place = f"strands[{number}]"
        given = _required(entry, ("name", "role", "woven", "cut"), place)
        _refuse(not isinstance(given["name"], str), f"{place}.name", "expected a text")
        _refuse_strange(given["name"], f"{place}.name")
        _refuse(
            given["role"] not in ("working", "waste"), f"{place}.role",
            "expected working or waste",
        )  # fmt: skip
        woven = _list(given["woven"], f"{place}.woven")
        _refuse(
            len(woven) != 2 or not all(isinstance(end, bool) for end in woven),
            f"{place}.woven", "expected true or false for each of two tails",
        )  # fmt: skip
        _refuse(not isinstance(given["cut"], bool), f"{place}.cut", "expected true or false")
        strands.append(Strand(given["name"], given["role"], (woven[0], woven[1]), given["cut"]))
    return strands


def _checked_columns(given: dict[str, Any], stitches: int, strands: int) -> dict[str, Any]:
    """Return the columns as arrays, each entry in its range and each table of one length."""
    rows = len(given["flags"]) if isinstance(given["flags"], list | np.ndarray) else 0
    ranges = {
        "next": (-1, rows - 1), "strand": (0, strands - 1), "course": (0, 2**31 - 1),
        "stitch": (0, stitches - 1), "flags": (0, sum(_LOOP_BITS.values())),
        "parent": (0, rows - 1), "child": (0, rows - 1), "info": (0, sum(_THROUGH_BITS.values())),
        "right": (0, rows - 1), "left": (0, rows - 1),
    }  # fmt: skip
    columns: dict[str, Any] = {}
    for table, names in _TABLES.items():
        for name in names:
            columns[name] = _whole(given[name], f"{table}.{name}", *ranges[name])
        lengths = {name: len(columns[name]) for name in names}
        _refuse(
            len(set(lengths.values())) > 1, table,
            "its columns have "
            + ", ".join(f"{count} ({name})" for name, count in lengths.items())
            + " entries and should be equally long",
        )  # fmt: skip
    child = columns["child"]
    falls = np.flatnonzero(np.diff(child) < 0)
    for at in falls[:1].tolist():
        _refuse(
            True, f"through.child[{at + 1}]",
            "edges must stand child by child, in the order of making",
        )  # fmt: skip
    gone = (columns["flags"] & GONE) != 0
    for name in ("parent", "child", "right", "left"):
        for at in np.flatnonzero(gone[columns[name]])[:1].tolist():
            _refuse(True, f"{name}[{at}]", "an edge leads to a loop that was taken out")
    return columns


def _groups(
    value: Any, key: str, following: NDArray[np.int64], gone: NDArray[np.bool_]
) -> dict[str, Ints]:
    _refuse(not isinstance(value, dict), key, f"expected named lists, found {_kind(value)}")
    groups = {}
    for name, ids in value.items():
        _refuse_strange(name, key)
        place = f"{key}.{name}"
        loops = _whole(ids, place, 0, len(following) - 1)
        _refuse(gone[loops].any(), place, "a loop that was taken out can't be live")
        groups[name] = loops.astype(np.int32)
    return groups


def _once_each(groups: Mapping[str, Mapping[str, Ints]]) -> None:
    seen: dict[int, str] = {}
    for group in groups.values():
        for name, ids in group.items():
            for loop in ids.tolist():
                _refuse(loop in seen, name, f"loop {loop} is on {seen.get(loop)!r} as well")
                seen[loop] = name


def _wraps(value: Any, rows: int) -> dict[str, Ints]:
    given = _required(value, ("wrap", "stitch"), "wraps")
    pair = {
        name: _whole(given[name], f"wraps.{name}", 0, rows - 1).astype(np.int32) for name in given
    }
    _refuse(len(pair["wrap"]) != len(pair["stitch"]), "wraps", "each wrap needs its stitch")
    return pair


def _rows(value: Any, key: str, width: int, *, high: int = 2**31 - 1) -> Ints:
    low = -(2**31) if key == "ledger" else 0
    rows = [
        _whole(row, f"{key}[{number}]", low, high) for number, row in enumerate(_list(value, key))
    ]
    for number, row in enumerate(rows):
        _refuse(len(row) != width, f"{key}[{number}]", f"expected {width} numbers")
    return np.array(rows, dtype=np.int32).reshape(-1, width)


guard(globals())
