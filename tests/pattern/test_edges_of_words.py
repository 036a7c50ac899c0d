"""Instructions at their edges: the last that can be worked, the first that can't, and what is told.

Each stands beside a line that could once be changed without a test that noticed.
"""

from __future__ import annotations

import pytest

from loopwright.errors import KnitError, PatternSyntaxError, SizeError
from loopwright.fabric import same_fabric
from loopwright.fabric.columns import BACK
from loopwright.making.casting import spread
from loopwright.pattern import (
    CastOn,
    ClosedCastOn,
    Pattern,
    Repeat,
    Run,
    derive,
    knit,
    knitted,
    read,
    review,
    write,
)
from loopwright.pattern._cables import crossing_defined
from loopwright.pattern._deriving.gather import _period
from loopwright.pattern._reading.scribe import _less
from loopwright.pattern._rows_worked import rows_by_step
from loopwright.pattern.items import depth_of
from loopwright.pattern.values import Sized, filled
from together import together

TUBE = "Cast on 8 sts. Join in the round.\n"


def test_a_piece_that_measures_enough_already_is_not_worked_on() -> None:
    gauge = "Gauge: 20 sts and 20 rnds = 10 cm.\n"
    on = knit(
        read(gauge + TUBE + "Rnds 1-4: Knit.\nKnit until piece measures 2.5 cm from cast-on.")
    )
    assert max(on.course.tolist()) == 5  # 5 rounds are 2.5 cm: one more
    nearest = knit(read(gauge + TUBE + "Knit until piece measures 2.8 cm from cast-on."))
    assert max(nearest.course.tolist()) == 6  # 5.6 rounds
    with pytest.raises(KnitError, match="measures 1 cm or more already"):
        knit(read(gauge + TUBE + "Rnds 1-4: Knit.\nKnit until piece measures 1 cm from cast-on."))


def test_the_last_stitch_of_a_round_can_be_worked_to_a_marker_and_no_marker_behind() -> None:
    made = knit(read(TUBE + "Rnd 1: K3, pm, k to end.\nRnd 2: K to m, sm, k to end."))
    assert len(made) == 24
    with pytest.raises(KnitError, match="marker A is not ahead; markers placed: A"):
        knit(read(TUBE + "Rnd 1: K3, pm A, k to end.\nRnd 2: K4, k to marker A, k to end."))


def test_a_marker_that_is_slipped_stays_and_one_that_is_removed_is_gone() -> None:
    start = TUBE + "Rnd 1: K3, pm, k to end.\nRnd 2: K to m, {doing}, k to end.\nRnd 3: K to m, k5."
    assert len(knit(read(start.format(doing="sm")))) == 32
    with pytest.raises(KnitError, match="no marker is ahead"):
        knit(read(start.format(doing="remove m")))


@pytest.mark.parametrize(("times", "stitches"), [(1, 1), (2, 2), (3, 3)])
def test_a_repeat_that_places_markers_is_worked_as_often_as_it_says(
    times: int, stitches: int
) -> None:
    text = TUBE + f"Rnd 1: [K{stitches // times}, pm, rm] {times} times, k to end."
    assert len(knit(read(text))) == 16
    with pytest.raises(KnitError):
        knit(read(TUBE + f"Rnd 1: [K4, pm, rm] {times + 2} times, k{9 - stitches}."))


def test_what_is_left_open_is_told_at_the_last_step_that_has_a_place() -> None:
    (found,) = review(TUBE + "Rnd 1: Knit.\n\nRnd 2: Purl.").findings
    assert (found.line, "8 sts are" in found.message) == (4, True)


@pytest.mark.parametrize(
    ("end", "notes"),
    [("", 1), (" Weave in all ends.", 0), (" Fasten off, weave in ends.", 0)],
)
def test_ends_that_are_not_woven_in_are_a_note(end: str, notes: int) -> None:
    findings = review(TUBE + "Rnd 1: Knit. Bind off all sts." + end).findings
    assert [one.message for one in findings] == ["the ends are not woven in"] * notes


def test_an_error_shows_its_line_as_it_stands_or_the_sentence_of_wrapped_lines() -> None:
    with pytest.raises(PatternSyntaxError) as alone:
        read(TUBE + "  Rnd 1: K3, blarg, k to end.")
    assert (alone.value.line, alone.value.source.strip()) == (2, "Rnd 1: K3, blarg, k to end.")
    assert alone.value.source[alone.value.column - 1 :].startswith("blarg")
    with pytest.raises(PatternSyntaxError) as wrapped:
        read(TUBE + "Rnd 1: K3, k1,\n  k1, blarg, k to end.")
    assert wrapped.value.line == 3


