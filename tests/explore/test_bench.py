"""Choices by hand: what they make, what they show, what they refuse, and what they write."""

from __future__ import annotations

import threading
import time
from itertools import cycle
from pathlib import Path
from typing import Any

import attrs
import pytest

from loopwright.design import read_design, with_sock
from loopwright.errors import ArgumentError, DesignError, FileError, LoopwrightError
from loopwright.fitting import Sample, fit, sample
from loopwright.gauge import Gauge
from loopwright.pattern import write
from loopwright.sock import Direction, Foot, Panel, Sock, StitchPattern, heel_names, toe_names
from loopwright.sock.heels import Forethought
from loopwright.sock.wedge import Phase, Wedge
from loopwright.trying import Bench
from loopwright.trying._choices import changed_words, choices_of, place_of, sock_of
from loopwright.trying._controls import controls

CHILD = Foot.of(length="16 cm", ball_girth="15.5 cm", heel_girth="23 cm")


def small(**more: Any) -> Sock:
    return Sock(foot=CHILD, gauge=Gauge.of([14, 14.5], [20, 20, 19.5]), **more)


@pytest.fixture(scope="module")
def bench() -> Bench:
    """One for all that only ask: it remembers what it measured."""
    made = Bench({"": small(heel="flap")})
    made.warm()
    return made


@pytest.mark.parametrize("heel", heel_names())
@pytest.mark.parametrize("direction", list(Direction))
def test_choices_are_the_sock_to_the_last_digit(heel: str, direction: Direction) -> None:
    sock = small(heel=heel, direction=direction, ease=-0.1234567)
    assert sock_of(choices_of(sock), sock) is sock
    other = small()
    moved = sock_of(choices_of(sock), other)
    assert moved == attrs.evolve(sock, ease=round(moved.ease, 6))
    assert abs(moved.ease - sock.ease) < 1e-4
    assert moved.gauge is other.gauge


@pytest.mark.parametrize("sock", [
    small(heel=heel, toe=toe, direction=way)
    for heel, toe, way in zip(heel_names(), cycle(toe_names()), cycle(Direction), strict=False)
], ids=str)  # fmt: skip
def test_each_control_goes_a_step_or_says_why_not(sock: Sock) -> None:
    """What is moved is what the sock then has, and nothing else of it is."""
    made = 0
    for one in controls(sock):
        for value in others(one):
            new = made_of({**choices_of(sock), one.key: value}, sock)
            if new is None:
                continue
            made += 1
            assert choices_of(new)[one.key] == value
            kept = {key: told for key, told in choices_of(new).items()
                    if not key.startswith(one.key.partition(".")[0])}  # fmt: skip
            assert kept.items() <= choices_of(sock).items()
    assert made > 20 or made_of({}, sock) is None


def made_of(choices: dict[str, Any], sock: Sock) -> Sock | None:
    try:
        new = sock_of(choices, sock)
        new.plan()
    except LoopwrightError:
        return None
    return new


def others(one: Any) -> list[Any]:
    if one.kind == "yes":
        return [not one.value]
    if one.kind == "choice":
        return [word for word in one.options if word != one.value]
    start = one.usual if one.value is None else one.value
    if start is None:
        return []
    return [round(start + one.step, 2), round(start - one.step, 2)]


def test_what_no_control_shows_stays() -> None:
    """Phases of a wedge are a list; another number of the same heel leaves them."""
    phases = (Phase(rounds=3, plain=1), Phase(rounds=1, plain=0))
    sock = small(heel=Forethought(wedge=Wedge(phases=phases)), stitches=24)
    moved = sock_of({"heel.plain_rounds": 3}, sock)
    assert isinstance(moved.heel, Forethought)
    assert moved.heel == Forethought(wedge=Wedge(phases=phases), plain_rounds=3)
    panel = Panel(pattern=StitchPattern.of(["*k2, p2; rep from *"]))
    assert sock_of({"fit.ease": -5}, small(panel=panel)).panel is panel


