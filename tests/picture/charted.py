"""Pieces to draw, small enough to count by eye."""

from __future__ import annotations

from hypothesis import strategies as st

from loopwright.fabric.stitches import STITCHES
from loopwright.pattern import (
    Arrange,
    CastOn,
    Join,
    On,
    Part,
    Pattern,
    Repeat,
    RepeatRounds,
    Round,
    Row,
    Run,
    Section,
    Sized,
    UntilCount,
    UseYarn,
    WrapTurn,
    k,
    k_to,
    knit_round,
    knit_rounds,
    p,
    p_to,
)

WEDGE = [k(1), Run("ssk"), k_to(before=3), Run("k2tog"), k(1)]
TOE = Pattern(
    "Sock",
    (
        CastOn((24, 32)),
        Join(),
        Arrange([("instep", Sized((12, 16))), ("sole", Sized((12, 16)))]),
        Section("Foot"),
        knit_rounds(3),
        Section("Toe"),
        RepeatRounds([Round([On((), WEDGE)]), knit_round()], UntilCount(8), ending=1),
    ),
    sizes=("S", "M"),
)
RIB = Pattern("Rib", [CastOn(24), Join(), RepeatRounds([Round([Repeat([k(2), p(2)])])], 10)])
SHORT_ROWS = Pattern(
    "Heel",
    [
        CastOn(12),
        Row([k(9), WrapTurn()], side="RS"),
        Row([p(6), WrapTurn()], side="WS"),
        Row([k(6), Run("k", 1, True), k_to()], side="RS"),
        Row([p(9), Run("p", 1, True), p_to()], side="WS"),
    ],
)

STRANDED = Pattern(
    "Stranded",
    [
        UseYarn("sand"),
        CastOn(12),
        Join(),
        Part([k(1)]),
        UseYarn("slate"),
        Part([k(4)]),
        UseYarn("sand"),
        Round([k(7)]),
        UseYarn("rust"),
        Round([Repeat([k(1), p(1)])]),
        UseYarn("sand"),
        knit_round(),
    ],
)

_PLAIN = ["k", "p", "ktbl", "ptbl", "sl", "slf"]
_SHAPED = ["k2tog", "ssk", "skp", "p2tog", "ssp", "yo", "kfb", "cdd", "k3tog", "sssk"]


@st.composite
def worked_rows(draw: st.DrawFn) -> tuple[Pattern, list[list[str]]]:
    """A piece in rounds or in rows, with the stitches of each row in the order of working."""
    in_rounds = draw(st.booleans())
    live = draw(st.integers(6, 12))
    steps: list[object] = [CastOn(live), *([Join()] if in_rounds else [])]
    rows = []
    for number in range(draw(st.integers(1, 5))):
        left = live
        keys: list[str] = []
        while left:
            key = draw(st.sampled_from(_PLAIN + _SHAPED))
            row = STITCHES[key]
            # A yarn over needs a stitch on either side of it.
            if row.takes > left or (key == "yo" and (not keys or keys[-1] == "yo" or left < 2)):
                key, row = "k", STITCHES["k"]
            keys.append(key)
            left -= row.takes
        if all(STITCHES[key].makes == 0 for key in keys):
            keys[0] = "k"
        live = sum(STITCHES[key].leaves for key in keys)
        rows.append(keys)
        items = [Run(key) for key in keys]
        side = "WS" if number % 2 else "RS"
        steps.append(Round(items) if in_rounds else Row(items, side=side))
        if live < 3:
            break
    return Pattern("Any", steps), rows  # type: ignore[arg-type]
