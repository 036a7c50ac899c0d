"""A folder of our own: its mark with hashes, the place beside it, and how they change places.

What a run wrote carries a mark: the names of its files and the SHA-256 of each. Only a folder whose
every file is in its mark, unchanged, is ever thrown away. A new one is made in a place beside the
old, which its run keeps locked; the two change places in one step where the system knows one. A
place that a killed run left is nobody's lock: the next run puts back what it finds there, or throws
it away.
"""

from __future__ import annotations

import ctypes
import json
import os
import re
import shutil
import sys
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from hashlib import sha256
from pathlib import Path
from typing import Final

from loopwright.file_writing import MARK

try:
    import fcntl
except ImportError:  # not on this system: what a killed run left then stays
    fcntl = None  # type: ignore[assignment]

__all__ = ["change_places", "mark_of", "not_ours", "place_beside", "recover"]

_FORMAT: Final = 1
_LOCK: Final = "lock"
_GONE: Final = "gone"  # an old report that is being thrown away
_LARGEST: Final = 2**20  # bytes of a mark
_AT_CWD: Final = -100  # AT_FDCWD of Linux
_EXCHANGE: Final = 2  # RENAME_EXCHANGE of Linux, RENAME_SWAP of macOS


def mark_of(files: Mapping[str, bytes]) -> bytes:
    """Return the mark of these files: each name with the hash of its content."""
    hashes = {name: sha256(data).hexdigest() for name, data in sorted(files.items())}
    return json.dumps({"format": _FORMAT, "files": hashes}, indent=1).encode() + b"\n"


def _marked(folder: Path) -> dict[str, str]:
    """Return what a folder's mark says; nothing where it has none that can be read."""
    try:
        with (folder / MARK).open("rb") as stream:
            mark = json.loads(stream.read(_LARGEST))
    except (OSError, ValueError, RecursionError):
        return {}
    files = mark.get("files") if isinstance(mark, dict) and mark.get("format") == _FORMAT else None
    return files if isinstance(files, dict) else {}


def not_ours(folder: Path) -> tuple[list[str], list[str]]:
    """Return the files that no run wrote into a folder, and those that were changed since."""
    marked = _marked(folder)
    foreign, changed = [], []
    for name in _names(folder):
        if name == MARK and marked:
            continue
        if name not in marked:
            foreign.append(name)
        elif not _has_hash(folder / name, marked[name]):
            changed.append(name)
    return sorted(foreign), sorted(changed)


def _names(folder: Path) -> Iterator[str]:
    """Return all in a folder that is not itself a plain folder with something in it."""
    for place, folders, files in os.walk(folder):
        here = Path(place)
        linked = [name for name in folders if (here / name).is_symlink()]
        empty = [n for n in folders if n not in linked and not any((here / n).iterdir())]
        for name in (*files, *linked, *empty):
            yield (here / name).relative_to(folder).as_posix()


def _has_hash(path: Path, hashed: object) -> bool:
    try:
        if path.is_symlink() or not path.is_file():
            return False
        with path.open("rb") as stream:
            digest = sha256()
            while block := stream.read(2**20):
                digest.update(block)
    except OSError:
        return False
    return digest.hexdigest() == hashed


@contextmanager
def place_beside(folder: Path) -> Iterator[Path]:
    """Make a locked place beside a folder, thrown away in the end."""
    beside = Path(tempfile.mkdtemp(dir=folder.parent, prefix=f".{folder.name}-"))
    lock = _locked(beside)
    try:
        yield beside
    finally:
        _throw_away(beside)
        if lock is not None:
            os.close(lock)


def _throw_away(beside: Path) -> None:
    """Throw a place away, its lock last: if this is killed half-way, the place is still known as
    our own.
    """
    shutil.rmtree(beside / _GONE, ignore_errors=True)
    with suppress(OSError):
        # Half thrown away, an old report couldn't be told apart from what somebody else made.
        os.replace(beside / "old", beside / _GONE)
    for name in ("new", _GONE):
        shutil.rmtree(beside / name, ignore_errors=True)
    shutil.rmtree(beside, ignore_errors=True)


def _locked(beside: Path) -> int | None:
    """Take the lock of a place; None where another process has it, or there are no locks."""
    if fcntl is None:
        return None
    lock = os.open(beside / _LOCK, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        os.close(lock)
        return None
    return lock


def recover(folder: Path) -> None:
    """Put back, or throw away, what killed runs left beside a folder."""
    name = re.compile(re.escape(f".{folder.name}-") + r"[a-z0-9_]{8}")
    try:
        left = [path for path in folder.parent.iterdir() if name.fullmatch(path.name)]
    except OSError:
        return
    for beside in left:
        with suppress(OSError):
            _recover_from(beside, folder)


def _recover_from(beside: Path, folder: Path) -> None:
    held = {path.name for path in beside.iterdir()} if not beside.is_symlink() else {"a link"}
    if not held <= {_LOCK, "new", "old", _GONE} or (held and _LOCK not in held):
        return  # of that name, and not made here
    if not held:
        beside.rmdir()
        return
    lock = _locked(beside)
    if lock is None:
        return  # another run is at it
    try:
        if "old" in held and not folder.exists():
            os.replace(beside / "old", folder)
        if "old" not in held or not any(not_ours(beside / "old")):
            _throw_away(beside)
    finally:
        os.close(lock)


def change_places(beside: Path, folder: Path) -> None:
    """Put ``new`` of a place where `folder` is, which becomes ``old`` there or ``new``."""
    if not folder.exists():
        os.replace(beside / "new", folder)
        return
    if _exchanged(beside / "new", folder):
        return
    os.replace(folder, beside / "old")
    try:
        os.replace(beside / "new", folder)
    except OSError:
        os.replace(beside / "old", folder)
        raise


def _exchanged(one: Path, other: Path) -> bool:
    """Exchange two folders in one step; False where the system can't."""
    names = os.fsencode(one), os.fsencode(other)
    try:
        system = ctypes.CDLL(None, use_errno=True)
        if sys.platform == "darwin":
            return bool(system.renamex_np(*names, _EXCHANGE) == 0)
        return bool(system.renameat2(_AT_CWD, names[0], _AT_CWD, names[1], _EXCHANGE) == 0)
    except (AttributeError, OSError, TypeError):
        return False
