"""Each check: its breaker (the smallest fabric that fails it alone), and its plain statement.

The statements are written with networkx on the graph's own edges, as one would say them aloud;
they are what the column code must agree with, on sound fabrics and on damaged ones.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import attrs
import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fabric.pieces import flat
from loopwright.errors import UnsoundFabricError
from loopwright.fabric import CHECKS, Fabric, Kind, Limits, Report, check
from loopwright.fabric.columns import (
    BACK,
    CROSSED,
    DRAWN,
    EDGE,
    FACING,
    FASTENED,
    FLOAT,
    LEFT_FLANK,
    TURNED,
)
from loopwright.making import (
    Hand,
    Work,
    bind_off,
    cast_on,
    draw_up,
    graft,
    hold,
    pick_up,
    provisional_cast_on,
    recapture,
    return_held,
    selvedge,
    take_out,
    three_needle_bind_off,
    waste_row,
    weave_in,
)
from together import together


def tube(count: int = 6, rounds: int = 2) -> Work:
    work = Work()
    cast_on(work, count)
    work.join_round()
    work.plain_rounds(rounds)
    return work


def closed(count: int = 6) -> Fabric:
    work = tube(count)
    graft(work)
    weave_in(work)
    return work.fabric()


def changed(fabric: Fabric, **columns: Any) -> Fabric:
    """The fabric with some columns damaged: an array, or (place, value)."""
    new: dict[str, Any] = {}
    for name, change in columns.items():
        if isinstance(change, tuple):
            column = np.array(getattr(fabric, name))
            column[change[0]] = change[1]
            new[name] = column
        else:
            new[name] = change
    return attrs.evolve(fabric, **new)


def without_edge(fabric: Fabric, edge: int) -> Fabric:
    kept = np.arange(len(fabric.parent)) != edge
    return changed(
        fabric, parent=fabric.parent[kept], child=fabric.child[kept], info=fabric.info[kept]
    )


def kinds(report: Report) -> set[str]:
    return {finding.kind for finding in report.findings}


def miscounted() -> Fabric:
    fabric = tube().fabric()
    return changed(fabric, ledger=((-1, 4), 5))


def dropped() -> Fabric:
    """The last stitch of a two-stitch row slides off; its own count is kept honest."""
    fabric = tube(3, 1).fabric()
    needles = {name: ids[:-1] for name, ids in fabric.needles.items()}
    ledger = np.vstack((fabric.ledger, [3, len(fabric), 3, 1, 0, 2]))
    return changed(fabric, needles=needles, ledger=ledger)


def hanging() -> Fabric:
    """Waste yarn taken out below a row, and its strands not recaptured."""
    work = Work()
    provisional_cast_on(work, 3)
    work.turn()
    work.row(["p"] * 3)
    take_out(work, "waste")
    return work.fabric()


def cut_through() -> Fabric:
    """A strand cut in the midst: the rows still hang together by their loops."""
    fabric = tube(4, 2).fabric()
    return changed(fabric, next=(5, -1))


def spliced() -> Fabric:
    fabric = tube(4, 2).fabric()
    return changed(fabric, next=(11, 0))


def too_early() -> Fabric:
    """A loop drawn through one that is made after it, and that one through the first again."""
    fabric = tube(4, 2).fabric()
    return changed(fabric, parent=(0, 9))


def two_pieces() -> Fabric:
    work = Work()
    cast_on(work, 2)
    work.join_yarn("other")
    cast_on(work, 2)
    fabric = work.fabric()
    return changed(fabric, right=[], left=[])


def crossed() -> Fabric:
    """Two loops of a round drawn through each other's loops."""
    fabric = tube(6, 2).fabric()
    parent = np.array(fabric.parent)
    parent[[7, 8]] = parent[[8, 7]]
    return changed(fabric, parent=parent)


