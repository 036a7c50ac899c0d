"""Names in docstrings are found where they are at home, whatever package hands them on.

`loopwright.fabric.check` leads to the page of `loopwright.fabric.checks`, and a name alone to the
one thing of that name. A reference to a name of the package that there is not, is a warning.
"""

from __future__ import annotations

from collections import defaultdict
from contextlib import suppress
from functools import cache
from importlib import import_module
from typing import Any

from docutils import nodes
from public_names import PACKAGE, documented, home_of, modules
from sphinx.util import logging

_log = logging.getLogger(__name__)


@cache
def homes() -> dict[str, str]:
    """The full name at home of each promised name, by the name alone, where it is one thing's."""
    found = modules()
    known = {module.__name__ for module in found}
    full = defaultdict(set)
    for module in documented(found):
        for name in module.__all__:
            full[name].add(f"{home_of(module, name, known)}.{name}")
    return {name: one for name, (one, *others) in full.items() if not others}


def at_home(target: str) -> str | None:
    """The full name where it is defined of what a reference names, None if it is not promised."""
    if target.startswith(f"{PACKAGE}."):
        parts = target.split(".")
        for end in range(len(parts) - 1, 0, -1):
            with suppress(ImportError):
                module = import_module(".".join(parts[:end]))
                if not hasattr(module, parts[end]):
                    return None
                known = {one.__name__ for one in modules()}
                return ".".join((home_of(module, parts[end], known), *parts[end:]))
    first, *members = target.split(".")
    is_argument = first.islower() and "_" not in first and not members  # ``count``, ``name``
    return None if is_argument or first not in homes() else ".".join((homes()[first], *members))


def exists(target: str) -> bool:
    """Whether the package has what a full name says, promised or not."""
    parts = target.split(".")
    for end in range(len(parts), 0, -1):
        with suppress(ImportError):
            thing: Any = import_module(".".join(parts[:end]))
            for name in parts[end:]:
                if not hasattr(thing, name) and name not in getattr(thing, "__annotations__", {}):
                    return False
                thing = getattr(thing, name, None)
            return True
    return False


def resolve(app: Any, env: Any, node: Any, content: nodes.Element) -> nodes.Element | None:
    """Find what a reference names; warn of one that names nothing."""
    target = node.get("reftarget", "")
    if node.get("refdomain") != "py" or not target:
        return None
    full = at_home(target)
    if full is not None and full != target:
        domain = env.get_domain("py")
        found: nodes.Element | None = domain.resolve_xref(
            env, node["refdoc"], app.builder, "obj", full, node, content
        )
        return found
    if target.startswith(f"{PACKAGE}.") and not exists(target):
        _log.warning("there is no %s", target, location=node)
    return None


def setup(app: Any) -> dict[str, Any]:
    """Register with Sphinx."""
    app.connect("missing-reference", resolve)
    return {"version": "1", "parallel_read_safe": True}
