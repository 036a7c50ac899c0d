# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What is said of all stitches, while some of them wait: these are taken up again."""

from __future__ import annotations

from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._reading.stated import count_in, stated_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern.values import Count, as_many

__all__ = ["take_up_all"]

_ALL = WordForm(rf"\b(?:over|across|on|knit|k|work) all (?:of )?(?:the )?(?P<n>{COUNT}) {STS}")
_SO_MANY = WordForm(  # "Next round: K56, working wraps with their sts"
    rf"(?:next|1st|first) (?:round|rnd): (?:k|knit) ?(?P<n>{COUNT})(?: {STS})?"
    r"(?:(?: with|,)[^.;:*\d]*)?[.]?$",
)
_ALL_BACK = WordForm(  # "56 sts again, all in the round"
    rf"(?:(?:you|now|there|have|are|that|is|that's|with|all|the) )*(?P<n>{COUNT}) {STS}"
    r"(?:(?: again| once more| back)\b[^;.\d]*|,? (?:and )?(?:all )?(?:back |again |now )*in (?:the |a )?(?:round|work)\b[^;.\d]*)$",
)
_BEGUN = r"(?:(?:next|1st|first) (?:round|rnd): )?(?:(?:now|then) )?(?:k|knit|work)\b"
_BEGINS = WordForm(_BEGUN)
_ROUND = WordForm(
    rf"{_BEGUN}(?: (?:1|one|a) (?:round|rnd))?(?: (?:across|over|on))?(?: all)?"
    r"(?: (?:the )?(?:sts|stitches))?"
    r"(?:,? (?:picking up|lifting|working|knitting)[^.;\d]*\bwraps?\b[^.;\d]*)?[.]?$",
)


def take_up_all(scribe: Scribe, said: MappedText) -> None:
    """Bring back what is held where a round over as many as there are in all is asked for."""
    if "turn" in said.text.lower():  # that comes first
        return
    told = _told(scribe, said)
    if told is None:
        if scribe.loose and _PLAIN_ROUNDS.match(said.text) and _instep_waits(scribe):
            scribe.give(scribe.together())
            scribe.context.course = "RND"
        return
    live = scribe.now()
    held = live.held()
    if not held or "thumb" in held or not live.sure or live.in_rounds:
        return
    if live.is_within and not scribe.has_turned():
        return
    whole = list(as_many(live.count, live.count))
    for waiting in held.values():
        more = as_many(waiting, live.count)
        whole = [a + b for a, b in zip(whole, more, strict=True)]
    if list(as_many(told, live.count)) == whole:
        scribe.give(scribe.together())
        scribe.context.course = "RND"


def _told(scribe: Scribe, said: MappedText) -> Count | None:
    """Return over how many stitches all are said to be worked."""
    bare = said.text.strip(" .!()")
    if match := _ALL.search(said.text) or _SO_MANY.match(said.text) or _ALL_BACK.match(bare):
        return count_in(match["n"])
    if not _BEGINS.match(said.text):
        return None
    stated = stated_in(said)
    text = stated.said.text
    if not (_ROUND.match(text) and _NAMES_ROUND.search(text)):
        return None
    behind = stated_in(MappedText.of(scribe.following))
    alone = not behind.said.text.strip(" .")
    return behind.count if stated.count is None and alone else stated.count


_NAMES_ROUND = WordForm(r"\b(?:round|rnd|all)\b")


_PLAIN_ROUNDS = WordForm(r"(?:knit|work) (?:\d+|one|two|three|four) (?:plain )?(?:rounds|rnds)\b")


def _instep_waits(scribe: Scribe) -> bool:
    """Tell whether nothing but the instep is on hold, and the heel was worked to its end."""
    live = scribe.now()
    ended = live.sure and not live.in_rounds and not live.is_within
    return ended and [*live.held()] == ["instep"]
