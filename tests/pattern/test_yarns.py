"""Yarns within a round and from round to round: read, written, knitted; counted by hand."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loopwright.errors import StepError
from loopwright.fabric import Fabric, check
from loopwright.making import Hand
from loopwright.pattern import (
    BindOff,
    CastOn,
    CutYarn,
    Join,
    KeepPlace,
    Pattern,
    Repeat,
    RepeatRounds,
    ResumeStripes,
    Round,
    Step,
    Stripes,
    To,
    UseYarn,
    WeaveIn,
    With,
    k,
    k_to,
    knit,
    knit_rounds,
    knitted,
    read,
    review,
    write,
)
from loopwright.pattern.items import KNIT
from loopwright.pattern.steps import knit_round
from together import together

TEXT = """Join yarn A.
Cast on 16 sts, long-tail.
Join to work in the round.
Rnds 1-2: Knit.
Rnd 3: *K1 A, k3 B; rep from * to end.
Rnd 4: With B, knit.
Rnd 5: K1 A, k2tog, k5 in yarn tarred wool, k2 B, k to end.
Work in stripes from here, beginning with rnd 2: *2 rnds A, 3 rnds B; rep from *.
Rnds 6-17: Knit.
Keep your place in the stripes.
Change to C.
Rnds 18-19: Purl.
Resume the stripes at that place.
Rnds 20-25: Knit.
Change to A.
Rnd 26: Knit.
Change to B.
Rnds 27-28: Knit.
Rep rnds 26-28 another 2 times (3 times in all).
Cut yarn B.
Change to A.
Bind off all sts.
Weave in all ends.
"""


def courses(fabric: Fabric) -> list[str]:
    """The first letter of each loop's yarn, course by course."""
    letters = [fabric.strands[number].yarn[0] for number in fabric.strand.tolist()]
    return [
        "".join(np.array(letters)[fabric.course == course])
        for course in range(int(fabric.course.max()) + 1)
    ]  # fmt: skip


def test_all_of_it_is_read_and_written_alike() -> None:
    pattern = read(TEXT)
    assert write(pattern) == "\n" * 0 + TEXT
    assert read(write(pattern)) == pattern
    assert review(pattern).ok


def test_each_round_has_the_yarns_that_were_told() -> None:
    """Counted out by hand from the text."""
    fabric = knit(read(TEXT))
    assert fabric.euler_characteristic == 2
    assert check(fabric, openings=2).ok
    (told,) = [courses(fabric)]
    one, other = "A" * 15, "B" * 15
    assert told[:6] == ["A" * 16] * 3 + ["ABBB" * 4, "B" * 16, "AAtttttBBBBBBBB"]
    sequence = [one, *[other] * 3, one, one, *[other] * 3, one, one, other]
    assert told[6:18] == sequence
    assert told[18:20] == ["C" * 15] * 2
    assert told[20:26] == [other, other, one, one, other, other]  # where they were left
    assert told[26:35] == [one, other, other] * 3


@together(
    ("said", "written"),
    [
        ("Rnd 1: *K1 in A, k3 in B; rep from * around.", "*K1 A, k3 B; rep from * to end."),
        ("Rnd 1: *k2 A, p2 B; rep from * to end", "*K2 A, p2 B; rep from * to end."),
        ("Rnd 1: with B, k around.", "With B, knit."),
        ("Rnd 1: With B, k8, with A, k8.", "K8 B, k8 A."),
        ("Rnd 1: K8, k8 B.", "K8, with B, k8."),
        ("Rnd 1: [K1 A, k1 B] 8 times.", "[K1 A, k1 B] 8 times."),
        ("Rnd 1: With yarn sea wool, knit.", "With yarn sea wool, knit."),
    ],
)
def test_wordings(said: str, written: str) -> None:
    pattern = read(f"Join yarn A. Cast on 16 sts. Join in the round. {said}")
    assert write(pattern).splitlines()[-1] == f"Rnd 1: {written}".replace(
        "Rnd 1: With B, k all sts", "Rnd 1: With B, knit"
    )
    assert read(write(pattern)) == pattern