def crossed_the_other_way() -> Fabric:
    """A crossing called left whose front stitches go right."""
    work = tube(4, 1)
    work.round(["1/2lc", "k"])
    fabric = work.fabric()
    edges = (fabric.info & CROSSED) != 0
    return changed(fabric, info=np.where(edges, fabric.info ^ 1, fabric.info))


def half_off() -> Fabric:
    """A graft whose last loop lies on the flank of the one before."""
    fabric = closed(4)
    return changed(fabric, flags=(-1, int(fabric.flags[-1]) ^ LEFT_FLANK))


def left_in() -> Fabric:
    work = tube(4, 1)
    waste_row(work, 2)
    work.plain_rounds(1)
    graft(work)
    weave_in(work)
    return work.fabric()


def holey() -> Fabric:
    """A corner as an opened heel leaves it."""
    work = tube(8, 2)
    hold(work, 4, "instep")
    provisional_cast_on(work, 4)
    work.work(["k"] * 4)
    work.plain_rounds(1)
    graft(work)
    work.join_yarn("foot")
    return_held(work, "instep")
    recapture(work, "waste")
    work.plain_rounds(2)
    graft(work)
    weave_in(work)
    return work.fabric()


def floating() -> Fabric:
    work = tube(24, 1)
    work.round(["k", *["sl"] * 7, *["k"] * 16])
    work.plain_rounds(1)
    graft(work)
    weave_in(work)
    return work.fabric()


def untidy() -> Fabric:
    work = tube(4, 1)
    graft(work)
    return work.fabric()


def kept_apart() -> Fabric:
    """Two stitches, a yarn each, for two rows: as small as a slit gets."""
    work = Work()
    cast_on(work, 2)
    other = "other"
    for row in range(2):
        work.turn()
        first, then = ("main", other) if row == 0 else (other, "main")
        work.change_to(first)
        work.work(["p" if row == 0 else "k"])
        if row == 0:
            work.join_yarn(other)
        else:
            work.change_to(then)
        work.work(["p" if row == 0 else "k"])
    return work.fabric()


def called_otherwise() -> Fabric:
    """A knit stitch that is called a decrease of two."""
    fabric = tube(4, 2).fabric()
    return changed(fabric, stitch=(5, fabric.stitches.code("k2tog")))


def purled() -> Fabric:
    """A knit stitch drawn to the back."""
    return changed(tube(4, 2).fabric(), info=(1, BACK))


def leaning() -> Fabric:
    """A decrease whose loops lie the other way round upon each other."""
    work = tube(4, 1)
    work.round(["k2tog", "k", "k"])
    return changed(work.fabric(), info=([4, 5], [0, 1]))


def under_nothing() -> Fabric:
    """A plain stitch that is said to lie below another parent; it has one."""
    return changed(tube(4, 2).fabric(), info=(1, 1))


def facing_on_top() -> Fabric:
    """The facing stitch of a bind-off from two needles, said to lie on top of the near one."""
    work = tube(4, 1)
    three_needle_bind_off(work)
    weave_in(work)
    fabric = work.fabric()
    edge = int(np.flatnonzero(fabric.info & FACING)[-1])
    return changed(fabric, info=(edge, FACING))


def not_picked_up() -> Fabric:
    fabric = tube(4, 2).fabric()
    return changed(fabric, info=(6, EDGE))


def half_an_increase() -> Fabric:
    """One stitch of which two are said to come."""
    fabric = tube(4, 2).fabric()
    return changed(fabric, stitch=(5, fabric.stitches.code("kfb")))


def made_of_nothing() -> Fabric:
    """A make-one drawn through a stitch, and not through a strand."""
    fabric = tube(4, 2).fabric()
    return changed(fabric, stitch=(5, fabric.stitches.code("m1l")))


def turned_in_a_round() -> Fabric:
    return changed(tube(4, 2).fabric(), flags=(6, TURNED))


def drawn_up_below() -> Fabric:
    return changed(tube(4, 2).fabric(), flags=(5, DRAWN))


def misnumbered() -> Fabric:
    return changed(tube(4, 2).fabric(), course=(5, 99))