@together(
    ("entry", "kept"),
    [("T3 = three turns", 1), ("T3: three turns", 1), ("T3 =", 0), ("= three", 0), ("T3", 0)],
)
def test_an_abbreviation_has_two_sides(entry: str, kept: int) -> None:
    told = read(f"Abbreviations: {entry}\n" + TUBE + "Rnd 1: Knit.")
    assert len(told.abbreviations) == kept


@pytest.mark.parametrize(("stated", "rows"), [(" (8 sts)", 1), ("", 0)])
def test_a_stated_count_is_in_the_ledger_and_no_other(stated: str, rows: int) -> None:
    made = knitted(read("Cast on 4 sts. Cast on 4 sts." + stated))
    assert (made.fabric.ledger[:, 0] == 6).sum() == rows


def test_no_strand_is_lifted_with_a_stitch_that_is_not_there() -> None:
    with pytest.raises(KnitError, match="no stitch is left to work the strand with"):
        knit(read(TUBE + "Rnd 1: K8, lift strand across corner and k2tog with next st."))


def test_what_is_worked_twice_up_to_a_marker_is_worked_up_to_two() -> None:
    start = TUBE + "Rnd 1: K2, pm, k3, pm, k to end.\nRnd 2: [K to m, sm] 2 times, p to end."
    made = knit(read(start))
    below = dict(zip(made.child.tolist(), made.info.tolist(), strict=True))
    assert [bool(below[loop] & BACK) for loop in range(16, 24)] == [False] * 5 + [True] * 3


def test_places_are_spread_from_the_first_to_the_last() -> None:
    """By hand: five of five are all; two of five stand in the middle of either half."""
    assert spread(5, 5) == [0, 1, 2, 3, 4]
    assert spread(5, 2) == [1, 3]


@together(
    "nth", ["3rd", "4th", "11th", "12th", "13th", "21st", "22nd", "23rd", "24th", "101st", "212th"]
)
def test_rounds_are_counted_in_english(nth: str) -> None:
    """Ordinal numbers end as in any English grammar; 11 to 13 in 'th' (from memory)."""
    text = "Cast on 30 sts. Join in the round.\nRnd 1: K1, k2tog, k to end.\n"
    assert f" every {nth} rnd " in write(read(f"{text}Rep rnd 1 every {nth} rnd 3 times."))


def test_a_round_knitted_to_the_marker_where_it_begins_is_a_whole_round() -> None:
    for name in ("", " A"):
        start = f"{TUBE}Place marker{name}.\nRnd 1: Knit.\n"
        assert len(knit(read(f"{start}Rnd 2: K to marker{name}."))) == 24


@pytest.mark.parametrize(
    ("said", "ours"),
    [
        ("Do this for 2 inches.", "Next 2 in: *K1, p1; rep from * to end."),
        ("Keep going until it measures 2 inches.",
         "Until piece measures 2 in from cast-on: *K1, p1; rep from * to end."),
        ("Keep going until it measures 2 inches before you go on.",
         "Until piece measures 2 in from cast-on: *K1, p1; rep from * to end."),
        ("Do this until it is long enough.",
         "Until piece is as long as wanted: *K1, p1; rep from * to end."),
    ],
)  # fmt: skip
def test_how_far_the_round_before_goes_on(said: str, ours: str) -> None:
    text = write(read(TUBE + f"Rnd 1: *K1, p1; rep from * to end.\n{said}"))
    assert text.splitlines()[-1] == ours


def test_what_is_done_three_times_in_all_is_done_twice_more() -> None:
    made = knit(read(TUBE + "Knit 1 round. Purl 1 round. Keep doing this three times."))
    assert len(made) == 8 * (1 + 2 * 3)


def test_what_is_left_of_a_count_is_left_in_each_size() -> None:
    """By hand; where nothing would be left in a size, none is."""
    assert _less(Sized((10, 12)), Sized((4, 5))) == Sized((6, 7))
    assert _less(Sized((10, 12)), 4) == Sized((6, 8))
    assert _less(10, Sized((4, 6))) == Sized((6, 4))
    assert _less(Sized((5, 12)), 4) == Sized((1, 8))
    assert _less(Sized((4, 12)), 4) is None
    assert _less(Sized((10, 12, 14)), Sized((4, 6))) is None


