# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The list of abbreviations by itself: one with another's meaning, one that the rows lack in it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences, Spoken, plain_lines
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["abbreviation_list"]

_BEGINS = {  # what their meaning begins with (common practice)
    "k": r"knit", "p": r"purl", "rs": r"right|public", "ws": r"wrong|private", "co": r"cast", "bo": r"bind|cast",
    "sl": r"slip", "yo": r"yarn", "m1": r"make|increase|pick|lift|raise", "pm": r"place|put", "sm": r"slip|move|pass", "rm": r"remove|take",
    "k2tog": r"knit|k ?2|right|dec", "p2tog": r"purl|p ?2|dec", "st": r"stitch", "sts": r"stitches", "rnd": r"round", "rep": r"repeat",
    "mc": r"main", "cc": r"contrast",
}  # fmt: skip
_LIST = WordForm(r"^\W*(?:all |the )?abbr(?:ev(?:iation)?)?s?\b[^:\n]{0,30}:?")
_ENTRY = WordForm(
    r"(?:^|[;,.]\s+|\n\s*)(?P<name>[a-z]\w{0,5})\s*(?:=|:|–|—|-(?=\s))\s*(?P<told>[^;,.\n(]{2,60})",
)
_TURNED = WordForm(  # stitches at a turn, as the rows name them
    r"(?<![\w&])(?P<name>m?ds|w&t|w/t|gsr)(?![\w&])"
)
_SPELT = {"w&t": r"wrap|w&t", "w/t": r"wrap|w/t", "gsr": r"german|gsr", "ds": r"double[- ]st", "mds": r"make (?:a |1 )?(?:double|ds)"}  # fmt: skip
_TOLD = dict.fromkeys(  # what a list that lacks it leaves to the text: how it is done, not that wraps are there
    ("w&t", "w/t"),
    r"\bto wrap\b|\bwrap(?:ping)? (?:it|the|a|and|&|next|foll|one|1)|\bwrap(?:ped)?(?: st(?:itch)?)?\s?[:=(—–]|wrap-and-turn|\bshadow|\bsw\b",  # shadow wraps are worded so, too
)
_OF_TWO = WordForm(  # "RS, WS = …"
    r"(?:^|[;\n])[^;\n=:–—]*(?:, |/ ?|& ?|\band )$|(?:[;,.\n]\s*| / )[a-z][\w&]{0,5}(?:, ?| ?[/&] ?| and )$",
)
_TOG = WordForm(r"\btog\b", re.NOFLAG)
_KNIT, _PURL = (  # "k knit; p purl", without a sign between
    WordForm(rf"(?:^|[;,/\n] ?){name},? {word}(?= ?[;,/.\n])")
    for name, word in (("k", "knit"), ("p", "purl"))
)
_MORE = WordForm(r"^(?:[^;/\n]+[;/\n]){4}|^(?:[^;/\n,]+,){4}")
_FULL = ("k", "p")  # a list that explains even these has to explain the others
ENOUGH = 4  # entries of a list
MANY = 8  # entries; a shorter list leaves k2tog to be known


def abbreviation_list(text: str, sentences: Sentences) -> Iterator[Finding]:
    """Find abbreviations with another one's meaning, and those of the rows that nothing explains."""
    yield from _its_mirror(text, sentences)
    if "bbr" not in text and "BBR" not in text:
        yield from _turned(text, sentences, None)
        return
    lines = [line.text for line in plain_lines(text)]
    at = next((n for n, line in enumerate(lines) if _LIST.match(line)), None)
    if at is None:
        return
    alone = not _LIST.sub("", lines[at]).strip()
    end = next((n for n in range(at + 1 + alone, len(lines)) if not lines[n].strip()), len(lines))
    listed = "\n".join(
        _LIST.sub("", line) if n == 0 else line for n, line in enumerate(lines[at:end])
    )
    listed = listed.lstrip()
    first = at + 1 + alone
    told = {
        match["name"].lower(): match["told"].strip().lower()
        for match in _ENTRY.finditer(listed)
        if _OF_TWO.search(listed[: match.start("name")]) is None
    }
    for name, means in told.items():
        if name in _BEGINS and not re.match(rf"(?:a |the |to )?(?:{_BEGINS[name]})", means):
            said = f"{name} is explained as {means}: is that meant?"
            yield Finding(WARNING, "definition", said, first, 1)
    yield from _turned(text, sentences, first)
    full = len(told) >= ENOUGH and all(name in told for name in _FULL)
    if full or all(form.search(listed) for form in (_KNIT, _PURL, _MORE)):
        yield from _unlisted(text, lines, at, end, sentences, first)


