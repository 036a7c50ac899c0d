# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What clauses mean that tell which stitches of the round are which: a heel's, the instep's.

"The last 24 sts of the rnd make the heel; the first 24 rest for the instep": each piece has a
number, and says with words of a few kinds where its stitches lie and what they are for.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.freed import freed, waste_in
from loopwright.pattern._reading.on_needles import (
    arranged_on_needles,
    holds_pairs,
    moved_on_needles,
    told_by_place,
)
from loopwright.pattern._reading.places import size_of
from loopwright.pattern._reading.rule_table import rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in, number_of
from loopwright.pattern._reading.waiting import give_with_count
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern.items import Turn
from loopwright.pattern.values import Count, as_many, sized

__all__ = ["shared_among"]

_PLACES = {
    "heel": "heel", "flap": "heel", "instep": "instep", "sole": "sole", "front": "front",
    "back": "back", "palm": "palm", "top": "instep", "foot": "", "hand": "",
}  # fmt: skip
_WAITING = frozenset(
    re.findall(
        r"\w+",
        "rest rests wait waits waiting stay stays hold held left unworked aside resting remain",
    )
)
_SAID = frozenset(
    re.findall(r"[a-z']+",
    "the a of in on to each every for as and at is are will be make makes form forms become becomes belong go serve "
    "and while with now then let leave leaving keep keeping which flap's "
    "made up kept these those them your this that here only alone worked back forth rows their its "
    "sts stitches st round rnd needle needles spare holder cable while must just later meanwhile behind end start beginning needles")
)  # fmt: skip
_PIECE = re.compile(
    rf"(?P<lead>[a-z' ]*?)(?:\b(?P<which>first|last|next|following|other|remaining|rem\.?|rest)?(?: of the)? ?)(?P<n>{COUNT})(?: of (?:them|these|those))?(?P<words>(?: |$)[a-z ()\d'-]*)",
    re.IGNORECASE,
)
_THE_REST = WordForm(  # "the rest are the palm": as many as are left of the round
    r"(?P<lead>(?:the |all )*)(?P<which>rest|others|remainder|remaining (?:sts|stitches))(?P<words> [a-z ]+)",
)
_CUT = re.compile(
    r"\s*[,;:](?![^(\[]*[)\]])\s*(?:and |while )?|\s+(?:and|while)\s+(?=(?:leave |let |keep )?(?:the )?(?:first|last|next|others?|rest|rem\w*|\d))"
)
_LEAD = WordForm(
    r"(?:the )?(?:round|rnd|sts|stitches|work|sock)(?: sts| stitches)? (?:is|are)(?: now)? (?:halved|divided|shared|split|parted|arranged)(?: into two| in two| in half| evenly| equally)?$",
)


@attrs.frozen
class _Share:
    """Some stitches of the round: where they lie, how many there are, what they are for."""

    which: str
    many: Count | None  # None: as many as are left
    place: str
    waits: bool
    worked: bool


def _share(text: str) -> _Share | None:
    text = text.strip()
    match = _PIECE.fullmatch(text) or _THE_REST.fullmatch(text)
    if match is None:
        return None
    words = re.findall(r"[a-z]+", f"{match['lead']} {match['words']}".lower())
    places = [_PLACES[word] for word in words if word in _PLACES]
    if not all(word in _SAID or word in _PLACES or word in _WAITING for word in words):
        return None
    if not places and not _WAITING & {*words}:
        return None
    place = next((one for one in places if one), "")
    waits, worked = bool(_WAITING & {*words}), bool({"worked", "forth", "rows"} & {*words})
    many = count_in(match["n"]) if match.re is _PIECE else None
    return _Share((match["which"] or "").lower(), many, place, waits, worked)


def _shares(text: str) -> list[_Share]:
    """Return what the pieces of a clause share out; nothing if one of them does not."""
    pieces = [piece for piece in _CUT.split(text.strip(" .")) if piece]
    if pieces and _LEAD.match(pieces[0]):
        pieces = pieces[1:]
    found = [_share(piece) for piece in pieces]
    return [one for one in found if one is not None] if all(found) else []


def shared_among(scribe: Scribe, text: str) -> str | None:
    """Take "30 instep sts, 30 sole sts" for what it says of the round, or of its needles."""
    if holds_pairs(scribe.now(), text.strip()) or _on_some_needles(scribe, text):
        scribe.note(text)
        return "count"
    if (moved := moved_on_needles(scribe.now(), text.strip())) is not None:
        scribe.give([moved])
        return "instruction"
    shares: Sequence[Says] | None = told_by_place(scribe.now(), text.strip())
    if shares is None and _TWO_NUMBERS.match(text):
        shares = _shared(scribe, text)
    if shares is None and (arranged := arranged_on_needles(scribe.now(), text)) is not None:
        step, total = arranged
        give_with_count(scribe, [step], total)
        return "instruction"
    if shares is None:
        return None
    scribe.give(shares)
    return "instruction" if shares else "count"


