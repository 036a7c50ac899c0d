# ruff: noqa: E501 - a text stands on one line, long as it may be
"""Numbers of times, parts and wholes that a text tells: right ones of each kind, and each with a slip.

The sums were made by hand.
"""

from __future__ import annotations

from loopwright.pattern import review
from loopwright.pattern._editing.chains import chains
from loopwright.pattern._editing.definitions import definitions
from loopwright.pattern._editing.divided import divided
from loopwright.pattern._editing.entries import sized_numbers
from loopwright.pattern._editing.girths import girths
from loopwright.pattern._editing.gusset_totals import gusset_totals
from loopwright.pattern._editing.known_numbers import known_numbers
from loopwright.pattern._editing.mirrors import mirrors
from loopwright.pattern._editing.needle_parts import needle_parts
from loopwright.pattern._editing.odd_sizes import odd_sizes
from loopwright.pattern._editing.reached import reached
from loopwright.pattern._editing.row_slips import row_slips
from loopwright.pattern._editing.rows_in_step import rows_in_step
from loopwright.pattern._editing.rows_together import rows_together
from loopwright.pattern._editing.spoken import spoken
from loopwright.pattern._editing.stepped_counts import stepped_counts
from loopwright.pattern._editing.sums import sums
from loopwright.pattern._editing.times_told import times_told
from loopwright.pattern._editing.toe_needles import toe_needles
from loopwright.pattern._editing.told_shapings import told_shapings
from loopwright.pattern._editing.told_sums import told_sums
from loopwright.pattern._editing.turn_middles import turn_middles
from loopwright.pattern._editing.whole_rows import whole_rows
from loopwright.pattern._editing.worked_apart import worked_apart
from pattern.slipped import Case, Check, only_the_slip
from together import together

