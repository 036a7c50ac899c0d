"""Pictures of a report: parts that stand by themselves, charts cut where they can be."""

from __future__ import annotations

import re
import subprocess
from functools import cache
from pathlib import Path
from shutil import which

import attrs
import pytest

from loopwright.design import read_design
from loopwright.picture.chart import charts
from loopwright.picture.schematic import lettered
from loopwright.report import SockReport
from loopwright.report.chart_sheets import cut
from loopwright.report.gather import report_of
from loopwright.report.page import page
from loopwright.report.pdf import pdf
from loopwright.report.tables import schematic_table

DESIGN = """
[gauge]
stitches = 20
rounds = 28
over = "10 cm"
[heel]
kind = "forethought"
[[sizes]]
name = "S"
length = "23 cm"
ball_girth = "21 cm"
[[sizes]]
name = "L"
length = "27 cm"
ball_girth = "25 cm"
"""
FLAP_TOE_UP = """
direction = "toe up"
[gauge]
stitches = 32
rounds = 44
over = "10 cm"
[heel]
kind = "flap"
[foot]
length = "26 cm"
ball_girth = "25 cm"
"""


@cache
def made() -> SockReport:
    return report_of(read_design(DESIGN))


def test_the_letters_of_the_schematic_have_each_sizes_lengths() -> None:
    report = made()
    table = schematic_table(report.sizes)
    flats = {size.name: size.flat for size in report.sizes if size.flat}
    rows = lettered(flats)
    assert table.head == ("On the drawing", "S", "L")
    assert [row[0] for row in table.rows] == [f"{one.letter}: {one.words}" for one in rows]
    for row, one in zip(table.rows, rows, strict=True):
        assert [float(cell.split()[0]) for cell in row[1:]] == pytest.approx(
            [one.mm["S"] / 10, one.mm["L"] / 10], abs=0.051
        )
    assert schematic_table([attrs.evolve(size, flat=None) for size in report.sizes]).rows == ()


def test_stages_and_drawings_stand_by_themselves_and_say_what_they_show() -> None:
    for size in made().sizes:
        assert len(size.schematic.parts) == 2
        strips = [picture for picture in size.pictures if picture.parts]
        assert [picture.name for picture in strips] == ["heel-stages"]
        for part in (*strips[0].parts, *size.schematic.parts):
            assert len(part.title) > 15
            assert part.svg.startswith("<svg")
        assert strips[0].note


def test_a_chart_says_the_same_part_as_its_caption() -> None:
    for size in made().sizes:
        charted = [picture for picture in size.pictures if "chart" in picture.name]
        assert len(charted) == 2
        for number, picture in enumerate(charted, start=1):
            part = f"part {number} of {len(charted)}"
            assert picture.title == f"Heel, stitch by stitch, {part}"
            assert f">Heel, {part}, size {size.name}<" in picture.svg


def test_every_part_is_an_image_of_the_page_with_its_words() -> None:
    html = page(made())
    for size in made().sizes:
        for picture in size.pictures:
            for part in picture.parts or (picture,):
                assert f'alt="{part.title}"' in html


def test_a_tall_chart_is_cut_after_a_whole_round_and_keeps_every_row() -> None:
    ((_, sock),) = read_design(FLAP_TOE_UP).design.socks
    whole = charts(sock.pattern(), section="Heel")[0]
    assert len(whole.rows) > 56
    lower, upper = cut(whole)
    assert (*lower.all_rows(), *upper.all_rows()) == tuple(whole.all_rows())
    assert lower.rows[-1].in_rounds
    assert not lower.rows[-1].ends
    assert upper.start == lower.rows[-1].count
    assert cut(lower) == [lower]
    # Rows to and fro are never parted.
    rows = tuple(row for row in whole.rows if not row.in_rounds) * 2
    fro = attrs.evolve(whole, blocks=(attrs.evolve(whole.blocks[0], rows=rows, times=1),))
    assert cut(fro) == [fro]


def test_a_wide_chart_is_cut_where_its_parts_are_narrowest() -> None:
    design = DESIGN.replace('"forethought"', '"forethought"\ngusset = 4').replace("20", "32", 1)
    sock = read_design(design).design.socks[0][1]
    whole = charts(sock.pattern(), section="Heel")[0]
    lower, upper = cut(whole)
    # The gusset's rounds go all round; the heel's own, over heel and new stitches, beside them.
    setting, numbers = sock.plan().setting, sock.plan().heel
    wide = setting.heel + 8
    assert (lower.width, upper.width) == (setting.instep + wide, 2 * wide)
    assert whole.width == setting.instep + 2 * wide > 76
    assert numbers.leg_rounds == len(list(lower.all_rows()))
    told = [[cell.stitch for cell in row.cells] for one in (lower, upper) for row in one.all_rows()]
    assert told == [[cell.stitch for cell in row.cells] for row in whole.all_rows()]
    for one in (lower, upper):
        assert min(cell.column for row in one.rows for cell in row.cells) == 0


def words_of(data: bytes, folder: Path) -> list[list[tuple[float, str]]]:
    """The words of a PDF by page, each with the height of its line in points."""
    if which("pdftotext") is None:
        pytest.skip("pdftotext is not here")
    path = folder / "sheet.pdf"
    path.write_bytes(data)
    told = subprocess.run(
        ["pdftotext", "-bbox", str(path), "-"], capture_output=True, text=True, check=True
    ).stdout
    found: list[list[tuple[float, str]]] = []
    for text in told.split("<page ")[1:]:
        spots = re.findall(r'yMin="([\d.]+)".*? yMax="([\d.]+)">(.*?)</word>', text)
        found.append([(float(low) - float(high), word) for high, low, word in spots])
    return found


def test_nothing_on_paper_is_set_in_small_print(tmp_path: Path) -> None:
    sheets = words_of(pdf(made()), tmp_path)
    # A line is 1.0 to 1.2 times as high as its letters are large.
    assert min(height for sheet in sheets for height, _ in sheet) > 6.5


def test_the_checks_stay_with_their_note_and_stages_with_their_size(tmp_path: Path) -> None:
    sheets = [" ".join(word for _, word in sheet) for sheet in words_of(pdf(made()), tmp_path)]
    (with_checks,) = [text for text in sheets if "checks of the fabric found" in text]
    assert "no medical advice" in with_checks
    for size in ("S", "L"):
        assert sum(f"Size {size}: heel, step by step" in text for text in sheets) == 1


def test_a_page_of_three_sizes_is_below_three_megabytes(shared: Path) -> None:
    told = report_of(read_design((shared / "designs" / "harbour-watch.toml").read_text("utf-8")))
    assert len(told.sizes) == 3
    assert len(page(told).encode()) < 3_000_000
