"""Chromium without a window, where there is one; else these tests are skipped."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Error, Page, ViewportSize, sync_playwright

HERE = Path(__file__).parent
# WebGL drawn by software, for a machine without a graphics card; the page itself is put together
# without it, which takes a fraction of the time.
_ARGUMENTS = ["--enable-unsafe-swiftshader"]
_SIZE: ViewportSize = {"width": 1200, "height": 900}


@pytest.fixture(scope="session")
def chromium() -> str:
    """Where Chromium is."""
    found = os.environ.get("CHROMIUM") or shutil.which("chromium") or shutil.which("chrome")
    if found is None:
        if os.environ.get("BROWSER_REQUIRED"):
            pytest.fail("there is no chromium, and BROWSER_REQUIRED is set")
        pytest.skip("there is no chromium here")
    return found


@pytest.hookimpl(trylast=True)  # after they were shuffled
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the tests of this folder first: side by side they share one browser, on one process."""
    items.sort(key=lambda item: HERE not in item.path.parents)


@pytest.fixture(scope="package")  # its event loop runs as long: no other test may meet it
def browser(chromium: str) -> Iterator[Browser]:
    """One browser for all tests; each opens its own page."""
    with sync_playwright() as started:
        arguments = [*_ARGUMENTS, *(["--no-sandbox"] if os.geteuid() == 0 else [])]
        running = started.chromium.launch(executable_path=chromium, args=arguments)
        yield running
        running.close()


class Visit:
    """A page that was opened, and what it said and asked for."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.said: list[str] = []
        self.asked: list[str] = []
        self._listening = {
            "console": lambda message: self._hear(message.text),
            "pageerror": lambda error: self.said.append(str(error)),
            "request": lambda request: self.asked.append(request.url),
        }
        for event, listener in self._listening.items():
            page.on(event, listener)  # type: ignore[call-overload]

    def leave(self) -> None:
        """Leave the page as it was before; nothing that was kept by it stays."""
        for event, listener in self._listening.items():
            self.page.remove_listener(event, listener)
        self.page.unroute_all()
        with suppress(Error):  # where nothing can be kept
            self.page.evaluate("localStorage.clear(), sessionStorage.clear()")
        self.page.goto("about:blank")
        self.page.context.clear_cookies()
        self.page.emulate_media(media="null", color_scheme="null", reduced_motion="reduce")
        self.page.set_viewport_size(_SIZE)

    def _hear(self, text: str) -> None:
        # The software that draws finds it slow when a picture is asked for; no page can help it.
        if "GL Driver Message (OpenGL, Performance" not in text:
            self.said.append(text)

    def open(self, path: Path) -> Visit:
        """Open a file."""
        self.page.goto(path.as_uri())
        return self

    def choose(self, name: str, value: str) -> None:
        """Press one of the choices at the top, as a mouse would."""
        self.page.locator(f"#bar label:has(input[name={name}][value='{value}'])").click()


def _opened(browser: Browser) -> Page:
    # Without smooth scrolling: a button that still moves is missed on a busy machine.
    return browser.new_context(viewport=_SIZE, reduced_motion="reduce").new_page()


@pytest.fixture(scope="package")
def _page(browser: Browser) -> Iterator[Page]:
    page = _opened(browser)
    yield page
    page.context.close()


@pytest.fixture
def visit(_page: Page) -> Iterator[Visit]:
    """A page with nothing kept from before; of all tests the same, as a new one takes its time."""
    visit = Visit(_page)
    yield visit
    visit.leave()


@pytest.fixture
def own_visit(browser: Browser) -> Iterator[Visit]:
    """A page of its own, for what can't be taken back: scripts and functions put into it."""
    page = _opened(browser)
    yield Visit(page)
    page.context.close()