GUSSET = (
    "N1: k18 (20), pick up and knit 15 (17) sts. 76 (86) sts total.\n"
    "Rnd 1: Needle 1: knit to last 3 sts, k2tog, k1. Needles 2 and 3: in patt. Needle 4: k1, ssk, knit to end.\n"
    "Rnd 2: Knit.\n"
)
TIMES: dict[str, Case] = {
    "so many times more, by needles": (
        GUSSET + "Rep Rnds 1 and 2 nine (ten) more times—56 (64) sts rem.", "nine (ten)", "eight (nine)",
        "from 76 (86) to 56 (64) sts, 2 at a time, are 9 (10) times more, not 8 (9)",
    ),
    "so many times in all": (
        GUSSET + "Work these 2 rounds 10 (11) times in all: 56 (64) sts.", "10 (11)", "10 (12)",
        "from 76 (86) to 56 (64) sts, 2 at a time, are 10 (11) times, not 10 (12)",
    ),
    "rounds that it takes": (
        GUSSET + "Alternate these until you're down to 56 (64) sts again. It takes 10 (11) decrease rounds.", "10 (11)", "10 (12)",
        "from 76 (86) to 56 (64) sts, 2 at a time, are 10 (11) times, not 10 (12)",
    ),
    "from the count of the row itself": (
        "Cast on 46 (50) sts.\nDec row: K1, skpo, k to last 3 sts, k2tog, k1. 44 (48) sts.\nWork 5 rows.\nRep the last 6 rows 3 times more. 38 (42) sts.",
        "3 times", "4 times", "from 44 (48) to 38 (42) sts, 2 at a time, are 3 times, not 4",
    ),
    "one size alone": (
        "Cast on 20 (24, 28) sts.\nRnd 1: Knit.\nRnd 2: On A k1, m1, k to last st, m1, k1; on B the same. 4 sts more.\nDo these 7 (8, 9) more times. 52 (60, 68) sts.",
        "7 (8, 9)", "7 (7, 9)", "from 20 (24, 28) to 52 (60, 68) sts, 4 at a time, are 7 (8, 9) times more, not 7 (7, 9)",
    ),
    "by turns": (
        "Work the inc rnd: 36 (36, 40) sts.\nInc rnd: 4 sts more.\nWork a knit rnd and an inc rnd by turns, 5 (7, 8) times each: 56 (64, 72) sts.",
        "5 (7, 8)", "5 (6, 8)", "from 36 (36, 40) to 56 (64, 72) sts, 4 at a time, are 5 (7, 8) times, not 5 (6, 8)",
    ),
    "told of the sole": (
        "Knit until there are 52 (60) sts.\nRound 1: knit the instep; on the sole, k1, M1, k to last st, M1, k1.\nRound 2: knit.\nWork these 11 (13) times in all. The instep still has 26 (30) sts; the sole has grown to 48 (56) sts.",
        "11 (13)", "12 (14)", "from 52 (60) to 74 (86) sts, 2 at a time, are 11 (13) times, not 12 (14)",
    ),
    "until a count": (
        "Cast on 72 (80) sts.\nRnd 1: K1, ssk, k32 (36), k2tog, k1, k34 (38).\nThat takes away 2 sts.\nRep this round until 30 (34) sts rem.",
        "30 (34)", "30 (33)", "from 80 sts, 2 at a time, there are never 33",
    ),
    "needles on lines of their own": (
        "Cast on 32 (40, 48) sts.\nDecrease round\nNdl 1: k1, ssk, knit to end.\nNdl 2: knit to last 3 sts, k2tog, k1.\nNdl 3: as ndl 1.\nNdl 4: as ndl 2.\n4 sts are decreased.\nWork this decrease round 3 (4, 5) times = 20 (24, 28) sts.",
        "3 (4, 5)", "4 (4, 5)", "from 32 (40, 48) to 20 (24, 28) sts, 4 at a time, are 3 (4, 5) times, not 4 (4, 5)",
    ),
}  # fmt: skip
# Right, and near to what is not.
RIGHT_TIMES = (
    # two different shapings lie between the counts
    "Cast on 16 sts.\nDec round: 2 sts decreased.\nWork it every 4th round 2 more times, then every 2nd round 6 times. 8 sts remain.",
    # the sts of a part
    "Knit. 86 sts.\nRnd 1: k1, ssk, k to last 3 sts, k2tog, k1.\nRepeat it until 31 sole sts are left.",
    # between markers
    "Cast on 32 sts.\nRnd 2: K to m, sm, M1R, k to m, M1L, sm, k to end. 2 sts inc.\nRep these until 13 sts are between the markers.",
    # the row is told before it is worked
    "Cast on 40 sts.\nDec rnd: K1, ssk, k to end.\nKnit 4 rounds.\nWork the dec rnd on every second round 6 times: 34 sts.",
    # a part of the sts is put aside
    "Knit. 26 sts.\nSlip the 13 sts at each end on to a holder.\n1st row: K1, skp, k to last 3 sts, k2tog, k1.\nRep it until 10 sts remain.",
    # the sts are held elsewhere between
    "Knit. 60 sts.\nRnd 1: k1, ssk, k to last 3 sts, k2tog, k1.\nPut 10 sts on waste yarn.\nRep Rnd 1 8 more times. 32 sts.",
)
GUSSETS: dict[str, Case] = {
    "a whole told behind": (
        "Cast on 32 (36, 40) sts.\nRepeat until you have 11 (11, 13) stitches between the markers. The whole mitten should now have 42 (46, 52) stitches.",
        "52", "54", "42 (46, 54) sts less 11 (11, 13) between the markers leave 31 (35, 41) outside of them; before, there were 32 (36, 40)",
    ),
    "all told": (
        "Cast on 40 [44] sts.\nBetween the markers, count 15 [17] sts; all told, 54 [60] sts.", "54 [60]", "56 [62]",
        "56 (62) sts less 15 (17) between the markers leave 41 (45) outside of them; before, there were 40 (44)",
    ),
}  # fmt: skip
NEEDLES: dict[str, Case] = {
    "in words": (
        "Cast on 64 (72, 80) sts: 20 (24, 24) sts on the 1st needle, 20 (24, 24) sts on the 2nd needle and 24 (24, 32) sts on the 3rd needle.",
        "(24, 32)", "(24, 28)", "the needles hold 64 (72, 76) sts together, not 64 (72, 80)",
    ),
    "in sentences": (
        "Cast on 40 stitches. Put 10 on needle 1, 20 on needle 2 and 10 on needle 3.", "20", "18",
        "the needles hold 38 sts together, not 40",
    ),
    "the whole behind": (
        "Sts now: N1 22 (25), N2 26 (30), N3 22 (25). Total 70 (80).", "26 (30)", "26 (28)",
        "the needles hold 70 (78) sts together, not 70 (80)",
    ),
    "each of two": (
        "Needles 1 and 3 hold 16 each, needle 2 has 30. That is 62 sts.", "has 30", "has 32",
        "the needles hold 64 sts together, not 62",
    ),
    "instep and sole": (
        "Repeat 9 (10) more times. 76 (82) sts: 28 (30) instep, 48 (52) sole.", "(52) sole", "(54) sole",
        "the parts are 76 (84) sts together, not 76 (82)",
    ),
    "a list": (
        "Round 11: decrease. 9, 18, 9 = 36 sts", "18", "16", "the parts are 34 sts together, not 36",
    ),
    "spread over so many": (
        "Cast on 48 stitches. Spread them over four needles, 12 stitches on each.", "12", "14",
        "14 sts on each of 4 needles are 56, not 48",
    ),
    "on each": (
        "Let one go to each needle: 20 (22) on each, 40 (44) stitches altogether.", "(44)", "(46)",
        "20 (22) sts on each are 40 (44), not 40 (46)",
    ),
}  # fmt: skip
STEPS: dict[str, Case] = {
    "rows one by one": (
        "Round 11: decrease. 36 sts\nRound 13: decrease. 32 sts\nRound 15: decrease. 28 sts\nRound 17: decrease. 24 sts\nRound 18: decrease. 20 sts",
        "28", "30", "30 sts between 32 and 24, 4 at a time: is 28 meant?",
    ),
}  # fmt: skip
KINDS: tuple[tuple[Check, dict[str, Case]], ...] = (
    (times_told, TIMES), (gusset_totals, GUSSETS), (needle_parts, NEEDLES), (stepped_counts, STEPS),
)  # fmt: skip


