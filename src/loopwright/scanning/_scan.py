"""A scan of a foot: read, set upright, measured, with what it is worth."""

from __future__ import annotations

from functools import cached_property
from pathlib import Path
from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright import units
from loopwright.choice import Choice
from loopwright.errors import ScanError
from loopwright.geometry import Surface
from loopwright.geometry.blas_threads import one_thread
from loopwright.length import Length, Origin
from loopwright.scanning._cleaning import cleaned, rims
from loopwright.scanning._files import read_mesh
from loopwright.scanning._places import LEANS_DEG, Ends, Places, places
from loopwright.scanning._remarks import flat_ends, openings, refuse_no_foot, shod, untaken
from loopwright.scanning._tapes import ScanBody
from loopwright.scanning._upright import Pose, upright
from loopwright.shown import Shown

__all__ = ["FootScan", "FootSide", "ScanTape", "measure_scan", "read_scan"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

# How long feet are that somebody scans, from a small child's to a very tall man's. mm.
_USUAL_MM: Final = (100.0, 350.0)
_POSSIBLE_MM: Final = (60.0, 450.0)
_UNITS: Final = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4}
_DOUBTFUL: Final = 1.25  # the next best stand fits worse by at least so much, or it is said
_SURE_SIDE: Final = 0.025  # of the length, see `Places.inner`


class FootSide(Choice):
    """Which foot it is."""

    LEFT = "left"
    RIGHT = "right"
    UNKNOWN = "unknown"


@attrs.frozen(eq=False)
class ScanTape:
    """A tape laid round a scan.

    Parameters
    ----------
    points_mm : ndarray, shape (n, 3), mm
        The tape; it spans hollows, and its last point joins the first.
    missing : float
        The share of it under which nothing was scanned.
    """

    points_mm: Floats
    missing: float


@attrs.frozen(eq=False, repr=False)
class FootScan(Shown):
    """A foot that was scanned, set upright and measured.

    Parameters
    ----------
    surface : Surface
        Axes: forward, left, up; the floor at 0, the heel's back at 0. As it was scanned: with its
        openings, and its triangles facing any way.
    measures : dict of str to Length
        By the fields of a foot; what could not be measured is missing.
    landmarks_mm : dict of str to ndarray, shape (3,)
    tapes : dict of str to ScanTape
        By the measure that each gives.
    side : FootSide
    unit : str
        That of the file; ``"mm"`` for a surface.
    remarks : tuple of str
        What was guessed, what is missing, what looks wrong.
    name : str
        Of the file.

    Examples
    --------
    >>> from loopwright.fitting import foot_form
    >>> from loopwright.sock import Foot
    >>> form = foot_form(Foot.of(length="24.6 cm", ball_girth="22.8 cm"))
    >>> scan = measure_scan(form.surface)
    >>> print(scan.measures["ball_girth"])
    228... ± ... mm (measured: on a scan)
    >>> tape = scan.tapes["ball_girth"]
    >>> isinstance(tape, ScanTape), tape.missing, scan.side  # a form is alike on both sides
    (True, 0.0, <FootSide.UNKNOWN: 'unknown'>)
    >>> foot = Foot.from_scan(scan)
    >>> print(foot.length)
    245.9 ± 0.5 mm (measured: on a scan)
    """

    surface: Surface
    measures: dict[str, Length]
    landmarks_mm: dict[str, Floats]
    tapes: dict[str, ScanTape]
    side: FootSide
    unit: str
    remarks: tuple[str, ...]
    name: str

    def section(self, at_mm: Floats, normal: Floats, *, within_mm: float | None = None) -> Floats:
        """Return the surface in a plane, freed of noise, its gaps bridged: shape (360, 3), mm.

        Parameters
        ----------
        at_mm, normal : ndarray, shape (3,)
            The plane.
        within_mm : float, optional
            Only what lies so near to `at_mm`: a plane may cut foot and leg.

        Raises
        ------
        ScanError
            The plane misses the foot.

        Examples
        --------
        >>> from loopwright.fitting import foot_form
        >>> from loopwright.sock import Foot
        >>> foot = Foot.of(length="24.6 cm", ball_girth="22.8 cm")
        >>> scan = measure_scan(foot_form(foot, rings=80, columns=48).surface)
        >>> leg = scan.section(np.array([50, 0, 150.0]), np.array([0, 0, 1.0]))
        >>> leg.shape, round(float(np.ptp(leg[:, 1])))  # how broad it is there
        ((360, 3), 67)
        """

        def near(points: Floats) -> NDArray[np.bool_]:
            return np.asarray(np.linalg.norm(points - at_mm, axis=1) < within_mm)

        keep = None if within_mm is None else near
        with one_thread():
            return self._body.tape(at_mm, normal, keep=keep).skin_mm

    @cached_property
    def _body(self) -> ScanBody:
        return ScanBody(self.surface.vertices_mm, self.surface.triangles)

    def __str__(self) -> str:
        said = f"{self.name}: {len(self.surface.triangles):,} triangles, {self.unit}"
        which = "" if self.side is FootSide.UNKNOWN else f", {self.side.value} foot"
        lines = [
            f"{name.replace('_', ' '):<13} {length.mm:6.1f} ± {2 * length.sd_mm:.1f} mm"
            for name, length in self.measures.items()
        ]
        notes = [f"Note: {remark}" for remark in self.remarks]
        return "\n".join([f"{said}{which}", *lines, *notes])


