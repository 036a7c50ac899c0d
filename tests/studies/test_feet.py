"""Tables of feet: read in any units, drawn as the survey's figures say, refused with the place."""

from __future__ import annotations

import csv
import pickle
import random
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest

from loopwright.errors import FileError, FootError, LoopwrightError, StudyError
from loopwright.length import Origin
from loopwright.sock import Sex
from loopwright.sock.survey import population
from loopwright.studies._feet import SURVEY_NAMES, Feet, draw_feet, graded_feet, read_feet

N = 40_000


def written(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "feet.csv"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("sex", [Sex.FEMALE, Sex.MALE])
def test_drawn_feet_have_the_surveys_means_spread_and_correlations(sex: Sex) -> None:
    """Within four standard errors: 9 means, 9 SDs, 36 correlations; by the normal theory."""
    people, feet = population(sex), draw_feet(N, sex=sex, seed=20)
    sd = np.sqrt(np.diag(people.covariance))
    off = np.asarray(feet.mm.mean(axis=0)) - people.mean_mm
    assert np.abs(off / (sd / np.sqrt(N))).max() < 4
    spread = np.sqrt(np.diag(np.cov(feet.mm.T)))
    assert np.abs((spread / sd - 1) * np.sqrt(2 * N)).max() < 4
    asked = people.covariance / np.outer(sd, sd)
    above = np.triu_indices(len(sd), 1)
    # Fisher's z: its standard error is 1 / sqrt(n - 3).
    found = np.asarray(np.corrcoef(feet.mm.T))
    z = np.arctanh(found[above]) - np.arctanh(asked[above])
    assert np.abs(z * np.sqrt(N - 3)).max() < 4


@pytest.mark.parametrize(
    ("sex", "mean", "sd"),
    # shared/survey/ratios.csv: heel girth / ball girth; computed from the survey's single feet.
    [(Sex.MALE, 1.3640, 0.0486), (Sex.FEMALE, 1.3615, 0.0496)],
)
def test_drawn_feet_have_the_surveys_ratio_of_heel_and_ball(
    sex: Sex, mean: float, sd: float, shared: Path
) -> None:
    with (shared / "survey" / "ratios.csv").open() as stream:
        assert any(str(mean)[:6] in ",".join(row) for row in csv.reader(stream))
    feet = draw_feet(N, sex=sex, seed=20)
    ratio = feet.column("heel_girth") / feet.column("ball_girth")
    # The survey's own standard error (n of it), and the last printed figure.
    error = np.hypot(sd / np.sqrt(population(sex).n), 0.00005)
    assert abs(ratio.mean() - mean) < 4 * error
    assert abs(ratio.std(ddof=1) - sd) < 4 * sd / np.sqrt(2 * population(sex).n)


def test_the_wrong_sex_would_be_noticed() -> None:
    people, feet = population(Sex.MALE), draw_feet(N, sex=Sex.FEMALE, seed=20)
    sd = np.sqrt(np.diag(people.covariance))
    assert np.abs((feet.mm.mean(axis=0) - people.mean_mm) / (sd / np.sqrt(N))).min() > 4


def test_a_seed_gives_the_same_feet_and_another_gives_others() -> None:
    few, many = draw_feet(10, sex=Sex.MALE, seed=3), draw_feet(500, sex=Sex.MALE, seed=3)
    assert np.array_equal(few.mm, many[:10].mm)
    assert few.digest == many[:10].digest
    assert few.digest != draw_feet(10, sex=Sex.MALE, seed=4).digest


def test_both_sexes_are_drawn_apart() -> None:
    both = draw_feet(7, seed=3)
    assert [sex is Sex.FEMALE for sex in both.sexes] == [True] * 4 + [False] * 3
    women, men = population(Sex.FEMALE), population(Sex.MALE)
    standard = (both.mm[:3] - women.mean_mm) / np.sqrt(np.diag(women.covariance))
    others = (both.mm[4:] - men.mean_mm) / np.sqrt(np.diag(men.covariance))
    assert not np.allclose(standard, others, atol=0.1)


@pytest.mark.parametrize("n", [0, 1])
def test_few_feet_are_feet_too(n: int) -> None:
    feet = draw_feet(n)
    assert len(feet) == len(feet.frame()) == n


def test_fewer_than_none_are_refused() -> None:
    with pytest.raises(StudyError, match="found -1"):
        draw_feet(-1)


def test_a_sex_is_named_by_its_word_as_well() -> None:
    assert draw_feet(3, sex="male", seed=4).digest == draw_feet(3, sex=Sex.MALE, seed=4).digest
    assert len(draw_feet(np.int64(3))) == 3  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("wrong", "what"),
    [({"n": 2.5}, "feet"), ({"seed": -1}, "seed"), ({"seed": None}, "seed"), ({"sex": "x"}, "sex")],
)
def test_feet_that_cannot_be_drawn_are_refused(wrong: dict[str, Any], what: str) -> None:
    with pytest.raises(StudyError) as caught:
        draw_feet(**{"n": 2, **wrong})
    assert caught.value.what == what


