# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Numbers that are told size by size with their names: "S: 80, M: 88 sts", "20 rounds for Small, 24 for Large"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["LED_BY_SIZES", "with_sizes_by_name"]

_NAME = r"(?:(?-i:XXS|XS|S|M|L|XL|XXL|[2-5]XL)|newborn|baby|babies|infant|toddler|preemie|child(?:ren)?|kids?|junior|teen(?:ager)?|youth|adult|wom[ae]n|m[ae]n|lad(?:y|ies)|small(?:est)?|medium|large(?:st)?|extra[- ]large)(?!\w)"
_SIZE = rf"(?:(?:the |for |size )*(?P<name{{0}}>{_NAME})(?: size)?)"
_NUMBER = r"(?:[kp] ?)?\d{1,3}(?:\.\d{1,2})?(?: (?:sts|stitches|rounds|rnds|rows|times|cm|in))?"
_GROUP = r"[(\[][^()\[\]:]{2,80}[)\]]"
_SENTENCE = r"[^.:\n]{2,160}?"
_JOINT = r"(?: ?[,;/] ?(?:and |or )?| (?:and|or) | ?/ ?)"
LED_BY_SIZES = rf"^(?:for )?(?:the )?(?:sizes? [^.:;*\d]{{1,40}}|(?:(?:1st|2nd|3rd|[45]th)(?:, | and | & )?)+ sizes?|(?:{_NAME})(?:(?:, ?(?:and )?| and | ?[&/] ?)(?:{_NAME}))*)(?: sizes?)?(?: only)?: "  # "Sizes M and L: "
_MOST = 6  # sizes
_FORMS = tuple(  # what one size has; what stands between two
    (re.compile(one, re.IGNORECASE), re.compile(joint, re.IGNORECASE))
    for one, joint in (
        (rf"(?<!\w){_SIZE.format('')}: ?(?P<said>{_GROUP}|{_NUMBER})(?![\w)]|\.\d)", _JOINT),
        (rf"(?<!\w)(?P<said>{_NUMBER}) ?(?:\((?:for )?(?P<name>{_NAME})\)|for {_SIZE.format('2')}(?![\w:]))", _JOINT),
        (rf"(?:^|(?<=[.] ))(?:for )?(?P<name>{_NAME}): (?P<said>{_SENTENCE})(?=\. |\.?$)", r"\. "),
    )
)  # fmt: skip
_CHEAP = WordForm(
    r"(?<!\w)(?-i:XXS|XS|S|M|L|XL|XXL|[2-5]XL|(?:[Bb]ab|[Cc]hild|[Aa]dult|[Ss]mall|[Mm]edium|[Ll]arge|[Tt]een|[Tt]oddler|[Ww]om[ae]n|[Ll]ad)\w*)(?: size)?(?:: ?[\w(\[]|\)|[,.; ])",
    re.NOFLAG,
)
_HEAD = WordForm(r"\bsizes?\b")
_NAMED = WordForm(_NAME)
_FIGURE = re.compile(r"\d+(?:\.\d+)?")
_List = tuple[int, int, tuple[str, ...], tuple[str, ...]]  # where it stands, names, what each has


def with_sizes_by_name(lines: list[MappedText]) -> list[MappedText]:
    """Return lines with "S: 80, M: 88, L: 96 sts" as "80 (88, 96) sts", where all sizes are told so.

    Examples
    --------
    >>> lines = [MappedText.of("Cast on S: 80, M: 88 sts."), MappedText.of("Rib 9 rounds for S, 11 rounds for M.")]
    >>> [one.text for one in with_sizes_by_name(lines)]
    ['Cast on 80 (88) sts.', 'Rib 9 (11) rounds.']
    """
    found = {
        number: lists
        for number, one in enumerate(lines)
        if len(one.text) < 1000 and _CHEAP.search(one.text) and (lists := _lists(one.text))
    }
    if not found:
        return lines
    names = max((tuple(names) for lists in found.values() for _, _, names, _ in lists), key=len)
    others = (
        len({name.lower() for name in _NAMED.findall(one.text)})
        for one in lines
        if len(one.text) < 200 and _HEAD.search(one.text)
    )
    if len(set(names)) != len(names) or any(many > len(names) for many in others):
        return lines
    after = list(lines)
    for number, lists in found.items():
        for start, end, told, values in reversed(lists):
            if told == names and (words := _merged(values)) is not None:
                after[number] = _put(after[number], start, end, words)
    return after


def _lists(text: str) -> list[_List]:
    """Return the lists of a line in which sizes are told one after another."""
    found: list[_List] = []
    taken = 0
    for form, joint in _FORMS:
        at = 0
        while (first := form.search(text, at)) is not None:
            parts = [first]
            while len(parts) < _MOST and (between := joint.match(text, parts[-1].end())):
                following = form.match(text, between.end())
                if following is None:
                    break
                parts.append(following)
            at = parts[-1].end()
            start = first.start()
            apart = all(end <= start or begin >= at for begin, end, _, _ in found)
            if len(parts) > 1 and apart:
                names = tuple(
                    (part["name"] or part.groupdict().get("name2") or "").lower() for part in parts
                )
                found.append((start, at, names, tuple(part["said"] for part in parts)))
                taken += 1
            if taken > 20:
                return sorted(found)
    return sorted(found)


def _merged(values: Sequence[str]) -> str | None:
    """Return one text for what all sizes have: "(k8, k2tog)", "(k9, k2tog)" as "(k8 (9), k2tog)"."""
    frames = [[part.strip() for part in _FIGURE.split(one.strip().lower())] for one in values]
    first = frames[0]
    if len({len(frame) for frame in frames}) != 1 or not _FIGURE.search(values[0]):
        return None
    if any(frame != first for frame in frames):
        # "20 rounds for Small, 24 for Large": the unit once
        if len(first) != 2 or any(frame[0] for frame in frames):
            return None
        units = {frame[1] for frame in frames} - {""}
        if len(units) != 1:
            return None
        numbers = [_FIGURE.findall(one)[0] for one in values]
        return f"{numbers[0]} ({', '.join(numbers[1:])}) {units.pop()}"
    columns = zip(*(_FIGURE.findall(one) for one in values), strict=True)
    said = [
        numbers[0] if len(set(numbers)) == 1 else f"{numbers[0]} ({', '.join(numbers[1:])})"
        for numbers in columns
    ]
    turns = iter(said)
    return _FIGURE.sub(lambda _: next(turns), values[0].strip())


_COUNT_ALONE = WordForm(r"\d+ \([\d, ]+\)$", re.NOFLAG)
_STATES = WordForm(r"(?:[.;=:–—-] |\()$", re.NOFLAG)


def _put(said: MappedText, start: int, end: int, words: str) -> MappedText:
    before, behind = said.text[:start], said.text[end : end + 1]
    if _COUNT_ALONE.match(words) and _STATES.search(before) and behind in ("", ".", ")", ";"):
        words += " sts"
    return said.put(start, end, words)