def read_scan(
    source: Path | str | bytes,
    *,
    unit: str | None = None,
    side: FootSide | str | None = None,
    leg_height: units.QuantityLike | None = None,
) -> FootScan:
    """Read a scan of a foot and measure it.

    Parameters
    ----------
    source : Path, str or bytes
        A PLY, OBJ or STL file of up to 500,000 triangles (200,000 of an STL in words): a bare foot
        with its ankle, lying anyhow, its sole scanned or open.
    unit : str, optional
        Of the numbers in the file, such as ``"mm"``; by default guessed from the size, and said.
    side : FootSide or str, optional
        By default guessed from the ball, where that tells it.
    leg_height : str or Quantity, optional
        How high above the floor the sock is to end; by default 0.72 of the length, where the scan
        reaches that high.

    Raises
    ------
    ScanError
        No mesh, one too large, two feet, or nothing that looks like a foot.
    MissingExtraError
        trimesh is not installed: it comes with the extra ``scan``.

    Examples
    --------
    >>> from loopwright.fitting import foot_form
    >>> from loopwright.geometry import Surface, export
    >>> from loopwright.sock import Foot
    >>> form = foot_form(Foot.of(length="27 cm", ball_girth="25 cm")).surface
    >>> in_metres = export(Surface(form.vertices_mm / 1000, form.triangles), "ply")
    >>> scan = read_scan(in_metres, leg_height="18 cm")
    >>> scan.unit, round(scan.measures["length"].mm / 10), scan.remarks[0]
    ('m', 27, 'the unit is guessed from the size: m')
    """
    path = Path(source) if isinstance(source, str) else source
    name = path.name if isinstance(path, Path) else "scan"
    points, triangles = read_mesh(path)
    scale = None if unit is None else _scale(unit)
    return _measured(points, triangles, name, scale, unit, _as_side(side), _height(leg_height))


def measure_scan(
    surface: Surface,
    *,
    side: FootSide | str | None = None,
    leg_height: units.QuantityLike | None = None,
) -> FootScan:
    """Measure a scan that another program has read; see `read_scan`.

    Raises
    ------
    ScanError
        See `read_scan`.
    """
    return _measured(
        surface.vertices_mm, surface.triangles, "scan", 1.0, "mm", _as_side(side),
        _height(leg_height),
    )  # fmt: skip


def _scale(unit: str) -> float:
    if unit in _UNITS:
        return _UNITS[unit]
    return units.to_mm(f"1 {unit}", what="unit of the scan")


def _height(leg_height: units.QuantityLike | None) -> float | None:
    return None if leg_height is None else units.to_mm(leg_height, what="leg height")


def _as_side(side: FootSide | str | None) -> FootSide | None:
    words = {each.value: each for each in FootSide}
    if side is None or isinstance(side, FootSide):
        return side
    if side in words:
        return words[side]
    raise ScanError("side", repr(side), f"expected {', '.join(words)}")


