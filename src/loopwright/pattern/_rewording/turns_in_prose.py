# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Turned rows in prose: what waits behind a turn, and how the rows of a heel's turn are numbered."""

from __future__ import annotations

import re
from collections.abc import Callable

from loopwright.pattern._words import NUMBER_WORDS, whole_number

__all__ = ["TURNS_IN_PROSE"]

_N = rf"\d+(?: ?[(\[][^)\]]*[)\]])?|{'|'.join(NUMBER_WORDS)}"
_WAITS = r"left|unworked|not worked|unknit|remain\w*|wait\w*|still"
_TALK = rf"(?:sts?|stitch(?:es)?|are|is|still|on|the|needle|at|this|that|side|either|other|end|too|over|there|behind|here|as well|stay|now|{_WAITS})"


def _many(said: str) -> str:
    return said if said[0].isdigit() else str(whole_number(said.lower()))


def _leaving(match: re.Match[str]) -> str:
    """Put "turn – again 9 sts unworked", "turn with 8 left" for what is left unworked."""
    if not re.search(rf"\b(?:{_WAITS})\b", match["tail"], re.IGNORECASE):
        return match[0]
    return f"turn, leaving {_many(match['n'])} sts unworked"


def _left(name: str) -> str:
    """Return the form of "turn and leave the last 10", "leave 10 sts on a pin and turn"."""
    many = rf"leav(?:e|ing) (?:the |these |an?other )*(?:(?:last|other|remaining|rem|first|next) )?(?P<{name}>{_N})(?: sts?| stitches)?(?: {_TALK}| as before| again|,? (?:on|to) (?:a|an?other|the other|a second|a first) (?:(?:stitch|safety) )?(?:holder|pin|thread))*"
    before = many.replace(f"<{name}>", f"<{name}2>")
    return rf"(?:[,;]? (?:and )?turn[,;]? (?:and )?{many}|,? (?:and )?{before},? and turn)"


def _left_twice(match: re.Match[str]) -> str:
    """Put "k21, turn and leave the last 10. P11, turn and leave the other 10" for rows that end early."""
    one, two = match["one"] or match["one2"], match["two"] or match["two2"]
    return f"{match['a']}, turn, leaving {_many(one)} sts unworked{match['joint']}{match['b']}, turn, leaving {_many(two)} sts unworked"


