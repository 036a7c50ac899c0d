# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows told by other rows: "as row 2", "rows 1-9 as for the toe", "these 6 rounds", against the rows that there are."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.figures import digits, rows_by_number
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.plurals import plural

__all__ = ["like_rows"]

_ROWS = r"(?:rounds?|rnds?|rows?|r)"
_AS = WordForm(
    rf"\b(?:as|like) (?:for )?(?:the )?{_ROWS} ?(?P<m>\d{{1,3}})\b(?! ?(?:-|–|to|and|&|,) ?\d)(?P<of> (?:of|from|in) (?:the )?)?",
)
_NOUGHT = WordForm(
    rf"\b(?:rep(?:eat)?|work|as|like) (?:the )?{_ROWS} ?(?:0\b(?!\.\d)|(?P<a>\d{{1,3}}) ?(?:and|&|-|–|to) ?(?:{_ROWS} ?)?(?P=a)\b)",
)
_SHAPES = WordForm(
    r"(?:[kp] ?\d ?tog|\d tog)|\b(?:inc(?!h)|dec|ssk|ssp|skp|yo\b|yfwd|m1|make|kfb|pfb|cdd|s[k2]|cable|[ct]\d[fb]|\d/\d)",
)
_KNITS = WordForm(r"(?<![a-z])(?:k|knit)(?![a-z])")
_PURLS = WordForm(r"(?<![a-z])(?:p|purl)(?![a-z])")
_OF_OTHER = WordForm(
    rf"\b(?P<rows>{_ROWS}) ?(?P<a>\d{{1,3}})(?: ?(?:-|–|and|&|to) ?(?:{_ROWS} ?)?(?P<b>\d{{1,3}}))? (?:exactly |just )?(?:as (?:for|in|on)|like(?: for)?|from) (?:the )?(?:(?:first|second|right|left|other) )?(?P<name>[a-z]{{3,}})\b",
)
_THESE = WordForm(
    rf"\b(?P<how>rep(?:eat)?|work|cont\w*(?: in| with)?) (?:these|the last|last) (?P<n>\d{{1,2}}) {_ROWS}\b|\bthese (?P<m>\d{{1,2}}) {_ROWS} (?:form|make|are|set)\b",
)
_AGAIN = WordForm(
    rf"\brep(?:eat)? {_ROWS} ?(?P<a>\d{{1,3}})(?: ?(?:-|–|and|&|to) ?(?:{_ROWS} ?)?(?P<b>\d{{1,3}}))? (?:(?P<n>\d{{1,2}}) (?:more )?times(?: more)?|(?P<once>once|twice)(?: more)?)\W*$",
)
_Rows = dict[int, Spoken]


def like_rows(sentences: Sentences) -> Iterator[Finding]:
    """Find rows told by other rows that these can't be."""
    section: int | None = None
    rows, alone = _Rows(), True  # no rows without a number stand in the section
    named, these = (set(sentences.places_about(form)) for form in (_NAMES, _THESE))
    ribbed = set(sentences.places_about(_RIB))
    runs: list[_Rows] = []
    titles: dict[str, set[int]] = {}
    for at, one in enumerate(sentences):
        label = one.label
        if one.section != section:
            section, rows, alone = one.section, {}, True
            runs.append(rows)
        if label is not None and label.course and label.numbers and label.numbers[0] == 1:
            rows = {}
            runs.append(rows)
        message, offset = _said(one, rows, titles) if at in named else ("", 0)
        if not message and at in these and not _tells_rows(sentences, at):
            message, offset = _too_few(one, rows) or ("", 0)
        if not message and at in ribbed:
            message, offset = _rib_from(one, runs) or ("", 0)
        if not message and alone and rows and label is None and at in these:
            message, offset = _too_many(one, rows, runs) or ("", 0)
        numbered = label is not None and bool(label.numbers)
        alone = alone and (numbered or not _UNNUMBERED.search(one.text))
        if message:
            place = one.place(offset)
            yield Finding(WARNING, "named", message, place.line, place.column)
        if label is not None and label.course and label.numbers:
            rows.update(dict.fromkeys(label.numbers, one))
            titles.setdefault(one.title, set()).update(
                range(1000) if label.which else label.numbers
            )
    for rows in runs:
        yield from _odd_one(rows)


