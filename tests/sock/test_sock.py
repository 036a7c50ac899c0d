"""The sock as a whole: its measures come out, its text reads well, and refusals say why."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any, ClassVar

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loopwright.cloth import CLOTH_SIZES, Cloth
from loopwright.errors import SizingError
from loopwright.fabric import Fabric, Kind, check
from loopwright.gauge import Gauge
from loopwright.length import Length, Origin
from loopwright.pattern import Note, Pattern, Section, Step, WasteRow, knit, write
from loopwright.sock import (
    Direction,
    Foot,
    Plan,
    Sex,
    Sock,
    cuff_named,
    cuff_names,
    heel_named,
    heel_names,
    leg_named,
    leg_names,
    toe_named,
    toe_names,
)
from loopwright.sock._toes import WedgeToe
from loopwright.sock.heels import Afterthought, Flap, Forethought, HeelNumbers, Setting, ShortRow
from loopwright.sock.heels._heel import DRAWN_OUT, RIDGE, SCISSORS, Heel, heel
from loopwright.sock.rounds import move_beginning, plain
from loopwright.sock.survey import population
from loopwright.sock.wedge import Wedge
from together import together

FINE = Gauge.of(32, 44)
FOOT = Foot.of(length="24.6 cm", ball_girth="22.5 cm")  # invented

# Columns of the survey's table, see shared/survey.
COLUMNS = {
    "length": "footlength",
    "ball_girth": "balloffootcircumference",
    "heel_girth": "heelanklecircumference",
    "ankle_girth": "anklecircumference",
    "calf_girth": "calfcircumference",
    "ankle_height": "lateralmalleolusheight",
}


def require_fitting(sock: Sock) -> None:
    """Each finished measure is as near to what was asked as whole stitches and rounds allow."""
    plan = sock.plan()
    assert abs(plan.stitches.moved) <= 2, "more than a pair of stitches off"
    course = sock.gauge.course_height_mm
    for name in ("foot length", "leg height", "cuff height"):
        assert abs(plan.measure(name).moved_mm) <= 0.5 * course + 1e-6, name


def test_every_foot_of_the_survey_gets_a_sock(survey_csv: Path) -> None:
    """6,068 feet: none is refused, and the ball girth is within a stitch pair of what was asked."""
    with survey_csv.open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == 6068
    sex = {"M": Sex.MALE, "F": Sex.FEMALE}
    base = Sock(foot=FOOT, gauge=FINE)
    for row in rows:
        known = {name: float(row[column]) for name, column in COLUMNS.items()}
        measured: dict[str, Any] = {
            name: Length(mm, 3.0, Origin.MEASURED) for name, mm in known.items()
        }
        foot = attrs.evolve(FOOT, **measured, sex=sex[row["sex"]],
                            leg_height=Length(0.72 * known["length"]))  # fmt: skip
        require_fitting(attrs.evolve(base, foot=foot))


@together("direction", Direction)
@together("name", heel_names())
@together("sex", [Sex.FEMALE, Sex.MALE])
@together("sds", [-2, 0, 2])
def test_small_mean_and_large_feet_get_every_sock(
    sds: int, sex: Sex, name: str, direction: Direction
) -> None:
    """The survey's means, and two standard deviations of its lengths and girths to either side."""
    people = population(sex)
    place = {each: people.names.index(each) for each in ("length", "ball_girth")}
    sd = people.covariance.diagonal() ** 0.5
    mm = {each: float(people.mean_mm[at] + sds * sd[at]) for each, at in place.items()}
    foot = Foot.of(length=f"{mm['length']} mm", ball_girth=f"{mm['ball_girth']} mm", sex=sex)
    require_fitting(Sock(foot=foot, gauge=FINE, heel=name, direction=direction))


def climb(fabric: Fabric, loop: int) -> int:
    """Courses from a loop of the cast-on, up the middle of a half, to the last edge."""
    courses, edge = 0, fabric.kinds(Kind.BOUND_OFF)
    while len(children := fabric.children(loop)) and not edge[loop]:
        loop, courses = int(children[0]), courses + 1
    return courses


