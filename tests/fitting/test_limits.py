"""Limits of stretch: one set of sourced ones, from which all that is judged is drawn."""

from __future__ import annotations

import ast
from pathlib import Path
from typing import Any

import pytest

import loopwright.studies
from loopwright.errors import SizingError
from loopwright.fitting import StretchLimits
from loopwright.fitting.limits import COURSEWISE, WALEWISE


def test_what_serves_is_what_is_neither_loose_nor_tight() -> None:
    """10 to 20 % of negative ease is 1 / 0.9 to 1 / 0.8; plain gives 10 % in length at least."""
    usual = StretchLimits()
    assert usual.ball == (COURSEWISE.loose.stretch, COURSEWISE.close.stretch)
    assert usual.heel == COURSEWISE.close.stretch == pytest.approx(1 / 0.8)
    assert usual.length == (WALEWISE.loose.stretch, WALEWISE.close.stretch) == (1.0, 1.1)
    assert COURSEWISE.feel(usual.heel).value == "close"
    assert COURSEWISE.feel(usual.heel + 0.01).value == "tight"


@pytest.mark.parametrize(
    ("limits", "what", "found"),
    [
        ({"ball": (1.2, 1.1)}, "limits of stretch, ball", "1.2 to 1.1"),
        ({"length": (1.1, 1.0)}, "limits of stretch, length", "1.1 to 1"),
        ({"heel": 0.25}, "limit of stretch, heel", "0.25"),  # a fraction
        ({"heel": 25}, "limit of stretch, heel", "25"),  # per cent
        ({"heel": float("nan")}, "limit of stretch, heel", "nan"),
        ({"ball": (-0.1, 1.2)}, "limit of stretch, ball", "-0.1"),
        ({"ball": 1.2}, "limits of stretch", "1.2"),
    ],
)
def test_limits_that_nothing_meets_are_refused(
    limits: dict[str, Any], what: str, found: str
) -> None:
    with pytest.raises(SizingError) as caught:
        StretchLimits(**limits)
    assert (caught.value.what, caught.value.found) == (what, found)


def test_studies_have_no_limits_of_their_own() -> None:
    """A breaker for a second home: no stretch between 1 and 2 is written in the study's modules."""
    folder = Path(loopwright.studies.__file__).parent
    for module in sorted(folder.glob("*.py")):
        for node in ast.walk(ast.parse(module.read_text("utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, float):
                sizes = module.name == "plots.py"  # of paper and print
                assert sizes or not 1.0 < node.value < 1.9, f"{module.name}:{node.lineno}"
