# ruff: noqa: E501 - a text stands on one line, long as it may be
"""Counts told in prose, and closings: a right text of each kind, and one with a slip.

That a slipped edge has one long stitch for two rows, and a graft two halves that are alike, is
common practice; the sums were made by hand.
"""

from __future__ import annotations

from loopwright.pattern import review
from loopwright.pattern._editing.closed_off import closed_off
from loopwright.pattern._editing.prose_counts import prose_counts
from loopwright.pattern._editing.spoken import spoken
from together import together

SHAWL = "About: a triangle that grows by 4 stitches on every right-side row.\n\nCO 9 sts.\nRow 1 (RS): K3, yo, k to m, yo, k1, yo, k to m, yo, k3.\nRow 2: Purl.\n"
ROUNDS = "Pick up all around. 54 stitches.\n17. K to 3 sts before the instep, k2tog, k to end. 52 stitches.\n18. Knit one round.\n19. Repeat steps 17 and 18 until 40 stitches remain. That is 7 decrease rounds in all.\n"
PROSE = {
    "long edge stitches": ("Repeat steps 5 and 6 until the flap has 20 rows. Count the long edge stitches: there should be 10 on each side.", "be 10", "be 12", "20 rows make 10 long edge stitches, not 12"),
    "long edge stitches by size": ("Work until 20 (24) rows are done, so that you have 10 (12) slipped stitches at each edge.", "10 (12)", "12 (14)", "20 (24) rows make 10 (12) long edge stitches, not 12 (14)"),
    "long edge stitches by times": ("Work these 2 rows 15 times. There are 15 long edge stitches on each side.", "15 long", "18 long", "2 rows, 15 times, make as many long edge stitches, not 18"),
    "the middle": ("Cast on 24 sts.\nPut a pin between the 12th and 13th stitches: this is the middle.", "12th and 13th", "13th and 14th", "the middle of 24 sts lies between number 12 and number 13"),
    "two halves": ("Knit. 64 sts.\nMove the marker so that there are 32 sts for the instep and 32 for the sole.", "32 sts", "33 sts", "33 and 32 make 65; there were 64"),
    "both sides of the middle": ("Repeat until there are 293 sts. You have 146 sts on each side of the center st.", "146", "148", "twice 148 and the middle are 297 sts, not 293"),
    "rounds in all": (ROUNDS, "is 7", "is 6", None),
    "a list of times": ("Dec round: K2tog, k to end. (60 sts)\nWork it every 4th round 3 more times, then every 2nd round 6 times, then every round 4 times. 8 sts remain.", "3 more", "2 more", "12 rounds that decrease alike can't lead from 60 to 8"),
    "sections": ("Cast on 16 sts.\nRnd 1: *K2, pm; rep from * to end. (8 sections)", "(8", "(6", "16 sts, 2 at a time, make 8 sections, not 6"),
    "a half": ("How many for a sock of 60 sts? (Half of them: 30.)", "30", "20", "half of 60 is 30, not 20"),
    "what it grows by": (SHAWL, "by 4", "by 6", "6 sts more are spoken of; row 1 makes 4 sts more"),
    "a yarn over less": (SHAWL, "k1, yo, k to m", "k1, k to m", "4 sts more are spoken of; row 1 makes 3 sts more"),
}  # fmt: skip


@together("kind", PROSE)
def test_counts_told_in_prose(kind: str) -> None:
    right, old, new, said = PROSE[kind]
    assert old in right
    assert not list(prose_counts(right, spoken(right)))
    wrong = right.replace(old, new, 1)
    told = [one.message for one in prose_counts(wrong, spoken(wrong))]
    assert told == [said or "from 54 to 40, as in the first round, takes 7 rounds, not 6"]


TOE = "Repeat until 16 sts remain.\n"
CLOSINGS = {
    "unlike halves": (TOE + "Graft 8 sts to 8 sts.", "8 sts to 8", "8 sts to 9", "8 sts on one side of the graft and 9 on the other: should the two be alike?"),
    "halves of another sum": (TOE + "Graft the 8 sole sts to the 8 instep sts.", "8 sole sts to the 8", "9 sole sts to the 9", "9 and 9 are 18; there were 16"),
    "both needles": (TOE + "Put 8 sts on each of two needles and graft them together.", "8 sts on", "9 sts on", "two times 9 are 18; there were 16"),
    "two sets": (TOE + "Graft the two sets of 8 sts together.", "of 8", "of 7", "two times 7 are 14; there were 16"),
    "unlike halves by size": ("Until 16 (20) sts remain.\nGraft 8 (10) sts to 8 (10) sts.", "to 8 (10)", "to 8 (12)", "8 (10) sts on one side of the graft and 8 (12) on the other: should the two be alike?"),
    "two sets by size": ("Until 16 (20) sts remain.\nGraft the two sets of 8 (10) sts.", "of 8 (10)", "of 9 (10)", "two times 9 (10) are 18 (20); there were 16 (20)"),
    "first and last": (TOE + "Put the first 8 sts on one needle and the last 8 on another, and graft them.", "last 8", "last 7", "8 sts on one side of the graft and 7 on the other: should the two be alike?"),
    "all that there is": ("Knit. 36 sts.\nRib 6 rounds.\nCast off all 36 sts.", "all 36", "all 40", "40 sts are closed here; there were 36"),
    "one size": ("Knit. 52 (56, 60) sts.\nRib.\nBind off all 52 (56, 60) sts.", "all 52 (56, 60)", "all 52 (56, 64)", "52 (56, 64) sts are closed here; there were 52 (56, 60)"),
}  # fmt: skip


@together("kind", CLOSINGS)
def test_closings(kind: str) -> None:
    right, old, new, said = CLOSINGS[kind]
    assert right.count(old) == 1
    assert not list(closed_off(spoken(right)))
    assert [one.message for one in closed_off(spoken(right.replace(old, new)))] == [said]


def test_a_review_says_so() -> None:
    text = "Cast on 24 sts.\nPut a pin between the 12th and 13th stitches: this is the middle.\nRow 1: Knit.\nBind off all 24 sts."
    assert not review(text).of("sum")
    assert [
        one.line for one in review(text.replace("12th and 13th", "13th and 14th")).of("sum")
    ] == [2]
    assert [one.line for one in review(text.replace("all 24", "all 26")).of("sum")] == [4]
