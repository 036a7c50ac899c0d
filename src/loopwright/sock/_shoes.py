"""From a shoe size to the length of a foot, and back.

A scale numbers the *last*, the form that a shoe is built on: ``last = zero + step × size``. The
foot is shorter by an allowance on which makers don't agree, so one size is several foot lengths;
the spread between the usual conventions is given as the uncertainty. That people wear a size that
isn't theirs comes on top and isn't counted: a tape is better.

Sources. ISO 9407:1991: the Mondopoint size is the foot's own length in mm, with its width as a
second number. Paris point: 2/3 cm of last. British and American: 1/3 inch. Allowances of 10 to
15 mm and of 20 mm for the Paris point, of 15 to 20 mm inside a shoe: published conversion pages.
Zeros of the British and American scales: from memory, as adult UK = 3 L - 25, child UK = 3 L - 12,
U.S. men = 3 L - 24, U.S. women = 3 L - 23 (or - 22.5) with the last L in inches, and adult UK =
3 F - 23, U.S. men = 3 F - 22, U.S. women = 3 F - 21 with the foot F. U.S. children: one above
British ones, from memory.
"""

from __future__ import annotations

import math
import re
from enum import Enum

import attrs

from loopwright import units
from loopwright.errors import ShoeSizeError
from loopwright.length import Length, Origin

__all__ = ["ShoeScale", "ShoeSize", "shoe_size"]


class ShoeScale(Enum):
    """How a shoe's size is numbered."""

    MONDOPOINT = "Mondopoint"
    EU = "EU"
    UK = "UK"  # adults'; "UK adult" is read as well
    UK_CHILD = "UK child"
    US_MEN = "US men"
    US_WOMEN = "US women"
    US_CHILD = "US child"


_BARLEYCORN_MM = 25.4 / 3
_USUAL_MM = 2 * _BARLEYCORN_MM  # two thirds of an inch: from 3 L - 25 = 3 F - 23


@attrs.frozen
class _Scale:
    zero_mm: float  # last of size 0
    step_mm: float  # last from size to size
    sold_in: float  # sizes between neighbours in a shop
    allowance_mm: float  # last less foot, as usual
    others_mm: tuple[float, ...]  # the other conventions, as an allowance on the same last
    lowest: float
    highest: float


def _barleycorn(
    zero: float, lowest: float, highest: float, others_mm: tuple[float, ...] = (15.0, 20.0)
) -> _Scale:
    return _Scale(zero * _BARLEYCORN_MM, _BARLEYCORN_MM, 0.5, _USUAL_MM, others_mm, lowest, highest)


_SCALES = {
    ShoeScale.MONDOPOINT: _Scale(0.0, 1.0, 5.0, 0.0, (), 80, 350),
    ShoeScale.EU: _Scale(0.0, 20 / 3, 1.0, 15.0, (10.0, 20.0), 15, 55),
    ShoeScale.UK: _barleycorn(25, 1, 18),
    ShoeScale.UK_CHILD: _barleycorn(12, 0, 13.5),
    ShoeScale.US_MEN: _barleycorn(24, 1, 19),
    # 3 L - 22.5 is a last half a size shorter: as much as 1/6 inch more of an allowance.
    ShoeScale.US_WOMEN: _barleycorn(23, 2, 18, (15.0, 20.0, _USUAL_MM + _BARLEYCORN_MM / 2)),
    ShoeScale.US_CHILD: _barleycorn(11, 0, 13.5),
}
_WORDS = {scale.value.lower(): scale for scale in ShoeScale} | {"uk adult": ShoeScale.UK}
_TEXT = re.compile(
    r"(?P<scale>[a-z ]*?) *(?P<size>[0-9]+(?:\.[0-9]+)?) *(?P<half>½|1/2)?(?:/(?P<width>[0-9]+))?"
)


