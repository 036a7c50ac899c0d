"""Write down for the documentation which names the examples use, while pytest runs them.

In one process: ``PYTHONPATH=docs/_ext python -m pytest -p watched --shown FILE docs src``. A build
of the documentation that finds FILE as ``shown.json`` among its doctrees runs none again. What is
kept is whole only where all examples were run.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from public_names import modules
from shown import DOCS, keep, place_of_docstring, place_of_page, watch

_promising: set[str] = set()
_names: dict[str, set[str]] = {}


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--shown", type=Path, required=True, help="where to keep the names")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call(item: pytest.Item) -> Any:
    """Watch the examples of a page or of a module that promises names."""
    test = getattr(item, "dtest", None)
    place = None if test is None else _place(item, test)
    if place is None:
        return (yield)
    used = watch(test)
    done = yield
    _names[place] = used
    return done


def _place(item: pytest.Item, test: Any) -> str | None:
    if item.path.suffix == ".md":
        return place_of_page(item.path) if DOCS in item.path.parents else None
    if not _promising:
        _promising.update(module.__name__ for module in modules())
    home = test.globs.get("__name__")
    return place_of_docstring(test.name, home) if home in _promising else None


def pytest_sessionfinish(session: pytest.Session, exitstatus: int) -> None:
    if exitstatus == pytest.ExitCode.OK:
        keep(_names, session.config.getoption("shown"))
