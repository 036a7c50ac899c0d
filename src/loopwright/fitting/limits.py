"""How far hand-knitted fabric may be stretched, and who says so.

A stretch is the foot's girth over the relaxed sock's: 1.25 is a quarter more than at rest. None of
these numbers is a standard. Two are official tests of 1939 and 1940, of tops only; the ease is
what pages for sock knitters agree on; what fabric gives "at ordinary loads" comes from trade pages
without a load or a method, and hand-knitted wool was not what they had in mind.
"""

from __future__ import annotations

from enum import Enum
from typing import Final

import attrs

from loopwright.errors import SizingError
from loopwright.fitting.girths import GIRTH_ERROR

__all__ = [
    "COURSEWISE",
    "GIRTH_SD",
    "TOP",
    "TUBE",
    "WALEWISE",
    "Feel",
    "Limit",
    "Scale",
    "StretchLimits",
]


class Feel(Enum):
    """How a place of the sock sits, from how far it is stretched."""

    LOOSE = "loose"
    EASY = "easy"
    CLOSE = "close"
    TIGHT = "tight"
    STRAINED = "strained"


@attrs.frozen
class Limit:
    """A stretch that should not be passed, and its source.

    Parameters
    ----------
    stretch : float
        Stretched length over relaxed length.
    what : str
        What is reached there.
    source : str
        Where the figure was published; ``"common practice"`` where it wasn't.

    Examples
    --------
    >>> print(TOP)
    1.68: tops of socks had to reach it (Field Comforts, Toronto, 1939: ...)
    """

    stretch: float
    what: str
    source: str

    def __attrs_post_init__(self) -> None:
        if not 0 < self.stretch < 10:
            raise SizingError("limit of stretch", f"{self.stretch:g}", "expected 1.25 or the like")

    def __str__(self) -> str:
        return f"{self.stretch:.2f}: {self.what} ({self.source})"


@attrs.frozen
class Scale:
    """The limits of wear in one direction of the fabric, ascending.

    Parameters
    ----------
    loose, easy, close, tight : Limit
        Below `loose` the sock is loose, below `easy` easy, and so on; above `tight` it is strained.

    Examples
    --------
    >>> [COURSEWISE.feel(stretch).value for stretch in (0.97, 1.05, 1.13, 1.3, 1.7)]
    ['loose', 'easy', 'close', 'tight', 'strained']
    """

    loose: Limit
    easy: Limit
    close: Limit
    tight: Limit

    @property
    def limits(self) -> tuple[Limit, ...]:
        """The four limits."""
        return self.loose, self.easy, self.close, self.tight

    def feel(self, stretch: float) -> Feel:
        """Return how a stretch feels; a limit itself is still on its lower side."""
        for feel, limit in zip(Feel, self.limits, strict=False):
            if stretch < limit.stretch or (feel is not Feel.LOOSE and stretch == limit.stretch):
                return feel
        return Feel.STRAINED


_REST: Final = Limit(1.0, "the sock is as large as the foot", "by definition")

COURSEWISE: Final = Scale(
    _REST,
    Limit(
        1 / 0.90,
        "10 % of negative ease",
        "pages for sock knitters: 'Ease-y Socks'; 'Fitting Socks', 2014 and 2017",
    ),
    Limit(
        1 / 0.80,
        "20 % of negative ease, the most that is advised",
        "page 'Knit socks with negative ease', 2008: 10 to 20 %",
    ),
    Limit(
        1.60,
        "plain knitting stretches 30 to 60 % in width at ordinary loads",
        "page 'Knit fabric properties', weak: no load is named",
    ),
)
"""Along the courses, that is round the foot and the leg."""

WALEWISE: Final = Scale(
    _REST,
    Limit(1 / 0.98, "the sock is 2 % shorter than the foot", "our choice"),
    Limit(
        1.10,
        "plain knitting stretches 10 to 30 % in length at ordinary loads",
        "page 'Knit fabric properties', weak: no load is named",
    ),
    Limit(
        1.30,
        "plain knitting stretches 10 to 30 % in length at ordinary loads",
        "page 'Knit fabric properties', weak: no load is named",
    ),
)
"""Along the wales, that is in the length of the foot: about half of what the width gives."""

TOP: Final = Limit(
    1.68,
    "tops of socks had to reach it",
    "Field Comforts, Toronto, 1939: 60 stitches at 6.5 to the inch to 15.5 in round; a test of "
    "1940 says much the same",
)
TUBE: Final = attrs.evolve(COURSEWISE.tight)

GIRTH_SD: Final = GIRTH_ERROR / 2
"""Of a girth on the relaxed surface, relative: the 9 % are taken as two standard deviations."""


def _pair(values: object) -> tuple[float, float]:
    if not isinstance(values, tuple | list) or len(values) != 2:
        raise SizingError("limits of stretch", repr(values), "expected two: least, then most")
    return float(values[0]), float(values[1])


@attrs.frozen
class StretchLimits:
    """The stretches within which a sock is said to serve a foot; foot over sock, as everywhere.

    Parameters
    ----------
    ball, length : tuple of float
        Least and most round the ball, and in the length of the foot. By default from where the sock
        is no longer loose to where it is no longer close: `COURSEWISE` and `WALEWISE`.
    heel : float
        Most over the heel, by default the same as round the ball. The line over the heel runs
        partly along the wales, so that the true limit is lower by an amount nobody measured.

    Raises
    ------
    SizingError
        Limits that nothing lies between, or that are no foot over sock: 0.25 or 25, say.

    Examples
    --------
    >>> print(StretchLimits())
    ball stretched 1 to 1.25 times, heel at most 1.25 times, length 1 to 1.1 times
    """

    ball: tuple[float, float] = attrs.field(
        default=(COURSEWISE.loose.stretch, COURSEWISE.close.stretch), converter=_pair
    )
    heel: float = COURSEWISE.close.stretch
    length: tuple[float, float] = attrs.field(
        default=(WALEWISE.loose.stretch, WALEWISE.close.stretch), converter=_pair
    )

    def __attrs_post_init__(self) -> None:
        for what, limits in (("ball", self.ball), ("heel", (self.heel,)), ("length", self.length)):
            for limit in limits:
                if not 0.5 <= limit <= 3:
                    expected = "expected foot over sock: 1.25 for a quarter more than at rest"
                    raise SizingError(f"limit of stretch, {what}", f"{limit:g}", expected)
            if limits[0] > limits[-1]:
                found = " to ".join(f"{limit:g}" for limit in limits)
                raise SizingError(f"limits of stretch, {what}", found, "expected least, then most")

    def __str__(self) -> str:
        ball, length = (f"{least:g} to {most:g} times" for least, most in (self.ball, self.length))
        return f"ball stretched {ball}, heel at most {self.heel:g} times, length {length}"
