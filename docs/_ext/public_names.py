"""Write a page of the reference for each module, from the names that its ``__all__`` promises.

A name is documented where it is defined. A package that hands it on lists it with a link there, so
that each name has one home in the documentation too. A private module has a page if it is the home
of what a public one hands on, or of a type in that. The pages are generated on every build and not
kept. A build whose pages lack a promised name fails.
"""

from __future__ import annotations

import inspect
import pkgutil
import re
import shutil
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any, get_origin

from plain_data import entry as data_entry
from plain_data import told_of, value_of
from sphinx.errors import ExtensionError

PACKAGE = "loopwright"


def modules() -> list[ModuleType]:
    """The package and every module in it that promises names."""
    package = import_module(PACKAGE)
    walked = pkgutil.walk_packages(package.__path__, prefix=f"{PACKAGE}.")
    found = [package, *(import_module(info.name) for info in walked)]
    return [module for module in found if getattr(module, "__all__", None)]


def home_of(module: ModuleType, name: str, known: set[str]) -> str:
    """The module that defines a name: its own, or this one for plain data."""
    thing = getattr(module, name)
    home = getattr(thing, "__module__", None)
    # An instance says where its class is defined, which need not be where it is.
    if home in known and getattr(import_module(str(home)), name, None) is thing:
        return str(home)
    if not inspect.isclass(thing) and not inspect.isroutine(thing):
        # Plain data and aliases of types have no module: the one below promises them.
        below = (one for one in sorted(known) if one.startswith(f"{module.__name__}."))
        for other in map(import_module, below):
            if name in other.__all__ and getattr(other, name) is thing:
                return home_of(other, name, known)
    return module.__name__


def is_private(module: ModuleType) -> bool:
    """Whether an underscore says that only its own package imports it."""
    return any(part.startswith("_") for part in module.__name__.split("."))


def documented(found: list[ModuleType]) -> list[ModuleType]:
    """The public modules, and the private ones that are the home of what these promise or take."""
    told = _with_homes([module for module in found if not is_private(module)], found)
    words = {word for module in told for word in _words_of_types(module)}
    return _with_homes([one for one in found if one in told or words & _classes_of(one)], found)


def _with_homes(told: list[ModuleType], found: list[ModuleType]) -> list[ModuleType]:
    """Some modules and those where the names that they promise are at home, and so on."""
    known = {module.__name__ for module in found}
    names = {module.__name__ for module in told}
    names |= {home_of(module, name, known) for module in told for name in module.__all__}
    return (
        told
        if len(names) == len(told)
        else _with_homes([module for module in found if module.__name__ in names], found)
    )


def _classes_of(module: ModuleType) -> set[str]:
    """The names of the classes that are defined in a module and promised by it."""
    of = {name: getattr(module, name) for name in module.__all__}
    return {
        name
        for name, thing in of.items()
        if inspect.isclass(thing) and thing.__module__ == module.__name__
    }


def _words_of_types(module: ModuleType) -> Iterator[str]:
    """The words in the types of what a module's names take, hold and return."""
    for name in module.__all__:
        thing = getattr(module, name)
        members = vars(thing).values() if inspect.isclass(thing) else ()
        for one in (thing, *members):
            told = getattr(getattr(one, "fget", one), "__annotations__", {})
            yield from re.findall(r"\w+", str(told))


def page(module: ModuleType, known: set[str]) -> str:
    """One page in reStructuredText."""
    title = module.__name__.removeprefix(f"{PACKAGE}.")  # the full name breaks in the sidebar
    lines = [title, "=" * len(title), "", f".. automodule:: {module.__name__}", ""]
    for name in sorted(module.__all__, key=str.casefold):
        home = home_of(module, name, known)
        if home != module.__name__:
            lines += [f"- :py:obj:`~{home}.{name}`: {summary(home, name)}"]
            continue
        lines += ["", *entry(module, name), ""]
    return "\n".join(lines) + "\n"


def summary(home: str, name: str) -> str:
    """The first sentence of what is told of a name where it is at home."""
    module = import_module(home)
    thing = getattr(module, name)
    if inspect.isclass(thing) or inspect.isroutine(thing):
        return (inspect.getdoc(thing) or "").partition("\n\n")[0].replace("\n", " ")
    told = " ".join(told_of(module, name)).partition("  ")[0]
    return told or f"``{value_of(module, name) or type(thing).__name__}``"


def entry(module: ModuleType, name: str) -> list[str]:
    """What documents one name: a directive of autodoc, or data in words."""
    thing = getattr(module, name)
    if get_origin(thing) is not None:  # autodoc takes such an alias for a call and fails
        alias = f"Alias of ``{str(thing).replace('typing.', '')}``."
        told = [*told_of(module, name), "", alias]
        return [f".. py:data:: {name}", "", *(f"   {line}" for line in told)]
    if inspect.isclass(thing):
        error = issubclass(thing, BaseException)
        return [f".. {'autoexception' if error else 'autoclass'}:: {name}", "   :members:"]
    if inspect.isroutine(thing):
        return [f".. autofunction:: {name}"]
    return data_entry(module, name)


def write_pages(app: Any) -> None:
    """Replace the generated pages before the sources are read."""
    folder = Path(app.srcdir) / "reference" / "api"
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    found = modules()
    known = {module.__name__ for module in found}
    for module in documented(found):
        (folder / f"{module.__name__}.rst").write_text(page(module, known), encoding="utf-8")


def missing_names(folder: Path) -> list[str]:
    """The promised names that have no place in the built pages, or no link to it."""
    found = modules()
    known = {module.__name__ for module in found}
    missing = []
    for module in documented(found):
        path = folder / f"{module.__name__}.html"
        built = path.read_text(encoding="utf-8") if path.exists() else ""
        for name in module.__all__:
            home = home_of(module, name, known)
            place = f"{home}.{name}"
            here = f'id="{place}"' if home == module.__name__ else f'href="{home}.html#{place}"'
            if here not in built:
                missing.append(f"{module.__name__}.{name}")
    return missing


def require_names(app: Any, exception: Exception | None) -> None:
    """Fail a build of pages that lack a name."""
    if exception is None and app.builder.name == "html":
        missing = missing_names(Path(app.outdir) / "reference" / "api")
        if missing:
            raise ExtensionError(f"the reference lacks {', '.join(missing)}")


def leave_out(app: Any, what: str, name: str, thing: Any, skip: bool, options: Any) -> bool | None:
    """Leave out what matplotlib puts into a subclass, in markup that only its own pages read."""
    of = getattr(thing, "__module__", None) or PACKAGE
    return True if what == "class" and of.partition(".")[0] == "matplotlib" else None


def setup(app: Any) -> dict[str, Any]:
    """Register with Sphinx."""
    app.connect("builder-inited", write_pages)
    app.connect("autodoc-skip-member", leave_out)
    app.connect("build-finished", require_names)
    return {"version": "1", "parallel_read_safe": True}
