"""A sock tried by hand in a real browser: on its own page, and as a notebook's widget.

The widget has no notebook around it here: what stands between its page and its model in Python, the
messages, is handed over by hand.
"""

from __future__ import annotations

import json
import queue
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from browser.conftest import Visit
from explore.test_server import Site
from loopwright.design import read_design
from loopwright.gauge import Gauge
from loopwright.sock import Foot, Sock
from loopwright.trying import Bench, explore

ANSWER_MS = 60_000  # a machine that does other work besides; how fast it is, is a benchmark's


class Bar:
    """The page as somebody uses it, whichever form it has."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.root = page.locator(".lw-bench")

    def control(self, key: str) -> Any:
        return self.page.locator(f"[data-key='{key}']")

    def wait(self, stage: str = "worn") -> None:
        """Wait until a stage is there that wasn't when `forget` was called."""
        self.page.wait_for_selector(
            f".lw-bench[data-{stage}-ms]", state="attached", timeout=ANSWER_MS
        )

    def forget(self) -> None:
        self.root.evaluate(
            "one => Object.keys(one.dataset).filter(key => key.endsWith('Ms'))"
            ".forEach(key => delete one.dataset[key])"
        )

    def told(self) -> str:
        return " ".join(self.page.locator(".lw-bench .told").inner_text().split())


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    running = Site(tmp_path_factory.mktemp("taken"))
    foot = Foot.of(length="16 cm", ball_girth="15.5 cm", heel_girth="22 cm")
    large = Foot.of(length="18 cm", ball_girth="17.5 cm")
    gauge = Gauge.of(14, 20)
    running.bench.socks = {"S": Sock(foot=foot, gauge=gauge), "L": Sock(foot=large, gauge=gauge)}
    running.bench.warm()
    yield running
    running.bench.stop()
    running.server.should_exit = True
    running.thread.join(10)
    running.listening.close()


@pytest.fixture
def alone(visit: Visit, site: Site) -> Bar:
    """The page of the server."""
    visit.page.goto(f"http://127.0.0.1:{site.port}/{site.token}/")
    bar = Bar(visit.page)
    bar.wait()
    return bar


WIDGET = """<!doctype html><html lang="en"><title>Notebook</title><body>
<p data-lw-left="MARK">What was left.</p><div id="cell"></div>
<script type="module">
import page from "./page.js";
const heard = [];
window.hear = (answer) => heard.forEach((one) => one(answer));
const model = { get: () => "MARK", off() {}, on: (event, one) => heard.push(one),
                send: (message) => window.ask(JSON.stringify(message)) };
page.render({ model, el: document.getElementById("cell") });
</script>"""


class Notebook:
    """Hands messages between a widget's page and its model, as a kernel does."""

    def __init__(self, page: Page, folder: Path) -> None:
        sock = Sock(
            foot=Foot.of(length="16 cm", ball_girth="15.5 cm", heel_girth="22 cm"),
            gauge=Gauge.of(14, 20),
        )
        self.page, self.explorer = page, explore(sock, folder=folder)
        self.live = self.explorer.widget()
        self.answers: queue.Queue[dict[str, Any]] = queue.Queue()
        self.live.send = self.answers.put
        (folder / "page.js").write_text(self.live._esm, "utf-8")
        (folder / "page.css").write_text(self.live._css, "utf-8")
        html = WIDGET.replace("MARK", self.live.left)
        (folder / "index.html").write_text(html, "utf-8")
        page.expose_function("ask", self._ask)
        page.route("http://notebook.invalid/**", lambda route: route.fulfill(
            path=folder / (route.request.url.rpartition("/")[2] or "index.html")))  # fmt: skip

    def open(self) -> None:
        self.page.goto("http://notebook.invalid/")
        self.page.add_style_tag(content=self.live._css)

    def _ask(self, message: str) -> None:
        told = json.loads(message)
        self.explorer._hear(self.live, told, [])

    def hear(self, last: str) -> None:
        """Hand over answers until this stage has come."""
        stage = ""
        while stage != last:
            try:
                answer = self.answers.get(timeout=0.05)
            except queue.Empty:
                self.page.wait_for_timeout(20)  # lets the page's own messages through
                continue
            stage = answer["stage"]
            self.page.evaluate("answer => window.hear(answer)", answer)


@pytest.fixture
def notebook(own_visit: Visit, tmp_path: Path) -> Notebook:
    made = Notebook(own_visit.page, tmp_path)
    made.explorer.bench.warm()
    made.open()
    return made


