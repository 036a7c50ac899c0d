# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Shaping whose words were not understood, read by the counts that stand with it.

"Ssk at the start and k2tog at the end of each half, each 1 st in from the edge. 44 sts." says how
many stitches there are behind it. Where that agrees with a decrease that its words name, and with
how often they ask for it, what follows can be counted on; where the decreases lie is not known,
and a note says so.
"""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from loopwright.fabric.stitches import STITCHES
from loopwright.pattern import steps as st
from loopwright.pattern._certain_changes import change_of
from loopwright.pattern._grammar.said import Numbered, Remark
from loopwright.pattern._reading.alternate import weave_in
from loopwright.pattern._reading.closed_edges import closed_at_edges
from loopwright.pattern._reading.how_often import stride_in, times_in
from loopwright.pattern._reading.labels import label_of
from loopwright.pattern._reading.live import between_turns
from loopwright.pattern._reading.named_rows import last_shaping
from loopwright.pattern._reading.scribe import Says, Scribe, made
from loopwright.pattern._reading.shaping_in_short import has_plain_between
from loopwright.pattern._reading.stated import Stated, count_in, for_sizes, number_of, stated_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tally import MARKER
from loopwright.pattern.items import Item, Mark, PickUp, Run, Turn
from loopwright.pattern.values import (
    Count,
    To,
    UntilCount,
    UntilWorked,
    Where,
    as_many,
    sized,
    values_of,
)

__all__ = ["by_count", "promises", "turned"]


def by_count(scribe: Scribe, text: str, stated: Stated) -> list[Says] | None:
    """Return rows that shape as the stated counts say; None where these do not settle it."""
    _begin_behind_a_corner(scribe)
    live = scribe.now()
    between_rows = not live.is_within
    if not live.sure:
        return None
    if _OF_A_TURN.search(text):
        found = _with_following(scribe, stated).count
        return turned(scribe, _goal_in(text) if found is None else found)
    if not between_rows:
        return None
    down, up = bool(_LESS.search(text)), bool(_MORE.search(text))
    holes = _HOLES.search(text) if label_of(text) is not None else None
    if holes is not None:  # several, one after another: a row of buttonholes
        down, up = bool(holes["off"]), bool(holes["on"])
    elif _MORE_THAN_ROWS.search(text):
        return None
    stated = _with_following(scribe, stated)
    text = _WITHIN.sub("", text)
    if (after := _AFTER_SO_MANY.match(scribe.following)) is not None and times_in(text) is None:
        text = f"{text} {after['times']} times"
    goal = stated.count
    if goal is None and stated.change is None:
        goal = _goal_in(text)
    in_a_group = label_of(text) is not None and _IN_A_GROUP.search(text)  # not the row, over again
    if _REPEATS.search(text) and not in_a_group:
        return None if goal is None else _repeated(scribe, text, goal, down, up)
    if goal is not None and down == up and label_of(text) is not None and _EITHER.search(text):
        moved = _differences(goal, live.count)
        down, up = any(value < 0 for value in moved), any(value > 0 for value in moved)
    if down == up:
        return None
    if goal is not None:
        change = _differences(goal, live.count)
    elif stated.change is not None:
        change = [int(value) for value in values_of(stated.change)]
    else:
        return None
    if not all(value < 0 if down else value > 0 for value in change):
        return None
    here = _in_each(values_of(live.count), len(change))
    if len(here) == len(change) and any(
        2 * abs(one) > now for one, now in zip(change, here, strict=True)
    ):
        return None  # more than a row takes together
    return _row(scribe, text, sized([abs(value) for value in change]), down=down)


_EITHER = WordForm(  # how, and which way, is left to the knitter
    r"\bwrite this (?:row|round) yourself\b|\badjust\w*\b[^.;]* to \d|"
    r"\b(?:inc|dec)\w* or (?:inc|dec)",
)
_IN_A_GROUP = WordForm(r"[)\]*],? (?:\w+ times\b|twice\b|rep)")


def _begin_behind_a_corner(scribe: Scribe) -> None:
    """Let the round begin behind the stitches that were picked up at its end."""
    entries, live = scribe.assembler.entries, scribe.now()
    last = entries[-1].step if entries else None
    picked = last.items[-1] if isinstance(last, st.Part) else None
    if isinstance(picked, PickUp) and live.in_rounds and live.behind == picked.amount:
        scribe.give([st.BeginHere()])


_OF_A_TURN = WordForm(  # "work to 1 st before the gap, close it, work 1 more, turn, until …"
    r"\b(?:gap|hole|turn|one st\w* further|1 st further|1 more st|one more st\w*)\b[^;]*"
    r"\b(?:un?til+|so that|all|no)\b|"
    r"\bun?til+ (?:all|every|no)\b[^;]*\b(?:used|worked|left|remain|gone)\b",
)


def turned(scribe: Scribe, goal: Count | None) -> list[Says] | None:
    """Return the rows of a heel's turn to its end, if they leave what is stated."""
    live = scribe.now()
    steps = [one.step for one in scribe.assembler.entries if not isinstance(one.step, st.Note)]
    last = [step.items for step in steps[-2:] if isinstance(step, st.Row | st.Part)]
    found = [to_the_gap(row) for items in last for row in between_turns(items)][-2:]
    if goal is None or live.in_rounds or len(found) < 2 or None in found:
        return None
    body = tuple(st.Row(items, at=scribe.place) for items in found if items is not None)
    step = st.RepeatRounds(body, UntilWorked(), at=scribe.place)
    rows = closed_at_edges(step, live.tallies)
    after = [live.trial(rows, size) for size in range(len(live.tallies))]
    wanted = as_many(goal, live.count)
    if any(one.troubles for one in after) or [one.tally.count for one in after] != [*wanted]:
        return None
    return list(rows)