_RIB = WordForm(r"\brib")
_RIB_FROM = WordForm(
    r"\brib(?:bing)?\b[^.;]*?\b(?:beg|start|commenc)\w* (?:with|on|from) (?:the |a )?row (?P<n>\d)\b"
)


def _rib_from(one: Spoken, runs: Sequence[_Rows]) -> tuple[str, int] | None:
    """Find "in rib as before, beginning with the 3rd row", where the rib has 2."""
    match = _RIB_FROM.search(_worded(one), one.start)
    if match is None:  # before all rows are looked at, for each sentence anew
        return None
    ribs = [rows for rows in runs if rows and all(map(_is_ribbed, rows.values()))]
    most = max((number for rows in ribs for number in rows), default=0)
    if not most or int(match["n"]) <= most:
        return None
    return f"the rib has {plural(most, 'row')}: there is no row {match['n']}", match.start()


def _is_ribbed(one: Spoken) -> bool:
    return _plain(one) and all(_verbs(one))


_NAMES = WordForm(r"\br(?:ows?|nds?|ounds?)?\b|\br ?\d")


def _tells_rows(sentences: Sentences, at: int) -> bool:
    """Tell whether rows without a number were told behind the last that has one."""
    for one in reversed(sentences[: at + 1]):
        if one.label is not None and one.label.course and one.label.numbers:
            return False
        if _tells_row(one):
            return True
    return False


def _tells_row(one: Spoken) -> bool:
    """Tell whether a sentence is a row without a number, or tells one by the way."""
    if one.label is not None:
        return bool(one.label.course) and not one.label.numbers and not one.label.which
    return _WORKS.search(one.text) is not None and not _GOES_ON.match(one.text)


_WORKS = WordForm(r"\b(?:k|p|knit|purl|ssk|yo)\b|\b[kp]\d")
_GOES_ON = WordForm(r"(?:now |then )?(?:rep|cont|these|work (?:these|the last))")


def _said(one: Spoken, rows: _Rows, titles: dict[str, set[int]]) -> tuple[str, int]:
    """Return what is wrong with the rows that a sentence names, and where."""
    if _NAMES.search(one.text, one.start) is None:
        return "", 0
    if (nought := _NOUGHT.search(_worded(one), one.start)) is not None:
        row = nought["a"]
        return (
            f"row {row} and row {row} are one row: which two are meant?"
            if row
            else "there is no row 0"
        ), nought.start()
    for look in (_other_side, _times_over, _whole):
        if said := look(one, rows):
            return said
    return _of_other(one, titles) or ("", 0)


def _worded(one: Spoken) -> str:
    """Return a sentence whose rows are named by number: "as the 2nd row" is "as the row 2"."""
    return one.text[: one.start] + rows_by_number(one.text[one.start :])


def _plain(one: Spoken) -> bool:
    return _SHAPES.search(one.text, one.start) is None


def _verbs(one: Spoken) -> tuple[bool, bool]:
    return _KNITS.search(one.text, one.start) is not None, _PURLS.search(
        one.text, one.start
    ) is not None


def _like(one: Spoken) -> tuple[int, int, bool, int] | None:
    """Return the number of a row, that of the row it is like, whether elsewhere, and where it says so."""
    match = _AS.search(_worded(one), one.start)
    label = one.label
    if match is None or label is None or len(label.numbers) != 1 or label.which or not label.course:
        return None
    return label.numbers[0], int(match["m"]), match["of"] is not None, match.start()


_STATES = WordForm(r"\d[^.;:]{0,24}? (?:sts|stitches)\b")


