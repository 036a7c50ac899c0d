"""`loopwright sock`: the folder it writes, and what it does when it can't."""

from __future__ import annotations

import os
import random
import re
import shutil
import signal
import subprocess
import sys
import time
import tomllib
from contextlib import redirect_stderr, redirect_stdout
from io import StringIO
from pathlib import Path
from typing import Any

import pytest

from loopwright.cli import _report_folder, main
from loopwright.cli._report_folder import not_ours
from loopwright.cli.files import refuse_folder, write_folder
from loopwright.errors import FileError
from loopwright.fabric import same_fabric
from loopwright.fabric.files import load
from loopwright.file_writing import MARK
from loopwright.fitting import Sample
from loopwright.pattern import read, write
from loopwright.pattern._knit import knit
from small import SMALL


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a report; what was said beside it."""
    folder = tmp_path_factory.mktemp("sock")
    (folder / "design.toml").write_text(SMALL, encoding="utf-8")
    out = folder / "new" / "out"
    with redirect_stdout(StringIO()) as said, redirect_stderr(StringIO()) as wrong:
        assert main(["sock", str(folder / "design.toml"), "--out", str(out)]) == 0
    (folder / "said.txt").write_text(said.getvalue(), encoding="utf-8")
    (folder / "wrong.txt").write_text(wrong.getvalue(), encoding="utf-8")
    return out


def test_finished_measures_of_the_text_are_in_inches_first_where_the_design_says_so(
    tmp_path: Path,
) -> None:
    design, out = tmp_path / "inches.toml", tmp_path / "out"
    lines = ["[gauge]", "stitches = 5", "rounds = 7", 'over = "1 in"', "[document]"]
    foot = ["[foot]", 'length = "6 1/2 in"', 'ball_girth = "6 in"']
    design.write_text("\n".join([*lines, "inches_first = true", *foot]))
    arguments = ["sock", str(design), "--out", str(out), "--document", "pattern", "--quiet"]
    assert main(arguments) == 0
    text = (out / "pattern.txt").read_text()
    assert re.search(r"Finished measurements: foot girth \d[\d /]* in \(\d+\.\d cm\)", text)


def test_every_file_is_listed_and_every_listed_file_is_there(made: Path) -> None:
    index = (made / "README.txt").read_text("utf-8").splitlines()
    listed = {line.split("  ")[0] for line in index[2 : index.index("", 2)]}
    assert listed | {"README.txt"} == {path.name for path in made.iterdir()}
    assert {"pattern.html", "pattern.pdf", "pattern.md", "pattern.txt"} <= listed
    assert any("Caution: " in line for line in index)


def test_no_file_is_empty_and_no_size_loses_its_own(made: Path) -> None:
    assert all(path.stat().st_size > 40 for path in made.iterdir())
    stages = list(made.glob("heel-stages*.svg"))
    assert len(stages) == 2  # names that differ in a stroke only are kept apart


def test_the_instructions_are_read_back_and_knit_the_same_counts(made: Path) -> None:
    text = (made / "pattern.txt").read_text("utf-8")
    told = read(text)
    assert write(told) == text
    for size in told.sizes:
        fabric = knit(told, size=size)
        assert fabric.euler_characteristic == 2
        assert len(fabric.openings) == 1


def test_the_fabric_files_hold_what_was_knitted(made: Path) -> None:
    told = read((made / "pattern.txt").read_text("utf-8"))
    for place in (1, 2):
        fabric = load(made / f"fabric-s-m-{place}.json")
        assert same_fabric(fabric, knit(told, size=place - 1))


def test_the_page_is_small_enough(made: Path) -> None:
    assert (made / "pattern.html").stat().st_size < 3_000_000


def test_it_says_what_it_did(made: Path) -> None:
    folder = made.parents[1]
    assert (folder / "wrong.txt").read_text("utf-8") == ""
    lines = (folder / "said.txt").read_text("utf-8").splitlines()
    assert lines[0].startswith("size S/M: It should go on (chance ")
    numbers = [line for line in lines if line.startswith("  sound; foot girth: ")]
    assert len(numbers) == 2
    assert all("tarred wool" in line for line in numbers)
    assert lines[-1].endswith(f"begin with {made / 'pattern.html'}")


def test_quiet_says_nothing_and_force_replaces_a_report_by_the_same_sheet(
    made: Path, design: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    shutil.copytree(made, out)
    words = ["sock", str(design), "--out", str(out), "--document", "pattern"]
    assert main(words) == 2
    assert "is there already and holds " in capsys.readouterr().err
    assert main([*words, "--force", "--quiet"]) == 0
    assert capsys.readouterr() == ("", "")
    there = {path.name for path in out.iterdir()} - {MARK, "README.txt"}
    assert there == {"pattern.html", "pattern.pdf", "pattern.txt"}
    for name in ("pattern.pdf", "pattern.txt"):
        assert (out / name).read_bytes() == (made / name).read_bytes()
    assert [path.name for path in tmp_path.iterdir() if path.name.startswith(".")] == []


def test_one_document_alone_costs_no_more_than_it_shows(
    design: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """A handout shows neither the fit nor the sock in space: no shape is relaxed for it."""
    monkeypatch.setattr(Sample, "shape", property(lambda made: pytest.fail("a shape was relaxed")))
    out = tmp_path / "out"
    options = ["--document", "Handout", "--size", "S M", "--paper", "a5"]
    assert main(["sock", str(design), "--out", str(out), *options]) == 0
    said = capsys.readouterr().out
    assert said.startswith("whether it goes on is for the record to say")
    assert said.rstrip().endswith(f"begin with {out / 'handout.html'}")
    there = {path.name for path in out.iterdir()} - {MARK}
    assert there == {"README.txt", "handout.html", "handout.pdf"}
    box = re.search(rb"/MediaBox ?\[ ?0 0 ([0-9.]+)", (out / "handout.pdf").read_bytes())
    assert box is not None
    assert float(box[1]) == pytest.approx(148 / 25.4 * 72, abs=0.1)  # A5 by ISO 216, in points


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("title = 3\n" + SMALL.replace("title", "summary"), "line 1, title: found 3"),
        (SMALL.replace("rounds = 20", "rows = 28"), "gauge.rows: found a key that isn't known"),
        (SMALL + "[", "found '[': "),
    ],
)
def test_a_design_that_cannot_be_used_names_file_line_and_key(
    text: str, message: str, design: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    design.write_text(text, encoding="utf-8")
    assert main(["sock", str(design), "--out", str(tmp_path / "out")]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith(f"loopwright: {design}, line ")
    assert message in said.err
    assert not (tmp_path / "out").exists()


def test_no_design_and_no_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sock", str(tmp_path / "none.toml"), "--out", str(tmp_path / "out")]) == 2
    assert "no such file" in capsys.readouterr().err
    assert main(["sock", str(tmp_path / "none.toml")]) == 2
    assert "--out" in capsys.readouterr().err


def test_a_mistake_in_the_fabric_is_reported_by_code_1(
    design: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    from loopwright.fabric import check
    from loopwright.sock import _sock

    def strict(fabric: Any, **options: Any) -> Any:
        return check(fabric, openings=7)

    monkeypatch.setattr(_sock, "check", strict)
    words = ["sock", str(design), "--size", "S/M", "--out", str(tmp_path / "out")]
    assert main(words) == 1
    assert "HAS MISTAKES" in capsys.readouterr().out
    assert "mistake" in (tmp_path / "out" / "checks.csv").read_text("utf-8")


FILES = {"README.txt": "Title\n\na.txt  a file\n\n", "a.txt": "a"}


def test_a_folder_is_written_whole(tmp_path: Path) -> None:
    write_folder(tmp_path / "out", FILES)
    assert {path.name for path in (tmp_path / "out").iterdir()} == {*FILES, MARK}
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_an_empty_folder_is_filled(tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    write_folder(tmp_path / "out", FILES)
    assert (tmp_path / "out" / "a.txt").read_text() == "a"


def test_a_folder_with_something_else_in_it_is_never_thrown_away(tmp_path: Path) -> None:
    write_folder(tmp_path / "out", FILES)
    (tmp_path / "out" / "diary.txt").write_text("dear diary")
    for replace, problem in (
        (False, "is there already"),
        (True, "holds diary.txt, which no report"),
    ):
        with pytest.raises(FileError) as caught:
            write_folder(tmp_path / "out", FILES, replace=replace)
        assert problem in caught.value.problem
    assert (tmp_path / "out" / "diary.txt").read_text() == "dear diary"


def test_a_file_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("")
    with pytest.raises(FileError):
        refuse_folder(tmp_path / "out", replace=True)


def test_a_folder_that_only_looks_like_ours_is_never_thrown_away(tmp_path: Path) -> None:
    """Its index lists what it holds; but no run wrote it."""
    (tmp_path / "out").mkdir()
    for name, text in FILES.items():
        (tmp_path / "out" / name).write_text(text)
    with pytest.raises(FileError, match=r"README.txt, a.txt, which no report put there"):
        write_folder(tmp_path / "out", FILES, replace=True)
    assert (tmp_path / "out" / "a.txt").read_text() == "a"


@pytest.mark.parametrize("name", ["a.txt", "charts/b.svg"])
def test_a_file_changed_by_hand_is_never_thrown_away(tmp_path: Path, name: str) -> None:
    write_folder(tmp_path / "out", {**FILES, "charts/b.svg": b"<svg/>"})
    (tmp_path / "out" / name).write_text("mine")
    with pytest.raises(FileError) as caught:
        write_folder(tmp_path / "out", FILES, replace=True)
    assert f"holds {name}, changed since a report put it there" in caught.value.problem
    assert (tmp_path / "out" / name).read_text() == "mine"


@pytest.mark.parametrize("exchanges", [True, False])
def test_what_is_ours_is_replaced(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, exchanges: bool
) -> None:
    if not exchanges:
        monkeypatch.setattr(_report_folder, "_exchanged", lambda one, other: False)
    write_folder(tmp_path / "out", {**FILES, "charts/b.svg": b"<svg/>"})
    (tmp_path / "out" / "a.txt").unlink()  # what is gone is no loss
    write_folder(tmp_path / "out", {**FILES, "a.txt": "new"}, replace=True)
    assert (tmp_path / "out" / "a.txt").read_text() == "new"
    assert not (tmp_path / "out" / "charts").exists()
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


WRITER = """
import os, sys
from pathlib import Path
from loopwright.cli.files import write_folder
from loopwright.cli import _report_folder
if sys.argv[2] == "in two steps":
    _report_folder._exchanged = lambda one, other: False

