"""Where a tape goes on a scan that stands upright, and what it reads there.

Places are those of the survey and of the foot form: the ball over both its bony sides, the instep
at 0.55 of the length. The other two are the heel girth over the heel's tip and the front of the
ankle, and the ankle where the leg is thinnest. Each is looked for in the surface. Where a place
isn't sharp, the measure is taken to either side of it too, and what that changes is part of its
uncertainty. A tape follows the shortest way: the heel's is tilted until it is shortest, and lies
where that is longest, which is what a sock must pass.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

import attrs
import numpy as np
import scipy
from numpy.typing import NDArray

from loopwright.errors import ScanError
from loopwright.scanning._extremes import outermost
from loopwright.scanning._tapes import ScanBody, Tape

__all__ = ["LEANS_DEG", "Ends", "Places", "places"]

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

BALL: Final = 0.74  # survey of 6,068 feet: ball length / foot length 0.741 men, 0.739 women
INSTEP: Final = 0.55  # common practice: over the highest point of the arch
LEG: Final = 0.72  # from memory: where a sock's leg ends, of the foot's length
_CALF: Final = 1.10  # of the length: a leg scanned to above that may show its calf
_FOOT: Final = 0.36  # of the length: what lies below, in front, is the foot
_CUT: Final = 0.48  # of the length: of an upright cut through the foot, what lies above is the leg
_FLOOR_MM: Final = 0.6  # what a tape on the smoothed surface is uncertain by at least; no source
_HEEL_REACH, _TOE_REACH = 0.05, 0.035  # of the length: where the ends are round enough for a bowl
_TURNED_DEG: Final = 1.5  # how far the stand may be off: a synthetic foot's is within 0.5
_ABOVE: Final = 0.025  # of the length: two tapes round the ankle lie no farther apart
_WAISTED: Final = 1.42  # heel girth to ankle girth, from which on the ankle is a waist
_SMALL_HEEL: Final = 0.25  # of what the heel girth lacks of it: from forms with heels drawn small
_TO_LEAN: Final = 0.15  # of the length: so much leg must be there to see which way it goes
_MISSING: Final = 0.05  # of the way round: a tape with less of it is taken as whole
_HEEL_OPEN_MM: Final = 6.0  # of uncertainty: more of the tape over the heel hangs in the air
LEANS_DEG: Final = 8.0  # a leg that leans less is taped level, as it is when one stands
_LEANS_TRIED_DEG: Final = (-28.0, -21.0, -14.0, -7.0, 0.0, 7.0, 14.0, 21.0, 28.0)
_TILTS_DEG: Final = (15.0, 75.0)  # of the tape over the heel, from the floor up


@attrs.frozen
class Ends:
    """Which ends of a foot are there.

    Parameters
    ----------
    heel, toes : bool
    """

    heel: bool = True
    toes: bool = True


@attrs.frozen(eq=False)
class Places:
    """What was found.

    Parameters
    ----------
    lengths_mm : mapping of str to tuple of float
        Measure and uncertainty by the name of a field of a foot.
    landmarks_mm : mapping of str to ndarray, shape (3,)
    tapes : mapping of str to Tape
        By the measure that each gives.
    inner : float
        How much farther forward the ball is on the left than on the right, mm: a right foot's
        inner side is on its left, and its ball lies farther forward there.
    leans_deg : float
        How far the leg leans; girths are taken square to one that leans more than 8 degrees.
    """

    lengths_mm: Mapping[str, tuple[float, float]]
    landmarks_mm: Mapping[str, Floats]
    tapes: Mapping[str, Tape]
    inner: float
    leans_deg: float


@attrs.define(eq=False)
class _Finder:
    body: ScanBody
    length: float
    back: float  # where the heel's back is, or would be
    lengths: dict[str, tuple[float, float]] = attrs.field(factory=dict)
    marks: dict[str, Floats] = attrs.field(factory=dict)
    tapes: dict[str, Tape] = attrs.field(factory=dict)
    leg: tuple[Floats, Floats] | None = None
    leans_deg: float = 0.0

    def at(self, share: float) -> float:
        return self.back + share * self.length

    def foot(self, points: Floats) -> Bools:
        return np.asarray(points[:, 2] < _CUT * self.length)

    def upright_cut(self, forward: float, turn_rad: float = 0.0, y: float = 0.0) -> Tape:
        at = np.array([forward, y, 0.1 * self.length])
        normal = np.array([np.cos(turn_rad), np.sin(turn_rad), 0.0])
        return self.body.tape(at, normal, keep=self.foot)

    def level_cut(self, up: float) -> Tape:
        return self.body.tape(np.array([0.0, 0.0, up]), np.array([0.0, 0.0, 1.0]))

    def leg_cut(self, up: float) -> Tape:
        """Round the leg where its middle is so high: level, or square to a leg that leans."""
        if self.leg is None:
            return self.level_cut(up)
        at, along = self.leg
        middle = at + (up - at[2]) / along[2] * along
        return self.body.tape(middle, along, keep=lambda q: np.asarray(
            np.linalg.norm(q - middle, axis=1) < 0.4 * self.length))  # fmt: skip

    def lean(self, up: float) -> None:
        """Find which way the leg goes at its thinnest: square to where it is shortest round."""
        cut = self.level_cut(up).points_mm
        middle = (cut.min(axis=0) + cut.max(axis=0)) / 2
        near = 0.35 * self.length
        ways = [np.array([np.sin(a), 0.0, np.cos(a)]) for a in np.radians(_LEANS_TRIED_DEG)]
        girths = [
            self.body.tape(
                middle, way, keep=lambda q: np.asarray(np.linalg.norm(q - middle, axis=1) < near)
            ).length_mm
            for way in ways
        ]
        degrees, _ = _peak(np.array(_LEANS_TRIED_DEG), -np.array(girths))
        if abs(degrees) > LEANS_DEG:
            self.leans_deg = abs(degrees)
            angle = np.radians(degrees)
            self.leg = (middle, np.array([np.sin(angle), 0.0, np.cos(angle)]))

    def keep(self, name: str, tape: Tape, sd: float) -> None:
        self.tapes[name] = tape
        self.lengths[name] = (tape.length_mm, float(np.hypot(max(sd, _FLOOR_MM), tape.sd_mm)))


def places(body: ScanBody, ends: Ends, *, leg_height_mm: float | None = None) -> Places:
    """Find the places on a scan whose sole is down and whose toes look forward.

    Parameters
    ----------
    ends : Ends
        What is missing can't be measured from.
    leg_height_mm : float, optional
        Where the sock is to end; by default 0.72 of the length, where the scan reaches that far.
    """
    p = body.points_mm
    low = p[:, 2] < _FOOT * np.ptp(p[:, 0])
    foot = body.triangles[low[body.triangles].all(axis=1)]
    rough = float(np.ptp(p[low, 0]))
    heel, heel_sd = outermost(p, foot, np.array([-1.0, 0, 0]), _HEEL_REACH * rough)
    toe, toe_sd = outermost(p, foot, np.array([1.0, 0, 0]), _TOE_REACH * rough)
    length = float(toe[0] - heel[0])
    find = _Finder(body, length, float(heel[0]))
    inner = _ball(find, ends)
    if ends.heel and ends.toes:
        find.lengths["length"] = (length, float(np.hypot(heel_sd, toe_sd)))
    if ends.heel:
        find.marks["back of the heel"] = heel
    if ends.toes:
        find.marks["longest toe"] = toe
    for step in (_instep, _heel, _ankle):
        _if_scanned(step, find, ends)
    _leg(find, leg_height_mm)
    return Places(find.lengths, find.marks, find.tapes, inner, find.leans_deg)


def _if_scanned(step: Callable[[_Finder, Ends], None], find: _Finder, ends: Ends) -> None:
    try:
        step(find, ends)
    except ScanError:
        return  # what isn't there isn't measured, and the caller says which measures are missing


def _ball(find: _Finder, ends: Ends) -> float:
    """Both sides of the ball, its tape, and from them the foot's ends where they are missing."""
    reach = np.arange(find.at(0.56), find.at(0.86), max(2.0, 0.01 * find.length))
    cuts = [find.upright_cut(x).points_mm for x in reach]
    left = _peak(reach, np.array([cut[:, 1].max() for cut in cuts]))
    right = _peak(reach, np.array([-cut[:, 1].min() for cut in cuts]))
    (left_x, left_y), (right_x, right_y) = left, right
    apart = left_x - right_x
    if not (ends.heel and ends.toes):
        ball = (left_x + right_x) / 2 if abs(apart) < _SAME * find.length else max(left_x, right_x)
        _stretched(find, ball, ends)
    turn = np.arctan2(apart, left_y + right_y)
    middle = (left_x + right_x) / 2
    tape = find.upright_cut(middle, -turn, (left_y - right_y) / 2)
    near = [find.upright_cut(middle + s, -turn, (left_y - right_y) / 2).length_mm for s in (-2, 2)]
    find.keep("ball_girth", tape, abs(near[1] - near[0]) / 4 * _PLACE_MM)
    inner_x = middle if abs(apart) < _SAME * find.length else max(left_x, right_x)
    if ends.heel:
        find.lengths["ball_length"] = (inner_x - find.back, _PLACE_MM)
    find.lengths["ball_breadth"] = (left_y + right_y, _FLOOR_MM)
    for name, x, y in (("left", left_x, left_y), ("right", right_x, -right_y)):
        cut = find.upright_cut(x).points_mm
        find.marks[f"ball, {name} side"] = cut[np.abs(cut[:, 1] - y).argmin()]
    return float(apart)


