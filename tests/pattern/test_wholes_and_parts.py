# ruff: noqa: E501 - a text stands on one line, long as it may be
"""Wholes and the parts that a line tells: right ones of each kind, each with a slip, and what is near to one.

The sums were made by hand.
"""

from __future__ import annotations

from collections.abc import Iterable

from loopwright.pattern._editing.divided import divided
from loopwright.pattern._editing.findings import Finding
from loopwright.pattern._editing.gusset_totals import gusset_totals
from loopwright.pattern._editing.half_heels import half_heels
from loopwright.pattern._editing.needle_parts import needle_parts
from loopwright.pattern._editing.parts_named import parts_named
from loopwright.pattern._editing.prose_counts import prose_counts
from loopwright.pattern._editing.rows_in_all import rows_in_all
from loopwright.pattern._editing.spoken import Sentences, spoken
from loopwright.pattern._editing.sums import sums
from loopwright.pattern._editing.times_told import times_told
from loopwright.pattern._editing.told_parts import told_parts
from loopwright.pattern._editing.told_shapings import told_shapings
from loopwright.pattern._editing.turn_middles import turn_middles
from loopwright.pattern._editing.two_parts import two_parts
from loopwright.pattern._editing.waste_yarn_counts import waste_yarn_counts
from loopwright.pattern._editing.worked_lines import worked_lines
from loopwright.pattern._editing.written_sums import written_sums
from pattern.slipped import Case, Check, only_the_slip
from together import together


def _prose_counts(sentences: Sentences) -> Iterable[Finding]:
    return prose_counts("", sentences)


