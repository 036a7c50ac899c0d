from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as s

from loopwright.errors import KnitError, SizeError, StepError
from loopwright.fabric import difference
from loopwright.fabric.checks import check
from loopwright.fabric.fabric import Fabric
from loopwright.making import Hand, Work, cast_on, graft
from loopwright.pattern import (
    Pattern,
    Repeat,
    RepeatRounds,
    Round,
    Run,
    Sized,
    To,
    instructions,
    k,
    k_to,
    knit,
    knit_rounds,
    of_size,
    read,
    review,
    write,
)
from loopwright.pattern._knit import knit_on
from loopwright.pattern.stitch_worker import StitchWorker
from loopwright.pattern.walk import Walk
from together import together

WEDGE = """Cast on 16 (24) sts.
Join in the round.
Divide sts over 2 needles: 8 (12), 8 (12).
Rnds 1-5: Knit.
Rnd 6: On each needle: k1, ssk, k to last 3 sts, k2tog, k1.
Rnd 7: Knit.
Rep rnds 6 and 7 until 8 sts remain, ending with rnd 6. (8 sts)
Graft the sts of the two needles together, stitch by stitch.
"""
HEEL = """Cast on 48 sts.
Join in the round.
Rnds 1-6: Knit.
K24.
Place next 24 sts on waste yarn as instep.
Provisionally cast on 24 sts over waste yarn called heel. (48 sts)
Divide sts over 2 needles: 24, 24.
Rnd 1: Knit.
Rnd 2: On each needle: k1, ssk, k to last 3 sts, k2tog, k1.
Rnd 3: Knit.
Rep rnds 2 and 3 until 16 sts remain, ending with rnd 2. (16 sts)
Graft the sts of the two needles together, stitch by stitch.
Join yarn foot.
Return to needle the sts held as instep.
Recapture the sts from the waste yarn called heel. (48 sts)
"""
TOE = """Divide sts over 2 needles: 24, 24.
Rnds 1-5: Knit.
Rnd 6: On each needle: k1, ssk, k to last 3 sts, k2tog, k1.
Rnd 7: Knit.
Rep rnds 6 and 7 until 16 sts remain, ending with rnd 6.
Graft the sts of the two needles together, stitch by stitch.
Weave in all ends.
"""


def same(one: Fabric, other: Fabric) -> bool:
    """Loop for loop the same: made in the same order, through the same loops."""
    return (
        np.array_equal(one.parent, other.parent)
        and np.array_equal(one.child, other.child)
        and np.array_equal(one.stitch, other.stitch)
        and np.array_equal(one.next, other.next)
    )


def test_a_wedge_is_that_of_the_model() -> None:
    """V 136, E 263, C 129 (model of this project, section 4, worked on its prototype)."""
    fabric = knit(read(WEDGE))
    assert fabric.cell_sizes() == {3: 9, 4: 113, 5: 6, 17: 1}
    assert len(fabric) == 136


def test_a_pattern_knits_what_hands_do() -> None:
    work = Work()
    cast_on(work, 16)
    work.join_round()
    work.plain_rounds(5)
    for half in (8, 6):
        work.round((["k", "ssk", *["k"] * (half - 6), "k2tog", "k"]) * 2)
        if half == 8:
            work.plain_rounds(1)
    graft(work)
    assert same(knit(read(WEDGE)), work.fabric())


def test_each_size_is_knitted() -> None:
    assert len(knit(read(WEDGE), size=1)) > len(knit(read(WEDGE)))


def test_left_hands_mirror_the_fabric() -> None:
    right, left = knit(read(WEDGE)), knit(read(WEDGE), hand=Hand.LEFT)
    assert right.cell_sizes() == left.cell_sizes()
    assert not np.array_equal(right.flags, left.flags)


def test_a_heel_made_at_once_leaves_two_corners_of_seven() -> None:
    """Model of this project, section 4: each corner left as it is has 7 edges."""
    fabric = knit(read(HEEL + TOE))
    assert fabric.cell_sizes()[7] == 2
    assert fabric.euler_characteristic == 2
    assert check(fabric).ok or {one.kind for one in check(fabric).findings} == {"gaps"}
    assert len(fabric.openings) == 1


def test_a_lifted_strand_closes_a_corner() -> None:
    first_round = (
        "Rnd 1: K24, lift strand across corner and k2tog with next st, k to end. (48 sts)\n"
    )
    fabric = knit(read(HEEL + first_round + TOE))
    assert fabric.cell_sizes().get(7, 0) == 1


