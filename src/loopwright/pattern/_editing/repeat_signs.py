# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Signs of repeats: a star to repeat from that stands nowhere, a bracket that is not closed."""

from __future__ import annotations

import re
from collections.abc import Iterator

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["repeat_signs"]

_FROM = WordForm(r"\brep(?:eat)?\.? (?:instructions )?(?:from |between )?(?:the )?(?P<sign>\*+)(?: (?:to|and) \*+)?")  # fmt: skip
_ROUND_AGAIN = WordForm(r"[;,.] ?rep(?:eat)?(?: this)? (?:to (?:the )?end|a?round)\b")
_CLOSING = WordForm(r"(?<=\w)\*(?=\s|,|$)", re.NOFLAG)
_WORK = WordForm(r"(?<![a-z])(?:[kp] ?\d|k2tog|ssk|knit \d|purl \d)")
_STEP = WordForm(r"^\s*(?:\w{1,3}|step \d+)\)")
_SIGN, _BRACKET = WordForm(r"[*()\[\]]"), re.compile(r"[()\[\]]")
_PAIRS = {"(": ")", "[": "]"}


def repeat_signs(sentences: Sentences) -> Iterator[Finding]:
    """Find ``rep from *`` where there is no star to repeat from, and brackets left open."""
    opened = 0  # stars of earlier lines from which nothing was repeated there
    again = sentences.about(_ROUND_AGAIN)
    starred = any("*" in one.text and _ROUND_AGAIN.search(one.text) for one in again)
    for at in sentences.lines_about(_SIGN, *([_ROUND_AGAIN] if starred else [])):
        line = sentences.lines[at]
        whole = " ".join(one.text for one in line)
        bare = _FROM.sub(" ", whole)
        stars, repeats = bare.count("*"), len(_FROM.findall(whole))
        if stars or opened or not repeats:
            opened += max(0, stars - repeats) if not repeats else 0
        else:
            one = next(one for one in line if _FROM.search(one.text))
            sign = _FROM.search(one.text)
            assert sign is not None
            yield _finding(one, sign.start(), "there is no * before this to repeat from")
            continue
        for one in line:
            if said := _unopened(one, starred) or _unclosed(one):
                yield _finding(one, said[1], said[0])


def _unopened(one: Spoken, starred: bool) -> tuple[str, int] | None:
    """Say that a repeat ends, or is asked for, where none began.

    Where no row has a star before "repeat to end", the whole row is repeated.
    """
    if not _WORK.search(one.text):
        return None
    if "*" not in one.text and "[" not in one.text and "(" not in one.text[one.start :]:
        again = _ROUND_AGAIN.search(one.text) if starred else None
        return ("what is to be repeated? put * before it", again.start()) if again else None
    bare = _FROM.sub(lambda match: " " * len(match[0]), one.text)
    if bare.count("*") == 1 and (end := _CLOSING.search(bare)) is not None:
        return "a repeat ends here, and none began: put * where it begins", end.start()
    return None


def _unclosed(one: Spoken) -> tuple[str, int] | None:
    """Say which bracket of a row has no partner."""
    if not _WORK.search(one.text):
        return None
    text = _STEP.sub(lambda match: " " * len(match[0]), one.text)
    open_: list[tuple[str, int]] = []
    for bracket in _BRACKET.finditer(text):
        letter, at = bracket[0], bracket.start()
        if letter in _PAIRS:
            open_.append((letter, at))
        else:
            if not open_ or _PAIRS[open_[-1][0]] != letter:
                return f"there is no bracket that this {letter} closes", at
            open_.pop()
    if open_ and not text[-1:].isalnum() and not text.rstrip().endswith((",", ";")):
        return f"this {open_[-1][0]} is not closed", open_[-1][1]
    return None


def _finding(one: Spoken, offset: int, said: str) -> Finding:
    place = one.place(offset)
    return Finding(WARNING, "repeat", said, place.line, place.column)
