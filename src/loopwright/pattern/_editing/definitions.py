# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What a text says of its abbreviations, against what the trade means by them (common practice)."""

from __future__ import annotations

import re
from collections.abc import Iterator

from loopwright.fabric.stitches import STITCHES
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import plain_lines
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["definitions"]

LEANS = {
    "k2tog": "right", "ssk": "left", "skp": "left", "skpo": "left", "p2tog": "right", "ssp": "left",
    "m1l": "left", "m1r": "right", "k2tog tbl": "left", "lli": "left", "rli": "right",
}  # fmt: skip
_OTHER_NAMES = {"skpo": "skp", "sk2po": "sk2p", "s2kp": "cdd", "s2kpo": "cdd"}


def _taken(*names: str) -> dict[str, int]:
    """Return how many stitches each takes, as the stitch table has it."""
    return {name: STITCHES[_OTHER_NAMES.get(name, name)].takes for name in names}


TAKES = _taken("s2kp", "s2kpo", "sk2p", "sk2po", "cdd", "skp", "skpo")
TOGETHER = _taken("k2tog", "p2tog", "k3tog", "p3tog", "ssk", "ssp", "sssk")
_NAMES = "|".join(sorted(map(re.escape, {*LEANS, *TOGETHER, *TAKES}), key=len, reverse=True))
_DEFINED = WordForm(
    rf"(?:^|[;,.(]\s*|\s)(?P<name>{_NAMES})\s*(?:=|:|,|–|—|-(?=\s))\s*(?P<said>[^;=\n]+)",
)
_NAMED = WordForm(rf"\s*(?:{_NAMES})\s*")  # "k2tog, k3tog = …"
_NEXT = WordForm(rf"[,.] (?:{_NAMES})\s*(?:=|:)")
_LEANS = WordForm(
    r"\blean(?:s|ing)?(?: to)?(?: the)? (?P<way>left|right)\b|\b(?P<way2>left|right)[- ](?:leaning|slanting)\b|"
    r"\bslants?(?: to)?(?: the)? (?P<way3>left|right)\b",
)
_MANY = WordForm(
    r"\b(?:knit|purl|k|p)(?: the)? ?(?:next )?(?P<n>\d|two|three|four)(?: (?:sts?|stitches))? ?tog(?:ether)?\b",
)
_OVER = WordForm(  # "slip 2 together, knit 1, pass slipped sts over"
    r"\(?(?:sl|slip)\b[^.;]*?(?P<a>1|one|2|two|next)\b[^.;]*?\b(?:k|knit) ?(?:the )?(?:next )?(?P<b>1|one|2|two|st)\b(?P<tog>[^.;,]*?tog)?[^.;]*\b(?:psso|pass|over)\b",
)
_VERB = WordForm(
    r"(?P<how>knit|purl|k|p)(?: the)? ?(?:next )?(?:\d|two|three)(?: (?:sts?|stitches))? ?tog"
)
_STITCH = WordForm(r"[kp]\dtog\b")
_EITHER = WordForm(r"\b(?:knit|k) or (?:purl|p)\b")
_FROM_TO = WordForm(r"\bfrom (?:the )?(?P<a>front|back) to (?:the )?(?P<b>front|back)\b")
_WORDS = {"two": 2, "three": 3, "four": 4}


def definitions(text: str) -> Iterator[Finding]:
    """Find abbreviations that are explained as something else than they mean.

    Examples
    --------
    >>> [one.message for one in definitions("ssk: slip, slip, knit both together (leans right)")]
    ['ssk leans left, not right']
    """
    for number, line in plain_lines(text).about(_DEFINED, _CABLE):
        for match in _DEFINED.finditer(line.text):
            told = match["said"] + _leaning(line.text[match.end() :])
            if (after := _NEXT.search(told)) is not None:
                told = told[: after.start()]
            other = _OTHER_NAME.search(line.text, 0, match.start("name"))
            ways = _two_ways(told)
            if other is not None and other["name"].lower() in LEANS and ways is not None:
                # "m1l / m1r: … leaning left / right"
                said = _wrong_of_two((other["name"].lower(), match["name"].lower()), ways)
            else:
                said = _wrong(match["name"].lower(), told)
            if said:
                column = line.at[match.start("name")] + 1
                yield Finding(WARNING, "definition", said, number, column)
        for cable in _CABLE.finditer(line.text):
            if said := _crossed(cable):
                column = line.at[cable.start()] + 1
                yield Finding(WARNING, "definition", said, number, column)


_STILL = WordForm(r"; ?(?:it |this )?(?:leans|leaning|slants)[^;\n=:]{0,30}(?=[;.\n]|$)")


