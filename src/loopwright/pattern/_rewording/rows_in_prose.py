# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows that stand in one sentence with what is done with them: "work 28 rows: RS rows …; WS rows …"."""

from __future__ import annotations

import re
from collections.abc import Callable

from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import A_YARN
from loopwright.pattern._words import NUMBER_WORDS, figure, whole_number

__all__ = ["ROWS_IN_PROSE"]

_ONES = "|".join(NUMBER_WORDS[:12])
_N = r"\d+(?: ?[(\[][^)\]]*[)\]])?"


def _more_or_so_many(match: re.Match[str]) -> str:
    lead = ". " if match["lead"] else ""
    if re.search(
        r"\brows?\b(?!.*\bthe last).*\blike (?:this|that)", match[0], re.IGNORECASE
    ) and not _OTHERS.search(match[0]):
        return f"{lead}Work {match[2]} {match[3]} in this way"  # those told are of them
    return f"{lead}Work {match[2]} more {match[3]} like this"


_OTHERS = re.compile(r"\b(?:another|further|more|other|such|same)\b", re.IGNORECASE)


_FEW = rf"(?:[1-9]|{'|'.join(NUMBER_WORDS[:6])})"
_RIB_IN_WORDS = rf"(?:(?:in|of) )?(?:(?P<k>{_FEW}) (?:plain|knit)(?:,? and|,)? (?P<p>{_FEW}) purl|(?:knit|k) ?(?P<k2>\d),? (?:purl|p) ?(?P<p2>\d)\b(?![,.] ?(?:k|p)\b)(?: in (?:the )?rounds?| around| round and round)?)(?! (?:sts?|stitch\w*|rows?|rnds?|rounds?)\b)(?: rib\w*)?(?: alternately| by turns| in turn)?"
_AS_FAR = rf"(?P<far>(?:{_N}|{'|'.join(NUMBER_WORDS)}) (?:rounds|rnds|rows)|\d[\d.½¼¾]*(?: ?[(\[][^)\]]{{1,40}}[)\])]*)? ?(?:cm|in\b|inch(?:es)?|[\"”″]))"


def _ribbed_in_words(match: re.Match[str]) -> str:
    """Put "two plain, two purl for 40 rounds" as "work in k2, p2 rib for 40 rounds"."""
    k, p = (whole_number(match[one] or match[f"{one}2"]) for one in "kp")
    return f"{match['b']}Work in k{k}, p{p} rib for {match['far']}"


def _over_those(match: re.Match[str]) -> str:
    """Put "work on the remaining 32 sts in rib for 8 rows" as two sentences."""
    lead = "Work" if match[1] != "; " else "work"
    return (
        f"{match[1]}{lead} back and forth over {match['which']}{match['n']} {match['what']} only. "
        f"Work {match['far']}"
    )


_MANY = r"\d|an?|one|two|three|four"
_ONE_EACH = r"(?:,? (?:and (?:put|place) |giving |so that )?(?:one|1|half of them|each needle)(?: st)?(?: (?:to go|gets|one|goes|of them))*(?: (?:for|on(?: ?to)?) (?:each|either|every)(?: of the)?(?: two)? needles?)?)?(?=[.;,:(]|\s*$| \(| and\b)"


def _at_corners(match: re.Match[str], times: int = 1) -> str:
    """Put "pick up 2 sts at each corner" for words that say the same of corners or needles."""
    said = match[2].lower()
    many = times * ({"a": 1, "an": 1}.get(said) or whole_number(said))
    pick = "pick" if match[1].strip() in (",", ";") else "Pick"
    return f"{match[1]}{pick} up {many} {'st' if many == 1 else 'sts'} at each corner"


def _ribbed(match: re.Match[str]) -> str:
    lead = "Work" if match[1].strip() in ("", ".") else "work"
    return f"{match[1]}{lead} {match[2]} {match[3]} in rib"


def _at_ends(match: re.Match[str]) -> str:
    total = match[3] if match.re.groups > 2 else None
    return _at_corners(match, 2) + (f" ({total} sts)" if total else "")


def _rows_in_brackets(match: re.Match[str]) -> str:
    over = f"Work back and forth over {match['over']}. " if match["over"] else ""
    return f"{over}{match['a']}. {match['b']}. Work rows 1 and 2 {match['n']} times"


_ROW_LIST = r"(?=[^.]*\b(?:(?:rs|ws|right[- ]side|wrong[- ]side) rows?\b|row 1\b[^.]*\brow 2\b))"
_SIDE_FIRST = r"(?P<s{n}>rs|ws|right[- ]side|wrong[- ]side) rows?:?,? (?P<r{n}>[^;]+?)"
_SIDE_LAST = r"(?P<r{n}>[^;]+?) (?:on|in) (?:the |all |every )?(?P<s{n}>rs|ws|right[- ]side|wrong[- ]side) rows?"
_NUMBERED_ROW = r"(?P<s{n}>row {n}) ?(?:\([^)]*\) ?)?: ?(?P<r{n}>[^;]+?)"
_TWO_ROWS = tuple(
    re.compile(form.replace("{n}", "1") + r"(?:; ?|, )(?:and )?" + form.replace("{n}", "2") + r"(?:,? and [^*;]*)?$", re.IGNORECASE)
    for form in (_SIDE_FIRST, _SIDE_LAST, _NUMBERED_ROW)
)  # fmt: skip


