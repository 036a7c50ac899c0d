# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Lines that say in numbers all that is worked, picked up and cast on, and how many stitches that makes.

Only where each part of a line is understood, repeats written out, and nothing is left open ("to end"),
its sum is compared with the count behind it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from functools import partial

from loopwright.pattern._editing.figures import alike, is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["worked_lines"]

_Values = tuple[int, ...]
_TOTAL = WordForm(
    rf"(?:^|[.:;,=([—–-])\s*(?:(?:you (?:now )?have|you should have|there are|there should be|(?:that|which|this) (?:is|makes)|mak(?:es|ing)|giving|total(?: of)?|count|check)[:=]? ?(?:now )?)?(?P<n>{COUNT}) ?{STS}(?: (?:in all|now|altogether|in total|total|in the round|on (?:the |your )?needles?))*(?P<more>[,;:] [^.]*)?[)\].]*\s*$"
)
_CASES = WordForm(
    r"(?P<often>\[(?P<a>[^\[\]]+)\]|\((?P<b>(?:[^()]|\([\d, :]+\))+)\)),? ?(?P<n>twice|\d+ times)(?! more)|"
    r"\*(?P<c>[^*;]+?)[;,.]? ?(?:rep(?:eat)?|do (?:that|this|it)|work) ?(?:(?:from|between) \*(?: to \*)?)?,? ?(?P<m>once(?: more| again)?|twice more|\d+ times more|\d+ more times|twice(?: in all)|\d+ times in all|\d+ times altogether)",
)
_CLAUSE = re.compile(
    r"\s*[.;:]\s*|(?<![(\[\d])\s*,\s*|(?<=\d)\s*,(?!\s*\d)\s*|(?<=[)\]])\s*,\s*|(?<! up)\s+and (?:then )?(?=(?:k|knit|p|purl|pick|cast|work|with|pm|place)\b)|\s+then\s+",
    re.IGNORECASE,
)
_WORKED = WordForm(
    rf"(?:(?:(?:and|then|now|again|also|next|next (?:round|rnd|row)|(?:with|on|onto|using) [a-z0-9 -]{{1,30}}?) )*)"
    rf"(?P<verb>pick(?:ing)? up(?: (?:and|&) (?:k|knit)(?:ting)?)?|pu(?: ?(?:and|&) ?k)?|tak(?:e|ing) up|k|knit(?:ting)?|p|purl(?:ing)?|work|patt(?:ern)?|rib|cast(?:ing)? on|co|raise|lift) ?"
    rf"(?:(?:across|over|along|on|the|these|those|those|her|all|other|first|next|last|rem|remaining) )*(?P<n>{COUNT})(?!\d| ?(?:tog|rows|rounds|rnds|times|cm|in\b|\"))(?: (?:more|extra|new|lower|upper|held|live|heel|instep|sole|thumb|gusset|palm|back|front|waiting|resting))*(?: {STS}| loops?)?(?P<rest>[^\d]*)$",
)
_SHAPED = WordForm(
    r"(?:(?P<less>k ?2 ?tog|ssk|skpo?|p ?2 ?tog|ssp)|(?P<more>m ?1[lrp]?|yo)|(?P<same>sl(?:ip)? ?1(?: [a-z]+wise)?)|(?P<over>p\.?s\.?s\.?o\.?|pass [a-z ]*over))$",
)
_BARE = WordForm(rf"(?:and |then )*(?P<n>{COUNT})(?: {STS})?(?: more)? (?P<rest>(?:in|at|on|along|down|up|from|over) [^\d]*)$")  # fmt: skip
_ASIDE = WordForm(
    rf"(?:(?:then|and) )*(?:thread|put|place|slip|hold|leave|move|transfer|set) (?:the )?(?:next|foll\w*|these|those)? ?(?P<n>{COUNT})(?: (?:gusset|thumb))? (?:{STS})?(?: (?:aside|on|onto|to|in|unworked)\b[^\d]*)?$",
)
_OPEN = WordForm(
    r"\b(?:k|knit|p|purl|work|rib|patt\w*|across|panel|chart|until|rep\w*|times|twice|once|end|dec\w*|inc\w*|tog|together|bind|cast|turn|rows?|each|every|both|either|evenly|all|half|make|m1|raise|lift|bo|co)\b",
)
_MANIFOLD = WordForm(r"\b(?:each|every|both|either|evenly|twice|tog|together|times|half|needles)\b")
_GAIN = WordForm(r"pick|pu\b|pu |tak|cast|co\b|raise|lift")
_GAINS = WordForm(r"\b(?:pick|pu\b|tak|cast|co\b|raise|lift)|(?<![a-z0-9])(?:m ?1|yo)")
_MOVES = WordForm(
    r"\W*(?:(?:now|carefully|next|then|first) )*(?:slip|slide|put|place|return|draw|take|transfer|unpick|remove|divide|arrange|undo|pull)\b"
)
_WORKS = WordForm(
    r"\b(?:k|knit|p|purl|work|rib|pick|cast|m1|rep\w*) ?\d|\b(?:knit|purl|work|rib|pick|cast|make)\b"
)
_STEP = WordForm(r"\W*\d{1,2}[.)]?$", re.NOFLAG)
_LAID_OUT = WordForm(
    r"\b(?:waste|scrap|cotton|contrast\w*)(?: yarn| wool| thread)?\b[^.]*\b(?:again|back)\b|\b(?:over|across) (?:the )?(?:next )?\d"
)
_NAME = WordForm(r"^[A-Za-z -]{3,24}: ", re.NOFLAG)  # that is no label of a row
_BACK = WordForm(
    r"(?:(?:and|then) )*(?:(?:sl|slip|slide|put|return|pass) (?:these|them|those|the same)\b.*\b(?:back|left)\b[^\d]*|(?:k|knit|work|p) (?:them|these|those)\b[^\d]*)$",
)
_OVER = WordForm(
    rf"(?:(?:and|then) )*(?:work|patt\w*|k|p|knit|cont\w*)\b[^,;]* (?:over|across) (?:the )?(?:next )?(?P<n>{COUNT}) {STS}(?P<rest>[^\d]*)$",
)
_REST = WordForm(
    rf"\b(?:left|rem\w*|rest|other|last)\b|\b(?:the|these) {COUNT} (?:held |waiting )?{STS}"
)
_COUNTED = WordForm(
    rf"(?<![\d.])(?P<n>{COUNT}) {STS}[.)\]]*$|(?:^|[(=—–-] ?)(?P<n2>{COUNT}) {STS}(?= ?[.,)\]])|^\W*(?:(?:with|using) [^.,;]{{1,30}}, ?)?(?:cast(?:ing)? (?:on|up)|co)\b\D{{0,12}}(?P<n3>{COUNT})"
)
_SHAPES = WordForm(
    r"\b(?:inc(?!h)|dec|ssk|m1|kfb|tog|together|pick|bind|bo\b|co ?\d|cast)|[kp]\d ?tog"
)
_GAINED = WordForm(rf"\b(?:cast(?:ing)? on|co|pick(?:ing)? up)(?: and (?:k|knit))? ?(?P<n>{COUNT})")
_AGAIN = WordForm(r"\b(?:heel|flap|again|first|middle|cent(?:er|re))\b")
_GOES_ON = WordForm(
    r"\W*(?:(?:with|using|on) [^,.;]{1,40}[,;] ?)?(?:then |and |now )*(?:pick(?:ing)? up|pu\b|k(?:nit)?\.? up)"
)
_BEGINS = WordForm(r"\b(?:join|rejoin|attach|facing|corner|thumb)\b")
SLIGHT = 4  # stitches by which a sum may miss, and be meant for it all the same
KNOWN = 4  # counts before
LEAST = 3  # parts; two may be parts of more
MANY = 12  # times that a repeat is written out