def to_the_gap(items: Sequence[Item]) -> tuple[Item, ...] | None:
    """Return a row of a heel's turn with "to 1 st before gap" for its number of stitches.

    Examples
    --------
    >>> from loopwright.pattern import Run, Turn
    >>> row = to_the_gap([Run("sl"), Run("p", 5), Run("p2tog"), Run("p"), Turn()])
    >>> row[1].amount.before, [item.stitch for item in row[:-1]]
    (1, ['sl', 'p', 'p2tog', 'p'])
    """
    if (
        not isinstance(items[-1], Turn)
        or len(items) < 3
        or not all(isinstance(item, Run) for item in items[:-1])
    ):
        return None
    runs = [item for item in items[:-1] if isinstance(item, Run)]
    shaping = next((at for at, run in enumerate(runs) if STITCHES[run.stitch].change < 0), 0)
    if shaping == 0 or shaping == len(runs) - 1 or runs[shaping - 1].stitch not in ("k", "p"):
        return None
    middle = Run(runs[shaping - 1].stitch, To(Where.GAP, before=1))
    return (*runs[: shaping - 1], middle, *runs[shaping:], Turn())


def promises(text: str) -> bool:
    """Tell whether words ask for shaping up to a number of stitches."""
    return _goal_in(text) is not None and bool(_LESS.search(text) or _MORE.search(text))


_LESS = WordForm(
    r"\b(?:dec\w*|k2tog|k3tog|p2tog|p3tog|ssk|ssp|skpo?|cdd|sk2po?|s2kp\w*|psso|tog(?:ether)?|fewer|narrow\w*)\b",
)
_MORE = WordForm(r"\b(?:inc\w*|m1\w*|kfb|pfb|kfbf|yo|yarn over|front and back|lift\w*|widen\w*)\b")
_REPEATS = WordForm(
    r"\b(?:rep\w*|again|continu\w*|cont|carry on|keep|go on|like (?:this|that)|"
    r"in th(?:is|e same|at) (?:way|manner)|each (?:time|of the next)|times|twice|un?til+|"
    r"(?:down|up) to)\b|"
    r"\bevery (?!needle|corner|marker|side|section|st)",
)
_AFTER_SO_MANY = WordForm(  # "After 8 inc. rounds there are 56 sts."
    r"after (?:the |these )?(?P<times>\w+) (?:such |of these |(?:inc|dec|shap)\w*\.? )*"
    r"(?:rounds?|rnds?|rows?|times)(?: of this kind)?,? "
    rf"(?:there (?:are|will be)|you (?:will )?have) (?P<n>{COUNT}) (?:sts|stitches)\b",
)
_HOLES = WordForm(
    r"(?P<off>\*[^*]*\b(?:bind|cast) off \d[^*]*\brep(?:eat)? from \*)|"
    r"(?P<on>\bcast on \d+ (?:sts|stitches) (?:over|above|at|in) (?:each|every|all)\b)",
)
_WITHIN = WordForm(  # "rep from * at each marker": within a row
    r"\brep(?:eat)?(?: from)? \*(?: (?:to \*|to end|around|across|at (?:each|every) \w+))?",
)
_MORE_THAN_ROWS = WordForm(
    r"\b(?:cast|co|bind|bo|pick(?:ed)? up|take up|graft\w*|hold\w*|turn\w*|wrap\w*|w&t|ds|"
    r"double st\w*|waste|scrap|unravel|unpick|join|thread|cut|break|heel sts|transfer|place)\b",
)
_GOAL = WordForm(
    rf"\b(?:un?til+(?: (?:there are|you have|only))*|(?:down |up )?to|leaving|which leaves) "
    rf"(?P<n>{COUNT})"
    r"(?: (?:[a-z]+ )?(?:sts?|stitches)\b(?! (?:before|from|short)\b)| (?:are|is) left| remain|"
    r"[.]?$)",
)


