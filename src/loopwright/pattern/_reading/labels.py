# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What stands before the colon of a row: its number, its name, its side."""

from __future__ import annotations

import re
from functools import lru_cache

import attrs

from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COLOUR
from loopwright.pattern._words import figure

__all__ = [
    "BEFORE_NUMBERS",
    "LAST_ONE",
    "Label",
    "label_of",
    "letters_in",
    "named_in",
    "numbers_in",
    "row_name",
]

_COURSE = r"(?P<course>rounds?|rnds?|rows?|rs?)(?![a-z])\.?"
_NUMS = r"(?P<nums>\d+(?:\s*(?:-|–|—|to\b|through\b|thru\b|and\b|,(?:\s*and\b)?|&)\s*(?:(?:r|rnd|rnds|row|round|rounds)\s?)?\d+)*)"
_ALSO = (
    r"(?P<also>,?\s*(?:and|&)\s+(?:then\s+)?(?:(?:all|every|each)\s+(?:(?:of\s+)?the\s+)?|(?:the\s+)?(?=foll|alt|even|odd|other\s+(?:even|odd)))(?:other\s+|foll(?:owing)?\.?\s+|rem(?:aining)?\.?\s+|subsequent\s+)*"
    r"(?P<which>alt(?:ernate)?\.?|even(?:-numbered)?|odd(?:-numbered)?|ws|rs|wrong[- ]side|right[- ]side|other|2nd|second)?"
    r"\s*(?:numbered\s+)?(?:(?(which)(?!foll|rem|numb)[a-z]{3,}\s+))?(?:rounds?|rnds?|rows?)(?:\s+(?:unless|except|up\s+to|to|through|thru|as\s+far\s+as|until|till|of|in|on|throughout)\b[^:]*)?)?"
)
_EVERY = (
    r"(?:(?:all|every|each)\s+(?:the\s+)?|(?:the\s+)?(?=(?:even|odd)(?:[- ]numbered)?\s+(?:numbered\s+)?(?:rounds|rnds|rows)\b))(?P<only>even(?:-numbered)?|odd(?:-numbered)?|ws|rs|wrong[- ]side|"
    r"right[- ]side|alt(?:ernate)?|other)\s+(?:numbered\s+)?(?:rounds?|rnds?|rows?)(?:\s+(?:of|in|on|throughout)\s+the\s+[a-z ]{3,20}|\s+(?:up\s+to|to|through|as\s+far\s+as|until)\s+(?:and\s+including\s+)?(?:the\s+)?(?:(?:round|rnd|row)\s+\d+|\d+(?:st|nd|rd|th)(?:\s+(?:round|rnd|row))?))?"
)
_ASIDE = r"(?P<aside>\s*[(\[][^)\]:]*[)\]])?"
_SECOND_ASIDE = (
    rf"(?P<aside2>\s*[(\[][^)\]:]*[)\]]|,?\s+(?:(?:with|in|using)\s+)?(?:{COLOUR}|[A-E])(?=\s*:))?"
)
_ORDINAL = r"(?P<nths>\d+(?:st|nd|rd|th)(?:\s*(?:,|and|&|to|-|–)\s*(?:and\s+)?\d+(?:st|nd|rd|th))*)\s+(?:(?:short|heel|shaping)[- ])?(?P<course2>rounds?|rnds?|rows?)\b(?:\s+(?:of|for)\s+(?:the\s+)?(?:shaping|decreas(?:es|ing)|increas(?:es|ing)|gusset|toe|heel|crown|top|thumb|flap|heel flap|heel turn|instep|lace|rib(?:bing)?|cable)(?:\s+shaping|\s+decreases)?(?=\s*:))?"
_NAMED = r"(?P<name>(?:[a-z][a-z'-]*\s+){1,3}?|set[ -]?up\s+)(?P<course3>rounds?|rnds?|rows?|r)\b(?:\s+(?P<number>\d+))?"
_STEPS = re.compile(r"(?:(?:step\s+)?\d{1,2}[.)]|\*{2,3}|[-•–])\s+(?=\S)", re.IGNORECASE)
_END = r"(?:\s+(?:over|on|across)\s+all\s+(?:the\s+|your\s+)?(?:sts|stitches|needles))?\s*(?::|\.(?=\s*[A-Z*\[(])|\s[-–—](?=\s))\s*"
_FORMS = tuple(
    re.compile(form + _ASIDE + _SECOND_ASIDE + _END, re.IGNORECASE)
    for form in (
        rf"(?:(?:crown|toe|gusset|heel|flap|thumb|foot|leg|cuff|lace|pattern|rib|turn)\s+)?{_COURSE}\s*{_NUMS}{_ALSO}",
        _ORDINAL + _ALSO,
        r"(?P<nth>\d+)(?:st|nd|rd|th)(?P<nth2>)\s+(?:and|&)\s+(?:(?:all|every|each)\s+|(?=alt|foll|even|odd))(?:foll(?:owing)?\.?\s+|rem(?:aining)?\s+)*(?P<which>alt(?:ernate)?|even(?:-numbered)?|odd(?:-numbered)?|ws|rs|wrong[- ]side|right[- ]side|other|2nd)\.?\s+(?:numbered\s+)?(?P<course2>rounds?|rnds?|rows?)\b(?:\s+(?:(?:up\s+)?(?:to|until|through)|as\s+far\s+as)\b[^:]*)?",
        _EVERY,
        r"(?P<every>all|every|each)\s+(?P<course3>rounds?|rnds?|rows?)(?=\s*(?:[(\[][^)\]]*[)\]]\s*)?:)",
        _NAMED,
        r"(?P<course3>rounds?|rnds?|rows?)\s+(?P<letter>(?-i:[A-H]))(?=\s*[(:])",
        r"(?P<name>next)(?=\s*:)",
        r"(?P<setup>set[ -]?up)",
        r"(?P<facing>(?:right|wrong)[ -]side|rs|ws)(?: rows?)?(?=\s*:)",
        r"(?:(?:gusset|thumb|crown|top|tip|toe|hand|cuff)\s+)?(?P<shaping>dec(?:rease)?|inc(?:rease)?)(?: (?P<number2>\d+))?(?=\s*(?:[(\[][^)\]]*[)\]]\s*)?:)",
        r"(?:last|next|first|following|foll\.?)\s+(?P<many>\d{1,3}|two|three|four|five|six|eight|ten)\s+(?P<course4>rounds|rnds|rows)\b",
        r"(?P<worded>[a-z]+(?: [a-z]+)?(?=\s*:\s*(?:[*(\[]\s*(?:k|p|sl)|(?:k|p|sl)\s?\d|(?:knit|purl|kfb|pfb)\b)))",
    )
)


