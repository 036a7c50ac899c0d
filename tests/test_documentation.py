"""What somebody counted once stands in one place of the documentation: others link to it."""

from __future__ import annotations

import re
from itertools import chain
from pathlib import Path

import pytest

# Where shares that were counted, and no example computes, have their one home.
HOMES = {
    "docs/explanation/accuracy.md": "how good measures are",
    "docs/explanation/fit.md": "what chances mean, and the survey's feet in socks",
    "docs/explanation/model.md": "what the checks find of faults in fabrics",
    "docs/howto/check-a-pattern.md": "what is read and noticed of texts",
}
_CODE = re.compile(r"^```.*?^```$|`[^`\n]*`", re.M | re.S)
_COUNTED = re.compile(
    r"\b\d[\d,]* (?:of|in) (?:the |their )?\d[\d,]*\b|\bat first sight\b[^.]*\d|\b\d+ blind\b"
)


def counted(text: str) -> list[str]:
    """Return the typed shares in a page's prose; what an example prints is computed."""
    prose = " ".join(_CODE.sub(" ", text).split())
    return _COUNTED.findall(prose)


def _pages(root: Path) -> list[str]:
    found = chain(root.glob("*.md"), (root / "docs").rglob("*.md"))
    return sorted(path.relative_to(root).as_posix() for path in found)


def test_a_counted_share_stands_in_its_home(root: Path) -> None:
    pages = {page: counted((root / page).read_text("utf-8")) for page in _pages(root)}
    assert {page for page, found in pages.items() if found} == set(HOMES)


@pytest.mark.parametrize(
    "text",
    [
        "At first sight 17 of 36\nfaults were noticed.",
        "Of their lines 92 in 100 were read.",
        "97 of their 108 faults",
        "It reads at first sight some 4,034 lines.",
    ],
)
def test_a_share_is_seen_in_prose(text: str) -> None:
    assert counted(text)


@pytest.mark.parametrize("text", ["```text\n3 of 4 rows\n```", "`1 of 2`", "8 of them", "2 in all"])
def test_what_an_example_prints_is_no_typed_share(text: str) -> None:
    assert not counted(text)
