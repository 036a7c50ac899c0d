# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A chart against the rows that are written out: row by row, stitch by stitch."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import TypeAlias

import attrs

from loopwright.errors import StepError
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.pattern._editing.findings import NOTE, WARNING, Finding
from loopwright.pattern._editing.spoken import Spoken
from loopwright.pattern._grammar.said import Numbered
from loopwright.pattern._grammar.sentences import Sentence, sentence_in
from loopwright.pattern._reading.text_charts import DrawnRow, charts_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import USUAL
from loopwright.pattern.items import Item, Repeat, Run
from loopwright.pattern.values import To
from loopwright.plurals import plural

__all__ = ["ChartedRow", "Charts", "compared", "drawn_charts", "given_charts"]

Charts: TypeAlias = Mapping[str, Mapping[int, Sequence[str]]]  # title, number of a row, stitches

_WS = {"k": "p", "k2tog": "p2tog", "ssk": "ssp", "ktbl": "ptbl", "sl": "slf", "k3tog": "p3tog"}
_ON_WS = {**_WS, **{there: here for here, there in _WS.items()}}
_NAME = WordForm(
    r"\bchart\b|\bpattern\b|\bpatt\b|\bpanel\b|[^a-z0-9 ]|\bin words\b|\b\d+ (?:sts?|stitches|rows|rnds|rounds)\b",
    re.NOFLAG,
)


@attrs.frozen
class ChartedRow:
    """A row of a chart as it is worked: its number, its stitches by key, and its line."""

    number: int
    stitches: tuple[str, ...]
    line: int = 0


@attrs.frozen
class _Written:
    """Rows that are written out under one heading, by number."""

    title: str
    line: int
    rows: dict[int, Spoken]
    flat: bool
    open: bool  # a label speaks of more rows than it numbers


