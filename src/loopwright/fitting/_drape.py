"""The sock on the foot: drawn over a form, with contact, and how far it is stretched where.

The fabric is a membrane, softer along the course than along the wale: width-wise it extends about
twice as far as length-wise under the same load (two trade texts on weft-knitted structures, see
the project's shared notes), so its stiffness along the wale is taken as twice that along the
course. An edge is a spring of energy E A e^2 / 2 with e its strain, A the cell it stands for and
E the stiffness of its direction; the chords, a tenth as stiff, resist shear.

The foot is rigid and smooth: the form's surface pushes and doesn't rub. Each vertex of the fabric
meets the tangent plane of the skin's point that is nearest at the time: planes held for a dozen
steps let the fabric slide off them into the air, and it never came to rest. Along the skin the
fabric moves as the springs let it, across the skin as the contact does; so the steps are scaled by
two factorised matrices, one for each direction.

Where the science stops: no friction, so the sock settles where a worn one would be held; soft
tissue doesn't give; the membrane is linear, while a knitted fabric stiffens when its loops have
straightened (about half again its width); ribs are treated as plain; bending and the thickness of
the fabric are left out. Strains are geometry and good to a few hundredths; pressures on the skin
are not computed, for nobody has measured a hand-knitted fabric's stiffness well enough.
"""

from __future__ import annotations

from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from loopwright.errors import ShapeError
from loopwright.fitting._footform import FootForm
from loopwright.fitting.girths import Route, route
from loopwright.geometry import Shape, Surface
from loopwright.geometry.blas_threads import one_thread
from loopwright.geometry.springs import Reals, Solve, Springs, minimise

__all__ = ["WALE_TO_COURSE", "Draped", "Membrane", "drape", "press"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

WALE_TO_COURSE: Final = 2.0  # stiffness; "width-wise about twice the length-wise", two trade texts
_CHORD: Final = 0.1  # of the course's stiffness; no source
_CONTACT: Final = (
    4.0  # of the course's stiffness per mm^2 of depth: under 0.5 mm at 40 % strain on a leg
)
_CLEAR: Final = 1.08  # how far outside the form the sock starts
_SLIDING: Final = 0.03  # anchor of the matrix for moves along the skin; 0.01 to 0.1 do as well
_RENEWALS: Final = 6
_STEPS: Final = 24  # quasi-Newton steps between two renewals of the skin's directions
_PUSHES: Final = 4
_NEIGHBOURS: Final = 10  # points of the skin, among which the nearest one is followed


@attrs.frozen
class Membrane:
    """How a fabric resists stretching.

    Parameters
    ----------
    wale_to_course : float
        Stiffness along the wale, in units of that along the course.
    chord : float
        Stiffness of a cell's chords, in the same units.
    """

    wale_to_course: float = WALE_TO_COURSE
    chord: float = _CHORD


@attrs.frozen(eq=False)
class Draped:
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


def drape(shape: Shape, form: FootForm, *, membrane: Membrane | None = None) -> Draped:
    """Draw a sock over a foot form.

    Parameters
    ----------
    shape : Shape
        A relaxed sock with a heel and a closed toe.
    form : FootForm
    membrane : Membrane, optional

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
    """
    return press(shape, form.surface, _put_on(shape, form), membrane=membrane)


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
    >>> stiff = press(band, post, start, membrane=Membrane(wale_to_course=8.0))
    >>> bool(worn.wale_strain.mean() < stiff.wale_strain.mean() < 0)  # it shrinks less in height
    True
    """
    with one_thread():
        place, skin = _settled(shape, body, start_mm, membrane or Membrane())
    course, wale = _strains(shape, place)
    gap, _ = skin.gap_mm(place)
    return Draped(Surface(place, shape.surface.triangles), course, wale, gap)


def _settled(
    shape: Shape, body: Surface, start_mm: Floats, membrane: Membrane
) -> tuple[Floats, _Skin]:
    skin = _Skin.of(body)
    springs = _membrane(shape, membrane)
    along, across = springs.factorised(anchor=_SLIDING), springs.factorised(anchor=_CONTACT)
    rows: Reals = np.array(np.transpose(start_mm), np.float64, order="C")
    for _ in range(_RENEWALS):
        forces = _Forces(springs, skin, skin.nearest_at(rows.T))
        solve = _Split(along, across, skin.normals[forces.at].T)
        rows = minimise(forces, rows, solve, _STEPS)
    place = rows.T.astype(np.float64)
    for _ in range(_PUSHES):  # what the springs' balance leaves inside goes to the skin
        gap, normals = skin.gap_mm(place)
        place -= np.minimum(gap, 0.0)[:, None] * normals
    return place, skin


@attrs.frozen(eq=False)
class _Skin:
    """Points of a body with their normals, by nearness."""

    points_mm: Floats
    normals: Floats
    tree: cKDTree
    neighbours: Ints

    @classmethod
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
        tree = cKDTree(points)
        _, neighbours = tree.query(points, k=_NEIGHBOURS)
        return cls(points, np.concatenate([normals, blended]), tree, neighbours)

    def nearest_at(self, place: Reals) -> Ints:
        """Number of the nearest point of the skin to each vertex."""
        _, at = self.tree.query(place)
        return np.asarray(at, np.int64)

    def followed(self, place: Reals, at: Ints) -> Ints:
        """As `nearest_at`, from points that were the nearest a step ago: a third of the time."""
        at, moving = at.copy(), np.arange(len(at))
        while len(moving):
            near = self.neighbours[at[moving]]
            span = self.points_mm[near] - place[moving, None]
            best = np.einsum("ijk,ijk->ij", span, span).argmin(axis=1)
            new = near[np.arange(len(moving)), best]
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
    """Springs and contact; it remembers which points of the skin were the nearest."""

    springs: Springs
    skin: _Skin
    at: Ints

    def __call__(self, place: Reals) -> tuple[float, Reals]:
        self.at = self.skin.followed(place.T, self.at)
        normals = self.skin.normals[self.at]
        off = place.T - self.skin.points_mm[self.at]
        depth = np.minimum(np.einsum("ij,ij->i", off, normals), 0.0)
        gradient = np.ascontiguousarray((_CONTACT * depth[:, None] * normals).T)
        energy = 0.5 * _CONTACT * float(depth @ depth)
        return energy + self.springs.add(place, gradient), gradient


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
        upright = np.einsum("ij,ij->j", vectors, self.normals)
        return upright, vectors - upright * self.normals


def _membrane(shape: Shape, membrane: Membrane) -> Springs:
    mesh = shape.mesh
    chords, spans = mesh.chords()
    rest = np.concatenate([mesh.rest_mm, spans])
    along = mesh.along
    width, height = np.median(mesh.rest_mm[along]), np.median(mesh.rest_mm[~along])
    stiff = np.where(along, 1.0, membrane.wale_to_course)
    stiffness = np.concatenate([stiff, np.full(len(chords), membrane.chord)])
    stiffness *= width * height / rest**2
    return Springs.of(mesh.n, np.concatenate([mesh.edges, chords]), rest, stiffness)


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


def _put_on(shape: Shape, form: FootForm) -> Floats:
    """Put each vertex just outside the form, as far along it and around it as on the sock."""
    where = route(shape)
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
