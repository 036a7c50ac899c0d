# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Other ways of saying that rows are worked again: on which side, how they end, what is repeated."""

from __future__ import annotations

import re
from itertools import pairwise

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Rewordings

__all__ = ["with_repeats"]

_N = r"\d+(?: ?[(\[][^)\]]*[)\]])?"
_C = r"(?:rounds?|rnds?|rows?)\b"
_RS, _WS = r"(?:rs|right[- ]side|right)", r"(?:ws|wrong[- ]side|wrong)"
_BOTH = rf"[(]?(?:on )?(?:the )?{_RS}(?: {_C})? (?:and|&|as well as) (?:on )?(?:the )?{_WS}(?: (?:{_C}|sides?))?(?: alike| both)?[)]?"
_EVERY = rf"(?:every|each|all)(?: single)? {_C}"
_KIND = r"(?:[rw]s|right[- ]side|wrong[- ]side|knit|purl|first|last|second)"

_FEW = r"(?:\d{1,2}|two|three|four|five|six|seven|eight|nine|ten|twelve)"
_GROWING = r"(?:one|1|two|2) (?:more|fewer|less) (?:knit )?sts?(?: more)? (?:before|between|after) [^.;*:\d]*?"

_ROWS = {"r": "rnds", "rn": "rnds", "ro": "rounds"}
_SO = r"(?:(?:just|exactly|all|worked|knit|knitted|done|made) )*"
_ALIKE = rf"(?:(?:(?:they|these) are|do|work|knit|make|repeat)(?: (?:them|these))? )?{_SO}(?:(?:the )?same (?:thing )?as|as|like|what you did (?:in|on|for)|as you (?:did|worked|knitted|knit)(?: in| on| for)?)(?: (?:in|on|for))?"
_SOME = r"(?P<crs>rounds|rnds|rows) (?P<a>\d{1,3}) ?(?:-|–|to|through) ?(?P<z>\d{1,3})"
_FIRST = r"(?P<first>(?P<one>round|rnd|row) \d{1,3})"
_TWO = r"(?:first|next|following) (?:two|2|few|three|3|four|4) (?:rows|rounds|rnds)|(?:rows|rounds|rnds) \d{1,2} (?:and|to|-|–) \d{1,2}"
_THEM = r"(?:(?:them|it|each|every|all|any|the|of) )*"
_WORKS = (
    r"(?:(?:pick|lift|take)(?:ing)?(?: up)?|work(?:ing)?|knit(?:ting)?|hid(?:e|ing)|closing|close)"
)
_WITH_STS = r"(?:together|tog)?(?: ?with (?:the|their|its|that|each) (?:own )?(?:sts?|stitch(?:es)?|one)(?: (?:it|they|that they|which they) (?:wraps?|belongs? to))?)?"


