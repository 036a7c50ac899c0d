# ruff: noqa: E501 - a text stands on one line, long as it may be
"""Needles and colours by name, and stripes: a right text of each kind, and one with a slip.

That the needles of a round are told one after the other, each once, is common practice; so is that
what is used stands among the materials. Sums were made by hand.
"""

from __future__ import annotations

from loopwright.pattern import review
from loopwright.pattern._editing.colour_names import colour_names
from loopwright.pattern._editing.needle_names import needle_names
from loopwright.pattern._editing.stripe_sums import stripe_sums
from together import together

SIZES = "Needles: 3.25 mm and 4 mm.\nWith 3.25 mm needles cast on 60 sts.\nRib 8 rounds.\nChange to 4 mm needles.\n"
US = "US 6 and US 8 circulars.\nWith US 6, CO 80 sts.\nChange to US 8.\n"
SORTS = "Needles: 3.5 mm and 4 mm.\nWith smaller needles, CO 60 sts.\nChange to larger needles."
ROUNDS = "Rnd 1: N1: k1, ssk, k to end. N2: K. N3: K to last 3 sts, k2tog, k1.\nRnd 2: K across N1, N2 and N3.\nRnd 3: N1: K. N2: K. N3: K.\n"
BELOW = "Needle 1: Knit.\nNeedle 2: Knit.\nNeedle 3: Knit.\nKnit across needles 1 to 3.\n"
FOUR = "Rnd 1: Needle 1: K. Needles 2 and 3: Rib. Needle 4: K.\nNeedle 1: P. Needles 2 and 3: P. Needle 4: P."
HALVES = "Needle 1 holds the instep, Needle 2 the sole.\nWork across Needle 1. The heel is worked back and forth on the 30 sts of Needle 2."
NEEDLES = {
    "a size that is not there": (SIZES, "to 4 mm", "to 4.5 mm", "4.5 mm needles are used here; those listed are of 3.25 and 4 mm"),
    "a size that is in work": (SIZES, "to 4 mm", "to 3.25 mm", "the needles in work are of 3.25 mm already: is another size meant?"),
    "a number of the American system": (US, "to US 8", "to US 7", "needles of US 7 are used here; those listed are of US 6 and 8"),
    "the smaller ones, twice": (SORTS, "to larger", "to smaller", "the smaller needles are in work already: is the other size meant?"),
    "the larger ones, for those of another kind": ("Needles: US 8 dpns and circular; US 6 circular.\nWith larger dpns, CO 8 sts.\nChange to larger circular needle when you have enough sts.", "larger circular needle", "larger dpns", "the larger needles are in work already: is the other size meant?"),
    "one size alone": ("Needles: 4 mm.\nCO 60 sts.\nWork 8 rounds.", "Work 8 rounds", "Change to larger needles", "the materials list needles of one size only"),
    "a needle told twice": (ROUNDS, "N2: K. N3: K.\n", "N2: K. N2: K.\n", "needle 2 is told twice: is one of the two another needle's part?"),
    "a needle of a group told twice": (FOUR, "Needle 4: K", "Needle 3: K", "needle 3 is told twice: is one of the two another needle's part?"),
    "a needle of which only its number is said": (
        "Arrange 15 sts on 1st needle, 30 on 2nd and 15 on 3rd.\nRnd 1: 1st needle: K to last 3 sts, k2tog, k1. 2nd needle: K. 3rd needle: K1, ssk, k to end.\nRnd 2: Keep to the lace on 2nd needle.",
        "2nd and 15 on 3rd", "2nd and 15 behind it", "needle 3 is named here alone; the others are 1 to 2",
    ),
    "a needle that is nowhere else": (ROUNDS, "N3: K to last", "N5: K to last", "needle 5 is named here alone; the others are 1 to 3"),
    "a needle left out": (ROUNDS, "N2: K. N3: K to", "N3: K to", "needle 2 is left out of this round"),
    "needles line by line": (BELOW, "Needle 2: Knit", "Needle 3: Knit", "needle 3 is told behind needle 1: is 2 meant?"),
    "the first needle twice": (BELOW, "Needle 2: Knit", "Needle 1: Knit", "needle 1 is told twice: is one of the two another needle's part?"),
    "the heel on the instep": (HALVES, "sts of Needle 2", "sts of Needle 1", "needle 1 holds the instep: is needle 2 meant?"),
    "two halves on one needle": (HALVES, "instep, Needle 2", "instep, Needle 1", "needle 1 is the one of the instep, as was said before"),
}  # fmt: skip


@together("kind", NEEDLES)
def test_needles_are_those_of_the_text(kind: str) -> None:
    right, old, new, said = NEEDLES[kind]
    assert not list(needle_names(right))
    assert old in right
    told = [one.message for one in needle_names(right.replace(old, new, 1))]
    assert told[:1] == [said]


def test_a_needle_is_found_where_it_stands() -> None:
    (found,) = needle_names(SIZES.replace("to 4 mm", "to 4.5 mm"))
    assert (found.line, found.column) == (4, 11)


def test_a_needle_is_not_asked_about_where_few_are_named() -> None:
    assert not list(needle_names(HALVES.split("\n")[0] + "\nNeedle 2 waits. Needle 3 is spare."))


