"""Stitch patterns all round leg and foot: counts, colours, floats, rounds by their own gauge."""

from __future__ import annotations

import attrs
import pytest

from loopwright import Foot, Gauge, Sock, difference, knit, knitted, read, write
from loopwright.design import read_design
from loopwright.errors import DesignError, SizingError, StepError
from loopwright.fitting import Fit, sample
from loopwright.fitting._fit import judged
from loopwright.fitting.limits import GOING_ON, STRANDED
from loopwright.length import Length
from loopwright.pattern import SockPart
from loopwright.picture import chart, read_chart
from loopwright.picture.shape_scene import scene
from loopwright.sock import (
    AllRound,
    Panel,
    SockStripes,
    SockYarn,
    StitchPattern,
    changes,
    heel_names,
)
from together import together

ZIGZAG = ("BAAAAAAB", "ABAAAABA", "AABAABAA", "AAABBAAA")
YARNS = (SockYarn(name="A", colour="#24476b"), SockYarn(name="B", colour="#d9b44a"))


def sock(*those: AllRound, **choices: object) -> Sock:
    foot = Foot.of(length="24.6 cm", ball_girth="22.5 cm")
    given = {"yarns": YARNS, **choices}
    return Sock(foot=foot, gauge=Gauge.of(32, 44), all_round=those, **given)  # type: ignore[arg-type]


def zigzag(**given: object) -> AllRound:
    return AllRound(pattern=StitchPattern.of_colours(ZIGZAG), **given)  # type: ignore[arg-type]


def test_a_chart_of_colours_is_knitted_square_by_square() -> None:
    """The chart as printed, read from the bottom right, is what stands in the fabric."""
    made = sock(zigzag(after=8, times=2))
    fabric = made.fabric()
    cuff = made.plan().cuff_rounds
    rounds = [[] for _ in range(8)]  # type: list[list[str]]
    first = fabric.course[fabric.ids[0]] + cuff + 8 + 1
    for loop in fabric.ids.tolist():
        at = int(fabric.course[loop]) - int(first)
        if 0 <= at < 8:
            rounds[at].append(fabric.strands[int(fabric.strand[loop])].yarn)
    for number, row in enumerate(rounds):
        assert "".join(row) == ZIGZAG[-1 - number % 4][::-1] * 8


@pytest.mark.parametrize("direction", ["cuff down", "toe up"])
@pytest.mark.parametrize("heel", heel_names())
def test_every_heel_goes_with_bands_on_leg_and_foot(heel: str, direction: str) -> None:
    made = sock(zigzag(after=4, times=1), zigzag(part="foot", after=2, times=1), heel=heel,
                direction=direction)  # fmt: skip
    fabric = made.fabric()
    assert made.check(fabric).ok
    assert fabric.euler_characteristic == 2
    text = write(made.pattern())
    assert difference(knit(read(text)), fabric) is None
    assert text.count("*K3 A, k2 B, k3 A; rep from * to end") == 2


def test_long_floats_are_those_that_the_checks_find() -> None:
    """What the words say of floats against the check, which walks the fabric."""
    made = sock(zigzag(times=1))
    caught = made.all_round[0].catches()
    assert {one.round for one in caught} == {1, 4}
    assert all(one.passes == 6 for one in caught)
    long = [flaw for flaw in made.check().blemishes if flaw.kind == "floats"]
    # By hand: the first round's float passes 3 + 3 of A, seven times within the round and not
    # over its end, where B rests; the fourth's passes 6 in each of eight repeats.
    assert len(long) == 7 + 8
    assert all("passes 6 stitches (19 mm)" in flaw.problem for flaw in long)
    assert "B behind st 1 in its rnd 1" in write(made.pattern())


def test_short_floats_are_left_alone() -> None:
    made = sock(AllRound(pattern=StitchPattern.of_colours(["AABB", "ABBA"]), times=3))
    assert not made.all_round[0].catches()
    assert "Floats" not in write(made.pattern())


