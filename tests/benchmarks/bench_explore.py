"""How soon the page of a sock tried by hand answers, in a browser, against the library's own calls.

Run by hand: ``PYTHONPATH=tests python tests/benchmarks/bench_explore.py``. A sock of 9,800 loops;
each move is timed in the page, from the event to the frame that shows the answer, and the same sock
is then made by direct calls in the same process. What the page adds is the ratio of the two.
"""

from __future__ import annotations

import os
import shutil
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import attrs
from playwright.sync_api import Page, sync_playwright

from explore.test_server import Site
from loopwright.fitting import Sample, fit
from loopwright.gauge import Gauge
from loopwright.pattern import write
from loopwright.sock import Foot, Sock

FOOT = Foot.of(length="24.6 cm", ball_girth="22.6 cm", heel_girth="31.2 cm")
MOVES: tuple[tuple[str, Any], ...] = (
    ("heel.longer", 2), ("heel.longer", 4), ("fit.ease", -8), ("heel.turn.shape", "V"),
    ("heel.kind", "short-row"), ("fit.share", 55), ("gauge.stitches", 31), ("direction", "toe up"),
)  # fmt: skip
STAGES = ("reckoned", "drawn", "measured", "rest", "worn")


def by_hand(sock: Sock) -> dict[str, float]:
    """Milliseconds from nothing to what each stage tells, by direct calls, without pictures."""
    begun, found = time.perf_counter(), {}
    made = Sample(sock)

    def done(stage: str, call: Callable[[], object]) -> None:
        call()
        found[stage] = 1000 * (time.perf_counter() - begun)

    done("reckoned", lambda: write(sock.pattern()))
    done("drawn", lambda: made.report)
    done("measured", lambda: fit(made))
    done("worn", lambda: made.worn)
    return found


def moved(page: Page, key: str, value: Any) -> dict[str, float]:
    """Milliseconds from a move to each stage on the screen."""
    page.locator(".lw-bench").evaluate(
        "one => Object.keys(one.dataset).filter(key => key.endsWith('Ms'))"
        ".forEach(key => delete one.dataset[key])"
    )
    field = page.locator(f"[data-key='{key}'] :is(select, input[type=number])").first
    if isinstance(value, str):
        field.select_option(value)
    else:
        field.fill(str(value))
    page.wait_for_selector(".lw-bench[data-worn-ms]", state="attached", timeout=120_000)
    told: dict[str, str] = page.locator(".lw-bench").evaluate("one => ({...one.dataset})")
    return {stage: float(told[f"{stage}Ms"]) for stage in STAGES}


def main() -> None:
    sock = Sock(foot=FOOT, gauge=Gauge.of(32, 44), heel="flap")
    shown, called = [], []
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as started:
        site = Site(Path(folder))
        site.bench.socks = {"": sock}
        site.bench.warm()
        where = os.environ.get("CHROMIUM") or shutil.which("chromium")
        arguments = ["--no-sandbox"] if os.geteuid() == 0 else []
        browser = started.chromium.launch(executable_path=where, args=arguments)
        page = browser.new_page()
        page.goto(f"http://127.0.0.1:{site.port}/{site.token}/")
        page.wait_for_selector(".lw-bench[data-worn-ms]", state="attached", timeout=120_000)
        page.locator("details.group").evaluate_all("all => all.forEach(one => { one.open = true })")
        for key, value in MOVES:
            shown.append(moved(page, key, value))
            called.append(by_hand(attrs.evolve(site.bench.now)))  # with nothing worked out yet
            words = "  ".join(f"{stage} {shown[-1][stage]:5.0f}" for stage in STAGES)
            print(f"{f'{key} {value}':24} {words}  ms")
        browser.close()
        site.server.should_exit = True
    print(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")
    for stage in STAGES:
        page_ms = statistics.median(one[stage] for one in shown)
        if stage not in called[0]:
            print(f"{stage:10} page {page_ms:6.0f} ms")
            continue
        call_ms = statistics.median(one[stage] for one in called)
        print(
            f"{stage:10} page {page_ms:6.0f} ms  calls {call_ms:6.0f} ms  {page_ms / call_ms:5.2f}"
        )


if __name__ == "__main__":
    main()
