# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A heel's turn that goes on until nothing is left beside it: told in any words, known by its end.

The rows told before say how the next ones are worked, and what lies beyond their gaps says how
many there are: so the stitches left are known before a word of the line is read.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile

from loopwright.fabric.stitches import STITCHES
from loopwright.pattern import steps as st
from loopwright.pattern._reading.closed_edges import closed_at_edges
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.stated import numbers_of_sizes
from loopwright.pattern._reading.turned_repeats import going_on, is_to_gap
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tally import GAP
from loopwright.pattern.items import Item, Run, Turn
from loopwright.pattern.values import Count, To, UntilWorked, Where, sized

__all__ = ["may_go_on_turning", "turned_in_short"]

Numbers = tuple[int, ...]

_GOES_ON = WordForm(
    r"\b(?:go on|going on|goes on|continu\w*|cont|carry|keep\w*|rep|repeat\w*|alternat\w*|proceed\w*|the same|same again|so on|in this (?:way|manner|fashion)|these (?:two |2 )?rows|(?:work|do|knit) (?:on|further|these|this|so|rows|each|every)|(?:every|each|all) (?:further |other |following |next )*rows?|keep to|rows? \d+ and on(?:ward)?s?|rows get|(?:one|1|a) (?:st|stitch) (?:more|further|longer)|(?:one|1) more (?:st|stitch)|thus|like this|by turns)\b"
)
_TO_THE_END = WordForm(
    r"\b(?:until|till|to the ends?|to their ends?|to (?:the )?last|stop|finish|end|when|use up|over)\b.*\b(?:all|every|each|both|no|none|nothing|neither|out of|used|use|gone|ends?|last|empty|eaten|swallowed|taken|in|(?:sts|stitches) (?:remain|are left))\b|\bto (?:the )?last st\b|\buse up\b.*\b(?:all|the)\b|\buse up the last\b"
)
_LEFT = WordForm(
    rf"(?P<n>{COUNT}) ?(?:heel |live )?(?:sts?|stitches)\b(?! (?:before|between|from|each|at|on either|beyond|fewer|less|more))",
)
_NUMBERS = WordForm(rf"(?<![a-z\d]){COUNT}(?![a-z\d])")
_OTHERWISE = WordForm(
    r"\b(?:wrap\w*|w&t|ds|double|rounds?|rnds?|times|twice|pick|instep|markers?|needle [1-4]|(?:[3-9]|\d\d+) (?:more |further )?(?:short )?rows(?! \d)|(?:1|one|\d+) (?:sts?|stitch\w*) (?:(?!more|further)\w+ ){0,3}(?:each|either|both)(?! (?:row|time|(?:st|stitch|one) (?:is|has))\b| (?:sides?|ends?) (?:are|is|have)))\b|\brows \d+ ?(?:-|–|to) ?\d+:|\brow \d+:"
)
_TALK = WordForm(  # stitches that are told of rows that were told before, or of the last one
    r"\([^()]*\)|\b(?:end(?:ing)?|finish(?:ing)?|stop(?:ping)?) (?:with|after) (?:a row )?sl[^.]*|\bbetween the sl 1\b",
)
_LIKE_THOSE = (
    WordForm(  # rows told once more in words; only those that come to the number are taken
        r"\bsl(?:ip)? ?1\b(?:[^.;]|\.{3})*?\bturn\b"
    )
)
_STITCHES = WordForm(
    r"\b[kp] ?\d|\b(?:[kp]\d?tog|ssk|ssp|skpo?|sl(?:ip)? ?1|yo|m1\w?)\b|\b(?:knit|purl|slip) \d|\*",
)


_MOST = 40  # rows of a turn that are told one by one


def may_go_on_turning(text: str) -> bool:
    """Tell whether a line may ask for turned rows told before, and tell what is left.

    Examples
    --------
    >>> may_go_on_turning("Go on with Rows 3 and 4. When no side sts are left, you have 8 stitches.")
    True
    >>> may_go_on_turning("Repeat Rows 3 and 4 five more times. 8 sts.")
    False
    """
    text = _LIKE_THOSE.sub("turn", text)
    if not (_GOES_ON.search(text) or _TO_THE_END.search(text)) or _OTHERWISE.search(text):
        return False
    return not _STITCHES.search(_TALK.sub("", text))


