"""The report's views of one sock: the same words and numbers everywhere, and no text as markup."""

from __future__ import annotations

import csv
import io
import re
import subprocess
from collections import Counter
from html.parser import HTMLParser
from math import nan
from pathlib import Path
from shutil import which

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from loopwright.design import read_design
from loopwright.errors import StepError
from loopwright.length import Length
from loopwright.pattern import Words, knitted, read, write
from loopwright.pattern.walk import Walk
from loopwright.report._compose import record
from loopwright.report._instructions import LineKind, by_heading
from loopwright.report._markdown import markdown
from loopwright.report._page import page
from loopwright.report._said import FEET, cautions, verdicts
from loopwright.report._tables import (
    Table,
    fit_table,
    measures_csv,
    measures_table,
    to_csv,
    yarn_table,
)
from loopwright.report.gather import report_of
from loopwright.sock import Sock
from loopwright.sock._plan import FinishedMeasure
from report.samples import GAUGE, TITLE, pattern, pdf, report
from together import together

REPORT = report()
ALONE = report((48,), ("",))


def test_a_report_has_the_sizes_of_its_pattern() -> None:
    with pytest.raises(StepError, match="sizes"):
        attrs.evolve(REPORT, sizes=REPORT.sizes[:1])


def test_fit_is_told_place_by_place_size_by_size() -> None:
    table = fit_table(REPORT.sizes)
    assert [row[:2] for row in table.rows[:4]] == [
        ("S", "ball"), ("S", "heel"), ("S", "top"), ("S", "the top over the heel")
    ]  # fmt: skip
    # 48 stitches at 32.5 to 10 cm are 147.7 mm; a foot of 180 mm is 1.22 times as much.
    assert table.rows[0][5].startswith("1.22 (")
    assert table.rows[4][0] == "M"


def test_the_verdict_comes_first_and_names_its_size() -> None:
    assert [name for name, _ in verdicts(REPORT.sizes)] == ["Size S", "Size M"]
    ((name, words),) = verdicts(ALONE.sizes)
    assert name == ""
    assert "go on" in words or "goes on" in words
    assert markdown(REPORT).index("Will it go on?") < markdown(REPORT).index("Before you begin")
    assert record(REPORT).sections[0].title == "Will it go on?"


def test_rounding_is_told_with_its_sign() -> None:
    finished = Length(200.0, 1.8, how="64 stitches at the gauge")
    for asked, moved in ((202.5, "−2.5 mm"), (198.0, "+2.0 mm"), (200.01, "0.0 mm"), (nan, "")):
        size = attrs.evolve(
            ALONE.sizes[0], measures=(FinishedMeasure("girth", asked, finished, 64),)
        )
        (row,) = measures_table([size]).rows
        assert row[4:] == (moved, "64 stitches")
        assert row[2] == "20.0 cm (7 7/8 in)"  # 200 / 25.4 = 7.874


def test_sizes_stand_in_front_where_there_are_several() -> None:
    assert measures_table(REPORT.sizes).head[0] == "Size"
    assert measures_table(REPORT.sizes[:1]).head[0] == "Measure"
    assert yarn_table(REPORT.sizes).numbers == {2, 3, 4}
    assert yarn_table(REPORT.sizes[:1]).numbers == {1, 2, 3}


def test_csv_is_read_back_by_the_standard_library() -> None:
    rows = list(csv.DictReader(io.StringIO(measures_csv(REPORT.sizes))))
    assert [row["size"] for row in rows] == ["S", "S", "M", "M"]
    assert float(rows[0]["finished_mm"]) == pytest.approx(GAUGE.width(48).mm, abs=0.05)
    assert float(rows[0]["moved_mm"]) == pytest.approx(-4.6)
    assert rows[1]["asked_mm"] == ""


@given(st.lists(st.text(max_size=8), min_size=2, max_size=2))
def test_csv_keeps_any_cell_and_runs_none(cells: list[str]) -> None:
    plain = [cell for cell in cells if "\r" not in cell and "\n" not in cell and "\0" not in cell]
    (row,) = list(csv.reader(io.StringIO(to_csv(Table("", (), (tuple(plain) or ("x",),))))))[1:]
    for cell, kept in zip(plain, row, strict=False):
        assert kept in (cell, f"'{cell}")
        assert kept[:1] not in {"=", "@"}


