# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Markers and needles with names of their own, and the letters and numbers that we call them by."""

from __future__ import annotations

import re
from functools import partial
from typing import Final

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT

__all__ = [
    "PIN",
    "as_needle",
    "marker_names",
    "needle_names",
    "says_pins",
    "with_markers",
    "with_needles",
]


# --- markers with names -------------------------------------------------------------------------

_PLACED = WordForm(
    r"\b[Pp]lace (?:marker )?(?:called |named )?\"?(?P<name>[A-Z][a-z]{2,14})\b(?! (?:marker|st|on)s?\b)",
    re.NOFLAG,
)
_NOT_NAMES = frozenset(
    ["marker", "markers", "sts", "stitches", "the", "these", "needle", "row", "round", "thumb", "next", "first", "last", "all", "and"]
)  # fmt: skip


def marker_names(text: str) -> dict[str, str]:
    """Return the names that a text gives its markers, and the letters that stand for them.

    Examples
    --------
    >>> marker_names("K4, place Port, m1, place Starboard. Knit to Port, k to Starboard.")
    {'Port': 'A', 'Starboard': 'B'}
    """
    numbered = sorted(set(_NUMBERED.findall(text[:200_000])))
    if numbered and numbered[0].lower() in ("m1", "m2") and _NUMBERED_PLACED.search(text[:200_000]):
        return {name: "ABCDEFGH"[place] for place, name in enumerate(numbered)}
    found = dict.fromkeys(match["name"] for match in _PLACED.finditer(text[:200_000]))
    names = [
        name
        for name in found
        if name.lower() not in _NOT_NAMES and re.search(rf"\b(?:to|before|after) {name}\b", text)
    ]
    told = {name for match in _LETTERS.finditer(text[:200_000]) for name in match.groups("")}
    letters = {
        name: name for name in sorted(told - {""}) if re.search(rf"\b(?:to|[Ss]lip) {name}\b", text)
    }
    return {name: "ABCDEFGH"[place] for place, name in enumerate(names[:8])} or letters


_NUMBERED = WordForm(  # "k to m2, sl m2": markers, where "m1" alone is an increase
    r"(?:\b(?:place|placing|put|hang|sl|slip|to|before|after|past|remove|removing|between) )(m[1-4])\b",
    re.NOFLAG,
)
_NUMBERED_PLACED = WordForm(
    r"\b(?:[Pp]lac(?:e|ing)|[Pp]ut|[Hh]ang|[Ss]l|[Ss]lip) m[1-4]\b", re.NOFLAG
)
_LETTERS = WordForm(r"\b(?:[Mm]arkers?|[Pp][Mm]) (?P<a>[A-H])\b(?: and (?P<b>[A-H])\b)?", re.NOFLAG)
_AND_JOIN = WordForm(
    r"(?<=\. )place marker ([A-H])\b(?: (?:for|at|to mark) the (?:start|beginning) of the (?:round|rnd))?,? (?:and|then) join(?: (?:in|into|for) (?:the |a )?(?:round|rnd|circle|ring))?(?=[.;,])",
)
_SLIPPED = WordForm(r"\b([Ss])lip ([A-H])\b(?=[,;.]| and)", re.NOFLAG)
_TAKEN = WordForm(r"\b(?:[Tt]ake (?:away|off|out)|[Rr]emove) (?:marker )?([A-H])\b", re.NOFLAG)
_AT = WordForm(
    r"(?<![Cc]hange )(?<![Cc]hanging )(?<![Bb]ack )\b(to|before|after|past) ([A-H])\b(?=[,;.]| and)",
    re.NOFLAG,
)
_ONE = r"(?:a|another|one|(?:the|a) (?:second|first|other|2nd|1st)) (?:stitch )?marker\b"
_ON = r"(?:on|in)(?: ?to)?(?: (?:the|your) (?:right(?:-hand)? |left )?needle)?(?=[,;.]| for| and|$)"
_HUNG = WordForm(  # "hang a marker", "put on the second marker", "slip a marker on to the needle"
    rf"\b(?:put|hang|add|set|insert|position|attach|clip)(?: on| in)? {_ONE}(?: {_ON})?(?=[,;.]| for| and| here|$)"
    rf"|\b(?:slip|slide|thread) (?:on {_ONE}|(?:a|another|one|a second) marker {_ON})",
)
_HUNG_NAMED = WordForm(rf"\b(?P<do>hang|put|add|place) (?:on )?(?P<what>marker [A-H])\b(?: {_ON})?")


