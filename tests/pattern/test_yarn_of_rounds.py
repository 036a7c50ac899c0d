# ruff: noqa: E501 - what is said stands on one line
"""In which yarn each round is worked, as people tell it (common practice)."""

from __future__ import annotations

from loopwright.pattern import knit
from loopwright.pattern._reading.reader import read_closely
from together import together


def yarns(text: str) -> str:
    """Return a letter for each course behind the cast-on: a is the yarn that is cast on."""
    fabric = knit(read_closely(text, go_on=True).pattern)
    by_course = {
        int(course): int(strand)
        for course, strand in zip(fabric.course, fabric.strand, strict=True)
    }
    return "".join("abc"[by_course[course]] for course in sorted(by_course)[1:])


@together(
    ("told", "expected"),
    [
        ("Knit 2 rounds in CC. Knit 1 round with MC.", "bba"),
        ("Knit one round MC. Work 3 rounds of st st in CC.", "abbb"),
        ("Knit 2 rounds in contrast colour. Purl 1 round in the main colour.", "bba"),
        ("Work 2 rounds of k2, p2 rib in CC. Rib 1 round with MC.", "bba"),
        ("Knit 2 rounds in stocking stitch. Knit 1 round.", "aaa"),
        ("Stripe round 1: With B, knit.\nStripe round 2: With MC, knit.\nRep stripe rounds 1 and 2 twice more.", "bababa"),
        ("Dark round: With B, knit.\nLight round: Using MC, knit.\nWork a dark round and a light round twice more.", "bababa"),
        ("Knit 2 rounds.\nKnit 1 round in CC.\nRepeat these 3 rounds twice more.", "aabaabaab"),
        ("Rnd 1: Knit.\nRnd 2: With CC, knit.\nRep rnds 1 and 2 once more.", "abab"),
        ("Rnds 1 and 2: Knit.\nRnd 3: With CC, knit.\nRep rnds 1-3 once more.", "aabaab"),
        ("Knit 1 round.\nChange to CC. Knit 2 rounds.\nRep the last 3 rounds once more.", "abbabb"),
        ("With CC, knit 1 round. With MC, knit 1 round. Repeat these 2 rounds once more.", "baba"),
        ("Rnd 1: With B, *k2, p2; rep from * to end.\nRnd 2: With MC, as rnd 1.\nRep rnds 1 and 2 once more.", "baba"),
        ("\nStripe sequence\n\nKnit 2 rounds.\nKnit 1 round with CC.\nWork the stripe sequence twice in all.", "aabaab"),
        ("\nStripe sequence\n\nKnit 1 round with CC.\nKnit 1 round with MC.\nWork the stripe sequence twice more.", "bababa"),
    ],
)  # fmt: skip
def test_rounds_are_worked_in_the_yarn_that_is_told(told: str, expected: str) -> None:
    assert yarns(f"Cast on 8 sts in MC. Join in the round.\n{told}") == expected


FORMS = (
    "{} in CC.", "{} with the contrast colour.", "{} using CC only.",
    "With CC, {}.", "Using CC {}.", "In the contrast colour, {}.", "Change to CC. {}.",
)  # fmt: skip


@together("form", FORMS)
@together(
    "worked",
    [
        "knit 2 rounds",
        "work 2 rounds in st st",
        "work in k2, p2 rib for 2 rounds",
        "*k2, p2; rep from * to end",
        "rounds 1-2: knit",
        "round 1: *k2, p2; rep from * to end",
        "next round: *k2, k2tog; rep from * to end",
        "knit one round, decreasing 4 sts evenly",
        "knit one round plain",
    ],
)
def test_a_yarn_before_or_behind_the_work_is_that_of_all_of_it(worked: str, form: str) -> None:
    begins = form.startswith("{") or ". {" in form
    said = form.format(worked.capitalize() if begins else worked)
    found = yarns(f"Cast on 48 sts in MC. Join in the round.\nKnit 1 round.\n{said}\n")
    assert found[0] == "a", said
    assert set(found[1:]) == {"b"}, said
