# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Counts that a shaping is worked to, and that its steps never reach.

"Eight stitches on every other round, until 46 remain" is never done from 72. Nothing has to be
worked to see it: what a row takes, or the counts stated behind two of them, tell the step, and the
counts stated before tell from where. One size that does not come out, where others do, is surely
wrong; where none does, only the last counts are believed.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Sequence
from math import gcd

import attrs

from loopwright.pattern._editing.figures import alike, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Spoken, next_on_line
from loopwright.pattern._editing.sums import change_in, stated_change
from loopwright.pattern._editing.times_told import BY_NAME, IN_TURNS
from loopwright.pattern._reading.stated import for_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["changing", "reached"]

_Values = tuple[int, ...]
_ASIDE = r"(?![^.;:]{0,24}\b(?:between|on|in|at|each|every|before|after|past|beyond|un\w+ed|wrapped|worked|outside|inside|from|per)\b)"
_UNTIL = WordForm(
    rf"\b(?:until|till|to|down to|up to)(?: only| just| there are(?: only)?| you have| you are left with| you are down to)? (?P<n>{COUNT}) {STS}{_ASIDE}",
)
_SHAPING = WordForm(
    r"\b(?:dec\w*|inc\w*|rep\w*|shap\w*|continue|cont|carry on|keep|go on|work|so on)\b",
)
_BY = WordForm(
    rf"\b(?P<n>\d{{1,2}}) {STS} (?:are (?:dec|inc)\w* )?(?:fewer |less |more )?(?:on|in|at|every|each|per|a) ?(?:a time|every|each|time|alternate|round|rnd|row|one|dec|inc)|"
    rf"\b(?:dec|inc)\w* (?:by )?(?P<m>\d{{1,2}}) {STS}(?! before| after)|"
    rf"\b(?:losing|taking (?:out|away|off)|adding|lose|add|gain|gaining) (?P<o>\d{{1,2}}) {STS}",
)
_WHOLE = WordForm(
    rf"(?:^|[.:;,(=\[—–]|--| - |\b(?:have|are|is|leaves?|leaving|count|makes?|making|gives?|giving|remain|when|until|back (?:at|to|down to|up to))\b)\s*(?:now )?(?P<n>{COUNT}) ?{STS}"
    r"(?:,? (?:in all|in total|total|altogether|now|again|(?:will |should )?rem\w*\.?|(?:are |is )?left|on (?:the |your )?needles?(?! ?\d)|around|inc\w*|dec\w*))*\s*(?P<on>,[^.;]*)?[.)\]]*\s*$",
)
_STATED = WordForm(rf"(?P<n>{COUNT}) (?:[a-z]+ ){{0,2}}?{STS}")
_BEGUN = WordForm(rf"\b(?:cast(?:ing)? (?:on|up)|co)\b\D{{0,24}}(?P<n>{COUNT}) ?{STS}")
_SHAPES = WordForm(
    r"(?:[kp]\d ?tog|\d tog)|\b(?:inc(?!h)|dec|ssk|ssp|skp|yo\b|m1|make 1|kfb|tog|psso|cdd|sk2p|s2k|pick|shap|narrow)",
)
_MOVES = WordForm(r"\b(?:pick|cast|bind|co|bo|hold\w*|held|waste|scrap|put|place|turn|w&t|wrap\w*|gap|graft)\b")  # fmt: skip
_PARTS = WordForm(r"\b(?:heel|thumb|flap)\b", re.NOFLAG)
MOST = 6  # counts before, from which a shaping may go on
LAST = 3  # counts before, from which rows may be worked so often
MANY = 16  # stitches; no round of a shaping that is repeated changes more
BIG = 2  # sizes, of which most come out


@attrs.define
class _Known:
    """What is known on the way: the counts that were stated, and the steps of the section."""

    counts: list[_Values] = attrs.field(factory=list)
    earlier: list[_Values] = attrs.field(factory=list)  # of before a shaping that is done
    line: int = 0  # of the last step
    before: _Values | None = None  # the last count before the first step
    section: int = -1
    aside: int = 0  # what the rows of the section change that are not repeated
    # of each section, as it begins
    steps: list[int] = attrs.field(init=False)
    open: bool = attrs.field(init=False)  # a row whose step is not known
    rows: list[int | None] = attrs.field(init=False)  # what each changes
    number: int = attrs.field(init=False)  # of the last row


