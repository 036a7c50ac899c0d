"""Counts from measures, against published worked examples and brute force."""

from __future__ import annotations

import csv
import math
import pickle
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loopwright.errors import SizingError
from loopwright.gauge import Gauge
from loopwright.sock._sizing import (
    Multiple,
    common_multiple,
    fit_rounds,
    fit_stitches,
    heel_share,
    rounds_between,
)
from together import together

FINE = Gauge.of(32, 44)


def test_published_example_of_sixty() -> None:
    """9 in of ankle x 0.9 = 8.1 in, x 7.5 stitches = 60.75, so about 60.

    Source: a published page on the ease of socks ("Ease-y Socks").
    """
    fitted = fit_stitches(9 * 25.4, Gauge.of(7.5, 10, over="1 in"), ease=-0.10)
    assert fitted.asked == pytest.approx(60.75)
    assert fitted.asked_mm == pytest.approx(8.1 * 25.4)
    assert fitted.count == 60
    assert fitted.moved == pytest.approx(-0.75)
    assert fitted.finished.mm == pytest.approx(8 * 25.4)
    assert fitted.moved_mm == pytest.approx(-0.1 * 25.4)


def test_published_example_of_sixty_four() -> None:
    """9 in less 10 % is 8.1 in, taken as 8 in; x 8 stitches = 64. The foot 9.5 - 0.5 = 9 in.

    Source: a published page on fitting socks ("Fitting Socks", 2017).
    """
    gauge = Gauge.of(8, 11, over="1 in")
    assert fit_stitches(9 * 25.4, gauge, ease=-0.10).count == 64
    assert fit_stitches(8 * 25.4, gauge, ease=0.0).asked == pytest.approx(64)
    foot = fit_rounds(9.5 * 25.4, gauge, ease_mm=-0.5 * 25.4)
    assert foot.count == 99
    assert foot.moved_mm == pytest.approx(0)


def test_official_top_of_1939() -> None:
    """60 stitches at 6.5 to the inch are 9.23 in (Field Comforts, Toronto 1939)."""
    gauge = Gauge.of(6.5, 9, over="1 in")
    assert gauge.width(60).mm / 25.4 == pytest.approx(9.23, abs=0.005)


def test_the_plan_says_what_rounding_did() -> None:
    """In words, both ways, and where nothing moved."""
    assert str(fit_stitches(225, FINE)) == (
        "64 stitches: 200.0 ± 1.8 mm, 2.5 mm less than the 202.5 mm asked"
    )
    assert "2.0 mm more than" in str(fit_stitches(220, FINE))
    assert str(fit_stitches(200, FINE, ease=0)).endswith(" mm, as asked")


def test_ties_go_to_the_smaller() -> None:
    """62 lies between 60 and 64: fabric stretches, it doesn't shrink."""
    assert fit_stitches(62 * 3.125, FINE, ease=0, multiple=4).count == 60
    assert fit_stitches(62 * 3.125, FINE, ease=0, multiple=Multiple(4, 2)).count == 62
    assert fit_stitches(62 * 3.125, FINE, ease=0, multiple=1).count == 62


@settings(max_examples=100)
@given(
    st.floats(20, 600),
    st.floats(-0.3, 0.3),
    st.integers(1, 14),
    st.integers(0, 9),
    st.integers(0, 40),
)
def test_nearest_by_brute_force(
    girth: float, ease: float, of: int, plus: int, at_least: int
) -> None:
    """No count that suits lies nearer."""
    rule = Multiple(of, plus)
    fitted = fit_stitches(girth, FINE, ease=ease, multiple=rule, at_least=at_least)
    assert rule.suits(fitted.count)
    assert fitted.count >= at_least
    for count in range(at_least, 400):
        if rule.suits(count):
            assert abs(fitted.moved) <= abs(count - fitted.asked) + 1e-6
    assert fitted.finished.mm == pytest.approx(fitted.asked_mm + fitted.moved_mm)


@settings(max_examples=100)
@given(st.lists(st.builds(Multiple, st.integers(1, 12), st.integers(0, 6)), max_size=3))
def test_common_multiple_by_brute_force(rules: list[Multiple]) -> None:
    """Suits exactly the counts that suit every rule; refuses only where there is none."""
    counts = {n for n in range(3000) if all(rule.suits(n) for rule in rules)}
    try:
        together = common_multiple(rules)
    except SizingError:
        assert not counts
    else:
        assert {n for n in range(3000) if together.suits(n)} == counts


