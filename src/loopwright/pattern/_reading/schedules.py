# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Shaping told as a plan: "a decrease round and then a plain round, six times: 36 sts".

What is said is looked for in any order. Words that nobody knows may stand beside it where the
count that is stated comes out; without one, all words must be known.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.free_words import WordGroup, by_kind
from loopwright.pattern._reading.gone_on import in_any_order
from loopwright.pattern._reading.growth import shapes
from loopwright.pattern._reading.labels import label_of
from loopwright.pattern._reading.named_rows import last_shaping, named_row
from loopwright.pattern._reading.onward import rows_before
from loopwright.pattern._reading.scribe import Lost, Says, Scribe
from loopwright.pattern._reading.stated import count_in, number_of, stated_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, NUMBER
from loopwright.pattern._words import NUMBER_WORDS
from loopwright.pattern.items import Run, items_in
from loopwright.pattern.values import Count, To, UntilCount, as_many, plus, values_of

__all__ = ["scheduled"]

_N = rf"(?:{COUNT}|{'|'.join(NUMBER_WORDS)}|an?\b)"
_C = r"(?:rounds?|rnds?|rows?)\b"
_SHAPING = (
    r"(?P<kind>dec(?:rease|reasing)?|inc(?:rease|reasing)?|shaping|shaped|gusset|toe|crown)\.?"
)
MOST_ROUNDS = 60  # of one kind, told so
_MAY = WordForm(
    rf"\b(?:dec(?:rease|reasing)?|inc(?:rease|reasing)?|shaping|shaped|gusset|toe|crown)\.? {_C}|\b(?:dec|inc)\b[^.]*\b(?:plain|times|twice)\b|\b(?:dec|inc)(?:rease)? (?:again|once more|as before|likewise|(?:in )?the same)\b"
)
_KINDS: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (kind, re.compile(said, re.IGNORECASE))
    for kind, said in (
        ("target", rf"(?:(?:un)?til+|down to|up to|back to|to)\b(?: (?:you (?:again )?(?:have|are)|there (?:are|is)|only|down to|up to|back to|are))* (?P<n>{COUNT}) (?:sts?\b\.?|stitch(?:es)?\b)(?: (?:remain|rem\b\.?|are left|left|again|in all|altogether))*"),
        ("bare", rf"(?:with )?(?:nothing|no (?:(?:plain |knit |other )*{_C}|plain))(?: in)?[ -]between(?: them)?|without (?:a |any )?(?:plain|knit) {_C}(?:(?: in)?[ -]between(?: them)?)?|one (?:straight |right |directly |immediately )?after (?:the other|another)|in (?:a row|succession|sequence)|on consecutive {_C}|running\b|on end\b|back to back"),
        ("turns", r"by turns|alternately|in turns?\b|alternat(?:e|ing)|turn (?:and turn )?about"),
        ("times", rf"(?:(?:a total of|another|a further) )?(?P<n>{_N}) (?:more |further )?times\b(?: (?:each|in all|altogether|in total|more|over|total|all told))*|(?P<word>twice|once)\b(?: (?:each|in all|altogether|more|over))*|(?P<n2>{_N}) of (?:each|both)\b"),
        ("plain", rf"(?:the |this |then )*(?:(?P<n>{_N}) )?(?:plain|knit|even|straight|unshaped|ordinary) {_C}(?: in between)?|(?:knit|k|work) (?P<n2>{_N}) (?:plain )?{_C}(?: (?:plain|even|straight|without (?:any )?\w+ing))?|(?P<n3>{_N}) {_C} (?:plain|even|straight|without (?:any )?\w+ing)|(?P<n4>{_N}) plain\b"),
        ("shaping", rf"(?:the |this |that |these |such |just |only |same |an? |one )*(?:(?P<n>{_N}) )?(?:more |further |such |another )*(?:{_SHAPING} {_C}|(?P<short>(?:dec|inc)(?:rease)?\b(?P<again>(?: (?:again|once more|as before|(?:in )?the same (?:way|manner)|likewise|like that))*)))(?: (?:only|alone|more))*"),
        ("", r"(?:do (?:this|so)|and|then|now|next|from here(?: on)?|from now on|after that|finally|still|so|just|also|first|work|knit|do|make|finish|end|go on|carry on|continue|keep|repeat|rep|with|by|for|of|on|in all|altogether|the|as|before|like this|in this way|until)\b"),
    )
)  # fmt: skip


@attrs.frozen
class _Plan:
    """Rounds that are worked in this order, so often or until a count, and one behind them."""

    rows: tuple[st.Round, ...]
    times: Count | None
    target: Count | None
    behind: tuple[st.Round, ...] = ()


