"""A heel in one file: all that it gives, how it is refused, undone, and found by the command."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any, ClassVar

import attrs
import pytest

from loopwright.cli import main
from loopwright.design import read_design
from loopwright.errors import DesignError, PartError, SizingError
from loopwright.fabric import check
from loopwright.fitting import compare, remedies
from loopwright.gauge import Gauge
from loopwright.pattern import read, review, write
from loopwright.picture import stages
from loopwright.picture._chart import charts
from loopwright.picture._schematic import dimensions, schematic
from loopwright.sock import (
    Cuff,
    Direction,
    Foot,
    Leg,
    LegSetting,
    Sock,
    Toe,
    _own,
    changes,
    cuff,
    cuff_names,
    heel,
    heel_named,
    heel_names,
    leg,
    leg_names,
    load_file,
    toe,
)
from loopwright.sock.heels import Flap, Heel, HeelNumbers, Setting
from small import SMALL
from together import together

FILE = Path(__file__).with_name("harbour_heel.py")
FOOT = Foot.of(length="246 mm", ball_girth="228 mm", heel_girth="310 mm")
COARSE = Gauge.of(16, 22)


@pytest.fixture(autouse=True)
def _as_before() -> Iterator[None]:
    """Parts of these tests are known to them alone."""
    kept = [kind.kept() for kind in _own._KINDS]
    yield
    for kind, known in zip(_own._KINDS, kept, strict=True):
        kind.restore(known)
    from loopwright.sock import _parts

    _parts._LOADED.clear()


@pytest.fixture
def harbour() -> None:
    load_file(FILE)


# One file gives all


def test_it_is_about_thirty_lines() -> None:
    """From its decorator on, without the imports."""
    lines = FILE.read_text(encoding="utf-8").split("@heel")[1].splitlines()
    assert len([line for line in lines if line.strip()]) <= 36


@pytest.mark.usefixtures("harbour")
@pytest.mark.parametrize("direction", Direction)
def test_plan_text_chart_stages_and_schematic(direction: Direction) -> None:
    sock = Sock(foot=FOOT, gauge=COARSE, heel="harbour", direction=direction)
    plan, pattern = sock.plan(), sock.pattern()
    assert plan.heel.foot_courses == 2 * 4 + 0.5  # by hand: 4 turns in, a row each way
    text = write(pattern)
    assert "w&t" in text
    assert read(text) == pattern
    assert review(pattern).ok
    assert check(sock.fabric(), openings=1).ok
    assert len(charts(pattern)) >= 3
    told = stages(pattern, section="Heel", gauge=COARSE)
    assert len(told) >= 2
    assert told.svg().count("<svg") == 1
    drawn = schematic(dimensions(plan)).svg()
    assert "harbour heel" in drawn
    assert ">middle<" in drawn
    assert drawn.count('class="heel-part"') == 2


@pytest.mark.usefixtures("harbour")
def test_fit_remedies_and_comparison() -> None:
    sock = Sock(foot=FOOT, gauge=COARSE, heel="harbour")
    assert {change.key for change in changes(sock)} == {
        "turns", "more stitches", "heel on more stitches", "another leg", "longer foot",
        "another heel",
    }  # fmt: skip
    found = remedies(sock, kinds=["turns"])
    assert found.before.at("heel").is_tight
    assert found[0].words.endswith("turns more at each side")
    assert found[0].change_mm > 0
    side_by_side = compare(sock, ["harbour", "flap"])
    assert side_by_side["harbour"].sample.girths["heel"].mm > 0
    assert side_by_side.roomiest.name == "flap"


# What is refused, and undone


def test_a_taken_name_is_refused_unless_it_is_to_be_replaced() -> None:
    @attrs.frozen
    class Mine(Flap):
        longer: int = 4

    with pytest.raises(PartError, match=r"'flap' is taken.*replace=True"):
        heel(Mine)
    assert type(heel_named("flap")) is Flap
    names = heel_names()
    heel(replace=True)(Mine)
    assert type(heel_named("flap")) is Mine
    assert heel_names() == names
    heel.forget("flap")
    assert type(heel_named("flap")) is Flap
    with pytest.raises(PartError, match="belongs to loopwright"):
        heel.forget("flap")
    with pytest.raises(PartError, match="isn't known; known are"):
        heel.forget("hoof")


@pytest.mark.usefixtures("harbour")
def test_what_was_made_known_is_undone() -> None:
    assert "harbour" in heel_names()
    heel.forget("harbour")
    assert "harbour" not in heel_names()
    with pytest.raises(SizingError, match="harbour"):
        heel_named("harbour")


def _whole(**without: Any) -> type[Heel]:
    """A heel's class, some of it replaced; what is replaced with None is left out."""

    def numbers(self: Any, setting: Setting) -> HeelNumbers:
        return HeelNumbers(foot_courses=0, leg_courses=0)

    body = {
        "name": "pier", "begins": "heel", "numbers": numbers, "steps": lambda self, setting: [],
        **without,
    }  # fmt: skip
    body = {key: value for key, value in body.items() if value is not None}
    return attrs.frozen(type("Pier", (Heel,), body))


@together(
    ("cls", "lacks"),
    [
        (_whole(numbers=None), "it lacks numbers;"),
        (_whole(steps=None, numbers=None), "it lacks numbers, steps;"),
        (_whole(name=None), "it lacks name;"),
        (_whole(begins=None), "it lacks begins;"),
        (_whole(begins="sole"), "begins that is 'heel' or 'instep'"),
        (_whole(name="a, b"), "name that is"),
        (_whole(name=""), "name that is"),
        (_whole(height=attrs.field(), __annotations__={"height": float}), "usual value of height"),
        (type("Pier", (), {}), "doesn't derive from Heel; write class Pier"),
        (type("Pier", (Heel,), {}), "no attrs class; write @heel above @attrs.frozen"),
        (3, "doesn't derive"),
    ],
)
def test_an_incomplete_class_is_refused_by_what_it_lacks(cls: Any, lacks: str) -> None:
    before = heel_names()
    with pytest.raises(PartError, match=lacks):
        heel(cls)
    assert heel_names() == before


