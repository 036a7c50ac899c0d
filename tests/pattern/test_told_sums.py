# ruff: noqa: E501 - a text stands on one line, long as it may be
"""What a text tells in words and figures, added up: a right text of each kind, and one with a slip.

The sums were made by hand; that a turn leaves as many stitches on either side is common practice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

import pytest

from loopwright.pattern import review
from loopwright.pattern._editing.definitions import definitions
from loopwright.pattern._editing.entries import sized_numbers
from loopwright.pattern._editing.findings import Finding
from loopwright.pattern._editing.girths import girths
from loopwright.pattern._editing.hands import hands
from loopwright.pattern._editing.lean_words import worded_leans
from loopwright.pattern._editing.listed_rows import listed_rows
from loopwright.pattern._editing.mirrors import mirrors
from loopwright.pattern._editing.panel_rows import colour_rows
from loopwright.pattern._editing.reached import reached
from loopwright.pattern._editing.repeated_rows import repeated_rows
from loopwright.pattern._editing.row_slips import unplaced
from loopwright.pattern._editing.size_brackets import size_brackets
from loopwright.pattern._editing.size_sums import size_sums
from loopwright.pattern._editing.spoken import spoken
from loopwright.pattern._editing.sums import sums
from loopwright.pattern._editing.told_sums import told_sums
from loopwright.pattern._editing.turn_middles import turn_middles
from loopwright.pattern._editing.unexplained import unexplained
from loopwright.pattern._editing.yarn_sums import yarn_sums
from together import together

HEEL = "Work over the 30 (34) sts of the heel.\n"
WRAPS = "Row 1 (RS): K29 (33), w&t.\nRow 2 (WS): P28 (32), w&t.\nRow 3: K to 1 st before the wrapped st, w&t.\nRow 4: P to 1 st before the wrapped st, w&t.\n"

TURNS = {
    "a heel turn": (
        HEEL + "Row 1 (RS): Sl 1, k16 (18), ssk, k1, turn.\nRow 2 (WS): Sl 1, p5, p2tog, p1, turn.",
        "k16 (18)", "k16 (19)",
        "the first two rows of this turn leave as many sts on either side of 30 (36); there are 30 (34): is k16 (18) meant?",
    ),
    "its second row": (
        HEEL + "Row 1 (RS): Sl 1, k16 (18), ssk, k1, turn.\nRow 2 (WS): Sl 1, p5, p2tog, p1, turn.",
        "p5", "p6",
        "the first two rows of this turn leave as many sts on either side of 29 (33); there are 30 (34): is p5 meant?",
    ),
    "a Dutch heel": (
        "Heel over 28 sts.\nRow 1: K18, ssk, turn.\nRow 2: Sl 1, p8, p2tog, turn.",
        "K18", "K19",
        "the first two rows of this turn leave as many sts on either side of 30; there are 28: is k18 meant?",
    ),
    "double stitches": (
        "The heel is worked over 32 sts.\nRow 1: K31, turn.\nRow 2: Make a DS, p29, turn.",
        "p29", "p30",
        "the first two rows of this turn leave as many sts on either side of 31; there are 32: is p29 meant?",
    ),
    "a flap for the instep": (
        "Knit. 46: 50: 54 sts.\nNext row: K34: 37: 40, turn.\nNext row: P22: 24: 26, turn.",
        "K34: 37: 40", "K33: 36: 39",
        "the first two rows of this turn leave as many sts on either side of 44 (48, 52); there are 46 (50, 54): is k34 (37, 40) meant?",
    ),
    "wraps on each side": (
        HEEL + WRAPS + "Rep rows 3 and 4 until there are 10 (11) wrapped sts on each side and 10 (12) plain sts in the middle.",
        "10 (12) plain", "10 (10) plain",
        "the sides and the middle are 30 (32) sts; the turn is one of 30 (34)",
    ),
    "double stitches to the left and right": (
        "Rep rows 3 and 4 eight more times. There are 10 double stitches on the left and 9 on the right.",
        "eight", "seven", "10 sts at a side; 7 times more than once make 9",
    ),
    "stitches without wraps": (
        HEEL + WRAPS + "Rep rows 3 and 4 eight more times. 10 wrapped sts at each side and 10 (14) sts without wraps.",
        "10 wrapped", "9 wrapped", "9 sts at a side; 8 times more than once make 10",
    ),
    "wraps at each end": (
        HEEL + WRAPS + "Rep rows 3 and 4 eight more times. You have 10 sts with wraps at each end, and 10 (14) without wraps.",
        "eight", "nine", "10 sts at a side; 9 times more than once make 11",
    ),
    "wraps left and right": (
        HEEL + WRAPS + "Rep rows 3 and 4 eight more times. That makes 10 wrapped stitches left, 10 wrapped stitches right, 10 (14) without wraps.",
        "eight", "nine", "10 sts at a side; 9 times more than once make 11",
    ),
    "sizes that differ alike": (
        "You have 10 (11, 12) double stitches on the left of the heel and 9 (10, 11) on the right.",
        "10 (11, 12)", "10 (12, 12)",
        "10 (12, 12) sts on the left and 9 (10, 11) on the right: the sizes do not differ alike",
    ),
}  # fmt: skip
YARN = {
    "parts of a total": (
        "Yarn: about 360 yards in all: 150 yards grey, 140 yards blue and 70 yards white",
        "360", "420", "150, 140 and 70 yd are 360 yd, not 420",
    ),
    "grams of a total": (
        "Yarn: 100 g of fingering weight in total: 50 g navy, 25 g red, 25 g white",
        "50 g navy", "65 g navy", "65, 25 and 25 g are 115 g, not 100",
    ),
    "balls and their metres": (
        "Yarn: two balls, 50 g and 210 m each (420 m in all)",
        "420", "480", "2 balls of 210 m have 420 m, not 480",
    ),
    "balls by size": (
        "About 190 [210: 250] m of wool: 2 [2: 3] balls of 50 g (110 m to the ball)",
        "2 [2: 3]", "2 [2: 2]",
        "2 balls of 110 m have 220 m: too little for the 250 that are spoken of",
    ),
    "what the sample took": (
        "2 skeins of fingering weight, 230 yards each; the sample took 390 yards",
        "390", "490", "2 balls of 230 yd have 460 yd: too little for the 490 that are spoken of",
    ),
    "half a skein": (
        "1 skein (100 g = 420 yds). The sample took 50 g, or about 210 yds.",
        "210", "260", "420 yd to 100 g make 210 yd to 50 g, not 260",
    ),
}  # fmt: skip
SOCK = "\n\nCast on 60 sts. Join in the round.\nKnit 9 rounds. 60 sts."
SIZES = "\n\nCast on 56 (64, 68) sts. Join in the round.\nKnit 9 rounds. 56 (64, 68) sts."
GIRTHS = {
    "named by its place": (
        "Tension: 22 sts to 10 cm\nAnkle: 27 cm" + SOCK, "27 cm", "23 cm",
        "23 cm around is printed; 60 sts at this gauge are 27.3 cm",
    ),
    "wide": (
        "Tension: 22 sts to 10 cm\nThe piece is about 27 cm wide." + SOCK, "27 cm", "31 cm",
        "31 cm around is printed; 60 sts at this gauge are 27.3 cm",
    ),
    "one size of three": (
        "Gauge: 8 sts to the inch\nFinished foot circumference: 7 (8, 8½) inches" + SIZES,
        "8½", "9", "9 in around is printed; 68 sts at this gauge are 8.5 in, and the other sizes agree",
    ),
    "stitches in so many inches": (
        "Gauge: 18 stitches and 24 rounds in 4 inches.\nThe hat is 13¼ inches around." + SOCK,
        "18 stitches", "20 stitches",
        "13.25 in around is printed; 60 sts at this gauge are 12.0 in",
    ),
    "sizes behind colons": (
        "Tension: 30 sts to 10 cm\nRound the foot: 18.5: 21.5: 22.5 cm" + SIZES.replace(" (64, 68)", ": 64: 68"),
        "22.5", "24.5",
        "24.5 cm around is printed; 68 sts at this gauge are 22.7 cm, and the other sizes agree",
    ),
}  # fmt: skip
Look = Callable[[str], Iterable[Finding]]


def _turns(text: str) -> Iterable[Finding]:
    return turn_middles(spoken(text))


@together(
    ("look", "one"),
    [(_turns, one) for one in TURNS.values()]
    + [(yarn_sums, one) for one in YARN.values()]
    + [(girths, one) for one in GIRTHS.values()],
)
def test_the_slip_alone_is_noticed(look: Look, one: tuple[str, str, str, str]) -> None:
    _only_the_slip(look, one)


def _only_the_slip(look: Look, one: tuple[str, str, str, str]) -> None:
    right, old, new, said = one
    assert right.count(old) == 1
    assert [finding.message for finding in look(right)] == []
    assert [finding.message for finding in look(right.replace(old, new))] == [said]


def test_a_turn_off_the_middle_is_one_finding() -> None:
    text = "Cast on 30 sts.\nRow 1 (RS): Sl 1, k17, ssk, k1, turn.\nRow 2 (WS): Sl 1, p5, p2tog, p1, turn.\nBind off."
    found = [
        (one.line, one.kind) for one in review(text).findings if one.kind in ("mirror", "centre")
    ]
    assert found == [(2, "centre")]


@pytest.mark.parametrize(
    "text",
    [
        "Gauge: 18 sts = 4 in\nFinished size: 20 inches around, relaxed\nC6F: hold 3 sts in front.\n\nCast on 78 sts.\nKnit.",
        "Gauge: 18 sts = 4 in\nTo fit a head 23 inches around\n\nCast on 92 sts.\nKnit.",
        "Gauge: 24 sts = 4 in\nAnkle (unstretched rib): 18 cm\n\nCast on 48 sts.\nKnit.",
    ],
)
def test_what_draws_in_or_stretches_is_left_alone(text: str) -> None:
    assert not list(girths(text))


TOLD = {
    "stripes and their rounds": (
        "Knit 6 (7) stripes of each color, 12 (14) stripes in all: 60 (70) rnds.",
        "60 (70)", "60 (75)", "12 (14) times and 60 (75) rows: the sizes do not differ alike",
    ),
    "rows repeated": (
        "Repeat Rows 1-12 until you have worked the pattern 36 times (432 rows).",
        "36 times", "26 times", "26 times 12 rows are 312, not 432",
    ),
    "parts of a heel": (
        "Work over the 30 [34] stitches of the heel. Divide it in three parts: 10/10/10 [11/12/11].",
        "11/12/11", "11/11/11", "the parts are 30 (33) sts, not 30 (34)",
    ),
    "ridges": (
        "CO 8 sts. Knit 8 rows. There are 4 garter ridges on each side.",
        "Knit 8", "Knit 6", "6 rows make 3 ridges, not 4",
    ),
    "less than the finished length": (
        "Length: 15 (18, 21) cm\nKnit until the foot measures 12 (14.5, 17.5) cm, which is 3 (3.5, 3.5) cm less than the finished length.",
        "14.5", "15.5",
        "12 (15.5, 17.5) and 3 (3.5, 3.5) make 15 (19, 21); 15 (18, 21) is printed",
    ),
    "between the markers": (
        "You have 5 sts between the markers, 29 in all.\nKnit.\nYou have 7 sts between the markers, 31 in all.",
        "31", "33", "7 sts between the markers and 24 others are 31, not 33",
    ),
    "an even number of rows": (
        "Work a further 16 [20] rows in st st, finishing with a purl row.",
        "16 [20]", "15 [19]",
        "15 (19) rows, knit and purl by turns, do not all end with a purl row",
    ),
    "the side of the next row": (
        "Work even until it measures 4 in, ending with a WS row.\nRow 1 (RS): K2, ssk, k to end.",
        "a WS row", "a RS row",
        "the next row is one of the right side: one of the other side comes before it",
    ),
}  # fmt: skip
FOUR = "Row 1 (RS): K20, turn.\nRow 2 (WS): Sl 1, p9, turn.\nRow 3: Sl 1, k to 1 st before the gap, turn.\nRow 4: Sl 1, p to 1 st before the gap, turn.\n"
ROWS = {
    "the pair before": (
        FOUR + "Rep Rows 3 and 4 until all sts are worked.", "Rows 3 and 4", "Rows 1 and 2",
        "row 4 comes before this and is not repeated: are rows 3 and 4 meant?",
    ),
    "numbered steps": (
        "16. Pick up and knit 11 sts.\n17. Knit to 3 sts before the instep, k2tog.\n18. Knit one round.\n19. Repeat steps 17 and 18 until 40 sts remain.",
        "steps 17 and 18", "steps 16 and 17",
        "step 18 comes before this and is not repeated: are steps 17 and 18 meant?",
    ),
    "rows that shape nothing": (
        "Round 1: K1, m1, k to last st, m1, k1.\nRound 2: Knit.\nRound 3: Knit.\nRepeat Rounds 1-3 until there are 40 sts.",
        "Rounds 1-3", "Rounds 2-3",
        "rows 2 to 3 shape nothing: is row 1 to be repeated with them?",
    ),
    "rows that stand apart": (
        FOUR + "Repeat Rows 3 and 4 until all sts are worked.", "Rows 3 and 4", "Rows 1 and 4",
        "rows 1 and 4 do not follow each other: are rows 3 and 4 meant?",
    ),
    "a row that is none of them": (
        FOUR + "Rep Rows 3 and 4 until it measures 4 in, ending with Row 4.", "ending with Row 4", "ending with Row 2",
        "rows 3 to 4 are repeated, and row 2 is none of them",
    ),
}  # fmt: skip
LIST = "Abbreviations: k = knit; p = purl; ssk = slip, slip, knit; m1 = make one.\nCast on 20 sts.\nRow 1: K1, m1, k to end.\nRow 3: K1, ssk, k to end.\nRow 5: K1, ssk, k to end.\n"
EXPLAINED = {
    "a cable of other stitches": (
        "C6F: slip next 3 sts to a cable needle and hold in front, knit 3, k3 from cable needle", "knit 3", "knit 2",
        "a cable of 6 sts: 3 held, 2 worked, then 3 from the cable needle",
    ),
    "not in the list": (
        LIST, "ssk = slip, slip, knit; ", "",
        "ssk is worked in line 4, and the list of abbreviations does not explain it",
    ),
    "another stitch": (
        LIST, "K1, m1", "K1, kfb", "kfb is not in the list of abbreviations: is another stitch meant?",
    ),
    "for nothing": (
        "C4F = hold 2 in front\nC4B = hold 2 at back\nRow 1: P2, C4B, p2, C4F, p2.\nRow 3: P2, C4B, p10.",
        "C4B, p2, C4F", "C4B, p2, C4B",
        "c4f is explained and never worked: is it meant somewhere instead of c4b?",
    ),
    "at the two sides of a hole": (
        "Row 1: *K1, yo, k3, sk2p, k3, yo; rep from * to end.", "k3, yo", "k4, yo",
        "k3 on one side of sk2p and k4 on the other: should they be alike?",
    ),
    "three stitches into one": (
        "s2kp – slip 2 together knitwise, knit 1, pass slipped sts over", "slip 2 together", "slip 1",
        "s2kp makes one st of 3; as it is explained here it takes 2",
    ),
    "leaning out of a toe": (
        "R1: *K1, ssk, k to last 3 sts of needle, k2tog, k1; rep from * on needle 2.",
        "ssk, k to last 3 sts of needle, k2tog", "k2tog, k to last 3 sts of needle, ssk",
        "k2tog … ssk lean away from the edges: ssk … k2tog?",
    ),
}  # fmt: skip


def _explained(text: str) -> Iterable[Finding]:
    sentences = spoken(text)
    return [*unexplained(text, sentences), *definitions(text), *mirrors(sentences)]


def _told(text: str) -> Iterable[Finding]:
    sentences = spoken(text)
    return [*told_sums(text, sentences), *repeated_rows(sentences)]


@together(
    ("look", "one"),
    [(_told, one) for one in (*TOLD.values(), *ROWS.values())]
    + [(_explained, one) for one in EXPLAINED.values()],
)
def test_the_slip_of_words_alone_is_noticed(look: Look, one: tuple[str, str, str, str]) -> None:
    _only_the_slip(look, one)


def test_steps_told_long_before_are_repeated_alone() -> None:
    steps = "1. Cast on 20 sts.\n2. Knit.\n3. Purl.\n4. Dec 1 st.\n5. Knit.\n6. Knit 2.\n7. Repeat steps 2 and 3."
    assert not list(_told(steps))


PICKED = "GUSSET\nPick up and knit 15 (16, 17) sts along the flap, knit the 28 (30, 32) instep sts, pick up and knit 15 (16, 17) sts along the other side, knit the 16 (18, 18) heel sts.\nThere are 74 (80, 84) sts."
BY_SIZE = {
    "all that is picked up": (
        PICKED, "74 (80, 84)", "74 (80, 86)",
        "74 (80, 86) sts are stated; what is picked up and worked makes 74 (80, 84)",
    ),
    "a row of a colour pattern": (
        "Row 1: 1 MC, 2 CC, 3 MC, 2 CC\nRow 2: 4 MC, 4 CC\nRow 3: 3 MC, 5 CC", "3 MC, 2 CC", "3 MC, 1 CC",
        "this row has 7 sts; the others of the pattern have 8",
    ),
    "two left hands": (
        "Right mitten: K1, then k7 with waste yarn. Knit to end.\nLeft mitten: K12, then k7 with waste yarn. Knit to end.",
        "K12, then", "K1, then",
        "both thumbs stand at the same place: this makes two mittens for one hand",
    ),
}  # fmt: skip


def _by_size(text: str) -> Iterable[Finding]:
    return [
        *size_sums(spoken(text)),
        *colour_rows(spoken(text)),
        *hands(spoken(text)),
    ]


@pytest.mark.parametrize("name", BY_SIZE)
def test_what_the_other_sizes_show_is_noticed(name: str) -> None:
    _only_the_slip(_by_size, BY_SIZE[name])


def test_a_count_that_does_not_come_out_is_one_finding() -> None:
    begun = "Sizes: S (M, L)\nCast on 60 (64, 68) sts. Join in the round.\n"
    found = review(begun + PICKED.replace("74 (80, 84)", "74 (80, 86)")).findings
    assert [one.line for one in found if one.kind in ("sum", "chain")] == [5]


def test_yarn_in_grams_grows_from_size_to_size() -> None:
    right = "Yarn: 70 (85, 100, 115) g of wool"
    assert not list(sized_numbers(right, 4))
    (one,) = sized_numbers(right.replace("100", "80"), 4)
    assert one.message.startswith("70 (85, 80, 115) does not grow from size to size")


MORE = {
    "so many times more": (
        "Knit. 60 (64, 68) sts.\nRepeat the last 2 rounds 8 (9, 9) more times. 24 (24, 28) sts.",
        "8 (9, 9)", "7 (9, 9)",
        "from 60 sts, as many at a time as in the other sizes, so often makes 28, not 24",
    ),
    "two markers": (
        "K10, pm, k20, pm, k10.\nRound 2: K to m, sm, k to m, sm, k to end.", "k20, pm", "k20",
        "2 markers slipped in this row, and 1 placed in all: pm?",
    ),
    "a turn told in one sentence": (
        "Turn the heel of 30 sts: on the first row sl 1, k16, ssk, k1, and turn; on the second sl 1, p5, p2tog, p1, and turn.",
        "k16", "k17",
        "the first two rows of this turn leave as many sts on either side of 32; there are 30: is k16 meant?",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", MORE)
def test_what_a_whole_text_shows_is_noticed(name: str) -> None:
    def look(text: str) -> Iterable[Finding]:
        sentences = spoken(text)
        return [*size_sums(sentences), *unplaced(text, sentences), *turn_middles(sentences)]

    _only_the_slip(look, MORE[name])


def test_what_is_left_on_the_holder_makes_the_whole() -> None:
    right = "Knit. 60 (68) sts.\nKnit the first 30 (34) sts on to one needle and turn. Leave the other 30 (34) sts on the holder."
    said = "30 (34) and 28 (32) sts are 58 (66), not 60 (68)"
    _only_the_slip(lambda text: sums(spoken(text)), (right, "other 30 (34)", "other 28 (32)", said))


def test_a_gusset_told_in_words_leans_along_its_line() -> None:
    right = "HEEL\n1st round: 1st needle: k. to last 3 sts., k 2 tog., k 1. 2nd needle: k. 3rd needle: k 1, sl 1, k 1, psso, k. to end."
    said = "k2tog behind a line leans away from it: k1, ssk?"
    _only_the_slip(
        lambda text: worded_leans(spoken(text)), (right, "sl 1, k 1, psso", "k 2 tog.", said)
    )


def test_counts_of_the_other_hand_go_on_from_where_the_first_began() -> None:
    right = (
        "Cast on 40 sts. Join in the round.\nRnds 1-10: *K2, p2; rep from * to end.\n\n"
        "Right thumb gusset\n\nRnd 1: K1, m1l, k1, m1r, k to end. 42 sts.\n\n"
        "Left thumb gusset\n\nRnd 1: K to last 2 sts, m1l, k1, m1r, k1. 42 sts.\n\n"
        "Both hands\n\nKnit 10 rnds. 42 sts.\n"
    )
    stated = [one.message for one in review(right).findings if "stated" in one.message]
    assert stated == []
    (one,) = [
        one
        for one in review(right.replace("m1r, k1. 42", "m1r, k1. 44")).findings
        if "stated" in one.message
    ]
    assert (one.line, one.message) == (
        10, "44 sts are stated; from the count before, there are 42",
    )  # fmt: skip


def test_the_share_of_each_needle_behind_a_count_belongs_to_its_own_round() -> None:
    right = (
        "Cast on 60 sts. Join in the round.\nRnd 1: K30, pick up and k16 sts along side of heel, k18, pick up and k16 sts along other side of heel = 80 sts (25, 30 and 25 sts).\n"
        "Rnd 2: K = 78 sts.\n"
    )
    slipped = right.replace(" (25, 30 and 25 sts).\nRnd 2: K = 78 sts", ". 78 sts")
    found = [
        [one.message for one in sums(spoken(text)) if "together" in one.message]
        for text in (right, slipped.replace("= 80 sts. 78 sts", "= 78 sts"))
    ]
    assert found == [[], ["the parts are 80 sts together, not 78"]]


def test_rows_of_another_section_are_not_those_that_stand_before() -> None:
    right = "Cast on 90 sts.\n\nEyelets\nRow 1: K2, yo, k to end. 91 sts.\nRow 2: Knit.\nRows 3-8: Work Rows 1 and 2 of the Plain section 3 times. 94 sts.\n"
    slipped = right.replace("Rows 3-8: Work Rows 1 and 2 of the Plain section", "Rep these 2 rows")
    said = [list(reached(spoken(text))) for text in (right, slipped.replace("94", "95"))]
    assert said[0] == []
    assert [one.kind for one in said[1]] == ["sum"]


def test_a_pattern_begins_anew_behind_an_increase_round() -> None:
    pattern = (
        "{}: *K2, m1; rep from * to end.\nRnd 2: *K1, yo, k2, sk2p, k2, yo; rep from * to end.\n"
    )
    right, slipped = pattern.format("Next rnd").replace("Rnd 2", "Rnd 1"), pattern.format("Rnd 1")
    found = [list(listed_rows(spoken("Cast on 96 sts.\n" + text))) for text in (right, slipped)]
    assert [len(one) for one in found] == [0, 1]


def test_sizes_in_brackets_behind_the_number_of_a_needle() -> None:
    right = "Cast on 36 (40, 44) sts.\nKnit across needles 2 and 3 (18 (20, 22) sts)."
    slipped = right.replace("needles 2 and 3 (18 (20", "K3 (18 (20")
    found = [list(size_brackets(spoken(text))) for text in (right, slipped)]
    assert [len(one) for one in found] == [0, 1]
