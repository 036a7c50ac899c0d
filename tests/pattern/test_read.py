"""What designers write, and what it is read as."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest
from lark import Lark
from lark.exceptions import GrammarError

from loopwright.errors import PatternSyntaxError
from loopwright.fabric.stitches import STITCHES, Stitch
from loopwright.pattern import (
    KNIT,
    CastOn,
    Mark,
    Note,
    On,
    Part,
    Pattern,
    PickUp,
    Repeat,
    RepeatRounds,
    Round,
    Row,
    Run,
    Section,
    Side,
    Sized,
    Step,
    To,
    Turn,
    UntilCount,
    UntilMeasures,
    Where,
    WrapTurn,
    instructions,
    k,
    k_to,
    p,
    read,
    write,
)
from loopwright.pattern._grammar.sentences import grammar
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.reader import read_closely
from together import together

RIB = Repeat([k(2), p(2)])
FORMS: list[tuple[str, Step]] = [
    # The forms that the issue of this language names, then their relatives.
    (
        "Rnd 1: K1, ssk, k to last 3 sts, k2tog, k1. (60 sts)",
        Round([k(1), Run("ssk"), k_to(before=3), Run("k2tog"), k(1)], count=60),
    ),
    ("Round 1: *K2, p2; rep from * to end.", Round([RIB])),
    ("Rnd 1: *K2, p2; repeat from * around", Round([RIB])),
    ("Rnd 1: *K2, p2*, rep to end.", Round([RIB])),
    ("Rnd 1: [K2, p2] to end.", Round([RIB])),
    ("Rnd 1: (K1, p1) 4 times, knit.", Round([Repeat([k(1), p(1)], 4), KNIT])),
    ("Rnd 1: [k1, p1] twice, k to end.", Round([Repeat([k(1), p(1)], 2), KNIT])),
    ("Rnd 1: *k1, p1; rep from * 3 times in all, knit", Round([Repeat([k(1), p(1)], 3), KNIT])),
    ("Rnd 1: *k1, p1; rep from * 3 more times, knit", Round([Repeat([k(1), p(1)], 4), KNIT])),
    ("Rnd 1: *k1, p1; rep from * 3 times more, knit", Round([Repeat([k(1), p(1)], 4), KNIT])),
    ("Rnds 3-6: Knit.", RepeatRounds([Round([KNIT])], 4)),
    ("Rnds 3 and 4: Knit.", RepeatRounds([Round([KNIT])], 2)),
    (
        "Row 2 (WS): Sl 1 pwise, p5, p2tog, p1, turn.",
        Row([Run("sl"), p(5), Run("p2tog"), p(1), Turn()], side=Side.WS),
    ),
    ("Row 1 (RS): K5, w&t.", Row([k(5), WrapTurn()], side=Side.RS)),
    ("Row 1: K5, wrap next st and turn.", Row([k(5), WrapTurn()])),
    ("Cast on 48 (56, 64, 72) sts.", CastOn(Sized((48, 56, 64, 72)))),
    ("CO 48 [56: 64: 72] stitches", CastOn(Sized((48, 56, 64, 72)))),
    ("Using the long-tail method, cast on 48 sts.", CastOn(48)),
    ("Cast on 48 sts, knitted cast-on.", CastOn(48, "knitted")),
    ("Knit 10 rounds.", RepeatRounds([Round([KNIT])], 10)),
    ("Knit every rnd until piece measures 5 cm.", RepeatRounds(
        [Round([KNIT])], UntilMeasures(read("Next 5 cm: Knit.").steps[0].times.length, "cast-on")  # type: ignore[attr-defined]
    )),
    ("Rnd 1: K to 2 sts before marker, ssk, slip marker, knit", Round(
        [Run("k", To(Where.MARKER, 2)), Run("ssk"), Mark("slip"), KNIT]
    )),
    ("Row 3: Sl 1 pwise, k to 1 st before gap, ssk, k1, turn", Row(
        [Run("sl"), k_to(Where.GAP, before=1), Run("ssk"), k(1), Turn()]
    )),
    ("Rnd 1: sl 2 kwise wyif, k to end", Round([Run("slkf", 2), KNIT])),
    ("Rnd 1: k1 tbl, p2 tbl, knit", Round([Run("ktbl"), Run("ptbl", 2), KNIT])),
    ("Rnd 1: k3 with wraps, knit", Round([Run("k", 3, True), KNIT])),
    ("Pick up and knit 16 sts along left flap edge, pm A.", Part(
        [PickUp(16, "left flap edge"), Mark("place", "A")]
    )),
    ("Rnd 1: Instep: knit; sole: k1, ssk, k to end", Round(
        [On(["instep"], [KNIT]), On(["sole"], [k(1), Run("ssk"), KNIT])]
    )),
    ("Rnd 1: Needles 1 and 3: knit; needle 2: purl.", Round(
        [On(["needle 1", "needle 3"], [KNIT]), On(["needle 2"], [Run("p", To())])]
    )),
]  # fmt: skip


@together(("text", "step"), FORMS)
def test_forms(text: str, step: Step) -> None:
    assert read(text).steps == (step,)


@together(
    ("one", "other"),
    [
        ("Bind off all sts.", "Cast off all stitches."),
        ("Rnd 1: yo, k1.", "Round 1: yfwd, k1."),
        ("Rnd 1: skp, k1.", "Rnd 1: skpo, k1."),
        ("Rnd 1: cdd, k1.", "Rnd 1: s2kpo, k1."),
        ("Gauge: 32 sts and 44 rnds = 10 cm\nK1.", "Tension: 32 sts and 44 rows to 10 cm\nK1."),
        ("Work a three-needle bind-off over all sts.", "Three-needle cast-off."),
    ],
)
def test_american_and_british_words_mean_the_same(one: str, other: str) -> None:
    assert read(one) == read(other)


def test_a_sock_begins_with_its_head() -> None:
    pattern = read(
        "# Harbour socks\nSizes: S (M, L)\nYarn: 100 g\nTension: 8 sts and 11 rows = 1 inch\n"
        "Abbreviations: k = knit; p = purl\n\nCUFF\nCast on 48 (56, 64) sts.\n"
    )
    assert pattern.title == "Harbour socks"
    assert pattern.sizes == ("S", "M", "L")
    assert pattern.materials == ("Yarn: 100 g",)
    assert pattern.gauge is not None
    assert pattern.gauge.courses_per_mm == pytest.approx(11 / 25.4)
    assert pattern.abbreviations == (("k", "knit"), ("p", "purl"))
    assert pattern.steps == (Section("CUFF"), CastOn(Sized((48, 56, 64))))


class TestRepeatsOfRounds:
    TWO = "Rnd 1: K1, k2tog, knit.\nRnd 2: Knit.\n"

    @pytest.mark.parametrize(
        ("said", "times"),
        [
            ("Rep rnds 1 and 2 another 7 times (8 times in all).", 8),
            ("Rep rnds 1 and 2 7 times more.", 8),
            ("Rep rnds 1 and 2 seven more times.", 8),
            ("Rep rnds 1 and 2 8 times in all.", 8),
            ("Rep rnds 1 and 2 twice more.", 3),
            ("Rep last 2 rnds until 16 sts remain.", UntilCount(16)),
            ("Repeat rounds 1-2 another 1 (2, 3) times.", Sized((2, 3, 4))),
        ],
    )
    def test_how_often(self, said: str, times: object) -> None:
        (step,) = instructions(self.TWO + said)
        assert isinstance(step, RepeatRounds)
        assert step.times == times
        assert len(step.steps) == 2

    def test_every_other_round(self) -> None:
        (step,) = instructions("Rnd 1: K1, k2tog, knit. Rep rnd 1 every other rnd 7 times more.")
        assert isinstance(step, RepeatRounds)
        assert (step.every, step.times) == (2, 8)

    def test_said_before_the_rounds(self) -> None:
        (step,) = instructions("Work next 2 rnds 0 (1) times in all:\n" + self.TWO)
        assert isinstance(step, RepeatRounds)
        assert step.times == Sized((0, 1))

    def test_rounds_written_earlier_are_worked_again(self) -> None:
        steps = instructions(self.TWO + "Rnd 3: Purl.\nRep rnds 1 and 2 once more.")
        assert steps[3:] == instructions(self.TWO)

    def test_odd_and_even_rounds_are_woven(self) -> None:
        woven = instructions("Rnds 1, 3 and 5: Knit. Rnds 2 and 4: Purl.")
        assert woven == instructions(
            "Rnd 1: Knit. Rnd 2: Purl. Rnd 3: Knit. Rnd 4: Purl. Rnd 5: Knit."
        )

    def test_a_total_that_contradicts_itself(self) -> None:
        with pytest.raises(PatternSyntaxError, match="7 times more are 8 in all, not 7"):
            read(self.TWO + "Rep rnds 1 and 2 another 7 times (7 times in all).")

    @pytest.mark.parametrize(
        ("said", "problem"),
        [
            ("Rep rnds 4 and 5 twice more.", "there are no rounds 4 to 5"),
            ("Rep rnds 1 and 2 until 8 sts remain, ending with rnd 7.", "round 7 is not one"),
            ("Rep last 5 rnds twice more.", "only 2 rounds"),
            ("Work next 3 rnds 2 times in all:\nRnd 3: Knit.", "do not follow"),
            ("Rnds 3 and 5: Knit.", "nothing is said of round 4"),
        ],
    )
    def test_rounds_that_are_not_there(self, said: str, problem: str) -> None:
        with pytest.raises(PatternSyntaxError, match=problem):
            read(self.TWO + said)


@together(
    ("text", "line", "column", "found"),
    [
        ("Cast on 48 stiches.", 1, 12, "found 'stiches'"),
        ("Cast on 8 sts.\nRnd 1: K2tgo, k6.", 2, 8, "found 'K2tgo'"),
        ("Rnd 1: *K2, p2; rep from * to", 1, 30, "the sentence stops early"),
        ("Rnd 1: K2, [p2, k1.", 1, 19, r"found '\.'"),
        ("Rnd 1: K2,\n  p2, zzz.", 2, 7, "found 'zzz'"),
        ("Rnd 1: Knit. Rnd 2: Prul.", 1, 21, "found 'Prul'"),
        ("Rnd 1: K2 @ p2.", 1, 11, "'@' has no meaning"),
        ("Rnd 1: K99999999.", 1, 8, "too large"),
        ("Rnd 1: K 1.5.", 1, 8, "whole number"),
        ("Rnd 1: K2, turn, k3.\nRow 1: K2, turn, k3.", 2, 1, "the turn ends a row"),
        ("Rnd 1: k2tog tbl kwise.", 1, 8, "only slipped stitches"),
        ("Cast on 40.\nDivide sts over 3 needles: 20, 20.", 2, 17, "3 needles are named"),
        ("##", 1, 1, "a heading without words"),
    ],
)
def test_errors_say_where(text: str, line: int, column: int, found: str) -> None:
    with pytest.raises(PatternSyntaxError, match=found) as caught:
        read(text)
    assert (caught.value.line, caught.value.column) == (line, column)


def test_an_error_shows_the_line_and_what_could_stand_there() -> None:
    with pytest.raises(PatternSyntaxError) as caught:
        read("Cast on 8 sts.\nRnd 1: K2, k2tgo.")
    assert str(caught.value).splitlines()[:3] == [
        "line 2, column 12: found 'k2tgo'",
        "    Rnd 1: K2, k2tgo.",
        "               ^",
    ]
    assert "did you mean k2tog" in str(caught.value)
    assert "a stitch such as k3, p2, ssk" in caught.value.expected


def test_all_that_cannot_be_read_is_reported_at_once() -> None:
    reading = read_closely("Cast on 8 stz.\nKnit 2 rnds.\nRnd 1: zz.", go_on=True)
    assert [(error.line, error.column) for error in reading.errors] == [(1, 11), (3, 8)]
    kept = tuple(step for step in reading.pattern.steps if not isinstance(step, Note))
    assert kept == instructions("Knit 2 rnds.")


def test_a_stitch_of_your_own() -> None:
    table = STITCHES.with_stitch(Stitch("k4tog", "knit four together", 4, 1, (3, 2, 1, 0)))
    pattern = read("Rnd 1: K4tog, k to end.", stitches=table)
    assert pattern.steps == (Round([Run("k4tog"), KNIT]),)
    with pytest.raises(PatternSyntaxError):
        read("Rnd 1: K4tog, k to end.")


@together(
    ("text", "kind"),
    [
        ("Rnd 1: Sl 1, k to end.", "slip"),
        ("Rnd 1: M1, k to end.", "open choice"),
        ("Rnd 1: *K1, p1; rep from * 3 times.", "repeat"),
        ("Rnd 1: K2tog tbl, k to end.", "open choice"),
        ("Bind off all sts loosely.", "open choice"),
        ("Rnd 1: Knit. Rnd 4: Knit.", "numbers"),
    ],
)
def test_wording_that_reads_two_ways_is_remarked_on(text: str, kind: str) -> None:
    assert [remark.kind for remark in read_closely(text).remarks] == [kind]


class TestRepeatsSaidBefore:
    """The form for repeats that some sizes leave out: the number of times stands first."""

    @pytest.mark.parametrize(
        "step",
        [
            RepeatRounds([Round([Run("k2tog"), KNIT])], Sized((0, 3)), every=2),
            RepeatRounds([Round([KNIT]), Round([Run("p", To())])], Sized((0, 1))),
            RepeatRounds(
                [Round([KNIT]), Round([Run("p", To())])], Sized((0, 3)), ending=1, count=8
            ),
            RepeatRounds(
                [Round([KNIT]), RepeatRounds([Round([k(2), KNIT], count=4)], Sized((0, 2)))],
                Sized((0, 2)),
            ),
        ],
    )
    def test_written_and_read_back(self, step: RepeatRounds) -> None:
        text = write(Pattern("", [step], sizes="SM"))
        assert "Work next " in text.splitlines()[2]
        assert read(text).steps == (step,)

    def test_rounds_that_do_not_follow(self) -> None:
        with pytest.raises(PatternSyntaxError, match="the rounds of this repeat do not follow"):
            read("Work next 2 rnds 3 times in all:\nRnd 1: Knit.\n## Toe\n")

    def test_more_rounds_than_said(self) -> None:
        with pytest.raises(PatternSyntaxError, match="1 round is to be repeated, not 4"):
            read("Work next 1 rnd 3 times in all:\nRnds 1-4: Knit.")


def test_what_says_all_itself_is_read_without_working_it(monkeypatch: pytest.MonkeyPatch) -> None:
    worked = list[object]()
    take = Live._take

    def counted(live: Live, step: Step, entries: int) -> None:
        worked.append(step)
        take(live, step, entries)

    monkeypatch.setattr(Live, "_take", counted)
    read(
        "Cast on 40 sts.\nRow 1 (RS): Sl 1 pwise wyib, k to last 3 sts, k2tog, k1.\n"
        "Row 2 (WS): Purl.\nRep rows 1 and 2 twice more.\nBind off all sts."
    )
    read(
        "Cast on 40 sts.\nJoin to work in the round.\nDivide sts over 2 needles: 20, 20.\n"
        "Rnds 1-8: *K2, p2; rep from * to end.\nRnd 9: Knit.\n"
        "Rnd 10: On each needle: k1, ssk, k to last 3 sts, k2tog, k1. (36 sts)\n"
        "Rep rnds 9 and 10 until 8 sts remain.\nGraft the sts of the two needles together."
    )
    assert not worked
    read("Cast on 40 sts. Work in rib for 8 rows, then knit 1 row.")
    assert worked  # what leaves something open is worked to be understood


def test_the_grammar_reads_no_sentence_in_two_ways() -> None:
    """No conflict of shifting and reducing, which the parser would settle without a word."""
    Lark(grammar(), parser="lalr", strict=True)
    dangling = 'start: "if" start | "if" start "else" start | "x"'
    Lark(dangling, parser="lalr")
    with pytest.raises(GrammarError, match="conflict"):
        Lark(dangling, parser="lalr", strict=True)


def test_rows_that_differ_by_their_number_are_each_themselves() -> None:
    """What is read of one row serves those of other numbers: numbers, counts and columns hold."""
    text = "Cast on 8 sts.\n" + "".join(
        f"Row {n} (WS): P3, k to end. (8 sts)\n" if n % 2 else f"Row {n} (RS): K8. ({n} sts)\n"
        for n in range(1, 13)
    )
    rows = read(text).steps[1:]
    assert [row.at.line for row in rows if row.at is not None] == [*range(2, 14)]
    assert [row.count for row in rows] == [8 if n % 2 else n for n in range(1, 13)]
    columns = [row.items[0].column for row in rows if isinstance(row, Row)]
    assert columns == [text.splitlines()[n].index(": ") + 3 for n in range(1, 13)]


def test_threads_read_side_by_side() -> None:
    mine = STITCHES.with_stitch(Stitch("k4tog", "knit four together", 4, 1, (3, 2, 1, 0)))

    def one(number: int) -> Pattern:
        if number % 2:
            return read(f"CO {number + 9}. Rnd 1: *K4tog; rep from * to end.", stitches=mine)
        return read(f"CO {number + 9}. Rnd 1: *K2tog, C4F; rep from * to end.")

    with ThreadPoolExecutor(4) as threads:
        found = list(threads.map(one, range(60)))
    assert found == [one(number) for number in range(60)]


@together("text", ["", " \n\n", "xyz", "# Quay\n\nNote: Wash by hand.", "## Heel"])
def test_a_text_without_an_instruction_is_refused(text: str) -> None:
    with pytest.raises(PatternSyntaxError) as refusal:
        read(text)
    assert refusal.value.found == "nothing in this text is an instruction"
    assert "Rnd 1: K2, p2." in str(refusal.value)
    assert instructions("") == ()
