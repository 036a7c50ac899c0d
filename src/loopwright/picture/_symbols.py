"""Chart symbols: which shape stands for which stitch on either side of the work.

A chart shows the right side. So one shape stands for one stitch on a right-side row and for
another on a wrong-side row: both look alike from the right side. The meanings follow the chart
conventions of the yarn trade association (from memory, see `shared/chart_symbols.csv`);
stitches that it leaves out have shapes of our own. There is no binding standard, so every chart
prints its own key.

Shapes are drawn here, in a square that runs from (0, 0) at the top left to (1, 1).
"""

from __future__ import annotations

from functools import cache

import attrs

from loopwright.fabric.stitches import STITCHES, StitchTable

__all__ = ["SYMBOLS", "Symbol", "drawn", "stitch_shown", "symbol_for"]


@attrs.frozen
class Symbol:
    """One shape.

    Parameters
    ----------
    name : str
        The shape in words.
    rs, ws : str
        Key of the stitch on right-side and on wrong-side rows; ``""`` where it stands for none.
    strokes : str
        Path data of what is drawn as a line.
    solid : str
        Path data of what is filled.
    """

    name: str
    rs: str
    ws: str
    strokes: str = ""
    solid: str = ""


def _disc(x: float, y: float, radius: float) -> str:
    return (
        f"M{x - radius} {y}A{radius} {radius} 0 1 0 {x + radius} {y}"
        f"A{radius} {radius} 0 1 0 {x - radius} {y}Z"
    )


_SLASH = "M.18 .85L.82 .15"  # rises to the right
_BACKSLASH = "M.82 .85L.18 .15"  # rises to the left
_TENT = "M.15 .82L.5 .18L.85 .82"
_V = "M.2 .2L.5 .78L.8 .2"
_M_LEFT, _M_RIGHT = "M.09 .8V.22L.36 .6L.63 .22V.8", "M.37 .8V.22L.64 .6L.91 .22V.8"
_WEDGE_LEFT, _WEDGE_RIGHT = "M.05 .5L.28 .32V.68Z", "M.95 .5L.72 .32V.68Z"

SYMBOLS = (
    Symbol("empty square", "k", "p"),
    Symbol("dot", "p", "k", solid=_disc(0.5, 0.5, 0.14)),
    Symbol("slash", "k2tog", "p2tog", _SLASH),
    Symbol("backslash", "ssk", "ssp", _BACKSLASH),
    Symbol("slash with a dot", "p2tog", "k2tog", _SLASH, _disc(0.73, 0.7, 0.11)),
    Symbol("backslash with a dot", "ssp", "ssk", _BACKSLASH, _disc(0.27, 0.7, 0.11)),
    Symbol("backslash with a foot", "skp", "", _BACKSLASH + "M.6 .85H.95"),
    Symbol("slash with a second stroke", "k3tog", "p3tog", _SLASH + "M.5 .5V.87"),
    Symbol("backslash with a second stroke", "sssk", "", _BACKSLASH + "M.5 .5V.87"),
    Symbol("slash with a second stroke and a dot", "p3tog", "k3tog", _SLASH + "M.5 .5V.87",
           _disc(0.76, 0.7, 0.1)),
    Symbol("tent", "cdd", "", _TENT + "M.5 .18V.82"),
    Symbol("tent, its left leg thick", "sk2p", "", _TENT, "M.5 .18L.15 .82H.34Z"),
    Symbol("tent, its right leg thick", "rdd", "", _TENT, "M.5 .18L.85 .82H.66Z"),
    Symbol("circle", "yo", "", _disc(0.5, 0.5, 0.28)),
    Symbol("V", "sl", "slf", _V),
    Symbol("V over a bar", "slf", "sl", _V + "M.2 .88H.8"),
    Symbol("V with a hook", "slk", "slkf", _V + "M.8 .2H.95"),
    Symbol("V with a hook over a bar", "slkf", "slk", _V + "M.8 .2H.95M.2 .88H.8"),
    Symbol("crossed loop", "ktbl", "ptbl", "M.3 .85C.95 .4 .75 .12 .5 .12S.05 .4 .7 .85"),
    Symbol("crossed loop with a dot", "ptbl", "ktbl",
           "M.3 .85C.95 .4 .75 .12 .5 .12S.05 .4 .7 .85", _disc(0.5, 0.33, 0.1)),
    Symbol("M, a wedge to the left", "m1l", "m1lp", _M_RIGHT, _WEDGE_LEFT),
    Symbol("M, a wedge to the right", "m1r", "m1rp", _M_LEFT, _WEDGE_RIGHT),
    Symbol("M, a wedge to the left and a dot", "m1lp", "m1l", _M_RIGHT,
           _WEDGE_LEFT + _disc(0.64, 0.84, 0.1)),
    Symbol("M, a wedge to the right and a dot", "m1rp", "m1r", _M_LEFT,
           _WEDGE_RIGHT + _disc(0.36, 0.84, 0.1)),
    Symbol("fork", "kfb", "", "M.5 .88V.55L.22 .15M.5 .55L.78 .15"),
    Symbol("fork with a dot", "pfb", "", "M.5 .88V.55L.22 .15M.5 .55L.78 .15",
           _disc(0.5, 0.24, 0.1)),
    Symbol("fork of three", "kpk", "", "M.5 .88V.15M.5 .6L.2 .15M.5 .6L.8 .15"),
    Symbol("plus", "pu", "", "M.5 .18V.82M.18 .5H.82"),
    Symbol("bar at the foot", "co", "", "", "M.12 .7H.88V.86H.12Z"),
    Symbol("lens", "bo", "", "", "M.1 .5Q.5 .15 .9 .5Q.5 .85 .1 .5Z"),
    Symbol("two legs", "ds", "", "M.3 .85V.4A.2 .2 0 0 1 .7 .4V.85"),
)  # fmt: skip

