"""The river of imports runs one way, and the files keep to the house's limits.

The rules are functions of source texts, so that each can be shown a small package that breaks it.
"""

from __future__ import annotations

import ast
import inspect
import json
import os
import re
import subprocess
import sys
from collections import defaultdict
from collections.abc import Iterator, Mapping
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import TypeAlias

import networkx as nx
import pytest

from once import ONCE
from todays import todays
from together import together

pytestmark = pytest.mark.once
ROOT = Path(__file__).resolve().parents[1]
PACKAGE = "loopwright"

# A module imports from its own layer (without cycles) and from the layers before it.
LAYERS = (
    {"_late"},
    {
        "extras",
        "errors",
        "file_reading",
        "file_writing",
        "choice",
        "characters",
        "plurals",
        "border",
        "shown",
        "progress",
    },
    {"_registry", "units", "length", "gauge", "cloth", "ranges", "needle_table"},
    {"fabric"},
    {"making"},
    {"pattern"},
    {"geometry"},
    {"scanning"},
    {"sock", "yarn"},
    {"design"},
    {"fitting"},
    {"files"},
    {"picture"},
    {"report"},
    {"studies", "trying"},
    {"cli"},
    {"__init__", "__main__"},  # the facade and the door
)

# The rooms within the pattern: each imports from those before it; the last two know nothing of
# each other.
PATTERN_ROOMS = (("_rewording",), ("_grammar",), ("_reading",), ("_editing", "_deriving"))

TOP_LEVEL = {
    *(
        ".ci",
        ".gitignore",
        "CITATION.cff",
        "DEVELOPERS.md",
        "LICENSE",
        "README.md",
        "docs",
        "notebooks",
    ),
    *("pyproject.toml", "shared", "src", "tests"),
}
LONGEST = 600  # lines; past it, look for a second subject

Sources: TypeAlias = Mapping[str, str]
"""Source text by dotted module name; a package is its ``__init__``."""

Edge: TypeAlias = tuple[str, str]


@cache
def package_sources() -> dict[str, str]:
    base = ROOT / "src"
    return {
        ".".join(path.relative_to(base).with_suffix("").parts): path.read_text(encoding="utf-8")
        for path in sorted((base / PACKAGE).rglob("*.py"))
    }


@cache
def parsed(text: str) -> ast.Module:
    """The tree of a module, once for all rules."""
    return ast.parse(text)


@cache
def package_imports() -> Mapping[Edge, bool]:
    return imports(package_sources())


def imports(sources: Sources) -> dict[Edge, bool]:
    """Every import of one module of the package by another; True where a function hides it.

    Imports for type checkers only count as well: a cycle of types is a cycle of subjects.
    """
    found: dict[Edge, bool] = {}
    for module, text in sources.items():
        tree = parsed(text)
        for node, hidden in _imports_in(tree.body):
            for target in _targets(node, module, sources):
                found[module, target] = found.get((module, target), False) or hidden
    return found


def _imports_in(
    block: list[ast.stmt], hidden: bool = False
) -> Iterator[tuple[ast.Import | ast.ImportFrom, bool]]:
    """Imports are statements: nothing is gained by a look into expressions."""
    for node in block:
        if isinstance(node, ast.Import | ast.ImportFrom):
            yield node, hidden
        inside = hidden or isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        for name in ("body", "orelse", "finalbody", "handlers", "cases"):
            yield from _imports_in(getattr(node, name, []), inside)


def _targets(node: ast.Import | ast.ImportFrom, module: str, sources: Sources) -> Iterator[str]:
    if isinstance(node, ast.Import):
        names = [alias.name for alias in node.names]
    else:
        base = node.module or ""
        if node.level:
            parents = module.split(".")[: -node.level]
            base = ".".join([*parents, base] if base else parents)
        names = [
            f"{base}.{alias.name}" if _home(f"{base}.{alias.name}", sources) else base
            for alias in node.names
        ]
    for name in names:
        home = _home(name, sources)
        if home and home != module:
            yield home


def _home(name: str, sources: Sources) -> str | None:
    return next((home for home in (name, f"{name}.__init__") if home in sources), None)


def layer(module: str) -> int:
    room = module.split(".")[1]
    for number, rooms in enumerate(LAYERS):
        if room in rooms:
            return number
    raise AssertionError(f"{module}: give {room!r} a place in LAYERS")


def uphill(edges: Mapping[Edge, bool]) -> list[Edge]:
    return sorted((user, used) for user, used in edges if layer(user) < layer(used))


def cycle(edges: Mapping[Edge, bool]) -> list[Edge]:
    try:
        return list(nx.find_cycle(nx.DiGraph(list(edges))))
    except nx.NetworkXNoCycle:
        return []


def hidden(edges: Mapping[Edge, bool]) -> list[Edge]:
    return sorted(edge for edge, in_function in edges.items() if in_function)


