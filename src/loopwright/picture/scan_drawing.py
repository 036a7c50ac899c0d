"""A scan of a foot, drawn from its left and from above, with its tapes and landmarks."""

from __future__ import annotations

from typing import Final
from xml.etree import ElementTree as ET

import numpy as np
import scipy
from numpy.typing import NDArray

from loopwright.border import guard
from loopwright.picture.svg import INK, PAPER, Picture, circle, group, label, path, text_width
from loopwright.plurals import plural
from loopwright.scanning import FootScan
from loopwright.shown import shows

__all__ = ["draw_scan"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_CELLS: Final = 54  # to the longest extent: of 500,000 triangles a few thousand are drawn
_SEAM: Final = 2.5  # px: where four cells meet, a triangle may be left out between them
_SHADES: Final = 12
_MARGIN: Final = 16.0
_LINE: Final = 15.0  # px, of the words below
_TAPE: Final = "#b3430f"
_EDGE: Final = "#1f5fa8"
_LEVEL: Final = ("ankle_girth", "leg_girth", "calf_girth")  # from above they only cover the foot
_HELD: Final = ("#e9e4dc", "#8d857a")  # lightest and darkest of the skin


def draw_scan(scan: FootScan, *, size: float = 420.0) -> Picture:
    """Return a scan with the places that were measured.

    Parameters
    ----------
    scan : FootScan
    size : float, px
        The foot's length in the drawing.

    Examples
    --------
    >>> from loopwright.fitting import foot_form
    >>> from loopwright.scanning import measure_scan
    >>> from loopwright.sock import Foot
    >>> form = foot_form(Foot.of(length="24.6 cm", ball_girth="22.8 cm"), rings=80, columns=48)
    >>> picture = draw_scan(measure_scan(form.surface))
    >>> print(picture.description)
    Length 24.6 cm, ball girth 22... cm, ...; 8 landmarks.
    """
    points, triangles = _thinned(scan)
    scale = size / max(float(np.ptp(points[:, 0])), 1.0)
    body, y, width = [], _MARGIN, 0.0
    for view in (_SIDE, _ABOVE):
        flat, low, extent = _flat(points, view, scale)
        drawn = [
            *_skin(flat, points @ view[2], _seen(flat, points @ view[2], triangles)),
            _openings(scan, view, scale, low),
            *_tapes(scan, view, scale, low),
            *_marks(scan, view, scale, low),
        ]
        body.append(group(drawn, transform=f"translate({_MARGIN:g} {y:.1f})"))
        y += float(extent[1]) + 1.5 * _MARGIN
        width = max(width, float(extent[0]))
    words = [*_measures(scan), *_landmarks(scan)]
    half = (len(words) + 1) // 2
    apart = max((text_width(text, 10) for _, text in words[:half]), default=0.0) + 40
    for place, (sign, text) in enumerate(words):
        x, down = _MARGIN + (apart if place >= half else 0.0), y + _LINE * (place % half + 1)
        body.append(label(x, down, sign, size=10, fill=_TAPE if sign.isdigit() else INK))
        body.append(label(x + 18, down, text, size=10))
    y += _LINE * (half + 1)
    edges = ["Blue: where the surface ends."] if len(scan.surface.edges.boundary) else []
    for remark in (*edges, *scan.remarks):
        for line in _folded(remark, 92):
            y += _LINE
            body.append(label(_MARGIN, y, line, size=10))
    wide = max(width, 2 * apart, 92 * 6.0) + 2 * _MARGIN
    return Picture(wide, y + _MARGIN, f"A scan of a foot: {scan.name}", _said(scan), tuple(body))


# Rightward and downward on the sheet, and toward the eye: seen from the foot's left, from above.
_SIDE: Final = np.array([[-1.0, 0, 0], [0, 0, -1.0], [0, 1.0, 0]])
_ABOVE: Final = np.array([[-1.0, 0, 0], [0, -1.0, 0], [0, 0, 1.0]])


def _thinned(scan: FootScan) -> tuple[Floats, Ints]:
    """The surface in larger triangles: points that share a cell of a grid are one."""
    p, triangles = scan.surface.vertices_mm, scan.surface.triangles
    size = float(np.ptp(p, axis=0).max()) / _CELLS
    cell = np.floor((p - p.min(axis=0)) / size).astype(np.int64)
    keys = (cell[:, 0] * 2 * _CELLS + cell[:, 1]) * 2 * _CELLS + cell[:, 2]
    _, place, count = np.unique(keys, return_inverse=True, return_counts=True)
    means = np.stack([np.bincount(place, p[:, k]) / count for k in range(3)], axis=1)
    large = np.sort(place[triangles], axis=1)
    large = large[(large[:, 0] < large[:, 1]) & (large[:, 1] < large[:, 2])]
    return means, np.unique(large, axis=0)


def _flat(points: Floats, view: Floats, scale: float) -> tuple[Floats, Floats, Floats]:
    flat = scale * points @ view[:2].T
    low = flat.min(axis=0)
    return flat - low, low, np.ptp(flat, axis=0)


def _seen(flat: Floats, depth: Floats, triangles: Ints) -> Ints:
    """Those that no other hides: not far behind the nearest on their patch of the sheet."""
    middle, deep = flat[triangles].mean(axis=1), depth[triangles].mean(axis=1)
    patch = float(np.ptp(flat, axis=0).max()) / (0.6 * _CELLS)
    cell = np.floor(middle / patch).astype(np.int64)
    nearest = np.full(cell.max(axis=0) + 3, -np.inf)  # with a rim of patches that hold nothing
    np.maximum.at(nearest, tuple(cell.T + 1), deep)
    hiding = scipy.ndimage.minimum_filter(nearest, 3)  # at its edge a body hides nothing
    seen = deep > hiding[tuple(cell.T + 1)] - 0.4 * np.ptp(depth)
    return np.asarray(triangles[seen])


def _skin(flat: Floats, depth: Floats, triangles: Ints) -> list[ET.Element]:
    """Triangles from the farthest to the nearest, in layers of one shade each."""
    corner, deep = flat[triangles], depth[triangles]
    u, v = corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]
    across = np.abs(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0])
    steep = np.hypot(*np.ptp(corner, axis=1).T) * np.ptp(deep, axis=1)
    facing = across / np.maximum(np.hypot(across, steep), 1e-9)
    shade = np.clip((facing**0.7 * _SHADES).astype(np.int64), 0, _SHADES - 1)
    order = np.argsort(deep.mean(axis=1))
    layer = np.empty(len(order), np.int64)
    layer[order] = np.arange(len(order)) * 16 // max(len(order), 1)
    drawn = []
    for key in np.unique(layer * _SHADES + shade):
        here = corner[layer * _SHADES + shade == key]
        d = "".join(
            "M" + "L".join(f"{x:.0f} {y:.0f}" for x, y in each) + "Z" for each in here.tolist()
        )
        tint = _tint(int(key) % _SHADES / (_SHADES - 1))
        drawn.append(path(d, fill=tint, stroke=tint, stroke_width=_SEAM))
    return drawn


