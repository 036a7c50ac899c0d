"""Pictures of a report: parts that stand by themselves, charts cut where they can be."""

from __future__ import annotations

import json
import re
import subprocess
from io import BytesIO
from itertools import cycle, pairwise
from pathlib import Path
from shutil import which
from typing import Any
from xml.etree import ElementTree as ET

import attrs
import numpy as np
import pytest
import typst
from PIL import Image

from loopwright.design import read_design
from loopwright.design.front import FrontMatter, Paper
from loopwright.fabric.checks import Flaw
from loopwright.pattern import Side, Words
from loopwright.picture._chart import charts, read_chart
from loopwright.picture._schematic import lettered
from loopwright.report import ReportPicture, SizeReport, SockReport
from loopwright.report._assets import asset
from loopwright.report._blocks import ReportDocument
from loopwright.report._chart_sheets import cut, without_waiting
from loopwright.report._compose import handout, record, sheet
from loopwright.report._markdown import markdown
from loopwright.report._page import page
from loopwright.report._tables import checks_table, schematic_table, to_csv
from loopwright.report._typeset import _data, pdf_of
from loopwright.report._web import page_of
from loopwright.report.data import PictureKind
from report.samples import drawn, pdf, reported

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


FINE = """
[gauge]
stitches = 40
rounds = 54
over = "10 cm"
[heel]
kind = "flap"
[foot]
length = "27 cm"
ball_girth = "26 cm"
"""


TALL = FINE.replace('"flap"', '"short-row with gusset"')
SHORT_ROWS = (
    FLAP_TOE_UP.replace('"flap"', '"short-row"')
    .replace("26 cm", "24.6 cm")
    .replace("25 cm", "22.6 cm")
)


def made() -> SockReport:
    return reported(DESIGN)


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
        assert [picture.name for picture in size.pictures] == [
            *("heel-stages", "heel-chart", "toe-stages"),
        ]
        for part in (*size.pictures[0].parts, *size.schematic.parts):
            assert len(part.alt) > 15
            assert part.svg.startswith("<svg")
        assert all(picture.note for picture in size.pictures)


def test_a_panel_is_charted_with_the_stitches_of_ones_own() -> None:
    panel = """
[panel]
rounds = ["*p1, tw3, p1; rep from *", "*p1, k3, p1; rep from *"]
[[stitches]]
key = "tw3"
name = "sl 2 sts to cn and hold in front, k1, k2 from cn"
"""
    (size, _) = drawn(DESIGN + panel).sizes
    assert [one.name for one in size.pictures if one.name.endswith("-chart")] == [
        *("leg-chart", "heel-chart"),
    ]
    (leg,) = (one for one in size.pictures if one.name == "leg-chart")
    assert any("hold in front" in line.words for line in leg.key)


def test_a_chart_says_the_same_part_as_its_caption() -> None:
    for size in made().sizes:
        parts = heel_chart(size).parts
        assert len(parts) == 2
        for number, part in enumerate(parts, start=1):
            words = f"part {number} of {len(parts)}"
            assert part.title == f"Heel, stitch by stitch, {words}"
            for svg in (part.svg, part.bare):
                assert f">Heel, {words}, size {size.name}<" in svg


def keyed(svg: str) -> set[str]:
    """The words of the key in a drawing."""
    nodes = [node for node in ET.fromstring(svg).iter() if node.get("class") == "key"]
    return {" ".join(" ".join(node.itertext()).split()) for node in nodes}  # long ones take lines


def test_the_parts_of_a_chart_share_a_key_and_keep_their_own_as_files() -> None:
    for size in made().sizes:
        chart = heel_chart(size)
        assert chart.files == chart.parts
        shared_key = [line.words for line in chart.key]
        assert len(set(shared_key)) == len(shared_key) > 3
        # What each file's own key says is in the shared one, side for side, and nothing besides.
        own = [keyed(part.svg) for part in chart.parts]
        assert all(own)
        told = {words for line in shared_key for words in line.split("; ")}
        assert told == {words for key in own for line in key for words in line.split("; ")}
        assert all(keyed(part.bare) == set() for part in chart.parts)
    html = page(made())
    assert html.count('class="key"') == len(made().sizes)


def test_every_part_is_an_image_of_the_page_with_its_words() -> None:
    html = page(made())
    for size in made().sizes:
        for picture in size.pictures:
            for part in picture.parts or (picture,):
                assert f'alt="{part.alt}"' in html


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


