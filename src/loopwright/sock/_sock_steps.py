"""The steps of a sock from its plan: its parts in the order in which they are worked."""

from __future__ import annotations

import attrs

from loopwright.pattern import SockPart
from loopwright.pattern.items import k_to
from loopwright.pattern.steps import Join, Note, Round, Section, Step
from loopwright.sock._all_round import AllRound, with_all_round
from loopwright.sock._cuffs import Cuff
from loopwright.sock._legs import Leg, LegSetting
from loopwright.sock._plan import Plan
from loopwright.sock._toes import Toe
from loopwright.sock._told import foot_adds
from loopwright.sock._yarns import SockYarns
from loopwright.sock.needles import Layout
from loopwright.sock.rounds import move_beginning, plain, repeated

__all__ = ["SockSteps"]


@attrs.frozen(kw_only=True)
class SockSteps:
    """A plan, and what writes the steps of its parts; they come with all yarns but no
    finishing.
    """

    plan: Plan
    toe: Toe
    cuff: Cuff
    leg: Leg
    leg_setting: LegSetting
    all_round: tuple[AllRound, ...]
    yarns: SockYarns

    def in_order(self) -> list[Step]:
        """Return the steps of all parts, from where the sock is begun."""
        return self._toe_up() if self.plan.setting.is_toe_up else self._cuff_down()

    def _cuff_down(self) -> list[Step]:
        plan, setting, heel = self.plan, self.plan.setting, self.plan.construction
        return [
            Section("Cuff", part=SockPart.CUFF),
            *self.yarns.first(SockPart.CUFF),
            *self._on_needles(self.cuff.first_steps(plan.top, plan.cuff_rounds)),
            Section("Leg", part=SockPart.LEG),
            *self.yarns.between(SockPart.CUFF, SockPart.LEG),
            *(self._panelled(plan.leg_rounds, first=True) or self._leg_steps()),
            Section("Heel", part=SockPart.HEEL),
            *heel.steps(setting),
            Section("Foot", part=SockPart.FOOT),
            *foot_adds(plan, self.all_round),
            *(self._panelled(plan.foot_rounds) or self._patterned(SockPart.FOOT)),
            Section("Toe", part=SockPart.TOE),
            *self.yarns.between(SockPart.FOOT, SockPart.TOE),
            *self._closed_toe(),
            *heel.later_steps(setting),
        ]

    def _on_needles(self, steps: list[Step]) -> list[Step]:
        """Return the steps with the stitches shared out before they are joined, on needles that
        are double-pointed.
        """
        plan, setting = self.plan, self.plan.setting
        back = setting.heel + plan.top - setting.stitches
        layout = setting.layout(first=plan.construction.begins, heel=back)
        if not layout.is_numbered:
            return steps
        at = next((at for at, step in enumerate(steps) if isinstance(step, Join)), None)
        return steps if at is None else [*steps[:at], layout.arrange(), *steps[at:]]

    def _leg_steps(self) -> list[Step]:
        if any(one.part is SockPart.LEG for one in self.all_round):
            return self._patterned(SockPart.LEG)
        return self.leg.steps(self.leg_setting)

    def _patterned(self, part: SockPart) -> list[Step]:
        plan = self.plan
        rounds = plan.leg_rounds if part is SockPart.LEG else plan.foot_rounds
        own = self.yarns.of(part)
        return with_all_round(self.all_round, part, rounds, plan.setting.stitches, own)

    def _panelled(self, rounds: int, *, first: bool = False) -> list[Step]:
        """Return the rounds of a leg or a foot with the panel; none where there is no panel."""
        panel, setting = self.plan.panel, self.plan.setting
        if panel is None:
            return []
        if panel.leg is not None and first is not setting.is_toe_up:
            those = panel.on_leg(rounds, setting.stitches, down=first)
            told = Note(f"The panel: {panel.said}.", numbers=panel.numbers)
            return [*those, told, panel.told()] if first else those
        begins = setting.heel if first and self.plan.construction.begins == "heel" else 0
        once = Round((*panel.items(before=-begins)[:2], k_to()))
        count = None if panel.pattern.changes_count else setting.stitches
        if first:
            told = Note(f"The panel: {panel.said}.", numbers=panel.numbers)
            start = plain(panel.start, count=setting.stitches)
            return [
                *start,
                told,
                panel.told(),
                *repeated((once,), rounds - panel.start, count=count),
            ]
        over = rounds - panel.rounds
        return [*repeated((once,), panel.rounds), *plain(over, count=setting.stitches)]

    def _closed_toe(self) -> list[Step]:
        setting, half = self.plan.setting, self.plan.setting.stitches // 2
        # The toe's halves are equal: where the heel has more, they begin within the sole.
        return [
            *move_beginning(-((half - setting.instep) // 2)),
            *self.toe.steps(Layout((("instep", half), ("sole", half)), setting.needles)),
        ]

    def _toe_up(self) -> list[Step]:
        plan, setting, heel = self.plan, self.plan.setting, self.plan.construction
        half, first = setting.stitches // 2, heel.begins
        halves = (("instep", half), ("sole", half))
        layout = Layout(halves if first == "instep" else halves[::-1], setting.needles)
        spare = (setting.heel - half) // 2
        return [
            Section("Toe", part=SockPart.TOE),
            *self.yarns.first(SockPart.TOE),
            *self.toe.first_steps(layout),
            Section("Foot", part=SockPart.FOOT),
            *self.yarns.between(SockPart.TOE, SockPart.FOOT),
            *move_beginning(spare if first == "instep" else -spare),
            *foot_adds(plan, self.all_round),
            *(self._panelled(plan.foot_rounds, first=True) or self._patterned(SockPart.FOOT)),
            Section("Heel", part=SockPart.HEEL),
            *heel.steps(setting),
            Section("Leg", part=SockPart.LEG),
            *(self._panelled(plan.leg_rounds) or self._leg_steps()),
            Section("Cuff", part=SockPart.CUFF),
            *self.yarns.between(SockPart.LEG, SockPart.CUFF),
            *self.cuff.last_steps(plan.top, plan.cuff_rounds),
            *heel.later_steps(setting),
        ]