def test_lines_and_their_rounds() -> None:
    told = [
        (line.rounds, line.kind, line.text)
        for heading in by_heading(pattern(), "M")
        for line in heading.lines
    ]
    assert (10, LineKind.WORK, "Rnds 1-10: *K1, p1; rep from * to end.") in told
    assert (22, LineKind.WORK, "Next 5 cm: Knit.") in told  # 44 rounds to 10 cm
    # 56 to 16 in fours: 10 decrease rounds and 9 between; two are written out.
    assert told[-3][:2] == (17, LineKind.WORK)
    assert (0, LineKind.CAUTION, "Cut <b>only</b> what is secured.") in told
    assert [heading.title for heading in by_heading(pattern(), "M")] == ["Foot", "Toe"]


@together(
    ("lines", "expected"),
    [
        ("Rnds 1-4: Knit.", [4]),
        (
            "Rnd 1: Knit.\nRnd 2: Purl.\nRep rnds 1 and 2 another 4 times (5 times in all).",
            [1, 1, 8],
        ),
        ("Work next 2 rnds 3 times in all:\nRnd 1: Knit.\nRnd 2: Purl.", [1, 1, 4]),
        ("Rnd 1: Knit.\nRnds 2-4: Purl.\nRep rnds 1-4 twice more (3 times in all).", None),
        ("Knit 3 rnds.\nRnd 4: Knit.", [3, 1]),
        (
            "Work back and forth from here.\nRow 1: K6, turn.\nRow 2: P4, turn.\nRow 3: K5, turn.",
            [0, 1, 1, 1],
        ),
        ("Bind off all sts.", [0]),
    ],
)
def test_rounds_of_a_line_are_counted_by_walking_it(lines: str, expected: list[int] | None) -> None:
    told = read(f"CO 8 sts.\nJoin in the round.\n{lines}")
    found = [line.rounds for line in by_heading(told, 0)[0].lines][2:]
    if expected is not None:
        assert found == expected
    assert sum(found) == sum(entry.rows for entry in knitted(told).journal)


def test_rows_behind_held_stitches_are_counted() -> None:
    text = "CO 8 sts.\nJoin in the round.\nK4.\nPlace next 4 sts on a holder as instep.\n"
    told = read(f"{text}Note: Turn.\nRow 1 (WS): P to end.\nRow 2 (RS): K to end.")
    assert [line.rounds for line in by_heading(told, 0)[0].lines][-2:] == [1, 1]


def test_cautions_come_first_and_once_and_always_name_the_clinician() -> None:
    assert cautions(REPORT) == ("Cut <b>only</b> what is secured.", FEET)
    assert "clinician" in FEET
    assert all(word in FEET for word in ("diabetes", "neuropathy", "swelling"))


