"""From a fabric and its gauge to a mesh: which edges there are, and how long each is at rest.

Along a course an edge rests at the width of a stitch, along a wale at the height of a course.
The exceptions:

- half a stitch on either side of a lifted strand, and between two loops of a graft or of a closed
  cast-on, whose loops serve the two halves in turn;
- a wrap stands half a stitch beyond the turn, between its two rows (in the row that ends there it
  would shear the cells on either side of it, and the folds of a heel of short rows crumple); where
  the rows are taken up again the fabric folds, and what is drawn through the wrap lies as far from
  it as the stitch that it was laid round: half a stitch and one and a half courses;
- a tall loop (carried past k courses) is k + 1 courses high, and the edges beside it slant;
- where the work turns without working the last loop again, the yarn slants to the next course;
- a three-needle bind-off takes up half a course on either side, for its ridge lies across (no
  source: an assumption);
- loops that a strand is drawn up through lie close together (an assumption: a fifth of a stitch);
- slip stitch, garter and seed stitch have sizes of their own (`loopwright.geometry._cloths`);
- where stitches cross, each loop rests above the one that stood in its place, and the wales that
  run aslant, whose yarn gives, are no edges; the course is narrow there, for its stitches lie upon
  each other, and draws its neighbours in (see `loopwright.geometry._cloths`);
- a decrease shears the cells beside it (see `_sheared`), an increase splays them.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loopwright.cloth import Cloth
from loopwright.errors import ShapeError
from loopwright.fabric import surface
from loopwright.fabric.columns import CHAIN, DRAWN, EDGE, FACING, FLOAT, TURNED
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import Kind
from loopwright.gauge import Gauge
from loopwright.geometry._cloths import StitchSizes, stitch_sizes
from loopwright.geometry._mesh import Mesh
from loopwright.geometry._slants import slants

__all__ = ["mesh_of"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]
_Part = tuple[Ints, Floats, Floats]  # pairs of loops, rest lengths, steps from first to second

_LARGEST_CELL: Final = 64  # edges; larger ones are left open, no fabric spans them
_DRAWN_UP: Final = 0.2  # of a stitch's width: about the yarn's own diameter


def mesh_of(
    fabric: Fabric,
    gauge: Gauge,
    measured: Mapping[Cloth, Gauge] | None = None,
    *,
    drawn_in: bool = True,
) -> Mesh:
    """Return the mesh of `fabric`: vertex i is the loop ``fabric.ids[i]``.

    Parameters
    ----------
    gauge : Gauge
        Of stocking stitch.
    measured : mapping of Cloth to Gauge, optional
        Of other cloths, where they were measured.
    drawn_in : bool
        Whether stitches that cross make their rows narrower.

    Raises
    ------
    ShapeError
        There are no loops.
    """
    if not len(fabric):
        raise ShapeError("a fabric without loops", "cast on first")
    vertex = np.full(len(fabric.next), -1, np.int64)
    vertex[fabric.ids] = np.arange(len(fabric))
    upright = fabric.uncrossed
    sizes = stitch_sizes(fabric, gauge, measured, drawn_in=drawn_in)
    pairs, rest, along, steps = _edges(upright, sizes)
    pairs = vertex[pairs]
    kept = _shortest(pairs, rest, len(fabric))
    return Mesh.build(
        len(fabric),
        pairs[kept],
        rest[kept],
        along[kept],
        _rings(upright, vertex),
        steps_mm=steps[kept],
    )


def _edges(fabric: Fabric, sizes: StitchSizes) -> tuple[Ints, Floats, Bools, Floats]:
    """Edges by loop ids, their rest lengths, which run along a course, and their steps."""
    yarn = np.flatnonzero((fabric.next >= 0) & ((fabric.flags & FLOAT) == 0))
    parts = [_yarn(fabric, yarn, sizes), _through(fabric, sizes), _beside(fabric, sizes)]
    pairs, rest, steps = (np.concatenate([part[k] for part in parts]) for k in range(3))
    along = np.zeros(len(pairs), bool)
    along[: len(yarn)] = (fabric.flags[yarn] & TURNED) == 0
    return pairs.astype(np.int64), rest, along, steps


def _yarn(fabric: Fabric, yarn: Ints, sizes: StitchSizes) -> _Part:
    """Yarn edges. A strand runs to the left where the loops drawn through it stand up."""
    after = fabric.next[yarn].astype(np.int64)
    w, h = (sizes.width_mm[yarn] + sizes.width_mm[after]) / 2, sizes.height_mm[after]
    turned = (fabric.flags[yarn] & TURNED) != 0
    wrap = fabric.kinds(Kind.WRAP)
    wrapping = wrap[yarn] | wrap[after]
    lifted = fabric.kinds(Kind.LIFTED)
    both = fabric.kinds(Kind.GRAFTED, Kind.CLOSED)
    half = lifted[yarn] | lifted[after] | (both[yarn] & both[after])
    drawn = (fabric.flags & DRAWN) != 0
    width = np.where((half & ~turned) | wrapping, w / 2, w)
    width = np.where(drawn[yarn] & drawn[after], _DRAWN_UP * w, width)
    lower = fabric.kinds(Kind.BOUND_OFF)[yarn] & _stepped(fabric)[after] & ~turned
    height = np.select([wrapping, turned, lower], [h / 2, h, -h], 0.0)
    side = fabric.side
    ahead = np.where(turned | (side[yarn] == side[after]), -side[yarn].astype(np.float64), np.nan)
    ahead = np.where(turned, -ahead, ahead)
    return (
        np.stack([yarn, after], axis=1),
        np.hypot(width, height),
        np.stack([ahead * width, height], axis=1),
    )


def _through(fabric: Fabric, sizes: StitchSizes) -> _Part:
    """Edges from a loop to what is drawn through it: up, or aslant beside shaping."""
    w, h = sizes.width_mm[fabric.child], sizes.height_mm[fabric.child]
    picked_up = (fabric.info & EDGE) != 0
    chain = (fabric.info & CHAIN) != 0
    height = h * (1.0 + np.where(picked_up, 0, _courses_carried(fabric)[fabric.parent]))
    ridge = np.zeros(len(fabric.next), bool)
    ridge[fabric.child[(fabric.info & FACING) != 0]] = True
    height = np.where(ridge[fabric.child], h / 2, height)
    lean = slants(fabric) * w
    along, up = -fabric.side[fabric.child] * lean, height
    along, up = np.where(chain, -fabric.side[fabric.child] * w, along), np.where(chain, 0.0, up)
    rest = np.hypot(along, up)
    aslant = fabric.kinds(Kind.WRAP)[fabric.parent]
    rest = np.where(aslant, np.hypot(w / 2, 1.5 * h), rest)
    rest = np.where(np.isnan(rest), np.hypot(w, height), rest)
    along = np.where(picked_up | aslant | ((fabric.info & FACING) != 0), np.nan, along)
    return (
        np.stack([fabric.parent, fabric.child], axis=1),
        rest,
        np.stack([along, up], axis=1),
    )


def _beside(fabric: Fabric, sizes: StitchSizes) -> _Part:
    """Edges between a tall loop and its neighbours in the courses that it was carried past."""
    tall = _courses_carried(fabric)
    w = (sizes.width_mm[fabric.right] + sizes.width_mm[fabric.left]) / 2
    h = np.minimum(sizes.height_mm[fabric.right], sizes.height_mm[fabric.left])
    above = fabric.course[fabric.left] - fabric.course[fabric.right]
    most = np.maximum(tall[fabric.right], tall[fabric.left])
    step = np.stack([np.full(len(above), -w), np.clip(above, -most, most) * h], axis=1)
    return np.stack([fabric.right, fabric.left], axis=1), np.hypot(step[:, 0], step[:, 1]), step


def _stepped(fabric: Fabric) -> Bools:
    """Loops worked in order to be bound off with the one before: they stand a course lower."""
    out = np.zeros(len(fabric.next), bool)
    drawn = (fabric.info & CHAIN) == 0
    drawn &= fabric.kinds(Kind.BOUND_OFF)[fabric.child]
    drawn &= fabric.next[fabric.parent] == fabric.child
    out[fabric.parent[drawn]] = True
    return out


def _courses_carried(fabric: Fabric) -> Ints:
    """How many courses each loop was carried past.

    Each left it a beside edge on either hand. At the end of a row there is none: where the first
    stitch after a turn was slipped, its chain of edge loops counts one to two rows.
    """
    rows = len(fabric.next)
    right, left = (np.bincount(ends, minlength=rows) for ends in (fabric.right, fabric.left))
    carried = np.maximum(right, left) * _is_tall(fabric)
    worked = np.bincount(fabric.parent, minlength=rows) > 0
    again = np.zeros(rows, bool)
    again[fabric.parent[fabric.next[fabric.parent] == fabric.child]] = True
    slipped = (fabric.flags & TURNED) != 0
    slipped &= (fabric.next >= 0) & ~again & ~fabric.kinds(Kind.WRAP)
    return np.asarray(np.maximum(carried, slipped) * worked)


def _is_tall(fabric: Fabric) -> Bools:
    """Of the two loops that a beside edge joins, the older one is the one that was carried."""
    tall = np.zeros(len(fabric.next), bool)
    older = np.where(
        fabric.course[fabric.right] <= fabric.course[fabric.left], fabric.right, fabric.left
    )
    tall[older] = True
    return tall


def _shortest(pairs: Ints, rest: Floats, n: int) -> Ints:
    """One edge for each pair of loops; the shortest of several, for the others hang slack."""
    keys = pairs.min(axis=1) * n + pairs.max(axis=1)
    order = np.lexsort((rest, keys))
    first = order[np.unique(keys[order], return_index=True)[1]]
    return np.asarray(first[pairs[first, 0] != pairs[first, 1]])


def _rings(fabric: Fabric, vertex: Ints) -> list[Ints]:
    """Cells by size as vertices, without openings and without what no fabric spans."""
    cells = surface(fabric)
    leader = cells.leader
    valid = leader >= 0
    size = np.bincount(leader[valid], minlength=len(leader))
    size[cells.opening_leaders] = 0
    groups = []
    for k in np.unique(size[(size > 2) & (size <= _LARGEST_CELL)]):
        dart = np.flatnonzero(size == k)
        ring = []
        for _ in range(k):
            ring.append(vertex[cells.origin[dart]])
            dart = cells.follow[dart].astype(np.int64)
        rings = np.stack(ring, axis=1)
        ordered = np.sort(rings, axis=1)
        groups.append(rings[(ordered[:, 1:] != ordered[:, :-1]).all(axis=1)])
    return groups
