"""What findings and refusals name: the loops, how many of what, and where; and from where on."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from typing import Any

import attrs
import networkx as nx
import numpy as np
import pytest

from fabric.pieces import flat, tube
from fabric.test_checks import BREAKERS
from loopwright.errors import (
    GraphError,
    LoopwrightError,
    StitchDefinitionError,
    UnknownLoopError,
)
from loopwright.fabric import Fabric, Flaw, Kind, Limits, Stitch, check, same_fabric
from loopwright.fabric.columns import (
    BACK,
    CHAIN,
    CROSSED,
    EDGE,
    FACING,
    FASTENED,
    FLOAT,
    FLOAT_FRONT,
    GONE,
    LEFT_FLANK,
    TURNED,
)
from loopwright.fabric.files import from_graphml
from loopwright.making import (
    Work,
    bind_off,
    cast_on,
    graft,
    hold,
    lift_strand,
    three_needle_bind_off,
)


def found(fabric: Fabric, kind: str) -> list[Flaw]:
    return [one for one in check(fabric).findings if one.kind == kind]


def with_floats(count: int, *loops: int) -> Fabric:
    """A cast-on that floats alone join where they are asked for."""
    work = Work()
    cast_on(work, count)
    flags = np.zeros(count, dtype=np.uint8)
    flags[list(loops)] = FLOAT
    return attrs.evolve(work.fabric(), flags=flags)


def test_each_piece_that_floats_alone_join_is_a_surface_of_its_own() -> None:
    fabric = with_floats(6, 1, 3)
    assert fabric.surface_pieces.tolist() == [0, 0, 1, 1, 2, 2]
    assert fabric.euler_characteristic == 6
    assert fabric.is_on_spheres
    assert not found(fabric, "surface")


@pytest.mark.parametrize("pieces", [1, 2, 3])
def test_what_spheres_come_to_is_told_for_all_pieces(pieces: int) -> None:
    """Tubes, a yarn each; in the first two loops are drawn through each other's loops."""
    work = Work()
    for number in range(pieces):
        if number:
            work.join_yarn(f"yarn {number}")
        cast_on(work, 6)
        work.join_round()
        work.plain_rounds(2)
        graft(work)
        work.to_rows()
    fabric = work.fabric()
    parent = np.array(fabric.parent)
    parent[[7, 8]] = parent[[8, 7]]
    (one,) = found(attrs.evolve(fabric, parent=parent, right=[], left=[]), "surface")
    assert f"and not {2 * pieces}" in one.problem


def test_the_loop_after_a_leap_of_courses_is_named() -> None:
    fabric = tube(6, 4).fabric()
    course = np.array(fabric.course)
    course[12:] += 40
    (one,) = found(attrs.evolve(fabric, course=course), "courses")
    assert one.loops == (12,)


def test_a_yarn_that_leads_to_waste_yarn_taken_out_is_told() -> None:
    fabric = tube(4, 3).fabric()
    flags = np.array(fabric.flags)
    flags[6] = GONE
    told = found(attrs.evolve(fabric, flags=flags), "strands")
    assert [(one.loops, one.problem) for one in told] == [
        ((5,), "the yarn leads to a loop that isn't there")
    ]


@pytest.mark.parametrize("name", ["next", "parent", "child", "right", "left", "needles", "held"])
@pytest.mark.parametrize("beyond", [-2, -1, 12, 40])
def test_no_column_leads_beyond_the_loops(name: str, beyond: int) -> None:
    """A yarn ends with -1; all else names a row, of which there are 12."""
    work = tube(4, 2)
    hold(work, 2, "aside")
    work.round(["k", "k"])
    cast_on(work, 2)
    fabric = attrs.evolve(work.fabric(), right=[0, 0], left=[2, 3])
    assert len(fabric) == 12
    column = getattr(fabric, name)
    group = "aside" if name == "held" else "needle 1"
    damaged = np.array(column[group] if name in ("needles", "held") else column)
    for value, refused in ((11, False), (0, False), (beyond, (name, beyond) != ("next", -1))):
        damaged[-2] = value
        change: dict[str, Any] = {
            name: {group: damaged} if name in ("needles", "held") else damaged
        }
        if not refused:
            assert len(attrs.evolve(fabric, **change)) == 12
            continue
        with pytest.raises(UnknownLoopError) as refusal:
            attrs.evolve(fabric, **change)
        assert (refusal.value.loop, refusal.value.rows) == (beyond, 12)