def test_a_repeat_chooses_the_stitches() -> None:
    ten = StitchPattern.of_colours(["AAAAABBBBB"])
    made = sock(AllRound(pattern=ten, times=2))
    assert made.plan().stitches.count % 20 == 0  # of 10, and of the cuff's and heel's 4
    with pytest.raises(SizingError, match="a multiple of 20"):
        attrs.evolve(made, stitches=64).plan()


def test_all_of_a_part_is_filled_with_whole_repeats() -> None:
    made = sock(zigzag(after=3))
    rounds = made.plan().leg_rounds
    text = write(made.pattern())
    assert f"({(rounds - 3 - 1) // 4} times in all)" in text
    assert sample(made).report.ok


def test_its_own_gauge_gives_the_rounds_and_the_girth() -> None:
    """Stranded knitting is often as many rounds as stitches: common practice."""
    square = Gauge.of(33, 33)
    bare = sock()
    made = sock(zigzag(gauge=square))
    leg, plain = made.plan(), bare.plan()
    assert leg.leg_rounds < plain.leg_rounds
    assert made.plan().measure("leg height").finished.mm == pytest.approx(
        plain.measure("leg height").finished.mm,
        abs=2.7,  # half the step where three plain rounds become a repeat of four
    )
    girths = sample(made, quick=True).girths
    assert girths["leg"].mm == pytest.approx(leg.stitches.count * 100 / 33)
    assert girths["top"].mm == pytest.approx(leg.stitches.count * 100 / 32)


def test_floats_hold_the_leg() -> None:
    girths = {place: Length(mm, 2.0) for place, mm in GIRTHS.items()}

    def sits(one: AllRound) -> Fit:
        made = sock(one)
        return judged(made, girths, made.foot)

    by_use = sits(zigzag(times=2))
    assert by_use.passages[0].limit == STRANDED
    assert any("floats" in note for note in by_use.notes)
    pulled = sits(zigzag(times=2, stretch=1.5))
    assert pulled.passages[0].limit.stretch == 1.5
    assert not any("floats" in note for note in pulled.notes)
    assert by_use.verdict.goes_on < pulled.verdict.goes_on
    texture = AllRound(pattern=StitchPattern.of(["*k2, p2; rep from *"]), times=4)
    assert sits(texture).passages[0].limit == GOING_ON
    foot = sits(zigzag(part="foot"))
    assert foot.at("ball").scale.tight == STRANDED
    assert foot.passages[0].limit == GOING_ON


GIRTHS = {"ball": 200, "instep": 210, "heel": 260, "ankle": 205, "leg": 200, "top": 200}


def test_colours_reach_the_pictures() -> None:
    made = sock(zigzag(times=1), stitches=64)
    whole = sample(made)
    drawn = attrs.evolve(chart(whole.knitted, "Leg", rounds=(1, 4)), colours=made.colours)
    assert drawn.svg().count("#d9b44a") == 8 + 1  # two in each of four rounds, and the key
    shown = scene(whole.shape, whole.fabric, colours=made.colours)
    assert shown.colourings["yarn"].names["B"] == "#d9b44a"


def test_a_chart_is_read_back_to_the_pattern() -> None:
    """Out as a table, in again, and laid all round: the same rounds in the same colours."""
    band = zigzag(after=8, times=2)
    drawn = chart(sock(band).pattern(), "Leg", rounds=(9, 12))
    told = read_chart(drawn.to_csv()).steps()
    assert StitchPattern.of(told) == band.pattern
    whole = read_chart(chart(sock(band).pattern(), "Leg").to_csv())
    assert "Rnd 9: [K3 A, k2 B, k3 A] 8 times." in write(whole.pattern())
    again = chart(whole.pattern())
    assert [row.cells for row in again.all_rows()] == [row.cells for row in whole.all_rows()]


DESIGN = """
gauge = {stitches = 32, rounds = 44, over = "10 cm"}
foot = {length = "24.6 cm"}
yarns = [{name = "A"}, {name = "B"}]
[[all_round]]
%s
"""