_SOME_NEEDLES = WordForm(  # "The first two needles are the palm, 20 stitches": not all that there are
    rf"(?:(?:so|now|then),? )?(?:the |your )?(?:(?P<which>first|last|other) )?(?:(?P<many>two|three|[23]) )?needles?(?: (?P<a>[1-4])(?: ?(?:and|&|-|to) ?(?P<b>[1-4]))?)? (?:(?:will |now )?(?:are|is|be|make|form|hold|have|has|carry|carries|belong to)s? )?(?:for )?(?:the |your )?[a-z' ]{{3,24}}?(?:[,:;(–—]| with| of| at)+ ?(?P<n>{COUNT}) {STS}(?: (?:altogether|together|in all))?\)?[.!]?$",
)


def _on_some_needles(scribe: Scribe, text: str) -> bool:
    """Compare what some of the needles hold with what lies on them; tell whether a text says that."""
    match = _SOME_NEEDLES.match(text.strip())
    live = scribe.now()
    if match is None or not live.is_whole_round or not (match["a"] or match["many"]):
        return False
    parts = len(live.tallies[0].parts)
    first = int(match["a"] or 1)
    last = int(match["b"] or first) if match["a"] else number_of(match["many"])
    if (match["which"] or "").lower() in ("last", "other"):
        first, last = parts - last + 1, parts
    if not 1 <= first <= last <= parts or parts < 3:
        return False
    sizes = [[size_of(one, n) for n in range(first, last + 1)] for one in live.tallies]
    if any(n is None for one in sizes for n in one):
        return False
    there = sized([sum(n or 0 for n in one) for one in sizes])
    if as_many(told := count_in(match["n"]), there) != as_many(there, told):
        scribe.claim("other", told, there)
    return True


_TWO_NUMBERS = WordForm(r"[a-z' :]*\d[^;,]*[;,][^;,\d]*\d[^*]*$")