@pytest.mark.parametrize(("many", "listed"), [(5, 5), (6, 6), (7, 6), (9, 6)])
def test_six_nodes_of_a_graph_are_listed_by_name(many: int, listed: int) -> None:
    """Loops in a ring, each drawn through the one before it."""
    graph = nx.MultiDiGraph()
    for loop in range(many):
        graph.add_edge(loop, (loop + 1) % many, "through", face="k")
    with pytest.raises(GraphError) as refusal:
        Fabric.from_graph(graph)
    (words,) = refusal.value.violations
    named = words.partition("(")[2].removesuffix(")")
    assert named.removesuffix(" ...").count(",") == listed - 1
    assert named.endswith(" ...") is (many > 6)


@pytest.mark.parametrize(
    ("tag", "before", "room"),
    [
        ("<desc/>", "", 1000),
        ('<data key="d0">1</data>', "", 1000),
        ('<data key="d0">1</data>', '<node id="0"></node>', 1024),  # 24 fields belong to a loop
    ],
)
def test_a_graph_text_may_hold_a_thousand_things_that_no_fabric_has(
    tag: str, before: str, room: int
) -> None:
    begin = '<?xml version="1.0"?><graphml xmlns="http://graphml.graphdrawing.org/xmlns">'
    begin += '<key id="d0" for="graph" attr.name="held" attr.type="int"/>'
    begin += f'<graph edgedefault="directed">{before}'
    for many, refused in ((room, False), (room + 1, True)):
        try:
            from_graphml(f"{begin}{tag * many}</graph></graphml>")
            told = ""
        except LoopwrightError as refusal:
            told = str(refusal)
        assert ("larger than any" in told) is refused


@pytest.mark.parametrize("row", [1, 2])
def test_a_float_to_what_is_drawn_through_its_own_loop_is_told(row: int) -> None:
    """The first stitch of a row, worked into the last of the row before."""
    fabric = flat(4, 3).fabric()
    last = 4 * row + 3
    assert fabric.parents(last + 1).tolist() == [last]
    flags = np.array(fabric.flags)
    flags[last] |= FLOAT
    told = found(attrs.evolve(fabric, flags=flags), "beside")
    assert [one.loops for one in told] == [(last,)]


@pytest.mark.parametrize("rows", [2, 3])
def test_how_high_a_slit_is(rows: int) -> None:
    """Two stitches, a yarn each, that is turned where they meet."""
    work = Work()
    cast_on(work, 2)
    yarns = ["main", "other"]
    for row in range(rows):
        work.turn()
        for place, yarn in enumerate(yarns):
            if row or not place:
                work.change_to(yarn)
            else:
                work.join_yarn(yarn)
            work.work(["k"])
        yarns.reverse()
    told = check(work.fabric(), limits=Limits(course_mm=2.5)).findings
    (slit,) = [one.problem for one in told if one.kind == "slits"]
    assert f"in {rows} rows ({rows * 2.5:.0f} mm)" in slit


