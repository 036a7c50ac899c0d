# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Turning rows as their words tell them: how they grow, that each turns, and which side faces."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise

import attrs

from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._reading.labels import Label
from loopwright.pattern._reading.stated import whole_numbers
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT

__all__ = ["turning_rows"]

_DEC = r"k2tog(?: tbl)?|ssk|skpo?|p2tog(?: tbl)?|ssp|sl ?1,? ?k ?1,? ?psso|(?:k|p|knit|purl) ?2 ?tog(?:ether)?"
_HEEL = WordForm(
    rf"(?:sl|slip) ?1(?: st)?(?: [a-z]+){{0,2}}, (?P<how>knit|purl|k|p) ?(?P<n>{COUNT})(?: sts)?, "
    rf"(?P<dec>{_DEC})(?P<tail>, (?:knit|purl|k|p) ?(?P<behind>\d))?(?P<turn>[,.;] ?turn\b)?\W*$",
)
_ONE = r"(?:sl|slip|k|p) ?1(?: [a-z]+){0,2}"
_SLIPPED = WordForm(  # "sl 1, (k1, sl 1) 14 times, ssk, turn"
    rf"(?P<lead>{_ONE}, )?(?:[(\[]{_ONE}, ?{_ONE}[)\]] (?P<n>{COUNT}) times|\*{_ONE}, ?{_ONE}[;,.]? rep(?:eat)? from \* (?P<m>{COUNT}) (?:more|further) times)"
    rf"(?P<tail>, {_ONE})?, (?P<dec>{_DEC})(?P<turn>[,.;] ?turn\b)?\W*$",
)
FAR = 6  # stitches by which the first row of a turn works more than the one behind it
_TURN = WordForm(r"\b(?:turn|w&t|w/t|(?<!its )(?<!the )(?<!both )wrap)\b")
_TO_END = WordForm(r"\bto (?:the )?end\b|\bacross\b|\ball\b|[:.] *(?:knit|purl|k|p)\W*$")


@attrs.frozen
class _Row:
    """A heel's turning row: how many plain stitches before its decrease, in each size."""

    one: Spoken
    number: int
    plain: tuple[int, ...]
    offset: int
    tail: bool
    slipped: bool = False  # every other stitch


def turning_rows(sentences: Sentences) -> Iterator[Finding]:
    """Find turning rows out of step with each other, without their turn, or of the wrong side."""
    heel: list[_Row] = []
    for at, passed in sentences.passing(_HEEL, _SLIPPED):
        row = _heel_row(*sentences.pairs[at])
        if row is not None and heel and not passed and row.number == heel[-1].number + 1:
            heel.append(row)
            continue
        yield from _out_of_step(heel)
        heel = [row] if row is not None else []
    yield from _out_of_step(heel)
    if any(_TURN.search(one.text) for one in sentences.about(_TURN)):
        yield from _turns(sentences)
    yield from _mixed(sentences)
    yield from _sides(sentences)
    yield from _tails(sentences)


def _heel_row(one: Spoken, after: Spoken | None) -> _Row | None:
    match = _HEEL.match(one.text, one.start)
    label = one.label
    if match is None and label is not None and len(label.numbers) == 1:
        return _slipped_row(one, label.numbers[0])
    if match is None or label is None or len(label.numbers) != 1:
        return None
    if match["turn"] is None and (after is None or not re.match(r"turn\b", after.text, re.I)):
        return None
    plain = whole_numbers(match["n"])
    return _Row(one, label.numbers[0], plain, match.start("n"), match["tail"] is not None)


def _slipped_row(one: Spoken, number: int) -> _Row | None:
    """Return a turning row that slips every other stitch: those behind its first one are plain."""
    match = _SLIPPED.match(one.text, one.start)
    if match is None or not match["turn"]:
        return None
    beside = bool(match["lead"]) + bool(match["tail"]) - 1
    name = "n" if match["n"] else "m"
    times = (n + (name == "m") for n in whole_numbers(match[name]))
    plain = tuple(2 * n + beside for n in times)
    return _Row(one, number, plain, match.start(name), tail=False, slipped=True)


