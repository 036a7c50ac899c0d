"""The demo design's own page in a real browser."""

from __future__ import annotations

import csv
import re
import shutil
import subprocess
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


def test_on_paper_no_column_is_a_word_wide_and_nothing_is_cut_off(
    visit: Visit, sheet: Path
) -> None:
    visit.open(sheet)
    visit.choose("size", "0")
    visit.page.emulate_media(media="print")
    visit.page.set_viewport_size({"width": 688, "height": 1000})  # 210 mm less two margins of 14
    lines = """all => all.map(one => {
        const own = document.createRange();
        own.selectNodeContents(one);
        const tops = new Set([...own.getClientRects()].map(line => Math.round(line.top)));
        return [one.textContent, tops.size]; })"""
    cells = visit.page.locator("main :is(td, th):visible").evaluate_all(lines)
    assert len(cells) > 100
    assert [cell for cell in cells if cell[1] > 2] == []
    right = "all => Math.max(...all.map(one => one.getBoundingClientRect().right))"
    assert visit.page.locator("main img:visible").evaluate_all(right) <= 688
    # The smallest words of a stage are 7.5 px, of a chart's margin 10: 7 pt are 9.33 px.
    wide = "all => all.map(one => one.getBoundingClientRect().width / one.naturalWidth)"
    stages = visit.page.locator(".frames img:visible").evaluate_all(wide)
    assert min(stages) * 7.5 * 0.75 > 7.0


def test_printed_sheets_keep_the_checks_with_their_note(
    visit: Visit, sheet: Path, tmp_path: Path
) -> None:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not here")
    visit.open(sheet)
    for size in ("0", "all"):
        visit.choose("size", size)
        path = tmp_path / f"{size}.pdf"
        visit.page.pdf(path=path, format="A4", prefer_css_page_size=True)
        command = ["pdftotext", "-layout", str(path), "-"]
        told = subprocess.run(command, capture_output=True, text=True, check=True).stdout
        pages = [text for text in told.split("\f") if text.strip()]
        (with_checks,) = [text for text in pages if "What the checks of the fabric found" in text]
        assert "This is no medical advice" in with_checks
        # No sheet ends with a heading, and the last ones are no leftovers.
        headings = visit.page.locator("main :is(h2, h3):visible").all_inner_texts()
        for text in pages:
            assert text.strip().splitlines()[-1].strip() not in headings
        assert ("Choose a size to see" in told) is False
