"""Operations of the hands by small counts: places that are the last allowed, and cells foretold."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from itertools import pairwise

import attrs
import numpy as np
import pytest

from fabric.pieces import PIECES, before_a_corner
from loopwright.errors import CannotWorkError, CountError
from loopwright.fabric import check, difference
from loopwright.fabric.columns import FLOAT
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
    provisional_cast_on,
    recapture,
    return_held,
    selvedge,
    take_out,
    three_needle_bind_off,
    waste_row,
    weave_in,
)
from loopwright.making._needles import Op, WorkingStrand
from loopwright.making.casting import spread
from together import together


def tube(count: int, rounds: int = 1, hand: Hand = Hand.RIGHT) -> Work:
    work = Work(hand=hand)
    cast_on(work, count)
    work.join_round()
    work.plain_rounds(rounds)
    return work


def test_a_copy_shares_nothing_that_changes() -> None:
    work = tube(8)
    work.place_marker("a")
    work.arrange((4, 4))
    hold(work, 2, "held")
    provisional_cast_on(work, 2)
    before = (work.held, work.count, work.needle_counts, work.fabric())
    trial = work.copy()
    return_held(trial, "held", next_to_work=True)
    trial.remove_marker("a")
    trial.place_marker("b")
    trial.arrange((1, trial.count - 1))
    trial.work(["k"] * trial.left)
    trial.plain_rounds(1)
    take_out(trial, "waste")
    assert (work.held, work.count, work.needle_counts, work.fabric()) == before
    for name, other in (("a", work), ("b", trial)):
        with pytest.raises(CannotWorkError, match="it is on the needle already"):
            other.place_marker(name)
    for name, other in (("a", trial), ("b", work)):
        with pytest.raises(CannotWorkError, match="markers placed"):
            other.remove_marker(name)
    with pytest.raises(CannotWorkError):  # it is taken out of the copy alone
        recapture(work, "other")
    assert not work._opened
    assert trial._opened


def test_a_needle_begins_anywhere_between_its_neighbours() -> None:
    work = tube(8)
    work.arrange((3, 2, 3))
    with pytest.raises(CannotWorkError, match="end beyond this place"):
        work.begin_needle_here(3)  # at 0, and needle 2 begins at 3
    work.work(["k"] * 3)
    work.begin_needle_here(3)
    assert work.needle_counts == (3, 0, 5)
    work.work(["k"] * 2)
    work.begin_needle_here(3)
    assert work.needle_counts == (3, 2, 3)
    work.begin_needle_here(2)
    assert work.needle_counts == (5, 0, 3)
    work.work(["k"])
    with pytest.raises(CannotWorkError, match="end beyond this place"):
        work.begin_needle_here(2)  # at 6, and needle 3 begins at 5
    flat = Work()
    cast_on(flat, 8)
    flat.arrange((4, 4))
    flat.begin_needle_here(2)
    assert flat.needle_counts == (8, 0)


@together("close", [graft, three_needle_bind_off])
@together(("count", "even"), [(7, 6), (1, 0), (13, 12)])
def test_an_odd_number_has_no_halves(close: object, count: int, even: int) -> None:
    work = tube(count)
    with pytest.raises(CountError) as refusal:
        close(work)  # type: ignore[operator]
    assert (refusal.value.expected, refusal.value.found) == (even, count)


@together("key", ["m1l", "m1r"])
@together("times", [2, 3, 4])
@together("hand", Hand)
def test_a_strand_lifted_several_times_in_a_run_and_one_by_one(
    key: str, times: int, hand: Hand
) -> None:
    """Several calls make what one makes (the promise of `Work.work`)."""
    made = []
    for calls in ([["k", *[key] * times, "k"]], [["k"], *[[key]] * times, ["k"]]):
        work = tube(6, 2, hand)
        for keys in calls:
            work.work(keys)
        work.work(["k"] * work.left)
        assert work.count == 6 + times
        made.append(work.fabric())
    assert difference(made[0], made[1]) is None
    lifted = made[0].strand.size - 6 * 4 - times
    assert lifted == times  # a lifted loop for each that is made of it


def corner(stage: str, hand: Hand) -> Work:
    """A heel in the round is done, or a flap with its turn: the work stands before a corner."""
    work = before_a_corner(hand)
    if stage != "joined":
        work.work(["k"] * (8 if stage == "worked" else 7))
    return work


@pytest.mark.parametrize("hand", Hand)
@pytest.mark.parametrize("stage", ["joined", "worked", "before the last"])
def test_the_cells_that_a_lifted_strand_leaves_are_foretold(stage: str, hand: Hand) -> None:
    """Lifted and worked with its neighbour, and a round over it: both cells are in the map."""
    work, beyond = corner(stage, hand), stage == "before the last"
    ways = corner_strands(work, beyond=beyond)
    assert len(ways) > 1
    for way in ways:
        trial = work.copy()
        lifted = lift_strand(trial, way.strand, left_flank=way.left_flank, beyond=beyond)
        trial.work(["ssk" if beyond else "k2tog"])
        trial.work(["k"] * trial.left)
        trial.plain_rounds(1)
        fabric = trial.fabric()
        assert fabric.euler_characteristic == 2
        beside = Counter(cell.size for cell in fabric.cells() if lifted in cell.loops)
        assert not Counter(way.cells) - beside, (way, beside)
    for better, way in pairwise(ways):
        assert max(better.cells) <= max(way.cells)
        if max(better.cells) == max(way.cells):  # the larger one lies before the next stitch
            assert better.cells[1] >= way.cells[1]


def test_waste_yarn_is_opened_round_its_opening() -> None:
    """8 below and 8 strands above, after what waits in the round: 16 and the other 8."""
    work = tube(16, 2)
    waste_row(work, 8)
    work.plain_rounds(2)
    before = work.count
    recapture(work, "waste")
    assert (before, work.count) == (16, 32)


def test_the_corner_of_a_row_on_the_wrong_side() -> None:
    """Walked against the right side's order, the edge of a flap is the same from its other end."""
    found = []
    for rows in (6, 7):
        work = tube(12, 2)
        work.work(["k"] * 6)
        hold(work, 6, "instep")
        work.to_rows()
        for row in range(rows):
            work.turn()
            work.work(["sl", *["kp"[row % 2 == 0]] * 5])
        found.append((len(selvedge(work)), work.right_side_facing))
    assert found == [(2, True), (2, False)]  # of 3 chains one is the stitch just worked


