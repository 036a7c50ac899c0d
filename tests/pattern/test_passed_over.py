"""What the checks of a text pass over is what they would find nothing in, in whatever order.

Lines of right texts and of wrong ones are mixed anew, with other numbers; a walk over all sentences
and lines is the standard.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loopwright.pattern import read, review
from loopwright.pattern._editing.findings import Finding
from loopwright.pattern._editing.shown_alone import shown_alone
from loopwright.pattern._editing.spoken import plain_lines, spoken
from loopwright.pattern._rewording.triggers import WordForm, WordIndex
from pattern.ordinary import FOLDER, Text, texts
from together import together

KNOWN = read("Cast on 8 sts.\nRow 1: Knit.\nBind off.")
EVERY = [*texts(FOLDER), *texts(FOLDER.parent / "ordinary-more")]


def wrong(text: Text) -> list[str]:
    return [text.changed(one["line"], one["replacement"]) for one in text.facts["wrong"]]


LINES = [line for text in EVERY for said in (text.text, *wrong(text)) for line in said.split("\n")]


def found(text: str, lost: frozenset[int], held: bytes | None = None) -> list[Finding]:
    """Return what a text shows alone; `held` stands for what is told of all its sentences."""

    def may_hold(index: WordIndex, *forms: Sequence[WordForm]) -> bytes:
        return (held or b"") * len(index)

    spoken.cache_clear()
    plain_lines.cache_clear()
    with pytest.MonkeyPatch.context() as patch:
        if held is not None:
            patch.setattr(WordIndex, "may_hold", may_hold)
        return shown_alone(text, KNOWN, [], lost)


@st.composite
def mixed(draw: st.DrawFn) -> str:
    """Return lines from here and there, a few that follow each other at a time."""
    lines = list[str]()
    for _ in range(draw(st.integers(1, 12))):
        first = draw(st.integers(0, len(LINES) - 1))
        lines += LINES[first : first + draw(st.integers(1, 8))]
    more = draw(st.sampled_from([0, 0, 1, 2]))
    return "\n".join(
        re.sub(r"\d+", lambda number: str(int(number[0]) + more), line) for line in lines
    )


@settings(max_examples=40, deadline=None)
@given(mixed(), st.frozensets(st.integers(1, 60), max_size=6))
def test_nothing_is_passed_over_that_could_be_found(text: str, lost: frozenset[int]) -> None:
    assert found(text, lost) == found(text, lost, b"\1")


@together("text", [text for one in EVERY[::4] for text in wrong(one)])
def test_nothing_is_passed_over_in_a_wrong_text(text: str) -> None:
    assert found(text, frozenset()) == found(text, frozenset(), b"\1")


def test_what_is_passed_over_is_not_found() -> None:
    every = [said for text in EVERY[:12] for said in wrong(text)]
    there = [(found(said, frozenset()), found(said, frozenset(), b"\0")) for said in every]
    assert sum(len(here) > len(none) for here, none in there) > 5


@together(
    "text",
    [
        "Cast on 40 sts.\nRow 1: *K0, p0; rep from * to end.\nRow 2: Knit.",
        "Row 0: Knit.\nOn rows not given, purl.\nEyelet row: *Yo, k2tog; rep from * to end.",
    ],
)
def test_what_is_0_ends_no_review(text: str) -> None:
    assert review(text).findings
