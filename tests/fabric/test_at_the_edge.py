"""Fabrics, files and stitches one step beyond what is taken, and the last that is."""

from __future__ import annotations

import io
import json
import zipfile
from itertools import pairwise
from typing import Any

import attrs
import networkx as nx
import numpy as np
import pytest

from fabric.pieces import tube
from loopwright.errors import FabricFileError, GraphError, StitchDefinitionError
from loopwright.fabric import (
    STITCHES,
    Fabric,
    Kind,
    Stitch,
    Strand,
    check,
    difference,
    same_fabric,
)
from loopwright.fabric.columns import CROSSED, GONE, RANK
from loopwright.fabric.files import from_bytes, from_json, to_bytes, to_json
from loopwright.fabric.stitches import Lean
from loopwright.making import (
    Hand,
    Work,
    cast_on,
    draw_up,
    graft,
    provisional_cast_on,
    recapture,
    waste_row,
)
from loopwright.making._needles import Op
from together import together


def cabled() -> Work:
    own = Stitch("mine", "my own crossing", 2, 2, (0, 1), faces="kk", order=(1, 0))
    work = Work(stitches=STITCHES.with_stitch(own))
    cast_on(work, 5)
    work.join_round()
    work.round(["1/2lc", "mine"])
    return work


@together("key", ["", "K", " k", "k ", "Ssk"])
def test_a_key_is_small_letters_without_blanks(key: str) -> None:
    with pytest.raises(StitchDefinitionError, match="key must be lower case"):
        Stitch(key, "a stitch", 1, 1, (0,))


@pytest.mark.parametrize(
    ("takes", "makes", "taken"), [(7, 1, True), (8, 1, False), (1, 9, True), (1, 10, False)]
)
def test_a_stitch_takes_up_to_7_and_makes_up_to_9(takes: int, makes: int, taken: bool) -> None:
    made = {"faces": "k" * makes}
    if taken:
        assert Stitch("s", "s", takes, makes, tuple(range(takes)), **made).makes == makes  # type: ignore[arg-type]
    else:
        with pytest.raises(StitchDefinitionError, match="more than 7 taken or 9 made"):
            Stitch("s", "s", takes, makes, tuple(range(takes)), **made)  # type: ignore[arg-type]


def test_a_crossing_is_saved_by_its_key_if_it_is_ours() -> None:
    listed = json.loads(to_json(cabled().fabric()))["stitches"]
    assert "1/2lc" in listed
    (mine,) = (one for one in listed if isinstance(one, dict) and one["key"] == "mine")
    assert mine["order"] == [1, 0]
    assert same_fabric(from_json(to_json(cabled().fabric())), cabled().fabric())


@pytest.mark.parametrize("name", ["takes", "makes", "lifts"])
def test_counts_of_a_saved_stitch_are_refused_by_their_place(name: str) -> None:
    document = json.loads(to_json(tube(4, 2).fabric()))
    number = next(n for n, one in enumerate(document["stitches"]) if isinstance(one, dict))
    for count, place in ((24, f"stitches[{number}]"), (25, f"stitches[{number}].{name}[0]")):
        document["stitches"][number][name] = count
        with pytest.raises(FabricFileError) as refusal:
            from_json(json.dumps(document))
        assert refusal.value.place == place


def test_a_compact_file_is_the_same_whenever_it_is_made() -> None:
    """1980-01-01 is the first date that a ZIP can tell (the format's own note)."""
    with zipfile.ZipFile(io.BytesIO(to_bytes(tube(4, 2).fabric()))) as archive:
        dates = {entry.date_time for entry in archive.infolist()}
    assert dates == {(1980, 1, 1, 0, 0, 0)}