@together(
    ("said", "rounds"),
    [
        ("With A, cast on 8 sts. {} With B, knit 2 rnds. Change to A. Knit 1 rnd.", "ABBA"),
        ("Cast on 8 sts with A. {} Using B, work 2 rnds in k1, p1 rib.", "ABB"),
        ("With MC, CO 8. {} With CC, knit 2 rnds. Change to MC. Knit 1 rnd.", ["main", "CC", "CC",
         "main"]),
        ("Cast on 8 sts. {} Rnd 1: Knit with CC. Rnd 2: With main colour, k to end.",
         ["main", "CC", "main"]),
        ("Cast on 8 sts. {} Next rnd: With CC, k6, k2tog. Change to main color. Knit 1 rnd.",
         ["main", "CC", "main"]),
    ],
)  # fmt: skip
def test_what_people_call_yarns(said: str, rounds: Sequence[str]) -> None:
    """Common practice: MC is what the work begins with; each round's yarn as the words say."""
    fabric = knit(read(said.format("Join in the round.")))
    assert [set(one) for one in named(fabric)] == [{name} for name in rounds]


def test_stranded_rounds_in_words_of_colours() -> None:
    said = "Cast on 8 sts. Join in the round. Rnd 1: *K3 MC, k1 CC; rep from *."
    assert named(knit(read(said)))[1] == ["main", "main", "main", "CC"] * 2


def named(fabric: Fabric) -> list[list[str]]:
    """The yarn of each loop by its name, course by course."""
    names = [fabric.strands[number].yarn for number in fabric.strand.tolist()]
    each = zip(fabric.course.tolist(), names, strict=True)
    return [[name for _, name in group] for _, group in itertools.groupby(each, lambda one: one[0])]


def test_a_unit_is_no_yarn() -> None:
    """The breaker: "5 in" stays a length, "k5, p1" stitches."""
    gauge = "Gauge: 32 sts and 44 rnds = 4 in"
    told = f"{gauge}\nCast on 8 sts. Join in the round. Next 5 in: Knit."
    assert "Next 5 in: Knit." in write(read(told))
    (*_, round_) = read("Cast on 8 sts. Join in the round. Rnd 1: K5, P, k2.").steps
    assert not any(isinstance(item, With) for item in round_.items)  # type: ignore[attr-defined]


BANDS = st.lists(
    st.tuples(st.sampled_from(["A", "B", "C", "sea wool"]), st.integers(1, 4)),
    min_size=1,
    max_size=4,
)


@given(bands=BANDS, rounds=st.integers(1, 12), data=st.data())
def test_stripes_are_a_sequence_that_goes_round(
    bands: list[tuple[str, int]], rounds: int, data: st.DataObject
) -> None:
    """Against itertools.cycle."""
    start = data.draw(st.integers(1, sum(many for _, many in bands)))
    steps: list[Step] = [UseYarn("D", new=True), CastOn(8), Join(), Stripes(bands, start)]
    steps += [knit_rounds(rounds), KeepPlace(), UseYarn("D"), knit_round(), ResumeStripes()]
    steps += [knit_rounds(rounds), UseYarn("D"), BindOff(), WeaveIn()]
    pattern = Pattern("", tuple(steps))
    assert read(write(pattern)) == pattern
    fabric = knit(pattern)
    assert fabric.euler_characteristic == 2
    once = [name[0] for name, many in bands for _ in range(many)]
    told = [*itertools.islice(itertools.cycle(once), start - 1, start - 1 + 2 * rounds)]
    found = [course[0] for course in courses(fabric)]
    assert found[1 : 1 + rounds] == told[:rounds]
    assert found[1 + rounds] == "D"
    assert found[2 + rounds : 2 + 2 * rounds] == told[rounds:]


@given(
    widths=st.lists(st.integers(1, 5), min_size=2, max_size=4).filter(lambda w: len(w) % 2 == 0),
    repeats=st.integers(2, 4),
    rounds=st.integers(1, 4),
)
def test_two_yarns_in_a_round_are_one_surface(widths: list[int], repeats: int, rounds: int) -> None:
    """Floats are no edges of it; every cell of plain knitting keeps its 4 (model, section 8)."""
    items = [item for at, width in enumerate(widths) for item in (With("AB"[at % 2]), k(width))]
    stitches = repeats * sum(widths)
    once = Round((Repeat(tuple(items), To()),))
    steps = (
        *(UseYarn("A", new=True), CastOn(stitches), Join(), knit_rounds(2)),
        *(RepeatRounds((once,), rounds), Round((With("A"), KNIT)), BindOff(), WeaveIn()),
    )
    pattern = Pattern("", steps)
    assert read(write(pattern)) == pattern
    fabric = knit(pattern)
    assert fabric.euler_characteristic == 2
    sizes = fabric.cell_sizes()
    assert set(sizes) <= {2, 4, stitches + 1}
    assert (
        courses(fabric)[3]
        == "".join("AB"[at % 2] * width for at, width in enumerate(widths)) * repeats
    )


