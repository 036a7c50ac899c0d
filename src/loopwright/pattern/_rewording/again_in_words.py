# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Ways to ask for rows once more that mean what a short form says: "do this for 3 rounds"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.star_for_the_rest import with_star_for_the_rest
from loopwright.pattern._rewording.tables import Means, Rewordings
from loopwright.pattern._words import NUMBER_WORDS, whole_number

__all__ = ["again_in_words"]

_ONES = "|".join(NUMBER_WORDS[:12])
_N = rf"(?:\d{{1,2}}|{_ONES})"
_BY_SIZE = r"\d+(?: ?[(\[][^)\]]{1,40}[)\]])?"
_CRS = r"(?:rounds|rnds|rows)"
_STS = r"(?:sts|stitches)"
_FIRST = r"(?P<b>^|[.!;] |^\d{1,2}[.)] )"
_STOP = r"(?=[.;]|\s*$)"
_LENGTH = r"\d+(?:\.\d+)?[½¼¾]?(?: ?[(\[][^)\]]{1,40}[)\]])? ?(?:in\b\.?|inches\b|[\"”″]|cm\b|mm\b)"


_PLAIN = rf"(?:knit|purl) (?:{_N}|one|two|three|four|five|six) (?:rounds?|rnds?|rows?)"


def _all_of_them(match: re.Match[str]) -> str:
    """Put "knit 3 rounds, purl 1 round: work these twice" as "… . Work these 4 rounds twice"."""
    words = re.findall(r"(?:knit|purl) (\w+) ", match["rows"], re.IGNORECASE)
    many = sum(whole_number(word) for word in words)
    course = "rows" if "row" in match["rows"].lower() else "rounds"
    return f"{match['b']}{match['rows']}. Work these {many} {course} {match['often']}"


def _last_once_more(match: re.Match[str]) -> str:
    """Put "do this for 3 rounds" as "rep the last round 2 more times"; flat rows are often two."""
    if match["c"].lower() == "rows":
        return match[0]
    more = whole_number(match["n"]) - 1
    return f"{match['b']}Rep the last {match['c'][:-1]} {more} more times" if more else match[0]


def _so_many_rows(match: re.Match[str]) -> str:
    count = f". ({match['k']} sts)" if match["k"] else ""
    rows = f"{match['m']} {match['c']}"
    name = (
        f"These {rows} {match['told']}. "
        if match["told"].endswith((" rows", "unds", " rnds"))
        else ""
    )
    return f"{match['b']}{name}Work these {rows} {match['n']} times in all{count}"


_ROW = r"(?:rows?|rounds?|rnds?)"
_ONE_ROW = (  # "every row is the same", "repeat this row throughout", "this row makes the pattern"
    rf"(?:(?:again|here|now|too),? )?(?:(?:every|each|all)(?: the| of the| other| foll\w*)* {_ROW},? (?:(?:is|are)(?: now| again)?(?: all)?(?: worked| knitted)?|(?:works?|goes?)) (?:exactly |just |all )?(?:the same(?: way)?|alike|identical|like (?:this|that)|in (?:this|the same) way|so)"
    rf"|(?:work|knit) (?:every|each|all)(?: the)? {_ROW} (?:exactly |just )?(?:the same(?: way)?|alike|like this|in (?:this|the same) way)"
    rf"|(?:repeat|rep) this {_ROW} (?:throughout|over and over|every time|all the time|all along)"
    rf"|this(?: one)? {_ROW} (?:alone )?(?:makes|forms|is|sets) (?:all of )?(?:the |your )?(?:whole |entire )?(?:rib |moss |stitch )?patt(?:ern)?)"
)


def _same_row(match: re.Match[str]) -> str:
    """Put "every row is the same. Work 28 rows" as "work this row 28 times"."""
    course = "row" if "ow" in match["c"].lower() else "round"
    more = " more" if match["more"] else ""
    return f"{match['b']}Work this {course} {match['n']}{more} times"


def _last_steps(match: re.Match[str]) -> str:
    """Put "4. Repeat steps 2 and 3 until" as "repeat the last 2 rows until"."""
    first, last = int(match["a"]), int(match["z"])
    if last + 1 != int(match["s"]) or first >= last:
        return match[0]
    return f"{match['s']}. Repeat the last {last - first + 1} rows {match['until']}"


def _in_rib(match: re.Match[str]) -> str:
    """Put "work 12 rib rounds altogether" as "work in rib for 12 rounds in all"."""
    rows = match["c"] or match["c2"]
    in_all = " in all" if match["all"] or match["total"] or "in all" in match[0].lower() else ""
    first, *others = re.split(r" ?/ ?", match["n"])  # "14 / 14 / 16": by size
    many = f"{first} ({', '.join(others)})" if others else first
    return f"{match['b']}Work in rib for {many}{' more' * bool(match['more'])} {rows}{in_all}"


def _wraps_ahead(match: re.Match[str]) -> str:
    many = match["n"] or match["n2"]
    if many is None:
        return match[0]
    return f"{match['b']}Over the next {many} rows, knit or purl each wrap together with its st"


def _lettered_steps(match: re.Match[str]) -> str:
    """Put "c. Repeat a and b until" as "repeat the last 2 rows until"."""
    own, first, last = (ord(match[key].lower()) for key in "saz")
    if last + 1 != own or first >= last:
        return match[0]
    return f"{match['lead']}Repeat the last {last - first + 1} rows"


def _on_and_on(match: re.Match[str]) -> str:
    """Put "work the pattern row on both sides" as "repeat the pattern row over and over"."""
    return f"{match['b']}Repeat {match['row'] or 'this row'}{match['far'] or ' over and over'}"


_BOTH_SIDES = r"(?:both|(?:the )?right and (?:the )?wrong|both right and wrong)[- ]sides?(?: rows)?|(?:every|each|all) rows?(?:,? (?:on )?(?:right|rs|both)[^.;:*\d]*)?"


