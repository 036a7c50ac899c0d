"""Panels: a stitch pattern on leg and instep, round by round through every heel."""

from __future__ import annotations

import itertools
import re
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loopwright.design import read_design
from loopwright.errors import DesignError, SizingError, StepError
from loopwright.fabric import Fabric, check
from loopwright.fabric.columns import BACK
from loopwright.gauge import Gauge
from loopwright.pattern import (
    PanelRounds,
    Pattern,
    Repeat,
    Round,
    Run,
    WorkPanel,
    k,
    k_to,
    knit,
    read,
    review,
    write,
)
from loopwright.sock import (
    Design,
    Direction,
    Foot,
    Needles,
    Panel,
    Sock,
    SockStripes,
    SockYarn,
    StitchPattern,
    heel_names,
)
from together import together

FOOT = Foot.of(length="24.6 cm")
GAUGE = Gauge.of(24, 34)
LACE = StitchPattern.of(
    ["p1, *k2tog, yo, k3, p1; rep from *", "p1, *k5, p1; rep from *",
     "p1, *k3, yo, ssk, p1; rep from *", "p1, *k5, p1; rep from *"]
)  # fmt: skip
GROWS = StitchPattern.of(
    ["p1, k1, yo, k3, p1", "p1, k5, p1", "p1, k1, k2tog, k2, p1", "p1, k4, p1"]
)


def sock(pattern: StitchPattern = LACE, **choices: Any) -> Sock:
    return Sock(**{"foot": FOOT, "gauge": GAUGE, "panel": Panel(pattern=pattern), **choices})


def keys_along(fabric: Fabric, loops: Any) -> list[str]:
    keys = [row.key for row in fabric.stitches]
    return [keys[code] for code in fabric.stitch[loops].tolist()]


@pytest.mark.parametrize("direction", Direction, ids=lambda d: d.value)
@pytest.mark.parametrize("heel", heel_names())
def test_every_heel_with_a_panel(heel: str, direction: Direction) -> None:
    made = sock(heel=heel, direction=direction)
    pattern = made.pattern()
    assert read(write(pattern)) == pattern
    assert review(pattern).ok
    fabric = made.fabric()
    assert check(fabric, openings=1).ok
    assert fabric.euler_characteristic == 2
    fit = made.plan().panel
    assert fit is not None
    # By hand: each round in four has one k2tog, ssk and two yo a repeat.
    rounds = sum("work panel" in line for line in write(pattern).splitlines())
    assert rounds
    overs, slips = (keys_along(fabric, fabric.ids).count(key) for key in ("yo", "ssk"))
    assert overs % fit.repeats == 0
    assert overs > 20 * fit.repeats
    assert slips >= overs // 2 - fit.repeats


@pytest.mark.parametrize("direction", Direction, ids=lambda d: d.value)
@pytest.mark.parametrize("heel", ["forethought", "short-row", "short-row with gusset", "flap"])
def test_no_round_is_left_out_over_the_heel(heel: str, direction: Direction) -> None:
    """Up the wale of purls beside the first repeat: one purl a round, heel or none; counted."""
    made = sock(heel=heel, direction=direction)
    fabric, plan = made.fabric(), made.plan()
    child = {int(a): int(b) for a, b in zip(fabric.parent, fabric.child, strict=True)}
    purls = np.array([key == "p" for key in (row.key for row in fabric.stitches)])[fabric.stitch]
    back = set(np.flatnonzero(purls).tolist())
    parent = {b: a for a, b in child.items()}
    starts = [loop for loop in back if parent.get(loop) not in back]
    longest = max(_run(start, child, back) for start in starts)
    numbers = plan.heel
    whole = plan.leg_rounds + plan.foot_rounds + numbers.leg_rounds + numbers.foot_rounds
    rib = plan.cuff_rounds
    assert longest in (whole - 1, whole - 1 + rib)  # the last round before the toe is plain


WELTS = StitchPattern.of(["*p1, k3; rep from *", "*k4; rep from *", "*p1, k3; rep from *",
                          "*p1, k3; rep from *", "*p1, k3; rep from *"])  # fmt: skip


