# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A text as its sentences, each with its label, section and place: for what it shows alone."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property, lru_cache
from itertools import compress, groupby
from typing import Generic, TypeVar

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._editing.figures import digits, in_figures, sizes_in_brackets
from loopwright.pattern._reading.front import TEXT_SECTIONS, heading_in
from loopwright.pattern._reading.labels import Label, label_of
from loopwright.pattern._reading.lines import Line, logical_lines, sentences_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.sizes_by_name import LED_BY_SIZES
from loopwright.pattern._rewording.triggers import WordForm, WordIndex
from loopwright.pattern._rewording.wordings import tidied

__all__ = [
    "OF_SOME_SIZES",
    "Before",
    "Lines",
    "Sentences",
    "Spoken",
    "by_line",
    "next_on_line",
    "plain",
    "plain_lines",
    "spoken",
]

_BEGINS = WordForm(r"(?:(?:using|with) [^.]{1,40}?,? )?(?:loosely )?(?:cast on|co) \d")
_T = TypeVar("_T")
MAX_LINE = 2000  # characters; longer lines are none that a knitter could follow


_SIDE = WordForm(r"\((?:RS|WS|right side|wrong side)\):? (?=\S)")  # "Row 1: (RS) K5"


@attrs.frozen
class Spoken:
    """One sentence: ``label`` is what stands before its colon, ``section`` counts the headings.

    ``figures`` is its text with number words in digits, and numbers by size in brackets.
    """

    said: MappedText
    label: Label | None
    section: int
    title: str
    _line: Line
    _in_figures: MappedText
    text: str
    figures: str
    start: int = attrs.field(init=False)  # of the instruction, behind its label

    @start.default
    def _behind_label(self) -> int:
        if self.label is None:
            return 0
        side = _SIDE.match(self.text, self.label.end)
        return self.label.end if side is None else side.end()

    @cached_property
    def line(self) -> int:
        """The line of the text in which it begins."""
        return self.place().line

    def place(self, offset: int = 0) -> st.TextPlace:
        """Return where a character of the sentence stands in the text, at most its end."""
        return self._place(self.said, offset)

    def place_in_figures(self, offset: int) -> st.TextPlace:
        """Return where a character of :attr:`figures` stands in the text, at most their end."""
        return self._place(self._in_figures, offset)

    def _place(self, said: MappedText, offset: int) -> st.TextPlace:
        return self._line.place(said.at[min(offset, len(said.text) - 1)])


OF_SOME_SIZES = WordForm(  # "size M only: …", "Round 1 (Large): …"
    r"\bsizes?\b[^:.;]*\bonly\b|\bonly\b[^:.;]*\bsizes?\b|^[^:.;]{1,30} only:|"
    r"^(?:rounds?|rnds?|rows?) [\d –-]{1,8}(?: ?\((?!rs\b|ws\b|right|wrong|dec|inc|next|both|all)(?:for )?[a-z][a-z ,&]{0,30}\):|(?:,| for) (?:sizes? )?[a-z]{1,12}:)"
    rf"|{LED_BY_SIZES}"
)


def by_line(sentences: Iterable[Spoken]) -> Iterator[list[Spoken]]:
    """Yield the sentences of each line."""
    for _, line in groupby(sentences, key=lambda one: one.line):
        yield list(line)


def next_on_line(one: Spoken, after: Spoken | None) -> Spoken | None:
    """Return the sentence behind another, where it stands on the same line."""
    same = after is not None and after.line == one.line
    return after if same else None


_COMMA = WordForm(r"(?<=\d),(?=\d\s*(?:[(\[][^)\]]{0,40}[)\]]|[)\]])?\s*(?:cm|mm)\b)", re.NOFLAG)


