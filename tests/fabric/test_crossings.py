"""Crossings: counted as the theory says, for either hand, and told apart by all that compares.

Reference: the section on crossings of the loop graph's theory, as docs/explanation states it: one
of m over k adds mk vertices, 2mk edges and mk cells; of the cells near it two have 3 edges and two
have 5. The counts for the tube of 16 stitches and 6 courses were worked out on another program.
Planarity is decided by networkx, on the graph that is cut at the crossing vertices.
"""

from __future__ import annotations

import json

import attrs
import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from certified import problems
from fabric.pieces import cabled_tube, tube
from loopwright import certificate, derive, difference, knit
from loopwright.errors import CannotWorkError, FabricFileError, GraphError, StitchDefinitionError
from loopwright.fabric import STITCHES, Fabric, Lean, Stitch, check, crossing, same_fabric
from loopwright.fabric.columns import CROSSED
from loopwright.fabric.files import from_bytes, from_json, to_bytes, to_json
from loopwright.making import Hand, Work, cast_on, provisional_cast_on, waste_row
from together import together

HANDS = pytest.mark.parametrize("hand", list(Hand))
COUNTED = {
    (1, 1): ((97, 177, 82), {3: 2, 4: 76, 5: 2, 17: 2}),
    (2, 1): ((98, 179, 83), {3: 2, 4: 77, 5: 2, 17: 2}),
    (1, 2): ((98, 179, 83), {3: 2, 4: 77, 5: 2, 17: 2}),
    (2, 2): ((100, 183, 85), {3: 2, 4: 79, 5: 2, 17: 2}),
    (3, 3): ((105, 193, 90), {3: 2, 4: 84, 5: 2, 17: 2}),
}


def crossed_tube(key: str, at: int = 5, hand: Hand = Hand.RIGHT) -> Fabric:
    """The tube of 16 stitches and 6 courses, with a crossing in the fourth."""
    work = tube(16, 3, hand)
    work.round(["k"] * at + [key] + ["k"] * (16 - at - STITCHES[key].takes))
    work.plain_rounds(2)
    return work.fabric()


@HANDS
@pytest.mark.parametrize(("over", "under"), COUNTED)
@pytest.mark.parametrize("way", ["lc", "rc", "lpc", "rpc"])
def test_counts_of_the_theory(over: int, under: int, way: str, hand: Hand) -> None:
    for at in (0, 5, 16 - over - under):
        fabric = crossed_tube(f"{over}/{under}{way}", at, hand)
        surface = fabric.surface
        counts, sizes = COUNTED[over, under]
        assert (surface.vertices, surface.edges, surface.cells) == counts
        assert fabric.cell_sizes() == sizes
        assert fabric.euler_characteristic == 2
        assert check(fabric, openings=2).ok


@given(st.integers(1, 6), st.integers(1, 6), st.sampled_from(("l", "r")))
def test_what_one_adds(over: int, under: int, way: str) -> None:
    plain = tube(16, 6).fabric().surface
    fabric = crossed_tube(f"{over}/{under}{way}c", 2)
    surface, product = fabric.surface, over * under
    assert surface.crossings == surface.vertices - plain.vertices == product
    assert surface.edges - plain.edges == 2 * product
    assert surface.cells - plain.cells == product
    assert {size: n for size, n in fabric.cell_sizes().items() if size != 4} == {3: 2, 5: 2, 17: 2}
    assert not nx.check_planarity(nx.Graph(fabric.as_graph()))[0]  # loops alone lie on no sphere
    assert nx.check_planarity(nx.Graph(fabric.as_graph(crossings=True)))[0]


@HANDS
def test_rows_that_are_crossed_on_the_wrong_side(hand: Hand) -> None:
    work = Work(hand=hand)
    cast_on(work, 9)
    for keys in (["k", "2/2rc", "p", "2/1lpc"], ["1/2rpc", "3/3lc"], ["k"] * 9):
        work.turn()
        work.work(keys)
    fabric = work.fabric()
    assert check(fabric).ok
    assert fabric.surface.crossings == 4 + 2 + 2 + 9


