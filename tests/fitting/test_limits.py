"""Limits of stretch: one scale of tension, each limit where its source puts it."""

from __future__ import annotations

import ast
import math
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import loopwright.studies
from loopwright.errors import SizingError
from loopwright.fitting import StretchLimits
from loopwright.fitting._tension import (
    rib_rest,
    stretch_across,
    stretch_along,
    tension_across,
    tension_along,
)
from loopwright.fitting.limits import ANKLE, COURSEWISE, GOING_ON, WALEWISE, Feel, Limit, between
from together import together

FIGURES = tomllib.loads(
    (Path(__file__).parents[2] / "shared" / "standards.toml").read_text(encoding="utf-8")
)


# Each limit where its source puts it


def test_the_limits_of_ease_are_the_published_ones() -> None:
    """10 % is easy; close ends between the 20 % that are the most advised and the low calf."""
    ranges = FIGURES["ease"]["ranges"]
    most, least = min(one["from"] for one in ranges), max(one["to"] for one in ranges)
    assert COURSEWISE.easy.stretch == pytest.approx(1 / (1 + least))
    calf = FIGURES["proportions"]["low_calf"] / (1 + least)
    assert COURSEWISE.close.stretch == pytest.approx(math.sqrt(calf / (1 + most)))
    low, high = COURSEWISE.close.interval
    assert low == pytest.approx(1 / (1 + most), abs=0.02)
    assert high == pytest.approx(calf, abs=0.02)


def test_the_limit_of_going_on_is_that_of_the_official_test() -> None:
    """60 stitches at 6.5 to the inch to 15.5 in: 1.68, by the source's own numbers."""
    test = FIGURES["sock_tops"][0]
    relaxed_in = test["stitches"] / test["stitches_per_inch"]
    assert GOING_ON.stretch == pytest.approx(test["reach_in"] / relaxed_in, abs=0.005)
    assert GOING_ON.interval == pytest.approx((1.6, 1.8), abs=0.03)  # where plain fabric stiffens
    assert COURSEWISE.tight is GOING_ON


def test_what_is_published_lengthwise_lies_about_the_same_tensions() -> None:
    """Nothing was fitted to it: 10 to 30 % in length where 30 to 60 % in width are given."""
    plain = FIGURES["plain_knitting"]
    least, most = (1 + share for share in plain["length"])
    for limit in (WALEWISE.close, WALEWISE.tight):
        assert least < limit.stretch < most
    for less in FIGURES["ease"]["shorter_mm"]:
        assert WALEWISE.feel(246.3 / (246.3 - less)) is Feel.EASY


def test_the_same_tension_is_the_limit_in_both_directions() -> None:
    for across, along in zip(COURSEWISE.limits[1:], WALEWISE.limits[1:], strict=True):
        assert tension_along(along.stretch) == pytest.approx(tension_across(across.stretch))
        assert along.sd > 0.02


def test_width_gives_about_twice_what_length_does() -> None:
    """Trade pages say so of plain knitting (see plain_knitting's source); nothing was fitted."""
    for tension in (1.0, 2.0, 4.0, 8.0):
        ratio = (stretch_across(tension) - 1) / (stretch_along(tension) - 1)
        assert 1.6 < ratio < 3.2


def test_the_law_turns_back_into_itself_and_ascends() -> None:
    stretches = np.linspace(1.0, 2.4, 57)
    for there, back in ((tension_across, stretch_across), (tension_along, stretch_along)):
        assert back(there(stretches)) == pytest.approx(stretches)
        assert (np.diff(there(stretches)) > 0).all()
    assert tension_across(0.8) == tension_along(0.8) == 0


def test_ribs_at_rest_are_about_as_narrow_as_swatches_say() -> None:
    """Their greatest width is plain fabric's, at 1.3 of its own: by swatches 1.96 and 2.23."""
    for name, ratio in FIGURES["ribs"]["greatest_to_rest"].items():
        rest, sd = rib_rest(*map(int, name.split("x")))
        assert abs(math.log(1.30 / ratio / rest)) < 2 * sd + 0.05
    assert rib_rest(5, 1)[1] >= rib_rest(1, 1)[1]
    assert rib_rest(1, 3) == rib_rest(3, 1)


