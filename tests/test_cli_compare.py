"""`loopwright compare`: what it prints and writes, and what it does when it can't."""

from __future__ import annotations

import csv
import json
import re
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from loopwright.cli import main
from loopwright.sock.heels import heel_names
from small import SMALL


def test_a_table_for_each_size(design: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", str(design), "--heels", "Forethought, flap"]) == 0
    told = capsys.readouterr().out
    assert told.count("| heel girth, mm") == 2
    assert "Size S/M" in told
    assert "Size S M" in told
    assert re.search(r"\|\s+\| +forethought \| +flap \|", told)


def test_json_is_one_object_with_every_heel(
    design: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["compare", str(design), "--size", "S M", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["title"] == "Slip <b>way</b>"
    (size,) = told["sizes"]
    assert size["size"] == "S M"
    assert [heel["heel"] for heel in size["heels"]] == list(heel_names())
    assert all(heel["heel_girth_mm"] > 100 for heel in size["heels"])


def test_the_folder_is_whole_and_says_the_same(
    design: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Sizes whose file names come out alike have a picture each; the page asks for nothing."""
    out = tmp_path / "out"
    assert (
        main(["compare", str(design), "--heels", "forethought", "--out", str(out), "--json"]) == 0
    )
    printed = capsys.readouterr().out
    assert (out / "comparison.json").read_text("utf-8") == printed
    rows = list(csv.DictReader((out / "comparison.csv").read_text("utf-8").splitlines()))
    assert [row["size"] for row in rows] == ["S/M", "S M"]
    assert (
        float(rows[0]["heel_girth_mm"])
        == json.loads(printed)["sizes"][0]["heels"][0]["heel_girth_mm"]
    )
    page = (out / "comparison.html").read_text("utf-8")
    assert "<b>way" not in page
    assert "src=" not in page
    assert "href=" not in page
    pictures = sorted(path.name for path in out.glob("*.svg"))
    assert pictures == ["s-m-forethought-2.svg", "s-m-forethought.svg"]
    for name in pictures:
        assert ET.fromstring((out / name).read_text("utf-8")).tag.endswith("svg")
    index = (out / "README.txt").read_text("utf-8")
    assert "clinician" in index
    assert all(path.name in index for path in out.iterdir() if path.name != "README.txt")
    assert (
        main(["compare", str(design), "--heels", "flap", "--size", "S M", "--out", str(out)]) == 2
    )
    again = [
        "compare",
        str(design),
        "--heels",
        "flap",
        "--size",
        "S M",
        "--out",
        str(out),
        "--force",
    ]
    assert main(again) == 0
    drawn = sorted(path.name for path in out.glob("*.svg"))
    assert drawn == ["s-m-flap-worn.svg", "s-m-flap.svg"]  # of one size on the foot, too


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--heels", "moccasin"], "moccasin"),
        (["--heels", " , "], "expected some of afterthought"),
        (["--size", "XL"], "the design has S/M, S M"),
    ],
)
def test_what_is_not_there_is_refused_before_anything_is_knitted(
    options: list[str], words: str, design: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    assert main(["compare", str(design), "--out", str(out), *options]) == 2
    shown = capsys.readouterr()
    assert words in shown.err
    assert shown.out == ""
    assert not out.exists()


def test_a_heel_that_cannot_be_made_is_said_and_found(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A short leg leaves no room for the rounds of a gusset: exit code 1."""
    path = tmp_path / "low.toml"
    foot = '[foot]\nlength = "24 cm"\nball_girth = "22 cm"\nleg_height = "9 cm"'
    cuff = '[cuff]\nkind = "rolled"\n'
    path.write_text(
        f'title = "Low"\ngauge = {{stitches = 14, rounds = 20, over = "10 cm"}}\n{cuff}{foot}\n',
        encoding="utf-8",
    )
    code = main(["compare", str(path), "--heels", "forethought, flap, short-row with gusset"])
    told = capsys.readouterr().out
    assert code == 1
    assert "Left out: short-row with gusset: it doesn't fit into this sock: leg: found" in told
    assert "heel girth, mm" in told


def test_a_design_with_a_mistake_names_its_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "wrong.toml"
    path.write_text(SMALL.replace("stitches", "stiches"), encoding="utf-8")
    assert main(["compare", str(path)]) == 2
    assert "line 4" in capsys.readouterr().err
