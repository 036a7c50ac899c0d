"""The demo design's own page in a real browser."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from browser.conftest import Visit
from loopwright.cli import main


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory, shared: Path) -> Path:
    out = tmp_path_factory.mktemp("demo") / "out"
    design = shared / "designs" / "ebb-tide.toml"
    assert main(["sock", str(design), "--out", str(out), "--quiet"]) == 0
    return out / "pattern.html"


def test_it_loads_draws_and_stays_silent(visit: Visit, sheet: Path) -> None:
    visit.open(sheet)
    for size in ("0", "1", "all"):
        visit.choose("size", size)
        broken = "all => all.filter(one => !one.naturalWidth).map(one => one.alt)"
        visit.page.locator("img:visible").first.wait_for()
        visit.page.wait_for_load_state("load")
        assert visit.page.locator("img:visible").evaluate_all(broken) == []
    visit.page.locator("#sock").scroll_into_view_if_needed()
    expect(visit.page.locator("#sock")).to_have_attribute("data-pose", re.compile(r"\d"))
    assert visit.said == []
    assert [url for url in visit.asked if not url.startswith("data:")] == [sheet.as_uri()]


@pytest.mark.parametrize("size", ["0", "1"])
def test_one_size_has_no_brackets_of_another(visit: Visit, sheet: Path, size: str) -> None:
    visit.open(sheet)
    bracketed = re.compile(r"\d+ \(\d+\) (?:sts|rnds)|lift \d+ \(\d+\)")
    assert bracketed.search(visit.page.locator("#instructions").inner_text())
    visit.choose("size", size)
    assert not bracketed.search(visit.page.locator("main").inner_text())


def test_there_is_a_box_for_every_round(visit: Visit, sheet: Path) -> None:
    visit.open(sheet)
    visit.choose("size", "0")
    shown = visit.page.locator(".pattern:visible .rounds").all_inner_texts()
    boxes = visit.page.locator(".pattern:visible input[data-round]").count()
    assert boxes == sum(int(text.split()[0]) for text in shown) > 100
