"""What is where: counts, places and holes agree with the fabric."""

from __future__ import annotations

from itertools import pairwise
from math import hypot
from xml.etree import ElementTree as ET

import attrs
import pytest

from loopwright.errors import PictureError
from loopwright.fabric.stitches import STITCHES, Stitch
from loopwright.gauge import Gauge
from loopwright.making import Hand, Work, cast_on
from loopwright.pattern import (
    Arrange,
    CastOn,
    Graft,
    Hold,
    Join,
    Pattern,
    ProvisionalCastOn,
    Recapture,
    RepeatRounds,
    ReturnHeld,
    Round,
    Row,
    Section,
    UntilCount,
    UseYarn,
    WasteRow,
    k,
    k_to,
    knit_round,
    knit_rounds,
    read,
)
from loopwright.pattern._knit import knit
from loopwright.pattern.items import On
from loopwright.picture._grafting import draw_graft, graft_path
from loopwright.picture._stage_data import State
from loopwright.picture._stages import Stages, stage, stages
from loopwright.picture.svg import Picture, text_width
from loopwright.sock import Corners, Foot, Sock, heel_named, heel_names
from picture.charted import TOE, WEDGE
from together import together

GAUGE = Gauge(3.2, 4.4)
COARSE = Gauge.of(12, 16)


def heel(sts: int, to: int) -> Pattern:
    """A heel worked at once over waste yarn, grafted, with the foot begun after it."""
    half = sts // 2
    return Pattern(
        "Heel",
        [
            CastOn(sts),
            Join(),
            knit_rounds(3),
            Section("Heel"),
            Hold(half, "instep"),
            ProvisionalCastOn(half),
            Round([k_to()]),
            Arrange([half, half]),
            RepeatRounds([Round([On((), WEDGE)]), knit_round()], UntilCount(to), ending=1),
            Graft(),
            Section("Foot"),
            ReturnHeld("instep"),
            Recapture("waste"),
            UseYarn("main", new=True),
            knit_rounds(2),
        ],
    )


@pytest.fixture(scope="module")
def small() -> Stages:
    return stages(heel(16, 8), gauge=GAUGE)


def carried(all_: Stages, at: int) -> dict[str, tuple[str, int]]:
    return {one.name: (one.kind, len(one.loops)) for one in all_[at].carriers}


def of_class(svg: str, kind: str) -> list[ET.Element]:
    return [node for node in ET.fromstring(svg).iter() if node.get("class") == kind]


def test_each_stage_says_what_lies_where(small: Stages) -> None:
    assert [one.title.split(": ")[-1].split(",")[0].split(" sts")[0] for one in small.all] == [
        "Cast on 16", "Join to work in the round.", "3 rounds", "Place next 8",
        "Provisionally cast on 8", "4 rounds", "Graft the",
        "Return to needle the", "Recapture the", "2 rounds",
    ]  # fmt: skip
    assert carried(small, 3) == {"needle 1": ("needle", 8), "instep": ("held", 8)}
    assert carried(small, 4) == {
        "needle 1": ("needle", 16), "instep": ("held", 8), "waste": ("waste yarn", 8),
    }  # fmt: skip
    assert carried(small, 6) == {"instep": ("held", 8), "waste": ("waste yarn", 8)}
    assert carried(small, 9) == {"needle 1": ("needle", 16)}


def test_what_is_new_lifted_or_waiting_is_marked(small: Stages) -> None:
    assert small[0].carriers[0].states == (State.NEW,) * 16
    over_waste = small[4].carriers[0].states
    assert (over_waste.count(State.NEW), over_waste.count(State.LIVE)) == (8, 8)
    assert small[4].carriers[2].states == (State.WAITING,) * 8
    assert small[8].carriers[0].states.count(State.LIFTED) == 8


def test_the_two_corner_holes_are_outlined_with_their_size(small: Stages) -> None:
    # A corner left as it is: a cell of 7 edges, on either side of the opening (common practice:
    # "the two corner holes that knitters know").
    gaps = small[9].gaps
    assert [len(gap.loops) for gap in gaps] == [7, 7]
    for gap in gaps:
        # Seven edges, each as long as a stitch is wide (3.125 mm) or a round high (2.273 mm).
        assert gap.round_mm is not None
        assert 7 * 2.272 < gap.round_mm < 7 * 3.125
        assert str(gap) == "7 edges, 6 mm across"
    drawn = of_class(small.pictures()[9].svg(), "gap")
    assert [node.get("data-edges") for node in drawn] == ["7", "7"]
    assert not small[5].gaps


