"""Change one thing in the code, and see whether a test notices; see the README here.

    PYTHONPATH=tests python tests/faults/mutate.py --room making --mutants 20 --seed 1

A mutant is one file with one place changed: a comparison turned, a sum made a difference, a number
one larger, `and` for `or`, a condition denied, a statement left out. The tests are run once, to see
which of them come to which lines; each mutant is put into a copy of the package then, and the tests
that come to its lines are run on it, the quickest first, until one fails. Mutants that no test
notices are listed, for somebody to say which test is missing, or that nothing is changed by it.
"""

from __future__ import annotations

import argparse
import ast
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ET
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import attrs
import coverage
import pytest

ROOT: Final = Path(__file__).resolve().parents[2]
ROOMS: Final = {
    "making": "making", "fabric": "fabric", "pattern": "pattern", "heels": "sock/heels",
}  # fmt: skip
TESTS: Final = (
    "tests/making", "tests/fabric", "tests/pattern", "tests/sock", "tests/test_limits.py",
    *(f"src/loopwright/{room}" for room in ("making", "fabric", "pattern", "sock")),
)  # fmt: skip
SLOWEST_S: Final = 600  # for the tests of one mutant; one that never ends is noticed, too
_OTHER: Final[dict[type[ast.AST], type[ast.AST]]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq, ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.FloorDiv, ast.FloorDiv: ast.Mult,
    ast.And: ast.Or, ast.Or: ast.And, ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd,
    ast.BitXor: ast.BitOr, ast.USub: ast.UAdd,
}  # fmt: skip


@attrs.frozen
class Mutant:
    """One place of one file, and what stands there instead."""

    file: Path
    lines: range
    what: str
    source: str

    def __str__(self) -> str:
        return f"{self.file.relative_to(ROOT)}:{self.lines.start}: {self.what}"


def places(tree: ast.Module) -> Iterator[tuple[ast.AST, str]]:
    """Return every node that can be changed, with the way to change it."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Compare) and type(node.ops[0]) in _OTHER:
            yield node, "compare"
        elif isinstance(node, ast.BinOp | ast.BoolOp | ast.AugAssign | ast.UnaryOp) and (
            type(node.op) in _OTHER
        ):
            yield node, "operator"
        elif isinstance(node, ast.Constant) and type(node.value) is int:
            yield node, "number"
        elif isinstance(node, ast.Constant) and type(node.value) is bool:
            yield node, "truth"
        elif isinstance(node, ast.If | ast.IfExp | ast.While):
            yield node, "condition"
        elif isinstance(node, ast.Expr) and isinstance(node.value, ast.Call):
            yield node, "statement"


def changed(node: ast.AST, way: str) -> str:
    """Change a node where it stands and say what was done."""
    before = ast.unparse(node).splitlines()[0][:60]
    if way == "compare":
        assert isinstance(node, ast.Compare)
        other = _OTHER[type(node.ops[0])]()
        assert isinstance(other, ast.cmpop)
        node.ops[0] = other
    elif way == "operator":
        assert isinstance(node, ast.BinOp | ast.BoolOp | ast.AugAssign | ast.UnaryOp)
        node.op = _OTHER[type(node.op)]()  # type: ignore[assignment]  # of the same family
    elif way in ("number", "truth"):
        assert isinstance(node, ast.Constant)
        node.value = not node.value if way == "truth" else int(str(node.value)) + 1
    elif way == "condition":
        assert isinstance(node, ast.If | ast.IfExp | ast.While)
        node.test = ast.UnaryOp(ast.Not(), node.test)
    else:
        assert isinstance(node, ast.Expr)
        node.value = ast.Constant(None)
    return f"{before}  ->  {ast.unparse(node).splitlines()[0][:60]}"


def drawn(folder: Path, r: random.Random) -> Mutant:
    """Return a mutant of a file of the folder, every place as likely as any other."""
    files = sorted(folder.rglob("*.py"))
    sizes = [len(list(places(ast.parse(file.read_text("utf-8"))))) for file in files]
    (file,) = r.choices(files, sizes)
    tree = ast.parse(file.read_text("utf-8"))
    node, way = r.choice(list(places(tree)))
    what = changed(node, way)
    assert isinstance(node, ast.expr | ast.stmt)
    lines = range(node.lineno, (node.end_lineno or node.lineno) + 1)
    return Mutant(file, lines, what, ast.unparse(ast.fix_missing_locations(tree)))


def copied(folder: Path) -> Path:
    """Put the package and its tests into a folder."""
    for name in ("src", "tests", "shared", "docs"):
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
        shutil.copy(ROOT / name, folder / name)
    return folder


@attrs.frozen
class Map:
    """Which tests come to which lines, and how long each test takes."""

    data: coverage.CoverageData
    seconds: dict[str, float]

    def tests(self, copy: Path, mutant: Mutant) -> list[str]:
        """Return the tests that come to a mutant, the quickest first.

        What is run when a module is imported belongs to all tests that use the module.
        """
        lines = self.data.contexts_by_lineno(str(copy / mutant.file.relative_to(ROOT)))
        found = {name for line in mutant.lines for name in lines.get(line, ())}
        if found <= {""}:
            found = {name for names in lines.values() for name in names}
        tests = {name.rpartition("|")[0] for name in found} - {""}
        return sorted(tests, key=lambda test: self.seconds.get(test, 0.0))


def mapped(copy: Path) -> Map:
    """Run the tests once, and keep which of them come to which lines."""
    times = copy / "times.xml"
    command = [
        sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-p", "no:randomly",
        f"--junitxml={times}", "-o", "junit_family=xunit1", "--no-cov-on-fail",
        "--cov", "--cov-context=test", "--cov-report=", "--cov-fail-under=0", *TESTS,
    ]  # fmt: skip
    path = os.pathsep.join((str(copy / "src"), str(copy / "tests")))
    subprocess.run(command, cwd=copy, check=True, env={**os.environ, "PYTHONPATH": path, "CI": "1"})
    data = coverage.CoverageData(str(copy / ".coverage"))
    data.read()
    seconds: dict[str, float] = defaultdict(float)
    for case in ET.parse(times).iter("testcase"):
        seconds[f"{case.get('file')}::{case.get('name')}"] += float(case.get("time", 0))
    return Map(data, seconds)


class Chosen:
    """The tests that are to be run, in their order: a plug-in of pytest."""

    def __init__(self, tests: list[str]) -> None:
        self.order = {test: place for place, test in enumerate(tests)}

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Keep what is chosen, the quickest first."""
        items[:] = [item for item in items if item.nodeid in self.order]
        items.sort(key=lambda item: self.order[item.nodeid])