def write():
    number = 0
    while True:
        number += 1
        files = {f"{n}.txt": str(number) * 2000 for n in range(6)}
        write_folder(Path(sys.argv[1]), {"README.txt": "", **files}, replace=True)
        if number == 1:
            print(os.getpid(), flush=True)

for _ in sys.stdin:  # a process for each line; what it needs is imported once
    writer = os.fork() or write()
    os.waitpid(writer, 0)
    print("ended", flush=True)
"""


@pytest.mark.once
@pytest.mark.parametrize("how", ["in one step", "in two steps"])
def test_killed_at_any_moment_one_report_is_in_its_place(tmp_path: Path, how: str) -> None:
    """Killed for good, at random moments; where folders can't be exchanged, it is put back."""
    out = tmp_path / "out"
    r = random.Random()
    command = [sys.executable, "-c", WRITER, str(out), how]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1
    ) as starter:
        assert starter.stdin is not None
        assert starter.stdout is not None
        for _ in range(8):
            starter.stdin.write("\n")
            writer = int(starter.stdout.readline())
            time.sleep(r.uniform(0, 0.03))
            os.kill(writer, signal.SIGKILL)
            assert starter.stdout.readline() == "ended\n"
            if how == "in two steps":
                with pytest.raises(FileError, match="is there already"):
                    refuse_folder(out)
            texts = {(out / f"{n}.txt").read_text()[:9] for n in range(6)}
            assert len(texts) == 1  # all of one run
            assert not_ours(out) == ([], [])
    write_folder(out, FILES, replace=True)
    assert [path.name for path in tmp_path.iterdir()] == ["out"]  # nothing is left of the killed


