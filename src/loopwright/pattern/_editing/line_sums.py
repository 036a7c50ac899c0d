# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Sums of a whole line: a thumb, a gusset, a hat's flaps, with the count that they are said to make."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import combinations

from loopwright.pattern._editing.figures import is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._editing.sums import PICK_UP, picked_alike
from loopwright.pattern._reading.stated import without_asides
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["line_sums"]

_Values = tuple[int, ...]
_GAINS = WordForm(
    r"\b(?:pick(?:ing)? up|tak(?:e|ing) up|k(?:nit)?\.? up|cast(?:ing)? on|catch|co(?= \d))\b",
)
_OPEN = WordForm(
    r"\bwork (?:(?:in|the) )*(?:panel|chart|lace|cable|patt\w*(?! over))|\b(?:work|knit|k|purl|p|rib|patt\w*|across) (?:(?:across|over|on|along|all|of|the|her|your) )*(?:instep|front|held|waiting|resting|rem\w*|other|top|(?:sts |stitches )?(?:of |on )?(?:the )?(?:(?:next|second|third|2nd|3rd|following) (?:two )?|both )?(?:needles?|ndls?|dpns?|n)(?: ?\d(?:,? (?:and|&|to) (?:needle )?\d)?)?)\b(?! ?\d)(?![^.;,]{0,16}\d \w*\s?st)|\b(?:until|rep\w*|times|to (?:the )?(?:end|last)|to (?:the |your |each )?(?:(?:first|second|next|other|last|1st|2nd|gusset|thumb) )*(?:markers?|m)|(?:to|till?) (?:within )?\d+ (?:sts?|stitch(?:es)?) (?:before|from|of)|all but|dec\w*|inc\w*|tog|ssk|skp\w*|m1\w*|bind|cast off|turn|rows?)\b|k2tog|[*\[]|\b(?:needle|n) ?\d: (?:(?:exactly )?the )?same\b|\bthe same (?:on|for|along) the (?:other|second)\b",
)
_AT_THE_END = WordForm(r" at the end of the (?:row|round|rnd)\b", re.NOFLAG)
_TOTAL = WordForm(
    rf"(?:^|[.=(,;:—–-])\s*(?:(?:you (?:now )?have|there are(?: now)?|that (?:is|makes)|makes?) )?(?P<n>{COUNT}) ?{STS}(?: in all| now| altogether| in total| rem\w*\.?| (?:are )?left)?(?:,? (?:half|with|of which|on)\b[^.;]*)?[)\].]*\s*$",
)
_PART = WordForm(
    rf"(?<![\w./-])(?:(?P<verb>k|p|knit|purl|sl|slip|pick(?:ing)? up(?: (?:and|&) (?:k|knit))?|cast(?:ing)? on|co)\.? ?)?(?P<n>{COUNT})(?! ?(?:mm|cm|in\b(?! (?:the|each|every|a|one|either|both|that)\b)|ins\b|inch\w*|\"|g\b|m\b|yds?|rows|rounds|rnds|needles?|dpns?|double|times|st\w* (?:st|before(?! and\b))\b))(?=(?P<after>[^,;.]{{0,60}}))",
)
_ALSO = re.compile(
    r"\b(?:plus|and) $", re.IGNORECASE
)  # "1 at the corner plus 13 by the second edge"
_ALONG = WordForm(r" (?:by|along|down|up|from) (?:the|each|that) (?:[a-z]+ )?(?:edge|side|flap)\b")
_BARE = WordForm(rf"{COUNT} {STS}\W*$")
_EACH = WordForm(
    r"\b(?:each|both|either) (?:side|corner|end|edge|half|of)|\b(?:at|from) each\b|\beach (?:side|corner|end)",
)
_TWO_NEEDLES = WordForm(
    r"\b(?:(?:\d(?:st|nd|rd|th)|first|second|third|fourth) and (?:\d(?:st|nd|rd|th)|third|fourth|last) needles|needles \d and \d|both needles|each needle)\b[:,]?[^:;.]*$",
)  # what each of two needles has counts twice
MANY = 7  # parts; longer lines are no sums
SLIGHT = 3  # stitches by which a sum may miss, and be meant for it all the same


def line_sums(sentences: Sentences) -> Iterator[Finding]:
    """Find stitches worked, picked up and cast on in a line that do not make its count."""
    lines = sentences.lines
    for at in sentences.lines_about(_GAINS, PICK_UP):
        line = lines[at]
        whole = " ".join(one.text for one in line)
        if line[0].label is not None:
            whole = whole[line[0].label.end :]
        whole = _AT_THE_END.sub("", whole)
        whole = without_asides(MappedText.of(whole)).text
        if len(line) > 1 and (unlike := picked_alike(" ".join(one.text for one in line))):
            place = line[0].place(line[0].start)
            yield Finding(WARNING, "sum", unlike[0], place.line, place.column)
        total, words, told = _total(lines, at)
        if total is not None and _GAINS.search(whole) and not _OPEN.search(whole):
            head = whole[: whole.rindex(words)] if words in whole else whole
            earlier = (_total(lines, other)[0] for other in reversed(range(at)))
            before = next(filter(None, earlier), None)
            said = _wrong(
                _parts(head, len(total)), before, total, new=_NEW.search(whole) is not None
            )
            if said:
                place = told.place(told.start)
                yield Finding(WARNING, "sum", said, place.line, place.column)
    yield from _slots(sentences)


