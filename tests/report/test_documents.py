"""The three documents: what stands in each, and whose words."""

from __future__ import annotations

import re
from typing import Any

import attrs
import pytest

from loopwright.design import read_design
from loopwright.design.front import FrontMatter, Paper, Wording, needle_size, needle_sizes
from loopwright.errors import DesignError, LetterError, MeasureError, SizingError
from loopwright.gauge import Gauge
from loopwright.pattern import Lift, Part, PickUp, Words, read
from loopwright.report import SockReport, folder
from loopwright.report._blocks import (
    Drawing,
    Facts,
    Pairs,
    Paragraph,
    ReportDocument,
    WorkLines,
)
from loopwright.report._compose import handout, record, sheet
from loopwright.report._instructions import LineKind, by_heading
from loopwright.report._markdown import markdown
from loopwright.report._notions import notions
from loopwright.report._page import page
from loopwright.report._said import gauge_line
from loopwright.report._tables import schematic_table
from loopwright.report._techniques import techniques
from loopwright.report._typeset import pdf_of
from loopwright.report._web import page_of
from loopwright.report.gather import report_of
from report.samples import drawn, reported
from report.samples import report as sample_report
from together import together

DESIGN = """
title = "Pier socks"
summary = "Socks for a pier."
gauge = {stitches = 20, rounds = 28, over = "10 cm"}
[yarn]
name = "tide wool"
count = "400 m / 100 g"
ball = "50 g"
[document]
author = "Ione Skerry"
skill = "you have knitted in the round"
needle = ["2.25 mm", "2 mm"]
needle_for = ["for the sock", "for the cuff"]
copyright = "Skerrow, 1931"
rounds = "round"
paper = "A5"
[document.before]
heel = "Read on to the graft first; the sock is {foot girth} round."
[[sizes]]
name = "S"
length = "16 cm"
ball_girth = "15.5 cm"
[[sizes]]
name = "M"
length = "18 cm"
ball_girth = "17.5 cm"
"""


@pytest.fixture(scope="module")
def report() -> SockReport:
    return report_of(read_design(DESIGN))


def words_of(document: ReportDocument) -> str:
    """All that stands in a document, in order."""
    found = [document.title, document.byline]
    for section in document.sections:
        found.append(section.title)
        for block in section.blocks:
            if isinstance(block, Paragraph):
                found.append(block.text)
            elif isinstance(block, Facts):
                found += [word for row in block.rows for word in row]
            elif isinstance(block, WorkLines):
                found += [text for _, text, _ in block.lines]
    return "\n".join(found)


def test_the_sheet_has_what_hands_need_and_no_uncertainty(report: SockReport) -> None:
    text = words_of(sheet(report))
    for told in (
        "by Ione Skerry", "one long circular, 2.25 mm (US 1, old UK 13), for the sock",
        "tapestry needle", "smooth waste yarn", "S (M)", "take the stitches back", "Skerrow, 1931",
        "you have knitted in the round", "balls of 50 g: 1 ball, up to", "Rounds 1",
    ):  # fmt: skip
        assert told in text, told
    assert "±" not in text
    assert not re.search(r"\d loops", text)
    assert not re.search(r"\b[Rr]nds?\b", text)
    assert text.count("clinician") == 1


def test_own_text_stands_where_it_was_put_and_its_fields_follow_the_sock(
    report: SockReport,
) -> None:
    heel = next(one for one in sheet(report).sections if one.title == "Heel")
    first = heel.blocks[0]
    assert isinstance(first, Paragraph)
    small, large = (size.measures[0].finished.mm / 10 for size in report.sizes)
    assert f"{small:.1f} ({large:.1f}) cm" in first.text
    assert first.text in page(report).replace("&#39;", "'")


def test_a_field_that_there_is_not_is_refused_by_name(report: SockReport) -> None:
    front = FrontMatter(before={"heel": "It is {heel gilth}."})
    with pytest.raises(MeasureError, match=r"heel gilth.*foot girth"):
        sheet(attrs.evolve(report, front=front))


