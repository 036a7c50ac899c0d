"""Fabrics from graphs: there and back, by hand from little, and damaged in every way."""

from __future__ import annotations

import random
from collections.abc import Callable
from itertools import pairwise

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fabric.pieces import PIECES
from loopwright.errors import FabricFileError, GraphError
from loopwright.fabric import Fabric, check, difference, same_fabric
from loopwright.fabric._from_graph_sides import doubtful
from loopwright.fabric.files import from_graphml, from_node_link, to_graphml, to_node_link
from loopwright.making import Hand, Work, cast_on
from loopwright.pattern import derive, knit, write
from strategies import fabrics, small_fabrics
from together import together

WAYS: dict[str, Callable[[Fabric], Fabric]] = {
    "networkx": lambda fabric: Fabric.from_graph(fabric.graph),
    "GraphML": lambda fabric: from_graphml(to_graphml(fabric)),
    "node-link JSON": lambda fabric: from_node_link(to_node_link(fabric)),
}


@pytest.mark.parametrize("way", WAYS)
@given(fabrics())
@settings(max_examples=15)
def test_a_fabric_comes_back_from_its_graph(way: str, fabric: Fabric) -> None:
    again = WAYS[way](fabric)
    assert same_fabric(again, fabric)
    if len(again) == len(fabric.flags):  # no waste yarn was taken out
        assert again == fabric
        for groups, others in ((again.needles, fabric.needles), (again.held, fabric.held)):
            assert {n: g.tolist() for n, g in groups.items() if len(g)} == {
                n: g.tolist() for n, g in others.items() if len(g)
            }


@pytest.mark.parametrize("hand", Hand)
@pytest.mark.parametrize("name", PIECES)
def test_a_graph_comes_back_as_instructions(name: str, hand: Hand) -> None:
    fabric = Fabric.from_graph(PIECES[name](hand).fabric().graph)
    assert same_fabric(knit(derive(fabric)), fabric)


@given(small_fabrics(), st.randoms())
def test_names_and_order_of_nodes_do_not_matter(fabric: Fabric, rng: random.Random) -> None:
    graph = fabric.graph
    names = [f"loop {loop}" for loop in graph]
    renamed = nx.relabel_nodes(graph, dict(zip(graph, names, strict=True)))
    renamed.graph["wraps"] = "{}"
    shuffled = nx.MultiDiGraph(**renamed.graph)
    rng.shuffle(names)
    shuffled.add_nodes_from((name, renamed.nodes[name]) for name in names)
    shuffled.add_edges_from(renamed.edges(keys=True, data=True))
    assert same_fabric(Fabric.from_graph(shuffled), fabric)


def bare(fabric: Fabric, *nodes: str) -> nx.MultiDiGraph:
    """Yarn and through edges, with what a maker of graphs would say of them."""
    keep = {"yarn": (), "through": ("face", "rank", "edge", "chain", "facing"), "beside": ()}
    graph, bare = fabric.graph, nx.MultiDiGraph()
    bare.add_nodes_from((n, {name: d[name] for name in nodes}) for n, d in graph.nodes(data=True))
    bare.add_edges_from(
        (a, b, key, {name: data[name] for name in keep[key]})
        for a, b, key, data in graph.edges(keys=True, data=True)
    )
    return bare


@pytest.mark.parametrize(
    "name",
    [
        "tube", "closed tube", "rows", "heel held", "heel closed, waste in",
        "short rows, plain", "tube with short rows", "sock, plain flap", "bound off",
        "bound off, stretchy", "three needles", "rows, bound off on the right side",
        "rows, bound off on the wrong side", "rows, stretchy on the wrong side",
    ],
)  # fmt: skip
def test_what_is_not_told_is_found_where_it_follows(name: str) -> None:
    """From yarn, through edges, faces and ranks alone: sides, turns, stitches, what is live."""
    fabric = PIECES[name](Hand.RIGHT).fabric()
    again = Fabric.from_graph(bare(fabric))
    assert same_fabric(again, fabric), difference(fabric, again)
    assert same_fabric(knit(derive(again)), fabric)
    assert check(again).mistakes == check(fabric).mistakes or name == "heel closed, waste in"


