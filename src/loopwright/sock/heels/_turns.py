"""Heel turns: how the flap's stitches are brought round under the heel.

Cuff down a turn decreases, row by row, at a gap that moves outwards; each row slips its first
stitch. With H flap stitches, row 1 working H/2 + j before its decrease (H even; of an odd H the
half is rounded down, j is then 1 or more and one stitch more is left):

* *round* (widening, with an edge): decrease, then 1; u = H/2 - j - 3 stitches are left unworked at
  either side, H - 2 - 2 ⌈u/2⌉ are left in the end, in 2 + 2 ⌈u/2⌉ rows. Where u is odd the last
  two rows end with the decrease. Every turn in the historical patterns of shared/sock/turns.toml
  comes out of this.
* *V* (half-handkerchief; widening, without an edge): the decrease takes the next two stitches past
  the gap; u = H/2 - j - 2, left 2 j + 2 + 2 ⌊u/2⌋.
* *square* (constant band): the decrease takes one stitch at either side of the gap, so that the
  band stays 2 j + 2 wide; u = H/2 - j - 2, rows 2 + 2 u.

Toe up there is nothing to decrease. The heel is cupped by short rows before the flap, in as many
rows, turning every second stitch for the round and the V turn and every stitch for the square one.
"""

from __future__ import annotations

from itertools import count

import attrs

from loopwright.choice import Choice
from loopwright.errors import SizingError
from loopwright.pattern.items import Item, Run, Turn, WrapTurn
from loopwright.pattern.steps import Row, Side, Step
from loopwright.pattern.values import To, Where
from loopwright.plurals import plural
from loopwright.sock.rounds import repeated

__all__ = ["HeelTurn", "TurnNumbers", "Turned"]


class Turned(Choice):
    """Shape of the turn."""

    ROUND = "round"
    V = "V"
    SQUARE = "square"


@attrs.frozen
class TurnNumbers:
    """A turn in stitches and rows.

    Parameters
    ----------
    start, left : int, stitches
    past_middle : int, stitches
        By how many row 1 goes past the middle before its decrease: j.
    unworked : int, stitches
        At either side, after two rows: u.
    rows : int
    """

    start: int
    left: int
    past_middle: int
    unworked: int
    rows: int


