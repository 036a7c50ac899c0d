"""Size sets: against every choice there is, and against the certificate that goes with them."""

from __future__ import annotations

import importlib
import itertools
import math
from typing import Any

import attrs
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import OptimizeResult

from loopwright.errors import StudyError, UnsoundFabricError
from loopwright.fitting import StretchLimits
from loopwright.gauge import Gauge
from loopwright.sock import Sex
from loopwright.studies import Feet, draw_feet, variants
from loopwright.studies._cover import StockSize, cover, served, stock_share, stock_sizes
from studies.trials import TORN

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
    assert exact.share.likely == pytest.approx(best)
    assert exact.at_most == pytest.approx(best)
    greedy = cover(feet, sizes=sizes, candidates=candidates, seconds=0)
    assert greedy.method == "greedy"
    assert (1 - math.exp(-1)) * best - 1e-9 <= greedy.share.likely <= best + 1e-9
    assert greedy.at_most >= best - 1e-9


def test_the_greedy_choice_can_be_worse_and_says_at_most() -> None:
    """The size in the middle serves most alone; the two beside it serve all together."""
    lengths = [240.0, 248.0, 249.0, 252.0, 253.0, 265.0]
    feet = Feet(
        ("length", "ball_girth", "heel_girth"),
        [[length, 225.0, 310.0] for length in lengths],
        (Sex.FEMALE,) * 6,
        tuple("abcdef"),
    )
    sizes = [StockSize(64, mm, 200.0, 270.0) for mm in (231.0, 241.0, 252.0)]
    limits = StretchLimits(length=(1.0, 1.08))
    assert served(feet, sizes, limits).sum(axis=0).tolist() == [3, 4, 3]
    exact = cover(feet, sizes=2, candidates=sizes, limits=limits)
    assert exact.method == "exact"
    assert exact.share.likely == pytest.approx(1.0)
    greedy = cover(feet, sizes=2, candidates=sizes, limits=limits, seconds=0)
    assert greedy.share.likely == pytest.approx(5 / 6)
    assert str(greedy).endswith("choice: greedy; at most 100.0 %")


def test_more_sizes_serve_no_fewer_and_no_size_is_idle() -> None:
    feet = draw_feet(2000, seed=4)
    sets = [cover(feet, sizes=k, candidates=GRID) for k in (1, 2, 4)]
    assert [found.method for found in sets] == ["exact"] * 3
    shares = [found.share.likely for found in sets]
    assert shares == sorted(shares)
    for found in sets:
        assert found.share == stock_share(feet, found.sizes)
        assert list(found.added) == sorted(found.added, reverse=True)
        assert min(found.added) > 0


def test_one_size_is_the_one_that_serves_most() -> None:
    feet = draw_feet(300, seed=9)
    most = int(served(feet, GRID).sum(axis=0).max())
    for seconds in (0.0, 20.0):
        one = cover(feet, sizes=1, candidates=GRID, seconds=seconds)
        assert len(one.sizes) == 1
        assert one.share.likely == most / 300
        assert one.added == (one.share.likely,)


def test_more_sizes_than_are_of_use_are_left_out() -> None:
    feet, few = draw_feet(40, seed=9), GRID[::9]
    everyone = served(feet, few).any(axis=1).mean()
    for seconds in (0.0, 20.0):
        many = cover(feet, sizes=len(few) + 20, candidates=[*few, *few], seconds=seconds)
        assert many.share.likely == pytest.approx(everyone)
        assert len(set(many.sizes)) == len(many.sizes) < len(few)
        assert min(many.added) > 0


def test_of_two_as_good_the_first_is_taken_whatever_the_order_of_feet() -> None:
    """Each size twice under another name for its stitches: all choices are ties."""
    feet = draw_feet(200, seed=2)
    twins = [attrs.evolve(size, stitches=size.stitches + 1) for size in GRID]
    backwards = attrs.evolve(feet, mm=feet.mm[::-1], sexes=feet.sexes[::-1], ids=feet.ids[::-1])
    for seconds in (0.0, 20.0):
        chosen = cover(feet, sizes=2, candidates=[*GRID, *twins], seconds=seconds)
        assert all(size in GRID for size in chosen.sizes)
        again = cover(backwards, sizes=2, candidates=[*GRID, *twins], seconds=seconds)
        assert again.sizes == chosen.sizes
        mirrored = cover(feet, sizes=2, candidates=[*twins, *GRID], seconds=seconds)
        assert all(size in twins for size in mirrored.sizes)


