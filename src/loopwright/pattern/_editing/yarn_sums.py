# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Amounts of yarn that a line prints against each other: parts and their total, balls and their metres."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern._editing.figures import alike, sizes_in_brackets
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import plain_lines
from loopwright.pattern._reading.stated import number_of, numbers_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT

__all__ = ["yarn_sums"]

_AMOUNT = WordForm(rf"(?P<n>{COUNT})[ -]?(?P<unit>yards?|yds?|metres?|meters?|m|grams?|g)\b\.?")
_IN_ALL = WordForm(r"[^.;:,(\d]{0,45}\b(?:in all|in total|altogether|total)\b")
_TOTAL_OF = WordForm(r"\btotal(?: of)?:? (?:about )?$")
_PER = WordForm(
    r"\)?,?\s*(?:each\b|(?:per|a|in a|in each|to (?:the|a|each)) (?:ball|skein|hank|\d+ ?-?g)|(?:balls?|skeins?|hanks?)\b)",
)
_BALLS = WordForm(
    rf"\b(?P<n>{COUNT}|a|an|one|two|three|four|five|six|seven|eight)(?: ?[x×])?(?: \d+ ?-?(?:g|m|yards?|yds?)\b)?(?: [a-z-]+){{0,2}} (?P<word>balls?|skeins?|hanks?)\b",
)
_USED = WordForm(
    r"\b(?:took|takes?|us(?:ed|es|ing)|weighs|needs?|needed|you will need)\b[^.;:]{0,24}$"
)
SLACK = 0.03  # by which printed amounts are rounded
PLENTY = 0.12  # by which grams and metres of one yarn may differ


@attrs.frozen
class _Amount:
    """An amount of yarn: its numbers by size, its unit, and what the words around it make of it."""

    values: tuple[float, ...]
    unit: str
    start: int
    kind: str  # "total", "each", "used", "" for others


def yarn_sums(text: str) -> Iterator[Finding]:
    """Find amounts of yarn that contradict each other in one line.

    Examples
    --------
    >>> [one.message for one in yarn_sums("Yarn: 100 g in total: 65 g navy, 25 g red, 25 g white")]
    ['65, 25 and 25 g are 115 g, not 100']
    >>> [one.message for one in yarn_sums("One skein of 230 yards; the sample took 390 yards.")]
    ['1 ball of 230 yd has 230 yd: too little for the 390 that are spoken of']
    """
    by_sign = sizes_in_brackets(text)
    for number, line in plain_lines(text).about(_AMOUNT):
        line = line if by_sign is None else line.sub(*by_sign)
        amounts = _amounts(line.text)
        if not amounts:
            continue
        said = (
            _parts(amounts)
            or _of_balls(line.text, amounts)
            or _in_ratio(amounts)
            or _alike_by_size(amounts)
            or _of_pair(line.text)
        )
        if said:
            message, offset = said
            yield Finding(WARNING, "yarn", message, number, line.at[offset] + 1)


_Said = tuple[str, int] | None


def _amounts(line: str) -> list[_Amount]:
    found = list[_Amount]()
    for match in _AMOUNT.finditer(line):
        word = match["unit"].lower()
        unit = "yd" if word.startswith("y") else "g" if word.startswith("g") else "m"
        before, after = line[: match.start()], line[match.end() :]
        kind = ""
        alone = all(one.kind != "total" for one in found)
        if _IN_ALL.match(after) or (alone and _TOTAL_OF.search(before)):
            kind = "total"
        elif _PER.match(after) or _EACH_BEFORE.search(before) or _same_ball(found, line, match) or re.search(r"\b(?:balls?|skeins?|hanks?) of (?:about )?$", before, re.I):  # fmt: skip
            kind = "each"
        elif _USED.search(before):
            kind = "used"
        found.append(_Amount(numbers_in(match["n"]), unit, match.start(), kind))
    return found


_EACH_BEFORE = WordForm(r"\beach (?:of )?(?:about )?$")
_OR = re.compile(r"\s*[/,=(]\s*(?:about )?")


def _same_ball(found: Sequence[_Amount], line: str, match: re.Match[str]) -> bool:
    """Tell whether an amount is that of a ball in another unit: "each 50 g / 120 m"."""
    if not found or found[-1].kind != "each":
        return False
    last = _AMOUNT.match(line, found[-1].start)
    return last is not None and _OR.fullmatch(line, last.end(), match.start()) is not None


def _parts(amounts: Sequence[_Amount]) -> _Said:
    """Compare a total with two parts or more of its unit, all in one line."""
    total = next((one for one in amounts if one.kind == "total"), None)
    if total is None:
        return None
    parts = [one for one in amounts if one.unit == total.unit and one is not total]
    if len(parts) < 2 or any(one.kind or len(one.values) != len(total.values) for one in parts):
        return None
    for values in zip(total.values, *(one.values for one in parts), strict=True):
        whole, *rest = values
        if abs(sum(rest) - whole) > SLACK * whole:
            listed = f"{', '.join(f'{n:g}' for n in rest[:-1])} and {rest[-1]:g}"
            return (
                f"{listed} {total.unit} are {sum(rest):g} {total.unit}, not {whole:g}",
                total.start,
            )
    return None


