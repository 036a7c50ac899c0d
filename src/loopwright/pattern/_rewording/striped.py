# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Bands of colours told in one sentence: "knit 2 rounds B, 3 rounds A", "6 red, then 6 white"."""

from __future__ import annotations

import re

import attrs

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COLOUR
from loopwright.pattern._words import NUMBER_WORDS

__all__ = [
    "StripeSequence", "called", "only_listed", "stripe_sequence", "with_bands", "with_rounds_by_colour",
    "with_sequences",
]  # fmt: skip

_COL = rf"(?:(?:colou?r |yarn )?(?-i:[A-EM])\b(?!-)|{COLOUR}\b|(?:main|contrast)\b(?! colou?r))"
_CRS = r"(?:rounds?|rnds?|rows?)"
_ST_ST = r"(?:st\.? st\b\.?|stockinette(?: st(?:itch)?)?|stocking st(?:itch)?)"
_BAND = WordForm(
    rf"(?P<n>\d{{1,2}})(?: (?:more )?(?P<c>{_CRS}))?(?: (?:in|with|of))? (?P<col>{_COL})",
)
_BANDS = WordForm(
    rf"(?P<lead>^|[.;:] )(?:(?P<verb>knit|work) |(?P<plain>(?:(?:work|knit|cont(?:inue)?) )?(?:stripes? )?(?:in )?{_ST_ST}(?: stripes?)?(?: as follows| thus)?[:,]? (?:(?:work|knit) )?))(?P<bands>\d{{1,2}} {_CRS}(?: (?:in|with|of))? {_COL}(?:(?:,|;| and| then)+ (?:(?:knit|work) )?\d{{1,2}}(?: {_CRS})?(?: (?:in|with|of))? {_COL})+)"
    rf"(?P<on>,? and (?:so on|so forth|keep to (?:these|the) stripes|(?:continue|go on|carry on) (?:in|with) (?:these|the) stripes)(?: for (?P<many>\d{{1,3}}) {_CRS})?)?(?=[.;]|$| \()",
)
_ONE_BAND = WordForm(  # "…, then work 6 rounds B once more"
    rf"(?=[.;:]?[^.;:]{{0,50}}\b(?:then|once more|again)\b)(?P<lead>^|[.;:] |,? (?:and )?then )(?:(?:work|knit) )?(?P<n>\d{{1,2}}|one|two|three|four|five|six) (?:more )?(?P<crs>{_CRS})(?: (?:in|with|of))? (?P<col>{_COL})(?: once more| again| more| only)*(?=[.;]|$)"
)
_CHANGE = WordForm(
    rf"\b(?:change|switch|swap)(?: back)? to (?:the )?(?P<col>{_COL})(?:,| and)+ (?:then )?(?=(?:knit|work|purl|rib|k|p)\b|[kp]\d|\*)",
)

_CUT_AND_ON = WordForm(  # "cut B and go on with A until …"
    rf"(?P<cut>(?:^|(?<=[.;:] ))(?:cut|break|fasten)(?: off)? (?:the )?{_COL}),? (?:and )?(?:then )?(?P<first>[a-z])(?<=\b[a-z])(?=(?:nit|ork|url|o on|arry on|ontinue|ont|eep going|eep on) )",
)

_ON_WITH = r"(?:go on|carry on|keep on|keep going|continue)"
_GO_ON = WordForm(  # "with A, carry on until …", "go on with A until …"
    rf"(?P<before>^|[.;:] )(?:(?:with|using|in) (?:the )?(?P<col>{_COL}),? {_ON_WITH}(?: knitting| working)? |{_ON_WITH}(?: knitting| working)? (?:with|using|in) (?:the )?(?P<col2>{_COL})(?: only| alone)? )(?=(?:in [a-z ]{{2,20}} )?(?:un)?til\b)",
)

_REPEATED = WordForm(  # "repeat the stripes until …", "carry on with this stripe pattern until …"
    r"(?P<before>^|[.;] )(?:(?:now|then),? )?(?:rep(?:eat)?|(?:keep(?: on)?|go on|carry on|continue) (?:repeating|with|working)|keep (?:up|to)) (?:the|these|this|those|your)(?: \d{1,2}[- ](?:rounds?|rnds?|rows?))? stripes?(?: sequence| pattern| patt\b\.?| repeat)?,? (?=(?:un)?til\b|for \d)"
)


