# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What clauses mean that set the heel apart by needles, or slip half of it on from the other end."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.places import heel_again, size_of
from loopwright.pattern._reading.rule_table import alone, rule
from loopwright.pattern._reading.scribe import Lost, Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._tally import NEEDLE, Tally
from loopwright.pattern.items import Run, Turn
from loopwright.pattern.values import Count, as_many, sized, values_of

__all__ = ["alone_in_title"]


_OF_LAST_NEEDLE = r"(?:(?:third|3rd|fourth|4th|last) needle|needle (?P<on>[34]))"
_THERE = r"(?:(?:on ?to|on|to) )?(?:the )?(?:(?:other|far|free|opposite) )?(?:end of )?(?:(?:the )?same needle|(?:it|this needle|the needle|that needle|the heel needle|the first needle|needle 1|them|these|those)\b)|(?:next to|beside|alongside|with|up to|against|in front of|behind) (?:it|them|these|those|the others|the first (?:needle|ones)|needle 1)\b|alongside\b"
_BROUGHT = (  # "bring the last 15 sts of the round on to the same needle", "slip the 12 sts of the third needle next to them"
    r"(?:slip|sl|slide|transfer|move|put|place|bring|take|gather|collect|add|draw|pull|join)(?: up)? (?:the )?"
    rf"(?:last (?P<m>{{N}})(?: {{STS}})?(?: (?:of|on|from) (?:the |this )?(?:(?:previous|last|leg) )?(?:round|rnd))?|(?P<m2>{{N}}) {{STS}} (?:of|on|from) (?:the )?(?P<needle>{_OF_LAST_NEEDLE}))"
    rf" (?:{_THERE})[^;\d]*(?:\b(?P<all>{{N}}) {{STS}}[^;\d]*)?"
)