def wrapped() -> Work:
    work = Work()
    cast_on(work, 6)
    work.turn()
    work.work(["k"] * 3)
    work.wrap()
    return work


def test_a_yarn_is_changed_after_the_turn_that_a_wrap_asks_for() -> None:
    work = wrapped()
    for change in (lambda: work.join_yarn("other"), lambda: work.change_to("main")):
        with pytest.raises(CannotWorkError):
            change()
    assert [strand.name for strand in work.strands] == ["main"]
    work.turn()
    work.work(["p"])
    work.join_yarn("other")
    assert work.yarn == "other"


def test_held_stitches_come_back_behind_those_that_wait_or_before_them() -> None:
    found = []
    for options in ({}, {"next_to_work": True}):
        work = tube(8)
        hold(work, 3, "three")
        back = work._held["three"].tolist()
        waiting = work.upcoming.tolist()
        return_held(work, "three", **options)
        ahead = work.upcoming.tolist()
        found.append((ahead == waiting + back, ahead == back + waiting))
    assert found == [(True, False), (False, True)]


@pytest.mark.parametrize("way", ["work", "row"])
def test_wraps_are_worked_where_that_is_asked_for(way: str) -> None:
    """With the wrap a stitch is drawn through two, and without it through one."""
    drawn = []
    for options in ({}, {"with_wraps": False}, {"with_wraps": True}):
        work = wrapped()
        work.turn()
        work.work(["p"] * 3)
        work.turn()
        edges = len(work.fabric().parent)
        getattr(work, way)(["k"] * 6, **options)
        drawn.append(len(work.fabric().parent) - edges)
    assert drawn == [6, 6, 7]


