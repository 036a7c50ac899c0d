"""The root of all errors of this package."""

from __future__ import annotations

__all__ = ["LoopwrightError"]


class LoopwrightError(Exception):
    """Root of all errors that this package raises on purpose.

    Examples
    --------
    >>> from loopwright import Gauge
    >>> try:
    ...     Gauge.of(28, 0, over="10 cm")
    ... except LoopwrightError as error:
    ...     print(error)
    courses: found 0 over 100 mm; expected positive numbers counted over a positive length
    """