@settings(max_examples=60)
@given(
    length=st.integers(225, 300),
    stitches_per_10cm=st.integers(22, 40),
    name=st.sampled_from(heel_names()),
    direction=st.sampled_from(Direction),
)
def test_courses_on_the_fabric_are_those_of_the_plan(
    length: int, stitches_per_10cm: int, name: str, direction: Direction
) -> None:
    """Counted on the knitted fabric: instep and sole are as long as the plan says."""
    foot = Foot.of(length=f"{length} mm")
    gauge = Gauge.of(stitches_per_10cm, round(1.35 * stitches_per_10cm))
    chosen = heel_named(name, fabric="plain") if name == "flap" else heel_named(name)
    cuff = cuff_named("2x2 rib", stretchy=False)  # a stretchy bind-off is a course higher
    sock = Sock(foot=foot, gauge=gauge, heel=chosen, direction=direction, cuff=cuff)
    plan, fabric = sock.plan(), sock.fabric()
    first, second = _middles(plan, direction)
    instep, sole = (first, second) if sock.heel.begins == "instep" else (second, first)
    numbers = plan.heel
    leg = plan.cuff_rounds + plan.leg_rounds + numbers.leg_rounds
    feet = plan.foot_rounds + numbers.foot_rounds + plan.toe.courses
    # A course more or less where a cast-on, a bind-off or a graft is counted or not.
    assert climb(fabric, instep) == pytest.approx(leg + feet, abs=1.5)
    if name in ("forethought", "afterthought"):  # the way up the sole ends in the heel's graft
        before, heel_courses = float(leg), numbers.leg_courses
        if direction is Direction.TOE_UP:
            before, heel_courses = feet, numbers.foot_courses
        assert climb(fabric, sole) == pytest.approx(before + heel_courses, abs=1.5)
        return
    whole = leg + feet + numbers.leg_courses + numbers.foot_courses
    assert climb(fabric, sole) == pytest.approx(whole, abs=1.5)


def _middles(plan: Plan, direction: Direction) -> tuple[int, int]:
    """Return the loops of the cast-on in the middle of the first half and of the second."""
    if direction is Direction.TOE_UP:  # a closed cast-on goes to and fro between the halves
        middle = plan.toe.wedge.left // 4 * 2  # type: ignore[attr-defined]
        return middle + 1, middle
    half = plan.stitches.count // 2
    return half // 2, half + half // 2


@pytest.mark.parametrize(
    ("name", "option", "value"),
    [
        ("forethought", "plain_rounds", 6),
        ("forethought", "gusset", 4),
        ("forethought", "wedge", Wedge(stop=1 / 5)),
        ("forethought", "wedge", Wedge(stop=2 / 5)),
        ("afterthought", "plain_rounds", 6),
        ("short-row", "gusset", 4),
        ("flap", "longer", 6),
        ("flap", "corner", 2),
    ],
)
def test_modifications_change_the_heel_and_not_the_length(
    name: str, option: str, value: object
) -> None:
    plain_sock = Sock(foot=FOOT, gauge=FINE, heel=name)
    modified = attrs.evolve(plain_sock, heel=heel_named(name, **{option: value}))
    require_fitting(modified)
    assert modified.fabric() != plain_sock.fabric()
    assert check(modified.fabric(), openings=1).ok


def test_more_than_half_the_stitches_in_the_heel() -> None:
    plan = Sock(foot=FOOT, gauge=FINE, share=0.6).plan()
    assert (plan.share.heel, plan.share.instep) == (38, 26)
    assert plan.heel.wedge.start == 76  # type: ignore[attr-defined]


def test_flap_by_the_height_of_the_ankle() -> None:
    """Published advice: flap height from ankle bone to floor, a fifth off for stretch."""
    sock = Sock(foot=FOOT, gauge=FINE, heel=Flap(by_height=True))
    rows = sock.plan().heel.rows  # type: ignore[attr-defined]
    asked = 0.8 * FOOT.ankle_height.mm
    assert rows % 2 == 0
    low = CLOTH_SIZES[Cloth.SLIPPED].height * FINE.course_height_mm
    assert abs(rows * low - asked) <= low
    plain = attrs.evolve(sock, heel=Flap(by_height=True, fabric="plain")).plan().heel.rows  # type: ignore[attr-defined]
    assert abs(plain * FINE.course_height_mm - asked) <= FINE.course_height_mm
    swatch = attrs.evolve(sock, slip_gauge=FINE).plan().heel.rows  # type: ignore[attr-defined]
    assert swatch == plain < rows


