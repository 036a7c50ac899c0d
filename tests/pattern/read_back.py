r"""How each ordinary text and phrase is read, kept beside it: run this file to keep it anew.

    PYTHONPATH=tests python tests/pattern/read_back.py [part of a name]

Beside `NAME.txt` stands `NAME.read`: the pattern in our one form, how each line was taken with the
stitches in work after it, what the text states besides, and what a review finds in it, as it is and
with its wrong lines. So a change of reading is seen as a diff of words. Wrong lines are looked at
together where each is noticed at its line all the same, which spares reviews.

`phrases.read` says the same of each phrase of `phrases.txt`; `derived.read` holds the patterns that
are derived from the fabrics of some small texts.

`pieces.read` holds small texts, most of them odd, and all that is said of each. A head `@ TEXT`,
its lines parted by ``\n``, is followed by the pattern in our one form, how each line was taken,
what is stated besides, and what a review finds; a head `@knit TEXT` by the pattern that is derived
from its fabric. Most conditions need less, which takes a tenth of the time: `@read TEXT` is not
reviewed, of `@alone TEXT` stands what it shows without being worked, of `@laid TEXT`, which is in
our own words, what it is laid out as if a loose text had said the same. They were searched for by
program, each for a condition in the code that no other text turned. A text is added by its head
alone.

`not-noticed.txt` names the wrong lines that are not noticed yet, or not where they stand; it may
only shrink: it is written here for a text that has no `NAME.read`, and else taken from.
"""

from __future__ import annotations

import itertools
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any, Final
from unittest import mock

import attrs

from loopwright.errors import LoopwrightError, PatternSyntaxError
from loopwright.fabric import Fabric
from loopwright.fabric.stitches import STITCHES
from loopwright.pattern import Pattern, derive, knit, of_size, read, review, write
from loopwright.pattern._editing import reviewer
from loopwright.pattern._editing.findings import NOTE, Finding, Review, by_size
from loopwright.pattern._editing.measures import amounts
from loopwright.pattern._editing.shown_alone import shown_alone
from loopwright.pattern._editing.wording import conversions, terms
from loopwright.pattern._reading.as_given import reading_as_given
from loopwright.pattern._reading.reader import read_closely
from loopwright.pattern._reading.reading import Reading, ReadLine
from loopwright.pattern._reading.said_out import said_out
from loopwright.pattern._reading.workable import workable
from loopwright.pattern._rewording.one_hand import in_one_hand
from pattern.ordinary import FOLDER, Text, stitches_after, texts

MORE: Final = FOLDER.with_name("ordinary-more")
PHRASES: Final = Path(__file__).with_name("phrases.txt")
PHRASES_READ: Final = PHRASES.with_suffix(".read")
PIECES: Final = Path(__file__).with_name("pieces.read")
DERIVED: Final = Path(__file__).with_name("derived.read")
KNITTED: Final = [
    "03",
    "06",
    "10",
    "16",
    "19",
    "24",
    "29",
    "33",
    "36",
    "41",
    "58",
    "63",
]  # small, of many kinds
ANEW: Final = "run `PYTHONPATH=tests python tests/pattern/read_back.py`, look at what git shows"
BEFORE: Final = {
    "R": "Cast on {} sts. Join in the round.\nRnd 1: Knit.\n",
    "F": "Cast on {} sts.\nRow 1: Knit.\nRow 2: Purl.\n",
    "0": "",
}
NOT_NOTICED: Final = Path(__file__).with_name("not-noticed.txt")
AT_ITS_LINE, ELSEWHERE, UNSEEN = "at its line", "elsewhere", "unseen"
LINES: Final = "## lines\n"
ALSO: Final = "## with other words at "
_READ: Final = {one.name: folder for folder in (FOLDER, MORE) for one in texts(folder)}


@attrs.frozen
class Found:
    """What a text was taken for, and what is said of it."""

    reading: Reading
    review: Review

    @property
    def false(self) -> tuple[Finding, ...]:
        """What is said of a right text that ought not to be said."""
        return tuple(one for one in self.review.findings if one.severity != NOTE)


