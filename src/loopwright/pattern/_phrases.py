"""The ways in which one row can be said, and the way that two rows have in common.

A phrase is what was worked in a row, stitch by stitch, with how many stitches were ahead and where
the gaps of earlier turns lay. A wording is a tuple of items. Counts in a wording may be numbers or
places ("k to last 3 sts"), so that rows of different counts can have the same wording.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise
from typing import Final, TypeAlias

import attrs

from loopwright.fabric.stitches import StitchTable
from loopwright.pattern.items import Item, Lift, On, PickUp, Repeat, Run, With
from loopwright.pattern.values import To, Where

__all__ = ["PatternWording", "Phrase", "Token", "Wordings", "literal"]

Token: TypeAlias = tuple[str, bool] | PickUp | Lift | With
"""A stitch with whether it takes wraps along, or what is no stitch of the table."""

_NEAR: Final = 4  # stitches before a gap that are still counted from it
_WIDEST: Final = 32  # stitches in the body of a repeat within a row
_NEEDLES: Final = (2, 4, 3)  # equal parts that a round is looked at in
_PLAIN: Final = ("k", "p")
_LONGEST: Final = 3  # stretches of a row that may go as far as a place


@attrs.frozen(cache_hash=True)
class Phrase:
    """What was worked in a row.

    Parameters
    ----------
    tokens : tuple of Token
    ahead : int, stitches
        Left in the row when it began.
    gaps : tuple of int, stitches
        How far ahead each gap lay.
    end : tuple of Item
        How the row is turned, where it says so.
    whole : bool
        A round from its beginning to its end, with the right side facing.
    """

    tokens: tuple[Token, ...]
    ahead: int
    gaps: tuple[int, ...]
    end: tuple[Item, ...] = ()
    whole: bool = False


@attrs.frozen
class PatternWording:
    """Items that say a row, and over which needles the stitches lie if they name any.

    ``frame`` holds, where the needles are unequal, the row's stitches one after the other, each
    with its number or None where the number varies from row to row.
    """

    items: tuple[Item, ...]
    parts: tuple[int, ...] = ()
    frame: tuple[tuple[str, int | None], ...] = ()


@attrs.frozen
class _Stretch:
    """The same stitch several times over, and how many stitches were taken before it."""

    key: str
    wraps: bool
    many: int
    before: int
    special: PickUp | Lift | With | None = None

    def item(self, amount: int | To | None = None) -> Item:
        if self.special is not None:
            return self.special
        return Run(self.key, self.many if amount is None else amount, self.wraps)


def _stretches(tokens: Sequence[Token], table: StitchTable, start: int = 0) -> list[_Stretch]:
    found, taken = [], start
    for token, group in groupby(tokens):
        many = len(list(group))
        if isinstance(token, tuple):
            found.append(_Stretch(token[0], token[1], many, taken))
            taken += many * _takes(token, table)
        else:
            for _ in range(many):
                found.append(_Stretch("", False, 1, taken, token))
                taken += _takes(token, table)
    return found


def _takes(token: Token, table: StitchTable) -> int:
    if isinstance(token, tuple):
        return table[token[0]].takes if token[0] != "ds" else 1
    return int(isinstance(token, Lift) and token.stitch != "m1l")


def literal(phrase: Phrase, table: StitchTable) -> tuple[Item, ...]:
    """Return the items of a row, all in numbers."""
    return (*(one.item() for one in _stretches(phrase.tokens, table)), *phrase.end)


class Wordings:
    """All ways to say a row, best first; kept, since the same rows come again and again."""

    def __init__(self, table: StitchTable, *, plainly: bool) -> None:
        self.table, self.plainly = table, plainly
        self._known: dict[Phrase, tuple[PatternWording, ...]] = {}

    def of(self, phrase: Phrase) -> tuple[PatternWording, ...]:
        """Return the wordings of a row."""
        if phrase not in self._known:
            self._known[phrase] = tuple(dict.fromkeys(self._all(phrase)))
        return self._known[phrase]

    def best(self, phrase: Phrase) -> tuple[Item, ...]:
        """Return the wording of a row that stands alone."""
        return next(one.items for one in self.of(phrase) if not one.parts)

    def common(self, one: Phrase, other: Phrase) -> PatternWording | None:
        """Return the best wording that two rows share."""
        theirs = {wording.items for wording in self.of(other)}
        for wording in self.of(one):
            if wording.items in theirs:
                return wording
        return None if self.plainly else self._parted(one, other)

    def says(self, phrase: Phrase, wording: PatternWording) -> bool:
        """Tell whether a wording says this row."""
        if not wording.frame:
            return any(one.items == wording.items for one in self.of(phrase))
        stretches = _stretches(phrase.tokens, self.table)
        return (
            phrase.whole
            and len(stretches) == len(wording.frame)
            and all(
                one.key == key and many in (one.many, None)
                for one, (key, many) in zip(stretches, wording.frame, strict=True)
            )
        )

    def _all(self, phrase: Phrase) -> Iterator[PatternWording]:
        table = self.table
        numbers = literal(phrase, table)
        stretches = _stretches(phrase.tokens, table)
        if self.plainly:
            yield PatternWording(numbers)
            return
        repeated = _repeated(phrase, table)
        if repeated is not None:
            yield PatternWording(repeated)
        changes_yarn = any(isinstance(one.special, With) for one in stretches)  # said in numbers
        for longest in () if changes_yarn else _by_length(stretches):
            for amount in _places(stretches[longest], phrase):
                items = [
                    one.item(amount if n == longest else None) for n, one in enumerate(stretches)
                ]
                yield PatternWording((*items, *phrase.end))
        yield PatternWording(numbers)
        for number in _closed_up(stretches):
            items = _with_none(stretches, number, phrase.ahead)
            yield PatternWording((*items, *phrase.end))
        yield from _on_needles(phrase, table)

    # Parts of a round -------------------------------------------------------------------------

    def _parted(self, one: Phrase, other: Phrase) -> PatternWording | None:
        """Return how two rounds are said alike if the stitches are parted between the needles."""
        if not (one.whole and other.whole):
            return None
        mine, theirs = (_stretches(phrase.tokens, self.table) for phrase in (one, other))
        if [(a.key, a.wraps, a.special) for a in mine] != [
            (b.key, b.wraps, b.special) for b in theirs
        ]:
            return None
        varying = [n for n, (a, b) in enumerate(zip(mine, theirs, strict=True)) if a.many != b.many]
        if len(varying) < 2 or any(mine[n].key not in _PLAIN for n in varying):
            return None
        return _cut(mine, varying, one.ahead, self.table)


def _by_length(stretches: list[_Stretch]) -> list[int]:
    """Return the longest stretches of plain stitches, the longest first."""
    plain = [n for n, one in enumerate(stretches) if one.key in _PLAIN]
    return sorted(plain, key=lambda n: -stretches[n].many)[:_LONGEST]


def _closed_up(stretches: list[_Stretch]) -> Iterator[int]:
    """Yield where two shapings have met, so that no plain stitch is left between them."""
    for number, (one, two) in enumerate(pairwise(stretches), start=1):
        if one.key not in _PLAIN and two.key not in _PLAIN and not (one.special or two.special):
            yield number


def _with_none(stretches: list[_Stretch], number: int, ahead: int) -> list[Item]:
    """Return the items with "k to last ... sts" where no stitch is left to be knitted."""
    items = [one.item() for one in stretches]
    items.insert(number, Run("k", To(Where.END, ahead - stretches[number].before)))
    return items


def _places(stretch: _Stretch, phrase: Phrase) -> Iterator[To]:
    """Yield the places as far as which a stretch goes, the one a person would name first."""
    stop = stretch.before + stretch.many
    gaps = [gap for gap in phrase.gaps if 0 <= gap - stop <= _NEAR and gap > stretch.before]
    if gaps and min(gap for gap in phrase.gaps if gap > stretch.before) == gaps[0]:
        yield To(Where.GAP, gaps[0] - stop)
    if phrase.ahead >= stop:
        yield To(Where.END, phrase.ahead - stop)


def _repeated(phrase: Phrase, table: StitchTable) -> tuple[Item, ...] | None:
    """Return a row with the stitches that come again and again said once."""
    tokens = phrase.tokens
    if not all(map(_may_come_again, tokens)):
        return None
    many = len(_stretches(tokens, table))
    best: tuple[int, int, int, int] | None = None
    if many < 5:
        return None
    for period in range(2, min(_WIDEST, len(tokens) // 2) + 1):
        for start, stop in _runs_of(tokens, period):
            times = (stop - start) // period
            unit = tokens[start : start + period]
            if len(set(unit)) < 2:
                continue
            short = (
                len(_stretches(tokens[:start], table))
                + len(_stretches(unit, table))
                + len(_stretches(tokens[start + times * period :], table))
            )
            if times > 1 and (best is None or short < best[0]):
                best = short, start, period, times
    if best is None or best[0] + 2 > many:
        return None
    _, start, period, times = best
    stop = start + times * period
    rest = sum(_takes(token, table) for token in tokens[stop:])
    before = [one.item() for one in _stretches(tokens[:start], table)]
    unit_items = [one.item() for one in _stretches(tokens[start : start + period], table)]
    after = [one.item() for one in _stretches(tokens[stop:], table)]
    used = sum(_takes(token, table) for token in tokens)
    amount: int | To = times
    takes = sum(_takes(token, table) for token in tokens[start : start + period])
    if not phrase.end and used == phrase.ahead and takes and rest < 10:
        amount = To(Where.END, rest)
    return (*before, Repeat(unit_items, amount), *after, *phrase.end)


def _may_come_again(token: Token) -> bool:
    if isinstance(token, tuple):
        return not token[1] and token[0] != "ds"
    return isinstance(token, With)


def _runs_of(tokens: tuple[Token, ...], period: int) -> Iterator[tuple[int, int]]:
    """Yield where stitches are those of `period` before, twice or more in a row."""
    start = None
    for place in range(len(tokens) - period + 1):
        same = place < len(tokens) - period and tokens[place] == tokens[place + period]
        if same and start is None:
            start = place
        elif not same and start is not None:
            if place - start >= period:
                yield start, place + period
            start = None


def _on_needles(phrase: Phrase, table: StitchTable) -> Iterator[PatternWording]:
    """Yield how a round is said that is the same on each of several needles."""
    tokens = phrase.tokens
    if not phrase.whole:
        return
    for needles in _NEEDLES:
        size, over = divmod(len(tokens), needles)
        if over or size < 2 or tokens != tokens[:size] * needles or len(set(tokens[:size])) < 2:
            continue
        stretches = _stretches(tokens[:size], table)
        each = sum(_takes(token, table) for token in tokens[:size])
        for number in _closed_up(stretches):
            yield PatternWording((On((), _with_none(stretches, number, each)),), (each,) * needles)
        for longest in _by_length(stretches)[:1]:
            one = stretches[longest]
            amount = To(Where.END, each - one.before - one.many)
            items = [s.item(amount if n == longest else None) for n, s in enumerate(stretches)]
            yield PatternWording((On((), items),), (each,) * needles)


def _cut(
    stretches: list[_Stretch], varying: list[int], ahead: int, table: StitchTable
) -> PatternWording | None:
    """Part a round between the stretches that vary, each alone on its needle.

    Between two of them the longest plain stretch is cut: all of it but a stitch at either side
    lies on a needle of its own if it is long, else half on each.
    """
    cuts = [_middle(stretches, a, b) for a, b in pairwise(varying)]
    if None in cuts:
        return None
    parts: list[list[_Stretch]] = [[]]
    for number, one in enumerate(stretches):
        if number not in cuts:
            parts[-1].append(one)
            continue
        for amount, begins in _halves(one.many):
            if begins:
                parts.append([])
            if amount:
                parts[-1].append(attrs.evolve(one, many=amount))
    loose = {stretches[n].before for n in varying}
    items, sizes = [], []
    for number, part in enumerate(parts, start=1):
        size = sum(one.many * _takes((one.key, False), table) for one in part)
        items.append(On((f"needle {number}",), _on_one(part, loose, size, table)))
        sizes.append(size)
    if sum(sizes) != ahead:
        return None
    frame = [(one.key, None if n in varying else one.many) for n, one in enumerate(stretches)]
    return PatternWording(tuple(items), tuple(sizes), tuple(frame))


def _middle(stretches: list[_Stretch], start: int, stop: int) -> int | None:
    """Return which is the longest plain stretch between two others, if there is one."""
    plain = [n for n in range(start + 1, stop) if stretches[n].key in _PLAIN]
    return max(plain, key=lambda n: stretches[n].many, default=None)


def _halves(many: int) -> list[tuple[int, bool]]:
    """Return how stitches are shared between needles: amounts, and whether a needle begins."""
    if many > 6:
        return [(1, False), (many - 2, True), (1, True)]
    return [(many - many // 2, False), (many // 2, True)]


def _on_one(part: list[_Stretch], loose: set[int], size: int, table: StitchTable) -> list[Item]:
    """Return the items of a needle, on which one stretch goes as far as a place."""
    items, before = [], 0
    for one in part:
        takes = one.many * _takes((one.key, False), table)
        is_open = one.before in loose or (len(part) == 1 and one.key in _PLAIN)
        amount = To(Where.END, size - before - takes) if is_open else None
        items.append(one.item(amount))
        before += takes
    return items