def private(sources: Sources) -> list[str]:
    """Imports of a name that its home does not promise; a package's own modules are its own."""
    return sorted(
        f"{module} takes {alias.name} from {node.module}"
        for module, text in sources.items()
        for node, _ in _imports_in(parsed(text).body)
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith(PACKAGE)
        for alias in node.names
        if alias.name.startswith("_") and not alias.name.startswith("__")
        if not (f"{node.module}.{alias.name}" in sources and module.startswith(f"{node.module}."))
    )


def abroad(sources: Sources) -> list[Edge]:
    """Imports of what begins with an underscore, module or package, from outside its package."""
    return sorted(
        (user, used)
        for user, used in (package_imports() if sources is package_sources() else imports(sources))
        if (hidden := re.search(r"\._(?!_)", used))
        and not user.startswith(used[: hidden.start() + 1])
    )


def test_imports_run_one_way() -> None:
    assert uphill(package_imports()) == []


def rooms_uphill(edges: Mapping[Edge, bool]) -> list[Edge]:
    at = {room: place for place, rooms in enumerate(PATTERN_ROOMS) for room in rooms}

    def room(module: str) -> str:
        name = module.removeprefix(f"{PACKAGE}.pattern.").partition(".")[0]
        return name if name in at else ""

    return sorted(
        (user, used)
        for user, used in edges
        if f"{PACKAGE}.pattern.__init__" not in (user, used)
        if room(used) and room(user) != room(used) and at.get(room(user), -1) <= at[room(used)]
    )


def test_the_rooms_of_the_pattern_are_one_way_too() -> None:
    assert rooms_uphill(package_imports()) == []


def test_a_room_that_looks_up_is_caught() -> None:
    room = f"{PACKAGE}.pattern"
    for user, used in (
        ("_reading.a", "_editing.b"),
        ("steps", "_reading.b"),
        ("_editing.a", "_deriving.b"),
    ):
        found = imports({f"{room}.{user}": f"import {room}.{used}", f"{room}.{used}": ""})
        assert rooms_uphill(found) == [(f"{room}.{user}", f"{room}.{used}")]
        assert rooms_uphill({edge[::-1]: False for edge in found}) == (
            [] if user != "_editing.a" else [(f"{room}.{used}", f"{room}.{user}")]
        )


def test_no_module_imports_itself_round_a_corner() -> None:
    assert cycle(package_imports()) == []


def test_no_function_hides_an_import_of_the_package() -> None:
    assert hidden(package_imports()) == []


def test_private_names_stay_at_home() -> None:
    assert private(package_sources()) == []


def test_private_modules_stay_at_home() -> None:
    assert abroad(package_sources()) == []


def test_a_private_module_abroad_is_caught() -> None:
    small = {
        f"{PACKAGE}.fabric._cells": "",
        f"{PACKAGE}.fabric.checks": "from loopwright.fabric import _cells",
        f"{PACKAGE}.making.work": "from loopwright.fabric._cells import cells",
    }
    assert abroad(small) == [(f"{PACKAGE}.making.work", f"{PACKAGE}.fabric._cells")]


def test_a_module_of_a_private_package_abroad_is_caught() -> None:
    small = {
        f"{PACKAGE}.pattern._reading.lines": "",
        f"{PACKAGE}.pattern._editing.sums": "from loopwright.pattern._reading.lines import a",
        f"{PACKAGE}.sock.needles": "from loopwright.pattern._reading.lines import a",
    }
    assert abroad(small) == [(f"{PACKAGE}.sock.needles", f"{PACKAGE}.pattern._reading.lines")]


SMALL = {f"{PACKAGE}.__init__": "", f"{PACKAGE}.units": "", f"{PACKAGE}.fabric.__init__": ""}


@together(
    "line",
    [
        "import loopwright.fabric",
        "from loopwright import fabric",
        "from loopwright.fabric import Fabric",
        "from . import fabric",
        "from .fabric import Fabric",
        "def f():\n    from loopwright import fabric",
        "if TYPE_CHECKING:\n    from loopwright.fabric import Fabric",
        "class A:\n    import loopwright.fabric as f",
    ],
)
def test_an_import_uphill_is_caught_however_it_is_written(line: str) -> None:
    edges = imports({**SMALL, f"{PACKAGE}.units": line})
    assert uphill(edges) == [(f"{PACKAGE}.units", f"{PACKAGE}.fabric.__init__")]
    assert bool(hidden(edges)) == line.startswith("def")


def test_an_import_downhill_is_none_of_these() -> None:
    edges = imports({**SMALL, f"{PACKAGE}.fabric.__init__": "from ..units import mm"})
    assert list(edges) == [(f"{PACKAGE}.fabric.__init__", f"{PACKAGE}.units")]
    assert uphill(edges) == cycle(edges) == hidden(edges) == []


