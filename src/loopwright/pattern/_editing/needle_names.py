# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Needles by their names: a size that is not among the materials, a number that no needle has."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import plain_lines
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["FIRST_LOOPS", "needle_names"]

_N = r"\d+(?:\.\d+)?"
FIRST_LOOPS = WordForm(
    r"^\W*(?:(?:step )?\d{1,2}[.):]? )?(?:[a-z]+: )?(?:(?:using|with|in) (?:[^.]|\.(?=\d)){1,60}?,? )?(?:loosely )?(?:cast(?:ing)? (?:on|up)|co|make a slip knot)\b",
)
_MM = WordForm(rf"(?<![\d.])(?P<no>{_N}) ?-?mm\b")
_US = WordForm(rf"\bUS ?(?:size |no\.? ?)?#?(?P<no>{_N})(?!\d|\.\d)", re.NOFLAG)
_SYSTEMS = {"mm": _MM, "US": _US}
_USED = WordForm(
    r"\b(?:chang\w+ (?:back )?(?:in)?to|switch\w* (?:back )?to|(?<!\bI )go(?:ing)? (?:back )?(?:up |down )?to|with|using|use|on to|onto)(?: (?:the |a |a set of |size |your |MC and |CC and |[A-E] and |larger |smaller )+)? ?$",
)
_TO = WordForm(r"^(?:chang|switch)")
_SORT = WordForm(
    r"\b(?P<how>chang\w+|switch\w*|with|using)(?: (?:back|in|to|into|the|a|set|of|your|size|MC|CC|[A-E]|and))* (?P<sort>larger|bigger|smaller) (?:size )?(?:circular |double-pointed )?(?:needles?|dpns?|ndls?)\b",
)
_SORTS = WordForm(r"\b(?:larger|bigger|smaller)\b")
_IF = WordForm(r"\b(?:if|unless|bind|cast) (?:you|your|off|needed|necessary)\b|\btight")


def needle_names(text: str) -> Iterator[Finding]:
    r"""Find needles that are spoken of, and are none of those that the text has.

    Examples
    --------
    >>> text = "Needles: 3.25 mm and 4 mm.\nWith 3.25 mm needles cast on 60 sts.\nChange to 4.5 mm."
    >>> [one.message for one in needle_names(text)]
    ['4.5 mm needles are used here; those listed are of 3.25 and 4 mm']
    """
    every = plain_lines(text)
    named = (_ORDINAL, _SORTS, _NUMBER, _NTH_ALONE, _LABEL, _SEVERAL, _ROLE, _ON)
    lines = {
        number - 1: line.sub(_ORDINAL, _by_number) if "needle" in line.text.lower() else line
        for number, line in every.about(*named, _MM, _US, _SORT, _SET_OF, _OVER, FIRST_LOOPS)
    }
    start = next((n for n, line in lines.items() if FIRST_LOOPS.match(line.text)), 0)
    said = {number: line.text for number, line in lines.items()}
    whole = " ".join(said.get(number, line.text) for number, line in enumerate(every))
    for number, offset, message in (
        *_sizes(said, start),
        *_sorts(said, start),
        *_numbers(said, whole),
        *_roles(said),
        *_too_few(said, whole),
    ):
        at = lines[number].at
        yield Finding(
            WARNING, "needle", message, number + 1, at[min(offset, max(0, len(at) - 1))] + 1
        )


_Found = tuple[int, int, str]
_Lines = Mapping[int, str]  # those that may speak of needles


def _head(lines: _Lines, start: int) -> list[str]:
    return [line for number, line in lines.items() if number < start]


def _behind(lines: _Lines, start: int) -> list[tuple[int, str]]:
    return [(number, line) for number, line in lines.items() if number >= start]


_ORDINALS = {
    "1st": 1,
    "2nd": 2,
    "3rd": 3,
    "4th": 4,
    "first": 1,
    "second": 2,
    "third": 3,
    "fourth": 4,
}
_NTH = rf"(?:{'|'.join(_ORDINALS)})"
_ORDINAL = WordForm(
    rf"(?<!\ba )\b(?P<a>{_NTH})(?:(?P<and>,| and| &) (?P<b>{_NTH}))? needles?\b(?P<end>[:,;] (?=[kp](?![a-z])|knit|purl|rib|work|sl|in patt))?",
)


def _by_number(match: re.Match[str]) -> str:
    """Return "needle 2" for "2nd needle"."""
    first = _ORDINALS[match["a"].lower()]
    second = f"{match['and']} {_ORDINALS[match['b'].lower()]}" if match["b"] else ""
    return f"needle{'s' if second else ''} {first}{second}{': ' if match['end'] else ''}"


