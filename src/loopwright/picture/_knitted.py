"""What a picture of a pattern is read off: the pattern knitted, once."""

from __future__ import annotations

from loopwright.errors import PictureError
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.making import Hand
from loopwright.pattern import Knitted, Pattern, knitted

__all__ = ["as_knitted"]


def as_knitted(
    pattern: Pattern | Knitted,
    *,
    size: str | int | None = None,
    hand: Hand | None = None,
    stitches: StitchTable = STITCHES,
    fabrics: bool = False,
) -> Knitted:
    """Return a pattern knitted; what is knitted already, as it is.

    Raises
    ------
    PictureError
        A size is asked for of what was knitted in one.
    """
    if isinstance(pattern, Pattern):
        return knitted(pattern, size=size, hand=hand, stitches=stitches, fabrics=fabrics)
    if size is not None and size not in pattern.journal.pattern.sizes:
        raise PictureError(
            f"picture of size {size!r}", "what was knitted is of another", "knit that size"
        )
    return pattern
