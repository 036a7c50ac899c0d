"""The graph of a small fabric, its loops laid out as they lie on the surface, seen from the right
side.

Loops are placed by least squares: each hangs below what is drawn through it and beside its
neighbours on the yarn. Edges that go round the back of a tube, from the left end of a round to the
right end of the next, are cut: both ends point outward. A fabric that would lie folded that way or
hide a cell in the cut, as a toe or a heel does, is drawn as a web instead, seen on its tip.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations, pairwise
from math import hypot
from typing import TYPE_CHECKING, Any, TypeAlias
from xml.etree import ElementTree as ET

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.linalg import lsqr

from loopwright._late import LatePackage
from loopwright.errors import PictureError
from loopwright.fabric import Cell, Fabric
from loopwright.fabric.columns import FLOAT
from loopwright.picture._colouring import colouring
from loopwright.picture._colours import CLASSES, Floats
from loopwright.picture._graph_crossings import corner_rings, crossed_edges, crossing_spots
from loopwright.picture._graph_web import flipped, web
from loopwright.picture.svg import (
    GREY,
    INK,
    PAPER,
    Picture,
    arrow_head,
    circle,
    group,
    label,
    line,
    number,
    path,
    polygon,
    rect,
)

__all__ = ["LARGEST", "draw_graph", "draw_surroundings", "layout"]

if TYPE_CHECKING:
    import networkx as nx
else:
    nx = LatePackage("networkx")

LARGEST = 600  # loops; more can't be told apart on a page
_Wish: TypeAlias = tuple[int, int, float, float]  # from, to, wanted difference, weight
_FOLDED = 0.02  # share of cells seen from the wrong side from which on a fabric is a web
_STEP = 30.0  # px from a loop to its neighbour
_STYLES: dict[str, dict[str, Any]] = {
    "yarn": {"stroke": "#0072b2", "stroke_width": 2.2},
    "through": {"stroke": INK, "stroke_width": 1.1},
    "beside": {"stroke": GREY, "stroke_width": 1.2, "stroke_dasharray": "2 3"},
}
_TINT = {2: "#fdf3c8", 3: "#fde3cf", 5: "#d9ecf7", 6: "#cfe0f5", 7: "#f8d3d3", 8: "#f3bcbc"}


def layout(fabric: Fabric) -> dict[int, tuple[float, float]]:
    """Return a place for each loop: x to the right, y up, about one unit between neighbours.

    Raises
    ------
    PictureError
        The fabric has no loops, or more than `LARGEST`.
    """
    count = len(fabric)
    if not 0 < count <= LARGEST:
        raise PictureError(
            "graph", f"the fabric has {count} loops", f"draw 1 to {LARGEST}, or its surroundings"
        )
    ids = fabric.ids
    place = {int(loop): at for at, loop in enumerate(ids)}
    across: list[_Wish] = []
    upward: list[_Wish] = []
    for loop in ids.tolist():
        after = int(fabric.next[loop])
        if after >= 0:
            # A strand goes to the left with its right-hand flank up, or the other way round.
            ahead = -float(fabric.side[loop])
            if not fabric.turned[loop]:
                upward.append((place[loop], place[after], 0.0, 0.4))
                if fabric.course[loop] == fabric.course[after]:
                    across.append((place[loop], place[after], ahead, 1.0))
    for parent, child in zip(fabric.parent.tolist(), fabric.child.tolist(), strict=True):
        across.append((place[parent], place[child], 0.0, 1.0))
        upward.append((place[parent], place[child], 1.0, 1.0))
    for right, left in zip(fabric.right.tolist(), fabric.left.tolist(), strict=True):
        across.append((place[right], place[left], -1.0, 0.3))
    x, y = _solved(count, across), _solved(count, upward)
    return {loop: (float(x[at]), float(y[at])) for loop, at in place.items()}


def _solved(count: int, kept: list[_Wish]) -> Floats:
    """Return numbers whose differences are as near as can be to those wished for."""
    rows = np.repeat(np.arange(len(kept)), 2)
    columns = np.array([end for a, b, _, _ in kept for end in (a, b)], dtype=np.int64)
    signs = np.array([sign * w for _, _, _, w in kept for sign in (-1.0, 1.0)])
    system = coo_array((signs, (rows, columns)), shape=(max(len(kept), 1), count)).tocsr()
    target = np.array([d * w for _, _, d, w in kept] or [0.0])
    found: Floats = lsqr(system, target, atol=1e-9, btol=1e-9)[0]
    return np.asarray(found - found.min())


def draw_graph(
    fabric: Fabric, *, sizes: bool = True, title: str = "Graph of the fabric"
) -> Picture:
    """Return a small fabric as a graph.

    Parameters
    ----------
    fabric : Fabric
        Of at most `LARGEST` loops.
    sizes : bool
        Write into each cell how many edges it has, unless they are four.

    Raises
    ------
    PictureError
        The fabric has no loops, or too many.
    """
    upright = fabric.uncrossed
    spots = layout(upright)
    cells = [cell for cell in upright.cells() if cell not in upright.openings]
    widest = _half(max(x for x, _ in spots.values()))
    as_web = web(upright, _neighbours) if _is_folded(upright, cells, spots, widest) else None
    half = float("inf") if as_web else widest * _STEP
    surface = fabric.surface
    shown = [ring for leader, ring in corner_rings(fabric) if leader not in surface.opening_leaders]
    return _drawn(fabric, _on_sheet(as_web or spots), shown if sizes else [], title, half)


def _is_folded(
    fabric: Fabric, cells: list[Cell], spots: dict[int, tuple[float, float]], widest: float
) -> bool:
    """Tell whether a flat layout would hide something: in the cut of a tube, or behind another."""
    flat = [cell for cell in cells if _across(cell, spots) <= widest]
    cut = [cell for cell in cells if _across(cell, spots) > widest]
    closed = bool(cut) and len(fabric.openings) < 2  # a tube has two ends
    hidden = any(cell.size != 4 for cell in cut)
    return closed or hidden or flipped(flat, spots) > _FOLDED


def _half(across: float) -> float:
    """Return how far an edge may go without being cut on a sheet of this width."""
    return max(2.6, 0.5 * across)


def _across(cell: Cell, spots: dict[int, tuple[float, float]]) -> float:
    places = [spots[loop][0] for loop in cell.loops]
    return max(places) - min(places)


def draw_surroundings(
    fabric: Fabric, loops: Iterable[int], *, reach: int = 2, title: str = "Surroundings"
) -> Picture:
    """Return the neighbourhood of some loops, of a hole for one, laid out by itself.

    Parameters
    ----------
    fabric : Fabric
        Of any size.
    loops : iterable of int
        In the order in which they stand round a cell, counter-clockwise.
    reach : int
        How many edges away a loop may be.

    Raises
    ------
    UnknownLoopError
        The fabric has no such loop.
    PictureError
        There are more than `LARGEST` loops within reach.

    Examples
    --------
    The hole that a short row leaves where it turns:

    >>> from loopwright.pattern import knit, read
    >>> short = read("Cast on 12 sts. Row 1: Knit. Row 2: P8, turn. Row 3: Knit. Row 4: Purl.")
    >>> piece = knit(short)
    >>> hole = piece.gaps(4)[0]
    >>> hole.size
    6
    >>> print(draw_surroundings(piece, hole.loops).description)
    22 loops, seen from the right side; thick lines are yarn, arrows go from a loop to what is ...
    """
    ring, upright = [fabric.require(loop) for loop in loops], fabric.uncrossed
    near = nx.Graph()
    near.add_nodes_from(ring)
    front = set(ring)
    for _ in range(reach):
        front = {other for loop in front for other in _neighbours(upright, loop)} - set(near)
        near.add_nodes_from(front)
    if not 0 < len(near) <= LARGEST:
        raise PictureError("graph", f"{len(near)} loops are in reach", f"draw 1 to {LARGEST}")
    near.add_edges_from(
        (loop, other) for loop in near for other in _neighbours(upright, loop) if other in near
    )
    spots = _spread(near, ring)
    rows = len(fabric.flags)
    cells = [
        corners
        for _, corners in corner_rings(fabric)
        if len(corners) < 30 and {corner for corner in corners if corner < rows} <= set(near)
    ]
    return _drawn(fabric, _on_sheet(spots), cells, title, float("inf"), marked=tuple(ring))


def _neighbours(fabric: Fabric, loop: int) -> set[int]:
    """Return the loops that an edge of the surface joins with this one."""
    found = {*fabric.parents(loop).tolist(), *fabric.children(loop).tolist()}
    if not fabric.flags[loop] & FLOAT and fabric.next[loop] >= 0:
        found.add(int(fabric.next[loop]))
    before = int(fabric.previous[loop])
    if before >= 0 and not fabric.flags[before] & FLOAT:
        found.add(before)
    found |= set(fabric.left[fabric.right == loop].tolist())
    return found | set(fabric.right[fabric.left == loop].tolist())


def _spread(near: nx.Graph, ring: list[int]) -> dict[int, tuple[float, float]]:
    """Lay out a neighbourhood by graph distances, the ring counter-clockwise."""
    planar, embedding = nx.check_planarity(near)
    start = nx.planar_layout(near) if planar else nx.circular_layout(near)
    del embedding
    spots = nx.kamada_kawai_layout(near, pos=start)
    area = sum(
        spots[a][0] * spots[b][1] - spots[b][0] * spots[a][1]
        for a, b in zip(ring, ring[1:] + ring[:1], strict=True)
    )
    edges = [hypot(*(spots[a] - spots[b])) for a, b in near.edges] or [1.0]
    scale = 1.0 / float(np.median(edges))
    mirror = -1.0 if area < 0 else 1.0
    return {
        loop: (float(spot[0]) * scale * mirror, float(spot[1]) * scale)
        for loop, spot in spots.items()
    }


def _on_sheet(spots: dict[int, tuple[float, float]]) -> dict[int, tuple[float, float]]:
    left = min(x for x, _ in spots.values())
    top = max(y for _, y in spots.values())
    return {
        loop: (44 + (x - left) * _STEP, 50 + (top - y) * _STEP) for loop, (x, y) in spots.items()
    }


def _drawn(
    fabric: Fabric,
    places: dict[int, tuple[float, float]],
    cells: list[tuple[int, ...]],
    title: str,
    half: float,
    marked: tuple[int, ...] = (),
) -> Picture:
    right = max(x for x, _ in places.values()) + 44
    bottom = max(y for _, y in places.values()) + 34
    body = [
        label(8, 17, title, size=12, font_weight="bold"),
        *_cells({**places, **crossing_spots(fabric, places)}, cells, half),
        *_edges(fabric, places, half),
        *_loops(fabric, places, marked),
        *_key(fabric, places, bottom),
    ]
    classes = len(set(map(_classes(fabric).get, places)))
    said = (
        f"{len(places)} loops, seen from the right side; thick lines are yarn, arrows go from a "
        "loop to what is drawn through it."
    )
    return Picture(max(right, 330.0), bottom + 62 + 16 * (classes // 2 + 1), title, said,
                   tuple(body))  # fmt: skip


def _cells(
    places: dict[int, tuple[float, float]], cells: list[tuple[int, ...]], half: float
) -> list[ET.Element]:
    found = []
    xs = [x for x, _ in places.values()]
    for cell in cells:
        if not all(corner in places for corner in cell):
            continue
        corners, size = [places[corner] for corner in cell], len(cell)
        reach = [x for x, _ in corners]
        if size == 4 or max(reach) - min(reach) > half:
            continue
        x, y = _room(corners)
        if size == 2:  # between a stitch and the yarn that bows round it
            x += 11 if 2 * x > min(xs) + max(xs) else -11
        tint = _TINT.get(size, "#efc0c0")
        found.append(
            group(
                (polygon(corners, fill=tint),
                 label(x, y + 3, str(size), size=8, anchor="middle")),
                class_="cell", data_edges=size,
            )
        )  # fmt: skip
    return found


def _room(corners: list[tuple[float, float]]) -> tuple[float, float]:
    """Return the place inside a polygon that is farthest from its sides, of a few tried."""
    tried = [_mean(corners), *map(_mean, combinations(corners, 3))]
    inside = [spot for spot in tried if _is_inside(spot, corners)] or tried[:1]
    sides = list(pairwise((*corners, corners[0])))
    return max(inside, key=lambda spot: min(_far(spot, a, b) for a, b in sides))


def _mean(spots: Sequence[tuple[float, float]]) -> tuple[float, float]:
    return sum(x for x, _ in spots) / len(spots), sum(y for _, y in spots) / len(spots)


def _far(spot: tuple[float, float], start: tuple[float, float], stop: tuple[float, float]) -> float:
    """Return the distance from a place to a stretch of line."""
    dx, dy = stop[0] - start[0], stop[1] - start[1]
    along = (spot[0] - start[0]) * dx + (spot[1] - start[1]) * dy
    share = min(1.0, max(0.0, along / max(dx * dx + dy * dy, 1e-9)))
    return hypot(spot[0] - start[0] - share * dx, spot[1] - start[1] - share * dy)


def _is_inside(spot: tuple[float, float], corners: list[tuple[float, float]]) -> bool:
    """Tell whether a ray from a place crosses the polygon's edge an odd number of times."""
    x, y = spot
    odd = False
    for (x1, y1), (x2, y2) in pairwise((*corners, corners[0])):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
            odd = not odd
    return odd


