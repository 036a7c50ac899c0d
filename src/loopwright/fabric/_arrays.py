"""From arrays of edges to the graph that they describe."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from loopwright._late import LatePackage
from loopwright.errors import GraphError

__all__ = ["graph_of_arrays"]

if TYPE_CHECKING:
    import networkx as nx
else:
    nx = LatePackage("networkx")


def graph_of_arrays(
    yarn: Any, through: Any, beside: Any, face: Any, rank: Any, loops: Mapping[str, Any]
) -> nx.MultiDiGraph:
    """Return the graph; `Fabric.from_arrays` says what the arrays are.

    Raises
    ------
    GraphError
        An array has another shape, or edges are something else than numbers of loops.

    Examples
    --------
    >>> graph_of_arrays([(0, 1), (1, 2)], [(0, 2)], [], ["k"], None, {}).number_of_edges()
    3
    """
    told = {"yarn": yarn, "through": through, "beside": beside}
    pairs = {kind: _pairs(kind, edges) for kind, edges in told.items()}
    graph = nx.MultiDiGraph()
    graph.add_nodes_from(np.unique(np.concatenate(list(pairs.values()))).tolist())
    for name, values in loops.items():
        for loop, value in enumerate(_entries(name, values).tolist()):
            graph.add_node(loop, **{name: value})
    graph.add_edges_from((a, b, "yarn") for a, b in pairs["yarn"].tolist())
    count = len(pairs["through"])
    sides = _entries("face", face, count)
    ranks = np.zeros(count, dtype=int) if rank is None else _entries("rank", rank, count)
    for (a, b), side, place in zip(
        pairs["through"].tolist(), sides.tolist(), ranks.tolist(), strict=True
    ):
        graph.add_edge(a, b, "through", face=side, rank=place)
    for number, (a, b) in enumerate(pairs["beside"].tolist()):
        graph.add_edge(a, b, "beside", number=number)
    return graph


def _pairs(kind: str, edges: Any) -> NDArray[np.int64]:
    found = _entries(kind, edges)
    if found.size == 0:
        return np.empty((0, 2), dtype=np.int64)
    if found.dtype.kind not in "iu" or found.shape[1:] != (2,):
        raise _refusal(kind, "pairs of whole numbers, those of two loops", edges)
    return found.astype(np.int64)


def _entries(name: str, values: Any, count: int | None = None) -> NDArray[Any]:
    try:
        found = np.asarray(values)
    except (ValueError, TypeError, OverflowError):
        raise _refusal(name, "rows of one length", values) from None
    if found.ndim == 0:
        raise _refusal(name, "an array", values)
    if count is not None and len(found) != count:
        raise _refusal(name, f"one entry for each through edge, {count} of them", values)
    return found


def _refusal(name: str, expected: str, found: Any) -> GraphError:
    shown = " ".join(repr(found).split())
    short = shown if len(shown) <= 60 else f"{shown[:57]}..."
    return GraphError((f"{name}: expected {expected}; found {short}",), ((),))
