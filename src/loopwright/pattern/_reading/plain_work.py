# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Plain work: in a pattern, for a number of rounds, until a length."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._grammar.said import Numbered
from loopwright.pattern._reading.by_turns import purled_first, rounds_by_turns
from loopwright.pattern._reading.further import goes_further
from loopwright.pattern._reading.ground import is_plain_now, moss
from loopwright.pattern._reading.heel_again import is_as_heel
from loopwright.pattern._reading.how_far import FROM_BEGINNING
from loopwright.pattern._reading.just_told import just_told
from loopwright.pattern._reading.named_patterns import pattern_named
from loopwright.pattern._reading.rib_again import rib_again
from loopwright.pattern._reading.rule_table import expression
from loopwright.pattern._reading.scribe import Says, Scribe, made
from loopwright.pattern._reading.section_rows import section_rows
from loopwright.pattern._reading.slipped_first import without_slips
from loopwright.pattern._reading.stated import count_in, number_of
from loopwright.pattern._reading.striped_rows import striped_rows
from loopwright.pattern._reading.told_sections import told_part, told_section
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.verbs import with_verb
from loopwright.pattern._rewording.wordings import COLOUR, COUNT, NUMBER
from loopwright.pattern._words import NUMBER_WORDS
from loopwright.pattern.items import KNIT, PURL, Item, Repeat, Run
from loopwright.pattern.values import Count, SizedLength, To, UntilMeasures, sized, values_of

__all__ = ["LENGTH", "SHORT_OF", "length_in", "plain_work", "unit_in"]


LENGTH = rf"(?P<length>{COUNT})\s*(?P<unit>cm|mm|\"|inches|inch|ins?\b\.?)(?:\s*[/(]\s*{COUNT}\s*(?:cm|mm|\"|inches|inch|ins?\b\.?)\s*\)?)?"
_MEASURED = rf"(?:(?:(?:un)?til|till) (?P<what>[^;.*\d]*?)(?:measures?|is|are|reach(?:es)?|has reached|=|measuring)(?: (?:about|approx\w*\.?|a total of|roughly))? (?P<rest>{LENGTH}(?P<tail>(?:(?!\bthen\b)[^;*])*?)|(?:(?!\bthen\b)[^;*])+?)|(?:un)?til (?P<other>(?:(?!\bthen\b)[^;*])+?))"
_FABRIC = r"(?P<fabric>[^;:]*?)"
_HOW = r"(?:(?:and )?(?:work(?:ing)?|knit(?:ting)?|continue|cont|carry on|go on|keep|k|proceed)\b\.?(?: (?:on|working|knitting|to work|to knit))*)"
_WORK_UNTIL = expression(
    rf"(?:(?:change|switch|swap)(?: back)? to (?P<to>[^,;]*?)(?:,| and) ?)?{_HOW} ?{_FABRIC}[,]? ?{_MEASURED}"
)
_WORK_SOME = expression(
    rf"(?:(?:change|switch) to (?P<to>[^,;]*?)(?:,| and) ?)?(?P<verb>{_HOW}) ?(?P<before>(?:even|straight|plain)? ?(?:for )?)(?:another |a further |the next )?(?P<n>{{N}}) (?:more |plain )?{{CRS}}(?: (?!altogether|in all\b|in total)(?P<fabric>[^;]*?))?(?: straight| even| plain| more)?(?:,? (?:in all|in total|altogether))?"
)
_WORK_FOR = expression(
    rf"(?:{_HOW} ?{_FABRIC}|[^;:]*rib[^;:]*) for (?:another |about |approximately )?{LENGTH}(?P<tail>[^;*]*)"
)
_WORK_LENGTH = expression(
    rf"(?:{_HOW}|rib) (?:a further |another |for )?(?:about )?{LENGTH} (?:in |of |more in |(?=k ?\d|rib|garter|st st|stock))(?P<fabric>(?:(?!\bthen\b)[^;:*\d])*(?:k ?\d(?:(?!\bthen\b)[^;:*])*)?)(?P<tail>)"
)
_KNIT_LENGTH = expression(
    rf"(?:{_HOW}) ?(?P<fabric>)(?:a further |another |for )?(?:about )?{LENGTH}(?: (?:more|plain|even|straight|without shaping))*(?:,? (?:on|over|across) (?:all(?: of)?(?: the)?|the|these|your)? ?(?:{{N}} )?{{STS}})?(?P<tail>(?:,? (?:or (?:to|as|until|whatever|however)\b|from (?:the )?)[^;*:\d]*)?)"
)
_RIB_SOME = expression(
    r"(?P<to>)(?P<verb>work )?(?P<fabric>[^;:]*\brib(?:bing)?)\b(?P<before>) for (?:another |a total of )?(?P<n>{N}) {CRS}(?: in all| in total| total| altogether)?"
)
_IN_SOME = expression(
    rf"(?P<to>)(?:then |now )*(?P<verb>{_HOW}) (?P<fabric>(?:even |straight )?(?:(?:in|as) |(?:st\.? st|stocking|stockinette|garter|seed|moss)\b)[^;:*]*?),?(?P<before>) for (?:another |a total of |a further |the next )?(?P<n>{{N}}) (?:more |further |plain )?{{CRS}}(?: in all| in total| total| altogether)?(?: ?\([^()]*\))?"
)
_WORK_IN = expression(
    rf"(?:then |now )*{_HOW} (?P<fabric>(?:even |straight )?(?:(?:in|as) |(?:st\.? st|stocking|stockinette|garter|seed|moss)\b)[^;:*]*)"
)
_JUST_ON = expression(
    rf"{_HOW} (?:even|straight|plain|without shaping)(?: (?:on|ahead))?"
    r"(?: (?:for|along|up|over) (?:the |your )?(?:foot|leg|hand|sole|body|rest)| to (?:the |where the )?(?:toe|heel|thumb|crown|cuff)[a-z ]*)?"
)
_CHANGE_TO = expression(
    r"(?:now )?(?:change|switch) to (?P<fabric>(?:st|stock|garter|rib|k\d|reverse|plain)[^;:.]*)"
)


