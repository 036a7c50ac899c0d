"""Scans from files: PLY, OBJ and STL, looked over before they are read.

How much a file holds is counted first, in pieces. So one too large is refused with little memory,
and one whose header promises more than it has is not believed. trimesh reads the rest. Only the
file itself is read: what it names (materials, pictures) is left alone.
"""

from __future__ import annotations

import io
import re
import struct
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO, Final

import numpy as np
from numpy.typing import NDArray

from loopwright.errors import ScanError
from loopwright.extras import from_extra

__all__ = ["LARGEST_TRIANGLES", "read_mesh"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

LARGEST_TRIANGLES: Final = 500_000
_OF_TEXT_STL: Final = 200_000  # 50 MB of words; those are read ten times as slowly
_LARGEST_BYTES: Final = 256 * 2**20  # the triangles above, in a talkative text
_PIECE: Final = 2**20
_HEADER: Final = 2**16  # bytes; a PLY says what it holds within them
_STL_HEAD: Final = 84  # bytes of a binary STL before its triangles of 50 bytes each
_OF_NUMBERS: Final = b"0123456789+-.eE \t\r\n"
_PLY_BYTES: Final = {
    **dict.fromkeys((b"short", b"ushort", b"int16", b"uint16"), 2),
    **dict.fromkeys((b"int", b"uint", b"float", b"int32", b"uint32", b"float32"), 4),
    **dict.fromkeys((b"double", b"float64"), 8),
}  # fmt: skip
_READ_AGAIN: Final = "export the mesh again, as PLY, OBJ or STL"
_THIN_OUT: Final = "thin it out where it was scanned; a tenth of that is plenty for a foot"
# What trimesh raises on files that are damaged, besides what it says on purpose.
_STUMBLES: Final = (
    *(ValueError, TypeError, AttributeError, LookupError, ArithmeticError, OSError, NameError),
    *(struct.error, EOFError, NotImplementedError, RecursionError, MemoryError, AssertionError),
)


def read_mesh(source: Path | bytes, kind: str | None = None) -> tuple[Floats, Ints]:
    """Return points and triangles of a file, as they stand in it.

    Parameters
    ----------
    source : Path or bytes
    kind : str, optional
        ``"ply"``, ``"obj"`` or ``"stl"``; by default what the content shows.

    Raises
    ------
    ScanError
        No such file, no mesh, a damaged one, or one too large.
    MissingExtraError
        trimesh is not installed: it comes with the extra ``scan``.
    """
    name = source.name if isinstance(source, Path) else "scan"
    try:
        with _opened(source) as stream:
            kind = kind or _kind(stream, name)
            _refuse_large(stream, kind, name)
            stream.seek(0)
            data = stream.read(_LARGEST_BYTES + 1)
            _refuse_large_faces(data, kind, name)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise ScanError(str(source), reason, "check the name and its folder") from error
    return _parsed(data, kind, name)


def _opened(source: Path | bytes) -> BinaryIO:
    return source.open("rb") if isinstance(source, Path) else io.BytesIO(source)


def _kind(stream: BinaryIO, name: str) -> str:
    """Tell the format by what the file begins with; its suffix may be wrong."""
    head = stream.read(_HEADER)
    if not head.strip():
        raise ScanError(name, "an empty file", _READ_AGAIN)
    if head.startswith(b"ply"):
        return "ply"
    if _binary_triangles(stream, head) is not None or head.lstrip()[:5].lower() == b"solid":
        return "stl"
    if re.search(rb"^v[ \t]+[-+.\d]", head, re.MULTILINE) and b"\0" not in head:
        return "obj"
    raise ScanError(name, "neither PLY nor OBJ nor STL", _READ_AGAIN)


def _binary_triangles(stream: BinaryIO, head: bytes) -> int | None:
    """How many triangles a binary STL has; None where the file is none, by its length."""
    if len(head) < _STL_HEAD:
        return None
    count = int(struct.unpack_from("<I", head, 80)[0])
    size = stream.seek(0, io.SEEK_END)
    return count if size == _STL_HEAD + 50 * count else None


def _refuse_large(stream: BinaryIO, kind: str, name: str) -> None:
    size = stream.seek(0, io.SEEK_END)
    stream.seek(0)
    head = stream.read(_HEADER)
    if kind == "ply":
        points, faces = _ply_counts(head, size, name)
        if b"format ascii" in head and points + faces <= 4 * LARGEST_TRIANGLES:
            _refuse_ragged(stream, head, points + faces, name)
    elif kind == "stl":
        binary = _binary_triangles(stream, head)
        faces = _counted(stream, b"endfacet") if binary is None else binary
        if binary is None and faces > _OF_TEXT_STL:
            problem = f"{faces:,} triangles in words, more than the {_OF_TEXT_STL:,} that are read"
            raise ScanError(name, problem, f"export it as binary STL, or {_THIN_OUT}")
        points = 3 * faces
    else:
        points, faces = _counted(stream, b"\nv "), _counted(stream, b"\nf")
    if faces > LARGEST_TRIANGLES or points > 3 * LARGEST_TRIANGLES:
        most = f"{LARGEST_TRIANGLES:,}"
        raise ScanError(name, f"{faces:,} triangles, more than the {most} that are read", _THIN_OUT)
    if size > _LARGEST_BYTES:
        raise ScanError(name, f"larger than {_LARGEST_BYTES // 2**20} MiB", _THIN_OUT)


def _refuse_large_faces(data: bytes, kind: str, name: str) -> None:
    """Refuse an OBJ whose few faces have so many corners that they are too many triangles."""
    if kind != "obj" or data.count(b" ") <= 8 * LARGEST_TRIANGLES:
        return
    faces = re.finditer(rb"^f[^\n]*", data, re.MULTILINE)
    triangles = sum(max(1, face[0].rstrip().count(b" ") - 2) for face in faces)
    if triangles > LARGEST_TRIANGLES:
        most = f"{LARGEST_TRIANGLES:,}"
        problem = f"{triangles:,} triangles, more than the {most} that are read"
        raise ScanError(name, problem, _THIN_OUT)


def _ply_counts(head: bytes, size: int, name: str) -> tuple[int, int]:
    header, found, _ = head.partition(b"end_header")
    if not found:
        raise ScanError(name, "a PLY whose header has no end", _READ_AGAIN)
    elements = _ply_elements(header)
    points, faces = (elements[what][0] if what in elements else 0 for what in (b"vertex", b"face"))
    if points and not faces:
        advice = "join them to a mesh where it was scanned"
        raise ScanError(name, f"a cloud of {points:,} points without triangles", advice)
    promised = sum(count * max(1, least) for count, least, _ in elements.values())
    if b"format ascii" in header:  # a sign for each number, and one that parts it from the next
        promised = sum(2 * count for count, _, _ in elements.values())
    if points + faces <= 3 * LARGEST_TRIANGLES + 1 and promised > size:
        raise ScanError(name, f"{size:,} bytes that promise {points:,} points", _READ_AGAIN)
    known = faces > LARGEST_TRIANGLES or {b"x", b"y", b"z"} <= elements[b"vertex"][2]
    if points and not known:
        raise ScanError(name, "a PLY whose points have no x, y and z", _READ_AGAIN)
    return points, faces


def _refuse_ragged(stream: BinaryIO, head: bytes, least: int, name: str) -> None:
    """Refuse a text that has not a line for each point and triangle, or more than numbers."""
    stream.seek(head.index(b"\n", head.index(b"end_header")) + 1)
    lines = 0
    while piece := stream.read(_PIECE):
        lines += len(piece.splitlines())
        if piece.translate(None, _OF_NUMBERS):
            raise ScanError(name, "a damaged PLY file: letters among its numbers", _READ_AGAIN)
    if lines < least:
        problem = f"{lines:,} lines that promise {least:,} points and triangles"
        raise ScanError(name, problem, _READ_AGAIN)


def _ply_elements(header: bytes) -> dict[bytes, tuple[int, int, set[bytes]]]:
    """Return of each element how many there are, their least size in bytes, and their numbers."""
    elements: dict[bytes, tuple[int, int, set[bytes]]] = {}
    last = b""
    for line in header.splitlines():
        words = line.split()
        if words[:1] == [b"element"] and len(words) == 3 and re.fullmatch(rb"\d{1,12}", words[2]):
            last = words[1]
            elements[last] = int(words[2]), 0, set()
        elif words[:1] == [b"property"] and last in elements and len(words) > 2:
            count, least, numbers = elements[last]
            if words[1] != b"list":
                numbers.add(words[-1])
            kind = words[2] if words[1] == b"list" else words[1]
            elements[last] = count, least + _PLY_BYTES.get(kind, 1), numbers
    return elements


def _counted(stream: BinaryIO, word: bytes) -> int:
    """How often a word stands in a file, read in pieces."""
    stream.seek(0)
    return sum(piece.count(word) for piece in _pieces(stream, len(word) - 1))


def _pieces(stream: BinaryIO, overlap: int) -> Iterator[bytes]:
    """The file in pieces, each with the end of the one before; a word is in one of them, once."""
    kept = b"\n"  # the first line begins a line, too
    while piece := stream.read(_PIECE):
        yield kept + piece
        kept = (kept + piece)[-overlap:]


def _parsed(data: bytes, kind: str, name: str) -> tuple[Floats, Ints]:
    trimesh = from_extra("trimesh", "a scan", "scan")
    try:
        loaded = trimesh.load(
            io.BytesIO(data), file_type=kind, force="mesh", process=False, skip_materials=True
        )
        points = np.asarray(getattr(loaded, "vertices", []), np.float64).reshape(-1, 3)
        triangles = np.asarray(getattr(loaded, "faces", []), np.int64).reshape(-1, 3)
    except _STUMBLES as error:
        raise ScanError(name, f"a damaged {kind.upper()} file", _READ_AGAIN) from error
    if not len(triangles):
        raise ScanError(name, "no triangle in it", _READ_AGAIN)
    if triangles.min() < 0 or triangles.max() >= len(points):
        raise ScanError(name, "triangles of points that it hasn't got", _READ_AGAIN)
    if len(triangles) > LARGEST_TRIANGLES:
        raise ScanError(name, f"{len(triangles):,} triangles", _THIN_OUT)
    return points, triangles
