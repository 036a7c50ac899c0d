"""A sock knitted to look at it: plan, fabric, checks, shape and girths, each once."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cached_property
from types import MappingProxyType
from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.errors import ShapeError
from loopwright.fabric.checks import Report
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import Kind
from loopwright.fitting._drape import Draped, drape
from loopwright.fitting._footform import foot_form
from loopwright.fitting._heel_parts import heel_parts
from loopwright.fitting._heel_tip import heel_tip
from loopwright.fitting.girths import BALL, QUICK_ERROR, Measures, Route, measure, route
from loopwright.fitting.limits import GIRTH_SD
from loopwright.geometry import Shape, SurfaceLine, cloth_sd_mm, girth_through, shape
from loopwright.length import Length, Origin
from loopwright.pattern import Knitted, Pattern, SockPart, knitted
from loopwright.sock import Hands, Plan, Sock, TapeLine, narrowest
from loopwright.yarn import Range, YarnNeed, strand_uses, yarn_need

__all__ = ["EXACT", "QUICK", "SQUARE", "TAPERED", "HeelCounts", "Sample", "sample", "taped"]

EXACT: Final = "shortest line on the relaxed shape"
QUICK: Final = f"quick estimate on the relaxed shape, up to {100 * QUICK_ERROR:.0f} % long"
SQUARE: Final = "line round the relaxed shape, square to foot or leg"
TAPERED: Final = "line round the relaxed shape: the sock tapers at the ball already"
_ALIKE: Final = 0.01  # relative: what a relaxed tube's girth and its stitches' width may differ by


@attrs.frozen
class HeelCounts:
    """What a heel is made of, gusset and all, counted on the fabric.

    Parameters
    ----------
    stitches : int
        All that are worked.
    courses : int
        Rounds and rows.
    decreases : int
        Stitches worked together; the strand lifted at a corner is none.
    increases : int
    grafted : int
        Pairs of a graft.
    bound_off : int
    picked_up : int
        Along the sides of a flap.
    wraps : int
        At turns; second legs of double stitches are among them.
    gaps : int
        Holes that the checks find, and `largest_cell`, the largest cell at the heel, in edges.
    largest_cell : int
    """

    stitches: int
    courses: int
    decreases: int
    increases: int
    grafted: int
    bound_off: int
    picked_up: int
    wraps: int
    gaps: int
    largest_cell: int


@attrs.frozen(slots=False, eq=False)
class Sample:
    """A sock and all that comes of it, each worked out when it is first asked for.

    Parameters
    ----------
    sock : Sock
    quick : bool
        Whether girths are the quick ones, up to 4 % long.
    made : Knitted, optional
        The sock, where it is knitted already: from a pattern of several sizes, for one.

    See Also
    --------
    sample : also puts it through the checks.

    Examples
    --------
    A child's sock, on paper and knitted:

    >>> from loopwright.gauge import Gauge
    >>> from loopwright.sock import Foot
    >>> foot = Foot.of(length="16 cm", ball_girth="15.5 cm")
    >>> made = sample(Sock(foot=foot, gauge=Gauge.of(14, 20)), quick=True)
    >>> made.plan.stitches.count, made.rounds, len(made.pattern.steps) > 20
    (20, 46, True)
    >>> len(made.fabric), made.report.ok, made.heel_counts.grafted
    (906, True, 4)
    >>> print(made.yarn)
    yarn: 26 (23 to 29) m

    At rest, with the tape round it and along it, in cm:

    >>> {place: round(girth.mm / 10) for place, girth in made.girths.items()}
    {'ball': 14, 'instep': 14, 'heel': 17, 'ankle': 14, 'leg': 14, 'top': 14}
    >>> round(made.lines.sole.length_mm / 10)
    15
    >>> made.heel_tip in made.heel_line.vertices  # the tape goes over the tip of the heel
    True
    >>> made.shape.quality.edge_error_median < 0.01
    True
    >>> int(made.of_heel.sum()), len(made.knitted.journal) == len(made.pattern.steps)
    (144, True)
    >>> type(made.where).__name__, "heel" in made.heel_parts
    ('Route', True)
    >>> round(made.girth_of(made.lines.instep, QUICK).mm / 10)
    14
    """

    sock: Sock
    quick: bool = False
    made: Knitted | None = attrs.field(default=None, repr=False, kw_only=True)

    def __reduce__(self) -> tuple[type[Sample], tuple[Sock, bool]]:
        # Knitting it anew is cheaper than sending the fabric and its shape to another process.
        return Sample, (self.sock, self.quick)

    @cached_property
    def plan(self) -> Plan:
        """The sock in stitches and rounds."""
        return self.sock.plan()

    @cached_property
    def pattern(self) -> Pattern:
        """The instructions."""
        return self.sock.pattern()

    @cached_property
    def knitted(self) -> Knitted:
        """The sock as it was knitted: its fabric, and the journal of what each step made."""
        return self.made or knitted(self.pattern, stitches=self.sock.table)

    @property
    def fabric(self) -> Fabric:
        """The fabric."""
        return self.knitted.fabric

    @cached_property
    def of_heel(self) -> NDArray[np.bool_]:
        """Which loops the heel's steps made, shape (rows of the fabric,)."""
        return self.knitted.journal.made_by(SockPart.HEEL)

    @cached_property
    def report(self) -> Report:
        """What the checks found in it as a finished sock: one opening, nothing left on needles."""
        return self.sock.check(self.fabric)

    @cached_property
    def shape(self) -> Shape:
        """The relaxed sock in space, a panel with a swatch of its own as if plain."""
        sock = self.sock
        swatch = sock.panel is not None and sock.panel.gauge is not None
        return shape(self.fabric, sock.gauge, measured=sock.measured_cloths, drawn_in=not swatch)

    @cached_property
    def worn(self) -> Draped:
        """The sock on its own foot."""
        return drape(self.shape, foot_form(self.sock.foot), heel=self.heel_tip)

    @cached_property
    def girths(self) -> Mapping[str, Length]:
        """Girths of the relaxed sock by place: ball, instep, heel, ankle, leg and top.

        Leg and top are tubes, their girths those of their stitches, as uncertain as the gauge. So
        is the ball's, unless the sock tapers there already: then it is the line round the relaxed
        surface, and says so. Instep, heel and ankle are lines on that surface; see
        `loopwright.fitting.girths` for how far they can be trusted. Where pieces of the same hands
        were measured (`Sock.hands`), what they say is in all of them.
        """
        lines = self.lines
        gauge, hands = self.sock.gauge, self.sock.hands
        stitches = self.plan.stitches.count
        if lines.ankle is None:
            raise _no_heel()
        how = QUICK if self.quick else EXACT
        ball = self._with_panel(self._narrowest(SockPart.FOOT, stitches))
        leg = self._with_panel(self._narrowest(SockPart.LEG, min(stitches, self.plan.top)))
        return MappingProxyType(
            {
                "ball": taped(self._at_the_ball(ball), hands),
                "instep": self.girth_of(lines.instep, SQUARE),
                "heel": self.girth_of(self.heel_line, how),
                "ankle": self.girth_of(lines.ankle, SQUARE),
                "leg": taped(leg, hands),
                "top": taped(gauge.width(self.plan.top), hands),
            }
        )

    def _narrowest(self, part: SockPart, stitches: int) -> Length:
        """Return the girth of a tube of `stitches`, with the patterns all round it."""
        gauge = self.sock.gauge
        return narrowest(self.sock.all_round, part, gauge.width(stitches), gauge)

    def girth_of(self, line: SurfaceLine, how: str) -> Length:
        """Return a line's girth as these hands knit it, with a panel as wide as its swatch."""
        girth = self._unless_in_shape(_length(line, how, self.sock.hands))
        cloth_mm = cloth_sd_mm(self.shape, line, self.sock.measured_cloths)
        return attrs.evolve(girth, sd_mm=math.hypot(girth.sd_mm, cloth_mm))

    def _unless_in_shape(self, girth: Length) -> Length:
        """Return a girth of the shape with its panel, where the shape has that as plain."""
        rest = self.sock.panel_rest
        return self._with_panel(girth) if rest is not None and rest.cloth is None else girth

    def _with_panel(self, girth: Length) -> Length:
        """Return a girth with the panel as wide as it lies; a rib is pulled out as far as plain."""
        rest = self.sock.panel_rest
        if rest is None or rest.is_rib or rest.width == 1:
            return girth
        drawn = self.sock.panel_draws_in(self.plan.stitches.count)
        sd_mm = math.hypot(girth.sd_mm, drawn.sd_mm)
        return attrs.evolve(girth, mm=girth.mm - drawn.mm, sd_mm=sd_mm)

    def _at_the_ball(self, tube: Length) -> Length:
        """The tube's girth where the toe begins beyond the ball or is as wide; else the line's.

        A plane that stands a little askew meets the toe first, so the toe's courses decide.
        """
        line = self.lines.ball
        from_toe_mm = (1 - BALL) * self.lines.sole.length_mm
        toe_mm = self.plan.toe.courses * self.sock.gauge.course_height_mm
        mm = self._unless_in_shape(Length(line.length_mm)).mm
        if toe_mm <= from_toe_mm or mm > (1 - _ALIKE) * tube.mm:
            return tube
        return Length(mm, tube.sd_mm / tube.mm * mm, Origin.CALCULATED, TAPERED)

    @cached_property
    def heel_tip(self) -> int:
        """The vertex of the shape at the tip of the heel, as its construction has it."""
        return self.shape.vertex_of(heel_tip(self.fabric, self.of_heel))

    @cached_property
    def lines(self) -> Measures:
        """Girths and lengths on the relaxed surface; sole and leg are quick ones."""
        return measure(
            self.shape, heel=self.heel_tip, on=self.where, over=self.heel_line, quick=True
        )

    @cached_property
    def where(self) -> Route:
        """Cuff, toe and heel on the relaxed surface."""
        return route(self.shape, heel=self.heel_tip)

    @cached_property
    def heel_line(self) -> SurfaceLine:
        """The closed line over the tip of the heel and the front of the ankle.

        Raises
        ------
        ShapeError
            The shape has no heel.
        """
        where = self.where
        if where.heel is None:
            raise _no_heel()
        return girth_through(self.shape, where.heel, along=where.tube, quick=self.quick)

    @cached_property
    def heel_parts(self) -> Mapping[str, float]:
        """How much of the line over the heel lies on the heel, gusset, sole, instep and leg, mm.

        Examples
        --------
        >>> from loopwright import Foot, Gauge, Sock
        >>> foot = Foot.of(length="16 cm", ball_girth="15.5 cm")
        >>> made = Sample(Sock(foot=foot, gauge=Gauge.of(14, 20), heel="flap"), quick=True)
        >>> {name: round(mm / 10) for name, mm in made.heel_parts.items()}
        {'heel': 13, 'leg': 7}
        """
        rounds = self.plan.heel.foot_rounds + self.plan.heel.leg_rounds
        return heel_parts(
            self.fabric, self.knitted.journal, self.heel_line, self.shape.loops,
            has_gusset=rounds > _CORNER_ROUNDS,
        )  # fmt: skip

    @cached_property
    def heel_counts(self) -> HeelCounts:
        """What the heel is made of."""
        fabric = self.fabric
        mine = self.of_heel & fabric.present
        parents = np.bincount(fabric.child, minlength=len(mine))
        made_of_strand = np.zeros(len(mine), dtype=np.bool_)
        made_of_strand[fabric.child[fabric.kinds(Kind.LIFTED, Kind.WRAP)[fabric.parent]]] = True
        together = mine & fabric.kinds(Kind.WORKED) & (parents > 1) & ~made_of_strand
        here = [cell.size for cell in fabric.gaps(4) if mine[list(cell.loops)].any()]

        def count(*kinds: Kind) -> int:
            return int((mine & fabric.kinds(*kinds)).sum())

        return HeelCounts(
            stitches=count(Kind.WORKED),
            courses=len(np.unique(fabric.course[mine & fabric.kinds(Kind.WORKED)])),
            decreases=int(together.sum()),
            increases=_keyed(fabric, mine, "m1l", "m1r"),
            grafted=count(Kind.GRAFTED) // 2,
            bound_off=count(Kind.BOUND_OFF),
            picked_up=_keyed(fabric, mine, "pu"),
            wraps=count(Kind.WRAP),
            gaps=sum(size > _GAP for size in here),
            largest_cell=max(here, default=4),
        )

    @cached_property
    def yarn(self) -> YarnNeed:
        """What one sock takes of all its yarns, waste yarn left out."""
        uses = [use for use in strand_uses(self.fabric) if use.role != "waste"]
        needs = yarn_need(uses, self.sock.gauge, self.sock.bands, stitches=self.sock.table)
        metres = sum((need.metres for need in needs[1:]), needs[0].metres)
        return YarnNeed("yarn", metres, _sum_grams(needs))

    @cached_property
    def rounds(self) -> int:
        """Rounds and rows of the whole sock."""
        fabric = self.fabric
        return len(np.unique(fabric.course[fabric.present & fabric.kinds(Kind.WORKED)]))