@rule(
    r"(?:and |now |then )*(?:slip|sl|move|transfer|put|place|shift) (?:the )?(?:(?:(?:last |first |next |other |rem(?:aining|\.)? |same )?(?P<n>{N})|rem(?:aining|\.)?|other) (?:(?:heel|sole|flap) {STS}|{STS}(?: of (?:the )?(?:heel|sole|flap))?)|rest of (?:the )?(?:heel|sole|flap)(?: {STS})?) (?:back )?(?:on|onto|on to|to) (?P<amid>(?:the )?(?:beg(?:inning)?|start|front|end) of )?(?:the )?needle [1-4]"
)
def _moved_over(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Leave "slip the last 10 heel sts to the beginning of needle 1": they lie elsewhere, no more."""
    live = scribe.now()
    told = said["amid"] or re.search(r"\b(?:heel|sole|flap)\b", said[0], re.IGNORECASE)
    return [] if told and live.in_rounds and live.is_free and not live.held() else None


@rule(
    r"(?:now |then |next,? )?(?:slip|sl|move|transfer|shift|pass|even out|rearrange|redistribute|adjust|share out) (?P<what>[^;]*)"
)
def _evened_out(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "slip the first and last instep st to the sole needles: 16 sts on each of 4 needles"."""
    live, words = scribe.now(), said["what"].lower()
    each = _EACH_HOLDS.search(words)
    if each is None or not live.is_whole_round or _ELSE.search(words):
        return None
    many = as_many(count_in(each["n"] or each["m"]), live.count)
    total = as_many(live.count, live.count)
    needles = {int(a) // int(b) if b and not a % b else 0 for a, b in zip(total, many, strict=True)}
    told = _MANY.search(words)
    besides = (one[0] for one in _ELSEWHERE.finditer(words[: each.start()] + words[each.end() :]))
    if any(as_many(count_in(one), live.count) != total for one in besides):
        return None  # one of them holds another number
    if len(needles) > 1 or not 2 <= (number := needles.pop()) <= 5:
        return None
    if told is not None and told[1] not in (str(number), _IN_WORDS[number]):
        return None
    return [st.Arrange((sized([int(n) for n in many]),) * number)]


@rule(
    r"(?:now |then )?(?:slip|sl|put|place|arrange|catch|hang|get|have|leave) (?:the )?(?P<n>{N})(?: {STS})? on(?:to| to)? (?:one|the first|your first|a) (?:needle(?: tip)?|dpn|tip)(?:,| and|, and) (?:the (?:other |remaining |last )?)?(?P<m>{N})(?: {STS})? on(?:to| to)? (?:the other|the second|another|a second|your second)(?: (?:needle(?: tip)?|dpn|tip|one))?"
)
def _on_one_and_other(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "put 20 sts on one needle and 20 on the other", where these are all that there are."""
    live, one, other = scribe.now(), count_in(said["n"]), count_in(said["m"])
    if not live.sure:
        return None
    if (name := waste_in(scribe)) is not None:  # whose yarn is out: they are free
        alike = one == other and set(live.held().values()) == {one}
        return freed(scribe, name, said[0]) if alike else None
    both = [as_many(many, live.count) for many in (one, other)]
    whole = as_many(live.count, live.count)
    if not live.is_whole_round or any(a + b != n for a, b, n in zip(*both, whole, strict=True)):
        return None
    return [st.Arrange((one, other))]


_EACH_HOLDS = WordForm(
    rf"\b(?:each|every|all)(?: one)?(?: of)?(?: the| your)?(?: (?:\d|two|three|four|five))? (?:needles?|dpns?) (?:now )?(?:holds?|has|have|carr(?:y|ies)|contains?|with) (?P<n>{COUNT})(?: {STS})?\b(?! needle)"
    rf"|(?<![\d.])(?P<m>{COUNT}) (?:{STS} )?(?:(?:on|per|to) (?:each|every|a)\b(?! side)|per needle|each\b|apiece)",
    re.NOFLAG,
)
_ELSEWHERE = WordForm(rf"{COUNT}(?= (?:{STS} )?(?:on|onto|on to) (?:the|your|needle)\b)")
_MANY = WordForm(r"\b([2-5]|two|three|four|five) (?:needles|dpns)\b", re.NOFLAG)
_IN_WORDS = {2: "two", 3: "three", 4: "four", 5: "five"}
_ELSE = WordForm(
    r"\b(?:holders?|waste|scrap|thread|thumb|knit|k\d|p\d|purl|pick|cast|turn|needle [1-4] (?:only|alone))\b|\*",
    re.NOFLAG,
)


@rule(
    rf"(?:[^\d;*:]*[:;,] ?)?[a-z' ]*?{COUNT}[^*]*\b(?:heel|instep|sole|front|back|palm|foot|flap|rest|waits?|hold)\b[^*]*|[a-z' ]*\b(?:heel|flap)\b[a-z' ]*{COUNT}[^*]*"
)
def _shared_out(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "the last 24 sts make the heel; the first 24 rest for the instep"."""
    return _shared(scribe, said[0])


def _shared(scribe: Scribe, text: str) -> list[Says] | None:
    """Return what a text that shares the round out among its parts asks for; None if it does not."""
    found = _shares(text)
    if not found or len(found) > 2:
        return None
    live = scribe.now()
    if not live.sure:
        return None
    if len({one.place for one in found}) < len(found):
        return None
    if len(found) == 1 and (found[0].place != "heel" or found[0].which not in ("first", "last")):
        return None
    total = live.count
    if found[0].many is None or (found[-1].many is None and live.held()):
        return None
    many = [as_many(one.many, total) for one in found if one.many is not None]
    if live.held():
        heel = next((one.many for one in found if one.place == "heel"), None)
        if heel is None or as_many(heel, total) != as_many(total, total):
            return None
        return []
    rest = [int(a) - int(b) for a, b in zip(as_many(total, total), many[0], strict=True)]
    if min(rest) <= 0 or (len(many) == 2 and rest != [int(n) for n in many[1]]):
        return None
    both = [sized([int(n) for n in many[0]]), sized(rest)]
    last_first = found[0].which == "last" or (len(found) == 2 and found[1].which == "first")
    names = [found[0].place, found[1].place if len(found) == 2 else "instep"]
    if last_first:
        both.reverse()
        names.reverse()
    return _laid(scribe, both, names, apart=_is_apart(scribe, found))


def _is_apart(scribe: Scribe, found: list[_Share]) -> bool:
    """Tell whether the heel is to be worked alone from here, not just told where it lies."""
    heel = any(one.place == "heel" for one in found)
    told = scribe.is_turned() or any(one.waits for one in found if one.place != "heel")
    told = told or any(one.worked for one in found if one.place == "heel")
    return heel and (told or re.search(r"\b(?:heel|flap)\b", scribe.context.section) is not None)


def _laid(scribe: Scribe, both: list[Count], names: list[str], *, apart: bool) -> list[Says] | None:
    live = scribe.now()
    if not apart:
        if live.behind_any() or not live.in_rounds:
            return None
        scribe.context.halves = tuple(both)
        scribe.context.places = {name: at for at, name in enumerate(names, start=1) if name}
        return [st.Arrange(tuple(both))]
    scribe.context.course = "ROW"
    if names[0] == "heel":
        return list(scribe.focus(both[0])) or None
    if live.behind_any():
        return None
    turned = scribe.is_turned()
    if turned:
        scribe.turn_later()
    return [st.Hold(both[0], "instep"), *([st.Part((Turn(),))] if turned else [])]