@attrs.frozen
class ShoeSize:
    """A shoe's size, and what it says about the foot.

    Parameters
    ----------
    size : float
    scale : ShoeScale
    allowance_mm : float, mm, optional
        By how much the last is longer than the foot, where the maker is known to say.
    foot_width_mm : float, mm, optional
        The second number of a Mondopoint size.

    Raises
    ------
    ShoeSizeError
        A size that the scale doesn't have, or an allowance out of reason.

    Examples
    --------
    >>> size = ShoeSize(39, ShoeScale.EU)
    >>> size.last_mm
    260.0
    >>> print(size.foot_length)
    245.0 ± 5.4 mm (from a shoe size: EU 39)
    >>> print(ShoeSize.of("270/105").foot_length)
    270.0 ± 1.4 mm (from a shoe size: Mondopoint 270)
    """

    size: float
    scale: ShoeScale
    allowance_mm: float | None = None
    foot_width_mm: float | None = None

    def __attrs_post_init__(self) -> None:
        scale = _SCALES[self.scale]
        if not scale.lowest <= self.size <= scale.highest:
            others = [
                other.value
                for other, row in _SCALES.items()
                if row.lowest <= self.size <= row.highest and other is not self.scale
            ]
            hint = f"; it may be {', '.join(others)}" if others else ""
            raise ShoeSizeError(
                f"{self.scale.value} size",
                f"{self.size:g}",
                f"expected {scale.lowest:g} to {scale.highest:g}{hint}",
            )
        allowance = self.allowance_mm
        if allowance is not None and not 0 <= allowance <= 40:
            raise ShoeSizeError("shoe's allowance", f"{allowance:g} mm", "expected 0 to 40 mm")
        if self.foot_width_mm is not None and not (
            self.scale is ShoeScale.MONDOPOINT
            and 0.25 < self.foot_width_mm / self.foot_length.mm < 0.55
        ):
            raise ShoeSizeError(
                "foot's width",
                f"{self.foot_width_mm:g} mm",
                "expected the second Mondopoint number",
            )

    @classmethod
    def of(cls, text: str, *, allowance: units.QuantityLike | None = None) -> ShoeSize:
        """Return the size that a text states, such as ``"EU 39"`` or ``"US women 8 1/2"``.

        Parameters
        ----------
        text : str
            A scale and a number; a number alone, or two with a stroke, is Mondopoint.
        allowance : str or Quantity, optional
            By how much the last is longer than the foot.

        Raises
        ------
        ShoeSizeError
            Another text, or a size that the scale doesn't have.
        """
        found = _TEXT.fullmatch(text.strip().lower())
        scale = _WORDS.get(found["scale"] or "mondopoint") if found else None
        if found is None or scale is None:
            expected = f"expected one of {', '.join(x.value for x in ShoeScale)}, and a number"
            raise ShoeSizeError("shoe size", repr(text[:40]), expected)
        size = float(found["size"]) + (0.5 if found["half"] else 0.0)
        width = float(found["width"]) if found["width"] else None
        allowance_mm = None if allowance is None else units.to_mm(allowance, what="allowance")
        return cls(size, scale, allowance_mm, width)

    @property
    def last_mm(self) -> float:
        """Length of the form that the shoe is built on, mm (Mondopoint: of the foot itself)."""
        scale = _SCALES[self.scale]
        return scale.zero_mm + self.size * scale.step_mm

    @property
    def foot_length(self) -> Length:
        """The foot's length; the uncertainty holds the conventions and the step between sizes."""
        scale = _SCALES[self.scale]
        usual, others = scale.allowance_mm, scale.others_mm
        if self.allowance_mm is not None:
            usual, others = self.allowance_mm, ()
        squares = sum((other - usual) ** 2 for other in others) / max(len(others), 1)
        # The foot lies anywhere between two sizes as they are sold: uniform, hence the 12.
        squares += (scale.sold_in * scale.step_mm) ** 2 / 12
        how = f"{self.scale.value} {self.size:g}"
        return Length(self.last_mm - usual, math.sqrt(squares), Origin.SHOE_SIZE, how)


def shoe_size(
    foot_length: units.QuantityLike,
    scale: ShoeScale,
    *,
    allowance: units.QuantityLike | None = None,
) -> ShoeSize:
    """Return the size of a foot on a scale, not rounded to what is sold.

    Parameters
    ----------
    foot_length : str or Quantity
    scale : ShoeScale
    allowance : str or Quantity, optional
        By how much the last is longer than the foot; the scale's usual one otherwise.

    Raises
    ------
    ShoeSizeError
        The scale has no such size.

    Examples
    --------
    >>> round(shoe_size("250 mm", ShoeScale.UK).size, 2)
    6.53
    """
    row = _SCALES[scale]
    given = None if allowance is None else units.to_mm(allowance, what="allowance")
    last = units.to_mm(foot_length, what="foot length")
    last += row.allowance_mm if given is None else given
    return ShoeSize((last - row.zero_mm) / row.step_mm, scale, given)
