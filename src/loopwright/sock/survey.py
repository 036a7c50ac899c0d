"""What a survey of 6,068 adult feet says about the measures that nobody took.

Given some measures of a foot, the others follow the multivariate normal distribution with the
survey's means, standard deviations and correlations (``survey.toml``, with its source). With one
or two known measures this is the ordinary linear regression; with more it goes on in the same way.
Where the sex is unknown the two distributions are mixed. Each has a weight: how well it explains
what is known. They start from even odds (our choice: the survey itself has twice as many men as
women).

The survey has no children, and no girth at the instep or up the leg: see `loopwright.sock.foot`.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache, lru_cache
from importlib.resources import files

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.border import guard
from loopwright.choice import Choice
from loopwright.errors import FootError

__all__ = ["Conditioned", "Population", "Regression", "Sex", "condition", "population", "regress"]

Array = NDArray[np.float64]


class Sex(Choice):
    """Which of the survey's two groups a foot is compared with."""

    FEMALE = "female"
    MALE = "male"
    UNKNOWN = "unknown"


@attrs.frozen(eq=False)
class Population:
    """One sex of the survey.

    Parameters
    ----------
    names : tuple of str
        The measures, in the order of every array here.
    n : int, feet
    mean_mm : ndarray, shape (9,), mm
    covariance : ndarray, shape (9, 9), mm²
    smallest_mm, largest_mm : ndarray, shape (9,), mm
        The extremes of the sample.
    """

    names: tuple[str, ...]
    n: int
    mean_mm: Array
    covariance: Array
    smallest_mm: Array
    largest_mm: Array

    def places(self, names: tuple[str, ...]) -> list[int]:
        """Return where these measures stand in the arrays."""
        for name in names:
            if name not in self.names:
                known = ", ".join(self.names)
                raise FootError("survey", f"the measure {name!r}", f"it has {known}")
        return [self.names.index(name) for name in names]


@cache
def population(sex: Sex) -> Population:
    """Return the survey's figures for one sex.

    Examples
    --------
    >>> women = population(Sex.FEMALE)
    >>> women.n, float(women.mean_mm[women.names.index("heel_girth")])
    (1986, 310.32)
    """
    if sex is Sex.UNKNOWN:
        raise FootError("survey", "no sex", "it has male and female feet; mix the two")
    table = tomllib.loads(files("loopwright.sock").joinpath("survey.toml").read_text("utf-8"))
    names, rows = tuple(table["measures"]), table[sex.value]

    def column(key: str) -> Array:
        values = np.array([rows[key][name] for name in names], dtype=np.float64)
        values.setflags(write=False)
        return values

    sd = column("sd_mm")
    covariance = np.array(rows["correlation"], dtype=np.float64) * np.outer(sd, sd)
    covariance.setflags(write=False)
    return Population(
        names, rows["n"], column("mean_mm"), covariance, column("min_mm"), column("max_mm")
    )


@attrs.frozen(eq=False)
class Regression:
    """All other measures on the known ones: ``constant + slopes @ known``.

    Parameters
    ----------
    known, wanted : tuple of str
    constant_mm : ndarray, shape (wanted,), mm
    slopes : ndarray, shape (wanted, known), mm per mm
    residual : ndarray, shape (wanted, wanted), mm²
        What knowing them leaves unknown.
    """

    known: tuple[str, ...]
    wanted: tuple[str, ...]
    constant_mm: Array
    slopes: Array
    residual: Array

    @property
    def residual_sd_mm(self) -> Array:
        """Standard deviation about the line, shape (wanted,), mm."""
        return np.asarray(np.sqrt(np.diag(self.residual)), dtype=np.float64)


