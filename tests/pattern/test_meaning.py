"""What sentences mean where they stand, each kind with its smallest case; all common practice."""

from __future__ import annotations

from contextlib import suppress

import pytest

from loopwright.errors import ArgumentError, LoopwrightError
from loopwright.pattern import (
    WORDINGS,
    OwnWording,
    Round,
    Run,
    To,
    explain,
    in_words,
    instructions,
    knit,
    of_size,
    read,
    review,
    write,
)
from loopwright.pattern._editing.findings import NOTE
from loopwright.pattern._reading.reader import read_closely
from loopwright.pattern._rewording.wordings import USUAL
from together import together

TUBE = "Cast on 24 sts and join in the round.\n"


def said(text: str) -> list[str]:
    """Return what a text is read as, in our words, step by step."""
    return [in_words(step) for step in read(text).steps]


@together(
    ("text", "ours"),
    [
        ("Work 5 rnds in k2, p2 rib.", "Rnds 1-5: *K2, p2; rep from * to end."),
        ("Knit 4 rounds straight.", "Rnds 1-4: Knit."),
        ("Knit 2, purl 2 all the way round.", "Rnd 1: *K2, p2; rep from * to end."),
        (
            'Work even in St st until piece measures 6".',
            "Until piece measures 6 in from cast-on: Knit.",
        ),
        (
            'Knit every round until foot measures 2" less than desired length.',
            "Until piece is 2 in short of the length wanted: Knit.",
        ),
        ("1st round: K2tog to end = 12 sts.", "Rnd 1: K2tog to end. (12 sts)"),
        ("Rnd 1: Knit, decreasing 4 sts evenly.", "Rnd 1: [K4, k2tog] 4 times, k to end."),
        ("Bind off loosely in rib.", "Bind off all sts."),
        ("Break yarn, thread through sts and fasten off.",
         "Cut yarn, draw it through the remaining sts and pull tight."),
    ],
)  # fmt: skip
def test_a_sentence_is_written_in_our_words(text: str, ours: str) -> None:
    assert said(TUBE + text)[2:] == [ours]


def test_rows_refer_to_rows() -> None:
    text = TUBE + "Rnd 1: *K2, p2; rep from * to end.\nRnd 2: Knit.\nRnd 3: As rnd 1.\n"
    assert read(text).steps[4] == read(text).steps[2]
    more = read(text + "Rep these 2 rnds 3 times more.").steps[-1]
    assert in_words(more).endswith("another 3 times (4 times in all).")


def test_work_goes_on_as_it_was_set() -> None:
    text = TUBE + "Rnd 1: *K2, p2; rep from * to end.\nWork 3 rnds in rib as established.\n"
    assert said(text)[-1] == "Rnds 1-3: *K2, p2; rep from * to end."


def test_rounds_go_on_as_those_before_them_did() -> None:
    text = TUBE + (
        "Rnd 1: *K4, k2tog; rep from * to end. 20 sts.\nRnd 2: Knit.\n"
        "Rnd 3: *K3, k2tog; rep from * to end. 16 sts.\nRnd 4: Knit.\n"
        "Continue in this manner until 8 sts remain.\n"
    )
    assert said(text)[6:] == [
        "Rnd 1: *K2, k2tog; rep from * to end.",
        "Rnd 1: Knit.",
        "Rnd 1: *K1, k2tog; rep from * to end.",
    ]
    wrong = review(text.replace("until 8", "until 9")).of("count")
    assert [(one.line, one.message) for one in wrong] == [
        (6, "going on like this never gives 9 sts; or is a line above not read as it is meant?")
    ]


def test_a_heel_is_worked_over_some_of_the_stitches_only() -> None:
    text = TUBE + "The heel is worked over the first 12 sts only.\nRow 1 (RS): K12.\nRow 2: P12.\n"
    reading = read_closely(text, go_on=True, explain=True)
    assert [line.after for line in reading.lines[1:]] == [(12,)] * 3


def test_what_cannot_be_understood_stops_nothing() -> None:
    text = TUBE + "Rnd 1: Frobnicate to end.\nRnd 2: Knit. (20 sts)\nRnd 3: K21.\n"
    found = [one for one in review(text).findings if one.kind in ("unread", "count")]
    assert [(one.line, one.kind, one.severity) for one in found] == [
        (2, "unread", "note"),
        (4, "count", "warning"),  # the lost round may have done more than change the count
    ]


