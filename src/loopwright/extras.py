"""Packages that come with an extra: imported when they are needed, missed by a typed error."""

from __future__ import annotations

from importlib import import_module
from importlib.util import find_spec
from typing import Any

import attrs

from loopwright.errors import LoopwrightError

__all__ = ["MissingExtraError", "from_extra", "is_installed"]


@attrs.define(slots=False)
class MissingExtraError(LoopwrightError, ImportError):
    """What an extra of this package brings, and what is not installed.

    Examples
    --------
    >>> print(MissingExtraError("a PDF", "typst", "pdf"))
    a PDF needs typst, which is not installed: pip install 'loopwright[pdf]'
    """

    what: str
    package: str
    extra: str

    def __str__(self) -> str:
        way = f"pip install 'loopwright[{self.extra}]'"
        return f"{self.what} needs {self.package}, which is not installed: {way}"


def is_installed(package: str) -> bool:
    """Whether a package is there to be imported.

    Examples
    --------
    >>> is_installed("numpy"), is_installed("no_such_package")
    (True, False)
    """
    return find_spec(package) is not None


def from_extra(package: str, what: str, extra: str) -> Any:
    """Return a package that an extra brings.

    Parameters
    ----------
    package, what, extra : str
        The module to import, what needs it, and the extra of loopwright that brings it.

    Raises
    ------
    MissingExtraError
        It is not installed.

    Examples
    --------
    >>> from_extra("no_such_package", "a loom", "looms")
    Traceback (most recent call last):
    ...
    loopwright.extras.MissingExtraError: a loom needs no_such_package, which is not installed:
        pip install 'loopwright[looms]'
    """
    if not is_installed(package):  # whatever fails inside it is no matter of installing
        raise MissingExtraError(what, package, extra)
    return import_module(package)
