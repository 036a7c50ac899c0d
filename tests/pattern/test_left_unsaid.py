# ruff: noqa: E501 - a line of a pattern stands on one line, long as it may be
"""Texts that leave something to the knitter are knitted to a sound fabric (our own texts).

What is meant is common practice in each: a row before a gusset is not turned, three needles of a
gusset hold the instep on the second, the yarn is brought to a heel by knitting across the instep.
"""

from __future__ import annotations

import attrs
import pytest

from loopwright.errors import KnitError
from loopwright.fabric import check
from loopwright.pattern import (
    KNIT,
    Arrange,
    CastOn,
    Join,
    On,
    Pattern,
    ProvisionalCastOn,
    Recapture,
    RepeatRounds,
    Round,
    Row,
    Run,
    Side,
    SizedLength,
    Stay,
    Step,
    To,
    UntilMeasures,
    Where,
    With,
    k,
    knit,
    of_size,
    read,
    review,
    write,
)
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._reading.reader import read_closely
from pattern.ordinary import Text, texts

TOE = """Cast on 12 sts provisionally with waste yarn.
Purl 1 row.
Row 1 (RS): Knit to last st, w&t.
Row 2: Purl to last st, w&t.
Row 3: Knit to 1 st before wrapped st, w&t.
Row 4: Purl to 1 st before wrapped st, w&t.
Rep rows 3 and 4 2 more times.
Row 1 (RS): Knit to first wrapped st, pick up wrap and knit it together with its st, wrap next st and turn.
Row 2: Purl to first wrapped st, pick up wrap and purl it together with its st, wrap next st and turn.
Rep these 2 rows until all sts have been worked and no wrapped sts are left.
Next round: Knit across 12 sts; unzip the provisional cast-on and place the 12 live sts on two needles; knit across them. 24 sts.
Knit 3 rounds. Cast off. Weave in ends."""
FLAP = """Cast on 24 sts. Join in the round.
Knit 4 rounds.
Next row: K12, turn. Slip the rem 12 sts on to a holder for the instep.
1st row (WS): Sl 1, p11.
2nd row (RS): *Sl 1, k1; rep from * to end.
Rep these 2 rows 5 times more.
"""
GUSSET = """Pick up and knit 6 sts along the side of the flap, knit the 12 instep sts, pick up and knit 6 sts along the other side, k6 from the heel. The round begins here. 36 sts.
1st round: On first needle, knit to last 3 sts, k2tog, k1; knit the instep needle; on third needle, k1, skpo, knit to end.
2nd round: Knit.
Cast off. Weave in ends."""


def test_a_toe_of_wrapped_short_rows_closes_to_a_tube() -> None:
    """Its first row is a wrong-side row; its last rows wrap none; the strand at the far corner."""
    pattern = read(TOE)
    fabric = knit(pattern)
    assert not check(fabric, openings=1).mistakes
    (taken,) = [step for step in pattern.steps if isinstance(step, Recapture)]
    assert taken.corner == "last"


def test_a_flap_is_not_turned_before_its_gusset_and_three_needles_are_shared_out() -> None:
    pattern = read(FLAP + GUSSET)
    (needles,) = [step for step in pattern.steps if isinstance(step, Arrange)]
    assert [many for _, many in needles.parts] == [12, 12, 12]
    rows = [row for row in rounds_in(pattern.steps) if isinstance(row, Row)]
    assert [row.items[-1] == Stay() for row in rows] == [False] * (len(rows) - 1) + [True]
    assert not check(knit(pattern), openings=2).mistakes


def test_needles_named_in_pairs_are_worked_in_their_order() -> None:
    """Each of four needles loses one: 16 to 12 (recounted by hand)."""
    text = """Cast on 16 sts and join in the round. Knit 2 rounds.
Arrange 4 sts on each of Needles 1 to 4.
Dec round: Needles 1 and 3: K1, ssk, knit to end. Needles 2 and 4: Knit to last 3 sts, k2tog, k1. (12 sts)
Bind off."""
    pattern = read(text)
    *_, last = rounds_in(pattern.steps)
    named = [item.parts for item in last.items if isinstance(item, On)]
    assert named == [("needle 1",), ("needle 2",), ("needle 3",), ("needle 4",)]
    assert not check(knit(pattern)).mistakes


def test_the_yarn_is_brought_to_a_heel_that_the_round_does_not_begin_with() -> None:
    text = """CO 16 sts using a closed toe-up method, half on each of 2 needles. Needle 1 = instep, Needle 2 = sole.
Knit 4 rounds.
The heel is worked on Needle 2 only.
R1 (RS): K6, w&t.
R2 (WS): P4, w&t.
Next R (RS): K to end of Needle 2, knitting wraps together with their sts. 8 sts.
Resume working in the rnd. Knit 2 rounds. Bind off. Weave in ends."""
    fabric = knit(read(text))
    assert not check(fabric, openings=1).mistakes


DOUBLED = """Cast on 20 sts and join in the round. Knit 4 rounds.
The heel is worked back and forth over the first 10 sts only. The other 10 sts rest on the cable.
Row 1 (RS): K10, turn.
Row 2 (WS): DS, purl to end, turn.
Row 3: DS, knit to the DS at the end of the row, turn.
Row 4: DS, purl to DS, turn.
Repeat Rows 3 and 4 two more times.
Knit to the end of the heel, working both legs of each DS together as one stitch.
Work one round over all 20 sts, knitting any remaining double stitches as one.
Knit 3 rounds. Bind off. Weave in ends."""


