"""A yarn from its band."""

from __future__ import annotations

import pickle
import tomllib
from pathlib import Path

import pytest

from loopwright.errors import UnitError, YarnError
from loopwright.yarn import Yarn

FIGURES = tomllib.loads(
    (Path(__file__).parents[2] / "shared" / "yarn.toml").read_text(encoding="utf-8")
)


def test_counts_of_one_yarn_agree() -> None:
    """100 g = 420 m is 238.1 tex, Nm 4.2, Ne 2.480 (worked by hand from the definitions)."""
    band = Yarn.of("sock", "420 m / 100 g")
    assert band.tex == pytest.approx(238.1, abs=0.05)
    for count, within in (("238.1 tex", 1e-4), ("4.2 Nm", 1e-9), ("2.480 Ne", 3e-4)):
        assert Yarn.of("sock", count).tex == pytest.approx(band.tex, rel=within)
    assert band.grams_per_metre == pytest.approx(100 / 420)


def test_balls() -> None:
    """A ball of 50 g of it has 210 m; unknown where nobody said."""
    assert Yarn.of("sock", "420 m / 100 g", ball="50 g").ball_m == pytest.approx(210)
    assert Yarn.of("sock", "420 m / 100 g").ball_m is None


def test_published_diameter() -> None:
    """GATE 2008, question 71: 30 tex of density 1.54 is 19.58e-3 cm thick (19.60e-3 exactly)."""
    d = FIGURES["diameter"]
    yarn = Yarn("cotton", d["tex"], None, d["density"])
    assert yarn.diameter_mm / 10 == pytest.approx(d["printed_cm"], rel=2e-3)


@pytest.mark.parametrize(
    ("tex", "ball", "density", "says"),
    [
        (0.0, None, 1.31, "for hand knitting"),
        (1e6, None, 1.31, "0.1 m to 100 g"),
        (238.0, 0.0, 1.31, "grams above 0"),
        (238.0, 50.0, 13.1, "wool has"),
    ],
)
def test_refusals(tex: float, ball: float | None, density: float, says: str) -> None:
    """Counts, balls and fibres that don't exist."""
    with pytest.raises(YarnError, match=says) as caught:
        Yarn("sock", tex, ball, density)
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)


def test_a_length_is_no_count() -> None:
    """The message names the yarn."""
    with pytest.raises(UnitError, match="count of 'sock'"):
        Yarn.of("sock", "420 m")
