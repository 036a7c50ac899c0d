"""Remedies: what each change does, the search, and that nothing unsound is offered."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from itertools import groupby
from pathlib import Path
from typing import Any

import attrs
import pytest

from loopwright.errors import LoopwrightError, SizingError, StepError, UnsoundFabricError
from loopwright.fabric import check
from loopwright.fitting._fit import fit
from loopwright.fitting._mending import estimate_mm, remedies
from loopwright.fitting._remedies import Remedies, why_not
from loopwright.fitting._sample import Sample, sample
from loopwright.gauge import Gauge
from loopwright.pattern.steps import Graft
from loopwright.sock import Change, Foot, Sock, changes
from loopwright.sock.heels import (
    Flap,
    FlapFabric,
    Forethought,
    Heel,
    ShortRow,
    flap_heel_girth_mm,
    heel_named,
    heel_names,
    wedge_heel_girth_mm,
)
from loopwright.sock.wedge import Phase, Wedge
from together import together

FOOT = Foot.of(length="246 mm", ball_girth="228 mm", heel_girth="310 mm")
HIGH = Foot.of(length="246 mm", ball_girth="228 mm", heel_girth="345 mm")
COARSE = Gauge.of(16, 22)
TIGHT = Sock(foot=HIGH, gauge=COARSE, ease=-0.16)


@pytest.fixture(scope="module")
def mended() -> Remedies:
    """A high instep in a close sock: it won't go on, and its heel is tight."""
    return remedies(TIGHT)


# What the remedies do


def test_each_remedy_is_sound_and_judged_as_everything_is(mended: Remedies) -> None:
    assert mended.enough
    for remedy in mended:
        assert check(remedy.sample.fabric, openings=1).ok
        assert remedy.sample.fabric.euler_characteristic == 2
        assert remedy.girth_mm == remedy.fit.at("heel").sock.mm
        assert remedy.fit == fit(sample(remedy.sock), HIGH)


def test_enough_is_what_a_new_run_finds_good(mended: Remedies) -> None:
    """The design taken is knitted anew: its verdict is good, and nothing else is called enough."""
    assert not mended.before.verdict.is_good
    for remedy in mended:
        assert remedy.is_enough == fit(remedy.sock).verdict.is_good
        if remedy.is_enough:
            again = remedies(remedy.sock)
            assert (again.is_needed, len(again)) == (False, 0)


def test_the_least_change_comes_first(mended: Remedies) -> None:
    sizes = [remedy.size for remedy in mended.enough]
    assert sizes == sorted(sizes)
    assert [remedy.is_enough for remedy in mended] == sorted(
        (remedy.is_enough for remedy in mended), reverse=True
    )
    assert mended.advice.startswith(f"The least change that mends it: {mended[0].words} (")


def test_none_is_repeated_and_none_is_the_sock_itself(mended: Remedies) -> None:
    patterns = [remedy.sample.pattern.steps for remedy in mended]
    assert len(set(patterns)) == len(patterns)
    assert TIGHT.pattern().steps not in patterns


def test_what_was_tried_in_vain_is_told(mended: Remedies) -> None:
    """No heel helps where the leg can't pass; only what widens the leg does."""
    assert any("not enough by the estimate" in out.reason for out in mended.left_out)
    assert "left out" in str(mended)
    for one in (*mended, *mended.left_out):
        assert one.words in str(mended)
        assert one.words in mended._repr_html_()
    found = {remedy.words for remedy in mended}
    assert not found & {out.words for out in mended.left_out}
    assert all("more stitches" in [change.key for change in one.changes] for one in mended.enough)


def test_differences_are_those_of_the_two_socks(mended: Remedies) -> None:
    """Counted anew from both fabrics and plans."""
    before = sample(TIGHT)
    remedy = mended[0]
    after = sample(remedy.sock)
    assert remedy.rounds == after.rounds - before.rounds
    assert remedy.yarn_m == pytest.approx(after.yarn.metres.likely - before.yarn.metres.likely)
    assert remedy.change_mm == pytest.approx(after.girths["heel"].mm - before.girths["heel"].mm)
    lengths = [made.plan.measure("foot length").finished.mm for made in (before, after)]
    assert remedy.foot_mm == pytest.approx(lengths[1] - lengths[0])


def test_the_search_estimated_what_was_then_measured(mended: Remedies) -> None:
    """Within 4 % of the exact girth; both are shown."""
    searched = [remedy for remedy in mended if remedy.estimate_mm is not None]
    assert searched
    for remedy in searched:
        assert remedy.estimate_mm == pytest.approx(remedy.girth_mm, rel=0.04)


