"""Grading: several sizes or feet in one design, one pattern with sizes in brackets."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from html import escape
from itertools import pairwise

import attrs

from loopwright.border import guard
from loopwright.errors import SizingError
from loopwright.fabric.checks import Report
from loopwright.fabric.fabric import Fabric
from loopwright.pattern import knit
from loopwright.pattern.program import Pattern
from loopwright.plurals import plural
from loopwright.shown import Shown
from loopwright.sock._merge import merged, merged_text
from loopwright.sock._plan import FinishedMeasure
from loopwright.sock._sock import Sock
from loopwright.sock._sock_pieces import gauge_line
from loopwright.sock.foot import Foot

__all__ = ["Design", "SizeTable"]


@attrs.frozen
class SizeTable:
    """Finished measures of all sizes: one row a measure, one column a size.

    Parameters
    ----------
    sizes : tuple of str
    rows : tuple of tuple of FinishedMeasure
        For each measure, that of each size.
    """

    sizes: tuple[str, ...]
    rows: tuple[tuple[FinishedMeasure, ...], ...]

    def __str__(self) -> str:
        lines = ["mm".ljust(14) + "".join(size.rjust(10) for size in self.sizes)]
        for row in self.rows:
            cells = (f"{measure.finished.mm:.0f}".rjust(10) for measure in row)
            lines.append(row[0].name.ljust(14) + "".join(cells))
        labels = (measure.label for row in self.rows for measure in row if measure.note)
        return "\n".join([*lines, *dict.fromkeys(labels)])

    def _repr_html_(self) -> str:
        head = "".join(f"<th>{escape(size)}</th>" for size in self.sizes)
        rows = "".join(
            f"<tr><th>{escape(max((measure.label for measure in row), key=len))}</th>"
            + "".join(f"<td>{measure.finished.mm:.0f}</td>" for measure in row)
            + "</tr>"
            for row in self.rows
        )
        return f"<table><tr><th>mm</th>{head}</tr>{rows}</table>"


def _as_socks(
    socks: Mapping[str, Sock] | Iterable[tuple[str, Sock]],
) -> tuple[tuple[str, Sock], ...]:
    return tuple(socks.items()) if isinstance(socks, Mapping) else tuple(socks)


def _is_smaller(one: Foot, other: Foot) -> bool:
    """Whether a foot is smaller, and in no way larger; a wider one that is as long isn't."""
    pairs = ((one.length.mm, other.length.mm), (one.ball_girth.mm, other.ball_girth.mm))
    return all(a <= b for a, b in pairs) and any(a < b for a, b in pairs)


def _size(foot: Foot) -> str:
    return f"{foot.length.mm / 10:.1f} cm long, {foot.ball_girth.mm / 10:.1f} cm round the ball"


# What all sizes of a design have alike.
_SHARED = (
    *("gauge", "rib_gauge", "slip_gauge", "direction", "needles"),
    *("yarn", "yarns", "stripes", "panel", "all_round"),
)


@attrs.frozen(repr=False)
class Design(Shown):
    """Socks of one design in several sizes.

    Parameters
    ----------
    title : str
    socks : mapping of str to Sock
        By name of the size, smallest first. All have one gauge, direction, yarn and needles.

    Raises
    ------
    SizingError
        No sizes, sizes out of order, or sizes that can't share a pattern.

    See Also
    --------
    Design.graded : the same sock for several feet.

    Examples
    --------
    >>> from loopwright.gauge import Gauge
    >>> feet = {"S": Foot.of(length="23 cm"), "M": Foot.of(length="25 cm")}
    >>> one = Sock(foot=feet["M"], gauge=Gauge.of(32, 44))
    >>> design = Design.graded("Harbour sock", one, feet)
    >>> print(design.measures())
    mm                     S         M
    foot girth           200       212
    cuff girth           200       212
    foot length          220       241
    leg height           165       181
    cuff height           41        41
    cuff girth in stocking stitch, less where rib draws in
    >>> all(report.ok for report in design.checks().values())
    True
    >>> design.sizes, {name: len(fabric.ids) for name, fabric in design.fabrics().items()}
    (('S', 'M'), {'S': 8546, 'M': 10234})
    """

    title: str
    socks: tuple[tuple[str, Sock], ...] = attrs.field(converter=_as_socks)

    def __str__(self) -> str:
        return f"{self.title}: {plural(len(self.sizes), 'size')}: {', '.join(self.sizes)}"

    def __attrs_post_init__(self) -> None:
        if not self.socks:
            raise SizingError("design", "no sizes", "give one sock or more, by size")
        for (before, small), (name, large) in pairwise(self.socks):
            if _is_smaller(large.foot, small.foot):
                found = f"{name} ({_size(large.foot)}) after {before} ({_size(small.foot)})"
                raise SizingError("sizes", found, "put the smallest foot first")
        first = self.socks[0][1]
        for name, sock in self.socks:
            for what in _SHARED:
                if getattr(sock, what) != getattr(first, what):
                    found = f"size {name} has another {what}"
                    raise SizingError("design", found, "make a design of its own of it")

    @classmethod
    def graded(cls, title: str, sock: Sock, feet: Mapping[str, Foot]) -> Design:
        """Return a design of the same sock for several feet, smallest first."""
        return cls(title, {name: attrs.evolve(sock, foot=foot) for name, foot in feet.items()})

    @property
    def sizes(self) -> tuple[str, ...]:
        """Names of the sizes."""
        return tuple(name for name, _ in self.socks)

    def pattern(self) -> Pattern:
        """Return one pattern, with sizes in brackets; a lone size without a name has none."""
        if self.sizes == ("",):
            return attrs.evolve(self.socks[0][1].pattern(), title=self.title)
        plans = [sock.plan() for _, sock in self.socks]
        steps = [sock.steps(plan) for (_, sock), plan in zip(self.socks, plans, strict=True)]
        heads = [sock.materials(plan) for (_, sock), plan in zip(self.socks, plans, strict=True)]
        return Pattern(
            self.title,
            tuple(merged(steps, self.sizes)),
            sizes=self.sizes,
            gauge=gauge_line(self.socks[0][1].gauge),
            materials=tuple(map(merged_text, zip(*heads, strict=True))),
        )

    def measures(self) -> SizeTable:
        """Return the finished measures of all sizes."""
        columns = [sock.measures() for _, sock in self.socks]
        return SizeTable(self.sizes, tuple(zip(*columns, strict=True)))

    def fabrics(self) -> dict[str, Fabric]:
        """Return every size's fabric, knitted from the one pattern."""
        pattern = self.pattern()
        return {
            name: knit(pattern, size=place, stitches=self.socks[0][1].table)
            for place, name in enumerate(self.sizes)
        }

    def checks(self) -> dict[str, Report]:
        """Return what the checks find in every size, as a finished sock."""
        socks = dict(self.socks)
        return {name: socks[name].check(fabric) for name, fabric in self.fabrics().items()}


guard(globals())