def _placed(hung: re.Match[str]) -> str:
    return f"{'Place' if hung['do'][0].isupper() else 'place'} {hung['what']}"


def _by_letter(names: dict[str, str], words: str, match: re.Match[str]) -> str:
    return words.format(match[1], names[match[2]])


def with_markers(said: MappedText, names: dict[str, str]) -> MappedText:
    """Return a line with the markers by their letters: "knit to marker A, sm, m1l"."""
    if "marker" in said.text:
        said = said.sub(_HUNG, "place a marker").sub(_HUNG_NAMED, _placed)
    if not any(name in said.text for name in names):
        return said.sub(_MARKER_IT, r"\1sm") if "slip it" in said.text else said
    if all(len(name) == 1 for name in names):
        said = said.sub(_AND_JOIN, r"Join in the round. Place marker \1")
        said = said.sub(_SLIPPED, r"\1lip marker \2").sub(_AT, r"\1 marker \2")
        return said.sub(_TAKEN, lambda m: f"{'R' if m[0][0].isupper() else 'r'}emove marker {m[1]}")
    known = "|".join(names)
    if _NUMBERED_NAME.fullmatch(next(iter(names))):
        shapes = (
            (rf"\b([Pp])lac(?:e|ing) ({known})\b", "{0}lace marker {1}"),
            (rf"\b([Ss])l(?:ip)? ({known})\b", "{0}m {1}"),
            (rf"\b(to|before|after|past|remove|between) ({known})\b", "{0} marker {1}"),
        )
        for shape, words in shapes:
            said = said.sub(re.compile(shape), partial(_by_letter, names, words))
        return said
    forms = (
        (rf"\b([Pp])lace (?:marker )?(?:called |named )?\"?({known})\b\"?", lambda m: f"{m[1]}lace marker {names[m[2]]}"),
        (rf"\b([Ss])lip ({known})\b", lambda m: f"sm {names[m[2]]}"),
        (rf"\b(?:[Tt]ake|[Rr]emove) ({known})(?: off)?(?: too)?\b", lambda m: f"remove marker {names[m[1]]}"),
        (rf"\bbetween ({known}) and ({known})\b", lambda m: f"between markers {names[m[1]]} and {names[m[2]]}"),
        (rf"\b(?:marker )?({known})\b(?!')", lambda m: f"marker {names[m[1]]}"),
    )  # fmt: skip
    for form, means in forms:
        said = said.sub(re.compile(form), means)
    text = said.text

    def it(match: re.Match[str]) -> str:
        last = _LETTERED.findall(text, 0, match.start())
        if not last:
            return match[0]
        return f"{'sm' if match[1].lower().startswith('sl') else 'remove marker'} {last[-1]}"

    return said.sub(_IT, it)


_MARKER_IT = WordForm(r"(\b(?:marker|m)\b[^.;*]{0,30}?[,;] ?(?:and )?)slip it\b")
_NUMBERED_NAME = WordForm(r"m[1-4]", re.NOFLAG)
_LETTERED = re.compile(r"\bmarker ([A-H])\b")
_IT = WordForm(r"\b(slip|sl|take|remove) it(?: off| on)?\b")


# --- needles that are called pins ----------------------------------------------------------------

PIN = WordForm(
    r"(?<!safety )(?<!stitch )(?<!cable )(?<!holding )\b(?P<p>p)in(?P<s>s?)\b(?! (?:out|down|up|it|them|the|to)\b)",
)
_PINS = re.compile(  # "Pins: four of 2.5 mm", "pin A, k to the last 3", "on the second pin"
    r"^[ \t]*pins? ?: ?[^\n]*\d|\bpins? (?:(?-i:[A-D])|[1-4])\b(?=[,:;.)]| and\b)|\bon(?: ?to)? (?:one|each|the (?:first|second|third|fourth|other)|all|both)(?: of (?:the |your )?(?:two|three|four))? pins?\b(?![^\n]*\bhold)|\bknitting[- ]pins?\b",
    re.IGNORECASE | re.MULTILINE,
)


def says_pins(text: str) -> bool:
    r"""Tell whether a text calls needles pins, as old ones do, and more than once.

    Examples
    --------
    >>> says_pins("Pins: four of 2.5 mm. Share the sts on to three pins.\nPin A: knit.")
    True
    >>> says_pins("Put the thumb sts on a pin. Pin out to size.")
    False
    """
    return len(_PINS.findall(text)) > 1


