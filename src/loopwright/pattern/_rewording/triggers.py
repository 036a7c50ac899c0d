"""Which of many expressions a text may match, by the words that it holds.

More than a hundred expressions are tried on every sentence, and few match: most are ruled out by
a look for the words that they can't do without.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from functools import cache, cached_property, lru_cache, reduce
from itertools import chain, islice
from operator import add, and_, or_
from typing import Any

from loopwright.pattern._rewording.needed_words import Words, in_small, needed_words

__all__ = ["Sieve", "WordForm", "WordIndex", "shape_of"]

_NUMBER = re.compile(r"(?<![A-Za-z0-9])[0-9]+(?![A-Za-z0-9])")


@lru_cache(maxsize=16384)
def shape_of(text: str) -> str:
    """Return a text with each digit of its numbers alike: most expressions can't tell them apart.

    Examples
    --------
    >>> shape_of("Rnd 17: K2tog, k14, p 3.")
    'Rnd 00: K2tog, k14, p 0.'
    """
    return _NUMBER.sub(lambda number: "0" * len(number[0]), text)


_NAMES_AND_TIMES = re.compile(r"\(\?P?<\w+>|\(\?\(\w+\)|\{[\d,]+\}|0-9")
_TELLS_DIGITS = re.compile(r"\d|\(\?P=")


def _tells_digits(expression: str) -> bool:
    """Tell whether an expression may match one text and not another of the same shape."""
    return _TELLS_DIGITS.search(_NAMES_AND_TIMES.sub("", expression)) is not None


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
    def _bits(self) -> tuple[int, dict[str, int]]:
        """Which expressions have no group of words at a place, and which groups a word meets.

        Both are numbers with a bit for each expression, the bits of one place behind the other.
        """
        many, free, met = len(self._expressions), 0, dict[str, int]()
        for number, groups in enumerate(map(needed_words, self._expressions)):
            bits = [1 << place * many + number for place in range(PLACES)]
            free |= sum(bits[len(groups) :])
            for place, words in enumerate(groups):  # words behind those places are known, too
                for word in words:
                    met[word] = met.get(word, 0) | (bits[place] if place < PLACES else 0)
        return free, met

    @cached_property
    def _by_start(self) -> tuple[set[str], dict[str, list[str]]]:
        """The words of one or two letters, and longer ones by their first three."""
        longer: dict[str, list[str]] = {}
        for word in self._bits[1]:
            if len(word) > 2:
                longer.setdefault(word[:3], []).append(word)
        return {word for word in self._bits[1] if len(word) <= 2}, longer

    def __len__(self) -> int:
        return len(self._expressions)

    def words_in(self, run: str) -> list[str]:
        """Return the words that a run holds, or a sign: none reaches from one into another."""
        if not run.isalnum() and "_" not in run:
            return [run] if run in self._bits[1] else []
        small = f" {_DIGITS.sub('0', in_small(run))} "
        if not run.isascii() or "_" in run:  # where a word begins and ends in it, none can say
            return [word for word in self._bits[1] if word.strip() in small]
        short, longer = self._by_start
        pairs = [*map(add, small, small[1:])]
        held = [*short.intersection(small), *short.intersection(pairs)]
        for start in longer.keys() & {*map(add, pairs, small[2:])}:
            held += [word for word in longer[start] if word in small]
        return held

    def bits_of(self, run: str) -> int:
        """Return which groups of expressions a run meets."""
        return reduce(or_, map(self._bits[1].__getitem__, self.words_in(run)), 0)

    def mask(self, shape: str) -> int:
        """Return a number with a bit for each expression that may match a text of a shape."""
        many, bits = len(self._expressions), self._bits[0]
        for run in _runs(shape):
            bits |= _bits_of(self, run)
        places = (bits >> place * many for place in range(PLACES))
        return reduce(and_, places, (1 << many) - 1)

    def may_match(self, text: str) -> list[int]:
        """Return the numbers of the expressions that may match a text."""
        return [*_may_match(self, shape_of(text))]

    def rule_out(self, number: int, text: str) -> None:
        """Remember that an expression was tried in vain, for all texts of the shape if it can."""
        if number not in self._telling:
            _may_match(self, shape_of(text)).pop(number, None)

    @cached_property
    def _telling(self) -> set[int]:
        return {n for n, one in enumerate(self._expressions) if _tells_digits(one)}


def _runs(shape: str) -> set[str]:
    """Return what a shape is made of: its runs of letters and digits, and its signs."""
    return set(_RUN.findall(shape))


_RUN, _DIGITS = re.compile(r"\w+|[^\w\s]"), re.compile(r"\d+")
PLACES = 3  # groups of words that are asked for, the rarest first; more rule hardly any out


@lru_cache(maxsize=16384)
def _bits_of(sieve: Sieve, run: str) -> int:
    return sieve.bits_of(run)


@lru_cache(maxsize=32768)
def _may_match(sieve: Sieve, shape: str) -> dict[int, None]:
    """Return the numbers that are not ruled out, in order."""
    mask = sieve.mask(shape)
    return dict.fromkeys(n for n, bit in enumerate(reversed(f"{mask:b}")) if bit == "1")


class WordForm:
    r"""A form of words: an expression that is tried only where a text holds the words it needs.

    It is compiled when a text first holds them. Which of all forms a text may match is worked out
    at once, when it is first asked for any, and remembered with those that were tried in vain.

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
        self._number = -1 - len(_FORMS)
        self._known_of = _known_of if _tells_digits(said) else _known_of_shape
        _FORMS.append(said if flags & re.IGNORECASE else f"(?-i:{said})")
        _all_forms.cache_clear()
        for known in (_known_of, _known_of_shape, _of_shape):
            known.cache_clear()

    @cached_property
    def needed(self) -> tuple[Words, ...]:
        """Groups of words, of each of which a text must hold one."""
        return needed_words(_FORMS[-1 - self._number])

    @cached_property
    def _form(self) -> re.Pattern[str]:
        return re.compile(self._said, self._flags)

    def search(self, text: str, start: int = 0) -> re.Match[str] | None:
        """Find it anywhere."""
        if len(text) > LONG:
            return self._form.search(text, start) if _holds(text, self.needed) else None
        known = self._known_of(text)
        if known[self._number] == _NOT:
            return None
        found = self._form.search(text, start)
        if found is None and not start:
            known[self._number] = _NOT
        return found

    def _may_match(self, text: str) -> bool:
        if len(text) > LONG:
            return _holds(text, self.needed)
        return self._known_of(text)[self._number] != _NOT

    def match(self, text: str, start: int = 0) -> re.Match[str] | None:
        """Find it at the beginning."""
        return self._form.match(text, start) if self._may_match(text) else None

    def fullmatch(self, text: str) -> re.Match[str] | None:
        """Find a text that is nothing else."""
        return self._form.fullmatch(text) if self._may_match(text) else None

    def finditer(self, text: str, start: int = 0) -> Iterable[re.Match[str]]:
        """Find all of them."""
        found = self.search(text, start)
        return self._form.finditer(text, found.start()) if found is not None else ()

    def findall(self, text: str) -> list[Any]:
        """Find the words of all of them."""
        return self._form.findall(text) if self.search(text) is not None else []

    def sub(self, means: str | Callable[[re.Match[str]], str], text: str) -> str:
        """Put something in the place of each."""
        return self._form.sub(means, text) if self.search(text) is not None else text


