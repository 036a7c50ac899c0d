# ruff: noqa: E501 - what is expected stands on one line
"""What people say by the way leaves what is to be done as it is (common practice)."""

from __future__ import annotations

from loopwright.pattern import write
from loopwright.pattern._reading.reader import read_closely
from together import together

LEADS = (
    "Next,", "First,", "To begin,", "After that,", "When you are ready,", "Once the cuff is done,",
    "With the smaller needles,", "Using 2.5 mm needles,", "Change to larger needles and",
)  # fmt: skip
TAILS = (
    "with the smaller needles", "on US 3 needles", "keeping an even tension", "with RS facing",
    "at a comfortable tension", "before you go on", "for your size", "as you go",
)  # fmt: skip
WORKS = (
    "knit 3 rounds",
    "work 10 rounds in k1, p1 rib",
    "work in stocking stitch for 5 cm",
    "knit until piece measures 5 cm",
    "purl 1 round",
    "decrease 4 sts evenly on the next round",
    "next round: *k8, k2tog; rep from * to end",
    "round 3: k20, place marker, knit to end",
    "bind off all sts",
    "turn and purl 20",
    "knit 20, turn",
    "divide the sts over 2 needles, 20 on each",
    "place the next 20 sts on waste yarn",
)


def steps(said: str) -> list[str]:
    told = f"Cast on 40 sts. Join in the round.\nRounds 1-2: Knit.\n{said}\n"
    lines = write(read_closely(told, go_on=True).pattern).splitlines()
    return [line for line in lines if line and not line.startswith(("#", "Note:"))]


@together("worked", WORKS)
def test_words_by_the_way_change_nothing(worked: str) -> None:
    there = steps(f"{worked.capitalize()}.")
    assert len(there) > 3
    for lead in LEADS:
        assert steps(f"{lead} {worked}.") == there, lead
    for tail in TAILS:
        assert steps(f"{worked.capitalize()} {tail}.") == there, tail


@together(
    ("told", "expected"),
    [
        ("K20, turn the sock inside out.", "K20."),  # no order to work back
        ("With the right side facing, turn, p20.", "Turn, p20."),
        ("Knit 1 round without shaping.", "Rnd 3: Knit."),
        ("Knit until piece measures 5 cm from the rib.", "Next 5 cm: Knit."),
        ("Knit until it is 5 cm short of your foot.", "Until piece is 5 cm short of the length wanted: Knit."),
    ],
)  # fmt: skip
def test_words_that_say_something_are_kept(told: str, expected: str) -> None:
    assert steps(told)[-1] == expected
