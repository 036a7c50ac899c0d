# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A thumb set aside, and taken up again: told in any words, known by its numbers.

"Knit to the first marker and take it off. Thread the gusset stitches onto scrap yarn. Cast on 2
stitches over the gap, and knit to the end." Which stitches wait is certain where two markers stand
as far apart as is said; all other words tell how the hands do it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.stated import for_sizes, numbers_of_sizes, stated_in, whole_numbers
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tally import MARKER, Tally
from loopwright.pattern.values import as_many, sized, values_of

__all__ = ["may_set_thumb_aside", "may_take_up_thumb", "thumb_aside", "thumb_taken_up"]

Numbers = tuple[int, ...]

_KEEPS = r"(?:holders?|hold\b|wy\b|waste|scrap|spare|thread(?! (?:the|next|these|those|all|\d))|yarn|pin|safety pin|string|wool|cotton|aside)"
_PUTS = WordForm(
    rf"\b(?:slip|sl|put|place|thread|transfer|leave|slide|move|set|hang|run|keep|hold|drop(?! (?:the )?m(?:arkers?)?\b)|go|goes|park|collect)\b(?P<what>[^.;]*?)\b{_KEEPS}\b"
    r"|\b(?:spare|scrap|waste) (?:yarn|wool|thread)\b[^.;,\d]*\b(?:take off|take|pick|lift|slip|collect)\b(?P<off>[^.;]*?(?:sts|stitches))\b"
    rf"|(?P<to>\b{COUNT} (?:\w+ )?(?:sts|stitches)) (?:(?:go|come|are (?:put|slipped|placed|threaded|transferred|left)|rest|wait) )?(?:on|to|onto) (?:\w+ ){{0,2}}{_KEEPS}"
)
_GAP = WordForm(
    rf"\b(?:cast(?:ing)? on|co|make|making|backward[- ]loop)\b\D{{0,45}}?(?P<a>{COUNT})(?! ?(?:left|right|rows?|rnds?|rounds?)\b)|\b(?P<b>{COUNT}) new (?:sts?|stitch)|\bclose the gap with (?P<c>{COUNT})|\bcast (?P<d>{COUNT}) (?:new |extra )?(?:sts?|stitch(?:es)?) on(?:to)?\b",
)
_LOOPED = WordForm(  # "m1 (backward loop) over the gap": cast on
    r"\bm1\b(?= ?\(?(?:by |with |using )?(?:a |the )?(?:backwards?|e-?|half[- ]hitch)[- ]?(?:loop)?\b| (?:over|across|in|at) the (?:gap|space))",
)
_THUMB = WordForm(r"\b(?:thumb|gusset|markers?|m|gap|in their (?:place|stead))\b")
_WHOSE = WordForm(r"\b(?:thumb|gusset|between|second m\w*|next m\w*|other m\w*)\b")
_ON = WordForm(
    r"\b(?:k|knit|work|patt|pattern|finish|complete|carry on|continue|go on)\b[^.;]*\b(?:end|round|rnd|start|beginning|beg|remaining|rest|left)\b",
)
_ASIDE_SHAPES = WordForm(
    r"\b(?:k2tog|ssk|skpo?|p2tog|k3tog|m1\w*|inc\w*|dec\w*|kfb|pick|rows?|bind|together|needle \d|repeat|rep)\b|\brounds? \d|\*",
)
_HOW = WordForm(r"\b(?:without knitting|with (?:the |a )?backwards?[- ]loops?|untwisted)\b[^.,;]*")  # fmt: skip
_KEPT = WordForm(r"\bsm\b|\bslip(?:ping)? (?:the |both |each )*(?:markers?|m)\b")
_STITCHES = WordForm(rf"\b(?:k|knit|work|p|purl) ?(?P<a>{COUNT})|(?P<b>{COUNT})(?! ?(?:cm|mm|in\b|inch|\"|-)) (?:\w+ ){{0,2}}(?:sts?\b|stitch)")  # fmt: skip
_MANY = WordForm(rf"(?P<n>{COUNT})(?! ?(?:cm|mm|in\b|inch|\"|-))(?: (?:\w+ ){{0,2}}(?:sts?\b|stitches)|(?= (?:on|to)\b))")  # fmt: skip
_TAKES_UP = WordForm(
    r"\b(?:held|holder|waste|thumb|resting|waiting|pin|over the gap)\b"
    r"|\b(?:off|from) (?:the|your|its) (?:string|threads?|cord|cotton|wool)\b"
    r"|\b(?:return|replace|put|place|slip|transfer|move)\b[^.;]*\b(?:sts|stitches)\b[^.;]*\b(?:needles?|dpns)\b"
)
_PICKS = WordForm(
    rf"(?<!sts )(?<!stitches )\b(?:pick(?:ing)?(?:ed)? up|k(?:nit)?\.? up|pu)\b\D{{0,40}}?(?P<n>{COUNT})(?! ?\.?\d* ?mm)",
)
_MORE = WordForm(
    rf"(?:,| and| plus) ({COUNT}) (?:more |extra )?(?:sts? )?(?:in(?! (?:total|all)\b)|at|before|after|from|on)\b",
)
_THESE = WordForm(r"\b(?:k|knit|work) (?:across )?(?:all )?(?:these|those|them)\b")
_BOTH = WordForm(r"\b(?:each|both|either) (?:sides?|ends?|corners?)\b")
_SHAPES = WordForm(
    r"\b(?:[kp]\d?tog|ssk|skpo?|inc\w*|dec\w*|rep|repeat|bind off|until)\b|\brounds? \d"
)


