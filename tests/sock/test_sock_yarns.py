"""Yarns by part and stripes: every heel, both directions; counted from the fabric."""

from __future__ import annotations

import itertools
import re
from typing import Any

import attrs
import numpy as np
import pytest

from loopwright.design import read_design
from loopwright.errors import DesignError, SizingError, StepError
from loopwright.fabric import Fabric, Kind, check
from loopwright.gauge import Gauge
from loopwright.pattern import (
    SockPart,
    Stripes,
    UseYarn,
    in_words,
    knit_rounds,
    knitted,
    read,
    review,
    write,
)
from loopwright.sock import (
    Design,
    Direction,
    Foot,
    Sock,
    SockStripes,
    SockYarn,
    heel_names,
    toe_names,
)
from loopwright.sock._in_hand import told_of_yarns
from loopwright.yarn import Yarn, strand_uses, yarn_need
from together import together

FOOT = Foot.of(length="24.6 cm")
COARSE = Gauge.of(20, 28)
A, B, C = (SockYarn(name=name) for name in "ABC")
CONTRAST = (A, attrs.evolve(B, parts=["heel", "toe"]), attrs.evolve(C, parts=["cuff"]))
PARTS = ["leg", "foot", "heel"]
SCHEMES: dict[str, dict[str, Any]] = {
    "heel": {"yarns": (A, attrs.evolve(B, parts=["heel"]))},
    "heel, toe, cuff": {"yarns": CONTRAST},
    "foot and heel": {
        "yarns": (A, attrs.evolve(B, parts=["foot"]), attrs.evolve(C, parts=["heel"]))
    },
    "stripes": {"yarns": (A, B), "stripes": SockStripes(bands=[("A", 2), ("B", 2)])},
    "stripes of three": {
        "yarns": (A, B, attrs.evolve(C, parts=["heel", "toe", "cuff"])),
        "stripes": SockStripes(bands=[("A", 2), ("B", 3), ("C", 1)]),
    },
    "striped heel": {
        "yarns": (A, B),
        "stripes": SockStripes(bands=[("A", 2), ("B", 2)], parts=PARTS),
    },
    "leg": {"yarns": (A, B), "stripes": SockStripes(bands=[("A", 2), ("B", 3)], parts=["leg"])},
    "foot": {"yarns": (A, B), "stripes": SockStripes(bands=[("A", 2), ("B", 3)], parts=["foot"])},
    "all": {
        "yarns": (A, B),
        "stripes": SockStripes(bands=[("A", 2), ("B", 2)], parts=[*PARTS, "cuff", "toe"]),
    },
}  # fmt: skip


def sock(**choices: Any) -> Sock:
    return Sock(**{"foot": FOOT, "gauge": COARSE, **choices})


def yarns_of(fabric: Fabric, loops: Any) -> set[str]:
    return {fabric.strands[strand].yarn for strand in np.unique(fabric.strand[loops])}


@pytest.mark.parametrize("direction", Direction, ids=lambda d: d.value)
@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("heel", heel_names())
def test_every_heel_in_yarns(heel: str, scheme: str, direction: Direction) -> None:
    """One surface, one opening, all tails woven; text and fabric are each other's."""
    made = sock(gauge=Gauge.of(14, 20), heel=heel, direction=direction, **SCHEMES[scheme])
    pattern = made.pattern()
    text = write(pattern)
    assert read(text) == pattern
    assert review(pattern).ok
    fabric = made.fabric()
    report = check(fabric, openings=1)
    report.require_ok()
    assert not [flaw for flaw in report.blemishes if flaw.kind == "gaps"]
    assert fabric.euler_characteristic == 2
    for strand in fabric.strands:
        assert strand.cut
        if strand.role != "waste":
            assert strand.woven == (True, True)


@pytest.mark.parametrize("direction", Direction, ids=lambda d: d.value)
@pytest.mark.parametrize("heel", heel_names())
def test_each_part_is_in_its_yarn(heel: str, direction: Direction) -> None:
    pattern = sock(heel=heel, direction=direction, yarns=CONTRAST).pattern()
    made = knitted(pattern)
    found: dict[SockPart, set[str]] = {}
    for entry in made.journal:
        loops = np.array([one for one in entry.loops if made.fabric.present[one]], dtype=int)
        loops = loops[made.fabric.stitch[loops] != made.fabric.stitches.code("wrap")]
        if entry.part is not None and len(loops):
            working = [one for one in yarns_of(made.fabric, loops) if one in "ABC"]
            found.setdefault(entry.part, set()).update(working)
    assert found[SockPart.CUFF] == {"C"}
    assert found[SockPart.LEG] == {"A"}
    assert found[SockPart.FOOT] == {"A"}
    assert found[SockPart.TOE] == {"B"}
    assert "B" in found[SockPart.HEEL] or heel == "afterthought"


