"""The relaxed fabric in a real browser: turned, coloured, asked for its loops."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from playwright.sync_api import Browser, FrameLocator, Locator, Page, expect

from browser.conftest import Visit
from loopwright.fabric import Fabric
from loopwright.picture.shape_drawing import view_of
from loopwright.picture.shape_scene import Scene
from loopwright.picture.shape_view import shape_frame, shape_page
from report.samples import bag

PLAIN = """
const real = HTMLCanvasElement.prototype.getContext;
HTMLCanvasElement.prototype.getContext = function (kind, ...more) {
  return kind === "webgl" ? null : real.call(this, kind, ...more);
};
"""


DECREASES = 10  # the course that draws the bag in: after eight plain ones and a purl ridge


def scene_() -> Scene:
    return bag(8)


def fabric() -> Fabric:
    held = scene_().fabric
    assert held is not None
    return held


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("shape") / "shape.html"
    path.write_text(shape_page(scene_(), title="A bag"), encoding="utf-8")
    return path


@pytest.fixture
def seen(visit: Visit, sheet: Path) -> Visit:
    visit.open(sheet)
    expect(visit.page.locator("#sock")).to_have_attribute("data-pose", re.compile(r"\d"))
    return visit


def painted(page: Page) -> None:
    """Wait until what was asked for is on the screen."""
    page.evaluate("new Promise(go => requestAnimationFrame(() => requestAnimationFrame(go)))")


def picture(page: Page, which: str = "sock") -> str:
    painted(page)
    url: str = page.evaluate(f"document.getElementById('{which}').toDataURL()")
    return url


def facts(held: Page | FrameLocator) -> dict[str, str]:
    """What is told of the chosen loop."""
    terms, texts = (held.locator(f"#sock-loop {tag}").all_inner_texts() for tag in ("dt", "dd"))
    return dict(zip(terms, texts, strict=True))


def chosen(page: Page) -> int:
    return int(page.locator("#sock").get_attribute("data-loop") or -1)


def pixels(page: Page) -> list[list[int]]:
    """The painted colours of the picture, as they come."""
    painted(page)
    found: list[list[int]] = page.evaluate(
        """() => { const from = document.getElementById("sock");
            const to = new OffscreenCanvas(from.width, from.height), pen = to.getContext("2d");
            pen.drawImage(from, 0, 0);
            const all = pen.getImageData(0, 0, to.width, to.height).data, found = [];
            for (let at = 0; at < all.length; at += 4 * 37)
              if (all[at + 3] === 255) found.push([...all.slice(at, at + 3)]);
            return found; }"""
    )
    return found


def test_it_turns_moves_and_comes_closer_by_keys_mouse_and_buttons(seen: Visit) -> None:
    page, canvas = seen.page, seen.page.locator("#sock")
    shown = [picture(page)]

    def changed() -> bool:
        shown.append(picture(page))
        return shown[-1] not in shown[:-1]

    canvas.focus()
    for key in ("ArrowLeft", "ArrowUp", "+", "Shift+ArrowRight"):
        page.keyboard.press(key)
        assert changed(), key
    box = canvas.bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 200, box["y"] + 100)
    page.mouse.down()
    page.mouse.move(box["x"] + 260, box["y"] + 130, steps=4)
    page.mouse.up()
    assert changed(), "drag"
    assert chosen(page) == -1, "a drag chooses nothing"
    page.mouse.wheel(0, -300)
    assert changed(), "wheel"
    page.get_by_role("button", name="Tip up").click()
    assert changed(), "button"
    page.get_by_role("button", name="Begin again").click()
    assert picture(page) == shown[0]
    assert seen.said == []


def test_two_fingers_bring_it_closer(seen: Visit) -> None:
    box = seen.page.locator("#sock").bounding_box()
    assert box is not None
    session = seen.page.context.new_cdp_session(seen.page)
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

    def touch(kind: str, *places: tuple[float, float]) -> None:
        points = [{"x": x + dx, "y": y + dy, "id": at} for at, (dx, dy) in enumerate(places)]
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    touch("touchStart", (-40, 0), (40, 0))
    for far in (50, 60, 80):
        touch("touchMove", (-far, 0), (far, 0))
    touch("touchEnd")
    painted(seen.page)
    zoom = float((seen.page.locator("#sock").get_attribute("data-pose") or "").split()[2])
    assert zoom == pytest.approx(2, rel=0.1)  # fingers twice as far apart


@pytest.fixture
def phone(browser: Browser, sheet: Path) -> Iterator[Page]:
    """The shape on a touch screen, with text above and below to scroll to."""
    context = browser.new_context(viewport={"width": 390, "height": 700}, has_touch=True)
    page = context.new_page()
    page.goto(sheet.as_uri())
    page.evaluate("document.body.style.paddingBlock = '60rem'")
    page.locator("#sock").evaluate("one => one.scrollIntoView({block: 'center'})")
    expect(page.locator("#sock")).to_have_attribute("data-pose", re.compile(r"\d"))
    painted(page)
    yield page
    context.close()


def drag(page: Page, dx: float, dy: float, *, at: str = "#sock") -> None:
    """Draw one finger over the screen, as the browser's own gestures see it."""
    box = page.locator(at).bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + min(box["height"], 300) / 2
    session = page.context.new_cdp_session(page)
    for step in range(11):
        spots = [{"x": x + dx * step / 10, "y": y + dy * step / 10, "id": 0}]
        kind = "touchMove" if step else "touchStart"
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": spots})
        page.wait_for_timeout(20)
    session.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    page.wait_for_timeout(100)
    painted(page)


