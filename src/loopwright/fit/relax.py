"""Relaxing: from a start to the shape in which the yarn's edges have their rest lengths.

Energy, with lengths in mm and the stiffness of one edge as the unit of force per mm::

    E(x) = sum over edges, chords  k/2 (|x_a - x_b| - rest)^2     k = 1 on edges, 1/10 on chords
         + b/2 |L x|^2                                            bending
         + sum over struts  1/2 min(|x_c - x_d| - least, 0)^2     thickness
         - p V(x)                                                 slight pressure from inside

L is the cotangent Laplacian of the cells laid flat, without rows for the boundary, so a fabric
bent along a cylinder or cone costs what its curvature says and a flat one nothing. V is the volume
with openings closed (see `loopwright.fit.air`). The farther a piece lies open, the less pressure it
holds, and the more bending is laid on it instead: b and p are those of a closed sock.

A strut stands between the far corners c, d of two neighbouring triangles and pushes only when
they fold by more than 60 degrees: a fabric has a thickness, and two neighbouring stitches can't lie
face to face. Without it the seams and the narrow bands of a wedge close like the pages of a book.

Minimised by a limited-memory quasi-Newton method whose first Hessian is the factorised Laplacian
of the edges, in single precision: it only steers. Block matrices that know the edges' directions
need a third of the steps and take three times as long for each; the normal and the rest steered
apart is worse than neither. The bending is lowered by stages, so that the first stages undo what
the start got wrong at large; the pressure starts too high, for a sock takes up air slowly and
gives it off fast.

What it does not know: how stiff a fabric is in bending, friction between the yarns, weight, and
curl. The relaxed shape is that of a limp, even, weightless fabric, slightly blown up.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Final

import attrs
import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray

from loopwright.fit.air import Air
from loopwright.fit.net import Net
from loopwright.fit.springs import Springs, memory, minimise
from loopwright.fit.start import lay_out
from loopwright.fit.surface import Surface, join_edges

__all__ = ["SCHEDULE", "Stage", "relax"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_EDGE, _CHORD = 1.0, 0.1  # stiffness; a fabric shears more easily than it stretches (no source)
_STRUT = 2.5
_SHARPEST = np.cos(np.radians(60))  # of the fold at which a strut begins to push; no source
_WATCHED = 1.06  # struts up to this much longer than their least length are watched


@attrs.frozen
class Stage:
    """A stretch of minimising with the same forces.

    Parameters
    ----------
    bending : float
        Weight b, in units of an edge's stiffness times mm^2 / mm^2 (the Laplacian is scale free).
    pressure : float
        p, in units of an edge's stiffness per mm^2; 2e-4 lengthens a sock's edges by 0.2 %.
    steps : int
        Quasi-Newton steps in a fabric of 10,000 loops or more, by tens; a smaller one takes more.
    """

    bending: float
    pressure: float
    steps: int


# The last bending was weighed between ripples (less) and stretched edges (more), for 15 socks.
SCHEDULE: Final = (
    Stage(0.3, 2e-4, 10),
    Stage(0.03, 2e-4, 20),
    Stage(0.0037, 2e-4, 20),
    Stage(0.0037, 8e-5, 60),
)
_FLAT: Final = 4.0  # times more bending in a flat piece, which no air keeps from crumpling
_EVERY: Final = 10  # steps until the struts to be watched are chosen anew
_USUAL: Final = 10_000  # loops of a sock, for which the schedule is
_AT_MOST: Final = 3.0  # times as many steps
_STEER: Final = 1.4  # stiffness of an edge with its share of the chords, as the steps take it


def relax(
    net: Net, *, start_mm: Floats | None = None, schedule: tuple[Stage, ...] = SCHEDULE
) -> Floats:
    """Return where the vertices of `net` come to rest.

    Parameters
    ----------
    net : Net
    start_mm : ndarray, shape (n, 3), optional
        Where to begin; by default `loopwright.fit.start.lay_out`.
    schedule : tuple of Stage

    Returns
    -------
    ndarray, shape (n, 3), mm
        With the right side outside. Deterministic for the same input.
    """
    springs = _springs(net)
    if not len(springs.rest_mm):
        return np.zeros((net.n, 3)) if start_mm is None else np.array(start_mm, np.float64)
    place = lay_out(net.n, springs.pairs, springs.rest_mm) if start_mm is None else start_mm
    place = np.array(place, np.float64)
    triangles, flat = net.triangles()
    if Surface(place, triangles).volume_mm3 < 0:
        place[:, 2] *= -1  # the start doesn't know left from right
    air = Air.of(net.n, triangles)
    bending = _bending(net.n, triangles, flat)
    struts = _Struts.of(net.n, triangles, flat)
    steer = partial(_steer, _edges_only(net).factorised())
    for stage in schedule:
        pairs = memory()
        for _ in range(_spells(stage.steps, net.n)):
            opened = _open(place, triangles)
            bent = stage.bending * (1 + _FLAT * opened)
            forces = _Forces(
                springs,
                bent * bending,
                struts.near(place),
                air,
                stage.pressure * (1 - opened) ** 4,
            )
            place = minimise(forces, place, partial(steer, bent), _EVERY, pairs)
    return place


def _spells(steps: int, n: int) -> int:
    """How often to take `_EVERY` steps: more for a small fabric, where each costs less."""
    times = min(max(1.0, _USUAL / max(n, 1)), _AT_MOST)
    return max(1, int(steps * times) // _EVERY)


@attrs.frozen(eq=False)
class _Struts:
    pairs: Ints
    least_mm: Floats

    @classmethod
    def of(cls, n: int, triangles: Ints, flat: Floats) -> _Struts:
        edges = join_edges(triangles, n)
        a, b = edges.interior[:, 0], edges.interior[:, 1]
        far, along, away = [], [], []
        for k in (0, 1):
            t = edges.faces[:, k]
            corners, rows = triangles[t], np.arange(len(t))
            p, q = (flat[t, (corners == v[:, None]).argmax(axis=1)] for v in (a, b))
            third = ((corners != a[:, None]) & (corners != b[:, None])).argmax(axis=1)
            reach, axis = flat[t, third] - p, q - p
            span = np.maximum(np.linalg.norm(axis, axis=1), 1e-12)
            far.append(corners[rows, third])
            along.append(np.einsum("ij,ij->i", reach, axis) / span)
            away.append(np.abs(axis[:, 0] * reach[:, 1] - axis[:, 1] * reach[:, 0]) / span)
        squared = (along[0] - along[1]) ** 2 + away[0] ** 2 + away[1] ** 2
        least = np.sqrt(squared + 2 * away[0] * away[1] * _SHARPEST)
        return cls(np.stack(far, axis=1), least)

    def near(self, place: Floats) -> _Struts:
        """Those that may come to push soon."""
        length = np.linalg.norm(place[self.pairs[:, 0]] - place[self.pairs[:, 1]], axis=1)
        short = length < _WATCHED * self.least_mm
        return _Struts(self.pairs[short], self.least_mm[short])

    def add(self, place: Floats, gradient: Floats) -> float:
        """Add the push to `gradient`; return the energy."""
        span = place[self.pairs[:, 0]] - place[self.pairs[:, 1]]
        length = np.maximum(np.linalg.norm(span, axis=1), 1e-12)
        under = _STRUT * np.minimum(length - self.least_mm, 0.0)
        push = (under / length)[:, None] * span
        np.add.at(gradient, self.pairs[:, 0], push)
        np.subtract.at(gradient, self.pairs[:, 1], push)
        return 0.5 * float(under @ under) / _STRUT


@attrs.frozen(eq=False)
class _Forces:
    springs: Springs
    bending: sp.csr_array
    struts: _Struts
    air: Air
    pressure: float

    def __call__(self, place: Floats) -> tuple[float, Floats]:
        """Energy and its gradient."""
        gradient = self.bending @ place
        energy = 0.5 * float(np.vdot(place, gradient))
        energy += self.springs.add(place, gradient)
        energy += self.air.add(place, gradient, self.pressure)
        energy += self.struts.add(place, gradient)
        return energy, gradient


def _edges_only(net: Net) -> Springs:
    """What steers: without chords it takes a third of the time, and as many steps."""
    return Springs.of(net.n, net.edges, net.rest_mm, np.full(len(net.edges), _STEER))


def _steer(solve: Callable[[Floats], Floats], bending: float, right: Floats) -> Floats:
    return solve(right) / (1 + 2 * bending)  # bending adds to the Laplacian at short waves


def _springs(net: Net) -> Springs:
    chords, spans = net.chords()
    stiffness = np.repeat([_EDGE, _CHORD], [len(net.edges), len(chords)])
    pairs = np.concatenate([net.edges, chords])
    return Springs.of(net.n, pairs, np.concatenate([net.rest_mm, spans]), stiffness)


def _bending(n: int, triangles: Ints, flat: Floats) -> sp.csr_array:
    """L'L of the cells laid flat."""
    rows, columns, weights = [], [], []
    for i, j, k in ((0, 1, 2), (1, 2, 0), (2, 0, 1)):
        u, v = flat[:, j] - flat[:, i], flat[:, k] - flat[:, i]
        twice_area = np.abs(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0])
        cotangent = np.einsum("ij,ij->i", u, v) / np.maximum(twice_area, 1e-9)
        rows.append(triangles[:, j])
        columns.append(triangles[:, k])
        weights.append(np.clip(cotangent / 2, 0.0, 10.0))  # slivers must not stiffen the rest
    a, b, w = np.concatenate(rows), np.concatenate(columns), np.concatenate(weights)
    link = sp.coo_array((w, (a, b)), shape=(n, n)).tocsr()
    link = link + link.T
    laplacian = sp.diags_array(np.asarray(link.sum(axis=1)).ravel()) - link
    inner = np.ones(n)
    inner[join_edges(triangles, n).boundary.ravel()] = 0.0
    laplacian = sp.diags_array(inner) @ laplacian
    return (laplacian.T @ laplacian).tocsr()


def _open(place: Floats, triangles: Ints) -> float:
    """How far the surface lies open: 0 where it closes round a volume, 1 where it is flat.

    The sum of the area vectors as a share of the area.
    """
    areas = Surface(place, triangles).area_vectors_mm2
    whole = float(np.linalg.norm(areas, axis=1).sum())
    return float(np.linalg.norm(areas.sum(axis=0))) / whole if whole else 1.0
