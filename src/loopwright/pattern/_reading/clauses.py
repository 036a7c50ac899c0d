# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Sentences without a label: whole, or clause by clause."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._grammar.said import Numbered
from loopwright.pattern._reading import piece_aside, two_sides  # noqa: F401 - they enter the table
from loopwright.pattern._reading.back import gone_back
from loopwright.pattern._reading.between_turns import rows_begun
from loopwright.pattern._reading.changing import changing
from loopwright.pattern._reading.edges import (
    every_round,
    in_all_needles,
    shaped_at_ends,
    staggered,
)
from loopwright.pattern._reading.free_adjuncts import without_adjunct
from loopwright.pattern._reading.free_heel import heel_apart
from loopwright.pattern._reading.free_work import worked_over
from loopwright.pattern._reading.gone_on import in_any_order
from loopwright.pattern._reading.halves import on_halves
from loopwright.pattern._reading.labels import BEFORE_NUMBERS, label_of
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.onward import onward
from loopwright.pattern._reading.opened_rows import opened
from loopwright.pattern._reading.plain_work import plain_work
from loopwright.pattern._reading.repeats import repeated
from loopwright.pattern._reading.rule_table import clause
from loopwright.pattern._reading.scribe import Says, Scribe, made
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._reading.thirds import arrange_by_instep
from loopwright.pattern._rewording.harmless import harmless, is_doubtful, is_instruction
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.verbs import LEAD
from loopwright.pattern._rewording.wordings import COLOUR, COUNT
from loopwright.pattern._tally import MARKER
from loopwright.pattern.items import KNIT, Item, Mark, On, PickUp, Repeat, Run, Stay, Turn
from loopwright.pattern.values import To, as_many, values_of

__all__ = [
    "NEEDLE_TAG",
    "again",
    "as_one_part",
    "began_rows",
    "clauses",
    "group",
    "groups",
    "has_picks",
    "is_yarn",
    "joined",
    "unlabelled",
    "whole_clause",
]


def has_picks(items: Sequence[Item]) -> bool:
    """Tell whether stitches are picked up somewhere in these items."""
    return any(
        isinstance(item, PickUp) or (isinstance(item, On | Repeat) and has_picks(item.items))
        for item in items
    )


def unlabelled(scribe: Scribe, part: st.Part) -> list[Says]:
    """Return items without a label: more of the round before, a whole round, or a part of one."""
    if part.items[0] == Mark("remove") and _unmarks_nothing(scribe.now(), part):
        scribe.loose, part = True, attrs.evolve(part, items=part.items[1:])
    if not scribe.loose:
        scribe.unlabelled.append((scribe.assembler.as_read(), part))
        return [part]
    live = scribe.now()
    if live.is_whole_round and isinstance(part.items[0], Repeat):  # "*k1, ssk, …; rep from * once"
        step = on_halves(scribe, st.Round(part.items))
        if step.items != part.items:
            scribe.numbered(step, ())
            return [Numbered(step)]
    rows = rows_begun(live, part.items)
    if rows is not None:
        for row in rows:
            scribe.numbered(row, ())
        return [Numbered(row) for row in rows]
    if isinstance(part.items[0], Turn) and len(part.items) > 1 and scribe.has_turned():
        part = attrs.evolve(part, items=part.items[1:])
    if (amid := _between_two(scribe, part)) is not None:
        return amid
    named = [item.parts for item in part.items if isinstance(item, On)]
    arrange_by_instep(scribe, part.items)
    if live.in_rounds and 1 < len(named) == len(part.items) and named[0][:1] == ("needle 1",):
        step = st.Round(part.items)
        scribe.numbered(step, ())
        return [Numbered(step)]
    if live.sure and live.held() and "thumb" not in live.held():
        reached = all(not tally.ahead and tally.behind for tally in live.tallies)
        if has_picks(part.items) or (reached and not live.in_rounds):
            return list(scribe.laid_out(part.items, whole=False))
    if (taken := _into_what_waits(scribe, part)) is not None:
        return taken
    if live.tallies and not live.in_rounds and scribe.picked and not live.held():
        return list(scribe.laid_out(part.items, whole=False))
    if not live.in_rounds and live.held() and _all_worked(part.items):
        scribe.context.named["last"] = st.Row((*part.items, Turn()))  # "do steps 5 and 6 again"
    entries = scribe.assembler.entries
    last = entries[-1].step if entries else None
    same_line = last is not None and last.at is not None and last.at.line >= scribe.first_line
    if (
        same_line
        and isinstance(last, st.Round)
        and not all(isinstance(item, On) for item in part.items)
        and not isinstance(part.items[0], Turn)
        and live.tallies
        and any(isinstance(item, On) for item in last.items)
    ):
        on = last.items[-1]
        assert isinstance(on, On)
        number = on.parts[-1].removeprefix("needle ") if on.parts else ""
        if number.isdigit():
            return [st.Part((On((f"needle {int(number) + 1}",), part.items),))]
    if _goes_round(live, part):
        step = st.Round(part.items)
        scribe.numbered(step, ())
        return [Numbered(step)]
    return [part]


