# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A plan of shaping as its legs: "every 4th row 5 times, then every other row until 20 sts remain"."""

from __future__ import annotations

import re
from itertools import pairwise

import attrs

from loopwright.pattern._reading.stated import count_in, number_of
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern._words import figure
from loopwright.pattern.values import Count, UntilCount, values_of
from loopwright.plurals import nth

__all__ = ["COURSES", "FEW", "NTH", "ShapingLeg", "legs_in", "on_listed"]

COURSES = r"(?:rounds?|rnds?|rows?)"
FEW = r"(?:once|twice|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen)"
NTH = r"(?:\d+(?:st|nd|rd|th)|third|fourth|fifth|sixth|seventh|eighth|tenth)"
_TIMES = rf"(?P<n>{COUNT}|{FEW})(?: more| further)?(?: times?)?(?: more| in all| in total| altogether| again)?"
_STRIDE = r"(?P<stride>other|alt\w*|second|third|fourth|fifth|sixth|seventh|eighth|tenth|\d+(?:st|nd|rd|th)?)"
_EVERY = rf"(?:on |in |of )?(?:the )?(?:(?:every|each|foll(?:owing)?)(?= (?:\d|o|alt|r|foll|s|t|f|e|w)) |(?=alt))(?:foll\w* |following )?(?:{_STRIDE}\.? )?(?:(?P<side>rs|ws|right[- ]side|wrong[- ]side) )?{COURSES}"
_UNTIL = rf"(?:(?:un)?til|down to|up to|to)(?: there (?:are|is)| you have)?(?: only)? (?P<goal>{COUNT})(?: {STS}|(?= (?:are left|remain|rem)\b)|(?=[ ,]*$))(?: (?:remain|rem|are left|left|in all|on (?:the |your )?needles?|in total))*"
_LEG = WordForm(
    rf"(?:(?:on |in |of )?(?:(?:each|every|all) of )?(?:the )?(?P<next>next|this|foll(?:owing)?) (?:(?P<many>{COUNT}|{FEW}) )?{COURSES}"
    rf"|(?:on |in |of )?(?:the )?foll(?:owing)?\.? (?P<n3>{COUNT}|{FEW}) {_STRIDE.replace('<stride>', '<stride3>')}\.? {COURSES}"
    rf"|(?:(?:once|1 time|one time) )?(?:on |in |of )?(?:the )?(?:following |foll\.? |next )?(?P<nth>\d+(?:st|nd|rd|th)|second|third|fourth|fifth|sixth|seventh|eighth|tenth) {COURSES}(?: (?:once|1 time|one time))?"
    rf"|(?:{_TIMES.replace('<n>', '<n4>')} )?after (?:every |each )?(?P<rest>{COUNT}|{FEW}) (?:plain |knit |even )?{COURSES}(?:,? {_TIMES.replace('<n>', '<n5>')})?"
    rf"|{_EVERY}(?:,? (?:{_TIMES}|{_UNTIL.replace('goal', 'goal1')}))?"
    rf"|{_TIMES.replace('<n>', '<n2>')},? {_EVERY.replace('<stride>', '<stride2>').replace('<side>', '<side2>')}"
    rf"|{_UNTIL.replace('goal', 'goal2')})[ ,]*$",
    re.NOFLAG,
)
_AT_ALL = rf"(?:{COUNT}|{FEW})(?: times?)?(?: more)? (?:on|in(?! all| total)|after|every|each) "  # "6 times on every round"
_PARTS = re.compile(
    rf"[,;]? (?:and )?then (?=on\b|in\b|of\b|after\b|every|each|{COUNT}|{FEW}|foll)|[,;] (?:and )?(?=(?:on |in )?(?:every|each|alt)|after\b|{_AT_ALL})| and (?=(?:on |of |in |at )?(?:the )?(?:every|each|foll|alt)|after\b|{_AT_ALL})| (?=(?:un)?til )"
)
_STRIDES = {
    "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8,
    "tenth": 10,
}  # fmt: skip


