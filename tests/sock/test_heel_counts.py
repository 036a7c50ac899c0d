"""Heels counted and laid out by hand: courses, rounds, places of outlines, words of corners.

The stitches are 2.5 mm wide and 2 mm high, a slipped row is 1.5 mm high, and each heel is on 32 of
64 stitches. What a heel of so many stitches takes is common practice; the rest is arithmetic.
"""

from __future__ import annotations

from math import hypot, sqrt
from typing import Any
from unittest import mock

import attrs
import pytest

from loopwright.errors import SizingError
from loopwright.pattern import Note, Stripes, in_words
from loopwright.pattern.steps import CutYarn, Row, Step, UseYarn
from loopwright.sock import Direction, heel_named, heel_names
from loopwright.sock._yarns import HeelYarn
from loopwright.sock.heels import (
    Afterthought,
    Corners,
    Flap,
    FlapFabric,
    Forethought,
    Heel,
    HeelNumbers,
    HeelOutline,
    HeelTurn,
    Setting,
    ShortRow,
    ShortRowGusset,
)
from loopwright.sock.heels._heel import (
    DRAWN_OUT,
    RIDGE,
    SCISSORS,
    corner_round,
    corner_tail,
    girth_of_courses_mm,
)
from loopwright.sock.needles import Layout
from loopwright.sock.shortrows import ShortRows
from loopwright.sock.wedge import Phase, Wedge, WedgeClosing
from together import together

UP, DOWN = Direction.TOE_UP, Direction.CUFF_DOWN


def setting(direction: Direction = DOWN, heel: int = 32, **more: Any) -> Setting:
    sizes = {"stitch_mm": 2.5, "course_mm": 2.0, "slip_course_mm": 1.5, **more}
    return Setting(heel, heel, direction, **sizes)


def counts(heel: Heel, at: Setting) -> tuple[float, float, int, int]:
    """Return the courses and the rounds that a heel adds to foot and leg."""
    told = heel.numbers(at)
    return told.foot_courses, told.leg_courses, told.foot_rounds, told.leg_rounds


@together(
    ("heel", "direction", "told"),
    [
        # The round turn on 32: 12 are left unworked at either side, 18 at last, in 14 rows. 32
        # rows of 1.5 mm are 24 rounds; 17 picked up twice and 18 are 52, so 20 rounds take 20.
        (Flap(), DOWN, (15, 24, 21, 0)),
        (Flap(corners=Corners.LEFT), DOWN, (15, 24, 19, 0)),
        (Flap(corner=3), DOWN, (15, 24, 25, 0)),
        (Flap(fabric=FlapFabric.PLAIN), DOWN, (15, 32, 21, 0)),
        # Short rows turn 7 times at each side of 4 in the middle, every second stitch. 24 rows of
        # 1.5 mm are 18 rounds, and the row back is one; 24 rounds make the gusset.
        (Flap(), UP, (14, 19, 24, 1)),
        (Flap(corners=Corners.LEFT), UP, (14, 19, 24, 0)),
        # 11 turns at each side of 10 in the middle: 22 rows and half a row on either half.
        (ShortRow(), DOWN, (22.5, 22.5, 1, 0)),
        (ShortRow(), UP, (22.5, 22.5, 0, 1)),
        (ShortRow(gusset=3), DOWN, (26.5, 26.5, 7, 6)),
        (ShortRow(gusset=3), UP, (26.5, 26.5, 6, 7)),
        (ShortRow(gusset=3, corners=Corners.LEFT), UP, (26.5, 26.5, 6, 6)),
        (ShortRowGusset(), DOWN, (26.5, 26.5, 9, 8)),
    ],
)
def test_courses_and_rounds(
    heel: Heel, direction: Direction, told: tuple[float, float, int, int]
) -> None:
    assert counts(heel, setting(direction)) == told


