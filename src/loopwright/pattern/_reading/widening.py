# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Short rows that go outwards, each a stitch longer than the last, until all stitches are worked."""

from __future__ import annotations

import re
from collections.abc import Sequence

from loopwright.pattern import steps as st
from loopwright.pattern._reading.ends import ALL_WORKED
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import for_sizes, numbers_of_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tally import GAP
from loopwright.pattern.items import Item, Run, Turn, WrapTurn
from loopwright.pattern.values import To, Where, sized, values_of

__all__ = ["lengthened", "says_longer", "takes_one_up", "widened"]

_ALL_OF = WordForm(r"all (?:the |of the )?(?P<n>\d{1,3}) (?:heel )?(?:sts|stitches)\b", re.NOFLAG)


def widened(scribe: Scribe, rows: list[st.Round | st.Row], until: str) -> list[Says] | None:
    """Return the last two rows over and over, if both sides come to an end at the same time.

    In a round nothing else tells where the part ends: it begins where the round does.
    """
    said, live = _ALL_OF.match(until), scribe.now()
    if said is None or len(rows) < 2 or not live.in_rounds or not live.sure:
        return None
    if not all(isinstance(row, st.Row) and row.items[-1] == Turn() for row in rows[-2:]):
        return None
    if not all(takes_one_up(row) for row in rows[-2:]):
        return None
    left = set()
    for tally in live.tallies:
        gap = tally.next_of(GAP, beyond=1)
        if gap is None or not tally.right_side:
            return None
        left |= {tally.behind, int(said["n"]) - tally.behind - gap}
    (times,) = left if len(left) == 1 else (0,)
    return [st.RepeatRounds(tuple(rows[-2:]), times, at=scribe.place)] if times > 0 else None


def takes_one_up(row: st.Round | st.Row) -> bool:
    """Tell whether a row goes one stitch farther than the last: "knit DS as one, k1, turn"."""
    ends = row.items[-3:-1]
    taken = [item for item in ends if isinstance(item, Run) and item.amount == 1]
    return len(taken) == 2 and taken[0].with_wraps and not taken[1].with_wraps


_ONE = r"(?:1|one|another|a further|an extra|a)"
_ST = r"(?:wrapped |twin |double )?(?:st|stitch)"
_ROW = r"(?:(?:each|every|the following|all)(?: (?:following|further|later|new))? rows?|each time|every time)"
_LONGER = WordForm(  # "work 1 st more in each row", "every following row is a stitch longer"
    rf"\b{_ONE} (?:more |further )?{_ST}(?: more| further| longer| farther)?(?:,? (?:and|with) (?:its|the) wraps?)?(?: (?:in|on|with|for))? {_ROW}\b|"
    rf"\b{_ROW} (?:(?:is|are|will be|gets|goes|becomes|takes in|takes up|taking in|taking up|picking up|picks up|works|working|reaches|now|then) )+{_ONE} (?:more |further )?{_ST}(?: more| further| longer| farther)?\b|"
    rf"\b{_ROW},? {_ONE} {_ST} (?:more|longer|farther)\b",
)
_GOES_ON = WordForm(
    r"(?:and |now |then )*(?:continue|cont\b\.?|carry on|go on|keep (?:on|going)|proceed)(?: working| (?:in|like) (?:this|the same|that)(?: (?:way|manner|fashion))?| thus| so)*,? (?:un)?til+ ",
)
_UNTIL = WordForm(r"\b(?:(?:un)?til+|as far as|up to(?: and including)?) (?P<what>.*)$")
_ALL_IN = WordForm(
    r"(?:(?:all|every|each|no|none)\b[^;]*\b(?:wrap(?:s|ped)?|live)\b[^;]*|(?:the )?(?:heel|whole heel|last|end)(?: (?:sts?|stitch(?:es)?))? (?:is|are|has been|have been) (?:all )?(?:worked|in (?:use|work)|picked up|taken (?:in|up))[^;]*|(?:the )?(?:heel )?(?:sts|stitches) are all (?:back )?in (?:use|work|play)[^;]*|you(?:'ve| have) (?:worked|knit(?:ted)?|purled) (?:across )?(?:all )?(?:of )?(?:the )?(?P<n>\d{1,3}) [^;]*)$",
)
_ROW_NAMED = WordForm(  # "until you have worked a row that begins with p27", "until the row reads k8, …"
    rf"(?:you(?:['’]ve| have)? (?:work|worked|done|do|reach|reached|come to|get to|got to) |(?:a|the|your) row (?=is|reads|begins|says))?(?:(?:a|the|your) )?(?:(?:row|one) )?(?:(?:that|which|of|begins?|beginning|starts?|starting|reads?|reading|says?|saying|goes|going|is|with|has) )*['\"“]?(?P<stitch>k|p|knit|purl) ?(?P<n>{COUNT})(?! ?tog)",
)
MOST = 60  # pairs of short rows


def says_longer(text: str) -> bool:
    """Tell whether words ask for one stitch more in each row than in the last."""
    return _LONGER.search(text) is not None