WRITTEN: dict[str, Case] = {
    "with signs": ("Check: 16 + 22 + 16 = 54.", "54", "56", "this sum is 54, not 56"),
    "times": ("Mark 8 x 6 = 48 sts.", "48", "46", "this sum is 48, not 46"),
    "by size, with words": (
        "Count: 16 (18) sole + 22 (24) instep = 38 (42) sts.", "(42)", "(44)", "this sum is 38 (42), not 38 (44)",
    ),
    "the whole ahead": ("66 sts = 36 sole + 30 instep.", "30", "32", "this sum is 68, not 66"),
    "in words": ("Seven plus seven plus two makes 16.", "two", "three", "this sum is 17, not 16"),
    "in decimals": ("Check: 2.257 + 1 = 3.257.", "= 3.2", "= 3.3", "this sum is 3.26, not 3.36"),
    "less": ("Now 72 - 6 = 66.", "66", "68", "this sum is 66, not 68"),
}  # fmt: skip
LINES: dict[str, Case] = {
    "a bracket so many times": (
        "Rnd 1: [Pick up and k 2 sts in the corner, pm between them, k 28 (32)] twice. 60 (68) sts", "60 (68)", "58 (66)",
        "the parts of this line are 60 (68) sts together, not 58 (66)",
    ),
    "from a star once more": (
        "1st round: * K 1, sl 1, k 1, p.s.s.o., k 25, k 2 tog., k 1; repeat from * once more. 58 sts.", "58", "56",
        "the parts of this line are 58 sts together, not 56",
    ),
    "behind what is only moved": (
        "Draw out the waste wool and take up the loops, 7 below and 7 above. Join the wool, knit the 7 lower sts, pick up 2 sts at the corner, knit the 7 upper sts, pick up 2 sts at the other corner. 18 sts.",
        "18", "16", "the parts of this line are 18 sts together, not 16",
    ),
    "a part that is none of the whole": (
        "With the right side facing, pick up and knit 2 stitches beside the holder, knit the 10 (12) stitches from the holder, pick up and knit 2 stitches on the other side. 14 (16) stitches.",
        "14 (16)", "12 (14)", "the parts of this line are 14 (16) sts together, not 12 (14)",
    ),
    "in sentences": (
        "Knit the 8 heel stitches. Pick up and knit 12 stitches along the flap. Knit the 22 instep stitches. With another needle, pick up and knit 12 stitches along the second edge. You have 54 sts in all.",
        "54", "56", "the parts of this line are 54 sts together, not 56",
    ),
}  # fmt: skip
ROWS: dict[str, Case] = {
    "so many times": (
        "Work these 2 rows 10 times. 20 rows.", "10 times", "9 times", "9 times 2 rows are 18, not 20",
    ),
    "so many times more": (
        "Rep Rows 1 and 2 thirteen (fifteen) more times—28 (32) rows have been worked.", "28 (32)", "26 (30)",
        "2 rows, worked 13 (15) times more, are 28 (32), not 26 (30)",
    ),
    "twice more": (
        "Rep these 6 rnds twice more: 18 rnds of blocks.", "18", "24",
        "6 rows, worked 2 times more, are 18, not 24",
    ),
    "in the next sentence": (
        "Work these two rows 16 (18) times. That's 32 (36) rows.", "32", "30",
        "16 (18) times 2 rows are 32 (36), not 30 (36)",
    ),
    "with more words": (
        "Repeat these two rows 9 times more, slipping the first stitch of each row. Count: 20 rows.", "20", "22",
        "2 rows, worked 9 times more, are 20, not 22",
    ),
}  # fmt: skip
PARTS: dict[str, Case] = {
    "with an aside": (
        "That makes 48 sts in all: 24 for the sole (the toe side you just worked) and 24 for the top of the foot.", "24 for the sole", "26 for the sole",
        "the parts are 50 sts together, not 48",
    ),
    "sole and instep": (
        "66 (76) sts: 42 (48) sole sts and 24 (28) instep sts.", "42 (48)", "40 (46)",
        "the parts are 64 (74) sts together, not 66 (76)",
    ),
    "for A and for B": (
        "Cast on 20 (24) sts with the method that we practiced, 10 (12) for A and 10 (12) for B.", "for A and 10 (12)", "for A and 12 (14)",
        "the parts are 22 (26) sts together, not 20 (24)",
    ),
    "of the hand": (
        "60 (68) sts remain, 30 (34) for the back of the hand and 30 (34) for the palm.", "and 30 (34)", "and 28 (32)",
        "the parts are 58 (66) sts together, not 60 (68)",
    ),
    "a side twice": (
        "72 sts (20 heel, 36 instep, 8 on each side).", "20", "18", "the parts are 70 sts together, not 72",
    ),
}  # fmt: skip
NEEDLES: dict[str, Case] = {
    "a list behind the whole": (
        "Knit (94 sts.; 29, 36 and 29 on the three needles).", "36", "34", "the parts are 92 sts together, not 94",
    ),
    "needles that share": (
        "Count: 52 (58) sts.\nNeedle 1 has 16 (18) sts, Needles 2 and 3 share the 20 (22) top-of-foot sts, and Needle 4 has 16 (18) sts.",
        "Needle 1 has 16", "Needle 1 has 15", "the needles hold 51 (58) sts together, not 52 (58)",
    ),
}  # fmt: skip
HEELS: dict[str, Case] = {
    "the first of them again": (
        "Gusset: K16 (18), pick up and knit 14 (16) sts along the flap, knit 28 (32) instep sts, pick up and knit 14 (16) sts, knit the first 8 (9) heel sts again.",
        "8 (9)", "7 (8)", "half of the 16 (18) heel sts is 8 (9), not 7 (8)",
    ),
    "on the next line, one size": (
        "Knit across the 12 [14: 14] heel sts and pick up and knit 11 [12: 13] sts down side of heel.\nWith 3rd needle, pick up and knit 11 [12: 13] sts up other side of heel, then K6 [7: 7] from 1st needle.",
        "7: 7", "7: 8", "half of the 12 (14, 14) heel sts is 6 (7, 7), not 6 (7, 8)",
    ),
    "of the count before": (
        "Rep Rows 3 and 4 until all have been worked. 14 [16] sts.\nK across the heel sts, pick up and k 13 [15] sts along the flap, work 24 [28] sts, pick up and k 13 [15] sts, then k the first 7 [8] heel sts.",
        "7 [8]", "8 [9]", "half of the 14 (16) heel sts is 7 (8), not 8 (9)",
    ),
    "of heel stitches told nowhere else": (
        "Work until all are worked: 18 (20) heel stitches remain.\nPick up and knit 16 (19) stitches along the flap [Needle 1]; work across the instep [Needle 2]; pick up and knit 16 (19) stitches along the right side and knit 9 (10) heel stitches [Needle 3].",
        "9 (10)", "8 (9)", "half of the 18 (20) heel sts is 9 (10), not 8 (9)",
    ),
    "to the middle": (
        "Pick-up round: k10 (12); pick up and knit 16 (18) sts; work the instep; pick up and knit 16 (18) sts up the other side; k5 (6) and move your marker here, to the middle of the heel.",
        "k5 (6)", "k6 (7)", "half of the 10 (12) heel sts is 5 (6), not 6 (7)",
    ),
}  # fmt: skip
WASTE: dict[str, Case] = {
    "knitted again": (
        "N1: work as set. N2: with scrap yarn, k24; push these sts back to the start of N2 and k24 again with working yarn.",
        "yarn, k24", "yarn, k26", "26 sts were knitted with waste yarn, and 24 of them again",
    ),
    "a heel": (
        "Cast on 40 (44) sts.\nKnit the first 20 (22) sts with waste yarn, slip them back and knit them again.\nPick up the loops on both sides of the waste yarn: 20 (22) sts on each needle.",
        "first 20 (22)", "first 18 (20)", "18 (20) sts were knitted with waste yarn, and 20 (22) lie beside it",
    ),
    "what is picked up": (
        "Cast on 40 sts.\nUsing scrap yarn, k16. Knit them again.\nUnpick the scrap yarn, placing 16 sts from below on one needle and 16 sts from above on another.",
        "placing 16", "placing 18", "16 sts were knitted with waste yarn, and 18 lie beside it",
    ),
    "a thumb": (
        "Thumb: k7 with waste yarn.\nTake out the waste yarn and put the sts on needles: 7 sts below the opening and 8 sts above it.",
        "7 sts", "9 sts", "7 sts were knitted with waste yarn, and 9 lie beside it",
    ),
}  # fmt: skip
TURNS: dict[str, Case] = {
    "on both sides of the turn": (
        "The heel: 12 sts.\nRow 1: slip 1, knit 6, ssk, knit 1, turn. (2 stitches are left over.)\nRow 2: slip 1, purl 3, purl 2 together, purl 1, turn. (2 are left over here as well.)\nRow 3: slip 1, knit 4, ssk, knit 1, turn.",
        "(2 stitches", "(3 stitches", "this row leaves 2 sts unworked, not 3",
    ),
    "what is not touched": (
        "The heel: 29 sts.\nRow 1: k16, ssk, k1, turn. There are 10 sts you haven't touched.\nRow 2: sl 1, p4, p2tog, p1, turn.", "10", "9",
        "this row leaves 10 sts unworked, not 9",
    ),
    "what is left of it": (
        "The heel: 29 sts.\nRow 1: k16, ssk, k1, turn.\nRow 2: sl 1, p4, p2tog, p1, turn.\nKeep on until there's nothing left to turn before. 17 sts, and a little cup.", "17", "19",
        "this turn leaves 17 sts, not 19",
    ),
    "named behind": (
        "The heel: 18 (22) sts.\nRow 1: K11 (13), ssk, k1, turn.\nRow 2: Sl 1, p5, p2tog, p1, turn.\nRepeat until no sts are left at the sides. Heel sts = 12 (14).", "12 (14)", "12 (16)",
        "this turn leaves 12 (14) sts, not 12 (16)",
    ),
    "what waits behind the first row": (
        "The heel: 30 (34) sts.\nRow 1 (RS): sl 1, k18 (21), ssk, turn. You'll have 9 (10) sts waiting on the left needle.\nRow 2 (WS): sl 1, p8 (10), p2tog, turn.",
        "9 (10)", "8 (9)", "this row leaves 9 (10) sts unworked, not 8 (9)",
    ),
    "wrapped, plain, wrapped": (
        "Knit up 24 sts.\nRow 1 (right side): K23, w&t.\nRow 2: P22, w&t.\nYou now have 8 wrapped stitches, 8 plain ones and 8 more wrapped ones.",
        "8 plain", "10 plain", "the sides and the middle are 26 sts; the turn is one of 24",
    ),
    "on the left and on the right": (
        "There are 8 (9, 11) DSs at the left edge and 7 (8, 10) at the right.", "9, 11", "9, 10",
        "8 (9, 10) sts on the left and 7 (8, 10) on the right: the sizes do not differ alike",
    ),
}  # fmt: skip
DIVIDED: dict[str, Case] = {
    "the last, and the first": (
        "Cast on 60 sts.\nSlip the last 30 sts of the round on to one needle and leave the first 30 sts for later.", "last 30", "last 28",
        "28 and 30 sts are 58; there were 60",
    ),
    "those on a thread, and the other": (
        "There are 55 (63) sts.\nThread the 13 (15) gusset sts onto waste thread. Rib the other 42 (48) sts.", "42 (48)", "40 (46)",
        "13 (15) and 40 (46) sts are 53 (61); there were 55 (63)",
    ),
    "on hold, and the last": (
        "CO 52 (60). Join.\nRib 26 (30), ending with K2. Put these sts on hold for instep. Join the thread and work it along over the last 26 (30) sts:", "Rib 26 (30)", "Rib 24 (28)",
        "24 (28) and 26 (30) sts are 50 (58); there were 52 (60)",
    ),
}  # fmt: skip
PLACES: dict[str, Case] = {
    "before two together": (
        "You knit 8 (9), knit the next two together, and do that eight times. This leaves 72 (80) stitches.", "eight times", "seven times",
        "7 times 8 (9) and the decrease leave 63 (70) sts, not 72 (80)",
    ),
    "so many before": (
        "In the second round you knit 7 (8) before you knit two together, again eight times, and have 64 (72) stitches.", "7 (8)", "6 (7)",
        "8 times 6 (7) and the decrease leave 56 (64) sts, not 64 (72)",
    ),
    "two halves": (
        "Pick up 60 (68) sts.\nThe markers split it into two halves of 30 (34) sts.", "of 30 (34)", "of 28 (32)",
        "2 times 28 (32) sts are 56 (64), not 60 (68)",
    ),
    "a marker behind the middle stitch": (
        "Cast on 48 [56] sts.\nKnit 1 round, placing a marker after the 24th [28th] st.", "28th", "30th",
        "48 (56) sts can't be marked after every 24 (30)",
    ),
}  # fmt: skip
ENDS: dict[str, Case] = {
    "in two sentences": (
        "Pick up the loops: 24 (26) sts on each needle.\nJoin the yarn. Knit across, picking up 1 extra stitch at both ends of each needle. You have 26 (28) sts on each needle.", "26 (28)", "25 (27)",
        "1 at both ends make 26 (28) sts, not 25 (27)",
    ),
    "of each needle": (
        "Pick up the loops: 24 (26) sts on each needle.\nKnit across, picking up 1 extra stitch at both ends of each needle. You have 26 (28) sts on each needle.", "26 (28)", "25 (27)",
        "1 at both ends make 26 (28) sts, not 25 (27)",
    ),
}  # fmt: skip
BUMPS: dict[str, Case] = {
    "so many times more": (
        "Rep Rows 1 and 2 fifteen (seventeen) more times—16 (18) slipped edge sts along each side of flap.", "16 (18)", "15 (17)",
        "2 rows, 15 (17) times, make as many long edge stitches, not 15 (17)",
    ),
    "on top and below": (
        "Cast on 60 sts.\nKnit.\nNow it's 30 sts on top and 30 below.", "30 below", "31 below",
        "30 and 31 make 61; there were 60",
    ),
    "in garter": (
        "Cast on 20 sts.\nDo these two rows until you have 20 rows. That's 10 garter bumps down each edge.", "10", "12",
        "20 rows make 10 long edge stitches, not 12",
    ),
    "big loops": (
        "Alternate Rows 1 and 2 until you have 22 rows. Check: 11 big loops along each edge.", "11", "12",
        "22 rows make 11 long edge stitches, not 12",
    ),
}  # fmt: skip
APART: dict[str, Case] = {
    "on each of two": (
        "Knit until 20 sts remain.\nPlace the sts on two needles, 10 on each, and graft.", "10 on", "12 on", "twice 12 sts are 24, not 20",
    ),
    "each on two": (
        "Work until 16 sts rem.\nKnit the 4 sts of Needle 1—8 sts each on 2 needles.", "8 sts", "10 sts", "twice 10 sts are 20, not 16",
    ),
    "top and bottom": (
        "Now decrease. 20 sts.\nPut the 10 top sts on one needle and the 10 bottom sts on another.", "10 top", "8 top", "twice 8 sts are 16, not 20",
    ),
}  # fmt: skip
GONE: dict[str, Case] = {
    "needles that hold as many": (
        "58 (68, 76) sts: 17 (20, 22) on N1 and N3, 24 (28, 32) on N2.", "24 (28", "26 (30",
        "the parts are 60 (70, 76) sts together, not 58 (68, 76)",
    ),
    "on each half": (
        "Decrease round: On each half, k1, ssk, knit to the last 3 sts of that half, k2tog, k1. (4 sts gone)", "4", "2",
        "2 sts fewer are stated; this row makes 4 sts fewer",
    ),
    "repeats in a round": (
        "Cast on 60 sts.\nThe lace goes over 10 sts, so you will work everything between the stars six times in each round.", "six", "five",
        "5 repeats of 10 sts take 50 sts: so many are spoken of nowhere",
    ),
}  # fmt: skip
LOST: dict[str, Case] = {
    "sts that are gone": (
        "There are 60 sts.\nDecrease round: k to 3 sts before the marker, k2tog, k1, sm, k1, ssk, do that for both markers. That is 4 sts gone.\nWork a decrease round and then a plain round, six times. 36 sts.",
        "36", "38", "4 sts at a time, so often, make 36 sts, not 38",
    ),
}  # fmt: skip
OUTSIDE: dict[str, Case] = {
    "in the gusset": (
        "CO 42 (48). Join.\nWork Rnds 4-6 another 4 (5) times. 55 (63) sts, 13 (15) in the gusset.", "13 (15)", "11 (13)",
        "55 (63) sts less 11 (13) between the markers leave 44 (50) outside of them; before, there were 42 (48)",
    ),
}  # fmt: skip
KINDS: tuple[tuple[Check, dict[str, Case]], ...] = (
    (written_sums, WRITTEN), (worked_lines, LINES), (rows_in_all, ROWS), (parts_named, PARTS), (needle_parts, NEEDLES),
    (half_heels, HEELS), (waste_yarn_counts, WASTE), (turn_middles, TURNS), (two_parts, DIVIDED), (told_shapings, PLACES),
    (told_parts, ENDS), (_prose_counts, BUMPS), (divided, APART), (sums, GONE), (times_told, LOST), (gusset_totals, OUTSIDE),
)  # fmt: skip
RIGHT: tuple[tuple[Check, str], ...] = (
    (written_sums, '22 sts x 30 rnds = 4", St st.'),
    (written_sums, '20 sts + 28 rnds = 4", larger needles.'),
    (written_sums, "32 sts and 44 rounds = 10 cm x 10 cm."),
    (written_sums, "A multiple of 4 + 2 = 46 sts."),
    (written_sums, "1 skein = 2 x 50 g."),
    (
        worked_lines,
        "Next rnd: K18 heel sts, pick up and k15, k28, pick up and k15, then k the first 9 heel sts again. 76 sts.",
    ),
    (worked_lines, "Knit to the gap, pick up 2 sts, knit 10, knit to end. 40 sts."),
    (rows_in_all, "Rep Rows 1-4 5 times, then work the first row again: 21 rows."),
    (rows_in_all, "Rep the last 2 rows 7 times more, then purl 1 row. 17 rows worked."),
    (rows_in_all, "Rep rows 3 and 4 10 times more: 24 rows have been worked."),
    (rows_in_all, "Repeat Rounds 1-8 3 times, ending with Round 8; knit 2 rounds."),
    (written_sums, "30 st x 42 rnd = 10 cm."),
    (
        worked_lines,
        "Knit the heel sts.\nPick up and k 6 sts along side of heel, k16 from holder, pick up and k 6 sts along other side of heel, k3. 34 sts.",
    ),
    (rows_in_all, "Work rows 1-6 four times, then rows 1-4 once more. 28 rows."),
    (
        half_heels,
        "K8 heel sts, pick up and k 12 sts, k28, pick up and k 12 sts, k the other 7 heel sts.",
    ),
    (half_heels, "K5, pick up and k 10 sts, k22, pick up and k 10 sts, k5 heel sts."),
    (
        waste_yarn_counts,
        "K20 with waste yarn.\nPlace 20 sts from below on one needle and 19 sts from above on another, taking out the waste yarn.",
    ),
    (waste_yarn_counts, "With waste yarn, k20; slide them back and k24 with the main yarn."),
    (
        times_told,
        "Cast on 32 sts.\nInc rnd: *K1, M1R, k to last st, M1L, k1; rep from * on 2nd needle.\nWork [1 rnd plain, 1 inc rnd] 6 times: 60 sts.",
    ),
    (
        turn_middles,
        "Heel over 30 sts.\nRow 1 (RS): K17, ssk, k1, turn. Leave the other 10 sts.\nRow 2 (WS): Sl 1, p5, p2tog, p1, turn.",
    ),
    (_prose_counts, "Knit 20 rows: 11 ridges at each edge."),
    (parts_named, "32 sts in all, 14 at the front and 16 at the back, 2 in the gap."),
    (parts_named, "64 sts: 28 for the instep and 18 for the heel."),
)


@together(("check", "case"), [(check, case) for check, kind in KINDS for case in kind.values()])
def test_a_slip_is_noticed_and_what_is_right_is_not(check: Check, case: Case) -> None:
    only_the_slip(check, case)


@together(("check", "text"), RIGHT)
def test_what_is_right_is_left_alone(check: Check, text: str) -> None:
    assert list(check(spoken(text))) == []


def test_counts_before_a_line_that_is_not_understood_hold_on_it() -> None:
    right, old, new, said = ENDS["in two sentences"]
    for text, found in ((right, []), (right.replace(old, new), [said])):
        assert [one.message for one in told_parts(spoken(text), {2})] == found
