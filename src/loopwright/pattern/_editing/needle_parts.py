# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches told needle by needle on one line, in whatever sentences, against the whole told with them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import product

from loopwright.pattern._editing.figures import alike, is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["PART_OF_NEEDLE", "held_together", "needle_parts"]

_Values = tuple[int, ...]
_ORDINAL = r"(?:\d(?:st|nd|rd|th)|first|second|third|fourth)"
_WORDS = {"first": "1", "second": "2", "third": "3", "fourth": "4"}
_NAMES = (
    rf"(?:(?:n|ndl\.?|needles?|dpn) ?#?\d\b(?: ?(?:(?:,|and|&) ?(?:n|needles? )|and |& ?)\d\b(?! ?(?:\(|on\b|sts)))*|{_ORDINAL}(?:(?:, | and | & )(?:the )?{_ORDINAL})*(?: and last)? needles?"
    rf"|{_ORDINAL}(?=[,.;:)]| and \d))"
)
PART_OF_NEEDLE = WordForm(
    rf"(?<![\d.])(?P<n>{COUNT}) (?:{STS} )?(?P<each>each )?(?:on|onto|to|for|in) (?P<each2>each of )?(?:the )?(?P<names>{_NAMES})|"
    rf"(?P<names2>(?:n|ndl\.?|needles?) ?#?\d\b(?: ?(?:and|&) ?(?:n|needle )?\d\b)*)[:,]? (?:now )?(?:(?:has|have|holds?|with|shares?|carry|carries|takes?)(?: the)? )?(?P<each3>each )?(?P<m>{COUNT})(?! ?(?:rounds|rows|times|\.\d))(?P<each4>(?: {STS})? each)?(?= ?(?:[,;.)]|and\b|(?:[a-z-]+ ){{0,2}}{STS}))",
)
_COUNTED = WordForm(
    rf"(?<![\d.])(?P<n>{COUNT}) (?:live )?{STS}(?! (?:on|onto|to|for|in|each))|\b(?:cast(?:ing)? (?:on|up)|co|total)\b:? ?(?P<m>{COUNT})|(?P<o>{COUNT}) (?:in all|altogether|total)|\b(?:you|we) (?:now )?(?:have|are left with|get) (?P<p>{COUNT})(?=[.;,]|$)",
)
_LISTED = WordForm(
    rf"(?P<parts>{COUNT}(?:, {COUNT})+(?:,? and {COUNT})?) (?:=|makes?|are) (?P<total>{COUNT}) {STS}|"
    rf"(?P<total2>{COUNT}) {STS}(?: in all)? ?[;:=(—–-]+ ?(?P<parts2>{COUNT}(?:, {COUNT})+,? and {COUNT})(?=\W|$)(?! ?(?:{STS}|rows|rounds|times))",
)
_BARE = WordForm(  # "82 sts. (25, 32, 25)"
    rf"(?<![\d.,(\[] )(?<![\d.])(?P<total>\d+) {STS}(?: in all| altogether| on the needles?)?[.:;,]? ?(?:[(\[—–-]|:) ?(?P<parts>\d+(?P<by>, | ?[-–+] ?)\d+(?:(?P=by)\d+){{1,2}})(?:[)\]]|(?=[.;,]|$))(?! ?(?:{STS}|rows|rounds|times|cm|in))",
    re.NOFLAG,
)
_PLACE = r"(?:on |for |at |in )?(?:the )?(?:instep|sole|heel|top|front|back|palm|upper)"
_PLACED = WordForm(
    rf"(?P<total>{COUNT}) {STS}(?: in all)? ?[:=(—–-]+ ?(?P<parts>{COUNT} (?:{STS} )?{_PLACE}(?:(?:, and |, | and ){COUNT} (?:{STS} )?{_PLACE})+)(?=[.;)]|$)",
)
_SPREAD = WordForm(
    r"\b(?:over|on|onto|between|among|across) (?:the )?(?P<many>[2-5]) (?:double-pointed )?(?:needles|dpns|ndls)\b"
)
_EACH = WordForm(
    rf"(?<!\d, )(?<!\d)(?P<n>{COUNT}) (?:{STS} )?(?:on|to|for) each(?: (?:needle|one|tip|side|half))?(?P<off>\W*$|[,.;) ])",
)
_OF_SO_MANY = WordForm(
    rf" (?:{STS} )?(?:on|to|for) each of (?:the |your )?[2-5] (?:[a-z-]+ )?(?:needles|dpns|ndls)\b"
)
_OF_THE_OTHERS = WordForm(rf" (?:{STS} )?(?:on|to|for) each of (?:the |your )?(?:other|rest|rem)")
_ON_FIRST = WordForm(rf"(?P<n>{COUNT}) (?:{STS} )?on (?:the |your )?(?:first|1st|one)\b")
SLIGHT = 8  # stitches by which a sum may miss, and be meant for it all the same
TWO = 2
FEWEST = 4  # stitches on a needle


