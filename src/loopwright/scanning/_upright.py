"""A scan set upright: sole down, toes forward, whatever way it lay.

A body can stand on each flat part of its hull: sole, sides, the leg's cut. Each is tried, with
either end in front, and the one that looks most like a foot is taken. What counts is how broad it
is along its length, how the upper side falls toward the toes, how the sole lies, the leg behind.
Then the floor is found from heel and ball, and the foot's direction from the middles of both.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

import attrs
import numpy as np
import scipy
from numpy.typing import NDArray

from loopwright.errors import ScanError

__all__ = ["Pose", "upright"]

Floats = NDArray[np.float64]

# How a foot looks, in shares of its length: at a share of the length, how broad (the survey's
# mean breadths of heel and ball, between them a smooth line) and, in its front half, how high
# (drawings of lasts). Without a source: they tell a foot from its side and its back, no more.
_BREADTH: Final = (
    (0.12, 0.25),
    (0.25, 0.27),
    (0.45, 0.31),
    (0.60, 0.35),
    (0.74, 0.38),
    (0.88, 0.33),
)
_HEIGHT: Final = ((0.60, 0.26), (0.70, 0.20), (0.80, 0.15), (0.90, 0.11))
_NO_FOOT: Final = 0.10  # mean misfit, in shares of the length: feet of the survey stay below 0.04
_CELLS: Final = 70  # to the longest extent: points are averaged in cells for the search
_WIDE_DEG, _FINE_DEG = 14.0, 6.0  # within which flat parts of the hull are taken for one
_CANDIDATES: Final = 14
_FLAT_DEG, _FLAT_SHARE = 4.0, 0.25  # a sole is flat if so much of its plan lies so even
_COMPARED: Final = 1500  # points of the two sides
_APART: Final = 0.03  # of the length: what lies farther from its mirror image says no more
_LOW: Final = 0.30  # of the length: what lies below is foot, not leg


@attrs.frozen(eq=False)
class Pose:
    """How a scan is turned.

    Parameters
    ----------
    turn : ndarray, shape (3, 3)
        Rows are the directions forward, left and up.
    misfit : float
        From what a foot looks like, in shares of its length.
    second : float
        The misfit of the next best stand that is another one.
    """

    turn: Floats
    misfit: float
    second: float


def upright(points: Floats, name: str) -> Pose:
    """Find how to turn points that lie anywhere.

    Raises
    ------
    ScanError
        However it is turned, it doesn't look like a foot.
    """
    cells = _averaged(points)
    try:
        hull = scipy.spatial.ConvexHull(cells)
    except scipy.spatial.QhullError as error:
        raise ScanError(name, "a flat thing", "a foot has a body") from error
    corners = cells[hull.simplices]
    areas = np.linalg.norm(
        np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1
    )
    normals = hull.equations[:, :3]
    found = sorted(
        ((misfit, turn) for down in _flat_parts(normals, areas)
         for misfit, turn in _stands(cells, -down)),
        key=lambda pair: pair[0],
    )  # fmt: skip
    best, turn = found[0]
    if best > 2 * _NO_FOOT:
        raise _no_foot(name)
    turn = _refined(cells, normals, areas, turn)
    best = misfit_of(cells @ turn.T)
    if best > _NO_FOOT:
        raise _no_foot(name)
    others = [misfit for misfit, other in found if np.trace(other @ turn.T) < 1.5]
    return Pose(turn, best, min(others, default=np.inf))


def _no_foot(name: str) -> ScanError:
    return ScanError(
        name,
        "nothing in it looks like a foot, whichever way it is turned",
        "scan a bare foot with its ankle, and cut away what else is there",
    )


def _averaged(points: Floats) -> Floats:
    """Means of the points in each cell of a grid: fewer, and less noisy."""
    size = float(np.ptp(points, axis=0).max()) / _CELLS
    cell = np.floor((points - points.min(axis=0)) / size).astype(np.int64)
    keys = (cell[:, 0] * 2 * _CELLS + cell[:, 1]) * 2 * _CELLS + cell[:, 2]
    _, place, count = np.unique(keys, return_inverse=True, return_counts=True)
    sums = [np.bincount(place.ravel(), points[:, k]) / count for k in range(3)]
    return np.stack(sums, axis=1)


def _flat_parts(normals: Floats, areas: Floats) -> Iterator[Floats]:
    """Directions in which much of the hull looks, the most first."""
    peaks: list[tuple[float, Floats]] = []
    for start in _sphere(160):
        peak = _peak(normals, areas, start, _WIDE_DEG)
        height = float(_weights(normals, areas, peak, _WIDE_DEG).sum())
        if all(peak @ other < np.cos(np.radians(8)) for _, other in peaks):
            peaks.append((height, peak))
    peaks.sort(key=lambda pair: -pair[0])
    yield from (peak for _, peak in peaks[:_CANDIDATES])


def _weights(normals: Floats, areas: Floats, at: Floats, spread_deg: float) -> Floats:
    return np.asarray(areas * np.exp((normals @ at - 1) / np.radians(spread_deg) ** 2))


def _peak(normals: Floats, areas: Floats, start: Floats, spread_deg: float) -> Floats:
    """Climb to where the hull's normals are densest."""
    at = start
    for _ in range(40):
        mean = _weights(normals, areas, at, spread_deg) @ normals
        size = float(np.linalg.norm(mean))
        if size < 1e-12:
            return start
        mean /= size
        if mean @ at > 1 - 1e-10:
            return np.asarray(mean)
        at = mean
    return at


