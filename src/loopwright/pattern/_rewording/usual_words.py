# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Words that mean one thing wherever they stand, and the usual ones for it.

They are put in before anything is read or checked, unlike the wordings, which are tried only on
what can't be read as it stands: "knit 2 together" is k2tog to every reader. Where a text explains a
short form by its words, both stay.
"""

from __future__ import annotations

import re

from loopwright.pattern._rewording.cast_on_needles import with_cast_on_needles
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.more_times import MORE_TIMES
from loopwright.pattern._rewording.tables import Means, Rewordings
from loopwright.pattern._rewording.to_the_end import REPEATS_TO_THE_END
from loopwright.pattern._rewording.told_by_hand import TOLD_BY_HAND
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import whole_number

__all__ = ["in_usual_words"]

_WORK = r"(?P<verb>k|knit|p|purl|work|rib)"
_STS = r"(?:sts|stitches|st|stitch)"


_N = r"\d+(?: ?[(\[][\d, :;]+[)\]])?"
_IN_EACH = (  # "one in each ridge", but no stitch more: "1 at each end"
    r"(?:that is,? |i\.?e\.?,? )?(?:about |roughly )?(?:one|1|two|2|three|3|four|4)(?: (?:sts?|stitch))? (?:in|for|from|per|at|into|out of|of|to|on)"
    r"(?: (?:each|every|two|2|three|3)|(?= (?:ridge|row|bump)))(?! (?:ends?|sides?|corners?|gaps?|markers?|needles?)\b)"
)
_SMALL = ("two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")  # fmt: skip
_SHORT = r"(?:[kp][23] ?tog|ssk|ssp|m1[lr]?p?|yo|w&t|pm|sm|skp|sl)"
_EXPLAINS = WordForm(  # "ssk = slip, slip, knit", "knit 2 together (k2tog)"
    rf"\b{_SHORT}\b(?:, \w+)?[\"”)]? ?[:=]|(?:^\W*|[/|,] *){_SHORT}\b[^\w,;]+(?:knit|slip|purl|make)\b|^\W*{_SHORT} [–—-] "
    rf"|\( ?{_SHORT} ?\)(?! (?:twice|\d|x))|= ?{_SHORT}\b",
)


def _unless_explained(means: str) -> Means:
    def said(match: re.Match[str]) -> str:
        if _EXPLAINS.search(match.string):
            return match[0]
        short = match.expand(means).lower()
        return short[0].upper() + short[1:] if match[0][0].isupper() else short

    return said


def _rounds_on_all(match: re.Match[str]) -> str:
    """Put "knit all 16 stitches once around" as so many rounds, on so many stitches."""
    often = match["often"] or match["often2"] or match["often3"] or match["two"] or match["two2"]
    many = match["n"] or match["n2"]
    if (often or "").lower().startswith(("tw", "2")):
        return f"{match['verb']} 2 rounds"
    return f"{match['verb']} all {many} sts" if many else f"{match['verb']} 1 round"


def _in_digits(match: re.Match[str]) -> str:
    return str(2 + _SMALL.index(match[0].lower()))


_COLOURED = WordForm(  # a row of nothing but stitches in colours
    r"^\W*(?:rounds?|rnds?|rows?|r) ?\d[^:]*: ?[*(\[] ?(?:\d+ (?-i:[A-Z]{1,2}\d?)(?:, |; |[*)\].]|$))+",
)


def _coloured(match: re.Match[str]) -> str:
    return f"k{match['n']} {match['yarn']}" if _COLOURED.search(match.string) else match[0]


def _by_letter(match: re.Match[str]) -> str:
    *first, last = map(chr, range(ord(match["a"]), ord(match["b"]) + 1))
    return f"{match['rows']}{', '.join(first)} and {last}" if first else match[0]


def _twice(numbers: str) -> str:
    return re.sub(r"\d+", lambda one: str(2 * int(one[0])), numbers)


def _in_full(verb: str) -> str:
    return "knit" if verb in "kK" else "purl"


def _shaping(match: re.Match[str]) -> str:
    how = match["how"].lower()
    said = f"{'in' if how.startswith('gain') else 'de'}creas{'ing' if 'ing' in how else 'e'} {match['n']} sts "
    return said.capitalize() if match["how"][0].isupper() else said


def _plain_of_kind(match: re.Match[str]) -> str:
    lead = "" if match["lead"].lower() in ("work", "do") else match["lead"] + " "
    how = match["how"].rpartition(" ")[2].lower()
    said = f"{lead}{how} {match['n'] or 1} {match['crs']}"
    return said[0].upper() + said[1:] if match[0][0].isupper() else said


_ITEM = rf"(?:(?:k|p|knit|purl|sl|slip) ?(?:{_N}|one|two)(?: ?tbl)?(?: (?:sts?|stitch(?:es)?))?|[kp][23]tog(?: tbl)?|ssk|ssp|skpo?|sk2p|yo|m1\w?|kfb)"
_ON_LIKE_THIS = r"(?:and )?(?:(?:keep(?: on)?|go(?:ing)? on|carry on|continue)(?: (?:doing|repeating|working|knitting|with|going|to do|to repeat))? (?:this|that|these|so|it|like (?:this|that)|in this way|the same)|(?:do|repeat|work) (?:this|that|these|it))"
_TO_START = r"un(?:til|til) you(?:'re| are| get| come| reach| have come| arrive)(?: back)?(?: (?:to|at))? (?:the |your )?(?:marker|start|beginning|end)(?: of (?:the )?(?:round|rnd))?(?: again)?"
_ALL_ROUND = rf"(?:{_ON_LIKE_THIS},? (?:a?round|across|to (?:the )?end|{_TO_START})|(?:repeated |and so on |so on |{_ON_LIKE_THIS},? )?(?:(?:(?:all|right)(?: the way)?|the (?:whole|entire) way|over and over|again and again)(?:,? (?:all the way )?(?:a?round|across|along)| to the (?:very )?end|,? {_TO_START})?|round and round|around and around|throughout|all through))(?: (?:the|this) (?:round|rnd|row))?"
_ALIKE = r"(?:(?:exactly |just )?(?:the )?same|alike|identically|likewise|as follows)"
_BOTH = r"(?:both|(?:on )?(?:n|needle) ?1(?:,? (?:and|&)(?: then)?(?: again)?(?: on)?) (?:n|needle) ?2|(?:on )?needles 1 (?:and|&) 2)"
_EVERY_OTHER_SIDE = r"(?:every|all(?: the)?|each|the) (?:(?P<side>wrong-side|wrong side|right-side|right side|ws|rs)|(?P<even>even|odd)(?:-numbered)?) rows?"
_ALWAYS = r"from (?:here|now|this point|then)(?: on(?:wards?)?)?|throughout|as (?:you go|before|usual)|unless told otherwise"
_YARN = r"(?:(?-i:[A-Z]{1,2}\d?)|[a-z]{3,12}(?: [a-z]{3,12})?)"
_THE_REST = rf"the (?:rest(?: of the (?:{_STS}))?|(?:remaining|other|rem) {_STS}|others)"
_ON_HOLDER = r"(?:on|on to|onto) (?:(?:a |the |another )?(?:stitch |safety )?(?:holders?|pin)|(?:a |some )?(?:waste|scrap|spare) (?:yarn|thread)|a thread|(?:a |the )?(?:spare|separate|second|another) needle)"
_TABLE = Rewordings(
    (
        (  # "pick up 12 sts along the edge (one in each slipped stitch) and 1 more in the corner"
            r"(?P<where>\bpick(?:ing)? up [^.;()]{3,60}?) \((?:that is,? |i\.e\.,? )?(?:one|1) (?:st(?:itch)? )?(?:in|into|for|from|through|per) (?:each|every)(?: [a-z-]+){1,4}\)(?= (?:and|plus|then)\b|,)",
            r"\g<where>",
        ),
        (  # "Needles 2 and 3: k12 from each"
            r"(?P<on>\b(?:needles|n) ?[1-4] (?:and|&) (?:n ?)?[1-4]: ?)(?P<verb>k|p|knit|purl) ?(?P<n>\d+(?: ?[(\[][\d, ]+[)\]])?)(?: (?:sts|stitches))?,? (?:from|off|on|across|over) each(?: (?:needle|of them|one))?",
            lambda match: f"{match['on']}{match['verb']} {_twice(match['n'])}",
        ),
        (  # "Rounds 1 and 2: With A, k.": all of them, and no single stitch
            rf"(?P<yarn>(?:^|[:.] )(?:with|using|in|(?:change|switch) to) {_YARN},? )(?P<verb>[kp])(?=\.?$|\. )",
            lambda match: match["yarn"] + _in_full(match["verb"]),
        ),
        (  # "Round 5: K in B."
            rf"(?P<lead>^|: )(?P<verb>[kp]) (?P<yarn>(?:with|using|in) {_YARN})(?=\.?$|\. )",
            lambda match: f"{match['lead']}{match['yarn']}, {_in_full(match['verb'])}",
        ),
        (  # "Round 4: k M.", "Round 8: knit all MC": all of them, and no single stitch
            r"(?P<lead>: )(?P<verb>knit|purl|plain|k|p)(?:,? (?:all|entirely|wholly|completely)(?: in)?)? (?P<yarn>(?-i:[A-Z]|MC|CC\d?))(?=\.?$|\. )",
            lambda match: f"{match['lead']}with {match['yarn']}, {_in_full('k' if match['verb'] in ('plain', 'Plain') else match['verb'][0])}",
        ),
        (
            r"\b(?P<c>c)lose (?:up )?(?:(?:it |them )?(?:to|into) an?|the) (?:ring|round|circle)\b",
            lambda match: f"{'J' if match['c'] == 'C' else 'j'}oin in the round",
        ),
        (rf"\bthe (?P<n>{_N}) (?P<sts>{_STS}) (?:that|which) (?:come|follow|are) (?:next|after that|after)\b", r"the next \g<n> \g<sts>"),
        (  # "Knit 1 round; at the end of the next one knit the last 2 sts together"
            rf"(?P<b>^|[.;] )(?P<verb>knit|k|work) (?:1|one|a) (?P<crs>round|rnd|row)[;,.] (?:and |then )?at the end of the (?:next|following|second)(?: one| round| rnd| row)?,? (?:you )?(?:knit|k) (?:the )?last (?:2|two) {_STS} tog(?:ether)?\b",
            r"\g<b>\g<verb> 1 \g<crs>. Next \g<crs>: knit to last 2 sts, k2tog",
        ),
        (  # "(Purl every wrong-side row from here on.)", "all WS rows are purled from now on"
            rf"(?P<b>^|[.;] )(?P<open>[(])?(?:from (?:here|now)(?: on)?,? )?(?:(?:always )?(?P<verb>purl|knit) (?:{_EVERY_OTHER_SIDE})|(?:{_EVERY_OTHER_SIDE.replace('<', '<b')}) (?:is|are) (?:all |always |simply |just )?(?P<done>purl|knit)(?:led|ed|ted)?)(?: plain)?(?:,? (?:{_ALWAYS}))*(?(open)\.?\)\.?|)(?=[.;]|$)",
            lambda match: (
                f"{match['b']}{'All' if match['b'] != '; ' else 'all'} {match['side'] or match['bside'] or match['even'] or match['beven']} rows: {(match['verb'] or match['done']).lower()}"
            ),
        ),
        (  # "repeat rows A to C": all of them
            r"(?P<rows>\b(?:rows|rounds|rnds) )(?P<a>(?-i:[A-H])) ?(?:to|through|-|–) ?(?P<b>(?-i:[B-H]))\b",
            _by_letter,
        ),
        (  # "knit 5 of the heel sts over again"
            rf"(?P<knit>\b(?:k|knit|work) ?{_N}(?: (?:of the )?(?:heel )?{_STS})?) (?:(?:over|yet) again|once again|a second time|for a second time)(?=[.,;]|$)",
            r"\g<knit> again",
        ),
        (  # "24 rounds of that.", "go round like that 24 times"
            rf"(?P<b>^|[.;:] )(?P<n>{_N}) (?P<crs>rounds|rnds|rows) (?:of|like) (?P<that>this|that|it)(?=[.,;]|$)",
            r"\g<b>Work \g<n> \g<crs> of \g<that>",
        ),
        (
            rf"\b(?:go|work|knit)(?: on)? (?:a)?round (?:(?:in|like) )?(?P<that>this|that)(?: (?:way|rib|pattern))?,? (?P<n>{_N}) times\b",
            r"work \g<n> rounds of \g<that>",
        ),
        # stitches in full
        (
            r"\b(k|p)(?:nit|url)? ?(?:the next |next )?(?:2|two)(?: sts| stitches)?[ -]?tog(?:ether)?\b(?!\.? ?(?:tbl|through)|tbl)(?<!k2tog)(?<!p2tog)",
            _unless_explained(r"\g<1>2tog"),
        ),
        (
            r"\b(k|p)(?:nit|url)? ?(?:the next |next )?(?:3|three)(?: sts| stitches)?[ -]?tog(?:ether)?\b(?!\.? ?(?:tbl|through)|tbl)(?<!k3tog)(?<!p3tog)",
            _unless_explained(r"\g<1>3tog"),
        ),
        (
            r"\bslip[, -]+slip[, -]+knit\b(?! (?:the|them|those|these|2|two|tog)\b)|\bs-s-k\b",
            _unless_explained("ssk"),
        ),
        (r"\bmake (?:1|one) (?:st |stitch )?(?:leaning )?(l|r)(?:eft|ight)\b(?! lean)", _unless_explained(r"m1\1")),
        (r"(?:(?<=[,:*(\[] )|(?<=[*(\[]))make (?:1|one)(?: st| stitch)?(?=, |[)\]*])", _unless_explained("m1")),
        (r"\bw (?:&|\+|and) t\b", "w&t"),
        (r"(?:(?<=[,;] )|(?<=then )|(?<=and ))wrap(?: (?:the )?next (?:st|stitch))?(?:,? and|,| &) turn(?: (?:the )?work)? \(w ?(?:&|\+|and)? ?t\)", "w&t"),
        (r"\b(k|p)(?=[\d.½¼¾]+(?: ?[(\[][\d., :;½¼¾]+[)\]])? ?(?:ins\b|inch(?:es)?\b|cms?\b|in\b(?=[.,;]|$| (?:plain|straight|even|more)\b)))", r"\1 "),  # "K. 4 ins. plain"
        (r"\b(n ?|(?:needles?|ndls?) )([1-4]) ?[+/] ?(?:(?:n|needles?|ndls?) ?)?([1-4])\b(?![./\d])", r"\1\2 and \3"),  # "N2 + N3: k"
        (r"(?P<sts>\b(?:sts?|stitch(?:es)?) )(?P<of>of|from the end of) (?:the |this |that |each )?(?-i:N)(?=[,;.:]| (?:then|and)\b)", r"\g<sts>\g<of> needle"),
        (r"\b(k|p)(?P<n>\d+)-(?:tbl|b)\b", r"\1\g<n> tbl"),
        (r"\b(k|p)[- ]?tbl ?(?P<n>\d+)\b", r"\1\g<n> tbl"),
        (r"\b(k|p)-tbl\b(?! ?(?:\d|=|:|–|—))", r"\g<1>1 tbl"),
        (r"\b(?:puk|pu ?(?:&|and) ?k(?:nit)?|pick up knitwise)\b(?= ?(?:the )?\d)", "pick up and knit"),
        (r"(?P<wrap>\bwraps?) (?:on|in) (?:rows|rounds|rnds) \d+ (?:and|to) \d+(?=,)", r"\g<wrap>"),
        (r"\bon (?:rows|rounds|rnds) \d+ (?:and|to) \d+, (?=pick up (?:each|every|the) wraps?\b)", ""),
        (r"\b(?P<verb>knit) (?:round and round|around and around|and knit|on and on)(?=[.;])", r"\g<verb> every round"),
        (  # "knit all 16 stitches once around", "knit once around", "knit all 16 sts for one round"
            rf"(?P<verb>\b(?:knit|purl|k|p)) (?:(?:across )?(?:all |of |the |these |your )*(?:(?P<n>{_N}) )?{_STS} (?:(?:for )?(?P<often>once|twice|one time|two times) a?round|a?round (?P<often2>once|twice)|for (?P<often3>(?:one|1|two|2) rounds?))|(?:(?:once|(?P<two>twice)) a?round|a?round (?:once|(?P<two2>twice)))(?: (?:on|over|across)? ?(?:all |of |the |these |your )*(?:(?P<n2>{_N}) )?{_STS})?)(?=[.;,]|$| and\b| then\b)",
            _rounds_on_all,
        ),
        (  # "purl 1. Turn, and leave 4 stitches alone."
            rf"(?<=[a-z0-9)\]]), *turn(?: (?:the )?work)?,? (?:and )?leav(?:e|ing) (?:the )?(?:last |other |remaining |next )?(?P<n>{_N}) {_STS} (?:alone|here|in peace|where they are|as they are)(?: too| again| as well)?(?=[.;]|$)",
            r", turn. \g<n> sts are left",
        ),
        (
            rf"(?<=[a-z0-9)\]])[.;] turn(?: (?:the )?work)?(?:,? (?:and )?leav(?:e|ing) (?:the )?(?:last |other |remaining |next )?(?P<n>{_N})(?: {_STS})?(?: (?:alone|here|unworked|behind|waiting|in peace|where they are|as they are))?|[,;:] (?:and )?(?:the )?(?:last |other |remaining |next )?(?P<n2>{_N}) {_STS} (?:stay|remain|wait|rest|are left)(?: (?:alone|here|unworked|behind|where they are))?)(?: too| again| as well)?(?=[.;]|$)",
            r", turn. \g<n>\g<n2> sts are left",
        ),
        (  # "work the first 30 sts as Rnd 1 of lace, k1, and place these 31 sts on hold"
            rf"\bwork (?:across )?(?:the )?(?:first |next )?(?P<n>{_N}) {_STS} as (?:for |in |on )?(?:rnd|round|row) \d+ of (?:the )?[a-z]{{2,12}}(?: [a-z]{{2,12}}){{0,2}}(?=, (?:[kp]\d|and |place))",
            r"work \g<n> sts in pattern",
        ),
        (  # "k33, turn, leaving the rest on a holder", "knit 33, turn. The rest waits on a spare needle."
            rf"(?<=[a-z0-9)\]]), turn(?: (?:the )?work)?(?:[,;.]? (?:and )?leav(?:e|ing)|[,;.])? {_THE_REST}(?: (?:to )?(?:waits?|stays?|rests?|remains?|sits?))? {_ON_HOLDER}(?=[.;]|$)",
            r", turn. Place the remaining sts on a holder",
        ),
        (
            rf"(?<=[a-z0-9)\]])[,.;] (?:and )?(?:place|put|slip|leave) {_THE_REST} {_ON_HOLDER}[,.;] (?:and )?turn(?: (?:the )?work)?(?=[.;]|$)",
            r", turn. Place the remaining sts on a holder",
        ),
        (  # "k to the twin st, work it as one st"
            r"(?<!\bor )\b(?P<verb>k|p)(?P<full>nit|url)? (?P<to>to (?:the |your )?(?:next |last |first )?(?:twin|shadow|double|wrapped)(?: st(?:itch)?)?), (?:and )?work (?:it|that st(?:itch)?) (?P<one>as (?:one|1)|with its wrap)\b",
            r"\g<verb>\g<full> \g<to>, \g<verb> it \g<one>",
        ),
        (  # "k2, work to last 2 sts in pattern, k2"
            rf"\b(?P<verb>work|knit|k) (?P<to>to (?:the )?last {_N} {_STS}) in (?:the )?patt(?:ern)?(?: as (?:set|est\w*))?(?=,| \()",
            r"work in pattern \g<to>",
        ),
        (  # "turn the work at the end of the last round and go on in rows, so that a slit is left"
            r"(?P<b>^|[.;] )(?:(?:(?:do not|don't) join(?: (?:in|into) (?:the |a )?(?:round|rnd|ring))?(?: (?:again|here|now|yet))?|stop (?:working|knitting) in (?:the )?(?:rounds?|rnds?))(?:[.;,]| but| and)* )?(?:now )?turn(?: the)?(?: work)?(?: at the end of (?:the last|this|that|the) (?:round|rnd)| here| now)?(?:,? (?:and|then)|[.;]) (?:now )?(?:work|go on|continue|carry on|cont)(?: working| knitting)? (?:flat|in rows|(?:back and forth|to and fro|backwards? and forwards?)(?: in rows)?)(?:,? (?:so that|so as|to (?:leave|make|form)) [^.;:\d]*)?(?:(?=[.;]|$)|,? (?P<how>(?:in|of) (?:st|stocking|stockinette|garter|moss|seed|rib|reverse)\b(?=[^.;:*]*(?:\bfor [^.;:*]*\d|\b(?:beg|start|commenc|until)))[^.;:*]*)(?=[.;]|$))",
            lambda match: f"{match['b']}Now turn and work back and forth in rows" + (f". Work in{match['how'][2:]}" if match["how"] else ""),
        ),
        (  # "do not join; turn the work. Work 16 rows flat in stockinette": rows, behind rounds too
            rf"(?P<b>^|[.;] )(?:(?:do not|don't) join(?: (?:in|into) (?:the |a )?(?:round|rnd|ring))?(?: (?:again|here|now|yet))?(?:[.;,]| but| and)* )?(?P<turn>turn(?: the)?(?: work)?(?:[.;,]| and| then)* )?(?:(?:now|then) )?(?P<work>work|knit) (?P<n>{_N}) rows (?:flat|back and forth|to and fro)(?= (?:in|of) |,? (?:beg|start)|[.;]|$)",
            lambda match: f"{match['b']}Now {'turn and ' if match['turn'] else ''}work back and forth in rows. {match['work'].capitalize()} {match['n']} rows",
        ),
        (  # "work as Rows 1-2 of this section": the last that have these numbers
            r"(?P<rows>\b(?:rows?|rounds?|rnds?) \d+(?: ?(?:-|–|to|and|&) ?\d+)?),? (?:of|from|in) (?:this|the same|the current) (?:section|part|band|border|piece|chart)\b",
            r"\g<rows>",
        ),
        (  # "purl, and count the middle part: 9 sts": those of a part
            rf"(?P<row>\b(?:k|p|knit|purl)),? (?:and |then )*count (?:the |your )?(?!sts|stitches|rows|rounds|rnds)[a-z]+(?: (?:part|section|{_STS}))?(?: between (?:the )?markers)?: ?{_N}(?: {_STS})?(?=[.;]|$)",
            r"\g<row>",
        ),
        (  # "9 sts below and 9 above; with 1 st lifted at either end you have 20 sts"
            rf"[;,] (?:and )?with (?P<n>[1-4]|one|two) (?:more |extra )?(?:(?:sts?|stitch(?:es)?|loops?) )?(?:lifted|picked up|taken up|knitted up) (?:at|in|from) (?P<where>(?:each|either|both) (?:ends?|sides?|corners?|gaps?)),? (?:you (?:now |will )?have|that makes|that is|there are|makes|for) (?P<all>{_N}) {_STS}",
            r", and pick up \g<n> st at \g<where>. \g<all> sts",
        ),
        (  # "pick up and knit 14 sts along one side (one in each ridge) and 14 along the other", "…, one to each ridge, and 3 more"
            rf"(?P<up>\bpick(?:ing)? up(?: and k(?:nit)?)?\b[^.;:*]*?)(?: \({_IN_EACH} [^()\d]*\)|(?: [–—-]|,) {_IN_EACH} [^(),.;:*\d–—]*?(?: [–—-])?)(?=,? (?:and|then|plus)\b)",
            r"\g<up>",
        ),
        (  # "turn the strip a quarter to the right, pick up …"; "then 3 more from the cast-on edge"
            rf"(?P<b>^|[.;,] |\band )(?:now |then )?(?:(?:do not|don't|without) turn(?:ing)?[;,]? (?:but )?)?(?:give (?:the |your )?(?:work|piece|tab|knitting|strip|it) a quarter (?:of a )?turn(?: (?:clockwise|to the (?:right|left)))?|(?:turn|rotate) (?:(?:the |your )?(?:work|piece|tab|knitting|strip|it)(?: (?:by )?(?:a quarter(?: turn)?|90 ?(?:°|degrees)))?(?: (?:clockwise|to the (?:right|left)))?|(?:by )?90 ?(?:°|degrees)|a quarter turn))(?:[,;.]| and)?(?: then)? (?:and )?(?P<pick>pick up (?:and k(?:nit)? )?{_N} {_STS}(?: [^.;,:*\d]*?)?)(?P<more>,? (?:and |then |and then )(?:(?:another|a further) )?(?P<n>{_N})(?: more)?(?: {_STS})?(?: more)? (?P<from>(?:from|along|in|on|at) (?:the )?(?:cast-on|co|caston)(?: edge)?))?(?=[.;:,]|$)",
            lambda match: f"{match['b'] if match['b'] in ('', '. ', '; ') else '. '}Do not turn; {match['pick']}" + (f", pick up and knit {match['n']} sts {match['from']}" if match["more"] else ""),
        ),
        (  # "Purl the 3 center stitches on the way back: k3, p3, k3."
            r"(?P<b>^|[.;] )(?:knit|purl|work)\b[^.:;*]*\b(?:on the way back|(?<=knit )back|(?<=purl )back|(?<=work )back)\b[^.:;*]*: (?=[kp] ?\d)",
            r"\g<b>Next row: ",
        ),
        (  # "turn work 90 degrees": no row turns so
            r"\b(?P<t>t)urn(?= (?:the |your )?(?:(?:work|piece|tab|knitting|strip|it) )?(?:by )?(?:90|ninety|180|a quarter)(?: ?°| ?degrees?| turn))",
            lambda match: "Rotate" if match["t"].isupper() else "rotate",
        ),
        (r"\b(?:one|a) (?:last|final) time\b", "once more"),
        (r"\bbtwn\b\.?", "between"),
        (
            r"(?:^|(?<=[.;:!] ))(?P<first>r)ib (?:on )?a?round(?: and a?round)? in (?=(?:k|knit) ?\d)",
            lambda match: f"{'W' if match['first'].isupper() else 'w'}ork in ",
        ),
        (  # "knit 4, k2tog, all round"
            rf"(?<=: )(?P<items>(?:{_ITEM},? (?:and |then )?)*{_ITEM}), {_ALL_ROUND}(?=\.|;|$| \()",
            r"*\g<items>; rep from * to end",
        ),
        (  # "all the way round: knit 4, k2tog"
            rf"(?<=: )(?:work |repeat )?(?:all|right|the whole|the entire)(?: the)? way (?:a?round|across|along)[:,] (?P<items>(?:{_ITEM},? (?:and |then )?)*{_ITEM})(?=\.|;|$| \()",
            r"*\g<items>; rep from * to end",
        ),
        (  # "Closed cast-on, 16 sts, 8 per needle", "Figure-8 CO: 16 sts"
            rf"(?:^|(?<=[.:] ))(?:with |using )?(?:an? |the )?(?P<how>(?!after|above|from|next)[a-z][a-z-]*(?:-8)?(?: (?:[a-z-]+|8)){{0,2}}) (?:cast[- ]on|co)(?:,|:| of| for) (?P<n>{_N}) (?P<sts>{_STS})\b",
            lambda match: f"With a {match['how'].lower()} cast-on, cast on {match['n']} {match['sts']}",
        ),
        (  # "k19, taking every DS as one st, turn"
            rf"(?P<run>\b(?:k|p|knit|purl) ?{_N})(?: {_STS})?, (?:taking|closing|resolving|working|knitting|purling)(?: up)? (?:every|each|all|any|both|the)(?: of)?(?: the)?(?: \d+)? (?:ds|double {_STS}|dss)(?: (?:tog(?:ether)? )?as (?:one|1|a single)(?: st(?:itch)?)?)?(?: (?:on|at) (?:this|that|the first|the near) (?:side|end))?(?: as you (?:pass|go|come|get|reach|meet)(?: to)?(?: it| them| each)?)?(?=, (?:then )?turn\b)",
            r"\g<run> with wraps",
        ),
        (  # "rep from * over N1 and N2": as far as both go
            r"(?P<said>\*(?:(?! to )[^*:;])*[;,] rep(?:eat)? from \*) (?:all the way |right )?(?:over|on|across|through|along) (?:both needles|(?:n|needle) ?1 (?:and|&) (?:n|needle) ?2|needles 1 (?:and|&) 2|(?:the )?(?:instep and (?:the )?sole|sole and (?:the )?instep)(?: (?:sts|stitches))?|the whole (?:sock|round))(?: alike| both| together)?(?=\.|$| \()",
            r"\g<said> to end",
        ),
        (  # "run a thread through the next 12 sts and drop them off the needle"
            rf"\b(?P<first>r|d|p|t)(?:un|raw|ass|ull|hread) (?:the |an? |some |your )?(?:(?:length|strand|piece|bit) of )?(?:[a-z]+ )?(?:cotton|thread|yarn|wool|string) through (?:the )?(?:(?P<which>next|following|first) |(?={_N} (?:gusset|thumb|marked) ))(?P<n>{_N}) (?:[a-z]+ )?(?P<sts>{_STS})(?:,? (?:and |then )*(?:drop|slip|take|let|slide|lift|leave) (?:them|these|those)(?: drop| off| go| there| waiting)*(?: from)?(?: the (?:left )?needle)?)?",
            lambda match: f"{'S' if match['first'].isupper() else 's'}lip the {match['which'] or 'next'} {match['n']} {match['sts']} onto a thread",
        ),
        (  # "take off the markers as you slip the next 11 sts to a thread, cast on 1"
            rf"\b(?P<first>t|r)(?:ake|aking|emove|emoving) (?:off |out )?(?:the |both |your )*markers (?:as|while|when) you (?P<slip>slip (?:the )?(?:next |following )?{_N} (?:[a-z]+ )?{_STS} (?:on ?to|to|on) [a-z ]{{3,30}}),",
            r"remove marker, \g<slip>, remove marker,",
        ),
        (  # "10 sts, marker, 11 sts, marker, 10 sts": the stitches that there are
            rf"(?<=[:;] )(?P<parts>(?:\d+ {_STS}, (?:a |the )?(?:marker|m)\b,? ?)+\d+ {_STS})(?=[.;]|$)",
            lambda match: f"{sum(map(int, re.findall('[0-9]+', match['parts'])))} sts",
        ),
        (  # "until 10 center sts have no wrap"
            rf"\buntil (?:only |just )?(?:there are |you have )?(?:only |just )?(?:the )?(?P<n>{_N})(?: (?:cent(?:er|re)|central|middle|plain))? {_STS}(?: (?:in|at) the (?:middle|cent(?:er|re)))?(?: that| which)? (?:have|carry|bear|show|wear|with) no wraps?\b(?: on them)?",
            r"until \g<n> sts in the middle are without a wrap",
        ),
        (  # "knit plain rnds to 4 cm short of the full foot", "work even in St st to 3\" less than foot length"
            r"(?P<work>(?:^|(?<=[.;:!,] )|(?<=\band )|(?<=\bthen ))(?:knit|k|work|cont(?:inue)?|go on|carry on)(?: (?:plain|straight|even|without shaping|on|around|every|each|rounds?|rnds?|as (?:set|est\w*)|in (?!rows\b)[a-z]+(?:\.? st(?:itch)?\b\.?)?))*) to (?P<within>within )?(?:about |approximately )?(?P<far>[\d.½¼¾]+(?: ?[(\[][^()\[\]]*[)\]])? ?(?:cm|inches|inch|in\b\.?|\"))(?: ?[/(] ?[\d.]+(?: ?[(\[][^()\[\]]*[)\]])? ?(?:cm|inches|inch|in)\b\)?)? (?:(?:short of|shy of|less than|shorter than|before|(?(within)of|short of)) (?P<whole>(?:[a-z]+ )*(?:foot|feet|toes?|sock|length|stocking|desired|required|wanted))\b|short(?=\.?$|[;,]))",
            lambda match: f"{match['work']} until piece is {match['far']} short of {match['whole'] or 'the length'}",
        ),
        (  # "Keep going until you have 18 sts, then purl one more row"
            rf"(?:^|(?<=[.!?] ))(?:keep (?:on )?going|carry on|go on|keep on|continue) (?P<until>until (?:you have|there are|you are left with|you're left with) (?:only |just )?{_N} {_STS})(?: (?:left|in all))?(?=[.,;!]|$)",
            r"Continue in this way \g<until>",
        ),
        (
            rf"(?P<until>\buntil [^.;,*]*\d[^.;,*]* {_STS}(?: (?:left|in all|remain))?)[,;] (?:and )?then (?P<verb>knit|purl|k|p) (?:one|1|a) (?:more |last |final )?(?P<crs>row|round|rnd)(?: more)?(?=\.?$)",
            lambda match: f"{match['until']}. {match['verb'].capitalize()} 1 {match['crs']}",
        ),
        # how far
        (rf"\b{_WORK}(?: across)? (?:un)?till? (?:the )?(?:very )?end\b", r"\g<verb> to end"),
        (
            rf"\b{_WORK}(?: across)? (?:un)?till? (?:the )?last (?P<n>{_N} |{'|'.join(one + ' ' for one in _SMALL)})?(?P<sts>{_STS}\b)(?! (?:remain|is|are|has|have)\b)",
            r"\g<verb> to last \g<n>\g<sts>",
        ),
        (rf"\b(?P<to>to|until|till) (?:the )?(?P<n>{_N}|one|two|three) (?=before (?:the|each|every|that|this|your|end|marker|m)\b)", r"\g<to> \g<n> sts "),
        (rf"(?<=\bbefore )(?:the )?(?:rested|resting|held|top[- ]of[- ](?:the[- ])?foot) {_STS}\b(?=,? (?:k2tog|k ?2 ?tog|ssk|skp|knit 2))", "the instep"),
        # "knit up to the left-hand DS", "purl all 22, turn", "wrap the st after it (a second wrap) and turn"
        (r"(?<=\bto )(?:the )?(?:left|right|other|nearest|previous)(?:[- ]hand)?(?: side)? (?=(?:DS|wrapped|wrap|gap|double st\w*)\b)", "the "),
        (rf"\b{_WORK} up to (?=(?:the |next )?(?:marker|m\b|gap|last|end|DS\b|wrapped\b|double\b))", r"\g<verb> to "),
        (rf"\b(?P<verb>k|p|knit|purl) (?:across |over )?all (?:of )?(?:the |these |your )?(?P<n>{_N})(?P<sts> {_STS})?(?=,? (?:and )?turn\b)", r"\g<verb> \g<n>\g<sts>"),
        (r"\bwrap (?:the )?(?:st(?:itch)?|one) (?:after|behind|beyond|following|next to)(?: (?:it|that|this|those|them)(?: one)?)?(?: \([^()]*\))?,? (?:and )?(?:then )?turn\b", "w&t"),
        (rf"(?<=\blast )(?:{'|'.join(_SMALL)})(?= {_STS}\b)", _in_digits),
        (
            r"\buntil you(?: have|'ve) (?:worked|knitted|used)(?: up)? all (?:of )?(?:the )?(?P<what>(?:heel |side |flap )?)(?P<sts>sts|stitches)\b",
            r"until all \g<what>\g<sts> have been worked",
        ),
        (
            rf"\b{_WORK} (?:un)?till? (?:(?:only|just|there (?:are|is)|you have) )*(?P<n>{_N}|one|{'|'.join(_SMALL)})(?: (?P<sts>{_STS}))?(?P<of> of (?:this|the|that|each) (?:half|side|needle))? (?:(?:is|are) )?(?:left|remains?|remaining|rem)(?: on (?:the|that|this|your)(?: left)? needle)?(?=,(?! (?:then )?(?:end|after|(?:purl|knit|p|k) (?:1|one|a) row)))",
            lambda match: f"{match['verb']} to last {match['n']} {match['sts'] or 'sts'}{' on needle' * bool(match['of'])}",
        ),
        # colours behind their stitches: "*1 L, 7 D; rep from *"
        (
            r"(?:(?<=[*:,;(\[] )|(?<=[*(\[]))(?P<n>\d+) (?P<yarn>(?-i:[A-Z]{1,2}\d?))(?=[,;)\]*.]|$)",
            _coloured,
        ),
        # what a row changes
        (rf"\((?:you|that|this)(?:'ve|’ve|'s|’s| have| has)? (?:gained|added|made|gains|adds) (?P<n>{_N}) {_STS}\.?\)", r"(\g<n> sts increased)"),
        (rf"\((?:you|that|this)(?:'ve|’ve|'s|’s| have| has)? (?:lost|got rid of|loses|takes away) (?P<n>{_N}) {_STS}\.?\)", r"(\g<n> sts decreased)"),
        (rf"(?<=sts|hes)[,;:] (?:and |with )?{_N} {_STS} (?:are |lie )?between (?:the |your )?m(?:arker)?s(?=\.?$)", ""),
        (  # "…, then the leg pattern over needles 3 and 4"
            r"(?P<then>(?:,|;)? (?:and )?then )(?:work )?(?:in |in the |the )(?:[a-z]+ )?patt(?:ern)?(?: as (?:set|est\w*))? (?:over|across|on) (?P<where>(?:the )?(?:instep|needles? \d(?: and \d)?)(?: sts| stitches)?)(?=[.,;]|$)",
            r"\g<then>work \g<where> in pattern",
        ),
        (  # "Row 37: k12 and stop at the middle": no whole row
            r"^(?:row|round|rnd) \d+(?: \([^)]*\))?: (?P<items>[kp] ?\d+(?:,? (?:and )?[kp] ?\d+)*)(?:,? and|,) (?:then )?stop\b(?! (?:before|after|at the (?:end|marker|gap|last))\b)[^.;:*\d]*(?=\.|$)",
            r"\g<items>",
        ),
        (r",? (?:and )?(?:then )?stop (?:when|once|as soon as) (?=(?:there are|you have) (?:only |just )?\d)", " until "),
        # other words for shaping
        (  # "continue to lose 9 sts on every round", "gain 2 sts every other round"
            rf"(?:^|(?<=[.;,] )|(?<=\bto )|(?<=\bnow )|(?<=\bthen )|(?<=\band )|(?<=\bon )|(?<=\bkeep ))(?P<how>lose|take (?:away|off|out)|get(?:ting)? rid of|reduce by|gain) (?P<n>{_N}|{'|'.join(_SMALL)})(?: {_STS})? (?=(?:(?:on|in|at) )?(?:every|each|alternate)\b)",
            _shaping,
        ),
        (r"\b(?P<n>n)arrow(?= (?:on|in|at) (?:every|each|the)\b)", lambda match: "Decrease" if match["n"] == "N" else "decrease"),
        (r"\b(?P<n>n)arrowing (?=(?:round|rnd|row)s?\b)", lambda match: "Decrease " if match["n"] == "N" else "decrease "),
        (  # "every second round loses 9 sts, until 54 remain"
            rf"(?P<before>^|[.;:] )(?P<on>(?:each|every) (?:(?:alternate|second|other|2nd|third|3rd) )?(?:round|rnd|row))(?: from (?:here|now)(?: on)?| now)? loses (?P<n>{_N}) {_STS},? (?=until\b)",
            lambda match: f"{match['before']}Decrease {match['n']} sts {match['on'].lower()} ",
        ),
        (  # "A decrease round goes so: …": what it is, and none is worked yet
            r"(?:^|(?<=[.:] ))(?:an?|each|every|the)(?P<kind> (?:dec|inc)\w* (?:round|rnd|row)) (?:goes|runs|reads|is worked|is made|is)(?: (?:so|thus|like this|as follows|this way))?:(?= )",
            lambda match: f"{match['kind'].strip().capitalize()} (told only):",
        ),
        # how often
        (r"(?<![\dx.×] )(?<![\dx.×])(?P<n>\b\d+) ?x(?= (?:more|in all|total|altogether)\b|[.;)]|$)", r"\g<n> times"),
        (r"(?<!\d )\b(?:1|one) more time\b", "once more"),
        (r"\b(?P<what>rows|rnds|rounds) (?P<a>\d+) ?\+ ?(?P<b>\d+)\b", r"\g<what> \g<a> and \g<b>"),
        (  # "Work the same on N1 and N2: k1, m1, …", "N1 and N2 alike: …"
            rf"(?<=: )(?:(?:(?:work|do|knit) )?{_ALIKE} (?:on|over|for|across) (?:{_BOTH}|each)(?: (?:of the )?(?:needles?|dpns?))?|{_BOTH}(?: needles)?,? {_ALIKE}|(?:on |for |over )?(?:both|each)(?: of the)?(?: two)? (?:needles?|dpns?|tips?)|(?:on )?both|on (?:n|needle) ?1(?:,? (?:and )?then again|,? and again) on (?:n|needle) ?2)[:,] (?=[*(\[]?(?:k|p|ssk|sl|m1|kfb|knit|purl|slip)(?:\b|\d))(?!.*\b(?:n|needles?) ?\d)",
            "On each needle: ",
        ),
        (r"(?P<row>^(?:[^:;.]*[.:] )?(?:rnd|round) \d+)(?:,| \() ?(?:on |for |over )?(?:both|each) needles?\)?:(?= [kps*(\[])", r"\g<row>: On each needle:"),
        (r"(?<=[)\]]),? all the way a?round\b", " around"),
        (  # "place a marker after the first 18 sts and work as toe until …"
            rf"(?P<place>^place (?:a |the |another |one )?(?:second |2nd )?marker after (?:the )?(?:first |next )?{_N} (?:sts|stitches)),? (?:and|then) (?:then )?(?P<verb>work|knit|repeat|decrease)\b",
            lambda match: f"{match['place']}. {match['verb'].capitalize()}",
        ),
        (  # "knit 1 round, placing m2 after 10 sts and m1 at the end"
            rf"(?P<placing>\bplacing )(?:m ?\d|a marker|marker \d) (?P<after>after (?:the )?(?:first )?{_N} (?:sts|stitches)),? and (?:m ?\d|another|one|marker \d|a marker|the other) (?:at the end|after (?:the )?(?:last|other)[^.;]*)(?=[.;]|$)",
            r"\g<placing>a marker \g<after>",
        ),
        (r"\b(?P<knit>k|knit) plain (?=(?:until|till|to) (?:the |only )?(?:last \d|\d+ (?:sts?|stitch(?:es)?)\b))", r"\g<knit> "),
        # the two tips of a long circular needle are two needles
        (r"\b(?P<which>each|both|first|second|1st|2nd|other|this|that|one|heel|sole|instep)(?: needle)? tip(?P<many>s?)\b(?! of| ?\()", r"\g<which> needle\g<many>"),
        (r"\btip (?P<n>[12])\b", lambda tip: f"{'N' if tip[0][0] == 'T' else 'n'}eedle {tip['n']}"),
        (r"\b(?P<end>end of (?:the |that |this )?)tip\b(?! of)", r"\g<end>needle"),
        (r"\bon (?P<each>each|both) (?P<needle>needles?) (?:work|do|make):? (?=[kp]\d|ssk|knit|purl|\*)", r"on \g<each> \g<needle>: "),
        (r"(?<=: )to (?:the )?end, (?P<st>[kp]2 ?tog|ssk|skpo?|kfb)(?=[ .,;=(]|$)", r"\g<st> to end"),
        (  # "with the sock yarn knit 3 rounds"
            r"(?<![a-z] )\b((?:with|using) (?:(?:the|your|a|larger|smaller|main|working) )*(?:[a-z]+ ){0,2}(?:yarn|wool|thread|cotton|ball|colou?r|needles?)) (?=(?:knit|purl|work|cast on|bind off|cast off|rib|[kp] ?\d)\b(?! (?:side|sts?|stitch)))",
            r"\1, ",
        ),
        (  # "count what is between the markers: 9 sts"
            rf"\bcount (?:what is |what lies |the (?:sts|stitches) |the thumb (?:sts|stitches) )?(?:now )?between (?:the |your )?(?P<two>two )?markers[:;,]? (?:there (?:are|should be) |you (?:should )?have )?(?P<n>{_N}) (?:sts|stitches)",
            r"\g<n> sts between the markers",
        ),
        (r"\ban? (?P<unit>inch|centimet(?:re|er)) and a half\b", r"1.5 \g<unit>"),
        (r"\bhalf an? (?P<unit>inch|centimet(?:re|er))\b", r"0.5 \g<unit>"),
        (r"(?<!of )(?<!within )\ban inch\b(?! (?:and|or|at|from)\b)", "1 inch"),
        (  # "two and a half inches"
            r"\b(?P<n>\d+|two|three|four|five|six|seven|eight|nine|ten) and a half (?P<unit>inch(?:es)?|cm|centimet(?:re|er)s?)\b",
            lambda match: f"{whole_number(match['n'])}.5 {match['unit']}",
        ),
        (r"\b(?:rep(?:eat)?|alternate) both (?P<crs>rounds|rnds|rows)\b", r"repeat these 2 \g<crs>"),
        (r"\b(?P<w>d|w)(?:o|ork) both (?P<crs>rounds|rnds|rows)\b", lambda match: f"{'Work' if match['w'].isupper() else 'work'} these 2 {match['crs']}"),
        (  # "1st needle: with RS facing, pick up and knit 13 sts"
            r"(?P<n>\b(?:(?:needle|n) ?\d|(?:\d(?:st|nd|rd|th)|first|second|third|fourth) needle): )with (?:the )?(?:rs|right side)(?: of (?:the )?work)? (?:facing|towards you)(?: you)?,? (?P<p>p)ick",
            lambda match: f"{match['n']}{match['p']}ick",
        ),
        (  # "Rib for 4 cm: k2, p2", "Work in rib for 6 rounds, knit 2, purl 2"
            rf"(?:(?<=^)|(?<=[.;:] ))(?:(?:work|knit) (?:in )?)?rib(?:bing)? (?:for )?(?P<far>{_N} (?:rounds|rnds|rows)|\d[\d.½¼¾]*(?: ?[(\[][^)\]]{{1,40}}[)\])]*)? ?(?:cm|mm|in\b|inch(?:es)?|[\"”″]))[:,]? [(\[]?k(?:nit)? ?(?P<a>\d),? (?:and )?p(?:url)? ?(?P<b>\d)[)\]]?(?=\.|$|;(?! *rep))",
            r"Work in k\g<a>, p\g<b> rib for \g<far>",
        ),
        (  # "Rib for 6 rounds: *k2, p2*, repeat to end", "Ribbing (6 rounds): …"
            rf"(?P<b>^|[.;] )(?:work (?:in )?)?rib(?:bing)? (?:\((?P<n2>{_N}) (?P<crs2>rounds|rnds|rows)\)|(?:for )?(?P<n>{_N}) (?P<crs>rounds|rnds|rows))(?:,? (?:as follows|like this|thus|so))?: ?(?=[*(\[])",
            r"\g<b>Work \g<n>\g<n2> \g<crs>\g<crs2>: ",
        ),
        (r"\b(?P<then>then|and) (?:only|just) (?:the )?(?P<row>(?:round|rnd|row) \d+) (?=until|till|to\b|down)", r"\g<then> \g<row> only "),
        (rf"(?P<to>\b(?:to|until|have|are|leaves|remain) )\[(?P<n>\d+(?: ?\([\d, ]+\))?)\](?= {_STS}\b)", r"\g<to>\g<n>"),
        # where
        (r"\b(?P<on>across|over) (?=(?:heel|instep|sole|flap|gusset|thumb) (?:sts|stitches)\b)", r"\g<on> the "),
        (
            r"(?P<row>\bsl(?:ip)? ?1(?:,? (?:pwise|purlwise|kwise|knitwise|wyif|wyib))?,? (?:and )?(?:k|p|knit|purl)(?: ?1\b)?[)\]*]?|\brep(?:eat)? from \*)(?: (?:across|over|along))?(?P<rest> the rest of)?(?: (?:the|all|these|other|remaining))*(?:(?: (?:heel|flap))+(?: (?:sts|stitches))?| (?:sts|stitches))(?=,? turn\b|\.?$)",
            r"\g<row> across the heel sts",
        ),
        (r"\b(?:top|front) of (?:the )?foot(?= ?:| (?:sts|stitches)\b)", "instep"),
        (r"\b(?:bottom|underside|back) of (?:the )?foot(?= ?:| (?:sts|stitches)\b)", "sole"),
        (r"\bEOR\b", "end"),
        (r"\b(?:slip|slide|pop|hang|put) (?:your|the|a) marker on(?=[.,;]|$)", "put on a marker"),
        (rf"\bknit (?:the |all (?:the )?|your )(?P<sts>{_STS}) (?=on ?to (?:the )?(?:two|three|four|five|\d|dpns?|double|several))", r"divide the \g<sts> "),
        (  # "* K2, p2; work from * to the end", "…; work again from * on the other tip"
            r"(?<=[;,.] )(?:then )?(?:work|knit|start)(?: again| once more)? from \*(?: again| once more)?(?= (?:to (?:the )?end|on|over|across|around|all|until|twice|\d))(?! to \*)",
            "rep from *",
        ),
        (rf"\b(?P<until>until (?:you have|there are) (?P<n>{_N}))(?=(?:,|;| \(| [–—-]) ?(?:which is|that is|that's|i\.?e\.?|or|so) {_N} )", r"\g<until> sts"),
        (rf"(?<=sts|hes)(?:,| [–—-]|;) ?(?:which is|that is|that's|i\.?e\.?|or|so) {_N}(?: {_STS})? (?:on|for|to) (?:each|either|every)(?: of the)? (?:needle|side|half)s?(?=\.|;|$)", ""),
        (
            r"\bwork the (?P<n>\d+) (?P<crs>rounds|rnds|rows) of (?:the )?(?P<name>(?!(?:the|patt(?:ern)?|chart|repeat|cable|lace)\b)[a-z][a-z' -]{2,30}?) (?P<times>(?:\d+|once|twice|two|three|four|five|six|seven|eight)\b)",
            r"work \g<crs> 1-\g<n> of \g<name> \g<times>",
        ),
        (
            rf"\bcount (?:{_N}(?: {_STS})? between the markers(?: and|,) )?(?P<n>{_N})(?: {_STS})? (?:on all (?:of )?(?:the |your )?needles|in all|altogether)(?=[.;!]|$)",
            r"\g<n> sts",
        ),
        (r"\balternate (?=(?:rows|rnds|rounds) \d+ (?:and|&) \d+ until\b)", "repeat "),
        (r"\bkeep (?:on )?alternating (?=(?:these|the last|rows?|rnds?|rounds?)\b)", "repeat "),
        (
            r"(?:\[(?P<x>[^\[\]]+)\]|\((?P<y>[^()]+)\)),? on (?:n|needle) ?1,? and (?:again |then )*(?:on )?(?:n|needle) ?2\b",
            lambda match: f"On each needle: {match['x'] or match['y']}",
        ),
        (
            r"(?P<star>\*[^*]+?)\.?\*[.,;]? (?:and )?(?:rep(?:eat)?|work)(?: what (?:is|stands))? between (?:the )?(?:two )?(?:stars|asterisks|\*s)",
            r"\g<star>; rep from *",
        ),
        (  # "*k to last 3 sts of the first needle, …; rep from * on the second needle"
            rf"(?P<last>\*[^*:]*\blast (?:{_N} )?{_STS}) (?:of|on) (?:the )?(?:first|1st|front|top|upper|instep) (?:half|side|needle)(?=[^*:]*\brep(?:eat)? from \* (?:on|for|over|across)\b)",
            r"\g<last> on needle",
        ),
        (rf"(?P<last>\blast (?:{_N} )?{_STS}) of (?:(?:the|this|that|each(?! needle)) )?(?:half|side|needle)\b(?! ?\d)", r"\g<last> on needle"),
        (
            r"(?P<said>\b(?:knit|make|work) (?:the|a|your) (?:second|other|matching) [a-z]+ (?:in )?(?:the same way|alike|to match|likewise))[;,] [^.\d]*(?=\.|$)",
            r"\g<said>",
        ),
        (
            rf"\bto (?P<n>{_N}) (?P<sts>{_STS}) before (?:the )?end of (?:the )?(?:palm|back|front|instep|sole|top|side|half)(?:,? (?:or|and|/) ?(?:the )?(?:palm|back|front|instep|sole|top))(?=[,.;)])",
            r"to last \g<n> \g<sts> on needle",
        ),
        (r"\bndls?\.? ?(?=\d)", "needle "),
        (
            rf"(?P<worked>\b(?:k|p|knit|purl|work|rib|patt) ?{_N}(?: {_STS})?|\bto end) for (?:the )?(?:sole|instep|heel|palm|back|front|top)(?=[;,.]|$)",
            r"\g<worked>",
        ),
        (
            rf"(?<!needle [1-3])(?<!\bn[1-3])(?:,|;|:| ?[—–]| -) ?{_N}(?: {_STS})? on (?:n|needle) ?\d,? (?:and )?(?P<all>{_N}(?: {_STS})? (?:in all|in total|total|altogether))(?=[.;]|$)",
            r" — \g<all>",
        ),
        (
            r"\b(?:un)?til+ (?:you have|there are|you(?:'ve| have) (?:knit(?:ted)?|worked|got|done|made)) (?:about )?(?P<n>[\d½¼¾.]+(?: ?[(\[][^()\[\]]*[)\]])?) ?(?P<unit>inches|inch|in|cm|\") of (?:the )?(?P<what>rib(?:bing)?|garter stitch|stockinette|stocking stitch|knitting|lace|pattern)",
            r"until \g<what> measures \g<n> \g<unit>",
        ),
        (  # "until you have 3 inches"
            r"\b(?:un)?til+ (?:you have|you've|you(?:'ve| have) (?:knit(?:ted)?|worked|got|done|made)) (?:about )?(?P<n>[\d½¼¾.]+(?: ?[(\[][^()\[\]]*[)\]])?) ?(?P<unit>inches|inch|in|cm|\")(?: of (?:it|this|that|them|those|these)(?: pattern| rib)?)?(?=[.,;]|$| \((?!\d))",
            r"until work measures \g<n> \g<unit>",
        ),
        (  # "pick up and knit 2 sts, knit the sleeve sts, pick up and knit 2 sts": all that lie there
            rf"(?P<up>\bpick up(?: and k(?:nit)?)? [^;.:*]{{1,60}}?(?:,|;| and)(?: and| then)* )(?:knit|k|work)(?: across| over)? (?:all )?(?:the )?sleeve(?: {_STS})?(?=,|;| and|\.)",
            r"\g<up>knit all sts",
        ),
        (  # "pick up and k 1 st, k36 sts from waste yarn, pick up and k 1 st": the sleeve comes back first
            rf"^(?P<lead>[^;:*.]{{0,80}}?,? )?pick(?P<up> up and k(?:nit)? {_N}(?: {_STS})?)(?: [a-z ]{{3,40}})?(?:,|;| and)(?: and| then)* (?:k|knit|work)(?: across| over)? ?(?:the )?(?P<n>{_N})(?: (?:(?:sleeve )?{_STS}(?: that (?:are|were))? (?:from|on) (?:the |your |a )?(?:waste yarn|scrap yarn|holder|hold|thread)|held (?:sleeve )?{_STS}))(?:,|;| and)(?: and| then)* (?P<up2>pick up and k(?:nit)? {_N}(?: {_STS})?)(?: [a-z ]{{3,40}})?(?=[.,;]|$)",
            r"Return the \g<n> held sts to the needles. Pick\g<up> along the edge, k\g<n>, \g<up2> along the edge",
        ),
        (  # "Check: 10 sts, 12 sts, 10 sts. Total 32."
            rf"\b(?:check|you (?:now )?have|now you have|there are(?: now)?): ?(?P<a>{_N}) {_STS}(?:,| and|, and) (?P<b>{_N}) {_STS}(?:,| and|, and) (?P<c>{_N}) {_STS}[.,;:] (?:in )?total:? (?P<n>{_N})(?: {_STS})?(?=[.;]|$)",
            r"\g<n> sts: \g<a> on needle 1, \g<b> on needle 2, \g<c> on needle 3",
        ),
        (  # what is done by the way: "at the same time, on every 8th row make a buttonhole: …"
            r"^(?:at the same time|meanwhile)\b(?=[^.:]*\b(?:every|each|\d+(?:st|nd|rd|th)) )[^.:]*\bbuttonholes?\b[^.:]*: [^.:]*\b(?:yo,? k2tog|k2tog,? yo|ssk,? yo|yo,? ssk)\b[^.:]*",
            r"(\g<0>)",
        ),
        (  # "knit the leg for as long as the yarn or the journey lasts", "rib as long as you like", "knit to the desired length"
            r"(?P<work>\b(?:knit(?:ting)?|work(?:ing)?|rib(?:bing)?|go(?:ing)? on|carry on|continue)\b(?:(?!\bturn)[^.;:()*\d]){0,40}?)(?<!it is)(?<!piece is),? (?:(?:for )?as long as (?:(?P<end>(?:the |your |you have |there is )[^.;:()*\d]{0,20}\b(?:yarn|wool|ball)\b[^.;,:()*\d]*)|(?:you|your|the|desired|wanted|required|needed|necessary|suits|fits)\b[^.;,:()*\d]{0,40})|to (?:the |your )?(?:desired|required|wanted|chosen|preferred) length|to (?:the|whatever|any) length (?:that )?(?:you|your|wanted|desired|required)\b[^.;,:()*\d]{0,20})(?=[.;]|$|, (?:and |then |keeping |leaving ))",
            lambda match: f"{match['work']} until " + ("the yarn runs out" if match["end"] else "it is as long as you like"),
        ),
        (  # "knit merrily until", "now knit in peace until"
            r"\b(?P<work>knit|work|rib|purl|go|carry|continue|knitting) (?:[a-z]{3,}(?<!even)(?<!on)(?<!year)ly|in peace)(?P<on> (?:on|along|away))?,? (?=until\b|till\b|for \d)",
            r"\g<work>\g<on> ",
        ),
        # plain rounds, told by their kind
        (
            rf"\b(?P<lead>(?:work|do)|(?:rounds|rnds|rows|round|rnd|row),? (?:and )?then) (?:an?|one|a single|(?P<n>{_N}|{'|'.join(_SMALL)}))(?: single)? (?P<how>knit|purl|plain purl) (?P<crs>rounds?|rnds?|rows?)\b(?=[,.;]|$| (?:then|for|as|to|and|in|with)\b)",
            _plain_of_kind,
        ),
        # as which
        (
            r"\bas (?:the )?(?P<a>\d+)(?:st|nd|rd|th)(?P<on> ?(?:and|&|to|-) ?)(?P<b>\d+)(?:st|nd|rd|th) (?P<crs>rows|rnds|rounds)\b",
            r"as \g<crs> \g<a>\g<on>\g<b>",
        ),
        (
            r"(?P<said>\b(?:(?:rows|rnds|rounds)|\d)(?: \([^)]*\))?: )(?:work |rep(?:eat)? )(?:the )?(?P<a>\d+)(?:st|nd|rd|th)(?P<on> ?(?:and|&|to|-) ?)(?P<b>\d+)(?:st|nd|rd|th) (?P<crs>rows|rnds|rounds)(?=\.?$)",
            r"\g<said>as \g<crs> \g<a>\g<on>\g<b>",
        ),
        (r"(?P<said>\b(?P<crs>row|rnd|round): (?:work )?as )(?:the )?(?P<n>\d+)(?:st|nd|rd|th)(?=\.?$)", r"\g<said>\g<crs> \g<n>"),
        (
            r"(?P<said>\b(?:row|rnd|round) \d+(?: \([^)]*\))?: )(?:the |an? )?(?P<name>(?!knit|purl|plain|next|last|same)[a-z]+(?:-[a-z]+)?) (?P<crs>row|rnd|round)(?: again)?(?=\.(?: |$)|$)",
            r"\g<said>Work the \g<name> \g<crs>",
        ),
        (
            r"(?<=: )(?:in|with|using) (?P<yarn>(?-i:[A-Z][a-z]*\d?)), (?:work )?as (?P<which>(?:the )?(?:round|rnd|row) ?\d+)(?=[.;]|$)",
            r"work as \g<which> in \g<yarn>",
        ),
        # a rib, two rounds
        (r"\b(?:rib(?:bing)? of )?knit (?P<k>\d),? (?:and )?purl (?P<p>\d)(?:(?<=rib of knit \d, purl \d)(?= *[.;]|$)| rib(?:bing)?\b)", r"k\g<k>, p\g<p> rib"),
        (
            rf"\b(?P<how>(?:dec|inc)(?:rease)?) (?P<n>{_N}) {_STS}(?: (?:in this way|in the same way|in the same manner|as (?:set|before|established)|likewise|evenly))*,? (?:on|in) (?:the )?next (?P<crs>round|rnd|row)(?:,? (?:and|then)+(?: again)?(?: (?:on|in))? (?:the )?(?:foll(?:owing|\.)? (?P=crs)|(?P=crs) after(?: (?:it|that))?|one after(?: (?:it|that))?))(?=[.;,]|$)",
            r"\g<how> \g<n> sts on every \g<crs> 2 times",
        ),
        (
            rf"\b(?P<how>(?:dec|inc)(?:rease)?) (?P<n>{_N}) {_STS}(?: (?:in this way|in the same way|in the same manner|as (?:set|before|established)|likewise|evenly))*,? (?:on|in) (?:each of )?(?:the )?(?:next|foll(?:owing)?) (?P<many>(?!1\b){_N}|{'|'.join(_SMALL)}) (?P<crs>round|rnd|row)s(?=[.;,]|$)",
            r"\g<how> \g<n> sts on every \g<crs> \g<many> times",
        ),
        (
            r"(?P<then>, (?:and )?then )(?=(?:rounds|rnds|rows|steps) \d+ ?(?:-|–|to|and|&) ?\d+(?: of [a-z ]+?)? (?:once|twice|(?:\d+|[a-z]+)(?: more)? times)(?: more| again)?(?:[.;]|$))",
            r"\g<then>work ",
        ),
        (
            r"(?P<before>^|[.;] )(?:now |then )?(?:keep(?: on)?(?: going)?|keep up|press on|proceed|persist|stick) with (?=(?:rows|rnds|rounds|steps) \d|(?:these|those|the last) (?:\w+ )?(?:rows|rnds|rounds|steps)\b)",
            r"\g<before>Carry on with ",
        ),
        (r"\b(?P<rep>rep(?:eat)? from \*) (?:in|for|on|over|across) (?:every|each) (?:section|repeat|panel|wedge|segment|gore)(?=[.;,]|$)", r"\g<rep> to end"),
        (  # "14 times, or until you like the depth, ending with round 4": as written
            r"(?P<often>\b(?:rounds|rnds|rows)\b[^.;()]* times(?: more| in all)?),? \(?or (?:un)?til+ (?!(?:all|no|every)\b|[^.;()]*\b(?:sts?|stitch\w*)\b)[^.;()\d]*?\)?(?:, ending (?:with|after|on) (?:an? )?(?:round|rnd|row) \d{1,2})?(?=[.;]|$)",
            r"\g<often>",
        ),
        (  # "count each section: 18 stitches"
            rf"(?P<before>^|[.;] )(?:(?:count|check|in|for|so far,?) )?(?:each|every) (?P<part>section|panel|repeat|wedge|segment|gore)(?: (?:now|still))?[:=] (?P<n>{_N}) {_STS}(?=[.;]|$)",
            r"\g<before>\g<n> sts in each \g<part>",
        ),
        (  # "knit across the 4 sts of needle 1 with needle 3"
            rf"\b(?P<verb>knit|k|work) (?:across|over|along) (?:(?:all |the )*(?P<n>{_N} )?{_STS} (?:of|on|from) )?(?:the )?(?P<a>needle \d|n\d),? (?:with|using|onto|on to) (?:the )?(?P<b>needle \d|n\d)(?=[.;,]|$)",
            r"with \g<b>, \g<verb> the \g<n>sts of \g<a>",
        ),
        # what is left to do
        (
            r",? (?:and )?then (?:cast on|begin|start|make|knit) (?:for |on )?(?:the |your |a |its )?(?:second|other|another|mate|partner|twin|(?:sock|mitt(?:en)?|one) (?:number )?two)\b[^.;\d]*(?=\.?$)",
            "",
        ),
        # signs
        (r"(?<=\d)(?=(?:sts|stitches|rnds|rounds|rows)\b)", " "),
        (r" \(turn\)(?=\.?$)", ", turn"),
        (r"\b(?P<turn>turn) (?:a)?round\b(?=\.?$|[,;.] | \()", r"\g<turn>"),
        (r"\b(?P<turn>turn)(?: (?:the |your )?work)?,? (?:without|instead of) (?:finishing|working|knitting|completing|going on)\b[^.;,*\d]*(?=\.?$)", r"\g<turn>"),
        (r"(?P<row>(?:^|[.;:] +)(?:(?:now|then|next),? )?(?:sl|slip|k|knit|p|purl)\b ?(?:\d|one|two|the|first)[^.;:*]*\b(?:over|tog|together|ssk|skpo?|psso|[kp]2tog|p2tog|(?:k|p|knit|purl) ?(?:\d+|one|two)(?: sts?)?))\.? Turn(?: (?:the |your )?work)?(?=[.;]|$)", r"\g<row>, turn"),
        (r"(?P<item>\b(?:[kp]\d+|[kp]\d+ ?\([\d, ]+\)|[kp][23]tog|ssk|skpo?|psso|st|sts|end|gap|ds)) turn(?=\.?$)", r"\g<item>, turn"),
        (
            r"\((?P<n>\d+) (?P<how>inc|dec)(?:'d|reased|\.)?\)(?=\.?$)",
            r"(\g<n> sts \g<how>reased)",
        ),
        (rf"(?<=[.!] )st(?:itch)?(?: count|es) ?[:=] ?(?P<n>{_N})(?=\.?$)", r"\g<n> sts"),
    )
)  # fmt: skip


def in_usual_words(said: MappedText) -> MappedText:
    """Return a text with usual words in the place of those that mean the same.

    Examples
    --------
    >>> in_usual_words(MappedText.of("Knit 2 together, knit till end, w & t")).text
    'K2tog, knit to end, w&t'
    >>> in_usual_words(MappedText.of("k2tog: knit 2 together")).text
    'k2tog: knit 2 together'
    """
    told = MORE_TIMES.put_in(TOLD_BY_HAND.put_in(with_cast_on_needles(said)))
    return REPEATS_TO_THE_END.put_in(_TABLE.put_in(told))