def as_needle(pin: re.Match[str]) -> str:
    """Return what a pin is called by others."""
    return f"{'N' if pin['p'] == 'P' else 'n'}eedle{pin['s']}"


# --- needles with names -----------------------------------------------------------------------------

_TIPS = WordForm(
    r"\b(?P<name>[A-Z]\d?|[A-Z][a-z]{2,8}) ?= ?(?:the )?[^,;.=]*?\b(?:needle|tip)\b[^,;.=]*",
    re.NOFLAG,
)
_CALL = WordForm(r"\b([A-Z]|I{1,3}|IV)\b(?=[\s,;.(\"]|$)", re.NOFLAG)
_LISTED = r"(?P<names>[A-Z]{1,3}\b(?: ?\([^)]*\))?(?:(?:,? and |, ?)[A-Z]{1,3}\b(?: ?\([^)]*\))?)+)"
_CALLED = WordForm(  # "call the needles A, B (instep) and C", "the needles are called A and B"
    r"(?:\b(?i:call|name|label|letter) (?:the|these|your) (?:two |three |four |\d )?needles "
    r"|\b(?i:needles) (?i:(?:are|will be|is) )?(?i:now )?(?i:called|named|labelled|lettered|known as) "
    r"|\b(?i:needles|circulars|circs|dpns|tips) ?\((?i:(?:we |i )?call(?:ed)? (?:them )?|named |labelled )"
    rf"|(?<=needles)(?=[^.;]*[,;] (?:and )?(?:call|name|label|letter)\b)[^.;]*?[,;] (?:and )?(?:call|name|label|letter) (?:them|these) ){_LISTED}",
    re.NOFLAG,
)
_CALLED_BEHIND = WordForm(
    r"[,;] (?:and )?(?:call|name|label|letter) (?:them|these) [A-Z]\b(?:(?:,? and |, ?)[A-Z]\b)+(?= ?[.;]|$)",
    re.NOFLAG,
)
_LETTERED_NEEDLE = WordForm(r"\b[Nn]eedle ([A-D])\b", re.NOFLAG)
_LETTERED_YARN = WordForm(r"\b(?:[Yy]arn|[Cc]olou?r|[Ww]ith) [A-D]\b", re.NOFLAG)


def needle_names(text: str) -> dict[str, int]:
    """Return the names of two needles that a text explains: "T = top needle, S = sole needle".

    Examples
    --------
    >>> needle_names("T = top needle tip (instep), S = sole needle tip")
    {'T': 1, 'S': 2}
    """
    if (called := _CALLED.search(text[:200_000])) is not None:
        names = _CALL.findall(called["names"])
        if 1 < len(names) < 5 and len(set(names)) == len(names):
            return {name: place for place, name in enumerate(names, start=1)}
    if told := _told_by_place(text[:200_000]) or _dealt_to(text[:200_000]):
        return told
    if (dealt := _DEALT_BY_SIDE.search(text[:200_000])) is not None:
        return {f"{dealt['one'].lower()} needle": 1, f"{dealt['two'].lower()} needle": 2}
    lettered = sorted(set(_LETTERED_NEEDLE.findall(text[:200_000])))
    if lettered[:2] == ["A", "B"] and _LETTERED_YARN.search(text[:200_000]) is None:
        return {name: "ABCD".index(name) + 1 for name in lettered}
    found = list(dict.fromkeys(match["name"] for match in _TIPS.finditer(text[:20_000])))
    sound = [name for name in found if not re.fullmatch(r"N\d|Needle|MC|CC", name)]
    return {name: place for place, name in enumerate(sound, start=1)} if len(sound) == 2 else {}


_SIDE = r"(?:front|back|top|bottom|upper|lower|instep|sole|heel)"
_DEALT_BY_SIDE = WordForm(  # "put 22 on the front needle and 22 on the back needle"
    rf"\b(?:\d+(?: ?[(\[][\d, ]+[)\]])?|half)(?: (?:of )?(?:the |them )?(?:sts|stitches)?)? ?(?:on|onto|to|for) (?:the |your )?(?P<one>{_SIDE}) needle,?(?: and|;)? [^.;]{{0,24}}?(?:on|onto|to|for) (?:the |your )?(?P<two>{_SIDE})(?: needle| one)\b",
)
_LABELLED = re.compile(
    r"(?:^|[.:;] )([A-D]): ?(?=[Kk]\d|[Kk]nit\b|[Ww]ork\b|[Rr]ib\b|[Kk] )", re.MULTILINE
)
_OF_NEEDLES = WordForm(r"[^.\n]*\b[Nn]eedles?\b[^.\n]*", re.NOFLAG)


