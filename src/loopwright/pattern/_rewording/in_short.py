# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What is written in short: "(k5, k2tog) x 8", "k2, p2 for 20 rnds", a bare count in brackets."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.marker_words import with_marker_words
from loopwright.pattern._rewording.stars_in_short import with_stars
from loopwright.pattern._rewording.tables import Rewordings

__all__ = ["spelt_out"]

_STS = r"(?:sts|stitches)"
_N = r"\d+(?: ?[(\[][^)\]]*[)\]])?"
_FEW = r"(?:\d{1,3}|two|three|four|five|six|seven|eight|nine|ten|twelve)"
_CRS = r"(?:rounds?|rnds?|rows?)\b"
_RIB = r"(?:knit|k) ?\d(?: ?tbl)?(?:,? ?/? ?|,? and )(?:purl|p) ?\d(?: ?tbl)?|\d ?x ?\d(?= rib)"
_TO = r"(^|[.;:] |\b(?:then|and|now) )"
_WHERE = r"(?:times|twice|\*|around|round|\bend|(?:each|every) (?:st|stitch))"

_ITEMS = r"(?:k|p|ssk|skp|sl|yo|m1|kfb|s2kp|cdd)[^\[\]()*;.:]*?"
_EVENLY = (
    rf"(?P<what>dec|inc)(?:reas(?:e|ing)|'?g)?\.? (?P<n>{_N}) (?:sts|stitches)(?: (?:evenly|equally))?"
    r"(?: (?:across|around|over|in)[^:;.*(\[]*)?,? ?(?::|=|thus:?|as follows:?|like this:?|so:?|working)? ?"
)


def _as_round(match: re.Match[str]) -> str:
    """Put "knit 1 round, decreasing 6 sts evenly: [k8, k2tog] 6 times" as the round that it is."""
    often = match["often"] or match["often2"]
    head = match["label"] or f"{match['lead']}Next {match['crs']}: "
    return f"{head}[{match['items']}] {often} ({match['n']} sts {match['what'].lower()}reased)"


def _so_far(match: re.Match[str]) -> str:
    """Put "K1, p1 around: 5 rnds", "5 rnds: purl" as "Work 5 rnds of k1, p1 rib", "Purl 5 rnds"."""
    rib, far, length = match["rib"], match["far"], match["length"]
    if rib is None:
        verb = f"{'P' if match['verb'][0] in 'pP' else 'K'}{'url' if match['verb'][0] in 'pP' else 'nit'}"
        return f"{match['before']}{verb} {'for ' * bool(length)}{far}"
    how = f"Work in {rib} rib for {far}" if length else f"Work {far} of {rib} rib"
    return f"{match['before']}{how}"


_FAR = rf"(?P<far>(?:(?:{_N}|{_FEW}) {_CRS}|(?P<length>[\d.½¼¾]+(?: ?[(\[][\d., :;½¼¾]+[)\]])? ?(?:(?:cm|ins?|inch(?:es)?)\b\.?|[\"”″]))))"
_SO = rf"(?:(?P<verb>knit|purl|k|p)|(?:rib )?[*(\[]?(?P<rib>{_RIB})[*)\]]?(?: rib(?:bing)?)?)(?:[,;]? ?(?:all |rep(?:eat)? )?(?:the way )?(?:a?round|across|to (?:the )?end))?"
_DEALS = re.compile(
    r"\b(?:cast|co|divid\w*|arrang\w*|distribut\w*|place|put|slip|split|share)\b", re.IGNORECASE
)
_EACH = rf"(?:which is |that is |that's |i\.?e\.? |or |so |with )?{_N}(?: {_STS})? (?:(?:on|for|to) (?:each|either|every)(?: of the)?|per) (?:needle|side|half|tip)s?"


def _whole_alone(match: re.Match[str]) -> str:
    """Put "6 times: 60 sts, 30 on each needle" as the whole count, where no needle is dealt to."""
    return match[0] if _DEALS.search(match.string, 0, match.start()) else match["whole"]


_STOCKING = r"(?:(?:reverse |rev\.? )?(?:st\.? ?st\b\.?|stocking[- ](?:stitch|st)\b|stockinette(?: (?:stitch|st)\b)?))"
_FABRIC = rf"(?:{_STOCKING}|garter(?: (?:stitch|st|ridges)\b)?|(?:moss|seed)(?: (?:stitch|st)\b)?)"
_BEGUN = r"(?:(?:beg(?:inning|in)?\.?|start(?:ing)?|commencing) (?:with|on) (?:a |an |the )?(?:knit|purl|k|p|rs|ws|right[- ]side|wrong[- ]side) row)"