def test_a_sock_whose_verdict_is_good_needs_no_mending() -> None:
    found = remedies(Sock(foot=FOOT, gauge=COARSE))
    assert (len(found), found.left_out, found.is_needed) == (0, (), False)
    assert found.verdict.startswith("Nothing to mend: it goes on (")
    assert found.to_dict()["remedies"] == []


def test_a_loose_heel_is_told_and_made_closer_without_asking() -> None:
    """A slender heel in a flap heel's sock."""
    slender = Foot.of(length="246 mm", ball_girth="228 mm", heel_girth="235 mm")
    sock = Sock(foot=slender, gauge=COARSE, heel="flap")
    found = remedies(sock, kinds=["longer flap"])
    assert "loose at the heel" in found.verdict
    assert found
    assert all(remedy.change_mm < 0 for remedy in found)


def test_a_leg_is_changed_only_where_the_leg_is_to_be_mended() -> None:
    """A stout calf: the top is tight, and a shaped leg is the least that mends it."""
    stout = Foot.of(length="246 mm", ball_girth="228 mm", heel_girth="305 mm", leg_girth="300 mm")
    found = remedies(Sock(foot=stout, gauge=COARSE), most=1)
    assert [sits.place for sits in found.before.verdict.tight] == ["top"]
    assert found[0].is_enough
    assert found[0].changes[0].key == "another leg"
    assert found[0].fit.at("top").stretch < found.before.at("top").stretch


def test_changes_are_added_up_where_one_does_not_do() -> None:
    """A leg that can't pass, a tight heel and a tight top need something for each."""
    foot = Foot.of(length="246 mm", ball_girth="220 mm", heel_girth="345 mm", leg_girth="310 mm")
    found = remedies(Sock(foot=foot, gauge=Gauge.of(24, 33), heel="short-row"), most=1)
    assert found[0].is_enough
    assert len(found[0].changes) > 1
    assert len({change.key for change in found[0].changes}) == len(found[0].changes)
    assert ", and " in found[0].words


def test_a_remedy_is_plain_data_too(mended: Remedies) -> None:
    told = mended.to_dict()
    assert json.loads(json.dumps(told)) == told
    assert told["remedies"][0]["verdict"]["is_good"] is True
    assert told["verdict"]["is_good"] is False


def test_a_tight_heel_brings_its_caution(mended: Remedies) -> None:
    assert str(mended).count("Caution: ") == 1
    assert "clinician" in mended._repr_html_()


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (SizingError("gusset", "2", "too few"), "it doesn't fit into this sock: gusset"),
        (StepError("Round", "there is nothing to work"), "it can't be knitted in this sock: "),
    ],
)
def test_what_was_left_out_is_told_in_a_sentence(error: LoopwrightError, words: str) -> None:
    assert why_not(error).startswith(words)


def test_a_loose_heel_is_made_closer() -> None:
    sock = Sock(foot=FOOT, gauge=COARSE, heel="flap")
    found = remedies(sock, stretch=1.3, kinds=["longer flap"])
    (remedy,) = found
    assert remedy.change_mm < 0
    assert "fewer" in remedy.words
    assert remedy.is_enough == (remedy.stretch >= 1.3)


@pytest.mark.parametrize("stretch", [0.2, 5.0, math.nan])
def test_a_stretch_out_of_reason_is_refused_before_anything_is_knitted(
    stretch: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Sock, "pattern", lambda self: pytest.fail("it was knitted"))
    with pytest.raises(SizingError, match="heel's stretch"):
        remedies(Sock(foot=FOOT, gauge=Gauge.of(14, 20)), stretch=stretch)


# Breakers: what must not be offered


def _unsound(sock: Sock, *, roomier: bool) -> Iterator[Change]:
    class Torn(Sock):
        def pattern(self):  # type: ignore[no-untyped-def]
            whole = super().pattern()
            *_, last = (n for n, step in enumerate(whole.steps) if isinstance(step, Graft))
            return type(whole)(whole.title, whole.steps[:last] + whole.steps[last + 1 :])

    # The plain rounds make it roomier, so that nothing but the checks keeps it out.
    heel = Forethought(plain_rounds=9)
    torn = Torn(foot=sock.foot, gauge=sock.gauge, heel=heel)
    yield Change("torn", "leave the toe open", 0, torn, is_series=False)


def _same(sock: Sock, *, roomier: bool) -> Iterator[Change]:
    yield Change("a", "nothing", 0, sock, is_series=False)


def _wrong_way(sock: Sock, *, roomier: bool) -> Iterator[Change]:
    wedge = Wedge(left=sock.plan().heel.wedge.left + 8)  # type: ignore[attr-defined]
    sooner = attrs.evolve(sock, heel=Forethought(wedge=wedge))
    yield Change("b", "stop sooner", 0, sooner, is_series=False)


