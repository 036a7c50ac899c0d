"""A foot form laid on a scan: the form's own sections, each as wide as the scan is there.

The rings and columns stay those of the form of the scan's measures, so that a sock is put on in the
same way. Each ring's points lie on the scan, in their direction from its middle. Where nothing was
scanned (a hole, above the leg's cut) the form goes on, as wide as the nearest ring was found beside
it.
"""

from __future__ import annotations

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.border import guarded
from loopwright.errors import ScanError
from loopwright.fitting._footform import FootForm, foot_form
from loopwright.geometry import Surface
from loopwright.scanning import FootScan
from loopwright.sock import Foot

__all__ = ["scanned_form"]

Floats = NDArray[np.float64]

_BESIDE = 1.35  # of a ring's own reach: what lies farther off is another part of the body
_MORE_MM = 12.0
_EDGE_MM = 5.0
_LIKE = 0.6  # a section that reaches less than that of the ring's own reach is but a piece of it


@guarded
def scanned_form(
    scan: FootScan, foot: Foot | None = None, *, rings: int = 160, columns: int = 96
) -> FootForm:
    """Return a body on a scan's surface, to drape a sock on.

    Parameters
    ----------
    scan : FootScan
    foot : Foot, optional
        With measures for what wasn't scanned; by default those of the scan and estimates.
    rings, columns : int
        Sections, and points on each.

    Raises
    ------
    ShapeError
        The breadths are too large for the girths.

    Examples
    --------
    >>> from loopwright.scanning import measure_scan
    >>> foot = Foot.of(length="16 cm", ball_girth="15.5 cm")
    >>> scan = measure_scan(foot_form(foot).surface)
    >>> form = scanned_form(scan, rings=40, columns=24)
    >>> form.surface.euler_characteristic, len(form.surface.edges.boundary)
    (2, 0)
    """
    base = foot_form(foot or Foot.from_scan(scan), rings=rings, columns=columns)
    p, count = base.surface.vertices_mm, rings - 2
    ring = p[:-2].reshape(count, columns, 3)
    spine = base.spine_mm[:-2].reshape(count, columns, 3)[:, 0]
    placed = [_on_scan(scan, points, middle) for points, middle in zip(ring, spine, strict=True)]
    there = np.array([found is not None for found in placed])
    stretch, moved = _beside(ring, spine, placed, there)
    rows, middles = [], []
    for k, found in enumerate(placed):
        middle = spine[k] + moved[k]
        rows.append(middle + stretch[k] * (ring[k] - spine[k]) if found is None else found[0])
        middles.append(middle if found is None else found[1])
    ends = p[-2:] + moved[[0, -1]]
    if (toe := scan.landmarks_mm.get("longest toe")) is not None:
        ends[1] = toe
    points = np.concatenate([np.concatenate(rows), ends])
    inner = np.repeat(np.array(middles), columns, axis=0)
    return attrs.evolve(
        base,
        surface=Surface(points, base.surface.triangles),
        spine_mm=np.concatenate([inner, ends]),
    )


def _on_scan(scan: FootScan, ring: Floats, middle: Floats) -> tuple[Floats, Floats] | None:
    """The ring's points on the scan, and their middle; None where the scan isn't there."""
    if ring[:, 2].max() > scan.surface.vertices_mm[:, 2].max() - _EDGE_MM:
        return None  # a leg's cut is ragged
    top, left = ring[0] - middle, np.array([0.0, 1.0, 0.0])
    reach = float(np.linalg.norm(ring - middle, axis=1).max())
    top /= np.linalg.norm(top)
    try:
        skin = scan.section(middle, np.cross(top, left), within_mm=_BESIDE * reach + _MORE_MM)
    except ScanError:
        return None
    flat = np.stack([(skin - middle) @ top, (skin - middle) @ left], axis=1)
    centre = (flat.min(axis=0) + flat.max(axis=0)) / 2
    if np.ptp(flat, axis=0).max() < _LIKE * 2 * reach:
        return None
    turn = np.arctan2(*(flat - centre).T[::-1])
    order = np.argsort(turn)
    wanted = np.arctan2((ring - middle) @ left, (ring - middle) @ top)
    far = np.interp(wanted, turn[order], np.hypot(*(flat - centre).T)[order], period=2 * np.pi)
    place = centre + far[:, None] * np.stack([np.cos(wanted), np.sin(wanted)], axis=1)
    axes = np.stack([top, left])
    return middle + place @ axes, middle + centre @ axes


def _beside(
    ring: Floats,
    spine: Floats,
    placed: list[tuple[Floats, Floats] | None],
    there: NDArray[np.bool_],
) -> tuple[Floats, Floats]:
    """How much wider than the form, and how far from it, the scan is beside each ring."""
    known = np.flatnonzero(there)
    if not len(known):
        return np.ones(len(ring)), np.zeros((len(ring), 3))
    wider, moved = [], []
    for k in known:
        found = placed[k]
        assert found is not None
        own = np.linalg.norm(ring[k] - spine[k], axis=1).mean()
        wider.append(np.linalg.norm(found[0] - found[1], axis=1).mean() / max(own, 1e-9))
        moved.append(found[1] - spine[k])
    at = np.arange(len(ring))
    return (
        np.interp(at, known, wider),
        np.stack([np.interp(at, known, np.array(moved)[:, k]) for k in range(3)], axis=1),
    )
