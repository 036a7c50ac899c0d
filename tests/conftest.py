"""What every test may ask for: published figures that travel with the project, and the survey."""

from __future__ import annotations

import gc
import os
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis.strategies import none

from once import ONCE
from small import SMALL
from todays import CI

ROOT = Path(__file__).resolve().parents[1]

# What is imported and collected stays to the end. Python looks through it again and again for what
# can be thrown away, a tenth of the time; so it is told not to while it collects, nor afterwards.
gc.disable()

# Examples are few and untimed: two slow cores shared with other work are no finding. A search
# worth minutes is asked for by hand: `pytest --hypothesis-profile=long`.
settings.register_profile(
    "default", max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile("long", settings.get_profile("default"), max_examples=2000)
# In CI the same commit gives the same examples: what a commit passes, it passes again. The search
# for new ones goes on wherever the tests are run by hand.
settings.register_profile("ci", settings.get_profile("default"), derandomize=True, database=None)
_PROFILE = "ci" if CI else "default"
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", _PROFILE))


@pytest.hookimpl(tryfirst=True)  # before tests are chosen by their marks
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what runs once."""
    files = {ROOT / "tests" / name for name in ONCE}
    for item in items:
        if item.path in files:
            item.add_marker(pytest.mark.once)


def pytest_collection_finish() -> None:
    """Leave what was collected out of the search for garbage.

    Hypothesis makes its own source of chance in its first test and asks Python who holds it; what
    is frozen is not asked. So it runs one test of nothing before.
    """
    given(none())(lambda _: None)()
    gc.freeze()
    gc.set_threshold(50_000, 20, 20)  # tests make much and keep little: a tenth of their time
    gc.enable()


@pytest.fixture(scope="session")
def root() -> Path:
    """The top of the checkout."""
    return ROOT


@pytest.fixture
def design(tmp_path: Path) -> Path:
    """A small design file of two sizes."""
    path = tmp_path / "design.toml"
    path.write_text(SMALL, encoding="utf-8")
    return path


@pytest.fixture(scope="session")
def shared() -> Path:
    """Published figures in our own form, each with its source."""
    return ROOT / "shared"


@pytest.fixture(scope="session")
def standards(shared: Path) -> dict[str, Any]:
    """The figures of `shared/standards.toml`."""
    return tomllib.loads((shared / "standards.toml").read_text(encoding="utf-8"))


@pytest.fixture(scope="session")
def survey_csv() -> Path:
    """The survey's table of feet, which does not travel with the project."""
    path = ROOT.parent / "shared" / "checks" / "feet.csv"
    if not path.is_file():
        pytest.skip("the survey's table of feet is not beside the checkout")
    return path