@together(("check", "case"), [(check, case) for check, kind in KINDS for case in kind.values()])
def test_a_slip_is_noticed_and_what_is_right_is_not(check: Check, case: Case) -> None:
    only_the_slip(check, case)


@together("text", RIGHT_TIMES)
def test_times_that_lead_elsewhere_are_left_alone(text: str) -> None:
    assert list(times_told(spoken(text))) == []


RIB = (
    "Row 1 (RS): K2, *p2, k2; repeat from * to end.\nRow 2 (WS): P2, *k2, p2; repeat from * to end."
)
TOE = "Needle 1: knit to the last 3 sts, k2tog, k1.\nNeedle 2: k1, ssk, knit to the last 3 sts, k2tog, k1.\nNeedle 3: k1, ssk, knit to the end."
THUMB = "There are 41 [47] sts.\nNext row: K25 [29], turn and cast on 1 st.\nNext row: P10 [12], turn and cast on 1 st.\nOn these 11 [13] sts work 10 rows."
HEEL = "The heel is worked over 22 (24, 26) sts.\nRow 1: K13 (14, 15), ssk, k1, turn. Yes, in the middle.\nRow 2: Sl 1, p5, p2tog, p1, turn.\n"
TOGETHER: dict[str, Case] = {
    "a rib that does not sit": (
        RIB, "P2, *k2, p2", "*P2, k2",
        "this row goes over a multiple of 4 sts, and the row before it over a multiple of 4 sts and 2 more: no number of sts fits both",
    ),
    "the row that the multiple does not fit": (
        "Rib (multiple of 4 sts + 2)\n" + RIB, "K2, *p2, k2", "*K2, p2",
        "this row goes over a multiple of 4 sts, and the row behind it over a multiple of 4 sts and 2 more: no number of sts fits both",
    ),
}  # fmt: skip
ODD: dict[str, Case] = {
    "a rib": (
        "Cast on 96 [108, 120] sts. Join into a round.\nRib round: [P2, k2] to end.", "108", "106",
        "106 sts are no multiple of 4, which the rows behind go over; those of the other sizes are",
    ),
    "a rib and an edge": (
        "Cast on 46 (50, 54) sts.\n1st row: K2, * p2, k2, rep from * to end.", "50", "52",
        "52 sts are no multiple of 4 and 2 more, which the rows behind go over; those of the other sizes are",
    ),
    "one size, and two repeats": (
        "Cast on 72 sts.\nR1: *K6, p6; repeat from * to end.\nR2: *K2, sl 1; repeat from * to end.", "72", "70",
        "repeats of 3 and 12 sts do not go into 70, and all of them into 72",
    ),
    "a row that names all stitches": (
        "Cast on 32 (36, 40) sts.\nKnit.\nNext row: K16 (18, 20), m1, k16 (18, 20). 33 (37, 41) sts.", "(36, 40)", "(38, 40)",
        "32 (38, 40) sts are cast on; the row behind takes 32 (36, 40)",
    ),
}  # fmt: skip
APART: dict[str, Case] = {
    "the row to a thumb": (
        THUMB, "K25 [29]", "K24 [28]",
        "with as many of the 41 (47) sts on either side of the thumb it has 8 (10); 10 (12) are worked",
    ),
    "the row back": (THUMB, "P10 [12]", "P11 [13]", "11 (13) sts and 1 cast on are 12 (14), not 11 (13)"),
    "two sides of a heel": (
        "Pick up and knit 11 (12) sts down the side of the heel.\nWith 3rd needle, pick up and knit 11 (12) sts up the other side of the heel.",
        "11 (12) sts up", "12 (13) sts up",
        "11 (12) sts picked up on one side and 12 (13) on the other: should the two be alike?",
    ),
}  # fmt: skip
LEANS: dict[str, Case] = {
    "at the beginning": (
        TOE, "k1, ssk, knit to the last", "k1, k2tog, knit to the last",
        "the decrease at the beginning of needle 2 leans otherwise than that of the others: one leans left, one right",
    ),
    "of the first needle, where both ends decrease": (
        "Rnd 1: N1: k1, ssk, k to last 3 sts, k2tog, k1. N2: k1, ssk, k to last 3 sts, k2tog, k1.", "N1: k1, ssk", "N1: k1, k2tog",
        "the decrease at the beginning of needle 1 leans otherwise than that of the others: one leans left, one right",
    ),
    "both of a needle": (
        "Rnd 1: N1: k to last 3 sts, k2tog, k1. N2: k1, ssk, k to last 3 sts, k2tog, k1. N3: k1, ssk, k to end.",
        "N2: k1, ssk, k to last 3 sts, k2tog", "N2: k1, k2tog, k to last 3 sts, ssk",
        "the decrease at the beginning of needle 2 leans otherwise than that of the others: one leans left, one right",
    ),
}  # fmt: skip
CENTRES: dict[str, Case] = {
    "like the turn before": (
        "The heel.\nRow 1: K12, ssk, turn.\nRow 2: Sl 1, p6, p2tog, turn.\nThe second heel.\nRow 1: Knit 12, ssk, turn.\nRow 2: Sl 1, p6, p2tog, turn.",
        "Knit 12", "Knit 13", "the first two rows of this turn leave as many sts on either side of 20; there are 18: is knit12 meant?",
    ),
    "remarks between the rows, and one size": (
        HEEL, "K13 (14, 15)", "K13 (15, 15)",
        "the first two rows of this turn leave as many sts on either side of 22 (26, 26); there are 22 (24, 26): is k13 (14, 15) meant?",
    ),
    "the second row, where the first leaves what is told": (
        "Over these 26 sts.\nRow 1: K15, ssk, k1, turn.\nRow 2: Sl 1, p5, p2tog, p1, turn.\nRep rows 3 and 4 to the end. 16 sts left.",
        "p5", "p7",
        "the first two rows of this turn leave as many sts on either side of 24; there are 26: is p5 meant?",
    ),
    "the second row, where it leaves another middle": (
        "There are 48 sts on B.\nRow 1 (RS): k37, w&t.\nRow 2 (WS): p26, w&t.\nDo rows 3 and 4 eight times more. There are 8 plain sts in the middle.",
        "p26", "p28",
        "the first two rows of this turn leave as many sts on either side of 46; there are 48: is p26 meant?",
    ),
    "an increase before the turn": (
        "There are 48 sts on Needle 2.\nR1 (RS): K31, M1L, k1, w&t.\nR2 (WS): P16, M1P, p1, w&t.", "P16", "P18",
        "the first two rows of this turn leave as many sts on either side of 46; there are 48: is k32 meant?",
    ),
    "words for stitches": (
        "The heel has 24 sts.\nRow 1: Knit 15, slip slip knit, turn.\nRow 2: Slip 1, purl 6, purl 2 together, turn.", "purl 6", "purl 7",
        "the first two rows of this turn leave as many sts on either side of 23; there are 24: is purl6 meant?",
    ),
    "a swatch is no count": (
        "Gauge: 14 sts = 4 inches\nThe heel has 14 (16) sts.\nRow 1: K9 (10), ssk, turn.\nRow 2: Sl 1, p4, p2tog, turn.", "K9 (10)", "K8 (9)",
        "the first two rows of this turn leave as many sts on either side of 12 (14); there are 14 (16): is k9 (10) meant?",
    ),
    "the strip of an instep": (
        "INSTEP\nThere are 33 (39) sts.\nNext row: K21 (25), turn.\nNext row: K9 (11), turn.", "K21 (25)", "K23 (27)",
        "the first two rows of this turn leave as many sts on either side of 37 (43); there are 33 (39): is k21 (25) meant?",
    ),
}  # fmt: skip
SHAPINGS: dict[str, Case] = {
    "groups that end in a decrease": (
        "In the first round, you knit 8 (9, 10), knit the next two together, and do that eight times. This leaves 72 (80, 88) stitches.",
        "8 (9, 10)", "9 (10, 11)", "8 times 9 (10, 11) and the decrease leave 80 (88, 96) sts, not 72 (80, 88)",
    ),
    "a tally": (
        "There are 57 sts after the 5th time, 107 sts after the 10th and 157 sts after the 15th.", "107", "117",
        "57 after number 5, 117 after number 10, 157 after number 15: these do not grow by as many each time",
    ),
    "wedges": (
        "Join. 88 sts.\nThere are eight wedges of eleven.", "eleven", "ten", "8 times 10 sts are 80, not 88",
    ),
    "a marker after every so many": (
        "Knit. 60 (68, 76) sts.\nKnit one round, placing a marker after every 15 (17, 19) sts.", "15 (17, 19)", "14 (16, 18)",
        "60 (68, 76) sts can't be marked after every 14 (16, 18)",
    ),
}  # fmt: skip
JOINED: dict[str, Case] = {
    "a decrease at a gap": (
        "Next round: K16 (18), slip the next 11 (13) sts on to a holder, cast on 1 st, k to end.\nNext round: K15 (17), k2tog, k to end.", "K15 (17)", "K15 (19)",
        "15 (19) sts before this decrease, and 16 (18) before the thumb: not as far from it in all sizes",
    ),
    "sides of a thumb": (
        "Pick up and knit 2 sts along the base of the thumb, then knit the 16 (18, 20) sts from the left needle—34 (38, 42) sts.",
        "knit 2 sts", "knit 4 sts",
        "16 (18, 20) sts on either side and 4 picked up are 36 (40, 44), not 34 (38, 42)",
    ),
}  # fmt: skip
ROWS: dict[str, Case] = {
    "groups by size": (
        "Knit. 42 (48) sts.\n1st row: (K1, ssk, k15 (18), k2tog, k1) twice. 38 (44) sts.", "k15 (18)", "k15 (17)",
        "this row leaves 38 (42) sts, not 38 (44)",
    ),
    "one size alone": (
        "Cast on 56 (64) sts.\n2nd size only: *K6, k2tog; repeat from * to end. 56 sts.", "*K6", "*K7",
        "56 sts are left of 63: so many are spoken of nowhere before",
    ),
}  # fmt: skip
STRIPES: dict[str, Case] = {
    "so many rounds in all": (
        "Stripe sequence (10 rounds): 4 rounds B, 2 rounds C, 4 rounds A.\nWork the stripe sequence 4 [5, 6] times in st st (40 [50, 60] rounds).",
        "40 [50, 60]", "50 [60, 70]", "4 (5, 6) times 10 rounds are 40 (50, 60), not 50 (60, 70)",
    ),
}  # fmt: skip
SET_APART: dict[str, Case] = {
    "a heel and the rest": (
        "Cast on 56 sts.\nNext row: K28, turn. Slip the rem 28 sts on to a holder for the instep.", "rem 28", "rem 26",
        "28 and 26 sts are 54, not 56",
    ),
    "stitches of a flap and the rest": (
        "CO 64 sts.\nThe flap is worked over the next 32 sts; leave the remaining 32 sts on hold for the instep.", "next 32", "next 30",
        "30 and 32 sts are 62, not 64",
    ),
    "waste yarn": (
        "Cast on 32 (36, 40) stitches.\nWith a length of smooth waste yarn, knit 16 (18, 20) stitches.", "18, 20", "18, 22",
        "16 (18, 22) sts are half of 32 (36, 40) in all sizes but one",
    ),
    "each of some needles": (
        "Knit 1 round on all 64 sts.\nArrange 16 sts on each of Needles 1 to 4.", "16", "17",
        "17 sts on each of 4 needles are 68, not 64",
    ),
    "markers at the sides": (
        "Knit = 32 (36) sts.\nInsert a marker at each side = 16 (18) sts between markers.", "16 (18)", "18 (20)",
        "18 (20) sts between markers at the two sides are half of 36 (40), not of 32 (36)",
    ),
    "a middle": (
        "CO 44 (48, 52) sts.\nRnd 5: K22 (24, 26), place marker A, M1L, place marker B, knit to end.", "24, 26", "24, 28",
        "22 (24, 28) sts are half of 44 (48, 52) in all sizes but one",
    ),
    "ridges": (
        "CO 3 sts. Knit 6 rows.\nRotate the work, pick up and knit 3 sts along the side edge (one in each ridge).", "6 rows", "8 rows",
        "8 rows have 4 ridges, not 3",
    ),
}  # fmt: skip
IN_STEP: dict[str, Case] = {
    "an increase in the middle": (
        "Next round: k1, M1, k3, M1, k to end = 36 (40) sts.\nNext round: k1, M1, k5, M1, k to end = 38 (42) sts.\nNext round: k1, M1, k7, M1, k to end = 40 (44) sts.",
        "k5", "k6", "6 here, amid rows alike with 3 before and 7 behind: is 5 meant?",
    ),
    "a gusset of two rows": (
        "Round 4: K16, M1, k1, M1, k to end. 35 sts.\nRounds 5-6: Knit.\nRound 7: K16, M1, k3, M1, k to end. 37 sts.", "k3", "k2",
        "1 st more between the increases than the last time, and 2 sts more in all: should they be as many?",
    ),
    "one of a crown": (
        "Round 1: (k6, k2tog) 6 times.\nRound 2: (k5, k2tog) 6 times.\nRound 3: (k4, k2tog) 6 times.\nRound 4: (k3, k2tog) 6 times.",
        "k5", "k6", "6 here, amid rows alike with 6 before and 4 behind: is 5 meant?",
    ),
}  # fmt: skip
REACHED: dict[str, Case] = {
    "a step told behind the count": (
        "Join. 70 (80) sts.\nRep the decrease round until 28 (30) sts remain, decreasing 2 sts each time.", "(30)", "(31)",
        "from 80 sts, 2 at a time, there are never 31: after 32 come 30; is one of these meant?",
    ),
}  # fmt: skip
TOLD: dict[str, Case] = {
    "as many made as taken together": (
        "In each lace round you make 6 yarn overs and 6 k2togs per repeat, so the number of stitches stays the same.",
        "6 k2togs", "8 k2togs", "6 sts made and 8 taken together do not leave as many",
    ),
    "stripes of so many rounds": (
        "Knit in the stripe pattern for 32 (32, 40) rounds, that is 4 (4, 5) stripes of each colour.", "(4, 5)", "(4, 6)",
        "32 (32, 40) rounds and 4 (4, 6) of them: the sizes do not differ alike",
    ),
}  # fmt: skip
KNOWN: dict[str, Case] = {
    "the last, after two together": (
        "Rnd 11: [K2tog] around. 10 sts.\nCut the yarn. Run it through the last 10 sts.", "last 10", "last 12",
        "12 sts are spoken of; just before they were 10",
    ),
    "these, just before": (
        "Next round: k2; with waste yarn, k8; slip these 8 sts back and work them again.", "these 8", "these 9",
        "9 sts are spoken of; just before they were 8",
    ),
}  # fmt: skip
MORE_KINDS: tuple[tuple[Check, dict[str, Case]], ...] = (
    (rows_together, TOGETHER), (odd_sizes, ODD), (worked_apart, APART), (toe_needles, LEANS), (turn_middles, CENTRES),
    (divided, SET_APART), (rows_in_step, IN_STEP), (known_numbers, KNOWN), (reached, REACHED),
    (lambda sentences: told_sums("", sentences), TOLD),
    (told_shapings, SHAPINGS), (worked_apart, JOINED), (whole_rows, ROWS), (sums, STRIPES),
)  # fmt: skip


