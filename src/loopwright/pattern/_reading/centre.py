# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The stitch in the middle: "knit to center st, yo, k1, yo" needs a marker before it."""

from __future__ import annotations

import re
from collections.abc import Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._certain_changes import change_of
from loopwright.pattern._reading.rule_table import alone, rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._tally import MARKER
from loopwright.pattern.items import Item, Mark, Run
from loopwright.pattern.program import Pattern, of_size
from loopwright.pattern.values import Count, To, as_many, sized, values_of

__all__ = ["mark_last_row", "with_centre"]

_MIDDLE = r"(?:(?:marked|the|this|next|marked) )*(?:cent(?:er|re)|middle|spine|marked) (?:st(?:itch)?\b\.?|one\b)"
_WORDS = ("cent", "middle", "spine", "marked")  # one of which stands in what `_MIDDLE` finds
_TO_MIDDLE = WordForm(
    rf"\b(?:to|until|before)(?: (?P<short>\d+|one) (?:sts?|stitch(?:es)?) before)?(?: you reach)? {_MIDDLE}(?P<between>(?:, (?!k1\b|p1\b|knit\b|purl\b|sm\b|slip\b|sl\b)[^,;:.*]+)*)(?P<it>, (?:and )?(?P<how>k|p)(?:nit|url)? ?(?:1|it)\b)?",
)
_THE_MIDDLE = WordForm(
    rf"\b(?P<how>k|p|sl)(?:nit|url|ip)? ?(?:(?<= ){_MIDDLE}(?: itself)?|1 ?\((?:this is )?{_MIDDLE}\))",
)
_BEHIND_ONE = WordForm(  # "to 1 st before center st, k1, yo, k1, yo": the second is the middle
    r"(?P<one>to 1 st before m, (?P<how>k|p) ?1, (?:yo|m1[lr]?), )(?=(?P=how) ?1\b)"
)


def with_centre(scribe: Scribe, said: MappedText) -> MappedText:
    """Put a marker for the stitch in the middle, hung before it where the text has hung none."""
    low = said.text.lower()
    if not any(word in low for word in _WORDS) or not _TO_MIDDLE.search(said.text):
        return said
    if not _is_marked(scribe) and not _mark(scribe):
        return said
    back = re.match(r"[^:]*\bWS\b[^:]*:|[^:]*: ?(?:p|purl)\b", said.text) is not None
    told = _THE_MIDDLE.search(said.text) is not None

    def marked(match: re.Match[str]) -> str:
        one = f"{match['how'].lower()}{' ' * (match['how'][-1] in 'lL')}1"
        return f"{one}, sm" if back else f"sm, {one}"

    def meant(match: re.Match[str]) -> str:
        many = int({"one": 1}.get(match["short"], match["short"] or 0)) + back
        where = f"to {many} st{'s' * (many > 1)} before m" if many else "to m"
        here = match["it"] and not told and (back or not match["short"])
        it = ", " + marked(match) if here else match["it"] or ""
        return f"{where}{match['between']}{it}"

    said = said.sub(_TO_MIDDLE, meant).sub(_THE_MIDDLE, marked)
    return said.sub(_BEHIND_ONE, r"\g<one>sm, ")


@rule(
    rf"(?:(?:the )?(?:middle|cent(?:er|re)) {{STS}} (?:is|will be) (?:now )?(?:the |your )?cent(?:er|re) {{STS}}[;,]? ?(?:and )?)?(?:mark|(?:place|pm|put|hang|clip) ?(?:an? |your |the )?(?:removable |locking )?(?:marker )?(?:in|on|at|around)) (?:it|this {{STS}}|{_MIDDLE})(?:[,;]? (?:and )?(?:then )?(?:mov|carry|tak|keep|shift)\w* [^;\d]*)?"
)
@alone
def _marked(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "mark the center st": a marker before it."""
    _is_marked(scribe) or _mark(scribe)
    return []


def _is_marked(scribe: Scribe) -> bool:
    return all(
        any(key[0] == MARKER for key in (*tally.ahead_at, *tally.behind_at))
        for tally in scribe.now().tallies
    )


def _mark(scribe: Scribe) -> bool:
    """Place a marker before the middle stitch in the row worked last; tell whether that went."""
    live = scribe.now()
    odd = all(tally.count % 2 for tally in live.tallies)
    return odd and mark_last_row(scribe, [tally.count // 2 for tally in live.tallies])


def mark_last_row(scribe: Scribe, places: Sequence[int]) -> bool:
    """Place a marker after so many stitches, for each size, in the row worked last.

    They are counted as the right side is seen. Return whether that went: where the row has no
    place between two stitches there, it is left as it is.
    """
    live, entries = scribe.now(), scribe.assembler.entries
    at = next((n for n in range(len(entries) - 1, -1, -1) if not isinstance(entries[n].step, st.Note | st.Section)), -1)  # fmt: skip
    row = entries[at].step if at >= 0 else None
    whole = all(not (tally.ahead and tally.behind) for tally in live.tallies)
    if not isinstance(row, st.Row | st.Round) or not live.sure or not whole:
        return False
    if isinstance(row, st.Row) and live.tallies[0].right_side:  # it was turned at its end
        places = [tally.count - one for tally, one in zip(live.tallies, places, strict=True)]
    found = [_split(scribe, row, size, place) for size, place in enumerate(places)]
    cuts = [one for one in found if one is not None]
    if len(cuts) != len(found) or len({cut[0] for cut in cuts}) != 1:
        return False
    index, into = cuts[0][0], sized([cut[1] for cut in cuts])
    items = _with_mark(row.items, index, into)
    if items is None:
        return False
    entries[at].step = attrs.evolve(row, items=items)
    for behind in entries[at + 1 :]:  # told anew: what is on the needles is followed by them
        behind.step = attrs.evolve(behind.step)
    return True


def _split(scribe: Scribe, row: st.Row | st.Round, size: int, place: int) -> tuple[int, int] | None:
    """Return which item makes the stitch at a place, and how many of it come before."""
    live = scribe.now()
    (one,) = of_size(Pattern("", (row,), sizes=live.size_names), size).steps
    widths: list[int | None] = []
    for item in one.items:  # type: ignore[attr-defined]
        found = change_of((item,), scribe.table)
        open_end = isinstance(getattr(item, "amount", getattr(item, "times", 0)), To)
        widths.append(None if found is None or open_end else sum(found))
    if widths.count(None) > 1:
        return None
    rest = live.tallies[size].count - sum(width or 0 for width in widths)
    done = 0
    for index, width in enumerate(widths):
        wide = rest if width is None else width
        if done + wide > place or (done + wide == place and index == len(widths) - 1):
            return index, place - done
        done += wide
    return None


def _with_mark(items: Sequence[Item], index: int, into: Count) -> tuple[Item, ...] | None:
    before, item, after = items[:index], items[index], items[index + 1 :]
    if into == 0:
        return (*before, Mark(), item, *after)
    if not isinstance(item, Run):
        return None
    if isinstance(item.amount, To):
        return (*before, attrs.evolve(item, amount=into), Mark(), item, *after)
    like = max(item.amount, into, key=lambda one: len(values_of(one)))
    pairs = zip(as_many(item.amount, like), as_many(into, like), strict=True)
    left = sized([whole - part for whole, part in pairs])
    return (
        *before,
        attrs.evolve(item, amount=into),
        Mark(),
        attrs.evolve(item, amount=left),
        *after,
    )
