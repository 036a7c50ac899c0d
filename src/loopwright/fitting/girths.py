"""Girths and lengths of a sock, on its relaxed surface.

Only the shape is looked at, no pattern. The cuff is the largest opening, and the toe is what lies
farthest from it. The tip of the heel is the point of the middle plane that lies farthest from the
shortest way from cuff to toe, along the fabric and straight behind it. Who knows the construction
names the heel's tip instead (`loopwright.fitting._heel_tip`). Where a tape is put follows the
foot's own proportions.

The heel's line is the shortest one through its tip. At ball, instep and ankle the shortest line
would slip toward the toe or the heel's corner, where the sock is narrower. A tape is laid square
to the foot, or to the leg, and stays there: so these lines lie in a plane. At the ankle the plane
goes as far from the rim in front as at the back. A limp sock bends there by chance, and such a
plane may stand a little aslant. So it is tilted forward and back, and the shortest line is taken,
as a tape is drawn tight.

How far to trust them: against exact geodesics the lines are right within 0.1 % (`quick`: within
4 %). That checks arithmetic, not knitting. Until a knitted sample is measured, absolute girths are
good to about 9 %; differences between variants of one heel are safer.

Examples
--------
A tube of 24 stitches, five millimetres each, is 120 mm round wherever the tape lies:

>>> from loopwright.geometry import girth_through, shape
>>> from loopwright.gauge import Gauge
>>> from loopwright.making import Work, cast_on
>>> work = Work()
>>> cast_on(work, 24)
>>> work.join_round()
>>> work.plain_rounds(12)
>>> tube = shape(work.fabric(), Gauge.of(20, 28))
>>> where = route(tube)
>>> print(where.heel)  # a tube has none
None
>>> round(girth_through(tube, where.tube.path[6], along=where.tube).length_mm)
120
>>> len(where.cuff) >= 24, where.toe in where.cuff
(True, False)
>>> lines = measure(tube)
>>> type(lines).__name__, round(lines.sole.length_mm), lines.ankle
('Measures', 43, None)
"""

from __future__ import annotations

from typing import Final

import attrs
import numpy as np
import scipy
from numpy.typing import NDArray

from loopwright.border import guard
from loopwright.errors import ShapeError
from loopwright.geometry import (
    Shape,
    Surface,
    SurfaceLine,
    TubePath,
    distances,
    girth_through,
    section_through,
    shortest_line,
    tube_path,
)

__all__ = [
    "BALL",
    "EXACT_ERROR",
    "GIRTH_ERROR",
    "QUICK_ERROR",
    "Measures",
    "Route",
    "measure",
    "route",
]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

GIRTH_ERROR: Final = 0.09  # relative, absolute girths until a knitted sample is measured; no source
EXACT_ERROR: Final = 0.001  # relative, of lines against exact geodesics; never short
QUICK_ERROR: Final = 0.04  # relative, of quick girths of socks against exact ones; they are long

# Where the tape goes, as a share of the length from the tip of the heel to the toe.
BALL: Final = 0.74  # survey of 6,068 feet: ball length / foot length 0.741 men, 0.739 women
_INSTEP: Final = 0.55  # common practice: over the highest point of the arch
_ANKLE: Final = 0.26  # of the heel girth, up the back: ankle bone at 0.21 of it (survey), and above
_REACH: Final = 0.06  # of the foot's length, to either side: over it the foot's direction is taken
_LEANS: Final = tuple(np.radians([-20, -10, 0, 10, 20]))  # of planes that are tried
_UPRIGHT: Final = (0.0,)  # at the ball, where the sock is straight: a leaning one finds the toe
_HEEL_EXCESS: Final = 0.12  # of the way from cuff to toe: below that there is no heel


