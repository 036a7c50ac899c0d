"""Charts agree with the pattern they come from, and can be read back."""

from __future__ import annotations

import csv
import re
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loopwright.errors import PictureError, UnknownStitchError
from loopwright.fabric import same_fabric
from loopwright.fabric.stitches import STITCHES, Kind, Stitch
from loopwright.gauge import Gauge
from loopwright.making import Hand
from loopwright.pattern import Pattern, ProvisionalCastOn, Side, read, write
from loopwright.pattern._knit import knit
from loopwright.picture._chart import Chart, chart, charts, read_chart
from loopwright.picture.grid import MORE, WAITING, ChartRow
from loopwright.sock._sock import Sock
from loopwright.sock.foot import Foot
from loopwright.sock.heels import Flap, Heel, heel_names
from picture.charted import RIB, SHORT_ROWS, STRANDED, TOE, worked_rows
from together import together

SVG = "{http://www.w3.org/2000/svg}"


def elements(svg: str, kind: str) -> list[ET.Element]:
    return [node for node in ET.fromstring(svg).iter() if node.get("class") == kind]


# what the squares say


@settings(max_examples=60, deadline=None)
@given(worked_rows())
def test_each_row_holds_the_stitches_worked_in_columns_that_rise(
    worked: tuple[Pattern, list[list[str]]],
) -> None:
    pattern, rows = worked
    drawn = list(chart(pattern, folded=False).rows)
    assert [[cell.stitch for cell in row.worked] for row in drawn] == rows
    live = drawn and chart(pattern).start
    for row, keys in zip(drawn, rows, strict=True):
        columns = [cell.column for cell in row.cells]
        assert columns == sorted(set(columns))
        assert sum(STITCHES[key].takes for key in keys) == live
        assert len(row.cells) == row.count == sum(STITCHES[key].leaves for key in keys)
        live = row.count


@settings(max_examples=40, deadline=None)
@given(worked_rows(), st.booleans())
def test_a_chart_read_back_knits_the_same_fabric(
    worked: tuple[Pattern, list[list[str]]], folded: bool
) -> None:
    pattern, _ = worked
    drawn = chart(pattern, folded=folded)
    for text in (drawn.svg(), drawn.to_csv()):
        again = read_chart(text)
        assert again == drawn
        assert same_fabric(knit(again.pattern()), knit(pattern))


@pytest.mark.parametrize("pattern", [RIB, SHORT_ROWS], ids=lambda pattern: pattern.title)
def test_repeats_and_short_rows_read_back(pattern: Pattern) -> None:
    assert same_fabric(knit(read_chart(chart(pattern).svg()).pattern()), knit(pattern))


@settings(max_examples=40, deadline=None)
@given(worked_rows())
def test_the_picture_shows_each_square_where_its_column_is(
    worked: tuple[Pattern, list[list[str]]],
) -> None:
    drawn = chart(worked[0], folded=False)
    svg = drawn.svg()
    rows = elements(svg, "row")
    assert [node.get("data-round") for node in rows] == [str(row.number) for row in drawn.rows]
    shapes = [
        [node.get("data-stitch") for node in row if node.get("class") == "symbol"] for row in rows
    ]
    blank = {("k", Side.RS), ("p", Side.WS)}
    assert shapes == [
        [c.stitch for c in row.cells if c.stitch != MORE and (c.stitch, row.side) not in blank]
        for row in drawn.rows
    ]
    empty = sum(int(node.get("data-squares", 0)) for node in elements(svg, "no-stitch"))
    key = any(node.get("data-which") == "no stitch" for node in elements(svg, "key"))
    assert empty - key == sum(drawn.width - len(row.cells) for row in drawn.rows)


def test_the_toe_by_hand() -> None:
    toe = chart(TOE, "Toe", size="S")
    assert [row.count for row in toe.rows] == [20, 20, 16, 16, 12, 12, 8]
    first = {cell.column: cell.stitch for cell in toe.rows[0].cells if cell.stitch != "k"}
    # From the right: k1, ssk, 6 knit, k2tog, k1; then the other half.
    assert first == {1: "ssk", 8: "k2tog", 11: "ssk", 18: "k2tog"}
    assert {cell.column for cell in toe.rows[-1].cells} == {3, 4, 5, 6, 13, 14, 15, 16}
    assert chart(TOE, "Toe", size="M").rows[0].count == 28


