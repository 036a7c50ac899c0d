"""The smallest cases in which random knitting found the map, the needles or the books wrong.

Each runs with a knitter's own books beside it, which are compared after every step (and the map
asked for V - E + C = 2); the comment says what had gone wrong.
"""

from __future__ import annotations

from typing import Any

import pytest

from loopwright.errors import CannotWorkError, CountError
from loopwright.fabric import check
from loopwright.making import (
    Hand,
    Work,
    bind_off,
    cast_on,
    pick_up,
    recapture,
    take_out,
    three_needle_bind_off,
    waste_row,
)
from making.knitter import Knitter

Steps = list[tuple[Any, ...]]

FOUND: dict[str, Steps] = {
    # The end of a round stayed noted when all was bound off, or closed, behind it.
    "turned with stitches recaptured after a bind-off": [
        ("closed_cast_on", 1), ("join_round",), ("bind_off", 2, "plain"),
        ("provisional_cast_on", 1, "waste"), ("to_rows",), ("waste_row", 1, "waste row"),
        ("bind_off", 1, "plain"), ("join_yarn", "yarn"), ("recapture", "waste", "first"), ("turn",),
    ],
    "turned with stitches recaptured after drawing up": [
        ("cast_on", 1), ("join_round",), ("to_rows",), ("waste_row", 1, "waste"),
        ("close", "draw up"), ("join_yarn", "yarn"), ("recapture", "waste", "first"), ("turn",),
    ],
    # A ring that lies behind the work begins again where it is grafted.
    "grafted past a waste row, with all behind": [
        ("cast_on", 2), ("join_round",), ("waste_row", 2, "waste"), ("to_rows",),
        ("hold", 2, "holder"), ("return_held", "holder"), ("turn",), ("close", "graft"),
    ],
    # The loop behind was taken for the one below: the float seemed to pass nothing.
    "bound off in part and grafted": [
        ("cast_on", 3), ("join_round",), ("to_rows",), ("bind_off", 2, "plain"),
        ("stitches", ["sl"]), ("close", "graft"),
    ],
    # The wrap went on waiting beside a loop of the waste yarn that was gone.
    "a double stitch of waste yarn taken out": [
        ("cast_on", 2), ("turn",), ("stitches", ["k"]), ("waste_row", 1, "waste 1"),
        ("stitches", ["k"]), ("turn",), ("double_stitch",), ("stitches", ["p"]), ("turn",),
        ("stitches", ["k"]), ("waste_row", 1, "waste 2"), ("close", "draw up"),
        ("take_out", "waste 1"),
    ],
    # Nothing went wrong here: what stood beside a slipped waste loop stands beside nothing now.
    "a waste stitch slipped, and taken out": [
        ("cast_on", 6), ("join_round",), ("waste_row", 3, "waste"),
        ("stitches", ["k", "sl", "k", "k", "k", "k"]), ("stitches", ["k"] * 6),
        ("take_out", "waste"),
    ],
    # The first loop of the row stands outside the loop turned after, not beyond it.
    "yarn over first in a row": [
        ("cast_on", 2), ("turn",), ("stitches", ["yo", "k", "k"]),
    ],
    "the same above waste yarn": [
        ("cast_on", 2), ("turn",), ("waste_row", 2, "waste"), ("stitches", ["k", "k"]),
    ],
    # Turned twice with nothing worked: no turn at all.
    "turned back": [
        ("cast_on", 2), ("turn",), ("stitches", ["k"]), ("turn",), ("stitches", ["sl"]), ("turn",),
        ("stitches", ["k", "k"]),
    ],
    # A yarn over after turning at the beginning of a round came on to the wrong end.
    "yarn over after a turn in the round": [
        ("cast_on", 2), ("join_round",), ("turn",), ("stitches", ["yo", "k", "k"]),
    ],
    # Slips beside stitches that make more than they take read past the end.
    "slip beside increases": [
        ("cast_on", 3), ("join_round",), ("stitches", ["sl", "kfb", "kfb"]),
    ],
    # The yarn goes once round: it passes its own last loop.
    "a round of slips": [
        ("cast_on", 3), ("join_round",), ("stitches", ["sl"] * 3), ("stitches", ["k"] * 3),
    ],
    # The neighbour at the base of a turned loop stood above the next one.
    "slipped, turned and slipped": [
        ("cast_on", 3), ("turn",), ("stitches", ["k", "sl", "k"]), ("turn",), ("stitches", ["sl"]),
        ("stitches", ["k", "k"]),
    ],
    "wrap beside a slipped stitch": [
        ("cast_on", 3), ("turn",), ("stitches", ["k", "sl"]), ("wrap",), ("turn",),
    ],
    # A wrap was worked with the first loop into its stitch, on whichever side it stood.
    "wrap worked into several times": [
        ("cast_on", 3), ("join_round",), ("cast_on", 1), ("wrap",), ("turn",), ("stitches", ["k"]),
        ("stitches", ["p2tog"]), ("stitches", ["kpk"], True),
    ],
    "increase after turning in the round": [
        ("cast_on", 2), ("turn",), ("join_round",), ("stitches", ["k", "k", "m1r"]),
    ],
    # A strand below a float was lifted through it.
    "increase below a float": [
        ("provisional_cast_on", 3, "waste"), ("join_round",), ("stitches", ["sl"] * 3),
        ("bind_off", 2, "plain"), ("stitches", ["k", "m1l"]),
    ],
    # The first half of the round had been worked when the second was refused.
    "increase refused at the end of a round": [
        ("cast_on", 2), ("join_round",), ("stitches", ["sl"]), ("stitches", ["sl", "m1l"]),
    ],
    "slip after a bind-off": [
        ("cast_on", 2), ("join_round",), ("bind_off", 1, "plain"), ("stitches", ["k"]),
        ("stitches", ["sl", "k"]),
    ],
    "turn and slip after a bind-off": [
        ("cast_on", 2), ("join_round",), ("bind_off", 1, "plain"), ("turn",), ("stitches", ["sl"]),
        ("stitches", ["k", "k"]),
    ],
    "stretchy bind-off in part, then on": [
        ("cast_on", 5), ("turn",), ("bind_off", 3, "stretchy"), ("stitches", ["k", "k"]),
        ("turn",), ("stitches", ["k", "sl", "k"]),
    ],
    # The yarn's own loop was the first that a far stitch faced.
    "three needles from the middle": [
        ("cast_on", 2), ("turn",), ("stitches", ["slf"]), ("close", "three needles"),
    ],
    "three needles with a new yarn": [
        ("cast_on", 2), ("join_yarn", "other"), ("close", "three needles"),
    ],
    "another yarn from the round before": [
        ("cast_on", 2), ("join_yarn", "other"), ("join_round",), ("bind_off", 1, "plain"),
        ("change_to", "main"), ("stitches", ["k"]),
    ],
    "turn after a closed cast-on": [
        ("closed_cast_on", 1), ("join_round",), ("turn",), ("stitches", ["k", "k"]),
    ],
    "increase in the round after a closed cast-on": [
        ("closed_cast_on", 2), ("join_round",), ("stitches", ["k"] * 4), ("stitches", ["m1r"]),
    ],
    # Held to the end of a round and returned, the stitches changed places.
    "held at the end of a round": [
        ("cast_on", 4), ("join_round",), ("stitches", ["k"]), ("hold", 3, "holder"),
        ("return_held", "holder"), ("stitches", ["k"] * 3), ("stitches", ["k"] * 4),
    ],
    # Knitted in on the wrong side, the loops below came back in mirrored order.
    "waste row on the wrong side": [
        ("cast_on", 4), ("join_round",), ("turn",), ("waste_row", 3, "waste"),
        ("close", "draw up"), ("join_yarn", "other"), ("recapture", "waste", "first"),
        ("stitches", ["k"] * 3),
    ],
}  # fmt: skip


