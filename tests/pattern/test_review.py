"""Each thing that a review looks at, with the smallest pattern that has it wrong, and one right."""

from __future__ import annotations

import json

import pytest

from loopwright.errors import KnitError
from loopwright.pattern import Pattern, explained, instructions, knit, read, review, write
from loopwright.pattern._editing.findings import Finding

HEAD = (
    "# Quay socks\nSizes: S (M)\nYarn: 100 g\nGauge: 30 sts and 42 rnds = 10 cm\n"
    "Abbreviations: k = knit; p = purl; k2tog = knit 2 together; ssk = slip, slip, knit; "
    "rep = repeat; rnd = round; st = stitch\n"
)
SOUND = HEAD + (
    "Cast on 48 (56) sts.\nJoin in the round.\nDivide sts over 2 needles: 24 (28), 24 (28).\n"
    "Next 5 cm: *K2, p2; rep from * to end. (48 (56) sts)\n"
    "Rnd 1: On each needle: k1, ssk, k to last 3 sts, k2tog, k1.\nRnd 2: Knit.\n"
    "Rep rnds 1 and 2 until 16 sts remain, ending with rnd 1. (16 sts)\n"
    "Graft the sts of the two needles together.\nWeave in all ends.\n"
)


def found(text: str, kind: str) -> list[Finding]:
    return list(review(text).of(kind))


def test_a_sound_pattern_has_no_findings() -> None:
    assert review(SOUND).findings == ()
    assert review(SOUND).ok
    assert "nothing to mend" in str(review(SOUND))


# ruff: noqa: E501 - a breaker stands on one line
# What is changed in the sound pattern, the finding's kind, line, column, words, sizes.
BREAKERS = [
    ("24 (28), 24 (28)", "24 (28), 24 (26)", "needles", 8, 1, "28 + 26 = 54 sts", ("M",)),
    ("k2tog, k1.", "k2tog, k2.", "count", 10, 57, "k2 needs 2 sts, 1 is left", ("S", "M")),
    ("k2tog, k1.", "k2tog.", "count", 10, 8, "1 is left over on needle 1", ("S", "M")),
    ("until 16 sts", "until 18 sts", "count", 12, 1, "misses 18", ("S", "M")),
    ("rnd 1. (16 sts)", "rnd 1. (18 sts)", "count", 12, 59, "states 18 sts", ("S", "M")),
    ("*K2, p2", "*K2, p1", "multiple", 9, 12, "56 sts are no multiple of 3", ("M",)),
    ("Graft the sts of the two needles together.\n", "", "secured", 13, 1, "still live", ("S", "M")),
    ("48 (56) sts.\nJ", "48 (56, 64) sts.\nJ", "sizes", 6, 1, "3 entries for 2 sizes", ()),
    ("ssk = slip, slip, knit; ", "", "abbreviations", 5, 1, "not explained: ssk", ()),
    ("rep = repeat;", "rep = repeat; yo = yarn over;", "abbreviations", 5, 1, "never used: yo", ()),
    ("Next 5 cm", "Next 5 cm (3 in)", "conversion", 9, 6, "5 cm are 2.0 in, not 3", ()),
    ("Weave in all ends.\n", "", "order", 13, 1, "ends are not woven in", ("S", "M")),
    ("Yarn: 100 g\n", "", "head", 1, 1, "does not state materials", ()),
    ("48 (56) sts.\nJ", "48 (40) sts.\nJ", "grading", 6, 1, "do not grow", ()),
    ("Graft", "Bind off 1 st. Graft", "halves", 13, 16, "15 sts", ("S", "M")),
    ("48 (56) sts.\nJ", "48 (56) stz.\nJ", "syntax", 6, 17, "found 'stz'", ()),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "kind", "line", "column", "words", "sizes"), BREAKERS)
def test_what_is_broken_is_found_there(
    old: str, new: str, kind: str, line: int, column: int, words: str, sizes: tuple[str, ...]
) -> None:
    assert SOUND.count(old) == 1
    matching = [one for one in found(SOUND.replace(old, new), kind) if words in one.message]
    assert [(one.line, one.column, one.sizes) for one in matching] == [(line, column, sizes)]