YARNS = "Yarn: 50 g MC and 20 g CC.\nWith MC, cast on 60 sts.\nKnit 9 rounds. Change to CC.\nKnit 2 rounds. Cut CC.\n"
CHART = "Yarn: MC 50 g, CC 25 g.\nRow 1: 4 MC, 1 CC, 3 MC\nRow 2: 3 MC, 3 CC, 2 MC\nWith MC, cast on 40 sts.\nRound 1: *K4 MC, k1 CC, k3 MC; rep from * to end."
LETTERS = "Wool: colour A 60 g, colour B 40 g\nUsing A, cast on 40 sts.\nKnit 4 rounds.\nHeel (B)\n2 rnds B\n"
COLOURS = {
    "a colour that is not there": (YARNS, "to CC", "to C", "there is no colour C; the yarns are CC and MC"),
    "a colour that is in work": (YARNS, "to CC", "to MC", "MC is in work already: is another colour meant?"),
    "one that is listed twice": (YARNS, "20 g CC", "20 g MC", "MC is listed twice: is one of them another colour?"),
    "one of a chart": (CHART, "1 CC, 3 MC", "1 C, 3 MC", "there is no colour C; the yarns are CC and MC"),
    "two runs of a chart": (CHART, "4 MC, 1 CC", "4 MC, 1 MC", "'4 MC, 1 MC' is one run of MC: is another colour meant?"),
    "two runs of a round": (CHART, "K4 MC, k1 CC", "K4 MC, k1 MC", "'K4 MC, k1 MC' is one run of MC: is another colour meant?"),
    "one of a heading": (LETTERS, "(B)", "(C)", "there is no colour C; the yarns are A and B"),
    "two runs at the head of a line": (
        "Yarn: 50 g MC and 20 g CC.\nWith MC, cast on 60 sts.\nk2 MC, k2 CC, k1 MC", "k2 CC", "k2 MC", "'k2 MC, k2 MC' is one run of MC: is another colour meant?",
    ),
    "one of a stripe": (LETTERS, "2 rnds B", "2 rnds D", "there is no colour D; the yarns are A and B"),
}  # fmt: skip


@together("kind", COLOURS)
def test_colours_are_those_of_the_yarns(kind: str) -> None:
    right, old, new, said = COLOURS[kind]
    assert not list(colour_names(right))
    assert old in right
    assert [one.message for one in colour_names(right.replace(old, new, 1))][:1] == [said]


def test_colours_of_one_yarn_or_none_are_not_asked_about() -> None:
    assert not list(colour_names("Yarn: 100 g.\nCast on 60 sts.\nStep C: change to C."))
    assert not list(colour_names(""))


STRIPES = "Stripe sequence: 4 rnds CC, 4 rnds MC; rep.\nKnit until you have worked 5 CC stripes and 5 MC stripes (40 rnds).\n"
EACH = "Stripes: *knit 6 rounds in red, knit 4 rounds in white; repeat from * to the toe. One stripe repeat is 10 rounds.\n"
STARRED = "Leg: *Knit 6 rounds MC, knit 2 rounds CC; rep from * 7 more times (64 rounds).\n"
BELOW_EACH = "STRIPE SEQUENCE (11 rnds)\n6 rnds A\n3 rnds B\n2 rnds C\n"
SUMS = {
    "stripes and rounds": (STRIPES, "40 rnds", "48 rnds", "10 stripes of 4 rounds make 40, not 48"),
    "a repeat": (EACH, "is 10", "is 12", "the stripes of a repeat make 10 rounds, not 12"),
    "one of its stripes": (EACH, "4 rounds", "5 rounds", "the stripes of a repeat make 11 rounds, not 10"),
    "repeats": (STARRED, "64", "56", "8 times 8 rounds are 64, not 56"),
    "a round more": (STARRED, "2 rounds", "3 rounds", "8 times 9 rounds are 72, not 64"),
    "stripes line by line": (BELOW_EACH, "3 rnds", "4 rnds", "the stripes of a repeat make 12 rounds, not 11"),
    "how many of them": (
        "6 rows in A and 6 rows in B by turns, until 33 stripes have been worked in all, the last of them in A (198 rows).", "198", "196",
        "33 stripes of 6 rounds make 198, not 196",
    ),
    "stripes told twice": (
        "Stripes: 4 rnds A, 4 rnds B.\nBegin the stripes with B: 4 rnds B, 4 rnds A.", "4 rnds B, 4 rnds A", "5 rnds B, 4 rnds A",
        "these stripes are of 5 and 4 rounds; before they were of 4 and 4",
    ),
}  # fmt: skip


@together("kind", SUMS)
def test_stripes_make_their_rounds(kind: str) -> None:
    right, old, new, said = SUMS[kind]
    assert not list(stripe_sums(right))
    assert old in right
    told = [one.message for one in stripe_sums(right.replace(old, new, 1))]
    assert told[:1] == [said]


def test_one_stripe_alone_is_no_sequence() -> None:
    assert not list(stripe_sums("6 rnds red\nThe stripe repeat is 8 rounds."))


def test_a_review_says_so_at_its_line() -> None:
    text = "Needles: 3 mm and 4 mm.\n\nWith 3 mm needles cast on 40 sts. Join in the round.\nRnd 1: *K2, p2; rep from * to end.\nChange to 5 mm needles.\nRnd 2: Knit.\nBind off."
    assert [one.line for one in review(text).of("needle")] == [5]
    assert not review(text.replace("5 mm", "4 mm")).of("needle")
