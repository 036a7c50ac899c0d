"""The flap heel with a gusset: a flap worked in rows, turned, picked up along both its sides.

Cuff down, the flap grows from the leg. Stitches are picked up along its sides, one for each slipped
stitch of the edge (two rows). One or two more are picked up at each corner with the instep, so that
no hole is left there. The gusset takes the surplus away, two stitches every other round.

Toe up the same heel is knitted from its other end. The gusset is increased first, then short rows
turn the heel, and the flap takes in one gusset stitch at the end of each row.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

import attrs

from loopwright.border import guard
from loopwright.choice import Choice
from loopwright.errors import ShapeError, SizingError
from loopwright.pattern.items import Item, Lift, PickUp, Repeat, Run, Turn, k, k_to
from loopwright.pattern.steps import (
    BeginHere,
    Hold,
    Join,
    Part,
    ReturnHeld,
    Row,
    Side,
    Step,
)
from loopwright.pattern.values import To
from loopwright.plurals import plural
from loopwright.sock.heels._changes import MOST_ROUNDS, more
from loopwright.sock.heels._gusset import narrow, widen
from loopwright.sock.heels._heel import (
    Corners,
    Heel,
    HeelChange,
    HeelNumbers,
    Setting,
    corner_round,
    heel,
)
from loopwright.sock.heels._outline import (
    DEPTH,
    HeelMeasure,
    HeelOutline,
    HeelPart,
    MeasureLine,
    across,
    band,
)
from loopwright.sock.heels._profile import flap_heel_girth_mm
from loopwright.sock.heels._told import (
    flap_takes_in,
    pick_up_chains,
    rnd_begins_before_instep,
    turned,
    worked_in_rows,
)
from loopwright.sock.heels._turns import HeelTurn, TurnNumbers
from loopwright.sock.rounds import across_again, repeated

__all__ = ["Flap", "FlapFabric", "FlapNumbers"]

_STRETCHED = 0.8  # of the height from ankle bone to floor: published advice, 2019
_TOE_UP_SHARE = 0.75  # common practice: 64 stitches are increased to 88, then 24 rows


class FlapFabric(Choice):
    """What the flap is worked in."""

    PLAIN = "plain"
    SLIP_STITCH = "slip stitch"  # every other stitch of a right-side row is slipped


@attrs.frozen(kw_only=True)
class FlapNumbers(HeelNumbers):
    """A flap heel in stitches and rows.

    Parameters
    ----------
    rows : int
        Of the flap.
    turn : TurnNumbers
    chains, corner : int, stitches
        What is picked up at each side: one a chain, and those at the corner.
    gusset : int
        Gusset rounds that shape, two stitches each.
    """

    rows: int
    turn: TurnNumbers
    chains: int
    corner: int
    gusset: int

    @property
    def picked_up(self) -> int:
        """Stitches picked up at each side."""
        return self.chains + self.corner


@heel
@attrs.frozen(kw_only=True)
class Flap(Heel):
    """A flap heel with a gusset.

    Parameters
    ----------
    fabric : FlapFabric
    turn : HeelTurn
        Round, V (half-handkerchief) or square.
    rows : int, optional
        Of the flap, even; by common practice as many as it has stitches, toe up (where the turn
        adds to its height) three quarters of that.
    by_height : bool
        Take the rows from the height of the ankle bone above the floor instead, less a fifth for
        stretch (published advice, see shared/standards.toml).
    longer : int, rows
        Added to the flap, for a high instep.
    corner : int, stitches
        Picked up at each corner besides the chains; the gusset takes them away again.
    twisted : bool
        Knit the stitches picked up through the back loop, so that loose chains leave no holes.
    corners : Corners
        Closed: the corner stitches are picked up (cuff down), or the strand across each corner is
        lifted (toe up). Left: neither.

    Raises
    ------
    SizingError
        An odd number of rows or fewer than 4, or below 0 of anything. From its methods: a turn or
        a gusset that doesn't come out on so many stitches.

    Examples
    --------
    >>> from loopwright.pattern import in_words
    >>> heel, setting = Flap(fabric=FlapFabric.PLAIN, longer=4), Setting(heel=32, instep=32)
    >>> numbers = heel.numbers(setting)
    >>> numbers.rows, numbers.turn.left, numbers.picked_up, numbers.gusset
    (36, 18, 19, 12)
    >>> print(in_words(heel.steps(setting)[-1]))
    Rnd 1: Instep: knit; sole: k1, ssk, k to last 3 sts, k2tog, k1.
    Rnd 2: Knit.
    Rep rnds 1 and 2 another 11 times (12 times in all). (64 sts)
    >>> heel.later_steps(setting)
    []
    """

    name: ClassVar[str] = "flap"
    begins: ClassVar[str] = "heel"
    in_rows: ClassVar[bool] = True

    fabric: FlapFabric = attrs.field(default=FlapFabric.SLIP_STITCH, converter=FlapFabric)
    turn: HeelTurn = attrs.field(factory=HeelTurn)
    rows: int | None = None
    by_height: bool = False
    longer: int = 0
    corner: int = 1
    twisted: bool = False
    corners: Corners = attrs.field(default=Corners.CLOSED, converter=Corners)

    def __attrs_post_init__(self) -> None:
        if self.rows is not None and (self.rows < 4 or self.rows % 2):
            raise SizingError("flap", plural(self.rows, "row"), "expected an even number from 4")
        if self.longer < 0 or self.longer % 2 or self.corner < 0:
            found = f"{plural(self.longer, 'row')} more, {plural(self.corner, 'corner stitch')}"
            raise SizingError("flap", found, "expected an even number of rows, none below 0")

    def numbers(self, setting: Setting) -> FlapNumbers:
        """Return the heel in stitches and rows."""
        return self._up(setting) if setting.is_toe_up else self._down(setting)

    def steps(self, setting: Setting) -> list[Step]:
        """Return the steps, cuff down or toe up."""
        return self._up_steps(setting) if setting.is_toe_up else self._down_steps(setting)

    def changes(self, setting: Setting, *, roomier: bool) -> Iterator[HeelChange]:
        """Yield a longer flap, or a shorter one."""
        rows = self.numbers(setting).rows
        for by in range(2, 1 + (MOST_ROUNDS if roomier else rows - 4), 2):
            words = f"flap with {more(by, 'row', 'rows', roomier)}"
            if roomier:
                longer = attrs.evolve(self, longer=self.longer + by)
                yield HeelChange("longer flap", words, by, longer)
            else:
                shorter = attrs.evolve(self, rows=rows - by, longer=0)
                yield HeelChange("longer flap", words, -by, shorter)

    def girth_mm(self, setting: Setting) -> float | None:
        """Return the girth over the heel by the flattened profile; None where it is drawn in."""
        numbers = self.numbers(setting)
        try:
            return flap_heel_girth_mm(
                setting.stitches, numbers.rows, numbers.picked_up,
                stitch_mm=setting.stitch_mm, course_mm=self._row_mm(setting),
            )  # fmt: skip
        except ShapeError:
            return None

    def outline(self, setting: Setting) -> HeelOutline:
        """Lay out flap, turn and the sole between the gussets, one below the other."""
        numbers, stitch, course = self.numbers(setting), setting.stitch_mm, setting.course_mm
        heel, turn = setting.heel * stitch, numbers.turn
        flap, foot = numbers.rows * self._row_mm(setting), 2 * numbers.gusset * course
        below = -numbers.foot_courses * course
        sole = below - foot
        if setting.is_toe_up:
            # The cup of short rows grows from all the heel's stitches; the flap takes in the
            # gusset.
            bottom, top = heel, (turn.start - 2 * turn.unworked) * stitch
            widest = (setting.heel + 2 * numbers.gusset) * stitch
        else:
            bottom, top = turn.left * stitch, heel
            widest = (turn.left + 2 * numbers.picked_up) * stitch
        right, beside = heel / 2, MeasureLine.BESIDE
        return HeelOutline(
            title="flap, turn and gusset, laid out",
            parts=(
                HeelPart("flap", band(heel, flap, heel, 0.0)),
                HeelPart("turn", band(top, 0.0, bottom, below)),
                HeelPart("gussets and sole", band(widest, below, heel, sole)),
            ),
            measures=(
                across("flap, width", heel, flap, MeasureLine.ABOVE),
                HeelMeasure("flap, height", (right, flap), (right, 0.0), beside),
                HeelMeasure(DEPTH, (right, 0.0), (right, below), beside),
                HeelMeasure("gusset, length", (right, below), (right, sole), beside),
                across("sole with gussets, at its widest", widest, below, MeasureLine.ACROSS),
                across("sole, width", heel, sole, MeasureLine.BELOW),
            ),
            flap_mm=flap,
            gusset_mm=foot,
        )

    def _row_mm(self, setting: Setting) -> float:
        """Height of a row of the flap: slip stitch is lower than plain fabric."""
        return setting.course_mm if self.fabric is FlapFabric.PLAIN else setting.slip_row_mm

    def _rows(self, setting: Setting) -> int:
        if self.rows is not None:
            return self.rows + self.longer
        if self.by_height and setting.height_mm is not None:
            half = _STRETCHED * setting.height_mm / self._row_mm(setting) / 2
        else:
            half = setting.heel * (_TOE_UP_SHARE if setting.is_toe_up else 1) / 2
        return 2 * max(2, round(half)) + self.longer

    def _flap_row(self, heel: int, *, last: int = 0) -> tuple[Item, ...]:
        """Return a right-side row up to its last stitches."""
        if self.fabric is FlapFabric.PLAIN:
            return Run("sl"), Run("k", heel - 1 - last)
        pairs, odd = divmod(heel - last, 2)
        return (Repeat((Run("sl"), k(1)), pairs), *((Run("sl"),) if odd else ()))

    # Cuff down

    def _down(self, setting: Setting) -> FlapNumbers:
        rows, turn = self._rows(setting), self.turn.numbers(setting.heel)
        surplus = turn.left + 2 * (rows // 2 + self._corner) - setting.heel
        if surplus < 0:  # it is even: the turn takes one stitch away in each of its even rows
            found = f"{plural(rows, 'row')} of flap, {plural(turn.left, 'stitch')} left of the turn"
            raise SizingError("gusset", found, f"too few for {setting.heel}: lengthen the flap")
        return FlapNumbers(
            foot_courses=turn.rows + 1.0,  # and the row that picks up the first side
            leg_courses=rows * self._row_mm(setting) / setting.course_mm,
            foot_rounds=1 + surplus,  # one picks up
            rows=rows,
            turn=turn,
            chains=rows // 2,
            corner=self._corner,
            gusset=surplus // 2,
        )

    @property
    def _corner(self) -> int:
        return self.corner if self.corners is not Corners.LEFT else 0

    def _down_steps(self, setting: Setting) -> list[Step]:
        numbers = self._down(setting)
        chains, left, instep = numbers.chains, numbers.turn.left, setting.instep
        foot = setting.beyond(heel=left + 2 * numbers.picked_up)
        pick_up = PickUp(chains, "flap", self.twisted)
        corner: tuple[Item, ...] = (Lift("m1l", "across"),) * numbers.corner
        second: tuple[Item, ...] = (*corner, pick_up)
        if setting.yarn.changes:  # no strand runs where the flap's yarn was joined
            second = (attrs.evolve(pick_up, amount=chains + numbers.corner),)
        wrong = Row((Run("slf"), Run("p", To())), side=Side.WS)
        flap = (Row(self._flap_row(setting.heel), side=Side.RS), wrong)
        return [
            *setting.on_one_needle(setting.heel),
            *worked_in_rows(setting.heel, instep),
            *setting.yarn.before(leaves=True),
            # The yarn must be at the heel's end when the instep is put aside: row 1 is plain.
            Part((k(setting.heel),)),
            Hold(instep, "instep", count=setting.heel),
            *turned(),
            wrong,
            *repeated(flap, numbers.rows // 2 - 1),
            *self.turn.rows(numbers.turn),
            *setting.yarn.after(left=True, begun=True),
            *pick_up_chains(chains, numbers.rows),
            Part((k(left), pick_up, *corner)),
            Join(),
            ReturnHeld("instep", next_to_work=True),
            *rnd_begins_before_instep(corner=numbers.corner if setting.yarn.changes else 0),
            Part((*setting.across_instep(), *second, k_to()), count=foot.stitches),
            *foot.arranged(),
            *narrow(foot, numbers.gusset),
        ]

    # Toe up

    def _up(self, setting: Setting) -> FlapNumbers:
        rows = self._rows(setting)
        turn = self.turn.cup_numbers(setting.heel)
        return FlapNumbers(
            foot_courses=float(turn.rows),
            leg_courses=rows * self._row_mm(setting) / setting.course_mm + 1.0,  # and the row back
            foot_rounds=rows,
            leg_rounds=int(self.corners is not Corners.LEFT),
            rows=rows,
            turn=turn,
            chains=rows // 2,
            corner=0,
            gusset=rows // 2,
        )

    def _up_steps(self, setting: Setting) -> list[Step]:
        numbers = self._up(setting)
        gusset, heel = numbers.gusset, setting.heel
        later = setting.yarn.into_stripes
        foot, leg = setting.layout(first="heel"), setting.beyond()
        return [
            *foot.arranged(),
            *widen(foot, gusset),
            *([Part((k(gusset),)), *own] if (own := setting.yarn.before(leaves=True)) else []),
            *worked_in_rows(heel + 2 * gusset, setting.instep),
            *self.turn.cup_rows(numbers.turn, before=0 if own else gusset),
            *flap_takes_in(2 * gusset),
            *self._joining_rows(numbers),
            *([] if later else setting.yarn.after(left=True)),
            *across_again(heel),
            Part((k(heel),)),
            # Stripes are resumed where the rnd begins.
            *(setting.yarn.after(left=True) if later else []),
            BeginHere(count=leg.stitches),
            *leg.arranged(),
            *corner_round(leg, self.corners, (False, False) if later else (True, True)),
        ]

    def _joining_rows(self, numbers: FlapNumbers) -> list[Step]:
        """Return the rows of the flap; each takes in one stitch of the gusset at its end."""
        heel = numbers.turn.start
        # The heel's last stitch is wrapped where the turns lie one stitch apart, and only there.
        wrapped = self.turn.apart == 1
        right, wrong = Run("ssk", with_wraps=wrapped), Run("p2tog", with_wraps=wrapped)
        first = heel - numbers.turn.unworked - 1
        rows = [
            Row((Run("k", first, with_wraps=True), right, Turn()), side=Side.RS),
            Row((Run("slf"), Run("p", heel - 2, with_wraps=True), wrong, Turn()), side=Side.WS),
        ]
        pair = (
            Row((*self._flap_row(heel, last=1), Run("ssk"), Turn()), side=Side.RS),
            Row((Run("slf"), Run("p", heel - 2), Run("p2tog"), Turn()), side=Side.WS),
        )
        return [*rows, *repeated(pair, numbers.gusset - 1)]


guard(globals())