def test_holes_stand_at_opposite_sides_where_the_two_halves_meet(small: Stages) -> None:
    corners = [node[0].get("points", "").split(" ")[0].split(",") for node in
               of_class(small.pictures()[9].svg(), "gap")]  # fmt: skip
    (x1, y1), (x2, y2) = ((float(x), float(y)) for x, y in corners)
    assert abs(x1 - x2) < 3
    assert abs(y1 - y2) > 60


@pytest.mark.parametrize(("sts", "to"), [(16, 8), (64, 20)])
def test_every_loop_is_drawn_whether_few_or_many(sts: int, to: int) -> None:
    for one, picture in zip(stages(heel(sts, to)).all, stages(heel(sts, to)).pictures(),
                            strict=True):  # fmt: skip
        shown = sum(len(carrier.loops) for carrier in one.carriers)
        keyed = len({s for c in (*one.needles, *one.in_ring) for s in c.states} - {State.LIVE})
        assert len(of_class(picture.svg(), "loop")) == shown + keyed


def test_the_work_goes_right_to_left_on_the_near_needle() -> None:
    work = Work()
    cast_on(work, 16)
    work.join_round()
    work.arrange([8, 8])
    work.work(["k"] * 2)
    svg = stages_picture(work)
    (at,) = of_class(svg, "work")
    assert (at.get("data-at"), at.get("data-side")) == ("2", "RS")
    dot, head = float(at[0].get("cx", 0)), float(at[2].get("points", "").split(",")[0])
    assert head < dot
    needles = of_class(svg, "needle")
    assert float(needles[0].get("y1", 0)) > float(needles[1].get("y1", 0))  # the near one below
    loops = [node.get("d", "") for node in of_class(svg, "loop")][:8]
    x = [float(d.removeprefix("M").split()[0]) for d in loops]
    assert x == sorted(x, reverse=True)


def stages_picture(work: Work) -> str:
    return Stages("One", (stage(work, "Here"),)).svg()


def test_a_wrong_side_row_goes_left_to_right() -> None:
    pattern = Pattern("Flat", [CastOn(8), Row([k_to()], side="RS"), Row([k_to()], side="WS")])
    one = stages(pattern)[1]
    assert (one.right_side, one.goes_on, one.at) == (True, True, 0)
    work = Work()
    cast_on(work, 8)
    work.turn()
    work.work(["p"] * 3)
    (at,) = of_class(stages_picture(work), "work")
    assert (at.get("data-side"), at.get("data-at")) == ("WS", "5")
    assert float(at[2].get("points", "").split(",")[0]) > float(at[0].get("cx", 0))


def test_waste_knitted_in_waits_to_be_taken_out() -> None:
    pattern = Pattern(
        "Opening", [CastOn(16), Join(), knit_rounds(2), WasteRow(8, "thumb"), Round([k_to()])]
    )
    waste = {one.name: one for one in stages(pattern)[-1].carriers}["thumb"]
    assert (waste.kind, len(waste.loops)) == ("waste yarn", 16)  # 8 below, 8 above


def test_one_section_can_be_chosen() -> None:
    assert [one.title for one in stages(TOE, "Toe", size="M").all] == [
        "Toe: 11 rounds, from 32 to 8 sts"
    ]
    with pytest.raises(PictureError, match=r"'Toes': nothing .*; headings: 'Foot', 'Toe'"):
        stages(TOE, "Toes")


# the graft