def _rows_of(match: re.Match[str]) -> str:
    """Put "Rows 3-6: stocking stitch" as "Rows 3-6: Work 4 rows in stocking stitch"."""
    many = int(match["b"]) - int(match["a"]) + 1
    begun = match["first"] or match["begun"]
    if not 1 < many < 200:
        return match[0]
    return f"{match['label']}: Work {many} {match['crs']} in {match['fabric']}{f', {begun}' if begun else ''}"


def _next_of(match: re.Match[str]) -> str:
    """Put "Next 5 rows: stocking stitch" as "Work 5 rows in stocking stitch"."""
    begun = match["first"] or match["begun"]
    return f"{match['before']}Work {match['n']} {match['crs']} in {match['fabric']}{f', {begun}' if begun else ''}"


_OPENS = r"(?:beg(?:in(?:ning)?\b|\.)?|start(?:ing)?|commenc(?:e|ing)) (?:with|on)"
_KIND = r"(?:an? |the )?(?P<kind>knit|purl|rs|ws|right[- ]side|wrong[- ]side|[kp](?= row))(?: rows?\b|(?! ?\d| st|[- ]))"


_IN_FABRIC = rf"(?:(?P<first>{_BEGUN}),? )?(?:(?:work|knit|go on|continue|carry on)(?:ed)? )?(?:all )?(?:even )?(?:in )?(?P<fabric>{_FABRIC})(?:,? (?P<begun>{_BEGUN}))?(?=[.;(]|,? (?:end|finish)ing\b| \(|$)"