@pytest.mark.parametrize("hand", list(Hand))
@pytest.mark.parametrize("name", FOUND)
def test_found(name: str, hand: Hand) -> None:
    knitter = Knitter(hand)
    for step, *arguments in FOUND[name]:
        if step == "stitches" and len(arguments) == 2:
            knitter.stitches(arguments[0], with_wraps=arguments[1])
        else:
            getattr(knitter, step)(*arguments)
    left = {"connected", "waste", "surface", "secured"}  # as the machine leaves them
    assert {flaw.kind for flaw in check(knitter.work.fabric()).mistakes} <= left


@pytest.mark.parametrize(
    "steps",
    [
        [("cast_on", 3), ("turn",), ("wrap",)],  # nothing was worked before it
        [("cast_on", 3), ("join_round",), ("wrap",), ("stitches", ["k"])],  # not turned yet
        [("cast_on", 3), ("join_round",), ("wrap",), ("turn",), ("turn",)],  # would come undone
        [("closed_cast_on", 3), ("join_round",), ("to_rows",)],  # it goes round
    ],
)
def test_refused(steps: Steps) -> None:
    """Refused by the books' own rules too, and nothing changed."""
    knitter = Knitter()
    results = [getattr(knitter, step)(*arguments) for step, *arguments in steps]
    assert results == [True] * (len(steps) - 1) + [False]