def test_own_wording_is_kept_when_numbers_change_and_told_when_its_step_is_gone(
    report: SockReport,
) -> None:
    mine = (
        Wording("Next 99 (99) rnds: Knit. (99 (99) sts)", "Knit on until the tide turns."),
        Wording("Rnd 1: Purl backwards.", "Never mind."),
    )
    texts = {"heel": "Rest.", "thumb": "Never."}
    told = attrs.evolve(report, front=FrontMatter(wording=mine, after=texts))
    assert "Knit on until the tide turns." in words_of(sheet(told))
    first, second = told.left_over(Words.US)
    assert mine[1].instead_of in first
    assert "after 'thumb'" in second
    assert all(one in words_of(record(told)) for one in (first, second))


def test_own_wording_keeps_to_its_part_and_the_summary_follows_the_sock(
    report: SockReport,
) -> None:
    line = next(
        text
        for section in sheet(report).sections
        if section.title == "Leg"
        for block in section.blocks
        if isinstance(block, WorkLines)
        for _, text, _ in block.lines
    )
    assert "rounds" in line  # as it is printed here; by default they are rnds
    mine = Wording(line, "Up to the knee.", part="leg")
    told = attrs.evolve(
        report, front=FrontMatter(wording=(mine,)), summary="It is {foot girth} round."
    )
    text = words_of(sheet(told))
    assert text.count("Up to the knee.") == 1
    assert told.left_over(Words.US) == ()
    girth = f"{report.sizes[0].measures[0].finished.mm / 10:.1f} ("
    opening = [block.text for block in sheet(told).opening if isinstance(block, Paragraph)]
    assert opening[0].startswith(f"It is {girth}")
    assert opening[0] in page(told)
    assert opening[0].split(" (")[0] in markdown(told).replace("\\", "")


def test_the_record_begins_with_the_verdict(report: SockReport) -> None:
    text = words_of(record(report))
    assert text.index("Will it go on?") < text.index("Measures") < text.index("Checks")
    assert "±" in text


def test_the_handout_teaches_heel_and_toe_only(report: SockReport) -> None:
    titles = [section.title for section in handout(report).sections]
    assert {"Heel", "Toe", "Graft"} <= set(titles)
    assert "Leg" not in titles
    assert handout(report).large_print


@pytest.mark.parametrize("paper", Paper)
def test_every_document_is_set_on_every_paper(report: SockReport, paper: Paper) -> None:
    told = attrs.evolve(report, front=FrontMatter(paper=paper, large_print=True))
    width = {"A4": 595, "Letter": 612, "A5": 419}[paper.value]
    for make in (sheet, record, handout):
        made = pdf_of(make(told))
        assert made.startswith(b"%PDF-")
        assert re.search(rb"/MediaBox ?\[ ?0 0 %d" % width, made)
        assert b"/StructTreeRoot" in made  # tagged: PDF 1.7, 14.7 (ISO 32000-1)
        assert re.search(rb"pdfuaid:part>1<", made)  # PDF/UA-1: ISO 14289-1, 5
        assert b"/DisplayDocTitle true" in made  # ISO 14289-1, 7.1
        assert page_of(make(told)).startswith("<!doctype html>")


def test_hostile_words_are_text_on_every_page() -> None:
    told = sample_report()
    hostile = FrontMatter(author="<b>#eval</b>", credits="</style><script>", skill="{{ 7 * 7 }}")
    told = attrs.evolve(told, front=hostile)
    for make in (sheet, record, handout):
        assert "<script>alert" not in page_of(make(told))
        assert pdf_of(make(told)).startswith(b"%PDF-")
    assert "&lt;b&gt;#eval" in page(told)
    assert "<script>" not in page(told).split("<footer>")[1].split("<script type")[0]


def test_needles_have_the_numbers_of_the_table() -> None:
    # The yarn trade's table of needle sizes: US 1 is 2.25 mm, US 8 is 5 mm (from memory).
    assert str(needle_size(5)) == "5 mm (US 8, old UK 6)"
    assert str(needle_size(2.1)) == "2.1 mm"
    with pytest.raises(MeasureError, match=r"0\.5 to 25 mm"):
        needle_size(250)


# Imperial Standard Wire Gauge, thousandths of an inch: Order in Council of 1883, BS 3737:1964 (from
# memory). Old British needles were sold by its numbers.
THICK = (372, 348, 324, 300, 276, 252, 232, 212, 192, 176)
THIN = (160, 144, 128, 116, 104, 92, 80, 72, 64, 56)
WIRE = dict(zip(("000", "00", *map(str, range(18))), THICK + THIN, strict=True))


