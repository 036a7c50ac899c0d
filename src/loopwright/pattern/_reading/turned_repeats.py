# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Short rows worked over and over: how often is told by what is turned then, and by what is left.

The ways to say that are without number. So numbers are taken out of the words, and the rows are worked
until what lies on the needles is what they tell: stitches in the middle, turned ones at each side,
one or none left. Where it never is, nothing is understood here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._certain_changes import is_double
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._reading.closed_edges import closed_at_edges
from loopwright.pattern._reading.how_far import RepeatBody
from loopwright.pattern._reading.labels import numbers_in, row_name
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.narrowing import in_numbers, less, worked_plain
from loopwright.pattern._reading.onward import rows_before
from loopwright.pattern._reading.repeats import again_rows
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in, for_sizes, stated_in
from loopwright.pattern._reading.widening import takes_one_up
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tally import GAP, Tally
from loopwright.pattern._tolerant_walk import Editor
from loopwright.pattern.items import Item, Repeat, Run, Turn, WrapTurn
from loopwright.pattern.values import Count, Sized, To, UntilWorked, Where, plus, sized, values_of

__all__ = ["going_on", "is_to_gap", "turned_again", "turned_on", "with_last_rows"]

MOST = 120  # rows of one heel
_ROWS = r"(?:rows?|rnds?|rounds?)"
_NAMED = rf"(?:(?:the |these |those |last |both |this |previous |same |two |2 )*{_ROWS}\b(?! ?[\da-h]\b)(?: above)?|(?:the )?(?:short[- ])?{_ROWS} (?P<a>\d+|[a-h])(?: ?(?:and|&|-|–|to) ?(?:row )?(?P<b>\d+|[a-h])\b)|them\b|(?:the )?(?P<c>\d+)(?:st|nd|rd|th) and (?P<d>\d+)(?:st|nd|rd|th) {_ROWS})"
_AGAIN = WordForm(
    rf"(?:(?:and|then|now|so) )*(?:(?:rep(?:eat)?|keep|carry|go|do|doing|work|working|continu(?:e|ing)|cont|proceed|repeating|knit|on|with|to|just|always)\b\.? )+(?:{_NAMED}|(?P<thus>(?:in|like) (?:this|that|the same|like)(?: (?:way|manner|fashion))?|thus|so|as set|as established|as before))[, ]*(?P<rest>.*)$",
)
_MORE_THAN_THIS = WordForm(
    r"\b(?:then|bind|cast|join|pick|break|cut|place|slip|times|(?<!wrapped )(?<!doubled )twice|once|cm|inch(?:es)?|measures?)\b|\d ?(?:cm|mm|in\b|\")|\d+(?:st|nd|rd|th)\b",
    re.NOFLAG,
)
_UNTIL = WordForm(r"\b(?:un)?til+\b|\bto\b(?! (?:\d+ sts? before|the gap|gap))|\bso that\b|\bwhen\b|\bleav(?:e|ing)\b", re.NOFLAG)  # fmt: skip
_ENDING = WordForm(
    rf"\b(?:end(?:ing)?|finish(?:ing)?|stop(?:ping)?|last {_ROWS}(?: worked)?)\b[^.;,]*?(?:\b(?P<side>ws|rs|wrong|right|purl|knit)\b|{_ROWS} (?P<n>\d+|[a-h])\b)",
)
_TURNED = r"wrap\w*|twin\w*|ds\b|doubled?|triplets?|turned|shadow\w*|pair(?:s|ed)?\b"
_MIDDLE = WordForm(
    r"\b(?:un-?wrapped|un-?turned|un-?doubled|plain|single|ordinary|normal|regular|untouched|middle|cent(?:er|re|ral)|(?:in )?between|no (?:wraps?|shadows?)|without|not (?:been )?(?:wrapped|doubled|turned))\b",
    re.NOFLAG,
)
_SIDE = WordForm(
    rf"\b(?:each|either|both|every|the two|per) (?:of the )?(?:sides?|ends?|edges?)\b|\b(?:each|both) (?:way|of them)\b|\b(?:{_TURNED})",
    re.NOFLAG,
)
_ROW_SAID = WordForm(r"(?:\bk|\bp|\bknit|\bpurl) ?$", re.NOFLAG)
_ONE_LEFT = WordForm(
    rf"\b(?:only|just|but|no more than|1|one|a) (?:the |a |1 |one |single |outermost |last |first |end |very |remaining )*(?:(?:{_TURNED}) ?)?(?:sts?|stitch(?:es)?|ones?|{_TURNED})\b|\b(?:outermost|last|end) (?:sts?|stitch(?:es)?)\b[^,;]*?\b(?:are the only|is still|are still|(?:wrapped|turned|doubled) (?:twice|a second time|for the second time|again))|\b(?:1|one) (?:{_TURNED})? ?(?:sts?|stitch(?:es)?)?\b",
    re.NOFLAG,
)
_ALL = WordForm(
    r"\b(?:all|every|everything|each|no|none|nothing|neither|run out|used|gone|ends?|whole|last|outermost|turned|finished|complete[d]?|taken|eaten|swallowed|sides?|out of|edges?)\b",
    re.NOFLAG,
)


