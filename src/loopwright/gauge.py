"""Gauge: stitches and courses to a length, from a swatch, with how far it can be trusted.

A count over a measured length is read to about half a stitch at either end. One count is taken to
lie anywhere within half a stitch, so its standard deviation is 0.5 / √3 stitch. Of several counts
the mean is taken, with its standard error, but never less than that reading error divided by the
root of their number. Counts in different places of one swatch say nothing about how much tighter
or looser the sock is knitted than the swatch: that error comes on top, and is unknown.
"""

from __future__ import annotations

import math
import numbers
import statistics
from collections.abc import Iterable
from typing import Any

import attrs

from loopwright import units
from loopwright.border import guard
from loopwright.choice import Choice
from loopwright.errors import GaugeError
from loopwright.length import Length, Origin

__all__ = ["Gauge", "Relaxation"]

_READING_SD = 0.5 / math.sqrt(3)  # stitches: uniform within half a stitch
# Stitches or courses per cm: lace yarn on wire to rope on arms; common practice, wide on purpose.
_COARSEST, _FINEST = 0.2, 40.0
# Courses to stitches: 1.19 to 1.36 in published sock gauges (shared/yarn.toml); none far outside.
_TALLEST, _FLATTEST = 0.5, 3.0


class Relaxation(Choice):
    """What was done to the swatch before it was counted."""

    AS_KNITTED = "as knitted"
    DRY = "dry relaxed"
    WASHED = "washed"  # soaked and dried flat: wet relaxed
    FULL = "fully relaxed"  # washed and tumbled, or worn and washed many times


@attrs.frozen
class Gauge:
    """A fabric's gauge and its uncertainty.

    Parameters
    ----------
    stitches_per_cm, courses_per_cm : float
    stitches_sd, courses_sd : float, per cm
        Standard deviations.
    state : Relaxation

    Raises
    ------
    GaugeError
        A gauge that no hand-knitted fabric has.

    See Also
    --------
    Gauge.of : from a swatch's counts.

    Examples
    --------
    >>> Gauge(3.2, 4.4).stitch_width_mm
    3.125

    >>> swatch = Gauge.of(32, 44, over="10 cm")
    >>> round(swatch.course_height_mm, 2), round(swatch.course_height_sd_mm, 3)
    (2.27, 0.015)
    >>> round(swatch.stitch_width_mm, 2), round(swatch.stitch_width_sd_mm, 3)
    (3.12, 0.028)
    """

    stitches_per_cm: float
    courses_per_cm: float
    stitches_sd: float = 0.0
    courses_sd: float = 0.0
    state: Relaxation = Relaxation.WASHED

    def __attrs_post_init__(self) -> None:
        for what, value, sd in (
            ("stitches per cm", self.stitches_per_cm, self.stitches_sd),
            ("courses per cm", self.courses_per_cm, self.courses_sd),
        ):
            if not _COARSEST <= value <= _FINEST:
                raise GaugeError(
                    what, f"{value:g}", f"expected {_COARSEST:g} to {_FINEST:g}; check the length"
                )
            if not 0 <= sd < value:
                raise GaugeError(what, f"an uncertainty of {sd:g}", f"expected 0 to {value:g}")
        ratio = self.courses_per_cm / self.stitches_per_cm
        if not _TALLEST <= ratio <= _FLATTEST:
            raise GaugeError(
                "gauge",
                f"{ratio:.2f} courses to a stitch's width",
                "plain knitting has about 1.2 to 1.5; check which count is which",
            )

    @classmethod
    def of(
        cls,
        stitches: float | units.QuantityLike | Iterable[float | units.QuantityLike],
        courses: float | units.QuantityLike | Iterable[float | units.QuantityLike],
        *,
        over: units.QuantityLike | tuple[units.QuantityLike, units.QuantityLike] = "10 cm",
        state: Relaxation = Relaxation.WASHED,
    ) -> Gauge:
        """Return the gauge that a swatch shows.

        Parameters
        ----------
        stitches, courses : float, str or Quantity, or several of them
            Counted over the length `over`; several counts narrow the uncertainty. A text such as
            ``"32 sts / 10 cm"``, or a quantity of stitches or courses to a length, states its own.
        over : str or Quantity, or two of them
            The length counted over; two lengths are for stitches and for courses. Where a gauge
            states its own, `over` only says how sure the count is.
        state : Relaxation
            What was done to the swatch before.

        Raises
        ------
        GaugeError
            No counts, counts that aren't positive numbers, or an impossible gauge.
        UnitError
            A length without a unit, or a text that is no gauge.

        Examples
        --------
        >>> print(Gauge.of(16, 22, over="2 in"))
        31.5 ± 0.6 stitches and 43.3 ± 0.6 courses to 10 cm, washed
        >>> print(Gauge.of([32, 32.5, 31.5], [44, 44, 43], over="10 cm"))
        32.0 ± 0.3 stitches and 43.7 ± 0.3 courses to 10 cm, washed
        >>> print(Gauge.of("8 sts / in", "44 rows / 10 cm"))
        31.5 ± 0.3 stitches and 44.0 ± 0.3 courses to 10 cm, washed
        """
        across, up = over if isinstance(over, tuple) else (over, over)
        wale_mm, wale_sd = _per_mm("stitches", stitches, across)
        course_mm, course_sd = _per_mm("courses", courses, up)
        return cls(10 * wale_mm, 10 * course_mm, 10 * wale_sd, 10 * course_sd, state)

    @property
    def stitch_width_mm(self) -> float:
        """Width of one stitch, mm."""
        return 10 / self.stitches_per_cm

    @property
    def course_height_mm(self) -> float:
        """Height of one course, mm."""
        return 10 / self.courses_per_cm

    @property
    def stitch_width_sd_mm(self) -> float:
        """Standard deviation of a stitch's width, mm."""
        return self.stitch_width_mm * self.stitches_sd / self.stitches_per_cm

    @property
    def course_height_sd_mm(self) -> float:
        """Standard deviation of a course's height, mm."""
        return self.course_height_mm * self.courses_sd / self.courses_per_cm

    def width(self, stitches: float) -> Length:
        """Return how wide a number of stitches is.

        Examples
        --------
        >>> print(Gauge.of(32, 44).width(64))
        200.0 ± 1.8 mm (calculated: 64 stitches at the gauge)
        """
        how = f"{stitches:g} stitches at the gauge"
        sd = abs(stitches) * self.stitch_width_sd_mm
        return Length(stitches * self.stitch_width_mm, sd, Origin.CALCULATED, how)

    def height(self, courses: float) -> Length:
        """Return how high a number of courses is.

        Examples
        --------
        >>> print(Gauge.of(32, 44).height(60))
        136.4 ± 0.9 mm (calculated: 60 courses at the gauge)
        """
        how = f"{courses:g} courses at the gauge"
        sd = abs(courses) * self.course_height_sd_mm
        return Length(courses * self.course_height_mm, sd, Origin.CALCULATED, how)

    def __str__(self) -> str:
        return (
            f"{10 * self.stitches_per_cm:.1f} ± {10 * self.stitches_sd:.1f} stitches and "
            f"{10 * self.courses_per_cm:.1f} ± {10 * self.courses_sd:.1f} courses to 10 cm, "
            f"{self.state.value}"
        )


