"""The survey's estimates against its printed regressions, its records, and scipy."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from scipy import stats

from loopwright.errors import FootError
from loopwright.sock.survey import Sex, condition, population, regress
from together import together

SURVEY = Path(__file__).parents[2] / "shared" / "survey"


def table(name: str) -> list[dict[str, str]]:
    """Rows of a file of published figures; its source is on its first lines."""
    lines = (SURVEY / name).read_text("utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


# Gordon and others 2014, NATICK/TR-15/007: every regression computed from its records.
@together("row", table("regressions.csv"))
def test_printed_regressions(row: dict[str, str]) -> None:
    """Conditioning on one or two measures is the printed regression.

    Correlations have three decimals, so a slope can be off by about 0.0005 times the ratio of
    the SDs, three times that where two collinear regressors share it.
    """
    known = tuple(name for name in ("length", "ball_girth") if row[f"from_{name}"] == "yes")
    line = regress(known, Sex(row["sex"]))
    place = line.wanted.index(row["measure"])
    people = population(Sex(row["sex"]))
    sd = np.sqrt(np.diag(people.covariance))
    for slope, name in zip(line.slopes[place], known, strict=True):
        printed = float(row[f"{name}_slope"])
        ratio = sd[people.names.index(row["measure"])] / sd[people.names.index(name)]
        assert slope == pytest.approx(printed, abs=0.0015 * ratio * len(known))
    assert line.residual_sd_mm[place] == pytest.approx(float(row["residual_sd_mm"]), rel=4e-3)
    predicted = line.constant_mm[place] + line.slopes[place] @ people.mean_mm[people.places(known)]
    at_means = float(row["constant_mm"]) + sum(
        float(row[f"{name}_slope"]) * people.mean_mm[people.names.index(name)] for name in known
    )
    assert predicted == pytest.approx(at_means, abs=0.02)
    explained = 1 - line.residual[place, place] / sd[people.names.index(row["measure"])] ** 2
    assert explained == pytest.approx(float(row["r_squared"]), abs=2.5e-3)


@together("row", table("percentiles.csv"))
def test_extremes_and_normality(row: dict[str, str]) -> None:
    """The printed 5th, 50th and 95th percentiles are close to the normal's."""
    people = population(Sex(row["sex"]))
    place = people.names.index(row["measure"])
    mean, sd = people.mean_mm[place], np.sqrt(people.covariance[place, place])
    assert people.smallest_mm[place] == float(row["min"])
    assert people.largest_mm[place] == float(row["max"])
    for key, share in (("p5", 0.05), ("p50", 0.5), ("p95", 0.95)):
        # Half of the records' 1 mm, and a fifth of an SD: heel breadth is slightly skewed.
        assert stats.norm.ppf(share, mean, sd) == pytest.approx(float(row[key]), abs=0.5 + 0.2 * sd)


@pytest.mark.parametrize("row", table("ratios.csv"), ids=lambda row: "-".join(row.values()))
def test_drawn_ratios(row: dict[str, str]) -> None:
    """Feet drawn from the means and covariances have the printed ratios."""
    people = population(Sex(row["sex"]))
    feet = np.random.default_rng(7).multivariate_normal(people.mean_mm, people.covariance, 40_000)
    ratio = (
        feet[:, people.names.index(row["numerator"])]
        / feet[:, people.names.index(row["denominator"])]
    )
    # Sampling error of 40,000 feet is below 0.001; the survey's own is 0.0011 (SD 0.0488 / √1986).
    assert ratio.mean() == pytest.approx(float(row["mean"]), abs=0.003)
    assert ratio.std() == pytest.approx(float(row["sd"]), rel=0.05)


@pytest.mark.parametrize("sex", [Sex.MALE, Sex.FEMALE])
def test_covariance_is_a_covariance(sex: Sex) -> None:
    """Rounded correlations still make a positive definite, symmetric matrix."""
    covariance = population(sex).covariance
    assert np.array_equal(covariance, covariance.T)
    assert np.linalg.eigvalsh(covariance).min() > 0
    with pytest.raises(ValueError, match="read-only"):
        covariance[0, 0] = 1.0