@pytest.mark.parametrize("direction", Direction, ids=lambda d: d.value)
@pytest.mark.parametrize("heel", heel_names())
def test_it_goes_on_from_all_round_the_leg(heel: str, direction: Direction) -> None:
    """Up a wale of it: four purls and a knit, again and again, with no break at the heel."""
    panel = Panel(pattern=WELTS, round_leg=True)
    made = sock(panel=panel, heel=heel, direction=direction, cuff="1x1 rib", stitches=48)
    fabric, plan = made.fabric(), made.plan()
    assert made.check(fabric).ok
    text = write(made.pattern())
    assert read(text) == made.pattern()
    purl = np.zeros(len(fabric.flags), bool)
    purl[fabric.child[(fabric.info & BACK) != 0]] = True
    child = {int(a): int(b) for a, b in zip(fabric.parent, fabric.child, strict=True)}
    assert plan.panel is not None
    rounds = plan.leg_rounds + plan.foot_rounds + plan.heel.leg_rounds + plan.heel.foot_rounds
    least = rounds - 5 - panel.plain - plan.panel.start  # what is plain at the cuff and before it
    wales = [_wale(loop, child) for loop in fabric.ids[: plan.stitches.count].tolist()]
    found = max(_in_turn([bool(purl[loop]) for loop in wale]) for wale in wales)
    assert rounds >= found >= least - 5 > 50


def _wale(loop: int, child: dict[int, int]) -> list[int]:
    found = [loop]
    while found[-1] in child:
        found.append(child[found[-1]])
    return found


def _in_turn(purls: list[bool]) -> int:
    """The longest piece of a wale that is purled four times in five, the fifth always knitted."""
    text = "".join("p" if purl else "k" for purl in purls)
    return max((len(one) for one in re.findall(r"(?:p{3}kp)+", text)), default=0)


def test_all_round_the_leg_is_as_it_is_on_the_instep() -> None:
    """Counted by hand: 60 stitches of a repeat of 6 have ten yarn overs in each round that has."""
    foot = Foot.of(length="23 cm", ball_girth="21 cm")
    panel = Panel(pattern=LACE, round_leg=True)
    made = Sock(foot=foot, gauge=Gauge.of(32, 44), panel=panel, heel="flap")
    fabric, plan = made.fabric(), made.plan()
    assert plan.stitches.count == 60
    overs = fabric.ids[[key == "yo" for key in keys_along(fabric, fabric.ids)]]
    many = np.unique(fabric.course[overs], return_counts=True)[1].tolist()
    leg = plan.leg_rounds // 4 * 2
    assert many[:leg] == [10] * leg
    assert set(many[leg:]) == {plan.panel.repeats if plan.panel else 0}
    with pytest.raises(SizingError, match="changes the count"):
        Panel(pattern=GROWS, round_leg=True)


def _run(loop: int, child: dict[int, int], among: set[int]) -> int:
    found = 0
    while loop in among:
        found, loop = found + 1, child.get(loop, -1)
    return found


def test_sizes_get_what_they_take() -> None:
    """Counted by hand: (instep - 2 - 1) // 6 repeats."""
    feet = {name: Foot.of(length=length) for name, length in
            (("S", "21 cm"), ("M", "24.6 cm"), ("L", "28 cm"))}  # fmt: skip
    for heel, direction in itertools.product(("flap", "forethought"), Direction):
        design = Design.graded("Tide", sock(heel=heel, direction=direction), feet)
        for _, one in design.socks:
            plan = one.plan()
            assert plan.panel is not None
            assert plan.panel.repeats == (plan.share.instep - 3) // 6
            assert plan.panel.right + plan.panel.width + plan.panel.left == plan.share.instep
            assert abs(plan.panel.right - plan.panel.left) <= 1
            assert str(plan.panel) in str(plan)
        pattern = design.pattern()
        assert read(write(pattern)) == pattern
        assert "work panel" in write(pattern)
        assert all(report.ok for report in design.checks().values())


def test_a_size_that_cannot_hold_it_says_which_can() -> None:
    wide = StitchPattern.of(["k40", "p40"])
    with pytest.raises(SizingError, match=r"40 stitches wide on an instep of 24.*of 42 .*84") as no:
        sock(wide).plan()
    assert no.value.what == "panel"
    big = sock(wide, stitches=84, foot=Foot.of(length="27 cm"))
    assert check(big.fabric(), openings=1).ok


