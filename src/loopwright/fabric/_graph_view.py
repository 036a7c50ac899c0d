"""The networkx view of a fabric: what each loop and each edge carries there."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, ForwardRef, Protocol, TypeAlias

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright._late import LatePackage
from loopwright.fabric._crossings import CrossingsOf, cut_at_crossings
from loopwright.fabric._strand import Strand
from loopwright.fabric.columns import (
    BACK,
    CHAIN,
    CROSSED,
    DRAWN,
    EDGE,
    FACING,
    FASTENED,
    FLOAT,
    FLOAT_FRONT,
    OUTSIDE,
    RANK,
    Ints,
)

__all__ = ["AnyGraph", "LoopGraph", "graph_of"]

if TYPE_CHECKING:
    import networkx as nx

    LoopGraph: TypeAlias = nx.MultiDiGraph[int]
    AnyGraph: TypeAlias = nx.Graph[Any]
else:  # generic classes for type checkers only; others find out what they are when they ask
    nx = LatePackage("networkx")
    LoopGraph = ForwardRef("nx.MultiDiGraph", module=__name__)
    AnyGraph = ForwardRef("nx.Graph", module=__name__)


class GraphOf(CrossingsOf, Protocol):
    """What a view is built from: a fabric's columns."""

    @property
    def next(self) -> Ints: ...
    @property
    def strand(self) -> NDArray[np.int16]: ...
    @property
    def course(self) -> Ints: ...
    @property
    def side(self) -> NDArray[np.int8]: ...
    @property
    def turned(self) -> NDArray[np.bool_]: ...
    @property
    def ids(self) -> Ints: ...
    @property
    def right(self) -> Ints: ...
    @property
    def left(self) -> Ints: ...
    @property
    def strands(self) -> tuple[Strand, ...]: ...
    @property
    def needles(self) -> Mapping[str, Ints]: ...
    @property
    def held(self) -> Mapping[str, Ints]: ...
    @property
    def wraps(self) -> Mapping[str, Ints]: ...
    @property
    def removed(self) -> Ints: ...


def graph_of(fabric: GraphOf, *, floats: bool, crossings: bool) -> LoopGraph:
    """Return the view that `Fabric.as_graph` describes."""
    graph = nx.MultiDiGraph(strands=_told_strands(fabric), wraps=_told_wraps(fabric))
    carried = {
        int(loop): (name, place)
        for groups in (fabric.needles, fabric.held)
        for name, group in groups.items()
        for place, loop in enumerate(group)
    }
    side, turned = fabric.side.tolist(), fabric.turned.tolist()
    course, stitch = fabric.course.tolist(), fabric.stitch.tolist()
    keys = [row.key for row in fabric.stitches]
    names = [strand.name for strand in fabric.strands]
    strand, flags = fabric.strand.tolist(), fabric.flags.tolist()
    opened = np.bincount(fabric.removed[:, 1], minlength=len(flags)).tolist()
    for loop in fabric.ids.tolist():
        held, place = carried.get(loop, (None, -1))
        graph.add_node(
            loop,
            strand=names[strand[loop]],
            course=course[loop],
            side=side[loop],
            stitch=keys[stitch[loop]],
            turned=turned[loop],
            outside=bool(flags[loop] & OUTSIDE),
            fastened=bool(flags[loop] & FASTENED),
            drawn=bool(flags[loop] & DRAWN),
            opened=opened[loop],
            held=held,
            place=place,
        )
    for loop, following in zip(fabric.ids.tolist(), fabric.next[fabric.ids].tolist(), strict=True):
        passes = bool(flags[loop] & FLOAT)
        if following >= 0 and (floats or not passes):
            front = bool(flags[loop] & FLOAT_FRONT)
            graph.add_edge(loop, following, "yarn", kind="yarn", float=passes, front=front)
    _add_through(graph, fabric)
    for number, pair in enumerate(zip(fabric.right.tolist(), fabric.left.tolist(), strict=True)):
        graph.add_edge(*pair, "beside", kind="beside", number=number)
    if crossings:
        cut_at_crossings(graph, fabric)
    return graph


def _add_through(graph: LoopGraph, fabric: GraphOf) -> None:
    taken = Counter[int]()
    for parent, child, bits in zip(
        fabric.parent.tolist(), fabric.child.tolist(), fabric.info.tolist(), strict=True
    ):
        graph.add_edge(
            parent,
            child,
            "through",
            kind="through",
            rank=bits & RANK,
            face="p" if bits & BACK else "k",
            taken=taken[child],
            edge=bool(bits & EDGE),
            chain=bool(bits & CHAIN),
            facing=bool(bits & FACING),
            crossed=bool(bits & CROSSED),
        )
        taken[child] += 1


def _told_strands(fabric: GraphOf) -> str:
    return json.dumps([attrs.asdict(strand) for strand in fabric.strands])


def _told_wraps(fabric: GraphOf) -> str:
    return json.dumps({name: loops.tolist() for name, loops in fabric.wraps.items()})