def _with_following(scribe: Scribe, stated: Stated) -> Stated:
    """Return what is stated here or in the next sentence, if that does nothing else."""
    if stated.change is not None or not scribe.following:
        return stated
    if stated.count is None and (after := _AFTER_SO_MANY.match(scribe.following)) is not None:
        return attrs.evolve(stated, count=count_in(after["n"]))
    found = stated_in(MappedText.of(scribe.following))
    if found.said.text.strip(" .") or found.count is None:
        return stated
    now = scribe.now().count
    if stated.count is not None and found.count != stated.count:  # "(4 sts). 52 sts."
        apart = {abs(one) for one in _differences(found.count, now)}
        return found if apart == {abs(int(v)) for v in values_of(stated.count)} else stated
    return stated if stated.count is not None else found


def _goal_in(text: str) -> Count | None:
    found = list(_GOAL.finditer(text))
    return count_in(found[-1]["n"]) if found else None


def _differences(goal: Count, now: Count) -> list[int]:
    return [int(b) - int(a) for a, b in zip(as_many(now, goal), as_many(goal, now), strict=True)]


def _in_each(values: Sequence[float], sizes: int) -> list[int]:
    """Return whole numbers for so many sizes, of which one may stand for all."""
    return [*for_sizes(tuple(map(int, values)), sizes)]


def _row(scribe: Scribe, text: str, amount: Count, *, down: bool) -> list[Says] | None:
    label = label_of(text)
    said = label.course if label is not None else ""
    weave_in(scribe, label.numbers if label is not None else ())
    course = said if said in ("RND", "ROW") else scribe.course or "RND"
    between = None if down else _between_markers(scribe, amount)
    step = _shaping_row(amount, down=down, course=course, items=between)
    numbers = label.numbers if label is not None else ()
    scribe.numbered(step, numbers, label.name if label is not None else "")
    _remark(
        scribe, f"{amount} {'st' if str(amount) == '1' else 'sts'} {'fewer' if down else 'more'}"
    )
    return [Numbered(step, numbers)]


def _between_markers(scribe: Scribe, amount: Count) -> tuple[Item, ...] | None:
    """Return a row that increases between its two markers, as the one that shaped last did."""
    live, before = scribe.now(), last_shaping(scribe, "inc")
    marks = [len(tally.names(MARKER)) for tally in live.tallies]
    shown = sum(isinstance(item, Mark) for item in before.items) if before is not None else 0
    faces = live.in_rounds or all(tally.right_side for tally in live.tallies)
    if {*marks} != {2} or shown != 2 or not faces or {*values_of(amount)} != {2}:
        return None
    return scribe.items(MappedText.of("k to m, sm, m1r, k to m, m1l, sm, k to end"))