def beside_twice() -> Fabric:
    """A slipped stitch stands beside its neighbour twice."""
    fabric = slipped().fabric()
    return changed(fabric, right=[*fabric.right, fabric.right[0]],
                   left=[*fabric.left, fabric.left[0]])  # fmt: skip


def slipped() -> Work:
    work = tube(6, 1)
    work.round(["k", "k", "sl", "k", "k", "k"])
    work.plain_rounds(1)
    return work


def a_float_that_passes_nothing() -> Fabric:
    return changed(tube(6, 2).fabric(), flags=(8, FLOAT))


def a_float_that_is_none() -> Fabric:
    fabric = slipped().fabric()
    loop = int(np.flatnonzero(fabric.flags & FLOAT)[0])
    return changed(fabric, flags=(loop, 0))


def waiting() -> Fabric:
    """A wrap that waits in a finished piece."""
    work = tube(4, 1)
    work.work(["k"])
    work.wrap()
    work.turn()
    work.work(["p"])
    wrap = int(np.flatnonzero(work.fabric().kinds(Kind.WRAP))[0])
    bind_off(work)
    weave_in(work)
    return attrs.evolve(work.fabric(), wraps={"wrap": [wrap], "stitch": [1]})


def waiting_in_the_midst(*, wrap: int | None = None, stitch: int | None = None) -> Fabric:
    """A wrap that waits as it should, but for what is said of it."""
    work = tube(4, 1)
    work.work(["k"])
    work.wrap()
    work.turn()
    fabric = work.fabric()
    ids = {name: [int(one) for one in column] for name, column in fabric.wraps.items()}
    told = {"wrap": wrap, "stitch": stitch}
    return attrs.evolve(fabric, wraps={n: ids[n] if told[n] is None else [told[n]] for n in ids})


def unended() -> Fabric:
    """Its last step is missing from the ledger."""
    fabric = tube(4, 2).fabric()
    return changed(fabric, ledger=fabric.ledger[:-1])


BREAKERS: dict[str, tuple[Callable[[], Fabric], set[str]]] = {
    "counts": (miscounted, {"counts"}),
    "secured": (dropped, {"secured"}),
    "secured, from below": (hanging, {"secured"}),
    "strands": (cut_through, {"strands", "beside"}),
    # A ring of yarn, or loops made before their parents, lie on no surface either.
    "strands, in a ring": (spliced, {"strands", "surface"}),
    "order": (too_early, {"order", "counts", "secured", "surface", "courses"}),
    "connected": (two_pieces, {"connected"}),
    # Edges that cross leave cells that go astray: large ones, among them gaps.
    "surface": (crossed, {"surface", "gaps"}),
    "grafts": (half_off, {"grafts", "surface"}),
    "counts, without its end": (unended, {"counts"}),
    "stitches": (called_otherwise, {"stitches"}),
    "stitches, to the back": (purled, {"stitches"}),
    "stitches, by their lean": (leaning, {"stitches"}),
    # An edge picked up, a turn and a yarn that is no float stand elsewhere round their loops.
    "stitches, of one alone": (under_nothing, {"stitches"}),
    "stitches, facing": (facing_on_top, {"stitches"}),
    "stitches, picked up": (not_picked_up, {"stitches", "surface", "gaps"}),
    "stitches, of several": (half_an_increase, {"stitches"}),
    "stitches, of a crossing": (crossed_the_other_way, {"stitches"}),
    "stitches, of a strand": (made_of_nothing, {"stitches"}),
    "marks": (turned_in_a_round, {"marks", "surface", "gaps"}),
    "marks, of the end": (drawn_up_below, {"marks"}),
    "courses": (misnumbered, {"courses"}),
    "beside": (beside_twice, {"beside"}),
    "beside, no float": (a_float_that_passes_nothing, {"beside"}),
    "beside, a float": (a_float_that_is_none, {"beside", "surface", "gaps"}),
    "wraps": (waiting, {"wraps", "gaps"}),  # a turn whose wrap is not worked leaves a hole
    "waste": (left_in, {"waste"}),
    "gaps": (holey, {"gaps"}),
    "floats": (floating, {"floats"}),
    "slits": (kept_apart, {"slits"}),
    "tails": (untidy, {"tails"}),
}