@attrs.frozen(eq=False)
class Route:
    """What is where on a sock.

    Parameters
    ----------
    tube : TubePath
        From the rim of the cuff to the tip of the toe, in the middle plane.
    heel : int or None
        Vertex of the heel's tip; None where there is no heel.
    """

    tube: TubePath
    heel: int | None

    @property
    def cuff(self) -> Ints:
        """Vertices of the rim."""
        return self.tube.rim

    @property
    def toe(self) -> int:
        """Vertex of the toe's tip."""
        return self.tube.end


@attrs.frozen(eq=False)
class Measures:
    """Lines on a sock; each has its length and its points.

    Parameters
    ----------
    cuff_mm : float
        Length of the rim.
    ball, instep : SurfaceLine
        Closed lines round the foot, square to it.
    sole : SurfaceLine
        From the heel's tip to the toe's; from the rim to the toe where there is no heel.
    heel, ankle, leg : SurfaceLine or None
        Closed line over the tip of the heel and the front of the ankle; closed line round the leg
        above it, square to it; up the back from the heel's tip to the rim. None where there is no
        heel.
    error : float
        How much longer than the exact line on the same surface any of them may be, relative. What
        the surface itself is worth is another question: absolute girths are good to about 9 %.

    Examples
    --------
    >>> from loopwright import Foot, Gauge, Sock, shape
    >>> sock = Sock(foot=Foot.of(length="16 cm", ball_girth="15.5 cm"), gauge=Gauge.of(12, 16))
    >>> print(measure(shape(sock.fabric(), sock.gauge)))
    cuff ... mm, ball ... mm, instep ... mm, sole ... mm, heel ... mm, ankle ... mm, leg ... mm
    """

    cuff_mm: float
    ball: SurfaceLine
    instep: SurfaceLine
    sole: SurfaceLine
    heel: SurfaceLine | None
    ankle: SurfaceLine | None
    leg: SurfaceLine | None
    error: float = EXACT_ERROR

    def __str__(self) -> str:
        names = ("ball", "instep", "sole", "heel", "ankle", "leg")
        lines = ((name, getattr(self, name)) for name in names)
        found = [f"{name} {line.length_mm:.0f} mm" for name, line in lines if line is not None]
        return ", ".join((f"cuff {self.cuff_mm:.0f} mm", *found))


def route(shape: Shape, *, heel: int | None = None) -> Route:
    """Find cuff, toe and heel.

    Parameters
    ----------
    heel : int, optional
        Vertex of the heel's tip, where the construction names it; by default it is found.

    Raises
    ------
    ShapeError
        There is no opening, or nothing lies between it and the far end.
    """
    surface = shape.surface
    tube = tube_path(shape)
    from_cuff, far = tube.from_rim_mm, tube.end
    excess = np.where(np.isfinite(from_cuff), from_cuff + tube.from_end_mm, 0.0)
    back = (tube.from_end_mm > 0.3 * from_cuff[far]) & (
        excess > (1 + _HEEL_EXCESS) * from_cuff[far]
    )
    if heel is not None and not back.any():
        back[heel] = True  # so few stitches that it hardly stands out, but its construction says so
    if not back.any():
        return Route(tube, None)
    plane = _middle_plane(surface, tube.rim, tube.from_end_mm)
    off = np.abs((surface.vertices_mm - plane[0]) @ plane[1])
    stitch = np.median(shape.mesh.rest_mm)  # two of them: a coarse sock stands a little askew
    middle = (off <= np.maximum(2 * stitch, off[back].min())) & (from_cuff < np.inf)
    toe = int(np.where(middle, from_cuff, -1.0).argmax())
    tube = tube_path(shape, end=toe)
    if heel is None:
        far_off = distances(surface, tube.path) + _behind_mm(surface, tube.rim, toe)
        heel = int(np.where(middle, far_off, -np.inf).argmax())
    return Route(tube, heel)