@pytest.mark.parametrize("direction", Direction, ids=lambda d: d.value)
@pytest.mark.parametrize("heel", ["forethought", "short-row", "afterthought"])
def test_rounds_that_change_the_count(heel: str, direction: Direction) -> None:
    made = sock(GROWS, heel=heel, direction=direction)
    pattern = made.pattern()
    assert read(write(pattern)) == pattern
    fabric = made.fabric()
    assert check(fabric, openings=1).ok
    keys = keys_along(fabric, fabric.ids)
    fit = made.plan().panel
    assert fit is not None
    assert keys.count("yo") % fit.repeats == 0
    assert keys.count("yo") > 5


def test_what_can_never_be_whole_is_refused() -> None:
    with pytest.raises(SizingError, match="change the count"):
        sock(GROWS, heel="flap", direction="toe up", gauge=Gauge.of(32, 44)).plan()


@pytest.mark.parametrize("needles", Needles)
def test_needles_change_no_stitch(needles: Needles) -> None:
    one, other = sock(needles=needles), sock()
    assert one.fabric() == other.fabric()


def test_a_panel_begins_with_a_repeat_of_the_cuff_where_asked() -> None:
    made = sock(panel=Panel(pattern=LACE, repeats=2, matches_cuff=True), heel="flap")
    plan = made.plan()
    assert plan.panel is not None
    assert (plan.share.heel + plan.panel.right) % 4 == 0
    assert abs(plan.panel.right - plan.panel.left) <= 5


def test_with_a_contrast_heel_and_stripes() -> None:
    yarns = (SockYarn(name="A"), SockYarn(name="B"), SockYarn(name="C", parts=["heel", "toe"]))
    stripes = SockStripes(bands=[("A", 2), ("B", 2)])
    for heel, direction in itertools.product(heel_names(), Direction):
        made = sock(heel=heel, direction=direction, yarns=yarns, stripes=stripes)
        assert check(made.fabric(), openings=1).ok
        assert read(write(made.pattern())) == made.pattern()


# The pattern by itself


@given(
    before=st.integers(0, 3), after=st.integers(0, 3), repeats=st.integers(1, 5),
    widths=st.lists(st.integers(1, 4), min_size=1, max_size=4),
)  # fmt: skip
def test_a_pattern_is_as_wide_as_its_parts(
    before: int, after: int, repeats: int, widths: list[int]
) -> None:
    """Arithmetic, and a tube that is knitted with it."""
    once = ", ".join(f"{'kp'[at % 2]}{width}" for at, width in enumerate(widths))
    text = f"{f'p{before}, ' if before else ''}*{once}; rep from *{f', p{after}' if after else ''}"
    pattern = StitchPattern.of([text, text])
    assert (pattern.before, pattern.after, pattern.multiple) == (before, after, sum(widths))
    width = before + repeats * sum(widths) + after
    assert pattern.width(repeats) == width
    tube = read(f"Cast on {width + 2} sts. Join in the round.")
    steps = (*tube.steps, pattern.told(repeats), Round((k(1), WorkPanel(), k_to())))
    whole = Pattern("", steps)
    assert read(write(whole)) == whole
    assert knit(whole).euler_characteristic == 2


@together(
    ("rounds", "problem"),
    [
        ([], "no rounds"),
        (["k2, yo"], "round 1 takes 2 stitches, and round 1 leaves 3"),
        (["k4", "k5"], "round 1 takes 4 stitches, and round 2 leaves 5"),
        (["k1, *k2; rep from *", "*k2; rep from *"], "before its repeats"),
        (["knit"], "say how many"),
        (["*k1; rep from *, *p1; rep from *"], "found|repeat|expected"),
        (["turn"], "no single round"),
        (["yo"], "takes 0 stitches|leaves"),
    ],
)
def test_what_is_no_pattern(rounds: list[str], problem: str) -> None:
    with pytest.raises((StepError, ValueError), match=problem):
        StitchPattern.of(rounds)


@together(
    ("make", "problem"),
    [
        (lambda: PanelRounds([]), "needs its rounds"),
        (lambda: PanelRounds([[k_to()]]), "stitches and numbers"),
        (lambda: PanelRounds([[Repeat((k(1),))]]), "stitches and numbers"),
        (lambda: PanelRounds([[WorkPanel()]]), "stitches and numbers"),
        (lambda: PanelRounds([[]]), "nothing to work"),
    ],
)
def test_what_is_no_panel(make: Any, problem: str) -> None:
    with pytest.raises(StepError, match=problem):
        make()


def test_a_panel_that_nobody_told_is_found() -> None:
    found = review(read("Cast on 8 sts. Join in the round. Rnd 1: K2, work panel, k to end."))
    assert not found.ok
    assert "no panel is known" in str(found)