@pytest.mark.parametrize("toe", toe_names())
@pytest.mark.parametrize("direction", Direction, ids=lambda d: d.value)
def test_every_toe_in_a_yarn_of_its_own(toe: str, direction: Direction) -> None:
    fabric = sock(toe=toe, direction=direction, yarns=CONTRAST).fabric()
    assert check(fabric, openings=1).ok
    assert fabric.euler_characteristic == 2


def wale_up(fabric: Fabric, loop: int) -> list[int]:
    child = {int(a): int(b) for a, b in zip(fabric.parent, fabric.child, strict=True)}
    found = [loop]
    while found[-1] in child:
        found.append(child[found[-1]])
    return found


def wale_down(fabric: Fabric, loop: int) -> list[int]:
    parent = {int(b): int(a) for a, b in zip(fabric.parent, fabric.child, strict=True)}
    found = [loop]
    while found[0] in parent:
        found.insert(0, parent[found[0]])
    return found


@pytest.mark.parametrize("direction", Direction, ids=lambda d: d.value)
@pytest.mark.parametrize("heel", ["forethought", "short-row", "flap"])
def test_the_sequence_is_met_again_after_the_heel(heel: str, direction: Direction) -> None:
    """Along the instep's middle wale each stripe has its rounds, heel or no heel: itertools."""
    bands = [("A", 2), ("B", 3), ("C", 1)]
    yarns = (A, B, C, SockYarn(name="D", parts=["heel", "toe", "cuff"]))
    stripes = SockStripes(bands=bands)
    made = sock(heel=heel, direction=direction, yarns=yarns, stripes=stripes)
    fabric, stitches = made.fabric(), made.plan().stitches.count
    if direction is Direction.CUFF_DOWN:
        # The round of the leg begins with the half that the heel asks for.
        middle = stitches // 4 * (3 if made.heel.begins == "heel" else 1)
        wale = wale_up(fabric, middle)
    else:
        top = np.flatnonzero(fabric.kinds(Kind.BOUND_OFF) & fabric.present)
        wale = wale_down(fabric, int(top[stitches // 4]))
    letters = [fabric.strands[fabric.strand[one]].yarn for one in wale]
    groups = [(name, len([*same])) for name, same in itertools.groupby(letters)]
    inner = [group for group in groups if group[0] != "D"]
    assert sum(rounds for _, rounds in inner) > 40
    told = itertools.cycle(bands)
    assert inner[:-1] == [next(told) for _ in inner[:-1]]


def test_sizes_share_one_text() -> None:
    """Three sizes both directions, contrast heel and toe."""
    feet = {"S": Foot.of(length="22.8 cm"), "M": FOOT, "L": Foot.of(length="27 cm")}
    for direction, heel in itertools.product(Direction, heel_names()):
        design = Design.graded("Mole", sock(heel=heel, direction=direction, yarns=CONTRAST), feet)
        pattern = design.pattern()
        assert read(write(pattern)) == pattern
        on_ball = set[str]()  # what was cut is joined anew, common practice
        for verb, name in re.findall(r"(Join yarn|Change to|Cut yarn) ([AB])\b", write(pattern)):
            assert verb != "Change to" or name in on_ball
            assert verb != "Join yarn" or name not in on_ball or heel != "flap"
            (on_ball.discard if verb == "Cut yarn" else on_ball.add)(name)
        assert all(report.ok for report in design.checks().values())


def test_yarn_need_is_by_yarn() -> None:
    """Metres of all strands of one yarn together; a contrast heel takes from the main yarn."""
    band = Yarn.of("tarred wool", "420 m / 100 g", ball="50 g")
    yarns = tuple(attrs.evolve(one, yarn=band) for one in CONTRAST)
    made, plain = sock(yarns=yarns, heel="flap"), sock(heel="flap", yarn=band)
    needs = {need.name: need for need in yarn_need(strand_uses(made.fabric()), COARSE, made.bands)}
    assert set(needs) == {"A, tarred wool", "B, tarred wool", "C, tarred wool"}
    (whole,) = yarn_need(strand_uses(plain.fabric()), COARSE, band)
    together = sum(need.metres.likely for need in needs.values())
    tails = 0.35 * (len(made.fabric().strands) - 1)  # two of 175 mm a strand more
    assert together == pytest.approx(whole.metres.likely + tails, rel=0.01)


@pytest.mark.parametrize(
    ("choices", "words"),
    [
        ({"yarns": (A, A)}, "'A' twice"),
        (
            {"yarns": (attrs.evolve(A, parts=["toe"]), attrs.evolve(B, parts=["toe"]))},
            "'toe' twice",
        ),
        ({"stripes": SockStripes(bands=[("A", 2)])}, "none; give yarns"),
        ({"yarns": (A,), "stripes": SockStripes(bands=[("B", 2)])}, "yarns are: A"),
    ],
)
def test_what_is_refused(choices: dict[str, Any], words: str) -> None:
    with pytest.raises(SizingError, match=words):
        sock(**choices)


def test_odd_stripes_through_a_heel_in_rows_are_refused() -> None:
    stripes = SockStripes(bands=[("A", 2), ("B", 3)], parts=PARTS)
    with pytest.raises(SizingError, match="3 rounds of B through a heel worked in rows"):
        sock(yarns=(A, B), stripes=stripes, heel="flap").plan()
    assert check(sock(yarns=(A, B), stripes=stripes).fabric(), openings=1).ok  # in the round


@pytest.mark.parametrize("name", ["A 2", "", "the wool", "a,b"])
def test_names_that_text_cannot_hold(name: str) -> None:
    with pytest.raises(SizingError, match="yarn"):
        SockYarn(name=name)


# The design file

DESIGN = """
gauge = {stitches = 20, rounds = 28, over = "10 cm"}
[[yarns]]
name = "A"
band = "tarred wool"
count = "420 m / 100 g"
[[yarns]]
name = "B"
parts = ["heel", "toe"]
colour = "#a33b20"
[stripes]
sequence = ["2 A", "3 B"]
parts = ["leg"]
[foot]
length = "24 cm"
"""


def test_a_design_says_yarns_and_stripes() -> None:
    made = read_design(DESIGN).design.socks[0][1]
    assert [one.name for one in made.yarns] == ["A", "B"]
    assert made.yarns[1].parts == (SockPart.HEEL, SockPart.TOE)
    assert made.yarns[0].yarn is not None
    assert made.yarns[0].yarn.name == "tarred wool"
    assert made.stripes == SockStripes(bands=[("A", 2), ("B", 3)], parts=["leg"])


@together(
    ("old", "new", "key"),
    [
        ('"2 A"', '"A 2"', "stripes.sequence"),
        ('"2 A"', '"2 D"', "foot"),
        ('parts = ["heel", "toe"]', 'parts = "heel"', "yarns 2.parts"),
        ('parts = ["heel", "toe"]', 'parts = ["hoof"]', "yarns 2"),
        ('colour = "#a33b20"', 'colour = "red"', "yarns 2"),
        ('name = "B"', 'name = ""', "yarns 2.name"),
        ("[[yarns]]\nname = \"A\"", "[yarn]\ncount = \"2.5 Ne\"\n[[yarns]]\nname = \"A\"", "yarn"),
    ],
)  # fmt: skip
def test_a_design_is_refused_at_its_key(old: str, new: str, key: str) -> None:
    with pytest.raises(DesignError) as refused:
        read_design(DESIGN.replace(old, new, 1))
    assert refused.value.key.replace(", ", ".") == key


@pytest.mark.parametrize("direction", Direction, ids=lambda d: d.value)
@pytest.mark.parametrize("heel", heel_names())
def test_words_of_stripes_are_true_where_they_stand(heel: str, direction: Direction) -> None:
    """Where the heel's own yarn is in hand it is not cut to be joined again at the same stitch."""
    stripes = SockStripes(bands=[("A", 3), ("B", 2)])
    yarns = (A, attrs.evolve(B, parts=["heel", "toe"]))
    in_hand = []
    for length in ("22 cm", "22.6 cm", "23.2 cm", "23.8 cm", "24.4 cm", "25 cm"):
        foot = Foot.of(length=length, ball_girth="22 cm", leg_height=length)
        made = sock(foot=foot, heel=heel, direction=direction, yarns=yarns, stripes=stripes)
        text = write(made.pattern())
        assert read(text) == made.pattern()
        both = "Cut yarn B.\nJoin yarn B."
        told = re.findall(r"Note: Yarn B (is in hand; cut it all|hangs some rnds below)", text)
        assert len(told) == text.count(both)
        assert heel == "forethought" or "is in hand; cut it all" not in told
        assert "join the yarn there" not in text or heel == "afterthought"
        assert text.count("No strand runs across a corner") == 0
        in_hand.append(
            "with B in hand" in text or "\nGo on in B." in text or "is in hand; cut it all" in told
        )
    assert heel == "afterthought" or len(set(in_hand)) == 2


_BAND = '[[all_round]]\npart = "leg"\nchart = ["AB"]\nafter = {}\ntimes = 2\n'


@together(("between", "stays"), [(0, True), (3, True), (4, True), (5, False), (9, False)])
def test_a_colour_that_the_next_rounds_need_is_not_cut(between: int, stays: bool) -> None:
    """It was cut three rounds before it was joined again."""
    stripes = DESIGN[DESIGN.index("[stripes]") : DESIGN.index("[foot]")]
    bands = _BAND.format(2) + _BAND.format(4 + between)
    made = read_design(DESIGN.replace(stripes, bands)).design.socks[0][1]
    text = write(made.pattern())
    leg = text[text.index("## Leg") : text.index("## Heel")]
    assert leg.count("Join yarn B where") == leg.count("Cut yarn B.") == 2 - stays
    told = f"Don't cut yarn B: it is worked again after {between} rnds."
    assert (told in leg) is (stays and between > 0)
    fabric = made.fabric()
    assert len([one for one in fabric.strands if one.yarn == "B"]) == 4 - stays  # heel, toe
    assert not check(fabric, openings=1).findings
    assert read(text) == made.pattern()


def test_a_yarn_in_hand_is_not_changed_to() -> None:
    """ "Change to B" stood behind "go on in B, which is in hand"."""
    work = [UseYarn("A", new=True), Stripes([("A", 1), ("B", 2)]), knit_rounds(2), UseYarn("B")]
    for words in ("Note: The stripes end here.", "Go on in B."):
        assert words in [in_words(step) for step in told_of_yarns(work)]
    with pytest.raises(StepError, match="new and in hand"):
        UseYarn("B", new=True, held=True)


def test_a_band_says_that_its_yarn_is_joined_where_none_hangs() -> None:
    """Cut at the heel's end, the band's colour was worked with as if it hung there."""
    made = read_design(
        DESIGN.replace("[stripes]", '[[all_round]]\npart = "leg"\nchart = ["AB"]\nafter = 3\n'
                       'times = 2\n[stripes]').replace('["leg"]', '["foot"]')
        + '[heel]\nkind = "short-row"\n'
    ).design.socks[0][1]  # fmt: skip
    text = write(attrs.evolve(made, direction="toe up").pattern())
    band = text.index("K1 A, k1 B") if "K1 A, k1 B" in text else text.index("K1 B, k1 A")
    assert "Join yarn B where it is first worked." in text[text.index("## Leg") : band]
    assert "The stripes end here" in text
    assert "Note: The stripes go on." not in text[text.index("## Leg") :]


@together("heel", heel_names())
@together("direction", Direction)
def test_where_stripes_are_resumed_their_next_round_is_named(
    heel: str, direction: Direction
) -> None:
    """Nobody remembers it over a heel. Counted by hand from the rounds written before it; gussets
    and all, an afterthought heel apart, which keeps no place.
    """
    made = sock(heel=heel, direction=direction, **SCHEMES["stripes of three"])
    text = write(made.pattern())
    before, kept, after = text.partition("Keep your place in the stripes.")
    if not kept:
        assert heel == "afterthought"
        return
    rounds = 0
    for line in before[before.index("Work in stripes") :].splitlines():
        if found := re.match(r"Rnds? (\d+)(?:-(\d+))?:", line):
            rounds += int(found[2] or found[1]) - int(found[1]) + 1
        elif found := re.match(r"Rep rnds \d+ and \d+ (?:once|another (\d+))", line):
            rounds += 2 * int(found[1] or 1)
    yarn, number, many = [("A", 1, 2), ("A", 2, 2), ("B", 1, 3), ("B", 2, 3), ("B", 3, 3),
                          ("C", 1, 1)][rounds % 6]  # fmt: skip
    resumed = after[after.index("Resume the stripes") :].splitlines()
    told = f"Note: Their next rnd is in {yarn}, rnd {number} of {many} of that stripe."
    assert resumed[1] == told
    moved = "short-row" in heel  # with the flap they are joined anew
    assert ("begin at another side" in after) is moved


def test_a_stitch_picked_up_where_no_strand_runs_is_told() -> None:
    """18 were to be picked up along 17 chains, and nobody said where the first of them is."""
    for yarns, corner in (((), False), (CONTRAST, True)):
        text = write(sock(heel="flap", yarns=yarns).pattern())
        assert ("other edge of the flap, beginning with 1 st in the corner." in text) is corner
        assert (text.count("lift strand across corner and m1l") == 1) is corner
