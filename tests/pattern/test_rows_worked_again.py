# ruff: noqa: E501 - a text stands on one line, long as it may be
"""What rows make that are worked again, or that name all of their stitches: right texts, and each with a slip.

The sums were made by hand.
"""

from __future__ import annotations

from collections.abc import Iterable

from loopwright.pattern._editing.between_markers import between_markers
from loopwright.pattern._editing.between_wraps import between_wraps
from loopwright.pattern._editing.chains import chains
from loopwright.pattern._editing.definitions import definitions
from loopwright.pattern._editing.findings import Finding
from loopwright.pattern._editing.girths import girths
from loopwright.pattern._editing.hands import hands
from loopwright.pattern._editing.known_numbers import known_numbers
from loopwright.pattern._editing.like_rows import like_rows
from loopwright.pattern._editing.line_sums import line_sums
from loopwright.pattern._editing.plain_again import plain_again
from loopwright.pattern._editing.reached import reached
from loopwright.pattern._editing.row_numbers import row_numbers
from loopwright.pattern._editing.row_slips import row_slips, unplaced
from loopwright.pattern._editing.rows_in_all import rows_in_all
from loopwright.pattern._editing.spoken import Sentences, spoken
from loopwright.pattern._editing.sums import sums
from loopwright.pattern._editing.times_told import times_told
from loopwright.pattern._editing.told_parts import told_parts
from loopwright.pattern._editing.turn_middles import turn_middles
from loopwright.pattern._editing.turning_rows import turning_rows
from loopwright.pattern._editing.whole_rows import whole_rows
from pattern.slipped import Case, Check, only_the_slip
from together import together

EYELETS = "Cast on 3 sts.\nRow 1: K1, kfb, k to end. (1 st increased)\nRow 2: Knit.\nRepeat Rows 1 and 2 until there are 40 sts.\n\nEYELETS\nRow 1: K1, kfb, *yo, k2tog; repeat from * to last 2 sts, k2. (1 st increased)\nRow 2: Knit.\nRow 3: K1, kfb, k to end. (1 st increased)\nRow 4: Knit.\n"
HEEL = "Cast on 52 (60) sts.\nWork over the 26 (30) sts of the heel.\n"
WRAPS = "Row 1 (RS): K25 (29), w&t.\nRow 2 (WS): P24 (28), w&t.\n"
AND_ON = (
    "Row 3: K to 1 st before last wrapped st, w&t.\nRow 4: P to 1 st before last wrapped st, w&t.\n"
)
DOUBLE = "The heel uses the first 32 stitches only.\nRow 1 (RS): K32, turn.\nRow 2 (WS): DS, p31, turn.\nRow 3: DS, knit to the last DS, turn.\nRow 4: DS, purl to the last DS, turn.\n"
WEDGE = "Cast on 20 sts.\nRow 5: K10, marker, make 1, marker, k10. (21 sts)\nRow 7: Knit to marker, slip marker, M1R, k1, M1L, slip marker, knit to end. (23 sts)\n"
MITTEN = "THE RIGHT MITTEN\nCast on 40 [48] sts. and join into a round.\nWork 7 [8] cm in k.2, p.2 rib.\nKnit 14 rounds.\n{0}Next round (thumb): K.1; with waste wool, k.7 [8]; slip these 7 [8] sts. back and knit them again; k. to end.\n1st round: *K.1, s.k.p.o., k.14 [18], k.2 tog., k.1; repeat from * once more. 36 [44] sts.\n\nTHE LEFT MITTEN\nNext round (thumb): K.{1}; with waste wool, k.7 [8]; slip these 7 [8] sts. back and knit them again; k. to end."
SLIT = "Increase round: (K10, m1) four times. Count them: 44 stitches.\nKnit 10 rounds.\nNow stop at the marker, turn the work around as if it were a scarf, and go back and forth.\n"
THUMB = "Cast on 20 sts.\nRow 1: K9, pick up and knit 1 st in the corner. (10 sts)\n"
GUSSET = "Round 1: Knit 14 (18), place a marker, make 1, place a marker, knit to the end. You have 29 (37) stitches.\nRounds 2 and 3: Knit.\nRound 4: Knit to the first marker, slip it, make 1, knit to the next marker, make 1, slip it, knit to the end.\nRounds 5 and 6: Knit.\n"
PICKED = "Next round: With 1st needle k. the other 5 heel sts., then pick up and k. 14 [16] sts. down the side. With 2nd needle k. the 28 [32] sts. from the holder. With 3rd needle pick up and k. 14 [16] sts. up the other side and k. the first 5 sts. again. 66 [74] sts."
NUMBERED = "Gusset\nRow 1: K12, m1, k12.\nRow 2 and all even rows: Purl.\nRow 3: K.\nRow 5: K.\nRow 7: K.\n\nThumb\nRow 9: K12.\nRow 10: P.\n"
HUNG = "Rnd 1: K10, place marker, k20, place marker, k30.\nRnd 2: K to marker, sm, k to marker, sm, k to end."
GARTER = "Cast on 60 sts.\nGarter row: K2, yo, k to end. 61 sts.\nRow 5: Knit. 61 sts.\n"
AS_SET = "Rnd 1: *K4, k2tog; rep from * to end.\nRnd 2: Knit.\nRnds 3-9: Continue to decrease 10 sts, as set in Rnd 1, on odd rnds."
FEWER = "There are 36 (40, 44) sts.\nRound 3: *K1, ssk, k12 (14, 16), k2tog, k1; rep from * once more. 32 (36, 40) sts.\nRound 4: Knit.\nRep Rounds 3 and 4, with 2 sts fewer between the decreases every time, until 12 (16, 16) sts are left."
ONE_NEEDLE = "20 sts lie on Needle 1.\nRow 1 (RS): K12, ssk, turn. 19 sts on Needle 1.\nRow 2 (WS): Sl 1, p4, p2tog, turn. 18 sts."
AROUND = "Around the hand: 5½ (7¼, 8) inches\nGauge: 20 stitches and 28 rounds make 4 inches.\nCast on 28 (36, 40) stitches.\n"