_DOTTED = WordForm(  # "K.2, M.1", but not "rep from * to m. 24 sts"
    r"(?<![\w.])(?P<verb>[kp]|(?<!\bto )(?<!the )(?<!next )(?<!last )(?<!first )m)\. ?(?=\d+(?!\d|st|nd|rd|th))"
)
_ROUND = WordForm(r"\b(?P<r>R|r)d(?P<s>s?)\b(?=\.? ?\d|s?,|\.| )", re.NOFLAG)
_SO_OFTEN = WordForm(r"(?<=[)\]]) ?[x×] ?(?P<n>\d{1,2})(?=\W|$)(?! ?(?:g|oz|m|cm|mm)\b)")


@lru_cache(maxsize=8192)
def plain(line: str) -> MappedText:
    """Return a line with plain quotes and fractions, and with points for decimal commas.

    Examples
    --------
    >>> plain("Foot: 20 [22,5] cm, 8½ in").text
    'Foot: 20 [22.5] cm, 8.5 in'
    """
    said = MappedText.of(line[:MAX_LINE]).sub(_COMMA, ".")
    said = said.sub(_DOTTED, r"\g<verb>")
    said = said.sub(_ROUND, lambda match: f"{match['r']}nd{match['s']}")
    return tidied(said.sub(_SO_OFTEN, lambda match: f" {match['n']} times"))


class Lines(tuple[MappedText, ...]):
    """The lines of a text, of which those can be taken that may hold some form of words.

    That is told of them as they stand in the text as well, and with number words in digits.
    """

    raw: Sequence[str]

    @classmethod
    def of(cls, text: str) -> Lines:
        raw = text.split("\n")
        lines = cls(map(plain, raw))
        lines.raw = raw
        return lines

    @cached_property
    def _index(self) -> WordIndex:
        both = zip(self, self.raw, strict=True)
        return WordIndex([(line.text, digits(line.text), raw) for line, raw in both])

    def about(self, *forms: WordForm) -> Iterator[tuple[int, MappedText]]:
        """Return the lines that may hold one of some forms, with their numbers."""
        return compress(enumerate(self, start=1), self._index.may_hold(forms))

    def raw_about(self, *forms: WordForm) -> Iterator[tuple[int, str]]:
        """Return them as they stand in the text."""
        return compress(enumerate(self.raw, start=1), self._index.may_hold(forms))


@lru_cache(maxsize=2)
def plain_lines(text: str) -> Lines:
    """Return all lines of a text made plain, once for all checks that ask."""
    return Lines.of(text)


class Sentences(tuple[Spoken, ...]):
    """Sentences of a text, of which those can be taken that may hold some form of words.

    Hardly any sentence holds the words of a form: a check looks at those alone that do, by its
    text or its figures. Forms `ahead` it may hold together with the next one, those `beyond`
    with the next two.
    """

    @cached_property
    def _index(self) -> WordIndex:
        return WordIndex([(one.text, one.figures) for one in self])

    @cached_property
    def pairs(self) -> list[tuple[Spoken, Spoken | None]]:
        """Each sentence with the one behind it."""
        return [*zip(self, [*self[1:], None], strict=False)]

    @cached_property
    def lines(self) -> list[list[Spoken]]:
        """The sentences of each line."""
        return list(by_line(self))

    @cached_property
    def _line_index(self) -> WordIndex:
        return self._index.joined(len(line) for line in self.lines)

    def earlier_on_line(self, place: int) -> list[Spoken]:
        """Return the sentences before one on its line."""
        first = place
        while first and self[first - 1].line == self[place].line:
            first -= 1
        return [*self[first:place]]

    def about(self, *forms: WordForm, ahead: Sequence[WordForm] = ()) -> Iterator[Spoken]:
        """Return the sentences that may hold one of some forms, in order."""
        return compress(self, self._index.may_hold(forms, ahead))

    def places_about(
        self,
        *forms: WordForm,
        ahead: Sequence[WordForm] = (),
        beyond: Sequence[WordForm] = (),
    ) -> Iterator[int]:
        """Return where they stand."""
        return compress(range(len(self)), self._index.may_hold(forms, ahead, beyond))

    def passing(self, *forms: WordForm) -> Iterator[tuple[int, tuple[Spoken, ...]]]:
        """Return where they stand, each with the sentences passed over before it."""
        last = -1
        for place in self.places_about(*forms):
            yield place, self[last + 1 : place]
            last = place

    def pairs_about(
        self, *forms: WordForm, ahead: Sequence[WordForm] = ()
    ) -> Iterator[tuple[Spoken, Spoken | None]]:
        """Return them with the ones behind them."""
        return compress(self.pairs, self._index.may_hold(forms, ahead))

    def lines_about(self, *forms: WordForm) -> Iterator[int]:
        """Return which of the lines may hold one of some forms, in their sentences together."""
        return compress(range(len(self.lines)), self._line_index.may_hold(forms))