def _are_shares(match: re.Match[str]) -> bool:
    """Tell whether what lies on each needle, so many times, is what there is in all."""
    each, whole = ([int(n) for n in re.findall(r"\d+", match[key])] for key in ("each", "n"))
    often = {a // b if b and not a % b else 0 for a, b in zip(whole, each, strict=False)}
    return len(each) == len(whole) and len(often) == 1 and often <= {2, 3, 4}


def _wraps_taken_up(match: re.Match[str]) -> str:
    """Put a note on when wraps are taken up in its short form; a row that does so stays."""
    when = re.search(_TWO, match[0], re.IGNORECASE)
    if when is None or "wrap" not in match[0].lower():
        return match[0]
    return f"{match['before']}Pick up the wraps as you come to them"


_FABRICS = r"stripes|(?:the )?stripe pattern|stocking stitch|stockinette(?: stitch)?|st\.? st|garter stitch|garter st|moss stitch|seed stitch|rib(?:bing)?"


def _so_many_worked(match: re.Match[str]) -> str:
    """Put "until 15 rounds of stripes have been worked" as "work 15 rounds in stripes"."""
    fabric = match["what"] or match["what3"] or ("stripes" if match["what2"] else "")
    if not fabric:
        return match[0]
    return f"{match['before']}Work {match['n']} {match['crs']} in {fabric.removeprefix('the ')}"


def _for_more(match: re.Match[str]) -> str:
    """Put "until another 12 rounds have been worked" as "for 12 more rounds"."""
    many, course = re.sub(r"\b(?:another|a further|further|more)\b", "", match["far"]).rsplit(
        None, 1
    )
    return f" for {many.strip()} more {course}"


_SAME_ROWS = rf"(?:these|those|the|both|all)(?: (?:last|same|two|2|three|3|four|4|six|6|eight|8))* {_C}|{_C} (?:\d{{1,2}}|[a-d]) ?(?:-|–|to|and|&) ?(?:\d{{1,2}}|[a-d])\b"
_NEEDLES = r"(?:the )?(?:[\d¼½¾.]+ ?mm|us \d+(?:\.\d+)?(?: ?\([^()]*\))?|larger|smaller|bigger|thicker|thinner|main|other) needles?(?: ?\([^()]*\))?"
_RIB_OF = r"[kp]\d{1,2}(?: ?tbl)?,? ?[kp]\d{1,2}(?: ?tbl)?"


def _in_other_fabric(match: re.Match[str]) -> str:
    """Put "change to single rib (k1, p1) and work 12 rounds" as work in that fabric."""
    tools = f"{match['change'].capitalize()}{match['tools']}. " if match["tools"] else ""
    rib = match["rib"] or match["rib2"]
    fabric = f"{rib} rib" if rib else match["what"].removeprefix("the ")
    is_long = not re.search(r"(?:rounds|rnds|rows)(?: more)?$", match["far"], re.IGNORECASE)
    far = f"in {fabric} for {match['far']}" if is_long else f"{match['far']} in {fabric}"
    return f"{match['before']}{tools}Work {far}"


_PAIR = r"(?P<kind>(?:the )?(?!(?:the|last|next|first|both|these|those|this|same)\b)[a-z]+ )?(?P<crs>rows|rnds|rounds) (?P<a>\d{1,2}) ?(?:-|–|to|and|&) ?(?P<z>\d{1,2})"
_OF_PART = r"(?P<of> of (?:the )?[a-z]+(?: [a-z]+)?)"
_SPAN = r"\d{1,3} ?(?:-|–|to|through) ?\d{1,3}"
_PLAIN = r"(?:knit|purl|k|p)(?: (?:every|each|all) (?:rounds?|rnds?|rows?|sts|stitches)| around| across)?"


def _spans_by_size(match: re.Match[str]) -> str:
    """Put "rnds 3-12 (3-16, 3-20): rep rnds 1 and 2" as how often, or how many rounds, by size."""
    numbers = [int(n) for n in re.findall(r"\d+", match["others"])]
    first, last = int(match["a"]), int(match["z"])
    spans = "-" in re.sub(r" ?(?:–|to|through) ?", "-", match["others"])
    if spans and (len(numbers) % 2 or set(numbers[::2]) != {first}):
        return match[0]
    ends = [last, *(numbers[1::2] if spans else numbers)]
    if len(ends) < 2 + (not spans) or ends != sorted(ends) or last <= first:
        return match[0]
    rows = [end - first + 1 for end in ends]
    if match["what"]:
        at = [int(n) for n in re.findall(r"\d+", match["what"])]
        each = at[-1] - at[0] + 1
        if each < 1 or any(n % each for n in rows):
            return match[0]
        return (
            f"{match['before']}Rep {match['what']} {_sizes([n // each for n in rows])} times more"
        )
    if match["plain"]:
        verb = "Purl" if match["plain"][0].lower() == "p" else "Knit"
        return f"{match['before']}{verb} {_sizes(rows)} {match['crs'].lower()}"
    one = match["crs"].lower().rstrip("s")
    again = f"Rep the last {one} {_sizes([n - 1 for n in rows])} times more"
    return f"{match['before']}{one.capitalize()} {first}: {match['row']}. {again}"


def _for_so_many(match: re.Match[str]) -> str:
    """Put "rows 1 and 2 of the body for 10 rows" as how often; a number that does not fit stays."""
    first, last, many = int(match["a"]), int(match["z"]), int(match["n"])
    each = last - first + 1
    if each < 1 or many % each:
        return match[0]
    more = " more" if match["more"] else ""
    times = f"{many // each}{more} times" if many > each else "once more" if more else "once"
    return f"{match['before']}Work {match['kind'] or ''}{match['crs']} {first}-{last}{match['of'] or ''} {times}"


def _sizes(values: list[int]) -> str:
    return f"{values[0]} ({', '.join(map(str, values[1:]))})"


_NOW = r"(?:(?:now|then|from here(?: on)?),? )?"
_ON_ALL = r"(?: (?:on|over|across) all (?:the )?(?:\d+(?: ?[(\[][^)\]]{1,60}[)\]])? )?(?:sts|stitches)(?: again)?)"
_ONE_ROUND = (
    r"(?=(?:k|p|knit|purl|rib)\b|[kp] ?\d)(?![^.;]*\b(?:rounds|rnds|cm|until|inch(?:es)?)\b)"
)

_OTHER = r"(?:(?:second|other|left|right) (?:hand(?: mitten| mitt)?|mitten|mitt|glove|wrist\w*|one)|second)"
_THUS = r"(?: is)?(?: (?:worked|made))?(?: (?:thus|so|as follows|like this|this way|reads))?"


_COUNTS = r"(?P<counts>\d+(?:, \d+){2,}(?:,? and \d+)?)"


def _to_the_last(match: re.Match[str]) -> str:
    """Put "carry on, a plain round and a decrease round, and tick them off: 58, 56, 54" as until when."""
    counts = [int(n) for n in re.findall(r"\d+", match["counts"])]
    down = all(a > b for a, b in pairwise(counts))
    if not down and not all(a < b for a, b in pairwise(counts)):
        return match[0]
    lead = match["lead"].rstrip(" ,")
    if not re.match(r"rep", lead, re.IGNORECASE):
        lead = "Continue in this way"
    return (
        f"{lead} until {counts[-1]} sts remain"
        if down
        else f"{lead} until there are {counts[-1]} sts"
    )


_STARRED = r"(?P<row>\*[^*.:;]{2,60}(?:\*|[;,] ?rep(?:eat)? from \*)|\[[^\[\]*.:]{2,60}\])(?: to (?:the )?end)?"
_IN_TURN = (
    r"(?:on |in )?(?:every )?(?:(?:other|second|2nd|alternate|alt|even)(?: numbered)? (?:round|rnd)s?|(?:round|rnd) 2)(?: all (?:the way )?a?round)?"
    r",? (?:and |with )*(?:(?:a|one|1|each|every) plain (?:round|rnd)(?: 1)?(?: in)? between|knit(?:ting)?(?: all| every| each)?(?: the)?(?: other| odd| plain)? (?:rounds?|rnds?)(?: in)?(?: between)?|(?:round|rnd) 1 plain)"
)


_PLAIN_BETWEEN = r"(?:,? (?:each|all) (?:followed by|with) (?:a|one|1) plain (?:round|rnd)(?: (?:after|behind|between)(?: it)?)?|,? (?:alternating|by turns|in turn) with (?:a )?plain (?:rounds?|rnds?)|,? with (?:a|one|1) plain (?:round|rnd) (?:between(?: them)?|after each))"
_TURNED = r"(?:DS(?:['’]?e?s)?\b|(?:double|twin|wrapped|shadow) (?:sts?|stitch(?:es)?)\b|twins\b|wraps?\b)"
_AS_ONE = r"(?: tog(?:ether)?)?(?: (?:with|and) (?:the|their|its) (?:own )?(?:wraps?|sts?|stitch(?:es)?))?(?: tog(?:ether)?)?(?: as (?:one|1|a single|single)(?: (?:sts?|stitch(?:es)?))?(?: each)?)?"
_NEXT_ROUND = r"(?:in|on|over|during) (?:the|this|that) (?:first|next|following) (?:round|rnd)"
_MET = r"(?:as|when|where) you (?:come to|meet|reach|get to|pass) (?:them|it|each)(?: again)?"
_CLOSED_LATER = rf"(?:(?:{_NEXT_ROUND}|{_MET}),? )?(?:clos|work|knit|lift|pick|tak|hid|resolv)\w*(?: up)? (?:(?:the|any|all|these|those|both|two|2|last|remaining|final|other|outer|of) )*{_TURNED}{_AS_ONE}(?:,? (?:{_NEXT_ROUND}|{_MET}))*(?=[.;]|$)"
_ROUNDS_AGAIN = rf"\b(?:go|come|return|resume|begin|start|work|knit|continue|join)(?:ing)?\b[^.;:,\d]*?\b(?:in|to) (?:the )?(?:rounds?|rnds?)\b(?: again| once more)?(?: (?:on|over) all (?:the )?(?:{_N} )?(?:sts|stitches))?"


_WAYS = Rewordings(
    (
        (  # "resume working in the rnd; on the first rnd, work the last wrapped sts tog with their wraps"
            rf"(?P<back>{_ROUNDS_AGAIN})(?:[;,.]|,? and)(?: (?:and|then|there))* {_CLOSED_LATER}",
            r"\g<back>",
        ),
        (  # "carry on, one plain round and one decrease round, and tick them off: 58, 56, 54, 52"
            rf"^(?P<lead>(?:carry on|go on|keep (?:on|going)|continue|cont|work on|repeat|rep)\b[^.;:*]*?)(?:,? (?:and )?(?:tick|count|mark|cross)(?:ing)?\b[^.;:*\d]*)?(?:: ?|(?<=counting) ){_COUNTS}(?: (?:sts|stitches))?\.?$",
            _to_the_last,
        ),
        (  # "work *k3, p1; rep from * on every other round, with a plain round between, for 4 inches"
            rf"(?P<before>^|[.;] ){_NOW}(?:(?:work|knit|continue|cont|go on)(?: to work| working| with)? )?{_STARRED} {_IN_TURN},? (?P<far>for (?P<n>{_N}) (?:rounds|rnds)(?=[.;]|$)|(?:for|until) (?![^.;]*\d (?:sts|stitches|rounds|rnds)\b)[^.;]*)",
            lambda match: (
                f"{match['before']}Rnd 1: Knit. Rnd 2: {match['row']} to end. Rep rnds 1 and 2 {match['far']}{' in all' if match['n'] else ''}"
            ),
        ),
        (  # "work 3 more toe rounds", "3 more dec rounds, each followed by a plain round"
            rf"(?P<before>^|[.;] )(?:work|knit|make|do)(?: another)? (?P<n>{_N}|two|three|four|five|six|seven|eight) (?:(?:more|further|such) )+(?P<what>toe|tip|crown|dec(?:rease|reasing)?)(?: shaping)? (?:rounds|rnds)(?: (?:in (?:this|the same) way|like (?:this|that)))?(?P<turns>{_PLAIN_BETWEEN})?(?=[.;(]| \(|$)",
            lambda match: (
                f"{match['before']}Decrease every other round in this manner {match['n']} more times"
                if match["turns"]
                else f"{match['before']}Work {match['n']} more dec rounds"
                if match["what"][0] not in "dD"
                else match[0]
            ),
        ),
        (  # "work as for the right mitten, but make the thumb round thus: k14, …"
            rf"^(?P<as>(?:work|knit|make)(?: this)? (?:exactly )?(?:as|like)(?: for)? (?:the )?(?P<one>(?:right|left|first)(?: hand)?(?: (?:mitten|mitt|glove|wrist\w*))?)),? (?:but|except(?: for| that)?|only)(?: (?:make|work|knit|for|in|you (?:make|work|knit)))? (?:the |its )?(?P<row>[a-z-]+ (?:round|rnd|row)){_THUS}: (?P<said>[^:]*)$",
            lambda match: (
                f"{match['as']} to {match['row']}. {match['row'].capitalize()}: "
                f"{match['said'].rstrip('. ')}. Complete as for the {match['one']}"
            ),
        ),
        (  # "work as for the right mitten, but place the thumb thus:", and the round behind it
            r"^(?P<as>(?:work|knit|make)(?: this)? (?:exactly |just )?(?:as|like)(?: for)? (?:the )?(?:right|left|first)(?: hand)?(?: (?:mitten|mitt|glove|wrist\w*))?),? (?:but|except(?: for| that)?|only) (?:you )?(?:place|put|set|position|lay|make|work)(?: in)? (?:the |its )?thumb(?: (?:opening|hole|place))?,? (?:thus|so|as follows|like this|this way|here)\s*[:.]?$",
            r"\g<as> to the thumb.",
        ),
        (  # "for the other hand work the thumb rnd as follows: k24, …", "second mitten: the same, but …"
            rf"^(?:(?:for|on|in) (?:the |your )?{_OTHER}[,:]? |(?:(?:make|work|knit) )?(?:the |a |your )?{_OTHER}(?: is)?(?: (?:worked|made|knitted))?[,:]? (?:exactly |just )?(?:(?:in )?the same(?: way)?|alike|(?:as|like)(?: for)? the (?:first|other|right|left)(?: one| hand| mitten| mitt)?),? (?:but|except|only)(?: for| that| with)? )(?:(?:make|work|knit|do|you (?:make|work|knit)) )?(?:the |its )?(?P<row>[a-z]+ (?:round|rnd|row)){_THUS}: (?P<said>[^:]*)$",
            lambda match: (
                f"Work as for the first to {match['row']}. {match['row'].capitalize()}: {match['said'].rstrip(' .')}. Complete as for the first."
            ),
        ),
        (  # "rows 3 and 4 again and again, until …"
            r"(?P<before>^|[.;:] )(?:(?:then|now) )?(?P<rows>(?:rows|rnds|rounds) \d{1,2} (?:and|&) \d{1,2}),? (?:again and again|over and over(?: again)?|by turns|in turn|turn and turn about|alternately)(?=,? (?:un)?til )",
            r"\g<before>Repeat \g<rows>",
        ),
        (  # "work rows 1 and 2 of the body for 10 rows"
            rf"(?P<before>^|[.;:] )(?:work|rep(?:eat)?|knit)(?: in)? {_PAIR}(?(kind)|{_OF_PART}),? (?:for|over|until you have(?: worked)?) (?:a total of |another |a further )?(?P<n>\d{{1,3}})(?P<more> more)? (?:rows|rnds|rounds)(?: in all| in total| altogether)?(?=[.;,]|$)",
            _for_so_many,
        ),
        (  # "work 10 rows as rows 1 and 2 of the body"
            rf"(?P<before>^|[.;:] )(?:work|knit) (?P<n>\d{{1,3}})(?P<more> more)? (?:rows|rnds|rounds) (?:as|like|in|of|repeating|the same as)(?: for| in)? {_PAIR}{_OF_PART}?(?=[.;,]|$)",
            _for_so_many,
        ),
        (  # "work 56 rows as row 2 of the band", "work row 2 of the band for 56 rows"
            rf"(?P<before>^|[.;:] )(?:(?:then|now) )?(?:work|knit) (?:(?P<n>{_N})(?: more| further)? (?:rows|rnds|rounds) (?:all )?(?:as|like|in|of|repeating|the same as)(?: for)? (?P<what>(?:the )?{_C} \d{{1,2}}){_OF_PART}?(?: (?:above|again))?|(?P<what2>{_C} \d{{1,2}}){_OF_PART.replace('<of>', '<of2>')}?,? for (?P<n2>{_N})(?: more| further)? (?:rows|rnds|rounds))(?=[.;,]|$)",
            lambda match: (
                f"{match['before']}Repeat {match['what'] or match['what2']}{match['of'] or match['of2'] or ''} {match['n'] or match['n2']} more times"
            ),
        ),
        (  # "rnds 3-12 (3-16, 3-20): rep rnds 1 and 2"
            rf"(?P<before>^|[.;] )(?P<crs>rounds|rnds|rows) (?P<a>\d{{1,3}}) ?(?:-|–|to|through) ?(?P<z>\d{{1,3}})(?P<others> ?[\[(]{_SPAN}(?:[,:;] ?{_SPAN})*[)\]]|(?: ?/ ?{_SPAN})+| ?\(\d{{1,3}}(?:[,:;] ?\d{{1,3}})+\)): (?:(?:(?:rep(?:eat)?|work|(?:the )?same as|as|like)(?: for)? (?P<what>{_C} \d{{1,3}}(?: ?(?:-|–|to|through|and|&) ?\d{{1,3}})?)(?: again)?|(?P<plain>{_PLAIN}))(?=[.;]|$)|(?P<row>(?:\*|\[|\(|k|p|sl|knit|purl|work|slip)[^.:]*)(?=\.?$))",
            _spans_by_size,
        ),
        (  # "take steps 2 and 3 in turn until …"
            rf"\b(?:take|work|do|go through)(?P<what> (?:steps \d{{1,2}}|{_C} \d{{1,2}}) (?:and|&) (?:step |{_C} )?\d{{1,2}}),? (?:by turns|in turns?|alternately|turn and turn about)(?=,? (?:(?:un)?til|{_N} times|\w+ times|twice))",
            r"repeat\g<what>",
        ),
        (  # "pick up the wraps and knit them with the next 7 sts"
            rf"\b(?:pick up|lift) (?:the|their) (?:{_N} )?wraps,? (?:and )?(?P<verb>knit|purl|k|p) (?:them|each|these) (?:tog(?:ether)? )?with (?:the )?(?:next )?(?P<n>{_N}) (?P<sts>sts|stitches)(?=[,.;])",
            r"\g<verb> the next \g<n> \g<sts> with their wraps",
        ),
        (  # "knit the next 7 stitches together with their wraps"
            rf"\b(?P<knit>(?:knit|purl|k|p)(?: the)?(?: next| following)? ?{_N} (?:wrapped )?(?:sts|stitches)) tog(?:ether)?(?= with (?:their|the) wraps)",
            r"\g<knit>",
        ),
        (  # "lift the 8th wrap and ssk that stitch with the first gusset stitch"
            r"[,;]? (?:(?:and|then) )*(?:lift|pick up|raise|take up) the (?:last|final|next|\d+(?:st|nd|rd|th)) wrap(?: too| as well)?,? (?:and )?(?:then )?(?:work |make )?(?:an? )?(?P<dec>ssk|p2tog tbl|p2tog|k2tog|ssp|skpo?)(?: (?:with )?(?:that|this|its|the wrapped) st(?:itch)?| it)?(?: (?:tog(?:ether)? )?(?:with|and) (?:the )?(?:first|next) (?:gusset |side |flap )?st(?:itch)?)?(?=[,.;]|$)",
            r", \g<dec>",
        ),
        (  # "then turn and knit on in the round"
            r"(?P<knit>(?:^|[.;,] |\b(?:and|then) )(?:knit|work)) on (?=in (?:the )?(?:rounds?|rnds?)(?: again)?(?=[.;,]|$))",
            r"\g<knit> ",
        ),
        (  # "work as section C", "the same as part 2", "like section B"
            rf"(?P<before>^|[.;:] )(?:(?:now |then )?(?P<verb>work|knit|do|make) )?{_SO}(?:(?:the )?same as|in the same way as|as|like)(?: you did)?(?: (?:given|told|described|set))?(?: (?:for|in))? (?:the )?(?P<what>(?:section|part|stage) (?:[a-h]|\d)\b)(?: again| once more| above)?(?=[.;:(]|[—–]| [(—–]|$)",
            r"\g<before>Work \g<what> once more",
        ),
        (  # "work section B once more, then rnds 1-5 of section A"
            rf"(?P<then>[,;.] (?:and )?then |^then )(?P<what>{_C} \d{{1,2}}(?: ?(?:-|–|to|through|and|&) ?\d{{1,2}})? of (?:the )?(?:section|part|stage) (?:[a-h]|\d)\b)",
            r"\g<then>work \g<what>",
        ),
        (  # "rounds 2 to 12: do the same as round 1", "rounds 2 to 12 are the same as round 1"
            rf"(?P<before>^|[.;] ){_SOME}(?::| are| is|,)? {_ALIKE} {_FIRST}(?: again)?(?=[.;]|$)",
            lambda match: (
                f"{match['before']}{match['crs']} {match['a']}-{match['z']}: as {match['first']}"
            ),
        ),
        (  # "make rounds 2 to 12 like round 1", "rounds 2 to 12: do round 1 again"
            rf"(?P<before>^|[.;] )(?:make|work|knit|do) {_SOME} (?:{_SO}(?:(?:the )?same as|as|like)) {_FIRST}(?=[.;]|$)",
            lambda match: (
                f"{match['before']}{match['crs'].capitalize()} {match['a']}-{match['z']}: as {match['first']}"
            ),
        ),
        (
            rf"(?P<before>^|[.;] ){_SOME}: (?:do|work|knit|repeat) {_FIRST}(?: again| each time| every time)(?=[.;]|$)",
            lambda match: (
                f"{match['before']}{match['crs']} {match['a']}-{match['z']}: as {match['first']}"
            ),
        ),
        (  # "lift the wraps in the next two rows and work them with their sts"
            rf"(?P<before>^|[.;] ){_WORKS} {_THEM}wraps? (?:in|on|over|during) (?:the )?(?:{_TWO}),? (?:and|by) {_WORKS} {_THEM}?{_WITH_STS}(?=[.;]|$)",
            _wraps_taken_up,
        ),
        (  # "continue in patt until 12 more rounds have been worked", "till another 12 rounds are done"
            rf",? (?:un)?till? (?:there (?:are|have been) |you(?: have|'ve) (?:worked |done |knit(?:ted)? |made |completed )?)?(?P<far>(?:another|a further) (?:{_N}|{_FEW}) {_C}|(?:{_N}|{_FEW}) (?:more|further) {_C}|(?:{_N}|{_FEW}) {_C} more)(?: (?:(?:have|has) been|are|were) (?:worked|done|made|completed?|finished|knit(?:ted)?))?(?=[.;]|, (?:then|and then|ending|finishing)\b|$)",
            _for_more,
        ),
        (  # "continue until 15 rounds of stripes have been worked"
            rf"(?P<before>^|[.;] )(?:continue|cont|go on|keep (?:on )?going|keep on|carry on|work)(?: (?:(?:straight|even|like this|as set|in this way)|in (?:the )?(?P<what3>{_FABRICS})))? until (?:there are |you have (?:worked |done |knit(?:ted)? |made )?)?(?P<n>{_N}) (?:(?P<what2>striped) )?(?P<crs>rounds|rnds|rows)(?: (?:of|in) (?:the )?(?P<what>{_FABRICS}))?(?: (?:have been|are|were) (?:worked|done|completed?|finished|knit(?:ted)?))?(?=[.;]|$)",
            _so_many_worked,
        ),
        (  # "go on until these 2 rows have been worked 40 times", "until you have worked them 40 times"
            rf"(?P<before>^|[.;] ){_NOW}(?:(?:continue|cont|go on|keep (?:on )?going|keep on|carry on|work|knit)(?: (?:like this|as set|in this way|so|working|knitting))*) until (?:you have (?:worked|done|knit(?:ted)?|made) (?P<a>{_SAME_ROWS})|(?P<b>{_SAME_ROWS}) (?:have|has) been (?:worked|done|knit(?:ted)?|made)) (?P<often>(?:a total of )?{_N} times)(?: in all| in total| altogether)?(?=[.;:]|, \d|,? and you\b|$)",
            lambda match: (
                f"{match['before']}Work {match['a'] or match['b']} {match['often'].removeprefix('a total of ')} in all"
            ),
        ),
        (  # "change to 4 mm needles and stocking stitch (every round k)"
            rf"\b(?P<change>(?:change|switch) to (?:the )?(?:[\d¼½¾.]+ ?mm|us \d+(?:\.\d+)?(?: ?\([^()]*\))?|larger|smaller|bigger|thicker|thinner|main|other) needles?(?: ?\([^()]*\))?),? (?:and|,) (?:to )?(?P<what>(?!stripes)(?:{_FABRICS}))(?: \((?:every|each) (?:round|rnd|row) k(?:nit)?\)| \((?:k(?:nit)? every|all) (?:round|rnd)s?(?: k(?:nit)?)?\))?(?=[.;]|$)",
            r"\g<change>. Change to \g<what>",
        ),
        (  # "change to single rib (k1, p1) and work 12 rounds", "switch to 3 mm needles and k2, p2 rib for 3 in"
            rf"(?P<before>^|[.;] ){_NOW}(?P<change>(?:change|switch|go over)(?: back)? to )(?:(?P<tools>{_NEEDLES}),? and (?:to )?)?(?:(?P<rib>{_RIB_OF}) rib(?:bing)?|(?P<what>(?:(?:single|double|twisted|plain|broken|ordinary) )*(?:{_FABRICS}))(?: ?[(:] ?(?P<rib2>{_RIB_OF})\)?)?)(?:,? (?:and |then )+(?:work|knit|do|rib)(?: for)?|,? for|:) (?P<far>(?:another |about )?(?:{_N}|{_FEW}) ?(?:rounds|rnds|rows|cm|in\b|inch(?:es)?|\")(?: more)?)(?=[.;,]|$)",
            _in_other_fabric,
        ),
        (  # "knit across needle 2 and take up knitting in rounds again over all 48 sts"
            rf"(?P<lead>,? and then |,? and |,? then )(?:take up|resume|go back to|return to|(?:begin|start)(?: again)?(?: to)?(?=[^.;]* (?:again|once more)\b)) (?:(?:knit(?:ting)?|work(?:ing)?) in )?(?:the )?(?:round|rnd)s?(?: again| once more)?(?P<on>{_ON_ALL})?(?=[.;]|$)",
            r". Go back to working in the round\g<on>",
        ),
        (  # "take up rounds again and knit until …", "rounds again now: knit until …"
            rf"(?P<before>^|[.;] ){_NOW}(?:(?:(?:take|pick) up|return to|resume|begin|start|back to)(?: again)? (?:(?:your|the|knitting|working|in|with) )*(?:rounds|rnds)(?: again| once more| now)*|(?:rounds|rnds) (?:again|once more)(?: now)?)(?: (?P<and>and) (?=(?:knit|k|work|rib)\b)|[:,] (?=(?:knit|k|work|rib)\b)|(?=[.;]|$))",
            lambda match: (
                f"{match['before']}Go back to rounds{' and ' if match[0][-1] == ' ' else ''}"
            ),
        ),
        (  # "go back to working in rounds: k28, rib 28"
            rf"(?P<before>^|[.;] ){_NOW}(?:go back|return|come back|change back|begin again|resume|back)(?: to)?(?: (?:working|knitting|work))?(?: again)? (?:in|to) (?:the )?(?P<crs>round|rnd)s?(?: again| once more)?{_ON_ALL}?: {_ONE_ROUND}",
            r"\g<before>Go back to working in rounds. Next \g<crs>: ",
        ),
        (  # "now work in the round again: k28, rib 28"
            rf"(?P<before>^|[.;] ){_NOW}(?:start|work|knit)(?: (?:working|knitting))? in (?:the )?(?P<crs>round|rnd)s?(?: again| once more|{_ON_ALL}): {_ONE_ROUND}",
            r"\g<before>Go back to working in rounds. Next \g<crs>: ",
        ),
        (  # "keep repeating this round until", "work this round until"
            r"(?P<before>^|[.;] )(?:keep(?: on)? (?:repeating|working|knitting)|go on (?:repeating|working)|continue (?:repeating|to (?:repeat|work))|work|knit) (?:this|that) (?P<crs>round|rnd|row) (?P<until>(?:over and over )?(?:until|till|for) )",
            r"\g<before>Rep this \g<crs> \g<until>",
        ),
        (  # "turn right side out and knit the second sock in the same way"
            r"(?P<turned>\bturn (?:(?:the|your) \w+ |it |work )?(?:to the )?right side(?: out)?),? (?:and|then|and then) (?P<verb>knit|make|work|cast on(?: for)?)(?= (?:an?|the|its|your)?(?:other)? ?(?:second|other|another|matching|next|twin|mate|fellow|partner|sock|mitten|glove|slipper)\b)",
            lambda match: f"{match['turned']}. {match['verb'].capitalize()}",
        ),
        (  # "knit its twin"
            (
                r"\b(?P<verb>knit|make|work) its (?:twin|mate|fellow|partner|companion)\b(?=[.;,]|$)"
                r"|(?:^|(?<=[.;!] )(?<!round[.;!] )(?<!rnd[.;!] )(?<!row[.;!] ))(?:now |then |and )*(?P<verb2>knit|work) (?:another|a second)(?=[.!]|, (?:exactly |just )?(?:the same|like|alike|to match)|$)"
                r"|(?:(?<=\bends and )|(?<=\bends, and )|(?<=\btails and )|(?<=\btails, and ))(?P<verb3>knit|make|work) (?:another|a second)(?: one)?(?=[.!]|$)"
            ),
            lambda match: (
                f"{match['verb'] or match['verb2'] or match['verb3']} the second one to match"
            ),
        ),
        (  # "work second sleeve the same way"
            r"(?P<b>^|[.;] )(?:work|knit) (?:the |your )?(?:second|other|2nd) sleeve (?:(?:in )?(?:exactly |just )?the same(?: way| manner| fashion)?|likewise|alike)(?=[.;]|$)",
            r"\g<b>Make the second sleeve to match",
        ),
        (  # "knit sock two the same"
            r"\b(?P<verb>knit|make|work|cast on(?: for)?)(?: your)? (?P<one>sock|mitten|mitt|glove|stocking|slipper|legwarmer|sleeve)(?: number| no\.?)? (?:two|2)\b",
            r"\g<verb> the second \g<one>",
        ),
        (  # "k across the centre sts, k the next st tog with its wrap, w&t"
            rf"\b(?P<verb>k|p|knit|purl) (?:(?:across|over|all)(?: of)? )?(?:the )?(?P<n>{_N} )?(?:centre|center|central|middle|unwrapped|plain|ordinary) (?:sts|stitches)(?P<rest>, (?:(?:and|then) )*(?:(?:k|p|knit|purl)\b|pick|lift|work)[^.;]*\bwraps?\b)",
            lambda match: (
                f"{match['verb'][0]}{match['n'].strip()}{match['rest']}"
                if match["n"]
                else f"{match['verb']} to the first wrapped st{match['rest']}"
            ),
        ),
        (  # "continue, working 1 st less before each wrap, through the row that ends p8, w&t"
            rf"(?P<before>^|[.;] )(?:continue|cont|go on|keep on|keep going|carry on|keep)(?: (?:like this|in this way|as set|so))?,? (?:working|knitting|with) (?:one|1) st(?:itch)? (?:less|fewer) (?:(?:before|in front of) (?:each|every|the) (?:wrap|turn|w&t)|(?:on|in) (?:each|every) (?:row|turn)|each (?:time|row)),? (?:through|to|down to|until|up to(?: and including)?|as far as|ending (?:with|on|after)) (?:you (?:reach|come to|have worked) )?(?:the|a) row (?:that |which )?(?:(?:ends|reads|is|says|goes)(?: with)?:? )?['\"]?(?P<row>[kp] ?{_N}), ?w(?:&t|rap (?:and|&) turn| and t)['\"]?(?: has been worked)?(?=[.;]|$)",
            r"\g<before>Continue like this, working 1 st less before each wrap, until you have worked \g<row>, w&t",
        ),
        (  # "in the first two rows lift every wrap and work it together with its st"
            rf"(?P<before>^|[.;] )(?:(?:(?:in|on|over|during|through) (?:the )?(?:{_TWO}),?|as you (?:come to|meet|reach|pass) (?:each|every|the|a) wraps?,?(?: (?:in|on|over) (?:the )?(?:{_TWO}),?)?) )?{_WORKS} {_THEM}(?:wraps?|it|them)(?:,? (?:and|by) {_WORKS} {_THEM}?{_WITH_STS})?(?: {_WITH_STS})?(?:,? (?:as|when|where) you (?:come to|meet|reach|get to|pass) (?:them|it|each))?(?: (?:in|on|over|during) (?:the )?(?:{_TWO}))?(?=[.;]|$)",
            _wraps_taken_up,
        ),
        (  # "continue to increase 8 sts every other round, with one more st before each kfb. Work until …"
            rf"\b(?P<on>(?:continue|keep(?: on)?|go on|carry on)(?: to)? (?:inc|dec)reas(?:e|ing)\b(?:(?!\buntil\b)[^.:*])*?\b{_GROWING}(?=[.;:(]|,? ending| \())(?:[.;:](?: (?:work|continue|do (?:so|this)|go on)(?: (?:like this|in this way))? until(?: there are| you have)?)?|,? ending with [^.:]*\.)? [(]?(?P<n>{_N}) sts[)]?(?P<left>(?: (?:are left|remain))?)(?: after (?:round|rnd) \d+)?(?=[.;]|$)",
            r"\g<on> until there are \g<n> sts\g<left>",
        ),
        (
            rf"\b(?:(?P<c>C)|c)ontinue(?: to)? (?P<what>inc|dec)reas(?:e|ing)\b[^.:*]*?\b{_GROWING},? (?:until you have worked|for) (?P<times>{_FEW}) more (?:inc|dec)\w* (?P<crs>round|rnd|row)s(?=[.;]|$)",
            lambda match: (
                f"{'W' if match['c'] else 'w'}ork {match['times']} more {match['what']} {match['crs']}s"
            ),
        ),
        (  # "increase 8 sts in every other round, knitting one more st before each kfb, 4 more times"
            rf"(?P<before>^|[.;] )(?P<what>inc|dec)reas(?:e|ing) {_N} sts (?:in |on )?every (?:other|second|2nd|alternate) (?P<crs>round|rnd|row),? (?:knitting|working|with) {_GROWING}(?: each time)?,? (?P<times>{_FEW}) (?:more |further )?times(?: more)?(?=[.;]|$)",
            r"\g<before>Work \g<times> more \g<what> \g<crs>s",
        ),
        (  # "rep row 1 on every row, RS and WS, for 10 rows in all"
            rf"\b(?P<rep>(?:rep(?:eat)?|work) (?:row|rnd|round) \d+)(?P<for> for (?:garter|moss|seed|rib|the|patt)[a-z ]*?)?(?:,? (?:on )?{_EVERY})?,? (?:on )?{_BOTH},? (?=(?:for|until|till|to|another|a total|\d|once|twice|[a-z]+ (?:more )?times))",
            r"\g<rep> ",
        ),
        (  # "work every row, right side and wrong side, as row 1 for 9 more rows"
            rf"\b(?P<verb>w|k)(?:ork|nit) {_EVERY},? {_BOTH},? (?:as|like) (?P<row>(?:row|rnd|round) \d+),? (?=(?:for|until|till|to|another|a total|\d))",
            lambda match: f"{'R' if match['verb'].isupper() else 'r'}epeat {match['row']} ",
        ),
        (  # "… 9 more times, and then work the WS row once more"
            rf"\b(?P<rep>(?:rep(?:eat)?|work|knit) [^.;]*?\b(?:times?(?: more| in all| in total)?|twice(?: more)?|once more))(?:,? and(?: then)?|,? then|[,;] (?:and )?end(?:ing)? with(?= (?:the |an? |one )?(?:(?:extra|more|further|additional) |[^.;]* (?:once|again|time)\b)))(?: work| knit)? (?:the |an? |one )?(?:(?:extra|more|further|additional) )?(?P<row>{_KIND} (?:row|rnd|round))(?: once(?: more| again)?| (?:one|1) (?:more|further) time| (?:one|1) time more| again)?(?=[.;]|$)",
            r"\g<rep>, then the \g<row> once more",
        ),
        (  # "knit across needle 1, ready to begin the heel on needle 2"
            r"\b(?P<what>(?:knit|k|work)(?: across| over)?(?: the)?(?: (?:sts|stitches) (?:of|on))?(?: the)? (?:needle 1|n ?1|(?:first|1st|instep) needle|instep(?: sts| stitches)?)(?: (?:once more|once again|again))?),? (?:(?:and be )?ready (?:to|for)|to (?:begin|start|be ready)|in readiness for|so (?:that )?you(?:['’]re| are)) [^.;:*]*(?=[.;]|$)",
            r"\g<what>",
        ),
        (  # "knit the sts of needle 1 one more time, so that the yarn is at the side"
            r"(?P<before>^|[.;:)] )(?:then |now |next,? )?(?P<verb>k|w)(?:nit|ork)?(?: across| over)?(?: the)?(?: (?:sts|stitches) (?:of|on))?(?: the)? (?:needle 1|n ?1|(?:first|1st) needle)(?: (?:sts|stitches))? (?:once more|once again|again|(?:one|a) (?:more|further|last|second) time)(?:,? (?:so (?:that )?|to (?:bring|move|get|shift|take) |in order to )[^.;]*)?(?=[.;]|$)",
            lambda match: (
                f"{match['before']}{'K' if match['verb'].isupper() else 'k'}nit across needle 1"
            ),
        ),
        (  # "knit the next round plain"
            r"\b(?P<verb>k|w)(?:nit|ork) the (?:next|following|second|2nd|other) (?P<crs>round|rnd)(?: (?:plain|even|straight|without (?:any )?(?:shaping|(?:in|de)creas(?:es|ing))))?(?=[.;]|$)",
            r"\g<verb>nit 1 \g<crs>",
        ),
        (  # "R1 + R2 8x", "R1 and R2 9 times"
            rf"^(?:(?:work|rep(?:eat)?|do) )?(?P<crs>r|rnds?|rounds?|rows?) ?(?P<a>\d{{1,2}}) ?(?:\+|&|and) ?(?:(?P=crs) ?)?(?P<b>\d{{1,2}}):? (?P<n>{_N}) ?(?:x|times)(?P<more> more)?(?=[ .;(=\[]|$)",
            lambda match: (
                f"{'Rep' if match['more'] else 'Work'} {_ROWS[match['crs'][:2].lower()]} {match['a']} and {match['b']} {match['n']} {match['more'] or ''}{' ' * bool(match['more'])}times".replace(
                    "  ", " "
                )
            ),
        ),
        (  # "work R1 2x", "rep rnd 1: 2x more"
            rf"^(?:work|rep(?:eat)?|do) (?P<crs>r|rnd|round|row) ?(?P<a>\d{{1,2}}):? (?P<n>{_N}) ?x(?P<more> more)?(?=[ .;(=\[]|$)",
            lambda match: (
                f"Rep {_ROWS[match['crs'][:2].lower()][:-1]} {match['a']} {match['n']} {'more ' * bool(match['more'])}times"
            ),
        ),
        (  # "Row 2 of toe: knit"
            r"^(?P<row>(?:row|rnd|round) \d{1,2}) of (?:the )?(?:toe|gusset|heel|thumb|crown)(?=:)",
            r"\g<row>",
        ),
        (  # "Inc rnd: k1, m1, k to last st, m1, k1 (both needles)"
            r"^(?P<head>[^:()]*: )?(?P<row>[^:()]+?),? \((?:on |for )?(?:both|each)(?: of (?:the|your))? needles?\)(?=\.?$)",
            lambda match: f"{match['head'] or ''}On each needle: {match['row']}",
        ),
        (  # "until there are 28 sts on each needle, 56 in all"
            rf"\b(?P<to>(?:until|till) (?:there are|you have) |(?<=rounds )to |(?<=rnds )to )(?P<each>{_N}) (?:sts|stitches) (?:(?:on|to) (?:each|either|every)(?: of (?:the |your )?(?:two|2|four|4))?|per) (?:needles?|sides?)(?:,? and|[,;:]| [–—-])? ?(?:that is |which makes |making |or )?\(?(?P<n>{_N})(?: sts| stitches)? (?:in all|in total|altogether|total)\)?(?=[.;]|$)",
            lambda match: f"{match['to']}{match['n']} sts" if _are_shares(match) else match[0],
        ),
        (  # "until you have worked all 26 heel sts", "till you've reached the ends of the heel sts"
            rf"\b(?:until|till|til) you(?: have|['’]ve)? (?:now )?(?:(?:worked|used|taken|knit(?:ted)?|included|joined|eaten|consumed|absorbed|gone through) (?:(?:up|in|across|off) )?(?:all|every one|each one)(?: of)?(?: (?:the|these|those))?|(?:reached|come to|got to|arrived at) (?:both |the )*ends? of (?:all )?(?:the|these|those)) (?P<which>(?:{_N} )?(?:[a-z]+ )?)(?:sts|stitches)(?: (?:of|on|at|in) (?:the |each |both |your )*(?:[a-z]+ )?(?:heel|flap|turn|thumb|needles?|sides?|ends?))?(?=[.,;:]|$)",
            r"until all \g<which>sts have been worked",
        ),
    )
)


def with_repeats(said: MappedText) -> MappedText:
    """Return a line with its repeats said as the rules know them."""
    return _WAYS.put_in(said)
