"""The air inside: what a surface encloses, and which way more of it lies."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh

from fit.knitted import tube
from loopwright.fit.air import Air


def test_a_closed_body_s_volume_is_the_mesh_library_s() -> None:
    """Against trimesh: a unit pressure's energy is less the volume, wherever the body lies."""
    body = trimesh.creation.icosphere(subdivisions=2, radius=3.0)
    place = np.array(body.vertices) + np.array([5.0, -2.0, 7.0])
    air = Air.of(len(place), np.array(body.faces))
    assert not air.middles.shape[0]
    energy = air.add(place, np.zeros_like(place), 1.0)
    assert -energy == pytest.approx(body.volume, rel=1e-12)


def test_two_openings_are_closed_by_fans_round_their_middles() -> None:
    """A prism of n sides, by hand: n r^2 sin(2 pi / n) / 2 times its length."""
    n, courses = 12, 5
    net = tube(n, courses)
    ring = np.exp(2j * np.pi * np.arange(n) / n)
    place = np.array([[10 * z.real, 10 * z.imag, 2.0 * k] for k in range(courses) for z in ring])
    air = Air.of(len(place), net.triangles()[0])
    assert air.middles.shape == (2, n * courses)
    volume = n * 100 * np.sin(2 * np.pi / n) / 2 * 8
    assert abs(air.add(place, np.zeros_like(place), 1.0)) == pytest.approx(volume, rel=1e-12)


def test_the_push_is_the_slope_of_the_energy() -> None:
    """By central differences (Nocedal and Wright 2006, section 8.1), at rims and inside alike."""
    net = tube(10, 4)
    rng = np.random.default_rng(3)
    place = rng.normal(size=(net.n, 3))
    air = Air.of(net.n, net.triangles()[0])
    gradient = np.zeros_like(place)
    air.add(place, gradient, 0.7)
    for i, k in ((0, 0), (13, 1), (39, 2)):
        step = np.zeros_like(place)
        step[i, k] = 1e-5
        ends = [air.add(place + s * step, np.zeros_like(place), 0.7) for s in (1, -1)]
        assert gradient[i, k] == pytest.approx((ends[0] - ends[1]) / 2e-5, rel=1e-6)


def test_a_surface_without_triangles_holds_none() -> None:
    air = Air.of(3, np.empty((0, 3), np.int64))
    assert air.add(np.eye(3), np.zeros((3, 3)), 1.0) == 0