def test_a_whole_one_is_taken() -> None:
    """The breaker of the test above."""
    assert heel(_whole()).name == "pier"


def test_toes_cuffs_and_legs_likewise() -> None:
    with pytest.raises(PartError, match="it lacks first_steps, numbers, steps"):

        @toe
        @attrs.frozen
        class Blunt(Toe):
            name: ClassVar[str] = "blunt"

    with pytest.raises(PartError, match="it lacks a usual value of repeat"):

        @cuff
        @attrs.frozen(kw_only=True)
        class Broad(Cuff):
            name: ClassVar[str] = "broad"

    @leg
    @attrs.frozen
    class Straight(Leg):
        name: ClassVar[str] = "straight"

        def steps(self, setting: LegSetting) -> list[Any]:
            return []

    assert leg_names()[-1] == "straight"
    with pytest.raises(PartError, match="taken"):
        leg(Straight)
    with pytest.raises(PartError, match="taken"):
        cuff(type(Sock(foot=FOOT, gauge=COARSE).cuff))
    assert len(cuff_names()) == 4


@pytest.mark.parametrize("part", ["heel", "toe", "cuff", "leg"])
def test_a_sock_refuses_what_is_no_part(part: str) -> None:
    with pytest.raises(SizingError, match=f"{part}: found 3; expected its name"):
        Sock(foot=FOOT, gauge=COARSE, **{part: 3})  # type: ignore[arg-type]


# Found by the command


def _installed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: str) -> None:
    """A package with an entry point, as an installer leaves it (PyPA's entry points page)."""
    (tmp_path / "harbour_parts.py").write_text(code, encoding="utf-8")
    info = tmp_path / "harbour_parts-1.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: harbour-parts\nVersion: 1.0\n")
    (info / "entry_points.txt").write_text("[loopwright.parts]\nharbour = harbour_parts\n")
    monkeypatch.syspath_prepend(str(tmp_path))
    monkeypatch.delitem(sys.modules, "harbour_parts", raising=False)


def _design(tmp_path: Path, extra: str = "") -> Path:
    path = tmp_path / "design.toml"
    lines = SMALL.splitlines()
    first = next(at for at, line in enumerate(lines) if line.startswith("["))
    text = "\n".join([*lines[:first], extra, *lines[first:]])
    path.write_text(text.replace("[heel]", "[unused]") + '\n[heel]\nkind = "harbour"\n')
    return path


def test_the_command_finds_a_heel_of_an_installed_package(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _installed(tmp_path, monkeypatch, FILE.read_text(encoding="utf-8"))
    design = _design(tmp_path)
    for _ in range(2):  # known once, and not taken the second time
        assert main(["compare", str(design), "--heels", "harbour", "--size", "S/M"]) == 0
    assert "harbour" in capsys.readouterr().out


def test_a_package_whose_parts_fail_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    code = FILE.read_text(encoding="utf-8") + "\nraise RuntimeError('half done')\n"
    _installed(tmp_path, monkeypatch, code)
    assert main(["compare", str(_design(tmp_path)), "--heels", "flap"]) == 2
    told = capsys.readouterr().err
    assert "parts of harbour-parts: RuntimeError: half done; mend or uninstall" in told
    assert "harbour" not in heel_names()


def test_a_design_runs_a_file_only_with_the_flag(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    trace = tmp_path / "it-ran"
    code = f"import pathlib\npathlib.Path({str(trace)!r}).touch()\n"
    (tmp_path / "mine.py").write_text(FILE.read_text(encoding="utf-8") + code)
    design = _design(tmp_path, 'parts = "mine.py"')
    call = ["compare", str(design), "--heels", "harbour", "--size", "S/M"]
    assert main(call) == 2
    told = capsys.readouterr().err
    assert "parts: found mine.py, which would be run; expected --run-parts" in told
    assert not trace.exists()
    with pytest.raises(DesignError, match="would be run"):
        read_design(design.read_text())
    assert not trace.exists()
    assert main([*call, "--run-parts"]) == 0
    assert trace.exists()


@pytest.mark.parametrize(
    ("code", "told"),
    [
        ("1 +", "SyntaxError"),
        ("raise SystemExit(0)", "SystemExit"),
        ("import no_such_module", "ModuleNotFoundError"),
        ("from loopwright.sock import heel\nheel(3)", "doesn't derive from Heel"),
        (None, "No such file"),
    ],
)
def test_a_file_that_fails_is_told_and_leaves_nothing(
    tmp_path: Path, code: str | None, told: str
) -> None:
    before = heel_names()
    if code is not None:
        (tmp_path / "mine.py").write_text(FILE.read_text(encoding="utf-8") + "\n" + code)
    design = _design(tmp_path, 'parts = ["mine.py"]')
    with pytest.raises(DesignError, match=told) as refused:
        read_design(design.read_text(), run_parts_in=tmp_path)
    assert refused.value.key == "parts"
    assert heel_names() == before


def test_a_file_that_changed_is_run_again(tmp_path: Path) -> None:
    path = tmp_path / "mine.py"
    code = FILE.read_text(encoding="utf-8")
    path.write_text(code)
    load_file(path)
    load_file(path)
    path.write_text(code.replace("turns: int = 4", "turns: int = 5"))
    load_file(path)
    assert heel_named("harbour").turns == 5  # type: ignore[attr-defined]
    assert heel_names().count("harbour") == 1