def _repeated(scribe: Scribe, text: str, goal: Count, down: bool, up: bool) -> list[Says] | None:
    """Return the last shaping again, as often as leads to the stated count."""
    live = scribe.now()
    row = last_shaping(scribe, "dec" if down and not up else "inc" if up and not down else "")
    if row is None:
        return _as_often(scribe, text, goal, down, up)
    trials = [live.trial((row, row), size) for size in range(len(live.tallies))]
    fits = not any(trial.troubles for trial in trials)  # written for fewer stitches, too
    each = (
        [
            (trial.tally.count - tally.count) // 2
            for trial, tally in zip(trials, live.tallies, strict=True)
        ]
        if fits
        else _changes(scribe, row)
    )
    wanted = _in_each(_differences(goal, live.count), len(each))
    if len(wanted) != len(each) or not all(each):
        return None
    times = [0 if w % e else w // e for w, e in zip(wanted, each, strict=True)]
    if min(times) < 1:
        return _as_often(scribe, text, goal, down, up)
    said = times_in(text)
    if said is not None and _in_each(values_of(said), len(times)) != times:
        return _as_often(scribe, text, goal, down, up)
    if not fits:
        amounts = sized([abs(one) for one in each])
        row = _shaping_row(amounts, down=each[0] < 0, course=scribe.course)
    plain = [scribe.plain(ground=False)[0]] * (_stride(text) - 1)
    if not plain and scribe.context.alternate is not None and not _EACH_ROW.search(text):
        plain = [made(scribe.course, scribe.context.alternate[1], "")]
    last = live.last_change()
    is_due = len(plain) == 1 and last is not None and last.plain == 1
    rows = (row, *plain) if is_due else (*plain, row)
    amount: st.Times = UntilCount(goal) if said is None else sized(times)
    _remark(scribe, f"until there are {goal} sts")
    return [st.RepeatRounds(rows, amount, at=scribe.place)]


_EACH_ROW = WordForm(r"\b(?:every|each) (?:row|round|rnd)\b|\bwithout plain\b")


def _as_often(scribe: Scribe, text: str, goal: Count, down: bool, up: bool) -> list[Says] | None:
    """Return as many rows, of a kind not shown yet, as the text says lead to the stated count."""
    change = _differences(goal, scribe.now().count)
    times = times_in(text) or _times_of(scribe, text, change)
    if times is None or down == up:
        return None
    many = _in_each(values_of(times), len(change))
    if len(many) != len(change) or not all(many):
        return None
    each = [one / n for one, n in zip(change, many, strict=True)]
    if not all(one.is_integer() and 0 < abs(one) <= 12 and (one < 0) == down for one in each):
        return None
    row = _shaping_row(sized([abs(int(one)) for one in each]), down=down, course=scribe.course)
    plain = [scribe.plain(ground=False)[0]] * (_stride(text) - 1)
    _remark(scribe, f"until there are {goal} sts")
    return [st.RepeatRounds((*plain, row), times, at=scribe.place)]


_AT_ONCE = WordForm(  # "decrease 4 sts every other round", "inc 1 st at each end of both needles"
    r"\b(?:(?:de|in)creas\w*|dec|inc)\b\.? (?:(?P<n>\d|two|three|four|six|eight) (?:sts?|stitches)(?! (?:at|on|in|in from) (?:each|both|every|either|the)\b)"
    r"|(?:(?:1|a|one) (?:st|stitch) )?(?:(?:at|on|in from) )?(?:each|both|either|the) (?:ends?|sides?) of (?:(?P<needles>each needle|every needle|the needles)|(?:both|the two|two) needles|(?:both|the two|each) (?:halves|half)|(?:the )?(?:sole and (?:the )?instep|instep and (?:the )?sole|back and (?:the )?front|front and (?:the )?back|top and (?:the )?bottom)))"
)


def _times_of(scribe: Scribe, text: str, change: Sequence[int]) -> Count | None:
    """Return how often so many stitches are shaped away, where each time it is a number told."""
    told = _AT_ONCE.search(text)
    if told is None:
        return None
    by = number_of(told["n"]) if told["n"] else 4
    if told["needles"]:
        by = 2 * max(len(tally.parts) for tally in scribe.now().tallies)
    if not by or any(value % by for value in change) or not all(change):
        return None
    return sized([abs(value) // by for value in change])


def _stride(text: str) -> int:
    """Return on which rounds shaping comes: "a dec rnd and a plain one" is every other."""
    stride = stride_in(text)
    return 2 if stride == 1 and has_plain_between(text) else stride


def _shaping_row(
    amount: Count, *, down: bool, course: str, items: tuple[Item, ...] | None = None
) -> st.Round | st.Row:
    """Return a row that shapes at its ends; its like can be worked over fewer stitches, or more."""
    stitch = "k2tog" if down else "kfb"
    first = sized([(int(value) + 1) // 2 for value in values_of(amount)])
    last = sized([int(value) // 2 for value in values_of(amount)])
    before = sized([int(value) * (2 if down else 1) for value in values_of(last)])
    items = items or (Run(stitch, first), Run("k", To(before=before)), Run(stitch, last))
    return st.Round(items) if course == "RND" else st.Row(items)


def _changes(scribe: Scribe, row: st.Round | st.Row) -> list[int]:
    """Return by how many a row changes the stitches of each size, 0 where that is open."""
    live = scribe.now()
    found = []
    for size in range(len(live.tallies)):
        (one,) = live.of_size((row,), size)
        assert isinstance(one, st.Round | st.Row)
        changed = change_of(one.items, scribe.table)
        found.append(changed[1] if changed is not None else 0)
    return found


def _remark(scribe: Scribe, what: str) -> None:
    text = f"read by its count only: {what}; where the shaping lies was not understood"
    scribe.remarks.append((Remark("open choice", text, 1), scribe.place))
