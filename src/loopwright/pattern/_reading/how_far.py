# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""How far rows are repeated: until a count, a length, a place between markers is full."""

from __future__ import annotations

import re
from collections.abc import Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._contents import courses_in, rounds_in
from loopwright.pattern._reading.ends import ALL_WORKED, COUNT_REACHED
from loopwright.pattern._reading.growth import shapes
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._reading.stated import count_in, for_sizes, number_of, whole_numbers
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern._tally import GAP, MARKER, NEEDLE, Tally
from loopwright.pattern._words import NUMBER_WORDS
from loopwright.pattern.items import On, Run, WrapTurn
from loopwright.pattern.program import Pattern, of_size
from loopwright.pattern.values import (
    Count,
    SizedLength,
    To,
    UntilCount,
    UntilMeasures,
    UntilWorked,
    Where,
    sized,
    values_of,
)

__all__ = ["FROM_BEGINNING", "RepeatBody", "filled_to", "is_doubled", "unit_of", "until"]

FROM_BEGINNING = WordForm(  # "measures 4 in from CO edge", not "from the cast-on sts at the thumb"
    r"^(?!.*\b(?:thumb|gap|opening|hole|heel|(?:two|\d) (?:new )?(?:sts|stitches))\b).*?(?:cast|beg|\bco\b|\bstart|(?:bottom|lower|first|very) (?:edge|end)|tip of)",
    re.NOFLAG,
)


@attrs.frozen
class RepeatBody:
    """Rows to be repeated: those just worked, by number or how many, or copies of others."""

    numbers: tuple[int, ...] = ()
    last: int = 0
    copies: tuple[st.Step, ...] = ()
    grown: bool = False  # worked until a place between markers is full
    doubled: bool = False  # worked until so many double stitches are on each side
    of: bool = False  # they belong to a stitch pattern, and keep their places

    @property
    def many(self) -> int:
        return len(self.numbers) or self.last or courses_in(self.copies)


_AROUND = WordForm(  # "there are 10 wrapped sts on each side of 8 plain sts"
    rf"(?:{STS}|ds|wraps?) (?:(?:are|have been|lie|hang) )?(?:now )?(?:(?:wrapped|doubled|turned|waiting|resting|unworked) )?(?:on|at) (?:each|either|both) (?:side|end)s?(?: of (?:the )?|,? (?:and|with) (?:only )?(?:the )?)(?P<middle>{COUNT}) ",
    re.NOFLAG,
)


_PATTERN_SO_OFTEN = WordForm(  # "you have worked the pattern 36 times", "8 repeats are done"
    rf"you have (?:worked|done|completed|knit(?:ted)?) (?:the |these |all )?(?:[a-z]+ ){{0,2}}?(?P<n>{COUNT}) times\b|(?:you have (?:worked|done|completed) )?(?P<n2>{COUNT}) (?:pattern )?(?:repeats|repetitions)\b",
    re.NOFLAG,
)


def unit_of(word: str) -> str:
    """Return the short name of a unit of length that a text names."""
    return "cm" if word.startswith("c") else "mm" if word.startswith("mm") else "in"


_EACH_HOLDS = WordForm(
    rf"(?:needles? 1 and (?:needle )?2|each needle|both needles)(?: each)? (?:hold|holds|have|has|carry|carries) (?P<n>{COUNT})",
    re.NOFLAG,
)
_ROWS = WordForm(
    rf"(?:you have (?:worked )?|there are |a total of |(?:the )?(?:heel )?(?:flap|piece|band|strip|tab|heel|work|it|border) (?:now )?(?:has|have|is|counts|measures|contains) )*(?P<n>{COUNT}) (?:flap |heel )?(?:rows|rounds|rnds)\b(?P<rest>.*)$",
    re.NOFLAG,
)


