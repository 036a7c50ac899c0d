"""The foot form against a tape, and against the survey's feet."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from loopwright.errors import ShapeError
from loopwright.fitting import FootForm, foot_form, tape_mm
from loopwright.fitting._footform import CrossSection
from loopwright.geometry._surface import Surface
from loopwright.sock.foot import Foot

EXACT = 0.01  # of each measure: what the project promises


def _tape(form: FootForm, section: CrossSection, *, turned_deg: float = 0.0) -> float:
    """A tape laid through the middle of the section, tilted about its back if asked."""
    slope = np.radians(section.slope_deg)
    depth_mm = _depth(section)
    middle = np.array([section.forward_mm, 0.0, section.up_mm])
    back = middle - depth_mm / 2 * np.array([np.cos(slope), 0.0, np.sin(slope)])
    tilt = slope + np.radians(turned_deg)
    inside = back + 0.02 * (middle - back)
    return tape_mm(form.surface, inside, np.array([-np.sin(tilt), 0.0, np.cos(tilt)]))


def _depth(section: CrossSection) -> float:
    """Ramanujan's first approximation of an ellipse's perimeter (1914), solved for its depth."""
    a, b = 1.0, section.ratio
    perimeter = np.pi * (3 * (a + b) - np.sqrt((3 * a + b) * (a + 3 * b))) / 2
    return float(section.girth_mm / perimeter)


def errors_of(foot: Foot, form: FootForm) -> dict[str, float]:
    """By how much of each measure the form, measured with a tape, differs from the foot."""
    found = {"length": np.ptp(form.surface.vertices_mm[:, 0]) / foot.length.mm - 1}
    for name in ("leg", "ankle", "heel", "instep", "ball"):
        asked = getattr(foot, f"{name}_girth").mm
        found[f"{name} girth"] = _tape(form, form.sections[name]) / asked - 1
    return {name: float(abs(error)) for name, error in found.items()}


def surveyed(row: dict[str, str]) -> Foot:
    """A foot of the survey, with seven measures that it took."""
    return Foot.of(
        length=f"{row['footlength']} mm",
        ball_girth=f"{row['balloffootcircumference']} mm",
        heel_girth=f"{row['heelanklecircumference']} mm",
        ankle_girth=f"{row['anklecircumference']} mm",
        ball_length=f"{row['balloffootlength']} mm",
        heel_breadth=f"{row['heelbreadth']} mm",
        ball_breadth=f"{row['footbreadthhorizontal']} mm",
    )


def _check(foot: Foot, **size: int) -> None:
    form = foot_form(foot, **size)
    assert max(errors_of(foot, form).values()) <= EXACT
    tilted = [_tape(form, form.sections["heel"], turned_deg=turn) for turn in (-10, -5, 5, 10)]
    assert min(tilted) >= foot.heel_girth.mm * (1 - EXACT)  # the shortest way over the heel
    assert np.ptp(form.surface.vertices_mm[:, 1]) >= foot.ball_breadth.mm * 0.98


def test_a_form_is_closed_smooth_and_as_long_and_round_as_the_foot() -> None:
    """Two feet near the survey's means (men, women)."""
    for length, ball in (("27.1 cm", "25.2 cm"), ("24.6 cm", "22.8 cm")):
        foot = Foot.of(length=length, ball_girth=ball)
        _check(foot)
        surface = foot_form(foot).surface
        assert surface.euler_characteristic == 2
        assert len(surface.edges.boundary) == 0
        assert surface.volume_mm3 > 0
        assert surface.fold_overs == 0
        assert np.degrees(np.arccos(np.clip(surface.bend_cosines, -1, 1))).max() < 60


def test_every_tenth_foot_of_the_survey_has_its_form(survey_csv: Path) -> None:
    """All of them: benchmarks/bench_footform.py, whose result is on the accuracy page."""
    with survey_csv.open(encoding="utf-8") as rows:
        feet = list(csv.DictReader(rows))
    assert len(feet) == 6068
    for row in feet[::10]:
        _check(surveyed(row), rings=80, columns=48)


def test_a_tape_spans_hollows_and_misses_in_words() -> None:
    """Round a box of 2 by 2 the tape is 8 long; a plane beside it is refused."""
    corners = np.array([[x, y, z] for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)], float)
    faces = [[0, 1, 3], [0, 3, 2], [4, 6, 7], [4, 7, 5], [0, 4, 5], [0, 5, 1], [2, 3, 7], [2, 7, 6],
             [0, 2, 6], [0, 6, 4], [1, 5, 7], [1, 7, 3]]  # fmt: skip
    box = Surface(corners, faces)
    assert tape_mm(box, np.zeros(3), np.array([0, 0, 1.0])) == pytest.approx(8)
    with pytest.raises(ShapeError, match="misses"):
        tape_mm(box, np.array([0, 0, 5.0]), np.array([0, 0, 1.0]))
