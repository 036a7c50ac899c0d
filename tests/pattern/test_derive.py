"""What is derived from a fabric is knitted again, and is the same; keys are checked elsewhere."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable
from contextlib import suppress
from itertools import cycle

import attrs
import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from fabric.pieces import PIECES, afterthought, fancy_tube, forethought, tube
from loopwright.errors import NotKnittableError, SizingError
from loopwright.fabric import Fabric, same_fabric
from loopwright.fabric.columns import FLOAT
from loopwright.making import (
    Hand,
    Work,
    bind_off,
    cast_on,
    closed_cast_on,
    draw_up,
    edge_loops,
    pick_up,
    provisional_cast_on,
    waste_row,
)
from loopwright.pattern import (
    Pattern,
    Recapture,
    RepeatRounds,
    Round,
    Section,
    SockPart,
    derive,
    knit,
    knit_rounds,
    read,
    review,
    write,
)
from loopwright.pattern._deriving.retrace import retrace
from loopwright.picture import chart
from loopwright.sock import Direction, heel_named, heel_names
from pattern.test_knit import tubes
from sock.test_constructions import CUFFS, SPACE, sock
from strategies import small_fabrics


def require_derived(fabric: Fabric) -> Pattern:
    """Derive; the pattern makes the same fabric, as steps and as a text that is read again."""
    pattern = derive(fabric)
    assert same_fabric(knit(pattern, stitches=fabric.stitches), fabric)
    assert read(write(pattern)) == pattern
    return pattern


@pytest.mark.parametrize("hand", Hand)
@pytest.mark.parametrize("name", PIECES)
def test_every_piece_is_derived(name: str, hand: Hand) -> None:
    pattern = require_derived(PIECES[name](hand).fabric())
    assert pattern.hand is hand or name == "rows"


@pytest.mark.parametrize("stage", ["row", "toe", "out", "heel", "sock"])
def test_every_stage_of_a_heel_opened_later(stage: str) -> None:
    for corner in ("first", "last"):
        require_derived(afterthought(stage, corner=corner).fabric())


@pytest.mark.parametrize("stage", ["held", "heel", "out", "recaptured", "sock"])
def test_every_stage_of_a_heel_made_at_once(stage: str) -> None:
    for corner in ("first", "last"):
        require_derived(forethought(stage, corner=corner).fabric())


@given(choice=st.tuples(*(st.sampled_from(list(part)) for part in SPACE)))
@settings(max_examples=5, deadline=None)
def test_any_sock_of_the_whole_space_is_derived(choice: tuple[object, ...]) -> None:
    heel, toe, direction, stitches, needles, share, cuff = choice
    assert isinstance(stitches, int)
    made = sock(stitches, heel=heel, toe=toe, direction=direction, needles=needles, share=share,
                cuff=cuff)  # fmt: skip
    try:
        fabric = made.fabric()
    except SizingError:
        assume(False)
    pattern = require_derived(fabric)
    rounds = sum(1 for step in pattern.steps if isinstance(step, Round))
    assert rounds < 40, write(pattern)  # of a hundred and more: most are in repeats
    assert cuff in CUFFS


@given(tubes())
@settings(max_examples=40, deadline=None)
def test_drawn_rounds_are_derived(text: str) -> None:
    require_derived(knit(read(text)))


@given(small_fabrics())
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
def test_drawn_work_is_derived_or_its_witness_named(fabric: Fabric) -> None:
    """What is refused slips a row from end to end, which no loop of the fabric shows."""
    floats = (fabric.flags & FLOAT) != 0
    if not floats.any() and not len(fabric.right):
        require_derived(fabric)
        return
    with suppress(NotKnittableError):
        require_derived(fabric)


def test_shaping_is_found_again() -> None:
    """As a person writes a toe: two rounds, repeated, with the counts that follow."""
    text = write(require_derived(PIECES["closed tube"](Hand.RIGHT).fabric()))
    assert text == (
        "Cast on 16 sts, long-tail.\n"
        "Join to work in the round.\n"
        "Rnds 1-5: Knit.\n"
        "Divide sts over 2 needles: 8, 8.\n"
        "Rnd 1: On each needle: k1, ssk, k to last 3 sts, k2tog, k1.\n"
        "Rnd 2: Knit.\n"
        "Rep rnds 1 and 2 once more (2 times in all), ending with rnd 1. (8 sts)\n"
        "Graft the sts of the two needles together, stitch by stitch.\n"
    )


def test_a_gusset_is_parted_between_needles() -> None:
    made = sock(64, heel="flap")
    text = write(require_derived(made.fabric()))
    assert "until" not in text
    assert "Rep rows 1 and 2 another" in text  # the flap
    assert "before gap" in text  # its turn
    assert "eedle 1: k to last 3 sts, k2tog, k1" in text or "k to last 3 sts, k2tog" in text
    assert len(text.splitlines()) < 60


def test_slips_after_the_turns_of_a_heel_are_of_their_rows() -> None:
    made = sock(48, heel=heel_named("flap"), direction=Direction.TOE_UP)
    text = write(require_derived(made.fabric()))
    assert re.search(r"Row 8 \(WS\): Sl 1 pwise wyif, p to 1 st before gap, p2tog, turn\.", text)
    assert text.count("Rnd begins here") == 1


@pytest.mark.parametrize("direction", Direction)
@pytest.mark.parametrize("heel", heel_names())
def test_a_sock_without_instructions_is_told_under_headings(
    heel: str, direction: Direction
) -> None:
    """The parts of a sock follow from its ends, its rows, and what was held."""
    made = sock(28, heel=heel_named(heel), direction=direction).fabric()
    parts = [SockPart.CUFF, SockPart.LEG, SockPart.HEEL, SockPart.FOOT, SockPart.TOE]
    if direction is Direction.TOE_UP:
        parts.reverse()
    later = [part for part in parts if part is not SockPart.HEEL] + [SockPart.HEEL]
    found = [step.part for step in derive(made).steps if isinstance(step, Section)]
    assert found == (later if heel == "afterthought" else parts)
    # A graph does not tell which of two yarns was worked with first.
    pattern = require_derived(Fabric.from_graph(made.graph))
    found = [step.part for step in pattern.steps if isinstance(step, Section)]
    assert found in (parts, later)


@pytest.mark.parametrize("direction", Direction)
def test_what_follows_a_heel_made_at_once_begins_when_all_is_taken_up(direction: Direction) -> None:
    steps = derive(sock(28, heel=heel_named("forethought"), direction=direction).fabric()).steps
    (taken_up,) = (at for at, step in enumerate(steps) if isinstance(step, Recapture))
    after = steps[taken_up + 1]
    assert isinstance(after, Section)
    assert after.part is (SockPart.LEG if direction is Direction.TOE_UP else SockPart.FOOT)


def test_pieces_that_are_no_sock_have_headings_by_their_number() -> None:
    assert "##" not in write(derive(tube(8, 3).fabric()))  # one piece needs none
    work = Work()
    for name in ("main", "grey"):
        work.join_yarn(name)
        cast_on(work, 6)
        work.turn()
        work.work(["k"] * 6)
        work.turn()
        bind_off(work, 6)
    titles = [one.title for one in derive(work.fabric()).steps if isinstance(one, Section)]
    assert titles == ["First piece", "Second piece"]


def test_ribs_are_said_once() -> None:
    fabric = knit(read("Cast on 14 sts. Join in the round. Rnds 1-6: *K2, p2; rep from * to last "
                       "2 sts, k2."))  # fmt: skip
    (rib,) = (s for s in require_derived(fabric).steps if isinstance(s, RepeatRounds))
    assert rib.times == 6
    assert "*K2, p2; rep from * to last 2 sts, k2." in write(derive(fabric))


def test_a_whole_sock_reads_without_remarks() -> None:
    for heel in ("flap", "forethought", "short-row"):
        findings = review(derive(sock(60, heel=heel).fabric())).findings
        assert not [one for one in findings if one.severity != "note"], findings


def test_stitches_that_change_places_without_a_cable_are_refused() -> None:
    """Two loops drawn through each other's stitch lie on no surface: the loops are named."""
    fabric = tube(8, 4).fabric()
    parent = fabric.parent.copy()
    parent[[2, 6]] = parent[[6, 2]]
    crossed = attrs.evolve(fabric, parent=parent)
    with pytest.raises(NotKnittableError, match="edges cross here") as refusal:
        derive(crossed)
    assert crossed.tangles == ((2, 6, 10, 14),)
    assert refusal.value.loop in crossed.tangles[0]


