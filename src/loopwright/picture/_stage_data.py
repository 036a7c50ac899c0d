"""What a stage says; see :mod:`loopwright.picture._stages`."""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum
from math import pi

import attrs

from loopwright.fabric import Fabric

__all__ = ["Carrier", "Gap", "Stage", "State"]


class State(Enum):
    """What a loop on a needle or holder is to the knitter."""

    LIVE = "live"
    NEW = "just cast on or picked up"
    LIFTED = "a lifted strand"
    WRAPPED = "wrapped, to be worked with its wrap"
    WASTE = "of waste yarn, to be worked over"
    WAITING = "to be recaptured"


@attrs.frozen
class Carrier:
    """A needle, a holder, or waste yarn in the fabric.

    Parameters
    ----------
    name : str
        A needle's is the part of the work that it carries, where the pattern names one.
    kind : str
        ``"needle"``, ``"held"`` (on waste yarn or a stitch holder) or ``"waste yarn"``.
    loops : tuple of int
        In working order of the right side; for waste yarn the loops that it holds.
    states : tuple of State
        One for each loop.
    yarns : tuple of str
        The yarn of each loop.
    """

    name: str
    kind: str
    loops: tuple[int, ...]
    states: tuple[State, ...]
    yarns: tuple[str, ...] = ()


@attrs.frozen
class Gap:
    """A hole.

    Parameters
    ----------
    loops : tuple of int
        Round it.
    round_mm : float or None
        Length of its edge at rest.
    above : tuple of int
        Live loops that stand above it.
    """

    loops: tuple[int, ...]
    round_mm: float | None
    above: tuple[int, ...]

    def __str__(self) -> str:
        size = f"{len(self.loops)} edges"
        if self.round_mm is None:
            return size
        return f"{size}, {self.round_mm / pi:.0f} mm across"


@attrs.frozen(kw_only=True)
class Stage:
    """What is where.

    Parameters
    ----------
    title : str
        What has just been done.
    carriers : tuple of Carrier
    at : int
        Stitches between the beginning of the needles and the place where the work stands.
    goes_on : bool
        Whether stitches are left to be worked in this row or round.
    right_side, in_rounds : bool
        Which side faces the knitter, and whether the work goes round.
    course : int
    gaps : tuple of Gap
    in_ring : tuple of Carrier
        Holders or waste yarn that lie between the needles' ends: the round is not closed.
    left_handed : bool
        The right side is worked left to right.
    graft : Fabric or None
        The fabric just grafted, whose yarn is to be shown.
    yarn : str
        The one in use, ``""`` when it is cut.
    colours : mapping of str to str
        Of the yarns by name, where the piece has several; loops are drawn in them.
    """

    title: str
    carriers: tuple[Carrier, ...]
    at: int
    goes_on: bool
    right_side: bool
    in_rounds: bool
    course: int
    gaps: tuple[Gap, ...]
    in_ring: tuple[Carrier, ...] = ()
    left_handed: bool = False
    graft: Fabric | None = attrs.field(default=None, repr=False)
    yarn: str = ""
    colours: Mapping[str, str] = attrs.field(factory=dict, repr=False)

    @property
    def needles(self) -> tuple[Carrier, ...]:
        """The needles."""
        return tuple(carrier for carrier in self.carriers if carrier.kind == "needle")

    @property
    def apart(self) -> tuple[Carrier, ...]:
        """Holders and waste yarn that lie aside."""
        return tuple(
            carrier
            for carrier in self.carriers
            if carrier.kind != "needle" and carrier not in self.in_ring
        )

    @property
    def count(self) -> int:
        """Live stitches on the needles."""
        return sum(len(carrier.loops) for carrier in self.needles)
