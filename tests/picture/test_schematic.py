"""The heel's own outline on the schematic: against its stitches and rows, and to scale."""

from __future__ import annotations

import re
from math import hypot
from xml.etree import ElementTree as ET

import attrs
import numpy as np
import pytest

from loopwright.cloth import CLOTH_SIZES, Cloth
from loopwright.gauge import Gauge
from loopwright.picture._chart import charts
from loopwright.picture._schematic import dimensions, lettered, schematic, schematic_parts
from loopwright.picture.svg import text_width
from loopwright.sock._sock import Sock
from loopwright.sock.foot import Foot
from loopwright.sock.heels import Direction, HeelOutline, Setting, heel_named, heel_names
from picture.test_stages import of_class
from together import together

STITCH, COURSE = 100 / 32, 100 / 44
FOOT = Foot.of(length="24.6 cm", ball_girth="22.5 cm")
ALL = [(name, way) for name in heel_names() for way in Direction]


def form_of(name: str, way: Direction = Direction.CUFF_DOWN, **options: object) -> HeelOutline:
    setting = Setting(32, 32, way)
    form = heel_named(name, **options).outline(setting)
    assert form is not None
    return form


def lengths(form: HeelOutline) -> dict[str, float]:
    return {measure.words: measure.mm for measure in form.measures}


def test_a_flap_heel_shows_flap_turn_and_gusset() -> None:
    form = form_of("flap")
    assert [part.name for part in form.parts] == ["flap", "turn", "gussets and sole"]
    # By hand, common practice: 32 stitches and 32 rows; the turn leaves 18 of them; 16 chains and
    # one more are picked up at each side, 52 in all, and 20 taken away in 20 rounds.
    assert lengths(form) == pytest.approx(
        {
            "flap, width": 32 * STITCH,
            "flap, height": 32 * CLOTH_SIZES[Cloth.SLIPPED].height * COURSE,
            "heel, depth": 15 * COURSE,  # the turn's 14 rows, and the one that picks up
            "gusset, length": 20 * COURSE,
            "sole with gussets, at its widest": 52 * STITCH,
            "sole, width": 32 * STITCH,
        }
    )


def test_short_rows_are_two_wedges_end_to_end() -> None:
    form = form_of("short-row")
    # 32: 11, 10, 11, in and out.
    assert lengths(form) == pytest.approx(
        {
            "heel, width before the turns": 32 * STITCH,
            "heel, depth": 22.5 * COURSE,
            "between the turns": 10 * STITCH,
        }
    )
    gusseted = form_of("short-row with gusset", gusset=4)
    assert [part.name for part in gusseted.parts].count("gusset") == 2
    assert lengths(gusseted)["heel, width before the turns"] == pytest.approx(40 * STITCH)


@pytest.mark.parametrize("options", [{}, {"plain_rounds": 4}, {"gusset": 3}])
def test_a_heel_in_the_round_is_as_wide_as_its_rounds(options: dict[str, int]) -> None:
    sock = Sock(foot=FOOT, gauge=Gauge.of(32, 44), heel=heel_named("forethought", **options))
    form = dimensions(sock.plan()).heel
    assert form is not None
    edge = [(y, x) for x, y in form.parts[0].outline if x > 0]
    down, across = (np.array(part)[::-1] for part in zip(*edge, strict=True))
    half = sock.plan().setting.heel + 2 * options.get("gusset", 0)
    rounds = [
        row.count
        for chart in charts(sock.pattern(), section="Heel", folded=False)
        for row in chart.rows
    ]
    start = next(at for at, count in enumerate(rounds) if count == 2 * half)
    worked = rounds[start : rounds.index(min(rounds)) + 1]
    for number, count in enumerate(worked, start=1):
        # The outline is straight where rounds go in steps of two stitches a half.
        wide = 2 * np.interp(-number * COURSE, down, across) / STITCH
        assert wide == pytest.approx(count / 2, abs=2.01)


@together(("name", "way"), ALL)
def test_each_heel_is_drawn_with_its_measures_to_scale(name: str, way: Direction) -> None:
    sock = Sock(foot=FOOT, gauge=Gauge.of(32, 44), heel=name, direction=way)
    flat = dimensions(sock.plan())
    assert flat.heel is not None
    svg = schematic({"S": flat, "M": flat}).svg()
    parts = of_class(svg, "heel-part")
    assert [node.get("data-name") for node in parts] == [part.name for part in flat.heel.parts]
    told = {one.letter: one.mm["S"] for one in lettered({"S": flat})}
    drawn = [(str(node.get("data-letter")), length(node)) for node in of_class(svg, "dimension")]
    assert {letter for letter, _ in drawn} == set(told)
    scale = dict(drawn)["E"] / flat.foot_length_mm
    for letter, px in drawn:
        assert px == pytest.approx(told[letter] * scale, abs=0.1), letter
    assert {str(node.get("data-letter")) for node in of_class(svg, "measure")} == set(told)
    assert len(of_class(svg, "measure")) == 2 * len(told)