@together(
    ("check", "case"), [(check, case) for check, kind in MORE_KINDS for case in kind.values()]
)
def test_a_row_that_does_not_fit_is_noticed(check: Check, case: Case) -> None:
    only_the_slip(check, case)


RIGHT: tuple[tuple[Check, str], ...] = (
    # "rep row 2" is no number of times
    (chains, "Row 2: K3, *yo, k1; rep from * to last 3 sts, k3. 30 sts.\nRows 3-15: Work even.\nRow 16: Rep Row 2. 54 sts."),
    (chains, "Work a decrease round six times. 36 sts.\nNow decrease on every round, four times. 20 sts."),
    (mirrors, "Top and leg\nKnit.\nShape leg: Next round: K1, k2tog, k to last 3 sts, skpo, k1. 70 sts."),
    (row_slips, "Rnd 1: K2, k2\ntog, knit."),  # goes on in the next line
    (row_slips, "On ndl 4, knit to the last 7 (8, 9) sts, knit 6 (7, 8) sts with waste yarn, k1."),
    (sums, "Inc rnd: on N1 k1, m1L, k to last st, m1R, k1; on N2 the same. 4 sts more."),
    (toe_needles, "Rnd 1: Knit to the last 3 sts on needle 1, k2tog, k1. Knit the 12 sts of needle 2. Needle 3: k1, ssk, k to end."),
    # another round of other sts than the heel's
    (divided, "Knit. 28 sts.\nPut 4 sts on a thread. 24 sts.\nNext row: K12, turn; leave the other 12 sts."),
    (rows_in_step, "Round 1: (k6, k2tog) 6 times.\nRound 2: (k5, k2tog) 6 times.\nRound 3: (k3, k2tog) 6 times.\nRound 4: (k1, k2tog) 6 times."),
    (known_numbers, "Row 1: Sl 1, p7.\nWork on these 8 sts."),
    (known_numbers, "Cast on 48 (56) sts.\nKnit 55.\nPut the remaining 56 sts on hold."),  # those of a size
    # so far off that another count is meant; a shaping of another section
    (told_shapings, "Join. 110 sts.\nThere are eight wedges of eleven."),
    (reached, "Cast on 72 sts.\n\nCUFF\nRound 1: K1, k2tog, k to last 3 sts, ssk, k1. 70 sts.\n\nLEG\nDecrease on every 4th round until 47 sts remain."),
    (reached, "Toe\nRep until 64 (72) sts rem: 16 (18) on 1st and 3rd needles.\nRound 1: 4 sts dec.\nRep until 28 (32) sts rem."),
)  # fmt: skip


