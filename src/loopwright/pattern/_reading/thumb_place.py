# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Which stitches of the round are the thumb's, told by their places: "the 21st to the 32nd are for it".

Nothing marks them. So it is remembered where they lie, and "knit as far as the thumb", "slip those
stitches on to a pin" are read as the numbers that they are.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from loopwright.pattern import steps as st
from loopwright.pattern._reading.rule_table import alone, expression, rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in, numbers_of_sizes
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern._tally import MARKER
from loopwright.pattern.items import Run
from loopwright.pattern.values import as_many, sized

__all__ = ["to_thumb_place"]

_NAME = r"(?:thumb(?: gusset)?|gusset)"
_ARE = rf"(?:(?:now )?(?:belong to|are(?: for)?|make(?: up)?|form|will be|go to|serve for) (?:the |your )?{_NAME}(?: {STS})?|= ?{_NAME})"
_OF_ALL = rf"(?: (?:of|among) (?:these|those|the|your)(?: {COUNT})? {STS}| of the (?:round|rnd))?"
_TOLD = tuple(
    WordForm(said)
    for said in (
        rf"\b(?:the )?(?P<a>\d+)(?:st|nd|rd|th) (?:to|through|until) (?:the )?(?P<b>\d+)(?:st|nd|rd|th)(?: {STS})? (?:inclusive )?{_ARE}",
        rf"\b{STS} (?P<a>\d+) ?(?:-|–|to|through) ?(?P<b>\d+) (?:inclusive )?{_ARE}",
        rf"\bthe (?P<which>first|last) (?P<n>{COUNT})(?: {STS})?{_OF_ALL},? {_ARE}",
        rf"\b(?P<n>{COUNT})(?: {STS})?{_OF_ALL},? (?:namely|that is|viz\.?,?|i\.e\.,?) the (?P<which>first|last)(?: (?:ones|{COUNT}(?: {STS})?))?,? {_ARE}",
        rf"\b(?P<n>{COUNT}) {_NAME} {STS},? (?:which are |they are |namely )?(?:the )?(?P<which>first|last)(?: {COUNT})?(?: {STS})?(?: of the (?:round|rnd))?",
        rf"\b(?P<n>{COUNT}) {_NAME} {STS},? (?:which )?(?:begin(?:ning)?|lying|lie|start(?:ing)?|come|coming)? ?(?:right )?(?:after|behind) (?:the )?(?:first (?P<before>{COUNT})|(?P<nth>\d+)(?:st|nd|rd|th))\b",
        rf"\b{_NAME}(?: {STS})? (?:is|are|takes?) (?:the )?(?P<n>{COUNT})(?: {STS})? (?:right )?(?:after|behind) (?:the )?first (?P<before>{COUNT})\b",
    )
)
_TO_IT = WordForm(
    rf"\b(?P<verb>k|knit|work|go)(?: on)?(?: round| around| across)? (?:(?:as far as|up to|until you (?:come|get) to|till|to) )(?:the |your )*{_NAME}(?: {STS})?(?=[,.;]| and\b|$)",
)
_ASIDE = re.compile(
    expression(
        rf"\b(?P<do>slip|sl|put|place|thread|transfer|move|leave|slide|hang|run)(?:ting|ping|ing)? (?:(?:all )?(?:the )?{_NAME} {{STS}}|(?:those|these|its|the)(?: {_NAME})? {{STS}}|them) (?P<on>(?:on ?to|on|to|over to) {{HOLDER}}(?: (?:yarn|strand|thread|wool|needle|pin))?)"
    ).pattern.removesuffix(r"\s*[.!]*\s*$"),
    re.IGNORECASE,
)
_ON = WordForm(
    rf"(?:,? and)? ?(?:go|knit|carry|work)(?:ing)? (?:straight |right )?on with the (?:next )?(?:stitch|st|{STS}) (?:after|behind|beyond|past) (?:them|it|the thumb)\b",
)


def _remember(scribe: Scribe, text: str) -> None:
    """Remember which stitches of the round are the thumb's, where a sentence tells it."""
    live = scribe.now()
    match = next((found for form in _TOLD if (found := form.search(text))), None)
    if match is None or not live.sure or not live.is_whole_round or live.held():
        return
    whole = tuple(tally.count for tally in live.tallies)
    told = match.groupdict()
    if told.get("a"):
        first, many = int(match["a"]) - 1, int(match["b"]) - int(match["a"]) + 1
        before, thumb = (first,) * len(whole), (many,) * len(whole)
    else:
        sizes = [numbers_of_sizes(told[name], len(whole)) for name in ("n",) if told.get(name)]
        if not sizes or sizes[0] is None:
            return
        thumb = sizes[0]
        ahead = told.get("before") or told.get("nth")
        known = numbers_of_sizes(ahead, len(whole)) if ahead else (0,) * len(whole)
        if known is None:
            return
        before = known
        if (told.get("which") or "").lower() == "last":
            before = tuple(n - many for n, many in zip(whole, thumb, strict=True))
    if all(b >= 0 < t and b + t <= n for b, t, n in zip(before, thumb, whole, strict=True)):
        scribe.context.thumb = (before, thumb)