def test_double_stitches_at_the_edge_leave_no_gap_yet_and_are_all_closed() -> None:
    """The rows get shorter by one each: 10, 9, 8, 7, 6, 5, 4, 3 (recounted by hand)."""
    pattern = read(DOUBLED)
    rows = [row for row in rounds_in(pattern.steps) if isinstance(row, Row)]
    wheres = [
        item.amount.where
        for row in rows[1:6]
        for item in row.items
        if isinstance(item, Run) and isinstance(item.amount, To)
    ]
    assert wheres == [Where.END, Where.END, Where.END, Where.GAP, Where.GAP]
    found = check(knit(pattern), openings=2)
    assert not found.mistakes
    whole = [row.items for row in rounds_in(pattern.steps) if isinstance(row, Round)]
    assert Run("k", To(Where.END), with_wraps=True) in [items[0] for items in whole]


WIDER = """Cast on 20 sts and join in the round. Knit 2 rounds.
Row 1 (RS): K7, turn.
Row 2: DS, p3, turn.
Row 3: DS, k to DS, knit DS as one stitch, k1, turn.
Row 4: DS, p to DS, purl DS as one stitch, p1, turn.
Continue in this manner until all {many} heel sts have been worked.
Knit 2 rounds. Bind off. Weave in ends."""


def test_rows_that_go_outwards_are_worked_until_both_sides_are_used_up() -> None:
    """Behind row 4 the turns stand behind sts 2 and 8 of 10: twice more on each side."""
    pattern = read(WIDER.format(many=10))
    times = [
        step.times for step in pattern.steps if isinstance(step, RepeatRounds) and rows_of(step)
    ]
    assert times == [3]
    assert not check(knit(pattern), openings=2).mistakes
    uneven = read_closely(WIDER.format(many=11), go_on=True)
    assert [error.line for error in uneven.errors] == [6]  # the sides would not end together
    assert not any(rows_of(step) for step in uneven.pattern.steps)


def rows_of(step: Step) -> int:
    rows = step.steps if isinstance(step, RepeatRounds) else ()
    return sum(isinstance(row, Row) for row in rows)


def test_a_length_or_so_much_less_than_wanted_is_short_by_the_second() -> None:
    text = """Cast on 8 sts and join in the round.
Continue in rounds of stocking stitch until work measures 16 cm, or 4.5 cm less than length required.
Cast off."""
    (rounds,) = [step for step in read(text).steps if isinstance(step, RepeatRounds)]
    assert rounds.times == UntilMeasures(SizedLength(4.5, "cm"), "wanted")


def test_the_main_yarn_is_taken_in_hand_again_behind_a_round_of_two() -> None:
    text = """Cast on 16 sts with MC and join in the round.
Round 1: *K1 MC, k3 CC; repeat to end.
Round 2: With MC, knit, decreasing 4 sts evenly: *k2, k2tog; repeat from * to end. 12 sts.
Round 3: With MC, knit."""
    behind = read(text).steps[3]
    assert isinstance(behind, Round)
    assert behind.items[0] == With("main")
    assert not [finding for finding in review(text).findings if finding.severity == "error"]


def test_steps_made_by_hand_are_taken_as_they_stand() -> None:
    pairs = Round((On(("needle 2",), (KNIT,)), On(("needle 1",), (KNIT,))))
    arranged = Arrange((("needle 1", 4), ("needle 2", 4)))
    with pytest.raises(KnitError, match="does not stand"):
        knit(Pattern("", (CastOn(8), Join(), arranged, pairs)))
    begun = attrs.evolve(pairs, items=(k(2), *reversed(pairs.items)))
    with pytest.raises(KnitError, match="does not stand at the beginning of needle 1"):
        knit(Pattern("", (CastOn(8), Join(), arranged, begun)))
    with pytest.raises(KnitError, match="no needles are arranged"):
        knit(Pattern("", (CastOn(8), Join(), pairs)))
    rows = (Row((Run("p", 8),)), Row((KNIT,), side=Side.RS), Row((KNIT,), side=Side.RS))
    with pytest.raises(KnitError, match="stated for the RS"):
        knit(Pattern("", (CastOn(8), *rows)))
    with pytest.raises(KnitError, match="first corner"):
        knit(Pattern("", (ProvisionalCastOn(8), Row((KNIT,)), Recapture())))


KNITTED = {"03", "04", "07", "10", "11", "12", "16", "20"}


@pytest.mark.parametrize(
    "one", [one for one in texts() if one.name[:2] in KNITTED], ids=lambda one: one.name
)
def test_an_ordinary_text_is_knitted_and_has_one_surface(one: Text) -> None:
    pattern = read(one.text)
    found = check(knit(of_size(pattern, pattern.sizes[0]) if pattern.sizes else pattern))
    assert not found.mistakes
    assert knit(read(write(pattern))) == knit(pattern)


def test_wraps_are_taken_up_as_often_as_there_are_places() -> None:
    """Rows before those that are repeated wrap a stitch twice: that is one place, not two."""
    first = "Row 1 (RS): Knit to first wrapped st, knit it together with its wrap, w&t.\n"
    back = "Row 2: Purl to first wrapped st, purl it together with its wrap, w&t.\n"
    again = (
        "Row 3: K to the double-wrapped st, knit it with both wraps, w&t.\n"
        "Row 4: P to the double-wrapped st, purl it with both wraps, w&t.\n"
        "Repeat Rows 3 and 4 until all the heel sts are worked.\n"
    )
    begun = TOE.partition("Row 1 (RS): Knit to first")[0]
    fabric = knit(read(begun + first + back + again + "Row 5: Knit.\nCast off. Weave in ends."))
    assert fabric.euler_characteristic == 2
