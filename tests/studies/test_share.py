"""The share served: its interval against published ones, its counting against counting by hand."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from scipy.stats import binomtest

from loopwright.errors import StudyError
from loopwright.fitting import StretchLimits
from loopwright.studies import StockSize, draw_feet, share_served, stock_share
from loopwright.studies._share import SHARE_UNITS, Share, wilson_interval
from together import together


@pytest.mark.parametrize(
    ("served", "n", "low", "high"),
    # R. G. Newcombe, "Two-sided confidence intervals for the single proportion", Statistics in
    # Medicine 17, 1998, table I, the row of Wilson's score method (from memory).
    [
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0000, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)
def test_the_interval_is_the_published_one(served: int, n: int, low: float, high: float) -> None:
    assert wilson_interval(served / n, n) == pytest.approx((low, high), abs=5e-5)


@together("n", [1, 2, 7, 60, 6068])
def test_the_interval_is_scipys(n: int) -> None:
    for served in {0, 1, n // 3, n - 1, n}:
        theirs = binomtest(served, n).proportion_ci(method="wilson")
        assert wilson_interval(served / n, n) == pytest.approx((theirs.low, theirs.high), abs=1e-6)


def test_no_feet_say_nothing_and_no_share_is_refused() -> None:
    assert wilson_interval(float("nan"), 0) == (0.0, 1.0)
    for share, n in ((1.2, 10), (-0.1, 10), (0.5, -1), (float("nan"), 3)):
        with pytest.raises(StudyError, match="expected 0 to 1"):
            wilson_interval(share, n)


def rows(*cases: tuple[str, str, float, float]) -> pd.DataFrame:
    names = ["design", "foot", "ball_stretch_ratio", "heel_stretch_ratio"]
    return pd.DataFrame(cases, columns=names).assign(error=None)


def test_gauges_are_told_apart() -> None:
    cases = [("flap", foot, 1.1, heel) for foot in "ab" for heel in (1.2, 1.4)]
    table = rows(*cases).assign(gauge=["dk", "thick"] * 2)
    with pytest.raises(StudyError, match=r"several gauges \(dk, thick\); tell them apart"):
        share_served(table)
    assert share_served(table, by=["design", "gauge"])["share"].tolist() == [1, 0]
    assert share_served(table[table["gauge"] == "dk"])["share"].tolist() == [1]


def test_a_case_that_failed_serves_nobody() -> None:
    table = rows(
        ("flap", "a", 1.1, 1.2),
        ("flap", "b", 1.1, 1.4),
        ("flap", "c", 1.4, 1.2),
        ("flap", "d", np.nan, np.nan),
        ("short-row", "a", 1.1, 1.2),
        ("short-row", "b", 1.1, 1.2),
    )
    shares = share_served(table)
    assert shares["share"].to_dict() == {"flap": 0.25, "short-row": 1.0}
    assert shares["feet"].to_dict() == {"flap": 4, "short-row": 2}
    low, high = wilson_interval(0.25, 4)
    assert shares.loc["flap", ["share_low", "share_high"]].tolist() == [low, high]


def test_a_torn_sock_serves_nobody_though_its_heel_is_known() -> None:
    table = rows(("flap", "a", 1.1, 1.2), ("flap", "b", 1.1, 1.2))
    table["error"] = [None, "the fabric has mistakes: there are 2 openings"]
    assert share_served(table)["share"].to_dict() == {"flap": 0.5}


def test_the_girths_own_error_moves_the_share_and_only_over_the_heel() -> None:
    """At 1.25, a heel of 1.2 is lost where the sock is 9 % less; one of 1.3 is won at 9 % more."""
    table = rows(
        ("flap", "a", 1.2, 1.10), ("flap", "b", 1.2, 1.20), ("flap", "c", 1.2, 1.30),
        ("flap", "d", 1.2, 1.40), ("flap", "e", 1.3, 1.10),
    )  # fmt: skip
    (found,) = share_served(table, limits=StretchLimits(ball=(1, 1.25), heel=1.25)).to_dict(
        "records"
    )
    by_hand = {
        "share": sum(stretch <= 1.25 for stretch in (1.1, 1.2, 1.3, 1.4)) / 5,
        "share_if_tighter": sum(stretch / 0.91 <= 1.25 for stretch in (1.1, 1.2, 1.3, 1.4)) / 5,
        "share_if_roomier": sum(stretch / 1.09 <= 1.25 for stretch in (1.1, 1.2, 1.3, 1.4)) / 5,
    }
    assert by_hand == {"share": 0.4, "share_if_tighter": 0.2, "share_if_roomier": 0.6}
    assert {name: found[name] for name in by_hand} == pytest.approx(by_hand)


def test_a_foot_at_three_eases_is_one_foot() -> None:
    """A breaker for counting cases: ten times the same cases must not narrow the interval."""
    once = rows(*(("flap", str(foot), 1.1, 1.2 + 0.02 * foot) for foot in range(10)))
    often = pd.concat([once] * 10)
    assert share_served(often).equals(share_served(once))
    others = often.assign(foot=range(100))
    assert share_served(others)["share_low"].item() > share_served(once)["share_low"].item()


def test_several_columns_are_told_apart_in_their_order_with_units() -> None:
    table = rows(("b", "a", 1.1, 1.2), ("a", "a", 1.1, 1.3)).assign(ease=[0.0, -0.1])
    shares = share_served(table, by=["design", "ease"])
    assert list(shares.index) == [("b", 0.0), ("a", -0.1)]
    assert list(shares.columns) == list(SHARE_UNITS)
    assert shares.attrs["units"]["share_low"] == "1"


def test_no_cases_are_no_rows_and_a_lacking_column_is_named() -> None:
    assert len(share_served(rows())) == 0
    with pytest.raises(StudyError, match="no column 'heel'"):
        share_served(rows(("flap", "a", 1.1, 1.2)), by="heel")
    with pytest.raises(StudyError, match="no column 'heel_stretch_ratio'"):
        share_served(rows().drop(columns="heel_stretch_ratio"))


def test_the_share_of_a_stock_is_counted_over_feet() -> None:
    feet = draw_feet(400, seed=3)
    size = StockSize(68, 250.0, 212.5, 285.6)
    limits = StretchLimits(ball=(1, 1.25), heel=1.25, length=(1, 1.1))
    found = stock_share(feet, [size], limits)
    length, ball, heel = (feet.column(n) for n in ("length", "ball_girth", "heel_girth"))

    def by_hand(girth: float) -> float:
        wide = (ball / 212.5 >= 1.0) & (ball / 212.5 <= 1.25)
        long = (length / 250 >= 1.0) & (length / 250 <= 1.1)
        return float((wide & long & (heel / (285.6 * girth) <= 1.25)).mean())

    assert found == Share(400, by_hand(1.0), by_hand(0.91), by_hand(1.09))
    assert found.if_tighter < found.likely < found.if_roomier
    assert found.interval == wilson_interval(found.likely, 400)
    with pytest.raises(StudyError, match="feet"):
        stock_share(feet[:0], [size])
    assert stock_share(feet, []).likely == 0
