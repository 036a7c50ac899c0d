"""Right texts in which a line cannot be understood, and what a review says behind it.

Run this file with folders of texts: it puts, one at a time, each instruction of each text out of
reach of the reader, in several shapes, and lists what is found besides. Nothing should be: what
follows such a line is not known, until a count is stated again.
"""

from __future__ import annotations

import argparse
import re
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import attrs

from loopwright.errors import LoopwrightError
from loopwright.pattern import review
from loopwright.pattern._editing.findings import NOTE, Finding
from loopwright.pattern._reading.front import TEXT_SECTIONS
from pattern.injected import body_from
from pattern.ordinary import Text, texts

RIDDLE = "wuzzle the flims 2 by 2 as the tide allows"  # no word of the trade in it
_LABEL = re.compile(
    r"^\W*(?:(?:\d+(?:st|nd|rd|th)|next|set-?up|inc\w*|dec\w*|plain|foundation|last|first) )?"
    r"(?:rows?|rounds?|rnds?|r)\b(?: ?\d+)?[^:.]{0,40}[:.] ?",
    re.IGNORECASE,
)
_COUNT = re.compile(r"\W*\d[\d, ;:()\[\]/]* (?:sts?|stitches)(?: [a-z]+){0,3}[.)\]]*\s*$")
_KEPT = re.compile(
    r"^\W*(?:finishing|materials|yarn|notes?|abbreviations?|gauge|tension|needles?|notions)\b", re.I
)


@attrs.frozen
class Riddle:
    """A text with a line, or two, that nobody understands."""

    shape: str
    line: int
    text: str
    kept: int  # the lines from 'line' on that were replaced


def riddles(one: Text, shapes: tuple[str, ...] = ()) -> Iterator[Riddle]:
    """Yield every way of making one line of a text unreadable."""
    lines = one.text.split("\n")
    body = [n for n in _body(one.text) if lines[n - 1].strip()]
    for at, number in enumerate(body):
        line = lines[number - 1]
        for shape, said in _shapes(line):
            if not shapes or shape in shapes:
                yield Riddle(shape, number, one.changed(number, said), 1)
        if at + 1 < len(body) and (not shapes or "two in a row" in shapes):
            changed = list(lines)
            changed[number - 1] = changed[body[at + 1] - 1] = RIDDLE.capitalize() + "."
            yield Riddle("two in a row", number, "\n".join(changed), body[at + 1] - number + 1)


def _body(text: str) -> Iterator[int]:
    """Yield the numbers of the lines that are worked: no notes, materials and the like."""
    start, as_text = body_from(text), False
    for number, line in enumerate(text.split("\n"), 1):
        bare = re.sub(r"[(\[].*$", "", line).lower().strip("# :*=-")
        if number >= start and line.strip():
            if bare in TEXT_SECTIONS or _KEPT.match(line):
                as_text = True
            elif _is_heading(line):
                as_text = False
            if not as_text:
                yield number


def _is_heading(line: str) -> bool:
    return bool(re.match(r"^(?:#|[A-Z][A-Z \d()&'/-]+:?$|[A-Z][\w' ()&/-]{1,40}:?$)", line.strip()))


def _shapes(line: str) -> Iterator[tuple[str, str]]:
    if _is_heading(line):
        yield "heading", "Wuzzle of the flims"
        return
    label, count = _LABEL.match(line), _COUNT.search(line)
    told = count[0].lstrip() if count else ""
    named = label[0] if label else ""
    yield "bare", RIDDLE.capitalize() + "."
    if label:
        yield "label kept", named + RIDDLE + "."
    if count:
        yield "count kept", f"{named}{RIDDLE}. {told}"
    body = line[len(named) : count.start() if count else len(line)].rstrip(" .")
    if body and (comma := re.search(r",(?![^(\[]*[)\]])", body)):
        said = f"{body[: comma.start()]}, {RIDDLE},{body[comma.end() :]}"
        yield "amid", f"{named}{said}. {told}".rstrip()
    elif body:
        yield "amid", f"{named}{body}, {RIDDLE}. {told}".rstrip()


def false_findings(riddle: Riddle, right: set[tuple[str, str]]) -> list[Finding]:
    """Return what is found besides the line itself; an error of the review itself, too."""
    try:
        found = review(riddle.text).findings
    except LoopwrightError as error:
        return [Finding("error", "refused", str(error).split("\n")[0])]
    inside = range(riddle.line, riddle.line + riddle.kept)
    return [
        one
        for one in found
        if one.severity != NOTE
        and (one.kind, one.message) not in right
        and not (one.line in inside and one.kind in ("syntax", "unread"))
        and not _is_of_all(one)
    ]


def _is_of_all(one: Finding) -> bool:
    """Tell whether a number was looked for in all of the text: the riddle took it out.

    A line that is not understood still says its numbers, and they are found there.
    """
    return one.kind == "measure" or "spoken of nowhere" in one.message


def measured(
    folders: list[Path], shapes: tuple[str, ...], *, every: int, shown: bool
) -> tuple[Counter[str], Counter[str], Counter[str]]:
    """Return riddles tried, riddles with a false finding, and false findings by kind."""
    tried: Counter[str] = Counter()
    failed: Counter[str] = Counter()
    kinds: Counter[str] = Counter()
    for folder in folders:
        for one in texts(folder):
            right = {(f.kind, f.message) for f in review(one.text).findings}
            for riddle in list(riddles(one, shapes))[len(one.name) % every :: every]:
                found = false_findings(riddle, right)
                tried[riddle.shape] += 1
                failed[riddle.shape] += bool(found)
                kinds.update(f"{f.severity} {f.kind}" for f in found)
                if shown:
                    for finding in found:
                        print(f"{folder}/{one.name} {riddle.line} [{riddle.shape}] {finding}")
    return tried, failed, kinds


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("folders", nargs="+", type=Path)
    parser.add_argument("--shape", action="append", default=[])
    parser.add_argument("--every", type=int, default=1, help="try one riddle of so many")
    parser.add_argument("--shown", action="store_true")
    told = parser.parse_args()
    tried, failed, kinds = measured(
        told.folders, tuple(told.shape), every=told.every, shown=told.shown
    )
    for shape, many in tried.items():
        print(f"{failed[shape]:4} of {many:4}  {shape}")
    for kind, many in kinds.most_common():
        print(f"{many:5}  {kind}")
    print(sum(failed.values()), "of", sum(tried.values()))
    sys.exit(0)
