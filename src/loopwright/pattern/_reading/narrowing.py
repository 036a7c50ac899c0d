# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Short rows that go inwards: each is a stitch shorter than the last, until so many are left."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in, for_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.items import Item, On, Repeat, Run, Turn, WrapTurn
from loopwright.pattern.values import Count, To, Where, sized, values_of

__all__ = ["in_numbers", "less", "narrowed", "other_side", "rows_of", "worked_plain"]

MAX_ROWS = 120
_GOES_ON = WordForm(
    r"\b(?:continue|cont|carry on|go on|keep|proceed|repeat|work|stop|each row|every row|last (?:short )?row|and so on)\b",
    re.NOFLAG,
)
_IN_THE_MIDDLE = r"(?:(?:un(?:worked|wrapped) )?(?:in|at) (?:the )?(?:middle|cent(?:er|re))|between\b[^,.;\d]*|unwrapped|un-?turned|undivided|plain|single|ordinary|(?:are |have been )?worked)"
_LEFT = WordForm(
    rf"(?P<n>{COUNT})(?: (?:cent(?:er|re|ral)|middle|heel|plain|single|unwrapped))*(?: (?:sts?|stitch(?:es)?))?(?: (?:are|is|remain\w*|rem|left|still|stay|stand|now))* {_IN_THE_MIDDLE}|"
    rf"(?:cent(?:er|re|ral)|middle|single|plain|unwrapped) (?P<n2>{COUNT}) (?:sts|stitches)|"
    rf"(?P<n3>{COUNT}) (?:cent(?:er|re|ral)|middle|plain|single|unwrapped) (?:sts|stitches)",
    re.NOFLAG,
)
_LAST_ROW = WordForm(
    rf"\b(?:end(?:ing)? (?:with|on|after)|un?til+|last (?:short )?row)\b[^.;]*?(?<![a-z])(?:k|p|knit|purl) ?(?P<n>{COUNT})\b(?! ?(?:sts?|stitches)? ?tog)",
    re.NOFLAG,
)


_SLIPS_FIRST = WordForm(r"\bsl(?:ip)? ?1\b[^,;.]{0,12}, ?\w{0,4} ?$")
_MIRRORED = {"k": "p", "p": "k", "ssk": "p2tog", "skp": "p2tog", "p2tog": "ssk", "k2tog": "ssp", "ssp": "k2tog", "sl": "sl", "slf": "sl", "ds": "ds", "yo": "yo"}  # fmt: skip


def other_side(items: tuple[Item, ...]) -> tuple[Item, ...] | None:
    """Return a row as the other side's row would do the same."""
    found: list[Item] = []
    for item in items:
        if isinstance(item, Run):
            if item.stitch not in _MIRRORED:
                return None
            found.append(Run(_MIRRORED[item.stitch], item.amount, item.with_wraps))
        elif isinstance(item, Repeat | On):
            return None
        else:
            found.append(item)
    return tuple(found)


def rows_of(items: Sequence[Item]) -> Iterator[tuple[Item, ...]]:
    """Return the rows that items are, each with the turn at its end."""
    begin = 0
    for at, item in enumerate(items, start=1):
        if isinstance(item, Turn | WrapTurn):
            yield tuple(items[begin:at])
            begin = at


