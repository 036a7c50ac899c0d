"""What a change in the code went unnoticed by, once: needles, floats, refusals, passes of a graft.

Each was named by `tests/faults/mutate.py`; what is asked for follows from how stitches lie.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from loopwright.errors import CannotWorkError, StitchDefinitionError
from loopwright.fabric import Stitch, same_fabric
from loopwright.fabric.checks import place_in_words
from loopwright.fabric.columns import FLOAT, FLOAT_FRONT
from loopwright.making import (
    GRAFTS,
    Work,
    bind_off,
    cast_on,
    draw_up,
    graft,
    graft_passes,
    hold,
    lift_strand,
    pick_up,
    return_held,
    three_needle_bind_off,
    waste_row,
)
from loopwright.making._needles import Op
from loopwright.making.casting import spread
from together import together


def rounds(count: int, times: int = 0) -> Work:
    work = Work()
    cast_on(work, count)
    work.join_round()
    work.plain_rounds(times)
    return work


def test_needles_are_counted_from_one() -> None:
    work = rounds(6)
    work.arrange((2, 4))
    assert {name: len(loops) for name, loops in work.fabric().needles.items()} == {
        "needle 1": 2, "needle 2": 4,
    }  # fmt: skip


def test_stitches_on_one_needle_stay_on_it() -> None:
    work = rounds(6)
    work.work(["k", "k"])
    work.begin_round_here()
    assert work.needle_counts == (6,)


def test_a_needle_that_begins_where_the_round_begins_leaves_the_first_empty() -> None:
    work = rounds(6)
    work.arrange((3, 3))
    work.begin_needle_here(2)
    assert work.needle_counts == (0, 6)


def test_a_needle_begins_where_the_round_begins() -> None:
    work = rounds(6)
    work.arrange((2, 2, 2))
    work.work(["k"] * 3)
    work.begin_round_here()
    # Edges stood before stitches 0, 2 and 4; counted from stitch 3 they are at 3, 5 and 1.
    assert work.needle_counts == (1, 2, 2, 1)


def test_needles_keep_their_stitches_when_some_were_held() -> None:
    work = rounds(6)
    work.arrange((3, 3))
    work.work(["k"])
    hold(work, 1, "cable needle")
    assert work.needle_counts == (2, 3)
    return_held(work, "cable needle", next_to_work=True)
    assert work.needle_counts == (3, 3)


@pytest.mark.parametrize("turned", [False, True])
def test_the_end_of_a_round_is_no_neighbour_of_the_first_row(turned: bool) -> None:
    work = rounds(4, 1)
    if turned:
        work.turn()
    work.round(["k"] * 4)
    last = work.columns.loops.size - 1
    work.to_rows()
    work.work(["sl", "k"])
    fabric = work.fabric()
    pairs = set(zip(fabric.right.tolist(), fabric.left.tolist(), strict=True))
    slipped = int(fabric.live[0 if work.right_side_facing else -1])
    assert (last, slipped) not in pairs
    assert (slipped, last) not in pairs


def test_a_round_of_slips_passes_the_last_loop_of_its_own_yarn() -> None:
    work = rounds(3, 1)
    last = work.columns.loops.size - 1
    work.round(["sl"] * 3)
    work.work(["k"])
    assert work.fabric().flags[last] & FLOAT


def test_the_first_stitch_after_a_turn_is_slipped_where_its_yarn_hangs() -> None:
    work = Work()
    cast_on(work, 3)
    work.turn()
    work.row(["sl", "p", "p"])
    assert not np.any(work.fabric().flags & FLOAT)
    work.row(["sl", "sl", "k"])  # the second slip is passed
    assert np.count_nonzero(work.fabric().flags & FLOAT) == 1


def test_both_ways_of_grafting_go_through_the_same_stitches() -> None:
    single, merged = (graft_passes(4, how=how) for how in GRAFTS)
    assert [t for one in single for t in one.through] == [t for one in merged for t in one.through]
    assert (len(single), len(merged)) == (16, 12)  # the yarn goes from back to front 4 times
    assert graft_passes(0) == graft_passes(0, how=GRAFTS[1]) == ()


def test_nothing_can_be_drawn_up_from_empty_needles() -> None:
    work = Work()
    work.join_yarn("main")
    with pytest.raises(CannotWorkError, match="nothing on the needles"):
        draw_up(work)


def test_faces_are_told_by_the_graph() -> None:
    work = rounds(2)
    work.round(["k", "p"])
    faces = {
        child: data["face"]
        for _, child, kind, data in work.fabric().graph.edges(keys=True, data=True)
        if kind == "through"
    }
    assert faces == {2: "k", 3: "p"}


def test_a_loop_that_is_not_there_has_its_number_for_a_place() -> None:
    fabric = rounds(2).fabric()
    assert place_in_words(fabric, [2]) == "loop 2"
    assert place_in_words(fabric, [1]).startswith("course 0, stitch 2 of 2")
    assert place_in_words(fabric, [0]).startswith("course 0, stitch 1 of 2")


def test_waste_yarn_over_some_stitches_leaves_the_work_where_it_stood() -> None:
    work = rounds(4, 1)
    before = work.course, work.left, work.needle_counts
    waste_row(work, 2)
    assert (work.course, work.left, work.needle_counts) == before


@pytest.mark.parametrize(("takes", "makes"), [(7, 1), (1, 9)])
def test_the_largest_stitches(takes: int, makes: int) -> None:
    Stitch("mine", "a large one", takes, makes, tuple(range(takes)), "k" * makes)
    with pytest.raises(StitchDefinitionError):
        Stitch("mine", "a larger one", takes + (takes > 1), makes + (makes > 1),
               tuple(range(takes + (takes > 1))), "k" * (makes + (makes > 1)))  # fmt: skip


def test_a_stitch_and_a_strand_are_several_too() -> None:
    """Several into several is two stitches (docs of `Stitch`); into one, it is a decrease."""
    one = Stitch("mine", "with the strand before it", 1, 1, (0, 1), "k", lifts=1)
    assert (one.takes, one.lifts, one.makes) == (1, 1, 1)
    with pytest.raises(StitchDefinitionError, match="two stitches, not one"):
        Stitch("mine", "twice with the strand before it", 1, 2, (0, 1), "kk", lifts=1)


def test_a_strand_that_is_lifted_moves_no_needle_or_marker_before_it() -> None:
    work = rounds(8, 2)
    work.work(["k"] * 2)
    work.place_marker("here")
    work.work(["k"] * 2)
    work.arrange((2, 4, 2))
    lift_strand(work, (20, 21), left_flank=False, beyond=True)  # under the next two
    assert work.needle_counts == (2, 5, 2)
    work.round(["k"] * 5)
    assert work.to_marker("here") == 2


@together(("turned", "beyond"), [(False, False), (True, False), (False, True)])
def test_markers_and_needles_beside_a_strand_that_is_lifted(turned: bool, beyond: bool) -> None:
    """Of 8, three are worked; a marker stands there, and one behind the stitch after it.

    What is lifted comes between them, on the needle of the one stitch that stood there.
    """
    work = rounds(8, 2)
    if turned:
        work.turn()
    work.work(["k"] * 3)
    work.place_marker("here")
    work.work(["k"])
    work.place_marker("behind the next")
    work.work(["k"] * 4)
    work.arrange((4, 1, 3) if turned else (3, 1, 4))
    work.work(["k"] * 3)
    ahead, fabric = int(work.upcoming[0]), work.fabric()
    here, behind = (int(fabric.previous[ahead]), ahead), (ahead, int(fabric.next[ahead]))
    strand = behind if beyond else here
    lift_strand(work, strand, left_flank=turned, beyond=beyond)
    assert [work.to_marker(name) for name in ("here", "behind the next")] == [0, 2]
    assert work.needle_counts == ((4, 2, 3) if turned else (3, 2, 4))


def test_a_way_of_closing_that_is_unknown_is_refused_with_where_the_work_stands() -> None:
    work = rounds(8, 2)
    with pytest.raises(CannotWorkError) as refusal:
        bind_off(work, how="by magic")
    assert (refusal.value.course, refusal.value.live) == (3, 8)
    with pytest.raises(CannotWorkError) as alone:
        graft_passes(4, how="by magic")
    assert (alone.value.course, alone.value.live) == (0, 0)


def test_to_change_to_the_yarn_in_hand_changes_nothing() -> None:
    plain, changed = rounds(4, 1), rounds(4, 1)
    for work in (plain, changed):
        work.work(["k", "sl"])
    changed.change_to("main")
    for work in (plain, changed):
        work.work(["k", "k"])
    assert same_fabric(plain.fabric(), changed.fabric())
    assert np.count_nonzero(changed.fabric().flags & FLOAT) == 1


def test_a_strand_lifted_in_midst_of_a_needle_moves_its_end() -> None:
    work = rounds(6, 1)
    work.arrange((3, 3))
    work.work(["k", "m1l", *["k"] * 5])
    assert work.needle_counts == (4, 3)


def test_one_place_is_taken_as_often_as_it_is_wanted() -> None:
    assert spread(1, 3) == [0, 0, 0]
    assert spread(3, 0) == []
    with pytest.raises(CannotWorkError, match="0 places"):
        spread(0, 2)


def test_stitches_are_picked_up_with_a_yarn_in_hand_only() -> None:
    """Asked first, in the words of what was asked for."""
    work = rounds(6, 2)
    work.cut()
    with pytest.raises(CannotWorkError, match="pick up 2 stitches") as refusal:
        pick_up(work, [0, 1])
    assert "no yarn is joined" in refusal.value.problem


def test_a_round_that_begins_elsewhere_leaves_stitches_on_their_needles() -> None:
    """By hand: needles begin at stitches 0, 2 and 5 of 8; counted from the second, at 7, 1, 4."""
    work = rounds(8)
    work.arrange((2, 3, 3))
    work.work(["k"])
    work.begin_round_here()
    assert work.needle_counts == (1, 3, 3, 1)


def test_one_stitch_can_be_cast_on_and_none_can_not() -> None:
    work = Work()
    with pytest.raises(CannotWorkError, match="1 or more"):
        cast_on(work, 0)
    cast_on(work, 1)
    assert work.count == 1


def test_how_the_work_stands_can_be_looked_at_and_not_changed() -> None:
    standing = rounds(4).standing()
    with pytest.raises(ValueError, match="read-only"):
        standing.live[0] = 3


def test_what_is_put_back_on_the_wrong_side_stands_between_the_markers_as_before() -> None:
    """Knitted: 2, marker a, 4. Purled: 2, marker b, and the third is held and put back."""
    work = Work()
    cast_on(work, 6)
    work.turn()
    work.row(["p"] * 6)
    work.work(["k"] * 2)
    work.place_marker("a")
    work.work(["k"] * 4)
    work.turn()
    work.work(["p"] * 2)
    work.place_marker("b")
    hold(work, 1, "cable needle")
    return_held(work, "cable needle", next_to_work=True)
    assert (work.to_marker("b"), work.to_marker("a")) == (0, 2)
    work.work(["p"])
    assert work.to_marker("a") == 1


@together("count", [12, 9])  # to the midst of the round, and to its end
@together("then", [["m1l", "k"], ["sl", "k"], ["k", "m1l", "k"]])
def test_runs_of_two_yarns_made_at_once_are_those_made_one_by_one(
    then: list[str], count: int
) -> None:
    fabrics, places = [], []
    for at_once in (True, False):
        work = rounds(count, 1)
        work.work(["k"] * 2)
        work.join_yarn("other")
        work.work(["k"] * 2)
        runs = (("main", ("k", "k", "k")), ("other", ("k", "k")))
        if at_once:
            work._work_stranded(runs)
        for name, keys in () if at_once else runs:
            work.change_to(name)
            work.work(keys)
        hands = (work._pairs, work._last_taken, work._behind, work._line)
        places.append((*hands, work.live.tolist(), work.course, work.left))
        work.work(then)
        fabrics.append(work.fabric())
    assert same_fabric(*fabrics)
    assert places[0] == places[1]
    assert fabrics[0].ledger.tolist() == fabrics[1].ledger.tolist()


def test_a_float_begins_at_the_last_stitch_that_was_worked() -> None:
    """The yarn hangs where the last of the slipped stitches had it: in front, or in back."""
    for slips, in_front in ((["sl", "slf"], True), (["slf", "sl"], False)):
        work = rounds(8, 1)
        work.work(["slf", "sl", "k", "k", *slips])
        work.work(["k"])
        flags = work.fabric().flags[-3:]  # three were made
        assert [bool(one & FLOAT) for one in flags] == [False, True, False]
        assert bool(flags[1] & FLOAT_FRONT) is in_front
    work = rounds(8, 1)
    work.work(["k", "k", "sl"])
    work.work(["k"])
    assert [bool(one & FLOAT) for one in work.fabric().flags[-3:]] == [False, True, False]


def test_a_strand_that_is_lifted_stands_before_the_markers_ahead() -> None:
    """Four stitches stood before it, and the strand makes five."""
    work = rounds(8, 1)
    work.work(["k"] * 6)
    work.place_marker("there")
    for _ in range(2):
        work.work(["k"] * 2)
    assert work.to_marker("there") == 4
    lift_strand(work, (17, 18), left_flank=False)
    assert work.to_marker("there") == 5


def test_nothing_is_grafted_without_yarn() -> None:
    work = rounds(6, 1)
    work.cut()
    with pytest.raises(CannotWorkError, match=r"graft 6 stitches.*no yarn is joined"):
        graft(work)


def test_what_is_cast_on_and_what_is_worked_are_told_apart() -> None:
    cast, worked = rounds(6, 1).fabric().ledger.tolist()
    assert (cast[0], worked[0]) == (Op.CAST_ON, Op.WORK)
    assert len({*Op}) == len(Op.__members__)


def test_a_count_may_be_stated_before_the_last_stitch_is_doubled() -> None:
    """Stating a count makes nothing, and the doubled stitch is the last that was made."""
    work = Work()
    cast_on(work, 6)
    work.turn()
    work.work(["p"] * 3)
    work.state_count(6)
    work.turn()
    work.double_stitch()
    assert [row[3:5] for row in work.fabric().ledger.tolist() if row[0] == Op.WORK] == [[2, 2]]


@pytest.mark.parametrize("times", [1, 3])
def test_rounds_need_a_yarn_however_many_they_are(times: int) -> None:
    work = rounds(6, 1)
    work.cut()
    with pytest.raises(CannotWorkError, match="no yarn is joined"):
        work.plain_rounds(times)
    assert (work.count, work.course) == (6, 2)


@pytest.mark.parametrize("close", [graft, three_needle_bind_off])
@pytest.mark.parametrize("worked", [0, 1, 2, 5, 8])
def test_halves_face_each_other_from_where_the_work_stands(
    close: Callable[[Work], None], worked: int
) -> None:
    """Of 8, counted from there: the first faces the last, the second the last but one."""
    work = rounds(8, 1)
    work.work(["k"] * worked)
    around = [*work.upcoming.tolist(), *work.live.tolist()[: worked % 8]]
    before = work.columns.loops.size
    close(work)
    fabric = work.fabric()
    made = [
        [child - before for child in fabric.child[fabric.parent == loop].tolist()]
        for loop in around
    ]
    if close is graft:  # by turns: near, far, near, far ...
        assert made == [[0], [2], [4], [6], [7], [5], [3], [1]]
    else:
        assert made == [[0], [1], [2], [3], [3], [2], [1], [0]]


def test_nothing_is_drawn_up_without_yarn() -> None:
    work = rounds(6, 1)
    work.cut()
    before = work.fabric()
    with pytest.raises(CannotWorkError, match=r"draw up the stitches.*no yarn is joined"):
        draw_up(work)
    assert work.fabric() == before
    assert work.count == 6


def test_no_stitch_of_a_crossing_is_doubled() -> None:
    work = Work()
    cast_on(work, 4)
    work.turn()
    work.work(["1/1lc"])
    work.turn()
    before = work.fabric()
    with pytest.raises(CannotWorkError, match="the last stitch is one of a crossing"):
        work.double_stitch()
    assert work.fabric() == before


def test_a_round_is_worked_where_it_is_joined() -> None:
    work = Work()
    cast_on(work, 4)
    work.turn()
    with pytest.raises(CannotWorkError, match="the work is not joined"):
        work.round(["k"] * 4)
    assert work.left == 4


def test_holders_that_are_in_use_are_named() -> None:
    work = rounds(6, 1)
    with pytest.raises(CannotWorkError, match="holders in use: none"):
        return_held(work, "instep")
    hold(work, 2, "heel")
    with pytest.raises(CannotWorkError, match="holders in use: heel"):
        return_held(work, "instep")


def test_a_second_yarn_that_nobody_names_is_the_second() -> None:
    work = rounds(6, 1)
    bind_off(work)
    cast_on(work, 4)
    assert [strand.name for strand in work.strands] == ["main", "yarn 2"]


@pytest.mark.parametrize("turned", [False, True])
def test_yarn_that_was_left_for_another_goes_on_as_it_came(turned: bool) -> None:
    """What stands behind its first stitch, of the yarn before it, was not passed."""
    work = rounds(6, 1)
    if turned:
        work.turn()
    work.work(["k"] * 2)
    work.join_yarn("second")
    work.work(["k"])
    work.join_yarn("third")
    work.change_to("second")
    work.work(["k"] * 3)
    fabric = work.fabric()
    second = fabric.strand == [strand.name for strand in fabric.strands].index("second")
    assert not (fabric.flags[second] & FLOAT).any()


def test_too_many_stitches_say_how_many_are_left_and_to_turn_only_behind_the_last() -> None:
    work = Work()
    cast_on(work, 4)
    work.turn()
    work.work(["k"] * 3)
    with pytest.raises(CannotWorkError, match="2 stitches are wanted and 1 is left") as refused:
        work.work(["k2tog"])
    assert "turn" not in str(refused.value)
    nothing = Work()
    nothing.join_yarn("main")
    with pytest.raises(CannotWorkError, match="1 stitch is wanted and 0 are left") as empty:
        nothing.work(["k"])
    assert "turn" not in str(empty.value)


def test_a_needle_may_be_empty() -> None:
    work = rounds(6)
    work.arrange((0, 6))
    assert work.needle_counts == (0, 6)


@pytest.mark.parametrize("later", [1, 600])
def test_a_yarn_of_one_loop_goes_on_from_it(later: int) -> None:
    work = Work()
    cast_on(work, 1)
    work.join_yarn("second")
    cast_on(work, later)
    work.turn()
    work.change_to("main")
    work.work(["k"])
    assert work.fabric().next[0] == later + 1
