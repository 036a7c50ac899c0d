# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""How people shorten: notes without colons and verbs, numbers between slashes, columns."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.both_halves import with_both_halves
from loopwright.pattern._rewording.in_parts import with_usual_parts
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.other_ways import said_usually
from loopwright.pattern._rewording.rows_in_prose import ROWS_IN_PROSE
from loopwright.pattern._rewording.tables import Rewordings
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.turns_in_prose import TURNS_IN_PROSE
from loopwright.pattern._rewording.wordings import A_YARN, COUNT

__all__ = ["spelt_out"]

_WORK = r"(?:(?:k|p)\s?\d|(?:k|p|knit|purl)\s+(?:to|across|\d|all|every|until)|(?:k|p|knit|purl)[.\s]*$|ds\b|sl\b|[\[*]|\((?=(?:[kp]\s?\d|sl|yo|k2tog|ssk|knit|purl|m1)\b)|yo\b|ssk|k2tog|m1)"
_LABEL = WordForm(
    rf"^(r|rnds?|rounds?|rows?)\.? ?(\d+(?:(?: ?[-–] ?| (?:and|to) )\d+)?)\s+(?={_WORK})",
)
_PAIR = WordForm(
    r"(?<=\brep )(r|rnds?|rows?) ?(\d+),? (?:and )?(?:r|rnds?|rows?) ?(\d+)\b(?! ?[-–&,])",
)


_N = r"\d+(?: ?[(\[][^)\]]*[)\]])?"


_MORE = re.compile(  # "another 20 along", "20 more along", "20 sts more along"
    r"^(?:another |a further )?(\d+(?: ?[(\[][\d, ]+[)\]])?) (?:(?:more |further )?(?:sts?|stitch(?:es)?)(?: more)?|more|(?=[adu])) ?"
)


def _each_picked(match: re.Match[str]) -> str:
    """Say of each stretch of edge that its stitches are picked up."""
    places = re.split(
        r"(?:,? and|,) (?=\d|another |a further )(?![^()\[\]]*[)\]])",
        match[0][len(match["pick"]) :].strip(),
    )
    places = [_MORE.sub(r"\1 sts ", one) for one in places]
    along = [re.sub(r"(?<=sts )(?:down|up)(?: to)? ", "along ", one) for one in places]
    return ", ".join(f"{match['pick']} {one}" for one in along)


def _with_yarn(match: re.Match[str]) -> str:
    return f"With {match[1]}, " if match[1] else ""


def _chart_row(match: re.Match[str]) -> str:
    """Put "Row 1: 4 MC, 1 CC, 3 MC" as stitches that are knitted, again and again."""
    stitches = re.sub(r"\b(?=\d)", "k", match[2].rstrip(". "))
    return f"{match[1]}: *{stitches}; rep from * to end."