_WHOLE = r"(?:[(\[][^()\[\]*.:;]+[)\]] (?:\d{1,3} times|(?:all )?(?:a)?round|to (?:the )?end)|\*[^*.:;]+[;,]? ?rep(?:eat)? from \*(?: (?:to (?:the )?end|(?:all )?(?:a)?round))?)"
_SO = r"(?: (?:so|thus|like (?:this|that)|(?:in )?this way|of (?:this|that)))"
_SO_MANY = WordForm(  # "(K2, p2) 12 times: work 6 rounds so in M, 4 in C", "6 rounds of k2, p2 rib in M, 4 in C"
    rf"(?P<lead>^(?P<own>{_CRS}) (?P<from>\d{{1,3}}) ?(?:-|–|to) ?(?P<to>\d{{1,3}}): |^|[.;:] )(?:(?P<round>{_WHOLE})(?:[:,] (?:(?:work|do|knit) )?| for )(?P<n>\d{{1,3}}) (?P<crs>{_CRS}){_SO}?|(?:work )?(?P<n2>\d{{1,3}}) (?P<crs2>{_CRS}) (?:of |in )(?P<rib>k\d, p\d rib(?:bing)?))"
    rf"(?P<bands>(?: in {_COL})?(?:(?:,|;| and| then)+ \d{{1,3}}(?: {_CRS})? in {_COL})*)(?=[.;]|$)",
)


def _numbered(match: re.Match[str], what: str, bands: list[re.Match[str]]) -> str:
    """Put the bands of "Rounds 1-6: (k2, p2) around: 3 rounds in M, 3 in C" by their numbers."""
    at, told = int(match["from"]), []
    for band in bands:
        last = at + int(band["n"]) - 1
        numbers = f"s {at}-{last}" if last > at else f" {at}"
        yarn = f"With yarn {called(band['col'])}, " if band["col"] else ""
        told.append(f"{match['own'].rstrip('sS')}{numbers}: {yarn}{what}")
        at = last + 1
    return ". ".join(told) if at == int(match["to"]) + 1 else match["lead"] + what


def _so_many(match: re.Match[str]) -> str:
    """Put a round that is told before how often it comes, in which colours, behind each number."""
    if match["rib"] and not _BAND.search(match["bands"]):
        return match[0]
    lead = match["lead"]
    if lead == ": ":
        if not match["bands"] or re.search(r"\d|:", match.string[: match.start()]):
            return match[0]  # a row of its own: its number says which
        lead = ". "
    first = match["n"] or match["n2"]
    course = "rows" if "row" in (match["crs"] or match["crs2"]).lower() else "rounds"
    what = match["round"] or f"*{match['rib'].lower().partition(' rib')[0]}; rep from * to end"
    bands = list(_A_BAND.finditer(first + match["bands"]))
    if match["own"]:
        return _numbered(match, what, bands)
    told = [
        (f"With yarn {called(band['col'])}, w" if band["col"] else "W")
        + f"ork {band['n']} {course} as follows: {what}"
        for band in bands
    ]
    return lead + ". ".join(told)


_TIMES_BY_COLOUR = WordForm(  # "Work this round 6 times in M, 4 times in C"
    rf"(?P<work>\b(?:work|rep(?:eat)?|knit) (?:this|that|the last) (?:round|rnd|row)) (?P<times>\d{{1,3}} times in {_COL}(?:(?:,|;| and| then)+ \d{{1,3}} times in {_COL})+)(?=[.;]|$)"
)


def _in_all(match: re.Match[str]) -> str:
    return f"{match['work']} {sum(map(int, re.findall('[0-9]+', match['times'])))} times"


_A_BAND = re.compile(rf"(?P<n>\d{{1,3}})(?: {_CRS})?(?: in (?P<col>{_COL}))?", re.IGNORECASE)


def _all_stripes(match: re.Match[str]) -> str:
    bands = re.sub(r"(?:[,;]|\band\b| )+then ", ", ", match["bands"])
    return f"{match['lead']}Knit {match['n']} {match['crs']} in stripes: {bands}"


def with_bands(said: MappedText) -> MappedText:
    """Return a line with a sentence for each band of colour, or with the stripes that go on.

    Examples
    --------
    >>> for text in ("Knit 2 rounds B, 3 rounds A.", "Knit 1 round B, 1 round A, and so on for 12 rounds."):
    ...     print(with_bands(MappedText.of(text)).text)
    With yarn B, knit 2 rounds. With yarn A, knit 3 rounds.
    Work in stripes from here: *1 rnd B, 1 rnd A; rep from *. Knit 12 rounds.
    """
    said = said.sub(_SO_MANY, _so_many).sub(_TIMES_BY_COLOUR, _in_all).sub(_TOLD_ON, _told_on)
    said = said.sub(_ONE_STRIPE, _all_stripes)
    said = said.sub(_CUT_AND_ON, lambda match: f"{match['cut']}. {match['first'].upper()}")
    said = said.sub(_GO_ON, _going_on)
    said = said.sub(_REPEATED, r"\g<before>Work in stripes ")
    return said.sub(_BANDS, _told_apart).sub(_ONE_BAND, _told_alone).sub(_CHANGE, _changed)


