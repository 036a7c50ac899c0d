"""The numbers that a heel takes, at their edges: the last that is taken, the first that is not."""

from __future__ import annotations

from typing import Any

import attrs
import pytest

from loopwright.errors import ShapeError, SizingError
from loopwright.gauge import Gauge
from loopwright.pattern import Note, Run
from loopwright.sock import Direction, Foot, Sock, heel_named, heel_names
from loopwright.sock.heels import (
    Flap,
    FlapFabric,
    Forethought,
    HeelPart,
    HeelTurn,
    Setting,
    ShortRowGusset,
    Turned,
)
from loopwright.sock.heels._gusset import narrow, widen
from loopwright.sock.heels._heel import Corners, corner_tail
from loopwright.sock.heels._profile import flap_heel_girth_mm
from loopwright.sock.heels._told import opened
from loopwright.sock.wedge import Phase, Wedge
from together import together

FOOT = Foot.of(length="24.5 cm", ball_girth="22.8 cm")


@pytest.mark.parametrize("numbers", [{"rows": 4}, {"rows": 30}, {"longer": 2}, {"corner": 0}])
def test_flaps_that_can_be_knitted(numbers: dict[str, Any]) -> None:
    flap = Flap(**numbers)
    assert all(getattr(flap, name) == number for name, number in numbers.items())


@together(
    ("numbers", "found"),
    [
        ({"rows": 2}, "2 rows"),
        ({"rows": 5}, "5 rows"),  # a row on the wrong side ends a flap
        ({"longer": 1}, "1 row more"),
        ({"longer": -2}, "-2 rows more"),
        ({"corner": -1}, "-1 corner stitches"),
    ],
)
def test_flaps_that_cannot_be_knitted(numbers: dict[str, Any], found: str) -> None:
    with pytest.raises(SizingError) as refusal:
        Flap(**numbers)
    assert (refusal.value.what, found in refusal.value.found) == ("flap", True)
    assert "even number" in refusal.value.expected


@together("name", heel_names())
def test_what_a_heel_takes_is_told_by_name(name: str) -> None:
    heel = heel_named(name)
    for made in (heel, heel.numbers(Setting(32, 32))):
        kind: type = type(made)
        assert attrs.has(kind)
        assert all(field.kw_only for field in attrs.fields(kind))


def test_a_flap_that_is_too_short_for_its_heel_is_refused() -> None:
    sock = Sock(foot=FOOT, gauge=Gauge.of(32, 44), heel=Flap(rows=4))
    with pytest.raises(SizingError) as refusal:
        sock.plan()
    assert refusal.value.found.startswith("4 rows of flap")
    assert "lengthen the flap" in refusal.value.expected


@pytest.mark.parametrize("width", [2, 4, 9, 11])
def test_a_turn_toe_up_has_an_even_number_of_stitches_and_enough(width: int) -> None:
    with pytest.raises(SizingError, match="expected an even number from 8"):
        HeelTurn().cup_numbers(width)


@pytest.mark.parametrize(
    ("shape", "past", "least"), [("V", None, 6), ("square", None, 4), ("round", 2, 10)]
)
def test_a_turn_toe_up_says_the_least_that_it_takes(
    shape: str, past: int | None, least: int
) -> None:
    """By hand: twice past the middle and 2, and a turn at each side, of 1 or 2 stitches."""
    turn = HeelTurn(shape=shape, past_middle=past)
    with pytest.raises(SizingError, match=f"expected an even number from {least}$"):
        turn.cup_numbers(least - 2)
    assert turn.cup_numbers(least).rows == 2


@together(("heel", "stitches"), [(32, 4), (20, 2), (8, 2), (36, 4), (44, 6)])
def test_a_gusset_before_short_rows_is_an_eighth_of_the_heel(heel: int, stitches: int) -> None:
    """Two at least (by hand: 44 / 8 is 5.5, and halves go to the even number)."""
    assert ShortRowGusset().numbers(Setting(heel, heel)).gusset == stitches
    assert ShortRowGusset(gusset=0).numbers(Setting(heel, heel)).gusset == 0


