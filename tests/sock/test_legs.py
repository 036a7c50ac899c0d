"""Legs: patterned, ribbed, shaped; both directions; what does not divide is refused."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loopwright.errors import SizingError
from loopwright.fabric import check
from loopwright.gauge import Gauge
from loopwright.pattern import Run, k, p, read, write
from loopwright.sock import Direction, Foot, Sock, heel_names
from loopwright.sock._legs import PatternedLeg, RibbedLeg, ShapedLeg

FINE = Gauge.of(32, 44)
FOOT = Foot.of(length="24.6 cm", ball_girth="22.5 cm", calf_girth="38 cm", leg_height="38 cm")
EYELETS = PatternedLeg(rounds=[[k(4)], [Run("yo"), Run("k2tog"), k(2)], [p(4)]])


@pytest.mark.parametrize("direction", Direction)
@pytest.mark.parametrize("heel", heel_names())
@pytest.mark.parametrize("leg", [EYELETS, RibbedLeg(), ShapedLeg()], ids=lambda leg: leg.name)
def test_every_leg_over_every_heel(leg: object, heel: str, direction: Direction) -> None:
    sock = Sock(foot=FOOT, gauge=FINE, leg=leg, heel=heel, direction=direction)  # type: ignore[arg-type]
    assert check(sock.fabric(), openings=1).ok
    pattern = sock.pattern()
    assert read(write(pattern)) == pattern


def test_a_ribbed_leg_is_all_rib() -> None:
    sock = Sock(foot=FOOT, gauge=FINE, leg="ribbed")
    plan, fabric = sock.plan(), sock.fabric()
    count = plan.stitches.count
    rounds = plan.cuff_rounds + plan.leg_rounds
    faces = fabric.stitch[count : count * (rounds + 1)].reshape(rounds, count)
    assert (faces == fabric.stitches.codes(["k", "k", "p", "p"] * (count // 4))).all()


@settings(max_examples=25)
@given(widest=st.integers(17, 24), direction=st.sampled_from(Direction))
def test_a_shaped_leg_has_the_stitches_it_says(widest: int, direction: Direction) -> None:
    sock = Sock(foot=FOOT, gauge=FINE, leg=ShapedLeg(widest=4 * widest), direction=direction)
    plan, fabric = sock.plan(), sock.fabric()
    assert plan.top == 4 * widest
    (opening,) = fabric.openings
    assert opening.size in (plan.top, plan.top + 1, plan.top + 2)  # and the join of the edge
    key = "k2tog" if direction is Direction.CUFF_DOWN else "m1l"
    back = fabric.course[fabric.stitch == fabric.stitches.code(key)]
    plain = Sock(foot=FOOT, gauge=FINE, leg="plain", direction=direction).fabric()
    others = (plain.stitch == plain.stitches.code(key)).sum()
    assert len(back) - others == (plan.top - plan.stitches.count) // 2


def test_a_shaped_leg_keeps_its_height_and_asks_for_the_legs_girth() -> None:
    plan = Sock(foot=FOOT, gauge=FINE, leg="shaped").plan()
    assert abs(plan.measure("leg height").moved_mm) < FINE.course_height_mm
    girth = plan.measure("cuff girth")
    assert girth.asked_mm == pytest.approx(0.9 * FOOT.leg_girth.mm)
    assert abs(girth.moved_mm) <= 2 * FINE.stitch_width_mm  # a multiple of four stitches


def test_a_repeat_that_does_not_divide_is_refused() -> None:
    with pytest.raises(SizingError) as refused:
        Sock(foot=FOOT, gauge=FINE, stitches=64, leg=PatternedLeg(rounds=[[k(4), p(2)]])).plan()
    assert refused.value.found == "64"
    assert "multiple of 12" in refused.value.expected


def test_without_a_number_a_repeat_chooses_the_stitches() -> None:
    plan = Sock(foot=FOOT, gauge=FINE, leg=PatternedLeg(rounds=[[k(4), p(2)]])).plan()
    assert plan.stitches.count == 60


@pytest.mark.parametrize(
    ("rounds", "found"),
    [
        ([], "no rounds"),
        ([[k(2), Run("yo")]], "round 1 takes 2 stitches and leaves 3"),
        ([[k(2)], [k(3)]], "round 2 takes 3 stitches and leaves 3"),
    ],
)
def test_rounds_that_do_not_fit_on_each_other_are_refused(
    rounds: list[list[Run]], found: str
) -> None:
    with pytest.raises(SizingError) as refused:
        PatternedLeg(rounds=rounds)
    assert refused.value.found == found


def test_a_leg_too_short_for_its_shaping_is_refused() -> None:
    foot = Foot.of(length="24.6 cm", ball_girth="22.5 cm", leg_height="12 cm")
    with pytest.raises(SizingError) as refused:
        Sock(foot=foot, gauge=FINE, leg=ShapedLeg(widest=96)).plan()
    assert refused.value.what == "leg"