@pytest.mark.parametrize("stitches", [14, 32, 40])
def test_rows_to_and_fro_stay_together_where_a_tall_heel_is_cut(stitches: int) -> None:
    design = TALL.replace("40", str(stitches)).replace("54", str(round(1.35 * stitches)))
    ((_, sock),) = read_design(design).design.socks
    whole = charts(sock.pattern(), section="Heel")
    parts = [part for one in whole for part in cut(one)]
    kept = [[[cell.stitch for cell in row.worked] for one in some for row in one.all_rows()]
            for some in (whole, parts)]  # fmt: skip
    assert kept[0] == kept[1]
    assert (len(parts) > len(whole)) is (stitches > 14)
    for part in parts:
        assert len(part.rows) <= 56
    for lower, upper in pairwise(parts):
        last, first = lower.rows[-1], upper.rows[0]
        if not last.in_rounds and first.number and not first.in_rounds:
            assert (last.side, first.side) == (Side.WS, Side.RS)


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


def test_stitches_that_wait_all_along_are_left_out_and_told() -> None:
    (size,) = drawn(FLAP_TOE_UP).sizes
    chart = heel_chart(size)
    told = re.search(r"(Part \d) of \d leaves out (\d+) stitches that wait in all its", chart.note)
    assert told
    for number, part in enumerate(chart.parts, start=1):
        whole = read_chart(part.svg)
        shown, left_out = without_waiting(whole)
        assert shown == read_chart(part.bare)
        assert shown.width == whole.width - left_out
        assert left_out == (int(told[2]) if told[1] == f"Part {number}" else 0)
        for narrow, wide in zip(shown.rows, whole.rows, strict=True):
            assert narrow.worked == wide.worked
            assert narrow.turning_column() == wide.turning_column()
            assert narrow.count == wide.count
    # The instep waits while gusset, turn and flap are worked: all of it but one.
    ((_, sock),) = read_design(FLAP_TOE_UP).design.socks
    assert int(told[2]) == sock.plan().setting.instep - 1


def words_of(data: bytes, folder: Path) -> list[list[tuple[float, str]]]:
    """The words of a PDF by page, each with the size of its letters in points."""
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
        # All words are set in one family, whose lines are so many times as high as its letters
        # are large: the footer, set in 8.5 pt, tells it.
        line = float(spots[-1][1]) - float(spots[-1][0])
        found.append([(8.5 * (float(low) - float(high)) / line, word) for high, low, word in spots])
    return found


def heel_chart(size: SizeReport) -> ReportPicture:
    """The one chart of a size's heel."""
    (chart,) = (one for one in size.pictures if one.name == "heel-chart")
    return chart


def with_part(svg: str) -> SockReport:
    """The report with another drawing of one part of a chart."""
    report = made()
    stages_, chart, toe = report.sizes[0].pictures
    parts = (attrs.evolve(chart.parts[0], bare=svg), *chart.parts[1:])
    pictures = (stages_, attrs.evolve(chart, parts=parts), toe)
    first = attrs.evolve(report.sizes[0], pictures=pictures)
    return attrs.evolve(report, sizes=(first, *report.sizes[1:]))


@pytest.mark.parametrize(
    ("design", "words"), [*zip([DESIGN, FLAP_TOE_UP, FINE, TALL], cycle(Words), strict=False)]
)
def test_nothing_on_paper_is_set_in_less_than_seven_points(
    design: str, words: Words, tmp_path: Path
) -> None:
    sheets = words_of(pdf(drawn(design), words=words), tmp_path)
    assert min(size for sheet in sheets for size, _ in sheet) > 7.0


def how_full(document: ReportDocument) -> list[float]:
    """The share of each page's height, between the margins, down to the last ink."""
    data = json.dumps(_data(document, ""))
    set_: Any = typst.compile(
        asset("document.typ").encode(), format="png", ppi=36, sys_inputs={"data": data}
    )
    found = []
    for page_ in set_ if isinstance(set_, list) else [set_]:
        sheet_ = np.asarray(Image.open(BytesIO(page_)).convert("L"))
        inked = np.flatnonzero((sheet_[14:-19] < 240).any(axis=1))  # 10 mm above, the foot below
        found.append((inked[-1] + 1 if inked.size else 0) / (len(sheet_) - 33))
    return found


@pytest.mark.parametrize("paper", Paper)
def test_no_page_is_nearly_empty(paper: Paper) -> None:
    """Sheet and record in both sizes of letters, and the handout, which has large ones."""
    for report in (made(), drawn(FLAP_TOE_UP)):
        for large in (False, True):
            told = attrs.evolve(report, front=FrontMatter(paper=paper, large_print=large))
            looked_at = [sheet, *[record] * (told.sizes[0].fit is not None), *[handout] * large]
            for make in looked_at:
                *before, last = how_full(make(told))
                assert min([*before, 1.0]) > 0.32, (make.__name__, large)
                assert last > 0.25, (make.__name__, large)


