"""Relaxing against surfaces whose shape follows by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.knitted import COURSE_MM, STITCH_MM, Knitter, disc, tube
from loopwright.cloth import CLOTH_SIZES, Cloth
from loopwright.errors import ShapeError
from loopwright.gauge import Gauge
from loopwright.geometry import shape
from loopwright.geometry._mesh import Mesh
from loopwright.geometry._relax import relax
from loopwright.geometry._surface import Surface, smooth
from loopwright.making import Work, cast_on, draw_up, hold

GAUGE = Gauge(3.2, 4.4)


def _surface(mesh: Mesh) -> Surface:
    return Surface(relax(mesh), mesh.triangles[0])


def _ring_mm(surface: Surface, first: int, n: int) -> float:
    ring = surface.vertices_mm[first : first + n]
    return float(np.linalg.norm(ring - np.roll(ring, -1, axis=0), axis=1).sum())


@pytest.mark.parametrize(("stitches", "courses"), [(12, 10), (33, 20), (64, 40)])
def test_a_tube_has_the_girth_of_its_stitches(stitches: int, courses: int) -> None:
    """Girth n w and length (c - 1) h within 0.5 %, and no fold."""
    surface = _surface(tube(stitches, courses))
    girth = _ring_mm(surface, stitches * (courses // 2), stitches)
    assert girth == pytest.approx(stitches * STITCH_MM, rel=0.005)
    ends = surface.vertices_mm[:stitches].mean(axis=0), surface.vertices_mm[-stitches:].mean(axis=0)
    assert np.linalg.norm(ends[0] - ends[1]) == pytest.approx((courses - 1) * COURSE_MM, rel=0.005)
    assert surface.fold_overs == 0
    # Circle of n chords; the volume says that it is round and not pressed flat.
    area = stitches * STITCH_MM**2 / 4 / np.tan(np.pi / stitches)
    assert surface.volume_mm3 == pytest.approx(area * (courses - 1) * COURSE_MM, rel=0.01)


@pytest.mark.parametrize(("stitches", "rows"), [(20, 20), (60, 40), (8, 100), (100, 8)])
@pytest.mark.parametrize("cloth", ["kp", "k"])
def test_a_swatch_is_a_flat_rectangle(stitches: int, rows: int, cloth: str) -> None:
    """By hand: one stitch less than its stitches wide, its rows high, and under 1 mm thick."""
    work = Work()
    cast_on(work, stitches)
    for k in range(rows):
        work.turn()
        work.work([cloth[k % len(cloth)]] * stitches)
    place = shape(work.fabric(), GAUGE).surface.vertices_mm
    place = place - place.mean(axis=0)
    sides = np.ptp(place @ np.linalg.svd(place)[2].T, axis=0)
    size = CLOTH_SIZES[Cloth.PLAIN if len(cloth) > 1 else Cloth.GARTER]
    wide, high = size.width * STITCH_MM, size.height * COURSE_MM
    expected = sorted([(stitches - 1) * wide, rows * high, 0.0], reverse=True)
    np.testing.assert_allclose(sides, expected, atol=1.0)


@pytest.mark.parametrize("increases", [6, 7, 8])
def test_a_circle_increased_by_six_to_eight_stitches_a_round_lies_flat(increases: int) -> None:
    """Flat where the increases make up for the round: 2 pi h = increases times w."""
    mesh = disc(increases, 12, course_mm=increases * 3.0 / (2 * np.pi))
    surface = _surface(mesh)
    spread = np.linalg.svd(surface.vertices_mm - surface.vertices_mm.mean(axis=0))[1]
    assert spread[2] < 0.02 * spread[1]
    assert spread[1] > 0.9 * spread[0]
    radius = np.linalg.norm(surface.vertices_mm[-increases * 13 :] - surface.vertices_mm[0], axis=1)
    # An increase draws its course in a little: 4 % over twelve rounds.
    assert radius.mean() == pytest.approx(13 * increases * 3.0 / (2 * np.pi), rel=0.05)


def test_a_circle_increased_twice_as_fast_as_flat_ruffles() -> None:
    """The breaker of the one above: twelve a round cannot lie flat."""
    surface = _surface(disc(12, 8))
    spread = np.linalg.svd(surface.vertices_mm - surface.vertices_mm.mean(axis=0))[1]
    assert spread[2] > 0.25 * spread[1]


def test_a_cone_has_the_slope_that_its_increases_say() -> None:
    """Three a round: 3 r w round at the slant r h, so sin(half the apex) = 3 / 2 pi."""
    rounds, increases = 16, 3
    surface = _surface(disc(increases, rounds))
    p = surface.vertices_mm
    rim = p[-increases * (rounds + 1) :]
    slant = (rounds + 1) * 3.0
    assert np.linalg.norm(rim - p[0], axis=1).mean() == pytest.approx(slant, rel=0.03)
    radius = np.linalg.norm(rim - rim.mean(axis=0), axis=1).mean()
    assert radius / slant == pytest.approx(increases / (2 * np.pi), rel=0.04)


def test_a_cap_is_a_half_sphere() -> None:
    """Rounds of cosine counts on a tube: curvature 2 pi, and the sphere's heights and radii.

    Square stitches, decreases spread over each round, drawn up at the top. Gauss and Bonnet: what
    lies beyond a ring that doesn't turn holds 2 pi. The last rounds, drawn up, make a dimple.
    """
    count, tube_rounds, square = 64, 12, Gauge(10 / 3, 10 / 3)
    work = Work()
    cast_on(work, count)
    work.join_round()
    work.plain_rounds(tube_rounds)
    for k in range(1, count // 4):
        work.round(_spread(work.count, round(count * np.cos(2 * np.pi * k / count)), k))
    draw_up(work)
    fabric = work.fabric()
    cap = shape(fabric, square)
    course = fabric.course[cap.loops]
    for ring in range(2, tube_rounds):
        held = cap.surface.angle_deficits[course >= ring].sum()
        assert held == pytest.approx(2 * np.pi, rel=0.02), ring
    rings = [cap.surface.vertices_mm[course == ring] for ring in range(tube_rounds + 11)]
    middles = np.array([ring.mean(axis=0) for ring in rings])
    equator = middles[tube_rounds]
    axis = equator - middles[1]
    axis /= np.linalg.norm(axis)
    radius_mm = count * square.stitch_width_mm / (2 * np.pi)
    for k, ring in enumerate(rings[tube_rounds:]):
        latitude = 2 * np.pi * k / count
        away = (ring - equator) - np.outer((ring - equator) @ axis, axis)
        height = (middles[tube_rounds + k] - equator) @ axis
        assert height == pytest.approx(radius_mm * np.sin(latitude), abs=0.04 * radius_mm), k
        assert np.linalg.norm(away, axis=1).mean() == pytest.approx(
            radius_mm * np.cos(latitude), abs=0.04 * radius_mm
        ), k


def _spread(count: int, left: int, number: int) -> list[str]:
    """A round that leaves so many stitches, its decreases evenly apart and not over the last's."""
    each = np.diff(np.arange(left + 1) * count // left)
    keys = ["k2tog" if taken == 2 else "k" for taken in each]
    by = number * 5 % left
    return keys[by:] + keys[:by]


@given(
    stitches=st.integers(8, 20),
    takes=st.lists(st.integers(0, 3), min_size=1, max_size=6),
    seed=st.integers(0, 9),
)
@settings(max_examples=25)
def test_gauss_and_bonnet_hold_on_any_fabric_in_any_place(
    stitches: int, takes: list[int], seed: int
) -> None:
    """Deficits sum to 2 pi times the Euler characteristic (Bonnet 1848) within 1e-9."""
    knitter = Knitter()
    live = knitter.cast_on(stitches)
    for decreases in takes:
        twice = min(decreases, len(live) // 3, len(live) - 6)
        live = knitter.round(live, [2] * twice + [1] * (len(live) - 2 * twice))
    mesh = knitter.mesh()
    place = np.random.default_rng(seed).normal(size=(mesh.n, 3))
    surface = Surface(place, mesh.triangles[0])
    characteristic = surface.euler_characteristic
    assert characteristic == 0  # a tube
    assert surface.angle_deficits.sum() == pytest.approx(2 * np.pi * characteristic, abs=1e-9)
    spread = smooth(surface, surface.angle_deficits)
    assert spread.sum() == pytest.approx(surface.angle_deficits.sum(), abs=1e-9)


def test_flat_pieces_with_live_loops_have_shapes() -> None:
    """Rows lie flat at their gauge; stitches on a holder do no harm."""
    work = Work()
    cast_on(work, 20)
    work.turn()
    for k in range(15):
        work.row(["kp"[k % 2]] * 20)
    flat = shape(work.fabric(), GAUGE)
    extent = np.sort(np.ptp(flat.surface.vertices_mm, axis=0))
    spread = np.linalg.svd(flat.surface.vertices_mm - flat.surface.vertices_mm.mean(axis=0))[1]
    assert spread[2] < 0.05 * spread[0]
    assert extent[2] == pytest.approx(19 * STITCH_MM, rel=0.1)
    hold(work, 5, "pocket")
    assert shape(work.fabric(), GAUGE).quality.edge_error_p95 < 0.05


def test_each_piece_is_relaxed_by_itself() -> None:
    """A tube and a swatch in one fabric: each as it is alone, side by side."""
    work = Work()
    cast_on(work, 24)
    work.join_round()
    work.plain_rounds(15)
    alone = shape(work.fabric(), GAUGE).surface.vertices_mm
    tube_loops = len(alone)
    hold(work, 24, "holder")
    work.join_yarn("other yarn")
    cast_on(work, 12)
    for _ in range(11):
        work.turn()
        work.work(["k"] * 12)
    both = shape(work.fabric(), GAUGE)
    place = both.surface.vertices_mm
    assert len(both.mesh.pieces()) == 2
    np.testing.assert_array_equal(place[:tube_loops], alone)
    swatch = place[tube_loops:]
    assert np.linalg.svd(swatch - swatch.mean(axis=0))[1][2] / np.sqrt(len(swatch)) < 0.2
    assert swatch[:, 0].min() == pytest.approx(alone[:, 0].max() + 10)


def test_a_drawn_up_end_closes() -> None:
    """Eight loops on one strand lie within a stitch and a half of each other."""
    work = Work()
    cast_on(work, 32)
    work.join_round()
    work.plain_rounds(12)
    while work.count > 8:
        work.round(
            ["k"] * (work.count // 8 - 2) * 0 + (["k"] * (work.count // 8 - 2) + ["k2tog"]) * 8
        )
    last = np.array(work.live)
    draw_up(work)
    found = shape(work.fabric(), GAUGE)
    end = found.surface.vertices_mm[[found.vertex_of(int(loop)) for loop in last]]
    assert np.linalg.norm(end - end.mean(axis=0), axis=1).max() < 1.5 * STITCH_MM


def test_a_bare_cast_on_and_no_fabric_at_all() -> None:
    """One loop has a place; none is refused in words."""
    work = Work()
    cast_on(work, 1)
    assert shape(work.fabric(), GAUGE).surface.vertices_mm.shape == (1, 3)
    cast_on(work, 4)
    line = shape(work.fabric(), GAUGE)
    assert np.ptp(line.surface.vertices_mm[:, 0]) == pytest.approx(4 * STITCH_MM, rel=0.02)
    with pytest.raises(ShapeError) as refused:
        shape(Work().fabric(), GAUGE)
    assert refused.value.found == "a fabric without loops"
    with pytest.raises(ShapeError, match="5 loops"):
        shape(work.fabric(), GAUGE, start_mm=np.zeros((3, 3)))