def test_an_even_number_goes_on_by_two(bench: Bench) -> None:
    steps = {one.key: one.step for one in controls(bench.socks[""])}
    assert (steps["heel.longer"], steps["heel.rows"], steps["heel.corner"]) == (2, 2, 1)
    assert steps["fit.stitches"] == 4  # as the 2x2 rib asks


@pytest.mark.parametrize(
    ("choices", "key", "said"),
    [
        ({"heel.kind": "sandal"}, "heel.kind", "one of afterthought"),
        ({"heel.longer": 1.5}, "heel.longer", "a whole number"),
        ({"heel.longer": "long"}, "heel.longer", "a number"),
        ({"heel.longer": 10**400}, "heel.longer", "at most 9999"),
        ({"heel.longer": float("nan")}, "heel.longer", "a number"),
        ({"heel.longer": True}, "heel.longer", "a number"),
        ({"heel.longer": 3}, "heel", "an even number of rows"),
        ({"heel.twisted": "yes"}, "heel.twisted", "true or false"),
        ({"heel.turn.shape": 7}, "heel.turn.shape", "one of round"),
        ({"heel.sole": 3}, "heel.sole", "a choice that it hasn't"),
        ({"sole": 3}, "sole", "no such choice"),
        ({"fit.stitches": 21}, "", "a multiple of 4"),
        ({"fit.ease": -99}, "", "ease"),
        ({"direction": "sideways"}, "direction", "cuff down, toe up"),
        ({"gauge.rounds": 300}, "gauge.stitches", "check which count is which"),
        ({"foot.heel_girth": 12}, "foot.heel_girth", "expected it to be smaller"),
        ({"foot.length": 245}, "foot.length", "245 mm may be meant"),
        ({"leg.kind": "patterned"}, "leg.kind", "one of"),
    ],
)
def test_a_wrong_value_is_refused_by_its_own_error(
    bench: Bench, choices: dict[str, Any], key: str, said: str
) -> None:
    (answer,) = bench.stages("", choices)
    assert answer["stage"] == "refused"
    assert (answer["key"], said in answer["words"]) == (key, True), answer
    assert "line 1" not in answer["words"]


def test_no_control_is_without_a_name_or_has_two(bench: Bench) -> None:
    for heel in heel_names():
        all_of = controls(small(heel=heel))
        assert all(one.words for one in all_of)
        assert len({one.key for one in all_of}) == len(all_of)
        words = [(one.group, one.words) for one in all_of]
        assert len(set(words)) == len(words), words


def test_what_is_shown_is_what_the_library_says() -> None:
    """Each number against the function that everything else asks for it."""
    bench = Bench({"": small(heel="flap")})  # its own: an estimate goes by what was measured last
    bench.warm()
    stages = {one["stage"]: one for one in bench.stages("", {"heel.longer": 4, "fit.ease": -7})}
    assert list(stages) == ["reckoned", "drawn", "measured", "rest", "worn"]
    sock = bench.sock("", {"heel.longer": 4, "fit.ease": -7})
    made = sample(sock)
    sits = fit(made)
    first, last = stages["reckoned"], stages["measured"]
    assert first["counts"][0][1] == f"{sock.plan().stitches.count} stitches"
    assert first["text"] in write(sock.pattern())
    assert "pick up and knit" in first["text"]
    assert (first["is_estimated"], last["is_estimated"]) == (True, False)
    assert last["verdict"]["lines"] == list(sits.verdict.lines)
    assert last["cautions"] == list(sits.cautions)
    assert {one["place"]: one["stretch"] for one in last["places"]} == {
        one.place: round(one.stretch, 3) for one in sits.places
    }
    girth = last["heel_girth"]
    assert girth["sock_mm"] == round(made.girths["heel"].mm)
    assert sum(mm for _, mm, _ in girth["parts"]) == girth["sock_mm"]
    assert sum(mm for *_, mm in girth["parts"]) == girth["foot_mm"]
    assert girth["parts"][0][:2] == ["on the heel", round(made.heel_parts["heel"])]
    assert stages["drawn"]["yarn"]["words"] == str(made.yarn).partition(": ")[2]
    assert stages["drawn"]["loops"] == len(made.fabric)
    assert stages["worn"]["worn"] == made.worn.words
    guess = first["heel_girth"]["sock_mm"]
    assert guess == pytest.approx(girth["sock_mm"], rel=0.03)  # as between variants of one heel
    for answer in stages.values():
        for key in ("foot", "rest"):
            assert key not in answer or answer[key]["svg"].startswith(("<svg", "<?xml"))