class WordIndex:
    r"""Which of many texts may hold a form of words, told of all of them at once.

    Parameters
    ----------
    texts : Sequence of Sequence of str
        Each in one wording or in more.

    Examples
    --------
    >>> index = WordIndex([["Knit."], ["K8, shadow stitch"], ["Purl 1", "P1"], ["K1"]])
    >>> list(index.may_hold([WordForm("(?:twin|shadow) st(?:itch)?"), WordForm("purl")]))
    [0, 1, 1, 0]
    >>> list(index.may_hold([], [WordForm(r"shadow st\D*purl")]))
    [0, 1, 0, 0]
    """

    def __init__(self, texts: Sequence[Iterable[str]]) -> None:
        self._texts = texts
        self._look_at(_all_forms())

    def __len__(self) -> int:
        return len(self._texts)

    def joined(self, many: Iterable[int]) -> WordIndex:
        """Return an index of so many texts at a time as one each."""
        texts = iter(self._texts)
        return WordIndex([[*chain(*islice(texts, one))] for one in many])

    def _look_at(self, sieve: Sieve) -> None:
        self._sieve, self._bits = sieve, dict[str, int]()
        self._places, self._runs = dict[str, list[int]](), dict[str, list[str]]()
        of_shapes = dict[frozenset[str], list[int]]()
        for place, wordings in enumerate(self._texts):
            of_shapes.setdefault(frozenset(map(shape_of, wordings)), []).append(place)
        for shapes, places in of_shapes.items():
            for run in set().union(*map(_runs, shapes)):
                self._places.setdefault(run, []).extend(places)
        for run in self._places:
            for word in _words_in(sieve, run):
                self._runs.setdefault(word, []).append(run)

    def _holding(self, word: str) -> int:
        """Return a number with a bit for each text that holds a word, the first text's highest."""
        bits = self._bits.get(word)
        if bits is None:
            signs = bytearray(b"0") * len(self._texts)
            for run in self._runs.get(word, ()):
                for place in self._places[run]:
                    signs[place] = _ONE
            bits = self._bits[word] = int(b"0" + signs, 2)
        return bits

    def may_hold(self, *forms: Sequence[WordForm]) -> bytes:
        """Return 1 for each text that may hold one of some forms, else 0.

        One of the second forms it may hold together with the text behind it, one of the third
        with the two behind it, and so on.
        """
        if self._sieve is not _all_forms():
            self._look_at(_all_forms())
        many, found = len(self._texts), 0
        for behind, some in enumerate(forms):
            for form in some:
                bits = (1 << many) - 1
                for words in form.needed:
                    there = reduce(or_, map(self._holding, words))
                    bits &= reduce(or_, (there << more for more in range(behind + 1)))
                found |= bits
        return f"{found:0{many}b}"[:many].encode("ascii").translate(_AS_NUMBERS)