def test_rib_and_construction_together() -> None:
    """A 2x2 rib on a round that a three-needle star toe divides by 6: 60, not 64."""
    assert fit_stitches(225, FINE, multiple=[4, 6]).count == 60
    with pytest.raises(SizingError, match="no count suits"):
        fit_stitches(225, FINE, multiple=[4, Multiple(2, 1)])


def test_heel_on_half_and_on_more() -> None:
    """Half of 64 is 32; 60 % is 38.4, so 38 (common practice: even heels)."""
    assert (heel_share(64).heel, heel_share(64).instep) == (32, 32)
    wide = heel_share(64, 0.6)
    assert (wide.heel, wide.instep) == (38, 26)
    assert wide.moved == pytest.approx(-0.4)
    assert wide.share == pytest.approx(38 / 64)
    assert heel_share(62).heel == 30  # 31 is odd: the smaller of two as near
    assert heel_share(62, multiple=1).heel == 31
    assert heel_share(64, 0.6, multiple=4).heel == 40
    assert heel_share(66, 0.5, multiple=1, instep_multiple=7).instep == 35


# Heel and whole round of historical patterns; the share is rounded to their own count.
@together(("heel", "whole"), [(28, 56), (26, 52), (31, 61), (47, 90), (33, 65)])
def test_heels_of_old_patterns(heel: int, whole: int) -> None:
    """Red Cross about 1917; Australia 1940; 31/61; Cincinnati 1861; Weldon 1885 (33 for 64 + 1)."""
    assert abs(heel_share(whole, 0.5, multiple=1).heel - heel) <= 2


def test_rounds_of_the_foot() -> None:
    """Foot less heel less toe, and no foot so short that nothing is left."""
    foot = rounds_between(250, FINE, heel_mm=50, toe_mm=50, ease_mm=-10)
    assert foot.count == round(140 / (100 / 44))
    assert rounds_between(100, FINE, heel_mm=50, toe_mm=50).count == 0
    with pytest.raises(SizingError, match="make the heel or the toe shorter") as caught:
        rounds_between(100, FINE, heel_mm=60, toe_mm=50)
    assert caught.value.what == "foot"


def test_even_and_least_rounds() -> None:
    """Pairs of rounds, and never fewer than asked."""
    assert fit_rounds(51, FINE, multiple=2).count == 22
    assert fit_rounds(1, FINE, at_least=4).count == 4
    assert fit_rounds(0, FINE).count == 0


@together(
    ("girth", "ease", "says"),
    [
        (0, -0.1, "above zero"),
        (-5, -0.1, "above zero"),
        (math.nan, -0.1, "above zero"),
        (225, -10, "as -0.10"),
        (225, -0.5, "more than -0.5"),
        (225, math.nan, "more than -0.5"),
    ],
)
def test_refused_girths(girth: float, ease: float, says: str) -> None:
    """Nothing to go round, and per cent written for a fraction."""
    with pytest.raises(SizingError, match=says) as caught:
        fit_stitches(girth, FINE, ease=ease)
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)


def test_other_refusals() -> None:
    """Lengths that the ease takes away, impossible shares and multiples."""
    with pytest.raises(SizingError, match="something to knit"):
        fit_rounds(5, FINE, ease_mm=-10)
    with pytest.raises(SizingError, match=r"0\.3 to 0\.75"):
        heel_share(64, 0.9)
    with pytest.raises(SizingError, match="no division suits"):
        heel_share(63, multiple=2, instep_multiple=2)
    with pytest.raises(SizingError, match="at least 1"):
        Multiple(0)


def test_ball_girth_of_every_foot_within_a_stitch_pair(survey_csv: Path) -> None:
    """6,068 ball girths: a rib of 4 moves none by more than two stitches."""
    with survey_csv.open(encoding="utf-8") as file:
        girths = [float(row["balloffootcircumference"]) for row in csv.DictReader(file)]
    counts = set()
    for girth in girths:
        fitted = fit_stitches(girth, FINE)
        assert abs(fitted.moved) <= 2
        assert abs(fitted.moved_mm) <= 2 * FINE.stitch_width_mm + 1e-9
        counts.add(fitted.count)
    assert counts == set(range(52, 92, 4))