@pytest.mark.parametrize(("told", "words"), [(2**16, "damaged"), (2**16 + 1, "larger than any")])
def test_a_long_list_of_entries_is_refused_by_what_it_says(told: int, words: str) -> None:
    """How long it is stands 12 bytes after the sign that a ZIP ends with, in 4 bytes."""
    data = bytearray(to_bytes(tube(4, 2).fabric()))
    end = data.rfind(b"PK\x05\x06")
    data[end + 12 : end + 16] = told.to_bytes(4, "little")
    with pytest.raises(FabricFileError) as refusal:
        from_bytes(bytes(data))
    assert words in refusal.value.problem
    with pytest.raises(FabricFileError, match="no compact fabric"):
        from_bytes(b"no sign of an end")


def test_loops_are_put_in_an_order_of_making_whatever_order_they_are_given_in() -> None:
    """Those of a row before a strand lifted between them, and each before the next of its row."""
    work = Work()
    cast_on(work, 4)
    work.turn()
    work.row(["k", "m1l", "k", "m1r", "k", "k"])
    fabric = work.fabric()
    graph = fabric.graph
    shuffled = nx.MultiDiGraph(**graph.graph)
    shuffled.add_nodes_from(reversed([*graph.nodes(data=True)]))
    shuffled.add_edges_from(graph.edges(keys=True, data=True))
    again = Fabric.from_graph(shuffled)
    assert same_fabric(again, fabric)
    cast = [loop for loop, data in again.graph.nodes(data=True) if data["stitch"] == "co"]
    assert cast == sorted(cast)
    follows = {a: b for a, b, kind in again.graph.edges(keys=True) if kind == "yarn"}
    lifted = {loop for loop, data in again.graph.nodes(data=True) if data["stitch"] == "lift"}
    for start in follows.keys() - lifted:
        onward = follows[start]
        while onward in lifted:
            onward = follows[onward]
        assert onward > start


def changed(fabric: Fabric, column: str, place: int, value: int) -> Fabric:
    damaged = np.array(getattr(fabric, column))
    damaged[place] = value
    change: dict[str, Any] = {column: damaged}
    return attrs.evolve(fabric, **change)


@together("place", range(12))
def test_a_course_that_falls_is_found_at_the_loop_that_falls(place: int) -> None:
    """One number raised: the next one made stands lower, the second loop of all not excepted."""
    fabric = changed(tube(6, 3).fabric(), "course", place, 3)
    found: dict[str, Any] = {one.kind: one for one in check(fabric).findings}
    assert place + 1 in found["courses"].loops


def test_another_yarn_begins_its_courses_where_it_likes() -> None:
    work = tube(4, 3)
    work.join_yarn("other")
    cast_on(work, 2)
    fabric = work.fabric()
    assert not [one for one in check(fabric).findings if one.kind == "courses"]


def test_strands_that_cross_are_looked_for_where_cells_are_merged() -> None:
    """Not at the tube's own ends, which are larger: the finding names loops of no opening."""
    fabric = tube(8, 4).fabric()
    parent = np.array(fabric.parent)
    parent[[9, 10]] = parent[[10, 9]]
    crossed = attrs.evolve(fabric, parent=parent)
    (finding,) = (one for one in check(crossed).findings if one.kind == "surface")
    assert finding.loops == (9, 10, 17, 18)


def test_the_yarn_of_a_row_leads_from_each_loop_to_the_next() -> None:
    fabric = tube(5, 1).fabric()
    assert all(fabric.next[a] == b for a, b in pairwise(range(5)))


def test_an_order_of_a_crossing_is_given_by_name() -> None:
    with pytest.raises(TypeError):
        Stitch("s", "s", 1, 1, (0,), "k", 0, "", Kind.WORKED, False, False, "", (0,))  # type: ignore[call-arg]


@pytest.mark.parametrize(("size", "words"), [(2**24, "is no JSON"), (2**24 + 1, "larger than any")])
def test_a_text_has_16_mib_at_most(size: int, words: str) -> None:
    with pytest.raises(FabricFileError, match=words):
        from_json(" " * size)


