# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A heel set apart, told in any order: which stitches it takes, how it is worked, what rests."""

from __future__ import annotations

import re
from collections.abc import Sequence

from loopwright.pattern import steps as st
from loopwright.pattern._reading.back import across_start
from loopwright.pattern._reading.free_words import WordGroup, phrases_in
from loopwright.pattern._reading.places import heel_again, size_of
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.items import Run
from loopwright.pattern.values import Count, To, as_many, sized, values_of

__all__ = ["heel_apart", "knits_on", "on_one_needle"]

_S = r"(?:sts?\b\.?|stitch(?:es)?\b)"
_R = r"(?:rounds?|rnds?|rows?)\b"
_HEEL = (
    r"(?:short[- ]row )?(?:heel(?: (?:flap|turn|cup|back|section))?|flap|back of (?:the )?heel)\b"
)
_REST = r"(?:others?|rest|remainder|remaining|rem|unworked|resting|instep)\b"
_IDLE = r"(?:now |then )?(?:rests?|waits?|hangs?|idles?|(?:is|stays?|lies?) (?:idle|resting|waiting|alone|at rest))\b"
_KINDS: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (kind, re.compile(said, re.IGNORECASE))
    for kind, said in (
        ("", r"(?:un)?til (?:the |your )?heel (?:is |has been )?(?:done|finished|complete[d]?|turned|worked)|un?til (?:later|needed|the gusset)|for (?:now|the moment|the time being|later)|from (?:here|now)(?: on)?|mean(?:while|time)|at (?:the|this) (?:moment|point|time)|while (?:you (?:work|knit)|working|knitting) the heel"),
        ("first-last", rf"(?:the )?(?P<w1>first|last) (?P<a>{COUNT})(?: {_S})?(?: (?:of|on) (?:the )?{_R})? (?:and|with|plus)(?: the)? (?P<w2>first|last) (?P<b>{COUNT})(?: {_S})?"),
        ("heel", rf"(?:for |with )?(?:the )?(?:first|second|other|next) half(?: of (?:the |your |this )?{_HEEL}|(?=$|,? (?:is|on|over)\b))"),
        ("heel", r"(?:the )?turn(?= (?:uses|takes|needs|is|of)\b)"),
        ("half", rf"(?:the )?(?P<which>first|last|second|next|one|other)? ?half (?:of )?(?:the |your |all )*(?:{_S}|{_R})?"),
        ("rest", rf"(?:all )?(?:of )?(?:the |those |these |your )*(?:{_REST} )+(?:of (?:the |these |them )?)?(?:(?P<n>{COUNT}) )?(?:{_REST} )*(?:(?:unworked|instep|held|live) )*(?:half\b|{_S}|(?=(?:of|on|for|at|where|un)\b)|$)?|(?:all )?(?:the )?(?:others|rest)\b"),
        ("idle", rf"(?:(?:while|as|whilst|and) )?(?:the )?(?:first|second|other)(?: one| needle)? (?={_IDLE})"),
        ("needle", r"(?:on |over |across |of |from )?(?:the )?(?:(?:needle |n)(?P<n>[12])\b|(?P<which>first|second|1st|2nd|heel|sole) needle)"),
        ("just", r"(?:(?:that |which )?(?:you (?:have |'ve )?|were |have been )?just (?:been )?(?:knit(?:ted)?|worked)|worked last|(?:knitted|worked) (?:just now|last))\b"),
        ("needle", rf"(?:the )?{_S} (?:on|of) (?:the )?(?:(?:needle |n)(?P<n>[12])\b|(?P<which>first|second|1st|2nd|heel|sole) needle)"),
        ("count", rf"(?:all )?(?:of )?(?:the |these |those |this |your )*(?:(?P<which>next|first|last|following|same|these|those|remaining|other) )?(?:of )?(?:the )?(?:heel |sole |back |flap )?(?P<n>{COUNT})(?! ?(?:[-–]\d|{_R}|times|cm|mm|in\b|inch|\"|%|needles?|dpns?))(?: (?:heel|sole|back|flap|centre|center|middle))*(?: {_S})?"),
        ("these", rf"(?:these|those|this set of|the same)(?: (?:heel|sole|same))? {_S}"),
        ("waits", r"(?:leave|leaving|keep|keeping|hold|holding|let|letting|put|putting|place|placing|set|setting|slip|slipping|sl|transfer|transferring|move|moving|ignore|ignoring|reserve|reserving)\b(?: aside)?"),
        ("on-one", r"(?:on ?to|on|to) (?:one|a single|the same|a) needle"),
        ("", r"while (?:the |your )?heel (?:is|gets|is being) (?:worked|knit(?:ted)?|made)"),
        ("rests", r"(?:(?:is|are|will be|to be|can be|being|is to be|should be) )?(?:(?:at|to) )?(?:rest(?:ing)?|wait(?:ing)?|unworked|on hold|held|aside|alone|un-?touched|unused|idle|(?:just )?(?:dangl(?:e|es|ing)|hang(?:s|ing)?)(?: (?:free(?:ly)?|idle|there|loose|down))?)\b|(?:has|have|with|having|does|doing|do) nothing(?: (?:to do|at all))?\b|(?:will )?(?:rests?|waits?|stays?)\b(?: (?:un-?worked|put|as they are|where they are|idle|behind))*|(?:will |are )?not (?:be )?(?:worked|used)\b|(?:on ?to|on|to) (?:a |the |your |their |some |another |two |2 |its |own )*(?:stitch )?(?:(?:spare|own|other|first|second|front|instep|extra) )*(?:holders?|waste yarn|scrap yarn|spare yarn|needles?|dpns?|cables?|cord|hold)\b|(?:as|where) they are|as is"),
        ("instep", r"(?:for|as|being|are|is|form|make|become|to)? ?(?:the |your |an? )*(?:instep|top of (?:the |your )?foot|front)\b(?: sts| stitches| needles?| half)?"),
        ("heel", rf"(?:for|as|being|are|is|form(?:s|ing)?|make|makes|become|to be|will be|of)? ?(?:now )?(?:the |your |a |an )*{_HEEL}(?: sts| stitches| needles?| rows)?"),
        ("work", r"(?:is |are |will be |you will |we will |you'll |now |to be |you )*(?:work(?:ed|ing)?|knit(?:ted|ting)?|made|continue|continuing|cont|use[sd]?|using|take[sn]?|turn(?:ed)?|proceed|begin|start|go|goes|going|happens?|needed|need|belongs? to)\b"),
        ("rows", r"(?:everything|all (?:of this|of it|that follows|the work)|what follows|(?:only|alone)(?= (?:on|over|with|across)\b|\s*(?:[,;:]|$))|(?:stay|remain|keep)s?(?= (?:on|to|with)\b))\b(?: (?:now |here )?(?:happens|takes place|goes on))?"),
        ("work", r"(?:becomes?|grows?|sits?|lives?|lies|holds?)\b"),
        ("rows", r"(?:back and forth|in (?:short[- ])?rows|flat|to and fro|in short[- ]rows)\b"),
        ("verb", r"(?:(?:re)?arrange|divide|gather|collect|have|with|begin|start)\b"),
        ("", r"(?:and )?(?:on|in) the (?:first|next) (?:row|rnd|round) (?:you )?(?:take|taking|lift|pick|work|close|knit)[^.;]*\bwraps?\b[^.;]*"),
        ("", rf"(?:of|from) (?:the |this )?(?:next )?{_R}|so that"),
        ("", r"(?:in )?(?:eye of partridge|heel (?:st\b|stitch)|slip[- ](?:st\b|stitch)|garter (?:st\b|stitch)|st(?:ockinette|\.? st\b|ocking stitch))(?: pattern)?"),
        ("", rf"(?:while|this|that|is|we|these|use|as follows|thus|only|alone|now|then|and|on|over|across|for|with|in|onto|to|of|just|but|so|here|back|to|again|once more|itself|it|they|them|we|you|will|be|heel|{_S})(?![a-z])"),
        ("", r"\([^()\d]*\)|\(\d+\)"),
    )
)  # fmt: skip
_ABOUT = WordForm(r"\b(?:heel|only|everything|follows|happens|stay|flap|back and forth|to and fro|in rows|rest(?:s|ing)?|alone|aside|instep|on hold|un-?worked|until|these|those|half)\b")  # fmt: skip


