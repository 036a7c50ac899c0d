"""What looks wrong with a scan: openings, ends that are missing, a shoe, a tube that is no foot."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.errors import ScanError
from loopwright.plurals import plural
from loopwright.scanning._cleaning import Rim
from loopwright.scanning._places import Ends, Places
from loopwright.scanning._tapes import ScanBody

__all__ = ["Openings", "flat_ends", "openings", "refuse_no_foot", "shod", "untaken"]

Floats = NDArray[np.float64]

_CUT_MM2: Final = 700.0  # of a foot of 250 mm: an end that is flat over more than that was cut off
_CUT_DEPTH_MM: Final = 1.5
_CUT_DEG: Final = 10.0
_LARGE_HOLE_MM: Final = 15.0  # round its edge; smaller ones are a scanner's everyday
# Ratios of the survey's 6,068 feet with room of 3.5 to 5 standard deviations; a level tube has a
# breadth of 0.32 of its girth, and a sock laid flat one of 0.5.
_RATIOS: Final = (
    ("ball_breadth", "ball_girth", 0.35, 0.46, "the ball's breadth to its girth"),
    ("ball_girth", "length", 0.72, 1.15, "the ball girth to the length"),
    ("heel_girth", "ball_girth", 1.15, 1.62, "the heel girth to the ball girth"),
    ("ankle_girth", "ball_girth", 0.70, 1.20, "the ankle girth to the ball girth"),
    ("heel_breadth", "ball_breadth", 0.50, 1.00, "the heel's breadth to the ball's"),
)
_WALL: Final = 0.93  # breadth just over the floor to the largest: a foot is round below


@attrs.frozen(eq=False)
class Openings:
    """The openings of a scan by what they are.

    Parameters
    ----------
    ends : Ends
    sole : bool
        The sole is open.
    remarks : tuple of str
    """

    ends: Ends
    sole: bool
    remarks: tuple[str, ...]


def openings(rims: tuple[Rim, ...], body: ScanBody) -> Openings:
    """Tell the leg's cut, an open sole and missing ends from holes."""
    low, high = body.points_mm.min(axis=0), body.points_mm.max(axis=0)
    foot = body.points_mm[body.points_mm[:, 2] < 0.3 * (high - low)[0]]
    back, length = float(foot[:, 0].min()), float(np.ptp(foot[:, 0]))
    heel, toes = (
        not any(_is_across(rim, back + share * length, way, length) for rim in rims)
        for share, way in ((0.16, -1), (0.84, 1))
    )
    sole, remarks, holes = False, [], []
    for rim in rims:
        if rim.round_mm < _LARGE_HOLE_MM:
            continue
        reach = rim.extent_mm / length
        share = (rim.middle_mm[0] - back) / length
        up = (rim.middle_mm[2] - low[2]) / length
        if rim.points_mm[:, 2].max() > high[2] - 0.1 * length and max(reach[:2]) > 0.15:
            continue  # the leg's cut
        if up < 0.12 and reach[0] > 0.25 and reach[2] < 0.15:
            sole = True
        elif 0.16 <= share <= 0.84 or (heel and toes):
            holes.append((rim, share, up))
    if sole:
        remarks.append("the sole is open: tapes go straight across it")
    if holes:
        places = ", ".join(
            f"{_where(share, up)} ({rim.round_mm:.0f} mm round)" for rim, share, up in holes[:4]
        )
        more = f" and {len(holes) - 4} more" if len(holes) > 4 else ""
        remarks.append(f"{plural(len(holes), 'hole')}: {places}{more}")
    return Openings(Ends(heel, toes), sole, tuple(remarks))


def _is_across(rim: Rim, beyond: float, way: int, length: float) -> bool:
    """Whether an opening, or a part of it, takes an end of the foot away."""
    p = rim.points_mm
    here = p[((p[:, 0] - beyond) * way > 0) & (p[:, 2] < 0.3 * length)]
    if len(here) < 3:
        return False
    _, broad, high = np.ptp(here, axis=0)
    return bool(broad > 0.1 * length and high > (0.1 if way < 0 else 0.05) * length)