def _sphere(count: int) -> Floats:
    """Directions spread evenly."""
    k = np.arange(count) + 0.5
    height, turn = 1 - 2 * k / count, np.pi * (1 + 5**0.5) * k
    flat = np.sqrt(1 - height**2)
    return np.stack([flat * np.cos(turn), flat * np.sin(turn), height], axis=1)


def _stands(cells: Floats, up: Floats) -> Iterator[tuple[float, Floats]]:
    """Both ways of looking forward, with this direction up."""
    height = cells @ up
    low = cells[height - height.min() <= max(0.3 * float(np.ptp(height)), 1e-9)]
    flat = low - np.outer(low @ up, up)
    _, axes = np.linalg.eigh(np.cov(flat.T))
    forward = axes[:, 2] - (axes[:, 2] @ up) * up
    forward /= max(float(np.linalg.norm(forward)), 1e-12)
    for way in (forward, -forward):
        turn = np.stack([way, np.cross(up, way), up])
        yield misfit_of(cells @ turn.T), turn


def misfit_of(cells: Floats) -> float:
    """How far points in their stand are from what a foot looks like."""
    x, y, z = (cells - cells.min(axis=0)).T
    length = float(np.ptp(x[z < _LOW * np.ptp(x)])) if len(x) else 0.0
    if length <= 0:
        return np.inf
    x = (x - x[z < _LOW * np.ptp(x)].min()) / length
    y, z = y / length, z / length
    low = z < _LOW
    wrong = []
    for at, broad in _BREADTH:
        here = y[low & (np.abs(x - at) < 0.03)]
        wrong.append(np.ptp(here) - broad if len(here) > 3 else 0.15)
    for at, high in _HEIGHT:
        here = z[np.abs(x - at) < 0.03]
        wrong.append(here.max() - high if len(here) > 3 else 0.15)
    front = x > 0.60
    wrong += [float(z[front].min(initial=0.1)), float(z[x < 0.3].min(initial=0.1))]
    if z.max() > 0.35:  # there is a leg: it stands behind
        top = x[z > z.max() - 0.05]
        wrong.append(2 * max(0.0, float(top.mean()) - 0.42))
    return float(np.sqrt(np.mean(np.square(wrong))))


def _refined(cells: Floats, normals: Floats, areas: Floats, turn: Floats) -> Floats:
    """The floor by the hull's flat part below and by heel and ball, the direction by both."""
    down = _peak(normals, areas, -turn[2], _FINE_DEG)
    turn = _with_up(turn, -down)
    plan = np.ptp(cells @ turn[:2].T, axis=0)
    flat = areas[normals @ down > np.cos(np.radians(_FLAT_DEG))].sum() / 2
    if flat < _FLAT_SHARE * plan.prod():
        turn = _evened(cells, turn)
    for _ in range(4):
        turn = _turned(turn, 2, _yaw(cells @ turn.T))
        turn = _turned(turn, 1, _pitch(cells @ turn.T))
    return turn


