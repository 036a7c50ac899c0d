"""The forethought heel: worked at once, in the round, while the instep waits on waste yarn.

The heel's stitches stay on the needle and as many new ones are cast on over waste yarn behind the
instep. The round that comes of it is shaped and closed like a toe. Then the new stitches' strands
are put back on the needle and the round goes on. Common practice: 24 held and 24 new make 48.

Nothing in it knows which way the sock is knitted: cuff down and toe up are the same steps.
"""

from __future__ import annotations

from typing import ClassVar

import attrs

from loopwright.pattern.steps import (
    BeginHere,
    Hold,
    ProvisionalCastOn,
    Recapture,
    ReturnHeld,
    Step,
)
from loopwright.sock.heels._gusset import MiniGusset
from loopwright.sock.heels._heel import DRAWN_OUT, Corners, Setting, corner_round, corner_tail, heel
from loopwright.sock.heels._pocket import Pocket, RoundHeelNumbers, pocket, pocket_numbers
from loopwright.sock.heels._told import instep_back, new_stitches, strands_taken, worked_round
from loopwright.sock.needles import Layout

__all__ = ["Forethought"]


@heel
@attrs.frozen(kw_only=True)
class Forethought(Pocket):
    """A heel in the round, over waste yarn, at once.

    Parameters
    ----------
    wedge : Wedge
        Its shaping, stopping point and closing.
    plain_rounds : int
        Before the shaping; more of them loosen the heel over a high instep.
    gusset : int
        Stitches increased at each side before the heel, and taken away after it.
    corners : Corners

    Raises
    ------
    SizingError
        From its methods: more stitches are to be left than there are, or a gusset below 0.

    Examples
    --------
    24 stitches wait for the instep and 24 new ones make 48, decreased to 16:

    >>> from loopwright.pattern import in_words
    >>> heel, setting = Forethought(), Setting(heel=24, instep=24)
    >>> numbers = heel.numbers(setting)
    >>> 2 * numbers.half, numbers.wedge.left
    (48, 16)
    >>> for step in (heel.steps(setting)[1], heel.steps(setting)[3]):
    ...     print(in_words(step))
    Place next 24 sts on waste yarn as instep.
    Provisionally cast on 24 sts over waste yarn. (48 sts)
    >>> heel.later_steps(setting)
    []
    """

    name: ClassVar[str] = "forethought"
    begins: ClassVar[str] = "instep"

    def numbers(self, setting: Setting) -> RoundHeelNumbers:
        """Return the heel in stitches and rounds."""
        return pocket_numbers(
            setting, self.wedge, self.plain_rounds, self.gusset,
            rounds_more=int(self.corners is not Corners.LEFT),
        )  # fmt: skip

    def steps(self, setting: Setting) -> list[Step]:
        """Return the steps; the same in both directions."""
        numbers, gusset = self.numbers(setting), MiniGusset(self.gusset)
        half, instep, yarn = numbers.half, setting.instep, setting.yarn
        foot = setting.beyond(heel=half)
        corner = "last" if setting.yarn.changes else "first"
        heel_round = Layout((("heel", half), ("new", half)), setting.needles)
        return [
            *gusset.increases(setting, first="instep"),
            *worked_round(half, instep),
            Hold(instep, "instep", "waste yarn"),
            *setting.yarn.before(),
            *new_stitches(),
            ProvisionalCastOn(half, count=2 * half),
            BeginHere(),
            *heel_round.arranged(),
            *pocket(numbers, self.wedge, heel_round),
            *instep_back(waits=yarn.waits, by_turn=yarn.is_by_turn),
            *([] if yarn.waits or yarn.is_by_turn else corner_tail(self.corners)),
            *setting.yarn.joined(),
            ReturnHeld("instep"),
            *strands_taken(half, corner),
            DRAWN_OUT,
            Recapture(corner=corner, count=half + instep),
            *foot.arranged(),
            *self._closed(foot, setting),
            *gusset.decreases(setting),
        ]

    def _closed(self, foot: Layout, setting: Setting) -> list[Step]:
        """Return the round that closes the corners.

        Where the heel is in a yarn of its own, only its strand runs there, at the corner before the
        instep. Taken at both ends of the round it leaves no hole.
        """
        if not setting.yarn.changes:
            return corner_round(foot, self.corners, joined=not setting.yarn.waits)
        closed = self.corners is Corners.CLOSED
        return corner_round(foot, Corners.BOTH_ENDS if closed else self.corners, (True, False))