_ROW_BEGINS = r"(?:sl(?:ip)? ?\d|[kp] ?\d|(?:knit|purl) \d)"
_THOSE = rf"the (?:(?:first|last|other) )?(?:{_N})(?: sts| stitches)?(?: (?:left |not worked|unworked|waiting|at the (?:start|beginning|end))+)?"
TURNS_IN_PROSE: tuple[tuple[str, str | Callable[[re.Match[str]], str]], ...] = (
    (  # "there are 49 sts, counting the first 10"
        rf"(?P<n>(?:{_N}) (?:sts|stitches)(?: in all| altogether)?),? (?:(?:counting(?: in)?|including|with) {_THOSE}|{_THOSE} (?:included|counted(?: in)?))(?=[.;)]|$)",
        r"\g<n>",
    ),
    (
        rf"\b(?P<a>(?:k|knit) ?(?:{_N})){_left('one')}(?P<joint>[.;] (?:(?:next|following|\w+) row:? )?(?:then )?)(?P<b>(?:p|purl|k|knit) ?(?:{_N})){_left('two')}(?=[.;]|$)",
        _left_twice,
    ),
    (  # "knit 1. Eight are left; turn all the same"
        rf"(?<=[a-z0-9])[.;,] (?P<n>{_N}) (?:sts |stitches )?(?:are|remain)(?: left| unworked)?[;,] (?:but )?turn(?: all the same| here| anyway)?(?=[.;]|$)",
        lambda match: f", turn, leaving {_many(match['n'])} sts unworked",
    ),
    (
        rf"\bturn(?P<lead>(?:[,;:]| ?[–—-])? ?\(?(?:(?:with|there|are|again|you|have)\b ?)*)(?<=[\s(])(?P<n>{_N})(?P<tail>(?: {_TALK})+)\)?(?=[.;]|$)",
        _leaving,
    ),
    (  # "Turn: Row 1, k17", "Now the cup: k19, ssk", "Turn – row 1: k17", "to shape the heel k15, ssk"
        rf"^(?:(?:now |for |then )?(?:the )?(?:heel )?(?:turn|cup|base)(?: the heel| of the heel)?(?::| ?[–—]| -)|to (?:shape|turn) the (?:heel|cup)[:,]?) (?=(?:row 1\b|{_ROW_BEGINS})[^.]*\bturn\b)",
        "",
    ),
    (rf"(?:^|(?<=[.:] ))(row|rnd|round) (\d+), (?={_ROW_BEGINS}[^.]*\bturn\b)", r"\1 \2: "),
    (rf"(?<=\bturn[.;] )(\d{{1,2}})[):] ?(?={_ROW_BEGINS})", r"Row \1: "),
    (rf"^(\d{{1,2}}): (?={_ROW_BEGINS}[^.]*\bturn\b|sl(?:ip)? ?1\b[^.]*tog\b)", r"Row \1: "),
    (r"\b(first|second|third|fourth|\d(?:st|nd|rd|th)) turn(?:ing)? row(?= ?:)", r"\1 row"),
    (  # "knit the first 30 and leave them. On the other 30:"
        rf"\b(?:knit|k|work) the first (?P<a>{_N})(?: sts| stitches)?,? and leave them\. (?:on|over|with) the (?:other|remaining) (?P<b>{_N})(?: sts| stitches)?(?= ?[:,]|$)",
        r"Place the first \g<a> sts on a holder for the instep. Work back and forth on the other \g<b> sts",
    ),
    (  # "k30 of the front, k the heel with the others: one round completed"
        rf"(?:^|(?<=[.] ))(?:k|knit) ?(?:the )?(?:{_N})(?: sts)? of the (?:front|instep),? (?:and |then )*(?:k|knit) the (?:heel|sole|back)\b[^.:]*: (?:this is |that is )?(?:one|1|a) (?:whole |full )?round(?: is)? (?:completed?|done)(?=[.]|$)",
        "Knit 1 round over all sts",
    ),
    (
        r"\bshadow[- ]wrap (?:it|(?:(?:the )?(?:last|next)|that)(?: st(?:itch)?)?),? (?:and )?turn\b",
        "w&t",
    ),
    (  # "Shape the bottom of the heel, 1st row: sl 1, k14, skpo; turn"
        r"^(?:(?!\b(?:k|knit|purl|work|rep|repeat|rows?|rounds?|rnds?)\b)[A-Za-z' -]){3,40}, (?=(?:1st|first) row ?:[^.]*\bturn\b)",
        "",
    ),
    (  # "Row 5: DS once more, so both sides match. Knit to the end of the heel"
        rf"(?P<ahead>^(?:(?:next|last) row|rows? \d+|r\d+)[^:.;*]{{0,20}}: )(?:(?:make |work )?(?:one|a) (?:more|last|final) (?:ds|double st(?:itch)?)|(?:ds|double st(?:itch)?)(?: (?:once more|again|one (?:last|more) time|as well))?)(?:,? (?:so(?: that)?|and now|which)\b[^.;:*]*|,? ?\((?:{_N})[^():;*]*\))?[.;,] (?:(?:and|then|now) )*(?=(?:knit|purl|k|p) )",
        r"\g<ahead>DS, ",
    ),
    (r"[;,] [(\[]ds, ([^()\[\]]*)[)\]], turn\b", r". Next row: DS, \1, turn"),
    (  # "k21, p20, k19, p18, wrap and turn after each"
        r"\b(?P<rows>[kp] ?\d+(?:, [kp] ?\d+)+),? (?:and )?(?P<turn>wrap and turn|w&t|turn) after each(?: (?:of them|row|one))?(?=[.;]|$)",
        lambda match: ", ".join(f"{row}, {match['turn']}" for row in match["rows"].split(", ")),
    ),
    (  # "3rd and 4th rows 6 times in all gives 7 wraps each side"
        rf"(?:^|(?<=[.] ))(?:the )?(\d+(?:st|nd|rd|th) and \d+(?:st|nd|rd|th) (?:rows|rounds|rnds)),? (?=(?:{_N}) times|\d+ ?[(\[][^)\]]*[)\]] times)",
        r"Work \1 ",
    ),
    (
        r"(?<=times)( in all| more|) (?:gives?|makes?|leaves?) (?=\d+(?: ?[(\[][^)\]]*[)\]])? (?:wraps|wrapped|double|ds|twins)\b)",
        r"\1. There are ",
    ),
    (  # "k to the 3 sts before the instep: k2tog, k1. K36. K1, ssk, k to the end of the round."
        r"\b(round|rnd): (k(?:nit)? to )(?:the )?(\d+ sts before the instep)[:,] ([^.]*)\. (k(?:nit)? ?(?:\d+(?: ?[(\[][^)\]]*[)\]])?|(?:across )?the instep(?: sts)?))\. (?=k ?\d|k to|knit|ssk|skpo?)",
        r"\1: \2\3, \4, \5, ",
    ),
    (  # "till 11 gusset rounds have been made and 70 sts remain"
        rf"\b(?:un)?till? (?:{_N}) (?:[a-z]+ )?(?:rounds|rnds|rows) (?:have been|are) (?:made|worked|done),? and (?=\d+(?: ?[(\[][^)\]]*[)\]])? (?:sts|stitches) (?:remain|are left))",
        "until ",
    ),
    (r"\balternate these two(?= (?:un)?till?\b)", "repeat these two rounds"),
    (rf"\b(turn|w ?(?:[&+]|and) ?t) / (?={_ROW_BEGINS})", r"\1; "),
    (  # "p2tog, p1 – the 12 sts that are left form the cup"
        rf"(?<=[a-z0-9]) ?[–—-] (?:the |these |now |there are |you have )*(?P<n>{_N}) (?:sts|stitches) (?:(?:that|which) )?(?:are |now )*(?:left|remain(?:ing)?)\b[^.;:\d]*(?=[.]|$)",
        lambda match: f". {_many(match['n'])} sts",
    ),
    (r"\bturn[;,] then (?=sl)", "turn. Then "),
    (
        r"\bturn[,;]? (?:and so on|and so forth|etc\.?),? ?(?=to \d|un?til|till|each)",
        "turn. Continue in this way ",
    ),
)