def _moss(match: re.Match[str]) -> str:
    """Write "moss 3" out: a band that begins and ends with a knit stitch."""
    many = int(match[1])
    pairs = "k1, p1, " * (many // 2) if many < 5 else f"[k1, p1] {many // 2} times, "
    return (pairs + "k1") if many % 2 else pairs.rstrip(", ")


def _needle_called(match: re.Match[str]) -> str:
    begins = re.search(r"[.!]\s+$", match.string[: match.start()]) is not None  # a sentence
    return f"{'Needle' if begins else 'needle'} {match[1] or match[2]}"


def _then_plain(match: re.Match[str]) -> str:
    """Put "*k7, k2tog*, 96 sts; k 1 rnd" as two sentences with the count between."""
    stated = f" {match[2]}." if match[2] else ""
    return f"{match[1]}, repeat from * to end.{stated} K {match[3]} {match[4]}."


def _over_these(match: re.Match[str]) -> str:
    """Put "on these 14 sts work 6 rows" as two sentences: on which, and what."""
    return f"Work on these {match['n']}. {match['verb'][0].upper()}{match['verb'][1:]}"


def _row_forms(match: re.Match[str]) -> str:
    """Put what "it" or "them" is for "this row forms moss stitch. Work it 7 times more"."""
    which = f"{match['course']} {match['nth']}" if match["nth"] else match["those"]
    return f"{match['first']}. Repeat {which}"


def _picked_up(match: re.Match[str]) -> str:
    return f"pick{match[1] or ''} up and knit "


_PICKED = r"(?:another |a further )?\d+(?: ?[(\[][\d, ]+[)\]])? (?:(?:more |further )?(?:sts?|stitch(?:es)?)(?: more)?|more|(?=(?:along|down|up|across) )) ?(?:in|at|along|down|up|from|across|on|for|into|over|between)\b(?:(?!\b(?:and|then|knit|purl|work|needle|with)\b)[^,;.:\d])*"
_SIDE = r"(?:instep|sole|front|back|palm|needle \d)(?: sts| stitches)?"
_NTHS = {
    "1st": "1", "first": "1", "2nd": "2", "second": "2", "3rd": "3", "third": "3", "4th": "4",
    "fourth": "4", "last": "4",
}  # fmt: skip
_NTH = "1st|first|2nd|second|3rd|third|4th|fourth"


def _once_measured(match: re.Match[str]) -> str:
    """Write "when it is 18 cm tall, knit" as the work up to there, and what follows."""
    verb = match["verb"]
    return f"Work even until work measures {match['far']}. {verb[0].upper()}{verb[1:]}"


_OTHER_WORDS = Rewordings(
    (said, means)
    for said, means in (
        (
            r"\b(needles? \d(?: and \d)?) ?(?:[–—]|(?<= )-(?= )) ?(?=[a-z])",
            r"\1: ",
        ),
        (  # "knit to 3 sts from the end of needle 1"
            rf"(?<=[:;.] )(k|knit|p|purl) to (?:within )?({_N}) (?:sts|stitches|st|stitch) (?:from|of|before) (?:the )?end of (needle \d)(?=,)",
            r"\3: \1 to last \2 sts",
        ),
        (
            rf"\bto (?:within )?({_N}) (?:sts|stitches|st|stitch) (?:from|of|before) (?:the )?end(?: of (?:the )?(?:needle|round|rnd|row|half))?(?=,)",
            r"to last \1 sts",
        ),
        *TURNS_IN_PROSE,
        *ROWS_IN_PROSE,
        (
            r"^(?:work|knit|make) (?:the |this )?(?:(?:whole|entire) )?(?:toe|heel|cuff|brim|thumb|foot|leg|top|crown|body|border|edging|hem|band|tip)s? (?:with|in|using) ([A-E]|MC|CC\d?)(?=\.)",
            r"Change to \1",
        ),
        (r"\bpick(ing)? up and p(?:url)?\.? ?(?=(?:the )?\d)", _picked_up),
        (  # "pick up and knit 1 st in the corner, 14 sts down to the seam and 14 sts up the other side"
            rf"\b(?P<pick>pick up and (?:knit|k)) {_PICKED}(?:(?:,? and|,) {_PICKED})+(?=[.;:,]|$)",
            _each_picked,
        ),
        (  # behind a full stop, unlike in our own words: "Rnd 1: Heel sts: k1, ssk, … Instep sts: knit": the heel's half is the sole here
            r"^(?P<label>(?:rnd|round|next|dec|inc|set)\b[^.:]*: )(?:on (?:the )?)?heel(?: sts| stitches| needle)?[:,] (?P<what>[^.;:]+)\. (?:on (?:the )?)?(?P<other>instep|top|upper|front)(?: sts| stitches| needle)?[:,] (?=[a-z])",
            r"\g<label>Sole: \g<what>; Instep: ",
        ),
        (
            r"^(?P<label>(?:rnd|round|next|dec|inc|set)\b[^.:]*: )(?:on (?:the )?)?(?P<other>instep|top|upper|front)(?: sts| stitches| needle)?[:,] (?P<what>[^.;:]+)\. (?:on (?:the )?)?heel(?: sts| stitches| needle)?[:,] (?=[a-z])",
            r"\g<label>Instep: \g<what>; Sole: ",
        ),
        (  # "instep: k1, m1r, k to last st, m1l, k1. Sole: the same."
            rf"\b({_SIDE}): ([^.:;]+)[.;] ({_SIDE}): (?:(?:work |do |knit )?(?:exactly )?(?:the )?same|likewise|ditto|as (?:for |on )?(?:the )?{_SIDE})(?=[.;]|$)",
            r"\1: \2; \3: \2",
        ),
        (  # "Rnd 1: Knit the instep. Sole: k1, m1r, k to last st, m1l, k1."
            r"^((?:[a-z]+:? |\d+(?:st|nd|rd|th) ){0,3}(?:rnd|round|next|dec|inc|set)\b[^.]*\b(?:instep|front|back|sole|palm)\b[^.]*)\. (?=(?:instep|sole|front|back|palm)(?: sts| stitches)?: )",
            r"\1; ",
        ),
        (r"\bshort[- ](rows? \d)", r"\1"),
        (r"\b(needle 1)\. turn,? (?:and |then )*(?=(?:p|purl|work)\b)", r"\1, turn, "),
        (  # "the 5th row forms moss stitch. Work it 7 times more"
            r"\b(?P<first>(?:the )?(?:(?P<nth>\d+)(?:st|nd|rd|th) (?P<course>row|round|rnd)|(?P<those>(?:this|the last|these(?: \w+)?|the last \w+) (?:rows?|rounds?|rnds?))) (?:forms?|makes?|sets?|establish\w*|gives?)\b[^.;]*)[.;] (?:now )?(?:work|rep(?:eat)?|do|knit) (?:it|them)(?= (?:\w+|\d+[^a-z]*) times|\s+(?:twice|once|until|for|to)\b)",
            _row_forms,
        ),
        (
            r"[;,] (?:so that )?with (?:rows?|rounds?|rnds?) [\d –-]+(?:,? )(?:they|it|this|these) (?:match|mirror)[^.;]*",
            "",
        ),
        (
            r"^(?:with|on|over) (?:the |these |those )?(?:last |remaining )?\d+ (?:sts|stitches),? (?:work|knit|make) (?=an? i-?cord)",
            "work ",
        ),
        (r"\bcast up (?=\d)", "cast on "),
        (
            r"\b(pick(?:ing)? up and k(?:nit)? [^,.;]*? (?:along|down|up|from|at|on) [^,.;]*?) and (?:then )?(knit|k|purl|p|work) (?=(?:the |next |first |following |last )*\d)",
            r"\1, \2 ",
        ),
        (r"\b(?-i:WY)\b", "waste yarn"),
        (r"\b(?:g[- ]st|gst)\b\.?(?!itch)", "garter st"),
        (r"\b(?:m-st|mst)\b\.?(?!itch)", "moss st"),
        (r"\bst-st\b\.?(?!itch)", "st st"),
        (r"\bN ?([1-4])\b(?! ?[:=])|(?<=\bon )N ?([1-4])\b", _needle_called),
        (
            r"(?:(?<=: )|^)(?!on each needle: )(?:work )?on (?:each|both|every)(?: of the)?(?: two)? (?:needles?|tips?)[:,]? (?=\*|[kp]\d|k\b|knit|ssk|sl)",
            "each needle: ",
        ),
        (
            r"\b(?:make|work|using|use) (?:an?|the|your) ((?:[a-z-]+ ){0,2}[a-z-]+) cast-on (?:of|over|with|for) (?=\d)",
            r"with a \1 cast-on, cast on ",
        ),
        (r"\b(?:make|work) a cast-on (?:of|over|with) (?=\d)", "cast on "),
        (
            r"\btake off (?:the |that )?(?:other |second |first |next )?(?:thumb )?marker\b",
            "remove marker",
        ),
        (
            r"\b(place|slip|remove|to|before|after) (?:the |a )?(?:thumb|gusset|safety|side|round|next thumb) marker\b",
            r"\1 marker",
        ),
        (
            r"^(?:Both|All)(?: three| four)? sizes:\s*(?=\S)|^Both(?: mittens?| mitts?| hands?| socks?)?:\s*(?=[A-Z])",
            "",
        ),
        (r"\bwith \d+ repeats(?: (?:of the chart|across|each row))?(?=[.,;])", ""),
        (
            r"\b(of|on|over|across) (?:the )?(\d)(?:st|nd|rd|th) and (?:the )?(\d)(?:st|nd|rd|th) needles?\b(?! ?[:,]? ?(?:k|p|ssk|sl|work|knit|purl)\b)",
            r"\1 needle \2 and \3",
        ),
        (r"\b(of|across) (?:the )?(\d)(?:st|nd|rd|th) needle\b", r"\1 needle \2"),
        (
            r"\bwork (?:on|over) (these|the) (\d+ (?:sts|stitches))(?: only)? for (\d+) (?:more )?rows(?: more)?,? ?(in [a-z ]+? st(?:itch)?)?(?:[:,] [^.]*)?(?=\.|$)",
            r"work over \1 \2 only, work \3 rows \4",
        ),
        (r"^slip (?:the )?marker:\s*(?=\S)", ""),
        (
            r"\bturn (?:the |your )?(?:work|piece|knitting|cuff|turnover|tube) (?:inside|wrong side|right side) out\b(?:(?:,| and| then)+ (?P<close>(?:cast|bind|graft)\b)|(?:(?!(?:,|\band\b|\bthen\b)[^.;]*\b(?:cast|bind|graft|\d+ (?:sts|stitches|rounds|rnds|rows))\b)[^.;])*)",
            lambda match: (
                "turn inside out" + (f". {match['close'].capitalize()}" if match["close"] else "")
            ),
        ),
        (r"^(?:US \d+(?:\.\d)?|\d(?:\.\d+)? ?mm)(?:, ?([A-E]|MC|CC))?: ?(?=\S)", _with_yarn),
        (r"^([A-E]|MC|CC): (?=(?:k|p|knit|purl|co|cast)\b)", _with_yarn),
        (
            r"(\*[^*]+\*)(?:, (\d+ ?sts))?; (?:k|knit) (\d+|one) (rnds?|rounds?|rows?)\.?$",
            _then_plain,
        ),
        (r"\b(\d+) ?[x×] (?=(?:on |in )?(?:every|each)\b)", r"\1 times "),
        (
            r"^(?:continue|cont|keep|carry on|go on)(?: with| to| in)? (?:the )?stripes?(?: pattern| sequence)?(?: as set| as before)? for (\d+) (?:more )?(rounds|rnds|rows)\b",
            r"work \1 \2 even",
        ),
        (r"^at the same time\b[^.]*\b(?:stripes?|colou?rs?)\b[^.]*", lambda match: f"({match[0]})"),
        (
            rf"\bwork ({_N}) rows (?:on|over) these ({_N}) (sts|stitches)\b",
            r"work over these \2 \3, work \1 rows",
        ),
        (
            rf"^(?:now |then )?(?:work(?:ing)? )?(?:on|over) these (?P<n>(?:{_N} )?(?:sts|stitches))\b\.?,? ?(?:only,? |alone,? )?(?P<verb>(?:k|p|work|cont|go on|carry on))",
            _over_these,
        ),
        (
            rf"^(?P<verb>(?:now )?(?:work|cont(?:inue)?|go on|knit)\b(?: {_N} rows)?(?: in [a-z. ]+?| even| straight)?) (?:on|over) these (?P<n>(?:{_N} )?(?:sts|stitches))\b(?: only| alone)?,?(?= (?:until|till|for) |\.?$)",
            _over_these,
        ),
        (
            r"\b(purl|p) (\d+|one|two|three|four) (?:more|further) (?=rounds?\b|rnds?\b|rows?\b)",
            r"\1 \2 ",
        ),
        (r"\b(go on|continue|keep|keep on|carry on) narrowing\b", r"\1 decreasing"),
        (r"\b(go on|continue|keep|keep on|carry on) widening\b", r"\1 increasing"),
        (r"\bn(\d)\s[-–—]\s(?=\S)", r"N\1: "),
        (r"\b(needles?) (\d)\s[-–—]\s(?=\S)", r"\1 \2: "),
        (
            r"(?<=[:–—-] )((?:k|p|ssk|skpo?|m1|kfb|sl|yo)[^.;:*()\[\]]*?), (twice|(?:\d|two|three|four|five|six) times)(?=[.;]|$)",
            r"(\1) \2",
        ),
        (
            r", (?:and )?leav(?:e|ing) (?:the )?(?:last |next |final )?(?:\d+|one|two|three)(?: sts?| stitch(?:es)?)?(?: unworked| on the needle| behind)?,? (?:and )?turn\b",
            ", turn",
        ),
        (
            r"\b(purl|p) to (?:the )?end of (?:the |these )?(?:\d+ )?(?:heel |flap |sole )?(?:sts|stitches)\b",
            r"\1 to end",
        ),
        (
            r"\b(knit|purl|work) (?:across )?(?:both|all)(?: of)?(?: the| your)?(?: \d| four| three)? needles\b(?! (?:un|for|\d))",
            r"\1 to end",
        ),
        (
            rf"\brib ({_N}) (rounds|rnds|rows),? (?:in )?(k ?\d,? p ?\d)(?=[.;]|$)",
            r"work \3 rib for \1 \2",
        ),
        (
            rf"\b(pick up(?: and k(?:nit)?)?) ({_N}) (?:sts |stitches )?(?:along|down|up|from|at|on) (?:each|both)(?: of the)? (?:side|edge)s?(?: of (?:the )?(?:heel flap|flap|heel))?(?=[.;,]|$| and\b)",
            r"\1 \2 sts along the first side of the flap, \1 \2 sts along the other side of the flap",
        ),
        (r"\b(dec|inc)\. (?=(?:rounds?|rnds?|rows?)\b)", r"\1 "),
        (
            rf"(times|around|end|across|twice|\)|\*)\s[-–—]\s?({_N})(?=\s*(?:\.|$))",
            r"\1 (\2 sts)",
        ),
        (rf"^(.*[a-z)\]*0-9]\.) ({_N})\.?$", r"\1 (\2 sts)"),
        (
            r"(^|[.;] )(\d+|one|two|three|four|five) (rounds?|rnds?|rows?) (?:even|plain|straight)(?=[.;,]|$)",
            r"\1Knit \2 \3",
        ),
        (
            r"\bthen (\d+|one|two|three|four) (?:plain|even) (rounds?|rnds?|rows?)\b",
            r"then knit \1 \2",
        ),
        (r"\bsl (\d) ?tog ?- ?k1 ?- ?p(\d)sso\b", r"sl \1 tog, k1, p\2sso"),
        (
            r"\b(knit|work) the (?:foot|leg|body|hand|tube|sole) (?=for\b|until\b|straight|even|plain)",
            r"\1 ",
        ),
        (
            r"\b(graft),? (\d+) (?:sts )?against (?:the other )?(\d+)(?: sts)?",
            r"\1 \2 sts to \3 sts",
        ),
        (
            r"\b(?:k|knit) to (\d) sts? before (?:each|every) marker, ([^.;*]+?)(?=[.;]|$)",
            r"*k to \1 sts before marker, \2, sm; rep from * to end",
        ),
        (
            r",? (?:knitting|working) the knits? (?:sts )?and (?:purling )?the purls?(?: sts)?(?: as they (?:face you|appear|come|show|present themselves))?",
            "",
        ),
        (  # "rnds 2, 4 and 6: work sts as they appear"
            r"\b(?:work|knit|k|patt)(?: all)?(?: of)?(?: the| your)?(?: (?:sts|stitches))? as (?:they|(?:the )?(?:sts|stitches)) (?:appear|present|come|face|show|lie|look)\b(?: (?:themselves|you|to you|up))?(?=[.;,]|$)",
            "Work in pattern",
        ),
        (
            r"\b(?:knit|k) the (?:knits|knit (?:sts|stitches)) and (?:purl|p) the (?:purls|purl (?:sts|stitches))(?: as they (?:face you|appear|come|show|present themselves))?",
            "Work in pattern",
        ),
        (
            r"^(?:when|once|after) (?:it|you|work|piece|the [a-z]+(?: [a-z]+)?) (?:is|are|measures|reaches|has reached) (?P<far>\d[^,:;]*?),? (?:then )?(?P<verb>(?:work|knit|purl|change|begin|decrease|dec|divide|place)\b|k(?=\d)|\*)",
            _once_measured,
        ),
        (
            rf"\b(knit|purl|work|k|p) (?:a|another|one more|1 more) (?:plain )?(round|rnd|row)\b(?! (?:of|in(?! {A_YARN})|where)\b)",
            r"\1 1 \2",
        ),
        (r"^begin (?=k ?\d|rib\b|garter|st st|moss)", "work "),
        (r"^(?=r\d+(?: (?:and|&) r\d+)? (?:only|as for the [a-z]+|again) until\b)", "Work "),
        (
            rf"\b(fewer|less|more|dec'd|inc'd|decreased|increased), (?:so|leaving|giving|that is|making) ({_N}) (?:sts|stitches)\b",
            r"\1 (\2 sts)",
        ),
        (r"^narrow (?=\d|at\b|in\b|every|the\b|like|again)", "decrease "),
        (r"^widen (?=\d|at\b|in\b|every|the\b|like|again)", "increase "),
        (
            r"\b(\d+|one|two|three|four|five|six|eight|ten) further (?=rounds?\b|rnds?\b|rows?\b)",
            r"\1 more ",
        ),
        (
            rf"(?<!rib )\*\s*([^*]+?)(?<!from)(?<!from )\s*(?:\*|[;,] rep(?:eat)?(?: from \*)?),? (?=(?:for )?{_N} (?:rounds|rnds|rows)\b)",
            r"*\1; rep from * to end, ",
        ),
        (
            r"(?<!rib )(?<!in )(?:\bwork )?\*\s*([^*]+?)(?<!from)(?<!from )\s*(?:\*|[;,] rep(?:eat)?(?: from \*)?)(?: a?round| across| to (?:the )?end(?: of (?:the )?(?:round|rnd|row))?)?,? (until (?=(?:the )?(?:work|piece|rib|ribbing|it|cuff|brim|hem|border|cowl|hat|sock|leg|hand|you)\b[^*;]*\d)|for (?=\d+(?:\.\d+)?(?: ?[(\[][^)\]]*[)\]])? ?(?:cm|mm|\"|in\b|ins\b|inch)))",
            r"*\1; rep from * to end. Repeat this round \2",
        ),
        (  # "work 2 in of *k2, p2; rep from * around"
            r"^(?:work|knit) (\d+(?:\.\d+)?(?: ?[(\[][^)\]]*[)\]])? ?(?:cm|mm|\"|in\b|ins\b|inch(?:es)?)) (?:of|in) (\*[^.:]*?)(?=\.|$)",
            r"\2. Repeat this round for \1",
        ),
        (
            r"\b(\d+|one|a|another|every|each) (?:complete|full|whole|entire) (?=(?:rounds?|rnds?|rows?)\b)",
            r"\1 ",
        ),
        (  # "knit to the end of the round and then 1 round over all 56 sts"
            r"\b((?:knit|k|work) (?:on )?to (?:the )?end(?: of (?:the )?(?:round|rnd))?),? (?:and |then )+(?:knit |k |work )?(\d+|one|a) (?:more )?(rounds?|rnds?)(?: more)?(?=[ ,.;]|$)",
            r"\1; knit \2 \3",
        ),
        (
            r",? (?:always )?(?:knitting|working|purling) (?:each|every|any|all|both|the(?: last| first)?) (?:ds|double (?:st|sts|stitch|stitches)|twin (?:st|sts|stitch|stitches)) as (?:one|1|a single)(?: st(?:itch)?)?(?: (?:in|on) the first (?:round|rnd|row))?(?=[.,;]|$)",
            "",
        ),
        (
            r"\b(knit|k|work) all(?: of)?(?: the| these)? \d+(?: ?[(\[][^)\]]*[)\]])? (?:sts|stitches) (?=(?:on |in )?(?:every|each) (?:round|rnd)\b)",
            r"\1 ",
        ),
        (
            r"\b(knit|k|work) across needle (\d) (?:again|once more|one more time)\b",
            r"\1 across needle \2",
        ),
        (  # a row of a chart in words: "Row 1: 4 MC, 1 CC, 3 MC"
            r"^((?:row|rnd|round) \d+): ((?:\d+ (?:MC|CC\d?|[A-E])\b(?:, (?=\d)|\.?$))+)\.?$",
            _chart_row,
        ),
        (r"\bset up (?=\d+ (?:sts|stitches))", "cast on "),
        (r"(^|[:;,.] ?|\bthen )(?:pattern|patt) (?=across|over|to\b|\d)", r"\1work "),
        (
            r"\brib (?=(?:the |next |first |these )*\d+ ?(?:[(\[][^)\]]*[)\]])? ?(?:\w+ )?(?:sts|stitches|and\b|,))",
            "work ",
        ),
        (r"\bto end of both needles\b", "to end"),
        (
            r"^(?:put|place|slip|arrange|divide)\b[^.;]* on one needle and [^.;]* on (?:another|the other|a second)(?: needle)?,? (?:and )?(?=graft)",
            "",
        ),
        (
            r"\b(on|onto|with) ((?:two |three |four )?)\d(?:\.\d+)? ?mm (?=(?:needles|dpns),)",
            r"\1 \2",
        ),
        (
            r"(^|\. )on the last (?:round|rnd|row),? (?:stop|end|finish)(?:ping)? (?:at|after) (?:the )?(?:end of )?needle 1\b",
            r"\1Knit across needle 1",
        ),
        (
            r"\b((?:knit|k|work|purl|p|rib|patt)\b[^.;*]*\d[^.;*]*?),? with (?:a|another|the|your) (?:second|2nd|third|3rd|fourth|4th|new|free|spare|next|empty|other) needle(?=[.;,])",
            r"\1",
        ),
        (
            r"((?:: |^)(?:k|knit|p|purl) ?\d+(?: ?[(\[][^)\]]*[)\]])?(?: sts)?)[.;] (?:with|on|onto|using) (?:a|another|the|your) (?:(?:second|2nd|new|free|spare|next|empty|other) )?needle,? ((?:k|knit|p|purl) the (?:remaining|rem|other|rest))",
            r"\1, \2",
        ),
        (
            r"(^|\. )(?:on|with|using) (?:a|another|the) (?:2nd|second|3rd|third|4th|fourth|free|new|spare) needle,? pick\b",
            r"\1Pick",
        ),
        (  # "work rnd 2 once more, but stop when needle 1 has been worked"
            r"(^|[.)] )(?:then )?(?:work|rep|repeat|knit) (?:rnd|round) \d+ (?:once more|again|once),? (?:and |but )*(?:stop\w*|end\w*|finish\w*|only) (?:when|after|at|to|as far as)(?: the)?(?: end of)?(?: working| you have worked)? needle 1\b(?: has been worked| is (?:done|worked)| only)?",
            r"\1Knit across needle 1",
        ),
        (
            r"\b(work|knit|k) (?:across )?needle (\d) in (?:rib|patt\w*|st st|lace)(?: as (?:before|set|est\w*))?",
            r"\1 across needle \2",
        ),
        (r"[;,]? (?:and )?then pick up the wraps of [^.;,]*(?=[.;]|$)", ""),
        (
            r",? (?:working|knitting|picking up) the wraps? of (?:the )?last (?:st|stitch)\b",
            " with wraps",
        ),
        (
            r"\b(?:work|knit|k) across needle \d( with wraps)?[;,] (?:and )?(?:then )?(?:work|knit|k) across needle \d(?=[.;,]|$)",
            r"k to end\1; k to end",
        ),
        (
            r"(^|\. )(?:finish|end|stop)(?:ing)? (?:after working|having (?:just )?worked) (?:across )?(?:the instep|instep|n ?1|needle 1)\b",
            r"\1Knit across needle 1",
        ),
        (r"^\*\*? (?=[A-Z][a-z]+ [^*]*$)", ""),
        (r" \*\*$", ""),
        (r"\bchange to \*?(k ?\d,? p ?\d)\*?,? and work (?=\d)", r"work in \1 rib for "),
        (r"\b(?:pick|take|pull) out (?:the )?(waste|scrap) yarn\b", r"take out the \1 yarn"),
        (r"\b(k|p|knit|purl) (?:all (?:of )?)?(?:the |these )(?:sts|stitches)(?=,)", r"\1 to end"),
        (
            r"\b(?:moss|seed)(?: st| stitch)? (\d{1,2})(?! ?(?:[(\[]|rows|rounds|rnds|cm|in\b))",
            _moss,
        ),
        (r"\bk(?:nit)? all of these (?:sts|stitches)\b", "k to end"),
        (  # "repeat rows 5 and 6, lifting both wraps where there are two, until …"
            r"\b((?:rep|repeat|work) (?:the |these |last )*(?:\d |two )?(?:rows?|rnds?|rounds?)\b[^.;,]*),? (?:lifting|picking up|working|knitting|taking) (?:both |the |all |two |up )*wraps?\b[^,;.]*(?=,? until\b)",
            r"\1",
        ),
        (r",? lifting (?:both |the |all |each |every |last |two )*wraps?\b[^,;.]*", " with wraps"),
        (r"[;,] (?:and )?lift (?:both |the |all |last |two )*wraps? (?:when|as) you [^;.]*", ""),
        (
            r"\b((?:cast|bind) off \d+(?: ?[(\[][^)\]]*[)\]])? (?:sts|stitches)) in (?:rib|patt\w*|moss)(?=,)",
            r"\1",
        ),
        (r"\b(work|knit|k) (them|these) over again\b", r"\1 \2 again"),
        (
            r",? and with (?:the )?(?:[a-z]+ )?yarn,? (?=(?:knit|work|k) (?:the same|them|these)\b)",
            "; ",
        ),
        (
            r"\bwith (?:the )?(?:real|main(?! yarn, (?:[kp]\d|(?:k|p|knit|purl|work|rep)\b|[*(\[]))|sock|project) yarn\b",
            "with the working yarn",
        ),
        (r"(\bcorner), after the \d+(?=\.|$)", r"\1"),
        (r"\b(g)raft them(?: together)?\b", r"\1raft the sts together"),
        (
            r"(^|[.)] )slip the (?:sts|stitches) of needles? \d(?: and (?:needle )?\d)? on ?to (?:one|a single) needle,? and [^.;]* on ?to (?:another|a second|the other)(?: one| needle)?\b",
            r"\1Divide the sts on two needles",
        ),
        (r"\bpick up and (?:twist|knit tbl|k tbl) (?=\d)", "pick up and knit "),
        (
            r"(?<=[:.;] )(instep|sole)(?: sts| stitches)? in (?:patt\w*|mesh|lace|rib|broken rib|moss|moss st|seed st|st st)[.;,] (?=(?:sole|instep)\b)",
            r"\1: knit; ",
        ),
        (
            r"^(?:then )?alternate (?:one|1|a) plain (round|rnd|row) and (?:one|1|an?) (inc|dec)(?:rease)? (?:round|rnd|row) (?=\d)",
            r"Work the \2 \1 every other \1 ",
        ),
        (
            r"(^|\. )work (?:across )?the instep once more(?: in [a-z ]+)?(?=\.)",
            r"\1Knit across needle 1",
        ),
        (
            r"\b(k|knit) (?:across )?the (?:sts|stitches) of (?:the )?(?:first|1st) needle on ?to (?:the )?(?:third|3rd|fourth|4th|last)(?: needle)?\b",
            r"\1 across needle 1",
        ),
        (r"\band, with the same needle, (?=pick|knit|k )", "and "),
        (
            r"(^|\. )On (?:a|another|the) (?:2nd |second |3rd |third )?needle,? (?:knit|k) (?=the)",
            r"\1Knit ",
        ),
        (r",? using (?:two|2|both|three|3) needles(?=[.,;])", ""),
        (
            r"\bwork in (?:the )?(?:patt(?:ern)?|rib|lace|ribbing) (?:over|across|on) (?=(?:the |next |first |these )*\d)",
            "work across ",
        ),
        (r"^(?:return|go back) to [a-z ]+ and (?=(?:work|rep|repeat|knit) r)", ""),
        (
            r"\b(k|knit) (?:across )?the (?:sts|stitches) of (?:the )?(?:first|1st) needle (?:again|once more|once again)(?:,? on ?to [^.;,]*)?",
            r"\1 across needle 1",
        ),
        (
            r"\b(k|knit) (?:across )?the (?:first|1st) needle (?:again|once more|once again)(?:,? on ?to [^.;,]*)?",
            r"\1 across needle 1",
        ),
        (r"\bk(?:nit)?\.? up (?=\d)", "pick up and knit "),
        (r"\brib: (\d) knit, (\d) purl,?", r"work in k\1, p\2 rib"),
        (r"\b(knit|k|work) the (first|1st) needle\b", r"\1 across needle 1"),
        (r"\b(knit|k|work) the (second|2nd) needle\b", r"\1 across needle 2"),
        (r"\b(pull|take|pick|draw) the (waste|scrap) yarn out\b", r"take out the \2 yarn"),
        (r":\s?[—–-]+\s*$", ":"),
        (r"\balt\.(?= (?:rounds?|rnds?|rows?)\b)", "alt"),
        (r"\b(k|p)(\d+) (?=rows|rounds|rnds)", r"\1 \2 "),
        (r"\bndls?\.? ?(\d)", r"needle \1"),
        (r"\bndl(s?)\b", r"needle\1"),
        (r"\b(?:knit|work)(?: in)?(?: a)? rib,? (\d) knit,? (\d) purl,?", r"work in k\1, p\2 rib"),
        (r"\btake (?:the |your )?(waste|scrap) yarn out\b", r"take out the \1 yarn"),
        (r"\btake up (?=(?:and knit )?\d)", "pick up "),
        (
            r"\bbef\.?(?= (?:the|next|first|second|last|marker|m|end|gap|cent|(?-i:[A-H]))\b)",
            "before",
        ),
        (  # "lift 3 sts from the edge", "raise 20 loops along one side", "draw 3 loops through the edge"
            rf"\b(?P<p>lift|raise|draw)(?: up)?(?P<knit> and k(?:nit)?)? (?:another |a further |the next )?(?P<n>{COUNT})(?: more| extra| new)?(?: (?:sts|stitches|st|stitch|loops?))? (?=(?:through|from|out of|in|into|along|down|up|across|at|over|between)\b(?! (?:the |a |your |its )?(?:holders?|stitch holder|thread|pin|waste|scrap|spare|cord|lifeline|string|yarn|needles?|cable|first|next|last|others?|left|right|\d))|(?:on|onto) (?:the |your )?(?:\w+ )?(?:needle|pin|dpn)(?: \d)? (?:along|down|up|from|across)\b)",
            lambda match: (
                f"{'P' if match['p'][0].isupper() else 'p'}ick up{match['knit'] or ''} {match['n']} sts "
            ),
        ),
        (r"\b(knit|work|purl) them once more\b", r"\1 them again"),
        (r"\b(?:thru|throughout)\b(?= (?:st|loop|back|all))", "through"),
        (
            r"\b(?:to and fro|backwards? and forwards?|back-and-forth|back and forwards?)\b",
            "back and forth",
        ),
        (r"\b(work(?:ing)?) (?:in rows|flat) (?=(?:on|over|across) )", r"\1 back and forth "),
        (r"\bmeas\b\.?(?= |$)", "measures"),
        (r"\bpu(?= ?(?:&|and) k| \d)", "pick up"),
        (
            rf"\b(?:the )?((?:first|next|last) {_N} (?:sts|stitches)) (?:are|will be) (?:now )?(?:worked|knit(?:ted)?) (?:back and forth|in rows|flat)\b",
            r"work back and forth over the \1",
        ),
        (
            r"\b((?:like this|(?:this|the same) (?:way|manner|fashion)|thus|as set|as established|as before),?) (?:up )?(?:to and including|through|to the end of|to end of|as far as) (row|rnd|round) (?=\d)",
            r"\1 until \2 ",
        ),
        (r"(^|[.;] )sew off (?=(?:all|the|loosely|in|with)\b)", r"\1Bind off "),
        (r"\bto (\d+) sts before (?:the )?end of (?:the )?palm\b", r"to last \1 sts of palm"),
        (  # "*k1, ssk, k to last 3 sts of palm, k2tog, k1; rep from * over the sts of the back"
            r"(\*[^*;]*?\bto last \d+)(?: (?:sts|stitches) of (?:the )?(?:palm|front)| (?:palm|front) (?:sts|stitches))\b([^*;]*)[;,] rep(?:eat)? from \* (?:once more |again )?(?:over|on|for|across|along) (?:the )?(?:(?:sts|stitches) of (?:the )?)?(?:back|other half|other side)(?: (?:sts|stitches))?\b",
            r"\1 sts of this half\2; rep from * once more",
        ),
        (  # a strand is worked together with the next stitch
            r"\b((k|p)(?:nit|url)?\b (?:to (?:the )?(?:next )?gap))(?:,| and) (?:then )?clos(?:e|ing) (?:it|(?:the|this) gap)\b",
            r"\1, \g<2>1",
        ),
        (
            r"\b(work|knit|k) (?:across )?(?:the )?(needle \d|instep)(?: needle)?(?: sts| stitches)?(?: in [a-z]+(?: as set| as established)?)? (?:once more|again|one more time|one last time)(?: in [a-z]+)?(?=[.;,]|$)",
            r"\1 across \2",
        ),
        (  # "repeat rows 1 and 2 until all sts are worked. End with row 2."
            r"\b((?:rep|repeat|work) (?:rows?|rnds?|rounds?|these)\b[^.;*]*\buntil\b[^.;*]*)[.;] (?:end|finish)(?:ing)? (with|on|after|by) (?=(?:a |an |the )?(?:row|rnd|round|ws|rs|wrong|right|\d+(?:st|nd|rd|th)|knit|purl))",
            r"\1, ending \2 ",
        ),
        (  # "knit 1 round, placing a marker after 20 sts"
            rf"\b(?:knit|k) (?:1|one|a) (?:round|rnd),? (?:and )?(?:placing|setting|putting|place|put) (?:a |1 |one |another |the )?(?:second )?marker (?:after|behind) (?:the first )?({_N}) (?:sts?|stitch(?:es)?)",
            r"k\1, place marker, k to end",
        ),
        (  # "Set-up: K7. With needle 1, k the other 7": the round goes on over sentences
            r"^(?:next|set-?up|foundation|gusset|joining|first|pick-?up)(?: set-?up)?(?: (?:rnd|round|row))?(?: ?\((?:rs|ws)\))?: (?=(?:[^.:]*\. )?[^.:*]*\. (?:then )?(?:with|using|on) (?:the |an? )?(?:needles?|(?:first|second|third|fourth|1st|2nd|3rd|4th|free|new|spare|empty) needle)\b)",
            "",
        ),
        (  # "until all sts are used; in size S the last two rows end with the decrease"
            r"[,;] (?:(?:in|for|with) (?:the )?(?:(?:larger|smaller|last|first|other) )?sizes?\b[^.;:*]*?\b)?(?:the )?last (?:two |2 )?rows? (?:will )?(?:ends?|finish(?:es)?|stops?)\b[^.;*]*",
            " with the last rows ending with the decrease",
        ),
        (
            rf",? (?:that is|which is|which makes|i\.e\.,?|making|giving|or) {_N} stripes (?:of|in) (?:each|every) colou?r",
            "",
        ),
        (  # "knit 4 sts to reach the side of the sock", "k4, so that the yarn is at the side"
            rf"\b((?:k|knit|p|purl) ?{_N})(?: more)?( sts?| stitch(?:es)?)?,? (?:to (?:reach|get to|come to|arrive at|finish at|end at|(?:bring|take) (?:you|the yarn|it) to)|to(?= the (?:side|edge|corner)\b)|so (?:that )?(?:you (?:are|end|come|finish)|(?:the )?(?:yarn|work|it|needle) (?:is|hangs|ends))(?: now)? (?:at|out at|to)) (?:the |one )?(?:first |next |other |left |right )?(?:side|edge|corner|start|beginning|middle|centre|center|end)\b[^.;,]*",
            r"\1\2",
        ),
    )
)
_NEEDLES_NAMED = WordForm(  # "1st needle:", "Second and third needles:", "on a 2nd needle,"
    rf"\b(?:(?:on|with|using) )?(?:(?:the|a) )?(?P<a>{_NTH})(?:(?:,? (?:and|&) |, )(?:the )?(?P<b>{_NTH}))?(?:(?:,? and |, )(?:the )?(?P<c>{_NTH}))? needles?(?: ?\([a-z ]+\))?\s*:\s*(?=\S)",
)
_LAST_NEEDLE = WordForm(r"\b(?:(?:on|with) )?(?:the )?last needle\s*:\s*(?=\S)")
_NEXT_NEEDLE = WordForm(  # "on a 2nd needle, rib the 27 instep sts"
    rf"(?<=[,;:] )(?:and |then )?(?:on|onto|with|using) (?:a|the|another|your) (?:(?:{_NTH}|new|free|spare|same|next) )?needle,? (?=(?:rib|patt|pattern|work|k|knit|p|purl|pick)\b)",
)


def _needles_by_number(match: re.Match[str]) -> str:
    found = [_NTHS[match[key].lower()] for key in "abc" if match[key]]
    return f"needle{'s' * (len(found) > 1)} {' and '.join(found)}: "


_BY_NUMBER = WordForm(r"^(\d{1,2}): ?(?=\*? ?\d+ ?[A-E]\b|all [A-E]\b)", re.NOFLAG)  # "1: *1B, 5A*"
_ALL_OF = WordForm(r"(?<=: )all [A-E]\b", re.NOFLAG)
_SO_MANY_OF = WordForm(r"\b(\d+) ?([A-E])\b", re.NOFLAG)


def spelt_out(said: MappedText) -> MappedText:
    """Return a line with the signs that a hurried writer leaves out: "r1 k31, turn"."""
    said = _OTHER_WORDS.put_in(said_usually(with_usual_parts(with_both_halves(said))))
    if _BY_NUMBER.match(said.text):
        said = said.sub(_BY_NUMBER, r"Rnd \1: ").sub(_ALL_OF, "knit").sub(_SO_MANY_OF, r"k\1 \2")
    if "eedle" in said.text:
        said = said.sub(_NEEDLES_NAMED, _needles_by_number).sub(_NEXT_NEEDLE, "")
        if re.search(r"\bneedle 1:", said.text, re.IGNORECASE):
            four = re.search(r"\bneedles? (?:2 and )?3:", said.text, re.IGNORECASE)
            said = said.sub(_LAST_NEEDLE, f"needle {4 if four else 3}: ")
    if said.text[:1] not in "rR":
        return said
    return said.sub(_LABEL, r"\1 \2: ").sub(_PAIR, r"\1 \2 and \3")
