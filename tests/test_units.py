from __future__ import annotations

import copy
import math
import pickle
import re
import subprocess
import sys
from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loopwright import units
from loopwright._registry import YARN_COUNTS
from loopwright.errors import LoopwrightError, UnitError
from loopwright.units import (
    cm,
    course,
    gram,
    inch,
    loop,
    mm,
    parse,
    registry,
    stitch,
    to_courses_per_mm,
    to_grams,
    to_loops_per_mm2,
    to_mm,
    to_stitches_per_mm,
    to_tex,
    yarn_count,
)
from together import together


def test_stitches_and_courses_do_not_add() -> None:
    with pytest.raises(pint.DimensionalityError):
        64 * stitch + 44 * course


def test_stitches_and_lengths_do_not_add() -> None:
    with pytest.raises(pint.DimensionalityError):
        64 * stitch + 20 * cm


def test_rows_and_rounds_are_courses() -> None:
    assert parse("3 rows") + parse("4 rounds") + parse("1 rnd") == 8 * course


def test_stitch_times_course_is_loop() -> None:
    assert (64 * stitch) * (44 * course) == 64 * 44 * loop


# The international yard and pound agreement of 1959: 1 in = 25.4 mm, 1 lb = 453.59237 g exactly.
@together(
    ("text", "expected_mm"),
    [
        ("1 in", 25.4),
        ("10in", 254.0),
        ('9½"', 241.3),
        ("9 1/2 inches", 241.3),
        ("9-1/2 in", 241.3),
        ("3/4 in", 19.05),
        ("1 yd", 914.4),
        ("1 ft", 304.8),
        ("25 cm", 250.0),
        ("25 CM", 250.0),
        (" 2.5 dm ", 250.0),
        (".5 m", 500.0),
        ("1e2 mm", 100.0),
        ("0 cm", 0.0),
        ("1 metre", 1000.0),
    ],
)
def test_lengths_as_written(text: str, expected_mm: float) -> None:
    assert to_mm(text) == expected_mm


@together("number", [25, 25.0, Fraction(25), Decimal(25), np.float32(25), np.array(25)])
def test_any_real_number_will_do(number: Any) -> None:
    assert to_mm(registry.Quantity(number, "cm")) == 250.0


def test_weights() -> None:
    assert to_grams("1 lb") == 453.59237
    assert to_grams("100 g") == to_grams(100 * gram) == 100.0


@together(
    "text",
    [
        "32 sts / 10 cm",
        "32 sts per 10 cm",
        "32 stitches to 10 cm",
        "32 st over 10cm",
        "32 sts in 100 mm",
        "32 sts = 10 cm",
        "3.2 stitches/cm",
        "8.128 sts / in",
        "32.512 sts/4in",
    ],
)
def test_gauges_as_written(text: str) -> None:
    assert to_stitches_per_mm(text) == 0.32


def test_course_gauge_is_not_a_stitch_gauge() -> None:
    assert to_courses_per_mm("44 rows / 10 cm") == 0.44
    with pytest.raises(UnitError, match="wrong kind"):
        to_courses_per_mm("44 sts / 10 cm")


def test_gauges_multiply_to_a_density() -> None:
    assert to_loops_per_mm2(parse("32 sts / 10 cm") * parse("44 rows / 10 cm")) == 0.1408


@given(st.floats(min_value=1e-3, max_value=1e6))
def test_quantity_and_text_agree(length: float) -> None:
    assert to_mm(f"{length!r} cm") == to_mm(length * cm)


@given(st.floats(min_value=1e-3, max_value=1e6))
def test_inches_against_their_definition(length: float) -> None:
    assert math.isclose(to_mm(length * inch), length * 25.4, rel_tol=1e-14)


