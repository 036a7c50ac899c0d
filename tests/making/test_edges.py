"""Edges to pick up from, and strands that may be lifted."""

from __future__ import annotations

from copy import deepcopy

import pytest

from fabric.pieces import flat, short_rows, tube
from loopwright.errors import CannotWorkError
from loopwright.fabric import Fabric
from loopwright.making import (
    Hand,
    Work,
    corner_strands,
    edge_loops,
    graft,
    hold,
    lift_strand,
    pick_up,
    provisional_cast_on,
    return_held,
    take_out,
    waste_row,
)
from together import together


def edges(work: Work) -> dict[str, list[int]]:
    last = work.course
    return {e: edge_loops(work, e, first_course=0, last_course=last) for e in ("left", "right")}


def foot(fabric: Fabric, loop: int) -> int:
    """The stitch of the cast-on from which a loop's wale grew; wraps lie undermost, and last."""
    while len(parents := fabric.parents(loop)):
        loop = int(min(parents))
    return loop


@together("hand", Hand)
@together("how", ["plain", "wrap", "double"])
def test_turns_of_short_rows_are_no_edge(how: str, hand: Hand) -> None:
    """Where rows end, only the first and last wale of the piece stand at the edge."""
    work = short_rows(how, hand)
    work.turn()
    work.row(["p" if not work.right_side_facing else "k"] * work.count)
    near, far = ("right", "left") if hand is Hand.RIGHT else ("left", "right")
    found, fabric = edges(work), work.fabric()
    assert [foot(fabric, loop) for loop in found[near]] == [0] * len(found[near])
    assert [foot(fabric, loop) for loop in found[far]] == [15] * len(found[far])
    assert (len(found[near]), len(found[far])) == (3 if how == "double" else 5, 2)
    for along in (found[near], found[far][::-1]):  # the far edge downwards, the near edge upwards
        again = deepcopy(work)
        if again.right_side_facing is not True:
            again.turn()
        pick_up(again, along)


def test_a_slit_has_edges() -> None:
    """Rows that turn at the same stitch leave an edge there, as those of a heel flap do."""
    work = tube(12, 3)
    work.work(["k"] * 6)
    hold(work, 6, "instep")
    work.to_rows()
    work.turn()
    for _ in range(2):
        work.row(["p"] * 6)
        work.row(["k"] * 6)
    assert [len(loops) for loops in edges(work).values()] == [
        4,
        3,
    ]  # the last row's two ends are live


def test_waste_yarn_is_not_lifted() -> None:
    work = tube(8, 2)
    waste_row(work, 4)
    work.plain_rounds(1)
    waste = [n for n, strand in enumerate(work.strands) if strand.role == "waste"]
    loops = [n for n, s in enumerate(work.columns.loops.strand[: work.columns.loops.size].tolist())
             if s in waste]  # fmt: skip
    before = work.fabric()
    with pytest.raises(CannotWorkError, match="waste yarn") as refusal:
        lift_strand(work, (loops[0], loops[1]))
    assert refusal.value.advice
    assert work.fabric() == before
    first = int(work.live[0])
    with pytest.raises(CannotWorkError, match="would cross"):
        lift_strand(work, (0, 1))  # far below the needles
    assert work.fabric() == before
    lift_strand(work, (int(before.previous[first]), first))


@together("hand", Hand)
def test_a_strand_in_the_midst_of_a_row_is_found(hand: Hand) -> None:
    """Two stitches are slipped: the strand runs from the third to the second, in the row below."""
    work = flat(6, 3, hand=hand)
    work.work(["sl", "sl"])
    behind, ahead = (int(loop) for loop in work.live[1:3])
    (best, *others) = corner_strands(work)
    assert (best.strand, others) == ((ahead, behind), [])


def test_no_strand_of_waste_yarn_taken_out_is_lifted() -> None:
    work = Work()
    provisional_cast_on(work, 4)
    work.turn()
    work.row(["p"] * 4)
    take_out(work, "waste")
    with pytest.raises(CannotWorkError, match="no strand runs"):
        lift_strand(work, (0, 1))


def test_no_strand_of_waste_yarn_is_offered_at_a_corner() -> None:
    """The instep is back on the needle, and the waste yarn still in: only its own yarn is there."""
    work = tube(12, 3)
    work.work(["k"] * 6)
    hold(work, 6, "instep")
    provisional_cast_on(work, 6)
    work.plain_rounds(2)
    graft(work)
    work.join_yarn("foot")
    return_held(work, "instep")
    work.work(["k"] * 6)
    waste = {n for n, strand in enumerate(work.strands) if strand.role == "waste"}
    for strand in corner_strands(work):
        assert not {int(work.columns.loops.strand[loop]) for loop in strand.strand} & waste
