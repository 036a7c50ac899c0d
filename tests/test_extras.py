"""What an extra brings is not needed by the rest, and is missed by a typed error."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from loopwright.cli import main
from loopwright.extras import MissingExtraError, from_extra
from loopwright.geometry import Surface, export
from loopwright.picture.svg import Picture


def test_a_missing_package_is_named_with_its_extra(monkeypatch: pytest.MonkeyPatch) -> None:
    for package in ("trimesh", "resvg_py", "pandas"):
        monkeypatch.setitem(sys.modules, package, None)
    with pytest.raises(MissingExtraError) as mesh:
        export(Surface([[0, 0, 0], [1, 0, 0], [0, 1, 0]], [[0, 1, 2]]), "ply")
    assert (mesh.value.package, mesh.value.extra) == ("trimesh", "mesh")
    with pytest.raises(MissingExtraError) as png:
        Picture(10, 10, "title", "description", ()).png()
    assert (png.value.package, png.value.extra) == ("resvg_py", "pictures")
    assert str(png.value).endswith("pip install 'loopwright[pictures]'")
    assert isinstance(png.value, ImportError)


def test_what_fails_inside_a_package_that_is_there_is_no_missing_extra(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "broken_inside.py").write_text("import no_such_thing_at_all\n")
    monkeypatch.syspath_prepend(tmp_path)
    with pytest.raises(ModuleNotFoundError, match="no_such_thing_at_all"):
        from_extra("broken_inside", "a test", "none")


def test_a_sock_is_made_and_reported_without_any_extra(design: Path, tmp_path: Path) -> None:
    """In a process in which no extra's package can be imported; only the PDF is left out."""
    hidden = "typst trimesh resvg_py pandas pyarrow dask distributed matplotlib interegular"
    program = (
        "import sys\n"
        f"sys.modules.update(dict.fromkeys({hidden.split()!r}))\n"
        "from loopwright.cli import main\n"
        "from loopwright.extras import MissingExtraError\n"
        "try:\n"
        "    import loopwright.studies\n"
        "except MissingExtraError as error:\n"
        "    print(error)\n"
        "sys.exit(main(sys.argv[1:]))\n"
    )
    words = ["sock", str(design), "--out", str(tmp_path / "out"), "--size", "S/M"]
    done = subprocess.run(
        [sys.executable, "-c", program, *words], capture_output=True, text=True, check=True
    )
    assert done.stdout.startswith("a study needs pandas")
    assert "a PDF needs typst, which is not installed" in done.stdout
    made = {path.name for path in (tmp_path / "out").iterdir()}
    assert {"pattern.html", "pattern.txt", "schematic.svg"} <= made
    assert "pattern.pdf" not in made
    assert "loopwright[pdf]" in (tmp_path / "out" / "README.txt").read_text("utf-8")


def test_with_the_typesetter_nothing_is_said_of_it(
    design: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["sock", str(design), "--out", str(tmp_path / "out"), "--document", "handout"]
    assert main(words) == 0
    assert "typst" not in capsys.readouterr().out
