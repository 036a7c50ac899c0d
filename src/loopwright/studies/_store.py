"""Partitions of a study on disk: each written whole or not at all, none believed unread.

A store is a folder:

* ``study.json`` says which study it belongs to. Another study is refused, so that no table is ever
  put together from two.
* ``STAGE/part-000012-1f0c….parquet`` holds the rows of one partition. The name ends in the
  checksum (SHA-256, first 16 hex digits) of the study, the stage, the number and the bytes. So the
  file and what vouches for it appear in one step, no index has to be kept, and a file that was
  renamed is not believed.
* ``lock`` is held by the process that writes. It is freed by the system when that process dies.

A partition is written under another name, synced to the disk, then renamed, then the folder is
synced. Whoever finds it finds all of it, after a power cut as well. What is found damaged is
removed and counted as not there. Files of the name ``.part-*`` are what a killed process left.
"""

from __future__ import annotations

import hashlib
import io
import json
import os
import re
import shutil
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Any, Final

import attrs
import pyarrow as pa
import pyarrow.parquet as pq

from loopwright.errors import StoreError
from loopwright.file_reading import parse_json, read_at_most
from loopwright.file_writing import write_whole

try:
    import fcntl
except ImportError:  # not on this system: two writers would have to be kept apart by hand
    fcntl = None  # type: ignore[assignment]

__all__ = ["FORMAT", "Store"]

FORMAT = 2  # version of the folder; raised when a newer one can't be read by older code
_UNFINISHED = ".part-"
_LARGEST_WORDS: Final = 16 * 2**20  # bytes of study.json, which names every foot and choice
_LARGEST_PART: Final = 256 * 2**20  # bytes of a partition of some thousand rows
_NAME = re.compile(r"part-(\d{6,})-([0-9a-f]{16})\.parquet")


def _path(folder: str | os.PathLike[str]) -> Path:
    return Path(folder)