NAMED: dict[str, tuple[tuple[int, ...], str]] = {
    # Damaged at loop 5 or 6 of a tube of 4, most of them; loops 0 to 3 are its cast-on.
    "secured": ((5,), "1 loop is loose: nothing is drawn through, nothing carries"),
    "secured, from below": ((3, 4, 5), "3 loops are held from below by the strand alone"),
    "strands": ((0, 6), "strand 'main' is in 2 pieces"),
    "order": ((4,), "1 loop is drawn through what was made later"),
    "connected": ((0, 2), "the fabric is in 2 pieces"),
    "grafts": ((12, 13, 14, 15), "4 grafted loops don't alternate between the two sides"),
    "counts, without its end": ((), "the steps make loops 0 to 4 of 12"),
    "stitches": ((5,), "a stitch (k2tog) is drawn through another number of loops"),
    "stitches, to the back": ((5,), "a stitch (k) is drawn to the other side"),
    "stitches, by their lean": ((8,), "a stitch (k2tog) is drawn through its loops in another"),
    "stitches, of one alone": ((5,), "a stitch (k) is drawn through its loops in another order"),
    "stitches, facing": ((9,), "a stitch (bo) is drawn through its loops in another order"),
    "stitches, picked up": ((10,), "a stitch (k) is marked as picked up"),
    "stitches, of several": ((5,), "a stitch (kfb) is drawn through another number of loops"),
    "stitches, of a crossing": ((8, 9, 10), "3 stitches (1/2lc...) are of a crossing that is not"),
    "stitches, of a strand": ((5,), "a stitch (m1l) is made of a strand that was not lifted"),
    "marks": ((6,), "a loop is turned after, or not, against the way that the yarn goes on"),
    "marks, of the end": ((5,), "a loop is drawn up, and secured already"),
    "courses": ((5, 6, 9), "loop 5 stands in another course than those made before and after it"),
    "beside": ((13,), "a loop is beside itself, or beside one loop twice"),
    "beside, no float": ((8,), "a loop is left by a float that passes no loop"),
    "beside, a float": ((14,), "a loop is reached by a yarn that passed a loop and is no float"),
    "wraps": ((9,), "wraps still wait to be worked in a finished piece"),
    "waste": ((8, 9), "2 loops of waste yarn left in"),
    "floats": ((48, 49), "the yarn passes 7 stitches, more than 5"),
    "slits": ((3, 2, 4, 5), "two yarns meet in 2 rows and neither passes the other"),
    "tails": ((0, 11), "strand 'main' has tails that are not woven in"),
}


@pytest.mark.parametrize("name", NAMED)
def test_what_is_wrong_is_named_where_it_is(name: str) -> None:
    loops, problem = NAMED[name]
    one = found(BREAKERS[name][0](), name.split(",")[0])[0]
    assert one.loops == loops
    assert one.problem.startswith(problem)
    assert one.is_mistake is (one.kind not in ("floats", "slits", "tails"))


def test_a_step_that_is_miscounted_is_told_with_its_numbers() -> None:
    """Of two rounds of 6, the second step, which is written down as having made 5."""
    told = [one.problem for one in found(BREAKERS["counts"][0](), "counts")]
    assert told == [
        "step 1: 6 - 12 + 5 is not 6",
        "step 1 says 12 taken and 5 made; the fabric shows 12 and 12",
    ]


def test_of_steps_that_are_miscounted_the_first_is_told() -> None:
    """Four rounds of six, each written down as a step that made five."""
    work = tube(6, 1)
    for _ in range(4):
        work.round(["k"] * 6)
    fabric = work.fabric()
    ledger = np.array(fabric.ledger)
    ledger[1:, 4] = 5
    told = [one.problem for one in found(attrs.evolve(fabric, ledger=ledger), "counts")]
    assert [one.partition(":")[0][:11] for one in told] == ["step 1", "step 1 says"]
    ledger[1:, 4:] = 6, 7
    told = [one.problem for one in found(attrs.evolve(fabric, ledger=ledger), "counts")]
    assert [one for one in told if "begins with" in one] == [
        "step 2 begins with 6 live loops and the one before ended with 7"
    ]