def _measured(
    points: Floats,
    triangles: Ints,
    name: str,
    scale: float | None,
    unit: str | None,
    side: FootSide | None,
    leg_height_mm: float | None,
) -> FootScan:
    with one_thread():
        clean = cleaned(points, triangles, name)
        stand = upright(clean.points, name)
        turned = clean.points @ stand.turn.T
        scale, unit, remarks = _unit(turned, scale, unit, name)
        body = _placed(scale * turned, clean.triangles)
        found_rims = rims(body.points_mm, body.triangles)
        open_at = openings(found_rims, body)
        flat = flat_ends(body)
        ends = Ends(open_at.ends.heel and flat.heel, open_at.ends.toes and flat.toes)
        found = places(body, ends, leg_height_mm=leg_height_mm)
        refuse_no_foot(found, name)
    remarks = [
        *remarks,
        *clean.remarks,
        *open_at.remarks,
        *untaken(found.lengths_mm, ends),
        *_doubts(stand, body, found),
    ]
    return FootScan(
        Surface(body.points_mm, body.triangles),
        _lengths(found),
        dict(found.landmarks_mm),
        {key: ScanTape(tape.points_mm, tape.missing) for key, tape in found.tapes.items()},
        side or _guessed_side(found, body),
        unit,
        tuple(remarks),
        name,
    )


def _unit(
    turned: Floats, scale: float | None, unit: str | None, name: str
) -> tuple[float, str, list[str]]:
    """The scale to mm, the unit's name, and what there is to say of it."""
    low = turned[turned[:, 2] - turned[:, 2].min() < 0.36 * np.ptp(turned[:, 0])]
    long = float(np.ptp(low[:, 0]))
    if scale is not None and unit is not None:
        if not _POSSIBLE_MM[0] <= scale * long <= _POSSIBLE_MM[1]:
            problem = f"a foot of {scale * long:.4g} mm, taken to be in {unit}"
            raise ScanError(name, problem, "give the file's own unit")
        return scale, unit, []
    fitting = [each for each, mm in _UNITS.items() if _USUAL_MM[0] <= mm * long <= _USUAL_MM[1]]
    if not fitting:
        raise ScanError(name, f"a foot {long:.4g} long, of no unit in use", "give its unit")
    usual = min(fitting, key=lambda each: abs(np.log(_UNITS[each] * long / 250)))
    told = [f"the unit is guessed from the size: {usual}"]
    if others := [each for each in fitting if each != usual]:
        told = [f"{told[0]}; it may be {' or '.join(others)}"]
    return _UNITS[usual], usual, told


def _placed(points: Floats, triangles: Ints) -> ScanBody:
    """With the floor at 0, the heel's back at 0 and the foot's middle at 0."""
    low = points[points[:, 2] - points[:, 2].min() < 0.3 * np.ptp(points[:, 0])]
    middle = (low[:, 1].max() + low[:, 1].min()) / 2
    return ScanBody(points - [low[:, 0].min(), middle, points[:, 2].min()], triangles)


def _lengths(found: Places) -> dict[str, Length]:
    order = (
        *("length", "ball_girth", "instep_girth", "heel_girth", "ankle_girth", "leg_girth"),
        *("leg_height", "calf_girth", "ball_length", "heel_breadth", "ball_breadth"),
    )
    return {
        name: Length(*found.lengths_mm[name], Origin.MEASURED, "on a scan")
        for name in order
        if name in found.lengths_mm
    }


def _guessed_side(found: Places, body: ScanBody) -> FootSide:
    """A right foot's inner side is on its left, and there the ball lies farther forward."""
    if abs(found.inner) < _SURE_SIDE * float(np.ptp(body.points_mm[:, 0])):
        return FootSide.UNKNOWN
    return FootSide.RIGHT if found.inner > 0 else FootSide.LEFT


def _doubts(stand: Pose, body: ScanBody, found: Places) -> list[str]:
    doubts = []
    if stand.second < _DOUBTFUL * stand.misfit:
        doubts.append("it could lie another way as well: look at the picture")
    if shod(body):
        doubts.append("it stands like a shoe, flat all over with upright sides: scan a bare foot")
    if found.leans_deg > LEANS_DEG:
        doubts.append(
            f"the leg leans by {found.leans_deg:.0f} degrees: it is taped square to itself"
        )
    wide = [name.replace("_", " ") for name, tape in found.tapes.items() if tape.missing > 0.1]
    if wide:
        doubts.append(f"a tenth and more of the way round was not scanned: {', '.join(wide)}")
    return doubts
