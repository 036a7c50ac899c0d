"""Right texts in other words are read as before: signs, labels, lists, layout; a sample."""

from __future__ import annotations

import random

import attrs

from loopwright.pattern import explain, review
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.one_hand import in_one_hand
from loopwright.pattern._rewording.usual_words import in_usual_words
from pattern.read_back import all_texts
from pattern.reworded import Right, broken, reworded, right_text
from pattern.ways_of_saying import KINDS, LAYOUTS
from together import together

# What two typists write, and what one hand does (common practice).
ONE_HAND = {
    "**Row 1, RS:** K2": "Row 1 (RS): K2",
    "*Round 2:* K.": "Round 2: K.",
    "**Next rnd**: K": "Next rnd: K",
    "Row #1 (RS): K1": "Row 1 (RS): K1",
    "Round. 1: k": "Round 1: k",
    "Row 1. (RS) K23": "Row 1 (RS): K23",
    "RS Row 1: Sl 1": "Row 1 (RS): Sl 1",
    "Row 1/RS: K3": "Row 1 (RS): K3",
    "Row 1 (RS)) K1": "Row 1 (RS): K1",
    "2nd Rnd. Knit.": "2nd Rnd: Knit.",
    "Rnd 3 - dec: K1": "Rnd 3 (dec): K1",
    "CO 20 (24) (28) sts": "CO 20 (24, 28) sts",
    "CO 20 {24, 28} sts": "CO 20 (24, 28) sts",
    "6 (6½/7) in": "6 (6½, 7) in",
    "1 (1/2) in": "1 (1/2) in",
    "K2 // 60 sts": "K2 (60 sts)",
    "K3. **60 sts**": "K3. (60 sts)",
    r"Rnd 1: \*K2; rep from \*": "Rnd 1: *K2; rep from *",
    "w&amp;t": "w&t",
    "☐ Row 1: K": "Row 1: K",
    "(2) Row 1: K": "2. Row 1: K",
    "◦ 1. Cast on": "1. Cast on",
    "- How many rows?": "- How many rows?",
    "*K1, p1*; repeat *-* to end": "*K1, p1; repeat from * to end",
    "[K1, p1] rep to end": "[K1, p1] to end",
    "**K7; rep from ** to end": "*K7; rep from * to end",
    "CO 8 sts. join in the rnd": "CO 8 sts. Join in the rnd",
    "CO 44, 48, 52 sts\nK22, 24, 26": "CO 44 (48, 52) sts\nK22 (24, 26)",
    "CO 40-44-48 sts\nrows 1-2-3": "CO 40 (44, 48) sts\nrows 1-2-3",
    "CO 40 (44, 48) sts\nK22/24/26": "CO 40 (44, 48) sts\nK22 (24, 26)",
    "CO 40 (44, 48) sts\nK2 9-10-11 times": "CO 40 (44, 48) sts\nK2 9 (10, 11) times",
    "CO 40 (44, 48) sts\nSts lie 10/20/10": "CO 40 (44, 48) sts\nSts lie 10/20/10",
    "CO 40 (44, 48) sts\nrows 1-2-3": "CO 40 (44, 48) sts\nrows 1-2-3",
    "Cuff\n   Cast on 4.\n   Join the ends.\n": "Cuff\nCast on 4 sts.\nJoin the ends.\n",
    "4. Knit until 6 inches\n   long.": "4. Knit until 6 inches\n   long.",
    "K1.\n* * *\nP1.": "K1.\n\nP1.",
    "Rep row 1. Then knit.": "Rep row 1. Then knit.",
    "** Next round: K2": "** Next round: K2",
}
USUAL = {
    "Rnd 3: K1, ssk, knit two together, k1": "Rnd 3: K1, ssk, k2tog, k1",
    "k2tog: knit 2 together": "k2tog: knit 2 together",
    "M1R, M1L: make 1 right, make 1 left": "M1R, M1L: make 1 right, make 1 left",
    "K2tog Knit 2 together": "K2tog Knit 2 together",
    "knit till end": "knit to end",
    "k until the last three sts": "k to last 3 sts",
    "until the last 3 sts remain": "until the last 3 sts remain",
    "w & t": "w&t",
    "PUK 15 sts": "pick up and knit 15 sts",
    "repeat rows 3+4": "repeat rows 3 and 4",
    "k1 turn.": "k1, turn.",
    "4x in all": "4 times in all",
    "CO 2sts": "CO 2 sts",
}


@together(("given", "said"), ONE_HAND.items())
def test_a_line_is_written_as_one_hand_writes_it(given: str, said: str) -> None:
    assert in_one_hand(given).text == said
    assert in_one_hand(said).text == said


@together(("given", "said"), USUAL.items())
def test_usual_words_stand_for_others_unless_those_explain_them(given: str, said: str) -> None:
    assert in_usual_words(MappedText.of(given)).text == said


WRAPPED = """Cuff
Cast on 48 sts, and join in the
round without a twist. Work in k2,
p2 rib for 12 rounds. Then knit to
the end of the round and carry on
plain until the leg is 6 inches or
as long as you like it to be. (48
sts)

Heel
Knit 24 and turn. The heel is on
these 24 sts; leave the others on
hold.
Row 1 (WS): Sl 1, p22, p2tog, turn.
"""


def test_lines_that_were_wrapped_are_whole_again_and_keep_their_places() -> None:
    found = in_one_hand(WRAPPED)
    lines = found.text.split("\n")
    assert lines[:2] == ["Cuff", " ".join(WRAPPED.split("\n")[1:8])]
    assert lines[-2] == "Row 1 (WS): Sl 1, p22, p2tog, turn."
    assert found.place(2, lines[1].index("rib") + 1) == (4, 4)
    assert found.place(len(lines) - 1, 13) == (14, 13)
    assert found.last_line(2) == 8


def test_what_is_said_of_a_text_in_another_hand_names_its_own_lines() -> None:
    text = "**Setup**\nCast on 10 sts. Join in the round.\n**Rnd 1:** *K2, p2; rep from * to end."
    (said,) = review(text).without_notes().findings
    assert (said.line, said.column) == (3, text.split("\n")[2].index("*K2") + 1)
    assert explain(text).lines[-1].text == text.split("\n")[2]


SMALL = ("03-", "16-", "19-", "20-", "22-", "24-", "58-")


def test_a_sample_of_right_texts_in_other_words_is_read_as_before() -> None:
    rights: list[Right] = [right_text(one) for one in all_texts() if one.name.startswith(SMALL)]
    bad = {}
    for number, kind in enumerate([*KINDS, *LAYOUTS]):
        for right in rights[number % len(rights) :] + rights[: number % len(rights)]:
            made = reworded(right, kind, random.Random(f"7 {kind}"))
            if made is not None:
                if said := broken(right, made.lines):
                    bad[made.how] = [right.one.name, *said[:2]]
                break
    assert bad == {}


def test_a_text_that_means_something_else_is_not_read_as_before() -> None:
    right = right_text(next(one for one in all_texts() if one.name.startswith("16-")))
    lines = [attrs.evolve(one, text=one.text.replace("k2tog", "k3tog")) for one in right.lines]
    assert broken(right, lines)
