# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What clauses mean that set the work up: casting on, joining, sharing out on needles."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.on_needles import parted
from loopwright.pattern._reading.rule_table import alone, rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in, numbers_of_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern._words import figure
from loopwright.pattern.values import Count, as_many, sized, values_of

__all__: list[str] = []


FOUR = 4  # needles of a closed cast-on: two for each side
_HOW_ON = (("provisional", "provisional"), ("waste yarn", "provisional"), ("scrap yarn", "provisional"), ("closed", "closed"), ("no seam", "closed"), ("seamless", "closed"), ("toe-up method", "closed"), ("toe up method", "closed"), ("magic cast", "closed"), ("figure-8", "closed"), ("figure-eight", "closed"), ("figure-of-eight", "closed"), ("figure of eight", "closed"), ("figure of 8", "closed"), ("turkish", "closed"), ("wrap cast", "closed"), ("toe-up cast", "closed"), ("toe up cast", "closed"), ("invisible", "closed"), ("loops on two needles", "closed"), ("loops on both needles", "closed"))  # fmt: skip


_AFTER_CAST_ON = WordForm(
    r"\s*(?:$|[,;:.(\[—–-]|(?:using|with|into|through|very|quite|rather|fairly|not too|a little|loosely|so that|on|onto|over|for|and|in|by|to|evenly|at|from|between|behind|above|under|across|where|after|next|provisionally|as|half|then|around|across|firmly|knitwise|purlwise|onto|more|again|per|divided|distributed|placed)\b)",
)


GIVEN = (  # stitches that the text begins with, on the needle already
    r"(?:you )?(?:begin|start)(?:ning|ing)? (?:with|from|on) (?:an? |the |your )?(?:[a-z]+ (?:of|with) )?(?:the )?(?P<n>{N}) (?:live |open |held |resting )*{STS}(?: of [^;\d]*)?"
    r"|(?:[a-z]+: )?(?:you have |there are )?(?:the )?(?P<n2>{N}) (?:live|open) {STS}(?: (?:are |lie )?(?:on|left|of)\b[^;\d]*)?"
)
_CAST = r"(?:cast[ -]?ons?|figure[- ](?:of[- ])?(?:eight|8)|turkish)\b"
WOUND = (  # a closed cast-on told by the loops that it puts on each needle
    rf"(?=[^;]*{_CAST})(?![^;]*\b(?:provisional|undo|unpick|unzip|remove|edge|after|from)\b)[^;\d]*?(?P<n>{{N}}) (?:loops?|wraps?|turns?|{{STS}}) (?:on|on ?to|around|round|over|per|for|to) (?:each|every|both|either|needle)\b[^;\d]*(?:\b2 needles?[^;\d]*)?"
)
_AT_ROWS = WordForm(r"(?:at|on|in)\b.*\b(?:next|each|every|foll\w*|rows?|rounds?|rnds?)\b")
_OVER_EACH = WordForm(
    r"\b(?:over|above|across|at) (?:each|every|both|all)\b(?! (?:of )?(?:the )?(?:needle|dpn|\d|two|three|four))"
)
_AT_ENDS = WordForm(
    r"\s*(?:at|on) (?:the )?(?:beg(?:inning)?|start|ends?)\.? of (?:(?:each of )?(?:the )?(?:next|foll|these|first)|every|each)",
)