def all_texts() -> list[Text]:
    """Return the texts of both folders."""
    return [*texts(FOLDER), *texts(MORE)]


def kept_beside(one: Text) -> Path:
    """Return where it is kept how a text is read."""
    return _READ[one.name] / f"{one.name}.read"


def looked_at(text: str) -> Found:
    """Read and review a text at once."""
    readings = list[Reading]()

    def explained(text: str, **asked: Any) -> Reading:
        readings.append(read_closely(text, explain=True, **asked))
        return readings[-1]

    with mock.patch.object(reviewer, "read_closely", explained):
        found = review(text)
    written = in_one_hand(text)  # what the review has read
    reading = readings[-1]
    return Found(
        reading if written.text == text else reading_as_given(reading, text, written), found
    )


def unmet(one: Text, reading: Reading) -> list[tuple[dict[str, Any], int]]:
    """Return the checkpoints that are not met, each with the stitches that are there."""
    there = [(point, stitches_after(reading, one, point)) for point in one.facts["checkpoints"]]
    return [(point, sts) for point, sts in there if sts != point["sts"]]


# wrong lines ----------------------------------------------------------------------------------


def wrong(one: Text, faults: Iterable[int]) -> tuple[Finding, ...]:
    """Return what is found with some wrong lines, by their places among those of the text."""
    text = one
    for fault in faults:
        change = one.facts["wrong"][fault]
        text = attrs.evolve(text, text=text.changed(change["line"], change["replacement"]))
    try:
        return review(text.text).findings
    except PatternSyntaxError:
        return ()


def noticed(one: Text, right: Found, fault: int, found: Sequence[Finding]) -> str:
    """Return where it is noticed that a line is wrong."""
    known = {(said.line, said.kind, said.message) for said in right.review.findings}
    news = [
        said
        for said in found
        if said.severity != NOTE and (said.line, said.kind, said.message) not in known
    ]
    if any(said.line == one.facts["wrong"][fault]["line"] for said in news):
        return AT_ITS_LINE
    return ELSEWHERE if news else UNSEEN


def grouped(one: Text, right: Found) -> list[tuple[int, ...]]:
    """Return the wrong lines that can be looked at together: each is noticed where it is."""
    every = range(len(one.facts["wrong"]))
    alone = {fault: noticed(one, right, fault, wrong(one, [fault])) for fault in every}
    placed = [fault for fault in every if alone[fault] == AT_ITS_LINE]
    for size in range(len(placed), 1, -1):
        for group in itertools.combinations(placed, size):
            found = wrong(one, group)
            if {noticed(one, right, fault, found) for fault in group} == {AT_ITS_LINE}:
                return [group, *((fault,) for fault in every if fault not in group)]
    return [(fault,) for fault in every]


def groups_kept(one: Text) -> list[tuple[int, ...]]:
    """Return which wrong lines are looked at together, as it is kept."""
    lines = [change["line"] for change in one.facts["wrong"]]
    heads = [line for line in as_kept(one).split("\n") if line.startswith(ALSO)]
    return [
        tuple(lines.index(int(line)) for line in head.removeprefix(ALSO).split(", "))
        for head in heads
    ]


def not_noticed() -> dict[tuple[str, int], str]:
    """Return the wrong lines that are not noticed at their line: text and line, where they are."""
    lines = NOT_NOTICED.read_text("utf-8").splitlines() if NOT_NOTICED.is_file() else []
    parted = [line.split(" ") for line in lines if not line.startswith("#")]
    return {(name, int(line)): where for name, line, where in parted}


# what is kept ---------------------------------------------------------------------------------


def as_kept(one: Text) -> str:
    """Return how a text is read, as it is kept; nothing where it is new."""
    path = kept_beside(one)
    return path.read_text("utf-8") if path.is_file() else ""