def test_a_gusset_narrows_by_two_every_other_round() -> None:
    layout = Setting(32, 32).layout(first="heel")
    wide, less = widen(layout, 3), narrow(layout, 3)
    assert wide[-1].count == layout.stitches + 6
    assert less[-1].count == layout.stitches - 6


def extent(part: HeelPart, setting: Setting) -> tuple[float, float, float]:
    """Return the greatest width in stitches, and the least and greatest height in rounds."""
    across, up = zip(*part.outline, strict=True)
    rounds = (min(up) / setting.course_mm, max(up) / setting.course_mm)
    return (max(across) - min(across)) / setting.stitch_mm, *rounds


@pytest.mark.parametrize("direction", Direction)
def test_short_rows_lie_between_two_gussets(direction: Direction) -> None:
    """A gusset of n stitches a side takes 2n rounds (common practice): 4 make 8, and 40 of 32."""
    setting = Setting(32, 32, direction)
    parts = ShortRowGusset().outline(setting).parts
    found: dict[str, list[tuple[float, float, float]]] = {}
    for part in parts:
        width, low, high = extent(part, setting)
        found.setdefault(part.name, []).append((round(width), low, high))
    (back,), (under,) = found["back of the heel"], found["under the heel"]
    assert (back[0], back[1], under[2]) == (40, 0, 0)
    (above, below) = found["gusset"]
    assert above[0] == below[0] == 40
    assert [above[1], above[2] - above[1]] == pytest.approx([back[2], 8])
    assert [below[2], below[2] - below[1]] == pytest.approx([under[1], 8])


