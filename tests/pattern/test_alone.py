# ruff: noqa: E501 - a text stands on one line, long as it may be
"""What a few lines show without being worked: right wordings of each kind, and each with one slip.

The counts were made by hand; that toes and crowns go by the same step, and that two thumbs mirror
each other, is common practice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TypeAlias

import pytest

from loopwright.pattern._editing.findings import Finding
from loopwright.pattern._editing.hands import hands
from loopwright.pattern._editing.reached import reached
from loopwright.pattern._editing.spoken import Spoken, spoken
from loopwright.pattern._editing.whole_rows import whole_rows

Look: TypeAlias = Callable[[Sequence[Spoken]], Iterator[Finding]]

SOCK = "Cast on 48 (56, 64) sts. Join.\n"
TOE = (
    SOCK
    + "TOE\nRnd 1: *K1, ssk, k to last 3 sts of needle, k2tog, k1; rep from * on second needle.\nRnd 2: Knit.\n"
)
HAT = "Cast on 80 (88, 96) sts. Join.\nCROWN\nRound 1: *K8 (9, 10), k2tog; rep from * around. 72 (80, 88) sts.\nRound 2: Knit.\n"
KINDS: dict[Look, list[tuple[str, str, str, str]]] = {
    reached: [
        (TOE + "Rep rnds 1 and 2 until 24 (28, 32) sts remain.", "24 (28, 32)", "24 (30, 32)", "from 56 sts, 4 at a time, there are never 30: after 32 come 28; is one of these meant?"),
        (TOE + "Work these 2 rounds until 24 (28, 32) sts are left.", "24 (28, 32)", "24 (28, 34)", "from 64 sts, 4 at a time, there are never 34: after 36 come 32; is one of these meant?"),
        (TOE + "Cont in this manner until 24 (28, 32) sts rem, then dec every rnd until 12 (12, 16) sts rem.", "12 (12, 16)", "12 (14, 16)", "from 56 sts, 4 at a time, there are never 14: after 16 come 12; is one of these meant?"),
        ("Cast on 60 sts. Join.\nTOE\nRnd 1: *K1, ssk, k to last 3 sts of needle, k2tog, k1; rep from * on second needle.\nRnd 2: Knit.\nKeep on decreasing like this until there are only 20 sts.", "20 sts", "22 sts", "from 60 sts, 4 at a time, there are never 22: after 24 come 20; is one of these meant?"),
        (HAT + "Continue to decrease 8 sts every other round in this way to 40 (48, 48) sts.", "40 (48, 48)", "40 (46, 48)", "from 80 sts, 8 at a time, there are never 46: after 48 come 40; is one of these meant?"),
        (HAT + "Carry on, losing 8 sts each time, until you have 16 sts.", "16 sts", "18 sts", "from 72 sts, 8 at a time, there are never 18: after 24 come 16; is one of these meant?"),
        ("MITTEN TOP\nCast on 48 (56, 64) sts. Join.\nDec rnd: *K1, ssk, k to 3 sts before side, k2tog, k1; rep from * once. (4 sts dec)\nRep this rnd until 8 (8, 8) sts are left.", "8 (8, 8)", "8 (10, 8)", "from 56 sts, 4 at a time, there are never 10: after 12 come 8; is one of these meant?"),
        ("SHAWL\nCast on 5 sts.\nRow 1 (RS): K2, yo, k to last 2 sts, yo, k2. (2 sts inc)\nRow 2: K.\nRep rows 1 and 2 until there are 101 sts.", "101 sts", "100 sts", "from 5 sts, 2 at a time, there are never 100: after 99 come 101; is one of these meant?"),
        ("Cast on 8 sts.\nInc rnd: [K1, m1] 4 times. 12 sts.\nToe\nRound 1: *K1, m1, k to last st on needle, m1, k1; repeat from * once. (4 sts increased)\nRepeat until there are 60 sts.", "60 sts", "58 sts", "from 12 sts, 4 at a time, there are never 58: after 56 come 60; is one of these meant?"),
        ("Cast on 20 (24, 28) sts.\nTOE\nRound 1: On each needle: k1, m1, knit to last stitch, m1, k1. (4 stitches increased)\nRound 2: Knit.\nRepeat Rounds 1 and 2 until there are 48 (56, 64) stitches.", "48 (56, 64)", "48 (54, 64)", "from 24 sts, 4 at a time, there are never 54: after 52 come 56; is one of these meant?"),
        ("GUSSET\nPick up and knit. 68 (78, 88) sts.\nRnd 1: N1: k to last 3 sts, k2tog, k1. N2: k. N3: k1, ssk, k to end.\nRnd 2: K.\nRep rnds 1 and 2 until 52 (60, 68) sts rem.", "52 (60, 68)", "52 (61, 68)", "from 78 sts, 2 at a time, there are never 61: after 62 come 60; is one of these meant?"),
        ("Cast on 81 sts.\nRow 1: K2tog, k to last 2 sts, k2tog.\nRow 2: K.\nContinue decreasing at both ends of every other row until 5 sts remain.", "until 5", "until 6", "from 81 sts, 2 at a time, there are never 6: after 7 come 5; is one of these meant?"),
    ],
    whole_rows: [
        ("Cast on 42 sts.\nRow 1: K1, k2tog, k36, ssk, k1. (40 sts)", "k36", "k35", "this row leaves 39 sts, not 40"),
        ("Cast on 20 (24) sts.\nRnd 1: K10 (12), m1, k10 (12), m1. 22 (26) sts.", "k10 (12), m1. ", "k10 (13), m1. ", "this row leaves 22 (27) sts, not 22 (26)"),
        ("Cast on 60 (72) sts. Join.\nRib: *K2, p2; rep from * around.", "K2, p2", "K2, p3", "a repeat of 5 sts goes into none of the counts before: the last is 60 (72)"),
        ("Cast on 60 (72, 84) sts. Join.\nRib: (k1, p2) to end.", "60 (72, 84)", "60 (73, 84)", "a repeat of 3 sts does not go into 73: 1 are left over, and none in the other sizes"),
        ("Cast on 41 sts.\nRow 1: K2, *p1, k1; rep from * to last st, k1.", "41", "42", "a repeat of 2 sts goes into none of the counts before: the last is 42"),
        ("Cast on 34 sts.\nRow 1: K3, *p2, k2; repeat from * to last 3 sts, p3.", "34", "36", "a repeat of 4 sts goes into none of the counts before: the last is 36"),
        ("Cast on 80 sts. Join.\nDec round: *k6, k2tog; rep from * to end: 70 stitches.", "k6", "k7", "each repeat leaves 8 sts: 70 sts are no multiple of 8"),
        ("Cast on 80 (96) sts. Join.\nCrown round 1: (k6, k2tog) around = 70 (84) sts.", "70 (84)", "70 (85)", "each repeat leaves 7 sts: 85 sts are no multiple of 7"),
        ("Cast on 24 sts.\nNext row: (k2, kfb) 8 times. 32 sts.", "8 times", "6 times", "this row takes 18 sts and leaves 24; there are 24, and 32 are stated"),
        ("Cast on 50 sts.\nRow 1: K5, (k8, m1) 5 times, k5. You now have 55 sts.", "55 sts", "54 sts", "this row leaves 55 sts, not 54"),
    ],
    hands: [
        ("Cast on 48 (56) sts.\nThe first 24 (28) sts are the palm.\nRight mitten: K2, with waste yarn k8 (9), slip these back, k again, k to end.\nLeft mitten: K14 (17), with waste yarn k8 (9), slip these back, k again, k to end.", "K14 (17)", "K14 (16)", "the left thumb stands behind 14 (16) sts, and does not mirror the right one, which stands behind 2: are 14 (17) meant?"),
        ("Cast on 48 sts.\nThe first 24 sts are the back.\nThumb, right hand: k26, k the next 8 sts with scrap yarn, put them back and k them again, k to end.\nThumb, left hand: k38, k the next 8 sts with scrap yarn, put them back and k them again, k to end.", "k38", "k26", "both thumbs stand at the same place: this makes two mittens for one hand"),
    ],
}  # fmt: skip


@pytest.mark.parametrize(
    ("look", "one"), [(look, one) for look, several in KINDS.items() for one in several]
)
def test_the_slip_alone_is_noticed(look: Look, one: tuple[str, str, str, str]) -> None:
    right, old, new, said = one
    assert right.count(old) == 1
    assert not list(look(list(spoken(right))))
    assert next(look(list(spoken(right.replace(old, new))))).message == said


RIGHT = {
    "a crown of which one size is told apart": (
        whole_rows,
        "Cast on 72 (96) sts.\nAdult only: *K6, k2tog; rep from * to end. 84 sts.",
    ),
    "ear flaps picked up along the edge": (
        reached,
        "Knit until 16 sts remain.\nFLAPS\nPick up and knit 17 (19, 21) sts.\nRow 1: K2, ssk, k to last 4 sts, k2tog, k2.\nRow 2: Knit.\nRepeat Rows 1 and 2 until 7 sts remain.",
    ),
    "thumbs in the middle of the palm": (
        hands,
        "Cast on 40 sts.\nRight mitten: K6, with waste yarn k8, slip these back and k again, k to end.\nLeft mitten: K6, with waste yarn k8, slip these back and k again, k to end.",
    ),
}


@pytest.mark.parametrize("name", RIGHT)
def test_what_is_right_is_left_alone(name: str) -> None:
    look, text = RIGHT[name]
    assert not list(look(list(spoken(text))))
