"""The sock on the foot: drawn over a form, with contact, and how far it is stretched where.

The fabric is a membrane with the law of plain fabric, across and along (`cloth.toml`). Each edge is
a spring whose pull follows the law of its direction, and the chords, softer, resist shear. That is
a prototype's fabric, not a sample.

The foot is rigid and smooth: the form's surface pushes and doesn't rub. Each vertex of the fabric
meets the tangent plane of the skin's point that is nearest at the time. Planes held for a dozen
steps let the fabric slide off them into the air, and it never came to rest. Along the skin the
fabric moves as the springs let it, across the skin as the contact does. So the steps are scaled by
two factorised matrices, one for each direction.

Where the science stops: there is no friction, so the sock settles where a worn one would be held.
Soft tissue doesn't give. Stretched both ways at once, the fabric is taken to pull as the sum of
both. Ribs are treated as plain. Bending and the thickness of the fabric are left out. Strains are
geometry and good to a few hundredths; pressures on the skin are not computed, for nobody has
measured a hand-knitted fabric's stiffness well enough.
"""

from __future__ import annotations

from functools import cached_property, lru_cache
from typing import Final

import attrs
import numpy as np
import scipy
from numpy.typing import NDArray

from loopwright.fitting._footform import FootForm
from loopwright.fitting._membrane import Membrane, Weave
from loopwright.fitting._putting_on import put_on
from loopwright.fitting._tension import stretch_across, tension_along
from loopwright.fitting.limits import COURSEWISE, Feel
from loopwright.geometry import Shape, Surface
from loopwright.geometry.blas_threads import one_thread
from loopwright.geometry.springs import Reals, Solve, memory, minimise
from loopwright.progress import Progress, advance, share, watched
from loopwright.shown import Shown