@attrs.frozen
class Label:
    """A row's label.

    ``course`` is ``"RND"``, ``"ROW"`` or ``"R"`` where either may be meant; ``which`` names the
    rows that it also stands for: ``"even"``, ``"odd"``, ``"alt"``; ``times`` how many rows are meant.
    """

    course: str
    numbers: tuple[int, ...] = ()
    side: str = ""
    name: str = ""
    which: str = ""
    end: int = 0
    aside: str = ""
    times: int = 1


_IN_ASIDE = WordForm(
    r"\b(?:and|&) (?:all|every|each)\s+(?:other\s+|foll(?:owing)?\s+|rem(?:aining)?\s+)*"
    r"(?P<which>alt(?:ernate)?|even(?:-numbered)?|odd(?:-numbered)?|ws|rs|wrong[- ]side|right[- ]side)?"
    r"\s*(?:numbered\s+)?(?:rounds?|rnds?|rows?)",
)


_ON_NEXT = WordForm(
    r"(?:on|in) (?:the )?(?P<name>next|following|foll|last) (?P<course3>rounds?|rnds?|rows?)\s*[,:]\s*|"
    r"on (?:round|rnd|row) \d+ (?:of )?[^:;]*:\s*",
)


_UNDER_A_NAME = WordForm(  # "Broken rib: Rnds 1 and 2: …"
    r"(?P<name>[A-Za-z][A-Za-z' -]{2,40}(?: ?\([^():]*\))?): (?=(?:rounds?|rnds?|rows?)\.? ?\d+[^:*]{0,30}:|\d+(?:st|nd|rd|th) (?:rounds?|rnds?|rows?)\b)",
)