@together(
    ("value", "problem"),
    [
        (25, "a number without a unit"),
        (25.0, "a number without a unit"),
        (np.float64(25), "a number without a unit"),
        (Fraction(1, 2), "a number without a unit"),
        (np.ones(3), "a number without a unit"),
        (None, "not a quantity"),
        (registry.Quantity([1], "cm"), "an array where one number goes"),
        (registry.Quantity(np.ones(3), "cm"), "an array where one number goes"),
        (3 * gram, "the wrong kind of quantity"),
        (3 * stitch, "the wrong kind of quantity"),
        (registry.Quantity(1j, "cm"), "not a real number"),
        (math.nan * cm, "not a finite number"),
        (math.inf * cm, "not a finite number"),
        (-1 * cm, "below zero"),
        ("-1 cm", "below zero"),
        ("−1 cm", "below zero"),
        ("1e999 cm", "not a finite number"),
        ("", "not a number with a unit"),
        ("25", "not a number with a unit"),
        ("cm", "not a number with a unit"),
        ("nan cm", "not a number with a unit"),
        ("9**9**9 cm", "not a number with a unit"),
        ("25 cm + 3 cm", "not a number with a unit"),
        ("9" * 100 + " cm", "not a number with a unit"),
        ("25,5 cm", "a decimal comma"),
        ("1/0 cm", "a division by zero"),
        ("3 sts / 0 cm", "a division by zero"),
        ("4 ply", "an unknown unit 'ply'"),
        ("25 hands", "an unknown unit 'hands'"),
        ("3 Mm", None),
    ],
)
def test_refused_lengths_name_what_was_found_and_the_choices(
    value: Any, problem: str | None
) -> None:
    if problem is None:  # capitals are taken for carelessness, never for a mega-metre
        assert to_mm(value) == 3.0
        return
    with pytest.raises(UnitError) as caught:
        to_mm(value, what="foot length")
    error = caught.value
    assert error.what == "foot length"
    assert error.problem == problem
    assert "'25 cm'" in error.expected
    shown = str(value) if not isinstance(value, str) else value
    assert shown[:12] in error.found
    assert str(error) == (f"foot length: {problem}: found {error.found}; expected {error.expected}")


@pytest.mark.parametrize("text", ["0 sts / 10 cm", "0 tex", "0 Nm"])
def test_zero_gauge_and_zero_count_are_refused(text: str) -> None:
    read = to_tex if "sts" not in text else to_stitches_per_mm
    with pytest.raises(UnitError, match="not above zero"):
        read(text)


def test_unit_error_is_a_value_error_and_survives_pickling() -> None:
    with pytest.raises(ValueError, match="foot length") as caught:
        to_mm(25, what="foot length")  # type: ignore[arg-type]
    again = pickle.loads(pickle.dumps(caught.value))
    assert isinstance(again, LoopwrightError)
    assert str(again) == str(caught.value)


@given(st.text(max_size=80))
def test_any_text_is_a_length_or_a_unit_error(text: str) -> None:
    try:
        length_mm = to_mm(text)
    except UnitError:
        return
    assert math.isfinite(length_mm)
    assert re.match(r"\s*[-+−]?[\d½¼¾⅓⅔⅛⅜⅝⅞.]", text)


def test_yarn_counts_against_published_conversions(standards: dict[str, Any]) -> None:
    for case in standards["yarn_counts"]["examples"]:
        got = yarn_count(to_tex(case["given"]), case["unit"])
        assert got == pytest.approx(case["value"], rel=case["within"]), case["source"]
    for case in standards["yarn_counts"]["factors"]:
        got = yarn_count(to_tex(f"1 {case['from']}"), case["to"])
        assert got == pytest.approx(case["value"], rel=case["within"]), case["source"]


def test_yarn_counts_against_their_definitions(standards: dict[str, Any]) -> None:
    definitions = {case["system"]: case for case in standards["yarn_counts"]["definitions"]}
    assert yarn_count(20.0, "denier") == pytest.approx(20 * definitions["denier"]["times_tex"])
    for indirect, within in (("Nm", 1e-12), ("Ne", 1e-4)):  # 590.5 is printed to four figures
        product = definitions[indirect]["times_tex_gives"]
        assert 20 * yarn_count(20.0, indirect) == pytest.approx(product, rel=within)
    worsted = yarn_count(20.0, "NeW") / yarn_count(20.0, "Ne")
    assert worsted == pytest.approx(definitions["NeW"]["times_Ne"])