def _where(share: float, up: float) -> str:
    along = ("heel", "instep", "ball", "toes")[int(np.searchsorted((0.33, 0.62, 0.82), share))]
    if up > 0.3:
        return "at the leg"
    return f"under the {along}" if up < 0.04 else f"at the {along}"


def flat_ends(body: ScanBody) -> Ends:
    """Tell ends that were cut and closed: no heel and no toe is flat across."""
    p = body.points_mm
    length = float(np.ptp(p[:, 0]))
    corners = p[body.triangles]
    corners = corners[(corners[:, :, 2] < p[:, 2].min() + 0.36 * length).all(axis=1)]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    area = np.linalg.norm(normal, axis=1) / 2
    ahead = np.abs(normal[:, 0]) > np.cos(np.radians(_CUT_DEG)) * 2 * area
    x = corners[:, :, 0]
    allowed = _CUT_MM2 * (length / 250) ** 2
    back = area[ahead & (x.max(axis=1) < x.min() + _CUT_DEPTH_MM)].sum()
    front = area[ahead & (x.min(axis=1) > x.max() - _CUT_DEPTH_MM)].sum()
    return Ends(bool(back < allowed), bool(front < allowed))


def untaken(taken: Mapping[str, object], ends: Ends) -> Iterator[str]:
    """Say which measures could not be taken, and why."""
    if not ends.heel:
        yield "the heel is missing: length, ball length and heel girth are not measured"
    if not ends.toes:
        yield "the toes are cut: the length is not measured, and places are found from the ball"
    if ends.heel and "heel_girth" not in taken:
        yield "the heel girth is not measured: nothing was scanned in front of the ankle"
    if "ankle_girth" not in taken:
        yield "the scan ends before the leg grows thicker again: the ankle girth is not measured"
    elif "leg_girth" not in taken:
        yield "the scan ends below the sock's edge: the leg girth is not measured"


def refuse_no_foot(found: Places, name: str) -> None:
    """Refuse what has the outline of a foot and the girths of something else.

    Raises
    ------
    ScanError
        A ratio that no foot has.
    """
    taken = {key: mm for key, (mm, _) in found.lengths_mm.items()}
    for part, whole, least, most, words in _RATIOS:
        if part not in taken or whole not in taken:
            continue
        ratio = taken[part] / taken[whole]
        if least <= ratio <= most:
            continue
        kind = ""
        if part == "ball_breadth":
            kind = (
                ": round as a tube, a sock perhaps" if ratio < least else ": flat, a sock perhaps"
            )
        if part == "heel_girth" and ratio < least:
            kind = ": a sock perhaps"
        problem = f"no foot: {words} is {ratio:.2f}, on feet {least:g} to {most:g}{kind}"
        raise ScanError(name, problem, "scan a bare foot with its ankle")


def shod(body: ScanBody) -> bool:
    """Whether it stands like a shoe: at the floor nearly as broad as anywhere above."""
    p = body.points_mm
    floor, length = p[:, 2].min(), float(np.ptp(p[:, 0]))
    corners = p[body.triangles]
    middle = corners.mean(axis=1)
    low = middle[:, 2] < floor + 0.3 * length
    bins = np.floor((middle[low, 0] - p[:, 0].min()) / (0.02 * length)).astype(int)
    y, z = middle[low, 1], middle[low, 2] - floor
    walls = []
    for k in range(10, 40):
        here = bins == k
        if here.sum() < 8:
            continue
        at_floor = here & (z < 0.02 * length)
        if at_floor.sum() > 3:
            walls.append(
                np.ptp(y[at_floor]) / max(float(np.ptp(y[here & (z < 0.15 * length)])), 1e-9)
            )
        else:
            walls.append(0.0)
    return bool(walls and float(np.median(walls)) > _WALL)