@attrs.define(eq=False)
class Store:
    """The folder of one study; used as a context, it holds the lock.

    Parameters
    ----------
    folder : Path
        Made where needed.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder, Store(Path(folder) / "study") as store:
    ...     store.claim({"feet": 3})
    ...     store.write("cases", 0, pa.table({"case": [0, 1, 2]}))
    ...     store.finished("cases"), store.read("cases", 0).num_rows
    ({0}, 3)
    """

    folder: Path = attrs.field(converter=_path)
    _lock: int | None = attrs.field(default=None, init=False)
    _identity: str = attrs.field(default="", init=False)  # of the study that claimed it
    _found: dict[str, dict[int, Path]] = attrs.field(factory=dict, init=False)

    def __enter__(self) -> Store:
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            lock = os.open(self.folder / "lock", os.O_RDWR | os.O_CREAT, 0o666)
        except OSError as error:
            raise _refusal(self.folder, error) from error
        if fcntl is not None:
            try:
                fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except OSError as error:
                os.close(lock)
                raise StoreError(
                    str(self.folder),
                    "another process is writing to it",
                    "wait until it is done, or name another folder",
                ) from error
        self._lock = lock
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._lock is not None:
            os.close(self._lock)
            self._lock = None

    def claim(self, definition: Mapping[str, Any]) -> None:
        """Make this the store of one study, or see that it is.

        Parameters
        ----------
        definition : mapping
            All that the rows depend on; must survive JSON.

        Raises
        ------
        StoreError
            It belongs to another study (the message says where they differ), to a newer version
            of this package, or holds other files.
        """
        path = self.folder / "study.json"
        mine = json.loads(json.dumps({"format": FORMAT, **definition}, sort_keys=True))
        try:
            theirs = parse_json(read_at_most(path, _LARGEST_WORDS))
        except FileNotFoundError:
            if foreign := sorted(p.name for p in self.folder.iterdir() if p.name != "lock"):
                raise StoreError(
                    str(self.folder), f"holds {foreign[0]!r}", "name a new or an empty folder"
                ) from None
            write_whole(
                path,
                json.dumps(mine, sort_keys=True, indent=1).encode(),
                prefix=_UNFINISHED,
                durable=True,
            )
            self._identity = _identity(mine)
            return
        except (OSError, ValueError) as error:
            problem = f"study.json can't be read ({error})"
            raise StoreError(str(self.folder), problem, "name another folder") from error
        self._identity = _identity(mine)
        if theirs != mine:
            raise StoreError(
                str(self.folder),
                f"holds another study: it differs in {_difference(theirs, mine)}",
                "name another folder, or run the study that it was begun with",
            )

    def write(self, stage: str, part: int, table: pa.Table) -> None:
        """Write one partition, whole or not at all; one that is there already stays.

        Raises
        ------
        StoreError
            The disk is full, or the folder can't be written to. What is there is unharmed.
        """
        buffer = io.BytesIO()
        pq.write_table(table, buffer, compression="zstd")
        data = buffer.getvalue()
        checksum = self._checksum(stage, part, data)
        path = self.folder / stage / f"part-{part:06d}-{checksum}.parquet"
        try:
            path.parent.mkdir(exist_ok=True)
            write_whole(path, data, prefix=_UNFINISHED, durable=True)
        except OSError as error:
            raise _refusal(path.parent, error) from error
        self._found.setdefault(stage, {})[part] = path

    def finished(self, stage: str) -> set[int]:
        """Return the partitions that are there and sound; what is damaged or left over is removed.

        Every file is read, since only its bytes can tell.
        """
        found: dict[int, Path] = {}
        folder = self.folder / stage
        for path in sorted(folder.iterdir()) if folder.is_dir() else []:
            match = _NAME.fullmatch(path.name)
            number = int(match[1]) if match else -1
            if match and number not in found and self._sound(stage, number, path) is not None:
                found[number] = path
            elif match or path.name.startswith(_UNFINISHED):
                _remove(path)
        self._found[stage] = found
        return set(found)

    def read(self, stage: str, part: int) -> pa.Table:
        """Return one partition that was written here, or seen by `finished`.

        Raises
        ------
        StoreError
            It isn't there, or it was damaged since.
        """
        path = self._found.get(stage, {}).get(part)
        data = self._sound(stage, part, path) if path else None
        problem = f"partition {part} of {stage!r} is gone or damaged"
        refusal = StoreError(str(self.folder), problem, "run the study again: it is made anew")
        if data is None:
            raise refusal
        try:
            return pq.read_table(io.BytesIO(data))
        except (pa.ArrowException, KeyError, TypeError, ValueError, OSError) as error:
            raise refusal from error

    def _sound(self, stage: str, part: int, path: Path) -> bytes | None:
        """Return the bytes of a partition that is the one its name says, of this study."""
        try:
            data = read_at_most(path, _LARGEST_PART)
        except OSError:  # a folder, or a bad sector, is no better than a wrong checksum
            return None
        checksum = self._checksum(stage, part, data)
        return data if path.stem.endswith(f"-{checksum}") else None

    def _study(self) -> str:
        """Return what tells this study from others: of the one that claimed the store."""
        if not self._identity:
            with suppress(OSError, ValueError):
                path = self.folder / "study.json"
                definition = parse_json(read_at_most(path, _LARGEST_WORDS))
                self._identity = _identity(definition)
        return self._identity

    def _checksum(self, stage: str, part: int, data: bytes) -> str:
        """Return what vouches for a partition: study, stage and number as well as the bytes."""
        digest = hashlib.sha256(f"{self._study()}/{stage}/{part}/".encode())
        digest.update(data)
        return digest.hexdigest()[:16]


def _identity(definition: Mapping[str, Any]) -> str:
    return hashlib.sha256(json.dumps(definition, sort_keys=True).encode()).hexdigest()


def _remove(path: Path) -> None:
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path, ignore_errors=True)
    else:
        path.unlink(missing_ok=True)


def _refusal(path: Path, error: OSError) -> StoreError:
    problem = (error.strerror or str(error)).lower()
    return StoreError(
        str(path), problem, "what is there is kept; mend this and run the study again to go on"
    )


def _difference(theirs: Any, mine: Any) -> str:
    if not isinstance(theirs, dict):
        return "everything"
    return ", ".join(
        sorted(str(key) for key in {*theirs, *mine} if theirs.get(key) != mine.get(key))
    )
