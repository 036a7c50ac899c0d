"""Reading and writing files for the commands; the rest of the package takes and returns text.

A file is written whole or not at all: under another name beside its place, then moved over it.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

from loopwright.border import guard
from loopwright.cli._report_folder import (
    change_places,
    mark_of,
    not_ours,
    place_beside,
    recover,
)
from loopwright.errors import FileError
from loopwright.file_writing import MARK, write_whole

__all__ = ["read_text", "refuse_folder", "write_files", "write_folder"]

_LONGEST_NAME = 200  # bytes, of 255: the place beside it has a longer one
LARGEST = 16 * 1024 * 1024  # bytes; a design or a pattern is a few thousand


def read_text(path: Path) -> str:
    """The text of a file in UTF-8.

    Raises
    ------
    FileError
        No such file, a folder, not readable, too large, or not text.
    """
    try:
        with path.open("rb") as stream:
            data = stream.read(LARGEST + 1)
    except OSError as error:
        raise FileError(str(path), _reason(error), "check the name and its folder") from error
    if len(data) > LARGEST:
        raise FileError(str(path), f"is larger than {LARGEST // 2**20} MiB", "is it a text?")
    try:
        return data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        problem = f"line {line} is not UTF-8 text (byte {error.start})"
        raise FileError(str(path), problem, "save it as UTF-8 and try again") from error


def write_files(folder: Path, files: Mapping[str, str | bytes]) -> None:
    """Write files into a folder, each whole or not at all; the folder is made where needed.

    Parameters
    ----------
    folder : Path
    files : mapping of str to str or bytes
        Content by name; a name may hold folders (``"charts/heel.svg"``). Text goes out as UTF-8.

    Raises
    ------
    FileError
        The folder or a file cannot be written; what stood there before is unharmed.
    """
    for name, content in files.items():
        path = folder / name
        data = content.encode() if isinstance(content, str) else content
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            write_whole(path, data)
        except OSError as error:
            raise FileError(str(path), _reason(error), "name a folder you may write to") from error


def refuse_folder(folder: Path, *, replace: bool = False) -> None:
    """Refuse a folder that `write_folder` wouldn't write, before the work is done.

    What a killed run left beside it is put back, or thrown away, first.

    Raises
    ------
    FileError
        It is a file, or holds something and isn't to be replaced, or holds what no run wrote there
        or what was changed since: that is never thrown away.
    """
    folder = folder.resolve()
    if len(os.fsencode(folder.name)) > _LONGEST_NAME:
        raise FileError(f"{folder.name[:40]}...", "has too long a name", "name another folder")
    recover(folder)
    try:
        held = sorted(path.name for path in folder.iterdir())
        foreign, changed = not_ours(folder) if held and replace else ([], [])
    except FileNotFoundError:
        return
    except OSError as error:
        raise FileError(str(folder), _reason(error), "name another folder") from error
    if held and not replace:
        shown = [name for name in held if name != MARK] or held
        advice = "name another folder, or replace it with --force"
        raise FileError(str(folder), f"is there already and holds {_some(shown)}", advice)
    for names, what in (
        (foreign, "which no report put there"),
        (changed, "changed since a report put it there"),
    ):
        if names:
            problem = f"holds {_some(names)}, {what}"
            raise FileError(str(folder), problem, "move that away, or name another folder")


def write_folder(folder: Path, files: Mapping[str, str | bytes], *, replace: bool = False) -> None:
    """Write a folder whole or not at all: under another name beside its place, then moved there.

    It gets a mark with the hash of each file, by which a later run knows what is its own. Where the
    system can exchange two folders in one step, one of them is in place at every moment.

    Parameters
    ----------
    folder : Path
    files : mapping of str to str or bytes
        Content by name; a name may hold folders (``"charts/heel.svg"``). Text goes out as UTF-8.
    replace : bool
        Put it in the place of an older one that was written so, and not changed since.

    Raises
    ------
    FileError
        As `refuse_folder`, or the folder can't be written; what stood there before is unharmed.
    """
    folder = folder.resolve()
    refuse_folder(folder, replace=replace)
    whole = {
        name: content.encode() if isinstance(content, str) else content
        for name, content in files.items()
    }
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        with place_beside(folder) as beside:
            write_files(beside / "new", {**whole, MARK: mark_of(whole)})
            refuse_folder(folder, replace=replace)  # nobody wrote into it meanwhile
            change_places(beside, folder)
    except OSError as error:
        if isinstance(error, FileError):
            raise
        raise FileError(str(folder), _reason(error), "name a folder you may write to") from error


def _some(names: list[str]) -> str:
    more = f" and {len(names) - 3} more" if len(names) > 3 else ""
    return ", ".join(names[:3]) + more


def _reason(error: OSError) -> str:
    return (error.strerror or str(error)).lower()


guard(globals())
