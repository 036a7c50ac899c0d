"""Scans from files: PLY, OBJ and STL, looked over before they are read.

How much a file holds is counted first, in pieces, so that one too large is refused with little
memory, and one whose header promises more than it has is not believed. trimesh reads the rest.
Only the file itself is read: what it names (materials, pictures) is left alone.
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
_LARGEST_BYTES: Final = 256 * 2**20  # the triangles above, in a talkative text
_PIECE: Final = 2**20
_HEADER: Final = 2**16  # bytes; a PLY says what it holds within them
_STL_HEAD: Final = 84  # bytes of a binary STL before its triangles of 50 bytes each
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
    elif kind == "stl":
        binary = _binary_triangles(stream, head)
        faces = _counted(stream, b"endfacet") if binary is None else binary
        points = 3 * faces
    else:
        points, faces = _counted(stream, b"\nv "), _counted(stream, b"\nf")
    if faces > LARGEST_TRIANGLES or points > 3 * LARGEST_TRIANGLES:
        most = f"{LARGEST_TRIANGLES:,}"
        raise ScanError(name, f"{faces:,} triangles, more than the {most} that are read", _THIN_OUT)
    if size > _LARGEST_BYTES:
        raise ScanError(name, f"larger than {_LARGEST_BYTES // 2**20} MiB", _THIN_OUT)


def _ply_counts(head: bytes, size: int, name: str) -> tuple[int, int]:
    if b"end_header" not in head:
        raise ScanError(name, "a PLY whose header has no end", _READ_AGAIN)
    said = dict(re.findall(rb"^element[ \t]+(\w+)[ \t]+(\d{1,12})\s*$", head, re.MULTILINE))
    points, faces = (int(said.get(what, 0)) for what in (b"vertex", b"face"))
    if points and not faces:
        advice = "join them to a mesh where it was scanned"
        raise ScanError(name, f"a cloud of {points:,} points without triangles", advice)
    if min(points + faces, 3 * LARGEST_TRIANGLES + 1) > size:
        raise ScanError(name, f"{size:,} bytes that promise {points:,} points", _READ_AGAIN)
    return points, faces


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