@lru_cache(maxsize=16384)
def _words_in(sieve: Sieve, run: str) -> list[str]:
    return sieve.words_in(run)


_ONE = ord("1")
_AS_NUMBERS = bytes.maketrans(b"01", b"\0\1")

LONG = 2000  # characters; longer texts are no sentences, and not remembered
_ROOM = 1024  # for forms that another thread enters while a text is looked at
_NOT = ord("0")  # what is known of a form and a text that it can't match
_FORMS: list[str] = []


@cache
def _all_forms() -> Sieve:
    return Sieve(_FORMS)


@lru_cache(maxsize=16384)
def _known_of(text: str) -> bytearray:
    """Return for each form, the last first, what is known of it and a text."""
    return _of_shape(shape_of(text)).copy()


@lru_cache(maxsize=16384)
def _known_of_shape(text: str) -> bytearray:
    """Return what is known of a text and the forms that take all texts of its shape alike."""
    return _of_shape(shape_of(text))


@lru_cache(maxsize=16384)
def _of_shape(shape: str) -> bytearray:
    """Return for each form whether a text of a shape holds its words."""
    forms = _all_forms()
    later = (1 << _ROOM) - 1 << len(forms)
    return bytearray(f"{forms.mask(shape) | later:b}".encode("ascii"))


_in_small = lru_cache(maxsize=2)(in_small)


def _holds(text: str, groups: Sequence[Words]) -> bool:
    """Tell whether a text holds a word of each group, but for numbers."""
    small = _in_small(text)
    return all(any("0" in word or word.strip() in small for word in words) for words in groups)
