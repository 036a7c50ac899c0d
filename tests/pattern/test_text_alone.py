# ruff: noqa: E501 - a text stands on one line, long as it may be
"""What a text shows by itself: lists, steps, buttons, edges, parts, sizes, hands, wraps, yarn.

Each has a right text, of which nothing is said, and one with a slip (wordings and counts: common
practice; the inch is 2.54 cm).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from loopwright.pattern import review
from loopwright.pattern._editing.abbreviation_list import abbreviation_list
from loopwright.pattern._editing.buttons import buttons
from loopwright.pattern._editing.definitions import definitions
from loopwright.pattern._editing.entries import sized_numbers
from loopwright.pattern._editing.findings import Finding
from loopwright.pattern._editing.girths import girths
from loopwright.pattern._editing.hands import hands
from loopwright.pattern._editing.heights import heights
from loopwright.pattern._editing.impossible import impossible
from loopwright.pattern._editing.known_numbers import known_numbers
from loopwright.pattern._editing.line_sums import line_sums
from loopwright.pattern._editing.nothing_before import nothing_before
from loopwright.pattern._editing.numbered_steps import numbered_steps
from loopwright.pattern._editing.paired_leans import paired_leans
from loopwright.pattern._editing.repeat_widths import repeat_widths
from loopwright.pattern._editing.row_numbers import row_numbers
from loopwright.pattern._editing.row_slips import unplaced
from loopwright.pattern._editing.size_steps import size_steps
from loopwright.pattern._editing.spoken import Sentences, spoken
from loopwright.pattern._editing.told_parts import told_parts
from loopwright.pattern._editing.turn_middles import turn_middles
from loopwright.pattern._editing.turn_sequences import turn_sequences
from loopwright.pattern._editing.two_parts import two_parts
from loopwright.pattern._editing.whole_rows import whole_rows
from loopwright.pattern._editing.wording import conversions
from loopwright.pattern._editing.wraps_taken_up import wraps_taken_up
from loopwright.pattern._editing.yarn_sums import yarn_sums

Check = Callable[[str, Sentences], Iterator[Finding]]


def _of_sentences(check: Callable[[Sentences], Iterator[Finding]]) -> Check:
    return lambda _, sentences: check(sentences)


def _of_text(check: Callable[[str], Iterator[Finding]]) -> Check:
    return lambda text, _: check(text)


STEPS = (
    "1. Cast on 32 stitches.\n2. Knit 10 rounds.\n"
    "3. Needle 1: knit to the last 3 stitches, k2tog, knit 1. Needle 2: knit. Needle 3: knit 1, ssk, knit to the end. Check: 30 stitches.\n"
    "4. Knit 1 round.\n5. Repeat steps 3 and 4 four more times. Check: 22 stitches.\n"
    "6. Needle 1: k2tog, knit to the end. Needle 3: knit to the last 2 stitches, ssk.\n7. Knit 1 round.\n"
    "8. Repeat steps 6 and 7 once more, then work step 6 twice. Check: 14 stitches.\n"
)
LIST = "Abbreviations: k = knit; p = purl; st = stitch; DS = double stitch; k2tog = knit two together; yo = yarn over\n\nRow 1: K2, yo, k2tog.\nRow 2: DS, p2.\nRow 3: DS, k1, yo.\n"
HEADED = "FINISHED CIRCUMFERENCE\n14 (16, 18) inches\n\nGAUGE\n20 sts = 4 inches\n\nCast on 70 (80, 90) sts."
EDGES = 'Circumference: 28" at lower edge, 17.5" at upper edge\nGauge: 16 sts = 4"\nCast on 112 sts.\nDec rnd: 84 sts.\nDec rnd: 70 sts.'
MITTS = "RIGHT MITT\nCast on 40 sts.\nThumb gusset\nSet-up rnd: Work 20, k1, pm, M1, pm, k19. 41 sts.\n\nLEFT MITT\nThumb gusset\nSet-up rnd: Work 20, k19, pm, M1, pm, k1. 41 sts.\n"
THUMBS = "Cast on 40 (44) sts.\nRight thumb: k2, with waste yarn k7 (8), k to end.\nLeft thumb: k11 (12), with waste yarn k7 (8), k to end.\n"
PARTS = "Cast on 44 sts.\nRight thumb: k6, p2, k6, p2, k7; with waste yarn, k7; k to end.\nLeft thumb: k6, p2, k6, p2, k20; with waste yarn, k7; k1.\n"
BUTTONS = "Notions: 3 buttons\nButtonhole row: K3, *yo, k2tog, k3; repeat from * once more, yo, k2tog, k2. 3 buttonholes made.\nSew on the 3 buttons.\n"
TOPS = "Round 1: *K1, ssk, k12, k2tog; repeat from * once more.\nRound 3: *K1, ssk, k10, k2tog; repeat from * once more.\n"
SIZES = "Join. 72 (82, 92) sts.\nRnd 1: Needle 1: knit to last 3 sts, k2tog, k1. Needle 4: k1, ssk, knit to end. 70 (80, 90) sts.\n"
WRAPS = "Row 1: K to first wrapped st, knit it with its wrap, turn.\nRow 2: P to first wrapped st, purl it with its wrap, turn.\n"
LEG = "Leg length: 15 (16, 17) cm\nCast on 40 (44, 48) sts.\nKnit every round until leg measures 12 (13, 14) cm from cast-on edge.\n"
RIB = "Cast on 40 (48, 56) sts.\nHEEL\nTurn and hold the rest; shape as you like.\nYou have 40 (48, 56) sts again.\n2. Work ribbing, *knit 2, purl 2; repeat from * to the end of the round, for 12 (14, 16) rounds.\n"

# The check, what is right, what is changed into what, and what is said of it then.
SLIPS: dict[str, tuple[Check, str, str, str, str]] = {
    "steps repeated too often": (_of_sentences(numbered_steps), STEPS, "3 and 4 four more", "3 and 4 five more", "repeated so often, these steps make 20 sts, not 22"),
    "steps, and one by itself": (_of_sentences(numbered_steps), STEPS, "step 6 twice", "step 6 once", "repeated so often, these steps make 16 sts, not 14"),
    "a step left out": (_of_sentences(numbered_steps), STEPS, "4. Knit 1 round.\n", "", "step 5 follows step 3: was a step left out?"),
    "a step left out behind a remark": (_of_sentences(numbered_steps), STEPS.replace("2.", "Any yarn will do.\n2."), "4. Knit 1 round.\n", "", "step 5 follows step 3: was a step left out?"),
    "another's meaning": (abbreviation_list, LIST, "p = purl", "p = knit", "p is explained as knit: is that meant?"),
    "not in the list": (abbreviation_list, LIST, "; yo = yarn over", "", "yo is worked in line 3, and the list of abbreviations does not explain it"),
    "a turn's stitch not in the list": (abbreviation_list, LIST, " DS = double stitch;", "", "ds is worked in line 4 and explained nowhere"),
    "an increase without its mirror": (abbreviation_list, "M1L (M1R) = make 1 st leaning left (right); k = knit\nRow 1: K1, M1L, k2.\nRow 2: K1, M1R, k2.", " (M1R)", "", "m1r is explained nowhere, as m1l is"),
    "another turn's stitch": (abbreviation_list, LIST, "Row 2: DS", "Row 2: MDS", "mds is worked in line 4 and explained nowhere"),
    "leans behind a semicolon": (_of_text(definitions), "ssk: slip 2, knit them together; leans to the left.", "the left", "the right", "ssk leans left, not right"),
    "below its heading": (_of_text(girths), HEADED, "16, 18", "16, 20", "20 in around is printed; 90 sts at this gauge are 18.0 in, and the other sizes agree"),
    "the upper edge": (_of_text(girths), EDGES, "17.5", "21", "21 in around the upper edge is printed; the first and last sts make 28.0 and 17.5 in"),
    "a gusset on the same side": (_of_sentences(hands), MITTS, "k19, pm, M1, pm, k1.", "k1, pm, M1, pm, k19.", "both thumbs stand at the same place: this makes two mittens for one hand"),
    "a thumb not mirrored": (_of_sentences(hands), THUMBS, "k11 (12)", "k12 (13)", "the left thumb stands behind 12 (13) sts, and does not mirror the right one, which stands behind 2: are 11 (12) meant?"),
    "a thumb behind several parts": (_of_sentences(hands), PARTS, "k20", "k22", "the left thumb stands behind 38 sts, and does not mirror the right one, which stands behind 23: are 36 meant?"),
    "one place behind several parts": (_of_sentences(hands), PARTS, "k20", "k7", "both thumbs stand at the same place: this makes two mittens for one hand"),
    "buttons": (buttons, BUTTONS, "the 3 buttons", "the 4 buttons", "4 here, 3 elsewhere: how many buttons and buttonholes are there?"),
    "buttonholes in a row": (buttons, BUTTONS, "once more", "twice more", "4 here, 3 elsewhere: how many buttons and buttonholes are there?"),
    "two of one lean": (_of_sentences(paired_leans), TOPS, "ssk, k12", "k2tog, k12", "k2tog and k2tog lean the same way, and do not in other rows: are they a pair?"),
    "one size grows otherwise": (_of_sentences(size_steps), SIZES, "80, 90", "80, 92", "from 72 (82, 92) to 70 (80, 92) sts: one size does not change as the others do"),
    "the heel and the other": (_of_sentences(two_parts), "Cast on 32 sts. 32 sts.\nYou have 16 heel stitches; the other 16 wait on needle 2.", "other 16", "other 14", "16 and 14 sts are 30; there were 32"),
    "the first and the last": (_of_sentences(two_parts), "Knit. 52 (58) sts.\nThe heel is worked over the last 26 (28) sts. The first 26 (30) sts are the instep.", "26 (30)", "26 (29)", "26 (28) and 26 (29) sts are 52 (57); there were 52 (58)"),
    "a wrap not taken up": (wraps_taken_up, WRAPS, "purl it with its wrap", "purl it", "the wrap is not taken up here, as it is in other rows"),
    "a leg": (heights, LEG, "15 (16, 17)", "15 (18, 17)", "18 cm is printed; what is worked makes about 16 cm, as in the other sizes"),
    "cast on at the end": (_of_sentences(line_sums), "Knit. 85 sts.\nKnit across all 85 sts, then CO 35 more sts at the end of the row. 120 sts.", "CO 35", "CO 30", "the parts of this line are 115 sts together, not 120"),
    "resting sts in a sum": (_of_sentences(line_sums), "Knit. 10 sts.\nKnit the 10 heel sts. Pick up and knit 9 sts along the flap, knit the 16 resting sts, pick up and knit 9 sts along the other side, then knit 5 heel sts. 44 sts.", "16 resting", "18 resting", "the parts of this line are 46 sts together, not 44"),
    "picked up along two sides": (_of_sentences(line_sums), "Pick up and knit 8 sts along the edge. Knit 16. Pick up and knit 8 sts along the other edge.", "knit 8 sts along the edge", "knit 9 sts along the edge", "9 sts picked up on one side and 8 on the other: should the two be alike?"),
    "stripes of a line": (_of_sentences(told_parts), "Work rows 3 and 4 eight times in stripes: 4 rows B, 4 rows A, 4 rows B, 4 rows A (16 rows in all).", "(16", "(12", "4, 4, 4 and 4 rounds are 16, not 12"),
    "a rib of a numbered step": (_of_sentences(whole_rows), RIB, "knit 2, purl 2", "knit 3, purl 3", "a repeat of 6 sts goes into none of the counts before: the last is 40 (48, 56)"),
    "a fraction of an inch": (_of_text(conversions), "Height: 21 cm (8¼ in)", "8¼", "9¼", "21 cm are 8.3 in, not 9.25"),
    "grams and metres by size": (_of_text(yarn_sums), "Yarn: 70 (80, 100) g, which is 295 (335, 420) m", "80, 100", "80, 120", "420 m to 120 g: the other sizes have about 419 m to 100 g"),
}  # fmt: skip


@pytest.mark.parametrize("kind", SLIPS)
def test_a_slip_is_noticed_and_what_is_right_is_not(kind: str) -> None:
    check, right, old, new, said = SLIPS[kind]
    assert right.count(old) == 1
    assert not list(check(right, spoken(right)))
    wrong = right.replace(old, new)
    assert [one.message for one in check(wrong, spoken(wrong))] == [said]


def test_sizes_with_a_sign_between_them_have_one_number() -> None:
    text = "Cast on 32: 40: 44 sts.\nKnit 20: 26: 32 rounds.\n*K12: 15: 18, k2tog; repeat from *.\n16: 18: 20 sts.\n"
    assert not list(sized_numbers(text, 3))
    found = list(sized_numbers(text.replace("K12: 15: 18", "K12: 15"), 3))
    assert [(one.line, one.message) for one in found] == [
        (3, "12: 15 has another number of sizes than the lists elsewhere")
    ]
    swapped = list(sized_numbers(text.replace("32: 40: 44 sts", "32: 44: 40 sts"), 3))
    assert [one.line for one in swapped] == [1]


SWATCH = "Section 1\nRow 1: Sl 1, k8, ssk, k1, turn.\nRow 2: Sl 1, p5, p2tog, p1, turn.\nRow 3: Sl 1, k6, ssk, k1, turn.\nRow 4: Sl 1, p7, p2tog, p1, turn.\nSection 2\nKnit 2 rounds. Foot 21-22 cm. Repeat rows 3 and 4. Work section 2 once more. M1L.\n"
IMPOSSIBLE = {
    ("Row 3: Sl 1, k6", "Row 3: Sl 8, k6"): "8 sts are slipped at the beginning of this row, and 1 in the others",
    ("k6, ssk", "k0, ssk"): "k0: nothing is worked so",
    ("p7, p2tog", "p7, p1tog"): "p1tog: nothing is worked so",
    ("p7, p2tog", "p2, p7tog"): "p7tog: is that meant?",
    ("M1L", "M0L"): "M0L: is that meant?",
    ("2 rounds", "1 rounds"): "1 rounds: one, or more?",
    ("21-22 cm", "22-21 cm"): "22-21 runs back: are the two swapped?",
    ("rows 3 and 4", "rows 4 and 3"): "4 comes behind 3: are the two swapped?",
    ("Section 2\n", "Section 1\n"): "section 1 stands here as number 2: is it misnumbered?",
    ("section 2 once", "section 3 once"): "there is no section 3 here",
}  # fmt: skip


@pytest.mark.parametrize("slip", IMPOSSIBLE)
def test_what_is_impossible_is_noticed(slip: tuple[str, str]) -> None:
    assert not _impossible(SWATCH)
    assert SWATCH.count(slip[0]) == 1
    assert IMPOSSIBLE[slip] in _impossible(SWATCH.replace(*slip))


def _impossible(text: str) -> list[str]:
    sentences = spoken(text)
    found = [*impossible(text, sentences), *nothing_before(text, sentences)]
    return [one.message for one in found]


def test_a_text_without_a_cast_on_is_asked_about() -> None:
    text = "Mitts\nYarn: wool\nNeedles: set of 4 mm dpns\n\nCuff\nCast on 40 sts.\nRound 1: Knit.\nRound 2: Purl.\n\nHand\nKnit 10 rounds.\nRound 1: Knit.\nRound 2: Purl.\nKnit 4 rounds.\nPurl 1 round.\nBind off.\n"
    assert not _impossible(text)
    assert _impossible(text.replace("Cast on 40 sts.", "Begin.")) == [
        "nothing was cast on before this"
    ]


PARTS = "Cast on 56 (60) sts and divide evenly over 2 needles.\nKnit the 14 (15) sts of Needle 1 and turn. Work the heel on these sts and the 14 (15) sts of Needle 4: 28 (30) heel sts.\n"


def test_needles_hold_what_they_are_said_to_hold() -> None:
    assert not list(two_parts(spoken(PARTS)))
    for old, new, said in (
        ("28 (30)", "28 (31)", "14 (15) and 14 (15) sts are 28 (30), not 28 (31)"),
        ("56 (60)", "55 (60)", "55 (60) sts can't be divided into two halves"),
    ):
        wrong = list(two_parts(spoken(PARTS.replace(old, new))))
        assert [one.message for one in wrong] == [said]


WIDTHS = "Stitch pattern (multiple of 6 sts plus 4)\nRow 1 (RS): K2, *k4, yo, k2tog; rep from * to last 2 sts, k2.\n"
TURNS = "".join(
    f"Row {n}: {'KP'[(n + 1) % 2]}{20 - n}, w&t.\n" for n in range(1, 9)
)  # K19, P18, K17 …


SHORTENED = "Row 1 (RS): K25, w&t.\nRow 2 (WS): P24, w&t.\nRow 3: K23, w&t.\nRow 4: P22, w&t.\nContinue, working 1 st less before each wrap, through the row that ends P8, w&t.\n"


def test_a_last_short_row_that_is_never_reached_is_found() -> None:
    assert not list(turn_sequences(spoken(SHORTENED)))
    wrong = list(turn_sequences(spoken(SHORTENED.replace("P8", "P9"))))
    assert [(one.line, one.message) for one in wrong] == [
        (5, "these rows work 24, then 22 sts, and so never 9")
    ]


def test_how_often_rows_are_worked_is_no_part_of_the_name_of_their_section() -> None:
    text = "POINT\nRow 1: K2, yo, k to end.\nRow 2: Knit.\n\nEDGE\nWork Rows 1 and 2 of Point 3 times.\n"
    assert not list(row_numbers(spoken(text)))
    wrong = list(row_numbers(spoken(text.replace("1 and 2", "5 and 6"))))
    assert "there is no row 6 in Point; the last there is 2" in [one.message for one in wrong]


def test_sides_told_behind_rows_called_by_ordinals_are_compared_with_how_often() -> None:
    text = "Cast on 28 sts.\n1st row: K27, w&t.\n2nd row: P26, w&t.\nRep the 3rd and 4th rows 7 times more. There are 9 wrapped sts at each side and 10 sts in the centre.\n"
    assert not list(turn_middles(spoken(text)))
    (wrong,) = turn_middles(spoken(text.replace("7 times", "8 times")))
    assert wrong.message == "9 sts at a side; 8 times more than once make 10"


def test_repeats_and_turns_follow_from_each_other() -> None:
    assert not list(repeat_widths(WIDTHS, spoken(WIDTHS)))
    wrong = WIDTHS.replace("plus 4", "plus 2")
    assert [one.message for one in repeat_widths(wrong, spoken(wrong))] == [
        "a multiple of 6 sts plus 2 is spoken of; row 1 repeats 6 sts and has 4 besides"
    ]
    third = wrong.replace("Row 1", "Row 3")
    assert "; row 3 repeats 6 sts" in next(repeat_widths(third, spoken(third))).message
    before = (
        "Row 1: *K17; rep from * to end.\nA multiple of 18 sts.\nKnit."  # another pattern's row
    )
    assert not list(repeat_widths(before, spoken(before)))
    assert not list(turn_sequences(spoken(TURNS)))
    for old, new, said in (
        ("K17", "K16", "16 sts are worked in this row; the rows around it make it 17"),
        ("P12", "P13", "13 sts are worked in this row; the rows around it make it 12"),
    ):
        turns = list(turn_sequences(spoken(TURNS.replace(old, new))))
        assert [one.message for one in turns] == [said]


SCARF = "Scarf\n\nFinished size: 20 cm wide, 40 cm long\nYarn: 100 g DK wool\nNeedles: 4 mm\nGauge: 20 sts and 30 rows = 10 cm\n\nCast on 40 sts.\nKnit 118 rows.\nBind off all 40 sts. Weave in ends.\n"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("20 cm wide", "25 cm wide", "25 cm around is printed; 40 sts at this gauge are 20.0 cm"),
        ("40 cm long", "55 cm long", "55 cm is printed; 118 rows at this gauge are 39.3 cm"),
        ("20 cm wide, 40 cm long", "35 x 40 cm", ""),
        ("20 cm wide, 40 cm long", "28 x 60 cm", "28 by 60 cm is printed; 40 sts at this gauge are 20.0 cm"),
        ("= 10 cm", "= 10 mm", "10 mm: are centimetres meant?"),
    ],
)  # fmt: skip
def test_what_is_printed_is_what_is_made(old: str, new: str, said: str) -> None:
    assert review(SCARF).ok
    found = [one.message for one in review(SCARF.replace(old, new)).without_notes().findings]
    assert said in (found or [""])


ROUNDS = "Round 1: Knit.\nRound 2: *K1, p1; rep from * to end.\nRound 3: Knit.\nRound 4: Purl.\nMITTEN\nCast on 40 sts.\nWork rounds 1-4 of the pattern.\n"


def test_rounds_that_stand_nowhere_are_asked_about() -> None:
    assert not list(row_numbers(spoken(ROUNDS)))
    wrong = list(row_numbers(spoken(ROUNDS.replace("Round 4: Purl.\n", ""))))
    assert [one.message for one in wrong] == ["there is no row 4 in this text: the last is 3"]


def test_a_repeat_within_the_first_row_is_compared_with_it() -> None:
    text = "Row 1: K1, p1; rep this row 4 times."
    assert not list(row_numbers(spoken(text)))
    (wrong,) = row_numbers(spoken(text.replace("this row", "these 2 rows")))
    assert wrong.message == "2 rows to repeat, and 1 row numbered here: was one left out?"


def test_a_head_in_words_of_its_own_hides_no_number() -> None:
    text = "Sock\nAges 2-3 (4-5) years\n\nCast on 20 (24) sts.\nRow 1: K19 (23), turn.\nRow 2: Purl.\nRow 3: Knit.\nBind off all 20 (24) sts.\n"
    said = "expected number 1, found 2: was a row left out, or misnumbered?"
    found = review(text.replace("Row 1", "Row 2")).findings
    assert said not in {one.message for one in review(text).findings}
    assert said in {one.message for one in found}


BLANKET = "Finished size: 70 x 70 cm\n\nCast on 140 sts.\nRepeat rows 1-4 until the blanket measures 67 cm.\n"
GUSSET = "Cast on 36 stitches.\nRound 1: Knit 18, place a marker, m1l, m1r, place a marker, knit to the end.\nRound 2: Knit to the marker, slip it, knit to the next marker, slip it, knit to the end.\n"


def test_a_piece_is_not_worked_beyond_its_sides() -> None:
    assert not list(heights(BLANKET, spoken(BLANKET)))
    wrong = BLANKET.replace("67", "77")
    assert [one.message for one in heights(wrong, spoken(wrong))] == [
        "worked to 77 cm; 70 by 70 cm is printed"
    ]


def test_as_many_markers_are_placed_as_are_slipped() -> None:
    assert not list(unplaced(GUSSET, spoken(GUSSET)))
    wrong = GUSSET.replace("m1r, place a marker,", "m1r,")
    assert [one.message for one in unplaced(wrong, spoken(wrong))] == [
        "2 markers slipped in this row, and 1 placed in all: pm?"
    ]


def test_all_stitches_are_those_that_were_there() -> None:
    text = "Cast on 60 (64, 72) sts. 60 (64, 72) sts.\nKnit. 60 (64, 72) sts.\nWork on all 60 (64, 72) sts for 10 rnds.\n"
    assert not list(known_numbers(spoken(text)))
    wrong = list(known_numbers(spoken(text.replace("all 60 (64", "all 60 (62"))))
    assert [one.line for one in wrong] == [3]


def test_what_is_left_beside_a_part_is_what_was_there() -> None:
    text = "The first 28 (32, 36) sts are the instep. 56 (64, 72) sts.\nRepeat rounds 3 and 4 until there are 80 (92, 104) sts, of which 52 (60, 68) are sole sts.\n"
    assert not list(two_parts(spoken(text)))
    wrong = list(two_parts(spoken(text.replace("80 (92", "80 (90"))))
    assert [one.message for one in wrong] == [
        "52 (60, 68) of 80 (90, 104) sts leave 28 (30, 36); there were 28 (32, 36)"
    ]