def measure(
    shape: Shape,
    *,
    heel: int | None = None,
    quick: bool = False,
    on: Route | None = None,
    over: SurfaceLine | None = None,
) -> Measures:
    """Return the girths and lengths of a sock.

    Parameters
    ----------
    heel : int, optional
        Vertex of the heel's tip; by default found, see `route`.
    quick : bool
        Heel, sole and leg up to 4 % long, in a third of the time: for searches.
    on : Route, optional
        As `route` found it, to save finding it again.
    over : SurfaceLine, optional
        The closed line over the heel, where it is known already.

    Raises
    ------
    ShapeError
        See `route`.
    """
    where, surface = on or route(shape, heel=heel), shape.surface
    rim = surface.edges.boundary[np.isin(surface.edges.boundary[:, 0], where.cuff)]
    ends = surface.vertices_mm[rim]
    cuff_mm = float(np.linalg.norm(ends[:, 0] - ends[:, 1], axis=1).sum())
    nearest = int(where.cuff[where.tube.from_end_mm[where.cuff].argmin()])
    start = nearest if where.heel is None else where.heel
    sole = shortest_line(surface, start, where.toe, quick=quick)
    error = QUICK_ERROR if quick else EXACT_ERROR
    ball, instep = (
        _tape(shape, where, sole.at(at), _along_foot(shape, where, sole, at), cuff_mm / 2, leans)
        for at, leans in ((BALL * sole.length_mm, _UPRIGHT), (_INSTEP * sole.length_mm, _LEANS))
    )
    if where.heel is None:
        return Measures(cuff_mm, ball, instep, sole, None, None, None, error)
    over = over or girth_through(shape, where.heel, along=where.tube, quick=quick)
    top = int(where.cuff[distances(surface, where.heel)[where.cuff].argmin()])
    leg = shortest_line(surface, where.heel, top, quick=quick)
    up = min(_ANKLE * over.length_mm, 0.9 * leg.length_mm)
    back = leg.at(up)
    ankle = _tape(shape, where, back, _up_the_leg(shape, where, back), cuff_mm / 2, _LEANS)
    return Measures(cuff_mm, ball, instep, sole, over, ankle, leg, error)


def _tape(
    shape: Shape,
    where: Route,
    vertex: int,
    square: Floats,
    least_mm: float,
    leans: tuple[float, ...],
) -> SurfaceLine:
    """Closed line round the foot or leg, through a vertex of its underside or back.

    Parameters
    ----------
    square : ndarray, shape (3,)
        Where the foot or leg goes there.
    least_mm : float, mm
        No girth is as short: half of the cuff's.
    leans : tuple of float, radians
        By which the plane may lean, one by one.
    """
    try:
        if not square.any():  # so few stitches that the back is the front
            raise ShapeError("a tape round one stitch", "lay it where back and front lie apart")
        line = _tightened(shape.surface, vertex, square, where.tube.path, leans)
        if line.length_mm > least_mm:  # else the plane only grazes a fold of the fabric
            return line
    except ShapeError:  # so short a leg that the plane meets its rim
        pass
    reach_mm = _REACH * where.tube.from_rim_mm[where.toe]
    return girth_through(shape, vertex, along=where.tube, slack_mm=reach_mm)


def _tightened(
    surface: Surface,
    vertex: int,
    normal: Floats,
    front: Ints,
    leans: tuple[float, ...] = _LEANS,
) -> SurfaceLine:
    """The shortest line near by of those in planes through a vertex, leant forward or back.

    Those that don't cross the front go round the heel alone, and don't count.
    """
    first = section_through(surface, vertex, normal)
    sideways = np.cross(normal, first.points_mm.mean(axis=0) - surface.vertices_mm[vertex])
    sideways /= max(float(np.linalg.norm(sideways)), 1e-9)

    def leant(by: float) -> tuple[float, SurfaceLine]:
        try:
            turned = scipy.spatial.transform.Rotation.from_rotvec(by * sideways).apply(normal)
            line = section_through(surface, vertex, turned)
        except ShapeError:  # it meets the rim
            return np.inf, first
        return line.length_mm if np.isin(line.vertices, front).any() else np.inf, line

    found = [leant(by) for by in leans]
    lengths = np.array([length_mm for length_mm, _ in found])
    at = int(lengths.argmin())
    if 0 < at < len(leans) - 1:
        aft, least, fore = lengths[at - 1 : at + 2]
        if np.isfinite(aft + fore):  # the bottom of the parabola through the three
            bend = max(aft + fore - 2 * least, 1e-9)
            bottom = leant(leans[at] + (leans[1] - leans[0]) * (aft - fore) / (2 * bend))
            return min(found[at], bottom, key=lambda one: one[0])[1]
    return found[at][1]


