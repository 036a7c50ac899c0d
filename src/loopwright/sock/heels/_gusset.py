"""Gussets: stitches added at both sides of the heel before it and taken away after it."""

from __future__ import annotations

import attrs

from loopwright.errors import SizingError
from loopwright.pattern.items import Run, k
from loopwright.pattern.steps import Round, Step
from loopwright.plurals import plural
from loopwright.sock.heels._heel import Setting
from loopwright.sock.needles import Layout
from loopwright.sock.rounds import repeated

__all__ = ["MiniGusset", "narrow", "widen"]


def widen(layout: Layout, times: int, *, part: str = "sole") -> list[Step]:
    """Return increase rounds, one stitch at each side of one half, every other round."""
    return _every_other(layout, times, part, ((k(1), Run("m1r")), (Run("m1l"), k(1))), 2)


def narrow(layout: Layout, times: int, *, part: str = "sole") -> list[Step]:
    """Return decrease rounds, leaning away from the other half, every other round."""
    return _every_other(layout, times, part, ((k(1), Run("ssk")), (Run("k2tog"), k(1))), -2)


def _every_other(
    layout: Layout, times: int, part: str, sides: tuple[tuple[Run, Run], tuple[Run, Run]], by: int
) -> list[Step]:
    start, end = sides
    items = [
        on
        for name, _ in layout.parts
        for on in (layout.on(name, start=start, end=end) if name == part else layout.on(name))
    ]
    count = layout.stitches + by * times
    return repeated((Round(tuple(items)), layout.plain_round()), times, count=count)


@attrs.frozen
class MiniGusset:
    """A small gusset before a heel without one, `stitches` a side; it loosens the heel's girth."""

    stitches: int = 0

    def __attrs_post_init__(self) -> None:
        if self.stitches < 0:
            raise SizingError(
                "gusset", f"{plural(self.stitches, 'stitch')} a side", "expected 0 or more"
            )

    @property
    def rounds_before(self) -> int:
        """Rounds that the increases take."""
        return 2 * self.stitches

    @property
    def rounds_after(self) -> int:
        """Rounds that the decreases take."""
        return 2 * self.stitches

    def increases(self, setting: Setting, *, first: str) -> list[Step]:
        """Return the rounds before the heel."""
        if not self.stitches:
            return []
        layout = setting.layout(first=first)
        return [*layout.arranged(), *widen(layout, self.stitches)]

    def decreases(self, setting: Setting) -> list[Step]:
        """Return the rounds after the heel, which begin with the instep."""
        wide = setting.beyond(heel=setting.heel + 2 * self.stitches)
        return narrow(wide, self.stitches, part=wide.parts[1][0])
