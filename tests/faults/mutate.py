"""Change one thing in the code, and see whether a test notices; see the README here.

    PYTHONPATH=tests python tests/faults/mutate.py --room making --mutants 20 --seed 1

A mutant is one file with one place changed: a comparison turned, a sum made a difference, a number
one larger, `and` for `or`, a condition denied, a statement left out. All is done in a copy of the
project, which is kept with a map of which tests come to which lines: one run of the tests, made
anew when the code or a test has changed. For each mutant the process that has collected all tests
forks, the child puts the changed function in the place of the old one and runs the tests that come
to it until one fails: of those that go the same way through the function the quickest first, and
of each way one before the second of any. What is done as modules are imported can't be changed
so: that child begins before the package was imported. Mutants that no test notices are listed, for
somebody to say which test is missing, or, in `equivalents.toml`, why nothing is changed by it.
"""

from __future__ import annotations

import argparse
import ast
import difflib
import functools
import gc
import hashlib
import json
import multiprocessing
import os
import random
import resource
import shutil
import subprocess
import sys
import tempfile
import time
import tomllib
import xml.etree.ElementTree as ET
from collections import Counter, defaultdict
from collections.abc import Callable, Generator, Iterator
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any, Final

import attrs
import coverage
import pytest

ROOT: Final = Path(__file__).resolve().parents[2]
ROOMS: Final = {
    "making": "making", "fabric": "fabric", "pattern": "pattern", "heels": "sock/heels",
}  # fmt: skip
_PATTERNS_KNIT: Final = tuple(
    f"tests/pattern/test_{one}.py" for one in ("knit", "derive", "cables", "journal", "yarns")
)
TESTS: Final = {  # of each room; it takes too long to map what comes from further away
    "making": (
        "tests/making", "src/loopwright/making", "tests/fabric/test_worked_counts.py",
        *_PATTERNS_KNIT, "tests/sock/test_constructions.py", "tests/test_limits.py",
    ),
    "fabric": ("tests/fabric", "src/loopwright/fabric", "tests/making", "tests/test_limits.py"),
    "pattern": (
        "tests/pattern", "src/loopwright/pattern", "tests/sock/test_wording.py",
        "tests/sock/test_panels.py",
    ),
    "heels": ("tests/sock", "src/loopwright/sock"),
}  # fmt: skip
MEMORY: Final = 4 * 2**30  # bytes: a mutant may well ask for more and more
BUDGET_S: Final = 40  # of the processor, for the tests of one mutant, as they took when mapped
_FEW: Final = 200  # tests of a mutant that needs a process of its own
_BEGAN: Final = pytest.StashKey[float]()
_KEPT: Final = ".kept"  # the suffix of a file as it was, while a change stands in its place
EQUIVALENTS: Final = Path(__file__).with_name("equivalents.toml")
_IMPORTED_FIRST: Final = ["attrs", "networkx", "numpy", "pytest", "scipy.sparse"]
_QUIET: Final = ["-q", "-s", "-p", "no:cacheprovider", "-p", "no:randomly", "-p", "no:cov"]
_OTHER: Final[dict[type[ast.AST], type[ast.AST]]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq, ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.FloorDiv, ast.FloorDiv: ast.Mult,
    ast.And: ast.Or, ast.Or: ast.And, ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd,
    ast.BitXor: ast.BitOr, ast.USub: ast.UAdd,
}  # fmt: skip


@attrs.frozen
class Mutant:
    """One place of one file of the copy, and the file with something else there."""

    file: Path
    lines: range
    line: str
    within: str
    what: str
    tree: ast.Module

    def __str__(self) -> str:
        return f"{self.file}:{self.lines.start}: {self.what}"

    @property
    def is_in_a_function(self) -> bool:
        """Whether it is in the body of one, and not in what is done at import."""
        return bool(self._around())

    @property
    def is_cached(self) -> bool:
        """Whether what the function returns is kept."""
        return any("cache" in ast.unparse(d) for one in self._around() for d in one.decorator_list)

    @property
    def around(self) -> range:
        """The lines of the outermost function that it is in."""
        outermost = self._around()[0]
        return range(outermost.lineno, (outermost.end_lineno or 0) + 1)

    def _around(self) -> list[ast.FunctionDef]:
        return [
            one
            for one in ast.walk(self.tree)
            if isinstance(one, ast.FunctionDef)
            and any(b.lineno <= self.lines.start <= (b.end_lineno or 0) for b in one.body)
        ]


