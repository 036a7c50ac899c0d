"""Several sizes in one pattern: each is the sock that it would be by itself."""

from __future__ import annotations

from itertools import cycle, product

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loopwright.errors import SizingError
from loopwright.fabric import check
from loopwright.gauge import Gauge
from loopwright.pattern import (
    CastOn,
    Join,
    OnlySizes,
    Part,
    RepeatRounds,
    Round,
    Sized,
    Step,
    k,
    knit_round,
    knit_rounds,
    of_size,
    read,
    review,
    write,
)
from loopwright.pattern._knit import knit
from loopwright.sock import Design, Direction, Foot, Needles, Sock, heel_names, leg_names, toe_names
from loopwright.sock._legs import PatternedLeg
from loopwright.sock._merge import merged, merged_text
from loopwright.sock.heels import Forethought
from loopwright.sock.wedge import Wedge

FINE = Gauge.of(32, 44)
# Invented: a family in a lighthouse. The child is too small for some constructions' gussets.
FEET = {
    name: Foot.of(length=f"{length} cm", ball_girth=f"{girth} cm")
    for name, length, girth in (
        ("S", 22.6, 20.4), ("M", 24.6, 22.5), ("L", 26.8, 24.6), ("XL", 29.4, 27.3),
    )
}  # fmt: skip


def design(feet: dict[str, Foot] = FEET, gauge: Gauge = FINE, **choices: object) -> Design:
    one = Sock(foot=FEET["M"], gauge=gauge, **choices)  # type: ignore[arg-type]
    return Design.graded("Lighthouse", one, feet)


@pytest.mark.parametrize(
    ("heel", "direction", "toe"),
    [(*both, toe) for both, toe in zip(product(heel_names(), Direction), cycle(toe_names()))],
)
def test_each_size_is_the_sock_it_would_be_alone(heel: str, direction: Direction, toe: str) -> None:
    """Every heel both ways, the toes in turn; `test_any_feet_share_a_pattern` draws of them all."""
    made = design(heel=heel, toe=toe, direction=direction)
    pattern = made.pattern()
    for name, sock in made.socks:
        fabric = knit(pattern, size=name)
        assert fabric == sock.fabric(), name
        assert check(fabric, openings=1).ok
    text = write(pattern)
    assert read(text) == pattern
    assert write(read(text)) == text
    assert not review(pattern).findings, str(review(pattern))


@settings(max_examples=15)
@given(
    centimetres=st.lists(st.integers(21, 31), min_size=2, max_size=5, unique=True).map(sorted),
    heel=st.sampled_from(heel_names()),
    toe=st.sampled_from(toe_names()),
    leg=st.sampled_from([name for name in leg_names() if name != "patterned"]),
    direction=st.sampled_from(Direction),
    needles=st.sampled_from(Needles),
)
def test_any_feet_share_a_pattern(
    centimetres: list[int], heel: str, toe: str, leg: str, direction: Direction, needles: Needles
) -> None:
    feet = {f"{cm} cm".replace(" ", ""): Foot.of(length=f"{cm} cm") for cm in centimetres}
    made = design(
        feet, Gauge.of(22, 30), heel=heel, toe=toe, leg=leg, direction=direction, needles=needles
    )
    pattern = made.pattern()
    for name, sock in made.socks:
        assert knit(pattern, size=name) == sock.fabric()
    assert read(write(pattern)) == pattern


def test_one_size_alone_is_a_design_too() -> None:
    made = design({"M": FEET["M"]})
    assert made.fabrics()["M"] == made.socks[0][1].fabric()
    assert read(write(made.pattern())) == made.pattern()


def test_a_lone_size_without_a_name_is_knitted_and_checked() -> None:
    """As a design file without sizes gives it: its pattern is the sock's own, under its title."""
    sock = Sock(foot=Foot.of(length="24 cm"), gauge=Gauge.of(14, 20))
    design = Design("Signal lamp", {"": sock})
    assert design.pattern() == attrs.evolve(sock, title="Signal lamp").pattern()
    (report,) = design.checks().values()
    assert report.ok
    assert design.fabrics()[""].euler_characteristic == 2


def test_a_size_written_alone_has_no_brackets() -> None:
    pattern = design(heel="flap", toe="round").pattern()
    text = write(of_size(pattern, "L"))
    assert "72" in text
    assert "(72" not in text.replace("(72 sts)", "")


def test_table_of_measures() -> None:
    table = design().measures()
    assert table.sizes == tuple(FEET)
    girths = [measure.finished.mm for measure in table.rows[0]]
    assert girths == sorted(girths)
    asked = [0.9 * foot.ball_girth.mm for foot in FEET.values()]
    assert girths == pytest.approx(asked, abs=2 * FINE.stitch_width_mm)
    assert str(table).splitlines()[1].split()[:2] == ["foot", "girth"]
    assert table._repr_html_().count("<tr>") == len(table.rows) + 1