_SAME: Final = 0.025  # of the length: sides of the ball nearer than that tell no left from right
_PLACE_MM: Final = 2.0  # how well the ball's place along the foot is found


def _peak(x: Floats, y: Floats) -> tuple[float, float]:
    """Where a line of readings is highest inside, and how high; its end where it only climbs."""
    inside = np.flatnonzero((y[1:-1] >= y[:-2]) & (y[1:-1] >= y[2:])) + 1
    top = int(inside[y[inside].argmax()]) if len(inside) else int(y.argmax())
    near = slice(max(top - 4, 0), top + 5)
    away = x[near] - x[top]
    # A cubic: to one side of its peak a foot falls off faster than to the other.
    curve = np.polynomial.Polynomial.fit(away, y[near], 3)
    level = curve.deriv().roots()
    peaks = [
        float(one.real) for one in level
        if abs(one.imag) < 1e-9 and away[0] <= one.real <= away[-1] and curve.deriv(2)(one.real) < 0
    ]  # fmt: skip
    at = max(peaks, key=curve, default=0.0)
    return float(x[top] + at), float(curve(at)) if peaks else float(y[top])


def _stretched(find: _Finder, ball: float, ends: Ends) -> None:
    """Guess the length that isn't there from where the ball is."""
    if ends.heel:
        find.length = (ball - find.back) / BALL
    elif ends.toes:
        front = find.back + find.length
        find.length = (front - ball) / (1 - BALL)
        find.back = front - find.length


