"""A chart of sock sizes, from memory: for grading, and for children, whom the survey hasn't.

A chart is not a foot. Its lengths are rough, and its girths are those of finished socks. So a foot
made from a row has the row's length and height. It has the ball girth for which a sock with 10 % of
negative ease has the row's girth. Everything else is estimated as `loopwright.sock.foot` does. Use
measured feet where there are any.
"""

from __future__ import annotations

import re
import tomllib
from functools import cache
from importlib.resources import files

import attrs

from loopwright.border import guard
from loopwright.errors import SizingError
from loopwright.length import Length, Origin
from loopwright.sock.foot import Foot, complete
from loopwright.sock.survey import Sex

__all__ = ["ChartSize", "chart_size", "size_chart"]

_INCH_MM = 25.4
# Half an inch to one between rows; a foot lies anywhere within half of the wider step.
_LENGTH_SD_MM = _INCH_MM / 12**0.5
_EASE = -0.10  # that a row's girth is taken to hold: 10 %, the usual
_AGE = re.compile(r"(?:child,? )?(\d+(?:\.\d+)?) ?(months?|years?)(?: old)?")
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
    ages : tuple of float, years, optional
        From which age to which a child of common growth wears it.

    Examples
    --------
    >>> row = size_chart()[3]
    >>> row.wearer, row.us_shoes, row.foot_length_mm
    ('child', '10-2', 190.5)
    >>> row.name
    'child 10-2'
    >>> print(row.foot().length)
    190.5 ± 7.3 mm (estimated by common practice: size chart, from memory: child 10-2)
    """

    wearer: str
    us_shoes: str
    sock_girth_mm: float
    sock_height_mm: float
    foot_length_mm: float
    ages: tuple[float, float] | None = None

    @property
    def name(self) -> str:
        """What a design file calls it."""
        return f"{self.wearer} {self.us_shoes}"

    def __str__(self) -> str:
        aged = f"; {self.ages[0]:g} to {self.ages[1]:g} years" if self.ages else ""
        return (
            f"{self.name}{aged}: foot {self.foot_length_mm / 10:.1f} cm long, sock "
            f"{self.sock_girth_mm / 10:.1f} cm round and {self.sock_height_mm / 10:.1f} cm high"
        )

    def foot(self) -> Foot:
        """Return a foot of this length and girth; its other measures are estimated."""
        how = f"size chart, from memory: {self.name}"
        known = {
            name: Length(mm, _LENGTH_SD_MM, Origin.COMMON_PRACTICE, how)
            for name, mm in (
                ("length", self.foot_length_mm),
                ("ball_girth", self.sock_girth_mm / (1 + _EASE)),
                ("leg_height", self.sock_height_mm),
            )
        }
        return complete(known, _SEX[self.wearer])


@cache
def size_chart() -> tuple[ChartSize, ...]:
    """Return the chart's rows, children first, each group by size."""
    text = files("loopwright.sock").joinpath("sizes.toml").read_text("utf-8")
    table = tomllib.loads(text)
    ages = {shoes: (low, high) for shoes, low, high in table["ages"]}
    return tuple(
        ChartSize(
            wearer,
            shoes,
            sock_girth_mm=round(girth * _INCH_MM, 6),
            sock_height_mm=round(height * _INCH_MM, 6),
            foot_length_mm=round(length * _INCH_MM, 6),
            ages=ages.get(shoes) if wearer == "child" else None,
        )
        for wearer, shoes, girth, height, length in table["rows"]
    )


def chart_size(asked: str) -> ChartSize:
    """Return the chart's row of a name, or for a child of an age.

    Parameters
    ----------
    asked : str
        ``"woman 6-9"``, or ``"4 years"``, ``"18 months"``.

    Raises
    ------
    SizingError
        No such row; the message lists those there are.

    Examples
    --------
    >>> print(chart_size("4 years"))
    child 7-11; 3 to 5 years: foot 15.2 cm long, sock 15.2 cm round and 11.4 cm high
    >>> chart_size("Woman  6-9").sock_girth_mm
    203.2
    """
    plain = " ".join(asked.lower().split())
    rows = {row.name: row for row in size_chart()}
    if plain in rows:
        return rows[plain]
    age = _AGE.fullmatch(plain)
    if age:
        years = float(age[1]) / (12 if age[2].startswith("month") else 1)
        for row in rows.values():
            if row.ages and row.ages[0] <= years < row.ages[1]:
                return row
    expected = f"expected one of {', '.join(rows)}, or a child's age: 4 years, up to 11"
    raise SizingError("size chart", repr(asked), expected)


guard(globals())
