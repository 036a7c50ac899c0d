"""Schematics, shapes and graphs: structure against the numbers that they show."""

from __future__ import annotations

import inspect
import math
import re
from itertools import combinations, pairwise
from typing import Any
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from loopwright.errors import ArgumentError, PictureError, UnknownLoopError
from loopwright.extras import MissingExtraError
from loopwright.fabric import STITCHES, Fabric
from loopwright.fitting._compare import compare
from loopwright.gauge import Gauge
from loopwright.geometry._shape import Shape, shape
from loopwright.making import Hand, Work, cast_on, graft
from loopwright.pattern import CastOn, Pattern, knitted, read
from loopwright.pattern._knit import knit
from loopwright.picture._chart import chart
from loopwright.picture._colouring import WAYS, colouring
from loopwright.picture._graph import LARGEST, _neighbours, draw_graph, draw_surroundings, layout
from loopwright.picture._graph_web import flipped, web
from loopwright.picture._schematic import Dimensions, dimensions, schematic
from loopwright.picture._stages import stages
from loopwright.picture.shape_drawing import draw_shape, view_of
from loopwright.picture.svg import Picture, label, line, side_by_side
from loopwright.sock._sock import Sock
from loopwright.sock.foot import Foot
from picture.test_stages import heel, of_class

GAUGE = Gauge(3.2, 4.4)
Spot = tuple[float, float]


def tube(sts: int = 12, rounds: int = 4) -> Fabric:
    work = Work()
    cast_on(work, sts)
    work.join_round()
    work.plain_rounds(rounds)
    return work.fabric()


@pytest.fixture(scope="module")
def hung() -> tuple[Shape, Fabric]:
    fabric = knit(heel(24, 8))
    return shape(fabric, GAUGE), fabric


# the sheet


def test_words_are_escaped() -> None:
    picture = Picture(10, 10, "<b>", "a & b", (label(0, 0, "<script>"),))
    root = ET.fromstring(picture.svg())
    assert [root[0].text, root[1].text, root[3].text] == ["<b>", "a & b", "<script>"]


def test_no_picture_takes_an_id_that_another_of_its_page_may_have() -> None:
    """A page may hold the same picture twice, and ids are the page's."""
    for svg in (tube_picture().svg(), stages(heel(24, 8)).svg()):
        assert not [node for node in ET.fromstring(svg).iter() if node.get("id") is not None]


def test_a_notebook_has_the_words_of_a_picture_too() -> None:
    # As a MIME type of its own an SVG becomes an <img> without alternative text.
    root = ET.fromstring(tube_picture()._repr_html_())
    assert (root.tag.rpartition("}")[2], root.get("role")) == ("svg", "img")
    assert [(part.tag.rpartition("}")[2], part.text) for part in list(root)[:2]] == [
        ("title", "Graph of the fabric"),
        ("desc", draw_graph(tube()).description),
    ]


def tube_picture() -> Picture:
    return draw_graph(tube())


def test_pictures_side_by_side_do_not_overlap() -> None:
    all_ = side_by_side(
        "All", [Picture(30, 20 + at, str(at), "", ()) for at in range(5)], columns=2
    )
    assert (all_.width, all_.height) == (30 * 2 + 16, 21 + 23 + 24 + 2 * 16)
    assert side_by_side("None", []).width == 1


def test_a_png_has_the_size_asked_for() -> None:
    png = Picture(30, 20, "a", "b", (line(0, 0, 30, 20),)).png(zoom=2)
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    assert (int.from_bytes(png[16:20], "big"), int.from_bytes(png[20:24], "big")) == (60, 40)


def test_without_the_renderer_a_png_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("loopwright.extras.is_installed", lambda package: False)
    with pytest.raises(MissingExtraError) as caught:
        Picture(1, 1, "a", "b", ()).png()
    assert (caught.value.package, caught.value.extra) == ("resvg_py", "pictures")


# the schematic


SMALL = Dimensions(
    cuff_width_mm=90, foot_width_mm=100, cuff_height_mm=40, leg_height_mm=180, foot_length_mm=240,
    toe_length_mm=45, heel_depth_mm=50,
)  # fmt: skip


def test_every_measure_stands_in_the_table_in_both_units() -> None:
    table = {
        (node.get("data-letter"), node.get("data-size")): node.text
        for node in of_class(schematic({"S": SMALL, "M": SMALL}).svg(), "measure")
    }
    assert len(table) == 14
    # 240 mm by 25.4 is 9.449 in.
    assert table["E", "S"] == "24.0 cm, 9.4 in"
    assert table["A", "M"] == "9.0 cm, 3.5 in"


