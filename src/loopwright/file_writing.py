"""Write a file whole or not at all: under another name beside its place, then moved over it."""

from __future__ import annotations

import os
import secrets
from contextlib import suppress
from pathlib import Path
from typing import Final

from loopwright.border import guard

__all__ = ["MARK", "MARK_SAYS", "write_whole"]

MARK: Final = ".loopwright.json"  # in a folder that a command wrote: its files and their hashes
MARK_SAYS: Final = "by which a later run knows these files as its own"


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
