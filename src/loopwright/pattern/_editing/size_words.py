# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What is worked in some sizes only: each size told once, and by a name that there is."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.figures import values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.row_slips import tokens_at
from loopwright.pattern._editing.spoken import OF_SOME_SIZES, Sentences, Spoken
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["size_words"]

_ONLY = WordForm(
    r"^\W*(?:for )?(?P<all>all )?(?:sizes?|(?P<other>other|remaining)(?: sizes?)) ?(?P<names>[^:.;]{1,40}?)(?: only)?(?::| only\b|, (?=[a-z]))|^\W*(?P<names2>[^:.;,]{1,24}?) sizes?(?: only)?:",
)
_SPLIT = re.compile(r",? and |,? & |, | or ")
_ONE_OF = WordForm(r"^\W*(?:for )?size\b")  # "sizes M and L only: … Size L only: …": one row more
SOON = 3  # lines between what is said of one size and of the next


_NUMBER = WordForm(r"\b(?:rounds?|rnds?|rows?) (?P<n>\d+)")


def _two_rows(first: str, second: str) -> bool:
    """Tell whether two lines are two rows: "(RS)", then "(WS)", or "Rnd 1" and "Rnd 2"."""
    numbers = [_NUMBER.search(text) for text in (first, second)]
    if None not in numbers and len({one["n"] for one in numbers if one}) == 2:
        return True
    sides = [re.search(r"\((rs|ws)\)", text, re.IGNORECASE) for text in (first, second)]
    return None not in sides and len({side[1].lower() for side in sides if side}) == 2


def size_words(sentences: Sentences, sizes: Sequence[str]) -> Iterator[Finding]:
    """Find one size told of twice in a row, where another is left out, and a size that is none."""
    yield from _round_of_one(sentences)
    known = {name.strip().lower(): name for name in sizes}
    if len(known) < 2:
        return
    before: tuple[set[str], Spoken] | None = None
    for one in sentences.about(_ONLY):
        match = _ONLY.match(one.text)
        names = _names(match) if match else set()
        if match is None or not names:
            continue
        if match["all"] or match["other"]:
            before = None
            continue
        strange = names - known.keys()
        place = one.place()
        if strange and len(strange) < len(names):
            said = f"there is no size {min(strange)}; the sizes are {', '.join(sizes)}"
            yield Finding(WARNING, "sizes", said, place.line, place.column)
        if strange:
            continue
        if (
            before is not None
            and before[1].section == one.section
            and 0 < place.line - before[1].line <= SOON
            and names & before[0]
            and not (names < before[0] and _ONE_OF.match(one.text))
            and not (
                before[0] < names == {*[*known][-len(names) :]}
            )  # one size joins after another
            and (names | before[0]) < known.keys()
            and not _two_rows(before[1].text, one.text)
        ):
            twice, left = min(names & before[0]), min(known.keys() - names - before[0])
            said = f"size {known[twice]} is told of in line {before[1].line}: is {known[left]} meant in one of the two?"
            yield Finding(WARNING, "sizes", said, place.line, place.column)
        before = names, one


_COUNTED = WordForm(
    rf"(?<![\d.])(?P<n>{COUNT}) (?:live )?{STS}(?! (?:before|after|from|dec|inc|more|less|fewer))|\b(?:cast(?:ing)? (?:on|up)|co)\b:? ?(?P<m>{COUNT})"
)
_AROUND = WordForm(
    r"(?:^|[:.] ?)\*\s*(?P<inner>[^*;]+?)[;,.] ?rep(?:eat)? (?:from )?(?:the )?\* ?(?:to (?:the )?(?:end|marker|m)\b(?: of)?|(?:all )?a?round\b)"
)
LEAST = 16  # stitches of a round


def _round_of_one(sentences: Sentences) -> Iterator[Finding]:
    """Find a repeat all round, for one size alone, that goes into the stitches of none, where one a stitch off does."""
    for at in sentences.places_about(_AROUND):
        one = sentences[at]
        around = _AROUND.search(one.figures)
        if around is None or OF_SOME_SIZES.search(one.text) is None:
            continue
        before = next(filter(None, map(_last_count, reversed(sentences[:at]))), ())
        tokens = tokens_at(around["inner"], 0)
        takes = sum(token.takes[0] for token in tokens)
        whole = bool(tokens) and tokens[-1].end == len(around["inner"]) and len(before) > 1
        whole = whole and all(len(token.takes) == 1 for token in tokens)
        near = any(n % step == 0 for step in (takes - 1, takes + 1) for n in before if step > 1)
        if whole and near and takes and all(n % takes for n in before):
            place = one.place_in_figures(around.start("inner"))
            said = f"{by_size(before)} sts are no multiple of {takes} in any size"
            yield Finding(WARNING, "sizes", said, place.line, place.column)


def _last_count(one: Spoken) -> tuple[int, ...]:
    """Return the last count of a round that a sentence tells."""
    counts = [values(m["n"] or m["m"]) for m in _COUNTED.finditer(one.figures)]
    return next((many for many in reversed(counts) if max(many) >= LEAST), ())


def _names(match: re.Match[str]) -> set[str]:
    names = match["names"] or match["names2"] or ""
    if re.search(r"[(\[]", names):
        return set()  # a list of all sizes
    return {name.strip(" ()").lower() for name in _SPLIT.split(names) if name.strip(" ()")}