def _tint(share: float) -> str:
    light, dark = ([int(c[k : k + 2], 16) for k in (1, 3, 5)] for c in _HELD)
    mixed = (round(d + share * (one - d)) for one, d in zip(light, dark, strict=True))
    return "#" + "".join(f"{each:02x}" for each in mixed)


def _openings(scan: FootScan, view: Floats, scale: float, low: Floats) -> ET.Element:
    """The edges of the surface: the leg's cut, holes, an open sole."""
    ends = scale * scan.surface.vertices_mm[scan.surface.edges.boundary] @ view[:2].T - low
    d = "".join(f"M{a:.0f} {b:.0f}L{c:.0f} {e:.0f}" for (a, b), (c, e) in ends.tolist())
    return path(d, stroke=_EDGE, stroke_width=1.4)


def _tapes(scan: FootScan, view: Floats, scale: float, low: Floats) -> list[ET.Element]:
    """Each tape, its far half dashed, with its number at its highest place."""
    drawn = []
    for number, (name, tape) in enumerate(scan.tapes.items(), 1):
        if view is _ABOVE and name in _LEVEL:
            continue
        line = np.concatenate([tape.points_mm, tape.points_mm[:1]])
        flat, deep = scale * line @ view[:2].T - low, line @ view[2]
        near = deep >= (deep.min() + deep.max()) / 2
        for side in (False, True):
            d, on = "", False
            for k in range(len(flat) - 1):
                if near[k] != side:
                    on = False
                    continue
                d += ("" if on else f"M{flat[k, 0]:.1f} {flat[k, 1]:.1f}") + (
                    f"L{flat[k + 1, 0]:.1f} {flat[k + 1, 1]:.1f}"
                )
                on = True
            dashes = None if side else "3 3"
            drawn.append(
                path(d, stroke=_TAPE, stroke_width=1.8 if side else 0.9, stroke_dasharray=dashes)
            )
        at = flat[np.where(near[:, None], flat, np.inf)[:, 1].argmin()]
        drawn += _sign(float(at[0]) - 9, float(at[1]) - 13, str(number), _TAPE)
    return drawn


