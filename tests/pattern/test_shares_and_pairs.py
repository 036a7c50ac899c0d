# ruff: noqa: E501 - a text stands on one line, long as it may be
"""Shares beside their whole, sections, pairs of shapings, times: right ones of each kind, each with a slip.

The sums were made by hand.
"""

from __future__ import annotations

from collections.abc import Iterable

from loopwright.pattern._editing.abbreviation_list import abbreviation_list
from loopwright.pattern._editing.chains import chains
from loopwright.pattern._editing.findings import Finding
from loopwright.pattern._editing.flap_rows import flap_rows
from loopwright.pattern._editing.girths import girths
from loopwright.pattern._editing.gusset_totals import gusset_totals
from loopwright.pattern._editing.impossible import impossible
from loopwright.pattern._editing.like_pairs import like_pairs
from loopwright.pattern._editing.line_sums import line_sums
from loopwright.pattern._editing.marked_sections import marked_sections
from loopwright.pattern._editing.mirrors import mirrors
from loopwright.pattern._editing.needle_parts import needle_parts
from loopwright.pattern._editing.needles_and_units import needles_and_units
from loopwright.pattern._editing.places_named import places_named
from loopwright.pattern._editing.prose_counts import prose_counts
from loopwright.pattern._editing.shares import shares
from loopwright.pattern._editing.size_steps import size_steps
from loopwright.pattern._editing.spoken import Sentences, spoken
from loopwright.pattern._editing.stepped_counts import stepped_counts
from loopwright.pattern._editing.stripe_sums import stripe_sums
from loopwright.pattern._editing.sums import sums
from loopwright.pattern._editing.times_told import times_told
from loopwright.pattern._editing.told_shapings import told_shapings
from loopwright.pattern._editing.turn_middles import turn_middles
from loopwright.pattern._editing.whole_rows import whole_rows
from loopwright.pattern._editing.worked_lines import worked_lines
from pattern.slipped import Case, Check, only_the_slip
from together import together


def _places(sentences: Sentences) -> Iterable[Finding]:
    lines = dict[int, str]()
    for one in sentences:
        lines[one.line] = f"{lines.get(one.line, '')} {one.text}".strip()
    heads = [f"Section {letter}" for letter in "ABC"]
    return places_named("\n".join([*lines.values(), *heads]), sentences)


def _of_text(text: str) -> list[str]:
    said = spoken(text)
    found = [*stripe_sums(text), *prose_counts(text, said), *impossible(text, said), *girths(text), *needles_and_units(text)]  # fmt: skip
    return [one.message for one in found]


