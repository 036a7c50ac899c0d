# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""From a text to logical lines, and from a line to its sentences, each with its place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.text_charts import without_charts
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import STS

__all__ = ["Line", "logical_lines", "sentences_in"]

_INSTRUCTION = WordForm(r"\s*(?:\d{1,2}[.)]\s|-\s|•)", re.NOFLAG)
_LABEL = WordForm(
    r"(?:\d+(?:st|nd|rd|th)\b(?:[^.:]|\balt\.){0,24}\b(?:rounds?|rnds?|rows?)\b|(?:rounds?|rnds?|rows?|r)\s?\d|[a-z -]{3,20}\s(?:rounds?|rnds?|rows?)\b[^.:]{0,20}:|n\d:|"
    r"needles? \d[^.:;]{0,12}:)",
)
_COUNTED_OUT = WordForm(
    r"\b(?:sts?|stitch(?:es)?)\.?[)\]]\.?$", re.NOFLAG
)  # "(48 sts)" ends a round
_CROSSING = WordForm(r"\d+/\d+ ", re.NOFLAG)  # "2/2 RC" begins an instruction
_WRAPPED = 56  # characters; a line that is as long and ends in its midst was wrapped


@attrs.frozen
class Line:
    """A logical line: its text, and where its pieces stood."""

    text: str
    pieces: tuple[tuple[int, int, int], ...]  # offset in `text`, line, column
    after_blank: bool = True
    before_blank: bool = False
    more_steps: int = 0  # numbered steps that were joined to the one it begins with

    def place(self, offset: int) -> st.TextPlace:
        """Return the place in the text of a character of this line."""
        if len(self.pieces) == 1:
            ((start, at_line, at_column),) = self.pieces
            return st.TextPlace(at_line, at_column + offset - start)
        line, column = 1, 1
        breaks = []
        for start, at_line, at_column in self.pieces:
            if start <= offset:
                line, column = at_line, at_column + offset - start
            else:
                breaks.append((start - offset + 1, at_line, at_column))
        return st.TextPlace(line, column, tuple(breaks))


@lru_cache(maxsize=2)
def logical_lines(text: str) -> tuple[Line, ...]:
    """Join wrapped lines, and keep where each piece stood; charts are left out."""
    return tuple(_joined(without_charts(text)))


def _joined(text: str) -> Iterator[Line]:
    pieces: list[tuple[int, int, int]] = []
    joined, blank, last, steps = "", True, "", 0
    notes = _is_in_notes(text)
    for number, raw in enumerate(text.split("\n"), start=1):
        bare = raw.strip()
        indent = len(raw) - len(raw.lstrip())
        bold = _BOLD.match(bare) if bare.startswith(("**", "__")) else None
        if bold is not None:
            if joined:
                yield Line(joined, tuple(pieces), blank, not bare)
            bare = bold["title"] + (f" {bold['rest']}" if bold["rest"] else "")
            joined, last, pieces, blank = bare, bare, [(0, number, indent + 3)], True
            if bold["rest"]:
                pieces.append((len(bold["title"]) + 1, number, indent + 1 + bold.start("rest")))
            continue
        if joined and (step := _needle_step(joined, last, bare)):
            pieces.append((len(joined) + 1, number, indent + step + 1))
            joined += " " + bare[step:]
            last, steps = bare, steps + 1
            continue
        hangs = bool(joined and bare and indent) and _hangs(
            joined, last, bare, indent - pieces[0][2]
        )
        if joined and bare and (hangs or _belongs(joined, last, bare, indent, notes=notes)):
            joined += ": " if _ROUND_ALONE.fullmatch(joined) else " "
            pieces.append((len(joined), number, indent + 1))
            joined += bare
            last = bare
            continue
        if joined:
            yield Line(joined, tuple(pieces), blank, not bare, steps)
            blank, steps = False, 0
        blank = blank or not bare
        if joined and bare and pieces and pieces[-1][1] == number - 1:
            blank = False
        joined, last, pieces = bare, bare, [(0, number, indent + 1)]
    if joined:
        yield Line(joined, tuple(pieces), blank, True, steps)


_BOLD = WordForm(
    r"(\*\*|__)(?P<title>[A-Z][^*_]*[^*_\s])(?:\1:?$|(?<=:)\1\s+(?P<rest>\S.*)$)", re.NOFLAG
)


def _is_in_notes(text: str) -> bool:
    """Tell whether lines begin in small letters as a rule: notes for oneself, one a line.

    A line behind one that stops in its midst may be the rest of a paragraph, and tells nothing.
    """
    lines = [line.strip() for line in text[:20_000].split("\n")]
    firsts = [
        line[0]
        for before, line in pairwise(["", *lines])
        if line[:1].isalpha() and not (len(before) >= _WRAPPED and before[-1] not in ".:!?")
    ]
    return len(firsts) > 5 and 2 * sum(first.islower() for first in firsts) > len(firsts)


_STEP_NUMBER = WordForm(r"[A-H]?\d{1,2}[.)] +(?=\S)", re.NOFLAG)
_ROW_LABEL = WordForm(r"(?:rnds?|rounds?|rows?|r) ?\d|[^.;,]{1,30}:")


