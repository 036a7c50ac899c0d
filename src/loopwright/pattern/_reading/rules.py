# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What clauses mean: casting on, joining, sharing out, holding, waste yarn, picking up."""

from __future__ import annotations

import re

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.back import back_over
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.places import size_of
from loopwright.pattern._reading.repeats import number_of
from loopwright.pattern._reading.rule_table import alone, rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.items import Run, Turn
from loopwright.pattern.values import Count, as_many, sized, values_of

__all__: list[str] = []


# --- casting on, joining, sharing out ---------------------------------------------------------

_HOW_ON = (("provisional", "provisional"), ("waste yarn", "provisional"), ("scrap yarn", "provisional"), ("closed", "closed"), ("toe-up method", "closed"), ("toe up method", "closed"), ("magic cast", "closed"), ("figure-8", "closed"), ("figure-eight", "closed"), ("turkish", "closed"), ("wrap cast", "closed"), ("toe-up cast", "closed"), ("toe up cast", "closed"), ("invisible", "closed"), ("loops on two needles", "closed"), ("loops on both needles", "closed"))  # fmt: skip


_AFTER_CAST_ON = re.compile(
    r"\s*(?:$|[,;:.(\[—–-]|(?:using|with|very|quite|rather|fairly|not too|a little|loosely|so that|on|onto|over|for|and|in|by|to|evenly|at|from|between|behind|above|under|across|where|after|next|provisionally|as|half|then|around|across|firmly|knitwise|purlwise|onto|more|again|per|divided|distributed|placed)\b)",
    re.IGNORECASE,
)