def places(tree: ast.Module) -> Iterator[tuple[ast.AST, str]]:
    """Return every node that can be changed, with the way to change it.

    Annotations are left alone, and what is imported for them: they are never run. So are the
    word `strict` of a zip, which asks of the code itself what always holds, and a cache's size.
    """
    noted = {
        id(one)
        for node in ast.walk(tree)
        for note in (getattr(node, "annotation", None), getattr(node, "returns", None))
        if note is not None
        for one in ast.walk(note)
    }
    noted |= {
        id(node.value) for node in ast.walk(tree)
        if isinstance(node, ast.keyword) and node.arg in ("strict", "maxsize")
    }  # fmt: skip
    for node in ast.walk(tree):
        if id(node) in noted:
            continue
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
            if ast.unparse(node.test) != "TYPE_CHECKING":
                yield node, "condition"
        elif (
            isinstance(node, ast.Expr)
            and isinstance(node.value, ast.Call)
            and ast.unparse(node) != "guard(globals())"  # tests/test_border.py
        ):
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


@functools.cache
def all_places(folder: Path) -> list[tuple[Path, int]]:
    """Return each place of the files of a folder that can be changed: file and number."""
    files = sorted(folder.rglob("*.py"))
    return [
        (file, number)
        for file in files
        for number, _ in enumerate(places(ast.parse(file.read_text("utf-8"))))
    ]


def drawn(folder: Path, r: random.Random) -> Mutant:
    """Return a mutant of a file of the folder, every place as likely as any other."""
    file, number = r.choice(all_places(folder))
    text = file.read_text("utf-8")
    tree = ast.parse(text)
    node, way = list(places(tree))[number]
    what = changed(node, way)
    assert isinstance(node, ast.expr | ast.stmt)
    line = text.splitlines()[node.lineno - 1].strip()
    lines = range(node.lineno, (node.end_lineno or node.lineno) + 1)
    within = ".".join(
        one.name
        for one in ast.walk(tree)  # what is outside comes first
        if isinstance(one, ast.FunctionDef | ast.ClassDef)
        and one.lineno <= node.lineno <= (one.end_lineno or 0)
    )
    return Mutant(file, lines, line, within, what, ast.fix_missing_locations(tree))


@functools.cache
def equivalents() -> frozenset[tuple[str, str, str]]:
    """Return the changes known to change nothing: file, line, what was done."""
    told = tomllib.loads(EQUIVALENTS.read_text("utf-8"))
    return frozenset(
        (file, one["line"], change)
        for file, ones in told.items()
        for one in ones
        for change in one["changes"]
        if one["why"]
    )


# What is kept ---------------------------------------------------------------------------------


def digests() -> dict[str, str]:
    """Return a mark of each file of the code, the tests and what they read."""
    return {
        str(file.relative_to(ROOT)): hashlib.sha256(file.read_bytes()).hexdigest()
        for name in ("src", "tests", "shared")
        for file in sorted((ROOT / name).rglob("*.*"))
        if file.is_file() and "__pycache__" not in file.parts
    }