def test_a_wrap_waits_beside_what_is_live() -> None:
    assert "wraps" not in kinds(check(waiting_in_the_midst()))
    gone, live = 1, int(waiting_in_the_midst().live[0])
    for fabric in (waiting_in_the_midst(stitch=gone), waiting_in_the_midst(wrap=live)):
        assert "wraps" in kinds(check(fabric))


def test_every_loop_that_hangs_by_its_strand_is_named() -> None:
    """All three of the row, the first and those behind others."""
    (found,) = [one for one in check(hanging()).mistakes if one.kind == "secured"]
    assert len(found.loops) == 3


@together("name", BREAKERS)
def test_each_check_has_a_breaker(name: str) -> None:
    breaker, expected = BREAKERS[name]
    report = check(breaker())
    found = kinds(report)
    assert name.split(",")[0] in found
    assert found <= expected, report
    assert report.ok == (name in ("gaps", "floats", "slits", "tails"))
    for finding in report.findings:
        assert finding.place
        assert finding.advice
        assert finding.problem in str(report)
        assert finding.kind in report._repr_html_()


def test_a_loop_beside_itself_is_told_once() -> None:
    report = check(attrs.evolve(tube().fabric(), right=[9], left=[9]))
    assert [(one.kind, "beside itself" in one.problem) for one in report.findings
            if one.kind == "beside"] == [("beside", True)]  # fmt: skip


def test_two_grafted_loops_through_one_are_told() -> None:
    fabric = closed()
    grafted = np.flatnonzero(fabric.kinds(Kind.GRAFTED)[fabric.child])
    shared = int(fabric.parent[grafted[0]])
    report = check(changed(fabric, parent=(int(grafted[1]), shared)))
    (told,) = [one for one in report.mistakes if one.kind == "grafts"]
    assert tuple(told.loops) == (shared,)


def test_every_check_is_broken_once() -> None:
    names = {one.__name__.removeprefix("check_") for one in CHECKS}
    assert names == {name.split(",")[0] for name in BREAKERS}


def test_sound_fabrics_pass_every_check() -> None:
    work = tube(4, 2)
    bind_off(work)
    weave_in(work)
    for fabric in (tube().fabric(), closed(), work.fabric(), Work().fabric()):
        report = check(fabric)
        assert report.findings == ()
        assert "every check passed" in str(report)
        assert "every check passed" in report._repr_html_()
        report.require_ok()


def test_floats_alone_join_a_piece_of_yarn_and_no_surface() -> None:
    """Two loops with a float between them lie on two surfaces of one loop each."""
    work = tube(4, 0)
    floating_only = changed(work.fabric(), flags=(1, FLOAT))
    assert check(floating_only).ok
    assert floating_only.euler_characteristic == 4
    assert len(set(floating_only.pieces.tolist())) == 1


def test_openings_are_counted_where_a_number_is_expected() -> None:
    assert check(closed(), openings=1).ok
    report = check(tube().fabric(), openings=1)
    assert [finding.kind for finding in report.mistakes] == ["surface"]
    assert "found 2 openings (of 7, 7 edges), expected 1" in str(report)
    assert report.mistakes[0].advice == "close what should be closed"
    (too_few,) = check(closed(), openings=2).mistakes
    assert too_few.advice.startswith("leave open what should be")


def test_of_too_many_openings_the_smallest_is_shown() -> None:
    """It is a hole sooner than the top of a sock is: here at the foot of a thumb."""
    work = tube()
    hold(work, 3, "thumb")
    cast_on(work, 1)
    work.round(["k"] * work.left)
    bind_off(work)
    return_held(work, "thumb")
    work.join_yarn("thumb")
    work.work(["k"] * 3)
    pick_up(work, selvedge(work))
    bind_off(work)
    fabric = work.fabric()
    (found,) = (one for one in check(fabric, openings=3).mistakes if one.kind == "surface")
    assert len(found.loops) == min(cell.size for cell in fabric.openings) < len(fabric.live) + 7