def _unmarks_nothing(live: Live, part: st.Part) -> bool:
    """Tell whether a heel's row first takes off the marker where the round begins, of which nobody spoke."""
    marked = any(key[0] == MARKER for t in live.tallies for key in (*t.ahead_at, *t.behind_at))
    on_needles = bool(live.tallies) and all(tally.count for tally in live.tallies)
    at_start = on_needles and live.in_rounds and not live.behind_any()
    return at_start and not marked and any(isinstance(item, Turn) for item in part.items)


def began_rows(scribe: Scribe) -> bool:
    """Tell whether rows or rounds without a label were kept as parts, while all was in our words.

    It is asked of a text that turned out to be in others' words, and of no other.
    """
    live = scribe.live.anew()
    for before, part in scribe.unlabelled:
        live.follow([scribe.assembler.entry(step) for step in before])
        if rows_begun(live, part.items) is not None or _goes_round(live, part):
            return True
    return False


def _into_what_waits(scribe: Scribe, part: st.Part) -> list[Says] | None:
    """Lay out a part that goes on into stitches that wait: "knit the heel, then the 20 instep sts"."""
    live = scribe.now()
    if live.in_rounds or not live.tallies or not live.held() or "thumb" in live.held():
        return None
    sizes = range(len(live.tallies))
    most = [sum(_taken(item, size) for item in part.items) for size in sizes]
    beyond = all(many > tally.count for many, tally in zip(most, live.tallies, strict=True))
    fails = beyond or any(live.trial((part,), size).troubles for size in sizes)
    if len(part.items) < 2 or not fails:
        return None
    scribe.context.course = "RND"
    if (taken := _last_of_what_waits(live, part)) is not None:
        return taken
    steps = list(scribe.laid_out(part.items, whole=False)) if live.sure else []
    if not any(isinstance(step, st.ReturnHeld) for step in steps):
        return None
    if any(live.trial(steps, size).troubles for size in sizes):
        return None
    return [*steps, *([] if any(isinstance(step, st.Join) for step in steps) else [st.Join()])]


def _taken(item: Item, size: int) -> int:
    """Return how many stitches an item takes at least, in one size."""
    if not isinstance(item, Run) or isinstance(item.amount, To):
        return 0
    amounts = values_of(item.amount)
    return int(amounts[min(size, len(amounts) - 1)])


def _last_of_what_waits(live: Live, part: st.Part) -> list[Says] | None:
    """Take back what waits for the last stitches of a part, where these are all of it."""
    *items, last = part.items
    if len(live.held()) != 1 or not isinstance(last, Run) or isinstance(last.amount, To):
        return None
    ((name, waiting),) = live.held().items()
    if as_many(last.amount, live.count) != as_many(waiting, live.count):
        return None
    return [st.Part(tuple(items)), st.ReturnHeld(name), st.Part((last,)), st.Join()]


def _goes_round(live: Live, part: st.Part) -> bool:
    """Tell whether items without a label make a whole round, of stitches that are worked."""
    if not (live.in_rounds and live.sure) or live.behind_any():
        return False
    items = part.items[:-1] if isinstance(part.items[-1], Stay) else part.items  # of a cord
    return _all_worked(items) and not live.trial((st.Round(part.items),), 0).troubles


def _between_two(scribe: Scribe, part: st.Part) -> list[Says] | None:
    """Lay out a row that picks stitches up at a finished thumb, between two parts that wait.

    Those held first lie on the right-hand needle, and were worked before the thumb.
    """
    live, (first, *rest) = scribe.now(), part.items
    if live.in_rounds or not live.sure or live.count != 0 or len(live.held()) != 2:
        return None
    held = live.held()
    right, left = ("side", "instep") if {*held} == {"side", "instep"} else tuple(held)
    if not isinstance(first, PickUp) or rest not in ([KNIT], [Run("k", held[left])]):
        return None
    before = st.Part((Run("k", held[right]), first))
    return [st.ReturnHeld(right), before, st.ReturnHeld(left), st.Part((KNIT,))]


