"""`loopwright mend`: from a foot that a sock doesn't go on to a design that does."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from loopwright.cli import main
from loopwright.design import read_design
from loopwright.fitting import fit

# A ball of 24 cm and a heel of 37 cm: the sock at the default ease can't be pulled on. Coarse, to
# be quickly knitted.
HIGH = """
title = "Pilot's socks"  # keeps its comments
[gauge]
stitches = 20
rounds = 28
over = "10 cm"
[[sizes]]
name = "usual"
length = "24 cm"
ball_girth = "22 cm"
heel_girth = "30 cm"
[[sizes]]
name = "high"  # over the instep
length = "25 cm"
ball_girth = "24 cm"
heel_girth = "37 cm"
"""


@pytest.fixture
def high(tmp_path: Path) -> Path:
    path = tmp_path / "high.toml"
    path.write_text(HIGH, encoding="utf-8")
    return path


def test_the_remedy_taken_goes_on_when_the_new_design_is_run(
    high: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    new = tmp_path / "new.toml"
    assert main(["mend", str(high), "--size", "high", "--take", "1", "--out", str(new)]) == 0
    said = capsys.readouterr().out
    assert "The least change that mends it: " in said
    assert f"written to {new}: " in said
    text = new.read_text("utf-8")
    for line in HIGH.splitlines():
        assert line in text  # what nobody changed stays, comments among it
    socks = dict(read_design(text).design.socks)
    assert fit(socks["high"]).verdict.is_good
    assert not fit(dict(read_design(HIGH).design.socks)["high"]).verdict.is_on
    assert main(["mend", str(new), "--size", "high"]) == 0
    assert "Nothing to mend." in capsys.readouterr().out


def test_a_size_that_cannot_be_put_on_is_code_1(
    high: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The first line of each size is the verdict, in words; the least change stands there, too."""
    assert main(["sock", str(high), "--out", str(tmp_path / "out")]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("size usual: It goes on (chance ")
    (at,) = [n for n, line in enumerate(lines) if line.startswith("size high: ")]
    assert "go on: the leg must stretch " in lines[at]
    assert any("The least change that mends it: " in line for line in lines[at:])
    markdown = (tmp_path / "out" / "pattern.md").read_text("utf-8")
    assert markdown.index("The least change that mends it") < markdown.index("## Instructions")
    assert main(["sock", "--help"]) == 0
    assert "can't be put on" in " ".join(capsys.readouterr().out.split())


def test_json_is_one_object_with_numbered_remedies(
    high: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["mend", str(high), "--json"]) == 1
    told = json.loads(capsys.readouterr().out)
    usual, size = told["sizes"]
    assert (usual["size"], usual["remedies"], usual["verdict"]["is_good"]) == ("usual", [], True)
    assert size["verdict"]["is_on"] is False
    assert size["remedies"][0]["is_enough"] is True
    assert size["remedies"][0]["verdict"]["is_good"] is True


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--take", "1"], "--take without --out"),
        (["--size", "XL"], "the design has usual, high"),
        (["--take", "1", "--out", "new.toml"], "choose one with --size"),
        (["--size", "usual", "--take", "1", "--out", "new.toml"], "there is nothing to take"),
        (["--size", "high", "--take", "99", "--out", "new.toml"], "expected 1 to "),
    ],
)
def test_what_cannot_be_done_is_said_and_nothing_is_written(
    options: list[str], words: str, high: Path, capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.chdir(high.parent)
    assert main(["mend", str(high), *options]) == 2
    assert words in capsys.readouterr().err
    assert not (high.parent / "new.toml").exists()


def test_a_file_that_is_there_is_not_replaced_unasked(
    high: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["mend", str(high), "--size", "high", "--take", "1", "--out", str(high)]) == 2
    assert "is there already" in capsys.readouterr().err
    assert high.read_text("utf-8") == HIGH