def test_a_cycle_in_one_layer_is_caught() -> None:
    edges = imports(
        {
            f"{PACKAGE}.fabric.__init__": "from loopwright.fabric.one import a",
            f"{PACKAGE}.fabric.one": "from loopwright.fabric.two import b",
            f"{PACKAGE}.fabric.two": "from loopwright.fabric import a",
        }
    )
    assert uphill(edges) == []
    assert len(cycle(edges)) == 3


def test_a_module_without_a_layer_is_caught() -> None:
    with pytest.raises(AssertionError, match="'attic' a place"):
        uphill(imports({**SMALL, f"{PACKAGE}.attic": "from loopwright import units"}))


def test_a_private_name_abroad_is_caught() -> None:
    assert private({f"{PACKAGE}.units": "from loopwright.errors import _root"})


_ALONE = """
import importlib, json, sys, traceback
layers = json.load(sys.stdin)
names = sorted(layers)
for way in (names, names[::-1]):
    for name in [name for name in sys.modules if name.partition(".")[0] == "loopwright"]:
        del sys.modules[name]
    for name in sorted(way, key=layers.get):  # stable: within a layer as in `way`
        try:
            importlib.import_module(name)
        except Exception:
            print(name)
            traceback.print_exc(file=sys.stdout)
"""


def imported_alone(layers: Mapping[str, int], path: Path = ROOT / "src") -> str:
    """Import all modules from the ground up, each layer forwards, then anew and each backwards.

    Of two modules of a layer, either comes before the other once, unless the one imports the
    other: what needs another loaded first fails one way. What went wrong comes back. Taking each
    module by itself finds no more, and imports most of the package 190 times.
    """
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", _ALONE],
        input=json.dumps(layers),
        capture_output=True,
        text=True,
        check=False,
        env={"PYTHONPATH": str(path)},
    )
    return done.stdout + done.stderr


def test_each_module_imports_alone() -> None:
    names = todays([name for name in package_sources() if name != f"{PACKAGE}.__init__"], 3)
    assert imported_alone({name.removesuffix(".__init__"): layer(name) for name in names}) == ""


def test_a_module_that_needs_another_loaded_first_is_caught(tmp_path: Path) -> None:
    (tmp_path / PACKAGE).mkdir()
    (tmp_path / PACKAGE / "__init__.py").write_text("")
    (tmp_path / PACKAGE / "b.py").write_text("import sys\nsys.modules['loopwright.a'].x = 1\n")
    (tmp_path / PACKAGE / "a.py").write_text("")
    report = imported_alone({f"{PACKAGE}.a": 0, f"{PACKAGE}.b": 0}, path=tmp_path)
    assert report.startswith(f"{PACKAGE}.b\n")
    assert "KeyError" in report


def test_each_module_promises_names_that_exist_and_say_what_they_are() -> None:
    """All at once: a test for each of 400 modules costs more in tests than in what it looks at."""
    wrong = []
    for name in package_sources():
        module = import_module(name.removesuffix(".__init__"))
        if name == f"{PACKAGE}.__main__":
            continue
        if not module.__doc__:
            wrong.append(f"{name} has no docstring")
        for public in getattr(module, "__all__", ()):
            thing = getattr(module, public)
            ours = getattr(thing, "__module__", "").startswith(PACKAGE)  # units.Quantity is pint's
            described = ours and (inspect.isclass(thing) or inspect.isroutine(thing))
            if described and not inspect.getdoc(thing):
                wrong.append(f"{name}.{public} has no docstring")
        if not name.endswith("__init__") and not hasattr(module, "__all__"):
            wrong.append(f"{name} has no __all__")
    assert wrong == []


def test_no_module_outgrows_the_limit() -> None:
    lines = {name: text.count("\n") for name, text in package_sources().items()}
    assert {name: long for name, long in lines.items() if long > LONGEST} == {}


def test_the_top_level_holds_what_it_should_and_nothing_else() -> None:
    ignored = (ROOT / ".gitignore").read_text(encoding="utf-8").split()
    passing = {".git", *(line.strip("/") for line in ignored)}
    there = {path.name for path in ROOT.iterdir()} - passing
    assert there <= TOP_LEVEL
    assert there >= TOP_LEVEL - {"notebooks"}


# What ties a file to one machine or one workplace. Written so that this file is not caught itself.
FOREIGN = re.compile(
    r"(?<![\w.<])/(?:work|tmp|root|home|opt|mnt|Users)/[\w.]"
    r"|file:/{2}|localhost:[0-9]|index-ur[l]|(?:registry|index|proxy|mirror)\.[a-z]+\.[a-z]{2,}"
)


