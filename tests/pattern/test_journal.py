"""The journal says of each step what the fabric says of its loops."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from loopwright.errors import KnitError, PictureError
from loopwright.fabric import check, same_fabric
from loopwright.gauge import Gauge
from loopwright.pattern import (
    BindOff,
    Journal,
    Pattern,
    PickUp,
    Round,
    Row,
    Section,
    SockPart,
    knit,
    knitted,
    read,
    write,
)
from loopwright.picture import chart, charts, stages
from loopwright.sock import Design, Foot, Sock
from together import together

FOOT = Foot.of(length="16 cm", ball_girth="15.5 cm")
FLAP = Sock(foot=FOOT, gauge=Gauge.of(20, 28), heel="flap")
AFTERTHOUGHT = Sock(foot=FOOT, gauge=Gauge.of(20, 28), heel="afterthought", direction="toe up")


@pytest.mark.parametrize("sock", [FLAP, AFTERTHOUGHT])
def test_the_journal_tells_of_every_loop_once_and_in_order(sock: Sock) -> None:
    made = knitted(sock.pattern())
    told = [loop for entry in made.journal for loop in entry.loops]
    assert told == list(range(len(made.fabric.stitch)))
    assert same_fabric(made.fabric, knit(sock.pattern()))


@pytest.mark.parametrize("sock", [FLAP, AFTERTHOUGHT])
def test_the_work_stands_where_the_step_before_left_it(sock: Sock) -> None:
    entries = knitted(sock.pattern()).journal.entries
    for one, following in pairwise(entries):
        assert np.array_equal(one.after.live, following.before.live)
        assert (one.after.at, one.after.made) == (following.before.at, following.before.made)


def test_a_round_of_the_journal_holds_the_loops_of_its_courses() -> None:
    made = knitted(FLAP.pattern())
    for entry in made.journal:
        if isinstance(entry.step, Round | Row) and not entry.picked:
            assert len(set(made.fabric.course[list(entry.loops)])) == 1
            assert entry.rows == 1
    bound = [entry for entry in made.journal if isinstance(entry.step, BindOff)]
    assert all(entry.rows == 0 for entry in bound)


def test_the_fabric_after_the_last_step_is_the_finished_one() -> None:
    made = knitted(FLAP.pattern(), fabrics=True)
    last = made.journal.entries[-1].fabric
    assert last is not None
    assert same_fabric(last, made.fabric)
    counts = [len(entry.fabric.ids) for entry in made.journal if entry.fabric is not None]
    assert len(counts) == len(made.journal)
    assert counts == sorted(counts)  # nothing of a flap heel is taken out again


def picked(journal: Journal) -> int:
    return sum(one.stitches for one in journal.picked)


def test_what_was_picked_up_is_told_with_the_edge_it_came_from() -> None:
    made = knitted(FLAP.pattern())
    fabric = made.fabric
    assert picked(made.journal) == np.count_nonzero(fabric.stitch == fabric.stitches.code("pu"))
    for one in made.journal.picked:
        items = one.step.items  # type: ignore[attr-defined]
        assert any(isinstance(item, PickUp) for item in items)
        # Common practice: a stitch in each chain, and one or two at the corner.
        assert one.edges <= one.stitches <= one.edges + 2


def test_a_part_is_found_whatever_its_heading_says() -> None:
    pattern = FLAP.pattern()
    steps = [
        Section("Ferse", part="heel") if getattr(step, "part", None) is SockPart.HEEL else step
        for step in pattern.steps
    ]
    renamed = Pattern("", steps, gauge=pattern.gauge)
    heel = knitted(renamed).journal.made_by(SockPart.HEEL)
    assert heel.any()
    assert np.array_equal(heel, knitted(pattern).journal.made_by(SockPart.HEEL))
    assert not knitted(renamed).journal.made_by(SockPart.FINISHING).any()


@together(
    ("heading", "part"),
    [
        ("Short-row heel", SockPart.HEEL),
        ("TOE", SockPart.TOE),
        ("Heel and toe", None),
        ("Wheels", None),
        ("Thumb", None),
    ],
)
def test_a_heading_that_is_read_stands_for_the_one_part_that_it_names(
    heading: str, part: SockPart | None
) -> None:
    pattern = read(f"## {heading}\nCast on 8 sts. Join in the round. Rnd 1: Knit.")
    assert pattern.steps[0].part is part  # type: ignore[attr-defined]
    assert read(write(pattern)).steps[0].part is part  # type: ignore[attr-defined]


def test_charts_and_stages_of_what_was_knitted_are_those_of_the_pattern() -> None:
    design = Design.graded("Pier", FLAP, {"S": FOOT, "M": Foot.of(length="18 cm")})
    pattern = design.pattern()
    made = knitted(pattern, size="M", fabrics=True)
    assert charts(made) == charts(pattern, size="M")
    assert stages(made, "Heel") == stages(pattern, "Heel", size="M")
    assert chart(made, "Toe").size == "M"


def test_pictures_refuse_what_they_cannot_show() -> None:
    made = knitted(FLAP.pattern())
    with pytest.raises(PictureError, match="fabrics=True"):
        stages(made)
    with pytest.raises(PictureError, match="knit that size"):
        charts(made, size="L")


def test_a_pattern_of_no_steps_has_an_empty_journal() -> None:
    made = knitted(Pattern("", []))
    assert len(made.journal) == 0
    assert made.journal.made_by(SockPart.HEEL).tolist() == []
    assert stages(knitted(Pattern("", []), fabrics=True)).all == ()


def test_of_a_size_that_cannot_be_worked_the_journal_tells_how_far_it_went() -> None:
    """It was lost, with all that had been worked."""
    pattern = read(
        "Sizes: S (M)\n\nCast on 8 (9) sts. Join in the round.\n## Leg\nRnds 1-2: Knit.\n"
        "Rnd 3: [K2, k2tog] twice.\nRnd 4: Knit.\nBind off all sts.\n"
    )
    whole = knitted(pattern, size="S", as_far_as_it_goes=True)
    assert whole.stopped is None
    with pytest.raises(KnitError) as refused:
        knitted(pattern, size="M")
    made = knitted(pattern, size="M", as_far_as_it_goes=True)
    assert made.stopped is not None
    assert str(made.stopped) == str(refused.value)
    assert (made.stopped.size, made.stopped.line) == ("M", 6)
    assert "stopped: line 6" in str(made)
    assert [type(one.step) for one in made.journal] == [type(one.step) for one in whole.journal][:5]
    last = made.journal.entries[-1]
    assert [key for move in last.moves for key in move.keys] == ["k", "k", "k2tog"] * 2
    assert made.fabric == knit(read("Cast on 9. Join. Rnds 1-2: Knit. [K2, k2tog] twice."))
    assert not check(made.fabric, openings=2).mistakes