@together(("check", "text"), RIGHT)
def test_what_is_right_is_left_alone(check: Check, text: str) -> None:
    assert list(check(spoken(text))) == []


def test_needles_hold_what_their_rib_divides_into() -> None:
    text = "Cast on 52 [56, 60] sts: 16 [16, 20] sts on 1st needle, 20 [24, 20] sts on 2nd needle and 16 [16, 20] sts on 3rd needle."
    assert list(sized_numbers(text, 3)) == []
    (one,) = sized_numbers(text.replace("[56, 60]", "[60, 56]"), 3)
    assert "60, 56" in one.message


def test_two_leans_explained_together_are_in_their_order() -> None:
    text = (
        "m1L, m1R: lift the bar between two stitches and make a left- or right-leaning stitch of it"
    )
    assert list(definitions(text)) == []


GIRTH = "Yarn: {yarn}\n{fit}Around: 7 (8) inches\nGauge: {gauge} sts to 4 inches\nCast on 28 (32) sts. Join.\nKnit. 28 (32) sts.\n"


@together(
    ("yarn", "fit", "gauge", "line"),
    [
        ("sock yarn", "", 32, 2),  # socks are knitted tighter than the yarn's range
        ("bulky", "", 14, 2),  # what its yarn is knitted at: the girth is wrong
        ("fingering", "", 14, 3),  # no gauge of its yarn
        ("bulky", "To fit hands of 7 (8) inches\n", 13, 4),  # the girth is borne out
        ("wool", "", 14, 3),  # nothing tells, and all sizes are off alike
    ],
)
def test_girths_all_off_alike_are_asked_about_where_the_slip_is(
    yarn: str, fit: str, gauge: int, line: int
) -> None:
    text = GIRTH.format(yarn=yarn, fit=fit, gauge=gauge)
    (one,) = girths(text if gauge < 30 else text.replace("28 (32) sts", "64 (72) sts"))
    assert one.line == line