@lru_cache(maxsize=1024)
def regress(known: tuple[str, ...], sex: Sex) -> Regression:
    """Regress every other measure of the survey on the known ones.

    Examples
    --------
    >>> line = regress(("length", "ball_girth"), Sex.FEMALE)
    >>> place = line.wanted.index("heel_girth")
    >>> line.slopes[place].round(2).tolist(), round(line.residual_sd_mm[place], 1).item()
    ([0.69, 0.52], 7.7)
    """
    people = population(sex)
    given = people.places(known)
    wanted = tuple(name for name in people.names if name not in known)
    other = people.places(wanted)
    cross = people.covariance[np.ix_(other, given)]
    solved = np.linalg.solve(people.covariance[np.ix_(given, given)], cross.T)
    slopes = np.asarray(solved.T, dtype=np.float64)
    residual: Array = people.covariance[np.ix_(other, other)] - slopes @ cross.T
    constant: Array = people.mean_mm[other] - slopes @ people.mean_mm[given]
    return Regression(known, wanted, constant, slopes, residual)


@attrs.frozen(eq=False)
class Conditioned:
    """The unknown measures of one foot.

    Parameters
    ----------
    names : tuple of str
        The unknown measures.
    mean_mm, sd_mm : ndarray, shape (names,), mm
    share_male : float
        1 for a man, 0 for a woman; between them the odds where the sex is unknown.
    """

    names: tuple[str, ...]
    mean_mm: Array
    sd_mm: Array
    share_male: float


def condition(
    known_mm: Mapping[str, float],
    sex: Sex = Sex.UNKNOWN,
    *,
    known_sd_mm: Mapping[str, float] | None = None,
) -> Conditioned:
    """Estimate every measure of the survey that isn't known.

    Parameters
    ----------
    known_mm : mapping of str to float, mm
        At least one measure of the survey; taken as it is, never drawn towards the mean.
    sex : Sex
    known_sd_mm : mapping of str to float, mm
        How uncertain the known ones are; carried through the regression.

    Raises
    ------
    FootError
        Nothing is known, or a measure that the survey hasn't.

    Examples
    --------
    >>> foot = condition({"length": 246.0}, Sex.FEMALE)
    >>> place = foot.names.index("heel_girth")
    >>> round(foot.mean_mm[place], 1).item(), round(foot.sd_mm[place], 1).item()
    (310.0, 9.1)
    """
    if not known_mm:
        raise FootError("survey", "no measure", "give at least one, best the foot's length")
    known = tuple(sorted(known_mm))
    x = np.array([known_mm[name] for name in known])
    noise = np.array([(known_sd_mm or {}).get(name, 0.0) for name in known]) ** 2
    sexes = (Sex.MALE, Sex.FEMALE) if sex is Sex.UNKNOWN else (sex,)
    weights = _odds(known, x, noise, sexes)
    means, variances = [], []
    for each in sexes:
        line = regress(known, each)
        means.append(line.constant_mm + line.slopes @ x)
        variances.append(np.diag(line.residual) + line.slopes**2 @ noise)
    mean = weights @ np.array(means)
    # Total variance: within each sex, and between the two.
    variance = weights @ (np.array(variances) + (np.array(means) - mean) ** 2)
    share_male = float(weights[sexes.index(Sex.MALE)]) if Sex.MALE in sexes else 0.0
    return Conditioned(line.wanted, mean, np.sqrt(variance), share_male)


def _odds(known: tuple[str, ...], x: Array, noise: Array, sexes: tuple[Sex, ...]) -> Array:
    """Weigh each sex by the density of what is known, from even odds; sums to 1."""
    if len(sexes) == 1:
        return np.ones(1)
    logs = []
    for sex in sexes:
        people = population(sex)
        given = people.places(known)
        spread = people.covariance[np.ix_(given, given)] + np.diag(noise)
        apart = x - people.mean_mm[given]
        _, log_volume = np.linalg.slogdet(spread)
        logs.append(-0.5 * (log_volume + apart @ np.linalg.solve(spread, apart)))
    weights = np.exp(np.array(logs) - max(logs))
    return np.asarray(weights / weights.sum(), dtype=np.float64)


guard(globals())
