"""A chart of sock sizes, from memory: for grading, and for children, whom the survey hasn't.

A chart is not a foot. Its lengths are rough, and its girths are those of finished socks; a foot
made from a row has the row's length and height, and everything else is estimated as
`loopwright.sock.foot` does. Use measured feet where there are any.
"""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files

import attrs

from loopwright.length import Length, Origin
from loopwright.sock.foot import Foot, complete
from loopwright.sock.survey import Sex

__all__ = ["ChartSize", "size_chart"]

_INCH_MM = 25.4
# Half an inch to one between rows; a foot lies anywhere within half of the wider step.
_LENGTH_SD_MM = _INCH_MM / 12**0.5
_SEX = {"woman": Sex.FEMALE, "man": Sex.MALE, "child": Sex.UNKNOWN}


@attrs.frozen
class ChartSize:
    """One row of the chart.

    Parameters
    ----------
    wearer : str
        ``"child"``, ``"woman"`` or ``"man"``.
    us_shoes : str
        The American shoe sizes that it is for.
    sock_girth_mm, sock_height_mm : float, mm
        Of the finished sock, at the foot; from the floor to its upper edge.
    foot_length_mm : float, mm

    Examples
    --------
    >>> row = size_chart()[3]
    >>> row.wearer, row.us_shoes, row.foot_length_mm
    ('child', '10-2', 190.5)
    >>> print(row.foot().length)
    190.5 ± 7.3 mm (estimated by common practice: size chart, from memory: child 10-2)
    """

    wearer: str
    us_shoes: str
    sock_girth_mm: float
    sock_height_mm: float
    foot_length_mm: float

    def foot(self) -> Foot:
        """Return a foot of this length; its other measures are estimated."""
        how = f"size chart, from memory: {self.wearer} {self.us_shoes}"
        known = {
            name: Length(mm, _LENGTH_SD_MM, Origin.COMMON_PRACTICE, how)
            for name, mm in (("length", self.foot_length_mm), ("leg_height", self.sock_height_mm))
        }
        return complete(known, _SEX[self.wearer])


@cache
def size_chart() -> tuple[ChartSize, ...]:
    """Return the chart's rows, children first, each group by size."""
    text = files("loopwright.sock").joinpath("sizes.toml").read_text("utf-8")
    return tuple(
        ChartSize(wearer, shoes, *(round(inches * _INCH_MM, 6) for inches in measures))
        for wearer, shoes, *measures in tomllib.loads(text)["rows"]
    )
