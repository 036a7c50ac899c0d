"""Hinges: what they hold back, how much, and that they pull at no side."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from loopwright.geometry._hinges import Hinges
from loopwright.geometry._surface import area_vectors, join_edges

Floats = NDArray[np.float64]

TRIANGLES = np.array([[0, 1, 2], [1, 0, 3]])
FLAT = np.array([[[0, 0], [3, 0], [1, 2]], [[3, 0], [0, 0], [1, -1]]], float)  # levers of 2 and 1


def bent(degrees: float) -> Floats:
    """Two triangles over one edge, the second turned about it."""
    t = np.radians(degrees)
    return np.array([[0, 0, 0], [3, 0, 0], [1, 2, 0], [1, -np.cos(t), -np.sin(t)]], float)


def hinges() -> Hinges:
    return Hinges.of(TRIANGLES, FLAT, join_edges(TRIANGLES, 4))


def energy(place: Floats) -> float:
    return hinges().add(place.T.copy(), np.zeros((3, 4)))


@pytest.mark.parametrize("way", [1, -1])
def test_the_energy_is_half_the_stiffness_times_the_angle_beyond_sixty_degrees(way: int) -> None:
    """By hand, either way round: 0.15 of an edge's stiffness on the lever of 1 mm."""
    assert energy(bent(way * 59)) == 0
    beyond = np.radians(120 - 60)
    assert energy(bent(way * 120)) == pytest.approx(0.5 * 0.15 * beyond**2, rel=1e-12)


@pytest.mark.parametrize("degrees", [75, -75, 130, -170])
def test_the_push_is_the_slope_of_the_energy(degrees: float) -> None:
    """By central differences (Nocedal and Wright 2006, section 8.1), in no special position."""
    rng = np.random.default_rng(5)
    turn = np.linalg.qr(rng.normal(size=(3, 3)))[0]
    turn *= np.sign(np.linalg.det(turn))
    place = bent(degrees) @ turn.T + rng.normal(size=3)
    gradient = np.zeros((3, 4))
    hinges().add(place.T.copy(), gradient)
    slope = np.zeros((4, 3))
    for at in np.ndindex(4, 3):
        step = np.zeros((4, 3))
        step[at] = 1e-6
        slope[at] = (energy(place + step) - energy(place - step)) / 2e-6
    np.testing.assert_allclose(gradient.T, slope, atol=1e-8)
    assert abs(slope).max() > 0.03


def test_no_side_is_pulled_and_nothing_moves_as_a_whole() -> None:
    """By statics: forces and moments sum to nothing; each far corner moves along its normal."""
    place, gradient = bent(100), np.zeros((3, 4))
    hinges().add(place.T.copy(), gradient)
    assert abs(gradient.sum(axis=1)).max() < 1e-12
    assert abs(np.cross(place, gradient.T).sum(axis=0)).max() < 1e-12
    for corner, other in ((2, 0), (2, 1), (3, 0), (3, 1)):
        assert abs(gradient[:, corner] @ (place[corner] - place[other])) < 1e-12


def test_only_the_bent_are_watched_and_none_with_a_triangle_squeezed_flat() -> None:
    """A lever of 0.15 of its length at rest, or less, tells no direction."""
    assert [watched(bent(d)) for d in (0, 40, 50, 90, 180)] == [0, 0, 1, 1, 1]
    squeezed = bent(90)
    for lever, count in ((0.16, 1), (0.14, 0), (0.0, 0)):
        squeezed[3] = [1, 0, -lever]
        assert watched(squeezed) == count


def watched(place: Floats) -> int:
    edges = join_edges(TRIANGLES, 4)
    return len(hinges().near(place.T, area_vectors(place.T, TRIANGLES), edges).edge)


def test_a_triangle_without_height_pushes_with_no_more_than_a_short_lever() -> None:
    place = bent(100)
    place[3] = [1, 0, -1e-9]
    gradient = np.zeros((3, 4))
    hinges().add(place.T.copy(), gradient)
    assert np.isfinite(gradient).all()
    assert abs(gradient).max() < 0.2