def _total(lines: Sequence[list[Spoken]], at: int) -> tuple[_Values | None, str, Spoken]:
    """Return the count that a line states last, or the next one alone, its words, and who says so."""
    line, told = lines[at], lines[at][0]
    match = next(filter(None, (_TOTAL.search(one.text) for one in reversed(line))), None)
    if match is None and at + 1 < len(lines) and _BARE.match(lines[at + 1][0].text):
        told = lines[at + 1][0]
        match = _TOTAL.search(told.text)
    if match is None:
        return None, "", told
    return values(match["n"]), match[0].lstrip(" .=(,;:—–-"), told


def _parts(text: str, sizes: int) -> list[_Values]:
    """Return the numbers of stitches in a line, twice where they stand for each side."""
    found = []
    for match in _PART.finditer(text):
        after = re.split(r" (?:and|plus) (?=\d)", match["after"], maxsplit=1)[0]
        behind = re.match(
            r" (?:more )?(?:(?:in|at) (?:the|each) (?:corner|gap)|at each (?:side|end))",
            after,
            re.I,
        ) or (_ALSO.search(text, 0, match.start()) and _ALONG.match(after))
        if (
            match["verb"] is None
            and not behind
            and not re.match(
                rf" ?(?:more |extra |cross |held |thumb |gusset |heel |instep |sole |live |new |back |front |waiting |resting |remaining |other |flap |palm |body |top |cent(?:er|re) )*{STS}",
                match["after"],
                re.I,
            )
        ):
            continue
        many = values(match["n"], sizes)
        if len(many) == sizes:
            before = text[max(0, match.start() - 48) : match.start()]
            twice = _EACH.search(after) or _TWO_NEEDLES.search(before)
            found.append(tuple(2 * n for n in many) if twice else many)
    return found


_NEW = WordForm(r"\b(?:cast(?:ing)? on|co)\b[^.;]*\b(?:more|extra|new|additional) ")


def _wrong(
    parts: Sequence[_Values], before: _Values | None, total: _Values, *, new: bool = False
) -> str:
    """Say what some parts make, where no choice of them makes the total, and all nearly do."""
    known = [before] if before is not None and len(before) == len(total) else []
    known = [] if known == [*parts[:1]] else known  # the line begins with them
    if not 2 <= len(parts) <= MANY:
        return ""
    every = [*parts, *known]
    for many in range(2, len(every) + 1):
        if any(_sum(chosen) == total for chosen in combinations(every, many)):
            return ""
    rest = tuple(a - b for a, b in zip(total, _sum(parts), strict=True))
    if total in every or rest in every:
        return ""
    ways = [parts, *combinations(parts, len(parts) - 1)] if len(parts) > 2 else [parts]
    for chosen in (*ways, *((*way, *known) for way in ways if known and len(parts) > 2)):
        made = _sum(chosen)
        slight = min(total) // 10 if new and len(parts) == 2 and parts[0] == before else SLIGHT
        if is_near(made, total, max(SLIGHT, slight)):
            return f"the parts of this line are {by_size(made)} sts together, not {by_size(total)}"
    return ""


def _sum(parts: Sequence[_Values]) -> _Values:
    return tuple(sum(column) for column in zip(*parts, strict=True))


_OFF = WordForm(
    rf"\b(?:cast off|bind off|bo|co off) (?:the )?(?:next |centre |center )?(?P<n>{COUNT}) ?(?:{STS})?",
)
_ON = WordForm(rf"\b(?:cast on|co) (?P<n>{COUNT}) ?(?:{STS})?")
_IN_ROW = WordForm(
    r"\b(?:to end|to (?:the )?gap|over (?:the )?gap|moss|rib|k\d|k \d|knit \d|p\d|patt\w*|work)\b",
)


def _slots(sentences: Sentences) -> Iterator[Finding]:
    """Compare the stitches cast off for a slot with those cast on above it in the next row."""
    off: _Values | None = None
    for at, passed in sentences.passing(_ON, _OFF):
        one = sentences[at]
        if any(other.label is not None for other in passed):
            off = None
        cast_on, cast_off = _ON.search(one.text), _OFF.search(one.text)
        within = one.label is not None and _IN_ROW.search(one.text)
        if cast_on is not None and off is not None and within:
            on = values(cast_on["n"])
            if len(on) == len(off) and on != off:
                said = f"{by_size(on)} sts are cast on; {by_size(off)} were cast off below them"
                place = one.place(cast_on.start("n"))
                yield Finding(WARNING, "sum", said, place.line, place.column)
        if one.label is not None:
            off = (
                values(cast_off["n"])
                if cast_off is not None and within and cast_on is None
                else None
            )
