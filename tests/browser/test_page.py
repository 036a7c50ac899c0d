"""The page in a real browser: what a knitter does with it, and what it must never do."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, expect

from browser.conftest import Visit
from loopwright.report._page import page
from report.samples import report


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("page") / "pattern.html"
    path.write_text(page(report()), encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def alone(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("page") / "alone.html"
    path.write_text(page(report((48,), ("",))), encoding="utf-8")
    return path


def boxes(visit: Visit) -> Locator:
    return visit.page.locator(".pattern:visible input[data-round]")


def test_it_loads_in_silence_and_asks_for_nothing(visit: Visit, sheet: Path) -> None:
    visit.open(sheet)
    visit.choose("size", "0")
    visit.page.locator("#sock").scroll_into_view_if_needed()
    visit.page.wait_for_timeout(200)
    assert visit.said == []
    assert [url for url in visit.asked if not url.startswith("data:")] == [sheet.as_uri()]


def test_a_request_would_be_stopped_by_the_page_itself(visit: Visit, sheet: Path) -> None:
    visit.open(sheet)
    visit.page.evaluate("fetch('http://192.0.2.1/').catch(() => {})")
    visit.page.evaluate(
        "document.body.append(Object.assign(new Image(), {src: 'http://192.0.2.1/'}))"
    )
    visit.page.wait_for_timeout(200)
    stopped = [text for text in visit.said if "Content Security Policy" in text]
    assert any("connect-src" in text or "default-src" in text for text in stopped)
    assert any("img-src" in text for text in stopped)


def test_a_title_that_is_a_script_stays_text(own_visit: Visit, sheet: Path) -> None:
    dialogs: list[str] = []
    own_visit.page.on("dialog", lambda dialog: dialogs.append(dialog.message))
    own_visit.open(sheet)
    expect(own_visit.page.locator("h1")).to_have_text(report().title)
    assert own_visit.page.title() == report().title
    assert own_visit.page.locator("h1 script, p > b, li > b").count() == 0
    assert dialogs == []


@pytest.mark.parametrize(("place", "own", "other"), [("0", "48", "56"), ("1", "56", "48")])
def test_a_size_shows_its_numbers_and_no_others(
    visit: Visit, sheet: Path, place: str, own: str, other: str
) -> None:
    visit.open(sheet)
    visit.choose("size", place)
    shown = visit.page.locator("main").inner_text()
    assert f"Cast on {own} sts, long-tail." in shown
    assert not re.search(rf"\b{other}\b", shown)
    pictures = visit.page.locator("img:visible").evaluate_all("all => all.map(one => one.alt)")
    assert pictures == [f"Schematic, {own} stitches", f"Chart, {own} stitches"]
    assert visit.page.locator("img:visible").evaluate_all(
        "all => all.every(one => one.naturalWidth)"
    )


def test_switching_the_size_changes_every_part(visit: Visit, sheet: Path) -> None:
    visit.open(sheet)
    texts = {}
    for place in ("all", "0", "1"):
        visit.choose("size", place)
        texts[place] = [
            visit.page.locator(f"#{part}").inner_text()
            for part in ("before", "measures", "instructions")
        ]
    for first, second in (("all", "0"), ("0", "1"), ("all", "1")):
        for one, two in zip(texts[first], texts[second], strict=True):
            assert one != two


def test_ticks_survive_a_reload_and_belong_to_a_size_and_a_sock(visit: Visit, sheet: Path) -> None:
    visit.open(sheet)
    visit.choose("size", "1")
    boxes(visit).nth(3).check()
    boxes(visit).nth(4).check()
    total = boxes(visit).count()
    progress = visit.page.locator("#progress")
    expect(progress).to_have_text(f"2 of {total} rounds")
    visit.page.reload()
    assert visit.page.locator("input[name=size][value='1']").is_checked()
    assert [boxes(visit).nth(n).is_checked() for n in range(6)] == [False] * 3 + [True] * 2 + [
        False
    ]
    visit.choose("sock", "2")
    expect(progress).to_have_text(f"0 of {total} rounds")
    visit.choose("size", "0")
    expect(progress).to_have_text(re.compile("^0 of "))
    visit.choose("size", "1")
    visit.choose("sock", "1")
    expect(progress).to_have_text(f"2 of {total} rounds")


def test_boxes_are_as_many_as_the_rounds_of_the_fabric(visit: Visit, alone: Path) -> None:
    visit.open(alone)
    fabric = report((48,), ("",)).sizes[0].fabric
    assert (
        boxes(visit).count() == fabric.course.max() - 1
    )  # the cast-on and the graft are no rounds
    assert visit.page.locator("input[name=size]").count() == 0


def test_a_finished_line_is_struck_and_next_goes_on(visit: Visit, alone: Path) -> None:
    visit.open(alone)
    first = visit.page.locator(".pattern .lines > li").first
    first.locator("input").check()
    expect(first).to_have_class("done")
    visit.page.get_by_role("button", name="Go there").click()
    focused = visit.page.evaluate("document.activeElement.closest('li').innerText")
    assert focused.startswith("Join to work in the round")


def test_clearing_asks_first(visit: Visit, alone: Path) -> None:
    visit.open(alone)
    boxes(visit).first.check()
    visit.page.once("dialog", lambda dialog: dialog.dismiss())
    visit.page.get_by_role("button", name="Clear").click()
    assert boxes(visit).first.is_checked()
    visit.page.once("dialog", lambda dialog: dialog.accept())
    visit.page.get_by_role("button", name="Clear").click()
    assert not boxes(visit).first.is_checked()


def test_the_look_can_be_chosen_and_is_kept(visit: Visit, sheet: Path) -> None:
    visit.open(sheet)
    paper = "getComputedStyle(document.body).backgroundColor"
    light = visit.page.evaluate(paper)
    visit.page.locator("select[name=look]").select_option("dark")
    dark = visit.page.evaluate(paper)
    assert light != dark
    visit.page.reload()
    assert visit.page.evaluate(paper) == dark
    visit.page.locator("select[name=look]").select_option("system")
    visit.page.emulate_media(color_scheme="dark")
    assert visit.page.evaluate(paper) == dark


# Contrast of two colours by their relative luminance: W3C, Web Content Accessibility Guidelines
# 2.2, 1.4.3 (level AA): 4.5 for text, 3 for text from 24 px on.
_FAINT = """() => {
  const lum = ([r, g, b]) => [r, g, b].map(v => v / 255)
    .map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
    .reduce((sum, v, k) => sum + v * [0.2126, 0.7152, 0.0722][k], 0);
  const parts = text => text.match(/[0-9.]+/g).map(Number);
  const behind = node => {
    for (; node; node = node.parentElement) {
      const found = parts(getComputedStyle(node).backgroundColor);
      if (found.length === 3 || found[3] === 1) return found;
    }
    return [255, 255, 255];
  };
  const texts = [...document.body.querySelectorAll("*")].filter(node => node.checkVisibility()
    && !node.closest("svg, .stage") && [...node.childNodes].some(
      part => part.nodeType === 3 && part.data.trim()));
  const faint = texts.filter(node => {
    const style = getComputedStyle(node);
    const [a, b] = [lum(parts(style.color)), lum(behind(node))].sort((x, y) => y - x);
    return (a + 0.05) / (b + 0.05) < (parseFloat(style.fontSize) >= 24 ? 3 : 4.5);
  });
  return {seen: texts.length, faint: faint.map(node => node.textContent.trim().slice(0, 60))};
}"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_text_stands_out_from_what_is_behind_it(visit: Visit, sheet: Path, scheme: str) -> None:
    visit.page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    visit.open(sheet)
    found = visit.page.evaluate(_FAINT)
    assert found["seen"] > 50
    assert found["faint"] == []
    visit.page.evaluate(
        "document.querySelector('main').append(Object.assign(document.createElement('p'),"
        " {textContent: 'faint'})); document.querySelector('main > p').style.color='#888'"
    )
    assert visit.page.evaluate(_FAINT)["faint"] == (["faint"] if scheme == "light" else [])


