"""One number: a girth, a stretch, a chance is the same in report, comparison, mending and study."""

from __future__ import annotations

import json
import re
from typing import Any

import attrs
import numpy as np
import pytest
from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st

from loopwright.design import DesignFile
from loopwright.errors import SizingError
from loopwright.fitting import compare, fit, remedies, sample
from loopwright.fitting._sample import TAPERED
from loopwright.gauge import Gauge
from loopwright.report._compose import record as record_of
from loopwright.report._markdown import markdown as markdown_of
from loopwright.report._web import page_of
from loopwright.report.data import DocumentKind
from loopwright.report.gather import report_of
from loopwright.sock import Design, Foot, Hands, Sock
from loopwright.sock.heels import Direction, heel_names
from loopwright.studies import Feet, study, variants

HANDS = Hands((-0.02, 0.01, -0.03), pieces=2)


@st.composite
def socks(draw: st.DrawFn) -> Sock:
    """Coarse socks of 700 to 1,400 loops, with every heel, some by hands that are known."""
    length = draw(st.integers(150, 180))
    ball = round(length * draw(st.floats(0.86, 1.02)))
    heel = round(ball * draw(st.floats(1.25, 1.5)))
    foot = Foot.of(length=f"{length} mm", ball_girth=f"{ball} mm", heel_girth=f"{heel} mm")
    sock = Sock(
        foot=foot,
        gauge=Gauge.of(draw(st.integers(12, 16)), 18),
        heel=draw(st.sampled_from(heel_names())),
        direction=draw(st.sampled_from(Direction)),
        ease=draw(st.sampled_from([-0.15, -0.10, -0.05])),
        cuff=draw(st.sampled_from(["2x2 rib", "rolled"])),
        hands=draw(st.sampled_from([None, HANDS])),
    )
    try:
        sock.plan()
    except SizingError:  # too few stitches for that heel
        assume(False)
    return sock


# Nothing is shrunk: each try knits, draws and mends a sock.
@settings(max_examples=2, deadline=None, phases=[Phase.explicit, Phase.generate])
@given(socks())
def test_a_number_is_the_same_wherever_it_stands(sock: Sock) -> None:
    sits = fit(sock)
    told = DesignFile(Design("", {"": sock}))
    report = report_of(told, documents=[DocumentKind.RECORD])
    (size,) = report.sizes
    side_by_side = compare(sock, [sock.heel.name])
    (row,) = side_by_side.rows
    found = remedies(sample(sock), most=1) if size.mend is None else size.mend
    for other in (size.fit, row.fit, found.before):
        assert other == sits
    heel = sits.at("heel")
    record = json.loads(json.dumps(side_by_side.to_dict()))["heels"][0]
    assert record["heel_girth_mm"] == round(heel.sock.mm, 3)
    assert record["heel_stretch_ratio"] == round(heel.stretch, 3)
    assert record["goes_on_percent"] == round(100 * sits.verdict.goes_on, 3)
    cell = f"{heel.sock.mm / 10:.1f} ± {heel.sock.sd_mm / 10:.1f} cm"
    for view in (page_of(record_of(report)), markdown_of(report)):
        assert cell in view
        assert f"{heel.stretch:.2f}" in view
        assert sits.verdict.lines[0].replace(" %", "") in re.sub(r"[\xa0 ]%", "", view)
    studied = _in_a_study(sock)
    assert studied["heel_girth_mm"] == pytest.approx(heel.sock.mm, rel=1e-12)
    assert studied["heel_stretch_ratio"] == pytest.approx(heel.stretch, rel=1e-12)
    ball = sits.at("ball")
    if TAPERED not in ball.sock.how:  # a study knows the ball by its stitches only
        assert studied["ball_stretch_ratio"] == pytest.approx(ball.stretch, rel=1e-12)
    if found.enough:
        assert found.advice in page_of(record_of(report)).replace("\xa0", " ")
        assert fit(found.enough[0].sock) == found.enough[0].fit


def _in_a_study(sock: Sock) -> dict[str, Any]:
    """The numbers of a study of this one sock on its one foot."""
    names = ("length", "ball_girth", "heel_girth")
    mm = [[getattr(sock.foot, name).mm for name in names]]
    feet = Feet(names, np.array(mm), sexes=(sock.foot.sex,), ids=("one",))
    options = {name: getattr(sock, name) for name in ("direction", "ease", "cuff", "hands")}
    designs = variants(heel=sock.heel.name, **options)
    table = study(designs, feet, gauges=sock.gauge, measures="heel girth").table()
    (row,) = table.to_dict("records")
    return dict(row)


def test_another_process_gives_the_same_number() -> None:
    """The shape is the same bit for bit, however often it is relaxed."""
    sock = Sock(foot=Foot.of(length="24 cm", ball_girth="22 cm"), gauge=Gauge.of(14, 20))
    assert fit(sock) == fit(attrs.evolve(sock))
