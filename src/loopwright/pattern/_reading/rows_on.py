# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The numbered rows just told, worked on for so many: "work 24 rows like this in all"."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._contents import courses_in
from loopwright.pattern._grammar.said import Again
from loopwright.pattern._reading.growth import changes, cycle_of
from loopwright.pattern._reading.onward import rows_before
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in, number_of
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._words import NUMBER_WORDS
from loopwright.pattern.values import Count, Sized, UntilCount, as_many, plus, sized, values_of

__all__ = ["left_of", "rows_on"]

_Row = st.Round | st.Row
_N = rf"(?P<n>{COUNT}|{'|'.join(NUMBER_WORDS)})"
_C = r"(?:rounds|rnds|rows)\b"
_WAY = r"(?:in (?:exactly )?(?:this|that|the same|like) (?:way|manner|fashion)|like (?:this|that|these)|thus|as (?:set|established|before))"
_GO = r"(?:(?:and|now|then) )*(?:work|knit|continue|cont\.?|carry on|go on|keep(?: on| repeating)?|keep going|proceed|repeat|rep)"
_THESE = rf"(?:(?:these|the|those|both|the last) (?:(?:two|three|four|2|3|4) )?{_C}|them|{_C} \d+ ?(?:and|to|-|–|&) ?\d+)"
_WHAT = r"(?:the |this )?(?:heel |whole )*(?:flap|heel|piece|band|strip|work|border|tab|it)"
_DONE = r"(?:have been|are|were) (?:worked|done|made|knitted|completed?|finished)"
_ALL = r"(?:in all|in total|altogether|total|all told)"
_MORE = r"(?:for )?(?:(?P<more>another |a further |the next ))?"
_FORMS = (
    WordForm(  # "work 24 rows like this in all", "carry on in this manner for 12 more rounds"
        rf"(?:(?P<works>(?:work|knit|do)) |{_GO} ){_MORE}{_N} (?P<more2>more |further )?{_C} (?:of (?:this|that|these|it)|{_WAY}),? ?(?P<all>{_ALL})?"
    ),
    WordForm(
        rf"{_GO}(?: on)? {_WAY},? (?:until|till) (?:you have (?:worked )?|there are )?{_N} {_C}(?P<all>(?: {_DONE}| {_ALL})*)"
    ),
    WordForm(
        rf"{_GO}(?: on)? {_WAY},? {_MORE}{_N} (?P<more2>more |further )?{_C} ?(?P<all>{_ALL})?"
    ),
    WordForm(  # "continue until the flap has 24 rows"
        rf"{_GO}(?: on)?(?: {_WAY})?,? (?:until|till) {_WHAT} (?:has|counts|is|measures|reaches) (?P<all>){_N} {_C}(?: (?:long|deep|high|{_ALL}))?"
    ),
    WordForm(  # "go on with these two rows until you have done 31, the last one purl"
        rf"{_GO}(?: on)? (?:(?:with|in|working|repeating|over) )?(?P<these>{_THESE}),? (?:until|till) (?:you(?: have|'ve)? (?P<did>worked |done |made |knitted |completed )?|there are )?{_N}(?P<such> (?:such )?{_C})?(?P<all>(?: {_DONE}| {_ALL})*)(?:,? (?:and )?(?:end|finish)ing (?:with|on|after) (?:an? )?[a-z0-9 ]+|,? (?:with )?the last (?:one |row )?(?:being |is )?(?:an? )?[a-z]+(?: one| row)?)?"
    ),
)


