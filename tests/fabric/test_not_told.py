"""What a graph, a file or a damaged fabric tells halfway, and what is made of it."""

from __future__ import annotations

import io
import json
import pickle
import zipfile
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import attrs
import networkx as nx
import numpy as np
import pytest

from fabric.pieces import PIECES, flat, tube
from loopwright.errors import FabricFileError, GraphError, StitchDefinitionError
from loopwright.fabric import (
    STITCHES,
    Fabric,
    Stitch,
    Strand,
    certify,
    check,
    difference,
    same_fabric,
)
from loopwright.fabric._difference import _goes_on
from loopwright.fabric._floats import _by_all_ways, passed
from loopwright.fabric.checks import Limits
from loopwright.fabric.columns import FLOAT, TURNED
from loopwright.fabric.files import from_bytes, from_json, save, to_bytes, to_json
from loopwright.making import Hand, Work, bind_off, cast_on, draw_up, graft, weave_in
from together import together

# Graphs ---------------------------------------------------------------------------------------


def decreased(key: str = "k2tog") -> Fabric:
    work = tube(8, 2)
    work.round(["k", key, *["k"] * (7 - STITCHES[key].takes)])
    return work.fabric()


def test_parents_are_taken_from_the_first_on() -> None:
    graph = decreased().graph
    first, second = ((a, b) for a, b, data in graph.in_edges(17, data=True) if "taken" in data)
    graph.edges[*first, "through"]["taken"] = 5
    with pytest.raises(GraphError, match="expected 0 to 1"):
        Fabric.from_graph(graph)
    graph.edges[*first, "through"]["taken"] = 1 - graph.edges[*second, "through"]["taken"]
    assert same_fabric(Fabric.from_graph(graph), decreased())


def test_loops_come_in_the_order_that_the_graph_tells() -> None:
    """Beside edges by their numbers, whatever their order in the graph."""
    fabric = PIECES["slip stitches"](Hand.RIGHT).fabric()
    graph = fabric.graph
    edges = [(a, b, data) for a, b, key, data in graph.edges(keys=True, data=True)
             if key == "beside"]  # fmt: skip
    assert edges
    graph.remove_edges_from([(a, b, "beside") for a, b, _ in edges])
    turned = nx.MultiDiGraph(**graph.graph)
    turned.add_nodes_from(reversed(list(graph.nodes(data=True))))
    turned.add_edges_from(graph.edges(keys=True, data=True))
    turned.add_edges_from((a, b, "beside", data) for a, b, data in reversed(edges))
    again = Fabric.from_graph(turned)
    assert list(zip(again.right, again.left, strict=True)) == list(
        zip(fabric.right, fabric.left, strict=True)
    )


@pytest.mark.parametrize("side", [1, -1])
def test_one_side_is_enough_and_two_may_not_contradict(side: int) -> None:
    graph = tube(6, 3).fabric().graph
    for loop, data in graph.nodes(data=True):
        data.pop("side")
        if loop == 8:
            data["side"] = side
    sides = Fabric.from_graph(graph).side
    assert set(sides.tolist()) == {side}
    graph.nodes[12]["side"] = -side
    with pytest.raises(GraphError, match="the side given contradicts the rows round it"):
        Fabric.from_graph(graph)