def test_a_compact_file_has_32_mib_at_most() -> None:
    for size, problem in ((2**25, "it is no compact fabric"), (2**25 + 1, "it is larger than any")):
        with pytest.raises(FabricFileError) as refusal:
            from_bytes(bytes(size))
        assert refusal.value.problem.startswith(problem)
    assert "at most 2,000,000 loops" in refusal.value.advice


def test_the_first_edge_that_is_out_of_place_is_named() -> None:
    """Of 12 loops, 4 in a course: the edges of the second round are those from 4 on."""
    document = json.loads(to_json(tube(4, 3).fabric()))
    for table, column, value, place in (
        ("loops", "flags", GONE, "parent[5]"),
        ("through", "child", 11, "through.child[6]"),
    ):
        damaged = json.loads(json.dumps(document))
        damaged[table][column][5] = value
        with pytest.raises(FabricFileError) as refusal:
            from_json(json.dumps(damaged))
        assert refusal.value.place == place


def test_a_strand_is_in_work_until_it_is_cut() -> None:
    strand = Strand("main")
    assert (strand.role, strand.cut, strand.woven) == ("working", False, (False, False))


def test_yarn_that_leads_to_its_own_loop_has_no_order_of_making() -> None:
    graph = tube(4, 2).fabric().graph
    last = max(graph)
    graph.add_edge(last, last, "yarn", kind="yarn")
    with pytest.raises(GraphError) as refusal:
        Fabric.from_graph(graph)
    assert str(last) in str(refusal.value)


def test_a_loop_hangs_by_a_lifted_strand_that_is_the_first_of_all() -> None:
    """What is drawn through nothing is caught where its yarn goes on to a lifted loop."""
    work = Work()
    provisional_cast_on(work, 4)
    work.turn()
    work.row(["p"] * 4)
    recapture(work, "waste", corner="last")
    assert not [one for one in check(work.fabric()).findings if one.kind == "secured"]


def test_nobody_can_write_to_a_fabric_through_what_it_was_made_of() -> None:
    fabric = tube(4, 2).fabric()
    mine = np.array(fabric.flags)
    seen = mine[:]
    seen.flags.writeable = False
    for given in (mine, seen):
        made = attrs.evolve(fabric, flags=given)
        mine[0] ^= 1
        assert made.flags[0] != mine[0]
        with pytest.raises(ValueError, match="read-only"):
            made.flags[0] = 1
        mine[0] ^= 1
    kept = attrs.evolve(fabric, flags=fabric.flags)
    assert kept.flags is fabric.flags  # what nobody can write to is not copied


@pytest.mark.parametrize("op", [Op.WORK, Op.CLOSE, Op.DRAW])
def test_a_step_that_took_more_than_its_books_say_is_named(op: Op) -> None:
    work = tube(6, 3)
    if op is Op.CLOSE:
        graft(work)
    elif op is Op.DRAW:
        draw_up(work)
    fabric = work.fabric()
    (*_, row) = np.flatnonzero(fabric.ledger[:, 0] == op)
    taken, made = fabric.ledger[row, 3:5].tolist()
    for column, number, is_told in ((3, taken, False), (4, made + 1, True), (3, taken - 1, True)):
        ledger = np.array(fabric.ledger)
        ledger[row, column] = number
        told = [one.problem for one in check(attrs.evolve(fabric, ledger=ledger)).findings]
        said = [one for one in told if one.startswith(f"step {row} says")]
        assert bool(said) is (is_told and op is not Op.DRAW), (column, told)


def test_the_operations_of_a_saved_ledger_keep_their_numbers() -> None:
    assert {op.name: int(op) for op in Op} == {
        "WORK": 0, "CAST_ON": 1, "LIFT": 2, "CLOSE": 3, "DRAW": 4, "TAKE_OUT": 5, "STATED": 6,
    }  # fmt: skip


def test_a_stitch_is_a_knit_stitch_unless_it_says_otherwise() -> None:
    one = Stitch("s", "s")
    assert attrs.astuple(one) == (
        "s", "s", 1, 1, (0,), "k", 0, "", Kind.WORKED, False, False, "", (),
    )  # fmt: skip


