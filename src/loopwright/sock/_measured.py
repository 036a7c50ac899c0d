"""A piece that was knitted and measured with a tape: what it was, and what the tape said."""

from __future__ import annotations

from collections.abc import Iterator

import attrs

from loopwright.errors import FootError
from loopwright.gauge import Gauge, Relaxation
from loopwright.length import Length
from loopwright.pattern import Pattern
from loopwright.sock._sock import Sock

__all__ = ["Measured"]

# How far a sock can be from what was calculated; beyond it the piece is another, or a slip.
_LEAST, _MOST = 0.7, 1.4


@attrs.frozen(kw_only=True)
class Measured:
    """A knitted piece, relaxed on a table with a tape round it.

    Parameters
    ----------
    sock : Sock, optional
        What was knitted.
    pattern : Pattern, optional
        What was knitted, where it is a pattern; its first size. Then the gauge is needed.
    gauge : Gauge, optional
        Of its swatch; by default the sock's.
    heel_girth, foot_girth, leg_girth, foot_length : Length, optional
        What the tape said: over the tip of the heel and the front of the ankle; round the foot and
        the leg, where they are tubes; from the back of the heel to the toe's tip.
    state : Relaxation
        In which it was measured.
    name : str

    Raises
    ------
    FootError
        Neither a sock nor a pattern with its gauge, or nothing that a tape said.

    Examples
    --------
    >>> from loopwright.sock import Foot
    >>> sock = Sock(foot=Foot.of(length="24.6 cm"), gauge=Gauge.of(32, 44))
    >>> piece = Measured(sock=sock, heel_girth=Length(242.0, 3.0), name="first pair")
    >>> [name for name, length in piece.taped()], piece.swatch == sock.gauge
    (['heel_girth'], True)
    >>> piece.refuse_slips("heel_girth", 0.5)
    Traceback (most recent call last):
    ...
    loopwright.errors.FootError: first pair: heel girth: found 0.50 times what was calculated; ...
    """

    sock: Sock | None = None
    pattern: Pattern | None = None
    gauge: Gauge | None = None
    heel_girth: Length | None = None
    foot_girth: Length | None = None
    leg_girth: Length | None = None
    foot_length: Length | None = None
    state: Relaxation = Relaxation.WASHED
    name: str = ""

    def __attrs_post_init__(self) -> None:
        if (self.sock is None) == (self.pattern is None):
            raise FootError("measured piece", "no sock or pattern, or both", "give one of them")
        if self.sock is None and self.gauge is None:
            raise FootError("measured piece", "a pattern without its gauge", "give its swatch's")
        if not [*self.taped()]:
            expected = "give heel_girth, foot_girth, leg_girth or foot_length"
            raise FootError("measured piece", "nothing that a tape said", expected)

    @property
    def swatch(self) -> Gauge:
        """The gauge of its swatch."""
        gauge = self.gauge or (self.sock.gauge if self.sock else None)
        assert gauge is not None  # refused above
        return gauge

    def taped(self) -> Iterator[tuple[str, Length]]:
        """Yield the name and length of each thing that was measured."""
        for name in ("heel_girth", "foot_girth", "leg_girth", "foot_length"):
            length = getattr(self, name)
            if length is not None:
                yield name, length

    def refuse_slips(self, name: str, ratio: float) -> None:
        """Refuse what lies too far from the calculated length to be that piece.

        Raises
        ------
        FootError
            Knitted over calculated is below 0.7 or above 1.4.
        """
        if not _LEAST <= ratio <= _MOST:
            what = f"{self.name or 'measured piece'}: {name.replace('_', ' ')}"
            found = f"{ratio:.2f} times what was calculated"
            raise FootError(what, found, "is it this piece, its gauge, and the tape once round?")