def test_each_measure_has_its_line_on_the_drawing_to_scale() -> None:
    lines = {}
    for node in of_class(schematic(SMALL).svg(), "dimension"):
        bar = next(part for part in node if part.get("stroke-width") == "0.9")
        dx = float(bar.get("x2", 0)) - float(bar.get("x1", 0))
        dy = float(bar.get("y2", 0)) - float(bar.get("y1", 0))
        lines[node.get("data-letter")] = math.hypot(dx, dy)
    scale = lines["E"] / 240
    assert set(lines) == set("ABCDEFG")
    for letter, mm in (("A", 90), ("B", 40), ("C", 180), ("D", 100), ("F", 45), ("G", 50)):
        assert lines[letter] == pytest.approx(mm * scale, abs=0.1)


def test_what_a_sock_lacks_is_not_measured() -> None:
    bare = Dimensions(cuff_width_mm=90, foot_width_mm=90, cuff_height_mm=0, leg_height_mm=120,
                      foot_length_mm=200)  # fmt: skip
    letters = {node.get("data-letter") for node in of_class(schematic(bare).svg(), "measure")}
    assert letters == {"A", "C", "D", "E"}


def test_a_planned_sock_gives_its_finished_measures() -> None:
    sock = Sock(foot=Foot.of(length="24.6 cm", ball_girth="22.5 cm"), gauge=Gauge.of(32, 44))
    plan = sock.plan()
    flat = dimensions(plan)
    assert flat.foot_width_mm == pytest.approx(plan.stitches.count * 100 / 32 / 2)
    assert flat.foot_length_mm == plan.measure("foot length").finished.mm
    assert flat.toe_length_mm == pytest.approx(plan.toe.courses * 100 / 44)


@pytest.mark.parametrize(("name", "value"), [("foot_length_mm", 0), ("cuff_height_mm", -1),
                                             ("leg_height_mm", float("nan"))])  # fmt: skip
def test_impossible_measures_are_refused(name: str, value: float) -> None:
    good: dict[str, Any] = {"cuff_width_mm": 9.0, "foot_width_mm": 9.0, "cuff_height_mm": 1.0,
            "leg_height_mm": 20.0, "foot_length_mm": 20.0}  # fmt: skip
    with pytest.raises(PictureError) as caught:
        Dimensions(**{**good, name: value})
    assert name in caught.value.problem


def test_no_size_is_refused() -> None:
    with pytest.raises(PictureError):
        schematic({})


# shapes


@pytest.mark.parametrize("by", WAYS)
def test_a_shape_is_drawn_with_what_its_colours_mean(hung: tuple[Shape, Fabric], by: str) -> None:
    relaxed, fabric = hung
    svg = draw_shape(relaxed, fabric, by=by).svg()
    triangles = sum(
        node.get("d", "").count("M") for node in ET.fromstring(svg).iter()
        if node.get("fill", "none").startswith("#") and node.get("d")
    )  # fmt: skip
    assert triangles == len(relaxed.surface.triangles)
    numbers = by in ("course", "curvature", "strain")
    assert len(of_class(svg, "scale")) == numbers
    assert colouring(fabric, by, shape=relaxed).words in svg


def test_the_view_turns_and_does_not_mirror(hung: tuple[Shape, Fabric]) -> None:
    surface = hung[0].surface
    seen = view_of(surface)
    was = surface.vertices_mm - surface.vertices_mm.mean(axis=0)
    turn, *_ = np.linalg.lstsq(was, seen, rcond=None)
    assert np.abs(turn @ turn.T - np.eye(3)).max() < 1e-9
    assert np.linalg.det(turn) == pytest.approx(1)


def test_a_sock_is_seen_with_its_cuff_up_and_its_toe_to_the_left() -> None:
    foot = Foot.of(length="18 cm", ball_girth="17 cm")
    sock = Sock(foot=foot, gauge=Gauge.of(20, 28))
    fabric = sock.fabric()
    relaxed = shape(fabric, sock.gauge)
    seen = view_of(relaxed.surface)
    rim = np.unique(relaxed.surface.edges.boundary)
    assert seen[rim, 1].min() > np.percentile(seen[:, 1], 90)
    toe = np.argmax(np.linalg.norm(seen - seen[rim].mean(axis=0), axis=1))
    assert seen[toe, 0] < seen[rim, 0].mean()


def test_a_tube_stands_upright_with_its_wider_opening_at_the_top() -> None:
    work = Work()
    cast_on(work, 24)
    work.join_round()
    work.plain_rounds(10)
    work.round(["k", "k2tog"] * 8)
    work.plain_rounds(6)
    fabric = work.fabric()
    seen = view_of(shape(fabric, Gauge(3.2, 4.4)).surface)
    courses = [seen[fabric.course[fabric.ids] == at, 1] for at in range(fabric.course.max() + 1)]
    assert all(lower.mean() < upper.mean() for upper, lower in pairwise(courses))


