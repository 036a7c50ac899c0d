"""What a walk through a pattern calls to have its stitches worked."""

from __future__ import annotations

from loopwright.border import guard
from loopwright.pattern import steps as st
from loopwright.pattern._tally import Tally

__all__ = ["StitchWorker"]


class StitchWorker:
    """Whatever works the stitches that the walk has counted out; these work none.

    They serve where the counts are all that is wanted.
    """

    def begin(self, step: st.Step) -> None:
        """Begin a step of the pattern; what follows is part of it."""

    def row(self, step: st.Step) -> None:
        """Begin a row or round of the step."""

    def work(self, keys: tuple[str, ...], with_wraps: bool) -> None:
        """Work these stitches."""

    def rounds(self, keys: tuple[str, ...], times: int) -> None:
        """Work the same round several times."""

    def turn(self) -> None:
        """Turn the work."""

    def wrap(self) -> None:
        """Wrap the next stitch."""

    def double_stitch(self) -> None:
        """Make the next stitch a double stitch."""

    def pick_up(self, amount: int, twisted: bool, along: str) -> None:
        """Pick up and knit along the edge that begins here."""

    def lift(self, stitch: str, strand: str, *, beyond: bool = False) -> None:
        """Lift a strand of the corner and work it with the next stitch, or after that one."""

    def yarn(self, name: str) -> None:
        """Work on with the yarn of this name; it is joined where it is new."""

    def next_needle(self, number: int) -> None:
        """Let the needle of this number, counted from 2, begin here, after all that was made."""

    def step(self, step: st.Step, tally: Tally) -> None:
        """Do a step that is neither row nor round."""


guard(globals())
