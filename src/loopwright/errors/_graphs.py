"""Errors of graphs that are no fabric, and of fabrics that no hands make."""

from __future__ import annotations

import attrs

from loopwright.errors._root import LoopwrightError

__all__ = ["GraphError", "NotKnittableError"]


@attrs.define(slots=False)
class GraphError(LoopwrightError, ValueError):
    """A graph that is no fabric: each violation in words, and the nodes that show it.

    Examples
    --------
    >>> import networkx as nx
    >>> from loopwright import Fabric
    >>> graph = nx.MultiDiGraph()
    >>> graph.add_edge("a", "b", "yarn")
    'yarn'
    >>> graph.add_edge("c", "b", "yarn")
    'yarn'
    >>> Fabric.from_graph(graph)
    Traceback (most recent call last):
    ...
    loopwright.errors.GraphError: the graph is no fabric:
      yarn: two loops lead on to loop 'b'; a yarn has one way through each loop ('a', 'c', 'b')
    """

    violations: tuple[str, ...]
    nodes: tuple[tuple[object, ...], ...]

    def __str__(self) -> str:
        return "\n  ".join(("the graph is no fabric:", *self.violations))


@attrs.define(slots=False)
class NotKnittableError(LoopwrightError, ValueError):
    """A fabric that can't be made by hand in the order of its yarn, with the loop that shows it.

    Examples
    --------
    >>> import attrs
    >>> from loopwright import Work, derive
    >>> from loopwright.making import cast_on
    >>> work = Work()
    >>> cast_on(work, 8)
    >>> work.join_round()
    >>> work.plain_rounds(3)
    >>> fabric = work.fabric()
    >>> parent = fabric.parent.copy()
    >>> parent[0] = 20  # the first loop of a round is drawn through one of the next
    >>> derive(attrs.evolve(fabric, parent=parent))
    Traceback (most recent call last):
    ...
    loopwright.errors.NotKnittableError: loop 8 (course 1, stitch 1 of 8: loop 8 (k, main)): it is
        drawn through loop 20, which no needle and no holder carries by then; make what it hangs
        on first, or draw it through a loop that is live
    """

    loop: int
    place: str
    problem: str
    advice: str

    def __str__(self) -> str:
        hint = f"; {self.advice}" if self.advice else ""
        return f"loop {self.loop} ({self.place}): {self.problem}{hint}"
