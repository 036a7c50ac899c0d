"""Loop length and fabric weight against published constants, examples and tables."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import pytest

from loopwright.errors import YarnError
from loopwright.gauge import Gauge, Relaxation
from loopwright.yarn import CONSTANTS, loop_length, loops_per_cm2, mass_per_m2, tightness

FIGURES = tomllib.loads(
    (Path(__file__).parents[2] / "shared" / "yarn.toml").read_text(encoding="utf-8")
)
STATES = {"dry": Relaxation.DRY, "washed": Relaxation.WASHED, "full": Relaxation.FULL}


def test_published_worked_example() -> None:
    """GATE 2015, question 54: Kc 5.5, Kw 4.2, 0.5 cm: 92.4 loops per cm², answer 92."""
    example = FIGURES["worked_example"]
    constants = CONSTANTS[Relaxation.FULL]
    assert (constants.kc, constants.kw) == (example["kc"], example["kw"])
    loops = loops_per_cm2(10 * example["loop_cm"], Relaxation.FULL)
    assert loops == pytest.approx(example["loops_per_cm2"], abs=1e-9)
    assert round(loops) == example["answer"]


@pytest.mark.parametrize("state", STATES)
def test_table_by_loop_length(state: str) -> None:
    """The gauge of each loop length gives that loop length back (constants: Munden 1959)."""
    for loop_cm, courses, wales, loops in FIGURES["by_loop_length"][state]:
        gauge = Gauge(wales, courses, state=STATES[state])
        assert loop_length(gauge).mm == pytest.approx(10 * loop_cm, rel=1e-4)
        assert loops_per_cm2(10 * loop_cm, STATES[state]) == pytest.approx(loops, abs=0.0051)


def test_hand_gauge_of_the_theory() -> None:
    """32 x 44 to 10 cm, fully relaxed: √(23.1 / 14.08) = 1.28 cm."""
    loop = loop_length(Gauge(3.2, 4.4, state=Relaxation.FULL))
    assert loop.mm == pytest.approx(10 * math.sqrt(23.1 / 14.08))
    # What the two equations disagree by is inside the range: 5.5 / 4.4 and 4.2 / 3.2 cm.
    low, high = loop.range_mm
    assert low < 12.5 < 13.125 < high


def test_uncertainty_grows_with_what_is_unknown() -> None:
    """A vague gauge, an unlikely ratio, and a swatch fresh from the needles."""
    exact = Gauge(3.8, 5.0, state=Relaxation.DRY)
    base = loop_length(exact)
    assert base.sd_mm / base.mm == pytest.approx(0.02 / math.sqrt(2), rel=0.01)
    vague = loop_length(Gauge(3.8, 5.0, 0.2, 0.2, Relaxation.DRY))
    odd = loop_length(Gauge(3.8, 6.0, state=Relaxation.DRY))
    fresh = loop_length(Gauge(3.8, 5.0, state=Relaxation.AS_KNITTED))
    for worse in (vague, odd, fresh):
        assert worse.sd_mm / worse.mm > 1.5 * base.sd_mm / base.mm


@pytest.mark.parametrize("row", FIGURES["sock_fabric"]["rows"], ids=lambda row: f"{row[0]}")
def test_sock_fabric(row: list[float]) -> None:
    """Loop, tightness, weight and metres of hand-knitted sock fabric."""
    stitches, loop_cm, rows, factor, grams, metres = row
    loop = loop_length(Gauge(stitches / 10, rows / 10, state=Relaxation.FULL)).mm
    assert loop == pytest.approx(10 * loop_cm, rel=2e-3)  # rows are printed to 0.1
    tex = FIGURES["sock_fabric"]["tex"]
    assert tightness(10 * loop_cm, tex) == pytest.approx(factor, abs=0.0051)
    loops = loops_per_cm2(10 * loop_cm)
    assert mass_per_m2(loops, 10 * loop_cm, tex) == pytest.approx(grams, abs=0.6)
    assert loops * 1e4 * loop_cm / 100 == pytest.approx(metres, abs=1)


def test_three_printed_formulas_agree() -> None:
    """S l tex / 100 = CPI WPI l 39.37² tex / 10⁶ = WPI CPI l 0.9155 / Ne.

    Texcoms Textile Technical Handbook 2023, p. 147; the factor 0.9155 is rounded there.
    """
    w = FIGURES["weight"]
    ours = mass_per_m2(w["loops_per_cm2"], w["loop_mm"], w["tex"])
    per_inch = w["courses_per_inch"] * w["wales_per_inch"]
    assert ours == pytest.approx(w["grams_per_m2"], abs=0.005)
    assert ours == pytest.approx(per_inch * w["loop_mm"] * 39.37**2 * w["tex"] / 1e6, rel=1e-4)
    by_count = per_inch * w["loop_mm"] * w["factor_by_cotton_count"] / w["cotton_count"]
    assert ours == pytest.approx(by_count, rel=3e-4)


def test_every_state_has_constants_and_their_source() -> None:
    """Marked from memory where nothing better was read; R near 1.3 in all."""
    assert set(CONSTANTS) == set(Relaxation)
    for constants in CONSTANTS.values():
        assert constants.source
        assert constants.shape == pytest.approx(1.3, abs=0.02)
    assert CONSTANTS[Relaxation.WASHED].ks == pytest.approx(21.6, rel=0.01)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_refusals(bad: float) -> None:
    """No loop, no yarn, no fabric."""
    with pytest.raises(YarnError, match="loop length"):
        loops_per_cm2(bad)
    with pytest.raises(YarnError, match="tex"):
        tightness(5.0, bad)
    with pytest.raises(YarnError, match="loops per cm²"):
        mass_per_m2(bad, 5.0, 30.0)
