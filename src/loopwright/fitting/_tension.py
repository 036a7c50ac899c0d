"""How hard plain fabric pulls back: one scale of tension for both of its directions.

A stretch says nothing by itself: 1.25 times across is a modest pull, along it is a hard one. The
law in ``cloth.toml`` turns either into a tension; between its points it is straight, and beyond
them it goes on as it ended. Only ratios of tensions mean anything: nobody has weighed them.
"""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any, Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = [
    "ALONG_SD",
    "law_points",
    "rib_rest",
    "stretch_across",
    "stretch_along",
    "tension_across",
    "tension_along",
]

Floats = NDArray[np.float64]


@cache
def _cloth() -> dict[str, Any]:
    return tomllib.loads(files("loopwright.sock").joinpath("cloth.toml").read_text("utf-8"))


@cache
def _law(direction: str) -> tuple[Floats, Floats]:
    """Stretches and tensions, with one point far beyond the last."""
    points = np.array(_cloth()["plain"][direction])[:, :2]
    far = points[-1] + 100 * (points[-1] - points[-2])
    points = np.vstack([points, far])
    return points[:, 0], points[:, 1]


def law_points(direction: str) -> tuple[tuple[float, float, float], ...]:
    """Return stretches, tensions and what is left the other way, ``"across"`` or ``"along"``."""
    return tuple((x, t, left) for x, t, left in _cloth()["plain"][direction])


def _between(at: ArrayLike, known: Floats, values: Floats) -> Floats:
    return np.asarray(np.interp(np.asarray(at, dtype=np.float64), known, values), dtype=np.float64)


def tension_across(stretch: ArrayLike) -> Floats:
    """Return the tension of fabric that is stretched round the foot or leg; 0 where it is slack.

    Examples
    --------
    >>> tension_across([0.9, 1.25, 1.6]).tolist()
    [0.0, 1.33, 4.2]
    """
    return _between(stretch, *_law("across"))


def tension_along(stretch: ArrayLike) -> Floats:
    """Return the tension of fabric that is stretched in its length; 0 where it is slack.

    Examples
    --------
    >>> tension_along([1.125, 1.2]).tolist()  # as hard as 1.3 and 1.6 times across
    [1.6, 4.4]
    """
    return _between(stretch, *_law("along"))


def stretch_across(tension: ArrayLike) -> Floats:
    """Return how far a tension stretches fabric round the foot or leg.

    Examples
    --------
    >>> float(stretch_across(1.33))
    1.25
    """
    stretches, tensions = _law("across")
    return _between(tension, tensions, stretches)


def stretch_along(tension: ArrayLike) -> Floats:
    """Return how far a tension stretches fabric in its length.

    Examples
    --------
    >>> round(float(stretch_along(1.33)), 2)  # half of what it does across
    1.12
    """
    stretches, tensions = _law("along")
    return _between(tension, tensions, stretches)


ALONG_SD: Final = float(_cloth()["plain"]["along_sd"])


def rib_rest(knit: int, purl: int) -> tuple[float, float]:
    """Return a rib's width at rest over that of as many plain stitches, and its relative SD.

    Parameters
    ----------
    knit, purl : int, stitches
        Of one repeat. A rib that nobody relaxed has the range of those that were.

    Examples
    --------
    >>> width, sd = rib_rest(2, 2)
    >>> round(width, 3), sd
    (0.595, 0.125)
    """
    table = _cloth()["rib"]
    name = f"{max(knit, purl)}x{min(knit, purl)}"
    least, most = table.get(name, table["other"])
    return (least + most) / 2, table["sd"].get(name, table["sd"]["other"]) / 2