def needle_parts(sentences: Sentences) -> Iterator[Finding]:
    """Find needles that do not hold together what there is."""
    forms = (PART_OF_NEEDLE, _LISTED, _PLACED, _BARE, _EACH)
    for at in sentences.lines_about(*forms):
        parts = sentences.lines[at]
        text = " ".join(one.figures for one in parts)
        counts = _counts(text)
        if _CORNERS.search(text):
            continue  # those picked up there lie on no needle that is named
        said = _named(text, counts, sentences.lines[:at]) or _listed(text) or _spread(text, counts)
        if said:
            message, words = said
            one = next((one for one in parts if words in one.figures), parts[0])
            place = one.place_in_figures(max(0, one.figures.find(words)))
            yield Finding(WARNING, "sum", message, place.line, place.column)


_CORNERS = WordForm(r"\bcorner (?:sts?|stitch(?:es)?)\b")


@lru_cache(maxsize=8192)
def _counts(text: str) -> tuple[_Values, ...]:
    return tuple(values(next(filter(None, m.groups()))) for m in _COUNTED.finditer(text))


@lru_cache(maxsize=8192)
def held_together(text: str) -> tuple[_Values, ...]:
    """Return what the needles hold together that a line names, each of them once, in each way it can be meant.

    Examples
    --------
    >>> held_together("25 sts on the 1st needle, 30 on the 2nd and 25 on the 3rd.")
    ((80,),)
    """
    held: list[tuple[_Values, int, bool]] = []
    needles: list[int] = []
    found = [*PART_OF_NEEDLE.finditer(text)]
    for match in found:
        names = (match["names"] or match["names2"]).lower()
        for word, digit in _WORDS.items():
            names = names.replace(word, digit)
        numbers = [int(n) for n in re.findall(r"\d", names)]
        each = bool(match["each"] or match["each2"] or match["each3"] or match["each4"])
        held.append((values(match["n"] or match["m"]), len(numbers), each))
        needles += numbers
    if len(needles) < TWO or sorted(needles) != [*range(1, len(needles) + 1)]:
        return ()
    sizes = max(len(many) for many, _, _ in held)
    if any(len(many) not in (1, sizes) for many, _, _ in held):
        return ()
    ways = [(1,) if many == 1 else (many,) if each else (1, many) for _, many, each in held]
    return tuple(
        tuple(
            sum(
                (many * sizes if len(many) == 1 else many)[n] * often
                for (many, _, _), often in zip(held, way, strict=True)
            )
            for n in range(sizes)
        )
        for way in product(*ways)
    )


def _named(
    text: str, counts: Sequence[_Values], before: Sequence[Sequence[Spoken]]
) -> tuple[str, str] | None:
    """Add up needles that are named with their stitches, each of them once."""
    made = held_together(text)
    if not made:
        return None
    earlier = (_counts(" ".join(one.figures for one in line)) for line in reversed(before))
    whole = [*counts, *next(filter(None, earlier), ())[-2:]]
    if any(alike(one, many)[0] == alike(one, many)[1] for one in made for many in whole):
        return None
    for many in whole:
        for one in made:
            if len(one) == len(many) and is_near(one, many, SLIGHT):
                first = PART_OF_NEEDLE.search(text)
                return (
                    f"the needles hold {by_size(one)} sts together, not {by_size(many)}",
                    first[0] if first else "",
                )
    return None