def _other_side(one: Spoken, rows: _Rows) -> tuple[str, int] | None:
    """Find a row that is to be as one that its like are not like: of the other side, or plain among shaped ones."""
    like = _like(one)
    if like is None or one.label is None:
        return None
    number, other, elsewhere, at = like
    if (number - other) % 2 == 0:
        return None
    course = one.label.course
    if elsewhere:
        if course != "ROW" or (one.label.side and number != 1):
            return None
        return f"row {number} is to be as row {other}, which is one of the other side", at
    if other not in rows or other >= number or _STATES.search(one.text, at):
        return None  # its own count tells what it does
    same = [
        rows[n] for n in rows if n % 2 == number % 2 and n < number and rows[n] is not rows[other]
    ]
    same = [row for row in same if _like(row) is None]
    if not same or (other == number - 1 and not _verbs(rows[other])[1] and course == "ROW"):
        return None  # two rows of garter are alike
    if course == "ROW":
        if all(_verbs(row) != _verbs(rows[other]) for row in same) and _sided(rows[other]):
            return f"row {number} is to be as row {other}, which is one of the other side", at
        return None
    plain = {_plain(row) for row in same}
    if all(n in rows and _plain(rows[n]) for n in range(other + 1, number)) and number > other + 1:
        return None  # shaped every third round, or fourth
    if (len(same) >= ALIKE or True in plain) and len(plain) == 1 and plain != {_plain(rows[other])}:
        kind = "plain" if True in plain else "shaped"
        return (
            f"round {number} is to be as round {other}; rounds {min(n for n in rows if n % 2 == number % 2)} and on, by twos, are {kind} so far",
            at,
        )
    return None


def _sided(one: Spoken) -> bool:
    """Tell whether a row looks otherwise on its other side: all but garter do."""
    return any(_verbs(one))


def _odd_one(rows: _Rows) -> Iterator[Finding]:
    """Find the one row that is as one of odd distance, where all others are as ones of even."""
    told = [
        (one, like)
        for one in {id(one): one for one in rows.values()}.values()
        if (like := _like(one)) and not like[2]
    ]
    odd = [(one, like) for one, like in told if (like[0] - like[1]) % 2 and like[1] < like[0]]
    if len(told) < 2 or len(odd) != 1:
        return
    ((one, (number, other, _, at)),) = odd
    if any(_other_side(row, {n: r for n, r in rows.items() if n < like[0]}) for row, like in odd):
        return
    place = one.place(at)
    said = f"round {number} is to be as round {other}, an odd one as an even one or the other way round, where none of the others is"
    yield Finding(WARNING, "named", said, place.line, place.column)


def _times_over(one: Spoken, rows: _Rows) -> tuple[str, int] | None:
    """Compare "rows 3-8: repeat rows 1 and 2 twice more" with the rows that this makes."""
    label = one.label
    match = _AGAIN.search(digits(one.text), one.start)
    if match is None or label is None or len(label.numbers) < 2:
        return None
    each = int(match["b"] or match["a"]) - int(match["a"]) + 1
    times = int(match["n"]) if match["n"] else 1 if match["once"].lower() == "once" else 2
    if each < 1 or each * times == len(label.numbers):
        return None
    return (
        f"{plural(each, 'row')}, {times} times, are {each * times}; rows {label.numbers[0]} to {label.numbers[-1]} are {len(label.numbers)}",
        0,
    )