@pytest.mark.parametrize("strand", [(0, 1), (1, 2)])
def test_a_lifted_strand_is_in_the_course_that_it_runs_in(strand: tuple[int, int]) -> None:
    work = Work()
    cast_on(work, 3)
    work.turn()
    work.work(["k"] * (2 - strand[0]))
    lifted = lift_strand(work, strand)
    fabric = work.fabric()
    course = np.array(fabric.course)
    course[lifted] += 1
    assert not found(fabric, "courses")
    (one,) = found(attrs.evolve(fabric, course=course), "courses")
    assert lifted in one.loops


def test_a_loop_that_stands_apart_is_named_once() -> None:
    apart = found(BREAKERS["beside, no float"][0](), "beside")[1]
    assert (apart.loops, apart.is_mistake) == ((8,), False)


def slips() -> Work:
    work = tube(6, 1)
    work.round(["k", "k", "sl", "k", "slf", "k"])
    work.plain_rounds(1)
    return work


def shaped() -> Work:
    work = tube(6, 1)
    work.round(["k2tog", "yo", "ssk", "kfb", "k"])
    work.round(["k", "m1l", "k", "p", "p2tog", "k"])
    return work


def crossed() -> Work:
    work = tube(5, 1)
    work.round(["1/2lc", "1/1rpc"])
    work.plain_rounds(1)
    return work


def wrapped() -> Work:
    work = tube(4, 1)
    work.work(["k"] * 3)
    work.wrap()
    work.turn()
    work.work(["p"] * 2)
    work.turn()
    work.work(["k"] * 3, with_wraps=True)
    return work


def two_needles() -> Work:
    work = tube(4, 1)
    three_needle_bind_off(work)
    return work


def stretchy() -> Work:
    work = flat(3, 1)
    bind_off(work, how="stretchy")
    return work


SEEN = {
    "flags": (LEFT_FLANK, TURNED, FLOAT_FRONT, FASTENED),
    "info": (1, 2, BACK, EDGE, CHAIN, FACING, CROSSED),
}


def is_meant(fabric: Fabric, name: str, place: int, bit: int) -> bool:
    """Whether nothing tells a fault from what a knitter may mean."""
    flags, last = int(fabric.flags[place]) if name == "flags" else 0, bool(fabric.next[place] < 0)
    if name == "flags" and (flags & FLOAT or last):  # it passed in front, or the work was turned
        return bit in (TURNED, FLOAT_FRONT)
    if name == "info":  # both faces of an edge that is closed look alike; a wrap lies below all
        ends = (int(fabric.child[place]), int(fabric.parent[place]))
        above, below = (fabric.stitch_of(end).key for end in ends)
        return (bit == BACK and above == "bo") or (bit == 2 and below == "wrap")
    return False


@pytest.mark.parametrize("made", [slips, shaped, crossed, wrapped, two_needles, stretchy])
def test_one_bit_that_is_wrong_is_seen_and_told_nearby(made: Callable[[], Work]) -> None:
    """Every bit of every loop and edge of small pieces, one at a time."""
    fabric = made().fabric()
    usual = {(one.problem, one.loops) for one in check(fabric).findings}
    for name, bits in SEEN.items():
        column = getattr(fabric, name)
        for place, bit in itertools.product(range(len(column)), bits):
            if is_meant(fabric, name, place, bit):
                continue
            damaged = np.array(column)
            damaged[place] ^= bit
            change: Any = {name: damaged}
            new = [
                set(one.loops)
                for one in check(attrs.evolve(fabric, **change)).findings
                if (one.problem, one.loops) not in usual
            ]
            near = {place} if name == "flags" else {fabric.child[place], fabric.parent[place]}
            near |= {int(way[loop]) for way in (fabric.next, fabric.previous) for loop in near}
            assert any(near & loops for loops in new), (name, place, bit)


def test_a_count_that_is_stated_while_some_are_held_is_no_step() -> None:
    work = tube(6, 2)
    hold(work, 2, "aside")
    work.state_count(4)
    assert not found(work.fabric(), "counts")


