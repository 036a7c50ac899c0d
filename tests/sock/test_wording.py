"""Patterns read as a designer would write them; the reader takes what the writer writes."""

from __future__ import annotations

import re
from itertools import pairwise

import attrs
import pytest

from loopwright.errors import KnitError, PatternSyntaxError, StepError
from loopwright.fabric import check, same_fabric
from loopwright.gauge import Gauge
from loopwright.pattern import Pattern, knit, knitted, of_size, read, review, write
from loopwright.pattern.items import Run, k, p
from loopwright.pattern.steps import (
    BindOff,
    CastOn,
    Graft,
    Join,
    Note,
    Part,
    ProvisionalCastOn,
    Recapture,
    RepeatRounds,
    Round,
    Row,
    Section,
    Side,
    Step,
    TakeOut,
    UseYarn,
    WasteRow,
)
from loopwright.pattern.values import Sized, To
from loopwright.picture import stages
from loopwright.sock import Design, Foot, Sock, heel_names
from loopwright.sock._legs import PatternedLeg, ShapedLeg
from loopwright.sock._merge import merged
from loopwright.sock._toes import ShortRowToe, toe_names
from loopwright.sock.heels import Direction, Flap, Forethought, Heel, ShortRow
from loopwright.sock.shortrows import ShortRows, Turning
from loopwright.sock.wedge import Placement, Wedge
from together import together

FEET = {name: Foot.of(length=length, ball_girth=girth) for name, length, girth in (
    ("S", "22.8 cm", "21 cm"), ("M", "25 cm", "23 cm"), ("L", "27 cm", "25 cm"),
)}  # fmt: skip
GAUGE = Gauge.of(30, 42)


def graded(**choices: object) -> Pattern:
    return Design.graded("Socks", Sock(foot=FEET["M"], gauge=GAUGE, **choices), FEET).pattern()  # type: ignore[arg-type]


def again(pattern: Pattern) -> str:
    """The text, once it has been read back as the same pattern."""
    text = write(pattern)
    assert read(text) == pattern
    return text


def test_measurements_have_a_head_of_their_own() -> None:
    text = again(graded())
    assert "\nFinished measurements: foot girth " in text
    assert "Materials:" not in text


def test_the_only_waste_yarn_and_the_same_yarn_need_no_name() -> None:
    for heel in ("forethought", "afterthought"):
        text = again(graded(heel=heel))
        assert "waste yarn called" not in text
        assert "the waste yarn, taking the strand at the first corner" in text
        assert "\nRejoin yarn.\n" in text


@pytest.mark.parametrize("direction", ["cuff down", "toe up"])
@pytest.mark.parametrize("turning", Turning)
def test_with_wraps_is_said_where_there_are_some(turning: Turning, direction: str) -> None:
    """The row back into the round said it of 34 stitches, whose wraps were all worked by then.

    Said of none in a step, the fabric is another; so nowhere is it said for nothing.
    """
    rows = ShortRows(turning=turning)
    heel, toe = ShortRow(rows=rows), ShortRowToe(rows=rows)
    foot = Foot.of(length="16 cm", ball_girth="15.5 cm")
    sock = Sock(foot=foot, gauge=Gauge.of(14, 20), heel=heel, toe=toe, direction=direction)
    pattern = sock.pattern()
    fabric = knit(pattern)
    bare = [_without_wraps(step) for step in pattern.steps]
    said = [at for at, step in enumerate(pattern.steps) if step != bare[at]]
    assert len(said) >= 2
    for at in said:
        steps = [*pattern.steps[:at], bare[at], *pattern.steps[at + 1 :]]
        try:
            without = knit(attrs.evolve(pattern, steps=steps))
        except KnitError:
            continue  # the legs of double stitches are too many then
        assert not same_fabric(fabric, without), pattern.steps[at]


def _without_wraps(step: Step) -> Step:
    if isinstance(step, RepeatRounds):
        return attrs.evolve(step, steps=[_without_wraps(one) for one in step.steps])
    if isinstance(step, Row | Part):
        items = [
            attrs.evolve(item, with_wraps=False) if isinstance(item, Run) else item
            for item in step.items
        ]
        return attrs.evolve(step, items=items)
    return step


