# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows that go on, told in any order: which, on which rounds, how far or how often."""

from __future__ import annotations

import re

import attrs

from loopwright.pattern._reading.free_words import WordGroup, by_kind, phrases_in
from loopwright.pattern._reading.how_often import stride_in, times_in
from loopwright.pattern._reading.labels import numbers_in
from loopwright.pattern._reading.stated import count_in, number_of
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._words import NUMBER_WORDS
from loopwright.pattern.values import Count

__all__ = ["GoingOn", "going_on_in"]


@attrs.frozen
class GoingOn:
    """Which rows are worked again, on which rounds, and how far."""

    numbers: tuple[int, ...] = ()  # rows by their numbers
    last: int = 0  # so many of the rows just worked
    kind: str = ""  # "dec", "inc", or "shaping" of either kind
    stride: int = 0  # 2 on every other round; 0 where that is not said
    target: Count | None = None  # stitches that are reached
    times: Count | None = None
    total: bool = False  # whether the times count those worked before
    rounds: Count | None = None  # how many in all, plain ones too
    purled: int = 0  # 6 where every 6th round is purled
    each: bool = False  # whether so many stitches are reached on each needle
    ends: bool = False  # whether the last that shapes is the end, with no plain rounds behind it

    @property
    def is_whole(self) -> bool:
        """Tell whether it says what goes on, and how far."""
        return any(one is not None for one in (self.target, self.times, self.rounds))


