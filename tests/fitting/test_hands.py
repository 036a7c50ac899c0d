"""Hands: the posterior against other arithmetic and simulated hands, and where it is used."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

import attrs
import numpy as np
import pytest

from loopwright.cli import main
from loopwright.design import read_design, with_sock
from loopwright.errors import DesignError, FootError
from loopwright.fitting import (
    Sample,
    compare,
    fit,
    hands_of,
    learned,
    remedies,
    with_hands,
)
from loopwright.fitting.limits import GIRTH_SD
from loopwright.gauge import Gauge, Relaxation
from loopwright.length import Length, Origin
from loopwright.pattern import write
from loopwright.sock import PIECE_SD, Foot, Hands, Measured, Sock, TapeLine
from together import together

SAMPLES = Path(__file__).parents[2] / "shared" / "samples"
FOOT = Foot.of(length="20 cm", ball_girth="19 cm", heel_girth="26 cm")
SOCK = Sock(foot=FOOT, gauge=Gauge.of(14, 20))
TAPE = 0.012  # 3 mm on 250


@cache
def _girths() -> Mapping[str, Length]:
    return Sample(SOCK).girths


LINES = (TapeLine.OVER_THE_HEEL, TapeLine.ROUND, TapeLine.ALONG)


def _drawn(rng: np.random.Generator) -> np.ndarray[Any, Any]:
    """The true width, height and heel of one pair of hands, from the prior."""
    return rng.multivariate_normal([0, 0, 0], np.array(Hands().covariance))


@pytest.mark.parametrize("pieces", [0, 1, 4])
@pytest.mark.parametrize("line", LINES)
def test_intervals_hold_what_they_say_on_simulated_hands(line: TapeLine, pieces: int) -> None:
    """1,000 hands: of the next piece's lengths 93 to 97 in 100 lie in the 95 % interval."""
    rng = np.random.default_rng(1917)
    held = 0
    for _ in range(1000):
        truth = _drawn(rng)
        rows = [
            (what, math.exp(truth @ what.value + rng.normal(0, math.hypot(PIECE_SD, TAPE))), TAPE)
            for _ in range(pieces)
            for what in LINES
        ]
        factor, sd = learned(rows, pieces=pieces).factor(line)
        later = truth @ np.array(line.value) + rng.normal(0, PIECE_SD)
        held += abs(later - math.log(factor)) <= 1.959964 * sd
    assert 930 <= held <= 970


def test_the_posterior_is_that_of_least_squares_with_the_prior_as_rows() -> None:
    """numpy's least squares over the readings and three rows that are the prior, each by its SD."""
    rng = np.random.default_rng(7)
    rows = [(line, float(rng.lognormal(0, 0.04)), 0.01 + 0.01 * k) for k, line in enumerate(LINES)]
    prior = np.sqrt(np.diag(Hands().covariance))
    weights = np.array([1 / math.hypot(sd, PIECE_SD) for _, _, sd in rows])
    left = np.vstack([np.array([line.value for line, _, _ in rows]) * weights[:, None],
                      np.diag(1 / prior)])  # fmt: skip
    right = np.concatenate([[math.log(r) for _, r, _ in rows] * weights, np.zeros(3)])
    solved, *_ = np.linalg.lstsq(left, right, rcond=None)
    hands = learned(rows, pieces=1)
    assert hands.mean == pytest.approx(solved)
    assert np.array(hands.covariance) == pytest.approx(np.linalg.inv(left.T @ left))


def test_nothing_measured_is_what_holds_without_hands() -> None:
    """The 9 % over the heel, as two standard deviations."""
    assert Hands().factor(TapeLine.OVER_THE_HEEL) == pytest.approx((1.0, GIRTH_SD))
    assert learned([], pieces=0) == Hands() or np.allclose(
        np.array(learned([], pieces=0).covariance), np.array(Hands().covariance)
    )
    told = read_design(DESIGN)
    assert with_hands(told) is told


def test_one_piece_narrows_the_heel_by_a_third_at_least() -> None:
    one = learned([(TapeLine.OVER_THE_HEEL, 1.0, TAPE)], pieces=1)
    four = learned([(TapeLine.OVER_THE_HEEL, 1.0, TAPE)] * 4, pieces=4)
    sds = [hands.factor(TapeLine.OVER_THE_HEEL)[1] for hands in (Hands(), one, four)]
    assert sds[1] < sds[0] * 2 / 3
    assert sds[2] < sds[1]
    assert sds[2] > PIECE_SD  # no number of pieces makes the next one sure


@pytest.fixture(scope="module")
def closer() -> Hands:
    """Of one piece whose heel came out 6 % smaller than calculated, its foot 3 %."""
    girths = _girths()
    piece = Measured(
        sock=SOCK,
        heel_girth=Length(0.94 * girths["heel"].mm, 3.0),
        foot_girth=Length(0.97 * girths["ball"].mm, 3.0),
    )
    return hands_of([piece])


def test_girths_chances_and_remedies_take_the_hands_in(closer: Hands) -> None:
    known = attrs.evolve(SOCK, hands=closer)
    plain, mine = fit(SOCK), fit(known)
    factor, sd = closer.factor(TapeLine.OVER_THE_HEEL)
    heel = mine.at("heel").sock
    assert heel.mm == pytest.approx(factor * plain.at("heel").sock.mm)
    assert heel.sd_mm / heel.mm == pytest.approx(sd)
    assert mine.at("heel").tight > plain.at("heel").tight
    assert mine.verdict.goes_on < plain.verdict.goes_on
    assert mine.at("length").sock.sd_mm > plain.at("length").sock.sd_mm
    assert compare(known, ["forethought"])["forethought"].fit == mine
    found = remedies(known, stretch=1.1, most=1)
    assert found.before == mine
    assert all(remedy.sock.hands == closer for remedy in found)
    for text in (str(mine), mine._repr_html_(), str(found), str(compare(known, ["forethought"]))):
        assert "1 measured piece" in text
    assert known.plan().stitches == SOCK.plan().stitches  # counts stay: the verdict tells


