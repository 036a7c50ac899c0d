"""How far hand-knitted fabric may be stretched, and who says so.

A stretch is the foot's girth over the relaxed sock's: 1.25 is a quarter more than at rest. Comfort
depends on how hard the fabric pulls back, so there is one scale of tension for all places and both
directions. The advice of knitters and the official tests state stretches round a foot or a leg;
the law of plain fabric (`loopwright.fitting._tension`) gives the tension of each. Lengthwise the
same tensions are reached at about half the stretch.

None of these numbers is a standard, and none is sharp: each limit says between which stretches its
sources lie, and a chance takes that in. Two are official tests of 1939 and 1940, of tops only. The
ease is what pages for sock knitters agree on. The law of fabric comes from a program, not from a
sample.
"""

from __future__ import annotations

import math
from typing import Final

import attrs

from loopwright.border import guard
from loopwright.choice import Choice
from loopwright.errors import SizingError
from loopwright.fitting._tension import ALONG_SD, stretch_along, tension_across
from loopwright.fitting.girths import GIRTH_ERROR

__all__ = [
    "ANKLE",
    "COURSEWISE",
    "GIRTH_SD",
    "GOING_ON",
    "STRANDED",
    "WALEWISE",
    "Feel",
    "Limit",
    "Scale",
    "StretchLimits",
    "between",
    "held",
    "ribbed",
    "stranded",
]


class Feel(Choice):
    """How a place of the sock sits, from how far it is stretched."""

    LOOSE = "loose"
    EASY = "easy"
    CLOSE = "close"
    TIGHT = "tight"
    STRAINED = "strained"


@attrs.frozen
class Limit:
    """A stretch that should not be passed, how sure that is, and its source.

    Parameters
    ----------
    stretch : float
        Stretched length over relaxed length: as likely too high as too low.
    what : str
        What is reached there.
    source : str
        Where the figure was published; ``"common practice"`` where it wasn't.
    sd : float
        How uncertain the limit itself is, as a relative standard deviation.

    See Also
    --------
    between : from the least and the most that its sources say.

    Examples
    --------
    >>> print(GOING_ON)
    1.68 (1.57 to 1.80): plain fabric stiffens; tops of socks had to reach 1.68 (Field Comforts, ...
    >>> [round(end, 2) for end in GOING_ON.interval]
    [1.57, 1.8]
    """

    stretch: float
    what: str
    source: str
    sd: float = 0.0

    def __attrs_post_init__(self) -> None:
        if not 0 < self.stretch < 10:
            raise SizingError("limit of stretch", f"{self.stretch:g}", "expected 1.25 or the like")
        if not 0 <= self.sd < 1:
            expected = "expected 0 to 1, a part of the stretch"
            raise SizingError("uncertainty of a limit", f"{self.sd:g}", expected)

    @property
    def interval(self) -> tuple[float, float]:
        """Where it lies with 95 chances in 100."""
        factor = math.exp(1.959964 * self.sd)
        return self.stretch / factor, self.stretch * factor

    def along(self) -> Limit:
        """Return where the same tension stretches fabric in its length.

        Examples
        --------
        >>> round(GOING_ON.along().stretch, 2)
        1.21
        """
        there = float(stretch_along(tension_across(self.stretch)))
        # The law's slope carries the limit's own doubt over; the law has one, too.
        low, high = (float(stretch_along(tension_across(x))) for x in self.interval)
        sd = math.hypot(math.log(high / low) / (2 * 1.959964), ALONG_SD)
        return attrs.evolve(self, stretch=there, sd=sd)

    def __str__(self) -> str:
        low, high = self.interval
        within = f" ({low:.2f} to {high:.2f})" if self.sd else ""
        return f"{self.stretch:.2f}{within}: {self.what} ({self.source})"


def between(
    least: float, most: float, what: str, source: str, *, stretch: float | None = None
) -> Limit:
    """Return a limit that lies anywhere between two stretches.

    Parameters
    ----------
    least, most : float
        Stretches. The limit is taken to lie anywhere between them: its SD is the logarithm of
        their ratio, divided by the root of 12.
    what, source : str
    stretch : float, optional
        The likeliest; by default their geometric mean.

    Examples
    --------
    >>> print(between(1.2, 1.3, "what is advised", "two pages"))
    1.25 (1.19 to 1.31): what is advised (two pages)
    """
    middle = math.sqrt(least * most) if stretch is None else stretch
    return Limit(middle, what, source, math.log(most / least) / math.sqrt(12))


