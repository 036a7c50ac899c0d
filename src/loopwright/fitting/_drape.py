"""The sock on the foot: drawn over a form, with contact, and how far it is stretched where.

The fabric is a membrane with the law of plain fabric, across and along (`cloth.toml`): each edge is
a spring whose pull follows the law of its direction, and the chords, softer, resist shear. What the
chords pull is taken off the springs, so that a piece stretched one way alone has the law's tension
and draws in the other way by as much as the law says. That is a prototype's fabric, not a sample.

The foot is rigid and smooth: the form's surface pushes and doesn't rub. Each vertex of the fabric
meets the tangent plane of the skin's point that is nearest at the time: planes held for a dozen
steps let the fabric slide off them into the air, and it never came to rest. Along the skin the
fabric moves as the springs let it, across the skin as the contact does; so the steps are scaled by
two factorised matrices, one for each direction.

Where the science stops: no friction, so the sock settles where a worn one would be held; soft
tissue doesn't give; stretched both ways at once, the fabric is taken to pull as the sum of both;
ribs are treated as plain; bending and the thickness of the fabric are left out. Strains are
geometry and good to a few hundredths; pressures on the skin are not computed, for nobody has
measured a hand-knitted fabric's stiffness well enough.
"""

from __future__ import annotations

from functools import cached_property, lru_cache
from typing import Final, TypeAlias

import attrs
import numpy as np
import scipy
from numpy.typing import NDArray

from loopwright.errors import ShapeError
from loopwright.fitting._footform import FootForm
from loopwright.fitting._tension import law_points, stretch_across, tension_along
from loopwright.fitting.girths import Route, route
from loopwright.fitting.limits import COURSEWISE, Feel
from loopwright.geometry import Shape, Surface
from loopwright.geometry.blas_threads import one_thread
from loopwright.geometry.springs import SHORTEST_MM, Reals, Solve, Springs, memory, minimise
from loopwright.progress import Progress, advance, share, watched
from loopwright.shown import Shown