def test_drawn_feet_are_plausible() -> None:
    feet = draw_feet(200, seed=5)
    for row in range(len(feet)):
        foot = feet.foot(row)
        assert foot.ball_girth.mm < foot.heel_girth.mm
        assert foot.length.origin is Origin.CALCULATED


def test_a_table_is_read_in_its_units(tmp_path: Path) -> None:
    path = written(tmp_path, "id,sex,length_cm,ball_girth_in,note\na,F,24.6,9,x\nb,man,,10,y\n")
    feet = read_feet(path)
    assert feet.names == ("length", "ball_girth")
    assert feet.mm[0] == pytest.approx([246.0, 228.6])
    assert np.isnan(feet.mm[1, 0])
    assert feet.sexes == (Sex.FEMALE, Sex.MALE)
    assert feet.foot(1).length.origin is Origin.SURVEY
    assert feet.foot(0).length.sd_mm == 3.0  # a tape's


def test_parquet_is_read_as_csv_is(tmp_path: Path) -> None:
    csv_file = written(tmp_path, "id,sex,length_mm,heel_girth_mm\na,F,246,310\nb,,271.5,\n")
    frame = pd.DataFrame(
        {
            "id": ["a", "b"],
            "sex": ["F", None],
            "length_mm": [246.0, 271.5],
            "heel_girth_mm": [310.0, None],
        }
    )
    frame.to_parquet(tmp_path / "feet.parquet")
    assert read_feet(csv_file).digest == read_feet(tmp_path / "feet.parquet").digest


def test_feet_without_ids_and_sex_are_numbered(tmp_path: Path) -> None:
    feet = read_feet(written(tmp_path, "length\n246\n250\n"), unit="mm")
    assert feet.ids == ("0", "1")
    assert feet.sexes == (Sex.UNKNOWN, Sex.UNKNOWN)


def test_a_foot_that_nobody_has_is_read_and_refused_when_asked_for(tmp_path: Path) -> None:
    feet = read_feet(written(tmp_path, "length_m\n2.45\n0.245\n"))
    with pytest.raises(FootError, match="245 mm may be"):
        feet.foot(0)
    assert feet.foot(1).length.mm == pytest.approx(245)


@pytest.mark.parametrize(
    ("text", "what", "found"),
    [
        ("length_mm\n246\nabout 25\n", "row 2, column 'length_mm'", "'about 25'"),
        ("length_mm\ninf\n", "row 1, column 'length_mm'", "'inf'"),
        ("sex,length_mm\nF,246\nx,250\n", "row 2, column 'sex'", "'x'"),
    ],
)
def test_a_bad_cell_is_named(tmp_path: Path, text: str, what: str, found: str) -> None:
    with pytest.raises(FootError) as caught:
        read_feet(written(tmp_path, text))
    assert (caught.value.what, caught.value.found) == (what, found)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("length\n246\n", "no unit"),
        ("name,shoe\nAda,39\n", "the columns name, shoe"),
        ("id,length_mm\na,246\na,250\n", "the id 'a' twice"),
        ("length_mm,length_cm\n246,24.6\n", "the measure 'length' twice"),
    ],
)
def test_a_table_that_is_no_table_of_feet_is_refused(tmp_path: Path, text: str, found: str) -> None:
    with pytest.raises(StudyError) as caught:
        read_feet(written(tmp_path, text))
    assert caught.value.found == found