def test_a_widget_is_moved_and_its_sock_is_there_in_python(notebook: Notebook) -> None:
    page, bar = notebook.page, Bar(notebook.page)
    expect(page.get_by_text("What was left.")).to_be_visible()
    expect(bar.root).to_be_hidden()  # nobody has answered yet
    notebook.hear("worn")
    expect(bar.root).to_be_visible()
    expect(page.get_by_text("What was left.")).to_be_hidden()
    bar.control("heel.kind").locator("select").select_option("short-row")
    notebook.hear("reckoned")
    assert "estimated" in bar.told()
    notebook.hear("worn")
    assert "measured" in bar.told()
    assert notebook.explorer.sock.heel.name == "short-row"
    assert notebook.explorer.tried[-1].words == "short-row heel"
    expect(page.locator("pre")).to_contain_text("w&t")
    bar.control("fit.stitches").get_by_label("stitches round the foot", exact=True).fill("21")
    notebook.hear("refused")
    expect(bar.control("fit.stitches").get_by_role("alert")).to_contain_text("multiple of 4")


def test_what_moves_is_shown_at_once_and_measured_later(alone: Bar, visit: Visit) -> None:
    before = alone.told()
    assert "measured" in before
    alone.page.evaluate(
        """() => { window.seen = []; const told = document.querySelector('.lw-bench .told');
            const foot = document.querySelector('.lw-bench figure');
            new MutationObserver(() => window.seen.push(
                [told.innerText, Boolean(foot.querySelector('img')?.naturalWidth)]))
            .observe(document.querySelector('.lw-bench'), {childList: true, subtree: true}); }"""
    )
    alone.forget()
    alone.control("heel.plain_rounds").get_by_label("plain rounds first: more").click()
    alone.wait()
    seen = alone.page.evaluate("window.seen")
    assert all(is_drawn for _, is_drawn in seen)  # never blank
    marks = [word for told, _ in seen for word in ("estimated", "measured") if word in told]
    assert marks.index("estimated") < len(marks) - 1 - marks[::-1].index("measured")
    assert alone.told() != before
    titles = alone.page.locator("figure img").evaluate_all("all => all.map(one => one.alt)")
    assert titles[0].startswith("The sock on the foot")
    assert all(len(title) > 5 for title in titles)
    broken = "all => all.filter(one => !one.naturalWidth).length"
    assert alone.page.locator("figure img").evaluate_all(broken) == 0
    assert visit.said == []


def test_the_page_asks_nobody_else(alone: Bar, visit: Visit, site: Site) -> None:
    own = f"http://127.0.0.1:{site.port}/{site.token}/"
    assert [url for url in visit.asked if not url.startswith((own, "blob:", "data:"))] == []
    assert len(visit.asked) > 4


def test_a_wrong_value_is_answered_beside_it_and_the_last_good_one_stays(alone: Bar) -> None:
    told = alone.told()
    alone.forget()
    field = alone.control("fit.stitches")
    field.get_by_label("stitches round the foot", exact=True).fill("21")
    alone.wait("refused")
    expect(field.get_by_role("alert")).to_contain_text("a multiple of 4")
    expect(field.get_by_label("stitches round the foot", exact=True)).to_have_attribute(
        "aria-invalid", "true"
    )
    assert alone.told() == told
    alone.forget()
    field.get_by_role("button", name="Back to what could be made").click()
    alone.wait("reckoned")
    expect(field.locator(".wrong")).to_be_hidden()
    expect(field.get_by_label("stitches round the foot", exact=True)).to_have_value("20")


def test_two_stand_side_by_side_and_one_is_let_go(alone: Bar) -> None:
    page = alone.page
    page.get_by_role("button", name="Hold beside").click()
    alone.forget()
    alone.control("heel.kind").locator("select").select_option("flap")
    alone.wait()
    first, second = (
        page.get_by_role("region", name=name) for name in ("First sock", "Second sock")
    )
    assert "flap" not in first.locator("pre").inner_text()
    expect(second.locator("pre")).to_contain_text("along flap")
    left, right = (one.bounding_box() for one in (first, second))
    assert left is not None
    assert right is not None
    assert left["y"] == right["y"]
    assert left["x"] + left["width"] <= right["x"]
    assert page.locator(".told .one").count() == 2
    first.get_by_role("button", name="Move this one").click()
    expect(alone.control("heel.kind").locator("select")).to_have_value("forethought")
    alone.forget()
    first.get_by_role("button", name="Let it go").click()
    alone.wait("reckoned")
    expect(page.locator(".side")).to_have_count(1)
    expect(alone.control("heel.kind").locator("select")).to_have_value("flap")
    expect(page.locator("pre")).to_contain_text(
        "along flap"
    )  # waits, as one to move may come first


