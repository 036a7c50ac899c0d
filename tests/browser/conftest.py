"""Chromium without a window, where there is one; else these tests are skipped."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

HERE = Path(__file__).parent
# WebGL drawn by software, for a machine without a graphics card; the page itself is put together
# without it, which takes a fraction of the time.
_ARGUMENTS = ["--enable-unsafe-swiftshader"]


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
        page.on("console", lambda message: self._hear(message.text))
        page.on("pageerror", lambda error: self.said.append(str(error)))
        page.on("request", lambda request: self.asked.append(request.url))

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


@pytest.fixture
def visit(browser: Browser) -> Iterator[Visit]:
    """A page of its own, with nothing kept from before."""
    # Without smooth scrolling: a button that still moves is missed on a busy machine.
    context = browser.new_context(viewport={"width": 1200, "height": 900}, reduced_motion="reduce")
    yield Visit(context.new_page())
    context.close()