MISNUMBERED = "expected number 2, found 3: was a row left out, or misnumbered?"


def test_numbers_of_rounds() -> None:
    (one,) = found("Cast on 8 sts. Join in the round.\nRnd 1: Knit.\nRnd 3: Knit.\n", "numbers")
    assert (one.line, one.column, one.message) == (3, 1, MISNUMBERED)


def test_sides_of_rows() -> None:
    text = "Cast on 8 sts.\nRow 1 (RS): Knit.\nRow 2 (RS): Purl.\nRow 3 (RS): Knit.\n"
    (one,) = found(text, "side")
    assert (one.line, one.message) == (3, "stated for the RS, but the WS faces here")


def test_one_row_that_is_repeated_alone_is_worked_on_both_sides() -> None:
    alone = "Cast on 8 sts.\nRow 1 (RS): Knit.\nRep row 1 another 4 times.\n"
    assert found(alone, "side") == []
    of_two = "Cast on 8 sts.\nRow 1 (RS): Knit.\nRow 2 (WS): Purl.\nRep row 2 another 4 times.\n"
    (one,) = found(of_two, "side")
    assert "stated for the WS, but the RS faces here" in one.message


def test_halves_before_grafting() -> None:
    text = "Cast on 20 sts. Join in the round.\nDivide sts: instep 8, sole 12.\nGraft the sts together.\n"
    (one,) = found(text, "halves")
    assert (one.line, one.message) == (3, "instep has 8 sts and sole 12")


def test_waste_yarn_and_holders_left_behind() -> None:
    text = (
        "Cast on 20 sts. Join in the round.\nWith waste yarn, knit next 10 sts called heel; slip them "
        "back.\nRnd 1: Knit.\nPlace next 4 sts on a holder as thumb.\n"
    )
    assert [one.message for one in found(text, "waste")] == ["waste yarn heel is never taken out"]
    messages = [one.message for one in found(text, "secured")]
    assert "4 sts are held as thumb and never returned to the needle" in messages


@pytest.mark.parametrize(
    ("first", "many"),
    [("We shall leave the thumb waiting.", 0), ("We shall leave nothing out.", 1)],
)
def test_a_thumb_that_is_to_wait_is_not_forgotten(first: str, many: int) -> None:
    text = (
        f"A first mitten\n\n{first}\n\nCast on 20 sts.\nRow 1: Knit.\n"
        "Place next 4 sts on a holder as thumb.\nKnit to end.\nRow 3: Purl.\nBind off.\n"
    )
    assert len([one for one in found(text, "secured") if "never returned" in one.message]) == many


def test_stitches_above_waste_yarn_left_hanging() -> None:
    text = (
        "Cast on 20 sts. Join in the round.\nWith waste yarn, knit next 10 sts called heel; slip them "
        "back.\nRnds 1-2: Knit.\nTake out the waste yarn called heel.\n"
    )
    messages = [one.message for one in found(text, "secured")]
    assert "10 sts are left above waste yarn heel and never recaptured" in messages


@pytest.mark.parametrize(
    ("stated", "verdict", "severity"),
    [
        ("(40 sts)", "only '4 times in all' lets the counts follow", "warning"),
        ("(38 sts)", "only '4 times more' (5 in all) lets the counts follow", "note"),
        ("", "the counts do not tell which is meant", "warning"),
    ],
)
def test_both_readings_of_repeat_n_times(stated: str, verdict: str, severity: str) -> None:
    text = (
        "Cast on 48 sts. Join in the round.\nRnd 1: K1, k2tog, k to last 3 sts, ssk, k1.\n"
        f"Rep rnd 1 4 times. {stated}"
    )
    (one,) = found(text, "repeat")
    assert verdict in one.message
    assert (one.line, one.severity) == (3, severity)