@pytest.mark.parametrize("many", [2, 28, 29, 30, 40])
def test_what_is_no_array_is_quoted_in_sixty_letters(many: int) -> None:
    text = "ab" * many  # quoted it has two letters more
    with pytest.raises(GraphError) as refusal:
        Fabric.from_arrays(yarn=text, through=[], face=[])
    (words,) = refusal.value.violations
    quoted = words.partition("found ")[2]
    whole = f"'{text}'"
    assert quoted == (whole if len(whole) <= 60 else f"{whole[:57]}...")


def test_edges_may_be_told_in_any_order() -> None:
    """Of a bind-off the facing stitch is taken before the loop that is passed over."""
    work = tube(6, 2)
    three_needle_bind_off(work)
    fabric = work.fabric()
    graph, told = nx.MultiDiGraph(), fabric.graph
    graph.graph |= told.graph
    graph.add_nodes_from(told.nodes(data=True))
    for a, b, key, data in reversed([*told.edges(keys=True, data=True)]):
        graph.add_edge(a, b, key, **{n: v for n, v in data.items() if n != "taken"})
    assert same_fabric(Fabric.from_graph(graph), fabric)
    assert Fabric.from_graph(graph).parent.tolist() == fabric.parent.tolist()


def test_where_sides_are_left_out_they_are_asked_for() -> None:
    """Though a turn in the midst of a round contradicts those that are given."""
    graph = tube(6, 3).fabric().graph
    graph.nodes[8]["turned"] = True
    with pytest.raises(GraphError, match="the sides or turns here contradict the rows"):
        Fabric.from_graph(graph)
    for loop in (3, 9):  # a round below says how the second lies
        del graph.nodes[loop]["side"]
    with pytest.raises(GraphError, match="tell 'side' or 'stitch' where no row") as refusal:
        Fabric.from_graph(graph)
    assert 8 in refusal.value.nodes[0]


@pytest.mark.parametrize(("makes", "faces"), [(1, ""), (1, "kk"), (1, "x"), (2, "k"), (2, "kx")])
def test_a_stitch_has_a_face_for_each_loop_that_it_makes(makes: int, faces: str) -> None:
    with pytest.raises(StitchDefinitionError, match="must give k or p for each"):
        Stitch("mine", "my own", 1, makes, (0,), faces)
    assert Stitch("mine", "my own", 1, makes, (0,), "kp"[:makes]).makes == makes


def test_a_wrap_that_is_worked_twice_is_named() -> None:
    fabric = wrapped().fabric()
    (wrap,) = np.flatnonzero(fabric.kinds(Kind.WRAP)).tolist()
    (edge,) = np.flatnonzero(fabric.parent == wrap).tolist()
    names = ("parent", "child", "info")
    columns: Any = {
        name: np.insert(getattr(fabric, name), edge, getattr(fabric, name)[edge]) for name in names
    }
    assert not found(fabric, "wraps")
    (one,) = found(attrs.evolve(fabric, **columns), "wraps")
    assert one.loops == (wrap,)


@pytest.mark.parametrize("face", ["k", "p"])
@pytest.mark.parametrize("rows", [1, 2])
def test_what_lies_like_no_stitch_is_knit_or_purl_by_its_face(face: str, rows: int) -> None:
    """Two drawn through at once, neither on top; what shows a knit was purled on the wrong side."""
    work = flat(4, rows - 1)
    work.work(["k2tog", "k", "k"])
    graph, loop = work.fabric().graph, 4 * rows
    assert len(work.fabric().parents(loop)) == 2
    for *_, child, _, data in graph.edges(keys=True, data=True):
        if child == loop and data["kind"] == "through":
            data.update(face=face, rank=0)
    del graph.nodes[loop]["stitch"]
    fabric = Fabric.from_graph(graph)
    knitted = (face == "k") == (fabric.side[loop] > 0)
    assert fabric.stitch_of(loop).key == ("k" if knitted else "p")
