"""A text under change that remembers where each of its characters stood."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

import attrs

from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["MappedText"]

_WORK = (
    "knit ", "purl ", "work ", "rib ", "cast ", "bind ", "then ", "now ", "next ", "repeat ",
    "slip ", "place ", "continue ", "decrease ", "increase ", "join ", "cut ",
)  # fmt: skip


@attrs.frozen
class MappedText:
    """A piece of text, and for each character (and the end) its offset in the original.

    Examples
    --------
    >>> said = MappedText.of("Knit 2 together, k1")
    >>> short = said.sub(re.compile("Knit 2 together"), "k2tog")
    >>> short.text, short.at[short.text.index("k1")]
    ('k2tog, k1', 17)
    """

    text: str
    at: tuple[int, ...]

    @classmethod
    def of(cls, text: str) -> MappedText:
        """Return a text as it stands."""
        return cls(text, tuple(range(len(text) + 1)))

    def sub(
        self, pattern: re.Pattern[str] | WordForm, new: str | Callable[[re.Match[str]], str]
    ) -> MappedText:
        r"""Return the text with each match replaced; `new` may name groups as ``\\1``."""
        if pattern.search(self.text) is None:
            return self
        parts: list[str] = []
        places: list[int] = []
        done = 0
        as_it_stands = new if isinstance(new, str) and "\\" not in new else None
        for match in pattern.finditer(self.text):
            said = as_it_stands
            if said is None:
                said = match.expand(new) if isinstance(new, str) else new(match)
            if said == match[0]:
                continue
            begins = said.startswith(_WORK) and self.text.endswith((". ", "! "), 0, match.start())
            if begins and match[0][:1].isupper():
                said = said[0].upper() + said[1:]  # a sentence of its own still
            parts.append(self.text[done : match.start()])
            places.extend(self.at[done : match.start()])
            parts.append(said)
            places.extend(self._spread(*match.span(), said))
            done = match.end()
        if not done and not parts:
            return self
        parts.append(self.text[done:])
        places.extend(self.at[done:])
        return MappedText("".join(parts), tuple(places))

    def put(self, start: int, end: int, said: str) -> MappedText:
        """Return the text with words in the place of a piece of it."""
        words = MappedText(said, (*self._spread(start, end, said), self.at[end]))
        return self.cut(0, start).and_then(words).and_then(self.cut(end, len(self.text)))

    def _spread(self, start: int, end: int, said: str) -> Sequence[int]:
        """Give new characters the places of the old ones, one by one, the last for all beyond."""
        last = max(start, end - 1)
        return [self.at[min(start + place, last)] for place in range(len(said))]

    def cut(self, start: int, end: int) -> MappedText:
        """Return a piece of the text, as it stands."""
        return MappedText(self.text[start:end], self.at[start : end + 1])

    def and_then(self, other: MappedText) -> MappedText:
        """Return the text with another behind it."""
        return MappedText(self.text + other.text, self.at[:-1] + other.at)

    def piece(self, start: int, end: int) -> MappedText:
        """Return a piece of the text, without white space round it."""
        inner = self.text[start:end]
        start += len(inner) - len(inner.lstrip())
        end = max(start, end - len(inner) + len(inner.rstrip()))
        return MappedText(self.text[start:end], self.at[start : end + 1])
