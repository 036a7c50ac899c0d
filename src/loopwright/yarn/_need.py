"""What a piece needs of each yarn: metres, grams and balls, as an honest range.

Every loop of every strand is counted. A plain loop takes the loop length that the gauge implies.
Other loops take a multiple of it (`_LOOPS`): a cast-on loop about twice as much, a loop of a graft
half. To that come the way from a knit to a purl and back (ribs), floats behind slipped stitches,
and two tails a strand.

``low`` and ``high`` take every uncertain thing to the same side at once: the loop length by two
standard deviations, the multiples, tails, and the yarn's own count. They are limits to plan with,
not a confidence interval. A swatch, and what a knitter rips and re-knits, come on top.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from types import MappingProxyType

import attrs
import numpy as np

from loopwright.errors import YarnError
from loopwright.fabric.columns import BACK, FLOAT
from loopwright.fabric.fabric import Fabric, Strand
from loopwright.fabric.stitches import STITCHES, Kind, StitchTable
from loopwright.gauge import Gauge
from loopwright.yarn._loop import loop_length
from loopwright.yarn._spec import Yarn

__all__ = ["Range", "StrandUse", "YarnNeed", "strand_uses", "yarn_need"]


@attrs.frozen
class Range:
    """A quantity between two limits, in the unit that its field is named after.

    Examples
    --------
    >>> print(Range(1.0, 2.0, 3.0) + Range(0.5, 0.5, 1.0).times(2))
    3 (2 to 5)
    """

    low: float
    likely: float
    high: float

    def __add__(self, other: Range) -> Range:
        return Range(self.low + other.low, self.likely + other.likely, self.high + other.high)

    def times(self, factor: float | Range) -> Range:
        """Return it multiplied, limit by limit."""
        other = factor if isinstance(factor, Range) else Range(factor, factor, factor)
        return Range(self.low * other.low, self.likely * other.likely, self.high * other.high)

    def __str__(self) -> str:
        return f"{self.likely:.0f} ({self.low:.0f} to {self.high:.0f})"


_NOTHING = Range(0.0, 0.0, 0.0)
_ONE = Range(1.0, 1.0, 1.0)

# Yarn of a loop in plain loop lengths, by kind. Common practice where no source is named.
_LOOPS = {
    # The needle's loop, and under it 3 to 4 times the width (published rules for the long tail):
    # a course takes Kw = 4.2 times its width, so 0.7 to 1.0 loop.
    Kind.CAST_ON: Range(1.6, 1.85, 2.1),
    Kind.CLOSED: _ONE,
    # n pairs, two loops each, take one course: Kw times the width. Rules of thumb say 3 to 4 times.
    Kind.GRAFTED: Range(0.35, 0.5, 0.65),
    Kind.BOUND_OFF: Range(0.9, 1.1, 1.6),
    Kind.OVER: Range(0.5, 0.7, 1.0),
    Kind.WRAP: Range(0.3, 0.6, 1.0),
    Kind.LIFTED: _NOTHING,  # a running strand that was there already
    Kind.SLIPPED: _NOTHING,  # the old loop grows at its neighbours' cost
    Kind.WORKED: _ONE,
}
# Of a crossing: its wales run aslant, and what they want they draw from their neighbours (our
# estimate; a cable takes more yarn because it draws in, so that there are more stitches).
_CROSSED = Range(1.0, 1.1, 1.4)
_SHAPED = Range(0.95, 1.0, 1.1)  # decreases, increases, twisted stitches
_FLOAT_WIDTHS = Range(0.9, 1.0, 2.0)  # a float behind one slipped stitch, in stitch widths
# From a knit to a purl the yarn passes through the fabric: about its own thickness, or twice it
# (our estimate: no constants of ribs are safe, see `loopwright.yarn._loop`).
_CROSSING_DIAMETERS = Range(0.0, 1.0, 2.0)
_CROSSING_LOOPS = Range(0.0, 0.05, 0.1)  # of a loop length, where the yarn isn't known
_TAIL_MM = Range(100.0, 175.0, 250.0)  # 6 to 8 in are published for weaving in; the rest is room
_COUNT = Range(0.95, 1.0, 1.05)  # what a band promises, kept within 5 %: from memory


def _frozen_counts(loops: Mapping[str, int]) -> Mapping[str, int]:
    return MappingProxyType(dict(loops))


@attrs.frozen
class StrandUse:
    """What one strand of a fabric is made of.

    Parameters
    ----------
    name : str
        The strand's, as the pattern calls it.
    loops : mapping of str to int
        Stitch key to the number of loops.
    role : str
        ``"working"`` or ``"waste"``.
    crossings : int
        How often the strand goes from a knit to a purl or back.
    floats : int
        Yarn passing behind or before a slipped stitch.
    tails : int
        Ends that are left for weaving in.

    Raises
    ------
    YarnError
        A negative number.

    Examples
    --------
    >>> StrandUse("main 2", {"k": 40}).yarn
    'main'
    """

    name: str
    loops: Mapping[str, int] = attrs.field(converter=_frozen_counts)
    role: str = "working"
    crossings: int = 0
    floats: int = 0
    tails: int = 2

    def __attrs_post_init__(self) -> None:
        parts = {**self.loops, "crossings": self.crossings, "floats": self.floats}
        for what, count in {**parts, "tails": self.tails}.items():
            if count < 0:
                raise YarnError(f"{what} of strand {self.name!r}", str(count), "expected 0 or more")

    @property
    def yarn(self) -> str:
        """The yarn that it is of: strands of one yarn are numbered."""
        return Strand(self.name).yarn

    def __getstate__(self) -> dict[str, object]:
        # Mapping proxies don't pickle.
        return {**attrs.asdict(self, recurse=False), "loops": dict(self.loops)}

    def __setstate__(self, state: dict[str, object]) -> None:
        self.__init__(**state)  # type: ignore[misc]


@attrs.frozen
class YarnNeed:
    """How much is used of one yarn, or of one strand of unknown yarn.

    Parameters
    ----------
    name : str
    metres : Range, m
    grams : Range, g, or None
        None where the yarn isn't known.
    balls : int or None
        Enough for the upper limit; None where the weight of a ball isn't known.
    """

    name: str
    metres: Range
    grams: Range | None = None
    balls: int | None = None

    def __str__(self) -> str:
        grams = f", {self.grams} g" if self.grams else ""
        balls = f", {self.balls} ball{'s' * (self.balls != 1)}" if self.balls is not None else ""
        return f"{self.name}: {self.metres} m{grams}{balls}"


def strand_uses(fabric: Fabric) -> tuple[StrandUse, ...]:
    """Count what each strand of a fabric is made of.

    Waste yarn that was taken out is counted: it had to be there.

    Parameters
    ----------
    fabric : Fabric

    Returns
    -------
    tuple of StrandUse
        One a strand, in the fabric's order.
    """
    n_codes, n_strands = len(fabric.stitches), len(fabric.strands)
    places = fabric.strand.astype(np.int64) * n_codes + fabric.stitch
    counts = np.bincount(places, minlength=n_strands * n_codes).reshape(n_strands, n_codes)
    purled = np.zeros(len(fabric.stitch), dtype=bool)
    purled[fabric.child[(fabric.info & BACK) != 0]] = True
    drawn = np.zeros(len(fabric.stitch), dtype=bool)
    drawn[fabric.child] = True
    here = np.flatnonzero((fabric.next >= 0) & drawn)
    here = here[drawn[fabric.next[here]]]
    crossing = here[purled[here] != purled[fabric.next[here]]]
    crossings = np.bincount(fabric.strand[crossing], minlength=n_strands)
    floats = np.bincount(fabric.strand[(fabric.flags & FLOAT) != 0], minlength=n_strands)
    return tuple(
        StrandUse(
            strand.name,
            {
                row.key: int(count)
                for row, count in zip(fabric.stitches, counts[place], strict=True)
                if count
            },
            strand.role,
            int(crossings[place]),
            int(floats[place]),
        )
        for place, strand in enumerate(fabric.strands)
    )


def yarn_need(
    uses: Iterable[StrandUse],
    gauge: Gauge,
    yarns: Yarn | Mapping[str, Yarn],
    *,
    pieces: int = 1,
    stitches: StitchTable = STITCHES,
) -> tuple[YarnNeed, ...]:
    """Return how much is used of each yarn.

    Parameters
    ----------
    uses : iterable of StrandUse
        Of one piece: from `strand_uses`, or counted by hand.
    gauge : Gauge
    yarns : Yarn, or mapping of str to Yarn
        By the name that the pattern has for it, or for a strand of it; a single yarn is taken for
        all but waste strands.
    pieces : int
        2 for a pair of socks.
    stitches : StitchTable
        Where the keys of the loops are explained.

    Returns
    -------
    tuple of YarnNeed
        One a yarn in the order of first use; one that isn't known in metres only.

    Raises
    ------
    YarnError
        Fewer than one piece.
    UnknownStitchError
        A key that the table hasn't got.

    Examples
    --------
    >>> tube = StrandUse("main", {"co": 64, "k": 64 * 150, "graft": 40})
    >>> sock = Yarn.of("sock wool", "420 m / 100 g", ball="50 g")
    >>> print(yarn_need([tube], Gauge.of(32, 44), sock, pieces=2)[0])
    sock wool: 243 (225 to 260) m, 58 (51 to 65) g, 2 balls
    """
    if pieces < 1:
        raise YarnError("pieces", str(pieces), "expected at least one")
    metres: dict[str, Range] = {}
    known: dict[str, Yarn] = {}
    for use in uses:
        if isinstance(yarns, Yarn):
            yarn = yarns if use.role != "waste" else None
        else:
            yarn = yarns.get(use.name, yarns.get(use.yarn))
        name = use.yarn if yarn is None else yarn.name
        if yarn is not None:
            known[name] = yarn
        length = _metres(use, gauge, yarn, stitches).times(pieces)
        metres[name] = metres.get(name, _NOTHING) + length
    return tuple(_need(name, length, known.get(name)) for name, length in metres.items())


def _need(name: str, metres: Range, yarn: Yarn | None) -> YarnNeed:
    if yarn is None:
        return YarnNeed(name, metres)
    grams = metres.times(yarn.grams_per_metre).times(_COUNT)
    balls = None if yarn.ball_g is None else math.ceil(grams.high / yarn.ball_g)
    return YarnNeed(name, metres, grams, balls)


def _metres(use: StrandUse, gauge: Gauge, yarn: Yarn | None, stitches: StitchTable) -> Range:
    """Yarn of one strand of one piece, m."""
    loop = loop_length(gauge)
    low, high = loop.range_mm
    loop_mm = Range(low, loop.mm, high)
    loops = _NOTHING
    for key, count in use.loops.items():
        loops += _loops(key, stitches).times(count)
    if yarn is None:
        crossing_mm = loop_mm.times(_CROSSING_LOOPS)
    else:
        crossing_mm = _CROSSING_DIAMETERS.times(yarn.diameter_mm)
    total = loop_mm.times(loops) + crossing_mm.times(use.crossings) + _TAIL_MM.times(use.tails)
    total += _FLOAT_WIDTHS.times(use.floats * gauge.stitch_width_mm)
    return total.times(1e-3)


def _loops(key: str, stitches: StitchTable) -> Range:
    """Plain loop lengths that a loop of this stitch takes."""
    stitch = stitches[key]
    if stitch.is_crossing:
        return _CROSSED
    shaped = stitch.change != 0 or stitch.twist or stitch.makes > 1
    return _SHAPED if stitch.kind is Kind.WORKED and shaped else _LOOPS[stitch.kind]