def scheduled(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read shaping rounds, with plain ones between or none, as often as is said."""
    text = said.text.strip(" .,;:!").lower()
    if _MAY.search(text) is None or label_of(said.text) is not None or "*" in text:
        return None
    defined = scribe.context.defined
    only_told = defined is not None and defined[1] >= len(scribe.assembler.entries)
    if re.search(r"\b(?:total|in all|altogether|all told)\b", text) and not only_told:
        return None  # those told are of them
    groups, is_known = _groups(text)
    told = by_kind(groups)
    if is_known and (sequence := _in_sequence(scribe, groups)) is not None:
        return sequence
    if any(len(told.get(kind, ())) > 1 for kind in ("target", "times", "shaping", "plain")):
        return _in_stages(scribe, text) if is_known else None
    if not is_known and any(one.match["short"] for one in told.get("shaping", ())):
        return None
    plans = list(_plans(scribe, groups, told)) if "shaping" in told else []
    for plan in plans:
        if _comes_out(scribe, plan):
            return list(_steps(scribe, plan))
    if is_known and plans and _can_be(scribe, plans[0]):
        return list(_steps(scribe, plans[0]))
    if not is_known or not {"shaping", "plain", "times"} <= set(told):
        return None
    other = in_any_order(scribe, said)
    if other is None and plans:
        raise Lost("rounds by turns that can't be worked so")
    return other


def _in_sequence(scribe: Scribe, groups: Sequence[WordGroup]) -> list[Says] | None:
    """Read "3 rounds plain, dec round, 2 rounds plain, dec round, 1 round plain, dec round"."""
    kinds = [one.kind for one in groups]
    shaping = [one for one in groups if one.kind == "shaping"]
    once_more = any(one.match["again"] for one in shaping)  # "decrease again", "dec as before"
    if not set(kinds) <= {"plain", "shaping"} or not (
        len(shaping) > 1 < len(set(kinds)) or once_more
    ):
        return None
    plain = st.Round(scribe.plain(ground=False)[0].items, at=scribe.place)
    steps: list[st.Step] = []
    for one in groups:
        many = _many(one) or 1
        row = (
            plain
            if one.kind == "plain"
            else _shaping_row(scribe, one.match["kind"] or one.match["short"])
        )
        if row is None or not isinstance(many, int) or many > MOST_ROUNDS:
            return None
        row = attrs.evolve(row, count=None, at=scribe.place)
        steps.append(row if many == 1 else st.RepeatRounds((row,), many, at=scribe.place))
    live = scribe.now()
    fails = any(live.trial(steps, size).troubles for size in range(len(live.tallies)))
    return None if fails else [*steps]


_STAGES = re.compile(
    r"(?:[,;.]? (?:and )?then|[;,](?= (?:the )?(?:dec|inc)\w*\.?\b)) (?!(?:knit|work|k|an?|one|\d+) (?:plain|\d))"
)


def _in_stages(scribe: Scribe, text: str) -> list[Says] | None:
    """Read a plan of several stages: "dec rnd and a plain rnd 9 times, then the dec rnd 5 times"."""
    stages: list[_Plan] = []
    for part in _STAGES.split(text):
        groups, _ = _groups(part)
        told = by_kind(groups)
        if len(told.get("shaping", ())) != 1 or len(told.get("times", ())) > 1:
            return None
        if "target" in told or re.search(r"\b(?:more|further|another)\b", part):
            return None
        plan = next(_plans(scribe, groups, told), None)
        if plan is None:
            return None
        fits = [
            any(isinstance(run.amount, To) for run in items_in(row.items) if isinstance(run, Run))
            for row in plan.rows
        ]
        if not all(fits):
            return None  # its numbers are other ones each time
        stages.append(plan)
    steps = [step for plan in stages for step in _steps(scribe, plan)]
    live = scribe.now()
    fails = any(live.trial(steps, size).troubles for size in range(len(live.tallies)))
    return None if fails or len(stages) < 2 else [*steps]


def _groups(text: str) -> tuple[list[WordGroup], bool]:
    """Return the phrases of a sentence, and whether all its words are in one."""
    found: list[WordGroup] = []
    is_known, at = True, 0
    while (at := len(text) - len(text[at:].lstrip(" ,;:–—-[]()"))) < len(text):
        for kind, said in _KINDS:
            if match := said.match(text, at):
                found += [WordGroup(kind, match)] if kind else []
                at = match.end()
                break
        else:
            is_known = False
            at = len(text) - len(re.sub(r"^\S+", "", text[at:]))
    return found, is_known


def _plans(
    scribe: Scribe, groups: Sequence[WordGroup], told: dict[str, list[WordGroup]]
) -> Iterator[_Plan]:
    shaping = told["shaping"][0]
    row = _shaping_row(scribe, shaping.match["kind"] or shaping.match["short"])
    many, between = _many(shaping), _many(told["plain"][0]) if "plain" in told else 0
    if row is None:
        return
    target = count_in(told["target"][0].match["n"]) if "target" in told else None
    times = _times(told["times"][0]) if "times" in told else None
    more = any(re.search(r"\b(?:more|further|another)\b", one.text) for one in groups)
    if "plain" not in told:
        alone = "bare" in told or re.search(r"\b(?:just|only|alone)\b", shaping.text)
        if times is None and many is not None and max(values_of(many)) > 1:
            yield from _so_often((row,), many, more=more)
        elif times is not None and many in (None, 1) and (alone or shaping.match["short"]):
            yield _Plan((row,), times, None)
        return
    many, between = many or 1, between or 1
    if not isinstance(many, int) or not isinstance(between, int) or many + between > 12:
        return
    plain = scribe.context.named.get("plain")
    knit = plain if isinstance(plain, st.Round) else st.Round(scribe.plain(ground=False)[0].items)
    rows = (*[row] * many, *[knit] * between)
    if groups.index(told["plain"][0]) < groups.index(shaping):
        rows = (*rows[many:], *rows[:many])
    if times is not None:
        yield from _so_often(rows, times, more=more)
    elif target is None and shaping.match["short"]:
        yield _Plan(rows, 1, None)
    elif target is not None:
        just = rows_before(scribe)[-1:]
        goes_on = bool(just) and just[0].items == row.items  # a plain round comes next
        yield _Plan(
            (*rows[many:], *rows[:many]) if goes_on and shapes(rows[0]) else rows, None, target
        )


def _so_often(rows: tuple[st.Round, ...], times: Count, *, more: bool) -> Iterator[_Plan]:
    """Yield the ways to count how often: the round that was worked before may be one of them."""
    yield _Plan(rows, times, None)
    if not more and min(values_of(times)) > 1:
        first, *others = rows
        is_led = len(rows) == 2 and shapes(first)
        behind = (*others, first) if is_led else rows
        yield _Plan(behind, plus(times, -1), None, tuple(others) if is_led else ())


def _shaping_row(scribe: Scribe, kind: str) -> st.Round | None:
    if kind in ("gusset", "toe", "crown"):
        named = scribe.context.named.get(kind)
        return named if isinstance(named, st.Round) else None
    name = kind[:3] if kind[:3] in ("dec", "inc") else ""
    found = named_row(scribe, name) if name else None
    found = last_shaping(scribe, name) if found is None else found
    return found if isinstance(found, st.Round) else None


def _many(group: WordGroup) -> Count | None:
    groups = group.match.groupdict()
    said = next((groups[key] for key in ("n", "n2", "n3", "n4") if groups.get(key)), None)
    return _number(said) if said else None


def _times(group: WordGroup) -> Count | None:
    word = group.match["word"]
    if word:
        return 2 if word.lower() == "twice" else 1
    return _number(group.match["n"] or group.match["n2"])


def _number(said: str) -> Count | None:
    if re.match(NUMBER, said):
        return count_in(said)
    return 1 if said in ("a", "an") else number_of(said) or None


def _comes_out(scribe: Scribe, plan: _Plan) -> bool:
    """Tell whether a plan can be worked, and leaves the count that is stated or aimed at."""
    live = scribe.now()
    wanted = _stated(scribe)
    wanted = plan.target if wanted is None else wanted
    if not live.sure or wanted is None:
        return False
    ends = [live.trial(_steps(scribe, plan), size) for size in range(len(live.tallies))]
    counts = as_many(wanted, live.count)
    return len(counts) == len(ends) and all(
        not end.troubles and end.tally.count == count
        for end, count in zip(ends, counts, strict=True)
    )


def _stated(scribe: Scribe) -> Count | None:
    """Return the count at the end of the sentence, or that which stands alone behind it."""
    if scribe.stated is not None:
        return scribe.stated
    after = stated_in(MappedText.of(scribe.following))
    return None if after.said.text.strip(" .") else after.count


def _can_be(scribe: Scribe, plan: _Plan) -> bool:
    live = scribe.now()
    steps = _steps(scribe, plan)
    return not any(live.trial(steps, size).troubles for size in range(len(live.tallies)))


def _steps(scribe: Scribe, plan: _Plan) -> list[st.Step]:
    rows, behind = (
        tuple(attrs.evolve(row, count=None, at=scribe.place) for row in some)
        for some in (plan.rows, plan.behind)
    )
    if plan.times == 1:
        return [*rows, *behind]
    if plan.times is not None:
        return [st.RepeatRounds(rows, plan.times, at=scribe.place), *behind]
    assert plan.target is not None
    now = as_many(scribe.now().count, scribe.now().count)
    grows = as_many(plan.target, scribe.now().count)[0] > now[0]
    return [st.RepeatRounds(rows, UntilCount(plan.target, grows), at=scribe.place)]
