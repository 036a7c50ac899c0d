"""Crossings in charts and graphs: as wide as their stitches, in front what lies in front.

How a cable is drawn is general chart practice: one sign over all its squares (common practice).
"""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fabric.pieces import cabled_tube, tube
from loopwright import knit, read
from loopwright.fabric import STITCHES, Stitch, same_fabric
from loopwright.making import Hand
from loopwright.picture import chart, draw_graph, draw_surroundings, read_chart
from loopwright.picture._crossing_shape import draw_crossing
from loopwright.picture.grid_key import key_entries

CROSSED = sorted(row.key for row in STITCHES if row.is_crossing)
PANEL = """
Cast on 24 sts. Join in the round.
Rnd 1: *P2, 2/2 LC, p2, 2/1 RPC, k1; rep from * to end.
Rnds 2-4: *P2, k4, p2, k2, p1, k1; rep from * to end.
Rnd 5: *P2, 2/2 RC, p2, RT, LT; rep from * to end.
"""


@pytest.mark.parametrize("hand", Hand)
def test_a_panel_is_drawn_and_read_back(hand: Hand) -> None:
    pattern = read(PANEL)
    drawn = chart(pattern, hand=hand)
    assert drawn.across == 2  # a repeat that ends within no crossing
    for text in (drawn.svg(), drawn.to_csv()):
        again = read_chart(text)
        assert again == drawn
        assert same_fabric(knit(again.pattern(), hand=hand), knit(pattern, hand=hand))


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.lists(st.sampled_from(CROSSED), max_size=3), min_size=1, max_size=4), st.booleans()
)
def test_rows_of_crossings_read_back(rows: list[list[str]], in_rounds: bool) -> None:
    count = 40
    said = []
    for number, keys in enumerate(rows, start=1):
        rest = count - sum(STITCHES[key].takes for key in keys)
        side = "" if in_rounds else f" ({'RS' if number % 2 else 'WS'})"
        label = "Rnd" if in_rounds else "Row"
        said.append(f"{label} {number}{side}: {', '.join([*keys, f'k{rest}'])}.")
    join = "Join in the round." if in_rounds else ""
    pattern = read(f"Cast on {count} sts. {join}\n" + "\n".join(said))
    drawn = chart(pattern, folded=False)
    again = read_chart(drawn.to_csv())
    assert again == drawn
    assert same_fabric(knit(again.pattern()), knit(pattern))


def ends(row: Stitch, *, from_right: bool, right_side: bool) -> list[tuple[float, float]]:
    """Where each band stands at its foot and its head: from the left, the last drawn in front."""
    found = []
    for shape in draw_crossing(row, 0, 0, 1, from_right=from_right, right_side=right_side):
        if shape.get("class") == "band":
            numbers = [float(one) for one in re.findall(r"[\d.]+", shape.get("d") or "")]
            found.append((numbers[0], numbers[2]))
    return found


def test_signs_lean_as_the_fabric_does() -> None:
    left, right = STITCHES["2/2lc"], STITCHES["2/2rc"]
    assert ends(left, from_right=True, right_side=True)[-1] == pytest.approx((2.14, 0.14))
    assert ends(right, from_right=True, right_side=True)[-1] == pytest.approx((0.14, 2.14))
    # Worked on the wrong side, what the knitter holds in front lies behind.
    assert ends(left, from_right=False, right_side=False)[-1] == pytest.approx((2.14, 0.14))
    assert ends(left, from_right=False, right_side=True)[-1] == pytest.approx((0.14, 2.14))


def test_a_purl_behind_has_its_dots() -> None:
    def dots(key: str) -> int:
        drawn = draw_crossing(STITCHES[key], 0, 0, 14, from_right=True, right_side=True)
        return sum("A" in (shape.get("d") or "") for shape in drawn)

    assert (dots("2/1rc"), dots("2/1rpc"), dots("2/2lpc")) == (0, 2, 4)


def test_the_key_shows_what_is_used_once_and_as_wide() -> None:
    entries = key_entries([chart(read(PANEL))])
    crossed = {entry.words.split(",")[0]: entry.squares for entry in entries if entry.crossing}
    assert crossed == {
        "RS: 2/2 LC": 4, "RS: 2/1 RPC": 3, "RS: 2/2 RC": 4, "RS: RT": 2, "RS: LT": 2,
    }  # fmt: skip
    assert not any("a further stitch" in entry.words for entry in entries)


def test_a_graph_shows_cells_beside_a_crossing_and_hides_what_is_behind() -> None:
    work = tube(10, 3)
    work.round(["k"] * 3 + ["2/2lc"] + ["k"] * 3)
    work.plain_rounds(2)
    drawn = ET.fromstring(draw_graph(work.fabric()).svg())
    cells = [one.get("data-edges") for one in drawn.iter() if one.get("class") == "cell"]
    assert sorted(cell for cell in cells if cell) == ["3", "3", "5", "5"]
    near = draw_surroundings(cabled_tube().fabric(), [45, 46])
    assert "loops, seen from the right side" in near.description