def test_left_and_right_are_those_of_the_right_side() -> None:
    # ssk leans left and is worked first, so it stands at the right (common practice).
    toe = chart(TOE, "Toe", size="S")
    half = [cell for cell in toe.rows[0].cells if cell.column < 10]
    columns = {cell.stitch: cell.column for cell in half}
    assert columns["ssk"] < columns["k2tog"]
    x = {
        node.get("data-stitch"): float(node.get("d", "").removeprefix("M").split()[0])
        for node in elements(toe.svg(), "row")[0]
        if node.get("class") == "symbol"
    }
    assert x["ssk"] > x["k2tog"]  # both of the left half: the later overwrites the earlier


def test_a_left_handed_chart_is_the_mirror_image() -> None:
    """What leans left for others leans right, and stands on the other side of the half."""
    right, left = (elements(chart(TOE, "Toe", size="S", hand=hand).svg(), "row") for hand in Hand)
    for one, other in zip(right, left, strict=True):
        spots = [
            [
                (node.get("data-stitch"), float(node.get("d", "")[1:].split("L")[0].split()[0]))
                for node in row
                if node.get("class") == "symbol"
            ]
            for row in (one, other)
        ]
        assert [stitch for stitch, _ in spots[0]] == [stitch for stitch, _ in spots[1]]
        sums = {round(a + b, 1) for (_, a), (_, b) in zip(*spots, strict=True)}
        assert len(sums) <= 1  # all mirrored about one line


def test_a_left_handed_chart_is_read_from_the_left() -> None:
    """Round numbers stand at the left, wrong-side rows' at the right."""
    for pattern in (TOE, SHORT_ROWS):
        (drawn,) = charts(pattern, size="S" if pattern is TOE else None, hand=Hand.LEFT)[-1:]
        svg = drawn.svg()
        middle = float(ET.fromstring(svg).get("viewBox", "").split()[2]) / 2
        for row, node in zip(drawn.rows, elements(svg, "number"), strict=True):
            assert (float(node.get("x", "")) < middle) == (row.side is Side.RS)
        assert "left-handed" in svg


@settings(max_examples=25, deadline=None)
@given(worked_rows())
def test_a_left_handed_chart_read_back_knits_the_same_fabric(
    worked: tuple[Pattern, list[list[str]]],
) -> None:
    drawn = chart(worked[0], hand=Hand.LEFT)
    for text in (drawn.svg(), drawn.to_csv()):
        again = read_chart(text)
        assert again == drawn
        made = knit(again.pattern(), hand=again.hand)
        assert same_fabric(made, knit(worked[0], hand=Hand.LEFT))


def test_numbers_stand_where_the_row_starts() -> None:
    svg = chart(SHORT_ROWS).svg()
    lattice = elements(svg, "lattice")[0].get("d", "")
    left = min(float(part.split()[0]) for part in lattice.split("M")[1:])
    numbers = {node.text: float(node.get("x", 0)) for node in elements(svg, "number")}
    assert numbers["1"] > left
    assert numbers["3"] > left
    assert numbers["2"] < left
    assert numbers["4"] < left


def test_short_rows_show_what_waits_and_where_the_work_turns() -> None:
    drawn = chart(SHORT_ROWS)
    assert [row.turning_column() for row in drawn.rows] == [9, 2, None, None]
    assert [sum(cell.stitch == WAITING for cell in row.cells) for row in drawn.rows] == [3, 6, 3, 0]
    assert [cell.column for cell in drawn.rows[3].cells if cell.extra == "wraps"] == [2]
    svg = drawn.svg()
    assert len(elements(svg, "wrap")) == len(elements(svg, "turn")) == 2


def heel_rows(name: str | Heel, to: str) -> tuple[Pattern, list[ChartRow]]:
    foot, gauge = Foot.of(length="245 mm", ball_girth="228 mm"), Gauge.of(24, 34)
    pattern = Sock(foot=foot, gauge=gauge, heel=name, direction=to).pattern()
    return pattern, [row for one in charts(pattern, section="Heel") for row in one.all_rows()]


@pytest.mark.parametrize("name", ["short-row", "short-row with gusset", "flap"])
def test_a_wrap_is_marked_where_one_is_taken_up_and_nowhere_else(name: str) -> None:
    pattern, rows = heel_rows(name, "toe up")
    fabric = knit(pattern)
    wraps = set(np.flatnonzero(fabric.kinds(Kind.WRAP)).tolist())
    edges = zip(fabric.parent.tolist(), fabric.child.tolist(), strict=True)
    into = {child for parent, child in edges if parent in wraps}
    marked = [cell for row in rows for cell in row.cells if cell.extra == "wraps"]
    assert len(marked) == len(into) > 3