def is_noticed(mutant: Mutant, copy: Path, tests: list[str]) -> bool:
    """Whether a test fails on a copy of the package that holds the mutant.

    The tests are run in a child of this process, which has the slow imports behind it.
    """
    if not tests:
        return False
    place = copy / mutant.file.relative_to(ROOT)
    before = place.read_bytes()
    place.write_text(mutant.source, "utf-8")
    child = os.fork()
    if not child:
        signal.alarm(SLOWEST_S)
        os.chdir(copy)
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
        files = sorted({test.partition("::")[0] for test in tests})
        options = ["-x", "-q", "-p", "no:cacheprovider", "-p", "no:randomly"]
        os._exit(int(pytest.main([*options, *files], plugins=[Chosen(tests)])))
    status = os.waitpid(child, 0)[1]
    place.write_bytes(before)
    return os.waitstatus_to_exitcode(status) not in (0, pytest.ExitCode.NO_TESTS_COLLECTED)


def main() -> int:
    reader = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    reader.add_argument("--room", choices=ROOMS, action="append")
    reader.add_argument("--mutants", type=int, default=20)
    reader.add_argument("--seed", type=int, default=None)
    asked = reader.parse_args()
    seed = random.randrange(2**32) if asked.seed is None else asked.seed
    os.environ |= {"CI": "1", "PYTHONDONTWRITEBYTECODE": "1"}
    with tempfile.TemporaryDirectory() as folder:
        copy = copied(Path(folder))
        known = mapped(copy)
        for room in asked.room or ROOMS:
            r, survivors = random.Random(f"{seed} {room}"), 0
            for number in range(asked.mutants):
                mutant = drawn(ROOT / "src" / "loopwright" / ROOMS[room], r)
                tests = known.tests(copy, mutant)
                if not number:  # or whatever fails by itself would pass for a kill
                    unchanged = attrs.evolve(mutant, source=mutant.file.read_text("utf-8"))
                    if is_noticed(unchanged, copy, tests):
                        sys.exit(f"{mutant.file.name}: its tests fail without a change")
                noticed = is_noticed(mutant, copy, tests)
                survivors += not noticed
                word = "killed  " if noticed else "SURVIVED"
                print(f"{number + 1:4} {word} {mutant} ({len(tests)} tests)", flush=True)
            share = 1 - survivors / asked.mutants
            print(f"{room}, seed {seed}: {share:.0%} of {asked.mutants} killed", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
