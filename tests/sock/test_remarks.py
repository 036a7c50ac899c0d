"""Remarks: what is unusual is said, each alone; what is usual is not."""

from __future__ import annotations

import tomllib
from pathlib import Path

import attrs
import pytest

from loopwright.design import read_design
from loopwright.errors import DesignError, SizingError
from loopwright.gauge import Gauge
from loopwright.sock import Design, Foot, Sock, remarks
from together import together

SHARED = Path(__file__).parents[2] / "shared"
FOOT = Foot.of(length="24.6 cm", ball_girth="22.8 cm", heel_girth="31 cm")
USUAL = Sock(foot=FOOT, gauge=Gauge.of(32, 44))


def test_what_is_usual_is_not_remarked() -> None:
    """Published sock gauges and the ease that is advised; the demo designs."""
    assert remarks(USUAL) == ()
    for ease in tomllib.loads((SHARED / "standards.toml").read_text("utf-8"))["ease"]["ranges"]:
        assert remarks(attrs.evolve(USUAL, ease=ease["from"])) == ()
    for path in (SHARED / "designs").glob("*.toml"):
        assert not any("Gauge" in text for text in read_design(path.read_text("utf-8")).remarks())


@together(
    ("changed", "said"),
    [
        ({"gauge": Gauge.of(300, 400)}, "counted over another length"),
        ({"gauge": Gauge.of(5, 7)}, "fewer than any yarn"),
        ({"gauge": Gauge.of(44, 32)}, "are the two swapped"),
        ({"gauge": Gauge.of(24, 48)}, "miscounted"),
        ({"ease": 0.10}, "+10 %"),
        ({"ease": -0.3}, "-30 %"),
        ({"foot": Foot.of(ball_girth="22.8 cm", heel_girth="24 cm")}, "1.05 times"),
        ({"foot": Foot.of(ball_girth="22.8 cm", heel_girth="38 cm")}, "1.67 times"),
        ({"foot": Foot.of(length="12 cm")}, "adults only"),
    ],
)
def test_each_slip_alone_is_remarked(changed: dict[str, object], said: str) -> None:
    (told,) = remarks(attrs.evolve(USUAL, **changed))  # type: ignore[arg-type]
    assert said in told


def test_a_remark_names_its_sizes() -> None:
    text = """
    gauge = {stitches = 32, rounds = 44, over = "10 cm"}
    [[sizes]]
    name = "S"
    length = "23 cm"
    [[sizes]]
    name = "M"
    length = "25 cm"
    ball_girth = "23 cm"
    heel_girth = "24 cm"
    """
    (told,) = read_design(text).remarks()
    assert told.startswith("Size M: Heel girth 240 mm")


# Sizes


def _sizes(*feet: tuple[str, str]) -> str:
    entries = (f'[[sizes]]\nname = "{name}"\n{foot}\n' for name, foot in feet)
    return 'gauge = {stitches = 24, rounds = 32, over = "10 cm"}\n' + "".join(entries)


def test_sizes_out_of_order_are_refused_with_their_names() -> None:
    with pytest.raises(DesignError, match=r"M \(23.0 cm long, .*\) after L \(25.0 cm long"):
        read_design(_sizes(("L", 'length = "25 cm"'), ("M", 'length = "23 cm"')))
    with pytest.raises(SizingError) as caught:
        Design.graded(
            "", USUAL, {"wide": FOOT, "slim": Foot.of(length="24.6 cm", ball_girth="21 cm")}
        )
    assert caught.value.found.startswith("slim (24.6 cm long, 21.0 cm round the ball) after wide")


def test_a_foot_that_is_shorter_and_wider_is_out_of_no_order() -> None:
    wide = Foot.of(length="24 cm", ball_girth="24 cm")
    assert Design.graded("", USUAL, {"slim": FOOT, "wide": wide}).sizes == ("slim", "wide")


def test_a_british_size_in_a_child_s_set_is_asked_for() -> None:
    """UK 12 is a foot of about 29.6 cm, or a child's of about 18.6 (scales: see _shoes)."""
    child, twelve = ("8 years", 'chart = "8 years"'), ("12", 'shoe = "UK 12"')
    with pytest.raises(DesignError) as caught:
        read_design(_sizes(child, twelve))
    assert caught.value.key == "sizes 2.shoe"
    assert "'UK child 12' (a foot of about 18.6 cm) or 'UK adult 12' (29.6 cm)" in str(caught.value)
    for whose, mm in (("child", 186.3), ("adult", 296.3)):
        told = ("12", f'shoe = "UK {whose} 12"')
        pair = (told, child) if whose == "child" else (child, told)
        lengths = [sock.foot.length.mm for _, sock in read_design(_sizes(*pair)).design.socks]
        assert min(abs(found - mm) for found in lengths) < 0.2
    assert read_design(_sizes(("9", 'shoe = "UK 9"'), twelve)).design.sizes == ("9", "12")
    with pytest.raises(DesignError, match="UK child 10"):
        read_design(_sizes(("10", 'shoe = "UK 10"'), twelve, ("1", 'shoe = "UK 1"')))
