"""Which words a text must hold for an expression to match anywhere in it.

A word is a sign, or a run of letters and digits in small letters: with a blank where it must begin
or end with the run of the text, and a 0 for digits, however many.
"""

from __future__ import annotations

import re
from functools import cache, lru_cache

__all__ = ["Words", "in_small", "needed_words"]

Words = tuple[str, ...]  # a text must hold one of them

_PART = re.compile(
    r"\(\?P=\w+\)|\(\?[imsx]+\)|\\.|\[\^?\]?(?:\\.|[^\]\\])*\]|\(\?(?:-?i:|P?<\w+>|<?[=!]|:|\(\w+\))|[()|]|[?*+]\??|\{[\d,]+\}\??|.",
    re.DOTALL,
)  # one part of an expression: an escape, a class, a bracket, how often, or a character
_LOOKS = ("(?=", "(?!", "(?<=", "(?<!")  # these match nothing themselves
_IF = "(?("  # what follows is one thing where a group was found, else another
_OFTEN = "?*+{"  # how a part begins that says how often
_MAY_LACK = ("?", "*", "{0")  # what stands before one of these may be missing
_ENDS = ("|", ")")
_FREE, _NO_LETTER, _BOUND = range(3)  # what may stand before a run: anything, a digit, nothing
_BEFORE = (("",), (" ", "0"), (" ",))
MANY = 12  # ways that a run may be written, before it is taken for two


@lru_cache(maxsize=4096)
def needed_words(expression: str) -> tuple[Words, ...]:
    r"""Return groups of words in small letters: of each group a text must hold one.

    An expression is one in any case, but for what stands between ``(?-i:`` and its bracket.

    Examples
    --------
    >>> needed_words(r"(?:twin|shadow)(?: st(?:itch)?)?,? turn")
    ((' turn',), ('shadow ', 'twin '))
    >>> needed_words(r"\b(?:to|until) [kp]?\d+")
    ((' to ', ' until '), ('0',))
    >>> needed_words(r"(?<![a-z0-9])[kp]\d+")
    ((' k0', ' p0'),)
    >>> needed_words(r"k?[a-z]*")
    ()
    """
    return tuple(sorted(set(_Parts(expression).needed()), key=_rarity, reverse=True))


_DOTS = str.maketrans("İı", "ii")  # an expression in any case takes them for an i


def in_small(text: str) -> str:
    """Return a text in small letters, every letter as an expression in any case takes it."""
    return (text if text.isascii() else text.translate(_DOTS)).casefold()


class _Parts:
    """An expression in its parts."""

    def __init__(self, expression: str) -> None:
        self._parts = _PART.findall(expression)
        self._bounded = dict[int, bool]()
        self._closes = dict[int, int]()  # of each bracket and bar, where its bracket is closed
        self._begins = dict[int, list[int]]()  # of each bracket, where its alternatives begin
        self._exact = set[int]()  # brackets between which letters count as they stand
        opened = [[-1]]
        for place, part in enumerate(self._parts):
            if part[0] == "(" and (part[-1] != ")" or part.startswith(_IF)):
                if part == "(?-i:" or (opened[-1][0] in self._exact and part != "(?i:"):
                    self._exact.add(place)
                opened.append([place])
            elif part == "|":
                opened[-1].append(place)
            elif part == ")":
                self._close(opened.pop(), place)
        self._close(opened.pop(), len(self._parts))

    def _close(self, bars: list[int], place: int) -> None:
        self._closes.update(dict.fromkeys([*bars, place], place))
        self._begins[bars[0]] = [bar + 1 for bar in bars]

    def needed(self) -> list[Words]:
        return self._alternatives(-1, _FREE)[0]

    def _often(self, place: int) -> str:
        """Return what says how often the part before a place stands there."""
        often = self._parts[place] if place < len(self._parts) else ""
        return often if often[:1] in _OFTEN else ""

    def _alternatives(self, opened: int, before: int) -> tuple[list[Words], int]:
        """Return what alternatives need, and what may stand before a run behind them."""
        found = [self._sequence(place, before) for place in self._begins[opened]]
        behind = min(end for _, end in found)
        if len(found) == 1:
            return found[0][0], behind
        if not all(needed for needed, _ in found):
            return [], behind
        words = {word for needed, _ in found for word in max(needed, key=_rarity)}
        return [tuple(sorted(words))], behind

    def _sequence(self, place: int, before: int) -> tuple[list[Words], int]:
        """Return what one alternative needs: its words, and those of the brackets in it."""
        needed: list[Words] = []
        run: Words = ()
        while place < len(self._parts) and (part := self._parts[place]) not in _ENDS:
            opened = place in self._begins
            behind = self._closes[place] + 1 if opened else place + 1
            often = self._often(behind)
            lacking = often.startswith(_MAY_LACK)
            letters = () if lacking else _letters(part)
            if run and (not letters or len(run) * len(letters) > MANY):
                needed.append(self._ended(run, place))
                run = ()
            if letters:
                run = _with(run or _BEFORE[before], letters)
                before = _FREE
                if often and letters != ("0",):
                    needed.append(run)
                    run = ()
            elif part in _LOOKS:
                before = max(before, self._excluded(place)) if part == "(?<!" else before
            elif opened:
                inner, end = self._alternatives(place, _FREE if often else before)
                needed += [] if lacking else inner
                before = min(before, end) if lacking else end
            else:
                needed += [] if lacking else _signs(part)
                end = _BOUND if _bounds(part) else _FREE
                before = min(before, end) if lacking else end
            place = behind + bool(often)
        if run:
            needed.append(self._ended(run, place))
        return needed, before

    def _ended(self, run: Words, place: int) -> Words:
        return tuple(f"{one} " for one in run) if self._is_bounded(place) else run

    def _excluded(self, place: int) -> int:
        """Return what may stand at a place where a look excludes the signs of one class."""
        excluded = self._parts[place + 1]
        if self._closes[place] != place + 2:
            return _FREE
        if r"\w" in excluded and not excluded.startswith("[^"):
            return _BOUND
        letters = "a-z" in excluded and ("A-Z" in excluded or place not in self._exact)
        if not letters or excluded.startswith("[^"):
            return _FREE
        return _BOUND if "0-9" in excluded or r"\d" in excluded else _NO_LETTER

    def _is_bounded(self, place: int) -> bool:
        """Tell whether no run of letters goes on at a place, whatever is found there."""
        if place not in self._bounded:
            self._bounded[place] = place < len(self._parts) and self._is_bounded_at(place)
        return self._bounded[place]

    def _is_bounded_at(self, place: int) -> bool:
        part = self._parts[place]
        behind = self._closes.get(place, place) + 1
        often = self._often(behind)
        after = behind + bool(often)
        if part in _ENDS:
            return often in ("", "?") and self._is_bounded(after)
        begins = self._begins.get(place, ())
        if part in _LOOKS:
            ahead = part == "(?=" and all(map(self._is_bounded, begins))
            no_more = part == "(?!" and self._excluded(place) == _BOUND
            return ahead or no_more or self._is_bounded(after)
        bounds = all(map(self._is_bounded, begins)) if begins else _bounds(part)
        return bounds and (not often.startswith(_MAY_LACK) or self._is_bounded(after))


