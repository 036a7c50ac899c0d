"""The way of the yarn in space: a smooth curve for each strand, through the relaxed shape.

The curve of plain knitting is the one that textile geometry draws [1]_. Along the course it runs
forward and swings out by `overlap`. Along the wale it goes up and down by `reach`. Through the
fabric it goes from front to back and back again by `depth`, twice a loop. Here the course, the wale
and the front are those of the relaxed shape at each loop. How a loop lies is decided at its two
crossings: its feet lie behind its parents' legs where it is a knit stitch, before them where it is
a purl. Its head lies behind its children's legs, or before them, by how *they* are worked. Where
stitches cross, the head of each reaches over to where the loop drawn through it stands, before the
others or behind them, as deep as it lies.

`overlap`, `reach` and `depth` follow from the gauge, the length of a loop and the diameter of the
yarn. The curve must be as long as the loop, and no two stretches of plain knitting may come nearer
to each other than the diameter. Of all such curves it is the one that is bent least through the
fabric.

References
----------
.. [1] The sinusoidal form is common in the literature of textile simulation; from memory.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Final

import attrs
import numpy as np
import scipy
from numpy.typing import NDArray

from loopwright.errors import YarnError
from loopwright.fabric.columns import BACK, CHAIN, CROSSED, EDGE, FACING, RANK
from loopwright.fabric.fabric import Fabric
from loopwright.gauge import Gauge
from loopwright.geometry import Shape, Surface
from loopwright.yarn._loop import loop_length

__all__ = ["YarnCurve", "yarn_path"]

Floats = NDArray[np.float64]
_SAMPLES: Final = 32  # points of the curve on each loop
_SHARP: Final = 3.0  # how soon a loop passes from its own face to that of what is drawn through it
_SPARE: Final = 1.05  # room for what a bend of the fabric takes on its inner side
_LAYER: Final = 3.0  # diameters from one layer of a crossing to the next: two yarns and their room
_SIDES: Final = 8  # corners of the yarn's cross-section in a mesh


@attrs.frozen(eq=False)
class YarnCurve:
    """The way of one strand.

    Parameters
    ----------
    name : str
        Of the strand.
    points_mm : ndarray, shape (n, 3), mm
        Along the yarn, `samples` for each loop.
    loops : ndarray, shape (n,), int64
        The loop to which each point belongs.
    diameter_mm : float

    Examples
    --------
    >>> from loopwright import Gauge, shape
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 32)
    >>> work.join_round()
    >>> work.plain_rounds(12)
    >>> gauge = Gauge(3.2, 4.4)
    >>> (curve,) = yarn_path(shape(work.fabric(), gauge), gauge, diameter_mm=0.6)
    >>> curve.name, curve.points_mm.shape
    ('main', (13312, 3))
    >>> round(curve.length_mm / 416, 1)  # of a loop
    12.3
    >>> print(curve.to_csv()[:29])
    x_mm,y_mm,z_mm,loop
    ...
    >>> tube = curve.mesh()
    >>> len(tube.vertices_mm) // len(curve.points_mm)
    8
    """

    name: str
    points_mm: Floats
    loops: NDArray[np.int64]
    diameter_mm: float

    @property
    def length_mm(self) -> float:
        """Length of the curve."""
        return float(np.linalg.norm(np.diff(self.points_mm, axis=0), axis=1).sum())

    def to_csv(self) -> str:
        """Return the points as text: x, y and z in mm, and the loop."""
        rows = (
            f"{x:.4f},{y:.4f},{z:.4f},{loop}"
            for (x, y, z), loop in zip(self.points_mm.tolist(), self.loops.tolist(), strict=True)
        )
        return "\n".join(("x_mm,y_mm,z_mm,loop", *rows)) + "\n"

    def mesh(self) -> Surface:
        """Return the yarn as a surface: a tube of its diameter round the curve.

        `loopwright.geometry.export` writes it as a file.
        """
        across, up = _frames(self.points_mm)
        turn = 2 * np.pi * np.arange(_SIDES) / _SIDES
        ring = np.cos(turn)[:, None] * across[:, None] + np.sin(turn)[:, None] * up[:, None]
        points = (self.points_mm[:, None] + self.diameter_mm / 2 * ring).reshape(-1, 3)
        start = _SIDES * np.arange(len(self.points_mm) - 1)[:, None]
        here, after = np.arange(_SIDES), (np.arange(_SIDES) + 1) % _SIDES
        one = np.stack((start + here, start + after, start + _SIDES + here), axis=-1)
        two = np.stack((start + after, start + _SIDES + after, start + _SIDES + here), axis=-1)
        return Surface(points, np.concatenate((one.reshape(-1, 3), two.reshape(-1, 3))))


def yarn_path(
    shape: Shape, gauge: Gauge, *, diameter_mm: float, loop_mm: float | None = None
) -> tuple[YarnCurve, ...]:
    """Return the way of each strand through a relaxed shape.

    Parameters
    ----------
    shape : Shape
    gauge : Gauge
        The one that it was relaxed with.
    diameter_mm : float, mm
        Of the yarn where it is not squeezed.
    loop_mm : float, mm, optional
        Length of a plain loop; by default what the gauge implies (`loop_length`).

    Returns
    -------
    tuple of YarnCurve
        One for each strand that has two loops or more.

    Raises
    ------
    YarnError
        So thick a yarn doesn't go into a loop of this length at this gauge without touching
        itself; says how thick it may be.

    Notes
    -----
    In plain knitting no two stretches come nearer than the diameter. Elsewhere (decreases, edges,
    grafts, cables) front and back of each crossing are right, and the distance is not looked at.
    Floats and turns are drawn as the shortest smooth way.
    """
    if shape.fabric is None:
        raise YarnError("shape", "one without its fabric", "relax it from a fabric")
    length = loop_length(gauge).mm if loop_mm is None else loop_mm
    width, height = gauge.stitch_width_mm, gauge.course_height_mm
    overlap, reach, depth = _plain_loop(
        round(width, 4), round(height, 4), round(length, 4), round(diameter_mm, 4)
    )
    lie = _Lie(shape, shape.fabric)
    return tuple(
        YarnCurve(
            name,
            lie.curve(path, overlap, reach, depth, diameter_mm),
            np.repeat(path, _SAMPLES),
            diameter_mm,
        )
        for name, path in _strands(shape.fabric)
        if len(path) > 1
    )


def _strands(fabric: Fabric) -> Iterator[tuple[str, NDArray[np.int64]]]:
    for number, strand in enumerate(fabric.strands):
        mine = fabric.ids[fabric.strand[fabric.ids] == number]
        path = mine[fabric.previous[mine] < 0].tolist()[:1]
        while path and int(fabric.next[path[-1]]) >= 0:
            path.append(int(fabric.next[path[-1]]))
        yield strand.name, np.array(path, dtype=np.int64)


def _swing(phase: Floats, width: float, overlap: float, reach: float, depth: float) -> Floats:
    """Return a plain loop, its head at phase 0: along the course, along the wale, to the front."""
    along = width * phase / (2 * np.pi) + overlap * np.sin(2 * phase)
    return np.stack((along, reach * np.cos(phase), -depth * np.cos(2 * phase)), axis=-1)


@lru_cache(maxsize=32)
def _plain_loop(
    width: float, height: float, length: float, diameter: float
) -> tuple[float, float, float]:
    """Return overlap, reach and depth of a plain loop of this length.

    Of all that hang in the row below and leave the yarn room, the one of the least depth.
    """
    found = _fitting(width, height, length, diameter)
    if found is not None:
        return found
    low, high = 0.0, diameter
    for _ in range(5):
        middle = (low + high) / 2
        fits = _fitting(width, height, length, middle) is not None
        low, high = (middle, high) if fits else (low, middle)
    raise YarnError(
        "diameter", f"{diameter:g} mm",
        f"at most about {low:.1f} mm go into loops of {length:.1f} mm at this gauge",
    )  # fmt: skip


def _fitting(
    width: float, height: float, length: float, diameter: float
) -> tuple[float, float, float] | None:
    for depth in np.linspace(0.5, 1.6, 12) * diameter:
        for overlap in np.linspace(0.0, 0.45, 19) * width:
            reach = _reach(width, overlap, depth, length)
            if reach is None or 2 * reach < height + diameter:
                continue  # too long, or too low to hang in the row below
            if _room(width, height, overlap, reach, depth) >= _SPARE * diameter:
                return float(overlap), reach, float(depth)
    return None


def _reach(width: float, overlap: float, depth: float, length: float) -> float | None:
    """Return how far a loop must go up and down to be as long as asked, None if it is longer."""
    phase = np.linspace(-np.pi, np.pi, 129)

    def long(reach: float) -> float:
        steps = np.diff(_swing(phase, width, overlap, reach, depth), axis=0)
        return float(np.linalg.norm(steps, axis=1).sum())

    low, high = 0.0, length
    if long(low) >= length:
        return None
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if long(middle) < length else (low, middle)
    return high


def _room(width: float, height: float, overlap: float, reach: float, depth: float) -> float:
    """Return how near a loop of plain knitting comes to others, and to itself beyond its bend."""
    phase = np.linspace(-np.pi, np.pi, 97)[:-1]
    loop = _swing(phase, width, overlap, reach, depth)
    row = np.concatenate([loop + np.array((n * width, 0, 0)) for n in (-2, -1, 0, 1, 2)])
    others = np.concatenate([row + np.array((0, n * height, 0)) for n in (-3, -2, -1, 1, 2, 3)])
    apart = float(scipy.spatial.cKDTree(others).query(loop)[0].min())
    # In its own row: stretches that lie farther along the yarn than half round a bend.
    along = np.cumsum(np.linalg.norm(np.diff(row, axis=0, prepend=row[:1]), axis=1))
    mine = slice(2 * len(loop), 3 * len(loop))
    far = np.abs(along[mine][:, None] - along[None]) > 0.3 * (along[-1] / 5)
    distance = np.linalg.norm(row[mine][:, None] - row[None], axis=-1)
    return min(apart, float(distance[far].min()))


class _Lie:
    """How each loop lies in the relaxed shape: its course, its wale, its front, its faces."""

    def __init__(self, shape: Shape, fabric: Fabric) -> None:
        self.shape, self.fabric = shape, fabric
        self.place = np.zeros((len(fabric.flags), 3))
        self.place[shape.loops] = shape.surface.vertices_mm
        self.front = np.zeros_like(self.place)
        self.front[shape.loops] = _normals(shape.surface)
        self.wale = self._wales()
        self.own, self.above = self._faces()
        self.reached, self.layer = self._crossings()

    def _wales(self) -> Floats:
        """Return a unit vector for each loop, from what lies below it to what is drawn through."""
        fabric = self.fabric.uncrossed
        head = (fabric.info & (EDGE | CHAIN | FACING)) == 0
        parent, child = fabric.parent[head], fabric.child[head]
        step = self.place[child] - self.place[parent]
        wale = np.zeros_like(self.place)
        np.add.at(wale, parent, step)
        np.add.at(wale, child, step)
        along = np.zeros_like(self.place)
        ends = np.flatnonzero(fabric.next >= 0)
        along[ends] = self.place[fabric.next[ends]] - self.place[ends]
        # Where nothing tells the wale, it stands across the yarn, to the side of the children.
        bare = np.linalg.norm(wale, axis=1) < 1e-9
        wale[bare] = np.cross(self.front[bare], along[bare]) * fabric.side[bare, None]
        wale -= np.einsum("ij,ij->i", wale, self.front)[:, None] * self.front
        return _unit(wale)

    def _faces(self) -> tuple[Floats, Floats]:
        """Return +1 for a knit stitch and -1 for a purl: each loop's own, and its first child's."""
        fabric = self.fabric
        own, above = np.ones(len(fabric.flags)), np.zeros(len(fabric.flags))
        face = np.where(fabric.info & BACK, -1.0, 1.0)
        own[fabric.child[::-1]] = face[::-1]
        above[fabric.parent[::-1]] = face[::-1]
        return own, np.where(above == 0, own, above)

    def _crossings(self) -> tuple[Floats, Floats]:
        """Return how far the head of each loop reaches aside, and how far to the front it passes.

        The second is in diameters of the yarn: 1 between two layers.
        """
        fabric = self.fabric
        reached, layer = np.zeros_like(self.place), np.zeros(len(self.place))
        edges = np.flatnonzero((fabric.info & CROSSED) != 0)
        if len(edges):
            above = np.zeros(len(layer), dtype=np.int64)
            above[fabric.uncrossed.parent[edges]] = fabric.child[edges]
            parent, child = fabric.parent[edges], fabric.child[edges]
            reached[parent] = self.place[child] - self.place[above[parent]]
            depths = np.array([max(row.stack, default=0) for row in fabric.stitches])
            deepest = depths[fabric.stitch[child]]
            layer[parent] = deepest / 2 - (fabric.info[edges] & RANK)
        return reached, layer

    def curve(
        self, path: NDArray[np.int64], overlap: float, reach: float, depth: float, diameter: float
    ) -> Floats:
        """Return the points of a strand that makes these loops."""
        at = np.arange(len(path), dtype=np.float64)
        when = (np.arange(len(path) * _SAMPLES) + 0.5) / _SAMPLES - 0.5
        base = scipy.interpolate.CubicSpline(at, self.place[path])
        phase = 2 * np.pi * (when - np.rint(when))
        loop = path[np.clip(np.rint(when).astype(np.int64), 0, len(path) - 1)]
        along = _unit(base(when, 1))
        wale = _unit(scipy.interpolate.CubicSpline(at, self.wale[path])(when))
        front = _unit(scipy.interpolate.CubicSpline(at, self.front[path])(when))
        upper = (1 + np.tanh(_SHARP * np.cos(phase))) / 2
        aside = _LAYER * diameter * (1 - (2 * upper - 1) ** 8)  # all along its legs
        # Halfway to the next loop the feet of both meet: there the two faces are even.
        toward = np.clip(np.rint(when) + np.sign(phase), 0, len(path) - 1).astype(np.int64)
        share = np.clip(np.abs(phase) / np.pi - 0.75, 0, 0.25) * 2
        own = self.own[loop] * (1 - share) + self.own[path[toward]] * share
        face = own * (1 - upper) + self.above[loop] * upper
        return np.asarray(
            base(when)
            + (overlap * np.sin(2 * phase))[:, None] * along
            + (reach * np.cos(phase))[:, None] * wale
            + upper[:, None] * self.reached[loop]
            + (aside * self.layer[loop])[:, None] * front
            - (depth * face * np.cos(2 * phase))[:, None] * front
        )


def _normals(surface: Surface) -> Floats:
    """Return a unit vector outwards at each vertex, weighted by the areas round it."""
    corners = surface.vertices_mm[surface.triangles]
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normal = np.zeros_like(surface.vertices_mm)
    for corner in range(3):
        np.add.at(normal, surface.triangles[:, corner], cross)
    return _unit(normal)


def _unit(vectors: Floats) -> Floats:
    long = np.linalg.norm(vectors, axis=-1, keepdims=True)
    return np.asarray(np.where(long > 1e-12, vectors / np.maximum(long, 1e-12), (0.0, 0.0, 1.0)))


def _frames(points: Floats) -> tuple[Floats, Floats]:
    """Return two directions across a curve, turned as little as can be from point to point."""
    along = _unit(np.gradient(points, axis=0))
    first = np.eye(3)[int(np.argmin(np.abs(along[0])))]
    across = np.empty_like(points)
    for n, tangent in enumerate(along):
        first = first - (first @ tangent) * tangent
        first = first / max(float(np.linalg.norm(first)), 1e-12)
        across[n] = first
    return across, np.cross(along, across)
