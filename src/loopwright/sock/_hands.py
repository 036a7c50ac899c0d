"""How the socks of one pair of hands differ from the model, as far as measured pieces tell.

Three numbers, each the logarithm of a ratio, knitted over calculated. They are how much wider a
stitch of a sock is than the swatch's, how much higher a round, and how much larger the girth over
the heel is besides, where half of either counts. Before any piece is measured they are 0, with the
uncertainty that makes the girth over the heel good to 9 % (two standard deviations).
"""

from __future__ import annotations

import math
from typing import Final

import attrs

from loopwright.choice import Choice

__all__ = ["PIECE_SD", "Hands", "TapeLine"]

PIECE_SD: Final = 0.015  # relative, from piece to piece of the same hands: our choice
_WIDTH_SD = _HEIGHT_SD = 0.03  # relative, a sock's gauge against its swatch's: our choice
# So that half of either, this and one piece's own spread come to 4.5 %: see GIRTH_ERROR.
_HEEL_SD = math.sqrt(0.045**2 - PIECE_SD**2 - (_WIDTH_SD**2 + _HEIGHT_SD**2) / 4)


class TapeLine(Choice):
    """What a tape measured, and how much of width, height and heel counts for it."""

    ROUND = (1.0, 0.0, 0.0)
    ALONG = (0.0, 1.0, 0.0)
    OVER_THE_HEEL = (0.5, 0.5, 1.0)


@attrs.frozen
class Hands:
    """What measured pieces say of the next one.

    Parameters
    ----------
    mean : tuple of float
        Logarithms of width, height and heel, knitted over calculated.
    covariance : tuple of tuple of float, shape (3, 3)
    pieces : int
        How many were measured.

    See Also
    --------
    loopwright.fitting.hands_of : from measured pieces.

    Examples
    --------
    Before anything is measured:

    >>> factor, sd = Hands().factor(TapeLine.OVER_THE_HEEL)
    >>> factor, round(sd, 4)
    (1.0, 0.045)
    >>> print(Hands())
    no piece measured
    """

    mean: tuple[float, float, float] = (0.0, 0.0, 0.0)
    covariance: tuple[tuple[float, float, float], ...] = (
        (_WIDTH_SD**2, 0.0, 0.0),
        (0.0, _HEIGHT_SD**2, 0.0),
        (0.0, 0.0, _HEEL_SD**2),
    )
    pieces: int = 0

    def factor(self, line: TapeLine) -> tuple[float, float]:
        """Return what a calculated length is to be taken times, and the relative SD of the next."""
        of = line.value
        mean = sum(a * m for a, m in zip(of, self.mean, strict=True))
        variance = sum(
            of[i] * self.covariance[i][j] * of[j] for i in range(3) for j in range(3)
        )  # fmt: skip
        return math.exp(mean), math.sqrt(variance + PIECE_SD**2)

    def __str__(self) -> str:
        if not self.pieces:
            return "no piece measured"
        pieces = f"{self.pieces} measured piece{'s' if self.pieces > 1 else ''}"
        told = []
        for line, what in ((TapeLine.ROUND, "round"), (TapeLine.ALONG, "in length"),
                           (TapeLine.OVER_THE_HEEL, "over the heel")):  # fmt: skip
            factor, sd = self.factor(line)
            told.append(f"{what} {100 * (factor - 1):+z.1f} ± {100 * sd:.1f} %")
        return f"by {pieces} these hands differ from the model: {', '.join(told)}"