def test_mistakes_can_be_raised() -> None:
    with pytest.raises(UnsoundFabricError) as refusal:
        check(crossed()).require_ok()
    assert len(refusal.value.mistakes) == 1
    assert "edges cross" in str(refusal.value)


def test_gaps_and_floats_are_told_in_millimetres() -> None:
    limits = Limits(stitch_mm=3.0, course_mm=2.0)
    assert "mm round" in str(check(holey(), limits=limits))
    along = Limits(stitch_mm=1.0, course_mm=10.0)  # of 7 edges, 3 or 4 run along the yarn
    told = [str(one) for one in check(holey(), limits=along).findings if one.kind == "gaps"]
    assert ["43 mm round" in told[0], "34 mm round" in told[1]] == [True, True]
    assert "(21 mm)" in str(check(floating(), limits=limits))


@together("hand", Hand)
@together("turned", [False, True])
@together(("slipped", "found"), [(5, []), (6, [6]), (7, [7]), (10, [10])])
def test_a_float_is_as_long_as_the_way_the_yarn_went(
    slipped: int, found: list[int], turned: bool, hand: Hand
) -> None:
    """Of 12 stitches 7 are passed, though the yarn's ends are nearer the other way round."""
    work = Work(hand=hand)
    cast_on(work, 12)
    work.join_round()
    work.plain_rounds(1)
    if turned:
        work.turn()
    work.round(["k", *["sl"] * slipped, *["k"] * (11 - slipped)])
    work.plain_rounds(2)
    limits = Limits(stitch_mm=1.0)
    floats = [one for one in check(work.fabric(), limits=limits).findings if one.kind == "floats"]
    assert [f"({passed} mm)" in str(one) for passed, one in zip(found, floats, strict=True)] == (
        [True] * len(found)
    )


def two_colours(count: int, rounds: int) -> Work:
    work = tube(count, 1)
    work.join_yarn("other")
    work.plain_rounds(rounds)
    work.change_to("main")
    return work


def floats_in(work: Work) -> list[str]:
    found = check(work.fabric(), limits=Limits(stitch_mm=1.0)).findings
    return [finding.problem for finding in found if finding.kind == "floats"]


@pytest.mark.parametrize("rounds", [1, 2, 4])
def test_a_yarn_carried_up_the_stripes_passes_no_stitches(rounds: int) -> None:
    work = two_colours(12, rounds)
    work.plain_rounds(2)
    work.change_to("other")
    work.plain_rounds(1)
    assert floats_in(work) == []


def test_a_yarn_carried_behind_the_other_passes_its_stitches() -> None:
    """Of 12 stitches 8 in the other colour: as long one way and the other as it was knitted."""
    work = tube(12, 1)
    work.work(["k"] * 2)
    work.join_yarn("other")
    work.work(["k"] * 8)
    work.change_to("main")
    work.work(["k"] * 2)
    work.plain_rounds(1)
    assert floats_in(work) == ["the yarn passes 8 stitches (8 mm), more than 5"]


def test_a_yarn_carried_back_takes_the_shorter_way() -> None:
    """A spot of 3 on 24: from its end, back to where it begins a round later."""
    work = tube(24, 1)
    work.join_yarn("spot")
    for _ in range(3):
        work.change_to("spot")
        work.work(["k"] * 3)
        work.change_to("main")
        work.work(["k"] * 21)
    work.plain_rounds(1)
    assert floats_in(work) == []


def test_one_loop_is_told_in_the_singular() -> None:
    problems = [finding.problem for finding in check(dropped()).findings]
    assert problems == ["1 loop is loose: nothing is drawn through, nothing carries"]
    assert str(tube(1, 0).fabric()) == "Fabric of 1 loop, 1 live; strands: main"