def test_a_round_takes_wraps_in_where_that_is_asked_for() -> None:
    drawn = []
    for options in ({}, {"with_wraps": False}, {"with_wraps": True}):
        work = tube(6)
        work.work(["k"] * 3)
        work.wrap()
        work.turn()
        work.work(["p"] * 3)
        work.turn()
        work.begin_round_here()
        edges = len(work.fabric().parent)
        work.round(["k"] * 6, **options)
        drawn.append(len(work.fabric().parent) - edges)
    assert drawn == [6, 6, 7]


@pytest.mark.parametrize("count", [None, 4])
def test_a_wrap_that_is_bound_off_waits_no_longer(count: int | None) -> None:
    work = wrapped()
    work.turn()
    work.work(["p"] * 3)
    work.turn()
    assert len(work.fabric().wraps["wrap"]) == 1
    bind_off(work, count)
    assert not len(work.fabric().wraps.get("wrap", ()))


def test_a_round_needs_stitches_and_is_joined_once() -> None:
    work = Work()
    with pytest.raises(CannotWorkError, match="nothing on the needles"):
        work.join_round()
    assert not work.in_rounds
    work = tube(4)
    with pytest.raises(CannotWorkError, match="joined already"):
        work.join_round()


def test_rounds_are_worked_as_often_as_is_said_and_not_less_than_never() -> None:
    work = tube(4)
    course = work.course
    for times in (0, 1, 3):
        work.rounds(["k"] * 4, times)
    assert work.course == course + 4
    with pytest.raises(CannotWorkError, match="must not be negative"):
        work.rounds(["k"] * 4, -1)


@pytest.mark.parametrize(("slips", "key"), [(0, "k"), (1, "ktbl"), (2, "k"), (3, "ktbl")])
def test_a_stitch_slipped_knitwise_sits_turned_round(slips: int, key: str) -> None:
    """Knit as it comes it is twisted; slipped knitwise again it sits as before."""
    work = Work()
    cast_on(work, 3)
    work.join_round()
    for _ in range(slips):
        work.round(["k", "slk", "k"])
    work.round(["k"] * 3)
    fabric = work.fabric()
    middle = fabric.ids[-2]
    assert fabric.stitches.rows[fabric.stitch[middle]].key == key


def test_neighbours_of_two_yarns_stand_beside_each_other() -> None:
    work = tube(4)
    work.work(["k"] * 2)
    work.join_yarn("other")
    work.work(["k"] * 2)
    fabric = work.fabric()
    last, first = fabric.ids[-3], fabric.ids[-2]
    assert (last, first) in zip(fabric.right.tolist(), fabric.left.tolist(), strict=True)


def test_a_strand_lifted_on_the_wrong_side_is_worked_next() -> None:
    work = Work()
    cast_on(work, 4)
    work.turn()
    work.work(["p"] * 2)
    lifted = lift_strand(work, (1, 2))
    assert (work.count, work.left) == (5, 3)
    assert work.upcoming.tolist() == [lifted, 1, 0]
    work.work(["p"] * 3)
    assert (work.count, work.left) == (5, 0)


@pytest.mark.parametrize("facing", [True, False])
def test_what_was_held_comes_back_on_the_needle_that_it_was_on(facing: bool) -> None:
    work = Work()
    cast_on(work, 8)
    work.arrange((4, 4))
    work.turn()
    if facing:
        work.row(["k"] * 8)
    work.work(["k"] * 4)
    hold(work, 2, "held")
    assert sorted(work.needle_counts) == [2, 4]
    return_held(work, "held", next_to_work=True)
    assert work.needle_counts == (4, 4)
    assert (work.count, work.left) == (8, 4)


