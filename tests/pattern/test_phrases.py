"""Phrases of each kind leave the stitches that a knitter would count (wordings: common practice).

A line of phrases.txt holds what is on the needles (`R64` in the round, `F30` flat, `0` nothing
yet), the phrase, and the stitches in work after it; two lines of a text are parted by ``\\n``. A
fourth column says how many rows or rounds are knitted by it.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from loopwright.fabric import Fabric
from loopwright.pattern import knit, review
from loopwright.pattern._editing.findings import NOTE
from loopwright.pattern._reading.reader import read_closely

BEFORE = {
    "R": "Cast on {} sts. Join in the round.\nRnd 1: Knit.\n",
    "F": "Cast on {} sts.\nRow 1: Knit.\nRow 2: Purl.\n",
    "0": "",
}
UNFINISHED = ("still live", "never returned", "never taken out")


def phrases() -> list[tuple[str, str, int, int | None]]:
    lines = Path(__file__).with_name("phrases.txt").read_text(encoding="utf-8").splitlines()
    split = [[*map(str.strip, line.split("|"))] for line in lines if not line.startswith("#")]
    return [
        (on, said, int(count), int(rows[0]) if rows else None) for on, said, count, *rows in split
    ]


@pytest.mark.parametrize(("on", "said", "count", "rows"), phrases())
def test_a_phrase_is_read_and_counted(on: str, said: str, count: int, rows: int | None) -> None:
    text = BEFORE[on[0]].format(on[1:]) + said.replace("\\n", "\n")
    reading = read_closely(text, go_on=True, explain=True)
    assert reading.errors == ()
    assert [line.after[0] for line in reading.lines if line.after][-1] == count
    wrong = [
        finding.message
        for finding in review(text).findings
        if finding.severity != NOTE and not any(word in finding.message for word in UNFINISHED)
    ]
    assert wrong == []
    if rows is not None:
        made = knit(reading.pattern)
        assert isinstance(made, Fabric)
        assert max(made.course.tolist()) == BEFORE[on[0]].count("\n") - (on != "0") + rows


def test_a_phrase_that_leaves_another_count_is_seen() -> None:
    text = BEFORE["R"].format(64) + "Dec 1 st at each end of next rnd. 60 sts."
    assert any("states 60 sts" in finding.message for finding in review(text).findings)