class Tags(HTMLParser):
    """What a page consists of, as the standard library sees it."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.addresses: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.addresses += [value or "" for name, value in attributes if name in ("src", "href")]


def test_the_page_holds_all_that_it_needs() -> None:
    seen = Tags(page(REPORT))
    assert seen.tags.count("script") == 2  # the data and ours: the title's is text
    assert seen.tags.count("link") == 1  # the icon, which the page holds
    assert seen.addresses
    assert all(address.startswith(("#", "data:")) for address in seen.addresses)


def test_a_page_is_the_same_each_time() -> None:
    assert page(REPORT) == page(report())


def test_ticks_belong_to_the_text() -> None:
    digest = re.compile('"digest": "([0-9a-f]+)"')
    first, again, other = (
        digest.search(page(each)) for each in (REPORT, report(), report((48, 60)))
    )
    assert first
    assert again
    assert other
    assert first[1] == again[1] != other[1]


@pytest.mark.parametrize("note", ["</script><b>", "S\"'><img src=x>", "{{ 7 * 7 }}", "<!--"])
def test_notes_stay_text(note: str) -> None:
    def noted(text: str) -> list[str]:
        sizes = tuple(attrs.evolve(size, notes=(text,)) for size in REPORT.sizes)
        return Tags(page(attrs.evolve(REPORT, sizes=sizes))).tags

    assert noted(note) == noted("plain")


def test_british_words_throughout() -> None:
    steps = "CO 8 sts. Join in the round. Rnd 1: Knit. BO all sts."
    told = attrs.evolve(REPORT, pattern=read(f"Sizes: S (M)\n{steps}"))
    for view in (page, markdown):
        assert "Bind off" in view(told)
        assert "Cast off" in view(told, words=Words.UK)
        assert "Bind off" not in view(told, words=Words.UK)
        # As the written pattern has it, and in rounds: only the model counts courses.
        assert "Gauge: 32.5" in view(told)
        assert "Tension: 32.5" in view(told, words=Words.UK)
        assert "courses" not in view(told)


def test_markdown_renders_as_the_text_it_holds() -> None:
    html = MarkdownIt("commonmark").enable("table").render(markdown(REPORT))
    seen = Tags(html)
    assert "script" not in seen.tags
    assert "b" not in seen.tags
    assert seen.tags.count("table") == 4
    assert "*K1, p1; rep from * to end." in html  # the asterisks of a repeat are no emphasis
    assert "Caution." in html
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in html


@together("text", ["1. one", "- x", "# y", "a | b", "*k* _p_", "<b>", "[k1] 2", "\\"])
def test_markdown_leaves_no_markup_in_a_line(text: str) -> None:
    told = attrs.evolve(ALONE, summary=text)
    paragraph = MarkdownIt("commonmark").render(markdown(told)).split("</h1>")[1].split("<h2>")[0]
    inside = paragraph.strip().removeprefix("<p>").removesuffix("</p>")
    assert inside.replace("&lt;", "<").replace("&gt;", ">") == text


def text_of(data: bytes, folder: Path) -> str:
    if which("pdftotext") is None:
        pytest.skip("pdftotext is not here")
    path = folder / "sheet.pdf"
    path.write_bytes(data)
    done = subprocess.run(
        ["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True, check=True
    )
    return done.stdout


def test_the_pdf_holds_the_words_of_the_pattern(tmp_path: Path) -> None:
    text = " ".join(text_of(pdf(REPORT), tmp_path).split())
    assert TITLE.replace("'", "’").replace("‘", "’") in text.replace("‘", "’").replace("'", "’")
    for line in write(pattern()).split("\n## Foot\n")[1].splitlines():
        shown = line.removeprefix("## ").removeprefix("Note: ").replace("Caution: ", "Caution. ")
        assert shown in text
    assert FEET in text


def test_a_pdf_is_the_same_each_time() -> None:
    assert pdf(ALONE) == pdf(report((48,), ("",)))
    assert pdf(ALONE).startswith(b"%PDF-")


def test_paper_follows_the_words() -> None:
    def width(words: Words) -> str:
        box = re.search(rb"/MediaBox ?\[ ?0 0 ([0-9.]+)", pdf(ALONE, words=words))
        assert box
        return box[1].decode()

    assert float(width(Words.US)) == pytest.approx(612)  # letter: 8.5 in of 72 points
    assert float(width(Words.UK)) == pytest.approx(595.28, abs=0.01)  # A4, ISO 216: 210 mm


def test_a_report_of_one_size_walks_its_pattern_once_and_plans_its_sock_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    calls: Counter[str] = Counter()

    def counting(owner: type, name: str) -> None:
        inner = getattr(owner, name)

        def counted(self: object, *given: object) -> object:
            calls[f"{owner.__name__}.{name}"] += 1
            return inner(self, *given)

        monkeypatch.setattr(owner, name, counted)

    counting(Walk, "all")
    counting(Sock, "_around")  # the first thing that a plan needs
    told = read_design(
        'title = "Pier socks"\ngauge = {stitches = 20, rounds = 28, over = "10 cm"}\n'
        'foot = {length = "16 cm", ball_girth = "15 cm"}\n'
    )
    made = report_of(told)
    assert calls == {"Walk.all": 1, "Sock._around": 1}
    assert made.sizes[0].verdict.ok


def test_a_line_of_several_rounds_inside_a_repeat_stands_for_all_of_them() -> None:
    ring = read("CO 8 sts. Join in the round. Rnd 1: K. Rnds 2-4: P. Rep rnds 1-4 3 times more.")
    (heading,) = by_heading(ring, 0)
    # Arithmetic: 1 + 3 rounds, and three times as many again.
    assert [line.rounds for line in heading.lines] == [0, 0, 1, 3, 12]