def notes(sock: Sock) -> list[Note]:
    return [step for step in sock.pattern().steps if isinstance(step, Note)]


@pytest.mark.parametrize(("kind", "told"), [(Forethought, DRAWN_OUT), (Afterthought, SCISSORS)])
def test_scissors_come_after_every_stitch_is_secured(kind: type[Forethought], told: Note) -> None:
    steps: tuple[Step, ...] = Sock(foot=FOOT, gauge=FINE, heel=kind()).pattern().steps
    kinds = [type(step).__name__ for step in steps]
    assert steps[kinds.index("Recapture") - 1] == told
    assert told.caution


def test_ridges_are_warned_of_where_there_are_any() -> None:
    assert RIDGE not in notes(Sock(foot=FOOT, gauge=FINE))
    ridged = Sock(foot=FOOT, gauge=FINE, toe=WedgeToe(wedge=Wedge(closing="three-needle bind-off")))
    assert RIDGE in notes(ridged)
    assert "clinician" in RIDGE.text


@pytest.mark.parametrize("direction", Direction)
def test_every_sock_warns_of_tight_bands(direction: Direction) -> None:
    cautions = [note for note in notes(Sock(foot=FOOT, gauge=FINE, direction=direction))
                if note.caution]  # fmt: skip
    assert any("band" in note.text and "clinician" in note.text for note in cautions)


@pytest.mark.parametrize("kind", [Forethought, Afterthought])
def test_the_tail_next_to_a_corner_is_named(kind: type[Forethought]) -> None:
    assert any("tail" in note.text for note in notes(Sock(foot=FOOT, gauge=FINE, heel=kind())))


@pytest.mark.parametrize("direction", Direction)
@pytest.mark.parametrize("cuff", cuff_names())
def test_every_cuff(cuff: str, direction: Direction) -> None:
    sock = Sock(foot=FOOT, gauge=FINE, cuff=cuff, direction=direction)
    assert check(sock.fabric(), openings=1).ok
    stretchy = write(sock.pattern()).count("stretchy")
    tight = attrs.evolve(sock, cuff=cuff_named(cuff, stretchy=False))
    assert write(tight.pattern()).count("stretchy") == stretchy - 1
    assert check(tight.fabric(), openings=1).ok


@pytest.mark.parametrize(
    ("make", "name", "known"),
    [
        (heel_named, "hoof", heel_names()),
        (toe_named, "hoof", toe_names()),
        (cuff_named, "hoof", cuff_names()),
        (leg_named, "hoof", leg_names()),
    ],
)
def test_unknown_names_list_those_there_are(
    make: object, name: str, known: tuple[str, ...]
) -> None:
    with pytest.raises(SizingError) as refused:
        make(name)  # type: ignore[operator]
    assert refused.value.found == "'hoof'"
    assert all(each in refused.value.expected for each in known)


def test_unknown_options_list_those_there_are() -> None:
    with pytest.raises(SizingError) as refused:
        heel_named("forethought", gussset=3)
    assert "gussset" in refused.value.found
    assert "plain_rounds" in refused.value.expected


@together(
    ("choices", "what"),
    [
        ({"stitches": 62}, "stitches"),  # no multiple of the 2x2 rib
        ({"cuff": cuff_named("2x2 rib", height_mm=170.0)}, "leg height"),
        ({"share": 0.9}, "heel's share"),
        ({"heel": Forethought(gusset=-1)}, "gusset"),
        ({"heel": Forethought(plain_rounds=60)}, "leg height"),
        ({"heel": ShortRow(gusset=40)}, "leg height"),
    ],
)
def test_what_cannot_be_met_is_refused_with_its_reason(
    choices: dict[str, object], what: str
) -> None:
    sock = Sock(foot=FOOT, gauge=FINE, **choices)  # type: ignore[arg-type]
    with pytest.raises(SizingError) as refused:
        sock.plan()
    assert refused.value.what == what
    assert refused.value.expected