def test_a_strand_that_is_no_neighbour_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    # 16,000 ways are tried in vain otherwise; that trying finds what is to be found is below.
    monkeypatch.setattr(sys.modules[retrace.__module__], "_TRIES", 100)
    fabric = tube(4, 2).fabric()
    other = attrs.evolve(fabric, next=np.roll(fabric.next, 1))
    with pytest.raises(NotKnittableError):
        derive(other)


def test_a_loop_drawn_through_what_is_not_made_yet_is_refused() -> None:
    fabric = tube(8, 4).fabric()
    parent = fabric.parent.copy()
    parent[0] = 30
    with pytest.raises(NotKnittableError) as refusal:
        derive(attrs.evolve(fabric, parent=parent))
    assert refusal.value.loop == 8
    assert "loop 30" in refusal.value.problem


def test_stitches_picked_up_on_a_finished_piece_are_refused_at_once() -> None:
    """Instructions pick up next to the work only, so that no way of making it is looked for."""
    work = Work()
    cast_on(work, 4)
    work.turn()
    work.row(["p"] * 4)
    bind_off(work)
    work.join_yarn("edge")
    pick_up(work, edge_loops(work, "left", first_course=0, last_course=1))
    with pytest.raises(NotKnittableError, match="an edge away from the work") as refused:
        derive(work.fabric())
    assert refused.value.loop == 12
    assert work.fabric().live.tolist() == [12, 13]


