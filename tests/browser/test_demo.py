"""The demo design's own page in a real browser."""

from __future__ import annotations

import csv
import re
import shutil
import subprocess
from collections.abc import Callable
from html import escape
from pathlib import Path
from urllib.parse import unquote

import pytest
from playwright.sync_api import expect

from browser.conftest import Visit
from loopwright.cli.files import write_folder
from loopwright.design import read_design
from loopwright.pattern import Words
from loopwright.report import SockReport, folder
from loopwright.report._compose import material_facts, size_facts
from loopwright.report._instructions import LineKind, by_heading
from loopwright.report._tables import schematic_table
from loopwright.report.gather import report_of


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory, told: SockReport) -> Path:
    out = tmp_path_factory.mktemp("demo") / "out"
    write_folder(out, folder(told))
    return out / "pattern.html"


@pytest.fixture(scope="module")
def told(shared: Path) -> SockReport:
    """The report of the design, whose folder is looked at."""
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


def of_another_size(visit: Visit, folder: Path, told: SockReport, place: int) -> list[str]:
    """Return what the page shows that isn't of the chosen size, as the report and the files say.

    Cell by cell, line by line, drawing by drawing.
    """
    size, page, wrong = told.sizes[place], visit.page, list[str]()

    def same(what: str, shown: object, expected: object) -> None:
        if shown != expected:
            wrong.append(f"{what}: {shown!r}")

    tables = [schematic_table([size]).filled()]
    shown = page.locator("main table:visible").evaluate_all(
        """all => all.map(one => [one.caption.textContent,
           [...one.rows].map(row => [...row.cells].map(cell => cell.textContent))])"""
    )
    same("tables", [caption for caption, _ in shown], [table.caption for table in tables])
    for (caption, rows), table in zip(shown, tables, strict=False):
        expected = [list(row) for row in (table.head, *table.rows)]
        same(f"rows of {caption}", len(rows), len(expected))
        for cells, right in zip(rows, expected, strict=False):
            same(f"{caption}, {right[0]}", cells, right)
    facts = page.locator("main .facts:visible > div").evaluate_all(
        "all => all.map(one => [...one.children].map(part => part.textContent))"
    )
    told_facts = [*material_facts(told, [size]), *size_facts(told, [size])]
    same("facts", len(facts), len(told_facts))
    for fact, fact_told in zip(facts, told_facts, strict=False):
        same("fact", fact, list(fact_told))
    # The files are read for themselves: measures in mm, a row for each.
    with (folder / "measures.csv").open(encoding="utf-8", newline="") as file:
        filed = [row for row in csv.DictReader(file) if row["size"] == size.name]
    finished = [fact for fact in facts if fact[0].startswith("Finished ")]
    same("measures.csv", [f"Finished {row['measure']}" for row in filed], [f[0] for f in finished])
    for row, (label, words) in zip(filed, finished, strict=False):
        near = abs(float(words.split()[0]) - float(row["finished_mm"]) / 10) < 0.051
        same(f"measures.csv, {label}", near, True)
    lines = page.locator(".pattern:visible .lines > li").all_text_contents()
    told_lines = [
        ("Caution. " if line.kind is LineKind.CAUTION else "") + line.text
        for heading in by_heading(told.pattern, place, words=Words.US)
        for line in heading.lines
    ]
    same("lines", len(lines), len(told_lines))
    for line, line_told in zip(lines, told_lines, strict=False):
        same("line", " ".join(line.split()), " ".join(line_told.split()))
    drawn = page.locator("main img:visible").evaluate_all("all => all.map(one => one.src)")
    pictures = (size.schematic, *size.pictures, *size.fit_pictures)
    ours = [part.shown for picture in pictures
            for part in picture.parts or (picture,)]  # fmt: skip
    ours += [line.svg for picture in size.pictures for line in picture.key]
    same("drawings", sorted(unquote(url.partition(",")[2]) for url in drawn), sorted(ours))
    page.locator("#sock").scroll_into_view_if_needed()
    expect(page.locator("#sock")).to_have_attribute("data-pose", re.compile(r"\d"))
    same("name of the shape", page.locator("#sock-name").inner_text(), f"Shown: size {size.name}")
    legend = page.locator("#sock-legend").inner_text()
    same("legend", sum(map(int, re.findall(r"\((\d+)\)", legend))), len(size.fabric))
    return wrong


def chosen(visit: Visit, sheet: Path, place: int) -> None:
    """Open a page and come to a size from the other one."""
    visit.open(sheet)
    visit.choose("size", str(1 - place))
    visit.choose("size", str(place))


@pytest.mark.parametrize("place", [0, 1])
def test_every_number_shown_belongs_to_the_chosen_size(
    visit: Visit, sheet: Path, told: SockReport, place: int
) -> None:
    chosen(visit, sheet, place)
    assert of_another_size(visit, sheet.parent, told, place) == []


def stuck_cell(html: str, told: SockReport) -> tuple[str, str]:
    one, other = (schematic_table([size]).rows[0][1] for size in told.sizes)
    # All sizes together come first on the page, so that the last one is the second size's own.
    return f">{one}<".join(html.rsplit(f">{other}<", 1)), "What the letters stand for, "