def test_print_shows_the_chosen_size_without_the_controls(visit: Visit, sheet: Path) -> None:
    visit.open(sheet)
    visit.choose("size", "1")
    visit.page.emulate_media(media="print")
    for hidden in ("#bar", "nav", "#shape"):
        expect(visit.page.locator(hidden)).to_be_hidden()
    shown = visit.page.locator("main").inner_text()
    assert "Cast on 56 sts" in shown
    assert "Cast on 48" not in shown


def test_what_is_folded_is_printed_all_the_same(visit: Visit, sheet: Path) -> None:
    visit.open(sheet)
    folded = visit.page.locator("details:not([open])")
    count = folded.count()
    assert count
    visit.page.evaluate("dispatchEvent(new Event('beforeprint'))")
    assert folded.count() == 0
    visit.page.evaluate("dispatchEvent(new Event('afterprint'))")
    assert folded.count() == count


def test_nothing_sticks_out_on_a_small_screen(visit: Visit, sheet: Path) -> None:
    for width in (768, 390, 320):
        visit.page.set_viewport_size({"width": width, "height": 700})
        visit.open(sheet)  # drawn for this width, not fitted to it afterwards
        for size in ("all", "1"):
            visit.choose("size", size)
            assert visit.page.evaluate("document.documentElement.scrollWidth") <= width