def test_a_girth_at_its_gauge_is_right_whatever_the_yarn() -> None:
    assert list(girths(GIRTH.format(yarn="fingering", fit="", gauge=16))) == []


def test_what_is_cast_on_at_a_corner_tells_no_side() -> None:
    text = "Gauge: 20 sts to 10 cm\nFinished size: 38 x 38 cm\nCast on {} sts.\nKnit. 90 (100) sts."
    assert list(girths(text.format(5))) == []
    assert len(list(girths(text.format(90)))) == 1


def test_counts_of_a_crown_are_those_of_no_girth() -> None:
    hat = "Yarn: worsted\nAround: 18 (20) inches\nGauge: {} sts to 1 inch\nCast on 90 (100) sts.\nRound 1: (K8, k2tog) around. 72 (80) sts.\n"
    assert list(girths(hat.format(5))) == []
    assert len(list(girths(hat.format(4)))) == 1


def test_a_gauge_over_cables_gives_the_girth_of_cables() -> None:
    hat = "Finished size: {} inches around; stretches by 3 inches\nGauge: 26 sts = 4 in. over cable pattern\nCast on 108 sts. Join in the round.\nRnd 1: [C6F, p2, k4] 9 times.\n108 sts.\n"
    assert list(girths(hat.format(16.5))) == []
    assert [one.line for one in girths(hat.format(20.5))] == [1]


