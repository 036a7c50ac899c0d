"""What colours on a fabric mean: one colour a loop, with the words and unit that explain it."""

from __future__ import annotations

from collections.abc import Mapping

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.errors import PictureError
from loopwright.fabric import Fabric
from loopwright.fabric.stitches import Kind, Stitch
from loopwright.geometry import Shape
from loopwright.picture._colours import (
    CLASSES,
    DIVERGING,
    SEQUENTIAL,
    ColourScale,
    Floats,
    yarn_colours,
)

__all__ = ["WAYS", "Colouring", "class_of", "colouring", "first_way", "yarns_of"]

WAYS = ("stitch", "course", "curvature", "strain", "yarn")
_KINDS = {
    Kind.SLIPPED: "slipped",
    Kind.OVER: "increase",
    Kind.LIFTED: "cast-on, picked up or lifted",
    Kind.CAST_ON: "cast-on, picked up or lifted",
    Kind.CLOSED: "cast-on, picked up or lifted",
    Kind.BOUND_OFF: "bound off or grafted",
    Kind.GRAFTED: "bound off or grafted",
    Kind.WRAP: "wrap",
}


@attrs.frozen(eq=False)
class Colouring:
    """Colours of loops.

    Parameters
    ----------
    words : str
        What is shown, with its unit.
    srgb : ndarray, shape (n, 3)
        One colour a loop, in 0 to 1, in the order of `Fabric.ids`.
    values : ndarray, shape (n,)
        The numbers, or the place in `names`.
    scale : Scale or None
        None where colours stand for names.
    low, high : float
        Numbers at the ends of the scale.
    names : mapping of str to str
        Colour of each name.

    Examples
    --------
    >>> from loopwright.pattern import knit, read
    >>> lace = knit(read("Cast on 8 sts. Join in the round. Rnd 1: [K2, yo, k2tog] twice."))
    >>> by_stitch = colouring(lace)
    >>> by_stitch.words, list(by_stitch.names)[:3]
    ('stitch, from the right side', ['knit', 'decrease', 'increase'])
    >>> by_course = colouring(lace, "course")
    >>> by_course.words, by_course.low, by_course.high
    ('course, counted from the cast-on', 0.0, 1.0)
    """

    words: str
    srgb: Floats
    values: Floats
    scale: ColourScale | None = None
    low: float = 0.0
    high: float = 1.0
    names: Mapping[str, str] = attrs.field(factory=dict)


def class_of(stitch: Stitch) -> str:
    """Return which class of stitches (a key of `CLASSES`) a stitch belongs to.

    Examples
    --------
    >>> from loopwright.fabric.stitches import STITCHES
    >>> class_of(STITCHES["ssk"]), class_of(STITCHES["m1l"])
    ('decrease', 'increase')
    """
    if stitch.kind in _KINDS:
        return _KINDS[stitch.kind]
    if stitch.key == "pu":
        return "cast-on, picked up or lifted"
    if stitch.is_crossing:
        return "crossed"
    if stitch.change:
        return "decrease" if stitch.change < 0 else "increase"
    return "purl" if stitch.faces == "p" else "knit"


def colouring(
    fabric: Fabric | None,
    by: str = "stitch",
    *,
    shape: Shape | None = None,
    colours: Mapping[str, str] | None = None,
) -> Colouring:
    """Return a colour for each loop.

    Parameters
    ----------
    fabric : Fabric or None
        Curvature and strain do without.
    by : str
        One of `WAYS`: the class of stitch as the right side shows it, the course, curvature
        (degrees a loop, spread over its neighbours), strain (how much longer the edges at a loop
        are than their length at rest, per cent; negative where shorter), yarn.
    shape : Shape, optional
        Of this fabric; needed for curvature and strain.
    colours : mapping of str to str, optional
        Of yarns by name, ``"#24476b"``; ours for those that have none.

    Raises
    ------
    PictureError
        There is no such way, or the fabric or shape that it is read from is missing.
    """
    if by not in WAYS:
        raise PictureError("colours", f"no way {by!r} is known", f"choose {', '.join(WAYS)}")
    if by in ("curvature", "strain"):
        if shape is None:
            raise PictureError("colours", f"{by} is seen on a shape only", "give the relaxed shape")
        if by == "curvature":
            return _on_scale("curvature, degrees a loop", np.degrees(shape.curvature()), DIVERGING)
        return _on_scale("edge strain, % of rest length", 100 * _strain(shape), DIVERGING)
    if fabric is None:
        raise PictureError("colours", f"{by} is read from the fabric", "give the fabric")
    if by == "course":
        return _on_scale(
            "course, counted from the cast-on",
            fabric.course[fabric.ids].astype(np.float64),
            SEQUENTIAL,
        )
    return _by_class(fabric) if by == "stitch" else _by_yarn(fabric, colours or {})