@attrs.frozen
class ShapingLeg:
    """How often a shaping row comes: every how many rows, and how many times or until which
    count.
    """

    stride: int
    times: Count | UntilCount


_COUNTED = WordForm(rf",? ?[=(\[]+ ?{COUNT} {STS}[)\]]?(?=[,;]| (?:and|then)|$)", re.NOFLAG)


_BRACKETS = WordForm(rf"\((?P<n>{COUNT}|{FEW}) times\)", re.NOFLAG)
_FROM_THERE = WordForm(  # "on every round after that"
    r"(?<= )(?:thereafter|from (?:there|then|here|that point)(?: on(?:wards?)?)?|after (?:that|this)|afterwards?),? (?=(?:(?:on|in) )?(?:every|each|alt))"
    r"|(?<=round) (?:after (?:that|this)|from (?:there|then|here)(?: on)?|thereafter)\b|(?<=rnd) (?:after that|thereafter)\b",
    re.NOFLAG,
)
_NEXT_AND = WordForm(
    r"\b(next|this|foll(?:owing)?|\d+(?:st|nd|rd|th)) and (?=(?:on |of |in )?(?:the )?(?:every |each )?foll)",
    re.NOFLAG,
)
_AS_SET = WordForm(r",? (?:as|like) (?:set|before|established)\b,?(?= )", re.NOFLAG)


_AFTER_SO_MANY = WordForm(  # "once after 3 plain rounds, again after 2"
    rf"(?:\bagain )?\bafter (?P<n>{COUNT}|{FEW})(?: (?:plain|knit|even)?)?(?! ?(?:more |plain |knit |even )?{COURSES})",
    re.NOFLAG,
)


def legs_in(text: str, *, growing: bool) -> list[ShapingLeg] | None:
    """Return the legs of a schedule: "every 4th row 5 times, then every other row twice"."""
    legs: list[ShapingLeg] = []
    stride = 0
    text = _BRACKETS.sub(r"\g<n> times", _FROM_THERE.sub("", text)).removeprefix("first ")
    text = _AFTER_SO_MANY.sub(r"after \g<n> rounds", text.replace("again after", "after"))
    text = _NEXT_AND.sub(r"\1 row and ", _AS_SET.sub("", _COUNTED.sub("", text)))
    for part in _PARTS.split(text.strip(" .,")):
        match = _LEG.match(part.strip(" .,"))
        if match is None:
            return None
        goal = match["goal1"] or match["goal2"]
        every = match["stride"] or match["stride2"] or match["stride3"]
        if match["next"]:
            legs.append(ShapingLeg(1, _so_many(match["many"] or "one")))
            continue
        if match["rest"]:
            between = _so_many(match["rest"])
            if not isinstance(between, int) or not 0 < between < 59:
                return None
            legs.append(ShapingLeg(between + 1, _so_many(match["n4"] or match["n5"] or "one")))
            continue
        if match["nth"]:
            if not 0 < _stride(match["nth"]) < 60:
                return None
            legs.append(ShapingLeg(_stride(match["nth"]), 1))
            continue
        if match["goal2"]:
            stride = stride or (1 if legs else 0)
        elif every:
            stride = _stride(every)
        else:
            stride = 2 if match["side"] or match["side2"] else 1
        many = match["n"] or match["n2"] or match["n3"]
        if not 0 < stride < 60:
            return None
        if goal:
            legs.append(ShapingLeg(stride, UntilCount(count_in(goal), growing)))
        elif many:
            times = _so_many(many)
            if not all(isinstance(value, int) for value in values_of(times)):
                return None
            legs.append(ShapingLeg(stride, times))
        else:
            legs.append(ShapingLeg(stride, -1))
    return _settled(legs)


def _so_many(said: str) -> Count:
    return count_in(said) if said[0].isdigit() else number_of(said)


def _settled(legs: list[ShapingLeg]) -> list[ShapingLeg] | None:
    """Give "every other row, until 20 sts remain" the end that stands behind it."""
    found: list[ShapingLeg] = []
    for leg in legs:
        if found and found[-1].times == -1 and isinstance(leg.times, UntilCount):
            found[-1] = ShapingLeg(found[-1].stride, leg.times)
        else:
            found.append(leg)
    return found if found and all(leg.times != -1 for leg in found) else None