def test_what_lies_far_off_in_words_read_by_meaning_is_doubted() -> None:
    strict = "Cast on 24 sts. Join in the round.\n"
    loose = strict + "Work 3 rounds in plain knitting, as is usual.\n"
    cases = {
        "Rnds 1 and 2: K1.": "this round uses 1 of 24 sts",
        "Rnd 1: K to 18 sts before the end, p18, k9.": "k9 needs 9 sts",
    }
    for row, problem in cases.items():
        for given, severity in ((strict, "error"), (loose, "warning")):
            found = [one for one in review(given + row).findings if problem in one.message]
            doubt = ["or is a line above not read" in one.message for one in found]
            assert [one.severity for one in found] == [severity], (row, given)
            assert doubt == [severity == "warning"], (row, given)


def test_rows_that_never_come_to_their_end_are_given_up() -> None:
    """Ten thousand were tried, each with more turns to look through: a review took minutes."""
    text = "Cast on 20 sts.\nRow 1: K5, turn.\nRow 2: P5, turn.\n"
    (found,) = review(f"{text}Rep rows 1 and 2 until all sts have been worked.").of("limit")
    assert (found.line, found.message) == (4, "repeated 21 times, and sts are left unworked")


def test_a_number_for_fewer_sizes_fits_no_turn() -> None:
    text = (
        "Cast on 20 (24, 24, 28) sts.\nRow 1 (RS): K17 (18, 20, 21), turn.\n"
        "Row 2 (WS): DS, p7 (7, 9, 9), turn.\n"
        "Continue in this manner until all 28 (32, 36) sts have been worked.\n"
    )
    assert [one.line for one in review(text).of("sizes")] == [4]


def test_text_is_kept_as_text() -> None:
    text = "Harbour hat\n\nA hat for windy days; knit it twice!\nYarn: 50 g\n\n" + TUBE
    pattern = read(text)
    assert pattern.title == "Harbour hat"
    assert pattern.materials == ("Yarn: 50 g",)
    assert review(text + "Bind off.\nWeave in ends. Soak and dry flat.").ok


def test_the_table_of_wordings_is_data() -> None:
    ours = OwnWording("shrink", "k2tog", "shrink")
    step = read(TUBE + "Rnd 1: Shrink, k to end.", wordings=(*WORDINGS, ours)).steps[2]
    assert isinstance(step, Round)
    assert step.items[0] == Run("k2tog")


def test_own_words_are_reviewed_and_explained_as_they_are_read() -> None:
    words = (*WORDINGS, OwnWording("shrink", "k2tog", "shrink"))
    text = TUBE + "Rnd 1: Shrink, k to end. (22 sts)"
    (one,) = review(text, wordings=words).of("count")
    assert one.message == "states 22 sts; working it leaves 23"
    assert "K2tog, k to end." in str(explain(text, wordings=words))
    assert review(text).of("unread")


@pytest.mark.parametrize(
    ("wording", "argument"),
    [
        (OwnWording("shrink (", "k2tog", "shrink ("), "said"),
        (OwnWording("shrink", "k2tog", "widen"), "example"),
        (OwnWording("shrink", r"k2tog\2", "shrink"), "means"),
    ],
)
def test_own_words_that_cannot_work_are_refused(wording: OwnWording, argument: str) -> None:
    """Whether the text uses them or not."""
    for reader in (read, review, explain):
        with pytest.raises(ArgumentError) as refused:
            reader(TUBE + "Rnd 1: Knit.", wordings=(*WORDINGS, wording))
        assert (refused.value.operation, refused.value.argument) == ("OwnWording", argument)


@together("wording", WORDINGS, tests=4)
def test_each_wording_matches_its_example(wording: OwnWording) -> None:
    assert wording.compiled.search(wording.example)


def test_a_wording_keeps_places() -> None:
    words = USUAL.of("knit 2 together, k1")
    assert words.text == "k2tog, k1"
    assert words.at[words.text.index("k1")] == 17