def may_set_thumb_aside(text: str) -> bool:
    """Tell whether a line puts stitches aside and casts others on in their place."""
    text = _LOOPED.sub("cast on 1", text)
    return bool(
        _THUMB.search(text) and _PUTS.search(text) and _GAP.search(text)
    ) and not _ASIDE_SHAPES.search(_HOW.sub("", text))


def may_take_up_thumb(text: str) -> bool:
    """Tell whether a line takes up stitches that wait, and picks up more."""
    return bool(_TAKES_UP.search(text) and _PICKS.search(text)) and not _SHAPES.search(text)


def thumb_aside(live: Live, text: str) -> tuple[str, Numbers] | None:
    """Return in short how a thumb is set aside, and the stitches left; None where that is not told."""
    text = _LOOPED.sub("cast on 1", text)
    there = tuple(tally.count for tally in live.tallies)
    puts, gap = _PUTS.search(text), _GAP.search(text)
    if not live.is_free or not live.in_rounds or puts is None or gap is None:
        return None
    new = numbers_of_sizes(gap["a"] or gap["b"] or gap["c"] or gap["d"], len(there))
    if new is None:
        return None
    told = _told(text, len(there))
    finished = _ON.search(text, gap.end()) is not None
    for before, thumb in _aside(live, text, puts["what"] or puts["off"] or puts["to"] or ""):
        rest = tuple(a - b - c for a, b, c in zip(there, before, thumb, strict=True))
        left = tuple(a - b + c for a, b, c in zip(there, thumb, new, strict=True))
        known = (
            before,
            thumb,
            new,
            rest,
            left,
            tuple(a + b for a, b in zip(rest, new, strict=True)),
        )
        if min(rest) < 0 or not (left in told or finished) or not _are_known(text, known):
            continue
        stated = stated_in(MappedText.of(text)).count
        said = left if stated is None else for_sizes(values_of(stated), len(there))
        said = left if said in known or len(said) != len(left) else said
        return (
            f"{_steps(live, text, before, thumb)} Cast on {sized(new)} sts. Knit to end of rnd. {sized(said)} sts.",
            left,
        )
    return None


def _steps(live: Live, text: str, before: Numbers, thumb: Numbers) -> str:
    """Return in short how so many stitches behind some others are put aside."""
    take_off = "" if _KEPT.search(text) else "Remove marker. "
    tallies = list(zip(live.tallies, before, thumb, strict=True))
    go = f"K{sized(before)}" if min(before) else ""
    if go and all(at == tally.next_of(MARKER, beyond=1) for tally, at, _ in tallies):
        go = "K to marker"
    if go and all(at in _places(tally)[1:-1] for tally, at, _ in tallies):
        go += ", remove marker" if take_off else ", slip marker"
    far = all(at + many in _places(tally)[1:-1] for tally, at, many in tallies)
    return f"{go}. Place next {sized(thumb)} sts on waste yarn. {take_off * far}".strip(". ") + "."