def _of_other(one: Spoken, titles: dict[str, set[int]]) -> tuple[str, int] | None:
    """Find "rounds 1-9 as for the toe", where the toe has 8."""
    for match in _OF_OTHER.finditer(_worded(one), one.start):
        called = re.compile(rf"\b{re.escape(match['name'].lower())}s?\b")
        there = set[int]().union(
            *(found for title, found in titles.items() if called.search(title))
        )
        asked = int(match["b"] or match["a"])
        if there and 1 in there and asked not in there and asked > max(there):
            return (
                f"there is no row {asked} in {match['name']}; the last there is {max(there)}",
                match.start(),
            )
    for match in _OFTEN.finditer(digits(_worded(one)), one.start):
        called = re.compile(rf"\b{re.escape(match['name'].lower())}\b")
        sections = [found for title, found in titles.items() if called.search(title) and 1 in found]
        if len(sections) != 1 or max(sections[0]) > MOST:
            continue
        first, last, whole = int(match["a"]), int(match["b"]), max(sections[0])
        if last <= whole and last - first + 1 == whole - 1:
            left = 1 if first > 1 else whole
            return (
                f"row {left} of {match['name']} is left out each time: are rows 1 to {whole} meant?",
                match.start(),
            )
    return None


MOST = 200  # rows of a pattern
ALIKE = 3  # rounds, before another is asked about
_OFTEN = WordForm(
    rf"\b{_ROWS} ?(?P<a>\d{{1,3}}) ?(?:-|–|to) ?(?P<b>\d{{1,3}}) of (?:the )?(?P<name>[a-z]+)\b[^.;\d]{{0,24}}(?P<n>\d+)\b[^.;]{{0,24}}\btimes",
)


_UNNUMBERED = WordForm(r"\b(?:rounds?|rnds?|rows?|rep\w*|cont\w*|until)\b")


def _too_many(one: Spoken, rows: _Rows, runs: Sequence[_Rows]) -> tuple[str, int] | None:
    """Find "repeat the last 6 rounds" behind 4, all that a section has, where none before goes in."""
    match = _THESE.search(digits(one.text), one.start)
    if match is None or one.label is not None or not match["n"] or "last" not in match[0].lower():
        return None
    many, there = int(match["n"]), max(rows)
    if many <= there or {*range(1, there + 1)} != rows.keys() or there < 2:
        return None
    earlier = [max(run) for run in runs if run and run is not rows]
    if earlier and many >= there + earlier[-1]:
        return None
    return f"{plural(many, 'row')} are spoken of; {there} are numbered here", match.start()


_WHOLE = WordForm(
    rf"\b(?:rep(?:eat)?|work) from (?:{_ROWS} )?(?P<a>\d{{1,3}}) to (?:{_ROWS} )?(?P<b>\d{{1,3}})\b(?! ?(?:sts|stitches))|\bthe (?P<n>\d{{1,2}}) {_ROWS} of (?:the )?(?:pattern|patt|lace|repeat)\b",
)


def _whole(one: Spoken, rows: _Rows) -> tuple[str, int] | None:
    """Find "the 6 rounds of the pattern", and "from round 1 to round 8", where the pattern has 4."""
    match = _WHOLE.search(digits(one.text), one.start)
    if (
        match is None
        or one.label is not None
        or len(rows) < 3
        or {*range(1, max(rows) + 1)} != rows.keys()
    ):
        return None
    if match["n"] and int(match["n"]) != max(rows):
        return (
            f"{plural(int(match['n']), 'row')} are spoken of; {max(rows)} are numbered here",
            match.start(),
        )
    if match["b"] and match["a"] == "1" and int(match["b"]) > max(rows):
        return f"there is no row {match['b']} here; the last is {max(rows)}", match.start()
    return None


def _too_few(one: Spoken, rows: _Rows) -> tuple[str, int] | None:
    """Find "repeat these 6 rounds" behind a pattern of 8."""
    match = _THESE.search(digits(one.text), one.start)
    if match is None or one.label is not None or "these" not in match[0].lower() or 1 not in rows:
        return None
    many, there = int(match["n"] or match["m"]), max(rows)
    if (many < 3 or many >= there or there % many == 0) and not (match["m"] and many < there):
        return None
    if len(rows) < there and not any(row.label and row.label.which for row in rows.values()):
        return None
    return f"{plural(many, 'row')} are spoken of; {there} are numbered here", match.start()