def test_a_design_file_names_them() -> None:
    told = read_design(
        DESIGN % 'chart = ["ABBA", "BAAB"]\nafter = 3\ntimes = 2\nstretch = 1.3\n'
        'gauge = {stitches = 33, rounds = 36, over = "10 cm"}\npart = "foot"'
    )
    (one,) = told.design.socks[0][1].all_round
    assert (one.part, one.after, one.times, one.stretch) == (SockPart.FOOT, 3, 2, 1.3)
    assert one.pattern == StitchPattern.of_colours(["ABBA", "BAAB"])
    written = read_design(DESIGN % 'rounds = ["*k1 A, k1 B; rep from *"]')
    assert written.design.socks[0][1].all_round[0].pattern.yarns == ("A", "B")


@together(
    ("said", "why"),
    [
        ('chart = ["ABBA", "BAB"]', "rows of one width"),
        ('chart = ["AC"]', "yarns are: A, B"),
        ('chart = ["AB"]\nrounds = ["*k1 A; rep from *"]', "the one or the other"),
        ('chart = ["AB"]\npart = "heel"', "expected 'leg' or 'foot'"),
        ('chart = ["AB"]\ntimes = 0', "expected once or more"),
        ('chart = ["AB"]\ntimes = 500', r"the leg has .* \(times\), or a higher leg"),
        ('chart = ["AB"]\nstretch = 9', "a quarter more than at rest"),
        ('rounds = ["p1, *k1 A, k1 B; rep from *", "p1, *k2; rep from *"]', "goes all round"),
        ('rounds = ["*k1, yo; rep from *", "*k2tog; rep from *"]', "changes the count"),
    ],
)
def test_what_cannot_go_all_round_is_refused(said: str, why: str) -> None:
    with pytest.raises(DesignError, match=why):
        read_design(DESIGN % said)


def test_what_is_in_the_way_is_named() -> None:
    rib = Panel(pattern=StitchPattern.of(["*k2, p2; rep from *"]))
    with pytest.raises(SizingError, match="a panel as well"):
        sock(zigzag(), panel=rib)
    with pytest.raises(SizingError, match="a ribbed leg"):
        sock(zigzag(), leg="ribbed")
    with pytest.raises(SizingError, match="a striped leg"):
        sock(zigzag(), stripes=SockStripes(bands=[("A", 2), ("B", 2)], parts=["leg"]))
    with pytest.raises(SizingError, match="another ends there"):
        sock(zigzag(after=3, times=2), zigzag(after=8, times=1)).pattern()
    with pytest.raises(SizingError, match="go all round"):
        Panel(pattern=StitchPattern.of_colours(["AB"]))
    with pytest.raises(StepError, match="no yarn for 'C'"):
        StitchPattern.of_colours(["AC"], yarns={"A": "sea"})
    with pytest.raises(StepError, match="200,000 stitches; expected at most 100,000"):
        StitchPattern.of_colours(["AB" * 50_000, "BA" * 50_000])
    assert StitchPattern.of_colours(["A" * 100_000]).multiple == 100_000


def test_sizes_share_a_band() -> None:
    from loopwright.sock import Design

    feet = {"S": Foot.of(length="23 cm", ball_girth="20 cm"), "L": Foot.of(length="26 cm")}
    design = Design.graded("Bands", sock(zigzag(after=4)), feet)
    pattern = design.pattern()
    for name, one in design.socks:
        fabric = knitted(pattern, size=name).fabric
        assert one.check(fabric).ok
        assert difference(fabric, one.fabric()) is None


@pytest.mark.parametrize("roomier", [True, False])
def test_what_bands_rule_out_is_no_change_and_the_others_are(*, roomier: bool) -> None:
    """A shaped or ribbed leg has no room for a band: mending gave up on all else with it."""
    banded, plain = (
        {change.key for change in changes(one, roomier=roomier)}
        for one in (sock(zigzag(after=6, times=1)), sock())
    )
    assert plain - banded == {"another leg"}
