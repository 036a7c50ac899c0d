"""What somebody counted once stands in one place of the documentation: others link to it."""

from __future__ import annotations

import re
from collections.abc import Callable
from importlib import import_module
from itertools import chain
from pathlib import Path
from typing import Any

import pytest

import loopwright as lw

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


@pytest.fixture
def extension(root: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], Any]:
    """An extension of the documentation, by its name."""
    pytest.importorskip("sphinx")
    monkeypatch.syspath_prepend(root / "docs" / "_ext")
    return import_module


def test_a_reference_is_found_where_its_name_is_at_home(extension: Callable[[str], Any]) -> None:
    references = extension("references")
    homes = {
        "loopwright.fabric.check": "loopwright.fabric.checks.check",
        "loopwright.Fabric.graph": "loopwright.fabric.fabric.Fabric.graph",
        "Foot.of": "loopwright.sock.foot.Foot.of",
        "loopwright.sock.heel": "loopwright.sock.heels._heel.heel",
    }
    assert {name: references.at_home(name) for name in homes} == homes
    for argument in ("count", "fit", "no_such_name"):  # names of arguments lead nowhere
        assert references.at_home(argument) is None


def test_a_reference_to_nothing_is_seen(extension: Callable[[str], Any]) -> None:
    references = extension("references")
    for name in ("loopwright.making._work", "loopwright.Work.turn", "loopwright.Yarn.name"):
        assert references.exists(name), name
    for name in ("loopwright.making.work", "loopwright.Work.turned", "loopwright.report.files_of"):
        assert not references.exists(name), name


def test_a_constant_is_told_by_its_value_and_the_comment_at_it(
    extension: Callable[[str], Any],
) -> None:
    data = extension("plain_data")
    casting = import_module("loopwright.making.casting")
    girths = import_module("loopwright.fitting.girths")
    assert data.entry(casting, "CAST_ONS")[:2] == [
        ".. py:data:: CAST_ONS",
        f"   :value: {casting.CAST_ONS}",
    ]
    assert data.told_of(casting, "CAST_ONS")[0].startswith("Ways of casting on")
    assert data.told_of(girths, "GIRTH_ERROR")[0].startswith("Relative, absolute girths")
    stitches = import_module("loopwright.fabric.checks")
    assert not data.value_of(stitches, "CHECKS")  # functions, which are named elsewhere


def test_a_name_that_is_nearly_one_is_told_by_python() -> None:
    """With the object and the name, Python's own message says: did you mean 'knit'?"""
    with pytest.raises(AttributeError) as refused:
        _ = lw.Knit  # type: ignore[attr-defined]
    assert (refused.value.name, refused.value.obj) == ("Knit", lw)