def rows_on(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Return the numbered rows just told, as often as so many rows ask for; None for other words."""
    text = said.text.strip(" .").lower()
    match = next((found for form in _FORMS if (found := form.fullmatch(text))), None)
    block = _block(scribe) if match is not None else None
    if match is None or block is None:
        return None
    told = match.groupdict()
    if (
        "such" in told
        and not (told["did"] or told["such"] or told["all"])
        and _shapes(scribe, block)
    ):
        return _until_left(scribe, count_in(match["n"]), block)
    told_so = told["all"] is not None or (told.get("works") and _done(scribe) == len(block) > 1)
    until = told_so and not (told.get("more") or told.get("more2"))
    if until and "these" in told and _done(scribe) == len(block):
        return _in_all(scribe, match["n"], block)
    many = _left(scribe, match["n"], done=_done(scribe) if until else 0)
    if many is None:
        return None
    rows = [attrs.evolve(row, count=None, at=scribe.place) for row in block]
    return _so_many(scribe, rows, many)


def _block(scribe: Scribe) -> list[_Row] | None:
    """Return the numbered rows that end with the one worked last, if nothing in them grows."""
    rows = scribe.context.rows
    block = [rows[number] for number in sorted(rows)]
    worked = rows_before(scribe)
    if not block or [*rows] != list(range(1, len(rows) + 1)) or not scribe.now().sure:
        return None
    if [one.items for one in worked[-len(block) :]] != [one.items for one in block]:
        return None
    grown = cycle_of(worked)
    return None if grown is not None and any(map(changes, grown[1])) else block


def _done(scribe: Scribe) -> int:
    """Return how many rows were worked since row 1 of the block, in numbers."""
    return courses_in(scribe.assembler.as_read()[scribe.context.began :])


def _in_all(scribe: Scribe, said: str, block: Sequence[_Row]) -> list[Says] | None:
    """Return a block, worked once, so often that there are so many rows, and those of the next."""
    many = _left(scribe, said, done=0)
    pairs = [divmod(int(value), len(block)) for value in values_of(many or 0)]
    over = {rest for _, rest in pairs}
    if len(over) > 1 or min(times for times, _ in pairs) < 1:
        return None
    times = sized([often for often, _ in pairs])
    rows = [attrs.evolve(row, count=None, at=scribe.place) for row in block[: over.pop()]]
    return [Again((), len(block), times, False, 1, 0, False), *rows]


def _shapes(scribe: Scribe, block: Sequence[_Row]) -> bool:
    """Tell whether rows leave more stitches or fewer than there were."""
    live = scribe.now()
    rows = [attrs.evolve(row, count=None) for row in block]
    return bool(live.tallies) and live.trial(rows, 0).tally.count != live.tallies[0].count


def _until_left(scribe: Scribe, many: Count, block: Sequence[_Row]) -> list[Says] | None:
    """Return rows until there are so many stitches: "until you have 8", of rows that shape."""
    if scribe.context.last != len(block):
        return None
    there = [tally.count for tally in scribe.now().tallies]
    growing = {n > now for n, now in zip(as_many(many, sized(there)), there, strict=False)}
    if len(growing) != 1:
        return None
    return [Again((), len(block), UntilCount(many, growing.pop()), False, 1, 0, False)]


def _left(scribe: Scribe, said: str, done: int) -> Count | None:
    many = count_in(said) if said[:1].isdigit() else number_of(said)
    left = [int(value) - done for value in values_of(many)]
    return sized(left) if min(left) > 0 else None


def _so_many(scribe: Scribe, rows: Sequence[_Row], many: Count) -> list[Says] | None:
    """Return so many rows: whole blocks, and those of the next that are still wanted."""
    if isinstance(many, Sized):
        blocks = [divmod(int(value), len(rows)) for value in many.values]
        if any(rest for _, rest in blocks):
            return None
        return [st.RepeatRounds(tuple(rows), sized([n for n, _ in blocks]), at=scribe.place)]
    times, rest = divmod(many, len(rows))
    whole: list[Says] = [st.RepeatRounds(tuple(rows), times, at=scribe.place)] if times > 1 else []
    return [*whole, *(rows if times == 1 else ()), *rows[:rest]]


def left_of(scribe: Scribe, total: Count, rows: Sequence[st.Step], every: int) -> Count:
    """Return how often a row is still to be worked: once less where it was just told."""
    entries = [e.step for e in scribe.assembler.entries if not isinstance(e.step, st.Note)]
    row = rows[0]
    last = [getattr(step, "items", None) for step in entries[-every:]]
    just = len(rows) == 1 and getattr(row, "items", ()) in last
    less = plus(total, -1) if just else total
    return less if min(values_of(less)) > 0 else total