def worked_lines(sentences: Sentences) -> Iterator[Finding]:
    """Find lines that say all that is worked, and a count that it does not make."""
    for at in sentences.lines_about(_LAID_OUT, _CASES, _GAINS):
        line = sentences.lines[at]
        text = " ".join(one.figures[one.start :] for one in line if not _moved(one))
        total = _TOTAL.search(text)
        known = partial(_known, sentences.lines[:at])
        if total is None:
            if len(line) == 1 and (said := _of_all(text, known)):
                place = line[0].place(line[0].start)
                yield Finding(WARNING, "sum", said, place.line, place.column)
            continue
        told = text[: total.start()]
        rest = any(_moved(one) and _REST.search(one.figures) for one in line)
        if _GOES_ON.match(told) and not _BEGINS.search(told) and not rest:
            continue  # there may be stitches before
        made, aside = _made(told, LEAST - rest)
        stated = values(total["n"])
        said = _wrong(made, stated, _AGAIN.search(told) is not None) if made else ""
        if made and aside and not said:
            said = _left_out(told, made, aside, known())
        if said:
            one = next((one for one in reversed(line) if total["n"] in one.figures), line[0])
            place = one.place_in_figures(max(0, one.figures.rfind(total["n"])))
            yield Finding(WARNING, "sum", said, place.line, place.column)


def _moved(one: Spoken) -> bool:
    """Tell whether a sentence only moves stitches from one place to another, or is the number of a step."""
    if _STEP.match(one.figures):
        return True
    return _MOVES.match(one.figures, one.start) is not None and not _WORKS.search(one.figures)