@pytest.mark.parametrize("kind", [Forethought, Afterthought])
def test_a_heel_in_the_round_adds_its_rounds_to_both(kind: type[Any]) -> None:
    """What a gusset of 3 adds: 6 rounds each; the round that closes the corners is the foot's."""
    plain, more = counts(kind(), setting()), counts(kind(plain_rounds=4), setting())
    assert more[0] - plain[0] == more[1] - plain[1] == 3
    assert plain[0] == plain[1]
    closing = int(kind is Forethought)  # the other's is one of its own rounds
    assert plain[2:] == (closing, 0)
    assert counts(kind(), setting(UP))[2:] == (0, closing)
    assert counts(kind(gusset=3), setting())[2:] == (6 + closing, 6)
    assert counts(kind(gusset=3), setting(UP))[2:] == (6, 6 + closing)
    assert counts(kind(corners=Corners.LEFT), setting())[2:] == (0, 0)
    none = [kind(plain_rounds=0, corners=one) for one in (Corners.LEFT, Corners.CLOSED)]
    left, closed = (counts(one, setting())[0] for one in none)
    assert closed - left == int(kind is Afterthought)
    grafted, drawn = (
        counts(kind(wedge=Wedge(closing=closing, left=20)), setting())[0]
        for closing in (WedgeClosing.GRAFT, WedgeClosing.DRAWN_UP)
    )
    assert grafted - drawn == 0.5  # a graft is a course, half of it on each side


def parts_of(outline: HeelOutline | None) -> list[tuple[str, float, float, float, float]]:
    """Return the name, the upper width and place, the lower width and place of each band."""
    assert outline is not None
    found = []
    for part in outline.parts:
        high, low, mirrored_low, mirrored_high = part.outline
        assert (mirrored_low, mirrored_high) == ((-low[0], low[1]), (-high[0], high[1]))
        found.append((part.name, 2 * high[0], high[1], 2 * low[0], low[1]))
    return found


def measures_of(outline: HeelOutline | None) -> dict[str, tuple[Any, ...]]:
    assert outline is not None
    return {one.words: (one.start, one.stop, one.mm) for one in outline.measures}


def test_a_flap_cuff_down_laid_out() -> None:
    outline = Flap().outline(setting())
    assert parts_of(outline) == [
        ("flap", 80, 48, 80, 0),  # 32 stitches; 32 rows of 1.5 mm
        ("turn", 80, 0, 45, -30),  # to 18 stitches in 15 courses
        ("gussets and sole", 130, -30, 80, -70),  # 18 and twice 17; 20 rounds
    ]
    assert measures_of(outline) == {
        "flap, width": ((-40, 48), (40, 48), 80),
        "flap, height": ((40, 48), (40, 0), 48),
        "heel, depth": ((40, 0), (40, -30), 30),
        "gusset, length": ((40, -30), (40, -70), 40),
        "sole with gussets, at its widest": ((-65, -30), (65, -30), 130),
        "sole, width": ((-40, -70), (40, -70), 80),
    }
    assert (outline.flap_mm, outline.gusset_mm) == (48, 40)


def test_a_flap_toe_up_laid_out() -> None:
    outline = Flap().outline(setting(UP))
    assert parts_of(outline) == [
        ("flap", 80, 36, 80, 0),  # 24 rows of 1.5 mm
        ("turn", 10, 0, 80, -28),  # 4 stitches in the middle; 14 rows
        ("gussets and sole", 140, -28, 80, -76),  # 32 and twice 12; 24 rounds
    ]
    assert (outline.flap_mm, outline.gusset_mm) == (36, 48)


def test_short_rows_laid_out() -> None:
    outline = ShortRow(gusset=3).outline(setting())
    # 38 stitches are 95 mm; 13 turns at each side leave 12 in the middle; 26.5 courses are 53 mm.
    assert parts_of(outline) == [
        ("back of the heel", 95, 53, 30, 0),
        ("under the heel", 30, 0, 95, -53),
        ("gusset", 80, 65, 95, 53),  # 6 rounds
        ("gusset", 95, -53, 80, -65),
    ]
    assert measures_of(outline) == {
        "heel, width before the turns": ((-47.5, 53), (47.5, 53), 95),
        "heel, depth": ((47.5, 0), (47.5, -53), 53),
        "between the turns": ((-15, 0), (15, 0), 30),
    }
    assert outline.closed_mm == 30
    assert not outline.is_closed


