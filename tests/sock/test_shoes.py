"""Shoe sizes against published conversions."""

from __future__ import annotations

import csv
import pickle
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loopwright.errors import ShoeSizeError, UnitError
from loopwright.length import Origin
from loopwright.sock._shoes import ShoeScale, ShoeSize, shoe_size
from together import together

SIZES = Path(__file__).parents[2] / "shared" / "shoes.csv"
ROWS = list(
    csv.DictReader(line for line in SIZES.read_text("utf-8").splitlines() if line[0] != "#")
)


# Sources in the file's first lines; two decimals are printed.
@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["foot_mm"])
def test_worked_table(row: dict[str, str]) -> None:
    """One foot on every scale."""
    foot = f"{row['foot_mm']} mm"
    assert shoe_size(foot, ShoeScale.MONDOPOINT).size == pytest.approx(
        float(row["mondopoint"]), abs=2.5
    )
    for scale, column, allowance in (
        (ShoeScale.EU, "eu_15mm", "15 mm"),
        (ShoeScale.EU, "eu_20mm", "2 cm"),
        (ShoeScale.EU, "eu_15mm", None),
        (ShoeScale.UK, "uk", None),
        (ShoeScale.US_MEN, "us_men", None),
        (ShoeScale.US_WOMEN, "us_women", None),
    ):
        size = shoe_size(foot, scale, allowance=allowance)
        assert size.size == pytest.approx(float(row[column]), abs=0.0051)


def test_published_single_facts() -> None:
    """A last of 27.5 cm is EU 41.25; U.S. men's 13 is UK 12; the steps are 6.67 and 8.47 mm."""
    assert ShoeSize(41.25, ShoeScale.EU).last_mm == pytest.approx(275)
    uk, us = ShoeSize(12, ShoeScale.UK), ShoeSize(13, ShoeScale.US_MEN)
    assert uk.foot_length.mm == pytest.approx(us.foot_length.mm)
    for scale, step, low in ((ShoeScale.EU, 6.667, 39), (ShoeScale.UK, 8.467, 5)):
        one, two = ShoeSize(low + 1, scale), ShoeSize(low, scale)
        assert one.foot_length.mm - two.foot_length.mm == pytest.approx(step, abs=1e-3)


def test_from_memory_last_formulae() -> None:
    """From memory, with the last in inches: child's 13½ is half a size below adult's 1."""
    assert ShoeSize(13, ShoeScale.UK_CHILD).last_mm == pytest.approx(25 / 3 * 25.4)
    assert ShoeSize(1, ShoeScale.UK).last_mm == pytest.approx(26 / 3 * 25.4)
    assert ShoeSize(8, ShoeScale.US_WOMEN).last_mm == pytest.approx(31 / 3 * 25.4)
    american, british = ShoeSize(9, ShoeScale.US_CHILD), ShoeSize(8, ShoeScale.UK_CHILD)
    assert american.last_mm == pytest.approx(british.last_mm)


def test_the_conventions_are_the_uncertainty() -> None:
    """EU: 10, 15 and 20 mm of allowance; a stated one leaves only the step, 6.67 / √12."""
    vague = ShoeSize(39, ShoeScale.EU).foot_length
    exact = ShoeSize(39, ShoeScale.EU, 15.0).foot_length
    assert vague.mm == exact.mm == pytest.approx(245)
    assert exact.sd_mm == pytest.approx(1.925, abs=1e-3)
    assert vague.sd_mm == pytest.approx((25 + 1.925**2) ** 0.5, abs=1e-3)
    assert vague.origin is Origin.SHOE_SIZE
    assert not vague.is_estimated


@together(
    ("text", "size"),
    [
        ("EU 39", ShoeSize(39, ShoeScale.EU)),
        ("eu39.5", ShoeSize(39.5, ShoeScale.EU)),
        ("UK 7 1/2", ShoeSize(7.5, ShoeScale.UK)),
        ("US women 8½", ShoeSize(8.5, ShoeScale.US_WOMEN)),
        ("UK child 9", ShoeSize(9, ShoeScale.UK_CHILD)),
        ("270", ShoeSize(270, ShoeScale.MONDOPOINT)),
        ("Mondopoint 270/105", ShoeSize(270, ShoeScale.MONDOPOINT, None, 105)),
    ],
)
def test_text(text: str, size: ShoeSize) -> None:
    """As people write it."""
    assert ShoeSize.of(text) == size


@given(
    st.floats(210, 320),
    st.sampled_from([ShoeScale.MONDOPOINT, ShoeScale.EU, ShoeScale.US_WOMEN]),
    st.none() | st.floats(5, 25),
)
def test_there_and_back(foot_mm: float, scale: ShoeScale, allowance: float | None) -> None:
    """The size of a foot is that foot's."""
    given_allowance = None if allowance is None else f"{allowance:.6f} mm"
    size = shoe_size(f"{foot_mm:.6f} mm", scale, allowance=given_allowance)
    assert size.foot_length.mm == pytest.approx(foot_mm, abs=1e-5)


@together(
    ("text", "found", "says"),
    [
        ("EU 8", "8", "UK"),
        ("UK 39", "39", "EU"),
        ("EU 390", "390", "15 to 55"),
        ("shoe 39", "'shoe 39'", "one of Mondopoint"),
        ("", "''", "and a number"),
        ("EU 39/105", "105 mm", "Mondopoint"),
        ("270/20", "20 mm", "Mondopoint"),
    ],
)
def test_refusals(text: str, found: str, says: str) -> None:
    """Sizes that the scale hasn't; the message offers the scales that have."""
    with pytest.raises(ShoeSizeError, match=says) as caught:
        ShoeSize.of(text)
    assert caught.value.found == found
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)


def test_a_foot_that_the_scale_has_no_size_for() -> None:
    """A child's foot on the women's scale."""
    with pytest.raises(ShoeSizeError, match="expected 2 to 18"):
        shoe_size("170 mm", ShoeScale.US_WOMEN)


def test_refused_allowance() -> None:
    """10 cm longer than the foot is no shoe; 10 alone is no length."""
    with pytest.raises(ShoeSizeError, match="0 to 40"):
        ShoeSize.of("EU 39", allowance="10 cm")
    with pytest.raises(UnitError):
        ShoeSize.of("EU 39", allowance="10")