__all__ = ["Draped", "Membrane", "drape", "press"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

_TOUCHES_MM: Final = 1.0  # from the skin: half the thickness of a sock's fabric
_CONTACT: Final = (
    4.0  # of the course's stiffness per mm^2 of depth: under 0.5 mm at 40 % strain on a leg
)
_SLIDING: Final = 0.01  # anchor of the matrix for moves along the skin; below 0.003 it gets lost
_RENEWALS: Final = 5  # of the skin's directions, in a sock of 10,000 loops; a smaller takes more
_STEPS: Final = 12  # quasi-Newton steps between two renewals
_LONGEST_MM: Final = 4.0  # step: a longer one may lead through a toe
_MEMORY: Final = 12  # steps remembered, over renewals as well: the forces stay the same
_USUAL: Final = 10_000  # loops
_AT_MOST: Final = 3.0  # times as many renewals
_LONGER: Final = 2  # times as many again, until it is at rest
_AT_REST_MM: Final = 0.5  # 95 in 100 loops move less between two renewals
_PUSHES: Final = 4
_NEIGHBOURS: Final = 10  # points of the skin, among which the nearest one is followed
_STIRRED_MM: Final = 0.4  # a vertex keeps its point of the skin until it has moved so far
_SINGLE: Final = np.float32  # what the steps move through memory; see `springs`


@attrs.frozen(eq=False, repr=False)
class Draped(Shown):
    """A sock on a form.

    Parameters
    ----------
    surface : Surface
    course_strain, wale_strain : ndarray, shape (n,)
        Mean strain of the edges along the course and along the wale that meet in each vertex;
        0.25 is a quarter longer than relaxed. NaN where none meets.
    gap_mm : ndarray, shape (n,), mm
        Distance from the form, negative inside it.
    """

    surface: Surface
    course_strain: Floats
    wale_strain: Floats
    gap_mm: Floats

    @property
    def penetration_mm(self) -> float:
        """The deepest that the fabric lies inside the form."""
        return float(max(0.0, -self.gap_mm.min()))

    @cached_property
    def touches(self) -> Bools:
        """Where the fabric lies on the skin, shape (n,)."""
        return np.asarray(self.gap_mm < _TOUCHES_MM)

    @cached_property
    def across(self) -> Floats:
        """How hard it pulls, as the stretch across that pulls as hard: one scale for both ways.

        The harder of the two directions counts, shape (n,); NaN where no edge meets.
        """
        wide, high = 1 + self.course_strain, 1 + self.wale_strain
        along = stretch_across(tension_along(high))
        both = np.fmax(wide, np.where(high > 1, along, np.nan))
        return np.asarray(both)

    @cached_property
    def feels(self) -> NDArray[np.int64]:
        """How it sits at each vertex, as the place of its `Feel`, shape (n,)."""
        limits = [limit.stretch for limit in COURSEWISE.limits]
        return np.searchsorted(limits, np.nan_to_num(self.across, nan=1.0))

    @property
    def words(self) -> str:
        """The whole in words: where it touches, how far it is stretched, where it strains."""
        shares = np.bincount(self.feels, minlength=len(Feel)) / len(self.feels)
        told = [
            f"{100 * share:.0f} % {feel.value}"
            for feel, share in zip(Feel, shares, strict=True)
            if share >= 0.005
        ]
        return f"{self._touching} By how hard it pulls: {', '.join(told)}."

    def __str__(self) -> str:
        return self.words

    @property
    def _touching(self) -> str:
        if not self.touches.any():
            return "On the foot the fabric touches the skin nowhere."
        wide, high = (1 + np.nanmedian(strain[self.touches]) for strain in self._both_ways)
        return (
            f"On the foot {100 * self.touches.mean():.0f} % of the fabric touches the skin. There "
            f"it is stretched {wide:.2f} times across and {high:.2f} times along, in the middle of "
            "all."
        )

    @property
    def _both_ways(self) -> tuple[Floats, Floats]:
        return self.course_strain, self.wale_strain


def drape(
    shape: Shape,
    form: FootForm,
    *,
    heel: int | None = None,
    membrane: Membrane | None = None,
    progress: Progress | None = None,
) -> Draped:
    """Draw a sock over a foot form.

    Parameters
    ----------
    shape : Shape
        A relaxed sock with a heel and a closed toe.
    form : FootForm
    heel : int, optional
        Vertex of the heel's tip, where the construction names it; by default it is found.
    membrane : Membrane, optional
    progress : callable, optional
        Is given what is done, of how much, and what; see `loopwright.progress`.

    Raises
    ------
    ShapeError
        The shape has no cuff or no heel.

    Examples
    --------
    >>> from loopwright.fitting import foot_form
    >>> from loopwright.geometry import shape
    >>> from loopwright.gauge import Gauge
    >>> from loopwright.sock import Foot, Sock
    >>> foot = Foot.of(length="16 cm", ball_girth="15.5 cm")
    >>> sock = Sock(foot=foot, gauge=Gauge.of(14, 20))
    >>> relaxed, form = shape(sock.fabric(), sock.gauge), foot_form(foot, rings=80, columns=48)
    >>> worn = drape(relaxed, form)
    >>> worn.penetration_mm < 0.1
    True
    >>> bool(np.nanmedian(worn.course_strain) > np.nanmedian(worn.wale_strain))  # it gives in width
    True
    >>> print(worn.words)
    On the foot ... % of the fabric touches the skin. There it is stretched 1... times across ...
    >>> bool(worn.touches[worn.gap_mm < 0.5].all()), worn.across.shape == worn.feels.shape
    (True, True)
    """
    with watched(progress), one_thread(), share(0, 1, "drawing it on"):
        weave = Weave.of(shape, membrane or Membrane())
        start_mm = put_on(shape, form, weave, heel)
        return _pressed(shape, form.surface, start_mm, weave)


def press(
    shape: Shape, body: Surface, start_mm: Floats, *, membrane: Membrane | None = None
) -> Draped:
    """Let a fabric settle on a rigid closed body from a start outside it.

    Parameters
    ----------
    body : Surface
        Closed, with its triangles seen counter-clockwise from outside; no larger than the cells
        of the fabric, which touches them at corners and middles.
    start_mm : ndarray, shape (n, 3), mm
        A place for each vertex of `shape`, outside `body`.

    Examples
    --------
    A band of 24 stitches, 120 mm round, on a post 150 mm round, in triangles of at most 4 mm:

    >>> import trimesh
    >>> from loopwright.geometry import shape
    >>> from loopwright.gauge import Gauge
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 24)
    >>> work.join_round()
    >>> work.plain_rounds(6)
    >>> band = shape(work.fabric(), Gauge.of(20, 28))
    >>> post = trimesh.creation.cylinder(radius=150 / (2 * np.pi), height=50)
    >>> post = Surface(*trimesh.remesh.subdivide_to_size(post.vertices, post.faces, max_edge=4))
    >>> turn, up = 2 * np.pi / 24 * np.arange(168), 3.6 * (np.arange(168) // 24 - 3)
    >>> start = np.stack([30 * np.cos(turn), 30 * np.sin(turn), up], axis=1)
    >>> worn = press(band, post, start)
    >>> round(float(worn.course_strain[72:96].mean()), 2), worn.penetration_mm < 0.5
    (0.24, True)
    >>> upright = Membrane(across=tuple((s, t, 1 - (1 - left) / 2) for s, t, left in
    ...                                 Membrane().across))
    >>> other = press(band, post, start, membrane=upright)
    >>> bool(worn.wale_strain.mean() < other.wale_strain.mean() < 0)  # it shrinks less in height
    True
    """
    with one_thread(), share(0, 1, "drawing it on"):
        return _pressed(shape, body, start_mm, Weave.of(shape, membrane or Membrane()))


def _pressed(shape: Shape, body: Surface, start_mm: Floats, weave: Weave) -> Draped:
    place, skin = _settled(body, start_mm, weave)
    course, wale = _strains(shape, place)
    gap, _ = skin.gap_mm(place)
    return Draped(Surface(place, shape.surface.triangles), course, wale, gap)


def _settled(body: Surface, start_mm: Floats, weave: Weave) -> tuple[Floats, _Skin]:
    skin = _Skin.of(body)
    along, across = (weave.steering.factorised(anchor=a) for a in (_SLIDING, _CONTACT))
    rows: Reals = np.array(np.transpose(start_mm), _SINGLE, order="C")
    forces = _Forces.at_start(weave, skin, rows)
    steps, least = memory(_MEMORY), _renewals(rows.shape[1])
    for renewal in range(_LONGER * least):
        advance(min(renewal, least), least)
        before = rows
        solve = _Split(along, across, skin.rows[1][:, forces.followed(rows)])
        rows = minimise(forces, rows, solve, _STEPS, steps, longest_mm=_LONGEST_MM)
        if renewal >= least - 1 and _moved_mm(rows - before) < _AT_REST_MM:
            break
    place = rows.T.astype(np.float64)
    for _ in range(_PUSHES):  # what the springs' balance leaves inside goes to the skin
        gap, normals = skin.gap_mm(place)
        place -= np.minimum(gap, 0.0)[:, None] * normals
    return place, skin


def _moved_mm(moves: Reals) -> float:
    """How far 95 in 100 of them go at most."""
    return float(np.percentile(np.linalg.norm(moves, axis=0), 95))


def _renewals(n: int) -> int:
    """How often to start again: more for a small fabric, where each start costs less."""
    return int(_RENEWALS * min(max(1.0, _USUAL / max(n, 1)), _AT_MOST))


@attrs.frozen(eq=False, slots=False)
class _Skin:
    """Points of a body with their normals, by nearness."""

    points_mm: Floats
    normals: Floats
    tree: scipy.spatial.cKDTree
    neighbours: Ints
    around: Reals  # where the neighbours lie, (points, 3, neighbours): one piece of memory a point

    @classmethod
    @lru_cache(maxsize=2)  # one foot is tried with many socks; never written to
    def of(cls, body: Surface) -> _Skin:
        areas = body.area_vectors_mm2
        corners = body.vertices_mm[body.triangles]
        normals = np.zeros_like(body.vertices_mm)
        for k in range(3):
            np.add.at(normals, body.triangles[:, k], areas)
        normals /= np.maximum(np.linalg.norm(normals, axis=1), 1e-12)[:, None]
        # Middles of triangles halve the distance between points; their normals are blended, so
        # that the planes turn evenly from point to point.
        middle = corners.mean(axis=1)
        blended = normals[body.triangles].mean(axis=1)
        blended /= np.maximum(np.linalg.norm(blended, axis=1), 1e-12)[:, None]
        points = np.concatenate([body.vertices_mm, middle])
        tree = scipy.spatial.cKDTree(points)
        _, neighbours = tree.query(points, k=_NEIGHBOURS)
        around = np.ascontiguousarray(points[neighbours].transpose(0, 2, 1), _SINGLE)
        return cls(points, np.concatenate([normals, blended]), tree, neighbours, around)

    @cached_property
    def rows(self) -> tuple[Reals, Reals]:
        """Points and normals as the steps take them."""
        points, normals = (np.ascontiguousarray(at.T, _SINGLE) for at in
                           (self.points_mm, self.normals))  # fmt: skip
        return points, normals

    def nearest_at(self, place: Reals) -> Ints:
        """Number of the nearest point of the skin to each vertex."""
        _, at = self.tree.query(place)
        return np.asarray(at, np.int64)

    def followed(self, place: Reals, at: Ints) -> Ints:
        """As `nearest_at`, from points that were the nearest a step ago: a third of the time."""
        at, moving = at.copy(), np.arange(len(at))
        while len(moving):
            span = np.take(self.around, at[moving], axis=0)
            span -= place[moving, :, None]
            best = np.einsum("ijk,ijk->ik", span, span).argmin(axis=1)
            new = self.neighbours[at[moving], best]
            changed = new != at[moving]
            moving = moving[changed]
            at[moving] = new[changed]
        return at

    def gap_mm(self, place: Floats) -> tuple[Floats, Floats]:
        """Distance of each vertex from the skin, negative inside, and the normals there."""
        at = self.nearest_at(place)
        off = place - self.points_mm[at]
        return np.einsum("ij,ij->i", off, self.normals[at]), self.normals[at]


@attrs.define(eq=False)
class _Forces:
    """Springs and contact; it remembers which points of the skin were the nearest, and where to."""

    weave: Weave
    skin: _Skin
    at: Ints
    sought: Reals

    @classmethod
    def at_start(cls, weave: Weave, skin: _Skin, place: Reals) -> _Forces:
        return cls(weave, skin, skin.nearest_at(place.T), place.copy())

    def __call__(self, place: Reals) -> tuple[float, Reals]:
        points, normals = self.skin.rows
        at = self.followed(place)
        upright = np.take(normals, at, axis=1)
        off = place - np.take(points, at, axis=1)
        depth = np.minimum((off * upright).sum(axis=0), 0)
        gradient = _SINGLE(_CONTACT) * depth * upright
        energy = 0.5 * _CONTACT * float(np.square(depth).sum(dtype=np.float64))
        return energy + self.weave.add(place, gradient), gradient

    def followed(self, place: Reals) -> Ints:
        """The nearest point of the skin to each vertex, found again for those that moved."""
        moved = np.square(place - self.sought).sum(axis=0) > _STIRRED_MM**2
        stirred = np.flatnonzero(moved)
        if len(stirred):
            here = place[:, stirred]
            self.at[stirred] = self.skin.followed(here.T, self.at[stirred])
            self.sought[:, stirred] = here
        return self.at


@attrs.frozen(eq=False)
class _Split:
    """Solves apart for what lies along the skin and what lies across it; symmetric, positive."""

    along: Solve
    across: Solve
    normals: Reals  # rows

    def __call__(self, right: Reals) -> Reals:
        upright, flat = self._parts(right)
        _, slid = self._parts(self.along(flat))
        return slid + self.across(upright[None]) * self.normals

    def _parts(self, vectors: Reals) -> tuple[Reals, Reals]:
        upright = (vectors * self.normals).sum(axis=0)
        return upright, vectors - upright * self.normals


def _strains(shape: Shape, place: Floats) -> tuple[Floats, Floats]:
    mesh = shape.mesh
    ends = place[mesh.edges]
    strain = np.linalg.norm(ends[:, 0] - ends[:, 1], axis=1) / mesh.rest_mm - 1

    def mean(chosen: Bools) -> Floats:
        at, values = mesh.edges[chosen].ravel(), np.repeat(strain[chosen], 2)
        count = np.bincount(at, minlength=mesh.n)
        total = np.bincount(at, values, minlength=mesh.n)
        out = np.full(mesh.n, np.nan)
        return np.asarray(np.divide(total, count, out=out, where=count > 0))

    return mean(mesh.along), mean(~mesh.along)