_BRACKETS = WordForm(
    r"\(([^()]*[A-Za-z][^()]*)\)", re.NOFLAG
)  # words, and no numbers of other sizes


_ONE_NEEDLE = WordForm(r"(?:\bneedle |\bn)[12]\b|\b(?:first|second|1st|2nd) needle\b")
_ALONE = WordForm(r"\b(?:only|alone|everything|all|stay|heel|forth|fro|flat)\b")
_ACROSS = WordForm(
    r"\b(?:knit|k|p|purl) (?:once |again |now )*(?:across|along|over|to|all|the|of|on|needle)\b"
)


def on_one_needle(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read "from now on everything happens on needle 2": a sentence that works nothing itself."""
    text = said.text
    if not (_ONE_NEEDLE.search(text) and _ALONE.search(text)) or _ACROSS.search(text):
        return None
    return heel_apart(scribe, text)


def heel_apart(scribe: Scribe, text: str) -> list[Says] | None:
    """Read "for the heel work back and forth on 32 of them; the rest wait on the other needle"."""
    text = text.strip(" .,;!")
    if not _ABOUT.search(text):
        return None
    phrases = phrases_in(_BRACKETS.sub(r", \1, ", text), _KINDS)
    live = scribe.now()
    if phrases is None or not live.tallies or not live.sure:
        return None
    kinds = [phrase.kind for phrase in phrases]
    if not {"work", "waits", "rests", "heel", "verb", "rows"} & set(kinds):
        return None
    heel = _wanted(phrases)
    if heel is None:
        return _the_rest_waits(scribe, phrases)
    these = (heel.match.groupdict().get("which") or "").lower() in ("these", "those")
    turned = (these or heel.kind == "these") and "work" in kinds and scribe.is_turned()
    if not ({"heel", "rows"} & set(kinds) or {"rest", "rests"} <= set(kinds) or turned):
        return None
    return _apart(scribe, heel, phrases)


def _wanted(phrases: Sequence[WordGroup]) -> WordGroup | None:
    """Return the phrase that tells which stitches are the heel's; not those that rest."""
    found = []
    for at, phrase in enumerate(phrases):
        waiting = any(one.kind == "waits" for one in phrases)
        after = [
            one.kind
            for one in phrases[at + 1 : at + 3]
            if waiting or one.text.lower() != "alone"  # "on needle 2 alone"
        ]
        before = [one.kind for one in phrases[max(0, at - 1) : at]]
        waits = "waits" in before and "heel" not in after
        if phrase.kind not in _ORDER or waits or after[:1] in (["instep"], ["rests"], ["rest"]):
            continue
        if phrase.kind == "rest" and not (
            phrase.match["n"] and ("heel" in after or "work" in before)
        ):
            continue
        found.append(phrase)
    return min(found, key=lambda one: _ORDER.index(one.kind), default=None)


_ORDER = ("first-last", "count", "half", "these", "needle", "rest")


def _many(scribe: Scribe, heel: WordGroup) -> list[int] | None:
    """Return how many stitches these are in each size; None where that is not known."""
    live = scribe.now()
    if heel.kind in ("count", "rest"):
        return [int(n) for n in as_many(count_in(heel.match["n"]), live.count)]
    if heel.kind == "first-last":
        near, far = (as_many(count_in(heel.match[key]), live.count) for key in "ab")
        return [int(a) + int(b) for a, b in zip(near, far, strict=True)]
    if heel.kind == "half":
        counts = [tally.count for tally in live.tallies]
        return None if any(n % 2 for n in counts) else [n // 2 for n in counts]
    if heel.kind == "needle":
        sizes = [size_of(tally, _needle(heel)) for tally in live.tallies]
        known = [one for one in sizes if one is not None]
        return known if len(known) == len(sizes) else None
    return [tally.behind if not scribe.is_turned() else tally.ahead for tally in live.tallies]


def _apart(scribe: Scribe, heel: WordGroup, phrases: Sequence[WordGroup]) -> list[Says] | None:
    resting = scribe.context.resting
    is_other = resting and _named(heel, phrases) == 3 - resting
    if is_other and (again := heel_again(scribe)) is not None:
        return again
    live, many = scribe.now(), _many(scribe, heel)
    if many is None or min(many) <= 0:
        return None
    if heel.kind == "count" and (number := _named(heel, phrases)) is not None:
        lies = [size_of(tally, number) or n for tally, n in zip(live.tallies, many, strict=True)]
        if lies != many:  # those of the needle are gone on with
            scribe.claim("other", sized(many), sized(lies))
            many = lies
    count: Count = sized(many)
    if live.held():
        half = heel.kind == "half"  # "first half of the heel": a heading amid its rows
        if not half and as_many(live.count, live.count) != tuple(many):
            scribe.claim("count", count)
        scribe.context.course = "ROW"
        return []
    if not live.in_rounds:
        return None
    rest = [tally.count - n for tally, n in zip(live.tallies, many, strict=True)]
    if min(rest) <= 0:
        return None
    _compared(scribe, phrases, sized(rest))
    if knits_on(scribe, count):
        scribe.context.heel, scribe.ignored = count, True
        scribe.note(" ".join(phrase.text for phrase in phrases))
        return []
    scribe.context.course = "ROW"
    if heel.kind == "first-last":
        return _about_the_start(scribe, heel, rest)
    which = (heel.match.groupdict().get("which") or "").lower()
    if (number := _named(heel, phrases)) is not None:
        scribe.context.resting = 3 - number
    second = _named(heel, phrases) == 2
    second = second or any(phrase.kind == "just" for phrase in phrases)
    if (second or which in ("last", "second", "other")) and not live.behind_any():
        return [st.Hold(sized(rest), "instep")]
    if heel.kind == "rest" and not live.behind_any():
        return None
    ahead = which == "next" or heel.kind == "rest" or _named(heel, phrases) == 2
    return across_start(scribe, count) or list(scribe.focus(count, ahead=ahead)) or None


def _named(heel: WordGroup, phrases: Sequence[WordGroup]) -> int | None:
    """Return the number of the needle on which the heel is: "the 30 sts of needle 2"."""
    if heel.kind == "needle":
        return _needle(heel)
    at = phrases.index(heel)
    beside = (*phrases[max(0, at - 1) : at], *phrases[at + 1 : at + 2])
    named = [one for one in beside if one.kind == "needle"] if heel.kind == "count" else []
    return _needle(named[0]) if len(named) == 1 else None


def _needle(named: WordGroup) -> int:
    """Return the number of a needle that is named by it, or by its place."""
    return 1 if (named.match["n"] or named.match["which"]).lower().startswith(("1", "f")) else 2


def _compared(scribe: Scribe, phrases: Sequence[WordGroup], rest: Count) -> None:
    """Compare how many are said to rest with those that do."""
    told = [p.match["n"] for p in phrases[1:] if p.kind == "rest" and p.match["n"]]
    if told and as_many(count_in(told[0]), rest) != as_many(rest, rest):
        scribe.claim("other", count_in(told[0]), rest)


def _about_the_start(scribe: Scribe, heel: WordGroup, rest: Sequence[int]) -> list[Says] | None:
    """Take the first stitches of the round behind its last: the yarn was cut."""
    live = scribe.now()
    words = (heel.match["w1"].lower(), heel.match["w2"].lower())
    if live.behind_any() or len(set(words)) != 2:
        return None
    near = count_in(heel.match["a" if words[0] == "first" else "b"])
    return [st.InRows(), st.Hold(near, "heel"), st.Hold(sized(list(rest)), "instep"), st.ReturnHeld("heel")]  # fmt: skip


def _the_rest_waits(scribe: Scribe, phrases: Sequence[WordGroup]) -> list[Says] | None:
    """Read "the remaining 32 sts will not be worked until the heel is done" of those ahead."""
    kinds = {phrase.kind for phrase in phrases}
    if kinds & {"rests", "waits"} and kinds <= {"rests", "waits", "needle", "heel", "work", ""}:
        return _needle_rests(scribe, [one for one in phrases if one.kind == "needle"])
    if "rest" not in kinds or not kinds & {"rests", "waits"}:
        return None
    live = scribe.now()
    told = next(
        (p.match["n"] for p in phrases if p.kind in ("rest", "count") and p.match["n"]), None
    )
    if live.held():
        return []
    turned = scribe.is_turned()
    left = live.behind if turned else live.ahead
    part = live.in_rounds and all(tally.behind and tally.ahead for tally in live.tallies)
    if not part or (told and as_many(count_in(told), live.count) != as_many(left, live.count)):
        return None
    if turned and _goes_back(scribe):
        return []
    scribe.context.course = "ROW"
    if turned:
        scribe.turn_later()
        return [st.Hold(left, "instep")]
    return [st.InRows(), st.Hold(left, "instep")]


def _needle_rests(scribe: Scribe, needles: Sequence[WordGroup]) -> list[Says] | None:
    """Read "needle 1 now rests", behind its stitches or before any of a round."""
    live, entries = scribe.now(), scribe.assembler.entries
    if len(needles) != 1 or not live.is_free or not live.in_rounds:
        return None
    first = _needle(needles[0]) == 1
    just = entries[-2].step if len(entries) > 1 else None
    if isinstance(entries[-1].step, st.BeginHere) and isinstance(just, st.Part):
        runs = [
            one.amount
            for one in just.items
            if isinstance(one, Run) and not isinstance(one.amount, To)
        ]
        resting, first = [int(n) for n in as_many(runs[0], live.count)] if runs else None, not first
    else:
        resting = _many(scribe, needles[0])
    if resting is None:
        return None
    rest, heel = sized(resting), sized([t.count - n for t, n in zip(live.tallies, resting, strict=True)])  # fmt: skip
    if any(int(n) <= 0 for n in (*values_of(rest), *values_of(heel))):
        return None
    scribe.context.course, scribe.context.resting = "ROW", _needle(needles[0])
    if live.behind_any():
        ahead = first and as_many(live.behind, rest) == as_many(rest, rest)
        return list(scribe.focus(heel, ahead=ahead)) or None
    return [st.Hold(rest, "instep")] if first else list(scribe.focus(heel)) or None


_BACK = WordForm(rf"\s*(?:next row[^:]*: ?)?(?:sl ?1[^,]*, )?(?:p|purl)(?: back)?(?: across)? ?(?P<n>{COUNT})")  # fmt: skip


def _goes_back(scribe: Scribe) -> bool:
    """Tell whether a row follows over more stitches than were worked: into the round's end."""
    found = _BACK.match(scribe.following or scribe.next_line)
    if found is None:
        return False
    ahead = scribe.now().ahead
    back = as_many(count_in(found["n"]), ahead)
    return any(int(n) > int(there) for n, there in zip(back, values_of(ahead), strict=False))


_FIRST_KNIT = WordForm(
    rf"\s*(?:(?:first|next|next {_R}|set-?up[^:]*)[:,] )?(?:knit|k|work)(?=[\d ]) ?(?:(?:across )?(?:the )?(?:first )?(?P<n>{COUNT})|[^.]*\b(?:instep|first half|needle 1|n1)\b)(?P<rest>[^.]*)",
)


def knits_on(scribe: Scribe, heel: Count) -> bool:
    """Tell whether the sentence behind knits up to the heel, or half of it, so that it is told ahead."""
    if scribe.now().behind_any():
        return False
    found = _FIRST_KNIT.match(scribe.following or scribe.next_line)
    if found is None:
        return False
    if found["n"] is None:
        return True
    near = as_many(count_in(found["n"]), heel)
    wide = as_many(heel, heel)
    part = all(2 * int(a) == int(b) for a, b in zip(near, wide, strict=True))
    return part and re.search(r"\b(?:turn|slip|sl|bring|move)\b", found["rest"]) is not None
