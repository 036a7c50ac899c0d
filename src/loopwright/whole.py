"""Write a file whole or not at all: under another name beside its place, then moved over it."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path

from loopwright.border import guard

__all__ = ["write_whole"]


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
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=prefix)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.chmod(name, 0o666 & ~_umask())  # a temporary file is for its owner only
            if durable:
                os.fsync(stream.fileno())
        os.replace(name, path)
        if durable:
            _sync_folder(path.parent)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _sync_folder(folder: Path) -> None:
    with suppress(OSError):  # some systems can't open a folder; then there is nothing to sync
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


guard(globals())
