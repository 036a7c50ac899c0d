"""What is where: counts, places and holes agree with the fabric."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest

from loopwright.errors import PictureError
from loopwright.gauge import Gauge
from loopwright.making import Work, cast_on
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
)
from loopwright.pattern.items import On
from loopwright.pattern.knit import knit
from loopwright.picture.grafting import draw_graft
from loopwright.picture.stage_data import State
from loopwright.picture.stages import Stages, stage, stages
from picture.charted import TOE, WEDGE

GAUGE = Gauge(3.2, 4.4)


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
        "Provisionally cast on 8", "1 round", "3 rounds", "Graft the",
        "Return to needle the", "Recapture the", "2 rounds",
    ]  # fmt: skip
    assert carried(small, 3) == {"needle 1": ("needle", 8), "instep": ("held", 8)}
    assert carried(small, 4) == {
        "needle 1": ("needle", 16), "instep": ("held", 8), "waste": ("waste yarn", 8),
    }  # fmt: skip
    assert carried(small, 7) == {"instep": ("held", 8), "waste": ("waste yarn", 8)}
    assert carried(small, 10) == {"needle 1": ("needle", 16)}


def test_what_is_new_lifted_or_waiting_is_marked(small: Stages) -> None:
    assert small[0].carriers[0].states == (State.NEW,) * 16
    over_waste = small[4].carriers[0].states
    assert (over_waste.count(State.NEW), over_waste.count(State.LIVE)) == (8, 8)
    assert small[4].carriers[2].states == (State.WAITING,) * 8
    assert small[9].carriers[0].states.count(State.LIFTED) == 8


def test_the_two_corner_holes_are_outlined_with_their_size(small: Stages) -> None:
    # A corner left as it is: a cell of 7 edges, on either side of the opening (common practice:
    # "the two corner holes that knitters know").
    gaps = small[10].gaps
    assert [len(gap.loops) for gap in gaps] == [7, 7]
    for gap in gaps:
        # Seven edges, each as long as a stitch is wide (3.125 mm) or a round high (2.273 mm).
        assert gap.round_mm is not None
        assert 7 * 2.272 < gap.round_mm < 7 * 3.125
        assert str(gap) == "7 edges, 6 mm across"
    drawn = of_class(small.pictures()[10].svg(), "gap")
    assert [node.get("data-edges") for node in drawn] == ["7", "7"]
    assert not small[6].gaps


def test_holes_stand_at_opposite_sides_where_the_two_halves_meet(small: Stages) -> None:
    corners = [node[0].get("points", "").split(" ")[0].split(",") for node in
               of_class(small.pictures()[10].svg(), "gap")]  # fmt: skip
    (x1, y1), (x2, y2) = ((float(x), float(y)) for x, y in corners)
    assert abs(x1 - x2) < 3
    assert abs(y1 - y2) > 60


@pytest.mark.parametrize(("sts", "to"), [(16, 8), (64, 20)])
def test_every_loop_is_drawn_whether_few_or_many(sts: int, to: int) -> None:
    for one, picture in zip(stages(heel(sts, to)).all, stages(heel(sts, to)).pictures(),
                            strict=True):  # fmt: skip
        shown = sum(len(carrier.loops) for carrier in one.carriers)
        keyed = len({s for c in one.needles for s in c.states} - {State.LIVE})
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
    assert [one.title for one in stages(TOE, "M", section="Toe").all] == [
        "Toe: 11 rounds, from 32 to 8 sts"
    ]


# the graft


def test_a_graft_shows_every_pass_once_and_in_order() -> None:
    grafted = knit(attrs_cut(heel(16, 8), Graft))
    svg = draw_graft(grafted).svg()
    numbers = [int(part) for node in of_class(svg, "passes") for part in str(node.text).split(",")]
    # Four stitches to four: each is passed through twice (common practice), 16 passes in all.
    assert sorted(numbers) == list(range(1, 17))
    first = {node.text for node in of_class(svg, "passes")}
    assert {"1, 3", "2, 5"} <= first
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