_MOST = 1e6  # stitches or rows; nobody counts as many


def _reading(what: str, count: Any, length_mm: float) -> Any:
    """Return a count over this length, of one or of a gauge that states its own."""
    if not (isinstance(count, str) or hasattr(count, "units")):
        return count
    if str(getattr(count, "units", "")) == ("stitch" if what == "stitches" else "course"):
        return count.magnitude  # so many stitches, or courses
    per_mm = units.to_stitches_per_mm if what == "stitches" else units.to_courses_per_mm
    return per_mm(count, what=f"{what} of the gauge") * length_mm


def _per_mm(what: str, counts: Any, over: units.QuantityLike) -> tuple[float, float]:
    """Mean count and its standard error, per mm."""
    length_mm = units.to_mm(over, what="swatch")
    is_one = isinstance(counts, str) or hasattr(counts, "units")
    several: list[float] = [counts] if is_one or not isinstance(counts, Iterable) else list(counts)
    if length_mm > 0:
        several = [_reading(what, count, length_mm) for count in several]
    if not several:
        raise GaugeError(
            what, "no counts", "give one or more numbers, counted over the same length"
        )
    if length_mm <= 0 or not all(
        isinstance(count, numbers.Real) and 0 < count < _MOST for count in several
    ):
        try:
            shown = repr(counts)[:60]
        except ValueError:  # an integer of thousands of digits
            shown = "numbers of thousands of digits"
        found = f"{shown} over {length_mm:g} mm"
        raise GaugeError(what, found, "expected positive numbers counted over a positive length")
    readings = [float(count) for count in several]
    spread = statistics.stdev(readings) if len(readings) > 1 else 0.0
    error = max(spread, _READING_SD) / math.sqrt(len(readings))
    return statistics.fmean(readings) / length_mm, error / length_mm


guard(globals())