@rule(
    r"(?P<before>(?:(?:now |then )?(?:loosely |provisionally |(?:(?:backward|e)[- ]?loop|knitted|cabled?)[ -](?:method )?)|(?:with|using|by|in|on|onto|at|make|making) (?:[^.;]|\.\d|\bno\. )*?,? ?(?:loosely )?)?)(?:cast(?:ing)? on|co) (?P<n>{N})(?: (?:{STS}|\w+ {STS})\.?)?(?P<after>(?:[^.;]|\.\d|\bno\. )*)"
)
def _cast_on(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    count = count_in(said["n"])
    words = (said["before"] + said["after"]).lower()
    live = scribe.now()
    if re.search(
        r"\b(?:bind|cast) off\b|\btake up (?:the )?(?:\w+ )?\d", said["after"], re.IGNORECASE
    ):
        return None
    if not _AFTER_CAST_ON.match(said["after"]) or _AT_ROWS.match(said["before"]):
        return None
    if live.tallies and _AT_ENDS.match(said["after"]):
        return None  # row by row
    if _OVER_EACH.search(said["after"]):
        return None  # row by row, over gaps that must be known
    if re.search(r"\bjoin", said["after"]) or re.search(
        r"(?:,|and|then) (?:k|p|knit|purl|work(?! as)|rib|take along|cast on \d)\b",
        said["after"],
        re.IGNORECASE,
    ):
        return None
    if live.tallies and any(tally.count for tally in live.tallies):
        if re.search(r"(?:,|and) [kp]\d", said["after"], re.IGNORECASE):
            return None  # the row goes on behind them
        return [st.CastOn(count, "stretchy" if "stretchy" in words else "long-tail")]
    scribe.context.course = ""
    how = next((kind for word, kind in _HOW_ON if word in words), "")
    if how == "provisional":
        scribe.context.course = "ROW"
        return [st.ProvisionalCastOn(count)]
    if how == "closed":
        lying = _arranged(said["after"], count)
        if any(len(one.parts) == FOUR for one in lying if isinstance(one, st.Arrange)):
            half = sized([int(v) // 2 for v in values_of(count)])
            return [st.ClosedCastOn(half), st.Join(), *lying]
        each = f"{said['before']} {said['after']}"
        half = sized([int(v) // 2 for v in values_of(count)])
        numbers = [count_in(one) for one in re.findall(COUNT, each)]
        twice = sized([int(v) * 2 for v in values_of(count)])
        told = half in numbers or (twice not in numbers and re.search(rf"\((?:{COUNT})|half", each))
        if re.search(r"\bon each|per needle|\bon (?:both|the two) needles", each) and not told:
            half = count
        if "instep" in each and "sole" in each:
            first = each.index("instep") < each.index("sole")
            scribe.context.places = {"instep": 1 if first else 2, "sole": 2 if first else 1}
        elif not scribe.context.places:  # the sock is alike on both sides until it is told apart
            scribe.context.places = {"instep": 1, "sole": 2}
        return [st.ClosedCastOn(half), st.Join(), st.Arrange((half, half))]
    way = "knitted" if "knitted" in words else "stretchy" if "stretchy" in words else "long-tail"
    return [st.CastOn(count, way), *_arranged(said["after"], count)]


@rule(WOUND)
def _wound_on(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "using your favourite toe-up cast-on, put 8 loops on each needle"."""
    live = scribe.now()
    if any(tally.count or tally.held for tally in live.tallies):
        return None
    each, scribe.context.course = count_in(said["n"]), "RND"
    scribe.context.places = scribe.context.places or {"instep": 1, "sole": 2}
    return [st.ClosedCastOn(each), st.Join(), st.Arrange((each, each))]


_TO_A_NEEDLE = WordForm(
    rf"(?P<n>{COUNT})(?: {STS})? (?:on|onto|to|per) (?:(?:a|each|every) needle|needle(?! ?#?\d)|each of (?:the |your )?(?:two|three|four|[234]) (?:dpns?|needles))\b",
)
_OVER_NEEDLES = WordForm(
    r"\b(?:divid|distribut|arrang|shar|spread|evenly|equally)[^,;.]*? (?:on|onto|over|to|among|between|across) (?:your |the )?(?P<many>two|three|four|[234]) (?:dpns?|needles|double[- ]pointed needles)\b",
)

_LISTED = WordForm(  # "on three needles (12-24-12)"
    r"\b(?:needles|dpns) ?\((\d+(?: ?[-–/,+] ?\d+){1,3})\)"
)


_NAMED = WordForm(r"\b(?:first|1st|needle ?#?1|n1)\b")


def _arranged(words: str, total: Count) -> list[Says]:
    """Return how stitches lie on needles: "15 to a needle", "divided evenly over 4 needles"."""
    totals = [int(value) for value in values_of(total)]
    named = parted(tuple(totals), words.strip(" .,;:—–-")) if _NAMED.search(words) else None
    if named is not None:
        return [named[0]]
    if (listed := _LISTED.search(words)) is not None:
        parts = tuple(map(figure, re.findall(r"\d+", listed[1])))
        return [st.Arrange(parts)] if [sum(parts)] == totals else []
    if (told := _TO_A_NEEDLE.search(words)) is not None:
        each = as_many(count_in(told["n"]), total)
        if len(each) != len(totals) or not all(each):
            return []
        found = {a / b for a, b in zip(totals, each, strict=True)}
        many = found.pop() if len(found) == 1 else 0
    elif (shared := _OVER_NEEDLES.search(words)) is not None:
        many = _WORDS_TO_N[shared["many"].lower()]
    else:
        return []
    if many not in (2, 3, 4, 5) or any(value % many for value in totals):
        return []
    part = sized([value // int(many) for value in totals])
    return [st.Arrange(tuple(part for _ in range(int(many))))]


@rule(GIVEN)
@alone
def _given(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "begin with a cowl of 60 live sts": what others have left on the needle."""
    if any(tally.count for tally in scribe.now().tallies):
        return None
    return [st.CastOn(count_in(said["n"] or said["n2"]))]


_TAKES_BACK = WordForm(  # "return the instep sts to the needles and join": first what waits
    r"\b(?:return|slip|put|place|move|transfer|take|bring|get)\b[^;:.]*\b(?:sts|stitches|instep|sole|heel|holder)\b[^;:.]*\bjoin",
)
_UNJOINED = WordForm(r"(?:but |and )?(?:do not|don['’]t|without|never|no need to) join", re.NOFLAG)


@rule(
    r"(?:place|pm|put|hang|mark)?[^;:.]*?\b(?:join(?:ing)?)\b(?! (?:in )?(?:the )?(?:(?:working|old|same|main|other|second|contrast\w*) )?(?:yarn|(?-i:[A-E])\b|mc|cc|main|contrast|wool|new|a new|another|colou?r|top|sole|seam|side|back|edges))(?P<rest>[^.:]*(?::[^.:]*)?)"
)
def _join(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    low = said[0].lower()
    if _UNJOINED.match(low):
        scribe.context.course = "ROW"
        scribe.note(said[0])
        return []
    if re.search(
        r"\b(?:knit|purl|rib|sew|seam|graft|bind|cast[- ]off)\b(?!ing)", low
    ) and not re.search(r"to (?:knit|work)", low):
        return None
    if _TAKES_BACK.search(low) and scribe.now().held():
        return None
    dealt = _dealt(low, scribe.now().count)
    others = re.sub(r"\b\d(?= (?:needles?|dpns?)\b)", "", _ON_EACH.sub("", low))
    if not dealt and re.search(r"\d", others):
        return None
    live = scribe.now()
    if live.in_rounds or (live.sure and not any(tally.count for tally in live.tallies)):
        return []
    scribe.context.course = "RND"
    return [st.Join(), *dealt, *(_arranged(low, live.count) if live.sure and not dealt else [])]


_ON_EACH = WordForm(  # "put 7 on each of your four needles", "the same number on each needle (7 or 8)"
    rf"{COUNT}(?: {STS})? (?:on|to|onto) (?:each|every)\b(?=[^.;]*\b(?:needles?|dpns?)\b)|{COUNT}(?: {STS})? (?:(?:on|to|onto) each(?= ?[,;.)]|$)|(?:per|to a|on a) (?:needle|dpn)\b)|(?<=needles) \(\d+(?:(?: or |, |/)\d+)*(?: {STS})?(?: each)?\)|(?<=needle) \(\d+(?:(?: or |, |/)\d+)*(?: {STS})?\)",
)
_DEALT = WordForm(
    rf"(?P<n>{COUNT})(?: {STS})? (?:on|to|onto) (?:the )?(?:first|second|third|fourth|last|1st|2nd|3rd|4th|next|needle \d|n\d)\b",
)


def _dealt(words: str, total: Count) -> list[Says]:
    """Return "9 on the first, 18 on the second, 9 on the third", where that is all there is."""
    parts = [count_in(one["n"]) for one in _DEALT.finditer(words)]
    each = [as_many(one, total) for one in parts]
    sums = [sum(int(n) for n in one) for one in zip(*each, strict=False)]
    other = _DEALT.sub("", re.sub(r"\b\d(?= (?:needles?|dpns?)\b)", "", words))
    if len(parts) < 2 or sums != [int(n) for n in values_of(total)] or re.search(r"\d", other):
        return []
    return [st.Arrange(tuple(parts))]


@rule(
    r"(?:and )?(?:knit|k|work|purl|p)(?:ing)? (?:the |each |all |last |two |both |remaining |any |every )*(?:ds|double {STS}|twin {STS}|wrapped {STS}) as (?:one|1|a single)(?: {STS})?(?: each)?[^;]*"
)
def _as_one(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit the last two ds as one st each": these stitches are counted elsewhere."""
    return []


_LATER = r"(?:on|in|at|for) (?:the )?(?:(?:first {STS}|beginning|start) (?:of|on) )?(?:the |that )?(?:(?:next|following|first|second) )?{CRS}(?: after (?:that|this|it))?"
_LAST_ONE = r"(?:(?:work|knit|purl|close|pick up|lift|k|p) (?:the )?(?:other|last|remaining|final|very last|one)+ (?:wrapped {STS}|triplets?|twins?(?: {STS})?|ds|double {STS}|wraps?)(?: (?:tog(?:ether)? )?(?:with (?:its|the|both) wraps?|as (?:one|1|a single)(?: {STS})?))?|[kp]1 with wraps|(?:one|1|the last|the other) (?:wrapped {STS}|twin|ds|double {STS}|wrap) (?:is|are|will be) (?:left|picked up|closed|worked|taken up)|the first {STS} (?:of needle \d )?is the (?:very )?last (?:ds|double {STS}|twin|wrapped {STS}))"


@rule(rf"(?:and )?(?:{_LATER},? {_LAST_ONE}|{_LAST_ONE} {_LATER})")
def _taken_up_later(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "on the next rnd, work the other triplet as 1 st": no stitch is more or less for it."""
    return []


@rule(
    r"(?:(?:and|then|now) )*(?:(?:go |change |turn )?back (?:to|in)|working|work|knit|resume(?: working| knitting)?|return to working|begin(?:ning)? (?:working|to (?:work|knit))|(?:join and )?(?:continue|go on|carry on|keep going|keep on)(?: working| knitting)?|(?:change|switch|go)(?: back)?(?= to )|start (?:working|to (?:work|knit))|go back to working|resume)(?: again)? (?:(?:in|to) (?:the )?)?(?:rounds?|rnds?)(?: again)?(?: (?:on|over) (?:both |all |the )*needles?(?: \d and (?:needle )?\d)?)?(?: (?:on|over) (?:both |all |the )*needles?(?: \d and (?:needle )?\d)?)?(?: (?:over|on|across) (?:all )?(?:the )?(?:{N} )?(?:\w+ )?{STS}[^.]*| (?:over|on|across) (?:both )?(?:the )?(?:heel|sole|instep) and (?:the )?(?:heel|sole|instep)(?: {STS})?)?(?:,? (?:closing|knitting|working|picking)[^.]*)?"
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
    r"(?:divide|distribute|arrange|put|place|share|slip|with|you have|there are|you should have)?(?: (?:the|all|your|them|these))?(?: {STS})?(?: so that)?(?: (?:there|you) (?:are|is|have))?(?: evenly)?,? ?(?:with )?(?P<n>{N})(?: {STS})? (?:on|onto|to|per) (?:(?:a|every) needle|needle|each (?:of )?(?:the )?(?P<many>two|three|four|2|3|4)? ?(?:dpns?|double[- ]pointed needles|pins?|needles?(?: tips?)?)?|(?:each of |both )?needles? 1 and (?:needle )?2)(?: (?P<first>\d) (?:to|-|–) (?P<last>\d))?"
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


@rule(
    r"(?:divid(?:e|ing)|distribut(?:e|ing)|arrang(?:e|ing)|shar(?:e|ing)|spread(?:ing)?)(?: out)?(?: (?:the|them|all|your|these))*(?: {STS})?(?: out)?(?: evenly| equally)? (?:on|over|onto|on to|among|between|across) (?:your |the )?(?:two|three|four|2|3|4) (?:dpns?|double[- ]pointed needles|needles)(?: evenly| equally)?(?:,? ?\(?(?:with |so that there are |so |that is )?(?P<each>{N})(?: {STS})? (?:(?:on|to|for|per) (?:each|every|a)(?: one)?(?: of (?:them|these))?(?: needle| dpn)?|per (?:needle|dpn))\)?)?(?: ?\(\d+(?: ?[-–/,+] ?\d+){{1,3}}\))?"
)
def _shared(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "divide evenly over 4 needles", where that comes out even."""
    live = scribe.now()
    arranged = _arranged(said[0], live.count) if live.is_free and not live.behind else []
    told = count_in(said["each"]) if said["each"] else None
    even = all(isinstance(one, st.Arrange) and told in (None, one.parts[0][1]) for one in arranged)
    return arranged if even else []


@rule(
    r"(?:(?:and|then|now) )*(?:cast on|co)(?: again)?(?: for)? (?:(?:the|its|your|a) )*(?:(?:second|other)(?: {PAIR})?|mate|{PAIR} (?:number )?(?:two|2)|number (?:two|2))\b[^;\d]*"
)
@alone
def _for_the_second(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Leave "cast on for sock number two right away", where one of a pair is done."""
    done = not any(tally.count for tally in scribe.now().tallies)
    return [] if done and scribe.now().tallies else None


@rule(
    r"(?:slip|sl|slide|move|transfer|put|place|divide|split|arrange|distribute|spread|shift|lay|have|set)\b[^;:]*\b(?:needles?|circulars?|tips?|cables?|loops?)\b[^;:]*"
)
def _halved(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "slip half the sts to each circular needle [24 sts per needle] and join"."""
    live, words = scribe.now(), said[0]
    counts = [tally.count for tally in live.tallies]
    whole = live.is_free and not live.is_within and all(n and n % 2 == 0 for n in counts)
    if not whole or _NOT_HALVED.search(words):
        return None
    halves = tuple(n // 2 for n in counts)
    told = [
        numbers_of_sizes(one, len(counts)) for one in re.findall(COUNT, _COUNTED.sub("", words))
    ]
    if any(n != halves for n in told) or not (_HALF.search(words) or (told and _TWO.search(words))):
        return None
    half = sized(halves)
    joins = re.search(r"\bjoin", words, re.IGNORECASE) and not live.in_rounds
    scribe.context.course = "RND" if joins else scribe.context.course
    return [*([st.Join()] if joins else []), st.Arrange((half, half))]


_HALF = WordForm(r"\bhalf\b")
_TWO = WordForm(r"\b(?:other|second|2nd|each|per|both|two|either)\b")
_COUNTED = WordForm(r"\b(?:two|2) (?:\w+ )?(?:needles|circulars|tips)\b|\bneedles? \d\b")
_NOT_HALVED = WordForm(
    r"\b(?:heel|instep|sole|hold|holder|held|waste|turn|worked|knit|purl|back to|left needle|right needle|left[- ]hand|cast|graft|one|single|[a-d])\b|\b(?:three|four|five|3|4|5) (?:\w+ )?(?:needles|dpns)\b|\b[kp]\d"
)


_ON_NEEDLE = WordForm(
    rf"needles? (?P<a>\d)\s*[:,=–-]?\s*(?:has |with )?(?P<n>{COUNT})\s*(?:sts|stitches)\b|"
    rf"(?P<n2>{COUNT})\s*(?:sts|stitches) (?:each )?(?:on|to|onto) (?:each of )?needles? (?P<b>\d)\b(?: and (?P<c>\d)\b(?! ?(?:[(\[]|sts|stitches)))?",
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
