"""A design that is written reads back as the same design, whatever is in it."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as some

from loopwright import Design, Foot, Gauge, LoopwrightError, Sock
from loopwright.design import DesignFile, read_design, write_design
from loopwright.errors import DesignError
from loopwright.fabric.stitches import STITCHES, Stitch
from loopwright.length import Length
from loopwright.pattern import Run, Words
from loopwright.sock import (
    AllRound,
    Hands,
    Panel,
    PatternedLeg,
    SockStripes,
    SockYarn,
    StitchPattern,
    chart_size,
    cuff_names,
    heel_named,
    leg_names,
    toe_names,
)
from loopwright.sock.foot import complete
from loopwright.sock.heels import heel_names
from loopwright.sock.survey import Sex
from loopwright.yarn import Yarn

GAUGE = Gauge.of(32, 44)
TITLE = "Pier"


def same(sock: Sock) -> str:
    design = Design(TITLE, {"M": attrs.evolve(sock, title=TITLE)})
    text = write_design(design)
    assert read_design(text).design == design
    assert write_design(read_design(text).design) == text
    return text


@given(some.data())
def test_any_sock_comes_back(data: some.DataObject) -> None:
    def one(*of: Any) -> Any:
        return data.draw(some.sampled_from(of))

    size_mm = data.draw(some.floats(215, 290))
    foot = Foot.of(
        length=f"{size_mm} mm",
        ball_girth=one(None, "24 cm"),
        heel_girth=one(None, "34 cm"),
        sex=one(None, Sex.FEMALE, Sex.MALE),
        tape_sd=one("3 mm", "1.5 mm"),
    )
    sock = Sock(
        foot=foot,
        gauge=Gauge(data.draw(some.floats(2.5, 3.6)), 4.4, one(0.0, 0.028), 0.01),
        heel=one(*heel_names()),
        toe=one(*toe_names()),
        cuff=one(*cuff_names()),
        leg=one(*(name for name in leg_names() if name != "patterned")),
        direction=one("cuff down", "toe up"),
        needles=one("two circulars", "five double-pointed"),
        ease=data.draw(some.floats(-0.15, 0.05)),
        length_ease_mm=one(-10.0, -12.7, 0.0),
        share=one(0.5, 0.55),
        title=TITLE,
    )
    try:
        sock.plan()
    except LoopwrightError:
        return
    same(sock)


PLAIN = Sock(foot=Foot.of(length="24.6 cm", ball_girth="22.5 cm"), gauge=GAUGE)
LACE = StitchPattern.of(["p1, *k2tog, yo, k3, p1; rep from *", "p1, *k5, p1; rep from *"])
OWN = STITCHES.with_stitch(Stitch("k1b", "knit one below", symbol="dot .5 .5"))


@pytest.mark.parametrize(
    "sock",
    [
        attrs.evolve(PLAIN, heel=heel_named("flap", fabric="plain", longer=4)),
        attrs.evolve(PLAIN, heel=heel_named("forethought", plain_rounds=2, corners="closed")),
        attrs.evolve(
            PLAIN,
            leg=PatternedLeg(rounds=[[Run("k", 6)], [Run("yo"), Run("k2tog"), Run("k", 4)]]),
        ),
        attrs.evolve(PLAIN, yarn=Yarn.of("quay wool", "420 m / 100 g", ball="50 g")),
        attrs.evolve(PLAIN, yarn=Yarn.of("quay cotton", "2.5 Ne", fibre_density=1.54)),
        attrs.evolve(
            PLAIN,
            yarns=(SockYarn(name="A", colour="#24476b"), SockYarn(name="B", parts=["toe"])),
            stripes=SockStripes(bands=[("A", 2), ("B", 3)], parts=["leg"]),
        ),
        attrs.evolve(PLAIN, panel=Panel(pattern=LACE, plain=3, gauge=Gauge.of(30, 44))),
        attrs.evolve(
            PLAIN,
            panel=Panel(pattern=StitchPattern.of(["k1b, k2", "k3"], stitches=OWN), repeats=4),
        ),
        attrs.evolve(
            PLAIN,
            yarns=(SockYarn(name="A"), SockYarn(name="B")),
            all_round=[
                AllRound(pattern=StitchPattern.of_colours(["ABBA", "BAAB"]), after=6, times=3),
                AllRound(pattern=StitchPattern.of(["k2, p2", "p2, k2"]), part="foot", stretch=1.5),
            ],
        ),
        attrs.evolve(PLAIN, rib_gauge=Gauge.of(40, 44), slip_gauge=Gauge.of(32, 60)),
        attrs.evolve(PLAIN, stitches=60),
        attrs.evolve(PLAIN, foot=Foot.of(shoe="EU 39", sex="female")),
        attrs.evolve(PLAIN, foot=chart_size("woman 6-9").foot()),
        attrs.evolve(PLAIN, foot=complete({"length": Length(246.0, 1 / 3)}, Sex.UNKNOWN)),
    ],
)  # fmt: skip
def test_each_choice_comes_back(sock: Sock) -> None:
    same(sock)


def test_what_stands_beside_the_socks_comes_back(shared: Path) -> None:
    paths = sorted((shared / "designs").glob("*.toml"))
    assert len(paths) >= 3
    for path in paths:
        whole = read_design(path.read_text("utf-8"))
        text = write_design(whole)
        assert read_design(text) == whole
        assert tomllib.loads(text)["version"] == 1
    told = read_design(
        paths[0].read_text("utf-8")
        + '[document]\nauthor = "Ione Skerry"\nnotes = ["a", "b"]\nneedle = "2.25 mm"\n'
        + 'paper = "A5"\nlarge_print = true\n[document.before]\nheel = "Mind {foot girth}."\n'
        + '[[document.wording]]\ninstead_of = "Knit."\nsays = "Knit in peace."\n'
        + '[[measured]]\nsize = "38"\nheel_girth = "25 cm"\ntape = "2 mm"\n'
    )
    assert read_design(write_design(told)) == told


def test_each_size_has_what_is_its_own() -> None:
    feet = {name: Foot.of(length=f"{cm} cm") for name, cm in (("S", 23), ("M", 25))}
    socks = {name: attrs.evolve(PLAIN, foot=foot, title=TITLE) for name, foot in feet.items()}
    socks["S"] = attrs.evolve(socks["S"], stitches=56, ease=-0.05)
    design = Design(TITLE, socks)
    text = write_design(design)
    assert read_design(text).design == design
    assert tomllib.loads(text)["sizes"][0]["ease"] == -0.05
    assert "fit" not in tomllib.loads(text)


def test_what_no_key_says_is_refused_by_name() -> None:
    feet = {name: Foot.of(length=f"{cm} cm") for name, cm in (("S", 23), ("M", 25))}
    socks = {name: attrs.evolve(PLAIN, foot=foot, title=TITLE) for name, foot in feet.items()}
    socks["M"] = attrs.evolve(socks["M"], heel=heel_named("flap"))
    with pytest.raises(DesignError) as refused:
        write_design(Design(TITLE, socks))
    assert (refused.value.key, refused.value.found) == ("heel", "the heel of size M")
    with pytest.raises(DesignError, match="hands"):
        write_design(Design(TITLE, {"": attrs.evolve(PLAIN, hands=Hands())}))


def test_another_version_is_refused_before_its_keys() -> None:
    for version in ("2", '"1"', "true", "0"):
        with pytest.raises(DesignError) as refused:
            read_design(f"version = {version}\nbobbins = 3")
        assert (refused.value.key, refused.value.line) == ("version", 1)


def test_words_and_one_foot_without_a_name() -> None:
    design = Design(TITLE, {"": attrs.evolve(PLAIN, title=TITLE)})
    text = write_design(DesignFile(design, "Two\n\nparagraphs.", Words.UK))
    assert "[foot]" in text
    assert read_design(text) == DesignFile(design, "Two\n\nparagraphs.", Words.UK)