def test_what_cannot_be_crossed_is_refused() -> None:
    turned_round = tube(6)
    turned_round.round(["slk", *["k"] * 5])
    beside_wrap = wrapped()
    beside_wrap.turn()
    beside_wrap.work(["p"] * 3)
    beside_wrap.turn()
    for work, words, options in (
        (turned_round, "slipped knitwise", {}),
        (beside_wrap, "a wrap or the second leg", {"with_wraps": True}),
    ):
        before = work.fabric()
        keys = ["1/2lc"] if work is turned_round else ["k", "k", "1/2lc"]
        with pytest.raises(CannotWorkError, match=words):
            work.work(keys, **options)
        assert work.fabric() == before
        work.work(["k"] * work.left, **options)
        work.turn()
        assert not work.in_rounds or work.left


def test_needles_may_be_empty_and_no_needle_lacks_stitches() -> None:
    work = tube(8)
    work.arrange((0, 8))
    assert work.needle_counts == (0, 8)
    for counts in ((-1, 9), (4, 3)):
        with pytest.raises(CountError):
            work.arrange(counts)
    assert work.needle_counts == (0, 8)


def test_picking_up_begins_with_the_first_loop_there_is() -> None:
    work = Work()
    cast_on(work, 1)
    work.turn()
    work.row(["k"])
    before = work.fabric()
    with pytest.raises(CannotWorkError, match="there is no loop -1"):
        pick_up(work, [-1])
    with pytest.raises(CannotWorkError, match="there is no loop 2"):
        pick_up(work, [2])
    assert work.fabric() == before
    with pytest.raises(CannotWorkError, match="the strands would cross"):
        pick_up(work, [0])


def test_rounds_of_another_width_are_refused_by_their_count() -> None:
    work = tube(6)
    before = work.fabric()
    for keys in (["k"] * 5, ["k"] * 7, ["k2tog"] * 2):
        with pytest.raises(CountError):
            work.rounds(keys, 2)
        assert work.fabric() == before


def test_a_corner_lies_between_two_stitches() -> None:
    two = Work()
    cast_on(two, 2)
    two.turn()
    for _ in range(3):
        two.row(["k"] * 2)
    two.work(["k"])
    assert selvedge(two) == []
    one = Work()
    cast_on(one, 1)
    one.turn()
    for found in (selvedge, corner_strands):
        with pytest.raises(CannotWorkError, match="fewer than two stitches"):
            found(one)


def test_waste_yarn_over_one_stitch_is_recaptured() -> None:
    """One below it and one strand above."""
    work = tube(4, 2)
    waste_row(work, 1)
    work.plain_rounds(2)
    recapture(work, "waste")
    assert work.count == 4 + 2


def test_a_double_stitch_takes_its_stitch_back_out_of_the_books() -> None:
    work = Work()
    cast_on(work, 6)
    work.turn()
    work.work(["k"] * 4)
    work.turn()
    work.double_stitch()
    rows = work.fabric().ledger.tolist()
    assert rows[-1][3:5] == [3, 3]  # of 4 stitches one is on the needle again
    assert (work.count, work.left) == (6, 3)


def test_each_waste_yarn_has_a_name_of_its_own() -> None:
    work = tube(8)
    waste_row(work, 4, "heel")
    work.work(["k"] * 8)  # the round's end, which a refusal does not go over
    for again in (waste_row, provisional_cast_on):
        before = (work.fabric(), len(work.strands), work.course, work._cursor)
        with pytest.raises(CannotWorkError, match="there is a strand called 'heel' already"):
            again(work, 2, "heel")
        assert (work.fabric(), len(work.strands), work.course, work._cursor) == before


