# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A gusset set aside and bridged, told in any words and in as many sentences.

"Knit to the first marker and take it off. Thread the gusset stitches onto scrap yarn. Cast on 2
stitches over the gap, and knit to the end." Which stitches wait is certain where two markers stand
as far apart as is said; all other words tell how the hands do it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from loopwright.pattern import steps as st
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._reading.stated import count_in, stated_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tally import MARKER, Tally
from loopwright.pattern.items import KNIT, Mark, Run
from loopwright.pattern.values import Count, To, Where, as_many, sized

__all__ = ["thumb_bridged"]

LONGEST = 800  # characters in which one thing is told
_HELD = re.compile(
    r"\b(?:slip|sl|place|put|thread|slide|move|transfer|leave|set|run|keep|hold|drop)\b(?P<what>[^;.]*?)\b"
    r"(?:holders?|waste yarn|scrap yarn|spare yarn|(?:waste|scrap|spare)\b|thread|safety pin|pin|hold\b|aside|length of yarn|piece of yarn|string)",
    re.IGNORECASE,
)
_NEW = re.compile(
    rf"\b(?:cast(?:ing)? on|co|make|backward[- ]loop)\s+(?P<n>{COUNT})(?! ?(?:left|right|rows?|rnds?|rounds?)\b)|"
    rf"\bcast(?:ing)? on (?!edge)[^.;\d]{{0,40}}?(?P<m>{COUNT}) (?:new |extra |more )?(?:sts?\b|stitch)",
    re.IGNORECASE,
)
_ON = re.compile(
    r"\b(?:k|knit|work|finish|complete|carry on|continue)\b[^.;]*\b(?:end|round|rnd|start|beginning|beg|remaining|rest)\b",
    re.IGNORECASE,
)
_SHAPES = re.compile(
    r"\b(?:k2tog|ssk|skpo?|p2tog|k3tog|m1\w*|inc\w*|dec\w*|kfb|pick|turn|rows?|bind|tog|together|needle \d|repeat|rep)\b|\*",
    re.IGNORECASE,
)
_HOW = re.compile(r"\b(?:without knitting|with (?:the |a )?backwards?[- ]loops?|untwisted)\b[^.,;]*", re.IGNORECASE)  # fmt: skip
_WHOSE = re.compile(r"\b(?:thumb|gusset|between|second m\w*|next m\w*|other m\w*)\b", re.IGNORECASE)
_MANY = re.compile(rf"(?P<n>{COUNT})(?! ?(?:cm|mm|in\b|inch|\"|-))(?: (?:\w+ ){{0,2}}(?:sts?\b|stitches)|(?= (?:on|to)\b))", re.IGNORECASE)  # fmt: skip
_KEPT = re.compile(r"\bsm\b|\bslip(?:ping)? (?:the |both |each )*(?:markers?|m)\b", re.IGNORECASE)


def thumb_bridged(scribe: Scribe, sentences: Sequence[str]) -> int:
    """Set a gusset's stitches aside, new ones in their place; return how many sentences say it."""
    if not any(len(one) <= LONGEST and _HELD.search(one) for one in sentences[:3]):
        return 0
    live = scribe.now()
    if not live.in_rounds or not live.is_free or not live.tallies:
        return 0
    for many in range(1, min(len(sentences), 6) + 1):
        text = " ".join(sentences[:many])
        if len(text) > LONGEST:
            return 0
        held, new = _HELD.search(text), _NEW.search(text)
        if _SHAPES.search(_HOW.sub("", text)):
            return 0
        if held is None or new is None or not _ON.search(text, new.end()):
            continue
        steps = _bridged(scribe, text, held["what"], count_in(new["n"] or new["m"]))
        if steps:
            scribe.give(steps, stated_in(MappedText.of(text)).count)
            scribe.loose = True
        return many if steps else 0
    return 0


def _bridged(scribe: Scribe, text: str, what: str, new: Count) -> list[st.Step]:
    """Return the steps that leave out the stitches between two markers that are as many as said."""
    live = scribe.now()
    told = _MANY.search(what) or _MANY.search(text) if _WHOSE.search(what) else _MANY.search(what)
    wanted = as_many(count_in(told["n"]), live.count) if told else None
    places = [_places(tally) for tally in live.tallies]
    if len({len(ends) for ends in places}) != 1 or (told is None and not _WHOSE.search(what)):
        return []
    inner = range(1, len(places[0]) - 2)
    found = []
    for at in range(len(places[0]) - 1):
        many = tuple(ends[at + 1] - ends[at] for ends in places)
        if many == wanted if wanted else at in inner:
            found.append((tuple(ends[at] for ends in places), many))
    if len(found) != 1 or not all(found[0][1]):
        return []
    before, many = found[0]
    if not _closes(text, [before, many, as_many(new, live.count)], live.count):
        return []
    knit: Count | To = sized(list(before))
    if before == tuple(tally.next_of(MARKER, beyond=1) for tally in live.tallies):
        knit = To(Where.MARKER)
    take_off = () if _KEPT.search(text) else (Mark("remove"),)
    near = (Run("k", knit), *take_off) if min(before) else ()
    far = take_off if all(map(_ends_at_marker, live.tallies, before, many)) else ()
    return [
        *([st.Part(near)] if near else []), st.Hold(sized(list(many)), "thumb"),
        *([st.Part(far)] if far else []), st.CastOn(new), st.Part((KNIT,)),
    ]  # fmt: skip


_WORKED = re.compile(rf"\b(?:k|knit|work|p|purl) ?(?P<a>{COUNT})|(?P<b>{COUNT}) (?:\w+ ){{0,2}}(?:sts?\b|stitches)", re.IGNORECASE)  # fmt: skip


def _closes(text: str, parts: Sequence[tuple[int, ...]], count: Count) -> bool:
    """Tell whether every number of stitches in the text is one of those that there are."""
    before, many, new = parts
    columns = list(zip(as_many(count, count), before, many, new, strict=True))
    rest = tuple(all_of - a - b for all_of, a, b, _ in columns)
    known = {before, many, new, rest, tuple(a + b[3] for a, b in zip(rest, columns, strict=True))}
    bare = stated_in(MappedText.of(text)).said.text
    told = [as_many(count_in(one["a"] or one["b"]), count) for one in _WORKED.finditer(bare)]
    return all(one in known for one in told)


def _places(tally: Tally) -> list[int]:
    """Return where the round stands, where markers hang in it, and where it ends."""
    hung = {tally.ahead - far for (kind, _), far in tally.ahead_at.items() if kind == MARKER}
    return sorted({0, *hung, tally.ahead})


def _ends_at_marker(tally: Tally, before: int, many: int) -> bool:
    end = before + many
    return end < tally.ahead and any(
        kind == MARKER and tally.ahead - far == end for (kind, _), far in tally.ahead_at.items()
    )
