"""Smallest cases that once gave a fabric whose edges crossed; each was found by drawing at random.

What is right in each follows from V - E + C = 2 for a piece (Euler), asked with networkx.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from loopwright.errors import CannotWorkError
from loopwright.fabric import check, same_fabric
from loopwright.making import (
    Hand,
    Work,
    bind_off,
    cast_on,
    closed_cast_on,
    graft,
    hold,
    lift_strand,
    provisional_cast_on,
    recapture,
    return_held,
    waste_row,
)
from making.knitter import snapshot, sound
from together import together


def rounds(count: int, *, closed: bool = False) -> Work:
    work = Work()
    (closed_cast_on if closed else cast_on)(work, count)
    work.join_round()
    return work


def wrap_and_turn(work: Work) -> None:
    work.wrap()
    work.turn()


def double(work: Work) -> None:
    work.turn()
    work.double_stitch()


def one_strand_lifted_from_both_flanks() -> Work:
    work = rounds(6, closed=True)
    work.work(["k"] * 3)
    work.work(["k2tog", "m1l", "k2tog", "m1l"])
    return work


def the_same_in_a_written_round() -> Work:
    work = rounds(6, closed=True)
    work.round(["k", "k", "k", "k2tog", "m1l", "k2tog", "m1l", *["k"] * 5])
    return work


def a_wrapped_stitch_slipped_at_the_end_of_a_round() -> Work:
    work = rounds(6)
    wrap_and_turn(work)
    work.work(["p"] * 5)
    work.work(["sl"])
    work.round(["p"] * 6, with_wraps=True)
    return work


def a_wrapped_stitch_slipped_in_a_row() -> Work:
    work = Work()
    cast_on(work, 4)
    work.turn()
    work.work(["k", "k"])
    wrap_and_turn(work)
    work.row(["p", "p"])
    work.row(["k", "k", "sl", "k"])
    work.row(["p"] * 4, with_wraps=True)
    return work


def an_increase_at_a_toe_of_one_stitch() -> Work:
    work = rounds(1, closed=True)
    work.work(["k"])
    work.work(["k"])
    work.work(["m1l"])
    work.to_rows()
    work.turn()
    cast_on(work, 1)
    graft(work)
    return work


def an_increase_after_a_wrap() -> Work:
    work = rounds(3)
    wrap_and_turn(work)
    work.work(["sk2p"], with_wraps=True)
    return work


def two_increases_of_one_strand_from_the_wrong_side() -> Work:
    work = rounds(5, closed=True)
    work.turn()
    work.work(["k"])
    work.work(["k"])
    work.work(["k", "k", "m1l", "k", "m1l"])
    return work


def a_yarn_left_at_a_turn_and_taken_up_again() -> Work:
    work = rounds(1, closed=True)
    work.join_yarn("second")
    work.turn()
    bind_off(work, 1)
    work.change_to("main")
    bind_off(work, 1)
    return work


def a_yarn_taken_up_behind_a_stitch_slipped_with_another() -> Work:
    work = rounds(3)
    work.join_yarn("second")
    work.work(["k", "k", "sl"])
    work.change_to("main")
    work.work(["k"])
    return work


def a_yarn_taken_up_again_beyond_a_turn() -> Work:
    work = rounds(5)
    work.work(["k"])
    work.join_yarn("second")
    work.work(["k", "rdd"])
    work.turn()
    work.work(["k", "k", "sl"])
    work.change_to("main")
    work.work(["k"])
    return work


def a_new_yarn_turned_back_over_its_first_stitch() -> Work:
    work = Work()
    cast_on(work, 2)
    work.turn()
    work.work(["k"])
    work.join_yarn("second")
    work.work(["k"])
    work.turn()
    work.work(["slkf", "k"])
    return work


def a_yarn_hung_at_a_slipped_stitch_and_a_wrap() -> Work:
    work = rounds(3)
    work.work(["k", "sl"])
    hold(work, 1, "holder")
    return_held(work, "holder", next_to_work=True)
    work.work(["k"])
    double(work)
    work.work(["ptbl", "ptbl"])
    work.work(["slk", "k", "k"], with_wraps=True)
    work.work(["ptbl"] * 3, with_wraps=True)
    return work


def a_round_ended_and_turned_in_rows() -> Work:
    work = rounds(2)
    work.round(["k", "k"])
    work.to_rows()
    work.turn()
    provisional_cast_on(work, 2)
    work.turn()
    work.row(["k"] * work.left)
    return work


def the_same_with_waste_yarn_between() -> Work:
    work = rounds(1, closed=True)
    work.round(["k", "k"])
    work.to_rows()
    waste_row(work, 1)
    work.turn()
    cast_on(work, 2)
    work.join_round()
    work.work(["k2tog"])
    return work


def a_round_of_waste_yarn_wrapped() -> Work:
    work = rounds(2)
    waste_row(work, 2)
    wrap_and_turn(work)
    work.work(["k"])
    return work


def all_stitches_held_after_a_turn() -> Work:
    work = Work()
    cast_on(work, 2)
    work.turn()
    hold(work, 2, "back")
    cast_on(work, 1)
    return_held(work, "back")
    work.work(["p", "p"])
    return work


CASES = (
    one_strand_lifted_from_both_flanks,
    the_same_in_a_written_round,
    a_wrapped_stitch_slipped_at_the_end_of_a_round,
    a_wrapped_stitch_slipped_in_a_row,
    an_increase_at_a_toe_of_one_stitch,
    an_increase_after_a_wrap,
    two_increases_of_one_strand_from_the_wrong_side,
    a_yarn_left_at_a_turn_and_taken_up_again,
    a_yarn_taken_up_behind_a_stitch_slipped_with_another,
    a_yarn_taken_up_again_beyond_a_turn,
    a_new_yarn_turned_back_over_its_first_stitch,
    a_yarn_hung_at_a_slipped_stitch_and_a_wrap,
    a_round_ended_and_turned_in_rows,
    the_same_with_waste_yarn_between,
    a_round_of_waste_yarn_wrapped,
    all_stitches_held_after_a_turn,
)


@together("case", CASES)
def test_no_edges_cross(case: Callable[[], Work]) -> None:
    fabric = case().fabric()
    sound(fabric)
    report = check(fabric)
    assert {found.kind for found in report.mistakes} <= {"waste", "connected"}, report


@pytest.mark.parametrize("turn", [wrap_and_turn, double])
def test_a_round_of_one_stitch_has_none_to_turn_back_over(turn: Callable[[Work], None]) -> None:
    work = rounds(1)
    work.round(["k"])
    with pytest.raises(CannotWorkError, match="no other stitch"):
        turn(work)


def test_strands_that_would_cross_are_refused() -> None:
    """A loop lifted on to the wrong place of the needle; nothing has changed then."""
    work = rounds(1, closed=True)
    before = snapshot(work)
    with pytest.raises(CannotWorkError, match="would cross") as refusal:
        lift_strand(work, (0, 1))
    assert refusal.value.advice
    assert snapshot(work) == before


def test_an_increase_that_would_cross_a_wrap_is_refused() -> None:
    work = rounds(3)
    work.work(["k"])
    wrap_and_turn(work)
    work.work(["ptbl"])
    work.work(["k", "slk"], with_wraps=True)
    wrap_and_turn(work)
    before = snapshot(work)
    with pytest.raises(CannotWorkError, match=r"lift a strand.*would cross") as refusal:
        work.work(["m1l"])
    assert refusal.value.advice
    assert snapshot(work) == before


def test_a_strand_that_leads_to_a_loop_of_the_same_run_is_lifted() -> None:
    """In one call or in two, it is the same work."""
    keys = ["yo", "m1r", "slf", "cdd"]
    once, twice = rounds(3, closed=True), rounds(3, closed=True)
    once.work(keys)
    twice.work(keys[:1])
    twice.work(keys[1:])
    assert once.fabric() == twice.fabric()


def test_strands_of_a_closed_cast_on_are_lifted_alike_in_one_call_and_in_two() -> None:
    once, twice = rounds(3, closed=True), rounds(3, closed=True)
    once.work(["k", "k2tog", "m1l", "k", "m1r"])
    twice.work(["k", "k2tog", "m1l", "k"])
    twice.work(["m1r"])
    assert same_fabric(once.fabric(), twice.fabric())


def test_strands_of_a_graft_into_waste_yarn_are_no_row() -> None:
    work = Work()
    cast_on(work, 4)
    work.turn()
    waste_row(work, 4)
    graft(work)
    work.join_yarn("second")
    with pytest.raises(CannotWorkError, match="from both sides"):
        recapture(work, "waste")


@together("hand", Hand)
@together("calls", [(3,), (2, 1), (1, 1, 1)])
def test_a_row_begun_past_a_slipped_stitch_lifts_the_same_strand(
    calls: tuple[int, ...], hand: Hand
) -> None:
    """Row 1: k2, sl 1; row 2: k2, m1l. The strand lies between the two knit stitches (by hand).

    The yarn turned at the second of them, but had passed the slipped stitch before.
    """
    work = Work(hand=hand)
    cast_on(work, 3)
    work.turn()
    work.work(["k", "k", "sl"])
    work.turn()
    keys = ["k", "k", "m1l"]
    for many in calls:
        work.work(keys[:many])
        keys = keys[many:]
    fabric = work.fabric()
    made = [fabric.stitch_of(loop).key for loop in range(len(fabric))]
    lifted = made.index("lift")
    strand = [int(fabric.previous[lifted]), int(fabric.next[lifted])]
    first, second = (
        loop for loop in range(len(fabric)) if fabric.course[loop] == 1 and loop != lifted
    )
    assert strand == [first, second]
    assert fabric.is_on_spheres
