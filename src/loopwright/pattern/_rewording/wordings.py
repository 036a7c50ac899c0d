# ruff: noqa: E501 - a wording of the table stands on one line, long as it may be
"""The table of wordings: how people say things, and the words of ours that say the same.

A row holds a regular expression (any case), what is put in its place, and an example. Rows are
tried in order, and only where a sentence could not be read as it stands. They are data: more of
them can be given to :func:`loopwright.pattern.read`. Wordings are common practice of the trade.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

import attrs

from loopwright.border import guarded
from loopwright.errors import ArgumentError
from loopwright.pattern._rewording.large_numbers import LARGE_NUMBER, large_number
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Rewordings
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.usual_words import in_usual_words
from loopwright.pattern._words import NUMBER_WORDS

__all__ = [
    "A_YARN",
    "COLOUR",
    "COUNT",
    "STS",
    "USUAL",
    "WORDINGS",
    "OwnWording",
    "rewordings",
    "tidied",
]

NUMBER = r"\d+(?:\.\d+)?"
COUNT = rf"{NUMBER}(?:\s*[(\[]\s*(?:{NUMBER}|[-–—])(?:\s*[,:;]\s*(?:{NUMBER}|[-–—]))*\s*[)\]])?"
STS = r"(?:stitches|stitch|sts|st)\b\.?"
COLOUR = r"(?:MC|CC(?: ?\d)?|C\d|(?:the )?main (?:colou?r|yarn|wool|shade)|(?:the )?contrast(?:ing)? (?:colou?r|shade)|(?:yarn|colou?r) [A-E]|(?:the )?(?:dark|light|white|cream|natural|black|red|blue|green|grey|gray|brown|yellow|navy|teal|pink|orange|purple|charcoal|pale|bright)(?: (?:yarn|wool|colou?r))?)"
A_YARN = (
    r"(?:the |yarn )?(?:mc|cc(?: ?\d)?|[a-e]|colou?r|main|contrast\w*)\b"  # behind "in" or "with"
)
_CRS = r"(?:rounds?|rnds?|rows?)"
_OF_PLACE = (  # "instep in patt", "work the 28 instep sts as set to next marker"
    rf"(?<!\bto\s)(?<!the\s)(?<!\bof\s)(?<!your\s)(?:(?:work|keep(?:ing)?|knit|patt(?:ern)?|k|rib|cont(?:inue)?) )?(?:(?:across|over|along) )?(?:the |your )?(?:{COUNT} )?(?:instep|sole|heel|palm|back|front)(?: {STS})?(?: (?:even|plain|straight|(?:in|as) [a-z ]{{2,24}}?))?(?: to (?:the )?(?:next |second |2nd )?m(?:arker)?)?"
)
_SHOWN = r"(?:the )?(?:est(?:ablished)?\.? )?(?:(?!the\b|a\b|an\b|and\b|to\b)[a-z]+ ){0,2}(?:pattern|patt|rib|ribbing|lace|mesh|st st|stockinette|(?:(?!next\b|last\b|first\b|each\b|every\b|same\b|the\b)[a-z]+ )(?:stitch|st)|established)\b(?: as (?:set|before|est\w*|you have been(?: doing)?|on the (?:leg|foot|cuff|hand)))?"  # that the stitches show


@guarded
@attrs.frozen
class OwnWording:
    r"""One way of saying something.

    Parameters
    ----------
    said : str
        A regular expression, matched in any case at the beginning of a word; a space in it
        matches any white space.
    means : str
        What stands for it, in words that the language knows; ``\1`` is the first group.
    example : str
        Words that it matches.

    Raises
    ------
    ArgumentError
        When a text is read: ``said`` is no regular expression, it doesn't match ``example``, or
        ``means`` names a group that it hasn't got.

    Examples
    --------
    >>> from loopwright.pattern import WORDINGS, OwnWording, read
    >>> ours = OwnWording("widen", "m1l", "widen")
    >>> step = read("Rnd 1: K2, widen, k to end.", wordings=(*WORDINGS, ours)).steps[0]
    >>> step.items[1].stitch, bool(ours.compiled.search("Widen twice"))
    ('m1l', True)
    """

    said: str
    means: str
    example: str

    @property
    def compiled(self) -> re.Pattern[str]:
        """The expression, ready for use."""
        return _compiled(self.said)


_COMPILED: dict[str, re.Pattern[str]] = {}


def _compiled(said: str) -> re.Pattern[str]:
    found = _COMPILED.get(said)
    if found is None:
        first = r"(?<![a-z0-9])" if said[:1].isalnum() or said[:2] in ("(?", r"\d") else ""
        found = _COMPILED[said] = re.compile(
            first + said.replace(" ?", r"\s*").replace(" ", r"\s+"), re.IGNORECASE
        )
    return found


_W = OwnWording
_ROWS: tuple[OwnWording, ...] = (
    _W(r"((?:(?:k|p|knit|purl) ?\d+(?:,? and|,)? )+(?:k|p|knit|purl) ?\d+)(?:,? ?(?:and )(?:so on|so forth),?|,? etc\.?,?) (?:all )?(?:the way |right )?(?:a?round\b|across\b|(?:to|until you (?:reach|come to|get to|are at)) (?:the )?(?:very )?(?:end(?: of (?:the |this )?(?:round|rnd|row))?\b|(?:special |end-of-round |beginning |start |round |bor )?marker(?=[.;]|$| \()))", r"*\1; rep from * to end", "knit 2, purl 2, and so on to the marker"),
    _W(r"((?:(?:k|p|knit|purl) ?\d+(?:,? and|,)? )+(?:k|p|knit|purl) ?\d+),? ?(?:and )?(?:then )?(?:rep(?:eat)?(?:ing)?|keep (?:going|on)|carry on|go(?:ing)? on|so on|continu(?:e|ing))(?: this| these| like (?:this|that)| in this way| so)?,? (?:all )?(?:the way )?(?=to (?:the )?(?:very )?end|across|around)", r"*\1; rep from * ", "knit 2, purl 2, repeat to the end"),
    # needles
    _W(r"n(\d)(?=\s*[:.])", r"needle \1", "N1:"),
    _W(r"needle (\d) and needle (\d)", r"needles \1 and \2", "needle 1 and needle 3"),
    _W(r"(knit|k|work) (?:across )?(?:the )?(?:sts (?:of|on) )?needles 2 and 3(?=[,.;]|$)", r"\1 to end", "knit needles 2 and 3"),
    _W(r"(?:on )?(?:the )?(\d)(?:st|nd|rd|th) and (\d)(?:st|nd|rd|th) needles?[:,]? ?(?=(?:k|p|ssk|sl|work|knit|purl)(?:\b|\d))", r"needles \1 and \2: ", "on the 1st and 3rd needle knit"),
    _W(r"(?:on|with) (?:the )?(?:first|1st) needle,? ", "needle 1: ", "On first needle, "),
    _W(r"(?:on|with) (?:the )?(?:second|2nd) needle,? ", "needle 2: ", "on second needle "),
    _W(r"(?:on|with) (?:the )?(?:third|3rd|last) needle,? ", "needle 3: ", "on third needle, "),
    _W(r"(?:on|with) (?:the )?(?:fourth|4th) needle,? ", "needle 4: ", "on fourth needle, "),
    _W(r"(?:on|for|over|along) (?:each|every|both)(?: of (?:the|your|these))?(?: \d| two| three| four)? (?:needles?|dpns?|tips?)[,:]? ?(?=(?:k|p|ssk|skpo?|sl|m1\w?|kfb|yo|work|knit|purl)(?:\b|\d))", "each needle: ", "on each needle k1, ssk"),
    _W(rf"(needles \d and \d: ?[kp] ?{COUNT})(?: {STS})? each\b", r"\1", "needles 2 and 3: k8 each"),
    _W(r"(^|[:;.,] ?)(?:on )?needle (\d),(?= ?(?:(?:k|p|ssk|work|knit|purl)\b|[kp]\d))", r"\1needle \2:", "on needle 1, k"),
    _W(r"(?:on )?(?:the )?(\d)(?:st|nd|rd|th) needle ?[,:]? ?(?=k|p|ssk|sl|work)", r"needle \1: ", "1st needle, K to last 3 sts"),
    _W(r"[\])] on (?:both|each of (?:the )?(?:2|two)|each|the two) (?:needles?|halves|sides)", "] twice", "] on both needles"),
    _W(r"(?:rep(?:eat)? from \*) (?:on|for|across|over) (?:the )?(?:(?:second|other|next|2nd|remaining|back|rear|far|bottom|lower|sole) (?:needle|half|side|tip)|needle 2)", "rep from * once more", "repeat from * on second needle"),
    _W(r"\.\s+(?=needles? \d)", "; ", ". Needle 2:"),
    _W(r"\s*[\[(]needle \d[\])]", "", "[Needle 1]"),
    _W(r"(?<=:) ?k(?= ?(?:[.;]|$))", " knit", "Needle 2: K"),
    _W(r"(?<=:) ?p(?= ?(?:[.;]|$))", " purl", "Needle 2: P"),
    _W(r"(?<=:) ?(?:work (?:in )?|in )?(?:patt(?:ern)?|rib|broken rib|mesh|lace|moss|seed|eyelets|st st|stocking stitch|stockinette|even|plain|straight)(?: as (?:set|est\w*|established))?(?= ?(?:[.;,]|$))", " knit", "needle 1: patt"),
    _W(r"(?:lace|patt(?:ern)?|rib|st st) over (?:the )?(?:next )?(\d+)(?: sts)?(?=[;,.])", r"k \1", "lace over 31 sts;"),
    # numbers
    _W(r"([-–—]|[(\[])?\bone stitch\b", r"\g<1>1 st", "one stitch"),
    _W(r"\.\s+(?=rep(?:eat)?\s+(?:from|between)\s+\*)", "; ", ". Repeat from *"),
    # decreases and increases in full
    _W(r"(?:sl(?:ip)? ?(?:1|one)(?: st(?:itch)?)?(?: (?:kwise|knitwise|pwise|purlwise))?,? ?(?:and )?(?:k(?:nit)? ?(?:2|two) ?tog(?:ether)?),? ?(?:and )?(?:psso|p\.s\.s\.o\.|(?:pass|draw|lift|pull|bring|take|slip) (?:(?:the|it|that|this|first|sl|slip|slipped|taken-off|other|st|stitch|one) )*(?:back )?over(?: (?:it|that|this|the (?:(?:knit|knitted|other|last|second|first|next|new) )*(?:one|st|stitch)))?(?![a-z ]* \d)))", "sk2p", "sl 1, k2tog, psso"),
    _W(r"(?:sl(?:ip)? ?(?:2|two)(?: sts| stitches)?(?: tog(?:ether)?)?(?: (?:as if to k2tog|as if to knit|kwise|knitwise))?(?: tog(?:ether)?)?,? ?(?:and )?k(?:nit)? ?(?:1|one),? ?(?:and )?(?:p2sso|psso|pass (?:the )?(?:2 |two )?(?:sl(?:ip)?(?:ped)? )(?:sts|stitches) over))", "cdd", "sl 2 as if to k2tog, k1, p2sso"),
    _W(r"(?:(?:sl(?:ip)?|take) ?(?:1|one)(?: st(?:itch)?)?(?: off)?(?: (?:kwise|knitwise|pwise|purlwise|as if to knit))?,? ?(?:and )?k(?:nit)? ?(?:1|one)(?: st(?:itch)?)?,? ?(?:and )?(?:psso|p\.s\.s\.o\.|(?:pass|draw|lift|pull|bring|take|slip) (?:(?:the|it|that|this|first|sl|slip|slipped|taken-off|other|st|stitch|one) )*(?:back )?over(?: (?:it|that|this|the (?:(?:knit|knitted|other|last|second|first|next|new) )*(?:one|st|stitch)))?(?![a-z ]* \d)))", "skp", "sl1 k1 psso"),
    _W(r"slip[, -]+slip[, -]+knit(?: (?:the 2 slipped sts |them )?together)?", "ssk", "slip, slip, knit"),
    _W(r"slip,? slip,? purl", "ssp", "slip, slip, purl"),
    _W(r"(k|p)(?:nit|url)? (?:it|them|(?:the )?(?:next |first |last )?(?:ds|double st(?:itch)?|twin st(?:itch)?)) (?:together )?as (?:one|1|a single)(?: st(?:itch)?)?", r"\g<1>1 with wraps", "k it as one"),
    _W(r"(k|p)(?:nit|url)? ?(?:the )?(?:next )?(?:2|two) (?:sts |stitches )?tog(?:ether)?\b\.?", r"\g<1>2tog", "knit 2 together"),
    _W(r"(k|p)(?:nit|url)? ?(?:the )?(?:next )?(?:3|three) (?:sts |stitches )?tog(?:ether)?\b\.?", r"\g<1>3tog", "purl 3 tog"),
    _W(r"(k2tog|p2tog|k3tog)[- ]?(?:tbl|through (?:the )?back (?:of (?:the )?)?(?:loops?|legs?))", r"\1 tbl", "k2togtbl"),
    _W(r"(?:make (?:1|one)|m ?1|inc(?:rease)? (?:1|one)(?: st(?:itch)?)?) (?:st(?:itch)? )?left\b|m1-l\b", "m1l", "make 1 left"),
    _W(r"(?:make (?:1|one)|m ?1|inc(?:rease)? (?:1|one)(?: st(?:itch)?)?) (?:st(?:itch)? )?right\b|m1-r\b", "m1r", "make 1 right"),
    _W(r"make (?:1|one)(?: st(?:itch)?)?(?! twin| double)\b|m 1\b|m1k\b", "m1", "make one"),
    _W(r"m1 ?p(?:w|url(?:wise)?)?\b", "m1lp", "M1P"),
    _W(r"inc(?:rease)? (?:1|one)(?: st(?:itch)?)? (?:in|into) (?:the )?(?:next|first|last|foll(?:owing)?) st(?:itch)?|inc(?:rease)? (?:in|into) (?:the )?(?:next|first|last|foll(?:owing)?) st(?:itch)?|(?:k|knit) (?:into|in) (?:the )?front and (?:the )?back(?: of (?:the )?(?:next )?st(?:itch)?)?|k1f&b|k1fb|kfab", "kfb", "inc in next st"),
    _W(r"(?:inc(?:rease)? (?:1|one)|kfb|k ?f ?& ?b) (?:st )?(?:in|into) each of (?:the )?(?:next )?(\d|two|three|four) (?:sts|stitches)", r"[kfb] \1 times", "inc 1 in each of next 2 sts"),
    _W(r"(?:k|knit) (?:into|in) (?:the )?front,? (?:and )?back and front(?: of (?:the )?(?:next )?st(?:itch)?)?", "kfb, m1", "k into front, back and front of next st"),
    _W(r"yarn[- ]?over|y/o|yarn (?:forward|round needle|fwd)|y2rn|yf\b", "yo", "yarn over"),
    _W(r"k(\d*) ?tbl|k(\d+)b\b", r"k\1\2 tbl", "k1tbl"),
    _W(r"p(\d*) ?tbl", r"p\1 tbl", "p1tbl"),
    _W(r"(k|p) (\d+) through (?:the )?back (?:of (?:the )?)?(?:loops?|legs?)", r"\1\2 tbl", "k 1 through back loop"),
    _W(r"(?:k|knit|work) (?:a|1|one) (?:round|rnd|row) where (?:all )?(?:the )?sts are (?:knit(?:ted)?|worked) (?:tog(?:ether)?|2) (?:2|two) (?:by|and) (?:2|two)|(?:k|knit) all (?:the )?(?:sts|stitches) (?:tog(?:ether)? )?(?:2|two) (?:by|and) (?:2|two)(?: together)?", "next rnd: *k2tog; rep from * to end", "K 1 round where all sts are knitted tog 2 by 2"),
    _W(r"(kfb|k2tog|ssk|p2tog|m1|yo) (?:in|into|on) (?:every|each) st(?:itch)?(?: (?:to end|around|across|of (?:the )?(?:round|rnd|row)))?", r"*\1; rep from * to end", "kfb in every st"),
    # slips
    _W(r"sl(?:ip)? (?:the )?(?:first|next) st(?:itch)?\b", "sl 1", "slip first st"),
    _W(r"(sl(?:ip)? ?\d+)(?: st(?:itche?)?s?)? ?(?:pw\b|p-wise|purl-wise|purl ways?|purlways|as if to purl|as to purl)", r"\1 pwise", "sl 1 as if to purl"),
    _W(r"(sl(?:ip)? ?\d+)(?: st(?:itche?)?s?)? ?(?:kw\b|k-wise|knit-wise|knitways|as if to knit|as to knit)", r"\1 kwise", "sl 1 as if to knit"),
    _W(r"(sl(?:ip)? ?\d+) (?:st(?:itche?)?s?) (?=pwise|purlwise|kwise|knitwise|wy|with yarn)", r"\1 ", "slip 1 st purlwise"),
    _W(r"sl(\d+)[- ]?p(?:w(?:ise)?)?\b", r"sl \1 pwise", "sl1p"),
    _W(r"sl(\d+)[- ]?k(?:w(?:ise)?)?\b(?!1|2)", r"sl \1 kwise", "sl1k"),
    _W(r"with (?:the )?(?:yarn|wool) (?:held )?(?:in|at|to) (?:the )?back(?: of (?:the )?work)?", "wyib", "with yarn held in back"),
    _W(r"with (?:the )?(?:yarn|wool) (?:held )?(?:in|at|to) (?:the )?front(?: of (?:the )?work)?", "wyif", "with yarn at front"),
    _W(r"wyab\b|ytb\b", "wyib", "wyab"),
    # turning and short rows
    _W(r"w&t (?:the )?(?:next |foll\w* )?st(?:itch)?\b(?: after (?:that|it))?", "w&t", "w&t the st after that"),
    _W(r"(?:wrap (?:and|&) turn|wrap (?:the )?(?:next|foll(?:owing)?|last) st(?:itch)?(?:\s*\([^)]*\))?,? ?(?:(?:and|&|then) )?turn|w ?\+ ?t|w/t|wrap(?: (?:1|one|(?:the )?next|it))?(?: st(?:itch)?)?,?(?: and| &)? turn)(?: \(w&t\))?", "w&t", "wrap next st and turn"),
    _W(r"(?:purl|p) (?:it|them|the st(?:itch)?|this st(?:itch)?)(?: tog(?:ether)?)? with (?:its|the|both|both its|their) wraps?", "p1 with wraps", "purl it together with its wrap"),
    _W(r"(?:knit|k|work) (?:it|them|the st(?:itch)?|this st(?:itch)?)(?: tog(?:ether)?)? with (?:its|the|both|both its|their) wraps?", "k1 with wraps", "knit it together with its wrap"),
    _W(r"(?:pick|lift|rais|tak|catch)(?:e|ing)?(?: up)? (?:the |both |its |their |next |two )*wraps? (?:(?:of|from|around|round|on|at) (?:the |that )?(?:base of (?:the )?)?(?:next |wrapped |following )*st(?:itch)? )?(?:and|to|,) ?(?:then )?(knit|purl|k|p)(?:ing)? (?:it|them)(?: tog(?:ether)?)?(?: along)? with (?:its|the|their|that|this) (?:own )?(?:wrapped |next )?st(?:itche)?s?", r"\g<1>1 with wraps", "pick up wrap and knit it together with its st"),
    _W(r"(?:lift(?:ing)?|pick(?:ing)? up) (?:the |both |its )*wraps? and (knit|purl|k|p)(?:ing)? (?:the )?(?:next |wrapped )?st(?:itch)? (?:tog(?:ether)? )?with (?:it|them)", r"\g<1>1 with wraps", "lift the wrap and knit the next st with it"),
    _W(r"work(?: the)? (?:next |wrapped |following )*st(?:itch)? (?:and|with|tog(?:ether)? with|along with) (?:its |the |both |both its )?wraps?(?: tog(?:ether)?| as one(?: st(?:itch)?)?)*", "k1 with wraps", "work the next st and its wrap together"),
    _W(r"(knit|purl|k|p)(?: the)? (?:next |first |following |foll )?(?:wrapped )?st(?:itch)? (?:(?:tog(?:ether)? )?with|and|along with) (?:its |the |both |both its )?wraps?(?: tog(?:ether)?| as one(?: st(?:itch)?)?)*", r"\g<1>1 with wraps", "knit wrapped st together with its wrap"),
    _W(r",? ?(?:knitting|purling|working|picking up)(?: up)? (?:the |all |any |each |every |both |remaining )*wraps?(?: (?:tog(?:ether)? )?with (?:their|the|its)(?: wrapped)? st(?:itch(?:es)?|s)?(?: (?:it|they) wraps?)?)?(?: as you (?:come|get) to them)?", " with wraps", "knitting wraps together with their sts"),
    _W(r"(k|p)(?:nit|url)? (?:its|the|both|both its|both the|both of its) (?:(?:two|2|both) )?legs(?: of (?:it|the (?:ds|double st(?:itch)?)))?(?: tog(?:ether)?| as (?:one|1|a single)(?: st(?:itch)?)?)+", r"\g<1>1 with wraps", "k its two legs together"),
    _W(r"(k|p)(?:nit|url)? (?:each of )?(?:the )?(?:other |next |remaining |last )?(\d+) (?:ds|double st(?:itche)?s?) as (?:one|1|a single)(?: st(?:itch)?)?(?: each)?", r"\1\2 with wraps", "knit each of the 8 double stitches as one stitch"),
    _W(r"(knit|purl|work|k|p)(?:ing)? (?:the |both legs of (?:the )?|each )?(?:ds|double st(?:itch)?)(?: tog(?:ether)?)? as (?:one|1|a single)(?: st(?:itch)?)?", r"\g<1>1 with wraps", "knit DS as one stitch"),
    _W(r",? ?(?:knitting|working|purling|closing|treating|taking|counting) (?:(?:both|the two) legs of )?(?:any|each|the|all|every)?(?: of the)?(?: other)?(?: remaining| last)? ?(?:\d+ |two )?(?:ds|double st(?:itche)?s?|dss)(?: tog(?:ether)?)? as (?:one|1|a single)(?: st(?:itch)?)?(?: as you (?:come|get) to (?:it|them))?", " with wraps", "working each DS as one stitch"),
    _W(rf"(k|p|knit|purl)(?:ing)? (?:each of )?(?:the )?(?:other |next |remaining |last )?({COUNT}) (?:ds|double st(?:itche)?s?)(?: (?:on|at) (?:the |that |this )?(?:left|right|side|end)(?: side)?)?,? (?:each )?as (?:one|1|a single)(?: st(?:itch)?)?(?: each)?", r"\1\2 with wraps", "knit the 8 double stitches on the left, each as one stitch"),
    _W(rf"(k|p|knit|purl)(?:ing)?(?: on)?(?: over| across)? (?:each of )?(?:the )?(?:other |next |remaining |last )?({COUNT}) (?:ds|double st(?:itche)?s?)(?: (?:on|at) (?:the |that |this )?(?:left|right|side|end)(?: side)?(?: of (?:the )?(?:heel|needle \d))?)?,? (?:working|knitting|purling|closing|taking) (?:each|them|every|both legs of each)(?: one| ds)?(?: off)?(?: tog(?:ether)?)?(?: as (?:one|1|a single)(?: st(?:itch)?)?| off)?(?: each)?", r"\1\2 with wraps", "knit on over the 7 DS at the left, working each one off as one stitch"),
    _W(r"(k|p|knit|purl)(?:ing)? (?:every|all(?: of)? the|all)(?: remaining)? (?:ds|double st(?:itche)?s?)(?: (?:on|at) (?:the |that |this )?(?:left|right|side|end)(?: side)?)?,? (?:each )?as (?:one|1|a single)(?: st(?:itch)?)?(?: each)?", r"\1 to end with wraps", "knit every DS on the left as one st"),
    _W(rf"((?<![a-z])(?:p|purl)(?: to [^,;]*| ?{COUNT}),? (?:and )?(?:then )?)(?:resolve|close|work off) (?:the )?({COUNT}) (?:ds|double st(?:itche)?s?)(?: (?:on|at) (?:the |that |this )?(?:left|right|side|end)(?: side)?)?", r"\1p\2 with wraps", "p20, resolve the 9 double sts at the right side"),
    _W(rf"(?:resolve|close|work off) (?:the )?({COUNT}) (?:ds|double st(?:itche)?s?)(?: (?:on|at) (?:the |that |this )?(?:left|right|side|end)(?: side)?)?", r"k\1 with wraps", "k10, resolve the 9 double sts at the left side"),
    _W(r"(?<![a-z])(k|p)(nit|url)? to ((?:(?:the|next|last) )*(?:ds|double st(?:itch)?)|1 st before (?:the )?gap), (?:resolving|closing) it(?=[,.;]|$)", r"\1\2 to \3, \g<1>1 with wraps", "knit to DS, closing it"),
    _W(rf"((?<![a-z])(?:p|purl)(?: to [^,;]*| ?{COUNT}),? (?:and )?(?:then )?)(?:resolve|close|work off) (?:it|(?:(?:the|that|this|next) )*(?:ds|double st(?:itch)?))(?=[,.;]|$)", r"\1p1 with wraps", "p to DS, resolve it"),
    _W(r"(?:resolve|close|work off) (?:it|(?:(?:the|that|this|next) )*(?:ds|double st(?:itch)?))(?=[,.;]|$)", "k1 with wraps", "resolve it"),
    _W(rf"(k|p|knit|purl) ?(?:the )?(?:next )?({COUNT}) wrapped (?:sts|stitches)(?: tog(?:ether)?)? (?:with|and) (?:their|all|the) (?:own )?wraps", r"\1\2 with wraps", "k7 wrapped sts together with their wraps"),
    _W(r"(k|p|knit|purl) (?:the )?(?:next )?(?:double |twice[- ])?wrapped st(?:itch)?(?=[,.;]|$)", r"\g<1>1 with wraps", "k the wrapped st"),
    _W(r"(k|p|knit|purl)(?:ing)? (?:the |each |all (?:the )?)?(?:other |remaining |last )*(?:ds|double st(?:itche)?s?) to (?:the )?end(?: of [^,.;]*)?(?:,? (?:working |knitting |with )?(?:both legs|the two legs|each as|as)[^,.;]*)?", r"\1 to end with wraps", "knit the DS to end of needle 2, both legs together"),
    _W(r",? ?(?:working|knitting|purling) (?:the |all (?:the )?|each of the |any )?(?:other |remaining |last )*(?:ds|double st(?:itche)?s?) (?:each )?as single (?:sts|stitches)", " with wraps", "working the other DS as single sts"),
    _W(r"make (?:a |1 |one )?(?:ds|double st(?:itch)?)(?: (?:in|with) (?:the )?(?:first|next) st(?:itch)?)?|mk ds", "ds", "make a double stitch"),
    _W(r"(to|until) (?:the )?(?:last |next |first |previous |nearest )?(?:ds|double st(?:itch)?)(?: at the end of (?:the )?row| (?:that )?you (?:meet|reach|come to|made)| (?:that was )?(?:made )?(?:on|at) (?:that|this|the other) (?:side|end))?(?=[,.;\s]|$)", "to 1 st before gap", "to DS"),
    _W(r"(?:to|until) (?:1|one) (?:sts?|stitch) before (?:the )?(?:last |next |first |previous )?(?:ds|double st(?:itch)?)", "to 2 sts before gap", "to 1 st before DS"),
    _W(r"(?:to|until) (?:2|two) (?:sts|stitches) before (?:the )?(?:last |next |first |previous )?(?:ds|double st(?:itch)?)", "to 3 sts before gap", "to 2 sts before DS"),
    _W(r"(?:to|until) (?:3|three) (?:sts|stitches) before (?:the )?(?:last |next |first |previous )?(?:ds|double st(?:itch)?)", "to 4 sts before gap", "to 3 sts before DS"),
    _W(r"(?:to|until) (?:4|four) (?:sts|stitches) before (?:the )?(?:last |next |first |previous )?(?:ds|double st(?:itch)?)", "to 5 sts before gap", "to 4 sts before DS"),
    _W(r"(?:to|until) (?:5|five) (?:sts|stitches) before (?:the )?(?:last |next |first |previous )?(?:ds|double st(?:itch)?)", "to 6 sts before gap", "to 5 sts before DS"),
    _W(r"(?:to|until) (?:6|six) (?:sts|stitches) before (?:the )?(?:last |next |first |previous )?(?:ds|double st(?:itch)?)", "to 7 sts before gap", "to 6 sts before DS"),
    _W(r"(?:to|until) (?:the )?(?:st(?:itch)?) before (?:the )?(?:last |next |first |previous )?(?:ds|double st(?:itch)?)", "to 2 sts before gap", "to the st before DS"),
    _W(r"(?:to|until) (?:within )?(\d+) (?:sts?|stitche?s?) (?:before|of) (?:the )?(?:last |next |first |previous )?(?:wrapped st(?:itch)?|wrap|wrapped one)", r"to \1 st before gap", "to 1 st before wrapped st"),
    _W(r"(?:to|until) (?:the )?st(?:itch)? before (?:the )?(?:last |next |first |previous )?(?:wrapped st(?:itch)?|wrap)", "to 1 st before gap", "to the st before the wrapped st"),
    _W(r"(?:to|until) (?:the )?(?:last |next |first |previous )?(?:wrapped st(?:itch)?|wrap)(?! before)", "to gap", "to last wrapped st"),
    _W(r"(?:make|work) (?:a )?(?:twin|shadow|shadow-wrap)(?: st(?:itch)?)?(?: (?:in|into|on) (?:(?:the )?next st(?:itch)?|it|that st(?:itch)?|that one))?(?:,| and|, and)? (?:and )?turn", "w&t", "make a twin stitch in the next st and turn"),
    _W(r"(?:twin|shadow)(?: st(?:itch)?)?,? turn", "w&t", "twin stitch, turn"),
    _W(r"(?:to|until) (?:the )?st(?:itch)? before (?:the )?(?:last |next )?(?:twin|shadow)(?: st(?:itch)?)?", "to 1 st before gap", "to the st before the last twin stitch"),
    _W(r"(?:to|until) (?:1|one) st(?:itch)? before (?:the )?(?:last |next )?(?:twin|shadow)(?: st(?:itch)?)?", "to 1 st before gap", "to 1 st before the twin stitch"),
    _W(r"(?:to|until) (?:the )?(?:last |next |first )?(?:twin|shadow)(?: st(?:itch)?)?", "to gap", "to the twin stitch"),
    _W(r",? ?(?:working|knitting|purling) (?:the |each |every |all |any |remaining |last |two )*(?:twin|shadow)(?: st(?:itch(?:es)?|s)?)? as (?:one|1|a single)(?: st(?:itch)?)?(?: when you reach (?:them|it))?", " with wraps", ", working each twin stitch as one st"),
    _W(r"(?:purl|p) (?:the |each )?(?:twin|shadow)(?: st(?:itch)?)? as (?:one|1)(?: st(?:itch)?)?", "p1 with wraps", "purl the twin stitch as one"),
    _W(r"(?:k|knit|work) (?:the |each )?(?:twin|shadow)(?: st(?:itch)?)? as (?:one|1)(?: st(?:itch)?)?", "k1 with wraps", "knit the twin stitch as one"),
    _W(r"(?:to|until) (?:the )?(?:next |first |last )?(?:double|doubly|twice)[- ]wrapped st(?:itch)?", "to gap", "to the double-wrapped stitch"),
    _W(r"(?:to|until) (?:the )?(?:next |last )?st(?:itch)? with (?:the )?(?:two|both|2|double) wraps?", "to gap", "to the st with two wraps"),
    _W(r"(ssk|k2tog|p2tog|skp\w*|ssp) (?:to close|across|over|closing) (?:the )?gap", r"\1", "ssk to close gap"),
    _W(r"(k|p|knit|purl) (?:the |that |this )?(?:next )?(?:ds|double st(?:itch)?)(?=[,.;]|$)", r"\g<1>1 with wraps", "k DS"),
    _W(r"turn (?:the )?work(?:ing)?(?: around)?|turn[!]", "turn", "turn work"),
    _W(r"(?:and|then) turn\b", ", turn", "and turn"),
    # markers
    _W(r"(?:slip|sl) (?:the )?(?:next |first |second |last |other |\d(?:st|nd|rd|th) )?(?:stitch )?(?:marker|mrk|mkr|m)(?=[\s,;.)\]*]|$)(?! [ab]\b)", "sm", "sl m"),
    _W(r"slm\b|slip mkr\b", "sm", "slm"),
    _W(r"([kp]\d+|m1[lr]?|k2tog|ssk|yo|kfb), (?:m|mrk)(?=, ?[a-z(*])", r"\1, sm", "k12, m, m1r"),
    _W(r"place (?:a |another )?(?:stitch )?(?:marker|mrk|m)\b(?: (?:to mark|for|at|as) [^,;.*]*| here)?", "pm", "place a marker"),
    _W(r"pm (?:to mark|for|at|as) [^,;.*]*", "pm", "pm for beg of rnd"),
    _W(r"(?:remove|rem) (?:the )?(?:next |first |second )?(?:stitch )?(?:marker|m)\b(?! [ab]\b)", "rm", "remove the marker"),
    _W(r",? ?slipping (?:the |all )?markers?(?: as you (?:come|get) to them)?", "", "slipping markers"),
    _W(r"(before|to) (?:the )?(?:next|first|second|third|fourth|last|other|\d(?:st|nd|rd|th)|beg(?:inning)?(?: of round)?|end of round) (?:marker|m|mrk)\b", r"\1 m", "to next marker"),
    _W(r"(knit|k) to (?:the )?(?:last )?(\d+) (?:sts|stitches) before (?:the )?instep(?: sts| stitches)?, ((?:(?:k2tog|ssk|skpo?|k ?\d+)(?: tbl)?(?:, )?)+)[;,] ?(k ?\d+|(?:k|knit|work) (?:across )?(?:the )?(?:\d+ )?instep(?: sts| stitches)?)[;,] ?(k1, ?(?:ssk|skpo?|k2tog)[^;*:.]*?to (?:the )?end)", r"needle 1: \1 to last \2 sts, \3; instep: \4; needle 3: \5", "knit to last 3 sts before instep, k2tog, k1; k20; k1, ssk, knit to end"),
    _W(r"(?:to|until) (?:the )?(?:last )?(\d+) (?:sts|st|stitches) before (?:the )?(?:instep|sole|corner|side|cent(?:er|re)|heel|thumb|gusset|middle|half-?way point|top|palm|back|front)(?: st(?:itch(?:es)?|s)?)?(?: of (?:the )?(?:round|rnd|needle))?", r"to \1 sts before m", "to 3 sts before instep"),
    _W(r"to (\d+) (?:sts|stitches|st) before (?:the |each )?(?:marker|m|half[- ]?way (?:point|mark)|middle|side|centre|center) or (?:the )?end(?: of (?:the )?(?:round|rnd))?", r"to last \1 sts", "to 3 sts before the marker or the end of the round"),
    _W(r"to (\d+|one|two|three) before (?:the )?(gap|marker|m|end)\b", r"to \1 sts before \2", "to 1 before the gap"),
    _W(r"to within (\d+)(?: (?:sts|st|stitch|stitches))? of (?:the )?(end|marker|m|gap)", r"to \1 sts before \2", "to within 3 sts of marker"),
    _W(r"(?:work (?:an? )?)?(ssk|skp|k2tog|p2tog|ssp)(?: (?:it|this|that|the last(?: st)?))?,? (?:and|with|together with|using) (?:the |its )?(?:(?:next|first|following|foll|adjacent|neighbou?ring) )?gusset st(?:itch)?(?: (?:beyond|after it|next to it|behind it|beside it))?(?=[,.;]| and|$)", r"\1", "ssk with the next gusset st"),
    _W(r"(?:work (?:an? )?)?(ssk|skp|k2tog|p2tog|ssp)(?: tbl)? (?:over |on |across )?(?:this|the|that|it)(?: (?:last |final )?(?:wrapped )?st(?:itch)?)?,?(?: (?:and|with) (?:its|the) wraps?)?,? (?:with|and|together with|tog with) (?:the )?(?:(?:next|first|following|one after)(?: gusset| sole| heel| instep)? st(?:itch)?|(?:next|following)(?: one)?(?=[,;.]|$| (?:and )?turn)|one (?:after|behind|beyond)(?: it)?)", r"\1 with wraps", "ssk this st and its wrap with the first gusset st"),
    _W(r"(?:work|knit|purl|k|p) (?:the )?(?:last |next |final )?(?:heel |wrapped |sole )*st(?:itch)?(?: ?\((?:with|and) (?:its|the) wraps?\)| (?:with|and) (?:its|the) wraps?)? (?:and|with|together with|tog with) (?:the )?(?:1|one|next|first|following)(?: (?:gusset|sole|heel|instep))? st(?:itch)?(?: tog(?:ether)?)? (?:as|with|by|in|using) (?:an? )?(ssk|k2tog|p2tog|skpo?|ssp)", r"\1 with wraps", "work the last heel st with its wrap and 1 gusset st together as ssk"),
    # how far
    _W(r"until (?:there (?:are|is) )?(\d+) (?:sts|st|stitches|stitch) (?:remain|rem|are left|left|remaining|before (?:the )?end)(?: (?:on|of) (?:the |this |each )?(?:needle|row|round|rnd)(?: \d)?)?(?=,)", r"to last \1 sts", "k until 3 sts remain,"),
    _W(rf"(?<![a-z])(k|p|knit|purl|work) until (?:there are )?({COUNT}) {STS} (?:remain|rem|are left|left|remaining) (?:on|of|in|to) (?:the |this )?(?:needle|row|round|rnd)(?=[,;.]|$)", r"\1 to last \2 sts", "knit until 15 sts remain in the round"),
    _W(r"(?:until|to) (\d+|one|two|three) (sts|st|stitches|stitch) before", r"to \1 \2 before", "until 1 st before gap"),
    _W(r"(knit|k|purl|p) to (?:the )?last (\d+) (?:sts|stitches|st) (?:on|of) (?:needle|n) ?(\d)", r"needle \3: \1 to last \2 sts", "knit to last 3 sts on needle 1"),
    _W(r"(needle 1: [^;]*); ?(?:knit|k|work) (?:across )?(?:the )?instep needle", r"\1; needle 2: knit", "needle 1: k1; knit the instep needle; needle 3: k1"),
    _W(r"(needle 1: [^;]*); ?(?:k|knit|work) (?:even )?across (?:the )?instep(?: sts| stitches)?; ?(?:then )?", r"\1; needle 2: knit; needle 3: ", "needle 1: k1; k across instep; k1"),
    _W(r"(?:to|until) (?:the )?last (?:stitch|st) (?:on|of) (?:the |this |each )?(?:needle|half|side|tip)(?! ?\d)\b", "to last 1 st", "to last st on needle"),
    _W(r"(?:to|until) (?:the )?last (?:stitch|st)\b", "to last 1 st", "to the last stitch"),
    _W(r"to (?:the )?last (\d+)(?=\s*[,;])", r"to last \1 sts", "knit to the last 3,"),
    _W(rf"(?<![a-z])(k|knit|work) (?:to )?({COUNT}) {STS} (?:past|beyond|after) (?:the )?(?:beginning|beg|start)(?: of (?:the )?(?:round|rnd))?(?=[,;.]|$)", r"\1 \2", "knit to 15 sts past the beginning of the round"),
    _W(rf"(?<![a-z])(k|p|knit|purl) ?({COUNT}) more(?: {STS})?(?=[,;.]|$)", r"\1 \2", "knit 1 more"),
    _W(r"work (?:(?:the )?(?:instep|front|back) (?:with|in|as) )?(?:the )?(?:next )?(?:rnd|row|round)(?: \d+)? of (?:the )?(?:[\w'-]+ ){0,3}?(?:panel|chart|cable|lace|patt(?:ern)?)(?: [a-z])?(?:,? (?:as (?:set|before|est\w*)|once more|again|across (?:the )?(?:instep|front)))*,? (?:and |then )*(?:k|knit|knitting|work|working)(?: on)? to (?:the )?end", "knit to end", "work Rnd 1 of panel as set, k to end"),
    _W(rf"(?:work )?(?:the )?(?:next )?(?:\d+(?:st|nd|rd|th) )?(?:rnd|row|round)(?: \d+)? of (?:the )?[\w ]{{1,24}}? (?:over|across|on) (?:the )?(?:next |held )?({COUNT})(?: (?:instep |held |sole |front |top )?{STS})?", r"k \1 sts", "work rnd 1 of chart A over 12 sts"),
    _W(rf"(?:work )?(?:the )?(?:[a-z'-]+ ){{0,2}}(?:panel|chart|cable|lace|cable pattern|lace pattern)(?: [a-z])? over (?:the )?(?:next )?({COUNT})(?: {STS})?", r"k \1 sts", "work Cable Panel over 14 sts"),
    _W(rf"(k|knit) (?:across )?(?:the )?({COUNT}) (?:lower|upper|bottom|top) (?:{STS}|loops)", r"\1 \2", "knit the 8 lower sts"),
    _W(rf"(k|knit) (?:across )?(?:the )?(?:lower|upper|bottom|top) ({COUNT}) (?:{STS}|loops)", r"\1 \2", "knit the lower 8 sts"),
    _W(rf"(k|knit|p|purl) ?({COUNT})(?: {STS})? for (?:the |your )?(?:palm|back|front|instep|sole|heel(?: flap)?|thumb)(?=[,;.:]|$)", r"\1 \2", "k20 for the palm,"),
    _W(r"to (?:the )?last (\d+) (?:sts|stitches|st) (?:of|on) (?:this |the |each |that )?(?:half|side|needle|rnd|round|row|heel|sole|instep)(?: \d)?", r"to last \1 sts", "to last 3 sts of this half"),
    _W(r"(?:all )?(?:the )?(?:way )?(?:right )?(?:to|until) (?:the )?(?:very )?end of (?:the |this )?(?:rnd|round|row|(?:heel |sole )?needle(?: \d)?|(?:heel|sole|instep)(?: sts| stitches)?|flap|half|needles?)", "to end", "to the end of the heel"),
    _W(r"to beg(?:inning)? of (?:the )?(?:rnd|round)|to end of (?:the )?rnd|to end of r\b", "to end", "to beg of rnd"),
    _W(r"(?:to|until) (?:the )?(?:bor|eor)\b(?: m\w*)?|(?:the|this) (?:round|rnd|row|needle) out\b", "to end", "to BOR"),
    _W(r"all (?:the )?way (?:a)?round(?: the (?:hat|mitten|sock|needles))?|all the way(?=[,.;]|$)|to (?:the )?end of (?:the )?round|all round\b|right round\b", "to end", "all the way round"),
    _W(r"(\[[^\]*]+\]) (?:across|over|on) (?:the )?(?:instep|heel|sole|palm|front|back)(?: (?:sts|stitches))? (?=to (?:the )?(?:last|end))", r"\1 ", "[k2, p2] across the instep to last 2 sts"),
    _W(rf"(?!(?:across|over) the \d+ (?:sts|stitches),? (?:and |then )*pick)(?:across|over) (?:all(?: of)?(?: the|these)? {COUNT}|(?:all|the|rem(?:aining)?|these|every)(?: of)?(?: the)?(?: rem(?:aining)?)?(?: \d+)?)(?: heel| instep| sole| held)? (?:sts|stitches)|across (?:the )?(?:row|round|rnd|needle)(?! \d)", "to end", "across all sts"),
    _W(r"(knit|purl|k|p) (?:the )?(?:rem(?:aining)?|rest of (?:the )?|all|every)(?: of the)?(?: the)? ?(?:sts|st|stitches|stitch|round|rnd|row|needle)\b(?: (?:in|of) (?:the )?(?:round|rnd|row)| to (?:the )?end)?", r"\1 to end", "knit rem sts"),
    _W(rf"(knit|k) ?({COUNT})(?: {STS})? to (?:the )?(?:cent(?:er|re)|middle)(?: back| of (?:the )?heel)?", r"\1 \2", "k7 to centre back"),
    _W(r"(knit|purl|k|p) (?:the )?(?:whole|entire) (?:round|rnd|row)", r"\1 to end", "knit the whole round"),
    _W(r"(k|p|knit|purl) across (?:them|these)(?: all)?|(k|p|knit|purl) (?:them|these)(?: all)?(?=[,;.]|$)", r"\1\2 to end", "knit across them"),
    _W(r"(k|p|knit|purl) across(?=[,.;]|$)", r"\1 to end", "knit across"),
    _W(r"(bind off|cast off|bo) (?:the )?(?:next|foll(?:owing)?|first|cent(?:er|re)|central|middle) (\d)", r"\1 \2", "bind off the next 8"),
    _W(rf"(bind off|cast off|bo) (?:the )?({COUNT}) (?:cent(?:er|re)|central|middle|next) ({STS})", r"\1 \2 \3", "bind off the 6 centre sts"),
    _W(rf"(bind off|cast off|bo) ({COUNT})(?= ?(?:[,;)\]]|and\b|then\b|$))", r"\1 \2 sts", "bind off 16,"),
    _W(rf"(knit|k) ?({COUNT}) (?:sts )?to (?:the )?(?:first|beg(?:inning)?|start|middle) [^,;.:]*", r"\1 \2", "knit 33 sts to the first instep st"),
    _W(r",? ending with (?:a |the )?[kp]\d(?=[,.;])", "", ", ending with the p1,"),
    _W(r"\* ?([^*]+?) ?\*,? rep(?:eat)? on (?:every|each|all)(?: \d| the)? needles?", r"each needle: \1", "*k to last 2 sts, k2tog*, repeat on every needle"),
    _W(r"\* ?([^*;]+?); ?rep(?:eat)? from \*(?: to end)?,? (?:on|for|over) (?:each|every|all)(?: of)?(?: the| \d| four| three| five)*(?: remaining| other)? needles?", r"each needle: \1", "*k to last 2 sts, k2tog; repeat from * on each needle"),
    # repeats
    _W(r"\* ?([^*]+?) ?\*[,;]? rep(?:eat)?(?:ed)? from \* to \*(?: to end| around| across)?", r"*\1; rep from * to end", "*k1, p1*, repeat from * to *"),
    _W(r"\* ?((?:(?!\brep)[^*])+?) ?\*(?=\s*\.?$)", r"*\1; rep from * to end", "*k2, k2tog*"),
    _W(r"\* ?([^*:;]+?) ?\* ?,? (?:rep(?:eat)?(?:ed)? )?(\d+|twice|two|three|four|five|six|seven|eight|nine|ten)( times)?(?! more)\b(?: in all| in total)?", r"[\1] \2\3", "*k14, k2tog* 4 times"),
    _W(r"rib \*([^*]+)\*", r"work in [\1] rib", "rib *k2, p2*"),
    _W(r"every st(?:itch)? of (?=every)", "", "every stitch of every round"),
    _W(r"all around(?=[.;,]|$)", "around", "all around"),
    _W(r"\* ?([^*:;]+?) ?\* ?[,;]? ?rep(?:eat)?(?:ed)?(?: from \*)?(?: to (?:the )?end(?: of (?:the )?(?:round|rnd|row))?| around| across)?(?=\s*[.(]|\s*$)", r"*\1; rep from * to end", "*k6, p2* repeat"),
    _W(r"repeat from \* (?:all )?(?:a)?round(?: the)?(?: round| rnd)?", "rep from * to end", "repeat from * around"),
    _W(r"(?:rep(?:eat)?|\*) ?(?:from|between) ?\*(?:s| and \*| to \*{1,2})?(?=[\s,.;])", "rep from *", "repeat between *s to end"),
    _W(r"rep(?:eat)? (?=to (?:end|last|m\b|marker|\d+ sts? before)|across|around|twice|once|\d+ (?:more )?times|\d+ times)", "rep from * ", "repeat to end"),
    _W(r"(rep(?:eat)? from \*) (?:to end of|across|over)? ?(?:the )?(?:round|rnd|row|needle)\b", r"\1 to end", "repeat from * across row"),
    _W(r"(?<=[;,]) ?rep(?:eat)?(?=\s*\.?\s*$)", " rep from * to end", "; repeat"),
    _W(r"(rep(?:eat)? from \* once(?: more)?),? (?:to (?:the )?end(?: of (?:the )?(?:round|rnd|row))?|around|across)", r"\1", "rep from * once more to the end of the round"),
    _W(r"(rep(?:eat)? from \*)(?=\s*[.(]|\s*$)", r"\1 to end", "rep from *."),
    _W(r"(rep(?:eat)? from \*) (?:a )?(?:further|more) (\w+) times", r"\1 \2 more times", "rep from * a further 3 times"),
    _W(r"(?:a )?further (\w+) times", r"\1 more times", "a further 7 times"),
    _W(r"(\d+|twice|once|\w+) more times?(?: more)?", r"\1 more times", "once more times"),
    _W(r"(?:work|rep(?:eat)?) ((?:rounds|rnds|rows) \d+ ?(?:-|–|to|and) ?\d+) of (?:the )?(?:[a-z'-]+ ){0,2}(?:lace|pattern|patt|panel|chart|cable|rib|mesh|border|stitch|band)(?: pattern| panel| chart)?,? (?=(?:(?:once|twice|again)(?: more)?|[a-z0-9]+ (?:more times|times more))(?:[.,;]|$))", r"rep \1 ", "work rnds 1-12 of the lace three times more"),
    # shaping at an end
    _W(r"(ssk|skpo?|k2tog tbl|k2tog|m1\w?|kfb) at (?:the )?(?:very )?(?:start|beginning|beg)(?=\s*(?:[.;,]|$))", r"\1, k to end", "ssk at the start"),
    _W(r"(ssk|skpo?|k2tog tbl|k2tog) at (?:the )?(?:very )?end(?=\s*(?:[.;,]|$))", r"k to last 2 sts, \1", "k2tog at the end"),
    _W(r"(ssk|skpo?|k2tog tbl|k2tog) at both ends(?=\s*(?:[.;,]|$))", r"\1, k to last 2 sts, k2tog", "k2tog at both ends"),
    # plain work in other words
    _W(rf"(knit|purl|k|p|work) (?:all|across all|over all)(?: of)?(?: the| your| these)? ({COUNT})(?: {STS})?(?=(?: (?:in )?(?:plain|even|st st))?\s*(?:[.;]|$))", r"\1 to end (\2 sts)", "knit all 54 sts."),
    _W(rf"(knit|purl|k|p|work) (?:all|across all|over all|on all)(?: of)?(?: the| your| these)? ({COUNT}) {STS} for ({COUNT}) ({_CRS})", r"\1 \3 \4 (\2 sts)", "knit all 32 sts for 20 rounds"),
    _W(r"(knit|purl|k|p|work) plain(?:ly)?(?=\s*(?:[.;]|$))", r"\1 to end", "knit plainly"),
    _W(r"(?<=:) ?(?:(?:with )?no|without(?: any)?|omit(?:ting)? (?:the )?) ?(?:more )?(?:decreases?|decreasing|increases?|increasing|shaping)(?=\s*(?:[.;]|$))", " knit", "Round 2: no decreases."),
    _W(rf"(?:(?:bind|cast)[ -]off|bo) (?:all )?(?:of )?(?:those|these|the)(?: last| remaining| rem)? ({COUNT}) {STS}", r"bind off \1 sts", "cast off those 8 sts"),
    # in pattern: what is on the needles is worked as it shows
    _W(rf"(?:work|patt|rib|keep) (?:even )?(?:across )?(?:the )?(?:next |first |held |instep |sole |following )*({COUNT})(?: (?:held |instep |sole )?{STS})?(?: of (?:the )?(?:round|rnd))?(?: in {_SHOWN})?(?!\d| ?(?:rounds?|rnds?|rows?|times|inch|in\b|cm|mm|\"|more|set))", r"k \1", "work 33 instep sts in pattern"),
    _W(r"(?:work|patt|cont(?:inue)?) (?:even )?(?:in|as) (?:the )?(?:lace |rib |est(?:ablished)?\.? )?(?:pattern|patt|rib|ribbing|lace|moss|seed|st st|stockinette|set|est\w*)(?: (?:stitch|st))?(?: as (?:set|est\w*))?(?: over)? (?=to\b)", "k ", "work in pattern to marker"),
    _W(rf"{_OF_PLACE}(?=[,;] (?:sm|slm)\b)", "k to m", "work instep, sm"),
    _W(r"(?<=\bsm,\s)(?:work |in |as )*(?:patt(?:ern)?|even|knit|work|plain|rib|set|established)(?: (?:in|as) (?:patt(?:ern)?|set|established|rib))?(?=[,;] sm\b)", "k to m", "sm, patt, sm"),
    _W(rf"(\d sts before (?:the )?(?:first |1st |next )?m(?:arker)?, (?:k2tog|ssk|skp|k1), (?:k2tog|ssk|skp|k1))[,;] {_OF_PLACE}[,;] (?=k1, (?:k2tog|ssk|skp)\b)", r"\1, sm, k to m, sm, ", "k to 3 sts before m, k2tog, k1; instep in patt; k1, ssk"),
    _W(r"(?:work|knit|patt|k) (?:across )?(?:the )?(?:held |waiting )?(?:instep|sole|heel|top-of-foot|held|top of foot|thumb|(?:palm|back|front)(?= (?:sts|stitches)))(?: (?:sts|stitches|needle))?(?: (?:in|as) (?:the )?(?:est(?:ablished)?\.? )?(?:pattern|patt|rib|(?:broken|twisted|slipped) rib|mesh|lace|moss(?: st)?|set|est\w*)(?: as (?:set|est\w*))?)?(?=[,.;]|$| with wraps)", "k to end", "work the instep sts in pattern"),
    _W(r"(?:work|patt) (?:even |across )?(?:in|as) (?:the )?(?:lace |rib |est(?:ablished)?\.? )?(?:pattern|patt|rib|ribbing|lace|st st|stockinette|set|est\w*)(?: (?:stitch|st))?(?: as (?:set|est\w*))?(?=[,.;\]]|$)", "k to end", "work in pattern"),
    _W(r"(?:work|patt)(?: even)? (?=to (?:end|last|m\b|marker|\d))", "k ", "work to end"),
    _W(r"work even(?=[,.;]|$)", "k to end", "work even"),
    _W(rf"(k|knit) ?({COUNT})(?: {STS})? (?:as (?:set|est\w*)|in {_SHOWN})(?=[,.;]| and\b|$)", r"\1 \2", "k33 in pattern"),
    _W(r"(?:to|until) (?:the )?(?:last )?st(?:itch)? before (?:the )?(?:gap|hole|turn)\b", "to 1 st before gap", "to the stitch before the gap"),
    # picking up
    _W(rf"pick(?:ing)? up and k(?:nit)? ?(?:the )?({COUNT})(?: {STS})? (?:down|up|from|on|at|in|into|across|around|over|along)(?: (?:the|its|their|that|each|one|this|first|other|second|opposite))* ", r"pick up and knit \1 sts along ", "pick up and knit 15 sts down the side"),
    _W(r"pick(?:ing)? up and k(?:nit)? (\d+) extra (?:sts|st) ?(?=[,.;]|$)", r"pick up and knit \1 sts along corner", "pick up and knit 1 extra st"),
    _W(r"(along [a-z][a-z -]*?), (?:that is |being |i\.?e\.?,? )?(?:one|1)(?: st(?:itch)?)? (?:in|for|from|into|through|per) (?:each|every) [a-z -]+(?=[,.;(]| and \d| plus \d|$)", r"\1", "along the side edge, one in each garter ridge,"),
    _W(rf"(along [a-z][a-z -]*?)(?: \([^)]*\))?(?:,|,? (?:and|plus|then)) ({COUNT}) (?:more |extra )?(?:sts|st|stitches|stitch) (?=along)", r"\1, pick up and knit \2 sts ", "along one side, 8 sts along the edge"),
    _W(rf"(along [a-z][a-z -]*?)(?: \([^)]*\))?(?:,|,? (?:and|plus|then))(?: then)? ({COUNT}) (?:more |extra )?(?:sts|st|stitches|stitch) (?:in|at|from|along|down|up|across)(?: (?:the|each|other))* ", r"\1, pick up and knit \2 sts along ", "along the flap and 1 st in the gap"),
    _W(rf"(along [a-z][a-z -]*?)(?: \([^)]*\))?(?:,|,? (?:and|plus|then))(?: then)? ({COUNT}) (?:more |extra )?(?:sts|st|stitches|stitch) (?:in|at|from|along|down|up|across)(?: (?:the|each|other))* ", r"\1, pick up and knit \2 sts along ", "along the flap, 1 st in the gap and 8 sts along the other side"),
    _W(rf"({COUNT} {STS}) (?:that|which) follow", r"\1", "the 36 sts that follow"),
    _W(r"(?:work )?(?:the )?next (?:rnd|round|row) of (?:the )?[a-z][a-z' -]*?(?=[,.;]|$)", "k to end", "work next round of Lace Pattern"),
    # words that carry no more
    _W(r"(?:heel|instep|sole|thumb|held|flap|gusset|top-of-foot|remaining|rem|live|resting|front|back) (sts|stitches|st)\b", r"\1", "heel sts"),
    _W(r"(k|p|knit|purl) across (?:the )?(?:next |first |following |other )?(\d)", r"\1 \2", "knit across 18 sts"),
    _W(r"(?<!up\sand\s)(k|p|knit|purl) ?(?:the )?(?:first|next|following|foll|other|last|same|rem|remaining) (\d)", r"\1 \2", "knit the first 9 sts"),
    _W(r"(knit|purl|k|p) the (\d+)", r"\1 \2", "knit the 20 sts"),
    _W(rf"(?<!up\sand\s)((?:k|p|knit|purl|work) ?{COUNT})(?: {STS})? (?:again|(?!on (?:the )?(?:next|this|every|each|foll\w*|alt\w*|\d+(?:st|nd|rd|th))\b[^,;.]*?\b(?:rows?|rnds?|rounds?)\b)(?:onto|from|of|on|along|over|across) (?:the )?(?:(?! and (?:leave|keep|put|place|slip|hold|let)\b)[^,;.])*|you ignored)(?=[,;.]|$)", r"\1 sts", "k28 from the holder"),
    _W(r"(?:rib|moss|seed|patt|pattern) (?=to (?:end|last|the|m\b|marker|gap))", "k ", "rib to end"),
    _W(r"\bthen[, ]+", "", "then k1"),
    _W(r"(?:again|loosely|carefully|firmly|tightly|gently|neatly)(?=[,;.]|$)", "", "loosely"),
    _W(r"\bsts?\.(?= ?[,;])", "sts", "sts.,"),
)  # fmt: skip


class _Table(tuple[OwnWording, ...]):
    """The rows, which show themselves by their name: they are a default in signatures."""

    __slots__ = ()

    def __repr__(self) -> str:
        return "WORDINGS"


WORDINGS: tuple[OwnWording, ...] = _Table(_ROWS)

_FRACTIONS = {
    "½": ".5", "¼": ".25", "¾": ".75", "⅓": ".33", "⅔": ".67", "⅛": ".125", "⅜": ".375",
    "⅝": ".625", "⅞": ".875",
}  # fmt: skip
_FRACTION = WordForm(rf"(\d*)\s?([{''.join(_FRACTIONS)}])", re.NOFLAG)
_SLASHED = WordForm(r"(?<![\d/])(\d+)[ -](1/2|1/4|3/4|1/8|3/8|5/8|7/8)(?![\d/])", re.NOFLAG)
_BARE_SLASHED = WordForm(r"(?<![\d/.])(1/2|1/4|3/4)(?= ?(?:in|\"|″|inch))", re.NOFLAG)
_QUOTES = WordForm("[“”″‟]|''", re.NOFLAG)
_APOSTROPHES = WordForm("[’‘`]", re.NOFLAG)
_HARD_SPACE = WordForm("[\u00a0\u2009\u202f\t]", re.NOFLAG)
_AMPERSAND = WordForm(r"(?<!w)(?<!W)(?<!f) ?& ?(?![tTb])", re.NOFLAG)


_ONE_STITCH = r"(?:skpo?|sk2po?|s2kpo?|ss[kp]|[kp]fb|[kp][23]tog|y(?:o|on|rn|fwd)|m1[lrp]?|cdd)"
_DOTTED = WordForm(
    rf"\b{_ONE_STITCH}\.[,;:)]|"
    r"\b(?:rep|rnds|rows|sts)\. (?-i:[a-z])|\b(?:[KP]|sl)\.\s?\d(?!\d?(?:st|nd|rd|th)\b)|\bw\.f|\b[KP]\. (?-i:[a-z])|\.\s?—|\b[a-z]\.[a-z]\.|\bst\.\s?st|\b[kp]\. row|\b(?:rnd|row|round)s?\.:|\b[cm]m\. (?-i:[a-z])",
)


def _without_dots(match: re.Match[str]) -> str:
    return match[0].replace(".", "")


_DOTS = (  # "K.2, P.2 tog.": every short word with a full stop, as old books have it
    (re.compile(r"\bst\.\s?st\b(?:\.(?!\s*$|\s+(?-i:[A-Z*0-9(])))?", re.IGNORECASE), "st st"),
    (re.compile(r"\b(K|P)\.\s?(?=\d)(?!\d+(?:st|nd|rd|th)\b)", re.IGNORECASE), r"\1"),
    (re.compile(r"\b([KkPp])\.(?= [a-z])"), r"\1"),
    (re.compile(r"\b([cm]m)\.(?= [a-z])"), r"\1"),
    (re.compile(r"\b([KkPp])\.(?=\s*[;,])"), r"\1"),
    (re.compile(r"(?<=\dtog)\.(?=[,;:)]| [a-z(])", re.IGNORECASE), ""),
    (re.compile(r"\bsl\.\s?(?=\d)", re.IGNORECASE), "sl "),
    (re.compile(r"(?<=\dtog)\.\s?(?=tbl)", re.IGNORECASE), " "),
    (re.compile(r"\b(psso|tbl)\.(?!\s+(?-i:[A-Z*]))", re.IGNORECASE), r"\1"),
    (re.compile(rf"\b({_ONE_STITCH})\.(?=[,;:)]| (?-i:[a-z(]))", re.IGNORECASE), r"\1"),
    (
        re.compile(
            r"\b(sl|inc|dec|rep|patt|cont|beg|foll|rem)\.(?= (?-i:[a-z0-9*]))", re.IGNORECASE
        ),
        r"\1",
    ),
    (re.compile(r"\b(tog|sts?|rows?|rnds?|ins?)\.(?=[,;:)]| [a-z(])"), r"\1"),
    (re.compile(r"\bp\.s\.s\.o\b(?:\.(?!\s*$|\s+(?-i:[A-Z*0-9(])))?", re.IGNORECASE), "psso"),
    (re.compile(r"\bw\.(?:f|fwd)\b\.?|\bw\.r\.n\.|\bm\.(?=1)", re.IGNORECASE), "yo"),
    (  # "s.k.p.o.", "y.o."; the last full stop may end a sentence, too
        re.compile(
            r"(?<![a-z.])(?:(?:[a-z]\.){2,}[a-z]|y\.o|[rw]\.s|m\.[klrp]|k\.f\.b)(?:\.(?!\s*$|\s+(?-i:[A-Z*0-9(])))?(?![a-z])",
            re.IGNORECASE,
        ),
        _without_dots,
    ),
    (re.compile(r"(?<=[a-z])\.?\s?—\s?(?=\S)|(?<=[a-z][)\]])\.—\s?(?=\S)", re.IGNORECASE), ": "),
)


_NAMES = "|".join(NUMBER_WORDS)
_SPELT = WordForm(
    rf"\b(?:{_NAMES})\s*[(\[](?:{_NAMES}|\d+)(?:\s*[,:;]\s*(?:{_NAMES}|\d+))*[)\]]"
)  # "seven (eight) more times"


_OFTEN = rf"(?:once|twice|thrice|(?:{_NAMES}|\d+)(?: times?)?)(?: more)?"
_TIMES_BY_SIZE = WordForm(  # "twice (3 times, 3 times) more", "once more (twice more, 4 times more)"
    rf"\b(?P<all>(?:once|twice|thrice|(?:{_NAMES}|\d+) times)(?: more)?,? ?[(\[]{_OFTEN}(?:, ?{_OFTEN})*[)\]])(?: times?\b)?(?P<more> more\b)?"
)
_HOW_OFTEN = WordForm(rf"\b(?:(?P<few>once|twice|thrice)|(?P<many>{_NAMES}|\d+))\b")


def _times_by_size(match: re.Match[str]) -> str:
    if not re.search(
        r"(?:once|twice|thrice|times?)(?: more)?[)\]]|[)\]] (?:times?|more)", match[0]
    ):
        return match[0]
    few = {"once": "1", "twice": "2", "thrice": "3"}
    first, *rest = (
        few.get(one[0].lower()) or _in_figures(one) for one in _HOW_OFTEN.finditer(match["all"])
    )
    return f"{first} ({', '.join(rest)}) times{' more' if 'more' in match[0].lower() else ''}"


_UNIT_AGAIN = WordForm(  # "knit 5 rounds (6 rounds, 7 rounds)", "k10 sts (12 sts, 14 sts)"
    r"\b(?P<verb>[kp])?(?P<n>\d+)(?P<unit> (?:more )?(?:rounds|rnds|rows|sts|stitches|cm|inches|ridges)) ?[(\[](?P<rest>\d+(?P=unit)(?:, ?\d+(?P=unit))+)[)\]]"
)


def _unit_once(match: re.Match[str]) -> str:
    return f"{match['verb'] or ''}{match['n']} ({match['rest'].replace(match['unit'], '')}){match['unit']}"


_COLONS = WordForm(
    r"[(\[](?: ?[\d.½¼¾⅓⅔–—-]+ ?[:;])+ ?[\d.½¼¾⅓⅔–—-]+ ?[)\]]", re.NOFLAG
)  # "56 (64: 72) sts"


def _in_figures(match: re.Match[str]) -> str:
    return re.sub(
        rf"\b(?:{_NAMES})\b",
        lambda word: str(1 + NUMBER_WORDS.index(word[0].lower())),
        match[0],
        flags=re.IGNORECASE,
    )


def _slash(text: str) -> str:
    over, under = text.split("/")
    return f"{int(over) / int(under):g}"


_TYPED_DASH = WordForm(r"(?<=[\w)\].!*]) ?--+ ?(?=[\w(\[])", re.NOFLAG)  # "… around -- 72 sts"
_HEAD_DASH = WordForm(  # "1st round.- * K. 2", "Dec. round. - K. 1": old books' dash, as typed
    r"(?<=[a-z])\.-(?=\s*[*(\[\w])|^(?P<label>(?!(?:[kp]|knit|purl|work|rep|cast|bind|sl|turn|join)\b)[^-–—:;*]{3,44}[a-z)\]])\. [-–](?=\s+[*(\[\w])",
)


_SHORT_ROUND = WordForm(r"(?<!3 )\b(r)(ds?)\b")  # "Rd 1:", "Rep Rds 1-2", "K 1 rd"


def tidied(said: MappedText) -> MappedText:
    """Return the text with plain quotes, spaces and decimal fractions."""
    said = said.sub(LARGE_NUMBER, large_number).sub(_SHORT_ROUND, r"\1n\2")
    if "(" in said.text or "[" in said.text:
        said = said.sub(_TIMES_BY_SIZE, _times_by_size).sub(_SPELT, _in_figures)
        said = said.sub(_UNIT_AGAIN, _unit_once)
        said = said.sub(_COLONS, lambda match: re.sub("[:;]", ",", match[0]))
    if ".-" in said.text or ". -" in said.text or ". –" in said.text:
        said = said.sub(_HEAD_DASH, lambda match: f"{match['label'] or ''}.—")
    if said.text.find(".", 0, -1) >= 0 and _DOTTED.search(said.text):
        for pattern, means in _DOTS:
            said = said.sub(pattern, means)
    if "--" in said.text:
        said = said.sub(_TYPED_DASH, " — ")
    said = in_usual_words(said)
    if said.text.isascii() and not re.search(r"\d/\d|&|``|''", said.text):
        return said
    said = said.sub(_HARD_SPACE, " ").sub(_QUOTES, '"').sub(_APOSTROPHES, "'")
    said = said.sub(_FRACTION, lambda match: (match[1] or "0") + _FRACTIONS[match[2]])
    said = said.sub(_SLASHED, lambda match: f"{int(match[1]) + float(_slash(match[2])):g}")
    said = said.sub(_BARE_SLASHED, lambda match: _slash(match[1]))
    return said.sub(_AMPERSAND, " and ")


USUAL = Rewordings(((one.said, one.means) for one in WORDINGS), _compiled)


def rewordings(wordings: Sequence[OwnWording]) -> Rewordings:
    """Return what puts a sentence in our words, by wordings of one's own."""
    if wordings is WORDINGS:
        return USUAL
    known = frozenset(WORDINGS)
    for one in wordings:
        if one not in known:
            _require_usable(one)
    return Rewordings(((one.said, one.means) for one in wordings), _compiled)


def _require_usable(one: OwnWording) -> None:
    try:
        found = one.compiled.search(one.example)
    except re.error as error:
        expected = f"expected a regular expression: {error}"
        raise ArgumentError("OwnWording", "said", repr(one.said), expected) from None
    if found is None:
        expected = f"expected words that {one.said!r} matches"
        raise ArgumentError("OwnWording", "example", repr(one.example), expected)
    try:
        found.expand(one.means)
    except (re.error, IndexError) as error:
        expected = f"expected groups that {one.said!r} has: {error}"
        raise ArgumentError("OwnWording", "means", repr(one.means), expected) from None
