"""Relaxing: from a start to the shape in which the yarn's edges have their rest lengths.

Energy, with lengths in mm and the stiffness of one edge as the unit of force per mm::

    E(x) = sum over edges, chords  k/2 (|x_a - x_b| - rest)^2     k = 1 on edges, 1/10 on chords
         + b/2 |L x|^2                                            bending
         + sum over hinges  h/2 max(|bend| - 60 degrees, 0)^2     thickness
         - p V(x)                                                 slight pressure from inside

L is the cotangent Laplacian of the cells laid flat, without rows for the boundary. So a fabric bent
along a cylinder or cone costs what its curvature says and a flat one nothing. The hinges are
described in `loopwright.geometry._hinges`. V is the volume with openings closed (see
`loopwright.geometry._enclosed_volume`); its slope is taken anew every few steps. The farther a
piece lies open, the less pressure it holds, and the more bending is laid on it instead: b and p are
those of a closed sock.

Minimised by a limited-memory quasi-Newton method whose first Hessian is the factorised Laplacian of
the edges, in single precision: it only steers. Block matrices that know the edges' directions need
a third of the steps and take three times as long for each. The normal and the rest steered apart is
worse than neither. The bending is lowered by stages, so that the first stages undo what the start
got wrong at large. The pressure starts too high, for a sock takes up air slowly and gives it off
fast.

What it does not know: how stiff a fabric is in bending, friction between the yarns, weight, and
curl. The relaxed shape is that of a limp, even, weightless fabric, slightly blown up.
"""

from __future__ import annotations

from functools import partial
from typing import Final

import attrs
import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray

from loopwright.geometry._enclosed_volume import EnclosedVolume
from loopwright.geometry._first_layout import lay_out
from loopwright.geometry._hinges import Hinges
from loopwright.geometry._mesh import Mesh
from loopwright.geometry._surface import SurfaceEdges, area_vectors, join_edges
from loopwright.geometry.springs import Reals, Solve, Springs, memory, minimise
from loopwright.progress import advance