@rule(
    r"(?P<before>(?:(?:now |then )?(?:loosely |provisionally |(?:(?:backward|e)[- ]?loop|knitted|cabled?)[ -](?:method )?)|(?:with|using|by|in|on|onto) (?:[^.;]|\.\d|\bno\. )*?,? ?(?:loosely )?)?)(?:cast(?:ing)? on|co) (?P<n>{N})(?: (?:{STS}|\w+ {STS})\.?)?(?P<after>(?:[^.;]|\.\d|\bno\. )*)"
)
def _cast_on(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    count = count_in(said["n"])
    words = (said["before"] + said["after"]).lower()
    live = scribe.now()
    if not _AFTER_CAST_ON.match(said["after"]):
        return None
    if re.search(r"\bjoin", said["after"]) or re.search(
        r"(?:,|and) (?:k|p|knit|purl)\b", said["after"], re.IGNORECASE
    ):
        return None
    if live.tallies and any(tally.count for tally in live.tallies):
        return [st.CastOn(count, "stretchy" if "stretchy" in words else "long-tail")]
    scribe.context.course = ""
    how = next((kind for word, kind in _HOW_ON if word in words), "")
    if how == "provisional":
        scribe.context.course = "ROW"
        return [st.ProvisionalCastOn(count)]
    if how == "closed":
        each = f"{said['before']} {said['after']}"
        half = sized([int(v) // 2 for v in values_of(count)])
        numbers = [count_in(one) for one in re.findall(COUNT, each)]
        told = half in numbers or re.search(rf"\((?:{COUNT})|half", each)
        if re.search(r"\bon each|per needle", each) and not told:
            half = count
        if "instep" in each and "sole" in each:
            first = each.index("instep") < each.index("sole")
            scribe.context.places = {"instep": 1 if first else 2, "sole": 2 if first else 1}
        return [st.ClosedCastOn(half), st.Join(), st.Arrange((half, half))]
    way = "knitted" if "knitted" in words else "stretchy" if "stretchy" in words else "long-tail"
    return [st.CastOn(count, way)]


@rule(
    r"(?:place|pm|put|hang|mark)?[^;:.]*?\b(?:join(?:ing)?)\b(?! (?:in )?(?:the )?(?:(?:working|old|same|main|other|second|contrast\w*) )?(?:yarn|(?-i:[A-E])\b|mc|cc|main|contrast|wool|new|a new|another|colou?r|top|sole|seam|side|back|edges))(?P<rest>[^.:]*)"
)
def _join(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    low = said[0].lower()
    if re.search(r"\b(?:knit|purl|rib|sew|seam|graft|bind)\b(?!ing)", low) and not re.search(
        r"to (?:knit|work)", low
    ):
        return None
    if re.search(r"\d", re.sub(r"\b\d(?= (?:needles?|dpns?)\b)", "", low)):
        return None
    if scribe.now().in_rounds:
        return []
    scribe.context.course = "RND"
    return [st.Join()]


@rule(
    r"(?:and )?(?:knit|k|work|purl|p)(?:ing)? (?:the |each |all |last |two |both |remaining |any |every )*(?:ds|double {STS}|twin {STS}|wrapped {STS}) as (?:one|1|a single)(?: {STS})?(?: each)?[^;]*"
)
def _as_one(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit the last two ds as one st each": no other stitches than those told elsewhere."""
    return []


@rule(
    r"(?:(?:and )?(?:go |change |turn )?back (?:to|in)|working|work|knit|resume(?: working| knitting)?|return to working|begin working|continue|start working|go back to working|resume)(?: again)? (?:(?:in|to) (?:the )?)?(?:rounds?|rnds?)(?: again)?(?: (?:on|over) (?:both |all |the )*needles?(?: \d and (?:needle )?\d)?)?(?: (?:on|over) (?:both |all |the )*needles?(?: \d and (?:needle )?\d)?)?(?: (?:over|on|across) (?:all )?(?:the )?(?:{N} )?(?:\w+ )?{STS}[^.]*)?(?:,? (?:closing|knitting|working|picking)[^.]*)?"
)
@alone
def _round_again(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    scribe.context.course = "RND"
    steps = scribe.together()
    stated = re.search(rf"\b(?:over|on|across) (?:all )?(?:the )?({COUNT}) ", said[0])
    if stated and steps:
        scribe.after = count_in(stated[1])
    elif stated:
        scribe.claim("count", count_in(stated[1]))
    return list(steps)


_WORDS_TO_N = {"two": 2, "three": 3, "four": 4, "2": 2, "3": 3, "4": 4, "both": 2}


@rule(
    r"(?:divide|distribute|arrange|put|place|share|slip|with|you have|there are|you should have)?(?: (?:the|all|your))?(?: {STS})?(?: so that)?(?: (?:there|you) (?:are|is|have))?(?: evenly)? ?(?P<n>{N}) {STS} (?:on|onto|to) each (?:of )?(?:the )?(?P<many>two|three|four|2|3|4)? ?(?:dpns?|double[- ]pointed needles|needles?(?: tips?)?)?(?: (?P<first>\d) (?:to|-|–) (?P<last>\d))?"
)
def _each(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    count = count_in(said["n"])
    many = _WORDS_TO_N.get((said["many"] or "").lower(), int(said["last"] or 0))
    total, each = scribe.now().count, values_of(count)
    if not many:
        totals = values_of(total)
        if len(totals) != len(each) or any(
            int(b) == 0 or int(a) % int(b) for a, b in zip(totals, each, strict=True)
        ):
            return []
        found = {int(a) // int(b) for a, b in zip(totals, each, strict=True)}
        many = found.pop() if len(found) == 1 else 0
    if not 1 < many < 7:
        return []
    return [st.Arrange(tuple(count for _ in range(many)))]


@rule(
    r"(?:there are|you have|divide|arrange|distribute|with)?[^\d;.]*(?P<a>{N}) {STS} on needles? (?P<na>\d)(?: and (?P<nb>\d))?,?(?: and)? (?P<b>{N}) {STS} on (?:each of )?needles? (?P<nc>\d)(?: and (?P<nd>\d))?(?:,?(?: and)? (?P<c>{N}) {STS} on needle (?P<ne>\d))?(?:\s*[:=,]?\s*(?P<total>{N}) {STS}[^\d.]*)?"
)
def _counts_on(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    found: dict[int, Count] = {}
    for key, names in (("a", ("na", "nb")), ("b", ("nc", "nd")), ("c", ("ne",))):
        if said[key]:
            for name in names:
                if said[name]:
                    found[int(said[name])] = count_in(said[key])
    if sorted(found) != list(range(1, len(found) + 1)):
        return []
    return [st.Arrange(tuple(found[number] for number in sorted(found)))]


_ON_NEEDLE = re.compile(
    rf"needles? (?P<a>\d)\s*[:,=–-]?\s*(?:has |with )?(?P<n>{COUNT})\s*(?:sts|stitches)\b|"
    rf"(?P<n2>{COUNT})\s*(?:sts|stitches) (?:on|to|onto) (?:each of )?needles? (?P<b>\d)(?: and (?P<c>\d))?",
    re.IGNORECASE,
)


@rule(
    r"(?:(?:arrange|divide|distribute|place|put|rearrange|redistribute|share)(?: (?:the|your|all))*(?: {STS})?|your {STS} (?:are|should be)|{STS} (?:are|should be))[^;:]*?(?:like this|as follows|thus|so|now)?\s*[:,–-]?\s*(?P<listed>(?:needle|\d).*needle.*)"
)
def _listed_needles(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "arrange the stitches like this: needle 1, 13 sts; needle 2, 10 sts; ..."."""
    found: dict[int, Count] = {}
    for one in _ON_NEEDLE.finditer(said["listed"]):
        for number in (one["a"] or one["b"], one["c"]):
            if number:
                found[int(number)] = count_in(one["n"] or one["n2"])
    if len(found) < 2 or sorted(found) != list(range(1, len(found) + 1)):
        return None
    return [st.Arrange(tuple(found[number] for number in sorted(found)))]


# --- what waits ---------------------------------------------------------------------------------


@rule(
    r"(?:(?:now |then )?(?:slip|sl|place|put|move|transfer|leave|set|keep|slide|run|thread) )(?:the )?(?P<which>next|following|foll|first|these|those|last|previous|them)? ?(?P<n>{N})? ?(?:thumb |instep |heel |gusset |worked )*(?:{STS})?(?: just worked)?(?: of (?:the |this )?(?:rnd|round|row))? ?(?:unworked )?(?:back )?(?:aside|(?:on(?: ?to)?|to|over) {HOLDER})(?P<rest>[^;]*)"
)
@alone
def _hold(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    which = (said["which"] or "").lower()
    live = scribe.now()
    if re.search(r"needle 1\b.*\bneedle 2\b", said[0].lower()):
        return None
    if "back" in said[0].lower() and "needle" in said[0].lower():
        return None
    if not said["n"]:
        if which in ("them", "these", "those") and live.tallies and live.behind:
            rest = live.ahead
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
    if _total(live.held()) == count:
        return (
            None
            if live.count == 0 and re.search(r"\b(?:needles?|dpns?)\b", said[0].lower())
            else []
        )
    if which == "last" and live.sure and not live.held() and not live.behind_any():
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
    if which in ("these", "those", "last", "previous") and live.behind == count:
        return [
            st.BeginHere(),
            st.Hold(live.ahead, "heel"),
            st.Hold(count, name),
            st.ReturnHeld("heel"),
        ]
    return [st.Hold(count, name)]


@rule(
    r"(?:(?:break|cut) (?:off )?(?:the )?(?:yarn|wool),? (?:and )?)?(?:slip|sl|place|put|leave|transfer) (?:all )?(?:the |these |those )*(?:{STS}|them) (?:on ?to|on) {HOLDER}"
)
@alone
def _piece_aside(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "break yarn and slip sts on to a holder" of a flat piece that others will join."""
    live = scribe.now()
    if live.in_rounds or live.held() or not live.tallies or any(t.behind for t in live.tallies):
        return None
    scribe.note(said[0])
    return []


@rule(
    r"(?:always )?slip (?:the )?first {STS} of (?:each|every|all)(?: the)? {CRS}[^;\d]*|as you (?:pass|come to|reach|get to) (?:the |each )?(?:wrapped {STS}|wraps?|ds)[^;\d]*"
)
def _all_along(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Keep what holds for all rows: "slip the first st of each row purlwise"."""
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


def _compared(scribe: Scribe, words: str, stated: Count) -> None:
    """Compare the stitches said to lie on a needle with those that do: "the 28 sts of needle 1"."""
    live = scribe.now()
    needle = re.search(r"\b(?:of|on) needle ([12])\b", words.lower())
    if needle is None or not live.sure or live.held():
        return
    there = [size_of(tally, int(needle[1])) for tally in live.tallies]
    known = [one for one in there if one is not None]
    if len(known) == len(there) and as_many(stated, sized(known)) != tuple(known):
        scribe.claim("other", stated, sized(known))


def _is_few(count: Count, total: Count) -> bool:
    return 3 * int(values_of(count)[0]) < int(values_of(total)[0])


def _is_else(live: Live, count: Count) -> bool:
    """Tell whether something else is held already, and is meant."""
    return bool(live.held()) and "thumb" not in live.held() and live.behind != count


def _total(held: dict[str, Count]) -> Count | None:
    return next(iter(held.values())) if len(held) == 1 else None


@rule(
    r"(?:(?:and|then|now) )?(?:(?:slip|sl|place|put|move|transfer|leave|leaving|ignore|keep|keeping|let|divide|arrange) )?(?:the )?(?:rem(?:aining)?|other|rest of the|unworked|resting) (?P<n>{N}) (?:\w+ )?{STS}(?: for now)?(?P<rest>[^;]*)"
)
@alone
def _hold_rest(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    live, count = scribe.now(), count_in(said["n"])
    low = said[0].lower()
    if re.search(r"\b(?:on|onto|on to) (?:the |your |one )?(?:left |same )?needles?\b", low):
        return []
    if not re.search(
        r"hold|waste|scrap|spare|thread|pin|rest|unworked|instep|ignore|aside|wait|cable|top|\bleav",
        low,
    ):
        return None
    if re.search(r"\b(?:k|p|knit|purl|pick)\b", said["rest"].lower()) and "ignore" not in low:
        return None
    if not live.tallies or not live.sure:
        return []
    if scribe.is_turned() and live.behind == count:
        scribe.turn_later()
        return [st.Hold(count, "side" if "instep" in live.held() else "instep")]
    if _total(live.held()) == count:
        return []
    if live.held() and "thumb" not in live.held():
        scribe.claim("held", count)
        return []
    kept = [
        int(a) - int(b)
        for a, b in zip(values_of(live.count), as_many(count, live.count), strict=False)
    ]
    if live.ahead == count:
        return [st.Hold(count, "instep")]
    return list(scribe.focus(sized(kept))) if min(kept) > 0 else []


@rule(
    r"(?P<before>(?=[^;]*?\b(?:heel|flap|thumb|it|rows?|back and forth|strap)\b)[^;]*?\b(?:is|are|work|worked|working|rows)\b[^;]*?|(?:now )?work(?:ing)?(?: back and forth)?(?: in rows)?|(?:now )?(?:turn|go)(?:ing)? back and forth(?: in rows)?) (?:over|on|across) (?:just |only )?(?:the |these )?(?P<which>next|first|last|following|these|remaining|rem|other)? ?(?P<n>{N}) (?:heel |flap |sole )?{STS}(?: (?:of|on) (?:needles? \d(?: and \d)?|the (?:first|second|1st|2nd|heel|sole) needle))?(?: only)?(?P<rest>[,:;]? ?(?:leave|leaving|keep|keeping|while|put|place|the (?:other|rem|instep)|with the|and leave)[^.]*|(?: only)?(?:,? as (?:follows|foll|before|described)\b)?[:–-]*)?"
)
def _over(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    if re.search(r"\b(?:k|p|knit|purl)\s?\d|rep\b|\*", said["before"].lower()):
        return None
    scribe.context.course = "ROW"
    if re.search(r"needles? (?:1 and (?:needle )?4|4 and (?:needle )?1)\b", said[0].lower()):
        scribe.ignored = True
        scribe.context.heel = count_in(said["n"])
        return []  # they lie on both sides of the beginning of the round
    _compared(scribe, said[0], count_in(said["n"]))
    steps: list[Says] = list(scribe.focus(count_in(said["n"])))
    live = scribe.now()
    if (
        not steps
        and said["which"] in ("these", None)
        and live.held()
        and live.count != count_in(said["n"])
    ):
        scribe.claim("count", count_in(said["n"]))
    if said["before"] and not steps:
        scribe.note(said[0])
    return steps


@rule(
    r"(?:knit|k|work|using [^,;]*, k(?:nit)?) (?:across )?(?:the )?(?:next |first )?(?P<n>{N}) (?:{STS})?(?: of (?:the )?(?:round|rnd|needle \d))?(?: (?:on ?to|of|from|on) (?:one|a|the same|single|needle \d)? ?(?:needle)?(?: \d)?)?,?(?: and| then)* turn(?: work)?\b[^;]*"
)
def _knit_and_turn(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    live, count = scribe.now(), count_in(said["n"])
    if live.held() or not live.tallies:
        return None
    scribe.context.course = "ROW"
    heel, scribe.context.heel = scribe.context.heel, None
    plain: list[Says] = [st.Part((Run("k", count), Turn()))]
    if heel is None or not live.in_rounds or any(tally.behind for tally in live.tallies):
        return plain
    total = live.count
    more = [a - b for a, b in zip(as_many(heel, total), as_many(count, total), strict=True)]
    rest = [a - b for a, b in zip(as_many(total, total), as_many(heel, total), strict=True)]
    if min(more) <= 0 or min(rest) <= 0:
        return plain
    return [
        st.Part((Run("k", count),)), st.Hold(sized(rest), "instep"), st.Hold(sized(more), "heel"),
        st.Part((Turn(),)), st.ReturnHeld("heel"),
    ]  # fmt: skip


@rule(
    r"(?:knit|k) ?(?P<n>{N})(?: {STS})?,?(?: and)? turn(?: work)?[,;.]?(?: and)?(?: then)? (?:purl|p) ?(?P<m>{N})(?: {STS})?(?: on ?to (?:one|the same|a single) needle(?: for (?:the )?heel)?)?(?:,?(?: and)? turn)?"
)
def _knit_turn_purl(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "K14, turn, P28": back over those and as many before the round began."""
    live, near = scribe.now(), count_in(said["n"])
    total, across = live.count, count_in(said["m"])
    if not live.in_rounds or not live.sure or live.held() or any(t.behind for t in live.tallies):
        return None
    more = [a - b for a, b in zip(as_many(across, total), as_many(near, total), strict=True)]
    rest = [a - b for a, b in zip(as_many(total, total), as_many(across, total), strict=True)]
    if min(more) <= 0 or min(rest) <= 0:
        return None
    scribe.context.course = "ROW"
    return [
        st.Part((Run("k", near),)), st.Hold(sized(rest), "instep"), st.Hold(sized(more), "heel"),
        st.Part((Turn(),)), st.ReturnHeld("heel"), st.Row((Run("p", across),)),
    ]  # fmt: skip


@rule(
    r"(?:now )?(?:work|knit|rep(?:eat)?) (?:all (?:of )?)?(?:the |(?:all )?(?:{N} )?(?:rnds|rows|rounds) of (?:the )?)?(?P<name>(?:[a-z'-]+ ){0,3}(?:chart|panel)(?: [a-z0-9])?) (?P<times>once|twice|\w+ times)(?: more| again)?(?: \({N} {CRS}\))?"
)
@alone
def _chart_again(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work chart A once more": its rows, where they were written out."""
    name, times = said["name"].lower(), number_of(said["times"])
    known = (
        *scribe.context.patterns.items(),
        *((title, rows) for title, (rows, _) in scribe.context.sections.items()),
    )
    rows = next((rows for title, rows in known if name in title and rows), None)
    if not 0 < times < 60:
        return None
    if rows is None:
        scribe.note(said[0])
        scribe.claim("loose", 0)
        return []
    copies = tuple(attrs.evolve(row, count=None, at=scribe.place) for row in rows.values())
    if not _all_fit(scribe, copies):
        scribe.claim("loose", 0)
        return []
    return list(copies) if times == 1 else [st.RepeatRounds(copies, times)]


def _all_fit(scribe: Scribe, rows: tuple[st.Round | st.Row, ...]) -> bool:
    """Tell whether rows of a chart fill the row as they are: they may be a part of it."""
    live = scribe.now()
    if not live.tallies or not live.sure:
        return False
    return all(not live.trial(rows, size).troubles for size in range(len(live.tallies)))


@rule(
    r"(?:now |then )?work (?:the |in )?(?:[a-z'-]+ ){0,2}(?:rib|pattern|lace|cable|border|basket ?weave|chart)(?: pattern)?(?: as follows| thus| now)?:?"
)
@alone
def _begins_pattern(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work the mock rib", whose rounds follow."""
    return []


@rule(
    r"(?:purl|p) (?:across )?these (?P<n>{N})(?: {STS})?,? and (?:the )?(?P<m>{N}) (?:{STS} )?(?:of|on|from) (?:needle \d|the last needle|the other needle)(?: on ?to (?:one|the same|a single) needle)?"
)
def _purl_both(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "purl these 12 and the 12 of needle 4", behind a turn."""
    near, far = values_of(count_in(said["n"])), values_of(count_in(said["m"]))
    total = sized([int(a) + int(b) for a, b in zip(near, far, strict=False)])
    return back_over(scribe, st.Row((Run("p", total),)))


@rule(
    r"(?:(?:work|knit) )?(?:the )?heel (?:flap )?(?:is (?:worked|knit(?:ted)?) )?(?:on|over|across|using) these (?:{STS} )?and (?:the )?(?P<n>{N}) {STS} (?:of|on|from) [^:=]*?(?:[:=] ?(?P<total>{N}) (?:heel )?{STS})?"
)
def _heel_on_both(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    live, more = scribe.now(), count_in(said["n"])
    if not scribe.is_turned() or not live.tallies:
        return None
    worked = live.ahead
    rest = [
        int(b) - int(m)
        for b, m in zip(values_of(live.behind), as_many(more, live.behind), strict=False)
    ]
    if min(rest) <= 0:
        return []
    scribe.turn_later()
    del worked
    scribe.context.course = "ROW"
    return [
        st.Hold(sized(rest), "instep"), st.Hold(more, "heel"),
        st.Part((Turn(),)), st.ReturnHeld("heel"),
    ]  # fmt: skip


@rule(
    r"(?:these|those) (?P<n>{N}) (?:(?:heel )?{STS} )?(?:are|form|will be|make|become) (?:for )?(?:the |your )?heel[^;\d]*"
)
def _are_the_heel(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    live = scribe.now()
    stated = count_in(said["n"])
    if live.held() and live.sure:
        scribe.claim("count", stated)
    return _from_both_ends(scribe, stated) or []


@rule(
    r"(?:these|those)(?: (?P<n>{N}) (?:{STS} )?)? ?(?:{STS} )?(?:are|form|will be) (?:for )?(?:the |your )?instep(?: {STS})?"
)
def _are_the_instep(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "these are the instep" of what was just knitted: the rest is the heel."""
    live = scribe.now()
    part = all(tally.behind and tally.ahead for tally in live.tallies)
    if not live.in_rounds or not live.sure or live.held() or not part:
        return []
    heel = live.ahead
    scribe.context.course = "ROW"
    return [
        st.BeginHere(), st.Hold(heel, "heel"), st.Hold(live.behind, "instep"), st.ReturnHeld("heel"),
    ]  # fmt: skip


@rule(
    r"(?:the )?(?:other|rem(?:aining)?|rest of the) (?P<n>{N}) {STS} (?:are|form|will be) (?:for )?(?:the |your )?heel(?: flap)?(?: {STS})?"
)
def _others_are_the_heel(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    if scribe.now().held() and scribe.now().sure:
        scribe.claim("count", count_in(said["n"]))
    return []


@rule(
    r"(?:now )?work (?:on|over|across) (?:them|these|those)(?: {STS})?(?: only| alone)? (?:in rows|back and forth|flat)[^;\d]*"
)
def _on_these(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    scribe.context.course = "ROW"
    return []


@rule(
    r"(?P<lead>(?:knit|k|work) (?:across )?(?:the )?(?:{STS} (?:of|on) )?needle 1,?(?: and)?(?: then)? turn[;,.]? ?)?(?:the )?(?:heel|flap)(?: flap)? (?:is|will be) (?:worked|knit(?:ted)?|made)(?: back and forth)?(?: in rows)? (?:over|on|across) (?:the {STS} (?:of|on) )?needles? (?:1 and (?:needle )?4|4 and (?:needle )?1)(?: only)?[^;\d]*"
)
def _on_first_and_last(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "heel is worked over needle 1 and needle 4", of which needle 1 was just knitted."""
    live = scribe.now()
    if not said["lead"] and not scribe.is_turned() and not any(t.behind for t in live.tallies):
        scribe.ignored = True
        scribe.context.heel = scribe.stated
        return []
    if said["lead"]:
        sizes = [size_of(tally, 1) for tally in live.tallies]
        if not any(tally.parts for tally in live.tallies):
            sizes = [
                t.count // 4 if t.count % 4 == 0 and not t.behind else None for t in live.tallies
            ]
        many = sized([size for size in sizes if size is not None])
        if not live.in_rounds or None in sizes or live.held():
            return None
        total, near = values_of(live.count), as_many(many, live.count)
        rest = [int(a) - 2 * int(b) for a, b in zip(total, near, strict=False)]
        if min(rest) <= 0:
            return None
        scribe.context.course = "ROW"
        return [
            st.Part((Run("k", many),)), st.Hold(sized(rest), "instep"), st.Hold(many, "heel"),
            st.Part((Turn(),)), st.ReturnHeld("heel"),
        ]  # fmt: skip
    if scribe.is_turned():
        worked = live.ahead if not live.in_rounds or live.tallies[0].behind else live.behind
        scribe.turn_later()
        return _from_both_ends(scribe, sized([2 * int(v) for v in values_of(worked)]))
    return _from_both_ends(scribe, sized([2 * int(v) for v in values_of(live.behind)]))


def _from_both_ends(scribe: Scribe, heel: Count) -> list[Says] | None:
    """Take the heel from the stitches just worked and as many at the end of the round."""
    live = scribe.now()
    if not live.in_rounds or not live.sure or live.held():
        return None
    more, rest = [], []
    for tally, many in zip(live.tallies, as_many(heel, live.count), strict=True):
        more.append(int(many) - tally.behind)
        rest.append(tally.count - int(many))
    if min(more) <= 0 or min(rest) <= 0 or not all(tally.behind for tally in live.tallies):
        return None
    if scribe.is_turned():
        return None
    scribe.context.course = "ROW"
    return [
        st.Hold(sized(rest), "instep"), st.Hold(sized(more), "heel"),
        st.Part((Turn(),)), st.ReturnHeld("heel"),
    ]  # fmt: skip


@rule(
    r"(?:knit|k) (?P<n>{N}) (?:{STS} )?(?:on ?to|on) (?:one|a single|a spare|the same) needle(?:[;,.:] ?(?:this|these) (?:is|are|will be) [^.;]*)?"
)
def _onto_one(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    return [st.Part((Run("k", count_in(said["n"])),))]


@rule(
    r"(?:carefully )?(?:return|place|put|slip|sl|transfer|move|pick up|slide|divide|distribute|arrange)(?: the)?(?: (?P<n>{N}))? ?(?:(?:held|resting|live|thumb|gusset|instep|waiting|remaining) )*{STS}(?: (?:held|on hold|waiting|resting))?(?: (?:from|that|on|off|of) [^,;.]*?)??(?: back)? ?(?:on|onto|on to|to|over|evenly over|among) (?:the |a |your |two |three |2 |3 |smaller |larger |working |left |spare |double-pointed |double pointed |circular )*(?:\d\.?\d* ?mm )?(?:double-pointed |double pointed )?(?:needles?|dpns?)[^,;]*"
)
@alone
def _return(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    live = scribe.now()
    waste = next(
        (name for tally in live.tallies[:1] for name in (*tally.waste, *tally.opened)), None
    )
    if waste is not None:
        return [st.Recapture(waste)]
    held = list(live.held())
    if not held:
        return [] if not re.search(r"hold|held|thumb", said[0].lower()) else None
    name = "thumb" if "thumb" in held else held[0]
    scribe.context.ground, scribe.context.ground_name = None, "stockinette"
    scribe.context.course = "RND" if name == "thumb" else scribe.context.course
    return [st.ReturnHeld(name)]
