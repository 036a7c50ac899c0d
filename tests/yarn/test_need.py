"""Yarn of a piece: hand calculation, rules for edges, and what pairs were said to take."""

from __future__ import annotations

import pickle
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loopwright.errors import UnknownStitchError, YarnError
from loopwright.fabric.stitches import STITCHES, Kind, Stitch
from loopwright.gauge import Gauge, Relaxation
from loopwright.yarn import Range, StrandUse, Yarn, loop_length, tightness, yarn_need
from loopwright.yarn._need import _LOOPS

FIGURES = tomllib.loads(
    (Path(__file__).parents[2] / "shared" / "yarn.toml").read_text(encoding="utf-8")
)
GAUGE = Gauge.of(32, 44, state=Relaxation.FULL)
SOCK = Yarn.of("sock wool", "402 m / 100 g", ball="50 g")


def plain_sock(stitches: int, gauge: Gauge, *, leg_in: float, foot_in: float) -> StrandUse:
    """A sock with a heel in the round and a wedge toe, counted by hand.

    Heel and toe go from all stitches, half of them cast on anew for the heel, by 4 in every other
    round to about a third (common practice), and take about as much of the foot's length.
    """
    left = stitches // 3 // 4 * 4
    decrease_rounds = (stitches - left) // 4
    wedge = sum(2 * (stitches - 4 * done) for done in range(1, decrease_rounds + 1))
    wedge_mm = 2 * decrease_rounds * gauge.course_height_mm
    leg = round(leg_in * 25.4 / gauge.course_height_mm)
    foot = round((foot_in * 25.4 - 2 * wedge_mm) / gauge.course_height_mm)
    decreases = 4 * decrease_rounds
    return StrandUse(
        "main",
        {
            "co": stitches,
            "k": stitches * (leg + foot) + 2 * (wedge - decreases),
            "k2tog": decreases,
            "ssk": decreases,
            "graft": 2 * left,
        },
        tails=6,
    )


def test_adult_socks_against_published_use() -> None:
    """64 stitches, leg 12 in, foot 11 in (Red Cross lengths) at 32 x 44.

    Port Perry Star 1916: 64 stitches take about 4 oz (113.4 g) a pair, others 170 to 198 g. The
    range for the thickest sock yarn (357 m to 100 g) must hold 113 g, the usual (402 m) come
    within a fifth of it, and none exceed what pairs were said to take.
    """
    sock = plain_sock(64, GAUGE, leg_in=12.0, foot_in=11.0)
    assert 14_000 < sum(sock.loops.values()) < 18_000
    thick, usual = (
        yarn_need(
            [sock], GAUGE, Yarn.of("wool", f"{FIGURES['sock_yarn'][key]} m / 100 g"), pieces=2
        )
        for key in ("least_m", "usual_m")
    )
    published = sorted(use["grams_a_pair"] for use in FIGURES["use"])
    assert thick[0].grams is not None
    assert usual[0].grams is not None
    assert thick[0].grams.low < published[0] < thick[0].grams.high < published[-1]
    assert usual[0].grams.likely == pytest.approx(published[0], rel=0.2)


def test_heavy_socks_of_1939() -> None:
    """60 stitches at 6.5 to the inch, leg and foot 11 in, 7 oz a pair (Toronto 1939).

    Their weight by our metres gives the yarn's count; with our loop length it must make a fabric
    of the tightness that is published for plain fabrics, 1.3 to 1.5 (source in the file).
    """
    use = FIGURES["use"][-1]
    per_in = use["stitches_per_in"]
    gauge = Gauge.of(per_in, per_in * 5.5 / 4.2, over="1 in", state=Relaxation.FULL)
    sock = plain_sock(use["stitches"], gauge, leg_in=use["leg_in"], foot_in=use["foot_in"])
    metres = yarn_need([sock], gauge, {}, pieces=2)[0].metres
    tex = 1000 * use["grams_a_pair"] / metres.likely
    plain = FIGURES["tightness"]
    assert plain["least"] < tightness(loop_length(gauge).mm, tex) < plain["most"]