def _edges(fabric: Fabric, places: dict[int, tuple[float, float]], half: float) -> list[ET.Element]:
    found = []
    drawn_through = set(zip(fabric.parent.tolist(), fabric.child.tolist(), strict=True))
    middle = (min(x for x, _ in places.values()) + max(x for x, _ in places.values())) / 2
    crossed = {(a, b) for a, b, depth in crossed_edges(fabric) if depth == 0}
    for kind, a, b in _edge_list(fabric):
        if a not in places or b not in places:
            continue
        (x1, y1), (x2, y2) = places[a], places[b]
        if kind == "yarn" and drawn_through & {(a, b), (b, a)}:
            # The first stitch of a row is drawn through the last of the row before.
            bow = 12.0 if x1 + x2 > 2 * middle else -12.0
            d = (
                f"M{number(x1)} {number(y1)}Q{number((x1 + x2) / 2 + bow)} "
                f"{number((y1 + y2) / 2)} {number(x2)} {number(y2)}"
            )
            found.append(path(d, **_STYLES["yarn"], class_="edge", data_kind="yarn"))
            continue
        if abs(x2 - x1) > half:
            step = _STEP * 0.55 * (1 if x1 > x2 else -1)
            found += [_edge(kind, x1, y1, x1 + step, y1 - 4, cut=True),
                      _edge(kind, x2 - step, y2 + 4, x2, y2, cut=True)]  # fmt: skip
        else:
            if (a, b) in crossed:  # what lies in front hides what passes behind
                found.append(line(x1, y1, x2, y2, stroke=PAPER, stroke_width=4.5))
            found.append(_edge(kind, x1, y1, x2, y2))
    return found


