"""What happens where a round ends: increases, lifted strands, stitches held there."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product

from fabric.pieces import tube
from loopwright.fabric import same_fabric
from loopwright.making import Hand, Work, bind_off, cast_on, closed_cast_on, hold, lift_strand
from making.knitter import sound
from together import together


def closed(hand: Hand) -> Work:
    work = Work(hand=hand)
    closed_cast_on(work, 3)
    work.join_round()
    return work


def turned(hand: Hand) -> Work:
    work = tube(6, 2, hand)
    work.turn()
    return work


def turned_before(hand: Hand) -> Work:
    work = turned(hand)
    work.round(["p"] * 6)
    return work


@together("last", [["m1l"], ["m1r"], ["m1l", "m1r"], ["m1l", "yo"], ["yo", "m1l"]])
@together("hand", Hand)
@together("start", [closed, turned, turned_before])
def test_an_increase_that_ends_a_round_is_the_one_between_however_it_is_told(
    start: Callable[[Hand], Work], hand: Hand, last: list[str]
) -> None:
    """Several calls make what one makes; the strand may lead to a stitch of this very round."""
    keys = ["k"] * 6 + last
    fabrics = []
    for cut in (0, 3, len(keys) - 1):
        work = start(hand)
        work.work(keys[:cut])
        work.work(keys[cut:])
        fabrics.append(work.fabric())
    assert all(same_fabric(one, fabrics[0]) for one in fabrics[1:])


def knit(work: Work, many: int) -> None:
    work.work(["k"] * many)


@together(("facing", "hand"), product((True, False), Hand))
@together("then", [hold, bind_off, cast_on, knit])
def test_behind_stitches_held_at_the_end_of_a_round_comes_the_next(
    then: Callable[..., object], facing: bool, hand: Hand
) -> None:
    """Of six the last two are held; then what is asked of a stitch is asked of the first."""
    work = tube(6, 2, hand) if facing else turned(hand)
    first = work.upcoming[:4].tolist()
    work.work(["k"] * 4)
    made = work.live.tolist() if facing else work.live[::-1].tolist()
    made = [loop for loop in made if loop not in first][:4]
    hold(work, 2, "held")
    course = work.course
    if then is hold:
        hold(work, 1, "other")
        assert work._held["other"].tolist() == made[-4:-3]
        assert work.count == 3
    elif then is bind_off:
        bind_off(work, 2)
        assert (work.count, work.left) == (3, 2)
    elif then is knit:
        knit(work, 1)
        assert work.fabric().course[-1] == work.course == course + 1
        assert (work.count, work.left) == (4, 3)
    else:
        cast_on(work, 1)
        work.round(["k"] * 5)
        assert (work.count, work.left) == (5, 5)
    sound(work.fabric())


@together("hand", Hand)
@together("facing", [True, False])
def test_a_strand_lifted_at_the_end_of_a_round_begins_the_next(facing: bool, hand: Hand) -> None:
    """With the last stitches on a holder, and the right or the wrong side facing."""
    work = tube(6, 2, hand) if facing else turned_before(hand)
    work.work(["k"] * 4)
    hold(work, 2, "held")
    first = int(work.upcoming[0])
    strand = (int(work.fabric().previous[first]), first)
    course = work.course
    lifted = lift_strand(work, strand)
    assert work.upcoming.tolist()[:2] == [lifted, first]
    assert (work.left, work.count, work.course) == (5, 5, course + 1)
