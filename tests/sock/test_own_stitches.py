"""A stitch of one's own: in a panel, a sock, a design file, its report and its chart."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from loopwright.cli import main
from loopwright.design import read_design
from loopwright.errors import DesignError, StitchDefinitionError
from loopwright.fabric import STITCHES, Stitch, check
from loopwright.fabric.files import from_json, to_json
from loopwright.fitting import fit
from loopwright.gauge import Gauge
from loopwright.pattern import read, write
from loopwright.picture import chart, read_chart
from loopwright.sock import Direction, Foot, Panel, Sock, StitchPattern
from together import together

BOBBLE = Stitch(
    "mb3", "make a bobble of three", makes=3, faces="kpk",
    symbol="ring .5 .5; dot .5 .5; line .1 .9 .9 .9",
)  # fmt: skip
BACK = Stitch("b3tog", "bobble together", takes=3, stack=(1, 0, 2))
MINE = STITCHES.with_stitch(BOBBLE).with_stitch(BACK)
# Four rounds: two stitches more in the second and third.
ROUNDS = ("mb3", "k3", "b3tog", "k1")
BUDS = StitchPattern.of([f"*p1, {one}, p1; rep from *" for one in ROUNDS], stitches=MINE)
FOOT = Foot.of(length="24 cm")


@pytest.mark.parametrize("direction", Direction, ids=lambda d: d.value)
@pytest.mark.parametrize("heel", ["forethought", "afterthought", "short-row"])
def test_a_sock_with_it(heel: str, direction: Direction) -> None:
    made = Sock(foot=FOOT, gauge=Gauge.of(20, 28), heel=heel, direction=direction,
                panel=Panel(pattern=BUDS))  # fmt: skip
    text = write(made.pattern())
    assert read(text, stitches=made.table) == made.pattern()
    fabric = made.fabric()
    assert fabric.euler_characteristic == 2
    assert check(fabric, openings=1).ok
    keys = [fabric.stitches.rows[code].key for code in fabric.stitch[fabric.ids].tolist()]
    fitted = made.plan().panel
    assert fitted is not None
    # Three loops a bobble; each is closed again by hand count.
    assert keys.count("mb3") == 3 * keys.count("b3tog") > 3 * fitted.repeats
    assert keys.count("b3tog") % fitted.repeats == 0
    if heel == "forethought":
        assert any("swatch" in note for note in fit(made).notes)


def test_a_chart_draws_its_symbol_and_is_read_back() -> None:
    """The square holds the lines that the stitch describes; one without any holds its key."""
    tube = read("Cast on 6 sts. Join in the round. Rnd 1: *P1, mb3, p1; rep from * to end. "
                "Rnd 2: *P1, b3tog, p1; rep from * to end.", stitches=MINE)  # fmt: skip
    drawn = chart(tube, stitches=MINE)
    svg = drawn.svg()
    assert svg.count('data-stitch="mb3"') >= 2
    assert "make a bobble of three" in svg
    assert ">b3tog<" in svg or ">b3<" in svg
    assert read_chart(svg, stitches=MINE) == drawn
    assert "dot" not in svg.split("make a bobble")[0][-40:]


def test_stitches_beside_a_bobble_stay_in_their_columns() -> None:
    """Common practice: squares stay empty where the bobble was, also beside the chart's edge."""
    rounds = " ".join(f"Rnd {at}: P1, {one}, p1, k9." for at, one in enumerate(ROUNDS * 2, start=1))
    drawn = chart(read(f"Cast on 12 sts. Join in the round. {rounds}", stitches=MINE),
                  stitches=MINE)  # fmt: skip
    purled = [{cell.column for cell in row.cells if cell.stitch == "p"} for row in drawn.rows]
    assert purled == [{0, 4}] * len(drawn.rows)
    assert read_chart(drawn.svg(), stitches=MINE) == drawn


@together("symbol", ["circle", "line .2 .8", "dot 2 3", "dot .5 .5;", "line a b c d"])
def test_a_symbol_that_says_nothing_is_refused(symbol: str) -> None:
    with pytest.raises(StitchDefinitionError, match="symbol"):
        Stitch("mine", "mine", symbol=symbol)


def test_a_fabric_file_holds_no_symbol() -> None:
    fabric = Sock(foot=FOOT, gauge=Gauge.of(20, 28), panel=Panel(pattern=BUDS)).fabric()
    told = to_json(fabric)
    assert "symbol" not in json.loads(told)["stitches"][0]
    assert from_json(told) == fabric


DESIGN = """
gauge = {stitches = 20, rounds = 28, over = "10 cm"}
foot = {length = "24 cm"}
[[stitches]]
key = "mb3"
name = "make a bobble of three"
makes = 3
faces = "kpk"
symbol = "ring .5 .5; dot .5 .5"
[[stitches]]
key = "b3tog"
name = "bobble together"
takes = 3
stack = [1, 0, 2]
[panel]
rounds = [
    "*p1, mb3, p1; rep from *", "*p1, k3, p1; rep from *", "*p1, b3tog, p1; rep from *",
    "*p1, k1, p1; rep from *",
]
"""


def test_a_design_brings_its_stitches(tmp_path: Path) -> None:
    made = read_design(DESIGN).design.socks[0][1]
    assert made.table["mb3"].makes == 3
    path, out = tmp_path / "buds.toml", tmp_path / "out"
    path.write_text(DESIGN, encoding="utf-8")
    assert main(["sock", str(path), "--out", str(out), "--quiet", "--document", "pattern"]) == 0
    text = (out / "pattern.txt").read_text(encoding="utf-8")
    assert "mb3 = make a bobble of three" in text
    assert "Panel rnd 1: [P1, mb3, p1]" in text


@together(
    ("old", "new", "key"),
    [
        ('key = "b3tog"', 'key = "mb3"', "stitches 2.key"),
        ('key = "b3tog"', "", "stitches 2"),
        ("stack = [1, 0, 2]", "stack = [1, 0]", "stitches 2"),
        ("makes = 3", 'makes = "three"', "stitches 1.makes"),
        ('symbol = "ring', 'symbol = "wring', "stitches 1"),
    ],
)
def test_a_design_is_refused_at_its_key(old: str, new: str, key: str) -> None:
    with pytest.raises(DesignError) as refused:
        read_design(DESIGN.replace(old, new, 1))
    assert refused.value.key == key
