# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What clauses mean that close the work: grafting, binding off, drawing up, cutting."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.rule_table import alone, rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.items import KNIT, Stay
from loopwright.pattern.values import Count, as_many, sized, values_of

__all__ = ["live_count"]


# --- closing -------------------------------------------------------------------------------------
_CUT = r"(?:break|cut)(?: off)?(?: the)?(?: working)?(?: (?:yarns?|wool|thread|mc|cc|[a-e]))?\b"
_CUT_FIRST = rf"(?:{_CUT}(?:,? (?:leaving|with) [^;,]*?)?(?:,? and(?: then)?|,| then) )?"


_EACH_NEEDLE = r"(?:one|1|a)(?: {STS})? (?:of|from|off|on) (?:each|either|both|every)(?: of the)?(?: two| 2)?(?: needles?)?"
_TWO_AT_ONCE = rf"in pairs|two by two|in twos|pair by pair|(?:them|these|those|the two) off (?:together|as one)|(?:both|the two|two|2) (?:needles|sets|layers|edges|halves|sides)(?: of {{STS}})?,? (?:together|at once|as one)|{_EACH_NEEDLE}|(?:a|the) (?:third|3rd) needle"


@rule(
    r"(?:with [^,;]*, )?(?:join|work|use|close|graft|bind off|cast off)?[^;]*?\b(?:three|3)[- ]needle (?:bind|cast)[- ]off[^;]*"
    rf"|(?:(?:after|when|once) [^;,]*?,? ?)?(?:(?:fold|turn|put|place|hold|lay|divide|slip|arrange|share|with|using|set)\b[^;]*?)?(?=\b(?:bind|cast)\b[^;]*?\boff\b)(?=[^;]*?\b(?:{_TWO_AT_ONCE})\b)(?:bind|cast) (?:(?:all|of|both|them|these|those|the|your|{{STS}}) )*off\b(?! {{N}})[^;]*"
)
@alone
def _three(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    return [st.ThreeNeedleBindOff()] if live_count(scribe) else []


_CLOSINGS = (st.Graft, st.DrawUp, st.BindOff, st.ThreeNeedleBindOff)


@rule(
    r"{CUT}(?:then )?(?:close|finish|end|fasten|complete|draw up|gather)(?: off| up)? (?:(?:the |your )?(?:thumb|top|tip|toe|fingers?|fingertip|end|it|{STS})(?: off| up)? )?(?:and fasten (?:off )?)?(?:just |exactly )?(?:like|as|the same(?: way)? as|in the same way as)(?: for| on| at| you (?:did|closed|finished))? (?:the |your )?(?:first |other )?(?:(?:hand|mitten|mitt|hat|sock) )?(?:top|hand|mitten|toe|crown|tip|hat|end|thumb|before)(?: of the \w+)?(?:,? and [^;\d]*)?".replace(
        "{CUT}", _CUT_FIRST
    )
)
@alone
def _closed_alike(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "close the thumb just like the top": as what was closed last."""
    if not live_count(scribe):
        return []
    entries = reversed(scribe.assembler.entries)
    last = next((e.step for e in entries if isinstance(e.step, _CLOSINGS)), None)
    shapes = isinstance(last, st.DrawUp) and live_count(scribe) > MOST_DRAWN_UP
    return [type(last)()] if isinstance(last, _CLOSINGS) and not shapes else None


MOST_DRAWN_UP = 20  # stitches: more are shaped first, where a top is closed as another was


@rule(
    r"(?:(?:knit|k|slip|sl) (?:the )?{STS} (?:of|from|on) [^;,]*?needle[^;,]*?needle,? (?:and )?(?:then )?|(?:put|place|slip|arrange|divide) [^;:]*?needle[^;:]*?,? (?:and )?(?:then )?(?=(?:join|graft|weave) (?:them|these|the two|both)\b))?(?:(?:use|using|with|work) kitchener (?:st(?:itch)?)?,? ?(?:to )?)?(?:graft|kitchener|join|close|weave)\b(?! (?:in|(?:(?:the|a|your|new|main|working) )*(?:yarn|wool|mc|cc|colou?r|[b-e]|c\d|a(?= (?:at|to|on|in|by)\b)))\b)[^;]*?\b(?:graft|toe|kitchener|sts|stitches|heel|halves|together|closed|top|opening|tip|sole|instep)\b[^;]*|graft (?:the )?(?:front|back|palm|two|first|second)\b[^;\d]*|graft(?:[,:]? (?:the )?{N}(?: {STS})? (?:to|with|and) (?:the )?{N}[^;]*)?"
)
@alone
def _graft(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    low = said[0].lower()
    if (
        re.match(r"graft(?:ing)?(?: st(?:itch)?)? (?:means|is|=)", low)
        or _CLOSES_GAPS.search(low)
        or "seam" in low
        or "sew" in low
        or (_GOES_ON.search(low) and not _GRAFTS.search(low))
    ):
        return None
    if not live_count(scribe):
        return []
    made = [one.step for one in scribe.assembler.entries if not isinstance(one.step, st.Arrange)]
    if low.startswith("join") and isinstance(made[-1], st.CastOn):
        return None  # into a ring
    numbers = [count_in(one) for one in re.findall(rf"({COUNT}) (?:\w+ )?(?:sts|stitches)", low)]
    if pair := re.match(rf"graft[,:]? (?:the )?({COUNT}) to (?:the )?({COUNT})", low):
        numbers = [count_in(pair[1]), count_in(pair[2])]
    live = scribe.now()
    back: list[Says] = [
        st.ReturnHeld(name) for name, held in live.held().items() if held == live.count
    ]
    if (
        len(back) == 1
        and len(numbers) == 1
        and re.search(r"\b(?:to|with|and) (?:those|the)\b", low)
    ):
        if numbers[0] != live.count:
            scribe.claim("graft", sized([2 * int(n) for n in values_of(numbers[0])]))
        return [*back, st.Graft()]  # a piece that was set aside
    if len(numbers) == 1 and numbers[0] == live.count:
        numbers = []  # both sides together
    if numbers and not re.search(r"inch|\bin\b|cm|tail", low) and len(numbers) <= 2:
        _claim_sides(scribe, numbers[0], numbers[-1])
    return _joined(scribe)


def _joined(scribe: Scribe) -> list[Says]:
    """Graft what is on the needles, from where some were knitted on, to the side."""
    live = scribe.now()
    begun = live.in_rounds and live.behind_any()
    return [st.BeginHere(), st.Graft()] if begun else [st.Graft()]


_CLOSES_GAPS = WordForm(  # "close the last double stitches", "close the gaps at the corners"
    r"close (?:up )?(?:(?:the|any|all|each|both|last|remaining|other|little|small|one|two|2|first) )*(?:double st\w*|ds|wraps?|gaps?|holes?)\b"
)
_GOES_ON = WordForm(
    r"\b(?:knit|purl|work)(?:ing)? (?:one|1|a|a?round|every|each|across|all|in|over|on|to|\d)\b",
    re.NOFLAG,
)
_GRAFTS = WordForm(r"\b(?:graft|kitchener|weave)\b", re.NOFLAG)


def _claim_sides(scribe: Scribe, near: Count, far: Count) -> None:
    """Compare the stitches of two sides that are grafted with what is on the needles."""
    total = scribe.now().count
    both = zip(as_many(near, total), as_many(far, total), strict=False)
    whole = [int(a) + int(b) for a, b in both]
    if whole != [int(value) for value in values_of(total)]:
        scribe.claim("graft", sized(whole))


@rule(
    r"(?:[^;:]*: ?)?(?:(?:now|then|and) )*(?:sew|join|close|stitch|work)\b[^;]*\b(?:with|in|using|by) (?:a |the )?graft(?:ing)?(?: st(?:itch)?)?(?: (?:along|across)[^;\d]*)?"
)
@alone
def _grafted_by_name(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "sew the 12 and the 12 together with grafting stitch"."""
    numbers = [count_in(one) for one in re.findall(COUNT, said[0])]
    if not live_count(scribe):
        return []
    if len(numbers) == 2:
        _claim_sides(scribe, numbers[0], numbers[1])
    return _joined(scribe) if len(numbers) in (0, 2) else None


@rule(
    r"(?:(?:do not|don't) (?:bind|cast) off[,;]? (?:but )?(?:(?:cut|break|leave) [^;]*? and )?)?(?:(?:now|then|and|but) )*(?:hem|sew|stitch|catch|whip(?:stitch)?|fasten)(?: down)? (?:each|every|all(?: the)?|the) (?:loose |live |open )+{STS} (?:down\b|to (?:the )?(?:inside|wrong side|back|cast[- ]on))[^;\d]*"
)
@alone
def _sewn_down(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "hem each loose st down inside": live stitches that are sewn to the work."""
    return [st.BindOff()] if live_count(scribe) else []


@rule(
    r"(?:(?:with|using) (?:the |a |your |yarn )*(?:long |cut )?(?:tail|yarn|end|needle)\b[^,;\d]*, )?(?:use|work|with|using) (?:the )?kitchener(?: st\w*)?,? (?:and |to )?(?:close|join|finish|end)?\b[^;\d]*|(?:finish|end|close)(?: off)? (?:by|with) (?:joining|grafting|weaving)\b[^;]*|(?:{CUT},? (?:and |then )?)?(?:use it to )?weave the (?P<a>{N}) {STS} [^;]*?\bto(?:gether with)? the (?P<b>{N}) {STS}[^;]*|[^;]*\bjoin (?:the )?(?P<c>{N}) {STS} (?:with|to) (?:the )?(?P<d>{N}) {STS}[^;]*\b(?:graft\w*|kitchener|invisibl[ey])\b[^;]*".replace(
        "{CUT}", _CUT
    )
)
@alone
def _grafted(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "use Kitchener stitch to close", "finish by joining 19 to 19 invisibly"."""
    if not live_count(scribe):
        return []
    pair = [said["a"] or said["c"], said["b"] or said["d"]]
    if not pair[0] and (told := re.search(rf"({COUNT}) (?:to|with) ({COUNT})", said[0])):
        pair = [told[1], told[2]]
    if pair[0] and pair[1]:
        _claim_sides(scribe, count_in(pair[0]), count_in(pair[1]))
    return _joined(scribe)


@rule(
    r"(?:{CUT},? (?:and |then )?)?sew (?:up )?(?:the |these |two |last |remaining |open |live |{N} )*(?:heel|toe|top|tip|halves|crown|fingertips?|{STS}|(?:heel|toe) {STS}) (?:shut|closed|together)\b(?![^;]*\bseam)[^;]*".replace(
        "{CUT}", _CUT
    )
)
@alone
def _sewn_shut(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "sew the toe shut", with stitches on the needles: that grafts them."""
    return [st.Graft()] if live_count(scribe) else []


@rule(
    r"(?:with (?:a |the )?(?:third|3rd|spare) needle,? )?(?:knit|k|work) (?:1|one|the first) {STS} (?:of|from) the front(?: needle)? tog(?:ether)? with (?:1|one|the first) {STS} (?:of|from) the back\b[^;]*(?:;[^;]*\bover\b[^;]*)?"
)
@alone
def _joined_off(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read a three-needle bind-off that is told stitch by stitch."""
    return [st.ThreeNeedleBindOff()] if live_count(scribe) else []


@rule(r"(?:continue|cont|go on|carry on)(?: in this way| like this)? to the end\b[^;\d]*")
@alone
def _to_the_end(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Leave "continue to the end" of what was closed."""
    return [] if not any(tally.count for tally in scribe.now().tallies) else None


@rule(
    rf"(?:(?:{_CUT}|snip(?: (?:the )?yarn)?)(?:,|,? and) (?:then )?)?thread(?: it)?(?: (?:the )?(?:yarn|wool|end|tail)(?: (?:on(?:to)?|into|in) (?:a |the )?(?:[a-z]+ )?needle)?)?(?:,? and|,) (?:gather|pull|draw|tug)(?: it)?(?: up| tight| snug)*(?: as (?:for|before|on|with) [^;]*)?|gather(?: up)?(?: (?:all )?(?:the )?(?:{{STS}}|top|rest))?(?:,? (?:and|then)+ (?:fasten|sew|draw|secure|close|weave|finish)\b[^;]*)?"
)
@alone
def _gathered(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "gather and sew in", "thread and pull"."""
    return [st.DrawUp()] if live_count(scribe) else []


def live_count(scribe: Scribe) -> bool:
    """Tell whether there is something to close; a fragment without a cast-on may have it."""
    cast = any(
        isinstance(entry.step, st.CastOn | st.ClosedCastOn | st.ProvisionalCastOn)
        for entry in scribe.assembler.entries
    )
    return not cast or any(tally.count for tally in scribe.now().tallies)


@rule(
    r"(?:work|knit|make) an? (?:{N}[- ](?:round|row|rnd) )?(?:i-?)?cord\b(?!\W+(?:bind|cast))[^;]*?(?: (?:long|in length|of {N} (?:cm|in\w*|rows|rounds))|(?<=cord) (?:on|with|over) (?:these|the|those) (?:{N} )?{STS})"
)
@rule(
    r"(?:(?:and|then|now) )*(?:work|knit|make|do) (?:(?:an? )?i-?cord(?: (?:over|on|with) (?:these|the|all) (?:{N} )?{STS})? (?:for|of) (?P<n>{N}) (?:rows|rounds|rnds)|(?P<m>{N}) (?:rows|rounds|rnds) of i-?cord)(?: in all| in total)?"
)
@alone
def _cord(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work an I-cord 8 in long": as many stitches as there are."""
    many, live = said.groupdict().get("n") or said.groupdict().get("m"), scribe.now()
    if many and live.tallies and not live.is_within:  # a tube, row by row from the same end
        row = st.Round((KNIT,)) if live.in_rounds else st.Row((KNIT, Stay()))
        return [st.RepeatRounds((row,), count_in(many), at=scribe.place)]
    scribe.note(said[0])
    return []


@rule(
    r"(?:(?:with|using) (?:a |an |the |your )?(?:[a-z0-9.]+ ){0,4}?needles?,? (?:and )?|(?:on |in )?(?:the |your )?next (?:(?:rs|ws|right[- ]side|wrong[- ]side|knit|purl|foll\w*) )?(?:row|round|rnd)[,:]? )?(?:(?:now|then|finally|and) )*(?:loosely |very loosely |gently )?(?:(?:work|use|using|do)(?! not) (?:a |an |the )?(?:[a-z'-]+ ){0,3}(?:bind|cast)[ -]off\b(?! (?:edge|\d))|(?:bind(?:ing)?|cast(?:ing)?)[ -]off(?! (?:edge|(?:the )?(?:first|next|following|foll|last|thumb|these|those|heel|instep|centre|center|central|middle)?\s*\d)))[^;]*(?::.*)?|bo\b(?! (?:(?:the )?(?:first|next|following|foll|last|thumb|centre|center|central|middle)\s*)?\d)[^;]*(?::.*)?|(?!neck|armhole|shoulder|thumb|underarm)(?:[a-z'-]+ ){1,2}(?:bind|cast)[ -]off: ?(?=[^*]*\*)[^:]*\brep(?:eat)? from[^:]*\b(?:end|all|un?til)\b.*"
)
def _bind_off(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    if not live_count(scribe):
        return []
    low = said[0].lower()
    if (but := _ALL_BUT.search(low)) is not None:
        live = scribe.now()
        kept = as_many(count_in(but["n"]) if but["n"] else 1, live.count)
        off = [int(a) - int(b) for a, b in zip(as_many(live.count, live.count), kept, strict=True)]
        return [st.BindOff(sized(off))] if live.sure and min(off) > 0 else None
    return [st.BindOff(None, "stretchy" if "stretchy" in low or "elastic" in low else "plain")]


_ALL_BUT = WordForm(
    rf"\boff all but (?:(?:the )?last|(?:the )?final|one|(?:the )?(?:last )?(?P<n>{COUNT})) (?:sts?|stitch(?:es)?)\b",
    re.NOFLAG,
)


@rule(
    r"(?:(?:[a-z]+ )?(?:bind|cast)[- ]off: ?)?\*[^*]*\b(?:bind off|cast off|bo|k2tog tbl|pass)\b[^*]*\*?[;,.]? ?rep(?:eat)? (?:from )?\*? ?(?:(?:to (?:the )?end|until|across|around)[^;]*|(?=,|and\b|then\b|$))(?:[,;]? ?(?:and |then )*fasten off[^;]*)?"
)
def _off_bit_by_bit(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "*CO 2 sts, bind off 5 sts, slip st back; rep from * to end": a picot edge."""
    if not re.search(r"\b(?:bind|cast) off\b|\bbo\b", said[0].lower()):
        return None
    return [st.BindOff()] if live_count(scribe) else []


@rule(
    rf"(?:leav(?:e|ing) (?:an? |the |about |enough )[^;.,]*?\b(?:yarn|wool|tail|end|thread)(?: hanging)?(?:,? (?:and )?(?:then )?))?(?:{_CUT}[^;.]*?(?:,|and|;|\bthen\b)+ ?(?:then )?)?(?:(?:with|using) (?:a |an |the |your )?(?:[a-z-]+ ){{0,3}}needle,? )?(?:(?:and )?(?:thread|draw|run|pull|pass|weave|fasten|(?:sew|lead|stitch)(?=[^;]*\b(?:through|thru)\b[^;.]*\b(?:{{STS}}|loops|them)\b))\b[^;]*?\b(?:through|thru)\b[^;]*|(?:and )?(?:gather|draw|pull)(?: up| together)? (?:the |all |these )*(?:remaining |last |rem )?(?:{{N}} )?(?:remaining )?{{STS}}(?: up| together| tight)*(?:,? (?:with|using|on) [^;]*)?)"
)
@alone
def _draw_up(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    low = said[0].lower()
    if re.search(
        r"eyelet|ribbon|casing|\bholes\b|\bthe first \d|\b(?:scrap|waste|spare)\b|\bleave (?:the |these |them)",
        low,
    ):
        return None
    return [st.DrawUp()] if live_count(scribe) else []


@rule(
    rf"(?:k|knit|p|purl) ?(?:(?:the |all |these |rem |remaining |last )*(?P<n>{{N}})?(?: {{STS}})? ?tog(?:ether)?)(?: tbl)?(?:,|,? and|,? then|;)* (?:{_CUT_FIRST}(?:fasten|draw|pull|finish)\b|{_CUT})[^;]*"
)
@alone
def _last_together(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "k4tog and fasten off": the last stitches, all of them."""
    live, many = scribe.now(), said["n"] and count_in(said["n"])
    if not live_count(scribe) or (many and as_many(many, live.count) != as_many(live.count, many)):
        return None
    return [st.DrawUp()]


@rule(
    rf"fasten|(?:{_CUT_FIRST}(?:and )?(?:fasten|finish) off(?: in the same way| as (?:for )?(?:the )?(?:top|toe|before|hand)[^;]*)?[^;]*|(?:break|cut) (?:off )?(?:the )?(?:yarn|wool)[^;]*\b(?:finish|close|draw up|fasten)[^;]*as (?:for|before|at) [^;]*|(?:(?:break|cut) (?:off )?(?:the )?(?:yarn|wool),? (?:and )?)?(?:and )?(?:draw|pull|gather) up(?! (?:the |this |that )?(?:first|next|slipped) )[^;]*|pull (?:up |it )?tight[^;]*)"
)
@alone
def _fasten(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    if live_count(scribe):
        return [st.DrawUp()]
    return _weave(scribe, said) if _WOVEN.search(said[0].lower()) else []


_WOVEN = WordForm(
    r"\b(?:weave|darn|sew|work|tie|hide|run) in\b[^;]*\b(?:ends?|tails?)\b", re.NOFLAG
)


@rule(
    rf"{_CUT}(?: (?:mc|cc|both colou?rs|[a-e]))?(?:,? ?(?:leaving|with|to leave) [^;]*)?|(?:break|cut) (?:mc|cc|[a-e])\b[^;]*"
)
@alone
def _cut(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    return None if _CLOSES.search(said[0]) else []


_CLOSES = WordForm(
    r"\b(?:graft|bind off|cast off)\b|\b(?:draw|thread|pull|run|pass)\b[^;]*\b(?:through|sts|stitches)\b",
)


@rule(
    r"(?:weave|darn|sew|work|tie) in (?:all |any |the |your |both |loose |yarn )*(?:ends?|tails?)[^;]*"
)
@alone
def _weave(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    if any(tally.count for tally in scribe.now().tallies):
        return []
    woven = any(isinstance(entry.step, st.WeaveIn) for entry in scribe.assembler.entries)
    cast = any(
        isinstance(entry.step, st.CastOn | st.ClosedCastOn | st.ProvisionalCastOn)
        for entry in scribe.assembler.entries
    )
    return [] if woven or not (cast or not scribe.assembler.entries) else [st.WeaveIn()]