@together("hand", Hand)
@together("course", [1, 2, 3])
def test_a_stitch_dropped_in_a_bare_graph_is_no_live_one(course: int, hand: Hand) -> None:
    """Nothing says what is carried: it was put on the needle, far below the others."""
    work = Work(hand=hand)
    cast_on(work, 8)
    work.join_round()
    work.plain_rounds(4)
    graph = bare(work.fabric())
    dropped = 8 * course + 3
    graph.remove_edge(dropped, dropped + 8, "through")
    graph.nodes[dropped + 8]["stitch"] = "yo"
    fabric = Fabric.from_graph(graph)
    assert {*fabric.live.tolist()} == {*range(32, 40)}
    loose = [found for found in check(fabric, openings=2).mistakes if found.kind == "secured"]
    assert [found.loops for found in loose] == [(dropped,)]


def test_a_graph_by_hand_is_judged_and_comes_back_as_instructions() -> None:
    """Eight stitches in the round, two of them together: names of one's own, on a DiGraph."""
    graph = nx.DiGraph()
    rounds = [[f"{letter}{n}" for n in range(size)] for letter, size in (("a", 8), ("b", 8),
                                                                        ("c", 7))]  # fmt: skip
    yarn = [name for one in rounds for name in one]
    graph.add_edges_from(pairwise(yarn), kind="yarn")
    for below, above in zip(rounds[0], rounds[1], strict=True):
        graph.add_edge(below, above, kind="through", face="k")
    taken = [("b0",), ("b1", "b2"), *((f"b{n}",) for n in range(3, 8))]
    for above, parents in zip(rounds[2], taken, strict=True):
        for place, below in enumerate(parents):
            graph.add_edge(below, above, kind="through", face="k", rank=len(parents) - 1 - place)
    fabric = Fabric.from_graph(graph)
    assert check(fabric, openings=2).ok
    assert write(derive(fabric)) == (
        "Cast on 8 sts, long-tail.\n"
        "Join to work in the round.\n"
        "Rnd 1: Knit.\n"
        "Rnd 2: K1, k2tog, k to end. (7 sts)\n"
    )


def both_ways(graph: nx.MultiDiGraph) -> None:
    """One stitch back over the row below, and one on along it; no side is told."""
    for _, data in graph.nodes(data=True):
        del data["side"]
    graph.remove_edge(9, 17, "through")
    graph.add_edge(11, 17, "through", face="k", rank=0)


@together(
    ("damage", "problem", "nodes"),
    [
        (both_ways, "side: rows that run both ways at once", {18}),
        (lambda g: g.add_edge(3, 9, "yarn"), "yarn: it goes on from loop 3 in two ways", {3, 9}),
        (lambda g: g.add_edge(1, 8, "through", face="k", rank=1), "drawn through 1, found 2", {8}),
        (lambda g: g.edges[0, 8, "through"].pop("face"), "'face' is missing", {0, 8}),
        (lambda g: g.nodes[9].update(stitch="k2tog"), "'k2tog' is drawn through 2, found 1", {9}),
        (lambda g: g.nodes[9].update(stitch="knot"), "no stitch is called 'knot'", {9}),
        (lambda g: g.nodes[9].update(side=0), "side is 0, expected 1 or -1", {9}),
        (lambda g: g.remove_edge(0, 8), "'k' is drawn through 1, found 0", {8}),
        (lambda g: g.edges[0, 8, "through"].update(face="p"), "would lie the other way", {8}),
        (lambda g: g.edges[0, 8, "through"].update(rank=8), "rank is 8, expected 0 to 7", {0, 8}),
        (lambda g: g.edges[0, 8, "through"].update(rank=-1), "rank is -1, expected 0 to", {0, 8}),
        (lambda g: (g.nodes[9].pop("stitch"), g.edges[1, 9, "through"].update(crossed=True)),
         "no crossing of the table lies as these loops do", {9}),
        (lambda g: g.nodes[3].update(held="needle 1"), "another loop is drawn through it", {3}),
        (lambda g: g.add_edge(3, 3, "beside"), "from a loop to itself", {3}),
        (lambda g: g.add_edge(3, 4, "knotted"), "key 'knotted' is unknown", {3, 4}),
        (lambda g: g.remove_edge(0, 1, "yarn"), "in pieces", {0, 1}),
        (lambda g: g.nodes[2].update(strand="red"), "one yarn has the names", {2, 3}),
        (lambda g: (g.remove_edge(7, 8), g.add_edge(23, 8, "yarn")), "must be made before", {8}),
    ],
)  # fmt: skip
def test_each_violation_is_named_with_its_loops(
    damage: Callable[[nx.MultiDiGraph], object], problem: str, nodes: set[int]
) -> None:
    graph = PIECES["tube"](Hand.RIGHT).fabric().graph
    tube = nx.MultiDiGraph(graph.subgraph(range(0)))
    rows = np.arange(24)
    for loop in rows.tolist():
        tube.add_node(loop, stitch="k" if loop > 7 else "co", side=1, held=None, strand="main")
        if loop:
            tube.add_edge(loop - 1, loop, "yarn")
        if loop > 7:
            tube.add_edge(loop - 8, loop, "through", face="k", rank=0)
    for place, loop in enumerate(range(16, 24)):
        tube.nodes[loop].update(held="needle 1", place=place)
    assert check(Fabric.from_graph(tube)).ok
    damage(tube)
    with pytest.raises(GraphError) as refusal:
        Fabric.from_graph(tube)
    assert any(problem in one for one in refusal.value.violations), refusal.value
    named = {node for group in refusal.value.nodes for node in group}
    assert nodes <= named


