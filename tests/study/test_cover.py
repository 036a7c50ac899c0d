"""Size sets: against every choice there is, and against the certificate that goes with them."""

from __future__ import annotations

import itertools
import math
from typing import Any

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loopwright.errors import StudyError
from loopwright.gauge import Gauge
from loopwright.sock import Sex
from loopwright.study import Feet, draw_feet, variants
from loopwright.study.cover import (
    StockSize,
    StretchLimits,
    cover,
    served,
    share_served,
    stock_sizes,
)

GRID = [
    StockSize(n, mm, 3.125 * n, 4.2 * n) for n in range(52, 92, 4) for mm in range(200, 300, 10)
]


def best_share(feet: Feet, sizes: int, candidates: list[StockSize]) -> float:
    """Every choice, one by one."""
    fits = served(feet, candidates)
    return float(
        max(
            fits[:, list(chosen)].any(axis=1).mean()
            for chosen in itertools.combinations(range(len(candidates)), sizes)
        )
    )


@settings(max_examples=25)
@given(st.integers(0, 10_000), st.integers(1, 3), st.integers(3, 12))
def test_the_exact_choice_is_the_best_of_all(seed: int, sizes: int, n: int) -> None:
    feet = draw_feet(60, seed=seed)
    rng = np.random.default_rng(seed)
    candidates = [GRID[place] for place in rng.choice(len(GRID), n, replace=False)]
    best = best_share(feet, sizes, candidates)
    exact = cover(feet, sizes=sizes, candidates=candidates)
    assert exact.share == pytest.approx(best)
    assert exact.at_most == pytest.approx(best)
    greedy = cover(feet, sizes=sizes, candidates=candidates, seconds=0)
    assert greedy.method == "greedy"
    assert (1 - math.exp(-1)) * best - 1e-9 <= greedy.share <= best + 1e-9
    assert greedy.at_most >= best - 1e-9


def test_the_greedy_choice_can_be_worse_and_says_at_most() -> None:
    """The size in the middle serves most alone; the two beside it serve all together."""
    lengths = [240.0, 250.0, 251.0, 252.0, 253.0, 263.0]
    feet = Feet(
        ("length", "ball_girth", "heel_girth"),
        [[length, 225.0, 310.0] for length in lengths],
        (Sex.FEMALE,) * 6,
        tuple("abcdef"),
    )
    sizes = [StockSize(64, mm, 200.0, 270.0) for mm in (231.0, 241.0, 252.0)]
    limits = StretchLimits(length_mm=(0.0, 20.0))
    assert served(feet, sizes, limits).sum(axis=0).tolist() == [3, 4, 3]
    exact = cover(feet, sizes=2, candidates=sizes, limits=limits)
    assert exact.method == "exact"
    assert exact.share == pytest.approx(1.0)
    greedy = cover(feet, sizes=2, candidates=sizes, limits=limits, seconds=0)
    assert greedy.share == pytest.approx(5 / 6)
    assert str(greedy).endswith("served: 83.3 % (greedy; at most 100.0 %)")


def test_more_sizes_serve_no_fewer_and_no_size_is_idle() -> None:
    feet = draw_feet(2000, seed=4)
    sets = [cover(feet, sizes=k, candidates=GRID) for k in (1, 2, 4)]
    assert [found.method for found in sets] == ["exact"] * 3
    shares = [found.share for found in sets]
    assert shares == sorted(shares)
    for found in sets:
        assert found.share == pytest.approx(served(feet, found.sizes).any(axis=1).mean())
        assert list(found.added) == sorted(found.added, reverse=True)
        assert min(found.added) > 0


def test_each_limit_is_kept() -> None:
    size = StockSize(64, 236.0, 200.0, 250.0)
    rows = [
        ([246.0, 225.0, 310.0], True),
        ([257.0, 225.0, 310.0], False),  # too long
        ([235.0, 225.0, 310.0], False),  # too short
        ([246.0, 251.0, 310.0], False),  # too wide
        ([246.0, 199.0, 310.0], False),  # too narrow
        ([246.0, 225.0, 326.0], False),  # over the heel
    ]
    feet = Feet(
        ("length", "ball_girth", "heel_girth"),
        [row for row, _ in rows],
        (Sex.FEMALE,) * 6,
        tuple("abcdef"),
    )
    assert served(feet, [size])[:, 0].tolist() == [fits for _, fits in rows]


def test_what_was_not_measured_is_estimated() -> None:
    feet = Feet(("length", "ball_girth"), [[246.0, 225.0]], (Sex.FEMALE,), ("a",))
    heel = feet.foot(0).heel_girth.mm
    just, too_tight = (StockSize(64, 236.0, 200.0, heel / 1.3 + off) for off in (0.1, -0.1))
    assert served(feet, [just, too_tight]).tolist() == [[True, False]]


def test_a_set_that_serves_nobody_is_empty() -> None:
    nobody = cover(draw_feet(5), sizes=2, candidates=[StockSize(8, 50.0, 25.0, 30.0)])
    assert (nobody.sizes, nobody.share) == ((), 0)


@pytest.mark.parametrize(
    ("change", "what"),
    [({"sizes": 0}, "sizes"), ({"candidates": []}, "candidates"), ({"feet": draw_feet(0)}, "feet")],
)
def test_nothing_to_choose_is_refused(change: dict[str, Any], what: str) -> None:
    arguments: dict[str, Any] = {"feet": draw_feet(3), "sizes": 1, "candidates": GRID, **change}
    with pytest.raises(StudyError) as caught:
        cover(arguments.pop("feet"), **arguments)
    assert caught.value.what == what


@pytest.mark.parametrize("limits", [{"ball": (1.2, 1.1)}, {"heel": 0.0}, {"length_mm": (5, 0)}])
def test_limits_that_nothing_meets_are_refused(limits: dict[str, Any]) -> None:
    with pytest.raises(StudyError, match="limit"):
        StretchLimits(**limits)


def test_sizes_are_knitted_from_a_design() -> None:
    (design,) = variants(heel=["flap"])
    sizes = stock_sizes(
        design,
        Gauge.of(16, 22),
        draw_feet(1),
        stitches=[32],
        lengths_mm=[220.0, 240.0],
        measure="quick heel girth",
    )
    assert [(size.stitches, size.length_mm) for size in sizes] == [(32, 220.0), (32, 240.0)]
    assert sizes[0].ball_girth_mm == pytest.approx(32 * 100 / 16)
    assert sizes[0].heel_girth_mm > sizes[0].ball_girth_mm


def test_the_share_served_counts_failures_as_not_served() -> None:
    table = pd.DataFrame(
        {
            "design": ["flap"] * 4 + ["short-row"] * 2,
            "ball_stretch": [1.1, 1.1, 1.4, np.nan, 1.1, 1.1],
            "heel_stretch": [1.2, 1.4, 1.2, np.nan, 1.2, 1.2],
        }
    )
    assert share_served(table).to_dict() == {"flap": 0.25, "short-row": 1.0}