@rule(
    rf"(?:knit|k|work) ?(?:across )?(?:the )?(?:first |next )?(?P<n>{{N}})(?: {{STS}})?(?: of (?:the |this )?(?:round|rnd))?(?:[,;.]?(?: and)?(?: then)? turn)?[,;.]?(?: and)?(?: then)? {_BROUGHT}"
)
def _from_the_other_end(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "k 14, then slip the last 14 sts on to the other end of the same needle"."""
    live, near, far = scribe.now(), count_in(said["n"]), count_in(said["m"] or said["m2"])
    if not live.is_whole_round or not _is_last_needle(scribe, said, far):
        return None
    return _half_and_half(scribe, [st.Part((Run("k", near),))], near, far, said["all"])


@rule(_BROUGHT)
def _brought_over(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "slip the last 15 sts of the round on to the same needle", behind those knitted."""
    live, far = scribe.now(), count_in(said["m"] or said["m2"])
    if not live.in_rounds or not live.is_free or not _is_last_needle(scribe, said, far):
        return None
    turned = scribe.is_turned()
    near = live.ahead if turned else live.behind
    if not all(tally.behind and tally.ahead for tally in live.tallies):
        return None
    if turned:
        scribe.turn_later()
    return _half_and_half(scribe, [], near, far, said["all"])


def _is_last_needle(scribe: Scribe, said: re.Match[str], many: Count) -> bool:
    """Tell whether a needle that is named is the last of the round, and holds so many stitches."""
    if not said["needle"]:
        return True
    tallies = scribe.now().tallies
    told = [part for tally in tallies for part in tally.parts]
    last = max((len(tally.parts) for tally in tallies), default=0)
    number = next((n for n in (3, 4) if str(n) in said["needle"] or NTH[n] in said["needle"]), last)
    held = [size_of(tally, last) for tally in tallies]
    known = [*as_many(many, scribe.now().count)]
    return bool(told) and number == last and held in (known, [None] * len(held))


NTH = {3: "third", 4: "fourth"}


def _half_and_half(
    scribe: Scribe, steps: list[st.Step], near: Count, far: Count, both: str = ""
) -> list[Says] | None:
    """Work the heel on those just knitted and some of the end of the round; the rest waits."""
    total = scribe.now().count
    columns = zip(as_many(total, total), as_many(near, total), as_many(far, total), strict=True)
    rest = [int(a) - int(b) - int(c) for a, b, c in columns]
    heel = [int(n) - waits for n, waits in zip(as_many(total, total), rest, strict=True)]
    if min(rest) <= 0 or (both and [*as_many(count_in(both), total)] != heel):
        return None
    scribe.context.course = "ROW"
    return [
        *steps, st.Hold(sized(rest), "instep"), st.Hold(far, "heel"),
        st.Part((Turn(),)), st.ReturnHeld("heel"),
    ]  # fmt: skip


_WORKED_JUST = r"(?:(?:that |which )?(?:you (?:have )?|were |have been )?just (?:been )?(?:knit(?:ted)?|worked)|worked last|last (?:knit(?:ted)?|worked)|(?:knitted|worked) (?:just now|last))"


@rule(
    rf"(?:(?:now |then )?turn(?: (?:the )?work)?,?(?: and)? )?(?:(?:now |then )?(?:work|knit|make|use|keep)(?:ing)?(?: the)?(?: heel| heel flap| flap)?|(?:the )?(?:heel|flap|heel flap)(?: is| will be)? (?:worked|knit(?:ted)?|made)|(?:now |then )?go(?:ing)?)?,?(?: back and forth| in rows| flat| only| just)*(?: (?:on|over|across|along))?(?: only| just)* ?(?P<which>the|these|those|the same|only the)? ?(?P<last>last )?(?P<n>{{N}}) (?:(?:heel|back|sole|flap) )?{{STS}} ?(?P<just>{_WORKED_JUST}|(?:worked|knitted)(?=$|,| (?:are|for|only|as))|(?:behind|after|past|beyond|following|on the other side of) the (?:second |last |side |heel )?marker)?,?(?: (?:are|form|make) (?:now )?(?:the|your) heel(?: flap)?(?: {{STS}})?| for (?:the |your )?heel(?: flap)?| only| alone| back and forth| in rows|,? as (?:follows|before))*(?P<rest>[,;:.]? (?:and )?(?:leav|the (?:other|rem|instep|first|rest)|let|keep|while|put|plac|hold)[^.;]*)?"
)
def _just_knitted(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work back and forth on the 28 sts just knitted" at the end of a round."""
    live, many = scribe.now(), count_in(said["n"])
    told = said["just"] or (said["last"] and said["which"] == "these")
    if not told or not live.is_whole_round:
        return None
    if scribe.is_turned() or not live.tallies:
        return None
    total = live.count
    rest = [
        int(a) - int(b) for a, b in zip(as_many(total, total), as_many(many, total), strict=True)
    ]
    if min(rest) <= 0:
        return None
    scribe.context.course = "ROW"
    return [st.Hold(sized(rest), "instep")]


@rule(
    r"(?:(?:now )?(?:work|make|knit) )?(?:the |this )?(?:heel|flap)(?: flap| turn)?(?: (?:is|are|will be) (?:worked|knit(?:ted)?|made))?(?: back and forth)?(?: in rows)? (?:on|over|across|with|using) (?:just |only )?(?:the )?(?:{STS} (?:of|on) )?(?:needles? (?P<a>[1-3]) (?:and|&) (?:needle )?(?P<b>[2-4])|(?:the )?(?P<which>first|last) two needles)(?: only| alone)?(?: ?[:=,(] ?(?:that is )?(?P<n>{N}) (?:heel )?{STS}\)?)?(?:,? (?:back and forth|in rows|turning)[^;\d]*)?"
)
def _over_two_needles(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work the heel over the sts on needles 1 and 2: 24 sts"."""
    pair = (said["a"], said["b"])
    if pair == ("2", "3"):
        return _over_the_middle(scribe, said)
    if said["a"] and pair not in (("1", "2"), ("3", "4")):
        return None
    first = pair == ("1", "2") or said["which"] == "first"
    live = scribe.now()
    halves = [_half(tally, first=first) for tally in live.tallies]
    if None in halves:
        return None
    many = sized([half for half in halves if half is not None])
    reached = not first and live.is_free and live.in_rounds and live.ahead == many
    if not (live.is_whole_round or reached):
        return None
    if said["n"] and as_many(count_in(said["n"]), live.count) != as_many(many, live.count):
        scribe.claim("other", count_in(said["n"]), many)
    scribe.context.course = "ROW"
    if first or reached:
        return list(scribe.focus(many, ahead=reached))
    rest: Count = sized(
        [
            a - b
            for a, b in zip(as_many(live.count, live.count), as_many(many, live.count), strict=True)
        ]
    )
    return [st.Hold(rest, "instep")]


def _over_the_middle(scribe: Scribe, said: re.Match[str]) -> list[Says]:
    """Keep needles 2 and 3: the last of three, or of four those that come next."""
    live = scribe.now()
    if live.held():
        return []
    sizes = [[size_of(tally, number) for number in (1, 2, 3)] for tally in live.tallies]
    known = [[one for one in each if one is not None] for each in sizes]
    next_up = [
        tally.ahead for tally in live.tallies if tally.distance((NEEDLE, 0)) == 0 and tally.behind
    ]
    of_three = all(
        len(each) == 3 and sum(each) == tally.count
        for each, tally in zip(known, live.tallies, strict=True)
    )
    if live.is_whole_round and of_three:
        scribe.context.course = "ROW"
        return [st.Hold(sized([each[0] for each in known]), "instep")]
    if said["n"] and len(next_up) == len(live.tallies):
        scribe.context.course = "ROW"
        return list(scribe.focus(count_in(said["n"]), ahead=True))
    raise Lost("needles 2 and 3, where others lie before them")


def _half(tally: Tally, *, first: bool) -> int | None:
    """Return the stitches of the first two needles or the last two; None where it is not known."""
    if not tally.parts:
        half, over = divmod(tally.count, 2)
        return None if over else half
    if tally.behind and len(tally.parts) == 4 and not first:
        here = tally.distance((NEEDLE, 1)) == 0 or tally.behind_at.get((NEEDLE, 1)) == tally.behind
        return tally.ahead if here else None
    sizes = [size_of(tally, number) for number in ((1, 2) if first else (3, 4))]
    known = [one for one in sizes if one is not None]
    return sum(known) if len(known) == 2 and 0 < sum(known) < tally.count else None


@rule(
    r"(?:knit|k|work) (?:across )?(?:the )?(?:{STS} (?:of|on) )?(?:needles 3 and (?:needle )?4|last two needles|other two needles)(?: plain| even)?"
)
def _across_the_rest(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit needles 3 and 4", where the first two were worked."""
    live = scribe.now()
    if not live.is_free:
        return None
    begun = all(
        t.behind and t.ahead and (len(t.parts) == 4 or (not t.parts and t.ahead == t.behind))
        for t in live.tallies
    )
    return [st.Part((Run("k", live.ahead),))] if begun else None


@rule(
    r"(?:slip|sl|place|put|move|arrange|divide|have) (?:the )?(?:first )?(?P<n>{N}) {STS} (?:on ?to|on) (?:needle 1|(?:the )?first needle)(?: for (?:the )?(?!heel)[a-z ]+?)?,? (?:and|with) (?:the )?(?:rest|others|remaining {STS}|remainder) (?:on ?to|on) (?:needle 2|(?:the )?second needle)(?: for (?:the )?(?!heel)[a-z ]+?)?"
)
@alone
def _on_two_needles(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "slip the first 18 sts on to needle 1 for the sole and the rest on to needle 2"."""
    live = scribe.now()
    if not live.in_rounds or not live.is_free or live.held() or live.behind_any():
        return None
    first = [int(n) for n in as_many(count_in(said["n"]), live.count)]
    rest = [tally.count - n for tally, n in zip(live.tallies, first, strict=True)]
    if min(rest) <= 0:
        return None
    return [st.Arrange((("needle 1", sized(first)), ("needle 2", sized(rest))))]


_HEEL = r"(?:the |your )?(?:heel|flap)(?: flap| turn)?(?: {STS})?"


@rule(
    rf"{_HEEL}\b[^.;]*?(?:(?P<n>{{N}})(?: heel)? {{STS}}\b[^.;]*?)?\b(?:(?:each|either|both|the two) sides? of|cent(?:er|re)d (?:on|at|over|around)) (?:the )?(?:beginning|beg|start|bor|marker|first st)\b[^;]*"
    rf"|(?:the )?(?:middle|cent(?:er|re)) of {_HEEL} (?:is|lies|falls|will be) (?:at|over|where)(?: the)? (?:beginning|beg|start|bor|marker|round|rnd)\b[^;\d]*"
)
def _about_the_beginning(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Keep how large a heel is that lies on both sides of where the round begins."""
    live = scribe.now()
    if not live.in_rounds or live.held() or live.behind_any():
        return None
    if said["n"]:
        scribe.context.heel = count_in(said["n"])
    scribe.ignored = True
    scribe.note(said[0])
    return []


@rule(
    rf"(?:(?:slip|sl|put|place|take|use|knit|k) )?(?:the|these|those) (?:last |next )?(?P<n>{{N}}) (?:{{STS}} )?(?:of (?:the|this) (?:round|rnd) )?(?:and|with|plus|together with) (?:the )?first (?P<m>{{N}})(?: {{STS}})?(?: of (?:the )?(?:next |following |new )?(?:round|rnd))? (?:(?:are|form|make|become|will be) |(?:on ?to|on) (?:one|a single|a|the same|an empty) needle )?(?:for |as )?{_HEEL}(?: ?[:=,(] ?(?P<total>{{N}}) (?:heel )?{{STS}}\)?)?[^;\d]*"
)
def _across_the_beginning(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "these 15 and the first 15 sts of the next round are the heel"."""
    live, near, far = scribe.now(), count_in(said["n"]), count_in(said["m"])
    if not live.in_rounds or not live.is_free:
        return None
    total = live.count
    heel = sized([a + b for a, b in zip(as_many(near, total), as_many(far, total), strict=True)])
    if said["total"] and as_many(count_in(said["total"]), total) != as_many(heel, total):
        scribe.claim("other", count_in(said["total"]), heel)
    if not live.behind_any():  # the yarn hangs in its middle: a row to its end comes first
        scribe.context.heel, scribe.ignored = heel, True
        scribe.note(said[0])
        return []
    if live.ahead != near:
        return None
    scribe.context.course = "ROW"
    return list(scribe.focus(heel, ahead=True))


@rule(
    rf"(?:now |then )?(?:(?:work|knit|make|turn) )?{_HEEL}(?:,| (?:is|are|will be) (?:worked|knit(?:ted)?|made|turned))?(?: back and forth| in rows| flat)* (?:on|over|across|with|using) (?:just |only )?(?:the )?(?:last|second|2nd|other) half(?: of (?:the |your )?(?:{{STS}}|round|rnd))?(?: only| alone)?(?: ?[:=,(] ?(?P<n>{{N}}) (?:heel )?{{STS}}\)?)?(?:,? (?:back and forth|in rows))?"
)
def _second_half(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work the heel on the last half of the round": the first waits, or is knitted first."""
    live = scribe.now()
    if not live.in_rounds or not live.is_free:
        return None
    total = [int(value) for value in values_of(live.count)]
    if any(one % 2 for one in total) and not said["n"]:
        return None
    heel = as_many(count_in(said["n"]), live.count) if said["n"] else [one // 2 for one in total]
    rest = [a - b for a, b in zip(total, heel, strict=True)]
    if min(rest) <= 0:
        return None
    if live.behind_any():
        scribe.context.course = "ROW"
        return list(scribe.focus(sized(list(heel)), ahead=True))
    if _KNITS_ON.match(scribe.following or scribe.next_line):
        scribe.ignored = True
        scribe.note(said[0])
        return []
    scribe.context.course = "ROW"
    return [st.Hold(sized(rest), "instep")]


_KNITS_ON = WordForm(
    r"\s*(?:(?:first|next|next (?:round|rnd)[:,]|set-?up[^:]*:) )?(?:knit|k|work)\b[^.]*\b(?:instep|first (?:half|\d)|needle 1)\b",
)


@rule(
    r"(?:now |then |here )?(?:(?:work|knit|shape|dec\w*|treat)(?: on)? )?(?:both|each|the two|every|either)(?: of the(?: two)?)? (?:halves|half|sides?|needles?)(?: of (?:the )?(?:round|rnd|toe|sock|mitten|{STS}))?(?: (?:are|is)(?: worked| knitted| shaped)?)?,? (?:alike|identically|(?:in )?(?:just |exactly )?the same(?: way)?)"
)
def _both_alike(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work both halves alike": the rounds of this section are told for one of them."""
    scribe.context.alike = True
    scribe.note(said[0])
    return []


_BACK_AND_FORTH = r"(?:(?:back and forth|in rows|flat|to and fro)[ ,]*)"


@rule(
    rf"(?:(?:now|then) )?(?:(?:you (?:will )?(?:now )?)?(?:go on|work|worked|continue|cont|carry on|knit)(?: working| knitting)?|(?:the |this )?(?:heel|turn|heel turn|flap|heel flap)(?: is| will be)?(?: now)? worked)[ ,]*{_BACK_AND_FORTH}?(?:(?:on|over|across) (?:(?:just|only) )?|(?:just|only) |(?=needle \d (?:only|alone)[ ,]*(?:back|in rows|flat|to and)))(?:the )?(?:{{STS}} (?:of|on) )?(?P<part>heel|sole|needle [12])(?: needle)?(?: {{STS}})?(?: only| alone)?[ ,]*{_BACK_AND_FORTH}?|(?:(?:now|then|next),? )?(?:(?:on|over) )?(?P<bare>needle [12]) (?:only|alone) ?:?"
)
@alone
def _on_one_part(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "go on in rows over sole sts only" behind the other half of the round."""
    if not re.search(r"\b(?:only|alone|just|rows|forth|fro)\b", said[0], re.IGNORECASE):
        return None
    scribe.note(said[0])
    return alone_in_title(scribe, f"{said['part'] or said['bare']} only")


@rule(
    r"(?:the |this )?(?:heel|cup|turn|heel (?:cup|turn)|short[- ]rows?(?: heel)?) (?:is|are) (?:made|worked|turned|knit(?:ted)?|shaped) (?:on|over|across|in|among) (?:just |only )?(?:these|(?:the )?(?:middle|cent(?:er|re)|central)) {N}(?: {STS})? (?:of|on) (?:the )?needle (?P<n>[12])[^;\d]*"
)
@alone
def _amid_one_part(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "the cup is made on the middle 32 sts of needle 2": the other needle waits."""
    live, number = scribe.now(), int(said["n"])
    if number == 2 and not live.behind_any():
        return None
    steps = alone_in_title(scribe, f"needle {number} only")
    if steps:
        scribe.note(said[0])
    return steps or None


_ALONE = WordForm(
    r"\b(?:(?:needle |ndl |n ?)(?P<n>[12])|(?P<name>heel|sole)(?: needle| sts| stitches)?) (?:only|alone)\b"
    r"|\bworked (?:on|over) (?:just |only )?(?:the (?:sts|stitches) (?:of|on) )?(?:needle |ndl |n ?)(?P<n2>[12])\b(?! (?:and|&))"
    r"|\b(?:heel|flap|turn)(?: [a-z]+)? ?[(:,–-] ?(?:(?:all|still|worked|knitted|flat|back and forth|in rows),? )*(?:on |over )?(?:(?:just|only) )?(?:the )?(?:(?:sts|stitches) (?:of|on) )?(?:(?:needle |ndl |n ?)(?P<n3>[12])|(?P<nth3>first|second|1st|2nd) needle|(?P<name3>heel|sole) (?:needle|sts|stitches))(?:,? (?:back and forth|in rows|only|alone))*\)?$",
)


_NTH = {"first": 1, "1st": 1, "second": 2, "2nd": 2}
_KNITTED_FIRST = WordForm(
    r"\b(?:knit|work|k)(?:ing)? (?:across |over )?(?:needle |ndl |n ?)1 (?:first|before)\b|\b(?:after|first) (?:knit|work|k)(?:ing)? (?:across |over )?(?:needle |ndl |n ?)1\b",
)  # "(N2 only; knit across N1 first)"


def alone_in_title(scribe: Scribe, title: str) -> list[Says]:
    """Return what sets the stitches apart that a heading says are worked: "(needle 1 only)"."""
    if (said := _ALONE.search(title)) is None:
        return []
    live, places = scribe.now(), scribe.context.places
    name = said["name"] or said["name3"] or ""
    number = int(
        said["n"]
        or said["n2"]
        or said["n3"]
        or _NTH.get((said["nth3"] or "").lower())
        or places.get(name.lower())
        or places.get("sole", 0)
    )
    if not number or not live.in_rounds or not live.is_free:
        return []
    if number == 3 - scribe.context.resting and (again := heel_again(scribe)) is not None:
        return again
    sizes = [size_of(tally, number) for tally in live.tallies]
    many = [size for size in sizes if size is not None] or _as_told(scribe, number)
    if len(many) < len(sizes):
        return []
    scribe.context.course = "ROW"
    scribe.context.resting = 3 - number
    if number == 1 or live.behind_any():
        return list(scribe.focus(sized(many), ahead=number == 2))
    rest = sized([tally.count - one for tally, one in zip(live.tallies, many, strict=True)])
    if _KNITTED_FIRST.search(title):
        return [
            st.Part((Run("k", rest),)), st.BeginHere(), st.Hold(sized(many), "heel"),
            st.Hold(rest, "instep"), st.ReturnHeld("heel"),
        ]  # fmt: skip
    return [st.Hold(rest, "instep")]


def _as_told(scribe: Scribe, number: int) -> list[int]:
    """Return the stitches of a half as the text told them, where they still make the round."""
    live, halves = scribe.now(), scribe.context.halves
    if len(halves) != 2 or live.behind_any():
        return []
    told = [[int(n) for n in as_many(half, live.count)] for half in halves]
    whole = [a + b for a, b in zip(*told, strict=True)]
    return told[number - 1] if whole == [tally.count for tally in live.tallies] else []