def _without_verb(match: re.Match[str]) -> str:
    """Put "Again", "Both rnds 4 times in all", "R1 + R2 twice more" with a verb."""
    which, often = match["which"], match["often"].strip(" ,")
    if which is None:
        which = "them"
    elif named := re.fullmatch(
        r"(?P<c>[a-z]+?)s? ?(?P<a>\d+) ?(?:\+|and|&|-|–) ?(?:[a-z]+ ?)?(?P<z>\d+)",
        which,
        re.IGNORECASE,
    ):
        course = named["c"] if named["c"].lower() != "r" else "row"
        which = (
            f"{course}s {named['a']} and {named['z']}"
            if int(named["a"]) + 1 == int(named["z"])
            else f"{course}s {named['a']}-{named['z']}"
        )
    else:
        which = "both rounds"
    again = re.match(r"(?:again|once (?:more|again)|one more time)$", often, re.IGNORECASE)
    in_all = re.search(r"\b(?:in all|in total|altogether)$", often, re.IGNORECASE)
    return f"{match['b']}{'Work' if in_all else 'Repeat'} {which} {'once more' if again else often}"


_THINGS = r"(?:rows|rounds|rnds|steps|lines)"
_GROUP = rf"(?:(?:all (?:of )?|through )*(?:the|these|those|all|last|same)(?: (?:the|these|those|last|same))* (?P<m>{_N})(?: {_THINGS})?|(?P<both>both)(?: of (?:them|these|those))?(?: (?:the )?{_THINGS})?|(?:the|this|that) pair(?: of {_THINGS})?|(?:rows|rounds|rnds|steps|lines) (?P<a>[a-h])(?: ?[-–] ?| to | and | & )(?P<z>[a-h])|(?P<a2>(?-i:[A-H])) (?:and|to|&) (?P<z2>(?-i:[A-H])))"
_MANY = rf"(?P<n>\d{{1,3}}(?: ?[(\[][^)\]]{{1,40}}[)\]])?|(?:twenty|thirty|forty)(?:[- ](?:one|two|three|four|five|six|seven|eight|nine))?|once|twice|thrice|{_ONES}|eleven|twelve)"
_TENS = {"twenty": 20, "thirty": 30, "forty": 40}
_LEAVES = rf"(?P<count>(?:[:=] ?|(?=,? ))(?:,? (?:and |then |so |until |when |which |after which )*(?:you (?:are|should|will|now|have|count|get|come|\s)*|brings? (?:you|it|the total) |count |there are |mak(?:es|ing) |giv(?:es|ing) )|(?<=[:=] ))(?:back |up )?(?:to |at |with )?(?P<k>{_BY_SIZE})(?: {_STS})?(?: (?:again|in all|left))?)?"


def _group_so_often(match: re.Match[str]) -> str:
    """Put "do both 5 times", "eight times those four rows" as "work these 2 rows 5 times in all"."""
    a, z = match["a"] or match["a2"], match["z"] or match["z2"]
    many = (
        ord(z.lower()) - ord(a.lower()) + 1 if a else whole_number(match["m"]) if match["m"] else 2
    )
    head, _, unit = match["n"].lower().replace("-", " ").partition(" ")
    often = str(_TENS[head] + (whole_number(unit) if unit else 0)) if head in _TENS else match["n"]
    often = {"once": "1", "twice": "2", "thrice": "3"}.get(often.lower(), often)
    found = match.groupdict()
    more = bool(found.get("more") or found.get("more2"))
    verb = (found.get("verb") or "").lower()
    if not 1 < many <= 20 or (verb in ("repeat", "rep", "work", "knit") and match["m"]):
        return match[0]  # as it can be read
    if verb.startswith("rep") and not a:
        return match[0]
    more = more or verb.startswith("rep")
    count = f". ({match['k']} sts)" if match["k"] else ""
    how = "Repeat" if more else "Work"
    rows = f"these {many} rows"
    if a:
        letters = [chr(ord(a.lower()) + place) for place in range(many)]
        rows = f"rows {', '.join(letters[:-1])} and {letters[-1]}"
    return f"{match['b']}{how} {rows} {often}{' more' * more} times{' in all' * (not more)}{count}"


def _written_out(match: re.Match[str]) -> str:
    """Put "(bind off 2, k10) 3 times" as the parts that it is: a row is not bound off in a repeat."""
    items = (match["items"] or match["items2"]).strip(" ,;")
    often = (match["n"] or match["n2"]).lower()
    many = {"once": 1, "twice": 2}.get(often) or whole_number(often)
    many += bool(match["n2"])
    return ", ".join([items] * many) if 1 < many < 16 else match[0]


_OFF = (
    r"[^()\[\]*.:]{0,60}\b(?:bind off|cast off|bo) \d(?:[^()\[\]*.:]|\(\d[^()\[\]]{0,30}\)){0,60}"
)
_BACK = r"(?:(?:,? all)?(?: the way)? (?:to|across|along|over) (?:the )?(?:(?:very )?(?:beginning|start|end|edge|side|row)|(?:side|outer|front|back|neck) edge|these (?:sts|stitches)|where you (?:began|started))(?: of (?:the )?(?:row|needle))?)?"


def _row_back(match: re.Match[str]) -> str:
    """Put "turn, k back" as a turn and the row behind it."""
    how = {"k": "Knit", "p": "Purl"}.get(match["how"][0].lower(), "Work")
    return f"{match['turn']}. {how} 1 row"


_OFTEN = rf"(?:again|once (?:more|again)|one more time|twice more|two more times|(?:{_BY_SIZE}|{_ONES}) (?:more times|times more)|(?:{_BY_SIZE}|{_ONES}) times,? (?:in all|in total|altogether))"
_TWO = rf"(?:both(?: (?:of (?:them|these)|{_CRS}))?|(?:these|the) (?:two|2|pair)(?! {_CRS})(?: of (?:them|these))?)|(?:rows?|rounds?|rnds?|r) ?\d+ ?(?:\+|and|&|-|–) ?(?:(?:rows?|rounds?|rnds?|r) ?)?\d+"
_THESE_TWO = r"(?:both(?: (?:of them|(?P<c2>rounds|rnds|rows)))?|(?:these|those|the(?: last)?) (?:two|2)(?: (?P<c>rounds|rnds|rows))?|(?:this|the) pair(?: of (?P<c3>rounds|rnds|rows))?)"
_DOING = r"(?:keep (?:on )?(?:doing|repeating|working|knitting|at|with)|(?:go|carry|keep) on (?:with|doing|working|repeating)|continue (?:with|doing|working)|do|work|repeat|rep|alternate)"
_ALONE = r"(?:,? (?:on its own|by itself|alone|only|every (?:round|time|row)|over and over))"
_THEN_ONE = rf"(?P<far>\b(?:until|till|times)\b[^.;*]*?)(?P<stop>[,;.]) (?:(?:and|now|then|after that|from there|from then)(?: on)?,? )*(?:(?:drop|leave out|omit|forget) (?P<other>(?:round|row|rnd) ?\d+),? (?:and )?)?(?:(?:only|just|with|do|work|knit|repeat|rep|go on|carry on|continue) )*(?P<row>(?:round|rnd|row) ?\d+)(?P<alone>{_ALONE}*)"


