# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Short rows that go on, inwards or outwards, and the round behind them: told in any order."""

from __future__ import annotations

import re
from collections.abc import Sequence

from loopwright.pattern import steps as st
from loopwright.pattern._reading.free_words import WordGroup, by_kind, phrases_in
from loopwright.pattern._reading.narrowing import narrowed
from loopwright.pattern._reading.onward import rows_before
from loopwright.pattern._reading.repeats import repeated
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._reading.widening import lengthened
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tally import GAP
from loopwright.pattern.items import KNIT, Item, Run, Turn, WrapTurn
from loopwright.pattern.values import To, UntilWorked, Where, as_many, sized

__all__ = ["as_one_round", "heel_then_needle_2", "round_again", "short_rows_on"]

_S = r"(?:sts?\b\.?|stitch(?:es)?\b)"
_TURN = r"(?:w ?[&+] ?t|w/t|wraps?(?: (?:the )?next (?:st|stitch))?,?(?: and)? turn|turn)\b"
_DS = r"(?:ds|double (?:sts?|stitch(?:es)?)|twin (?:sts?|stitch(?:es)?))\b"
_PLAIN = r"(?:plain|unwrapped|unworked|single|ordinary|cent(?:er|re)|middle|heel)"
_KINDS: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (kind, re.compile(said, re.IGNORECASE))
    for kind, said in (
        ("all", rf"(?:(?:un)?til+|end(?:ing)? when|stop(?:ping)? when) (?:(?:all|every|each)(?: of)?(?: the| these| your)?(?: (?P<n>{COUNT}))?(?: heel| wrapped| toe)? {_S}|(?:all|every)(?: of)?(?: the)? (?:wraps?|{_DS})|no (?:more )?(?:wraps?|{_DS})|(?:the )?(?:whole |entire )?(?:heel|toe)|you (?:have|are)(?: got)?(?: back)?(?: worked| all| to)*(?: (?:the|of))*(?: (?P<n2>{COUNT}))?(?: heel| toe)? ?(?:{_S})?(?: back)?)(?: (?:have|has|are|is|been|now|all|again|worked|live|active|back|in|work|use|play|picked up|closed|resolved|gone|left|remain|remaining|used))*(?:(?: (?!and\b|then\b|turn|with\b|by\b)[a-z]+){{1,4}}(?=[,;.]|$))?"),
        ("mid", rf"(?:(?:un)?til+|stop(?:ping)? when|so that|with) (?:(?:there are|there is|you have|only|just) )*(?P<n>{COUNT})(?: {_PLAIN})* (?:{_S} )?(?:(?:remain|rem|are|is|lie|left|stay|sit|unwrapped|unworked|plain|still|remaining)\b ?)*(?:(?:in|at) (?:the )?(?:middle|cent(?:er|re))|between (?:the )?(?:wraps?|turns?|gaps?|wrapped {_S})|unwrapped|unworked|plain)?"),
        ("row", rf"(?:(?:un)?til+|to|through|up to) (?:you (?:have )?(?:worked|work|reach|get to) |the row )?(?P<stitch>k|p|knit |purl ) ?(?P<n>{COUNT})(?: {_S})?,? ?{_TURN}(?: (?:has been |is )?(?:worked|done|reached))?"),
        ("many", rf"(?P<n>{COUNT}) (?:more |further )?rows(?: more)?"),
        ("less", r"(?:always |each |with |work(?:ing)? |leav(?:e|ing) |turn(?:ing|s)? |stop(?:ping|s)? |end(?:ing|s)? |mak(?:e|ing) )*(?:it |each |the turns? )?(?:1|one|a)(?: more)? (?:st|stitch)(?: (?:less|fewer|sooner|earlier|shorter|unworked|before the (?:last|previous) (?:wrap|turn|gap|wrapped st(?:itch)?)))+(?: (?:at|on) (?:the |each )?(?:end|side)s?(?: of (?:the )?(?:each |every )?rows?)?)?(?: (?:before|between) (?:each |the )?(?:w&t|wraps?|turns?))?|(?:1|one|a) (?:less|fewer) (?:st|stitch)"),
        ("more", rf"(?:work(?:s|ing)? |go(?:es|ing)? )*(?:past|beyond|(?:up )?to and including|as far as) (?:the )?(?:last|next|following|previous) {_DS}|(?:always |with |going |work(?:s|ing)? )*(?:1|one|a) {_DS} (?:further|farther|more)(?: (?:on|in))?(?: than (?:in )?the (?:last|one before|row before|previous(?: row| one)?))?"),
        ("more", r"(?:always |with |go(?:es|ing)? |reach(?:es|ing)? |work(?:s|ing)? |tak(?:e|es|ing) |bring(?:s|ing)? |turn(?:s|ing)? |pick(?:s|ing)? )*(?:in |up |to )?(?:the )?(?:1|one|a|next)(?: (?:more|further|extra|other|wrapped|next))* (?:stitch|st)\b(?: (?:more|further|farther|longer|later|into work|into play|back))*"),
        ("each", r"(?:on |in |at |with |for )?(?:each|every|the following)(?: (?:following|further|new))?(?: rows?| time| turn| side)\b(?: (?:from here on|is|gets|ends|works|takes|then|now))*|(?:from here|from now) on|per row|at each side|on both sides"),
        ("wraps", r"(?:and |by )?(?:(?:lift|pick|work|knitt?|purl|tak|catch|clos)ing|resolving)\b(?=[^,;]*\b(?:wrap|twin|double|ds\b|them\b|it\b|strands))(?: (?:or (?:purl|knitt?)ing|(?:and )?(?:work|knitt?)ing|up|the|all|any|both|each|every|its|their|them|it|wraps?|twins?|together|tog|with|and|sts?|stitch(?:es)?|ds|double|strands?|legs|as|a|single|one|that|of|in|wrapped|two|where there are)\b)*(?: as you (?:go|come to them|get to them|reach them))?|\((?:work(?:ing)? )?(?:[a-z]+ )*wraps?(?: [a-z]+)*\)"),
        ("again", rf"(?:turn,? )?(?:and )?make (?:a |the )?{_DS}(?: (?:at|in) the (?:start|beginning) of (?:each|every) row)?(?: as before)?|(?:turn,? )?(?:and )?make (?:the )?next {_S} (?:in ?to )?a {_DS}"),
        ("again", rf",? ?{_TURN}(?: (?:on|of|in))? (?:the )?(?:st|stitch|one|next)(?: (?:st|stitch|after|next|that|follows|it))*|(?:re-?)?wrapping the next(?: (?:st|stitch|one))?"),
        ("back", r"(?:back )?out(?:wards?)?(?: to the sides?)?(?: again)?\b|(?:the )?(?:second|other|increasing) half(?: of (?:the )?(?:heel|toe))?|reverse(?: the)?(?: short)?(?: rows?)?|back(?: again)?\b"),
        ("go", r"(?:continu(?:e|ing)|cont|carry(?:ing)? on|go(?:ing)? on|keep(?:ing)?(?: on| going)?|proceed|repeat(?:ing)?|rep|work(?:ing)?|turn(?: the)?(?: work)?|make|so on)\b\.?"),
        ("", r"turn(?: the)?(?: work)?\b|(?:in|like) (?:this|that|the same) (?:way|manner|fashion)|like (?:this|that)|as (?:set|established|est|before|above)\b|thus|accordingly|grows?(?=\W)|short rows?|the heel|the toe|heel|toe"),
        ("", r"(?:and|then|now|so|always|again|just|only|by|with|on|the|this|more|but|in|to|of|for)\b"),
    )
)  # fmt: skip
_ABOUT = WordForm(r"\b(?:less|fewer|sooner|earlier|shorter|further|farther|longer|later|out|outwards?|back|reverse|unworked|before the|wraps?|half|into work|so on)\b")  # fmt: skip
_MORE = WordForm(r"\b(?:more|further|farther|longer|later|into|next|takes?)\b")


