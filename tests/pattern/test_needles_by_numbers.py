# ruff: noqa: E501 - a sentence stands on one line
"""Rounds told needle by needle, and how stitches lie on needles, known by their numbers."""

from __future__ import annotations

from loopwright.pattern import review
from loopwright.pattern import steps as st
from loopwright.pattern._reading.reader import read_closely
from together import together

ON_THREE = "Cast on 40 sts. Join in the round.\nKnit 2 rounds.\n{lie}\n"
LIE = (
    "Needle 1 has 10 sts, needle 2 has 20 sts (the instep), needle 3 has 10 sts.",
    "Now 10 sts are on the first needle, 20 on the second and 10 on the third.",
    "Needles 1 and 3 hold 10 sts each, needle 2 the 20 sts of the instep.",
    "There are 10 sts on needle 1, 20 sts on needle 2 and 10 sts on needle 3.",
    "N1: 10 sts, N2: 20 sts, N3: 10 sts: 40 sts in all.",
)


@together("lie", LIE)
def test_how_stitches_lie_on_needles(lie: str) -> None:
    steps = read_closely(ON_THREE.format(lie=lie), go_on=True).pattern.steps
    arranged = [step.parts for step in steps if isinstance(step, st.Arrange)]
    assert arranged == [(("needle 1", 10), ("needle 2", 20), ("needle 3", 10))]


def test_needles_that_do_not_hold_the_round_are_not_arranged() -> None:
    lie = "Needle 1 has 10 sts, needle 2 has 22 sts, needle 3 has 10 sts."
    steps = read_closely(ON_THREE.format(lie=lie), go_on=True).pattern.steps
    assert not any(isinstance(step, st.Arrange) for step in steps)


TOES = (
    "Rnd 1: K to last 3 sts on needle 1, k2tog, k1, k across needle 2, k1, ssk, k to end of needle 3.\nRnd 2: K.\nRep rnds 1-2 until 32 sts rem.",
    "Dec rnd: Knit to 3 sts before the end of needle 1, k2tog, k1 / knit needle 2 / k1, ssk, knit to the end of needle 3.\nKnit 1 rnd.\nRep the last 2 rnds 3 more times. 32 sts.",
    "To shape the sole, knit to the last 3 sts of the first needle, k2tog, k1; on the second needle knit; on the third needle k1, ssk, knit to the end. Knit one round. Repeat these two rounds until 32 sts remain.",
    "Round 1: Needle 1: K to last 3 sts, k2tog, k1. (9 sts)\nNeedle 2: K. (20 sts)\nNeedle 3: K1, ssk, k to end. (9 sts)\nRound 2: Knit.\nRepeat rounds 1 and 2 three more times. 32 sts.",
    "1. Needle 1: k to the last 3 sts, k2tog, k1.\n2. Needle 2: knit.\n3. Needle 3: k1, ssk, k to the end.\n4. Knit 1 round.\n5. Repeat steps 1 to 4 until 32 sts are left.",
    "1. Knit along needle 1 until 3 sts remain; k2tog, k1.\n2. On needle 2: knit all sts.\n3. On needle 3: k1, ssk, knit the rest.\n4. Knit 1 round.\n5. Repeat steps 1-4 until 32 sts are left.",
)


@together("toe", TOES)
def test_a_round_told_needle_by_needle(toe: str) -> None:
    text = ON_THREE.format(lie=LIE[0]) + toe
    reading = read_closely(text, go_on=True, explain=True)
    assert not reading.errors
    assert reading.lines[-1].after == (32,)
    found = [one for one in review(text).findings if one.severity != "note"]
    assert [one.message.split(":")[0] for one in found] == ["32 sts are still live at the end"]


def test_a_round_that_goes_beyond_a_needle_is_not_put_in_short() -> None:
    toe = "Rnd 1: K to last 3 sts on needle 1, k2tog, k4, k across needle 2, k1, ssk, k to end of needle 3."
    found = review(ON_THREE.format(lie=LIE[0]) + toe).findings
    assert any("k4 needs 4 sts, 1 is left" in one.message for one in found)


BOTH = (
    "Inc rnd: k1, m1, knit to 1 before the end of the needle, m1, k1 (both needles).",
    "Rnd 1: (K1, m1, k to last st on needle, m1, k1) x 2. 24 sts",
    "On each needle k1, make 1, knit until 1 stitch remains, make 1, k1. 24 sts.",
)


@together("rnd", BOTH)
def test_a_round_told_for_each_needle(rnd: str) -> None:
    text = "Cast on 20 sts with a closed toe-up cast-on, 10 sts on each of two needles. Join in the round.\nKnit 1 round.\n"
    reading = read_closely(text + rnd, go_on=True, explain=True)
    assert not reading.errors
    assert reading.lines[-1].after == (24,)


def test_a_round_that_does_not_fit_each_needle_is_not_shared_out_among_them() -> None:
    text = "Cast on 60 sts. Join in the round.\nKnit 1 round.\nDivide sts over 2 needles: 30, 30.\n"
    found = review(text + "Dec rnd: On each needle, k30, ssk, k to last 3 sts, k2tog, k1. 56 sts.")
    assert "count" in [one.kind for one in found.findings if one.severity != "note"]