_STS = r"(?:sts?\b\.?|stitch(?:es)?\b)"
_C = r"(?:rounds?|rnds?|rows?)\b"
_NTH = r"\d+(?:st|nd|rd|th)|other|alt(?:ernate)?\b\.?|second|third|fourth|fifth|sixth|(?:odd|even)(?:[- ]numbered)?|rs|ws|right[- ]side|wrong[- ]side"
_NTHS = r"\d+(?:nd|rd|th)|second|third|fourth|fifth|sixth|eighth|tenth"
_MARKED = r"(?:markers?|sides?|edges?|ends?|corners?|seams?|ribs?|cables?|panels?|gussets?|heel|sole|instep|foot|toe|crown|hand|top|thumb|needles?|middle|cent(?:er|re)|rounds?|rnds?|rows?|st(?:itche)?s?|decreases?|increases?|lines?)"
_MANY = rf"(?:{COUNT}|{'|'.join(NUMBER_WORDS)})"
_NAMED = r"dec(?:rease|reasing|s)?|inc(?:rease|reasing)?|shaping"
_DONE = r"(?:worked|done|made|completed?|finished|knit(?:ted)?)"
_IN_ALL = r"(?:,? (?:in (?:all|total)|altogether))?"
_KINDS: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (kind, re.compile(said, re.IGNORECASE))
    for kind, said in (
        ("place", rf"(?:un)?til+\b(?: (?:you (?:have|are)|there (?:are|is)|the (?:thumb|gusset|gore) (?:has|holds|counts)))* (?:(?<=has |lds |nts ){COUNT} {_STS}|{COUNT} (?:thumb|gusset|gore) {_STS}|{COUNT} {_STS} (?:between|in|for|inside) (?:the |each |every )?(?:two )?(?:markers|thumb|gusset|gore|section|segment|wedge)(?: gusset)?)(?: \((?P<whole>{COUNT}) {_STS}\))?"),
        ("count", rf"(?:(?:un)?til+|down to|up to|to|till)\b(?: (?:you (?:again )?(?:have|are)|there (?:are|is)|only|a total of|just|are|about|have|once more|back (?:to|at)|down to|up to|the|all))* (?P<n>{COUNT})(?: (?:[a-z]+ )?{_STS}|(?= remain| are left| left)|(?<=are \d)(?=$)|(?<=are \d\d)(?=$)|(?<=have \d\d)(?=$))(?:,? (?:are |have been |is )?(?:remain\w*|rem\b\.?|left|reached|again|in all|in total|altogether|on (?:the|your) needles?(?! \d)|in work))*(?P<each> (?:on|per) (?:each|every|both|either)(?: of)?(?: the)?(?: two| three| four)? needles?)?(?=$|[,.;]| (?:\(\d+ (?:sts )?(?:on|per) each|chang|switch|mov|and|then|on|in|every))(?: \(\d+ (?:sts |stitches )?(?:on|per) each \w+\))?"),
        ("count", rf"(?:un)?til+ (?:the |your )?(?:(?:st|stitch) count|count|number of {_STS}|total)(?: of {_STS})? (?:is|reaches|comes (?:down )?to|(?:has )?(?:falls?|fallen|gone|come|dropped|drops) (?:down )?to|equals) (?P<n>{COUNT})(?: {_STS})?(?P<each>(?!))?"),
        ("rounds", rf"for (?:another |a further |the next )?(?P<n>{COUNT}) (?:more |further )?{_C}"),
        ("stated", r"(?:un)?til+ (?:all|both|the|each|every) (?:\w+ )?needles (?:have|hold|carry) (?:the same|an equal) number of (?:sts|stitches)(?: again)?|(?:un)?til+ (?:the )?(?:original|first|starting|right) (?:number|count)(?: of (?:sts|stitches))? (?:is|has been) (?:reached|restored|left)(?: again)?|(?:un)?til+ (?:you are )?back (?:at|to) the (?:original|starting|first) (?:number|count)[a-z ]*"),
        ("purled", rf"(?:(?:and|with|but|still|always|keeping|,) )*(?:(?:on )?(?:every|each) (?P<n>{_NTHS}) {_C} (?:is |being )?(?:purled|in purl|purl|a purl (?:one|{_C}))|purl(?:ing)? (?:on )?(?:every|each) (?P<n2>{_NTHS}) {_C}|(?:a |the )?purl(?:ed)? {_C} (?:on |at )?every (?P<n3>{_NTHS}|{_MANY}) {_C})"),
        ("every", rf"(?:in |on |at )?(?:the )?(?:next (?:{_C} )?and )?(?:then )?(?:on )?(?:every|each|all)(?: (?:following|foll\.?|single|successive))?(?: (?P<nth>{_NTH}))?(?: (?:following|foll\.?))? {_C}|(?:in |on )?(?:the )?(?:next and )?(?:every )?(?:foll(?:owing)?\.? )?alt(?:ernate)?\.? {_C}(?! ?\d)|every other(?= time\b)"),
        ("plain", rf"(?:always )?with (?:a|one|1) (?:plain|knit) {_C}(?: (?:worked |knitted )?(?:in )?between(?: them| each| times| each time)?)(?P<gap>(?!))?"),
        ("alternate", rf"alternat(?:e|ing) (?:{_C} )?(?P<rows>\d+ (?:and|&) \d+)|(?P<c>{_C}) (?P<rows2>\d+ (?:and|&) \d+) (?:in turn|alternately|by turns)"),
        ("often", rf"(?:un)?til+ (?:you have |you've )?{_DONE} (?:the )?(?P<n>{_MANY}) (?P<name>{_NAMED}) {_C}{_IN_ALL}(?P<plain>,? (?:and|with) (?:the |all |its |their )*(?:\w+ )?(?:plain|knit) {_C} (?:after|behind|that follow|following)(?: (?:the )?(?:last(?: one)?|it|that|them|each))?)?"),
        ("often", rf"(?:un)?til+ (?:a total of |all )?(?P<n>{_MANY}) (?:such )?(?P<name>{_NAMED}) {_C} (?:have been|has been|are|were) {_DONE}{_IN_ALL}"),
        ("often", rf"(?:un)?til+ (?:the|this|that) (?P<name>{_NAMED}) {_C} (?:has|have) been {_DONE} (?:a total of )?(?P<n>{_MANY}) times{_IN_ALL}"),
        ("often", rf"(?:un)?til+ (?:you have |you've |having )?{_DONE} (?:the|this|that) (?P<name>{_NAMED}) {_C} (?:a total of )?(?P<n>{_MANY}) times{_IN_ALL}"),
        ("often", rf"(?:un)?til+ (?:you have |you've )?(?P<name>(?:dec|inc)reased|shaped) (?:a total of )?(?P<n>{_MANY}) times{_IN_ALL}"),
        ("often", rf"(?:un)?til+ (?:there (?:have been|are|will have been)|you (?:have|have had)) (?:a total of )?(?P<n>{_MANY}) (?P<name>{_NAMED}) {_C}{_IN_ALL}"),
        ("often", rf"(?:to make |making |for )?a total of (?P<n>{_MANY}) (?P<name>{_NAMED}) {_C}|(?:to make |making |for )?(?P<n2>{_MANY}) (?P<name2>{_NAMED}) {_C} (?:in (?:all|total)|altogether)"),
        ("more", rf"(?:for |with )?(?:(?:another|a further) (?P<n>{_MANY})|(?P<n2>{_MANY}) (?:more|further)) (?P<name>{_NAMED}) {_C}"),
        ("plain", rf"(?:always )?(?:one|an?|1) (?:{_NAMED}) {_C},?(?: and| then|,)+ (?P<gap>{_MANY}) (?:plain|knit) {_C}|alternat(?:e|ing) (?:the |a |one )?(?:plain|knit|{_NAMED}) {_C} (?:and|with) (?:the |a |one )?(?:plain|knit|{_NAMED}) {_C}|(?:work )?(?:one|a|1) (?:plain|knit|{_NAMED}) {_C} and (?:one|a|1) (?:plain|knit|{_NAMED}) {_C} (?:alternately|in turn|by turns)"),
        ("bare", rf"(?:without|leav(?:e|ing) out|omit(?:ting)?|stop(?:ping)?|skip(?:ping)?|drop(?:ping)?) (?:the |any )?plain {_C}(?: (?:in )?between)?"),
        ("block", rf"(?:(?:the |all |these |those |this |last |both |same |previous |above |whole )*(?:last |these |same |both |previous )(?:(?P<many>\d{{1,2}}|two|three|four|six|eight) )?{_C}|both {_C}|(?:the |this |that )pair of {_C}|(?:as )?{_C} (?P<rows>\d+ ?(?:and|&|-|–|,|to) ?\d+)(?! ?(?:more )?times))"),
        ("named", rf"(?:the |this |that |these |those |your )*(?P<name>{_NAMED}) {_C}(?: only| alone)?"),
        ("row", rf"(?:as (?:in |on |for |at |you did (?:in|on) )?)?(?:the )?(?:last )?(?:{_C} ?(?P<row>\d+)(?! ?(?:more|times|and \d|[-–,&] ?\d)\b)|(?P<row2>\d+)(?:st|nd|rd|th) {_C})(?: only| alone)?"),
        ("times", rf"(?:(?:for |a )?total of )?(?:(?:another|a further) )?{_MANY} (?:more |further )?times(?: more| in all| in total| altogether)?|twice(?: more)?|once(?: more| again)?(?=$|[ ,])"),
        ("shape", rf"(?:the |these |this |those |your )*(?:dec(?:reas(?:e|es|ing))?|inc(?:reas(?:e|es|ing))?|shap(?:e|ing)|narrowing|widening|(?:tak(?:e|ing) (?:away|off|out)|los(?:e|ing)|remov(?:e|ing)|add(?:ing)?|gain(?:ing)?)(?= (?:\d|one|two|three|four|six|eight)\b))\b\.?(?: the (?:toe|crown|gusset|foot|top|hand|thumb|sleeve|leg))?(?: (?:(?:{COUNT}|one|two|three|four|eight) )?{_STS})?(?: (?:at a|each) time)?"),
        ("", rf"(?:always |each time |each with |every time )?(?:(?:with|knitting|working|having) )?(?:{_MANY}|an?) (?:{_STS} )?(?:more|fewer|less) (?:plain |knit )?(?:{_STS} )?(?:each time )?(?:between|before|after) (?:the |each |every |two |pairs? of )*(?:dec|inc|shap|marker|k2tog|ssk|skp|kfb|m1)\w*(?: (?:each|every) time| (?:on|in|at) (?:each|every) (?:{_NAMED}) {_C})?"),
        ("", rf"(?:always )?(?:with )?(?:the |your )?(?:thumb|gusset|gore|wedge|triangle|opening|crown|circle)(?: (?:is|gets|being|getting|grows|growing))* (?:{_MANY}|an?) {_STS} (?:wider|bigger|larger|narrower|smaller|more|fewer)(?: (?:each|every) time| (?:on|in|at) (?:each|every) (?:{_NAMED}) {_C})?"),
        ("", r"(?:in|for|with|at) (?:every|all|both|each)(?: (?:of )?the| \d| two| three| four)? sizes?\b"),
        ("set", rf"(?:exactly )?as (?:set|established|est)\b(?: by (?:the |these |those )?(?:last )?(?:\w+ )?{_C})?"),
        ("", rf"(?:exactly )?as (?:before|above|described|given|told|just done|just described|now|in the last {_C}|so far|you have been)|in (?:exactly )?(?:this|the same|that|like|such a) (?:way|manner|fashion|places?)\b|the same(?: way)?|like (?:this|that|so)|likewise|thus|at the same places?|in the same places?"),
        ("", rf"(?:before|after|beside|next to|at|on|by|in|to|either side of|each side of|inside|outside|between|just|of|over|along) (?:(?:each|every|both|either|the|all|side of|two|four|other|end of|sides of|ends of|beginning of|beginning and end of|same|last|first|little|big|wrong|right) )*{_MARKED}\b(?: of (?:the |each )?{_MARKED})?"),
        ("", rf"(?:with )?{_MANY} (?:{_STS}|decreases?|increases?)(?: (?:fewer|less|more))?(?: (?:at a time|each time|each|every time|per (?:round|rnd|row)))?(?=[ ,]+(?:in|on|every|each|at|un|per|as|only|down|to)\b)"),
        ("", r"(?:and )?(?:chang|switch|mov|transferr|go|swapp)\w*(?: over| on)? (?:to|onto) (?:the |your |a |short |set of )*(?:dpns?|double[- ]pointed|double pointeds|smaller|circular|needles|magic)\b[^;]*"),
        ("go", r"(?:continu(?:e|ing)|cont|carry(?:ing)? on|go(?:ing)? on|keep(?:ing)?(?: on| going)?|proceed|repeat(?:ing|ed)?|rep|work(?:ing|ed)?|knit(?:ting|ted)?|do(?:ing|ne)?|make|making)\b\.?(?: to(?= (?:dec|inc|shap|work|rep)))?(?: with)?"),
        ("", r"(?:and|then|now|only|still|always|again|so|just|also|by|with|on|more|but|the|further|straight|evenly|are|is|from now on|from here on|from there|after that|this time|each time|every time|at a time|as)\b"),
    )
)  # fmt: skip