def narrowed(scribe: Scribe, text: str, rows: Sequence[st.Round | st.Row]) -> list[Says] | None:
    """Return the rows that follow two short ones, each one stitch shorter than the one before.

    They end with the row that is named, or that works as many stitches as are left in the middle.
    """
    rows = in_numbers(rows, [tally.count for tally in scribe.now().tallies])
    last = [row for row in rows[-2:] if isinstance(row, st.Row) and row.is_turned]
    goal = _LAST_ROW.search(text) or _LEFT.search(text)
    if len(last) < 2 or goal is None or not _GOES_ON.search(text):
        return None
    worked = [worked_plain(row.items) for row in last]
    if None in worked:
        return None
    step = less(worked[0], worked[1])  # type: ignore[arg-type]
    live = scribe.now()
    if step is None or not live.sure:
        return None
    end = next(goal[key] for key in ("n", "n2", "n3") if goal.groupdict().get(key))
    sizes = len(live.tallies)
    now, wanted = _spread(worked[1], sizes), _spread(count_in(end), sizes)  # type: ignore[arg-type]
    if "n2" not in goal.groupdict() and _SLIPS_FIRST.search(text[: goal.start("n")]):
        wanted = tuple(n + 1 for n in wanted)  # "until sl 1, p11 is worked"
    many = {(a - b) // step for a, b in zip(now, wanted, strict=True)}
    uneven = any((a - b) % step for a, b in zip(now, wanted, strict=True))
    if uneven or min(many) < 0 or max(many) > MAX_ROWS:
        return None
    if len(many) > 1:  # the sizes work different numbers of rows; none changes the count
        scribe.note(text)
        scribe.claim("adopt", live.count)
        return []
    made: list[Says] = []
    row = last[1]
    for _ in range(many.pop()):
        items = other_side(row.items)
        if items is None:
            return None
        row = attrs.evolve(row, items=_shorter(items, step), side=None, count=None, at=scribe.place)
        made.append(row)
    return made


def in_numbers(
    rows: Sequence[st.Round | st.Row], counts: Sequence[int]
) -> Sequence[st.Round | st.Row]:
    """Return short rows that are told from the end, "to last 3 sts, turn", by what they work.

    Only the last ones are, and only where all of them are told so, each turned nearer the middle.
    """
    left = [_left_at_the_end(row) for row in rows]
    first = max((at + 1 for at, many in enumerate(left) if not many), default=0)
    told = left[first:]
    if len(told) < 2 or any(b < a for a, b in zip(told, told[2:], strict=False)):
        return rows
    found, before = [*rows[:first]], 0
    for row, many in zip(rows[first:], told, strict=True):
        lead = sum(isinstance(i, Run) and i.stitch in _LEADS for i in row.items)
        works = [count - before - many - lead for count in counts]
        before = many
        if min(works, default=0) < 1:
            return rows
        items = [
            attrs.evolve(item, amount=sized(works))
            if isinstance(item, Run) and isinstance(item.amount, To)
            else item
            for item in row.items
        ]
        found.append(attrs.evolve(row, items=tuple(items)))
    return found


_LEADS = ("sl", "slf", "ds")  # a row may begin with one of these


def _left_at_the_end(row: st.Round | st.Row) -> int:
    """Return how many stitches a plain short row leaves: "k to last 3 sts, w&t"; 0 for others."""
    *lead, run, end = (None, None, *row.items)[-max(3, len(row.items)) :]
    known = len(lead) == 1 and (lead[0] is None or getattr(lead[0], "stitch", "") in _LEADS)
    if not known or not isinstance(end, Turn | WrapTurn) or not isinstance(run, Run):
        return 0
    to = run.amount
    if run.stitch not in ("k", "p") or not isinstance(to, To) or to.where is not Where.END:
        return 0
    return to.before if isinstance(to.before, int) else 0


def _spread(count: Count, sizes: int) -> tuple[int, ...]:
    return for_sizes(tuple(map(int, values_of(count))), sizes)


def _main(items: Sequence[Item]) -> int | None:
    """Return where the longest run of a row stands that is knitted or purled."""
    found = [
        (int(values_of(item.amount)[0]), -at)
        for at, item in enumerate(items)
        if isinstance(item, Run)
        and item.stitch in ("k", "p")
        and not item.with_wraps
        and not isinstance(item.amount, To)
    ]
    return -max(found)[1] if found else None


def worked_plain(items: Sequence[Item]) -> Count | None:
    """Return the plain stitches of a short row; None if it does anything else."""
    at = _main(items)
    if at is None:
        return None
    rest = [item for place, item in enumerate(items) if place != at]
    known = all(not isinstance(i, Run) or i.stitch in ("sl", "slf", "ds", "yo") for i in rest)
    run = items[at]
    slipped = sum(isinstance(i, Run) and i.stitch.startswith("sl") for i in rest)
    if not known or not isinstance(run, Run):
        return None
    return sized([int(value) + slipped for value in values_of(run.amount)])  # type: ignore[arg-type]


def less(before: Count, after: Count) -> int | None:
    """Return by how many stitches a row is shorter than the one before, the same in each size."""
    pairs = zip(values_of(before), values_of(after), strict=False)
    steps = {int(a) - int(b) for a, b in pairs}
    return steps.pop() if len(steps) == 1 and min(steps) > 0 else None


def _shorter(items: tuple[Item, ...], by: int) -> tuple[Item, ...]:
    found = list(items)
    at = _main(items)
    run = items[at] if at is not None else None
    if isinstance(run, Run) and not isinstance(run.amount, To):
        found[at or 0] = attrs.evolve(
            run, amount=sized([int(v) - by for v in values_of(run.amount)])
        )
    return tuple(found)