def copied(cache: Path, room: str, *, as_kept: bool) -> Path:
    """Return the copy of the project in this folder, made and mapped anew where it differs.

    Tests that have changed are mapped; where a file of the room has, the lines of its map are
    moved. All are mapped where the room has a new file.
    """
    copy, mark = cache / "copy", cache / "digests.json"
    for file in copy.rglob(f"*{_KEPT}"):  # of a run that was killed
        file.replace(file.with_suffix(".py"))
    kept = json.loads(mark.read_text("utf-8")) if mark.is_file() else {}
    if kept and as_kept:
        return copy
    now = digests()
    new = [file for file in sorted({*now, *kept}) if kept.get(file) != now.get(file)]
    in_room = [file for file in new if file.startswith(f"src/loopwright/{ROOMS[room]}/")]
    if not kept or any(file not in kept for file in in_room):
        shutil.rmtree(cache, ignore_errors=True)
        for name in ("src", "tests", "shared", "docs"):
            shutil.copytree(
                ROOT / name, copy / name, ignore=shutil.ignore_patterns("__pycache__", "_build")
            )
        for name in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
            shutil.copy(ROOT / name, copy / name)
        tests = list(TESTS[room])
    else:
        for file in new:
            (copy / file).unlink(missing_ok=True)
            if file in now:
                (copy / file).parent.mkdir(parents=True, exist_ok=True)
                shutil.copy(ROOT / file, copy / file)
        tests = [one for one in new if one in now and one.startswith(TESTS[room])]
        tests = [one for one in tests if Path(one).name.startswith("test_")]
    if tests:
        map_tests(copy, cache, room, tests)
    mark.write_text(json.dumps(now), "utf-8")
    return copy


def map_tests(copy: Path, cache: Path, room: str, tests: list[str]) -> None:
    """Run tests once, and keep which of them come to which lines, and how long each takes."""
    number = len(list(cache.glob("lines-*")))
    command = [
        sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-p", "no:randomly",
        "-p", "faults.mutate",  # for what stands below this
        f"--junitxml={cache / f'times-{number}.xml'}", "-o", "junit_family=xunit1",
        "--no-cov-on-fail", f"--cov={copy / 'src' / 'loopwright' / ROOMS[room]}",
        "--cov-context=test", "--cov-report=", "--cov-fail-under=0", *tests,
    ]  # fmt: skip
    path = os.pathsep.join((str(copy / "src"), str(copy / "tests")))
    subprocess.run(command, cwd=copy, check=True, env={**os.environ, "PYTHONPATH": path})
    shutil.copytree(
        copy / "src" / "loopwright" / ROOMS[room], cache / f"mapped-{number}",
        ignore=shutil.ignore_patterns("__pycache__"),
    )  # fmt: skip
    shutil.move(copy / ".coverage", cache / f"lines-{number}")


def pytest_runtest_setup(item: pytest.Item) -> None:
    """Keep when a test begins; on a machine with other work its seconds tell nothing."""
    item.stash[_BEGAN] = time.process_time()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item,
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Let a report hold the seconds of the processor that each part of a test took."""
    report, now = (yield), time.process_time()
    report.duration, item.stash[_BEGAN] = now - item.stash[_BEGAN], now
    return report


class Map:
    """Which tests come to which lines, and how long each test takes."""

    def __init__(self, cache: Path, room: str) -> None:
        self._room = cache / "copy" / "src" / "loopwright" / ROOMS[room]
        self._data: list[tuple[coverage.CoverageData, Path]] = []
        self.seconds: dict[str, float] = {}
        for number in range(len(list(cache.glob("lines-*")))):  # the newest last
            data = coverage.CoverageData(str(cache / f"lines-{number}"))
            data.read()
            self._data.append((data, cache / f"mapped-{number}"))
            for case in ET.parse(cache / f"times-{number}.xml").iter("testcase"):
                name = f"{case.get('file')}::{case.get('name')}"
                self.seconds[name] = float(case.get("time", 0))
        self._of_file = functools.cache(self._lines)

    def _lines(self, file: str) -> dict[int, set[str]]:
        """Return the tests that come to each line of a file, as its lines are now."""
        found = defaultdict[int, set[str]](set)
        for data, mapped in self._data:
            as_mapped = mapped / Path(file).relative_to(self._room)
            if as_mapped.is_file():
                lines = _moved(data.contexts_by_lineno(file), as_mapped, Path(file))
                for line, names in lines.items():
                    found[line].update(names)
        return found

    def tests(self, mutant: Mutant) -> tuple[dict[str, frozenset[int]], bool]:
        """Return the tests that come to a mutant, each with its lines of the function around it.

        Told, too, is whether imports come there: what they alone come to belongs to all tests
        that use the module, as does what is kept from one call to the next.
        """
        lines = self._of_file(str(mutant.file))
        found = {name for line in mutant.lines for name in lines.get(line, ())}
        at_import = found <= {""} or not mutant.is_in_a_function
        every = at_import or mutant.is_cached  # whoever comes first runs it for all
        if every:
            found = {name for names in lines.values() for name in names}
        ways = defaultdict[str, set[int]](set)
        for line in lines if every else mutant.around:
            for name in lines.get(line, set()) & found:
                ways[name.rpartition("|")[0]].add(line)
        return {name: frozenset(way) for name, way in ways.items() if name}, at_import

    def took(self, item: pytest.Item) -> float:
        """Return how long a test took, in seconds."""
        return self.seconds.get(f"{item.nodeid.partition('::')[0]}::{item.name}", 0.5)


def _moved(found: dict[int, list[str]], as_mapped: Path, file: Path) -> dict[int, set[str]]:
    """Return the tests of each line where the lines have moved; new ones have their neighbours'."""
    old, new = (one.read_text("utf-8").splitlines() for one in (as_mapped, file))
    moved = defaultdict[int, set[str]](set)
    for word, a, b, c, d in difflib.SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        for line in range(c + 1, d + 1):
            near = [line - c + a] if word == "equal" else range(a, b + 2)
            moved[line].update(name for one in near for name in found.get(one, ()))
    return moved


