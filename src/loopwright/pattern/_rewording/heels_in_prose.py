# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Other ways of telling a heel in whole sentences: its stitches worked alone, its flap, its corners."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.rows_by_turns import with_rows_by_turns
from loopwright.pattern._rewording.tables import Rewordings

__all__ = ["with_heels"]

_N = r"\d+(?: ?[(\[][^)\]]*[)\]])?"
_STS = r"(?:sts|stitches)\b"
_ST = r"(?:sts?|stitch(?:es)?|loops?)\b"
_ALONG = r"(?:along|down|up|at|in|on|from)(?: the| this| its)?(?: (?:left|right|first|second|other|side|edge) of)?(?: the)?(?: (?:left|right|first|second|other|near|far))?(?: heel)?(?: (?:flap|edge|side|corner|gap|slipped edge))+(?: of (?:the )?(?:heel )?(?:flap|heel|gusset))?"
_TURNED = r"(?:(?:wrapped|double|doubled|twin|turned|shadow) (?:st|stitch)|wrap|DS|gap|turn)"


def _worked_alone(match: re.Match[str]) -> str:
    """Put "turn and work on them only, holding the remaining 24" in two sentences."""
    turn = f"{match['sign']} turn" if match["turn"] else ""
    return f"{turn}. Work on these sts only; the remaining {match['n']} sts are held"


def _both_picked(match: re.Match[str]) -> str:
    """Put "PU 12 along flap and 1 at corner" in two."""
    return (  # in small letters: it goes on with "knit to end." before it
        f"pick up and knit {match['a']} sts {_with_article(match['where'])}, "
        f"pick up and knit {match['b']} sts {_with_article(match['there'])}"
    )


_AROUND = r"(?:of|on|from) (?:needles|ndls|dpns) 1 (?:and|&) [34]\b"  # those around the beginning of the round
_PLACE = r"(?:along|down|up|at|in|on|from|over|across|around|round)(?: (?!and\b|then\b|plus\b|instep|sole\b|held|hold|palm|wait|rest|pick|knit\b|k\b|to\b|each\b|every\b|both\b|needle|end\b)[a-z][a-z-]*){1,6}"
_ONE_PICKED = rf"{_N}(?: more| extra)?(?: {_ST})? {_PLACE}"
_AND = r"(?:,(?: (?:and|plus|then))*|(?: (?:and|plus|then))+) "


def _all_picked(match: re.Match[str]) -> str:
    """Put "pick up and knit 1 st in the corner, 8 sts up one side, 1 st at the top and …" in as many."""
    parts = re.finditer(
        rf"(?P<n>{_N})(?: more| extra)?(?: {_ST})? (?P<where>{_PLACE})",
        match["parts"],
        re.IGNORECASE,
    )
    return ", ".join(
        f"pick up and knit {one['n']} sts {_with_article(one['where'])}" for one in parts
    )


def _instep_and_heel(match: re.Match[str]) -> str:
    """Name the instep, where the heel is the other needle."""
    rest = re.sub(r" (?:that|which) are left(?= as one)", "", match["rest"])
    again = ". Knit across the instep sts once more" if match["more"] else ""
    return f"{match['before']}the instep sts{match['then']}{rest}{again}"


def _with_article(place: str) -> str:
    return re.sub(r"^(\w+) (?!the |this |that |each |its |one |a |either )", r"\1 the ", place)


_FLAP = rf"(?P<before>^|[.;] )(?:now |then )?work (?:the |a )?(?:heel )?flap(?: back and forth| in rows)? (?:over|on|across) (?P<which>(?:the )?(?:first |next |last )?|these )(?P<n>{_N}) (?:heel )?{_STS}"
_RS, _WS = r"(?:right[- ]side|rs)(?: rows?)?", r"(?:wrong[- ]side|ws)(?: rows?)?"
_UNTIL = rf"(?:,? (?:until (?:you have (?:worked )?|there are )|for )(?P<rows2>{_N}) rows)?"


def _flap(match: re.Match[str]) -> str:
    """Put a flap that is told in one sentence in two: over which stitches, and its rows."""
    groups = match.groupdict()
    rows = groups.get("rows") or groups["rows2"]
    if rows is None:
        return match[0]
    which = match["which"].strip() or "the next"
    right = re.sub(r"[*()]| across| to (?:the )?end", "", match["right"]).strip(" ,")
    wrong = re.sub(r",? and ", ", ", match["wrong"].strip(" ,"))
    if not re.search(r"\b(?:k|knit) ?\d", right):  # no unit that goes on and on
        return match[0]
    return (
        f"{match['before']}The heel flap is worked on {which} {match['n']} sts. "
        f"Work {rows} rows: RS rows ({right}) across; WS rows {wrong}"
    )