@pytest.mark.parametrize("to", ["cuff down", "toe up"])
@pytest.mark.parametrize("name", ["flap", "forethought", "short-row"])
def test_every_strand_lifted_at_a_corner_is_marked(name: str, to: str) -> None:
    pattern, rows = heel_rows(name, to)
    lifted = [cell.stitch for row in rows for cell in row.cells if cell.extra == "lifted"]
    assert lifted == re.findall(r"lift strand \w+ corner and (\w+)", write(pattern))
    assert len(lifted) == 2


def test_stitches_before_the_first_written_row_have_no_number() -> None:
    pattern, rows = heel_rows("flap", "cuff down")
    assert [row.number for row in rows[:3]] == [0, 1, 2]
    half = len(rows[0].worked)
    assert f"K{half}.\n" in write(pattern)  # up to the heel's first row
    assert rows[1].side is Side.WS


@pytest.mark.parametrize("corner", [0, 1])
def test_what_is_picked_up_along_a_flap_is_shown_and_counted(corner: int) -> None:
    """Held stitches that come back afterwards are not counted yet; without a stitch at the corner
    what was picked up along the first edge was not shown.
    """
    pattern, rows = heel_rows(Flap(corner=corner), "cuff down")
    across, along = re.findall(r"\nK(\d+), pick up and knit (\d+) sts along", write(pattern))[0]
    (picking,) = (row for row in rows if row.ends == "part")
    keys = [cell.stitch for cell in picking.worked]
    assert keys == ["k"] * int(across) + ["pu"] * int(along) + ["m1l"] * corner
    assert picking.count == len(keys)


def test_the_last_rows_of_a_turn_stand_above_the_stitches_they_are_worked_in() -> None:
    """They had been drawn in, as the outline of a piece, above rows that were not."""
    _, rows = heel_rows("flap", "cuff down")
    picking = next(at for at, row in enumerate(rows) if row.ends == "part")
    before, last = rows[picking - 2 : picking]
    assert last.worked[0].stitch == "slf"
    assert last.worked[0].column == before.worked[-1].column
    assert {cell.column for cell in last.worked} <= {cell.column for cell in before.cells}
    assert [cell.column for cell in rows[picking].worked[: last.count]] == [
        cell.column for cell in last.worked[::-1]
    ]


@pytest.mark.parametrize("over", [7, 12])
def test_what_is_knitted_over_waste_yarn_stays_in_its_columns(over: int) -> None:
    """It had new ones, 28 squares beside the stitches that lay under the waste yarn."""
    text = f"""
    Cast on 12 sts. Join in the round.
    Rnds 1-2: Knit.
    With waste yarn, knit next {over} sts; slip them back to be worked again.
    K{over}.
    Rnd 3: Knit.
    """
    shown = chart(read(text), folded=False)
    assert shown.width == 12
    assert [cell.column for cell in shown.rows[2].worked][:over] == list(range(over))


def test_repeats_stand_in_a_frame_that_says_how_often() -> None:
    rib = chart(RIB)
    assert (rib.width, rib.across, len(rib.rows), rib.blocks[0].times) == (4, 6, 1, 10)
    said = [node.get("data-repeat") for node in elements(rib.svg(), "frame")]
    assert said == ["work these 4 stitches 6 times in all", "10 times in all"]
    whole = chart(RIB, folded=False)
    assert (whole.width, len(whole.rows)) == (24, 10)
    assert elements(whole.svg(), "frame") == []


def test_the_key_lists_what_is_used_and_nothing_else() -> None:
    entries = {node.get("data-which"): "".join(node.itertext())
               for node in elements(chart(TOE, "Toe").svg(), "key")}  # fmt: skip
    assert set(entries) == {"empty square", "slash", "backslash", "no stitch"}
    assert entries["slash"] == "RS: k2tog, knit two together"
    both = {node.get("data-which"): "".join(node.itertext())
            for node in elements(chart(SHORT_ROWS).svg(), "key")}  # fmt: skip
    assert both["empty square"] == "RS: k, knit; WS: p, purl"


def test_a_picture_says_its_name_and_what_it_shows() -> None:
    root = ET.fromstring(chart(RIB).svg())
    assert root[0].tag == f"{SVG}title"
    assert root[0].text == "Chart: Rib"
    assert root[1].text is not None
    assert "repeated 6 times" in root[1].text
    assert "Rounds 1 to 10: one round, worked 10 times in all." in root[1].text
    two = read("Cast on 8 sts. Join in the round. Rnd 1: [Yo, ssk] 4 times. Rnd 2: Knit. "
               "Rep rnds 1 and 2 twice more (3 times in all).")  # fmt: skip
    nameless = chart(two).picture()
    assert nameless.title == "Chart"
    assert nameless.description.endswith("Rounds 1 to 6: 2 rounds, worked 3 times in all.")
    assert root.get("role") == "img"