def reached(sentences: Sequence[Spoken], lost: Container[int] = ()) -> Iterator[Finding]:
    """Find counts that the steps of a shaping never lead to; `lost` are lines not understood."""
    known = _Known()
    for one, after in zip(sentences, [*sentences[1:], None], strict=False):
        text = one.figures
        if one.section != known.section:
            known.section, known.steps, known.open = one.section, [], False
            known.rows, known.number = [], 0
        if (begun := _BEGUN.search(text)) is not None:
            known.counts, known.earlier = [values(begun["n"])], []
            known.steps, known.open = [], False
        step = one.text.rstrip(" .)").isdigit()  # the number of one
        if (
            one.line in lost
            and not step
            and not (_BY.search(text) or _REPEATS.match(text, one.start))
        ):
            known.counts, known.earlier, known.open = [], [], True
        _narrow(known, text, one.start)
        targets = list(_UNTIL.finditer(text)) if _SHAPING.search(text) else []
        for match in targets:
            if match[0].lower().startswith(("to ", "up to")) and not re.search(
                r"\b(?:dec|inc)", text[: match.start()], re.IGNORECASE
            ):
                continue
            wanted = values(match["n"])
            if said := _never(_step(text[: match.end() + 60], known, one.title), known, wanted):
                place = one.place_in_figures(match.start("n"))
                yield Finding(WARNING, "sum", said, place.line, place.column)
                known.counts.append(wanted)
                continue
            known.earlier, known.counts = [*known.earlier, *known.counts], [wanted]
            known.before = None  # rows were worked since
        if _MOVES.search(text) or _PARTS.search(one.title):
            known.counts, known.earlier = [*known.earlier, *known.counts], []
        if _MOVES.search(text) and not targets:
            known.counts += (values(match["n"]) for match in _STATED.finditer(text))
        if not targets and (said := _so_often(known, text, after, one)):
            place = one.place(one.start)
            yield Finding(WARNING, "sum", said, place.line, place.column)
        if not targets:
            _take(known, one, after, text)


_REPEATS = WordForm(
    rf"(?:then )?(?:rep(?:eat)?|work) (?:the )?(?:these|last|rounds|rnds|rows)\b[^.;,]{{0,24}}(?:,? (?:always |each time |every time )?(?:with|having|knitting|working) [^.;,]{{0,30}}\b(?:fewer|less|more)\b[^.;,]{{0,50}},?)? until (?:there are |you have )?(?:only )?{COUNT} {STS}(?: (?:rem\w*|are left|left|in all))*[.)]*$",
)  # what is repeated is known, though the line was not understood
_THESE = WordForm(
    r"\b(?:these|the last|last) (?P<n>[2-6]) (?:rounds|rnds|rows)\b|\b(?:rounds|rnds|rows) (?P<a>\d{1,2}) ?(?:and|&|-|–|to) ?(?P<b>\d{1,2})\b",
)


def _narrow(known: _Known, text: str, start: int) -> None:
    """Keep the steps of those rows alone that a sentence repeats."""
    known.aside = 0
    match = _THESE.search(text, start)
    if match is None:
        return
    if match["n"]:
        many = int(match["n"])
    else:
        first, last = int(match["a"]), int(match["b"])
        many = last - first + 1 if last == known.number else 0
    rows = known.rows[-many:] if 0 < many <= len(known.rows) else []
    if not rows:
        return
    known.open = None in rows
    known.aside = sum(change or 0 for change in known.rows[:-many])
    steps = [change for change in rows if change]
    if steps != known.steps:
        known.before = None  # the count before the first of these is not kept
    known.steps = steps


_OFTEN = WordForm(
    rf"\b(?:rep(?:eat)?|work|do)\b[^.;]*? (?P<more0>another |a further )?(?P<n>{COUNT}) (?P<more>more |further )?times\b(?P<more2> more| further)?|"
    rf"\b(?:dec|inc)\w* (?P<all>{COUNT}) times in all\b",
)


def _besides(known: _Known, start: _Values, often: re.Match[str]) -> tuple[int, ...]:
    """Return how many more times than it is said a row may be worked, from a count on.

    "8 more times" is nine in all from the count before the row, and eight from the one behind it.
    """
    if often["all"]:
        return (0,)
    if not (often["more"] or often["more2"] or often["more0"]):
        again = often[0][:3].lower() == "rep"
        if again and known.before is None:  # the first may stand between, without its count
            return (0, 1, -1)
        more = again or BY_NAME.search(often[0])
        return (0, 1) if more and start == known.before else (0, -1)
    if start == known.before:
        return (1,)
    stated_behind = known.counts[-2:] == [known.before, start] and len(known.steps) == 1
    return (0,) if stated_behind else (0, 1)