_CORNER_ROUNDS: Final = 2  # of a heel without a gusset: they close its corners
_GAP: Final = 6  # edges: what a mended corner or a wrapped turn has, see `Fabric.gaps`


def sample(sock: Sock, *, quick: bool = False) -> Sample:
    """Knit a sock and put it through the checks.

    Parameters
    ----------
    sock : Sock
    quick : bool
        Quick girths, up to 4 % long, for searches.

    Raises
    ------
    UnsoundFabricError
        The checks found a mistake.
    SizingError, KnitError
        The sock can't be made.
    """
    made = Sample(sock, quick)
    made.report.require_ok()
    return made


def _no_heel() -> ShapeError:
    return ShapeError("a sock without a heel", "a heel girth goes over the tip of a heel")


def taped(tube: Length, hands: Hands | None, line: TapeLine = TapeLine.ROUND) -> Length:
    """Return a length by the gauge, as the hands that knit it will make it."""
    if hands is None:
        return tube
    factor, sd = hands.factor(line)
    how = f"{tube.how}; corrected by {hands.pieces} measured"
    relative = math.hypot(tube.sd_mm / tube.mm, sd)
    return Length(factor * tube.mm, factor * tube.mm * relative, tube.origin, how)


def _length(line: SurfaceLine, how: str, hands: Hands | None) -> Length:
    if hands is None:
        return Length(line.length_mm, GIRTH_SD * line.length_mm, Origin.CALCULATED, how)
    factor, sd = hands.factor(TapeLine.OVER_THE_HEEL)
    mm = factor * line.length_mm
    said = f"{how}; corrected by {hands.pieces} measured"
    return Length(mm, sd * mm, Origin.CALCULATED, said)


def _keyed(fabric: Fabric, mine: NDArray[np.bool_], *keys: str) -> int:
    return int((mine & np.isin(fabric.stitch, fabric.stitches.codes(keys))).sum())


def _sum_grams(needs: tuple[YarnNeed, ...]) -> Range | None:
    known = [need.grams for need in needs if need.grams is not None]
    if len(known) < len(needs):
        return None
    return sum(known[1:], known[0])