def _these_two(match: re.Match[str]) -> str:
    course = match["c"] or match["c2"] or match["c3"]
    return f"{match['b']}Repeat these two{f' {course}' if course else ''} "


def _then_one(match: re.Match[str]) -> str:
    """Put "then do round 1 on its own until there are only 16" as "then round 1 only until"."""
    found = match.groupdict()
    until = f"until there are {found['n']} sts" if found.get("n") else found["often"]
    verb = ". Repeat" if match["stop"] == "." else ", then"
    only = " only" if match["stop"] != "." and found.get("n") else ""
    return f"{match['far']}{verb} {match['row']}{only} {until}"


def _on_to_row(match: re.Match[str]) -> str:
    """Put "carry on until round 19 is done, with 88 stitches" as "continue in this way until"."""
    if not (match["n"] or match["so"].strip()):
        return match[0]  # of a pattern, as like as not
    left = f" and have {match['n']} sts" if match["n"] else ""
    return f"{match['b']}Continue in this way until you have worked {match['row']}{left}"


_GO_ON = (
    r"(?:carry on|go on|keep on|keep(?: on)? going|keep (?:it|this|that) up|continue|cont|work)"
)
_LIKE_THIS = (
    r"(?: (?:like (?:this|that)|in (?:this|that|the same) (?:way|manner|fashion)|so|thus|as set))"
)
_UNIT = r"(?:in\b\.?|ins\b|inch(?:es)?\b|[\"”″]|cm\b|mm\b|(?:rounds?|rnds?|rows?)\b)"
_HOW_MANY = rf"(?:{_BY_SIZE}|\d*\.\d+|{_ONES}|an?)"


def _for_more(match: re.Match[str]) -> str:
    """Give "then knit plain for two more" the unit of the stretch before it."""
    unit = match["unit"] if match["unit"].startswith(("i", "r")) else f" {match['unit']}"
    unit = {"inch": "inches", "round": "rounds", "rnd": "rnds", "row": "rows"}.get(unit, unit)
    rows = unit[:1] == "r"
    how = "knit" if match["how"] in (None, "") else match["how"]
    how = re.sub(r" (?:plain|every (?:round|rnd|row)|for)(?= |$)", "", f"{how} ").strip()
    if how in ("plain", "straight", "even"):
        how = "knit"
    first = match["first"].rstrip(" ,")
    return f"{first}. {how.capitalize()} {'' if rows else 'for '}{match['n']} {unit.strip()}"