@attrs.frozen(kw_only=True)
class HeelTurn:
    """How a heel is turned.

    Parameters
    ----------
    shape : Turned
    past_middle : int, optional
        By how many stitches row 1 goes past the middle. By common practice 1 for the round turn
        (half and one more), none for the V, and for the square one so many that the band is a
        third of the flap.

    Examples
    --------
    >>> HeelTurn(past_middle=3).numbers(36).left
    22
    >>> square = HeelTurn(shape=Turned.SQUARE)
    >>> numbers = square.numbers(40)
    >>> numbers.left, numbers.rows
    (14, 26)
    >>> from loopwright.pattern import in_words
    >>> in_words(square.rows(numbers)[0])
    'Row 1 (RS): Sl 1 pwise wyib, k25, ssk, turn.'

    Toe up, short rows:

    >>> cup = square.cup_numbers(40)
    >>> cup.left, cup.rows
    (40, 26)
    >>> in_words(square.cup_rows(cup, before=16)[0])
    'Row 1 (RS): K55, w&t.'
    >>> square.apart
    1
    """

    shape: Turned = attrs.field(default=Turned.ROUND, converter=Turned)
    past_middle: int | None = None

    def numbers(self, start: int) -> TurnNumbers:
        """Return the numbers of a cuff-down turn.

        Raises
        ------
        SizingError
            The flap is too narrow for the turn.
        """
        past, unworked = self._past(start), self._unworked(start)
        if not self._comes_out(start):
            usual = attrs.evolve(self, past_middle=None)
            if self.past_middle is None or not usual._comes_out(start):
                raise SizingError(
                    "heel turn", f"a flap of {plural(start, 'stitch')}", usual._few(start)
                )
            found = f"{plural(past, 'stitch')} past the middle of {start}"
            most = start - start // 2 - 3 - (self.shape is Turned.ROUND)
            raise SizingError("heel turn", found, f"expected {start % 2} to {most}")
        pairs = unworked if self.shape is Turned.SQUARE else -(-unworked // 2)
        # One stitch is taken away in every row.
        return TurnNumbers(start, start - 2 - 2 * pairs, past, unworked, 2 + 2 * pairs)

    def _unworked(self, start: int) -> int:
        return start - start // 2 - self._past(start) - 2 - (self.shape is Turned.ROUND)

    def _comes_out(self, start: int) -> bool:
        past, unworked = self._past(start), self._unworked(start)
        return past >= 0 and unworked >= 1 and start // 2 + past - 2 - unworked >= 0

    def _few(self, start: int) -> str:
        """Return what is expected instead of too few stitches, in words."""
        narrower = "a V turn, " * attrs.evolve(self, shape=Turned.V)._comes_out(start)
        least = next(n for n in count(4) if self._comes_out(n) and self._comes_out(n + 1))
        return (
            f"expected {least} or more for a {self.shape.value} turn: take {narrower}a finer "
            "gauge, a larger share for the heel, or a heel without a flap, such as 'short-row'"
        )

    def _past(self, start: int) -> int:
        if self.past_middle is not None:
            return self.past_middle
        if self.shape is Turned.SQUARE:
            return max(start % 2, round(start / 6) - 1)
        return 1 if self.shape is Turned.ROUND else start % 2

    def rows(self, numbers: TurnNumbers) -> list[Step]:
        """Return the rows of a cuff-down turn, from a right-side row over the whole flap."""
        past, more = numbers.past_middle, self._after()
        first = (
            self._row(Side.RS, numbers.start // 2 + past - 1, *more),
            self._row(Side.WS, numbers.start // 2 + past - 2 - numbers.unworked, *more),
        )
        whole, odd = numbers.unworked, False
        if self.shape is not Turned.SQUARE:
            whole, odd = divmod(numbers.unworked, 2)[0], bool(numbers.unworked % 2)
        before = 0 if self.shape is Turned.V else 1
        next_two = tuple(self._row(side, To(Where.GAP, before), *more) for side in Side)
        last_two = tuple(self._row(side, To(Where.GAP, 1)) for side in Side)
        return [
            *first,
            *repeated(next_two, whole, count=numbers.left + 2 * odd),
            *repeated(last_two, int(odd), count=numbers.left),
        ]

    def _after(self) -> tuple[int, ...]:
        return (1,) if self.shape is Turned.ROUND else ()

    @staticmethod
    def _row(side: Side, to: To | int, *after: int) -> Row:
        plain, together = ("k", "ssk") if side is Side.RS else ("p", "p2tog")
        slip = "sl" if side is Side.RS else "slf"
        items: list[Item] = [Run(slip), Run(plain, to), Run(together)]
        return Row((*items, *(Run(plain, n) for n in after), Turn()), side=side)

    # Toe up

    def cup_numbers(self, width: int) -> TurnNumbers:
        """Return the numbers of the toe-up counterpart, which decreases nothing.

        Raises
        ------
        SizingError
            `width` is odd, or too narrow for the turn.
        """
        turns = self._cup_turns(width)
        if width % 2 or turns < 1:
            least = next(even for even in count(2, 2) if self._cup_turns(even) > 0)
            expected = f"expected an even number from {least}"
            raise SizingError("heel turn", plural(width, "stitch"), expected)
        return TurnNumbers(width, width, self._past(width), turns * self.apart, 2 * turns)

    def _cup_turns(self, width: int) -> int:
        """Return how often each side is turned: what lies beyond the middle has room for it."""
        middle = 2 * self._past(width) + 2
        return (width - middle) // 2 // self.apart

    @property
    def apart(self) -> int:
        """How far apart the turns of a toe-up heel lie, and the first from the gusset, stitches."""
        return 1 if self.shape is Turned.SQUARE else 2

    def cup_rows(self, numbers: TurnNumbers, *, before: int) -> list[Step]:
        """Return the short rows of a toe-up turn.

        Parameters
        ----------
        before : int, stitches
            Those of the gusset, to be knitted before the heel's own at the beginning of row 1.
        """
        apart = self.apart
        width, turns = numbers.start, numbers.rows // 2
        first = (
            Row((Run("k", before + width - apart), WrapTurn()), side=Side.RS),
            Row((Run("p", width - 2 * apart), WrapTurn()), side=Side.WS),
        )
        shorter = tuple(
            Row((Run(key, To(Where.GAP, apart)), WrapTurn()), side=side)
            for side, key in ((Side.RS, "k"), (Side.WS, "p"))
        )
        return [*first, *repeated(shorter, turns - 1)]