def test_a_gap_says_which_strand_closes_it() -> None:
    gaps = [finding for finding in check(holey()).findings if finding.kind == "gaps"]
    assert len(gaps) == 2
    assert all("lift the strand between loops" in gap.advice for gap in gaps)


# Plain statements -------------------------------------------------------------------------------


def said(fabric: Fabric) -> dict[str, bool]:
    """What the checks state, each as one line of networkx on the fabric's graph."""
    graph = fabric.graph
    through = nx.DiGraph(
        [(a, b) for a, b, key in graph.edges(keys=True) if key == "through"]
    )  # fmt: skip
    yarn = nx.DiGraph([(a, b) for a, b, key in graph.edges(keys=True) if key == "yarn"])
    yarn.add_nodes_from(graph)
    live = {loop for loop, carried in graph.nodes(data="held") if carried}
    held_by_itself = {
        loop
        for loop, stitch in graph.nodes(data="stitch")
        if stitch in ("graft", "wrap", "ds") or fabric.flags[loop] & (FASTENED | DRAWN)
    }
    loose = {
        loop
        for loop in graph
        if loop not in live | held_by_itself
        and (loop not in through or not through.out_degree(loop))
    }
    of_strand: dict[str, int] = {}
    for piece in nx.weakly_connected_components(yarn):
        name = graph.nodes[min(piece)]["strand"]
        of_strand[name] = of_strand.get(name, 0) + 1
    return {
        "secured": not loose,
        "strands": all(count == 1 for count in of_strand.values())
        and nx.is_directed_acyclic_graph(yarn)
        and all(yarn.in_degree(loop) <= 1 and yarn.out_degree(loop) <= 1 for loop in yarn),
        "order": nx.is_directed_acyclic_graph(through) and all(a < b for a, b in through.edges),
        "connected": not len(graph) or nx.is_weakly_connected(graph),
    }


def checked(fabric: Fabric) -> dict[str, bool]:
    found = kinds(check(fabric))
    return {name: name not in found for name in ("secured", "strands", "order", "connected")}


@st.composite
def damaged(draw: st.DrawFn) -> Fabric:
    """A small tube, closed or not, with up to two places damaged."""
    count = draw(st.sampled_from([4, 6, 8]))
    work = tube(count, draw(st.integers(1, 3)))
    match draw(st.sampled_from(["live", "grafted", "bound off", "drawn up"])):
        case "grafted":
            graft(work)
        case "bound off":
            bind_off(work)
        case "drawn up":
            draw_up(work)
    fabric = work.fabric()
    loops, edges = len(fabric), len(fabric.parent)
    for _ in range(draw(st.integers(0, 2))):
        loop, edge = draw(st.integers(0, loops - 1)), draw(st.integers(0, len(fabric.parent) - 1))
        match draw(st.sampled_from(["cut", "re-parent", "drop", "lose"])):
            case "cut":
                fabric = changed(fabric, next=(loop, -1))
            case "re-parent":
                fabric = changed(fabric, parent=(edge, loop))
            case "drop" if edges > 1:
                fabric = without_edge(fabric, edge)
            case "lose":
                kept = {n: ids[ids != loop] for n, ids in fabric.needles.items()}
                fabric = changed(fabric, needles=kept)
    return fabric


@given(damaged())
@settings(max_examples=100, deadline=None)
def test_columns_and_plain_statements_agree(fabric: Fabric) -> None:
    mine, plain = checked(fabric), said(fabric)
    # A loop through nothing is loose from below; the plain statement looks from above only.
    if plain["secured"] and not mine["secured"]:
        assert any("by the strand alone" in str(finding) for finding in check(fabric).findings)
        plain["secured"] = False
    assert mine == plain