def test_a_hundred_grams_make_a_pair() -> None:
    """Common practice: 100 g of sock yarn make an ordinary adult pair of 64 stitches."""
    sock = plain_sock(64, GAUGE, leg_in=6.0, foot_in=9.5)
    need = yarn_need([sock], GAUGE, SOCK, pieces=2)[0]
    assert need.balls == 2
    assert need.grams is not None
    assert 50 < need.grams.likely < 100


def test_plain_loops_by_hand() -> None:
    """10,000 plain loops of 12.81 mm and no tails: 128.1 m; at 402 m to 100 g, 31.9 g."""
    need = yarn_need([StrandUse("main", {"k": 6000, "p": 4000}, tails=0)], GAUGE, SOCK)[0]
    loop = loop_length(GAUGE)
    assert need.metres.likely == pytest.approx(128.09, abs=0.01)
    assert need.metres.low == pytest.approx(10 * (loop.mm - 2 * loop.sd_mm))
    assert need.grams is not None
    assert need.grams.likely == pytest.approx(128.09 / 4.02, abs=0.01)
    assert need.grams.high == pytest.approx(need.metres.high / 4.02 * 1.05)
    assert need.balls == 1


@pytest.mark.parametrize(("key", "kind"), [("long_tail", "co"), ("graft", "graft")])
def test_edges_against_rules_of_thumb(key: str, kind: str) -> None:
    """3 to 4 times the width; for a cast-on, that lies under a needle's loop each.

    Sources in the file; at a gauge of exactly Munden's ratio, where a course takes Kw widths.
    """
    gauge = Gauge(3.2, 3.2 * 5.5 / 4.2, state=Relaxation.FULL)
    n = 20
    width = gauge.width(n).mm
    loops = {"co": n} if kind == "co" else {"graft": 2 * n}
    metres = yarn_need([StrandUse("main", loops, tails=0)], gauge, SOCK)[0].metres
    above = FIGURES["edges"]["course"][1] * width if kind == "co" else 0.0
    low, high = FIGURES["edges"][key]
    assert metres.low * 1000 - above < high * width
    assert metres.high * 1000 - above > low * width
    assert low * width * 0.9 < metres.likely * 1000 - above < high * width * 1.1


def test_ribs_take_more_by_their_crossings() -> None:
    """One yarn's thickness a crossing; a 1x1 rib has twice the crossings of a 2x2 rib."""
    plain, two, one = (
        yarn_need([StrandUse("main", {"k": 1000, "p": 1000}, crossings=n)], GAUGE, SOCK)[0].metres
        for n in (0, 1000, 2000)
    )
    assert two.likely - plain.likely == pytest.approx(SOCK.diameter_mm)
    assert one.likely - plain.likely == pytest.approx(2 * SOCK.diameter_mm)
    assert one.low == plain.low
    unknown = yarn_need([StrandUse("main", {"k": 2000}, crossings=2000)], GAUGE, {})[0].metres
    assert unknown.likely == pytest.approx(one.likely, rel=0.03)


def test_what_costs_nothing_and_what_costs_extra() -> None:
    """Lifted strands cost nothing; floats and tails do."""
    assert _LOOPS.keys() == set(Kind)
    bare = yarn_need([StrandUse("main", {"lift": 50}, tails=0)], GAUGE, SOCK)[0].metres
    assert bare == Range(0, 0, 0)
    tails = yarn_need([StrandUse("main", {}, tails=2)], GAUGE, SOCK)[0].metres
    assert tails.low <= 2 * 6 * 0.0254 <= tails.high  # 6 to 8 in: a guild's page on tails
    assert tails.low <= 2 * 8 * 0.0254 <= tails.high
    floats = yarn_need([StrandUse("main", {}, floats=100, tails=0)], GAUGE, SOCK)[0].metres
    assert floats.likely == pytest.approx(0.3125)