def test_what_is_missing_is_asked_for_by_name() -> None:
    for name, word in (("toe up", "'side' or 'stitch'"), ("short rows, wrapped", "'taken'")):
        with pytest.raises(GraphError) as refusal:
            Fabric.from_graph(bare(PIECES[name](Hand.RIGHT).fabric()))
        assert word in str(refusal.value)
    graph = bare(PIECES["closed tube"](Hand.RIGHT).fabric())
    for _, _, data in graph.edges(data=True):
        data.pop("rank", None)
    with pytest.raises(GraphError, match="'rank' is missing"):
        Fabric.from_graph(graph)
    with pytest.raises(GraphError, match="must be directed"):
        Fabric.from_graph(nx.Graph([(0, 1)]))


@together("text", ["", "<graphml>", "{}", "[1]", '{"nodes": 3}'])
def test_texts_that_are_no_graph_are_refused(text: str) -> None:
    for read in (from_graphml, from_node_link):
        with pytest.raises(FabricFileError):
            read(text)


# --- damage ---------------------------------------------------------------------------------------


def damaged(graph: nx.MultiDiGraph, rng: random.Random) -> tuple[str, set[int]]:
    """Change one thing, whatever it is; tell what, and the loops that it touches."""
    edges = list(graph.edges(keys=True))
    nodes = list(graph)
    a, b, key = rng.choice(edges)
    what = rng.choice(
        ("drop an edge", "turn an edge", "move an end", "new edge", "drop a loop", "face", "rank",
         "stitch", "side", "turned", "held", "float", "taken", "strand", "swap")
    )  # fmt: skip
    data = dict(graph.edges[a, b, key])
    through = [edge for edge in edges if edge[2] == "through"]
    if what == "drop an edge":
        graph.remove_edge(a, b, key)
    elif what == "turn an edge":
        graph.remove_edge(a, b, key)
        graph.add_edge(b, a, key, **data)
    elif what == "move an end":
        c = rng.choice(nodes)
        graph.remove_edge(a, b, key)
        graph.add_edge(a, c, key, **data)
        return what, {a, b, c}
    elif what == "new edge":
        b = rng.choice(nodes)
        graph.add_edge(a, b, key, **data)
    elif what == "drop a loop":
        near = {a, *graph.predecessors(a), *graph.successors(a)}
        graph.remove_node(a)
        return what, near
    elif what in ("face", "rank", "taken"):
        a, b, key = rng.choice(through)
        old = graph.edges[a, b, key][what]
        new = ("p" if old == "k" else "k") if what == "face" else (old + 1) % 3
        graph.edges[a, b, key][what] = new
    elif what == "swap":
        (a, b, _), (c, d, _) = rng.choice(through), rng.choice(through)
        one, two = dict(graph.edges[a, b, "through"]), dict(graph.edges[c, d, "through"])
        graph.remove_edges_from([(a, b, "through"), (c, d, "through")])
        graph.add_edge(a, d, "through", **one)
        graph.add_edge(c, b, "through", **two)
        return what, {a, b, c, d}
    elif what == "float":
        a, b, key = rng.choice([edge for edge in edges if edge[2] == "yarn"])
        graph.edges[a, b, key]["float"] ^= True
    else:
        new = {"stitch": rng.choice(("k", "p", "yo", "k2tog", "co")), "strand": "other"}
        change = {
            "side": -graph.nodes[a]["side"], "turned": not graph.nodes[a]["turned"],
            "held": None if graph.nodes[a]["held"] else "needle 1", **new,
        }  # fmt: skip
        graph.nodes[a][what] = change[what]
        b = a
    return what, {a, b}


def near(fabric: Fabric, touched: set[int], steps: int) -> set[int]:
    graph = nx.Graph(fabric.graph)
    found: set[int] = set()
    for loop in touched & set(graph):
        found |= set(nx.single_source_shortest_path_length(graph, loop, cutoff=steps))
    return found


