"""The size chart against the survey and shoe sizes: it is from memory, so it is doubted."""

from __future__ import annotations

from itertools import pairwise

import pytest

from loopwright.sock.sizes import ChartSize, size_chart

ROWS = size_chart()


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row.wearer} {row.us_shoes}")
def test_each_row_is_a_foot(row: ChartSize) -> None:
    """Estimated throughout; the finished sock is no wider than the foot may be.

    Common practice: 0 to 30 % less than the foot. The two smallest rows have socks 9 to 11 % wider
    than the estimate, within its two SDs: babies' feet are broader than grown ones at a scale.
    """
    foot = row.foot()
    assert len(foot.estimated) == 12
    assert foot.leg_height.mm == row.sock_height_mm
    assert 0.70 * foot.ball_girth.mm < row.sock_girth_mm < foot.ball_girth.range_mm[1]
    assert row.foot_length_mm < 130 or row.sock_girth_mm < 1.02 * foot.ball_girth.mm
    assert any("adults only" in note for note in foot.notes) == (row.foot_length_mm < 198)


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
