"""Heels side by side: the table against the plans and fabrics that it is of."""

from __future__ import annotations

import json
from typing import Any

import attrs
import numpy as np
import pytest

from loopwright.errors import SizingError
from loopwright.fitting._compare import COLUMNS, TRADE, Comparison, compare
from loopwright.fitting._fit import UNMEASURED
from loopwright.gauge import Gauge
from loopwright.sock import Foot, Sock
from loopwright.sock.heels import Afterthought, Flap, Forethought, heel_names
from loopwright.sock.heels.flap import FlapNumbers
from loopwright.sock.wedge import Wedge, WedgeClosing

FOOT = Foot.of(length="246 mm", ball_girth="228 mm", heel_girth="310 mm")
EASY = Foot.of(length="246 mm", ball_girth="228 mm", heel_girth="260 mm")
SOCK = Sock(foot=FOOT, gauge=Gauge.of(14, 20))


@pytest.fixture(scope="module")
def side_by_side() -> Comparison:
    return compare(SOCK)


def test_every_known_heel_is_there_in_order(side_by_side: Comparison) -> None:
    assert tuple(row.name for row in side_by_side.rows) == heel_names()
    assert side_by_side.left_out == ()


def test_only_the_heel_differs(side_by_side: Comparison) -> None:
    for row in side_by_side.rows:
        assert attrs.evolve(row.sample.sock, heel=SOCK.heel) == SOCK
        assert row.sample.report.ok
        assert row.shape.loops.tolist() == row.sample.fabric.ids.tolist()


def test_the_flap_is_roomier_than_the_heel_in_the_round(side_by_side: Comparison) -> None:
    """What practitioners say (common practice); short rows are as close as the round, or closer."""
    girths = {row.name: row.sample.girths["heel"].mm for row in side_by_side.rows}
    assert girths["flap"] > girths["forethought"]
    assert girths["short-row with gusset"] > girths["short-row"]
    assert side_by_side.roomiest.sample.girths["heel"].mm == max(girths.values())


def test_the_same_heel_made_sooner_or_later_has_the_same_counts(side_by_side: Comparison) -> None:
    at_once, later = (side_by_side[name].sample for name in ("forethought", "afterthought"))
    counted = ("decreases", "grafted", "gaps", "largest_cell")
    for what in counted:
        assert getattr(at_once.heel_counts, what) == getattr(later.heel_counts, what), what
    assert at_once.girths["heel"].mm == pytest.approx(later.girths["heel"].mm, rel=0.03)


def test_counts_of_a_flap_are_those_of_its_plan(side_by_side: Comparison) -> None:
    """Each side picks up a chain's stitch each; the turn and gusset take what the plan says."""
    made = side_by_side["flap"].sample
    numbers = made.plan.heel
    counts = made.heel_counts
    assert isinstance(numbers, FlapNumbers)
    assert counts.picked_up == 2 * numbers.chains
    assert counts.decreases == numbers.turn.start - numbers.turn.left + 2 * numbers.gusset
    assert counts.grafted == 0


def test_a_ridge_is_counted_as_bound_off() -> None:
    heel = Forethought(wedge=Wedge(closing=WedgeClosing.BIND_OFF))
    (row,) = compare(SOCK, [heel]).rows
    assert row.sample.heel_counts.grafted == 0
    left = row.sample.plan.heel.wedge.left  # type: ignore[attr-defined]
    assert row.sample.heel_counts.bound_off == left // 2
    assert any("ridge" in text for text in compare(SOCK, [heel]).cautions)


def test_the_views_show_the_same_numbers(side_by_side: Comparison) -> None:
    told = json.loads(json.dumps(side_by_side.to_dict()))
    assert [heel["heel"] for heel in told["heels"]] == list(heel_names())
    text, html = str(side_by_side), side_by_side.table_html()
    for column in COLUMNS:
        assert (column.head in text) == (column in TRADE)
        assert column.head in side_by_side.text(details=True)
        assert all(column.key in heel for heel in told["heels"])
        for row in side_by_side.rows:
            assert f">{column.shown(row)}<" in html
    for view in (text, html, json.dumps(told)):
        assert UNMEASURED in view
    lines = side_by_side.markdown().splitlines()
    assert len({len(line) for line in lines}) == 1
    assert len(lines) == 2 + len(TRADE)
    assert len(side_by_side.markdown(details=True).splitlines()) == 2 + len(COLUMNS)