def refused_or_made(graph: nx.MultiDiGraph) -> Fabric | GraphError:
    try:
        return Fabric.from_graph(graph)
    except GraphError as refusal:
        return refusal


SOUND = ("closed tube", "star toe", "rows, bound off on the right side", "tube with wraps",
         "three needles", "slip stitches", "short rows, double stitches", "toe up")  # fmt: skip


def test_random_damages_are_refused_at_their_place_or_change_nothing() -> None:
    """Refused as a graph, found by a check, or told as a difference; each near what was touched."""
    seen = {"refused": 0, "checked": 0, "different": 0, "equal": 0}
    for number in range(160):
        rng = random.Random(number)
        fabric = PIECES[SOUND[number % len(SOUND)]](Hand.RIGHT).fabric()
        graph = fabric.graph
        what, touched = damaged(graph, rng)
        around = near(fabric, touched, 2)
        other = refused_or_made(graph)
        if isinstance(other, GraphError):
            seen["refused"] += 1
            named = {node for group in other.nodes for node in group}
            assert named & around, (number, what, touched, other)
            continue
        found = difference(fabric, other)
        mistakes = check(other).mistakes
        if mistakes:
            seen["checked"] += 1
            # What a map does not tell, a check sees all the same.
            unmapped = ("held", "strand", "turned", "course", "stitch", "side")  # of an end
            assert found is not None or what in unmapped, (number, what)
            loops = {loop for one in mistakes for loop in one.loops}
            assert loops & near(fabric, touched, 4), (number, what, touched, mistakes)
        elif found is not None:
            seen["different"] += 1
            place = found.one if found.one is not None else found.other
            assert place in near(fabric, touched, 4), (number, what, touched, found)
        else:
            seen["equal"] += 1
            assert same_fabric(fabric, other)
    assert seen["refused"] > 80, seen


@together("value", ["", "many", None, float("nan"), 10**400, [], {}])
@together("name", ["course", "number", "rank", "strands", "wraps"])
def test_what_is_no_number_or_no_list_is_refused_by_name(name: str, value: object) -> None:
    """As a damaged GraphML has it: an attribute that is empty."""
    graph = PIECES["closed tube"](Hand.RIGHT).fabric().graph
    if name in ("strands", "wraps"):
        graph.graph[name] = value
    elif name == "course":
        graph.nodes[3]["course"] = value
    else:
        kind = "beside" if name == "number" else "through"
        edge = next((e for e in graph.edges(keys=True) if e[2] == kind), None)
        edge = edge or next(e for e in graph.edges(keys=True) if e[2] == "through")
        graph.edges[edge][name] = value
    if value is None and name in ("number", "rank"):
        assert Fabric.from_graph(graph) is not None  # as if it were not there
        return
    with pytest.raises(GraphError, match=name):
        Fabric.from_graph(graph)


def test_strands_opened_are_a_count() -> None:
    graph = PIECES["closed tube"](Hand.RIGHT).fabric().graph
    for loop in graph.nodes:
        graph.nodes[loop]["opened"] = float("inf")
    with pytest.raises(GraphError, match="opened"):
        Fabric.from_graph(graph)


def test_yarn_goes_on_on_its_side_until_it_is_turned() -> None:
    """Two loops of one row lie on one side, of two rows on two; a graft's may lie on either."""
    one_row, turned, plain = [False, False], [True, False], [{"stitch": "k"}, {"stitch": "k"}]
    assert doubtful([1, -1], [], [1, 1], one_row, plain) == []
    assert doubtful([1, -1], [], [1, -1], turned, plain) == []
    assert doubtful([1, -1], [], [1, -1], one_row, plain) == [(0, 1)]
    assert doubtful([1, -1], [], [1, 1], turned, plain) == [(0, 1)]
    graft = [{"stitch": "k"}, {"stitch": "graft"}]
    assert doubtful([1, -1], [], [1, 1], turned, graft) == []


@pytest.mark.parametrize("hand", Hand)
def test_two_that_no_yarn_joins_were_taken_as_the_row_goes_on(hand: Hand) -> None:
    """Three of one yarn and one of another; the row begins with two together, one of each."""
    work = Work(hand=hand)
    cast_on(work, 3)
    work.join_yarn("other")
    cast_on(work, 1)
    work.turn()
    work.row(["k2tog", "k", "k"])
    fabric = work.fabric()
    assert fabric.parents(4).tolist() == [3, 2]
    graph = fabric.graph
    for *_, data in graph.edges(data=True):
        data.pop("taken", None)
    assert Fabric.from_graph(graph).parents(4).tolist() == [3, 2]
