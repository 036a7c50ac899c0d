# ruff: noqa: E501 - a text stands on one line, long as it may be
"""What is told apart by little: a limit just met, a size, a section, a place in the line."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from loopwright.fabric import Fabric
from loopwright.pattern import RepeatRounds, Round, knit, read, review, write
from loopwright.pattern._editing.chains import chains
from loopwright.pattern._editing.findings import Finding
from loopwright.pattern._editing.girths import girths
from loopwright.pattern._editing.hands import hands
from loopwright.pattern._editing.rows_in_step import rows_in_step
from loopwright.pattern._editing.spoken import spoken
from loopwright.pattern._editing.sums import sums
from loopwright.pattern._editing.times_told import times_told
from loopwright.pattern._editing.told_sums import told_sums
from loopwright.pattern._editing.yarn_sums import yarn_sums
from loopwright.pattern._reading.star_blocks import stars_in
from loopwright.pattern._rewording.harmless import harmless
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.needle_by_needle import with_needles_ahead
from loopwright.pattern._rewording.stretches import in_stretches
from pattern.read_back import looked_at
from together import together

Look = Callable[[str], Iterator[Finding]]
BRIM = "Gauge: 20 sts = 10 cm\nBrim: {} sts, 20 cm around\nCast on 40 sts.\nKnit. 40 sts."
BALL = "Each 50 g / 200 m; the sample took 30 g and {} m"
BALL_LAST = "The sample took 30 g and {} m (each 50 g / 200 m)"
NDLS = (
    "Cast on 56 sts. 56 sts.\nDecrease round: work as follows\nNdl 1: knit to last 3 sts, k2tog, k1.\n"
    "Ndl 2: k1, ssk, knit to last 3 sts, k2tog, k1.\nNdl 3: k1, ssk, knit to end.\n"
    "Work this decrease round on every second round {} times = 36 sts."
)
STILL = (
    "Cast on 40 (48) sts.\nRound 1: K1, k2tog, k to last 3 sts, ssk, k1. 38 (46) sts.\n"
    "Round 2: Knit.\nRepeat rounds 1 and 2 2 (2) times. {} (42) sts."
)
ANEW = (
    "Cast on 40 sts.\nRow 1: K1, k2tog, k to end. 39 sts.\nRow 2: Purl.\nRow 3: Knit.\n"
    "Row 1: K2tog, k to last 2 sts, k2tog. 37 sts.\nRow 2: P to end.\n"
    "Repeat rows 1 and 2 2 more times. {} sts."
)


def _rows_in_step(text: str) -> Iterator[Finding]:
    return rows_in_step(spoken(text))


def _sums(text: str) -> Iterator[Finding]:
    return sums(spoken(text))


def _told_sums(text: str) -> Iterator[Finding]:
    return told_sums("", spoken(text))


def _times_told(text: str) -> Iterator[Finding]:
    return times_told(spoken(text))


def _chains(text: str) -> Iterator[Finding]:
    return chains(spoken(text))


def _hands(text: str) -> Iterator[Finding]:
    return hands(spoken(text))


# What is looked at, a text, and what is said of it, "" where it is right.
SAID: dict[str, tuple[Look, str, str]] = {
    "nine tenths of a girth": (girths, BRIM.format(36), ""),
    "less of it": (girths, BRIM.format(35), "20 cm around is printed; 35 sts at this gauge are 17.5 cm"),
    "a ball's ratio ahead": (yarn_sums, BALL.format(120), ""),
    "one that is not met": (yarn_sums, BALL.format(220), "200 m to 50 g make 120 m to 30 g, not 220"),
    "a ball's ratio behind": (yarn_sums, BALL_LAST.format(120), ""),
    "one behind that is not met": (yarn_sums, BALL_LAST.format(220), "200 m to 50 g make 120 m to 30 g, not 220"),
    "rows of two sections": (
        _rows_in_step,
        ("Crown\n\nRound 1: (k6, k2tog) 6 times.\nRound 2: (k5, k2tog) 6 times.\n\n"
        "Toe\n\nRound 1: (k3, k2tog) 6 times.\nRound 2: (k3, k2tog) 6 times."),
        "",
    ),
    "sections told for one size": (_sums, "Go on until there are 10 sts in each section: 80 (88) sts.", ""),
    "no stitch in a section": (_sums, "Go on until there are 0 (11) sts in each section: 80 (88) sts.", ""),
    "stripes of a round": (_told_sums, "Work 4 (5, 6) stripes: 8 (9, 10) rounds.", ""),
    "stripes that differ": (
        _told_sums, "Work 4 (5, 6) stripes: 8 (10, 13) rounds.",
        "4 (5, 6) times and 8 (10, 13) rows: the sizes do not differ alike",
    ),
    "a size that comes to its count": (_times_told, STILL.format(34), ""),
    "a size that stays as it is": (_times_told, STILL.format(38), "2 sts at a time, so often, make 34 (42) sts, not 38 (42)"),
    "needles below the name of their round": (_times_told, NDLS.format(5), ""),
    "such a round too often": (_times_told, NDLS.format(6), "from 56 to 36 sts, 4 at a time, are 5 times, not 6"),
    # which count the thumb would mirror in is not known
    "a thumb of one size": (
        _hands,
        ("Cast on 38 sts.\nInc rnd: 42 sts.\nInc rnd: 44 sts.\nRight thumb: k2, with waste yarn k7, k to end.\n"
        "Left thumb: k14, with waste yarn k7, k to end."),
        "",
    ),
    "rows told together that begin anew": (
        _chains,
        f"{ANEW.split('Row 1: K2tog')[0]}Rows 1 and 2: K1, k2tog, k to end. 37 sts.\nRepeat rows 1 and 2 2 more times. 35 sts.",
        "35 sts are stated; from the count before, there are 33",
    ),
    "rows that begin anew": (_chains, ANEW.format(33), ""),
    "a count that they do not give": (_chains, ANEW.format(35), "35 sts are stated; from the count before, there are 33"),
}  # fmt: skip


@together(("look", "text", "said"), SAID.values())
def test_what_is_said_of_a_text(look: Look, text: str, said: str) -> None:
    assert [one.message for one in look(text)] == ([said] if said else [])


def test_the_longest_line_that_is_looked_at() -> None:
    assert spoken("Knit 2 rounds. ".ljust(2000, "k"))
    assert not spoken("Knit 2 rounds. ".ljust(2001, "k"))


def test_what_a_needle_works_stands_where_it_is_told() -> None:
    """What is worked as on another needle stands where that is said."""
    text = "Rnd 1: Needle 1: k1, ssk. Needle 2: knit. Needle 3: as needle 1. Needle 4: as needle 2."
    found = with_needles_ahead(MappedText.of(text))
    own, again = (at for at in range(len(found.text)) if found.text.startswith("ssk", at))
    assert found.at[own] == text.index("ssk")
    assert found.at[again] == text.index("Needle 3")


def test_a_star_in_brackets_is_not_left_open() -> None:
    assert stars_in(["*Knit 2 rounds.", "(*K2, p2; work to end)."], None, 7) == (None, None)


def test_no_words_ask_for_nothing() -> None:
    assert harmless(" .")


def test_a_stretch_of_knit_rounds_amid_others() -> None:
    found = in_stretches(MappedText.of("8 rounds knit, k 2 rounds, purl 2 rounds"))
    assert [one.text for one in found or ()] == [
        "Knit 8 rounds.",
        "Knit 2 rounds.",
        "Purl 2 rounds.",
    ]


FLAT = "Cast on 30 sts.\nRow 1: K1, m1, k to last st, m1, k1. 32 sts.\nRow 2: Knit.\n"


@together("far", ["in row 7 on every RS row, for 10", "in row 1 on every RS row, for 9"])
def test_shaping_as_in_a_row_that_is_not_there_or_in_half_a_pair_is_not_read(far: str) -> None:
    text = f"{FLAT}Work in garter stitch, increasing as {far} rows."
    assert [one.line for one in looked_at(text).reading.errors] == [4]
    assert not looked_at(text.replace("row 7", "row 1").replace("for 9", "for 10")).reading.errors


def test_two_named_rounds_in_turn_of_which_none_is_plain_are_not_taken_for_a_plain_one() -> None:
    text = (
        "Cast on 60 sts. Join.\nRib rnd: *K2, p2; rep from * to end.\nDec rnd: *K1, ssk, k24, k2tog, k1;"
        " rep from * once more. 56 sts.\nAlternate the rib and the dec round until 28 sts are left."
    )
    assert any("read by its count only" in one.message for one in review(text).findings)


def test_rows_in_one_sentence_behind_brackets_that_are_closed() -> None:
    text = "Cast on 30 sts.\nRow 1: [K2, p2] 7 times, k2; row 2: purl; row 3: knit."
    assert len(read(text).steps) == 4


def test_a_heading_with_a_full_stop() -> None:
    titles = [
        one.title
        for one in read("Cast on 8 sts.\n\nHeel.\nKnit 3 rows.").steps
        if hasattr(one, "title")
    ]
    assert titles == ["Heel"]


def test_going_round_again_begins_a_sentence_where_it_does_in_the_text() -> None:
    text = (
        "Cast on 60 sts. Join.\nWork the first 30 sts in rows.\nRow 1: K30, turn.\nRow 2: Sl 1, p29, turn.\n"
        "Knit 30. Resume working in the round: knit 5 rounds."
    )
    (one,) = (one for one in review(text).findings if "still live" in one.message)
    assert one.column == 10


def test_a_round_of_which_no_stitch_would_be_left_is_not_gone_on_with() -> None:
    text = (
        "Cast on 40 sts. Join.\nDec round: *K1, k3tog; rep from * 9 more times. 20 sts.\n"
        "Continue to decrease like this on every other round until 10 sts remain."
    )
    assert [one.line for one in looked_at(text).reading.errors] == [3]


def test_what_follows_a_thumb_in_waste_yarn_is_a_round() -> None:
    text = (
        "Cast on 48 sts. Join.\nThumb round: K37, with scrap yarn k9, slip the 9 sts back and work "
        "them in pattern, k to end.\nNext: Knit."
    )
    assert isinstance(read(text).steps[-1], Round)


def test_a_turn_told_twice_is_one() -> None:
    text = "Cast on 60 sts. Join.\nWork the first 30 sts in rows.\nRow 1: K30, turn.\nTurn and purl 30."
    assert any("30 held as instep" in one.message for one in review(text).findings)


def test_of_rows_worked_twice_the_last_is_left_unturned() -> None:
    text = (
        "Cast on 30 sts.\nRow 1: Knit.\nRow 2: Purl.\n"
        "Rep rows 1 and 2 once more, but do not turn at the end of the last row."
    )
    assert not any(isinstance(step, RepeatRounds) for step in read(text).steps)


def test_lettered_rows_are_all_worked_again() -> None:
    text = (
        "CO 3 and k one row.\nA) K1, m1, k to last st, m1, k1.\nB) K1, p to last st, k1.\n"
        "C) K1, p to last st, k1.\nRepeat A to C 6 more times: 17 stitches."
    )
    last = read(text).steps[-1]
    assert isinstance(last, RepeatRounds)
    assert len(last.steps) == 3


def test_every_round_is_every_one() -> None:
    text = (
        "Cast on 60 sts. Join.\nLace round: *K1, yo, k2tog; rep from * to end.\n"
        "Rep the last round every round 3 times."
    )
    last = read(text).steps[-1]
    assert isinstance(last, RepeatRounds)
    assert len(last.steps) == 1


def test_rounds_that_are_few_for_a_repeat_are_worked_once() -> None:
    rows = "Rnd 1: K.\nRnd 2: P.\nRnd 3: K.\nRnd 4: P.\n"
    text = f"Cast on 60 sts. Join.\n{rows}Repeat rounds 1-4 until you have worked 5 rounds."
    assert not any(isinstance(step, RepeatRounds) for step in read(text).steps)


def test_rows_count_towards_a_length_from_the_cast_on() -> None:
    text = (
        "Gauge: 30 sts and 40 rows = 10 cm\nCast on 20 sts.\nRow 1: Knit.\nRow 2: Knit.\nRow 3: Knit.\n"
        "Row 4: Purl.\nRepeat rows 3 and 4 until piece measures 5 cm from cast-on edge.\nBind off all sts."
    )
    made = knit(read(text))
    assert isinstance(made, Fabric)
    assert max(made.course.tolist()) == 21  # 20 rows, and those bound off


def test_a_way_back_that_leaves_too_few_stitches_is_read_by_its_stitches() -> None:
    text = (
        "Cast on 9 sts.\nBegin with a row of k4, pm, k1, pm, k4. On the next row, the right side, k2, yo, "
        "k to marker, yo, sm, k1, slip the second marker, yo, k to the last 2 sts, yo, k2. On the way "
        "back knit 2, purl to the last 2 sts, knit 2. Repeat these two rows until you have 33 sts."
    )
    assert "K2, p to last 2 sts, k2." in write(read(text))
