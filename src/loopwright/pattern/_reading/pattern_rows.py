# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A set-up row's pieces: rows of a stitch pattern amid others, and the sides that it tells.

"K28 for the back; k8, work Rnd 1 of Cable Panel, k8 for the front" is one round.
"""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._certain_changes import change_of
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._write import in_words
from loopwright.pattern.items import Item, Repeat
from loopwright.pattern.values import Count, as_many, sized, values_of

__all__ = ["arrange_sides", "sides_told", "with_pattern_rows"]

_ROW_OF = WordForm(
    rf"\b(?:work|knit|patt|rib|foll?ow)(?: across)? (?:(?:the )?(?:next )?(?:rnd|round|row) (?P<a>\d{{1,3}}) (?:of|from) (?:the )?(?P<na>[a-z][a-z' -]*?)|(?:the )?(?P<nb>[a-z][a-z' -]*?),? (?:rnd|round|row) (?P<b>\d{{1,3}}))"
    rf"(?: (?:over|across|on|for|to) (?:the )?(?:next |first |following |last |center |centre )?(?P<n>{COUNT}) ?(?:\w+ )?(?:sts|stitches))?(?=[,;.]|$)",
)
_OTHERS = WordForm(r"\b(?:k|p|knit|purl|work) ?\d|\b(?:pm|sm|turn)\b|\b(?:k|knit|p|purl) to\b")


def with_pattern_rows(scribe: Scribe, said: MappedText) -> MappedText:
    """Write out the rows of stitch patterns that stand amid other stitches of a row."""
    if not (found := [*_ROW_OF.finditer(said.text)]):
        return said
    if not _OTHERS.search(_ROW_OF.sub("", said.text)):
        return said
    told = {match[0]: _written(scribe, match) for match in found}
    return said.sub(_ROW_OF, lambda match: told[match[0]] or match[0])


def _written(scribe: Scribe, match: re.Match[str]) -> str | None:
    """Return a row of a pattern in words; None where it is not known, or does not fit."""
    number, name = int(match["a"] or match["b"]), (match["na"] or match["nb"]).lower().strip()
    row = scribe.context.row(number, name)
    if row is None:
        return None
    over = count_in(match["n"]) if match["n"] else None
    items: tuple[Item, ...] = row.items
    repeat = items[0] if len(items) == 1 else None
    if isinstance(repeat, Repeat) and not isinstance(repeat.times, int):
        if (times := _times(scribe, repeat.items, over)) is None:
            return None
        items = (Repeat(repeat.items, times),)
    elif over is not None:
        taken = change_of(items, scribe.table)
        if taken is None or any(int(n) != taken[0] for n in values_of(over)):
            return None
    words = in_words(st.Part(items)).strip(" .")
    return words[:1].lower() + words[1:]


def _times(scribe: Scribe, items: tuple[Item, ...], over: Count | None) -> Count | None:
    """Return how often a repeat goes over some stitches."""
    taken = change_of(items, scribe.table)
    if over is None or taken is None or not taken[0]:
        return None
    if any(int(n) % taken[0] for n in values_of(over)):
        return None
    return sized([int(n) // taken[0] for n in values_of(over)])


# the sides that a row tells

_SIDE = r"(?:back|front|instep|sole|palm|heel|top)"
_SIDES = WordForm(
    rf"[^;:]*[:,] ?(?:k|knit|p|purl) ?(?P<n>{COUNT})(?: sts| stitches)? for (?:the )?(?P<na>{_SIDE})\b[^;,.]*[;,.] (?:pm,? |place (?:a )?marker[,;]? )?(?P<rest>[^.]*) for (?:the )?(?P<nb>{_SIDE})\b(?: of (?:the |your )?\w+)?\.?$",
)


def sides_told(text: str) -> tuple[Count, str, str] | None:
    """Return how many stitches the first of two sides has that a row tells, and both names."""
    match = _SIDES.match(text)
    if match is None or match["na"].lower() == match["nb"].lower():
        return None
    return count_in(match["n"]), match["na"].lower(), match["nb"].lower()


def arrange_sides(scribe: Scribe, first: Count, one: str, other: str) -> None:
    """Lay the stitches out by the sides that a set-up row has told."""
    live = scribe.now()
    if not live.is_whole_round:
        return
    total = live.count
    rest = [
        int(a) - int(b) for a, b in zip(as_many(total, total), as_many(first, total), strict=True)
    ]
    if min(rest) > 0:
        scribe.context.places = {one: 1, other: 2}
        scribe.assembler.add_plain(st.Arrange((first, sized(rest)), at=scribe.place))