@pytest.mark.parametrize("phases", [None, (Phase(4, 1), Phase(6, 0)), (Phase(3, 2), Phase(5, 1))])
def test_a_tube_narrowed_by_phases_is_as_deep_as_its_rounds(
    phases: tuple[Phase, ...] | None,
) -> None:
    """Each decrease round takes 4 stitches of the whole, so 2 of the half that lies flat."""
    setting = Setting(32, 32)
    heel = Forethought(wedge=Wedge(phases=phases))
    numbers: Any = heel.numbers(setting)
    wedge = numbers.wedge
    assert wedge.start - 4 * sum(phase.rounds for phase in wedge.phases) == wedge.left
    places = heel.outline(setting).parts[0].outline
    right = places[: len(places) // 2]
    by_hand, low, half = [], numbers.plain_rounds + wedge.set_up, numbers.half
    for phase in wedge.phases[:-1]:
        low, half = low + phase.rounds * (1 + phase.plain), half - 2 * phase.rounds
        by_hand.append((half / 2 * setting.stitch_mm, -low * setting.course_mm))
    assert [*right[2 : 2 + len(by_hand)]] == [pytest.approx(spot) for spot in by_hand]


@pytest.mark.parametrize("direction", Direction)
def test_the_sole_of_a_flap_is_widest_at_its_gussets(direction: Direction) -> None:
    setting = Setting(32, 32, direction)
    numbers: Any = Flap().numbers(setting)
    widest = {measure.words: measure.mm for measure in Flap().outline(setting).measures}
    stitches = widest["sole with gussets, at its widest"] / setting.stitch_mm
    # Picked up on both sides; or, toe up, made on both sides.
    left = numbers.turn.left + 2 * numbers.picked_up
    assert stitches == pytest.approx(32 + 2 * numbers.gusset if setting.is_toe_up else left)


@pytest.mark.parametrize("name", ["forethought", "short-row with gusset", "short-row"])
def test_changes_to_a_heel_go_one_by_one(name: str) -> None:
    """From one more to the most that is tried; fewer, as long as there are any."""
    setting, heel = Setting(32, 32), heel_named(name)
    found: dict[tuple[str, bool], list[float]] = {}
    for roomier in (True, False):
        for change in heel.changes(setting, roomier=roomier):
            found.setdefault((change.key, roomier), []).append(change.by)
    now: Any = heel.numbers(setting)
    if name == "forethought":
        assert found["plain rounds", True] == [*range(1, 25)]
        assert found["plain rounds", False] == [*range(-1, -now.plain_rounds - 1, -1)]
        left, least = now.wedge.left, heel.wedge.least  # type: ignore[attr-defined]
        assert found["decreased further", True] == [*range(-4, least - left - 1, -4)]
        assert found["decreased further", False] == [*range(4, now.wedge.start - left, 4)]
    else:
        side, width = now.rows.side, now.rows.width
        assert found["narrower middle", True] == [*range(2, 2 * (width // 2 - side), 2)]
        assert found["narrower middle", False] == [*range(-2, -2 * side, -2)]
    assert found["small gusset", True] == [*range(1, 13)]
    assert found.get(("small gusset", False), []) == [*range(-1, -now.gusset - 1, -1)]


def test_changes_are_told_one_and_many() -> None:
    heel = heel_named("forethought")
    words = [change.words for change in heel.changes(Setting(32, 32), roomier=True)]
    assert words[:2] == [
        "1 plain round more before the shaping", "2 plain rounds more before the shaping",
    ]  # fmt: skip
    further, less = (
        [change.words for change in heel.changes(Setting(32, 32), roomier=roomier)][-1]
        for roomier in (True, False)
    )
    assert further.startswith("heel decreased to ")
    assert less.startswith("heel decreased no further than ")


@together("shape", Turned)
@together("past", [None, 5])
def test_too_few_stitches_for_a_turn_are_told_with_what_to_choose(
    shape: Turned, past: int | None
) -> None:
    """The least that it names is taken, and a heel of fewer is not."""
    with pytest.raises(SizingError, match="a flap of 3 stitches") as refusal:
        HeelTurn(shape=shape, past_middle=past).numbers(3)
    least = next(int(word) for word in refusal.value.expected.split() if word.isdigit())
    assert "'short-row'" in refusal.value.expected
    HeelTurn(shape=shape).numbers(least)  # is not refused
    with pytest.raises(SizingError, match="a flap of"):
        HeelTurn(shape=shape).numbers(least - 1)


def test_a_v_turn_is_offered_where_it_comes_out() -> None:
    with pytest.raises(SizingError, match="take a V turn"):
        HeelTurn().numbers(8)
    HeelTurn(shape=Turned.V).numbers(8)  # is not refused


@together("shape", Turned)
@together("start", [15, 16, 17, 30])
def test_a_turn_says_the_range_that_it_takes(shape: Turned, start: int) -> None:
    """The words of the refusal: what lies in their range is taken, and what is beyond is not."""
    with pytest.raises(SizingError) as refusal:
        HeelTurn(shape=shape, past_middle=99).numbers(start)
    least, most = (int(word) for word in refusal.value.expected.split() if word.isdigit())
    assert HeelTurn(shape=shape, past_middle=most).numbers(start).past_middle == most
    with pytest.raises(SizingError):
        HeelTurn(shape=shape, past_middle=most + 1).numbers(start)
    assert least == start % 2


def test_a_flap_that_just_reaches_is_taken() -> None:
    """No stitch over: picked up and left of the turn are as many as the heel had."""
    setting = Setting(32, 32)
    turn = HeelTurn().numbers(32)
    rows = 32 - turn.left - 2 * Flap().numbers(setting).corner
    assert Flap(rows=rows).numbers(setting).gusset == 0


def test_strands_above_waste_yarn_are_one_fewer_than_its_stitches() -> None:
    """n loops in a row have n - 1 strands between them (common practice)."""
    told = " ".join(step.words for step in opened(32) if isinstance(step, Note))
    assert "31 lie between the 32 sts" in told


@together(
    ("shape", "start", "past"),
    [
        (Turned.ROUND, 32, 1),  # row 1: half and one more
        (Turned.ROUND, 30, 1),
        (Turned.V, 32, 0),
        (Turned.V, 17, 1),  # the middle stitch belongs to neither half
        (Turned.V, 20, 0),
    ],
)
def test_row_1_of_a_turn_goes_as_far_as_its_shape_is_known_for(
    shape: Turned, start: int, past: int
) -> None:
    """Common practice: the round turn one past the middle, the V to the middle."""
    assert HeelTurn(shape=shape).numbers(start).past_middle == past


def test_the_least_turn_toe_up_has_two_rows() -> None:
    """By hand: of 8 stitches 4 are the middle, and 2 on either side are one turn each."""
    assert HeelTurn().cup_numbers(8).rows == 2


def test_a_heel_in_the_round_may_begin_with_its_shaping() -> None:
    setting = Setting(32, 32)
    none, one = (Forethought(plain_rounds=n).numbers(setting) for n in (0, 1))
    assert one.foot_courses - none.foot_courses == 1
    with pytest.raises(SizingError, match="none or more"):
        Forethought(plain_rounds=-1).numbers(setting)


@pytest.mark.parametrize("rows", [16, 32])
def test_a_flap_with_slipped_edges_has_a_chain_for_two_rows(rows: int) -> None:
    """Common practice: half as many stitches are picked up along a flap as it has rows."""
    up: Any = Flap(rows=rows).numbers(Setting(32, 32, Direction.TOE_UP))
    assert (up.rows, up.chains, up.gusset) == (rows, rows // 2, rows // 2)
    assert up.corner == 0  # toe up nothing is picked up


def test_a_flap_is_as_high_as_it_is_wide_or_as_it_is_asked_to_be() -> None:
    """Common practice: as many rows as stitches; toe up 24 of 32, with 64 increased to 88."""
    setting = Setting(32, 32)
    assert Flap().numbers(setting).rows == 32
    up = Flap().numbers(Setting(32, 32, Direction.TOE_UP))
    assert (up.rows, 64 + 2 * up.gusset) == (24, 88)
    assert Flap(longer=4).numbers(setting).rows == 36
    assert Flap(rows=30, longer=2).numbers(setting).rows == 32


def test_a_plain_flap_slips_the_first_stitch_of_a_row_and_no_other() -> None:
    """Common practice; a slip-stitch flap slips every other one on the right side."""
    assert Flap(fabric=FlapFabric.PLAIN)._flap_row(32) == (Run("sl"), Run("k", 31))
    assert Flap(fabric=FlapFabric.SLIP_STITCH)._flap_row(32) != (Run("sl"), Run("k", 31))


def test_a_longer_flap_is_longer_by_what_it_says() -> None:
    setting = Setting(32, 32)
    for change in Flap(longer=4).changes(setting, roomier=True):
        longer: Any = change.heel.numbers(setting)
        assert longer.rows == 36 + change.by


def test_a_flap_is_as_wide_as_its_stitches() -> None:
    """By hand: 32 stitches of 2.5 mm are 80 mm."""
    outline = Flap().outline(Setting(32, 32, stitch_mm=2.5))
    assert {one.words: one.mm for one in outline.measures}["flap, width"] == 80


def test_an_edge_longer_than_its_flap_cannot_be_laid_out() -> None:
    """By hand: 12 stitches of 3 mm are 36 mm, and 20 rows of 1.5 mm and 2 more are 33."""
    with pytest.raises(ShapeError):
        flap_heel_girth_mm(64, 20, 12, stitch_mm=3.0, course_mm=1.5)
    assert flap_heel_girth_mm(64, 22, 12, stitch_mm=3.0, course_mm=1.5) > 0


def test_a_heel_in_the_round_is_as_wide_at_its_opening_as_its_stitches() -> None:
    """By hand: 32 stitches of 2.5 mm are 80 mm."""
    outline = Forethought().outline(Setting(32, 32, stitch_mm=2.5))
    assert {one.words: one.mm for one in outline.measures}["heel, width at its opening"] == 80


def test_a_corner_left_open_is_drawn_together_and_a_closed_one_looked_at() -> None:
    left, closed = (
        " ".join(step.words for step in corner_tail(corners) if isinstance(step, Note))
        for corners in (Corners.LEFT, Corners.CLOSED)
    )
    assert "draw that corner together" in left
    assert "what is still to be seen of that corner" in closed