def test_what_the_checks_reject_is_never_offered() -> None:
    sock = Sock(foot=HIGH, gauge=Gauge.of(14, 20), ease=-0.2)
    torn = next(_unsound(sock, roomier=True)).sock
    with pytest.raises(UnsoundFabricError) as refused:
        sample(torn)
    found = remedies(sock, changes=_unsound)
    assert len(found) == 0
    assert [(out.words, out.reason) for out in found.left_out] == [
        ("leave the toe open", why_not(refused.value))
    ]


def test_the_same_sock_and_the_wrong_way_are_never_offered() -> None:
    sock = Sock(foot=HIGH, gauge=Gauge.of(14, 20), ease=-0.2)

    def both(sock: Sock, *, roomier: bool) -> Iterator[Change]:
        yield from (*_same(sock, roomier=roomier), *_wrong_way(sock, roomier=roomier))

    found = remedies(sock, changes=both)
    assert len(found) == 0
    (out,) = found.left_out
    assert out.words == "stop sooner"
    assert "not enough by the estimate" in out.reason


# The changes


@pytest.mark.parametrize(
    ("heel", "kinds"),
    [
        (Forethought(), {"plain rounds", "small gusset", "decreased further"}),
        (ShortRow(), {"small gusset", "narrower middle"}),
        (Flap(), {"longer flap"}),
    ],
    ids=["forethought", "short-row", "flap"],
)
def test_a_heel_is_tried_with_what_its_fields_allow(heel: Heel, kinds: set[str]) -> None:
    sock = Sock(foot=FOOT, gauge=COARSE, heel=heel)
    always = {"more stitches", "heel on more stitches", "another leg", "longer foot",
              "another heel"}  # fmt: skip
    assert {change.key for change in changes(sock)} == kinds | always


@together("roomier", [True, False])
@together("name", heel_names())
def test_each_change_changes_one_thing_and_goes_on_the_same_way(name: str, roomier: bool) -> None:
    """The estimate grows, or shrinks, from change to change; and every one is another sock."""
    sock = Sock(foot=FOOT, gauge=COARSE, heel=name)
    for key, group in groupby(changes(sock, roomier=roomier), key=lambda change: change.key):
        of_kind = [*group]
        assert sock not in [change.sock for change in of_kind]
        assert len({change.words for change in of_kind}) == len(of_kind)
        assert len({change.by for change in of_kind if change.by}) in (len(of_kind), 0)
        if not of_kind[0].is_series or key == "heel on more stitches":
            continue  # on more stitches, wedges that take four at a time go up and down by rounding
        girths = [*_estimates([Change("", "", 0, sock), *of_kind])]
        assert girths == sorted(girths, reverse=not roomier), key


def _estimates(changes: list[Change]) -> Iterator[float]:
    for change in changes:
        try:
            guess = estimate_mm(change.sock)
        except SizingError:
            continue  # more than this sock has room for
        if guess is not None:
            yield guess


def test_phases_of_a_wedge_are_left_alone() -> None:
    """Their number of decreases is what somebody asked for, round by round."""
    heel = Forethought(wedge=Wedge(phases=(Phase(1, 2), Phase(2, 1))))
    sock = Sock(foot=FOOT, gauge=COARSE, heel=heel)
    assert "decreased further" not in {change.key for change in changes(sock)}


def test_the_estimate_is_the_closed_form_at_the_plans_numbers() -> None:
    round_ = Sock(foot=FOOT, gauge=Gauge.of(32, 44))
    cloth: dict[str, Any] = {"stitch_mm": 100 / 32, "course_mm": 100 / 44}
    assert estimate_mm(round_) == pytest.approx(wedge_heel_girth_mm(64, 23.5, **cloth))
    plain = heel_named("flap", fabric="plain")  # rows of slip stitch are lower
    flap = Sock(foot=FOOT, gauge=Gauge.of(32, 44), heel=plain)
    assert estimate_mm(flap) == pytest.approx(flap_heel_girth_mm(64, 32, 17, **cloth))


# The table of the prototype


# Heel girths that another program of ours found on relaxed fabrics of 64 stitches at 32 x 44 to
# 10 cm (prototype figures; its heel has a set-up round more). Absolute ones are good to 9 %.
PROTOTYPE: dict[str, tuple[Heel, float]] = {
    "in the round, 64 to 20": (Forethought(), 248),
    "8 plain rounds first": (Forethought(plain_rounds=9), 277),
    "decreased to 12": (Forethought(wedge=Wedge(left=12)), 263),
    "stopped at 28": (Forethought(wedge=Wedge(left=28)), 235),
    "mini-gusset of 4": (Forethought(gusset=4), 271),
    "mini-gusset of 8": (Forethought(gusset=8), 292),
    "short rows to 10": (ShortRow(), 240),
    "flap of 32 rows": (Flap(fabric=FlapFabric.PLAIN), 270),
}


