"""Cabled tubes at rest: drawn in, by as much as is said, and nowhere folded over.

How far a cable draws in is an assumption of the package, near what knitters reckon with: a fifth
or so for ropes of two over two every fourth row (common practice).
"""

from __future__ import annotations

import numpy as np
import pytest

from loopwright import Gauge, shape
from loopwright.fabric import Fabric
from loopwright.geometry._cloths import stitch_sizes
from loopwright.making import Work, cast_on

SWATCH = Gauge(3.2, 4.4)


def ropes(key: str, every: int, count: int = 24, courses: int = 24) -> Fabric:
    work = Work()
    cast_on(work, count)
    work.join_round()
    for course in range(1, courses):
        times = count // work.stitches[key].takes
        work.round([key] * times if course % every == 0 else ["k"] * count)
    return work.fabric()


@pytest.mark.parametrize(
    ("key", "every", "wanted"), [("2/2rc", 4, 0.78), ("3/3lc", 6, 0.80), ("3/3lc", 8, 0.83)]
)
def test_mean_width_of_ropes(key: str, every: int, wanted: float) -> None:
    fabric = ropes(key, every, courses=4 * every)
    middle = (fabric.course >= every) & (fabric.course < 3 * every)
    width = stitch_sizes(fabric, SWATCH).width_mm[middle]
    assert width.mean() * 0.32 == pytest.approx(wanted, abs=0.01)
    assert width[fabric.course[middle] % every == 0].max() * 0.32 == pytest.approx(0.5**0.5)


def test_the_relaxed_tube_is_drawn_in() -> None:
    girths = []
    for key in ("k", "2/2rc"):
        relaxed = shape(ropes(key, 4), SWATCH)
        assert relaxed.quality.fold_overs == 0
        here = np.asarray(relaxed.surface.vertices_mm)
        course = ropes(key, 4).course
        around = here[(course >= 8) & (course < 16)]
        girths.append(np.linalg.norm(np.diff(around, axis=0), axis=1).sum() / 8)
    assert girths[1] / girths[0] == pytest.approx(0.78, abs=0.03)


def test_wales_run_aslant_and_cells_lie_upright() -> None:
    fabric = ropes("2/2rc", 4)
    upright = fabric.uncrossed
    moved = np.flatnonzero(fabric.parent != upright.parent)
    assert len(moved) == 24 * 5
    assert set(np.abs(fabric.parent - upright.parent)[moved].tolist()) == {2}
    assert upright.euler_characteristic == 2
    assert upright.surface.crossings == 0
    assert upright.uncrossed is upright
