"""Stitches on holders: where they may come back, and when they were forgotten."""

from __future__ import annotations

import pytest

from loopwright.errors import CannotWorkError
from loopwright.fabric import Limits, check
from loopwright.fabric.columns import FLOAT
from loopwright.making import (
    Hand,
    Work,
    bind_off,
    cast_on,
    closed_cast_on,
    graft,
    hold,
    provisional_cast_on,
    recapture,
    return_held,
    waste_row,
    weave_in,
)
from making.knitter import snapshot, sound


def tube(count: int, rounds: int = 1) -> Work:
    work = Work()
    cast_on(work, count)
    work.join_round()
    work.plain_rounds(rounds)
    return work


@pytest.mark.parametrize("wrapped", [False, True])
@pytest.mark.parametrize("rows", [[1], [2], [2, 2], [1, 1], [2, 1]])
def test_what_was_joined_round_without_them_does_not_take_held_stitches_back(
    rows: list[int], wrapped: bool
) -> None:
    """Turned without `to_rows`, the others go round by themselves: V - E + C came to 0."""
    work = tube(4)
    work.work(["k"] * 2)
    hold(work, 2, "instep")
    work.turn()
    for stitches in rows:
        work.work(["k"] * stitches)
        if wrapped:
            work.wrap()
        work.turn()
    work.work(["k"] * work.left, with_wraps=True)
    before = snapshot(work)
    with pytest.raises(CannotWorkError, match="the strands would cross") as refusal:
        return_held(work, "instep")
    assert "`to_rows` before the first turn" in refusal.value.advice
    assert snapshot(work) == before
    sound(work.fabric())


def test_held_stitches_come_back_to_rows_worked_without_them() -> None:
    work = tube(8)
    work.work(["k"] * 4)
    hold(work, 4, "instep")
    work.to_rows()
    for stitches in (3, 2, 3):
        work.turn()
        work.work(["k" if work.right_side_facing else "p"] * stitches, with_wraps=True)
        if work.left:
            work.wrap()
    work.turn()
    work.work(["k"] * 4, with_wraps=True)
    return_held(work, "instep")
    work.join_round()
    work.round(["k"] * work.left, with_wraps=True)
    work.plain_rounds(2)
    sound(work.fabric())


def went_past(held: int, *, others: int, rows: int) -> Work:
    """Return a tube whose first stitches were held while rows were worked on the others."""
    work = tube(held + others)
    hold(work, held, "instep")
    if rows:
        work.to_rows()
    for row in range(rows):
        work.row(["kp"[row % 2]] * others)
    if rows % 2:
        work.turn()
    return_held(work, "instep")
    work.work(["k"] * work.left)
    return work


@pytest.mark.parametrize("rows", [0, 1, 2])
def test_the_yarn_floats_past_stitches_that_were_held_and_are_worked_later(rows: int) -> None:
    """The first half is held and the second worked, in the round's first row: a float of four."""
    work = went_past(4, others=4, rows=rows)
    fabric = work.fabric()
    sound(fabric)
    assert fabric.flags[15] & FLOAT
    assert check(fabric).ok


@pytest.mark.parametrize("held", [5, 6, 16, 17, 30])
@pytest.mark.parametrize("rows", [0, 1, 2])
def test_a_float_past_held_stitches_is_as_long_as_they_are_many(rows: int, held: int) -> None:
    """Common practice: caught beyond five stitches. It was said to pass none."""
    work = went_past(held, others=8, rows=rows)
    long = [found for found in check(work.fabric(), openings=2).findings if found.kind == "floats"]
    assert len(long) == (held > 5)
    assert not long or f"passes {held} stitches" in long[0].problem


@pytest.mark.parametrize("in_rounds", [True, False])
def test_a_float_past_stitches_held_amid_a_row_is_measured(*, in_rounds: bool) -> None:
    work = tube(18)
    if not in_rounds:
        work.to_rows()
    work.work(["k"] * 5)
    hold(work, 8, "pocket")
    work.work(["k"] * 5)
    if in_rounds:
        work.work(["k"] * 5)
    else:
        work.turn()
        work.work(["p"] * 5)
    return_held(work, "pocket", next_to_work=True)
    work.work(["k" if in_rounds else "p"] * 8)
    (found,) = [one for one in check(work.fabric(), openings=2).findings if one.kind == "floats"]
    assert "passes 8 stitches" in found.problem


def test_held_stitches_come_back_when_the_needles_are_free() -> None:
    work = tube(8)
    hold(work, 4, "thumb")
    work.round(["k"] * 4)
    bind_off(work)
    return_held(work, "thumb")
    work.join_yarn("thumb")
    work.plain_rounds(2)
    sound(work.fabric())


@pytest.mark.parametrize("with_wraps", [False, True])
def test_stitches_returned_right_after_a_wrap_are_tried_after_its_turn(with_wraps: bool) -> None:
    work = tube(6)
    work.work(["k"] * 2)
    work.wrap()
    hold(work, 1, "one")
    return_held(work, "one", next_to_work=True)
    work.turn()
    work.work(["p"] * work.left, with_wraps=with_wraps)
    sound(work.fabric())