def test_what_stands_where_a_list_should_is_quoted_in_40_letters() -> None:
    document = json.loads(to_json(tube(4, 2).fabric()))
    document["strands"] = 10**60
    with pytest.raises(FabricFileError) as refusal:
        from_json(json.dumps(document))
    assert refusal.value.problem == f"expected a list, found 1{'0' * 39}"


def test_what_a_sphere_comes_to_is_told_with_what_was_found() -> None:
    fabric = tube(8, 4).fabric()
    parent = np.array(fabric.parent)
    parent[[9, 10]] = parent[[10, 9]]
    (found,) = (
        one.problem
        for one in check(attrs.evolve(fabric, parent=parent)).findings
        if one.kind == "surface"
    )
    assert found.endswith(" and not 2")


def bare(fabric: Fabric, *names: str) -> nx.MultiDiGraph:
    """A fabric's graph without these facts of its loops; strands lifted are still called so."""
    graph = fabric.graph
    for _, data in graph.nodes(data=True):
        for name in names:
            if name != "stitch" or data["stitch"] != "lift":
                data.pop(name, None)
    return graph


def test_sides_of_two_pieces_are_found() -> None:
    """Each is a sphere with an opening: V - E + C is 4."""
    work = Work()
    for name in ("main", "other"):
        work.join_yarn(name)
        cast_on(work, 3)
    apart = attrs.evolve(work.fabric(), right=[], left=[])
    assert apart.euler_characteristic == 4
    assert same_fabric(Fabric.from_graph(bare(apart, "side")), apart)


@together("key", ["k2tog", "ssk", "p2tog", "cdd", "k", "p"])
def test_stitches_are_found_by_how_they_lie(key: str) -> None:
    """In a round of knit stitches one of another kind, and no loop says what it is."""
    work = tube(8, 2)
    row = STITCHES[key]
    work.round(["k", "k", key, *["k"] * (6 - row.takes)])
    work.plain_rounds(1)
    fabric = work.fabric()
    again = Fabric.from_graph(bare(fabric, "stitch"))
    keys = [[one.stitches.rows[at].key for at in one.stitch] for one in (fabric, again)]
    assert keys[0] == keys[1]
    assert key in keys[1]


def test_a_loop_drawn_twice_through_the_same_is_refused() -> None:
    graph = tube(4, 2).fabric().graph
    graph.add_edge(0, 4, "once more", kind="through")
    with pytest.raises(GraphError, match="drawn through the same loop twice"):
        Fabric.from_graph(graph)


def test_the_bits_of_a_saved_fabric_keep_their_numbers() -> None:
    """What a file of this version says of itself, so that those saved before are read as meant."""
    assert json.loads(to_json(tube(4, 2).fabric()))["bits"] == {
        "flags": {
            "left flank": 1, "turned after": 2, "float to next": 4, "float on the right side": 8,
            "taken out": 16, "fastened": 32, "drawn up": 64, "turned after, next before it": 128,
        },
        "info": {
            "rank": 7, "to the back": 8, "picked up at the edge": 16, "chain": 32, "facing": 64,
            "crossed": 128,
        },
    }  # fmt: skip


COLUMNS = {
    "next": ("loops", -1, 7), "strand": ("loops", 0, 0), "course": ("loops", 0, 2**31 - 1),
    "flags": ("loops", 0, 255), "parent": ("through", 0, 7), "child": ("through", 0, 7),
    "info": ("through", 0, 255), "right": ("beside", 0, 7), "left": ("beside", 0, 7),
}  # fmt: skip


@together("name", COLUMNS)
def test_each_column_of_a_file_has_its_range(name: str) -> None:
    """Of 8 loops and one strand: the number just beyond either end is refused by its place."""
    fabric = tube(4, 2).fabric()
    assert len(fabric.flags) == 8
    document = json.loads(to_json(fabric))
    table, least, most = COLUMNS[name]
    if not document[table][name]:
        document[table] = {"right": [0], "left": [1]}
    for value in (least - 1, most + 1):
        damaged = json.loads(json.dumps(document))
        damaged[table][name][0] = value
        with pytest.raises(FabricFileError) as refusal:
            from_json(json.dumps(damaged))
        assert name in refusal.value.place
        assert f"{least} to {most}" in refusal.value.problem.replace(",", "")


