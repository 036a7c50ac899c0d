"""The share of feet served, and how sure it is.

Two doubts, kept apart since they are of two kinds:

* *How many feet were looked at.* Wilson's interval [1]_ for a share, 95 chances in 100. It counts
  feet, not cases: a foot tried at three eases is one foot, which makes the interval rather wide
  than narrow.
* *How far the heel girth can be trusted.* Absolute girths are good to about 9 % until a knitted
  sample is measured. All socks may err the same way at once, which no number of feet averages
  out. So the share is also worked out with every sock 9 % tighter, and 9 % roomier, over the heel.

Neither knows what the limits of stretch are worth, how much hands differ from the swatch, or
whether the feet looked at are like yours.

References
----------
.. [1] E. B. Wilson, "Probable inference, the law of succession, and statistical inference",
   *Journal of the American Statistical Association* 22, 1927, pages 209 to 212.
"""

from __future__ import annotations

import math
from typing import Final

import attrs
import pandas as pd

from loopwright.errors import StudyError
from loopwright.fitting.girths import GIRTH_ERROR
from loopwright.fitting.limits import StretchLimits

__all__ = ["LEFT_OUT", "SHARE_UNITS", "Share", "failed", "share_served", "wilson_interval"]

_DEVIATIONS: Final = 1.959964  # of a normal distribution, to either side, hold 95 in 100
_PER_CENT: Final = f"{100 * GIRTH_ERROR:.0f} %"

LEFT_OUT: Final = (
    "interval: 95 %, by the number of feet alone (Wilson 1927); not in it: the heel girth's own "
    f"±{_PER_CENT}, what the limits are worth, how hands differ"
)
SHARE_UNITS: Final = {
    "feet": "feet",
    "share": "1",
    "share_low": "1",
    "share_high": "1",
    "share_if_tighter": "1",
    "share_if_roomier": "1",
}
"""The columns of `share_served`, each with its unit; shares are fractions of 1."""


@attrs.frozen
class Share:
    """A share of feet, as a fraction.

    Parameters
    ----------
    feet : int
        How many were looked at.
    likely : float
        Those served among them.
    if_tighter, if_roomier : float
        The same if every sock measured 9 % less, or more, over the heel than calculated.

    Examples
    --------
    >>> share = Share(feet=200, likely=0.9, if_tighter=0.7, if_roomier=0.97)
    >>> [round(end, 3) for end in share.interval]
    [0.851, 0.934]
    >>> print(share)
    90.0 % of 200 feet (85.1 to 93.4 % by their number;
    70.0 to 97.0 % if heel girths are 9 % less to 9 % more)
    """

    feet: int
    likely: float
    if_tighter: float
    if_roomier: float

    @property
    def interval(self) -> tuple[float, float]:
        """Where the population's share lies with 95 chances in 100, see `wilson_interval`."""
        return wilson_interval(self.likely, self.feet)

    def __str__(self) -> str:
        low, high = self.interval
        return (
            f"{100 * self.likely:.1f} % of {self.feet} feet ({100 * low:.1f} to {100 * high:.1f} % "
            f"by their number; {100 * self.if_tighter:.1f} to {100 * self.if_roomier:.1f} % if "
            f"heel girths are {_PER_CENT} less to {_PER_CENT} more)"
        )


def wilson_interval(share: float, n: int) -> tuple[float, float]:
    """Return the 95 % interval of a share that was seen in a number of feet.

    Parameters
    ----------
    share : float
        0 to 1; NaN where there are no feet.
    n : int

    Returns
    -------
    tuple of float
        0 to 1 where there are no feet.

    Raises
    ------
    StudyError
        No share, or fewer feet than none.

    Examples
    --------
    >>> [round(end, 3) for end in wilson_interval(0.9, 100)]
    [0.826, 0.945]
    >>> [round(end, 3) for end in wilson_interval(0.0, 20)]
    [0.0, 0.161]
    """
    if n < 0 or (n > 0 and not 0 <= share <= 1):
        raise StudyError("share", f"{share:g} of {n} feet", "expected 0 to 1, and 0 feet or more")
    if n == 0:
        return 0.0, 1.0
    z2 = _DEVIATIONS**2
    middle = (share + z2 / (2 * n)) / (1 + z2 / n)
    half = _DEVIATIONS * math.sqrt(share * (1 - share) / n + z2 / (4 * n * n)) / (1 + z2 / n)
    return max(0.0, min(share, middle - half)), min(1.0, max(share, middle + half))