def test_courses_are_found_one_above_what_is_below() -> None:
    work = Work()
    cast_on(work, 4)
    for _ in range(3):
        work.turn()
        work.work(["k"] * 4)
    fabric = work.fabric()
    graph = fabric.graph
    for _, data in graph.nodes(data=True):
        data.pop("course")
    assert Fabric.from_graph(graph).course.tolist() == fabric.course.tolist()
    assert fabric.course.tolist() == [n // 4 for n in range(16)]


def test_yarn_over_or_cast_on() -> None:
    """Where nothing is below: two between stitches are yarn overs, three are cast on."""
    for many, keys in ((1, {"yo"}), (2, {"yo"}), (3, {"co"})):
        work = tube(6, 2)
        work.round(["k", *["yo"] * many, *["k"] * 5])
        graph = work.fabric().graph
        over = range(13, 13 + many)
        for loop in over:
            del graph.nodes[loop]["stitch"]
        made = Fabric.from_graph(graph)
        assert {made.stitch_of(loop).key for loop in over} == keys
    two = flat(2, 1).fabric().graph
    for loop in two:
        del two.nodes[loop]["stitch"]
    assert [Fabric.from_graph(two).stitch_of(loop).key for loop in (0, 1)] == ["co", "co"]


def test_yarns_that_graphs_do_not_name_are_numbered() -> None:
    graph = nx.MultiDiGraph()
    for yarn in ("abc", "def", "ghi"):
        graph.add_edges_from([(*pair, "yarn") for pair in (yarn[:2], yarn[1:])])
    strands = Fabric.from_graph(graph).strands
    assert strands == tuple(Strand(name) for name in ("main", "yarn 2", "yarn 3"))
    (first, *_) = strands
    assert (first.role, first.woven, first.cut) == ("working", (False, False), False)


def test_what_arrays_tell_of_loops_is_told_of_each() -> None:
    """Two yarns, and one stitch of a name of its own place: a purl among knits."""
    fabric = Fabric.from_arrays(
        yarn=[(0, 1), (2, 3)], through=[(0, 2), (1, 3)], face=["k", "p"],
        strand=["red", "red", "blue", "blue"], stitch=["co", "co", "k", "p"],
    )  # fmt: skip
    assert [one.name for one in fabric.strands] == ["red", "blue"]
    assert [fabric.stitch_of(loop).key for loop in range(4)] == ["co", "co", "k", "p"]


# Floats ---------------------------------------------------------------------------------------


@together("seed", range(40))
def test_floats_where_loops_stand_beside_several(seed: int) -> None:
    """Found at once for many, or walked one by one along every way."""
    r = np.random.default_rng(seed)
    work = tube(7, 2)
    work.join_yarn("other")
    for _ in range(3):
        for _ in range(7):
            work.change_to(str(r.choice(["main", "other"])))
            work.work(["k"])
    fabric = work.fabric()
    right, left = r.integers(0, len(fabric.flags), (2, 6))
    fabric = attrs.evolve(
        fabric, right=np.append(fabric.right, right), left=np.append(fabric.left, left)
    )
    starts = np.flatnonzero(((fabric.flags & FLOAT) != 0) & (fabric.next >= 0))
    along = np.flatnonzero((fabric.next >= 0) & ((fabric.flags & (FLOAT | TURNED)) == 0))
    onward, leftward = fabric.next[along], fabric.side[along] > 0
    to_right = np.concatenate((fabric.right, np.where(leftward, along, onward))).astype(np.int64)
    to_left = np.concatenate((fabric.left, np.where(leftward, onward, along))).astype(np.int64)
    ends = fabric.next[starts].astype(np.int64)
    carried = (ends != starts + 1) & (fabric.course[ends] != fabric.course[starts])
    floats = (starts, ends, fabric.side[ends] > 0, carried)
    found = passed(fabric, starts)
    between = fabric.course[starts] != fabric.course[ends]
    walked = np.array(_by_all_ways(fabric, floats, to_right, to_left))
    assert found[between].tolist() == walked[between].tolist()


def test_a_float_up_an_edge_passes_no_stitch() -> None:
    """From a loop to the one drawn through it, walked along every way."""
    fabric = tube(4, 2).fabric()
    starts, ends = np.array([1]), np.array([5])
    floats = (starts, ends, np.array([True]), np.array([False]))
    beside = np.arange(3), np.arange(1, 4)
    assert _by_all_ways(fabric, floats, *beside) == [0]


# Checks ---------------------------------------------------------------------------------------


def test_only_tails_of_yarns_that_are_there_are_woven_in() -> None:
    work = tube(6, 2)
    bind_off(work)
    weave_in(work)
    fabric = work.fabric()
    more = attrs.evolve(fabric, strands=(*fabric.strands, Strand("never used")))
    assert not [one for one in check(more).findings if one.kind == "tails"]
    loose = attrs.evolve(fabric, strands=(attrs.evolve(fabric.strands[0], woven=(True, False)),))
    (found,) = (one for one in check(loose).findings if one.kind == "tails")
    assert set(found.loops) == {0, len(fabric.flags) - 1}


def test_a_step_that_is_counted_wrong_names_its_first_loop() -> None:
    fabric = tube(6, 3).fabric()
    ledger = fabric.ledger.copy()
    row = len(ledger) - 1
    ledger[row, 4] += 1
    ledger[row, 3] += 1
    found = [one for one in check(attrs.evolve(fabric, ledger=ledger)).findings
             if one.kind == "counts" and f"step {row} says" in one.problem]  # fmt: skip
    assert [one.loops for one in found] == [(int(ledger[row - 1, 1]),)]


def test_limits_are_given_by_name() -> None:
    with pytest.raises(TypeError):
        Limits(3)  # type: ignore[call-arg]


# Fabrics --------------------------------------------------------------------------------------


def test_fabrics_are_told_apart_and_kept_in_sets() -> None:
    fabric = tube(4, 2).fabric()
    assert fabric in {fabric}
    assert str(fabric) == "Fabric of 8 loops, 4 live; strands: main"


def test_a_strand_is_not_cut_nor_woven_in_unless_it_is_said() -> None:
    assert Strand("red") == Strand("red", "working", (False, False), False)
    assert Strand("red") != Strand("red", cut=True)
    assert (Strand("red 2").yarn, Strand("red").cut, Strand("red").woven) == (
        "red", False, (False, False),
    )  # fmt: skip


def test_a_fabric_goes_to_another_process_and_comes_back_read_only() -> None:
    fabric = PIECES["heel held"](Hand.RIGHT).fabric()
    again = pickle.loads(pickle.dumps(fabric))
    assert again == fabric
    assert {name: loops.tolist() for name, loops in again.held.items()} == {
        name: loops.tolist() for name, loops in fabric.held.items()
    }
    with pytest.raises(ValueError, match="read-only"):
        again.next[0] = 3


@pytest.mark.parametrize(
    ("bound", "suffix"), [("_LARGEST_TEXT", "json"), ("_LARGEST_PACKED", "loops")]
)
def test_each_form_has_its_own_bound(
    bound: str, suffix: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fabric = tube(4, 2).fabric()
    monkeypatch.setattr(f"loopwright.fabric.files.{bound}", 100)
    for other in ("json", "loops"):
        if other != suffix:
            save(fabric, tmp_path / f"a.{other}")
            continue
        with pytest.raises(FabricFileError, match="larger than any fabric"):
            save(fabric, tmp_path / f"a.{other}")


def test_which_ends_two_floats_join_is_told_apart() -> None:
    """Two strips of three loops, of each the first live; floats join like ends, or unlike ones."""
    work = Work()
    cast_on(work, 6)
    strips = attrs.evolve(work.fabric(), needles={"needle 1": [0, 3]})
    unlike = attrs.evolve(strips, next=[1, 2, 3, 4, 5, 0], flags=[0, 0, FLOAT, 0, 0, FLOAT])
    like = attrs.evolve(strips, next=[1, 2, 5, 0, 3, 4], flags=[0, 0, FLOAT, FLOAT, 0, 0])
    assert not same_fabric(unlike, like)
    assert len(set(unlike.pieces.tolist())) == len(set(like.pieces.tolist())) == 1


def test_the_table_of_all_fabrics_stays_one() -> None:
    own = STITCHES.with_stitch(attrs.evolve(STITCHES["k"], key="mine"))
    assert pickle.loads(pickle.dumps(STITCHES)) is STITCHES
    assert pickle.loads(pickle.dumps(own)) == own != STITCHES


@pytest.mark.parametrize(("name", "what"), [("sock.txt", "'.txt'"), ("sock", "without an ending")])
def test_a_fabric_is_saved_in_a_form_that_is_known(tmp_path: Path, name: str, what: str) -> None:
    with pytest.raises(FabricFileError, match=what):
        save(tube(4, 2).fabric(), tmp_path / name)
    assert not list(tmp_path.iterdir())


# Differences ----------------------------------------------------------------------------------


def test_a_difference_is_told_from_either_side() -> None:
    one, two = tube(6, 2), tube(6, 2)
    two.plain_rounds(1)
    fabrics = one.fabric(), two.fabric()
    there, back = difference(*fabrics), difference(*fabrics[::-1])
    assert there is not None
    assert back is not None
    assert (there.one, there.other) == (back.other, back.one) == (6, 6)
    assert there.problem == "live in the one, not live in the other"
    assert back.problem == "not live in the one, live in the other"


def test_a_piece_that_only_one_fabric_has_is_left_over() -> None:
    """Two pieces of one row, and one of them alone."""
    pieces = []
    for yarns in (["abcd"], ["abcd", "efghij"]):
        graph = nx.MultiDiGraph()
        for yarn in yarns:
            graph.add_edges_from((*pair, "yarn") for pair in pairwise(yarn))
        pieces.append(Fabric.from_graph(graph))
    one, two = pieces
    there, back = difference(one, two), difference(two, one)
    assert there is not None
    assert back is not None
    assert (there.one, there.other) == (None, 4) == (back.other, back.one)
    assert there.problem == "a loop in the other and none in the one"
    assert back.problem == "a loop in the one and none in the other"


# Where the first loop of all takes part -------------------------------------------------------


def test_a_float_that_passes_no_loop_above_the_first() -> None:
    fabric = tube(6, 3).fabric()
    for loop in (6, 7, 8, 13):
        flags = fabric.flags.copy()
        flags[loop] |= FLOAT
        found = [one for one in check(attrs.evolve(fabric, flags=flags)).findings
                 if one.kind == "beside" and "passes no loop" in one.problem]  # fmt: skip
        assert [one.loops for one in found] == [(loop,)]


@pytest.mark.parametrize("loop", [7, 8, 10, 13])
def test_a_yarn_that_passed_a_loop_and_is_no_float(loop: int) -> None:
    """A loop that stands beside an older one where its yarn came from."""
    fabric = tube(6, 3).fabric()
    older = loop - 6
    pairs = (older, loop) if fabric.side[loop] > 0 else (loop, older)
    damaged = attrs.evolve(
        fabric, right=np.append(fabric.right, pairs[0]), left=np.append(fabric.left, pairs[1])
    )
    found = [one.loops for one in check(damaged).findings if "is no float" in one.problem]
    assert found == [(loop,)]


def test_a_row_of_one_stitch_has_the_cells_of_a_chain() -> None:
    """V - E + C = 2: six loops, five strands, five drawn through; so six cells."""
    for hand in Hand:
        work = Work(hand=hand)
        cast_on(work, 1)
        for _ in range(5):
            work.turn()
            work.work(["k"])
        fabric = work.fabric()
        surface = fabric.surface
        assert (surface.vertices, surface.edges, surface.cells) == (6, 10, 6)
        assert check(fabric).ok


# Steps ----------------------------------------------------------------------------------------


def test_a_step_that_begins_with_other_loops_is_named_beside_the_one_before() -> None:
    fabric = tube(6, 4).fabric()
    ledger = fabric.ledger.copy()
    row = len(ledger) - 1
    ledger[row, [2, 3]] += 1
    found = [one.problem for one in check(attrs.evolve(fabric, ledger=ledger)).findings
             if "begins with" in one.problem]  # fmt: skip
    assert found == [
        f"step {row} begins with 7 live loops and the one before ended with {ledger[row - 1, 5]}"
    ]


# Stitches -------------------------------------------------------------------------------------


def test_only_a_crossing_tells_a_twist_for_each_stitch() -> None:
    with pytest.raises(StitchDefinitionError, match="twist must be"):
        Stitch("mine", "my own", 1, 1, (0,), faces="k", twist="l")
    with pytest.raises(StitchDefinitionError, match="twist must be"):
        Stitch("mine", "my own", 2, 2, (0, 1), faces="kk", order=(1, 0), twist="lll")
    crossing = Stitch("mine", "my own", 2, 2, (0, 1), faces="kk", order=(1, 0), twist="-l")
    assert crossing.twists == ("", "left")


def test_a_crossing_is_found_from_how_its_loops_lie() -> None:
    work = tube(12, 2)
    work.round(["1/1rc", "2/2lc", "1/2rc", "k", "k", "k"])
    fabric = work.fabric()
    graph = fabric.graph
    for _, data in graph.nodes(data=True):
        if "/" in data["stitch"]:
            del data["stitch"]
    assert same_fabric(Fabric.from_graph(graph), fabric)


@together("key", ["k2tog", "ssk", "p2tog", "cdd", "k3tog"])
@together("hand", Hand)
def test_stacks_of_the_wrong_side_lie_the_other_way(key: str, hand: Hand) -> None:
    work = Work(hand=hand)
    cast_on(work, 6)
    for _ in range(2):
        work.turn()
        work.work([key, *["k"] * work.left][: 1 + work.left - STITCHES[key].takes])
    fabric = work.fabric()
    assert Fabric.from_graph(fabric.graph) == fabric


# Files ----------------------------------------------------------------------------------------


def test_names_of_yarns_are_written_as_they_are() -> None:
    work = tube(4, 2)
    work.join_yarn("möwe")
    work.plain_rounds(1)
    fabric = work.fabric()
    assert '"möwe"' in to_json(fabric)
    assert "1 möwe" in certify(fabric, instructions="Row 1 möwe.").to_json()


@pytest.mark.parametrize("cut", [1, None])
def test_a_column_that_is_cut_short_is_named(cut: int | None) -> None:
    """A compact file is a ZIP of columns; one of them without its last byte, or not there."""
    packed = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(to_bytes(tube(4, 2).fabric()))) as whole,
        zipfile.ZipFile(packed, "w") as damaged,
    ):
        for name in whole.namelist():
            data = whole.read(name)
            if not name.endswith("/next"):
                damaged.writestr(name, data)
            elif cut:
                damaged.writestr(name, data[:-cut])
    with pytest.raises(FabricFileError) as refusal:
        from_bytes(packed.getvalue())
    assert refusal.value.place.endswith("/next")
    assert refusal.value.problem == ("ends amid an entry (31 bytes)" if cut else "is missing")


