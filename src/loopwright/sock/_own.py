"""Heels, toes, cuffs and legs of other packages and of your own files."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

from loopwright.sock._cuffs import cuff
from loopwright.sock._legs import leg
from loopwright.sock._parts import Parts, installed_parts, parts_of_file
from loopwright.sock._toes import toe
from loopwright.sock.heels import heel

__all__ = ["load_file", "load_installed"]

_KINDS: Final[tuple[Parts[Any], ...]] = (heel, toe, cuff, leg)


def load_installed() -> None:
    """Make known the parts of installed packages, from their entry points ``loopwright.parts``.

    The commands do it before they read a design. A package says in its ``pyproject.toml``:

    .. code-block:: toml

        [project.entry-points."loopwright.parts"]
        harbour = "harbour_heels"

    Raises
    ------
    PartError
        A package's parts can't be imported or are refused; says which package.

    Examples
    --------
    >>> load_installed()
    """
    installed_parts(*_KINDS)


def load_file(path: str | Path) -> None:
    """Run a Python file of parts of your own. It can do whatever you can: know what it holds.

    Run again only where it has changed; what it made known before is then forgotten first.

    Raises
    ------
    PartError
        It can't be read or run, or what it makes known is refused.

    Examples
    --------
    >>> load_file("no-such-heel.py")
    Traceback (most recent call last):
    ...
    loopwright.errors.PartError: parts in no-such-heel.py: ...No such file...; mend the file, ...
    """
    parts_of_file(Path(path), *_KINDS)