def test_old_british_needles_are_numbered_by_the_wire_gauge() -> None:
    named = {size.uk: size.mm for size in needle_sizes() if size.uk}
    for number, mm in named.items():
        away = {one: abs(mils * 0.0254 - mm) for one, mils in WIRE.items()}
        assert min(away.values()) == away[number]
    # "Needles UK No. 10 (3.25 mm)": socks of sports wool, Guide to Knitting for the Services, 1940.
    assert named["10"] == 3.25
    # "2.25-3.25 (U.S. 1-3)" of sock yarn: shop pages that quote the yarn trade's association.
    assert {size.us: size.mm for size in needle_sizes()}.items() >= {"1": 2.25, "3": 3.25}.items()


@together(
    ("lines", "key", "found"),
    [
        ('paper = "A3"', "document.paper", "A3"),
        ('needle = "2.25"', "document.needle", "2.25"),
        ("author = 3", "document.author", "3"),
        ('rounds = "laps"', "document.rounds", "laps"),
        ('needel = "2 mm"', "document.needel", ""),
    ],
)
def test_wrong_keys_are_refused_at_their_line(lines: str, key: str, found: str) -> None:
    head = 'gauge = {stitches = 20, rounds = 28, over = "10 cm"}\nfoot = {length = "24 cm"}\n'
    with pytest.raises((DesignError, MeasureError)) as refusal:
        read_design(f"{head}[document]\n{lines}\n")
    assert found in str(refusal.value)


@pytest.mark.parametrize(
    ("swatch", "inches_first", "told"),
    [
        ((20, 28, "10 cm"), False, "20 stitches and 28 rounds to 10 cm (4 in) "),
        ((20, 28, "4 in"), False, "20 stitches and 28 rounds to 4 in (10 cm) "),
        ((20, 28, "10 cm"), True, "20.3 stitches and 28.4 rounds to 4 in (10 cm) "),
        ((5, 7, "1 in"), False, "20 stitches and 28 rounds to 4 in (10 cm) "),
    ],
)
def test_the_gauge_is_told_over_the_length_it_was_counted_over(
    report: SockReport, swatch: tuple[float, float, str], inches_first: bool, told: str
) -> None:
    """4 in are 10.16 cm: 20 stitches to the one are 19.7 to 10 cm."""
    stitches, rounds, over = swatch
    front = attrs.evolve(report.front, inches_first=inches_first)
    counted = attrs.evolve(report, gauge=Gauge.of(stitches, rounds, over=over), front=front)
    assert told in gauge_line(counted, Words.US)
    first_cell = schematic_table(report.sizes, inches_first=inches_first).rows[0][1]
    assert first_cell.endswith("cm)" if inches_first else "in)")


def test_techniques_and_notions_follow_from_the_steps() -> None:
    plain = read("Cast on 8 sts. Join in the round. Rnds 1-3: Knit. Bind off all sts.")
    assert techniques(plain.steps) == ()
    flap = read("Cast on 8 sts. Knit 8 rows. Bind off all sts with a stretchy bind-off.")
    assert [one.key for one in techniques(flap.steps)] == ["stretchy end"]
    (british,) = techniques(flap.steps, words=Words.UK)
    assert british.title == "A stretchy cast-off"
    edge = techniques([Part((PickUp(3, "edge"),))], words=Words.UK)
    assert "an edge that was cast on or cast off" in edge[0].lines[1]
    gauge = sample_report().gauge
    assert "tapestry needle" not in notions(plain.steps, gauge)
    # A strand that makes a stitch is another movement than one worked with its neighbour.
    for stitch, key in (("m1l", "corner stitch"), ("k2tog", "corner")):
        assert [one.key for one in techniques([Part((Lift(stitch),))])] == [key]
    graft = techniques(sample_report().pattern.steps, [8, 10])
    assert "8 (10) stitches" in graft[-1].lines[4]
    assert "7 (9) times" in graft[-1].lines[4]


@pytest.mark.parametrize(
    ("round_1", "needs"), [("*2/2lc; rep from *", True), ("*k2, p2; rep from *", False)]
)
def test_a_crossing_asks_for_a_cable_needle(round_1: str, *, needs: bool) -> None:
    head = "Cast on 8 sts. Join in the round. "
    panel = f"Panel rnd 1: {round_1.replace('*', '[').replace('; rep from [', '] twice')}. "
    for work in (f"Rnd 1: {round_1} to end.", panel + "Rnd 1: Work panel."):
        assert ("cable needle" in notions(read(head + work).steps, None)) is needs