def test_an_estimate_says_that_it_is_one(bench: Bench) -> None:
    (first, *_) = bench.stages("", {"heel.kind": "short-row"})
    assert first["foot"]["title"].endswith("estimated")
    assert first["yarn"]["is_estimated"]
    assert "Estimated" in first["accuracy"]


def test_a_ridge_and_a_tight_heel_come_with_their_caution(bench: Bench) -> None:
    found = [one for one in bench.stages("", {"fit.ease": -18}) if one["stage"] == "measured"]
    assert "ask a clinician" in found[0]["cautions"][0]


def heard(bench: Bench, side: int, choices: dict[str, Any]) -> tuple[list[str], threading.Event]:
    """Start a run; what it told, as it goes on, and when it ended."""
    told: list[str] = []
    ended = threading.Event()

    def tell(answer: dict[str, Any] | None) -> None:
        if answer is None:
            ended.set()
        else:
            told.append(answer["stage"])

    bench.start(side, "", choices, tell)
    return told, ended


def test_a_newer_run_stops_the_one_before_it_and_leaves_the_other_side() -> None:
    bench = Bench({"": small()})
    first, first_ended = heard(bench, 0, {"fit.ease": -9})
    other, other_ended = heard(bench, 1, {"fit.ease": -6})
    while not first:
        time.sleep(0.001)
    second, second_ended = heard(bench, 0, {"fit.ease": 0})
    for ended in (first_ended, other_ended, second_ended):
        assert ended.wait(60)
    assert "worn" not in first
    assert other[-1] == second[-1] == "worn"
    assert [one.words for one in bench.tried] in (
        ["ease -6 %", "ease 0 %"],
        ["ease 0 %", "ease -6 %"],
    )