def _leaning(behind: str) -> str:
    """Return which way a stitch is said to lean behind a semicolon."""
    more = _STILL.match(behind)
    return more[0] if more is not None else ""


_CABLE = WordForm(
    r"(?<![a-z0-9])(?P<name>\d/\d ?(?P<way>[lr])p?c|[ct]\d+(?P<side>[fb]))\b(?P<told>[^;\n]{0,40}?\b(?:hold(?:ing)?|leave|held|to|at)\b"
    r"[^.;\n]{0,24}?\b(?:in |at |to )?(?:the )?(?P<where>front|back)\b[^.;\n]{0,70})",
)
_HELD = WordForm(r"\b(?:sl|slip|place|put) (?:the )?(?:next |first )?(?P<n>\d)\b")
_KNIT = WordForm(r"\b(?:k|knit|p|purl) ?(?:the )?(?:next )?(?P<n>\d)\b")


def _crossed(cable: re.Match[str]) -> str:
    """Compare a cable's name with where its stitches are held, and with how many there are."""
    front = (cable["way"] or cable["side"]).lower() in ("l", "f")
    where = cable["where"].lower()
    if front != (where == "front"):
        meant = "front" if front else "back"
        return f"{cable['name']} is told with the stitches held in {where}: a cable of this name holds them in {meant}"
    held = _HELD.search(cable["told"])
    knit = [int(match["n"]) for match in _KNIT.finditer(cable["told"])]
    if cable["side"] and held is not None and len(knit) == 2:
        total, first = int(re.sub(r"\D", "", cable["name"])), int(held["n"])
        if first != knit[1] or first + knit[0] != total:
            return f"a cable of {total} sts: {first} held, {knit[0]} worked, then {knit[1]} from the cable needle"
    return ""


_OTHER_NAME = re.compile(r"(?<![\w-])(?P<name>\w+) ?(?:/|&|,|\band\b|\bor\b) ?$", re.IGNORECASE)
_TWO_WAYS = WordForm(
    r"\b(?P<one>left|right)\b[ -]*(?:/|&|,|and\b|or\b|\()[ -]*(?:to the )?(?P<two>left|right)\b",
)


_WAY = WordForm(r"\b(?P<way>left|right)\b(?![- ]?(?:hand|needle|tip|leg|loop|side|edge|lift))")


def _two_ways(told: str) -> tuple[str, str] | None:
    """Return the two ways that two stitches are said to lean: "leans left / leans right"."""
    ways = [match["way"].lower() for match in _WAY.finditer(told)]
    if len(ways) != 2 or not (_LEANS.search(told) or _TWO_WAYS.search(told)):
        return None
    return ways[0], ways[1]


def _wrong_of_two(names: tuple[str, str], ways: tuple[str, str]) -> str:
    """Compare which way two stitches lean that are explained together, in the same order."""
    for name, way in zip(names, ways, strict=True):
        if LEANS.get(name, way) != way:
            return f"{name} leans {LEANS[name]}, not {way}"
    return ""


def _wrong(name: str, told: str) -> str:
    """Say what is wrong with the words that explain a name; "" where nothing is."""
    leans = _LEANS.search(told)
    if leans is not None and name in LEANS and _TWO_WAYS.search(told) is None:
        way = (leans["way"] or leans["way2"] or leans["way3"]).lower()
        if way != LEANS[name]:
            return f"{name} leans {LEANS[name]}, not {way}"
    many = _MANY.match(told) if not _NAMED.fullmatch(told) else None
    if many is not None and name in TOGETHER:
        number = _WORDS.get(many["n"].lower()) or int(many["n"])
        if number != TOGETHER[name]:
            return f"{name} takes {TOGETHER[name]} sts together, not {number}"
    over = _OVER.match(told.lstrip())
    if over is not None and name in TAKES:
        takes = sum(2 if over[part].lower() in ("2", "two") else 1 for part in "ab")
        if takes != TAKES[name]:
            return f"{name} makes one st of {TAKES[name]}; as it is explained here it takes {takes}"
    verb = _VERB.match(told)
    if (
        verb is not None
        and not _EITHER.search(told)
        and not _STITCH.match(told)  # "k2tog, p2tog": the next stitch of a row
        and name in ("k2tog", "k3tog", "p2tog", "p3tog")
        and verb["how"][0].lower() != name[0]
    ):
        return f"{name} is {'knit' if name[0] == 'k' else 'purled'}, and explained as the other"
    way_in = _FROM_TO.search(told)
    if way_in is not None and name in ("m1l", "m1r") and way_in["a"].lower() != way_in["b"].lower():
        usual = "front" if name == "m1l" else "back"
        if way_in["a"].lower() != usual:
            return f"{name} lifts the strand from {usual} to {'back' if usual == 'front' else 'front'}: which is meant?"
    return ""
