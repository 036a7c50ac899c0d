"""The size chart against the survey and shoe sizes: it is from memory, so it is doubted."""

from __future__ import annotations

from itertools import pairwise

import pytest

from loopwright.errors import SizingError
from loopwright.gauge import Gauge
from loopwright.sock import Sock, cuff_named
from loopwright.sock.sizes import ChartSize, chart_size, size_chart
from together import together

ROWS = size_chart()


@together("row", ROWS)
def test_each_row_is_a_foot_whose_ordinary_sock_has_the_row_s_girth(row: ChartSize) -> None:
    """The row's own girth and height; at 10 % of negative ease, within half of four stitches."""
    foot = row.foot()
    assert len(foot.estimated) == 12
    assert foot.leg_height.mm == row.sock_height_mm
    gauge = Gauge.of(32, 44)
    sock = Sock(foot=foot, gauge=gauge, cuff=cuff_named("2x2 rib", height_mm=15.0))
    girth = sock.plan().measure("foot girth").finished
    assert girth.mm == pytest.approx(row.sock_girth_mm, abs=2 * gauge.stitch_width_mm + 0.01)
    assert any("adults only" in note for note in foot.notes) == (row.foot_length_mm < 198)


@together(
    ("asked", "name"),
    [
        ("6 months", "child 0-4"), ("1 year", "child 4-8"), ("4 years old", "child 7-11"),
        ("child, 7 years", "child 10-2"), ("11 years", "child 2-6"), ("Man  6-8", "man 6-8"),
    ],
)  # fmt: skip
def test_a_row_may_be_asked_for_by_age(asked: str, name: str) -> None:
    assert chart_size(asked).name == name


@together("asked", ["12 years", "30 years", "child 3-5", "", "years"])
def test_what_the_chart_has_not_is_refused_with_what_it_has(asked: str) -> None:
    with pytest.raises(SizingError, match="expected one of child 0-4") as caught:
        chart_size(asked)
    assert caught.value.found == repr(asked)


def test_each_age_up_to_twelve_has_one_row() -> None:
    ages = [row.ages for row in ROWS if row.ages]
    assert [low for low, _ in ages] == [0, *(high for _, high in ages[:-1])]
    assert ages[-1][1] == 12


@pytest.mark.parametrize("wearer", ["child", "woman", "man"])
def test_sizes_grow(wearer: str) -> None:
    """Every measure rises from row to row (needs of graded sizes: monotone)."""
    rows = [row for row in ROWS if row.wearer == wearer]
    for small, large in pairwise(rows):
        assert small.foot_length_mm < large.foot_length_mm
        assert small.sock_girth_mm < large.sock_girth_mm
        assert small.sock_height_mm < large.sock_height_mm


def test_men_of_the_survey_find_their_row() -> None:
    """Mean man of the survey, 271 mm: nearest row 10.5 in, whose 8 in are 19 % below 252 mm."""
    men = [row for row in ROWS if row.wearer == "man"]
    nearest = min(men, key=lambda row: abs(row.foot_length_mm - 271.18))
    assert nearest.us_shoes == "8.5-10"
    assert 1 - nearest.sock_girth_mm / 252.02 == pytest.approx(0.19, abs=0.005)


@together("row", size_chart())
def test_nobody_is_told_to_measure_a_row_again(row: ChartSize) -> None:
    """A toddler's foot is broader than adults' by its length; what a chart says has no tape."""
    assert not any("measure again" in note for note in row.foot().notes)
