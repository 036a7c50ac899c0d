"""The key of a chart: what its squares mean, printed with every chart.

There is no binding standard of symbols, so no chart goes without. A picture of a chart holds its
key; whoever sets the parts of one chart together sets one key for all, entry by entry.
"""

from __future__ import annotations

from collections.abc import Sequence
from xml.etree import ElementTree as ET

import attrs

from loopwright.border import guard
from loopwright.fabric.stitches import Stitch
from loopwright.pattern import spelt
from loopwright.picture._crossing_shape import draw_crossing
from loopwright.picture._grid_squares import (
    EXTRA,
    SQUARE,
    WAITS,
    WRAP,
    draw_no_stitch,
    draw_symbol,
    draw_words,
    draw_yarn,
    placed,
    yarn_places,
)
from loopwright.picture._symbols import SYMBOLS, drawn, symbol_for
from loopwright.picture.grid import MORE, WAITING, Grid
from loopwright.picture.svg import GREY, Picture, group, label, line, number, path, rect, text_width

__all__ = ["KeyEntry", "draw_key", "key_entries", "key_notes"]

_NOTES = (
    "RS: right-side rows and rounds; WS: wrong-side rows.",
    "The chart shows the right side. Numbers count all rounds and rows worked under this heading.",
)
_LONG_ENTRY = 52  # letters of an entry that is set on two lines
_MIRRORED = "Left-handed: what leans left in the words leans right here."
_NAMES = {symbol.name: symbol for symbol in SYMBOLS}
_WRITTEN = {"slf": "sl", "slk": "sl", "slkf": "sl", "ktbl": "k tbl", "ptbl": "p tbl"}  # as in rows
_SPECIAL = {
    "no stitch": "no stitch: pass over this square",
    "waiting": "a stitch left unworked in this row",
    "more": "a further stitch made by the one before",
    "turn": "turn the work here",
    "wrap": "wrap this stitch and turn",
}


@attrs.frozen
class KeyEntry:
    """What one square means.

    Parameters
    ----------
    kind, which : str
        Of what: a symbol, an abbreviation, an extra mark, something special, or a yarn.
    words : str
    mirrored : bool
        Whether the sample is drawn for the left-handed.

    Examples
    --------
    >>> KeyEntry("special", "turn", "turn the work here").squares
    1
    >>> KeyEntry("special", "turn", "turn the work here").picture().svg().count("<line")
    1
    """

    kind: str
    which: str
    words: str
    mirrored: bool = False
    colour: str = ""
    crossing: Stitch | None = None

    @property
    def squares(self) -> int:
        """How many squares the sample fills."""
        return 1 if self.crossing is None else self.crossing.takes

    def picture(self) -> Picture:
        """Return the square as a picture by itself."""
        drawn = _sample(self, 2, 2)
        side = SQUARE + 4
        own = {"colours": "own"} if self.kind == "yarn" else {}
        return Picture(self.squares * SQUARE + 4, side, self.which, self.words, tuple(drawn), own)


def key_notes(grid: Grid) -> tuple[str, ...]:
    """Return how to read the chart, in sentences.

    Examples
    --------
    >>> print(key_notes(Grid("Rib", 4, ()))[0])
    RS: right-side rows and rounds; WS: wrong-side rows.
    """
    return (*_NOTES, _MIRRORED) if grid.mirrored else _NOTES


def key_entries(grids: Sequence[Grid]) -> tuple[KeyEntry, ...]:
    """Return what the squares of some charts mean, each once.

    Examples
    --------
    >>> from loopwright.pattern import Side
    >>> from loopwright.picture.grid import Block, Square, ChartRow
    >>> row = ChartRow(1, Side.RS, True, [Square(0, "k"), Square(1, "k2tog")])
    >>> for entry in key_entries([Grid("One", 2, [Block([row])]), Grid("Two", 2, [Block([row])])]):
    ...     print(entry.words)
    RS: k, knit
    RS: k2tog, knit two together
    """
    used: dict[tuple[str, str], dict[str, str]] = {}
    extras: dict[str, None] = {}
    special: dict[str, None] = {}
    yarns: dict[str, None] = {}
    for grid in grids:
        _look(grid, used, extras, special)
        yarns |= dict.fromkeys(grid.yarns)
    if not grids:
        return ()
    entries = [
        (
            *sample,
            "; ".join(f"{side}: {_said(key, grids[0])}" for side, key in sorted(sides.items())),
        )
        for sample, sides in sorted(used.items(), key=lambda one: _rank(one[0]))
    ]
    entries += [("extra", extra, EXTRA[extra][0]) for extra in EXTRA if extra in extras]
    entries += [("special", kind, _SPECIAL[kind]) for kind in _SPECIAL if kind in special]
    told = [
        KeyEntry(*entry, mirrored=grids[0].mirrored, crossing=_crossing_of(entry, grids[0]))
        for entry in entries
    ]
    colours, places = grids[0].colours, yarn_places(grids)
    told += [
        KeyEntry("yarn", str(places[name]), f"yarn {name}", colour=colours.get(name, ""))
        for name in yarns
    ]
    return tuple(told)


def _crossing_of(entry: tuple[str, str, str], grid: Grid) -> Stitch | None:
    return grid.stitches[entry[1].split(" ")[1]] if entry[0] == "crossing" else None