def shown(one: Text, right: Found, found: dict[tuple[int, ...], tuple[Finding, ...]]) -> str:
    """Return how a text is read and what is found in it, with some of its lines wrong too."""
    lines = [
        f"{write(right.reading.pattern)}{LINES}".rstrip("\n"),
        *(_line(line) for line in right.reading.lines),
        "## stated besides",
        *_stated(right.reading),
        "## found",
        *_findings(right.review.findings),
    ]
    known = set(right.review.findings)
    for faults, findings in found.items():
        at = ", ".join(str(one.facts["wrong"][fault]["line"]) for fault in faults)
        lines += [f"{ALSO}{at}", *_findings(said for said in findings if said not in known)]
        gone = (said for said in right.review.findings if said not in findings)
        lines += [f"not {said}" for said in _findings(gone)]
    return "\n".join(lines) + "\n"


def _line(line: ReadLine) -> str:
    number = str(line.line) if line.line == line.last_line else f"{line.line}-{line.last_line}"
    after = f": {by_size(line.after)}" if line.after else ""
    return f"{number} {line.kind}{after}"


def _stated(reading: Reading) -> Iterator[str]:
    for place, claims in sorted(reading.claims.items()):
        for claim in claims:
            values = "; ".join(by_size(column) for column in zip(*claim.values, strict=True))
            yield f"{place[0]}:{place[1]} {claim.line}:{claim.column} {claim.kind} {values}"


def _findings(findings: Iterable[Finding]) -> list[str]:
    return [f"{said} [{said.kind}]" for said in findings]


def write_anew(one: Text) -> bool:
    """Write how a text is read; tell whether anything is new."""
    before, right = as_kept(one), looked_at(one.text)
    groups, told = groups_kept(one), not_noticed()
    names = [(one.name, change["line"]) for change in one.facts["wrong"]]
    found = {group: wrong(one, group) for group in groups}
    now = {fault: noticed(one, right, fault, found[group]) for group in groups for fault in group}
    if not groups or any(
        where != told.get(names[fault], AT_ITS_LINE) for fault, where in now.items()
    ):
        found = {group: wrong(one, group) for group in grouped(one, right)}
        now = {
            fault: noticed(one, right, fault, found[group]) for group in found for fault in group
        }
    for fault, where in now.items():
        if where == AT_ITS_LINE:
            told.pop(names[fault], None)
        elif not before or (told.get(names[fault]), where) == (UNSEEN, ELSEWHERE):
            told[names[fault]] = where
    lines = (f"{name} {line} {where}" for (name, line), where in sorted(told.items()))
    NOT_NOTICED.write_text("\n".join(["# text, line, where it is noticed", *lines, ""]), "utf-8")
    text = shown(one, right, found)
    kept_beside(one).write_text(text, "utf-8")
    return text != before


# patterns of fabrics ---------------------------------------------------------------------------


def knitted() -> list[Text]:
    """Return the texts whose fabrics are told anew."""
    return [one for one in all_texts() if one.name.partition("-")[0] in KNITTED]


def derived_shown(one: Text) -> str:
    """Return the pattern that is derived from the fabric of a text: a block of those kept."""
    made = knit(read(one.text))
    assert isinstance(made, Fabric)
    return f"@ {one.name}\n{write(derive(made))}"


def write_derived_anew() -> None:
    """Write the patterns that are derived."""
    DERIVED.write_text("".join(map(derived_shown, knitted())), "utf-8")


# phrases --------------------------------------------------------------------------------------


def phrases() -> list[tuple[str, str, int, int | None]]:
    """Return what is on the needles, what is said, the stitches after it and the rows it makes."""
    split = [
        [*map(str.strip, line.split("|"))]
        for line in PHRASES.read_text("utf-8").splitlines()
        if not line.startswith("#")
    ]
    return [
        (on, said, int(count), int(rows[0]) if rows else None) for on, said, count, *rows in split
    ]


def with_phrase(on: str, said: str) -> str:
    """Return a text that goes on from so many stitches with a phrase."""
    return BEFORE[on[0]].format(on[1:]) + said.replace("\\n", "\n")