def test_rounds_can_be_chosen() -> None:
    foot = chart(TOE, "Foot", rounds=(2, 3))
    assert foot.blocks[0].numbers(0) == "2–3"
    assert [row.number for row in chart(TOE, "Toe", rounds=(3, 4)).rows] == [3, 4]
    assert [one.title for one in charts(TOE)] == ["Foot", "Toe"]


@pytest.mark.parametrize(
    ("given_", "problem"),
    [
        ({"section": "Leg"}, "no rounds stand under that heading"),
        ({"section": "Toe", "rounds": (90, 99)}, "there is no such round"),
        ({}, "these rounds make 2 charts ('Foot' from 1, 'Toe' from 1)"),
    ],
)
def test_what_makes_no_chart_is_refused(given_: dict[str, object], problem: str) -> None:
    with pytest.raises(PictureError) as caught:
        chart(TOE, **given_)  # type: ignore[arg-type]
    assert caught.value.problem == problem


def test_yarns_differ_by_a_mark_as_well_as_by_colour() -> None:
    drawn = chart(STRANDED)
    assert drawn.yarns == ("sand", "slate", "rust")
    squares = [n for n in elements(drawn.svg(), "yarn") if n.get("data-yarn") == "slate"]
    assert len(squares) == 4
    # Without their colour the three still differ: no mark, one corner, the other corner.
    begins = []
    for entry in elements(drawn.svg(), "key"):
        if entry.get("data-kind") == "yarn":
            left = float(next(n.get("x", "") for n in entry if n.get("class") == "yarn"))
            marks = [n.get("d", "") for n in entry if n.get("class") == "mark"]
            begins.append([float(d[1:].split()[0]) - left for d in marks])
    assert begins[0] == []
    assert len({tuple(begin) for begin in begins}) == 3
    assert len(elements(drawn.svg(), "mark")) == 4 + 12 + 2  # those of the key besides
    assert same_fabric(knit(read_chart(drawn.svg()).pattern()), knit(STRANDED))
    assert [strand.name for strand in knit(read_chart(drawn.to_csv()).pattern()).strands] == [
        "sand", "slate", "rust",
    ]  # fmt: skip


# reading


def edited(drawn: Chart, line: int, column: int, text: str) -> str:
    rows = list(csv.reader(drawn.to_csv().splitlines()))
    rows[line - 1][column] = text
    return "\n".join(",".join(row) for row in rows)


@together(
    ("line", "column", "text", "problem"),
    [
        (5, 9, "knot", "column 18 holds 'knot'"),
        (5, 9, "graft", "column 18 holds 'graft'"),
        (5, 1, "back", "side is 'back'"),
        (5, 3, "stop", "ends is 'stop'"),
        (5, 6, "0", "times is '0'"),
        (5, 6, "9" * 40, f"times is '{'9' * 40}'"),
        (5, 4, "-3", "count is '-3'"),
        (5, 9, "k+glue", "column 18 is 'glue'"),
        (2, 1, "many", "start is 'many'"),
        (1, 0, "picture", "'picture' is no head of a chart"),
        (4, 2, "road", "the heads are round,side,road,ends,count,block,times"),
    ],
)
def test_a_table_that_is_wrong_says_where(line: int, column: int, text: str, problem: str) -> None:
    plain = chart(TOE, "Toe", size="S")
    drawn = Chart(plain.title, plain.width, plain.blocks, start=plain.start)
    with pytest.raises(PictureError) as caught:
        read_chart(edited(drawn, line, column, text))
    assert caught.value.problem == problem
    assert caught.value.advice


@together(
    "text",
    ["", "round", "<svg", "<svg/>", "<!DOCTYPE svg><svg/>", "chart,x\n", "\x00", "a,b\n1,2\n"],
)
def test_what_is_no_chart_is_refused(text: str) -> None:
    with pytest.raises(PictureError):
        read_chart(text)


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=80) | st.integers(0, 900).map(lambda at: chart(RIB).svg()[:at]))
def test_nothing_but_a_picture_error_comes_of_any_text(text: str) -> None:
    try:
        read_chart(text)
    except PictureError:
        pass
    else:
        assert text.startswith("chart") or "round" in text


# every heel there is