def test_stitches_that_a_wrap_left_behind_do_not_return_between_it_and_its_stitch() -> None:
    work = tube(6)
    work.work(["k"] * 2)
    hold(work, 1, "one")
    work.wrap()
    before = snapshot(work)
    with pytest.raises(CannotWorkError, match="the strands would cross"):
        return_held(work, "one", next_to_work=True)
    assert snapshot(work) == before


@pytest.mark.parametrize("count", [1, 2])
def test_a_yarn_goes_on_where_stitches_were_held_and_put_back(count: int) -> None:
    """Laid aside and taken up at once, they leave no float behind a change of yarn and back."""
    work = tube(6)
    work.join_yarn("other")
    work.change_to("main")
    work.work(["k"] * 2)
    hold(work, count, "cable needle")
    return_held(work, "cable needle", next_to_work=True)
    work.change_to("other")
    work.change_to("main")
    work.work(["k"] * work.left)
    assert check(work.fabric(), openings=2).findings == ()


def forgotten() -> Work:
    work = tube(16, 4)
    hold(work, 4, "thumb")
    bind_off(work)
    return work


def test_a_forgotten_holder_is_a_mistake_once_all_is_woven_in() -> None:
    work = forgotten()
    (found,) = check(work.fabric()).findings
    assert (found.kind, found.is_mistake) == ("secured", False)  # it may wait for another yarn
    assert "on 'thumb'" in found.problem
    weave_in(work)
    (found,) = check(work.fabric()).findings
    assert (found.kind, found.is_mistake) == ("secured", True)
    assert check(work.fabric(), limits=Limits(finished=False)).findings == ()


def test_a_thumb_that_was_joined_is_not_forgotten() -> None:
    work = forgotten()
    weave_in(work)
    return_held(work, "thumb")
    work.join_yarn("thumb")
    assert check(work.fabric()).findings == ()


def test_waste_yarn_does_not_keep_a_piece_unfinished() -> None:
    work = tube(8, 2)
    waste_row(work, 4)
    work.round(["k"] * 8)
    hold(work, 2, "holder")
    bind_off(work)
    weave_in(work, "main")
    assert {found.kind for found in check(work.fabric()).mistakes} == {"secured", "waste"}


@pytest.mark.parametrize("covered", [2, 3, 4])
@pytest.mark.parametrize("held", [1, 2, 3])
def test_yarn_that_hangs_below_a_waste_row_comes_past_what_is_held_of_it(
    covered: int, held: int
) -> None:
    """It goes on in front of the first waste loop, held or not: V - E + C came to 0."""
    work = Work()
    closed_cast_on(work, 2)
    work.join_round()
    waste_row(work, covered)
    hold(work, held, "instep")
    work.work(["k"])
    sound(work.fabric())


@pytest.mark.parametrize("corner", ["first", "last"])
def test_yarn_that_hangs_at_held_stitches_does_not_run_over_the_fabric_to_an_opening(
    corner: str,
) -> None:
    """Worked on with in the opening, it came to V - E + C = 0; a new yarn does."""
    work = tube(6)
    waste_row(work, 2)
    work.work(["k"] * 6)
    hold(work, 6, "all")
    before = snapshot(work)
    with pytest.raises(CannotWorkError, match="the strands would cross there; cut the yarn"):
        recapture(work, "waste", corner=corner)
    assert snapshot(work) == before
    work.cut()
    work.join_yarn("thumb")
    recapture(work, "waste", corner=corner)
    work.work(["k"] * work.left)
    sound(work.fabric())


@pytest.mark.parametrize("count", [1, 2])
def test_a_wrap_past_held_stitches_is_told_of_when_they_return(count: int) -> None:
    """Its yarn ran over the stitch that was held; knitted with its wrap, V - E + C came to 0."""
    work = Work()
    closed_cast_on(work, count)
    work.join_round()
    hold(work, 1, "thumb")
    cast_on(work, 1)
    work.work(["k"] * (2 * count - 1))
    work.wrap()
    work.turn()
    before = snapshot(work)
    with pytest.raises(CannotWorkError, match="the strands would cross"):
        return_held(work, "thumb")
    assert snapshot(work) == before
    work.work(["k"] * work.left, with_wraps=True)
    sound(work.fabric())


@pytest.mark.parametrize("hand", Hand)
@pytest.mark.parametrize("closed", [False, True])
def test_one_of_two_in_a_round_that_comes_back_on_the_other_side_is_floated_past(
    hand: Hand, closed: bool
) -> None:
    """Worked on from there, or turned and grafted, V - E + C came to 0."""
    work = Work(hand=hand)
    if closed:
        closed_cast_on(work, 1)
    else:
        provisional_cast_on(work, 2)
    work.join_round()
    hold(work, 1, "one")
    if not closed:
        work.turn()
    return_held(work, "one", next_to_work=not closed)
    work.turn()
    sound(work.fabric())
    other = work.copy()
    other.work(["k", "k"])
    sound(other.fabric())
    graft(work)
    sound(work.fabric())
