# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows that a text calls by a name: "the decrease round", "the last row"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import attrs

from loopwright.fabric.stitches import STITCHES
from loopwright.pattern import steps as st
from loopwright.pattern._contents import rewritten
from loopwright.pattern._reading.how_often import times_in
from loopwright.pattern._reading.labels import row_name
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._reading.stated import stated_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.items import Item, On, Repeat, Run
from loopwright.pattern.values import To, plus

__all__ = [
    "in_purl",
    "is_shaping",
    "is_worked_below",
    "last_shaping",
    "named_row",
    "rows_named",
    "says_purled",
]

_IN_PURL = WordForm(
    r"\b(?:in purl|purl(?:wise|ing)?(?: (?:instead of|for|in place of) knit(?:ting|s)?)?"
    r"|(?:on|from) the purl side|with purl (?:sts|stitches))\.?$"
)
_PURLED = {
    "k": "p", "ktbl": "ptbl", "k2tog": "p2tog", "ssk": "ssp", "skp": "ssp", "k3tog": "p3tog",
    "m1l": "m1lp", "m1r": "m1rp", "kfb": "pfb",
}  # fmt: skip
_OTHER_WAY = _PURLED | {purled: knitted for knitted, purled in _PURLED.items() if knitted != "skp"}


def says_purled(text: str) -> bool:
    """Tell whether a row is to be as another, in purl."""
    return _IN_PURL.search(text) is not None


def in_purl(rows: Sequence[st.Round | st.Row]) -> list[st.Round | st.Row]:
    """Return rows with purl for knit, and knit for purl."""

    def turned(thing: object) -> object:
        if isinstance(thing, Run) and thing.stitch in _OTHER_WAY:
            return attrs.evolve(thing, stitch=_OTHER_WAY[thing.stitch])
        return thing

    return [rewritten(row, turned) for row in rows]


def named_row(scribe: Scribe, name: str) -> st.Round | st.Row | None:
    """Return the row that a text means by a name, None if it named none so.

    Where no row was given that name, "the decrease round" is the last one that decreased. One
    that was written out for more stitches than there are now is none: its like is meant.
    """
    name = row_name(name)
    found = scribe.context.named.get(name)
    if found is None and name in ("rib", "ribbing"):
        return _last_rib(scribe)
    kind = name.split()[-1]  # "the toe decrease round", which may bear no name
    if kind not in _KINDS or (found is not None and kind != name):
        return found
    found = last_shaping(scribe, _KINDS[kind]) if found is None else found
    return found if found is not None and _fits(scribe, found) else None


def _last_rib(scribe: Scribe) -> st.Round | None:
    """Return the round worked last, where it is a rib over and over: "the rib round"."""
    entry = next(
        (e for e in reversed(scribe.assembler.entries) if not isinstance(e.step, st.Note)), None
    )
    step = entry.step if entry is not None else None
    (one,) = step.items if isinstance(step, st.Round) and len(step.items) == 1 else (None,)
    runs = one.items if isinstance(one, Repeat) else ()
    rib = {run.stitch for run in runs if isinstance(run, Run)} == {"k", "p"}
    return step if rib and isinstance(step, st.Round) else None


def rows_named(scribe: Scribe, name: str) -> list[st.Round | st.Row]:
    """Return rows that were given a name together, "the garter rows", or the one of that name."""
    named, rows = scribe.context.named, list[st.Round | st.Row]()
    while (row := named.get(f"{name} {len(rows) + 1}")) is not None:
        rows.append(row)
    one = None if rows else named_row(scribe, name)
    return rows if one is None else [one]


_KINDS = {"dec": "dec", "inc": "inc", "shaping": ""}


def _fits(scribe: Scribe, row: st.Round | st.Row) -> bool:
    live = scribe.now()
    if not live.sure:
        return True
    row = attrs.evolve(row, count=None)
    trials = (live.trial((row,), size) for size in range(len(live.tallies)))
    return not any(trouble.kind == "count" for one in trials for _, trouble in one.troubles)


def is_shaping(row: st.Round | st.Row) -> bool:
    """Tell whether a row does more than one stitch on and on."""
    alone = row.items[0] if len(row.items) == 1 else None
    return not (isinstance(alone, Run) and alone.amount == To())


def last_shaping(scribe: Scribe, kind: str = "") -> st.Round | st.Row | None:
    """Return the last row that shapes: one that decreases (``"dec"``), increases, or either."""
    told, since = scribe.context.defined or (None, -1)
    entries = [*enumerate(scribe.assembler.entries)]
    for at, entry in reversed(entries[-40:]):
        if told is not None and at < since and (_is_of(told, kind) if kind else is_shaping(told)):
            return told  # and none was worked since
        step = entry.step
        rows = [step] if isinstance(step, st.Round | st.Row) else []
        if isinstance(step, st.RepeatRounds):
            rows = [one for one in step.steps if isinstance(one, st.Round | st.Row)]
        for row in reversed(rows):
            if _is_of(row, kind) if kind else is_shaping(row):
                return row
    return None


def _is_of(row: st.Round | st.Row, kind: str) -> bool:
    changes = sum(_changes(row.items))
    return changes < 0 if kind == "dec" else changes > 0


def _changes(items: Sequence[Item]) -> Iterator[int]:
    for item in items:
        if isinstance(item, Run) and item.stitch in STITCHES:
            yield STITCHES[item.stitch].change
        elif isinstance(item, Repeat | On):
            yield from _changes(item.items)


_WORKED_BELOW = WordForm(
    r"\W*(?:round|rnd|row|r) ?1: (?:work |the |an? )*(?:dec|inc)\w* (?:round|rnd|row)\W*(?:\(|$)",
)


def is_worked_below(scribe: Scribe, name: str, step: st.Round | st.Row) -> bool:
    """Tell whether a row is told once for all: "Dec round: …", and then "Round 1: Dec round.".

    So is one that shapes, and is then asked for by its name, so many times and no "more": "Work
    the dec round 5 times". Where a count is stated behind it, that must come out.
    """
    below = scribe.following or scribe.next_line
    if _WORKED_BELOW.match(below) is not None:
        return True
    called = _CALLED_BELOW.match(below.lower())
    if called is None or scribe.stated is not None or row_name(called["name"]) != row_name(name):
        return False
    often, live, after = times_in(called["rest"]), scribe.now(), stated_in(MappedText.of(below))
    if _SAID_AGAIN.search(called[0]) or "until" in called[0] or not isinstance(often, int):
        return False
    ends = [live.trial((step,), size) for size in range(len(live.tallies))]
    changes = [end.tally.count - now.count for end, now in zip(ends, live.tallies, strict=True)]
    if not live.sure or any(end.troubles for end in ends) or 0 in changes:
        return False
    return after.count is None or after.count == plus(live.count, often * changes[0])


_CALLED_BELOW = WordForm(  # "Work the gusset rnd 3 times", "[dec rnd, plain rnd] x 7"
    r"\W*(?:\d{1,2}[.)] )?(?:(?:now|then),? )?(?:(?:work|do|make|knit) )?(?:the |an? |this |one )?(?P<name>[a-z][a-z -]{1,24}?(?= (?:rounds?|rnds?|rows?)\b)|(?:dec|inc)(?=[, ]))(?: (?:rounds?|rnds?|rows?)\b)?(?!:)(?P<rest>[^.]*)"
)
_SAID_AGAIN = WordForm(
    r"\b(?:more|again|another|further|rep\w*|in all|total|altogether|inclu\w+)\b"
)