def test_what_was_tried_is_gone_back_to(alone: Bar) -> None:
    page = alone.page
    alone.forget()
    alone.control("fit.ease").get_by_role("slider").fill("-5")
    alone.wait()
    assert "ease -5 %" in page.locator("ol.tried li").first.inner_text()
    alone.forget()
    page.locator("ol.tried button", has_text="1. as begun").click()
    alone.wait()
    expect(alone.control("fit.ease").get_by_role("slider")).to_have_value("-10")
    alone.forget()
    page.get_by_role("button", name="Back", exact=True).click()
    alone.wait("reckoned")
    expect(alone.control("fit.ease").get_by_role("slider")).to_have_value("-5")


def test_it_is_taken_as_a_design_file(alone: Bar, site: Site) -> None:
    page = alone.page
    alone.forget()
    alone.control("heel.kind").locator("select").select_option("flap")
    alone.wait("reckoned")
    site.bench.as_text = Bench({"": alone_sock()}).as_text
    page.get_by_label("Write the design file").fill("mine.toml")
    page.get_by_role("button", name="Take it").click()
    expect(page.get_by_text("Written: mine.toml")).to_be_visible()
    text = (site.bench.folder / "mine.toml").read_text("utf-8")
    assert dict(read_design(text).design.socks)[""].heel.name == "flap"
    page.get_by_role("button", name="Take it").click()
    expect(page.get_by_text("is there already")).to_be_visible()


def alone_sock() -> Sock:
    return Sock(foot=Foot.of(length="16 cm"), gauge=Gauge.of(14, 20))


def test_another_size_begins_with_its_own_sock(alone: Bar) -> None:
    alone.forget()
    alone.page.get_by_label("Size").select_option("L")
    alone.wait()
    expect(alone.control("foot.ball_girth").locator("input[type=number]")).to_have_value("17.5")


def test_all_of_it_is_done_by_keyboard(alone: Bar) -> None:
    page = alone.page
    page.get_by_role("slider", name="ease, %").focus()
    alone.forget()
    page.keyboard.press("ArrowRight")
    alone.wait("reckoned")
    expect(alone.control("fit.ease").locator("input[type=number]")).to_have_value("-9.5")
    focused = "document.activeElement.getAttribute('aria-label')"
    assert page.evaluate(focused) == "ease, %"  # it is still there, to go on
    alone.control("heel.kind").locator("select").focus()
    alone.forget()
    page.keyboard.press("s")  # to the first heel that begins so
    alone.wait("reckoned")
    assert page.evaluate("document.activeElement.value") == "short-row"
    reached = set()
    for _ in range(60):
        page.keyboard.press("Tab")
        reached.add(page.evaluate("document.activeElement.tagName"))
    assert {"INPUT", "BUTTON", "SELECT", "SUMMARY"} <= reached


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_fits_and_can_be_read_and_touched(alone: Bar, scheme: Any) -> None:
    page = alone.page
    page.emulate_media(color_scheme=scheme)
    page.locator("details.group").evaluate_all("all => all.forEach(one => { one.open = true })")
    page.get_by_role("button", name="Hold beside").click()
    for width in (390, 800, 1440):
        page.set_viewport_size({"width": width, "height": 844})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert page.evaluate(_SMALL) == []
        assert page.evaluate(_UNNAMED) == []
        assert page.evaluate(_SPILT) == []
        assert faint(page) == []


_SMALL = """[...document.querySelectorAll(
    '.lw-bench :is(button, select, summary, input:not([type=checkbox]), label.tick)')]
    .filter(one => one.offsetParent && one.getBoundingClientRect().height < 43.9)
    .map(one => one.outerHTML.slice(0, 90))"""
_UNNAMED = """[...document.querySelectorAll('.lw-bench :is(input, select, button)')]
    .filter(one => !(one.labels?.length || one.getAttribute('aria-label')
                     || one.textContent.trim())).map(one => one.outerHTML.slice(0, 90))"""
_SPILT = """[...document.querySelectorAll('.lw-bench .side table, .lw-bench .side figure')]
    .filter(one => one.getBoundingClientRect().right
                   > one.closest('.side').getBoundingClientRect().right + 0.5)
    .map(one => one.outerHTML.slice(0, 90))"""