def _hangs(joined: str, last: str, bare: str, further: int) -> bool:
    """Tell whether a line stands under the words of a numbered step that goes on: "13. Needle 1: …"."""
    step = _STEP_NUMBER.match(joined)
    if step is None or further != step.end() - 1:
        return False
    return last[-1] in ".,;" and (_OF_NEEDLE.match(bare) is not None or not _ROW_LABEL.match(bare))


def _belongs(joined: str, last: str, bare: str, indent: int, *, notes: bool) -> bool:
    """Tell whether a line goes on with the one before it."""
    if joined.startswith("#") or (bare.count("|") > 1 and joined.count("|") > 1):
        return False
    if _is_next_needle(joined, last, bare):
        return True
    if indent and not _INSTRUCTION.match(bare) and not _LABEL.match(bare):
        return True
    if _goes_on(joined) or (not notes and bare[0].islower() and _OPEN.search(last)):
        return True
    return (
        len(last) >= _WRAPPED
        and not notes
        and last[-1] not in ".:!?"
        and not _COUNTED_OUT.search(last)
        and not _CROSSING.match(bare)
        and not (last[-1] in ")]" and _AGAIN.match(bare))
        and (bare[0].islower() or (bare[0].isdigit() and not _INSTRUCTION.match(bare)))
        and not _LABEL.match(bare)
    )


_AGAIN = WordForm(
    r"(?:rep|repeat|work|next|continue|cont)\b", re.NOFLAG
)  # "(2 sts dec'd)" / "rep rnds 1-2"
_ROUND_ALONE = re.compile(  # "Decrease round", whose needles stand on lines of their own
    r"(?:the )?(?:(?:dec(?:rease)?|inc(?:rease)?|shaping|toe|gusset|next) (?:round|rnd)|(?:round|rnd) \d+)",
    re.IGNORECASE,
)
_OF_NEEDLE = re.compile(r"(?:needle|ndl\.?|dpn|n) ?(\d)\s*:(?! *pick)", re.IGNORECASE)


def _is_next_needle(joined: str, last: str, bare: str) -> bool:
    """Tell whether a line is of the next needle of the round that the lines before begin."""
    needle = _OF_NEEDLE.match(bare)
    if needle is None or (head := _ROUND_ALONE.match(joined)) is None:
        return False
    before = _OF_NEEDLE.match(last) or _FIRST_BEHIND.match(last)
    if before is None:
        return needle[1] == "1" and not joined[head.end() :].strip(" :")
    return int(needle[1]) == int(before[1]) + 1


_FIRST_BEHIND = WordForm(rf"{_ROUND_ALONE.pattern} ?: ?{_OF_NEEDLE.pattern}")
_STEP = WordForm(  # "2. On needle 2: k1, ssk, k to the end"
    r"(?P<step>\d{1,2})[.)] +(?P<said>(?:on |with )?(?:the )?(?:(?:needle|ndl\.?|dpn|n) ?(?P<n>\d)|(?P<nth>first|second|third|fourth|1st|2nd|3rd|4th) (?:needle|ndl|dpn))\b[^*]*)",
)
_STEP_OF_ONE = re.compile(r"(?P<step>\d{1,2})[.)] [^*]*\b(?:needle 1|n ?1|(?:first|1st) needle)\b", re.IGNORECASE)  # fmt: skip
_NO_SHAPING = WordForm(r"\b(?:pick|cast|bind|hold|graft|turn|slip|wait)\b")
_NTH = ("first", "second", "third", "fourth")


def _needle_step(joined: str, last: str, bare: str) -> int:
    """Return where a numbered step begins that tells the next needle of a round; 0 for others."""
    step, before = _STEP.match(bare), _STEP.match(last) or _STEP_OF_ONE.match(last)
    if step is None or before is None or int(step["step"]) != int(before["step"]) + 1:
        return 0
    many = 1 if before.re is _STEP_OF_ONE else _needle_of(before)
    follows = _needle_of(step) == many + 1 and (many > 1 or joined == last)
    if not follows or _NO_SHAPING.search(joined + bare):
        return 0
    return step.start("said")


def _needle_of(step: re.Match[str]) -> int:
    nth = (step["nth"] or "").lower()
    return int(step["n"] or 0) or next(
        (n for n, word in enumerate(_NTH, 1) if word == nth or nth[:1] == str(n)), 0
    )


_OPEN = WordForm(  # words that end no line: "until you have" / "finished row 16"
    r"\b(?:the|an?|of|and|or|to|with|from|by|until|you have|have been|at|on|onto|into|over|every|each|then)$",
)
_HEAD = WordForm(r"[A-Za-z][A-Za-z '/-]{1,28}:", re.NOFLAG)


def _goes_on(line: str) -> bool:
    """Tell whether instructions stop in their midst; heads and remarks may end as they like."""
    return line.endswith((",", ";")) and not _HEAD.match(line)


