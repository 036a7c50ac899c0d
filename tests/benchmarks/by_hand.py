"""The loop graph as one would write it by hand: a networkx MultiDiGraph, one add per loop.

It knits the same sock as the package and puts it through the same questions, each as its plain
networkx statement; the order of edges round a loop is stated here anew, for loops without turns.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

import networkx as nx

ORDERS = {
    1: ("previous", "children", "next", "parents"),
    -1: ("next", "children", "previous", "parents"),
}


class ByHand:
    """A right-handed knitter in the round, without turns."""

    def __init__(self) -> None:
        self.graph = nx.MultiDiGraph()
        self.needle: list[int] = []
        self.held: list[int] = []
        self.last: dict[str, int] = {}
        self.expected: list[int] = []
        self.ids = 0
        self.course = 0

    def loop(self, strand: str, parents: Sequence[int], side: int = 1, kind: str = "k") -> int:
        new, self.ids = self.ids, self.ids + 1
        self.graph.add_node(new, strand=strand, side=side, kind=kind, course=self.course)
        if strand in self.last:
            self.graph.add_edge(self.last[strand], new, "yarn")
        for rank, parent in enumerate(parents):
            self.graph.add_edge(parent, new, "through", rank=rank)
        self.last[strand] = new
        return new

    def cast_on(self, count: int) -> None:
        self.needle = [self.loop("main", (), kind="co") for _ in range(count)]

    def round(self, keys: Sequence[str], strand: str) -> None:
        self.course += 1
        waiting, made = self.needle, []
        place = 0
        for key in keys:
            takes = 1 if key == "k" else 2
            made.append(self.loop(strand, waiting[place : place + takes]))
            place += takes
        assert place == len(waiting)
        self.needle = made
        self.expected.append(len(made))

    def wedge(self, stop: int, strand: str) -> None:
        while len(self.needle) > stop:
            plain = ["k"] * (len(self.needle) // 2 - 6)
            self.round(["k", "ssk", *plain, "k2tog", "k"] * 2, strand)
            if len(self.needle) > stop:
                self.round(["k"] * len(self.needle), strand)

    def graft(self, strand: str) -> None:
        half = len(self.needle) // 2
        for near, far in zip(self.needle[:half], self.needle[half:][::-1], strict=True):
            self.loop(strand, (near,), kind="graft")
            self.loop(strand, (far,), side=-1, kind="graft")
        self.needle = []

    def lift(self, before: int, after: int) -> int:
        new, self.ids = self.ids, self.ids + 1
        self.graph.add_node(new, strand="main", side=-1, kind="lift", course=self.course)
        self.graph.remove_edge(before, after, "yarn")
        self.graph.add_edge(before, new, "yarn")
        self.graph.add_edge(new, after, "yarn")
        return new

    def sock(self, count: int, leg: int, foot: int, stop: int) -> None:
        half = count // 2
        self.cast_on(count)
        for _ in range(leg):
            self.round(["k"] * count, "main")
        self.course += 1
        made = [self.loop("main", (parent,)) for parent in self.needle[:half]]
        self.held = self.needle[half:]
        waste = [self.loop("waste", (), kind="co") for _ in range(half)]
        above = [self.loop("main", (parent,)) for parent in waste]
        self.needle = made + above
        self.round(["k"] * count, "main")
        self.wedge(stop, "main")
        self.graft("main")
        self.graph.remove_nodes_from(waste)
        strands = [(above[0] - half - 1, above[0]), *pairwise(above)]
        lifted = [self.lift(a, b) for a, b in strands]
        self.needle = self.held + lifted[::-1]  # they face the other way
        self.held = []
        for _ in range(foot):
            self.round(["k"] * count, "foot")
        self.wedge(stop, "foot")
        self.graft("foot")

    # Questions ------------------------------------------------------------------------------

    def cells(self) -> Counter[int]:
        """Sizes of the cells: leave each loop by the edge before the one that was come by."""
        before = {}
        for node, side in self.graph.nodes(data="side"):
            groups: dict[str, list[tuple[int, int, str]]] = {
                "previous": [], "next": [], "children": [], "parents": [],
            }  # fmt: skip
            for _, child, key in self.graph.out_edges(node, keys=True):
                groups["next" if key == "yarn" else "children"].append((node, child, key))
            parents = []
            for parent, _, key, rank in self.graph.in_edges(node, keys=True, data="rank"):
                if key == "yarn":
                    groups["previous"].append((node, parent, key))
                else:
                    parents.append((-rank, (node, parent, key)))
            groups["parents"] = [dart for _, dart in sorted(parents)]
            around = [dart for name in ORDERS[side] for dart in groups[name]]
            for place, dart in enumerate(around):
                before[dart] = around[place - 1]
        sizes: Counter[int] = Counter()
        while before:
            start = arrival = next(iter(before))
            size = 0
            while arrival != start or not size:
                node, other, key = before.pop(arrival)
                arrival = (other, node, key)
                size += 1
            sizes[size] += 1
        return sizes

    def questions(self, live: set[int]) -> bool:
        """All invariants: secured, strands, order, connected, surface, grafts, waste, gaps."""
        graph = self.graph
        through = nx.MultiDiGraph(
            [(a, b) for a, b, key in graph.edges(keys=True) if key == "through"]
        )
        secured = all(
            node in live or kind == "graft" or through.out_degree(node) > 0
            for node, kind in graph.nodes(data="kind")
        )
        yarn = nx.DiGraph([(a, b) for a, b, key in graph.edges(keys=True) if key == "yarn"])
        strands = all(
            yarn.in_degree(node) <= 1 and yarn.out_degree(node) <= 1 for node in yarn
        ) and nx.is_directed_acyclic_graph(yarn)
        order = nx.is_directed_acyclic_graph(through)
        connected = nx.is_connected(graph.to_undirected(as_view=True))
        sizes = self.cells()
        surface = len(graph) - graph.number_of_edges() + sum(sizes.values()) == 2
        grafted = [node for node, kind in graph.nodes(data="kind") if kind == "graft"]
        pairs = nx.Graph([
            (a, b) for a, b in yarn.subgraph(grafted).edges
            if (graph.nodes[a]["side"], graph.nodes[b]["side"]) == (1, -1)
        ])  # fmt: skip
        grafts = not pairs or nx.is_perfect_matching(pairs, {tuple(e) for e in pairs.edges})
        waste = all(strand != "waste" for _, strand in graph.nodes(data="strand"))
        return all((secured, strands, order, connected, surface, grafts, waste))
