# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Plain talk for a step that has a short form: cast on, a circle closed, loops drawn up, one needle alone."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Rewordings
from loopwright.pattern._words import whole_number

__all__ = ["with_plain_talk"]

_N = r"\d+(?: ?[(\[][^)\]]{0,60}[)\]])?"
_STS = r"(?:sts|stitches)"
_FROM = r"(?P<before>^|[.;:] )"
_FIRST_ST = (
    r"(?:into )?the first (?:cast[- ]on )?st(?:itch)?(?: (?:of|on) the (?:cast[- ]on|left needle))?"
)
_SOME_ROUNDS = rf"(?:(?:(?:the )?next|an?|one|{_N})(?: more| plain)?) (?:rounds?|rnds?)"
_CIRCLE = r"(?:(?:join|close|form|complete|make) (?:(?:in|into|it|them|up) )*(?:(?:the |a )?(?:circle|ring|round|rnd|work|loop))?|join)"
_TOOL = r"(?:blunt|tapestry|darning|wool|yarn|sewing|large|big)(?:[- ]eyed?)? needle"
_TAKE = r"(?:take|pass|run|lead|bring|draw|thread|pull|put)"
_IT = r"(?:it|the (?:yarn|wool|end|tail|yarn end|yarn tail|cut end))"
_WAIT = r"(?:waiting|resting|held|other|idle)"
_NEEDLE = r"(?:the )?(?:(?P<sts>(?:\d+(?: ?\([^()]*\))? )?(?:sts|stitches)) (?:of|on) )?(?:the )?(?P<which>first|second|1st|2nd|(?:needle |n ?)[12]\b)(?: needle)?"
_ORDER = {"first": 1, "1st": 1, "needle 1": 1, "n1": 1, "n 1": 1}
_ONE_ALONE = r"(?:use|(?:work|go on|carry on|keep on|continue)(?: working| knitting)? (?:on|with|over)|work in rows on|work back and forth on|knit on)"

_RIB_ON = r"on (?:needle |n ?)(?P<n>\d),? (?:work|knit|keep)(?:ing)? (?:(?:the |in )?(?:rib(?:bing)?|patt(?:ern)?)(?: (?:as )?(?:on|for|in|of) the (?:leg|cuff|instep)| as (?:set|before|est\w*))? ?\()?(?P<rep>\*[^()*]+?)[;,] ?rep(?:eat)? from \*(?: to (?:the )?end(?: of (?:the )?needle)?)?\)?"
_FROM_NOW = r"(?:(?:now|then|next|from here(?: on| (?:to|until|through) (?:the end of )?(?:step|row) \d+)?|from now on|for now),? )?(?:you (?:will )?(?:now )?)?"
_IN_ROWS = r"(?:,? (?:in rows|back and forth))?"


def _one_needle(match: re.Match[str]) -> str:
    number = _ORDER.get(match["which"].lower(), 2)
    return f"{match['before']}Work back and forth on the sts of needle {number} only"


_WHICH_NEEDLE = {"second": "2", "third": "3", "fourth": "4"}


def _and_like_it(match: re.Match[str]) -> str:
    """Put the rows that are like one before them: all by twos from it on, or by their numbers."""
    numbers = [int(one) for one in (match["n"], *re.findall(r"\d+", match["more"]))]
    row, side = match["row"], match["side"] or ""
    if numbers == [*range(numbers[0], numbers[-1] + 1, 2)]:
        return f"{row} {numbers[0]}{side} and every alternate {row.lower()}: {match['what']}"
    return f"{row}s {match['n']}, {match['more']}{side}: {match['what']}"


def _knit_and_ribbed(match: re.Match[str]) -> str:
    """Put "on N2, work *k3, p1; rep from *; on N1 knit" needle by needle, in their order."""
    number, rep = match["n"] or match["bn"], match["rep"] or match["brep"]
    told = {number: f"{rep}; rep from * to end", match["knits"] or match["knits2"]: "knit"}
    return match["before"] + ". ".join(f"N{one}: {told[one]}" for one in sorted(told))


_THINGS = r"(?:lines?|ridges?|rows|rounds|rnds|eyelets?|windows?|stripes?|holes?|repeats?|bands?|waves?|buttonholes?|diamonds?|motifs?|chains?|bumps?|squares?|zigzags?|ladders?|triangles?|blocks?)"
_EACH_ROW = r"(?:each|all|every)(?: (?:one|row|round|rnd)s?)?(?: of (?:them|these))?"
_BEGINS = r"(?:kfb|(?:(?:k|p) ?\d+, )?(?:yo|m1[lr]?|kfb)|sl(?:ip)? ?1)"


def _each_begun(match: re.Match[str]) -> str:
    """Put rows that are told by what each begins or ends with: "Next 6 rows: k2, yo, k to end"."""
    plain = "p" if match["knit"].lower().startswith("purl") else "k"
    row = f"{plain} to last st, kfb" if match["last"] else f"{match['begin']}, {plain} to end"
    return f"{match['before']}Next {match['n']} {match['course']}: {row}"


def _plain_so_far(match: re.Match[str]) -> str:
    """Put "then plain until it is 8 inches long" with what is done."""
    far = match["far"]
    return f"{match['before']}Knit {'until it is ' + far[3:] if far.startswith('to ') else far}"


