# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What clauses mean that say which stitches the heel is worked on, and turn to work them in rows."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.back import across_start, is_turned_amid_round
from loopwright.pattern._reading.free_heel import knits_on
from loopwright.pattern._reading.places import rests_since, size_of
from loopwright.pattern._reading.rule_table import alone, rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._tally import Tally
from loopwright.pattern.items import KNIT, Run, Turn
from loopwright.pattern.values import Count, as_many, sized, values_of

__all__: list[str] = []


@rule(
    r"(?:knit|k|work) (?:across )?(?:the )?(?:first |next |following )?(?P<n>{N})(?: {STS})? (?:(?:on ?to|on) (?:one|a single|a spare|a free|the same) needle )?for (?:the |your )?heel(?: flap)?(?: {STS})?"
)
def _knit_for_the_heel(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit the first 36 sts on to one needle for the heel flap": the rest waits."""
    live, many = scribe.now(), count_in(said["n"])
    begun = live.is_within
    if not live.is_free or begun:
        return None
    total = live.count
    rest = [a - b for a, b in zip(as_many(total, total), as_many(many, total), strict=True)]
    if min(rest) <= 0:
        return None
    scribe.context.course = "ROW"
    turn = () if any(tally.ahead for tally in live.tallies) else (Turn(),)
    rows: list[Says] = [st.InRows()] if live.in_rounds else []
    return [st.Part((*turn, Run("k", many))), *rows, st.Hold(sized(rest), "instep")]


@rule(
    r"(?P<before>(?=[^;]*?\b(?:heel|flap|thumb|it|rows?|back and forth|strap)\b)[^;]*?\b(?:is|are|work|worked|working|rows)\b[^;]*?|(?:now )?work(?:ing)?(?: back and forth)?(?: in rows)?|(?:now )?(?:turn|go)(?:ing)? back and forth(?: in rows)?) (?:over|on|across) (?:just |only )?(?:the |these )?(?P<which>next|first|last|following|these|remaining|rem|other)? ?(?P<n>{N})(?(which)(?: (?:heel |flap |sole )?{STS})?| (?:heel |flap |sole )?{STS})(?: (?:of|on) (?:needles? \d(?: and \d)?|the (?:first|second|1st|2nd|heel|sole) needle|the (?:round|rnd|row)))?(?: for (?:the |your |a )?(?:heel|flap|heel flap|sole|thumb|strap)| only| alone| ?\([^()\d]*\)|,? (?:in rows|back and forth))*(?P<rest>[,:;]? ?(?:leave|leaving|keep|keeping|while|put|place|the (?:other|rem|instep)|with the|and (?:leave|leaving|keep|keeping|put|place|let|hold|slip))[^.]*|(?: only)?(?:,? as (?:follows|foll|before|described)\b)?[:–-]*)?"
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
    if not scribe.now().held() and knits_on(scribe, count_in(said["n"])):
        scribe.context.heel, scribe.ignored = count_in(said["n"]), True
        scribe.note(said[0])
        return []
    second = re.search(r"\b(?:of|on) needles? (?:2|3 and 4)\b", said[0].lower()) is not None
    ahead = second or (said["which"] or "").lower() == "next"
    steps = across_start(scribe, count_in(said["n"]))
    steps = steps or list(scribe.focus(count_in(said["n"]), ahead=ahead))
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


def _compared(scribe: Scribe, words: str, stated: Count) -> None:
    """Compare the stitches said to lie on a needle with those that do: "the 28 sts of needle 1"."""
    live = scribe.now()
    needle = re.search(r"\b(?:of|on) needle ([12])\b", words.lower())
    if needle is None or not live.is_free:
        return
    there = [size_of(tally, int(needle[1])) for tally in live.tallies]
    known = [one for one in there if one is not None]
    if len(known) == len(there) and as_many(stated, sized(known)) != tuple(known):
        scribe.claim("other", stated, sized(known))


@rule(
    r"(?:(?P<how>k|p)(?:nit|url)?|work) ?(?:back |across |over )*(?:(?:the )?(?:first |other )?half (?:of )?(?:the |these )?(?:heel |rem\w* )?{STS}|(?:(?P<n>{N}) (?:{STS} )?)?(?:back )?to (?:the )?(?:middle|cent(?:er|re))(?: of (?:the )?(?:heel|row|needle|these {STS}))?)(?:,? [(]?(?P<n2>{N}) {STS}[)]?)?"
)
def _to_the_middle(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit back to the middle of the heel (8 sts)", where a row of even many begins."""
    live = scribe.now()
    counts = [tally.count for tally in live.tallies]
    begun = any(tally.behind and tally.ahead for tally in live.tallies)
    if not live.sure or live.in_rounds or begun or not counts or any(n % 2 for n in counts):
        return None
    if live.ends_picking_up:  # of the heel alone, and not with what was picked up at its sides
        return None
    half, told = sized([n // 2 for n in counts]), said["n"] or said["n2"]
    scribe.ignored = scribe.ignored or scribe.stated == half
    stitch = "p" if (said["how"] or "").lower() == "p" else "k"
    return [st.Part((Run(stitch, count_in(told) if told else half),))]


@rule(
    r"(?:now |then )?(?:knit|k|work) (?:on |once more |back )?(?:across |over |along )?(?:all |of )*(?:the |these )?(?:(?P<n>{N}) )?heel(?: {STS}| needle)?(?: once more| again| one last time)?,? (?!(?:[^;]*\b(?:new|middle|cent(?:er|re)|half|instep|needle)\b))[^;\d]*\b(?:beg(?:inning|\.)?|start|end) of (?:the |your )?(?:round|rnd)(?: again)?"
)
@alone
def _heel_to_the_start(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit across the heel to get back to the start of the round", in which it comes last."""
    live = scribe.now()
    begun = any(tally.behind and tally.ahead for tally in live.tallies)
    if live.in_rounds or not live.sure or not live.held() or begun:
        return None
    if said["n"] and as_many(count_in(said["n"]), live.count) != as_many(live.count, live.count):
        return None
    scribe.context.course = "RND"
    return [st.Part((KNIT,)), *scribe.together()]


_FIRST_NEEDLES = r"(?P<which>needles? 1(?: and (?:needle )?2)?|(?:first|1st)(?: and (?:the )?(?:second|2nd))? needles?|first two needles)"


_ON_ONE = r"(?: (?:together|tog))?,? (?:all )?(?:on ?to|with|using|on) (?:one|a single|the same|an? \w+) needle"


@rule(
    rf"(?:knit|k|work) (?:across )?(?:(?:all|both) )?(?:the )?(?:{{STS}} (?:of|on|from) )?(?:the )?{_FIRST_NEEDLES}(?P<one>{_ON_ONE})?,?(?: and| then)* turn(?: work)?[^;\d]*"
)
def _needles_and_turn(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit the sts of needles 1 and 2 onto one needle, turn"."""
    many = _on_first_needles(scribe, said["which"])
    if many is None:
        return None
    rests = _rests_behind(scribe, many) if said["one"] and scribe.stated == many else []
    scribe.context.course = "ROW"
    if rests:
        return [st.Part((Run("k", many),)), *rests, st.Part((Turn(),))]
    return [st.Part((Run("k", many), Turn()))]


@rule(
    rf"(?:knit|k|work) (?:across )?(?:(?:all|both) )?(?:the )?(?:{{STS}} (?:of|on|from) )?(?:the )?{_FIRST_NEEDLES}{_ON_ONE}(?: for (?:the |your )?(?:heel|flap|heel flap))?"
)
def _needles_on_one(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit needles 1 and 2 onto one needle (16 sts)": they are the heel, the others rest."""
    many = _on_first_needles(scribe, said["which"])
    rests = [] if many is None else _rests_behind(scribe, many)
    if not rests or many is None:
        return None
    scribe.context.course = "ROW"
    return [st.Part((Run("k", many),)), *rests]


def _rests_behind(scribe: Scribe, many: Count) -> list[Says]:
    """Return the step that lays the rest of a round aside, behind its first stitches."""
    live = scribe.now()
    if live.held() or not live.is_whole_round:
        return []
    total = live.count
    rest = [a - b for a, b in zip(as_many(total, total), as_many(many, total), strict=True)]
    return [st.Hold(sized(rest), "instep")] if min(rest) > 0 else []


@rule(
    r"(?:knit|k|work|rib) (?:across )?(?:the )?(?:{STS} (?:of|on|from) )?(?P<which>needles 1 and (?:needle )?2|first two needles)(?: (?:in|as) (?:the )?(?:rib|ribbing|patt\w*|set|st st|est\w*)(?: as (?:set|before|est\w*))?| plain| even| first| again| (?:once|one time|one last time)(?: more)?)*"
)
def _across_two(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work needles 1 and 2 in rib": what follows is told of the others."""
    if rests_since(scribe):
        return []  # "the heel is worked on needles 3 and 4. Knit needles 1 and 2 first"
    many = _on_first_needles(scribe, said["which"])
    return None if many is None else [st.Part((Run("k", many),))]


def _on_first_needles(scribe: Scribe, which: str) -> Count | None:
    """Return how many stitches lie on the first needle, or the first two."""
    last = 2 if re.search(r"2|second|two", which.lower()) else 1
    live = scribe.now()
    if not live.is_free or not live.in_rounds:
        return None
    many = []
    for tally in live.tallies:
        sizes = [size_of(tally, number) for number in range(1, last + 1)]
        known = [one for one in sizes if one is not None]
        if len(known) < last or sum(known) >= tally.count:
            return None
        many.append(sum(known))
    return sized(many)


@rule(
    r"(?:knit|k|work|using [^,;]*, k(?:nit)?) (?:across )?(?:the )?(?:next |first )?(?P<n>{N}) (?:{STS})?(?: of (?:the )?(?:round|rnd|needle \d))?(?: (?:on ?to|of|from|on) (?:one|a|the same|single|needle \d)? ?(?:needle)?(?: \d)?)?,?(?: and| then)* turn(?: work)?\b(?![^;]*\b(?:p|k|purl|knit)(?: ?\d|\b))[^;]*"
)
def _knit_and_turn(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    live, count = scribe.now(), count_in(said["n"])
    if live.held() or not live.tallies:
        return None
    scribe.context.course = "ROW"
    heel, scribe.context.heel = scribe.context.heel, None
    plain: list[Says] = [st.Part((Run("k", count), Turn()))]
    if heel is None or not live.in_rounds or live.behind_any():
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
    r"(?:knit|k|work) (?:across )?(?:the )?(?:{STS} (?:of|on) )?needle 1[,;.]?(?: and)?(?: then)? turn(?: (?:the )?work)?[,;.]?(?: and)?(?: then)? (?:purl|p|work)(?: back)? (?:across|over|on) (?:the {STS} (?:of|on) )?needles? (?:1 and (?:needle )?4|4 and (?:needle )?1)(?:[^;\d]*?(?P<total>{N}) (?:heel )?(?:{STS})?[^;\d]*)?"
)
def _needle_turn_purl(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit needle 1, turn, and purl back across needles 1 and 4": these are the heel."""
    live = scribe.now()
    if not live.is_whole_round:
        return None
    pairs = [_first_and_last(tally) for tally in live.tallies]
    if None in pairs:
        return None
    near, far, rest = (sized(list(column)) for column in zip(*(p for p in pairs if p), strict=True))
    heel = sized([sum(pair[:2]) for pair in pairs if pair])
    if said["total"] and count_in(said["total"]) != heel:
        scribe.claim("other", count_in(said["total"]), heel)
    scribe.context.course = "ROW"
    return [
        st.Part((Run("k", near),)), st.Hold(rest, "instep"), st.Hold(far, "heel"),
        st.Part((Turn(),)), st.ReturnHeld("heel"), st.Row((Run("p", heel),)),
    ]  # fmt: skip


def _first_and_last(tally: Tally) -> tuple[int, int, int] | None:
    """Return the stitches of the first needle, of the fourth, and of those between them."""
    if not tally.parts:
        quarter, over = divmod(tally.count, 4)
        return None if over or not quarter else (quarter, quarter, 2 * quarter)
    near, far = size_of(tally, 1), size_of(tally, 4) if len(tally.parts) == 4 else None
    if near is None or far is None or near + far >= tally.count:
        return None
    return near, far, tally.count - near - far


@rule(
    r"(?:purl|p) (?:across )?these (?P<n>{N})(?: {STS})?,? and (?:the )?(?P<m>{N}) (?:{STS} )?(?:of|on|from) (?:needle \d|the last needle|the other needle)(?: on ?to (?:one|the same|a single) needle)?"
)
def _purl_both(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "purl these 12 and the 12 of needle 4", behind a turn."""
    near, far = values_of(count_in(said["n"])), values_of(count_in(said["m"]))
    total = sized([int(a) + int(b) for a, b in zip(near, far, strict=False)])
    return [st.Row((Run("p", total),))] if scribe.is_turned() else None


@rule(
    r"(?:and |then )*(?:purl|p) (?:back )?(?:across )?(?P<n>{N})(?: {STS})? (?:on ?to|on|with) (?:one|the same|a single) needle(?:[:,;] (?:the|with|this)[^;]*)?"
)
def _purl_across(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "purl 29 on to one needle", behind a turn before which fewer were knitted."""
    return [st.Row((Run("p", count_in(said["n"])),))] if scribe.is_turned() else None


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
    r"(?:these|those)(?: (?P<n>{N}))? ?(?:(?:heel )?{STS} )?(?:are|form|will be|make|become) (?:for )?(?:now )?(?:the |your )?heel[^;\d]*"
)
def _are_the_heel(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    live = scribe.now()
    part = all(tally.behind and tally.ahead for tally in live.tallies)
    if not said["n"]:  # those just worked
        turned = part and scribe.is_turned() and live.in_rounds and not live.held()
        return _all_but_turned(scribe) if turned else []
    stated = count_in(said["n"])
    if live.held() and live.sure and live.count != stated:
        scribe.claim("count", stated)
    return _from_both_ends(scribe, stated) or []


def _all_but_turned(scribe: Scribe) -> list[Says]:
    """Leave all stitches waiting but those that were worked and turned."""
    rest = scribe.now().behind
    scribe.turn_later()
    return [st.Hold(rest, "instep")]


@rule(
    r"(?:these|those)(?: (?P<n>{N}) (?:{STS} )?)? ?(?:{STS} )?(?:are|form|will be) (?:for )?(?:the |your )?instep(?: {STS})?"
)
def _are_the_instep(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "these are the instep" of what was just knitted: the rest is the heel."""
    live = scribe.now()
    part = all(tally.behind and tally.ahead for tally in live.tallies)
    if not live.in_rounds or not live.is_free or not part:
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
    live = scribe.now()
    scribe.context.course = "ROW"
    return list(scribe.focus(live.ahead)) if is_turned_amid_round(scribe) else []


@rule(
    r"(?P<lead>(?:knit|k|work) (?:across )?(?:the )?(?:{STS} (?:of|on) )?needle 1,?(?: and)?(?: then)? turn[;,.]? ?)?(?:(?:the )?(?:heel|flap)(?: flap)? (?:is|will be) (?:worked|knit(?:ted)?|made)|(?:now |then )?work(?: (?:the )?heel)?)(?: back and forth)?(?: in rows)? (?:over|on|across) (?:the {STS} (?:of|on) )?needles? (?:1 and (?:needle )?4|4 and (?:needle )?1)(?: only)?[^;\d]*"
)
def _on_first_and_last(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "heel is worked over needle 1 and needle 4", of which needle 1 was just knitted."""
    live = scribe.now()
    if not said["lead"] and not scribe.is_turned() and not live.behind_any():
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
    if not live.in_rounds or not live.is_free:
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
    r"(?:(?:now |then )?(?:use|take|keep|reserve) (?:the )?(?P<which>first|last|next|following)? ?(?P<n>{N}) {STS} (?:for|as) (?:the |your )?heel(?: flap)?|(?:(?:german |wrapped |yarn-?over )?short[- ]rows|heel(?: turn| flap)?) (?:on|over|across) (?:just |only )?(?:the )?(?P<which2>first|last|next|following)? ?(?P<n2>{N}) (?:heel |flap |sole )?{STS}|(?:work )?(?:on|over|across) (?:just |only )?(?:the )?(?P<half>(?:first|next|heel|last|second) half)(?: of (?:the )?(?:{STS}|round|rnd))?)(?: only| alone)?"
)
def _for_the_heel(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "use the last 24 sts for the heel", "short rows on the 32 heel sts"."""
    live = scribe.now()
    if not live.sure:
        return None
    total = live.count
    if said["half"]:
        if live.held() or live.behind_any() or any(int(v) % 2 for v in values_of(total)):
            return None
        many: Count = sized([int(value) // 2 for value in values_of(total)])
    else:
        many = count_in(said["n"] or said["n2"])
    scribe.context.course = "ROW"
    if live.held():
        if live.count != many:
            scribe.claim("count", many)
        return []
    which = (said["which"] or said["which2"] or said["half"] or "").lower()
    rest = [a - b for a, b in zip(as_many(total, total), as_many(many, total), strict=True)]
    if which.startswith(("last", "second")) and not live.behind_any() and min(rest) > 0:
        return [st.Hold(sized(rest), "instep")]
    return list(scribe.focus(many))


@rule(
    r"(?:knit|k) (?P<n>{N}) (?:{STS} )?(?:on ?to|on) (?:one|a single|a spare|the same) needle(?:[;,.:] ?(?:this|these) (?:is|are|will be) [^.;]*)?"
)
def _onto_one(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    return [st.Part((Run("k", count_in(said["n"])),))]


@rule(
    r"(?:(?:and|then|now|while|but) )?(?:(?:let|leave|keep|have) )?(?:the |all the |all )?(?:others?|rest(?: of (?:the |these |them )?(?:{STS})?)?|(?:other|rem|remaining|unworked|resting) {STS})(?: {STS})? (?:will |can |must |may |should |are |to |now |just |simply |be |have a |take a )*(?:on (?:the |your |a |their |its )(?:own )?(?:cables?|holders?|needles?|cord|waste)|where they are|wait\w*|rest(?:ing)?|stay\w*|sit\w*|held|left|kept|remain(?:ing)?|on hold|unworked|alone|aside|behind)\b[^;\d]*"
)
@alone
def _others_wait(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "the others wait on the cable": all but those just worked."""
    live = scribe.now()
    part = all(tally.behind and tally.ahead for tally in live.tallies)
    if live.held() and "thumb" not in live.held():
        return []
    if not live.sure or not live.in_rounds or not part:
        return None
    scribe.context.course = "ROW"
    if scribe.is_turned():
        return _all_but_turned(scribe)
    return [st.InRows(), st.Hold(live.ahead, "instep")]


@rule(
    r"(?:(?:and|then|now) )*(?:k|knit|work)(?: across)? (?:to the end of )?(?:the )?(?:{STS} (?:of|on) )?(?:the )?needle (?P<n>[12])"
)
@alone
def _across_heel(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit across needle 2" where it holds the heel, and the other needle waits."""
    resting, live = scribe.context.resting, scribe.now()
    if resting != 3 - int(said["n"]) or live.in_rounds or "instep" not in live.held():
        return None
    return [st.Part((KNIT,))]
