# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Blocks of lines that are set in under a heading, and the numbers of such parts: "3  Turn"."""

from __future__ import annotations

from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["CRS", "LABEL", "NTH", "ON", "SHORT_LABEL", "WORK", "stands_alone", "title_of_part"]

CRS = r"(?:rounds?|rnds?|rds?|rows?)"
LABEL = rf"(?:{CRS} ?\d+(?: ?[-–—,&] ?\d+| and \d+| to \d+)*|r ?\d+|\d+(?:st|nd|rd|th) {CRS}|next {CRS}|[a-z-]{{3,10}} {CRS})"
ON = r" ?(?:[-–—,&]|to\b|and\b) ?"
NTH = r"\d+(?:st|nd|rd|th)"
SHORT_LABEL = rf"(?:{CRS} ?\d+(?:{ON}\d+)*|r ?\d+(?:{ON}r? ?\d+)*|{NTH}(?:{ON}{NTH})* {CRS})"
WORK = (  # how a line of work begins
    r"(?:(?:with|using|now|then|next|loosely)\b|us \d[^:;.]{0,6}:|r\d|\d+(?:st|nd|rd|th) |(?:cast|co|knit|k|purl|p|work|repeat|rep|join|divide|slip|sl|pick|place|pm|bind|bo|cut|break|turn|continue|cont|change|weave|graft|inc|dec|increase|decrease|rib|thread|draw|put|take)\b|[*(\[]?[kp] ?\d|n\d ?:|needles? \d)"
)

_LABELLED = WordForm(rf"\s*{SHORT_LABEL}\s*:")
_PART = WordForm(  # "3  Turn", above lines that are set in
    r"\s*(?:part |stage |section )?\d{1,2}[.):]? +(?P<title>(?-i:[A-Z])[a-z'-]+(?: (?!off\b|on\b)[a-z'-]+){0,3})$"
)
_NO_TITLE = WordForm(
    r"(?:cast|co|knit|k|purl|p|work|rep|repeat|join|divide|slip|sl|pick|place|bind|cut|break|weave|graft|draw|put|take|change|continue)\b"
)


def title_of_part(line: str) -> int:
    """Return where the title begins of a line that numbers a part, 0 for others.

    Examples
    --------
    >>> title_of_part("3  Turn"), title_of_part("3. Join"), title_of_part("3 rounds of rib.")
    (3, 0, 0)
    """
    found = _PART.match(line)
    return 0 if found is None or _NO_TITLE.match(found["title"]) else found.start("title")


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())


def stands_alone(lines: list[str], at: int) -> bool:
    """Tell whether a line that is indented goes on with none before it: a block under a heading."""
    line, before = lines[at], lines[at - 1] if at else ""
    if len(_WORDS.findall(line)) < 2 and _LABELLED.match(line) is None:
        return False  # of a drawing, as like as not
    if not before.strip():
        return True
    if _indent(before) >= _indent(line):
        return stands_alone(lines, at - 1) if before[:1].isspace() else False
    if len(before) >= 40 or not before.rstrip()[-1].isalnum():
        return False
    if _ITEM.match(before) and not title_of_part(before):
        return False
    return not line.lstrip()[0].islower() or _BEGINS_WORK.match(line.lstrip()) is not None


_WORDS = WordForm(r"[A-Za-z]{2,}|[kp] ?\d")
_ITEM = WordForm(rf"\s*(?:\d|[-•–*]\s|[a-h]\)|{LABEL}|{WORK})")
_BEGINS_WORK = WordForm(WORK)