def test_the_name_of_a_waste_yarn_is_free_once_it_is_out() -> None:
    """A toe begun over waste yarn, and a row of it for the heel: never both in the work."""
    work = Work()
    provisional_cast_on(work, 6)
    work.turn()
    work.row(["p"] * 6)
    work.work(["k"] * 6)
    take_out(work, "waste")
    with pytest.raises(CannotWorkError, match="there is a strand called 'waste' already"):
        waste_row(work, 2)  # what hung on it is on no needle yet
    recapture(work, "waste", corner="last")
    work.join_round()
    work.work(["k"] * 6)
    waste_row(work, 4)
    work.work(["k"] * 12)
    assert [strand.name for strand in work.strands] == ["main", "waste", "waste 2"]
    recapture(work, "waste")
    assert work.count == 12 + 2 * 4


def test_a_waste_yarn_of_a_numbered_name_is_not_one_used_again() -> None:
    work = tube(12)
    for name in ("waste", "waste 2"):
        waste_row(work, 3, name)
        work.work(["k"] * 3)
    work.work(["k"] * 6)
    recapture(work, "waste")
    left = work.fabric()
    assert [int(((left.strand == n) & left.present).sum()) for n in (1, 2)] == [0, 3]
    work.plain_rounds(1)
    recapture(work, "waste 2")
    work.plain_rounds(1)
    waste_row(work, 3)
    assert work.strands[-1].name == "waste 3"


@pytest.mark.parametrize("turns", [0, 1])
def test_a_round_is_one_course_on_either_side(turns: int) -> None:
    work = tube(6)
    for _ in range(turns):
        work.turn()
    course = work.course
    for number in range(1, 4):
        work.round(["kp"[turns]] * 6)
        assert work.course == course + number
    assert np.unique(work.fabric().course[-18:]).tolist() == [course, course + 1, course + 2]


def test_operations_keep_their_numbers() -> None:
    assert [op.name for op in Op] == [
        "WORK", "CAST_ON", "LIFT", "CLOSE", "DRAW", "TAKE_OUT", "STATED",
    ]  # fmt: skip
    assert [int(op) for op in Op] == [*range(7)]


def test_nothing_is_spread_over_places_and_something_over_one() -> None:
    assert spread(8, 0) == []
    assert spread(1, 3) == [0, 0, 0]
    for places, wanted in ((0, 1), (4, -1)):
        with pytest.raises(CannotWorkError) as refusal:
            spread(places, wanted)
        assert (refusal.value.course, refusal.value.live) == (0, 0)


@together("strand", [(-1, 0), (0, 2), (11, 12), (99, 100), (3, 99)])
def test_a_strand_is_lifted_from_one_loop_to_its_next_only(strand: tuple[int, int]) -> None:
    work = tube(6)
    with pytest.raises(CannotWorkError, match="no strand runs from the one to the other"):
        lift_strand(work, strand)


@together(
    "keys",
    [["k"] * 6, ["p"] * 6, ["1/2lc"] * 2, ["k2tog", "yo"] * 3, ["sl", "k"] * 3, ["ktbl"] * 6],
)
@together("hand", Hand)
def test_rounds_made_at_once_are_those_made_one_by_one(keys: list[str], hand: Hand) -> None:
    at_once, singly = tube(6, 1, hand), tube(6, 1, hand)
    at_once.rounds(keys, 3)
    for _ in range(3):
        singly.round(keys)
    for work in (at_once, singly):
        work.round(["m1l", *["k"] * 6])
    assert at_once.fabric() == singly.fabric()
    assert at_once.fabric().ledger[-1].tolist()[1:] == singly.fabric().ledger[-1].tolist()[1:]


def slipped(work: Work) -> None:
    work.round(["k"] * 5 + ["sl"])


def slipped_knitwise(work: Work) -> None:
    work.round(["slk", *["k"] * 5])


def turned(work: Work) -> None:
    work.turn()


def begun(work: Work) -> None:
    work.work(["k", "k"])


def held(work: Work) -> None:
    hold(work, 6, "all")
    return_held(work, "all")


def wrapped_and_slipped(work: Work) -> None:
    work.work(["k"] * 3)
    work.wrap()
    work.turn()
    work.work(["p"] * 3)
    work.turn()
    work.work(["k", "k", "k", "sl", "k", "k"])