def _out_of_step(heel: Sequence[_Row]) -> Iterator[Finding]:
    """Compare the rows behind the first: each grows by the same number (by one with k1 behind).

    The first row is not compared: it is worked from the edge of the heel to its middle. It is
    row 1, or one with more stitches than the row behind it.
    """
    least = FAR if heel and heel[0].slipped else 0
    first = heel and (
        heel[0].number == 1 or (len(heel) > 1 and heel[0].plain[0] > heel[1].plain[0] + least)
    )
    rows = heel[1:] if first else heel
    tails = {int(row.tail) for row in rows}
    if len(rows) < 2 or len(tails) > 1 or len({len(r.plain) for r in rows}) > 1:
        return
    (step,) = tails
    starts = [tuple(n - at * step for n in row.plain) for at, row in enumerate(rows)]
    usual, often = Counter(starts).most_common(1)[0]
    if often == len(rows) or (
        len(rows) > 2 and len({b.plain[0] - a.plain[0] for a, b in pairwise(rows)}) == 1
    ):
        return
    at = next(at for at, start in enumerate(starts) if start != usual)
    if often == 1:
        at = 0
        usual = tuple(n - step for n in rows[1].plain)
    wanted = tuple(n + at * step for n in usual)
    row = rows[at]
    said = f"{by_size(row.plain)} sts before the decrease; in step with the other rows it would be {by_size(wanted)}"
    place = row.one.place(row.offset)
    yield Finding(WARNING, "turn", said, place.line, place.column)


def _turns(sentences: Sentences) -> Iterator[Finding]:
    """Find a row without its turn, among rows that all say that they turn."""
    for rows in _numbered(sentences):
        told = [
            bool(turned or _TURN.search(one.text) or _LIKE.search(one.text)) for one, turned in rows
        ]
        for at, (one, _) in enumerate(rows[1:]):  # "Row 24: turn, p23": the row before turns
            told[at] = told[at] or _TURN.match(one.text[one.start :].lstrip(" :")) is not None
        silent = [at for at, there in enumerate(told) if not there]
        if silent[-1:] == [len(rows) - 1] and len(silent) > 1:
            del silent[-1]  # the last row may well end otherwise
        if len(rows) < 2 or len(silent) != 1:
            continue
        if len(rows) == 2 and not _TURN.search(rows[1 - silent[0]][0].text):
            continue
        if not any(turned or _TURN.search(one.text) for one, turned in rows):
            continue  # all but one are "as Row 2 of Section 1", and none turns
        on = _goes_on(rows[-1][0], sentences)
        if len(rows) < (2 if on else 3) or silent[0] >= len(rows) - (0 if on else 2):
            continue
        one = rows[silent[0]][0]
        if not _TO_END.search(one.text):
            place = one.place(len(one.text) - 1)
            said = "the other rows of this section say 'turn': is it left out here?"
            yield Finding(WARNING, "turn", said, place.line, place.column)


_LIKE = WordForm(r"\b(?:as|like) (?:the )?(?:row|r|\d)")
_REPEATS = WordForm(
    r"\W*(?:then )?(?:rep|repeat|cont|continue|go on|work in this)\b[^.;]*\b(?:rows?|way|manner|thus|so|this)\b",
)


def _goes_on(last: Spoken, sentences: Sequence[Spoken]) -> bool:
    """Tell whether the rows up to one are repeated: then the last of them turns as well."""
    at = next(n for n, one in enumerate(sentences) if one is last)
    behind = [one for one in sentences[at + 1 : at + 3] if not _TURN.match(one.text)]
    return bool(behind) and _REPEATS.match(behind[0].text) is not None


_BOBBLE = WordForm(r"(?:make |work )?(?:a )?(?:bobble|nupp|knot)\b[^.]*:")


def _numbered(sentences: Sequence[Spoken]) -> Iterator[list[tuple[Spoken, bool]]]:
    """Yield the rows that are numbered one after another, and whether the next sentence turns."""
    rows: list[tuple[Spoken, bool]] = []
    last = 0
    for one in sentences:
        label = one.label
        if label is None or len(label.numbers) != 1 or label.course == "RND":
            if rows and _TURN.search(one.text) and not _BOBBLE.match(one.text):
                rows[-1] = (rows[-1][0], True)
            continue
        if rows and (one.section != rows[-1][0].section or label.numbers[0] != last + 1):
            yield rows
            rows = []
        last = label.numbers[0]
        rows.append((one, False))
    yield rows


