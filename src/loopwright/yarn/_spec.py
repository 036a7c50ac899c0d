"""A yarn: its count, its ball, its thickness."""

from __future__ import annotations

import math

import attrs

from loopwright import units
from loopwright.characters import find_strange
from loopwright.errors import YarnError

__all__ = ["Yarn"]

# From gossamer to roving; common practice, wide on purpose.
_FINEST_TEX, _COARSEST_TEX = 5.0, 20_000.0
# Diameter in cm = 4.44e-3 √(tex / density): a textile handbook (Texcoms 2023, p. 147) and the
# worked example in shared/yarn.toml; it implies that fibres fill 0.646 of the section.
_DIAMETER_CM = 4.44e-3
_WOOL = 1.31  # g per cm³


def _single_spaced(name: str) -> str:
    """Return a name as it can stand in a line of text."""
    return " ".join(name.split())


@attrs.frozen
class Yarn:
    """A yarn as its band describes it.

    Parameters
    ----------
    name : str
    tex : float, g per 1000 m
        Of the whole plied yarn.
    ball_g : float, g, optional
        What one ball weighs.
    fibre_density : float, g per cm³
        1.31 for wool, 1.54 for cotton.

    Raises
    ------
    YarnError
        A count, a ball or a density that no yarn has.

    See Also
    --------
    Yarn.of : from a count in any system.

    Examples
    --------
    >>> sock = Yarn.of("sock wool", "420 m / 100 g", ball="50 g")
    >>> round(sock.tex, 1), round(sock.diameter_mm, 3), sock.ball_m
    (238.1, 0.599, 210.0)
    >>> round(sock.grams_per_metre, 3)
    0.238
    """

    name: str = attrs.field(converter=_single_spaced)
    tex: float
    ball_g: float | None = None
    fibre_density: float = _WOOL

    def __attrs_post_init__(self) -> None:
        if strange := find_strange(self.name):
            found = f"the character {strange}"
            raise YarnError(f"name {self.name!r}", found, "expected letters, digits and signs")
        if not _FINEST_TEX <= self.tex <= _COARSEST_TEX:
            found = f"{self.tex:g} tex, {1e5 / self.tex:g} m to 100 g" if self.tex > 0 else "0 tex"
            expected = f"expected {_FINEST_TEX:g} to {_COARSEST_TEX:g} tex for hand knitting"
            raise YarnError(f"yarn {self.name!r}", found, expected)
        if self.ball_g is not None and not 0 < self.ball_g < 1e5:
            raise YarnError(
                f"ball of {self.name!r}", f"{self.ball_g:g} g", "expected grams above 0"
            )
        if not 0.5 <= self.fibre_density <= 3:
            found = f"{self.fibre_density:g} g per cm³"
            raise YarnError(f"fibre of {self.name!r}", found, "expected 0.5 to 3; wool has 1.31")

    @classmethod
    def of(
        cls,
        name: str,
        count: units.QuantityLike,
        *,
        ball: units.QuantityLike | None = None,
        fibre_density: float = _WOOL,
    ) -> Yarn:
        """Return a yarn from a count in any system.

        Parameters
        ----------
        name : str
        count : str or Quantity
            Such as ``"420 m / 100 g"``, ``"238 tex"``, ``"4.2 Nm"`` or ``"2.48 Ne"``.
        ball : str or Quantity, optional
            The weight of one ball.
        fibre_density : float, g per cm³

        Raises
        ------
        YarnError, UnitError
        """
        tex = units.to_tex(count, what=f"count of {name!r}")
        grams = None if ball is None else units.to_grams(ball, what=f"ball of {name!r}")
        return cls(name, tex, grams, fibre_density)

    @property
    def grams_per_metre(self) -> float:
        """Weight of a metre, g."""
        return self.tex / 1000

    @property
    def ball_m(self) -> float | None:
        """Length of one ball, m, where its weight is known."""
        return None if self.ball_g is None else round(self.ball_g / self.grams_per_metre, 9)

    @property
    def diameter_mm(self) -> float:
        """Thickness of the relaxed yarn, mm."""
        return 10 * _DIAMETER_CM * math.sqrt(self.tex / self.fibre_density)
