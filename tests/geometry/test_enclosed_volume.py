"""The volume inside: what a surface encloses, and which way more of it lies."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh
from numpy.typing import NDArray

from geometry.knitted import tube
from loopwright.geometry._enclosed_volume import EnclosedVolume
from loopwright.geometry._surface import join_edges


def test_a_closed_body_s_volume_is_the_mesh_library_s() -> None:
    """Against trimesh, wherever the body lies."""
    body = trimesh.creation.icosphere(subdivisions=2, radius=3.0)
    place = np.array(body.vertices) + np.array([5.0, -2.0, 7.0])
    held = _held(np.array(body.faces), len(place))
    assert not held.middles.shape[0]
    assert _volume(held, place) == pytest.approx(body.volume, rel=1e-12)


def test_two_openings_are_closed_by_fans_round_their_middles() -> None:
    """A prism of n sides, by hand: n r^2 sin(2 pi / n) / 2 times its length."""
    n, courses = 12, 5
    mesh = tube(n, courses)
    ring = np.exp(2j * np.pi * np.arange(n) / n)
    place = np.array([[10 * z.real, 10 * z.imag, 2.0 * k] for k in range(courses) for z in ring])
    held = _held(mesh.triangles[0], len(place))
    assert held.middles.shape == (2, n * courses)
    volume = n * 100 * np.sin(2 * np.pi / n) / 2 * 8
    assert abs(_volume(held, place)) == pytest.approx(volume, rel=1e-12)


def test_the_slope_is_what_small_steps_find() -> None:
    """By central differences (Nocedal and Wright 2006, section 8.1), at rims and inside alike."""
    mesh = tube(10, 4)
    rng = np.random.default_rng(3)
    place = rng.normal(size=(mesh.n, 3))
    held = _held(mesh.triangles[0], mesh.n)
    slope = held.slope(place.T).T
    for i, k in ((0, 0), (13, 1), (39, 2)):
        step = np.zeros_like(place)
        step[i, k] = 1e-5
        ends = [_volume(held, place + s * step) for s in (1, -1)]
        assert slope[i, k] == pytest.approx((ends[0] - ends[1]) / 2e-5, rel=1e-6)


def test_a_surface_without_triangles_holds_none() -> None:
    held = _held(np.empty((0, 3), np.int64), 3)
    assert not held.slope(np.eye(3)).any()


def _held(triangles: NDArray[np.int64], n: int) -> EnclosedVolume:
    return EnclosedVolume.of(n, triangles, join_edges(triangles, n))


def _volume(held: EnclosedVolume, place: NDArray[np.float64]) -> float:
    return float(np.vdot(place.T, held.slope(place.T))) / 3
