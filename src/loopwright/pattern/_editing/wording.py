"""A pattern's words and head: what a review looks at besides the counts."""

from __future__ import annotations

import re
from collections.abc import Iterator

from loopwright.fabric.stitches import STITCHES
from loopwright.pattern._cables import called_in, crossing_defined
from loopwright.pattern._contents import items_of
from loopwright.pattern._editing.findings import NOTE, WARNING, Finding
from loopwright.pattern._editing.spoken import plain_lines
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import ALIASES, crossing_named, lower, spelt
from loopwright.pattern.items import Run, WrapTurn
from loopwright.pattern.program import Pattern

__all__ = ["abbreviations", "conversions", "head", "settled", "terms"]

_ALWAYS_KNOWN = frozenset(("st", "sts", "rnd", "rnds", "rep", "k", "p", "CO", "BO"))
_SPELT = {
    "rnd": r"\brnds?\b", "RS": r"\bRS\b", "WS": r"\bWS\b", "rep": r"\brep\b", "st": r"\bsts?\b",
    "pwise": r"\bpwise\b", "kwise": r"\bkwise\b", "wyib": r"\bwyib\b", "wyif": r"\bwyif\b",
    "tbl": r"\btbl\b", "pm": r"\b(?:pm|PM)\b", "sm": r"\b(?:sm|SM)\b",
    "CO": r"\bCO\b", "BO": r"\bBO\b",
}  # fmt: skip


_SEVERAL = re.compile(r",\s*")  # "RS, WS = right and wrong side"


def _used(pattern: Pattern, text: str) -> set[str]:
    """Return the abbreviations that a pattern uses: stitches, and short words of its text."""
    used: set[str] = set()
    for item in items_of(pattern.steps):
        if isinstance(item, Run):
            used.add({"slf": "sl", "slk": "sl", "slkf": "sl"}.get(item.stitch, item.stitch))
            used.update(("tbl",) if item.stitch in ("ktbl", "ptbl") else ())
        elif isinstance(item, WrapTurn):
            used.add("w&t")
    body = "\n".join(line for line in text.split("\n") if not _is_list(line))
    if text and not re.search(r"\bsl", body, re.IGNORECASE):
        used.discard("sl")  # those on the right-hand needle already
    return used | {short for short, spelt in _SPELT.items() if re.search(spelt, body)}


def _is_list(line: str) -> bool:
    return lower(line.strip()).startswith("abbreviations")


def abbreviations(pattern: Pattern, text: str) -> Iterator[Finding]:
    """Compare the list of abbreviations with what is used; without a list there is a note."""
    line = next((n for n, one in enumerate(text.split("\n"), 1) if _is_list(one)), 1)
    used = _used(pattern, text)
    if not pattern.abbreviations:
        if text and used - _ALWAYS_KNOWN:
            listed = ", ".join(map(spelt, sorted(used - _ALWAYS_KNOWN)))
            yield Finding(
                NOTE, "abbreviations", f"there is no list of abbreviations: {listed}", 1, 1
            )
        return
    defined = {_key(one) for short, _ in pattern.abbreviations for one in _SEVERAL.split(short)}
    defined |= {
        called
        for pair in pattern.abbreviations
        if (row := crossing_defined(*pair)) and (called := called_in(STITCHES, row))
    }
    missing = {short for short in used if _key(short) not in defined | {"ktbl", "ptbl"}}
    if missing:
        listed = ", ".join(map(spelt, sorted(missing)))
        yield Finding(NOTE, "abbreviations", f"used and not explained: {listed}", line, 1)
    told = {_key(word) for word in re.findall(r"[A-Za-z&0-9]+", _without_list(text))}
    told |= {
        _key(word) for word in re.findall(r"\d+(?:/\d+)+ ?[LRlr][Pp]?[Cc]", _without_list(text))
    }
    told |= {short for short in defined if " " in short and short in lower(_without_list(text))}
    together = " ".join(_key(short) for short in used)  # "tog" is used in "k2tog"
    unused = {short for short in defined - told if short not in together}
    if unused:
        listed = ", ".join(sorted(unused))
        yield Finding(NOTE, "abbreviations", f"explained and never used: {listed}", line, 1)