# Changed functions ----------------------------------------------------------------------------


def functions(code: CodeType) -> Iterator[CodeType]:
    """Yield the code of the functions of a module and its classes, and of those within others."""
    for one in code.co_consts:
        if isinstance(one, CodeType):
            if one.co_flags & 2:  # a function has local names of its own
                yield one
            yield from functions(one)


def bodies(code: CodeType) -> list[object]:
    """Return what a module and its classes do when they are imported, without the functions."""
    plain = [one for one in code.co_consts if not isinstance(one, CodeType)]
    found: list[object] = [code.co_code, code.co_names, [(type(one), one) for one in plain]]
    for one in code.co_consts:
        if isinstance(one, CodeType) and not one.co_flags & 2:
            found.append(bodies(one))
    return found


def replaced(mutant: Mutant) -> Callable[[], None] | None:
    """Return what puts the changed function in the place of the old one; None if it can't be."""
    name = str(mutant.file)
    old = compile(ast.parse(mutant.file.read_text("utf-8")), name, "exec")
    new = compile(mutant.tree, name, "exec")
    before, after = list(functions(old)), list(functions(new))
    if bodies(old) != bodies(new) or len(before) != len(after):  # one left out with its statement
        return None
    pairs = [(a, b) for a, b in zip(before, after, strict=True) if a != b]
    if any(a.co_freevars != b.co_freevars for a, b in pairs):
        return None
    changed_code = {(a.co_qualname, a.co_firstlineno): b for a, b in pairs}
    alike = Counter((one.co_qualname, one.co_firstlineno) for one in before)
    there = {(f.__code__.co_qualname, f.__code__.co_firstlineno) for f in made_functions()[0][name]}
    for key in changed_code:  # those within others may be made later, of the changed code
        if alike[key] > 1 if key in there else "<locals>" not in key[0]:
            return None

    def put() -> None:
        known, caches = made_functions()
        for one in known[name]:
            code = one.__code__
            one.__code__ = changed_code.get((code.co_qualname, code.co_firstlineno), code)
        for cache in caches:
            cache.cache_clear()

    return put


@functools.cache
def made_functions() -> tuple[dict[str, list[FunctionType]], list[Any]]:
    """Return the functions of each file, and what keeps results, once all is imported."""
    gc.unfreeze()  # or what was put aside is not among them
    known, caches = defaultdict[str, list[FunctionType]](list), []
    for one in gc.get_objects():
        if isinstance(one, FunctionType):
            known[one.__code__.co_filename].append(one)
        elif isinstance(one, functools._lru_cache_wrapper):
            caches.append(one)
    return known, caches