def test_other_loops_by_common_practice() -> None:
    """Common practice: an edge bound off takes 3 to 7 times its width, a stretchy one the most;
    a yarn over and a wrap take less than a stitch; a decrease about one.
    """
    n = 100
    width_m = GAUGE.width(n).mm / 1000
    loop_m = loop_length(GAUGE).mm * n / 1000

    def metres(key: str) -> Range:
        return yarn_need([StrandUse("main", {key: n}, tails=0)], GAUGE, SOCK)[0].metres

    bound = metres("bo")
    assert 3 * width_m < bound.low < 4.5 * width_m < bound.likely < 6 * width_m < bound.high
    assert bound.high < 7.5 * width_m
    for key in ("yo", "wrap", "ds"):
        assert 0.25 * loop_m < metres(key).low
        assert metres(key).likely < loop_m
    for key in ("ssk", "k2tog", "cdd", "kfb", "m1l", "ktbl"):
        assert metres(key).likely == pytest.approx(loop_m)
        assert metres(key).high > metres("k").high
    assert metres("cc") == metres("k") == metres("p")


def test_yarns_by_strand_and_waste() -> None:
    """Strands of one yarn add up; waste yarn stands for itself unless it is named."""
    uses = [
        StrandUse("leg", {"k": 1000}),
        StrandUse("scrap", {"k": 32}, role="waste"),
        StrandUse("heel", {"k": 1000}),
    ]
    alone = yarn_need(uses, GAUGE, SOCK)
    assert [need.name for need in alone] == ["sock wool", "scrap"]
    assert alone[1].grams is None
    assert alone[1].balls is None
    other = Yarn.of("red", "200 m / 50 g")
    named = yarn_need(uses, GAUGE, {"leg": SOCK, "heel": other, "scrap": other})
    assert [need.name for need in named] == ["sock wool", "red"]
    assert alone[0].metres.likely == pytest.approx(2 * named[0].metres.likely)
    assert named[1].balls is None
    assert yarn_need([], GAUGE, SOCK) == ()


def test_a_stitch_of_ones_own() -> None:
    """Read from the user's table; unknown otherwise."""
    table = STITCHES.with_stitch(Stitch("k4tog", "knit four together", 4, 1, (3, 2, 1, 0)))
    use = StrandUse("main", {"k4tog": 100}, tails=0)
    need = yarn_need([use], GAUGE, SOCK, stitches=table)[0]
    assert need.metres.likely == pytest.approx(loop_length(GAUGE).mm / 10)
    with pytest.raises(UnknownStitchError):
        yarn_need([use], GAUGE, SOCK)


@settings(max_examples=50)
@given(
    st.dictionaries(st.sampled_from([row.key for row in STITCHES]), st.integers(0, 5000)),
    st.integers(0, 500),
    st.integers(0, 500),
    st.integers(0, 8),
    st.integers(1, 4),
)
def test_ranges_are_ranges(
    loops: dict[str, int], crossings: int, floats: int, tails: int, pieces: int
) -> None:
    """Low, likely, high in order; more pieces take as many times as much; enough balls."""
    use = StrandUse("main", loops, "working", crossings, floats, tails)
    one = yarn_need([use], GAUGE, SOCK)[0]
    several = yarn_need([use], GAUGE, SOCK, pieces=pieces)[0]
    assert 0 <= one.metres.low <= one.metres.likely <= one.metres.high
    assert several.metres.likely == pytest.approx(pieces * one.metres.likely)
    assert several.grams is not None
    assert several.balls is not None
    assert 50 * (several.balls - 1) < several.grams.high <= 50 * several.balls or not loops
    assert pickle.loads(pickle.dumps(use)) == use


def test_refusals() -> None:
    """Negative counts and no pieces."""
    with pytest.raises(YarnError, match="k of strand 'main'"):
        StrandUse("main", {"k": -1})
    with pytest.raises(YarnError, match="tails of"):
        StrandUse("main", {}, tails=-1)
    with pytest.raises(YarnError, match="pieces"):
        yarn_need([], GAUGE, SOCK, pieces=0)
