"""The yarn's way in space: its room and its length, against arithmetic on the points themselves."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from scipy.spatial import cKDTree

from fabric.pieces import PIECES
from loopwright.errors import YarnError
from loopwright.fabric import Fabric
from loopwright.gauge import Gauge
from loopwright.geometry import Shape, export, shape
from loopwright.making import Hand, Work, cast_on
from loopwright.pattern import knit, read
from loopwright.sock import Foot, Sock
from loopwright.yarn import YarnCurve, loop_length, strand_uses, yarn_need, yarn_path

SOCKS = Gauge(3.2, 4.4)
HEAVY = Gauge(1.8, 2.5)


@cache
def relaxed(name: str, gauge: Gauge = SOCKS) -> Shape:
    return shape(PIECES[name](Hand.RIGHT).fabric(), gauge)


@cache
def tube(key: str, gauge: Gauge) -> Shape:
    work = Work()
    cast_on(work, 32)
    work.join_round()
    work.plain_rounds(12, key)
    return shape(work.fabric(), gauge)


def nearest(curve: YarnCurve, inner: np.ndarray) -> float:
    """How near the yarn comes to itself beyond a bend, among these points."""
    points = curve.points_mm
    along = np.concatenate(([0], np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1))))
    near = cKDTree(points[inner]).sparse_distance_matrix(
        cKDTree(points), 2 * curve.diameter_mm, output_type="coo_matrix"
    )
    apart = np.abs(along[near.col] - along[inner[near.row]])
    far = near.data[apart > 0.3 * curve.length_mm / len(set(curve.loops))]
    return float(far.min()) if len(far) else np.inf


@pytest.mark.parametrize("gauge", [SOCKS, HEAVY])
@pytest.mark.parametrize("key", ["k", "p"])
@pytest.mark.parametrize("share", [0.1, 0.19])
def test_plain_knitting_leaves_the_yarn_its_room(key: str, share: float, gauge: Gauge) -> None:
    """No two stretches nearer than the diameter, in the midst of plain fabric."""
    diameter = share * gauge.stitch_width_mm
    (curve,) = yarn_path(tube(key, gauge), gauge, diameter_mm=diameter)
    inner = np.flatnonzero((curve.loops >= 64) & (curve.loops < 352))[::5]
    assert nearest(curve, inner) > diameter


@pytest.mark.parametrize("gauge", [SOCKS, HEAVY])
def test_a_plain_loop_is_as_long_as_the_gauge_says(gauge: Gauge) -> None:
    (curve,) = yarn_path(tube("k", gauge), gauge, diameter_mm=0.15 * gauge.stitch_width_mm)
    steps = np.linalg.norm(np.diff(curve.points_mm, axis=0), axis=1)
    inner = (curve.loops[:-1] >= 64) & (curve.loops[:-1] < 352)
    assert steps[inner].sum() / (352 - 64) == pytest.approx(loop_length(gauge).mm, rel=0.02)


def test_a_sock_s_yarn_is_as_long_as_its_need_within_5_percent() -> None:
    gauge = Gauge.of(24, 33, over="10 cm")
    foot = Foot.of(length="22 cm", ball_girth="20 cm")  # invented
    fabric = Sock(foot=foot, gauge=gauge, heel="flap").fabric()
    curves = yarn_path(shape(fabric, gauge), gauge, diameter_mm=0.6)
    uses = strand_uses(fabric)
    need = sum(one.metres.likely for one in yarn_need(uses, gauge, {}))
    tails = 0.175 * sum(use.tails for use in uses)
    found = sum(curve.length_mm for curve in curves) / 1000
    assert found == pytest.approx(need - tails, rel=0.05)


def crossings(made: Shape, gauge: Gauge) -> list[tuple[int, int, float]]:
    """For each stitch drawn through a loop: its face, and how far its legs lie before that loop.

    Seen from the right side, the legs and the head that they cross are where the two curves come
    nearest to each other.
    """
    fabric = made.fabric
    assert fabric is not None
    (curve,) = yarn_path(made, gauge, diameter_mm=0.15 * gauge.stitch_width_mm)
    of = {loop: np.flatnonzero(curve.loops == loop) for loop in set(curve.loops.tolist())}
    centre = made.surface.vertices_mm.mean(axis=0)
    found = []
    for parent, child, info in zip(
        fabric.parent.tolist(), fabric.child.tolist(), fabric.info.tolist(), strict=True
    ):
        head, legs = of[parent][8:24], np.concatenate((of[child][2:12], of[child][20:30]))
        axis = made.surface.vertices_mm[made.vertex_of(child)] - centre
        out = np.array([axis[0], axis[1], 0.0]) / np.hypot(axis[0], axis[1])
        apart = curve.points_mm[legs][:, None] - curve.points_mm[head][None]
        depth = apart @ out
        flat = np.linalg.norm(apart - depth[..., None] * out, axis=-1)
        at = np.unravel_index(int(np.argmin(flat)), flat.shape)
        found.append((parent, -1 if info & 8 else 1, float(depth[at])))
    return found


def test_front_and_back_of_each_crossing_are_right() -> None:
    """A knit stitch comes out before the loop that it is drawn through, a purl behind it."""
    rib = knit(read("Cast on 32 sts. Join in the round. Rnds 1-8: *K2, p2; rep from * to end."))
    for fabric in (PIECES["tube"](Hand.RIGHT).fabric(), PIECES["tube"](Hand.LEFT).fabric(), rib):
        made = upright(shape(fabric, SOCKS))
        signs = [face * depth > 0 for _, face, depth in crossings(made, SOCKS)]
        assert np.mean(signs) == 1.0


def upright(made: Shape) -> Shape:
    """The shape with its axis along z: a tube lies where the solver leaves it."""
    points = made.surface.vertices_mm
    assert made.fabric is not None
    low, high = (points[made.fabric.course == course].mean(axis=0)
                 for course in (0, made.fabric.course.max()))  # fmt: skip
    axis = (high - low) / np.linalg.norm(high - low)
    assert abs(axis[2]) > 0.9
    return made


@pytest.mark.parametrize("name", ["sock, flap", "sock, heel at once", "star toe", "toe up",
                                  "tube with wraps", "three needles", "slip stitches"])  # fmt: skip
def test_every_construction_has_a_smooth_way(name: str) -> None:
    made = relaxed(name)
    fabric = made.fabric
    assert fabric is not None
    curves = yarn_path(made, SOCKS, diameter_mm=0.5)
    assert sum(len(set(curve.loops.tolist())) for curve in curves) == len(fabric)
    for curve in curves:
        steps = np.linalg.norm(np.diff(curve.points_mm, axis=0), axis=1)
        assert np.isfinite(curve.points_mm).all()
        assert steps.max() < 12 * np.median(steps)  # no jump: a float or a turn is drawn long


def test_a_yarn_too_thick_is_refused_with_what_would_go() -> None:
    with pytest.raises(YarnError, match=r"at most about 0\.[67] mm go into loops of 12\.4 mm"):
        yarn_path(tube("k", SOCKS), SOCKS, diameter_mm=1.5)
    bare = Shape(tube("k", SOCKS).surface, tube("k", SOCKS).mesh, tube("k", SOCKS).loops)
    with pytest.raises(YarnError, match="relax it from a fabric"):
        yarn_path(bare, SOCKS, diameter_mm=0.5)


def test_it_is_written_as_numbers_and_as_a_mesh() -> None:
    (curve,) = yarn_path(tube("k", SOCKS), SOCKS, diameter_mm=0.5)
    head, first, *_ = curve.to_csv().splitlines()
    assert head == "x_mm,y_mm,z_mm,loop"
    assert [float(x) for x in first.split(",")[:3]] == pytest.approx(curve.points_mm[0], abs=1e-4)
    mesh = curve.mesh()
    radius = np.linalg.norm(
        mesh.vertices_mm.reshape(len(curve.points_mm), -1, 3) - curve.points_mm[:, None], axis=-1
    )
    assert radius == pytest.approx(0.25)
    assert export(mesh, "ply").startswith(b"ply")


def test_nothing_and_one_loop_have_no_way() -> None:
    work = Work()
    cast_on(work, 1)
    fabric: Fabric = work.fabric()
    assert yarn_path(shape(fabric, SOCKS), SOCKS, diameter_mm=0.5) == ()


def seen_from(front: np.ndarray, one: np.ndarray, other: np.ndarray) -> np.ndarray:
    """By how much one stretch lies in front of another, wherever they cover each other."""
    apart = one[:, None] - other[None]
    ahead = apart @ front
    across = np.linalg.norm(apart - ahead[..., None] * front, axis=-1)
    return np.asarray(ahead[across < 0.1])


@pytest.mark.parametrize("key", ["2/2lc", "2/1rpc"])
def test_what_crosses_passes_in_front_or_behind(key: str) -> None:
    work = Work()
    cast_on(work, 16)
    work.join_round()
    work.plain_rounds(3)
    row = work.stitches[key]
    work.round(["k"] * 5 + [key] + ["k"] * (11 - row.takes))
    work.plain_rounds(3)
    fabric = work.fabric()
    (curve,) = yarn_path(shape(fabric, SOCKS), SOCKS, diameter_mm=0.5)
    first = 4 * 16 + 5
    stretches = []
    for place in range(row.takes):
        points = curve.points_mm[curve.loops == first - 16 + place]
        steps = np.linspace(0, len(points) - 1, 20 * len(points))
        known = np.arange(len(points))
        stretches.append(np.stack([np.interp(steps, known, one) for one in points.T], axis=1))
    outwards = np.mean(stretches[0], axis=0) * (1, 1, 0)
    found = 0
    for a, depth in enumerate(row.stack):
        for b, deeper in enumerate(row.stack):
            if depth < deeper:
                ahead = seen_from(outwards / np.linalg.norm(outwards), stretches[a], stretches[b])
                assert (ahead > 0).all()
                found += len(ahead)
    assert found > 20
