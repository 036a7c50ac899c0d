# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""From one stated count to the next, where a row between the two could not be worked.

Only rows that say all by themselves are counted with: ``*k6, k2tog; rep from * to end``, a row with
each of its decreases named once, "2 sts dec'd". Whatever else is done to the stitches ends a chain.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.row_slips import Token, tokens_at
from loopwright.pattern._editing.spoken import Spoken
from loopwright.pattern._editing.sums import change_in, stated_change
from loopwright.pattern._reading.stated import Stated, count_in, stated_in
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.values import Count, values_of

__all__ = ["chains"]

_PLAIN = re.compile(
    r"(?:(?:k|p|knit|purl)\b\.?(?: to (?:the )?end| all (?:the )?sts| every (?:round|rnd|row)"
    r"| plain| (?:\d+|one|two|three|four) (?:rounds?|rnds?|rows?))?"
    r"|work (?:even|straight)\b.*|(?:in )?patt(?:ern)?|(?:sl|slip) ?1(?: st)?(?: [a-z]+)?, (?:k|p|knit|purl) to end)\W*$",
    re.IGNORECASE,
)
_AGAIN = re.compile(
    r"(?:rep(?:eat)?|work)\b\.? (?:these|the last|last|(?:rounds?|rnds?|rows?) (?P<a>\d+)"
    r"(?:\s*(?:-|–|and|to)\s*(?P<b>\d+))?) ?(?:(?P<many>\d+|two|three|four) )?"
    r"(?:rounds|rnds|rows)?,? ?"
    rf"(?P<before>another |a further |a total of )?(?P<times>{COUNT}) ?(?P<more>more |further )?"
    r"times?(?: (?P<after>more|again))?\W*$",
    re.IGNORECASE,
)
_UNTIL = re.compile(
    r"(?:rep(?:eat)?|work)\b\.? (?:these|the last|last|(?:rounds?|rnds?|rows?) (?P<a>\d+)"
    r"(?:\s*(?:-|–|and|to)\s*(?P<b>\d+))?) ?(?:(?P<many>\d+|two|three|four) )?"
    rf"(?:rounds|rnds|rows)?,? ?until (?:there are |you have )?(?P<n>{COUNT}) (?:sts?|stitches)\b"
    r"(?![^;]*\b(?:on|in|at|between|before|after|each|un\w+|past|beyond|every|needles?)\b)[^;]*$",
    re.IGNORECASE,
)
_ROUNDS = re.compile(r"(?:k|p|knit|purl|work) \d+ (?:rounds?|rnds?|rows?)\b", re.IGNORECASE)
_SHAPES = re.compile(
    r"\b(?:inc|dec|k2tog|p2tog|ssk|skp|yo\b|m1|kfb|tog|cast|bind|pick|shap|narrow)", re.IGNORECASE
)
_BEGUN = re.compile(
    rf"(?:(?:with|using) [^,.]{{1,30}}, ?)?(?:cast(?:ing)? (?:on|up)|co|set (?:up|on))\b\D{{0,12}}(?P<n>{COUNT})",
    re.IGNORECASE,
)
_MOVES = re.compile(r"\b(?:pick|cast|co|held|hold\w*|waste|scrap|place|put|heel|instep)\b", re.I)
_WHOLE = re.compile(  # "42 sts, 21 on each half"
    rf"(?P<n>{COUNT}) (?:sts?|stitches)\s*[,:;(—–-]+ ?{COUNT} (?:sts? |stitches )?"
    r"(?:on|in) (?:each|both) [a-z ]+[.)]*$",
    re.IGNORECASE,
)
_NEEDLE = re.compile(r"\b(?:n|needles?) ?\d(?: and \d)?:", re.IGNORECASE)
_DOES = re.compile(  # anything that may change a count
    r"\d|\b(?:k|p|knit|purl|sl|slip|cast|bind|co|bo|pick|place|put|held|hold|wast|join|inc|dec|tog|ssk|yo|m1|"
    r"kfb|rep|repeat|continue|cont|shap\w*|same|last|each|every|until|graft|cut|break|thread|draw)",
    re.IGNORECASE,
)
_PART_ROW = re.compile(
    rf"(?:k|p|knit|purl) ?(?P<n>{COUNT}),? turn\b[^a-z]*(?:and )?leav(?:e|ing) (?:the )?(?:last|other|rem\w*\.?) "
    rf"(?P<left>{COUNT}) (?:sts?|stitches)\b",
    re.IGNORECASE,
)
_TURNS = re.compile(r"\b(?:turn|w&t|wrap|gap|ds)\b", re.IGNORECASE)
_REPEAT = re.compile(
    r"\*\s*(?P<inner>[^*;]+?)[;,.] ?rep(?:eat)? (?:from )?\* ?(?:to (?:the )?(?:end|marker|last)"
    r"(?: of (?:the )?(?:round|rnd|row))?|around|all round)?\W*$",
    re.IGNORECASE,
)
_Values = tuple[int, ...]


