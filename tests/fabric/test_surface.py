"""Cells against networkx: planarity, face traversal, and an order table stated anew."""

from __future__ import annotations

from collections import Counter

import networkx as nx
import pytest
from hypothesis import given

from benchmarks.by_hand import ByHand
from fabric.pieces import PIECES, tube, wedge
from loopwright.fabric import Fabric
from loopwright.fabric.columns import FLOAT
from loopwright.making import Hand, graft
from strategies import fabrics

# Pieces whose surface graph has one drawing on the sphere only (no two parallel edges, no part that
# could be flipped over): what any planarity test finds must be what the orders say.
RIGID = (
    "tube", "closed tube", "heel closed, waste in", "heel, waste out", "heel, recaptured",
    "sock, heel at once", "sock, waste row in", "sock, heel opened later", "tube with wraps",
    "tube with double stitches", "slip stitches", "star toe", "increases and decreases",
)  # fmt: skip


def surface_edges(fabric: Fabric) -> list[tuple[int, int]]:
    floats = (fabric.flags & FLOAT) != 0
    yarn = [
        (loop, int(fabric.next[loop]))
        for loop in fabric.ids.tolist()
        if fabric.next[loop] >= 0 and not floats[loop]
    ]
    through = zip(fabric.parent.tolist(), fabric.child.tolist(), strict=True)
    beside = zip(fabric.right.tolist(), fabric.left.tolist(), strict=True)
    return [*yarn, *through, *beside]


def cut_edges(fabric: Fabric) -> list[tuple[int, int]]:
    """The same where stitches cross, each edge cut at its crossing vertices."""
    if not fabric.surface.crossings:
        return surface_edges(fabric)
    return list(fabric.as_graph(floats=False, crossings=True).edges())


def face_sizes(embedding: nx.PlanarEmbedding) -> Counter[int]:
    seen: set[tuple[int, int]] = set()
    return Counter(
        len(embedding.traverse_face(a, b, seen)) for a, b in embedding.edges if (a, b) not in seen
    )


@pytest.mark.parametrize("hand", list(Hand))
@pytest.mark.parametrize("name", RIGID)
def test_cells_are_the_faces_that_planarity_finds(name: str, hand: Hand) -> None:
    fabric = PIECES[name](hand).fabric()
    edges = surface_edges(fabric)
    graph = nx.Graph(edges)
    assert graph.number_of_edges() == len(edges)
    planar, embedding = nx.check_planarity(graph)
    assert planar
    assert fabric.cell_sizes() == dict(face_sizes(embedding))


@pytest.mark.parametrize(("count", "stop"), [(16, 8), (24, 12), (32, 12)])
def test_cells_are_those_of_the_orders_stated_anew(count: int, stop: int) -> None:
    """Counted by a dictionary of darts, on a graph written by hand, loop for loop."""
    work = tube(count, 5)
    wedge(work, stop)
    graft(work)
    hand = ByHand()
    hand.cast_on(count)
    for _ in range(4):
        hand.round(["k"] * count, "main")
    hand.wedge(stop, "main")
    hand.graft("main")
    assert work.fabric().cell_sizes() == dict(hand.cells())


def test_one_tube_by_a_planar_embedding_written_down_edge_by_edge() -> None:
    """Clockwise order as one would draw it: previous, parents, next, children."""
    count, rounds = 8, 4
    embedding = nx.PlanarEmbedding()
    for loop in range(count * rounds):
        around = (loop - 1, loop - count, loop + 1, loop + count)
        last = None
        for other in around:
            if 0 <= other < count * rounds:
                embedding.add_half_edge(loop, other, cw=last)
                last = other
    embedding.check_structure()
    assert tube(count, rounds).fabric().cell_sizes() == dict(face_sizes(embedding))


@given(fabrics())
def test_each_dart_lies_in_one_cell(fabric: Fabric) -> None:
    """Walking the cells meets both sides of each edge once, and nothing else."""
    edges = cut_edges(fabric)
    surface = fabric.surface
    leaders = [dart for dart, leader in enumerate(surface.leader.tolist()) if dart == leader]
    corners = [[int(surface.origin[dart]) for dart in surface.walk(leader)] for leader in leaders]
    met = Counter(
        (a, b) for around in corners for a, b in zip(around, around[1:] + around[:1], strict=True)
    )
    assert met == Counter([*edges, *[(b, a) for a, b in edges]])
    assert Counter(cell.size for cell in fabric.cells()) == Counter(fabric.cell_sizes())
    assert sum(size * n for size, n in fabric.cell_sizes().items()) == 2 * len(edges)


@given(fabrics())
def test_every_fabric_lies_on_a_sphere(fabric: Fabric) -> None:
    graph = nx.Graph(cut_edges(fabric))
    graph.add_nodes_from(fabric.ids.tolist())
    assert nx.check_planarity(graph)[0]
    assert fabric.euler_characteristic == 2 * nx.number_connected_components(graph)