def test_mixture_against_scipy() -> None:
    """Unknown sex: odds, mean and variance as scipy's densities give them by hand."""
    women, men = population(Sex.FEMALE), population(Sex.MALE)
    density = [
        stats.norm.pdf(258.0, p.mean_mm[0], np.sqrt(p.covariance[0, 0])) for p in (men, women)
    ]
    share = density[0] / sum(density)
    mixed = condition({"length": 258.0})
    assert mixed.share_male == pytest.approx(share)
    lone = [condition({"length": 258.0}, sex) for sex in (Sex.MALE, Sex.FEMALE)]
    mean = share * lone[0].mean_mm + (1 - share) * lone[1].mean_mm
    assert mixed.mean_mm == pytest.approx(mean)
    spread = share * (lone[0].sd_mm ** 2 + (lone[0].mean_mm - mean) ** 2)
    spread += (1 - share) * (lone[1].sd_mm ** 2 + (lone[1].mean_mm - mean) ** 2)
    assert mixed.sd_mm == pytest.approx(np.sqrt(spread))
    assert 0.2 < share < 0.8


def test_known_sd_is_carried_through() -> None:
    """A length known to ± 5 mm adds slope² x 25 to the variance."""
    exact = condition({"length": 250.0}, Sex.FEMALE)
    vague = condition({"length": 250.0}, Sex.FEMALE, known_sd_mm={"length": 5.0})
    slopes = regress(("length",), Sex.FEMALE).slopes[:, 0]
    assert vague.mean_mm == pytest.approx(exact.mean_mm)
    assert vague.sd_mm**2 == pytest.approx(exact.sd_mm**2 + slopes**2 * 25.0)


def test_more_known_never_less_certain() -> None:
    """Each further measure narrows the heel girth."""
    known = {"length": 246.0, "ball_girth": 228.0, "ankle_girth": 215.0, "calf_girth": 373.0}
    widths = []
    for count in range(1, 5):
        estimate = condition(dict(list(known.items())[:count]), Sex.FEMALE)
        widths.append(estimate.sd_mm[estimate.names.index("heel_girth")])
    assert widths == sorted(widths, reverse=True)
    assert widths[3] < 7.0 < widths[1] < 8.0 < widths[0]


def test_refusals() -> None:
    """Nothing known, an unknown measure, and no sex to look up."""
    with pytest.raises(FootError, match="at least one"):
        condition({})
    with pytest.raises(FootError, match="'hat_girth'") as caught:
        condition({"hat_girth": 560.0}, Sex.MALE)
    assert caught.value.what == "survey"
    with pytest.raises(FootError, match="male and female"):
        population(Sex.UNKNOWN)


@pytest.mark.parametrize("sex", [Sex.MALE, Sex.FEMALE])
def test_figures_recompute_from_the_records(sex: Sex, survey_csv: Path) -> None:
    """Means, SDs and correlations are those of the 6,068 records, as printed."""
    people = population(sex)
    with survey_csv.open(encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["sex"] == sex.value[0].upper()]
    columns = [
        "footlength", "balloffootcircumference", "balloffootlength", "anklecircumference",
        "heelanklecircumference", "heelbreadth", "footbreadthhorizontal", "calfcircumference",
        "lateralmalleolusheight",
    ]  # fmt: skip
    feet = np.array([[float(row[column]) for column in columns] for row in rows])
    assert len(feet) == people.n
    assert feet.mean(axis=0) == pytest.approx(people.mean_mm, abs=0.0051)
    sd = np.sqrt(np.diag(people.covariance))
    assert feet.std(axis=0, ddof=1) == pytest.approx(sd, abs=0.0051)
    printed = people.covariance / np.outer(sd, sd)
    assert np.corrcoef(feet.T) == pytest.approx(printed, abs=0.00051)
