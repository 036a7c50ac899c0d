# ruff: noqa: E501 - a text stands on one line, long as it may be
"""Shares beside their whole, sections, pairs of shapings, times: right ones of each kind, each with a slip.

The sums were made by hand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TypeAlias

from loopwright.pattern._editing.abbreviation_list import abbreviation_list
from loopwright.pattern._editing.findings import Finding
from loopwright.pattern._editing.like_pairs import like_pairs
from loopwright.pattern._editing.marked_sections import marked_sections
from loopwright.pattern._editing.shares import shares
from loopwright.pattern._editing.spoken import Spoken, spoken
from loopwright.pattern._editing.times_told import times_told
from loopwright.pattern._editing.told_shapings import told_shapings
from loopwright.pattern._editing.whole_rows import whole_rows
from loopwright.pattern._editing.worked_lines import worked_lines
from together import together

Check: TypeAlias = Callable[[Sequence[Spoken]], Iterable[Finding]]
Case: TypeAlias = tuple[str, str, str, str]  # a right text, what is changed to what, what is said

SHARES: dict[str, Case] = {
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
GROUPS: dict[str, Case] = {
    "behind a semicolon": (
        "Knit 6 (7, 8), knit 2 together; do this 4 times. 28 (32, 36) stitches.", "4 times", "5 times",
        "5 times 6 (7, 8) and the decrease leave 35 (40, 45) sts, not 28 (32, 36)",
    ),
}  # fmt: skip
KINDS: tuple[tuple[Check, dict[str, Case]], ...] = (
    (shares, SHARES), (marked_sections, SECTIONS), (like_pairs, PAIRS), (times_told, TIMES), (worked_lines, LINES),
    (whole_rows, REPEATS), (told_shapings, GROUPS),
)  # fmt: skip
RIGHT: tuple[tuple[Check, str], ...] = (
    (shares, "There are 62 sts, 20 on each needle and 2 in the gap."),
    (shares, "There are 12, 14 and 16 rows of each, 3 stripes in all."),
    (shares, "Cast on 60 sts.\nDecrease evenly.\nDivide them between 3 needles, 18 on each."),
    (shares, "K1, *k6, k2tog; rep from * to end. 85 sts remain."),
    (shares, "*K6, k2tog; rep from * to end. 16 sts decreased; 112 sts remain."),
    (shares, "32 sts, 14 for the front and 16 for the back in all."),
    (marked_sections, "Cast on 100 sts.\nInc 8 sts evenly.\nPlace a marker after every 12 sts: 9 sections."),
    (marked_sections, "Cast on 108 sts.\nPlace a marker after every 18 sts: 5 more markers."),
    # a marker on both sides of what is made there, and then at both of them
    (like_pairs, "Gusset\nRnd 1: K15, pm, M1L, pm, k15.\nRnd 4: K to first marker, sm, M1R, k to second marker, M1L, sm, k to end."),
    (like_pairs, "Gusset\nLeft hand: K15, sm, M1R, k to marker, M1L, sm, k to end.\nRight hand: K3, sm, M1L, k to marker, M1R, sm, k to end."),
    (like_pairs, "Lace\nRnd 1: *Ssk, yo, k5, yo, k2tog; rep from *.\nRnd 3: *K2tog, yo, k5, yo, ssk; rep from *."),
    (like_pairs, "Gusset\nRnd 1: K15, pm, M1R, k2, M1L, pm, k15.\nRnd 2: K to 1 st before marker, M1L, sm, k4, sm, M1R, k to end."),
    (times_told, "64 sts.\nRound 1: K1, ssk, k to last 3, k2tog, k1. 62 sts.\nRound 2: (K6, k2tog) 8 times. 54 sts.\nKeep going until 10 sts are left."),
    (times_told, "64 sts.\nRound 1: 4 sts decreased.\nWork until the foot is back to 8 in."),
    (worked_lines, "Next round: K5, thread the next 36 sts, cast on 2, k the last 5. (12 sts)"),
    (worked_lines, "There are 60 sts.\nDecrease evenly.\nNext round: K5, thread the next 36 sts, cast on 2, k the last 5. (12 sts)"),
)  # fmt: skip


@together(("check", "case"), [(check, case) for check, kind in KINDS for case in kind.values()])
def test_a_slip_is_noticed_and_what_is_right_is_not(check: Check, case: Case) -> None:
    right, old, new, said = case
    assert right.count(old) == 1
    assert list(check(spoken(right))) == []
    assert [one.message for one in check(spoken(right.replace(old, new)))] == [said]


@together(("check", "text"), RIGHT)
def test_what_is_right_is_left_alone(check: Check, text: str) -> None:
    assert list(check(spoken(text))) == []


LIST = """Abbr: k knit, p purl, {}RS right side.

R1 (RS): k35, w&t.
R2: k to 1 st before wrapped st, w&t.
{}"""


def test_a_turn_that_a_list_lacks_is_explained_elsewhere_or_asked_about() -> None:
    told = "To wrap a st, slip it and bring the yarn forward.\n"
    for text in (LIST.format("w&t wrap next st and turn, ", ""), LIST.format("", told)):
        assert list(abbreviation_list(text, spoken(text))) == []
    text = LIST.format("", "Knit the wraps with their sts.")
    (one,) = abbreviation_list(text, spoken(text))
    assert one.message == "w&t is worked in line 3 and explained nowhere"


def test_nothing_is_told_by_an_empty_text() -> None:
    for check, _ in KINDS:
        assert list(check([])) == []
