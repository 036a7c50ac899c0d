"""Gauge against hand calculation, published gauges, and simulated counting."""

from __future__ import annotations

import pickle

import numpy as np
import pytest

from loopwright import units
from loopwright.errors import GaugeError, MeasureError, UnitError
from loopwright.gauge import Gauge, Relaxation
from loopwright.length import Length, Origin
from together import together


def test_published_sock_gauge_in_inches() -> None:
    """36 stitches and 49 rounds to 4 in (a published 2015 sock design): ratio 1.36."""
    gauge = Gauge.of(36, 49, over="4 in")
    assert gauge.stitches_per_cm == pytest.approx(36 / 10.16)
    assert gauge.courses_per_cm / gauge.stitches_per_cm == pytest.approx(1.36, abs=0.005)


def test_units_agree() -> None:
    """The same swatch in inches, centimetres and a quantity of the user's own."""
    one = Gauge.of(32, 44, over="10.16 cm")
    assert one == Gauge.of(32, 44, over="4 in")
    assert one == Gauge.of(32, 44, over=4 * units.inch)
    assert one == Gauge.of(32, 44, over=("4 in", "101.6 mm"))


def test_two_lengths() -> None:
    """Stitches over one length, rounds over another."""
    gauge = Gauge.of(16, 44, over=("5 cm", "10 cm"))
    assert gauge.stitch_width_mm == pytest.approx(3.125)
    assert gauge.course_height_mm == pytest.approx(2.2727, abs=1e-4)


def test_one_count_is_read_to_half_a_stitch() -> None:
    """Rounding a true count that lies anywhere to the next whole one: simulated SD 0.289."""
    true = np.random.default_rng(3).uniform(20, 60, 200_000)
    simulated = float(np.std(true - np.round(true)))
    assert Gauge.of(32, 44).stitches_sd * 10 == pytest.approx(simulated, rel=0.01)


def test_standard_error_of_several_counts() -> None:
    """Standard error of the mean, by numpy; equal counts keep the reading error."""
    counts = [31.0, 32.0, 33.0, 34.0]
    gauge = Gauge.of(counts, [44, 44, 44])
    assert gauge.stitches_per_cm == pytest.approx(3.25)
    assert gauge.stitches_sd * 10 == pytest.approx(np.std(counts, ddof=1) / 2)
    assert gauge.courses_sd * 10 == pytest.approx(0.5 / 3)


def test_carried_through_to_a_girth() -> None:
    """The uncertainty of a girth: simulated from the gauge's own."""
    gauge = Gauge.of([31, 33, 32], 44)
    girth = gauge.width(64)
    draws = np.random.default_rng(5).normal(gauge.stitches_per_cm, gauge.stitches_sd, 100_000)
    assert girth.mm == 200.0
    assert girth.sd_mm == pytest.approx(np.std(640 / draws), rel=0.02)
    assert gauge.height(44).mm == pytest.approx(100)
    assert gauge.height(44).sd_mm == pytest.approx(100 * gauge.courses_sd / gauge.courses_per_cm)
    assert girth.origin is Origin.CALCULATED
    assert not girth.is_estimated


def test_counts_as_an_array() -> None:
    """A table's column is as good as a list."""
    assert Gauge.of(np.array([31, 33]), 44) == Gauge.of([31, 33], 44)


def test_refused_uncertainty() -> None:
    """Negative, or larger than the gauge itself."""
    for sd in (-0.1, 3.2, float("nan")):
        with pytest.raises(GaugeError, match="uncertainty"):
            Gauge(3.2, 4.4, sd)


def test_what_is_no_count_is_refused() -> None:
    """In words that say what was given, not by a traceback from within."""
    for text in ("32", ["32"]):
        with pytest.raises(UnitError, match="'32'; expected stitches to a length"):
            Gauge.of(text, 44)
    with pytest.raises(GaugeError, match="positive numbers") as caught:
        Gauge.of([None], 44)  # type: ignore[list-item]
    assert "[None]" in caught.value.found


def test_state_is_kept() -> None:
    """The state of relaxation travels with the gauge and is said."""
    gauge = Gauge.of(30, 40, state=Relaxation.AS_KNITTED)
    assert "as knitted" in str(gauge)
    assert pickle.loads(pickle.dumps(gauge)) == gauge


@together(
    ("stitches", "courses", "over", "what"),
    [
        ([], 44, "10 cm", "stitches"),
        (0, 44, "10 cm", "stitches"),
        (-32, 44, "10 cm", "stitches"),
        (32, float("nan"), "10 cm", "courses"),
        (32, 44, "0 cm", "stitches"),
        (32, 44, "10 mm", "courses per cm"),
        (32, 44, "10 m", "stitches per cm"),
        (44, 200, "10 cm", "gauge"),
        (80, 30, "10 cm", "gauge"),
    ],
)
def test_refusals(stitches: float | list[float], courses: float, over: str, what: str) -> None:
    """Counts that no swatch has; the error says which and survives pickling."""
    with pytest.raises(GaugeError) as caught:
        Gauge.of(stitches, courses, over=over)
    assert caught.value.what == what
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)


def test_a_gauge_may_be_text_or_quantities() -> None:
    """However it is told, it is the same; a quantity of another kind is refused by name."""
    same = Gauge.of(20, 28, over="10 cm")
    for stitches, courses in (
        ("20 sts / 10 cm", "28 rows = 10 cm"),
        (20 * units.stitch, 28 * units.course),
        (20 * units.stitch / (10 * units.cm), 28 * units.course / (10 * units.cm)),
        (20, "28 rounds over 10 cm"),
        ([20 * units.stitch], [28]),
    ):
        assert Gauge.of(stitches, courses, over="10 cm") == same
    for wrong in ("20 sts", "20", 20 * units.course, 28 * units.course / (10 * units.cm)):
        with pytest.raises(UnitError, match="stitches of the gauge"):
            Gauge.of(wrong, 28)


def test_a_length_without_unit_is_refused() -> None:
    """10 may be inches or centimetres."""
    with pytest.raises(UnitError, match="swatch"):
        Gauge.of(32, 44, over=10)  # type: ignore[arg-type]


def test_length_refuses_what_is_no_length() -> None:
    """Infinite, or of negative uncertainty."""
    for mm, sd in ((float("inf"), 0.0), (1.0, -1.0), (float("nan"), 0.0), (1.0, float("nan"))):
        with pytest.raises(MeasureError, match="finite"):
            Length(mm, sd)
    assert Length(100.0, 2.0).range_mm == (96.0, 104.0)