@pytest.mark.parametrize("far", [5, 6])
def test_a_long_float_is_found_with_its_length(far: int) -> None:
    """Common practice: caught beyond five stitches."""
    text = f"""Join yarn A. Cast on {3 * (far + 1)} sts. Join in the round. Rnd 1: Knit.
    Rnds 2-4: *K1 B, k{far} A; rep from * to end. Cut yarn B. Change to A.
    Bind off all sts. Weave in all ends."""
    report = check(knit(read(text)), openings=2)
    long = [finding for finding in report.blemishes if finding.kind == "floats"]
    assert bool(long) is (far > 5)


@pytest.mark.parametrize(
    ("steps", "problem"),
    [
        ((UseYarn("B"), knit_round()), "stands between the rounds"),
        ((knit_round(), UseYarn("B")), "stands between the rounds"),
        ((UseYarn("B"), CutYarn("A")), "nothing to repeat"),
        ((knit_round(), CastOn(3), knit_round()), "only rounds, rows, yarns"),
    ],
)
def test_what_a_repeat_cannot_hold(steps: tuple[Step, ...], problem: str) -> None:
    with pytest.raises(StepError, match=problem):
        RepeatRounds(steps, 3)


@together(
    ("make", "problem"),
    [
        (lambda: Stripes([]), "no stripe"),
        (lambda: Stripes([("A", 0)]), "1 to 9999 rounds, found 0"),
        (lambda: Stripes([("A", 10**9)]), "found a number of ten digits or more"),
        (lambda: Stripes([("A", 2)], 3), "rounds 1 to 2"),
        (lambda: Stripes([("", 2)]), "name is missing"),
        (lambda: With(""), "name is missing"),
    ],
)
def test_what_names_no_stripes_is_refused(make: object, problem: str) -> None:
    with pytest.raises(StepError, match=problem):
        make()  # type: ignore[operator]


def test_each_strand_of_a_yarn_has_a_name_of_its_own() -> None:
    joins = [(UseYarn("A", new=True), knit_round()) for _ in range(2)]
    steps = (UseYarn("A", new=True), CastOn(8), Join(), *itertools.chain(*joins))
    fabric = knitted(Pattern("", steps)).fabric
    assert [strand.name for strand in fabric.strands] == ["A", "A 2", "A 3"]


def test_the_journal_knows_the_yarn() -> None:
    turns = Round((k(4), With("B"), k_to()))
    made = knitted(Pattern("", (UseYarn("A", new=True), CastOn(8), Join(), turns)))
    first, second = [*made.journal][-1].moves
    assert (first.before.yarn, second.before.yarn) == ("A", "B")


@given(data=st.data(), hand=st.sampled_from(Hand))
def test_a_round_at_once_is_the_same_as_run_by_run(data: st.DataObject, hand: Hand) -> None:
    """Knitted without a journal the runs of a round go in at once; with one, run by run."""
    runs = st.lists(st.tuples(st.integers(1, 3), st.sampled_from("ABC"), st.booleans()),
                    min_size=3, max_size=6)  # fmt: skip
    rounds = []
    for _ in range(data.draw(st.integers(1, 4))):
        told = [f"{'p' if purl else 'k'}{many} {yarn}" for many, yarn, purl in data.draw(runs)]
        sts = sum(int(one[1]) for one in told)
        rounds.append(
            f"{', '.join(told)}, k2tog A, yo B, k{28 - sts} {data.draw(st.sampled_from('AB'))}"
        )
    lines = " ".join(f"Rnd {at}: {one}." for at, one in enumerate(rounds, start=1))
    pattern = read(f"Join yarn A. Cast on 30 sts. Join in the round. {lines} Rnd 9: Knit.")
    assert knit(pattern, hand=hand) == knitted(pattern, hand=hand).fabric
