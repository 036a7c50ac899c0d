"""Charts: rounds or rows of a pattern as squares with symbols, and charts read back.

A chart is derived by knitting the pattern, so chart and written rounds can't disagree. It shows the
right side: rounds and right-side rows are read from the right, wrong-side rows from the left. In a
left-handed chart, which is the mirror image, the other way round.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from itertools import groupby
from xml.etree import ElementTree as ET

import attrs

from loopwright.errors import PictureError
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.making import Hand
from loopwright.pattern import Knitted, Pattern, Step
from loopwright.picture._colouring import yarns_of
from loopwright.picture._grid_drawing import draw
from loopwright.picture._grid_layout import grid_of
from loopwright.picture._grid_steps import pattern_of, steps_of
from loopwright.picture._grid_text import from_csv, to_csv
from loopwright.picture._knitted import as_knitted
from loopwright.picture._trace import WorkedRow, trace
from loopwright.picture.grid import Grid
from loopwright.picture.svg import Picture
from loopwright.plurals import plural
from loopwright.shown import Shown

__all__ = ["Chart", "chart", "charts", "read_chart"]


@attrs.frozen(repr=False)
class Chart(Shown, Grid):
    """A chart; see :class:`loopwright.picture.grid.Grid` for what it holds.

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> rib = read("Cast on 16 sts. Join in the round. Rnds 1-4: *K2, p2; rep from * to end.")
    >>> print(chart(rib).to_csv(), end="")
    chart,
    start,16
    across,4
    round,side,way,ends,count,block,times,4,3,2,1
    1,RS,round,,16,1,4,p,p,k,k
    >>> print(chart(rib).picture().description)
    4 rounds, shown from the right side, the first at the bottom. 16 stitches before it. ...
    >>> [(type(step).__name__, step.times) for step in chart(rib).steps()]
    [('RepeatRounds', 4)]
    """

    def __str__(self) -> str:
        size = f"{plural(self.width, 'stitch')} wide, {plural(len(self.blocks), 'block')}"
        return f"{self.title or 'chart'}: {size}"

    def picture(self, *, key: bool = True) -> Picture:
        """Return the chart drawn, with its key; without it, where one stands beside for several."""
        return draw(self, to_csv(self), key=key)

    def svg(self) -> str:
        """Return the chart as SVG, with its key; `read_chart` reads it."""
        return self.picture().svg()

    def to_csv(self) -> str:
        """Return the chart as a table; `read_chart` reads it."""
        return to_csv(self)

    def steps(self) -> tuple[Step, ...]:
        """Return the rows as steps of a pattern."""
        return steps_of(self)

    def pattern(self) -> Pattern:
        """Return the rows as a pattern that casts on what they start with.

        Its words are the same for either hand: `knit` it with `hand`.
        """
        return pattern_of(self)

    def _repr_svg_(self) -> str:
        return self.svg()

    def _repr_html_(self) -> str:
        return self.picture()._repr_html_()


def _as_chart(grid: Grid) -> Chart:
    return Chart(**{field.name: getattr(grid, field.name) for field in attrs.fields(Grid)})


def charts(
    pattern: Pattern | Knitted,
    section: str | None = None,
    *,
    size: str | int | None = None,
    rounds: tuple[int, int] | None = None,
    folded: bool = True,
    hand: Hand | None = None,
    stitches: StitchTable = STITCHES,
    colours: Mapping[str, str] | None = None,
) -> tuple[Chart, ...]:
    """Return charts of a pattern: one for each heading, and another where the round begins
    elsewhere.

    Parameters
    ----------
    pattern : Pattern or Knitted
        One that was knitted is read off its journal, and comes with its size and stitches.
    section : str, optional
        Only what stands under this heading.
    size : str or int, optional
        Name or index of the size; the first by default.
    rounds : (int, int), optional
        Only these rounds or rows of it, both included.
    folded : bool
        Show what repeats once, in a frame, with the number of times.
    hand : Hand, optional
        Whose; by default that of the pattern. A left-handed knitter works the same words and gets
        the mirror image: the chart begins at the left, and what leans left for others leans right.
    stitches : StitchTable
        With stitches of your own, where the pattern uses any. They have no symbol: the square holds
        their abbreviation, the key their name.
    colours : mapping of str to str, optional
        Of yarns by name, ``"#24476b"``; ours for those that have none.

    Raises
    ------
    KnitError
        The pattern can't be knitted.
    UnknownStitchError
        It uses a stitch that `stitches` lacks.
    PictureError
        There is no such heading, or no such round.

    Examples
    --------
    >>> from loopwright.fabric import Stitch
    >>> from loopwright.pattern import read
    >>> mine = STITCHES.with_stitch(Stitch("k4tog", "knit four together", 4, 1, (3, 2, 1, 0)))
    >>> text = "Cast on 16 sts. Join in the round. Rnd 1: *K4, k4tog; rep from * to end."
    >>> drawn = chart(read(text, stitches=mine), stitches=mine)
    >>> print(drawn.to_csv().splitlines()[-1])
    1,RS,round,,10,1,1,k4tog,k,k,k,k
    >>> read_chart(drawn.svg(), stitches=mine) == drawn
    True
    """
    made = as_knitted(pattern, size=size, stitches=stitches)
    traced, one = trace(made), made.journal.pattern
    headings = list(dict.fromkeys(line.section for line in traced.rows))
    if section is not None and section not in headings:
        known = ", ".join(repr(heading) for heading in headings if heading) or "none"
        raise PictureError(
            f"chart of {section!r}", "no rounds stand under that heading", f"headings: {known}"
        )
    name = one.sizes[0] if one.sizes else ""
    hues = yarns_of(made.fabric, colours)
    several = len({spot.yarn for line in traced.rows for spot in line.spots}) > 1
    found: list[Chart] = []
    parts: dict[str, int] = {}
    for (heading, sheet), group in groupby(
        _numbered(traced.rows), key=lambda one: (one[0].section, one[0].sheet)
    ):
        lines = [one for one in group if section in (None, heading)]
        lines = lines if rounds is None else _cut(lines, *rounds)
        if lines:
            title = heading or one.title
            parts[title] = parts.get(title, 0) + 1
            title = f"{title}, part {parts[title]}" if parts[title] > 1 else title
            grid = grid_of(
                title, lines, traced.orders[sheet], in_yarns=several, size=name, folded=folded,
                hand=hand or one.hand, stitches=made.fabric.stitches,
            )  # fmt: skip
            hued = attrs.evolve(grid, colours=hues) if grid.yarns else grid
            found.append(_as_chart(hued))
    if not found:
        raise PictureError("chart", "there is no such round", "count rounds from the heading")
    return tuple(found)


def chart(
    pattern: Pattern | Knitted,
    section: str | None = None,
    *,
    size: str | int | None = None,
    rounds: tuple[int, int] | None = None,
    folded: bool = True,
    hand: Hand | None = None,
    stitches: StitchTable = STITCHES,
    colours: Mapping[str, str] | None = None,
) -> Chart:
    """Return the chart of some rounds; see `charts`.

    Raises
    ------
    PictureError
        They make no single chart: choose a heading, or use `charts`.
    """
    found = charts(
        pattern, section, size=size, rounds=rounds, folded=folded, hand=hand,
        stitches=stitches, colours=colours,
    )  # fmt: skip
    if len(found) > 1:
        parts = ", ".join(f"{one.title!r} from {one.rows[0].number}" for one in found)
        raise PictureError(
            "chart",
            f"these rounds make {len(found)} charts ({parts})",
            "choose a heading or fewer rounds, or use charts()",
        )
    return found[0]


def _numbered(lines: Iterable[WorkedRow]) -> list[tuple[WorkedRow, int]]:
    """Number rows as the written ones are, from 1 under each heading."""
    numbered, heading, number = [], "", 1
    for line in lines:
        if line.section != heading:
            heading, number = line.section, 1
        numbered.append((line, number if line.numbered else 0))
        number += line.times if line.numbered else 0
    return numbered


def _cut(lines: list[tuple[WorkedRow, int]], first: int, last: int) -> list[tuple[WorkedRow, int]]:
    """Return the rows numbered `first` to `last`."""
    kept = []
    for line, number in lines:
        start, stop = max(first, number), min(last, number + line.times - 1)
        if number and start <= stop:
            kept.append((attrs.evolve(line, times=stop - start + 1), start))
    return kept


def read_chart(text: str, *, stitches: StitchTable = STITCHES) -> Chart:
    """Read a chart from its SVG or from its table.

    Parameters
    ----------
    text : str
        What `Chart.svg` or `Chart.csv` returned, edited or not.
    stitches : StitchTable
        With stitches of your own.

    Raises
    ------
    PictureError
        It is neither, or something in it is not as it should be; says where.

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> one = chart(read("Cast on 6 sts. Join in the round. Rnd 1: *K1, k2tog; rep from * to end."))
    >>> read_chart(one.svg()) == read_chart(one.to_csv()) == one
    True
    """
    if text.lstrip().startswith("<"):
        text = _table_in(text)
    return _as_chart(from_csv(text, stitches=stitches))


def _table_in(text: str) -> str:
    if re.search(r"<!(DOCTYPE|ENTITY)", text):
        raise PictureError("chart", "it declares a document type", "give the SVG as it was written")
    try:
        root = ET.fromstring(text)
    except ET.ParseError as error:
        raise PictureError(
            "chart", f"is no SVG: {error}", "give the SVG as it was written"
        ) from None
    table = root.get("data-chart")
    if table is None:
        raise PictureError(
            "chart", "this SVG holds no chart of ours", "give one that Chart.svg() wrote"
        )
    return table