def test_it_is_told_in_the_words_of_the_trade(side_by_side: Comparison) -> None:
    """Which goes on, which has room, which is close; the researchers' words stand behind."""
    said = str(side_by_side)
    assert said.startswith("On this foot it ")
    assert f"Most room at the heel: {side_by_side.roomiest.name} (" in said
    least = min(side_by_side.rows, key=lambda row: row.sample.girths["heel"].mm)
    assert f"closest at the heel: {least.name} (" in said
    for word in ("cell", "gaps", "heel to ball"):
        assert word not in said
    high = Foot.of(length="246 mm", ball_girth="228 mm", heel_girth="390 mm")
    none = compare(SOCK, ["forethought", "flap"], high)
    assert "will hardly go on" in none.verdict or "does not go on" in none.verdict
    assert "the leg decides" in none.verdict
    assert none.cautions


def test_no_chance_is_told_as_none_or_certain(side_by_side: Comparison) -> None:
    (column,) = [one for one in COLUMNS if one.key == "chance_tight_percent"]
    roomy = side_by_side.roomiest
    easy = attrs.evolve(roomy, fit=compare(SOCK, [roomy.name], EASY).rows[0].fit)
    assert column.shown(easy) == "under 1"


def test_two_heels_of_one_kind_are_told_apart_and_the_same_counts_once() -> None:
    done: list[tuple[int, int, str]] = []

    def tell(*told: Any) -> None:
        done.append(told)

    heel = Forethought(plain_rounds=5)
    found = compare(SOCK, ["forethought", heel, Forethought(), "forethought"], progress=tell)
    assert [row.name for row in found.rows] == ["forethought", "forethought, plain rounds 5"]
    at_ends = [(at, of, what) for at, of, what in done if ":" not in what]
    assert at_ends == [(500, 1000, found.rows[0].name), (1000, 1000, found.rows[1].name)]
    assert [at for at, _, _ in done] == sorted(at for at, _, _ in done)
    girths = [row.sample.girths["heel"].mm for row in found.rows]
    assert np.diff(girths)[0] > 10


def test_the_socks_own_heel_is_compared_as_it_is() -> None:
    own = attrs.evolve(SOCK, heel=Forethought(plain_rounds=4))
    (row,) = compare(own, ["forethought"]).rows
    assert row.sample.sock.heel == own.heel


def test_a_heel_that_cannot_be_made_is_left_out_and_said() -> None:
    found = compare(SOCK, ["forethought", Flap(rows=200)])
    assert [row.name for row in found.rows] == ["forethought"]
    (out,) = found.left_out
    assert out.words == "flap"
    assert str(out) in str(found)
    assert "%" in found.verdict


def test_nothing_to_compare_is_refused_or_said() -> None:
    with pytest.raises(SizingError, match="name at least one"):
        compare(SOCK, [])
    with pytest.raises(SizingError, match="expected one of afterthought"):
        compare(SOCK, ["moccasin"])
    none = compare(SOCK, [Flap(rows=200)])
    assert none.rows == ()
    assert "No heel" in str(none)
    assert "No heel" in none.table_html()


def test_what_a_heel_has_of_its_own_is_said() -> None:
    """The design's own heel had a gusset, the same heel later had none, and nothing said so."""
    own = Afterthought(gusset=2, wedge=Wedge(closing=WedgeClosing.BIND_OFF))
    sock = attrs.evolve(SOCK, heel=own)
    found = compare(sock, ["afterthought", "flap"])
    assert found.notes == (
        "The afterthought heel differs from the usual: closing three-needle bind-off, gusset 2.",
        "The others are as their names alone ask for them.",
    )
    assert found.notes[0] in str(found)
    assert found.to_dict()["notes"] == list(found.notes)
    assert compare(sock, ["flap"]).notes == ()


def test_another_foot_changes_the_fit_and_not_the_sock() -> None:
    wide = Foot.of(length="246 mm", ball_girth="240 mm", heel_girth="330 mm")
    near, far = (compare(SOCK, ["forethought"], foot)["forethought"] for foot in (FOOT, wide))
    assert far.sample.girths["heel"].mm == near.sample.girths["heel"].mm
    assert far.fit.at("heel").stretch / near.fit.at("heel").stretch == pytest.approx(330 / 310)


def test_an_unknown_row_lists_the_known(side_by_side: Comparison) -> None:
    with pytest.raises(KeyError, match="there are: afterthought"):
        side_by_side["moccasin"]