@given(
    st.floats(min_value=1.0, max_value=5000.0),
    st.sampled_from(["tex", "dtex", "denier", "Nm", "Ne", "NeW"]),
)
def test_yarn_counts_round_trip(tex: float, unit: str) -> None:
    assert to_tex(f"{yarn_count(tex, unit)!r} {unit}") == pytest.approx(tex, rel=1e-12)


@pytest.mark.parametrize("unit", ["cm", "furlong", ""])
def test_unknown_yarn_count_is_refused(unit: str) -> None:
    with pytest.raises(UnitError, match="yarn count"):
        yarn_count(20.0, unit)


def test_a_users_own_registry_is_understood_by_name_or_through_its_base_units() -> None:
    own: pint.UnitRegistry[Any] = pint.UnitRegistry(cache_folder=None)
    assert to_mm(25 * own.cm) == 250.0
    assert to_mm(1 * own.nautical_mile) == 1_852_000  # Monaco, 1929
    own.define("pace = 750 * millimeter")
    assert to_mm(2 * own.pace) == 1500.0
    own.define("pebble = [pebble]")
    with pytest.raises(UnitError, match="unknown unit"):
        to_mm(2 * own.pebble)


def test_the_registry_is_private_to_the_package() -> None:
    with pytest.raises(pint.UndefinedUnitError):
        pint.UnitRegistry(cache_folder=None).parse_units("stitch")


def test_quantities_copy_but_need_this_registry_to_unpickle() -> None:
    gauge = 32 * stitch / (10 * cm)
    assert copy.deepcopy(gauge) == gauge
    assert pickle.loads(pickle.dumps(25 * mm)).m_as("cm") == 2.5
    with pytest.raises(pint.UndefinedUnitError):
        pickle.loads(pickle.dumps(gauge))


def test_all_shorthand_units_belong_to_the_registry() -> None:
    for name in ("cm", "course", "gram", "inch", "loop", "metre", "mm", "stitch", "tex"):
        assert 1 * getattr(units, name) == registry.Quantity(1, name)


@together("word", [word for word in units._USUAL if word])
def test_usual_units_are_read_as_the_registry_has_them(word: str) -> None:
    of, times = units._USUAL[word]
    spelt = units._SHORT.get(word, word)
    assert registry.Quantity(1, spelt).m_as(of) == pytest.approx(times, rel=1e-15)


@given(st.floats(0.1, 500), st.sampled_from([word for word in units._USUAL if word]))
def test_usual_text_is_read_as_the_registry_reads_it(number: float, word: str) -> None:
    text = f"{number} {word}"
    for read, kind in ((to_mm, "[length]"), (to_grams, "[mass]")):
        quantity = parse(text)
        if quantity.check(kind):
            assert read(text) == read(quantity)


def test_text_in_usual_units_needs_no_pint() -> None:
    code = (
        "import sys; from loopwright import Gauge; from loopwright.yarn import Yarn;"
        "Gauge.of(32, 44, over='10 cm'); Yarn.of('quay', '420 m / 100 g', ball='50 g');"
        "print('pint' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "False\n"


def test_yarn_counts_are_the_packages_own_whatever_pint_knows() -> None:
    """In a registry that knows the metre, the gram and the imperial two, and nothing else."""
    bare: pint.UnitRegistry[Any] = pint.UnitRegistry(None, cache_folder=None)
    known = ["kilo- = 1e3", "gram = [mass]", "meter = [length]", "yard = 0.9144 * meter"]
    bare.load_definitions([*known, "pound = 453.59237 * gram", *YARN_COUNTS])
    per_tex = {"dtex": 10.0, "denier": 9.0, "Nm": 1000.0, "Ne": 590.541, "NeW": 885.812}
    for unit, expected in per_tex.items():
        found = bare.Quantity(1, "tex")
        if unit.startswith("N"):
            found = 1 / found
        assert found.m_as(unit) == pytest.approx(expected, rel=1e-6)