def pose_of(page: Page) -> list[float]:
    return [float(n) for n in (page.locator("#sock").get_attribute("data-pose") or "").split()]


def test_one_finger_scrolls_the_page_and_turns_the_shape_once_it_is_tapped(phone: Page) -> None:
    scrolled = "document.documentElement.scrollTop"
    before, pose = phone.evaluate(scrolled), pose_of(phone)
    drag(phone, 0, -120)
    assert phone.evaluate(scrolled) > before + 60  # not tapped: the page goes on
    assert pose_of(phone)[1] == pose[1]
    phone.locator("#sock").evaluate("one => one.scrollIntoView({block: 'center'})")
    phone.locator("#sock").tap()
    before, pose = phone.evaluate(scrolled), pose_of(phone)
    drag(phone, 60, 60)
    assert phone.evaluate(scrolled) == before
    now = pose_of(phone)
    assert abs(now[0] - pose[0]) > 0.3  # sideways
    assert abs(now[1] - pose[1]) > 0.3  # and up and down
    drag(phone, 0, -120, at="#sock-help")  # beside it the page scrolls all the same
    assert phone.evaluate(scrolled) > before + 60


def test_keys_work_before_the_shape_is_unpacked(own_visit: Visit, tmp_path: Path) -> None:
    path = tmp_path / "far.html"
    above = "<body><p style='height:300vh'>Far above.</p>"
    path.write_text(shape_page(scene_(), title="A bag").replace("<body>", above), encoding="utf-8")
    never_near = "IntersectionObserver.prototype.observe = () => {}"
    own_visit.page.add_init_script(never_near)
    own_visit.open(path)
    assert own_visit.page.locator("#sock-by label").count() == 0
    own_visit.page.locator("#sock").evaluate("one => one.focus({preventScroll: true})")
    own_visit.page.keyboard.press("Enter")
    assert chosen(own_visit.page) >= 0
    assert own_visit.page.locator("#sock-by label").count() == 5