BEFORE_NUMBERS = WordForm(  # "Stripe rounds 1-6: …": rows with numbers, not one with a name
    r"(?P<name>[a-z][a-z'-]+(?: [a-z'-]+)?) (?=(?:rounds?|rnds?|rows?)\.? ?\d+ ?(?:[-–—,&]|to\b|and\b) ?\d+[^:*]{0,30}:)"
)


def named_in(text: str) -> str:
    """Return the name of a pattern whose first row stands behind it on a line.

    Examples
    --------
    >>> named_in("Broken rib: Rnds 1 and 2: K1, p1."), named_in("Rnd 1: Knit.")
    ('broken rib', '')
    """
    lead = _UNDER_A_NAME.match(text)
    return lead["name"].lower().strip() if lead else ""


@lru_cache(maxsize=8192)
def label_of(text: str) -> Label | None:
    """Return the label that a line begins with, None if there is none.

    Examples
    --------
    >>> label_of("R1-R3 (RS): knit").numbers, label_of("2nd row: purl").course
    ((1, 2, 3), 'ROW')
    >>> label_of("Set-up Round: knit").name, label_of("Knit 3 rounds.")
    ('set-up', None)
    """
    if lead := _UNDER_A_NAME.match(text):
        found = label_of(text[lead.end() :])
        return found and attrs.evolve(found, end=found.end + lead.end())
    if (lead := BEFORE_NUMBERS.match(text)) is not None:
        words = lead["name"].lower().split()
        if words[0] not in _NOT_NAMES and not _NOT_IN_NAMES & set(words):
            found = label_of(text[lead.end() :])
            return found and attrs.evolve(found, end=found.end + lead.end())
    for form in _FORMS:
        match = form.match(text)
        if match is not None:
            found = _made(match.groupdict(), match.end())
            if found is not None:
                return found
    if match := _ON_NEXT.match(text):
        return Label(_course(match["course3"] or "round"), name="next", end=match.end())
    return None


def _made(said: dict[str, str | None], end: int) -> Label | None:
    word = (
        said.get("course")
        or said.get("course2")
        or said.get("course3")
        or said.get("course4")
        or ""
    )
    aside = " ".join(said.get(part) or "" for part in ("aside", "aside2", "facing"))
    if said.get("facing"):
        side = _side(aside)
        return Label("ROW", side=side, name=side.strip("()").lower(), end=end)
    numbers: tuple[int, ...] = ()
    name = ""
    if said.get("nums"):
        numbers = numbers_in(said["nums"] or "")
    elif said.get("nths"):
        numbers = numbers_in(re.sub(r"(?<=\d)(?:st|nd|rd|th)", "", said["nths"] or ""))
    elif said.get("nth"):
        first = figure(said["nth"] or "")
        numbers = tuple(range(first, figure(said["nth2"] or said["nth"] or "") + 1))
    elif said.get("every"):
        name = "every"
    elif said.get("name"):
        name = " ".join((said["name"] or "").lower().split())
        words = name.split()
        if words[0] in _NOT_NAMES or _NOT_IN_NAMES & set(words):
            return None
        name = name.replace("setup", "set-up").replace("set up", "set-up")
        if said.get("number"):
            name += f" {said['number']}"
    elif said.get("letter"):
        name = (said["letter"] or "").lower()
    elif said.get("shaping"):
        name = (said["shaping"] or "").lower()[:3]
        name += f" {said['number2']}" if said.get("number2") else ""
    elif said.get("setup"):
        name = "set-up"
    elif said.get("many"):
        name = "next"
    elif said.get("worded"):
        name = (said["worded"] or "").lower()
        if _PARTS_NAMED & set(name.split()) or _NOT_NAMES & set(name.split()):
            return None
    if said.get("also") is None and (more := _IN_ASIDE.search(aside)):
        said = {**said, "also": more[0], "which": more["which"]}
    which = (said.get("which") or said.get("only") or ("alt" if said.get("also") else "")).lower()
    if name == "next" and (shaped := _SHAPED_ASIDE.search(aside)):
        name = shaped[1].lower()  # "Next row (RS) (dec):"
    times = _MANY.get((said.get("many") or "1").lower()) or int(said.get("many") or 1)
    return Label(
        _course(word), numbers, _side(aside), name, _which(which, numbers), end, aside, times
    )