def joined_again(work: Work) -> None:
    work.to_rows()
    work.join_round()


def with_another_yarn(work: Work) -> None:
    work.join_yarn("other")


def in_rows(work: Work) -> None:
    work.to_rows()


@together(
    "before",
    [slipped, slipped_knitwise, turned, begun, held, with_another_yarn, in_rows,
     wrapped_and_slipped, joined_again],
)  # fmt: skip
@together("hand", Hand)
def test_rounds_at_once_go_on_from_where_the_work_stands(
    before: Callable[[Work], None], hand: Hand
) -> None:
    found = []
    for times in ((2,), (1, 1)):
        work = tube(6, 2, hand)
        before(work)
        keys, refused = ["k"] * work.left, False
        for many in times:
            try:
                work.rounds(keys, many)
            except (CannotWorkError, CountError):
                refused = True
        hands = work.live.tolist(), work.course, work.left, work._wraps, work._round_over
        found.append((refused, work.fabric(), hands))
    assert found[0] == found[1]


def test_a_wrap_that_was_slipped_waits_no_longer_behind_rounds_made_at_once() -> None:
    work = tube(6, 2)
    wrapped_and_slipped(work)
    work.plain_rounds(2)
    assert not check(work.fabric()).mistakes


def test_what_waste_yarn_carries_is_not_crossed() -> None:
    work = tube(6, 2)
    waste_row(work, 3)
    before = work.fabric()
    with pytest.raises(CannotWorkError, match="waste yarn carries one of them"):
        work.work(["1/2lc"])
    assert work.fabric() == before
    work.round(["k"] * 6)
    work.round(["1/2lc"] * 2)
    assert work.count == 6


def test_a_count_that_is_stated_is_entered_in_the_books() -> None:
    work = tube(6)
    hold(work, 2, "held")
    with pytest.raises(CountError) as refusal:
        work.state_count(6)
    assert (refusal.value.expected, refusal.value.found) == (6, 4)
    assert "4 are there" in str(refusal.value)
    work.state_count(4)
    last = work.fabric().ledger[-1].tolist()
    assert (last[0], last[2:]) == (int(Op.STATED), [4, 0, 2, 6])  # 4 on the needles, 2 held


def test_a_strand_that_is_joined_has_passed_nothing() -> None:
    strand = WorkingStrand(3)
    assert attrs.astuple(strand) == (3, -1, -1, False, False, -1, False)


@together("rounds", [True, False])
@together("turns", [0, 1])
@together("worked", [0, 1, 3, 5])
def test_a_record_of_the_needles_says_what_they_say(rounds: bool, turns: int, worked: int) -> None:
    work = Work()
    cast_on(work, 5)
    if rounds:
        work.join_round()
    else:
        work.turn()
    for _ in range(turns):
        work.turn()
    if work.left:
        work.work(["k"] * min(worked, work.left))
    now = work.standing()
    assert (now.left, now.count) == (work.left, work.count)
    assert now.upcoming.tolist() == work.upcoming.tolist()


@pytest.mark.parametrize("count", [1, 2, 5])
def test_a_closed_cast_on_is_of_two_halves(count: int) -> None:
    """Worked from its near half on: where it is joined the far half comes last."""
    work = Work()
    closed_cast_on(work, count)
    assert (work.count, work.needle_counts) == (2 * count, (count, count))
    fabric = work.fabric()
    side = fabric.side[fabric.live].tolist()
    assert side == [side[0]] * count + [-side[0]] * count
    assert fabric.euler_characteristic == 2
    with pytest.raises(CannotWorkError, match="on the needles already"):
        closed_cast_on(work, count)
    with pytest.raises(CannotWorkError, match="must be 1 or more"):
        closed_cast_on(Work(), 0)