def test_a_tube_laid_out() -> None:
    heel = Forethought(gusset=2, plain_rounds=3)
    numbers: Any = heel.numbers(setting())
    outline = heel.outline(setting())
    tube, gusset = outline.parts
    right = tube.outline[: len(tube.outline) // 2]
    wedge = numbers.wedge
    assert right[:2] == ((45, 0), (45, -2 * (3 + wedge.set_up)))  # 36 stitches are 90 mm
    assert right[-1] == (wedge.left / 4 * 2.5, -2 * numbers.foot_courses)
    assert gusset.outline[:2] == ((40, 8), (45, 0))  # 4 rounds
    deep, tip = 2 * numbers.foot_courses, wedge.left / 4 * 2.5
    assert measures_of(outline) == {
        "heel, width at its opening": ((-45, 0), (45, 0), 90),
        "heel, depth": ((45, 0), (45, -deep), deep),
        "heel, width where it is closed": ((-tip, -deep), (tip, -deep), 2 * tip),
    }
    assert outline.closed_mm == 2 * tip
    assert outline.is_closed


@together(
    ("heel", "width", "more"),
    [
        (Forethought(), 32, 1), (Forethought(gusset=3), 35, 1),
        (ShortRow(), 32, 0), (ShortRow(gusset=3), 35, 0), (ShortRowGusset(), 36, 0),
    ],
)  # fmt: skip
def test_the_girth_over_a_heel_that_lies_flat(heel: Heel, width: int, more: int) -> None:
    """Twice: a quarter of the instep's round, and the way from the corner to the tip."""
    courses = heel.numbers(setting()).foot_courses + more
    by_hand = 2 * (32 / 2 * 2.5 + hypot(width / 2 * 2.5, courses * 2))
    assert heel.girth_mm(setting()) == pytest.approx(by_hand)


@pytest.mark.parametrize(("direction", "rows", "edge"), [(DOWN, 32, 17), (UP, 24, 12)])
def test_the_girth_over_a_flap(direction: Direction, rows: int, edge: int) -> None:
    """The picked-up edge, and what it draws in of a quarter of the round at either side of it."""
    at = setting(direction, slip_course_mm=2.5)
    ratio = edge * 2.5 / ((rows + 2) * 2.5)
    by_hand = 2 * (40 + edge * 2.5 + 40 * sqrt(1 - ratio**2))
    assert Flap().girth_mm(at) == pytest.approx(by_hand)
    assert Flap().girth_mm(setting(direction, slip_course_mm=0.5)) is None


def test_a_flap_by_the_height_of_the_ankle() -> None:
    """Four fifths of 90 mm are 72: 36 rows of 2 mm, 48 of 1.5 mm; of 87 mm, the even number."""
    plain, slipped = Flap(by_height=True, fabric=FlapFabric.PLAIN), Flap(by_height=True)
    assert plain._rows(setting(height_mm=90.0)) == 36
    assert plain._rows(setting(height_mm=87.0)) == 34  # 34.8
    assert slipped._rows(setting(height_mm=90.0)) == 48
    assert slipped._rows(setting(height_mm=None)) == 32
    assert slipped._rows(setting(height_mm=1.0)) == 4
    assert Flap()._rows(setting(UP)) == 24
    assert Flap()._rows(setting(height_mm=90.0)) == 32


@pytest.mark.parametrize(
    ("heel", "last", "words"),
    [
        (32, 0, "[Sl 1 pwise wyib, k1] 16 times"),
        (31, 0, "[Sl 1 pwise wyib, k1] 15 times, sl 1 pwise wyib"),
        (32, 1, "[Sl 1 pwise wyib, k1] 15 times, sl 1 pwise wyib"),
        (31, 1, "[Sl 1 pwise wyib, k1] 15 times"),
    ],
)
def test_every_other_stitch_of_a_flap_is_slipped(heel: int, last: int, words: str) -> None:
    items = Flap()._flap_row(heel, last=last)
    assert in_words(Row(items)).removeprefix("Row 1: ").removesuffix(".") == words


def test_a_plain_row_of_a_flap_ends_where_it_is_asked_to() -> None:
    row = Row(Flap(fabric=FlapFabric.PLAIN)._flap_row(32, last=1))
    assert "k30" in in_words(row)


def test_a_gusset_that_does_not_come_out() -> None:
    """18 left of the turn and twice 6 are fewer than 32; with 7 they are as many."""
    with pytest.raises(SizingError) as refusal:
        Flap(rows=10).numbers(setting())
    assert (refusal.value.what, refusal.value.found) == (
        "gusset", "10 rows of flap, 18 stitches left of the turn",
    )  # fmt: skip
    assert refusal.value.expected == "too few for 32: lengthen the flap"
    assert counts(Flap(rows=12), setting()) == (15, 9, 1, 0)
    assert counts(Flap(rows=24), setting(heel=31))[2] % 2 == 1  # odd heels have even sides, too


def notes(steps: list[Step]) -> str:
    return " ".join(in_words(step) for step in steps if isinstance(step, Note))


def test_what_is_told_beside_a_flap_toe_up() -> None:
    told = notes(Flap().steps(setting(UP)))
    assert "on the first 56 sts, the back; the 32 sts of the instep rest" in told  # 32 and 24
    assert "one of the 24 sts of the gusset" in told


def test_what_is_told_beside_a_flap_cuff_down() -> None:
    told = notes(Flap().steps(setting()))
    assert "on the first 32 sts, the back; the 32 sts of the instep rest" in told
    assert "16 chains of slipped sts, one for two of its 32 rows" in told


@pytest.mark.parametrize("own", [False, True])
def test_the_rows_of_a_heel_toe_up_begin_past_the_gusset(own: bool) -> None:
    """12 stitches of gusset, then 30 of 32; in a yarn of its own the gusset is knitted before."""
    yarn = HeelYarn("B", ("A",), ("A",)) if own else HeelYarn()
    words = [in_words(step) for step in Flap().steps(setting(UP, yarn=yarn))]
    assert f"Row 1 (RS): K{30 if own else 42}, w&t." in words
    assert ("K12." in words) is own


def test_the_first_rows_of_a_flap_toe_up_take_the_wraps_in() -> None:
    """Row 1 stands 14 stitches before the end of 32, and works one of them with the gusset's."""
    steps = Flap()._joining_rows(Flap()._up(setting(UP)))
    first, second = (in_words(step) for step in steps[:2])
    assert first == "Row 1 (RS): K17 with wraps, ssk, turn."
    assert second == "Row 1 (WS): Sl 1 pwise wyif, p30 with wraps, p2tog, turn."
    told = " ".join(in_words(step) for step in steps[2:])
    assert "[Sl 1 pwise wyib, k1] 15 times, sl 1 pwise wyib, ssk" in told
    assert "p30, p2tog" in told
    assert "another 10 times (11 times in all)" in told  # 12 in all, with the two above
    square = Flap(turn=HeelTurn(shape="square"))
    words = [in_words(step) for step in square._joining_rows(square._up(setting(UP)))[:2]]
    assert all("with wraps, turn" in one for one in words)


def test_more_stitches_are_picked_up_where_no_strand_runs() -> None:
    """16 chains and one for the corner; in the heel's own yarn the second corner has no strand."""
    words = " ".join(in_words(step) for step in Flap().steps(setting()))
    assert words.count("lift strand across corner and m1l") == 2
    yarn = HeelYarn("B", ("A",), ("A",))
    words = " ".join(in_words(step) for step in Flap().steps(setting(yarn=yarn)))
    assert words.count("lift strand across corner and m1l") == 1
    assert "pick up and knit 17 sts" in words
    none = Flap(corners=Corners.LEFT).steps(setting())
    assert "strand across" not in " ".join(map(in_words, none))


LAYOUT = Layout((("instep", 6), ("sole", 8)))
ACROSS = "lift strand across corner and k2tog with next st"


@together(
    ("corners", "strands", "joined", "told"),
    [
        (Corners.CLOSED, (True, True), False, [f"Instep: {ACROSS}, k to end; sole: {ACROSS}, k"]),
        (Corners.CLOSED, (True, False), False,
         ["lifted at the corner before the sole", f"Instep: {ACROSS}, k to end; sole: knit"]),
        (Corners.CLOSED, (False, True), False,
         ["lifted at the corner before the instep", f"Instep: knit; sole: {ACROSS}, k to end"]),
        (Corners.CLOSED, (False, False), True, ["No strand is lifted at the corners", "Knit."]),
        (Corners.BOTH_ENDS, (False, False), True, ["No strand is lifted at the corners", "Knit."]),
        (Corners.BOTH_ENDS, (True, True), False,
         ["At each corner the strand across is lifted twice", f"Instep: {ACROSS}, k to last st"]),
        (Corners.BOTH_ENDS, (True, True), True,
         ["lift at its beginning the strand a row lower", "Instep: lift strand beside"]),
        (Corners.BOTH_ENDS, (True, False), False,
         ["lifted twice: at its beginning", f"Instep: {ACROSS}, k to end; sole: k to last st"]),
    ],
)  # fmt: skip
def test_corners_in_words(
    corners: Corners, strands: tuple[bool, bool], joined: bool, told: list[str]
) -> None:
    steps = corner_round(LAYOUT, corners, strands, joined=joined)
    assert len(steps) == len(told)
    for step, words in zip(steps, told, strict=True):
        assert words in " ".join(in_words(step).split())
    last = steps[-1]
    assert getattr(last, "count", None) == 14


def test_short_rows_in_words() -> None:
    """11 turns at each side of 32, the first a stitch from the end, the last taking in all."""
    words = [in_words(step) for step in ShortRow(rows=ShortRows(side=11)).steps(setting())]
    assert words[1:3] == ["Row 1 (RS): K31, w&t.", "Row 1 (WS): P30, w&t."]
    assert "another 9 times (10 times in all)" in words[3]
    assert heel_named("short-row").numbers(setting()).foot_courses == 22.5


@together("kind", [Flap, Forethought, Afterthought, ShortRow, ShortRowGusset])
def test_the_numbers_of_a_heel_are_told_by_name(kind: Any) -> None:
    with pytest.raises(TypeError):
        kind(None)


def test_what_is_told_beside_a_heel_in_the_round() -> None:
    told = notes(Forethought().steps(setting()))
    assert "on the 32 sts of the back and as many new ones; the 32 sts of the instep rest" in told
    assert "the strands between the 32 sts cast on" in told
    assert "31 lie between them" in told
    later = notes(Afterthought().steps(setting()))
    assert "across the first 32 sts, the back; the same 32 sts" in later


def test_a_flap_is_made_longer_and_shorter_by_two_rows_at_a_time() -> None:
    """Longer by up to 24 rows, shorter to no fewer than 4."""
    by = [
        [change.by for change in Flap(rows=12).changes(setting(), roomier=roomier)]
        for roomier in (True, False)
    ]
    assert by == [[*range(2, 25, 2)], [-2, -4, -6, -8]]
    shorter = [*Flap(rows=12, longer=4).changes(setting(), roomier=False)]
    assert [change.heel.numbers(setting(UP)).foot_rounds for change in shorter] == [
        14, 12, 10, 8, 6, 4,
    ]  # fmt: skip


def test_stripes_that_follow_a_heel_toe_up_leave_no_strand_at_its_corners() -> None:
    """In one yarn both corners are closed in the round after it; where stripes begin, neither."""
    plain = in_words(Flap().steps(setting(UP))[-1])
    assert plain.count(ACROSS) == 2
    yarn = HeelYarn("B", ("A",), ("A", "C"), stripes=Stripes([("A", 2), ("C", 2)]))
    assert yarn.into_stripes
    *_, note, last = Flap().steps(setting(UP, yarn=yarn))
    assert "No strand is lifted at the corners" in in_words(note)
    assert ACROSS not in in_words(last)


def test_chains_are_twisted_where_that_is_asked_for() -> None:
    plain, twisted = (
        " ".join(in_words(step) for step in Flap(twisted=one).steps(setting()))
        for one in (False, True)
    )
    assert "tbl" not in plain
    assert plain != twisted


def test_a_heel_of_ones_own_works_no_rounds_of_leg_and_foot_unless_it_says_so() -> None:
    told = HeelNumbers(foot_courses=3, leg_courses=4)
    assert (told.foot_rounds, told.leg_rounds, told.turn) == (0, 0, None)


@pytest.mark.parametrize("set_up", [0, 3])
def test_a_tube_narrows_below_its_plain_rounds(set_up: int) -> None:
    """By hand: 2 plain rounds and those of the set-up are as wide as the opening."""
    heel = Forethought(plain_rounds=2, wedge=Wedge(phases=(Phase(4, 1),)))
    numbers: Any = heel.numbers(setting())
    wedge = attrs.evolve(numbers.wedge, set_up=set_up)
    changed = attrs.evolve(numbers, wedge=wedge)
    with mock.patch.object(Forethought, "numbers", return_value=changed):
        (tube, *_) = heel.outline(setting()).parts
    assert tube.outline[1] == (40, -2 * (2 + set_up))


def test_the_round_that_closes_the_corners_is_a_plain_one() -> None:
    """An afterthought heel without plain rounds has one if its corners are closed."""
    rounds = [
        heel.numbers(setting()).plain_rounds
        for heel in (
            Afterthought(plain_rounds=0), Afterthought(plain_rounds=0, corners=Corners.LEFT),
            Afterthought(plain_rounds=2), Afterthought(plain_rounds=2, corners=Corners.LEFT),
        )
    ]  # fmt: skip
    assert rounds == [1, 0, 2, 2]


@pytest.mark.parametrize(
    ("shape", "upto", "after"),
    [
        ("V", "to gap", ""),
        ("square", "to 1 st before gap", ""),
        ("round", "to 1 st before gap", "1"),
    ],
)
def test_a_turn_in_words(shape: str, upto: str, after: str) -> None:
    """The V takes the next two past the gap, the others one at either side; the round one on."""
    turn = HeelTurn(shape=shape)
    told = in_words(turn.rows(turn.numbers(32))[2])
    right, wrong = after and f", k{after}", after and f", p{after}"
    assert f"Row 1 (RS): Sl 1 pwise wyib, k {upto}, ssk{right}, turn." in told
    assert f"Row 2 (WS): Sl 1 pwise wyif, p {upto}, p2tog{wrong}, turn." in told


def test_the_foot_is_arranged_anew_after_waste_yarn_where_a_gusset_is() -> None:
    kinds = [
        [type(step).__name__ for step in Afterthought(gusset=gusset).steps(setting())]
        for gusset in (0, 2)
    ]
    after = [names[names.index("WasteRow") :] for names in kinds]
    assert ["Arrange" in names for names in after] == [False, True]


def test_cautions_are_marked_as_such() -> None:
    assert all(note.caution for note in (SCISSORS, DRAWN_OUT, RIDGE))
    assert not corner_tail(Corners.CLOSED)[0].caution  # type: ignore[attr-defined]


def test_a_girth_counts_no_gusset_and_no_more_courses_unless_it_is_told_of_them() -> None:
    told = HeelNumbers(foot_courses=20, leg_courses=24)
    by_hand = 2 * (40 + hypot(40, 22 * 2))
    assert girth_of_courses_mm(told, setting()) == pytest.approx(by_hand)
    assert girth_of_courses_mm(HeelNumbers(foot_courses=0, leg_courses=0), setting()) is None


def test_strands_run_across_corners_unless_it_is_said() -> None:
    assert corner_round(LAYOUT, Corners.CLOSED) == corner_round(
        LAYOUT, Corners.CLOSED, (True, True)
    )
    both = corner_round(LAYOUT, Corners.BOTH_ENDS)
    assert both == corner_round(LAYOUT, Corners.BOTH_ENDS, (True, True), joined=False)


@pytest.mark.parametrize("direction", Direction)
def test_a_flap_in_its_own_yarn_cuts_what_it_leaves_behind(direction: Direction) -> None:
    """The round's yarn would hang at the instep: cut, and joined anew when the flap's is cut."""
    yarn = HeelYarn("B", ("A",), ("A",))
    steps = Flap().steps(setting(direction, yarn=yarn))
    told = [
        (type(step).__name__, step.name) for step in steps if isinstance(step, CutYarn | UseYarn)
    ]
    assert told == [("CutYarn", "A"), ("UseYarn", "B"), ("CutYarn", "B"), ("UseYarn", "A")]
    assert [step.new for step in steps if isinstance(step, UseYarn)] == [False, True]


def test_which_heels_are_worked_back_and_forth() -> None:
    rows = {name for name in heel_names() if heel_named(name).in_rows}
    assert rows >= {"flap", "short-row", "short-row with gusset"}
    assert not rows & {"forethought", "afterthought"}


@pytest.mark.parametrize("waits", [True, False])
def test_where_the_yarn_is_when_the_instep_comes_back(waits: bool) -> None:
    yarn = HeelYarn("B", ("A",), ("A",)) if waits else HeelYarn()
    assert yarn.waits is waits
    told = notes(Forethought().steps(setting(yarn=yarn)))
    assert ("the yarn waits there" in told, "join the yarn there" in told) == (waits, not waits)
    assert ("leave a tail of 20 cm" in told) is not waits  # of a yarn that is joined there


def test_a_flap_of_32_rows_row_by_row() -> None:
    """The heel is knit once, purled back, and 15 times 2 rows more follow."""
    words = [in_words(step) for step in Flap().steps(setting())]
    assert "K32." in words
    assert any("another 14 times (15 times in all)" in one for one in words)


def test_the_middle_of_short_rows_is_told_in_stitches() -> None:
    """Of 32 there are 11 turns at each side and 10 between; one turn more leaves 8."""
    heel = ShortRow()
    for roomier, first in ((True, 8), (False, 12)):
        words = [change.words for change in heel.changes(setting(), roomier=roomier)]
        assert f"short rows to a middle of {first} stitches" in words
        assert all(f"middle of {first - 1} " not in one for one in words)