__all__ = ["NEAR_SCHEDULE", "SCHEDULE", "RelaxStage", "relax"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_EDGE, _CHORD = 1.0, 0.1  # stiffness; a fabric shears more easily than it stretches (no source)


@attrs.frozen
class RelaxStage:
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


# The last bending was weighed between ripples (less) and stretched edges (more), for 18 socks.
SCHEDULE: Final = (
    RelaxStage(0.3, 2e-4, 10),
    RelaxStage(0.03, 2e-4, 10),
    RelaxStage(0.0037, 2e-4, 20),
    RelaxStage(0.0025, 8e-5, 50),
)
# From the shape of a similar fabric: nothing is wrong at large, so that half the steps do.
NEAR_SCHEDULE: Final = (
    RelaxStage(0.3, 2e-4, 10),
    RelaxStage(0.03, 2e-4, 10),
    RelaxStage(0.0037, 2e-4, 10),
    RelaxStage(0.0025, 8e-5, 40),
)
_OPEN: Final = 6.0  # more bending the farther a piece lies open, for no air keeps it from
_FLAT: Final = 0.9  # crumpling: 6.5 times as much half open, 61 times in a flat piece
_BETWEEN_MM: Final = 10.0
_NEARLY_FLAT: Final = 0.7  # open, at the start
_EVERY: Final = 10  # steps until the slope of the volume and the watched hinges are found anew
_USUAL: Final = 10_000  # loops of a sock, for which the schedule is
_AT_MOST: Final = 3.0  # times as many steps
_SINGLE: Final = np.float32  # what the solver moves through memory; see `springs`
_STEER: Final = 1.4  # stiffness of an edge with its share of the chords, as the steps take it


def relax(
    mesh: Mesh, *, start_mm: Floats | None = None, schedule: tuple[RelaxStage, ...] = SCHEDULE
) -> Floats:
    """Return where the vertices of `mesh` come to rest.

    Parameters
    ----------
    mesh : Mesh
    start_mm : ndarray, shape (n, 3), optional
        Where to begin; by default `loopwright.geometry._first_layout.lay_out`.
    schedule : tuple of RelaxStage

    Returns
    -------
    ndarray, shape (n, 3), mm
        With the right side outside. Deterministic for the same input.
    """
    place = np.zeros((mesh.n, 3))
    edge_mm: float | None = None
    for here, piece in mesh.pieces():
        if start_mm is not None:
            place[here] = _relax_piece(piece, start_mm[here], schedule)
            continue
        own = _relax_piece(piece, None, schedule)
        if edge_mm is not None:  # side by side
            own[:, 0] += edge_mm - own[:, 0].min()
        edge_mm = float(own[:, 0].max()) + _BETWEEN_MM
        place[here] = own
    return place


def _relax_piece(mesh: Mesh, start_mm: Floats | None, schedule: tuple[RelaxStage, ...]) -> Floats:
    if not len(mesh.edges):
        return np.zeros((mesh.n, 3)) if start_mm is None else start_mm
    pairs, rest_mm, stiffness = _links(mesh)
    start = lay_out(mesh.n, pairs, rest_mm) if start_mm is None else np.array(start_mm, np.float64)
    triangles, flat = mesh.triangles
    edges = join_edges(triangles, mesh.n)
    inside = EnclosedVolume.of(mesh.n, triangles, edges)
    if start_mm is None:
        start = _flattened(start, triangles)
    if np.vdot(start.T, inside.slope(start.T)) < 0:
        start[:, 2] *= -1  # the layout doesn't know left from right
    hinges = Hinges.of(triangles, flat, edges)
    springs = Springs.of(mesh.n, pairs, rest_mm, stiffness, _SINGLE)
    bending = _bending(mesh.n, triangles, flat, edges)
    steer = partial(_steer, _edges_only(mesh).factorised())
    middle = start.mean(axis=0)  # near it, numbers of single precision are the finest
    place: Reals = np.array((start - middle).T, _SINGLE, order="C")
    spells = [_spells(stage.steps, mesh.n) for stage in schedule]
    for done, stage in enumerate(schedule):
        steps = memory()
        for spell in range(spells[done]):
            advance(sum(spells[:done]) + spell, sum(spells))
            points = place.astype(np.float64)
            closed = inside.normals(points)
            normals = closed[:, : len(triangles)]
            opened = _open(normals)
            bent = stage.bending * (1 + _OPEN * opened / (1 - _FLAT * opened))
            push = stage.pressure * (1 - opened) ** 4 * inside.slope_of(closed)
            forces = _Forces(
                springs,
                bending * _SINGLE(bent),
                hinges.near(points, normals, edges),
                push.astype(_SINGLE),
            )
            place = minimise(forces, place, partial(steer, bent), _EVERY, steps)
    return np.asarray(place.T.astype(np.float64) + middle)


def _flattened(start: Floats, triangles: Ints) -> Floats:
    """Lay a start that is nearly flat into its plane, but for a hundredth.

    Distances along a fabric are those of a grid, and longer aslant than in the plane. A flat piece
    comes out of them domed, and bending alone would take thousands of steps to lay it down.
    """
    normals = area_vectors(start.T, triangles)
    if not normals.size or _open(normals) < _NEARLY_FLAT:
        return start
    normal = normals.sum(axis=1) / np.linalg.norm(normals.sum(axis=1))
    return np.asarray(start - 0.99 * np.outer((start - start.mean(axis=0)) @ normal, normal))


def _spells(steps: int, n: int) -> int:
    """How often to take `_EVERY` steps: more for a small fabric, where each costs less."""
    times = min(max(1.0, _USUAL / max(n, 1)), _AT_MOST)
    return max(1, int(steps * times) // _EVERY)


@attrs.frozen(eq=False)
class _Forces:
    springs: Springs
    bending: sp.csr_array
    hinges: Hinges
    push: Reals

    def __call__(self, place: Reals) -> tuple[float, Reals]:
        """Energy and its gradient."""
        gradient = np.stack([self.bending @ row for row in place])
        energy = 0.5 * float(np.vdot(place, gradient))
        energy -= float((place * self.push).sum(dtype=np.float64))  # by far the largest term
        gradient -= self.push
        energy += self.springs.add(place, gradient)
        energy += self.hinges.add(place, gradient)
        return energy, gradient


def _edges_only(mesh: Mesh) -> Springs:
    """What steers: without chords it takes a third of the time, and as many steps."""
    return Springs.of(mesh.n, mesh.edges, mesh.rest_mm, np.full(len(mesh.edges), _STEER))


def _steer(solve: Solve, bending: float, right: Reals) -> Reals:
    """Solve, and let nothing drift; bending adds to the Laplacian at short waves."""
    still = right - right.mean(axis=1, keepdims=True, dtype=np.float64).astype(right.dtype)
    return solve(still) * right.dtype.type(1 / (1 + 2 * bending))


def _links(mesh: Mesh) -> tuple[Ints, Floats, Floats]:
    """Edges and chords as pairs of vertices, their rest lengths and their stiffness."""
    chords, spans = mesh.chords()
    stiffness = np.repeat([_EDGE, _CHORD], [len(mesh.edges), len(chords)])
    return np.concatenate([mesh.edges, chords]), np.concatenate([mesh.rest_mm, spans]), stiffness


def _bending(n: int, triangles: Ints, flat: Floats, edges: SurfaceEdges) -> sp.csr_array:
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
    inner[edges.boundary.ravel()] = 0.0
    laplacian = sp.diags_array(inner) @ laplacian
    squared = (laplacian.T @ laplacian).tocsr().astype(_SINGLE)
    at = (squared.data, squared.indices.astype(np.int32), squared.indptr.astype(np.int32))
    return sp.csr_array(at, shape=(n, n))


def _open(normals: Floats) -> float:
    """How far the surface lies open: 0 where it closes round a volume, 1 where it is flat.

    The sum of the area vectors as a share of the area.
    """
    whole = float(np.linalg.norm(normals, axis=0).sum())
    return float(np.linalg.norm(normals.sum(axis=1))) / whole if whole else 1.0
