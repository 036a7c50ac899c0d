"""A relaxed fabric as data for the screen: its surface, its colours and what each loop is.

Numbers that come many times over travel as little-endian arrays in base64: 16 bits for a
coordinate, 8 for a place on a scale of colours. Loops are named by their place in
`Shape.loops`; what a viewer can count (stitches of a course, neighbours above) is not sent.
"""

from __future__ import annotations

import base64
from collections.abc import Mapping
from typing import Any

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.border import guard
from loopwright.fabric import Fabric
from loopwright.fabric.columns import RANK
from loopwright.geometry import Shape
from loopwright.picture._colouring import WAYS, Colouring, colouring, first_way
from loopwright.picture.shape_drawing import fabric_of, view_of

__all__ = ["Scene", "pack", "scene"]

_STEPS = 32767  # a coordinate becomes a signed 16-bit number
_SHADES = 255  # a number becomes a place on a scale of 256 colours
_WITHOUT_FABRIC = ("curvature", "strain")


@attrs.frozen(eq=False)
class Scene:
    """What a viewer shows of one relaxed fabric.

    Parameters
    ----------
    shape : Shape
    fabric : Fabric or None
        Without it loops have no stitch, course or neighbours.
    colourings : mapping of str to Colouring
        By the name of the way, in the order in which they are offered.
    parts : tuple of (str, int)
        Headings, each with the id of the first loop made under it.
    """

    shape: Shape
    fabric: Fabric | None
    colourings: dict[str, Colouring]
    parts: tuple[tuple[str, int], ...] = ()


def scene(
    shape: Shape,
    fabric: Fabric | None = None,
    *,
    parts: tuple[tuple[str, int], ...] = (),
    colours: Mapping[str, str] | None = None,
) -> Scene:
    """Return what a viewer shows of a relaxed fabric.

    Parameters
    ----------
    shape : Shape
    fabric : Fabric, optional
        The one that `shape` was relaxed from; by default the one that it holds.
    parts : tuple of (str, int)
        Headings, each with the id of the first loop made under it.
    colours : mapping of str to str, optional
        Of yarns by name, ``"#24476b"``.

    Raises
    ------
    PictureError
        The shape belongs to another fabric.

    Examples
    --------
    >>> from loopwright.gauge import Gauge
    >>> from loopwright.geometry import shape
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 16)
    >>> work.join_round()
    >>> work.plain_rounds(4)
    >>> list(scene(shape(work.fabric(), Gauge(3.2, 4.4))).colourings)
    ['stitch', 'course', 'curvature', 'strain', 'yarn']
    """
    fabric = fabric_of(shape, fabric)
    first = first_way(fabric)
    ways = (first, *(way for way in WAYS if way != first)) if fabric else _WITHOUT_FABRIC
    shown = {by: colouring(fabric, by, shape=shape, colours=colours) for by in ways}
    return Scene(shape, fabric, shown, parts)


def pack(shown: Scene) -> dict[str, Any]:
    """Return a scene as JSON would hold it, a coordinate to a hundredth of a millimetre or so.

    The keys are those that ``shape_view.js`` reads: ``points`` (three to a loop, in steps of
    ``mm_per_step`` from the middle), ``radius_mm``, ``corners`` (three to a triangle,
    counter-clockwise as seen from the right side), ``bits`` (of a place: 16 or 32), ``ids`` (runs
    of ids: first, how many), ``colours``, and of the fabric ``course``, ``stitch`` with
    ``stitches``, ``yarn`` (places where the yarn doesn't go on to the next loop: from, to, -1 for
    its end), ``through`` (drawn through, and the loop itself; the parent on top first) and
    ``parts`` (heading, first loop).
    """
    seen = view_of(shown.shape.surface)
    low, high = seen.min(axis=0), seen.max(axis=0)
    moved = seen - (low + high) / 2
    step = float(np.abs(moved).max()) / _STEPS or 1.0
    wide = np.dtype("<u2" if len(moved) <= 1 << 16 else "<u4")
    packed = {
        "points": _text(np.round(moved / step).astype("<i2")),
        "mm_per_step": step,
        "radius_mm": float(np.sqrt((moved**2).sum(axis=1).max())) or 1.0,
        "corners": _text(shown.shape.surface.triangles.astype(wide)),
        "bits": 8 * wide.itemsize,
        "ids": _runs(shown.shape.loops),
        "colours": [_colours(by, found) for by, found in shown.colourings.items()],
    }
    return packed | (_facts(shown, shown.fabric, wide) if shown.fabric is not None else {})


def _facts(shown: Scene, fabric: Fabric, wide: np.dtype[Any]) -> dict[str, Any]:
    """Return what the loops are and how they hang together."""
    ids, rows = shown.shape.loops, fabric.stitches.rows
    codes, stitch = np.unique(fabric.stitch[ids], return_inverse=True)
    place = np.full(len(fabric.flags), -1, dtype=np.int64)
    place[ids] = np.arange(len(ids))
    return {
        "course": _text(fabric.course[ids].astype(wide)),
        "stitch": _text(stitch.ravel().astype(wide)),
        "stitches": [[rows[code].key, rows[code].name] for code in codes.tolist()],
        "yarn": _breaks(fabric, ids, place),
        "through": _text(_through(fabric, place).astype(wide)),
        "parts": [[name, int(np.searchsorted(ids, first))] for name, first in shown.parts],
    }


def _breaks(fabric: Fabric, ids: NDArray[np.int64], place: NDArray[np.int64]) -> list[int]:
    """Return from where to where the yarn goes, wherever that isn't the next loop."""
    following = fabric.next[ids]
    to = np.where(following >= 0, place[following], -1)
    here = np.arange(len(ids))
    odd = here[to != here + 1]
    return [int(each) for each in np.stack([odd, to[odd]], axis=1).ravel()]


def _through(fabric: Fabric, place: NDArray[np.int64]) -> NDArray[np.int64]:
    order = np.lexsort((fabric.info & RANK, fabric.child))
    pairs = np.stack([place[fabric.parent[order]], place[fabric.child[order]]], axis=1)
    return pairs[(pairs >= 0).all(axis=1)]


def _colours(by: str, found: Colouring) -> dict[str, Any]:
    told: dict[str, Any] = {"by": by, "words": found.words}
    if found.scale is None:
        _, places = np.unique(found.values.astype(np.int64), return_inverse=True)
        names = zip(found.names.items(), np.bincount(places.ravel()).tolist(), strict=True)
        told["names"] = [[name, colour, count] for (name, colour), count in names]
        return told | {"values": _text(places.ravel().astype(np.uint8))}
    share = (found.values - found.low) / max(found.high - found.low, 1e-9)
    palette = found.scale.srgb(np.linspace(0, 1, _SHADES + 1))
    return told | {
        "values": _text(np.round(np.clip(share, 0, 1) * _SHADES).astype(np.uint8)),
        "low": found.low,
        "high": found.high,
        "palette": _text(np.round(255 * palette).astype(np.uint8)),
    }


def _runs(ids: NDArray[np.int64]) -> list[int]:
    """Return consecutive ids as the first and how many of them."""
    starts = np.flatnonzero(np.diff(ids, prepend=-2) != 1)
    counts = np.diff(starts, append=len(ids))
    return [int(each) for each in np.stack([ids[starts], counts], axis=1).ravel()]


def _text(array: NDArray[np.generic]) -> str:
    return base64.b64encode(np.ascontiguousarray(array).tobytes()).decode("ascii")


guard(globals())