def _look(
    grid: Grid,
    used: dict[tuple[str, str], dict[str, str]],
    extras: dict[str, None],
    special: dict[str, None],
) -> None:
    """Note what a chart uses."""
    for row in grid.rows:
        if len(row.cells) < grid.width:
            special["no stitch"] = None
        filled = grid.amid_crossings(row)
        for cell in row.cells:
            if cell.stitch == WAITING:
                special["waiting"] = None
            elif cell.column in filled:
                continue
            elif cell.stitch == MORE:
                special["more"] = None
            elif cell.stitch in grid.stitches and grid.stitches[cell.stitch].is_crossing:
                sample = ("crossing", f"{row.side.value} {cell.stitch}")
                used.setdefault(sample, {})[row.side.value] = cell.stitch
            else:
                symbol = symbol_for(cell.stitch, row.side.value, grid.stitches)
                sample = ("symbol", symbol.name) if symbol else ("words", cell.stitch)
                used.setdefault(sample, {})[row.side.value] = cell.stitch
                if cell.extra:
                    extras[cell.extra] = None
        if row.turning_column() is not None:
            special["wrap" if row.ends == "wrap" else "turn"] = None


def draw_key(grid: Grid, top: float, text: float) -> tuple[list[ET.Element], float, float]:
    """Return the key, how far it reaches to the right, and down; `text` is the letters' size."""
    entries = key_entries([grid])
    lines_of = [_halved(entry.words, _LONG_ENTRY) for entry in entries]
    room = max((entry.squares for entry in entries), default=1) * SQUARE
    each = max(SQUARE, text) + 5 + (text if any(len(lines) > 1 for lines in lines_of) else 0)
    found = [label(8, top, "Key", size=text + 0.5, font_weight="bold")]
    wide = max((text_width(line, text) for lines in lines_of for line in lines), default=0)
    wide += room + 24
    columns = max(1, min(3, int((grid.width * SQUARE + 120) / wide), len(entries)))
    tall = -(-len(entries) // columns)
    for at, entry in enumerate(entries):
        x, y = 8 + at // tall * wide, top + 8 + at % tall * each
        sample = _sample(entry, x, y)
        said = [
            label(x + room + 8, y + SQUARE * 0.5 + text * (0.35 + down), line, size=text)
            for down, line in enumerate(lines_of[at])
        ]
        found.append(
            group((*sample, *said), class_="key", data_kind=entry.kind, data_which=entry.which)
        )
    bottom = top + 8 + tall * each
    notes = [line for note in key_notes(grid) for line in _halved(note)]
    found += [
        label(8, bottom + 12 + (text + 2) * at, note, size=text) for at, note in enumerate(notes)
    ]
    broad = text_width(max(notes, key=len), text) + 16
    return found, max(8 + columns * wide, broad), bottom + 4 + (text + 2) * len(notes)


def _halved(note: str, longest: int = 70) -> list[str]:
    """Break a long note where it lets a narrow chart stay narrow."""
    if len(note) < longest:
        return [note]
    cut = note.index(" ", len(note) // 2)
    return [note[:cut], note[cut + 1 :]]


def _said(stitch: str, grid: Grid) -> str:
    name = grid.stitches[stitch].name if stitch in grid.stitches else stitch
    if stitch in grid.stitches and grid.stitches[stitch].is_crossing:
        return f"{spelt(stitch)}, {name.split(': ', 1)[-1]}"
    return name if name == stitch else f"{_WRITTEN.get(stitch, stitch)}, {name}"


def _rank(sample: tuple[str, str]) -> int:
    names = list(_NAMES)
    return names.index(sample[1]) if sample[1] in _NAMES else len(names)


def _sample(entry: KeyEntry, x: float, y: float) -> list[ET.Element]:
    kind, which, mirrored = entry.kind, entry.which, entry.mirrored
    box = rect(x, y, entry.squares * SQUARE, SQUARE, stroke="#555555", stroke_width=0.8)
    if entry.crossing is not None:
        side = which.split(" ")[0]
        sign = draw_crossing(
            entry.crossing, x, y, SQUARE, from_right=(side == "RS") != mirrored,
            right_side=side == "RS",
        )  # fmt: skip
        return [*sign, box]
    if kind == "symbol":
        return [box, *draw_symbol(_NAMES.get(which) or drawn(which), x, y, "", mirrored=mirrored)]
    if kind == "extra":
        return [box, path(placed(EXTRA[which][1], x, y, mirrored=mirrored), stroke_width=1)]
    if kind == "yarn":
        return [*draw_yarn(int(which), x, y, "", entry.colour), box]
    if kind == "words":
        return [box, *draw_words(which, x, y)]
    return [box, *_special(which, x, y)]


def _special(which: str, x: float, y: float) -> list[ET.Element]:
    if which == "no stitch":
        return [draw_no_stitch(x, y, 1)]
    if which == "more":
        return [path(f"M{number(x + 3)} {number(y + SQUARE * 0.75)}h8", stroke_width=1.4)]
    if which == "turn":
        return [line(x, y, x, y + SQUARE, stroke_width=2.2)]
    found = [path(placed(WAITS, x, y), stroke=GREY, stroke_width=0.9)]
    if which == "wrap":
        found.append(path(placed(WRAP, x, y),
                          stroke_width=1.2))  # fmt: skip
    return found


guard(globals())