def lengthened(
    scribe: Scribe, text: str, rows: Sequence[st.Round | st.Row], pairs: int | None = None
) -> list[Says] | None:
    """Return two rows over and over that each pick up one turn more, to the edges or so often.

    Where each row wraps the stitch behind the one picked up, the last pair has none to wrap.
    """
    announced, until = _LONGER.search(text), _UNTIL.search(text)
    live = scribe.now()
    if not (announced or _GOES_ON.match(text)) or live.in_rounds or not live.sure:
        return None
    body = [_to_the_turn(row.items) for row in rows[-2:] if isinstance(row, st.Row)]
    first, second = body if len(body) == 2 else (None, None)
    if first is None or second is None or not live.tallies:
        return None
    if until is not None and (named := _ROW_NAMED.match(until["what"])) is not None:
        return _up_to(scribe, rows[-2:], (first, second), named)
    if until is not None and not _is_whole(scribe, until["what"].strip(" .,")):
        return None
    if announced and until is None and pairs is None and _GOES_ON.match(scribe.following):
        scribe.note(text)
        return []
    once = tuple(st.Row(items, at=scribe.place) for items in (first, second))
    most = [_pairs(scribe, once, size) for size in range(len(live.tallies))]
    if not all(0 < many < MOST and many >= (pairs or 0) for many in most):
        return None
    times = [pairs or many for many in most]
    if not isinstance(first[-1], WrapTurn) or (pairs and pairs < min(most)):
        return [st.RepeatRounds(once, sized(times), at=scribe.place)]
    last = [st.Row((*items[:-1], Turn()), at=scribe.place) for items in (first, second)]
    if min(times) < 2:
        return list(last) if max(times) == 1 else None
    return [st.RepeatRounds(once, sized([n - 1 for n in times]), at=scribe.place), *last]


def _up_to(
    scribe: Scribe,
    rows: Sequence[st.Round | st.Row],
    body: tuple[tuple[Item, ...], tuple[Item, ...]],
    named: re.Match[str],
) -> list[Says] | None:
    """Return two rows over and over up to the one that begins with so many stitches."""
    sizes = len(scribe.now().tallies)
    end = numbers_of_sizes(named["n"], sizes)
    runs = [one for row in rows for one in row.items[-3:-2] if isinstance(one, Run)]
    stitches = [run.stitch for run in runs]
    if end is None or {*stitches} != {"k", "p"} or any(isinstance(r.amount, To) for r in runs):
        return None
    at = stitches.index(named["stitch"][0].lower())
    now = [for_sizes(tuple(int(n) for n in values_of(run.amount)), sizes) for run in runs]  # type: ignore[arg-type]
    more = [last - was for last, was in zip(end, now[at], strict=True)]
    steady = {after - before for before, after in zip(*now, strict=True)} == {1}
    if not steady or min(more) < 2 or any(one % 2 for one in more):
        return None
    once = tuple(st.Row(items, at=scribe.place) for items in body)
    whole = [one // 2 - (at == 0) for one in more]
    if min(whole) < 1:
        return list(once[:1]) if max(whole) == 0 else None
    return [st.RepeatRounds(once, sized(whole), at=scribe.place), *once[: 1 - at]]


def _is_whole(scribe: Scribe, what: str) -> bool:
    """Tell whether words name the end of short rows: all stitches are worked again."""
    found = _ALL_IN.match(what)
    if found is not None and found["n"]:
        return all(tally.count == int(found["n"]) for tally in scribe.now().tallies)
    return found is not None or ALL_WORKED.match(what.lower()) is not None


def _pairs(scribe: Scribe, rows: Sequence[st.Row], size: int) -> int:
    """Return how often two rows are worked until no turn is left to be picked up."""
    done, editor = 0, scribe.now().trial((), size)
    while editor.tally.has(GAP) and done < MOST:
        for row in rows:
            editor.take(row)
        done += 1
    return done


def _to_the_turn(items: Sequence[Item]) -> tuple[Item, ...] | None:
    """Return a row that picks up one turn with "to gap" for its number of stitches.

    Examples
    --------
    >>> row = _to_the_turn([Run("k", 8), Run("k", 1, True), Turn()])
    >>> row[0].amount.where.value, len(row)
    ('gap', 3)
    >>> _to_the_turn([Run("ssk"), Run("k", 1, True), Turn()]) is None
    True
    """
    if len(items) < 3 or not isinstance(items[-1], Turn | WrapTurn):
        return None
    run, taken = items[-3:-1]
    plain = isinstance(run, Run) and run.stitch in ("k", "p") and not run.with_wraps
    if not plain or not isinstance(taken, Run) or not taken.with_wraps or taken.amount != 1:
        return None
    if not all(isinstance(item, Run) and item.stitch in ("sl", "slf") for item in items[:-3]):
        return None
    assert isinstance(run, Run)
    return (*items[:-3], Run(run.stitch, To(Where.GAP)), taken, items[-1])