def turned_again(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read "repeat rows 3 and 4 until there are 9 twins at each side with 10 plain sts between"."""
    return _again(scribe, said, shaping=False)


def turned_on(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read "continue thus, 1 more st before the dec each row", behind rows told in numbers.

    It is asked last: rows that can be written out with their numbers are better told so.
    """
    return _again(scribe, said, shaping=True)


_OF_A_KIND = WordForm(
    rf"\b(?P<kind>[a-z]{{3,}}(?:[- ][a-z]{{2,}})?) {_ROWS} (?P<a>\d+) ?(?:and|&|-|–|to) ?(?P<b>\d+)\b",
)


def with_last_rows(scribe: Scribe, said: MappedText) -> MappedText:
    """Put "the last 2 rows" for rows of a name that were just worked: "joining rows 3 and 4"."""
    match = _OF_A_KIND.search(said.text)
    if match is None or not (named := scribe.context.named):
        return said
    numbers = numbers_in(f"{match['a']}-{match['b']}")
    kinds = match["kind"].lower().split(" ")
    for kind in (" ".join(kinds), kinds[-1]):
        rows = [named.get(f"{row_name(kind)} {number}") for number in numbers]
        last = rows_before(scribe)[-len(rows) :]
        if None not in rows and [_bare(row) for row in rows] == [_bare(row) for row in last]:
            begin = match.start() + match[0].lower().index(kind)
            return said.sub(
                re.compile(re.escape(said.text[begin : match.end()])), f"the last {len(rows)} rows"
            )
    return said


def _again(scribe: Scribe, said: MappedText, *, shaping: bool) -> list[Says] | None:
    match = _AGAIN.match(said.text.strip(" ."))
    live = scribe.now()
    if match is None or not live.sure or not live.tallies:
        return None
    rest = match["rest"].lower().strip(" .,")
    found = _body(scribe, match)
    if found is None or _MORE_THAN_THIS.search(rest) or not (told := _told(scribe, rest)):
        return None
    body, rows = found
    counted = bool(match["thus"]) and any(not is_to_gap(row) for row in rows)
    if (counted and any(_decreases(scribe, row) for row in rows)) != shaping:
        return None
    if counted:
        counts = [tally.count for tally in live.tallies]
        told_so = [
            row for row in in_numbers(rows_before(scribe), counts) if isinstance(row, st.Row)
        ][-2:]
        if (alike := going_on(told_so)) is None:
            return None
        rows = alike
    often = _how_often(scribe, rows, told, rest)
    if often is None:
        return None
    if often.ending and _STAYS.search(scribe.following):
        often = _with_last_row(often, rows)
    last = [attrs.evolve(row, at=scribe.place) for row in often.last]
    if counted:
        rows = [attrs.evolve(row, at=scribe.place) for row in rows]
        times = often.times if isinstance(often.times, UntilWorked) else plus(often.times, -1)
        return [st.RepeatRounds(tuple(rows), times, ending=often.ending, at=scribe.place), *last]
    end = body.numbers[0] if often.ending and body.numbers else 0
    if often.ending and not end:
        return None
    return [*again_rows(scribe, body, often.times, True, False, 1, None, end=end), *last]


_STAYS = WordForm(r"\b(?:do not|don't|without) turn")


def _with_last_row(often: _Often, rows: Sequence[st.Row]) -> _Often:
    """Return a repeat that ends amid its rows with the last of them by itself: its turn is left out."""
    if isinstance(often.times, UntilWorked) or min(map(int, values_of(often.times))) < 3:
        return often
    return _Often(plus(often.times, -1), last=(rows[0],))


def is_to_gap(row: st.Row) -> bool:
    """Tell whether a row names the turn it goes to, so that it can be worked over and over."""
    amounts = [getattr(item, "amount", None) for item in row.items]
    named = any(isinstance(to, To) and to.where is Where.GAP for to in amounts)
    return named or any(isinstance(item, Repeat) for item in row.items)


def going_on(rows: Sequence[st.Row]) -> list[st.Row] | None:
    """Return two rows told in numbers as rows that go to the turn before them.

    A decrease takes a stitch from each side of the gap; a stitch that is worked with its wraps is
    the first behind it; else each row stops as many stitches before it as it is shorter.

    Examples
    --------
    >>> rows = [st.Row([Run("k", 18), Run("skp"), Run("k"), Turn()])]
    >>> rows += [st.Row([Run("sl"), Run("p", 5), Run("p2tog"), Run("p"), Turn()])]
    >>> [len(one.items) for one in going_on(rows)]
    [5, 5]
    """
    plain = [worked_plain(row.items) for row in rows]
    step = None if None in plain else less(plain[0], plain[1])  # type: ignore[arg-type]
    found = [_to_the_turn(row, step or 1) for row in rows]
    if None in found:
        return None
    first, second = ([*row] for row in found if row is not None)
    if isinstance(second[0], Run) and second[0].stitch == "sl" and first[0] != second[0]:
        first.insert(0, second[0])  # the first row of all slips none
    return [st.Row(first), st.Row(second)]


def _to_the_turn(row: st.Row, step: int) -> Sequence[Item] | None:
    """Return the items of a row with "to gap" for the number of its longest run."""
    items = list(row.items)
    runs = [
        (int(values_of(item.amount)[0]), -at)
        for at, item in enumerate(items)
        if isinstance(item, Run)
        and item.stitch in ("k", "p")
        and not item.with_wraps
        and not isinstance(item.amount, To)
    ]
    if not runs:
        return None
    at = -max(runs)[1]
    run, following = items[at], items[at + 1]
    assert isinstance(run, Run)
    taken = isinstance(following, Run) and following.with_wraps
    items[at] = attrs.evolve(run, amount=To(Where.GAP, 0 if taken else step))
    return items


def _body(scribe: Scribe, match: re.Match[str]) -> tuple[RepeatBody, list[st.Row]] | None:
    """Return which rows are worked again: two that are turned, and towards turns before them."""
    named = scribe.context.named
    first, second = match["a"] or match["c"], match["b"] or match["d"]
    body = RepeatBody(last=2)
    rows: Sequence[st.Round | st.Row | None] = rows_before(scribe)[-2:]
    if first and first.isdigit():
        numbers = numbers_in(f"{first}-{second}")
        rows = [scribe.context.row(number) for number in numbers]
        body = RepeatBody(numbers=numbers)
    elif first:
        rows = [named.get(first.lower()), named.get(str(second).lower())]
        if [_bare(row) for row in rows] != [_bare(row) for row in rows_before(scribe)[-2:]]:
            return None
    turned = [row for row in rows if isinstance(row, st.Row) and _is_short(row)]
    return (body, turned) if len(turned) == len(rows) == 2 else None


def _short_rows(scribe: Scribe) -> list[st.Row]:
    """Return the short rows of this section that were worked before."""
    return [row for row in rows_before(scribe) if isinstance(row, st.Row) and _is_short(row)]


def _bare(row: st.Round | st.Row | None) -> object:
    """Return what a row does, without its turn: that may be told in a sentence of its own."""
    items = () if row is None else row.items
    return items[:-1] if items and items[-1] == Turn() else items


def _is_short(row: st.Row) -> bool:
    return len(row.items) > 1 and isinstance(row.items[-1], Turn | WrapTurn)


# what the words tell


@attrs.frozen
class _Told:
    """What lies on the needles when the rows end: each None or empty where nothing is told of it."""

    middle: tuple[Count, ...] = ()
    side: tuple[Count, ...] = ()
    other: tuple[Count, ...] = ()
    rows: tuple[Count, ...] = ()
    one_left: bool = False
    all_worked: bool = False
    total: Count | None = None

    def __bool__(self) -> bool:
        told = self.middle or self.side or self.other or self.rows
        return bool(told) or self.one_left or self.all_worked or self.total is not None


_NUMBER = WordForm(rf"(?:(?<![a-z\d])|(?<=\b[kp]))({COUNT})(?![a-z\d])")
_OF_NEEDLE = WordForm(r" (?:of|on) (?:the )?(?:needle|tip|n) ?[1-4]\b", re.NOFLAG)
_BOUND = re.compile(r"[,;:]| and | with | at each | on each ")


def _told(scribe: Scribe, rest: str) -> _Told | None:
    """Sort the numbers of a sentence by the words around them."""
    start = _UNTIL.search(rest)
    if start is None:
        return None
    text = _OF_NEEDLE.sub("", _ENDING.sub("", rest[start.start() :]))
    total = scribe.stated or _count_behind(scribe.following)
    found: dict[str, list[Count]] = {"middle": [], "side": [], "other": [], "rows": []}
    numbers = [
        match
        for match in _NUMBER.finditer(text)
        if match[1] != "1" and count_in(match[1]) != scribe.now().count
    ]
    ends = [*[match.start() for match in numbers[1:]], len(text)]
    begun = 0
    for match, end in zip(numbers, ends, strict=False):
        before, after = text[begun : match.start()], text[match.end() : end]
        begun = match.end()
        if re.search(rf"\b{_ROWS} $", before):
            return None  # "until row 16 is done": the number of a row
        if re.match(r" (?:sets|groups|blocks|lots|sides|ends)\b", after):
            continue
        kind, many = _kind(before, after), count_in(match[1])
        if kind == "side" and before.endswith("total of "):  # on both sides together
            many = sized([int(value) // 2 for value in values_of(many)])
        found[kind].append(many)
    one = not numbers and _ONE_LEFT.search(text) is not None
    everything = not numbers and not one and _ALL.search(text) is not None
    told = {kind: tuple(counts) for kind, counts in found.items()}
    return _Told(**told, one_left=one, all_worked=everything, total=total)


_LEFT_BEHIND = WordForm(  # "You'll have 12 sts left", "This leaves 18 heel sts"
    rf"(?:now |then )?(?:you(?:'ll| will| should|'ve| now)*|there|this|that|it)? ?(?:have|got|be left with|are|will be|leaves?|makes)\b[^\d,;.]* (?P<n>{COUNT}) (?:(?:\w+ )?(?:sts|stitches)|left|remaining|altogether)\b(?! (?:on|at|in) (?:each|either|both))",
)


def _count_behind(following: str) -> Count | None:
    """Return the count that the next sentence states, None if it states none."""
    if (stated := stated_in(MappedText.of(following)).count) is not None:
        return stated
    match = _LEFT_BEHIND.match(following)
    return None if match is None else count_in(match["n"])


def _kind(before: str, after: str) -> str:
    """Say of what a number tells how many there are, by the words around it."""
    if _ROW_SAID.search(before):
        return "middle"
    if re.match(r" (?:short[- ])?rows?\b", after):
        return "rows"
    near = before.split(",")[-1].split(";")[-1]
    own = re.split(r"[,;:]", after)[0]
    if re.match(rf" (?:of (?:the|them) )?(?:more )?(?:{_TURNED})", own):
        return "side"
    if re.search(r"\bunworked\b", own):
        return "side" if re.search(r"\b(?:each|either|both)\b", own) else "middle"
    if _MIDDLE.search(own) or re.search(r"\b(?:cent(?:er|re|ral)|middle|plain) $", near):
        return "middle"
    return "side" if _SIDE.search(own) or _SIDE.search(near) else "other"


# what the rows come to


@attrs.frozen
class _Heel:
    """What lies on the needles behind a row: in the middle, turned at each side, left at each side."""

    middle: tuple[int, ...]
    sides: tuple[int, ...]  # numbers that may be told of each side
    left: tuple[int, int]
    count: int
    rows: int


@attrs.frozen
class _Often:
    """How often two rows are worked, those times counted that were told before."""

    times: Count | UntilWorked
    ending: int = 0  # 1 where the first of them is the last
    last: tuple[st.Step, ...] = ()  # rows behind them, where no stitch is left for their last


def _how_often(scribe: Scribe, rows: Sequence[st.Row], told: _Told, rest: str) -> _Often | None:
    """Return how often rows are worked in all, and after which they end; None if it never fits."""
    live = scribe.now()
    half = _ends_first(scribe, rows, rest)
    if told.one_left and _AT_EDGE.search(rest) and all(map(_makes_a_double, rows)):
        told = attrs.evolve(told, one_left=False, all_worked=True)
    if told.all_worked or not (
        told.middle or told.side or told.other or told.rows or told.one_left
    ):
        return _until_worked(scribe, rows, told, half)
    outwards = any(isinstance(i, Run) and i.with_wraps for row in rows for i in row.items)
    if any(_decreases(scribe, row) for row in rows) or (told.one_left and not outwards):
        return None
    every = [list(_worked(scribe, live, rows, size)) for size in range(len(live.tallies))]
    wraps = all(isinstance(row.items[-1], WrapTurn) for row in rows)
    alike = half is None and wraps and not told.other  # as many are wrapped at either side
    odd = len(_short_rows(scribe)) % 2
    parities = [1] if half else [0] if half is False else [odd] if alike else [0, 1]
    if (often := _as_told(told, every, parities)) is not None or outwards:
        return often
    if not (told.middle and told.side and all(map(_adds_up, every))):
        return None
    for some in (attrs.evolve(told, side=()), attrs.evolve(told, middle=())):
        if (often := _as_told(some, every, parities)) is not None:
            scribe.claim("sides", told.middle[0], told.side[0])
            return often
    return None


_AT_EDGE = WordForm(  # "a DS at each edge": the last stitch of each row is turned
    r"\b(?:ds|doubles?)\b.*\b(?:each|either|both|the|every)(?: very)? (?:edge|end)s?\b"
)


def _makes_a_double(row: st.Row) -> bool:
    return is_double(row) and takes_one_up(row)


def _as_told(
    told: _Told, every: Sequence[Sequence[_Heel]], parities: Sequence[int]
) -> _Often | None:
    """Return after how many rows there is what is told, in each size."""
    for parity in parities:
        often = [
            _first_that_fits(told, heels, size, len(every), parity)
            for size, heels in enumerate(every)
        ]
        if None not in often:
            times = sized([int(many or 0) + 1 for many in often])
            return _Often(times, parity) if min(values_of(times)) > 1 or parity else None
    return None


def _adds_up(heels: Sequence[_Heel]) -> bool:
    """Tell whether the rows go from edge to edge: the middle and both sides are all there is."""
    return any(
        m + 2 * side == one.count for one in heels[:4] for m in one.middle for side in one.sides
    )


def _decreases(scribe: Scribe, row: st.Row) -> bool:
    stitches = [item.stitch for item in row.items if isinstance(item, Run)]
    return any(one in scribe.table and scribe.table[one].change < 0 for one in stitches)


def _ends_first(scribe: Scribe, rows: Sequence[st.Row], rest: str) -> bool | None:
    """Tell whether the last row is the first of the two; None where nobody says."""
    match = _ENDING.search(rest) or _ENDING.search(scribe.following)
    if match is None:
        return None
    right = scribe.now().tallies[0].right_side
    if side := (match["side"] or "").lower():
        return (side in ("rs", "right", "knit")) == right
    numbers = [number for number, row in scribe.context.rows.items() if row.items == rows[0].items]
    return match["n"].isdigit() and int(match["n"]) in numbers


def _until_worked(
    scribe: Scribe, rows: Sequence[st.Row], told: _Told, half: bool | None
) -> _Often | None:
    """Return an end where nothing is left beyond a turn, if the rows come to one."""
    live = scribe.now()
    if any(_decreases(scribe, row) for row in rows) and not all(map(_is_even, live.tallies)):
        return None
    steps = closed_at_edges(st.RepeatRounds(tuple(rows), UntilWorked()), live.tallies)
    ends = [live.trial(steps, size) for size in range(len(live.tallies))]
    if half or any(end.tally.has(GAP) for end in ends) or any(map(_went_wrong, ends)):
        return None
    counts = [end.tally.count for end in ends]
    if told.total is not None and for_sizes(values_of(told.total), len(counts)) != tuple(counts):
        return None
    if not told.all_worked and told.total is None:
        return None
    first, *last = steps
    if not last or not isinstance(first, st.RepeatRounds):
        return _Often(UntilWorked())
    times = first.times
    if not isinstance(times, int | Sized):
        return None
    return _Often(plus(times, 1), last=tuple(last))


def _is_even(tally: Tally) -> bool:
    """Tell whether as many stitches are left beyond the turn on one side as on the other."""
    gap = tally.next_of(GAP, beyond=1)
    return abs(tally.behind - (tally.ahead - gap if gap is not None else 0)) <= 1


def _went_wrong(editor: Editor) -> bool:
    return any(trouble.kind != "mirror" for _, trouble in editor.troubles)


def _first_that_fits(
    told: _Told, heels: Sequence[_Heel], size: int, sizes: int, parity: int
) -> int | None:
    """Return how many pairs of rows are worked until what is told is there."""
    for number, heel in enumerate(heels):
        if (number + 1) % 2 == parity and _fits(told, heel, size, sizes):
            return (number + 1) // 2 if not parity else number // 2 + 1
    return None


def _fits(told: _Told, heel: _Heel, size: int, sizes: int) -> bool:
    def one(count: Count) -> int:
        every = for_sizes(values_of(count), sizes)
        return int(every[size]) if len(every) == sizes else -1  # of other sizes: nothing fits it

    middle, sides = [one(n) for n in told.middle], [one(n) for n in told.side]
    if told.one_left:
        return heel.left == (1, 1)
    if any(number not in heel.middle for number in middle):
        return False
    if any(one(number) != heel.rows for number in told.rows):
        return False
    both = {2 * number for number in heel.sides}
    for number in sides:
        if number not in heel.sides and not (number in both and number // 2 in sides):
            return False
    known = {*heel.middle, *heel.sides, heel.count}
    if any(one(number) not in known for number in told.other):
        return False
    return bool(middle or sides or told.rows) or any(one(n) in heel.middle for n in told.other)


def _worked(scribe: Scribe, live: Live, rows: Sequence[st.Row], size: int) -> Iterator[_Heel]:
    """Yield what lies on the needles behind each row, as they are worked over and over."""
    editor = live.trial((), size)
    doubles = _doubles(scribe)
    double = is_double(rows[0])
    inwards = not any(isinstance(i, Run) and i.with_wraps for row in rows for i in row.items)
    worked = sum(doubles) if double else 0
    many = len(_short_rows(scribe))
    for number in range(MOST):
        for step in live.of_size((rows[number % 2],), size):
            editor.take(step)
        if _went_wrong(editor):
            return
        worked += 1
        many += 1
        yield _heel(editor.tally, double, inwards, worked, many)


def _heel(tally: Tally, double: bool, inwards: bool, doubles: int, rows: int) -> _Heel:
    gap = tally.next_of(GAP, beyond=1)
    gaps = [
        len({place for key, place in there.items() if key[0] == GAP})
        for there in (tally.behind_at, tally.ahead_at)
    ]
    left = (tally.behind, tally.ahead - gap if gap is not None else 0)
    middle: tuple[int, ...] = (gap if gap is not None else tally.ahead,)
    sides: set[int] = {left[0]} if left[0] == left[1] else set()
    if double and inwards:
        middle = tuple(number - less for number in middle for less in (1, 2))
        made = doubles // 2 + doubles % 2, doubles // 2
        sides |= {max(made)} if made[0] - made[1] in (0, 1) else set()
        sides |= {min(made) + 1}
    elif gaps[0] == gaps[1]:
        sides.add(gaps[0])
    return _Heel(middle, tuple(sides), left, tally.count, rows)


def _doubles(scribe: Scribe) -> list[int]:
    """Return how many double stitches were made since the last heading, row by row."""
    found: list[int] = []
    for entry in reversed(scribe.assembler.entries):
        if isinstance(entry.step, st.Section):
            break
        times = getattr(entry.step, "times", 1)
        many = times if isinstance(times, int) else 1
        rows = [row for row in rounds_in((entry.step,)) if isinstance(row, st.Row)]
        found += [many for row in rows if is_double(row)]
    return found