def test_a_graft_shows_every_pass_once_and_in_order() -> None:
    grafted = knit(attrs_cut(heel(16, 8), Graft))
    svg = draw_graft(grafted).svg()
    numbers = [int(str(node.text)) for node in of_class(svg, "passes")]
    # Four stitches to four: each is passed through twice (common practice), 16 passes in all.
    assert sorted(numbers) == list(range(1, 17))
    columns: dict[str, list[str]] = {}
    for node in of_class(svg, "passes"):
        columns.setdefault(f"{node.get('x')} {float(node.get('y', 0)) > 90}", []).append(
            str(node.text)
        )
    assert ["1", "3"] in columns.values()
    assert ["2", "5"] in columns.values()
    # Legs join the needles, arcs run along one: n arcs less one on either needle.
    arcs = [node for group in of_class(svg, "arcs") for node in group]
    assert len(arcs) == 2 * 3
    assert len(of_class(svg, "stitch")) == 2 * 8  # before and after


def attrs_cut(pattern: Pattern, last: type) -> Pattern:
    at = [type(step) for step in pattern.steps].index(last)
    return Pattern(pattern.title, pattern.steps[: at + 1])


def test_a_fabric_without_a_graft_is_refused() -> None:
    with pytest.raises(PictureError) as caught:
        draw_graft(knit(Pattern("Tube", [CastOn(8), Join(), Round([k(8)])])))
    assert caught.value.what == "graft"


def test_a_sequence_reads_as_a_list_in_a_page(small: Stages) -> None:
    html = small._repr_html_()
    assert html.count("<li ") == html.count("<svg") == len(small)
    assert "Stage 3" in html


# every heel, every way


def sock_stages(hand: Hand = Hand.RIGHT, **choices: object) -> Stages:
    foot = Foot.of(length="24.6 cm", ball_girth="22.5 cm")
    sock = Sock(foot=foot, gauge=COARSE, **choices)  # type: ignore[arg-type]
    return stages(sock.pattern(), gauge=COARSE, hand=hand)


def heel_titles(**choices: object) -> list[str]:
    found = sock_stages(Hand.RIGHT, **choices)
    return [one.title.removeprefix("Heel: ") for one in found.all if one.title.startswith("Heel:")]


def test_rows_and_rounds_are_told_apart_and_counted() -> None:
    # What the pattern's own text says: 1 + 2 x 5 rows of the flap, 4 rows of the turn, 10 rounds.
    assert [title for title in heel_titles(heel="flap") if title[0].isdigit()] == [
        "11 rows, 12 sts", "4 short rows, from 12 to 8 sts", "10 rounds, from 34 to 24 sts",
    ]  # fmt: skip


def test_a_toe_up_flap_shows_gusset_turn_and_flap_apart() -> None:
    titles = heel_titles(heel="flap", direction="toe up")
    # 4 x 2 rounds; two wrapped pairs; the wraps taken up; 3 x 2 rows of flap: rows 7 and 8.
    assert titles == [
        "8 rounds, from 24 to 32 sts", "4 short rows, 32 sts",
        "2 short rows, taking up the wraps, from 32 to 30 sts", "6 short rows, from 30 to 24 sts",
        "K12.", "Rnd begins here. (24 sts)", "1 round, closing corners, 24 sts",
    ]  # fmt: skip


def test_wrapped_stitches_wait_on_either_side_of_the_heel() -> None:
    (one,) = [
        s for s in sock_stages(heel="short-row").all if s.title.endswith("8 short rows, 24 sts")
    ]
    (needle,) = one.needles
    assert needle.states[:12] == (State.WRAPPED,) * 4 + (State.LIVE,) * 4 + (State.WRAPPED,) * 4
    assert set(needle.states[12:]) == {State.LIVE}
    assert one.at == 4  # the right side faces: the row goes on from the heel's right-hand wraps


@pytest.mark.parametrize("direction", ["cuff down", "toe up"])
@pytest.mark.parametrize("heel_name", sorted(heel_names()))
def test_held_stitches_lie_in_the_ring_until_the_round_closes(
    heel_name: str, direction: str
) -> None:
    for one in sock_stages(heel=heel_name, direction=direction).all:
        held = [carrier.name for carrier in one.in_ring if carrier.kind == "held"]
        waste = [carrier.name for carrier in one.in_ring if carrier.kind == "waste yarn"]
        said = one.title
        assert bool(held) == (
            "Place next" in said
            or (heel_name, said) == ("flap", "Heel: Join to work in the round.")
        )
        assert bool(waste) == ("Return to needle" in said and heel_name == "forethought")
        if held:
            assert (one.at, one.goes_on) == (one.count, False)