@given(st.data())
@settings(max_examples=100, deadline=None)
def test_no_damage_goes_unseen(data: st.DataObject) -> None:
    """One edge dropped, moved or crossed, one strand cut, one loop off the needle."""
    fabric = data.draw(st.sampled_from(SOUND))()
    loops, edges = len(fabric), len(fabric.parent)
    edge = data.draw(st.integers(0, edges - 1))
    match data.draw(st.sampled_from(["drop", "re-parent", "cut", "swap"])):
        case "drop":
            worse = without_edge(fabric, edge)
        case "re-parent":
            other = data.draw(
                st.integers(0, loops - 1).filter(lambda loop: loop != fabric.parent[edge])
            )
            worse = changed(fabric, parent=(edge, other))
        case "cut":
            loop = data.draw(
                st.integers(0, loops - 1).filter(lambda loop: bool(fabric.next[loop] >= 0))
            )
            worse = changed(fabric, next=(loop, -1))
        case _:
            apart = [
                other for other in range(edges)
                if fabric.parent[other] != fabric.parent[edge]
                and fabric.child[other] != fabric.child[edge]
            ]  # fmt: skip
            other = data.draw(st.sampled_from(apart))
            parent = np.array(fabric.parent)
            parent[[edge, other]] = parent[[other, edge]]
            worse = changed(fabric, parent=parent)
    assert not check(worse).ok


SOUND: list[Callable[[], Fabric]] = [lambda: tube(5, 3).fabric(), closed, holey]


def test_a_yarn_may_pass_stitches_that_another_cast_on() -> None:
    """Two stitches of a second yarn stand between two that stood next to each other."""
    work = Work()
    cast_on(work, 4)
    work.turn()
    work.work(["k", "k"])
    hold(work, 2, "end")
    work.join_yarn("grey")
    cast_on(work, 2)
    work.change_to("main")
    return_held(work, "end")
    work.work(["k", "k"])
    fabric = work.fabric()
    assert np.count_nonzero(fabric.flags & FLOAT) == 1
    assert not [found for found in check(fabric).mistakes if found.kind == "beside"]


def test_no_slit_opens_beside_stitches_that_a_yarn_floats_behind() -> None:
    """Two rows of one yarn, two of the other, one of the first: its floats hold both borders."""
    work = Work()
    cast_on(work, 4)
    work.turn()
    for key, join in (("p", work.join_yarn), ("k", work.change_to)):
        work.work([key])
        join("other")
        work.work([key] * 2)
        work.change_to("main")
        work.work([key])
        work.turn()
    assert "slits" not in kinds(check(work.fabric()))


def test_two_strands_that_lead_to_one_loop_are_told_so() -> None:
    """Loop 5 leads to loop 6 already."""
    forked = changed(tube(4, 2).fabric(), next=(2, 6))
    told = [one for one in check(forked).mistakes if "two loops lead on" in one.problem]
    assert [list(one.loops) for one in told] == [[6]]


def test_a_beside_edge_that_is_there_twice_is_named_by_its_loop() -> None:
    fabric = beside_twice()
    pairs = list(zip(fabric.right.tolist(), fabric.left.tolist(), strict=True))
    (twice,) = {right for right, left in pairs if pairs.count((right, left)) > 1}
    told = [one.loops for one in check(fabric).mistakes if one.kind == "beside"]
    assert any(twice in loops for loops in told)
    assert all(0 not in loops for loops in told)


def test_stitches_beside_a_slipped_one_that_nothing_joins_to_it_are_seen() -> None:
    none: list[int] = []
    assert "beside" in kinds(check(attrs.evolve(slipped().fabric(), right=none, left=none)))


@together("loop", [7, 8, 9, 13, 14, 20])
def test_loops_above_neighbours_that_no_yarn_joins_are_told(loop: int) -> None:
    """Three rows of six: the yarn is cut after a loop, in a row that goes on above the next."""
    fabric = flat(6, 3).fabric()
    cut = fabric.next.copy()
    cut[loop] = -1
    found = [one for one in check(attrs.evolve(fabric, next=cut)).findings if one.kind == "beside"]
    assert [one.loops for one in found] == [(loop + 1,)]
    assert not [one for one in check(fabric).findings if one.kind == "beside"]
