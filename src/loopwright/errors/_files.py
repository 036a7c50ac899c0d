"""Errors of files and of what stands in them."""

from __future__ import annotations

import attrs

from loopwright.errors._root import LoopwrightError

__all__ = ["DesignError", "FabricFileError", "FileError", "PartError", "RecordError", "StoreError"]


@attrs.define(slots=False)
class FileError(LoopwrightError, OSError):
    """A file that cannot be read or written.

    Examples
    --------
    >>> from pathlib import Path
    >>> from loopwright.cli.files import read_text
    >>> read_text(Path("no-such-sock.toml"))
    Traceback (most recent call last):
    ...
    loopwright.errors.FileError: no-such-sock.toml: no such file or directory; check the name
        and its folder
    """

    path: str
    problem: str
    advice: str

    def __str__(self) -> str:
        return f"{self.path}: {self.problem}; {self.advice}"


@attrs.define(slots=False)
class StoreError(FileError):
    """A folder of a study that can't be used or written; what it holds is unharmed.

    Examples
    --------
    >>> import tempfile
    >>> from pathlib import Path
    >>> from loopwright.studies import Store
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     Path(folder, "notes.txt").touch()
    ...     with Store(Path(folder)) as store:
    ...         store.claim({})
    Traceback (most recent call last):
    ...
    loopwright.errors.StoreError: ...: holds 'notes.txt'; name a new or an empty folder
    """


@attrs.define(slots=False)
class DesignError(LoopwrightError, ValueError):
    """A key of a design file that can't be used: which, on which line, what was expected.

    Where another error is the reason, `refused` is true and `found` is its message. `source` is
    the file's name, where there is one.

    Examples
    --------
    >>> from loopwright.design import read_design
    >>> read_design("gauge = 28")
    Traceback (most recent call last):
    ...
    loopwright.errors.DesignError: line 1, gauge: found 28; expected a table, [gauge]
    """

    key: str
    line: int
    found: str
    expected: str
    refused: bool = False
    source: str = ""

    def __str__(self) -> str:
        where = ", ".join(filter(None, (self.source, f"line {self.line}", self.key)))
        if self.refused:
            return f"{where}: {self.found}"
        return f"{where}: found {self.found}; expected {self.expected}"


@attrs.define(slots=False)
class PartError(LoopwrightError, TypeError):
    """A heel, toe, cuff or leg of one's own that can't be made known: which, why, what to do."""

    what: str
    problem: str
    advice: str

    def __str__(self) -> str:
        return f"{self.what}: {self.problem}; {self.advice}"


@attrs.define(slots=False)
class FabricFileError(LoopwrightError, ValueError):
    """A fabric file that can't be read or written: where, what was found, what to do."""

    place: str
    problem: str
    advice: str

    def __str__(self) -> str:
        return f"{self.place}: {self.problem}; {self.advice}"


@attrs.define(slots=False)
class RecordError(LoopwrightError, ValueError):
    """A file of a plan, a fit or a shape that can't be read or written: where, what, what to do."""

    place: str
    problem: str
    advice: str

    def __str__(self) -> str:
        return f"{self.place}: {self.problem}; {self.advice}"
