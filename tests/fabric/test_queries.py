"""Run-down and same fabric, against plain networkx statements; closing a gap, against doing it."""

from __future__ import annotations

from collections.abc import Callable

import attrs
import networkx as nx
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fabric.pieces import PIECES, afterthought, before_a_corner, forethought, tube
from loopwright.errors import UnknownLoopError
from loopwright.fabric import Fabric, closings, run_down, same_fabric
from loopwright.making import (
    Hand,
    Work,
    cast_on,
    corner_strands,
    lift_strand,
)
from strategies import small_fabrics
from together import together


def falls(fabric: Fabric, let_go: set[int]) -> set[int]:
    """Down: a loop falls when nothing drawn through it stands. Up: what hung in a fallen loop."""
    through = nx.DiGraph()
    through.add_nodes_from(fabric.ids.tolist())
    through.add_edges_from(
        (a, b) for a, b, key in fabric.graph.edges(keys=True) if key == "through"
    )
    holds = {n for n, key in fabric.graph.nodes(data="stitch") if key in ("graft", "wrap", "ds")}
    fallen = set(let_go).union(*(nx.descendants(through, loop) for loop in let_go))
    while True:
        more = {
            parent
            for loop in fallen
            for parent in through.predecessors(loop)
            if parent not in fallen | holds and set(through.successors(parent)) <= fallen
        }
        if not more:
            return fallen
        fallen |= more


@given(small_fabrics(), st.data())
def test_what_runs_down(fabric: Fabric, data: st.DataObject) -> None:
    let_go = data.draw(st.sets(st.sampled_from(fabric.ids.tolist()), max_size=3))
    assert set(run_down(fabric, let_go).tolist()) == falls(fabric, let_go)


def test_a_dropped_stitch_runs_down_its_wale_to_the_cast_on() -> None:
    fabric = tube(8, 5).fabric()
    assert run_down(fabric, [35]).tolist() == [3, 11, 19, 27, 35]
    assert run_down(fabric, []).tolist() == []
    with pytest.raises(UnknownLoopError) as refusal:
        run_down(fabric, [40])
    assert (refusal.value.loop, refusal.value.rows) == (40, 40)


def isomorphic(one: Fabric, other: Fabric) -> bool:
    """Graphs with the same loops and edges, up to numbers; a map says more: order and side."""

    def plain(fabric: Fabric) -> nx.MultiDiGraph:
        graph = fabric.graph
        plain = nx.MultiDiGraph()
        plain.add_nodes_from((n, {"stitch": d["stitch"]}) for n, d in graph.nodes(data=True))
        plain.add_edges_from((a, b, {"key": key}) for a, b, key in graph.edges(keys=True))
        return plain

    return bool(
        nx.is_isomorphic(
            plain(one),
            plain(other),
            node_match=lambda a, b: a["stitch"] == b["stitch"],
            edge_match=lambda a, b: (
                sorted(d["key"] for d in a.values()) == sorted(d["key"] for d in b.values())
            ),
        )
    )


@given(small_fabrics(), small_fabrics())
def test_same_fabrics_are_isomorphic_graphs(one: Fabric, other: Fabric) -> None:
    assert same_fabric(one, one)
    assert same_fabric(one, other) == same_fabric(other, one)
    if same_fabric(one, other):
        assert isomorphic(one, other)


def renumbered(fabric: Fabric, order: list[int]) -> Fabric:
    """The same loops and edges with other numbers: loop ``order[i]`` becomes loop ``i``."""
    new = np.argsort(order)
    following = fabric.next[order]
    return attrs.evolve(
        fabric,
        next=np.where(following >= 0, new[following], -1),
        strand=fabric.strand[order],
        course=fabric.course[order],
        stitch=fabric.stitch[order],
        flags=fabric.flags[order],
        parent=new[fabric.parent],
        child=new[fabric.child],
        right=new[fabric.right],
        left=new[fabric.left],
        needles={name: new[loops] for name, loops in fabric.needles.items()},
    )


@given(small_fabrics(), st.data())
def test_numbers_do_not_matter(fabric: Fabric, data: st.DataObject) -> None:
    other = renumbered(fabric, data.draw(st.permutations(range(len(fabric)))))
    assert same_fabric(fabric, other)
    assert isomorphic(fabric, other)


def test_the_order_of_making_does_not_matter() -> None:
    block, single = Work(), Work()
    for work in (block, single):
        cast_on(work, 6)
        work.join_round()
    block.plain_rounds(4)
    for _ in range(8):
        single.work(["k"] * 3)
    assert same_fabric(block.fabric(), single.fabric())


@pytest.mark.parametrize("name", PIECES)
def test_a_mirror_image_is_another_fabric(name: str) -> None:
    right, left = PIECES[name](Hand.RIGHT).fabric(), PIECES[name](Hand.LEFT).fabric()
    assert same_fabric(right, PIECES[name](Hand.RIGHT).fabric())
    assert not same_fabric(right, left)


@together(
    ("one", "other"),
    [
        (["k"] * 8, ["k"] * 7 + ["p"]),
        (["k"] * 8, ["k"] * 7 + ["ktbl"]),
        (["k2tog", *["k"] * 6], ["ssk", *["k"] * 6]),
        (["sl", *["k"] * 7], ["slf", *["k"] * 7]),
        (["yo", *["k"] * 8], ["m1l", *["k"] * 8]),
    ],
)
def test_what_makes_two_fabrics_differ(one: list[str], other: list[str]) -> None:
    made = []
    for keys in (one, other):
        work = tube(8, 3)
        work.round(keys)
        work.plain_rounds(1)
        made.append(work.fabric())
    assert not same_fabric(*made)


@pytest.mark.parametrize("make", [forethought, afterthought])
def test_the_strand_across_closes_a_corner_and_the_one_beside_does_not(
    make: Callable[[str], Work],
) -> None:
    """Model, section 4: beside the stitch still 7; across it at most 6."""
    fabric = make("sock").fabric()
    for gap in fabric.gaps(6):
        ways = closings(fabric, gap)
        around = [*zip(gap.loops, gap.loops[1:] + gap.loops[:1], strict=True)]
        edges = {(*pair, key) for *pair, key in fabric.graph.edges(keys=True)}
        strands, drawn = (
            [p for p in around if (*p, kind) in edges or (*p[::-1], kind) in edges]
            for kind in ("yarn", "through")
        )
        assert len(ways) == len({*ways}) == len(strands) * len(drawn)
        assert max(ways[0].cells) <= 6
        assert max(ways[-1].cells) >= 7
        assert all(sum(way.cells) == gap.size + 3 and min(way.cells) >= 2 for way in ways)
        assert all(fabric.next[a] == b for a, b in (way.strand for way in ways))


@pytest.mark.parametrize("hand", list(Hand))
@pytest.mark.parametrize(("which", "gaps"), [("best", [7]), ("worst", [7, 7])])
def test_a_corner_closed_while_knitting(which: str, gaps: list[int], hand: Hand) -> None:
    """Lift at one corner and work it with the next stitch; the other corner is left as it is."""
    work = before_a_corner(hand)
    work.work(["k"] * 8)
    ways = corner_strands(work)
    way = ways[0] if which == "best" else ways[-1]
    lift_strand(work, way.strand, left_flank=way.left_flank)
    work.work(["k2tog"])
    work.work(["k"] * work.left)
    work.plain_rounds(2)
    fabric = work.fabric()
    assert work.count == 16
    assert fabric.euler_characteristic == 2
    assert [cell.size for cell in fabric.gaps(6)] == gaps
