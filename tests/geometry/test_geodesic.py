"""Lines on surfaces against closed forms and against an exact geodesic library (MMP)."""

from __future__ import annotations

import networkx as nx
import numpy as np
import pygeodesic.geodesic as exact  # type: ignore[import-untyped]
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.spatial import Delaunay

from loopwright.errors import ShapeError
from loopwright.fitting import Sample
from loopwright.gauge import Gauge
from loopwright.geometry._geodesic import _crossed, cover, shortest_line, shortest_loop
from loopwright.geometry._straighten import Sheet, straighten
from loopwright.geometry._surface import Surface
from loopwright.sock import Foot, Sock
from loopwright.sock.heels import heel_named

NEAR = 0.001  # of the length: what the module states
QUICK = 1 / np.cos(np.pi / 8) - 1  # likewise: eight directions, 8.2 %

Floats = NDArray[np.float64]


def _tube(radius_at: Floats, up: Floats, columns: int) -> Surface:
    """Rings one above the other."""
    angle = np.linspace(0, 2 * np.pi, columns, endpoint=False)
    rings = [
        np.stack([r * np.cos(angle), r * np.sin(angle), np.full(columns, z)], axis=1)
        for r, z in zip(radius_at, up, strict=True)
    ]
    triangles = []
    for k in range(len(up) - 1):
        for j in range(columns):
            a, b = k * columns + j, k * columns + (j + 1) % columns
            triangles += [[a, b, a + columns], [b, b + columns, a + columns]]
    return Surface(np.concatenate(rings), triangles)


def _exact_mm(surface: Surface, start: int, end: int) -> float:
    used, triangles = np.unique(surface.triangles, return_inverse=True)
    solver = exact.PyGeodesicAlgorithmExact(
        surface.vertices_mm[used], triangles.reshape(-1, 3).astype(np.int32)
    )
    found, _ = solver.geodesicDistance(*np.searchsorted(used, [start, end]).tolist())
    return float(found)


def test_on_a_cylinder_a_line_is_the_hypotenuse() -> None:
    """Unrolled: across the chords of 30 degrees of a fine cylinder, and up."""
    columns, rings = 120, 60
    surface = _tube(np.full(rings, 30.0), np.linspace(0, 90, rings), columns)
    chord = 2 * 30.0 * np.sin(np.pi / columns)
    for across, up in [(10, 0), (0, 40), (17, 33), (50, 59)]:
        expected = np.hypot(across * chord, up * 90 / (rings - 1))
        line = shortest_line(surface, 0, up * columns + across)
        assert line.length_mm == pytest.approx(expected, rel=NEAR)
        assert line.length_mm >= expected * (1 - 1e-9)


def test_on_a_cone_a_line_is_the_chord_of_the_unrolled_sector() -> None:
    """Slant s, half apex angle a: points apart by an angle t lie 2 s sin(t sin(a) / 2) apart."""
    columns, rings, half_apex = 180, 80, 0.5
    slant = np.linspace(5, 100, rings)
    surface = _tube(slant * np.sin(half_apex), slant * np.cos(half_apex), columns)
    for apart in (20, 45, 90):
        turn = apart * 2 * np.pi / columns * np.sin(half_apex)
        expected = 2 * 100 * np.sin(turn / 2)
        start = (rings - 1) * columns
        found = shortest_line(surface, start, start + apart).length_mm
        assert found == pytest.approx(expected, rel=0.003)  # the facets' own error included


def test_lines_agree_with_exact_geodesics_on_a_bumpy_body() -> None:
    """Against the published algorithm of Mitchell, Mount and Papadimitriou, as a library has it."""
    up = np.linspace(0, 120, 50)
    bumpy = _tube(30 + 6 * np.sin(up / 9), up, 60)
    rng = np.random.default_rng(3)
    for _ in range(6):
        start, end = (int(v) for v in rng.integers(0, len(bumpy.vertices_mm), 2))
        true_mm = _exact_mm(bumpy, start, end)
        near = shortest_line(bumpy, start, end).length_mm
        quick = shortest_line(bumpy, start, end, quick=True).length_mm
        assert true_mm * (1 - 1e-6) <= near <= true_mm * (1 + NEAR) + 1e-9
        assert true_mm * (1 - 1e-6) <= quick <= true_mm * (1 + QUICK) + 1e-9