@together(
    ("text", "step"),
    [
        ("Provisionally cast on 8 sts over waste yarn.", ProvisionalCastOn(8)),
        ("With waste yarn, knit next 8 sts; slip them back to be worked again.", WasteRow(8)),
        ("Take out the waste yarn.", TakeOut()),
        ("Recapture the sts from the waste yarn, taking the strand at the last corner.",
         Recapture(corner="last")),
        ("Recapture the sts from the waste yarn called toe, taking the strand at the first corner.",
         Recapture("toe")),
        ("Rejoin yarn.", UseYarn("main", new=True)),
        ("Join yarn join yarn.", UseYarn("join yarn", new=True)),
        ("Join yarn B.", UseYarn("B", new=True)),
    ],
)  # fmt: skip
def test_each_form_is_read_and_written(text: str, step: object) -> None:
    assert read(text).steps == (step,)
    assert write(read(text)) == f"{text}\n"


@pytest.mark.parametrize("text", ["Join the yarn.", "Rejoin yarn.", "Join in the yarn."])
def test_the_yarn_is_joined_in_other_words(text: str) -> None:
    assert read(text).steps == (UseYarn("main", new=True),)


def test_rows_of_one_size_are_written_for_that_size() -> None:
    """No "work next 2 rows 0 (0, 1) times"."""
    text = again(graded(heel=Flap()))
    assert " 0 (" not in text
    assert (
        "\nSize L only: Next row (WS): Sl 1 pwise wyif, p to 1 st before gap, p2tog, turn. " in text
    )


_TWO = (Round((Run("k", To()),)), Round((Run("p", To()),)))


@together(
    ("times", "words"),
    [
        ((0, 2, 4, 6), "Sizes M, L and XL only: {} 2 (4, 6) {}:"),
        ((3, 0, 1, 2), "Sizes S, L and XL only: {} 3 (1, 2) {}:"),
        ((0, 2, 2, 2), "Sizes M, L and XL only: {} 2 {}:"),
        ((0, 0, 0, 3), "Size XL only: {} 3 {}:"),
        ((0, 0, 0, 1), "Size XL only: Next rnd: Knit."),
    ],
)
def test_a_step_that_a_size_has_not_is_not_worked_0_times(
    times: tuple[int, ...], words: str
) -> None:
    """Three sizes with a number of their own made it "Next 0 (2, 4, 6) rnds"."""
    names = ["S", "M", "L", "XL"]
    for rounds, parts in ((1, ("Next", "rnds")), (2, ("Work next 2 rnds", "times in all"))):
        each = [
            [CastOn(40), Join(), RepeatRounds(_TWO[:rounds], many), BindOff()] for many in times
        ]
        pattern = Pattern("Ring", merged(each, names), sizes=names)
        text = again(pattern)
        assert " 0 (" not in text
        assert words.format(*parts) in text
        for name, many in zip(names, times, strict=True):
            heights = {knit(of_size(one, name)).course.max() for one in (pattern, read(text))}
            assert heights == {1 + many * rounds}


@pytest.mark.parametrize("heel", heel_names())
def test_every_size_of_every_heel_is_knitted_from_its_words(heel: str) -> None:
    pattern = graded(heel=heel)
    text = again(pattern)
    assert not [finding for finding in review(text).findings if finding.severity != "note"]
    for size in FEET:
        one = of_size(pattern, size)
        assert read(write(one)) == one
        assert not [f for f in review(write(one)).findings if f.severity != "note"]
        assert check(knit(one), openings=1).ok
        said = [step.words for step in one.steps if isinstance(step, Note)]
        assert not re.search(r"\(\d", " ".join([*said, *one.materials]))  # no other size's number


@together("heel", ["flap", "afterthought", "forethought"])
def test_waste_yarn_has_no_name(heel: str) -> None:
    """It was "over waste yarn called toe": the toe's is out before the heel's is needed."""
    sock = Sock(foot=FEET["M"], gauge=GAUGE, heel=heel, toe="short-row", direction="toe up")
    text = again(sock.pattern())
    assert "over waste yarn." in text
    assert "waste yarn called" not in text
    assert check(knit(sock.pattern()), openings=1).ok