def test_a_click_chooses_the_loop_under_it(seen: Visit) -> None:
    """Where each loop lies is worked out here again, from the shape and the pose."""
    page = seen.page
    box = page.locator("#sock").bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    loop = chosen(page)
    assert loop >= 0
    painted(page)
    ring = page.evaluate(
        """() => { const c = document.getElementById("sock-marks"), k = c.width / c.clientWidth;
            const all = c.getContext("2d").getImageData(0, 0, c.width, c.height).data;
            let [x, y, n] = [0, 0, 0];
            for (let at = 0; at < all.length; at += 4) if (all[at + 3]) {
              x += (at / 4) % c.width; y += Math.floor(at / 4 / c.width); n++; }
            return [x / n / k, y / n / k]; }"""
    )
    assert ring == pytest.approx([box["width"] / 2, box["height"] / 2], abs=25)
    held = fabric()
    told = facts(page)
    stitch = held.stitch_of(loop)
    assert told["Loop"].startswith(f"{loop}: {stitch.key}, {stitch.name}")
    assert told["Course"].startswith(f"{held.course[loop]} of {held.course.max()} ")
    assert told["Drawn through"] == ", ".join(
        f"loop {parent} ({held.stitch_of(int(parent)).key})" for parent in held.parents(loop)
    )
    assert f"before it loop {held.previous[loop]} (" in told["Along the yarn"]
    assert f"after it loop {held.next[loop]} (" in told["Along the yarn"]
    assert picture(page, "sock-marks") != picture_after(page, "Escape")
    assert page.locator("#sock-loop").inner_text() == "No loop is chosen."


def picture_after(page: Page, key: str) -> str:
    page.locator("#sock").focus()
    page.keyboard.press(key)
    return picture(page, "sock-marks")


def test_every_loop_is_reached_from_the_keyboard(seen: Visit) -> None:
    page, held = seen.page, fabric()
    page.locator("#sock").focus()
    page.keyboard.press("Enter")
    start = chosen(page)
    assert start >= 0
    page.keyboard.press("n")
    assert chosen(page) == held.next[start]
    page.keyboard.press("p")
    assert chosen(page) == start
    page.keyboard.press("u")
    assert chosen(page) in held.children(start)
    page.keyboard.press("d")
    assert chosen(page) == start
    page.keyboard.press("d")
    assert chosen(page) == held.parents(start)[0]
    for _ in range(held.course[start]):  # down to the cast-on, where there is no further down
        page.keyboard.press("d")
    assert held.course[chosen(page)] == 0
    assert facts(page)["Drawn through"] == "none"
    page.get_by_role("button", name="Up the wale").click()
    assert held.course[chosen(page)] == 1


def test_a_decrease_tells_both_its_parents_and_its_heading(seen: Visit) -> None:
    page, held = seen.page, fabric()
    page.locator("#sock").focus()
    page.keyboard.press("Enter")
    while held.course[chosen(page)] < DECREASES:
        page.keyboard.press("u")
    for _ in range(18):
        if held.stitch_of(chosen(page)).key == "k2tog":
            break
        page.keyboard.press("p")  # they are the first six of their course
    loop, told = chosen(page), facts(page)
    assert held.stitch_of(loop).key == "k2tog"
    assert told["Loop"].endswith("seen from the right side: decrease")
    assert len(told["Drawn through"].split(", ")) == 2
    # The decrease round is the second under its heading: the purl ridge is the first.
    assert "number 2 under “Top”" in told["Course"]
    assert re.fullmatch(r"number \d+ of 18 in its course", told["Place"])  # 6 of 12 and 12


def test_what_is_chosen_from_the_keys_comes_round_to_the_viewer(seen: Visit) -> None:
    page = seen.page
    page.locator("#sock").focus()
    page.keyboard.press("Enter")
    painted(page)
    before = page.locator("#sock").get_attribute("data-pose")
    for _ in range(12):  # half round the tube
        page.keyboard.press("n")
    painted(page)
    across, up = map(float, (page.locator("#sock").get_attribute("data-pose") or "").split()[:2])
    assert page.locator("#sock").get_attribute("data-pose") != before
    surface = scene_().shape.surface
    seen_from = view_of(surface)
    at = scene_().shape.vertex_of(chosen(page))
    # The middle of its triangles' normals points at the viewer.
    mine = (surface.triangles == at).any(axis=1)
    corner = seen_from[surface.triangles[mine]]
    x, y, z = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]).sum(axis=0)
    assert up * y + (z * np.cos(across) - x * np.sin(across)) * np.cos(up) > 0


