# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What clauses mean about stitches that wait: set aside, left where they are, worked without them."""

from __future__ import annotations

import re
from collections.abc import Sequence

from loopwright.pattern import steps as st
from loopwright.pattern._grammar.said import Numbered
from loopwright.pattern._reading.back import gone_back, is_turned_amid_round
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.rule_table import alone, rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.items import Run, Turn
from loopwright.pattern.values import Count, Sized, as_many, sized, values_of

__all__ = ["give_with_count", "state_count", "tells_what_waits"]


@rule(
    r"(?:now |then )?(?:slip|sl|place|put|move|transfer|leave) (?:the )?first (?P<a>{N})(?: {STS})?(?: (?:on ?to|on|to) {HOLDER})?,? and (?:the )?last (?P<b>{N})(?: {STS})? (?:on ?to|on|to) (?:another|the other|a second|{HOLDER})s?(?: (?:threads?|needles?|holders?|pins?))?(?:[,;:]? (?:(?:leaving|which leaves|leave) (?:the )?(?:middle |cent(?:er|re) |other )?)?(?P<n>{N})[^;\d]*)?"
)
@alone
def _ends_on_threads(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "slip the first 16 sts on to one thread and the last 14 on to another, leaving 16"."""
    live, one, two = scribe.now(), count_in(said["a"]), count_in(said["b"])
    if live.is_within or not live.sure or not live.in_rounds:
        return None
    wholes, firsts, lasts = (as_many(many, live.count) for many in (live.count, one, two))
    rest = [int(a) - int(b) - int(c) for a, b, c in zip(wholes, firsts, lasts, strict=True)]
    names = [name for name in ("front", "back") if name not in live.held()]
    if min(rest) <= 0 or len(names) < 2:
        return None
    if said["n"] and as_many(count_in(said["n"]), live.count) != tuple(rest):
        scribe.claim("other", count_in(said["n"]), sized(rest))
    return [
        st.Hold(one, "front"), st.Hold(sized(rest), "middle"), st.Hold(two, "back"),
        st.ReturnHeld("middle"),
    ]  # fmt: skip


@rule(
    r"(?:now |then )?(?:take(?: up)?|pick up|put|place|slip|return|move|transfer) (?:the )?first (?P<a>{N})(?: {STS})? and (?:the )?last (?P<b>{N})(?: {STS})? (?:from|off|of|(?:that (?:are|were) )?(?:held |waiting |left )?on) {HOLDER}(?: (?:yarn|wool|thread|needle))?(?:,? (?:back )?(?:on ?to|on|to) [^;,\d]*needles?)?"
)
@alone
def _both_ends_taken(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "take the first 6 and the last 6 sts from the waste yarn": those between them stay there."""
    live, one, two = scribe.now(), count_in(said["a"]), count_in(said["b"])
    if not live.sure or live.count != 0:
        return None
    for name, there in live.held().items():
        wholes, firsts, lasts = (as_many(many, live.count) for many in (there, one, two))
        rest = [int(a) - int(b) - int(c) for a, b, c in zip(wholes, firsts, lasts, strict=True)]
        if name != "thumb" and min(rest) > 0:
            return [
                st.ReturnHeld(name), st.Hold(one, "taken"), st.Hold(sized(rest), name),
                st.ReturnHeld("taken"),
            ]  # fmt: skip
    return None


@rule(
    r"(?:now |then )?(?:take(?: up)?|pick up|put|slip|return) (?:the )?(?P<which>first|last|next) (?P<n>{N}) {STS} (?:from|of|on) (?:the )?(?P<name>front|back) (?:thread|holder|needle|yarn|pin)(?: on ?to [^;,\d]*)?(?:,? (?:and )?(?:k|knit) ?(?:(?P<them>them)|(?:these )?(?P<m>{N})(?: {STS})?))?"
)
def _from_thread(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "take up the last 7 sts from the front thread and k7": the others stay there."""
    live, name, many = scribe.now(), said["name"].lower(), count_in(said["n"])
    if name not in live.held() or (said["m"] and count_in(said["m"]) != many):
        return None
    there = live.held()[name]
    rest = [
        int(a) - int(b) for a, b in zip(as_many(there, many), as_many(many, there), strict=True)
    ]
    if min(rest) < 0 or (min(rest) == 0 < max(rest)):
        return None
    knit: list[Says] = [st.Part((Run("k", many),))] if said["m"] or said["them"] else []
    stay: list[Says] = [st.Hold(sized(rest), name)] if max(rest) else []
    if stay and said["which"].lower() != "last":
        stay = [st.Hold(many, "taken"), *stay, st.ReturnHeld("taken")]
    return [st.ReturnHeld(name), *stay, *knit]


@rule(
    r"(?:k|knit)(?: up)? (?:the )?(?:remaining|rem|last|held) (?P<a>{N}) and (?P<b>{N}) {STS}(?: (?:from|on|of) [^;,\d]*)?"
)
def _both_remaining(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "k the remaining 9 and 7 sts", of two threads."""
    held = scribe.now().held()
    if (held.get("front"), held.get("back")) != (count_in(said["a"]), count_in(said["b"])):
        return None
    pairs = (("front", count_in(said["a"])), ("back", count_in(said["b"])))
    return [one for name, n in pairs for one in (st.ReturnHeld(name), st.Part((Run("k", n),)))]


@rule(
    r"(?:(?:now |then )?(?:slip|sl|place|put|move|transfer|leave|set|keep|slide|run|thread) )(?:the )?(?P<which>next|following|foll|first|these|those|last|previous|them)? ?(?P<n>{N})? ?(?:thumb |instep |heel |gusset |worked )*(?:{STS})?(?:(?: just| you have(?: just)?)? (?:worked|knitted))?(?: of (?:the |this )?(?:rnd|round|row))? ?(?:unworked )?(?:back )?(?:aside|(?:on(?: ?to)?|to|over(?! the (?:waste|scrap))) {HOLDER})(?P<rest>[^;]*)"
)
@alone
def _hold(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    which = (said["which"] or "").lower()
    live = scribe.now()
    if re.search(r"needle 1\b.*\bneedle 2\b|\b(?:bind|cast)\b[^;,]*\boff\b", said[0].lower()):
        return None
    if "back" in said[0].lower() and "needle" in said[0].lower():
        return None
    if said["n"] and _SHARED.search(said["rest"]):
        return _on_two(scribe, count_in(said["n"]))
    if not said["n"]:
        if which in ("them", "these", "those") and live.tallies and live.behind:
            rest = live.ahead
            if live.held() and not any(tally.ahead for tally in live.tallies):
                scribe.note(said[0])  # "the other 12 are the instep; leave them on two needles"
                return []
            return [
                st.BeginHere(),
                st.Hold(rest, "heel"),
                st.Hold(live.behind, "instep"),
                st.ReturnHeld("heel"),
            ]
        return None
    count = count_in(said["n"])
    whole = which != "first" and not live.held()
    if whole and re.search(r"\b(?:on|onto|on to) one needle\b", said[0].lower()):
        return []
    all_there = live.tallies and live.count == count and not live.behind_any()
    if whole and all_there and _ON_NEEDLE.search(said[0]):
        return []
    others = {name: many for name, many in live.held().items() if "piece" not in name}
    if {*others} == {"thumb"} and live.is_within and _far(count, live.ahead) and _is_amid(scribe):
        return [st.Hold(count, "rest")]  # the other sleeve, behind the back
    if _total(others) == count:
        return (
            None
            if live.count == 0 and re.search(r"\b(?:needles?|dpns?)\b", said[0].lower())
            else []
        )
    if which == "last" and live.is_free and not live.behind_any():
        kept = [
            int(a) - int(b)
            for a, b in zip(values_of(live.count), as_many(count, live.count), strict=False)
        ]
        return list(scribe.focus(sized(kept))) if min(kept) > 0 else None
    if which in ("these", "those") and _is_else(live, count):
        scribe.claim("held", count)
        return []
    name = (
        "thumb"
        if "thumb" in said[0].lower() or live.held() or _is_few(count, live.count)
        else "instep"
    )
    if name in live.held() and count != live.held()[name]:
        name = next(one for one in ("rest", "more", name) if one not in live.held() or one == name)
    if which in ("these", "those", "last", "previous") and live.behind == count:
        return [
            st.BeginHere(),
            st.Hold(live.ahead, "heel"),
            st.Hold(count, name),
            st.ReturnHeld("heel"),
        ]
    return [st.Hold(count, name)]


_ON_NEEDLE = WordForm(  # and on no spare one, where they would wait
    r"\b(?:on|onto|to) (?:one|a|1|your|the) (?:(?:\d[\d.]* ?mm|short|double[- ]pointed|free|single) )*(?:needle|dpn)$"
)


def _is_amid(scribe: Scribe) -> bool:
    """Tell whether a row that was worked on since some were laid aside goes on."""
    steps = [entry.step for entry in scribe.assembler.entries[-3:]]
    return len(steps) > 2 and isinstance(steps[-1], st.Part) and isinstance(steps[-2], st.CastOn)


_SHARED = WordForm(  # "… on one needle and the last 8 on another"
    r"\band (?:the )?(?:last|other|remaining|rem|next|rest)\b[^;]*\b(?:another|other|second|spare)\b",
)


def _on_two(scribe: Scribe, first: Count) -> list[Says]:
    """Share all stitches between two needles."""
    live = scribe.now()
    wholes, firsts = as_many(live.count, live.count), as_many(first, live.count)
    rest = [whole - one for whole, one in zip(wholes, firsts, strict=True)]
    known = live.is_whole_round
    return [st.Arrange((first, sized(rest)))] if known and min(rest) > 0 else []


@rule(
    r"(?:(?:break|cut) (?:off )?(?:the )?(?:yarn|wool),? (?:and )?)?(?:slip|sl|place|put|leave|transfer) (?:all )?(?:the |these |those )*(?:{STS}|them) (?:on ?to|on) {HOLDER}(?: yarn| wool| thread| needle)?(?P<until> (?:until|till?|for) (?!(?:the )?(?:instep|heel|thumb))[^;\d]*)?"
)
@alone
def _piece_aside(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "break yarn and slip sts on to a holder" of a flat piece that others will join."""
    live = scribe.now()
    if said["until"] and not live.held() and live.tallies:  # until the next lesson
        scribe.note(said[0])
        return []
    if live.in_rounds or not live.tallies or live.is_within:
        return None
    if live.held():
        names = [
            name for name in ("piece", "second piece", "third piece") if name not in live.held()
        ]
        apart = {"instep", "side"} <= set(live.held()) and live.sure
        return [st.Hold(live.count, names[0])] if apart and names else None
    scribe.context.aside = True
    scribe.note(said[0])
    return []


@rule(
    r"(?:slip|sl|put|place|leave|transfer|move) (?:the )?(?P<n>{N}) {STS} (?:(?:at|on|from) (?:each|both|either) (?:ends?|sides?)(?: of (?:the )?(?:row|work|needle|piece))? (?:(?:on ?to|on|to) (?:two )?{HOLDER}|unworked|waiting)|(?:on ?to|on) (?:two )?{HOLDER} (?:at|on) (?:each|both|either) (?:ends?|sides?))[^;\d]*"
)
@alone
def _ends_aside(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "slip the 13 sts at each end on to a holder" behind two turns."""
    live = scribe.now()
    found = _just_turned(scribe, [entry.step for entry in scribe.assembler.entries[-4:]])
    if found is None or not live.is_free or live.in_rounds:
        return None
    there = as_many(found[0], live.count)
    ends = zip(
        as_many(live.count, live.count),
        there,
        as_many(count_in(said["n"]), live.count),
        strict=True,
    )
    if any(whole - amid != 2 * end for whole, amid, end in ends):
        scribe.claim("held", count_in(said["n"]))
    scribe.context.course = "ROW"
    return list(scribe.focus(found[0]))


@rule(
    r"(?:with (?:the )?(?:rs|right side)(?: of (?:the )?work)? facing,? )?(?:re)?join (?:the )?(?:yarn|wool) (?:after|behind|at the (?:inner |left )?(?:end|edge) of|to the left of|next to) (?:the )?(?:first )?(?P<n>{N}) {STS}(?: on the right(?:[- ]hand)? needle| (?:left )?on (?:the |a )?(?:holder|spare needle))?"
)
@alone
def _behind_first(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "rejoin yarn after the 11 sts on the right-hand needle": those stay as they are."""
    live, many = scribe.now(), count_in(said["n"])
    if live.in_rounds or live.held().get("side") != many:
        return None
    scribe.context.course = "ROW"
    return [st.ReturnHeld("side", next_to_work=True), st.Part((Run("sl", many),))]


@rule(
    r"(?:slip|sl|put|place|return|transfer|take) (?:the )?(?:(?:two|2|both) (?:sets|groups|lots) of )(?P<n>{N}) (?:\w+ )?{STS} (?:back )?(?:on ?to|on) (?:one|a|the|the same|a single) needle[^;\d]*"
)
@alone
def _two_sets(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "slip the two sets of 13 sts on to one needle": two that wait, side by side."""
    live, many = scribe.now(), count_in(said["n"])
    names = [name for name, waiting in live.held().items() if waiting == many]
    if len(names) != 2 or live.count != 0:
        return None
    scribe.context.course = "ROW"
    return [st.ReturnHeld(name) for name in names]


@rule(
    r"(?:with (?:the )?(?:rs|right side|ws|wrong side) facing,? )?(?:slip|sl|put|place|return|transfer|take) (?:the )?{STS} (?:from|of|on) [^;,]*?holder,? and (?:then )?(?:those|the {STS}|the others?) (?:from|of|on) [^;,]*?holder,? (?:back )?(?:on ?to|on) (?:one|a|the same|a single) needle[^;\d]*"
)
@alone
def _from_both_holders(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "slip the sts from the left-hand holder and then those from the right-hand one"."""
    live = scribe.now()
    if len(live.held()) != 2 or any(tally.count for tally in live.tallies):
        return None
    scribe.context.course = "ROW"
    return [st.ReturnHeld(name) for name in live.held()]


@rule(
    r"(?:always )?(?:slip|sl) all (?:the )?(?:slipped )?{STS} (?:purlwise|knitwise|as if to (?:purl|knit)|pwise|kwise)\b[^;\d]*|(?:always )?(?:slip|sl) (?:the |all |each )?markers? (?:every time|each time|whenever|as|when) you (?:pass|come to|reach|get to|meet)[^;\d]*|"
    r"(?:if|should|for|where)\b(?! (?:\d|the (?:heel|toe|thumb|second|next|last)\b))[^,;.\d]*, (?:you can |you may |simply |just )?(?:work|knit|add) (?:a few |some |several |a round or two |a couple of )?(?:more|extra|fewer|additional) {CRS}(?: here| now| first| before [^;\d]*)?|"
    r"(?:always )?slip (?:the )?first {STS} of (?:each|every|all)(?: the)? {CRS}[^;\d]*|(?:as|when(?:ever)?|where(?:ver)?|each time|every time) you (?:pass|come to|reach|get to|meet|work) (?:the |each |a |an )?(?:wrapped {STS}|wraps?|ds|gaps?)[^;\d]*|(?:from (?:here|now)(?: on)? )?(?:each|every|all|the) (?:wrapped )?{STS} (?:now )?(?:has|have|carr\w+) (?:two|2|both|a second|double) wraps?\b(?:(?:[;,]| and) (?:now )?(?:work|knit|lift|pick up) (?:both|the two|all)\b[^;\d]*)?|(?:work|knit|knit or purl|lift|pick up|take|catch)(?: up)? (?:both|both of them|the two|both (?:the )?wraps|(?:the |each |every |any |all (?:the )?|your )?wraps?|the wraps? of each {STS}) (?:and (?:work|knit|knit or purl) (?:it|them) )?(?:tog(?:ether)? |along )?with (?:the|its|their|each)(?: own)? {STS}[^;\d]*|to close (?:a|the|each|every|these|those)(?: \w+)? gaps?,[^;\d]*"
)
def _all_along(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Keep what holds for all rows: "slip the first st of each row", "to close a gap, …"."""
    scribe.note(said[0])
    return []


@rule(
    r"(?:(?:now |then )?(?:cont(?:inue)?|work|go on|carry on|knit)\b\.?(?: to)?(?: work(?:ing)?| knit(?:ting)?)?(?: back and forth)?(?: in rows)? )(?:on|over) (?:just |only )?(?:the |these )(?P<n>{N}) (?:heel |flap |sole |thumb )?{STS}(?: of the heel)?(?: only| alone)?(?:,? (?:back and forth|in rows)[^;]*)?"
)
@alone
def _on_with(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "cont on the 25 heel sts", where these are all that is in work."""
    live, count = scribe.now(), count_in(said["n"])
    if not live.tallies or not live.held():
        return None
    if live.sure and live.count != count:
        scribe.claim("count", count)
    return []


_AT_BOTH = WordForm(r"\b(?:each|either|both) (?:sides?|ends?)\b", re.NOFLAG)


def _is_few(count: Count, total: Count) -> bool:
    return 3 * int(values_of(count)[0]) < int(values_of(total)[0])


def _is_else(live: Live, count: Count) -> bool:
    """Tell whether something else is held already, and is meant."""
    return bool(live.held()) and "thumb" not in live.held() and live.behind != count


def _total(held: dict[str, Count]) -> Count | None:
    return next(iter(held.values())) if len(held) == 1 else None


@rule(
    r"(?:(?:and|then|now) )?(?:(?:slip|sl|place|put|move|transfer|leave|leaving|ignore|keep|keeping|let|hold|holding|divide|arrange) )?(?:the )?(?:rem(?:aining)?|other|rest of the|unworked|resting) (?P<n>{N})(?! ?(?:rows|rounds|rnds|times|cm|in\b|\"))(?: (?:\w+ )?{STS})?(?: for now)?(?P<rest>[^;]*)"
)
@alone
def _hold_rest(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    live, count = scribe.now(), count_in(said["n"])
    low = said[0].lower()
    if re.search(r"\b(?:on|onto|on to) (?:the |your |one )?(?:left |same )?needles?\b", low):
        return []
    if not re.search(
        r"hold|held|waste|scrap|spare|thread|pin|rest|unworked|instep|ignore|aside|wait|cable|top|\bleav",
        low,
    ):
        return None
    if re.search(r"\b(?:k|p|knit|purl|pick)\b", said["rest"].lower()) and "ignore" not in low:
        return None
    if not live.sure:
        return []
    if scribe.is_turned() and live.behind == count:
        scribe.turn_later()
        return [st.Hold(count, "side" if "instep" in live.held() else "instep")]
    if _total(live.held()) == count:
        return []
    if live.held() and "thumb" not in live.held():
        each = 1 + bool(_AT_BOTH.search(low))
        scribe.claim("held", sized([each * int(many) for many in values_of(count)]))
        return []
    kept = [
        int(a) - int(b)
        for a, b in zip(values_of(live.count), as_many(count, live.count), strict=False)
    ]
    if live.ahead == count:
        rows: list[Says] = [st.InRows()] if live.in_rounds and live.behind_any() else []
        return [*rows, st.Hold(count, "instep")]
    return list(scribe.focus(sized(kept))) if min(kept) > 0 else []


# --- stitches between two turns, worked on alone --------------------------------------------------


def _just_turned(scribe: Scribe, says: Sequence[Says]) -> tuple[Count, Count] | None:
    """Return how many stitches lie between the last two turns, and how many were cast on there."""
    steps = [one.step if isinstance(one, Numbered) else one for one in says]
    steps = [step for step in steps if not isinstance(step, st.Note)]
    new: Count = 0
    if steps and isinstance(cast_on := steps[-1], st.CastOn):
        new = cast_on.stitches
        steps.pop()
    row = steps[-1] if steps else None
    if not isinstance(row, st.Row | st.Part) or len(row.items) < 2:
        return None
    *items, last = row.items
    if not isinstance(last, Turn) or not all(
        isinstance(item, Run) and item.stitch in ("k", "p") for item in items
    ):
        return None
    amounts = [item.amount for item in items if isinstance(item, Run)]
    if not all(isinstance(amount, int | Sized) for amount in amounts):
        return None
    live = scribe.now()
    columns = [as_many(amount, live.count) for amount in amounts]  # type: ignore[arg-type]
    return sized([sum(column) for column in zip(*columns, strict=True)]), new


def give_with_count(scribe: Scribe, says: Sequence[Says], count: Count | None) -> None:
    """Hand steps on, with the count stated behind them: of all stitches, or of a part alone."""
    says = gone_back(scribe, says)
    if count is None or not _give_alone(scribe, says, count):
        scribe.give(says, count)


def _give_alone(scribe: Scribe, says: Sequence[Says], count: Count) -> bool:
    """Part the stitches between two turns from the rest where the count is theirs alone.

    "Next row: P12, turn and cast on 2 sts. 14 sts."
    """
    live = scribe.now()
    if live.in_rounds or not live.is_free or not scribe.is_turned():
        return False
    if (found := _just_turned(scribe, says)) is None:
        return False
    there, new = found
    together = [
        a + b for a, b in zip(as_many(there, live.count), as_many(new, live.count), strict=True)
    ]
    if list(as_many(count, live.count)) != together or live.count == count:
        return False
    cast_on = list(says)[-1:] if new else []
    scribe.give(list(says)[:-1] if new else says)
    scribe.give([*scribe.focus(there), *cast_on])
    return True


@rule(
    r"(?:now |then )?(?:(?:work|cont(?:inue)?|go on|carry on)(?:ing)?\b\.? )?(?:(?:back and forth|in rows) )?(?:on|over) (?:just |only )?(?:these|those) {STS}(?: only| alone)?(?: for (?:the )?(?:heel|flap|heel flap|thumb))?"
)
@alone
def _on_these_alone(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "on these sts only" behind one turn or two: those before it, or between them."""
    live = scribe.now()
    if is_turned_amid_round(scribe):
        scribe.context.course = "ROW"
        return list(scribe.focus(live.ahead))
    if not live.is_free or live.in_rounds:
        return []
    entries = [entry.step for entry in scribe.assembler.entries[-4:]]
    found = _just_turned(scribe, entries)
    if found is None or found[1]:
        return [] if found is None else None
    scribe.context.course = "ROW"
    return list(scribe.focus(found[0]))


@rule(
    r"(?:(?:the )?[a-z]+ is (?:now )?open; )?(?:now |then )?(?:go on|cont(?:inue)?|carry on|work)(?: working| knitting)? (?:with|on|over) (?:just |only )?(?:the )?(?P<which>first|last) (?P<n>{N})(?: {STS})?(?: only| alone)?(?:,| and)+ (?:leave|put|place|slip|keep) the (?:first|last|other) (?P<m>{N})(?: {STS})? (?:on ?to|on|to) {HOLDER}"
)
@alone
def _one_of_two(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "go on with the last 15 only, and leave the first 15 on a thread", behind a row."""
    live, many, other = scribe.now(), count_in(said["n"]), count_in(said["m"])
    both = zip(
        as_many(live.count, live.count), as_many(many, live.count), as_many(other, live.count),
        strict=True,
    )  # fmt: skip
    if live.in_rounds or live.held() or not live.sure or any(n != a + b for n, a, b in both):
        return None
    scribe.context.course = "ROW"
    if said["which"].lower() == "last":  # they were worked last, and come first behind the turn
        return list(scribe.focus(many)) or None
    return [st.Hold(other, "rest")]


@rule(
    r"(?:slip|sl|move|place|put|leave|transfer) (?:the )?(?:last|next|remaining|rem|other) (?:(?P<n>{N}) )?{STS}(?: of (?:the )?(?:rnd|round|row|heel|sole))? (?:to|on ?to|on|with) (?:the )?instep(?: {STS}| needles?)?(?:,? (?:for|so that|making|giving)[^;]*)?"
)
@alone
def _to_the_instep(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "slip the last st of the round to the instep": the heel is worked without it."""
    live, many = scribe.now(), count_in(said["n"] or "1")
    if "instep" not in live.held() or not live.sure or live.ahead != many or not live.behind_any():
        return None
    return [*([st.InRows()] if live.in_rounds else []), st.Hold(many, "instep2")]


@rule(
    r"(?:(?:now|then|next|instead|from (?:now|here)(?: on)?),? )*(?:stop (?:working|knitting) in (?:the )?(?:rounds?|rnds?)[;,]?(?: and)? )?(?:work|continue|cont|go on|carry on|knit|go|proceed)\b(?: work(?:ing)?| knitting)? (?:back and forth|flat|in rows|to and fro)(?: (?:in rows|now|instead|from here(?: on)?))*,? (?:turning (?:(?:the |your )?work )?(?:at|where|when|after)|instead of (?:joining|working in the round|going round)|(?:so as )?to (?:leave|make|form|create) (?:an?|the) (?:\w+ )?(?:opening|slit|slot|hole|vent|split))\b[^;\d]*"
)
@alone
def _flat_from_here(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "now work flat, turning at the beginning of the round", over all stitches."""
    live = scribe.now()
    if not live.in_rounds or live.held() or live.behind_any():
        return None
    scribe.context.course = "ROW"
    return [st.InRows()]


_LEFT_OVER = WordForm(
    r"\b(?:sts?\.?|stitches) (?:(?:are |is )?left\b(?: (?:on|at|over|here|there|behind)\b.*)?|(?:still )?(?:remain|stay|wait)\b[^.]* (?:on|here|there|behind)\b.*)[.)\]]*$"
)
_TURNED = WordForm(r"\bturn(?: (?:the |your )?work)?[.,;:]?$")


def tells_what_waits(text: str, bare: str) -> bool:
    """Tell whether a sentence says behind its turn how many are left: "turn, 4 sts are left"."""
    return _TURNED.search(bare) is not None and _LEFT_OVER.search(text) is not None


def _far(count: Count, there: Count) -> float:
    """Return by how many stitches a count misses what is there, in all sizes."""
    pairs = zip(as_many(count, there), values_of(there), strict=False)
    return sum(abs(float(told) - float(now)) for told, now in pairs)


def state_count(scribe: Scribe, text: str, count: Count) -> None:
    """State a count, behind a turn of all there are or of those that wait: "4 sts are left"."""
    live = scribe.now()
    left = _LEFT_OVER.search(text) is not None and scribe.is_turned()
    if left and _far(count, live.behind) < _far(count, live.count):
        scribe.claim("waiting", count)
    else:
        scribe.state(count)
