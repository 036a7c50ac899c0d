"""Tapes round a scan: a cut by a plane, freed of the scanner's noise, and the hull of it.

Near the plane the surface is cut several times. What lies there is a distance from the cut's
middle, by the angle round it. It is a short Fourier series, fitted to all cuts at once, with a
slope along the body. The noise of a vertex then averages out, where the hull of the bare cut would
be as much too long as the noise is high. Where nothing was scanned the series runs on; a tape that
spans a wide gap is taken between that and the straight line, and said to be uncertain.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from typing import Final

import attrs
import numpy as np
import scipy
from numpy.typing import NDArray

from loopwright.errors import ScanError

__all__ = ["ScanBody", "Tape"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

_WAVES: Final = 14  # of the series; an ellipse of 1 to 2.3 needs 10 for 0.05 mm
_SLOPE_WAVES: Final = 3
_STIFF: Final = 1e-6  # how much bending is held against the series where there is no data
_CUTS: Final = (-1.0, -0.5, 0.0, 0.5, 1.0)
_ROUND: Final = 360  # points of a tape
_BINS: Final = 72
_GAP_DEG: Final = 15.0  # wider than that, a part of the tape without surface below it is a gap


@attrs.frozen(eq=False)
class Tape:
    """A closed line round a body, in a plane.

    Parameters
    ----------
    points_mm : ndarray, shape (n, 3), mm
        The hull's corners, in order; the first is not repeated.
    skin_mm : ndarray, shape (360, 3), mm
        The surface in the plane, hollows and all.
    length_mm, sd_mm : float
        Of the hull; the uncertainty is that of noise and gaps alone.
    missing : float
        The share of the way round under which nothing was scanned.
    """

    points_mm: Floats
    skin_mm: Floats
    length_mm: float
    sd_mm: float
    missing: float


@attrs.frozen(eq=False)
class ScanBody:
    """A scan set upright, to be cut.

    Parameters
    ----------
    points_mm : ndarray, shape (n, 3), mm
        Axes: forward, left, up.
    triangles : ndarray, shape (t, 3)
    """

    points_mm: Floats
    triangles: Ints

    @cached_property
    def _corners(self) -> Ints:
        return np.ascontiguousarray(self.triangles.T)  # a long row is faster than short ones

    def tape(
        self,
        at_mm: Floats,
        normal: Floats,
        *,
        keep: Callable[[Floats], Bools] | None = None,
        reach_mm: float = 2.5,
    ) -> Tape:
        """Return a tape laid round in a plane.

        Parameters
        ----------
        at_mm, normal : ndarray, shape (3,)
            The plane.
        keep : function of points, optional
            Which points of the cut belong to it: a plane may cut foot and leg.
        reach_mm : float
            How far to either side the surface is looked at.

        Raises
        ------
        ScanError
            The plane misses the body.
        """
        unit = np.asarray(normal, float) / np.linalg.norm(normal)
        side, across = _axes(unit)
        ends, off = self._cuts(np.asarray(at_mm, float), unit, reach_mm)
        weight = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
        points = ends.mean(axis=1)
        good = weight > 0
        if keep is not None and len(points):
            good &= keep(points)
        points, weight, off = points[good], weight[good], off[good]
        if len(points) < 12:
            raise ScanError("scan", "nothing to lay a tape round", "is the part scanned?")
        flat = np.stack([(points - at_mm) @ side, (points - at_mm) @ across], axis=1)
        middle = (flat.min(axis=0) + flat.max(axis=0)) / 2
        series = _Series.fitted(flat - middle, off / reach_mm, weight)
        round_, covered, sd = series.line, series.covered, series.noise_mm
        length, corners = _hull(round_)
        if not covered.all():
            straight, _ = _hull(round_[covered])
            sd = float(np.hypot(sd, (length - straight) / 2 + 0.02 * (~covered).mean() * length))
            length = (length + straight) / 2
        lifted = np.asarray(at_mm) + (round_ + middle) @ np.stack([side, across])
        return Tape(lifted[corners], lifted, length, sd, float((~covered).mean()))

    def _cuts(self, at: Floats, unit: Floats, reach: float) -> tuple[Floats, Floats]:
        """Pieces of the cuts near a plane, shape (n, 2, 3), and how far off it each lies."""
        height = (self.points_mm - at) @ unit
        a, b, c = (height[corner] for corner in self._corners)
        low, high = np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)
        near = np.flatnonzero((low < reach) & (high > -reach))
        triangles, low, high = self.triangles[near], low[near], high[near]
        of = height[triangles]
        found, offs = [np.zeros((0, 2, 3))], [np.zeros(0)]
        for share in _CUTS:
            here = (low < share * reach) & (high > share * reach)
            above = of[here] - share * reach
            found.append(_pieces(self.points_mm[triangles[here]], above))
            offs.append(np.full(int(here.sum()), share * reach))
        return np.concatenate(found), np.concatenate(offs)


def _pieces(corners: Floats, above: Floats) -> Floats:
    """Where a plane cuts triangles that lie on both sides of it; two ends each."""
    if not len(corners):
        return np.zeros((0, 2, 3))
    up = above > 0
    alone = np.where(up.sum(axis=1) == 1, up.argmax(axis=1), (~up).argmax(axis=1))
    rows = np.arange(len(corners))
    apex, high = corners[rows, alone], above[rows, alone]
    ends = []
    for step in (1, 2):
        other, low = corners[rows, (alone + step) % 3], above[rows, (alone + step) % 3]
        ends.append(apex + (high / (high - low))[:, None] * (other - apex))
    return np.stack(ends, axis=1)


def _axes(unit: Floats) -> tuple[Floats, Floats]:
    """Two directions in a plane, the first to the left where that is in it."""
    side = np.cross(unit, [1.0, 0, 0] if abs(unit[0]) < abs(unit[2]) else [0, 0, 1.0])
    side /= np.linalg.norm(side)
    return np.asarray(side), np.asarray(np.cross(unit, side))


@attrs.frozen(eq=False)
class _Series:
    """A closed line about the origin, by angle."""

    line: Floats
    covered: Bools
    noise_mm: float

    @classmethod
    def fitted(cls, flat: Floats, off: Floats, weight: Floats) -> _Series:
        turn, distance = np.arctan2(flat[:, 1], flat[:, 0]), np.hypot(*flat.T)
        matrix = np.concatenate(
            [_waves(turn, _WAVES), off[:, None] * _waves(turn, _SLOPE_WAVES)], axis=1
        )
        share = weight / weight.sum()
        stiff = np.concatenate([_stiffness(_WAVES), 0.01 * _stiffness(_SLOPE_WAVES) + 1e-9])
        left = matrix.T @ (share[:, None] * matrix) + np.diag(_STIFF * stiff)
        found = np.linalg.solve(left, matrix.T @ (share * distance))
        wrong = distance - matrix @ found
        rms = float(np.sqrt(share @ wrong**2))
        angles = np.linspace(-np.pi, np.pi, _ROUND, endpoint=False)
        radius = np.maximum(_waves(angles, _WAVES) @ found[: 2 * _WAVES + 1], 0.0)
        line = radius[:, None] * np.stack([np.cos(angles), np.sin(angles)], axis=1)
        # Cuts side by side share their vertices: a fifth of the pieces counts.
        noise = 2 * np.pi * rms / np.sqrt(max(len(flat) / len(_CUTS), 1.0))
        return cls(line, _covered(turn, line), noise)


def _waves(turn: Floats, count: int) -> Floats:
    numbers = np.arange(1, count + 1)
    waves = turn[:, None] * numbers
    return np.concatenate([np.ones((len(turn), 1)), np.cos(waves), np.sin(waves)], axis=1)


def _stiffness(count: int) -> Floats:
    numbers = np.arange(1.0, count + 1)
    return np.concatenate([[0.0], numbers**4, numbers**4])


def _covered(turn: Floats, line: Floats) -> Bools:
    """Which points of a line have surface below them; narrow gaps between points count as such."""
    width = 360 / _BINS
    filled = (
        np.bincount(((np.degrees(turn) + 180) // width).astype(int) % _BINS, minlength=_BINS) > 0
    )
    widest = int(_GAP_DEG // width)
    narrow = filled.copy()
    for shift in range(1, widest + 1):  # a gap of at most so many is closed from both sides
        for back in range(1, widest + 2 - shift):
            narrow |= np.roll(filled, shift) & np.roll(filled, -back)
    return np.repeat(narrow, _ROUND // _BINS)


def _hull(flat: Floats) -> tuple[float, Ints]:
    hull = scipy.spatial.ConvexHull(flat)
    return float(hull.area), np.asarray(hull.vertices, np.int64)  # of a plane hull: the perimeter