def test_each_way_of_colouring_has_its_picture_legend_and_unit(seen: Visit) -> None:
    page = seen.page
    legend = page.locator("#sock-legend")
    expected = {
        "stitch": "Stitch, from the right side",
        "course": "Course, counted from the cast-on",
        "curvature": "Curvature, degrees a loop",
        "strain": "Edge strain, % of rest length",
        "yarn": "Yarn",
    }
    labels = page.locator("#sock-by label").all_inner_texts()
    assert labels == list(expected)
    pictures, legends = set(), set()
    for by, words in expected.items():
        page.locator(f"#sock-by label:has(input[value={by}])").click()
        pictures.add(picture(page))
        legends.add(legend.inner_text())
        assert legend.locator("strong").inner_text() == words
        assert legend.locator(".ticks > span").count() == (0 if by in ("stitch", "yarn") else 5)
        if by == "course":  # from blue to straw
            warmth = [red - blue for red, _, blue in pixels(page)]
            assert min(warmth) < -20 < 20 < max(warmth)
    assert len(pictures) == len(legends) == len(expected)
    page.locator("#sock-by input:checked").focus()
    for _ in range(4):
        page.keyboard.press("ArrowLeft")  # back to the first, from the keyboard
    counts = dict(re.findall(r"([a-z -]+(?:, [a-z ]+)?) \((\d+)\)", legend.inner_text()))
    assert int(counts["decrease"]) == int((fabric().stitch == code("k2tog")).sum())


def code(key: str) -> int:
    return fabric().stitches.code(key)


def test_without_webgl_it_is_drawn_and_asked_all_the_same(own_visit: Visit, sheet: Path) -> None:
    own_visit.page.add_init_script(PLAIN)
    own_visit.open(sheet)
    own_visit.page.locator("#sock").focus()
    before = picture(own_visit.page)
    own_visit.page.keyboard.press("ArrowLeft")
    assert picture(own_visit.page) != before
    own_visit.page.keyboard.press("Enter")
    assert chosen(own_visit.page) >= 0
    plain = picture(own_visit.page)
    own_visit.page.locator("#sock-by label:has(input[value=curvature])").click()
    assert picture(own_visit.page) != plain
    assert own_visit.said == []


def test_a_notebook_shows_the_same_viewer_in_a_frame(visit: Visit, tmp_path: Path) -> None:
    path = tmp_path / "notebook.html"
    cells = shape_frame(scene_(), title="First") + shape_frame(bag(12), title="Second")
    path.write_text(f"<!doctype html><meta charset=utf-8><body>{cells}", encoding="utf-8")
    visit.open(path)
    for at in range(2):
        frame = visit.page.frame_locator("iframe").nth(at)
        canvas: Locator = frame.locator("#sock")
        visit.page.locator("iframe").nth(at).scroll_into_view_if_needed()
        expect(canvas).to_have_attribute("data-pose", re.compile(r"\d"))
        canvas.focus()
        visit.page.keyboard.press("Enter")
        expect(frame.locator("#sock-loop dt").first).to_have_text("Loop")
        assert "Course" in facts(frame)
    assert visit.said == []
    outside = [url for url in visit.asked if not url.startswith(("data:", "about:"))]
    assert outside == [path.as_uri()]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_fits_a_phone_in_either_look(visit: Visit, sheet: Path, scheme: str) -> None:
    visit.page.set_viewport_size({"width": 320, "height": 700})
    visit.page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    visit.open(sheet)
    visit.page.locator("#sock").focus()
    visit.page.keyboard.press("Enter")
    assert visit.page.evaluate("document.documentElement.scrollWidth") <= 320