_ONCE_MORE = WordForm(r"\bthen\b|\bonce (?:more|again)\b")
_THEN = WordForm(
    rf"(?:^|[.:;,(=\[—–]|--| - |\b(?:have|are|be|leaves?|leaving|makes?|making|gives?|giving)\b)\s*(?:now )?(?P<n>{COUNT}) ?{STS}"
    r"(?:,? (?:in all|in total|total|altogether|now|again|(?:will |should )?rem\w*\.?|(?:are |is )?left|on (?:the |your )?needles?(?! ?\d)))*\s*[.)\]]*\s*$",
)


_OF_ITSELF = WordForm(
    r"(?:tog|together|ssk|psso)[;,] (?:and )?do this\b|\b(?:rows|rounds|rnds)\b[^.;]{0,16} (?:of|from) (?:the )?(?!rows|rounds|rnds|heel|toe|crown|flap|thumb|gusset)[a-z]+|\b[a-z]+ (?:section|pattern|part),? (?:rows|rounds|rnds)\b"
)  # its own stitches, or the rows of another part, and no row that stands before


def _so_often(known: _Known, text: str, after: Spoken | None, one: Spoken) -> str:
    """Compare how often a row is worked with the counts before and behind."""
    often = _OFTEN.search(text)
    if (
        often is None
        or _ONCE_MORE.search(text)
        or known.open
        or len(set(known.steps)) != 1
        or _AS_BEFORE.search(text)
        or _OF_ITSELF.search(text)
        or "*" in text[: often.start()]
    ):
        return ""
    told = _THEN.search(text, often.end())
    more = next_on_line(one, after)
    if told is None and more is not None and more.label is None:
        told = _THEN.match(more.figures)
    if told is None:
        return ""
    step, total = known.steps[0], values(told["n"])
    found: tuple[int, ...] = ()
    for before in reversed(known.counts[-LAST:]):
        times, end = alike(values(often["n"] or often["all"]), total)
        start, end = alike(before, end)
        if not start or len(times) not in (1, len(end)):
            return ""
        times = for_sizes(times, len(end))
        once_more = tuple(a + step * (t + 1) for a, t in zip(start, times, strict=True))
        if once_more == end and start == known.before and IN_TURNS.search(often[0]):
            return ""
        for extra in _besides(known, before, often):
            made = tuple(a + step * (t + extra) for a, t in zip(start, times, strict=True))
            if end in (made, tuple(n + known.aside for n in made)):
                return ""
            off = [abs(a - b) for a, b in zip(made, end, strict=True)]
            if not found and min(made) > 0 and max(off) <= 2 * abs(step):
                found = made
    if not found:
        return ""
    return f"{abs(step)} sts at a time, so often, make {by_size(found)} sts, not {by_size(total)}"


_WORKED = WordForm(
    r"\W*(?:(?:step )?\d{1,2}[.)] )?(?:work|knit|k|p|purl|rib|cont(?:inue)?|rep(?:eat)?|go on|carry on)\b",
)
_ROWS_ONLY = WordForm(r"\b(?:rounds?|rnds?|rows?|inch\w*|in|cm|mm|even|straight)\b|\"")


def changing(sentences: Sequence[Spoken], lost: frozenset[int]) -> frozenset[int]:
    """Return those of the lines that were not understood that may change the count of stitches.

    "Work 4 more rounds the same" does not, whatever is the same.
    """
    told = [one for one in sentences if one.line in lost] if lost else []
    harmless = {one.line for one in told}
    for one in told:
        text = one.text[one.start :]
        plain = _WORKED.match(text) and _ROWS_ONLY.search(text)
        if not plain or _SHAPES.search(text) or _MOVES.search(text) or _STATED.search(text):
            harmless.discard(one.line)
    return lost - harmless


def _step(text: str, known: _Known, title: str) -> int:
    """Return by how many stitches a shaping goes, 0 where it is not known."""
    told = _BY.search(text)
    if _AS_BEFORE.search(text):
        return 0
    if told is not None:
        return int(told["n"] or told["m"] or told["o"])
    if known.steps and not known.open:
        return gcd(*known.steps)
    return FOURS if not known.steps and not known.open and _TAPERS.search(title) else 0


_AS_BEFORE = WordForm(
    r"\b(?:instructions|directions|(?:same|just|exactly) as|as (?:you did|for|on|in) (?:the )?[a-z]+|again from|from (?:row|rnd|round|step) 1)\b",
)
_TAPERS = WordForm(r"\b(?:toes?|tops?|tip)\b", re.NOFLAG)
FOURS = 4  # stitches that a toe or a top loses in a round (common practice)