def test_double_stitch_of_one_of_several_in_a_loop_is_refused() -> None:
    knitter = Knitter()
    knitter.cast_on(1)
    knitter.join_round()
    knitter.stitches(["kfb"])
    knitter.turn()
    assert not knitter.double_stitch()


def test_nothing_is_picked_up_in_the_midst_of_a_row() -> None:
    """Its map would depend on what lies between; there is no edge to pick up from."""
    work = Work()
    cast_on(work, 6)
    work.turn()
    work.row(["p"] * 6)
    work.work(["k"] * 6)
    before = work.fabric()
    with pytest.raises(CannotWorkError, match="in the midst of its row"):
        pick_up(work, [9])
    assert work.fabric() == before
    pick_up(work, [6])
    assert work.fabric().euler_characteristic == 2


def test_no_strand_is_lifted_from_within_a_stretchy_bind_off() -> None:
    """Its loops are drawn through the stitch before them: no strand runs free between the two."""
    work = Work()
    cast_on(work, 2)
    work.turn()
    waste_row(work, 2)
    bind_off(work, how="stretchy")
    with pytest.raises(CannotWorkError, match="no strand runs free at its last corner") as refusal:
        recapture(work, "waste", corner="last")
    assert refusal.value.advice == "take the first corner"


def test_a_row_that_is_worked_says_to_turn() -> None:
    """A cast-on ends a row, of which no stitch is left: "leave out 6" was no help there."""
    work = Work()
    cast_on(work, 6)
    with pytest.raises(CountError, match="0; turn first") as refusal:
        work.row(["k"] * 6)
    assert (refusal.value.expected, refusal.value.found) == (6, 0)
    with pytest.raises(CannotWorkError, match="0 are left in this row; turn first"):
        work.work(["k"] * 6)
    work.turn()
    with pytest.raises(CountError, match="add 2"):
        work.row(["k"] * 4)
    with pytest.raises(CountError, match="leave out 2"):
        work.row(["k"] * 8)


def test_waste_comes_out_of_a_bind_off_from_two_needles() -> None:
    work = Work()
    cast_on(work, 2)
    work.join_round()
    waste_row(work, 2)
    three_needle_bind_off(work)
    work.join_yarn("heel yarn")
    take_out(work, "waste")
    assert "stitches" not in {flaw.kind for flaw in check(work.fabric()).mistakes}