def _instep(find: _Finder, ends: Ends) -> None:
    tape = find.upright_cut(find.at(INSTEP))
    # Half a hundredth of the length to either side, more where the length is guessed.
    off = (0.005 if ends.heel and ends.toes else 0.03) * find.length
    near = [find.upright_cut(find.at(INSTEP) + s * off).length_mm for s in (-1, 1)]
    tilted = _tilted(find, np.array([find.at(INSTEP), 0, 0.1 * find.length]), tape)
    find.keep("instep_girth", tape, float(np.hypot(abs(near[1] - near[0]) / 2, tilted)))
    top = tape.points_mm[tape.points_mm[:, 2].argmax()]
    find.marks["instep"] = top


def _tilted(find: _Finder, at: Floats, tape: Tape) -> float:
    """What a stand that is a little off changes."""
    angle = np.radians(_TURNED_DEG)
    found = [
        find.body.tape(at, np.array([np.cos(a), 0, np.sin(a)]), keep=find.foot).length_mm
        for a in (-angle, angle)
    ]
    return float(np.abs(np.array(found) - tape.length_mm).mean())


def _heel(find: _Finder, ends: Ends) -> None:
    """The shortest way over the heel and the ankle's front, where that is longest."""
    if not ends.heel:
        return

    def over(pivot: Floats, slope_deg: float) -> Tape:
        slope = np.radians(slope_deg)
        normal = np.array([-np.sin(slope), 0.0, np.cos(slope)])
        return find.body.tape(pivot, normal)

    def shortest(pivot: Floats) -> tuple[float, float]:
        found = scipy.optimize.minimize_scalar(
            lambda slope: over(pivot, slope).length_mm, bounds=_TILTS_DEG, method="bounded",
            options={"xatol": 2.0, "maxiter": 7},
        )  # fmt: skip
        return float(found.fun), float(found.x)

    contour = _heel_contour(find)
    readings = [shortest(place) for place in contour]
    best = int(np.argmax([reading[0] for reading in readings]))
    pivot, slope = contour[best], readings[best][1]
    tape = over(pivot, slope)
    near = [readings[k][0] for k in (best - 1, best + 1) if 0 <= k < len(readings)]
    spread = float(np.mean(np.abs(np.array(near) - tape.length_mm))) if near else 3.0
    if tape.sd_mm > _HEEL_OPEN_MM:
        return  # the scan ends below the front of the ankle
    find.keep("heel_girth", tape, float(np.hypot(spread, 0.8)))
    find.marks["tip of the heel"] = pivot
    front = tape.points_mm[(tape.points_mm @ np.array([1.0, 0, 1.0])).argmax()]
    find.marks["front of the ankle"] = front
    way = np.array([np.cos(np.radians(slope)), 0.0, np.sin(np.radians(slope))])
    along = (tape.skin_mm - pivot) @ way
    behind = tape.skin_mm[along < 0.6 * along.max()]
    find.lengths["heel_breadth"] = (float(np.ptp(behind[:, 1])), 1.0)


