"""The sock: a foot, a gauge and choices; from them a plan, a pattern and the fabric itself."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from functools import cached_property

import attrs

from loopwright.cloth import Cloth
from loopwright.errors import SizingError
from loopwright.fabric.checks import Limits, Report, check
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import StitchTable
from loopwright.gauge import Gauge
from loopwright.length import Length
from loopwright.pattern import SockPart, knit
from loopwright.pattern.program import Pattern
from loopwright.pattern.steps import Note, Section, Step, WeaveIn
from loopwright.shown import Shown
from loopwright.sock._all_round import (
    AllRound,
    as_high,
    as_patterns,
    heights,
    require_room,
    stitches_of,
)
from loopwright.sock._at_rest import AtRest, at_rest, beside
from loopwright.sock._cuffs import TIGHT_BAND, Cuff, cuff_named
from loopwright.sock._hands import Hands
from loopwright.sock._in_hand import told_of_yarns
from loopwright.sock._legs import Leg, LegSetting, RibbedLeg, leg_named
from loopwright.sock._panel_told import told_of_panel
from loopwright.sock._panels import Panel, PanelFit
from loopwright.sock._plan import FinishedMeasure, Plan
from loopwright.sock._sizing import (
    Fitted,
    HeelShare,
    Multiple,
    common_multiple,
    fit_stitches,
    heel_share,
    rounds_between,
    rounds_up,
)
from loopwright.sock._sock_pieces import (
    as_cuff,
    as_heel,
    as_leg,
    as_toe,
    gauge_line,
    height,
    named,
    require_numbers,
    rounds_left,
    uncounted,
)
from loopwright.sock._sock_steps import SockSteps
from loopwright.sock._toes import Toe, toe_named
from loopwright.sock._told import heel_and_instep, told_along
from loopwright.sock._yarns import SockStripes, SockYarn, SockYarns, as_yarns
from loopwright.sock.foot import Foot
from loopwright.sock.heels import Direction, Heel, HeelNumbers, Setting, heel_named
from loopwright.sock.needles import Needles
from loopwright.sock.rounds import without_nothing
from loopwright.yarn import Yarn

__all__ = ["Sock"]

PAIR = Note("Work a second sock the same: left and right are alike.")


@attrs.frozen(kw_only=True, repr=False)
class Sock(Shown):
    """A sock for a foot.

    Parameters
    ----------
    foot : Foot
    gauge : Gauge
    heel, toe, cuff, leg : construction or str
        By name where the usual one will do: see `heel_names`, `toe_names`, `cuff_names` and
        `leg_names`.
    direction : Direction or str
        ``"cuff down"`` or ``"toe up"``.
    needles : Needles or str
    yarn : Yarn, optional
    yarns : tuple of SockYarn
        Several yarns with names, instead, and which parts are in which.
    stripes : SockStripes, optional
    panel : Panel, optional
        A stitch pattern on the front of the leg and the instep.
    all_round : tuple of AllRound
        Stitch patterns all round leg or foot: bands of colours, texture, lace.
    ease : float
        The sock's girth less the foot's, as a fraction of the foot's.
    length_ease_mm : float, mm
        The sock's length less the foot's.
    share : float
        Of the round that the heel is worked on; 0.6 where it is tight over a high instep.
    rib_gauge : Gauge, optional
        Of the cuff's rib, relaxed, for the cuff's girth and height and for a ribbed leg's rounds.
        Rib draws in: without it their measures are those of stocking stitch, and said to be.
    slip_gauge : Gauge, optional
        Of slip stitch, as of a heel flap, relaxed; else estimated: see `loopwright.cloth`.
    stitches : int, optional
        Round the foot, instead of what girth and gauge ask for.
    hands : Hands, optional
        How the socks of the hands that will knit it differ from the model; counts stay as they are,
        girths and chances take it in.
    title : str

    Raises
    ------
    SizingError
        A number beyond any sock's; from methods, choices that can't be met on this foot.

    Examples
    --------
    >>> foot = Foot.of(length="24.6 cm", ball_girth="22.5 cm")
    >>> sock = Sock(foot=foot, gauge=Gauge.of(32, 44), heel="forethought")
    >>> print(plan := sock.plan())
    64 stitches; heel 32, instep 32 stitches: 50.0 % (50.0 % asked); rounds: ...
    >>> sock.materials(plan)[0]
    'Needles: one long circular'
    >>> [step.title for step in sock.steps(plan) if isinstance(step, Section)]
    ['Cuff', 'Leg', 'Heel', 'Foot', 'Toe', 'Finishing']
    >>> sock.measured_cloths == {}, sock.check().ok  # no swatch but of stocking stitch
    (True, True)
    """

    foot: Foot
    gauge: Gauge
    heel: Heel = attrs.field(factory=lambda: heel_named("forethought"), converter=as_heel)
    toe: Toe = attrs.field(factory=lambda: toe_named("wedge"), converter=as_toe)
    cuff: Cuff = attrs.field(factory=lambda: cuff_named("2x2 rib"), converter=as_cuff)
    leg: Leg = attrs.field(factory=lambda: leg_named("plain"), converter=as_leg)
    direction: Direction = attrs.field(default=Direction.CUFF_DOWN, converter=Direction)
    needles: Needles = attrs.field(default=Needles.LONG_CIRCULAR, converter=Needles)
    yarn: Yarn | None = None
    yarns: tuple[SockYarn, ...] = attrs.field(default=(), converter=as_yarns)
    stripes: SockStripes | None = None
    panel: Panel | None = None
    all_round: tuple[AllRound, ...] = attrs.field(default=(), converter=as_patterns)
    ease: float = -0.10
    length_ease_mm: float = -10.0
    share: float = 0.5
    rib_gauge: Gauge | None = None
    slip_gauge: Gauge | None = None
    stitches: int | None = None
    hands: Hands | None = None
    title: str = "Sock"

    def __attrs_post_init__(self) -> None:
        require_numbers(self, foot=self.foot, heel=self.heel, toe=self.toe, cuff=self.cuff)
        self._yarns.require()
        require_room(self.all_round, self.leg.name, self._yarns, has_panel=self.panel is not None)

    def __str__(self) -> str:
        parts = f"{self.heel.name} heel, {self.toe.name} toe, {self.cuff.name}, {self.leg.name} leg"
        foot = f"foot {self.foot.length.mm:.0f} mm long and {self.foot.ball_girth.mm:.0f} mm round"
        return f"{self.direction.value}: {parts}; {foot}; ease {100 * self.ease:+z.0f} %"

    def plan(self) -> Plan:
        """Return the sock in stitches, rounds and finished measures; worked out once."""
        return self._plan

    @cached_property
    def _plan(self) -> Plan:
        around = self._around()
        share = heel_share(around.count, self.share)
        setting = self._setting(share)
        heel, toe = self.heel.numbers(setting), self.toe.numbers(around.count)
        course = self.gauge.course_height_mm
        along, up = (self._rounds_gauge(part, share) for part in (SockPart.FOOT, SockPart.LEG))
        foot = rounds_between(
            self.foot.length.mm, along, ease_mm=self.length_ease_mm,
            heel_mm=heel.foot_courses * course, toe_mm=toe.courses * course,
        )  # fmt: skip
        cuff = self.cuff.rounds(self._rib.course_height_mm)
        others_mm = heel.leg_courses * course + cuff * self._rib.course_height_mm
        leg = rounds_up(self.foot.leg_height.mm, others_mm, up)
        foot_left = rounds_left("foot", foot, heel.foot_rounds, "a shorter heel or toe")
        leg_left = rounds_left("leg", leg, heel.leg_rounds, "a smaller gusset")
        plain_foot = as_high(self.all_round, SockPart.FOOT, foot_left, along)
        plain_leg = as_high(self.all_round, SockPart.LEG, leg_left, up)
        top = self.leg.top(self._leg_setting(share, plain_leg))
        return Plan(
            stitches=around,
            share=share,
            setting=setting,
            panel=self._panel_rounds(setting, heel, plain_leg, plain_foot),
            construction=self.heel,
            heel=heel,
            toe=toe,
            cuff_rounds=cuff,
            leg_rounds=plain_leg,
            foot_rounds=plain_foot,
            top=top,
            gauge=self.gauge,
            measures=(
                *self._girths(around, top),
                *self._lengths(
                    [(self.gauge, heel.foot_courses + toe.courses), (along, heel.foot_rounds),
                     *heights(self.all_round, SockPart.FOOT, plain_foot, along)],
                    [(self.gauge, heel.leg_courses), (up, heel.leg_rounds),
                     *heights(self.all_round, SockPart.LEG, plain_leg, up),
                     (self._rib, cuff)],
                ),
            ),
        )  # fmt: skip

    def measures(self) -> tuple[FinishedMeasure, ...]:
        """Return each finished measure, mm, what was asked, and how far rounding moved it."""
        return self.plan().measures

    def pattern(self) -> Pattern:
        """Return the instructions."""
        plan = self.plan()
        return Pattern(
            self.title,
            without_nothing(self.steps(plan)),
            gauge=gauge_line(self.gauge),
            materials=self.materials(plan),
        )

    def materials(self, plan: Plan) -> tuple[str, ...]:
        """Return the lines at the pattern's head: yarn, needles, finished measures."""
        yarn = (f"Yarn: {self.yarn.name}",) if self.yarn is not None and self.yarn.name else ()
        if self.yarns:
            yarn = (f"Yarn: {'; '.join(map(named, self.yarns))}",)
        finished = "; ".join(
            f"{m.name} {m.finished.mm / 10:.1f} cm {m.note}".rstrip() for m in plan.measures
        )
        return (*yarn, f"Needles: {self.needles.value}", f"Finished measurements: {finished}")

    @property
    def table(self) -> StitchTable:
        """The stitch table, with the stitches of one's own that its patterns have."""
        own = () if self.panel is None else (self.panel.pattern,)
        return stitches_of(*own, *(one.pattern for one in self.all_round))

    @property
    def bands(self) -> Yarn | dict[str, Yarn]:
        """What is known of its yarns: of its one yarn, or of each by name.

        Examples
        --------
        >>> from loopwright.sock import SockYarn
        >>> band = Yarn.of("harbour wool", "420 m / 100 g")
        >>> yarns = (SockYarn(name="A", yarn=band), SockYarn(name="B", parts=["toe"]))
        >>> sock = Sock(foot=Foot.of(length="24 cm"), gauge=Gauge.of(32, 44), yarns=yarns)
        >>> {name: yarn.name for name, yarn in sock.bands.items()}
        {'A': 'A, harbour wool'}
        """
        if not self.yarns:
            return {} if self.yarn is None else self.yarn
        return {
            one.name: attrs.evolve(one.yarn, name=named(one))
            for one in self.yarns
            if one.yarn is not None
        }

    @property
    def colours(self) -> dict[str, str]:
        """The colours of its yarns by name, for pictures, as far as they have one."""
        return {one.name: one.colour for one in self.yarns if one.colour}

    def fabric(self) -> Fabric:
        """Return the sock's fabric, knitted from its pattern."""
        return knit(self.pattern(), stitches=self.table)

    def check(self, fabric: Fabric | None = None) -> Report:
        """Return what the checks find in the sock as a finished one.

        One opening, and nothing left on needles, holders or waste yarn.

        Parameters
        ----------
        fabric : Fabric, optional
            The sock, where it is knitted already.
        """
        limits = Limits(
            openings=1,
            stitch_mm=self.gauge.stitch_width_mm,
            course_mm=self.gauge.course_height_mm,
            finished=True,
        )
        return check(self.fabric() if fabric is None else fabric, limits=limits)

    def steps(self, plan: Plan | None = None) -> list[Step]:
        """Return the steps of the pattern, repeats that are worked once or never among them."""
        plan = self.plan() if plan is None else plan
        last = SockPart.CUFF if plan.setting.is_toe_up else SockPart.TOE
        parts = told_of_yarns([*self._in_order(plan), *self._yarns.last(last)])
        parts = self._told(told_of_panel(parts))
        if plan.panel is not None and plan.panel.pattern.changes_count:
            parts = uncounted(parts)
        return [*parts, Section("Finishing", part=SockPart.FINISHING), WeaveIn(), PAIR, TIGHT_BAND]

    def _in_order(self, plan: Plan) -> list[Step]:
        return SockSteps(
            plan=plan,
            toe=self.toe,
            cuff=self.cuff,
            leg=self.leg,
            leg_setting=self._leg_setting(plan.share, plan.leg_rounds),
            all_round=self.all_round,
            yarns=self._yarns,
        ).in_order()

    def _told(self, steps: list[Step]) -> list[Step]:
        """Return the steps with what a knitter asks along the way."""
        halves = heel_and_instep(up=self.direction is Direction.TOE_UP)
        return told_along(steps, self.gauge, halves if self.heel.begins == "heel" else halves[::-1])

    # Numbers

    @property
    def multiple(self) -> Multiple:
        """The counts that suit heel, cuff and leg together.

        Examples
        --------
        >>> print(Sock(foot=Foot.of(length="24.6 cm"), gauge=Gauge.of(32, 44)).multiple)
        a multiple of 4
        """
        patterns = [one.pattern.multiple for one in self.all_round]
        if self.panel is not None and self.panel.round_leg:
            patterns.append(self.panel.pattern.multiple)
        return common_multiple([4, self.cuff.multiple, self.leg.multiple(self.cuff), *patterns])

    @property
    def panel_rest(self) -> AtRest | None:
        """What the panel's pattern does to the width at rest; None without a panel.

        Examples
        --------
        >>> from loopwright.sock import Panel, StitchPattern
        >>> panel = Panel(pattern=StitchPattern.of(["*k2, p2; rep from *"]))
        >>> sock = Sock(foot=Foot.of(length="24 cm"), gauge=Gauge.of(32, 44), panel=panel)
        >>> sock.panel_rest.how
        "a model's estimate, good to 25 %; measure it for a better one"
        >>> print(sock.plan().measure("foot girth"))
        foot girth: 204 ± 9 mm, asked 203 mm (at rest, the panel by a model's estimate, ...)
        """
        if self.panel is None:
            return None
        return at_rest(self.panel.pattern, self.gauge, self.panel.gauge)

    def panel_draws_in(self, stitches: int) -> Length:
        """Return how much narrower the panel is than plain knitting, in a round of `stitches`."""
        rest = self.panel_rest
        fitted = None if rest is None else self._panel_on(heel_share(stitches, self.share))
        if rest is None or fitted is None:
            return Length(0.0, 0.0)
        wide = self.gauge.width(fitted.width)
        return Length(wide.mm * (1 - rest.width), wide.mm * rest.width * rest.width_sd)

    def _with_panel(self, around: Fitted) -> Fitted:
        """Return the stitches that come nearest to what was asked, the panel as wide as it is."""
        asked_mm, multiple = around.asked_mm, self.multiple
        found: dict[int, float] = {}
        count = around.count
        for _ in range(_TRIES if self.stitches is None else 1):
            found[count] = self.gauge.width(count).mm - self.panel_draws_in(count).mm
            if self.stitches is None:
                room_mm = asked_mm + self.panel_draws_in(count).mm
                count = fit_stitches(room_mm, self.gauge, ease=0.0, multiple=multiple).count
        best = min(found, key=lambda one: (abs(found[one] - asked_mm), one))
        drawn, tube = self.panel_draws_in(best), self.gauge.width(best)
        finished = Length(found[best], math.hypot(tube.sd_mm, drawn.sd_mm))
        return attrs.evolve(around, count=best, finished=finished)

    def _around(self) -> Fitted:
        plain = self._plain_around()
        rest = self.panel_rest
        return plain if rest is None or not rest.is_known else self._with_panel(plain)

    def _plain_around(self) -> Fitted:
        multiple = self.multiple
        girth = self.foot.ball_girth.mm
        if self.stitches is None:
            return fit_stitches(girth, self.gauge, ease=self.ease, multiple=multiple)
        if not multiple.suits(self.stitches):
            expected = f"cuff, leg and heel ask for {multiple}"
            raise SizingError("stitches", str(self.stitches), expected)
        asked_mm = girth * (1 + self.ease)
        asked = asked_mm / self.gauge.stitch_width_mm
        finished = self.gauge.width(self.stitches)
        return Fitted(self.stitches, asked, "stitch", asked_mm, finished)

    def _panel_on(self, share: HeelShare) -> PanelFit | None:
        if self.panel is None:
            return None
        begins_with_heel = self.heel.begins == "heel" and self.direction is Direction.CUFF_DOWN
        lead = share.heel if begins_with_heel else 0
        return self.panel.fitted(share.instep, lead=lead, cuff=self.cuff.multiple)

    def _panel_rounds(
        self, setting: Setting, heel: HeelNumbers, leg: int, foot: int
    ) -> PanelFit | None:
        """Return the panel with its rounds: whole where the heel begins and where it ends."""
        fitted, panel = setting.panel, self.panel
        if fitted is None or panel is None:
            return None
        if self.leg.name != "plain":
            raise SizingError("panel", f"a {self.leg.name} leg", "expected a plain one beside it")
        ours = 0 if panel.round_leg else leg
        first, then = (
            (foot - panel.plain, ours) if setting.is_toe_up else (ours, foot - panel.plain)
        )
        before, after = heel.leg_rounds, heel.foot_rounds
        if setting.is_toe_up:
            before, after = after, before
        found = fitted.placed(first, before, after, then)
        return attrs.evolve(found, start=found.start + panel.plain) if setting.is_toe_up else found

    @property
    def _yarns(self) -> SockYarns:
        return SockYarns(self.yarns, self.stripes)

    def _setting(self, share: HeelShare) -> Setting:
        parts = (SockPart.LEG, SockPart.FOOT)
        if self.direction is Direction.TOE_UP:
            parts = parts[::-1]
        return Setting(
            share.heel,
            share.instep,
            self.direction,
            self.needles,
            self.gauge.stitch_width_mm,
            self.gauge.course_height_mm,
            self.foot.ankle_height.mm,
            self._yarns.heel(*parts, in_rows=self.heel.in_rows),
            self._panel_on(share),
            self.measured_cloths[Cloth.SLIPPED].course_height_mm if self.slip_gauge else None,
        )

    @property
    def measured_cloths(self) -> Mapping[Cloth, Gauge]:
        """The gauges of its cloths besides stocking stitch, as far as they were measured."""
        rest = self.panel_rest
        panel = (rest.cloth, self.panel.gauge) if rest and self.panel else (None, None)
        found = dict([(Cloth.SLIPPED, self.slip_gauge), panel])
        return {cloth: gauge for cloth, gauge in found.items() if cloth and gauge}

    @property
    def _rib(self) -> Gauge:
        return self.gauge if self.rib_gauge is None else self.rib_gauge

    def _rounds_gauge(self, part: SockPart, share: HeelShare) -> Gauge:
        """Return how high the rounds of leg or foot are, with a panel on their front."""
        if part is SockPart.LEG and isinstance(self.leg, RibbedLeg):
            return self._rib
        rest, fitted = self.panel_rest, self._panel_on(share)
        if rest is None or fitted is None or not rest.is_known:
            return self.gauge
        around = share.heel + share.instep
        all_round = part is SockPart.LEG and fitted.leg is not None
        return beside(self.gauge, rest, 1.0 if all_round else fitted.width / around)

    @property
    def _panel_note(self) -> str:
        rest = self.panel_rest
        if rest is None or rest.how == "as stocking stitch":
            return ""
        if not rest.is_known:
            return "reckoned in stocking stitch: a swatch of the panel will tell"
        return f"at rest, the panel {rest.how if rest.how[0] == 'b' else f'by {rest.how}'}"

    def _girths(self, around: Fitted, top: int) -> tuple[FinishedMeasure, ...]:
        # A leg that isn't shaped asks for nothing but the foot's stitches.
        asked_top = around.asked_mm if top == around.count else self._top_girth_mm
        note = _DRAWS_IN if self.rib_gauge is None and self.cuff.is_rib else ""
        return (
            FinishedMeasure(
                "foot girth", around.asked_mm, around.finished, around.count, self._panel_note
            ),
            FinishedMeasure("cuff girth", asked_top, self._rib.width(top), top, note),
        )

    def _lengths(
        self, foot: list[tuple[Gauge, float]], up: list[tuple[Gauge, float]]
    ) -> Iterator[FinishedMeasure]:
        """Yield lengths from courses: all of the foot; those up the back, the cuff's last."""
        for name, asked_mm, parts in (
            ("foot length", self.foot.length.mm + self.length_ease_mm, foot),
            ("leg height", self.foot.leg_height.mm, up),
            ("cuff height", self.cuff.height_mm, up[-1:]),
        ):
            count = round(sum(courses for _, courses in parts))
            note = self._panel_note if name != "cuff height" else ""
            yield FinishedMeasure(name, asked_mm, height(parts), count, note)

    @property
    def _top_girth_mm(self) -> float:
        return self.foot.leg_girth.mm * (1 + self.ease)

    def _leg_setting(self, share: HeelShare, rounds: int) -> LegSetting:
        before = 0 if self.heel.begins == "heel" and self.direction is Direction.CUFF_DOWN else (
            share.instep
        )  # fmt: skip
        return LegSetting(
            stitches=share.heel + share.instep,
            rounds=rounds,
            back=before + share.heel // 2,
            girth_mm=self._top_girth_mm,
            gauge=self.gauge,
            cuff=self.cuff,
            is_toe_up=self.direction is Direction.TOE_UP,
        )


_TRIES = 6  # at a number of stitches that suits the panel: it is as wide as the number lets it
# Common practice: how far a rib draws in depends on the knitter and the yarn.
_DRAWS_IN = "in stocking stitch, less where rib draws in"