def drawn_charts(text: str, sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Compare each chart drawn in a text with the rows that are written out for it."""
    for chart in charts_in(text):
        written = _rows_for(chart.title, chart.line, sentences)
        meanings = {sign: _meant(said) for sign, said in chart.key.items()}
        used = {sign for row in chart.rows for sign in row.signs}
        for sign in sorted(used - meanings.keys()):
            where = next(row for row in chart.rows if sign in row.signs)
            shown = "an empty square" if sign == " " else f"'{sign}'"
            said = f"{shown} stands in the chart, and not in its key: say what it means"
            yield Finding(WARNING, "chart", said, where.line, 1)
        for sign, (key, _) in meanings.items():
            if key is None and sign in used:
                said = f"'{sign}' in the key of the chart: no stitch that is known; its rows are not compared"
                yield Finding(NOTE, "chart", said, chart.line, 1)
        if written is None:
            said = "no rows are written out that this chart could be compared with"
            yield Finding(NOTE, "chart", said, chart.line, 1)
            continue
        rows = [_worked(row, meanings, flat=written.flat) for row in chart.rows]
        known = [row for row in rows if row is not None]
        yield from compared(known, written.rows, whole=not written.open)


def given_charts(charts: Charts, sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Compare charts that are given as data with the rows that are written out for them."""
    for title, rows in charts.items():
        drawn = [ChartedRow(number, tuple(row)) for number, row in sorted(rows.items())]
        for row in drawn:
            if unknown := [key for key in row.stitches if key not in STITCHES]:
                raise StepError("chart", f"row {row.number}: {unknown[0]!r} is no stitch")
        written = _rows_for(title, 0, sentences)
        if written is None:
            said = f"chart {title}: no rows are written out that it could be compared with"
            yield Finding(NOTE, "chart", said)
        else:
            yield from compared(drawn, written.rows, whole=not written.open)


def compared(
    rows: Sequence[ChartedRow], written: Mapping[int, Spoken], *, whole: bool = True
) -> Iterator[Finding]:
    """Compare rows of a chart with those that are written out under the same numbers."""
    for row in rows:
        one = written.get(row.number)
        if one is None:
            if whole:
                said = f"row {row.number} stands in the chart, and is not written out"
                yield Finding(WARNING, "chart", said, row.line or _line(written), 1)
            continue
        found = _said_stitches(one, len(row.stitches))
        if found is None:
            continue
        if said := _unlike(row, found):
            place = one.place(one.start)
            yield Finding(WARNING, "chart", said, place.line, place.column)
    if whole and rows:
        drawn = {row.number for row in rows}
        for number in sorted(set(written) - drawn):
            place = written[number].place()
            said = f"row {number} is written out, and does not stand in the chart"
            yield Finding(WARNING, "chart", said, place.line, place.column)


def _line(written: Mapping[int, Spoken]) -> int:
    return min((one.line for one in written.values()), default=0)


def _unlike(row: ChartedRow, found: tuple[str, ...]) -> str:
    """Say where a written row and its row of the chart part; "" where they are the same."""
    drawn = row.stitches
    if drawn == found:
        return ""
    for at, (here, there) in enumerate(zip(drawn, found, strict=False), start=1):
        if here != there:
            more = (
                f"; {len(drawn)} in all in the chart, {len(found)} here"
                if len(drawn) != len(found)
                else ""
            )
            return (
                f"row {row.number}, stitch {at}: the chart has {here}, the words have {there}{more}"
            )
    return f"row {row.number}: {plural(len(drawn), 'st')} in the chart, {len(found)} in the words"


# rows of the chart


def _meant(said: str) -> tuple[str | None, str | None]:
    """Return the stitch that a sign of the key means on the right side, and on the wrong side."""
    first, _, second = said.partition(",")
    on_ws = re.search(r"\b(?:on )?(?:the )?(?:ws|wrong side)\b", second, re.IGNORECASE)
    right = _stitch(first)
    wrong = _stitch(second) if on_ws else _ON_WS.get(right or "", right)
    return right, wrong


def _stitch(said: str) -> str | None:
    words = re.sub(
        r"\b(?:on |in )?(?:the )?(?:rs|ws|right side|wrong side)\b(?: rows?| rnds?)?:?",
        "",
        said,
        flags=re.I,
    )
    words = " ".join(words.strip(" .,()").split())
    if re.match(r"no (?:stitch|st)\b", words, re.IGNORECASE):
        return ""
    for row in STITCHES:
        if words.lower() in (row.key, row.name):
            return row.key
    items = _items(f"Rnd 1: {words}", STITCHES)
    if items is None or len(items) != 1 or not isinstance(items[0], Run):
        return None
    return items[0].stitch


def _worked(
    row: DrawnRow, meanings: Mapping[str, tuple[str | None, str | None]], *, flat: bool
) -> ChartedRow | None:
    """Return a drawn row in the order in which it is worked; None where a sign is not known."""
    wrong = flat and not row.from_right
    signs = row.signs if wrong else tuple(reversed(row.signs))
    keys = [meanings.get(sign, (None, None))[wrong] for sign in signs]
    if None in keys:
        return None
    return ChartedRow(row.number, tuple(key for key in keys if key), row.line)


# rows in words


def _items(text: str, table: StitchTable) -> tuple[Item, ...] | None:
    found = sentence_in(USUAL.of(text).text, table)
    if not isinstance(found, Sentence) or not isinstance(found.says, Numbered):
        return None
    return found.says.step.items


def _said_stitches(one: Spoken, width: int) -> tuple[str, ...] | None:
    """Return the stitches of a written row, as many times as the chart is wide; None if unknown."""
    text = re.sub(r"[.,;]? ?[(\[]?\d+ (?:sts?|stitches)[.)\]]*\s*$", "", one.text[one.start :])
    items = _items(f"Rnd 1: {text.strip().rstrip('.')}.", STITCHES)
    if items is None:
        return None
    whole = _listed(items, width)
    repeat = [item for item in items if isinstance(item, Repeat) and isinstance(item.times, To)]
    if len(repeat) == 1 and whole is not None and len(whole) != width:
        alone = _listed(repeat[0].items, width) or whole
        return alone if width % len(alone) else alone * (width // len(alone))
    return whole


def _listed(items: Sequence[Item], width: int) -> tuple[str, ...] | None:
    found: list[str] = []
    for item in items:
        if isinstance(item, Run) and item.stitch in STITCHES:
            row = STITCHES[item.stitch]
            squares = row.takes if row.is_crossing else 1
            if isinstance(item.amount, To):
                many = max(0, width - int(item.amount.before) - len(found))  # type: ignore[arg-type]
            elif isinstance(item.amount, int):
                many = item.amount * squares
            else:
                return None
            found += [item.stitch] * many
        elif isinstance(item, Repeat):
            inner = _listed(item.items, width)
            if not inner:
                return None
            if isinstance(item.times, To):
                room = width - int(item.times.before) - len(found)  # type: ignore[arg-type]
                found += inner * max(1, room // len(inner))
            elif isinstance(item.times, int):
                found += inner * item.times
            else:
                return None
        else:
            return None
    return tuple(found)


def _rows_for(title: str, line: int, sentences: Sequence[Spoken]) -> _Written | None:
    """Return the written rows that belong to a chart: by its name, or those that stand nearest."""
    groups = [one for one in _groups(sentences) if one.rows]
    name = _named(title)
    for one in groups:
        if name and (name in _named(one.title) or f"chart {name}" in one.title):
            return one
    if name and re.search(r"\bchart [a-z0-9]\b", title.lower()) and groups:
        named = [g for g in groups if re.search(r"\bchart [a-z0-9]\b", g.title)]
        groups = [g for g in groups if g not in named]
    after = [one for one in groups if one.line > line]
    return after[0] if after else groups[-1] if groups else None


def _named(title: str) -> str:
    return " ".join(_NAME.sub(" ", title.lower()).split())


def _groups(sentences: Sequence[Spoken]) -> Iterator[_Written]:
    rows: dict[int, Spoken] = {}
    section: int | None = None
    title, flat, more = "", False, False
    for one in [*sentences, None]:
        label = one.label if one else None
        again = label is not None and label.numbers[:1] == (1,) and 1 in rows
        if one is None or one.section != section or again:
            if rows:
                yield _Written(title, _line(rows), rows, flat, more)
            rows, flat, more = {}, False, False
        if one is None:
            return
        section, title = one.section, one.title
        if label is None or not label.numbers or not label.course:
            continue
        flat = flat or label.course == "ROW" or bool(label.side)
        more = more or bool(label.which)
        rows.update(dict.fromkeys(label.numbers, one))
