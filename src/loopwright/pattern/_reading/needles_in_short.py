# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A round told needle by needle in any words, known by what lies on each needle.

"To the end" is the end of a needle, and a needle ends where its stitches are used up: so its name
may stand before what is worked on it, behind it, or amid it. What follows the round on its line is
left as it is.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import groupby

import attrs

from loopwright.pattern._reading.labels import label_of
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.on_needles import NTH_NEEDLES
from loopwright.pattern._reading.row_in_short import (
    NoRow,
    OneStitch,
    Passed,
    PlainRest,
    RowAlong,
    RowItem,
    RowWords,
    WorkedAgain,
    agrees,
    capital,
    said_items,
)
from loopwright.pattern._reading.row_leads import STATED_BESIDE
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._tally import NEEDLE, Tally
from loopwright.pattern.values import sized

__all__ = ["needles_in_short", "tells_needles"]

Numbers = tuple[int, ...]

_NEEDLE = r"(?:needles?|ndls?|dpns?)\b\.?"
_WORDS = {"one": 1, "two": 2, "three": 3, "four": 4}
_NAME = re.compile(
    rf"(?:the )?(?P<nth>{'|'.join(NTH_NEEDLES)})(?: ?\([a-z -]+\))? {_NEEDLE}"
    rf"|(?:{_NEEDLE} ?#?|n ?)(?P<n>[1-5]|(?:{'|'.join(_WORDS)})\b)(?![\d/])",
    re.IGNORECASE,
)
_BEHIND = re.compile(rf"{_NEEDLE} ?$", re.IGNORECASE)  # "to the end of needle": its number follows
_NUMBER = re.compile(r"(?P<n>[1-5])(?P<nth>)\b")
_EACH = re.compile(
    rf"(?:each|both|every)(?: of (?:the|your))?(?: two| three| four)? {_NEEDLE}|\(?(?:rep(?:eat)?|and) (?:(?:the )?same )?(?:on|for|along) (?:the )?(?:2nd|second|other|next) {_NEEDLE}\)?",
    re.IGNORECASE,
)
_BARE = re.compile(
    rf"(?:(?:the|this|that|instep|sole|heel|front|back) )*{_NEEDLE}(?! ?[1-5])", re.IGNORECASE
)
_WHOLE = re.compile(
    r"(?P<do>k(?:nit)?|work)\b\.?(?: (?:across|all|even|plain|straight|over))*(?: (?:the )?(?:instep |sole )?(?:sts|stitches))?(?=\s*(?:[,;.|/]|$)|\s+(?:(?:on|of|along|across|over|all) )*(?:the )?(?:needle|n\d|first|second|third|fourth|\d(?:st|nd|rd|th)|instep needle))",
    re.IGNORECASE,
)
_TALK = re.compile(
    r"(?:to|for|as|follows?|thus|shape|shaping|toe|gusset|work(?:ing)?|(?:de|in)creas(?:e|es|ing)|in|across|along|over|at|from|beg|instep|sole|half|heel|both|sides?|rest)\b|[|/]"
    r"|(?:dec(?:rease)?|inc(?:rease)?|work)(?: a| 1| one)? (?:st|stitch|dec|inc) (?:at|on|in) (?:both|each|either) (?:ends?|sides?)\b",
    re.IGNORECASE,
)
_SHAPES = WordForm(
    r"\b(?:k ?2 ?tog|ssk|skpo?|psso|m1\w?|make (?:1|one)|together|tog|kfb|rli|lli|pass)\b"
)
_NAMES = WordForm(rf"\b(?:{_NEEDLE}|n ?[1-4]\b)")
_OTHER = WordForm(r"\b(?:pick|cast|bind|graft|holder|hold|turn|wrap|w&t|waste|slip marker)\b")
_BREAK = WordForm(r"[.;!]\s+(?=[A-Z(*\[])|[.;]\s*$", re.NOFLAG)


