"""Cabled socks: a panel of crossings on leg and instep, through the heels, in both directions."""

from __future__ import annotations

import pytest

from loopwright import derive, knit, read, review, write
from loopwright.design import read_design, write_design
from loopwright.fabric import Fabric, check, same_fabric
from loopwright.fabric.columns import CROSSED
from loopwright.pattern import explained
from loopwright.picture import chart, read_chart
from loopwright.sock import Direction, heel_names

DESIGN = """
title = "Rope walk"
direction = "{direction}"
gauge = {{stitches = 20, rounds = 28, over = "10 cm"}}
[[yarns]]
name = "A"
[[yarns]]
name = "B"
parts = ["heel"]
[heel]
kind = "{heel}"
[panel]
rounds = ["*p1, c5p, p1, C4B; rep from *, p1", "*p1, k2, p1, k2, p1, k4; rep from *, p1"]
[[stitches]]
key = "c5p"
name = "{name}"
[[sizes]]
name = "S"
length = "20 cm"
[[sizes]]
name = "L"
length = "30 cm"
ball_girth = "29 cm"
"""
PLAIT = (
    "sl 3 sts to cn and hold in back, k2, sl the last st from cn back to left needle, p1, "
    "k2 from cn"
)


def crossings_counted(fabric: Fabric) -> int:
    """Pairs of through edges whose order changes, counted from parents and children alone."""
    edges = ((fabric.info & CROSSED) != 0).nonzero()[0]
    found, group = 0, list[tuple[int, int]]()
    for parent, child in zip(
        fabric.parent[edges].tolist(), fabric.child[edges].tolist(), strict=True
    ):
        if group and child != group[-1][1] + 1:
            group = []
        found += sum(parent < other for other, _ in group)
        group.append((parent, child))
    return found


@pytest.mark.parametrize("direction", Direction, ids=lambda d: d.value)
@pytest.mark.parametrize("heel", heel_names())
def test_through_every_heel(heel: str, direction: Direction) -> None:
    told = read_design(DESIGN.format(direction=direction.value, heel=heel, name=PLAIT))
    name, sock = told.design.socks[0]
    fabric = sock.fabric()
    assert name == "S"
    report = check(fabric, openings=1)
    assert report.ok
    assert {flaw.kind for flaw in report.findings} <= {"gaps"}  # corners in a yarn of their own
    assert fabric.euler_characteristic == 2
    assert fabric.surface.crossings == crossings_counted(fabric) > 100
    text = write(explained(sock.pattern(), stitches=sock.table))
    assert same_fabric(knit(read(text)), fabric)  # the text defines what it uses


def test_three_ways_round() -> None:
    """Design to design, text to fabric, fabric to instructions; a wide foot takes more repeats."""
    told = read_design(DESIGN.format(direction="toe up", heel="short-row", name=PLAIT))
    assert read_design(write_design(told.design)).design == told.design
    repeats = []
    for _, sock in told.design.socks:
        panel = sock.plan().panel
        assert panel is not None
        repeats.append(panel.repeats)
    assert repeats[0] < repeats[1]
    _, sock = told.design.socks[0]
    fabric = sock.fabric()
    assert same_fabric(knit(derive(fabric), stitches=sock.table), fabric)
    findings = review(write(explained(sock.pattern(), stitches=sock.table))).findings
    assert [one for one in findings if one.severity != "note"] == []


def test_its_leg_is_charted_and_read_back() -> None:
    told = read_design(DESIGN.format(direction="toe up", heel="short-row", name=PLAIT))
    _, sock = told.design.socks[0]
    drawn = chart(sock.pattern(), "Leg", stitches=sock.table)
    again = read_chart(drawn.svg(), stitches=sock.table)
    assert again == drawn
    keys = {cell.stitch for row in drawn.rows for cell in row.cells}
    assert {"c5p", "2/2rc"} <= keys
