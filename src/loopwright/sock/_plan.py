"""The plan: a sock in stitches and rounds, and each finished measure against what
was asked.

The foot's length is shared out among heel, rounds and toe, the leg's height among heel, rounds and
cuff, so that the finished measures come out as asked. Whatever whole stitches and rounds changed is
said beside each.
"""

from __future__ import annotations

from html import escape

import attrs

from loopwright.gauge import Gauge
from loopwright.length import Length
from loopwright.shown import Shown
from loopwright.sock._panels import PanelFit
from loopwright.sock._sizing import Fitted, HeelShare
from loopwright.sock._toes import ToeNumbers
from loopwright.sock.heels import Heel, HeelNumbers, HeelOutline, Setting

__all__ = ["FinishedMeasure", "Plan"]


@attrs.frozen
class FinishedMeasure:
    """A finished measure of the sock, lying relaxed.

    Parameters
    ----------
    name : str
    asked_mm : float, mm
        What was asked, ease taken off; NaN where nothing was.
    finished : Length
        How long the stitches or courses are at the gauge.
    count : int
        Stitches or courses.
    note : str
        In which fabric it holds, where the piece is in another: "in stocking stitch, ...".

    Examples
    --------
    >>> around = FinishedMeasure("foot girth", 202.5, Length(200.0, 1.8), 64)
    >>> print(around)
    foot girth: 200 ± 2 mm, asked 202 mm
    >>> around.moved_mm, around.label
    (-2.5, 'foot girth')
    """

    name: str
    asked_mm: float
    finished: Length
    count: int
    note: str = ""

    @property
    def moved_mm(self) -> float:
        """How far rounding moved it, mm."""
        return self.finished.mm - self.asked_mm

    def __str__(self) -> str:
        asked = "" if self.asked_mm != self.asked_mm else f", asked {self.asked_mm:.0f} mm"
        note = f" ({self.note})" if self.note else ""
        return f"{self.name}: {self.finished.mm:.0f} ± {self.finished.sd_mm:.0f} mm{asked}{note}"

    @property
    def label(self) -> str:
        """Its name, and in which fabric it holds where that has to be said."""
        return f"{self.name} {self.note}".rstrip()


@attrs.frozen(kw_only=True, repr=False)
class Plan(Shown):
    """A sock in numbers.

    Parameters
    ----------
    stitches : Fitted
        Round the foot.
    share : HeelShare
    setting : Setting
        What the heel has to fit.
    construction : Heel
    heel : HeelNumbers
        The construction in that setting.
    toe : ToeNumbers
    cuff_rounds, leg_rounds, foot_rounds : int
        Rounds besides those of heel and toe.
    top : int, stitches
        Of the cuff.
    gauge : Gauge
    measures : tuple of FinishedMeasure
    panel : PanelFit, optional

    See Also
    --------
    loopwright.sock.Sock.plan : makes it.

    Examples
    --------
    >>> from loopwright.sock import Foot, Sock
    >>> foot = Foot.of(length="24.6 cm", ball_girth="22.5 cm")
    >>> plan = Sock(foot=foot, gauge=Gauge.of(32, 44), cuff="rolled").plan()
    >>> print(plan)
    64 stitches; heel 32, instep 32 stitches: 50.0 % (50.0 % asked); rounds: ...
    foot girth: 200 ± 2 mm, asked 202 mm
    cuff girth: 200 ± 2 mm, asked 202 mm
    foot length: 236 ± 2 mm, asked 236 mm
    leg height: 176 ± 1 mm, asked 177 mm
    cuff height: 16 ± 0 mm, asked 15 mm
    >>> plan.measure("foot girth").count
    64
    """

    stitches: Fitted
    share: HeelShare
    setting: Setting
    construction: Heel
    heel: HeelNumbers
    toe: ToeNumbers
    cuff_rounds: int
    leg_rounds: int
    foot_rounds: int
    top: int
    gauge: Gauge
    measures: tuple[FinishedMeasure, ...]
    panel: PanelFit | None = None

    def measure(self, name: str) -> FinishedMeasure:
        """Return a measure by its name; `KeyError` lists those there are."""
        for measure in self.measures:
            if measure.name == name:
                return measure
        raise KeyError(
            f"no measure {name!r}; there are: {', '.join(m.name for m in self.measures)}"
        )

    @property
    def outline(self) -> HeelOutline | None:
        """The heel lying flat, for schematics; None where the construction draws none.

        Examples
        --------
        >>> from loopwright import Foot, Gauge, Sock
        >>> plan = Sock(foot=Foot.of(length="24 cm"), gauge=Gauge.of(32, 44)).plan()
        >>> [measure.words for measure in plan.outline.measures]
        ['heel, width at its opening', 'heel, depth', 'heel, width where it is closed']
        """
        return self.construction.outline(self.setting)

    def __str__(self) -> str:
        counts = (
            f"{self.stitches.count} stitches; {self.share}; rounds: cuff {self.cuff_rounds}, "
            f"leg {self.leg_rounds}, foot {self.foot_rounds}"
        )
        panel = [] if self.panel is None else [f"panel: {self.panel}"]
        return "\n".join([counts, *panel, *map(str, self.measures)])

    def _repr_html_(self) -> str:
        rows = "".join(
            f"<tr><th>{escape(measure.label)}</th><td>{measure.asked_mm:.0f}</td>"
            f"<td>{measure.finished.mm:.0f} ± {measure.finished.sd_mm:.0f}</td>"
            f"<td>{measure.moved_mm:+z.1f}</td></tr>"
            for measure in self.measures
        )
        head = "<tr><th></th><th>asked mm</th><th>finished mm</th><th>moved mm</th></tr>"
        return f"<table><caption>{escape(str(self.share))}</caption>{head}{rows}</table>"