def _along_foot(shape: Shape, where: Route, along: SurfaceLine, at_mm: float) -> Floats:
    """Where the foot goes at a place: the mean of its two sides, which may taper.

    Its underside is the line along it, its upper side the way from cuff to toe.
    """
    p = shape.surface.vertices_mm
    reach_mm = _REACH * where.tube.from_rim_mm[where.toe]
    under = _point(along, at_mm + reach_mm) - _point(along, at_mm - reach_mm)
    under /= max(float(np.linalg.norm(under)), 1e-9)
    front = p[where.tube.path]
    height = (front - p[along.at(at_mm)]) @ under
    beside = front[np.abs(height) <= reach_mm]
    if len(beside) < 2:
        return under
    over = beside[-1] - beside[0]
    over = over / max(float(np.linalg.norm(over)), 1e-9)
    return np.asarray(under + over * np.sign(over @ under))


def _point(line: SurfaceLine, at_mm: float) -> Floats:
    """The point so far along a line; its end where it is shorter."""
    steps = np.linalg.norm(np.diff(line.points_mm, axis=0), axis=1)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    return np.array([np.interp(at_mm, along, line.points_mm[:, k]) for k in range(3)])


def _up_the_leg(shape: Shape, where: Route, vertex: int) -> Floats:
    """Where the leg goes at a vertex of its back: in front it is as far from the rim."""
    p, front, from_rim = shape.surface.vertices_mm, where.tube.path, where.tube.from_rim_mm
    opposite = front[np.abs(from_rim[front] - from_rim[vertex]).argmin()]
    _, sideways = _middle_plane(shape.surface, where.tube.rim, where.tube.from_end_mm)
    return np.asarray(np.cross(sideways, p[opposite] - p[vertex]))


def _behind_mm(surface: Surface, rim: Ints, toe: int) -> Floats:
    """How far each vertex lies behind the straight way from cuff to toe, on the heel's side.

    The line in front may lie to one side, and the point farthest from it to the other.
    """
    p = surface.vertices_mm
    cuff = p[rim].mean(axis=0)
    way = (p[toe] - cuff) / max(float(np.linalg.norm(p[toe] - cuff)), 1e-12)
    back = p.mean(axis=0) - cuff  # the sock is bent: its middle lies behind
    back -= (back @ way) * way
    return np.asarray((p - cuff) @ (back / max(float(np.linalg.norm(back)), 1e-12)))


def _middle_plane(surface: Surface, rim: Ints, from_far: Floats) -> tuple[Floats, Floats]:
    """A point of the plane of symmetry and its normal: through cuff, toe and the middle of all.

    A sock is bent at the heel, so that its middle lies off the way from cuff to toe. Means of
    many points; the tip of the heel itself, with its ears, would tilt the plane.
    """
    p = surface.vertices_mm
    reached = np.isfinite(from_far)
    cap = from_far <= np.percentile(from_far[reached], 3)
    middle, toe, cuff = p[reached].mean(axis=0), p[cap].mean(axis=0), p[rim].mean(axis=0)
    normal = np.cross(toe - cuff, middle - cuff)
    return middle, normal / max(float(np.linalg.norm(normal)), 1e-12)


guard(globals())