def test_repeats_are_as_deep_as_what_is_inside_them() -> None:
    one = Repeat([Run("k")])
    assert (depth_of([]), depth_of([Run("k")]), depth_of([one, Run("k")])) == (1, 1, 2)
    assert (one.depth, Repeat([one]).depth) == (1, 2)


def test_stripes_of_two_yarns_begin_again_after_two_rounds() -> None:
    """By hand; three changes are few enough to be said one by one."""
    assert _period([*"ABABAB"]) == 2
    assert _period([*"AABBAABB"]) == 4
    assert _period([*"ABAB"]) == 0


def test_the_next_marker_is_not_the_one_where_the_round_begins() -> None:
    text = (
        TUBE + "Place marker.\nRnd 1: K1, place marker, k to marker.\nRnd 2: K to marker, p to end."
    )
    made = knit(read(text))
    below = dict(zip(made.child.tolist(), made.info.tolist(), strict=True))
    assert [bool(below[loop] & BACK) for loop in range(16, 24)] == [False] + [True] * 7


def test_the_longer_of_two_repeats_in_a_round_is_said_once() -> None:
    text = "Cast on 16 sts, long-tail.\nJoin to work in the round.\n"
    text += "Rnd 1: [K1, p1] 2 times, *k2tog, yo; rep from * to end.\n"
    words = write(derive(knit(read(text)))).splitlines()[-1]
    assert words == "Rnd 1: K1, p1, k1, p1, *k2tog, yo; rep from * to end."


def test_decreases_that_stand_in_line_are_said_by_needles() -> None:
    """By hand: the decreases of a toe meet behind 6 and 18 of 24 stitches."""
    toe = "Cast on 24 sts. Join in the round.\nRnd 1: {}.\nRnd 2: Knit.\nRnd 3: {}.\n"
    pair = "k{0}, k2tog, k2, ssk, k{0}, "
    fabric = knit(read(toe.format(*((pair * 2).format(n).rstrip(", ") for n in (3, 2)))))
    words = write(derive(fabric))
    assert "over 3 needles: 6, 12, 6." in words
    assert "needle 2: k1, ssk, k to last 3 sts, k2tog, k1; needle 3: k1, ssk, k to end." in words
    assert same_fabric(knit(read(words)), fabric)


def test_stitches_in_brackets_are_worked_one_by_one_from_the_cable_needle() -> None:
    row = crossing_defined("X", "sl 2 sts to cn and hold in front, k2, (k1, p1) from cn")
    assert row is not None
    assert (row.order, row.stack, row.faces) == ((2, 3, 0, 1), (0, 0, 1, 1), "kkkp")


def test_a_needle_that_is_not_filled_is_not_held() -> None:
    assert crossing_defined("X", "hold cn in front, k2, then k2 from cn") is None
    assert crossing_defined("X", "sl 2 sts to cn, k2, then k2 from cn") is None


@pytest.mark.parametrize(
    ("said", "rounds"),
    [
        ("Purl 1 round, knit 1 round, once.", 2),
        ("Purl 1 round, knit 1 round, twice.", 4),
        ("Purl 1 round, knit 2 rounds, 4 times.", 12),
        ("Knit 1 round, purl 1 round, 2 times more.", 6),
    ],
)
def test_rounds_in_turn_are_worked_as_often_as_is_said(said: str, rounds: int) -> None:
    assert len(knit(read(TUBE + said))) == 8 * (1 + rounds)


