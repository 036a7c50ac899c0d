# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Short rows that go on, each shorter than the last: told in any words, known by the row they end with."""

from __future__ import annotations

from loopwright.pattern import steps as st
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.narrowing import less, worked_plain
from loopwright.pattern._reading.stated import for_sizes, numbers_of_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.items import Run, Turn, WrapTurn
from loopwright.pattern.values import sized, values_of

__all__ = ["may_go_on_narrowing", "narrowed_in_short"]

Numbers = tuple[int, ...]

_SHORTER = WordForm(
    r"\b(?:shorter|less|fewer|sooner|earlier|lose|loses|losing|so on|so forth|go on|going on|continu\w*|carry(?:ing)? on|keep (?:on|going)|likewise|in the same (?:way|manner)|like this|on:)\b"
)
_ENDS = WordForm(
    r"\b(?:un?til+|till|to and including|stop\w*|as far as|down to|up to|end\w*|finish\w*|last|(?:so that )?row \d+ (?:is|reads|will be)|on to|reach\w*|read)\b",
)
_TURN = r"(?:w ?[&+/] ?t\b|wrap\b|turn\b|shadow\b)"
_ROW = WordForm(
    rf"(?<![\w-])(?P<stitch>k|p|knit|purl) ?(?P<n>{COUNT})(?! ?tog)(?P<turn>,? ?(?:and )?{_TURN})?",
)
_OTHERWISE = WordForm(
    r"\b(?:ssk|ssp|k2tog|p2tog|skp\w*|m1\w?|pick\w*|then|rounds?|rnds?|times|twice|cast|bind|rep from)\b"
)


def may_go_on_narrowing(text: str) -> bool:
    """Tell whether a line asks for shorter and shorter rows, up to one that it names.

    Examples
    --------
    >>> may_go_on_narrowing("Each row is a stitch shorter; stop when you have worked p10, w&t.")
    True
    >>> may_go_on_narrowing("Work 1 st less before each turn until 10 sts are left unwrapped.")
    False
    """
    return bool(_SHORTER.search(text) and _ENDS.search(text) and _ROW.search(text)) and not (
        _OTHERWISE.search(text)
    )


def narrowed_in_short(live: Live, text: str) -> tuple[str, Numbers] | None:
    """Return in short that rows get shorter up to one, and the stitches on the needles then."""
    rows, sizes = live.last_rows(2), len(live.tallies)
    if live.in_rounds or not live.sure or len(rows) < 2:
        return None
    turned = [
        row
        for row in rows
        if isinstance(row, st.Row) and isinstance(row.items[-1], Turn | WrapTurn)
    ]
    worked = [worked_plain(row.items) for row in turned]
    if len(turned) < 2 or worked[0] is None or worked[1] is None:
        return None
    step = less(worked[0], worked[1])
    named = [one for one in _ROW.finditer(text) if numbers_of_sizes(one["n"], sizes)]
    if step is None or not named or len(named) > 2:
        return None
    last, end = named[-1], numbers_of_sizes(named[-1]["n"], sizes)
    now = for_sizes(tuple(int(n) for n in values_of(worked[1])), sizes)
    first = turned[1].items[0]
    slips, adds = (
        isinstance(first, Run) and first.stitch in kind for kind in (("sl", "slf"), ("yo",))
    )
    if end is None or len(now) != sizes:
        return None
    now = tuple(n - slips for n in now)
    if any(a < b or (a - b) % step for a, b in zip(now, end, strict=True)):
        return None
    if len(named) == 2 and numbers_of_sizes(named[0]["n"], sizes) != tuple(n + step for n in end):
        return None
    many = tuple((a - b) // step for a, b in zip(now, end, strict=True))
    ends = f"{'sl 1, ' * slips}{last['stitch'][0].lower()}{sized(end)}"
    said = f"Continue in this way, {step} st fewer each row, until you have worked {ends}, turn."
    counts = zip(live.tallies, many, strict=True)
    return said, tuple(tally.count + adds * more for tally, more in counts)