def _sizes(lines: _Lines, start: int) -> Iterator[_Found]:
    """Find a size that is changed to, and is none of the materials."""
    for system, form in _SYSTEMS.items():
        listed = {float(m["no"]) for line in _head(lines, start) for m in form.finditer(line)}
        if not listed:
            continue
        here, tool = 0.0, ""
        for number, line in _behind(lines, start):
            for match in form.finditer(line):
                used = _USED.search(line[: match.start()])
                size = float(match["no"])
                if used is None:
                    continue
                if size not in listed:
                    shown = " and ".join(f"{one:g}" for one in sorted(listed))
                    unit = (
                        f"{size:g} mm needles are"
                        if system == "mm"
                        else f"needles of US {size:g} are"
                    )
                    yield (
                        number,
                        match.start(),
                        f"{unit} used here; those listed are of {f'{shown} mm' if system == 'mm' else f'US {shown}'}",
                    )
                elif _TO.match(used[0]) and size == here and not _is_other_tool(line, match, tool):
                    yield (
                        number,
                        match.start(),
                        f"the needles in work are of {match[0]} already: is another size meant?",
                    )
                here, tool = size, _tool(line, match)


_TOOL = WordForm(r"[^.;:]{0,30}?\b(?P<tool>circ|dpn|double|straight|magic|long|short)")
_NO_ROOM = WordForm(  # "when the stitches fit", "as soon as there are enough"
    r"[^.;:]*\b(?:when(?:ever)?|once|as soon as|fit|room|enough|crowded|necessary|needed|possible)\b",
)


def _tool(line: str, size: re.Match[str]) -> str:
    """Return what kind of needles a size is told of: "larger circular needle"; "" for none."""
    found = _TOOL.match(line, size.start())
    return found["tool"].lower().replace("double", "dpn") if found else ""


def _is_other_tool(line: str, size: re.Match[str], before: str) -> bool:
    """Tell whether needles of one size are changed for those of another kind."""
    tool = _tool(line, size)
    other = bool(before) or _NO_ROOM.match(line, size.end()) is not None
    return bool(tool) and tool != before and other


def _sorts(lines: _Lines, start: int) -> Iterator[_Found]:
    """Find a change to the larger needles where they are in work, or where there is one size."""
    sizes = {
        system: {m["no"] for line in _head(lines, start) for m in form.finditer(line)}
        for system, form in _SYSTEMS.items()
    }
    one_only = (
        start > 0
        and any(len(of) == 1 for of in sizes.values())
        and all(len(of) < 2 for of in sizes.values())
    )
    told = any(map(_SORTS.search, _head(lines, start)))
    here = tool = ""
    for number, line in _behind(lines, start):
        for match in _SORT.finditer(line):
            sort = "smaller" if match["sort"].lower() == "smaller" else "larger"
            changes = match["how"].lower()[0] in "cs"
            if _IF.search(line):
                continue
            if changes and sort == here and not _is_other_tool(line, match, tool):
                yield (
                    number,
                    match.start("sort"),
                    f"the {sort} needles are in work already: is the other size meant?",
                )
            elif one_only and changes and not told:
                yield number, match.start("sort"), "the materials list needles of one size only"
            here, tool = sort, _tool(line, match)


_NUMBER = WordForm(
    r"\b(?:needles?|ndls?\.?|N) ?(?P<n>[1-6])(?!\d|[./]\d|\s*(?:mm|circular|dpn|needle))",
)
_NTH_ALONE = WordForm(  # "23 on needle 1, 31 on 2nd and 24 on 3rd"
    r"\bon (?:the )?(?P<n>[1-6])(?:st|nd|rd|th)\b(?! (?!and\b)\w)",
)
_LABEL = WordForm(
    r"\b(?:needles?|ndls?\.?|N) ?(?P<n>[1-6](?: ?(?:,|and|&) ?(?:N ?|needle )?[1-6])*) ?:",
)
_SEVERAL = WordForm(
    r"\b(?:needles?|ndls?\.?|N) ?(?P<list>[1-6](?: ?(?:,|and|&|-|–|to) ?(?:N ?|needle )?[1-6])+)\b",
)
_FOUR = WordForm(
    r"\bfive\b|\bset of 5\b|\b5 (?:[\w.-]+ ){0,3}(?:needles|dpns)|\b(?:on|over|onto|between|among|all) (?:the )?(?:4|four) (?:needles|dpns)",
)
_MOVED = WordForm(  # a stitch that goes from one to the next
    r"\bst(?:s|itch|itches)? (?:of|from|on) (?:the )?(?:needle \d|\w+ needle)\b[^.;:]* (?:on ?)?to (?:[a-z]+ )*(?:needle \d|\w+ needle)\b"
)
OFTEN = 2  # mentions of each of the other needles, before a lone one is asked about