def _evened(cells: Floats, turn: Floats) -> Floats:
    """A foot whose sole isn't flat says by its two sides which way is up: by what is alike."""
    chosen = cells[:: max(1, len(cells) // _COMPARED)] @ turn.T
    chosen = chosen - (chosen.max(axis=0) + chosen.min(axis=0)) / 2
    far = _APART * float(np.ptp(chosen[:, 0]))
    tree = scipy.spatial.cKDTree(chosen)

    def uneven(at: Floats) -> float:
        normal = _mirror_normal(at)
        mirrored = chosen - 2 * np.outer(chosen @ normal - at[2] * far, normal)
        away, _ = tree.query(mirrored, distance_upper_bound=far)
        return float(np.minimum(away, far).mean())

    starts = [np.array([roll, 0.0, 0.0]) for roll in (-0.3, -0.15, 0.0, 0.15, 0.3)]
    start = min(starts, key=uneven)
    simplex = start + np.array([[0, 0, 0], [0.08, 0, 0], [0, 0.04, 0], [0, 0, 0.3]])
    options = {"initial_simplex": simplex, "xatol": 2e-3, "fatol": 1e-3 * far, "maxfev": 150}
    found = scipy.optimize.minimize(uneven, start, method="Nelder-Mead", options=options)
    left = _mirror_normal(found.x) @ turn
    forward = turn[0] - (turn[0] @ left) * left
    forward /= np.linalg.norm(forward)
    return np.stack([forward, left, np.cross(forward, left)])


def _mirror_normal(at: Floats) -> Floats:
    """Left, rolled and yawed by two angles."""
    normal = np.array([np.sin(at[1]), 1.0, np.sin(at[0])])
    return np.asarray(normal / np.linalg.norm(normal))


def _with_up(turn: Floats, up: Floats) -> Floats:
    forward = turn[0] - (turn[0] @ up) * up
    forward /= np.linalg.norm(forward)
    return np.stack([forward, np.cross(up, forward), up])


def _turned(turn: Floats, axis: int, angle: float) -> Floats:
    """Turn about up (2), or about left (1)."""
    c, s = np.cos(angle), np.sin(angle)
    by = np.array([[c, s, 0], [-s, c, 0], [0, 0, 1]] if axis == 2 else
                  [[c, 0, s], [0, 1, 0], [-s, 0, c]])  # fmt: skip
    return np.asarray(by @ turn)


def _yaw(cells: Floats) -> float:
    """From the heel's middle to the ball's."""
    x, y, z = (cells - cells.min(axis=0)).T
    length = float(np.ptp(x))
    low = z < _LOW * length

    def middle(start: float, stop: float) -> float:
        parts = pairwise(np.linspace(start, stop, 5) * length)
        slabs = [y[low & (x >= a) & (x <= b)] for a, b in parts]
        middles = [(slab.min() + slab.max()) / 2 for slab in slabs if len(slab) > 3]
        return float(np.mean(middles)) if middles else float(np.median(y))

    return float(np.arctan2(middle(0.62, 0.78) - middle(0.10, 0.26), (0.70 - 0.18) * length))


def _pitch(cells: Floats) -> float:
    """From the heel's lowest to the ball's."""
    x, _, z = (cells - cells.min(axis=0)).T
    length = float(np.ptp(x))
    ends = []
    for low_at, high_at in ((0.04, 0.30), (0.60, 0.84)):
        here = np.flatnonzero((x > low_at * length) & (x < high_at * length))
        if not len(here):
            return 0.0
        lowest = here[np.argsort(z[here])[:4]]
        ends.append((float(x[lowest].mean()), float(z[lowest].mean())))
    (x0, z0), (x1, z1) = ends
    return float(np.arctan2(z1 - z0, x1 - x0))