def test_time_that_is_over_is_told_with_what_was_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """The solver stopped at once: with nothing, and with a choice better than the greedy one."""
    module = importlib.import_module("loopwright.studies._cover")  # the package has `cover` itself
    feet = Feet(
        ("length", "ball_girth", "heel_girth"),
        [[length, 225.0, 310.0] for length in (240.0, 248.0, 249.0, 252.0, 253.0, 265.0)],
        (Sex.FEMALE,) * 6,
        tuple("abcdef"),
    )
    sizes = [StockSize(64, mm, 200.0, 270.0) for mm in (231.0, 241.0, 252.0)]
    limits = StretchLimits(length=(1.0, 1.08))
    for x, method, share in (
        (None, "greedy", 5 / 6),
        (np.array([1.0, 0.0, 1.0, *[1.0] * 6]), "best found", 1.0),
    ):
        stopped = OptimizeResult(x=x, status=1, mip_dual_bound=-6.0)
        monkeypatch.setattr(module, "milp", lambda *_, r=stopped, **__: r)
        found = cover(feet, sizes=2, candidates=sizes, limits=limits)
        assert (found.method, found.at_most) == (method, 1.0)
        assert found.share.likely == pytest.approx(share)


def test_each_limit_is_kept() -> None:
    size = StockSize(64, 236.0, 200.0, 250.0)
    rows = [
        ([246.0, 225.0, 310.0], True),
        ([260.0, 225.0, 310.0], False),  # too long
        ([235.0, 225.0, 310.0], False),  # too short
        ([246.0, 251.0, 310.0], False),  # too wide
        ([246.0, 199.0, 310.0], False),  # too narrow
        ([246.0, 225.0, 313.0], False),  # over the heel
    ]
    feet = Feet(
        ("length", "ball_girth", "heel_girth"),
        [row for row, _ in rows],
        (Sex.FEMALE,) * 6,
        tuple("abcdef"),
    )
    limits = StretchLimits(ball=(1, 1.25), heel=1.25, length=(1, 1.1))
    assert served(feet, [size], limits)[:, 0].tolist() == [fits for _, fits in rows]


def test_what_was_not_measured_is_estimated() -> None:
    feet = Feet(("length", "ball_girth"), [[246.0, 225.0]], (Sex.FEMALE,), ("a",))
    heel = feet.foot(0).heel_girth.mm
    just, too_tight = (StockSize(64, 236.0, 200.0, heel / 1.25 + off) for off in (0.1, -0.1))
    assert served(feet, [just, too_tight], StretchLimits(heel=1.25)).tolist() == [[True, False]]


def test_a_set_that_serves_nobody_is_empty() -> None:
    nobody = cover(draw_feet(5), sizes=2, candidates=[StockSize(8, 50.0, 25.0, 30.0)])
    assert (nobody.sizes, nobody.share.likely, nobody.at_most) == ((), 0, 0)


@pytest.mark.parametrize(
    ("change", "what"),
    [({"sizes": 0}, "sizes"), ({"candidates": []}, "candidates"), ({"feet": draw_feet(0)}, "feet")],
)
def test_nothing_to_choose_is_refused(change: dict[str, Any], what: str) -> None:
    arguments: dict[str, Any] = {"feet": draw_feet(3), "sizes": 1, "candidates": GRID, **change}
    with pytest.raises(StudyError) as caught:
        cover(arguments.pop("feet"), **arguments)
    assert caught.value.what == what


@pytest.mark.parametrize("sizes", [2.5, [2], "2"])
def test_a_number_of_sizes_that_is_none_is_refused(sizes: Any) -> None:
    with pytest.raises(StudyError, match="expected a whole number"):
        cover(draw_feet(3), sizes=sizes, candidates=GRID)


def test_a_size_without_room_is_refused() -> None:
    with pytest.raises(StudyError, match="heel_girth_mm of a size: found 0"):
        StockSize(64, 240.0, 200.0, 0.0)


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


def test_a_sock_that_the_checks_refuse_is_no_size() -> None:
    with pytest.raises(UnsoundFabricError, match="2 openings"):
        stock_sizes(TORN, Gauge.of(14, 19), draw_feet(1), stitches=[28], lengths_mm=[220.0])