def test_sheet_and_record_agree_on_yarn() -> None:
    """The sheet's amount is the record's upper end, and says so; waste yarn is a notion."""
    text = DESIGN.replace("[foot]", '[toe]\nkind = "short-row"\n[foot]', 1)
    told = report_of(read_design('direction = "toe up"\n' + text).one_size("M"))
    (need,) = told.sizes[0].needs
    facts = words_of(sheet(told))
    assert "waste yarn" in facts
    high = (need.grams or need.metres).high
    assert f"up to {high:.0f} {'g' if need.grams else 'm'}" in facts


@pytest.mark.parametrize("yarn", ["", DESIGN[DESIGN.index("[yarn]") : DESIGN.index("[document]")]])
def test_the_sheet_asks_for_no_more_metres_than_the_record(yarn: str) -> None:
    """It said grams by the band, 5 % more: "up to 237 m" where the record's upper limit was 226."""
    head, rest = DESIGN[: DESIGN.index("[yarn]")], DESIGN[DESIGN.index("[document]") :]
    told = report_of(read_design(head + yarn + rest))
    facts = words_of(sheet(told))
    metres = re.search(r"up to (?:[\d (,)]+ g, )?([\d (,)]+) m or", facts)
    assert metres is not None
    high = [f"{need.metres.high:.0f}" for size in told.sizes for need in size.needs]
    assert re.findall(r"\d+", metres[1]) == [*dict.fromkeys(high)]


def test_one_size_alone_is_written_as_if_there_were_no_other() -> None:
    alone = report_of(read_design(DESIGN).one_size("M"))
    assert (alone.title, [size.name for size in alone.sizes]) == ("Pier socks, size M", [""])
    for make in (sheet, record, handout):
        text = words_of(make(alone))
        assert not re.search(r"\d \(\d", text.replace("°", "")), make.__name__
        assert "Size M:" not in text
        assert "S (M)" not in text
    work = [block for section in sheet(alone).sections for block in section.blocks]
    assert all(block.boxes for block in work if isinstance(block, WorkLines))
    with pytest.raises(SizingError, match="the design has S, M"):
        read_design(DESIGN).one_size("XL")


def test_every_picture_says_what_is_to_be_seen(report: SockReport) -> None:
    """WCAG 2.1, 1.1.1: and no two pictures of a page say the same."""
    for make in (sheet, record, handout):
        drawings = [
            part
            for section in make(report).sections
            for block in section.blocks
            if isinstance(block, Drawing)
            for part in (block.picture.parts or (block.picture,))
        ]
        told = [part.alt for part in drawings]
        assert all(len(alt) > 20 for alt in told)
        assert len(set(told)) == len(told)
        shown = page_of(make(report))
        assert all(alt.replace("&", "&amp;") in shown.replace("&#39;", "'") for alt in told)


def test_a_letter_that_no_font_has_is_refused_by_name() -> None:
    """The last private letter of Unicode, which no font has; those at hand are set."""
    told = attrs.evolve(sheet(sample_report()), title="Sock \U0010fffd")
    with pytest.raises(LetterError) as refused:
        pdf_of(told)
    assert refused.value.letter == "\U0010fffd"
    assert "U+10FFFD" in str(refused.value)
    for at_hand in ("Łódź, ½ → ☃", "Ωμέγα", "Пирс"):
        assert pdf_of(attrs.evolve(told, title=at_hand)).startswith(b"%PDF-")


def test_each_size_of_the_page_fills_in_its_own_fields(report: SockReport) -> None:
    shown = page(report).split('<ol class="lines"')
    girths = [f"{size.measures[0].finished.mm / 10:.1f} cm" for size in report.sizes]
    told = re.findall(r"the sock is ([^<]*) round", "".join(shown))
    assert len(told) == 1 + len(girths)
    for girth, words in zip(girths, told[1:], strict=True):
        assert words.startswith(girth)
        assert words.count("(") == 1  # inches; no other size's number
    assert all(girth.removesuffix(" cm") in told[0] for girth in girths)