def test_what_others_put_beside_a_report_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / ".out-abcdefgh").mkdir()
    (tmp_path / ".out-abcdefgh" / "diary.txt").write_text("dear diary")
    write_folder(tmp_path / "out", FILES)
    write_folder(tmp_path / "out", FILES, replace=True)
    assert (tmp_path / ".out-abcdefgh" / "diary.txt").read_text() == "dear diary"


def test_a_name_that_leaves_no_room_is_refused_before_the_work(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="too long a name"):
        refuse_folder(tmp_path / ("n" * 245))


@pytest.mark.parametrize("fails_at", [1, 2, 3, 4, 5])
def test_a_full_disk_leaves_what_stood_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fails_at: int
) -> None:
    write_folder(tmp_path / "out", FILES)
    monkeypatch.setattr(_report_folder, "_exchanged", lambda one, other: False)
    calls = 0
    real = os.replace

    def full(source: Any, target: Any) -> None:
        nonlocal calls
        calls += 1
        if calls == fails_at:
            raise OSError(28, "No space left on device")
        real(source, target)

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(FileError, match="no space left"):
        write_folder(tmp_path / "out", {**FILES, "a.txt": "new"}, replace=True)
    monkeypatch.undo()
    assert (tmp_path / "out" / "a.txt").read_text() == "a"
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_a_bar_is_shown_on_a_terminal_only(design: Path, tmp_path: Path) -> None:
    pty = pytest.importorskip("pty")
    ours, theirs = pty.openpty()
    words = ["sock", "--document", "pattern", "--size", "S/M", str(design)]
    with open(theirs, "w") as terminal, redirect_stderr(terminal):
        assert main([*words, "--out", str(tmp_path / "out")]) == 0
        terminal.flush()
        shown = os.read(ours, 100_000).decode()
    os.close(ours)
    assert "%" in shown
    assert "knitted" in shown


def test_the_demo_designs_have_titles_and_summaries(shared: Path) -> None:
    for path in (shared / "designs").glob("*.toml"):
        told = tomllib.loads(path.read_text("utf-8"))
        assert told["title"]
        assert told["summary"].strip()