_SLIPPED_EDGES = WordForm(  # "there are 16 slipped sts along each edge": one in two rows
    rf"(?:there are |you (?:now )?(?:have|see|can count) )?(?P<n>{COUNT}) (?:(?:(?:slipped|slip|chain(?:ed)?|edge|selvedge|selvage|elongated|long|big|large|tall|neat)[ -])+(?:edge )?(?:{STS}|loops|chains)?|loops|chains) ?(?:\([^()]*\) )?(?:on|along|at|down|up) (?:each|either|both|every|the) (?:side|edge|end|selvedge|selvage)s?\b[^;\d]*$",
    re.NOFLAG,
)
_MANY = rf"(?:(?P<n>{COUNT})|(?P<w>twice|{'|'.join(NUMBER_WORDS)}))"
_SO_OFTEN = WordForm(  # "until the decreasing round has been worked 6 times in all"
    rf"(?:the |this |these |you have |it has )*(?:[a-z\d]+ ){{0,4}}?(?:rounds?|rnds?|rows?)?(?: \d+)? ?(?:has |have |is |been |was )*(?:worked|done|repeated|knit(?:ted)?|made)(?: the [a-z]+ (?:rounds?|rnds?|rows?))? (?:a total of )?{_MANY}(?: times)?(?: in all| in total| altogether)?$",
    re.NOFLAG,
)
_SHAPED = WordForm(  # "you have worked 8 increase rounds", "4 dec rnds have been done in all"
    rf"(?:there (?:are|have been) |you (?:have |now )*(?:worked|done|made|knit(?:ted)?) |a total of )*(?P<n>{COUNT}) (?:dec|inc|shap)\w*\.? (?:rounds|rnds|rows)\b(?: (?:have|are|been|were|worked|done|made|in all|in total|altogether))*$",
    re.NOFLAG,
)
_IN_ALL = WordForm(
    rf"[,;(–-] ?(?:and |or |that is |= ?)?(?:there are )?(?P<n>{COUNT}) (?:{STS} )?(?:in all|in total|altogether|total)\b",
    re.NOFLAG,
)
_AT_SIDES = WordForm(  # "11 sts are left at each side of the 7 sts in the middle"
    r"[ ,]*(?:(?:are|is|remain\w*|rem|left|unworked|waiting|still|wait|stay)\s+)*(?:at|on|to) (?:each|either|both) (?:sides?|ends?)\b",
    re.NOFLAG,
)
_PLACED = WordForm(  # "31 sole sts are left"
    rf"(?:there are |you have |only )*(?P<n>{COUNT}) (?P<place>instep|sole|heel) (?:sts|stitches)\b",
    re.NOFLAG,
)
_HOLDS = WordForm(  # "needle 2 holds 50 sts"
    rf"^(?:the )?(?P<place>needle \d|instep|sole|heel)(?: needle)? (?:now )?(?:holds|has|have|carries|contains|counts) (?P<n>{COUNT})(?: {STS})?",
    re.NOFLAG,
)


def _on_place(scribe: Scribe, match: re.Match[str]) -> str:
    number = scribe.context.places.get(match["place"])
    if number is None and not match["place"].startswith("needle"):
        return f"there are {match['n']} {match['place']} sts"
    return f"there are {match['n']} sts on needle {number or match['place'][-1]}"


