# ruff: noqa: E501 - a text stands on one line, long as it may be
"""What an editor sees at a glance: each slip with the smallest text that has it, and one that is right.

What is right is common practice; needle sizes are those of the yarn trade's table (from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeAlias

from loopwright.pattern._editing.chains import chains
from loopwright.pattern._editing.definitions import definitions
from loopwright.pattern._editing.entries import sized_numbers
from loopwright.pattern._editing.findings import Finding
from loopwright.pattern._editing.girths import girths
from loopwright.pattern._editing.known_numbers import known_numbers
from loopwright.pattern._editing.line_sums import line_sums
from loopwright.pattern._editing.listed_rows import listed_rows
from loopwright.pattern._editing.measures import amounts
from loopwright.pattern._editing.needles_and_units import needles_and_units
from loopwright.pattern._editing.odd_ones import odd_ones
from loopwright.pattern._editing.panel_rows import panel_rows
from loopwright.pattern._editing.row_numbers import row_numbers
from loopwright.pattern._editing.row_slips import row_slips
from loopwright.pattern._editing.rows_in_all import rows_in_all
from loopwright.pattern._editing.spoken import Sentences, spoken
from loopwright.pattern._editing.sums import sums
from loopwright.pattern._editing.turn_middles import turn_middles
from loopwright.pattern._editing.turning_rows import turning_rows
from loopwright.pattern._editing.unexplained import unexplained
from pattern.slips import found, found_with_slip
from together import together

Look: TypeAlias = Callable[[Sentences], Iterator[Finding]]

FLAT = "Cast on 20 sts.\n"
ROUND = "Cast on 40 sts. Join in the round.\n"
END = "Bind off."
TURN = "Row 1 (RS): K12, ssk, k1, turn.\nRow 2: Sl 1, p5, p2tog, p1, turn.\nRow 3: Sl 1, k6, ssk, k1, turn.\nRow 4: Sl 1, p7, p2tog, p1, turn.\n"
SHORT = "Row 1 (RS): K15, turn.\nRow 2: Sl 1, p9, turn.\nRow 3: Sl 1, k7, turn.\nRow 4: Sl 1, p5, turn.\nRow 5: Sl 1, k to end.\n"
SHAPED = "Round 1: *K1, ssk, k14, k2tog, k1; rep from * to end.\n"
WORDS = "Abbreviations\nssk: slip, slip, knit both together (leans left)\nk2tog: knit 2 together\nm1r: lift the strand from back to front and knit it\n\n"
INCHES = "Knit until it measures 2 inches.\nKnit until it measures 4 inches.\nKnit until it measures 5 inches.\nKnit until it measures 6 inches.\n"

# What is right, what is changed into what, and what is said of it.
SLIPS = {
    "no star": (
        ROUND + "Round 1: *K2, p2; rep from * to end.\n" + END, "*K2", "K2",
        "there is no * before this to repeat from",
    ),
    "a star at the end alone": (
        ROUND + "Work *k1, p1* for 4 rounds.\n" + END, "*k1", "k1",
        "a repeat ends here, and none began: put * where it begins",
    ),
    "nothing to repeat": (
        ROUND + "Round 1: *K2, p2; repeat to end.\nRound 2: *K1, p1; repeat to end.\n" + END, "*K2", "K2",
        "what is to be repeated? put * before it",
    ),
    "an open bracket": (
        ROUND + "Round 1: (K2, p2) to end.\n" + END, "p2)", "p2", "this ( is not closed",
    ),
    "a lone bracket": (
        ROUND + "Round 1: (K2, p2) to end.\n" + END, "(K2", "K2", "there is no bracket that this ) closes",
    ),
    "one decrease of a pair": (
        ROUND + SHAPED + END, "k2tog, k1", "ssk, k1",
        "ssk and ssk both lean to the left, in a row that mirrors itself otherwise",
    ),
    "both decreases of a pair": (
        ROUND + SHAPED + END, "ssk, k14, k2tog", "k2tog, k14, ssk",
        "k2tog … ssk lean away from the edges: ssk … k2tog?",
    ),
    "purl at one edge": (
        ROUND + SHAPED + END, "k2tog, k1", "k2tog, p1",
        "K1 on one side and p1 on the other, in a row that mirrors itself otherwise",
    ),
    "a lean explained": (
        WORDS + FLAT + "Row 1: Knit.\n" + END, "leans left", "leans right", "ssk leans left, not right",
    ),
    "a number explained": (
        WORDS + FLAT + "Row 1: Knit.\n" + END, "knit 2 together", "knit 3 together",
        "k2tog takes 2 sts together, not 3",
    ),
    "a stitch explained": (
        WORDS + FLAT + "Row 1: Knit.\n" + END, "knit 2 together", "purl 2 together",
        "k2tog is knit, and explained as the other",
    ),
    "a strand explained": (
        WORDS + FLAT + "Row 1: Knit.\n" + END, "from back to front", "from front to back",
        "m1r lifts the strand from back to front: which is meant?",
    ),
    "a section that begins late": (
        ROUND + "Round 1: Knit.\nRound 2: Purl.\nRep these 2 rounds twice more.\n" + END, "Round 1: Knit.\n", "",
        "the rows of this section begin with number 2: was a row left out, or misnumbered?",
    ),
    "too few rows to repeat": (
        ROUND + "Round 1: Knit.\nRound 2: Purl.\nRep these 2 rounds twice more.\n" + END, "Round 2: Purl.\n", "",
        "2 rows to repeat, and 1 row numbered here: was one left out?",
    ),
    "a row as itself": (
        ROUND + "Round 1: Knit.\nRound 2: Purl.\nRound 3: As round 1.\n" + END, "As round 1", "As round 3",
        "row 3 is to be as row 3, which is not before it",
    ),
    "stitches known": (
        ROUND + "K10, place the next 13 sts on waste yarn, k17.\nKnit 9 rounds.\nBind off.\nReturn the 13 held sts to the needle and knit them.\n" + END,
        "the 13 held", "the 14 held", "14 sts are spoken of as known, and nowhere else; is 13 meant?",
    ),
    "a needle of two names": (
        "Needles: US 6 (4 mm)\n\n" + FLAT + "Row 1: Knit.\n" + END, "4 mm", "5 mm",
        "a US 6 needle has 4 or 4.25 mm, not 5",
    ),
    "a needle for its gauge": (
        "Needles: 4 mm\nGauge: 22 sts = 10 cm\n\n" + FLAT + "Row 1: Knit.\n" + END, "4 mm", "8 mm",
        "22 sts to 10 cm on needles of 8 mm: is the gauge, or the needle, mistyped?",
    ),
}  # fmt: skip


@together("name", SLIPS)
def test_the_right_text_is_left_alone(name: str) -> None:
    assert found(SLIPS[name][0]) == []


@together("name", SLIPS)
def test_the_slip_is_noticed(name: str) -> None:
    right, old, new, said = SLIPS[name]
    assert said in found_with_slip(right, old, new)


def _tools(sentences: Sentences) -> Iterator[Finding]:
    yield from needles_and_units("\n".join(one.text for one in sentences))


def _entries(sentences: Sentences) -> Iterator[Finding]:
    yield from sized_numbers("\n".join(one.text for one in sentences), 3)


def _definitions(sentences: Sentences) -> Iterator[Finding]:
    yield from definitions("\n".join(one.text for one in sentences))


def _girths(sentences: Sentences) -> Iterator[Finding]:
    yield from girths("\n".join(one.text for one in sentences))


def _unexplained(sentences: Sentences) -> Iterator[Finding]:
    yield from unexplained("\n".join(one.text for one in sentences), sentences)


# What working the rows finds first; here it is looked at alone.
ALONE: dict[str, tuple[Look, str, str, str, str]] = {
    "a turn out of step": (
        turning_rows,
        FLAT + TURN + "Row 5: K to end.\n" + END,
        "p7",
        "p8",
        "8 sts before the decrease; in step with the other rows it would be 7",
    ),
    "a turn left out": (
        turning_rows,
        FLAT + SHORT + END,
        "k7, turn",
        "k7",
        "the other rows of this section say 'turn': is it left out here?",
    ),
    "two rows of one side": (
        turning_rows,
        FLAT + "Row 1 (RS): Knit.\nRow 2 (WS): Purl.\n" + END,
        "(WS)",
        "(RS)",
        "row 1 is RS, so that this one should be WS, not RS",
    ),
    "a turn begun anew": (
        turn_middles,
        FLAT
        + "Work on these 20 sts.\nRow 5 (RS): Knit to end.\nRow 6: K13, turn.\nRow 7: Ds, p5, turn.\n",
        "K13",
        "K14",
        "the first two rows of this turn leave as many sts on either side of 22; there are 20: is k13 meant?",
    ),
    "a gauge of no size": (
        _girths,
        'Circ: 15 (17.5, 20)"\n22 sts = 4"\nCast on 84 (96, 110) sts.\nKnit. 84 (96, 110) sts.\n',
        "22 sts",
        "18 sts",
        "15 (17.5, 20) in around is printed; 84 (96, 110) sts at this gauge are 18.7 (21.3, 24.4) in",
    ),
    "a unit alone": (
        _tools,
        FLAT + INCHES + END,
        "2 inches",
        "2 cm",
        "cm here, and in elsewhere: which is meant?",
    ),
    "a unit alone, and a needle by its letter": (
        _tools,
        FLAT + INCHES.replace("inches", "cm") + "Keep N1 in ladder pattern.\n" + END,
        "4 cm",
        "4 inches",
        "in here, and cm elsewhere: which is meant?",
    ),
    "a purl row's decrease": (
        turning_rows,
        FLAT + TURN,
        "Sl 1, p5, p2tog",
        "Sl 1, p5, k2tog",
        "knit and purl stitches in one row of a turn: is one of them mistyped?",
    ),
    "a purl stitch at an edge": (
        odd_ones,
        ROUND + "Round 1: Needle 1: k1, ssk, k to end. Needle 2: k to last 3 sts, k2tog, k1.\n",
        "k2tog, k1",
        "k2tog, p1",
        "p1 here, in a row that knits otherwise: is it meant?",
    ),
    "a marker passed over": (
        row_slips,
        ROUND + "Round 1: K to marker, sm, m1l, k to marker, m1r, sm, k to end.\n",
        "K to marker, sm",
        "K to marker",
        "the marker is reached here and not slipped: sm?",
    ),
    "edges on needles with names": (
        row_slips,
        ROUND
        + "Round 1: First needle: K to last 3 sts, k2tog, k1. Second needle: K1, skpo, k to end.\n",
        "K1, skpo",
        "K2, skpo",
        "k1 on one side and k2 on the other of two shapings that should mirror each other",
    ),
    "a total and its halves": (
        sums,
        "Repeat these 2 rounds until there are 60 (68) sts, 30 (34) on each needle.\n",
        "(68)",
        "(67)",
        "60 (67) sts are not 30 (34) on each needle",
    ),
    "rows and more rows": (
        sums,
        "Work rows 1-6 four times, then rows 1-4 once more. 28 rows.\n",
        "28",
        "30",
        "4 times 6 rows and 4 are 28, not 30",
    ),
    "stitches just counted": (
        known_numbers,
        ROUND + "Round 9: K2tog around. 20 sts.\nCut the yarn and draw it through the 20 sts.\n",
        "the 20",
        "the 18",
        "18 sts are spoken of; just before they were 20",
    ),
    "yarn that leaps": (
        _entries,
        "Yarn: 110 (130, 150) m\nCast on 40 (44, 48) sts.\n",
        "110",
        "33",
        "from 33 to 130 from one size to the next: is one of them mistyped?",
    ),
    "a cable explained": (
        _definitions,
        "C6F: slip 3 sts to cable needle and hold in front, k3, k3 from cable needle.\n",
        "slip 3",
        "slip 4",
        "a cable of 6 sts: 4 held, 3 worked, then 3 from the cable needle",
    ),
    "a cable held behind": (
        _definitions,
        "C6F: sl 3 sts to cn and hold in front, k3, k3 from cn.\n",
        "front",
        "back",
        "C6F is told with the stitches held in back: a cable of this name holds them in front",
    ),
    "a row and its count": (
        listed_rows,
        "Round 1: K22, place marker, m1, k2, m1, place marker, k26. 52 sts.\n",
        "52",
        "50",
        "the stitches of this row make 52, not 50",
    ),
    "two rows of a panel": (
        listed_rows,
        "Rnd 1: K5, p1, RT, LT, p1, k5.\nRnd 2: K5, p1, k4, p1, k5.\n",
        "LT, p1, k5",
        "LT, p1, k6",
        "this row takes 16 sts; the row before leaves 17",
    ),
    "a repeat of another width": (
        listed_rows,
        "Rnd 1: [P2, k6, p2, RT] to end.\nRnd 2: [P2, k6, p2, k2] to end.\n",
        "p2, k2]",
        "p3, k2]",
        "this repeat takes 13 sts; the row before leaves 12",
    ),
    "a repeat that shrinks": (
        listed_rows,
        "Row 1: K4, *yo, ssk, k1, k2tog, yo, k1; rep from * to last 3 sts, k3.\nRow 2: Purl.\nRow 3: K4, *k1, yo, sk2p, yo, k2; rep from * to last 3 sts, k3.\nRep rows 1-3 twice more.\n",
        "sk2p, yo, k2",
        "sk2p, k2",
        "this repeat shrinks by 1; those of the other rows keep their stitches",
    ),
    "a thumb": (
        line_sums,
        "Take up the 16 (18) thumb sts. Knit these sts, then pick up and knit 4 sts along the palm. 20 (22) sts.\n",
        "knit 4",
        "knit 3",
        "the parts of this line are 19 (21) sts together, not 20 (22)",
    ),
    "corners": (
        line_sums,
        "Catch the sts above and below: 6 (7) sts on each side. Knit them, picking up 1 extra st at each corner. 14 (16) sts.\n",
        "14 (16)",
        "15 (17)",
        "the parts of this line are 14 (16) sts together, not 15 (17)",
    ),
    "flaps of a hat": (
        line_sums,
        "Cast on 11 sts, knit across 19 sts of first flap, cast on 36 sts, knit across 19 sts of second flap, cast on 11 sts. 96 sts.\n",
        "36",
        "38",
        "the parts of this line are 98 sts together, not 96",
    ),
    "a slot": (
        line_sums,
        "Next row: Moss 3, cast off 3 sts, work in moss to end.\nNext row: Moss 3, cast on 3 sts, moss 3.\n",
        "on 3",
        "on 4",
        "4 sts are cast on; 3 were cast off below them",
    ),
    "a cable of no name": (
        _unexplained,
        "C4B: hold 2 in back, k2, k2. C4F: hold 2 in front, k2, k2.\nRow 1: P2, C4B, C4F, p2.\n",
        "C4F, p2",
        "T4F, p2",
        "T4F is explained nowhere, as its like are: is another meant?",
    ),
    "rows repeated behind unread ones": (
        chains,
        "CO 20 sts.\nRnd 1: *K1, M1R, k to last st on needle, M1L, k1; rep from * on second needle. 24 sts.\nRnd 2: Knit.\nRep Rnds 1-2 another 8 times. 56 sts.\n",
        "8 times",
        "9 times",
        "56 sts are stated; from the count before, there are 60",
    ),
    "one row more": (
        chains,
        "CO 40 sts.\nDec round: *K1, ssk, k14, k2tog, k1; rep from * once more. 36 sts.\nWork the dec round alone 3 times. 24 sts.\n",
        "3 times",
        "4 times",
        "24 sts are stated; from the count before, there are 20",
    ),
    "so many at a time": (
        chains,
        "CO 48 sts.\nGo on like this, decreasing 4 sts on every other round, until 32 sts are left.\n",
        "32",
        "34",
        "from 48 sts, 4 at a time, there are never 34",
    ),
    "several rows under one number": (
        chains,
        "CO 60 sts.\nRow 1: K to last 3 sts, k2tog, k1.\nRows 2, 3 and 4: K.\nRepeat these 4 rows 23 more times. 36 sts.\n",
        "23 more",
        "25 more",
        "36 sts are stated; from the count before, there are 34",
    ),
    "a cable that crosses": (
        _definitions,
        "4/4 RC: slip 4 sts to the cable needle and hold in back; k4; k4 from the cable needle.",
        "in back",
        "in front",
        "4/4 RC is told with the stitches held in front: a cable of this name holds them in back",
    ),
    "needles of one row": (
        chains,
        "CO 70 sts.\nRound 1: A: k to last 3 sts, k2tog, k1. B: k. C: k1, skpo, k to end.\nRound 2: Knit.\nRepeat these 2 rounds 4 times more. 60 sts.\n",
        "4 times",
        "5 times",
        "60 sts are stated; from the count before, there are 58",
    ),
    "a group within a repeat": (
        panel_rows,
        "Pattern A (12 sts)\nRound 1: *(K2tog) twice, (yfwd, k1) 4 times, (k2tog) twice; rep from * to end.\n",
        "4 times",
        "5 times",
        "this takes 13 sts; the pattern is 12 sts wide",
    ),
    "a sum whose count stands below": (
        line_sums,
        "Needle 1: Knit the 6 heel sts, pick up and knit 8 sts. Needle 2: Knit the 18 instep sts. Needle 3: Pick up and knit 8 sts.\n40 sts.\n",
        "40 sts",
        "42 sts",
        "the parts of this line are 40 sts together, not 42",
    ),
    "one girth of many": (
        _girths,
        "Gauge: 8 sts = 1 inch\nFoot circumference: 6 (7, 8, 9, 10) inches\nCO 48 (56, 64, 72, 80) sts.\n",
        "9, 10",
        "9, 11",
        "11 in around is printed; 80 sts at this gauge are 10.0 in, and the other sizes agree",
    ),
    "rows again": (
        rows_in_all,
        "Rep Rows 1-4 a further 5 times. 24 rows.\n",
        "24",
        "22",
        "4 rows, worked 5 times more, are 24, not 22",
    ),
}


@together("name", ALONE)
def test_the_words_alone_show_it(name: str) -> None:
    look, right, old, new, said = ALONE[name]
    assert right.count(old) == 1
    assert list(look(spoken(right))) == []
    assert [one.message for one in look(spoken(right.replace(old, new)))] == [said]


RIGHT = (
    "Materials: 3 oz (75 g) wool\nCast on 100 sts, 33 on each of two needles and 34 on the third. Knit 3 rounds.",
    "Broken rib: Rnd 1: Knit. Rnd 2: *K2, p2; rep from * to end.\nCast on 40 sts. Knit 3 rounds.",
    "k2tog, ssk, p2tog = the usual decreases.\nCast on 40 sts. Knit 3 rounds.",
    "Cast on 40 sts. Join in the round.\n1st round: Knit.\nKnit 3 rounds.\n5th round: Knit.\nBind off.",
    "Cast on 40 sts. Join in the round.\nRnd 1: K5, p2, k to end.\nNow work flat, turning at the beg-of-rnd.\nRow 1: Same as Rnd 1. Turn.\nRow 2: P to last 7 sts, k2, p5. Turn.",
    "Cast on 25 sts.\n1. Row 1: knit.\n2. Row 2: purl.\n3. Repeat Rows 1 and 2 four more times. Tick them off here:\nRow 3: 5 stitches between the markers, 29 in all.\nRow 7: 9 stitches between the markers, 33 in all.\nStop after Row 10.\n\nThe hole\nRow 11: knit.",
    "Cast on 40 sts. Join in the round.\nRound 1: Knit.\nRound 2: Purl.\n\n## Left mitt\nWork as for the right mitt, but set the cable thus:\nRound 1: K26, p2, k4, p2, k6.\nRound 4: K26, p2, c4f, p2, k6.\nFinish as for the right mitt.",
    "Cast on 24 sts.\nRow 1: Knit.\nRow 2: Purl.\nRow 3: Knit.\n\n## The thumb\nPut the 9 sts back on a needle. Work 4 rows of stockinette.\nRow 5: K1, ssk, k3, k2tog, k1. (7 sts)\nRow 6: P7.",
    'Deep 24 cm, wide 66 cm; tension 15 sts to 10 cm.\n"Moss 5" means work 5 sts in moss stitch.\nCast on 35 sts.',
)


@together("text", RIGHT)
def test_what_designers_print_is_left_alone(text: str) -> None:
    asked = [
        *row_numbers(spoken(text)), *sums(spoken(text)), *definitions(text), *amounts(text), *_tools(spoken(text))
    ]  # fmt: skip
    assert asked == []