@pytest.mark.parametrize("name", ["feet.csv", "feet.parquet", "feet.xls"])
def test_a_file_that_is_no_table_is_refused(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    with pytest.raises(FileError):
        read_feet(path)
    path.write_bytes(b"")
    with pytest.raises(FileError) as caught:
        read_feet(path)
    assert caught.value.path == str(path)


@pytest.mark.parametrize("seed", range(4))
def test_damaged_parquet_is_refused_or_read_and_never_stumbled_over(
    tmp_path: Path, seed: int
) -> None:
    path = tmp_path / "feet.parquet"
    pd.DataFrame({"length_mm": [240.0, 250.0] * 4, "sex": ["female", "male"] * 4}).to_parquet(path)
    whole, r, refused = path.read_bytes(), random.Random(seed), 0
    for _ in range(30):
        damaged = bytearray(whole)
        for place in r.sample(range(4, len(whole)), r.randint(1, 4)):
            damaged[place] = r.randrange(256)
        path.write_bytes(bytes(damaged[: r.choice([None, None, r.randrange(len(whole))])]))
        try:
            read_feet(path)
        except LoopwrightError:
            refused += 1
    assert refused > 5


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("id,length_cm\na,24.6,3\nb,25\n", "has a row with more values than columns"),
        ("id,length_cm\na,24,6\n", "has a row with more values than columns"),  # a decimal comma
        ("id;length_cm\na;24.6\n", "is separated by semicolons"),
    ],
)
def test_values_that_would_slip_into_another_column_are_refused(
    tmp_path: Path, text: str, problem: str
) -> None:
    with pytest.raises(FileError) as caught:
        read_feet(written(tmp_path, text))
    assert caught.value.problem == problem


def test_a_row_that_is_short_lacks_its_measures(tmp_path: Path) -> None:
    feet = read_feet(written(tmp_path, "id,length_cm,ball_girth_cm\na,24.6\nb,,22\n"))
    assert feet.known_mm(0) == {"length": 246.0}
    assert feet.known_mm(1) == {"ball_girth": 220.0}


def test_a_header_without_feet_is_no_feet(tmp_path: Path) -> None:
    assert len(read_feet(written(tmp_path, "length_mm,sex\n"))) == 0


def test_feet_travel(tmp_path: Path) -> None:
    feet = draw_feet(4)
    back = pickle.loads(pickle.dumps(feet))
    assert back.digest == feet.digest
    with pytest.raises(ValueError, match="read-only"):
        back.mm[0, 0] = 1.0


def test_the_chart_is_a_set_of_feet() -> None:
    feet = graded_feet("child", "man")
    assert feet.ids[0] == "child 0-4"
    assert feet.foot(0).length.mm == pytest.approx(4.0 * 25.4)
    with pytest.raises(StudyError, match="child, woman, man"):
        graded_feet("adult")


def test_the_surveys_feet_are_read_by_their_own_names(survey_csv: Path) -> None:
    feet = read_feet(survey_csv, columns=SURVEY_NAMES, unit="mm")
    assert len(feet) == 6068
    assert set(feet.names) == set(population(Sex.MALE).names)
    men = np.array([sex is Sex.MALE for sex in feet.sexes])
    assert men.sum() == 4082
    assert feet.column("heel_girth")[men].mean() == pytest.approx(343.47, abs=0.005)


def test_shapes_that_disagree_are_refused() -> None:
    with pytest.raises(StudyError, match="as many of each"):
        Feet(("length",), [[246.0, 1.0]], (Sex.MALE,), ("a",))
    with pytest.raises(StudyError, match="a measure 'width'"):
        Feet(("width",), [[246.0]], (Sex.MALE,), ("a",))