@together("direction", Direction)
@together("heel", heel_names())
def test_what_hands_would_have_to_guess_is_told(heel: str, direction: Direction) -> None:
    """Common practice: what knitters asked who knitted from the sheet alone."""
    sock = Sock(foot=FEET["M"], gauge=GAUGE, heel=heel, direction=direction)
    setting, steps = sock.plan().setting, list(sock.pattern().steps)
    joined = next(at for at, step in enumerate(steps) if isinstance(step, Join))
    assert "rnd begins here" in told(steps[joined + 1])
    begins = next(at for at, s in enumerate(steps) if isinstance(s, Section) and s.title == "Heel")
    first = next(s for s in steps[begins:] if isinstance(s, Note) and " the back" in s.words)
    assert str(setting.instep) in first.words or "instep follows" in first.words
    cut = True  # there is no yarn yet
    for before, step in pairwise(steps):
        if isinstance(step, Graft):
            assert re.search(r"a tail of \d+ cm or \d+ in", told(before))
        if isinstance(step, UseYarn) and step.new:
            assert cut, "a yarn is joined that was never cut"
        if (
            isinstance(step, Row)
            and step.side is Side.WS
            and not isinstance(before, Row | RepeatRounds)
        ):
            assert told(before).startswith("Turn"), "a row on the wrong side without a turn"
        if isinstance(step, Recapture):
            assert told(before).startswith("Cut the waste yarn only when")
        cut = (
            isinstance(step, Graft)
            or "Cut the yarn" in told(step)
            or (cut and not isinstance(step, Round | Row | RepeatRounds))
        )


def told(step: Step) -> str:
    return step.words if isinstance(step, Note) else ""


def test_notes_of_one_size_have_its_numbers() -> None:
    pattern = Pattern(
        "T",
        [Note("Lift {} strands, 2 (see below) or 3 (4), in {} cm, {} in all.",
              numbers=[Sized((24, 28, 32)), Sized((1.5, 2, 2.5)), 2])],
        sizes=["S", "M", "L"], materials=["Yarn: 60 (70, 80) g"],
    )  # fmt: skip
    one = of_size(pattern, "M")
    assert one.materials == ("Yarn: 70 g",)
    assert one.steps == (Note("Lift 28 strands, 2 (see below) or 3 (4), in 2 cm, 2 in all."),)
    alone = Pattern("T", [Note("Lift 24 (28) strands.")])
    assert of_size(alone) == alone


def test_a_note_keeps_its_numbers_apart_when_it_is_read() -> None:
    head = "Sizes: S (M, L)\nCO 8.\n"
    text = "Note: Lift 24 (28, 32) strands, 2 (see below) or 3 (4), in 1.50 (2, 2.5) cm."
    pattern = read(head + text)
    assert pattern.steps[1:] == (
        Note("Lift {} strands, 2 (see below) or 3 (4), in 1.50 (2, 2.5) cm.",
             numbers=[Sized((24, 28, 32))]),
    )  # fmt: skip
    assert text in write(pattern)
    assert read(write(pattern)) == pattern
    braces = read(head + "Note: {} 24 (28, 32) strands.").steps
    assert braces[1:] == (Note("{} 24 (28, 32) strands."),)


@pytest.mark.parametrize("numbers", [[1], [1, 2, 3]])
def test_a_note_has_a_place_for_each_number(numbers: list[int]) -> None:
    with pytest.raises(StepError, match=f"{len(numbers)} numbers need as many"):
        Note("Lift {} of {} strands.", numbers=numbers)


def test_like_rounds_of_a_stitch_pattern_are_told_together() -> None:
    leg = PatternedLeg(rounds=[[k(4)], [k(4)], [p(4)], [k(4)]])
    text = again(Sock(foot=FEET["M"], gauge=GAUGE, leg=leg).pattern())
    assert "\n## Leg\nRnds 1-2: Knit.\nRnd 3: Purl.\nRnd 4: Knit.\nRep rnds 1-4 " in text


def test_numbers_begin_anew_where_the_stitches_are_divided() -> None:
    text = again(Sock(foot=FEET["M"], gauge=GAUGE, heel="forethought").pattern())
    assert "\nRnd 1: Instep: lift strand across corner" in text


@pytest.mark.parametrize("direction", ["cuff down", "toe up"])
def test_the_centre_back_has_a_marker_of_its_own(direction: str) -> None:
    heel = Forethought(wedge=Wedge(placement=Placement.LINE))
    sock = Sock(foot=FEET["M"], gauge=GAUGE, leg=ShapedLeg(), heel=heel, direction=direction)
    assert "place marker C" in again(sock.pattern())
    assert check(sock.fabric(), openings=1).ok