def test_both_readings_inside_a_round() -> None:
    text = "Cast on 12 sts. Join in the round.\nRnd 1: *K1, p1; rep from * 6 times."
    (one,) = found(text, "repeat")
    assert "only '6 times in all' lets the counts follow" in one.message
    assert (one.line, one.column) == (2, 8)


def test_a_mistake_is_reported_once_and_the_walk_goes_on() -> None:
    text = "Cast on 8 sts. Join in the round.\nRnd 1: K9.\nRnd 2: K7.\nRnd 3: Knit. (8 sts)\nRnd 4: K5.\n"
    errors = [one for one in review(text).findings if one.severity == "error"]
    assert [one.line for one in errors] == [2, 5]


@pytest.mark.parametrize("words", ["US", "UK"])
def test_a_derived_list_of_abbreviations_is_neither_short_nor_long(words: str) -> None:
    pattern = read(
        "CO 8 sts. Join in the round. Rnd 1: K1 tbl, skp, k to last st, p1. Row 1 (RS): Sl 1 kwise, "
        "ds, k2 with wraps, w&t. Bind off all sts. Weave in all ends."
    )
    text = write(explained(pattern, words=words), words=words)
    assert not review(text).of("abbreviations")
    assert not explained(Pattern("", ()), words=words).abbreviations


def test_american_and_british_words_side_by_side() -> None:
    (one,) = found("Cast on 8 sts.\nBind off 3 sts.\nCast off 2 sts.\n", "words")
    assert (one.line, one.column) == (3, 1)


def test_wrapped_lines_keep_their_places() -> None:
    text = "Cast on 8 sts. Join in the round.\nRnd 1: K2,\n    k2tog, k9.\n"
    (one,) = found(text, "count")
    assert (one.line, one.column) == (3, 12)


def test_a_pattern_without_text_is_reviewed_too() -> None:
    steps = instructions("Cast on 8 sts. Join in the round. Rnd 1: K9.")
    (one,) = review(Pattern("", steps)).of("count")
    assert (one.line, one.column) == (0, 0)


def test_printed_like_a_compiler_and_for_machines() -> None:
    text = "Cast on 8 sts. Join in the round.\nRnd 1: K9."
    shown = review(text).shown("sock.txt").splitlines()
    assert shown[:3] == [
        "sock.txt:2:8: error: k9 needs 9 sts, 8 are left",
        "    Rnd 1: K9.",
        "           ^",
    ]
    data = json.loads(review(text).to_json("sock.txt"))
    assert data["ok"] is False
    assert data["findings"][0] == {
        "severity": "error", "kind": "count", "message": "k9 needs 9 sts, 8 are left",
        "line": 2, "column": 8, "sizes": [],
    }  # fmt: skip


FLAP = (
    "Cast on 20 sts. Join in the round.\nRnds 1-2: Knit.\nK10.\nPlace next 10 sts on a holder as "
    "instep.\nRow 1 (WS): P to end.\nRow 2 (RS): {row}\nRow 3 (WS): P to end.\nRep rows 2 and 3 another "
    "3 times (4 times in all).\nK10, pick up and knit {picked} sts along flap.\n"
)


@pytest.mark.parametrize(
    "row", ["*K1, sl 1 pwise; rep from * to end.", "K to last st, sl 1 pwise."]
)
def test_the_chain_of_stitches_slipped_at_the_end_of_rows_is_counted(row: str) -> None:
    """Nine rows: a stitch for every two, and one in the base (counted by hand)."""
    text = FLAP.format(row=row, picked=6)
    assert not review(text).of("edge", "work")
    (one,) = review(FLAP.format(row=row, picked=14)).of("edge")
    assert one.message == "14 sts are picked up along 5 edge stitches"