SHARES: dict[str, Case] = {
    "on a needle": ("inc to 64 sts, 32 per needle.", "32", "30", "2 times 30 sts are 60, not 64"),
    "listed, in all": (
        "There are now 29, 36 and 29 sts., 94 in all.", "94", "92", "the parts are 94 sts together, not 92",
    ),
    "by letters, together": (
        "A 9, B 12, C 9, together 30 sts.", "30", "32", "the parts are 30 sts together, not 32",
    ),
    "in a sentence": (
        "The first needle has 30 (34) sts, the second 52 (60), and that makes 82 (94) altogether.", "(94)", "(96)",
        "the parts are 82 (94) sts together, not 82 (96)",
    ),
    "on each": ("You have 48 sts, 24 on each needle.", "48", "50", "2 times 24 sts are 48, not 50"),
    "edges and corners": (
        "Pick up and knit 16 (18) sts round the opening: 7 (8) along each edge and 1 in each corner.", "16 (18)", "18 (20)",
        "these are 16 (18) sts together, not 18 (20)",
    ),
    "dealt out": (
        "There are 48 (56, 64) sts.\nShare them between four needles, 12 (14, 16) on each.", "(14, 16)", "(14, 18)",
        "12 (14, 18) sts on each of 4 needles are 48 (56, 72), not 48 (56, 64)",
    ),
    "a thumb": (
        "Round 4: m1, k3, m1, knit to end (5 thumb sts).", "k3", "k4", "these are 6 sts of the thumb, not 5",
    ),
    "groups that are left": (
        "Next round: (k6, k2tog) to the end. The 84 (168) sts that are left pull the top in.", "84 (168)", "80 (160)",
        "groups of 7 sts are left; 80 (160) sts are no multiple of 7",
    ),
}  # fmt: skip
SECTIONS: dict[str, Case] = {
    "as it is cast on": (
        "Cast on 108 (216) sts, placing a marker after every 18th st. There are 6 (12) sections.", "(12)", "(14)",
        "6 (14) sections of 18 sts are 108 (252), not 108 (216)",
    ),
    "in a round": (
        "Cast on 126 (216) sts.\nRnd 2: Knit, placing a marker after every 18 sts: 7 (12) sections.", "7 (12)", "7 (13)",
        "7 (13) sections of 18 sts are 126 (234), not 126 (216)",
    ),
    "as repeats": (
        "Cast on 108 (180) sts.\nIf you like, hang a marker after every 18 sts; you'll have 6 (10) repeats.", "(10)", "(9)",
        "6 (9) sections of 18 sts are 108 (162), not 108 (180)",
    ),
    "so many, and a marker": (
        "Cast on 84 (96, 108) sts.\nRnd: *K14 (16, 18), pm; rep from * around: 6 sections.", "18)", "17)",
        "6 sections of 14 (16, 17) sts are 84 (96, 102), not 84 (96, 108)",
    ),
}  # fmt: skip
PAIRS: dict[str, Case] = {
    "of a gusset": (
        "Gusset\nRnd 1: K15, pm, M1R, k2, M1L, pm, k15.\nRnd 4: Knit to marker, sm, M1R, knit to marker, M1L, sm, knit to end.",
        "sm, M1R, knit to marker, M1L", "sm, M1L, knit to marker, M1R",
        "M1L … M1R: in the other row of this section these two stand the other way round",
    ),
    "of a top": (
        "Top\nRound 1: *Ssk, k12 (14), k2tog; rep from * once more. 28 (32) sts.\nRound 3: *Ssk, k10 (12), k2tog; rep from * once more. 24 (28) sts.",
        "*Ssk, k10 (12), k2tog", "*K2tog, k10 (12), ssk",
        "K2tog … ssk: in the other row of this section these two stand the other way round",
    ),
    "one without the other": (
        "Gusset\nRnd 1: K15, place marker, m1L, k2, m1R, place marker, k15.\nRnd 4: Knit to first marker, slip marker, m1L, knit to second marker, m1R, slip marker, knit to end.",
        "second marker, m1R,", "second marker,",
        "m1L alone between the markers, where another row increases at both of them",
    ),
}  # fmt: skip
TIMES: dict[str, Case] = {
    "back to a count": (
        "You have 46 on Needle 1 and 28 on Needle 2, or 74.\nRound A: Knit to the last 3 sts before Needle 2, k2tog, k1. Needle 2 in pattern. K1, ssk, knit to end.\nRound B: No decreases.\nDo A and B until you're back to 56. It takes 9 times.",
        "9 times", "10 times", "from 74 to 56 sts, 2 at a time, are 9 times, not 10",
    ),
    "needles by their names": (
        "There are 25 (28, 31) sts on the 1st needle, 30 (34, 38) on the 2nd and 25 (28, 31) on the 3rd.\n1st round: 1st needle, k to last 3 sts, k2tog, k1; 2nd needle, knit; 3rd needle, k1, ssk, k to end.\n2nd round: Knit.\nRep these 2 rounds 9 (10, 11) times more. 60 (68, 76) sts.",
        "11) times", "12) times", "from 80 (90, 100) to 60 (68, 76) sts, 2 at a time, are 9 (10, 11) times more, not 9 (10, 12)",
    ),
    "a half of the stitches": (
        "Put half of the stitches, 18 (21, 24), on needles 1 and 2.\nRound A: *Knit 1, ssk, knit to the last 3 stitches of the half, k2tog, knit 1.* Repeat between the stars on the second half.\nWork Rounds A and B 5 (6, 7) times. You have 16 (18, 20) stitches.",
        "5 (6, 7)", "5 (5, 6)", "from 36 (42, 48) to 16 (18, 20) sts, 4 at a time, are 5 (6, 7) times, not 5 (5, 6)",
    ),
    "inches are no shaping": (
        "Stop when it is 4 inches short. 60 (68) sts.\nRound 1: K1, M1L, knit to the last stitch, M1R, k1. (2 more stitches)\nDo these two rounds 11 (13) times in all: 82 (94) sts.",
        "11 (13)", "10 (12)", "from 60 (68) to 82 (94) sts, 2 at a time, are 11 (13) times, not 10 (12)",
    ),
    "to a count": (
        "There are 48 (56, 64) sts.\nRnd 2: K1, ssk, k to last 3 sts, k2tog, k1, then k1, ssk, k to last 3 sts, k2tog, k1. 44 (52, 60) sts.\nRep Rnds 2-3 to 20 (24, 24) sts.",
        "20 (24, 24)", "22 (26, 26)", "from 44 sts, 4 at a time, there are never 22",
    ),
    "going on": (
        "Cast on 28 (32) sts.\nRound 1: *K5 (6), k2tog; rep from *. 24 (28) sts.\nRound 3: *K4 (5), k2tog; rep from *. 20 (24) sts.\nKeep going: one stitch fewer before each k2tog, until you have 8 stitches.",
        "8 stitches", "10 stitches", "from 20 sts, 4 at a time, there are never 10",
    ),
    "checked on the next line": (
        "Cast on 20 (24, 24) sts.\nRound 1: On each needle: k1, m1, knit to last st, m1, k1. (4 sts increased)\nWork Rounds 1 and 2 a total of 7 (8, 10) times.\nCheck: 48 (56, 64) sts.",
        "8, 10", "8, 9", "from 20 (24, 24) to 48 (56, 64) sts, 4 at a time, are 7 (8, 10) times, not 7 (8, 9)",
    ),
}  # fmt: skip
LINES: dict[str, Case] = {
    "laid out": (
        "Cast on 44 sts.\nThumb place: Patt 22, k1, then with the waste yarn k7; slip these 7 sts back on to left-hand needle and knit them again; k14.",
        "k14", "k12", "42 sts are laid out here; there are 44",
    ),
    "over a panel": (
        "CO 40 (44) sts.\nSet-up rnd: K5 (6), work Rnd 6 of Cable Panel over 10 sts, k5 (6); k20 (22).", "K5 (6)", "K6 (7)",
        "41 (45) sts are laid out here; there are 40 (44)",
    ),
    "what is set aside": (
        "9. K12, take off the ring, thread the next 9 sts on waste yarn, take off the other ring, cast on 1 st by the loop method, k12. Check: 25 sts.",
        "cast on 1 st", "cast on 3 sts", "the parts of this line are 27 sts together, not 25",
    ),
    "and what there was": (
        "Next round: K24, put 15 sts on a thread, cast on 1, k to end. (48 sts)\nWork 12 rounds plain.\nNext round: K5, thread the next 38 sts, cast on 2, k the last 5. (12 sts)",
        "38", "36", "46 sts are worked and set aside here; there were 48",
    ),
    "what is left": (
        "Take the 14 sts that are left. Pick up and k 2 sts at the base of the finger, k14. (16 sts)", "(16", "(18",
        "the parts of this line are 16 sts together, not 18",
    ),
    "with increases": (
        "Row 9: K11, sm, M1R, k6, M1L, sm, k11. Count: 30 sts.", "k6", "k5", "the parts of this line are 29 sts together, not 30",
    ),
}  # fmt: skip
REPEATS: dict[str, Case] = {
    "over all stitches": (
        "Cast on 16 sts.\nInc to 55 sts, then to 56 sts.\nGo back to knitting in the round over all 56 stitches.\nKnit 5 inches.\nThen *k2, p2; repeat from * around for 2 inches.",
        "*k2", "*k3", "a repeat of 5 sts goes into none of the counts before: the last is 56",
    ),
    "in a colour": (
        "Cast on 110 sts.\nR1: With P, [k3, sl2] to end.", "k3", "k4", "a repeat of 6 sts goes into none of the counts before: the last is 110",
    ),
    "behind its name": (
        "Cast on 48 sts.\nRibbing: [k2, p2] around, for 12 rounds.", "k2", "k3", "a repeat of 5 sts goes into none of the counts before: the last is 48",
    ),
}  # fmt: skip
PLACES: dict[str, Case] = {
    "a step": (
        "1. Cast on 60 sts.\n2. Knit.\n3. Close the top.\n4. Close as in step 3, and weave in.", "step 3", "step 9", "there is no step 9; the last is 4",
    ),
    "a section by its letter": (
        "Section A\nKnit 2 rows.\nSection B\nPurl 2 rows.\nSection C\nWork the 2 rows of Section A 4 times.", "of Section A", "of Section F",
        "there is no section F; there are A, B, C",
    ),
}  # fmt: skip
SOLES: dict[str, Case] = {
    "and the total": (
        "64 (72) sts.\nRepeat them 9 (10) more times: 52 (58) sole sts, 84 (94) sts total.", "52 (58)", "52 (56)",
        "84 (94) sts less 52 (56) of the sole leave 32 (38) outside of it; before, there were 32 (36)",
    ),
    "behind a total": (
        "Set-up: 31 (37, 43) sts.\nRepeat 3 (4, 5) more times—39 (47, 55) stitches; 9 (11, 13) gusset stitches between markers.", "11, 13", "11, 15",
        "39 (47, 55) sts less 9 (11, 15) between the markers leave 30 (36, 40) outside of them; before, there were 31 (37, 43)",
    ),
}  # fmt: skip
LEANS: dict[str, Case] = {
    "beside markers that are slipped": (
        "Inc Rnd: K to marker, sl marker, M1R, k to next marker, M1L, sl marker, k to end.", "M1R", "M1L",
        "M1L and M1L both lean to the left, in a row that mirrors itself otherwise",
    ),
    "of markers with names": (
        "Rnd 6: K to marker A, sm, M1R, k to marker B, M1L, sm, k to end.", "M1L", "M1R",
        "M1R and M1R both lean to the right, in a row that mirrors itself otherwise",
    ),
}  # fmt: skip
FLAPS: dict[str, Case] = {
    "one behind the other": (
        "Row A (WS): sl 1, p11.\nRow B (RS): (sl 1, k1) 6 times.", "6 times", "7 times",
        "this row is of 14 sts, the row before it of 12: is it the same flap?",
    ),
    "from a star": (
        "5. Right side: *sl 1, k1; repeat from * 8 times in all.\n6. Wrong side: sl 1, p15.", "p15", "p13",
        "this row is of 14 sts, the row before it of 16: is it the same flap?",
    ),
    "joined to a gusset": (
        "Row 3: (Sl 1, k1) 14 (16) times, sl 1, ssk, turn.\nRow 4: Sl 1, p28 (32), p2tog, turn.", "14 (16)", "15 (17)",
        "this row is of 31 (35) sts, the row before it of 33 (37): is it the same flap?",
    ),
}  # fmt: skip
LEFT: dict[str, Case] = {
    "of one size": (
        "The heel is worked over the first 28 (32, 36) sts only.\nRow 1 (RS): K19 (21, 24), turn.\nRow 2: DS, p9 (9, 11), turn.", "24", "26",
        "the first two rows of this turn leave as many sts on either side of 28 (32, 40); there are 28 (32, 36): is k19 (21, 24) meant?",
    ),
    "of a twin stitch": (
        "The heel is worked over the first 30 sts.\nSecond part: K20, twin stitch, turn; p10, twin stitch, turn.", "p10", "p11",
        "the first two rows of this turn leave as many sts on either side of 29; there are 30: is p10 meant?",
    ),
    "before the middle": (
        "The heel is worked over the first 28 (32, 36) sts only.\nThere are now 9 (11, 12) double stitches on the left and 8 (10, 11) on the right.\nTurn, make one more DS on the right (10 (10, 12) single stitches are left in the center), and knit on.", "10 (10, 12) single", "10 (12, 12) single",
        "the sides and the middle are 28 (34, 36) sts; there are 28 (32, 36)",
    ),
    "with collars": (
        "Only 24 sts are used now.\nRow 1: Knit 23, wrap and turn.\nRow 2: Purl 22, wrap and turn.\nCount: 8 collars on each side and 8 bare stitches in the middle.",
        "8 collars", "9 collars", "the sides and the middle are 26 sts; the turn is one of 24",
    ),
    "behind": (
        "Row 1: Slip 1, k14, ssk, turn. You've left 7 stitches behind.\nRow 2: Slip 1, p6, p2tog, turn.", "left 7", "left 8",
        "this row leaves 7 sts unworked, not 8",
    ),
}  # fmt: skip
STEPS: dict[str, Case] = {
    "by markers": (
        "84 (96, 108) sts.\nDec rnd: *Ssk, knit to 2 sts before marker, k2tog, slip marker; rep from * around—72 (84, 96) sts.", "96) sts.", "98) sts.",
        "from 84 (96, 108) to 72 (84, 98) sts: one size does not change as the others do",
    ),
}  # fmt: skip
ON_TEXT: dict[str, Case] = {
    "stripes of a repeat": (
        "4 rnds B, 4 rnds A, 4 rnds C, 4 rnds A. These 16 rnds are repeated throughout.", "16", "18", "the stripes of a repeat make 16 rounds, not 18",
    ),
    "steps by their numbers": (
        "7. Do steps 5 and 6 seven more times. Count the long slipped sts along the edge: there should be 8 on each side.", "seven", "five",
        "2 rows, 5 times, make as many long edge stitches, not 8",
    ),
    "stripes": (
        "Carry on in stripes for 60 (72) rounds (that's 10 (12) stripes).", "(12)", "(14)", "10 (14) stripes are not of as many rounds in 60 (72) rounds",
    ),
    "loops behind a box": (
        "Work rows 1 and 2 five times in all. [ ] 5 long loops on each edge", "five", "six", "2 rows, 6 times, make as many long edge stitches, not 5",
    ),
    "before a marker": (
        "Dec rnd: *Ssk, k to 2 sts before m, k2tog, sl m; rep from * 3 more times.", "k to 2 sts before m", "k to m",
        "k2tog in front of the marker: the 2 sts before it are worked by then",
    ),
    "around, each size": (
        "Gauge: 28 stitches = 4 inches\nSmall: 48 sts, 7 in around. Medium: 56 sts, 8 in around. Large: 64 sts, a bit over 9 in around.\nCast on 8 sts.",
        "8 in around", "9 in around", "9 in around is printed; 56 sts at this gauge are 8.0 in",
    ),
    "in short": (
        "Foot circ (finished): 7 (8, 9) in\nGauge: 32 sts = 4 in\nCast on 56 (64, 72) sts.\nKnit. 56 (64, 72) sts.", "(8, 9)", "(9, 9)",
        "9 in around is printed; 64 sts at this gauge are 8.0 in, and the other sizes agree",
    ),
    "behind what it fits": (
        "Aran wool\nTo fit head: 50 cm\nActual size: 47 cm\nGauge: 18 sts = 10 cm\nCast on 84 sts.\nKnit. 84 sts.", "47 cm", "56 cm",
        "56 cm around is printed; 84 sts at this gauge are 46.7 cm",
    ),
}  # fmt: skip
GROUPS: dict[str, Case] = {
    "behind a semicolon": (
        "Knit 6 (7, 8), knit 2 together; do this 4 times. 28 (32, 36) stitches.", "4 times", "5 times",
        "5 times 6 (7, 8) and the decrease leave 35 (40, 45) sts, not 28 (32, 36)",
    ),
}  # fmt: skip
LISTS: dict[str, Case] = {
    "ticked off": (
        "Carry on, one plain round and one decrease round, and tick them off: 58, 56, 54, 52, 50, 48.", "52", "51",
        "51 sts between 54 and 50, 2 at a time: is 52 meant?",
    ),
}  # fmt: skip
KINDS: tuple[tuple[Check, dict[str, Case]], ...] = (
    (shares, SHARES), (marked_sections, SECTIONS), (like_pairs, PAIRS), (times_told, TIMES), (worked_lines, LINES),
    (whole_rows, REPEATS), (told_shapings, GROUPS), (_places, PLACES), (gusset_totals, SOLES), (mirrors, LEANS),
    (turn_middles, LEFT), (flap_rows, FLAPS), (size_steps, STEPS), (stepped_counts, LISTS),
)  # fmt: skip
LISTED_SIZES = (
    "Cast on 52, 60, 68 sts. and divide them equally on four needles (13, 15, 17 sts. on each)."
)
RIGHT: tuple[tuple[Check, str], ...] = (
    (shares, "There are 62 sts, 20 on each needle and 2 in the gap."),
    (shares, "There are 12, 14 and 16 rows of each, 3 stripes in all."),
    (shares, "Cast on 60 sts.\nDecrease evenly.\nDivide them between 3 needles, 18 on each."),
    (shares, LISTED_SIZES), (needle_parts, LISTED_SIZES), (sums, LISTED_SIZES),
    (shares, "K1, *k6, k2tog; rep from * to end. 85 sts remain."),
    (shares, "*K6, k2tog; rep from * to end. 16 sts decreased; 112 sts remain."),
    (shares, "32 sts, 14 for the front and 16 for the back in all."),
    (flap_rows, "Row 1: (Sl 1, k1) 8 times.\nRow 2: Sl 1, p to end.\nHeel turn: Row 1: Sl 1, p13, p2tog, turn."),
    (flap_rows, "Row 1: (Sl 1, k1) 8 times.\nRow 2: Sl 1, p13, p2tog, turn."),
    (marked_sections, "Cast on 100 sts.\nInc 8 sts evenly.\nPlace a marker after every 12 sts: 9 sections."),
    (marked_sections, "Cast on 108 sts.\nPlace a marker after every 18 sts: 5 more markers."),
    # a marker on both sides of what is made there, and then at both of them
    (like_pairs, "Gusset\nRnd 1: K15, pm, M1L, pm, k15.\nRnd 4: K to first marker, sm, M1R, k to second marker, M1L, sm, k to end."),
    (like_pairs, "Gusset\nLeft hand: K15, sm, M1R, k to marker, M1L, sm, k to end.\nRight hand: K3, sm, M1L, k to marker, M1R, sm, k to end."),
    (turn_middles, "Row 1 (RS): K32, turn.\nRepeat Rows 3 and 4 nine more times. There are now 11 double stitches on the left and 10 on the right.\nNext row (RS): DS (that makes 11 on the right, with 10 plain stitches in the middle), then knit to the end."),
    (turn_middles, "Repeat Rows 3 and 4 until there are 9 double stitches on the left and 8 on the right.\nNext row (RS): DS, so that both sides are alike with 10 single stitches in the center, and knit to the end of the heel.\nWork one round over all 56 sts.\nRow 1 (RS): K19, turn.\nRow 2: DS, p9, turn."),
    (sums, "Set-up rnd: N1: Knit across 18 heel sts, pick up and knit 15 sts along the side of the heel flap and 1 st in the gap. N2 and N3: Work 30 instep sts in k4, p1 ribbing. N4: Pick up and knit 1 st in the gap and 15 sts along the other side of the flap, then knit the first 9 heel sts again. (80 sts)"),
    (line_sums, "Round 9: k12, m, M1R, k7, M1L, m, k12. (33 sts)\nNext round: knit to the first marker, thread the 9 thumb sts on waste yarn, take off both markers, cast on 1 st over the gap, k12. (25 sts)"),
    (turn_middles, "Rows 3 and 4 eight more times. There are now 10 double stitches on the left and 9 on the right.\nTurn, make the tenth DS on the right (10 single stitches are left in the center), and knit over the 30 sts."),
    (like_pairs, "Lace\nRnd 1: *Ssk, yo, k5, yo, k2tog; rep from *.\nRnd 3: *K2tog, yo, k5, yo, ssk; rep from *."),
    (like_pairs, "Gusset\nRnd 1: K15, pm, M1R, k2, M1L, pm, k15.\nRnd 2: K to 1 st before marker, M1L, sm, k4, sm, M1R, k to end."),
    (times_told, "64 sts.\nRound 1: K1, ssk, k to last 3, k2tog, k1. 62 sts.\nRound 2: (K6, k2tog) 8 times. 54 sts.\nKeep going until 10 sts are left."),
    (mirrors, "Rnd 1: K1, ssk, k to end.\nNext row: K21, k2tog, k20, k2tog, k21."),
    (gusset_totals, "64 sts.\nRepeat them 9 times: 52 sole sts, 86 sts total."),
    (times_told, "64 sts.\nRound 1: 4 sts decreased.\nWork until the foot is back to 8 in."),
    (line_sums, "There are 33 sts.\nRow 15: k12, slip 9 sts to the safety pin, cast on 1, k12. Count: 25 sts."),
    (line_sums, "N1: Knit across the heel sts, then pick up and knit 15 sts along the flap. N2 and N3: Work in pattern. N4: Pick up and knit 15 sts along the flap, then knit the first 8 heel sts again. 23 sts each on N1 and N4; 74 sts in all."),
    (line_sums, "Needle 1: k7, pick up and knit 12 sts along the edge of the flap and 1 more in the corner. 20 sts."),
    (chains, "4. Needle 4: pick up and knit 13 sts along the other edge, k7. 20 sts.\nYou should have 64 sts."),
    (stepped_counts, "Carry on with rounds 1, 3, 5, 8, 9, 11."), (stepped_counts, "Continue in this way: 58, 56, 54, 52, 50, 48."),
    (worked_lines, "Next round: K5, thread the next 36 sts, cast on 2, k the last 5. (12 sts)"),
    (worked_lines, "There are 60 sts.\nDecrease evenly.\nNext round: K5, thread the next 36 sts, cast on 2, k the last 5. (12 sts)"),
)  # fmt: skip


