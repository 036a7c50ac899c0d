"""The relaxed fabric drawn from one side: vector, coloured by what it is, with the scale.

Triangles that face away are left out, the others are drawn from the farthest to the nearest in
layers. A sock is turned with its cuff up and its toe to the left.
"""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree import ElementTree as ET

import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray
from scipy.sparse.csgraph import connected_components

from loopwright.border import guard
from loopwright.errors import PictureError
from loopwright.fabric import Fabric
from loopwright.geometry import Shape, Surface
from loopwright.picture._colouring import Colouring, colouring, first_way
from loopwright.picture._colours import Floats, hex_of
from loopwright.picture.svg import INK, Picture, group, label, line, path, rect, text_width

__all__ = ["draw_shape", "draw_surface", "fabric_of", "view_of"]

_LAYERS = 24  # depths that are told apart; a sock seen from its side hides little of itself
_SHADES = 5
_STEPS = 28  # different colours of a scale
_TRIANGLE = "M%.1f %.1fL%.1f %.1fL%.1f %.1fZ"


def draw_shape(
    shape: Shape,
    fabric: Fabric | None = None,
    *,
    by: str | None = "curvature",
    turned: float = 25.0,
    size: float = 420.0,
    colours: Mapping[str, str] | None = None,
) -> Picture:
    """Return a fabric at rest, seen from one side.

    Parameters
    ----------
    shape : Shape
    fabric : Fabric, optional
        The one that `shape` was relaxed from; by default the one that it holds.
    by : str or None
        What colours mean: one of `loopwright.picture._colouring.WAYS`. None shows the yarns of a
        piece that has several, the stitches of any other.
    turned : float, degrees
        How far it is turned about its upright axis, 0 for the plain view from the side.
    size : float, px
        The longer side of the drawing.
    colours : mapping of str to str, optional
        Of yarns by name, ``"#24476b"``; ours for those that have none.

    Raises
    ------
    PictureError
        No such way of colouring, or the shape belongs to another fabric.

    Examples
    --------
    >>> from loopwright.geometry import shape
    >>> from loopwright.gauge import Gauge
    >>> from loopwright.pattern import knit, read
    >>> tube = knit(read("Cast on 16 sts. Join in the round. Rnds 1-6: Knit."))
    >>> print(draw_shape(shape(tube, Gauge.of(20, 28)), by="course").description)
    112 loops at rest, seen from the side, coloured by course, counted from the cast-on.
    """
    fabric = fabric_of(shape, fabric)
    found = colouring(fabric, by or first_way(fabric), shape=shape, colours=colours)
    said = f"{len(shape.loops)} loops at rest, seen from the side, coloured by {found.words}."
    title = f"Shape, by {found.words}"
    return draw_surface(shape.surface, found, title=title, said=said, turned=turned, size=size)


