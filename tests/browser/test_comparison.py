"""The page of heels side by side, in a real browser."""

from __future__ import annotations

from pathlib import Path

import pytest

from browser.conftest import Visit
from loopwright.fitting._compare import compare
from loopwright.gauge import Gauge
from loopwright.report.comparison import comparison_files
from loopwright.sock._sock import Sock
from loopwright.sock.foot import Foot


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    sock = Sock(foot=Foot.of(length="24 cm"), gauge=Gauge.of(14, 20))
    files = comparison_files("Two", {"": compare(sock, ["flap", "forethought"])})
    path = tmp_path_factory.mktemp("comparison") / "comparison.html"
    text = files["comparison.html"]
    assert isinstance(text, str)
    path.write_text(text, encoding="utf-8")
    return path


def test_two_heels_fill_the_width_and_so_does_the_sentence_above(visit: Visit, sheet: Path) -> None:
    visit.open(sheet)
    whole, table, caption = visit.page.evaluate(
        """["body > h1", "table", "caption"].map(
            one => document.querySelector(one).getBoundingClientRect().width)"""
    )
    assert table == pytest.approx(whole, abs=1)
    assert caption == pytest.approx(table, abs=1)
    assert visit.said == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_fits_a_phone_in_either_look(visit: Visit, sheet: Path, scheme: str) -> None:
    visit.page.set_viewport_size({"width": 360, "height": 700})
    visit.page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    visit.open(sheet)
    assert visit.page.evaluate("document.documentElement.scrollWidth") <= 360
    ink = visit.page.evaluate("getComputedStyle(document.body).color")
    assert ink == ("rgb(255, 255, 255)" if scheme == "dark" else "rgb(0, 0, 0)")
