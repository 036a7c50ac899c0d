# ruff: noqa: E501 - a sentence of a text stands on one line
"""What loose texts leave unsaid, and every knitter does: with it, they make a fabric.

Each text is the smallest of its kind: how an edge, a corner, a gap and a thumb are spoken of is
common practice. The ordinary texts in ``shared/ordinary`` are knitted beside them.
"""

from __future__ import annotations

import pytest

from loopwright import knit
from loopwright.errors import KnitError
from loopwright.pattern import Pattern, read, write
from loopwright.pattern import steps as st
from loopwright.pattern._reading.said_out import said_out
from loopwright.pattern.items import KNIT, STAY, Lift, On, PickUp, Run
from pattern.ordinary import FOLDER
from together import together

FLAP = """Cast on 32 sts. Join to work in the round.
Knit 4 rounds.
The flap is worked back and forth over the next 16 sts; leave the remaining 16 sts on hold for the instep.
Row 1 (RS): *Sl 1, k1; rep from * to end, turn.
Row 2 (WS): Sl 1, p to end, turn.
Rep Rows 1-2 seven more times.
"""
GAP = (
    FLAP
    + """N1: Knit across 16 heel sts, pick up and knit 8 sts along the side of the heel flap and 1 st in the gap. N2: Knit across 16 instep sts. N3: Pick up and knit 1 st in the gap and 8 sts along the other side of the flap, then knit the first 8 heel sts again. (50 sts)
The rnd now begins at the center of the heel.
Rnd 1: N1: K to last 3 sts, k2tog, k1. N2: K. N3: K1, ssk, k to end. 48 sts.
"""
)
ROW_BEFORE = """Cast on 32 stitches and join to knit in the round.
Knit 4 rounds.
Setup: Knit the first 16 stitches of the round onto one needle, then turn work. Put the other 16 stitches on waste yarn.
Row 1 (WS): Slip 1, purl to end of row.
Row 2 (RS): *Slip 1, knit 1; repeat from * to end of row.
Repeat Rows 1 and 2 until you have 16 rows.
Pick up and knit 8 stitches along the left side of the flap [Needle 1]; work across the 16 held stitches [Needle 2]; pick up and knit 8 stitches along the right side and knit 8 heel stitches [Needle 3]. 48 stitches.
Knit 2 rounds.
"""
THUMB = """Cast on 32 sts and join into a round.
Knit 6 rounds.
Next round: K16, slip the next 8 sts on to a holder, cast on 1 st, k to end. 25 sts.
Knit 4 rounds.
Break off yarn, run through remaining sts and fasten off.

Thumb
Put the 8 sts back on the needles and pick up 1 st from the cast-on st. 9 sts.
Knit 4 rounds.
Break off yarn, run through remaining sts and fasten off.
"""
CORNERS = """Cast on 32 sts. Join, being careful not to twist.
Knit 6 rounds.
Next round: With the main yarn, k2; with waste yarn, k8; slip these 8 sts back and work them again; work to end.
Knit 6 rounds.
Thread yarn through sts and pull up.

Thumb
Take out the waste yarn. Pick up the 8 sts along the bottom, 1 st at the corner, the 8 sts along the top and 1 st at the other corner. 18 sts.
Knit 4 rounds.
Thread yarn through sts and pull up.
"""
TAB = """Cast on 3 sts. Knit 6 rows. Do not turn after the last row.
Rotate the work, pick up and knit 3 sts along the side edge (one in each ridge), then 3 sts from the cast-on edge. 9 sts.
Set-up row (WS): K3, p3, k3.
"""
CAST_ON_WITHIN = """Cast on 32 sts. Join to work in the round.
Knit 6 rounds.
Next rnd: K12, place 8 sts on scrap yarn for the thumb, CO 1 st using the backward-loop method, k12. 25 sts.
Knit 2 rounds.
"""
NARROW_TAB = (
    TAB.replace("Cast on 3", "Cast on 2")
    .replace("then 3", "then 2")
    .replace("9 sts", "7 sts")
    .replace("K3, p3, k3", "K2, p3, k2")
)
TAB_TOLD_BEHIND = TAB.replace(
    " Do not turn after the last row.\nRotate the work, pick",
    "\nDo not turn. Turn the tab a quarter to the right, pick",
)
CORNERS_ON_THE_WAY = CORNERS.replace(
    "Pick up the 8 sts along the bottom, 1 st at the corner, the 8 sts along the top and 1 st at the other corner. 18 sts.",
    "Put 8 sts from each edge on the needles: 16 sts. Join the yarn, k8, pick up and knit 1 st at the corner, k8, pick up and knit 1 st at the other corner. 18 sts.",
)
FOUR_NEEDLES = """Cast on 32 sts. Join to work in the round.
Rnds 1-4: Knit.
K16. Place next 16 sts on a holder as instep.
Row 1 (WS): Sl 1 pwise wyib, p to end.
Row 2: Sl 1 pwise wyib, k to end.
Rep rows 1 and 2 another 6 times. (16 sts)
Row 3 (WS): Sl 1 pwise wyib, p to end.
Row 4: Sl 1 pwise wyib, k to end, do not turn. (16 sts)
Pick up and knit 8 sts along side of the heel.
Return to needle the sts held as instep.
K16, pick up and knit 8 sts along side.
Join to work in the round.
K8.
Rnd begins here.
Rnd 1: Needle 1: k to last 3 sts, k2tog, k1; needles 2 and 3: knit; needle 4: k1, skp, k to end. (46 sts)
"""


