# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Other ways of saying the same: casting on, waste yarn, both halves, rounds by turns.

These stand before the grammar, as those of the terse do, and put a whole clause in the order
that the rules know.
"""

from __future__ import annotations

import re

from loopwright.pattern._rewording.heels_in_prose import with_heels
from loopwright.pattern._rewording.in_short import spelt_out
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.odd_and_even import with_odd_and_even
from loopwright.pattern._rewording.striped import with_bands
from loopwright.pattern._rewording.tables import Rewordings
from loopwright.pattern._rewording.told_plainly import with_plain_talk
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.worked_again import with_repeats
from loopwright.pattern._words import NUMBER_WORDS, whole_number

__all__ = ["said_usually"]

_N = r"\d+(?: ?[(\[][^)\]]*[)\]])?"
_LENGTH = r"\d[\d.]*(?: ?[(\[][^)\]]*[)\]])? ?(?:cm|mm|in|ins|inches|\")"
_STS = r"(?:sts|stitches|loops)\b"
_CRS = r"(?:rounds?|rnds?|rows?)"
_WORDED = "|".join(NUMBER_WORDS)

# --- waste yarn -----------------------------------------------------------------------------------

_WASTE = (  # words for a yarn that is not the work's own
    r"(?:(?:a|an|the|some|your|another)\s+)?(?:(?:short|small|spare)\s+)?(?:(?:bit|piece|length|strand|scrap)s?\s+(?:of\s+)?)?"
    r"(?:(?:(?:smooth|thin|bright|strong|cotton|colou?red|spare|odd)\s+)*(?:left-?over|scrap|waste|contrast(?:ing)?|spare|odd|other)(?:[- ]colou?r(?:ed)?)?\s+(?:yarn|wool|thread|cotton|string|colou?r)\b"
    r"|(?:(?:smooth|thin|bright|strong|cotton|colou?red)\s+)*(?:yarn|wool|thread|cotton|string)\s+(?:of|in)\s+(?:an)?other\s+colou?r\b|(?:smooth |thin |bright |strong |cotton )*(?:thread|string)\b)"
)
_KNIT = r"(?:k(?=[ \d])|knit|work|purl)"
_HOW_MANY = rf"(?:(?P<n{{0}}>{_N})(?:\s+(?:[a-z]+\s+)?{_STS})?|{_STS} 1 ?[-–] ?(?P<m{{0}}>\d+)|half (?:of )?the {_STS},? (?:that is,? )?(?P<h{{0}}>{_N})(?: of them)?,?)"
_MAIN = r"(?:\s+(?:with|in|using)\s+(?:the|your)?\s*(?:(?:own|working|main|real|proper|sock|original|first)\s+)*(?:yarn|colou?r|wool|mc)\b|\s+in yarn\b)"
_FIRST_MAIN = r"(?:with|in|using)\s+(?:the\s+|your\s+)?(?:(?:own|working|main|real|proper|sock|original|first)\s+)*(?:yarn|wool|mc)\b,?\s+"
_THEM = rf"(?:them|these|those|it|the same)(?:\s+(?:same\s+)?{_N})?(?:\s+(?:[a-z]+\s+)?(?:{_STS}|ones))?"
_BACK = (
    rf"(?:slide|slip|sl|push|put|move|return|place|transfer|take)\s+(?:all\s+)?(?:{_THEM}|the\s+(?:{_N}\s+)?(?:(?:waste|scrap|contrast|colou?red)(?:[- ]yarn)?\s+){_STS})(?:\s+just\s+(?:worked|knit\w*))?\s+"
    r"(?:back\b(?:\s+(?:on(?: ?to)?|to)\s+(?:the\s+)?(?:left(?:[- ]hand)?|other|same)?\s*(?:needle|tip|end)?)?|on ?to the left(?:[- ]hand)? needle(?:\s+again)?|(?:on|to) the left(?:[- ]hand)? needle(?:\s+again)?|on the left(?:[- ]hand)? needle again)"
    r"|(?:(?:go|come) back|return) to (?:the )?(?:start|beginning)(?: of (?:them|these(?: sts| stitches)?|this needle|the [a-z]+(?: needle)?))?"
)
_AGAIN = rf"(?:re-?knit\s+{_THEM}{_MAIN}?|(?:knit|work|k)\s+(?:across\s+|over\s+)?{_THEM}(?:\s+(?:again|once more|over again){_MAIN}?|{_MAIN}|(?=[;,.]|$))|{_FIRST_MAIN}(?:knit|work|k)\s+(?:across\s+|over\s+)?{_THEM})(?:\s+again)?"
_THEN = r"[,;.:]?\s+(?:and,?\s+|then,?\s+|now\s+)*"
_CUT = r"(?:[,;]\s+(?:cut|break)(?:ing)? (?:it|the (?:waste|scrap) yarn)(?: off)?)?"
_NEEDLE = r"(?:\s+(?:on|of|from)\s+(?:the\s+|this\s+)?(?:first|second|front|back|other|next|heel|sole|lower)?\s*needle(?:\s+\d)?)?"
_OVER_WASTE = WordForm(
    rf"(?P<drop>drop the (?:[a-z]+ )?(?:yarn|wool),? (?:and )?)?(?:{_KNIT}\s*(?:across\s+)?(?:the\s+)?(?:(?:next|first|following|last)\s+)?{_HOW_MANY.format(1)}{_NEEDLE}\s+(?:with|in|using|on ?to)\s+{_WASTE}"
    rf"|(?:with|using|in)\s+(?:{_WASTE}|(?:the\s+)?(?P<bare>cotton|string)),?\s+{_KNIT}\s*(?:across\s+)?(?:the\s+)?(?:(?:next|first|following|last)\s+)?{_HOW_MANY.format(2)}{_NEEDLE})"
    rf"(?P<rest>(?:\s+of the (?:round|rnd))?{_CUT}(?:{_THEN}(?:{_BACK})(?:{_THEN}{_AGAIN})?|{_THEN}{_AGAIN})?)(?=\s*(?:[,;.:]|$|and\b|then\b))",
)
_THESE_BACK = WordForm(rf"(?:{_BACK}){_THEN}{_AGAIN}")
_WASTE_STITCHES = WordForm(r"\b(?:waste|scrap|contrast|colou?red)(?:[- ]yarn)? (?:sts|stitches)\b")


def _waste_row(match: re.Match[str]) -> str:
    """Put "with a smooth thread, work the next 24, slide them back and knit them again"."""
    if match["bare"] and not re.search(_BACK, match["rest"], re.IGNORECASE):
        return match[0]  # the yarn of the whole piece, it may be
    many = next(match[key] for key in ("n1", "m1", "h1", "n2", "m2", "h2") if match[key])
    first = "K" if match[0][:1].isupper() else "k"
    said = f"{first}nit {many} sts with waste yarn"
    back = f", slide these {many} sts back to the left needle"
    if re.search(_AGAIN, match["rest"], re.IGNORECASE):
        return f"{said}{back} and knit them again"
    return said + (back if re.search(_BACK, match["rest"], re.IGNORECASE) else "")


def _with_waste(said: MappedText) -> MappedText:
    low = said.text.lower()
    if not re.search(r"yarn|wool|thread|cotton|string|colou?r", low) or "be worked again" in low:
        return said
    if (after := said.sub(_OVER_WASTE, _waste_row)) is not said:
        return after
    if _WASTE_STITCHES.search(said.text):
        return said.sub(
            _THESE_BACK,
            lambda match: (
                f"{'S' if match[0][:1].isupper() else 's'}lip these sts back to the left needle and knit them again"
            ),
        )
    return said


# --- a clause in another order --------------------------------------------------------------------


def _capital(match: re.Match[str]) -> str:
    return match["first"].upper()


def _on_all_needles(match: re.Match[str]) -> str:
    """Put their sum before "you have 10 sts on needle 1, 20 on needle 2 and 10 on needle 3"."""
    told = re.finditer(rf"(?P<n>{_N})(?: {_STS})? on\b", match["all"], re.IGNORECASE)
    parts = [[int(number) for number in re.findall(r"\d+", one["n"])] for one in told]
    many = max(map(len, parts))
    if any(len(part) not in (1, many) for part in parts):
        return match[0]
    first, *others = map(sum, zip(*(part * (many // len(part)) for part in parts), strict=True))
    sizes = f" ({', '.join(map(str, others))})" if others else ""
    return f"{match[1]}There are {first}{sizes} sts: {match['all']}"


def _change_to(match: re.Match[str]) -> str:
    return f"{'C' if match[0][:1].isupper() else 'c'}hange to {match['yarn']}"


def _on_two_needles(match: re.Match[str]) -> str:
    if match["a"] != match["b"]:
        return match[0]
    lead = "With" if match[0][:1].isupper() else "with"
    return f"{lead} a closed cast-on, cast on {match['a']} sts on each needle"


def _wound(match: re.Match[str]) -> str:
    """Put "wrap the yarn around both needles 8 times" as the closed cast-on that it is."""
    lead = "With" if match["way"][0].isupper() else "with"
    sts = f"{match['a'] or match['b']} sts"
    return f"{match['step'] or ''}{lead} a closed cast-on, cast on {sts} on each needle"


def _ribbed(match: re.Match[str]) -> str:
    """Put "rib 20 rounds (k2, p2)" as the round, and how often."""
    ribs = match["ribs"].strip("*()[] .")
    return f"*{ribs}; rep from * to end for {match['n']} {match['course']}"


def _brought_back(match: re.Match[str]) -> str:
    """Put "return the instep sts to the needles" for "then return the instep to the needles"."""
    verb = match["verb"].capitalize() if match[0][0].isupper() else match["verb"]
    return f"{verb} the {match['what']} sts {match['back']}"


def _ridges(match: re.Match[str]) -> str:
    return f"knit {2 * whole_number(match['n'])} rows"


_NOT_ROUND = r"instead of (?:joining|going|working|knitting)(?: a?round| in the round)?"
_PLAN = r"(?:(?-i:MC|CC\d?|[A-E])\b|(?:the )?(?:main|contrast(?:ing)?) colou?r\b|(?:dark|light|white|cream|natural|black|red|blue|green|grey|gray|brown|yellow|navy|teal|pink)\b)"
_NTHS = ("", "first", "second", "third", "fourth")
_BEGIN = r"(?:you )?(?:begin|start|commence)"
_THERE = r"there (?:are|will be|should be)(?: now)?|you (?:now |should )?have(?: now)?|this (?:gives|makes|leaves)(?: you)?"
_LETTER = r"(?-i:[A-HJLOT-W])"
_TURNS = r"(?:by turns|in turns?|alternately|turn and turn about)"
_KIND = r"(?P<kind>inc|dec|shap)(?:reas(?:e|es|ing)|ing|\.)?"
_OF_HAND = r"(?:c\d+[fb]|\d/\d [lr]p?c|t\d+[fb]|m1[lr]|ssk|k2tog|skpo?)"
_HAND = r"\(?(?:(?:for|on) )?(?:the )?(?:left|right)(?:[- ]hand)?(?: (?:mitt\w*|glove|sock|one|hand|foot))?\)?"
_ROWS = Rewordings(
    (said, means)
    for said, means in (
        (
            rf"^(?P<step>\d{{1,2}}[.)] )?(?:\*)?(?P<way>wind|wrap) (?:the )?(?:yarn|wool|working yarn) (?:a)?round (?:both|the two|the) needles (?:(?P<a>{_N}) times|until there are (?P<b>{_N}) (?:loops|wraps|sts|stitches) on (?:each|both)(?: needles?)?)(?=[.,;:]|$)",
            _wound,
        ),
        (
            rf"\b(?:work|rib|work in rib|work rib)(?: for)? (?P<n>{_N}) (?P<course>rounds|rnds|rows)(?: (?:of|in) rib(?:bing)?)?(?:: | \((?=\*?[kp]\d))(?P<ribs>\*?[kp]\d(?: ?tbl)?, ?[kp]\d(?: ?tbl)?)(?:\*?[;,]? rep(?:eat)? (?:from \*)?(?: ?\*)?(?: to (?:the )?end| around| across)?(?: of (?:the )?(?:rnd|round|row))?|\*? around|\))(?=[.;]|$)",
            _ribbed,
        ),
        (  # "Knit all 85 sts, then …": the row, whatever comes behind it
            rf"(?<=: )(?P<verb>knit|k|purl|p|work)(?: across)? all (?:of )?(?:the )?(?P<n>{_N}) {_STS}(?=,? (?:and |then |and then )|, )",
            r"\g<verb> \g<n>",
        ),
        (  # "then with the backward loop method cast on 35 more"
            rf"(?P<lead>, (?:and |then )*)(?P<with>(?:with|using|by) (?:the |a )?[a-z]+(?:[- ][a-z]+)? (?:method|technique|cast[- ]on),?) (?=cast on {_N} (?:more|new|extra))",
            r". \g<with> ",
        ),
        (  # "knit the instep stitches on to one needle"
            r"(?<=instep) (?P<sts>sts|stitches) on ?to (?:one|an?(?:other)?(?: second| new| spare| free| empty| single)?|the (?:second|next|free)) needle\b",
            r" \g<sts>",
        ),
        (  # "Work ribbing, *k2, p2; rep from * to the end of the round, for 12 rounds"
            r"(^|[.:] )(?:work (?:in )?(?:the )?rib(?:bing)?|for the (?:rib(?:bing)?|cuff|brim|welt|band),? (?:work|knit)|rib(?:bing)?)[,:]? \(?\*(?P<rib>[^*;.]+?)(?:\*|[;,] ?rep(?:eat)? from \*)(?: all)? (?:a?round|to (?:the )?end(?: of (?:the )?(?:round|rnd|row))?)\)?,? (?=(?:for|until) )",
            r"\1*\g<rib>; rep from * to end ",
        ),
        (  # "graft the toe, half the stitches against the other half"
            r"(?<=\btoe),? half (?:of )?the (?:sts|stitches) (?:against|to|with|on) the (?:other half|others?)\b",
            "",
        ),
        (
            r"\b(?P<first>[hdsrt])(?:ide|arn|ew|un|uck) (?:in |away )?(?=(?:the |all |any |both |loose )*(?:ends?|tails?)\b(?! of))",
            lambda match: f"{'W' if match['first'].isupper() else 'w'}eave in ",
        ),
        (  # "use the backward-loop method to CO 35 more sts", "use a backward-loop cast-on for 35 more sts"
            rf"\b(?:use|using|with) (?:the |a )?(?P<how>[a-z]+(?:[- ][a-z]+)?) (?:method |technique |cast[- ]on )+(?:to (?:cast on|co|add)|for) (?P<n>{_N})(?= (?:more |new |extra |further )*{_STS}\b)",
            r"using the \g<how> method cast on \g<n>",
        ),
        (  # "N1: k heel sts, pick up 16 sts": all that lie there
            r"(?<=[:;,] )(?:k|knit)(?: across)? (?:the |all )*(?:heel|sole) sts(?=, (?:pick up|then pick up))",
            "knit",
        ),
        (
            r"(?<=[:;,] )(k|knit|p|purl) (?:the )?first (?P<n>\d+(?: ?[(\[][^)\]]*[)\]])?) (?:heel|sole) sts(?=[.;,]|$)",
            r"\1 \g<n>",
        ),
        (r"\bwork back and forth (?:for|over) (?=(?:1|one|\d+) rows?\b)", "work "),
        (
            r"(?:^|(?<=[;.] ))begin working (?=(?:[kp]\d, ?[kp]\d )?(?:rib|garter|moss|seed|stock))",
            "work in ",
        ),
        (
            r"\bturn,? (?:and |then )+(?:work|continue|go on)(?P<how> back and forth| in rows)? (?:on|over) (?:just |only )?these (?P<n>(?:\d+[^.;,]*? )?)(?:sts|stitches)(?: only| alone)?(?: for (?:the )?(?:heel|flap|heel flap))?(?=[.;]|$)",
            r"turn. Work on these \g<n>sts only",
        ),
        (  # short rows that go on, a stitch shorter each
            r"\b(?P<verb>rep(?:eat)?|work) (?:these|the last|last|both) (?:(?:2|two) )?rows,? (?:each time |always |every time )?(?:working|knitting|stopping|wrapping|turning|ending) (?:each time |always )?(?:to |at )?(?:1|one) (?:st|stitch) (?:before|short of|less than) (?:the )?(?:last |previous |next )?(?:wrapped (?:st|stitch)|wrap|ds|double stitch|gap|turn(?:ing point)?|one before)(?: each time)?,? (?=until)",
            "continue in this way, working 1 st less each row, ",
        ),
        (
            r"\b(?:continue|cont|carry on|go on|keep)(?: on)?(?: to)? (?:work(?:ing)?|knit(?:ting)?) (?:(?:1|one) (?:less|fewer) (?:st|stitch)|(?:1|one) (?:st|stitch) (?:less|fewer))(?: (?:each|every|per|on each|on every|in each|in every|at a) (?:time|row))?,? (?=until)",
            "Continue in this way, working 1 st less each row, ",
        ),
        # rounds that a text calls G1, G2 and G3
        (
            rf"^(?:{_LETTER}(\d):|[A-HJLORT-W](\d{{1,2}})\.) (?=(?:\*|\[|[kp]\d|knit|purl|k |p |ssk|sl|work|as |yo|inc|dec))",
            lambda match: f"R{match[1] or match[2]}: ",
        ),
        (
            rf"(?<=[a-z] ){_LETTER}(\d) ?(?P<to>-|–|to|and|&|,) ?[A-HJLOT-W](\d)\b(?!/)",
            r"R\1 \g<to> R\3",
        ),
        (  # "k to last 3 sts of the instep, k2tog, k2, ssk, knit to end": the instep ends no round
            r"\bto (?:the )?last (\d+) (?:(?:sts|stitches) of (?:the )?instep(?: sts| stitches)?|instep (?:sts|stitches))(?=,[^.:;*]*\b(?:k|knit) to (?:the )?end\b)",
            r"to \1 sts before m",
        ),
        # what the instep looks like at its edges
        (
            r"[;,.] (?:they|these|it|this|which|the instep(?: sts| stitches)?) (?:will )?begins? and ends? with (?:an? )?(?:[kp] ?\d|(?:\d+|one|two) (?:knit|purl)(?: sts?| stitch(?:es)?)?|(?:knit|purl) st(?:itch)?)(?=[.;]|$)",
            "",
        ),
        # two pickings up told in one clause, or one in each of so many
        (
            rf"\bpick up(?P<knit> and k(?:nit)?)? (?:1|one) (?:st|stitch) (?:in|from|through|for) each of the (?P<n>{_N}) (?P<loops>(?:[a-z]+ ){{0,3}}?(?:sts|stitches|loops|chains|ridges|bumps))(?: (?:along|down|up|at|on|of) (?:the |this |one |other )*(?:side|edge|flap|heel|heel flap)(?: of the (?:flap|heel))?)?",
            r"pick up and knit \g<n> sts along the flap",
        ),
        (
            rf"\bpick up(?: and k(?:nit)?)? (?P<a>{_N}) (?:sts?|stitch(?:es)?) (?P<where>(?:in|at|along|down|up|from|on)(?: the side of)? (?:the|one) (?:[a-z]+ )?(?:corner|gap|flap|edge|side|heel)(?: of the (?:[a-z]+ )?(?:flap|heel|opening|slit|hole|gap|cuff))?)(?:,? (?:and|plus|then|and then)|,) (?:another )?(?P<b>{_N})(?: more| extra)?(?: sts?)? (?P<there>(?:in|at|along|down|up|from|on)(?: the side of)? the )(?:(?P<other>other)(?=[.;,]| \(|$)|(?=(?:[a-z]+ )?(?:corner|gap|flap|edge|side|heel)))",
            r"pick up and knit \g<a> sts \g<where>, pick up and knit \g<b> sts \g<there>\g<other>",
        ),
        (
            r"(?<!: )\b(?P<w>work|knit|continue|go on|carry on)(?: on)? (?:with|in|using) (?-i:(?P<yarn>[A-E]|MC|CC\d?))(?: yarn)? (?:only|alone)\b(?: from (?:here|now)(?: on)?)?(?=[.,;]|$)",
            _change_to,
        ),
        (
            rf"\b(knit|k|purl|p) back(?: across| over| along| on)?(?: the| these| those| all)* ({_N})(?: [a-z]+)?(?: {_STS})?(?=[.,;:]|$)",
            r"\1 \2 sts",
        ),
        (
            rf"\b(knit|k|purl|p) back(?: across| over| along)?(?: the| these| those| all)*(?: [a-z]+)? {_STS}(?=[.,;]|$)",
            r"\1 to end",
        ),
        (  # "with an empty needle k15, turn"
            r"\b(?:with|using|on ?to) (?:an?(?:other)? |the |one )?(?:empty|free|fresh|new|clean|fifth|5th|separate) (?:needle|dpn),? (?=(?:k|knit|p|purl|work|sl|slip)\b|[kp]\d)",
            "",
        ),
        (
            r"^(?:next|now|then), (?P<first>s|k|p)(?=(?:l|lip|nit|url)? (?:[\d]|one|the first)[^.]*\bturn\b)",
            _capital,
        ),
        (
            rf"\b(g|c|k)(?:o on|arry on|eep on|eep going|ontinue)(?: working| knitting)?(?: with| in)? (?=(?:these|the last|those) (?:\w+ )?{_CRS} (?:un)?til\b)",
            lambda match: "Rep " if match[1].isupper() else "rep ",
        ),
        (
            rf"\bwith (?:one|a|the first) needle,? pick up (?P<a>(?:the )?{_N} {_STS} [^.;,]*),? and (?:then )?with (?:a|the|another)(?: second| other| 2nd)?(?: needle)?,? (?:pick up )?(?=(?:the )?{_N} {_STS})",
            r"pick up \g<a> and ",
        ),
        (
            rf"\b(knit|k|work)(?: across)?(?: all)?(?: the)?(?: {_N})? {_STS} (?:of|on|from) (?:the )?(?P<nth>first|second|third|fourth) needle\b(?=[,;.]|$| and\b)",
            lambda match: f"{match[1]} across needle {_NTHS.index(match['nth'].lower())}",
        ),
        # the stitches of a part, and all of them
        (
            rf"(^|\. )(?:{_THERE}) (?:{_N}) {_STS} (?:between|for|in|on) (?:the )?(?:two )?(?:(?:thumb )?markers|(?:thumb )?gusset|thumb|instep|sole)(?: sts)?(?:,? and|[,;]) ?(?P<n>{_N})(?: {_STS})? (?:in all|in total|altogether|all told|on the needles?)\b",
            r"\1There are \g<n> sts in all",
        ),
        (
            rf"(^|\. )(?:{_THERE}) (?P<n>{_N}) {_STS} (?:in all|in total|altogether),? (?:(?:and|with|of which|of these|including) )*{_N}(?: of (?:them|these|which))?(?: (?:are|lie))? (?:between|in) (?:the )?(?:two )?(?:markers|gusset)(?=\.|$)",
            r"\1There are \g<n> sts in all",
        ),
        (
            rf"(^|\. )(?:{_THERE}) (?P<all>{_N}(?: {_STS})? on (?:the )?needle 1(?:,? and |, ){_N}(?: {_STS})? on (?:the )?needle 2(?:,? and |, ){_N}(?: {_STS})? on (?:the )?needle 3(?:(?:,? and |, ){_N}(?: {_STS})? on (?:the )?needle 4)?)(?=\.|$)",
            _on_all_needles,
        ),
        (  # "Later, take out the waste yarn": when does not matter
            r"^(?:later(?: on)?|(?:\w+ )?(?:weeks|days) later|afterwards|thereafter|when heel time comes|to (?:begin|start)(?: (?:at|from) the (?:toe|cuff|top|edge|bottom)| with)?|to (?:finish|end)|in the end|at last|first of all),? ?:? (?P<first>[a-z])(?=[a-z]* )",
            _capital,
        ),
        (
            rf"\b(?:cast|set) (?P<a>{_N}) {_STS} on(?: ?to)? (?:the |a )?(?:first|1st|one|top|upper) needle,? and (?:then )?(?P<b>{_N})(?: {_STS})? on(?: ?to)? (?:the |a )?(?:second|2nd|other|another|bottom|lower)(?: needle)?",
            _on_two_needles,
        ),
        (
            rf"\bcast ({_N}) (?:new |more |extra |further )?({_STS}) on\b(?: ?to the (?:left|right|same|working)(?:[- ]hand)? needle)?",
            r"cast on \1 sts",
        ),
        (
            rf"\bcast ({_N}) (?:new |more |extra |further )?({_STS}) onto (?:the )?(?:left |right |same |working )?(?:[- ]hand )?needle",
            r"cast on \1 sts",
        ),
        (
            rf"((?:^|[,;:.] ?))({_N}) {_STS} (?:are )?cast on and (?:are )?joined\b(?: (?:in|into) (?:a |the )?(?:round|rnd|ring|circle))?",
            r"\1cast on \2 sts and join",
        ),
        (rf"((?:^|[,;:.] ?))({_N}) {_STS} (?:are )?cast on\b", r"\1cast on \2 sts"),
        (
            rf"(^|[:.] )(?:{_BEGIN}) (?:by |with )?casting on (?=(?:loosely )?{_N}\b)",
            lambda match: f"{match[1]}Cast on ",
        ),
        (
            rf"(^|[:.] )(?:{_BEGIN}) (?:with|from) ({_N}) {_STS},? cast on\b(?: (?:loosely|tightly|firmly))?",
            r"\1Cast on \2 sts",
        ),
        (
            rf"(^|[:.] )you (?:will )?need ({_N}) {_STS} on (?:your|the) needles?[.;:,] ?cast them on(?: now)?\b",
            r"\1Cast on \2 sts",
        ),
        (
            rf"\b(?:make|put|wind|loop|get|set up|place) ({_N}) (?:loops|{_STS}) (?:on|onto|on to) (?:the |your |a |one )needles?\b(?=(?: (?:by|with|using|in) [^.;,]*?method)?(?: and (?:close|join)|[.;,]|$))",
            r"cast on \1 sts",
        ),
        (
            rf"\bcast ({_N}) {_STS} (?:on ?to|on) (?:one|a single|a) needle,? (?:and )?(?:then )?(?:spread|divide|share|distribute|arrange) (?:them|these) ",
            r"cast on \1 sts, divided ",
        ),
        (
            r"\b(?:close|bend|form|make|join|bring|turn)(?: (?:them|it|these|up))? (?:to|into|in) (?:a|the) (?:ring|circle)\b|\b(?:make|form) (?:a|the) (?:ring|circle)(?: (?:of|from|with) (?:them|it|these))?(?=[.,;]|$)|\b(?:close|form|make)(?: (?:them|it|these|the (?:sts|stitches)))? into a round\b|(?:^|(?<=[.;] ))(?:close|form|complete) (?:the|a) (?:ring|circle|round)\b(?=[.,;]|$)",
            "join in the round",
        ),
        (
            rf"^(?:start|begin) with ({_N}) {_STS} (?:in|by|using|from) (?=(?:an? |the )?(?:[a-z-]+ )*cast-on\b)",
            r"Cast on \1 sts with ",
        ),
        # both halves, one after the other
        (
            r"(?<=[:–—-] )(?P<body>(?:k|p|ssk|skpo?|m1|kfb|sl|yo)[^.;:*()\[\]]*?)[,;] ?(?:and )?(?:then )?(?:(?:(?:do|work|knit) )?(?:exactly )?(?:the )?same(?: again)? (?:on|for|over|across|along|with)|rep(?:eat)? (?:this |it |all )?(?:on|for|over|across|along|with)|again (?:on|for|over|across|along)|likewise (?:on|for|over|across)) (?:the )?(?:second|other|next|2nd|sole|lower|bottom) (?:needle|half|side|tip|one|stitches|sts)\b",
            r"(\g<body>) twice",
        ),
        (
            r"(?<=[:–—-] )(?P<body>(?:k|p|ssk|skpo?|m1|kfb|sl|yo)[^.;:*()\[\]]*?)[,;] ?and (?:all )?(?:once more|again|once again)(?=[.;(]|$)",
            r"(\g<body>) twice",
        ),
        (r"\blast (\d+ (?:sts|stitches)) on (?:the|that|this|each) needle\b", r"last \1"),
        (
            r"\b(?:knit|k|work)(?: plain)? (?:across |over )?(?:both|all)(?: (?:of )?the| your)?(?: two| three| four| \d)? needles once(?: (?:more|again|plain))?(?=[.;,]|$)",
            "knit 1 round",
        ),
        (
            r"(\*[^*]+\*)[,;] (?:(?:and )?then )?(?:on |in )?(?:the )?next (round|rnd|row):? (?=\*|k|p|ssk|sl)",
            r"\1. Next \2: ",
        ),
        (
            r"\b(knit|k|work(?! over)|purl)(?: on)? (?:round|around|over|along) (?:the )?(?:other|remaining|rem|next) (?=\d)",
            r"\1 ",
        ),
        (
            rf"\b(?:knit|k|work) the {_N} {_STS} (?:of|on|from) the (?:top|upper|first|front) needle,? (?:and )?then the (?:other )?{_N}(?: {_STS})? (?:of|on|from) the (?:lower|bottom|second|other|back)(?: one| needle)?(?: through (?:the|their) backs?(?: loops?)?)?",
            "knit 1 round",
        ),
        (
            r"^join and (?:knit|work) (?:the )?(?:foot |leg |body |cuff )?in (?:rounds|rnds|the round)\b",
            "Join in the round",
        ),
        (
            r"(^|[.;] )work 1 st (less|fewer|more) (?:in|on) (?:each|every) row,? ",
            r"\1Go on like this, working 1 st \2 on each row, ",
        ),
        (r"\buntil (\d+ sts) are not wrapped\b", r"until \1 are left unwrapped"),
        # ridges are two rows each
        (
            rf"\b(?P<verb>knit|work)(?: (?:un)?til (?:there are|you have))? (?P<n>\d+|{_WORDED}) (?:more |further )?(?:garter )?ridges\b(?: more)?(?: on the (?:right|front)(?: side)?| of garter st(?:itch)?)?",
            _ridges,
        ),
        (
            r"\b(knit|k|work) (?:needle |n)1 (?:once more|again)\b,? (?:and )?then turn the heel on (?:needle |n)2\b",
            r"\1 across needle 1. The heel is worked on needle 2 only",
        ),
        (r"(?<=, )with ([A-Z][a-z]+), (?=work in pattern)", r"with \1 "),
        (r"\b(w)ork it again\b", r"\1ork the shaping row again"),
        (
            r"\b(?:on|over) the (?:centre|center|middle) (?=\d+ ?(?:[(\[][^)\]]*[)\]] ?)?(?:sts|stitches)\b)",
            "on these ",
        ),
        (
            r"\b(?:then )?(?<!\bto )finish (?:off )?(?:the |this )(?:round|rnd|row)(?: (?:in|as) [a-z ]+?)?(?=[.,;]|$)",
            "knit to end",
        ),
        (
            rf"\b(work|continue|cont|go on|begin)(?: in)? (k ?\d,? p ?\d) rib (?:over|on|across) (?:all )?(?:of )?the {_N} {_STS}(?=[.,;]|$)",
            r"\1 in \2 rib",
        ),
        (
            rf"^((?:the )?(?:heel )?flap (?:is|will be) (?:knit(?:ted)?|worked|made) (?:over|on|across) the (?:last|first) {_N} {_STS})(?: of the (?:rnd|round))?(?:,? (?:beginning|starting) (?:on|with) (?:the |a )?(?:wrong|right)[ -]side(?: row)?)?(?:[:,;]? (?:and )?turn)?(?:,? (?:and )?(?:leave|leaving|let) the (?:other|remaining|rest)[^.;]*)?(?=\.|$)",
            r"\1 only",
        ),
        (r"\b(row|rnd|round)(?: for)? (?:a|the|one) last time\b", r"\1 once more"),
        (
            r"\b(?P<then>then )?(?P<verb>return|put|bring|slip|take|place) the (?P<what>instep|sole|heel|held|resting|waiting|thumb) (?P<back>(?:back )?(?:to|on|onto|on to) (?:the |your )(?:working )?needles?)(?=[.:;,]|$)",
            _brought_back,
        ),
        (
            rf"^every (?P<o>(?:\w+ )?){_CRS} (?:do|work|repeat) (?:the same|this|it|likewise)(?: again)? (?P<t>\w+ times|twice)",
            r"Work the shaping round every \g<o>round \g<t>",
        ),
        (
            r"\brep(?:eat)?(?: from)? \* to \*(?: (?:at|to|for) (?:each|every) (?:marker|needle))?",
            "rep from *",
        ),
        (
            r"\bwork the knit (?:sts|stitches)(?: knitwise)? and slip the slipped (?:ones|sts|stitches)(?:,? (?:with )?(?:the )?yarn (?:in|at) (?:front|back))?",
            "work in pattern",
        ),
        (r"\bwith (?:the )?yarn behind(?: the work)?\b", "with yarn in back"),
        # shaping and plain rounds by turns
        (
            rf"\b(?:a|one|1) (?:plain )?{_CRS} (?:plain )?and (?:an?|one|1) (?:{_CRS} of )?{_KIND}(?: {_CRS})? (?:follow (?:each other|one another)|alternate|take turns|(?:are )?(?:worked )?{_TURNS}),? (?=(?:un)?til)",
            r"Work the \g<kind> round every other round ",
        ),
        (
            rf"\bwork (?:the |an? |one )?{_KIND} (?P<c>{_CRS}) and (?:a|one|1|the) plain (?:{_CRS}|one) (?:{_TURNS})",
            r"Work the \g<kind> \g<c> every other \g<c>",
        ),
        (
            rf"\b(?:follow|alternate) (?:every|each|the|one) {_KIND} (?P<c>{_CRS}) (?:with|by|and) (?:a|one|1) plain (?:one|{_CRS})",
            r"Work the \g<kind> \g<c> every other \g<c>",
        ),
        (
            rf"\b(?:knit|work) (?:a|one|1)(?: plain)? {_CRS}(?: plain)? (?:after|between) (?:each|every)(?: such| of (?:these|them))?(?: {_CRS})? and (?:repeat|rep|go on|continue) (?=(?:un)?til)",
            "Rep the shaping round every other round ",
        ),
        (
            rf"\b(?:leave out|omit|drop|skip|without) the plain {_CRS} (?:now )?and (?:repeat|rep|go on|continue) (?=(?:un)?til)",
            "Rep the shaping round ",
        ),
        (
            rf"\balternate these(?: two| 2)?(?: {_CRS})? (?=(?:un)?til)",
            "Rep these 2 rows ",
        ),
        (
            rf"(^|[.;:] )alternate (?=(?:un)?til (?:there are )?{_N} (?:sts|stitches))",
            r"\1Rep these 2 rows ",
        ),
        (rf"\b(?:un)?til ({_N} (?:sts|stitches))(?= ?[,.;]| again| only|$)", r"until there are \1"),
        (  # "knit in the stripe pattern for 32 rounds", "knit in stripes until …"
            rf"\b(knit) in (?:the |your |these )?stripes?(?: pattern| sequence)? for (?=\d)(?=[^.;]*\b{_CRS}\b)",
            r"\1 ",
        ),
        (
            r"\b(knit) in (?:the |your |these )?(stripes?(?: pattern| sequence)?)\b(?= (?:until|till|for)\b)",
            r"\1 every round in \2",
        ),
        (  # "knit 8 heel sts to the center of the heel, where the rnd now begins"
            rf"\b((?:k|knit) ?(?:the (?:first |next |other )?)?{_N})(?: (?:heel|sole|more))*(?: (?:sts|stitches))? (?:(?:up |as far )?(?:to|as)|to reach|which (?:takes|brings) you to|ending at) (?:the )?(?:cent(?:er|re)|middle)(?: (?:back|of (?:the )?(?:heel|sole|foot|flap)))?(?:,? where (?:the |each |every )?(?:new )?{_CRS} (?:now )?(?:begins?|starts?))?(?=[.;,(]|$)",
            r"\1",
        ),
        (
            r"\b(k|knit|work) (?:across )?(?:the )?(?:instep|heel|sole|palm|back|front|top)(?: sts| stitches)? (?:up )?to (?=(?:the )?(?:(?:next|first|second|third|other|last|1st|2nd|3rd) )?(?:marker|m\b))",
            r"\1 to ",
        ),
        (  # "knit to the end of needle 1, knit needle 2, then knit needle 1 and needle 2 once more"
            r"\b(knit|k|work) (?:across |to (?:the )?end of )(?:the )?needle 1[,;]?( and)?( then)? (?:knit|k|work) (?:across )?(?:all )?(?:(?:the )?(?:sts|stitches) (?:of|on) )?needle 2(?=[,.;]|$| and\b)",
            r"\1 to the end of needle 1, knit across needle 2",
        ),
        (
            r"\b(?:knit|k|work) (?:across )?(?:needles? 1 and (?:needle )?2|both needles) (?:once more|once again|again|one more time)\b",
            "knit 1 complete round",
        ),
        (  # "work 4 rounds of k2, p2 rib and bind off the 40 sts in rib"
            rf"\b((?:work|knit) {_N} {_CRS} (?:of|in) [^.;:*]*?),? (?:and|then) (?:then )?(bind|cast) off (?=all\b|the\b|loosely|in\b|\d)",
            lambda match: f"{match[1]}. {match[2].capitalize()} off ",
        ),
        (
            rf"\b(bind|cast) off (?:the|these) ({_N} (?:sts|stitches)) (?=(?:loosely )?in (?:rib|patt)|loosely)",
            r"\1 off all \2 ",
        ),
        (  # "join the yarn at a corner", which is no name of a yarn
            r"\b((?:re-?)?join (?:the )?(?:new |main |working )?yarn) (?:at|in|on|to) (?:a|one|the|this|either) (?:(?:first|right|left|lower|upper|bottom|top|same) )?(?:corner|gap|edge|end|side|hole|opening)(?=[.;,]|$| and\b)",
            r"\1",
        ),
        (  # "work in pattern to first thumb marker, sm, m1L"
            r"\b(to|before|after|past) ((?:the )?(?:first|next|second|last|other|1st|2nd)) (?:thumb|gusset|palm|side|sole|instep|toe|heel|crown|stitch|seam) (?=(?:markers?|m)\b)",
            r"\1 \2 ",
        ),
        (
            r"(?:\bwork (?:even )?(?:(?:in )?(?:the )?(?:pattern|patt|lace|cable|mesh|colou?rwork)(?: pattern| patt)?|as (?:set|established|est))|(?<=[:,] )(?:lace|cable)(?: pattern| patt)?)(?: as (?:set|est\w*))? to (?=(?:the )?(?:(?:(?:first|next|second|last|other|1st|2nd) )?(?:(?:thumb|gusset|palm|side) )?(?:marker|m)\b|last (?:\d+ )?(?:sts?|stitch(?:es)?)\b),)",
            "work to ",
        ),
        (r"(?<=\d\) )time\(s\)|(?<=\d )time\(s\)", "times"),
        (r"\b(you)'re\b", r"\1 are"),
        (r"\b(you)'ve\b", r"\1 have"),
        (r"\b(you)'ll\b", r"\1 will"),
        (  # "work these two by turns until …"
            rf"\b(work|repeat|rep|knit|do|alternate) (these|those) (two|2|three|3|four|4)(?: (?:by turns|alternately|in turns?|over and over))? (?=until|till|{_N} times|\w+ times|twice)",
            r"\1 \2 \3 rounds ",
        ),
        (  # "until you are back to 60 sts, which is 10 decrease rounds"
            rf"(?<=sts|hes|ain| in) ?,? (?:which|that) (?:is|are|makes?|means|takes) (?:{_N}|\w+) (?:dec|inc|shap)\w*\.? {_CRS}(?: in all)?(?=\.|$)",
            "",
        ),
        (  # "k6 for back of hand; pm; k22 for palm"
            rf"\b((?:k|knit|p|purl|work) ?{_N}(?: (?:sts|stitches))?) for (?:the )?(?:back(?: of (?:the )?hand)?|palm|front|sole|instep)(?=[;,] ?(?:pm|place (?:a )?m(?:arker)?)\b)",
            r"\1",
        ),
        (
            rf"((?:pm|place (?:a )?m(?:arker)?)[;,] (?:and )?(?:k|knit|p|purl|work) ?{_N}(?: (?:sts|stitches))?) for (?:the )?(?:back(?: of (?:the )?hand)?|palm|front|sole|instep)(?=[;,.]|$)",
            r"\1",
        ),
        (  # "stop the cable and knit all sts from here: work dec rnd on every rnd until …"
            rf"(^|[.;] )(?:stop|end|leave off|drop) the (?:cables?|lace|pattern|chart)(?: panel)?,? (?:and|then) (?:knit|k|work) all (?:the )?(?:sts|stitches)(?: plain| in st st)? from (?:here|now)(?: on)?[:;,] (?:work|repeat|rep) (?=(?:the )?(?:dec|inc|shap)\w* {_CRS})",
            lambda match: f"{match[1]}Work ",
        ),
        (  # "rejoin yarn, k across, pick up and k 1 st in the gap"
            r"((?:^|[.;] )(?:re)?join (?:the )?(?:yarn|mc|cc)(?: at [a-z ]+)?), (?:and )?(?:k|knit) across(?: (?:them|these|those|all|the sts))?(?=[,;] (?:and |then )*pick up)",
            r"\1. Knit across",
        ),
        (
            r"((?:^|[.;] )(?:re)?join (?:the )?(?:yarn|mc|cc)(?: at [a-z ]+)?), (?:and )?pick up (?=and k)",
            r"\1. Pick up ",
        ),
        (r"\b(work|knit|k) to (?:the )?palm (?=(?:marker|m)\b)", r"\1 to "),
        (  # "join in the round again; all 42 sts are worked"
            rf"\b(?:re-?)?join (?:again )?(?:(?:to|and) (?:work|knit) )?(?:in|into|for) (?:the )?{_CRS}(?: again| once more)?(?:,? (?:over|on|across|and work(?:ing)? on|with) |[;:,.] )all (?:of )?(?:the )?({_N}) (?:sts|stitches)(?: are (?:now )?(?:worked|in work|used|on the needles?)(?: again)?)?(?=[.;,]|$)",
            r"Join to work in the round again. \1 sts",
        ),
        (
            rf"\b(?:(?:now|from (?:here|now)(?: on)?|{_NOT_ROUND}),? )+turn(?: the work)? (?:at the end of|after) (?:(?:each|every) {_CRS}(?: {_NOT_ROUND})?|(?=the {_CRS}[^.;]* and )the {_CRS})(?:,? (?:and|to) (?:then |now )?(?:work|knit|go|continue) (?:in rows|flat|back and forth|to and fro)(?: in rows)?(?: from (?:here|now) on)?)?(?=[.;]|$)",
            "Now work back and forth in rows",
        ),
        (  # "knit the foot sts, pick up 1 st in the corner, knit the leg sts, …"
            rf"\b(knit|k) (?:across )?(?:the )?({_N} )?(?:foot|sole|toe|leg|cuff|ankle|bottom|near|first|front)(?:[- ]side)? {_STS}((?:,| and|, and| then)+ pick up[^.;]*?)\b(knit|k) (?:across )?(?:the )?({_N} )?(?:foot|sole|toe|leg|cuff|ankle|top|far|second|back|other)(?:[- ]side)? {_STS}",
            lambda match: (
                f"{match[1]} the {match[2] or ''}lower sts{match[3]}{match[4]} the {match[5] or ''}upper sts"
            ),
        ),
        (rf"\b((?:another|a further|further) {_N}|{_N} (?:more|further)) time\b", r"\1 times"),
        (  # "work 5 cm in rib as set: 3 rounds MC, 2 rounds CC, then MC to the end"
            rf"(?P<far>\b\d[\d.]*(?: ?[(\[][^)\]]*[)\]])? ?(?:cm|mm|in|ins|inches|\")[^:;.*]{{0,30}}): (?:(?:and |then )*{_N} {_CRS} (?:of |in |with )?{_PLAN}(?:,| and|;)* ?)+(?:(?:and |then )*(?:with |in |all )?{_PLAN}(?: (?:to (?:the )?(?:end|top)|for the rest|from there(?: on)?|throughout|again))?)?(?=[.]|$)",
            r"\g<far>",
        ),
        (  # "Increase round. Slip marker, m1, …"
            r"^((?:(?:increas\w+|decreas\w+|inc|dec|set-?up|next|last|first|foundation|joining|thumb) (?:round|rnd|row)|(?:rounds?|rnds?|rows?) \d+(?:(?: ?[-–,&] ?| and | to )\d+)*))\. (?=[A-Z*(\[])",
            r"\1: ",
        ),
        (  # "k every rnd to 5 cm", "until 2 in above the 2 CO sts"
            rf"\b(k|knit|work)( (?:straight|even|plain)| (?:every|all|each) {_CRS})? to ({_LENGTH})(?! (?:before|less|short|from the (?:end|edge|marker|first|last)))(?=[ .;,]|$)",
            r"\1\2 until work measures \3",
        ),
        (
            rf"\b(until (?:[a-z ]{{0,30}}?)?{_LENGTH}) (above|from|past|beyond|after) the \d (?:CO|cast-on|cast on|new|extra) sts\b",
            r"\1 \2 the thumb cast-on",
        ),
        (  # "work 5 cm of rib: k1, p1 all round"
            rf"\b(?:work|rib|knit) ({_LENGTH}|{_N} {_CRS})(?: (?:of|in) (?:rib|ribbing))?: ?\*?((?:[kp] ?\d,? (?:and )?)+[kp] ?\d)\*?(?:[,;] rep(?:eat)? from \*)?(?: (?:all |the whole )?(?:a?round|across)| to (?:the )?end)+(?=[.;]|$)",
            r"work \1 of \2 rib",
        ),
        (  # a folded brim: "knit next st together with the CO loop behind it"
            r"\b(?:k|knit) (?:the )?next (?:st|stitch) tog(?:ether)? with [^;.*]*?\b(?:co|cast[- ]on)\b[^;.*]*(?=[;.*])",
            "k1",
        ),
        (
            r"\b(?:k|knit) (?:each|every) (?:st|stitch) tog(?:ether)? with [^;.*]*?\b(?:co|cast[- ]on)\b[^;.*]*(?=[;.*])",
            "knit to end",
        ),
        (  # "rep 1st and 2nd rib rows 4 times"
            rf"\b(rep(?:eat)?|work) (?:the )?(?:(?:1st|first) and (?:2nd|second) rib {_CRS}|rib {_CRS} 1 and 2|(?:1st|first) and (?:2nd|second) {_CRS} of (?:the )?rib)",
            r"\1 rows 1 and 2 of rib",
        ),
        (  # "C6F for right mitt or C6B for left mitt": the first hand is worked, and its stitches counted
            rf"\b({_OF_HAND}) {_HAND}(?:,? or|,? and|;|,| /) ({_OF_HAND}) {_HAND}|\b({_OF_HAND}) [(\[](?:{_OF_HAND} {_HAND}|{_HAND}:? {_OF_HAND})[)\]]",
            lambda match: match[1] or match[3],
        ),
        (rf"\b(on|in) alt(?:ernate)?\.? (?={_CRS})", r"\1 every alt "),
        (  # "knit one round, placing a marker after every 15 sts; the beginning marker is the fourth"
            rf"\b(?:knit|k|work)(?: (?:1|one|a) (?:more )?(?:plain )?(?:round|rnd)|(?<=(?:rnd|und): knit)(?: to end| around)?),? (?:and )?(?:plac|place|put|putt|hang|add|set|sett)(?:ing)? (?:(?:a|1|one|{_N}) )?markers?(?: (?:after|at|for))?,? (?:(?:every|each) ({_N})(?:th|st|nd|rd)? (?:sts?|stitch(?:es)?)|({_N}) (?:sts|stitches) apart)(?: ?\(\d+ markers(?: in all)?\)|, \w+ markers(?: in all)?)?(?:[;,] (?:so )?(?:that )?(?:the |your )?(?:beg\w*|round|first|last)[^.;:]*\bmarker\b[^.;:]*)?",
            lambda match: f"*k{match[1] or match[2]}, pm; rep from * to end",
        ),
        (
            rf"^((?:rounds?|rnds?|rows?) {_N}(?: ?[-–,&] ?\d+| and \d+)*) (?:are|is) (?:worked again|repeated) (?=(?:un)?til|to|twice|\w+ times)",
            r"Repeat \1 ",
        ),
    )
)


def said_usually(said: MappedText) -> MappedText:
    """Return a line with the order of words that the rules know."""
    return _ROWS.put_in(
        with_repeats(
            with_plain_talk(with_heels(with_bands(_with_waste(with_odd_and_even(spelt_out(said))))))
        )
    )