def phrase_shown(on: str, said: str, found: Found) -> str:
    """Return how a phrase is read: a block of what is kept of all of them."""
    lines = write(found.reading.pattern).rstrip("\n").split("\n")
    return "\n".join(
        (
            f"@ {on} | {said}",
            *lines[0 if on == "0" else 3 :],  # without what stands before the phrase
            *_stated(found.reading),
            *_findings(one for one in found.review.findings if one.line > 1),
        )
    )


def phrases_kept() -> frozenset[str]:
    """Return how each phrase is read, as it is kept."""
    blocks = PHRASES_READ.read_text("utf-8").removesuffix("\n").split("\n@ ")
    return frozenset(f"@ {block.removeprefix('@ ')}" for block in blocks)


def write_phrases_anew() -> None:
    """Write how each phrase is read."""
    told = dict.fromkeys((on, said) for on, said, _, _ in phrases())
    blocks = (phrase_shown(on, said, looked_at(with_phrase(on, said))) for on, said in told)
    PHRASES_READ.write_text("\n".join(blocks) + "\n", "utf-8")


# pieces ---------------------------------------------------------------------------------------


def pieces() -> list[tuple[str, str]]:
    """Return the head of each piece, and what is kept of it."""
    found = list[tuple[str, list[str]]]()
    for line in PIECES.read_text("utf-8").splitlines():
        if line.partition(" ")[0] in _PIECES:
            found.append((line, []))
        else:
            found[-1][1].append(line)
    return [(head, "\n".join(lines)) for head, lines in found]


def piece_shown(head: str) -> str:
    """Return what is said of a piece."""
    kind, _, text = head.replace("\\n", "\n").partition(" ")
    try:
        lines = [*_PIECES[kind](text)]
    except LoopwrightError as error:
        return f"{type(error).__name__}: {error}"
    return "\n".join(lines).rstrip("\n")


def derived_of(text: str) -> list[str]:
    """Return the pattern that is derived from the fabric of a text, in its first size."""
    pattern = read(text)
    made = knit(of_size(pattern, 0) if pattern.sizes else pattern)
    assert isinstance(made, Fabric)
    return write(derive(made)).split("\n")


def _reviewed(text: str) -> Iterator[str]:
    found = looked_at(text)
    yield from _as_read(found.reading)
    yield from _findings(found.review.findings)


def _read(text: str) -> Iterator[str]:
    reading = read_closely(text, go_on=True, explain=True)
    yield from _as_read(reading)
    yield from (f"{error.line}:{error.column}: {error.found}" for error in reading.errors)


def _as_read(reading: Reading) -> Iterator[str]:
    yield write(reading.pattern).rstrip("\n")
    yield "; ".join(_line(line) for line in reading.lines)
    yield from _stated(reading)


def _alone(text: str) -> Iterator[str]:
    alone = shown_alone(text, Pattern("", ()), (), frozenset())
    yield from _findings([*alone, *conversions(text), *amounts(text), *terms(text)])


def _laid(text: str) -> Iterator[str]:
    told = read_closely(text).pattern
    told = attrs.evolve(told, steps=said_out(told.steps))
    yield write(attrs.evolve(told, steps=workable(told, text, STITCHES)))


_PIECES: Final[dict[str, Callable[[str], Iterable[str]]]] = {
    "@": _reviewed, "@read": _read, "@alone": _alone, "@laid": _laid, "@knit": derived_of
}  # fmt: skip


def write_pieces_anew() -> None:
    """Write what is said of each piece."""
    told = dict.fromkeys(head for head, _ in pieces())
    PIECES.write_text("".join(f"{head}\n{piece_shown(head)}\n" for head in told), "utf-8")


if __name__ == "__main__":
    for one in all_texts():
        if all(part in one.name for part in sys.argv[1:]) and write_anew(one):
            print(f"{one.name}: read otherwise than before")
    if len(sys.argv) == 1:
        write_phrases_anew()
        write_derived_anew()
        write_pieces_anew()
