"""Ordinary patterns, and how much of them is read: run this file to see it text by text.

The texts are our own, recounted row by row (see the README beside them): each comes with
checkpoints, and with three changed lines that make it wrong.
"""

from __future__ import annotations

import sys
import tomllib
from pathlib import Path
from typing import Any

import attrs

from loopwright.errors import PatternSyntaxError
from loopwright.pattern import review
from loopwright.pattern._editing.findings import NOTE, Finding
from loopwright.pattern._reading.reader import read_closely
from loopwright.pattern._reading.reading import Reading

FOLDER = Path(__file__).parents[2] / "shared" / "ordinary"


@attrs.frozen
class Text:
    """A text with what is known of it."""

    name: str
    text: str
    facts: dict[str, Any]

    def changed(self, line: int, replacement: str) -> str:
        lines = self.text.split("\n")
        lines[line - 1] = replacement
        return "\n".join(lines)


@attrs.frozen
class Measured:
    """How a text was read."""

    name: str
    lines: int
    lost: tuple[tuple[int, str], ...]
    checkpoints: int
    unmet: tuple[tuple[int, str, int, int], ...]  # line, size, stated, found
    false: tuple[Finding, ...]
    faults: int
    noticed: int
    placed: int
    missed: tuple[str, ...]

    @property
    def whole(self) -> bool:
        return not (self.lost or self.unmet or self.false)


def texts(folder: Path = FOLDER) -> list[Text]:
    found = []
    for path in sorted(folder.glob("*.txt")):
        facts = tomllib.loads(path.with_suffix(".toml").read_text(encoding="utf-8"))
        found.append(Text(path.stem, path.read_text(encoding="utf-8"), facts))
    return found


def measured(one: Text) -> Measured:
    reading = read_closely(one.text, go_on=True, explain=True)
    lines = [number for number, line in enumerate(one.text.split("\n"), 1) if line.strip()]
    lost = tuple((error.line, error.source or error.found) for error in reading.errors)
    points = one.facts["checkpoints"]
    unmet = tuple(
        (point["line"], point["size"], point["sts"], there)
        for point in points
        if (there := stitches_after(reading, one, point)) != point["sts"]
    )
    found = review(one.text).findings
    right = {(finding.line, finding.kind, finding.message) for finding in found}
    noticed = placed = 0
    missed = []
    for change in one.facts["wrong"]:
        line = change["line"]
        news = noticed_in(one.changed(line, change["replacement"]), right)
        here = any(finding.line == line for finding in news)
        noticed, placed = noticed + bool(news), placed + here
        if not here:
            at = ", ".join(f"{finding.line}: {finding.message}" for finding in news[:2])
            missed.append(f"{line}: {change['what']}: {change['replacement']} [{at}]")
    return Measured(
        one.name, len(lines), lost, len(points), unmet,
        tuple(finding for finding in found if finding.severity != NOTE),
        len(one.facts["wrong"]), noticed, placed, tuple(missed),
    )  # fmt: skip


def noticed_in(text: str, right: set[tuple[int, str, str]]) -> list[Finding]:
    """Return what a change brought, notes and what could not be understood left out."""
    try:
        found = review(text).findings
    except PatternSyntaxError:
        return []
    return [
        finding
        for finding in found
        if finding.severity != NOTE and (finding.line, finding.kind, finding.message) not in right
    ]


def stitches_after(reading: Reading, one: Text, point: dict[str, Any]) -> int:
    """Return the stitches in work after a line, in a size."""
    size = one.facts["sizes"].index(point["size"])
    before = [read for read in reading.lines if read.line <= point["line"] and read.after]
    if point["sts"] and len(before) > 1 and not any(before[-1].after):
        del before[-1]  # a line that only binds off: what it binds off is meant
    return before[-1].after[min(size, len(before[-1].after) - 1)] if before else 0


def share(part: int, whole: int) -> str:
    return f"{part} of {whole} ({part / max(1, whole):.1%})"


def summed(all_of: list[Measured]) -> str:
    lines, lost = sum(m.lines for m in all_of), sum(len({at for at, _ in m.lost}) for m in all_of)
    points, faults = sum(m.checkpoints for m in all_of), sum(m.faults for m in all_of)
    return "; ".join(
        (
            f"lines {share(lines - lost, lines)}",
            f"whole {share(sum(m.whole for m in all_of), len(all_of))}",
            f"checkpoints {share(points - sum(len(m.unmet) for m in all_of), points)}",
            f"faults {share(sum(m.noticed for m in all_of), faults)}",
            f"at their line {share(sum(m.placed for m in all_of), faults)}",
            f"false findings {sum(len(m.false) for m in all_of)}",
        )
    )


if __name__ == "__main__":
    where = Path(sys.argv[1]) if len(sys.argv) > 1 else FOLDER
    results = [
        measured(one) for one in texts(where) if len(sys.argv) < 3 or sys.argv[2] in one.name
    ]
    for m in results:
        print(f"{'ok ' if m.whole else '-- '}{m.name}")
        for line, what in m.lost:
            print(f"   lost {line}: {what}")
        for point in m.unmet:
            print(f"   unmet {point}")
        for finding in m.false:
            print(f"   false {finding}")
        for what in m.missed:
            print(f"   missed {what}")
    print(summed(results))
