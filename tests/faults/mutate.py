"""Change one thing in the code, and see whether a test notices; see the README here.

    PYTHONPATH=tests python tests/faults/mutate.py --room making --mutants 20 --seed 1

A mutant is one file with one place changed: a comparison turned, a sum made a difference, a number
one larger, `and` for `or`, a condition denied, a statement left out. It is put into a copy of the
package, and the tests of its room are run on that until the first fails. Mutants that no test
notices are listed, for somebody to say which test is missing, or that nothing is changed by it.
"""

from __future__ import annotations

import argparse
import ast
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import attrs

ROOT: Final = Path(__file__).resolve().parents[2]
ROOMS: Final = {
    "making": ("making", ("making", "fabric/test_worked_counts.py", "pattern/test_knit.py")),
    "fabric": ("fabric", ("fabric",)),
    "pattern": ("pattern", ("pattern",)),
    "heels": ("sock/heels", ("sock",)),
}
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
    line: int
    what: str
    source: str

    def __str__(self) -> str:
        return f"{self.file.relative_to(ROOT)}:{self.line}: {self.what}"


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
    return Mutant(file, node.lineno, what, ast.unparse(ast.fix_missing_locations(tree)))


def is_noticed(mutant: Mutant, tests: tuple[str, ...]) -> bool:
    """Whether a test fails on a copy of the package that holds the mutant."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder)
        for name in ("src", "tests", "shared"):
            shutil.copytree(ROOT / name, copy / name, ignore=shutil.ignore_patterns("__pycache__"))
        for name in ("pyproject.toml", "README.md"):
            shutil.copy(ROOT / name, copy / name)
        (copy / mutant.file.relative_to(ROOT)).write_text(mutant.source, "utf-8")
        paths = [f"tests/{name}" for name in tests]
        command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *paths]
        path = os.pathsep.join((str(copy / "src"), str(copy / "tests")))
        try:
            done = subprocess.run(
                command, cwd=copy, capture_output=True, timeout=SLOWEST_S, check=False,
                env={**os.environ, "PYTHONPATH": path, "PYTHONDONTWRITEBYTECODE": "1"},
            )  # fmt: skip
        except subprocess.TimeoutExpired:
            return True
        return done.returncode != 0


def main() -> int:
    reader = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    reader.add_argument("--room", choices=ROOMS, required=True)
    reader.add_argument("--mutants", type=int, default=20)
    reader.add_argument("--seed", type=int, default=None)
    asked = reader.parse_args()
    seed = random.randrange(2**32) if asked.seed is None else asked.seed
    r = random.Random(seed)
    room, tests = ROOMS[asked.room]
    survivors = 0
    for number in range(asked.mutants):
        mutant = drawn(ROOT / "src" / "loopwright" / room, r)
        noticed = is_noticed(mutant, tests)
        survivors += not noticed
        print(f"{number + 1:4} {'killed  ' if noticed else 'SURVIVED'} {mutant}", flush=True)
    print(f"seed {seed}: {1 - survivors / asked.mutants:.0%} of {asked.mutants} killed")
    return 0


if __name__ == "__main__":
    sys.exit(main())