@attrs.frozen
class Scale:
    """The limits of wear in one direction of the fabric, ascending.

    The same tensions in every scale but for `loose`: see the module.

    Parameters
    ----------
    loose, easy, close, tight : Limit
        Below `loose` the sock is loose, below `easy` easy, and so on; above `tight` it is strained.

    Examples
    --------
    >>> [COURSEWISE.feel(stretch).value for stretch in (0.97, 1.05, 1.3, 1.4, 1.7)]
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


_REST: Final = between(
    0.97, 1.03, "the sock is as large as the foot", "by definition; the 3 % are our choice"
)
_EASE: Final = between(
    1.08,
    1.15,
    "10 % of negative ease",
    "pages for sock knitters: 'Ease-y Socks'; 'Fitting Socks', 2014 and 2017",
    stretch=1 / 0.90,
)
_ADVISED: Final = between(
    1 / 0.80,
    1.30 / 0.90,
    "more than 20 % of negative ease, and up to a low calf 30 % wider than the foot on a sock of "
    "10 % of negative ease",
    "pages 'Knit socks with negative ease', 2008; 'Achieving Proper Fit: Socks'",
)
GOING_ON: Final = between(
    1.60,
    1.80,
    "plain fabric stiffens; tops of socks had to reach 1.68",
    "Field Comforts, Toronto, 1939: 60 stitches at 6.5 to the inch to 15.5 in round; a test of "
    "1940 says much the same; page 'Knit fabric properties': 30 to 60 % in width at ordinary loads",
    stretch=1.68,
)
"""Up to where a sock can be pulled over a heel: a stretch across the fabric."""

STRANDED: Final = between(
    1.10, 1.30, "the floats behind the fabric are straight",
    "common practice: stitches are spread on the needle before a yarn passes behind them, so that "
    "its floats are that much longer; a swatch shows it better",
)  # fmt: skip
"""Up to where fabric of two colours in a round can be pulled, across."""


def stranded(scale: Scale, end: Limit = STRANDED) -> Scale:
    """Return the scale where floats hold the fabric: beyond their length it gives no more.

    Parameters
    ----------
    scale : Scale
    end : Limit
        Where it gives no more: see `held`.

    Examples
    --------
    >>> [stranded(COURSEWISE).feel(stretch).value for stretch in (1.05, 1.15, 1.25)]
    ['easy', 'close', 'strained']
    >>> print(stranded(COURSEWISE, held(1.25)).tight)
    1.25 (1.18 to 1.33): the floats behind the fabric are straight (a swatch)
    """
    close = min(scale.close, end, key=lambda limit: limit.stretch)
    easy = min(scale.easy, end, key=lambda limit: limit.stretch)
    tight = min(scale.tight, end, key=lambda limit: limit.stretch)
    return attrs.evolve(scale, easy=easy, close=close, tight=tight)


def held(measured: float | None = None) -> Limit:
    """Return where floats hold the fabric, as a swatch says or else common practice.

    Examples
    --------
    >>> held().stretch == STRANDED.stretch, held(1.4).stretch
    (True, 1.4)
    """
    if measured is None:
        return STRANDED
    return Limit(measured, STRANDED.what, "a swatch", _PULLED_SD)


_PULLED_SD: Final = 0.03  # relative: how alike two pull a swatch, our choice

COURSEWISE: Final = Scale(_REST, _EASE, _ADVISED, GOING_ON)
"""Along the courses, that is round the foot and the leg."""

WALEWISE: Final = Scale(_REST, *(limit.along() for limit in (_EASE, _ADVISED, GOING_ON)))
"""Along the wales, that is in the length of the foot: the same tensions, at half the stretch."""

ANKLE: Final = attrs.evolve(
    COURSEWISE,
    loose=between(
        0.80, 0.91, "the sock is 17 % larger than the ankle",
        "our choice: what passes the heel is never close there, and a deep heel is roomy",
    ),
)  # fmt: skip
"""Round the ankle, where a sock that passes the heel is as large as the leg, or larger."""


def ribbed(scale: Scale, rest: float, sd: float, source: str) -> Scale:
    """Return the scale for ribs: loose only below their own width at rest.

    Parameters
    ----------
    scale : Scale
        Of plain fabric. Pulled out, every rib is as wide as plain fabric at the same pull, within
        2 to 4 %; so the other limits stay.
    rest, sd : float
        The rib's width at rest over that of as many plain stitches, and its relative SD.
    source : str

    Examples
    --------
    >>> ribbed(COURSEWISE, 0.6, 0.12, "a swatch").feel(0.9).value
    'easy'
    """
    loose = Limit(rest, "the rib at rest is as large as the leg", source, sd)
    return attrs.evolve(scale, loose=loose)


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
    ball stretched 1 to 1.34 times, heel at most 1.34 times, length 1 to 1.14 times
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
        ball, length = (
            f"{least:.3g} to {most:.3g} times" for least, most in (self.ball, self.length)
        )
        return f"ball stretched {ball}, heel at most {self.heel:.3g} times, length {length}"


guard(globals())
