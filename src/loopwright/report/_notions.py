"""What is needed beside yarn and needles, as it follows from the steps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.gauge import Gauge
from loopwright.pattern import (
    Arrange,
    BeginHere,
    CutYarn,
    DrawUp,
    Graft,
    Hold,
    Join,
    Mark,
    PickUp,
    ProvisionalCastOn,
    Run,
    Step,
    WasteRow,
    WeaveIn,
    items_of,
    steps_in,
)
from loopwright.pattern.items import Item, items_in
from loopwright.pattern.panels import PanelRounds
from loopwright.pattern.values import values_of

__all__ = ["notions"]

_TIMES = 3.0  # widths of yarn for a row of stitches; a row of loops itself takes about 4 (Munden)
_ENDS_CM = 30.0  # two ends to hold and tie, common practice
_ROUNDED_CM = 10


def notions(
    steps: Sequence[Step], gauge: Gauge | None, stitches: StitchTable = STITCHES
) -> tuple[str, ...]:
    """Return the notions that a pattern's steps ask for, in the order of a list.

    Parameters
    ----------
    steps : sequence of Step
    gauge : Gauge, optional
        Waste yarn is as long as the stitches that it carries are wide, and then some.
    stitches : StitchTable
        With stitches of your own, where the steps use any.

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> heel = read("CO 16 sts. Join in the round. Place next 8 sts on waste yarn as instep. "
    ...             "Return to needle the sts held as instep. Weave in all ends.")
    >>> notions(heel.steps, Gauge(3.2, 4.4))
    ('tapestry needle', 'smooth waste yarn, 40 cm', 'stitch marker for the beginning of the round',
     'scissors', 'tape measure')
    """
    return tuple(_notions([*steps_in(steps)], gauge, stitches))


def _notions(steps: Sequence[Step], gauge: Gauge | None, stitches: StitchTable) -> Iterator[str]:
    kinds = {type(step) for step in steps}
    if kinds & {Graft, DrawUp, WeaveIn}:
        yield "tapestry needle"
    lengths = [*_carried(steps)]
    if lengths:
        told = "smooth waste yarn"
        if gauge is not None:
            width_cm = max(lengths) / gauge.stitches_per_cm
            pieces = f"{len(lengths)} pieces of " if len(lengths) > 1 else ""
            told += f", {pieces}{_round_up(_TIMES * width_cm + _ENDS_CM)} cm"
        yield told
    if any(isinstance(step, Hold) and step.on != "waste yarn" for step in steps):
        yield "stitch holder"
    if kinds & {Join, BeginHere}:
        yield "stitch marker for the beginning of the round"
    if any(_on_cable_needle(item, stitches) for item in _items(steps)):
        yield "cable needle"
    if any(isinstance(item, Mark) for item in items_of(steps)):
        yield "further stitch markers"
    if any(isinstance(item, PickUp) for item in items_of(steps)) and Arrange not in kinds:
        yield "spare needle"
    if kinds & {WasteRow, ProvisionalCastOn, Graft, WeaveIn, CutYarn, Hold}:
        yield "scissors"
    yield "tape measure"


def _items(steps: Sequence[Step]) -> Iterator[Item]:
    yield from items_of(steps)
    for step in steps:
        if isinstance(step, PanelRounds):
            yield from (item for items in step.rounds for item in items_in(items))


def _on_cable_needle(item: Item, stitches: StitchTable) -> bool:
    if not isinstance(item, Run) or item.stitch not in stitches:
        return False
    return "cable needle" in stitches[item.stitch].name


def _carried(steps: Iterable[Step]) -> Iterator[int]:
    """Yield how many stitches each piece of waste yarn carries, in the widest size."""
    for step in steps:
        on_waste = isinstance(step, Hold) and step.on == "waste yarn"
        if isinstance(step, ProvisionalCastOn | WasteRow | Hold) and (
            on_waste or not isinstance(step, Hold)
        ):
            yield int(max(values_of(step.stitches)))


def _round_up(cm: float) -> int:
    return int(-(-cm // _ROUNDED_CM) * _ROUNDED_CM)