def silence() -> None:
    """Send what a child prints nowhere."""
    quiet = os.open(os.devnull, os.O_WRONLY)
    os.dup2(quiet, 1)
    os.dup2(quiet, 2)


class Chosen:
    """The tests that are to be run, in their order: a plug-in of pytest."""

    def __init__(self, tests: list[str]) -> None:
        self.order = {test: place for place, test in enumerate(tests)}

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Keep what is chosen, the quickest first."""
        items[:] = [item for item in items if item.nodeid in self.order]
        items.sort(key=lambda item: self.order[item.nodeid])


def limit(seconds: int) -> None:
    """End this process after so many seconds of its own; refuse it more memory than all need."""
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, resource.RLIM_INFINITY))


def run_afresh(copy: str, tests: list[str], seconds: int) -> None:
    """Run these tests on the copy as its files are, in a process that has not imported it."""
    limit(seconds)
    os.chdir(copy)
    sys.path[:0] = [f"{copy}/src", f"{copy}/tests"]
    sys.dont_write_bytecode = True
    silence()
    files = sorted({test.partition("::")[0] for test in tests})
    os._exit(int(pytest.main([*_QUIET, "-x", *files], plugins=[Chosen(tests)])))


# The run --------------------------------------------------------------------------------------


@attrs.define
class Mutants:
    """A plug-in of pytest: once all tests are collected, mutants are made instead of run."""

    asked: argparse.Namespace
    room: str
    copy: Path
    known: Map
    items: dict[str, pytest.Item] = attrs.field(factory=dict)

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Draw the mutants of the room, and tell which no test notices."""
        self.items = {item.nodeid: item for item in session.items}
        made_functions()
        gc.collect()
        gc.freeze()  # so that the children share these pages
        source = self.copy / "src" / "loopwright"
        r, start = random.Random(f"{self.asked.seed} {self.room}"), time.monotonic()
        words, before = defaultdict[str, int](int), 0.0
        for number in range(1, self.asked.mutants + 1):
            mutant = drawn(source / ROOMS[self.room], r)
            if number == 1:  # or whatever fails by itself would pass for a kill
                self.refuse_if_broken(session, mutant)
            if self.asked.only and number not in self.asked.only:
                continue
            if time.monotonic() - start > self.asked.minutes * 60:
                break
            place = str(mutant.file.relative_to(source))
            if (place, mutant.line, mutant.what) in equivalents():
                word, many = "same", 0
            else:
                word, many = self.tried(session, mutant)
            words[word] += 1
            where = f"{place}:{mutant.lines.start}: {mutant.within}: {mutant.what}"
            used = sum(resource.getrusage(resource.RUSAGE_CHILDREN)[:2])
            print(f"{number:4} {word:8} {where} ({many} tests, {used - before:.1f} s)", flush=True)
            before = used
        most = words["killed"] + words["SURVIVED"]
        print(
            f"{self.room}, seed {self.asked.seed}: {words['killed'] / max(most, 1):.1%} of {most}"
            f" killed, besides {words['same']} that change nothing;"
            f" {time.monotonic() - start:.0f} s"
        )
        return True

    def tried(self, session: pytest.Session, mutant: Mutant) -> tuple[str, int]:
        """Return what became of a mutant, and how many tests come to it."""
        ways, at_import = self.known.tests(mutant)
        tests, most = self.within_budget(ways)
        if not tests:
            return "SURVIVED", 0
        put = None if at_import else replaced(mutant)
        if put is not None:
            noticed = self.forked(session, put, tests, most)
        else:  # each file of tests is imported again there
            noticed = self.afresh(mutant, [item.nodeid for item in tests[:_FEW]], most)
        return "killed" if noticed else "SURVIVED", len(tests)

    def refuse_if_broken(self, session: pytest.Session, mutant: Mutant) -> None:
        """Stop where the tests fail without a change, in either kind of child."""
        tests, most = self.within_budget(self.known.tests(mutant)[0])
        source = ast.parse(mutant.file.read_text("utf-8"))
        few = [item.nodeid for item in tests[:_FEW]]
        if self.forked(session, lambda: None, tests, most) or (
            few and self.afresh(attrs.evolve(mutant, tree=source), few, most)
        ):
            sys.exit(f"{mutant.file.name}: its tests fail without a change")

    def within_budget(self, ways: dict[str, frozenset[int]]) -> tuple[list[pytest.Item], int]:
        """Return the tests that are run, in their order, and after how many s they hang."""
        there = [self.items[name] for name in ways if name in self.items]
        many, turns = defaultdict[frozenset[int], int](int), dict[str, int]()
        for item in sorted(there, key=self.known.took):
            turns[item.nodeid] = many[ways[item.nodeid]]
            many[ways[item.nodeid]] += 1
        seconds, kept = 0.0, list[pytest.Item]()
        for item in sorted(there, key=lambda item: (turns[item.nodeid], self.known.took(item))):
            seconds += self.known.took(item)
            if kept and seconds > self.asked.budget:
                break
            kept.append(item)
        return kept, 10 + int(min(seconds, self.asked.budget))

    def forked(
        self, session: pytest.Session, put: Callable[[], None], items: list[pytest.Item], most: int
    ) -> bool:
        """Whether a test fails in a child where a function is replaced."""
        child = os.fork()
        if not child:
            limit(most)
            silence()
            put()
            session.testsfailed = 0
            for item, after in zip(items, [*items[1:], None], strict=True):
                item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
                if session.testsfailed:
                    os._exit(1)
            os._exit(0)
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) != 0

    def afresh(self, mutant: Mutant, tests: list[str], most: int) -> bool:
        """Whether a test fails in a process that imports the changed file."""
        kept = shutil.copy(mutant.file, mutant.file.with_suffix(_KEPT))
        mutant.file.write_text(ast.unparse(mutant.tree), "utf-8")
        try:
            server = multiprocessing.get_context("forkserver")
            child = server.Process(target=run_afresh, args=(str(self.copy), tests, most))
            child.start()
            child.join()
        finally:
            Path(kept).replace(mutant.file)
        return child.exitcode not in (0, int(pytest.ExitCode.NO_TESTS_COLLECTED))


