# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Markers hung by hand among stitches that wait: "place a marker after its first 10 sts".

The knitter hangs them and works nothing. So they are remembered by how many stitches lie beyond
each, and "knit to 1 st before the second marker" is read as the number that it is.
"""

from __future__ import annotations

from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._reading.stated import count_in, numbers_of_sizes
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern._tally import MARKER, Tally
from loopwright.pattern.values import as_many, sized

__all__ = ["to_told_marks"]

_HANG = r"(?:place|put|hang|slip|set|pm|clip)"
_OF = r"(?: (?:of|on) (?:the |this |that |needle |n)*(?:needle|heel|sole|flap|\d))?"
_END = rf"(?:each|either|both|the two) (?:ends?|edges?|sides?){_OF}"


_N = rf"(?P<{{}}>{COUNT})(?: {STS})?"
_HUNG = WordForm(
    rf"(?:(?:now|first|then),? )?(?:{_HANG} (?:(?:a|one|the|your|two|2|first|1st) )*(?:stitch )?markers?,? (?:after (?:its |the |your )*first {_N.format('a')}{_OF},? (?:and|then) (?:(?:hang |place |put )?(?:another|one|a second|the other|the second)(?: marker| one)? )?before (?:its |the |your )*last {_N.format('b')}{_OF}|{_N.format('c')} (?:in )?from {_END})"
    rf"|count {_N.format('d')} (?:in )?from {_END},? and {_HANG} (?:a |your )?markers?(?: there)?(?: (?:at|on) both (?:ends|sides))?"
    rf"|{_HANG} (?:a |one )?markers? (?:on|at|to) (?:each|either|both) (?:sides?|ends?) of (?:the |its )*(?:cent(?:er|re)|middle|central) {_N.format('m')}{_OF})"
    rf"(?:,? ?(?:\(|so that|so|with|leaving|thus|there are) ?{_N.format('between')} (?:lie |are |left )*(?:in )?(?:between(?: (?:them|the markers))?|the middle)\)?)?\.?",
)


def _remember(scribe: Scribe, text: str) -> None:
    """Remember where two markers are hung, if they leave as many between them as are told."""
    said, live = _HUNG.fullmatch(text), scribe.now()
    if said is None or not live.sure or live.is_whole_round or live.behind_any():
        return
    whole = tuple(tally.count for tally in live.tallies)
    told = {
        name: numbers_of_sizes(many, len(whole)) for name, many in said.groupdict().items() if many
    }
    first = told.get("a") or told.get("c") or told.get("d")
    if middle := told.get("m"):
        first = tuple((n - m) // 2 for n, m in zip(whole, middle, strict=True))
    last = told.get("b") or first
    if first is None or last is None:
        return
    left = tuple(n - a - b for n, a, b in zip(whole, first, last, strict=True))
    if min(*first, *left) > 0 and (told.get("between") or middle or left) == left:
        scribe.context.hung = (first, last)


_TO_MARKER = WordForm(
    rf"(?P<lead>(?:^|: ?|\) ?)(?P<slip>sl(?:ip)? (?:1|one|first st)[^,;:.]{{0,16}}, ?)?)(?P<verb>k|knit|p|purl) (?:up )?to (?:(?P<off>{COUNT}) (?:sts?|stitch(?:es)?) before )?(?:the )?(?:next )?(?P<which>first|second|1st|2nd|other|far|last)? ?(?:marker|m)\b",
)
_TAKES_OFF = WordForm(
    r"(?P<lead>^|[,;:] )(?:remov(?:e|ing)|tak(?:e|ing) (?:off|out)|drop(?:ping)?) (?:the )?(?:\w+ )?(?:marker|m)(?:,| and| then)+ (?=\w)",
)


def to_told_marks(scribe: Scribe, said: MappedText) -> MappedText:
    """Put a number for "knit to 1 st before the second marker", where it was hung by hand."""
    if "marker" in said.text.lower():
        _remember(scribe, said.text)
    if (hung := scribe.context.hung) is None or "m" not in said.text.lower():
        return said
    live = scribe.now()
    if not live.sure or live.is_whole_round or any(tally.has(MARKER) for tally in live.tallies):
        return said
    said = said.sub(_TAKES_OFF, lambda match: match["lead"])
    match = _TO_MARKER.search(said.text)
    if match is None:
        return said
    off = as_many(count_in(match["off"]) if match["off"] else 0, live.count)
    which = (match["which"] or "").lower()
    many = [
        _as_far(tally, which, first, last) - int(off[size % len(off)]) - bool(match["slip"])
        for size, (tally, first, last) in enumerate(zip(live.tallies, *hung, strict=True))
    ]
    if min(many) <= 0:
        return said
    return said.sub(_TO_MARKER, lambda found: f"{found['lead']}{found['verb'][0]}{sized(many)}")


def _as_far(tally: Tally, which: str, first: int, last: int) -> int:
    """Return how many stitches lie between the work and a marker, 0 where that is not known.

    On the way back the markers are called as they hang, or as they are met: only the one that is
    left to come is known.
    """
    behind, ahead = tally.behind, tally.ahead
    if not tally.right_side:
        return ahead - first if behind + 1 >= last else 0  # one of them may be joined already
    is_first = behind < first and which in ("", "first", "1st")
    return first - behind if is_first else ahead - last