def length(node: ET.Element) -> float:
    bar = next(part for part in node if part.get("stroke-width") == "0.9")
    return hypot(*(float(bar.get(f"{a}2", 0)) - float(bar.get(f"{a}1", 0)) for a in "xy"))


def test_the_sock_shows_each_heels_own_lines() -> None:
    def seams(name: str) -> list[tuple[str | None, ...]]:
        sock = Sock(foot=FOOT, gauge=Gauge.of(32, 44), heel=name)
        svg = schematic_parts(dimensions(sock.plan()))[0].svg()
        return [tuple(map(node.get, ("x1", "y1", "x2", "y2"))) for node in of_class(svg, "part")]

    drawn = [set(seams(name)) for name in ("flap", "forethought", "short-row")]
    # Cuff and toe, then: flap's top and edge and two of the gusset; opening, shaping and closing;
    # opening and turns.
    assert [len(one) for one in drawn] == [2 + 4, 2 + 4, 2 + 3]
    assert drawn[0] != drawn[1] != drawn[2]


def test_a_heel_without_an_outline_is_left_out() -> None:
    flat = dimensions(Sock(foot=FOOT, gauge=Gauge.of(32, 44)).plan())
    bare = schematic(attrs.evolve(flat, heel=None)).svg()
    assert not of_class(bare, "heel-part")
    assert len(schematic_parts(attrs.evolve(flat, heel=None))) == 1
    assert set(re.findall(r'data-letter="(\w)"', bare)) == set("ABCDEFG")


def test_sizes_with_different_heels_have_a_letter_for_each_measure() -> None:
    flats = {
        name: dimensions(Sock(foot=FOOT, gauge=Gauge.of(32, 44), heel=name).plan())
        for name in ("flap", "forethought")
    }
    rows = lettered(flats)
    assert len({row.letter for row in rows}) == len({row.words for row in rows}) == len(rows)
    assert [set(row.mm) for row in rows if row.words.startswith("flap")] == [{"flap"}] * 2
    assert ">none<" in schematic(flats).svg()


@together("heel", sorted(heel_names()))
def test_no_word_has_a_seam_that_eats_its_letters(heel: str) -> None:
    """A PDF paints letter by letter, each seam over the letter before."""
    flat = dimensions(Sock(foot=FOOT, gauge=Gauge.of(30, 42), heel=heel).plan())
    texts = [node for part in schematic_parts({"": flat}) for element in part.body
             for node in element.iter() if node.tag == "text"]  # fmt: skip
    seamed = {str(node.text) for node in texts if node.get("stroke")}
    assert seamed
    assert all(len(words) == 1 for words in seamed)
    assert {"toe", "foot", "leg", "cuff"} < {str(node.text) for node in texts}


@together("heel", ["short-row", "short-row with gusset", "forethought"])
@together("stitches", [20, 30])
def test_a_parts_name_lies_within_its_outline(heel: str, stitches: int) -> None:
    flat = dimensions(Sock(foot=FOOT, gauge=Gauge.of(stitches, 1.4 * stitches), heel=heel).plan())
    form = schematic_parts({"": flat})[1].svg()
    names = of_class(form, "part-name")
    for part in of_class(form, "heel-part"):
        spots = [tuple(map(float, spot.split(","))) for spot in part.get("points", "").split()]
        (name,) = [n for n in names if str(n[1].text) == part.get("data-name")
                   and min(y for _, y in spots) < float(n[1].get("y", 0)) - 4
                   < max(y for _, y in spots)]  # fmt: skip
        y, x = float(name[1].get("y", 0)) - 4, float(name[1].get("x", 0))
        sides = [
            x1 + (x2 - x1) * (y - y1) / (y2 - y1)
            for (x1, y1), (x2, y2) in zip(spots, [*spots[1:], spots[0]], strict=True)
            if min(y1, y2) <= y <= max(y1, y2) and y1 != y2
        ]
        half = 0.5 * 0.9 * text_width(str(name[1].text), 11.5)  # a mean letter, a little wide
        assert min(sides) < x - half
        assert x + half < max(sides)