@pytest.mark.parametrize("cast", [cast_on, closed_cast_on, provisional_cast_on])
@pytest.mark.parametrize("count", [10_000_001, 10**12])
def test_no_memory_is_filled_with_what_no_fabric_has(
    cast: Callable[[Work, int], None], count: int
) -> None:
    work = Work()
    with pytest.raises(CannotWorkError, match="a fabric has at most 10000000"):
        cast(work, count)
    assert not work.count
    around = tube(8)
    with pytest.raises(CannotWorkError, match="a fabric has at most 10000000"):
        around.plain_rounds(count)


@pytest.mark.parametrize(
    ("yarn", "problem"),
    [
        (
            {"name": "red", "role": "thread"},
            "no role 'thread' is known; choose 'working' or 'waste'",
        ),
        ({"name": " "}, "it is no name; give it a name"),
    ],
)
def test_a_yarn_needs_a_name_and_a_role_that_is_known(yarn: dict[str, str], problem: str) -> None:
    work = Work()
    with pytest.raises(CannotWorkError, match=problem):
        work.join_yarn(**yarn)
    assert not work.strands


@pytest.mark.parametrize("number", [-1, 0, 1, 3])
def test_a_needle_that_there_is_not_begins_nowhere(number: int) -> None:
    work = tube(8)
    work.arrange((4, 4))
    with pytest.raises(CannotWorkError, match="there are 2 needles"):
        work.begin_needle_here(number)
    assert work.needle_counts == (4, 4)


def test_a_row_that_is_bound_off_at_its_end_is_to_be_turned_first() -> None:
    work = Work()
    cast_on(work, 4)
    with pytest.raises(CannotWorkError, match="nothing to bind off; turn first"):
        bind_off(work)


@pytest.mark.parametrize("close", [graft, three_needle_bind_off, draw_up, bind_off])
def test_markers_go_with_the_stitches_that_are_closed(close: Callable[[Work], None]) -> None:
    work = tube(8)
    work.work(["k"] * 3)
    work.place_marker("a")
    work.arrange((4, 4))
    with pytest.raises(CannotWorkError, match=r"markers placed: a$"):
        work.remove_marker("b")
    work.work(["k"] * 5)
    close(work)
    assert (work.count, work.needle_counts) == (0, (0,))
    with pytest.raises(CannotWorkError, match=r"markers placed: none$"):
        work.remove_marker("a")


def test_a_yarn_left_at_a_turn_and_taken_up_again_passes_nothing() -> None:
    """Another was in hand meanwhile and worked nothing: it is as if it had never been."""
    made = []
    for changes in (False, True):
        work = Work()
        cast_on(work, 5)
        work.turn()
        work.work(["k"] * 3)
        work.turn()
        if changes:
            work.join_yarn("other")
            work.change_to("main")
        work.work(["p"] * 3)
        made.append(work.fabric())
    assert made[0].flags.tolist() == made[1].flags.tolist()
    assert not (made[1].flags & FLOAT).any()


def test_a_yarn_of_one_loop_is_taken_up_behind_many_of_another() -> None:
    work = Work()
    cast_on(work, 1)
    work.join_yarn("other")
    cast_on(work, 600)
    work.change_to("main")
    cast_on(work, 1)
    assert work.fabric().next[[0, 600, 601]].tolist() == [601, -1, -1]