def test_the_tallest_chart_to_and_fro_shares_half_a_sheet_with_the_round_after_it() -> None:
    told = drawn(SHORT_ROWS)
    (part, closing) = heel_chart(told.sizes[0]).parts
    assert (part.height, closing.height) == (680.75, 64.75)  # 46 rows; one round
    small = attrs.evolve(told, front=FrontMatter(paper=Paper.A5))
    assert how_full(sheet(small))[-1] > 0.8


def test_a_chart_that_larger_letters_keep_upright_stays_so() -> None:
    coarse = FINE.replace("40", "19").replace("54", "27").replace("27 cm", "25.3 cm")
    (size,) = drawn(coarse.replace("26 cm", "23.7 cm")).sizes
    chart = heel_chart(size)
    assert max(read_chart(part.bare).width for part in chart.parts) == 54
    assert [part.letters_px > 11.5 for part in chart.parts] == [False, True]
    assert not chart.is_wide
    assert all(part.width / part.letters_px <= 69 for part in chart.parts)


def test_small_print_in_one_part_of_one_chart_is_found(tmp_path: Path) -> None:
    part = heel_chart(made().sizes[0]).parts[0]
    assert part.bare.count('font-size="11.5"') > 10
    for size, found in ((11.5, False), (5.0, True)):
        svg = part.bare.replace('class="column"', f'class="column" style="font-size:{size}px"')
        sheets = words_of(pdf(with_part(svg)), tmp_path)
        assert (min(size for sheet in sheets for size, _ in sheet) < 7.0) is found


def test_the_checks_stay_with_their_note_and_stages_with_their_size(tmp_path: Path) -> None:
    def sheets(document: ReportDocument) -> list[str]:
        return [
            " ".join(word for _, word in sheet) for sheet in words_of(pdf_of(document), tmp_path)
        ]

    report = made()
    (with_checks,) = [one for one in sheets(record(report)) if "checks of the fabric found" in one]
    assert "no medical advice" in with_checks
    words = " ".join(sheets(handout(report)))
    assert words.count("heel, step by step") == 1
    assert "Drawn for size S; size L differs in numbers only." in words


def test_a_chart_lies_on_one_sheet_with_its_key_and_shares_it_where_there_is_room(
    tmp_path: Path, shared: Path
) -> None:
    def sheets_of(name: str) -> list[list[str]]:
        report = drawn((shared / "designs" / name).read_text("utf-8"))
        sheets = [" ".join(w for _, w in sheet) for sheet in words_of(pdf(report), tmp_path)]
        found = [[size.name for size in report.sizes for picture in size.pictures
                  if f"Size {size.name}: {picture.title[0].lower()}{picture.title[1:]}" in text
                  and picture.kind is PictureKind.CHART] for text in sheets]  # fmt: skip
        for text, names in zip(sheets, found, strict=True):
            assert text.count("Key. RS:") == len(names)
        return [names for names in found if names]

    # Three heels, each in two parts; two heels with the opening and the heel itself.
    assert sheets_of("harbour-watch.toml") == [["S"], ["M"], ["L"]]
    assert sheets_of("ebb-tide.toml") == [["38", "38"], ["43", "43"]]


def test_a_sound_sock_has_no_column_that_says_nothing(tmp_path: Path) -> None:
    report = made()
    found = Flaw("ladder", (1,), "round 3", "a ladder", "close it", is_mistake=False)
    verdict = attrs.evolve(report.sizes[0].verdict, findings=(found,))
    blemished = attrs.evolve(report.sizes[0], verdict=verdict)
    told = attrs.evolve(report, sizes=(blemished, *report.sizes[1:]))
    for one, asked in ((report, False), (told, True)):
        assert ("What to do" in page_of(record(one))) is asked
        assert ("What to do" in markdown(one)) is asked
        sheets = words_of(pdf_of(record(one)), tmp_path)
        text = " ".join(word for sheet in sheets for _, word in sheet)
        assert ("What to do" in text) is asked
        # A program that reads the table finds the same columns each time.
        assert "What to do" in to_csv(checks_table(one.sizes))


def test_a_page_of_three_sizes_is_below_three_megabytes(shared: Path) -> None:
    told = drawn((shared / "designs" / "harbour-watch.toml").read_text("utf-8"))
    first, middle, last = told.sizes
    worn = made().sizes[1].fit_pictures  # of another sock: as large as its own
    assert len(worn) == 1
    told = attrs.evolve(told, sizes=(first, attrs.evolve(middle, fit_pictures=worn), last))
    assert len(page(told).encode()) < 3_000_000
