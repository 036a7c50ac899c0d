# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches that hang on a waste yarn, or on a thread that is cut, and are put on needles again."""

from __future__ import annotations

import re
from collections.abc import Sequence

from loopwright.pattern import steps as st
from loopwright.pattern._reading.rule_table import rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in, number_of, numbers_of_sizes, stated_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.items import Item, PickUp, Run
from loopwright.pattern.values import Count, To, as_many, plus, sized, values_of

__all__ = ["freed", "one_less", "unused_name", "waste_in"]


def unused_name(scribe: Scribe, names: Sequence[str]) -> str | None:
    """Return the first of some names that no waste yarn bears; None if all of them are in use."""
    live = scribe.now()
    used = {name for tally in live.tallies for name in (*tally.waste, *tally.opened)}
    return next((name for name in names if name not in used), None)


def waste_in(scribe: Scribe) -> str | None:
    """Return the name of a waste yarn that carries stitches, None if there is none."""
    return next(
        (name for tally in scribe.now().tallies[:1] for name in (*tally.opened, *tally.waste)), None
    )


def freed(scribe: Scribe, name: str, words: str, sides: str = "") -> list[Says]:
    """Return the steps that free the stitches of a waste yarn, with what is picked up at corners.

    `sides` are the words that tell how many lie below and above: one loop fewer lies above, unless
    the strand at a corner is taken for one.
    Where the count that is stated tells of those alone, the others in work rest from here on.
    """
    live = scribe.now()
    each = _at_corners(words)
    steps: list[Says] = [st.Recapture(name)]
    if scribe.context.aside and live.is_free and not live.in_rounds:
        counts = [tally.count for tally in live.tallies]  # a piece was left on a holder
        return [st.Hold(sized(counts), "piece"), *steps] if min(counts) > 0 else steps
    stated = scribe.stated
    if stated is None and scribe.following:
        found = stated_in(MappedText.of(scribe.following))
        raised = re.search(r"\b(?:raise|pick up|lift)\b", found.said.text, re.IGNORECASE)
        stated = found.count if raised or not found.said.text.strip(" .") else None
    total = stated
    alone = not any(tally.count for tally in live.tallies)
    if total is not None and (live.is_free or alone) and _was_knitted_in(scribe, name):
        hung = [2 * _on(tally, name) for tally in live.tallies]
        wanted = [int(n) for n in as_many(total, sized(hung))]
        more: list[int] = [n - there for n, there in zip(wanted, hung, strict=True)]
        counts = [tally.count for tally in live.tallies]
        apart = min(hung) > 0 and min(more) >= 0 and max(more) <= MOST
        if apart and min(counts) > 0:
            steps.insert(0, st.Hold(sized(counts), "rest"))
        elif any(counts) or not apart:
            more = []
        if any(more) and each and all(n % 2 == 0 for n in more):
            return [*steps, *_picks(sized([n // 2 for n in more]))]
    return [*steps, *(_picks(each, one_less(scribe, sides or words, name)) if each else [])]


def one_less(scribe: Scribe, words: str, name: str) -> bool:
    """Tell whether words put one stitch fewer on one side of an opening than on the other."""
    sides = tuple(_on(tally, name) for tally in scribe.now().tallies)
    told = [numbers_of_sizes(one, len(sides)) for one in re.findall(COUNT, words)]
    return sides in told and tuple(n - 1 for n in sides) in told


def _was_knitted_in(scribe: Scribe, name: str) -> bool:
    """Tell whether a waste yarn was knitted in amid a round, and not cast on with."""
    steps = (entry.step for entry in scribe.assembler.entries)
    return any(isinstance(step, st.WasteRow) and step.name == name for step in steps)


MOST = 8  # stitches that are picked up at the corners of an opening, both together


def _on(tally: object, name: str) -> int:
    """Return how many stitches hang on a waste yarn: those above it and those below are alike."""
    opened, waste = tally.opened, tally.waste  # type: ignore[attr-defined]
    return int(opened[name] if name in opened else waste[name][1] if name in waste else 0)


def _picks(many: Count, less: bool = False) -> list[Says]:
    """Return what is picked up at two corners; `less` where a strand of one was taken for a loop."""
    last = plus(many, -1) if less else many
    rest = (PickUp(last, "corner"),) if last else ()
    return [st.Part((PickUp(many, "corner"), *rest))]


_CORNERS = WordForm(
    r"\b(?P<n>\d|a|one|two|three|four)(?: (?:extra|more|new))?(?: (?:sts?|stitch\w*|loops?))?(?: (?:picked up|lifted|raised|taken up))? (?:at|in|on|from) (?:each|either|both|every)\b(?! of)",
)


_ONE_CORNER = WordForm(  # "1 st at the corner, 9 sts above the opening and 1 st at the second corner"
    r"\b(?P<n>\d|a|one|two|three|four)(?: (?:extra|more|new))?(?: (?:sts?|stitch\w*|loops?)) (?:at|in|on|from) (?:the |a |one )?(?:first |second |1st |2nd |other |next |left |right )?(?:corner|side|gap|end)\b",
)


def _at_corners(words: str) -> int:
    """Return how many stitches are picked up in each corner, as some words say."""
    if (found := _CORNERS.search(words)) is not None:
        return number_of(found["n"])
    apart = [number_of(match["n"]) for match in _ONE_CORNER.finditer(words)]
    return apart[0] if len(apart) == 2 and apart[0] == apart[1] else 0


_APART = WordForm(
    r"\b(?:below|above|under|upper|lower|appear|free|released?|on the (?:first|second|other)|(?:at|on|from|along) the (?:leg|foot|toe|cuff)|(?:at|on|from|along|of) (?:each|both|either) (?:side|edge)s?|live)\b|\+",
)


@rule(
    r"(?:[a-z]+: )?(?:[^;:]{1,30}?, )?(?:(?:now|then|next|carefully|gently|and) )*(?:(?:free|release|unpick|undo|take out|draw out|pull out|pick out|remove|ease out|snip|cut)\b.*|[^;.]*\b{STS} (?:\+ (?:{N} )?{STS} )?(?:are|is) (?:freed|released|taken off|caught)\b[^;]*)"
)
def _freed(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "free the 8 sts below and the 7 loops above and pick up 1 st in each corner"."""
    name = waste_in(scribe)
    words = said[0]
    if name is None or not _APART.search(words):
        return None
    if not re.search(r"\b(?:sts|stitches|loops)\b", words, re.IGNORECASE):
        return None
    scribe.context.ground, scribe.context.ground_name = None, "stockinette"
    return freed(scribe, name, words)


_SIDE = WordForm(
    rf"(?P<n>{COUNT})(?: (?:[a-z]+ )?(?:sts|stitches|loops))?(?: (?:are|lie|free|open|from|on|at|along|the|(?:side|edge)))* (?P<side>below|above|beneath)\b|(?P<m>{COUNT}) (?P<side2>lower|upper|bottom|top) (?:sts|stitches|loops)",
)


@rule(
    r"(?:(?:now|then|next|carefully|gently|and) )*(?:snip|cut|clip)\b(?! off)(?:(?!\byarn\b)[^.;:])*\b(?:st|stitch|leg|loop|strand)\b.*\b(?:unpick\w*|unravel\w*|undo\w*|ravel\w*|pull\w*|eas(?:e|ing)|free\w*)\b.*"
)
def _cut_open(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "snip a stitch and unpick the row until 24 sts below and 24 above are free".

    No step opens a fabric that was knitted on: what is on the needles then is taken as it is told.
    """
    live = scribe.now()
    sides = {(one["side"] or one["side2"]).lower(): one for one in _SIDE.finditer(said[0])}
    if waste_in(scribe) is not None or len(sides) != 2 or any(t.count for t in live.tallies):
        return None
    below, above = (count_in(one["n"] or one["m"]) for one in sides.values())
    scribe.note(said[0])
    scribe.claim("lost", 0)
    told = zip(as_many(below, live.count), as_many(above, live.count), strict=True)
    scribe.claim("adopt", scribe.stated or sized([int(a) + int(b) for a, b in told]))
    scribe.context.course, scribe.ignored = "RND", True
    return []


@rule(
    r"(?:[^;:.]{1,40}?, )?(?:(?:now|then|next|carefully|gently|and) )*(?:pick(?:ing)? up|insert|run|slip|slide|thread|put|place|take(?: up)?|lift|catch)\b(?![^;]*\bhold)[^;.]*?(?:\b(?:legs?|halves|half|loops?) of (?:each of |all )?(?:the |these )?(?:(?:next|first) )?(?P<n>{N}) {STS} [^;.]*?|(?P<m>{N}) {STS} (?:just |directly |right )?)(?:below|above|over|under|underneath|beneath|next to) (?:the |your )?(?:waste|scrap|spare|contrast\w*|coloured|colored|odd)\b[^;]*"
)
def _by_their_legs(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "pick up the right leg of each of the 20 sts below the scrap yarn": a side, or both."""
    name = waste_in(scribe)
    if name is None:
        return [] if _just_freed(scribe) else None  # the other side
    scribe.context.ground, scribe.context.ground_name = None, "stockinette"
    live, many = scribe.now(), count_in(said["n"] or said["m"])
    hung = sized([_on(tally, name) for tally in live.tallies])
    if live.sure and as_many(many, hung) != as_many(hung, hung):
        scribe.claim("freed", many, hung)
    if live.is_free and all(tally.count for tally in live.tallies):
        return [st.Hold(live.count, "rest"), st.Recapture(name)]
    return [st.Recapture(name)]


@rule(
    r"(?:(?:now|then|and) )*(?:(?:turn|rotate|flip)\b[^;.\d]*?(?:,? and|,? then)+ )?(?:do|repeat|work) (?:exactly )?(?:the same|this|likewise|so too|it again) (?:again )?(?:with|for|on|along|to) (?:the |all )*(?:other )?(?P<n>{N}) {STS} (?:on|at|of|above|below|along)\b[^;]*"
)
def _other_legs(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Leave "do the same with the 20 sts on the other side", where both sides are on needles."""
    return [] if _just_freed(scribe) else None


def _just_freed(scribe: Scribe) -> bool:
    """Tell whether nothing was done since stitches were taken off a waste yarn."""
    steps = (entry.step for entry in reversed(scribe.assembler.entries))
    last = next((step for step in steps if not isinstance(step, st.Note)), None)
    return isinstance(last, st.Recapture)


@rule(
    r"(?:(?:next|foll\w*|1st|first) (?:rnd|round): )?(?:on the next (?:rnd|round),? )?(?:k|knit)(?: (?:1|one|a) (?:rnd|round)| (?:a)?round| to end| all {STS})?,? decreasing (?:1|one|a) {STS} (?:at|in) each corner"
)
def _without_corners(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit, working each corner st together with the one before it", of sts just picked up."""
    live = scribe.now()
    steps = (entry.step for entry in reversed(scribe.assembler.entries))
    last = next((step for step in steps if not isinstance(step, st.Note)), None)
    items = _corners_off(last.items) if isinstance(last, st.Part) else None
    begun = any(tally.ahead and tally.behind > 1 for tally in live.tallies)  # 1: the last picked up
    if items is None or not live.sure or begun:
        return None
    joined: list[Says] = [] if live.in_rounds else [st.Join()]
    return [*joined, *([st.BeginHere()] if live.behind_any() else []), st.Round(items)]


def _corners_off(items: Sequence[Item]) -> tuple[Item, ...] | None:
    """Return the round that works each of two picked up stitches together with one beside it."""
    runs = [item for item in items if isinstance(item, Run) and not isinstance(item.amount, To)]
    picks = [item for item in items if isinstance(item, PickUp) and item.amount == 1]
    if len(runs) != 2 or len(picks) != 2 or len(items) != 4:
        return None
    if isinstance(items[0], Run) != isinstance(items[2], Run):
        return None
    one, two = (plus(run.amount, -1) for run in runs)  # type: ignore[arg-type]
    if min(*values_of(one), *values_of(two)) < 1:
        return None
    both, first, second = Run("k2tog", 1), Run("k", one), Run("k", two)
    picked_first = isinstance(items[0], PickUp)
    return (both, first, both, second) if picked_first else (first, both, second, both)