def _rows_listed(match: re.Match[str]) -> str:
    """Put "work 28 rows: RS rows (sl 1, k1) across; WS rows sl 1, p to end" row by row."""
    told = (form.match(match["rows"].strip()) for form in _TWO_ROWS)
    found = next((one for one in told if one is not None), None)
    if found is None:
        return match[0]
    lead = match["lead"].replace(";", ".")
    rows = ""
    for number in "12":
        side = found["s" + number].lower()
        mark = "" if side.startswith("row") else " (RS)" if side[0] == "r" else " (WS)"
        row = re.sub(r"^(purl|knit|p|k) (?:back|across)$", r"\1", found["r" + number].strip())
        rows += f"Row {number}{mark}: {row[0].upper()}{row[1:]}. "
    many = match["n"]
    odd = many.isdigit() and int(many) % 2
    far = str(int(many) - 1) if odd else many
    last = " Work row 1 once more." if odd else ""
    return f"{lead}{rows}Rep rows 1 and 2 until you have {far} rows.{last}"


def _next_numbered(match: re.Match[str]) -> str:
    before = match.string[: match.start()]
    if before.count("(") + before.count("[") > before.count(")") + before.count("]"):
        return match[0]
    return f". {match[1].capitalize()} {match[2]}"


_SLIPPED = r",? (?:and )?(?:always )?slip(?:ping)? (?:the )?first st(?:itch)?(?: (?:of|on|in) (?:the |every |each |all )*[^,.;]*rows?\b)?(?: (?:purlwise|knitwise|pwise|kwise|with (?:the )?yarn (?:in|at) (?:the )?(?:front|back)|wyi[fb]))*(?=[.,;:]|$)"
_IN_ROWS = WordForm(
    r"\b(?:st\.? st|stockinette|stocking stitch|(?:knit|purl)(?: \d+| one| a)? rows?|plain rows?)\b[^.:]*$",
)


def _slipped_first(match: re.Match[str]) -> str:
    """Leave the words where rows are not told stitch by stitch; those that are begin so already."""
    return match[0] if _IN_ROWS.search(match.string[: match.start()]) else ""


def _on_and_on(match: re.Match[str]) -> str:
    """Put "row 3 and on: …, turn. Stop when 14 are left" as a row and its repeat."""
    left = re.search(
        rf"\b({_N})(?: (?:sts|stitches))? (?:are |is )?(?:left|remain\w*)\b", match["end"]
    )
    end = f"{left[1]} sts remain" if left else match["end"]
    return f"{match['label']}{match['row']}. Repeat this row until {end}."


def _of_the_flap(match: re.Match[str]) -> str:
    """Leave the name out: "rep flap rows 1 and 2 another 14 times and flap row 1 once more"."""
    return re.sub(r"\b(?:flap|heel flap|pattern|patt) (?=(?:rows?|rounds?|rnds?) \d)", "", match[0])


def _each_round(match: re.Match[str]) -> str:
    """Put "decrease in every round: *k3, k2tog*; *k2, k2tog*" round by round."""
    rows = re.findall(r"\*([^*]+)\*", match["rows"])
    return " ".join(f"Next rnd: *{row.strip(' ,;')}; rep from * to end." for row in rows)[:-1]


_NUMBERS = {"A": "1", "B": "2", "C": "3", "D": "4", "I": "1", "II": "2", "III": "3", "IV": "4"}
_ROMAN = r"(?-i:I{1,3}|IV)"


def _lettered(match: re.Match[str]) -> str:
    first, more = _NUMBERS[match[2]], match[3]
    return f"{match[1]} {first}" + (f" and {_NUMBERS[more]}" if more else "")


_ON_SIDE = r"(?:on |across )?(?:the )?(?P<side>instep|sole|heel|front|back|palm) needle(?:, ?| (?=[*(\[]))(?=[*(\[]|k|p|knit|purl|work|rib|ssk|skp)"


def _by_roman(match: re.Match[str]) -> str:
    """Put numbers for needles in "I: k to last 3 sts, …; II: k1, …; III: same as I"."""
    text = re.sub(rf"(?<![A-Za-z])({_ROMAN}): ", lambda m: f"needle {_NUMBERS[m[1]]}: ", match[0])
    return re.sub(rf"\bas ({_ROMAN})(?=[.;,]|$)", lambda m: f"as needle {_NUMBERS[m[1]]}", text)