def _with(runs: Words, letters: Words) -> Words:
    """Return runs with each of some letters behind them; digits are one, however many."""
    return tuple(
        run if letter == run[-1:] == "0" else run + letter for run in runs for letter in letters
    )


@cache
def _letters(part: str) -> Words:
    """Return the letters of which a part is one, 0 for any digits; none if it may be a sign."""
    if part == r"\d":
        return ("0",)
    if len(part) == 1:
        letter = "0" if part.isdecimal() else part.lower()
        return (letter,) if part.isascii() and part.isalnum() else ()
    if re.fullmatch(r"\[(?:[0-9]-[0-9]|[A-Za-z0-9]|\\d)+\]", part) is None:
        return ()
    inside = re.sub(r"[0-9]-[0-9]|\\d", "0", part[1:-1])
    return tuple(dict.fromkeys("0" if one.isdecimal() else one.lower() for one in inside))


@cache
def _bounds(part: str) -> bool:
    """Tell whether a run of letters ends at a part, for it is a sign or the end of a word."""
    if part in (r"\b", r"\W", r"\s", r"\Z", "^", "$"):
        return True
    if len(part) == 1 or part.startswith("\\"):
        return not part[-1].isalnum() and part not in (".", "_", r"\_")
    if not part.startswith("[") or part.startswith("[^"):
        return False
    signs = [one for one in _MEMBER.findall(part[1:-1]) if one not in (r"\s", r"\W")]
    return not _has_range(part) and not any(one[-1].isalnum() or one[-1] == "_" for one in signs)


@cache
def _signs(part: str) -> list[Words]:
    """Return the signs of which a part is one, if it can be nothing else."""
    if part.startswith(("(", "[^")) or part in _ANYTHING:
        return []
    inside = part[1:-1] if part.startswith("[") and len(part) > 1 else part
    signs = tuple(one[-1] for one in _MEMBER.findall(inside))
    return [] if _has_range(part) or any(map(_is_no_sign, signs)) else [signs]


def _is_no_sign(one: str) -> bool:
    return one.isalnum() or one.isspace()


def _has_range(part: str) -> bool:
    return part.startswith("[") and "-" in part[2:-2].replace(r"\-", "")


_ANYTHING = (".", "^", "$")
_MEMBER = re.compile(r"\\.|.", re.DOTALL)


def _rarity(words: Words) -> tuple[int, int]:
    """Order words by how rare they are in a text: long ones, then few of them; numbers last."""
    return min(len(word) if word.strip(" 0") else 0 for word in words), -len(words)