_NUMBERED = rf"(?P<label>{_CRS} \d{{1,2}}(?:(?: ?[-–] ?| to | and | & )\d{{1,2}})?)"
_BY_COLOUR = rf"{_NUMBERED}(?: ?[:=–-] ?(?:(?:use|in|with) )?| (?:in|with) |,? use )(?:yarn |colou?r )?(?P<col>{_COL}|[A-E](?![\w-]))"
_ONE_BY_COLOUR = WordForm(_BY_COLOUR)
_ALL_BY_COLOUR = WordForm(
    r"^{0}(?:(?:[.,;]| and)+ (?:then )?{0}){{0,9}}\.?$".format(
        re.sub(r"\?P<\w+>", "?:", _BY_COLOUR)
    )
)
_NO_STEP = WordForm(  # how a change of colour is hidden: "to avoid a jog, slip the first stitch …"
    r"(?P<before>^|[.;] )(?:(?:(?:to|for)\b[^.;:,]*\b(?:jog\w*|step|join)\b|(?:at|on|when\w*|after|each time|every time)\b[^.;:,]*\b(?:colou?rs?|stripes?|yarns?)\b)[^.;:,]*,? )+(?:always )?slip the (?:first|1st) st(?:itch)? of the (?:second|2nd) (?:round|rnd)\b[^.;:,]*(?=[.;]|$)"
)


def with_rounds_by_colour(said: MappedText) -> MappedText:
    """Return a line of numbered rounds that names only their colours as rounds that are worked.

    Examples
    --------
    >>> for text in ("Rounds 1-2: B.", "Rows 1 to 4: red", "To avoid a jog, slip the first st of the second round."):
    ...     print(with_rounds_by_colour(MappedText.of(text)).text)
    Rounds 1-2: With yarn B, knit.
    Rows 1-4: With yarn red, work in st st.
    On the second round of each new color, slip the first st purlwise.
    """
    said = said.sub(
        _NO_STEP,
        r"\g<before>On the second round of each new color, slip the first st purlwise",
    )
    return said.sub(_ALL_BY_COLOUR, _worked_in_colour)


def _worked_in_colour(match: re.Match[str]) -> str:
    told = (
        (re.sub(r" ?(?:–| to ) ?", "-", one["label"]).capitalize(), called(one["col"]))
        for one in _ONE_BY_COLOUR.finditer(match[0])
    )
    return " ".join(
        f"{label}: With yarn {name}, {'work in st st' if label.startswith('Row') else 'knit'}."
        for label, name in told
    )


# --- a sequence that is told once, and called by its name later -----------------------------------