def stuck_fact(html: str, told: SockReport) -> tuple[str, str]:
    one, other = (
        next(words for label, words in size_facts(told, [size]) if label == "Finished leg height")
        for size in told.sizes
    )
    return f">{one}<".join(html.rsplit(f">{other}<", 1)), "fact"


def stuck_line(html: str, told: SockReport) -> tuple[str, str]:
    texts = [[line.text for heading in by_heading(told.pattern, place, words=Words.US)
              for line in heading.lines] for place in (0, 1)]  # fmt: skip
    one, other = next(pair for pair in zip(*texts, strict=False) if pair[0] != pair[1])
    return html.replace(f">{other}<", f">{one}<", 1), "line: "


def stuck_drawing(html: str, told: SockReport) -> tuple[str, str]:
    # The second size's group of pictures shows the first size's stage.
    first, second = (size.pictures[0].parts[0].title for size in told.sizes)
    found = [re.findall(r'<img src="([^"]+)" alt="' + re.escape(escape(title)), html)
             for title in (first, second)]  # fmt: skip
    return html.replace(found[1][-1], found[0][0]), "drawings"


@pytest.mark.parametrize("stick", [stuck_cell, stuck_fact, stuck_line, stuck_drawing])
def test_a_number_that_stays_when_the_size_changes_is_found(
    visit: Visit,
    sheet: Path,
    told: SockReport,
    tmp_path: Path,
    stick: Callable[[str, SockReport], tuple[str, str]],
) -> None:
    """One thing of the second size is put in its place by the first's: only that is found."""
    html = sheet.read_text(encoding="utf-8")
    stuck, where = stick(html, told)
    assert stuck != html
    copy = tmp_path / "stuck.html"
    copy.write_text(stuck, encoding="utf-8")
    chosen(visit, copy, 0)
    assert of_another_size(visit, sheet.parent, told, 0) == []
    chosen(visit, copy, 1)
    wrong = of_another_size(visit, sheet.parent, told, 1)
    assert wrong
    assert all(one.startswith(("measures.csv", where)) for one in wrong), wrong
    assert any(one.startswith(where) for one in wrong)


def test_a_chart_begins_where_its_rounds_begin(visit: Visit, sheet: Path) -> None:
    """At the right, however narrow the screen is; one that fits stands at the left."""
    visit.open(sheet)
    visit.choose("size", "0")
    edges = """all => all.map(one => {
        const [own, room] = [one.getBoundingClientRect(), one.parentNode.getBoundingClientRect()];
        return [own.width > room.width, own.left - room.left, own.right - room.right]; })"""
    charts = visit.page.locator(".chart .wide img:visible")
    for width, all_wider in ((390, True), (1600, False)):
        visit.page.set_viewport_size({"width": width, "height": 800})
        found = charts.evaluate_all(edges)
        assert len(found) == 3
        assert all(wider for wider, _, _ in found) is all_wider
        for wider, left, right in found:
            assert abs(right if wider else left) < 1


def test_no_table_is_cut_at_the_edge(visit: Visit, sheet: Path) -> None:
    """The widest, with all sizes in it; its last columns could only be reached by scrolling."""
    visit.open(sheet.with_name("record.html"))
    for width in (360, 959, 961, 1215, 1217, 1600):
        visit.page.set_viewport_size({"width": width, "height": 800})
        hidden = visit.page.locator(".wide:has(table):visible").evaluate_all(
            "all => all.map(one => one.scrollWidth - one.clientWidth)"
        )
        assert len(hidden) >= 4, width
        assert max(hidden) == 0, width


def test_there_is_a_box_for_every_round(visit: Visit, sheet: Path) -> None:
    visit.open(sheet)
    visit.choose("size", "0")
    shown = visit.page.locator(".pattern:visible .rounds").all_inner_texts()
    boxes = visit.page.locator(".pattern:visible input[data-round]").count()
    assert boxes == sum(int(text.split()[0]) for text in shown) > 100


def test_on_paper_no_column_is_a_word_wide_and_nothing_is_cut_off(
    visit: Visit, sheet: Path
) -> None:
    visit.open(sheet.with_name("record.html"))
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
    visit.page.emulate_media(media="screen")
    visit.open(sheet)
    visit.choose("size", "0")
    visit.page.emulate_media(media="print")
    right = "all => Math.max(...all.map(one => one.getBoundingClientRect().right))"
    assert visit.page.locator("main img:visible").evaluate_all(right) <= 688
    # The smallest words of a stage and of a chart are 11.5 px; 7 pt are 9.33 px.
    wide = "all => all.map(one => one.getBoundingClientRect().width / one.naturalWidth)"
    for drawings, letters in ((".frames", 11.5), (".schematic", 11.0)):
        scales = visit.page.locator(f"{drawings} img:visible").evaluate_all(wide)
        assert min(scales) * letters * 0.75 > 7.0


def test_printed_sheets_end_with_no_heading(visit: Visit, sheet: Path, tmp_path: Path) -> None:
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
        headings = visit.page.locator("main :is(h2, h3):visible").all_inner_texts()
        for text in pages:
            assert text.strip().splitlines()[-1].strip() not in headings
        assert ("Choose a size to see" in told) is False
