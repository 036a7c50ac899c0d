"""The fabric: loops and the edges between them, as read-only columns.

The columns are the truth. `Fabric.graph` is a networkx view built from them on request and never
written back; cells, openings and gaps come from :mod:`loopwright.fabric._surface`.

Examples
--------
>>> from loopwright.making import Work, bind_off, cast_on
>>> work = Work()
>>> for _ in range(2):  # two strips, one after the other, each with a yarn of its own
...     cast_on(work, 4)
...     work.turn()
...     work.row(["k"] * 4)
...     bind_off(work)
>>> fabric = work.fabric()
>>> fabric.pieces.tolist() == [0] * 12 + [1] * 12
True
>>> bool((fabric.surface_pieces == fabric.pieces).all())  # there are no floats
True
>>> int(fabric.present.sum()) == len(fabric)  # no waste yarn was taken out
True
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property
from types import MappingProxyType
from typing import Any, cast

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.errors import UnknownLoopError
from loopwright.fabric._arrays import graph_of_arrays
from loopwright.fabric._crossings import straightened
from loopwright.fabric._from_graph import columns_of
from loopwright.fabric._from_graph_surface import require_a_surface
from loopwright.fabric._frozen_columns import (
    as_bits,
    as_frozen_map,
    as_ids,
    as_ledger,
    as_pairs,
    as_small,
    require_loops,
)
from loopwright.fabric._graph_view import AnyGraph, LoopGraph, graph_of
from loopwright.fabric._maps import canonical_key
from loopwright.fabric._pieces import pieces
from loopwright.fabric._strand import Strand
from loopwright.fabric._surface import Cell, CellMap, surface
from loopwright.fabric._tangles import tangles
from loopwright.fabric.columns import FLOAT, GONE, LEFT_FLANK, TURNED, Ints
from loopwright.fabric.stitches import STITCHES, Kind, Stitch, StitchTable
from loopwright.plurals import plural
from loopwright.shown import Shown

__all__ = ["Fabric", "Strand"]

_SAME = attrs.cmp_using(eq=np.array_equal)
_FEW = 8  # stitches that are sooner compared with each loop than looked up for it


def _as_strands(strands: Iterable[Strand]) -> tuple[Strand, ...]:
    return tuple(strands)


@attrs.frozen(slots=False, hash=False, repr=False)
class Fabric(Shown):
    """A knitted fabric, finished or on the needles.

    Parameters
    ----------
    next, strand, course, stitch, flags : ndarray, shape (rows,)
        One row a loop; a loop's id is its row. See :mod:`loopwright.fabric.columns` for the bits.
    parent, child, info : ndarray, shape (n_through,)
        Through edges, child by child.
    right, left : ndarray, shape (n_beside,)
        Beside edges, from a loop to its left neighbour.
    strands : tuple of Strand
        Indexed by the column `strand`.
    needles, held : mapping of str to ndarray of int32
        Live loops in working order, by what carries them.
    wraps : mapping of str to ndarray
        ``"wrap"`` and ``"stitch"``: which wrap still waits beside which stitch.
    ledger : ndarray, shape (k, 6), int32
        What each operation did: operation, first id after it, loops live before, taken, made,
        live after.
    removed : ndarray, shape (r, 2), int32
        Through edges that went with waste yarn, for the record.
    stitches : StitchTable

    Raises
    ------
    UnknownLoopError
        A column, a needle or a holder names a loop that has no row.

    Examples
    --------
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 4)
    >>> work.turn()
    >>> work.row(["k2tog", "k2tog"])
    >>> fabric = work.fabric()
    >>> print(fabric)
    Fabric of 6 loops, 2 live; strands: main
    >>> fabric.parents(4).tolist(), fabric.children(0).tolist()  # loop 4 is the first k2tog
    ([3, 2], [5])
    >>> fabric.previous.tolist(), fabric.turned.tolist()
    ([-1, 0, 1, 2, 3, 4], [False, False, False, True, False, True])
    >>> fabric.kinds(Kind.CAST_ON).tolist()
    [True, True, True, True, False, False]
    >>> [cell.size for cell in fabric.cells()], len(fabric.openings)
    ([6, 3, 4, 3, 2], 1)
    >>> fabric.stitch_of(fabric.require(4)).name, fabric.is_used.nonzero()[0].tolist()
    ('knit two together', [0, 12])
    >>> fabric.canonical_key[:17], fabric.uncrossed == fabric
    ('fabric-1:...', True)
    """

    next: Ints = attrs.field(converter=as_ids, eq=_SAME)
    strand: NDArray[np.int16] = attrs.field(converter=as_small, eq=_SAME)
    course: Ints = attrs.field(converter=as_ids, eq=_SAME)
    stitch: NDArray[np.int16] = attrs.field(converter=as_small, eq=_SAME)
    flags: NDArray[np.uint8] = attrs.field(converter=as_bits, eq=_SAME)
    parent: Ints = attrs.field(converter=as_ids, eq=_SAME)
    child: Ints = attrs.field(converter=as_ids, eq=_SAME)
    info: NDArray[np.uint8] = attrs.field(converter=as_bits, eq=_SAME)
    right: Ints = attrs.field(converter=as_ids, eq=_SAME)
    left: Ints = attrs.field(converter=as_ids, eq=_SAME)
    strands: tuple[Strand, ...] = attrs.field(converter=_as_strands)
    needles: Mapping[str, Ints] = attrs.field(converter=as_frozen_map, factory=dict, eq=False)
    held: Mapping[str, Ints] = attrs.field(converter=as_frozen_map, factory=dict, eq=False)
    wraps: Mapping[str, Ints] = attrs.field(converter=as_frozen_map, factory=dict, eq=False)
    ledger: Ints = attrs.field(converter=as_ledger, factory=list, eq=False)
    removed: Ints = attrs.field(converter=as_pairs, factory=list, eq=False)
    stitches: StitchTable = attrs.field(default=STITCHES)

    def __attrs_post_init__(self) -> None:
        rows = len(self.flags)
        require_loops(self.next[self.next != -1], rows)
        edges = (self.parent, self.child, self.right, self.left)
        for ids in (*edges, *self.needles.values(), *self.held.values(), *self.wraps.values()):
            require_loops(ids, rows)

    def __getstate__(self) -> dict[str, Any]:
        # Mapping proxies don't pickle, and cached surfaces are cheaper to make than to send.
        state = {field.name: getattr(self, field.name) for field in attrs.fields(Fabric)}
        return {
            name: dict(value) if isinstance(value, MappingProxyType) else value
            for name, value in state.items()
        }

    def __setstate__(self, state: dict[str, Any]) -> None:
        # A read-only array comes back writable from pickle: go through the converters again.
        self.__init__(**state)  # type: ignore[misc]

    def __len__(self) -> int:
        """Return how many loops there are, without those taken out."""
        return len(self.flags) - int(np.count_nonzero(self.flags & GONE))

    def __str__(self) -> str:
        strands = ", ".join(strand.name for strand in self.strands)
        size = f"{plural(len(self), 'loop')}, {len(self.live)} live"
        return f"Fabric of {size}; strands: {strands or 'none'}"

    @cached_property
    def present(self) -> NDArray[np.bool_]:
        """Which rows are loops of the fabric (not taken out), shape (rows,)."""
        return cast("NDArray[np.bool_]", (self.flags & GONE) == 0)

    @cached_property
    def ids(self) -> Ints:
        """Ids of all loops, ascending, shape (n,)."""
        return np.flatnonzero(self.present).astype(np.int32)

    @cached_property
    def previous(self) -> Ints:
        """The loop before each loop on its strand, -1 at the start, shape (rows,)."""
        before = np.full(len(self.next), -1, dtype=np.int32)
        has_next = np.flatnonzero(self.next >= 0)
        before[self.next[has_next]] = has_next
        return before

    @property
    def side(self) -> NDArray[np.int8]:
        """+1 or -1: the flank of its strand on which loops are drawn through it, shape (rows,)."""
        return (1 - 2 * (self.flags & LEFT_FLANK).astype(np.int8)).astype(np.int8)

    @property
    def turned(self) -> NDArray[np.bool_]:
        """Whether the work was turned after each loop, shape (rows,)."""
        return cast("NDArray[np.bool_]", (self.flags & TURNED) != 0)

    @cached_property
    def live(self) -> Ints:
        """Ids of all live loops, on needles and on holders, shape (k,)."""
        groups = [*self.needles.values(), *self.held.values()]
        return np.concatenate(groups) if groups else np.zeros(0, dtype=np.int32)

    def kinds(self, *kinds: Kind) -> NDArray[np.bool_]:
        """Return which rows hold stitches of these kinds, shape (rows,)."""
        wanted = np.flatnonzero(self.stitches.of_kind(*kinds) & self.is_used)
        if len(wanted) > _FEW:
            return np.take(self.stitches.of_kind(*kinds), self.stitch)
        found = np.zeros(len(self.stitch), dtype=np.bool_)
        for code in wanted.tolist():
            found |= self.stitch == code
        return found

    @cached_property
    def is_used(self) -> NDArray[np.bool_]:
        """Which rows of the stitch table some loop is of, by code."""
        used = np.bincount(self.stitch, minlength=len(self.stitches)) > 0
        return used[: len(self.stitches)]

    def stitch_of(self, loop: int) -> Stitch:
        """Return the row of the stitch table that made `loop`."""
        return self.stitches.rows[int(self.stitch[self.require(loop)])]

    def parents(self, loop: int) -> Ints:
        """Return what `loop` was drawn through, in the order taken."""
        return self.parent[np.flatnonzero(self.child == self.require(loop))]

    def children(self, loop: int) -> Ints:
        """Return the loops drawn through `loop`, in the order made."""
        return self.child[np.flatnonzero(self.parent == self.require(loop))]

    def require(self, loop: int) -> int:
        """Return `loop`, or raise `UnknownLoopError` if the fabric has no such loop."""
        if not (0 <= loop < len(self.flags)) or self.flags[loop] & GONE:
            raise UnknownLoopError(int(loop), len(self.flags))
        return int(loop)

    @cached_property
    def surface(self) -> CellMap:
        """The order of edges round each loop, and the cells; made once."""
        return surface(self)

    @cached_property
    def canonical_key(self) -> str:
        """A text that is equal exactly for the same fabric (see `same_fabric`); made once.

        Fabrics of a study can be grouped by it: it does not depend on ids, names of yarns, the
        order of making, the machine or the version of this package.
        """
        return canonical_key(self)

    @cached_property
    def uncrossed(self) -> Fabric:
        """The fabric as if no stitches changed places, each wale straight up; edges keep places."""
        parent, info = straightened(self)
        return attrs.evolve(self, parent=parent, info=info) if (self.info != info).any() else self

    def cell_sizes(self) -> dict[int, int]:
        """Return how many cells have 2, 3, 4 ... edges, openings among them."""
        return self.surface.sizes

    def cells(self) -> tuple[Cell, ...]:
        """Return every cell with the loops round it, openings among them."""
        leader = self.surface.leader
        return tuple(
            self.surface.cell(int(dart))
            for dart in np.flatnonzero(leader == np.arange(len(leader)))
        )

    @property
    def euler_characteristic(self) -> int:
        """V - E + C: 2 for every connected piece without a mistake."""
        return self.surface.euler_characteristic

    @property
    def is_on_spheres(self) -> bool:
        """Whether V - E + C is 2 for each piece of the surface: no edges cross."""
        pieces = np.count_nonzero(np.bincount(self.surface_pieces[self.ids]))
        return self.euler_characteristic == 2 * int(pieces)

    @cached_property
    def tangles(self) -> tuple[tuple[int, ...], ...]:
        """The loops at which edges cross, place by place; none where it can't be told.

        A loop drawn through the wrong one makes such a place.

        Examples
        --------
        >>> from loopwright.making import Work, cast_on
        >>> work = Work()
        >>> cast_on(work, 12)
        >>> work.join_round()
        >>> work.plain_rounds(5)
        >>> parent = work.fabric().parent.copy()  # loop 12 is the first that has one
        >>> for one, other in (30, 31), (50, 54):
        ...     parent[[one - 12, other - 12]] = parent[[other - 12, one - 12]]
        >>> attrs.evolve(work.fabric(), parent=parent).tangles
        ((18, 19, 30, 31), (38, 42, 50, 54))
        """
        return tangles(self)

    @cached_property
    def openings(self) -> tuple[Cell, ...]:
        """Cells bounded by a cast-on edge, a bound-off edge or live loops."""
        return tuple(self.surface.cell(dart) for dart in self.surface.opening_leaders)

    def gaps(self, limit: int = 6) -> tuple[Cell, ...]:
        """Return the cells of more than `limit` edges that are neither openings nor drawn up.

        Parameters
        ----------
        limit : int, edges
            At least 4; 6 is what a mended corner or a wrapped turn has.
        """
        leave = {*self.surface.opening_leaders, *self.surface.drawn_leaders}
        return tuple(
            self.surface.cell(dart)
            for dart in self.surface.large_leaders(limit)
            if dart not in leave
        )

    @cached_property
    def pieces(self) -> NDArray[np.int64]:
        """Number of the connected piece that each loop lies in, shape (rows,)."""
        return pieces(self, self.next)

    @cached_property
    def surface_pieces(self) -> NDArray[np.int64]:
        """The same where floats join nothing: they are no edges of the surface."""
        floats = (self.flags & FLOAT) != 0
        if not floats.any():
            return self.pieces
        return pieces(self, np.where(floats, np.int32(-1), self.next))

    @property
    def graph(self) -> LoopGraph:
        """The whole networkx view, floats among it; see `as_graph`."""
        return self.as_graph()

    def as_graph(self, *, floats: bool = True, crossings: bool = False) -> LoopGraph:
        """Return a networkx view, keyed ``"yarn"``, ``"through"`` and ``"beside"``.

        Nodes carry ``strand``, ``course``, ``side``, ``stitch``, ``turned``, ``outside``,
        ``fastened``, ``drawn``, ``opened`` (how many loops below went with waste yarn), ``held``
        (what carries a live loop, else None) and ``place`` (where on it, else -1). Edges carry
        their ``kind`` too, for tools that know no keys; yarn edges ``float`` and ``front``;
        through edges ``rank``, ``face`` (``"k"`` or ``"p"`` from the right side), ``taken``
        (which of its loop's parents it is), ``edge``, ``chain``, ``facing`` and
        ``crossed`` (in a crossing, where ``rank`` says how deep it lies); beside edges
        ``number``. The graph carries ``strands`` and ``wraps`` as JSON.

        Parameters
        ----------
        floats : bool
            False leaves out the yarn edges that pass behind loops. What is left lies on the
            surface: it is planar for every fabric without a mistake where no stitches cross.
        crossings : bool
            True cuts through edges that cross at their crossing vertices, nodes that are numbered
            from the last row of loops on and carry ``stitch="crossing"``: planar again.

        Returns
        -------
        networkx.MultiDiGraph
            Built anew each time; `from_graph` gives the fabric again.

        Examples
        --------
        >>> from loopwright.making import Work, cast_on
        >>> work = Work()
        >>> cast_on(work, 8)
        >>> work.join_round()
        >>> for _ in range(3):
        ...     work.round(["k", "sl", "k", "sl", "sl", "k", "sl", "k"])
        >>> fabric = work.fabric()
        >>> import networkx as nx
        >>> nx.check_planarity(fabric.as_graph(floats=False))[0]
        True
        """
        return graph_of(self, floats=floats, crossings=crossings)

    @classmethod
    def from_graph(cls, graph: AnyGraph, *, stitches: StitchTable = STITCHES) -> Fabric:
        """Return the fabric that a graph describes, one of your own or one of `as_graph`.

        Parameters
        ----------
        graph : networkx.MultiDiGraph or networkx.DiGraph
            Nodes are loops, of any kind of name. An edge is known by its key or by an attribute
            ``kind``: ``"yarn"`` from a loop to the next of its strand, ``"through"`` from a loop
            to one drawn through it, ``"beside"`` from a loop to its left neighbour where no yarn
            joins the two. Of the attributes that `as_graph` lists, through edges need ``face``,
            and ``rank`` where a loop is drawn through several; what else follows from the graph
            may be left out: sides (the first loop of each piece is taken to be worked right to
            left), turns, stitches, courses, what is live, the order of making.
        stitches : StitchTable

        Raises
        ------
        GraphError
            The graph is no fabric, or doesn't say enough. Names every violation with its nodes,
            and the attribute that is missing.

        Examples
        --------
        >>> import networkx as nx
        >>> tube = nx.MultiDiGraph()
        >>> for loop in range(24):
        ...     if loop:
        ...         _ = tube.add_edge(loop - 1, loop, "yarn")
        ...     if loop >= 8:
        ...         _ = tube.add_edge(loop - 8, loop, "through", face="k")
        >>> fabric = Fabric.from_graph(tube)
        >>> print(fabric)
        Fabric of 24 loops, 8 live; strands: main
        >>> fabric.euler_characteristic, fabric.cell_sizes()
        (2, {4: 15, 9: 2})
        >>> Fabric.from_graph(fabric.graph) == fabric
        True
        """
        columns, order, doubts, given = columns_of(graph, stitches)
        strands = [Strand(**{**one, "woven": tuple(one["woven"])}) for one in columns["strands"]]
        fabric = cls(**{**columns, "strands": strands}, stitches=stitches)
        require_a_surface(graph, fabric, order, doubts, given)
        return fabric

    @classmethod
    def from_arrays(
        cls,
        yarn: Any,
        through: Any,
        *,
        face: Any,
        rank: Any = None,
        beside: Any = (),
        stitches: StitchTable = STITCHES,
        **loops: Any,
    ) -> Fabric:
        """Return the fabric that arrays of edges describe; `from_graph` says what they mean.

        Parameters
        ----------
        yarn, beside : array_like, shape (k, 2), int
        through : array_like, shape (m, 2), int
            Parent and child.
        face : array_like, shape (m,), str
            ``"k"`` or ``"p"`` for each through edge, as seen from the right side.
        rank : array_like, shape (m,), int, optional
            Place of the parent in its stack, 0 on top; 0 for all if left out.
        stitches : StitchTable
        **loops
            Attributes of loops, each by the number of the loop: ``side``, ``stitch`` ...

        Raises
        ------
        GraphError
            As by `from_graph`, and for arrays of another shape.

        Examples
        --------
        >>> import numpy as np
        >>> loops = np.arange(24)
        >>> yarn = np.stack((loops[:-1], loops[1:]), axis=1)
        >>> through = np.stack((loops[:-8], loops[8:]), axis=1)
        >>> len(Fabric.from_arrays(yarn, through, face=["k"] * 16).live)
        8
        """
        graph = graph_of_arrays(yarn, through, beside, face, rank, loops)
        return cls.from_graph(graph, stitches=stitches)
