"""The afterthought heel: waste yarn knitted in where it is to be, opened when the rest is done.

It is the forethought heel at another time: the same stitches on the needle, the same rounds, the
same closing. The tube goes on past the waste yarn. So it can be tried on before it is cut open, and
the heel can be knitted anew when it is worn through.

Nothing in it knows which way the sock is knitted.
"""

from __future__ import annotations

from typing import ClassVar

import attrs

from loopwright.pattern import SockPart
from loopwright.pattern.steps import Recapture, Section, Step, WasteRow
from loopwright.sock.heels._gusset import MiniGusset
from loopwright.sock.heels._heel import SCISSORS, Corners, Setting, corner_round, corner_tail, heel
from loopwright.sock.heels._pocket import Pocket, RoundHeelNumbers, pocket, pocket_numbers
from loopwright.sock.heels._told import opened, waste_marks
from loopwright.sock.needles import Layout
from loopwright.sock.rounds import move_beginning

__all__ = ["Afterthought"]


@heel
@attrs.frozen(kw_only=True)
class Afterthought(Pocket):
    """A heel in the round, opened from waste yarn when all else is done.

    Parameters
    ----------
    wedge : Wedge
        Its shaping, stopping point and closing.
    plain_rounds : int
        Before the shaping; the one that closes the corners is among them.
    gusset : int
        Stitches increased at each side before the heel, and taken away after it.
    corners : Corners

    Raises
    ------
    SizingError
        From its methods: more stitches are to be left than there are, or a gusset below 0.

    Examples
    --------
    >>> from loopwright.pattern import in_words
    >>> from loopwright.sock.heels import Setting
    >>> heel, setting = Afterthought(), Setting(heel=32, instep=32)
    >>> print(in_words(heel.steps(setting)[1]))
    With waste yarn, knit next 32 sts; slip them back to be worked again.
    >>> print(in_words(heel.later_steps(setting)[-1]))
    Graft the sts of the two needles together, stitch by stitch.
    >>> numbers = heel.numbers(setting)
    >>> 2 * numbers.half, numbers.wedge.left, numbers.foot_courses
    (64, 20, 22.5)
    """

    name: ClassVar[str] = "afterthought"
    begins: ClassVar[str] = "heel"

    def numbers(self, setting: Setting) -> RoundHeelNumbers:
        """Return the heel in stitches and rounds."""
        # The round that closes the corners is a plain one.
        rounds = max(self.plain_rounds, int(self.corners is not Corners.LEFT))
        return pocket_numbers(setting, self.wedge, rounds, self.gusset)

    def steps(self, setting: Setting) -> list[Step]:
        """Return the steps that leave the waste yarn in; the same in both directions."""
        half, gusset = self.numbers(setting).half, MiniGusset(self.gusset)
        foot = setting.beyond(heel=half)
        return [
            *gusset.increases(setting, first="heel"),
            *waste_marks(half),
            WasteRow(half),
            *move_beginning(half),
            *(foot.arranged() if self.gusset else []),
            *setting.yarn.passed(),
            *gusset.decreases(setting),
        ]

    def later_steps(self, setting: Setting) -> list[Step]:
        """Return the steps that open the waste yarn and knit the heel."""
        numbers = self.numbers(setting)
        half = numbers.half
        layout = Layout((("lower", half), ("upper", half)), setting.needles)
        first = corner_round(layout, self.corners, joined=True)
        closing = int(self.corners is not Corners.LEFT)
        rest = attrs.evolve(numbers, plain_rounds=numbers.plain_rounds - closing)
        return [
            Section("Afterthought heel", part=SockPart.HEEL),
            *opened(half),
            *corner_tail(self.corners),
            *setting.yarn.later(),
            SCISSORS,
            Recapture(count=2 * half),
            *layout.arranged(),
            *first,
            *pocket(rest, self.wedge, layout),
        ]
