"""What documents of a pattern are put together from: parts in one's own words, techniques, ends.

A sock's report and a text that somebody wrote give the same pieces.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

import attrs

from loopwright.design.front import FrontMatter, Paper
from loopwright.pattern import Pattern, Words
from loopwright.report._blocks import Block, DocumentSection, Paragraph, WorkLines
from loopwright.report._instructions import Heading, InstructionLine, LineKind
from loopwright.report._said import paragraphs
from loopwright.report._techniques import Technique

__all__ = [
    "abbreviations",
    "credit_section",
    "in_own_words",
    "own_paragraphs",
    "paper_of",
    "part_section",
    "technique_section",
    "technique_sections",
]

Fields = Mapping[str, str]
_LONG = (("rnds", "rounds"), ("rnd", "round"), ("Rnds", "Rounds"), ("Rnd", "Round"))


def paper_of(front: FrontMatter, words: Words) -> Paper:
    """Return the paper that was asked for, or that of the country."""
    return front.paper or (Paper.LETTER if words is Words.US else Paper.A4)


def abbreviations(front: FrontMatter, pattern: Pattern) -> tuple[tuple[str, str], ...]:
    """Return a pattern's abbreviations, without those that are written out."""
    listed = pattern.abbreviations
    return tuple(one for one in listed if one[0] != "rnd" or front.rounds == "rnd")


def own_paragraphs(front: FrontMatter, title: str, where: str, fields: Fields) -> list[str]:
    """Return what the designer says before or after a part, its fields filled in."""
    texts = front.before if where == "before" else front.after
    return paragraphs(front.filled(texts.get(title.lower(), ""), fields))


def in_own_words(front: FrontMatter, heading: Heading, fields: Fields) -> Heading:
    """Return a part with the designer's own wordings, and rounds called as asked for."""
    if not front.wording and front.rounds == "rnd":
        return heading
    lines = [
        attrs.evolve(line, text=_own_line(line, heading.title, front, fields))
        for line in heading.lines
    ]
    return attrs.evolve(heading, lines=tuple(lines))


def _own_line(line: InstructionLine, part: str, front: FrontMatter, fields: Fields) -> str:
    if line.kind is LineKind.WORK:
        for wording in front.wording:
            if wording.fits(line.text, part):
                return front.filled(wording.says, fields)
    text = line.text
    for short, long in _LONG if front.rounds == "round" else ():
        text = re.sub(rf"\b{short}\b", long, text)
    return text


def part_section(
    front: FrontMatter, plain: Heading, fields: Fields, *, boxes: bool
) -> DocumentSection:
    """Return a part of the instructions, with what the designer says before and after it."""
    heading = in_own_words(front, plain, fields)
    lines = tuple((line.kind.value, line.text, line.told) for line in heading.lines)
    blocks: list[Block] = [
        *map(Paragraph, own_paragraphs(front, plain.title, "before", fields)),
        WorkLines(lines, boxes=boxes),
        *map(Paragraph, own_paragraphs(front, plain.title, "after", fields)),
    ]
    return DocumentSection(heading.title, blocks, level=3)


def technique_sections(needed: Sequence[Technique]) -> Iterator[DocumentSection]:
    """Yield the techniques under their heading, if there are any."""
    if needed:
        yield DocumentSection("Techniques", (), may_shrink=True)
    yield from (attrs.evolve(technique_section(one), may_shrink=True) for one in needed)


def technique_section(one: Technique) -> DocumentSection:
    """Return a technique; what can go wrong for good comes first."""
    blocks: list[Block] = [Paragraph(line) for line in one.lines]
    if one.caution:
        blocks.insert(0, Paragraph(one.caution, "caution"))
    return DocumentSection(one.title, blocks, level=3)


def credit_section(front: FrontMatter, fields: Fields) -> Iterator[DocumentSection]:
    """Yield credits and copyright, if there are any."""
    said: Iterable[str] = filter(None, (front.credits, front.copyright))
    blocks = [Paragraph(front.filled(text, fields), "small") for text in said]
    if blocks:
        yield DocumentSection("Credits", blocks, may_shrink=True)