PLAIT = Stitch("plait", "two pairs over one", 5, 5, (2, 2, 1, 0, 0), "kkpkk", order=(3, 4, 2, 0, 1))
SWAP = Stitch("swap", "three the other way", 3, 3, (0, 1, 2), "kkk", order=(2, 1, 0))
OWN = (PLAIT, attrs.evolve(SWAP, twist="left"))


@HANDS
@pytest.mark.parametrize("own", OWN, ids=lambda own: own.key)
def test_a_crossing_of_ones_own_is_a_row(own: Stitch, hand: Hand) -> None:
    table = STITCHES.with_stitch(own)
    work = Work(hand=hand, stitches=table)
    cast_on(work, 2 * own.takes)
    work.join_round()
    work.round([own.key] * 2)
    work.round(["k"] * own.takes + [own.key])
    fabric = work.fabric()
    pairs = sum(a > b for n, b in enumerate(own.order) for a in own.order[:n])
    assert fabric.surface.crossings == 3 * pairs
    assert check(fabric, openings=2).ok
    assert same_fabric(knit(derive(fabric), stitches=table), fabric)


@HANDS
def test_left_right_and_uncrossed_differ(hand: Hand) -> None:
    fabrics = [crossed_tube(key, hand=hand) for key in ("2/2lc", "2/2rc", "2/2lpc", "rt", "k")]
    assert len({fabric.canonical_key for fabric in fabrics}) == len(fabrics)
    assert same_fabric(crossed_tube("rt"), crossed_tube("1/1rc"))  # with a cable needle or without
    mirrored = Hand.LEFT if hand is Hand.RIGHT else Hand.RIGHT
    assert not same_fabric(fabrics[0], crossed_tube("2/2lc", hand=mirrored))


def test_a_difference_in_words() -> None:
    left, right, plain = (crossed_tube(key) for key in ("2/2lc", "2/2rc", "k"))
    assert str(difference(left, right)) == (
        "step 3, course 3, stitch 6 of 16: loop 53 (2/2lc, main): stitches cross, those in front "
        "going left in the one, right in the other"
    )
    assert "stitches cross in the one and not in the other" in str(difference(left, plain))
    assert "stitches cross in the other and not in the one" in str(difference(plain, right))
    assert difference(left, crossed_tube("2/2lc")) is None


@HANDS
def test_there_and_back(hand: Hand) -> None:
    fabric = cabled_tube(hand).fabric()
    assert check(fabric, openings=2).ok
    assert from_json(to_json(fabric)) == from_bytes(to_bytes(fabric)) == fabric
    assert Fabric.from_graph(fabric.graph).canonical_key == fabric.canonical_key
    assert same_fabric(knit(derive(fabric)), fabric)
    assert problems(json.loads(certificate(fabric).to_json())) == []


@pytest.mark.parametrize("wrong", ["2/2xc", "k", "2/2lc"])
def test_a_file_names_crossings_of_the_package(wrong: str) -> None:
    document = json.loads(to_json(crossed_tube("2/2lc")))
    assert "2/2lc" in document["stitches"]
    document["stitches"].append(wrong)
    with pytest.raises(FabricFileError, match=r"called|twice"):
        from_json(json.dumps(document))


def test_files_of_version_1_knew_no_crossings() -> None:
    fabric = tube(6, 2).fabric()
    document = json.loads(to_json(fabric))
    document["version"] = 1
    del document["bits"]["info"]["crossed"]
    document["stitches"] = document["stitches"][:20]
    assert from_json(json.dumps(document)).canonical_key == fabric.canonical_key