@pytest.mark.parametrize("rows", [2, 4, 10])
def test_rows_that_increase_as_one_did_do_it_on_every_other(rows: int) -> None:
    """By hand: 20 stitches, 1 more in row 1 and in each right-side row after it."""
    start = "Cast on 20 sts.\nRow 1 (RS): K1, m1l, k to end.\nRow 2: Knit.\n"
    more = f"Work in garter stitch, increasing as in row 1 on every RS row, for {rows} rows."
    made = knit(read(start + more))
    assert (made.live.size, max(made.course.tolist())) == (21 + rows // 2, 2 + rows)


@pytest.mark.parametrize(
    "said",
    [
        "Rnd 1: With A, k4.\nChange to B.\nRnds 2-4: Knit.",
        "Rnd 1: With A, k4.\nWith B: knit 3 rnds.",
        "Rnd 1: With A, k4.\nRnds 2-4: With B, k4.",
    ],
)
def test_plain_rounds_are_in_the_yarn_that_was_changed_to(said: str) -> None:
    made = knit(read("Cast on 4 sts in A. Join in the round.\n" + said))
    names = [made.strands[strand].name for strand in made.strand.tolist()]
    assert names == ["A"] * 8 + ["B"] * 12


@pytest.mark.parametrize(
    ("text", "column"),
    [("K9.", 8), ("K7, k2tog.", 12), ("K8, k1.", 12), ("K2, work to marker, k6.", 12)],
)
def test_a_stitch_that_cannot_be_worked_is_shown_where_it_stands(text: str, column: int) -> None:
    with pytest.raises(KnitError) as refusal:
        knit(read(f"{TUBE}Rnd 1: {text}"))
    assert (refusal.value.line, refusal.value.column) == (2, column)


def test_a_step_that_cannot_be_done_is_shown_at_its_beginning() -> None:
    with pytest.raises(KnitError) as refusal:
        knit(read(f"{TUBE}  Pick up and knit 3 sts along edge."))
    assert (refusal.value.line, refusal.value.column) == (2, 3)


def test_a_toe_begins_with_its_first_decrease_though_rounds_between_are_plain() -> None:
    toe = "".join(
        f"Rnd 1: *K1, ssk, k{plain}, k2tog, k1; rep from * once more.\n" + between
        for plain, between in ((6, "Knit 1 rnd.\n"), (4, "Knit 2 rnds.\n"), (2, ""), (0, ""))
    )
    heel = "Row 1: K12, turn.\nRow 2: Sl 1, p11, turn.\nRow 3: Sl 1, k11, turn.\n"
    text = f"""Cast on 24 sts. Join in the round.
Knit 12 rnds.
{heel}Row 4: Sl 1, p11, turn.
K12.
Knit 10 rnds.
{toe.replace("k0, ", "")}Break yarn and draw it through the sts.
"""
    told = write(derive(knit(read(text))))
    assert told.count("## ") == 4
    foot, toe = told.partition("## Foot")[2].split("## Toe")
    assert "ssk" not in foot
    assert toe.index("ssk") < toe.index("Knit.")


def test_each_step_has_as_many_rounds_or_rows_as_it_is_worked() -> None:
    """By hand: rounds with shaping, to and fro, and again in the round."""
    text = """Cast on 12 sts. Join in the round.
Rnd 1: Knit.
Rnd 2: K1, ssk, k to last 3 sts, k2tog, k1.
Rnd 3: Knit.
Rep rnds 2 and 3 once more.
Row 1: K4, turn.
Row 2: P4, turn.
Rnd 1: Knit.
Rnds 2-4: Purl.
Bind off all sts.
"""
    assert rows_by_step(read(text)) == (0, 0, 1, 4, 1, 1, 1, 3, 0)


@pytest.mark.parametrize(
    ("said", "found"),
    [
        ("Graft 14 sts to 14 sts.", None),
        ("Graft the 14 sts of the sole to those of the instep.", None),
        ("Graft 14 sts to 12 sts.", "26 sts to be joined; there are 28"),
        (
            "Graft the 13 sts of the sole to those of the instep.",
            "26 sts to be joined; there are 28",
        ),
    ],
)
def test_what_is_grafted_is_all_there_is(said: str, found: str | None) -> None:
    findings = review("Cast on 28 sts. Join in the round.\nRnd 1: Knit.\n" + said).findings
    messages = [one.message for one in findings if "joined" in one.message]
    assert messages == ([] if found is None else [found])


def test_a_count_stated_beside_the_one_that_is_worked_to_is_compared() -> None:
    start = "Cast on 16 sts. Join in the round.\nRnd 1: K1, ssk, k to last 3 sts, k2tog, k1.\n"
    for stated, wrong in (("10", []), ("8", ["states 8 sts; working it leaves 10"])):
        text = f"{start}Rep rnd 1 until 10 sts remain. {stated} sts."
        messages = [one.message for one in review(text).findings]
        assert [one for one in messages if "states" in one] == wrong


@pytest.mark.parametrize(("on", "told"), [(1, "1 st is on"), (2, "2 sts are on")])
def test_what_hinders_a_cast_on_is_said_in_its_number(on: int, told: str) -> None:
    with pytest.raises(KnitError, match=told):
        knit(Pattern("", (CastOn(on), ClosedCastOn(4))))


def test_numbers_without_a_place_are_refused() -> None:
    with pytest.raises(SizeError, match="has 1 places for numbers, not 2"):
        filled("lift {} sts", (1, 2))
    with pytest.raises(SizeError, match="has 2 places for numbers, not 1"):
        filled("lift {} of {} sts", (1,))