def test_needles_bear_the_names_of_the_parts_on_them() -> None:
    found = {one.title: [needle.name for needle in one.needles] for one in sock_stages().all}
    assert found["Heel: 8 rounds, from 24 to 8 sts"] == ["heel", "new"]
    assert found["Foot: 21 rounds, 24 sts"] == ["instep", "sole"]


def test_a_closed_cast_on_lies_on_two_needles_face_to_face() -> None:
    first = sock_stages(direction="toe up")[0]
    assert first.in_rounds
    assert [len(needle.loops) for needle in first.needles] == [4, 4]


@pytest.mark.parametrize("heel_name", sorted(heel_names()))
def test_a_left_handed_knitter_has_it_all_mirrored(heel_name: str) -> None:
    right, left = (sock_stages(hand, heel=heel_name).pictures() for hand in (Hand.RIGHT, Hand.LEFT))
    assert len(right) == len(left)
    for one, other in zip(right, left, strict=True):
        assert one.description == other.description
        for kind in ("work", "round-begins"):
            xs = [[float(node[0].get("cx") or node[0].get("x1") or 0) for node in
                   of_class(picture.svg(), kind)] for picture in (one, other)]  # fmt: skip
            assert xs[1] == [pytest.approx(one.width - x, abs=0.02) for x in xs[0]]


# what is read


def words_on(picture: Picture) -> list[tuple[float, float, float, float, str]]:
    """Boxes of the texts, rather too wide than too narrow."""
    found = []

    def walk(node: ET.Element, dy: float) -> None:
        moved = node.get("transform", "translate(0 0)").removeprefix("translate(").rstrip(")")
        dy += float(moved.split()[1])
        if node.tag == "text":
            size, x, y = (float(node.get(key, 0)) for key in ("font-size", "x", "y"))
            wide = 0.9 * text_width(str(node.text), size)
            left = x - wide * {"middle": 0.5, "end": 1.0}.get(node.get("text-anchor", ""), 0)
            found.append((left, y + dy - 0.7 * size, left + wide, y + dy, str(node.text)))
        for child in node:
            walk(child, dy)

    for node in picture.body:
        walk(node, 0.0)
    return found


def overlapping(picture: Picture) -> list[tuple[str, str]]:
    boxes = words_on(picture)
    return [
        (a[4], b[4])
        for at, a in enumerate(boxes)
        for b in boxes[at + 1 :]
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
    ]


@together("count", [1, 2, 9, 10, 12, 30])
@together("width", [260.0, 320.0])
def test_numbers_of_a_graft_do_not_collide(count: int, width: float) -> None:
    half = Pattern("Pouch", [CastOn(2 * count), Join(), knit_rounds(2), Graft()])
    picture = graft_path(knit(half), width)
    assert overlapping(picture) == []
    shown = min(count, 12)
    assert len([box for box in words_on(picture) if box[4].isdigit()]) == 4 * shown


@pytest.mark.parametrize(
    "needles", ["one long circular", "five double-pointed", "four double-pointed"]
)
@pytest.mark.parametrize("heel_name", ["flap", "forethought"])
def test_no_text_lies_on_another_or_off_the_sheet(heel_name: str, needles: str) -> None:
    corners = attrs.evolve(heel_named(heel_name), corners=Corners.LEFT)  # type: ignore[misc]
    for picture in sock_stages(heel=corners, needles=needles, share=0.6).pictures():
        assert overlapping(picture) == []
        for left, top, right, bottom, _ in words_on(picture):
            assert left >= 0
            assert top >= 0
            assert right <= picture.width
            assert bottom <= picture.height


@pytest.mark.parametrize("heel_name", sorted(heel_names()))
def test_three_stages_side_by_side_are_set_in_seven_points(heel_name: str) -> None:
    # A sheet of A4, 210 mm, less two margins of 18 and two gaps of 4 (points: 72 to 25.4 mm).
    across = (210 - 2 * 18 - 2 * 4) / 3 / 25.4 * 72
    for picture in sock_stages(heel=heel_name).pictures():
        sizes = [float(node.get("font-size", 0)) for part in picture.body for node in part.iter()
                 if node.tag == "text"]  # fmt: skip
        assert min(sizes) * across / picture.width > 7.0


