"""Passages of patterns, and how many of them are read: run this file to see them one by one.

    PYTHONPATH=tests python tests/pattern/passages.py [part of a name]

`passages.txt` holds small parts of patterns of our own, worded by people who had not seen the
program. A head `#### NAME` is followed by the passage; `=> COUNTS` are the stitches in work after
it, in each size, as its writer counted them; `!! LINE | WORDS | WHY` is a line as a slip would
leave it, which a careful reader notices. `passages-not-yet.txt` names what is not right yet; it
may only shrink, and is written here.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import attrs

from loopwright.errors import PatternSyntaxError
from loopwright.pattern import review
from loopwright.pattern import steps as st
from loopwright.pattern._contents import steps_in
from loopwright.pattern._editing.findings import NOTE, Finding
from loopwright.pattern._reading.reading import Reading
from pattern.read_back import looked_at

PASSAGES: Final = Path(__file__).with_name("passages.txt")
NOT_YET: Final = Path(__file__).with_name("passages-not-yet.txt")
LOST, COUNT, FOUND, SLIP = "lost", "count", "found", "slip"
_CLOSING: Final = (st.DrawUp, st.Graft, st.ThreeNeedleBindOff)
_MENDING: Final = (st.WeaveIn, st.CutYarn)
_UNFINISHED: Final = ("still live", "never returned", "never taken out", "nowhere taken up")


@attrs.frozen
class Passage:
    """A part of a pattern, what it leaves on the needles, and a slip in it."""

    name: str
    lines: tuple[str, ...]
    counts: tuple[int, ...]
    at: int
    slip: str
    why: str

    @property
    def text(self) -> str:
        return "\n".join(self.lines) + "\n"

    @property
    def with_slip(self) -> str:
        return "\n".join((*self.lines[: self.at - 1], self.slip, *self.lines[self.at :])) + "\n"


def passages() -> list[Passage]:
    """Return all passages."""
    return [_passage(block) for block in PASSAGES.read_text("utf-8").split("#### ")[1:]]


def _passage(block: str) -> Passage:
    name, *lines = block.rstrip("\n").split("\n")
    counts = next(line for line in lines if line.startswith("=> "))
    at, slip, why = next(line for line in lines if line.startswith("!! "))[3:].split(" | ")
    text = lines[: lines.index(counts)]
    return Passage(name, tuple(text), (*map(int, counts[3:].split()),), int(at), slip, why)


def wrong_with(one: Passage) -> set[str]:
    """Return what is not right with a passage: some of the words of this module."""
    try:
        right = looked_at(one.text)
    except PatternSyntaxError:  # not a word of it is understood
        return {LOST, COUNT, SLIP}
    known = {(said.line, said.kind, said.message) for said in right.review.findings}
    found = {
        LOST: bool(right.reading.errors),
        COUNT: _left(one, right.reading) != one.counts,
        FOUND: any(_finished(right.review.findings)),
        SLIP: all(
            (said.line, said.kind, said.message) in known for said in _with_slip(one.with_slip)
        ),
    }
    return {word for word, is_so in found.items() if is_so}


def _left(one: Passage, reading: Reading) -> tuple[int, ...]:
    """Return the stitches in work at the end; where all are closed at last, those before it too.

    A line that closes what it has worked tells the stitches ahead of that.
    """
    if not any(one.counts) and _all_closed(reading):
        return one.counts
    after = [line.after for line in reading.lines if line.after]
    if len(after) > 1 and any(one.counts) and not any(after[-1]):
        del after[-1]
    if not after:
        return ()
    return tuple(after[-1][min(size, len(after[-1]) - 1)] for size in range(len(one.counts)))


def _all_closed(reading: Reading) -> bool:
    """Tell whether the last thing that a reading does is to close all stitches."""
    steps = [step for step in steps_in(reading.pattern.steps) if not isinstance(step, _MENDING)]
    last = steps[-1] if steps else None
    return isinstance(last, _CLOSING) or (isinstance(last, st.BindOff) and last.count is None)


def _finished(findings: tuple[Finding, ...]) -> Iterator[Finding]:
    """Yield what is found but for what a part of a pattern leaves to the others."""
    for said in findings:
        if said.severity != NOTE and not any(word in said.message for word in _UNFINISHED):
            yield said


def _with_slip(text: str) -> list[Finding]:
    try:
        return [*_finished(review(text).findings)]
    except PatternSyntaxError:
        return []


def not_yet() -> dict[str, set[str]]:
    """Return what is known to be wrong with some passages, by their names."""
    lines = NOT_YET.read_text("utf-8").splitlines() if NOT_YET.is_file() else []
    told = (line.split(": ") for line in lines if not line.startswith("#"))
    return {name: set(words.split(", ")) for name, words in told}


if __name__ == "__main__":
    before, now, all_of = not_yet(), dict[str, set[str]](), Counter[str]()
    for one in passages():
        found = wrong_with(one)
        all_of.update(found, passages=1, right=found <= {SLIP})
        if found:
            now[one.name] = found
        if len(sys.argv) > 1 and any(part in one.name for part in sys.argv[1:]):
            print(f"-- {one.name}: {', '.join(sorted(found)) or 'right'}\n{one.text}", end="")
            print(f"   {one.counts}; slip {one.at}: {one.slip} ({one.why})")
            for said in looked_at(one.text).review.findings:
                print(f"   {said}")
    print("; ".join(f"{word} {many}" for word, many in sorted(all_of.items())))
    worse = {name: new for name, words in now.items() if (new := words - before.get(name, set()))}
    if before and worse:
        print(f"not written, these are worse: {worse}")
    else:
        told = (f"{name}: {', '.join(sorted(words))}" for name, words in now.items())
        NOT_YET.write_text("\n".join(["# passages, and what is not right yet", *told, ""]), "utf-8")
