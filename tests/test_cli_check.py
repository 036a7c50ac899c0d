from __future__ import annotations

import json
from pathlib import Path

import pytest

from loopwright.cli import main

SOUND = "Cast on 8 sts. Join in the round. Rnds 1-3: Knit. Bind off all sts. Weave in all ends.\n"


def _file(folder: Path, text: str) -> str:
    path = folder / "sock.txt"
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_nothing_to_mend(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    name = _file(tmp_path, SOUND)
    assert main(["check", name]) == 0
    assert capsys.readouterr().out == f"{name}: nothing to mend\n"


def test_something_to_mend(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    name = _file(tmp_path, SOUND.replace("Rnds 1-3: Knit", "Rnd 1: K9"))
    assert main(["check", name]) == 1
    out = capsys.readouterr().out.splitlines()
    assert out[0] == f"{name}:1:42: error: k9 needs 9 sts, 8 are left"
    assert out[1].strip().startswith("Cast on 8 sts.")
    assert out[2].endswith("^")
    assert out[2].index("^") - 4 == 41


def test_for_machines(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    name = _file(tmp_path, "Cast on 8 stz.\n")
    assert main(["check", "--json", name]) == 1
    data = json.loads(capsys.readouterr().out)
    assert data["file"] == name
    assert data["findings"][0]["kind"] == "syntax"


def test_notes_can_be_left_out(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    name = _file(tmp_path, "# Sock\n" + SOUND)
    assert main(["check", name]) == 0
    assert "note" in capsys.readouterr().out
    assert main(["check", "--quiet", name]) == 0
    assert capsys.readouterr().out == f"{name}: nothing to mend\n"


def test_a_file_that_cannot_be_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(tmp_path / "missing.txt")]) == 2
    caught = capsys.readouterr()
    assert caught.out == ""
    assert "missing.txt" in caught.err


def test_not_a_text(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "picture.png"
    path.write_bytes(b"\x89PNG\xff\xfe")
    assert main(["check", str(path)]) == 2
    assert "UTF-8" in capsys.readouterr().err


def test_a_binary_that_is_text_is_no_pattern(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    name = _file(tmp_path, "lorem ipsum @ dolor\n" * 200)
    assert main(["check", name]) == 2
    assert "nothing in this text is an instruction" in capsys.readouterr().err


def test_how_each_line_was_understood(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = "Quay cowl\n\nCast on 16 sts and join.\nWork even for 3 rnds.\nA walk by the sea.\n"
    name = _file(tmp_path, text)
    main(["check", "--explain", name])
    out = capsys.readouterr().out.splitlines()
    assert out[0] == f"{name}:1: title: Quay cowl"
    assert f"{name}:4: instruction: Work even for 3 rnds." in out
    assert "    Rnds 1-3: Knit." in out
    assert out[-2:] == ["    -> 16 sts", f"{name}:5: text: A walk by the sea."]
    main(["check", "--explain", "--json", name])
    lines = json.loads(capsys.readouterr().out)["lines"]
    assert [line["line"] for line in lines] == [1, 3, 4, 5]
    assert lines[2]["stitches"] == [16]


@pytest.mark.parametrize("text", ["", "\n\n", "A walk by the sea.\n"])
def test_a_text_without_an_instruction(
    text: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", _file(tmp_path, text)]) == 2
    assert "nothing in this text is an instruction" in capsys.readouterr().err