@pytest.mark.parametrize("direction", ["cuff down", "toe up"])
@pytest.mark.parametrize("heel", heel_names())
def test_a_whole_sock_is_charted_and_read_back(heel: str, direction: str) -> None:
    foot = Foot.of(length="20 cm", ball_girth="19 cm")
    sock = Sock(foot=foot, gauge=Gauge.of(20, 28), heel=heel, direction=direction)
    drawn = charts(sock.pattern())
    for one in drawn:
        assert read_chart(one.svg()) == one
        for row in one.rows:
            columns = [cell.column for cell in row.cells]
            assert len(set(columns)) == len(columns)
            assert all(0 <= column < one.width for column in columns)
    # No round is lost: each stitch that was worked stands in a chart.
    fabric = sock.fabric()
    worked = sum(
        STITCHES[cell.stitch].makes
        for one in drawn
        for row in one.all_rows()
        for cell in row.worked * one.across
        if cell.stitch not in ("co", "pu", "ds")
    )
    apart = fabric.kinds(Kind.CAST_ON, Kind.CLOSED, Kind.LIFTED, Kind.WRAP, Kind.GRAFTED)
    picked = fabric.stitch == fabric.stitches.code("pu")
    made = int(np.count_nonzero(fabric.present & ~apart & ~picked & ~fabric.kinds(Kind.BOUND_OFF)))
    # A stretchy bind-off works each stitch but the first twice (common practice).
    bound_off = int(fabric.kinds(Kind.BOUND_OFF).sum())
    assert worked == made - over_waste(sock) - max(bound_off - 1, 0)


def over_waste(sock: Sock) -> int:
    """Stitches cast on over waste yarn: real loops that no row of a chart works."""
    steps = [step for step in sock.pattern().steps if isinstance(step, ProvisionalCastOn)]
    return sum(step.stitches for step in steps if isinstance(step.stitches, int))


# a stitch of one's own

FOUR = Stitch("k4tog", "knit four together", 4, 1, (3, 2, 1, 0))
FIVE = Stitch("kpkpk", "knit and purl five into one stitch", 1, 5, (0,), "kpkpk")
MINE = STITCHES.with_stitch(FOUR).with_stitch(FIVE)
OWN = """
Cast on 21 sts. Join in the round.
Rnd 1: *K2, k4tog, kpkpk; rep from * to end.
Rnd 2: Knit.
"""


@pytest.mark.parametrize("hand", list(Hand))
def test_a_stitch_of_your_own_stands_in_the_chart_in_its_own_words(hand: Hand) -> None:
    drawn = chart(read(OWN, stitches=MINE), stitches=MINE, hand=hand)
    cells = [cell.stitch for cell in drawn.rows[0].cells]
    assert cells[:3] == ["k", "k", "k4tog"]
    svg = drawn.svg()
    written = ["".join(node.itertext()) for node in elements(svg, "symbol")]
    assert written.count("k4tog") == written.count("kpkpk") == cells.count("k4tog") == 3
    key = {"".join(node.itertext()) for node in elements(svg, "key")}
    assert {f"{own.key}RS: {own.key}, {own.name}" for own in (FOUR, FIVE)} < key


@pytest.mark.parametrize("folded", [True, False])
@pytest.mark.parametrize("hand", list(Hand))
def test_a_chart_with_stitches_of_your_own_reads_back_to_the_same_fabric(
    hand: Hand, folded: bool
) -> None:
    pattern = read(OWN, stitches=MINE)
    (drawn,) = charts(pattern, stitches=MINE, hand=hand, folded=folded)
    for text in (drawn.svg(), drawn.to_csv()):
        again = read_chart(text, stitches=MINE)
        assert again == drawn
        assert again.svg() == drawn.svg()
        made = knit(again.pattern(), hand=hand, stitches=MINE)
        assert same_fabric(made, knit(pattern, hand=hand, stitches=MINE))


def test_without_its_table_a_stitch_of_your_own_is_refused() -> None:
    pattern = read(OWN, stitches=MINE)
    with pytest.raises(UnknownStitchError, match="k4tog"):
        chart(pattern)
    with pytest.raises(PictureError, match="'k4tog'"):
        read_chart(chart(pattern, stitches=MINE).to_csv())


def test_rows_in_one_yarn_of_several_are_in_its_colour() -> None:
    """The last chart of a heel stood white beside three in their colours."""
    text = (
        "Join yarn A. Cast on 8 sts. Join in the round. ## Leg\nRnd 1: Knit.\n"
        "## Foot\nJoin yarn B.\nRnd 1: Knit.\nCut yarn A."
    )
    leg, foot = charts(read(text), colours={"A": "#24476b"})
    assert (leg.yarns, foot.yarns) == (("A",), ("B",))
    assert "#24476b" in leg.svg()
    alone = chart(read("Cast on 8 sts. Join in the round. Rnd 1: Knit."))
    assert alone.yarns == ()