_SEQUENCE = r"stripe(?:[- ](?:sequence|patt(?:ern)?\b|repeat)|s)"
_LISTED = rf"(?:(?:knit|work) )?\d{{1,2}} {_CRS}(?: (?:in|with|of))? {_COL}(?:(?:,|;| and| then)+ (?:(?:knit|work) )?\d{{1,2}}(?: {_CRS})?(?: (?:in|with|of))? {_COL})+"
_TOLD = WordForm(
    rf"(?m)^[^.:*\n]{{0,30}}\b{_SEQUENCE}(?: ?\([^()\n]*\))? ?[:=–-] ?(?:\*\*? ?)?(?P<bands>{_LISTED})"
    rf"|(?P<worked>{_LISTED}) ?[(–-] ?(?:this is |= ?)?(?:one|1|a|the) (?:full |whole )?{_SEQUENCE}",
)
_TIMES = rf"(?:once|twice|(?:\d{{1,2}}|{'|'.join(NUMBER_WORDS[:20])})(?: more| full)? times)"
_CALLED = re.compile(
    rf"(?P<before>^|[.;:] )(?:now |then )?(?:work|knit|rep(?:eat)?)(?: (?:in|the|this|whole|full|entire|(?:all |these )*\d{{1,2}} {_CRS} of|{_CRS} 1 ?[-–] ?\d{{1,2}} of))* {_SEQUENCE} (?P<times>{_TIMES})(?: more| again)?(?P<all>,? (?:in all|in total|altogether))?(?: in (?:st\.? st|stockinette|stocking st)(?: ?st(?:itch)?|itch)?\b)?"
    rf"|(?P<before2>^|[.;:] )(?:now |then )?(?:work|knit|rep(?:eat)?) (?P<n>\d{{1,2}}|{'|'.join(NUMBER_WORDS[:20])}) (?:more )?(?:(?:full|whole|complete) )?(?:repeats of (?:the |this )?{_SEQUENCE}|stripe[- ](?:sequence|pattern|repeat)s)(?P<all2>,? (?:in all|in total|altogether))?",
    re.IGNORECASE | re.MULTILINE,
)
_N = r"\d+(?: ?[(\[][^)\]]*[)\]])?"
_ONE_STRIPE = WordForm(  # "Knit 2 rnds B, then 2 rnds A. That is one stripe. Knit 8 stripes, 32 rnds in all."
    rf"(?P<lead>^|[.;:] )(?:knit|work) (?P<bands>\d{{1,2}} {_CRS}(?: (?:in|with|of))? {_COL}(?:(?:,|;| and| then)+ \d{{1,2}}(?: {_CRS})?(?: (?:in|with|of))? {_COL})+)"
    rf"[.,:;]? \(?(?:that|this|these|which|it)(?:['’]s| is| are| makes?)? (?:one|1|a) (?:whole |full )?stripe\)?[.;,] (?:knit|work) (?:{_N}) (?:such |of these )?stripes(?:,|:|,? (?:that|which) is| \() ?(?P<n>{_N}) (?P<crs>{_CRS})(?: in all| in total| altogether)?\)?(?=[.;]|$)",
)


_AS_LIST = WordForm(  # a list that is called later by its name is not worked where it stands
    rf"(?:^|(?<=\. ))(?P<name>[^.:*]{{0,30}}\b{_SEQUENCE}(?: ?\([^()]*\))? ?[:=] ?){_LISTED}",
)


_ON_AND_ON = r"(?:throughout|all the way(?: [a-z]+)?|over and over(?: again)?|again and again|all the time|to the end|(?:for|on) the (?:whole|rest|entire) [a-z ]{2,20}|from (?:here|now) on)"
_OF_THEM = rf"(?:from \*|(?:these|those|the|all)(?: (?:\d{{1,2}}|{'|'.join(NUMBER_WORDS[:20])}))? {_CRS}|th(?:is|e|ese) (?:sequence|pattern|stripes))"
_TOLD_ON = WordForm(  # "Stripe pattern: 3 rounds in M, 1 round in C. Knit these 4 rounds throughout."
    rf"(?P<lead>(?:^|(?<=\. ))[^.:*]{{0,30}}\b{_SEQUENCE}(?: ?\([^()]*\))?(?: is| are)? ?[:=–-]? ?)(?P<told>(?:\*\*? ?)?(?P<bands>{_LISTED}))[.;,] ?(?:and )?(?:rep(?:eat)?|knit|work|keep (?:on )?(?:repeating|working|to)|continue (?:with|repeating)) {_OF_THEM}(?P<on>,? {_ON_AND_ON})?(?=\.?$)"
    rf"|^(?P<lead2>[^.:*]{{0,30}}\b{_SEQUENCE} ?: ?)(?P<bands2>\d{{1,2}} {_CRS}(?: (?:in|with|of))? {_COL}(?:(?:,|;| and| then)+ \d{{1,2}}(?: {_CRS})?(?: (?:in|with|of))? {_COL})+)(?=\.?$)"
)


def _told_on(match: re.Match[str]) -> str:
    """Put stripes that go on and on as their list alone, which is not worked where it stands."""
    told = match["bands"] or match["bands2"]
    bands = re.sub(r"\b(?:knit|work) (?=\d)", "", told, flags=re.IGNORECASE)
    if not (match["on"] or "from *" in match[0] or bands == told):
        return match[0]
    course = "rows" if "row" in bands.lower() else "rounds"
    listed = [(int(m["n"]), called(m["col"])) for m in _BAND.finditer(bands)]
    return (match["lead"] or match["lead2"] or "") + _listed(listed, course)


@attrs.frozen
class StripeSequence:
    """Bands of colour that a text tells once."""

    bands: str  # as they are listed in our words
    rounds: int
    course: str
    worked: bool  # whether they are worked where they are told


