"""What is imported when it is first used, so that nobody waits for what is not asked for.

A package promises names whose homes take long to load; a tool that only knits loads no reader of
texts. Other people's packages, too, are loaded when something of them is first needed.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping, MutableMapping, Sequence
from importlib import import_module
from typing import Any

__all__ = ["LatePackage", "late"]


def late(
    names: MutableMapping[str, Any], homes: Mapping[str, Sequence[str]]
) -> tuple[Callable[[str], Any], Callable[[], list[str]]]:
    """Return the ``__getattr__`` and ``__dir__`` of a package, some of whose names come late.

    Parameters
    ----------
    names : mapping
        The package's ``globals()``.
    homes : mapping of str to sequence of str
        By module within the package, the names that it holds. Private homes guard theirs.

    Examples
    --------
    >>> get, listed = late({"__name__": "collections"}, {"abc": ["Mapping"]})
    >>> get("Mapping").__name__, "Mapping" in listed()
    ('Mapping', True)
    """
    package = names["__name__"]
    home_of = {name: home for home, held in homes.items() for name in held}

    def get(name: str) -> Any:
        if name not in home_of:
            said = f"module {package!r} has no attribute {name!r}"
            here = sys.modules[package]  # of which Python tells what name is near
            raise AttributeError(said, name=name, obj=here)
        names[name] = getattr(import_module(f"{package}.{home_of[name]}"), name)
        return names[name]

    return get, lambda: sorted({*names, *home_of})


class LatePackage:
    """Somebody else's package, imported when something of it is first asked for.

    Examples
    --------
    >>> maths = LatePackage("math")
    >>> maths.gcd(64, 48)
    16
    """

    def __init__(self, name: str) -> None:
        self._name = name

    def __getattr__(self, name: str) -> Any:
        found = getattr(import_module(self._name), name)
        setattr(self, name, found)  # this is asked once for each name
        return found