_ONE_PLAIN = WordForm(r"(?:(?:then|and|now) )*(?:one |1 |an? )?plain (round|rnd|row)(?: (?:after|behind|follows|comes|next)\b[^.;:*\d]*)?")  # fmt: skip


# "work 4 cm more, then bind off loosely": a clause of its own
_CLOSES = WordForm(  # "…, then bind off", "…, leave on a spare needle", "…, 6 inc rounds in all"
    r"(?:,|\band|\bthen)(?: and| then)* (?:loosely )?(?:bind|cast) off\b|[,;] (?:and )?(?:then )?(?:leave|place|put|slip|keep) (?:(?:the|all|these|them|it|sts|stitches) )*(?:on ?to|on|to) (?:an? |the |some )?(?:spare|holder|stitch holder|thread|pin|waste|scrap)\b"
    r"|\b\w+ (?:more )?(?:inc|dec|shap)\w* (?:rounds?|rnds?|rows?) (?:in all|in total|altogether)\.?$"
)


def plain_work(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read plain work: in a pattern, for a number of rounds, or until a length."""
    if _CASTS_ON.search(said.text) or _CLOSES.search(said.text):
        return None
    if (slipped := without_slips(scribe, said, plain_work)) is not None:
        return slipped
    for told in (told_part, told_section, section_rows, rib_again):
        if (again := told(scribe, said.text)) is not None:
            return again
    if is_as_heel(said.text.strip()):
        return None
    text = with_verb(_digits(_BEGINNING.sub("", _ABOUT.sub("", said.text.strip(" .")))))
    text = _UNSHAPED.sub("", text)
    if _ALL_ALIKE.fullmatch(text) and (last := scribe.context.named.get("last")) is not None:
        scribe.context.every = made("ROW" if isinstance(last, st.Row) else "RND", last.items, "")
        scribe.note(said.text)
        return []
    rules: tuple[tuple[re.Pattern[str], Callable[[Scribe, re.Match[str]], list[Says] | None]], ...] = (
        (_RIB_SOME, _some), (_IN_SOME, _some), (_WORK_SOME, _some), (_WORK_UNTIL, _until), (_WORK_FOR, _for), (_WORK_LENGTH, _for), (_KNIT_LENGTH, _for), (_WORK_IN, _in), (_CHANGE_TO, _changed),
    )  # fmt: skip
    if match := _STRIPES.match(text):
        row = made("ROW" if "row" in match["course"].lower() else "RND", (KNIT,), "")
        return [st.RepeatRounds((row,), count_in(match["n"]))]
    if match := _ONE_PLAIN.fullmatch(text):
        course = "ROW" if match[1].lower().startswith("row") else "RND"
        row = made(course, (KNIT,), "")
        scribe.numbered(row, ())
        return [Numbered(row)]
    if (turns := rounds_by_turns(scribe, text)) is not None or _JUST_ON.match(text):
        if turns is None:
            scribe.note(said.text)
        return turns or []
    for pattern, found_by in rules:
        match = pattern.match(text)
        if match is not None and not goes_further(match):
            joined = _joins(scribe, text)
            found = found_by(scribe, match)
            if found is not None:
                return [
                    *joined,
                    *(purled_first(found) if _begins_purled(scribe, said.text) else found),
                ]
    return None


_ALL_ALIKE = WordForm(  # "every following row: the same", told once and so worked once
    r"(?:(?:every|each|all)(?: of)?(?: the)?(?: other| foll\w*| further| next| later)* rows?(?: (?:after|behind) (?:it|this|that))?)(?: (?:is|are|works?|goes))?[:,]? (?:worked )?(?:exactly |just |all )?(?:the same(?: way)?|alike|identical|like (?:this|that)(?: one)?|so)",
)
_PURL_FIRST = WordForm(
    r"\b(?:beg(?:inning)?|start(?:ing)?|commencing) (?:and (?:end|finish)(?:ing)? )?(?:with|on) (?:an?|the) (?:purl|ws|wrong[- ]side)\b",
)
_BEGINS_WITH = WordForm(r"\b(?:beg\w*|start\w*|commenc\w*)\b")


def _begins_purled(scribe: Scribe, text: str) -> bool:
    """Tell whether the first row is a purl row: that is said, or the row before was on the RS."""
    entries = scribe.assembler.entries
    last = entries[-1].step if entries else None
    behind_rs = isinstance(last, st.Row) and last.side is st.Side.RS and not last.is_turned
    return bool(_PURL_FIRST.search(text)) or (behind_rs and not _BEGINS_WITH.search(text))


def _joins(scribe: Scribe, text: str) -> list[Says]:
    """Join the work where rounds are asked for at its beginning and nobody said to join."""
    live = scribe.now()
    said = re.search(r"\b(?:rounds?|rnds?)\b", text.split("until")[0], re.IGNORECASE)
    if not said or not live.tallies or live.in_rounds or live.held():
        return []
    steps = [entry.step for entry in scribe.assembler.entries]
    last = next((s for s in reversed(steps) if isinstance(s, st.Recapture | st.Row)), None)
    if isinstance(last, st.Row):  # and nothing was freed since
        return []
    if not any(tally.count for tally in live.tallies):
        return []
    scribe.context.course = "RND"
    return [st.Join()]


_CASTS_ON = WordForm(r"\b(?:cast on|co)\b ?\d")
_BEGINNING = WordForm(r"^(?:beg(?:inning)?|start(?:ing)?|commencing|slipping|sl)\b (?:with|on|at|from|(?:the )?first st(?:itch)?)\b[^,]*,\s*(?:and )?")  # fmt: skip
_STRIPES = WordForm(
    rf"(?:knit|work|k)\b[^;:*]*\bstripes?\b[^;:*]*(?:[:=(] ?|\bfor )(?P<n>{COUNT}) (?P<course>rnds|rounds|rows)(?: in all| in total)?\)?$",
)  # "knit 6 stripes of each colour, 12 in all: 60 rnds"
_ABOUT = WordForm(
    rf"(?:(?<=in all)|(?<=in total)|(?<=ogether)),? ?(?:[:(=–-] ?)?(?:that is |so |or |for )?{COUNT} (?:garter )?ridges\b[^;.]*$|"
    rf"(?<=rnds|rows),? (?:or )?(?:about|approx\w*\.?|roughly) {NUMBER} ?(?:cm|mm|\"|in\b\.?|inch(?:es)?)$|"
    rf"(?<=rounds),? (?:or )?(?:about|approx\w*\.?|roughly) {NUMBER} ?(?:cm|mm|\"|in\b\.?|inch(?:es)?)$",
)  # "for 8 rnds, about 1.25 in": the rounds count
_UNSHAPED = WordForm(
    r",? (?:without|with no|making no) (?:any |more |further )*(?:decreas\w*|increas\w*|shaping)(?:,? (?:or|and) (?:decreas\w*|increas\w*|shaping))?$",
)
_NUMBERS = {word: str(place) for place, word in enumerate(NUMBER_WORDS, start=1)}
_WORD = WordForm(
    rf"\b({'|'.join(NUMBER_WORDS)})(?= (?:more |plain |further )*(?:rounds?|rnds?|rows?|sts|stitches|times)\b)",
)


def _digits(text: str) -> str:
    """Return a text with numbers of rounds in figures."""
    return _WORD.sub(lambda match: _NUMBERS[match[1].lower()], text)


def length_in(match: re.Match[str]) -> SizedLength | None:
    """Return the length that an expression has found."""
    if not match["length"]:
        return None
    unit = match["unit"].lower().strip(".")
    return SizedLength(
        count_in(match["length"]), "mm" if unit == "mm" else "cm" if unit == "cm" else "in"
    )


_OR_SHORT = WordForm(  # "until it measures 16 cm, or 4.5 cm less than required"
    rf"\bor {LENGTH}\.? (?:less than|short of|shorter than|before)\b",
)
_AS_FOR = WordForm(  # "as for right mitten until the thumb is reached": those rounds
    r"(?:exactly )?(?:the same )?as (?:(?:given )?(?:for|on|in) )?(?:the )?(?:right|left|first|other)\b",
)


_MOVES = WordForm(  # "knit 10 rounds and put the sts on a thread until next week"
    r"\band (?:then )?(?:put|place|slip|leave|keep|hold|set|cut|break|bind|cast|graft|pick|draw)\b|\b(?:alternat|repeat)|\b(?:these|those|them) ?$",
    re.NOFLAG,
)
SHORT_OF = WordForm(  # and no "2 inches before you go on"
    r"\b(?:short(?:er)?|less|shy|(?<!as )before(?! (?:you )?(?:go|start|beg|chang|turn|work|divid|sett)))\b",
)
_OTHER_END = WordForm(
    r"\b(?:sts?|stitch\w*|worked|used|remain|rem|gap|hole|gone|marker|times|twice|(?:dec|inc)\w*)\b",
    re.NOFLAG,
)
_ELSEWHERE = WordForm(
    r"\b(?:from|above|beyond|past|below|after|since|under|over|along|at|between)\b", re.NOFLAG
)
_PLAIN_PART = WordForm(
    r"\b(?:stockinette|stocking stitch|st\.? st)\b", re.NOFLAG
)  # "until it measures"

_SINCE = WordForm(  # "until it measures 7 cm from the sts cast on at the thumb"
    r"(?<=[a-z\".)]),? (?:(?:when )?(?:measur|count|calculat)(?:ed|ing) )?(?:from|above|beyond|past|below|after) (?!.*\buntil\b).*$",
)


_SO_FAR = WordForm(  # "until it covers the little finger, about 8 cm above the gap"
    rf",? (?:or |that is,? )?(?:about |approx\w*\.? |roughly |some |around )?{LENGTH} (?:above|past|beyond|from|below|after) the [a-z ]+$",
)


_WHOLE = r"piece|work|sock|cuff|leg|hat|it|brim|mitt|cowl|whole|everything|all of|knitting|stocking|tube|bonnet|cap"


def _until(scribe: Scribe, match: re.Match[str]) -> list[Says] | None:
    other = _SO_FAR.sub("", match["other"] or "")
    if re.match(r"\d+ (?:(?:are|is) left|remain)\b", other) or _OTHER_END.search(other):
        return None  # "until 3 are left before the band"
    if re.search(
        r"^\s*(?:(?:there|you|are|is|have|only|just) )*\d+\s*(?:\([^()]*\)\s*)?(?:sts?|stitch|rows?|r(?:ou)?nds?|$|[,;](?! ?\d))|\bsts\b",
        _SINCE.sub("", match["rest"] or ""),
    ):
        return None
    if _AS_FOR.match(match["fabric"] or "") or _MOVES.search(match["fabric"] or ""):
        return None
    _round_again(scribe, match["fabric"] or "")
    if (some := _SO_MANY.fullmatch(other.strip())) is not None:
        return _up_to(scribe, match, count_in(some["n"]))
    what = (match["what"] or "").lower()
    fabric = match["fabric"] or ("stockinette" if _PLAIN_PART.search(what) else "")
    unit = _knitted(scribe, match[0], (match["to"] or "") + " " + fabric)
    if unit is None:
        return None
    length = length_in(match)
    tail = match["tail"] or ""
    if short := _OR_SHORT.search(tail):
        length = length_in(short)
    if (
        length is None
        or SHORT_OF.search(tail)
        or re.search(r"desired|required|want|longer|your(?! size)", tail)
    ):
        return [*_back_to_rounds(scribe), *scribe.times_of(unit, UntilMeasures(length, "wanted"))]
    whole = re.search(_WHOLE, what) and not _ELSEWHERE.search(tail)
    since = "cast-on" if FROM_BEGINNING.search(tail) or whole else "here"
    return [*_back_to_rounds(scribe), *scribe.times_of(unit, UntilMeasures(length, since))]


_SO_MANY = WordForm(  # "until you have 60 rounds of the pattern"
    rf"(?:(?:you have|there are) (?:worked |done |made |knitted )?)?(?P<n>{COUNT}) (?:more )?(?:rows|rounds|rnds)(?: of [a-z ]+)?(?: (?:are|have been) (?:worked|done|complete\w*|made))?",
)


def _up_to(scribe: Scribe, match: re.Match[str], many: Count) -> list[Says] | None:
    """Return rounds until there are so many of them, one counted that was told just before."""
    fabric = (match["to"] or "") + " " + (match["fabric"] or "")
    steps = (entry.step for entry in reversed(scribe.assembler.entries))
    last = next((step for step in steps if not isinstance(step, st.Note)), None)
    unit = _knitted(scribe, match[0], fabric)
    if isinstance(last, st.Round) and not fabric.strip():
        unit = (attrs.evolve(last, count=None),)
    if unit is None or len(unit) > 1:
        return None
    told = int(getattr(last, "items", None) == unit[0].items and "more" not in match[0])
    less = [int(value) - told for value in values_of(many)]
    return [*scribe.times_of(unit, sized(less))] if min(less) > 0 else None


_KNITS = WordForm(r"(?:(?:and|then|now|change to [^,;]*?,? and)\b,? )*(?:knit|k)\b")
_BARE = WordForm(
    rf"\s*(?:(?:with|in|using) (?:(?i:{COLOUR})|[A-E]\b)(?: (?:only|alone))?)?\s*", re.NOFLAG
)


def _knitted(scribe: Scribe, said: str, fabric: str) -> tuple[st.Round | st.Row, ...] | None:
    """Return the rounds that words ask for: "knit until" is plain, whatever was in work before."""
    if scribe.course == "RND" and _KNITS.match(said) and _BARE.fullmatch(fabric):
        return (st.Round((KNIT,)),)
    return unit_in(scribe, fabric)


def _for(scribe: Scribe, match: re.Match[str]) -> list[Says] | None:
    length = length_in(match)
    fabric = match.groupdict().get("fabric")
    if fabric is None and _JOINS.search(match[0]):
        return None  # "join, and rib in k1, p1 for 3 cm" asks for more than its rib
    if tail := re.match(r" ?(?:in|of) (?P<rib>(?:k|knit) ?\d.*)", match["tail"], re.IGNORECASE):
        fabric = tail["rib"]  # "rib 6 cm in k2, p2"
    if fabric == "" and re.search(r"\bplain\b", match[0], re.IGNORECASE):
        fabric = "plain"  # "knit 2 inches plain", behind a rib
    _round_again(scribe, fabric or "")
    unit = _knitted(scribe, match[0], match[0] if fabric is None else fabric)
    if unit is None or length is None:
        return None
    return [*_back_to_rounds(scribe), *scribe.times_of(unit, UntilMeasures(length, "here"))]


_JOINS = WordForm(r"\bjoin\b")
_IN_ROUNDS = WordForm(r"\b(?:in (?:the )?|every )(?:rounds?|rnds?)\b")
_OVER_ALL = WordForm(
    r"\b(?:on|over|across) all (?:the )?(?:\d+(?: ?[(\[][^)\]]*[)\]])? )?(?:sts|stitches)\b",
)


def _round_again(scribe: Scribe, fabric: str) -> None:
    """Go round where words say so: "knit all 44 sts in rounds until …"."""
    entries = scribe.assembler.entries
    again = _OVER_ALL.search(fabric) and any(isinstance(e.step, st.Join) for e in entries)
    if (again or _IN_ROUNDS.search(fabric)) and "thumb" not in scribe.now().held():
        scribe.context.course = "RND"


def _back_to_rounds(scribe: Scribe) -> list[Says]:
    """Bring back what is held where the work goes round again without a word about it."""
    live = scribe.now()
    if not live.tallies or scribe.course != "RND" or (live.in_rounds and not live.held()):
        return []
    if "thumb" in live.held() or not live.held():
        return []
    return list(scribe.together())


def _some(scribe: Scribe, match: re.Match[str]) -> list[Says] | None:
    count = count_in(match["n"])
    course = "ROW" if "row" in match[0].lower().split("until")[0] else "RND"
    verb = (match["verb"] or "").lower()
    fabric = (match["to"] or "") + " " + (match["fabric"] or "") + " " + (match["before"] or "")
    if re.search(
        r"\b(?:until|then|rep|turn|of the|pick(?:ing)? up|mak(?:e|ing) (?:\d|one|a)|lift(?:ing)?|(?:inc|dec)(?:reas\w+)?|(?:bind|cast)(?:ing)?[ -]o(?:ff|n)|bo|graft)\b|\d+-\d+|^[^(]*, (?:knit|purl|work|[kp]) \d+ (?:more )?(?:r(?:ou)?nds?|rows?)\b",
        fabric,
    ):
        return None
    live, every = scribe.now(), scribe.context.every
    worked = verb.startswith("work") or _IN_ALL.search(match[0])
    if every is not None and worked and not fabric.strip():
        less = [int(value) - 1 for value in values_of(count)]  # it was told, and so worked, once
        return [st.RepeatRounds((every,), sized(less), at=scribe.place)] if min(less) > 0 else None
    if scribe.course == "RND" and live.in_rounds and live.is_free:
        course = "RND"  # whoever goes round says rows, too
    lead = _all_of(scribe) if course == "RND" and live.held() and "thumb" not in live.held() else []
    scribe.context.course = course
    by_turns = course == "RND" and striped_rows(scribe, fabric) is None
    coloured = _IN_STRIPES.sub("", fabric) if by_turns else fabric
    if verb.startswith(("knit", "k")) and not re.search(r"\bin\b|rib|patt|garter", coloured):
        row = made(course, (KNIT,), "")
        scribe.context.named["last"] = row
        return [*lead, *scribe.times_of((row,), count)]
    unit = unit_in(scribe, fabric, course=course)
    told = _rib_told(scribe) if _IN_ALL.search(match[0]) and "rib" in fabric else 0
    more = re.search(r"\b(?:more|another|further)\b", match[0], re.IGNORECASE)
    done = told or (0 if more else _told_here(scribe, fabric, unit))
    if done:
        count = sized([int(value) - done for value in values_of(count)])
    return None if unit is None else [*lead, *scribe.times_of(unit, count)]


_IN_STRIPES = WordForm(
    r"\bin (?:the |these )?(?:stripes?(?: (?:pattern|sequence))?|(?-i:[A-EM]|MC|CC)\b)",
)
_IN_ALL = WordForm(r"\b(?:in all|in total|altogether)\b")


def _rib_told(scribe: Scribe) -> int:
    """Return 1 where the step before is a rib round, told and so worked once: others are like it."""
    entries = scribe.assembler.entries
    last = entries[-1].step if entries else None
    if not isinstance(last, st.Round) or len(last.items) != 1:
        return 0
    runs = getattr(last.items[0], "items", ())
    return int({getattr(run, "stitch", "") for run in runs} == {"k", "p"})


def _told_here(scribe: Scribe, fabric: str, unit: Sequence[st.Step] | None) -> int:
    """Return 1 where the round was told in the words before: "k2, p2 around. Do 15 rounds of it"."""
    entries, place = scribe.assembler.entries, scribe.place
    last = entries[-1].step if entries else None
    if not _OF_IT.fullmatch(fabric) or not isinstance(last, st.Round) or unit is None:
        return 0
    same = [one.items for one in unit if isinstance(one, st.Round)] == [last.items]
    return int(same and last.at is not None and place.line == last.at.line)


_OF_IT = WordForm(
    r" *(?:for )? *(?:(?:of|like|in|as) (?:this|that|it|these|those)(?: (?:round|way|rib\w*|pattern|rnd))?|this way)? *",
)


def _all_of(scribe: Scribe) -> list[Says]:
    return list(scribe.together())


def _in(scribe: Scribe, match: re.Match[str]) -> list[Says] | None:
    """Read "work in rib as set": from here on, with no end said."""
    if re.match(
        r"(?:in )?(?:the )?(?:(?:rounds?|rnds?)\b|rows (?:on|over|across)\b)|(?:as|like) (?:(?:given |told )?for )?(?:the )?(?:right|left|first|(?:toe|heel|top|tip|hand|thumb|crown)\b(?! st| patt))\b",
        match["fabric"],
        re.IGNORECASE,
    ):
        return None
    if re.search(
        r"\bcast on\b|\bto (?:the )?(?:(?:first|second|third|next|other|1st|2nd) )?(?:end|last|m|marker|gap|\d)\b|, ?(?:and |then )*(?:ssk|k2tog|skpo?|sm|slm|m1\w?|yo|pm|turn)\b",
        match["fabric"],
        re.IGNORECASE,
    ):
        return None
    if re.search(
        r"\bfor .*\b(?:rounds?|rnds?|rows?)\b|\b(?:times|twice|once more)\b|\bto \d+ (?:sts?|stitch\w*)\b|\b(?:un)?til+.*\b\d+ remain|\b(?:un)?til+.*\b(?:dec|inc)\w*\.? (?:rounds?|rnds?|rows?)\b|\b(?:un)?til+\b.*\b(?:sts?|stitch\w*|gap|hole|wraps?)\b",
        match["fabric"],
        re.I,
    ):
        return None  # an end is said that nobody understood
    unit = unit_in(scribe, match["fabric"])
    return None if unit is None else []


def _changed(scribe: Scribe, match: re.Match[str]) -> list[Says] | None:
    return (
        None
        if _END_SAID.search(match["fabric"]) or unit_in(scribe, match["fabric"]) is None
        else []
    )


_END_SAID = WordForm(r"\b(?:for|until|till)\b.*\d", re.NOFLAG)
_IN_WORDS = WordForm(
    rf"\b([kp])(?:nit|url)? ({'|'.join(NUMBER_WORDS)})\b", re.NOFLAG
)  # "knit two, purl two"
_TWO_PLAIN = WordForm(
    r"\b(\d) plain(?:,| and|,? then) (\d) purl\b", re.NOFLAG
)  # "rib 2 plain, 2 purl"
_IN_LETTERS = WordForm(r"\b(k|p)(?:nit|url) (?=\d)", re.NOFLAG)
_RIB = WordForm(
    r"[(\[]?(?P<items>(?:[kp]\s?\d+(?:\s?tbl)?\s*[,/ ]?\s*(?:and )?)+)[)\]]?\s*(?:rib\w*|around|pattern|for\b|$)",
)
_FEW = r"(?:\d|one|two|three|four)"
_BY = WordForm(rf"\b(?P<a>{_FEW})\s?(?:[x×/]|by)\s?(?P<b>{_FEW})\s+rib")


def unit_in(scribe: Scribe, words: str, course: str = "") -> tuple[st.Round | st.Row, ...] | None:
    """Return the rounds or rows of the pattern that some words name."""
    low = _IN_WORDS.sub(lambda run: run[1] + _NUMBERS[run[2]], words.lower())
    low = _IN_LETTERS.sub(r"\1", _TWO_PLAIN.sub(r"k\1, p\2", low))
    low = re.sub(r"^\s*(?=\d+,? (?:and )?p ?\d)", "k", low)  # its "knit" was taken for the verb
    course = course or scribe.course
    if told := pattern_named(scribe, low, course) or just_told(scribe, low, course):
        return told
    if match := _BY.search(low):
        runs = Run("k", number_of(match["a"])), Run("p", number_of(match["b"]))
        return _rib(scribe, runs, course)
    if re.search(r"\bk\s?\d|\bp\s?\d", low) and (match := _RIB.search(low)):
        items = scribe.items(
            MappedText.of(
                match["items"]
                .strip(" ,/")
                .replace("/", ", ")
                .replace(" p", ", p")
                .replace(",,", ",")
            )
        )
        if items is not None:
            return _rib(scribe, items, course)
    if (striped := striped_rows(scribe, low)) is not None:
        return striped
    for name, ribs in (("single rib", (1, 1)), ("double rib", (2, 2))):
        if name in low:
            return _rib(scribe, (Run("k", ribs[0]), Run("p", ribs[1])), course)
    context = scribe.context
    if re.search(r"reverse", low):
        context.ground, context.ground_name = (PURL,), "reverse"
        return (
            (made(course, (PURL,), ""),) if course == "RND" else (st.Row((PURL,)), st.Row((KNIT,)))
        )
    if re.search(
        r"\bst\.? st|stockinette|stocking|every (?:rnd|round)|\bround and round\b|\bplain\b", low
    ):
        context.ground, context.ground_name = None, "stockinette"
        return (st.Round((KNIT,)),) if course == "RND" else (st.Row((KNIT,)), st.Row((PURL,)))
    if course == "ROW" and re.search(
        r"\b(?:heel|slip(?:ped)?)[ -]st(?:itch)?\b|eye[- ]of[- ](?:the[- ])?partridge", low
    ):
        return _heel_stitch(scribe, "partridge" in low)
    if "garter" in low or re.search(r"every row", low):
        context.ground, context.ground_name = None, "garter"
        return (st.Row((KNIT,)),) if course == "ROW" else (st.Round((KNIT,)), st.Round((PURL,)))
    if re.search(r"moss|seed", low):
        context.ground_name = "moss"
        return moss(scribe, course)
    if re.search(rf"\b(?:with|in|to) (?:(?i:{COLOUR})|[A-Z]\d?)\b", words):
        return scribe.plain()
    if re.search(r"\brib", low) and course == "RND" and (rib := _last_rib(scribe)) is not None:
        return (rib,)
    if re.search(
        r"patt|rib|\bset\b|establish|even|straight|\bwithout\b|manner|way|as |stripe|lace|charts?|sequence|this|\b(?:that|it|them|these|those|on)\b|^\s*(?:(?:to|for) ?)?\s*$|\ball\b|round|rnd|mc|cc|yarn|sts",
        low,
    ):
        context.course = course
        named = re.search(r"patt|rib|\bset\b|establish|manner|way|as |lace|chart", low)
        return scribe.plain(ground=bool(named) or not is_plain_now(scribe))
    return None


def _last_rib(scribe: Scribe) -> st.Round | None:
    """Return the rib in work: of the round before, or, where none is in work, the one before that."""
    for entry in reversed(scribe.assembler.entries):
        for row in rounds_in((entry.step,)):
            if isinstance(row, st.Round) and len(row.items) == 1:
                runs = getattr(row.items[0], "items", ())
                if [getattr(run, "stitch", "") for run in runs] == ["k", "p"]:
                    return st.Round(row.items)
            if isinstance(row, st.Round) and scribe.context.ground is not None:
                return None
    return None


def _heel_stitch(scribe: Scribe, partridge: bool) -> tuple[st.Round | st.Row, ...] | None:
    """Return the rows of heel stitch: every other stitch slipped on the right side."""
    odd = {tally.count % 2 for tally in scribe.now().tallies} if scribe.now().sure else set()
    if len(odd) != 1:
        return None
    slip, knit = Run("sl"), Run("k")
    back = st.Row((slip, PURL))
    rows: list[tuple[Item, ...]] = [
        (Repeat((slip, knit)),),
        (slip, Repeat((slip, knit), To(before=1)), knit),
    ]
    if odd == {1}:
        rows = [(Repeat((slip, knit), To(before=1)), knit), (slip, Repeat((slip, knit)))]
    scribe.context.ground, scribe.context.ground_name = None, "heel stitch"
    first, second = map(st.Row, rows)
    return (first, back, second, back) if partridge else (first, back)


def _rib(scribe: Scribe, items: tuple[Item, ...], course: str) -> tuple[st.Round | st.Row, ...]:
    """Return a rib; in rows what is left over at the end begins another repeat."""
    repeat = Repeat(items)
    scribe.context.ground_name = "rib"
    if course == "RND":
        scribe.context.ground = (repeat,)
        return (st.Round((repeat,)),)
    live = scribe.now()
    runs = [item for item in items if isinstance(item, Run)]
    taken = sum(item.amount for item in runs if isinstance(item.amount, int))
    over = {tally.count % taken for tally in live.tallies} if taken and live.sure else {0}
    first = items[0]
    if over == {0} or len(over) > 1 or not isinstance(first, Run) or over != {first.amount}:
        row: tuple[Item, ...] = (repeat,)
    else:
        row = (Repeat(items, To(before=int(first.amount))), first)  # type: ignore[arg-type]
    scribe.context.ground = row
    return (st.Row(row),)
