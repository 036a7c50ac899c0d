# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""How far and how often rows are worked, in words that others use: "up to 78 sts", "six ridges"."""

from __future__ import annotations

import re
from itertools import pairwise

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Means, Rewordings
from loopwright.pattern._rewording.wordings import COLOUR
from loopwright.pattern._words import NUMBER_WORDS, whole_number

__all__ = ["LISTED", "how_far_in_words"]

_N = rf"(?:\d{{1,3}}(?: ?[(\[][\d ,:;/-]{{1,40}}[)\]])?|{'|'.join(NUMBER_WORDS)})"
_CRS = r"(?:rounds|rnds|rows)"
_ST = r"(?:knit|purl|k|p) ?\d{1,2}"
_TOG = r"(?:(?:knit|purl|k|p) ?(?:2|two) ?tog(?:ether)?|ssk|ssp|skpo?)"
_RIB = r"(?P<rib>(?:knit|k) ?\d,? (?:and )?(?:purl|p) ?\d)"
_ROUND = r"(?:,? (?:all |right |the whole way |all the way )?(?:a?round|about)|,? to (?:the )?end)"
_PIECE = r"(?:foot|leg|hand|body|cuff|palm|sleeve|brim|sole)"
_PLAIN = r"(?:straight|even|plain)(?: on)?"


def _by_numbers(match: re.Match[str]) -> str:
    """Put odd and even rows as rows 1 and 2, and "do rows 1 to 12" as how many there are."""
    row = match["c"].capitalize()
    many = f" Work {match['n']} {match['rows']} like these in all" if match["n"] else ""
    return f"{match['b']}{row} 1: {match['odd'].strip()} {row} 2: {match['even']}.{many}"


def _figure(word: str) -> int:
    return int(word) if word.isdigit() else 1 if word in ("a", "an") else whole_number(word)


def _ridges(match: re.Match[str]) -> str:
    """Leave out how many rows so many ridges are, where it is two to each."""
    ridges, rows = (re.findall(r"\d+", match[key] or "") for key in ("n", "m"))
    if match["rows"] and [2 * int(one) for one in ridges] != [int(one) for one in rows]:
        return match[0]
    return f"{match['until']}ridges"


def _shaped_in_one(match: re.Match[str]) -> str:
    """Put "knit 16 rounds; increase 2 sts in the first of them" as that round, and the others."""
    many, which = _figure(match["many"]), match["which"].lower()
    at = {"first": 1, "second": 2, "third": 3, "last": many}[which]
    course = match["c"].rstrip("s")
    shaped = f"Knit 1 {course}, {match['what'].lower()}reasing {match['n']} sts evenly"
    parts = [(at - 1, ""), (0, shaped), (many - at, "")]
    told = [said or f"Knit {n} {course}{'s' * (n > 1)}" for n, said in parts if n > 0 or said]
    return match["b"] + ". ".join(told) if 1 <= at <= many else match[0]


_FABRIC = r"(?P<{n}>stocking st(?:itch)?|stockinette|st st|plain|knit|purl)"
_KNITS = rf"(?P<n1>{_N}|an?) (?:rounds?|rnds?|rows?)(?: of| in)? {_FABRIC.format(n='f1')}"
_PURLS = rf"(?P<n2>{_N}|an?) (?:rounds?|rnds?|rows?)(?: of| in)? {_FABRIC.format(n='f2')}"
_KNITS_TOO = rf"(?P<n3>{_N}|an?) (?P<f3>knit|purl|plain) (?:rounds?|rnds?|rows?)"
_PURLS_TOO = rf"(?P<n4>{_N}|an?) (?P<f4>knit|purl|plain) (?:rounds?|rnds?|rows?)"


def _two_bands(match: re.Match[str]) -> str:
    """Put "5 rounds stocking st, 1 round purl, over and over, until" as numbered rounds."""
    found = match.groupdict()
    many = [_figure((found[a] or found[b]).lower()) for a, b in (("n1", "n3"), ("n2", "n4"))]
    how = [(found[a] or found[b]).lower() for a, b in (("f1", "f3"), ("f2", "f4"))]
    course = "Row" if "row" in match["bands"].lower() else "Round"
    verbs = ["Purl" if one == "purl" else "Knit" for one in how]
    if verbs[0] == verbs[1]:
        return match[0]
    first = f"{course} 1" if many[0] == 1 else f"{course}s 1-{many[0]}"
    last = sum(many)
    second = f"{course} {last}" if many[1] == 1 else f"{course}s {many[0] + 1}-{last}"
    rest = found.get("rest") or ""
    end = f". Work {rest}" if rest else ""
    far = match["far"].strip(" ,")
    if found.get("often"):
        far = f"Work these {last} {course.lower()}s {found['often']} times in all"
    return f"{match['b']}{first}: {verbs[0]}. {second}: {verbs[1]}. {far[:1].upper()}{far[1:]}{end}"


def _two_rows(match: re.Match[str]) -> str:
    """Put "16 rows: sl 1, k27; sl 1, p27" as rows 1 and 2, and how often."""
    many = _figure(match["n"].lower())
    rows = f"{match['b']}Row 1: {match['one']}. Row 2: {match['other']}"
    if many % 2 or many < 2:
        return match[0]
    return rows if many == 2 else f"{rows}. Rep rows 1 and 2 until you have {many} rows"


def _on_next_and_every(match: re.Match[str]) -> str:
    """Put "on the next and every foll 3rd rnd: …. Four dec rnds altogether" as the round, and how often."""
    more = _figure(match["n"].lower()) - 1
    nth, course, name = match["nth"], match["c"], match["name"] or "dec"
    said = f"{match['b']}{name.capitalize()} {course}: {match['row']}. Rep the {name} {course} every {nth} {course} {more} more times"
    return f"{said}. Knit {match['m']} {course}s" if match["m"] else said


def _star_of_two(match: re.Match[str]) -> str:
    """Put "*knit 1 rnd, work gusset rnd once; rep from * 10 more times" as both, 11 times."""
    return f"{match['b']}{match['one'].capitalize()} and {match['other']}, {_figure(match['n'].lower()) + 1} times"


def _steps_again(match: re.Match[str]) -> str:
    """Put "27. Steps 25 and 26, again and again, until" with its verb."""
    return f"{match['b']}Repeat {match['steps']} {match['far']}"


_COL = rf"(?:(?:colou?r |yarn )?(?-i:[A-HM])\b(?!-)|(?-i:MC|CC\d?)\b|{COLOUR}\b)"
_BAND = rf"(?:(?:k|knit|work) )?{_N}(?: (?:rounds?|rnds?|rows?))?(?: (?:in|with|of))? {_COL}"
_BANDS = rf"(?P<bands>{_BAND}(?:(?:,|;| and|, and|,? then) {_BAND})+)"
_ONE_BAND = re.compile(
    rf"(?P<n>{_N})(?: (?P<c>rounds?|rnds?|rows?))?(?: (?:in|with|of))? (?P<col>{_COL})",
    re.IGNORECASE,
)


def _bands(match: re.Match[str]) -> str:
    """Put "2 rounds of A, 4 of B" band by band, and how often all of them are worked."""
    found = [*_ONE_BAND.finditer(match["bands"])]
    if found[0]["c"] is None:
        return match[0]
    course = "row" if "row" in found[0]["c"].lower() else "round"
    many = [_figure(one["n"].lower()) for one in found]
    told = ". ".join(
        f"With {one['col']}, knit {n} {course}{'s' * (n > 1)}"
        for one, n in zip(found, many, strict=True)
    )
    if far := match.groupdict().get("far"):
        return f"{match['b']}{told}. Repeat the last {sum(many)} {course}s {far}"
    often = next((v for k, v in match.groupdict().items() if k.startswith("often") and v), None)
    if often is None:
        return f"{match['b']}{told}"
    more = _figure(often.lower()) - (match.groupdict().get("more") is None)
    return (
        f"{match['b']}{told}. Repeat the last {sum(many)} {course}s {more} more times"
        if more
        else f"{match['b']}{told}"
    )


_UNIT = (
    r"[*(\[](?P<u{n}>[^*.;()\[\]]+)(?:[*)\]]|; rep(?:eat)? from \*)(?: to (?:the )?end| around)?"
)