def test_limits_ascend_and_name_their_sources() -> None:
    for scale in (COURSEWISE, WALEWISE, ANKLE):
        stretches = [limit.stretch for limit in scale.limits]
        assert stretches == sorted(set(stretches))
        assert all(limit.source in str(limit) for limit in scale.limits)


@pytest.mark.parametrize("at", range(4))
def test_a_limit_itself_belongs_to_the_side_that_is_allowed(at: int) -> None:
    limit = COURSEWISE.limits[at].stretch
    loose, *rest = Feel
    lower = Feel.EASY if at == 0 else [loose, *rest][at]
    assert COURSEWISE.feel(limit) is lower
    assert COURSEWISE.feel(limit * 1.001) is list(Feel)[at + 1]


@pytest.mark.parametrize("stretch", [0.0, -1.2, 25.0, math.nan])
def test_a_limit_out_of_reason_is_refused(stretch: float) -> None:
    with pytest.raises(SizingError, match="limit of stretch"):
        Limit(stretch, "", "")


@pytest.mark.parametrize("sd", [-0.1, 1.0, math.nan])
def test_a_limit_s_doubt_out_of_reason_is_refused(sd: float) -> None:
    with pytest.raises(SizingError, match="uncertainty of a limit"):
        Limit(1.2, "", "", sd)


def test_a_limit_between_two_is_that_of_even_odds_between_them() -> None:
    rng = np.random.default_rng(3)
    drawn = np.exp(rng.uniform(math.log(1.2), math.log(1.5), 10**6))
    limit = between(1.2, 1.5, "", "")
    assert limit.stretch == pytest.approx(np.median(drawn), abs=0.001)
    assert limit.sd == pytest.approx(np.log(drawn).std(), rel=0.005)


# What serves


def test_what_serves_is_what_is_neither_loose_nor_tight() -> None:
    """One scale: a study's limits are those of a fit."""
    usual = StretchLimits()
    assert usual.ball == (COURSEWISE.loose.stretch, COURSEWISE.close.stretch)
    assert usual.heel == COURSEWISE.close.stretch
    assert usual.length == (WALEWISE.loose.stretch, WALEWISE.close.stretch)
    assert COURSEWISE.feel(usual.heel).value == "close"
    assert COURSEWISE.feel(usual.heel + 0.01).value == "tight"


@together(
    ("limits", "what", "found"),
    [
        ({"ball": (1.2, 1.1)}, "limits of stretch, ball", "1.2 to 1.1"),
        ({"length": (1.1, 1.0)}, "limits of stretch, length", "1.1 to 1"),
        ({"heel": 0.25}, "limit of stretch, heel", "0.25"),  # a fraction
        ({"heel": 25}, "limit of stretch, heel", "25"),  # per cent
        ({"heel": float("nan")}, "limit of stretch, heel", "nan"),
        ({"ball": (-0.1, 1.2)}, "limit of stretch, ball", "-0.1"),
        ({"ball": 1.2}, "limits of stretch", "1.2"),
    ],
)
def test_limits_that_nothing_meets_are_refused(
    limits: dict[str, Any], what: str, found: str
) -> None:
    with pytest.raises(SizingError) as caught:
        StretchLimits(**limits)
    assert (caught.value.what, caught.value.found) == (what, found)


def test_studies_have_no_limits_of_their_own() -> None:
    """A breaker for a second home: no stretch between 1 and 2 is written in the study's modules."""
    folder = Path(loopwright.studies.__file__).parent
    for module in sorted(folder.glob("*.py")):
        for node in ast.walk(ast.parse(module.read_text("utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, float):
                sizes = module.name == "plots.py"  # of paper and print
                assert sizes or not 1.0 < node.value < 1.9, f"{module.name}:{node.lineno}"