SECTIONS = "Cast on 96 sts. Join in the round.\nSection 1\nRound 1: Purl.\nRound 2: Knit.\nSection 2\nRounds 1-4: Knit.\nRepeat Sections 1 and 2 once more, then Section 1 again ({} rounds in all).\nBind off."


def test_sections_worked_again_make_their_rounds() -> None:
    for right in (14, 8):  # from the cast-on, or in this line
        assert not [one for one in review(SECTIONS.format(right)).findings if one.kind == "sum"]
    (wrong,) = [one for one in review(SECTIONS.format(16)).findings if one.kind == "sum"]
    assert (wrong.line, wrong.message) == (7, "14 rounds are worked up to here, not 16")


@together(
    "head",
    (
        '          Child    Adult    Large\nCircumference   16"     {}"     20.75"',
        'Circumference: 16", {}", 20.75"',
        "To fit three heads. Width all round, 16 ({}, 20.75) in",
    ),
)
def test_girths_in_columns_and_behind_whom_they_fit_are_compared(head: str) -> None:
    hat = f'{head}\nGauge: 5 sts = 1"\nCast on 80 (88, 104) sts. Join in the round.\nKnit 9 rounds.'
    assert list(girths(hat.format(17.5))) == []
    assert len(list(girths(hat.format(20.5)))) == 1