def tells_needles(text: str) -> bool:
    """Tell whether a line may tell a shaping round needle by needle.

    Examples
    --------
    >>> tells_needles("On each needle make 1, knit to the end."), tells_needles("Needle 1: knit.")
    (True, False)
    """
    return (
        len(text) < 700
        and _NAMES.search(text) is not None
        and _SHAPES.search(text) is not None
        and _OTHER.search(text) is None
    )


_SET = WordForm(  # what stands in brackets is as good without them
    rf"\((?P<in>(?:(?:on|of) )?(?:both |each )?{_NEEDLE}(?: ?[1-5])?)\)|\((?:instep|sole|heel|first|front|back)(?: needle| half| sts)*\)",
)
_TITLE = re.compile(r"[A-Za-z][A-Za-z ]{2,24}(?:: |\. ?[—–-] ?|\.[—–-]+ ?)(?=\*|\d+(?:st|nd)\b|r(?:ou)?n?d \d)", re.IGNORECASE)  # fmt: skip
_OF_TOE = WordForm(r"(?P<row>(?:row|round|rnd) \d+) of (?:the )?(?:toe|gusset)(?=:)")
_STEP = WordForm(r"(?:step )?\d{1,2}[.):] +")
_ACROSS = WordForm(  # "knit across needle 1 until 3 sts remain"
    rf"(?P<do>k|knit|work) (?:across|along|on|over) (?P<needle>{_NAME.pattern}),? (?=to\b|until|till)",
)
_SIZED = WordForm(r"(?<=^inc|^dec) \d+ (?=(?:round|rnd)\b)")  # "Inc 4 rnd:"


def needles_in_short(live: Live, text: str, beside: str = "") -> tuple[str, Numbers | None] | None:
    """Return a round in our own words, and the stitches after it where nothing follows on its line.

    None where the round does not use up each needle, in each size. `beside` is what the next
    sentence says.
    """
    there = tuple(tally.count for tally in live.tallies)
    if not there or not live.is_whole_round or any(len(t.parts) < 2 for t in live.tallies):
        return None
    text = _SIZED.sub(" ", _OF_TOE.sub(r"\g<row>", _TITLE.sub("", text, count=1)))
    text = _SET.sub(lambda match: match["in"] or "", text)
    text = _ACROSS.sub(r"\g<needle>: \g<do> ", text)
    number = _STEP.match(text)
    lead = number[0] if number else ""
    text = text[len(lead) :]
    star = "*" if text.lstrip().startswith("*") else ""
    text = text.lstrip("* ") if star else text
    label = label_of(text)
    start = label.end if label else 0
    if label and (len(label.numbers) > 1 or label.which or label.times > 1):
        return None
    head = text[:start].strip() if label else "Next rnd:"
    for end in (len(text), *(match.end() for match in reversed([*_BREAK.finditer(text, start)]))):
        try:
            said, after = _round(live, text[start:end].rstrip(" .;"), beside)
        except NoRow:
            continue
        rest = text[end:].strip()
        first, _, others = rest.partition(") ") if rest.startswith("(") else (rest, "", "")
        stated = STATED_BESIDE.match(first)
        if stated is not None and not star:  # what it states is asked about where it is another
            return f"{lead}{head} {capital(said)}. ({stated['n']} sts) {others}".strip(), None
        line = f"{lead}{star}{head} {capital(said)}. ({sized(after)} sts)"
        return (f"{line} {rest}", None) if rest or star else (line, after)
    return None


def _round(live: Live, text: str, beside: str) -> tuple[str, Numbers]:
    there = tuple(tally.count for tally in live.tallies)
    row = _ByNeedle(text, len(there))
    if stated := STATED_BESIDE.match(beside):
        row.state(stated["n"])
    if not row.names_needles:
        raise NoRow
    ways = [_Along(tally, size) for size, tally in enumerate(live.tallies)]
    after = tuple(way.round_of(row.items, each=row.each) for way in ways)
    if any(way.worked != ways[0].worked for way in ways) or after == there:
        raise NoRow
    on = [tuple(way.on_needle(number) for way in ways) for number in range(len(ways[0].ends))]
    if not agrees([one for one in row.told if one not in on], there, after):
        raise NoRow
    said = [
        f"needle {number + 1}: {', '.join(said_items([item for _, item in items]))}"
        for number, items in groupby(ways[0].worked, key=_number)
    ]
    return "; ".join(said).replace("last 1 sts", "last st"), after