class Before(Generic[_T]):
    """What the figures of the sentences before a place tell, taken up as far as it is asked for.

    Parameters
    ----------
    sentences : Sentences
    form : WordForm
        Without which no figures tell anything.
    tell : function
        What figures tell.
    """

    def __init__(
        self, sentences: Sentences, form: WordForm, tell: Callable[[str], Iterable[_T]]
    ) -> None:
        self._sentences, self._tell = sentences, tell
        self._places = sentences.places_about(form)
        self._next = next(self._places, None)
        self._told: list[_T] = []

    def __call__(self, place: int) -> list[_T]:
        while self._next is not None and self._next < place:
            self._told += self._tell(self._sentences[self._next].figures)
            self._next = next(self._places, None)
        return self._told


@lru_cache(maxsize=2)
def spoken(text: str) -> Sentences:
    """Return the sentences of a text; those of notes, materials and the like are left out."""
    return Sentences(_sentences(text))


_OF_PART = WordForm(  # "Row 1 of heel turn: …", "Round 1, Large: …"
    r"(?P<row>(?:rounds?|rnds?|rows?) \d{1,3}(?: ?(?:-|–|to|and|&) ?\d{1,3})?)"
    r"(?: of (?:the )?[a-z][a-z -]{2,24}|(?:,| for) (?!rs\b|ws\b|right|wrong)[a-z]{1,12})(?P<colon>: ?)(?=\S)"
)


_LED_BY_SIZES = WordForm(LED_BY_SIZES)


def _label(text: str) -> Label | None:
    """Return the label of a sentence, also one that names the part or the size that it is of."""
    if (found := label_of(text)) is not None:
        return found
    if lead := _LED_BY_SIZES.match(text):
        found = label_of(text[lead.end() :])
        return found and attrs.evolve(found, end=found.end + lead.end())
    if (match := _OF_PART.match(text)) is None:
        return None
    found = label_of(match["row"] + ":")
    return found and attrs.evolve(found, end=match.end())


_RUN_IN = WordForm(  # "THE LEG. Cast on 60 sts."
    r"\W*((?:[A-Z][A-Z'’-]+ ?){1,5})\. (?=[A-Z][a-z]|\d)", re.NOFLAG
)


def _sentences(text: str) -> Iterator[Spoken]:
    section, title, as_text = 0, "", False
    by_sign = sizes_in_brackets(text)
    for line in logical_lines(text):
        if len(line.text) > MAX_LINE:
            continue
        heading = line.text.lstrip("# ") if line.text.startswith("#") else heading_in(line)
        if heading is not None:
            section, title = section + 1, line.text.lower().strip("# :")
            as_text = heading.lower().strip(" :") in TEXT_SECTIONS
            continue
        as_text = as_text and not _BEGINS.match(line.text)
        if (run_in := _RUN_IN.match(line.text)) is not None:
            section, title = section + 1, run_in[1].lower()
        if as_text:
            continue
        tidy = plain(line.text)
        tidy = tidy if by_sign is None else tidy.sub(*by_sign)
        start = run_in.end() if run_in and tidy.text.startswith(run_in[0]) else 0
        for offset, sentence in sentences_in(tidy.text, start):
            said = tidy.piece(offset, offset + len(sentence))
            label, worded = _label(said.text), in_figures(said)
            yield Spoken(said, label, section, title, line, worded, said.text, worded.text)