def _known(lines: Sequence[list[Spoken]]) -> list[_Values]:
    """Return the last counts of some lines, up to one that shapes."""
    found: list[_Values] = []
    for line in reversed(lines):
        text = " ".join(one.figures for one in line)
        matches = _COUNTED.finditer(text)
        found[:0] = (values(next(filter(None, match.groups()))) for match in matches)
        if len(found) >= KNOWN or _SHAPES.search(text):
            break
    return found[-KNOWN:]


def _of_all(text: str, known: Callable[[], Sequence[_Values]]) -> str:
    """Compare a round that lays all its stitches out, some of them on waste yarn, with those that there are."""
    if not _LAID_OUT.search(text) or not known():
        return ""
    parts: list[_Values] = []
    for clause in _CLAUSE.split(_NAME.sub("", text)):
        bare = clause.strip(" —–-.")
        if _BACK.match(bare):
            continue
        match = _OVER.match(bare) or _WORKED.match(bare)
        if match is not None and not _MANIFOLD.search(match["rest"]) and not _GAIN.match(bare):
            parts.append(values(match["n"]))
        elif bare and (re.search(r"\d", bare) or _OPEN.search(bare)):
            return ""
    if len(parts) < LEAST:
        return ""
    sums = [alike(*parts, count) for count in known()]
    laid = [
        (tuple(map(sum, zip(*columns[:-1], strict=True))), columns[-1])
        for columns in sums
        if columns[0]
    ]
    near = [one for one in laid if is_near(*one, SLIGHT)]
    if not near or any(made == there for made, there in near):
        return ""
    return f"{by_size(near[-1][0])} sts are laid out here; there are {by_size(near[-1][1])}"


def _left_out(
    text: str, made: Sequence[_Values], aside: Sequence[_Values], known: Sequence[_Values]
) -> str:
    """Compare all that was there, set aside or worked, with the count before."""
    gained = [values(match["n"]) for match in _GAINED.finditer(text)]
    if len(gained) != 1 or not known:
        return ""
    numbers = alike(*made, *aside, gained[0], known[-1])
    if not numbers[0]:
        return ""
    *parts, gain, there = numbers
    whole = tuple(
        sum(column) - by for column, by in zip(zip(*parts, strict=True), gain, strict=True)
    )
    if whole == there or not is_near(whole, there, SLIGHT):
        return ""
    return f"{by_size(whole)} sts are worked and set aside here; there were {by_size(there)}"


def _made(text: str, least: int = LEAST) -> tuple[list[_Values], list[_Values]]:
    """Return the stitches of each part of a line, and those set aside; nothing where a part is not understood."""
    written = _CASES.sub(_written_out, text)
    if re.search(r"[*\[\]]", re.sub(r"[(\[]\d[\d, :]*[)\]]", "", written)):
        return [], []
    found: list[_Values] = []
    aside: list[_Values] = []
    gains = written != text
    for clause in _CLAUSE.split(written):
        bare = clause.strip(" —–-")
        bare = bare if bare.count("(") == bare.count(")") else bare.strip("() ")
        if (shaped := _SHAPED.match(bare)) is not None:
            found.append((-1,) if shaped["over"] else (1,))
            gains = gains or shaped["more"] is not None
        elif (out := _ASIDE.match(bare)) is not None:
            aside.append(values(out["n"]))
        elif (match := _WORKED.match(bare) or (_BARE.match(bare) if found else None)) is not None:
            if _MANIFOLD.search(match["rest"]):
                return [], []
            gains = gains or _GAIN.match(match.groupdict().get("verb") or "") is not None
            found.append(values(match["n"]))
        elif bare and (re.search(r"\d", bare) or _OPEN.search(bare)):
            return [], []
    return (found, aside) if gains and len(found) >= least else ([], [])


def _written_out(match: re.Match[str]) -> str:
    """Return a repeat as often as it is worked."""
    inner = match["a"] or match["b"] or match["c"]
    often = (match["n"] or match["m"]).lower()
    number = re.match(r"\d+", often)
    times = int(number[0]) if number else 2 if "twice" in often else 1
    if match["m"] and "in all" not in often and "altogether" not in often:
        times += 1
    return ", ".join([inner.strip(" ,")] * times) + ", " if times <= MANY else match[0]


def _wrong(made: Sequence[_Values], stated: _Values, again: bool) -> str:
    """Say what the parts make; "" where it is what is stated, if a part may be worked again."""
    numbers = alike(*made, stated)
    if not numbers[0]:
        return ""
    *parts, total = numbers
    whole = tuple(map(sum, zip(*parts, strict=True)))
    ways = [whole]
    if again:
        ways += (
            tuple(a - b for a, b in zip(whole, out, strict=True)) for out in (parts[0], parts[-1])
        )
    if total in (*ways, *parts) or not is_near(whole, total, SLIGHT):
        return ""
    return f"the parts of this line are {by_size(whole)} sts together, not {by_size(total)}"
