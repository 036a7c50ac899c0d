"""Slips that a technical editor finds: a right text, and what is said of it with one slip."""

from __future__ import annotations

import pytest

from loopwright.pattern._editing.shared_findings import DOUBT
from pattern.slips import found, found_with_slip
from together import together

ROUND = "Title\n\nCast on 40 sts. Join in the round.\n"
FLAT = "Title\n\nCast on 22 sts.\n"
BACK = "K10, turn.\nNext row: Sl 1, p19, turn. Leave the remaining 20 sts on hold.\nRow 1: Knit.\n"
AGAIN = (
    "Work over the next 20 sts only.\nRow 1: Knit.\nResume working in the round over all 40 sts.\n"
)
TWO = "Rnd 1: Knit.\nRnd 2: Purl.\nRepeat rnds 1 and 2 five more times (12 rounds).\n"
OPENED = "Using a provisional cast-on, CO 20 sts.\nRow 1: Knit.\nRow 2: Purl.\n"
FREED = "Remove the provisional cast-on and place 20 sts on a spare needle. "
TURN = "Row 1 (RS): K13, ssk, turn.\nRow 2: Sl 1, p4, p2tog, turn.\nRow 3: Sl 1, k4, ssk, turn.\n"
LEFT = "ssk, turn. (7 sts are left on the needle.)"
ALL = "Rep rows 2 and 3 until all sts have been worked, ending with row 2. 6 sts remain.\n"
SHORTER = (
    "Row 1 (RS): K15, w&t.\nRow 2 (WS): P8, w&t.\nRow 3: K7, w&t.\nRow 4: P6, w&t.\n"
    "Continue, working 1 st fewer on each row, until you have worked p4, w&t.\n"
    "Next row: K to end, working the wraps with their sts.\n"
)

GUSSET = (
    ROUND + "K10, pm, k20, pm, k10.\n\nGusset\n\n"
    "Rnd 1: K to 3 sts before m, k2tog, k1, sm, k to m, sm, k1, ssk, k to end.\n"
)
TOE = (
    ROUND + "Divide the sts evenly on 2 needles.\n"
    "Rnd 1: *K1, ssk, k to last 3 sts on needle, k2tog, k1; rep from * on second needle.\n"
)

# What is right, what is changed into what, and what is said of it (common practice).
SLIPS = {
    "a round named by one word": (
        ROUND + "Rib: *K2, p2; rep from * to end.\nRep this rnd 5 times more.\nBind off.",
        "p2;", "p4;", "40 sts are no multiple of 6: after 6 times 4 are left over",
    ),
    "stitches said to wait": (
        ROUND + BACK + "Resume working in the round over all 40 sts.\nBind off.",
        "remaining 20", "remaining 22", "22 sts stated to wait; 20 do",
    ),
    "stitches left on the needle behind a turn": (
        FLAT + TURN.replace("ssk, turn.", LEFT, 1) + ALL + "Bind off.",
        "7 sts", "8 sts", "8 sts stated to wait; 7 do",
    ),
    "all stitches again": (
        ROUND + AGAIN + "Bind off.",
        "all 40", "all 44", "states 44 sts; working it leaves 40",
    ),
    "rounds counted in brackets": (
        ROUND + TWO + "Bind off.",
        "12 rounds", "10 rounds", "10 rounds stated; this makes 12",
    ),
    "stitches freed from waste yarn": (
        "Title\n\n" + OPENED + FREED + "Bind off.",
        "place 20", "place 18", "18 sts to be freed; 20 hang on the waste yarn",
    ),
    "a change in signs": (
        ROUND + "Rnd 1: *K8, k2tog; rep from * to end. (-4)\nBind off.",
        "(-4)", "(-2)", "2 sts fewer stated; this makes 4 sts fewer",
    ),
    "a turn that ends within its rows": (
        FLAT + TURN + ALL + "Bind off.",
        "6 sts remain", "8 sts remain", "states 8 sts; working it leaves 6",
    ),
    "a turn whose gap stays open": (
        FLAT + TURN + ALL + "Bind off.",
        "Sl 1, k4, ssk", "Sl 1, k3, ssk",
        "the decrease takes stitches 5 and 6, the gap lies behind stitch 6: it stays open",
    ),
    "a gap that stays open behind a repeat": (
        FLAT + TURN.replace("k4, ssk", "(k1, sl 1) 2 times, ssk") + ALL + "Bind off.",
        "2 times", "3 times",
        "the decrease takes stitches 8 and 9, the gap lies behind stitch 6: it stays open",
    ),
    "a decrease short of the gap": (
        FLAT + TURN + ALL + "Bind off.",
        "Sl 1, k4, ssk", "Sl 1, k2, ssk",
        "the decrease takes stitches 4 and 5, the gap lies behind stitch 6: it stays open",
    ),
    "a row that is no stitch shorter": (
        FLAT + SHORTER + "Bind off.",
        "Row 3: K7", "Row 3: K8",
        "8 sts are worked in this row; the rows around it make it 7",
    ),
    "swapped leans of a gusset": (
        GUSSET + "Bind off.",
        "k2tog, k1, sm, k to m, sm, k1, ssk", "ssk, k1, sm, k to m, sm, k1, k2tog",
        "ssk, k1 before the line lean away from it: k2tog, k1 before a line, k1, ssk behind it?",
    ),
    "ssk on both edges before a graft": (
        TOE + "Graft the toe.",
        "k2tog, k1; rep", "ssk, k1; rep",
        ("ssk, k1 before the line and k1, ssk behind it lean one way: "
        "k2tog, k1 before a line, k1, ssk behind it?"),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", SLIPS)
def test_the_right_text_is_left_alone(name: str) -> None:
    assert found(SLIPS[name][0]) == []


@together("name", SLIPS)
def test_the_slip_is_noticed(name: str) -> None:
    right, old, new, said = SLIPS[name]
    assert said in [one.removesuffix(DOUBT) for one in found_with_slip(right, old, new)]


def test_one_wrong_count_is_one_finding() -> None:
    text = ROUND + "Rnd 1: *K8, k2tog; rep from * to end. 34 sts.\nRnd 2: Knit. 36 sts.\nBind off."
    assert found(text) == ["states 34 sts; working it leaves 36"]