@pytest.mark.parametrize("needles", ["one long circular", "five double-pointed"])
def test_loops_that_would_lie_on_each_other_are_ticks(needles: str) -> None:
    for one in sock_stages(needles=needles).all:
        svg = Stages("", (one,)).svg()
        loops = [node for node in of_class(svg, "loop") if node.tag.endswith("path")]
        heads = [tuple(map(float, node.get("d", "M0 0")[1:].split("C")[0].split()))
                 for node in loops]  # fmt: skip
        for (x, y), (x1, y1) in pairwise(heads):
            assert hypot(x - x1, y - y1) > 10  # px; a loop is 10 wide


def test_moving_the_round_beginning_parts_no_needle() -> None:
    work = Work()
    cast_on(work, 16)
    work.join_round()
    work.work(["k"] * 6)
    work.begin_round_here()
    assert work.needle_counts == (16,)
    assert [len(needle.loops) for needle in stage(work).needles] == [16]


def test_a_stitch_of_your_own_is_shown_too() -> None:
    mine = STITCHES.with_stitch(Stitch("k4tog", "knit four together", 4, 1, (3, 2, 1, 0)))
    text = "Cast on 16 sts. Join in the round. Rnd 1: K4tog, k to end."
    found = stages(read(text, stitches=mine), stitches=mine)
    assert found[-1].title == "1 round, from 16 to 13 sts"


DYED = """
Join yarn A. Cast on 8 sts. Join in the round. Rnds 1-2: Knit.
Rnd 3: *K3 A, k1 B; rep from * to end. Change to yarn B.
Place next 4 sts on waste yarn as instep. Provisionally cast on 4 sts over waste yarn.
"""
LIGHT = "#f4e9cf"


@pytest.fixture(scope="module")
def dyed() -> Stages:
    return stages(read(DYED), colours={"A": LIGHT})


def test_each_loop_is_in_the_colour_of_its_yarn(dyed: Stages) -> None:
    """Counted from the text: eight of A, then three of A to each of B, then four of B."""
    ours = dyed[0].colours["B"]
    for at, of_a, of_b in ((0, 8, 0), (2, 6, 2), (3, 6, 2), (4, 6, 10)):
        drawn = of_class(dyed.pictures()[at].svg(), "loop")
        hues = [node.get("stroke") for node in drawn]
        assert (hues.count(LIGHT), hues.count(ours)) == (of_a, of_b), at


def test_a_light_yarn_has_an_outline_that_shows_on_paper(dyed: Stages) -> None:
    """Contrast by WCAG 2.2, success criterion 1.4.11: 3 to 1 for what must be told apart."""
    for parent in ET.fromstring(dyed.pictures()[2].svg()).iter():
        for below, above in pairwise(parent):
            if above.get("class") == "loop" and above.get("stroke") == LIGHT:
                assert below.get("d") == above.get("d")
                assert float(below.get("stroke-width", "")) > float(above.get("stroke-width", ""))
                assert contrast(below.get("stroke", ""), "#ffffff") > 3


def contrast(one: str, other: str) -> float:
    """Relative luminance and contrast ratio as WCAG 2.2 defines them."""

    def luminance(colour: str) -> float:
        parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
        linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
        return sum(w * p for w, p in zip((0.2126, 0.7152, 0.0722), linear, strict=True))

    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_yarns_are_named_beside_their_colours_and_read_out(dyed: Stages) -> None:
    last = dyed.pictures()[-1]
    named = {node.get("data-yarn"): node for node in of_class(last.svg(), "key")}
    assert {name: node[-1].text for name, node in named.items()} == {
        "A": "yarn A", "B": "yarn B, in use"
    }  # fmt: skip
    assert "instep (held): 4 sts, 3 of yarn A, 1 of yarn B." in last.description
    assert 'data-colours="own"' in dyed.svg()


def test_one_yarn_has_no_colours(small: Stages) -> None:
    assert not small[0].colours
    assert not of_class(small.svg(), "key")
    assert "data-colours" not in small.svg()