@together(
    ("text", "problem", "stitch", "line"),
    [
        ("Cast on 8 sts. Join in the round.\nRnd 1: K5.", "uses 5 of 8 sts; 3 are left over", 6, 2),
        ("Cast on 8 sts. Join in the round.\nRnd 1: K9.", "k9 needs 9 sts, 8 are left", 1, 2),
        ("Cast on 9 sts. Join in the round.\nRnd 1: *K2, p2; rep from * to end.", "multiple", 1, 2),
        ("Cast on 8 sts. Join in the round.\nRnd 1: Knit. (9 sts)", "states 9 sts", 1, 2),
        ("Cast on 8 sts.\nRnd 1: Knit.", "not joined", 1, 2),
        ("Cast on 8 sts. Join in the round.\nRnd 1: K to marker, knit.", "marker is ahead", 1, 2),
        ("Cast on 8 sts.\nRow 1 (RS): Knit.\nRow 2 (RS): Knit.", "but the WS faces", 1, 3),
        ("Cast on 8 sts.\nRow 1: K to gap, turn.", "there is no gap", 1, 2),
        ("Cast on 8 sts.\nPlace next 9 sts on a holder as instep.", "9 sts are to be held", 1, 2),
        ("Cast on 8 sts.\nReturn to needle the sts held as instep.", "no sts are held as", 1, 2),
        ("Cast on 7 sts. Join in the round.\nGraft the sts together.", "equal halves", 1, 2),
        (
            "Cast on 8 sts. Join in the round. Divide sts: front 5, back 3.\nGraft the sts.",
            "front has 5 sts and back 3",
            1,
            2,
        ),
        ("Cast on 8 sts. Join in the round.\nDivide sts: sole 4, top 5.", "4 + 5 = 9 sts", 1, 2),
        (
            "Cast on 8 sts. Join in the round.\nRnd 1: K2tog, knit.\nRep rnd 1 until 9 sts remain.",
            "misses 9",
            1,
            3,
        ),
        (
            "Cast on 8 sts. Join in the round.\nRnd 1: Knit.\nRep rnd 1 until 4 sts remain.",
            "never leads from 8",
            1,
            3,
        ),
        ("Cast on 8 sts. Join in the round.\nNext 5 cm: Knit.", "without a gauge", 1, 2),
        ("Cast on 8 sts.\nTake out the waste yarn called heel.", "no waste yarn heel", 1, 2),
        ("Cast on 8 sts. Join in the round.\nRnd 1: Sole: knit.", "no needles are arranged", 1, 2),
        (
            "Cast on 8 sts. Join in the round. Bind off all sts.\nJoin in the round.",
            "already",
            1,
            2,
        ),
    ],
)
def test_errors_say_step_stitch_and_needles(
    text: str, problem: str, stitch: int, line: int
) -> None:
    with pytest.raises(KnitError) as caught:
        knit(read(text))
    error = caught.value
    assert problem in error.problem
    assert (error.stitch, error.line) == (stitch, line)
    assert error.step
    assert error.on_needles


def test_an_error_names_what_was_on_the_needles() -> None:
    text = "Cast on 12 sts. Join in the round. Place next 4 sts on a holder as instep. Rnd 1: K9."
    with pytest.raises(KnitError) as caught:
        knit(read(text))
    assert caught.value.on_needles == "8 sts; held: instep 4"
    assert "Rnd: K9, stitch 1: k9 needs 9 sts" in str(caught.value)


def test_what_was_on_the_needles_counts_what_the_round_had_worked_by_then() -> None:
    """It said that 4 stitches were left of 8, none of them worked."""
    with pytest.raises(KnitError) as caught:
        knit(read("Cast on 8 sts. Join in the round. Rnd 1: K2, k2tog, k5."))
    assert caught.value.problem == "k5 needs 5 sts, 4 are left"
    assert caught.value.on_needles == "7 sts, 3 of them worked"


def test_a_size_without_entry_is_refused() -> None:
    pattern = read("Sizes: S (M, L)\nCast on 8 (12) sts.")
    with pytest.raises(SizeError, match="none for size 3"):
        knit(pattern, size="L")
    with pytest.raises(StepError, match="no size 'XL'"):
        knit(pattern, size="XL")