def _two_units(match: re.Match[str]) -> str:
    """Put "4 rounds of *k3, p3*, 4 rounds of *p3, k3*. Do this five times over" as numbered rounds."""
    first, second = (_figure(match[key].lower()) for key in ("n1", "n2"))
    if first < 2 or second < 2:
        return match[0]
    last = first + second
    rows = f"Rounds 1-{first}: *{match['u1']}; rep from * to end. Rounds {first + 1}-{last}: *{match['u2']}; rep from * to end"
    rest = f". {match['rest'][:1].upper()}{match['rest'][1:]}" if match["rest"] else ""
    return f"{match['b']}{rows}. Work these {last} rounds {match['often']} times in all{rest}"


_PART = rf"(?:(?:k|knit|p|purl) (?:{_N}|a|an) (?:rounds?|rnds?)|[*(\[][^*()\[\].:;]+[*)\]] (?:around|to (?:the )?end)|\*[^*.:;]+; rep from \* (?:around|to (?:the )?end))"


def _parts_of_band(match: re.Match[str]) -> str:
    """Put "k 3 rnds, then (k2tog, yo) around, then k 3 rnds: a band of 7 rnds" round by round."""
    told, at = list[str](), 1
    for part in re.split(r",? then ", match["parts"], flags=re.IGNORECASE):
        plain = re.match(r"(?P<k>k|p)\w* (?P<n>\w+) (?:rounds?|rnds?)", part, re.IGNORECASE)
        many = _figure(plain["n"].lower()) if plain else 1
        label = f"Round {at}" if many == 1 else f"Rounds {at}-{at + many - 1}"
        how = {"k": "Knit", "p": "Purl"}[plain["k"].lower()] if plain else part
        told.append(f"{label}: {how}")
        at += many
    return match["b"] + ". ".join(told) if at - 1 == _figure(match["n"].lower()) else match[0]


_NTHS = r"(?:\d{1,2}(?:st|nd|rd|th)|other|alternate|second|third|fourth|fifth|sixth)"
_ORDINAL = {
    "other": 2,
    "alternate": 2,
    "second": 2,
    "third": 3,
    "fourth": 4,
    "fifth": 5,
    "sixth": 6,
}


def _nth(word: str) -> int:
    return _ORDINAL.get(word.lower()) or int(re.sub(r"\D", "", word))


def _on_rounds(match: re.Match[str]) -> str:
    """Put "work 14 rounds of stocking stitch. On rounds 3, 6, 9 and 12: …" round by round."""
    many, course = _figure(match["n"].lower()), match["c"].lower().rstrip("s")
    at = [int(n) for n in re.findall(r"\d+", match["list"])]
    if at != sorted(set(at)) or at[-1] > many or at[0] < 1:
        return match[0]
    row = re.sub(
        r"\bknit (?:over )?the (?:thumb|gusset|wedge)\b(?=[^.]*, k ?(\d+)$)",
        lambda inner: f"k to last {re.findall(r'[0-9]+', match['row'])[-1]} sts",
        match["row"].rstrip(),
    )
    told, last = list[str](), 0
    for number in at:
        if gap := number - last - 1:
            told.append(f"Knit {gap} {course}{'s' * (gap > 1)}")
        told.append(f"Next {course}: {row}")
        last = number
    if many > last:
        told.append(f"Knit {many - last} {course}{'s' * (many - last > 1)}")
    return match["b"] + ". ".join(told)


_PLAIN_AND_SHAPED = rf"(?:knit|work) (?:{_N}|a) (?:plain )?(?:rounds?|rnds?)(?: plain)?[,.]? (?:and )?(?:then )?(?:(?:work|do) )?(?:(?:the|a|one) )?(?:dec|inc)\w*\.? (?:round|rnd)"


def _by_needle(match: re.Match[str]) -> str:
    """Put "knit needles 1 and 4, pattern needles 2 and 3" needle by needle, in their order."""
    told = {
        number: "knit"
        if verb.lower() == "knit"
        else "purl"
        if verb.lower() == "purl"
        else "pattern"
        for needles, verb in ((match["n"], match["v"]), (match["n2"], match["v2"]))
        for number in re.findall(r"\d", needles)
    }
    return match["b"] + ". ".join(f"Needle {number}: {told[number]}" for number in sorted(told))


_ORD = r"\d+(?:st|nd|rd|th)"
_ON_LISTED = rf"(?:on|in) (?:the )?(?:(?:rounds|rnds) \d+(?:, \d+)*,? (?:and|&) \d+|{_ORD}(?:, {_ORD})*,? (?:and|&) {_ORD} (?:rounds|rnds))"


def _listed_shaping(match: re.Match[str]) -> str:
    """Put "dec on next rnd, on the foll 4th rnd, on every 2nd rnd 3 times" one after another."""
    kind = match["kind"].lower()[:3]
    course = match["c"]
    told = [f"Work the {kind} {course}"]
    for one in re.finditer(
        rf"(?P<nth>{_NTHS}|every(?= {course})) {course}(?: (?P<often>twice|{_N} times))?",
        match["rest"],
        re.IGNORECASE,
    ):
        often = {"": 1, "twice": 2}.get((one["often"] or "").lower()) or _figure(
            one["often"].lower().removesuffix(" times")
        )
        gap = 0 if one["nth"].lower() == "every" else _nth(one["nth"]) - 1
        between = f"Knit {gap} {course}{'s' * (gap > 1)}. " if gap else ""
        told += [f"{between}Work the {kind} {course}"] * often
    return match["b"] + ". ".join(told)


def _from_star_to_star(match: re.Match[str]) -> str:
    """Put "*Dec round: …. Knit 2 rounds.* Work from * to * twice in all" as that, and again."""
    often = 2 if match["n"].lower() == "twice" else _figure(match["n"].lower())
    many, more = _figure(match["m"].lower()) + 1, often - (not match["more"])
    again = f". Repeat the last {many} {match['c'].rstrip('s')}s {more} more times" if more else ""
    return f"{match['l']}: {match['row']}. {match['plain']}{again}"


def _by_their_counts(match: re.Match[str]) -> str:
    """Put "round 1: 72 sts; round 4: 64 sts" as rounds that decrease once in each of so many parts."""
    told = [(int(n), int(count)) for n, count in re.findall(r"(\d+): (\d+)", match[0])]
    steps = {a - b for (_, a), (_, b) in pairwise(told)}
    parts = steps.pop() if len(steps) == 1 else 0
    if parts < 3 or any(count % parts for _, count in told):
        return match[0]
    rows = []
    for number, count in told:
        before = f"k{count // parts - 1}, " if count > parts else ""
        rows.append(
            f"Round {number}: *{before.capitalize()}k2tog; rep from * to end. ({count} sts)"
        )
    return " ".join(rows)


def _on_nth_and_every(match: re.Match[str]) -> str:
    """Put "on the 5th row and on every 6th row following, …. When this has been done five times" row by row."""
    before, more = _nth(match["nth"]) - 1, _figure(match["n"].lower()) - 1
    flat = match["c"].lower() == "row"
    plain = "rows in stocking stitch" if flat else "rounds"
    verb = "Work" if flat else "Knit"
    said = f"{match['b']}{verb} {before} {plain}. Dec {match['c']}: {match['row']}. Repeat the dec {match['c']} every {match['every']} {match['c']} {more} more times"
    return f"{said}. {verb} {match['even']} {plain}"


_ITEM_ROW = r"(?:sl|slip|k|p|knit|purl) ?\d[^.;:*]{2,40}"

LISTED: tuple[tuple[str, Means], ...] = (  # rounds of which a text gives the counts alone
    # "K2tog at the end of every wedge on the rounds listed, and knit the rest": "round 1: 72 sts; round 4: 64 sts"
    (r"(?P<b>^|[.;] )k2tog (?:once )?(?:at|in|near) (?:the end of )?(?:every|each) (?:wedge|section|panel|segment) on the (?:rounds|rnds) (?:that are )?(?:listed|named|given)(?: below)?,? and (?:knit|work) the (?:rest|others)(?: plain)?(?=[.;:]|$)", r"\g<b>Rounds not listed are knitted plain"),
    (r"^colou?rs?: [^.:]{1,40}\. (?=(?:k|knit|work) \d+ (?:rnds|rounds|rows)\b)", ""),  # a stripe, and no list
    (r"^(?:round|rnd) \d{1,2}: \d{1,3} (?:sts|stitches)(?:; (?:round|rnd) \d{1,2}: \d{1,3} (?:sts|stitches))+\.?$", _by_their_counts),
)  # fmt: skip