__all__ = ["Draped", "Membrane", "drape", "press"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

Point: TypeAlias = tuple[float, float, float]

_UNIT: Final = 5.0  # tension at the slope with which the law begins across: stiffness is about 1
_CHORD: Final = 0.3  # shear, in the same units; no source
_NARROWED: Final = 0.3  # stiffness of a course that is pushed together; its law there is flat
_TOUCHES_MM: Final = 1.0  # from the skin: half the thickness of a sock's fabric
_CONTACT: Final = (
    4.0  # of the course's stiffness per mm^2 of depth: under 0.5 mm at 40 % strain on a leg
)
_CLEAR: Final = 1.03  # how far outside the form the sock starts; it comes down on it slowly
_SLIDING: Final = 0.01  # anchor of the matrix for moves along the skin; below 0.003 it gets lost
_RENEWALS: Final = 14  # of the skin's directions, in a sock of 10,000 loops; a smaller takes more
_STEPS: Final = 12  # quasi-Newton steps between two renewals
_MEMORY: Final = 12  # steps remembered, over renewals as well: the forces stay the same
_USUAL: Final = 10_000  # loops
_AT_MOST: Final = 3.0  # times as many renewals
_LONGER: Final = 2  # times as many again, until it is at rest
_AT_REST_MM: Final = 0.5  # 95 in 100 loops move less between two renewals: under 0.1 of strain left
_PUSHES: Final = 4
_NEIGHBOURS: Final = 10  # points of the skin, among which the nearest one is followed
_STIRRED_MM: Final = 0.4  # a vertex keeps its point of the skin until it has moved so far
_SINGLE: Final = np.float32  # what the steps move through memory; see `springs`


@attrs.frozen
class Membrane:
    """How a fabric resists stretching; by default plain fabric.

    Parameters
    ----------
    across, along : tuple of (stretch, tension, left)
        Points of the law, from (1, 0, 1) on: stretched so far across the wales (along them), the
        fabric pulls so hard and the other way is left so much of its size.
    chord : float
        Stiffness of a cell's chords, where 1 is about that of a course.

    Examples
    --------
    >>> plain = Membrane()
    >>> plain.across[3], plain.along[5]
    ((1.25, 1.33, 0.9), (1.125, 1.6, 0.97))
    """

    across: tuple[Point, ...] = attrs.field(factory=lambda: law_points("across"))
    along: tuple[Point, ...] = attrs.field(factory=lambda: law_points("along"))
    chord: float = _CHORD

    def _laws(self, width: float, height: float) -> tuple[_Law, _Law]:
        """Return the laws of courses and wales in cells of this size, less the chords' pull."""
        across, along = np.array(self.across).T, np.array(self.along).T
        aside, inward = self._chords(across[0], across[2], width, height)
        _, upward = self._chords(along[2], along[0], width, height)
        course = _Law.through(
            np.append(0.0, across[0]), np.append(-_NARROWED, across[1] / _UNIT - aside)
        )
        pressed = np.argsort(across[2][1:])
        wale = _Law.through(
            np.concatenate([across[2][1:][pressed], along[0]]),
            np.concatenate([-inward[1:][pressed], along[1] / _UNIT - upward]),
        )
        return course, wale

    def _chords(self, wide: Floats, high: Floats, w: float, h: float) -> tuple[Floats, Floats]:
        """What a cell's two chords pull along courses and wales, at these stretches."""
        rest = np.hypot(w, h)
        now = np.hypot(w * wide, h * high)
        pull = 2 * self.chord * (now / rest - 1) / (now * rest)
        return np.asarray(pull * w * w * wide), np.asarray(pull * h * h * high)


@attrs.frozen(eq=False)
class _Law:
    """A tension by stretch, straight between points and going on as it begins and ends."""

    stretch: Reals
    tension: Reals
    slope: Reals
    energy: Reals

    @classmethod
    def through(cls, stretch: Floats, tension: Floats) -> _Law:
        """Through points whose stretches ascend."""
        slope = np.diff(tension) / np.diff(stretch)
        mean = (tension[1:] + tension[:-1]) / 2
        energy = np.append(0.0, np.cumsum(mean * np.diff(stretch)))
        energy -= np.interp(1.0, stretch, energy)
        return cls(*(part.astype(_SINGLE) for part in (stretch, tension, slope, energy)))

    def at(self, stretch: Reals) -> tuple[Reals, float]:
        """Tension at each, and the sum of the energies."""
        k = np.clip(np.searchsorted(self.stretch, stretch) - 1, 0, len(self.slope) - 1)
        over = stretch - self.stretch[k]
        begin, bend = self.tension[k], self.slope[k] * over
        energy = self.energy[k] + over * (begin + bend / 2)
        return begin + bend, float(energy.sum(dtype=np.float64))


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
    with watched(progress):
        return press(shape, form.surface, _put_on(shape, form, heel), membrane=membrane)


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
        place, skin = _settled(shape, body, start_mm, membrane or Membrane())
    course, wale = _strains(shape, place)
    gap, _ = skin.gap_mm(place)
    return Draped(Surface(place, shape.surface.triangles), course, wale, gap)


def _settled(
    shape: Shape, body: Surface, start_mm: Floats, membrane: Membrane
) -> tuple[Floats, _Skin]:
    skin = _Skin.of(body)
    springs = _Fabric.of(shape, membrane)
    along, across = (springs.steering.factorised(anchor=a) for a in (_SLIDING, _CONTACT))
    rows: Reals = np.array(np.transpose(start_mm), _SINGLE, order="C")
    forces = _Forces.at_start(springs, skin, rows)
    steps, least = memory(_MEMORY), _renewals(rows.shape[1])
    for renewal in range(_LONGER * least):
        advance(min(renewal, least), least)
        before = rows
        solve = _Split(along, across, skin.rows[1][:, forces.followed(rows)])
        rows = minimise(forces, rows, solve, _STEPS, steps)
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
    """How often to begin anew: more for a small fabric, where each costs less."""
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

    springs: _Fabric
    skin: _Skin
    at: Ints
    sought: Reals

    @classmethod
    def at_start(cls, springs: _Fabric, skin: _Skin, place: Reals) -> _Forces:
        return cls(springs, skin, skin.nearest_at(place.T), place.copy())

    def __call__(self, place: Reals) -> tuple[float, Reals]:
        points, normals = self.skin.rows
        at = self.followed(place)
        upright = np.take(normals, at, axis=1)
        off = place - np.take(points, at, axis=1)
        depth = np.minimum((off * upright).sum(axis=0), 0)
        gradient = _SINGLE(_CONTACT) * depth * upright
        energy = 0.5 * _CONTACT * float(np.square(depth).sum(dtype=np.float64))
        return energy + self.springs.add(place, gradient), gradient

    def followed(self, place: Reals) -> Ints:
        """The nearest point of the skin to each vertex, sought anew for those that moved."""
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


@attrs.frozen(eq=False)
class _Fabric:
    """Edges with the law of their direction, and chords between them.

    Parameters
    ----------
    edges : tuple of (Springs, law)
        Of courses and of wales; here the stiffness is force by unit of tension.
    area_mm2 : float
        Of the cell that an edge stands for.
    chords : Springs
    steering : Springs
        All of them, with the stiffness that they have where the fabric is hardly stretched.
    """

    edges: tuple[tuple[Springs, _Law], ...]
    area_mm2: float
    chords: Springs
    steering: Springs

    @classmethod
    def of(cls, shape: Shape, membrane: Membrane) -> _Fabric:
        mesh = shape.mesh
        diagonals, spans = mesh.chords()
        along = mesh.along
        width, height = (float(np.median(mesh.rest_mm[kind])) for kind in (along, ~along))
        area = width * height
        laws, force = membrane._laws(width, height), area / mesh.rest_mm
        ways = [
            (Springs.of(mesh.n, mesh.edges[kind], mesh.rest_mm[kind], force[kind], _SINGLE), law)
            for kind, law in zip((along, ~along), laws, strict=True)
        ]
        pulls = membrane.chord * area / spans**2
        chords = Springs.of(mesh.n, diagonals, spans, pulls, _SINGLE)
        stiff = np.where(along, 1.0, 2.0) * area / mesh.rest_mm**2
        steering = Springs.of(
            mesh.n,
            np.concatenate([mesh.edges, diagonals]),
            np.concatenate([mesh.rest_mm, spans]),
            np.concatenate([stiff, pulls]),
        )
        return cls(tuple(ways), area, chords, steering)

    def add(self, place: Reals, gradient: Reals) -> float:
        """Add the pull to `gradient`; return the energy."""
        energy = self.chords.add(place, gradient)
        for springs, law in self.edges:
            span = [np.take(row, springs.first) - np.take(row, springs.second) for row in place]
            length = np.sqrt(span[0] * span[0] + span[1] * span[1] + span[2] * span[2])
            tension, stored = law.at(length / springs.rest_mm)
            energy += self.area_mm2 * stored
            share = springs.stiffness * tension / np.maximum(length, SHORTEST_MM)
            for row, part in zip(gradient, span, strict=True):
                row += springs.back @ (share * part)
        return energy


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


def _put_on(shape: Shape, form: FootForm, heel: int | None) -> Floats:
    """Put each vertex just outside the form, as far along it and around it as on the sock."""
    where = route(shape, heel=heel)
    if where.heel is None:
        raise ShapeError("a fabric without a heel", "drape a sock, or press it on a body yourself")
    p = shape.surface.vertices_mm
    share = where.tube.from_rim_mm / np.maximum(
        where.tube.from_rim_mm + where.tube.from_end_mm, 1e-9
    )
    along = _stations(share, float(share[where.heel]), where, form)
    around = _angles(p, share, where.tube.path, p[where.heel])
    rings = np.unique(form.along)
    columns = np.unique(form.around)
    ring = np.clip(np.searchsorted(rings, along), 1, len(rings) - 2)
    grid = (ring - 1) * len(columns) + np.round(around / (2 * np.pi) * len(columns)).astype(
        np.int64
    ) % len(columns)
    skin, spine = form.surface.vertices_mm[grid], form.spine_mm[grid]
    return np.asarray(spine + _CLEAR * (skin - spine))


def _stations(share: Floats, heel: float, where: Route, form: FootForm) -> Floats:
    """From the share of the way cuff to toe to the place along the form."""
    leg_mm = float(where.tube.from_rim_mm[where.heel])
    at = form.stations
    rings, first = np.unique(form.along, return_index=True)
    back = form.spine_mm[first]
    heel_up = form.sections["heel"].up_mm
    above = np.where(rings < at["heel"], back[:, 2], -np.inf)
    cuff = float(rings[np.argmin(np.abs(above - heel_up - leg_mm))])
    return np.asarray(np.interp(share, [0.0, heel, 1.0], [cuff, at["heel"], 0.995]))


def _angles(p: Floats, share: Floats, front: Ints, heel: Floats) -> Floats:
    """Angle of each vertex round the sock's own middle line, 0 in front, a quarter on the left."""
    bins = 40
    slot = np.minimum((share * bins).astype(np.int64), bins - 1)
    count = np.maximum(np.bincount(slot, minlength=bins), 1)
    middle = np.stack([np.bincount(slot, p[:, k], bins) / count for k in range(3)], axis=1)
    used = np.bincount(slot, minlength=bins) > 0
    at = (np.arange(bins) + 0.5) / bins
    centre = np.stack([np.interp(share, at[used], middle[used, k]) for k in range(3)], axis=1)
    ahead = np.gradient(middle[used], at[used], axis=0)
    forward = np.stack([np.interp(share, at[used], ahead[:, k]) for k in range(3)], axis=1)
    forward /= np.maximum(np.linalg.norm(forward, axis=1), 1e-9)[:, None]
    order = np.argsort(share[front])
    line = np.stack(
        [np.interp(share, share[front][order], p[front][order, k]) for k in range(3)], axis=1
    )
    # One plane for the whole sock keeps the angle from twisting: its normal points left.
    left = np.cross(p[front].mean(axis=0) - heel, forward[front].mean(axis=0))
    left = -left / np.linalg.norm(left)
    top = np.cross(left, forward)
    top *= np.sign(np.einsum("ij,ij->i", line - centre, top))[:, None]
    off = p - centre
    return np.asarray(np.arctan2(off @ left, np.einsum("ij,ij->i", off, top)) % (2 * np.pi))