def test_the_whole_page_can_be_used_from_the_keyboard(visit: Visit, sheet: Path) -> None:
    visit.open(sheet)
    visit.page.keyboard.press("Tab")
    assert visit.page.evaluate("document.activeElement.className") == "skip"
    visit.page.keyboard.press("Tab")
    visit.page.keyboard.press("ArrowRight")  # from all sizes to the first
    expect(visit.page.locator(".pattern:visible")).to_contain_text("Cast on 48 sts")


def test_everything_that_can_be_used_has_a_name(visit: Visit, sheet: Path) -> None:
    visit.open(sheet)
    visit.choose("size", "0")
    nameless = visit.page.evaluate(
        """() => [...document.querySelectorAll("input, button, select, #sock, img, [role=region]")]
            .filter((one) => !one.closest("[hidden]"))
            .filter((one) => !(one.ariaLabel || one.alt || one.innerText || one.labels?.length))
            .map((one) => one.outerHTML)"""
    )
    assert nameless == []
    ids = visit.page.evaluate("[...document.querySelectorAll('[id]')].map((one) => one.id)")
    assert len(ids) == len(set(ids))
    assert visit.page.locator("main, nav, header, footer").count() == 4
    assert visit.page.locator("html").get_attribute("lang") == "en"


def test_without_scripts_all_sizes_are_readable(browser: Browser, sheet: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page_ = context.new_page()
    page_.goto(sheet.as_uri())
    expect(page_.locator(".pattern:visible")).to_contain_text("Cast on 48 (56) sts")
    expect(page_.locator("noscript p")).to_be_visible()
    context.close()


def test_a_counter_counts_takes_back_and_is_kept(visit: Visit, alone: Path) -> None:
    visit.open(alone)
    count = visit.page.get_by_role("button", name="Count one")
    ticked = visit.page.locator(".pattern input:checked")
    for number in (1, 2, 3):
        count.click()
        expect(ticked).to_have_count(number)
    expect(visit.page.locator("#progress")).to_have_text(re.compile("^0 of "))  # no rounds yet
    visit.page.get_by_role("button", name="Undo").click()
    expect(ticked).to_have_count(2)
    visit.page.reload()
    expect(ticked).to_have_count(2)


def test_one_step_at_a_time_stands_alone_and_large(visit: Visit, alone: Path) -> None:
    visit.open(alone)
    visit.page.get_by_role("button", name="One step").click()
    shown = visit.page.locator(".pattern .lines > li:visible")
    assert shown.count() == 1
    first = shown.inner_text()
    size = "one => parseFloat(getComputedStyle(one).fontSize)"
    assert shown.evaluate(size) > 24
    visit.page.get_by_role("button", name="Count one").click()
    assert shown.inner_text() != first
    visit.page.emulate_media(media="print")
    assert visit.page.locator(".pattern .lines > li:visible").count() > 5


def test_buttons_are_as_large_as_a_thumb(visit: Visit, alone: Path) -> None:
    """44 px, the target size of WCAG 2.2, 2.5.5 (enhanced)."""
    visit.open(alone)
    visit.page.set_viewport_size({"width": 390, "height": 800})
    sizes = visit.page.locator(".bar button:visible").evaluate_all(
        "all => all.map(one => [one.offsetWidth, one.offsetHeight])"
    )
    assert len(sizes) == 5
    assert min(min(pair) for pair in sizes) >= 44
