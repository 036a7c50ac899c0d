"""A length with its uncertainty and where it came from.

Everything that a foot or a swatch yields is one of these, so that no number loses the fact that it
was estimated. Uncertainty is a standard deviation; about 95 in 100 lie within two of them.
"""

from __future__ import annotations

import math

import attrs

from loopwright.border import guard
from loopwright.choice import Choice
from loopwright.errors import MeasureError

__all__ = ["Length", "Origin"]


class Origin(Choice):
    """Where a length came from."""

    MEASURED = "measured"
    SHOE_SIZE = "from a shoe size"
    SURVEY = "estimated from the survey"
    COMMON_PRACTICE = "estimated by common practice"
    CALCULATED = "calculated"


_GUESSED = frozenset({Origin.SURVEY, Origin.COMMON_PRACTICE})


@attrs.frozen
class Length:
    """A length in millimetres, its standard deviation and its origin.

    Parameters
    ----------
    mm : float, mm
    sd_mm : float, mm
        Standard deviation; 0 where the value is exact.
    origin : Origin
    how : str
        In words: what it was measured or estimated with.

    Raises
    ------
    MeasureError
        A value that is not finite, or an uncertainty that is negative or not finite.

    Examples
    --------
    >>> print(Length(248.2, 3.1, Origin.MEASURED))
    248.2 ± 3.1 mm (measured)
    """

    mm: float
    sd_mm: float = 0.0
    origin: Origin = Origin.CALCULATED
    how: str = ""

    def __attrs_post_init__(self) -> None:
        if not (math.isfinite(self.mm) and math.isfinite(self.sd_mm) and self.sd_mm >= 0):
            found = f"{self.mm} ± {self.sd_mm} mm"
            raise MeasureError(
                "length", found, "expected two finite numbers, the second not below 0"
            )

    @property
    def is_estimated(self) -> bool:
        """Whether nobody measured it."""
        return self.origin in _GUESSED

    @property
    def range_mm(self) -> tuple[float, float]:
        """Two standard deviations to either side, mm."""
        return self.mm - 2 * self.sd_mm, self.mm + 2 * self.sd_mm

    def __str__(self) -> str:
        words = f"{self.origin.value}: {self.how}" if self.how else self.origin.value
        return f"{self.mm:.1f} ± {self.sd_mm:.1f} mm ({words})"


guard(globals())
