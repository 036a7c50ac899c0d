"""Whether the edges of a graph make a surface, and where they don't."""

from __future__ import annotations

from collections.abc import Hashable
from typing import TYPE_CHECKING, Protocol

from loopwright.fabric._from_graph import Doubts, Given, edges_of

if TYPE_CHECKING:
    import networkx as nx

__all__ = ["require_a_surface"]


class Surfaced(Protocol):
    """What is asked of a fabric that was made of a graph."""

    @property
    def is_on_spheres(self) -> bool: ...
    @property
    def tangles(self) -> tuple[tuple[int, ...], ...]: ...


_WRONG_LOOP = "; one of these is drawn through the wrong loop"


def require_a_surface(
    graph: nx.Graph, fabric: Surfaced, order: list[Hashable], doubts: Doubts, given: Given
) -> None:
    """Refuse a graph whose stitches are wrong, or whose sides make no surface.

    Of the latter, those whose sides were found, or look odd in their rows: `check` tells of others.

    Raises
    ------
    GraphError
        Names the loops where edges cross, one by one, else those where rows run both ways, or
        those whose sides have to be given.
    """
    untold = tuple(n for n, data in graph.nodes(data=True) if "side" not in data)
    if (untold or doubts or given.violations) and not fabric.is_on_spheres:
        places = fabric.tangles
        asked = "; if they are right, tell 'side' or 'stitch' where no row below says it"
        wrong = "the edges make no surface"
        if places:
            for loops in places:
                given.wrong(
                    "surface", f"edges cross{_WRONG_LOOP}{asked if untold else ''}",
                    *(order[loop] for loop in loops),
                )  # fmt: skip
        if doubts and not untold:
            nodes = dict.fromkeys(node for pair in doubts for node in pair)
            given.wrong("side", f"{wrong}, and the sides or turns here contradict the rows", *nodes)
        elif untold and not places:
            drawn = {
                b for _, b, key, data in edges_of(graph) if "through" in (key, data.get("kind"))
            }
            given.wrong("side", wrong + asked, *(node for node in untold if node not in drawn))
    given.require_sound()