def turned_in_short(live: Live, text: str) -> tuple[str, Count, bool] | None:
    """Return in short that a heel is turned to its end, its stitches then, and whether it tells no others."""
    there = tuple(tally.count for tally in live.tallies)
    rows = live.last_rows(2, parts=True)
    if (
        live.in_rounds
        or len(rows) < 2
        or not all(map(_is_turned, rows))
        or not all(map(_decreases, rows))
    ):
        return None
    found = _to_the_end([row for row in rows if isinstance(row, st.Row)], live)
    if found is None:
        return None
    said, left, even = found
    told = [numbers_of_sizes(one[0], len(there)) for one in _NUMBERS.finditer(text)]
    stated = [numbers_of_sizes(one["n"], len(there)) for one in _LEFT.finditer(text)]
    others = [n for n in stated if n and all(0 < a < b for a, b in zip(n, there, strict=True))]
    if others[-1] == left if others else left in told:
        return f"{said}. {sized(left)} sts", sized(left), True
    if not (even and _GOES_ON.search(text) and _TO_THE_END.search(text)):
        return None
    return (f"{said}. {sized(others[-1])} sts" if others else said), sized(left), not others


def _to_the_end(rows: Sequence[st.Row], live: Live) -> tuple[str, Numbers, bool] | None:
    """Return how turned rows go on until nothing is left, the stitches then, and whether both sides
    are alike.
    """
    alike = [*rows] if all(map(is_to_gap, rows)) else going_on(rows)
    words = [_in_words(row.items) for row in alike or ()]
    if alike is None or None in words:
        return None
    many = len(list(takewhile(_is_turned, reversed(live.last_rows(_MOST, parts=True)))))
    uneven = [_uneven(live, alike[:lead]) for lead in (0, 1)]
    for lead in sorted((0, 1), key=uneven.__getitem__):
        left = _left(live, alike[:lead], [*alike[lead:], *alike[:lead]])
        if left is not None:  # an odd number of rows is left where the last was the first of two
            before = f"Next row: {words[0]}. " if lead else ""
            again = f"*{words[lead]}; {words[1 - lead]}; rep from *"
            even = not uneven[lead] and many % 2 == lead
            return f"{before}{again} until all sts have been worked", left, even
    return None


def _uneven(live: Live, lead: Sequence[st.Row]) -> int:
    """Return how many more stitches are left beyond one side than beyond the other, at most."""
    found = 0
    for size in range(len(live.tallies)):
        tally = live.trial(lead, size).tally
        gap = tally.next_of(GAP, beyond=1)
        found = max(found, abs(tally.behind - (tally.ahead - gap if gap is not None else 0)))
    return found


def _left(live: Live, lead: Sequence[st.Row], rows: Sequence[st.Row]) -> Numbers | None:
    """Return the stitches behind rows worked until no gap is left, None where it never comes to that."""
    sizes = range(len(live.tallies))
    tallies = tuple(live.trial(lead, size).tally for size in sizes)
    if any(tally.next_of(GAP) is None for tally in tallies):
        return None
    steps = [*lead, *closed_at_edges(st.RepeatRounds(tuple(rows), UntilWorked()), tallies)]
    ends = [live.trial(steps, size) for size in sizes]
    for end in ends:
        if end.tally.has(GAP) or any(trouble.kind != "mirror" for _, trouble in end.troubles):
            return None
    return tuple(end.tally.count for end in ends)


def _in_words(items: Sequence[Item]) -> str | None:
    """Return the stitches of a turned row in our words, None where it holds other things than runs."""
    words = []
    for item in items:
        if isinstance(item, Turn):
            words.append("turn")
        elif not isinstance(item, Run) or item.with_wraps:
            return None
        elif isinstance(item.amount, To):
            if item.amount.where is not Where.GAP:
                return None
            before = f"{item.amount.before} st before " if item.amount.before else ""
            words.append(f"{item.stitch} to {before}gap")
        elif item.stitch in ("k", "p"):
            words.append(f"{item.stitch}{item.amount}")
        elif item.stitch == "sl":
            words.append(f"sl {item.amount} pwise")
        elif item.amount == 1:
            words.append(item.stitch)
        else:
            return None
    return ", ".join(words)


def _is_turned(row: st.Row | st.Round) -> bool:
    return isinstance(row, st.Row) and isinstance(row.items[-1], Turn)


def _decreases(row: st.Row | st.Round) -> bool:
    runs = [item for item in row.items if isinstance(item, Run) and item.stitch in STITCHES]
    return any(STITCHES[run.stitch].change < 0 for run in runs)