def test_numbers_of_panel_rounds_are_looked_at() -> None:
    with pytest.raises(ValueError, match="panel rnd 2, not 3"):
        read("Cast on 8 sts. Panel rnd 1: K2. Panel rnd 3: P2.")


def test_steps_give_a_pattern_too() -> None:
    """As a chart gives them: rounds, and repeats of rounds."""
    steps = read("Rnds 1-2: *K2, p2; rep from * to end. Rnd 3: *P2, k2; rep from * to end.").steps
    pattern = StitchPattern.of(steps)
    assert [one.repeat for one in pattern.rounds] == [
        (Run("k", 2), Run("p", 2)), (Run("k", 2), Run("p", 2)), (Run("p", 2), Run("k", 2)),
    ]  # fmt: skip


# The design file

DESIGN = """
gauge = {stitches = 24, rounds = 34, over = "10 cm"}
foot = {length = "24 cm"}
[panel]
rounds = ["p1, *k2tog, yo, k3, p1; rep from *", "p1, *k5, p1; rep from *"]
repeats = 2
plain = 3
"""


def test_a_design_says_a_panel() -> None:
    made = read_design(DESIGN).design.socks[0][1]
    assert made.panel is not None
    assert (made.panel.repeats, made.panel.plain, made.panel.pattern.multiple) == (2, 3, 6)


@together(
    ("old", "new", "key"),
    [
        ('"p1, *k5, p1; rep from *"', '"p1, *k4, p1; rep from *"', "panel.rounds"),
        ('"p1, *k5, p1; rep from *"', '"p1, *hop; rep from *"', "panel.rounds"),
        ('"p1, *k5, p1; rep from *"', "5", "panel.rounds"),
        ("repeats = 2", "repeats = 0", "panel"),
        ("repeats = 2", "repeats = 20", "foot"),
        ("plain = 3", "plane = 3", "panel.plane"),
    ],
)
def test_a_design_is_refused_at_its_key(old: str, new: str, key: str) -> None:
    with pytest.raises(DesignError) as refused:
        read_design(DESIGN.replace(old, new, 1))
    assert refused.value.key == key


@pytest.mark.parametrize("direction", ["cuff down", "toe up"])
@pytest.mark.parametrize("heel", heel_names())
def test_a_panel_is_explained_and_taken_up_where_it_was_left(heel: str, direction: str) -> None:
    """After a flap nobody could tell which of its rounds comes next: counted from the stitches."""
    rounds = ["*k2tog, yo, k3, p1; rep from *", "*k5, p1; rep from *", "*p6; rep from *"]
    foot = Foot.of(length="24.6 cm", ball_girth="22.5 cm")
    panel = Panel(pattern=StitchPattern.of(rounds))
    made = Sock(foot=foot, gauge=Gauge.of(32, 44), panel=panel, heel=heel, direction=direction)
    text = write(made.pattern())
    assert read(text) == made.pattern()
    assert '"Work panel" is: work the next panel rnd there, rnds 1-3 in turn' in text
    worked, last = 0, ""
    for line in text.splitlines():
        if found := re.fullmatch(r"Note: The panel goes on with its rnd (\d+)\.", line):
            assert int(found[1]) == worked % 3 + 1
        if "work panel" in line and not line.startswith("Note"):
            span = re.match(r"Rnds (\d+)-(\d+):", line)
            worked += 1 if span is None else int(span[2]) - int(span[1]) + 1
        elif again := re.match(r"Rep rnds (\d+) and (\d+) another (\d+) times", line):
            worked += 2 * int(again[3]) * ("work panel" in last)
        last = line
    assert heel != "flap" or direction != "cuff down" or "The panel goes on with its rnd" in text


def test_no_line_says_to_knit_0() -> None:
    """The strand at the corner takes the one stitch beside the panel: none is left to knit."""
    panel = Panel(pattern=StitchPattern.of(["*p2, k4, p2; rep from *"]))
    heel = "short-row with gusset"
    made = Sock(foot=FOOT, gauge=Gauge.of(32, 44), panel=panel, heel=heel, stitches=68)
    fit = made.plan().panel
    assert fit is not None
    assert fit.right == 1
    text = write(made.pattern())
    assert "lift strand across corner and k2tog with next st, work panel" in text
    assert not re.search(r"\b[kp]0\b", text, re.IGNORECASE)