def faint(page: Page) -> list[str]:
    """What is written in a colour of less than 4.5 to 1 against what it stands on (WCAG 2.1)."""
    found: list[str] = page.evaluate(
        """() => {
        const canvas = document.createElement('canvas').getContext('2d');
        const rgb = (colour) => { canvas.clearRect(0, 0, 1, 1); canvas.fillStyle = colour;
            canvas.fillRect(0, 0, 1, 1); return [...canvas.getImageData(0, 0, 1, 1).data]; };
        const light = ([r, g, b]) => [r, g, b].map((v) => v / 255)
            .map((v) => v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
            .reduce((sum, v, k) => sum + v * [0.2126, 0.7152, 0.0722][k], 0);
        const ground = (one) => { for (let at = one; at; at = at.parentElement) {
            const found = rgb(getComputedStyle(at).backgroundColor);
            if (found[3] > 250) return found; }
            return [255, 255, 255]; };
        return [...document.querySelectorAll('.lw-bench *')].filter((one) => one.offsetParent
            && !one.disabled && [...one.childNodes].some((n) => n.nodeType === 3 && n.data.trim()))
            .filter((one) => { const a = light(rgb(getComputedStyle(one).color));
                const b = light(ground(one));
                return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05) < 4.5; })
            .map((one) => one.outerHTML.slice(0, 90)); }"""
    )
    return found


def test_another_page_cannot_ask_it(visit: Visit, site: Site) -> None:
    """A page of another origin in the same browser, which even knows the token."""
    page = visit.page
    page.route("http://elsewhere.invalid/", lambda route: route.fulfill(
        body="<!doctype html><title>x</title>", content_type="text/html"))  # fmt: skip
    page.goto("http://elsewhere.invalid/")
    own = f"http://127.0.0.1:{site.port}/{site.token}"
    tried = page.evaluate(
        """async (own) => {
            const ways = [
                () => fetch(`${own}/ask`, {method: 'POST', body: '{"ask": "begin"}'}),
                () => fetch(`${own}/ask`, {method: 'POST', body: '{"ask": "begin"}',
                    headers: {'content-type': 'application/json'}}),
                () => fetch(`${own}/ask`, {method: 'POST', mode: 'no-cors', body: '{}'})
                    .then((one) => one.type === 'opaque' ? Promise.reject('opaque') : one),
                () => import(`${own}/page.js`)];
            return Promise.all(ways.map((way) => way().then(() => 'let in', () => 'kept out')));
        }""",
        own,
    )
    assert tried == ["kept out"] * 4
    framed = page.evaluate(
        """(own) => new Promise((done) => { const frame = document.createElement('iframe');
            frame.src = own + '/'; frame.onload = () => done(frame.contentDocument === null);
            document.body.append(frame); setTimeout(() => done('never'), 3000); })""",
        own,
    )
    assert framed in (True, "never")
    assert not [one for one in page.frames if one.locator(".lw-bench").count()]


def test_a_server_that_has_ended_is_told(visit: Visit, tmp_path: Path) -> None:
    site = Site(tmp_path)
    visit.page.goto(f"http://127.0.0.1:{site.port}/{site.token}/")
    bar = Bar(visit.page)
    bar.wait("reckoned")
    site.bench.stop()
    site.server.should_exit = True
    site.thread.join(20)
    site.listening.close()
    bar.control("fit.ease").get_by_role("slider").fill("-3")
    expect(visit.page.get_by_text("The server has ended")).to_be_visible(timeout=20_000)
    assert threading.active_count() >= 1


def test_lengths_in_inches(alone: Bar) -> None:
    """By hand: 16 cm are 6.3 in, and 7 in are 17.8 cm; the model is asked in cm all the while."""
    bar, page = alone, alone.page
    page.locator("summary", has_text="Foot").click()
    page.get_by_label("Lengths in").select_option("in")
    length = bar.control("foot.length").locator("input[type=number]")
    expect(length).to_have_value("6.3")
    expect(bar.control("foot.length").locator("label").first).to_contain_text(", in")
    expect(page.locator(".lw-bench .told")).to_contain_text(" in, ")
    expect(page.get_by_role("columnheader", name="foot, in", exact=True)).to_be_visible()
    bar.forget()
    length.fill("7")
    bar.wait("reckoned")
    expect(page.locator("caption", has_text="Finished measures")).to_be_visible()
    page.get_by_label("Lengths in").select_option("cm")
    expect(length).to_have_value("17.78")
    expect(page.locator(".lw-bench .told")).to_contain_text(" mm, ")