def to_thumb_place(scribe: Scribe, said: MappedText) -> MappedText:
    """Put numbers for "knit to the thumb" and "slip those sts on to a pin", where they are known."""
    low = said.text.lower()
    if "thumb" in low or "gusset" in low:
        _remember(scribe, said.text)
    if scribe.context.thumb is None:
        return said
    live = scribe.now()
    if not live.sure or live.held() or not live.in_rounds or _is_marked(scribe):
        return said
    before, thumb = scribe.context.thumb
    behind = tuple(tally.behind if tally.ahead else 0 for tally in live.tallies)
    go = tuple(b - done for b, done in zip(before, behind, strict=True))
    knits = min(go) > 0 and _TO_IT.search(said.text)
    if knits:
        said = said.sub(
            _TO_IT,
            lambda match: f"{match['verb'][0].replace('g', 'k').replace('w', 'k')}{sized(go)}",
        )
    match = _ASIDE.search(said.text)
    if match is None or not (knits or _reached(said.text[: match.start()], go)):
        return said
    scribe.context.thumb = None
    said = said.sub(_ASIDE, lambda found: f"place next {sized(thumb)} thumb sts {found['on']}")
    return said.sub(_ON, ", knit to end")


def _reached(before: str, go: Sequence[int]) -> bool:
    """Tell whether the thumb is reached by what is said before: nothing, or so many stitches."""
    knit = re.findall(rf"\b(?:k|knit|work) ?({COUNT})", before, re.IGNORECASE)
    told = numbers_of_sizes(knit[-1], len(go)) if len(knit) == 1 else None
    return tuple(go) == (told or (0,) * len(go))


def _is_marked(scribe: Scribe) -> bool:
    return any(tally.has(MARKER) for tally in scribe.now().tallies)


@rule(
    r"(?:(?:and|now|then) )*(?:slip|sl|put|place|leave|transfer|move) the (?P<a>{N})(?: {STS})? (?:that (?:come|lie) )?before(?: (?:it|them|these|those))? and the (?P<b>{N})(?: {STS})? (?:that (?:come|lie) )?after(?: (?:it|them|these|those))?(?: {STS})? (?:on ?to|on|to) {HOLDER}[^;\d]*"
)
@alone
def _both_sides_wait(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "leave the 20 sts before and the 20 after on waste yarn": those between are worked on."""
    live, before, after = scribe.now(), count_in(said["a"]), count_in(said["b"])
    if not live.sure or not live.in_rounds or live.held():
        return None
    rows = zip(live.tallies, as_many(before, live.count), as_many(after, live.count), strict=True)
    if any(tally.ahead != b or tally.behind <= a for tally, a, b in rows):
        return None
    return [st.BeginHere(), st.Hold(after, "back"), st.Hold(before, "front")]


@rule(
    r"(?:k|knit)(?: (?:1|one|a|this) (?:round|rnd)| round| across| on)?,? (?:and )?(?:putting|slipping|placing|leaving|threading|transferring) the (?P<n>{N}) (?:thumb|gusset) {STS} (?:on ?to|on|to) {HOLDER}[^;\d]*"
)
@alone
def _put_aside_on_the_way(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit, putting the 5 thumb sts on a pin": those in the middle, between two increases."""
    live, many = scribe.now(), count_in(said["n"])
    if not live.sure or not live.is_whole_round or live.held() or _is_marked(scribe):
        return None
    thumb = [int(n) for n in as_many(many, live.count)]
    sides = [tally.count - n for tally, n in zip(live.tallies, thumb, strict=True)]
    if any(n <= 0 or n % 2 for n in sides) or not _grown_amid(scribe, sides[0] // 2):
        return None
    before = sized([n // 2 for n in sides])
    return [st.Part((Run("k", before),)), st.Hold(many, "thumb"), st.Part((Run("k", before),))]


def _grown_amid(scribe: Scribe, before: int) -> bool:
    """Tell whether the last shaping made stitches behind the first, and before the last, so many."""
    for entry in reversed(scribe.assembler.entries):
        items = getattr(entry.step, "items", ())
        made = [at for at, item in enumerate(items) if getattr(item, "stitch", "").startswith("m1")]
        if made:
            ends = (
                (items[made[0] - 1], items[made[-1] + 1])
                if made[0] > 0 and made[-1] + 1 < len(items)
                else ()
            )
            return len(ends) == 2 and all(getattr(one, "amount", None) == before for one in ends)
    return False