def test_one_of_the_keys_that_are_missing_is_named() -> None:
    document = json.loads(to_json(tube(4, 2).fabric()))
    for name in ("loops", "through"):
        assert len(document[name]) > 1
        with pytest.raises(FabricFileError) as refusal:
            from_json(json.dumps({**document, name: {}}))
        assert refusal.value.problem == f"['{next(iter(document[name]))}'] is missing"


# Ends and waste -------------------------------------------------------------------------------


def test_the_yarn_ends_at_its_first_loop_and_its_last() -> None:
    fabric = tube(6, 2).fabric()
    ends = [loop for loop in range(12) if _goes_on(fabric, loop) == "an end of the yarn"]
    assert ends == [0, 11]


def test_what_waste_yarn_took_is_counted_with_the_step_that_took_it() -> None:
    fabric = PIECES["sock, heel opened later"](Hand.RIGHT).fabric()
    ledger = fabric.ledger.copy()
    row = int(np.searchsorted(ledger[:, 1], fabric.removed[0, 1], side="right"))
    ledger[row, 3] -= 1
    found = [one.problem for one in check(attrs.evolve(fabric, ledger=ledger)).findings
             if f"step {row} says" in one.problem]  # fmt: skip
    assert len(found) == 1


@together(
    ("close", "letters"),
    [
        (lambda work: None, "." * 12 + "l" * 6),
        (bind_off, "." * 23 + "f"),
        (draw_up, "." * 12 + "d" * 6),
        (graft, "." * 18 + "ggggg" + "f"),
        (lambda work: (work.work(["k"]), work.wrap(), work.turn()), "." * 12 + "." + "l" * 6 + "w"),
    ],
)
def test_a_certificate_says_what_keeps_each_loop(
    close: Callable[[Work], object], letters: str
) -> None:
    work = tube(6, 3)
    close(work)
    assert certify(work.fabric()).document["loops"] == letters