def _told_by_place(text: str) -> dict[str, int]:
    """Return the letters of "the heel needles are A and C and the instep needle is B", in order.

    Rounds have to be told by them: "A: knit to the last 3 stitches, k2tog, k1. B: knit."
    """
    labels = sorted(set(_LABELLED.findall(text)))
    if len(labels) < 2 or labels != list("ABCD"[: len(labels)]):
        return {}
    for sentence in _OF_NEEDLES.findall(text):
        if sorted(re.findall(r"(?<![\w'])([A-D])(?![\w'])", sentence)) == labels:
            return {name: place for place, name in enumerate(labels, start=1)}
    return {}


_DEALT = WordForm(
    rf"{COUNT}(?: (?:sts|stitches))?(?: (?:go|lie|are))? on ([A-D])\b(?! ?/)", re.NOFLAG
)

_MOST_DEALT = 1000  # characters of a line that deals stitches to needles

_WORKED_ON = re.compile(r"\b[Oo]n (?:both )?([A-D])(?: and (?:on )?([A-D]))?(?: work\b|[:,;.](?= |$))", re.MULTILINE)  # fmt: skip


def _dealt_to(text: str) -> dict[str, int]:
    """Return the letters to which stitches are dealt: "8 sts on A (instep) and 8 sts on B"."""
    if _LETTERED_YARN.search(text) is not None:
        return {}
    for line in text.split("\n"):
        labels = _DEALT.findall(line) if len(line) < _MOST_DEALT else []
        if len(labels) > 1 and labels == list("ABCD"[: len(labels)]):
            return {name: place for place, name in enumerate(labels, start=1)}
    on = sorted({name for match in _WORKED_ON.finditer(text) for name in match.groups("")} - {""})
    return {"A": 1, "B": 2} if on == ["A", "B"] else {}


_OTHER_THINGS = ("arker", "ection", "art", "hart", "ow", "ows", "ound", "ounds", "nd", "nds", "arn", "olour", "olor", "ize", "tep", "eedle", "attern", "anel", "able", "arkers", "ep", "otif", "otion")  # fmt: skip
_ANYWHERE: Final = (  # a needle's letter behind any word but the name of another thing
    "(?<=[a-z] )" + "".join(rf"(?<!\b[A-Za-z]{word} )" for word in _OTHER_THINGS)
)


def with_needles(said: MappedText, names: dict[str, int]) -> MappedText:
    """Return a line with the needles by their numbers."""
    if not names:
        return said
    known = "|".join(names)
    if known.endswith(" needle"):
        side = re.compile(rf"\b(?:(?:the|your) )?({known})\b", re.IGNORECASE)
        return said.sub(side, lambda m: f"needle {names[m[1].lower()]}")

    letters = "|".join(name for name in names if len(name) == 1) or "(?!)"
    both = re.compile(rf"\b(?i:on) (?:both )?(?:{known}) and (?:on )?(?:{known})\s*[:,]")
    one = re.compile(
        rf"{_ANYWHERE}({letters})(?=[\s.,;:()]|$)|\b[Nn]eedle ({known})\b|(?<=\b[Oo]n )({known})\b|(?<=\bof )({known})\b|(?<=\bacross )({known})\b|(?<=\bover )({known})\b|(?<=\bas )({known})\b|(?<!eedle )\b({known})(?=\s*:| = | and\b| hold)|(?<=\b[Ll]eave )({known})\b|(?<=\b[Ll]et )({known})\b|(?<=and )({known})\b"
    )
    of_it = re.compile(rf"\b[Tt]he ({known}) (?:stitches|sts)\b")
    behind = re.compile(rf"\b(?:the )?({known}) needle\b")
    idle = re.compile(
        rf"(?:(?<=[.;] )|^)(?:[Nn]eedle )?({known})(?= (?:now |then |still )?(?:rest|wait|stay)s\b)"
    )
    said = said.sub(idle, lambda m: f"Needle {names[m[1]]}")
    said = said.sub(of_it, lambda m: f"the sts of needle {names[m[1]]}")
    said = said.sub(behind, lambda m: f"needle {names[m[1]]}")
    said = said.sub(_CALLED_BEHIND, "").sub(both, "On each needle:")
    return said.sub(one, lambda m: f"needle {names[next(g for g in m.groups() if g)]}")