def short_rows_on(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read "carry on, a stitch sooner in every row, till 10 are left" and "then work back out again"."""
    text = said.text
    if not _ABOUT.search(text) or (live := scribe.now()).in_rounds or not live.sure:
        return None
    if not any(tally.has(GAP) for tally in live.tallies):
        return None
    if (then := _THEN_ROUND.search(text)) is not None:
        return _then_round(scribe, said.piece(0, then.start()), said.piece(then.end(), len(text)))
    phrases = phrases_in(text.strip(" .,;!"), _KINDS)
    told = by_kind(phrases or ())
    if phrases is None or any(
        len(told.get(kind, ())) > 1 for kind in ("all", "mid", "row", "many")
    ):
        return None
    rows = rows_before(scribe)
    if len(rows) < 2:
        return None
    out = bool(told.keys() & {"back", "wraps"}) or any(
        _MORE.search(p.text) for p in told.get("more", ())
    )
    inward = bool(told.keys() & {"less"}) or (told.keys() >= {"go", "row"} and not out)
    if inward and not out and told.keys() & {"mid", "row", "many"}:
        return _inward(scribe, told, rows)
    told_how = "all" in told or ("go" in told and told.keys() & {"more", "wraps"})
    if out and not inward and told_how:
        return _outward(scribe, told, rows)
    return None


_THEN_ROUND = WordForm(  # "until every heel st is freed, then go back to the round"
    r",? (?:and )?then (?=(?:resume|return|go|come|continue|cont|carry|begin|start|change|work|knit)\b[^;]*\b(?:rounds?|rnds?)\b)",
)


def _then_round(scribe: Scribe, rows: MappedText, then: MappedText) -> list[Says] | None:
    """Read short rows with the way back to the round behind them."""
    kept, remarks = scribe.assembler.kept(), list(scribe.remarks)
    steps = short_rows_on(scribe, rows)
    if steps:
        scribe.give(steps)
        if (more := round_again(scribe, then)) is not None:
            return more
        scribe.assembler.back_to(kept)
        scribe.remarks[:] = remarks
    return None


def _inward(scribe: Scribe, told: dict[str, list[WordGroup]], rows: Sequence[st.Round | st.Row]) -> list[Says] | None:  # fmt: skip
    if "row" in told:
        row = told["row"][0].match
        return narrowed(scribe, f"continue until {row['stitch'].strip()} {row['n']}", rows)
    if "many" in told and "mid" not in told:
        return None
    many = told["mid"][0].match["n"]
    found = narrowed(scribe, f"continue until {many} sts are left unwrapped", rows)
    return found or repeated(scribe, f"rep the last 2 rows until {many} sts remain unwrapped")


def _outward(scribe: Scribe, told: dict[str, list[WordGroup]], rows: Sequence[st.Round | st.Row]) -> list[Says] | None:  # fmt: skip
    live = scribe.now()
    ends = told.get("all")
    stated = (
        next((n for n in (ends[0].match["n"], ends[0].match["n2"]) if n), None) if ends else None
    )
    if stated and any(tally.count != int(stated) for tally in live.tallies if stated.isdigit()):
        return None
    rows = rows[-2:]
    if any(getattr(item, "with_wraps", False) for row in rows for item in row.items):
        return lengthened(scribe, "work 1 st more in each row until all sts have been worked", rows)
    doubled = _is_doubled(rows[-1]) and isinstance(rows[0].items[-1], Turn)
    taking_up = _past_doubled if doubled else _taking_up
    wrapped = all(isinstance(row.items[-1], WrapTurn) for row in rows)
    if not wrapped and taking_up is _taking_up:
        return None
    stitches = [_stitch_of(row) for row in rows]  # the next row is like the last but one
    once = tuple(st.Row(taking_up(stitch), at=scribe.place) for stitch in stitches)
    step = st.RepeatRounds(once, UntilWorked(), at=scribe.place)
    return None if _fails(scribe, step) else [step]


def _taking_up(stitch: str) -> tuple[Item, ...]:
    return Run(stitch, To(Where.GAP)), Run(stitch, 1, with_wraps=True), WrapTurn()


def _stitch_of(row: st.Round | st.Row) -> str:
    """Return whether a row is knitted or purled."""
    stitches = (item.stitch for item in row.items if isinstance(item, Run))
    return next((one for one in stitches if one in ("k", "p")), "k")


def _is_doubled(row: st.Round | st.Row) -> bool:
    first = row.items[0]
    return isinstance(row.items[-1], Turn) and isinstance(first, Run) and first.stitch == "ds"


def _past_doubled(stitch: str) -> tuple[Item, ...]:
    """Return a row that closes the next double stitch, and turns a stitch behind it."""
    to_it = Run(stitch, To(Where.GAP, 1))
    return Run("ds", 1), to_it, Run(stitch, 1, with_wraps=True), Run(stitch, 1), Turn()


def _fails(scribe: Scribe, step: st.Step) -> bool:
    live = scribe.now()
    tries = [live.trial((step,), size) for size in range(len(live.tallies))]
    return any(one.troubles or one.tally.has(GAP) for one in tries)


_ROUND = r"(?:rounds?|rnds?|circularly|circular)\b"
_GO_ROUND = WordForm(
    rf"(?:(?:and|then|now|next) )*(?:(?:resume|return|go|come|continue|cont|carry|begin|start|rejoin|join|back|switch|change|work|knit)\b ?)(?:(?:on|back|to|working|knitting|work|knit|in|into|the|over|across|with|all|of|both|again|once more|{_ROUND}|{_S}|needles?|{COUNT}|heel|instep|sole|for|leg|foot|and|from here|now|top)[ ,]?)*$",
)
_SO_MANY = WordForm(rf"\b(?:knit|work|k|for|another) {COUNT} (?:\w+ )?{_ROUND}")
_ONE_ROUND = WordForm(
    rf"(?:(?:and|then|now|next) )*(?:knit|k|work)(?: (?:one|1|a|once|whole|full|complete|plain))* (?:a)?(?:{_ROUND})(?:,? (?:to |over |across |on |so as to )?(?:all|bring|join|take|close|every)\b[^;\d]*(?:{COUNT} {_S}[^;\d]*)?)?$",
)


_TURNED = rf"(?:{_DS}|twins?|wraps?|shadows?|pairs?|wrapped {_S}|shadowed {_S})"
_LAST_DS = WordForm(  # "turn, make the last DS, and knit on in the round"
    rf"^(?:turn,? (?:and )?)?make (?:the |a )?(?:last|final|other)? ?{_DS},? (?:and |then )*(?=\w)",
)
_CLOSES = WordForm(
    rf"[,;] (?:and )?(?:the )?(?:remaining|last|other|rest of the) {_TURNED} (?:(?:are|is|being) )?(?:worked|closed|knit(?:ted)?|picked up|resolved)\b[^;.]*$|,? (?:and |while |then )*(?:clos|tak|pick|lift|resolv|work|knit)(?:e|ing)? (?:up |in )?(?:(?:the|any|all|both|last|final|remaining|other|rest|two|2|one|of) )*{_TURNED}(?![^;]*\d)[^;.]*$",
)


def round_again(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read "then go back to the round" behind a heel: the instep is in work again."""
    text = _CLOSES.sub("", _LAST_DS.sub("", said.text.strip(" .,;!")))
    one = _ONE_ROUND.match(text)
    if not one and not (_GO_ROUND.match(text) and re.search(rf"\b{_ROUND}", text, re.IGNORECASE)):
        return None
    if not one and _SO_MANY.search(text):
        return None
    live = scribe.now()
    entries = scribe.assembler.entries
    stated = re.search(rf"\b({COUNT}) {_S}", text)
    if live.in_rounds and not one and entries and isinstance(entries[-1].step, st.Join):
        if stated:
            scribe.claim("count", count_in(stated[1]))
        return []  # "knit across needle 2", of which a round is made, "and go back to the round"
    if live.in_rounds or not live.sure or not live.held() or "thumb" in live.held():
        return None
    if any(tally.ahead and tally.behind for tally in live.tallies):
        return None
    scribe.context.course = "RND"
    steps = scribe.together()
    if stated and steps:
        scribe.after = count_in(stated[1])
    return [*steps, *([st.Round((KNIT,))] if one else [])]


_PART = rf"(?:(?:k|knit|work)\b ?)?(?:(?:across|over)\b ?)?(?:all )?(?:the |your |these )?(?P<{{n}}>{COUNT} )?(?P<{{w}}>instep|heel|top|sole) (?:{_S}|flap)(?: once)?(?: in (?:rib|patt\w*)| as (?:set|est\w*))*"
_BOTH = WordForm(  # "knit the 24 instep sts, then the 24 heel sts"
    rf"(?:(?:next|joining) {_ROUND}[^:.]*: ?)?(?:(?:and|then|now|next),? )*(?=k|w){_PART.format(n='n', w='w')}(?:,? and|,)?(?: then)?,? {_PART.format(n='n2', w='w2')}(?:,? in the round| again)?(?=[.!]|$| ?[(=])",
)


def as_one_round(scribe: Scribe, said: MappedText) -> MappedText:
    """Put "knit 1 round" for both parts of it, told in the order in which the yarn comes to them."""
    if (match := _BOTH.match(said.text)) is None:
        return said
    live = scribe.now()
    if live.in_rounds or not live.sure or list(live.held()) != ["instep"]:
        return said
    names = {"instep": "instep", "top": "instep"}
    first, second = (names.get(match[key].lower(), "heel") for key in ("w", "w2"))
    at_its_end = not live.tallies[0].right_side  # a row of the heel from the right side was worked
    amid = any(tally.ahead and tally.behind for tally in live.tallies)
    if first == second or (first == "instep") != at_its_end or amid:
        return said
    there = {"instep": live.held()["instep"], "heel": live.count}
    told = [
        count_in(n) if (n := match[key]) else there[part]
        for key, part in (("n", first), ("n2", second))
    ]
    scribe.loose = True
    right = all(
        as_many(n, live.count) == as_many(there[part], live.count)
        for n, part in zip(told, (first, second), strict=True)
    )
    if not right:
        sums = zip(*(as_many(n, live.count) for n in told), strict=False)
        scribe.claim("count", sized([sum(pair) for pair in sums]))
    if at_its_end:
        scribe.give([*scribe.together(), st.BeginHere()])
    return said.sub(_BOTH, "Knit 1 round")


_BY_NEEDLE = WordForm(  # "Next rnd: N1: K to end, working the triplet as 1 st. N2: Work in rib as set."
    rf"(?:(?:next|first|joining) {_ROUND}[^:]*: ?)?(?:needle |n ?)1: ?(?:k|knit|work)(?: across)?(?: (?:to|until) (?:the )?end)?(?P<wraps>(?:,? (?:working|knitting|lifting|picking|closing|taking)|,? with wraps)\b[^.;\d]*?(?:\b(?:as )?(?:1|one)(?: {_S})?)?)?[.;,] ?(?:needle |n ?)2: ?(?:k|knit|work|rib|patt)\b[^.;:\d*]*$",
)


_TO_NEEDLE_2 = WordForm(  # "DS, k to end of N1, closing each DS; k N2"
    rf"(?P<ds>(?:(?:make (?:a |1 |one )?|mk ?|m)?ds\b|sl(?:ip)? 1\b)[^,;:.*\d]*,? (?:and |then )*)?(?:k|knit)(?: across)? (?:to|until) (?:the )?end(?: of (?:the )?(?:needle 1|n ?1|(?:first|1st|heel|sole) needle|heel|sole)(?: {_S})?)?(?P<wraps>,? (?:(?:and |while )?(?:working|knitting|lifting|picking|closing|taking|resolving)|with (?:the )?wraps)\b[^,.;:\d]*?(?:\b(?:as )?(?:1|one)(?: {_S})?)?)?(?:[.;,]|,? (?=then|and)) ?(?:(?:and|then) )*(?:k|knit|work|rib|patt)(?: across| over)?(?: all)?(?: of)?(?: the)?(?: {_S} (?:of|on))? (?:needle 2|n ?2|(?:second|2nd|other|instep) needle|instep)(?: {_S}| too| as well| in (?:rib|patt\w*)| as (?:set|est\w*))*$",
)


_ITS_NUMBER = WordForm(r"(?<=\bneedle )[12]\b|(?<=\bn)[12]\b")


def heel_then_needle_2(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read the first round behind a heel that is told by needles: the instep waits on the second."""
    text = said.text.strip(" .")
    if scribe.context.resting == 1:  # the heel is on the second needle, and this is told of it
        text = _ITS_NUMBER.sub(lambda needle: "2" if needle[0] == "1" else "1", text)
    match = _BY_NEEDLE.match(text) or _TO_NEEDLE_2.match(text)
    live = scribe.now()
    if match is None or live.in_rounds or not live.sure or len(live.held()) != 1:
        return None
    ((name, waiting),) = live.held().items()
    scribe.context.course = "RND"
    begins = (match.groupdict().get("ds") or "").lower()
    knit = Run("k", To(), with_wraps=bool(match["wraps"]) and not begins)
    first = [Run("ds" if "ds" in begins else "sl")] if begins else []
    return [
        st.Part((*first, knit)), st.ReturnHeld(name), st.Part((Run("k", waiting),)), st.Join(),
    ]  # fmt: skip
