"""Link each name of the reference to the executed examples that use it.

The examples in the docstrings and in these pages are run, with each name and attribute that they
read written down. A name whose docstring has no example of its own says where it is shown; a
build fails where a name that a package hands on is shown nowhere. `python docs/_ext/shown.py`
lists those. That the examples print what they say is for the tests. Where these have just run them,
with `watched.py` beside this file, what was written down then is taken, and none is run again.
"""

from __future__ import annotations

import ast
import contextlib
import doctest
import hashlib
import inspect
import io
import json
import sys
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import Any, Final

from public_names import documented, home_of, modules
from sphinx.errors import ExtensionError

DOCS: Final = Path(__file__).parents[1]
SEEN: Final = "_seen"
AT_MOST: Final = 2  # links to examples; more are a list to search, not a help


class _Watched(ast.NodeTransformer):
    """Hand to `SEEN` on its way what is read by name or attribute, and what a call returns."""

    def __init__(self, types_are_texts: bool) -> None:
        self.types_are_texts = types_are_texts  # then who looks at them must find them as written

    def visit_AnnAssign(self, node: ast.AnnAssign) -> ast.AST:
        return self._but_for_its_type(node, "annotation")

    def visit_arg(self, node: ast.arg) -> ast.AST:
        return self._but_for_its_type(node, "annotation")

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.AST:
        return self._but_for_its_type(node, "returns")

    def _but_for_its_type(self, node: ast.AST, name: str) -> ast.AST:
        if not self.types_are_texts:
            return self.generic_visit(node)
        told = getattr(node, name)
        setattr(node, name, None)
        self.generic_visit(node)
        setattr(node, name, told)
        return node

    def visit_Attribute(self, node: ast.Attribute) -> ast.expr:
        self.generic_visit(node)
        if not isinstance(node.ctx, ast.Load):
            return node
        return _call(node.value, ast.Constant(node.attr))

    def visit_Call(self, node: ast.Call) -> ast.expr:
        self.generic_visit(node)
        return _call(node)

    def visit_Name(self, node: ast.Name) -> ast.expr:
        return _call(node) if isinstance(node.ctx, ast.Load) else node


def _call(*args: ast.expr) -> ast.expr:
    return ast.Call(ast.Name(SEEN, ast.Load()), list(args), [])


def _names_of(thing: Any) -> Iterator[str]:
    """The public names by which a value is known: its own, and those of its class and bases."""
    if inspect.isclass(thing) or inspect.isroutine(thing):
        yield f"{thing.__module__}.{thing.__qualname__}"
    if not isinstance(thing, ModuleType):
        for of in type(thing).__mro__:
            yield f"{of.__module__}.{of.__qualname__}"


def _members(thing: Any, name: str) -> Iterator[str]:
    """The methods or properties that reading an attribute names, an overridden one too."""
    for of in (thing if inspect.isclass(thing) else type(thing)).__mro__:
        if name in vars(of):
            yield f"{of.__module__}.{of.__qualname__}.{name}"


def watch(test: doctest.DocTest) -> set[str]:
    """The names that the examples of one docstring or page use, to be filled while they run."""
    names = set(_protocol(test))

    def seen(thing: Any, *attribute: str) -> Any:
        for name in attribute:
            names.update(_members(thing, name))
            thing = getattr(thing, name)
        names.update(_names_of(thing))
        return thing

    watcher = _Watched("annotations" in test.globs)  # as ``from __future__ import`` leaves it
    for example in test.examples:
        watched = watcher.visit(ast.parse(example.source))
        example.source = ast.unparse(ast.fix_missing_locations(watched)) + "\n"
        if example.exc_msg:
            names.add(example.exc_msg.partition(":")[0].strip())
    test.globs[SEEN] = seen
    return names


def _run(test: doctest.DocTest) -> set[str]:
    names = watch(test)
    flags = doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE
    with contextlib.redirect_stdout(io.StringIO()):
        doctest.DocTestRunner(verbose=False, optionflags=flags).run(test, out=lambda _: None)
    return names


def _is_protocol(thing: Any) -> bool:
    return bool(getattr(thing, "_is_protocol", False))


def _protocol(test: doctest.DocTest) -> list[str]:
    """The name of a protocol whose own docstring this is: nothing that is made bears it."""
    thing = test.globs.get(test.name.rpartition(".")[2])
    return [test.name] if _is_protocol(thing) else []


def place_of_page(path: Path) -> str:
    """The link to a page."""
    return f":doc:`/{path.relative_to(DOCS).with_suffix('').as_posix()}`"


def place_of_docstring(name: str, module: str) -> str:
    """The link to a name with a docstring."""
    return f":{'py:mod' if name == module else 'py:obj'}:`~{name}`"


def _pages() -> Iterator[tuple[str, doctest.DocTest]]:
    for path in sorted(DOCS.rglob("*.md")):
        text = path.read_text(encoding="utf-8")
        test = doctest.DocTestParser().get_doctest(text, {}, path.name, str(path), 0)
        yield place_of_page(path), test