_ROWS: tuple[tuple[str, Means], ...] = (
    # "On right-side rows: …", "Odd-numbered rows: …. Even-numbered rows: …. Do rows 1 to 12"
    (r"(?P<b>^|[.;] )(?:on|in) (?:all |the |every )*(?P<side>right|wrong)[- ]side rows?: ", lambda match: f"{match['b']}{match['side'].capitalize()}-side rows: "),
    (rf"(?P<b>^|[.;] )(?:(?:all|the|on) )*odd(?:-| )?(?:numbered )?{_CRS}: (?P<odd>[^:]+[.;] )(?:(?:all|the|on) )*even(?:-| )?(?:numbered )?(?P<c>row|round|rnd)s: (?P<even>[^:.]+)\.(?: (?:do|work|knit) (?P<rows>{_CRS}) 1 ?(?:to|-|–|through) ?(?P<n>\d+)(?=[.;]|$))?", _by_numbers),
    # "dec rnd = k1, ssk, …": it is told, and not worked yet
    (r"^(?P<name>(?:[a-z]+ )?(?:dec|inc)\w*\.? (?:rnd|round|row)) ?= ?(?=[*(\[]|[kp] ?\d|(?:k|p|sl|knit|purl|ssk|yo)\b)", r"\g<name> (told only): "),
    # "Join and rib, *k1, p1* all round, for 12 rounds", "mine goes 20 rounds: knit 2, purl 2, the whole way about"
    (r"(?P<b>^|[.;] )join(?P<in>(?: in (?:the )?(?:round|rnd)| into a (?:ring|round|circle))?),? and (?P<rib>rib\b|work (?:in )?rib\b)", r"\g<b>Join\g<in>. \g<rib>"),
    (rf"(?P<b>^|[.;] )(?:rib|ribbing|the (?:rib|cuff|top)|cuff|top|welt)\b[^.;:*()]*? (?:goes|is|has|runs|takes|wants) (?:for )?(?P<n>{_N}) (?P<c>{_CRS}): {_RIB}{_ROUND}?(?= *[.;]|$)", r"\g<b>Work \g<n> \g<c> in \g<rib> rib"),
    (rf"(?P<b>^|[.;] ){_RIB}(?: rib)?,? (?:goes|runs|is worked) (?:on )?(?:for )?(?P<n>{_N}) (?P<c>{_CRS})(?= *[.;]|$)", r"\g<b>Work \g<n> \g<c> in \g<rib> rib"),
    # "Foot: straight for 46 rounds", "Now straight on in stocking stitch; when 24 rounds are done, the top begins"
    (rf"(?P<b>^|[.;] )(?:now |then )?{_PIECE}(?::| [–—-]) {_PLAIN}(?P<far> for (?:{_N}) (?:{_CRS}|cm|in\b|inches)|(?= until\b))", r"\g<b>Knit straight\g<far>"),
    (rf"(?P<b>^|[.;] )(?:(?:now|then) )?(?:(?:go|work|knit) )?(?:{_PLAIN})(?P<in> in (?:stocking stitch|stockinette|st st|rib|patt(?:ern)?))?[;,.] when (?:you have (?:done|worked|knitted|made) )?(?P<n>{_N}) (?P<c>{_CRS})(?: are (?:done|worked|made|knitted|on the needles?))?(?:, not counting [^,.;]*)?, [^.;:*\d]*(?=[.;]|$)", r"\g<b>Work \g<n> \g<c>\g<in>"),
    # "knit 9, knit 2 together, four times": all of it; "K3, k2tog around"
    (rf"(?P<b>^|[:;.] |\b(?:round|rnd|row),? )(?P<x>(?:{_ST}(?:,| and) )?{_TOG})[.]?, (?P<n>{_N}) times(?=[.;,(]|$| and\b)", lambda match: f"{match['b']}({match['x']}) {match['n']} times"),
    (rf"(?P<b>^|[:;.] |\b(?:round|rnd|row),? )(?P<x>{_ST}(?:,| and) {_TOG}),? (?:all |right )?(?:a?round|the way round)(?=[.;]|$)", lambda match: f"{match['b']}*{match['x']}; rep from * around"),
    (r"(?P<b>^|[.;] )(?:in|on) the next (?P<c>round|rnd|row),? (?=[(*\[])", r"\g<b>Next \g<c>: "),
    # "Knit 16 rounds; increase 2 stitches, evenly placed, in the first of them only"
    (rf"(?P<b>^|[.;] )(?:then )?(?:knit|work) (?P<many>{_N}) (?P<c>{_CRS})[;,] (?:and )?(?P<what>inc|dec)(?:reas(?:e|ing))? (?P<n>{_N}) (?:sts|stitches),?(?: evenly(?: (?:placed|spaced|spread))?)?,? (?:in|on) the (?P<which>first|second|third|last)(?: one)?(?: of (?:them|these|those|the {_CRS}))?(?: only)?(?=[.;]|$)", _shaped_in_one),
    # "5 rounds stocking st, 1 round purl, over and over, until there are five purl rounds, then 5 rounds …"
    (rf"(?P<b>^|[.;] )(?:[A-Z][a-z]+: )?(?P<bands>(?:(?:work|alternate) )?(?:{_KNITS}|{_KNITS_TOO})(?:,| and|, then| then) (?:{_PURLS}|{_PURLS_TOO})),? (?:over and over|again and again|by turns|in turn|alternately|repeated),? (?P<far>(?:until|till) [^.;,]*)(?:, (?:and )?then (?P<rest>[^.;]*))?(?=[.;]|$)", _two_bands),
    # "A ridge is a knit round followed by a purl round. Make six ridges"
    (rf"(?P<b>^|[.;] )(?P<bands>(?:a|one|each) (?P<name>ridge|band|stripe|welt) is (?:{_KNITS}|{_KNITS_TOO})(?: followed by|,? then|,? and) (?:{_PURLS}|{_PURLS_TOO}))[.;:] (?P<far>(?:make|work|knit|do) (?P<often>{_N}) (?P=name)s)(?P<rest>(?=[.;]|$))", _two_bands),
    # "Then one round of (k9, k2tog) four times"; "a row plain and a row purl"
    (r"(?P<b>^|[.;] )(?:then |now )?(?:(?:work|knit) )?(?:one|1) (?P<c>round|rnd|row) of (?=[*(\[](?:[kp] ?\d|knit|purl))", lambda match: f"{match['b']}Next {match['c']}: "),
    (r"(?P<b>^|[.;] )(?:an?|one) row (?:plain|knit)(?:,| and) (?:an?|one) row purl\b", r"\g<b>Knit one row, purl one row"),
    (r"\b(?P<till>un)?til+ (?P<n>\d+) rows are (?:in|on) the (?:heel|flap|piece)\b", r"until there are \g<n> rows"),
    # "until there are 12 garter ridges at each edge, that is 24 rows"
    (rf"(?P<until>\bun?til+ (?:there are|you have|you can (?:count|see)) (?P<n>{_N}) )(?:garter )?(?:ridges|bumps)(?: (?:on|in|up|along|at) [^.;:,()\d]*?)?(?P<rows>(?:,? (?:that is|that's|which is|or|so)| =| \(=?) ?(?P<m>{_N}) rows\)?)?(?=[.;]|$)", _ridges),
    # "Knit every row, …, until there are 12 ridges": two rows each
    (rf"(?P<work>(?:^|[.;:] )(?:knit (?:every|each|all) rows?|(?:work in )?garter stitch)\b[^.;:]*?),? until (?:there are|you have|you can count) (?P<n>{_N}) (?:garter )?ridges(?: (?:on|in|up|along) [^.;:,\d]*)?(?=[.;,]|$)", lambda match: f"{match['work']} until there are {2 * _figure(match['n'].lower())} rows" if re.fullmatch(r"\d+|[a-z]+", match['n']) else match[0]),
    (rf"(?P<b>^|[.;] )knit (?:every|each|all) rows?(?P<slip>, slipping [^.;:\d]*?)?,? until there are (?P<n>{_N}) rows(?=[.;,]|$)", r"\g<b>Work \g<n> rows in garter stitch\g<slip>"),
    (rf"(?P<b>^|[.;] )knit (?:one|1|a) row,? (?:and )?purl (?:one|1|a) row(?P<slip>,? slipping the first (?:st|stitch) of each(?: row)?)(?:,? and still keeping [^.;:\d]*)?,? until (?:there are|you have) (?P<n>{_N}) rows(?=[.;,]|$)", r"\g<b>Work \g<n> rows in stocking stitch\g<slip>"),
    # "Three rounds without shaping", "Two rounds more"
    (rf"(?P<b>^|[.;] )(?P<n>{_N}) (?P<c>rounds?|rnds?|rows?) without (?:any |further )?(?:shaping|dec\w*|inc\w*)(?=[.;]|$)", r"\g<b>Work \g<n> \g<c> even"),
    (rf"(?P<b>^|[.;] )(?:then )?(?P<n>{_N}) (?P<c>rounds?|rnds?|rows?) more(?=[.;]|$)", r"\g<b>Work \g<n> more \g<c>"),
    # "until 24 stitches are left and a purl row is done", "then forget the plain rounds and dec in every round until"
    (r"(?P<until>\buntil [^.;:]*?\d (?:sts|stitches) (?:are left|remain|left)),? and an? (?P<how>purl|knit) (?P<c>row|round|rnd) (?:is|has been) (?:done|worked)", lambda match: f"{match['until']}. {match['how'].capitalize()} 1 {match['c']}"),
    (r",? (?:and )?then (?:forget|drop|leave out|omit|skip|without) (?:about )?the plain (?:rounds|rnds|rows),? (?:and )?(?:dec(?:rease)?|shape|work the dec\w* (?:round|rnd)) (?:in|on) every (?:round|rnd|row) (?=(?:until|to)\b)", ". Omit the plain rounds "),
    (r"(?P<b>^|[.;] )(?:then |now )*(?:work |do |knit )?(?P<row>(?:rnd|round|row) \d{1,2})(?: alone| only)? (?:in |on )?(?:each|every) (?:rnd|round|row) (?=until)", r"\g<b>Repeat \g<row> "),
    (rf"\buntil (?:(?:just|only|there are) )*(?P<n>{_N})(?: (?:sts|stitches))? (?:(?:are|is) left|remain) per needle|\buntil (?:(?:just|only) )+(?P<n2>{_N})(?: (?:sts|stitches))? per needle(?: (?:are left|remain|left))?|\buntil (?P<n3>{_N})(?: (?:sts|stitches))? per needle (?:are left|remain|left)", lambda match: f"until {match['n'] or match['n2'] or match['n3']} sts remain on each needle"),
    # "to the end of the 10th row"
    (r"(?P<go>\b(?:go on|continue|carry on|keep on)\b[^.:*]*?),? to the end of (?:the (?P<n>\d{1,2})(?:st|nd|rd|th) (?P<c>row|round|rnd)|(?P<c2>row|round|rnd) (?P<n2>\d{1,2}))(?=[.;]|$)", lambda match: f"{match['go']}, until you have worked {match['c'] or match['c2']} {match['n'] or match['n2']}"),
    # "Work these 10 rounds 3 times, and 1st-5th rounds once more"
    (rf"(?P<often> times),? (?:and |then )+(?:work )?(?P<a>\d{{1,2}})(?:st|nd|rd|th) ?(?:-|–|to) ?(?P<z>\d{{1,2}})(?:st|nd|rd|th) (?P<c>{_CRS}) once (?:more|again)(?=[.;]|$)", r"\g<often>. Work \g<c> \g<a>-\g<z> once more"),
    # "begin your 2x2 rib: 10 rnds"; "knit and purl back and forth for 8 rows"
    (rf"(?P<b>^|[.;] )[^.;:*]*\b(?:begin|start) (?:your|the) (?P<a>\d) ?x ?(?P<z>\d) rib: (?P<n>{_N}) (?P<c>{_CRS})(?=[.;]|$)", r"\g<b>Work \g<n> \g<c> in k\g<a>, p\g<z> rib"),
    (rf"\bknit and purl back and forth for (?P<n>{_N}) rows", r"work \g<n> rows in stocking stitch"),
    # "Then two together all the way round", "10 rows of this make a firm moss border"
    (r"(?P<b>^|[.;] )(?:then,? )?(?:knit )?two together,? (?:all )?(?:the way |right )?(?:a?round)(?: again)?(?=[.;]|$)", r"\g<b>*K2tog; rep from * around"),
    (rf"(?P<b>^|[.;] )(?P<n>{_N}) (?P<c>{_CRS}) of (?:this|it) (?:make|give|form|are)s? [^.;:*\d]*(?=[.;]|$)", lambda match: f"{match['b']}Work this {match['c'].rstrip('s')} until there are {match['n']} of them"),
    # "Cast on 3 sts at the beginning of every row and knit across, 12 rows"
    (rf"\b(?P<cast>cast on {_N} (?:sts|stitches) at the (?:beg(?:inning)?|start)) of (?:every|each) row,? (?:and knit (?:across|to (?:the )?end)|knitting across),? (?:for )?(?P<n>{_N}) rows", r"\g<cast> of the next \g<n> rows, knitting across"),
    # "K 6 rnds A, 2 rnds B: this is one stripe sequence. Work it three times through", "2 rounds of A, 4 of B, …. All is plain knitting"
    (rf"(?P<b>^|[.;] ){_BANDS}(?:[:,–—-]* ?(?:this|that|which) is one [a-z ]{{4,30}}| makes one [a-z ]{{4,30}})?[.;] (?:work|do|knit|repeat) (?:it|this|that|all(?: of it)?|the (?:sequence|stripes)) (?P<often>{_N}) times(?P<more> more)?(?: through| over| in all| altogether)*(?=[.;]|$)", _bands),
    (rf"(?P<b>^|[.;] ){_BANDS} until (?:you have|there are) (?P<often>{_N}) (?:stripes|bands) (?:of|in) each(?: colou?r)?(?=[.;]|$)", _bands),
    (rf"(?P<b>^|[.;] )(?:[a-z][a-z, ]{{3,40}}: )?{_BANDS}[.;] (?:all (?:of (?:it|this|them) )?(?:is|in|are) (?:plain )?(?:knit(?:ting)?|stocking st(?:itch)?|st st))(?=[.;]|$)", _bands),
    (rf"(?P<b>^|[.;] )(?:then,? )?all in (?:knit|plain knitting|stocking st(?:itch)?|st st): {_BANDS}(?=[.;]|$)", _bands),
    (rf"(?P<b>^|[.;] )\*{_BANDS}; rep(?:eat)? from \* (?P<often>{_N}) (?:(?P<more>more )times|times more)(?=[.;]|$)", _bands),
    (rf"(?P<b>^|[.;] )\*{_BANDS}; rep(?:eat)? from \* (?P<far>until [^.;]*?)(?: and you have (?:just )?(?:finished|done|completed) an? [^.;,]*)?(?=[.;]|$)", _bands),
    # "Basket: 4 rounds of *k3, p3*, 4 rounds of *p3, k3*. Do this five times over, then knit 2 rounds"
    (rf"(?P<b>^|[.;] )(?:[a-z]+: )?(?:work )?(?P<n1>{_N}) (?:rounds|rnds) of {_UNIT.format(n=1)}(?:,| and|,? then) (?P<n2>{_N}) (?:rounds|rnds) of {_UNIT.format(n=2)}[.;,] (?:do|work|repeat) (?:this|these|it|them) (?P<often>{_N}) times(?: over| in all| altogether| through)?(?:,? (?:and )?then (?P<rest>[^.;*]*))?(?=[.;]|$)", _two_units),
    (rf"(?P<b>^|[.;] )(?P<parts>{_PART}(?:,? then {_PART})+)(?::|,| [–—-]) (?:a|one|which is (?:a|one)|this is (?:a|one)) (?:band|stripe|ridge|repeat|pattern|welt) of (?P<n>{_N}) (?:rounds|rnds)(?=[.;]|$)", _parts_of_band),
    # "With A knit 4 rounds, with B knit 2 rounds"
    (rf"(?P<first>\bwith {_COL},? (?:knit|work|purl) {_N} (?:rounds?|rnds?|rows?)),? (?:and |then )*with (?=(?P<col>{_COL}),? (?:knit|work|purl) {_N} (?:rounds?|rnds?|rows?))", r"\g<first>. With "),
    (rf"(?P<b>^|[.;] )with (?P<col>(?:yarn |colou?r )?(?-i:[A-H])) (?=(?:knit|purl|work) {_N} (?:rounds?|rnds?|rows?)\b)", r"\g<b>With \g<col>, "),
    # "With A rib 10 rounds", "Rib again, 8 rows"
    (rf"(?P<b>^|[.;] )(?P<with>with {_COL},? )?rib(?: again| on)?,? (?:for )?(?P<n>{_N}) (?P<more>more )?(?P<c>{_CRS})(?P<more2> more)?(?=[.;]|$)", lambda match: f"{match['b']}{match['with'].rstrip(' ,') + ', ' if match['with'] else ''}{'work' if match['with'] else 'Work'} {match['n']} {'more ' * bool(match['more'] or match['more2'])}{match['c']} in rib"),
    # "Knit nine, narrow, all round", "k10, k2tog in each wedge", "In every section, k12, k2tog"
    (rf"(?P<b>^|[.;:] )(?:knit|k) ?(?P<n>{_N}),? (?:and )?narrow,? (?:all |right |the way )*(?:a?round|to (?:the )?end)(?=[.;]|$)", lambda match: f"{match['b']}*K{_figure(match['n'].lower())}, k2tog; rep from * around"),
    (rf"(?P<b>^|[.;:] )(?P<x>(?:{_ST}, )*{_TOG}(?:, {_ST})?),? (?:in|on|over|for) (?:each|every) (?:wedge|section|panel|segment|part)(?=[.;]|$)", r"\g<b>*\g<x>; rep from * to end"),
    (rf"(?P<b>^|[.;:] )(?:in|on|over|for) (?:each|every) (?:wedge|section|panel|segment),? (?P<x>(?:{_ST}, )*{_TOG}(?:, {_ST})?)(?=[.;]|$)", r"\g<b>*\g<x>; rep from * to end"),
    # "Work 14 rounds of stocking stitch. On rounds 3, 6, 9 and 12: k21, m1, knit the thumb, m1, k21"
    (rf"(?P<b>^|[.;] )(?:work|knit) (?P<n>{_N}) (?P<c>{_CRS})(?: (?:of|in) (?:stocking st(?:itch)?|stockinette|st st)| plain)?[.;,] (?:in|on) {_CRS} (?P<list>\d+(?:, \d+)*,? (?:and|&) \d+)(?::|,) (?P<row>[^.:]+)(?=[.]|$)", _on_rounds),
    # "Dec on next rnd, on the foll 4th rnd, on the foll 3rd rnd twice, on every 2nd rnd 3 times"
    (rf"(?P<b>^|[.;] )(?P<kind>dec(?:rease)?|inc(?:rease)?) (?:on|in) (?:the )?next (?P<c>rnd|round|row)(?P<rest>(?:,|,? and|,? then|,? and then) (?:(?:on|in) )?(?:the )?(?:foll(?:owing)?\.? )?(?:every )?(?:{_NTHS} )?(?:rnd|round|row)(?: (?:twice|{_N} times))?(?:(?:,|,? and|,? then|,? and then) (?:(?:on|in) )?(?:the )?(?:foll(?:owing)?\.? )?(?:every )?(?:{_NTHS} )?(?:rnd|round|row)(?: (?:twice|{_N} times))?)+)(?=[.;]|$)", _listed_shaping),
    # "On rounds 2, 4 and 6 work the dec round", "Make dec rounds on rounds 2, 4 and 6"
    (rf"(?P<b>^|[.;] )(?:and |now |then )*(?:(?P<at>{_ON_LISTED}),? (?:work|do|make|rep(?:eat)?) (?:(?:the|an?|this|one) )?(?P<kind>dec|inc)\w*\.?(?: (?:rounds?|rnds?)\b)?|(?:make|do) (?:(?:the|an?) )?(?P<kind2>dec|inc)\w*\.? (?:rounds?|rnds?) (?P<at2>{_ON_LISTED}))", lambda match: f"{match['b']}Work the {match['kind'] or match['kind2']} round {match['at'] or match['at2']}"),
    # "Knit 2 rounds, work the dec round; do this twice", "Twice more: knit 2 rounds, then the dec round"
    (rf"(?P<b>^|[.;] )(?P<x>{_PLAIN_AND_SHAPED})[;:,.–—-]? ?(?:do|work) (?:this|so|these|both|that|it|the two|th(?:e|is|ese) \d rounds)(?: in turn)? (?P<n>twice|{_N} times)(?: in all| altogether| over)?(?=[.;]|$)", lambda match: f"{match['b']}[{match['x'].replace('. ', ', ')}] {match['n']}"),
    (rf"(?P<b>^|[.;] )(?:do (?:this|so) )?(?P<n>twice|{_N} times)(?: more| over)?: (?P<x>{_PLAIN_AND_SHAPED})(?=[.;]|$)", r"\g<b>[\g<x>] \g<n>"),
    # "k1, m1, k to last st of needle, m1, k1, both needles"
    (r"(?P<l>(?:^|[.;] )(?:(?:round|rnd) \d{1,2}|\d{1,2}(?:st|nd|rd|th) (?:round|rnd)|(?:next|inc\w*|dec\w*) (?:round|rnd)): )(?P<x>[^:;.*()\[\]]+\bto (?:the )?last \d* ?st[^:;.*()\[\]]*?),? (?:(?:on|over|for|with|across) )?(?:both|each|both of the) (?:needles?|tips|halves)(?=[.;]|$)", r"\g<l>On each needle, \g<x>"),
    # "Rep these 2 rnds to 24 sts per needle", "do the same 2 rounds again and again until"
    (rf"(?P<r>\b(?:rep(?:eat)?|work|do) (?:(?:these|those|the|both) )*(?:last )?(?:{_N} )?{_CRS}) (?:down |up )?to (?P<n>{_N}) (?:sts|stitches) (?:per|on each|on every|a|each) needle\b", r"\g<r> until there are \g<n> sts on each needle"),
    (rf"(?P<b>^|[.;] )(?:now |then )?(?:do|work|knit) the same (?P<n>{_N}) (?P<c>{_CRS})(?: again and again| over and over| as often as needed)?,? (?=(?:un)?til\b)", r"\g<b>Repeat these \g<n> \g<c> "),
    (r"(?P<b>^|[.;] )(?P<go>continue|carry on|go on|keep on|proceed) so,? (?=(?:un)?til\b)", r"\g<b>\g<go> in this way "),
    # "until there are 24 on each needle", "until you have 24 + 24 sts", "until 48 sts, ending after round 2"
    (rf"\b(?P<u>(?:un)?til+) (?:there are|you have) (?P<n>{_N})(?: (?:sts|stitches))? on (?:each|every|both)(?: of the)?(?: needles?)?(?=[.;,]|$)", r"\g<u> there are \g<n> sts on each needle"),
    (r"\b(?P<u>(?:un)?til+) (?:there are|you have) (?P<n>\d{1,3}) ?(?:\+|and|plus) ?(?P<m>\d{1,3}) (?:sts|stitches)(?=[.;,]|$)", lambda match: f"{match['u']} there are {int(match['n']) + int(match['m'])} sts"),
    (rf"\b(?P<u>(?:un)?til+) (?P<n>{_N}) (?P<s>sts|stitches)(?=,? (?:and )?(?:end|finish)ing\b)", r"\g<u> there are \g<n> \g<s>"),
    # "Repeat these 4 rows until 24 pattern rows are done", "then 1st and 2nd rounds again"
    (rf"\b(?P<u>(?:un)?til+) (?P<n>{_N}) (?:pattern|patt|such|of these|lace|rib) (?P<c>{_CRS}) (?:are|have been) (?:done|worked|complete[d]?|finished|made)\b", r"\g<u> you have \g<n> \g<c>"),
    (r"(?P<t>,? (?:and )?then )(?:the )?(?P<a>\d{1,2})(?:st|nd|rd|th) (?P<and>and|to|&) (?:the )?(?P<z>\d{1,2})(?:st|nd|rd|th) (?P<c>rounds|rnds|rows) (?P<m>(?:once )?(?:again|more))(?=[.;]|$)", r"\g<t>\g<c> \g<a> \g<and> \g<z> \g<m>"),
    # "until there are 56 (28 per tip)", "till 56. That's 28 a side", "until you have 56 in all (28 + 28)"
    (r"(?P<until>\b(?:un)?til+) (?P<lead>(?:there are |you have |you are at |only )*)(?P<n>\d+(?: ?[\[(][\d, :;]+[\])])?)(?: sts| stitches)?(?!\d)(?: in all)?(?:[,.:;] | [-–—] | (?=[(\[]))[(\[]?(?:that(?:['’]s| is|makes) |so |with |which is )?(?:\d+(?: ?[\[(][\d, :;]+[\])])?(?: sts| stitches)? (?:(?:per|an?|every) |(?:on|to|for|at|at) (?:each|every|an?) )(?:tip|needle|side|half|end)\b|\d+ ?\+ ?\d+(?=[)\]]))[)\]]?(?=[.;,)]|\s*$)", r"\g<until> \g<lead>\g<n> sts"),
    # "till you have your 48 back", "until there are 48 again"
    (r"(?P<until>\b(?:un)?til+) (?:(?:there are|you have|you(?:['’]re| are) back (?:to|at|with)|you get back to) )(?:your |the |those |all )*(?P<n>\d+(?: ?[\[(][\d, :;]+[\])])?)(?: sts| stitches)?(?: back| again| once more| as before| as at first)+(?=[.;,)]|\s*$)", r"\g<until> there are \g<n> sts"),
    # "till there is no gap, and there are 16 on the needle"
    (r"(?P<far>\b(?:un)?til+\b[^.;:\d]*?),? and (?:(?:so |then )?(?:there are|you have|that leaves|you are left with)|(?=\d+(?: sts| stitches)? (?:are left|remain))) ?(?P<n>\d+(?: ?[\[(][\d, :;]+[\])])?)(?: sts| stitches)?(?: (?:are left|remain|left|on the needles?|in all))*(?=[.;]|\s*$)", r"\g<far>. \g<n> sts"),
    # "until Rnds 1-8 of cable have been worked twice", "until you have worked the 8 rnds of the cable 3 times"
    (rf"(?P<until>\b(?:un)?til+) (?:you have (?:worked|done|completed|finished) )?(?:(?:rounds|rnds|rows) 1 ?(?:[-–]|to) ?\d{{1,2}}|(?:all )?(?:the )?{_N} (?:rounds|rnds|rows)) of (?:the )?(?P<name>[a-z]+(?: [a-z]+)?)(?: (?:have been|are|were) (?:worked|done|complete[d]?|finished))? (?P<n>twice|(?P<m>{_N}) times)(?: in all| altogether)?(?=[.;,]|\s*$)", lambda match: f"{match['until']} {match['m'] or 'two'} repeats of the {match['name']} are done"),
    # "Do 3rd and 2nd rows turn about till …, the 2nd row coming last"
    (r"(?P<b>^|[.;] )(?:do|work|knit|repeat|rep) (?:the )?(?P<a>\d{1,2})(?:st|nd|rd|th) and (?:the )?(?P<z>\d{1,2})(?:st|nd|rd|th) (?P<c>rounds|rnds|rows) (?:turn (?:and turn )?about|alternately|by turns|in turn)(?=[,. ]|$)", lambda match: f"{match['b']}Repeat {match['c']} {' and '.join(sorted((match['a'], match['z']), key=int))}"),
    (r",? (?:with )?the (?P<n>\d{1,2})(?:st|nd|rd|th) (?P<c>row|round|rnd) (?:coming |being )?last(?=[.;,]|$)", r", ending with \g<c> \g<n>"),
    # "Knit Needles 1 and 4, pattern Needles 2 and 3"
    (r"(?P<b>^|[.:;] )(?P<v>knit|purl|patt(?:ern)?|work|rib) (?P<n>needles \d and \d),? (?:and )?(?P<v2>knit|purl|patt(?:ern)?|work|rib) (?P<n2>needles \d and \d)(?=[.;]|$)", _by_needle),
    # "… rows until B is down to 32 sts, the last row being a purl row"
    (rf"(?P<rows>\brows\b[^.;:]*?,? )(?P<u>(?:un)?til+) (?:needle |tip )?(?-i:[A-Z]) (?:is|has come|comes) (?:back )?(?:down|up) to (?P<n>{_N})(?: (?:sts|stitches))?(?=[.;,]|$)", r"\g<rows>\g<u> there are \g<n> sts"),
    (r",? (?:the|with the|your) (?:last|final) (?P<c>row|round|rnd)(?: being|:| is(?: to be)?)?,? (?P<a>an? )?(?P<what>knit|purl|plain|[rw]s|right[- ]side|wrong[- ]side|dec\w*|inc\w*)(?: (?:one|row|round|rnd))?(?=[.;,]|$)", r", ending with a \g<what> \g<c>"),
    # "Keep on with 3 and 4 until", "K every R until"
    (r"(?P<b>^|[.;] )(?:keep on|go on|continue|carry on|repeat|rep)(?: with| working| repeating)? (?P<a>\d{1,2}) and (?P<z>\d{1,2}),? (?=(?:un)?til+\b)", r"\g<b>Repeat rows \g<a> and \g<z> "),
    (r"(?P<b>^|[.;] )(?P<k>k|knit|p|purl|work) every R(?= (?:un)?til+\b)", r"\g<b>\g<k> every round"),
    # "until there are 52 as before", "Switch to *k2, p2* and work 18 rounds", "Knit them once around"
    (rf"(?P<u>\b(?:un)?til+ (?:there are|you have) {_N})(?: (?:sts|stitches))? (?:as|like) before(?=[.;,]|$)", r"\g<u> sts"),
    (rf"(?P<b>^|[.;] )(?:switch|change|go over)(?: over)? to \*(?P<r>[kp] ?\d,? [kp] ?\d)\*,? (?:and )?(?:work|rib|knit) (?P<n>{_N}) (?P<c>{_CRS})", r"\g<b>Work \g<n> \g<c> in \g<r> rib"),
    (r"(?P<b>^|[.;] )(?P<v>knit|purl) them (?:once|one time) (?:a?round|over)(?=[.;]|$)", r"\g<b>\g<v> 1 round"),
    # "On the 5th row and on every 6th row following, k2, ssk, …. When this has been done five times, work 7 rows even"
    (rf"(?P<b>^|[.;] )(?:[a-z]+: )?on the (?P<nth>{_NTHS}) (?P<c>row|round|rnd) and (?:on )?every (?P<every>{_NTHS}) (?:row|round|rnd)(?: following| after(?: that)?)?[,:] (?P<row>[^.:;]+)[.;] when (?:this|it|that) has been (?:done|worked) (?P<n>{_N}) times,? (?:work|knit) (?P<even>{_N}) (?:rows|rounds|rnds)(?: even| plain| straight)?(?=[.;]|$)", _on_nth_and_every),
    # "Every 3rd round from here: …. The two rounds between are plain, and they come first. Do the dec round five times"
    (rf"(?P<b>^|[.;] )every (?P<nth>{_NTHS}) (?P<c>round|rnd|row)(?: from here(?: on)?)?: (?P<row>[^:]+?)\. the (?P<gap>{_N}) (?:rounds|rnds|rows) between are (?:knit(?:ted)? )?plain,? and (?:they )?come first\. (?:do|work) the (?P<name>dec|inc)\w* (?:round|rnd|row) (?P<n>{_N}) times(?=[.;]|$)", lambda match: f"{match['b']}{match['name'].capitalize()} {match['c']} (told only): {match['row']}. Work {match['gap']} plain {match['c']}s and the {match['name']} {match['c']} {match['n']} times"),
    # "Purl the first 33 sts and knit the other 33, every rnd, until you have 52 rnds, then k 2 rnds over all sts"
    (rf"(?P<b>^|[.;] )(?P<one>purl|knit) the first (?P<n>\d+)(?: (?:sts|stitches))?,? (?:and|then) (?P<other>knit|purl) the (?:other|rest|remaining)(?: (?P<m>\d+))?(?: (?:sts|stitches))?(?: \([^()]*\))?,? (?:in |on )?every (?P<c>rnd|round),? until (?:you have|there are) (?P<many>{_N}) (?:rnds|rounds)(?:,? (?:and )?then (?P<rest>k \d+ rnds|knit \d+ rounds)(?: over all (?:sts|stitches))?)?(?=[.;]|$)", lambda match: f"{match['b']}Rnd 1: {match['one'][0]}{match['n']}, {match['other'][0]} to end. Rep rnd 1 until you have {match['many']} rnds{'. ' + match['rest'].capitalize() if match['rest'] else ''}"),
    # "Starting with the very next round, k2tog before each marker every other round until 56 sts remain"
    (r"(?P<b>^|[.;] )(?:(?:starting|beginning) with the (?:very )?next (?:round|rnd),? )?(?:then )?k2tog (?:just )?before (?:each|every) marker (?:in |on )?every (?:(?P<other>other|second|alternate) )?(?P<c>round|rnd) until (?:there are |only )?(?P<n>\d+)(?: (?:sts|stitches))?(?: (?:remain|are left|left))?(?=[.;]|$)", lambda match: f"{match['b']}Dec {match['c']}: *k to 2 sts before marker, k2tog, sm; rep from * around. {'Knit 1 ' + match['c'] + '. Repeat the last 2 ' + match['c'] + 's' if match['other'] else 'Repeat the last ' + match['c']} until {match['n']} sts remain"),
    # "Alternate a decrease round (k1, ssk, …) with a plain round 6 times; after that decrease every round 5 times"
    (rf"(?P<b>^|[.;] )alternate (?:a|the|one) (?P<name>dec|inc)\w* (?P<c>round|rnd) \((?P<row>[^()]+)\) (?:with|and) (?:a|one) plain (?:round|rnd),? (?P<n>{_N}) times(?:[;,.] (?:after that|then),? (?:dec|inc)\w* (?:on |in )?every (?:round|rnd) (?P<m>{_N}) times)?(?=[.;]|$)", lambda match: f"{match['b']}{match['name'].capitalize()} {match['c']} (told only): {match['row']}. Work the {match['name']} {match['c']} and a plain {match['c']} {match['n']} times{'. Work the ' + match['name'] + ' ' + match['c'] + ' ' + match['m'] + ' times' if match['m'] else ''}"),
    # "From R9 on, dec in the same places on every round, …, until"
    (r"(?P<from>(?:^|[.;] )from (?:round|rnd|row|r) ?\d{1,2} on(?:wards)?),? (?P<what>dec|inc)(?:rease)? in the same places (?:on|in) every (?:round|rnd|row)(?:, [^.;:\d]*)?,? (?=until)", r"\g<from>, continue \g<what>reasing in this way on every round "),
    (rf"\buntil you(?: are|'re) back (?:to|at|down to) (?P<n>{_N})(?: (?:sts|stitches))?(?= *[.;,]|$)", r"until you have \g<n> stitches"),
    # "RS rows are as follows; on all WS rows purl"
    (r"^(?:rs|right[- ]side) rows are (?:as follows|these|given|written)[;,.:] (?:on )?(?:all )?(?:the )?(?:ws|wrong[- ]side) rows:? (?:are )?(?P<how>purl|knit)(?:l?ed|ted)?(?=[.]|$)", lambda match: f"All WS rows: {match['how'].capitalize()}"),
    # "Next row, knit"; "Work 6 of them"
    (r"(?P<b>^|[.;] )(?P<next>next (?:row|round|rnd)), (?P<how>knit|purl)(?=[.;]|$)", r"\g<b>\g<next>: \g<how>"),
    (rf"(?P<b>[.;] )(?:work|make|knit|do) (?P<n>{_N}) of (?:them|these|those)(?= *[.;]|$)", r"\g<b>Work this row until there are \g<n> of them"),
    # "work until 3 sts are left, p 1 row, sl 1, k2tog, psso"
    (r"(?P<go>\b(?:work|continue|go on)(?: (?:so|thus|like this|in this way))? (?:until (?:there are )?(?:only )?|to (?:the )?last )\d+ (?:sts|stitches)(?: (?:are left|remain))?), (?:then )?(?P<row>(?:p|k|purl|knit) (?:1|one) row)(?:[,;.] (?:then )?(?P<rest>[a-z])|(?=[.]?$))", lambda match: f"{match['go']}. {match['row'].capitalize()}" + (f". {match['rest'].upper()}" if match["rest"] else "")),
    # "Rib 3 rounds as sts now lie: (p1, k3) to end"
    (rf"(?P<b>^|[.;] )(?:then )?(?:rib|work|knit) (?P<n>{_N}) (?P<c>{_CRS})(?: [a-z][a-z ]{{3,30}})?: (?=[*(\[](?:[kp] ?\d|knit|purl))", r"\g<b>Next \g<n> \g<c>: "),
    # "*k9, k2tog; repeat around"; "until the decrease round that leaves 48 stitches"
    (r"(?P<star>\*[^*.:]+[;,] rep(?:eat)?) (?=(?:all )?(?:a?round|across|to (?:the )?end)\b)", r"\g<star> from * "),
    (r",? until the (?:dec|inc)\w* (?:round|rnd|row) (?:that|which) leaves (?P<n>\d+)(?: (?:sts|stitches))?(?=[.;,]|$)", r" until there are \g<n> sts"),
    (r"(?P<go>\b(?:dec|inc)(?:rease)? in the same (?:way|manner) (?:on |in )?every (?:other|alternate) (?:round|rnd)),? each [a-z0-9]+ (?:over|above) the (?:one|last)(?: below(?: it)?)?,? (?=until)", r"\g<go> "),
    # "dec 1 st at each end of the next row and of every 4th row after it", "of alt rows"
    (r"(?P<b>^|[.;] )keeping (?:the |in )?(?:rib|patt(?:ern)?|moss stitch)(?: as (?:established|set))?,? (?P<what>dec|inc)(?=\w* \d)", r"\g<b>\g<what>"),
    (rf"\b(?P<what>(?:dec|inc)(?:rease)? {_N} (?:sts?|stitch(?:es)?)) (?:at )?each (?:end|side) of (?:the )?next row,?(?: and| then)? (?:of |on )?(?:every )?(?P<nth>{_NTHS}|alt) rows?(?: (?:after (?:it|that)|following))?(?P<until>,? until )", r"\g<what> at each end of next and every foll \g<nth> row until "),
    (rf"(?P<then>\bthen) of (?P<every>every (?:foll(?:owing)? )?{_NTHS} row until)", r"\g<then> \g<every>"),
    # "Dec in the same manner at each end of every foll 6th row"
    (rf"(?P<b>^|[.;] )(?P<what>dec|inc)(?:rease)? in the same (?:manner|way) at (?:each|both) ends? (?:of |on |in )every (?:foll(?:owing)?\.? )?(?P<nth>{_NTHS}) (?P<c>row|round|rnd)(?= (?:until|\d|{_N} times))", r"\g<b>Repeat the \g<what> \g<c> every \g<nth> \g<c>"),
    # "Row 1 (RS) and each RS row: …"
    (r"(?P<row>^|[.;] )(?P<l>(?:row|round|rnd) \d{1,2}(?: \([RW]S\))?) and (?:each|every) (?P<side>[RW]S|right[- ]side|wrong[- ]side) row(?=:)", lambda match: f"{match['row']}{match['l'].split(' (')[0]} and all {match['side']} rows"),
    # "Rnd 3: *k1, yo, ssk, k4." without a second star; "After Rnd 8 start anew; work 5 zigs"
    (r"(?P<l>\b(?:rnd|round|row) \d{1,2}(?: \([RW]S\))?: )\*(?P<x>[^*.;:]+)(?=\.(?: (?:rnd|round|row|each)\b|$))(?![^\n]*\brep(?:eat)?\b)", r"\g<l>*\g<x>; rep from * to end"),
    (rf"(?P<b>^|[.;] )after (?P<c>rnd|round|row) (?P<z>\d{{1,2}}) (?:start|begin) (?:anew|again|over(?: again)?)[;,.] (?:work|make|do) (?P<n>{_N}) (?:[a-z]+)(?=[.;]|$)", r"\g<b>Work \g<c>s 1-\g<z> \g<n> times in all"),
    # "Increase on right-side rows as follows: …. When you have counted 6 increase rows and worked the WS row after the last, …"
    (r"(?P<b>^|[.;] )(?:inc|dec|shap)\w* on (?P<side>right|wrong)[- ]side rows as follows: ", lambda match: f"{match['b']}{match['side'].capitalize()}-side rows: "),
    (rf"(?P<b>^|[.;] )when you have (?:counted|worked|made|done) (?P<n>{_N}) (?P<what>increase|decrease|inc|dec) rows(?P<side>,? and (?:worked )?the (?:wrong|right)-side row after the last)?,? (?:then )?(?P<rest>[a-z])", lambda match: f"{match['b']}Work until you have {match['n']} {match['what']} rows{', ending with a purl row' * 0}. {match['rest'].upper()}"),
    # "*Decrease round: …. Knit 2 rounds.* Work from * to * twice in all"
    (rf"^\*(?P<l>[A-Za-z]+ (?:round|rnd|row)): (?P<row>[^:*]+(?:\*[^*:]+\*[^*:]*)??)\. (?P<plain>(?:knit|purl|work) (?P<m>{_N}) (?P<c>rounds?|rnds?|rows?)(?: even| plain)?)\.\* (?:work|rep(?:eat)?) from \* to \* (?P<n>{_N}|twice) ?(?:times )?(?P<more>more)?(?: ?in all)?(?=[.;]|$)", _from_star_to_star),
    # "Work the inc round every other round until …, and finish with a plain round": the last of them shapes
    (r"(?P<go>\b(?:work|rep(?:eat)?) the (?:inc|dec)\w* (?P<c>round|rnd) every other (?:round|rnd) until [^.;:,]*),? and (?:finish|end) with a plain (?:round|rnd)(?=[.;]|$)", r"\g<go>. Knit 1 \g<c>"),
    # "Work until there are 4 purl ridges, then knit 5 rounds"; "All rounds are alike; work 12"; "Foot – 40 rounds of stocking stitch"
    (rf"(?P<until>\b(?:until|till) (?:there are|you have|you can count) {_N} (?:[a-z]+ )?(?:ridges|eyelets|twists|chains|loops|repeats)),? (?:and )?then (?P<v>knit|purl|work) (?=(?:{_N}|a) (?:more )?(?:rounds?|rnds?|rows?)\b)", lambda match: f"{match['until']}. {match['v'].capitalize()} "),
    (rf"(?P<b>^|[.;] )(?:all|every|each) (?P<c>round|rnd|row)s? (?:is|are) (?:alike|the same)[;,:] (?:work|knit|do|make) (?P<n>{_N})(?: of them| {_CRS})?(?=[.;]|$)", r"\g<b>Work this \g<c> until there are \g<n> of them"),
    (rf"(?P<b>^|[.;] )(?P<p>{_PIECE}) [–—-] (?={_N} (?:rounds|rnds|rows)\b)", r"\g<b>\g<p>: "),
    # "16 rows: sl 1, k27; sl 1, p27", "2 rows CC: …"; "Stripe on until the flap has 24 rows"
    (rf"(?P<b>^|[.;] )(?:work |make )?(?P<n>{_N}) rows(?:(?: in| with)? (?:mc|cc|[A-E]\b|[a-z]+))?(?::| of| [–—-]) ?(?P<one>{_ITEM_ROW})[;/] ?(?P<other>{_ITEM_ROW})(?=[.]|$)", _two_rows),
    (rf"(?P<b>^|[.;] )(?P<n>{_N}) rows(?: (?:in|with))? (?:mc|cc|[A-E])\b,? (?P<so>(?:in )?(?:the same|this|like) way|the same|likewise)(?=[.;]|$)", r"\g<b>Work \g<n> more rows in the same way"),
    (r"(?P<b>^|[.;] )stripe on (?=until)", r"\g<b>Continue in this way "),
    # "Work 13 more pairs of rows like these"
    (rf"(?P<b>^|[.;] )(?P<verb>work|knit|make|do) (?P<n>{_N}) more (?:such )?pairs of (?P<c>{_CRS})(?: (?:like (?:these|this)|so|in (?:this|the same) way))?(?=[.;]|$)", r"\g<b>Repeat the last 2 \g<c> \g<n> more times"),
    # "six times in total, then 10 rounds without shaping"
    (rf"(?P<times> times(?: more| in all| in total| altogether)?| twice(?: more)?),? (?:and )?then (?P<n>{_N}) (?P<plain>plain )?(?P<c>{_CRS})(?(plain)|(?: plain| even| straight| without (?:any )?(?:shaping|dec\w*|inc\w*)))(?=[.;]|$)", r"\g<times>. Work \g<n> \g<c> even"),
    # "Narrow the ankle at the back of the leg: k1, k2tog, k to last 3 sts, ssk, k1"
    (r"(?P<b>^|[.;] )(?:narrow|decrease|shape)\b(?! (?:thus|so|as follows|like this|row|round|rnd))[^.:;*\d]{3,50}: (?=(?:[kp] ?\d|ssk|k2tog|sl ?1)[^.:*]*\bto (?:the )?last\b[^.:*]*\b(?:ssk|k2tog|skpo?)\b)", r"\g<b>Dec round: "),
    # "Shape gusset on the next and every foll 3rd rnd: …. Four dec rnds altogether, and 2 plain rnds after the last"
    (rf"(?P<b>^|[.;] )[a-z ]{{3,40}} (?:on|in) the next and (?:on |in )?(?:every|each)(?: foll(?:owing)?\.?)? (?P<nth>\d(?:st|nd|rd|th)|other|alternate|second|third|fourth) (?P<c>rnd|round|row): (?P<row>[^:]+?)\. (?:(?:make|work) )?(?P<n>{_N}) (?P<name>dec|inc)\w*\.? (?:rnds|rounds|rows) (?:altogether|in all|in total)(?:,? and (?P<m>{_N}) plain (?:rnds|rounds|rows)(?: after (?:the last|that|it))?)?(?=[.;]|$)", _on_next_and_every),
    # "*Knit 1 rnd, work gusset rnd once; rep from * 10 more times"
    (rf"(?P<b>^|[.;] )\*(?P<one>knit (?:1|one) (?:rnd|round|row)),? (?:then )?(?P<other>work (?:the )?[a-z]+ (?:rnd|round|row))(?: once)?; rep(?:eat)? from \* (?P<n>{_N}) (?:more times|times more)(?=[.;]|$)", _star_of_two),
    # "27. Steps 25 and 26, again and again, until each needle has 5"
    (rf"(?P<b>^|[.;] )(?:do |work |take )?(?P<steps>steps \d{{1,2}} and \d{{1,2}})(?: go on)?,? (?:again and again,? |over and over,? )?(?P<far>until\b|{_N} times\b)", _steps_again),
    (rf"\buntil each (?:needle|of the (?:end )?needles|tip) (?:has|holds|is down to|is up to) (?P<n>{_N})(?: (?:sts|stitches))?(?=[.;,]|$)", r"until there are \g<n> sts on each needle"),
    # "Rnd 2: K all"; "to end of heel sts"
    (r"(?P<b>: )(?P<k>k|p|knit|purl) all(?: (?:sts|stitches))?(?=[.;]|$)", r"\g<b>\g<k>"),
    (r"(?P<rep>\b(?:rep(?:eat)?|work) (?:the )?(?:last|these) (?:2|two) rows) to (?:the )?end of (?:the )?heel (?:sts|stitches)\b", r"\g<rep> until all heel sts are worked"),
    # "Rows 1 and 2 ..." that go on to a count
    (rf"\b(?:un)?til+ (?:the )?(?:stitch )?(?:count|number|total)(?: of (?:sts|stitches))? (?:is|reads|has come to|comes to) (?P<n>{_N})\b", r"until there are \g<n> sts"),
    (r"(?P<go>\b(?:go on|continue|carry on|keep on|proceed|(?:and )?on in this manner)\b(?:(?!\b(?:un)?til)[^.:*])*?),? (?:up |down )?to (?P<n>\d{1,3}) (?:sts|stitches)\b(?! (?:before|after|from))", r"\g<go>, until there are \g<n> sts"),
    (r"(?P<go>\b(?:go on|continue|carry on|keep on|proceed)\b[^.:*]*?),? ending (?:with|on|after) the (?P<c>row|round|rnd) (?:that|which) leaves (?:you (?:with )?)?(?P<n>\d{1,3})(?: (?:sts|stitches))?", r"\g<go>, until \g<n> sts remain"),
    (r"(?P<b>^|[.;] )and (?:so )?on (?=in this (?:way|manner)|like this)", r"\g<b>Continue "),
    # "Work 10 rows of this rib, then 20 rows of st st"
    (rf"(?P<first>\b(?:work|knit|do) {_N} {_CRS} (?:of|in) (?:this|that|the) (?:rib|pattern|patt|stitch|moss|lace)(?: (?:stitch|pattern))?),? (?:and )?then (?=(?:another )?{_N} {_CRS} (?:of|in) )", r"\g<first>. Work "),
)  # fmt: skip


def _in_figures(means: Means) -> Means:
    """Return what leaves words as they are where they hold other numbers than it can take: by size."""
    if isinstance(means, str):
        return means

    def tried(match: re.Match[str]) -> str:
        try:
            return means(match)
        except ValueError:
            return match[0]

    return tried


_TABLE = Rewordings((said, _in_figures(means)) for said, means in _ROWS)


def how_far_in_words(said: MappedText) -> MappedText:
    """Return a line in the words that the reader knows for how far and how often.

    Examples
    --------
    >>> how_far_in_words(MappedText.of("Work 10 rows of this rib, then 20 rows of st st.")).text
    'Work 10 rows of this rib. Work 20 rows of st st.'
    """
    return _TABLE.put_in(said)
