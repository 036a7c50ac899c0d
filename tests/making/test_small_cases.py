"""What is asked of hands at the ends of rows, of yarns and of what waits beside stitches."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from fabric.pieces import tube
from loopwright.errors import CannotWorkError, CountError
from loopwright.fabric import check, same_fabric
from loopwright.making import (
    Hand,
    Work,
    bind_off,
    cast_on,
    closed_cast_on,
    corner_strands,
    draw_up,
    graft,
    hold,
    lift_strand,
    pick_up,
    waste_row,
    weave_in,
)
from loopwright.making._needles import Op
from loopwright.making.casting import spread
from making.knitter import snapshot
from together import together


def flat(count: int = 6, rows: int = 2) -> Work:
    work = Work()
    cast_on(work, count)
    for _ in range(rows):
        work.turn()
        work.work(["k"] * count)
    return work


def after_marker() -> Work:
    work = tube(6, 2)
    work.place_marker("side")
    work.work(["k"] * 2)
    return work


def at_turn(*last: str) -> Work:
    """A row that ends with these stitches, turned."""
    work = flat(6, 1)
    work.turn()
    work.work(["k", *last])
    work.turn()
    return work


def over_waste() -> Work:
    work = tube(6, 2)
    waste_row(work, 6)
    work.work(["k"])
    return work


def with_a_holder() -> Work:
    work = tube(6, 2)
    hold(work, 2, "held")
    return work


def wrapped() -> Work:
    work = flat()
    work.turn()
    work.work(["k"] * 3)
    work.wrap()
    return work


@together(
    ("made", "asked", "problem"),
    [
        (over_waste, lambda work: work.work(["m1l"]), "what runs between .* is waste yarn"),
        (flat, lambda work: pick_up(work, [int(work.live[0])]), "is on the needle"),
        (with_a_holder, lambda work: hold(work, 1, "held"), "it carries stitches already"),
        (tube, lambda work: weave_in(work, "main"), "it is not cut"),
        (tube, lambda work: weave_in(work, "red"), "no strand is called that"),
        (flat, lambda work: work.begin_round_here(), "the work is not joined"),
        (flat, lambda work: work.wrap(), "no stitch is left in this row"),
        (flat, lambda work: corner_strands(work, beyond=True), "no stitch is left to work a st"),
        (wrapped, lambda work: lift_strand(work, (0, 1)), "a stitch was just wrapped"),
        (after_marker, lambda work: work.to_marker("side"), "it was passed 2 stitches ago"),
        (after_marker, lambda work: work.to_marker("end"), "markers placed: side"),
        (tube, lambda work: work.to_marker("end"), "markers placed: none"),
        (lambda: at_turn("k2tog"), lambda work: work.double_stitch(), "just one loop"),
        (lambda: at_turn("yo"), lambda work: work.double_stitch(), "just one loop"),
        (tube, lambda work: waste_row(work, 3, "main"), "main"),
        (tube, lambda work: work.round(["k"] * 5), "5"),
    ],
)
def test_what_can_not_be_done_says_why_and_changes_nothing(
    made: Callable[..., Work], asked: Callable[[Work], object], problem: str
) -> None:
    work = made(6, 2) if made in (tube, flat) else made()
    before = snapshot(work)
    with pytest.raises((CannotWorkError, CountError), match=problem):
        asked(work)
    assert snapshot(work) == before


def test_nothing_is_bound_off_without_yarn() -> None:
    work = tube(6, 2)
    work.cut()
    before = snapshot(work)
    with pytest.raises(CannotWorkError, match="yarn"):
        bind_off(work)
    assert snapshot(work) == before


@together("close", [draw_up, graft, bind_off])
@together("hand", Hand)
def test_no_wrap_waits_and_no_marker_stays_where_all_is_closed(
    close: Callable[[Work], object], hand: Hand
) -> None:
    work = tube(8, 3, hand)
    work.work(["k"] * 3)
    work.wrap()
    work.turn()
    work.work(["k"] * 3)
    work.turn()
    work.place_marker("side")
    work.work(["k"] * work.left)
    close(work)
    assert {name: loops.tolist() for name, loops in work.fabric().wraps.items()} in (
        {}, {"wrap": [], "stitch": []},
    )  # fmt: skip
    with pytest.raises(CannotWorkError, match="markers placed: none"):
        work.to_marker("side")


def test_a_stated_count_is_a_step_and_changes_nothing() -> None:
    """Operation, first id after it, and so many live before and after, those on holders too."""
    work = tube(6, 2)
    work.state_count(6)
    assert work.fabric().ledger[-1].tolist() == [int(Op.STATED), 12, 6, 0, 0, 6]
    with pytest.raises(CountError) as refusal:
        work.state_count(7)
    assert (refusal.value.expected, refusal.value.found) == (7, 6)
    assert check(work.fabric()).ok is check(tube(6, 2).fabric()).ok


def test_there_are_two_hands() -> None:
    assert {hand.name: hand.value for hand in Hand} == {"RIGHT": 1, "LEFT": -1}


def test_how_the_work_stands_on_either_side() -> None:
    work = flat(5, 1)
    work.turn()
    work.work(["k"] * 2)
    now = work.standing()
    assert now in {now, work.standing()}
    assert (now.left, len(now.upcoming)) == (3, 3) == (work.left, len(work.upcoming))
    assert now.upcoming.tolist() == work.upcoming.tolist()
    work.work(["k"] * 3)
    assert (work.standing().left, work.standing().upcoming.tolist()) == (0, [])
    work.turn()
    assert work.standing().left == 5
    work.work(["k"] * 5)
    assert (work.standing().left, work.standing().upcoming.tolist()) == (0, [])


def test_places_are_spread_evenly() -> None:
    assert spread(5, 0) == []
    assert spread(1, 2) == [0, 0]
    assert spread(3, 3) == [0, 1, 2]
    assert spread(9, 3) == [1, 4, 7]
    with pytest.raises(CannotWorkError):
        spread(0, 1)


@together("hand", Hand)
@together("turns", range(3))
def test_a_row_bound_off_in_part_goes_on_like_any_row(turns: int, hand: Hand) -> None:
    work = Work(hand=hand)
    cast_on(work, 6)
    for _ in range(turns):
        work.turn()
        work.work(["k"] * 6)
    work.turn()
    bind_off(work, 3)
    assert (work.count, work.left) == (4, 3)
    work.work(["k"] * 3)
    assert work.left == 0
    work.turn()
    work.work(["k"] * 4)
    assert not check(work.fabric()).mistakes


def test_a_closed_cast_on_stands_on_two_needles() -> None:
    work = Work()
    closed_cast_on(work, 3)
    assert work.standing().needles == (3, 3)
    work.join_round()
    work.plain_rounds(1)
    assert work.fabric().next[:6].tolist() == [1, 2, 3, 4, 5, 6]


@pytest.mark.parametrize("last", ["m1l", "m1r"])
@pytest.mark.parametrize("hand", Hand)
def test_an_increase_that_ends_a_round_is_the_one_between(last: str, hand: Hand) -> None:
    """Worked in one call or in two."""
    fabrics = []
    for parts in ([["k"] * 6 + [last]], [["k"] * 6, [last]], [["k"] * 3, ["k"] * 3 + [last]]):
        work = tube(6, 2, hand)
        for part in parts[:-1]:
            work.work(part)
        try:
            work.work(parts[-1])
        except CannotWorkError:
            continue
        fabrics.append(work.fabric())
    assert len(fabrics) >= 2
    assert all(same_fabric(one, fabrics[0]) for one in fabrics)


def test_to_turn_without_yarn_or_before_its_first_stitch_marks_no_loop() -> None:
    work = flat(4, 1)
    turned = work.fabric().turned.tolist()
    work.cut()
    work.turn()
    assert work.fabric().turned.tolist() == turned
    work.join_yarn("red")
    work.turn()
    assert work.fabric().turned.tolist() == turned


def test_steps_keep_their_numbers_in_files() -> None:
    assert [op.name for op in sorted(Op)] == [
        "WORK", "CAST_ON", "LIFT", "CLOSE", "DRAW", "TAKE_OUT", "STATED",
    ]  # fmt: skip
    assert [int(op) for op in sorted(Op)] == list(range(7))