def test_to_go_back_works_nothing_out_again(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    once = [*bench.stages("", {"heel.corner": 2})]
    tried = len(bench.tried)
    made: list[Sock] = []

    def a_sample(sock: Sock) -> Sample:
        made.append(sock)
        return Sample(sock)

    monkeypatch.setitem(Bench._sample.__globals__, "Sample", a_sample)
    again = [*bench.stages("", {"heel.corner": 2})]
    assert made == []
    assert [one["stage"] for one in again] == [one["stage"] for one in once]
    assert again[2]["verdict"] == once[2]["verdict"]
    assert len(bench.tried) == tried
    assert len([*bench.stages("", {"fit.ease": -3.7})]) == len(once)
    assert len(made) == 1  # another sock is worked out


def test_what_was_tried_is_told_by_what_differs() -> None:
    begun = small(heel="flap")
    cases: list[tuple[dict[str, Any], str]] = [
        ({}, "as begun"),
        ({"fit.ease": -8.5}, "ease -8.5 %"),
        ({"heel.kind": "short-row"}, "short-row heel"),
        ({"heel.kind": "short-row", "heel.gusset": 2}, "short-row heel; gusset, each side 2"),
        ({"heel.twisted": True, "fit.stitches": 24}, "picked-up stitches twisted; stitches round"),
        ({"foot.heel_girth": None}, "heel girth as usual"),
    ]
    for choices, words in cases:
        assert changed_words(sock_of(choices, begun), begun).startswith(words)


def test_a_sock_that_is_taken_is_read_back(tmp_path: Path) -> None:
    bench = Bench({"": small(heel="flap", title="Pier")}, folder=tmp_path)
    choices: dict[str, Any] = {"heel.kind": "short-row", "fit.ease": -6, "foot.heel_girth": 22.5,
               "gauge.stitches": 14.5, "gauge.rounds": 20, "direction": "toe up"}  # fmt: skip
    path = bench.take("", choices, "mine.toml")
    assert path == tmp_path / "mine.toml"
    ((_, sock),) = read_design(path.read_text("utf-8")).design.socks
    assert sock == bench.sock("", choices)
    with pytest.raises(FileError, match="is there already"):
        bench.take("", {}, "mine.toml")
    striped = small(panel=Panel(pattern=StitchPattern.of(["*k2, p2; rep from *"])))
    other = Bench({"": striped}, folder=tmp_path).take("", {}, "other.toml")
    ((_, sock),) = read_design(other.read_text("utf-8")).design.socks
    assert sock == striped
    assert {one.name for one in tmp_path.iterdir()} == {"mine.toml", "other.toml"}


def test_one_size_of_a_design_is_taken_into_its_text(tmp_path: Path, shared: Path) -> None:
    text = (shared / "designs" / "harbour-watch.toml").read_text("utf-8")
    socks = dict(read_design(text).design.socks)
    bench = Bench(socks, as_text=lambda sock, size: with_sock(text, sock, size=size),
                  folder=tmp_path)  # fmt: skip
    bench.take("L", {"fit.ease": -7, "toe.kind": "round"}, "l.toml")
    new = dict(read_design((tmp_path / "l.toml").read_text("utf-8")).design.socks)
    assert (new["L"].ease, new["L"].toe.name) == (-0.07, "round")
    assert (new["M"].ease, new["M"].foot) == (socks["M"].ease, socks["M"].foot)
    assert "# of the foot's girth" in (tmp_path / "l.toml").read_text("utf-8")


@pytest.mark.parametrize("name", [
    "", "x", "../x.toml", "a/b.toml", "a\\b.toml", "/x.toml", ".x.toml", "..toml", "x.toml\n",
    "x\x00.toml", "~/x.toml", "x.py", "C:x.toml", "x" * 90 + ".toml", "ſ.toml",
])  # fmt: skip
def test_only_a_plain_name_is_taken(tmp_path: Path, name: str) -> None:
    bench = Bench({"": small()}, folder=tmp_path)
    with pytest.raises(FileError, match="isn't the name of a design file"):
        bench.take("", {}, name)
    assert not [*tmp_path.iterdir()]


def test_no_link_is_followed_and_nothing_replaced_unless_allowed(tmp_path: Path) -> None:
    aim = tmp_path / "kept.txt"
    aim.write_text("kept")
    (tmp_path / "link.toml").symlink_to(aim)
    (tmp_path / "there.toml").write_text("there")
    sock = attrs.evolve(small(), gauge=Gauge.of(14, 20))
    for replace in (False, True):
        bench = Bench({"": sock}, folder=tmp_path, replace=replace)
        with pytest.raises(FileError):
            bench.take("", {}, "link.toml")
    with pytest.raises(FileError):
        Bench({"": sock}, folder=tmp_path).take("", {}, "there.toml")
    again = Bench({"": sock}, folder=tmp_path, replace=True)
    with pytest.raises(FileError, match="was changed since"):
        again.take("", {}, "there.toml")  # what the page didn't write itself
    assert (tmp_path / "there.toml").read_text() == "there"
    again.take("", {}, "taken.toml")
    again.take("", {"fit.ease": -4}, "taken.toml")
    assert "ease = -0.04" in (tmp_path / "taken.toml").read_text()
    assert aim.read_text() == "kept"
    with pytest.raises(FileError, match="name a folder"):
        Bench({"": sock}, folder=tmp_path / "none").take("", {}, "x.toml")


def test_sizes_and_sides_that_there_are(bench: Bench) -> None:
    assert bench.begin()["size"] == ""
    with pytest.raises(DesignError, match="one size without a name"):
        bench.begin("XL")
    with pytest.raises(ArgumentError):
        bench.start(2, "", {}, lambda answer: None)
    with pytest.raises(ArgumentError):
        Bench({})
    with pytest.raises(DesignError, match="at most 120"):
        bench.sock("", {f"a{n}": n for n in range(200)})


def test_an_error_names_its_control() -> None:
    with pytest.raises(LoopwrightError) as caught:
        Foot.of(length="16 cm", ball_girth="95 cm")
    assert place_of(caught.value) == "foot.ball_girth"
