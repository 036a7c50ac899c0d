"""The notebook's form: what it leaves in a saved notebook, and that it asks the same model."""

from __future__ import annotations

import queue
import re
import sys
from pathlib import Path
from typing import Any

import pytest

import loopwright as lw
from loopwright.extras import MissingExtraError
from loopwright.sock import Sock

pytest.importorskip("anywidget")

SOCK = Sock(
    foot=lw.Foot.of(length="16 cm", ball_girth="15.5 cm", heel_girth="23 cm"),
    gauge=lw.Gauge.of(14, 20), title="Pier <1>",
)  # fmt: skip

CELL = """
import loopwright as lw
foot = lw.Foot.of(length="16 cm", ball_girth="15.5 cm", heel_girth="23 cm")
tried = lw.explore(lw.Sock(foot=foot, gauge=lw.Gauge.of(14, 20), heel="flap"))
tried
"""


def asked(explorer: Any, message: dict[str, Any], last: str) -> list[dict[str, Any]]:
    """Send what the page would send, and wait for the last answer."""
    answers: queue.Queue[dict[str, Any]] = queue.Queue()
    live = explorer.widget()
    live.send = answers.put
    explorer._hear(live, message, [])
    found = [answers.get(timeout=60)]
    while found[-1]["stage"] not in (last, "refused"):
        found.append(answers.get(timeout=60))
    return found


def test_choices_in_the_notebook_are_socks_in_python(tmp_path: Path) -> None:
    explorer = lw.explore(SOCK, folder=tmp_path)
    (begun,) = asked(explorer, {"ask": "begin"}, "begun")
    assert begun["title"] == "Pier <1>"
    choices = begun["choices"] | {"heel.plain_rounds": 3, "fit.ease": -4}
    found = asked(explorer, {"ask": "look", "run": 3, "choices": choices}, "worn")
    assert [one["stage"] for one in found] == ["reckoned", "drawn", "measured", "rest", "worn"]
    assert explorer.sock.ease == -0.04
    assert explorer.tried[-1].sock == explorer.sock
    assert "plain rounds first 3; ease -4 %" in explorer.tried[-1].words
    (answer,) = asked(explorer, {"ask": "look", "choices": {"fit.stitches": 3}}, "refused")
    assert "multiple of 4" in answer["words"]
    assert explorer.sock.ease == -0.04  # the last that could be made
    (taken,) = asked(explorer, {"ask": "take", "choices": choices, "name": "p.toml"}, "taken")
    assert taken["name"] == "p.toml"
    assert "ease = -0.04" in (tmp_path / "p.toml").read_text("utf-8")


def test_what_is_left_has_words_for_each_picture_and_no_script() -> None:
    explorer = lw.explore(SOCK)
    explorer.bench.warm()
    html = explorer._repr_html_()
    assert html.count("<img ") == 2
    assert len(re.findall(r'alt="[^"]{30,}"', html)) == 2
    assert "<script" not in html
    assert "http" not in re.sub(r'src="data:[^"]*"', "", html)
    assert "Caution" in html  # this heel is tight
    assert "stretched 1." in html
    other = lw.explore(SOCK)
    assert other._mark != explorer._mark


def test_a_sock_that_cannot_be_made_says_why() -> None:
    foot = lw.Foot.of(length="16 cm", ball_girth="15.5 cm")
    explorer = lw.explore(lw.Sock(foot=foot, gauge=lw.Gauge.of(14, 20), stitches=21))
    explorer.bench.warm()
    assert "multiple of 4" in explorer._repr_html_()
    assert explorer.sock.stitches == 21


def test_a_saved_notebook_shows_it_without_a_kernel() -> None:
    exporting = pytest.importorskip("nbconvert")
    nbformat = pytest.importorskip("nbformat")
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(CELL)])
    exporting.preprocessors.ExecutePreprocessor(timeout=120).preprocess(notebook, {})
    left, live = notebook.cells[0].outputs
    assert "application/vnd.jupyter.widget-view+json" in live["data"]
    assert "<img " in left["data"]["text/html"]
    html, _ = exporting.HTMLExporter().from_notebook_node(notebook)
    assert "pick up and knit" in html


def test_without_the_extra_it_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "anywidget", None)
    with pytest.raises(MissingExtraError) as caught:
        lw.explore(SOCK)
    assert (caught.value.package, caught.value.extra) == ("anywidget", "explore")
    assert isinstance(caught.value, ImportError)