def until(scribe: Scribe, text: str, body: RepeatBody) -> st.Times | None:
    """Return the end that "until …" names."""
    text = text.strip(" .,")
    if (doubles := _TURNED_STS.match(text)) is not None:
        if middle := _AND_PLAIN.search(text):
            _sides(scribe, count_in(middle[1]), count_in(doubles["n"]), body)
        return _doubled(count_in(doubles["n"]), doubles["side"] == "right")
    text = _HOLDS.sub(lambda match: _on_place(scribe, match), text)
    if placed := _PLACED.match(text):
        wanted, where = count_in(placed["n"]), _where(scribe, placed, body)
        if where:
            return _growing(scribe, wanted, where, body)
    if (whole := _on_all_needles(scribe, text)) is not None:
        return UntilCount(whole, not re.search(r"remain|rem\b|left", text))
    if match := COUNT_REACHED.match(text):
        rest = match["rest"]
        if re.search(r"\d[^a-z]*(?:sole|instep|gusset|thumb) (?:sts?|stitches)\b", text) and not (
            scribe.now().held() and "in" not in rest.split()
        ):
            if scribe.stated is not None and scribe.stated != count_in(match["n"]):
                return UntilCount(scribe.stated, not re.search(r"remain|rem\b|left", rest))
            scribe.claim("lost", 0)
            return UntilMeasures(None, "wanted")
        count = count_in(match["n"])
        if _THAT_ARE.match(rest):
            return UntilCount(count, not re.search(r"remain|rem\b|left", text))
        if re.search(
            r"\b(?:in each|per) (?:section|segment|wedge|panel|repeat|triangle|stripe)", rest
        ):
            if scribe.stated is None:
                scribe.claim("lost", 0)
                return UntilMeasures(None, "wanted")
            return UntilCount(scribe.stated, not re.search(r"remain|rem\b|left", rest))
        if (alone := _NEEDLE_TOLD.match(rest)) is not None and _is_alone(scribe, int(alone[1])):
            return UntilCount(count, not re.search(r"remain|rem\b|left", rest))
        on_place = re.search(r"on needle \d|between|after the|before|marker", rest)
        if (told := _IN_ALL.search(rest)) is not None:
            whole = count_in(told["n"])
            if on_place:
                scribe.claim("count", whole)
                return _growing(scribe, count, rest, body)
            if re.match(r"[ ,]*(?:on|per) (?:each|every|both)\b", rest):
                scribe.claim("other", whole, _on_each(scribe, count))
            return UntilCount(whole, not re.search(r"remain|rem\b|left", rest))
        if not on_place and re.search(r"\b(?:in all|in total|altogether)\b", rest):
            return UntilCount(count, not re.search(r"remain|rem\b|left", rest))
        if _AT_SIDES.match(rest) and not re.search(r"wrap|double|twin|\bds\b", text):
            return _growing(scribe, count, "at each side", body)
        if re.search(
            r"unworked|unwrapped|middle|cent(?:er|re)|between (?:the )?(?:wrap|double|ds\b|twin|gap|turn)|plain",
            rest,
        ):
            if side := re.search(rf"({COUNT}) [^,;]*?(?:on|at) (?:each|either) side", rest):
                _sides(scribe, count, count_in(side[1]), body)
            if (around := _AROUND.search(text)) is not None:
                _sides(scribe, count_in(around["middle"]), count, body)
                return _down_to(scribe, count_in(around["middle"]), body)
            return _down_to(scribe, count, body)
        if re.search(
            r"(?:(?:on|per) (?:each|both|every)(?: of)?(?: the)?(?: two| 2)?|per) ?(?:needle|tip|half|side)",
            rest,
        ) and not re.match(r"[ ,;:(]+\d", rest):
            return UntilCount(_on_each(scribe, count), not re.search(r"remain|rem\b|left", rest))
        if re.search(r"between|on needle|on each|after the|each side|before|marker", rest):
            return _growing(scribe, count, rest, body)
        growing = not re.search(r"remain|rem\b|left", rest)
        return UntilCount(count, growing)
    if match := _EACH_HOLDS.match(text):
        return UntilCount(_on_each(scribe, count_in(match["n"])), growing=True)
    often = _so_often(scribe, text, body)
    if often is None and scribe.stated is not None and _IS_GONE.search(text):
        return UntilCount(scribe.stated)
    return often


_IS_GONE = WordForm(  # "until the gusset is gone. 24 sts"
    r"\b(?:gusset|sides?|extra|picked|new|side sts)\b[^.;]*\b(?:is|are|has been|have been)(?: all)? (?:gone|used up|eaten(?: up)?|swallowed|worked away|decreased(?: away)?|lost)\b",
    re.NOFLAG,
)


_NEEDLE_TOLD = WordForm(
    r"[ ,]*(?:(?:are|remain\w*|rem|left) )*on (?:the )?needle (\d)\W*$", re.NOFLAG
)


def _is_alone(scribe: Scribe, number: int) -> bool:
    """Tell whether all that is in work lies on a needle, since those of the other wait."""
    return scribe.context.resting == 3 - number and bool(scribe.now().held())