def _definitions(sentences: Sentences) -> Iterable[Finding]:
    return definitions("\n".join(one.text for one in sentences))


def _unplaced(sentences: Sentences) -> Iterable[Finding]:
    return unplaced("\n".join(one.text for one in sentences), sentences)


def _reached(sentences: Sentences) -> Iterable[Finding]:
    return reached(list(sentences), {4})  # a line that was not understood


def _girths(sentences: Sentences) -> Iterable[Finding]:
    return girths("\n".join(one.text for one in sentences))


SLIPS: tuple[tuple[Check, Case], ...] = (
    (rows_in_all, ("These 32 rounds make the pattern. Work them twice more, so that there are 96 rounds above the rib.", "twice", "three times", "32 rows, worked 3 times more, are 128, not 96")),
    (rows_in_all, ("These 8 rounds form the pattern. Work them 6 times altogether, which makes 48 rounds.", "48", "40", "6 times 8 rows are 48, not 40")),
    (rows_in_all, ("Do these two rows six more times. That makes 14 rows.", "six", "seven", "2 rows, worked 7 times more, are 16, not 14")),
    (rows_in_all, ("Work these 2 rows 5 times, then row 1 once more. That makes 11 rows.", "5 times", "6 times", "6 times 2 rows, and 1, are 13, not 11")),
    (rows_in_all, ("Repeat Rows 1-16 another 7 (9) times, then work Rows 1-8 once more. 136 (168) pattern rows in all.", "168", "176", "7 (9) times 16 rows more, and 8, are 136 (168), not 136 (176)")),
    (row_slips, ("Thumb round: Knit to the last 8 sts, slip the next 7 sts on to a pin, cast on 7 sts, k1.", "last 8", "last 7", "the last 7 sts are spoken of; 'slip the next 7 sts on to a pin, cast on 7 sts, k1' takes 8 sts")),
    (known_numbers, ("Join and knit 6 rounds.\nLast round: *K2tog; repeat from * around. (5)\nThread the yarn through the 5 sts.", "the 5", "the 6", "6 sts are spoken of; just before they were 5")),
    (between_wraps, (HEEL + WRAPS + AND_ON + "Rep 3rd and 4th rows 7 (8) times more. 8 (10) sts in the centre are unwrapped.", "7 (8) times", "6 (7) times", "6 (7) times more than once leave 10 (12) sts between the wraps, not 8 (10)")),
    (between_wraps, (HEEL + WRAPS + AND_ON + "Rep Rows 3 and 4 until 8 (10) sts are left unwrapped in the centre.", "8 (10)", "8 (11)", "from 28 sts between the wraps, 2 at a time, there are never 11")),
    (between_wraps, (DOUBLE + "Work Rows 3 and 4 nine more times. You now have 11 DS at one end of the heel and 10 at the other.", "10 at", "11 at", "the first row makes no double stitch: 11 at one end are 10 at the other")),
    (turn_middles, ("Work Rows 3 and 4 a total of 8 (10, 11) times. There are 11 (11, 13) plain stitches in the middle, 9 (11, 12) DS on the left and 8 (10, 11) on the right.", "11) times", "12) times", "9 (11, 12) sts at a side; 7 (9, 11) times more than once make 9 (11, 13)")),
    (turn_middles, ("Work Rows 3 and 4 eight (ten) times in all. There are 9 (11) DS at the left and 8 (10) at the right.", "9 (11)", "10 (12)", "10 (12) sts at a side; 7 (9) times more than once make 9 (11)")),
    (turn_middles, ("Cast on 28 sts.\nThere are 9 DS at the left and 8 at the right.\nRow 5: DS, knit across the 10 plain sts, then knit each DS as one.", "10 plain", "11 plain", "the sides and the middle are 29 sts; there are 28")),
    (between_markers, (WEDGE + "Row 8: Purl. There are 3 sts between the markers.", "are 3", "are 5", "the round leaves 3 sts between its markers, not 5")),
    (between_markers, (WEDGE + "Stop after Row 8. Count the stitches between the markers: 3.", "markers: 3", "markers: 5", "the round leaves 3 sts between its markers, not 5")),
    (hands, (MITTEN.format("", "12 [15]"), "K.12 [15]", "K.14 [17]", "the left thumb stands behind 14 (17) sts, and does not mirror the right one, which stands behind 1: are 12 (15) meant?")),
    (whole_rows, (SLIT + "Row 1 (wrong side): K2, p40, k2.", "p40", "p38", "this row takes 42 sts; there are 44")),
    (whole_rows, (THUMB + "Row 9: K2tog five times. (5 sts)", "five times. (5", "four times. (4", "this row takes 8 sts; there are 10")),
    (times_told, (GUSSET + "Do Rounds 4, 5 and 6 another 3 (5) times. Now there are 9 (13) stitches between the markers and 37 (49) altogether.", "another 3 (5)", "another 4 (6)", "from 29 (37) to 37 (49) sts, 2 at a time, are 3 (5) times more, not 4 (6)")),
    (turning_rows, ("Row 3: Sl 1, (k1, sl 1) 14 times, ssk, turn.\nRow 4: Sl 1, p28, p2tog, turn.", "14 times", "15 times", "30 sts before the decrease; in step with the other rows it would be 28")),
    (turning_rows, ("Row 3: *Sl 1, k1; rep from * 13 (15) more times, sl 1, ssk, turn.\nRow 4: Sl 1, p28 (32), p2tog, turn.", "13 (15)", "12 (14)", "26 (30) sts before the decrease; in step with the other rows it would be 28 (32)")),
    (sums, (PICKED, "66 [74]", "68 [76]", "the parts are 66 (74) sts together, not 68 (76)")),
    (sums, ("1st needle: knit the other 6 heel stitches and lift 18 stitches along the side, knitting each. 2nd needle: knit the 36 instep stitches. 3rd needle: lift and knit 18 stitches along the other side, and knit 6 = 84 stitches.", "knit 18", "knit 16", "18 sts picked up on one side and 16 on the other: should the two be alike?")),
    (sums, ("Row 1: K2, yo, k1, *yo, k2tog; rep from * to center st, yo, k1, yo, *ssk, yo; rep from * to last 3 sts, k1, yo, k2. (4 sts inc'd)", "k1, yo, *ssk", "k1, *ssk", "4 sts more are stated; this row makes 3 sts more")),
    (told_parts, ("Place the 56 (64) live sts on needle tips, 28 (32) per half.\nKnit 1 rnd, picking up 1 st at each end of both halves - 60 (68) sts.", "60 (68)", "58 (66)", "1 at each end of both halves makes 60 (68) sts, not 58 (66)")),
    (chains, ("CO 84 (96) sts.\nDec rnd: *K1, ssk, k to 3 sts before m, k2tog, k1, sm; rep from * 5 more times. 72 (84) sts.", "*K1, ssk, k", "*K", "72 (84) sts are stated; from the count before, there are 78 (90)")),
    (_definitions, ("M1L / M1R - increase leaning left / leaning right", "left / leaning right", "right / leaning left", "m1l leans left, not right")),
    (row_numbers, (NUMBERED, "Row 9: K12.\nRow 10", "Row 10: K12.\nRow 11", "the rows of this section begin with number 10: was a row left out, or misnumbered?")),
    (_unplaced, (HUNG, "place marker, k30", "k30", "2 markers slipped in this row, and 1 placed in all: pm?")),
    (chains, (GARTER + "Row 6: Knit. 61 sts.", "6: Knit. 61", "6: Knit. 62", "62 sts are stated; from the count before, there are 61")),
    (plain_again, (AS_SET, "in Rnd 1", "in Rnd 2", "row 2 is a plain one: which row shapes as is meant here?")),
    (chains, ("Cast on 150 sts. Join.\nRound 1: *K13, k2tog; rep from * to end. 140 sts.\nRound 2: Knit.\nCarry on so, 10 sts fewer on every odd round, until you have 20 sts.", "10 sts fewer", "11 sts fewer", "from 140 sts, 11 at a time, there are never 20")),
    (chains, ("Cast on 150 sts. Join.\nRound 1: *K13, k2tog; rep from * to end. 140 sts.\nRound 2: Knit.\nContinue in this way, losing 10 sts on every odd round, until there are 20 sts.", "losing 10", "losing 9", "from 140 sts, 9 at a time, there are never 20")),
    (_reached, (FEWER, "12 (16, 16)", "12 (14, 16)", "from 36 sts, 4 at a time, there are never 14: after 16 come 12; is one of these meant?")),
    (turn_middles, (ONE_NEEDLE, "p4,", "p3,", "the first two rows of this turn leave as many sts on either side of 21; there are 20: is p4 meant?")),
    (_girths, (AROUND, ", 8)", ", 9)", "9 in around is printed; 40 sts at this gauge are 8.0 in, and the other sizes agree")),
)  # fmt: skip
RIGHT: tuple[tuple[Check, str], ...] = (
    (rows_in_all, "Do these 2 rows 7 more times (14 rows)."),
    (rows_in_all, "Work rows 1-2 7 times, then row 1 once more. Knit 2 rows."),
    (reached, EYELETS + "Rows 5-24: Repeat Rows 3 and 4 ten times. 52 sts."),
    (whole_rows, "Cast on 24 sts.\nIncrease evenly around.\nKnit the next 5 sts with scrap yarn and slip those 5 sts back.\nRound 1: *Knit 5, k2tog; repeat from * to the end. (24 sts)"),
    (like_rows, "Row 1: Knit.\nRow 2: Purl.\nRep rows 1 and 2 another 3 times.\nMOSS\nRow 1: K1, p1.\nRow 2: Knit.\nRow 3: Knit.\nRow 4: Purl.\nRepeat the last 12 rows 10 times more."),
    (line_sums, "Knit 3 rounds. 16 (18) sts.\nThumb round: Knit to the last 8 (9) sts, slip the next 7 (8) sts on to a pin, cast on 7 (8) sts, k1. 40 (44) sts."),
    (rows_in_all, "These 32 rounds make the pattern. Work them twice more, so that there are 98 rounds above the rib."),
    (rows_in_all, "These 4 rows form the rib. Work them 3 times more, then rows 1 and 2 again, so that there are 18 rows."),
    (rows_in_all, "These 4 rows form the pattern. Work them 5 times, then knit 4 rows."),
    (rows_in_all, "Repeat the last 2 rounds 3 more times. This makes 10 rounds of rib."),
    (rows_in_all, "Work rows 1-4 three more times. That makes 12 more rows."),
    (between_wraps, HEEL + WRAPS + AND_ON + "Rep rows 3 and 4 7 (8) times more, then row 3 once more. 7 (9) sts in the centre are unwrapped."),
    (between_wraps, HEEL + WRAPS + AND_ON + "Rep rows 3 and 4 until 7 (9) sts are left in the centre, ending with row 3."),
    (between_wraps, HEEL + WRAPS + "Row 3: K to 2 sts before last wrapped st, w&t.\nRow 4: P to 2 sts before last wrapped st, w&t.\nRep rows 3 and 4 3 times more. 8 (12) sts in the centre are unwrapped."),
    (turn_middles, HEEL + WRAPS + AND_ON + "Rep rows 3 and 4 7 (8) times more, then row 3 once more. 10 (11) wrapped sts on one side, 9 (10) on the other, 7 (9) in the middle."),
    (between_wraps, DOUBLE + "Work Rows 3 and 4 nine more times. Turn and make one more DS. You now have 11 DS at one end of the heel and 11 at the other."),
    (between_wraps, DOUBLE + "Work Rows 3 and 4 nine more times, then row 3 again. You now have 11 DS at one end of the heel and 11 at the other."),
    (between_markers, WEDGE + "Row 8: Purl.\nRow 9: As row 7, with k3. You have 5 sts between the markers."),
    (between_markers, WEDGE + "Rep rows 7 and 8. You have 5 sts between the markers."),
    (between_markers, WEDGE + "Row 8: Purl. Increase in this way once more. 5 sts between the markers."),
    (between_markers, WEDGE + "Row 8: Knit to marker, sm, m1, k to m, m1, sm, k to end. There are 5 sts between the markers."),
    (hands, MITTEN.format("Next round: *K.9, m.1; repeat from * to end.\n", "14 [17]")),
    (hands, MITTEN.format("", "32 [39]")),
    (whole_rows, SLIT + "Row 1 (wrong side): K2, p38, turn."),
    (whole_rows, SLIT.replace("go back and forth", "go back and forth on the first 42 sts only") + "Row 1 (wrong side): K2, p38, k2."),
    (whole_rows, THUMB + "Row 9: K2tog three times, k4. (7 sts)"),
    (times_told, GUSSET + "Do Rounds 4-6 another 3 (5) times, 37 (49) sts."),
    (times_told, "There are 48 sts.\nRound 1: K to last 3 sts, k2tog, k1. 47 sts.\nRound 2: K1, ssk, k to last 3 sts, k2tog, k1. 45 sts.\nRep Round 2 5 more times. 35 sts."),
    (times_told, "Repeat these 2 rows until you have 64 sts.\nRow 1: K2, *yo, k2tog; repeat from * to last 2 sts, kfb, k1. (1 st more)\nRow 2: Knit.\nRow 3: Knit to last 2 sts, kfb, k1. (1 st more)\nRow 4: Knit.\nRows 5-12: Repeat Rows 3 and 4 four times. You should now have 70 sts."),
    (times_told, "Row 2: K3, yo, p to last 3 sts, yo, k3: 221 sts.\nRow 1: K3, yo, k to last 3 sts, yo, k3. (2 sts inc)\nRows 2-8: Rep Row 1 seven more times: 237 sts."),
    (turning_rows, "Row 1: (Sl 1, k1) 11 times, sl 1, ssk, turn.\nRow 2: Sl 1, p10, p2tog, turn.\nRow 3: Sl 1, (k1, sl 1) 5 times, ssk, turn.\nRow 4: Sl 1, p10, p2tog, turn."),
    (turning_rows, "Row 13: (Sl 1, k1) 11 times, sl 1, ssk, turn.\nRow 14: Sl 1, p10, p2tog, turn."),
    (sums, "Knit across the 10 heel sts. Pick up and knit 12 along the flap. Knit 24 instep sts. Pick up and knit 12 along the other side, then knit 5 heel sts. 58 sts."),
    (sums, "K10 heel sts. Pick up and k 14 sts down the side, plus 1 in the corner. K24 across. Pick up and k 14 up the other side, plus 1 in the corner. K5. 64 sts."),
    (sums, "K5 heel sts. Now pick up and knit 12 along the flap. Knit 24. Pick up and knit 12 along the other side, then knit the other 5 sts. 58 sts. Knit 2 rounds."),
    (told_parts, "Place the 56 (64) live sts on needle tips, 28 (32) per half.\nKnit 1 rnd, picking up 1 st at each end of each half - 30 (34) sts a half, 60 (68) sts."),
    (told_parts, "Place the 56 (64) live sts on needle tips, 28 (32) per half.\nKnit 1 rnd, picking up 1 st at each end - 58 (66) sts."),
    (chains, "CO 84 sts.\nDec rnd: *K to 3 sts before m, k2tog, k1, sm; rep from * around. 78 sts."),
    (sums, "Row 3: K3, *yo, k1; rep from * to last 3 sts, k3. (20 sts inc'd)"),
    (_definitions, "ssk / k2tog - decreases that lean left and lean right"),
    (_definitions, "M1R, M1L: with the left needle lift the bar, slanting to the right, slanting to the left"),
    (row_numbers, NUMBERED.replace("Row 2 and all even rows: Purl.", "Purl all wrong-side rows.")),
    (row_numbers, NUMBERED.replace("Row 2 and all even rows", "Even-numbered rows")),
    (row_numbers, NUMBERED.replace("Row 2 and all even rows", "Rows 2, 4, 6 and 8")),
    (row_numbers, NUMBERED.replace("Row 2 and all even rows: Purl.", "On every row not given, work the sts as they look.")),
    (row_numbers, NUMBERED.replace("Row 2 and all even rows: Purl.", "Rows that aren't mentioned are purled.")),
    (_unplaced, "Abbreviations: k knit, sm slip marker, st stitch\nRnd 1: K10, place marker, k30.\nRnd 2: K to marker, sm, k to end."),
    (_unplaced, "Abbreviations: k knit, slip marker (sm)\nRnd 1: K10, place marker, k30.\nRnd 2: K to marker, sm, k to end."),
    (chains, GARTER + "Row 6: Work the garter row. 62 sts."),
    (chains, GARTER + "Row 6: Do the basic row. 62 sts."),
    (sums, "Row 3: K1, yo, *k2tog, yo; rep from * to last st, k1. (1 st inc'd)"),
)  # fmt: skip


@together(("check", "case"), SLIPS)
def test_a_slip_is_noticed_and_what_is_right_is_not(check: Check, case: Case) -> None:
    only_the_slip(check, case)


@together(("check", "text"), RIGHT)
def test_what_is_right_is_left_alone(check: Check, text: str) -> None:
    assert list(check(spoken(text))) == []