def _edge_list(fabric: Fabric) -> Iterable[tuple[str, int, int]]:
    for loop in fabric.ids.tolist():
        after = int(fabric.next[loop])
        if after >= 0:
            yield ("float" if fabric.flags[loop] & FLOAT else "yarn"), loop, after
    deepest_first = sorted(crossed_edges(fabric), key=lambda edge: -edge[2])
    for parent, child, _ in deepest_first:
        yield "through", parent, child
    done = {(parent, child) for parent, child, _ in deepest_first}
    for parent, child in zip(fabric.parent.tolist(), fabric.child.tolist(), strict=True):
        if (parent, child) not in done:
            yield "through", parent, child
    for right, left in zip(fabric.right.tolist(), fabric.left.tolist(), strict=True):
        yield "beside", right, left


def _edge(
    kind: str, x1: float, y1: float, x2: float, y2: float, *, cut: bool = False
) -> ET.Element:
    far = max(hypot(x2 - x1, y2 - y1), 1e-9)
    ux, uy = (x2 - x1) / far, (y2 - y1) / far
    given: dict[str, Any] = {
        "class_": "edge",
        "data_kind": kind,
        "data_cut": "yes" if cut else None,
    }
    if kind == "float":
        return path(
            f"M{number(x1)} {number(y1)}Q{number((x1 + x2) / 2 - 9 * uy)} "
            f"{number((y1 + y2) / 2 + 9 * abs(ux))} {number(x2)} {number(y2)}",
            **{**_STYLES["yarn"], "stroke_dasharray": "5 3", **given},
        )
    drawn = line(x1, y1, x2, y2, **_STYLES[kind])
    if kind != "through" or cut:
        return group((drawn,), **given)
    head = arrow_head(x2 - ux * 5, y2 - uy * 5, ux, uy, long=5, half=2.6)
    return group((drawn, head), **given)


