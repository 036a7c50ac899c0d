# ruff: noqa: E501 - a wording stands on one line
"""Clauses whose words stand in any order (wordings: common practice)."""

from __future__ import annotations

import pytest

from loopwright.errors import PatternSyntaxError
from loopwright.pattern import review
from loopwright.pattern._reading.free_adjuncts import without_adjunct
from loopwright.pattern._reading.free_repeats import GoingOn, going_on_in
from loopwright.pattern._reading.reader import read_closely
from loopwright.pattern._rewording.mapped import MappedText
from together import together

DEC = GoingOn(kind="dec", stride=2, target=28)
SEVEN = GoingOn(kind="dec", stride=2, times=7)
SAME = (
    (DEC, "Decrease on every other round until 28 sts remain."),
    (DEC, "Every other round, work the decrease round until 28 sts remain."),
    (DEC, "On alternate rounds decrease in the same way until there are 28 sts."),
    (DEC, "Decrease in the same places on every 2nd round down to 28 sts."),
    (DEC, "Go on decreasing at both sides on every other round until 28 sts remain, changing to dpns when there are too few sts."),
    (DEC, "Continue decreasing in this manner, 4 sts on every other round, until 28 sts remain."),
    (DEC, "Decrease 4 sts in this way on every alternate round until 28 sts remain."),
    (DEC, "Now decrease every other round, 4 sts each time, until only 28 sts are left."),
    (DEC, "Keep decreasing every second round in the same manner until you have 28 sts."),
    (DEC, "Dec 4 sts every other rnd as before to 28 sts."),
    (DEC, "Make the decreases on every second round until 28 sts remain (14 on each needle)."),
    (DEC, "Cont to dec as set on next and every alt rnd until 28 sts rem."),
    (DEC, "Dec 4 sts as before on every foll alt rnd until 28 sts rem."),
    (DEC, "Work one plain round and one decrease round alternately until 28 sts remain."),
    (SEVEN, "Decrease at each side of the toe on every other round 7 more times."),
    (SEVEN, "Do the decrease round 7 more times, on every other round."),
    (SEVEN, "Decrease like this 7 more times on every other round."),
    (GoingOn(kind="dec", stride=1, target=16), "From now on decrease on every single round, to 16 sts."),
    (GoingOn(kind="dec", stride=1, target=16), "Leave out the plain rounds and decrease until 16 sts remain."),
    (GoingOn(kind="shaping", stride=2, target=28), "Continue to shape the toe on alternate rounds until 28 sts remain."),
    (GoingOn(kind="inc", stride=3, target=53), "Inc in this way on every 3rd rnd until there are 53 sts."),
    (GoingOn(kind="inc", stride=3, times=6, total=True), "Work the increase round every third round 6 times in all."),
    (GoingOn(target=28), "Work on like this until 28 sts remain."),
    (GoingOn(numbers=(1,), stride=2, target=28), "Work as round 1 every other round until 28 sts are left."),
    (GoingOn(numbers=(1, 2), target=28), "Alternate Rnds 1 and 2 until 28 sts remain."),
    (GoingOn(last=2, times=7), "These two rounds are worked 7 more times."),
    (GoingOn(last=3, target=53), "Keep repeating the last three rounds until there are 53 sts."),
)  # fmt: skip


@together(("means", "said"), SAME)
def test_what_goes_on_is_understood_in_any_order(means: GoingOn, said: str) -> None:
    assert going_on_in(said, None) == means


@pytest.mark.parametrize(
    "said",
    [
        "Decrease on every other round until the thumb fits.",  # no end that can be counted
        "Decrease 4 sts on wet rounds until 28 sts remain.",  # a word that is not known
        "Decrease until 40 sts remain, until 28 sts remain.",  # two ends
        "Until 28 sts remain.",  # nothing to go on with
    ],
)
def test_what_is_not_understood_in_full_is_not_read(said: str) -> None:
    assert going_on_in(said, None) is None


def test_an_end_that_names_no_number_takes_the_one_behind_the_sentence() -> None:
    said = "Decrease every 2nd round until all needles have the same number of sts again"
    assert going_on_in(said, 56) == GoingOn(kind="dec", stride=2, target=56)
    assert going_on_in(said, None) is None


TOE = (
    "Cast on 60 sts. Join in the round.\nRnd 1: Knit.\nDivide sts over 2 needles: 30, 30.\n"
    "Dec round: On each needle, k1, ssk, k to last 3 sts, k2tog, k1. 56 sts.\n"
)
CROWN = "Cast on 80 sts. Join in the round.\nRnd 1: *K8, k2tog; rep from * to end. 72 sts.\nRnd 2: Knit.\n"


def read_after(text: str) -> tuple[list[str], int]:
    reading = read_closely(text, go_on=True, explain=True)
    assert reading.errors == ()
    found = [one.message for one in review(text).findings if one.severity == "error"]
    return found, [line.after[0] for line in reading.lines if line.after][-1]


def test_shaping_that_misses_its_count_is_called_wrong() -> None:
    found, _ = read_after(TOE + "Decrease in this way on every other round until 26 sts remain.")
    assert any("misses 26" in message for message in found)


def test_a_crown_takes_a_stitch_less_in_each_part() -> None:
    said = (
        "Continue decreasing in this manner, 8 stitches on every other round, until 40 sts remain."
    )
    found, after = read_after(CROWN + said)
    assert (found, after) == ([], 40)
    text = CROWN + said
    rows = [step for line in read_closely(text, explain=True).lines for step in line.steps]
    assert "amount=4" in str(rows[-1])  # k4, k2tog: the last that leaves 40


def test_what_is_read_freely_fits_or_is_not_read() -> None:
    right = "Knit across the 20 instep sts to end the round."
    before = "Cast on 40 sts. Join in the round.\nRnd 1: Knit.\nK20.\n"
    assert read_after(before + right)[1] == 40
    with pytest.raises(PatternSyntaxError):
        read_closely(before + right.replace("20 instep", "23 instep") + " 40 sts.")


@together(
    ("said", "bare"),
    [
        ("work 40 rows in garter stitch for the top of the foot", "work 40 rows in garter stitch"),
        ("knit 20 to end the round", "knit 20"),
        ("with the right side facing, knit 20", "knit 20"),
        ("knit 14, working each one off as one stitch", "knit 14"),
        ("knit 20", None),
    ],
)
def test_words_beside_an_instruction_are_left_out(said: str, bare: str | None) -> None:
    found = without_adjunct(MappedText.of(said))
    assert (None if found is None else found.text) == bare