_WAYS = Rewordings(
    (
        (  # "We graft these in class."
            rf"{_FROM}(?:we|you)(?:['’]ll| will| shall| now| then)* graft (?=(?:these|those|them|the)\b)(?![^.;]*\b(?:later|leave|when|until|after|if)\b)",
            lambda match: (
                match["before"] + ("graft " if match["before"][:1] in (";", ":") else "Graft ")
            ),
        ),
        (  # "Pick up the round again over all 60 sts.": nothing is picked up
            r"\b(?P<p>p)ick (?:up the (?:round|rnd)s?|the (?:round|rnd)s? up)(?P<again> again| once more)?\b",
            lambda match: (
                f"{'T' if match['p'] == 'P' else 't'}ake up the round{match['again'] or ''}"
            ),
        ),
        (
            r"\b(?P<work>(?:work|knit) in the (?:round|rnd)) once more (?=(?:on|over|with) )",
            r"\g<work> again ",
        ),
        (  # "K 11 to reach the instep; the round starts here now."
            rf"(?P<knit>\b(?:k|knit) ?{_N}(?: {_STS})?),? to (?:(?:reach|get to|come to) )?(?:the (?:start|beginning) of )?the instep(?:[;:,] (?:and )?(?:here |this is |(?:the )?(?:new )?(?:start|beginning) of (?:the )?(?:round|rnd) is |(?:the |your )?(?:rounds?|rnds?) )|, where (?:the |your )?(?:rounds?|rnds?) )[^.;:*\d]*(?=\.?$)",
            r"\g<knit>. The round begins here now",
        ),
        (  # "the 14 sts that are waiting", "the 14 stitches which you held"
            rf"(?P<sts>\b(?:the |these |those )?{_N} )(?P<st>{_STS}) (?:that|which)(?: you| we|'ve|'re| have| had| are| were)* (?:wait(?:ing|ed)?|held|left (?:waiting|on hold)|rest(?:ing|ed)?|set aside|put (?:aside|by)|on hold|asleep|slept|sleep)(?= (?:and|then|from|on|for)\b|[,.;(]|$)(?! (?:on|for) )",
            r"\g<sts>waiting \g<st>",
        ),
        (  # "…: this spot, over the thumb, is now where the round begins, and so both are alike"
            r"(?P<b>^|[.;:,] )(?:and )?(?:this|that|here|it)(?: (?:spot|point|place|thread|marker|marks?|stitch))?(?:, [^,.;:*\d]*,)? (?:is|becomes|will be|marks|shows)(?: now| from now on)*(?: the (?:place|point|spot))? where (?:the|your|each|every) (?P<rnd>rounds?|rnds?) (?:now )?(?:begins?|starts?)(?: now| from now on)?[^.;:*\d]*(?=[.;]|$)",
            lambda match: (
                ("" if not match["b"] else "; " if match["b"][0] in ",;:" else ". ")
                + "the round begins here"
            ),
        ),
        (  # "then k the 20 sts waiting on the LH needle"
            rf"\b(?P<do>k|p|knit|purl|work) (?:the )?(?P<n>{_N}) (?P<st>{_STS}) (?:waiting|left|resting|that (?:wait|are waiting|are left)) on the (?:LH|left(?:[- ]hand)?) needle",
            r"\g<do> \g<n> \g<st>",
        ),
        (  # "Pick up the 14 waiting sts and pick up and knit 4 more": those are there
            rf"\b(?P<p>p)ick up (?=(?:the |these |those |all |your )*(?:{_N} )?(?:waiting|held|resting|rested) {_STS}\b,? (?:and|then)\b)",
            lambda match: "Take up " if match["p"] == "P" else "take up ",
        ),
        (  # "Then plain until it is 8 inches", "Straight on, ribbing the instep, to 4.5 cm short of the length"
            r"(?P<before>^|[.;] )(?:(?:and|then|now|next|after that),? )*(?:plain|straight|even)(?: (?:on|knitting|work))*(?:, (?:rib|knitt|keep|work)ing [^.;:*\d]*?)?,? (?P<far>(?:until|till|to \d)[^.;:*]*(?:\.\d[^.;:*]*)*)(?=[.;]|$)",
            _plain_so_far,
        ),
        (  # "You will have 100 sts, and ten lines of windows, eight rows apart"
            rf"(?P<told>\b(?:you (?:(?:will|should) )?(?:now )?have|there (?:are|will be)|that (?:is|makes|gives you))(?: now)? {_N} {_STS}),? (?:and|with) (?:\w+|{_N}) (?:[a-z-]+ )?{_THINGS}\b(?: [^.;:*\d]*)?(?:, [^.;:*\d]*)?(?=[.;)]|$)",
            r"\g<told>",
        ),
        (  # "Knit 6 more rows, each beginning k2, yo as before"
            rf"{_FROM}(?P<knit>knit|purl|work) (?:the )?(?:next )?(?P<n>{_N}|two|three|four|five|six|eight|ten) (?:more )?(?P<course>rows|rounds|rnds),? (?:(?:{_EACH_ROW}|always) (?:beginning|starting)|(?:beginning|starting) {_EACH_ROW}|{_EACH_ROW} (?P<last>ending) (?:with|in) kfb)(?(last)|(?:,? (?:with|by))?:? (?P<begin>{_BEGINS}))(?: as (?:before|set|usual))?(?= ?[.;(]|$)",
            _each_begun,
        ),
        (  # "Rnd 2: All MC."
            r"^(?P<row>(?:(?:rnd|round) \d+|\d+(?:st|nd|rd|th) (?:rnd|round)): )(?:all (?:sts |stitches )?(?:in |with )?(?P<yarn>mc|cc|(?-i:[A-EM]))|(?:with )?(?P<yarn2>mc|cc|(?-i:[A-EM])) (?:only|all around|throughout))(?: only| around)?(?=\.?$)",
            lambda match: f"{match['row']}Knit all sts in {match['yarn'] or match['yarn2']}",
        ),
        (  # "cast on 36 sts, but do not join"
            r"(?P<cast>^[^.;:]*\b(?:cast(?:ing)? on|co) \d[^.;:]*?),? (?:but |and )?(?:do not|don['’]t|without) join(?:ing)?\b(?P<why>[^.;:]*)",
            r"\g<cast>. Do not join\g<why>",
        ),
        (  # "You need 40 stitches: cast them on and knit 2 rows."
            rf"{_FROM}(?:you (?:will )?need|take|count) (?P<n>{_N}) (?P<sts>{_STS})(?::|,|;| and) (?:and )?cast (?:them|these|those|all of them) on\b",
            r"\g<before>Cast on \g<n> \g<sts>",
        ),
        (  # "Next rnd: N1: K. Then go on with N2 only": half a round
            rf"{_FROM}(?:next (?:round|rnd): ?)?(?:(?:needle |n ?)1: ?(?:knit|k)|(?:knit|k|work) (?:across )?(?:needle |n ?)1)[.;,] (?:and )?{_FROM_NOW}{_ONE_ALONE} (?:the )?(?:(?:needle |n ?)2|second needle),? (?:only|alone){_IN_ROWS}(?=[.:;]|$)",
            r"\g<before>Knit needle 1. Needle 1 now rests",
        ),
        (  # "work 14 rib rounds, then bind off loosely"
            r"(?P<before>(?:^|[.;:] )(?:work|knit|purl|do|rib)[^.;:*]*?),? (?:and )?then (?P<off>bind off|cast off|bo)(?P<how>(?: [^.;:\d]*|, (?:but )?not too \w+)?)(?=[.;]|$)",
            lambda match: f"{match['before']}. {match['off'].capitalize()}{match['how']}",
        ),
        (  # "bridge the gap by casting on 8 new sts"
            rf"\b(?:bridge|close|span|fill|cover|cross)(?: over)? (?:the |this )?(?:gap|hole|space|opening)(?: (?:by|with))? cast(?:ing)? on (?P<n>{_N})(?: new| extra)?(?: (?:sts|stitches))?",
            r"cast on \g<n> sts",
        ),
        (  # "make 8 new sts over the gap with the backward loop cast-on"
            rf"\bmake (?P<n>{_N}) (?:new|extra|more) (?:sts|stitches) (?:over|across|above) (?:the |this )?(?:gap|hole|space|opening)(?: with (?:a |the )?(?:backward|half-hitch|thumb|knitted)[a-z -]*)?(?=[.,;]|$)",
            r"cast on \g<n> sts",
        ),
        (  # "the next 8 go on a holder; cast on 8 to replace them"
            rf"(?P<before>^|[.;,] (?:and |then )*)(?:the )?next (?P<n>{_N})(?: (?:sts|stitches))? go (?:on|onto|on to) (?=(?:a |an |the |some )?(?:[a-z]+ )?(?:holder|thread|yarn|pin|string)\b)",
            lambda match: (
                f"{match['before']}{'Slip' if match['before'][:1] in ('', '.') else 'slip'} the next {match['n']} sts to "
            ),
        ),
        (
            rf"\bcast on (?P<n>{_N})(?: (?:sts|stitches))? (?:to replace (?:them|these|those)|instead(?: of them)?)(?=[.,;]|$)",
            r"cast on \g<n> sts",
        ),
        (  # "knit to the thumb (5 sts), …"
            rf"\b(?:k|knit) to (?:the )?(?:thumb|opening|slit)(?: opening| position)? \((?P<n>{_N}) (?:sts|stitches)\)(?=[.,;])",
            r"k\g<n>",
        ),
        (  # "…, cast on 8, knit round"
            r"(?P<list>[,;] (?:and |then )*(?:k|knit))(?: on)? (?:a?round|the rest(?: of the (?:round|rnd))?)(?=[.;]|$)",
            r"\g<list> to end",
        ),
        (  # "toe round A: …", "rep toe rounds A and B"
            r"\b(?:the )?(?:toe|heel|crown|thumb|cuff|leg|foot|gusset|hand|top|stripe|lace|pattern|patt|shaping|eyelet|rib) (?P<course>rounds?|rnds?|rows?) (?=(?-i:[A-H])(?:[:.,;]| (?:and|&|to|-|once|twice|again|until|till|\d|[a-z]+ (?:more )?times)\b|$))",
            r"\g<course> ",
        ),
        (  # "do 15 more rnds of rib and cast off, not too tightly"
            rf"(?P<before>^|[.;:] )do (?P<n>{_N}) (?=(?:more )?(?:rib |plain )?(?:rounds|rnds|rows)\b)",
            r"\g<before>Work \g<n> ",
        ),
        (
            rf"(?P<before>(?:^|[.;:] )work )(?P<n>{_N}) (?P<more>more )?rib (?P<course>rounds|rnds|rows)\b",
            r"\g<before>\g<n> \g<more>\g<course> in rib",
        ),
        (  # "2nd dec rnd: …"
            r"^(?P<n>\d+)(?:st|nd|rd|th) (?P<what>dec|inc)(?:rease)?\.? (?P<course>round|rnd|row)\.?(?=:)",
            lambda match: f"{match['what'].capitalize()} {match['course']} {match['n']}",
        ),
        (r"(?<=[\])]) ?(?P<n>\d+) ?x(?=[,;.)]|$)", r" \g<n> times"),  # "[yo, k1] 4x, k2"
        (  # "(knit 2, purl 2), over and over until you are back at the marker"
            r"[(\[](?P<items>[^()\[\]*]+)[)\]],? (?:over and over|again and again)(?: again)?,? un?til+ you(?:['’]re| are)? (?:back (?:at|to)|reach|get (?:back )?to|come (?:back )?to) the (?:marker|end|beginning|start)(?: of the (?:round|rnd|row))?",
            r"*\g<items>; rep from * to end",
        ),
        (  # "… yo, k2 = 4 sts added."
            rf" ?=+ ?(?P<n>{_N}) (?P<sts>{_STS}) (?P<how>added|increased|more|decreased|fewer|less|gone|lost)(?=[.;]|$)",
            lambda match: (
                f" ({match['n']} {match['sts']} {'inc' if match['how'][0] in 'aim' else 'dec'})"
            ),
        ),
        (  # "work (k1, p1) around for 2 rnds", "work [k1 tbl, p1] to the end of each rnd for 15 rnds"
            rf"(?P<before>^|[.;:] (?:and |then |now )*)work (?:in )?(?:[(\[](?P<items>[^()\[\]*]+)[)\]]|\*(?P<starred>[^()\[\]*;]+)\*),? (?:(?:all )?(?:the way )?a?round|across|to (?:the )?end(?: of (?:the |each |every )?(?:round|rnd|row))?),? for (?P<n>{_N}) (?P<course>rounds|rnds|rows)\b",
            lambda match: (
                f"{match['before']}*{match['items'] or match['starred']}; rep from * to end for {match['n']} {match['course']}"
            ),
        ),
        (  # "with a closed-toe cast-on, make 20 sts"
            r"\b((?:with|using|by) (?:an?|the|your) (?:[a-z-]+ ){0,2}[a-z-]+ cast-on,? )(?:make|work|put|set up|begin with|wind|wrap|loop|place|get) (?=\d)",
            r"\1cast on ",
        ),
        (  # "make 12 stitches with the closed cast-on we practised"
            rf"\b(?:make|work|put|set up|wind|wrap|loop|place|get) (?P<n>{_N}) (?P<sts>{_STS}|loops)(?: (?:on ?to|on|over|round|around) (?:the |your )?(?:two |both )?(?:needles?(?: tips)?|tips))? (?:with|using|by|in) (?:an?|the|your) (?P<how>(?:[a-z-]+ ){{0,2}}[a-z-]+) (?:cast-on|(?<=eight )method|(?<=8 )method|(?<=turkish )method)(?: (?:that )?(?:we|you) [a-z ]+)?",
            r"cast on \g<n> \g<sts> with a \g<how> cast-on",
        ),
        (  # "place the marker and knit the first stitch to close the circle"
            rf"{_FROM}(?P<lead>(?:[^.;:*]*?(?:,? and (?:then )?|, then |, ))?)(?:knit|work|k) {_FIRST_ST} to {_CIRCLE}(?P<rest>,? [^.;:*\d]*)?(?=[.;]|$)",
            lambda match: (
                f"{match['before']}{'Place marker. ' * ('marker' in match['lead'].lower())}Join in the round"
            ),
        ),
        (  # "knit in a circle again", "go on with the tube"
            rf"\b(?P<work>(?:knit|work|go on|continue|carry on|back to)(?:t?ing)?(?: (?:knit|work)(?:t?ing)?)?(?: {_SOME_ROUNDS})?) (?:(?:in|as) an?|with the) (?:circle|ring|tube)(?=[.,;]|$| (?:again|once more|for|until|now)\b)",
            r"\g<work> in the round",
        ),
        (
            rf"\b(?P<work>(?:knit|purl) {_SOME_ROUNDS}) in (?:the round|rounds) (?:again|once more)(?=[.,;]|$)",
            r"join in the round and \g<work>",
        ),
        (  # "keep going to the end of the heel stitches, knitting the two legs of every ds together"
            rf"{_FROM}(?:keep (?:on )?(?:going|knitting)|carry on|go on|continue)(?: knitting)? (?:right )?to the end of the (?P<far>heel(?: {_STS})?|row),? (?:and )?(?:knit(?:ting)?|work(?:ing)?|clos(?:e|ing)|tak(?:e|ing)|resolv(?:e|ing)|treat(?:ing)?) (?:(?:(?:the )?(?:two|both) (?:legs|loops|strands|halves) of )?(?:each|every|the|all(?: the)?) (?:ds|double {_STS}|double stitch))(?: (?:together|tog|as (?:one|1)(?: st(?:itch)?)?))?(?: as you (?:come to|meet|reach|get to|go|pass) ?(?:it|them|each)?)?(?=[.;]|$)",
            r"\g<before>Knit to the end of the \g<far>, closing each DS as you come to it",
        ),
        (  # "with a blunt needle take it through the 8 stitches twice, pull"
            rf"{_FROM}(?:(?:break|cut) (?:the )?(?:yarn|wool),? and )?with an? {_TOOL},? {_TAKE} {_IT} through (?:(?:the|all|these|those|rem\w*|last|of) )*(?P<n>{_N} )?{_STS},?(?: twice| again)*(?:[,;.]? (?:and )?(?:then )?pull\b[^.;*]*)?(?=[.;]|$)",
            lambda match: (
                f"{match['before']}Thread the yarn through the {match['n'] or ''}sts and pull tight"
            ),
        ),
        (  # "now use the second needle only"
            rf"{_FROM}{_FROM_NOW}{_ONE_ALONE} {_NEEDLE},? (?:only|alone){_IN_ROWS}(?=[.:;]|$)",
            _one_needle,
        ),
        (  # "then use just the 52 sts of the second needle"
            rf"{_FROM}{_FROM_NOW}{_ONE_ALONE} (?:just|only) {_NEEDLE}{_IN_ROWS}(?=[.:;]|$)",
            _one_needle,
        ),
        (  # "only the second needle is used now"
            rf"{_FROM}{_FROM_NOW}only {_NEEDLE} is (?:now )?(?:used|worked|in use|in work)(?: now| from here(?: on)?| for now)?(?=[.:;]|$)",
            _one_needle,
        ),
        (  # "work the 32 waiting stitches in the leg pattern"
            rf"{_FROM}(?:(?:now|then|next),? )?(?:work|knit|continue)(?: across| over)? (?:the )?(?:(?P<n>{_N}) {_WAIT}|{_WAIT} (?P<n2>{_N})) {_STS} in (?:the )?(?:(?:leg|instep|rib|cuff|main|set|established) )?patt(?:ern)?(?:,? to the (?:start|beginning) of the (?:heel|round|rnd))?(?P<stop>;|(?=[.,]|$))",
            lambda match: (
                f"{match['before']}Knit the {match['n'] or match['n2']} waiting stitches in pattern{'.' * bool(match['stop'])}"
            ),
        ),
        (  # "do rows 3 and 4 nine more times, then do row 3 again but don't turn"
            r"(?P<then>(?:,? and then|,? then|,? and) (?:(?:do|work|rep(?:eat)?|knit) )?|(?:^|(?<=[.;] ))(?:do|work|rep(?:eat)?|knit) )(?P<row>(?:row|rnd|round) \d+) (?:again|once more|once again|one more time|one last time|one further time),? (?:but )?(?:this time )?(?:don['’]t turn|do not turn|not turning|omit(?:ting)? the turn|leav(?:e|ing) out the turn|without (?:the turn|turning))(?: (?:at|on) (?:the|its) end)?(?=[.;]|$)",
            lambda match: (
                f"{', then' if match['then'][0] in ', ' else 'Work'} {match['row']} once more. Do not turn"
            ),
        ),
        (  # "3rd row: K to the stitch before the wrapped stitch, wrap this stitch."
            r"(?P<row>(?:^|\. )[^:.]*\brows?\b[^:.]*: [^.:;*]*, )wrap (?:the (?:(?:last|next|following|end|wrapped) )?|this |that )(?:st|stitch)(?:\. turn\b)?(?=\.?$|\. )",
            r"\g<row>wrap the next st and turn",
        ),
        (  # "Row 1: Slip 1, knit 1, six times in all. Turn."
            r"(?P<row>(?:^|\. )(?:rows?|rounds?|rnds?) \d+[^:.*]*: [^.:;*]*, \w+ times) in all(?=[.,;]|$)",
            r"\g<row>",
        ),
        (  # "then knit across the resting half", "… and then across the waiting half"
            r"(?:\b(?P<do>knit|k|work)(?: across| over)?|(?P<then>,| and|, and) then (?:across|over)) the (?:resting|waiting|held|idle|sleeping) (?:half|side)\b",
            lambda match: (
                f"{(match['then'] or '') + ' then knit' * bool(match['then'])}{match['do'] or ''} across the resting sts"
            ),
        ),
        (  # "slip rem heel sts to beg of needle 1—74 sts": no range
            rf"(?<=needle [1-4])(?: ?[—–] ?| - )(?={_N} {_STS}\b)",
            ". ",
        ),
        (  # "decrease every other round until 20 sts remain, then every round until you have 12"
            rf"(?P<first>\b(?:{_N}) {_STS}\b[^.;*]{{0,60}}\bthen (?:in |on )?(?:every|each) (?:round|rnd|row)[^.;*\d]{{0,60}}?\b(?:(?:un)?til+(?: you have| there are)?(?: only)?|down to|to) )(?P<n>{_N})(?=(?: remain| are left| rem\b)?(?:[.;]|$))",
            r"\g<first>\g<n> sts",
        ),
        (  # "Row 8: purl. Rows 10, 12 and 14: the same."
            r"^(?P<row>row|round|rnd) (?P<n>\d+)(?P<side> \((?:RS|WS)\))?: (?P<what>[^.;:*]+)\. (?:rows?|rounds?|rnds?) (?P<more>\d+(?:(?:, | and |, and | & )\d+)*): (?:(?:just |exactly )?the same|ditto|likewise|same)(?=\.?$)",
            _and_like_it,
        ),
        (  # "Rep Rows 3-4 another 8 times. [N2: 28 sts]": of the needle in work
            rf"(?P<stop>\.)? ?[\[(](?:needle |n ?)(?P<n>[12]): (?P<many>{_N} {_STS})[\])](?=\.?$)",
            r". \g<many> on needle \g<n>",
        ),
        (  # "Row 2: The same in purl."
            r"^(?P<row>(?:row|r) ?(?P<n>\d+)(?: \((?:RS|WS)\))?: )(?:the same|same|likewise|ditto)(?: again)?(?: thing)?,? (?:but )?(?P<how>in purl|purl(?:ing|wise)?|on the purl side)(?=\.?$)",
            lambda match: f"{match['row']}As row {int(match['n']) - 1} in purl",
        ),
        (  # "knit all sts, picking up a strand at each corner to knit with its neighbour": no stitch more
            r",? (?:and )?(?:pick|lift|tak)(?:ing)?(?: up)? (?:a|one|an extra|the) (?:running )?(?:strand|loop|thread|bar) (?:at|in|from) (?:each|both|every|the|either) (?:corners?|gaps?|sides?|ends?)(?: of the heel)?,? (?:to|and) (?:knit|work)(?:ing)?(?: it)?(?: together| tog)? with (?:its|the|their|a) (?:neighbou?r(?:ing st(?:itch)?)?s?|next st(?:itch)?|st(?:itch)? (?:next to|beside) it)\b[^.;\d]*",
            "",
        ),
        (  # "keep doing these two rows, lifting both wraps each time": until none is left
            r"\b(?:keep(?: on)?|carry on|go on) (?:doing|working|repeating|knitting) (?:these|those|the last|both)(?: (?:two|2))? rows,? (?:but )?(?:lifting|working|picking up|knitting|taking) (?:up )?(?:both|the|all|two)(?: the)? (?:wraps|legs)\b[^.;:\d]*(?<!until)(?=[.;]|$)",
            r"Repeat these two rows until all wrapped sts have been worked",
        ),
        (  # "lift the last wrap, then ssk that stitch with the gusset stitch after it"
            r"(?P<before>[;,.]) ?(?:and )?(?:then )?lift (?:up )?the (?:last|next|remaining) wrap,?(?: and)?(?: then)? (?P<dec>ssk|k2tog|p2tog|ssp) (?:that|this|its|the) st(?:itch)? (?:tog(?:ether)? )?(?:with|and) the (?:next )?(?:gusset |following )?st(?:itch)?(?: (?:after|beyond|next to|behind) it)?",
            r", \g<dec> with its wrap",
        ),
        (  # "Knit 1 full rnd: N1, then N2"
            r"\b(?P<knit>knit (?:1|one|a) (?:full |whole |complete )?(?:round|rnd)): (?:n ?1|needle 1)(?:,? (?:then|and))+ (?:n ?2|needle 2)\b",
            r"\g<knit>",
        ),
        (  # "pick up 22 sts below, 22 above, plus 1 at each corner"
            rf"\b(?P<pick>pick up(?: and knit)?) (?P<a>{_N})(?: {_STS})? (?:from )?(?P<below>below(?: the (?:waste|scrap) (?:yarn|wool)| it)?),? (?:and )?(?P<b>{_N})(?: {_STS})? (?:from )?above(?: it)?,? (?:plus|and|with) (?:1|one)(?: st(?:itch)?)? (?:at|in) each (?P<where>corner|end|side)\b",
            r"\g<pick> \g<a> sts \g<below> and \g<b> sts above, and 1 st at each \g<where>",
        ),
        (  # "Bind off with something stretchy. I like k2tog tbl, slip the st back, repeat.": how it is done
            r"(?P<off>(?:^|[.;:] )(?:now |then |loosely )?(?:bind|cast) off\b[^.;:\d*]*)[.;:—–-]+ ?\(?(?:i (?:(?:usually|always|often) )?(?:like(?: to)?|use|prefer(?: to)?|love(?: to)?|do|(?=k2tog|k ?2 tog))|(?:mine|one way|the one i (?:like|use)) is|my (?:own )?favou?rite(?: one)?(?: is)?|for (?:example|instance)|e\.g\.|try|such as)[:,]? ?[^.]*?(?:tog\b|together)[^.]*(?=\.|$)",
            r"\g<off>",
        ),
        (  # "place 4 sts on each of 4 dpns; needles 1 and 2 are the top"
            r"\b(?P<each>on each of (?:the )?\w+ (?:dpns|needles)); (?=(?:the )?needles? \d)",
            r"\g<each>. ",
        ),
        (  # "Row 1, right side: …"
            r"(?P<row>(?:^|[.:)] )(?:rows?|r) ?\d+(?:(?:, | and |-)\d+)*),? (?P<side>right|wrong)[- ]side(?= ?:)",
            lambda match: f"{match['row']} ({'RS' if match['side'][0] in 'rR' else 'WS'})",
        ),
        (  # "knit across N1 only of the next rnd"
            r"\b(?P<knit>(?:knit|k|work) (?:across )?(?:needle |n ?)1)\b,? only,? of the next (?:rnd|round)\b",
            r"\g<knit>",
        ),
        (  # "k18; run a bright thread through the 18 sts just made and leave it there; knit to end"
            rf"(?:[;,]|,? and) (?:run|thread|draw|pull|pass|weave) (?:an? |the |some |your )?(?:[a-z-]+ ){{0,4}}(?:thread|yarn|wool|cotton|string) through (?:the |these |those )?(?:same )?(?:{_N} )?{_STS}(?: (?:that )?(?:you )?(?:have )?just (?:been )?(?:made|worked|knit(?:ted)?))?,? (?:and (?:then )?leav(?:e|ing)|leaving|to be left) (?:it|the (?:thread|yarn|end))? ?(?:there|in place|in them|where it is|in)(?: as a (?:marker|sign)| to mark [^;.,]*| for (?:now|later))?(?=[;,.])",
            "",
        ),
        (  # "thread waste yarn through the next 11 sts and let them hang"
            rf"\b(?:thread|run|draw|pull|pass) (?:a (?:length|piece|bit) of )?(?:the |some )?(?P<yarn>(?:waste|scrap|spare|contrast(?:ing)?|smooth) (?:yarn|wool|thread|cotton)) through (?:the )?(?P<which>next |first |last )?(?P<n>{_N}) {_STS}(?: for the thumb)?(?:,? and (?:let|leave) them (?:hang|wait|rest|there))?(?=[,.;]|$)",
            r"place the \g<which>\g<n> sts on \g<yarn>",
        ),
        (  # "These 40 rows, rib and moss, are repeated throughout. Work them 10 times more"
            rf"\b(?P<these>these (?:{_N}) (?:rounds|rnds|rows))(?:, [a-z ,]+,)? (?:are (?:(?:now|all|then) )*repeated(?: throughout| over and over| for the [a-z]+)?|are (?:now )?the pattern)[:;,.] ?(?:now )?(?:work|knit|do|repeat) (?:it|them|this|these) (?P<often>\w+ times in all|\w+ more times|\w+ times more)\b",
            r"Work \g<these> \g<often>",
        ),
        (  # "these 12 rounds make one stripe pattern: work it 4 times in all"
            rf"\b(?P<these>these (?:{_N}) (?:rounds|rnds|rows)) (?:make|form|are|give) (?:one|the|a)(?: [a-z]+){{0,2}}(?: pattern| repeat| stripe| set)[:;,.] ?(?:now )?(?:work|knit|do|repeat) (?:it|them|this|these) (?P<often>\w+ times in all|\w+ more times|\w+ times more)\b",
            r"Work \g<these> \g<often>",
        ),
        (  # "ssk last wrapped st tog with first gusset st", "ssk (last wrapped st and first gusset st)"
            r"\b(?:work (?:an? )?)?(?P<dec>ssk|p2tog|k2tog|ssp|p2tog tbl),? \(?(?:working |using |with |on |over )?(?:the )?last (?:wrapped |heel |double )?st(?:itch)?(?:,? \(?(?:with|and) its wraps?\)?,?)?(?: tog(?:ether)?)? (?:with|and) (?:(?:the )?(?:first|next|following) (?:(?:gusset|side|flap|unwrapped|sole) )?st(?:itch)?(?: (?:beyond|after|behind) (?:it|the gap|the turn)| (?:of|from) (?:the )?(?:gusset|sole|flap))?|(?:the )?(?:st(?:itch)?|one) (?:just )?(?:after|beyond|behind|next to|beside) it)(?: tog(?:ether)?)?\)?(?=[,;.]|$)",
            r"\g<dec>",
        ),
        (  # "…, k1. Turn; 2 sts are left over", "turn - 2 sts remain unworked": what lies past the turn
            rf"\b(?P<turn>turn)(?: (?:the |your )?work)?(?:[;:,] ?| ?[-–—] ?)(?:and )?(?:(?:there are|there is|you have) )?(?P<n>{_N}|one|two|three|four) (?P<sts>sts?|stitch(?:es)?) (?:(?:is|are|rem|remain|remains|stay|stays|will be) )?(?:now )?(?:left over|left unworked|left behind|(?:left )?at (?:the |this |that )?(?:other )?end|unworked|not worked|still unworked|waiting)(?: (?:at|on) (?:the |this |that )?(?:other |same )?(?:end|side))?(?: of (?:the )?(?:needle|row))?(?: too| as well| again)?(?=[.;]|$)",
            lambda match: (
                f"{match['turn']}. {match['n'] if match['n'][0].isdigit() else whole_number(match['n'])} {match['sts']} are left over"
            ),
        ),
        (  # "Everything in this part happens on the 28 sts of the second tip"
            rf"(?:(?<=^)|(?<=[.;:] ))(?:(?:from here(?: on)?|now|for now),? )?(?:everything|all of (?:it|this|the heel)|(?:this|the) (?:whole |next |entire )*(?:part|section|heel))(?: (?:in|of) (?:this|the) (?:part|section|heel))?(?: (?:from here(?: on)?|that follows))?(?: (?:now|only|all))* (?:(?:happens?|takes? place|goes on)|(?<!the heel )(?:is|are|gets?) (?:now )?(?:worked|done|knit(?:ted)?))(?: (?:now|only|just))* (?:on|over) (?:just |only )?(?:the )?(?:(?P<n>{_N}) (?:[a-z]+ )?{_STS} (?:of|on) )?(?:needle (?P<one>[12])|(?:the )?(?:(?P<first>first|1st)|second|2nd) (?:needle(?: tip)?|tip))(?:'s (?P<m>{_N}) {_STS})?(?: only| alone)?(?=[.;:,]|$)",
            lambda match: (
                f"Work back and forth on the {match['n'] or match['m'] or ''}{' ' * bool(match['n'] or match['m'])}sts of needle {match['one'] or (1 if match['first'] else 2)} only"
            ),
        ),
        (  # "knit on to the end of the needle and across the instep needle"
            rf"{_FROM}(?P<knit>(?:(?:carry|go|keep) on knitting|(?:knit|k)(?: on| straight on)?) to (?:the )?end(?: of (?:the |this )?(?:needle(?: [12])?|heel(?: {_STS}| needle)?|row|sole(?: {_STS}| needle)?|{_STS}))?),? (?:(?:and|then|on|also|knit|k) )*(?:across|over|along) (?:the |your )?(?P<there>instep|other|second|(?:needle |n)2)(?: (?:needle|{_STS}))?(?=[.,;]|$)",
            lambda match: (
                f"{match['before']}Knit to end. Knit across {'needle 2' if match['there'][-1] == '2' else 'the instep sts'}"
            ),
        ),
        (  # "All four needles again.": the round goes on
            rf"{_FROM}(?:(?:now|then|back to|on|use) )*all (?:the )?(?:three|four|five|[3-5]) needles (?:again|once more)(?=[.;]|$)",
            r"\g<before>Go back to working in rounds",
        ),
        (  # "Only with A, and only on Needles 1 and 2: 18 sts", "work back and forth on needles 1 and 2 only"
            rf"{_FROM}(?:only (?:with|in) (?P<yarn>[a-z]{{1,2}}),? (?:and )?)?(?:(?:now|then) )?(?:(?:work|knit|go on|continue)\b(?: working| knitting)?{_IN_ROWS} ?)?(?:(?P<only>only )on (?:the sts of )?needles (?P<a>1(?= (?:and|&) 2)|2(?= (?:and|&) 3)|3(?= (?:and|&) 4)) (?:and|&) (?P<b>\d)|on (?:the sts of )?needles (?P<a2>1(?= (?:and|&) 2)|2(?= (?:and|&) 3)|3(?= (?:and|&) 4)) (?:and|&) (?P<b2>\d) (?:only|alone)){_IN_ROWS}(?:[:,]? \(?(?P<n>{_N}) {_STS}\)?)?(?=[.;]|$)",
            lambda match: (
                match["before"]
                + (f"Change to {match['yarn'].upper()}. " if match["yarn"] else "")
                + f"The heel is worked on needles {match['a'] or match['a2']} and {match['b'] or match['b2']}"
                + (f" ({match['n']} sts)" if match["n"] else "")
            ),
        ),
        (  # "This is made on the first needle only: 27 sts", "for this use needle 1 alone"
            rf"{_FROM}(?:(?:this|it|(?:the |this |your )?(?:short[- ]row )?heel(?: flap| turn)?|all (?:of )?this|everything here) (?:is|gets) (?:now )?(?:all )?(?:made|worked|done|knit(?:ted)?|formed) (?:on|over)|(?:for (?:this|it|the heel),? )?(?:use|take)|(?P<used>only)) (?:just )?(?:the )?(?:sts (?:of|on) )?(?:needle (?P<one>[12])|(?P<first>first|1st)(?: needle)?|(?:second|2nd)(?: needle)?)(?(used) (?:is|are) (?:used|needed|worked)(?: for (?:this|it|the heel))?|,? (?:only|alone))(?=[.;:,]| \(|$)",
            lambda match: (
                f"{match['before']}Work back and forth on the sts of needle {match['one'] or (1 if match['first'] else 2)} only"
            ),
        ),
        (  # "Next rnd: K across needle 2, then needle 1, closing the remaining DS, then needle 2 again."
            rf"{_FROM}(?:next (?:round|rnd): )?(?:knit|k) (?:across )?(?P<a>(?:needle |n ?)[12]),? (?:and )?then (?:across )?(?P<b>(?:needle |n ?)[12])(?P<how>,? (?:closing|working|knitting|lifting|picking)[^,.;:]*?)?(?:,? (?:and )?then (?:across )?(?P<c>(?:needle |n ?)[12])(?: again| once more)?)?(?=[.;]|$)",
            lambda match: (
                f"{match['before']}Knit across {match['a']}. Knit across {match['b']}{match['how'] or ''}"
                + (f". Knit across {match['c']}" if match["c"] else "")
            ),
        ),
        (  # "On N2, work the rib as on the leg (*K3, p1; rep from *); on N1 knit."
            rf"{_FROM}(?:(?P<ribs>{_RIB_ON})[;,] (?:and )?on (?:needle |n ?)(?P<knits>[12]),? (?:knit|k)|on (?:needle |n ?)(?P<knits2>[12]),? (?:knit|k)[;,] (?:and )?(?P<ribs2>{_RIB_ON.replace('<', '<b')}))(?: plain| every (?:st|stitch|round|rnd))?(?=[.;]|$)",
            _knit_and_ribbed,
        ),
        (  # "slip 34 sleeve sts on to waste yarn", "put 34 sts for the sleeve on a holder"
            rf"\b(?P<put>(?:slip|put|place|transfer|move|leave) (?:the )?(?:next |first |last |foll(?:owing)? )?(?P<n>{_N})) (?:(?:left |right |first |second )?sleeve {_STS}|{_STS} for (?:the |a )?(?:left |right |first |second |other )?sleeve) (?=(?:on ?to|on|to)\b)",
            r"\g<put> sts ",
        ),
        (
            rf"\b(?P<on>cast on (?P<n>{_N}) {_STS}) (?:for|at|under) (?:the |each )?(?:under-?arm|arm)s?\b",
            r"\g<on>",
        ),
        (  # "Place the same number of stitches on each needle."
            rf"{_FROM}(?:place|put|arrange|keep|have) (?:the |an )?(?:same|equal) number (?:of {_STS} )?(?:on|onto|on to) (?:each|every)(?: of (?:the |your )?(?P<many>two|three|four|five|[2-5]))? needles?(?=[.;,]|$)",
            lambda match: (
                f"{match['before']}Share the sts evenly over {match['many'] or 'the'} needles"
            ),
        ),
        (  # "Repeat Rows 2 and 3, and end with a Row 2, when all the gusset sts are gone"
            r"(?P<rep>\b(?:rep(?:eat)?|work) rows? \d+ (?:and|&|-) \d+),? (?:and |but )?(?:end|stop|finish)(?:ing)? (?:with|after|on) (?:a |the )?(?P<row>row \d+),? (?:when|once|as soon as) (?P<all>(?:all|every|no|none|there)\b[^.:;*(]+?)(?=[.:;(]| \(|$)",
            r"\g<rep> until \g<all>, ending with \g<row>",
        ),
        (  # "rejoin the yarn with the right side facing", which is no name of a yarn
            r"\b(?P<join>(?:re-?)?join(?:ing)?(?: (?:the|new|your|main|working))* (?:yarn|wool)),? with (?:the )?(?P<side>right side|wrong side|rs|ws)(?: of (?:the )?(?:work|piece))? facing(?: you)?\b",
            r"with \g<side> facing, \g<join>",
        ),
        (  # "with right side facing, return to the sts on the holder, rejoin wool and cast off 18 sts"
            rf"(?P<lead>\bwith (?:the )?(?:right|wrong|rs|ws)(?: side)?(?: of (?:the )?work)? facing,? )(?:return|go back) to (?:the )?(?:(?:held|remaining|rem|waiting|other|{_N}) )*{_STS}(?: (?:on|from) (?:the |your )?(?:(?:stitch )?holder|waste yarn|scrap yarn|spare needle))?(?:,|;| and)(?: and)? (?P<join>(?:re-?)?join)",
            r"\g<lead>\g<join>",
        ),
        (  # "knit 31 and put them on hold; the other 29 sts are the heel": a sentence of its own
            rf"(?P<hold>\bplace[^.;:*]* (?:on hold|on (?:a |waste |scrap )?(?:holder|yarn))\b[^.;:*]*); t(?=he (?:other|remaining|last) {_N} (?:{_STS} )?(?:are|form|make|become|will be) (?:the |your )?heel\b)",
            r"\g<hold>. T",
        ),
        (  # "In rnds again - 56 sts."
            rf"^(?:now |then |back )?(?P<round>in (?:rnds|rounds|the (?:rnd|round))(?: again| once more)?)(?=(?:[;:,]| [-–—]) {_N} {_STS}(?: in all| on the needles)?(?:\.|$))",
            r"Work \g<round>",
        ),
        (  # "cast on loosely 60 stitches"
            r"\b(cast(?:ing)? on|co|bind off|cast off|bo),? (?:(?:very|quite|rather|fairly|nice and) )?(?:loosely|firmly|tightly|evenly|neatly),? (?=\d)",
            r"\1 ",
        ),
        (  # "*K2, p1; rep from * to end, 22 ribs in all", "… (6 butterflies)"
            rf"(?P<rep>\brep(?:eat)? from \*(?: (?:to (?:the )?end|around|across)(?: of (?:the )?(?:rnd|round|row))?)?)(?: ?\(|[,;:] ?| [-–—] )(?:you have |there are |making |makes |for )?{_N} (?!(?:{_STS}|times|rounds|rnds|rows|inches|needles|repeats|decs|incs|cms)\b)[a-z]{{2,}}s(?: (?:in all|altogether|in total|in the round))?\)?(?=[.;]|$)",
            r"\g<rep>",
        ),
        (  # "Work 8 rounds so.", "Continue so for 8 rounds."
            r"\b(?P<work>(?:work|knit|continue|carry on|go on|keep on)(?: [^.;:*,]{0,24}(?:rounds|rnds|rows))) so(?=[.;]|$)",
            r"\g<work> like this",
        ),
        (  # "C and D are worked 9 times in all"
            rf"{_FROM}(?:rows |rnds |rounds )?(?P<a>[A-H]|\d+) and (?P<b>(?-i:[A-H])|\d+) are (?:worked|knitted|knit|done|repeated) (?P<often>(?:altogether |a total of )?(?:{_N}|\w+) (?:more )?times)",
            r"\g<before>Work rows \g<a> and \g<b> \g<often>",
        ),
        (  # "Now turn, and work to and fro for the slit, keeping the cable on every 6th row"
            rf"{_FROM}(?:for the [a-z ]{{2,30}}?(?:slit|opening|slot|split|gap|hole),? )?(?:now |then |next )?turn(?: the work| your work)?(?:,? and| then|,)+ (?:work|knit|go)(?: on)? (?:to and fro|back and forth|in rows|flat)(?: from (?:here|now)(?: on)?)?(?: (?:for|to make|to form|along) (?:the|a|your) (?:[a-z]+ )?(?:slit|opening|slot|split|gap|hole))?(?:,? (?:keeping|with|continuing|still) [^.;:*]*)?(?=[.;]|$)",
            r"\g<before>Turn. Work back and forth from here",
        ),
        (  # "Two plain rounds.", "4 rounds of knit."
            rf"(?:(?<=^)|(?<=[.;:] ))(?:(?:(?:and|now|then|next|come|follow|after (?:that|this|these|them)),? )*)(?P<n>{_N}|one|two|three|four|five|six|seven|eight|nine|ten|twelve) (?:(?P<how>plain|knit|even|purl) (?P<course>rounds?|rnds?|rows?)|(?P<of>rounds?|rnds?|rows?) (?:of )?(?P<how2>knit|knitting|plain knit|plain knitting|purl|purling)(?: st(?:itch(?:es)?)?)?) ?(?=[.;]|$)",
            lambda match: (
                f"{'Purl' if 'url' in (match['how'] or match['how2']) else 'Knit'} {match['n'].lower()} {match['course'] or match['of']}"
            ),
        ),
        (  # "…, join, two plain rounds"
            rf"(?P<join>\bjoin[^.;:*,]{{0,30}}|\bjoin in the round)(?:,|;| and) (?:then )?(?P<n>{_N}|one|two|three|four|five|six) (?P<how>plain |knit )?(?P<course>rounds?|rnds?|rows?)(?P<of> (?:of|in) (?:garter|stocking|stockinette|st)[ .]?st(?:itch)?)?(?=[.;]|$)",
            lambda match: (
                f"{match['join']}. {'Work' if match['of'] else 'Knit'} {match['n']} {match['course']}{match['of'] or ''}"
                if match["how"] or match["of"]
                else match[0]
            ),
        ),
        (  # "take in again the same way", "take in 1 st at each end of next row"
            r"(?P<b>^|[.;:,] |\b(?=and t))(?P<and>(?:and |now |then )*)(?P<t>t)ake in (?=(?:again|once|twice|(?:in )?the same|as before|likewise|like (?:this|that)|every|on (?:every|the|each|alt)|\d|two|one|a) ?(?!yarn|wool))",
            lambda match: (
                match["b"] + match["and"] + ("Decrease " if match["t"] == "T" else "decrease ")
            ),
        ),
        (  # "Knit to the last st, wrap."
            r"(?P<row>\b(?:knit|purl|k|p) ?(?:\d|to\b|across|until)[^.;:*]*), (?:and )?wrap(?: (?:it|that(?: one)?|the next(?: (?:st|stitch|one))?))?(?=\.?\s*$|\. (?!(?:and |then )?turn))",
            r"\g<row>, wrap and turn",
        ),
        (  # "Knit the middle 8 and 1 wrapped st with its wrap, wrap the next, turn"
            rf"(?P<b>: |^)(?P<k>knit|k|purl|p) the (?:middle|cent(?:er|re)) (?P<n>{_N})(?: (?:sts|stitches))?(?=,? (?:and|then|plus)\b)",
            r"\g<b>\g<k> \g<n>",
        ),
        (  # "Round with taking in: …", "Narrowing round: …"
            r"^(?:(?P<c>round|rnd|row) with (?:the )?(?:taking[- ]in|decreases?|decreasing|decs|narrowings?)|(?:taking[- ]in|narrowing) (?P<c2>round|rnd|row)):",
            lambda match: f"Dec {match['c'] or match['c2']}:",
        ),
        (  # "Knit the 5 of the first needle on to the third, so it is 9 and 9"
            rf"\b(?P<do>knit|k|slip) the (?P<n>{_N}) (?:of|on|from) (?:the first(?: needle)?|needle 1) (?:on ?to|to) (?:the )?(?P<to>second|third|fourth|needle [2-4])(?: needle)?(?:,? so (?:that )?(?:it is|there are|you have) \d+ and \d+)?(?=[.;:,]|$)",
            lambda match: (
                f"{match['do']} the {match['n']} sts of needle 1 onto needle {_WHICH_NEEDLE.get(match['to'].lower(), match['to'][-1])}"
            ),
        ),
        (  # "work 31 stitches in pattern: five repeats and the p1 that follows"
            r"(?P<work>\b(?:work|knit|patt) (?:the )?\d+(?: \([^()]*\))? (?:sts|stitches) in patt(?:ern)?)(?::|,| -| –) [^.;:*]*\brepeats?\b[^.;:*]*(?=[.;]|$)",
            r"\g<work>",
        ),
        (  # "Rep *k2, p2* every round for 12 rounds"
            r"^rep(?:eat)? (?=\*[^*]*\*)(?![^*]*\*[^*]*\bfrom\b)",
            "",
        ),
        (  # "knit 2 together through the backs"
            r"\b(?P<tog>(?:knit|k|purl|p) ?(?:2|two|3|three) ?tog(?:ether)?) (?:through|in|into) (?:the |their )?backs?(?! loop)(?: of (?:them|the (?:sts|stitches)))?(?=[,;.]| and\b|$)",
            r"\g<tog> through the back loops",
        ),
        (  # "do the two of them 12 times"
            r"\b(?P<do>(?:do|work|rep(?:eat)?|knit|alternate) )(?:the )?(?:two|2|pair) of them\b",
            r"\g<do>both",
        ),
        (  # "One way: slip 1, knit to the end", "Other way: …"
            r"^(?:(?:the )?one|this|the first) way(?: over| across)?[:,] (?=(?:sl|slip|k|knit|p|purl)\b)",
            "Row 1: ",
        ),
        (
            r"^(?:(?:and )?(?:the )?other way|the second way|and back)(?: over| across)?[:,] (?=(?:sl|slip|k|knit|p|purl)\b)",
            "Row 2: ",
        ),
        (  # "finish by knitting needle 1 once more", "finally knit one round"
            rf"{_FROM}(?:(?:finish|end)(?: (?:off|up))? by (?P<do>knit|purl|work)t?ing|(?:finally|lastly|also),? (?P<at_once>knit|purl|work|k|p))(?= )",
            lambda match: match["before"] + (match["do"] or match["at_once"]).capitalize(),
        ),
        (  # "knit needle 1 once more and let it rest", "k instep and stop"
            rf"(?:(?<=^)|(?<=[.;:] ))(?:next (?:round|rnd): ?)?(?P<knit>(?:knit|k|work) (?:across )?(?:the )?(?:(?:instep|needle 1|first needle|front)\b(?: needle| {_STS})?|{_STS} (?:of|on) (?:the )?(?:instep needle|needle 1|first needle))(?: once more| again| one more time)?)(?:,? and|,? then|[,;])+ (?:stop|halt|(?:let|leave) (?:it|them|that needle|this needle|these {_STS}|those {_STS})(?: to)? (?:rest|wait|be|alone|resting|at rest|on hold))(?: there| here)?(?=[.;]|$)",
            r"\g<knit>. Needle 1 now rests",
        ),
    )
)


def with_plain_talk(said: MappedText) -> MappedText:
    """Return a line with plain talk put in short.

    Examples
    --------
    >>> with_plain_talk(MappedText.of("Knit the first stitch to close the circle.")).text
    'Join in the round.'
    """
    return _WAYS.put_in(said)