def _loops(
    fabric: Fabric, places: dict[int, tuple[float, float]], marked: tuple[int, ...]
) -> list[ET.Element]:
    live, classes = set(fabric.live.tolist()), _classes(fabric)
    found = []
    for loop, (x, y) in places.items():
        stitch = fabric.stitch_of(loop)
        colour = CLASSES[classes[loop]]
        ring = "#b34a00" if loop in marked else INK
        dot = circle(x, y, 4.6, fill=PAPER if loop in live else colour, stroke=ring,
                     stroke_width=2.0 if loop in marked else 1.1, class_="loop",
                     data_loop=loop, data_stitch=stitch.key)  # fmt: skip
        found.append(dot)
        if loop in live:
            found.append(circle(x, y, 2.2, fill=colour, stroke="none"))
    return found


def _classes(fabric: Fabric) -> dict[int, str]:
    """Return the class of each loop's stitch, as the right side shows it."""
    names = list(CLASSES)
    values = colouring(fabric, "stitch").values.astype(int).tolist()
    return {loop: names[value] for loop, value in zip(fabric.ids.tolist(), values, strict=True)}


def _key(fabric: Fabric, places: dict[int, tuple[float, float]], y: float) -> list[ET.Element]:
    found: list[ET.Element] = []
    kinds = (("yarn", "yarn"), ("through", "drawn through"), ("beside", "beside"))
    for at, (kind, words) in enumerate(kinds):
        x = 16 + at * 100
        found += [_edge(kind, x, y + 12, x + 28, y + 12), label(x + 33, y + 15, words, size=8.5)]
    found += [
        circle(20, y + 30, 4.6, fill=PAPER, stroke=INK, stroke_width=1.1),
        label(30, y + 33, "live loop (ring); a number in a cell: its edges, if not 4", size=8.5),
    ]
    classes = _classes(fabric)
    names = [name for name in CLASSES if any(classes[loop] == name for loop in places)]
    for at, name in enumerate(names):
        x, below = 16 + at % 2 * 160, y + 46 + at // 2 * 16
        found += [rect(x, below - 8, 9, 9, fill=CLASSES[name], stroke="#555555", stroke_width=0.6),
                  label(x + 14, below, name, size=8.5)]  # fmt: skip
    return found
