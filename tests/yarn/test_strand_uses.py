"""What strands are made of, on knitted fabrics, against counts by hand."""

from __future__ import annotations

from loopwright.gauge import Gauge
from loopwright.making import (
    Work,
    bind_off,
    cast_on,
    graft,
    hold,
    provisional_cast_on,
    recapture,
    take_out,
)
from loopwright.yarn import Yarn, strand_uses, yarn_need

GAUGE = Gauge.of(32, 44)
SOCK = Yarn.of("sock wool", "420 m / 100 g", ball="50 g")


def tube(repeat: list[str], rounds: int) -> Work:
    work = Work()
    cast_on(work, 16)
    work.join_round()
    for _ in range(rounds):
        work.round(repeat * (16 // len(repeat)))
    return work


def test_loops_by_stitch() -> None:
    """A tube of 16 with 5 rounds, four decreases in the last, bound off: 16 + 76 + 12."""
    work = tube(["k"], 4)
    work.round(["k2tog", "k", "k"] * 4)
    bind_off(work)
    (use,) = strand_uses(work.fabric())
    assert dict(use.loops) == {"co": 16, "k": 72, "k2tog": 4, "bo": 12}
    assert (use.name, use.role, use.crossings, use.floats) == ("main", "working", 0, 0)


def test_crossings_of_ribs() -> None:
    """1x1 rib crosses at each stitch, 2x2 at every other; the cast-on has no side of its own.

    16 stitches, 3 rounds: 48 loops on one helix, so 47 yarn edges between them; in 2x2 rib a
    repeat of 4 crosses twice, and 12 repeats have 23 crossings between or inside them.
    """
    assert strand_uses(tube(["k"], 3).fabric())[0].crossings == 0
    assert strand_uses(tube(["k", "p"], 3).fabric())[0].crossings == 47
    assert strand_uses(tube(["p", "k"], 3).fabric())[0].crossings == 47
    assert strand_uses(tube(["k", "k", "p", "p"], 3).fabric())[0].crossings == 23


def test_rows_of_stocking_stitch_cross_nowhere() -> None:
    """Knit on the right side, purl on the wrong: all knit as seen from the right side."""
    work = Work()
    cast_on(work, 8)
    work.turn()
    for row in range(4):
        work.row(["p" if row % 2 == 0 else "k"] * 8)
    flat = strand_uses(work.fabric())[0]
    assert flat.crossings == 0
    work = Work()
    cast_on(work, 8)
    work.turn()
    for _ in range(4):
        work.row(["k"] * 8)
    assert strand_uses(work.fabric())[0].crossings == 3  # garter: only from row to row


def test_floats_behind_slipped_stitches() -> None:
    """Every other stitch slipped in one round of 16: 8 floats, 8 loops."""
    work = tube(["k"], 1)
    work.round(["k", "sl"] * 8)
    work.plain_rounds(1)
    use = strand_uses(work.fabric())[0]
    assert use.floats == 8
    assert use.loops["k"] == 16 + 8 + 16


def test_a_heel_in_the_round_with_its_waste_yarn() -> None:
    """Eight held, eight cast on over waste: the waste counts though it was taken out."""
    work = tube(["k"], 4)
    hold(work, 8, "instep")
    provisional_cast_on(work, 8)
    work.work(["k"] * 8)
    work.plain_rounds(1)
    with_waste = {use.name: use for use in strand_uses(work.fabric())}
    assert with_waste["waste"].role == "waste"
    assert sum(with_waste["waste"].loops.values()) == 8
    graft(work)
    take_out(work, "waste")
    uses = {use.name: use for use in strand_uses(work.fabric())}
    assert sum(uses["waste"].loops.values()) == 8
    assert uses["main"].loops["graft"] == 16
    needs = {need.name: need for need in yarn_need(uses.values(), GAUGE, SOCK)}
    assert needs["sock wool"].balls == 1
    assert needs["waste"].grams is None
    recapture(work, "waste")
    after = {use.name: use for use in strand_uses(work.fabric())}
    assert after["main"].loops["lift"] >= 7  # lifted strands cost no yarn:
    again = {need.name: need for need in yarn_need(after.values(), GAUGE, SOCK)}
    assert again["sock wool"].metres == needs["sock wool"].metres


def test_a_fabric_of_nothing() -> None:
    """No strands, no yarn."""
    assert strand_uses(Work().fabric()) == ()


def test_yarn_overs_have_no_side() -> None:
    """Purl, yarn over, purl: the yarn over is drawn through nothing, so nothing is crossed."""
    work = tube(["p"], 1)
    work.work(["p", "yo"] * 16)
    assert strand_uses(work.fabric())[0].crossings == 0