@pytest.mark.parametrize("direction", Direction)
@pytest.mark.parametrize("toe", toe_names())
def test_the_round_is_marked_where_it_begins(toe: str, direction: Direction) -> None:
    """A short-row toe, toe up, is joined in the middle of the round."""
    pattern = read(again(Sock(foot=FEET["M"], gauge=GAUGE, toe=toe, direction=direction).pattern()))
    marked = next(
        place
        for place, step in enumerate(pattern.steps)
        if isinstance(step, Note) and step.words.startswith("The rnd begins here, at the side")
    )
    joined = next(place for place, step in enumerate(pattern.steps) if isinstance(step, Join))
    between = [len(entry.loops) for entry in [*knitted(pattern).journal][joined:marked]]
    half = Sock(foot=FEET["M"], gauge=GAUGE).plan().stitches.count // 2
    is_halfway = direction is Direction.TOE_UP and toe == "short-row"
    assert sum(between) == is_halfway * (half + 1)  # and the strand lifted at the corner


def test_a_repeat_of_many_rounds_counts_them_in_each_size() -> None:
    """As "rep rnds 2 and 3", it was read as one of two rounds."""
    feet = {
        name: Foot.of(length=long, ball_girth=ball, leg_girth=f"{leg} cm")
        for name, long, ball, leg in (
            ("small", "22 cm", "23.5 cm", 27), ("middle", "24.1 cm", "26 cm", 28),
            ("large", "26.6 cm", "28 cm", 31),
        )
    }  # fmt: skip
    sock = Sock(foot=feet["middle"], gauge=Gauge.of(29.5, 41), leg="shaped", cuff="1x1 rib",
                direction="toe up")  # fmt: skip
    text = again(Design.graded("Socks", sock, feet).pattern())
    leg = text.partition("## Leg")[2].partition("## Cuff")[0]
    found = re.search(
        r"slip marker C, k1, m1l, k to end\.\nNext ([\d (,)]+) rnds: Knit\.\n"
        r"Rep the last ([\d (,)]+) rnds another", leg
    )  # fmt: skip
    assert found is not None, leg
    plain, all_of = (list(map(int, re.findall(r"\d+", numbers))) for numbers in found.groups())
    assert all_of == [many + 1 for many in plain]
    assert len(set(plain)) > 1
    assert "Next rnd: K to marker C, remove marker C" in leg


def test_the_last_rounds_to_be_repeated_are_those_of_each_size() -> None:
    head = "Sizes: S (M)\nCast on 8 sts. Join. Rnd 1: Purl. Next 2 (3) rnds: Knit. "
    pattern = read(head + "Rep the last 3 (4) rnds once more (2 times in all). Bind off all sts.")
    rounds = pattern.steps[-2]
    assert isinstance(rounds, RepeatRounds)
    assert len(rounds.steps) == 2
    with pytest.raises(
        PatternSyntaxError, match=r"of the last 3 \(3\) rounds|of the last 3 rounds"
    ):
        read(head + "Rep the last 3 (3) rnds once more. Bind off all sts.")


@together("toe", toe_names())
@together("direction", Direction)
@together("needles", ["four double-pointed", "five double-pointed"])
def test_stitches_are_divided_before_the_first_round(
    needles: str, direction: Direction, toe: str
) -> None:
    """On double-pointed needles nobody could tell how many go on each of them."""
    text = again(graded(toe=toe, direction=direction, needles=needles))
    before, _, after = text.partition("\nDivide sts over ")
    assert after
    assert "\nRnd" not in before
    assert ("Join to work" in before) == (direction is Direction.TOE_UP)


@together("heel", ["flap", "short-row", "short-row with gusset"])
@together("needles", ["four double-pointed", "five double-pointed", "two circulars"])
def test_a_heel_in_rows_is_brought_on_one_needle(heel: str, needles: str) -> None:
    """Double-pointed, the back may lie on two needles; text and pictures have it on one."""
    made = Sock(foot=FEET["M"], gauge=GAUGE, heel=heel, needles=needles)
    text = again(made.pattern())
    told = "You have the heel half on needle 1 and the instep half on needles 2 and 3."
    assert (told in text) is (needles != "two circulars")
    rows = [one for one in stages(made.pattern()) if re.search(r"Heel: \d+ .*rows", one.title)]
    worked = made.plan().setting.heel
    assert len(rows[0].needles[0].loops) >= worked


@together("heel", [*heel_names(), ShortRow(gusset=2), Forethought(gusset=2)])
def test_toe_up_no_half_after_the_heel_is_called_the_sole(heel: str | Heel) -> None:
    """What follows the heel goes up the leg."""
    text = again(graded(heel=heel, direction="toe up"))
    made = re.split("worked back and forth|worked in the round on|across the first", text)[1]
    assert "sole" not in made
