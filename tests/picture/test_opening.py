"""The pictures that README and documentation open with are what the package makes.

Charts and stages are the same to the letter. A shape is relaxed, and the last digits of it differ
from one machine's linear algebra to another's: its colours are held to their areas.
"""

from __future__ import annotations

import re
import sys
from collections import defaultdict
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from types import ModuleType
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from loopwright.sock import heel_named, heel_names

SMALL = 150_000  # bytes, all together


@pytest.fixture(scope="module")
def opening(root: Path) -> Iterator[ModuleType]:
    sys.path.insert(0, str(root / "docs" / "_ext"))
    yield import_module("opening")
    sys.path.pop(0)


def kept(root: Path, name: str) -> str:
    return (root / "docs" / "opening" / f"{name}.svg").read_text("utf-8").rstrip("\n")


@pytest.mark.parametrize("name", ["chart", "stage"])
def test_drawings_are_kept_as_they_are_made(name: str, opening: ModuleType, root: Path) -> None:
    assert kept(root, name) == opening.OPENING[name]().svg()


def colours(svg: str) -> dict[str, float]:
    """The area in each colour, shades of one together as the legend has them, px²."""
    areas: dict[str, float] = defaultdict(float)
    for path in ET.fromstring(svg).iter("{http://www.w3.org/2000/svg}path"):
        fill = path.get("fill", "none")
        for triangle in re.findall(r"M([^Z]+)Z", path.get("d", "")):
            corners = np.array([float(n) for n in re.split("[ L]", triangle)]).reshape(-1, 2)
            a, b = corners[1] - corners[0], corners[2] - corners[0]
            areas[hue(fill)] += abs(a[0] * b[1] - a[1] * b[0]) / 2
    return areas


def hue(fill: str) -> str:
    """A colour without its shade."""
    if not fill.startswith("#"):
        return fill
    rgb = np.array([int(fill[k : k + 2], 16) for k in (1, 3, 5)], float)
    return " ".join(f"{round(6 * each)}" for each in rgb / max(rgb.max(), 1))


def alike(one: str, other: str) -> bool:
    here, there = colours(one), colours(other)
    whole = sum(here.values())
    apart = (abs(here.get(key, 0.0) - there.get(key, 0.0)) for key in {*here, *there})
    return all(each < 0.005 * whole for each in apart)


def words(svg: str) -> list[str]:
    return [text.text or "" for text in ET.fromstring(svg).iter("{http://www.w3.org/2000/svg}text")]


def test_the_sock_in_space_is_kept_as_it_is_made(opening: ModuleType, root: Path) -> None:
    made = opening.OPENING["sock"]().svg()
    assert words(kept(root, "sock")) == words(made)
    assert alike(kept(root, "sock"), made)


def test_another_sock_is_no_such_picture(opening: ModuleType) -> None:
    """A breaker: its heel's picked-up stitches drawn as knit ones."""
    made = opening.OPENING["sock"]().svg()
    without, greens = re.subn(r'fill="#00\w{4}"', 'fill="#e6e1da"', made)
    assert greens
    assert not alike(made, without)


def test_they_are_small_and_none_is_forgotten(opening: ModuleType, root: Path) -> None:
    there = {path.stem: path.stat().st_size for path in (root / "docs" / "opening").iterdir()}
    assert set(there) == set(opening.OPENING)
    assert sum(there.values()) < SMALL


def test_the_gallery_shows_every_heel(root: Path) -> None:
    page = (root / "docs" / "gallery.md").read_text("utf-8")
    shown = set(re.findall(r'heel="([^"]+)"', page))
    ours = {name for name in heel_names() if heel_named(name).__module__.startswith("loopwright")}
    assert shown == ours


def test_readme_opens_with_them(opening: ModuleType, root: Path) -> None:
    first = (root / "README.md").read_text("utf-8").partition("\n## ")[0]
    for name in opening.OPENING:
        assert f"(docs/opening/{name}.svg)" in first