HOSTILE = (
    "<script>alert(1)</script>",
    '#eval("1")',
    "{{7*7}}",
    "= heading",
    "$x$ @ref // *b*",
    "{",
    "a" * 3000,
    "\\u202e \u0644",
    "&amp;",
    " ",
)


@pytest.mark.parametrize(
    "key", ["author", "credits", "copyright", "skill", "notes", "before", "after", "wording"]
)
def test_hostile_words_in_every_key_stay_words(report: SockReport, key: str) -> None:
    front = FrontMatter(**_with_words(key, " ".join(HOSTILE)))
    told = attrs.evolve(report, front=front)
    shown = page(told)
    assert "<script>alert" not in shown
    assert "{{7*7}}" in shown or key == "wording"
    assert pdf_of(sheet(told), author=front.author).startswith(b"%PDF-")


def _with_words(key: str, words: str) -> dict[str, Any]:
    several: dict[str, Any] = {
        "notes": (words,),
        "before": {"heel": words},
        "after": {"toe": words},
        "wording": (Wording("Rnds 1-9: Knit.", words),),
    }
    return {key: several.get(key, words)}


def test_a_sock_without_a_title_is_called_socks() -> None:
    blank = 'title = " "\ngauge = {stitches = 16, rounds = 22, over = "10 cm"}\n'
    blank += 'foot = {length = "15 cm", ball_girth = "14 cm"}\n'
    told = report_of(read_design(blank))
    assert told.title == "Socks"
    assert pdf_of(record(told)).startswith(b"%PDF-")


def test_a_record_speaks_of_what_there_is(report: SockReport) -> None:
    """One size was "each size", and without a band there were balls and a weight."""
    several, alone = (
        words_of(record(report)),
        words_of(record(report_of(read_design(DESIGN).one_size("M")))),
    )
    bare = DESIGN[: DESIGN.index("[yarn]")] + DESIGN[DESIGN.index("[document]") :]
    unbanded = words_of(record(reported(bare)))
    for text, size, band in ((several, "Each size", True), (alone, "The sock", True),
                             (unbanded, "Each size", False)):  # fmt: skip
        assert f"{size} was knitted loop by loop" in text
        assert ("Balls are enough" in text) is ("Weights leave room" in text) is band


@together(
    ("text", "kind", "told"),
    [
        ("Size S only: Note: It curls.", LineKind.NOTE, "Size S only: It curls."),
        ("Sizes S and M only: Caution: Mind.", LineKind.CAUTION, "Sizes S and M only: Mind."),
        ("Caution: Mind.", LineKind.CAUTION, "Mind."),
    ],
)
def test_a_note_for_some_sizes_is_set_as_a_note(text: str, kind: LineKind, told: str) -> None:
    ring = "Sizes: S (M, L)\nCast on 8 (8, 9) sts. Join in the round.\nRnd 1: Knit.\n"
    (line,) = by_heading(read(ring + text))[0].lines[3:]
    assert (line.kind, line.text) == (kind, told)


def test_a_picture_is_listed_with_its_size_once(report: SockReport) -> None:
    """It was "The sock on the foot, size M, size M"."""
    listed = str(folder(report)["README.txt"])
    assert "The sock on the foot, size M\n" in listed
    assert ", size M, size M" not in listed


@together(("rounds", "listed"), [("rnd", True), ("round", False)])
def test_rounds_that_are_written_out_are_no_abbreviation(rounds: str, listed: bool) -> None:
    told = drawn(DESIGN.replace('rounds = "round"', f'rounds = "{rounds}"'))
    pairs = [one for part in sheet(told).sections for one in part.blocks if isinstance(one, Pairs)]
    assert ("rnd" in dict(pairs[0].rows)) is listed
    assert ("<dt>rnd</dt>" in page(told)) is listed


@together(("sizes", "told"), [("SM", "size M differs in"), ("SML", "sizes M and L differ in")])
def test_sizes_that_a_picture_stands_for_are_counted(sizes: str, told: str) -> None:
    more = '[[sizes]]\nname = "L"\nlength = "20 cm"\nball_girth = "18.5 cm"\n'
    made = handout(drawn(DESIGN + more * ("L" in sizes)))
    drawings = [one for part in made.sections for one in part.blocks if isinstance(one, Drawing)]
    assert all(f"Drawn for size S; {told} numbers only." in one.picture.note for one in drawings)
