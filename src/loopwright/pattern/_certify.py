"""A certificate for a pattern or for what it made."""

from __future__ import annotations

from typing import Final

from loopwright.fabric import Certificate, Fabric, Limits, certify
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.pattern._knit import knit
from loopwright.pattern._write import write
from loopwright.pattern.program import Pattern

__all__ = ["certificate"]

_LIMITS: Final = Limits()


def certificate(
    of: Fabric | Pattern,
    *,
    size: str | int | None = None,
    limits: Limits = _LIMITS,
    openings: int | None = None,
    stitches: StitchTable = STITCHES,
) -> Certificate:
    """Return a certificate that a fabric, or what a pattern makes, is sound.

    Parameters
    ----------
    of : Fabric or Pattern
        The instructions of a pattern stand in its certificate.
    size : str or int, optional
        Of a pattern with several; the first by default.
    limits : Limits
        What the checks allow.
    openings : int, optional
        How many openings are expected; overrides ``limits.openings``.
    stitches : StitchTable
        With the pattern's own stitches, if it has any.

    Raises
    ------
    UnsoundFabricError
        The fabric has mistakes: there is nothing to certify.
    KnitError
        The pattern can't be worked.

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> tube = read("Cast on 8 sts. Join in the round. Rnds 1-3: Knit. Bind off all sts.")
    >>> paper = certificate(tube, openings=2)
    >>> paper.document["found"]["loops"], paper.document["instructions"].splitlines()[-1]
    (40, 'Bind off all sts.')
    """
    if isinstance(of, Fabric):
        return certify(of, limits=limits, openings=openings)
    fabric = knit(of, size=size, stitches=stitches)
    text = write(of, size=size)
    return certify(fabric, limits=limits, openings=openings, instructions=text)
