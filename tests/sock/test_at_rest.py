"""What a panel's pattern does to the sock: names, measured and estimated widths, and what is said.

Estimates are one program's, see `cloth.toml`; nothing here makes them truer than that.
"""

from __future__ import annotations

from typing import Any

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loopwright.design import read_design
from loopwright.fitting import fit, sample
from loopwright.gauge import Gauge
from loopwright.sock import Foot, Panel, Sock, StitchPattern, at_rest, kind_of
from together import together

PLAIN = Gauge.of(24, 34)
FOOT = Foot.of(length="24.6 cm")
RIB = StitchPattern.of(["*k2, p2; rep from *"])
LACE = StitchPattern.of(["p1, *k2tog, yo, k3, p1; rep from *", "p1, *k5, p1; rep from *"])


def sock(pattern: StitchPattern, gauge: Gauge | None = None, **choices: Any) -> Sock:
    panel = Panel(pattern=pattern, gauge=gauge)
    return Sock(**{"foot": FOOT, "gauge": PLAIN, "panel": panel, **choices})


@together(
    ("rounds", "kind"),
    [
        (["k1"], "stocking stitch"),
        (["k4", "k4"], "stocking stitch"),
        (["p3"], "reverse stocking stitch"),
        (["*k1, p1; rep from *"], "1x1 rib"),
        (["*p1, k1; rep from *"], "1x1 rib"),
        (["*k1, p2, k1; rep from *"], "2x2 rib"),
        (["*k3, p1; rep from *"] * 3, "3x1 rib"),
        (["*k1, p3; rep from *"], "1x3 rib"),
        (["*k2, p2, k2, p2; rep from *"], "2x2 rib"),
        (["*k1, p1; rep from *", "*p1, k1; rep from *"], "seed"),
        (["k3", "p3"], "garter"),
        (["p3", "k3"], "garter"),
        (["k3", "k3", "p3"], ""),  # a ridge in three rounds is no garter stitch
        (["*k2, p1, k1, p2; rep from *"], ""),
        (["*ktbl, p1; rep from *"], ""),
        (["*k2tog, yo; rep from *"], ""),
        (["*sl1, k1; rep from *"], ""),
    ],
)
def test_patterns_are_known_by_their_faces(rounds: list[str], kind: str) -> None:
    """Names of common practice."""
    assert kind_of(StitchPattern.of(rounds)) == kind


@given(knit=st.integers(1, 5), purl=st.integers(1, 5), shift=st.integers(0, 9))
def test_a_rib_is_a_rib_from_wherever_it_begins(knit: int, purl: int, shift: int) -> None:
    letters = "k" * knit + "p" * purl
    shift %= len(letters)
    turned = letters[shift:] + letters[:shift]
    pattern = StitchPattern.of([", ".join(f"{letter}1" for letter in turned)])
    assert kind_of(pattern) == f"{knit}x{purl} rib"
    found = at_rest(pattern, PLAIN)
    assert found.is_rib
    assert 0.55 <= found.width <= 0.78


def test_estimates_are_the_middle_of_the_table() -> None:
    """By hand, prototype figures: 2x2 0.55 to 0.64; garter 1.07 to 1.13, and 0.62 to 0.84 high."""
    rib = at_rest(RIB, PLAIN)
    assert (rib.width, rib.height) == pytest.approx((0.595, 1.075))
    assert rib.width_sd == pytest.approx(0.125)
    garter = at_rest(StitchPattern.of(["k1", "p1"]), PLAIN)
    assert (garter.width, garter.height) == pytest.approx((1.10, 0.73))
    assert not garter.is_rib


def test_a_swatch_counts_instead() -> None:
    found = at_rest(RIB, PLAIN, Gauge.of(32, 34))
    assert found.width == pytest.approx(24 / 32)
    assert found.how == "by its own swatch"


@pytest.mark.parametrize("pattern", [RIB, StitchPattern.of(["k1", "p1"])])
def test_the_girth_is_that_of_both_fabrics(pattern: StitchPattern) -> None:
    """By hand: plain stitches at the gauge and the panel's at its share of it."""
    made = sock(pattern)
    plan, rest = made.plan(), at_rest(pattern, PLAIN)
    assert plan.panel is not None
    plain = plan.stitches.count - plan.panel.width
    girth = plan.measure("foot girth")
    width_mm = PLAIN.stitch_width_mm
    assert girth.finished.mm == pytest.approx(width_mm * (plain + rest.width * plan.panel.width))
    assert "model's estimate" in girth.note
    # As near to what was asked as numbers that suit allow: four stitches more or less are farther.
    for other in (-4, 4):
        moved = sock(pattern, stitches=plan.stitches.count + other).plan().measure("foot girth")
        assert abs(moved.moved_mm) >= abs(girth.moved_mm) - 1e-9
    assert girth.finished.sd_mm > PLAIN.width(plan.stitches.count).sd_mm