@pytest.fixture(scope="module")
def table() -> dict[str, float]:
    foot = Foot.of(length="246 mm", ball_girth="225 mm", heel_girth="310 mm")
    gauge = Gauge(3.2, 4.4)
    return {
        name: Sample(Sock(foot=foot, gauge=gauge, heel=heel)).heel_line.length_mm
        for name, (heel, _) in PROTOTYPE.items()
    }


def test_girths_are_those_of_the_prototype(table: dict[str, float]) -> None:
    """Within 3 %; a gusset is made in another way, and held to the 9 % that all girths are."""
    for name, (_, girth_mm) in PROTOTYPE.items():
        near = 0.09 if "gusset" in name else 0.03
        assert table[name] == pytest.approx(girth_mm, rel=near), name


def test_changes_are_those_of_the_prototype(table: dict[str, float]) -> None:
    """Variants of one heel against it as it is: within 3 mm, a gusset of 4 within 9.

    Ours is another gusset: 29 and 65 mm for 4 and 8 stitches a side, before the heel, where the
    prototype has 23 and 44. Stitches made on the heel itself give its step (see
    `test_socks_shape`), so a gusset before the heel of 8 is held here to be larger than of 4 only.
    """
    base = "in the round, 64 to 20"
    for name in ("8 plain rounds first", "decreased to 12", "stopped at 28", "mini-gusset of 4"):
        change = PROTOTYPE[name][1] - PROTOTYPE[base][1]
        near = 9 if "gusset" in name else 3
        assert table[name] - table[base] == pytest.approx(change, abs=near), name
    assert table["mini-gusset of 8"] > table["mini-gusset of 4"]


@pytest.mark.parametrize(
    ("row", "name"),
    [
        ("8 plain rounds more", "8 plain rounds first"),
        ("decreased to 12 instead of 20", "decreased to 12"),
        ("stopped at 28", "stopped at 28"),
        ("a small gusset of 4 a side", "mini-gusset of 4"),
        ("a small gusset of 8 a side", "mini-gusset of 8"),
        ("short rows instead", "short rows to 10"),
        ("a flap of 32 rows instead, in plain fabric", "flap of 32 rows"),
    ],
)
def test_the_explanation_tells_these_changes(table: dict[str, float], row: str, name: str) -> None:
    """Each row of the table in fit.md, ours and the prototype's, within its last place."""
    text = (Path(__file__).parents[2] / "docs/explanation/fit.md").read_text("utf-8")
    (line,) = [line for line in text.splitlines() if row.removeprefix("8 ") in line]
    ours, other = (
        [int(number) for number in re.findall(r"[+-]\d+", cell.replace("−", "-"))]
        for cell in line.split("|")[2:4]
    )
    at = 1 if row.startswith("8 ") else 0
    base = "in the round, 64 to 20"
    assert ours[at] == pytest.approx(table[name] - table[base], abs=1.0)
    assert other[at] == PROTOTYPE[name][1] - PROTOTYPE[base][1]
    assert f"| none | {table[base]:.0f} | {PROTOTYPE[base][1]} |" in text


@pytest.mark.parametrize(("more", "girth_mm"), [(6, 269), (8, 277), (12, 293)])
def test_plain_rounds_are_estimated_as_the_prototype_has_them(more: int, girth_mm: float) -> None:
    """By the flattened profile, that searches go by: each change within 2.5 mm (248 without)."""
    foot = Foot.of(length="246 mm", ball_girth="225 mm", heel_girth="310 mm")
    plain = Forethought().plain_rounds
    without, with_more = (
        estimate_mm(Sock(foot=foot, gauge=Gauge(3.2, 4.4), heel=Forethought(plain_rounds=rounds)))
        for rounds in (plain, plain + more)
    )
    assert without is not None
    assert with_more is not None
    assert with_more - without == pytest.approx(girth_mm - 248, abs=2.5)


def test_a_share_that_is_rounded_to_nothing_has_no_minus() -> None:
    """72 stitches at 32 to 10 cm are 225 mm, where the ball has 226: an ease of -0.4 %."""
    foot = Foot.of(length="24.6 cm", ball_girth="22.6 cm")
    sock = Sock(foot=foot, gauge=Gauge.of(32, 44), heel="short-row")
    told = [one.words for one in changes(sock, roomier=True) if one.key == "more stitches"]
    assert [words.rpartition(", ")[2] for words in told][1] == "an ease of +0 %"