class TestMistakesOfBefore:
    """Each mistake that readers met, with its smallest case."""

    def test_the_row_that_a_turn_ends_with(self) -> None:
        text = (
            "Cast on 12 sts.\nRow 1 (RS): K7, ssk, turn.\nRow 2: Sl 1, p2, p2tog, turn.\n"
            "Row 3: Sl 1, k2, ssk, turn.\nRep rows 2 and 3 until all sts have been worked, "
            "ending with row 2.\n"
        )
        assert not [one for one in review(text).findings if one.severity == "error"]

    def test_a_turn_that_ends_with_a_purl_row(self) -> None:
        text = (
            "Cast on 12 sts.\n1st row: K7, sl 1, k1, psso, turn.\n2nd row: Sl 1, p2, p2tog, turn.\n"
            "3rd row: Sl 1, k2, sl 1, k1, psso, turn.\nRep the 2nd and 3rd rows until all the side "
            "sts are used up, ending with a purl row. 4 sts are left.\n"
        )
        assert not [one for one in review(text).findings if one.severity == "error"]

    def test_the_last_marker_hangs_at_the_end_of_the_round(self) -> None:
        text = TUBE + (
            "Rnd 1: *K6, pm; rep from * to end.\n"
            "Rnd 2: *K to 2 sts before marker, k2tog, sm; rep from * to end. (20 sts)\n"
            "Rnd 3: Knit.\nRep rnds 2 and 3 until 8 sts remain.\nBind off.\nWeave in ends.\n"
        )
        assert not [one for one in review(text).findings if one.severity != NOTE]
        assert not len(knit(read(text)).live)

    @pytest.mark.parametrize(("text", "stitch"), [("Rnd 1: K.", "k"), ("Rnd 1: P.", "p")])
    def test_a_letter_alone_is_the_whole_round(self, text: str, stitch: str) -> None:
        assert instructions(text) == (Round([Run(stitch, To())]),)

    def test_needles_keep_their_stitches_through_a_ribbed_round(self) -> None:
        text = TUBE + (
            "Divide sts over 4 needles: 6, 6, 6, 6.\nNext 3 rnds: *K3, p1; rep from * to end.\n"
            "Rnd 1: Needle 1: k4, k2tog; needle 2: k4, k2tog; needle 3: knit; needle 4: knit.\n"
        )
        assert not review(text).of("count", "place", "needles")

    def test_one_wrong_count_is_one_finding(self) -> None:
        text = TUBE + "Rnd 1: K2tog, knit. (22 sts)\nRnd 2: K2tog, knit. (22 sts)\nRnd 3: K22.\n"
        errors = [one for one in review(text).findings if one.severity == "error"]
        assert [one.line for one in errors] == [2]

    def test_no_hint_offers_the_word_that_was_typed(self) -> None:
        for text in ("Row 1: These k2.", "With k2tog.", "Rnd 1: Instep k2."):
            for error in read_closely(TUBE + text, go_on=True).errors:
                assert f"mean {error.found.split(chr(39))[1].lower()}?" not in error.hint

    def test_a_turn_that_is_not_symmetrical(self) -> None:
        text = (
            "Cast on 20 sts.\nWork even in garter st for 2 rows.\nRow 1 (RS): K11, ssk, k1, turn.\n"
            "Row 2: Sl 1, p4, p2tog, p1, turn.\n"
        )
        assert [one.line for one in review(text).of("centre")] == [4]


def test_some_sizes_only_have_numbers_of_their_own() -> None:
    text = (
        "Sizes: S (M, L)\nCast on 8 (12, 16) sts and join in the round.\nRnd 1: Knit.\n"
        "Sizes M and L only: *K2tog; rep from * to end. 6 (8) sts\nRnd 2: Knit.\n"
    )
    assert not [one for one in review(text).findings if one.severity == "error"]
    assert read_closely(text, explain=True).lines[-1].after == (8, 6, 8)


@pytest.mark.parametrize(
    ("said", "counts"),
    [
        ("Man's size only: (K8, k2tog) 4 times.", (36, 36)),
        ("In the Man’s size only, (k8, k2tog) 4 times.", (36, 36)),
        ("If you are making the Man's size: (K8, k2tog) 4 times.", (36, 36)),
        ("Only for the Man's size: (K8, k2tog) 4 times.", (36, 36)),
        ("Woman's size: K2tog, k to end. Man's size: (K8, k2tog) 4 times.", (35, 36)),
        ("Woman only: K2tog, k to end. Man only: Knit 2 rounds.", (35, 40)),
        ("Man only: (K8, k2tog) 4 times. Both sizes: K2tog, k to end.", (35, 35)),
    ],
)
def test_a_size_is_called_by_whom_it_is_for(said: str, counts: tuple[int, ...]) -> None:
    text = f"Sizes: Woman (Man)\nCast on 36 (40) sts. Join in the round.\nRnd 1: Knit.\n{said}\n"
    assert read_closely(text, explain=True).lines[-1].after == counts
    assert not [one for one in review(text).findings if one.kind == "count"]


def test_a_swatch_may_show_decreases_that_lean_away() -> None:
    text = "Cast on 20 sts.\nKnit 4 rows.\n\nToe {}\nRow 1: K3, k2tog, k to last 5 sts, ssk, k3.\n"
    assert not review(text.format("against the slope")).of("lean")
    assert review(text.format("with the slope")).of("lean")


@pytest.mark.parametrize(
    "text",
    ["Rnd 1: *" * 40, "rep " * 90, "(" * 300, "K2, " * 150, "until measures " * 40, "1 [2: " * 60],
)
def test_odd_texts_are_read_or_refused(text: str) -> None:
    whole = TUBE + text
    with suppress(LoopwrightError):
        assert review(whole).shown()
    with suppress(LoopwrightError):
        pattern = read(whole)
        assert write(pattern)
        assert of_size(pattern, 0).size_count == 1