def test_a_yarn_carried_over_another_s_stitches_floats() -> None:
    work = Work()
    cast_on(work, 5)
    work.turn()
    work.join_yarn("other")
    for row in range(6):  # two rows of each in turn
        work.change_to("main" if row // 2 % 2 else "other")
        work.row(["k"] * 5)
    fabric = work.fabric()
    floats = np.flatnonzero((fabric.flags & FLOAT) != 0)
    assert [(int(one), int(fabric.next[one])) for one in floats] == [(4, 15), (14, 25)]


def test_without_yarn_nothing_is_bound_off() -> None:
    work = wrapped()
    work.turn()
    work.work(["p"])
    work.cut()
    before, wraps = work.fabric(), work.fabric().wraps["wrap"].tolist()
    with pytest.raises(CannotWorkError, match="cannot bind off 2 stitches"):
        bind_off(work, 2)
    assert work.fabric() == before
    assert work.fabric().wraps["wrap"].tolist() == wraps


def test_there_is_nothing_to_wrap_at_the_end_of_a_row() -> None:
    work = Work()
    cast_on(work, 3)
    work.turn()
    work.work(["k"] * 3)
    with pytest.raises(CannotWorkError, match="no stitch is left in this row"):
        work.wrap()


@pytest.mark.parametrize("beyond", [0, 1, 3])
def test_a_marker_that_was_passed_is_said_to_be(beyond: int) -> None:
    work = tube(8)
    work.work(["k"] * 2)
    work.place_marker("a")
    work.work(["k"] * beyond)
    if not beyond:
        assert work.to_marker("a") == 0
        return
    with pytest.raises(CannotWorkError, match=f"it was passed {beyond} stitch"):
        work.to_marker("a")


def test_a_wrap_that_is_not_worked_hinders_no_crossing() -> None:
    work = wrapped()
    work.turn()
    work.work(["p"] * 3)
    work.turn()
    work.work(["k", "k", "1/2lc", "k"])
    assert work.fabric().is_on_spheres


def test_the_first_strand_of_all_is_lifted() -> None:
    work = Work()
    cast_on(work, 3)
    work.turn()
    work.work(["k"] * 2)
    lifted = lift_strand(work, (0, 1))
    assert work.upcoming.tolist() == [lifted, 0]


def test_a_round_ends_where_its_last_stitches_are_bound_off() -> None:
    work = tube(8)
    work.work(["k"] * 4)
    course = work.course
    bind_off(work, 4)
    assert (work.course, work.count, work.left) == (course + 1, 5, 5)


def test_hands_mirror_each_other() -> None:
    assert [hand.value for hand in Hand] == [1, -1]


@together("hand", Hand, tests=2)
@together("name", PIECES)
def test_what_comes_before_a_loop_on_its_yarn(name: str, hand: Hand) -> None:
    """The loop whose yarn goes on to it, whichever was made between them, or none."""
    work = PIECES[name](hand)
    following = work.columns.loops.next[: work.columns.loops.size].tolist()
    for loop in range(len(following)):
        before = following.index(loop) if loop in following else -1
        assert work._before(loop) == before


def test_what_comes_before_a_loop_of_two_yarns() -> None:
    work = tube(6)
    work.join_yarn("other")
    for key in ("main", "other", "main", "other", "main", "other"):
        work.change_to(key)
        work.work(["k"])
    work.change_to("main")
    work.work(["m1l", "k", "m1l", "k"])
    following = work.columns.loops.next[: work.columns.loops.size].tolist()
    for loop in range(len(following)):
        before = following.index(loop) if loop in following else -1
        assert work._before(loop) == before


def test_what_is_not_cut_is_not_woven_in() -> None:
    work = tube(4)
    with pytest.raises(CannotWorkError, match="it is not cut"):
        weave_in(work, "main")
    with pytest.raises(CannotWorkError, match="no strand is called that"):
        weave_in(work, "other")
    draw_up(work)
    weave_in(work, "main")
    assert work.strands[0].woven == (True, True)


def test_a_round_begins_elsewhere_only_if_it_is_joined() -> None:
    with pytest.raises(CannotWorkError, match="the work is not joined"):
        wrapped().begin_round_here()


@pytest.mark.parametrize("close", [graft, three_needle_bind_off, draw_up, bind_off])
def test_no_wrap_waits_beside_what_is_closed(close: Callable[[Work], None]) -> None:
    work = wrapped()
    work.turn()
    work.row(["p"] * 3)
    close(work)
    assert not len(work.fabric().wraps.get("wrap", ()))


@pytest.mark.parametrize(("keys", "advice"), [(4, "add 2"), (7, "leave out 1")])
def test_what_would_mend_a_row_is_said(keys: int, advice: str) -> None:
    with pytest.raises(CountError) as refusal:
        tube(6).round(["k"] * keys)
    assert refusal.value.advice == advice
