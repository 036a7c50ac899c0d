"""The air inside: what a surface encloses, and which way more of it lies."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh
from numpy.typing import NDArray

from fitting.knitted import tube
from loopwright.fitting._air import Air
from loopwright.fitting._surface import join_edges


def test_a_closed_body_s_volume_is_the_mesh_library_s() -> None:
    """Against trimesh, wherever the body lies."""
    body = trimesh.creation.icosphere(subdivisions=2, radius=3.0)
    place = np.array(body.vertices) + np.array([5.0, -2.0, 7.0])
    air = _air(np.array(body.faces), len(place))
    assert not air.middles.shape[0]
    assert _volume(air, place) == pytest.approx(body.volume, rel=1e-12)


def test_two_openings_are_closed_by_fans_round_their_middles() -> None:
    """A prism of n sides, by hand: n r^2 sin(2 pi / n) / 2 times its length."""
    n, courses = 12, 5
    net = tube(n, courses)
    ring = np.exp(2j * np.pi * np.arange(n) / n)
    place = np.array([[10 * z.real, 10 * z.imag, 2.0 * k] for k in range(courses) for z in ring])
    air = _air(net.triangles[0], len(place))
    assert air.middles.shape == (2, n * courses)
    volume = n * 100 * np.sin(2 * np.pi / n) / 2 * 8
    assert abs(_volume(air, place)) == pytest.approx(volume, rel=1e-12)


def test_the_push_is_the_slope_of_the_volume() -> None:
    """By central differences (Nocedal and Wright 2006, section 8.1), at rims and inside alike."""
    net = tube(10, 4)
    rng = np.random.default_rng(3)
    place = rng.normal(size=(net.n, 3))
    air = _air(net.triangles[0], net.n)
    push = air.push(place)
    for i, k in ((0, 0), (13, 1), (39, 2)):
        step = np.zeros_like(place)
        step[i, k] = 1e-5
        ends = [_volume(air, place + s * step) for s in (1, -1)]
        assert push[i, k] == pytest.approx((ends[0] - ends[1]) / 2e-5, rel=1e-6)


def test_a_surface_without_triangles_holds_none() -> None:
    air = _air(np.empty((0, 3), np.int64), 3)
    assert not air.push(np.eye(3)).any()


def _air(triangles: NDArray[np.int64], n: int) -> Air:
    return Air.of(n, triangles, join_edges(triangles, n))


def _volume(air: Air, place: NDArray[np.float64]) -> float:
    return float(np.vdot(place, air.push(place))) / 3
