# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What clauses mean: held stitches, waste yarn, picking up, where rounds begin."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.free_heel import heel_apart
from loopwright.pattern._reading.freed import freed, one_less, unused_name
from loopwright.pattern._reading.rule_table import alone, rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tally import MARKER
from loopwright.pattern.items import KNIT, Mark, On, PickUp, Run, Turn
from loopwright.pattern.values import Count, as_many, plus, sized

__all__: list[str] = []


# --- held stitches ------------------------------------------------------------------------------


@rule(
    r"(?:carefully )?(?:return|place|put|slip|sl|transfer|move|pick up|slide|divide|distribute|arrange|take(?! up))(?: all)?(?: the)?(?: (?P<n>{N}))? ?(?:(?:held|resting|live|thumb|gusset|instep|waiting|remaining) )*{STS}(?: (?:held|on hold|waiting|resting))?(?: (?:from|that|on|off|of) [^,;.]*?)??(?: back)? ?(?:on|onto|on to|to|over|evenly over|among) (?:the |a |your |one |two |three |2 |3 |smaller |larger |working |left |spare |preferred |favourite |short |usual |double-pointed |double pointed |circular )*(?:\d\.?\d* ?mm )?(?:double-pointed |double pointed )?(?:needles?|dpns?)[^,;]*(?:,? (?:(?:with|so that there are|placing|putting) )?{N}(?: {STS})? (?:on|to|per) (?:each|every)(?: (?:one|needle))?)?"
)
@alone
def _return(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    live = scribe.now()
    if _FROM_NEEDLE.search(said[0]):
        return []  # from one needle to another
    waste = next(
        (name for tally in live.tallies[:1] for name in (*tally.waste, *tally.opened)), None
    )
    if waste is not None:
        return [st.Recapture(waste)]
    held = list(live.held())
    if not held:
        return heel_apart(scribe, said[0]) or ([] if not _HELD.search(said[0]) else None)
    name = "thumb" if "thumb" in held else held[0]
    if said["n"] and len(held) > 1 and not re.search(r"\bthumb\b", said[0], re.IGNORECASE):
        many = count_in(said["n"])
        name = next((one for one, waiting in live.held().items() if waiting == many), name)
    scribe.context.ground, scribe.context.ground_name = None, "stockinette"
    scribe.context.course = "RND" if name == "thumb" else scribe.context.course
    return [st.ReturnHeld(name)]


_HELD = WordForm(r"hold|held|thumb")
_FROM_NEEDLE = WordForm(
    r"\b(?:of|from|on|off) (?:the )?(?:needle ?\d|(?:first|second|third|fourth|\d(?:st|nd|rd|th)) needle)(?! ?\d).* (?:to|on ?to|onto|over) ",
)


@rule(
    r"(?:(?:now|then|and) )*(?:slip|sl|slide|place|put|move|transfer) (?:the |your )?(?:other|remaining|rem|last|rest of the|second)(?: {N})?(?: heel| sole)? {STS} (?:on|onto|on to|to|over to) (?:the )?(?:needle \d|\d(?:st|nd|rd|th) needle|(?:first|second|third|fourth|next|same|other|front|back) needle)[^;\d]*"
)
def _to_another_needle(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Leave "slip the other 7 heel sts on to the 1st needle": nothing waits, nothing is worked."""
    return None if scribe.now().held() else []


# --- waste yarn ---------------------------------------------------------------------------------


@rule(
    r"(?:(?:drop|leave|let go of|hold) (?:the )?(?:working|main|current) (?:yarn|wool)[^,;:]*[,;:.] ?(?:and )?)?(?:with|using|join|change to) (?:[^,;:]*?(?:waste|scrap|contrast\w*|smooth|spare) [^,;:]*?|the (?:cotton|string))[,;]?(?: and)? ?(?:k|knit|work)(?: across)?(?: the)?(?: next| first| following| heel)? ?(?P<n>{N})(?: (?:heel |thumb )?{STS})?(?P<rest>[^;]*)"
)
def _waste_row(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    return _wasted(scribe, said)


@rule(
    r"(?:k|knit)(?: across)?(?: the)?(?: next| first| following)? ?(?P<n>{N})(?: (?:heel |thumb |sole |palm )?{STS})? (?:in|with|using|on) (?:the |a |some |smooth )*(?:piece of |length of )?(?:smooth |contrast\w* )*(?:(?:waste|scrap|contrast\w*) (?:yarn|colour|color|wool)|cotton\b)(?: (?:in|of) (?:another|a different|a contrast\w*) colou?r)?(?P<rest>)"
)
@alone
def _in_waste(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    return _wasted(scribe, said)


def _wasted(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    if said["rest"] and re.search(r"\b(?:knit|k\d|purl)", said["rest"]):
        return None
    name = unused_name(scribe, ("waste", "thumb", "heel", "second", "third", "fourth", "fifth"))
    if name is None:  # more of them wait at once than a pair of gloves has
        return None
    return [st.WasteRow(count_in(said["n"]), name)]


@rule(
    r"(?:and )?(?:slip|slide|sl|place|return|put|move|transfer) (?:these|those|the|them)(?: same)?(?: (?:waste yarn|just worked|scrap yarn))?(?: {N})?(?: (?:(?:waste|scrap|contrast\w*|cotton|coloured|colored)(?: yarn)? |just-worked )?{STS})?(?: just worked| just knit(?:ted)?)? (?:back|to (?:the )?(?:left|other|first)(?:[- ]hand)? (?:needle|tip|end))(?:(?!\b(?:k|knit|work) (?:the (?:whole|entire)|all|to|on|\d))[^;])*?(?P<rest>;|,|$)(?:;? ?(?:to be|and|,|then)? ?(?:work|knit|worked|knitted)(?: them| these)? again[^;]*)?"
)
@alone
def _slip_back(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    low = said[0].lower()
    if " back" not in low and not any(tally.waste for tally in scribe.now().tallies):
        return None
    if re.search(r"\bagain\b|\b(?:k|knit|work) (?:them|these|those)\b", low):
        return _over_waste(scribe, None)
    return []


@rule(
    r"(?:pick up (?:the )?(?:working|main) yarn(?: again)?,? ?(?:and )?|with (?:the )?(?:working|main) yarn,? ?|with mc,? ?)?(?:k|knit|work|knit across)(?: across)?(?: them| these| the same)?(?: {N})?(?: {STS})? (?:again|once more)(?: in pattern| (?:with|in|using) [^,;\d]*)?"
)
def _work_again(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    return _over_waste(scribe, said)


def _over_waste(scribe: Scribe, said: re.Match[str] | None) -> list[Says] | None:
    """Knit once more over the stitches that the waste yarn was knitted on."""
    for entry in reversed(scribe.assembler.entries):
        if isinstance(entry.step, st.WasteRow):
            return [st.Part((Run("k", entry.step.stitches),))]
        if isinstance(entry.step, st.Part):
            break
    return None


@rule(
    r"(?:join: ?)?\*? ?(?:knit|k|work) (?:1|one)(?: {STS})? (?:from|of) (?:the )?(?:front|first) needle (?:tog(?:ether)? )?with (?:1|one)(?: {STS})? (?:from|of) (?:the )?(?:back|second|other) needle[;,]? (?:rep(?:eat)? from \* )?(?:to (?:the )?end|around|across)[^;]*"
)
def _hemmed(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Knit a folded hem together: each stitch with one of the cast-on edge."""
    return list(scribe.plain(ground=False)[:1])


@rule(
    r"(?:(?:now|then|next|carefully|gently) )*(?:unpick|take (?:out|away)|draw out|ease out|remove|pull out|undo|unzip|unravel|snip|pick out)(?: the)? (?:smooth |bright |coloured |colored )*(?:waste|scrap|spare|provisional|contrast\w*|crochet|chain|cotton|string|thread|help(?:ing)? (?:thread|yarn))[^;]*?(?P<rest>(?:,? and|;|,) ?(?:place|put|slip|pick up|take up|return|catch|move|transfer|placing|putting|picking|slipping|catching|taking)[^;]*)?"
)
@alone
def _take_out(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    live = scribe.now()
    tally = live.tallies[0] if live.tallies else None
    if tally is None or not (tally.waste or tally.opened):
        return [] if tally is not None else None
    name = next(iter(tally.opened or tally.waste))
    if said["rest"] or (scribe.stated is not None and not any(t.count for t in live.tallies)):
        words = said["rest"] or ""
        if re.search(r"\bits \b.*\b(?:second|another|spare|other) needle", words):
            return []  # they wait beside the work
        scribe.context.ground, scribe.context.ground_name = None, "stockinette"
        _stated_above(scribe, name, words)
        return freed(scribe, name, words)
    if _BOTH_SIDES.search(scribe.following) and not any(t.count for t in live.tallies):
        scribe.context.ground, scribe.context.ground_name = None, "stockinette"
        return freed(scribe, name, "")
    return [st.TakeOut(name)]


_BOTH_SIDES = WordForm(  # "k7, pick up and k1 in the corner, k7, pick up and k1 in the other corner"
    rf"\b(?:k|knit) ?(?:the )?(?P<n>{COUNT})\b[^.;]*?\bpick(?:ing)? up\b[^.;]*?\b(?:k|knit) ?(?:the )?(?P=n)(?! ?\d)"
)


@rule(
    r"(?:and )?(?:go|carry|keep) on with (?:the )?(?:next )?(?:stripes?|stripe \w+|colou?rs?)\b[^;\d]*"
)
@alone
def _next_stripe(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Leave "go on with the next stripe over all sts" to what follows."""
    return []


def _stated_above(scribe: Scribe, name: str, words: str) -> None:
    """Compare how many stitches are said to be freed with those that there are, or both sides."""
    found = re.search(rf"({COUNT}) (?:[a-z]+ )?(?:sts|stitches|loops)\b", words)
    live = scribe.now()
    if found is None or not live.sure:
        return
    if not all(name in tally.opened or name in tally.waste for tally in scribe.now().tallies):
        return  # one size lacks a number, and has no waste yarn
    above = [
        tally.opened[name] if name in tally.opened else tally.waste[name][1]
        for tally in live.tallies
    ]
    stated = as_many(count_in(found[1]), sized(above))
    if any(int(said) not in (there, 2 * there) for said, there in zip(stated, above, strict=True)):
        scribe.claim("freed", count_in(found[1]), sized(above))


@rule(
    r"(?:put|place|slip|pick up|catch) (?:the )?(?P<a>{N}) {STS} (?:from|on|along) (?:each|both) sides?(?: of [^,;]*?)?(?P<on> (?:on|onto|with) [^,;]*?needles?)?(?P<rest>(?:,? and|,|;)? ?pick(?:ing)? up [^;]*|(?:,|,? and|,? with|,? plus) (?:\d|one|two|a) [^;]*(?:corner|end)s?)?"
)
def _from_each_side(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "put 16 sts from each side on two needles and pick up 1 st in each corner"."""
    live = scribe.now()
    tally = live.tallies[0] if live.tallies else None
    found = () if tally is None else (tally.opened or tally.waste) if said["on"] else tally.opened
    name = next(iter(found), None)
    return None if name is None else freed(scribe, name, said["rest"] or "")


@rule(
    r"(?:put|place|slip|set|lift|pick up|take(?: up)?|catch|you (?:now )?have|there are(?: now)?) (?:(?:back )?(?:onto|on(?: to)?) (?:(?:the|your|spare|working|double-pointed|two|three|2|3) )*(?:needles?|dpns?):? )?(?:the )?(?P<a>{N}) {STS} (?:(?:from |at |on |along )?(?:the )?(?:lower|bottom|upper|top) (?:edge|side)|(?:from )?(?:below|under|above))[^,;]*? and (?:the )?(?P<b>{N})(?: {STS})? (?:(?:from |at |on |along )?(?:the )?(?:lower|bottom|upper|top) (?:edge|side)|(?:from )?(?:above|over|below))(?:(?!,? and \d)[^,;])*?(?P<rest>(?:[,;]| with| and| plus)+ (?:with )?(?:pick(?:ing)? up |lift(?:ing)? )?(?:\d|one|a)(?: (?:more|extra))?(?: {STS})?(?: (?:lifted|picked up|taken up|more))? (?:at|in|on|from) (?:each|either|both)\b[^,;\d]*)?"
)
def _both_sides(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "put the 8 sts below and the 8 sts above on 3 needles"."""
    live = scribe.now()
    tally = live.tallies[0] if live.tallies else None
    name = next(iter((tally.opened or tally.waste) if tally else ()), None)
    return None if name is None else freed(scribe, name, said["rest"] or "", said[0])


@rule(
    r"(?:(?:now|then|next) )*(?:pick|take) up (?:the )?(?P<a>{N}) (?:lower|bottom|upper|top) {STS},(?: and)? (?P<b>{N}) {STS} (?:at|in|from) (?:the|each) (?:first |one )?(?:corner|side|gap),? (?:and )?(?:the )?(?P<c>{N}) (?:upper|top|lower|bottom) {STS},? and (?P<d>{N}) {STS} (?:at|in|from) [^;]*"
)
@rule(
    r"(?:pick|take) up (?:the )?(?P<a>{N}) (?:live )?{STS} (?:along|from|at|on|below|above)[^,;]*,(?: and)? (?:(?P<b>{N}) {STS} (?:at|in) (?:the|each) (?:first |one )?(?:corner|side|gap)[^,;]*,? ?(?:and )?)?(?:the )?(?P<c>{N}) {STS} (?:along|from|at|on|above|below)[^,;]*?(?:,? and (?P<d>{N}) {STS} (?:at|in) [^;]*)?"
)
def _around_opening(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    live = scribe.now()
    tally = live.tallies[0] if live.tallies else None
    corners = [count_in(said[key]) for key in ("b", "d") if said[key]]
    if tally is None:
        return None
    name = next(iter(tally.opened or tally.waste), None)
    if name is not None and corners and one_less(scribe, said[0], name):
        corners[-1] = plus(corners[-1], -1)  # the strand of one is taken for a loop
    picks: list[Says] = [st.Part((PickUp(corner, "corner"),)) for corner in corners if corner]
    if name is None:
        each = re.findall(rf"({COUNT}) (?:live )?(?:sts|stitches|loops|sts?)\b", said[0])
        return [st.Part((PickUp(count_in(one), "edge"),)) for one in each]
    return [st.Recapture(name), *picks]


@rule(
    r"(?:k|knit|work) (?:across )?(?:all )?(?:of )?(?:the )?(?:lower|bottom|upper|top)(?: {STS}| needle)"
)
@alone
def _one_side_of_opening(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "k the lower sts" behind waste yarn that was taken out: as many as it held."""
    entries = [entry.step for entry in scribe.assembler.entries]
    freed = max((n for n, step in enumerate(entries) if isinstance(step, st.Recapture)), default=0)
    held = [step for step in entries[:freed] if isinstance(step, st.WasteRow)]
    near = not any(isinstance(step, st.Round | st.Row) for step in entries[freed + 1 :])
    return [st.Part((Run("k", held[-1].stitches),))] if held and near else None


# --- picking up -----------------------------------------------------------------------------------


@rule(
    r"(?:(?:with|using) [^,;]*?needles?,? )?(?:pick|take|lift)(?: up)? (?:the )?(?:last |remaining |rem |other )?(?P<n>{N}) (?:held |resting |waiting |live |open )*(?:(?:thumb |gusset |instep |held |finger )+{STS}(?: (?:from|off) {HOLDER})?|{STS} (?:from|off|(?:that (?:are|were)|left|waiting|kept|held) on) {HOLDER}(?: (?:yarn|wool|thread))?)|(?:share|divide) (?:the |these )?(?P<n2>{N}) {STS} (?:between|over|on to|onto|on) [^;]*needles?|take up (?:the |these )?(?P<n3>{N}) {STS}(?: (?:on|onto|over) [^;,]*needles?)?"
)
def _taken_back(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "with 3.25 mm needles take up the 16 thumb sts": those that are held."""
    live, many = scribe.now(), count_in(said["n"] or said["n2"] or said["n3"])
    name = next((n for n, waiting in live.held().items() if waiting == many), None)
    if name is None or (not said["n"] and live.count != 0):
        return None
    scribe.context.ground, scribe.context.ground_name = None, "stockinette"
    return [st.ReturnHeld(name)]


@rule(
    r"(?:rotate (?:the )?(?:work|piece|tab)(?:(?! pick|,? (?:and|then) )[^,;])*,? ?(?:and )?)?(?:then )?(?:with (?:(?! pick)[^,;])*, |(?:with|using) (?:a|the|another|your) [^,;]*?needle,? )?pick(?:ing)? up(?: and (?:k|knit))?,? (?:(?:the|another|an|a) )?(?P<extra>)(?P<n>{N})?(?: (?:extra|more|new|loops?))*(?: {STS})?(?: extra)?(?P<where>(?:(?!\b(?:and|then) (?:k|knit|p|purl|work)\b|\. (?=\S))[^;,*])*?)(?:,? (?:one|1) (?:{STS} )?(?:in|for|from|into) each [^,;]*)?(?:,? (?:and|plus|then|and then) (?P<m>{N}) (?:more |extra )?{STS} (?P<where2>(?:in|at|from|along|across) [^;,*]*))?"
)
def _pick_up(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    if said["n"] is None and "extra" not in said[0]:
        return None
    if re.search(r"\b(?:waste|wraps?|yarn)\b|\b(?:and|plus|then) \d", said["where"] or ""):
        return None  # of stitches that wait, or more are picked up elsewhere
    count: Count = count_in(said["n"]) if said["n"] else 1
    where = (said["where"] or "").strip().lower()
    times = 2 if re.match(r"(?:at|in|on|along) (?:each|both)", where) else 1
    items = [PickUp(count, _edge(where)) for _ in range(times)]
    if said["m"]:
        items.append(PickUp(count_in(said["m"]), _edge(said["where2"])))
    return [st.Part(tuple(items))]


@rule(
    r"(?:k|knit)(?: (?:a)?round| to end| (?:1|one|a) (?:round|rnd)| (?:all|across) (?:the )?{STS})?,? (?:and |while |also |but )*(?:pick(?:ing)? up|mak(?:e|ing)|lift(?:ing)?|rais(?:e|ing)|cast(?:ing)? on) (?P<n>{N}) (?:extra |more |new )?{STS} (?:at|in|on|from) (?:each|both|either) (?:corners?|ends?|gaps?|sides?)\b[^;\d]*"
)
def _round_with_corners(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit around, picking up 2 sts at each corner": one lies at either end of each half."""
    live, pick = scribe.now(), PickUp(count_in(said["n"]), "corner")
    counts = [int(n) for n in as_many(live.count, live.count)]
    if not live.is_whole_round:
        return None
    if any(count % 2 for count in counts):
        return [st.Part((pick, pick, KNIT))]
    return [st.Part((pick, Run("k", sized([count // 2 for count in counts])), pick, KNIT))]


@rule(
    r"pick up(?: and (?:knit|k))? (?P<a>{N})(?: {STS})? (?:in|at|from) (?:the |one |a )?(?:first )?(?:corner|gap|side)(?: stitch)?[,;]? ?(?:and |then )*(?:knit|k|work)(?: across)? (?P<first>the (?:lower|bottom|under|sole|first)(?: half| {STS})+)[,;]? ?(?:and |then )*pick up(?: and (?:knit|k))? (?P<b>{N})(?: {STS})? (?:in|at|from) the (?:other|second|next|opposite|far) (?:corner|gap|side)[,;]? ?(?:and |then )*(?:knit|k|work)(?: across)? the (?:upper|top|instep|other|second|remaining)(?: half| {STS})*"
)
def _halves_with_corners(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "pick up 2 sts in the corner, knit the lower sts, pick up 2 in the other, knit the upper sts"."""
    live = scribe.now()
    counts = [int(n) for n in as_many(live.count, live.count)]
    if not live.is_free or any(count % 2 or not count for count in counts):
        return None
    half = Run("k", sized([count // 2 for count in counts]))
    one, two = (PickUp(count_in(said[key]), "corner") for key in "ab")
    joined: list[Says] = [] if live.in_rounds else [st.Join()]
    return [st.Part((one, half, two, half)), *joined]


@rule(
    r"(?:with [^,;*]{1,20}, ?)?\*? ?(?:knit|k) (?:across )?(?:the )?(?:{STS} (?:of|on|from) )?(?:the )?(?:one|each|first|lower|bottom)? ?needle[;,]? (?:and |then )*pick up(?: and (?:knit|k))? (?P<n>{N})(?: {STS})?(?: (?:in|at|from|between) (?:the |a |each )?(?:first )?(?:corner|gap|side|needles)(?: beside it)?)?[;,.] ?(?:rep(?:eat)? from \* (?:once(?: more)?|twice|(?:on|for|along) (?:the )?(?:other|second) needle)|(?:and |then )*(?:knit|k) (?:across )?(?:the )?(?:{STS} (?:of|on|from) )?(?:the )?(?:other|second|upper|top) needle[;,]? (?:and |then )*pick up(?: and (?:knit|k))? (?P<m>{N})(?: {STS})?(?: (?:in|at|from) [^;,\d]*)?)"
)
def _needles_with_corners(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "*knit the sts of one needle, pick up 2 sts in the corner; rep from * once more"."""
    live = scribe.now()
    counts = [int(n) for n in as_many(live.count, live.count)]
    if not live.is_free or live.behind_any() or any(n % 2 or not n for n in counts):
        return None
    half = Run("k", sized([count // 2 for count in counts]))
    one, two = (PickUp(count_in(said[key] or said["n"]), "corner") for key in "nm")
    joined: list[Says] = [] if live.in_rounds else [st.Join()]
    return [st.Part((half, one, half, two)), *joined]


def _edge(where: str) -> str:
    words = re.findall(r"[a-z]+", where.lower())
    kept = [
        word
        for word in words
        if word
        not in (
            "the",
            "a",
            "of",
            "along",
            "from",
            "in",
            "at",
            "on",
            "up",
            "down",
            "over",
            "across",
            "and",
            "one",
            "each",
            "to",
            "as",
        )
    ]
    return " ".join(kept[:4]) or "edge"


@rule(
    r"(?:from (?:here|now)(?: on)?,? )?(?:the |each |every )?(?:new )?(?:rnd|round)s? (?:now )?(?:begins?|starts?)(?: now)?(?: here| at| in| from)?[^;]*|(?:this is |mark )?(?:the )?(?:new )?beg(?:inning)? of (?:the )?(?:rnd|round)[^;]*"
)
@alone
def _begins(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    live = scribe.now()
    if (half := _HALFWAY.search(said[0])) is not None:
        first = [int(n) for n in as_many(count_in(half["n"]), live.count)]
        rest = [int(a) - b for a, b in zip(as_many(live.count, live.count), first, strict=True)]
        known = live.in_rounds and live.is_free and min(rest) > 0
        return [st.Arrange((sized(first), sized(rest)))] if known else []
    rows = any(isinstance(e.step, st.Row | st.RepeatRounds) for e in scribe.assembler.entries)
    if live.tallies and not live.in_rounds and not live.held() and not rows:
        scribe.context.course = "RND"
        return [st.Join()]  # nobody says so, where there are rounds
    begun = any(tally.behind for tally in live.tallies)
    if not live.in_rounds:
        return []
    if not begun and live.sure and _WITH_INSTEP.search(said[0]):
        return _instep_first(scribe)
    return [st.BeginHere()] if begun else []


_WITH_INSTEP = WordForm(
    r"\b(?:with|at|from|before) (?:the )?(?:(?:beg\w*|start) of (?:the )?)?instep\b"
)


def _instep_first(scribe: Scribe) -> list[Says]:
    """Share the round between the instep that was held, and the sole behind it."""
    live = scribe.now()
    holds = [e.step for e in scribe.assembler.entries if isinstance(e.step, st.Hold)]
    many = [0] * len(live.tallies)
    for hold in {hold.name: hold for hold in holds if hold.name.startswith("instep")}.values():
        held = as_many(hold.stitches, sized(many))
        many = [a + b for a, b in zip(many, held, strict=False)]
    rest = [tally.count - one for tally, one in zip(live.tallies, many, strict=False)]
    if not many or min(many) <= 0 or len(rest) != len(live.tallies) or min(rest) <= 0:
        return []
    scribe.context.places = {"instep": 1, "sole": 2}
    return [st.Arrange((sized(many), sized(rest)))]


_HALFWAY = WordForm(
    rf"\b(?:half ?-?way|middle)\b[^;.\d]* (?P<n>{COUNT}) (?:sts|stitches)\b"
)  # "mark the beginning of the round, and the halfway point 28 sts later"


@rule(
    r"(?:pm|place (?:a )?marker|mark)\b (?:for|to mark|as|at) (?:the )?(?:new )?(?:beg\w*|start)[^;]*"
)
@alone
def _mark_beginning(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    return _begins(scribe, said)


@rule(
    r"(?:pm|sm|rm|(?:place|slip|remove|take (?:out|off)) (?:a |the |all )*(?:next |first |second |1st |2nd |other |both |two )*(?:stitch )?(?:markers?|m))(?: (?P<name>[ab]|\d))?"
)
@alone
def _marker(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    low = said[0].lower()
    doing = (
        "place" if low.startswith(("pm", "place")) else "slip" if low.startswith("s") else "remove"
    )
    name = (said["name"] or "").upper()
    live = scribe.now()
    here = all(tally.marker_is_here(name) for tally in live.tallies)
    if doing == "remove" and not here and re.search(r"\b(?:markers|the|all|both|take)\b", low):
        return []  # it is taken off as the next round comes to it
    return [st.Part((Mark(doing, name),))]


@rule(
    r"(?:(?:but|and|then) )*(?:do not|don't|without) turn(?:ing)?(?: (?:the )?work)?(?P<when> (?:after|at the end of|on|at) (?:(?:this|that|the) (?:last |final )?(?:{CRS}|one|end|time)|it|this|that))?"
)
@alone
def _not_turned(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Take back the turn that a repeat ends with: "do not turn after this last row"."""
    if scribe.has_turned():
        return [st.Part((Turn(),))]
    return [] if said["when"] else None


@rule(
    r"turn(?: (?:the )?work(?:ing)?)?(?:,? (?:even though|although|here|leaving|before|without)[^;]*)?[!.]*"
)
def _turn(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    if scribe.has_turned():
        return []
    return [st.Part((Turn(),))]


@rule(
    r"(?:knit|slip|work|k) (?:across )?(?:the )?{STS} (?:of|from|on) (?:(?:needle |n)\d|the (?:\d(?:st|nd|rd|th)|first|second|third|fourth)(?: needle)?) (?:on ?to|to) (?:the end of )?(?:(?:needle |n)\d|the (?:\d(?:st|nd|rd|th)|first|second|third|fourth|last)(?: needle)?)\b[^;,\d]*"
)
@alone
def _moved_over(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    return []


@rule(
    r"(?:k|knit) across needle \d,?(?: and)?(?: then)? (?:work|continue)(?: on)? needle \d (?:only )?back and forth[^;]*"
)
def _across_one(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    live = scribe.now()
    held = live.held()
    if len(held) != 1 or not live.sure:
        return None
    (name, waiting), worked = next(iter(held.items())), live.count
    scribe.context.course = "ROW"
    return [
        st.ReturnHeld(name), st.Part((Run("k", waiting),)), st.Join(), st.Hold(worked, "heel"),
        st.Hold(waiting, "instep"), st.ReturnHeld("heel"),
    ]  # fmt: skip


@rule(
    r"(?:leave|let|keep) (?:the )?(?:other )?{STS} (?:of|on) needles? \d(?: and \d)?(?: (?:to rest|at rest|resting|unworked|waiting|on hold|alone|as they are|for (?:the )?instep|for now))?"
)
@alone
def _left_alone(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    return [] if scribe.now().held() or not scribe.now().tallies else None


@rule(
    r"(?:(?:on|in) (?:the )?(?:first|next) (?:round|rnd),? )?(?:pick(?:ing)? up|lift(?:ing)?) (?:and twist |and twisting )?(?:a|the|one|1)(?: \w+)? (?:strand|thread|bar|loop|running thread)s?[^;]*\b(?:tog(?:ether)?) with[^;]*"
)
def _strand_closed(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Take a strand that is worked together with a stitch: the count stays."""
    scribe.note(said[0])
    return []


@rule(
    r"(?:divide|arrange|distribute|share|split|put)[^;\d]*?\bhalf (?:of )?(?:the |your )?{STS} (?:are )?on each(?: of (?:the )?(?:two|2))?(?: needles?| needle tips?| tips?)?(?: tips?)?(?P<rest>[^;\d]*)|(?:split|divide|arrange|distribute|share|spread)(?: the| your| them)?(?: {STS})? (?:evenly|equally) (?:over|on|onto|on to|between|among|across) (?:needle 1 and (?:needle )?2|(?:the |your |both |both the )?(?:two )?(?:needles?|needle tips?|tips))(?P<rest2>[^;\d]*)"
)
def _half_on_each(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    live = scribe.now()
    if re.search(r"\b(?:graft|bind|cast|sew)\b", said["rest"] or said["rest2"] or ""):
        return None
    counts = [tally.count for tally in live.tallies]
    if not live.sure or not counts or any(count % 2 or not count for count in counts):
        return [] if counts else None
    half = sized([count // 2 for count in counts])
    steps: list[Says] = [st.Arrange((half, half))]
    if not live.in_rounds:
        scribe.context.course = "RND"
        steps.insert(0, st.Join())
    return steps


@rule(
    r"(?:place|put|slip|sl|move|transfer) (?:the |all |all the )?(?:next )?(?:thumb |gusset )+{STS}(?: between (?:the )?markers)? (?:on ?to|on|to) {HOLDER}[^;,]*|(?:place|put|slip|sl|move|transfer) (?:the |all |all the )?{STS} between (?:the )?markers (?:on ?to|on|to) {HOLDER}[^;,]*"
)
def _hold_between(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Hold the stitches of a gusset, as many as stand before the next marker."""
    live = scribe.now()
    many = [tally.next_of(MARKER, beyond=1) for tally in live.tallies]
    found = [one for one in many if one]
    if not found or len(found) != len(many) or not live.sure:
        return None
    return [st.Hold(sized(found), "thumb")]


@rule(
    r"(?:k|knit|work) (?:even )?(?:across )?(?:all )?(?:the )?(?:{STS} (?:of|on|from) )?needle (?P<n>\d)(?: {STS})?(?: in (?:pattern|patt)[^;]*)?"
)
def _across_needle(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    live = scribe.now()
    if said["n"] == "2" and live.is_free and live.in_rounds:
        sides = [(len(tally.parts) > 1, tally.behind, tally.ahead) for tally in live.tallies]
        if sides and all(not told and here and here == there for told, here, there in sides):
            return [st.Part((Run("k", sized([there for _, _, there in sides])),))]
    if not live.tallies or len(live.tallies[0].parts) < int(said["n"]) or live.held():
        return None
    return [st.Part((On((f"needle {said['n']}",), (KNIT,)),))]