def test_a_heel_of_your_own() -> None:
    """A user's class, decorated, is asked for by name: here a tube without any heel."""

    @heel
    @attrs.frozen
    class NoHeel(Heel):
        name: ClassVar[str] = "tube"
        begins: ClassVar[str] = "heel"

        def numbers(self, setting: Setting) -> HeelNumbers:
            return HeelNumbers(foot_courses=0.0, leg_courses=0.0)

        def steps(self, setting: Setting) -> list[Step]:
            return [*move_beginning(setting.heel)]

    try:
        sock = Sock(foot=FOOT, gauge=FINE, heel="tube")
        assert check(sock.fabric(), openings=1).ok
        assert not any(isinstance(step, WasteRow) for step in sock.pattern().steps)
        require_fitting(sock)
    finally:
        heel.forget("tube")  # other tests go through all heels


def test_no_plain_rounds_is_no_step() -> None:
    assert [step.times for step in plain(0)] == [0]  # type: ignore[attr-defined]


RIB = Gauge.of(40, 46)


def test_a_cuff_of_rib_is_measured_in_stocking_stitch_and_says_so() -> None:
    text = write(Sock(foot=FOOT, gauge=FINE).pattern())
    assert " cm in stocking stitch, less where rib draws in;" in text
    for other in (
        Sock(foot=FOOT, gauge=FINE, cuff="rolled"),
        Sock(foot=FOOT, gauge=FINE, rib_gauge=RIB),
    ):
        assert "stocking" not in write(other.pattern())


def test_a_gauge_of_the_rib_measures_the_cuff() -> None:
    """64 stitches at 40 to 10 cm are 160 mm; 4 cm of rounds at 46 are 18."""
    plain, ribbed = (Sock(foot=FOOT, gauge=FINE, rib_gauge=rib).plan() for rib in (None, RIB))
    assert ribbed.stitches == plain.stitches
    assert ribbed.measure("cuff girth").finished.mm == pytest.approx(ribbed.top * 2.5)
    assert ribbed.cuff_rounds == round(40 * 46 / 100)
    height = ribbed.measure("leg height")
    assert height.finished.mm == pytest.approx(height.asked_mm, abs=FINE.course_height_mm / 2)
    course = FINE.course_height_mm
    assert height.finished.mm == pytest.approx(
        ribbed.cuff_rounds * RIB.course_height_mm
        + (ribbed.leg_rounds + ribbed.heel.leg_rounds + ribbed.heel.leg_courses) * course
    )


def test_a_ribbed_leg_has_its_rounds_from_the_rib() -> None:
    sock = Sock(foot=FOOT, gauge=FINE, rib_gauge=RIB, leg="ribbed")
    plan, rib = sock.plan(), RIB.course_height_mm
    heel = plan.heel.leg_courses * FINE.course_height_mm
    rounds = plan.cuff_rounds + plan.leg_rounds + plan.heel.leg_rounds
    height = plan.measure("leg height").finished
    assert height.mm == pytest.approx(heel + rounds * rib)
    assert height.mm == pytest.approx(FOOT.leg_height.mm, abs=rib / 2)
    assert check(sock.fabric(), openings=1).ok


def test_a_sock_is_checked_as_finished() -> None:
    """Common practice: a sock is done when it has one opening and nothing is on the needles."""
    sock = Sock(foot=Foot.of(length="16 cm", ball_girth="15.5 cm"), gauge=Gauge.of(20, 28))
    assert sock.check().ok
    steps = list(sock.pattern().steps)
    graft = next(at for at, step in enumerate(steps) if isinstance(step, Section) and at > 2)
    unfinished = knit(Pattern("", steps[:graft]))
    assert "secured" in {found.kind for found in sock.check(unfinished).mistakes}
    whole = attrs.evolve(sock.fabric(), held={"stray": [0]})
    assert not sock.check(whole).ok