def test_the_order_of_work_is_that_of_the_yarn() -> None:
    """Half rounds worked singly come out as whole rounds."""
    work = Work()
    cast_on(work, 6)
    work.join_round()
    for _ in range(8):
        work.work(["k"] * 3)
    assert derive(work.fabric()).steps[-1] == knit_rounds(4)


def test_colours_keep_their_names() -> None:
    text = (
        "Change to yarn grey. Cast on 8 sts. Join in the round. Rnd 1: Knit. Join yarn red. "
        "Rnd 2: Knit. Change to yarn grey. Rnd 3: Knit. Cut yarn red. Bind off all sts."
    )
    fabric = knit(read(text))
    again = knit(require_derived(fabric))
    assert [one.name for one in again.strands] == ["grey", "red"]


STRIPES = (
    "Change to yarn grey. Cast on 24 sts. Join in the round. Rnds 1-3: Knit. Work in stripes from "
    "here: *2 rnds in yarn red, 3 rnds in yarn grey, 1 rnd in yarn blue; rep from *. Rnds 4-16: "
    "Knit. Divide sts over 2 needles: 12, 12. Rnd 17: On each needle: k1, ssk, k to last 3 sts, "
    "k2tog, k1. Rnd 18: Knit. Rep rnds 17 and 18 until 8 sts remain. {last}Rnd 25: Knit. Graft "
    "the sts of the two needles together, stitch by stitch."
)


@pytest.mark.parametrize("last", ["", "Change to yarn grey. "])
def test_stripes_are_said_once_and_the_shaping_across_them_is_found(last: str) -> None:
    text = write(require_derived(knit(read(STRIPES.format(last=last)))))
    assert text.count("yarn red") == 1
    assert "stripes from here: *2 rnds in yarn red, 3 rnds in yarn grey, 1 rnd in yarn blue" in text
    assert "Rep rnds 1 and 2" in text


def test_two_changes_of_yarn_are_no_stripes() -> None:
    text = (
        "Change to yarn grey. Cast on 8 sts. Join in the round. Rnd 1: Knit. Change to yarn red. "
        "Rnds 2-3: Knit. Change to yarn grey. Rnds 4-9: Knit."
    )
    assert "stripes" not in write(require_derived(knit(read(text))))


def test_colours_that_change_within_a_round_are_said_in_it() -> None:
    text = (
        "Cast on 12 sts. Join in the round. Rnd 1: Knit. "
        "Rnds 2-4: *K1 in yarn main, k2 in yarn blue; rep from * to end. Rnd 5: Knit. "
        "Change to yarn main. Rnd 6: Knit. Rnd 7: K4, k5 in yarn blue, k3 in yarn main."
    )
    said = write(require_derived(knit(read(text)))).splitlines()
    assert said[2:] == [
        "Rnd 1: Knit.",
        "Rnds 2-4: *K1 in yarn main, k2 in yarn blue; rep from * to end.",
        "Rnd 5: Knit.",
        "Change to yarn main.",
        "Rnd 6: Knit.",
        "Rnd 7: K4 in yarn main, k5 in yarn blue, k3 in yarn main.",
    ]


@pytest.mark.parametrize("turns_first", [True, False])
def test_a_yarn_that_changes_between_two_rows_leaves_them_rows(turns_first: bool) -> None:
    """The same fabric, whether the work is turned before the change or after it."""
    work = Work()
    cast_on(work, 6)
    work.turn()
    for number, yarn in enumerate(["blue", "main", "blue"]):
        work.work(["kp"[number % 2]] * 6)
        for turns in (True, False):
            if turns is turns_first:
                work.turn()
            elif number:
                work.change_to(yarn)
            else:
                work.join_yarn(yarn)
    work.work(["p"] * 6)
    assert write(require_derived(work.fabric())).splitlines()[1:] == [
        "Row 1 (WS): Knit.",
        "Change to yarn blue.",
        "Row 2 (RS): Purl.",
        "Change to yarn main.",
        "Row 3 (WS): Knit.",
        "Change to yarn blue.",
        "Row 4 (RS): Purl.",
    ]


