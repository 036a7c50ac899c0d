# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Slips put into right texts by program, kind by kind, and how many of them a review notices.

Run this file with folders of texts to see the shares; an editor's list of what goes wrong in print
gave the kinds (needs of pattern editors, common practice). Each slip contradicts something else that
the text says: a number that stands nowhere else can be changed by nobody's leave.
"""

from __future__ import annotations

import argparse
import random
import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import attrs

from loopwright.pattern import review
from pattern.ordinary import Text, noticed_in, texts

_N = r"\d+(?:\.\d+)?"
_LIST = r"(?:\s?[(\[][^()\[\]A-Za-z]*[)\]])?"
_STS = r"(?:sts?|stitches)"
_SECTION = re.compile(
    r"^(?:\W*)(?:finishing|materials|yarn|notes?|abbreviations?|gauge|tension|needles?|sizes?|to fit|notions|measure)",
    re.I,
)
_ROW = re.compile(
    r"^\W*(?:\d+(?:st|nd|rd|th) )?(?:next |set-?up |inc\w* |dec\w* |plain |foundation |eyelet )?(?:row|rnd|round|r)s?\b[^:.]{0,40}[:.]",
    re.I,
)


@attrs.frozen
class Slip:
    """One changed line."""

    line: int
    text: str


def _nudged(match: re.Match[str], rng: random.Random) -> str:
    """Change one number of a list by one or two."""
    numbers = list(re.finditer(r"\d+", match["n"]))
    one = rng.choice(numbers)
    value = int(one[0]) + rng.choice((-2, -1, 1, 2))
    if value < 1:
        value = int(one[0]) + 2
    start, end = one.span()
    said = match["n"][:start] + str(value) + match["n"][end:]
    return match[0].replace(match["n"], said, 1)


def _numbers(form: str, flags: int = re.I) -> Callable[[str, random.Random], Iterator[str]]:
    pattern = re.compile(form, flags)

    def change(line: str, rng: random.Random) -> Iterator[str]:
        for match in pattern.finditer(line):
            yield line[: match.start()] + _nudged(match, rng) + line[match.end() :]

    return change


def _swap_words(
    pairs: dict[str, str], *, all_of: bool, where: str = ""
) -> Callable[[str, random.Random], Iterator[str]]:
    form = re.compile(r"(?<![\w])(" + "|".join(map(re.escape, pairs)) + r")(?![\w])", re.I)

    def change(line: str, rng: random.Random) -> Iterator[str]:
        if where and not re.search(where, line, re.I):
            return
        found = list(form.finditer(line))
        if all_of:
            if len({m[0].lower() for m in found}) > 1:
                yield form.sub(lambda m: _like(m[0], pairs[m[0].lower()]), line)
            return
        for m in found:
            yield line[: m.start()] + _like(m[0], pairs[m[0].lower()]) + line[m.end() :]

    return change


def _like(word: str, other: str) -> str:
    return other.capitalize() if word[0].isupper() and word[1:].islower() else other


def _rows(
    change: Callable[[str, random.Random], Iterator[str]],
) -> Callable[[str, random.Random], Iterator[str]]:
    def only(line: str, rng: random.Random) -> Iterator[str]:
        if _ROW.match(line):
            yield from change(line, rng)

    return only


def _dropped(line: str, rng: random.Random) -> Iterator[str]:
    """Leave out one item of a row."""
    for m in re.finditer(
        r", (?:yo|k2tog|ssk|skp|skpo|m1[lr]?|kfb|p2tog|yfwd|sk2p|cdd)(?=[,.;)])", line, re.I
    ):
        yield line[: m.start()] + line[m.end() :]


def _entry_lost(line: str, rng: random.Random) -> Iterator[str]:
    for m in re.finditer(r"[(\[](\d[\d.]*(?:[,:;] ?\d[\d.]*)+)[)\]]", line):
        parts = re.split(r"(?=[,:;])", m[1])
        del parts[rng.randrange(1, len(parts))]
        yield line[: m.start(1)] + "".join(parts) + line[m.end(1) :]


def _entries_swapped(line: str, rng: random.Random) -> Iterator[str]:
    for m in re.finditer(rf"({_N})( ?[(\[])({_N})((?:[,:;] ?{_N})*)([)\]])", line):
        rest = re.findall(_N, m[4])
        values = [m[1], m[3], *rest]
        at = rng.randrange(len(values) - 1)
        if values[at] == values[at + 1]:
            continue
        values[at], values[at + 1] = values[at + 1], values[at]
        new = iter(values)
        said = re.sub(_N, lambda _, new=new: next(new), m[0])  # type: ignore[misc]
        yield line[: m.start()] + said + line[m.end() :]


def _transposed(line: str, rng: random.Random) -> Iterator[str]:
    """Swap the two digits of a count."""
    for m in re.finditer(rf"(?<![\d.])(\d)(\d)(?={_LIST} {_STS}\b)", line):
        if m[1] != m[2] and m[2] != "0":
            yield line[: m.start()] + m[2] + m[1] + line[m.end() :]


def _removed(form: str, put: str = "") -> Callable[[str, random.Random], Iterator[str]]:
    pattern = re.compile(form, re.I)

    def change(line: str, rng: random.Random) -> Iterator[str]:
        for m in pattern.finditer(line):
            yield line[: m.start()] + put + line[m.end() :]

    return change


def _scaled(form: str, by: float) -> Callable[[str, random.Random], Iterator[str]]:
    pattern = re.compile(form, re.I)

    def change(line: str, rng: random.Random) -> Iterator[str]:
        m = pattern.search(line)
        if m is not None:
            value = float(m["n"]) * by
            said = f"{round(value):g}" if "." not in m["n"] else f"{round(value * 2) / 2:g}"
            if said != m["n"]:
                yield line[: m.start("n")] + said + line[m.end("n") :]

    return change


def _replaced(*pairs: tuple[str, str]) -> Callable[[str, random.Random], Iterator[str]]:
    def change(line: str, rng: random.Random) -> Iterator[str]:
        for form, put in pairs:
            for m in re.finditer(form, line, re.I):
                yield line[: m.start()] + m.expand(put) + line[m.end() :]

    return change


def _deleted(line: str, rng: random.Random) -> Iterator[str]:
    if re.match(r"^\W*(?:(?:row|rnd|round)s? \d|\d+(?:st|nd|rd|th) (?:row|round|rnd))", line, re.I):
        yield ""


UNITS = (r"\d ?cm\b", r"\d ?(?:in|inches|\")(?![a-z])")
_LEANS = {"ssk": "k2tog", "k2tog": "ssk", "skpo": "k2tog", "skp": "k2tog"}
_TWO = {"ssk": "k2tog", "k2tog": "ssk"}
_THREE = {"skpo": "k2tog", "k2tog": "skpo"}
_FOUR = {"skp": "k2tog", "k2tog": "skp"}


def _both_leans(line: str, rng: random.Random) -> Iterator[str]:
    for pairs in (_TWO, _THREE, _FOUR):
        if all(re.search(rf"\b{word}\b", line, re.I) for word in pairs):
            yield from _swap_words(pairs, all_of=True)(line, rng)


def _one_lean(line: str, rng: random.Random) -> Iterator[str]:
    if any(
        all(re.search(rf"\b{word}\b", line, re.I) for word in pairs)
        for pairs in (_TWO, _THREE, _FOUR)
    ):
        yield from _swap_words(_LEANS, all_of=False)(line, rng)


KINDS: dict[str, tuple[str, Callable[[str, random.Random], Iterator[str]]]] = {
    # name: (where: body, head or any; the change)
    "count stated": ("body", _numbers(rf"(?<![\d.])(?P<n>\d+{_LIST})(?= {_STS}(?:[.)\]]| rem\w*| left| on the needles?| in all)*\W*$)")),
    "cast on": ("body", _numbers(rf"\b(?:cast on|co) (?P<n>\d+{_LIST})(?= {_STS}\b)")),
    "stitches of a row": ("body", _rows(_numbers(r"(?<![\w.])[kp](?P<n>\d+)(?=[,;.)])"))),
    "times": ("body", _numbers(r"(?<![\d.])(?P<n>\d+)(?= (?:more )?times)")),
    "one lean": ("body", _rows(_one_lean)),
    "both leans": ("body", _rows(_both_leans)),
    "item dropped": ("body", _rows(_dropped)),
    "knit for purl": ("body", _rows(_replaced((r"(?<=[*,] )p(?=\d)", "k"), (r"(?<=, )k(?=\d+[;,.])", "p")))),
    "side": ("body", _replaced((r"\(RS\)", "(WS)"), (r"\(WS\)", "(RS)"))),
    "entry lost": ("any", _entry_lost),
    "entries swapped": ("any", _entries_swapped),
    "row left out": ("body", _deleted),
    "row misnumbered": ("body", _numbers(r"^\W*(?:row|rnd|round) (?P<n>\d+)(?=[ :(])")),
    "row referred to": ("body", _numbers(r"(?:as|rep|repeat|work) (?:row|rnd|round)s? (?P<n>\d+)\b")),
    "until": ("body", _numbers(rf"until (?:there are )?(?P<n>\d+{_LIST})(?= {_STS}\b)")),
    "to last": ("body", _numbers(rf"to (?:the )?last (?P<n>\d+)(?= {_STS}\b)")),
    "digits transposed": ("body", _transposed),
    "picked up": ("body", _numbers(rf"(?:pick up(?: and (?:k|knit))?) (?P<n>\d+{_LIST})(?= {_STS}\b)")),
    "held or freed": ("body", _numbers(rf"(?:the|first|next|last|other|remaining|held|these) (?P<n>\d+{_LIST})(?= (?:held |live |rem\w* )?{_STS}\b)")),
    "rows in all": ("body", _numbers(r"[(.=] ?(?P<n>\d+)(?= (?:rows|rounds|rnds)\b)")),
    "marker not placed": ("body", _removed(r",? (?:place marker|place a marker|pm)(?=[,.;])")),
    "marker not slipped": ("body", _removed(r",? (?:sm|slip marker|slip the marker|slm)(?=[,.;])")),
    "turn left out": ("body", _removed(r", turn(?=[.;,]|$)")),
    "star left out": ("body", _removed(r"(?<=[ :.])\*(?=[a-z0-9(\[])")),
    "gauge": ("head", _scaled(rf"(?P<n>{_N})(?= (?:{_STS})\b.{{0,40}}(?:=|to|per|over) )", 1.25)),
    "girth": ("head", _scaled(rf"(?:around|circumference|round)\D{{0,30}}(?P<n>{_N})(?= ?(?:cm|in|\"|\())", 1.3)),
    "unit": ("any", _replaced((r"(?<=\d )cm\b", "in"), (r"(?<=\d )(?:in|inches)\b", "cm"), (r"(?<=\d)\"", " cm"))),
    "yarn": ("head", _scaled(rf"(?P<n>{_N})(?={_LIST} ?(?:m|yds?|yards|metres|meters)\b)", 0.3)),
    "mm of a needle": ("head", _scaled(rf"(?P<n>{_N})(?= ?mm\b)", 1.4)),
    "leaning defined": ("all", _replaced((r"leans? right", "leans left"), (r"leans? (?:to the )?left", "leans right"))),
}  # fmt: skip


def body_from(text: str) -> int:
    """Return the number of the line that casts on first."""
    for number, line in enumerate(text.split("\n"), 1):
        if re.search(
            r"\b(?:cast(?:ing)? (?:on|up)|co)\b.*\d", line, re.I
        ) and not line.lower().startswith(("notes", "abbrev")):
            return number
    return 1


def slips(one: Text, kind: str, rng: random.Random) -> list[Slip]:
    where, change = KINDS[kind]
    if kind == "unit" and len({m for m in UNITS if re.search(m, one.text, re.I)}) > 1:
        return []
    start = body_from(one.text)
    found = []
    for number, line in enumerate(one.text.split("\n"), 1):
        if (where == "body" and number < start) or (where == "head" and number >= start):
            continue
        if (
            where not in ("head", "all")
            and kind != "leaning defined"
            and number < start
            and not re.match(r"^(?:size|foot|to fit|finished|circ)", line, re.I)
        ):
            continue
        found += [Slip(number, said) for said in change(line, rng) if said != line]
    return found


@attrs.define
class Share:
    tried: int = 0
    noticed: int = 0
    placed: int = 0


def measured(
    folders: list[Path], *, kinds: list[str], each: int, seed: int, shown: str
) -> dict[str, Share]:
    shares = {kind: Share() for kind in kinds}
    for folder in folders:
        for one in texts(folder):
            rng = random.Random(f"{seed} {one.name}")
            right = {(f.line, f.kind, f.message) for f in review(one.text).findings}
            for kind in kinds:
                found = slips(one, kind, rng)
                for slip in rng.sample(found, min(each, len(found))):
                    news = noticed_in(one.changed(slip.line, slip.text), right)
                    share = shares[kind]
                    share.tried += 1
                    share.noticed += bool(news)
                    share.placed += any(f.line == slip.line for f in news)
                    if shown in (kind, "all") and not news:
                        print(
                            f"{one.name} {slip.line} [{kind}]\n   - {one.text.split(chr(10))[slip.line - 1]}\n   + {slip.text}"
                        )
    return shares


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("folders", nargs="+", type=Path)
    parser.add_argument("--kind", action="append")
    parser.add_argument("--each", type=int, default=1)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--missed", action="store_true")
    told = parser.parse_args()
    chosen = told.kind or list(KINDS)
    shares = measured(
        told.folders,
        kinds=chosen,
        each=told.each,
        seed=told.seed,
        shown="all" if told.missed else "",
    )
    for kind, share in sorted(
        shares.items(), key=lambda pair: pair[1].noticed / max(1, pair[1].tried)
    ):
        print(f"{share.noticed:4} of {share.tried:4}, {share.placed:4} placed  {kind}")
    print(sum(s.noticed for s in shares.values()), "of", sum(s.tried for s in shares.values()))
    sys.exit(0)
