"""The shapes mean what the trade says, and look alike on both sides where the core says so."""

from __future__ import annotations

import csv
from pathlib import Path

from loopwright.fabric.stitches import STITCHES, Kind
from loopwright.making._plan import plan
from loopwright.picture._symbols import SYMBOLS, Symbol, stitch_shown, symbol_for
from together import together

TABLE = Path(__file__).resolve().parents[2] / "shared" / "chart_symbols.csv"


def conventions() -> list[dict[str, str]]:
    lines = [line for line in TABLE.read_text("utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


@together("row", conventions())
def test_the_trade_association_s_meanings(row: dict[str, str]) -> None:
    shape = {symbol.name: symbol for symbol in SYMBOLS}[row["shape"]]
    assert symbol_for(row["rs"], "RS") == shape
    if row["ws"]:
        assert symbol_for(row["ws"], "WS") == shape
        assert stitch_shown(shape, "WS") == row["ws"]


def seen_from_the_right_side(key: str, *, wrong_side: bool) -> list[tuple[int, int, int]]:
    """Edges of one stitch: parent from the right, loop from the right, rank and face."""
    run = plan(STITCHES, (key,))
    info = run.info_back if wrong_side else run.info_front
    width, made = run.takes + len(run.lifts), run.makes
    edges = []
    for parent, child, bits in zip(
        run.parent.tolist(), run.child.tolist(), info.tolist(), strict=True
    ):
        if wrong_side:
            parent, child = width - 1 - parent, made - 1 - child
        edges.append((parent, child, bits))
    return sorted(edges)


@together(
    "symbol",
    [s for s in SYMBOLS if s.ws and STITCHES[s.rs].kind is not Kind.SLIPPED],
)
def test_both_stitches_of_a_shape_look_alike_from_the_right_side(symbol: Symbol) -> None:
    front = seen_from_the_right_side(symbol.rs, wrong_side=False)
    assert front == seen_from_the_right_side(symbol.ws, wrong_side=True)


def test_the_check_on_looks_can_fail() -> None:
    front = seen_from_the_right_side("k2tog", wrong_side=False)
    assert front != seen_from_the_right_side("ssp", wrong_side=True)


def test_a_slip_leaves_its_yarn_on_the_same_side_of_the_fabric() -> None:
    for symbol in SYMBOLS:
        if symbol.rs != "ds" and STITCHES[symbol.rs].kind is Kind.SLIPPED:
            row = STITCHES[symbol.rs]
            other = STITCHES[symbol.ws]
            assert row.yarn_in_front != other.yarn_in_front
            assert row.knitwise == other.knitwise


def test_no_two_shapes_are_drawn_alike_or_stand_for_the_same_work() -> None:
    assert len({(s.strokes, s.solid) for s in SYMBOLS}) == len(SYMBOLS)
    for side in ("rs", "ws"):
        keys = [getattr(s, side) for s in SYMBOLS if getattr(s, side)]
        assert len(keys) == len(set(keys))


def test_shapes_stay_within_their_square() -> None:
    for symbol in SYMBOLS:
        text = "".join(
            c if c.isdigit() or c in ".-" else " " for c in symbol.strokes + symbol.solid
        )
        assert all(0 <= float(part) <= 1 for part in text.split()), symbol.name


def test_every_stitch_of_the_table_that_is_worked_has_a_shape_on_the_right_side() -> None:
    # Not charted: what stands between rows (lifted strands, wraps, grafts, closed cast-ons).
    apart = {"lift", "wrap", "graft", "cc"}
    drawn = (row for row in STITCHES if not row.is_crossing)  # those are drawn by their row
    assert {row.key for row in drawn if symbol_for(row.key, "RS") is None} == apart