@pytest.mark.parametrize("end", ["live", "drawn up"])
def test_stitches_slipped_at_the_end_of_all_are_slipped_again(end: str) -> None:
    work = Work()
    cast_on(work, 5)
    work.turn()
    work.work(["k2tog", "k", "sl", "sl"])
    if end == "drawn up":
        draw_up(work)
    require_derived(work.fabric())


def test_a_first_row_on_the_right_side_keeps_the_side_of_the_cast_on() -> None:
    """The first row tells how the cast-on faced: one that comes after turns must not."""
    work = Work()
    cast_on(work, 9)
    work.turn()
    bind_off(work, 5)
    work.turn()
    work.row(["k"] * work.left)
    require_derived(work.fabric())


def _joined_before_more(work: Work) -> None:
    closed_cast_on(work, 1)
    work.join_round()
    cast_on(work, 1)
    work.work(["k"])


def _slipped_to_a_cast_on(work: Work) -> None:
    closed_cast_on(work, 1)
    work.join_round()
    work.work(["k", "slf"])
    cast_on(work, 1)


def _over_at_the_end(work: Work) -> None:
    provisional_cast_on(work, 2)
    work.work(["yo"])


def _double_stitch_over_waste(work: Work) -> None:
    provisional_cast_on(work, 1)
    work.turn()
    work.double_stitch()


def _waste_over_part_of_a_round(work: Work) -> None:
    cast_on(work, 4)
    work.join_round()
    work.work(["cdd", "sl"])
    waste_row(work, 2)


def _one_reading_too_early(work: Work) -> None:
    closed_cast_on(work, 1)
    work.join_round()
    cast_on(work, 1)
    work.work(["k"])
    work.turn()
    work.work(["sl", "yo", "k"])


def _double_stitch_of_a_lifted_strand(work: Work) -> None:
    cast_on(work, 3)
    work.turn()
    work.work(["k", "m1l"])
    work.turn()
    work.double_stitch()


def _increase_that_ends_a_round_worked_back(work: Work) -> None:
    cast_on(work, 3)
    work.join_round()
    work.work(["sl", "m1lp", "sl"])
    work.turn()
    work.work(["sl", "k2tog", "m1lp"])


def _round_turned_and_drawn_up(work: Work) -> None:
    closed_cast_on(work, 4)
    work.join_round()
    work.work(["slk"])
    work.turn()
    work.work(["yo", "sl", "m1r"])
    waste_row(work, 1)
    draw_up(work)


def _turned_at_the_end_of_a_round(work: Work) -> None:
    cast_on(work, 6)
    work.join_round()
    work.work(["p"] * 6)
    work.turn()
    work.turn()
    work.work(["k2tog", "k2tog", "p", "p"])
    work.work(["sl"])
    work.turn()
    bind_off(work, 1)
    work.work(["k"])


def _bound_off_at_the_end_of_a_round(work: Work) -> None:
    cast_on(work, 8)
    work.join_round()
    work.work(["p"] * 8)
    work.turn()
    work.turn()
    work.work(["k2tog", "k2tog", "p", "p", "p", "p"])
    work.work(["sl", "sl"])
    work.turn()
    bind_off(work, 2)
    work.work(["k"] * work.left)


MISSED = [
    _increase_that_ends_a_round_worked_back,
    _round_turned_and_drawn_up,
    _turned_at_the_end_of_a_round,
    _bound_off_at_the_end_of_a_round,
    _double_stitch_of_a_lifted_strand,
    _joined_before_more,
    _slipped_to_a_cast_on,
    _over_at_the_end,
    _double_stitch_over_waste,
    _waste_over_part_of_a_round,
    _one_reading_too_early,
]


@pytest.mark.parametrize(("made", "hand"), [*zip(MISSED, cycle(Hand))])
def test_what_the_first_reading_of_the_yarn_misses_is_found_by_trying(
    made: Callable[[Work], None], hand: Hand
) -> None:
    """The smallest of each kind that drawn work brought, by one hand or the other."""
    work = Work(hand=hand)
    made(work)
    require_derived(work.fabric())


@pytest.mark.parametrize("keys", [["sl", "yo", "k"], ["yo", "sl", "k"], ["yo", "k", "k"]])
def test_a_yarn_over_after_a_turn_stands_where_it_stood(keys: list[str]) -> None:
    work = Work()
    cast_on(work, 2)
    work.turn()
    work.work(keys)
    draw_up(work)
    require_derived(work.fabric())


def test_a_left_hand_s_pattern_is_charted_from_the_left() -> None:
    pattern = derive(fancy_tube(Hand.LEFT).fabric())
    assert pattern.hand is Hand.LEFT
    assert write(pattern).startswith("Hand: left\n")
    assert chart(pattern).hand is Hand.LEFT
