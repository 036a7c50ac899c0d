"""Which words a text must hold for an expression to match anywhere in it.

More than a hundred expressions are tried on every sentence, and few match: most are ruled out by
a look for the words that they can't do without.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence
from functools import cached_property, lru_cache
from itertools import accumulate
from typing import Any

__all__ = ["SharedText", "Sieve", "WordForm", "in_small", "shared_texts", "triggers"]

_PART = re.compile(
    r"\(\?P=\w+\)|\\.|\[\^?\]?(?:\\.|[^\]\\])*\]|\(\?(?:-?i:|P?<\w+>|<?[=!]|:|\(\w+\))|[()|]|[?*+]\??|\{[\d,]+\}\??|.",
    re.DOTALL,
)  # one part of an expression: an escape, a class, a bracket, how often, or a character
_LOOKS = ("(?=", "(?!", "(?<=", "(?<!")  # these match nothing themselves
_IF = "(?("  # what follows is one thing where a group was found, else another
_OFTEN = re.compile(r"[?*+]\??|\{[\d,]+\}\??")
_MAY_LACK = ("?", "*", "{0")  # what stands before one of these may be missing

Words = tuple[str, ...]  # a text must hold one of them


@lru_cache(maxsize=1024)
def triggers(expression: str) -> tuple[Words, ...]:
    r"""Return groups of words in small letters: of each group a text must hold one.

    Examples
    --------
    >>> triggers(r"(?:twin|shadow)(?: st(?:itch)?)?,? turn")
    (('turn',), ('shadow', 'twin'))
    >>> triggers(r"(?:to|until) \d+")
    (('to', 'until'),)
    >>> triggers(r"[kp]\d*")
    ()
    """
    found, _ = _alternatives(_PART.findall(expression), 0)
    return tuple(sorted(set(found), key=_rarity, reverse=True))


_DOTS = str.maketrans("İı", "ii")  # an expression in any case takes them for an i


def in_small(text: str) -> str:
    """Return a text in small letters, every letter as an expression in any case takes it."""
    return (text if text.isascii() else text.translate(_DOTS)).casefold()


class SharedText(str):
    """One of the texts of a book: a form of words asks the book which of them it may match."""

    __slots__ = ("book", "number")
    book: _Book
    number: int


def shared_texts(texts: Iterable[str]) -> list[SharedText]:
    """Return texts on each of which many forms will be tried; each word is looked for once in all.

    Examples
    --------
    >>> first, second = shared_texts(["K8, shadow stitch", "K9"])
    >>> second, WordForm("shadow").search(first) is None, WordForm("shadow").search(second)
    ('K9', False, None)
    """
    found = [SharedText(text) for text in texts]
    book = _Book(found)
    for number, one in enumerate(found):
        one.book, one.number = book, number
    return found


class _Book:
    """Which of many texts hold a word, and which of them a form of words may match."""

    def __init__(self, texts: Sequence[str]) -> None:
        small = [in_small(text) for text in texts]
        self._all = "\n".join(small)
        self._ends = list(accumulate(len(one) + 1 for one in small))
        self._holding: dict[str, set[int]] = {}
        self.may_match: dict[WordForm, set[int]] = {}

    def look_for(self, form: WordForm, needed: Sequence[Words]) -> set[int]:
        """Return the numbers of the texts that hold a word of each group."""
        groups = [set[int]().union(*map(self._with, words)) for words in needed]
        found = set.intersection(*groups) if groups else set(range(len(self._ends)))
        return self.may_match.setdefault(form, found)

    def _with(self, word: str) -> set[int]:
        if (known := self._holding.get(word)) is not None:
            return known
        found = self._holding.setdefault(word, set())
        at = self._all.find(word)
        while at >= 0:
            number = bisect_right(self._ends, at)
            found.add(number)
            at = self._all.find(word, self._ends[number])
        return found


class WordForm:
    r"""A form of words: an expression that is tried only where a text holds the words it needs.

    It is compiled when a text first holds them.

    Parameters
    ----------
    said : str
    flags : RegexFlag
        Those of `re.compile`; in any case by default.

    Examples
    --------
    >>> form = WordForm(r"(?:twin|shadow) st(?:itch)?")
    >>> form.search("K8, shadow stitch")[0]
    'shadow stitch'
    >>> form.search("K8, purl 1") is None
    True
    """

    def __init__(self, said: str, flags: re.RegexFlag = re.IGNORECASE) -> None:
        self._said, self._flags = said, flags

    @cached_property
    def _needed(self) -> tuple[Words, ...]:
        return triggers(self._said)

    @cached_property
    def _form(self) -> re.Pattern[str]:
        return re.compile(self._said, self._flags)

    def _may_match(self, text: str) -> bool:
        if type(text) is not SharedText:
            return _holds(in_small(text), self._needed)
        known = text.book.may_match.get(self)
        if known is None:
            known = text.book.look_for(self, self._needed)
        return text.number in known

    def search(self, text: str, start: int = 0) -> re.Match[str] | None:
        """Find it anywhere."""
        if not self._may_match(text):
            return None
        found = self._form.search(text, start)
        if found is None and not start and type(text) is SharedText:
            text.book.may_match[self].discard(text.number)
        return found

    def match(self, text: str, start: int = 0) -> re.Match[str] | None:
        """Find it at the beginning."""
        return self._form.match(text, start) if self._may_match(text) else None

    def fullmatch(self, text: str) -> re.Match[str] | None:
        """Find a text that is nothing else."""
        return self._form.fullmatch(text) if self._may_match(text) else None

    def finditer(self, text: str, start: int = 0) -> Iterable[re.Match[str]]:
        """Find all of them."""
        return self._form.finditer(text, start) if self._may_match(text) else ()

    def findall(self, text: str) -> list[Any]:
        """Find the words of all of them."""
        return self._form.findall(text) if self._may_match(text) else []

    def sub(self, means: str | Callable[[re.Match[str]], str], text: str) -> str:
        """Put something in the place of each."""
        return self._form.sub(means, text) if self._may_match(text) else text


def _holds(small: str, groups: Sequence[Words]) -> bool:
    """Tell whether a text in small letters holds a word of each group."""
    for words in groups:
        for word in words:
            if word in small:
                break
        else:
            return False
    return True


class Sieve:
    r"""Which of many expressions a text may match, by the words that it holds.

    Examples
    --------
    >>> sieve = Sieve([r"(?:twin|shadow) st(?:itch)?", r"to \d+ sts before", r"[kp]\d"])
    >>> sieve.may_match("k8, twin stitch")
    [0, 2]
    """

    def __init__(self, expressions: Iterable[str]) -> None:
        self._expressions = tuple(expressions)

    @cached_property
    def _needed(self) -> list[tuple[Words, ...]]:
        return [triggers(one) for one in self._expressions]

    @cached_property
    def _by_word(self) -> dict[str, list[int]]:
        """The expressions that can't do without a word, or one of its group; all others at ""."""
        found: dict[str, list[int]] = {"": []}
        for number, groups in enumerate(self._needed):
            for word in groups[0] if groups else ("",):
                found.setdefault(word, []).append(number)
        return found

    def may_match(self, small: str) -> list[int]:
        """Return the numbers of the expressions that may match a text, given in small letters."""
        near = {n for word, numbers in self._by_word.items() if word in small for n in numbers}
        return [n for n in sorted(near) if _holds(small, self._needed[n][1:])]


