"""The page of the demo design in three sizes: its bytes, and how soon Chromium shows it.

Run by hand: ``PYTHONPATH=tests python tests/benchmarks/bench_page.py [design.toml]``. *Loaded* is
the browser's own load event, *drawn* when the sock in space has been painted after scrolling to it.
Software drawing; the best of five.
"""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
import time
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

from loopwright.design import read_design
from loopwright.report._page import page
from loopwright.report.gather import report_of

DESIGN = Path(__file__).resolve().parents[2] / "shared" / "designs" / "harbour-watch.toml"
_LOADED = "performance.getEntriesByType('navigation')[0].loadEventEnd"
_ARGUMENTS = ["--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"]


def _visit(browser: Browser, sheet: Path) -> tuple[float, float]:
    """Return the seconds until the page is loaded, and from scrolling to a drawn shape."""
    view = browser.new_page()
    view.goto(sheet.as_uri())
    view.wait_for_function(f"{_LOADED} > 0")
    loaded = view.evaluate(_LOADED) / 1000
    start = time.perf_counter()
    view.locator("#sock").scroll_into_view_if_needed()
    view.locator("#sock[data-pose]").wait_for()
    drawn = time.perf_counter() - start
    view.close()
    return loaded, drawn


def main() -> None:
    """Make the page and print its bytes and times."""
    design = Path(sys.argv[1]) if len(sys.argv) > 1 else DESIGN
    found = os.environ.get("CHROMIUM") or shutil.which("chromium")
    if found is None:
        sys.exit("There is no chromium here; name it in CHROMIUM.")
    report = report_of(read_design(design.read_text("utf-8")))
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as started:
        sheet = Path(folder) / "pattern.html"
        sheet.write_text(page(report), encoding="utf-8")
        arguments = [*_ARGUMENTS, *(["--no-sandbox"] if os.geteuid() == 0 else [])]
        browser = started.chromium.launch(executable_path=found, args=arguments)
        times = [_visit(browser, sheet) for _ in range(5)]
        browser.close()
        size = sheet.stat().st_size / 1e6
    loaded, drawn = (min(each) for each in zip(*times, strict=True))
    print(f"{len(report.sizes)} sizes, {size:.2f} MB; loaded {loaded:.2f} s, drawn {drawn:.2f} s")


if __name__ == "__main__":
    main()