# What is on the wrong side as it is on the right side: the shape stands for a way of working, not
# for a look (a yarn over, a cast-on); where both sides look alike there is nothing to exchange.
_SAME_ON_BOTH = ("yo", "co", "bo", "ds", "pu")


@cache
def _by_work() -> dict[tuple[str, str], Symbol]:
    found = {("RS", symbol.rs): symbol for symbol in SYMBOLS}
    found |= {("WS", symbol.ws): symbol for symbol in SYMBOLS if symbol.ws}
    found |= {("WS", key): found["RS", key] for key in _SAME_ON_BOTH}
    return found


@cache
def drawn(description: str) -> Symbol:
    """Return the shape that a stitch of one's own describes: lines, dots and rings.

    Examples
    --------
    >>> drawn("line .2 .8 .8 .2").strokes
    'M.2 .8L.8 .2'
    """
    strokes, solid = "", ""
    for shape in description.split(";"):
        kind, *numbers = shape.split()
        if kind == "line":
            spots = [" ".join(numbers[at : at + 2]) for at in range(0, len(numbers), 2)]
            strokes += "M" + "L".join(spots)
        elif kind == "ring":
            strokes += _disc(float(numbers[0]), float(numbers[1]), 0.28)
        else:
            solid += _disc(float(numbers[0]), float(numbers[1]), 0.12)
    return Symbol(description, "", "", strokes, solid)


def symbol_for(stitch: str, side: str, table: StitchTable = STITCHES) -> Symbol | None:
    """Return the shape for a stitch worked on a side; None where words must do.

    A stitch of one's own in the table has the shape that it describes.

    Examples
    --------
    >>> symbol_for("p2tog", "WS").name
    'slash'
    """
    if table is not STITCHES and stitch in table and table[stitch].symbol:
        return drawn(table[stitch].symbol)
    return _by_work().get((side, stitch))


def stitch_shown(symbol: Symbol, side: str) -> str:
    """Return the stitch that a shape stands for on a side, ``""`` if for none."""
    if side == "RS" or symbol.rs in _SAME_ON_BOTH:
        return symbol.rs
    return symbol.ws