def _alternatives(parts: Sequence[str], place: int) -> tuple[list[Words], int]:
    """Return what alternatives need, up to their closing bracket, and where that is."""
    each: list[list[Words]] = []
    while True:
        needed, place = _sequence(parts, place)
        each.append(needed)
        if place == len(parts) or parts[place] == ")":
            break
        place += 1
    if len(each) == 1:
        return each[0], place
    if not all(each):
        return [], place
    words = {word for needed in each for word in max(needed, key=_rarity)}
    return [tuple(sorted(words))], place


def _sequence(parts: Sequence[str], place: int) -> tuple[list[Words], int]:
    """Return what one alternative needs: its words, and those of the brackets in it."""
    needed: list[Words] = []
    run = ""
    while place < len(parts) and parts[place] not in ("|", ")"):
        part, inner = parts[place], list[Words]()
        if part.startswith("(") and (not part.endswith(")") or part.startswith(_IF)):
            inner, place = _alternatives(parts, place + 1)
            inner = [] if part in _LOOKS else inner
        place += 1
        often = parts[place] if place < len(parts) and _OFTEN.fullmatch(parts[place]) else ""
        lacking = often.startswith(_MAY_LACK)
        is_letter = len(part) == 1 and part.isalnum()
        if is_letter and not lacking:
            run += part.lower()
        if run and (often or not is_letter):
            needed.append((run,))
            run = ""
        if not lacking:
            needed += inner or _signs(part)
        place += bool(often)
    return [*needed, (run,)] if run else needed, place


def _signs(part: str) -> list[Words]:
    """Return the signs of which a part is one, if it can be nothing else."""
    if part.startswith(("(", "[^")) or part in _ANYTHING:
        return []
    inside = part[1:-1] if part.startswith("[") and len(part) > 1 else part
    signs = tuple(one[-1] for one in _MEMBER.findall(inside))
    ranges = "-" in inside[1:-1].replace(r"\-", "")
    return [] if ranges or any(one.isalnum() or one.isspace() for one in signs) else [signs]


_ANYTHING = (".", "^", "$")
_MEMBER = re.compile(r"\\.|.", re.DOTALL)


def _rarity(words: Words) -> tuple[int, int]:
    """Order words by how rare they are in a text: long ones, then few of them."""
    return min(map(len, words)), -len(words)