def draw_surface(
    surface: Surface,
    colours: Colouring,
    *,
    title: str,
    said: str,
    turned: float = 25.0,
    size: float = 420.0,
) -> Picture:
    """Return a surface seen from one side.

    Parameters
    ----------
    surface : Surface
    colours : Colouring
        One colour a vertex.
    title, said : str
        The heading, and what those hear who can't see it.
    turned, size : float
        As for `draw_shape`, which shows it.
    """
    place = _turned(view_of(surface), turned)
    low, high = place.min(axis=0), place.max(axis=0)
    scale = size / max(float((high - low)[:2].max()), 1e-9)
    flat = (place - low) * scale
    flat[:, 1] = (high - low)[1] * scale - flat[:, 1]
    wide, deep = (float(part) for part in (high - low)[:2] * scale)
    legend = _legend(colours, deep + 56)
    bar = _measure(scale, deep + 40)
    width = max(wide + 32, 340.0, text_width(title, 11) + 16)
    high_px = deep + 62 + (18 * -(-len(colours.names) // 2) if colours.names else 26)
    moved = group(_faces(surface, flat, colours), transform="translate(16 28)")
    return Picture(
        width, high_px, title, said,
        (label(8, 17, title, size=11, font_weight="bold"), moved, *bar, *legend),
    )  # fmt: skip


def fabric_of(shape: Shape, fabric: Fabric | None = None) -> Fabric | None:
    """Return the fabric of a shape: the one given, or the one that it holds.

    Raises
    ------
    PictureError
        The one given has other loops.
    """
    if fabric is not None and not np.array_equal(shape.loops, fabric.ids):
        raise PictureError("shape", "it was relaxed from another fabric", "give the one it is of")
    return shape.fabric if fabric is None else fabric


def view_of(surface: Surface) -> Floats:
    """Return the vertices turned for a picture: x to the right, y up, z towards the viewer.

    A fabric with an opening has it at the top, the widest of several, and its far end (a sock's
    toe) at the left.
    """
    place = np.asarray(surface.vertices_mm) - np.mean(surface.vertices_mm, axis=0)
    axes = np.linalg.svd(place, full_matrices=False)[2]
    rim = _widest_rim(surface)
    if len(rim) < 3 or len(place) < 4:
        return np.asarray(place @ _right_handed(axes).T)
    opening = place[rim].mean(axis=0)
    up = np.linalg.svd(place[rim] - opening, full_matrices=False)[2][2]
    up = up if up @ opening > 0 else -up
    if abs(up @ opening) < 0.1 * np.linalg.norm(opening):  # a flat piece: the rim is all round
        return np.asarray(place @ _right_handed(axes).T)
    far = place[np.argmax(np.linalg.norm(place - opening, axis=1))]
    left = far - opening
    left = left - (left @ up) * up
    if np.linalg.norm(left) < 0.15 * np.linalg.norm(far - opening):  # a straight tube
        flat = axes[:2] - np.outer(axes[:2] @ up, up)
        left = flat[np.argmax(np.linalg.norm(flat, axis=1))]
    right = -left / np.linalg.norm(left)
    return np.asarray(place @ np.stack([right, up, np.cross(right, up)]).T)


def _widest_rim(surface: Surface) -> NDArray[np.int64]:
    """Return the vertices of the opening that has most of them."""
    rim = surface.edges.boundary
    if not len(rim):
        return np.zeros(0, dtype=np.int64)
    n = len(surface.vertices_mm)
    links = sp.coo_array((np.ones(len(rim)), (rim[:, 0], rim[:, 1])), shape=(n, n))
    label = connected_components(links, directed=False)[1]
    ends = np.unique(rim)
    return np.asarray(ends[label[ends] == np.argmax(np.bincount(label[ends]))])


def _right_handed(axes: Floats) -> Floats:
    turned = axes.copy()
    if np.linalg.det(turned) < 0:
        turned[2] *= -1
    return turned


def _turned(place: Floats, degrees: float) -> Floats:
    angle = np.radians(degrees)
    c, s = np.cos(angle), np.sin(angle)
    return np.asarray(place @ np.array([[c, 0, s], [0, 1, 0], [-s, 0, c]]).T)


def _faces(surface: Surface, flat: Floats, colours: Colouring) -> list[ET.Element]:
    triangles = surface.triangles
    if not len(triangles):
        return []
    corner = flat[triangles]
    u, v = corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]
    normal = np.cross(u * [1, -1, 1], v * [1, -1, 1])  # the sheet's y goes down
    length = np.maximum(np.linalg.norm(normal, axis=1), 1e-12)
    facing = normal[:, 2] / length
    # The inside of an opening is seen as well: what faces away is drawn darker, behind the rest.
    depth = corner[:, :, 2].mean(axis=1)
    shade = np.clip(np.round((np.abs(facing) ** 0.8) * (_SHADES - 1)), 0, _SHADES - 1)
    shade = np.where(facing < 0, -1, shade).astype(np.int64)
    colour, palette = _palette(colours, triangles)
    order = np.argsort(depth)
    layer = np.empty(len(order), dtype=np.int64)
    layer[order] = np.arange(len(order)) * _LAYERS // len(order)
    layer = np.where(facing < 0, -1, layer)
    keys = np.stack([layer, colour, shade], axis=1)
    found, place = np.unique(keys, axis=0, return_inverse=True)
    members = np.argsort(place.ravel(), kind="stable")
    ends = np.cumsum(np.bincount(place.ravel(), minlength=len(found)))
    drawn = []
    for at, (_, which, dark) in enumerate(found.tolist()):
        here = members[(ends[at - 1] if at else 0) : ends[at]]
        light = 0.45 if dark < 0 else 0.72 + 0.28 * dark / (_SHADES - 1)
        tint = hex_of(palette[which] * light)
        d = (_TRIANGLE * len(here)) % tuple(corner[here, :, :2].ravel().tolist())
        drawn.append(path(d, fill=tint, stroke=tint, stroke_width=0.4))
    return drawn


def _palette(colours: Colouring, triangles: np.ndarray) -> tuple[np.ndarray, Floats]:
    """Return the colour of each triangle as a place in a short palette."""
    if colours.scale is None:
        # The rarest of three names, so that a lone decrease is not outvoted by its neighbours.
        values = colours.values.astype(np.int64)
        count = np.bincount(values)
        corner = values[triangles]
        rarest = np.argmin(count[corner], axis=1)
        chosen = corner[np.arange(len(corner)), rarest]
        palette = np.zeros((len(count), 3))
        palette[values] = colours.srgb
        return chosen, palette
    share = (colours.values[triangles].mean(axis=1) - colours.low) / max(
        colours.high - colours.low, 1e-9
    )
    places = np.clip(np.round(share * (_STEPS - 1)), 0, _STEPS - 1).astype(np.int64)
    return places, colours.scale.srgb(np.linspace(0, 1, _STEPS))


def _measure(scale: float, y: float) -> list[ET.Element]:
    """Draw 5 cm to the scale of the picture."""
    far = 50 * scale
    return [
        line(16, y, 16 + far, y, stroke_width=1.2),
        line(16, y - 3, 16, y + 3),
        line(16 + far, y - 3, 16 + far, y + 3),
        label(22 + far, y + 3, "5 cm", size=9),
    ]


def _legend(colours: Colouring, y: float) -> list[ET.Element]:
    if colours.scale is None:
        found = []
        for at, (name, colour) in enumerate(colours.names.items()):
            x, below = 16 + at % 2 * 165, y + at // 2 * 18
            found += [
                rect(x, below, 11, 11, fill=colour, stroke="#555555", stroke_width=0.6),
                label(x + 17, below + 9, name, size=9),
            ]
        return found
    steps, wide, far = 60, 200.0, colours.high - colours.low
    shown = [
        rect(16 + at * wide / steps, y, wide / steps + 0.4, 10,
             fill=colours.scale.hex((at + 0.5) / steps))
        for at in range(steps)
    ]  # fmt: skip
    ticks = [
        label(16 + wide * at / 4, y + 21, _number(colours.low + far * at / 4),
              size=8, anchor="middle" if at else "start")
        for at in range(5)
    ]  # fmt: skip
    frame = rect(16, y, wide, 10, stroke=INK, stroke_width=0.6)
    return [group(shown, class_="scale"), frame, *ticks]


def _number(value: float) -> str:
    return f"{value:.0f}" if abs(value) >= 10 or value == round(value) else f"{value:.1f}"


guard(globals())