_WAYS = Rewordings(
    (
        (  # "Begin with a purl row and work 6 rows in stocking stitch", "with a knit row first, work …"
            rf"(?P<before>^|[.;:] )(?:{_OPENS} {_KIND}|(?:with )?{_KIND.replace('kind', 'kind2')} (?:first|to (?:begin|start)(?: with)?))(?:,? and|,)(?: then)? (?=[^.;:]*\b{_STOCKING})",
            lambda match: (
                f"{match['before']}Beginning with a {match['kind'] or match['kind2']} row, "
            ),
        ),
        (  # "6 rows in stocking stitch; begin with a purl row", "stocking stitch, first row purl"
            rf"(?P<fabric>\b{_STOCKING}(?: for (?:{_N}|{_FEW}) (?:more )?rows)?)(?:[,;.:]|,? and)? [(]?(?:{_OPENS} |(?:of which )?(?:the )?first (?:row )?(?:of (?:them|these|which) )?(?:is |being )?){_KIND}[)]?(?=[.;,]|$)",
            r"\g<fabric>, beginning with a \g<kind> row",
        ),
        (  # "Rows 3-6: Beginning with a knit row, work in st st."
            rf"(?P<label>^(?P<crs>rows|rounds|rnds) (?P<a>\d{{1,3}}) ?(?:[-–—]|to|through|thru) ?(?P<b>\d{{1,3}})(?: \([^()]{{1,20}}\))?): ?{_IN_FABRIC}",
            _rows_of,
        ),
        (  # "Next 5 rows: stocking stitch, beginning with a purl row."
            rf"(?P<before>^|[.;] )(?:(?:the )?(?:last|next|first|final|following|foll) )?(?P<n>{_N}|{_FEW}) (?P<crs>rows|rounds|rnds): ?{_IN_FABRIC}",
            _next_of,
        ),
        (  # "2x2 rib (k2, p2) for 15 rounds."
            rf"(?P<before>^|[.;] )\d ?[x×] ?\d rib(?:bing)? ?[(\[](?P<rib>{_RIB})[)\]],? (?:for )?(?P<far>(?:{_N}|{_FEW}) {_CRS})(?=[.;]|$)",
            r"\g<before>Work \g<far> of \g<rib> rib",
        ),
        (  # "Row 1 of heel turn: k17, ssk, k1, turn.", "Round 1 of seed stitch: k1, p1"
            r"^(?P<label>(?:rows?|rounds?|rnds?) \d{1,3}(?:[-–]\d{1,3})?|\d{1,3}(?:st|nd|rd|th) (?:row|round|rnd)) of (?:the )?(?:heel|heel[- ]turn(?:ing)?|turn(?:ing)?(?: of the heel)?|heel flap|flap|toe|crown|thumb|gusset|cup|(?:seed|moss|rib|ribbing|border|cuff|pattern|garter|eyelets?)(?: stitch| st| pattern| band)?)(?P<side> \([RW]S\))?(?=:)",
            r"\g<label>\g<side>",
        ),
        (  # "Row 1: sl 1, k1 all across."
            r"(?P<label>^(?:[a-z]+ )?(?:(?:rows?|rounds?|rnds?|r) ?\d{1,3}|next (?:row|round|rnd))(?: \([RW]S\))?: )(?P<items>(?:sl(?:ip)?|k|p)(?: ?\d)?(?:,? ?(?:k|p) ?\d)+) (?:all )?(?:the way )?(?:across|along|all along|all round|over and over)(?=[.;]|$)",
            r"\g<label>*\g<items>; rep from * to end",
        ),
        (  # "Round 2: work (k8, k2tog) eight times"
            r"(?P<before>: |^|[.;,] |\bthen )work (?=[\[(](?:[kp] ?\d|ssk|skp|k\dtog|sl\b|yo\b|m1|kfb|knit\b|purl\b)[^()\[\]]*[\])] (?:\d|once|twice|[a-z]+ times))",
            r"\g<before>",
        ),
        (  # "K28, then work *k3, p1; rep from * to end"
            r"(?P<before>(?<![a-z])[kp] ?\d+(?: ?\([\d, ]+\))?[,;] )(?:and |then )*work (?=\*(?:[kp] ?\d|sl\b|yo\b|ssk|k\dtog|m1))",
            r"\g<before>",
        ),
        (  # "Then (k8, k2tog) 8 times to get 72 sts."
            rf"(?P<said>[\])] (?:{_N}|{_FEW}) times),? (?:to get|to make|to leave|which gives|which makes|which leaves|making|giving|leaving) (?P<n>{_N}) (?P<sts>{_STS})(?=[.;]|$)",
            r"\g<said>. \g<n> \g<sts>",
        ),
        (  # "… 7 times, changing colour as in the leg: 64 sts"
            r"(?<= times), chang(?:ing|e) colou?rs? (?:as|like) (?:in |for |on )?[a-z ]{3,30}(?=[:;.,]|$)",
            "",
        ),
        (  # "Work the two rows 3 times."
            r"(?P<before>^|[.;] )(?P<verb>work|rep(?:eat)?|knit|do) the (?P<n>two|three|four|[2-9]) (?P<crs>rows|rounds|rnds) (?=(?:\d|two|three|four|five|six|seven|eight|nine|ten|once|twice|until|till|again)\b[^:]*$)",
            r"\g<before>\g<verb> these \g<n> \g<crs> ",
        ),
        (  # "Cast on 90 stitches and work circularly."
            rf"(?P<on>\b(?:cast on|co) {_N}(?: {_STS})?),? (?:and )?(?:work|knit) (?:circularly|in a (?:ring|circle))(?=[.;,]|$)",
            r"\g<on> and join in the round",
        ),
        (r"\bC\.? ?O\. (?=\d)", "CO "),
        (  # "Knit one more RS row."
            r"(?P<before>^|[.;] )(?P<verb>knit|purl|k|p|work) (?P<n>1|one|a|another) (?P<more>more |further |last |final )?(?:RS|WS|right[- ]side|wrong[- ]side) (?P<crs>row)(?=[.;]|$)",
            r"\g<before>\g<verb> 1 \g<crs>",
        ),
        (  # "Pick out the scrap yarn. N1: 24 sts of leg. N2: 24 sts of foot."
            rf"(?P<out>(?:^|[.;] )(?:pick out|take out|pull out|unpick|unravel|remove)\b[^.;:]*\b(?:scrap|waste)\b[^.;:]*)[.;:] (?:n|needle) ?1: (?P<a>{_N}) {_STS}[^.;:]*[.;,] (?:n|needle) ?2: (?P<b>{_N}) {_STS}[^.;:]*(?=[.;]|$)",
            r"\g<out>; \g<a> sts on the first needle, \g<b> sts on the second needle",
        ),
        (  # "Pick out the scrap yarn. You will find 18 sts on each side"
            rf"(?P<out>(?:^|[.;] )(?:pick out|take out|pull out|draw out|unpick|unravel|remove)\b[^.;:]*\b(?:scrap|waste)\b[^.;:]*?)(?:[.;:] |,? (?:and|to) )(?:you(?:['’]ll| will| should)? )?(?:now )?(?:find|see|get|free|uncover|expose|discover) (?P<n>{_N}) (?P<sts>(?:live |open |loose )?{_STS}) (?P<where>(?:on|at|along) (?:each|either|both) (?:side|edge)s?)(?: of (?:it|the (?:gap|slit|opening|hole)))?(?:(?:[;,]|[;,]? and|\.)(?: and| then)* (?P<put>put|place|slip|divide|arrange|distribute|spread|slide) (?:them|these|those) (?=on|over|among|between|across))?(?=[.;,]|$|(?<= ))",
            lambda match: (
                f"{match['out']}. There are {match['n']} {match['sts']} {match['where']}{'. Divide them ' if match['put'] else ''}"
            ),
        ),
        (  # "Stitch count stays at 144.", "Still 144 sts.", "The number of stitches does not change: 144."
            rf"(?P<before>^|[.;] )(?:(?:your |the )?(?:(?:stitch|st|sts) count|count|(?:total )?number of {_STS}|{_STS})(?: (?:now|is|are|still|stays?|remains?|does not change|doesn['’]t change|(?:is |are )?unchanged|the same|at|should be))+|(?:you (?:should )?still have|there (?:are|should be) still|still there are|still))[:,]? ?\(?(?P<n>{_N})(?: {_STS})?\)?(?=[.;]|$)",
            r"\g<before>\g<n> sts",
        ),
        (  # "*k1, p1; rep from * to end. 10 rnds."
            rf"(?P<said>[*)\]][^.:]*\b(?:to (?:the )?end|a?round|across))[.;,] (?P<n>{_N}|{_FEW}) (?P<c>rounds|rnds|rows)(?: in all| in total| altogether| like this| of this)?(?=[.;]|$)",
            r"\g<said> for \g<n> \g<c>",
        ),
        (  # "*pick up 1 st in the corner, k24; rep from * for N2"
            r"(?P<said>\*[^*:]*\bpick up\b(?! and k)[^*:]*[;,.] rep(?:eat)? from \*) (?:for|on|over|across|along) (?:the )?(?:n ?2|needle 2|(?:second|2nd|other|next) (?:needle|half|side|edge))(?=[.;]| \(|$)",
            r"\g<said> once more",
        ),
        (
            r"(?P<said>\*[^*:;]*\bpick up\b(?! and k)[^*:;]*)\*,? (?:twice|2 times)(?=[.;]| \(|$)",
            r"\g<said>; rep from * once more",
        ),
        (
            rf"(?P<whole>(?:[:=.(] ?|\btimes,? ){_N} {_STS})(?:(?:,|;| [–—-]) ?{_EACH}| ?\({_EACH}\))(?=[.;)]|$)",
            _whole_alone,
        ),
        (  # "K1, p1 around: 5 rnds", "purl around (3 rnds)", "k2, p2 all round - 3 cm"
            rf"(?P<before>^(?:[a-z]+(?: ribbing)?: )?|[.;] ){_SO}(?:[:,]| [-–—x×]|(?= \()| (?=for )) ?\(?(?:for )?{_FAR}\)?(?=[.;]|$)",
            _so_far,
        ),
        (  # "Purl one last round"
            rf"(?P<verb>\b(?:knit|purl|k|p)) (?P<n>1|one|a) (?:last|final) (?P<crs>{_CRS})(?! (?:of|in|like|as)\b)",
            r"\g<verb> \g<n> \g<crs>",
        ),
        (  # "Over the hole cast on 8 sts again and knit on"
            rf"^(?:over|above|across|at|where) (?:the|this) (?:thumb )?(?:hole|gap|opening|slit|(?:bound|cast)-off {_STS}),? (?:cast on|co) (?P<n>{_N})(?: (?:new )?{_STS})?(?: again)?,? (?:and )?(?:then )?(?:knit|work|k) (?:on|round|to (?:the )?end(?: of (?:the )?(?:rnd|round))?)(?=[.;(]|$| \()",
            r"Next round: cast on \g<n> sts over the gap, knit to end",
        ),
        (  # "Keep 6 sts for the thumb: knit 17, slip …"
            rf"^(?:keep|reserve|set aside|leave) (?:the )?{_N} {_STS} for (?:the |a )?thumb: (?=(?:knit|k|work)\b)",
            "Next round: ",
        ),
        (  # "rest 9 sts on spare wool"
            rf"(?<=, )(?P<r>r)est (?P<which>the )?(?:next )?(?P<n>{_N}) (?P<sts>{_STS}) on (?:an? |some )?(?:(?:spare|waste|scrap|length of) )*(?:wool|yarn|thread|cotton|holder|pin)(?=,)",
            r"slip the next \g<n> \g<sts> onto waste yarn",
        ),
        (  # "Using the long-tail method, put 42 sts on three needles"
            rf"^(?:using|with|by) (?:the |an? )?(?P<how>[a-z-]+) (?:method|cast[- ]on),? put (?P<n>{_N}) (?P<sts>{_STS}) (?=on\b)",
            r"With a \g<how> cast-on, cast on \g<n> \g<sts> ",
        ),
        (  # "Begin with 60 stitches in bulky wool and make a ring of them"
            rf"^(?:begin|start) with (?P<n>{_N}) (?P<sts>{_STS})(?: (?:in|of) [a-z ]{{2,24}}?)?,? and (?:make|form|join|close) (?:(?:them|it) (?:to|into) )?a (?:ring|circle|round)(?: (?:of|with|from) them)?(?=[.;,]|$)",
            r"Cast on \g<n> \g<sts> and join in the round",
        ),
        (  # "and close all sts in rib"
            rf"\b(?P<c>c)lose (?:off )?all (?:the )?(?P<sts>{_STS})(?= (?:in|loosely|knitwise)\b|[.;,]|$)",
            lambda match: f"{'B' if match['c'] == 'C' else 'b'}ind off all {match['sts']}",
        ),
        (  # "Last 8 rounds: k1, p1."
            rf"(?P<before>^|[.;] )(?:the )?(?:last|next|first|final) (?P<n>{_N}|{_FEW}) (?P<crs>{_CRS}): ?[\[(]?(?P<rib>{_RIB})[\])]?(?=\.|$)",
            r"\g<before>Work \g<n> \g<crs> of \g<rib> rib",
        ),
        (  # "5 rnds: k1, p1 around"
            rf"(?P<before>^|[.;] ){_FAR}(?::| [-–—]) (?:of )?{_SO}(?=[.;]|$)",
            _so_far,
        ),
        (  # "[ssk, k20, k2tog] twice; [ssk, k18, k2tog] twice": rounds, one after another
            rf"(?<=[)\]]) (?P<often>{_FEW} times|twice)(?P<count> ?\(\d{{1,3}}(?: sts)?\))?; (?=[(\[][^()\[\]]*(?:tog|ssk|skp|m1|kfb)[^()\[\]]*[)\]] (?P=often))",
            lambda match: f" {match['often']}{match['count'] or ''}. ",
        ),
        (
            rf"{_TO}(?P<items>(?:k|p) ?\d+,? (?:k2tog|ssk|skpo?|p2tog|m1)) (?:all (?:the way )?(?:a)?round|all along)(?=[.;(]|$)",
            r"\1*\g<items>; rep from * to end",
        ),
        (  # the tubes of a closed cast-on: the needles go round, and the work does not
            rf"\b(?P<verb>t|r|f)(?:urn|otate|lip) (?:the )?(?:work|needles?),? (?:and )?(?:then )?(?:knit|k) (?:the )?(?P<n>{_N}) (?:sts|stitches|loops) (?:of|on) the (?:other|second|lower|bottom) needle(?: with its own tips?| with its other (?:tip|end))?",
            lambda match: f"{'K' if match['verb'].isupper() else 'k'}nit {match['n']} sts",
        ),
        (
            r"\b(?P<pull>pull|slide|push) the (?:lower|upper|bottom|top|other|back|front) needle (?:through|out|along|forward)\b[^.;\d]*",
            lambda match: f"{'H' if match[0][0].isupper() else 'h'}old the needles side by side",
        ),
        (
            rf"(?<=[)\]*]) ?[x×] ?(?P<n>{_FEW})(?=\W|$)(?! ?(?:g|grams?|oz|m|cm|mm|balls?|yds?|yards?)\b)",
            r" \g<n> times",
        ),
        (  # "[k5, k2tog] 8 times (48).": what there is behind it
            rf"(?P<how>[)\]*][^.;:*()\[\]]{{0,20}}?{_WHERE}|\bin (?:each|every) (?:st|stitch))[,:]? ?(?:\((?P<a>\d{{1,3}})\)|= ?(?P<b>\d{{1,3}}))(?=[.;]|$)",
            lambda match: f"{match['how']} ({match['a'] or match['b']} sts)",
        ),
        (  # "Rnds (2) and (3): k", "increase rnd (4): …", "rep (2)-(4)"
            r"^(?:(?:inc\w*|dec\w*|plain) )?(?P<crs>rounds?|rnds?|rows?) \((?P<a>\d+)\)(?: ?(?:-|–|and|,|to) ?\((?P<b>\d+)\))?(?=:)",
            lambda match: f"{match['crs']} {match['a']}{'-' + match['b'] if match['b'] else ''}",
        ),
        (
            r"\b(?P<rep>rep(?:eat)?|work) \((?P<a>\d+)\) ?(?:-|–|to|and) ?\((?P<b>\d+)\)",
            r"\g<rep> rounds \g<a>-\g<b>",
        ),
        (  # "1 - k1, pm, m1l", "2 - k"
            r"^(?P<n>\d{1,2}) ?[-–] (?=(?:k|p) ?\d|[kp](?: to\b|\.?$)|\*|sl ?1\b|ssk\b|k2tog\b)",
            r"R\g<n>: ",
        ),
        (
            r"^(?:work|rep(?:eat)?) (?P<a>\d+) ?[-–] ?(?P<b>\d+) (?=(?:\d+|two|three|four|five|six|seven|eight) (?:more )?times\b|once|twice)",
            r"rep rounds \g<a>-\g<b> ",
        ),
        (  # "k2tog x 8"
            r"(?<![(\[*])(?<![(\[*,] )\b(?P<st>k2tog|ssk|p2tog|kfb|m1[lr]?) ?[x×] ?(?P<n>\d+|two|three|four|five|six|seven|eight|nine|ten)\b(?! ?(?:cm|mm|g)\b)",
            r"[\g<st>] \g<n> times",
        ),
        (
            rf"(?P<k>\b(?:knit|k|work)) (?P<n>{_N}|[a-z]+) times (?:a)?round(?=[.,;]|$)",
            r"\g<k> \g<n> rounds",
        ),
        (
            rf"(?P<k>\b(?:knit|k|work)(?: even| in [a-z ]+?)?) until (?P<n>{_N}|[a-z]+) (?P<crs>rounds|rnds|rows) have been (?:worked|knit|knitted|done)(?=[.,;]|$)",
            r"\g<k> \g<n> \g<crs>",
        ),
        (  # "the thumb sts (13)": how many they are
            rf"\b(?P<whose>(?:thumb|heel|instep|sole|held|gusset) )(?P<sts>sts|stitches) \((?P<n>{_N})\)(?= (?:back )?(?:on|onto|to)\b)",
            r"\g<n> \g<whose>\g<sts>",
        ),
        (  # "one round k2tog"
            r"(^|[.;] )(?:1|one|a) (?P<crs>round|rnd|row) (?:of )?(?P<st>k2tog|ssk|p2tog)(?= ?(?:all (?:a?round|along))?(?:[.;(=:]|$| =))",
            r"\1Next \g<crs>: *\g<st>; rep from * to end",
        ),
        (
            r"(?<=: )(?P<st>k2tog|ssk|p2tog|kfb), rep(?:eat)? (?:all )?(?=around\b|across\b|to (?:the )?end\b)",
            r"*\g<st>; rep from * ",
        ),
        (  # a round that is not worked to its end
            r"^(?:rounds?|rnds?|rows?) \d+ \((?:partial|part|half|part round)\): ?",
            "",
        ),
        (  # "k to end (46)"
            r"(?P<how>\bto (?:the )?end(?: of (?:the )?(?:rnd|round|row))?),? \((?P<a>\d{1,3})\)(?=[.;]|$)",
            r"\g<how> (\g<a> sts)",
        ),
        (
            r"(?P<how>\brep(?:eat)? from \*)[,:]? ?\((?P<a>\d{1,3})\)(?=[.;]|$)",
            r"\g<how> (\g<a> sts)",
        ),
        (
            rf"\b(?P<verb>work|knit|continue) in (?P<fabric>st\.? st|stock\w+(?: st(?:itch)?)?|garter(?: st(?:itch)?)?|(?:moss|seed)(?: st(?:itch)?)?) (?P<n>{_N}|{_FEW}) (?P<crs>{_CRS})",
            r"\g<verb> \g<n> \g<crs> in \g<fabric>",
        ),
        (  # "K2, p2 for 20 rnds", "rib (k1, p1) 8 rnds", "k2/p2 rib x 12 rnds"
            rf"{_TO}(?:work |knit )?(?:in )?(?:rib(?:bing)?:? )?\(?(?P<rib>{_RIB})\)?(?: rib(?:bing)?)?(?: (?:over|on|across) all (?:the )?(?:sts|stitches))?,? ?(?:for|x|×)? ?(?P<n>{_N}|{_FEW}) (?P<crs>{_CRS})(?! (?:of|less))",
            lambda match: (
                f"{match[1]}{'Work' if match[0][len(match[1]) :][:1].isupper() else 'work'}"
                f" {match['n']} {match['crs']} of {match['rib']} rib"
            ),
        ),
        (
            (
                rf"(?:(?P<label>\b(?:next|last|this) (?:round|rnd|row): )|(?P<lead>^|[.;] ))(?:knit|k|purl|p|work)(?: (?:1|one|a|the next) (?P<crs>round|rnd|row))?(?:,| and)* {_EVENLY}"
                rf"[(\[](?P<items>{_ITEMS})(?:[)\]],? ?(?P<often>{_FEW} times|twice)|,? (?P<often2>{_FEW} times|twice)[)\]])(?=[.;]|$)"
            ),
            _as_round,
        ),
        (  # "1st rib row (RS): …"
            r"^(\d{1,2}(?:st|nd|rd|th)) (?:rib|pattern|patt|heel|flap|lace|moss|garter|crown|toe|gusset) (row|round|rnd)\b(?=[^:]{0,12}:)",
            r"\1 \2",
        ),
        (r"(^|[.;] )rib [(\[]([kp] ?\d[^\])]{0,20})[)\]] (?=for |until )", r"\1Rib *\2* "),
        (  # "Next rnd K15, pm, …", "Inc rnd Knit to m, …": a capital begins what is worked
            r"(^|[.;] )(next|inc|dec|set-?up|plain|last|final) (round|rnd|row)(?P<side> \((?:RS|WS)\))? (?=(?<=next rnd )(?:knit|purl|work)\b|(?<=next round )(?:knit|purl|work)\b|(?<=next row )(?:knit|purl|work)\b|(?-i:[KP](?: ?\d|nit |url )|Sl ?\d|Ssk|K2tog|P2tog|M1|Yo\b|\*|\[))",
            r"\1\2 \3\g<side>: ",
        ),
        (
            r"(^|[.;] )next (round|rnd|row), (?=(?:\*|\[|\(|k ?\d|p ?\d|[kp]2tog|ssk|skp|sl \d|(?:first|1st) needle|needle 1)\b|[*\[(])",
            r"\1Next \2: ",
        ),
        (
            rf"\*(?P<rows>(?:(?:and |then )*(?:knit|purl|k|p) (?:a|one|\d+) {_CRS}(?:, ?)?){{2,}})\* (?P<often>{_FEW} times|twice)\b",
            r"(\g<rows>) \g<often>",
        ),
        (  # "Rnds 1-3: [k2, p2] with MC": over and over
            rf"(?P<label>^(?:[^:.]*: )?(?:rounds?|rnds?|rows?|r) ?\d[^:.]*: )(?P<with>with [A-Z]\w*,? )?(?:\[|\(|\*)(?P<items>{_ITEMS})(?:\]|\)|\*)?(?P<behind>,? with [A-Z]\w*)?(?=\.?$)",
            lambda match: (
                f"{match['label']}{match['with'] or ''}{(match['behind'] or '').strip(' ,')}{', ' * bool(match['behind'])}*{match['items']}; rep from * to end"
            ),
        ),
    )
)


def spelt_out(said: MappedText) -> MappedText:
    """Return a line with counts and ribs in short written out."""
    return _WAYS.put_in(with_stars(with_marker_words(said)))