@together(("check", "case"), [(check, case) for check, kind in KINDS for case in kind.values()])
def test_a_slip_is_noticed_and_what_is_right_is_not(check: Check, case: Case) -> None:
    only_the_slip(check, case)


@together(("check", "text"), RIGHT)
def test_what_is_right_is_left_alone(check: Check, text: str) -> None:
    assert list(check(spoken(text))) == []


@together("case", list(ON_TEXT.values()))
def test_a_slip_of_a_text_is_noticed_and_what_is_right_is_not(case: Case) -> None:
    right, old, new, said = case
    assert right.count(old) == 1
    assert _of_text(right) == []
    assert _of_text(right.replace(old, new)) == [said]


@together(
    "text",
    [
        "Needles: US 7 (4.5 mm)\nGauge: 26 sts and 30 rnds = 4 in. over cable pattern\nCast on 130 sts.",
        "Gauge: 20 sts = 4 in, US 7 (4.5 mm) needles.\nCast on 60 sts.\nFor a thicker one, take 8 sts to the inch.",
        "Work 60 (72) rounds (that's 10 (9) stripes).",
        "K to marker, sl m, k2tog, k to marker, remove it, k2tog.",
    ],
)
def test_a_text_that_is_right_is_left_alone(text: str) -> None:
    assert _of_text(text) == []


LIST = """Abbr: k knit, p purl, {}RS right side.

R1 (RS): k35, w&t.
R2: k to 1 st before wrapped st, w&t.
{}"""


def test_a_turn_that_a_list_lacks_is_explained_elsewhere_or_asked_about() -> None:
    told = "To wrap a st, slip it and bring the yarn forward.\n"
    for text in (
        LIST.format("w&t wrap next st and turn, ", ""),
        LIST.format("SW = shadow wrap, ", ""),
        LIST.format("", told),
    ):
        assert list(abbreviation_list(text, spoken(text))) == []
    text = LIST.format("", "Knit the wraps with their sts.")
    (one,) = abbreviation_list(text, spoken(text))
    assert one.message == "w&t is worked in line 3 and explained nowhere"


def test_nothing_is_told_by_an_empty_text() -> None:
    for check, _ in KINDS:
        assert list(check(spoken(""))) == []