def _numbers(lines: _Lines, whole: str) -> Iterator[_Found]:
    """Find a needle that is named twice in a round, and one that is named nowhere else."""
    yield from _twice(lines)
    named: Counter[int] = Counter()
    for line in lines.values():
        if _MOVED.search(line):
            continue
        several = list(_SEVERAL.finditer(line))
        for match in several:
            named.update(
                {int(n) for n in re.findall(r"\d", match["list"])} | _between(match["list"])
            )
        named.update(
            int(m["n"]) for m in _NUMBER.finditer(line) if not any(s.start() <= m.start() < s.end() for s in several)
        )  # fmt: skip
        if _NUMBER.search(line):
            named.update(int(m["n"]) for m in _NTH_ALONE.finditer(line))
    top = max(named, default=0)
    if top < 3 or named[top] > 1 or not all(named[n] for n in range(1, max(top - 1, 3))):
        return
    if named[top - 1] == 1 or sum(named.values()) <= 2 * OFTEN:
        return
    if top > 3 and _FOUR.search(whole):
        return
    for number, line in lines.items():
        for match in _NUMBER.finditer(line):
            if int(match["n"]) == top:
                others = max(n for n in named if n < top)
                yield (
                    number,
                    match.start(),
                    f"needle {top} is named here alone; the others are 1 to {others}",
                )


def _between(listed: str) -> set[int]:
    """Return the needles of a range, "2-4"; nothing for a list."""
    ends = re.fullmatch(r"(\d) ?(?:-|–|to) ?(\d)", listed)
    return set(range(int(ends[1]), int(ends[2]) + 1)) if ends else set()


_ROUND = WordForm(
    r"\b(?:rounds?|rnds?|rows?|r) ?\d+\b[^:]{0,20}:|\b(?:next|set-?up|inc|dec)[a-z]* (?:round|rnd|row)\b|\brep(?:eat)? (?!from)",
)


_PICKS_UP = WordForm(r"\bpick(?:ing)? up\b")


def _twice(lines: _Lines) -> Iterator[_Found]:
    """Find needles of one round that are told out of order, or the same one twice."""
    for number, line in lines.items():
        if _PICKS_UP.search(line):
            continue  # a needle is told before and behind what it picks up
        for labels in _rounds(line):
            told: set[int] = set()
            for match in labels:
                these = {int(n) for n in re.findall(r"\d", match["n"])}
                if again := told & these:
                    yield (number, match.start(), f"needle {min(again)} is told twice: is one of the two another needle's part?")  # fmt: skip
                    break
                told |= these
    rounds = [
        (number, labels, frozenset(n for m in labels for n in re.findall(r"\d", m["n"])))
        for number, line in lines.items()
        for labels in _rounds(line)
        if len(labels) > 1
    ]
    sets = Counter(names for _, _, names in rounds)
    for number, labels, names in rounds:
        usual, often = sets.most_common(1)[0]
        odd = names - usual
        gap = next(
            (
                n
                for n in frozenset().union(*sets) - names
                if {str(int(n) - 1), str(int(n) + 1)} <= names
            ),
            "",
        )
        if gap and sets[names] == 1 and not _named_otherwise(lines[number], gap):
            yield number, labels[-1].start(), f"needle {gap} is left out of this round"
            continue
        if often >= OFTEN and sets[names] == 1 and len(odd) == 1 and len(names) == len(usual):
            match = next(m for m in labels if min(odd) in m["n"])
            (left_out,) = usual - names
            said = f"needle {min(odd)} here, where the other rounds have needle {left_out}"
            yield number, match.start(), said
    yield from _down_the_page(lines)


_IN_WORDS = ("first", "second", "third", "fourth", "fifth")


def _named_otherwise(line: str, needle: str) -> bool:
    """Tell whether a line speaks of a needle in the midst of a sentence: "knit the second needle", "the instep"."""
    if needle in "23" and re.search(r"\binstep\b", line, re.IGNORECASE):
        return True
    nth = _IN_WORDS[int(needle) - 1] if 0 < int(needle) <= len(_IN_WORDS) else ""
    return bool(nth) and re.search(rf"\b(?:{nth} needle|needle {needle})\b", line, re.I) is not None