def test_colours_of_stitches_are_those_of_the_right_side() -> None:
    work = Work()
    cast_on(work, 6)
    work.turn()
    work.row(["p"] * 6)  # purled on the wrong side: knit from the right side
    work.row(["k"] * 3 + ["p"] * 3)
    found = colouring(work.fabric(), "stitch")
    names = list(found.names)
    assert set(names) == {"knit", "purl", "cast-on, picked up or lifted"}
    knit_colour = [int(found.names["knit"][at : at + 2], 16) / 255 for at in (1, 3, 5)]
    is_knit = np.abs(found.srgb - knit_colour).max(axis=1) < 1e-9
    assert is_knit.tolist() == [False] * 6 + [True] * 6 + [True] * 3 + [False] * 3


def test_a_way_that_needs_a_shape_says_so() -> None:
    with pytest.raises(PictureError) as caught:
        colouring(tube(), "strain")
    assert caught.value.advice == "give the relaxed shape"
    with pytest.raises(PictureError):
        colouring(tube(), "mood")


def test_a_shape_of_another_fabric_is_refused(hung: tuple[Shape, Fabric]) -> None:
    with pytest.raises(PictureError):
        draw_shape(hung[0], tube())


# graphs


def test_every_loop_and_edge_is_drawn() -> None:
    fabric = tube()
    svg = draw_graph(fabric).svg()
    graph = fabric.graph
    assert {int(str(node.get("data-loop"))) for node in of_class(svg, "loop")} == set(graph)
    whole = [n for n in of_class(svg, "edge") if n.get("data-cut") is None]
    cut = [n for n in of_class(svg, "edge") if n.get("data-cut") == "yes"]
    keyed = 3
    assert len(whole) + len(cut) // 2 == graph.number_of_edges() + keyed
    # The helix is cut once between each course and the next: 5 courses, 4 steps.
    assert len(cut) == 2 * 4


def test_loops_lie_as_the_right_side_shows_them() -> None:
    fabric = tube(12, 4)
    place = layout(fabric)
    for loop in fabric.ids.tolist():
        after = int(fabric.next[loop])
        if after >= 0 and fabric.course[loop] == fabric.course[after]:
            assert place[after][0] < place[loop][0]  # a round goes from right to left
    for parent, child in zip(fabric.parent.tolist(), fabric.child.tolist(), strict=True):
        assert place[child][1] > place[parent][1] + 0.7
        assert abs(place[child][0] - place[parent][0]) < 0.3


def test_cells_that_are_not_four_say_their_size() -> None:
    work = Work()
    cast_on(work, 10)
    work.join_round()
    work.plain_rounds(2)
    work.round(["k", "k2tog", *["k"] * 4, "yo", *["k"] * 3])
    work.plain_rounds(2)
    fabric = work.fabric()
    sizes = sorted(
        int(str(n.get("data-edges"))) for n in of_class(draw_graph(fabric).svg(), "cell")
    )
    # Two together: 3; a yarn over: 5 (worked on paper).
    assert sizes == [3, 5]
    assert of_class(draw_graph(fabric, sizes=False).svg(), "cell") == []


def test_a_corner_is_drawn_by_itself_the_right_way_round() -> None:
    fabric = knit(heel(16, 8))
    gap = fabric.gaps()[0]
    svg = draw_surroundings(fabric, gap.loops).svg()
    assert "7" in [n.get("data-edges") for n in of_class(svg, "cell")]
    spots = {int(str(n.get("data-loop"))): (float(n.get("cx", 0)), float(n.get("cy", 0)))
             for n in of_class(svg, "loop")}  # fmt: skip
    ring = [spots[loop] for loop in gap.loops]
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1], strict=True))
    assert area < 0  # counter-clockwise, where y goes down


def test_too_large_or_empty_is_refused() -> None:
    with pytest.raises(PictureError) as caught:
        draw_graph(tube(50, 20))
    assert str(LARGEST) in caught.value.advice
    with pytest.raises(PictureError):
        draw_graph(Work().fabric())
    with pytest.raises(UnknownLoopError):
        draw_surroundings(tube(), [9999])


# notebooks


def test_a_notebook_shows_fabrics_shapes_and_patterns(hung: tuple[Shape, Fabric]) -> None:
    small = tube()._repr_html_()
    assert "<th>V - E + C</th><td>2</td>" in small
    assert "<svg" in small
    assert "<svg" not in hung[1]._repr_html_()
    assert "<iframe" in hung[0]._repr_html_()
    assert "&lt;b&gt;" in Pattern("<b>", [CastOn(8)])._repr_html_()
    sock = Sock(foot=Foot.of(length="24 cm"), gauge=Gauge.of(14, 20))
    assert sock.plan()._repr_html_() in sock._repr_html_()
    compared = compare(sock, ["flap", "forethought"])
    html = compared._repr_html_()
    assert html.startswith(compared.table_html())
    assert html.count("<svg") == 2