@pytest.mark.parametrize(("leap", "found"), [(40, False), (41, True)])
def test_more_courses_than_anybody_turns_on_one_spot_are_a_leap(leap: int, found: bool) -> None:
    fabric = tube(6, 4).fabric()
    course = np.array(fabric.course)
    course[12:] += leap - 1  # the third round stands one course higher by itself
    kinds = {one.kind for one in check(attrs.evolve(fabric, course=course)).findings}
    assert ("courses" in kinds) is found


def test_a_loop_that_hangs_by_a_lifted_strand_needs_no_parent_in_a_graph() -> None:
    work = Work()
    provisional_cast_on(work, 4)
    work.turn()
    work.row(["p"] * 4)
    recapture(work, "waste", corner="last")
    fabric = work.fabric()
    assert same_fabric(Fabric.from_graph(fabric.graph), fabric)
    graph = fabric.graph
    for name in ("removed", "ledger"):
        graph.graph.pop(name, None)
    assert Fabric.from_graph(graph).euler_characteristic == fabric.euler_characteristic


def test_no_loop_is_made_by_a_slip() -> None:
    fabric = tube(6, 3).fabric()
    slipped = changed(fabric, "stitch", 8, STITCHES.code("sl"))
    (found,) = (one for one in check(slipped).findings if one.kind == "stitches")
    assert 8 in found.loops


@pytest.mark.parametrize(("key", "width"), [("ledger", 6), ("removed", 2)])
def test_rows_of_a_file_are_as_wide_as_they_are(key: str, width: int) -> None:
    document = json.loads(to_json(tube(4, 2).fabric()))
    for row in ([0] * (width - 1), [0] * (width + 1)):
        damaged = {**document, key: [*document[key], row]}
        with pytest.raises(FabricFileError) as refusal:
            from_json(json.dumps(damaged))
        place = f"{key}[{len(document[key])}]"
        assert (refusal.value.place, refusal.value.problem) == (place, f"expected {width} numbers")
    most = 2**31 - 1 if key == "ledger" else 7
    damaged = {**document, key: [*document[key], [most + 1] * width]}
    with pytest.raises(FabricFileError, match=f"to {most},"):
        from_json(json.dumps(damaged))


def test_stitches_uncrossed_bear_no_sign_of_it() -> None:
    fabric = cabled().fabric()
    crossed = (fabric.info & CROSSED) != 0
    assert crossed.any()
    uncrossed = fabric.uncrossed
    assert not (uncrossed.info & CROSSED).any()
    assert not (uncrossed.info[crossed] & RANK).any()
    assert np.array_equal(uncrossed.info[~crossed], fabric.info[~crossed])
    assert sorted(uncrossed.parent.tolist()) == sorted(fabric.parent.tolist())
    assert uncrossed.parent.tolist() != fabric.parent.tolist()


def test_slips_by_their_yarn_and_their_way() -> None:
    slips = {row.key: (row.yarn_in_front, row.knitwise) for row in STITCHES if row.key[:2] == "sl"}
    assert slips == {
        "sl": (False, False), "slf": (True, False), "slk": (False, True), "slkf": (True, True),
    }  # fmt: skip


def test_a_sign_of_a_crossing_stands_on_its_edges_and_on_no_others() -> None:
    fabric = cabled().fabric()
    crossed = np.flatnonzero((fabric.info & CROSSED) != 0)
    plain = tube(6, 3).fabric()
    for one, edge in ((fabric, int(crossed[0])), (plain, 2)):
        assert not [found for found in check(one).findings if found.kind == "stitches"]
        damaged = changed(one, "info", edge, int(one.info[edge]) ^ CROSSED)
        found = [found.loops for found in check(damaged).findings if found.kind == "stitches"]
        assert any(int(one.child[edge]) in loops for loops in found)