_PLAIN = WordForm(
    r"(?<![a-z0-9])(?P<word>knit|purl|k|p)(?: ?\d+(?: ?tog)?(?![a-z0-9])| (?=to\b|the\b|across|\d))|"
    r"(?<![a-z])(?P<dec>ssk|skpo?|ssp)(?![a-z])",
)
_SAYS_TURN = WordForm(r"\bturn\b", re.NOFLAG)
_PATTERNED = WordForm(r"\*|\brib|\bpatt|\bwyi[bf]\b|\(k|\[k|moss|seed|garter")


def _mixed(sentences: Sentences) -> Iterator[Finding]:
    """Find the one knit stitch of a purl row that turns, or the one purl stitch of a knit row."""
    for one in sentences.about(_SAYS_TURN):
        if one.label is None or not _SAYS_TURN.search(one.text) or _PATTERNED.search(one.text):
            continue
        found = [
            ("p" if (m["word"] or m["dec"]).lower() in ("p", "purl", "ssp") else "k", m)
            for m in _PLAIN.finditer(one.text, one.start)
        ]
        letters = [letter for letter, _ in found]
        odd = next((m for letter, m in found if letters.count(letter) == 1), None)
        if len(found) < 2 or odd is None or len(set(letters)) < 2:
            continue
        shaped = re.search(r"tog|ssk|skp|ssp|\bDS\b", one.text[one.start :])
        if shaped is None:
            continue
        said = "knit and purl stitches in one row of a turn: is one of them mistyped?"
        place = one.place(odd.start())
        yield Finding(WARNING, "turn", said, place.line, place.column)


_STAYS = WordForm(  # or an odd number of rows without a number
    r"\b(?:slide|break|cut|join|rounds?|rnds?)\b|\b(?:knit|purl|k|p|work) (?:one|1|3|5|three|five) (?:more )?rows?\b"
)


def _sides(sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find rows said to be of the wrong side: rows turn, so that every other one is of one side."""
    known: tuple[int, int, str] | None = None  # section, number, side
    for one in sentences:
        label = one.label
        if known is not None and (one.section != known[0] or _STAYS.search(one.text)):
            known = None
        if label is None or len(label.numbers) != 1 or not (there := _facing(label)):
            continue
        (number,) = label.numbers
        apart = number - known[1] if known is not None else 0
        if known is not None and apart > 0 and (known[2] == there) != (apart % 2 == 0):
            place = one.place()
            meant = "WS" if there == "RS" else "RS"
            said = f"row {known[1]} is {known[2]}, so that this one should be {meant}, not {there}"
            yield Finding(WARNING, "side", said, place.line, place.column)
            continue
        known = one.section, number, there


def _facing(label: Label) -> str:
    """Return which side faces in a row, "" where it does not say so of itself alone."""
    side = label.side.upper().strip("() ")
    return "" if label.which else {"R": "RS", "W": "WS"}.get(side[:1], "")


_TAIL = WordForm(rf"\b(?:{_DEC}), ?(?:knit|purl|k|p) ?(?P<n>\d), ?turn\b")


def _tails(sentences: Sentences) -> Iterator[Finding]:
    """Find the one row of a turn that works more behind its decrease than the others of its section."""
    sections: dict[int, list[tuple[Spoken, re.Match[str]]]] = {}
    for one in sentences.about(_TAIL):
        for match in _TAIL.finditer(one.text, one.start):
            sections.setdefault(one.section, []).append((one, match))
    for rows in sections.values():
        usual, often = Counter(match["n"] for _, match in rows).most_common(1)[0]
        odd = [(one, match) for one, match in rows if match["n"] != usual]
        if len(odd) == 1 and often > 1:
            ((one, match),) = odd
            said = (
                f"{match['n']} sts behind this decrease, and {usual} in the other rows of the turn"
            )
            place = one.place(match.start("n"))
            yield Finding(WARNING, "turn", said, place.line, place.column)