_EXPLAINED = r"(?<![a-z0-9]){}\s?(?:[:=(–—]|- |is\b|means\b|/)"


def _its_mirror(text: str, sentences: Sentences) -> Iterator[Finding]:
    """Find an increase that is explained nowhere, where its mirror image is."""
    small = text.lower()
    if "m1l" not in small or "m1r" not in small:
        return
    for name, other in (("m1l", "m1r"), ("m1r", "m1l")):
        told, other_told = (re.search(_EXPLAINED.format(n), small) for n in (name, other))
        if told is not None or other_told is None or re.search(r"m1[lr]? ?(?:[/&+(\[]|and|or) ?(?:m1)?[lr]\b|m1[lr], m1[lr]\s?(?:[:=(–—]|- |are\b|mean\b)|m1r (?:with|lift|pick|from)|m1l (?:with|lift|pick|from)|(?<![a-z0-9])m1 ?[=:(]", small):  # fmt: skip
            continue
        for one in sentences:
            if name in one.text.lower() and other not in one.text.lower()[: one.start]:
                place = one.place(one.start)
                said = f"{name} is explained nowhere, as {other} is"
                yield Finding(WARNING, "definition", said, place.line, place.column)
                break


def _turned(text: str, sentences: Sentences, listed: int | None) -> Iterator[Finding]:
    """Find a stitch of the turns that is explained nowhere, where another one is."""
    used: dict[str, Spoken] = {}
    for one in sentences.about(_TURNED):
        for match in _TURNED.finditer(one.text, one.start):
            used.setdefault(match["name"].lower(), one)
    small = text.lower() if used else ""
    for name, one in used.items():
        rows = {other.line for other in sentences if name in other.text.lower()}
        others = "\n".join(line for n, line in enumerate(small.split("\n"), 1) if n not in rows)
        spelt = _TOLD.get(name, _SPELT[name]) if listed is not None else _SPELT[name]
        if re.search(rf"(?<![\w&]){re.escape(name)}(?![\w&])|{spelt}", others):
            continue
        if re.search(rf"{spelt}|(?<![\w&]){re.escape(name)}(?![\w&])\s?(?:[=:(]|is|means)", small):
            continue
        alike = any(re.search(rf"(?<![\w&]){kin}\s?(?:[=:(–—-]|is\b|means\b)", small) for kin in ("ds", "mds") if kin != name)  # fmt: skip
        if not alike and listed is None:
            continue
        place = one.place(one.start)
        said = f"{name} is worked in line {place.line} and explained nowhere"
        if alike and listed is None:
            said += ": is the stitch meant that is explained?"
        yield Finding(WARNING, "definition", said, place.line if listed is None else listed, 1)


def _entries(listed: str) -> int:
    """Return how many entries a list has, whatever stands between them."""
    return len(re.findall(r"[;/\n]", listed)) or listed.count(",")


def _unlisted(
    text: str, lines: Sequence[str], at: int, end: int, sentences: Sequence[Spoken], first: int
) -> Iterator[Finding]:
    """Find common stitches that a full list leaves out."""
    listed = "\n".join(lines[at:end]).lower()
    for name, kin in (("yo", "k"), ("k2tog", "p2tog"), ("p2tog", "k2tog"), ("ssp", "ssk")):
        told = re.search(rf"(?<![a-z0-9]){kin}(?![a-z0-9])", listed) is not None
        if not told and not (name.endswith("tog") and _entries(listed) >= MANY):
            continue
        form = re.compile(rf"(?<![a-z0-9]){name}(?![a-z0-9])", re.IGNORECASE)
        if form.search(listed) or (name.endswith("tog") and _TOG.search(listed)):
            continue
        used = [one for one in sentences if one.line > end and form.search(one.text)]
        rows = {one.line for one in used}
        rest = "\n".join(line for n, line in enumerate(lines, 1) if n not in rows)
        if used and not form.search(rest):
            said = f"{name} is worked in line {min(rows)}, and the list of abbreviations does not explain it"
            yield Finding(WARNING, "definition", said, _for_nothing(lines, at, end) or first, 1)


_ONE_A_LINE = WordForm(r"\W*(?P<name>ssk|ssp|skpo?|[kp]2tog|yo|kfb|m1[lr]?)\b")


def _for_nothing(lines: Sequence[str], at: int, end: int) -> int:
    """Return the line of the list whose stitch is worked nowhere; 0 where there is none."""
    for number in range(at + 1, end):
        told = _ONE_A_LINE.match(lines[number])
        others = "\n".join(line for n, line in enumerate(lines) if n != number)
        if told and not re.search(rf"(?<![a-z0-9]){told['name']}(?![a-z0-9])", others, re.I):
            return number + 1
    return 0