def _two_in_the_middle(match: re.Match[str]) -> str:
    """Put "knit the 11 sts, taking two together in the middle" stitch by stitch."""
    plain = figure(match[2]) - 2
    return f"{match[1]} {plain // 2}, k2tog, knit {plain - plain // 2}"


_ORDINAL = "first|1st|second|2nd|third|3rd|fourth|4th"


def _told_behind(match: re.Match[str]) -> str:
    """Put a shaping row that is told behind its schedule before it."""
    how = match["how"].lower()
    more = re.sub(r"\d+", lambda number: str(int(number[0]) - 1), match["n"])
    count = re.sub(r"[=(),]+(?=\s*\d)|\)$", "", match["count"] or "").strip()
    end = f" ({count})" if count else ""
    return (
        f"{match['lead']}Next row ({how}): {match['row']}. "
        f"Rep {how} row every {match['nth']}th row {more} more times{end}"
    )


def _each_time(match: re.Match[str]) -> str:
    """Put "[pick up and k 1 st, k28] twice" as often as it is worked."""
    word = match["n"].lower()
    many = 2 if word in ("twice", "once more") else figure(word.split()[0])
    return ", ".join([(match["row"] or match["row2"]).strip(" ,;")] * many)


def _on_two_needles(match: re.Match[str]) -> str:
    return f"until there are {match['n']} sts on needle {match['a']} and {match['n']} sts on needle {match['b']}"


