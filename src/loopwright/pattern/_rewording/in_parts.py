# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rounds given part by part of a sock, and stitches given as a list with "four times" behind
it.
"""

from __future__ import annotations

import re

from loopwright.pattern._rewording.dealt_out import with_needles_in_order
from loopwright.pattern._rewording.for_places import without_places
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.needle_by_needle import with_needles_ahead
from loopwright.pattern._rewording.tables import Rewordings
from loopwright.pattern._rewording.wordings import COLOUR
from loopwright.pattern._words import whole_number

__all__ = ["with_usual_parts"]

_N = r"\d+(?:\.\d+)?(?: ?[(\[][^)\]]*[)\]])?"
_STS = r"(?:sts?|stitch(?:es)?)"
_COUNTED = rf"(?:{_N}|two|three|four|five|six)"
_MANY = r"\d+|two|three|four|five|six|seven|eight|nine|ten|twelve"
_ITEM = r"(?:(?:slip|sl|knit|k|purl|p) ?\d+(?: tog(?:ether)?)?|ssk|skp|k2tog|p2tog|yo|m1|kfb)"
_YARN = r"(?:MC|CC\d?|[A-EM])\b"
_ON_INSTEP = rf"(?:across|over|on|along|for) (?:the )?instep(?: {_STS}\b)?"
_ITS_END = rf"(?:of|on|from|before) (?:the )?(?:end of (?:the )?)?instep(?: {_STS}\b)?"
_FIRST_HALF = (
    r"(?:needle [12]|next needle|instep|sole|front|back|first half|top half|top of (?:the )?foot)"
)
_PLACE = r"(?:instep|sole|front|back|palm|needle \d)"
_TOOL = (  # a needle told by what lies on it: "the needle that has the heel sts on it"
    r"(?:the|a|an|another|this|that|your) (?:(?!first|second|third|fourth|next|last|instep|other)[a-z]+ ){0,2}(?:needle tip|needle|dpn|tip)"
    r"(?: (?:(?:that|which) )?(?:holds|holding|has|having|with|carries|carrying|bears|bearing) (?:the |your )?(?:rem(?:aining)? )?(?:heel|flap|turn)(?: flap)?(?: sts| stitches)?(?: on it)?)?"
    r"(?: (?:in|held in) (?:the|your) (?:right|left) hand)?"
)
_OTHER_HALF = r"(?:needles 3 (?:and|&) 4|needle 2|sole|instep|front|back|top of (?:the )?foot|second half|other half|bottom half)"


_BAND = rf"(?:(?:k|knit|work) )?(?P<n{{0}}>\d{{{{1,2}}}}) (?:rounds?|rnds?) (?:with |in |of )?(?P<y{{0}}>{_YARN}|(?:{COLOUR}|(?-i:[A-Z][a-z]{{{{2,12}}}}))\b)"


def _two_stripes(match: re.Match[str]) -> str:
    """Put "*knit 6 rounds MC, 2 rounds CC; rep from * 7 more times" as numbered rounds."""
    if match["open"] != "*" and match["times"] is None:
        return match[0]
    first, last = int(match["n1"]), int(match["n1"]) + int(match["n2"])
    one = f"Rounds 1-{first}: " if first > 1 else "Round 1: "
    two = f"Rounds {first + 1}-{last}: " if last > first + 1 else f"Round {last}: "
    more = {"once": "1", "twice": "2"}.get((match["once"] or "").lower(), match["more"])
    if match["stripes"]:
        if any(int(n) % 2 for n in re.findall(r"\d+", match["stripes"])):
            return match[0]
        more = re.sub(r"\d+", lambda n: str(int(n[0]) // 2 - 1), match["stripes"])
    elif match["times"]:
        more = re.sub(r"\d+", lambda n: str(int(n[0]) - 1), _figure(match["times"]))
    return f"{one}With {match['y1']}, knit. {two}With {match['y2']}, knit. Rep Rounds 1-{last} {more} more times"


def _stripes_of(match: re.Match[str]) -> str:
    many = 2 if match[5].lower() == "twice" else whole_number(match[5])
    return f"*knit {match[1]} rounds {match[2]}, {match[3]} rounds {match[4]}; rep from * {many - 1} more times"


def _needle_named(said: re.Match[str]) -> str:
    """Return "needle 1:" for "with the first needle"."""
    number = {"f": "1", "s": "2", "t": "3"}.get(said[2][0].lower(), said[2][0])
    return f"{said[1]}needle {'4' if said[2].lower() == 'fourth' else number}: "


def _begun(said: re.Match[str]) -> str:
    return said[1] + said[2].capitalize()


def _loops_taken(said: re.Match[str]) -> str:
    is_told = said["rs"] and ":" not in said[1]  # behind a needle's name the right side faces
    return f"{said[1]}with {said['rs']}, " if is_told else said[1]


def _two_rows(said: re.Match[str]) -> str:
    course = said[1].capitalize()
    return f"{course} 1: {said[2]}. {course} 2: "


def _to_last(said: re.Match[str]) -> str:
    return f"to last {_figure(said[1])} sts"


def _figure(count: str) -> str:
    return count if count[0].isdigit() else str(whole_number(count))


_ROW_NAMED = r"(?:the (?:next|first) (?:rnd|round|row)|(?:rnd|round|row) \d{1,2})(?: of (?:the )?(?:[a-z]+ )?(?:patt(?:ern)?|leg|lace|rib|chart))?"
_PICKS = re.compile(r"\b(?:pick|picking) up\b|\bpu&k\b", re.IGNORECASE)


def _instep_in_row(said: re.Match[str]) -> str:
    """Put the instep that is worked by a row of its pattern, amid loops that are picked up."""
    named = said["do2"] or said["as"] or re.search("over|across|on", said[0])
    if (
        not named
        or not re.search(r"\b(?:rnd|round|row)\b", said[0].lower())
        or not _PICKS.search(said.string)
    ):
        return said[0]
    return f"{said['do'] or said['do2']} the {said['n'] or said['n2'] or ''}instep sts in patt"


def _onto(said: re.Match[str]) -> str:
    """Put the stitches of a needle that are knitted onto another, and how many each has then."""
    each = said["each"]
    whole = re.sub(r"\d+", lambda n: str(2 * int(n[0])), each) if each else ""
    return f"{said['knit']} across needle 1{f'. {whole} sts' if whole else ''}"


def _along(match: re.Match[str]) -> str:
    """Put what takes a lining or a flap along in words of its own: it is no part of a row."""
    if match["else"] and not (match["place"] or match["instead"]):
        return match[0]
    how = "purl" if match["how"][0] in "pP" else "knit"
    some = f"{match['n']} " if match["n"] else ""
    rest = f". {match['next'].upper()}" if match["next"] else ""
    return f". Take along the {some}waiting sts in {how}{rest}"


_PARTS = Rewordings(
    (said, means)
    for said, means in (
        (  # "with the third needle knit the 5 sts of the first needle"
            rf"(?P<before>^|[.;] )(?:and |then |now |finally,? )?with (?:the )?(?:(?:third|3rd|fourth|4th|last) needle|needle [34]),? (?:knit|k) (?:across )?(?:the )?(?:{_N} )?(?:{_STS} (?:of|on|from) (?:the )?(?:(?:first|1st) needle|needle 1)|(?:first|1st) needle's {_STS})(?=[.;]|$)",
            r"\g<before>knit the sts of needle 1 onto needle 3",
        ),
        (  # "K N1 onto N3", "knit the sts of needle 1 onto needle 3—8 (10) sts each on 2 needles"
            rf"\b(?P<knit>k|knit) (?:across )?(?:the )?(?:{_STS} (?:of|on|from) )?(?:the )?(?:needle 1|n ?1|(?:first|1st) needle)(?: {_STS})? on ?to (?:the )?(?:needle \d|n ?\d|(?:third|3rd|fourth|4th|last)(?: needle)?)\b(?:[,;:—–-]* ?(?:so that )?(?P<each>{_N}) {_STS}(?: lie| are)? (?:each on|on each of) (?:the )?(?:two|2|both)(?: needles)?)?",
            _onto,
        ),
        (  # "RS is facing. N1: pick up and knit 16 sts": the needles first
            r"^(?:(?:with|the|now) )*(?:rs|right side)(?: of (?:the )?(?:work|heel))? (?:is )?facing(?: you)?[,.:;]? (?=(?:n ?|needle )1: )",
            "",
        ),
        (
            r"\b(on ?to|on|to) an? (?:second|third|new) ((?:stitch )?holder)(?=,? and in (?:their|its) (?:place|stead))",
            r"\1 a \2",
        ),
        (  # "slip the next 20 sts to a holder and in their place knit the 20 sts of the lining"
            rf"(?P<b>,|;)?(?P<and> and)? (?:(?:then|and) )?(?P<place>in (?:their|its) (?:place|stead),? )?(?P<how>k|knit|p|purl|work)\b ?(?:across |over )?(?:the )?(?P<n>{_N})?(?: {_STS})? ?(?:of|from|on) (?:the |your )?(?:held |waiting )?(?:[a-z]+ )?(?:lining|bag|pocket|ear ?flap|(?:first|second|other|1st|2nd) flap|(?P<else>holder|spare needle|piece|flap))(?P<instead> instead| in (?:their|its) place)?(?:(?:[,;] (?:and )?(?:then )?| and )(?P<next>[a-z])|(?=[,;.]|$))",
            _along,
        ),
        (  # "Next rnd, N1 only: work rib panel": a part of the round
            r"(^|\. )next (?:rnd|round),? (?:on )?(?:n ?|needle )(\d) only: ",
            r"\1Needle \2: ",
        ),
        (  # "rep rnd 1 to 12 in", "k every rnd to 2 in"
            rf"\b(rep(?:eat)? (?:(?:rounds?|rnds?|rows?) \d+(?: ?(?:[-–]|and) ?\d+)?|(?:these|last) (?:\w+ )?(?:rnds|rounds|rows)|this (?:rnd|round|row))|(?:k|knit) every (?:rnd|round)) (?:to|(?:un)?til(?! it)) (?=(?:about )?{_N} ?(?:cm|mm|in\b|inch|\"))",
            r"\1 until it measures ",
        ),
        (  # "With a second needle knit the 30 instep stitches."
            r"(^|[.:] )(?:on|with|using) (?:an?|another) (?:(?:second|third|fourth|2nd|3rd|4th|new|free|spare|fresh) )?needle,? (pick|knit|k|purl|p|work)(?=\.? )(?!\.? (?:the )?(?:rem|other|rest))",
            _begun,
        ),
        (  # "pick up 15 along the side, on next needle k 30 instep sts": where they go
            r"(?P<up>\b(?:pick|k(?:nit)?\.?) up [^*.;:]*?[,;] (?:and )?)(?:on|with|onto) (?:the |your )?(?:next|2nd|second|following) needle,? (?=(?:k|knit|work)\b\.? ?(?:across )?(?:the |all )*(?:\d+ )?(?:instep|sts|stitches)\b)",
            r"\g<up>",
        ),
        (
            r"(?P<sts>\b(?:instep|sts|stitches)\b[^*.;:]{0,30}[,;] (?:and )?)(?:on|with|onto) (?:the |your )?(?:next|3rd|third|following|4th|fourth) needle,? (?=(?:pick|k(?:nit)?\.?) up\b)",
            r"\g<sts>",
        ),
        (  # "N1: With the needle holding the heel sts, pick up and knit 15": where the loops go
            rf"(^|: |\. )(?:(?:and|still|now|again) )?(?:(?:(?:with|on) (?P<rs>(?:the )?(?:rs|right side)(?: of (?:the )?(?:work|flap|heel))? facing(?: you)?),? (?:and )?(?:with )?)?)(?:(?:with|on|onto|using|continuing with|holding|taking) )?{_TOOL},? (?=(?:pick(?:ing)? up|pick|k(?:nit)?\.? up|take up|pu)\b)",
            _loops_taken,
        ),
        (  # "N1: Pick up 15 sts down the left side of the flap"
            rf"((?:\bN ?|needle )\d: |\d(?:st|nd|rd|th) needle: )pick up (?=(?:the )?{_N} (?:{_STS} )?(?:down|up|along(?:side)?|from|at|on|in) (?:the )?(?:[a-z]+ )*?(?:side|edge|flap|heel)\b)",
            r"\1pick up and knit ",
        ),
        (
            rf"\b(k|knit) half (?:of )?the (?:heel |flap )?{_STS}(?: \(| ?[:=] ?|, (?:that is,? )?)({_N})(?: {_STS})?\)?(?=[.;,]|$| on ?to)",
            r"\1 \2",
        ),
        (  # "first row, slip 1, knit to the end; second row, slip 1, purl to the end"
            r"^(?:the )?first (row|round|rnd)[,:] ([^;:]+); (?:and )?(?:the )?second \1[,:] (?=[^;:]+$)",
            _two_rows,
        ),
        (
            r"^(?:and |now |then )*(?:go on|continue|carry on|keep on|proceed|work)(?: with these| so| thus| like this| in this way)? until (?:these two|the two|these)(?: rows)? (?:have made|make|have given|give)(?: together)? (?=\d)",
            "Repeat rows 1 and 2 until you have worked ",
        ),
        (
            rf",? (?:and|so that|when|which means|after which)(?: then)? you (?:will |should |shall |now |again |once more )*(?:have|be back (?:at|to)) ({_N}) (?:sts|stitches)(?: again| once more| altogether| in all| left)?(?=\.|$)",
            r" (\1 sts)",
        ),
        (rf"\bto (?:the )?last ({_COUNTED})(?=,)", _to_last),
        (  # "slip the first stitch and purl 29"
            r"\b(slip|sl) (?:the )?(?:first|1st) (?:st|stitch)(?: purlwise| knitwise)?(?:,| and|, and) (?=(?:p|purl|k|knit) ?\d)",
            r"\1 1, ",
        ),
        (
            r",? so that (?:there are )?\d+ (?:sts|stitches) (?:are|lie|sit) on one needle for the (?:heel|flap|heel flap)(?=[.,;])",
            "",
        ),
        (  # "slip 1 and knit 1, eight times", "knit 6, knit 2 together, four times"
            rf"(^|[.:)] +)({_ITEM}(?:(?:,| and|, and) {_ITEM})+)[,;:] (?:do (?:this|that) |all |repeated )?({_MANY}) times(?: over| round| all round)?(?=\s*(?:[.;:(,]|$))",
            r"\1[\2] \3 times",
        ),
        (  # "first time: k3, k2tog on each needle"
            r"(^|[.] )(?:the )?(?:first|second|third|fourth|fifth|last) time: (?=(?:on )?each needle: )",
            r"\1Next round: ",
        ),
        (  # "on the first needle knit …. On the second k1, skp, …. On the third k1, …"
            r"(?<=[.;] )((?:on|with) the (?:second|2nd|third|3rd|fourth|4th))(?: one)?,? (?=(?:[kp] ?\d|[kp]\b|knit|purl|work|ssk|skpo?|sl|slip|m1|kfb)\b)",
            lambda said: (
                f"{said[1]} needle, "
                if re.search(r"\bfirst needle\b|\bneedle 1\b", said.string[: said.start()], re.I)
                else said[0]
            ),
        ),
        (  # "with the first needle knit the other 5 heel stitches; with the second needle knit 30"
            r"(^|[.;:] ?(?:and )?)(?:(?:with|on) )?(?:the )?(first|second|third|fourth|1st|2nd|3rd|4th) needle,? (?=(?:pick up|knit|k|purl|p|work|ssk|sl|slip)(?:\b|\d))",
            _needle_named,
        ),
        (  # "knit the 5 stitches left waiting"
            rf"(?:,? and|,)? (k|knit) the ({_N}) ({_STS}) (?:left waiting|that were left|left over)(?=[.,;]|$)",
            r", \1 the remaining \2 \3",
        ),
        (
            r"\b(before|from|short of|across|on|over|knit|k|work) the top of (?:the |your )?foot\b",
            r"\1 the instep",
        ),
        (  # "knit the top sts"
            rf"\b(knit|k|work)( across| over)? the top ({_STS})\b(?=[.;]| once\b)",
            r"\1\2 the instep \3",
        ),
        (  # "knit the top-of-foot needle"
            r"\btop[- ]of[- ](?:the[- ])?foot (needle|sts|stitches)\b",
            r"instep \1",
        ),
        (  # "*k1, ssk, k to last 3 sts of needle 2, k2tog, k1; rep from * on needles 3 and 4"
            rf"(\*[^*;.:]*? to last (?:{_N} )?{_STS}) of (?:the )?{_FIRST_HALF}([^*;.:]*); ?rep(?:eat)? from \* (?:on|for|over|across|along) (?:the )?{_OTHER_HALF}(?: {_STS})?(?=\W|$)",
            r"\1\2; rep from * on second half",
        ),
        (  # "knit every rnd in stripes of 3 rnds CC, 3 rnds MC, twice over"
            rf"\b(?:knit|work)(?: every (?:rnd|round)| in st st| plain)? in stripes of (\d{{1,2}}) (?:rounds?|rnds?) (?:of |with |in )?({_YARN}),? (?:and |then )?(\d{{1,2}}) (?:rounds?|rnds?) (?:of |with |in )?({_YARN}),? ({_MANY}|twice)(?: times)?(?: over| in all)?(?=[.,;])",
            _stripes_of,
        ),
        (  # "*knit 6 rounds MC, knit 2 rounds CC; rep from * 7 (8, 9) more times (64 rounds)"
            rf"(?P<open>[*(\[])\s*{_BAND.format(1)},? (?:and |then )*{_BAND.format(2)}(?:[;,.] ?rep(?:eat)? from \*,? (?:(?P<more>{_N}|{_MANY}) (?:more )?times(?: more)?|(?P<once>once|twice)(?: more| again)?|until (?:you have|there are) (?P<stripes>{_N}) stripes(?: in all)?)|[*)\]],? (?P<times>{_N}|{_MANY}) times(?: in all)?)(?: \(\d+ (?:rounds|rnds)(?: in all)?\))?",
            _two_stripes,
        ),
        (  # "knit until 3 are left before the instep", "knit to within 3 sts of the instep"
            rf"\b(?P<k>knit|k|work)(?: on| down| up)? (?:(?:(?:un)?til+|to) (?:(?:there are|you have|you are|you come|only|the|last|to) )*(?P<n>{_N})(?: {_STS})?(?: (?:(?:are|is) (?:left|still)|remain|stay|left|away))? (?:before|from|of)|(?:to|until) within (?P<n2>{_N})(?: {_STS})? of) (?P<what>(?:the )?(?:instep|(?:(?:first|second|next|1st|2nd) )?marker))\b(?! {_STS})",
            lambda match: f"{match['k']} to {match['n'] or match['n2']} sts before {match['what']}",
        ),
        (  # "knit to 3 sts before the instep, k2tog, k1. Knit 16. Knit 1, ssk, knit to end": no markers
            rf"\b(?:k|knit) to (?:the last )?({_N} {_STS}) before (?:the )?instep(?: {_STS})?, ([^,;.:*]+(?:, (?:k|knit) ?\d+)?)[,;.] (?:k|knit|work)(?: across)? ?(?:the )?({_N})(?: instep)?(?: {_STS})?[,;.] ((?:(?:k|knit) ?\d+, )?[^,;.:*]+, (?:k|knit) to (?:the )?end)\b",
            r"Needle 1: knit to last \1, \2; needle 2: knit \3; needle 3: \4",
        ),
        (
            r"(?<=[)\]]) round(?= (?:for|until)\b|[.;]|$)",
            " around",
        ),  # "(k2, p2) round for 16 rounds"
        (  # "(k2, p2) around until the cuff is 5 cm"
            r"(^|[.:] )[(\[]?(k ?\d+,? p ?\d+)[)\]]? (?:a?round|to (?:the )?end) (?=until )",
            r"\1Work \2 rib ",
        ),
        (  # "Instep: *k2, p2; repeat from * across the instep"
            rf"\b({_PLACE})(?: {_STS})?: (\*[^*:.]+?[,;]? rep(?:eat)? from \*) (?:across|over|along) (?:all )?(?:the )?\1(?: {_STS})?(?=[.;,]|$)",
            r"\1: \2 to end",
        ),
        (r"(?<=needle \d: )work (?=[*(\[])", ""),
        (  # "knit to 3 sts before the instep, k2tog, k1; k1, ssk, k to last 3 instep sts, k2tog, k1; k1, ssk, k to end"
            rf"\b(?:k|knit) to (?:the )?(?:last )?(?P<n>{_N}) {_STS} before (?:the )?instep(?: {_STS})?, (?P<one>[^;.:*]+)[;.] (?:(?:and|then|now) )*(?:{_ON_INSTEP}[:,] (?P<two>(?:[^;.:*]*, )?(?:k|knit) to) (?:the |its )?(?:last )?(?P<m>{_N})(?: instep)? {_STS}\b(?: {_ITS_END})?|(?P<two2>(?:[^;.:*]*, )?(?:k|knit) to) (?:the )?(?:last )?(?P<m2>{_N}) (?:instep {_STS}\b|{_STS} {_ITS_END}))(?P<rest>[^;.:*]*)[;.] (?:(?:and|then|now) )*(?P<three>(?:(?:k|knit) ?1|ssk|skpo?|sl(?:ip)? 1)\b[^;.:*]*, (?:k|knit) to (?:the )?end)\b",
            lambda match: (
                f"Needle 1: knit to last {match['n']} sts, {match['one']}; needle 2: {match['two'] or match['two2']} last {match['m'] or match['m2']} sts{match['rest']}; needle 3: {match['three']}"
            ),
        ),
        (  # "the other 16 are the top of the foot; they can wait"
            rf"(?<!let )(?<!have )(?<!leave )\bthe (other|remaining) ({_N})(?: {_STS})?(?: (?:are|form|make)(?: for)? the (?:top of (?:the |your )?foot|instep|front)[;,:.]? (?:and )?(?:they|these|which))? (?:(?:can|will|must|now|should|just) (?:now |just )?(?:wait|rest)|(?:have|take|get) a rest|wait|rest|are (?:now )?(?:left )?(?:waiting|resting))\b[^.;]*",
            r"Leave the \1 \2 sts on hold",
        ),
        (  # "k the 12 you left alone", "knit across the 12 sts that you set aside"
            rf"\b(knit|k|purl|p|work) (?:across )?(?:the |those )(?:({_N})(?: {_STS})?|{_STS}) (?:(?:that|which) )?(?:you |we |were |are )?(?:had |have )?(?:left|set|put|kept) (?:alone|aside|waiting|resting|behind|on hold|unworked|by|over)(?: (?:before|earlier))?(?=[.;,)]|$| \()",
            lambda match: (
                f"{match[1]} {match[2]}"
                if match[2] and match.string.lower().startswith("needle")
                else f"{match[1]} the {match[2] + ' ' if match[2] else ''}waiting sts"
            ),
        ),
        (  # "k12, next 9 sts on the safety pin, cast on 1, k12", "k12; 9 sts to a pin; cast on 1"
            rf"(?<=[,;] )(?:move )?(?:the )?(?:next )?(?P<n>{_N}(?: thumb| gusset)?) {_STS} (?:(?:off )?(?:on|onto|on to|to|over to) (?:the |a |an |your )?(?:safety |stitch )*(?:pin|holder|thread)s?|go (?:on|onto|on to) (?:the |a )?(?:safety |stitch )*(?:pin|holder|thread)|(?:on|onto|on to) (?:a |the |some )?(?:waste|scrap|spare) (?:yarn|thread|wool))[,;] (?P<on>(?:cast on|co|make) \d+[^,;.]*)",
            r"place next \g<n> sts on a holder, \g<on>",
        ),
        (  # "make 1 by backward loop cast-on": a stitch cast on
            r"\bmake (?P<n>\d+)(?: sts?| stitch(?:es)?)? (?:by|with|using) (?:a |the )?(?P<how>backward[- ]loop|knitted|cable|thumb|e-loop)(?: cast[- ]on| method| loop)?",
            r"cast on \g<n>",
        ),
        (  # "pick up 8 sts along the flap, pm, work Rnd 1 over the 26 instep sts, pm, pick up 8 sts along …"
            (
                rf"\b(?P<do>work|k|knit),? (?:{_ROW_NAMED} (?:over|across|on) )?(?:(?:across|over|all|the|held|waiting) )*(?P<n>{_N} )?instep(?: {_STS})?(?P<as>,? (?:as|in|with|from) {_ROW_NAMED})?(?=[,;.])"
                rf"|\b(?:return|put|slip|with) the (?:held |waiting )?(?P<n2>{_N} )?instep(?: {_STS})?(?: back)? (?:to|on|on to|onto) (?:the |your |an? (?:second |spare )?)?needle,? (?:and )?(?P<do2>work|k|knit) {_ROW_NAMED} (?:over|across|on) (?:them|it|these|the instep(?: {_STS})?)(?=[,;.])"
            ),
            _instep_in_row,
        ),
        (  # "knit the 16 that waited"
            rf"\b(knit|k|purl|p|work) (?:across )?(?:the |those )({_N})(?: {_STS})? (?:that|which) (?:are |were |have been |had been )?(?:left |kept )?(?:wait\w*|rest(?:ed|ing)|held|on hold|set aside)",
            r"\1 \2",
        ),
    )
)


def with_usual_parts(said: MappedText) -> MappedText:
    """Return a line with its parts of a round, and its lists, in the usual words."""
    return without_places(_PARTS.put_in(with_needles_ahead(with_needles_in_order(said))))