def _heel_contour(find: _Finder) -> Floats:
    """Places on the heel's back and underside, in the middle, from the back down to the sole."""
    middle = find.body.tape(
        np.array([find.at(0.1), _heel_middle(find), 0.1 * find.length]), np.array([0.0, 1.0, 0.0]),
        keep=lambda q: np.asarray((q[:, 0] < find.at(0.32)) & (q[:, 2] < 0.32 * find.length)),
    ).skin_mm  # fmt: skip
    centre = np.array([find.at(0.13), 0.13 * find.length])
    turn = np.degrees(np.arctan2(middle[:, 2] - centre[1], middle[:, 0] - centre[0])) % 360
    wanted = np.arange(192.0, 262.0, 11.0)
    picked = [int(np.abs(turn - each).argmin()) for each in wanted]
    return np.asarray(middle[picked])


def _heel_middle(find: _Finder) -> float:
    cut = find.upright_cut(find.at(0.14)).skin_mm[:, 1]
    return float((cut.min() + cut.max()) / 2)


def _ankle(find: _Finder, ends: Ends) -> None:
    """The smallest girth of the leg above the heel's tape."""
    top = _top(find)
    heights = np.arange(0.26 * find.length, min(top, 0.75 * find.length), 0.025 * find.length)
    if len(heights) < 4:
        return
    level = [find.level_cut(up).length_mm for up in heights]
    thinnest = float(heights[int(np.argmin(level))])
    if thinnest < top - _TO_LEAN * find.length:
        find.lean(thinnest)
    tapes = [find.leg_cut(up) for up in heights]
    whole = np.array([tape.missing < _MISSING for tape in tapes])  # a gap makes a tape short
    if whole.sum() < 4:
        whole[:] = True
    girths = np.array([tape.length_mm for tape in tapes])[whole]
    inside = np.flatnonzero((girths[1:-1] <= girths[:-2]) & (girths[1:-1] <= girths[2:])) + 1
    if not len(inside):
        return  # the scan ends before the leg grows again
    at, _ = _peak(heights[whole], -girths)
    tape = find.leg_cut(at)
    beside = bool((~whole & (np.abs(heights - at) < 0.06 * find.length)).any())
    # Just above the thinnest place a hand may lay the tape as well.
    above = abs(find.leg_cut(at + _ABOVE * find.length).length_mm - tape.length_mm)
    unsure = np.hypot(3.0 if beside else above, _unsure_of_ankle_mm(find, tape.length_mm))
    find.keep("ankle_girth", tape, float(unsure))
    find.marks["thinnest of the leg"] = tape.points_mm[tape.points_mm[:, 0].argmax()]


def _unsure_of_ankle_mm(find: _Finder, ankle_mm: float) -> float:
    """Beside a small heel the leg is thinnest where it bends, and a hand tapes higher up."""
    heel_mm, _ = find.lengths.get("heel_girth", (_WAISTED * ankle_mm, 0.0))
    return _SMALL_HEEL * max(0.0, _WAISTED * ankle_mm - heel_mm)


def _top(find: _Finder) -> float:
    """How high the scan goes all the way round."""
    up = find.body.points_mm[:, 2]
    for height in np.arange(up.max() - 3.0, 0.3 * find.length, -3.0):
        try:
            if find.level_cut(float(height)).missing < _MISSING:
                return float(height)
        except ScanError:
            continue
    return 0.0


def _leg(find: _Finder, height_mm: float | None) -> None:
    top = _top(find)
    wanted = LEG * find.length if height_mm is None else height_mm
    if height_mm is not None:
        find.lengths["leg_height"] = (height_mm, _FLOOR_MM)
    if wanted <= top and "ankle_girth" in find.lengths:
        tape = find.leg_cut(wanted)
        near = [
            find.leg_cut(wanted + step).length_mm for step in (-3.0, 3.0) if wanted + step <= top
        ]
        spread = float(np.mean(np.abs(np.array(near) - tape.length_mm)) / 2)
        # Where the leg leans, a hand may lay the tape level as well as square to it.
        level = (1 - np.cos(np.radians(find.leans_deg))) * tape.length_mm
        find.keep("leg_girth", tape, float(np.hypot(spread, level / 2)))
        find.lengths["leg_height"] = (wanted, 1.0)
    heights = np.arange(0.8 * find.length, top, 8.0)
    if top > _CALF * find.length and len(heights) > 4:
        girths = np.array([find.leg_cut(up).length_mm for up in heights])
        if 1 < girths.argmax() < len(girths) - 1:
            find.keep("calf_girth", find.leg_cut(float(heights[girths.argmax()])), 1.0)