ROWS_IN_PROSE: tuple[tuple[str, str | Callable[[re.Match[str]], str]], ...] = (
    # "work 4 cm so", "4 cm of this", "three more inches plain", "two inches more of plain knitting"
    (
        r"(?P<b>^|[.;] )(?:(?:work|knit|do) )?(?P<far>\d[\d.½¼¾]*(?: ?[(\[][^)\]]{1,40}[)\])]*)? ?(?:cm|in\b|inch(?:es)?|[\"”″]))(?P<more> more)? (?:so|thus|of (?:this|that|it)|in this manner)(?=[.;,]|$)",
        r"\g<b>Work \g<far>\g<more> like this",
    ),
    (
        r"(?P<b>^|[.;,] )(?P<then>(?:now|then|and) )*(?P<far>\d[\d.½¼¾]*(?: ?[(\[][^)\]]{1,40}[)\])]*)?)(?: more(?= (?:cm|in)))? ?(?P<unit>cm|in\b|inch(?:es)?|[\"”″])(?: more)?(?: of| in)? (?:plain(?: knitting)?|stocking stitch|stockinette|st st)(?=[.;,]|$)",
        r"\g<b>\g<then>knit \g<far> \g<unit> plain",
    ),
    (
        r"\b(?P<v>knit|work|go|rib)(?: on| straight| plain)*,? for (?P<far>\d[\d.½¼¾]*(?: ?[(\[][^)\]]{1,40}[)\])]*)?) more (?P<unit>cm|in|inch(?:es)?)(?=[.;,]|$)",
        r"\g<v> a further \g<far> \g<unit>",
    ),
    # "pick up and knit 6 along the flap and take 4 from needle 1": those that the round begins amid
    (
        rf"(?P<b>\bpick up[^.;:]*?)(?:,|;|,? and)? (?:then )?(?:(?:take|slip|move|borrow|transfer) (?:over )?(?:the first )?(?P<n>{_N})(?: sts?| stitches)?(?: over)? (?:from|of)|(?<=and )(?:take )?the first (?P<m>{_N})(?: sts?| stitches)? of) (?:the )?(?:needle 1|n1|1st needle|first needle)(?: (?:to|onto|on to) (?:this|the third|needle 3|the same|it)(?: needle| one)?)?(?=[.;,]|$)",
        lambda match: (
            f"{match['b'].removesuffix(' and')}, then knit the first {match['n'] or match['m']} sts of needle 1 onto it"
        ),
    ),
    # "only the first 20 stitches move", "only the first 20 sts are in play"
    (
        rf"(?P<b>^|[.;] )only the first (?P<n>{_N}) (?:sts|stitches) (?:move|take part|are (?:in play|in use|used|needed))(?: (?:now|here|in this part|from here on))?(?=[.;,]|$)",
        r"\g<b>Only the first \g<n> sts are worked",
    ),
    # "two plain, two purl for forty rounds", "rib 12 rounds, two plain and two purl"
    (
        rf"(?P<b>^|[.;:] )(?:(?:work|knit|rib),? )?{_RIB_IN_WORDS},? (?:for |(?:un)?til+ (?:you have|there are) )?{_AS_FAR}",
        _ribbed_in_words,
    ),
    (
        rf"(?P<b>^|[.;:] )(?:(?:work|knit|rib)(?: for)?,? )?{_AS_FAR},? {_RIB_IN_WORDS}(?=[.;,]|$)",
        _ribbed_in_words,
    ),
    (  # "rib 5 more rounds like this one", "rib two rounds in the same way"
        rf"(^|[.;,] (?:and |then )*)rib (?:for )?(?:another |a further )?({_N}|{_MANY}|five|six|seven|eight|nine|ten|twelve) (?:more |further )?(rounds?|rnds?|rows?)\b(?: (?:more|straight|even|plain))?(?:,? (?:knitting|keeping|purling|working|like|as|in the same|with(?! {A_YARN}))\b(?: (?!then\b)[a-z'-]+)*)?(?=[.;]|$|, (?:and |then |change|cast|bind)| (?:in|with|using) {A_YARN})",
        _ribbed,
    ),
    (  # "in each corner pick up two sts, one for each needle"
        rf"(^|[.;,] )(?:then |and )?(?:at|in|from) (?:each|both|either|the|every)(?: of the)?(?: two)? (?:corners?|gaps?)(?: (?:of|between|at) [a-z ]+?)?,? (?:pick up|lift|raise)(?: and k(?:nit)?)? ({_MANY})(?: (?:extra|more|new|additional))?(?: (?:sts?|stitch(?:es)?|strands?|loops?|bars?))?\b{_ONE_EACH}",
        _at_corners,
    ),
    (
        rf"((?:^|[.;,] )(?:k(?:nit)? (?:a?round|(?:a?cross |over |all |all the )*(?:both )?(?:needles|ndls)), (?=picking))?)(?:then |and )?(?:with (?:each|either) needle,? )?pick(?:ing)? up(?: and k(?:nit)?)? ({_MANY})(?: (?:extra|more|new|additional))* (?:sts?|stitch(?:es)?) (?:at|on|from) (?:each|either|both)(?: the)? ends? of (?:each|both|either)(?: of the)?(?: two)? (?:needles?|ndls?)(?: =(?= (?:\d+(?: ?\([\d, ]+\))? per (?:needle|ndl), )?(\d+(?: ?\([\d, ]+\))?)(?: (?:sts|stitches))?(?: in)? (?:total|all)\.?\s*$)[^.]*|{_ONE_EACH})",
        _at_ends,
    ),
    (
        rf"(^|[.;,] )(?:then |and )?with (?:each|either) needle,? pick up(?: and k(?:nit)?)? ({_MANY})(?: (?:extra|more|new|additional))* (?:sts?|stitch(?:es)?) (?:at|on|from) (?:each|either|both) ends?{_ONE_EACH}",
        _at_ends,
    ),
    (
        rf"(^|[.;,] )(?:then |and )?pick up(?: and k(?:nit)?)? ({_MANY})(?: (?:extra|more|new|additional))* (?:sts?|stitch(?:es)?) (?:at|in) (?:the (?:two )?(?:corners|gaps)|either corner)(?: (?:at|on) (?:both|each|the) sides?)?{_ONE_EACH}",
        _at_corners,
    ),
    (
        rf"\b(?:un)?til+ (?:another |about )?({_N} ?(?:cm|mm|\"|inches|inch|ins?\b)) (?:have|has|are|is) (?:been )?(?:worked|knit(?:ted)?|done|made|completed)\b",
        r"for \1",
    ),
    (  # "repeat rounds 1 and 2 until 28 sts remain. There are 2 sts fewer between the decs each time."
        r"\b((?:rep(?:eat)?|work) (?:the |these )?(?:last |both )?(?:\d |two )?(?:rounds|rnds|rows)\b[^.;]*\b(?:remain|rem|left|sts|stitches))[.;:] (?:(?:note that|now|each time|every time|here),? )?(?:there (?:are|will be)|you (?:will )?have|work|knit|this leaves) (\d|one|two|three|four) ((?:sts?|stitch(?:es)?)? ?(?:fewer|less|more)) ((?:sts?|stitch(?:es)?) )?(between|before|after)\b",
        r"\1, with \2 \3 \4\5",
    ),
    (r"\b(pick(?:ing)? up(?: and knit)? (?:the )?\d+(?: ?[(\[][^)\]]*[)\]])?) loops\b", r"\1 sts"),
    (
        r"\b(k|p|knit|purl) (?:the )?(?:false )?seam st(?:itch)?\b",
        r"\g<1>1",
    ),
    (  # "knit one round plain and make a stitch at the end of it"
        r"\b(?:knit|work) (?:one|1|a) (?:plain )?(round|rnd|row)(?: plain)?,? (?:and |but )?(?:mak|increas)(?:e|ing) (?:a|one|1) st(?:itch)? at (?:the |its )?end(?: of (?:it|the (?:round|rnd|row)))?",
        r"Next \1: knit to end, m1",
    ),
    (  # "repeat these 7 rounds until you have decreased eight times in all, when there will be 57 sts"
        rf"(?<=until )[^.;*\d]*?,? when (?:there (?:will be|are)|you (?:will )?have) ({_N}) (sts|stitches)\b",
        r"\1 \2 remain",
    ),
    (  # "until 14 stitches remain on the first needle and 14 on the third. 56 stitches."
        rf"(?<=until )\d+ (?:sts|stitches) (?:remain|are left) on (?:the )?(?:{_ORDINAL})(?: needle)?(?:,? and \d+ on (?:the )?(?:{_ORDINAL})(?: needle)?)?\. (\d+) (sts|stitches)\.",
        r"\1 \2 remain.",
    ),
    (  # "[pick up and k 1 st, k28] twice"
        r"(?:[\[(](?P<row>(?![^\])]*\bpick up and knit \d)(?=[^\])*]*\bpick (?:it )?up\b)[^\])*:]+)[\])]|\*(?P<row2>(?=[^*;]*\bpick up\b)[^*;:.]+)[;,] rep(?:eat)? from \*) ?(?P<n>twice|two times|three times|four times|[234] times|once more)(?=[.,;:]|$)",
        _each_time,
    ),
    (  # "until needles A and C have 6 sts each", "until 6 sts remain on each of needles 1 and 3"
        rf"\buntil (?:the )?(?:needles )?(?:needle )?(?P<a>\d) and (?:needle )?(?P<b>\d)(?: each)? (?:have|hold|carry|are down to)(?: only)? (?P<n>{_N}) (?:sts|stitches)(?: (?:each|on (?:each|them)|left|apiece))*(?=[.,;:]|$)",
        _on_two_needles,
    ),
    (
        rf"\buntil (?:there are |you have )?(?:only )?(?P<n>{_N}) (?:sts|stitches)(?: (?:are left|remain|rem))? on (?:each|both) (?:of )?(?:the )?(?:needles )?(?:needle )?(?P<a>\d) and (?:needle )?(?P<b>\d)(?=[.,;:]|$)",
        _on_two_needles,
    ),
    (  # "knit across instep. Leave instep sts unworked while you turn the heel"
        r"\b(?P<across>(?:knit|k|work)(?: across)?(?: the)? instep(?: (?:sts|stitches))?)(?:[.;,]|,? and)(?: and| then| now)* ?(?:(?:leave|keep|let|put|hold|place) (?:the |these |those |them\b ?|its? )?(?:instep(?: sts| stitches)?|sts|stitches)? ?(?:unworked|rest|resting|wait|waiting|on hold|aside|alone|where they are)|the instep(?: sts| stitches)? (?:now |will now |will |can now |can )?(?:waits?|rests?|stays? (?:unworked|on hold)|(?:is|are) (?:now )?(?:left )?(?:unworked|on hold|waiting|resting)))(?: (?:while|until|till|for now|for the (?:time being|moment)|as)\b[^.;:*\d]*)?(?=[.;]|$)",
        r"\g<across>. Place these sts on a holder",
    ),
    (  # "turn, leaving 10 sts unworked at this side too"
        rf"(?<=turn)[.;,]? (?:and )?(?:leaving|leave) (?:the )?(?:last |other |remaining )?(?P<n>{_N}) (?:sts|stitches)(?: (?:unworked|on the needle))*,? (?:(?:at|on) (?:this|that|the other|each|both|either|the two) (?:sides?|ends?|needle)(?: (?:too|as well|also))?|too|as well)(?=[.;]|$)",
        r", leaving \g<n> sts unworked",
    ),
    (  # "K24, cast on 1, and turn": the new st is on the needle either way
        rf"(?<=[\d)\]], )cast on (?P<n>{_N})(?: (?:sts?|stitch(?:es)?))?,? (?:and )?turn(?=[.,;]|$)",
        r"turn, cast on \g<n>",
    ),
    (
        r"\b(?P<tog>[kp]2tog|(?:knit|purl) (?:2|two) together) (?:until|till) (?:only )?(?P<n>\d+|one) (?:sts?|stitch(?:es)?) (?:is left|are left|remains?)(?=,)",
        lambda match: (
            f"{match['tog']} to last {match['n'].replace('one', '1')} st{'s' * (match['n'] not in ('1', 'one'))}"
        ),
    ),
    (
        rf"\b(?P<to>to (?:the )?last {_N}(?: (?:sts?|stitches))?) (?P<on>of|on) (?:(?:the )?(?!needle|round|row|rnd|end|marker)[a-z]{{3,}}(?: sts| stitches)?(?:/| or | and (?:(?:then|again) )*)(?:(?:of|on) )?(?:the )?(?!needle|round|row|rnd|end|marker)[a-z]{{3,}}(?: sts| stitches)?|(?:the|this|that|each|every|either) (?:section|part|piece|side))(?=[,;)])",
        r"\g<to> \g<on> this half",
    ),
    (r"\b(knit|k|work) on to (?=(?:the )?end\b)", r"\1 to "),
    (
        r"(?<=end of the round) over the (?:double stitches|ds|wrapped (?:sts|stitches))(?: and the (?:instep|sole))?(?=,)",
        " with wraps",
    ),
    (r"\b(knit|work|purl) (1|one|a) (?:whole|complete|full|entire) (round|rnd)\b", r"\1 \2 \3"),
    (r"\b(pick up and) k(?=\d)", r"\1 knit "),
    (
        r"\b(knit) (?:across )?(?:the )?(\d+)(?: (?:heel|remaining|toe|thumb))? (?:sts|stitches),? (?:taking|knitting|working) (?:two|2)(?: of them| sts| stitches)? together (?:in|at) the (?:middle|cent(?:re|er))",
        _two_in_the_middle,
    ),
    (r"^(\d+(?:st|nd|rd|th)) (?:heel|flap|gusset) (row|round|rnd)(?=:)", r"\1 \2"),
    (
        r"[;,] (?:and )?purl it (?:on|in) every (?:round|rnd|row)(?: from (?:now|here) on(?:wards)?)?",
        "",
    ),
    (rf"\bwith (?:a|the) (?:{_ORDINAL})(?: needle)?,? (?=pick up|pick )", ""),
    (
        r"\bthere are \d+(?:, \d+)* and \d+ on the (?:\w+ )?needles,? (\d+)(?: sts| stitches)? (?:altogether|in all|in total)",
        r"There are \1 sts",
    ),
    (  # "heel turn, row 1: …"
        r"^(?:heel(?: turn| flap)?|turn(?:ing)?|flap|gusset)(?: shaping)?, (row|round|rnd) (?=\d+ ?[:(])",
        lambda match: f"{match[1].capitalize()} ",
    ),
    (
        r"^(?:\w+ )?(dec|inc)(?:rease)?: (?=(?:(?:on )?(?:the )?(?:needles?\b|n\d|first|1st|instep|sole)))",
        r"\1 rnd: ",
    ),
    (
        r"\b(k|knit|p|purl) until (?:only )?(\d+)(?: sts| stitches)? (?:are left|remain)(?: on (?:the|each|that|this) needle)?(?=,)",
        r"\1 to last \2 sts",
    ),
    (r"\b(k|knit|p|purl) the rest(?: of (?:the|that|this) needle)?(?=[.;,]|$)", r"\1 to end"),
    (
        r"\b(needles?) (?-i:([A-D]|I{1,3}|IV))(?: and (?:needle )?(?-i:([A-D]|I{1,3}|IV)))?(?= ?:)",
        _lettered,
    ),
    (  # "Round 1: Instep needle, knit. Heel needle, k1, m1r, …"
        rf"(?P<lead>^|[.;:] ?){_ON_SIDE}(?P<first>[^:]*?)[.;] ?(?:and )?{_ON_SIDE.replace('side', 'other')}",
        r"\g<lead>\g<side> needle: \g<first>; \g<other> needle: ",
    ),
    (r"(?<![A-Za-z])(?-i:I): [^.]*?[;.] (?-i:II): .*$", _by_roman),
    (  # "from here decrease in every round: *k3, k2tog*; *k2, k2tog*; *k1, k2tog*"
        r"(?:(?<=[.] )|^)[^.:*]*\b(?:every|each|consecutive|following|next \w+) (?:round|rnd)s?\b[^.:*]*: ?(?P<rows>\*[^*]+\*(?:(?:[;,]|, then|; then| then|,? and) ?\*[^*]+\*)+)(?=[.]|$)",
        _each_round,
    ),
    (  # "knit as many rounds plain as there are sts between the decreases: 8 rounds"
        r"\b(knit|work) as many (?:plain )?(?:rounds|rnds|rows)\b[^.:*]*[:(,] ?(?:that is |i\.?e\.? )?(\d+|[a-z]+) (rounds|rnds|rows)\b\)?",
        r"\1 \2 \3",
    ),
    (  # what rows are for: "work 9 rnds in st st for the facing, then purl 1 rnd to make the ridge"
        r"\b((?:knit|work|purl) (?:\d+|one|two|three|four|five|six|seven|eight|nine|ten) (?:rounds?|rnds?|rows?)(?: (?:in|of) [a-z ]{3,20}?| plain)?(?: (?:on|over) these (?:\d+ )?(?:sts|stitches))?) (?:for|to (?:make|form|create)) (?:the |a )?(?:turning |purl |fold |folding )?(?:facing|hem|ridge|fold line|foldline|turning|edge|casing|lining|border|roll|rolled edge|(?:top|back|underside) of (?:the |your )?(?:foot|hand|heel)|instep|sole|strap|tongue|tab)\b",
        r"\1",
    ),
    (  # "knit, working each corner st together with the st before it": two are one there
        r",? (?:and |but )?(?:working|knitting|taking|work|knit|take) (?:each|every|the|both) (?:of (?:the )?(?:\d |two |four )?)?(?:corner|extra|picked[- ]up|new|added) (?:sts?|stitch(?:es)?) tog(?:ether)? with (?:the |its |their )(?:(?:heel |instep |sole |flap )?(?:st|stitch|one) (?:before|after|beside|next to|behind) (?:it|them)|neighbou?r(?:s|ing st(?:itch)?)?|(?:next|previous|following)(?: (?:st|stitch)(?:es)?)?(?=[.;,(]| \(|$))",
        ", decreasing 1 st at each corner",
    ),
    (  # more of what was just worked: "work 4 more rounds the same", "4 more such rounds"
        rf"(?P<lead>^|[.;,] )(?:then |and |now )*(?:(?:work|knit|do|make) )?(?:another |a further )?({_N}|{_ONES}) (?:more |further |other )?(?:such )?(rounds?|rnds?|rows?)(?: more)?,? (?:(?:in )?(?:exactly |just )?the same(?: (?:way|manner|as (?:this|that|before|the last)(?: one| round| rnd| row)?))?|(?:just |exactly )?like (?:this|that|it|the last)(?: one| round| rnd| row)?)(?=[.;,]|$)",
        _more_or_so_many,
    ),
    (
        rf"(?P<lead>^|[.;,] )(?:then |and |now )*(?:work|knit|do|make|continue|cont) (?:another |a further )?({_N}|{_ONES}) (?:more |further )?such (rounds?|rnds?|rows?)(?=[.;,]|$)",
        r"\g<lead>Work \2 more \3 like this",
    ),
    (
        rf"(?P<lead>^|[.;,] )(?:then |and |now )*(?:work|knit|do|continue|cont|carry on) (?:in )?(?:exactly )?the same(?: way)? for (?:another |a further )?({_N}|{_ONES}) (?:more |further )?(rounds?|rnds?|rows?)(?: more)?(?=[.;,]|$)",
        r"\g<lead>Work \2 more \3 like this",
    ),
    (  # "knit one round, decrease the next. Do so until 26 sts remain"
        r"\b(?:knit|work) (?:one|1|a) (?:plain )?(round|rnd)(?: plain| even)?(?:,| and|, and|, then) (dec|inc)(?:rease)? (?:on |in )?the next(?: one| round| rnd)?\. (?:do (?:so|this)|repeat(?: this)?|go on(?: so)?|continue(?: so)?)(?= un?til)",
        r"Alternate the plain \1 and the \2 \1",
    ),
    (
        r"\balternate (?:(?:the|these) )?(?:two|2) (rounds|rows|rnds)(?= (?:un?til|\d|twice|\w+ times))",
        r"Repeat these 2 \1",
    ),
    (  # "turn; *sl 1, work to the gap, …, turn; rep from *", "turn, and so on until 18 sts rem"
        r"\bturn[;,] (?=\*[^*]*\bturn\b[^*]*\brep)",
        "turn. ",
    ),
    (r"\bslip[- ]knit[- ]pass\b", "skpo"),
    (r"^turn: (?=(?:k|knit|p|purl|sl|slip) ?\d[^.]*\bturn\b)", ""),
    (
        r"\b(rep(?:eat)?|work) (?:the )?(?:flap|heel flap|pattern|patt) (?:rows?|rounds?|rnds?) \d[^.;]*",
        _of_the_flap,
    ),
    (  # "on the right side: sl 1, k to end", "work 28 rows in this way, ending with a WS row"
        r"(?P<b>^|[.;] )on (?:the )?(?P<side>right|wrong)[- ]side: ",
        lambda match: f"{match['b']}{match['side'].capitalize()}-side rows: ",
    ),
    (
        rf"(?P<far>\b(?:{_N}) (?:more )?(?:rows|rounds|rnds)\b[^.;:*\d]*?),? (?:ending|finishing)(?: off)? (?:with|after|on|by working) an? (?:ws|rs|wrong[- ]side|right[- ]side) (?:row|round|rnd)(?=[.;]|$)",
        r"\g<far>",
    ),
    (
        rf"(?P<far>\brep(?:eat)? [^.;:*]*?\bfor (?:{_N}) (?:rows|rounds|rnds)),? or un?til [^.;:*\d]*(?=[.;]|$)",
        r"\g<far>",
    ),
    (  # "work 28 rows: right-side rows (sl 1, k1) across; wrong-side rows sl 1, p to end"
        rf"(?P<lead>^|[.:;] )(?:now |then )?(?:work|knit) (?P<n>{_N}) rows(?P<how>[^.:;*(]*)[:;,] (?:on )?(?P<rows>{_ROW_LIST}[^.]*)\.",
        _rows_listed,
    ),
    (  # "dec 1 st at each side on the next and every 4th row, 5 times in all. Decrease as follows: …"
        rf"(?P<lead>^|[.:;] )(?:(?:cont(?:inue|inuing)?|work(?:ing)?) in [a-z ]+(?: \([^()]*\))?,? (?:and )?)?(?P<how>dec|inc)(?:reas(?:e|ing))? (?:1|one) (?:st|stitch) (?:at|on) (?:each|both) (?:sides?|ends?|edges?)(?: of| on| in)?,? (?:the )?(?:next|first|1st)(?: row)? and (?:then )?(?:on )?every (?:foll(?:owing)? )?(?P<nth>\d+)(?:st|nd|rd|th)(?: row)?(?: after(?: it| that)?)?,? (?P<n>{_N}) times (?:in all|in total|altogether)(?P<count>[ =(,]+{_N} (?:sts|stitches)\)?)?[.:] (?:dec(?:rease)?|inc(?:rease)?|shape|work (?:the )?(?:dec\w*|inc\w*|shaping)) as follows: (?P<row>[^.]*)(?=\.|$)",
        _told_behind,
    ),
    (  # "rep rows 1 and 2 another 14 times and row 1 once more"
        r"\b((?:rep(?:eat)?|work) (?:the )?(?:rows|rounds|rnds) \d[^.;]*?(?: times(?: more)?| twice(?: more)?| once more)),? and (?:then )?((?:row|round|rnd) \d+ (?:once(?: more)?|again))(?=[.;]|$)",
        r"\1. Work \2",
    ),
    (  # "work (Row 1: Sl 1, k31; Row 2: Sl 1, p31) 18 times"
        rf"(?:\b(?:over|on) (?P<over>(?:the|these|those) [^.;:()]*sts)[,:]? )?\b(?:work|do|knit) [(\[](?P<a>row 1: [^()\[\];]+); (?P<b>row 2: [^()\[\];]+)[)\]] (?P<n>{_N}|{_ONES}) times(?=[.;]|$)",
        _rows_in_brackets,
    ),
    (  # "the flap has 25 rows of stocking stitch"
        rf"^(?:the |this )?(?:heel )?flap (?:has|takes|needs|is|consists of|will have) (?=(?:a total of )?{_N} rows (?:of|in) )",
        "Work ",
    ),
    (
        r"\b(k)eep (?:on )?doing (?=(?:these|those|both|this|the) |r\d|rows? \d|rounds? \d)",
        lambda match: f"{'R' if match[1] == 'K' else 'r'}epeat ",
    ),
    (  # "repeat rows 3 and 4, and stop when there are 64 sts"
        rf"(?<=[a-z0-9]),? (?:and |but )?stop (?:when|once|as soon as) (?=(?:there are|you have|only|{_N}) )",
        " until ",
    ),
    (  # "*knit 1, slip 1*, end knit 2"
        r"\*\s*((?:(?!\brep)[^*])+?)\s*\*,? end(?:ing)?(?: with)? (?=(?:k|p|knit|purl) ?\d)",
        r"*\1; rep from *, ending with ",
    ),
    (  # "row 1: …; row 2: …" in one sentence
        r"; (?:and |then )?(row|rnd|round) (\d+)(?= ?(?:\([^)]*\))?:)",
        _next_numbered,
    ),
    (  # "row 3 and on: …, turn. Stop when 14 are left"
        r"\b(?P<label>(?:row|rnd|round) \d+)(?:,? and (?:on(?:wards?)?|all (?:the )?(?:following|further|later|other|next) (?:rows?|rounds?|rnds?)|every (?:following|further) (?:row|round|rnd)))(?= ?:)(?P<row>[^.]*)\. (?:stop|end|finish) (?:when|once|as soon as) (?P<end>[^.]*)\.",
        _on_and_on,
    ),
    (  # "purl 1 WS row"
        r"(?P<lead>^|[.;] )(?:now |then )?(?P<how>knit|purl) (?:1|one|a) (?P<side>[rw]s|(?:right|wrong)[- ]side) row(?=[.,;]|$)",
        lambda match: f"{match['lead']}next row ({match['side'][0]}s): {match['how']}",
    ),
    (  # "row 2: purl, slipping the first st"
        rf"(?P<lead>^|[.:] )(?P<how>purl|knit|p|k)(?: (?:back|across|to (?:the )?end))?{_SLIPPED}",
        r"\g<lead>sl 1, \g<how> to end",
    ),
    (_SLIPPED, _slipped_first),
    (  # "work on the remaining 32 sts in stocking stitch for 28 rows"
        rf"(^|[.:;] )(?P<lead>(?:now |then )?(?:work|cont(?:inue)?|knit)(?: back and forth| in rows)?) (?:on|over) (?P<which>(?:(?:just|only|these|those|the|first|last|next|remaining|rem|other|following) )+)(?P<n>{_N}) (?P<what>(?:heel |flap |sole )?(?:sts|stitches))(?: only| alone)?(?: in rows| back and forth)?,? (?P<far>in (?:st|stock|garter|rib|k ?\d|patt|moss|seed|reverse)[^.;:*]*? for {_N} rows|for {_N} rows[^.;:*]*)(?=[.;:]|$|,? (?:and )?slipping)",
        _over_those,
    ),
)