_ROWS: tuple[tuple[str, Means], ...] = (
    # "knit 3 rounds plain, then the dec round": two sentences
    (rf"{_FIRST}(?P<plain>(?:knit|k|work) (?:{_N}) (?:more )?(?:plain |knit )?(?:rounds?|rnds?|rows?)(?: (?:plain|even|straight))*),? (?:and )?(?:then )?(?:(?:work|do|knit) )?(?:(?:the|a|one|another) )?(?P<kind>dec(?:rease)?|inc(?:rease)?|shaping)\.? (?P<c>round|rnd|row)(?: again| once more)?(?=[.;]|$)", r"\g<b>\g<plain>. Work the \g<kind> \g<c>"),
    # "until only 2.5 inches are wanting", "till there are 2 inches to go"
    (rf"\b(?:un)?till? (?:(?:there (?:are|is)|you have|only|just|about|another) )*(?P<n>{_BY_SIZE}|\d*\.\d+(?: ?\([^()]*\))?|{_ONES}|an?) ?(?P<unit>inch(?:es)?|in|cm|mm|\")(?: (?:is|are|still|yet))* (?:left )?(?:to (?:go|knit|work|do|be (?:knit(?:ted)?|worked|done))|wanting|wanted|lacking|missing)(?: (?:for|before|of|to) [^.;:*\d]*)?{_STOP}", lambda match: f"until it is {1 if match['n'] in ('a', 'an') else whole_number(match['n']) if match['n'].isalpha() else match['n']} {match['unit']} shorter than wanted"),
    # "Knit straight (12, 24 and 12 on the needles) until"
    (rf"(?P<lead>[^.;:*()]*?) \((?P<a>\d+), (?P<c>\d+)(?:,? and|,) (?P<d>\d+)(?: {_STS})? on (?:the|your)(?: three)? needles\)(?P<rest>(?:[^.;:*()]|\.\d)*){_STOP}", r"\g<lead>\g<rest>. There are \g<a> sts on needle 1, \g<c> on needle 2 and \g<d> on needle 3"),
    (rf"{_FIRST}(?:you (?:now )?have|there are)(?: now)? (?P<a>\d+), (?P<c>\d+)(?:,? and|,) (?P<d>\d+)(?: {_STS})? on (?:the|your)(?: three)? needles{_STOP}", r"\g<b>There are \g<a> sts on needle 1, \g<c> on needle 2 and \g<d> on needle 3"),
    # "knit the 24 in front on to one needle"
    (rf"\b(?P<k>knit|k) (?:across )?(?:the )?(?P<n>{_BY_SIZE})(?: {_STS})? (?:in|at the|of the) front(?: on ?to (?:one|a|the same|a single) needle)?(?=[,.;]| and\b)", r"\g<k> the \g<n> instep sts"),
    # "for four inches", "for an inch"
    (rf"(?<=\bfor )(?P<n>{_ONES}|an?) (?P<unit>inch(?:es)?|cm)\b", lambda match: f"{1 if match['n'][0] in 'aA' else whole_number(match['n'])} {match['unit']}"),
    # "Carry on like this for 4 inches, then knit plain for two more"
    (rf"(?P<first>\b(?:for )?{_HOW_MANY} ?(?P<unit>{_UNIT}))(?: more)?(?:,? (?:and )?then|,) (?P<how>(?:knit|purl|work|rib)(?:(?: (?:plain|straight|even|on|every (?:round|rnd|row)|in (?:st\.? st|stockinette|stocking stitch|garter(?: st(?:itch)?)?)))*)|plain|straight|even)(?: for)? (?P<n>{_BY_SIZE}|{_N})(?: more)?(?: plain)?{_STOP}", _for_more),
    # "Keep going for 4 inches, then knit every round": two sentences
    (rf"{_FIRST}(?P<on>{_GO_ON}{_LIKE_THIS}*,? for {_HOW_MANY} ?{_UNIT}(?: more)?),? (?:and )?then (?:just |simply )?(?P<then>(?:knit|purl|work|change|switch|rib|plain|straight)\b)", lambda match: f"{match['b']}{match['on']}. {match['then'].capitalize()}"),
    # "Now alternate: one lace band, then two garter bands"
    (rf"{_FIRST}(?P<do>(?:(?:now|then|and),? )*(?:alternate|repeat in turn|work in turn|work by turns)): (?=(?:an?|the|{_N}) [a-z])", lambda match: f"{match['b']}{re.sub(' (?:in|by) turns?', '', match['do'])} "),
    # "Alternate one lace band and two garter bands. Do this 4 times"
    (rf"{_FIRST}(?P<first>(?:(?:now|then|and),? )*(?:alternate|work) (?:an?|the|{_N}) (?!{_CRS}|more\b|plain\b)(?:(?!\b(?:rows?|rounds?|rnds?|sts|stitch(?:es)?|[kp] ?\d+|knit|purl|until|inch(?:es)?|cm|times)\b)[^.;:*])*?(?:,| and)(?:(?!\b(?:rows?|rounds?|rnds?|sts|stitch(?:es)?|[kp] ?\d+|knit|purl|until|inch(?:es)?|cm|times)\b)[^.;:*])*)[.;] (?:do|work|repeat) (?:this|it|that|these|both|(?:this|the) pair|(?:these|the) two|all this)(?: in turn)? (?P<n>{_N} times|twice)(?: in all| altogether| in total| over)?{_STOP}", r"\g<b>\g<first>, \g<n> in all"),
    # "Your counts at the end of each pair are 113, 131, 149 and 167": what is there behind the last
    (rf"{_FIRST}(?:the|your) (?:stitch )?(?:counts?|totals?|numbers? of {_STS}) (?:at the end of|after|behind|for) (?:each|every) (?:[a-z]+ ){{1,3}}?(?:are|is|will be|should be) (?:\d+, )+\d+,? and (?P<n>\d+)(?: {_STS})?{_STOP}", r"\g<b>You have \g<n> sts now"),
    # "Do these two rounds until you have 48 again"
    (rf"{_FIRST}(?P<do>(?:now |then |just )*{_DOING} [^.;:*]*?)\b(?:un)?til+ (?:(?:there are|you (?:are|have|get)|you['’](?:re|ve)|it is|the {_STS} are|down|back|up|to|at|only|got) )+(?P<n>{_BY_SIZE})(?: {_STS})?(?: (?:again|once more|back))+{_STOP}", r"\g<b>\g<do>until there are \g<n> sts"),
    # "the toe's decrease round"
    (r"\bthe (?:toe|heel|crown|thumb|gusset|top)['’]s (?=(?:dec|inc|plain|shaping|knit)\w* )", "the "),
    # "Work this 12-round sequence 5 times"
    (rf"(?P<verb>\b(?:work|rep(?:eat)?|knit|do)) (?:this|that) (?P<n>{_N})[- ](?P<c>round|rnd|row)s? (?:(?:stripe|striped|colou?r|whole|rib|lace|full) )*(?:sequence|pattern|patt|stripe|repeat|set|cycle|band|block)\b(?= (?:{_N}|once|twice|until|till|for|another|again|a )\b)", r"\g<verb> these \g<n> \g<c>s"),
    # "do everything that you did for the toe, down to the last 12 sts"
    (rf"\b(?P<w>w|d)(?:ork|o) (?:(?:exactly|just) )?(?:everything|all|what|the same as) (?:that )?(?:you did|was done|we did) (?:for|at|in|on) (?P<of>(?:the |your )?(?:toe|heel|crown|top|thumb|tip)\b)(?:,? (?:down |up )?(?:un)?(?:to|til+) (?:the last |there are |you have |only )?(?P<n>{_BY_SIZE}) {_STS}(?: (?:remain|are left|left))?)?", lambda match: f"{'W' if match['w'].isupper() else 'w'}ork as for {match['of']}" + (f" until {match['n']} sts remain" if match["n"] else "")),
    # "Then for 6 rounds: *K2, p2; repeat from * to end"
    (rf"{_FIRST}(?:(?:now|then|and|next),? )*(?:(?:work|knit) )?(?:for |over )(?:the )?(?:next |following )?(?P<n>{_BY_SIZE}|{_N}) (?P<c>{_CRS})(?:[:,] (?:work )?(?=[*(\[]|[kp] ?\d|knit\b|purl\b|k\b)|:? (?=knit\.?$|purl\.?$))", r"\g<b>Next \g<n> \g<c>: "),
    # "then work 1st row again = 31 rows", "until you've got 20 rows", "Round 1 and Round 2 of the toe again, 6 times"
    (r"\b(?P<row>(?:row|round|rnd) \d{1,2}|\d{1,2}(?:st|nd|rd|th) (?:row|round|rnd)) again(?= ?[=:(] ?\d)", r"\g<row> once more"),
    (rf"\b(?:un)?til+ you(?:(?:['’]ve| have) (?:got|done|made|knit(?:ted)?)|['’]re (?:at|up to)| are (?:at|up to)| count)(?: up to)? (?P<n>{_BY_SIZE}) (?P<c>{_CRS})\b(?! of \w| in (?!all|total))", r"until you have \g<n> \g<c>"),
    (r"\b(?P<verb>work|rep(?:eat)?|do|alternate|knit)(?P<c> round| rnd| row) (?P<a>\d{1,2}),? (?P<to>and|&|to|through) (?:then )?(?:round|rnd|row) (?P<z>\d{1,2})\b", r"\g<verb>\g<c>s \g<a> \g<to> \g<z>"),
    (rf"\b(?P<verb>work|rep(?:eat)?|do|knit) (?P<of>(?:the )?(?:toe|heel|crown|gusset|cuff)) (?P<c>{_CRS}) (?P<a>\d{{1,2}}) (?P<to>and|&|to|-|–) (?P<z>\d{{1,2}})\b", r"\g<verb> \g<c> \g<a> \g<to> \g<z> of \g<of>"),
    (rf"(?P<of>\b{_CRS} \d{{1,2}} (?:and|&|to|-|–|through) \d{{1,2}} of (?:the )?[a-z]+) again,? (?:for )?(?P<n>{_BY_SIZE}|{_N}) times(?: over)?{_STOP}", r"\g<of> again \g<n> times"),
    # "(64 sts the first time)"
    (rf"(?P<open>[(\[])(?P<n>{_BY_SIZE}) {_STS},? (?:after |on |in )?the first (?:time|repeat)(?: (?:through|round|around))?(?P<close>[)\]])", r"\g<open>\g<n> sts\g<close>"),
    # "Knit into the backs of all the cast-on sts to make a firm edge"
    (rf"{_FIRST}(?:then |now )?(?:knit|work|k)(?: (?:1|one|the first) (?:round|row|rnd))? (?:in)?to the backs? (?:loops? )?of (?:all |each |every |of )*(?:the |these )?(?:cast-on )?(?:sts|stitches|st|stitch|loops)(?: (?:of|from) the (?:cast[- ]on|(?:cast-on )?edge))?(?: (?:on|in) (?:the first|this) (?:round|row|rnd))?(?:,? (?:to (?:make|give|get|form|have)|for|which (?:makes|gives)) [^.;:*\d]{{3,40}})?{_STOP}", r"\g<b>Knit all sts tbl"),
    # "Carry on until you have worked Round 19 (21, 23) and have 88 (96, 104) stitches"
    (rf"{_FIRST}(?:now |then |just )*(?:keep (?:on )?(?:going|at it)|carry on|go on|keep on|continue|cont|proceed|work on|knit on)(?P<so>(?: (?:like (?:this|that)|in (?:this|the same|that) (?:way|manner|fashion|sequence|order|style|vein)|so|thus|as set|as est(?:ablished)?))*)(?P<how>,? (?:increasing|decreasing|adding|taking|with) [^.;:*]*?)?,? (?:until|till|up to|to|through|as far as)(?: and including)? (?:(?:you (?:have (?:worked|done|finished|reached)|reach|get to|come to)|the end of|including) )*(?P<row>(?:round|rnd|row) {_BY_SIZE})(?: (?:is|are|has been|have been) (?:done|worked|completed?|finished|knitted))?(?P<left>(?:,? and|,? when|,? where|,? at which point|,|;|:| \(| [–—-]) ?(?:(?:you|you'll|there|will|should|then|now|are|have|be) )*(?P<n>{_BY_SIZE}) {_STS}(?: (?:in all|left|remain|on the needles?))?\)?)?{_STOP}", _on_to_row),
    (rf"{_FIRST}(?:keep (?:on )?going|carry on|go on|continue)(?: (?:like this|in this way|so))?(?::| [–—-]) (?:with )?(?P<how>(?:one|two|1|2) (?:{_STS} )?(?:more|fewer|less) [^.;:*]*?),? (?=until\b)", r"\g<b>Continue in this way, with \g<how>, "),
    # "…, then turn and knit on in the round"
    (r"(?:[,;.] |,? and )(?:and |then |now )*turn(?: (?:the |your )?work)?,? (?:and )?(?:then )?(?:knit on|go (?:on|back)|carry on|continue|work on|knit|work|(?:go back to|start|begin|return to|resume) (?:knitting|working))(?: again| once more| now)?(?: knitting| working)? (?:to |in )(?:the round|rounds)(?: again| once more| as before)*(?P<stop>[.;]|\s*$)", r". Turn and carry on in the round\g<stop>"),
    # "…5 times in all (20 rounds), and leave the yarns hanging at the marker, twisting them when you swap"
    (rf"(?P<times>\b(?:times|twice|(?:once|times|twice) more)(?: in all| in total| altogether)?(?: \((?:[^()]|\([^()]*\))*\))?),? (?:and |but |while )*(?:leav(?:e|ing)|let(?:ting)?|keep(?:ing)?|carry(?:ing)?|twist(?:ing)?|strand(?:ing)?|cross(?:ing)?|do not (?:cut|break)|don't (?:cut|break)|never (?:cut|break)(?:ing)?)\b(?=[^.;*:\d]*\b(?:yarn|wool|colou?r|strand|thread)s?\b)(?![^.;*:\d]*\b(?:knit|purl|work|dec\w*|inc\w*|slip\w*|hold\w*|sts|stitches)\b)[^.;*:\d]*{_STOP}", r"\g<times>"),
    # "Run the contrasting wool through the remaining 30 sts and leave them for the instep"
    (rf"\b(?P<run>run|thread|pass|draw|pull)(?: (?:a|the|your|some))?(?: (?:length|piece|strand|bit|end) of)?(?: (?:contrast(?:ing)?|waste|scrap|spare|other|different|smooth|colou?red)(?: colou?r)?)* (?:wool|yarn|threads?|cotton|string|colou?r) through (?P<these>(?:the |these |those )?(?:remaining |other |first |last |next |waiting )?{_BY_SIZE} {_STS})(?P<hold>(?:,? (?:and |to |which |for )|[,;] )(?:then )?(?:leave(?! (?:an?|the|your|enough|some|it)\b)|let|hold|keep|they |these |will |are |the (?:instep|heel|front|time|other)|later|instep|rest)(?![^.;]*\b(?:tight|fasten|gather|close)))", lambda match: f"{'S' if match['run'][0].isupper() else 's'}lip {match['these']} on to a thread{match['hold']}"),
    # "Keep doing these two until there are 28 sts, then do Round 1 on its own until there are only 16"
    (rf"{_FIRST}(?:now |then |just )*{_DOING} {_THESE_TWO}(?:,? (?:over and over(?: again)?|in turn|by turns|alternately|again and again))*,? (?=(?:un)?til)", _these_two),
    (rf"{_THEN_ONE} (?:un)?til+ (?:(?:there are|you have|you are left with|only|just|no more than) )*(?P<n>{_BY_SIZE})(?: {_STS})?(?: (?:are left|remain|left|in all|on the needles?))*{_STOP}", _then_one),
    (rf"{_THEN_ONE}(?<!\d),? (?P<often>(?:{_N}|{_BY_SIZE}) times){_STOP}", _then_one),
    (rf"{_FIRST}(?:now |then |just )?(?:keep (?:on )?|go on )?(?:rep(?:eat)?|work|do|knit)(?:ing)? (?P<row>(?:this|that|the)(?: same)?(?: [a-z]+)? row),? on (?:{_BOTH_SIDES})(?:,? (?:over and over|again and again|on and on|throughout|alike))?(?P<far> (?:until|for) [^.;]*)?{_STOP}", _on_and_on),
    (rf"{_FIRST}(?:now |then |just )?(?:work|knit|do) (?:every|each|all) (?:further |following )?rows? (?:like this|like that|this way|in this way|so|thus|the same(?: way)?)(?P<row>)?(?:,? (?:over and over|on both sides))?(?P<far> (?:until|for) [^.;]*)?{_STOP}", _on_and_on),
    # "These two rounds three times more and you have your 48 back"
    (rf"(?P<times>\b(?:times|twice)(?: more)?),? (?:and|so|then)(?: then)? (?:you|there)(?:(?: now| should| will|'ll))* (?:have|are|be) (?:(?:now|your|the|back|to|at|again|only|just) )*(?P<n>{_BY_SIZE})(?: {_STS})?(?: (?:back|again|left|once more|as before|in all|altogether|on the needles?))*{_STOP}", r"\g<times>. \g<n> sts"),
    # "Steps 4 and 5 until there are 12 rows"
    # "Rounds 1 and 2 four times": where nothing says that they are repeated, the rounds just told are the first time
    (rf"(?P<b>^|[.;:] +)(?P<rows>(?:rows|rounds|rnds) \d{{1,2}} ?(?:and|&|to|-|–) ?\d{{1,2}}),? (?=(?:{_BY_SIZE}|{_ONES}) times(?! (?:more|again|further)\b))", r"\g<b>Work \g<rows> "),
    (rf"(?P<b>^|[.;:] +)(?P<rows>(?:steps|rows|rounds|rnds) \d{{1,2}} ?(?:and|&|to|-|–) ?\d{{1,2}})(?: again)?,? (?=(?:un)?till? |(?:{_BY_SIZE}|{_ONES}) times)", r"\g<b>Repeat \g<rows> "),
    (rf"(?P<b>^|[.;:] +)(?P<row>(?:step|row|round|rnd) \d{{1,2}})(?: again)?,? (?=(?:{_BY_SIZE}|{_ONES}) (?:more times|times more))", r"\g<b>Repeat \g<row> "),
    # "These 4 rnds form the twist pattern. Rep them until the leg is as long as given above"
    (rf"{_FIRST}(?:these|those) (?P<m>{_N}|\d{{1,2}}) (?P<c>{_CRS}) (?:form|make|are|set|establish) [^.;:*\d]{{3,60}}[.;] (?:rep(?:eat)?|work|do) (?:them|these|those)(?: {_CRS})?,? (?=(?:un)?till? )", r"\g<b>Rep these \g<m> \g<c> "),
    # "Those two rows over and over, 24 rows in all, so that you can count 12 long loops up each side"
    (rf"{_FIRST}(?:(?:do|work|knit|rep|repeat) )?(?P<which>(?:these|those|both|the last|the)(?: (?:last|two|2|three|3|four|4|six|6))* {_CRS}),? (?:(?:over and over|again and again|on and on|in turn|by turns|alternately)(?: again)?,? )+(?:for |until you have |to make )?(?P<n>{_BY_SIZE}) (?P<c>{_CRS})(?: (?:in all|in total|altogether|all told))?(?:,? so that [^.;:*]*)?{_STOP}", r"\g<b>Repeat \g<which> until you have \g<n> \g<c>"),
    # "Again. = 16 sts", "Both rnds 4 times in all", "R1 + R2 six times altogether, then R1"
    (rf"{_FIRST}(?:(?:and|then|now),? )*(?:(?:do|work|knit|the|all) )*(?:(?:(?:same|them) )*|(?P<which>{_TWO}),? )(?P<often>{_OFTEN})(?=\s*(?:[.;]|$|[:=(] ?\d)|,? (?:and |then )+(?:rows?|rounds?|rnds?|r) ?\d)", _without_verb),
    (r"^(?P<lead>(?P<s>[c-k])[.)] )(?:now |then )?(?:rep(?:eat)?|work|do)(?: (?:steps?|lines?|rows|rnds|rounds))? (?P<a>[a-j]) ?(?:and|to|through|-|–|&|,) ?(?P<z>[a-j])(?=,? (?:un)?til|,? (?:another |a further )?\S+ (?:more )?times|,? (?:once|twice))", _lettered_steps),
    (r"(?P<row>\b(?:one|a|\d+) (?:rounds?|rnds?|rows?))[;,] (?:and |then )*(?P<do>do|work) (?=(?:this|that|these|so) (?:\d+|[a-z]+) times\b)", lambda match: f"{match['row']}. {match['do'].capitalize()} "),
    (rf"{_FIRST}(?P<rows>{_PLAIN}(?:[,;.]?(?: and)?(?: then)? {_PLAIN})+)(?:[:;,.]| [–—-]) (?:and )?(?:(?:work|do|knit) (?:these|this|them|those|all of this|all this) )?(?P<often>(?:twice|(?:{_N}|two|three|four|five|six) times)(?: in all| in total| altogether| over)?){_STOP}", _all_of_them),
    (rf"{_FIRST}(?:do|work|knit) (?:this|that|so|it)(?: again)? (?:for|over) (?P<n>{_N}) (?P<c>{_CRS})(?: in all| in total| altogether)?{_STOP}", _last_once_more),
    (rf"(?P<round>\b(?:around|round|across|end(?: of (?:the )?(?:round|rnd))?)|\*)(?:[,;] |,? and )(?:and |then )*(?:go on|keep (?:on|going)|carry on|continue|do|repeat|work|keep)(?: (?:on )?(?:like (?:this|that)|in (?:this|that) way|so|this|that|it)(?: up)?)+,? (?P<far>(?:for|until) [^.;*]*?\d[^.;*]*){_STOP}", r"\g<round> \g<far>"),
    (rf"{_FIRST}(?:now |then )?(?P<verb>go|run|work|knit|do|pass|repeat|rep)(?: (?:through|over))? {_GROUP},? {_MANY} (?P<more>more )?times(?P<more2> more)?(?: in all| in total| altogether| over)?{_LEAVES}{_STOP}", _group_so_often),
    (rf"{_FIRST}{_MANY} times(?: in all)?(?: (?:through|over|round))? {_GROUP}{_LEAVES}{_STOP}", _group_so_often),
    (rf"{_FIRST}{_GROUP}(?: (?:you|are|is|to be|must be|should be))*(?: (?:work|do|repeat|knit)(?:ed|ted)?| done)?(?:[;,] after)? {_MANY} times(?: in all)?{_LEAVES}{_STOP}", _group_so_often),
    (rf"{_FIRST}(?:knit|work|make) (?P<n>{_N}|{_BY_SIZE}) [a-z]+ in (?:all|total),? rows (?P<a>\d+) ?(?:-|–|to) ?(?P<z>\d+) (?:being|making|are|make|is|form(?:ing)?) (?:one|each|a|every)(?: [a-z]+)?{_STOP}", r"\g<b>Work rows \g<a>-\g<z> \g<n> times in all"),
    (r"(?P<row>\*[^*:]*?)[;,.] (?:and )?(?P<n>once|twice|\d{1,2} times|(?:two|three|four|five|six) times) (?:more|again) from \*", r"\g<row>; rep from * \g<n> more"),
    (rf"(?P<lead>^[a-h][.)] )(?:the )?same as (?:step |row )?(?P<s>[a-h]){_STOP}", lambda match: f"{match['lead']}As step {ord(match['s'].lower()) - 96}"),
    # buttonholes: "(cast off 2 sts, rib until there are 13 sts on the right needle after the gap) 5 times"
    (rf"\b(?P<how>rib|k|knit|p|purl|work|patt) until (?:there are|you have) (?P<n>{_BY_SIZE}) {_STS}(?: (?:on|left on) (?:the |your )?(?:right(?:-hand)? )?needle)? (?:after|from|since|behind|beyond) (?:the )?(?:last )?(?:gap|buttonhole|hole|slot|(?:bind|cast|bound)[- ]off(?: {_STS})?)\b", r"\g<how> \g<n>"),
    (rf"[(\[](?P<items>{_OFF})[)\]] (?P<n>\d{{1,2}}|twice|{_ONES})(?P<items2>)?(?P<n2>)?(?: times)?(?=[,;.]|$| and\b)", _written_out),
    (rf"\*(?P<items2>{_OFF})[,;] ?rep(?:eat)? from \* (?P<n2>\d{{1,2}}|once|twice|{_ONES})(?P<items>)?(?P<n>)?(?: (?:more )?times(?: more)?| more)?(?=[,;.]|$| and\b)", _written_out),
    # "K18, turn, k back to the beginning", "row 4: purl back"
    (rf"(?P<turn>\bturn(?: (?:the )?work)?|\bw ?[&+] ?t)(?:[,;] ?(?:and |then )*| (?:and |then )+)(?P<how>knit|purl|k|p|work)(?:ing)? back{_BACK}{_STOP}", _row_back),
    (rf"(?P<b>\b(?:rows?|r) ?\d{{1,3}}(?: \((?:RS|WS)\))?: )(?P<how>knit|purl|k|p) back{_BACK}{_STOP}", r"\g<b>\g<how> to end"),
    (rf"{_FIRST}(?P<how>knit|purl) back(?: (?:across|along|over)(?: (?:the|this) row| all (?:the )?{_STS})?)?{_STOP}", r"\g<b>\g<how> 1 row"),
    (rf"{_FIRST}(?:these|those) (?P<m>{_N}) (?P<c>{_CRS}) (?P<told>[^.;:*]{{3,60}})[.;] (?:do|work|repeat) (?:them|these|those|all of them)(?: {_CRS})? (?P<n>{_BY_SIZE}|{_N}) times(?: in all| in total| altogether)?(?:,? (?:and|until|so) (?:you(?:'ll| will)? (?:now )?have|there are) (?P<k>{_BY_SIZE}) {_STS})?{_STOP}", _so_many_rows),
    (rf"{_FIRST}(?P<how>rep(?:eat)?|work) the (?P<m>{_N}) (?P<c>{_CRS}) (?:of the (?:pattern|patt|cable|lace|repeat|chart)|above) (?=(?:\d|{_ONES}|once|twice|until))", r"\g<b>\g<how> these \g<m> \g<c> "),
    # "Work 12 rib rounds altogether", "Repeat the rib round until there are 12 rib rounds"
    (rf"{_FIRST}(?:in all,? )?(?P<how>knit|work|rib) (?P<total>a total of )?(?P<n>\d+(?: ?/ ?\d+)+|{_BY_SIZE}|{_N}) (?P<more>more )?(?:rib(?:bing|bed)? (?P<c>{_CRS})|(?P<c2>{_CRS}) of (?:the )?rib(?:bing)?)(?P<all> (?:in all|in total|altogether))?{_STOP}", _in_rib),
    # "Work 16 cuff rounds in all" behind "Cuff round: …"
    (rf"{_FIRST}(?P<how>knit|work) (?P<n>{_BY_SIZE}|{_N}) (?P<more>more )?cuff (?P<c>{_CRS})(?: (?:in all|in total|altogether))?{_STOP}", lambda match: f"{match['b']}Work the cuff {match['c'].rstrip('s')} {match['n']} {'more times' if match['more'] else 'times in all'}"),
    (rf"{_FIRST}(?P<rep>rep(?:eat)?|work) (?P<row>the rib (?:round|rnd|row)) until there are (?P<n>{_BY_SIZE}|{_N}) (?:rib |of these |of them |such )?{_CRS}(?: in all| in total| altogether)?{_STOP}", r"\g<b>Work \g<row> \g<n> times in all"),
    # "work the decrease round and the plain round 6 times, as you did for the toe": rounds with names of their own
    (rf"(?P<work>\b(?:work|rep(?:eat)?|knit) the (?:dec|inc)\w*\.? (?:round|rnd|row)(?:,? (?:and|then) (?:the|a) (?:plain|knit|even) (?:round|rnd|row))? (?:{_BY_SIZE}|{_N}) (?:more )?times),? (?:just |exactly )?(?:as|like) (?:you did |we did |we have done |before )?(?:for|on|in|at|with) the (?:[a-z]+ )?(?:toe|heel|crown|top|thumb|foot|hand|first [a-z]+){_STOP}", r"\g<work>"),
    (rf"{_FIRST}graft (?:these|those|them)(?: {_STS})?(?: (?:too|as well|also|likewise|closed|shut|together|(?:in )?(?:exactly )?the same way|(?:just |exactly )?(?:like|as) (?:you did )?(?:for |at |with )?the (?:[a-z]+ )?toe))+{_STOP}", r"\g<b>Graft them together"),
    # "Then go back to knitting in the round, and knit those two with their wraps as you pass"
    (rf"(?P<round>\b(?:go|come|get|return|start|begin|resume|continue|carry on|change)\b[^.;:]{{0,40}}\b(?:in (?:the )?rounds?|around))(?: again)?,? (?:and |then )*(?:knit|work|close|tak|pick|lift)(?:ing|e)?(?: up)? (?:those|these|the)\b[^.;:\d]*\bwraps?\b[^.;:\d]*{_STOP}", r"\g<round>"),
    # wraps that are taken up in rows behind
    (rf"{_FIRST}(?:(?:on|over|in) the (?:next|following) (?P<n>{_N}) {_CRS},? )?(?:pick up|lift|take up|work|hide|close)(?: up)? (?:(?:the|all|any|both|your|of) )*wraps(?:,? (?:and |to )?(?:work|knit|close|knit or purl)(?:ing)? (?:them|each(?: one)?))?(?: tog(?:ether)?)?(?: with (?:the |their |its |each )?(?:wrapped )?(?:sts?|stitch(?:es)?)(?: (?:that )?they (?:wrap|belong to|are (?:on|around)))?)?(?:,? as you (?:come to|reach|get to|meet|pass) (?:them|each))?(?:,? (?:on|over|in|during) the (?:next|following) (?P<n2>{_N}) {_CRS})?{_STOP}", _wraps_ahead),
    (r"(?<=: )(?:just|simply) (?=(?:knit|purl)(?:[.;]|\s*$))", ""),
    (rf"(?<=: )k(?:nit)?\.?,? (?:plain |round )?without (?:any )?(?:further )?(?:shaping|decreas(?:es|ing)|increas(?:es|ing)){_STOP}", "Knit"),
    (r"\bR(?P<a>\d{1,3}) ?[-–] ?R(?P<z>\d{1,3})\b", r"R\g<a>-\g<z>"),
    (r"(?P<times>\btimes),? (?:and )?end(?:ing)? with (?P<row>(?:row|rnd|round) \d+) (?:once more|again|one more time)\b", r"\g<times>, then \g<row> once more"),
    (rf"{_FIRST}{_ONE_ROW}[.;:,] (?:(?:now|so|and|then),? )*(?:work|rep|repeat|do) (?P<n>{_BY_SIZE})(?P<more> more| further)? (?P<c>{_CRS})(?: (?:in all|altogether|in total|like this|so|in this way|of it|of this))*{_STOP}", _same_row),
    (rf"{_FIRST}(?P<how>rep(?:eat)?)\.? (?P<a>\d{{1,2}}) ?(?P<to>and|to|through|-|–|&) ?(?P<z>\d{{1,2}}) (?=until|till)", r"\g<b>\g<how> rows \g<a> \g<to> \g<z> "),
    (rf"^(?P<s>\d{{1,2}})[.)] rep(?:eat)?\.? (?:steps?|lines?|rows|rnds|rounds) (?P<a>\d{{1,2}}) ?(?:and|to|through|-|–|&) ?(?P<z>\d{{1,2}}) (?P<until>until (?:there are|you have) (?:only )?{_BY_SIZE} {_STS})", _last_steps),
    (rf"{_FIRST}(?P<work>(?:cont(?:inue)?|work|rep(?:eat)?|keep|go on)\b(?![^.;]*\b(?:from|within|down|up|close|rep(?:eat)? from)\b)[^.;:*]{{0,50}}?) to (?P<far>{_LENGTH})\.?(?=[.;]|\s*$)", r"\g<b>\g<work> until piece measures \g<far>"),
    (rf"{_FIRST}(?P<set>(?:the last|these) {_N} {_CRS} (?:set|form|make|establish) the (?:pattern|patt)) and (?:increase|decrease|inc|dec) {_BY_SIZE} {_STS} (?:every|on every|each|on each)[^.;:*]{{3,24}}{_STOP}", r"\g<b>\g<set>"),
    (rf"{_FIRST}(?:cont(?:inue)?|work|go on|carry on)(?: (?:straight|even|on))?(?: as (?:set|est(?:ablished)?)| in (?:this )?patt(?:ern)?| like this)? until (?P<n>(?:there are|you have) {_BY_SIZE} {_STS}),? ending (?:with|on|after) an? (?:ws|rs|wrong[- ]side|right[- ]side|purl|knit|plain) (?:row|rnd|round){_STOP}", r"\g<b>Continue as set until \g<n>"),
)  # fmt: skip
_TABLE = Rewordings(_ROWS)


def again_in_words(said: MappedText) -> MappedText:
    """Return a line with what asks for rows once more in short.

    Examples
    --------
    >>> again_in_words(MappedText.of("Knit. Do this for 3 rounds.")).text
    'Knit. Rep the last round 2 more times.'
    """
    said = with_star_for_the_rest(said)
    known = _TABLE.of(said.text)
    return MappedText(known.text, tuple(said.at[place] for place in known.at))