@pytest.mark.parametrize(
    "text",
    [
        NARROW_TAB,
        TAB_TOLD_BEHIND,
        CORNERS_ON_THE_WAY,
        GAP,
        ROW_BEFORE,
        THUMB,
        CORNERS,
        TAB,
        CAST_ON_WITHIN,
    ],
)
def test_what_is_read_can_be_knitted(text: str) -> None:
    fabric = knit(read(text))
    assert fabric.euler_characteristic == 2


def test_a_strand_is_lifted_where_one_stitch_closes_a_gap() -> None:
    parts = [step for step in read(GAP).steps if isinstance(step, st.Part)]
    assert all(Lift("m1l") in part.items for part in parts[:2])
    assert [len(p) for p in _needles(read(GAP))] == [3]


def _needles(pattern: Pattern) -> list[tuple[tuple[str, object], ...]]:
    return [step.parts for step in pattern.steps if isinstance(step, st.Arrange)]


def test_the_needles_of_a_gusset_hold_what_was_worked_with_them() -> None:
    ((one, two, three),) = _needles(read(GAP))
    assert (one[1], two[1], three[1]) == (17, 16, 17)


def test_an_instep_on_two_needles_is_halved() -> None:
    strict = read(FOUR_NEEDLES)
    told = Pattern("", said_out(strict.steps))
    (parts,) = _needles(told)
    assert [part[1] for part in parts] == [16, 8, 8, 16]  # 8 of the heel and 8 new, twice
    assert knit(told).euler_characteristic == 2
    with pytest.raises(KnitError, match="no needles are arranged"):
        knit(strict)


def test_a_toe_is_grafted_from_the_side_of_the_foot() -> None:
    toe = """Rnd 1: N1: K to last 3 sts, k2tog, k1. N2: K1, ssk, k to last 3 sts, k2tog, k1. N3: K1, ssk, k to end.
Rep Rnd 1 until 16 sts remain.
Graft the two sets of 8 sts together.
"""
    *_, worked, begun, joined = (
        read(
            GAP
            + "Rnd 2: N1: K to last 3 sts, k2tog, k1. N2: K. N3: K1, ssk, k to end.\nRep Rnd 2 until 32 sts remain.\n"
            + toe
        )
    ).steps
    assert isinstance(joined, st.Graft)
    assert isinstance(begun, st.BeginHere)
    assert getattr(worked, "items", ()) == (On(("needle 1",), (KNIT,)),)


def test_corners_lie_behind_either_half_of_the_opening() -> None:
    (part,) = (s for s in read(CORNERS).steps if isinstance(s, st.Part) and s.count == 18)
    assert part.items == (Run("k", 8), Lift("m1l"), Run("k", 8), Lift("m1l"))


