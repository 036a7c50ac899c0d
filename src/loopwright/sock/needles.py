"""Needles: how the halves of a round lie on them, and what that makes of the instructions.

A sock's round falls in two halves, sole (or heel) and instep. Two circular needles, or the two
ends of a long one, carry a half each. Of five double-pointed needles four carry stitches, two to a
half. Of four, three carry stitches: the half named ``instep`` (else the first) has one needle, the
other half two. The fabric is the same on all of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import attrs

from loopwright.border import guard
from loopwright.choice import Choice
from loopwright.errors import SizingError
from loopwright.fabric.stitches import STITCHES
from loopwright.pattern.items import KNIT, Item, Lift, On, Run, k_to
from loopwright.pattern.steps import Arrange, Note, Round, Step
from loopwright.sock._panels import PanelFit

__all__ = ["Layout", "Needles", "taken"]


class Needles(Choice):
    """What the sock is knitted on."""

    LONG_CIRCULAR = "one long circular"
    TWO_CIRCULARS = "two circulars"
    DOUBLE_POINTED_5 = "five double-pointed"  # four carry the stitches
    DOUBLE_POINTED_4 = "four double-pointed"  # three carry the stitches


def taken(items: Sequence[Item]) -> int:
    """Return how many stitches these runs take off the needle.

    Examples
    --------
    >>> taken((Run("k2tog"), Run("k", 2)))
    4
    """
    return sum(
        STITCHES[item.stitch].takes * item.amount
        for item in items
        if isinstance(item, Run) and isinstance(item.amount, int)
    ) + sum(isinstance(item, Lift) and item.beyond for item in items)


@attrs.frozen
class Layout:
    """The two halves of a round, in working order, on their needles.

    Parameters
    ----------
    parts : tuple of (str, int)
        Name and stitches of each half.
    needles : Needles
    panel : PanelFit, optional
        Worked on the instep.

    Examples
    --------
    >>> layout = Layout((("instep", 32), ("sole", 32)), Needles.DOUBLE_POINTED_4)
    >>> layout.arrange().parts
    (('needle 1', 32), ('needle 2', 16), ('needle 3', 16))
    """

    parts: tuple[tuple[str, int], tuple[str, int]]
    needles: Needles = Needles.LONG_CIRCULAR
    panel: PanelFit | None = None

    @property
    def stitches(self) -> int:
        """Stitches of the whole round."""
        return self.parts[0][1] + self.parts[1][1]

    @property
    def is_numbered(self) -> bool:
        """Whether the needles have numbers: those that are double-pointed."""
        return self.needles in (Needles.DOUBLE_POINTED_5, Needles.DOUBLE_POINTED_4)

    def names(self, part: str) -> tuple[str, ...]:
        """Return the needles that carry a half, in order."""
        return {half: names for (half, _), names in zip(self.parts, self._names(), strict=True)}[
            part
        ]

    def _names(self) -> tuple[tuple[str, ...], tuple[str, ...]]:
        first, second = (name for name, _ in self.parts)
        if self.needles is Needles.DOUBLE_POINTED_5:
            return ("needle 1", "needle 2"), ("needle 3", "needle 4")
        if self.needles is Needles.DOUBLE_POINTED_4:
            if second == "instep":
                return ("needle 1", "needle 2"), ("needle 3",)
            return ("needle 1",), ("needle 2", "needle 3")
        return (first,), (second,)

    def arrange(self) -> Arrange:
        """Return the step that shares the stitches out."""
        shares: list[tuple[str, int]] = []
        for (_, count), names in zip(self.parts, self._names(), strict=True):
            first = -(-count // 2) if len(names) == 2 else count
            shares += zip(names, (first, count - first), strict=False)
        return Arrange(tuple(shares))

    def arranged(self) -> list[Step]:
        """Return that step, and where the needles have numbers a note of what each half is."""
        if not self.is_numbered:
            return [self.arrange()]
        halves = zip((name for name, _ in self.parts), self._names(), strict=True)
        carried = [f"the {half} half on {_listed(names)}" for half, names in halves]
        return [self.arrange(), Note(f"You have {' and '.join(carried)}.")]

    def on(
        self, part: str, *, start: Iterable[Item] = (), end: Iterable[Item] = ()
    ) -> tuple[Item, ...]:
        """Return one half's items: `start` at its beginning, knit, `end` at its end."""
        names, before, after = self.names(part), tuple(start), tuple(end)
        if self.panel is not None and part == "instep":
            return self._with_panel(names, before, after)
        last = (k_to(before=taken(after)), *after)
        if len(names) == 1:
            return (On(names, (*before, *last)),)
        return On(names[:1], (*before, k_to())), On(names[1:], last)

    def _with_panel(
        self, names: tuple[str, ...], before: tuple[Item, ...], after: tuple[Item, ...]
    ) -> tuple[Item, ...]:
        assert self.panel is not None
        lifted = sum(
            isinstance(item, Lift) and item.stitch != "m1l" and not item.beyond for item in before
        )
        inner = self.panel.items(before=taken(before) + lifted, after=taken(after))
        items = (*before, *inner, *after)
        if len(names) == 1:
            return (On(names, items),)
        if names[0] != "needle 1":
            found = "an instep on needles 3 and 4"
            advice = "choose circulars, or four double-pointed: a panel lies on one needle there"
            raise SizingError("panel", found, advice)
        return items

    def plain_round(self) -> Round:
        """Return a round without shaping: plain, and the panel on the instep."""
        if self.panel is None:
            return Round((KNIT,))
        return Round(tuple(item for name, _ in self.parts for item in self.on(name)))

    def each(self, *, start: Iterable[Item] = (), end: Iterable[Item] = ()) -> tuple[Item, ...]:
        """Return the items of both halves, the same on each."""
        before, after = tuple(start), tuple(end)
        if all(len(names) == 1 for names in self._names()):
            return (On((), (*before, k_to(before=taken(after)), *after)),)
        return tuple(on for name, _ in self.parts for on in self.on(name, start=before, end=after))


def _listed(names: tuple[str, ...]) -> str:
    if len(names) == 1:
        return names[0]
    return "needles " + " and ".join(name.removeprefix("needle ") for name in names)


guard(globals())
