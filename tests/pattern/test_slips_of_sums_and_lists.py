# ruff: noqa: E501 - a text stands on one line, long as it may be
"""Slips that editors find in sums, lists and lengths: each in the smallest text, and right texts beside it.

Counts were made by hand.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from loopwright.pattern import review
from loopwright.pattern._editing.abbreviation_list import abbreviation_list
from loopwright.pattern._editing.between_markers import between_markers
from loopwright.pattern._editing.between_wraps import between_wraps
from loopwright.pattern._editing.chains import chains
from loopwright.pattern._editing.divided import divided
from loopwright.pattern._editing.entries import sized_numbers
from loopwright.pattern._editing.findings import Finding
from loopwright.pattern._editing.girths import girths
from loopwright.pattern._editing.growing_lengths import growing_lengths
from loopwright.pattern._editing.hands import hands
from loopwright.pattern._editing.lean_words import worded_leans
from loopwright.pattern._editing.mirrors import mirrors
from loopwright.pattern._editing.needle_parts import needle_parts
from loopwright.pattern._editing.shares import shares
from loopwright.pattern._editing.size_words import size_words
from loopwright.pattern._editing.spoken import Sentences, spoken
from loopwright.pattern._editing.stepped_counts import stepped_counts
from loopwright.pattern._editing.times_told import times_told
from loopwright.pattern._editing.turn_middles import turn_middles
from loopwright.pattern._editing.waste_yarn_counts import waste_yarn_counts
from pattern.slipped import Case, Check, only_the_slip
from together import together

HEEL = "Row 1: K28, turn.\nRow 2: DS, p to end, turn.\nRow 3: DS, k to DS, turn.\nRow 4: DS, p to DS, turn.\n"
WEDGE = "Set-up rnd: K18, pm, M1, pm, k to end. (37 sts)\nInc rnd: K to marker, sm, M1R, k to marker, M1L, sm, k to end. (39 sts)\nKnit 2 rounds.\n"


def _of_sizes(sentences: Sentences) -> list[Finding]:
    return list(size_words(sentences, ()))


SLIPS: list[tuple[Check, Case]] = [
    (
        shares,
        (
            "CO 56 (64, 72) sts. Arrange sts evenly on Needles 1-4, 14 (16, 18) sts on each.", "14 (16, 18)", "13 (15, 17)",
            "13 (15, 17) sts on each of 4 needles are 52 (60, 68), not 56 (64, 72)",
        ),
    ),
    (
        shares,
        (
            "CO 60 sts.\nDivide them over needles 1, 2 and 3, 20 on each.", "20 on", "18 on",
            "18 sts on each of 3 needles are 54, not 60",
        ),
    ),
    (
        shares,
        (
            "CO 60 (68, 76) sts. Share them over four dpns, 15 (17, 19) per needle.", "19)", "18)",
            "15 (17, 18) sts on each of 4 needles are 60 (68, 72), not 60 (68, 76)",
        ),
    ),
    (
        needle_parts,
        ("There are now 82 sts. (25, 32, 25).", "32", "34", "the parts are 84 sts together, not 82"),
    ),
    (
        needle_parts,
        ("Cast on 82 sts (28, 27, 27) and join.", "27, 27", "27, 29", "the parts are 84 sts together, not 82"),
    ),
    (
        worded_leans,
        (
            "Gusset\nDecrease round: knit to 2 sts before the top-of-foot sts, k2tog, knit across the top of the foot, ssk, knit to the end.",
            "k2tog, knit across the top of the foot, ssk", "ssk, knit across the top of the foot, k2tog",
            "both decreases lean away from the instep: is ssk that behind it?",
        ),
    ),
    (
        worded_leans,
        (
            "Gusset\nNext round: work across the instep in pattern, ssk, knit to last 2 sts, k2tog.",
            "ssk, knit to last 2 sts, k2tog", "k2tog, knit to last 2 sts, ssk",
            "both decreases lean away from the instep: is k2tog that before it?",
        ),
    ),
    (
        mirrors,
        (
            "Shape armholes\n\nNext row: K2, k2tog tbl, k to last 4 sts, k2tog, k2.",
            "k2tog tbl, k to last 4 sts, k2tog,", "k2tog, k to last 4 sts, k2tog tbl,",
            "k2tog … k2tog tbl lean away from the edges: k2tog tbl … k2tog?",
        ),
    ),
    (
        between_markers,
        (
            WEDGE + "Repeat these 3 rounds another 5 times, until there are 13 sts between the markers.", "another 5", "another 6",
            "so often, there are 15 sts between the markers, not 13",
        ),
    ),
    (
        between_wraps,
        (
            HEEL + "Repeat Rows 3 and 4 another 7 times. There are 11 single sts between the double stitches.", "11 single", "9 single",
            "7 times more than once leave 11 plain sts of 28, not 9",
        ),
    ),
    (
        between_wraps,
        (
            HEEL + "Rep Rows 3-4 seven more times.\nNext row: DS (10 plain sts are in the middle), k to end.", "10 plain", "8 plain",
            "7 times more than once leave 11 plain sts of 28, not 8",
        ),
    ),
    (
        turn_middles,
        (
            "Cast on 22 sts.\nRow 1: (RS) K13, ssk, k1, turn.\nRow 2: (WS) Sl 1, p5, p2tog, p1, turn.", "p5", "p6",
            "the first two rows of this turn leave as many sts on either side of 21; there are 22: is p5 meant?",
        ),
    ),
    (
        times_told,
        (
            "CO 60 sts.\nRnd 1: *K1, ssk, k to 3 sts before marker, k2tog, k1, sm; rep from * once.\nRnd 2: Knit.\nRepeat Rnds 1 and 2 until 28 sts remain (8 dec rounds in all).",
            "(8 dec", "(9 dec", "from 60 to 28 sts, 4 at a time, are 8 times, not 9",
        ),
    ),
    (
        times_told,
        (
            "With a third needle pick up 12 sts. You have 20 sts, 24 sts and 20 sts, that is 64 in all.\nRound 1: k1, ssk, k to last 3 sts, k2tog, k1.\nRound 2: knit.\nWork these two rounds 8 times in all, and you are back at 48 sts.",
            "8 times", "7 times", "from 64 to 48 sts, 2 at a time, are 8 times, not 7",
        ),
    ),
    (
        times_told,
        (
            "Put 12 stitches on each of two needles. That's 24.\nIncrease round: k1, M1R, knit to the last stitch, M1L, k1, and the same again. You just made 4 new stitches.\nNext round: knit.\nDo those two rounds 10 times altogether. You have 64 in the whole sock.",
            "10 times", "9 times", "from 24 to 64 sts, 4 at a time, are 10 times, not 9",
        ),
    ),
    (
        times_told,
        (
            "Cast on 5 sts.\nRow 1: K2, yo, k to end. (6 sts)\nEvery row is the same.\nKeep going until you have 121 sts (116 rows worked).",
            "116", "121", "from 5 to 121 sts, 1 in every row, are 116 rows, not 121",
        ),
    ),
    (
        times_told,
        (
            "Cast on 5 sts.\nRow 1: Kfb, k to last st, kfb.\nRow 2: Knit.\nIncrease so on every other row until there are 65 sts (60 rows in all).",
            "(60", "(55", "from 5 to 65 sts, 2 in 2 rows, are 60 rows, not 55",
        ),
    ),
    (
        waste_yarn_counts,
        (
            "Thumb: K2, then k6 (7) with waste yarn; slip these 6 (7) sts back to the left needle and knit them again; knit to end.",
            "these 6 (7)", "these 8 (9)", "6 (7) sts were knitted with waste yarn, and 8 (9) are put back",
        ),
    ),
    (
        waste_yarn_counts,
        (
            "Left hand: knit to the last 8 sts, with the waste yarn k6, put these back and knit them again, k2.", "last 8", "last 9",
            "the last 9 sts: 6 and 2 are 8",
        ),
    ),
    (
        _of_sizes,
        (
            "Cast on 64 (72) stitches.\nLarge hat only: *knit 7, k2tog; repeat from the * to the marker.", "knit 7", "knit 8",
            "64 (72) sts are no multiple of 10 in any size",
        ),
    ),
    (
        stepped_counts,
        (
            "Cast on 8 sts.\nRound 1: Kfb in every st. 16 sts.\nRound 3: (K1, kfb) 8 times. 24 sts.\nRound 5: (K2, kfb) 8 times. 32 sts.\nGo on so until you have worked Round 19 / 21 and have 88 (96) sts.",
            "Round 19 / 21", "Round 17 / 19", "80 (88) sts there, as the rows before go on, not 88 (96)",
        ),
    ),
    (
        hands,
        (
            "Cast on 28 [32: 36] sts.\n\nRight mitten\n\nThumb: K1, knit the next 5 [6: 6] sts with waste yarn, knit to end.\n\nLeft mitten\n\nWork as for the right mitten but make the thumb like this: K8 [9: 11], knit the next 5 [6: 6] sts with waste yarn, knit to end.",
            "K8 [9: 11]", "K8 [10: 11]",
            "the left thumb stands behind 8 (10, 11) sts, and does not mirror the right one, which stands behind 1: are 8 (9, 11) meant?",
        ),
    ),
    (
        growing_lengths,
        (
            "Cast on 90 sts.\nRep the rib round until brim is 5 cm deep.\nKnit until hat measures 16 (17) cm from cast-on edge.", "5 cm", "50 cm",
            "the brim alone is 50 cm here, and the piece 16 (17) cm from the cast-on edge later",
        ),
    ),
]  # fmt: skip
RIGHT: list[tuple[Check, str]] = [
    (shares, "CO 64 sts. Put 20 sts on each of needles 1-3 and the last 4 on the fourth."),
    (divided, "CO 64 sts.\nPut 20 sts on each of needles 1-3 and the last 4 on the fourth."),
    (shares, "CO 56 sts.\nNeedles 1 and 3, 14 sts on each, are the sole."),
    (needle_parts, "Work on 22 sts (2, 7, 12)."),
    (needle_parts, "Cast on 22 sts (24, 26, 28) and join."),
    (chains, "Cast on 36 sts.\nSet-up rnd: K18, pm, M1, pm, k to end. 37 sts.\nInc rnd: 2 sts increased.\nNext 2 rnds: Knit.\nRepeat the last 3 rnds 5 more times: 49 sts."),
    (between_wraps, HEEL + "Repeat Rows 3 and 4 until 10 plain sts are left in the middle."),
    (between_wraps, HEEL + "Repeat Rows 3 and 4 another 7 times, then Row 3 once more: 10 plain sts between."),
    (times_told, "Cast on 5 sts.\nRow 1: Kfb, k to end.\nRepeat Row 1 until there are 60 sts (54 rows more)."),
    (times_told, "You have 22 stitches in front and 38 in back, 60 in all.\nRound 1: k1, ssk, k to last 3 sts, k2tog, k1.\nDo these two rounds 8 times altogether and you are down to 44 stitches again."),
    (waste_yarn_counts, "Thumb round: K2, with odd yarn k8, slip these 8 sts back on to left needle and knit them again."),
    (waste_yarn_counts, "K to last 9 sts, k6 with waste yarn, slip back and knit again, k2, pm, k1."),
    (stepped_counts, "Rnd 1: 16 sts.\nRnd 3: 24 sts.\nRnd 5: 32 sts.\nRnd 6: 40 sts.\nGo on until Rnd 8 is done: 56 sts."),
    (_of_sizes, "Cast on 80 (90) sts.\nSize L only: *K10, k2tog; rep from * to last 6 sts, k6."),
    (mirrors, "Sleeve\n\nNext round: K1, k2tog, k to last 3 sts, ssk, k1."),
]  # fmt: skip


@together(("check", "case"), SLIPS)
def test_a_slip_is_noticed_and_what_is_right_is_not(check: Check, case: Case) -> None:
    only_the_slip(check, case)


@together(("check", "text"), RIGHT)
def test_what_is_right_is_left_alone(check: Check, text: str) -> None:
    assert list(check(spoken(text))) == []


def _listed(text: str) -> list[str]:
    return [one.message for one in abbreviation_list(text, spoken(text))]


HEADS: list[tuple[Callable[[str], list[str]], Case]] = [
    (
        _listed,
        (
            "Abbrev.: CO cast on; k knit; p purl; k2tog knit 2 together; rep repeat; rnd round; RS/WS right/wrong side; rem remain; st(s) stitch(es)\n\nRnd 1: *K4, k2tog; rep from * to end.\n",
            "k2tog knit 2 together; ", "", "k2tog is worked in line 3, and the list of abbreviations does not explain it",
        ),
    ),
    (
        lambda text: [one.message for one in sized_numbers(text, 3)],
        (
            "Cast on 40 (44, 48) sts.\nRnds 1-10 (12, 14): *K1, p1; rep from * to end.\nK2 (3, 4), k to end.\nKnit 5 (6, 7) rnds.", "(12, 14)", "(12)",
            "10 (12) has 2 entries for 3 sizes",
        ),
    ),
    (
        lambda text: [one.message for one in girths(text)],
        (
            "Round calf, 9 ins. Round ankle, 7.5 ins.\nTension: 8 sts to 1 inch.\nCast on 72 sts.\nKnit.\nDecrease until 60 sts remain.\nKnit the 60 sts.", "7.5", "6",
            "6 in around is printed; 60 sts at this gauge are 7.5 in",
        ),
    ),
    (
        lambda text: [one.message for one in girths(text)],
        (
            "Chest, buttoned: 48 (52, 57) cm\nTension: 22 sts = 10 cm\nCast on 104 (112, 124) sts.", "57", "64",
            "64 cm around is printed; 124 sts at this gauge are 56.4 cm, and the other sizes agree",
        ),
    ),
    (
        lambda text: [one.message for one in girths(text)],
        (
            "Size: 23 in along the bind-off\nGauge: 18 sts = 4 in\nCast on 5 sts.\nRow 1: Kfb, k to end.\nRepeat until there are 104 sts.", "18 sts", "24 sts",
            "23 in along the bind-off is printed; 104 sts at this gauge are 17.3 in",
        ),
    ),
    (
        lambda text: [one.message for one in girths(text)],
        (
            "Hat: 14 in around\nGauge: 5 sts to the inch.\nCO 70 sts.\n*K8, k2tog; rep from * - 63 sts.\n*K7, k2tog; rep from * - 56 sts.", "5 sts to", "4.5 sts to",
            "14 in around is printed; 70 sts at this gauge are 15.6 in",
        ),
    ),
]  # fmt: skip


@together(("check", "case"), HEADS)
def test_a_slip_of_a_head_is_noticed_and_what_is_right_is_not(
    check: Callable[[str], list[str]], case: Case
) -> None:
    right, old, new, said = case
    assert right.count(old) == 1
    assert check(right) == []
    assert check(right.replace(old, new)) == [said]


def _said(text: str) -> list[str]:
    return [str(one) for one in review(text).findings if one.severity != "note"]


SOCK = "Materials: 2 x 50 g balls of 4-ply sock yarn.\nTension: 30 sts and 42 rounds to 10 cm.\n\nCast on 60 sts. Join in the round.\nKnit 150 rounds.\nCast off.\n"


def test_a_ball_far_too_light_is_asked_about() -> None:
    assert _said(SOCK) == []
    (said,) = _said(SOCK.replace("2 x 50 g", "1 x 10 g"))
    assert said.startswith("1:12: warning: 10 g of such a yarn are 53 m at most; ")


@pytest.mark.parametrize("often", [5, 6])
def test_a_gusset_that_is_repeated_more_times_is_worked_so_often(often: int) -> None:
    text = "Cast on 36 sts. Join in the round.\n" + WEDGE
    text += f"Repeat the last 3 rounds {often} more times: 13 sts between markers; 49 sts total.\nBind off.\n"
    assert (_said(text) == []) is (often == 5)


def test_a_count_that_a_row_is_said_to_leave_alone_is_still_counted() -> None:
    text = "Cast on 5 sts.\nRow 1: Kfb, k to last 3 sts, k2tog, k1. (number of sts unchanged)\nRow 2: K to last st, kfb.\n"
    text += "Work these 2 rows {} times in all, until you have 105 sts.\nBind off.\n"
    assert _said(text.format(100)) == []
    assert any("105 sts" in one for one in _said(text.format(90)))


NEEDLES = "Cast on 48 sts. Divide sts over 4 needles: 12, 12, 12, 12. Join in the round.\nRound 1: Needle 1: knit 1, ssk, knit to end. Needle 2: knit to the last 3 stitches, knit 2 together, knit 1. Needle 3: the same as needle 1. Needle 4: the same as needle 2. (44 stitches)\nBind off.\n"


def test_what_a_round_by_needles_states_is_not_passed_over() -> None:
    assert _said(NEEDLES) == []
    assert _said(NEEDLES.replace("44", "46")) == [
        "2:175: error: states 46 sts; working it leaves 44"
    ]