def test_a_piece_measured_in_another_state_counts_less() -> None:
    heel = Length(0.94 * _girths()["heel"].mm, 3.0)
    like = hands_of([Measured(sock=SOCK, heel_girth=heel)])
    unlike = hands_of([Measured(sock=SOCK, heel_girth=heel, state=Relaxation.AS_KNITTED)])
    assert like.factor(TapeLine.OVER_THE_HEEL)[0] < unlike.factor(TapeLine.OVER_THE_HEEL)[0] < 1


@pytest.mark.parametrize("times", [0.5, 2.0])
def test_a_tape_that_was_not_round_that_piece_is_refused(times: float) -> None:
    """Measured double, or another piece."""
    heel = Length(times * _girths()["heel"].mm, 3.0)
    with pytest.raises(FootError, match="times what was calculated") as caught:
        hands_of([Measured(sock=SOCK, heel_girth=heel, name="first pair")])
    assert caught.value.what == "first pair: heel girth"


@pytest.mark.parametrize(
    "fields",
    [{}, {"sock": SOCK}, {"heel_girth": Length(250.0)}],
    ids=["nothing", "no tape", "no sock"],
)
def test_half_a_piece_is_refused(fields: dict[str, Any]) -> None:
    with pytest.raises(FootError, match="measured piece"):
        Measured(**fields)


# In a design file

DESIGN = """
gauge = {stitches = 14, rounds = 20, over = "10 cm"}
[[sizes]]
name = "S"
length = "22 cm"
ball_girth = "20 cm"
[[sizes]]
name = "M"
length = "24 cm"
ball_girth = "22 cm"
heel_girth = "30 cm"
"""
MISSING = '[[measured]]\npattern = "x.txt"\nheel_girth = "9 cm"'
TAPED = """
[[measured]]
name = "first pair"
size = "M"
heel_girth = "23.5 cm"
foot_girth = "19 cm"
foot_length = "22.6 cm"
tape = "2 mm"
"""


def test_pieces_in_a_design_are_used_by_everything_it_makes() -> None:
    told = read_design(DESIGN + TAPED)
    (piece,) = told.measured
    assert (piece.name, piece.heel_girth) == ("first pair", Length(235.0, 2.0, Origin.MEASURED))
    assert piece.sock == dict(told.design.socks)["M"]
    known = with_hands(told)
    assert {sock.hands for _, sock in known.design.socks} == {hands_of(told.measured)}
    assert with_hands(known) is known


def test_a_remedy_is_written_into_a_design_with_its_pieces() -> None:
    known = dict(with_hands(read_design(DESIGN + TAPED)).design.socks)["M"]
    new = with_sock(DESIGN + TAPED, attrs.evolve(known, ease=-0.04, hands=None), size="M")
    assert read_design(new).measured[0].heel_girth is not None
    assert "[[measured]]" in new


@together(
    ("text", "key", "words"),
    [
        ('[[measured]]\nsize = "XL"\nheel_girth = "24 cm"', "size", "one of S, M"),
        ('[[measured]]\nheel_girth = "24 cm"', "measured 1", "one of S, M"),
        ('[[measured]]\nsize = "M"', "measured 1", "nothing that a tape said"),
        ('[[measured]]\nsize = "M"\nheel = "24 cm"', "heel", "heel_girth"),
        ('[[measured]]\npattern = "old.txt"\nheel_girth = "24 cm"', "pattern", "folder"),
    ],
)
def test_what_cannot_be_used_is_refused_at_its_line(text: str, key: str, words: str) -> None:
    with pytest.raises(DesignError) as caught:
        read_design(DESIGN + text)
    assert key in caught.value.key
    assert words in str(caught.value)


def test_a_piece_may_be_of_another_design_or_of_a_pattern(tmp_path: Path) -> None:
    (tmp_path / "other.toml").write_text(DESIGN, "utf-8")
    (tmp_path / "old.txt").write_text(write(SOCK.pattern()), "utf-8")
    heel = 0.97 * _girths()["heel"].mm
    told = read_design(
        DESIGN + f'[[measured]]\ndesign = "other.toml"\nsize = "S"\nfoot_girth = "17 cm"\n'
        f'[[measured]]\npattern = "old.txt"\nheel_girth = "{heel:.0f} mm"\n',
        folder=tmp_path,
    )
    other, old = told.measured
    assert other.sock == dict(read_design(DESIGN).design.socks)["S"]
    assert old.pattern is not None
    assert hands_of([old]).factor(TapeLine.OVER_THE_HEEL)[0] < 1
    with pytest.raises(DesignError, match="no such file"):
        read_design(
            DESIGN + '[[measured]]\npattern = "x.txt"\nheel_girth = "9 cm"', folder=tmp_path
        )


def test_the_invented_samples_say_so_and_can_be_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    files = sorted(SAMPLES.glob("*.toml"))
    assert files
    for path in files:
        text = path.read_text("utf-8")
        assert "Invented" in text
        assert read_design(text, folder=SAMPLES).measured
    assert main(["mend", str(files[0]), "--json"]) in (0, 1)
    assert "measured piece" in capsys.readouterr().out