_SETTLED = {"sl": re.compile(r"purl|pwise"), "m1": re.compile(r"\bback\b")}


def settled(pattern: Pattern, remark: str) -> bool:
    """Tell whether the list of abbreviations says what a remark on a word has to assume."""
    word = lower(remark.split(" ", 1)[0])
    told = (long for short, long in pattern.abbreviations if lower(short).rstrip(".") == word)
    return word in _SETTLED and any(_SETTLED[word].search(lower(long)) for long in told)


def _key(short: str) -> str:
    word = lower(short).rstrip(".").replace("(s)", "")
    word = crossing_named(word) or word
    return word[:-1] if word in ("sts", "rnds") else ALIASES.get(word, word)


def _without_list(text: str) -> str:
    return "\n".join(line for line in text.split("\n") if not _is_list(line))


_TERMS = (("bind off", "cast off"), ("bind-off", "cast-off"), ("gauge:", "tension:"))


def terms(text: str) -> Iterator[Finding]:
    """Find American and British terms side by side."""
    low = lower(text)
    american = [us for us, _ in _TERMS if us in low]
    british = [uk for _, uk in _TERMS if uk in low]
    if american and british:
        at = max(low.index(american[0]), low.index(british[0]))
        line = low.count("\n", 0, at) + 1
        column = at - (low.rfind("\n", 0, at) + 1) + 1
        message = f"American and British terms are mixed: {american[0]} and {british[0]}"
        yield Finding(NOTE, "words", message, line, column)


_TWO_UNITS = WordForm(
    r"(?P<a>\d+(?:\.\d+)?)\s*(?P<au>cm|in|inches|mm|\")\s*[(/]\s*(?P<b>\d+(?:\.\d+)?)\s*"
    r"(?P<bu>(?:cm|inches|in|mm)\b|\")",
    re.NOFLAG,
)
_MM = {"cm": 10.0, "mm": 1.0, "in": 25.4, "inches": 25.4, '"': 25.4}
NOMINAL = 0.02  # by which the two lengths of a circular needle differ as they are sold


def conversions(text: str) -> Iterator[Finding]:
    """Find a length given in two units that differ by more than rounding to a quarter inch."""
    for number, line in enumerate(plain_lines(text), start=1):
        for match in _TWO_UNITS.finditer(lower(line.text)):
            if match["au"] == match["bu"]:
                continue  # sizes: 7"/8"
            first = float(match["a"]) * _MM[match["au"]]
            second = float(match["b"]) * _MM[match["bu"]]
            if _MM[match["au"]] == _MM[match["bu"]]:
                continue  # two sizes
            if abs(first - second) > max(25.4 / 4 + 0.01 * first, NOMINAL * first):
                message = (
                    f"{match['a']} {match['au']} are {first / _MM[match['bu']]:.1f} {match['bu']}"
                )
                found = f"{message}, not {match['b']}"
                yield Finding(WARNING, "conversion", found, number, line.at[match.start()] + 1)


_GAUGE = re.compile(r"^[ \t]*(?P<word>gauge|tension)\b[^\n]*\d", re.IGNORECASE | re.MULTILINE)


def head(pattern: Pattern, text: str) -> Iterator[Finding]:
    """Note what a head should state."""
    said = None if pattern.gauge else _GAUGE.search(text)
    if said:
        message = "this gauge is not understood; expected stitches and rows, or rounds, to a length"
        line = text.count("\n", 0, said.start("word")) + 1
        yield Finding(NOTE, "head", message, line, 1)
    missing = [
        name
        for name, value in (("gauge", pattern.gauge), ("materials", pattern.materials))
        if not value and not (said and name == "gauge")
    ]
    if missing and pattern.title:
        yield Finding(NOTE, "head", f"the head does not state {' and '.join(missing)}", 1, 1)