def going_on_in(text: str, stated: Count | None) -> GoingOn | None:
    """Return what a sentence says of rows that go on; None if it has words that are not known.

    `stated` is the count at the end of the sentence, for an end that names no number.

    Examples
    --------
    >>> found = going_on_in("On alternate rounds decrease in the same way until there are 28 sts", None)
    >>> found.kind, found.stride, found.target
    ('dec', 2, 28)
    """
    text = text.strip(" .,;!").lower()
    phrases = phrases_in(text, _KINDS)
    if phrases is None:
        return None
    told = by_kind(phrases)
    once = (
        "count",
        "place",
        "rounds",
        "stated",
        "often",
        "more",
        "times",
        "every",
        "row",
        "named",
        "block",
        "alternate",
        "plain",
        "purled",
    )
    if any(len(told.get(kind, ())) > 1 for kind in once):
        return None
    going = _how_far(told, stated)
    return _which(going, told) if going is not None and going.is_whole else None


def _how_far(told: dict[str, list[WordGroup]], stated: Count | None) -> GoingOn | None:
    if "count" in told and "times" not in told:
        count = told["count"][0].match
        return GoingOn(target=count_in(count["n"]), each=count["each"] is not None)
    if "place" in told and (whole := told["place"][0].match["whole"]):
        return GoingOn(target=count_in(whole))
    if "rounds" in told:
        return GoingOn(rounds=count_in(told["rounds"][0].match["n"]))
    if "often" in told:
        often = told["often"][0].match.groupdict()
        many = _many(often["n"] or often["n2"])
        return GoingOn(times=many, total=True, ends=not often.get("plain"))
    if "more" in told:
        more = told["more"][0].match
        return GoingOn(times=_many(more["n"] or more["n2"]))
    if "stated" in told or "place" in told:
        return GoingOn(target=stated)
    if "times" in told and "count" not in told:
        said = told["times"][0].text
        total = re.search(r"\b(?:total|in all|altogether)\b", said)
        return GoingOn(times=times_in(said), total=bool(total))
    return None


