"""Single files: written with a seal, replaced only where nobody has changed them."""

from __future__ import annotations

import io
import tomllib
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from PIL import Image

from loopwright.errors import FileError
from loopwright.file_writing import refuse_file, write_own


def a_picture(colour: int) -> bytes:
    stream = io.BytesIO()
    Image.new("L", (3, 2), colour).save(stream, "PNG")
    return stream.getvalue()


KINDS = {
    "watch.toml": (b'title = "Harbour watch"\n', b'title = "Harbour wall"'),
    "watch.svg": (b"<svg><g/></svg>\n", b"<svg/>"),
    "watch.png": (a_picture(0), a_picture(200)),
}


@pytest.mark.parametrize("name", KINDS)
def test_what_nobody_changed_is_replaced(tmp_path: Path, name: str) -> None:
    for content in (*KINDS[name], *KINDS[name]):
        write_own(tmp_path / name, content, replace=True)
        refuse_file(tmp_path / name, replace=True)
    assert [path.name for path in tmp_path.iterdir()] == [name]


def test_a_sealed_file_is_what_its_kind_says(tmp_path: Path) -> None:
    """Read by libraries of their own: TOML, XML, and a picture with the checksums of its parts."""
    for name, (content, _) in KINDS.items():
        write_own(tmp_path / name, content)
    assert tomllib.loads((tmp_path / "watch.toml").read_text("utf-8"))["title"] == "Harbour watch"
    assert [child.tag for child in ET.parse(tmp_path / "watch.svg").getroot()] == ["g"]
    with Image.open(tmp_path / "watch.png") as picture:
        picture.verify()
    with Image.open(tmp_path / "watch.png") as picture:
        assert picture.getextrema() == (0, 0)


@pytest.mark.parametrize("name", KINDS)
@pytest.mark.parametrize("at", [0, 0.3, 0.6, 0.9])
def test_what_was_changed_stays(tmp_path: Path, name: str, at: float) -> None:
    path = tmp_path / name
    write_own(path, KINDS[name][0])
    data = bytearray(path.read_bytes())
    data[int(at * len(data))] ^= 1
    path.write_bytes(data)
    with pytest.raises(FileError, match="changed since") as caught:
        write_own(path, KINDS[name][1], replace=True)
    assert caught.value.path == str(path)
    assert path.read_bytes() == data


@pytest.mark.parametrize("added", [b"# mine\n", b"\n", b"x"])
@pytest.mark.parametrize("name", KINDS)
def test_what_was_added_at_the_end_stays(tmp_path: Path, name: str, added: bytes) -> None:
    path = tmp_path / name
    write_own(path, KINDS[name][0])
    with path.open("ab") as stream:
        stream.write(added)
    with pytest.raises(FileError, match="changed since"):
        write_own(path, KINDS[name][1], replace=True)
    assert path.read_bytes().endswith(added)


def test_a_text_that_was_sealed_gets_one_seal(tmp_path: Path) -> None:
    """A design that was taken, and is taken again: its seal stood in the text."""
    path = tmp_path / "watch.toml"
    write_own(path, b"a = 1")
    write_own(path, path.read_bytes() + b"b = 2", replace=True)
    assert path.read_text("utf-8").count("sha256") == 1
    assert tomllib.loads(path.read_text("utf-8")) == {"a": 1, "b": 2}
    refuse_file(path, replace=True)


@pytest.mark.parametrize("replace", [True, False])
def test_what_is_no_file_of_ours_is_refused(tmp_path: Path, replace: bool) -> None:
    (tmp_path / "mine.toml").write_text("a = 1\n")
    (tmp_path / "empty.toml").touch()
    (tmp_path / "folder.toml").mkdir()
    write_own(tmp_path / "ours.toml", "a = 1")
    (tmp_path / "link.toml").symlink_to(tmp_path / "ours.toml")
    (tmp_path / "broken.toml").symlink_to(tmp_path / "nowhere")
    for name in ("mine", "empty", "folder", "link", "broken"):
        with pytest.raises(FileError, match=f"{name}.toml"):
            write_own(tmp_path / f"{name}.toml", "b = 2", replace=replace)
    assert (tmp_path / "mine.toml").read_text() == "a = 1\n"
    with pytest.raises(FileError, match="file"):
        write_own(tmp_path / "mine.toml" / "below.toml", "b = 2", replace=replace)
