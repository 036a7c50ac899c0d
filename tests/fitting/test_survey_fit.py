"""No crying wolf: ordinary socks on the survey's feet, by plans and the closed form alone."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from loopwright.fitting import Passage, Place
from loopwright.fitting.limits import COURSEWISE, Feel
from loopwright.gauge import Gauge
from loopwright.length import Length
from loopwright.sock import Foot, Sex, Sock
from loopwright.sock.heels import wedge_heel_girth_mm
from loopwright.sock.sizes import size_chart
from loopwright.sock.survey import population

GAUGE = Gauge.of(32, 44)
N = 300  # feet of either sex: a share of 0.8 is good to 0.016 of all of them


def _feet(sex: Sex) -> list[dict[str, float]]:
    people = population(sex)
    rng = np.random.default_rng(2012)
    drawn = rng.multivariate_normal(people.mean_mm, people.covariance, N)
    return [dict(zip(people.names, row, strict=True)) for row in drawn]


def _height_mm(sex: Sex, length_mm: float) -> float:
    """The sock's height by the published size chart, between its rows."""
    who = {"woman": Sex.FEMALE, "man": Sex.MALE}
    rows = [row for row in size_chart() if who.get(row.wearer) is sex]
    lengths = [row.foot_length_mm for row in rows]
    return float(np.interp(length_mm, lengths, [row.sock_height_mm for row in rows]))


def _sits(sex: Sex, measures: dict[str, float]) -> dict[str, Any]:
    """The default sock on a foot whose every measure is known."""
    given = {name: f"{mm:.1f} mm" for name, mm in measures.items()}
    given["leg_height"] = f"{_height_mm(sex, measures['length']):.1f} mm"
    foot = Foot.of(**given, sex=sex, tape_sd="0 mm")
    plan = Sock(foot=foot, gauge=GAUGE).plan()
    tube = GAUGE.width(plan.stitches.count)
    heel_mm = wedge_heel_girth_mm(
        plan.stitches.count, plan.heel.foot_courses,
        stitch_mm=GAUGE.stitch_width_mm, course_mm=GAUGE.course_height_mm,
    )  # fmt: skip
    return {
        "ball": Place("ball", foot.ball_girth, tube),
        "top": Place("top", Length(foot.leg_girth.mm), tube),
        "heel": Place("heel", foot.heel_girth, Length(heel_mm, 0.045 * heel_mm)),
        "passage": Passage("leg", foot.heel_girth, tube),
        "ratio": measures["heel_girth"] / measures["ball_girth"],
    }


@pytest.fixture(scope="module")
def all_sit() -> list[dict[str, Any]]:
    return [_sits(sex, one) for sex in (Sex.FEMALE, Sex.MALE) for one in _feet(sex)]


def test_four_of_five_feet_find_an_ordinary_sock_close_or_easy(
    all_sit: list[dict[str, Any]],
) -> None:
    well = {Feel.EASY, Feel.CLOSE}
    at_ball = [one["ball"].feel in well for one in all_sit]
    at_both = [one["ball"].feel in well and one["top"].feel in well for one in all_sit]
    assert np.mean(at_ball) > 0.99
    assert np.mean(at_both) >= 0.8
    assert np.mean([one["ball"].tight < 0.5 for one in all_sit]) > 0.99


def test_the_feet_that_find_it_tight_are_those_with_the_largest_heel_over_ball(
    all_sit: list[dict[str, Any]],
) -> None:
    """Of any two feet the one with the larger ratio is the likelier tight, 4 times in 5."""
    ratio = np.array([one["ratio"] for one in all_sit])
    tight = np.array([one["heel"].tight for one in all_sit])
    chance = np.array([one["passage"].goes for one in all_sit])
    for value in (tight, -chance):
        bigger = np.sign(ratio[:, None] - ratio) == np.sign(value[:, None] - value)
        assert bigger[np.triu_indices(len(ratio), 1)].mean() > 0.8
    assert ratio[tight >= 0.5].min(initial=9) > np.percentile(ratio, 85)
    assert (chance >= 0.5).mean() > 0.95


def test_the_scale_is_that_of_every_place(all_sit: list[dict[str, Any]]) -> None:
    assert all_sit[0]["ball"].scale is all_sit[0]["top"].scale is COURSEWISE