def test_lengths_become_rounds_by_the_gauge() -> None:
    text = "Gauge: 30 sts and 40 rnds = 10 cm\nCast on 8 sts. Join in the round.\n{}"
    for said, rounds in (
        ("Next 5 cm: Knit.", 20),
        ("Next 1 in: Knit.", 10),  # 25.4 mm at 4 rounds per cm: 10.16
        ("Rnds 1-4: Purl.\nUntil piece measures 3 cm from cast-on: Knit.", 12),
    ):
        courses = set(knit(read(text.format(said))).course.tolist())
        assert len(courses) - 1 == rounds


def test_every_other_round_stops_on_a_shaping_round() -> None:
    text = (
        "Cast on 48 sts. Join in the round. Rnd 1: K1, k2tog, k to last 3 sts, ssk, k1. "
        "Rep rnd 1 every other rnd another 7 times (8 times in all). (32 sts)"
    )
    fabric = knit(read(text))
    assert len(set(fabric.course.tolist())) == 1 + 8 + 7


def test_only_some_sizes_work_a_step() -> None:
    text = "Sizes: S (M)\nCast on 8 sts. Join in the round.\nSize M only: Next 3 rnds: Knit."
    assert [len(knit(read(text), size=size)) for size in "SM"] == [8, 32]


def test_repeats_of_0_times_leave_a_size_out() -> None:
    text = (
        "Sizes: S (M)\nCast on 8 sts. Join in the round.\n"
        "Work next 2 rnds 0 (2) times in all:\nRnd 1: Knit.\nRnd 2: Purl."
    )
    assert [len(knit(read(text), size=size)) for size in "SM"] == [8, 40]


def test_yarns_change_and_come_back() -> None:
    text = (
        "Change to yarn A. Cast on 8 sts. Join in the round. Rnd 1: Knit. Join yarn B. "
        "Rnd 2: Knit. Change to yarn A. Rnd 3: Knit. Cut yarn B. Bind off all sts."
    )
    fabric = knit(read(text))
    assert [strand.name for strand in fabric.strands] == ["A", "B"]
    assert all(strand.cut for strand in fabric.strands)


def test_a_later_opened_heel_and_one_made_at_once_have_the_same_corners() -> None:
    text = (
        "Cast on 48 sts. Join in the round.\nRnds 1-6: Knit.\n"
        "With waste yarn, knit next 24 sts called heel; slip them back.\nRnds 7-16: Knit.\n"
        + TOE.replace("Weave in all ends.\n", "")
        + "Join yarn heel yarn.\nRecapture the sts from the waste yarn called heel. (48 sts)\n"
        + "Rnd 1: Knit.\n"
        + TOE
    )
    assert knit(read(text)).cell_sizes()[7] == 2


# --- the counts of the walk are those of the needles ---------------------------------------------


@s.composite
def tubes(draw: s.DrawFn) -> str:
    """Instructions that can be worked: rounds with repeats, shaping, markers and short rows."""
    count = draw(s.integers(8, 24))
    lines = [f"Cast on {count} sts.", "Join in the round."]
    for _ in range(draw(s.integers(1, 6))):
        kind = draw(s.sampled_from(["plain", "less", "more", "rib", "marked", "turn", "shift"]))
        if kind == "plain":
            lines.append(f"Next {draw(s.integers(1, 4))} rnds: Knit.")
        elif kind == "less" and count > 6:
            lines.append("Next rnd: K1, ssk, k to last 3 sts, k2tog, k1.")
            count -= 2
        elif kind == "more":
            lines.append("Next rnd: K2, m1l, k to last st, m1r, k1.")
            count += 2
        elif kind == "rib":
            lines.append(f"Next rnd: *K1, p1; rep from * to last {count % 2} sts, k{count % 2}.")
        elif kind == "marked":
            lines.append("Next rnd: K3, place marker, knit.")
            lines.append("Next rnd: K to 1 st before marker, p1, remove marker, knit.")
        elif kind == "turn":
            lines.append("K4, turn.\nSl 1 pwise wyif, p2, turn.\nSl 1 pwise wyib, k to gap.")
            lines.append("Next rnd: Knit.")
        else:
            lines.append("K3. Rnd begins here.")
    return "\n".join(lines)


@given(tubes())
@settings(max_examples=50, deadline=None)
def test_the_walk_and_the_needles_agree(text: str) -> None:
    pattern = read(text)
    work = Work()
    from_needles = [entry.before.count for entry in knit_on(work, pattern)]
    walk = Walk(pattern, StitchWorker())
    counted = []
    for step in pattern.steps:
        counted.append(walk.tally.count)
        walk.one(step)
    tally = walk.tally
    assert counted == from_needles
    assert tally.count == work.count
    assert tally.right_side == work.right_side_facing