_COUNTED = rf"[(\[]\s*=?\s*\d+[^)\]a-z]*[)\]]?\s*{STS}"
_SHORT = WordForm(
    r"(?:\b(?:approx|e\.g|i\.e|etc|no|vs|incl|beg|rep|foll|rem|alt|cont|tog|patt|dec|inc|in|"
    r"cm|mm|oz|yds|st|sts|rnd|rnds|opp|sl|col|pat|ins))\.$",
)
_STOP = WordForm(
    rf"[.!?][)\]\"']*(?=\s+(?:[A-Z*(\[\d—–-]|join in the round\b))\s+(?!{_COUNTED})|(?<=[)\]])\s+(?=[A-Z*])",
    re.NOFLAG,
)


_NEEDLE = WordForm(
    r"(?:n\d(?:(?:,? (?:and|&)|,| ?[+/&]) ?n?\d)*\s*[:.]|needles?\s+\d[^.:]{0,16}:|(?:on (?:the )?)?\d(?:st|nd|rd|th) (?:and \d(?:st|nd|rd|th) )?needles?\b)",
)


_ROW_BEGINS = WordForm(  # "(2 sts dec'd) Rnd 2: Knit."
    r"(?:(?:rnds?|rounds?|rows?|r) ?\d[^.:;]{0,20}:|\d+(?:st|nd|rd|th) (?:rnd|round|row)\b|"
    r"rep(?:eat)? (?:rnds?|rounds?|rows?|these|the last)\b|"
    r"(?:next|dec|inc|set-?up)\w* (?:rnd|round|row)\b[^.:;]{0,12}:)",
)
_FROM_STAR = WordForm(r"rep(?:eat)? (?:from|between) \*|rep(?:eat)? \*")


_LABEL_AND_DASH = WordForm(  # "1st row (wrong side). - Sl. 1", "Dec. round. – K. 1"
    r"(?!(?:[kp]|knit|purl|work|rep|cast|bind|sl|turn|join)\b)[^-–—:;*.]{1,12}\.?[^-–—:;*.]{1,40}[a-z)\]]\. [-–—] ",
)


@lru_cache(maxsize=8192)
def sentences_in(text: str, offset: int = 0) -> tuple[tuple[int, str], ...]:
    """Return the sentences of a line, with the offset of each."""
    return tuple(_sentences(text, offset))


_YARN_FIRST = WordForm(  # "With MC only, Rnd 1: …": the yarn or the needles, then the round
    r"(?P<lead>(?:with|using|change to|join|return to) (?:MC|CC\d?|[A-E]|(?:the )?(?:main|contrast(?:ing)?) colou?r|(?:smaller|larger) needles?)(?: only| alone| again)?)[,:] (?=(?:rnd|round|row) ?\d+(?: \((?:RS|WS)\))?:)",
)


def _sentences(text: str, offset: int) -> Iterator[tuple[int, str]]:
    start = offset
    if (first := _YARN_FIRST.match(text, offset)) is not None:
        yield offset, first["lead"]
        start = offset = first.end()
    for stop in _STOP.finditer(text, offset):
        before = text[start : stop.start() + 1]
        after = text[stop.end() : stop.end() + 48]
        if _NEEDLE.match(text, stop.end()):
            continue
        if "*" in before and _FROM_STAR.match(text, stop.end()):
            continue
        if text[stop.start()] == "?" and after[:1] == "(":
            continue  # the answer to a question, in brackets
        if _LABEL_AND_DASH.fullmatch(text[offset : stop.end() + 2]):
            continue
        if text[stop.start()] in ".!?":
            if _SHORT.search(before) and not _ends_here(before, after):
                continue
        elif not re.search(
            rf"{STS}[)\]]$", text[start : stop.start()].rstrip(), re.IGNORECASE
        ) and not _ROW_BEGINS.match(text, stop.end()):
            continue
        end = stop.end()
        if text[start:end].strip():
            lead = len(text[start:end]) - len(text[start:end].lstrip())
            yield start + lead, text[start + lead : end].rstrip()
        start = end
    if text[start:].strip():
        lead = len(text[start:]) - len(text[start:].lstrip())
        yield start + lead, text[start + lead :].rstrip()


_SHARED_NEXT = WordForm(  # "58 (68) sts: 17 (20) on needles 1 and 4, …"
    r"\d+(?: ?[(\[][\d,: ]+[)\]])? (?:sts|stitches)\s*[:,(—–-] ?\d[^a-z.;]{0,20}(?:sts )?(?:each )?on\b",
    re.NOFLAG,
)
_ROW_NEXT = WordForm(r"\d+(?:st|nd|rd|th) (?:round|rnd|row)")


def _ends_here(before: str, following: str) -> bool:
    """Tell whether the full stop behind a short word ends a sentence all the same."""
    word, after = before.rsplit(None, 1)[-1].lower(), following[:1]
    next_row = _ROW_NEXT.match(following) or _SHARED_NEXT.match(following)
    return (after.isupper() or after in "*([" or next_row is not None) and word in ("sts.", "st.", "rnds.", "rnd.", "in.", "cm.", "mm.", "rem.", "beg.", "dec.", "inc.", "tog.", "patt.", "rep.", "in.", "no.")  # fmt: skip
