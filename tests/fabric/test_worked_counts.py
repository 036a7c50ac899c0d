"""Cells counted by hand and by an independent prototype, exactly, for either hand.

Reference: the theory of the loop graph as this project states it in
`docs/explanation` (orders of edges round a loop, what the cells say). Its counts were worked out on
a program that shares no code with this one, and follow by hand: a row of n stitches knitted on to n
adds n loops, 2n edges and n cells.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from fabric.pieces import (
    PIECES,
    afterthought,
    bound_off,
    closed_tube,
    flap_and_gusset,
    flat,
    forethought,
    short_rows,
    short_rows_in_tube,
    slip_stitch_tube,
    tube,
    wedge,
)
from loopwright.fabric import Fabric
from loopwright.making import Hand, Work, closed_cast_on, draw_up

HANDS = pytest.mark.parametrize("hand", list(Hand))


def counted(fabric: Fabric) -> tuple[int, int, int]:
    surface = fabric.surface
    return surface.vertices, surface.edges, surface.cells


@HANDS
def test_tube(hand: Hand) -> None:
    fabric = tube(16, 6, hand).fabric()
    assert counted(fabric) == (96, 175, 81)
    assert fabric.cell_sizes() == {4: 79, 17: 2}


@HANDS
def test_closed_tube(hand: Hand) -> None:
    fabric = closed_tube(hand).fabric()
    assert counted(fabric) == (136, 263, 129)
    assert fabric.cell_sizes() == {3: 9, 4: 113, 5: 6, 17: 1}


@HANDS
def test_tube_bound_off(hand: Hand) -> None:
    fabric = bound_off("plain", hand).fabric()
    assert counted(fabric) == (72, 142, 72)
    assert fabric.cell_sizes() == {2: 11, 4: 59, 13: 2}


@HANDS
@pytest.mark.parametrize("name", PIECES)
def test_every_piece_is_a_sphere_with_openings(name: str, hand: Hand) -> None:
    """V - E + C = 2, and openings where the piece ends and nowhere else."""
    fabric = PIECES[name](hand).fabric()
    assert fabric.euler_characteristic == 2
    two = (
        "tube", "tube with short rows", "tube with wraps", "tube with wraps left alone",
        "tube with double stitches", "slip stitches", "increases and decreases", "bound off",
        "bound off, stretchy", "heel held", "heel closed, waste in", "heel, waste out",
        "heel, recaptured", "crossings",
    )  # fmt: skip
    assert len(fabric.openings) == (2 if name in two else 1)


@HANDS
def test_a_hand_changes_the_side_and_nothing_else(hand: Hand) -> None:
    for name, make in PIECES.items():
        mirrored, straight = make(hand).fabric(), make(Hand.RIGHT).fabric()
        assert mirrored.cell_sizes() == straight.cell_sizes(), name
        assert (mirrored.side == hand.value * straight.side).all(), name


@HANDS
@pytest.mark.parametrize("sock", [forethought, afterthought])
def test_sock_with_a_heel_over_waste_yarn_has_two_corner_holes_of_seven(
    sock: Callable[..., Work], hand: Hand
) -> None:
    fabric = sock("sock", hand=hand).fabric()
    assert [cell.size for cell in fabric.gaps(6)] == [7, 7]
    assert len(fabric.openings) == 1
    assert fabric.cell_sizes()[7] == 2


@HANDS
@pytest.mark.parametrize("sock", [forethought, afterthought])
def test_lifting_at_the_other_corner_moves_an_edge_to_where_the_round_begins(
    sock: Callable[..., Work], hand: Hand
) -> None:
    """The corner whose strand is lifted loses an edge; the one where the round begins has one
    more, so that the other choice makes 7 + 7 into 8 + 6.
    """
    fabric = sock("sock", corner="last", hand=hand).fabric()
    assert [cell.size for cell in fabric.gaps(6)] == [8]
    assert sorted(cell.size for cell in fabric.gaps(5)) == [6, 8]


@HANDS
def test_heel_made_at_once_and_heel_opened_later_have_equal_parts(hand: Hand) -> None:
    """Another order of work, the same heel: decreases, graft and corners count the same."""
    at_once = forethought("sock", hand=hand).fabric().cell_sizes()
    later = afterthought("sock", hand=hand).fabric().cell_sizes()
    assert {k: n for k, n in at_once.items() if k != 4} == {
        k: n for k, n in later.items() if k != 4
    }


@HANDS
def test_unworked_heel_has_two_openings_and_recaptured_edge_has_cells_of_five(hand: Hand) -> None:
    out, recaptured = forethought("out", hand=hand), forethought("recaptured", hand=hand)
    assert len(out.fabric().openings) == len(recaptured.fabric().openings) == 2
    before, after = out.fabric().cell_sizes(), recaptured.fabric().cell_sizes()
    # 24 lifted strands: each makes the cell below it one larger, 4 to 5 (model, section 4).
    assert (after[4], after[5]) == (before[4] - 24, before[5] + 24)


@pytest.mark.parametrize(("count", "stop", "each"), [(48, 16, 8), (64, 20, 10)])
def test_provisional_cast_on_restores_the_round_and_the_wedge_ends_at_a_third(
    count: int, stop: int, each: int
) -> None:
    """Common practice: 24 held + 24 new = 48; 48 -> 16, 64 -> 20; graft 8 to 8, 10 to 10."""
    work = forethought("held", count)
    assert (work.count, work.held["instep"]) == (count, count // 2)
    rounds = work.course
    work.plain_rounds(1)
    wedge(work, stop)
    assert work.count == stop == 2 * each
    decrease_rounds = (count - stop) // 4
    assert work.course - rounds == 1 + 2 * decrease_rounds - 1  # ends on a decrease round


@HANDS
@pytest.mark.parametrize("count", [24, 48, 64])
def test_as_many_come_back_as_were_cast_on(count: int, hand: Hand) -> None:
    work = forethought("recaptured", count, hand=hand)
    assert work.count == count


@HANDS
def test_flap_picked_up_along_slipped_and_worked_edges(hand: Hand) -> None:
    slipped, worked = flap_and_gusset(hand), flap_and_gusset(hand, slip=False)
    for fabric in (slipped.fabric(), worked.fabric()):
        assert fabric.euler_characteristic == 2
        assert fabric.gaps(6) == ()
    # Where a row's first stitch is worked, its selvedge has a cell of 2 (model, section 4).
    assert worked.fabric().cell_sizes()[2] > slipped.fabric().cell_sizes()[2]


@HANDS
def test_short_rows_left_as_they_are_show_holes_of_eight(hand: Hand) -> None:
    assert [cell.size for cell in short_rows("plain", hand).fabric().gaps(6)] == [8] * 6


@HANDS
@pytest.mark.parametrize("how", ["wrap", "double"])
def test_short_rows_wrapped_or_doubled_have_no_hole(how: str, hand: Hand) -> None:
    assert short_rows(how, hand).fabric().gaps(6) == ()
    assert short_rows_in_tube(how, hand).fabric().gaps(6) == ()


@HANDS
def test_wraps_that_are_not_worked_with_their_stitches_leave_holes(hand: Hand) -> None:
    fabric = short_rows_in_tube("wrap, left alone", hand).fabric()
    assert [cell.size for cell in fabric.gaps(6)] == [7] * 6


@HANDS
def test_selvedges(hand: Hand) -> None:
    """A worked first stitch makes a cell of 2; a slipped one a chain along the edge."""
    assert flat(6, 6, "k", hand).fabric().cell_sizes() == {2: 6, 4: 30, 22: 1}
    assert flat(6, 6, "sl", hand).fabric().cell_sizes() == {2: 1, 3: 5, 4: 25, 17: 1}


@HANDS
def test_slip_stitch_tube_has_no_hole(hand: Hand) -> None:
    fabric = slip_stitch_tube(hand).fabric()
    assert fabric.gaps(4) == ()


@HANDS
def test_closed_cast_on_is_no_opening(hand: Hand) -> None:
    work = Work(hand=hand)
    closed_cast_on(work, 8)
    work.join_round()
    work.plain_rounds(3)
    fabric = work.fabric()
    assert [cell.size for cell in fabric.openings] == [17]
    # 7 on either side (model, section 4), and one where the round begins.
    assert fabric.cell_sizes()[5] == 15


@HANDS
def test_a_drawn_up_end_is_closed_and_no_opening(hand: Hand) -> None:
    work = tube(12, 5, hand)
    draw_up(work)
    fabric = work.fabric()
    assert [cell.size for cell in fabric.openings] == [13]
    assert fabric.gaps(6) == ()


@pytest.mark.parametrize(
    ("keys", "sizes"),
    [
        (["k2tog"], {3: 1}),
        (["ssk"], {3: 1}),
        (["cdd"], {3: 2}),
        (["sk2p"], {3: 2}),
        (["rdd"], {3: 2}),
        (["kfb"], {3: 1}),
        (["kpk"], {3: 2}),
        (["yo"], {5: 1}),
        (["m1l"], {5: 1}),
        (["m1r"], {5: 1}),
    ],
)
@HANDS
def test_cells_of_one_decrease_or_increase_in_a_tube(
    keys: list[str], sizes: dict[int, int], hand: Hand
) -> None:
    """Two together 3, a double decrease two of them, two in one 3, a lifted strand or a yarn over
    5 (model, section 4).
    """
    work = tube(12, 4, hand)
    row = work.stitches[keys[0]]
    work.round([*["k"] * 4, *keys, *["k"] * (8 - row.takes)])
    work.plain_rounds(2)
    found = work.fabric().cell_sizes()
    assert {size: n for size, n in found.items() if size in (3, 5)} == sizes