def _take(known: _Known, one: Spoken, after: Spoken | None, text: str) -> None:
    """Take what a sentence tells of the step of its row, and the count that it states."""
    told = _WHOLE.search(text)
    count = values(told["n"]) if told is not None and min(values(told["n"])) > 1 else None
    more = next_on_line(one, after)
    next_told = _WHOLE.match(more.text) if more is not None and count is None else None
    if one.label is not None or _SHAPES.search(text):
        bare = text[one.start : told.start()] if told is not None else text[one.start :]
        known.line, same = one.line, known.line == one.line
        part = same and _PART_NAME.match(one.text) is not None
        stated = count or (values(next_told["n"]) if next_told else None)
        if one.label is not None and not part:
            known.rows.append(0)
            known.number = one.label.numbers[-1] if one.label.numbers else 0
        _step_of(known, bare, text, stated, part=part)
    if count is not None:
        change = stated_change(text)
        if change is None and not _is_change(known, count):
            known.counts.append(count)


_PART_NAME = WordForm(
    r"(?:[A-D]|n ?\d|needles? [\w ]{1,12}|\w+ (?:and \w+ )?needles?|(?:instep|sole|back|front|palm|heel)(?: sts| stitches)?)(?: ?\([^)]*\))?:",
)


def _step_of(known: _Known, bare: str, text: str, count: _Values | None, *, part: bool) -> None:
    """Add the step of a row: as it is stated, as its stitches tell, or from count to count."""
    if not _SHAPES.search(bare) and stated_change(text) is None:
        return
    change = stated_change(text)
    whole = part and change is not None and change != _of_part(text)
    for told in (bare, _PART_NAME.sub("", bare)):
        change = change if change is not None else change_in(told)
    if change is None and count is not None and known.counts:
        before, now = alike(known.counts[-1], count)
        steps = {b - a for a, b in zip(before, now, strict=True)}
        if len(steps) == 1 and max(map(abs, steps)) <= MANY and not _MOVES.search(bare):
            (change,) = steps
    if known.rows:
        old = known.rows[-1] if part and not whole else 0
        known.rows[-1] = None if change is None or old is None else old + change
    if change and part and known.steps:  # another needle of the same round
        known.steps[-1] = change if whole else known.steps[-1] + change
    elif change:
        if not known.steps:
            known.before = known.counts[-1] if known.counts else None
        known.steps.append(change)
    elif change is None and not _MOVES.search(bare):
        known.open = True


def _of_part(text: str) -> int | None:
    """Return what the stitches of one needle change, whatever is stated behind them."""
    return change_in(_PART_NAME.sub("", text.partition(" (")[0]))


def _is_change(known: _Known, count: _Values) -> bool:
    """Tell whether a count is by how many the stitches changed: "(4 sts)"."""
    return len(count) == 1 and count[0] < 9 and count[0] in map(abs, known.steps)


def _never(step: int, known: _Known, wanted: _Values) -> str:
    """Say that a count is never reached; "" where it is, or where that is not sure."""
    if step < 2:
        return ""
    found = ""
    grows = {change > 0 for change in known.steps}
    near = [
        both
        for one in known.counts[-MOST:]
        if (both := alike(one, wanted))[0]
        and (len(grows) != 1 or all((b > a) in grows for a, b in zip(*both, strict=True)))
    ]
    if not near and grows == {False} and (more := _more(known, wanted)):
        return more
    if not near or any(_fits(a, b, step) == len(a) for a, b in near):
        return ""
    for before, end in reversed(near):
        many = len(end)
        if len({a > b for a, b in zip(before, end, strict=True)}) > 1:
            continue
        fit = _fits(before, end, step)
        if many >= BIG and fit >= max(1, many - 1):
            at = next(n for n in range(many) if (before[n] - end[n]) % step)
            found = _said(before[at], step, end[at])
            break
    rests = {(a - b) % step for before, end in near for a, b in zip(before, end, strict=True)}
    if not found and known.steps and len(rests) == 1:
        found = _said(near[-1][0][0], step, wanted[0])
    return found


def _more(known: _Known, wanted: _Values) -> str:
    """Say that there are more stitches than at the start of what should take them in."""
    last, end = alike(known.counts[-1], wanted) if known.counts else ((), ())
    if not last or len(known.counts) > 1 or not all(b > a for a, b in zip(last, end, strict=True)):
        return ""
    return f"{by_size(last)} sts were reached before, and decreasing never gives {by_size(wanted)}"


def _fits(before: _Values, end: _Values, step: int) -> int:
    """Return in how many sizes a step leads from one count to another."""
    return sum(not (a - b) % step for a, b in zip(before, end, strict=True))


def _said(before: int, step: int, end: int) -> str:
    way = -1 if before > end else 1
    short = before + way * (abs(before - end) // step * step)
    return (
        f"from {before} sts, {step} at a time, there are never {end}: "
        f"after {short} come {short + way * step}; is one of these meant?"
    )