def _one_waits(match: re.Match[str]) -> str:
    one, two = match["a"] or match["a2"], match["b"]
    if one == two:
        return match[0]
    return f"Work needle {one} in pattern and leave it on hold. Work needle {two} back and forth in rows{match['end']}"


_ONE = r"(?:an?|1|one|the|another|up)(?: (?:extra|side|running|horizontal))?"
_STRAND = r"(?:sts?|stitch|loop|strand|thread|bar|yarn)"
_IN_EACH = r"(?:at|in|from|between) (?:the )?(?:each|both|either|every|two) (?:of the )?(?:corner|gap|end|side|hole|join)s?(?: of (?:the |your )?(?:heel|opening|gusset))?"
_PICKS = r"(?:pick(?:ing)?|lift(?:ing)?|tak(?:e|ing)|rais(?:e|ing))(?: up)?"
_PICKED_AT = rf"[,;]? ?(?:and |while |by )*(?:{_PICKS} {_ONE} {_STRAND} {_IN_EACH}|{_IN_EACH},? {_PICKS} {_ONE} {_STRAND})"
_AGAINST = r"(?:(?:if (?:there(?:['’]s| is| are)|you (?:see|find|get|have)|(?:an?|any) (?:hole|gap)s? (?:show|appear|form|open)s?)|should (?:there be|you see|an?|any)|to (?:avoid|close|prevent))(?: [a-z-]+){0,8}, )?"
_THEM = r"(?:it|them|this|these|each|each of them)(?: loop| strand| st)?"
_BESIDE = r"tog(?:ether)? with (?:the |its |their )(?:(?:next|following|neighbou?ring|adjacent|previous|first) (?:sts?|stitch(?:es)?)\b|neighbou?rs?|(?:st|stitch) (?:beside|next to|after|before) (?:it|them))(?: (?:on|in) the (?:first|next|following) (?:round|rnd|row))?(?:,? (?:so that|to|so) [^,;.\d]*)?"


def _by_sides(match: re.Match[str]) -> str:
    """Put rows that are told by their sides, and how many there are, in one sentence."""
    right = re.sub(
        r"[*()]|; rep(?:eat)? from \*| across| to (?:the )?end(?: of [a-z ]+)?", "", match["right"]
    )
    wrong = re.sub(r",? and ", ", ", match["wrong"].strip(" ,"))
    wrong = re.sub(r"\b(?P<verb>p|purl)(?: the (?:others|rest)|)$", r"\g<verb> to end", wrong)
    if not re.search(r"\b(?:k|knit) ?\d", right) or re.search(r"[*(]", wrong):
        return match[0]
    if match["first"] and not re.match(r"sl", wrong, re.IGNORECASE):
        wrong = f"sl 1, {wrong}"
    return f"{match['before']}Work {match['rows']} rows: RS rows ({right.strip(' ,')}) across; WS rows {wrong}"


_SIDED = rf"(?:on (?:the )?)?{_RS}[,:]? (?:work )?(?P<right>[^.:]*?)[.;,] (?:and )?(?:on (?:the )?)?{_WS}[,:]? (?:work )?(?P<wrong>[^.;:]*?)[.;,] "

_ALONE = r"(?:now|from (?:now|here) on|for now|at this point|for the heel)"


def _only_on(match: re.Match[str]) -> str:
    """Put "you'll only be using the first needle, so 28 sts" as the rules know it."""
    if match["needle2"]:
        return f"Now work on the {match['needle2'].lower()} needle only: {match['n2']} sts"
    if match["needle"]:
        return f"Now work on the {match['needle'].lower()} needle only: {match['n']} sts"
    return f"Now work on the {match['which'].lower()} {match['m']} sts only"


_FABRIC = (
    r"(?:(?:plain|the) )*(?:plain|st\b|sts?t|stock|[a-z]* ?patt|rib)[^.;:]* (?:on|across|over)\b"
)
_NEEDLE = r"(?:needle|n) ?"
_HEEL_PART = r"(?:the |both |this )*(?:heel(?: turn| flap)?|turn|flap|short[- ]rows|wedge)"
_LOOPS = re.compile(r"taking up the loops? of the (?:last|first|outermost) st(?:itch)?", re.IGNORECASE)  # fmt: skip