def _docstrings() -> Iterator[tuple[str, doctest.DocTest]]:
    finder = doctest.DocTestFinder(exclude_empty=True)
    for module in modules():
        for test in finder.find(module, module.__name__):
            yield place_of_docstring(test.name, module.__name__), test


def _shown() -> dict[str, set[str]]:
    """The names that are used, by the place of the examples that use them."""
    with contextlib.chdir(DOCS.parent):
        return {place: _run(test) for place, test in (*_docstrings(), *_pages()) if test.examples}


def _digest() -> str:
    sources = sorted((*DOCS.rglob("*.md"), *(DOCS.parent / "src").rglob("*.py")))
    return hashlib.sha256(b"".join(path.read_bytes() for path in sources)).hexdigest()


def keep(names: dict[str, set[str]], cache: Path) -> None:
    """Write down which names are used, by the place of the examples that use them."""
    told = {place: sorted(used) for place, used in sorted(names.items())}
    cache.parent.mkdir(parents=True, exist_ok=True)
    text = json.dumps({"digest": _digest(), "names": told})
    cache.write_text(text, encoding="utf-8")


def shown(cache: Path | None = None) -> dict[str, list[str]]:
    """The places that use a name, by the name; from a file as long as no source has changed."""
    kept = json.loads(cache.read_text("utf-8")) if cache is not None and cache.exists() else {}
    if kept.get("digest") == _digest():
        names = {place: set(used) for place, used in kept["names"].items()}
    else:
        names = _shown()
        if cache is not None:
            keep(names, cache)
    places = defaultdict(list)
    for place, used in sorted(names.items()):
        for name in used:
            places[name].append(place)
    return dict(places)


def handed_on() -> set[str]:
    """The names that a package hands on, or a module beside the packages, with their methods."""
    found = modules()
    known = {module.__name__ for module in found}
    names = set()
    for module in found:
        if not hasattr(module, "__path__") and module.__name__.count(".") > 1:
            continue
        for name in module.__all__:
            thing = getattr(module, name)
            full = f"{home_of(module, name, known)}.{name}"
            if not getattr(thing, "__module__", "").startswith("loopwright"):
                continue  # another package's, under a name of ours: units.Quantity
            if inspect.isroutine(thing) or inspect.isclass(thing):
                names.add(full)
            if inspect.isclass(thing) and not _is_protocol(thing):
                names.update(f"{full}.{member}" for member in _public_members(thing))
    return names


def _public_members(thing: type) -> Iterator[str]:
    for name, member in vars(thing).items():
        wrapped = isinstance(member, property | classmethod | staticmethod)
        if not name.startswith("_") and (wrapped or inspect.isroutine(member)):
            yield name


def _best(name: str, places: list[str]) -> list[str]:
    """The examples nearest to a name: of its class, of its module, in the pages, elsewhere."""
    of_class, of_module = f"`~{name.rpartition('.')[0]}`", name.rpartition(".")[0]

    def distance(place: str) -> int:
        if place.endswith(of_class):
            return 0
        if of_module in place:
            return 1
        return 2 if place.startswith(":doc:") else 3

    return sorted(places, key=distance)[:AT_MOST]


def _collect(app: Any) -> None:
    app.shown = shown(Path(app.doctreedir) / "shown.json")
    app.without_page = {one.__name__ for one in modules()} - {
        one.__name__ for one in documented(modules())
    }
    unshown, known = handed_on() - set(app.shown), not_shown()
    if new := sorted(unshown - known):
        raise ExtensionError(f"no executed example uses {', '.join(new)}")
    if old := sorted(known - unshown):
        raise ExtensionError(f"docs/_ext/not_shown.txt lists what is shown: {', '.join(old)}")


def not_shown() -> set[str]:
    """Names that are known to be shown nowhere yet."""
    text = (Path(__file__).parent / "not_shown.txt").read_text("utf-8")
    return {line for line in text.splitlines() if line and not line.startswith("#")}


def _tell(app: Any, what: str, name: str, thing: Any, options: Any, lines: list[str]) -> None:
    """Say under a docstring without examples where its name is shown."""
    places = _best(name, [place for place in app.shown.get(name, []) if _is_linked(app, place)])
    if places and what != "module" and not any(line.lstrip().startswith(">>>") for line in lines):
        lines += ["", f"*Shown in* {' and '.join(places)}.", ""]


def _is_linked(app: Any, place: str) -> bool:
    """Whether a place has a page: a private module that hands nothing on has none."""
    name = place.partition("`~")[2].rstrip("`").split(".")
    return not any(".".join(name[:end]) in app.without_page for end in range(len(name) + 1))


def setup(app: Any) -> dict[str, Any]:
    """Register with Sphinx."""
    app.connect("builder-inited", _collect, priority=600)
    app.connect("autodoc-process-docstring", _tell, priority=900)  # numpydoc rewrites them first
    return {"version": "1", "parallel_read_safe": True}


if __name__ == "__main__":
    sys.stdout.writelines(f"{name}\n" for name in sorted(handed_on() - set(shown())))
