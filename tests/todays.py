"""Of very many kept readings a share each day, and all where ``CI`` is set.

They are small texts whose readings stand in files: so many that all of them take as long as the
tests beside them. Whoever changes the reading runs `tests/pattern/read_back.py`, which shows them
all.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from datetime import UTC, datetime
from typing import Final, TypeVar

_Case = TypeVar("_Case")
CI: Final = bool(os.environ.get("CI"))  # the same tests and examples each time


def todays(cases: Iterable[_Case], share: int = 9) -> list[_Case]:
    """Return every so many of the cases, from another one on each day; all in CI."""
    every = list(cases)
    if CI:
        return every
    return every[datetime.now(UTC).toordinal() % share :: share]
