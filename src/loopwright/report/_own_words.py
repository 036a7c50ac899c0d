"""What a text says under its headings and no step says again, for the document made of it.

The reader takes head matter and harmless words for read, and leaves them out. On paper their
headings would stand empty, and words on seams and ribbons would be lost.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import attrs

from loopwright.pattern import Note, Pattern, Section, Step

__all__ = ["with_own_words"]

# Headings whose contents stand under "Materials" and "Abbreviations".
_HEAD = re.compile(
    r"(?:(?:finished|knitted|actual) )?(?:sizes?|measurements?|dimensions|materials?|gauge|tension"
    r"|yarns?|needles?|notions|supplies|tools|abbreviations|you will need)",
    re.IGNORECASE,
)


def with_own_words(pattern: Pattern, text: str) -> Pattern:
    """Return a pattern with its text's own words where nothing else stands under a heading.

    Notes under a heading of materials go to the materials. A heading with nothing under it goes.

    Examples
    --------
    >>> from loopwright.pattern import read, write
    >>> text = '''Ring
    ...
    ... MATERIALS
    ... Some wool
    ...
    ... RING
    ... CO 8 sts. Join in the round. Rnds 1-3: Knit. BO all sts.
    ...
    ... MAKING UP
    ... Sew the seam with a flat stitch.'''
    >>> told = with_own_words(read(text), text)
    >>> told.materials
    ('Materials: Some wool',)
    >>> print(write(told).splitlines()[-1])
    Note: Sew the seam with a flat stitch.
    """
    titles = {step.title for step in pattern.steps if isinstance(step, Section)}
    materials, steps = list(pattern.materials), list[Step]()
    for heading, below in _by_section(pattern):
        told = [step.words for step in below if isinstance(step, Note) and not step.caution]
        only_told = len(told) == len(below)
        if heading is None or not only_told:
            steps += [*([] if heading is None else [heading]), *below]
        elif _HEAD.fullmatch(heading.title.strip(" :")):
            label = heading.title.strip(" :").capitalize()
            materials += [f"{label}: {'; '.join(told)}"] if told else []
        elif below or (below := [*map(Note, _own_words(text, heading.title, titles))]):
            steps += [heading, *below]
    return attrs.evolve(pattern, steps=tuple(steps), materials=tuple(materials))


def _by_section(pattern: Pattern) -> Iterator[tuple[Section | None, list[Step]]]:
    heading, below = None, list[Step]()
    for step in pattern.steps:
        if isinstance(step, Section):
            yield heading, below
            heading, below = step, []
        else:
            below.append(step)
    yield heading, below


def _own_words(text: str, title: str, titles: set[str]) -> Iterator[str]:
    """Yield the lines under a heading; what can't stand in a note is left out."""
    lines = [line.strip() for line in text.splitlines()]
    bare = [line.strip("# :") for line in lines]
    if title not in bare:
        return
    begin = bare.index(title) + 1
    for line, plain in zip(lines[begin:], bare[begin:], strict=True):
        if plain in titles:
            return
        if line and not {"{", "}"} & {*line}:
            yield line
