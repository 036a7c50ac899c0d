# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A heel behind the instep: "Knit the 28 instep sts. Remain on the sole for the heel"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from loopwright.pattern._contents import rounds_in, things_in
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.places import size_of
from loopwright.pattern._reading.stated import numbers_of_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.items import Item, On, Run
from loopwright.pattern.values import sized

__all__ = ["instep_rests", "may_rest_instep"]

_FRONT = r"(?:instep|top of (?:the )?foot|front|needle 1|n1|(?:first|1st) needle|in(?=[.;,]| once| again| and))"
_STS = r"(?:sts|stitches)"
_KNITS_IT = (
    r"(?:(?:now|then|next|and),? )*(?:k|knit|work|rib|patt|pattern)(?: even| on)?"
    rf" ?(?:(?:across|over|along|to (?:the )?end of|as far as the end of) )?(?:all (?:of )?)?(?:the |your )?(?:(?P<n>{COUNT}) ?(?:{_STS} )?)?[(]?(?:(?:of|for) )?(?:the )?{_FRONT}[)]?(?: {_STS}| needle| half)*"
    r"(?: (?:once more|once again|again|one (?:last|more) time|(?:in|as) (?:the )?(?:pattern|patt|rib|lace|set|established)(?: as set)?))*"
)
_KNITS_SO_MANY = rf"(?:(?:now|then|next),? )*(?:k|knit|work|rib|patt) ?(?P<many>{COUNT})(?: {_STS})?(?=.*\b(?:heel|turn|short rows)\b.*\b(?:other|remaining|last)\b)"
_THEN = r"(?:[.;,:–—]| and| then)+ ?(?:(?:now|then|and|here) )*"
_SOLE = rf"(?:the |your |those |these )?(?:{COUNT} )?(?:(?:(?:sole|heel|back|under) ?)+(?:{_STS}|needle|half|side)?|(?:other|remaining|last|rest of the|second) (?:half(?: of the {_STS})?|(?:{COUNT} ?)?{_STS}?)|(?:{_STS} (?:of|on) )?(?:the )?(?:(?:second|2nd) needle|needle 2|n2|sn))"
_FLAT = r"(?:back and forth|to and fro|flat|in rows)"
_HEEL = r"(?:the heel|the (?:heel )?turn|the short rows|everything(?: (?:else|now))?|the (?:next|following) (?:rows|part))"
_ONLY = rf"(?:only|alone|{_FLAT}|for the heel|for now|from here)"
_LATER = rf"(?: ?(?:{_ONLY}|now|next|there|here)\b,?)*"
_GO = r"(?:(?:go|carry) on|continue|work|begin|start|turn|you(?:'re| are) (?:now )?working)"
_STAYS = (
    rf"(?:(?:you )?(?:stop|stay|remain|pause|wait|rest|keep|halt)(?: there| here)?(?: (?:at|on|with|before) {_SOLE}|(?=[.;]?$))"
    rf"|(?:let|leave|keep|put) (?:them|it|these|those|the instep)(?: {_STS})? (?:to )?(?:rest|wait|resting|waiting|aside|on hold|unworked){_THEN}{_GO}(?: {_FLAT})? (?:on|over|with) {_SOLE}"
    rf"|(?:{_GO}|make|knit)(?: (?:here|{_FLAT}))* {_HEEL}(?: (?:here|{_FLAT}))* (?:on|over|with|across) (?:just |only )?{_SOLE}"
    rf"|{_GO}(?: here)? {_FLAT} (?:on|over|across) {_SOLE}"
    rf"|{_GO}(?: (?:here|{_FLAT}))* (?:on|over|with) (?:(?:just|only) {_SOLE}|{_SOLE} ?{_ONLY})"
    rf"|(?:from (?:here|now)(?: on)?,? )?only {_SOLE} is (?:now )?(?:worked|in work|used|in use|in play)"
    rf"|{_HEEL} (?:now )?(?:is|are|will be|happens?|goes)(?: (?:all|only|now))?(?: (?:worked|knitted|knit|made|turned|done))?(?: {_FLAT})* (?:on|over|across) (?:just |only )?{_SOLE})"
)
_RESTS = WordForm(
    rf"\W*(?:{_KNITS_IT}|{_KNITS_SO_MANY})(?P<behind>(?:{_THEN}{_STAYS}(?:, )?{_LATER}){{1,2}})\W*"
)


def may_rest_instep(text: str) -> bool:
    """Tell whether a line works the instep, goes on at the sole, and does nothing else."""
    return _RESTS.fullmatch(text) is not None


def instep_rests(live: Live, text: str) -> str | None:
    """Return in short that the instep is worked and waits; None where it is not first, or not known."""
    said = _RESTS.fullmatch(text)
    if said is None or not live.in_rounds or live.held() or live.behind_any():
        return None
    whole = tuple(tally.count for tally in live.tallies)
    sizes = len(whole)
    told = said["n"] or said["many"]
    front = numbers_of_sizes(told, sizes) if told else None
    behind = re.search(rf"(?<!needle )(?<!\bn){COUNT}", said["behind"], re.IGNORECASE)
    other = numbers_of_sizes(behind[0], sizes) if behind is not None else None
    if front is None and other is not None:
        front = tuple(a - b for a, b in zip(whole, other, strict=True))
    if front is None:
        parts = [size_of(tally, 1) for tally in live.tallies]
        front = tuple(part for part in parts if part is not None)
        if len(front) != sizes:
            if any(many % 2 for many in whole) or _grew_on_one_side(live):
                return None
            front = tuple(many // 2 for many in whole)
    if not all(0 < a < b for a, b in zip(front, whole, strict=True)):
        return None
    if other is not None and any(a + b != n for a, b, n in zip(front, other, whole, strict=True)):
        return None
    return f"K{sized(front)}. Place these {sized(front)} sts on a holder for the instep."


def _grew_on_one_side(live: Live) -> bool:
    """Tell whether a round shaped one of its parts and not another: a gusset."""
    for row in rounds_in(live.steps):
        parts = [item.items for item in row.items if isinstance(item, On)]
        shaped = [_shapes(live, items) for items in parts]
        if any(shaped) and not all(shaped):
            return True
    return False


def _shapes(live: Live, items: Sequence[Item]) -> bool:
    runs = [one for one in things_in(items) if isinstance(one, Run) and one.stitch != "ds"]
    return any(live.stitches[run.stitch].change for run in runs)