def _all_worked(items: Sequence[Item]) -> bool:
    return all(isinstance(item, Run | Repeat) for item in items)


NEEDLE_TAG = WordForm(r"\s*[\[(](?:needles? )\d(?: and \d)?[\])]")
_ROUND_OF = WordForm(
    rf"(?:work (?:in )?)?(?P<items>(?:(?:k|p|knit|purl) ?\d+(?: tbl)?,? ?(?:and )?){{2,}})(?:all (?:the way )?(?:a)?round|around|to (?:the )?end(?: of (?:the )?(?:round|rnd|row))?|across)(?:,? for (?P<many>{COUNT}) (?P<course>rounds|rnds|rows)(?: in all| in total)?)?$",
)


def group(scribe: Scribe, said: MappedText) -> tuple[Item, ...] | None:
    """Return the repeat that "knit 2, purl 2 all the way round" is, where it says no more."""
    match = _ROUND_OF.match(said.text.strip(" ."))
    if match is None or match["many"]:
        return None
    items = scribe.items(MappedText.of(match["items"].strip(" ,")))
    return None if items is None else (Repeat(items),)


def groups(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read "knit 2, purl 2 all the way round" as the repeat that it is."""
    match = _ROUND_OF.match(said.text.strip(" ."))
    if match is None:
        return _row_so_often(scribe, said)
    items = scribe.items(MappedText.of(match["items"].strip(" ,")))
    if items is None:
        return None
    course = "ROW" if (match["course"] or "").lower() == "rows" else scribe.course
    step = made(course, (Repeat(items),), "")
    scribe.numbered(step, ())
    if match["many"]:
        return [st.RepeatRounds((attrs.evolve(step, at=scribe.place),), count_in(match["many"]))]
    return [Numbered(step)]


_SO_OFTEN = re.compile(
    rf"(?P<row>.*(?:\b(?:to end|around|across)|\brep(?:eat)? from \*)),? (?:for )?(?P<n>{COUNT}) (?P<course>rounds|rnds|rows|times (?:a)?round)(?: in all| in total)?$",
    re.IGNORECASE | re.DOTALL,
)


_MANY_ROWS = WordForm(r"(?:rounds|rnds|rows|round)\b(?:[^;*]*$|[^;*:]*:| (?:of|in) [*\[(])")
# "of *k1, p1* ribbing"
_AS_RIBBING = WordForm(r"(?<=[\w)]\*) rib(?:bing)?\.?\s*$")
_WORK_FIRST = WordForm(r"^\s*(?:(?:and|then|now) )*(?:work|knit)(?: in)? (?=\*)")


_SO_MANY_THUS = WordForm(
    rf"\s*(?:(?:now|then) )*(?:work|knit) (?P<n>{COUNT}) (?P<course>rounds|rnds|rows)"
    r"(?:(?: (?:as follows|as foll\.?|thus|like this|in this way))?: *| (?:of|in) (?=[*\[(]))(?P<row>[^:]+)$",
)


def _row_so_often(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read "*k1, p1; rep from * to end, 12 rnds", and "work 12 rnds as follows: *k1, p1; …"."""
    if _MANY_ROWS.search(said.text) is None:
        return None
    said = said.sub(_WORK_FIRST, "").sub(_AS_RIBBING, "")
    match = _SO_OFTEN.match(said.text.strip(" .")) or _SO_MANY_THUS.match(said.text)
    items = scribe.items(said.piece(match.start("row"), match.end("row"))) if match else None
    if match is None or items is None:
        return None
    step = made("ROW" if match["course"].lower() == "rows" else "RND", items, "")
    scribe.numbered(step, ())
    return [st.RepeatRounds((attrs.evolve(step, at=scribe.place),), count_in(match["n"]))]


def again(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read a sentence that asks for rows once more, or for more like them."""
    low = every_round(LEAD.sub("", _DOTTED.sub(r"\1", said.text.lower())))
    if re.match(
        r"(?:and |then |now )*(?:rep(?:eat)?|do|go|without (?:the |any )?plain|work|knit|continue|cont|carry|keep|beg\w*|dec\w*|inc\w*|proceed|stop (?:when|once)|each row is|every (?:following )?row|(?:on |in )?(?:every|each) (?:[a-z0-9]+ )?(?:round|rnd)|alternat\w+)\b",
        low,
    ):
        if _TIMES_ACROSS.search(low):
            return None  # a part of a round
        low = in_all_needles(scribe, low)
        for rule in (changing, shaped_at_ends, staggered):
            if (steps := rule(scribe, low)) is not None:
                return steps
        if (then := _THEN.search(low)) is not None:
            return _and_then(scribe, low[: then.start()], then["more"])
        if (other := _THEN_OTHER.search(low)) is not None and (
            is_instruction(other["what"]) or _CLOSES.match(other["what"])
        ):
            return None  # a clause of its own: it must not be lost
        found = onward(scribe, low)
        if found is None and _GROWS.search(low):
            found = in_any_order(scribe, said)
        return found if found is not None else repeated(scribe, low)
    return None


_GROWS = WordForm(  # "…, 2 sts more between them", "… until you have worked 5 inc rounds"
    r"\b(?:more|fewer|less)\b[^.;]*\b(?:between|before|after)\b|^(?!.*\b(?:last|these|those|both)\b).*\b(?:un)?til+\b[^.;]*\b\w+ (?:inc|dec|shap)\w* (?:rounds?|rnds?|rows?)\b",
    re.NOFLAG,
)


_DOTTED = WordForm(r"\b(alt|rem|foll|rnds?|sts?|beg|rep|cont|dec|inc)\.(?=\s)", re.NOFLAG)
_TIMES_ACROSS = WordForm(r"\btimes (?:across|over|along)\b", re.NOFLAG)
_CLOSES = WordForm(r"(?:draw|thread|gather|fasten|close|graft)\b")
_THEN_OTHER = WordForm(  # "repeat these two rows four times more, then cast off"
    r"(?:[,;.] (?:and )?then|[,;.]? and then|,? and(?= (?:cast|bind) off| bo\b| graft| (?:close|fasten|draw|cut|break)\b)) (?!(?:rep(?:eat)?|work|knit|continue|dec\w*|inc\w*|on|in|every|each|for|until)\b|(?:the )?(?:rounds?|rnds?|rows?|\d+(?:st|nd|rd|th)|first|second|last)\b)(?P<what>.+)$",
    re.NOFLAG,
)
_THEN = WordForm(
    r"[,;.]? (?:and )?then (?:(?:work )?the (?:first|dec\w*|shaping)(?: of (?:them|these|the two))?(?: (?:round|rnd|row))?(?: only| alone)? (?=on |in |every |each ))?(?P<more>(?:(?:dec|inc)\w* )?(?:on |in )?(?:every|each) (?:round|rnd|row)\b.*)$",
    re.NOFLAG,
)


def _and_then(scribe: Scribe, first: str, more: str) -> list[Says] | None:
    """Read "rep these 2 rnds until 28 sts remain, then decrease every round until 12 do"."""
    kept, remarks = list(scribe.assembler.entries), list(scribe.assembler.remarks)
    found = onward(scribe, first)
    found = repeated(scribe, first) if found is None else found
    more = more if more.startswith(("dec", "inc")) else f"dec {more}"
    if found is None:
        return None
    place = scribe.place
    scribe.give(found)
    if not found:  # the count it states holds before that of what follows
        scribe.place = attrs.evolve(place, column=place.column + 1)
        scribe.note(first)
    rest = onward(scribe, more)
    if rest is None:
        scribe.assembler.entries[:], scribe.assembler.remarks[:] = kept, remarks
        scribe.place = place
        return None
    return rest


def whole_clause(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read a sentence that is one clause."""
    found = clause(scribe, said.text.strip(" .!,;"))
    if found is not None:
        return found
    parsed = None if re.search(r"\bagain\b", said.text) else scribe.parsed(said)
    if parsed is not None and parsed.count is None:
        for remark in parsed.remarks:
            scribe.remarks.append((remark, scribe.place))
        if isinstance(parsed.says, st.Part):
            return unlabelled(scribe, parsed.says)
        if isinstance(parsed.says, st.UseYarn | st.CutYarn) and not is_yarn(parsed.says.name):
            return None
        return [parsed.says]
    return None


_JOINT = WordForm(
    r"\s*;\s*|\s*,\s*(?:and\s+)?(?:then\s+)?|\s+(?:and\s+)?then\s+|"
    r"\s+and\s+(?!forth\b)|:\s+|[.!]\s+|\s+[-–—]\s+",
    re.NOFLAG,
)


def clauses(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read a sentence clause by clause: each as long as can be read."""
    if re.search(r"\b(?:knit or purl|k or p|purl or knit)\b", said.text, re.IGNORECASE):
        scribe.note(said.text)
        scribe.claim("lost", 0)
        return []
    understood: list[str] = []
    found = joined(scribe, said, understood)
    if not found and not understood and (apart := heel_apart(scribe, said.text)) is not None:
        return apart
    free = found is None
    if free:
        found = joined(scribe, said, understood, free=True)
    if found is None or not (found or understood or not is_instruction(said.text)):
        return None
    merged = opened(scribe, _merged(scribe, found))
    return merged if not free or _fits(scribe, merged) else None


def _fits(scribe: Scribe, says: Sequence[Says]) -> bool:
    """Tell whether what was read freely can be worked as stitches lie, and leaves what is stated."""
    live = scribe.now()
    steps = [one.step if isinstance(one, Numbered) else one for one in says]
    if not live.sure or not all(isinstance(step, st.Step) for step in steps):
        return True
    stated = None if scribe.stated is None else as_many(scribe.stated, live.count)
    ends = [live.trial(steps, size) for size in range(len(live.tallies))]  # type: ignore[arg-type]
    return not any(
        end.troubles or (stated is not None and end.tally.count != stated[size])
        for size, end in enumerate(ends)
    )


_NO_YARN = WordForm(
    r"\b(?:and|tail|leaving|draw|thread|pull|fasten|finish|pick|then|from)\b", re.NOFLAG
)


def is_yarn(name: str) -> bool:
    """Tell whether some words may be what a yarn is called."""
    return not _NO_YARN.search(name)


_MAY_SAY_MORE = WordForm(  # a sentence of such clauses is no aside before each was tried
    r";|\b(?:on|over|across) (?:just |only )?(?:the )?(?:needle \d|sts|stitches|heel|sole|instep)\b[^,]*,",
)


def joined(
    scribe: Scribe, said: MappedText, understood: list[str] | None = None, *, free: bool = False
) -> list[Says] | None:
    """Return what the clauses mean, one after another; those after see what those before did.

    Clauses that a rule took, and that ask for nothing, are listed in `understood`. With `free`
    clauses are read whose words stand in any order.
    """
    joints = [match for match in _JOINT.finditer(said.text) if _outside(said.text, match.start())]
    if len(joints) > 24:
        return None
    kept = scribe.assembler.kept()
    notes = len(scribe.remarks)
    steps: list[Says] = []
    seen: dict[int, tuple[Any, st.Step]] = {}
    doubted: list[str] = []
    at = 0
    ends = [(match.start(), match.end()) for match in joints] + [(len(said.text), len(said.text))]
    while at < len(said.text):
        for end, following in sorted((pair for pair in ends if pair[0] > at), reverse=True):
            piece = said.piece(at, end)
            found = _piece(scribe, piece, aside=not _MAY_SAY_MORE.search(piece.text), free=free)
            if found is not None:
                at = following
                if understood is not None and not found and not harmless(piece.text):
                    understood.append(piece.text)
                elif not found and is_doubtful(piece.text) and harmless(piece.text):
                    doubted.append(piece.text)
                break
        else:
            if harmless(said.text[at:]):
                doubted += [said.text[at:]] if is_doubtful(said.text[at:]) else []
                break
            scribe.assembler.back_to(kept)
            del scribe.remarks[notes:]
            return None
        if steps and scribe.loose and (row := _row_behind(scribe, steps[-1], found)) is not None:
            found = row
        for one in gone_back(scribe, found):  # what follows must see them
            step = one.step if isinstance(one, Numbered) else one
            if isinstance(step, st.Step):
                entry = type(scribe.assembler).entry(step)
                seen[len(steps)] = entry, step
                scribe.assembler.entries.append(entry)
            steps.append(one)
    if steps:  # a sentence of plain words is looked at as a whole
        for text in doubted:
            scribe.doubt(text)
    return _as_seen(scribe, steps, seen)


def _row_behind(scribe: Scribe, before: Says, found: list[Says]) -> list[Says] | None:
    """Return stitches behind a whole round as the next one: "knit 1 round, then *k2, p2*"."""
    step = before.step if isinstance(before, Numbered) else before
    if not isinstance(step, st.Round | st.Row | st.RepeatRounds) or len(found) != 1:
        return None
    return unlabelled(scribe, part) if isinstance(part := found[0], st.Part) else None


def _as_seen(scribe: Scribe, steps: list[Says], seen: dict[int, tuple[Any, st.Step]]) -> list[Says]:
    """Return steps as later clauses left them: "K28, turn; the others wait" needs no turn.

    The entries that stood for them are taken off again.
    """
    if not seen:
        return steps
    entries = scribe.assembler.entries
    there = {id(entry) for entry in entries}
    ours = {id(entry) for entry, _ in seen.values()}
    found: list[Says] = []
    for place, one in enumerate(steps):
        entry, step = seen.get(place, (None, None))
        if entry is None or (entry.step is step and id(entry) in there):
            found.append(one)
        elif id(entry) in there:
            found.append(entry.step)
    entries[:] = [entry for entry in entries if id(entry) not in ours]
    return found


_IN_COLOUR = WordForm(rf"\s+(?:with|in|using) (?:{COLOUR}|[A-E])(?=\s*[.,;]?\s*$)")


def _piece(
    scribe: Scribe, piece: MappedText, *, aside: bool = True, free: bool = False
) -> list[Says] | None:
    piece = piece.sub(_IN_COLOUR, "")
    text = piece.text.strip(" .,;:!")
    if not text:
        return []
    label = label_of(text + ": x")
    of_a_section = BEFORE_NUMBERS.match(text + ": x") is not None  # "then Eyelets Rnds 1-2"
    if (
        label is not None
        and not of_a_section
        and (label.numbers or label.name in ("next", "set-up", "dec", "inc", "last"))
    ):
        return None
    for rule in (again, plain_work, _row_so_often):
        found = rule(scribe, piece)
        if found is not None:
            return found
    found = clause(scribe, text)
    if found is not None:
        return found
    items = scribe.items(piece)
    if items is not None:
        return [st.Part(items)]
    parsed = scribe.parsed(piece)
    if parsed is not None and isinstance(parsed.says, st.UseYarn | st.CutYarn):
        return [parsed.says] if is_yarn(parsed.says.name) else None
    if parsed is not None and isinstance(parsed.says, st.Step | Numbered) and not parsed.count:
        return [parsed.says]
    if free and (found := _freely(scribe, piece, text)) is not None:
        return found
    return [] if aside and harmless(text) else None


def _freely(scribe: Scribe, piece: MappedText, text: str) -> list[Says] | None:
    """Read a clause whose words stand in any order, or that has words beside its instruction."""
    for rule in (worked_over, heel_apart):
        if (found := rule(scribe, text)) is not None:
            return found
    bare = without_adjunct(piece)
    return None if bare is None else _piece(scribe, bare, aside=False, free=True)


def _outside(text: str, at: int) -> bool:
    """Tell whether a place lies outside brackets and outside a repeat between stars."""
    before = text[:at]
    if before.count("(") + before.count("[") > before.count(")") + before.count("]"):
        return False
    stars = before.count("*")
    return stars % 2 == 0 or bool(
        re.search(r"\*[^*]*\b(?:rep|repeat)\b[^*]*\*?[^*]*$", before) and stars % 2 == 0
    )


def as_one_part(first: st.Part, second: st.Part) -> st.Part:
    """Return two parts as one; what follows the name of a needle belongs to that needle."""
    *before, last = first.items
    if isinstance(last, On) and not any(isinstance(item, On) for item in second.items):
        return st.Part((*before, attrs.evolve(last, items=(*last.items, *second.items))))
    return st.Part((*first.items, *second.items))


def _merged(scribe: Scribe, says: list[Says]) -> list[Says]:
    """Make one part of parts that follow each other."""
    found: list[Says] = []
    for one in says:
        last = found[-1] if found else None
        if (
            isinstance(one, st.Part)
            and isinstance(last, st.Part)
            and not isinstance(last.items[-1], Turn)
        ):
            found[-1] = as_one_part(last, one)
        else:
            found.append(one)
    yarns = all(isinstance(one, st.UseYarn | st.CutYarn) for one in found[:-1])
    if found and yarns and isinstance(found[-1], st.Part):
        return [*found[:-1], *unlabelled(scribe, found[-1])]
    return found