def yarns_of(fabric: Fabric, own: Mapping[str, str] | None = None) -> dict[str, str]:
    """Return a fabric's yarns and their colours: those that stay, in order, then waste yarn.

    Examples
    --------
    >>> from loopwright.pattern import knit, read
    >>> cuff = knit(read("With A, cast on 8 sts. Join in the round. Rnd 1: Knit. Change to B. "
    ...                  "Rnd 2: Knit."))
    >>> yarns_of(cuff, {"A": "#24476b"})
    {'A': '#24476b', 'B': '#0072b2'}
    """
    strands = sorted(fabric.strands, key=lambda strand: strand.role == "waste")
    return yarn_colours((strand.yarn for strand in strands), own)


def first_way(fabric: Fabric | None) -> str:
    """Return what to colour by where nobody chose: the yarns where several stay in the piece.

    Examples
    --------
    >>> from loopwright.pattern import knit, read
    >>> first_way(knit(read("Cast on 8 sts. Join in the round. Rnds 1-3: Knit."))), first_way(None)
    ('stitch', 'curvature')
    """
    if fabric is None:
        return "curvature"
    yarns = {strand.yarn for strand in fabric.strands if strand.role != "waste"}
    return "yarn" if len(yarns) > 1 else "stitch"


def _strain(shape: Shape) -> Floats:
    """Return the mean strain of the edges that meet in each loop."""
    n, edges, strain = shape.mesh.n, shape.mesh.edges, shape.edge_strain
    total = np.bincount(edges.ravel(), np.repeat(strain, 2), minlength=n)
    return np.asarray(total / np.maximum(np.bincount(edges.ravel(), minlength=n), 1))


def _on_scale(words: str, values: Floats, scale: ColourScale) -> Colouring:
    if scale is DIVERGING:
        # Ends at the 99th percentile: a few sharp corners would leave all else in the middle.
        high = float(np.percentile(np.abs(values), 99)) if len(values) else 1.0
        high = max(high, 1e-6)
        low = -high
    else:
        low, high = (float(values.min()), float(values.max())) if len(values) else (0.0, 1.0)
    share = (values - low) / max(high - low, 1e-9)
    return Colouring(words, scale.srgb(share), values, scale, low, high)


def _named(words: str, names: dict[str, str], places: NDArray[np.int64]) -> Colouring:
    used = sorted(set(places.tolist()))
    colours = np.array([_rgb(colour) for colour in names.values()])
    kept = {name: colour for at, (name, colour) in enumerate(names.items()) if at in used}
    return Colouring(words, colours[places], places.astype(np.float64), names=kept)


def _rgb(colour: str) -> tuple[float, float, float]:
    red, green, blue = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return red, green, blue


def _by_class(fabric: Fabric) -> Colouring:
    order = {name: at for at, name in enumerate(CLASSES)}
    table = np.array([order[class_of(row)] for row in fabric.stitches])
    places = table[fabric.stitch[fabric.ids]]
    # A purl is seen from the right side: a knit stitch of a wrong-side row shows as one.
    behind = (fabric.side[fabric.ids] < 0) & np.isin(places, (order["knit"], order["purl"]))
    behind &= np.array([row.kind is Kind.WORKED for row in fabric.stitches])[
        fabric.stitch[fabric.ids]
    ]
    turned = np.where(places == order["knit"], order["purl"], order["knit"])
    wrong_side = behind & _worked_on_wrong_side(fabric)
    return _named("stitch, from the right side", CLASSES, np.where(wrong_side, turned, places))


def _worked_on_wrong_side(fabric: Fabric) -> NDArray[np.bool_]:
    """Return which loops show the other face than their stitch has: read from their edges."""
    back = np.zeros(len(fabric.flags), dtype=np.bool_)
    back[fabric.child[(fabric.info & 8) != 0]] = True
    faces = np.array([row.faces[:1] == "p" for row in fabric.stitches])[fabric.stitch]
    return np.asarray(back != faces)[fabric.ids]


def _by_yarn(fabric: Fabric, own: Mapping[str, str]) -> Colouring:
    # A yarn that was cut and joined anew is several strands.
    names = yarns_of(fabric, own)
    place = {name: at for at, name in enumerate(names)}
    of_strand = np.array([place[strand.yarn] for strand in fabric.strands], dtype=np.int64)
    return _named("yarn", names, of_strand[fabric.strand[fabric.ids]])