def _so_often(scribe: Scribe, text: str, body: RepeatBody) -> st.Times | None:
    """Return the end that is told by rows worked, times, a length, or stitches that are gone."""
    if match := _ROWS.match(text):
        total = [int(value) for value in values_of(count_in(match["n"]))]
        if body.many and not any(value % body.many for value in total):
            return sized([value // body.many for value in total])
        return sized([max(1, round(value / max(1, body.many))) for value in total])
    if (match := _SLIPPED_EDGES.match(text)) and body.many:
        return _until_slipped(count_in(match["n"]), body)
    if (match := _SO_OFTEN.match(text)) and not body.copies:
        return number_of(match["w"]) if match["w"] else count_in(match["n"])
    if (match := _SHAPED.match(text)) and _has_one_shaping(scribe, body):
        return count_in(match["n"])
    if match := _PATTERN_SO_OFTEN.match(text):
        return count_in(match["n"] or match["n2"])
    if match := re.match(rf"you can count (?P<n>{COUNT}) ", text):
        return count_in(match["n"])
    if _ALL_BUT_LAST.match(text):
        return _as_often_as_it_goes(scribe, body)
    if ALL_WORKED.match(text):
        return _all_worked(scribe, text)
    if match := re.search(
        rf"(?:measures?|is|are|reaches)(?: about)? ({COUNT})\s*(cm|mm|\"|in\w*)(.*)$", text
    ):
        since = "cast-on" if FROM_BEGINNING.search(match[3]) else "here"
        if re.search(r"less|short|desired|required", match[3]):
            since = "wanted"
        return UntilMeasures(SizedLength(count_in(match[1]), unit_of(match[2])), since)
    if re.search(r"desired|required|wanted|long|depth|length|fits", text):
        return UntilMeasures(None, "wanted")
    return None


def _where(scribe: Scribe, placed: re.Match[str], body: RepeatBody) -> str:
    """Say where the stitches of a place lie; nothing where the heel is all that is in work."""
    number = scribe.context.places.get(placed["place"])
    if number:
        alone = placed["place"] != "instep" and scribe.now().held()
        return "" if alone else f"on needle {number}"
    half = _side_of_marker(scribe, count_in(placed["n"]), body)
    return f"{half} the marker" if half else ""


def _until_slipped(edge: Count, body: RepeatBody) -> Count | None:
    """Return how often rows are worked for so many slipped stitches at each edge: one in two rows."""
    rows = [2 * int(value) for value in values_of(edge)]
    return None if any(n % body.many for n in rows) else sized([n // body.many for n in rows])


_THAT_ARE = WordForm(  # "12 sts remain, 6 on each side", "64 sts rem: 16 on needles 1 and 3 …"
    rf"(?: (?:remain\w*|rem\b\.?|are left|left))?[ ,;:(–—]+(?:with |that is,? |i\.?e\.?,? |namely,? |or )?{COUNT} (?:{STS} )?(?:each )?(?:on|per|at|for|in|between (?:(?:each|every|any|all|the) )?(?:(?:pair|set) of |two )?(?=markers?\b)) ?",
    re.NOFLAG,
)


def _all_worked(scribe: Scribe, text: str) -> st.Times:
    if "ending with the decrease" in text:  # no stitch is left for the k1 behind it
        scribe.claim("lost", 0)
        return UntilMeasures(None, "wanted")
    return UntilWorked()


_TURNED_STS = WordForm(
    rf"(?:there are |you have )?(?P<n>{COUNT}) (?:(?:ds|double (?:sts|stitches)|wrapped (?:sts|stitches)|twin (?:sts|stitches))|(?:{STS} )?(?:are |have been |is )?(?:wrapped|doubled|turned)) (?:on|at) (?:the )?(?P<side>left|right|each|either|both)\b[^;]*$",
    re.NOFLAG,
)


_AND_PLAIN = WordForm(
    rf"\b(?:and|with) ({COUNT}) (?:plain |single |unworked |ordinary )*(?:(?:sts|stitches) )?(?:(?:remain|are|are left|left|stay) )?(?:in (?:the )?(?:middle|cent(?:er|re)|between)|at (?:the )?(?:middle|cent(?:er|re))|between)\b",
    re.NOFLAG,
)


def is_doubled(what: str) -> bool:
    """Tell whether rows are worked until a number of double stitches are on each side."""
    match = _TURNED_STS.match(what.strip(" .,"))
    return match is not None and match["side"] in ("each", "either", "both")


def _doubled(count: Count, right: bool) -> st.Times | None:
    """Return how often two rows are worked that make one double stitch more on each side.

    The two rows before them made the first on the left.
    """
    times = [int(value) - (not right) for value in values_of(count)]
    return sized(times) if min(times) > 0 else None


_ALL_BUT_LAST = WordForm(
    r"the outermost (?:st|stitch)\b[^;]*\bwrapped (?:for the second time|twice|a second time|again)|only (?:the )?(?:(?:two )?outermost|last|1|one|first)(?: (?:and|&) (?:the )?(?:last|first))? (?:wrapped |twin |double |heel )?(?:sts?|stitch(?:es)?|ds)\b[^;]*\b(?:wrapped|left|remains?|rem|doubled|unworked)\b",
    re.NOFLAG,
)


def _as_often_as_it_goes(scribe: Scribe, body: RepeatBody) -> st.Times:
    """Return how often rows can be worked at all: "until only the outermost st is wrapped"."""
    live, rows = scribe.now(), _rows_of(scribe, body)
    times = []
    for size in range(len(live.tallies)) if rows and live.sure else ():
        editor, done = live.trial((), size), 0
        while done < 100:
            for row in rows:
                for one in of_size(Pattern("", (row,), sizes=live.size_names), size).steps:
                    editor.take(one)
            if editor.troubles:
                break
            done += 1
        times.append(done + 1)
    if not times or max(times) > 100:
        scribe.claim("lost", 0)
        return UntilMeasures(None, "wanted")
    return sized(times)


_ON_NEEDLE = WordForm(
    rf"\b({COUNT})(?: {STS})?(?: (?:rem\w*|left|are left))? on needle (\d)", re.NOFLAG
)


def _on_all_needles(scribe: Scribe, text: str) -> Count | None:
    """Return how many stitches there are, where those of every needle are told; None where not."""
    told = _ON_NEEDLE.findall(text)
    parts = len(live.tallies[0].parts) if (live := scribe.now()).tallies else 0
    needles = max(2, parts, _needles_told(scribe))
    if [number for _, number in told] != [str(n) for n in range(1, needles + 1)]:
        return None
    shares = [whole_numbers(count) for count, _ in told]
    sizes = max(map(len, shares))
    whole: Count = sized(
        [sum(one) for one in zip(*(for_sizes(s, sizes) for s in shares), strict=False)]
    )
    if match := _IN_ALL.search(text):
        scribe.claim("other", count_in(match["n"]), whole)
    return whole


def _on_each(scribe: Scribe, count: Count) -> Count:
    """Return how many stitches there are, given those on each needle."""
    live = scribe.now()
    needles = max(2, len(live.tallies[0].parts) if live.tallies else 0, _needles_told(scribe))
    return sized([int(value) * needles for value in values_of(count)])


def _needles_told(scribe: Scribe) -> int:
    """Return the highest number of a needle that the last rounds name."""
    for entry in reversed(scribe.assembler.entries[-12:]):
        for row in rounds_in((entry.step,)):
            names = [n for item in row.items if isinstance(item, On) for n in item.parts]
            numbers = [int(n[-1]) for n in names if n.startswith("needle ") and n[-1].isdigit()]
            if numbers:
                return max(numbers)
    return 0


def _down_to(scribe: Scribe, middle: Count, body: RepeatBody) -> st.Times | None:
    """Return how often two short rows are worked until this many stitches are left between
    turns.
    """
    live = scribe.now()
    if not live.sure:
        scribe.claim("lost", 0)
        return UntilMeasures(None, "wanted")
    many = []
    lefts = _as_many(middle, len(live.tallies))
    if (worked := _rows_until_between(scribe, lefts, body)) is not None:
        return sized(worked)
    for tally, left, whole in zip(live.tallies, lefts, _widths(scribe, body), strict=True):
        each, over = divmod(whole - left, 2)
        if over and _has_doubles(scribe, body):  # the last one is made in the row that follows
            each, over = divmod(tally.count - left - 1, 2)
        if over or each < 1:
            scribe.claim("odd", middle)
            return UntilMeasures(None, "wanted")
        many.append(each)
    done = 1  # the two rows before these turned one stitch on each side
    times = [each - done for each in many]
    return sized(times) if min(times) > 0 else None


def _rows_until_between(scribe: Scribe, lefts: Sequence[int], body: RepeatBody) -> list[int] | None:
    """Work short rows until so many stitches lie between the last two turns; None if they never do."""
    live, rows, found = scribe.now(), _rows_of(scribe, body), []
    made = (1, 2) if _has_doubles(scribe, body) else (0,)  # the second is made in the row behind
    for size, left in enumerate(lefts):
        editor, done = live.trial((), size), 0
        while (gap := editor.tally.next_of(GAP, beyond=1)) is not None and done < 60:
            if any(gap - ends == left for ends in made) or gap < left:
                break
            for row in rows:
                for one in of_size(Pattern("", (row,), sizes=live.size_names), size).steps:
                    editor.take(one)
            done += 1
            if editor.troubles:
                return None
        if gap is None or not done or all(gap - ends != left for ends in made):
            return None
        found.append(done + (not body.copies))  # they were worked once when they were told
    return found


def _widths(scribe: Scribe, body: RepeatBody) -> list[int]:
    """Return how many stitches the short rows are made of: fewer where the first did not go to an
    edge.
    """
    by_one = _one_less(scribe, body)
    between = [tally.next_of(GAP, beyond=1) if by_one else None for tally in scribe.now().tallies]
    return [
        tally.count if inner is None else inner + 4  # of the two rows before, and of these
        for tally, inner in zip(scribe.now().tallies, between, strict=True)
    ]


def _sides(scribe: Scribe, middle: Count, side: Count, body: RepeatBody) -> None:
    """Claim what stands at each side, where the first of the short rows went to an edge."""
    live = scribe.now()
    if not live.in_rounds and _widths(scribe, body) == [tally.count for tally in live.tallies]:
        scribe.claim("sides", middle, side)


def _one_less(scribe: Scribe, body: RepeatBody) -> bool:
    """Tell whether each row wraps the stitch before the one that was wrapped last."""
    return all(
        isinstance(row.items[0], Run)
        and row.items[0].amount == To(Where.GAP, 1)
        and isinstance(row.items[-1], WrapTurn)
        for row in _rows_of(scribe, body)
        if isinstance(row, st.Row)
    )


def _has_doubles(scribe: Scribe, body: RepeatBody) -> bool:
    """Tell whether the rows begin with a double stitch."""
    rows = [row for row in _rows_of(scribe, body) if isinstance(row, st.Row)]
    return any(getattr(row.items[0], "stitch", "") == "ds" for row in rows)


def _growing(scribe: Scribe, wanted: Count, rest: str, body: RepeatBody) -> st.Times | None:
    """Return how often rows are repeated until one place holds this many stitches."""
    return _place_count(scribe, wanted, rest, body)


def _side_of_marker(scribe: Scribe, wanted: Count, body: RepeatBody) -> str:
    """Return the side of the only marker that comes to hold this many: "until there are 46 heel sts"."""
    live, rows = scribe.now(), _rows_of(scribe, body)
    if not rows or not live.sure or not live.in_rounds:
        return ""
    wants = list(enumerate(_as_many(wanted, len(live.tallies))))
    for side in ("before", "after"):
        done = [_passes(live, size, rows, want, f"{side} the marker") for size, want in wants]
        if any(many is not None and many > 0 for many in done):
            return side
    return ""


def _place_count(scribe: Scribe, wanted: Count, rest: str, body: RepeatBody) -> st.Times | None:
    """Count how often the rows are worked until a needle, or the place between two markers, is so full."""
    live = scribe.now()
    rows = _rows_of(scribe, body)
    if not rows or not live.sure:
        scribe.claim("lost", 0)
        return UntilMeasures(None, "wanted")
    times = []
    for size, want in enumerate(_as_many(wanted, len(live.tallies))):
        done = _passes(live, size, rows, want, rest)
        if done is None and scribe.stated is not None:
            return UntilCount(scribe.stated, growing=True)
        if done is None:
            scribe.claim("lost", 0)
            return UntilMeasures(None, "wanted")
        if done < 0:
            scribe.claim("never", wanted)
            scribe.claim("lost", 0)
            return UntilMeasures(None, "wanted")
        times.append(done)
    just_worked = not body.copies  # those are counted, too
    return sized([max(1, many + just_worked) for many in times])


def _rows_of(scribe: Scribe, body: RepeatBody) -> list[st.Step]:
    if body.copies:
        return list(body.copies)
    if body.numbers:
        found = [scribe.context.row(number) for number in body.numbers]
        return [row for row in found if row is not None] if all(found) else []
    rows = [row for e in scribe.assembler.entries for row in _written_singly(e.step, body.last)]
    return [attrs.evolve(row, count=None) for row in rows[-body.last :]]


def _has_one_shaping(scribe: Scribe, body: RepeatBody) -> bool:
    """Tell whether one of the rows changes the count, so that it is worked as often as all."""
    rows = [row for row in _rows_of(scribe, body) if isinstance(row, st.Round | st.Row)]
    return sum(map(shapes, rows)) == 1


def _written_singly(step: st.Step, most: int) -> list[st.Round | st.Row]:
    """Return the rows of a step: one, or the "knit 2 rounds" that count as two."""
    if isinstance(step, st.Round | st.Row):
        return [step]
    if not isinstance(step, st.RepeatRounds) or not isinstance(step.times, int) or step.every != 1:
        return []
    only = step.steps[0]
    if len(step.steps) > 1 or not isinstance(only, st.Round | st.Row):
        return []
    return [only] * min(step.times, most)


def _passes(live: Live, size: int, rows: Sequence[st.Step], want: int, where: str) -> int | None:
    """Return how many times more the rows are worked; None if the place is unknown, -1 if never."""
    editor = live.trial((), size)
    before = _filled(editor.tally, where)
    if before is None:
        return None
    for done in range(200):
        now = _filled(editor.tally, where)
        if now is None:
            return None
        if now == want:
            return done
        if (done and now == before) or (now - want) * (before - want) < 0:
            return -1
        before = now
        for row in rows:
            for one in of_size(Pattern("", (row,), sizes=live.size_names), size).steps:
                editor.take(one)
        if editor.troubles:
            return None
    return -1


def filled_to(scribe: Scribe, wanted: Count, where: str) -> Count | None:
    """Return how many stitches there are in all, once one place holds so many; None if unknown."""
    live = scribe.now()
    if not live.sure or not live.tallies:
        return None
    where = re.sub(r"ahead of|in front of|up to", "before", where).replace("past", "after")
    held = [_filled(tally, where) for tally in live.tallies]
    wants = zip(live.tallies, held, _as_many(wanted, len(held)), strict=True)
    alls = [0 if there is None else tally.count - there + want for tally, there, want in wants]
    return sized(alls) if all(alls) else None


def _filled(tally: Tally, where: str) -> int | None:
    """Return the stitches between two markers, on a needle, or left beyond the last turn."""
    if where == "at each side":
        return tally.behind if tally.has(GAP) else None
    if needle := re.search(r"needle (\d)", where):
        number = int(needle[1])
        if not tally.parts or number > len(tally.parts) or tally.behind:
            return None
        start = 0 if number == 1 else tally.distance((NEEDLE, number - 2))
        end = tally.count if number == len(tally.parts) else tally.distance((NEEDLE, number - 1))
        return None if start is None or end is None else end - start
    named = re.search(r"markers? ([ab0-9])\b(?: and | to |-)([ab0-9])", where)
    places = sorted(
        (tally.ahead - at, str(key[1]))
        for key, at in tally.ahead_at.items()
        if key[0] == MARKER and 0 < tally.ahead - at < tally.count
    )
    if (side := re.search(r"\b(after|before) (?:the |this |your )?(?:marker|m)\b", where)) and len(
        places
    ) == 1:
        return tally.count - places[0][0] if side[1] == "after" else places[0][0]
    if named:
        at = {name.lower(): place for place, name in places}
        pair = [at.get(named[1]), at.get(named[2])]
        return None if pair[0] is None or pair[1] is None else pair[1] - pair[0]
    if len(places) == 1 and tally.in_rounds:  # the other one hangs where the round begins
        at_start = sum(key[0] == MARKER for key in tally.ahead_at) == 2
        return places[0][0] if at_start else min(places[0][0], tally.count - places[0][0])
    return places[1][0] - places[0][0] if len(places) == 2 else None


def _as_many(count: Count, many: int) -> tuple[int, ...]:
    values = tuple(int(v) for v in values_of(count))
    return (
        values * many
        if len(values) == 1
        else values[:many]
        if len(values) >= many
        else values + values[-1:] * (many - len(values))
    )