def tracked() -> Iterator[Path]:
    for top in sorted(TOP_LEVEL & {path.name for path in ROOT.iterdir()}):
        path = ROOT / top
        files = path.rglob("*") if path.is_dir() else [path]
        skip = {"__pycache__", "_build", "api", "venv", ".ipynb_checkpoints"}
        yield from (f for f in files if f.is_file() and not skip & set(f.parts[:-1]))


def test_no_file_names_a_place_on_one_machine() -> None:
    caught = [
        f"{path.relative_to(ROOT)}:{number}: {line.strip()[:100]}"
        for path in tracked()
        for number, line in enumerate(path.read_text("utf-8", errors="replace").splitlines(), 1)
        if FOREIGN.search(line)
    ]
    assert caught == []


@together("top", ["work", "tmp", "root", "home", "Users"])
def test_a_place_on_one_machine_is_caught(top: str) -> None:
    assert FOREIGN.search(f"see /{top}/sock.toml")
    assert not FOREIGN.search(f"docs/{top}/sock.toml")


def outputs(notebook: str) -> int:
    """How many cells of a notebook keep an output or a count of runs."""
    return sum(
        bool(cell.get("outputs")) or cell.get("execution_count") is not None
        for cell in json.loads(notebook)["cells"]
    )


def test_notebooks_are_kept_without_their_outputs() -> None:
    kept = {
        path.name: outputs(path.read_text(encoding="utf-8"))
        for path in (ROOT / "notebooks").glob("*.ipynb")
    }
    assert not any(kept.values()), kept


@pytest.mark.parametrize(
    ("cell", "caught"),
    [
        ({"cell_type": "markdown"}, 0),
        ({"cell_type": "code", "outputs": [], "execution_count": None}, 0),
        ({"cell_type": "code", "outputs": [], "execution_count": 3}, 1),
        ({"cell_type": "code", "outputs": [{"output_type": "stream"}]}, 1),
    ],
)
def test_a_kept_output_is_caught(cell: dict[str, object], caught: int) -> None:
    assert outputs(json.dumps({"cells": [cell]})) == caught


def test_the_readme_holds_the_commands_that_ci_runs() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    commands = re.findall(r"^<!-- command: (\w+) -->\n```bash\n(.+)\n```$", readme, re.MULTILINE)
    assert len(commands) == len(re.findall("<!-- command: ", readme))
    assert "test" in dict(commands)
    for name, command in commands:
        assert command.startswith("python3 -m venv .venv && .venv/bin/pip install "), name


def test_a_module_and_a_test_of_it_are_collected_together() -> None:
    """The module is not imported twice, which would make two classes of each of its classes."""
    there = ["src/loopwright/sock/heels/_turns.py", "tests/sock/test_constructions.py"]
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "--collect-only"]
    quick = {**os.environ, "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1", "PYTEST_ADDOPTS": ""}
    done = subprocess.run(
        [*command, *there], cwd=ROOT, capture_output=True, text=True, check=False, env=quick
    )
    assert done.returncode == 0, done.stdout


def class_names(sources: Sources) -> dict[str, list[str]]:
    """The modules that define each public class; a name is the same with and without underscore."""
    found: dict[str, list[str]] = defaultdict(list)
    for module, text in sources.items():
        for node in parsed(text).body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                found[node.name].append(module)
    return found


def operations(sources: Sources) -> dict[str, list[str]]:
    """The packages and public modules that promise each function."""
    found: dict[str, list[str]] = defaultdict(list)
    for module in sources:
        name = module.removesuffix(".__init__")
        if any(part.startswith("_") for part in name.split(".")):
            continue
        loaded = import_module(name)
        for public in getattr(loaded, "__all__", ()):
            if inspect.isroutine(getattr(loaded, public)):
                found[public].append(name)
    return found


def test_each_class_name_means_one_thing() -> None:
    several = {name: homes for name, homes in class_names(package_sources()).items() if homes[1:]}
    assert several == {}


def test_a_class_name_of_two_meanings_is_caught() -> None:
    small = {f"{PACKAGE}.units": "class Length: ...", f"{PACKAGE}.gauge": "class Length: ..."}
    assert class_names(small)["Length"] == [f"{PACKAGE}.units", f"{PACKAGE}.gauge"]


def test_no_module_has_the_name_of_an_operation() -> None:
    modules = {name.removesuffix(".__init__").rpartition(".")[2] for name in package_sources()}
    public = {name for name in modules if not name.startswith("_")}
    found = operations(package_sources())
    assert {name: homes for name, homes in found.items() if name in public} == {}


def test_operations_are_found_where_they_are_promised() -> None:
    found = operations(package_sources())
    assert f"{PACKAGE}.pattern" in found["knitted"]
    assert PACKAGE in found["knit"]


def test_files_that_run_once_are_there() -> None:
    assert [name for name in sorted(ONCE) if not (ROOT / "tests" / name).is_file()] == []
