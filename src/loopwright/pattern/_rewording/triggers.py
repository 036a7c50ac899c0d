"""Which words a text must hold for an expression to match anywhere in it.

More than a hundred expressions are tried on every sentence, and few match: most are ruled out by
a look for the words that they can't do without.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from functools import cache, cached_property, lru_cache, reduce
from operator import add, and_
from typing import Any

__all__ = ["Sieve", "WordForm", "in_small", "shape_of", "triggers"]

_PART = re.compile(
    r"\(\?P=\w+\)|\(\?[imsx]+\)|\\.|\[\^?\]?(?:\\.|[^\]\\])*\]|\(\?(?:-?i:|P?<\w+>|<?[=!]|:|\(\w+\))|[()|]|[?*+]\??|\{[\d,]+\}\??|.",
    re.DOTALL,
)  # one part of an expression: an escape, a class, a bracket, how often, or a character
_LOOKS = ("(?=", "(?!", "(?<=", "(?<!")  # these match nothing themselves
_IF = "(?("  # what follows is one thing where a group was found, else another
_OFTEN = "?*+{"  # how a part begins that says how often
_MAY_LACK = ("?", "*", "{0")  # what stands before one of these may be missing

Words = tuple[str, ...]  # a text must hold one of them


@lru_cache(maxsize=4096)
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
    def _bits(self) -> tuple[list[int], dict[str, list[tuple[int, int]]]]:
        """For each place of a group, which expressions have none there, and which a word meets."""
        needed = [
            [one for one in triggers(said) if not any(map(str.isdigit, one))]
            for said in self._expressions
        ]
        places = max(map(len, needed), default=0)
        free = [
            sum(1 << n for n, groups in enumerate(needed) if len(groups) <= place)
            for place in range(max(places, 1))
        ]
        met: dict[str, dict[int, int]] = {}
        for number, groups in enumerate(needed):
            for place, words in enumerate(groups):
                for word in words:
                    at = met.setdefault(word, {})
                    at[place] = at.get(place, 0) | 1 << number
        return free, {word: list(at.items()) for word, at in met.items()}

    @cached_property
    def _signs(self) -> set[str]:
        return {word for word in self._bits[1] if not word.isalnum()}

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

    def runs(self, shape: str) -> set[str]:
        """Return what a shape is made of: its runs of letters and digits, and signs that count."""
        small = in_small(shape)
        return {*_RUN.findall(small), *self._signs.intersection(small)}

    def words_in(self, run: str) -> list[str]:
        """Return the words that a run holds: none reaches from one run into another."""
        if not run.isalnum():
            return [run]
        short, longer = self._by_start
        pairs = [*map(add, run, run[1:])]
        held = [*short.intersection(run), *short.intersection(pairs)]
        for start in longer.keys() & {*map(add, pairs, run[2:])}:
            held += [word for word in longer[start] if word in run]
        return held

    def bits_of(self, run: str) -> list[tuple[int, int]]:
        """Return which expressions a run meets, for each place of a group."""
        met = self._bits[1]
        bits: dict[int, int] = {}
        for word in self.words_in(run):
            for place, those in met[word]:
                bits[place] = bits.get(place, 0) | those
        return list(bits.items())

    def mask(self, shape: str) -> int:
        """Return a number with a bit for each expression that may match a text of a shape."""
        bits = [*self._bits[0]]
        for run in self.runs(shape):
            for place, those in _bits_of(self, run):
                bits[place] |= those
        return reduce(and_, bits)

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


_RUN = re.compile(r"[^\W_]+")


@lru_cache(maxsize=16384)
def _bits_of(sieve: Sieve, run: str) -> list[tuple[int, int]]:
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
        self._number = len(_FORMS)
        self._known_of = _known_of if _tells_digits(said) else _known_of_shape
        _FORMS.append(said)
        _all_forms.cache_clear()
        for known in (_known_of, _known_of_shape, _of_shape, _by_words):
            known.cache_clear()

    @cached_property
    def _needed(self) -> tuple[Words, ...]:
        return triggers(self._said)

    @cached_property
    def _form(self) -> re.Pattern[str]:
        return re.compile(self._said, self._flags)

    def search(self, text: str, start: int = 0) -> re.Match[str] | None:
        """Find it anywhere."""
        if len(text) > LONG:
            long = _holds(in_small(text), self._needed)
            return self._form.search(text, start) if long else None
        known, number = self._known_of(text), self._number
        state = known[number]
        if state == _NOT or (not state and self._is_ruled_out(text, known)):
            return None
        found = self._form.search(text, start)
        if found is None and not start:
            known[number] = _NOT
        return found

    def _may_match(self, text: str) -> bool:
        if len(text) > LONG:
            return _holds(in_small(text), self._needed)
        known = self._known_of(text)
        state = known[self._number]
        return state == _MAY or not (state or self._is_ruled_out(text, known))

    def _is_ruled_out(self, text: str, known: bytearray) -> bool:
        """Tell of a form not tried on a text before, of all of them where many were asked for."""
        if known[_ASKED] < OFTEN:
            known[_ASKED] += 1
            known[self._number] = _MAY if _holds(in_small(text), self._needed) else _NOT
        else:
            _look_for_all(shape_of(text), known)
        return known[self._number] == _NOT

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


OFTEN = 48  # forms asked for, of one text: then it is looked at for all at once
LONG = 2000  # characters; longer texts are no sentences, and not remembered
_ROOM = 1024  # for forms that another thread enters while a text is looked at
_MAY, _NOT = 1, 3  # what is known of a form and a text: the second overrules the first
_ASKED = -1  # where stands how many forms a text was asked for
_FORMS: list[str] = []


@cache
def _all_forms() -> Sieve:
    return Sieve(_FORMS)


@lru_cache(maxsize=16384)
def _known_of(text: str) -> bytearray:
    """Return for each form, by its number, what is known of it and a text."""
    shape = shape_of(text)
    known = bytearray(len(_FORMS) + _ROOM)
    if _of_shape(shape)[_ASKED] >= OFTEN:
        _look_for_all(shape, known)
    return known


@lru_cache(maxsize=16384)
def _known_of_shape(text: str) -> bytearray:
    """Return what is known of a text and the forms that take all texts of its shape alike."""
    return _of_shape(shape_of(text))


@lru_cache(maxsize=16384)
def _of_shape(shape: str) -> bytearray:
    return bytearray(len(_FORMS) + _ROOM)


def _look_for_all(shape: str, known: bytearray) -> None:
    """Enter for all forms whether a text of a shape holds their words, beside what is known."""
    there = _by_words(shape) | int.from_bytes(known[: len(_FORMS)], "little")
    known[: len(_FORMS)] = there.to_bytes(len(_FORMS), "little")


@lru_cache(maxsize=16384)
def _by_words(shape: str) -> int:
    forms = _all_forms()
    mask = f"{forms.mask(shape):0{len(forms)}b}".translate(_AS_KNOWN)
    return int.from_bytes(mask.encode("ascii"), "big")


_AS_KNOWN = {ord("0"): _NOT, ord("1"): _MAY}


def _holds(small: str, groups: Sequence[Words]) -> bool:
    """Tell whether a text in small letters holds a word of each group."""
    for words in groups:
        for word in words:
            if word in small:
                break
        else:
            return False
    return True


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
    end = len(parts)
    while place < end and (part := parts[place]) != "|" and part != ")":
        inner: list[Words] = []
        if part[0] == "(" and (part[-1] != ")" or part.startswith(_IF)):
            inner, place = _alternatives(parts, place + 1)
            inner = [] if part in _LOOKS else inner
        place += 1
        often = parts[place] if place < end and parts[place][0] in _OFTEN else ""
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


@cache
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
