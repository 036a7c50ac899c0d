"""The demo design's own page in a real browser."""

from __future__ import annotations

import csv
import re
from pathlib import Path
from urllib.parse import unquote

import pytest
from playwright.sync_api import expect

from browser.conftest import Visit
from loopwright.cli import main
from loopwright.design import read_design
from loopwright.pattern import Words
from loopwright.report import SockReport
from loopwright.report.gather import report_of
from loopwright.report.instructions import LineKind, by_heading
from loopwright.report.tables import (
    checks_table,
    fit_table,
    measures_table,
    schematic_table,
    yarn_table,
)


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory, shared: Path) -> Path:
    out = tmp_path_factory.mktemp("demo") / "out"
    design = shared / "designs" / "ebb-tide.toml"
    assert main(["sock", str(design), "--out", str(out), "--quiet"]) == 0
    return out / "pattern.html"


@pytest.fixture(scope="module")
def told(shared: Path) -> SockReport:
    """The report itself, made anew."""
    text = (shared / "designs" / "ebb-tide.toml").read_text(encoding="utf-8")
    return report_of(read_design(text))


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


@pytest.mark.parametrize("place", [0, 1])
def test_every_number_shown_belongs_to_the_chosen_size(
    visit: Visit, sheet: Path, told: SockReport, place: int
) -> None:
    """Cell by cell and line by line, against the report and the files beside the page."""
    visit.open(sheet)
    visit.choose("size", str(1 - place))
    visit.choose("size", str(place))
    size = told.sizes[place]
    tables = {
        made.caption: made
        for make in (schematic_table, measures_table, fit_table, yarn_table, checks_table)
        for made in (make([size]),)
    }
    shown = visit.page.locator("main table:visible").evaluate_all(
        """all => all.map(one => [one.caption.textContent,
           [...one.rows].map(row => [...row.cells].map(cell => cell.textContent))])"""
    )
    assert [caption for caption, _ in shown] == [*tables]
    for caption, rows in shown:
        assert rows == [list(row) for row in (tables[caption].head, *tables[caption].rows)]
    # The files are read for themselves: measures in mm, a row for each.
    with (sheet.parent / "measures.csv").open(encoding="utf-8", newline="") as file:
        filed = [row for row in csv.DictReader(file) if row["size"] == size.name]
    finished = dict(shown)["Finished measures, relaxed and flat"][1:]
    assert len(filed) == len(finished) > 4
    for row, cells in zip(filed, finished, strict=True):
        assert cells[0] == row["measure"]
        assert float(cells[2].split()[0]) == pytest.approx(
            float(row["finished_mm"]) / 10, abs=0.051
        )
    lines = visit.page.locator(".pattern:visible .lines > li").all_text_contents()
    expected = [
        ("Caution. " if line.kind is LineKind.CAUTION else "") + line.text
        for heading in by_heading(told.pattern, place, words=Words.US)
        for line in heading.lines
    ]
    assert [" ".join(line.split()) for line in lines] == [" ".join(e.split()) for e in expected]
    notes = visit.page.locator("#measures .note:visible").all_text_contents()
    assert [note.replace("\N{NO-BREAK SPACE}", " ") for note in notes] == list(size.notes)
    drawn = visit.page.locator("main img:visible").evaluate_all("all => all.map(one => one.src)")
    ours = [part for picture in (size.schematic, *size.pictures)
            for part in picture.parts or (picture,)]  # fmt: skip
    assert sorted(unquote(url.partition(",")[2]) for url in drawn) == sorted(p.svg for p in ours)
    visit.page.locator("#sock").scroll_into_view_if_needed()
    name = visit.page.locator("#sock-name")
    expect(name).to_have_text(f"Shown: size {size.name}")
    legend = visit.page.locator("#sock-legend").inner_text()
    counted = sum(map(int, re.findall(r"\((\d+)\)", legend)))
    assert counted == len(size.fabric)


def test_there_is_a_box_for_every_round(visit: Visit, sheet: Path) -> None:
    visit.open(sheet)
    visit.choose("size", "0")
    shown = visit.page.locator(".pattern:visible .rounds").all_inner_texts()
    boxes = visit.page.locator(".pattern:visible input[data-round]").count()
    assert boxes == sum(int(text.split()[0]) for text in shown) > 100
