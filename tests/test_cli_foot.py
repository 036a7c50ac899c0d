"""``loopwright foot``: printed, written, drawn, refused."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from loopwright.cli import main
from loopwright.design import read_design
from loopwright.geometry import export
from scanning.scans import of_length, scan_of


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("scan") / "quay.stl"
    path.write_bytes(export(scan_of(of_length(250), seed=5, rings=80, columns=48), "stl"))
    return path


def test_a_scan_becomes_a_table_of_a_design(
    file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out, picture = tmp_path / "foot.toml", tmp_path / "foot.svg"
    words = ["--sex", "female", "--out", str(out), "--picture", str(picture)]
    assert main(["foot", str(file), *words]) == 0
    said = capsys.readouterr().out
    assert said.startswith("quay.stl: ")
    assert "Note: the unit is guessed from the size: mm" in said
    assert "ankle height" in said
    assert picture.read_text("utf-8").startswith("<svg")
    design = 'gauge = {stitches = 28, rounds = 40, over = "10 cm"}\n\n' + out.read_text("utf-8")
    ((_, sock),) = read_design(design).design.socks
    foot = sock.foot
    assert foot.length.mm == pytest.approx(250, abs=2)
    assert foot.sex.value == "female"


def test_machines_get_the_same(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["foot", str(file), "--unit", "mm", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["measured"]["length"]["mm"] == pytest.approx(250, abs=2)
    assert set(told["estimated"]) >= {"ankle_height"}
    assert told["remarks"] == []


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["nowhere.stl"], "no such file"),
        (["README.md"], "neither PLY nor OBJ nor STL"),
        (["README.md", "--out", "README.md"], "is there already"),
        (["README.md", "--picture", "foot.gif"], "no kind of picture"),
    ],
)
def test_what_can_not_be_done_is_said_in_one_line(
    words: list[str], said: str, root: Path, monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    monkeypatch.chdir(root)
    assert main(["foot", *words]) == 2
    error = capsys.readouterr().err
    assert said in error
    assert error.count("\n") == 1