def test_a_row_is_not_turned_where_the_next_sentence_says_so() -> None:
    """A toe begun with a strip: "Do not turn" behind eight rows that are told as one."""
    text = (
        "Cast on 8 sts. Knit 8 rows. Do not turn. Continuing with the same needle and yarn, pick "
        "up and knit 4 sts along the short side, 8 sts along the cast-on edge, and 4 sts along "
        "the other short side. 24 sts.\nKnit the next 10 sts; the rnd now begins here. Put the "
        "first 12 sts on Needle 1 and the other 12 on Needle 2.\nRnd 1: Knit.\nBind off. "
        "Weave in ends.\n"
    )
    assert [one for one in review(text).findings if one.severity != "note"] == []


def test_both_sides_of_a_turn_add_up() -> None:
    text = (
        "Cast on 32 sts.\nRow 1 (RS): K31, w&t.\nRow 2 (WS): P30, w&t.\n"
        "There are 1 wrapped sts on each side of 30 plain ones.\nRow 3: Knit to end.\nBind off.\n"
    )
    assert not [one for one in review(text).findings if "on each side" in one.message]
    wrong = review(text.replace("of 30 plain", "of 28 plain")).findings
    assert [one.message for one in wrong if one.severity == "error"] == [
        "28 in the middle and 1 on each side are 30; there are 32"
    ]


@pytest.mark.parametrize("said", ["Women's S (Women's M)", "Women’s S (Women’s M)"])
def test_sizes_may_belong_to_somebody(said: str) -> None:
    text = f"Sizes: {said}\nCast on 40 (44) sts.\nSize Women's M only: Row 1: Knit.\nBind off."
    pattern = read(text)
    assert pattern.sizes == ("Women's S", "Women's M")
    assert read(write(pattern)) == pattern


def test_many_rounds_as_follows_are_the_row_behind_the_colon() -> None:
    text = (
        "Cast on 60 sts. Join in the round.\nWork 20 rnds as follows: *K2, p1; rep from * to end."
    )
    assert "Rnds 1-20: *K2, p1; rep from * to end." in write(read(text))


def test_a_schedule_may_count_with_a_cross() -> None:
    start = (
        "Cast on 88 sts. Join in the round.\nDec rnd: K1, k2tog, k to last 3 sts, ssk, k1. 86 sts."
    )
    times = "\nRepeat the dec rnd 6 times every 4th rnd, then 3 times every 2nd rnd. 68 sts."
    crosses = times.replace("6 times", "6 x").replace("3 times", "3x")
    assert read(start + crosses) == read(start + times)
    assert "6 times in all" in write(read(start + crosses))


def test_stripes_go_on_in_the_pattern_in_work() -> None:
    text = "Cast on 60 sts. Join in the round.\nWork 8 rnds in k2, p2 rib.\n"
    text += "Continue the stripes for 6 rnds."
    assert "Rnds 9-14: *K2, p2; rep from * to end." in write(read(text))


def test_what_is_measured_says_what_is_knitted() -> None:
    text = "Cast on 16 sts. Join in the round.\nWork k2, p2 rib for 2 cm.\n"
    read_as = write(read(text + "Knit until the stockinette part measures 5 cm."))
    assert "Next 5 cm: Knit." in read_as


@pytest.mark.parametrize("how_far", ["until work measures 4 cm", "for 5 rows"])
def test_stocking_stitch_may_begin_with_a_purl_row(how_far: str) -> None:
    text = "Cast on 20 sts.\nRow 1: Knit.\n"
    purled = write(read(f"{text}Beginning with a purl row, continue in st st {how_far}."))
    assert purled.split("\n")[2].startswith("Row 2: Purl.")
    knitted = write(read(f"{text}Beginning with a knit row, continue in st st {how_far}."))
    assert knitted.split("\n")[2].startswith("Row 2: Knit.")


@together(
    "told",
    [
        "Rib 4 cm in k2, p2.",
        "Rib for 4 cm in k2, p2.",
        "Rib 2 plain, 2 purl for 4 cm.",
        "Work in a rib of knit two, purl two for 4 cm.",
        "Work 4 cm in k2, p2 rib.",
    ],
)
def test_a_rib_is_knitted_as_a_rib(told: str) -> None:
    assert "Next 4 cm: *K2, p2; rep from * to end." in write(read(TUBE + told))


def test_rounds_of_another_kind_may_follow_behind_a_comma() -> None:
    rib = TUBE + "Work 4 rounds of k2, p2 rib.\nWork 6 rounds of stockinette, 5 rounds of rib."
    assert "Rnds 5-10: Knit.\nRnds 11-15: *K2, p2; rep from * to end." in write(read(rib))