def share_served(
    table: pd.DataFrame, *, by: str | list[str] = "design", limits: StretchLimits | None = None
) -> pd.DataFrame:
    """Return the share of feet that each design serves, socks made to measure.

    Parameters
    ----------
    table : DataFrame
        Of a study with a heel girth.
    by : str or list of str
        Columns to tell apart by: ``"design"``, ``"heel"``, ``["heel", "ease"]``; of a study at
        several gauges ``"gauge"`` too. A foot that is there several times in a group, at several
        eases for one, counts with the share of its cases that serve it.
    limits : StretchLimits, optional
        Those of ball and heel. The length isn't judged, since each sock was made for its foot.

    Returns
    -------
    DataFrame
        A row for each of `by`, in their order in the table, with the columns of `SHARE_UNITS`:
        how many feet; the share of them; the 95 % interval by their number; the share if every
        sock measured 9 % less, or more, over the heel. A case that failed serves nobody.

    Raises
    ------
    StudyError
        A column that the table lacks, or several gauges that are not told apart.
    """
    names = [by] if isinstance(by, str) else list(by)
    for name in (*names, "foot", "error", "ball_stretch_ratio", "heel_stretch_ratio"):
        if name not in table:
            measured = "measure 'heel girth'; " if name == "heel_stretch_ratio" else ""
            advice = f"{measured}it has {', '.join(table)}"
            raise StudyError("table", f"no column {name!r}", advice)
    if "gauge" in table and "gauge" not in names and table["gauge"].nunique() > 1:
        gauges = ", ".join(map(str, table["gauge"].unique()))
        advice = f"tell them apart: by={[*names, 'gauge']}, or take the rows of one"
        raise StudyError("table", f"several gauges ({gauges})", advice)
    within = limits or StretchLimits()
    seen = pd.DataFrame({name: table[name] for name in names})
    seen["foot"] = table["foot"]
    girths = {
        "share": 1.0,
        "share_if_tighter": 1 - GIRTH_ERROR,
        "share_if_roomier": 1 + GIRTH_ERROR,
    }
    for name, girth in girths.items():
        seen[name] = _serves(table, within, girth)
    groups = seen.groupby(names, sort=False, dropna=False)
    shares = groups[list(girths)].mean().astype(float)
    shares.insert(0, "feet", groups["foot"].nunique())
    ends = [
        wilson_interval(share, feet)
        for share, feet in zip(shares["share"], shares["feet"], strict=True)
    ]
    shares["share_low"] = [low for low, _ in ends]
    shares["share_high"] = [high for _, high in ends]
    shares = shares[list(SHARE_UNITS)]
    shares.attrs["units"] = dict(SHARE_UNITS)
    return shares


def failed(table: pd.DataFrame) -> pd.Series:
    """Return which cases of a table failed; such a row may still hold what its heel has elsewhere.

    Examples
    --------
    >>> failed(pd.DataFrame({"error": [None, "the fabric has mistakes"]})).tolist()
    [False, True]
    """
    return table["error"].notna()


def _serves(table: pd.DataFrame, limits: StretchLimits, girth: float) -> pd.Series:
    """Which cases serve their foot, the socks' heel girths times `girth`."""
    least, most = limits.ball
    ball, heel = table["ball_stretch_ratio"], table["heel_stretch_ratio"]
    serves = ball.between(least, most) & (heel / girth <= limits.heel)
    return (serves & ~failed(table)).astype(float)