def test_sizes_knitted_and_checked() -> None:
    reports = design(heel="short-row").checks()
    assert list(reports) == list(FEET)
    assert all(report.ok and not report.blemishes for report in reports.values())


def test_a_patterned_leg_in_all_sizes() -> None:
    made = design(leg=PatternedLeg(rounds=[[k(4)], [k(2), attrs.evolve(k(2), stitch="p")]]))
    for name, sock in made.socks:
        assert knit(made.pattern(), size=name) == sock.fabric()


@pytest.mark.parametrize(
    ("change", "what"),
    [
        ({"gauge": Gauge.of(28, 38)}, "gauge"),
        ({"direction": "toe up"}, "direction"),
        ({"needles": Needles.TWO_CIRCULARS}, "needles"),
    ],
)
def test_sizes_that_share_no_pattern_are_refused(change: dict[str, object], what: str) -> None:
    one = Sock(foot=FEET["S"], gauge=FINE)
    with pytest.raises(SizingError) as refused:
        Design("Mixed", {"S": one, "M": attrs.evolve(one, **change)})  # type: ignore[arg-type]
    assert refused.value.found == f"size M has another {what}"


def test_no_sizes_are_refused() -> None:
    with pytest.raises(SizingError) as refused:
        Design("Empty", {})
    assert refused.value.found == "no sizes"


def test_a_size_made_differently_is_refused_where_no_text_can_say_it() -> None:
    one = Sock(foot=FEET["S"], gauge=FINE)
    slow = attrs.evolve(one, heel="short-row")
    with pytest.raises(SizingError) as refused:
        Design("Mixed", {"S": one, "M": slow}).pattern()
    assert refused.value.what == "sizes"


def test_a_heel_that_stops_sooner_in_one_size_is_the_same_text() -> None:
    one = Sock(foot=FEET["S"], gauge=FINE)
    narrow = Forethought(wedge=Wedge(stop=1 / 5), plain_rounds=3)
    made = Design("Two", {"S": one, "M": attrs.evolve(one, foot=FEET["M"], heel=narrow)})
    for name, sock in made.socks:
        assert knit(made.pattern(), size=name) == sock.fabric()


# Merging itself, on steps small enough to see


def test_numbers_that_differ_stand_in_brackets() -> None:
    assert merged([[CastOn(48)], [CastOn(56)]], "SM") == [CastOn(Sized((48, 56)))]


def test_steps_that_a_size_lacks_are_for_the_others() -> None:
    short: list[Step] = [CastOn(48), Join(), Round((k(48),))]
    long: list[Step] = [CastOn(48), Join(), Part((k(3),)), Round((k(48),))]
    assert merged([short, long], "SM")[2] == OnlySizes(("M",), Part((k(3),)))
    assert merged([long, short], "SM")[2] == OnlySizes(("S",), Part((k(3),)))


def test_a_repeat_that_a_size_lacks_is_worked_no_times() -> None:
    pair = RepeatRounds((knit_round(), Round((k(48),))), 3)
    for steps, times in (([[pair], []], (3, 0)), ([[], [pair]], (0, 3))):
        (step,) = merged(steps, "SM")
        assert isinstance(step, RepeatRounds)
        assert step.times == Sized(times)


def test_repeats_of_once_and_never_stay_while_sizes_differ() -> None:
    (only,) = merged([[knit_rounds(many)] for many in (0, 1, 5, 6)], "SMLX")
    assert isinstance(only, OnlySizes)
    step = only.step
    assert only.sizes == ("M", "L", "X")
    assert isinstance(step, RepeatRounds)
    assert step.times == Sized((0, 1, 5, 6))
    (few,) = merged([[knit_rounds(0)], [knit_rounds(1)], [knit_rounds(5)]], "SML")
    assert few == OnlySizes(("M", "L"), knit_rounds(Sized((0, 1, 5))))
    (one,) = merged([[knit_rounds(0)], [knit_rounds(0)], [knit_rounds(5)]], "SML")
    assert one == OnlySizes(("L",), knit_rounds(5))
    assert merged([[knit_rounds(1)], [knit_rounds(1)]], "SM") == [knit_round()]
    assert merged([[knit_rounds(0)], [knit_rounds(0)]], "SM") == []


def test_texts_with_numbers_that_differ() -> None:
    assert merged_text(["20.0 cm of 4", "22.5 cm of 4"]) == "20.0 (22.5) cm of 4"