@HANDS
def test_a_graph_that_names_no_stitches(hand: Hand) -> None:
    """What is crossed, how deep it lies and its face are told; which crossing it is, is found."""
    fabric = crossed_tube("3/2rpc", hand=hand)
    graph = fabric.graph
    for _, data in graph.nodes(data=True):
        data.pop("stitch")
    found = Fabric.from_graph(graph)
    assert found.canonical_key == fabric.canonical_key
    key = "3/2rpc" if hand is Hand.RIGHT else "2/3lpc"  # the other hand's, seen from the back
    assert (found.stitch == STITCHES.code(key)).sum() == 5
    for *_, data in graph.edges(data=True):
        data.pop("crossed", None)
    assert "surface" in {flaw.kind for flaw in check(Fabric.from_graph(graph)).mistakes}


def test_the_smallest_crossing_is_found_in_a_graph_that_names_no_stitches() -> None:
    fabric = crossed_tube("rt")
    graph = fabric.graph
    for _, data in graph.nodes(data=True):
        data.pop("stitch")
    assert Fabric.from_graph(graph).canonical_key == fabric.canonical_key


def test_a_crossing_that_is_called_so_and_is_none() -> None:
    graph = crossed_tube("2/2lc").graph
    for *_, data in graph.edges(data=True):
        data.pop("crossed", None)
    with pytest.raises(GraphError, match="'2/2lc' is a crossing: tell 'crossed'"):
        Fabric.from_graph(graph)


@together(
    ("given", "problem"),
    [
        ({"order": (0, 1), "stack": (0, 1)}, "two crossings side by side, or none"),
        ({"order": (1, 1), "stack": (0, 1)}, "must name each of 2 to 24 stitches once"),
        ({"order": (1, 0), "stack": (0, 0)}, "must lie at different depths"),
        ({"order": (1, 0), "stack": (0, 2)}, "leave no depth out"),
        ({"order": (2, 1, 0), "stack": (0, 1)}, "as many stitches as its order names: 3"),
    ],
)
def test_rows_that_contradict_themselves(given: dict[str, tuple[int, ...]], problem: str) -> None:
    with pytest.raises(StitchDefinitionError) as refusal:
        Stitch("x", "crossed", 2, 2, faces="kk", **given)  # type: ignore[arg-type]
    assert problem in refusal.value.problem


def test_a_row_from_its_numbers() -> None:
    assert crossing("c4f", 2, 2, Lean.LEFT).order == (2, 3, 0, 1)
    assert STITCHES["3/1rpc"].name.startswith("3 over 1 to the right: slip 1 st to cable needle")
    assert {row.lean for row in STITCHES if row.is_crossing} == {Lean.LEFT, Lean.RIGHT}
    with pytest.raises(StitchDefinitionError):
        crossing("c", 2, 2, "centred")


def test_what_cannot_be_crossed() -> None:
    work = Work()
    provisional_cast_on(work, 8)
    work.turn()
    work.row(["p"] * 8)
    work.work(["k"] * 5)
    work.wrap()
    work.turn()
    work.row(["p"] * 5)
    with pytest.raises(CannotWorkError, match="a wrap or the second leg"):
        work.work(["k"] * 4 + ["2/2lc"], with_wraps=True)
    assert work.left == 8
    over_waste = tube(8, 2)
    waste_row(over_waste, 4, "heel")
    over_waste.work(["k"])
    with pytest.raises(CannotWorkError, match="waste yarn carries one of them"):
        over_waste.work(["2/2lc"])
    work = tube(6, 1)
    work.round(["slk"] + ["k"] * 5)
    with pytest.raises(CannotWorkError, match="sits turned round"):
        work.work(["rt"])
    assert not (work.fabric().info & CROSSED).any()


def test_stitches_in_front_are_knitted_and_those_behind_show_the_ground() -> None:
    """Of all that are named by their numbers (common practice)."""
    named = [row for row in STITCHES if row.order and "/" in row.key]
    assert len(named) == 2 * 2 * 6 * 6
    for row in named:
        in_front = [row.stack[place] == 0 for place in row.order]
        ground = "p" if "p" in row.key else "k"
        assert sum(in_front) == int(row.key.partition("/")[0])
        assert [*row.faces] == ["k" if front else ground for front in in_front]