def test_every_main_object_says_in_a_line_what_it_is(hung: tuple[Shape, Fabric]) -> None:
    sock = Sock(foot=Foot.of(length="24 cm"), gauge=Gauge.of(14, 20))
    made = knitted(sock.pattern())
    mains = (sock, sock.foot, sock.plan(), sock.pattern(), *hung, made, made.journal)
    for one in (*mains, Work(), STITCHES, chart(sock.pattern(), "Toe"), stages(sock.pattern())):
        line = repr(one)
        assert len(line) < 130
        assert line.startswith(f"<{type(one).__name__}: ")
        assert "\n" not in line
        assert str(one)
    assert len(str(inspect.signature(read))) < 240  # both tables in short


@pytest.mark.parametrize(("units", "said"), [(("cm",), "24.0 cm"), (("in",), "9.4 in")])
def test_the_schematic_gives_the_units_asked_for(units: tuple[str, ...], said: str) -> None:
    picture = schematic({"S": SMALL}, units=units)
    texts = [node.text for node in of_class(picture.svg(), "measure")]
    assert said in texts
    assert all(str(text).endswith(units) for text in texts)
    assert f"heel and toe {said}" in picture.description


@pytest.mark.parametrize("units", [(), ("ell",)])
def test_no_other_unit_is_taken(units: tuple[str, ...]) -> None:
    with pytest.raises(PictureError) as caught:
        schematic(SMALL, units=units)
    assert caught.value.what == "schematic"


def test_one_text_is_not_taken_for_several_units() -> None:
    with pytest.raises(ArgumentError, match=r"such as \['cm'\]") as caught:
        schematic(SMALL, units="cm")
    assert caught.value.argument == "units"


def test_the_yarn_of_a_turn_is_seen_beside_the_stitch_drawn_through() -> None:
    work = Work()
    cast_on(work, 4)
    work.turn()
    work.row(["p"] * 4)
    work.row(["k"] * 4)
    svg = draw_graph(work.fabric()).svg()
    bowed = [node for node in of_class(svg, "edge") if node.tag.endswith("path")]
    # One at the left of the first row, one at the right of the second.
    assert len(bowed) == 2
    first, second = ([float(part) for part in re.findall(r"-?[\d.]+", node.get("d", ""))]
                     for node in bowed)  # fmt: skip
    assert first[2] < first[0] < second[0] < second[2]


def pouch() -> Fabric:
    work = Work()
    cast_on(work, 16)
    work.join_round()
    work.plain_rounds(3)
    for middle in (2, 0):
        work.round(["k", "ssk", *["k"] * middle, "k2tog", "k"] * 2)
    graft(work)
    return work.fabric()


@pytest.mark.parametrize("hand", list(Hand))
def test_a_closed_fabric_is_drawn_as_a_web_without_crossings(hand: Hand) -> None:
    fabric = knit(heel(16, 8), hand=hand)
    for one in (fabric, pouch()):
        spots = web(one, _neighbours)
        assert spots is not None
        inner = [cell for cell in one.cells() if cell not in one.openings]
        # Seen from the right side every cell is walked counter-clockwise.
        assert flipped(inner, spots) < 0.02
        edges = [(a, b) for a in spots for b in _neighbours(one, a) if a < b]
        assert not any(
            crosses(*(spots[loop] for loop in (*first, *second)))
            for first, second in combinations(edges, 2)
            if not set(first) & set(second)
        )
        # No loop lies on another: a dot is 0.31 of the usual step between neighbours wide.
        apart = [
            math.hypot(x1 - x2, y1 - y2) for (x1, y1), (x2, y2) in combinations(spots.values(), 2)
        ]
        assert sum(far < 0.25 for far in apart) <= 1


def crosses(a: Spot, b: Spot, c: Spot, d: Spot) -> bool:
    """Tell whether two stretches of line cross: each has the other's ends on both sides."""

    def turn(p: Spot, q: Spot, r: Spot) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return turn(a, b, c) * turn(a, b, d) < 0 and turn(c, d, a) * turn(c, d, b) < 0


def test_a_toe_is_drawn_as_a_web_and_a_tube_is_not() -> None:
    cut = [
        [node for node in of_class(draw_graph(one).svg(), "edge") if node.get("data-cut")]
        for one in (tube(), pouch())
    ]
    assert cut[0]
    assert not cut[1]
    named = [str(node.get("data-edges")) for node in of_class(draw_graph(pouch()).svg(), "cell")]
    assert sorted(named) == [str(s) for s, n in sorted(pouch().cell_sizes().items()) if s in (3, 5)
                             for _ in range(n)]  # fmt: skip


def test_what_has_no_opening_of_three_loops_has_no_web() -> None:
    work = Work()
    cast_on(work, 1)
    assert web(work.fabric(), _neighbours) is None