def _number(one: tuple[int, RowItem]) -> int:
    return one[0]


@attrs.frozen
class _Name:
    """A needle that is named."""

    number: int


class _ByNeedle(RowWords):
    """The stitches of a round, picked out of words that name needles."""

    def __init__(self, text: str, sizes: int) -> None:
        self.each = self.names_needles = False
        super().__init__(text, sizes)

    def _in_halves(self) -> tuple[RowItem, ...]:
        return ()

    def _one(self) -> Iterator[RowItem]:
        match = self._is(_NUMBER if _BEHIND.search(self.text, 0, self.at) else _NAME)
        if match:
            self.names_needles = True
            word = (match["n"] or match["nth"]).lower()
            yield _Name(NTH_NEEDLES.get(word) or _WORDS.get(word) or int(word))  # type: ignore[misc]
        elif self._is(_EACH):
            self.each = self.names_needles = True
        elif self._is(_BARE):
            self.names_needles = True
        elif self._is(_WHOLE):
            yield PlainRest("k", (0,) * self.sizes)
        elif not self._is(_TALK):
            yield from super()._one()


class _Along(RowAlong):
    """One size, worked along its needles; what is worked is kept with the number of its needle."""

    def __init__(self, tally: Tally, size: int) -> None:
        super().__init__(tally, size)
        inner = [tally.count - at for key, at in tally.ahead_at.items() if key[0] == NEEDLE]
        self.ends = [*sorted(inner), tally.count]
        self.worked: list[tuple[int, RowItem]] = []
        self._left_on = [0] * len(self.ends)
        if len(self.ends) != len(tally.parts):
            raise NoRow

    def on_needle(self, number: int) -> int:
        """Return the stitches on a needle after the round."""
        return self._left_on[number]

    def round_of(self, items: Sequence[RowItem], *, each: bool) -> int:
        """Work the round, its items once more on each needle if `each` is as the first."""
        self._work(items)
        if each and self.done not in self.ends:
            raise NoRow
        if each and self.done > self.ends[0] and not any(isinstance(one, _Name) for one in items):
            raise NoRow
        while each and self.ahead and self.done in self.ends:
            self._work(items)
        if self.ahead:
            raise NoRow
        return self.left

    @property
    def _here(self) -> int:
        return next((n for n, end in enumerate(self.ends) if end > self.done), len(self.ends) - 1)

    def _work(self, items: Sequence[RowItem]) -> None:
        for item in items:
            here = self._here
            if isinstance(item, _Name):
                amid = self.done not in (0, *self.ends)
                just = [here] if amid or not self.done else [here, here - 1]
                if not self.ahead:
                    just = [here]
                if item.number - 1 not in just:
                    raise NoRow
            elif isinstance(item, OneStitch):
                self._take_here(item, item.takes[self.size], item.leaves[self.size])
            elif isinstance(item, PlainRest) and not item.marker:
                many = self.ends[here] - item.before[self.size] - self.done
                self._take_here(item, many, many)
            elif isinstance(item, WorkedAgain) and item.times is not None:
                for _ in range(item.times[self.size]):
                    self._work(item.items)
            elif not isinstance(item, Passed):
                raise NoRow

    def _take_here(self, item: RowItem, takes: int, leaves: int) -> None:
        here = self._here if takes else max(0, self._here - (self.done in self.ends))
        if takes < 0 or self.done + takes > self.ends[here]:
            raise NoRow
        self._take(takes, leaves)
        self._left_on[here] += leaves
        if takes or leaves:
            self.worked.append((here, item))
