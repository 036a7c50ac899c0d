# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows that mirror themselves but for one stitch: the two halves of a shaped row are alike.

"K1, ssk, k10, k2tog, k1" reads the same from both ends, with leans turned round. Where all but one
pair of it does, that pair is asked about; where both decreases lean away from the edges
of what tapers (legs are shaped either way), that too.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["mirrors"]

_MEANT = WordForm(r"\b(?:against|away|lean\w*)\b", re.NOFLAG)  # a swatch that shows both
_LEFT = r"ssk|skpo?|sl ?1,? ?k ?1,? ?psso|k2tog[ -]?tbl|ssp|m1l|lli"
_RIGHT = r"k2tog|k ?2 ?tog|p2tog|m1r|rli"
_ITEM = WordForm(
    rf"(?:(?P<left>{_LEFT})|(?P<right>{_RIGHT})|(?P<even>yo|m1|kfb|sm|slm|(?:sl|slip) (?:the )?(?:next )?(?:m|marker)|cdd|sk2p)|"
    r"(?P<plain>knit|purl|k|p) ?(?P<n>\d+)(?: ?[(\[][^)\]]*[)\]])?|"
    r"(?P<far>(?:knit|purl|k|p|work|patt(?:ern)?|rib)\b(?: in \w+)? (?:to|until|across)\b[^,;:.*]*?))"
    r"(?: ?(?:sts?|stitch(?:es)?))?(?=\s*(?:$|[,;.:)\]*(]))",
)
_BETWEEN = WordForm(r"\.?\s*,\s*(?:and |then )?", re.NOFLAG)
_BEGINS = WordForm(r"(?:^|[*:(\[])\s*(?=[a-z])")
_LEFT_DEC = WordForm(rf"(?<![a-z])(?:{_LEFT})(?![a-z])")
_LEANS = WordForm(rf"(?<![a-z0-9])(?:{_LEFT}|{_RIGHT})")
_SHAPED = WordForm(r"\bshape (?:the )?(?P<what>leg|calf)\b")
_TAPER = WordForm(
    r"\b(?:toe|top|tip|crown|gusset|thumb|heel|finger|hand|mitten|armhole)s?\b", re.NOFLAG
)

_LEG = WordForm(r"\b(?:legs?|calf|calves|sleeves?)\b")  # "top and leg": that of a stocking


@attrs.frozen
class _Item:
    """A stitch of a row: its kind, its lean (-1 left, 1 right), and where it stands."""

    kind: str
    lean: int
    said: str
    start: int

    @property
    def turned(self) -> tuple[str, int]:
        return self.kind, -self.lean


def mirrors(sentences: Sentences) -> Iterator[Finding]:
    """Find rows whose halves mirror each other but for one pair of stitches."""
    both = any(_LEFT_DEC.search(one.text) for one in sentences.about(_LEFT_DEC))
    for one in sentences.about(_LEANS, _LACE):
        for begin in _BEGINS.finditer(one.text, max(0, one.start - 2)):
            items = _items(one.text, begin.end())
            title = "top" if _BOTH_NEEDLES.search(one.text) else f"{one.title} {_shaped(one.text)}"
            if said := _unlike(items, both) or _away(items, title):
                message, at = said
                place = one.place(at)
                yield Finding(WARNING, "mirror", message, place.line, place.column)
                break
        else:
            lace = _LACE.search(one.text, one.start)
            if lace is not None and (lace["a"] or "1") != (lace["b"] or "1"):
                shown = f"{lace['left']} on one side of {lace['mid']} and {lace['right']} on the other: should they be alike?"
                place = one.place(lace.start("right"))
                yield Finding(WARNING, "mirror", shown, place.line, place.column)


_BOTH_NEEDLES = WordForm(  # only a toe or a top is shaped at both ends of both needles
    r"rep(?:eat)?(?: from)? \* (?:on|for|over) (?:the )?(?:needle 2|(?:second|2nd|other) needle|n2)\b|\bon (?:each|both) needles?\b",
)
_LACE = WordForm(
    r"\b(?:yo|yfwd|yfd|yrn), (?P<left>k ?(?P<a>\d*)), (?P<mid>sk2po?|cdd|s2kpo?|k3tog|sl ?1,? k2tog,? psso), (?P<right>k ?(?P<b>\d*)), (?:yo|yfwd|yfd|yrn)\b",
)