@given(tubes())
@settings(max_examples=30, deadline=None)
def test_reading_what_was_written_knits_the_same_fabric(text: str) -> None:
    pattern = read(text)
    fabric = knit(pattern)
    assert same(fabric, knit(read(write(pattern))))
    assert fabric.euler_characteristic == 2


@given(s.integers(2, 9), s.integers(1, 5))
@settings(max_examples=25, deadline=None)
def test_rounds_worked_at_once_are_rounds_worked_singly(half: int, times: int) -> None:
    """The quick way for steady rounds makes the same loops as one round after another."""
    rib = Round([Repeat([k(1), Run("p")], To())])
    start = instructions(f"Cast on {2 * half} sts. Join in the round.")
    at_once = Pattern("", [*start, RepeatRounds([rib], times + 1)])
    singly = Pattern("", [*start, *[rib] * (times + 1)])
    assert same(knit(at_once), knit(singly))


def test_normal_form_has_no_repeats_of_once() -> None:
    rounds = Round([k_to()])
    assert Pattern("", [knit_rounds(1), knit_rounds(0)]).steps == (rounds,)
    sized = Pattern("", [knit_rounds(Sized((0, 1, 2)))], sizes="SML")
    assert [len(of_size(sized, size).steps) for size in "SML"] == [0, 1, 1]
    assert of_size(sized, "M").steps == (rounds,)


def test_normal_form_keeps_the_round_that_a_repeat_ends_with() -> None:
    purl = Round([Run("p", To())])
    inner = knit_rounds(Sized((1, 0, 3)))
    sized = Pattern("", [RepeatRounds([purl, inner, purl], 2, ending=2)], sizes="SML")
    small, medium, large = (of_size(sized, size).steps[0] for size in "SML")
    assert isinstance(small, RepeatRounds)
    assert isinstance(medium, RepeatRounds)
    assert isinstance(large, RepeatRounds)
    assert (len(small.steps), small.ending) == (3, 2)
    assert (len(medium.steps), medium.ending) == (2, 1)
    assert (len(large.steps), large.ending) == (3, 2)
    with pytest.raises(StepError, match="worked 0 times"):
        Pattern("", [RepeatRounds([knit_rounds(0), purl], 2, ending=1)])


@pytest.mark.parametrize(
    ("round_", "counts"),
    [
        ("Needle 1: k to end, m1l; needle 2: k to end", (5, 4)),
        ("Needle 1: k to end; needle 2: m1l, k to end", (4, 5)),
        ("Needle 1: k to end, yo; needle 2: yo, k to end, yo", (5, 6)),
        ("Needle 1: k2, m1l, k2; needle 2: k2, m1l, k2", (5, 5)),
        ("Needle 1: knit; needle 2: [yo, k2] twice", (4, 6)),
    ],
)
def test_what_is_made_between_needles_lies_on_the_one_that_says_so(
    round_: str, counts: tuple[int, int]
) -> None:
    text = f"Cast on 8 sts. Join in the round. Divide sts over 2 needles: 4, 4. Rnd 1: {round_}."
    work = Work()
    knit_on(work, read(text + f" Rnd 2: Needle 1: k{counts[0]}; needle 2: k{counts[1]}."))
    assert work.needle_counts == counts
    worked = review(text + " Bind off all sts. Weave in all ends.").findings
    assert all(finding.severity == "note" for finding in worked)


def test_a_strand_lifted_at_the_start_of_a_needle_lies_on_that_needle() -> None:
    """The corner of an opened heel, lifted and knitted alone first on the second needle."""
    text = HEEL + (
        "Divide sts: instep 24, sole 24.\n"
        "Rnd 1: Instep: knit; sole: lift strand across corner and m1l, k to end. (49 sts)\n"
        "Rnd 2: Instep: k24; sole: k25.\n"
    )
    work = Work()
    knit_on(work, read(text))
    assert work.needle_counts == (24, 25)


def test_a_round_that_goes_over_to_rows_is_turned_at_its_end() -> None:
    """All stitches of the round lie ahead again: the next row is worked back (common practice)."""
    rows = "Work back and forth from here. Turn. Row 1 (WS): Purl. Row 2 (RS): Knit."
    made = knit(read(f"Cast on 6 sts. Join in the round. Rnd 1: Knit. {rows}"))
    work = Work()
    cast_on(work, 6)
    work.join_round()
    work.plain_rounds(1)
    work.to_rows()
    work.turn()
    work.row(["p"] * 6)
    work.work(["k"] * 6)
    assert difference(made, work.fabric()) is None