def main() -> int:
    reader = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    reader.add_argument("--room", choices=ROOMS, required=True)
    reader.add_argument("--mutants", type=int, default=75)
    reader.add_argument("--only", type=int, nargs="*", help="the numbers of those to try again")
    reader.add_argument("--minutes", type=float, default=1e9, help="at most")
    reader.add_argument("--budget", type=float, default=BUDGET_S, help="seconds for one mutant")
    reader.add_argument("--seed", type=int, default=random.randrange(2**32))
    reader.add_argument(
        "--cache", type=Path, default=Path(tempfile.gettempdir()) / "loopwright-mutants",
        help="where the copy of the project and the map of its tests are kept",
    )  # fmt: skip
    reader.add_argument(
        "--as-kept", action="store_true",
        help="take the copy and the map that are kept, though the project has changed since",
    )  # fmt: skip
    asked = reader.parse_args()
    os.environ["CI"] = "1"  # the same tests and examples each time, mapped and run
    cache = asked.cache.resolve() / asked.room
    copy = copied(cache, asked.room, as_kept=asked.as_kept)
    multiprocessing.get_context("forkserver").set_forkserver_preload(_IMPORTED_FIRST)
    os.chdir(copy)
    sys.path[:0] = [str(copy / "src"), str(copy / "tests")]
    mutants = Mutants(asked, asked.room, copy, Map(cache, asked.room))
    return int(pytest.main([*_QUIET, *TESTS[asked.room]], plugins=[mutants]))


if __name__ == "__main__":
    sys.exit(main())