_SHAPED_ASIDE = WordForm(r"[(\[](dec|inc)(?:rease)?(?: row| rnd| round)?[)\]]")
_MANY = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8, "ten": 10}


_NOT_NAMES = frozenset(
    [
        "knit",
        "purl",
        "work",
        "repeat",
        "rep",
        "k",
        "p",
        "these",
        "those",
        "this",
        "last",
        "of",
        "from",
        "for",
        "until",
        "over",
        "as",
        "in",
        "with",
        "on",
        "cast",
        "slip",
        "sl",
        "after",
        "before",
        "at",
        "to",
        "and",
        "every",
        "all",
        "begin",
        "beg",
        "next-to",
    ]
)


_PARTS_NAMED = frozenset(  # "Instep: k to end": where stitches lie, no name of a round
    [
        "needle", "needles", "instep", "sole", "heel", "front", "back", "top", "palm", "size", "sizes", "note", "notes",
        "n", "side", "sides", "half", "sts", "stitches", "times", "follows", "foll", "round", "rnd", "row", "rows", "rounds",
        "rnds", "turn", "end", "marker", "them", "him", "her", "first", "second", "third", "fourth", "tension", "gauge",
    ]
)  # fmt: skip
_NOT_IN_NAMES = frozenset(
    [
        "in",
        "the",
        "for",
        "of",
        "to",
        "a",
        "and",
        "every",
        "each",
        "this",
        "all",
        "join",
        "over",
        "on",
        "at",
    ]
)


def _course(word: str) -> str:
    low = word.lower()
    return "R" if low in ("r", "rs", "") else "ROW" if low.startswith("row") else "RND"


def _side(aside: str) -> str:
    low = aside.lower()
    if re.search(r"\brs\b|right[ -]side", low):
        return "(RS)"
    return "(WS)" if re.search(r"\bws\b|wrong[ -]side", low) else ""


def _which(word: str, numbers: tuple[int, ...]) -> str:
    if not word:
        return ""
    if word.startswith(("even", "odd")):
        return word[:4].rstrip("-")
    if word[0] in "wra" or word in ("other", "2nd", "second"):
        first = numbers[0] if numbers else 2
        return "odd" if first % 2 else "even"
    return ""


def row_name(said: str) -> str:
    """Return the one form of a row's name: "decrease" and "decreasing" are "dec".

    Examples
    --------
    >>> row_name("sole decrease"), row_name("increasing"), row_name("ridge")
    ('sole dec', 'inc', 'ridge')
    """
    return _SHAPING.sub(lambda word: word[0][:3], said)


_SHAPING = WordForm(r"\b(?:dec|inc)reas(?:e|es|ed|ing)\b", re.NOFLAG)


LAST_ONE = WordForm(  # "rep rows 2 and 3, ending with row 2"; "…; the last is a row 2"
    r"[,;]? (?:(?:and )?(?:end|finish)(?:ing)? (?:with|after|on)|(?:with )?the last (?:one )?(?:is|being)|the last) (?:an? |the )?(?:round|rnd|row) (?P<last>\d{1,3})(?: again)?$"
)


def letters_in(said: str) -> list[str]:
    """Return the letters of "a and b", and all of "a to d"."""
    letters = re.findall(r"\b[a-h]\b", said)
    if len(letters) == 2 and re.search(r"\bto\b|-", said):
        return [chr(one) for one in range(ord(letters[0]), ord(letters[1]) + 1)]
    return letters


def numbers_in(text: str) -> tuple[int, ...]:
    """Return the row numbers that a text lists: ``1-4``, ``1, 3 and 5``, ``R1 to R16``."""
    found: list[int] = []
    spans = False
    for part in re.findall(r"\d+|-|–|—|to\b|through|thru", text.lower()):
        if not part.isdigit():
            spans = True
            continue
        number = figure(part)
        if spans and found and found[-1] < number <= found[-1] + 2000:
            found.extend(range(found[-1] + 1, number + 1))
        else:
            found.append(number)
        spans = False
    return tuple(found)
