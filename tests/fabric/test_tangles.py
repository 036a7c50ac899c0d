"""Places where edges cross are named one by one, with the loops drawn wrongly."""

from __future__ import annotations

from collections.abc import Iterable

import attrs
import networkx as nx
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from loopwright.errors import GraphError
from loopwright.fabric import Fabric, check
from loopwright.making import Work, bind_off, cast_on, weave_in

WIDTH = 12


def tube(width: int = WIDTH, rounds: int = 5) -> Work:
    work = Work()
    cast_on(work, width)
    work.join_round()
    work.plain_rounds(rounds)
    return work


def swapped(fabric: Fabric, pairs: Iterable[tuple[int, int]], width: int = WIDTH) -> Fabric:
    """Each of two loops drawn through the other's stitch; in a tube edge i leads to width + i."""
    parent = fabric.parent.copy()
    for one, other in pairs:
        parent[[one - width, other - width]] = parent[[other - width, one - width]]
    return attrs.evolve(fabric, parent=parent)


def test_two_faults_are_two_mistakes() -> None:
    work = tube(24, 9)
    bind_off(work)
    weave_in(work)
    crossed = swapped(work.fabric(), [(54, 58), (160, 166)], 24)
    report = check(crossed, openings=2)
    surface = [found.loops for found in report.mistakes if found.kind == "surface"]
    assert surface == [(30, 34, 54, 58), (136, 142, 160, 166)]
    assert not [found for found in report.findings if found.kind == "gaps"]  # merged, no holes


@given(st.integers(1, 3), st.integers(0, WIDTH - 1), st.integers(1, WIDTH - 1))
def test_two_loops_that_changed_places_are_named(course: int, at: int, apart: int) -> None:
    one, other = sorted((WIDTH * course + at, WIDTH * course + (at + apart) % WIDTH))
    assume((one, other) != (WIDTH, 2 * WIDTH - 1))  # the next test's
    (place,) = swapped(tube().fabric(), [(one, other)]).tangles
    assert {one, other, one - WIDTH, other - WIDTH} <= {*place}
    assert len(place) <= 8  # and what stands between or beside, at an edge or where it is one


def test_a_loop_drawn_through_the_one_before_it_on_the_yarn_is_named_alone() -> None:
    """At the join, the two edges lie side by side: only that loop is met twice."""
    assert swapped(tube().fabric(), [(WIDTH, 2 * WIDTH - 1)]).tangles == ((WIDTH,),)


def test_holes_are_no_tangles() -> None:
    work = tube()
    work.round(["k", "yo", "yo", "yo", "k2tog"] * 4)
    fabric = work.fabric()
    assert fabric.gaps(5)
    assert fabric.tangles == ()
    crossed = swapped(fabric, [(30, 31)])
    assert crossed.tangles == ((18, 19, 30, 31),)
    assert len([one for one in check(crossed).findings if one.kind == "gaps"]) == len(fabric.gaps())


def bare(pairs: Iterable[tuple[int, int]], dropped: int | None = None) -> nx.MultiDiGraph:
    """A tube that knows its yarn, what is drawn through what, and how it faces."""
    graph, size = nx.MultiDiGraph(), 6 * WIDTH
    for loop in range(size - 1):
        graph.add_edge(loop, loop + 1, "yarn")
    parents = {loop: loop - WIDTH for loop in range(WIDTH, size)}
    for one, other in pairs:
        parents[one], parents[other] = parents[other], parents[one]
    parents.pop(dropped or 0, None)
    for loop, parent in parents.items():
        graph.add_edge(parent, loop, "through", face="k")
    return graph


@pytest.mark.parametrize(
    ("pairs", "dropped", "places"),
    [
        ([(30, 31)], None, [(18, 19, 30, 31)]),
        ([(30, 33)], None, [(18, 21, 30, 33)]),  # three apart, it looks like a graft
        ([(30, 36)], None, [(18, 24, 30, 36)]),
        ([(30, 33), (50, 54)], None, [(18, 21, 30, 33), (38, 42, 50, 54)]),
        ([(50, 51)], 30, [(38, 39, 50, 51)]),
    ],
)
def test_a_bare_graph_with_wrong_loops_is_refused_with_those(
    pairs: list[tuple[int, int]], dropped: int | None, places: list[tuple[int, ...]]
) -> None:
    with pytest.raises(GraphError, match="edges cross") as refusal:
        Fabric.from_graph(bare(pairs, dropped))
    assert list(refusal.value.nodes) == places


def test_a_wrong_stitch_does_not_hide_a_wrong_loop() -> None:
    graph = swapped(tube().fabric(), [(30, 31)]).graph
    graph.remove_edge(38, 50, "through")
    with pytest.raises(GraphError) as refusal:
        Fabric.from_graph(graph)
    assert refusal.value.nodes == ((50,), (18, 19, 30, 31))


def test_where_no_cell_is_merged_the_largest_is_looked_at() -> None:
    """Two tubes' rows sewn end to end in turn: nothing near is wrong."""
    fabric = tube().fabric()
    right, left = np.array([3]), np.array([65])  # from the cast-on edge to the live one, and again
    twice = attrs.evolve(fabric, right=np.append(right, 9), left=np.append(left, 69))
    assert not twice.is_on_spheres
    assert next(found.kind for found in check(twice).mistakes if found.loops) == "surface"