def test_yarn_is_joined_once_to_a_thumb() -> None:
    joined = [s for s in read(THUMB).steps if isinstance(s, st.UseYarn)]
    assert [(s.name, s.new) for s in joined] == [("main", True)]
    told = THUMB.replace("Put the", "Join the yarn again. Put the")
    assert len([s for s in read(told).steps if isinstance(s, st.UseYarn)]) <= 1


def test_steps_written_in_python_are_worked_as_they_stand() -> None:
    steps = (
        st.CastOn(8), st.Join(), st.Round((KNIT,)), st.Part((Run("k", 4),)), st.Hold(4, "thumb"),
        st.DrawUp(), st.ReturnHeld("thumb"), st.Round((KNIT,)),
    )  # fmt: skip
    with pytest.raises(KnitError, match="no yarn is joined"):
        knit(Pattern("", steps))
    assert any(isinstance(step, st.UseYarn) for step in said_out(steps))


def test_a_tab_takes_its_stitches_from_the_edges_that_are_named() -> None:
    fabric = knit(read(TAB))
    picked = fabric.stitch == fabric.stitches.code("pu")
    edge = fabric.parent[picked[fabric.child]]
    assert {0, 1, 2} <= set(edge.tolist())  # the three that were cast on
    assert len(set(edge.tolist())) == 6


def test_a_row_of_the_wrong_side_is_turned_before_an_edge() -> None:
    steps = (
        st.CastOn(4),
        st.Row((KNIT,), side="RS"),
        st.Row((KNIT,)),
        st.Part((PickUp(1, "side"),)),
    )
    assert said_out(steps) == steps
    assert said_out((*steps[:2], steps[3]))[1] == st.Row((KNIT, STAY), side="RS")


@pytest.mark.parametrize(
    ("words", "plain"),
    [
        ("Knit straight until work measures 5 cm.", True),
        ("Work even in rib as set until work measures 5 cm.", False),
    ],
)
def test_work_goes_on_plain_where_it_was_plain(words: str, plain: bool) -> None:
    text = f"""Tension: 30 sts and 40 rounds = 10 cm
Cast on 32 sts and join into a round.
Work in k1, p1 rib for 7 rounds.
Now change to stocking stitch and knit 3 rounds.
{words}
"""
    last = read(text).steps[-1]
    assert isinstance(last, st.RepeatRounds)
    assert (last.steps == (st.Round((KNIT,)),)) == plain


def test_a_strict_text_keeps_its_errors() -> None:
    strict = "CO 8. Join in the round. Rnd 1: Knit. Pick up and knit 1 st along gap."
    with pytest.raises(KnitError):
        knit(read(strict))


@pytest.mark.parametrize("name", ["01", "05", "09", "13", "14", "15", "22"])
def test_ordinary_texts_make_a_fabric(name: str) -> None:
    (file,) = FOLDER.glob(f"{name}-*.txt")
    fabric = knit(read(file.read_text(encoding="utf-8")))
    assert not len(fabric.live)
    assert fabric.euler_characteristic == 2


def test_a_first_round_joins_what_was_cast_on() -> None:
    text = "Cast on 16 sts and divide evenly over four needles.\n1st round: *K2, p2; rep from * to end.\nRep this round 3 times more.\nCast off."
    assert [type(step) for step in read(text).steps].count(st.Join) == 1
    assert knit(read(text)).euler_characteristic == 2


@together(
    "told",
    [
        "Gauge: 8 sts and 11 rnds per inch",
        "Gauge: 5 sts and 7 rnds to the inch, in stockinette stitch",
        "Gauge is 8 stitches to the inch over stockinette.",
        "You need four No. 12 needles. Knit to 6½ stitches to the inch.",
        "Needles: 2.5 mm, or whatever gives you 32 sts over 4 inches of stockinette",
    ],
)
def test_a_length_is_counted_with_the_gauge_that_is_told(told: str) -> None:
    text = f"{told}\n\nCast on 16 sts. Join in the round. Knit every round for 2 inches. Cast off."
    assert knit(read(text)).euler_characteristic == 2


def test_the_instep_between_two_numbered_needles_is_the_second() -> None:
    """It used to be refused: a part with a name beside needles that have numbers."""
    named = GAP.replace("N2: K. N3: K1", "Instep: K. N3: K1")
    assert named != GAP
    assert write(read(named)) == write(read(GAP))
