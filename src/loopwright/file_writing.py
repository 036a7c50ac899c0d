"""Write a file whole or not at all: under another name beside its place, then moved over it.

A single file that a later run may replace carries a seal, where its kind has comments: the hash of
the rest of it. So what somebody changed since is never thrown away.
"""

from __future__ import annotations

import os
import re
import secrets
import struct
import zlib
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from typing import Final

from loopwright.border import guard
from loopwright.errors import FileError

__all__ = ["MARK", "MARK_SAYS", "refuse_file", "write_own", "write_whole"]

MARK: Final = ".loopwright.json"  # in a folder that a command wrote: its files and their hashes
MARK_SAYS: Final = "by which a later run knows these files as its own"

_SAYS: Final = b"loopwright: sha256 of the rest "
_SEAL: Final = re.compile(rb"(?m)^(?:# |<!-- )" + _SAYS + rb"[0-9a-f]{32}(?: -->)?\n?")
_LARGEST: Final = 2**24  # bytes of a file that may be our own
_PNG: Final = b"\x89PNG\r\n\x1a\n"
_PNG_SEAL: Final = b"loopwright\0sha256 of the rest "


def write_whole(path: Path, data: bytes, *, prefix: str = ".", durable: bool = False) -> None:
    """Write a file; what stood there before stays until the new one is complete.

    Parameters
    ----------
    path : Path
    data : bytes
    prefix : str
        How the unfinished file's name begins.
    durable : bool
        Wait until the disk has it: it then outlives a loss of power.

    Raises
    ------
    OSError
        The file can't be written; nothing is left of the attempt.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     page = Path(folder) / "pattern.txt"
    ...     write_whole(page, b"Cast on 64 sts.")
    ...     write_whole(page, b"Cast on 72 sts.")
    ...     page.read_text(), [path.name for path in page.parent.iterdir()]
    ('Cast on 72 sts.', ['pattern.txt'])
    """
    handle, name = _new_file(path.parent, prefix)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            if durable:
                os.fsync(stream.fileno())
        os.replace(name, path)
        if durable:
            _sync_folder(path.parent)
    except BaseException:
        name.unlink(missing_ok=True)
        raise


def refuse_file(path: Path, *, replace: bool = False) -> None:
    """Refuse a file that `write_own` wouldn't write, before the work is done.

    Raises
    ------
    FileError
        It is there and isn't to be replaced, or no run wrote it, or it was changed since: that is
        never thrown away.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     mine = Path(folder) / "mine.toml"
    ...     _ = mine.write_text("# nobody else's")
    ...     refuse_file(mine, replace=True)
    Traceback (most recent call last):
    ...
    loopwright.errors.FileError: ...: was changed since loopwright wrote it, or written by somebody
        else; move it away, or name another file
    """
    try:
        if not os.path.lexists(path):
            return
        if not replace:
            advice = "name another file, or replace it with --force"
            raise FileError(str(path), "is there already", advice)
        if path.is_symlink() or not path.is_file():
            raise FileError(str(path), "isn't a plain file", "name another file")
        data = path.read_bytes() if path.stat().st_size <= _LARGEST else b""
    except FileError:
        raise
    except OSError as error:
        raise _as_file_error(path, error, "name another file") from error
    if _unsealed(data) == data or _sealed(data) != data:
        problem = "was changed since loopwright wrote it, or written by somebody else"
        raise FileError(str(path), problem, "move it away, or name another file")


def write_own(path: Path, content: str | bytes, *, replace: bool = False) -> None:
    """Write a file whole or not at all, with a seal by which a later run knows it as its own.

    Parameters
    ----------
    path : Path
        Its folder is made where needed.
    content : str or bytes
        TOML, SVG or PNG; text goes out as UTF-8. Where it has a seal already, that is dropped.
    replace : bool
        Put it in the place of an older one that was written so, and not changed since.

    Raises
    ------
    FileError
        As `refuse_file`, or it can't be written; what stood there before is unharmed.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     design = Path(folder) / "watch.toml"
    ...     write_own(design, 'title = "Harbour watch"')
    ...     write_own(design, 'title = "Harbour wall"', replace=True)
    ...     print(design.read_text()[:55])
    title = "Harbour wall"
    # loopwright: sha256 of the rest
    """
    refuse_file(path, replace=replace)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, _sealed(content.encode() if isinstance(content, str) else content))
    except OSError as error:
        raise _as_file_error(path, error, "name a folder you may write to") from error


def _as_file_error(path: Path, error: OSError, advice: str) -> FileError:
    return FileError(str(path), (error.strerror or str(error)).lower(), advice)


def _sealed(data: bytes) -> bytes:
    """Return a file with the hash of the rest of it: at its end, as its kind writes a comment."""
    bare = _unsealed(data)
    mark = sha256(bare).hexdigest()[:32].encode()
    if data.startswith(_PNG):
        text = b"tEXt" + _PNG_SEAL + mark
        chunk = struct.pack(">I", len(text) - 4) + text + struct.pack(">I", zlib.crc32(text))
        end = len(bare) - 12  # the last chunk, IEND, is empty: length, name and checksum
        return bare[:end] + chunk + bare[end:]
    form = b"<!-- %s -->" if bare.lstrip().startswith(b"<") else b"# %s"
    return bare + form % (_SAYS + mark) + b"\n"


def _unsealed(data: bytes) -> bytes:
    if not data.startswith(_PNG):
        bare = _SEAL.sub(b"", data)
        return bare if not bare or bare.endswith(b"\n") else bare + b"\n"
    at = data.find(b"tEXt" + _PNG_SEAL)
    return data if at < 0 else data[: at - 4] + data[at + 4 + len(_PNG_SEAL) + 32 + 4 :]


def _new_file(folder: Path, prefix: str) -> tuple[int, Path]:
    """Create a file of a name of its own; the system gives it the rights that any file gets."""
    binary = getattr(os, "O_BINARY", 0)
    while True:
        name = folder / f"{prefix}{secrets.token_hex(6)}"
        with suppress(FileExistsError):
            return os.open(name, os.O_WRONLY | os.O_CREAT | os.O_EXCL | binary, 0o666), name


def _sync_folder(folder: Path) -> None:
    with suppress(OSError):  # some systems can't open a folder; then there is nothing to sync
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


guard(globals())