def test_a_rib_takes_more_stitches_and_garter_fewer() -> None:
    plain = Sock(foot=FOOT, gauge=PLAIN).plan().stitches.count
    assert sock(RIB).plan().stitches.count > plain
    assert sock(StitchPattern.of(["k1", "p1"])).plan().stitches.count <= plain


def test_lace_asks_for_a_swatch_and_says_so_everywhere() -> None:
    made = sock(LACE)
    girth = made.plan().measure("foot girth")
    assert girth.note == "reckoned in stocking stitch: a swatch of the panel will tell"
    assert "a swatch of the panel will tell" in made.pattern().materials[-1]
    assert any("knit a swatch of it" in note for note in fit(made).notes)
    plain = Sock(foot=FOOT, gauge=PLAIN).plan()
    assert girth.finished.mm == plain.measure("foot girth").finished.mm


def test_measured_lace_goes_into_measures_and_fit() -> None:
    wide = Gauge.of(21, 34)
    loose = sock(LACE, wide, stitches=48)
    usual = sock(LACE, stitches=48)
    more = loose.plan().measure("foot girth").finished.mm
    less = usual.plan().measure("foot girth").finished.mm
    panel = loose.plan().panel
    assert panel is not None
    assert more - less == pytest.approx(panel.width * (100 / 21 - 100 / 24))
    wider, same = (sample(one, quick=True).girths for one in (loose, usual))
    for place in ("ball", "instep", "heel", "ankle", "leg"):
        assert wider[place].mm - same[place].mm == pytest.approx(more - less)
    assert wider["top"].mm == same["top"].mm
    assert any("as wide as it lies at rest (by its own swatch)" in n for n in fit(loose).notes)


@pytest.mark.parametrize("round_leg", [False, True])
@pytest.mark.parametrize("direction", ["cuff down", "toe up"])
def test_a_panel_s_own_rounds_go_into_heights(direction: str, round_leg: bool) -> None:
    """By hand: the rounds are as high as the mean of panel and rest, by their stitches."""
    panel = Panel(pattern=LACE, gauge=Gauge.of(24, 27), round_leg=round_leg)
    made = Sock(foot=FOOT, gauge=PLAIN, panel=panel, stitches=48, direction=direction)
    plan = made.plan()
    assert plan.panel is not None
    share = plan.panel.width / 48
    high_mm = share * 100 / 27 + (1 - share) * 100 / 34
    foot_mm = (plan.foot_rounds + plan.heel.foot_rounds) * high_mm
    foot_mm += (plan.heel.foot_courses + plan.toe.courses) * 100 / 34
    assert plan.measure("foot length").finished.mm == pytest.approx(foot_mm)
    assert abs(plan.measure("foot length").moved_mm) <= high_mm / 2
    on_leg_mm = 100 / 27 if round_leg else high_mm
    leg_mm = (plan.leg_rounds + plan.heel.leg_rounds) * on_leg_mm
    leg_mm += (plan.heel.leg_courses + plan.cuff_rounds) * 100 / 34
    assert plan.measure("leg height").finished.mm == pytest.approx(leg_mm)
    assert "by its own swatch" in plan.measure("leg height").note
    plain = attrs.evolve(made, panel=Panel(pattern=LACE, round_leg=round_leg)).plan()
    assert plain.leg_rounds > plan.leg_rounds


def test_a_rib_is_judged_as_plain_fabric_and_says_so() -> None:
    """Robust in the prototype: pulled out, a rib is as wide as stocking stitch at the same pull."""
    ribbed, plain = sock(RIB, stitches=48), Sock(foot=FOOT, gauge=PLAIN, stitches=48)
    one, other = (sample(made, quick=True).girths for made in (ribbed, plain))
    assert one["leg"].mm == other["leg"].mm
    assert any("panel on the instep is a rib" in note for note in fit(ribbed).notes)


def test_a_plain_sock_says_nothing_of_it() -> None:
    """The breaker."""
    assert Sock(foot=FOOT, gauge=PLAIN).panel_rest is None
    flat = sock(StitchPattern.of(["k1"]))
    assert flat.plan().measure("foot girth").note == ""
    assert not any("panel" in note for note in fit(flat).notes)


def test_a_design_has_the_panels_gauge() -> None:
    told = """
    gauge = {stitches = 24, rounds = 34, over = "10 cm"}
    foot = {length = "24 cm"}
    [panel]
    rounds = ["*k2, p2; rep from *"]
    gauge = {stitches = 30, rounds = 34, over = "10 cm"}
    """
    made = read_design(told).design.socks[0][1]
    assert made.panel_rest is not None
    assert made.panel_rest.width == pytest.approx(0.8)
    assert attrs.evolve(made, panel=None).panel_rest is None
