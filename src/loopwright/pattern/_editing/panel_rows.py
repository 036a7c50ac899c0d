# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows of a stitch pattern against the width that the text gives for it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from loopwright.pattern._editing.findings import NOTE, WARNING, Finding
from loopwright.pattern._editing.row_slips import tokens_at
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.plurals import plural

__all__ = ["colour_rows", "panel_rows", "panels_taken_plain"]

_STS = r"(?:sts?|stitches)"
_WIDTH = WordForm(
    rf"\bmultiple of (?P<multiple>\d+) {_STS}|"
    r"\b(?P<rep>\d+)-st(?:itch)? rep(?:eat)?\b|"
    rf"[(\[](?P<panel>\d+) {_STS},? ?\d* ?(?:rows|rnds|rounds)?[)\]]|"
    r"^(?=.*(?:\btakes\b|\bneeds\b|\bcovers\b|\brep(?:eat)?s?\b|\bpattern\b|\bmotif\b|:$))(?!.*(?:\bcm\b|\binch|\"|=|\btension\b|\bgauge\b|\b10\b)).*?"  # "takes 18 sts and 4 rounds"
    rf"\b(?P<block>\d+) {_STS},? ?(?:and|by|x|×|wide and|,)? ?\d+ (?:rows|rnds|rounds)\b"
)
_COLOURED = WordForm(r"\*(?P<row>\d+ ?[A-Z]{1,2}(?:, ?\d+ ?[A-Z]{1,2})*)\*", re.NOFLAG)
_STAR = WordForm(r"\*\s*(?P<inner>[^*]+?)[;,.] ?rep(?:eat)? (?:from )?\*")


def _told(width: re.Match[str]) -> int:
    return int(width["multiple"] or width["rep"] or width["panel"] or width["block"])


def panel_rows(sentences: Sentences) -> Iterator[Finding]:
    """Find rows of a stitch pattern that are wider or narrower than the text says it is.

    "Fishes (multiple of 6 sts)" speaks of its repeat, "Rope (10 sts, 8 rnds)" of all of a row. The
    rows are those numbered behind it, up to the next heading.
    """
    told_in = [*{one.title for one in sentences}, *(one.text for one in sentences.about(_WIDTH))]
    if not any(map(_WIDTH.search, told_in)):
        return
    width, whole, section = 0, False, -1
    for one in sentences:
        if one.section != section:
            section, width = one.section, 0
            if told := _WIDTH.search(one.title):
                width, whole = (
                    _told(told),
                    bool(told["panel"]),
                )
        if one.label is None or not one.label.numbers:
            if told := _WIDTH.search(one.text):
                width, whole = (
                    _told(told),
                    bool(told["panel"]),
                )
            elif width and (coloured := _COLOURED.search(one.text)):
                takes = sum(map(int, re.findall(r"\d+", coloured["row"])))
                if takes % width:
                    place = one.place(coloured.start())
                    said = f"this takes {plural(takes, 'st')}; the pattern is {width} sts wide"
                    yield Finding(WARNING, "panel", said, place.line, place.column)
            elif whole:
                width = 0
            continue
        if width and (wrong := _takes(one, width, whole)):
            takes, offset = wrong
            place = one.place(offset)
            said = f"this takes {plural(takes, 'st')}; the pattern is {width} sts wide"
            yield Finding(WARNING, "panel", said, place.line, place.column)


def _takes(one: Spoken, width: int, whole: bool) -> tuple[int, int] | None:
    """Return how many stitches a row takes, where they do not fit; None where they do."""
    star = _STAR.search(one.text, one.start)
    start = star.start("inner") if star else one.start
    end = star.end("inner") if star else len(one.text.rstrip(" ."))
    tokens = tokens_at(one.text, start)
    if not tokens or tokens[-1].end != end or any(len(token.takes) > 1 for token in tokens):
        return None
    takes = sum(token.takes[0] for token in tokens)
    if star is None and not whole:
        return None
    fits = takes == width if whole and star is None else takes and not takes % width
    return None if fits or (takes and not width % takes and star is not None) else (takes, start)


_NAMED = WordForm(
    r"\b(?P<name>(?:(?!work|the|in|of|on|and|round|rnd|row)[a-z'-]+ ){0,2}(?:lace|cable|panel|chart(?: [A-Z])?)(?: (?:panel|pattern|chart))?) "
    r"over (?:the )?(?:next )?\d+",
)


def panels_taken_plain(sentences: Sentences) -> Iterator[Finding]:
    """Say of each stitch pattern that a row only names that it is counted as plain knitting."""
    seen = set[str]()
    for one in sentences.about(_NAMED):
        for match in _NAMED.finditer(one.text, one.start):
            name = match["name"].lower()
            if name not in seen:
                seen.add(name)
                place = one.place(match.start())
                said = f"{name}: counted as plain knitting here, its own stitches are not worked"
                yield Finding(NOTE, "panel", said, place.line, place.column)


_RUNS = WordForm(r"\W*(?P<row>\d+ [A-Z]{1,2}\d?(?:, \d+ [A-Z]{1,2}\d?)+)\W*$", re.NOFLAG)


def colour_rows(sentences: Sentences) -> Iterator[Finding]:
    """Find the one row of a colour pattern that is not as wide as its like."""
    groups: dict[int, list[tuple[Spoken, int]]] = {}
    for one in sentences.about(_RUNS):
        match = _RUNS.match(one.text, one.start)
        if match is not None and one.label is not None:
            wide = sum(map(int, re.findall(r"(?<![A-Z\d])\d+", match["row"])))
            groups.setdefault(one.section, []).append((one, wide))
    for rows in groups.values():
        widths = [wide for _, wide in rows]
        usual = max(set(widths), key=widths.count)
        odd = [(one, wide) for one, wide in rows if wide != usual]
        if len(rows) > 2 and len(odd) == 1:
            ((one, wide),) = odd
            place = one.place(one.start)
            said = f"this row has {wide} sts; the others of the pattern have {usual}"
            yield Finding(WARNING, "panel", said, place.line, place.column)