def test_closed_lines_agree_with_exact_geodesics_on_the_cover() -> None:
    """A waist: the line round a bulge slips to where it is shorter."""
    up = np.linspace(0, 120, 50)
    waisted = _tube(30 + 6 * np.cos(up / 120 * 2 * np.pi), up, 60)
    cut = np.arange(0, 50 * 60, 60)
    n = len(waisted.vertices_mm)
    folded = cover(waisted, cut)
    for vertex in (20 * 60 + 31, 10 * 60 + 7, 25 * 60):
        true_mm = _exact_mm(folded, vertex + n, vertex + 2 * n)
        found = shortest_loop(waisted, vertex, cut)
        assert found.length_mm == pytest.approx(true_mm, rel=NEAR)
        assert found.vertices.max() < n
    girth = 60 * 2 * 24 * np.sin(np.pi / 60)
    assert shortest_loop(waisted, 25 * 60, cut).length_mm == pytest.approx(girth, rel=0.01)


def test_the_line_over_a_relaxed_heel_is_the_exact_one() -> None:
    """Rough surfaces have many geodesics beside each other: this is the shortest but for 0.1 %."""
    for heel in ("forethought", "flap", "short-row with gusset"):
        foot = Foot.of(length="18 cm", ball_girth="17 cm")
        sock = Sock(foot=foot, gauge=Gauge.of(20, 28), heel=heel_named(heel))
        made = Sample(sock)
        tube, tip = made.where.tube, made.heel_tip
        within = tube.from_end_mm > 0.4 * tube.from_end_mm[tip]
        folded, n = cover(made.shape.surface, tube.path, within=within), len(made.shape.loops)
        true_mm = _exact_mm(folded, tip + n, tip + 2 * n)
        assert true_mm * (1 - 1e-6) <= made.heel_line.length_mm <= true_mm * (1 + NEAR)


def test_there_is_no_line_between_pieces_nor_round_a_disc() -> None:
    """Both are refused in words."""
    two = Surface(np.random.default_rng(0).normal(size=(6, 3)), [[0, 1, 2], [3, 4, 5]])
    with pytest.raises(ShapeError, match="no line on the surface"):
        shortest_line(two, 0, 4)
    with pytest.raises(ShapeError, match="no closed line") as refused:
        shortest_loop(two, 0, np.array([1, 2]))
    assert "ends" in refused.value.advice


@given(seed=st.integers(0, 2**32 - 1), corners=st.integers(5, 60))
def test_in_the_plane_any_line_is_pulled_to_the_straight_one(seed: int, corners: int) -> None:
    """Over triangles of points strewn in a square, along their edges, to the distance itself."""
    rng = np.random.default_rng(seed)
    flat = np.concatenate([rng.random((corners, 2)), [[0, 0], [1, 0], [0, 1], [1, 1]]])
    points = np.concatenate([flat, np.zeros((len(flat), 1))], axis=1)
    triangles = np.array(Delaunay(flat).simplices, np.int64)
    start, end = (int(k) for k in rng.choice(corners, 2, replace=False))
    pairs = np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    roundabout = nx.Graph(pairs.tolist())
    for a, b in roundabout.edges:
        roundabout.edges[a, b]["weight"] = rng.random()  # a line that wanders
    sheet = Sheet.of(points, triangles)
    wandering = nx.shortest_path(roundabout, start, end, weight="weight")
    line: list[tuple[int, ...]] = [(int(k),) for k in wandering]
    found = straighten(sheet, start, end, _crossed(sheet, line))
    assert found.length_mm == pytest.approx(np.linalg.norm(points[end] - points[start]), abs=1e-9)
    on_it = np.array(found.points_mm)
    steps = np.linalg.norm(np.diff(on_it, axis=0), axis=1)
    assert steps.sum() == pytest.approx(found.length_mm, abs=1e-9)


def test_a_line_goes_round_a_hole_on_the_side_it_was_laid() -> None:
    """A square ring, 3 wide with a hole of 1: (0, 0) to (3, 2) by the hole's corner (2, 1)."""
    at = [(x, y, 0.0) for y in range(4) for x in range(4)]
    squares = [(x, y) for y in range(3) for x in range(3) if (x, y) != (1, 1)]
    triangles = []
    for x, y in squares:
        k = x + 4 * y
        triangles += [[k, k + 1, k + 5], [k, k + 5, k + 4]]
    line = shortest_line(Surface(at, triangles), 0, 11)
    assert line.length_mm == pytest.approx(np.sqrt(5) + np.sqrt(2), rel=1e-12)