@lru_cache(maxsize=8192)
def _listed(text: str) -> tuple[str, str] | None:
    """Add up "9, 18, 9 = 36 sts"."""
    for match in (*_LISTED.finditer(text), *_PLACED.finditer(text)):
        whole = match.groupdict()
        total = values(whole["total"] or whole["total2"])
        parts = [
            values(one[0], len(total))
            for one in re.finditer(COUNT, whole["parts"] or whole["parts2"])
        ]
        if any(len(part) != len(total) for part in parts):
            continue
        made = tuple(map(sum, zip(*parts, strict=True)))
        if made != total and total not in parts and is_near(made, total, SLIGHT):
            return f"the parts are {by_size(made)} sts together, not {by_size(total)}", match[0]
    bare = _BARE.search(text)
    if bare is None:
        return None
    total, held = (int(bare["total"]),), [int(n) for n in re.findall(r"\d+", bare["parts"])]
    in_all = (sum(held),)
    if min(held) < FEWEST or abs(held[0] - held[-1]) > TWO or in_all == total:
        return None
    if not is_near(in_all, total, SLIGHT):
        return None
    return f"the parts are {in_all[0]} sts together, not {total[0]}", bare["parts"]


def _and_the_others(
    text: str, each: re.Match[str], needles: int, counts: Sequence[_Values]
) -> tuple[str, str] | None:
    """Compare "on 3 needles, 20 on the first, 22 on each of the others" with the whole."""
    first = _ON_FIRST.search(text[: each.start()])
    if first is None or not counts:
        return None
    one, other, whole = alike(values(first["n"]), values(each["n"]), counts[0])
    made = tuple(a + (needles - 1) * b for a, b in zip(one, other, strict=True))
    if not made or made == whole or not is_near(made, whole, 4 * SLIGHT):
        return None
    said = f"{by_size(one)} and {needles - 1} times {by_size(other)} sts are {by_size(made)}, not {by_size(whole)}"
    return said, each[0]


def _spread(text: str, counts: Sequence[_Values]) -> tuple[str, str] | None:
    """Compare so many on each of some needles with the whole."""
    each = _EACH.search(text)
    if each is not None and _OF_SO_MANY.match(text, each.end("n")):
        return None  # "8 on each of 2 dpns", whatever is told behind it
    spread = _SPREAD.search(text)
    if each is not None and _OF_THE_OTHERS.match(text, each.end("n")):
        return None if spread is None else _and_the_others(text, each, int(spread["many"]), counts)
    if (
        each is None
        or not counts
        or re.search(rf"\band {COUNT} (?:{STS} )?on\b", text[each.end() :], re.IGNORECASE)
    ):
        return None
    many = values(each["n"])
    if spread is not None:
        made = tuple(int(spread["many"]) * n for n in many)
        if (
            counts[0] != made
            and alike(counts[0], made)[0] != alike(counts[0], made)[1]
            and is_near(made, counts[0], 4 * SLIGHT)
        ):
            return (
                f"{by_size(many)} sts on each of {spread['many']} needles are {by_size(made)}, not {by_size(counts[0])}",
                each[0],
            )
        return None
    told = re.match(
        rf"[,;:]? ?(?P<n>{COUNT}) {STS} (?:altogether|in all|in total|total)",
        text[each.start("off") :],
        re.IGNORECASE,
    )
    if told is None:
        return None
    total, part = alike(values(told["n"]), many)
    ratios = {t / p for t, p in zip(total, part, strict=True) if p}
    if len(ratios) == 1 and ratios.pop() in (2, 3, 4):
        return None
    made = tuple(TWO * n for n in part)
    if is_near(made, total, SLIGHT):
        return f"{by_size(part)} sts on each are {by_size(made)}, not {by_size(total)}", each[0]
    return None