@together("key", ["k2tog", "ssk", "cdd", "k3tog", "sssk", "sk2p"])
@together("hand", Hand)
def test_the_order_in_which_parents_were_taken_is_found(key: str, hand: Hand) -> None:
    """Along their row, the way that it was worked; no edge says it."""
    work = tube(8, 2, hand)
    work.round(["k", key, *["k"] * (7 - STITCHES[key].takes)])
    work.plain_rounds(1)
    fabric = work.fabric()
    graph = fabric.graph
    for *_, data in graph.edges(data=True):
        data.pop("taken", None)
    assert same_fabric(Fabric.from_graph(graph), fabric)


def test_what_was_taken_out_is_on_no_needle_of_a_file() -> None:
    work = tube(8, 2)
    waste_row(work, 4)
    work.plain_rounds(1)
    recapture(work, "waste")
    fabric = work.fabric()
    document = json.loads(to_json(fabric))
    gone = int(np.flatnonzero((fabric.flags & GONE) != 0)[0])
    name = next(iter(document["needles"]))
    document["needles"][name].append(gone)
    with pytest.raises(FabricFileError) as refusal:
        from_json(json.dumps(document))
    assert refusal.value.place == f"needles.{name}"
    assert "taken out can't be live" in refusal.value.problem


@together("rows", [1, 2, 3])
@together("hand", Hand)
def test_what_is_live_is_found_in_the_order_of_the_right_side(rows: int, hand: Hand) -> None:
    work = Work(hand=hand)
    cast_on(work, 5)
    for _ in range(rows):
        work.turn()
        work.work(["k"] * 5)
    fabric = work.fabric()
    graph = fabric.graph
    for name in ("needles", "held", "wraps"):
        graph.graph.pop(name, None)
    assert Fabric.from_graph(graph).live.tolist() == fabric.live.tolist()


@pytest.mark.parametrize(
    ("one", "other", "told"),
    [
        (["kfb"], ["k", "yo"], "2 loops are drawn through it in the one, 1 loop is in the other"),
        (["k", "yo"], ["kfb"], "1 loop is drawn through it in the one, 2 loops are in the other"),
        (["kpk"], ["kfb", "kfb"], "3 loops are drawn through it in the one, 2 loops are in the"),
    ],
)
def test_a_difference_counts_what_is_drawn_through_a_loop(
    one: list[str], other: list[str], told: str
) -> None:
    fabrics = []
    for keys in (one, other):
        work = tube(6, 2)
        taken = sum(STITCHES[key].takes for key in keys)
        work.round([*keys, *["k"] * (6 - taken)])
        work.plain_rounds(1)
        fabrics.append(work.fabric())
    assert told in str(difference(*fabrics))


def test_which_way_decreases_lean() -> None:
    """Common practice: k2tog to the right, ssk to the left, and the same seen from purls."""
    leans = {
        Lean.RIGHT: ("k2tog", "p2tog", "k3tog", "rdd"),
        Lean.LEFT: ("ssk", "ssp", "sssk", "sk2p"),
        Lean.CENTRED: ("cdd",),
        Lean.NONE: ("k", "p", "yo", "kfb"),
    }
    for lean, keys in leans.items():
        assert {STITCHES[key].lean for key in keys} == {lean}


def test_a_side_that_is_given_against_its_row_is_refused() -> None:
    """One loop of a round worked on the other flank, all other sides left to be found."""
    graph = tube(6, 3).fabric().graph
    for loop, data in graph.nodes(data=True):
        if loop not in (7, 8):
            del data["side"]
    assert Fabric.from_graph(graph).euler_characteristic == 2
    graph.nodes[8]["side"] = -graph.nodes[8]["side"]
    with pytest.raises(GraphError):
        Fabric.from_graph(graph)