def _shaped(text: str) -> str:
    """Return what a sentence says that it shapes, where it is a leg."""
    match = _SHAPED.search(text)
    return match["what"].lower() if match is not None else ""


def _items(text: str, start: int) -> list[_Item]:
    """Return the stitches listed from a place on; none where something else is among them."""
    found, at = list[_Item](), start
    while match := _ITEM.match(text, at):
        found.append(_made(match))
        between = _BETWEEN.match(text, match.end())
        if between is None:
            return found
        at = between.end()
    return []


def _made(match: re.Match[str]) -> _Item:
    word = match[0].lower()
    if match["left"] or match["right"]:
        kind = "inc" if re.match(r"m1|lli|rli", word) else "p dec" if word.startswith(("p", "ssp")) else "dec"  # fmt: skip
        return _Item(kind, -1 if match["left"] else 1, match[0], match.start())
    if match["even"]:
        marker = word.startswith(("sm", "sl"))
        return _Item("sm" if marker else word, 0, match[0], match.start())
    if match["far"]:
        return _Item("far", 0, match[0], match.start())
    return _Item(f"{match['plain'][0].lower()}{match['n']}", 0, match[0], match.start())


def _unlike(items: Sequence[_Item], both: bool) -> tuple[str, int] | None:
    """Say which pair of a row does not mirror, where all the others do.

    Where a text knows no shaping that leans left, all decreases lean right (`both` is false);
    an increase whose lean is named is one of two.
    """
    half = len(items) // 2
    pairs = [(items[at], items[-1 - at]) for at in range(half)]
    wrong = [(a, b) for a, b in pairs if (a.kind, a.lean) != b.turned]
    shaped = sum(a.kind in ("inc", "dec", "p dec") for a, b in pairs if (a, b) not in wrong)
    alone = half == 1 and len(items) == 3 and items[1].kind == "far"
    if len(wrong) != 1 or (half < 2 and not alone):
        return None
    ((first, last),) = wrong
    spread = first.said == last.said and _evenly(items)
    if (
        first.kind == last.kind
        and first.lean == last.lean != 0
        and (both or first.kind == "inc")
        and not spread
    ):
        way = "left" if first.lean < 0 else "right"
        return f"{first.said} and {last.said} both lean to the {way}, in a row that mirrors itself otherwise", last.start  # fmt: skip
    if shaped and first.kind[1:] == last.kind[1:] and {first.kind[0], last.kind[0]} == {"k", "p"}:
        return f"{first.said} on one side and {last.said} on the other, in a row that mirrors itself otherwise", last.start  # fmt: skip
    return None


EVEN, APART = (
    6,
    3,
)  # stitches between decreases that are only spread over a row; how far they differ


def _evenly(items: Sequence[_Item]) -> bool:
    """Tell whether a row only spreads its shapings over it: "k21, k2tog, k20, k2tog, k21"."""
    runs = [int(match[0]) for one in items if (match := re.search(r"\d+", one.kind)) is not None]
    return len(runs) > 2 and min(runs) > EVEN and max(runs) - min(runs) <= APART


def _away(items: Sequence[_Item], title: str) -> tuple[str, int] | None:
    """Say that two decreases one to three stitches from the edges lean away from them."""
    if (
        len(items) < 5
        or any(item.kind == "yo" for item in items)
        or _may_be_leg(items, title)
        or _MEANT.search(title)
        or _at_two_lines(items)
    ):
        return None
    edge, first, last, other = items[0], items[1], items[-2], items[-1]
    if edge.kind != other.kind or edge.kind not in ("k1", "k2", "k3"):
        return None
    if first.kind == last.kind == "dec" and first.lean == 1 and last.lean == -1:
        return f"{first.said} … {last.said} lean away from the edges: {last.said} … {first.said}?", first.start  # fmt: skip
    return None


def _at_two_lines(items: Sequence[_Item]) -> bool:
    """Tell whether a row shapes at both sides of two lines: "k3, k2tog, k1, k1, ssk, k6, k2tog, …"."""
    leans = "".join({1: ")", -1: "("}.get(one.lean, "") for one in items if one.kind == "dec")
    return leans == ")()("


def _may_be_leg(items: Sequence[_Item], title: str) -> bool:
    """Tell whether a round decreases at its beginning and end: a leg does so either way."""
    tapers = _TAPER.search(title) and not _LEG.search(title)
    return any(item.kind == "far" for item in items) and not tapers