def _aside(live: Live, text: str, what: str) -> Iterator[tuple[Numbers, Numbers]]:
    """Yield which stitches may be put aside: how many are worked before them, and how many."""
    sizes = len(live.tallies)
    many = _MANY.search(what)
    wanted = numbers_of_sizes(many["n"], sizes) if many else None
    if wanted is None and not _WHOSE.search(what):
        return
    places = [_places(tally) for tally in live.tallies]
    if len({len(ends) for ends in places}) == 1:
        pairs = [
            (tuple(ends[at] for ends in places), tuple(ends[at + 1] - ends[at] for ends in places))
            for at in range(len(places[0]) - 1)
        ]
        inner = pairs[1:-1] if len(pairs) == 3 else []
        yield from [pair for pair in pairs if pair[1] == wanted] if wanted else inner
    if wanted and len(places[0]) == 2:  # no markers
        first = re.match(rf"[^.;\d]*?\b(?:k|knit|work|p|purl) ?(?:the first )?({COUNT})", text)
        before = numbers_of_sizes(first[1], sizes) if first else (0,) * sizes
        if before is not None and before != wanted:
            yield before, wanted


def _are_known(text: str, known: Sequence[Numbers]) -> bool:
    """Tell whether all numbers of stitches in a line are such as there are, in all sizes or in one."""
    bare = stated_in(MappedText.of(text)).said.text
    told = [whole_numbers(one["a"] or one["b"]) for one in _STITCHES.finditer(bare)]
    return all(
        one in known or (len(one) == 1 and any(one[0] in numbers for numbers in known))
        for one in told
    )


def _places(tally: Tally) -> list[int]:
    """Return where the round stands, where markers hang in it, and where it ends."""
    hung = {tally.ahead - far for (kind, _), far in tally.ahead_at.items() if kind == MARKER}
    return sorted({0, *hung, tally.ahead})


def thumb_taken_up(live: Live, text: str) -> tuple[str, Numbers] | None:
    """Return in short how a thumb is taken up, and its stitches; None where its numbers differ."""
    held, there = live.held(), tuple(tally.count for tally in live.tallies)
    on_needles = not held and all(there) and not live.behind_any() and _THESE.search(text)
    if not on_needles and (len(held) != 1 or any(there)):
        return None
    sizes = len(live.tallies)
    waits = there if on_needles else as_many(next(iter(held.values())), sized(range(sizes)))
    told, resting = _told(text, sizes), tuple(int(n) for n in waits)
    ways = [(picked, _sums(resting, picked)) for picked in _picked(text, sizes)]
    known = next(((picked, whole, whole) for picked, whole in ways if whole in told), None)
    if known is None and resting in told and ways:  # the total alone is another
        ends = [n for n in told if _is_near(n, ways[0][1]) and _is_more(n, resting)]
        known = (*ways[0], ends[-1]) if ends else None
    if known is None:
        return None
    picked, whole, stated = known
    back, new = sized(resting), sized(picked)
    take = "K" if on_needles else f"Place the {back} held sts back on the needles. Join yarn; k"
    return (
        f"{take}{back}, pick up and k {new} sts across the gap. {sized(stated)} sts",
        whole,
    )


def _sums(one: Numbers, other: Numbers) -> Numbers:
    return tuple(a + b for a, b in zip(one, other, strict=True))


def _is_near(one: Numbers, other: Numbers) -> bool:
    return all(abs(a - b) <= MOST for a, b in zip(one, other, strict=True))


def _is_more(one: Numbers, other: Numbers) -> bool:
    return all(a > b for a, b in zip(one, other, strict=True))


MOST = 4  # stitches by which a total may miss, and be meant for it all the same


def _picked(text: str, sizes: int) -> Iterator[Numbers]:
    """Yield how many stitches a line may pick up: in one place, or once and once more."""
    picks = list(_PICKS.finditer(text))
    said = [(pick["n"], pick) for pick in picks]
    said += [(more[1], more) for pick in picks[-1:] for more in _MORE.finditer(text, pick.end())]
    many = [numbers_of_sizes(one, sizes) for one, _ in said]
    if not many or None in many:
        return
    once = [
        tuple(2 * n for n in each) if _BOTH.search(text[at.end() : at.end() + 32]) else each
        for each, (_, at) in zip(many, said, strict=True)
        if each
    ]
    for parts in ([each for each in many if each], once):
        yield tuple(sum(each) for each in zip(*parts, strict=True))


def _told(text: str, sizes: int) -> list[Numbers]:
    """Return all numbers that a line tells, for each size."""
    found = [numbers_of_sizes(one, sizes) for one in re.findall(COUNT, text)]
    return [one for one in found if one]