@pytest.mark.parametrize("edge", ["the left side edge", "cast-on edge", "edge"])
def test_a_band_on_a_finished_piece_is_no_mistake(edge: str) -> None:
    """Whether the edge has so many stitches is not looked at: it is not next to the work."""
    text = (
        "Cast on 20 sts.\nRows 1-20: Knit.\nBind off all sts.\n"
        f"Pick up and knit 10 sts along {edge}.\nRow 1: Knit.\nBind off all sts.\n"
    )
    found = review(text)
    assert [(one.severity, one.kind, one.line) for one in found.of("edge", "work")] == [
        ("note", "edge", 4)
    ]
    with pytest.raises(KnitError, match="next to the work only, and none is there"):
        knit(read(text))


_SLIPPING = "Cast on 8 sts. Join in the round.\nRnd 1: *Sl 1, k1; rep from * to end.\n"


@pytest.mark.parametrize(
    "listed",
    [
        "st(s) = stitch(es); RS, WS = sides; tog = together; k = knit; sl = slip as if to purl",
        "st(s), stitch(es); RS, WS, sides; k, knit; sl, slip purlwise",
        "st = stitch, k = knit, sl = slip as if to purl",
    ],
)
def test_a_list_of_abbreviations_is_read_in_each_of_its_forms(listed: str) -> None:
    text = (
        f"# Cowl\n\nAbbreviations: {listed}\n\n{_SLIPPING}WS: nothing. RS: k2tog is not worked.\n"
    )
    said = [one.message for kind in ("abbreviations", "slip") for one in review(text).of(kind)]
    assert [one for one in said if "no list" in one or " st" in one or "sl" in one.lower()] == []


def test_what_lies_under_the_heading_abbreviations_may_share_a_line() -> None:
    text = "# Cowl\n\nABBREVIATIONS\nM1L: lift the strand. ssk: slip, slip, knit.\n\nCUFF\n"
    told = read(f"{text}Cast on 8 sts. Join in the round.").abbreviations
    assert [short for short, _ in told] == ["M1L", "ssk"]


def test_a_gauge_that_lacks_its_rows_is_not_said_to_be_missing() -> None:
    text = SOUND.replace("Gauge: ", "Gauge: about ").replace(" and 40 rnds", "")
    assert "does not state gauge" not in str(review(text))


def test_numbers_far_apart_are_doubted_in_words_that_are_read_by_meaning() -> None:
    """A count that misses by a few stitches is a slip; by many, it is more likely misread."""
    said = "CO 60 sts and join.\nWork even in St st for an inch.\nKnit one round: {} sts.\n"
    levels = [next(one.severity for one in found(said.format(many), "count")) for many in (58, 50)]
    assert levels == ["error", "warning"]
    (own,) = found("Cast on 60 sts. Join in the round.\nRnd 1: Knit. (20 sts)", "count")
    assert own.severity == "error"


def test_a_note_that_comes_again_is_printed_once() -> None:
    rows = "Row 1: Sl 1, k3, turn.\nRow 2: Sl 1, p3, turn.\nRow 3: sl 1, k3, turn.\n"
    found = review("Cast on 4 sts.\n" + rows + "Bind off.\nWeave in ends.")
    assert len(found.of("slip")) == 3
    printed = found.shown()
    assert printed.count("does not say kwise or pwise") == 1
    assert "2:8: note: Sl does not say kwise or pwise; read as pwise; also in lines 3, 4" in printed


SLEEVES = (
    "Cast on {} sts, long-tail.\nRows 1-2: Knit.\nPlace next 10 sts on a holder as left.\n"
    "Place next {} sts on a holder as right.\nBind off all sts.\n\n## Sleeves ({})\n"
    "Return to needle the sts held as left.\nRows 3-4: Knit.\nBind off all sts.\n"
)


@pytest.mark.parametrize(
    ("cast_on", "right", "how", "waits"),
    [(30, 10, "both alike", False), (28, 8, "both alike", True), (30, 10, "long", True)],
)
def test_what_is_worked_as_another_of_as_many_stitches_does_not_wait(
    cast_on: int, right: int, how: str, waits: bool
) -> None:
    found = review(SLEEVES.format(cast_on, right, how)).findings
    said = f"{right} sts are held as right and never returned to the needle"
    assert [one.message for one in found if "held" in one.message] == [said] * waits