@attrs.define
class _Chain:
    """What is known on the way: stitches, and by how many each row since number 1 changed them."""

    now: _Values | None = None
    changes: tuple[_Values, ...] = ()
    before: tuple[_Values | None, tuple[_Values, ...]] = (None, ())  # the last sentence


def chains(sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find a stated count that the rows since the last one can't give."""
    chain, section = _Chain(), -1
    for one in sentences:
        first = one.label is not None and one.label.numbers[:1] == (1,)
        if one.section != section or first:
            section, chain.changes = one.section, ()
        stated = stated_in(one.said)
        count = None if stated.count is None else _values(stated.count)
        if count is None and (whole := _WHOLE.search(one.text)) is not None:
            count = _values(count_in(whole["n"]))
            stated = Stated(one.said.piece(0, whole.start()))
        bare = stated.said.text[one.start :] if one.start < len(stated.said.text) else ""
        now, changes = chain.now, chain.changes
        said = _next(chain, one, bare, count)
        chain.before = now, changes
        if said:
            place = one.place()
            yield Finding(WARNING, "chain", said, place.line, place.column)


def _values(count: Count) -> _Values:
    return tuple(int(value) for value in values_of(count))


def _next(chain: _Chain, one: Spoken, bare: str, count: _Values | None) -> str:
    """Take one sentence into a chain; return what is wrong with the count that it states."""
    again = _AGAIN.match(bare)
    if again is not None:
        return _repeated(chain, again, count)
    until = _UNTIL.match(one.text[one.start :])
    if until is not None:
        return _worked_until(chain, until)
    if not bare.strip(" ."):
        return _told(chain, one, count)
    if (part := _PART_ROW.match(one.text[one.start :])) is not None:
        return _part_row(chain, part)
    if not _DOES.search(one.text):
        return ""
    change = None if _TURNS.search(bare) else _change_of(one, bare)
    if change is None and (repeat := _REPEAT.match(bare)) is not None:
        tokens = tokens_at(repeat["inner"], 0)
        if tokens and tokens[-1].end == len(repeat["inner"]):
            return _divided(chain, tokens, count)
    if change is None and (begun := _BEGUN.match(bare)) is not None:
        chain.now, chain.changes = count or _values(count_in(begun["n"])), ()
        return ""
    if change is None:
        shaped = one.label is not None and not _MOVES.search(bare)
        grown = _grown(chain.now, count) if shaped else None
        chain.now, chain.changes = count, (*chain.changes, grown) if grown else ()
        return ""
    chain.changes += ((change,),)
    made = None if chain.now is None else tuple(n + change for n in chain.now)
    chain.now = made if count is None else count
    return _wrong(made, count)


def _grown(before: _Values | None, after: _Values | None) -> _Values | None:
    """Return by how many two stated counts differ: what the row between them did, however it did."""
    if before is None or after is None or len(before) != len(after):
        return None
    return tuple(b - a for a, b in zip(before, after, strict=True))


def _in_all(changes: Sequence[_Values], sizes: int) -> _Values | None:
    """Return what some rows change together, in each size."""
    columns = [one * sizes if len(one) == 1 else one for one in changes]
    if any(len(one) != sizes for one in columns):
        return None
    return tuple(map(sum, zip(*columns, strict=True)))


def _told(chain: _Chain, one: Spoken, count: _Values | None) -> str:
    """Take a count that stands alone, or by how many the row before changed it."""
    change = stated_change(one.text)
    if change is not None and count is None:
        known, changes = chain.before
        chain.now = None if known is None else tuple(n + change for n in known)
        chain.changes = (*changes, (change,))
        return ""
    wrong = _wrong(chain.now, count)
    chain.now = count or chain.now
    return wrong


def _wrong(made: _Values | None, count: _Values | None) -> str:
    if made is None or count is None or len(made) != len(count) or made == count:
        return ""
    return f"{_shown(count)} sts are stated; from the count before, there are {_shown(made)}"


def _shown(values: _Values) -> str:
    if len(set(values)) == 1:
        return str(values[0])
    return f"{values[0]} ({', '.join(map(str, values[1:]))})"


def _change_of(one: Spoken, bare: str) -> int | None:
    """Return by how many a row surely changes the count; None where that is open."""
    pieces = [piece.strip() for piece in re.split(r"[.;]", _NEEDLE.sub("", bare))]
    if all(_PLAIN.match(piece) for piece in pieces if piece):
        return 0
    if _ROUNDS.match(bare) and not _SHAPES.search(bare):
        return 0
    told = stated_change(one.text)
    return told if told is not None else change_in(bare)


def _divided(chain: _Chain, tokens: Sequence[Token], count: _Values | None) -> str:
    """Work a repeat all around the stitches that are known."""
    takes, known = sum(token.takes[0] for token in tokens), chain.now
    leaves = takes + sum(token.change for token in tokens)
    chain.now, chain.changes = count, ()
    if known is None or takes < 1 or any(len(token.takes) > 1 for token in tokens):
        return ""
    if any(n % takes for n in known):
        return f"{_shown(known)} sts are no multiple of {takes}"
    made = tuple(n // takes * leaves for n in known)
    chain.now = made if count is None else count
    return _wrong(made, count)


def _repeated(chain: _Chain, again: re.Match[str], count: _Values | None) -> str:
    """Repeat the rows of a chain: how often is said, and what comes of it."""
    rows = _rows_of(again)
    known, changes = chain.now, chain.changes
    chain.now, chain.changes = count, ()
    if known is None or len(changes) != rows or not rows:
        return ""
    in_all = (again["before"] or "").lower().startswith("a total")
    more = bool(again["more"] or again["after"]) or (bool(again["before"]) and not in_all)
    times = _values(count_in(again["times"]))
    times = times * len(known) if len(times) == 1 else times
    each = _in_all(changes, len(known))
    if not each or not all(each) or not (in_all or more) or len(times) != len(known):
        return ""
    made = tuple(n + by * (often - in_all) for n, by, often in zip(known, each, times, strict=True))
    chain.now = made if count is None else count
    return _wrong(made, count)


def _part_row(chain: _Chain, part: re.Match[str]) -> str:
    """Work some of the stitches and leave the others: together they are all that there are."""
    worked, left = _values(count_in(part["n"])), _values(count_in(part["left"]))
    known, chain.now, chain.changes = chain.now, worked, ()
    if len(worked) != len(left):
        return ""
    made = tuple(a + b for a, b in zip(worked, left, strict=True))
    if known is None or len(known) != len(made) or known == made:
        return ""
    return f"{_shown(worked)} and {_shown(left)} sts are {_shown(made)}; there are {_shown(known)}"


def _rows_of(said: re.Match[str]) -> int:
    """Return how many rows are repeated, 0 where it is not said."""
    if said["b"]:
        return int(said["b"]) - int(said["a"]) + 1
    word = (said["many"] or "").lower()
    return {"two": 2, "three": 3, "four": 4}.get(word) or int(word or 0)


def _worked_until(chain: _Chain, until: re.Match[str]) -> str:
    """Repeat the rows of a chain until so many are there: what they change must lead there."""
    rows, wanted = _rows_of(until), _values(count_in(until["n"]))
    known, changes = chain.now, chain.changes
    chain.now, chain.changes = wanted, ()
    if known is None or len(changes) != rows or len(known) != len(wanted):
        return ""
    each = _in_all(changes, len(known))
    if not each or not all(each):
        return ""
    for now, end, by in zip(known, wanted, each, strict=True):
        if (end - now) % by or (end - now) // by < 0:
            return f"from {now} sts, {abs(by)} at a time, there are never {end}"
    return ""