def _of_balls(line: str, amounts: Sequence[_Amount]) -> _Said:
    """Compare balls and what each has with what they are said to have, and with what is used."""
    found = list(_BALLS.finditer(line))
    if len(found) != 1 or re.search(
        r"\beach colou?r|\bor\b.{0,20}\b(?:balls?|skeins?)", line, re.I
    ):
        return None
    word = found[0]["n"]
    balls = numbers_in(word) if word[0].isdigit() else (float(number_of(word)),)
    for unit in ("m", "yd", "g"):
        of_unit = [one for one in amounts if one.unit == unit]
        each = [one for one in of_unit if one.kind == "each" and len(one.values) == 1]
        told = [one for one in of_unit if one.kind != "each"]
        if not each and balls == (1.0,) and len(of_unit) > 1 and not of_unit[0].kind:
            each, told = of_unit[:1], of_unit[1:]
        if len(each) != 1 or len(told) != 1 or not all(balls):
            continue
        (one,) = told
        for many, said in zip(*alike(balls, one.values), strict=True):
            has = many * each[0].values[0]
            what = f"{many:g} ball{'s' if many != 1 else ''} of {each[0].values[0]:g} {unit}"
            what += f" {'have' if many != 1 else 'has'} {has:g} {unit}"
            if one.kind == "total" and abs(has - said) > SLACK * has:
                return f"{what}, not {said:g}", one.start
            if (
                one.kind != "total"
                and (unit != "g" or one.kind == "used")
                and has < said * (1 - SLACK)
            ):
                return f"{what}: too little for the {said:g} that are spoken of", one.start
    return None


def _in_ratio(amounts: Sequence[_Amount]) -> _Said:
    """Compare grams and metres of a ball with the grams and metres that were used."""
    of_ball = next((n for n, one in enumerate(amounts) if one.kind == "each"), None)
    if of_ball is not None and len(amounts) == 4 and of_ball in (0, 1, 2):
        rest = [n for n in range(4) if n not in (of_ball, of_ball + 1)]
        amounts = [amounts[n] for n in (of_ball, of_ball + 1, *rest)]
    for long in ("m", "yd"):
        pairs = [
            (a, b) if a.unit == "g" else (b, a)
            for a, b in zip(amounts[::2], amounts[1::2], strict=False)
            if {a.unit, b.unit} == {"g", long}
        ]
        if len(pairs) != 2 or any(len(one.values) != 1 for pair in pairs for one in pair):
            continue
        (ball_g, ball), (used_g, used) = pairs
        if not ball_g.values[0] or not used_g.values[0]:
            continue
        meant = ball.values[0] * used_g.values[0] / ball_g.values[0]
        if abs(used.values[0] - meant) > PLENTY * meant:
            return (
                f"{ball.values[0]:g} {long} to {ball_g.values[0]:g} g make {meant:.0f} {long} to "
                f"{used_g.values[0]:g} g, not {used.values[0]:g}"
            ), used.start
    return None


def _alike_by_size(amounts: Sequence[_Amount]) -> _Said:
    """Compare grams and metres by size: in each size one yarn has as many metres to the gram."""
    grams = [one for one in amounts if one.unit == "g" and len(one.values) > 2]
    lengths = [one for one in amounts if one.unit != "g" and len(one.values) > 2]
    if len(grams) != 1 or len(lengths) != 1 or len(grams[0].values) != len(lengths[0].values):
        return None
    if not all(grams[0].values):
        return None
    ratios = [m / g for g, m in zip(grams[0].values, lengths[0].values, strict=True)]
    middle = sorted(ratios)[len(ratios) // 2]
    off = [abs(one / middle - 1) > PLENTY for one in ratios]
    if sum(off) != 1:
        return None
    at = off.index(True)
    unit = lengths[0].unit
    return (
        f"{lengths[0].values[at]:g} {unit} to {grams[0].values[at]:g} g: the other sizes have about {middle * 100:.0f} {unit} to 100 g",
        lengths[0].start,
    )


_UNIT = r"(?P<{}>yards?|yds?|metres?|meters?|m|grams?|g)\b\.?"
_PAIR = WordForm(
    rf"(?P<n>{COUNT}) ?{_UNIT.format('unit')} (?:is needed |are needed )?(?:for|makes?|per) (?:the|a|one) pair\b",
)
_ONE = WordForm(
    rf"\b(?:each|one|every|a) (?:sock|mitten|mitt|bootee|bootie|glove|slipper|stocking|one) (?:takes?|needs?|uses?|weighs) (?:about |around |up to )?(?P<n>{COUNT}) ?{_UNIT.format('unit')}",
)


def _of_pair(line: str) -> _Said:
    """Compare what a pair takes with what each of the two does."""
    pair, one = _PAIR.search(line), _ONE.search(line)
    if pair is None or one is None or pair["unit"][0].lower() != one["unit"][0].lower():
        return None
    for whole, each in zip(*alike(numbers_in(pair["n"]), numbers_in(one["n"])), strict=True):
        if 2 * each > whole * (1 + SLACK):
            return f"two of {each:g} {one['unit']} take {2 * each:g}: more than the {whole:g} for the pair", pair.start("n")  # fmt: skip
    return None