def _marks(scan: FootScan, view: Floats, scale: float, low: Floats) -> list[ET.Element]:
    drawn = []
    for place, at in enumerate(scan.landmarks_mm.values()):
        x, y = (scale * at @ view[:2].T - low).tolist()
        drawn.append(circle(x, y, 3.0, fill=INK, stroke=PAPER, stroke_width=1.0))
        drawn.append(
            label(x + 5, y + 11, "abcdefghijkl"[place], size=10, paint_order="stroke",
                  stroke=PAPER, stroke_width=2.5)
        )  # fmt: skip
    return drawn


def _sign(x: float, y: float, text: str, colour: str) -> list[ET.Element]:
    return [
        circle(x, y, 7.5, fill=PAPER, stroke=colour, stroke_width=1.2),
        label(x, y + 3.5, text, size=10, anchor="middle", fill=colour),
    ]


def _measures(scan: FootScan) -> list[tuple[str, str]]:
    """Those of tapes with their numbers, then the others."""
    numbers = {name: str(number) for number, name in enumerate(scan.tapes, 1)}
    names = [*scan.tapes, *(name for name in scan.measures if name not in scan.tapes)]
    told = []
    for name in names:
        mm, sd = scan.measures[name].mm, scan.measures[name].sd_mm
        words = f"{name.replace('_', ' ')} {mm / 10:.1f} ± {2 * sd / 10:.1f} cm"
        told.append((numbers.get(name, ""), words))
    return told


def _landmarks(scan: FootScan) -> list[tuple[str, str]]:
    return [("abcdefghijkl"[k], name) for k, name in enumerate(scan.landmarks_mm)]


def _folded(text: str, most: int) -> list[str]:
    lines = [""]
    for word in text.split():
        if lines[-1] and len(lines[-1]) + len(word) >= most:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return lines


def _said(scan: FootScan) -> str:
    told = ", ".join(
        f"{name.replace('_', ' ')} {length.mm / 10:.1f} cm"
        for name, length in scan.measures.items()
    )
    remarks = "".join(f"; {remark}" for remark in scan.remarks)
    return f"{told.capitalize()}; {plural(len(scan.landmarks_mm), 'landmark')}{remarks}."


@shows(FootScan)
def scan_html(scan: FootScan) -> str:
    """Return a scan as a picture."""
    return draw_scan(scan).svg()


guard(globals())