def _down_the_page(lines: _Lines) -> Iterator[_Found]:
    """Find needles that are told line by line, and not one after the other."""
    before = 0
    for number, line in lines.items():
        before = before if number - 1 in lines else 0
        match = _LABEL.match(line)
        if match is None or len(_LABEL.findall(line)) > 1:
            before = 0
            continue
        first, *_, last = 2 * re.findall(r"\d", match["n"])
        if (
            "-" not in match["n"]
            and int(last) - int(first) > len(re.findall(r"\d", match["n"])) - 1
        ):
            before = 0  # "first and third needle: …", and the others on the next line
            continue
        if before and int(first) != before + 1 and int(first) != 1:
            yield (
                number,
                0,
                f"needle {first} is told behind needle {before}: is {before + 1} meant?",
            )
        elif before and int(first) == 1 and before == 1:
            yield number, 0, "needle 1 is told twice: is one of the two another needle's part?"
        before = int(last)


def _rounds(line: str) -> list[list[re.Match[str]]]:
    """Return the needles of each round that a line tells."""
    parts: list[list[re.Match[str]]] = []
    end = 0
    for match in _LABEL.finditer(line):
        if not parts or _ROUND.search(line[end : match.start()]):
            parts.append([])
        parts[-1].append(match)
        end = match.end()
    return parts


_ROLE = WordForm(
    r"\b(?:needle|N) ?(?P<n>[12])(?: is| holds| =|,| for|:)? ?[(]?(?:the |has )*(?P<role>instep|sole|heel|top|upper)\b(?! st\w* (?:from|to))",
)
_ON = WordForm(
    r"\bheel\b[^.]{0,40}\b(?:worked|turned?|made)\b[^.]{0,60}?\b(?:needle|N) ?(?P<a>[12])\b|\b(?P<part>sole|instep|heel) (?:sts|stitches) (?:of|on) (?:needle|N) ?(?P<b>[12])\b|\b(?:back and forth|to and fro|in rows)\b[^.]{0,50}\b(?:needle|N) ?(?P<c>[12])\b",
)
_UPPER = ("instep", "top", "upper")


def _roles(lines: _Lines) -> Iterator[_Found]:
    """Find a heel on the needle of the instep, and two parts of the foot on one needle."""
    needles: dict[bool, int] = {}
    for number, line in lines.items():
        for match in _ROLE.finditer(line):
            upper, needle = match["role"].lower() in _UPPER, int(match["n"])
            if needles.get(not upper) == needle and upper not in needles:
                part = "sole" if upper else "instep"
                yield (
                    number,
                    match.start(),
                    f"needle {needle} is the one of the {part}, as was said before",
                )
                return
            needles.setdefault(upper, needle)
    if len(needles) < 2:
        return
    for number, line in lines.items():
        for match in _ON.finditer(line):
            needle = int(match["a"] or match["b"] or match["c"])
            upper = (match["part"] or "heel").lower() in _UPPER
            if needle != needles[upper]:
                part = "instep" if not upper else "sole"
                yield (
                    number,
                    match.start(),
                    f"needle {needle} holds the {part}: is needle {needles[upper]} meant?",
                )


_SET_OF = WordForm(
    r"\bset of (?:(?P<n>four|five|4|5)(?! ?mm)(?! ?\.\d)|(?P<m>[a-z]+))|\b(?:dpns|needles),? (?:set of ?(?P<k>[45])\b|\( ?(?P<l>[45])(?= needles| dpns|[),;]|$))",
)
_OVER = WordForm(
    r"\b(?:divid\w*|distribut\w*|arrang\w*|spread|put|over|on|onto|between|among)\b[^.;]{0,40}?\b(?:over|on|onto|between|among|each of) (?:the )?(?P<n>four|4|five|5) (?:double-pointed )?(?:needles|dpns)\b",
)
_WORDS = {"four": 4, "five": 5}


def _too_few(lines: _Lines, whole: str) -> Iterator[_Found]:
    """Find stitches on as many needles as there are: one more is needed to knit with."""
    sets = [m for line in lines.values() for m in _SET_OF.finditer(line)]
    numbers = [m["n"] or m["k"] or m["l"] for m in sets if m["n"] or m["k"] or m["l"]]
    if len(sets) != 1 or len(numbers) != 1 or "spare" in whole.lower():
        return
    there = _WORDS.get(numbers[0].lower()) or int(numbers[0])
    for number, line in lines.items():
        for match in _NUMBER.finditer(line):
            if int(match["n"]) >= there:
                said = f"the set has {there} needles: {there - 1} of them hold the work, and none is needle {match['n']}"
                yield number, match.start(), said
                return
        for match in _OVER.finditer(line):
            if (_WORDS.get(match["n"].lower()) or int(match["n"])) >= there:
                yield (
                    number,
                    match.start(),
                    f"the set has {there} needles: one of them is needed to knit with",
                )
                return
