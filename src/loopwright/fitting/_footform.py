"""The foot as a body: a smooth closed surface with the girths and lengths that were measured.

Sections follow a bent line from the leg to the toes. Each is an ellipse, flat along the sole's line
of sight, whose perimeter is the girth there. There is one for the leg's top, for the ankle above
the bones, for the instep and for the ball. One is for the heel girth, on the slope from the tip of
the heel to the front of the ankle. From the ball the form closes to the toe. What the measures
don't say (how a girth divides into breadth and height where no breadth was measured, the slope of
the heel, the height of the arch) follows the proportions below. These are stated, not sourced. Left
and right are alike, the toes are one.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

import attrs
import numpy as np
import scipy
from numpy.typing import NDArray

from loopwright.errors import ShapeError
from loopwright.geometry import Surface
from loopwright.sock.foot import Foot

__all__ = ["CrossSection", "FootForm", "foot_form", "tape_mm"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

# Proportions without a source, as shares of the foot's length unless said otherwise.
_HEEL_BACK: Final = 0.16  # the heel's rearmost point, above the floor
_HEEL_TIP: Final = (0.03, 0.045)  # forward of that point, above the floor
_HEEL_SOLE: Final = 0.15  # where the heel comes down to the floor
_HEEL_SLOPE: Final = 50.0  # degrees from the floor, heel's tip to the front of the ankle
_LEG_BACK: Final = 0.04  # the leg's back, forward of the heel's
_OVER_BEND: Final = 0.10  # the ankle's narrowest part, above the bend in front
_INSTEP_AT: Final = 0.55
_ARCH: Final = 0.02  # the sole under the instep, above the floor
_TOE_AT: Final = 0.55  # of the way from the ball to the toe's tip
_TOE_BREADTH: Final = 0.88  # of the ball's
_TOE_DEPTH: Final = 0.80  # of the ball's
_ANKLE_RATIO: Final = 0.78  # breadth to depth
_LEG_RATIO: Final = 0.92  # breadth to depth
_ABOVE: Final = 0.25  # of the leg's height, that the form goes on above it


@attrs.frozen
class CrossSection:
    """One ellipse of the form.

    Parameters
    ----------
    forward_mm, up_mm : float
        Its middle; forward from the heel's back, up from the floor.
    slope_deg : float
        0 lies flat (the leg), 90 stands upright (the foot).
    girth_mm : float
    ratio : float
        Breadth, left to right, to depth.
    """

    forward_mm: float
    up_mm: float
    slope_deg: float
    girth_mm: float
    ratio: float


@attrs.frozen(eq=False)
class FootForm:
    """A closed body with the measures of a foot.

    Parameters
    ----------
    surface : Surface
        Axes: forward, left, up.
    sections : dict of str to CrossSection
        ``leg``, ``ankle``, ``heel``, ``instep``, ``ball``.
    spine_mm : ndarray, shape (n, 3), mm
        For each vertex, the middle of its section.
    along : ndarray, shape (n,)
        For each vertex, how far along its section lies, 0 at the top of the leg to 1 at the toe.
    around : ndarray, shape (n,), radians
        For each vertex, its place on its section; 0 in front of the leg and on top of the foot,
        a quarter turn on the left.
    stations : dict of str to float
        `along` of the sections.
    """

    surface: Surface
    sections: dict[str, CrossSection]
    spine_mm: Floats
    along: Floats
    around: Floats
    stations: dict[str, float]


@lru_cache(maxsize=4)  # one foot is tried with many socks, and its skin is known by its form
def _made(foot: Foot, rings: int, columns: int) -> FootForm:
    nodes = _nodes(foot)
    names, table = [name for name, _ in nodes], np.array([row for _, row in nodes])
    back, front = table[:, 0:2], table[:, 2:4]
    step = np.linalg.norm(np.diff(back, axis=0), axis=1) + np.linalg.norm(
        np.diff(front, axis=0), axis=1
    )
    knots = np.concatenate([[0.0], np.cumsum(step)])
    knots /= knots[-1]
    spread = np.linspace(0, 1, rings)
    curves = scipy.interpolate.PchipInterpolator(knots, table, axis=0)(spread)
    to_tip = np.clip((spread - knots[-2]) / (1 - knots[-2]), 0, 1)
    to_top = np.clip(1 - spread / knots[1], 0, 1)
    _shrink(curves, np.sqrt(1 - to_tip**2) * np.sqrt(1 - to_top**4))
    stations = {name: float(knot) for name, knot in zip(names, knots, strict=True) if name}
    sections = {name: _section(row) for name, row in nodes if name}
    return _skin(sections, stations, spread, columns, curves)


def foot_form(foot: Foot, *, rings: int = 160, columns: int = 96) -> FootForm:
    """Return a body with the measures of `foot`.

    Parameters
    ----------
    rings, columns : int
        Sections, and points on each.

    Raises
    ------
    ShapeError
        The breadths are too large for the girths.

    Examples
    --------
    >>> form = foot_form(Foot.of(length="27 cm", ball_girth="25 cm"))
    >>> form.surface.euler_characteristic, len(form.surface.edges.boundary)
    (2, 0)
    """
    return _made(foot, rings, columns)


_Row = tuple[float, float, float, float, float]


def _nodes(foot: Foot) -> list[tuple[str, _Row]]:
    """Back (forward, up), front (forward, up) and breadth of the sections that shape the form.

    Back and front run down the leg, round the heel and the ankle's bend, and along sole and instep,
    each without turning back. So no two sections cut each other.
    """
    length = foot.length.mm
    slope = np.radians(_HEEL_SLOPE)
    heel_depth = _depth(foot.heel_girth.mm, foot.heel_breadth.mm, "heel")
    tip = np.array(_HEEL_TIP) * length
    bend = tip + heel_depth * np.array([np.cos(slope), np.sin(slope)])
    instep_breadth = (foot.heel_breadth.mm + foot.ball_breadth.mm) / 2
    instep_depth = _depth(foot.instep_girth.mm, instep_breadth, "instep")
    ball_depth = _depth(foot.ball_girth.mm, foot.ball_breadth.mm, "ball")
    ankle_depth = foot.ankle_girth.mm / _perimeter(1.0, _ANKLE_RATIO)
    leg_depth = foot.leg_girth.mm / _perimeter(1.0, _LEG_RATIO)
    ankle_up = max(1.5 * foot.ankle_height.mm, bend[1] + _OVER_BEND * length)
    leg_up = max(foot.leg_height.mm, 1.15 * ankle_up)
    leg_back = _LEG_BACK * length
    ankle_front = np.array([leg_back + ankle_depth, ankle_up])
    instep_top = np.array([_INSTEP_AT * length, _ARCH * length + instep_depth])
    over, under = bend + 0.3 * (ankle_front - bend), bend + 0.3 * (instep_top - bend)
    toe_breadth, toe_depth = _TOE_BREADTH * foot.ball_breadth.mm, _TOE_DEPTH * ball_depth
    toe_at = foot.ball_length.mm + _TOE_AT * (length - foot.ball_length.mm)
    rise = _ABOVE * leg_up
    ankle_breadth, leg_breadth = _ANKLE_RATIO * ankle_depth, _LEG_RATIO * leg_depth

    def leg(up: float) -> _Row:
        return (leg_back, up, leg_back + leg_depth, up, leg_breadth)

    return [
        ("", leg(leg_up + rise)),
        ("", leg(leg_up + rise / 2)),
        ("leg", leg(leg_up)),
        ("ankle", (leg_back, ankle_up, *ankle_front, ankle_breadth)),
        ("", (0.0, _HEEL_BACK * length, *over, (ankle_breadth + foot.heel_breadth.mm) / 2)),
        ("heel", (*tip, *bend, foot.heel_breadth.mm)),
        ("", (_HEEL_SOLE * length, 0.0, *under, foot.heel_breadth.mm)),
        (
            "instep",
            (_INSTEP_AT * length, _ARCH * length, *instep_top, instep_breadth),
        ),
        (
            "ball",
            (foot.ball_length.mm, 0.0, foot.ball_length.mm, ball_depth, foot.ball_breadth.mm),
        ),
        ("", (toe_at, 0.0, toe_at, toe_depth, toe_breadth)),
        ("", (length, 0.0, length, toe_depth, toe_breadth)),
    ]


def _shrink(curves: Floats, by: Floats) -> None:
    """Shrink sections about their middles."""
    middle = (curves[:, 0:2] + curves[:, 2:4]) / 2
    for at in (0, 2):
        curves[:, at : at + 2] = middle + by[:, None] * (curves[:, at : at + 2] - middle)
    curves[:, 4] *= by


def _section(row: _Row) -> CrossSection:
    back, front, breadth = np.array(row[0:2]), np.array(row[2:4]), row[4]
    middle, axis = (back + front) / 2, front - back
    depth = float(np.linalg.norm(axis))
    slope = float(np.degrees(np.arctan2(axis[1], axis[0])))
    girth = _perimeter(depth, breadth / depth)
    return CrossSection(float(middle[0]), float(middle[1]), slope, girth, breadth / depth)


def _skin(
    named: dict[str, CrossSection],
    stations: dict[str, float],
    along: Floats,
    columns: int,
    curves: Floats,
) -> FootForm:
    back, front, breadth = curves[:, 0:2], curves[:, 2:4], curves[:, 4]
    middle, half = (back + front) / 2, (front - back) / 2
    around = np.linspace(0, 2 * np.pi, columns, endpoint=False)
    inner = slice(1, -1)
    ring = np.empty((len(along), columns, 3))
    ring[..., 0::2] = middle[:, None] + half[:, None] * np.cos(around)[:, None]
    ring[..., 1] = breadth[:, None] / 2 * np.sin(around)
    middle = np.stack([middle[:, 0], np.zeros(len(along)), middle[:, 1]], axis=-1)
    points = np.concatenate([ring[inner].reshape(-1, 3), middle[[0, -1]]])
    count = len(along) - 2
    spine = np.concatenate([np.repeat(middle[inner], columns, axis=0), middle[[0, -1]]])
    return FootForm(
        Surface(points, _strip(count, columns)),
        named,
        spine,
        np.concatenate([np.repeat(along[inner], columns), [0.0, 1.0]]),
        np.concatenate([np.tile(around, count), [0.0, 0.0]]),
        stations,
    )


def _strip(rings: int, columns: int) -> Ints:
    """Triangles of rings of points and a point at either end, facing out."""
    row, column = np.meshgrid(np.arange(rings - 1), np.arange(columns), indexing="ij")
    after = (column + 1) % columns
    a, b = row * columns + column, row * columns + after
    c, d = a + columns, b + columns
    body = np.concatenate([np.stack([a, c, b], -1), np.stack([b, c, d], -1)]).reshape(-1, 3)
    first, last = rings * columns, rings * columns + 1
    here, following = np.arange(columns), (np.arange(columns) + 1) % columns
    base = (rings - 1) * columns
    top = np.stack([np.full(columns, first), here, following], -1)
    tip = np.stack([np.full(columns, last), base + following, base + here], -1)
    return np.concatenate([body, top, tip])


def _perimeter(depth: float, ratio: float) -> float:
    """Perimeter of an ellipse of a depth and of a breadth of `ratio` times the depth."""
    long, short = max(depth, depth * ratio) / 2, min(depth, depth * ratio) / 2
    return float(4 * long * scipy.special.ellipe(1 - (short / long) ** 2))


def _depth(girth_mm: float, breadth_mm: float, what: str) -> float:
    """Depth of the ellipse of a girth and a breadth."""
    if 2 * breadth_mm >= 0.98 * girth_mm:
        raise ShapeError(
            f"a {what} {breadth_mm:.0f} mm broad and {girth_mm:.0f} mm round",
            "a girth goes round the breadth twice and the height; measure again",
        )

    def off(depth: float) -> float:
        return _perimeter(depth, breadth_mm / depth) - girth_mm

    return float(scipy.optimize.brentq(off, 1e-3 * girth_mm, girth_mm))


def tape_mm(surface: Surface, point_mm: Floats, normal: Floats) -> float:
    """Return the length of a tape drawn tight round a body in a plane.

    The hull of the cut: a tape spans hollows.

    Parameters
    ----------
    point_mm, normal : ndarray, shape (3,)
        The plane. It must cut the body in one piece.

    Raises
    ------
    ShapeError
        The plane misses the body.

    Examples
    --------
    >>> form = foot_form(Foot.of(length="16 cm", ball_girth="15.5 cm"))
    >>> ball = form.sections["ball"]
    >>> at_ball = np.array([ball.forward_mm, 0, ball.up_mm])
    >>> round(tape_mm(form.surface, at_ball, np.array([1, 0, 0])) / 10, 1)  # cm
    15.5
    """
    unit = np.asarray(normal, float) / np.linalg.norm(normal)
    height = (surface.vertices_mm - np.asarray(point_mm)) @ unit
    below = height < 0
    corners = surface.triangles
    sides = np.concatenate([corners[:, [k, (k + 1) % 3]] for k in range(3)])
    crossed = sides[below[sides[:, 0]] != below[sides[:, 1]]]  # most twice; the hull is the same
    if len(crossed) < 3:
        raise ShapeError("a plane that misses the body", "lay it through the body")
    h0, h1 = height[crossed[:, 0]], height[crossed[:, 1]]
    share = (h0 / (h0 - h1))[:, None]
    ends = surface.vertices_mm[crossed]
    cut = ends[:, 0] * (1 - share) + ends[:, 1] * share
    side = np.cross(unit, [1.0, 0, 0] if abs(unit[0]) < 0.9 else [0, 1.0, 0])
    side /= np.linalg.norm(side)
    flat = np.stack([cut @ side, cut @ np.cross(unit, side)], axis=1)
    return float(
        scipy.spatial.ConvexHull(flat).area
    )  # of a plane hull scipy's "area" is the perimeter