_COMES = r"(?:next(?: comes)?|now(?: comes| for)?|then(?: comes)?|here comes|it is time for)"
_IS = r" (?:goes|(?:is|are)(?: all)? (?:made|done|turned|worked|knitted|knit)|happens?|lies|sits|comes|is|takes place)"
_FIRST_TWO = r"(?:N ?1 (?:and|&) N ?2|(?:the )?(?:first|1st) and (?:second|2nd) needles?|needles one and two)"
_ON_NEEDLES = rf"(?:on|over|across|with|along) (?:(?P<two>{_FIRST_TWO})|(?:the )?(?:{_N} )?(?:(?:sts|stitches) )?(?:of |on )?(?:needles? (?:\d(?:,? (?:and|&|\+) (?:needle )?\d)?)|the (?:first|last) (?:two |2 )?needles?|the (?:second|back|sole) needle)|(?:the )?(?:first|last|second) {_N} (?:sts|stitches)|(?:one |the first |the )?half (?:of )?(?:the |all )*(?:sts|stitches|round)|(?P<some>{_N}) (?:of (?:the|your|these) )?(?:sts|stitches)|the (?:sole|back)(?: (?:sts|stitches))?)"


_WAYS = Rewordings(
    (
        (  # "p22—these sts form the heel; hold the others"
            rf"(?<=[\w)\]])(?: ?—|,? (?:--?|–)) ?t(?=hese (?:(?:{_N} )?(?:heel )?{_STS} (?:now )?(?:are|form|make|will be|become)|(?:are|will be|make|form)(?: [a-z]+){{0,2}} (?:the |your )?heel)\b)",
            ". T",
        ),
        (  # "k16, turn, and on to the same needle sl 1, p31"
            r"\b(?P<turn>turn(?: the work)?)[,;]? (?:(?:and|then|now),? )*(?:back )?(?:on ?to|with|using|on|work(?:ing)? (?:with|on ?to)) (?:the |this |that )same needle,? (?=sl|slip|p\b|purl|p\d)",
            r"\g<turn>, ",
        ),
        (  # "until you have just finished a Row 3 and there are 9 DS on each side"
            rf"\b(?P<until>(?:un)?til+|when) (?:you(?: have|'ve)|having) just (?:finished|worked|completed|done|knitted) (?:a |an )?(?P<row>(?:row|{_RS}|{_WS})(?: ?\d+)?)(?:,? and|,) (?P<far>(?:(?:there (?:are|is)|you have|only|just) )*{_N} [^.;]*?)(?=[.;]|$)",
            r"\g<until> \g<far>, ending with \g<row>",
        ),
        (  # "until 10 sts are left between the DS and you have just finished a Row 3"
            rf"(?P<far>\b(?:un)?til+ [^.;]*{_N} [^.;]*?),? (?:and|when) you(?: have|'ve) just (?:finished|worked|completed|done|knitted) (?:a |an )?(?P<row>(?:row|{_RS}|{_WS})(?: ?\d+)?)(?=[.;]|$)",
            r"\g<far>, ending with \g<row>",
        ),
        (  # "…, knit across the heel once more (closing the other DS), and knit across the instep again"
            rf"(?P<b>[.;,]|^)(?: ?and| ?then)* ?(?:k|knit|work) (?:across )?(?:the |all the )*heel(?: {_STS})? (?:once more|again|a second time)(?: [(][^()\d]*[)]|,? (?:closing|working|picking up|knitting) [^.;\d]*?)?(?:[.;,]| and)(?: and| then)* (?:(?:k|knit|work) )?(?:across )?(?:the )?instep(?: {_STS})?(?: again| once more| as well| too)?(?=[.;]|$)",
            lambda match: ". Knit 1 round" if match["b"] else "Knit 1 round",
        ),
        (  # "The turn and the flap are both worked back and forth on N2 only"
            rf"(?:^|(?<=[.:;!] ))(?:(?:now|from here(?: on)?),? )?{_HEEL_PART}(?:,? and(?: then)? {_HEEL_PART})?,? (?:is|are|will be) (?:both |all |now )*(?:worked|knit|knitted|made)(?P<how> (?:back and forth|in rows|flat|to and fro))? (?:on|over|across) (?P<on>(?:(?:only|just|the) )*(?:(?:sts|stitches) (?:of|on) )?{_NEEDLE}[12]\b)",
            r"The heel is worked back and forth on \g<on>",
        ),
        (  # "DS (8 plain sts rem in the middle), k to end": what the text has told of the rows before
            rf"(?<=\bds) \((?:(?:there (?:are|should be|will be)|you have) )?(?:now )?{_N} (?:plain|unwrapped|single|ordinary|unworked) {_STS}\b[^()]*\)(?=[,.])",
            "",
        ),
        (  # "knit to the end, closing each DS, and then knit across the instep"
            rf"(?P<row>(?:^|[.:;] |, )(?:k|knit)(?: on)? (?:to (?:the )?end(?: of (?:the )?(?:row|heel)(?: {_STS})?)?|across (?:the )?heel(?: {_STS})?)(?:,? (?:working|closing|knitting|lifting|picking up|treating) [^,;.:]*)?),? (?:and |then |and then )(?:k|knit|work) (?:across )?(?:the |all the )*(?:(?P<n>{_N}) )?(?P<what>(?:(?:held|waiting|resting) )?instep|held|waiting|resting)(?: {_STS})?(?: to (?:the )?end(?: of (?:the )?(?:round|rnd))?)?(?=[.;]|$)",
            lambda match: (
                f"{match['row']}. Knit across the {match['n'] + ' ' if match['n'] else ''}{match['what']} sts"
            ),
        ),
        (  # "You'll only be using the first needle now, so 28 sts", "We just need the first 28 sts"
            rf"(?:^|(?<=[.:;!] ))(?:{_ALONE},? )?(?=[^.;]*\b(?:only|just)\b)(?:you|we)(?:'ll| will|'re| are)?(?: (?:only|just|now|be|going to|to))*(?: (?:us|need|work|knit))(?:e|ing|t?ing)?(?: (?:only|just|with|on|now))* the (?:(?P<needle>first|second|1st|2nd|heel) needle(?: only)?(?:,? {_ALONE})?(?:,|:| \()? ?(?:so |that's |that is |which is |which means |with |and )?(?:on )?(?:its |the |these )?(?P<n>{_N}) {_STS}(?: on it)?[)]?|(?P<which>first|last|next) (?P<m>{_N}) {_STS}(?: only)?|(?P<n2>{_N}) {_STS} (?:on|of) the (?P<needle2>first|second|1st|2nd) (?:needle|tip|needle tip))(?:,? {_ALONE})?(?=[.;:,]|$)",
            _only_on,
        ),
        (  # "Start going round again, plain on the heel needle, …", "Join for working in the round again: …"
            rf"\b(?P<go>g|r|(?P<anew>s|b)|(?P<join>j))(?:o(?:ing)? back to|tart|egin|eturn to|esume|oin (?:for|to|and)) (?:working|knitting|going|work|knit) (?:in (?:rounds|rnds|the (?:round|rnd))|(?:a?round and )?a?round)\b(?(anew) (?:again|once more)|(?: again| once more)?)(?(join)(?=[,:]? (?:with )?{_FABRIC}))(?:(?:[,:]| with| in|, with|, in)(?= {_FABRIC}))?(?P<in>(?= {_FABRIC}))?",
            lambda match: (
                f"{'W' if match['go'].isupper() else 'w'}ork in rounds again{',' if match['in'] is not None else ''}"
            ),
        ),
        (  # "Next rnd: Knit the 30 sts of N1 and leave them to rest": half a round
            rf"^(?:(?:next|following) (?:rnd|round): )?(?P<knit>k|knit)(?: (?:across|over|on))?(?: all)?(?: of)?(?: the)? ?(?P<n>{_N} )?(?:{_STS} )?(?:(?:of|on) )?(?:the )?(?P<on>{_NEEDLE}[12]\b)(?=(?:,? and|,? then|[,;.])(?: and| then)* (?:(?:they|these|it)(?: {_STS})? (?:now |will )*(?:wait|rest|stay)|leave|let|put|set|place|hold|keep|rest)\b|\.?$)",
            lambda match: (
                f"Knit {'the ' + match['n'] + 'sts of ' if match['n'] else ''}{match['on']}"
            ),
        ),
        (  # "N1: work rnd 1 of patt, then leave on hold. N2: in rows, eye of partridge:"
            rf"^(?:{_NEEDLE}(?P<a>[12]): ?(?:work|knit|k|patt)\b[^.;:]*?|(?:work|knit|k|patt)\b (?:across )?(?:all of )?{_NEEDLE}(?P<a2>[12])\b[^.;:]*?)(?:[,;.]? (?:and |then )*(?:leave|hold|put|keep|rest|place)(?: it| these| them)?(?: {_STS})?(?: on hold| aside| waiting| to rest| at rest| on a holder| unworked| alone)?)?[.;] {_NEEDLE}(?P<b>[12]):?(?: only| alone)?,? [^.;:\d]*?(?:\bin rows|\bflat|\bback and forth)\b[^.;\d]*(?P<end>[:.])$",
            _one_waits,
        ),
        (  # "RS rows: *sl 1, k1; rep from * to end. WS rows: sl 1, p to end. Work 28 rows in all"
            rf"(?P<before>^|[.;:] )(?P<first>slip (?:the )?first {_ST} of (?:every|each) row[;,.] )?{_SIDED}(?:work |knit )?(?:a total of )?(?P<rows>{_N}) rows(?: (?:in all|in total|altogether|like this|in this way|so))?(?=[.,;]|$)",
            _by_sides,
        ),
        (  # "the second half of the sts (28 sts)"
            rf"\bthe (?P<which>first|second|other|last) half of (?:the |these |all )*(?:{_STS}|round|rnd),? ?[(]?(?P<n>{_N})(?: {_STS})?(?:[)]|,|(?= (?:on|for|to)\b))",
            lambda match: (
                f"the {'first' if match['which'].lower() == 'first' else 'last'} {match['n']} sts"
            ),
        ),
        (  # "for a further 26 rows"
            rf"\bfor (?:a further|another) (?P<n>{_N}) (?=rows\b|rounds\b|rnds\b)",
            r"for \g<n> more ",
        ),
        (  # "Row 5: Decrease as in Row 1"
            r"(?P<label>\b(?:row|rnd|round) \d+: )(?:dec(?:rease)?|inc(?:rease)?|shape)(?: [a-z]+)? (?:as|like)(?: in| for| on)? (?P<row>row|rnd|round) (?=\d+\b)",
            r"\g<label>As \g<row> ",
        ),
        (  # "… for 28 rows: on the right side slip 1, knit 1 across; on the wrong side slip 1 and purl"
            rf"{_FLAP}(?: for (?P<rows>{_N}) rows)?(?:,? as follows)?: (?:on (?:the )?)?{_RS},? (?P<right>[^;.]*?)[;,] (?:on (?:the )?)?{_WS},? (?P<wrong>[^;.]*?){_UNTIL}(?=[.]|$)",
            _flap,
        ),
        (  # "… as follows: *slip 1, k1* on right-side rows, slip 1 and purl to end on wrong-side rows"
            rf"{_FLAP}(?: for (?P<rows>{_N}) rows)?(?:,? as follows)?: (?P<right>[^;.]*?) on (?:the )?{_RS}[;,] (?:and )?(?P<wrong>[^;.]*?) on (?:the )?{_WS}{_UNTIL}(?=[.]|$)",
            _flap,
        ),
        (  # "on these heel sts only (24 sts)"
            rf"\b(?P<on>on|over) (?:these|the)(?P<heel> heel)? {_STS} (?:only|alone) \((?P<n>{_N})(?: {_STS})?\)",
            r"\g<on> these \g<n>\g<heel> sts only",
        ),
        (
            rf"(?P<sign>[;,.])(?P<turn> (?:and )?turn,?)?(?: and)? (?:now )?(?:work|go on|continue)(?:ing)?(?: back and forth)? (?:on|over) (?:them|these)(?: only| alone),?(?: (?:while|with|and|but))? (?:holding |leaving |keeping |leave |keep |hold )?(?:the )?(?:remaining|other|rest of the) (?P<n>{_N})(?: {_STS})?(?: (?:left|on hold|unworked|wait\w*|rest\w*|held|for the instep|are|stay|on (?:the|its|a|another) [a-z ]*))*(?=[.;]|$)",
            _worked_alone,
        ),
        (  # "work outward … . Continue until every stitch is in work"
            r"(?P<out>\b(?:outwards?|second half)\b[^.;]*(?:; turn)?)[.;] (?:continue|go on|carry on|keep on|repeat|do so|do this)(?: (?:like this|in this way|thus|so))?,? until (?=(?:all|every|each|no)\b)",
            r"\g<out>, until ",
        ),
        (  # "K all heel sts": across them
            r"(?P<before>^|[.;:)] )(?P<k>k)(?:nit)? all (?:of )?(?:the )?(?P<n>(?:\d+ )?)heel (?:sts|stitches)(?=[.;,]|$)",
            lambda match: (
                f"{match['before']}{'K' if match['k'].isupper() else 'k'}nit across the {match['n']}heel sts"
            ),
        ),
        (  # "Make a double stitch. Purl to the end": one row
            r"(?P<ds>\b(?:make (?:a |one )?(?:double (?:st|stitch)|ds)|ds))[.;] (?P<verb>knit|purl|k|p) (?P<to>to|until|as far as|back|across)\b",
            lambda match: f"{match['ds']}, {match['verb'].lower()} {match['to']}",
        ),
        (  # "Knit 27 sts. Wrap the next st and turn.": one row
            rf"(?P<row>\b(?:knit|purl|k|p) (?:to |until )?[^.;:]*)[.;] (?P<w>w)(?P<rap>rap(?: (?:the |that )?(?:next )?(?:{_ST}|one)| it)?,? (?:and )?turn)\b",
            r"\g<row>, w\g<rap>",
        ),
        (  # "k across the 8 plain sts in the middle and then along the double sts, both legs together, to the end"
            r"\b(?P<verb>knit|purl|k|p) ?(?=(?:across|along|over|the|\d))(?:(?!\bturn|\bw&t|\btog\b|\b(?:ds|rows?|rounds?|rnds?)\b)[^.;*:]){0,60}?\b(?:plain|middle|central|cent(?:er|re)|single|left-hand|right-hand)\b(?:(?!\bturn|\bw&t|\brows?\b|\brnds?\b|\brounds?\b)[^.;*:]){0,60}?\b(?:double st(?:itche)?s|DS)\b(?:(?!\bturn|\bw&t)[^.;*:]){0,60}?\bto (?:the )?end(?: of (?:the )?(?:heel|toe|row|needle))?(?=[.;,]|$)",
            r"\g<verb> to end, working each DS as one",
        ),
        (  # "rep the last 2 rows to 10 sts between DS"
            rf"(?P<rep>\brep(?:eat)?\b[^.;]*) to (?=(?:only )?{_N} (?:[a-z]+ )?{_STS} (?:(?:are |lie |remain |left )*(?:between|in the (?:middle|cent(?:er|re)))|unwrapped|unworked))",
            r"\g<rep> until ",
        ),
        (  # "until only 10 sts in the middle aren't wrapped"
            rf"(?P<until>\b(?:un)?til (?:only )?{_N} (?:[a-z]+ )?{_STS}(?: [a-z]+){{0,4}}?) (?:aren't|are not|(?:have|has) not been|haven't been|(?:were|have) never(?: been)?) wrapped\b",
            r"\g<until> are unwrapped",
        ),
        (  # "until 10 sts in the middle have no wrap"
            rf"(?P<until>\b(?:un)?til (?:only )?{_N} (?:[a-z]+ )?{_STS}(?: [a-z]+){{0,4}}?) (?:have no|are without(?: a)?) wraps?\b",
            r"\g<until> are unwrapped",
        ),
        (  # "k to 1 st before the end of the heel sts"
            rf"\b(?P<verb>knit|purl|k|p) (?:to|until) (?P<n>\d+|one|two) {_ST} before (?:the )?end of (?:the )?heel(?: {_STS})?(?=[,;])",
            lambda match: f"{match['verb']} to last {match['n']} sts",
        ),
        (  # "Repeat Heel Rows 3 and 4"
            r"(?P<rep>\b(?:rep(?:eat)?|work) (?:the )?)heel (?=rows \d)",
            r"\g<rep>",
        ),
        (  # "sts 1-28 of the round": the first 28
            r"\b(?P<on>on|over|across|uses?|takes?) (?:sts|stitches) 1 ?(?:-|–|to) ?(?P<n>\d+)\b",
            r"\g<on> the first \g<n> sts",
        ),
        (  # "DS, p rem heel sts, turn": behind the first stitch of a row
            r"(?P<first>\b(?:ds|double (?:st|stitch)|sl(?:ip)? ?1)\b[^,;.]*,) (?P<verb>k|knit|p|purl) (?:all |the |of |rem |remaining |rest |other )+heel (?:sts|stitches)(?=,? (?:and )?turn)",
            r"\g<first> \g<verb> to end",
        ),
        (  # "then 12 along the flap edge and 1 at the corner picked up"
            rf"(?P<then>,? (?:and |then )+)(?P<what>{_N} {_ALONG}(?: and {_N} {_ALONG})?) picked up\b",
            r"\g<then>pick up \g<what>",
        ),
        (
            rf"\bp(?:u|ick(?:ing)? up)(?: ?(?:&|and) ?k(?:nit)?)? (?P<parts>{_ONE_PICKED}(?:{_AND}{_ONE_PICKED}){{2,7}})(?= ?[,.;:(=–—-]|$)",
            _all_picked,
        ),
        (  # "knit across the second needle, then knit all the heel sts. Knit the second needle once more"
            r"(?P<before>\b(?:knit|k|work) (?:across |over )?)(?:all )?(?:the )?(?:second|2nd|other) needle(?P<then>,? (?:and )?(?:then )?(?:knit|k|work) (?:across |over )?(?:all )?(?:of )?(?:the )?heel (?:sts|stitches))(?P<rest>[^.;]*)(?P<more>[.;,] (?:and |then )*(?:knit|k|work) (?:across |over )?(?:the )?(?:second|2nd|other) needle (?:again|once more))?",
            _instep_and_heel,
        ),
        (  # "knit needle 1 and turn. Work on the 18 sts of needles 1 and 4 only"
            rf"(?P<lead>\bturn(?:ed)?\b[^*;]{{0,60}}?\b(?:work|worked|cont\w*|made|knitted)\b[^.;*\d]{{0,40}}? (?:on|over|across) )(?:the |these |those )?(?P<n>{_N}) (?:heel )?{_STS} {_AROUND}(?: only| alone)?",
            r"\g<lead>these \g<n> sts only",
        ),
        (
            rf"(?P<lead>\bturn(?:ed)?\b[^*;]{{0,60}}?[.;] )(?:the |these |those )?(?P<n>{_N}) {_STS} {_AROUND} (?=(?:are|become|form|make) the heel\b)",
            r"\g<lead>These \g<n> sts ",
        ),
        (  # "with RS facing pick up and knit …", without a comma between
            r"\b(?P<lead>with (?:the )?(?:rs|right side|ws|wrong side)(?: of (?:the )?[a-z]+)? facing(?: you)?(?: and (?:mc|cc|[a-z]+ yarn))?) (?=pick(?:ing)? up)",
            r"\g<lead>, ",
        ),
        (  # "PU 12 sts along flap and 1 at corner"
            rf"\bp(?:u|ick up)(?: ?(?:&|and) ?k(?:nit)?)? (?P<a>{_N})(?: {_ST})?(?: \([^()]*\))? (?P<where>{_ALONG}),?(?: (?:and|plus|then))* (?P<b>{_N})(?: more| extra)?(?: {_ST})? (?P<there>{_ALONG})",
            _both_picked,
        ),
        (  # "k until 1 st remains before the last wrapped st"
            rf"\b(?P<verb>knit|purl|k|p) (?:until (?:there (?:is|are) )?(?P<n>\d+|one|two) (?:st|sts|stitch|stitches) (?:remains?|is left|are left|left|rem)|to within (?P<n2>\d+|one|two) (?:st|sts|stitch|stitches)) (?:before|of) (?=the (?:last |previous )?{_TURNED}\b)",
            lambda match: f"{match['verb']} to {match['n'] or match['n2']} st before ",
        ),
        (  # "to 1 st before the last wrapped st on this side"
            rf"(?P<to>\bbefore the (?:last |previous |first )?{_TURNED}) (?:on|at|of) (?:(?:this|that|the same|its own) (?:side|end)|the (?:left|right|near|far)(?: side| end)?)(?: of (?:the |your )?(?:heel|needle|work|row))?(?=[,.;]|$| and\b)",
            r"\g<to>",
        ),
        (  # "wrap next st again and turn"
            r"\b(?P<wrap>wrap (?:the )?next (?:st|stitch)),? (?:once )?(?:again|a second time|more|once more|for (?:a|the) second time|anew)(?=,? (?:and )?turn\b)",
            r"\g<wrap>",
        ),
        (  # "work in patt to the new st, k2tog (new st and the st after it), k to end"
            r"\b(?P<k>k)?(?(k)(?:nit)?|work)(?: (?:even|in (?:patt\w*|rib)|as set))* (?:to|until|up to) (?:the |your )?(?:new|cast[- ]on|added|extra) (?:st|stitch)\b,? (?:and |then )?(?:k2tog|ssk|k 2 tog|knit (?:it|two|2) tog(?:ether)?[^,;.(]*)(?: ?\([^()]*\))?,? (?:and |then )?(?:k|knit|work)\b(?: in (?:patt\w*|rib))?(?: to (?:the )?end(?: of (?:the )?(?:round|rnd))?| the rest)",
            "knit, decreasing 1 st",
        ),
        (
            r"(?P<then>[,;.] (?:and )?)(?:then )?(?:once|one time) around (?:everything|all(?: of)?(?: the)? (?:sts|stitches|needles)|both needles|the whole sock)\b",
            r"\g<then>then knit 1 round",
        ),
        (  # "until you have worked the last stitch on each side"
            rf"\buntil you(?:['’]ve| have)(?: also| now)? (?P<did>worked|used|knit(?:ted)?|taken in|closed|turned) (?P<what>(?:the |both |all |every |each )*(?:very )?(?:first|last|outermost|edge|end|heel|remaining)[^.;,]*?{_ST}(?: (?:on|at) (?:each|both|either) (?:sides?|ends?|edges?))?)(?=[.;,]|$)",
            r"until \g<what> have been \g<did>",
        ),
        (
            r"\b(?P<k>knit|k) (?:across|over) the heel(?: sts| stitches)? with (?:its|the|their|all) wraps\b",
            r"\g<k> to end of heel, lifting the wraps",
        ),
        (  # "K to end of heel, taking up the loops of the last st, and go on round the instep"
            r"\b(?P<row>(?:knit|k) (?:to (?:the )?end of (?:the )?heel|(?:across |over )?the (?:rest of the )?heel)(?: sts| stitches)?(?:,? (?:taking up|lifting|working|picking up|closing|with) [^.;:*\d]*?)?)(?:,? (?:and )?(?:then )?)(?:(?:carry|go|keep|knit|work) on|continue|keep going|(?<=and )on|(?<=then )on)(?: (?:in the round|knitting|working))? (?:round|around|across|over|along|on ?to) (?:the |your )?(?:instep|second needle|other needle|front)(?: needle| sts| stitches)?(?=[.;,]|$)",
            lambda match: f"{_LOOPS.sub('lifting the wrap', match['row'])}. Knit across the instep",
        ),
        (  # "The heel, on needles 1 and 2 together: 20 sts", "Next comes the heel, over the first 20 sts"
            rf"(?P<b>^|[.;] )(?:(?:{_COMES},? )?(?:(?:all of |the whole of )?the )?(?:short-row )?(?P<what>heel|short rows)(?: turn)?(?:,|:|{_IS}|(?! on the last))|(?:make|do|work) the (?:short-row )?(?P<what2>heel)|(?P<what3>heel): work(?=[^.;:\d]*\bneedles?\b)) ?(?P<o>\()?(?P<at>{_ON_NEEDLES})(?:,? (?:together|only|alone|held together))*(?(o)\))(?=[.;:,(]| \(|$)",
            lambda match: (
                f"{match['b']}The heel is worked {'on needles 1 and 2' if match['two'] else 'on ' + match['some'] + ' sts' if match['some'] else match['at']}"
            ),
        ),
        (  # a strand lifted against a hole and knitted together with its neighbour adds nothing
            rf"(?:{_PICKED_AT}|{_AGAINST}{_PICKS} (?:{_ONE}|each|any|that) (?:loose |long )?(?:strand|loop|thread|bar|yarn)(?: there| {_IN_EACH})?),? (?:and |then )*(?:k(?:nit)?|work)(?:ting|ing)? {_THEM} {_BESIDE}",
            "",
        ),
    )
)


def with_heels(said: MappedText) -> MappedText:
    """Return a line with what it tells of a heel said as the rules know it."""
    return with_rows_by_turns(_WAYS.put_in(said))