def _stride(word: str) -> int:
    digits = re.match(r"\d+", word)
    return figure(digits[0]) if digits else _STRIDES.get(word, 2)


_LIST = (  # "on rounds 2, 4 and 6", "on the 2nd, 4th and 6th rounds"
    rf"(?:on|in) (?:the )?(?:foll(?:owing)? )?(?:(?:rounds|rnds|rows) (?P<list>\d+(?:, \d+)*,? (?:and|&) \d+)"
    rf"|(?P<nths>{NTH}(?:, {NTH})*,? (?:and|&) {NTH}) (?:rounds|rnds|rows))\b"
)
_LISTED = WordForm(_LIST, re.NOFLAG)
_WORK = r"(?:(?:work|do|make|repeat|rep|give) )?(?:(?:the|an?|this|one) )?(?P<name>[a-z]+\.? )??(?P<what>dec|inc)\w*\.?(?: (?:rounds?|rnds?|rows?)\b)?"
_WORKED = WordForm(rf"(?:and |now |then )*{_WORK}(?= (?:on|in) )", re.NOFLAG)
_BY_NUMBER = WordForm(  # "work round 1 again on rounds 3 and 5"
    r"^(?:and |now |then )*(?:work|rep(?:eat)?|do) (?P<row>(?:round|rnd|row) \d+)(?: again| as before)? (?=on )",
    re.NOFLAG,
)
_OTHERS = WordForm(  # "(rounds 1, 3 and 5 are plain)", "knitting the rounds between plain"
    rf",? (?:[(\[]{COURSES} [\d, and&]+ (?:are |being )?(?:worked )?(?:plain|knit(?:ted)?(?: plain)?|even)[)\]]|(?:with |and )?(?:all )?(?:the )?(?:others?|rest)(?: {COURSES})?(?: up to there)?(?: being| are)? (?:plain|knit)"
    rf"|(?:and )?(?:knit|work)(?:ting|ing)? (?:all )?(?:the )?(?:{COURSES} (?:in )?between|others?(?: {COURSES})?)(?: plain| even)?|with (?:plain {COURSES}|a plain {COURSES}) (?:in )?between(?: them)?)(?=[.,;]|$)",
    re.NOFLAG,
)
_SO = WordForm(  # "; after that dec on every rnd"
    r"(?:[,;.] | )(?:and )?(?:from (?:then|there|here) on|after that|thereafter|then)(?: on)?,? (?:(?:dec|inc)\w* |work (?:it|the (?:dec|inc)\w* (?:round|rnd)) )?(?=(?:on |in )?(?:every|each))",
    re.NOFLAG,
)


def on_listed(text: str, last: int) -> str:
    """Put "dec on rounds 2, 4 and 6, then every round" as what is done on the 2nd round from each.

    Parameters
    ----------
    text : str
        A sentence in small letters.
    last : int
        The number of the row before, 0 where they are counted from here.

    Examples
    --------
    >>> on_listed("work the dec round on rounds 2, 4 and 7, others plain", 1)
    'work the dec round on the 1st round, then on the 2nd round, then on the 3rd round'
    """
    if _LISTED.search(text) is None:
        return text
    if (worked := _WORKED.match(text)) is not None:
        text = f"work the {worked['name'] or ''}{worked['what']} round{text[worked.end() :]}"
    text = _SO.sub(", then ", _OTHERS.sub("", _BY_NUMBER.sub(r"dec as on \g<row> ", text)))
    match = _LISTED.search(text)
    if match is None:
        return text
    numbers = [
        _stride(one) for one in re.split(r",? (?:and|&) |, ", match["list"] or match["nths"])
    ]
    before = last if last < numbers[0] else 0
    gaps = [number - one for one, number in pairwise([before, *numbers])]
    if min(gaps) < 1:
        return text
    listed = ", then ".join(f"on the {nth(gap)} round" for gap in gaps)
    return text[: match.start()] + listed + text[match.end() :]