def _many(said: str) -> Count:
    """Return a number told in figures, for each size, or as a word."""
    return count_in(said) if said[0].isdigit() else number_of(said)


def _which(going: GoingOn, told: dict[str, list[WordGroup]]) -> GoingOn | None:
    going = attrs.evolve(going, stride=_stride(told), purled=_purled(told))
    shapes = [phrase.text for phrase in (*told.get("shape", ()), *told.get("named", ()))]
    often = [
        phrase.match.groupdict() for kind in ("often", "more") for phrase in told.get(kind, ())
    ]
    shapes += [match["name"] or match["name2"] for match in often]
    kinds = {
        "inc" if "inc" in said or "widen" in said else "dec" if "dec" in said else "shaping"
        for said in shapes
    }
    if kinds:
        going = attrs.evolve(going, kind=(sorted(kinds - {"shaping"}) or ["shaping"])[0])
    if "plain" in told and not kinds:
        going = attrs.evolve(going, kind="inc" if "inc" in told["plain"][0].text else "dec")
    if (row := told.get("row")) is not None:
        return attrs.evolve(going, numbers=(int(row[0].match["row"] or row[0].match["row2"]),))
    if (turns := told.get("alternate")) is not None:
        rows = turns[0].match["rows"] or turns[0].match["rows2"]
        return attrs.evolve(going, numbers=numbers_in(rows))
    if (block := told.get("block")) is not None:
        if block[0].match["rows"]:
            return attrs.evolve(going, numbers=numbers_in("rows " + block[0].match["rows"]))
        many = block[0].match["many"]
        return attrs.evolve(going, last=number_of(many) if many else 2)
    return going if going.kind or going.stride or "go" in told else None


def _purled(told: dict[str, list[WordGroup]]) -> int:
    """Return which rounds are purled: 6 for every 6th."""
    if "purled" not in told:
        return 0
    match = told["purled"][0].match
    nth = match["n"] or match["n2"] or match["n3"]
    return int(nth) if nth.isdigit() else number_of(nth) or stride_in(f"every {nth}")


def _stride(told: dict[str, list[WordGroup]]) -> int:
    if "plain" in told:
        gap = told["plain"][0].match["gap"]
        return 2 if gap is None else 1 + (int(gap) if gap.isdigit() else number_of(gap))
    if "every" in told:
        return stride_in(told["every"][0].text)
    return 1 if "bare" in told else 0
