"""What a designer says beside the sock: names, needles, paper, and words of one's own.

Nothing here changes a number. Numbers in one's own words are written as fields, such as
``{foot girth}``, so that they follow the sock; a text without fields is never searched for numbers.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Final

import attrs

from loopwright.border import guard
from loopwright.choice import Choice
from loopwright.errors import MeasureError
from loopwright.needle_table import NeedleSize, needle_size, needle_sizes

__all__ = ["FrontMatter", "NeedleSize", "Paper", "Wording", "needle_size", "needle_sizes"]

_FIELD: Final = re.compile(r"\{([a-z][a-z ]*)\}")


class Paper(Choice):
    """What the documents are printed on.

    Examples
    --------
    >>> Paper("A4").value
    'A4'
    """

    A4 = "A4"
    LETTER = "Letter"
    A5 = "A5"


@attrs.frozen
class Wording:
    """One's own words for a step: which line they replace, and what that line said.

    Parameters
    ----------
    instead_of : str
        The line as loopwright writes it; numbers in it may have changed since.
    says : str
        One's own words; fields such as ``{foot girth}`` are filled in.
    part : str
        The heading that it stands under; without one, wherever the line stands.

    Examples
    --------
    >>> mine = Wording("Rnds 1-3: Knit.", "Knit three rounds in peace.")
    >>> mine.fits("Rnds 1-5: Knit."), mine.fits("Rnds 1-5: Purl.")
    (True, False)
    >>> Wording("Rnds 1-3: Knit.", "Go on.", part="Leg").fits("Rnds 1-5: Knit.", "Foot")
    False
    """

    instead_of: str
    says: str
    part: str = ""

    def fits(self, line: str, part: str = "") -> bool:
        """Whether a line is the one that these words were made for, but for its numbers."""
        if self.part and self.part.lower() != part.lower():
            return False
        return _without_numbers(line) == _without_numbers(self.instead_of)


def _without_numbers(line: str) -> str:
    """Return a line without its numbers, its rounds called by their short name."""
    short = re.sub(r"\bround(s?)\b", r"rnd\1", line, flags=re.IGNORECASE)
    bare = re.sub(r"\d+(?:\s*\([\d, ]+\))?", "#", short)
    return re.sub(r"[#\s,.-]+", " ", bare).strip().lower()


def _frozen_texts(texts: Mapping[str, str]) -> Mapping[str, str]:
    return MappingProxyType({key.lower(): text for key, text in texts.items()})


@attrs.frozen(kw_only=True)
class FrontMatter:
    """What stands at a document's head and end, and between its parts.

    Parameters
    ----------
    author, credits, copyright, skill : str
    notes : tuple of str
    needle_mm : tuple of float, mm
        The needles that gave the gauge; the first for most of the work.
    needle_for : tuple of str
        What each needle is for, where there are several.
    picture : path, optional
        Of the finished piece.
    paper : Paper
    large_print : bool
        Letters of 18 pt.
    rounds : str
        ``"rnd"`` or ``"round"``: how rounds are called in the instructions.
    inches_first : bool
    before, after : mapping of str to str
        Text before and after a part, by its heading.
    wording : tuple of Wording

    Examples
    --------
    >>> front = FrontMatter(author="Ione Skerry", needle_mm=(2.25,))
    >>> [str(size) for size in front.needles]
    ['2.25 mm (US 1, old UK 13)']
    >>> front.filled("Knit {stitches} sts.", {"stitches": "60 (64)"})
    'Knit 60 (64) sts.'
    """

    author: str = ""
    credits: str = ""
    copyright: str = ""
    skill: str = ""
    notes: tuple[str, ...] = ()
    needle_mm: tuple[float, ...] = ()
    needle_for: tuple[str, ...] = ()
    picture: Path | None = None
    paper: Paper | None = attrs.field(default=None, converter=attrs.converters.optional(Paper))
    large_print: bool = False
    rounds: str = "rnd"
    inches_first: bool = False
    before: Mapping[str, str] = attrs.field(factory=dict, converter=_frozen_texts)
    after: Mapping[str, str] = attrs.field(factory=dict, converter=_frozen_texts)
    wording: tuple[Wording, ...] = ()

    def __attrs_post_init__(self) -> None:
        for mm in self.needle_mm:
            needle_size(mm)
        if self.rounds not in ("rnd", "round"):
            raise MeasureError("rounds", repr(self.rounds), "expected 'rnd' or 'round'")

    @property
    def needles(self) -> tuple[NeedleSize, ...]:
        """The needles with all their numbers."""
        return tuple(needle_size(mm) for mm in self.needle_mm)

    def filled(self, text: str, fields: Mapping[str, str]) -> str:
        """Return one's own text with its fields filled in.

        Raises
        ------
        MeasureError
            A field that there isn't; the message lists those there are.
        """

        def fill(match: re.Match[str]) -> str:
            if match[1] not in fields:
                raise MeasureError(
                    "a text's field", f"{{{match[1]}}}", f"expected one of {', '.join(fields)}"
                )
            return fields[match[1]]

        return _FIELD.sub(fill, text)


guard(globals())
