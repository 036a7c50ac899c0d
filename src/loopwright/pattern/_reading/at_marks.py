# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rounds told by what is done at each marker: "knit, working k2tog before each marker"."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._tally import MARKER, Tally

__all__ = ["told_at_marks"]

_DO = r"(?:k2tog(?: tbl)?|k3tog|p2tog|ssk|ssp|skpo?|m1[lr]?|make (?:1|one)(?: st(?:itch)?)?|kfb|yo)"
_WORK = rf"(?:(?:work|knit|mak(?:e|ing)(?! (?:1|one))|do)(?:ing)? )?(?:an? |one )?(?P<{{0}}>{_DO})(?: (?:over|on|in|into) (?:the )?(?:2 |two |3 )?(?:sts|stitches|st|stitch))?"
_EACH = r"(?:each|every|all(?: the)?|both(?: the)?)(?: of the)?(?: (?:two|three|four|five|six|seven|eight|\d))? markers?(?:,? all (?:two|three|four|five|six|seven|eight|\d)(?: of them)?)?"
_AT = r"(?:just |right |immediately )?"
_HERE = r"(?P<lead>[a-z0-9][a-z0-9 .-]*: )?(?:(?:then|now|and) )?(?:starting (?:with|on) the (?:very )?next (?:round|rnd),? )?(?:knit(?: all(?: the)? (?:sts|stitches)| to (?:the )?end| around)?,? (?:but )?(?=work|knit|mak|do|k\d|ssk|m1|kfb|yo))?"
_OFTEN = r"(?:,? (?:on |in )?(?P<every>(?:every|each|alternate)(?: (?:other|second|2nd|alt\w*|third|3rd|fourth|4th|\d+th|foll\w*))* (?:round|rnd)s?),? (?P<until>(?:un)?til.*|to (?:there are )?\d.*))?"
_STOP = r"(?P<count>(?::|,| [–—-])? ?[(\[]?[^()\[\]*,;:]*\b\d+[^()\[\]*,;:]{0,24}[)\]]?)?[.;]?$"
_A, _B = _WORK.format("before"), _WORK.format("after")
_FORMS = tuple(
    WordForm(f"{_HERE}(?:{said}){_OFTEN}{_STOP}")
    for said in (
        rf"{_A} {_AT}before(?: {_EACH})?,? (?:and )?{_B} {_AT}after(?: it| {_EACH})",
        rf"{_B} {_AT}after(?: {_EACH})?,? (?:and )?{_A} {_AT}before(?: it| {_EACH})",
        rf"after {_EACH},? {_B},? (?:and )?before {_EACH},? {_A}",
        rf"{_WORK.format('both')} (?:before and after|on (?:either|each|both) sides? of) {_EACH}",
        rf"{_A} {_AT}before {_EACH}",
        rf"{_B} {_AT}after {_EACH}",
    )
)
_TAKEN = {"k3tog": 3, "m1": 0, "m1l": 0, "m1r": 0, "yo": 0, "kfb": 1}


def told_at_marks(scribe: Scribe, said: MappedText) -> Iterator[MappedText]:
    """Yield what a sentence says that tells of each marker: a round, and how often it is worked.

    Where a round has markers in its midst alone, that at its beginning is none of them.
    """
    if "marker" not in said.text.lower():
        return
    match = next((found for form in _FORMS if (found := form.match(said.text))), None)
    if match is None:
        return
    live = scribe.now()
    if not live.sure or not live.is_whole_round:
        return
    marks = {_hung(tally) for tally in live.tallies}
    if len(marks) > 1 or (hung := marks.pop()) is None:
        return
    done = match.groupdict()
    both = done.get("both")
    before, after = (_short(done.get(name) or both) for name in ("before", "after"))
    lead = match["lead"] or ("Dec rnd: " if match["every"] else "Next rnd: ")
    first, (many, whole, ends) = f"{after}, " if after else "", hung
    if ends:
        row = f"{lead}*{first}{_to(before)}, slip marker; rep from * to end"
    elif whole:
        row = f"{lead}[{first}{_to(before)}, slip marker] {many} times, {first}{_to(before, '')}"
    else:
        row = f"{lead}[{_to(before)}, slip marker{first and ', ' + first[:-2]}] {many} times, k to end"
    yield _in_place(said, f"{row}{match['count'] or ''}.")
    if match["every"]:
        name = lead.rstrip(": ").lower()
        yield _in_place(said, f"Work the {name} on {match['every']} {match['until'].rstrip('.')}.")


def _short(stitch: str | None) -> str | None:
    return stitch and ("m1" if stitch.lower().startswith("make") else stitch.lower())


def _to(stitch: str | None, place: str = "marker") -> str:
    """Return how far is knit to work a stitch before a marker, or the end where it has no name."""
    if stitch is None:
        return f"k to {place or 'end'}"
    taken = _TAKEN.get(stitch, 2)
    sts = f"{taken} st{'s' * (taken > 1)}"
    far = (f"{sts} before {place}" if place else f"last {sts}") if taken else place or "end"
    return f"k to {far}, {stitch}"


def _hung(tally: Tally) -> tuple[int, bool, bool] | None:
    """Return how many markers hang amid a round; whether they part it alike; whether one ends it."""
    hung = sorted(far for (kind, _), far in tally.ahead_at.items() if kind == MARKER)
    amid = [far for far in hung if 0 < far < tally.ahead]
    if not amid:
        return None
    ends = [0, *amid, tally.ahead]
    parts = {b - a for a, b in pairwise(ends)}
    return len(amid), len(parts) == 1, len(hung) > len(amid)


def _in_place(said: MappedText, words: str) -> MappedText:
    last = len(said.at) - 1
    return MappedText(words, tuple(said.at[min(n, last)] for n in range(len(words) + 1)))