def stripe_sequence(text: str) -> StripeSequence | None:
    r"""Return the sequence of stripes that a text tells and calls; None where there is not one.

    Examples
    --------
    >>> stripe_sequence("Stripes: 2 rnds MC, 4 rnds CC.\nKnit 1 rnd.\nWork the stripe sequence twice.")
    StripeSequence(bands='2 rnds in yarn main, 4 rnds in yarn CC', rounds=6, course='rounds', worked=False)
    """
    told = list(_TOLD.finditer(text[:200_000]))
    if len(told) != 1 or _CALLED.search(text[:200_000]) is None:
        return None
    listed = told[0]["bands"] or told[0]["worked"]
    bands = [(int(m["n"]), called(m["col"])) for m in _BAND.finditer(listed)]
    course = "rows" if "row" in listed.lower() else "rounds"
    many = sum(n for n, _ in bands)
    return StripeSequence(_listed(bands, course), many, course, told[0]["worked"] is not None)


def with_sequences(said: MappedText, sequence: StripeSequence | None) -> MappedText:
    """Return a line with the stripes that it calls by their name written out."""
    if sequence is None or "stripe" not in said.text.lower():
        return said

    def meant(match: re.Match[str]) -> str:
        before = match["before"] if match["before"] is not None else match["before2"]
        stripes = f"{before}Work in stripes from here: *{sequence.bands}; rep from *. "
        often = _often(match["times"] or match["n"])
        in_all = match["all"] or match["all2"]
        many = sequence.rounds * (often - (sequence.worked and bool(in_all)))
        return f"{stripes}Knit {many} {sequence.course}" if many else match[0]

    return said.sub(_CALLED, meant)


def only_listed(text: str) -> str:
    """Return a line, as long as before, without the verbs of a list that is called later."""

    def listed(match: re.Match[str]) -> str:
        rest = match[0][len(match["name"]) :]
        return match["name"] + re.sub(
            r"\b(?:knit|work) (?=\d)", lambda verb: " " * len(verb[0]), rest, flags=re.IGNORECASE
        )

    return _AS_LIST.sub(listed, text)


def _often(words: str) -> int:
    first = words.lower().split()[0]
    if first.isdigit():
        return int(first)
    return {"once": 1, "twice": 2}.get(first) or 1 + NUMBER_WORDS.index(first)


def _listed(bands: list[tuple[int, str]], course: str) -> str:
    short = "row" if course == "rows" else "rnd"
    return ", ".join(f"{n} {short}{'s' * (n > 1)} {_band(name)}" for n, name in bands)


# --- bands in one sentence ------------------------------------------------------------------------


def called(words: str) -> str:
    """Return the name of a yarn as we say it."""
    low = words.lower()
    if low == "mc" or low.startswith("main"):
        return "main"
    if low.startswith("contrast"):
        return "CC"
    bare = re.sub(
        r"^(?:the |colou?r |yarn )| (?:yarn|wool|colou?r)$", "", words, flags=re.IGNORECASE
    )
    return bare.upper() if len(bare) < 4 and low not in ("red",) else bare.lower()


def _going_on(match: re.Match[str]) -> str:
    return f"{match['before']}With yarn {called(match['col'] or match['col2'])}, continue "


def _told_apart(match: re.Match[str]) -> str:
    bands = [(int(m["n"]), called(m["col"])) for m in _BAND.finditer(match["bands"])]
    course = "rows" if "row" in match["bands"].lower() else "rounds"
    if match["on"]:
        listed = _listed(bands, course)
        many = match["many"] or sum(n for n, _ in bands)
        return (
            f"{match['lead']}Work in stripes from here: *{listed}; rep from *. Knit {many} {course}"
        )
    verb = (match["verb"] or "work").lower()
    plain = " in st st" if match["plain"] else ""
    told = [
        f"With yarn {name}, {verb} {n} {course if n > 1 else course[:-1]}{plain}"
        for n, name in bands
    ]
    named = match["lead"].startswith(":") and not re.search(r"\d", match.string[: match.start()])
    return (". " if named else match["lead"]) + ". ".join(told)  # "Stripes: knit 3 rounds A, …"


def _told_alone(match: re.Match[str]) -> str:
    lead = match["lead"] if "then" not in match["lead"] else ". "
    plain = " in st st" if "row" in match["crs"].lower() else ""
    verb = "work" if plain else "knit"
    return f"{lead}With yarn {called(match['col'])}, {verb} {match['n']} {match['crs']}{plain}"


def _band(name: str) -> str:
    return name if len(name) == 1 else f"in yarn {name}"


def _changed(match: re.Match[str]) -> str:
    return f"{'With' if match[0][:1].isupper() else 'with'} yarn {called(match['col'])}, "
