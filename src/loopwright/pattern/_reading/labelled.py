# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows and rounds with their labels: stitches, rows like others, shaping spread evenly."""

from __future__ import annotations

import re
from collections.abc import Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._certain_changes import change_of
from loopwright.pattern._grammar.said import Numbered
from loopwright.pattern._reading.alternate import by_turns, weave_in
from loopwright.pattern._reading.between_turns import starred_rows
from loopwright.pattern._reading.clauses import (
    again,
    as_one_part,
    group,
    groups,
    has_picks,
    joined,
)
from loopwright.pattern._reading.free_short_rows import heel_then_needle_2
from loopwright.pattern._reading.gone_on import in_any_order
from loopwright.pattern._reading.ground import is_plain
from loopwright.pattern._reading.halves import on_halves
from loopwright.pattern._reading.in_yarn import in_yarn
from loopwright.pattern._reading.labels import LAST_ONE, Label, numbers_in, row_name
from loopwright.pattern._reading.live import between_turns
from loopwright.pattern._reading.named_rows import in_purl, is_worked_below, named_row, says_purled
from loopwright.pattern._reading.onward import carried, goes_on
from loopwright.pattern._reading.opened_rows import opened
from loopwright.pattern._reading.plain_work import plain_work, unit_in
from loopwright.pattern._reading.scribe import Lost, Says, Scribe, made
from loopwright.pattern._reading.spread_evenly import evenly
from loopwright.pattern._reading.stated import count_in, number_of, without_asides
from loopwright.pattern._reading.thirds import arrange_by_instep
from loopwright.pattern._reading.told_heel import PART_THERE
from loopwright.pattern._reading.widening import lengthened, says_longer
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._rewording.yarn_names import yarn_first
from loopwright.pattern.items import KNIT, Item, Repeat, Run, Turn
from loopwright.pattern.values import Count, Sized, To, as_many, sized, values_of

__all__ = [
    "as_set_up",
    "between",
    "ends_amid_heel",
    "goes_round",
    "labelled",
    "labelled_rows",
    "only_begins",
    "shaped_evenly",
]


def as_set_up(scribe: Scribe, step: st.Round | st.Row, *, once: bool = True) -> list[Says] | None:
    """Lay a round out as parts where it takes up what is held, or picks stitches up."""
    if scribe.only or not scribe.loose:
        return None
    live = scribe.now()
    picks = has_picks(step.items)
    if isinstance(step, st.Row) and not (picks and live.held()):
        return None
    if not live.held() and not picks:
        return None
    if live.held() and all(name.endswith("piece") for name in live.held()):
        return None  # set aside for good: it is joined when all is done
    if not live.sure or (not picks and live.in_rounds):
        return None
    if "thumb" in live.held() and len(live.held()) == 1 and not picks:
        return None
    scribe.context.course = "RND"
    across = not any(tally.behind and tally.ahead for tally in live.tallies)
    if across and not picks and (step.items == (KNIT,) or _is_one_repeat(step)):
        scribe.loose = True
        scribe.give(scribe.together())
        return None  # a round like any other
    return list(scribe.laid_out(step.items)) if once else None


def _is_one_repeat(step: st.Round | st.Row) -> bool:
    return len(step.items) == 1 and isinstance(step.items[0], Repeat)


_AS = WordForm(
    r"(?:work |rep(?:eat)? |knit )?(?:(?:(?:the )?same as|exactly as|as(?: for)?|like|rep(?:eat)?|work)\s+|(?=(?:the )?(?:rounds?|rnds?|rows?)\s?\d[^.;:*]*(?:\b(?:of|from) |\b(?:once|twice|times|again)\b)))(?:for )?(?P<what>(?:the )?(?:last|previous)(?: (?:round|rnd|row))?|(?:the )?(?:rounds?|rnds?|rows?|r)\s?\d[^.;]*?|(?:(?:the )?(?:round|rnd|row) )?(?-i:[A-H])(?=\W*$)|(?:the )?[\w-]+ (?:round|rnd|row)|(?P<nth>\d+)(?:st|nd|rd|th)(?: (?:round|rnd|row))?)(?:\s+(?:of|for|from) (?:the )?(?P<of>[^.;]+?))?,?\s*(?P<times>(?:once|twice|\w+ times|\w+ more times|a total of \w+ times)(?: more)?)?\s*[.]*$",
)
_SHAPED_PATTERN = WordForm(  # "work in pattern, decreasing 1 st at each side of the centre st"
    r"(?<![^\s])(?:work|keep|continue) in (?:the )?(?:pattern|patt|lace)(?: as (?:set|est\w*))?(?=,? (?:and )?(?:de|in)c(?:reas(?:ing|e))? (?:1|one|2|two) (?:sts?|stitch(?:es)?) (?:at|on) (?:each|either|both) sides? of the cent)"
)
_ITS_COUNT = WordForm(r" ?[(\[]\d[^()\[\]]*\b(?:sts|stitches)\b[^()\[\]]*[)\]]$", re.NOFLAG)
_EVEN = WordForm(
    r"(?:(?:work|knit|k|continue|cont)\s+)?(?:even|straight|plain|(?:with )?no (?:further |more )?(?:shaping|dec(?:reas)?\w*|inc(?:reas)?\w*)|without (?:any |further |more )?(?:shaping|dec(?:reas)?\w*|inc(?:reas)?\w*)|in (?:pattern|patt|rib|ribbing)(?: as (?:set|established))?|as (?:set|established))(?:\s+(?:in|as) [^.;:*]*|,? (?:keeping|with) (?:the )?(?:instep|front|back|sole|panel|cable|lace|patt\w*)(?:[^.;:*\d]|\b(?<=needle )\d|\d(?=st|nd|rd|th))*|,? (?:ending|finishing) (?:with|after|on) an? (?:ws|rs|wrong[- ]side|right[- ]side|purl|knit) row|,? (?:knitting|with) (?:the |all )*(?:rs|right[- ]side) rows(?: knit)?,? and (?:working |purling )?(?:the |all )*(?:ws|wrong[- ]side) rows(?: as row \d+)?)?\s*[.]*$|work (?:in )?(?:pattern|patt|rib)(?![^.;:*]*\b(?:dec\b|inc\b|(?:de|in)creas|ssk|ssp|skp\w*|k2tog|p2tog|m1\w*|kfb|yo|sm)\b)[^.;:*]*$",
)
_PLACES = r"(?:instep|sole|front|back|palm|top|heel|panel)"
_PLACED = r"(?:in (?:patt\w*|lace|rib|st\.? st)(?: as (?:set|est\w*))?|even|as (?:set|est\w*)|knit|plain|purl)"
_STRETCH = (
    rf"(?:(?:(?:k|knit|work|keep|rib|patt(?:ern)?|p|purl) )?(?:to |across |over )?(?:the )?(?:{_PLACES}|needle \d)(?: sts| stitches)?:?(?: {_PLACED})?|"
    r"(?:k|knit|work|patt) to (?:the )?end(?: of (?:the )?(?:round|rnd|row))?)"
)
_ALL_EVEN = WordForm(  # "instep in patt, sole knit"; "k to instep, work instep in patt, k to end"
    rf"{_STRETCH}(?:(?:,|;| and)+ ?(?:then )?{_STRETCH})+(?:,? (?:working|knitting) (?:the |any |all )*(?:last |remaining )?(?:ds|double st\w*|wraps?)\b[^;\d]*)?$",
)
_EVENLY = WordForm(
    rf"(?P<how>knit|k|purl|p|work)(?: (?:(?:a|1|one|the next) )?(?:round|rnd|row))?(?:,| and)? ?(?P<what>dec|inc)(?:reas(?:e|ing)|'?g)?\.? (?P<n>{COUNT}) (?:sts?|stitches|stitch)(?:,? (?:evenly|equally)(?: spaced)?)?(?: (?:across|around|over|in|along)[^:;.*]*)?\s*(?::\s*(?P<items>.+))?$|(?P<what2>dec|inc)(?:reas(?:e|ing)|'?g)? (?P<n2>{COUNT}) (?:sts?|stitches|stitch),? evenly[^:;.*]*$",
)


_ENDING = WordForm(
    rf"rep(?:eat)? from \*(?: to end)?,? ?,? end(?:ing)?(?: (?:the )?last rep(?:eat)?\.?,?)?(?: with)? (?P<items>(?:(?:k|p|knit|purl) ?{COUNT}(?:,? (?:and )?)?)+)(?=\s*[.]*$)",
)


def _counted_from_end(match: re.Match[str]) -> str:
    """Put "rep from * to last 4 sts, k4" for "rep from *, ending k4"."""
    counts = [count_in(one) for one in re.findall(COUNT, match["items"])]
    widest = max(counts, key=lambda count: len(values_of(count)))
    wide = [as_many(count, widest) for count in counts]
    rest = sized([sum(column) for column in zip(*wide, strict=True)])
    if rest == 0:
        return "rep from * to end"
    return f"rep from * to last {rest} sts, {match['items'].strip(' ,')}"


_LAST_REPEAT = WordForm(
    r"\*\s*(?P<body>[^*]+?),? (?P<last>[kp]) ?(?P<n>\d+)\s*[;,]? rep(?:eat)? from \* to end,? ending (?:the |with the )?last rep(?:eat)?\.?,? (?:with )?(?P=last) ?(?P<m>\d+)",
)


def _last_repeat(scribe: Scribe, body: MappedText) -> MappedText:
    """Write the last repeat out where it ends with fewer stitches than the others."""
    match = _LAST_REPEAT.search(body.text)
    items = scribe.items(MappedText.of(match["body"])) if match else None
    found = change_of(items, scribe.table) if items is not None else None
    if match is None or found is None:
        return body
    kept, last = match["body"], match["last"]
    new = f"*{kept}, {last}{match['n']}; rep from * to last {found[0] + int(match['m'])} sts, {kept}, {last}{match['m']}"
    return body.sub(_LAST_REPEAT, lambda _: new)


_RIBBING = WordForm(
    r"(?:work )?(?:in )?[(\[]?(?:k ?\d+,? ?p ?\d+|\d ?x ?\d)[)\]]?,? (?:in )?rib(?:bing)?(?: (?:around|to end))?",
)


def labelled(scribe: Scribe, label: Label, body: MappedText) -> list[Says] | None:
    """Return the rows that a label and what follows it make; None where that means nothing."""
    if not body.text.strip(" ."):
        return None
    named = yarn_first(body)
    if named is not None:
        found = labelled(scribe, label, named[1])
        return None if found is None else in_yarn(scribe, named[0], found)
    if (found := heel_then_needle_2(scribe, body)) is not None:
        return found
    body = _last_repeat(scribe, body).sub(_ENDING, _counted_from_end).sub(_SHAPED_PATTERN, "knit")
    text = body.text.strip(" .")
    as_told = LAST_ONE.sub("", text) if len(label.numbers) > 1 else text
    if match := _AS.match(as_told) or _AS.match(_ITS_COUNT.sub("", as_told)):
        found = _as_before(scribe, label, match)
        if found is not None:
            return found
    if _AS_EVER.fullmatch(text) and (before := _of_section_before(scribe, label)) is not None:
        return before
    if _EVEN.match(text) or _ALL_EVEN.match(text):
        rows = _by_sides(scribe, label)
        even = scribe.plain(ground=not is_plain(scribe, text))
        return labelled_rows(scribe, label, even[0].items) if rows is None else rows
    if _RIBBING.fullmatch(text) and (unit := unit_in(scribe, text, _course(scribe, label))):
        return labelled_rows(scribe, label, unit[0].items)
    if match := _EVENLY.match(text):
        return _shaped_evenly(scribe, label, match, body)
    if len(label.numbers) > 1 and goes_on(text):
        found = carried(scribe, label.numbers)
        if found is not None:
            return found
    if (kept := _LEAVING.search(body.text)) is not None and (held := _left(scribe, body, kept)):
        return held
    turned = re.search(r"[.!]\s*turn\b[^.;]*[.!]*$", body.text, re.IGNORECASE)
    if turned:
        body = body.sub(re.compile(r"[.!]\s*turn\b[^.;]*[.!]*$", re.IGNORECASE), ", turn")
    if (found := starred_rows(scribe, body)) is not None:
        return found
    body = _new_stitches(scribe, body)
    if (repeat := group(scribe, body)) is not None:
        return labelled_rows(scribe, label, repeat)
    if (found := groups(scribe, body)) is not None:
        return found
    for one in (body, without_asides(body)):
        items = scribe.items(one.piece(0, len(one.text.rstrip(" .!"))))
        if items is not None:
            return labelled_rows(scribe, label, items)
    if (found := _behind_colon(scribe, label, body)) is not None:
        return found
    bare = without_asides(body)
    found = again(scribe, bare)
    if found is None:
        found = plain_work(scribe, bare)
    if found is None:
        found = _spread(scribe, label, bare)
    if found is None and len(label.numbers) > 1:
        found = in_any_order(scribe, bare)  # "rows 1-10: work rows 1 and 2 of the tip 5 times"
    unknown = not found and (match := _AS.match(text)) and re.search(r"\d", match["what"])
    _by_their_numbers(scribe, label, found or ())
    return None if unknown else found


def _by_their_numbers(scribe: Scribe, label: Label, says: Sequence[Says]) -> None:
    """Remember plain rows by the numbers of their label: "rows 2-4: work 3 rows in st st"."""
    rows: list[st.Step] = []
    for one in says:
        step = one.step if isinstance(one, Numbered) else one
        if isinstance(step, st.RepeatRounds) and isinstance(step.times, int) and not step.ending:
            rows += step.steps * step.times
        elif isinstance(step, st.Round | st.Row):
            rows.append(step)
        else:
            return
    if len(rows) == len(label.numbers) > 1:
        for number, row in zip(label.numbers, rows, strict=True):
            if isinstance(row, st.Round | st.Row):
                scribe.numbered(row, (number,))


def _by_sides(scribe: Scribe, label: Label) -> list[Says] | None:
    """Return plain rows of which every other one was told once for all: "rows 17-31: work even"."""
    alternate = scribe.context.alternate
    if alternate is None or len(label.numbers) < 2 or _course(scribe, label) != "ROW":
        return None
    rows = [alternate[1] if n % 2 == alternate[0] else (KNIT,) for n in label.numbers]
    says: list[Says] = []
    for number, items in zip(label.numbers, rows, strict=True):
        scribe.numbered(row := st.Row(tuple(items)), (number,))
        says.append(Numbered(row, (number,)))
    return says


def _behind_colon(scribe: Scribe, label: Label, body: MappedText) -> list[Says] | None:
    """Read "knit across, decreasing 1 st at the centre: k16, k2tog, k15" as what it spells out."""
    lead, colon, rest = body.text.rstrip(" .!").rpartition(":")
    if not colon or not rest.strip() or "*" in lead or re.search(r"\bneedle|\bn\d", lead, re.I):
        return None
    items = scribe.items(body.piece(len(lead) + 1, len(body.text.rstrip(" .!"))))
    return None if items is None else labelled_rows(scribe, label, items)


_AS_EVER = WordForm(r"(?:work |knit )?(?:the same )?(?:as before|as ever|as above)")


def _of_section_before(scribe: Scribe, label: Label) -> list[Says] | None:
    """Return the rows with these numbers of the last section that has them: "row 2: as before"."""
    if not label.numbers or any(number in scribe.context.rows for number in label.numbers):
        return None
    for rows, _ in reversed(list(scribe.context.sections.values())):
        if all(number in rows for number in label.numbers):
            return _copied(scribe, label, [rows[number] for number in label.numbers])
    return None


_LEAVING = WordForm(
    rf",? (?:and )?turn(?: work)?[;,.]? ?(?:and )?(?:then )?(?:leav|put|plac|slip|mov|transferr?|let)(?:e|ing|t+ing)? (?:the )?(?:last|other|rem(?:aining)?|next|first|unworked)? ?(?P<n>{COUNT}) (?:(?:unworked|remaining|waiting) )?(?:sts|stitches)(?: rest| wait)?(?: unworked| behind| waiting| on hold| (?:on|on to|onto|to|at) (?:a |the |another )?(?:second |other |new |separate |spare |stitch |st |safety |different |free |far )*(?:holder|needle|waste yarn|scrap yarn|spare yarn|thread|pin|cable|(?:end|tip) of (?:the|your) needle))?[.]*$",
)


def _left(scribe: Scribe, body: MappedText, kept: re.Match[str]) -> list[Says] | None:
    """Read "K24, turn; leave the last 12 sts": they wait for good."""
    items = scribe.items(body.piece(0, kept.start()))
    live, count = scribe.now(), count_in(kept["n"])
    if items is None or live.in_rounds or not live.sure:
        return None
    if not any(tally.ahead for tally in live.tallies):
        items = (Turn(), *items)
    after = [live.trial((st.Part(items),), size).tally for size in range(len(live.tallies))]
    if not after or [tally.ahead for tally in after] != [
        int(v) for v in as_many(count, live.count)
    ]:
        return None
    names = [name for name in ("instep", "side", "other") if name not in live.held()]
    return [st.Part(items), st.Hold(count, names[0])] if names else None


_NEW = WordForm(
    r"\b(k|p|knit|purl) to (?:within )?(\d+) (?:sts?|stitch\w*) (?:before|of) (?:the )?(?:new|cast-on|extra|co) (?:sts?|stitch\w*)",
)


def _new_stitches(scribe: Scribe, body: MappedText) -> MappedText:
    """Put a number for "to 1 st before the new st": where the last stitches were cast on."""
    match = _NEW.search(body.text)
    if match is None:
        return body
    live = scribe.now()
    at = next(
        (
            n
            for n in range(len(scribe.assembler.entries) - 1, -1, -1)
            if isinstance(scribe.assembler.entries[n].step, st.CastOn)
        ),
        -1,
    )
    places = live.worked_after(at)
    if not places:
        return body
    count = live._all([place - int(match[2]) for place in places])
    return body.sub(_NEW, lambda found: f"{found[1]} {count}")


_ONE_NEEDLE = WordForm(
    r"\s*(?:work|knit|k|rib) (?:across )?(?:the )?"
    r"(?:needle 1\b|needles 1 and (?:needle )?2\b|first two needles\b)[^;,:\d]*$",
)


def _spread(scribe: Scribe, label: Label, body: MappedText) -> list[Says] | None:
    """Read a row that does more than work stitches: it holds some, casts some on."""
    found = joined(scribe, body)
    if not found:
        return None
    merged = _merge_parts(found)
    if (
        label.course == "RND"
        and not scribe.now().in_rounds
        and not scribe.now().held()
        and len(merged) > 1
    ):
        merged.append(st.Join())
    if len(merged) == 1 and isinstance(merged[0], st.Part) and _ONE_NEEDLE.match(body.text):
        return merged  # the other needle has a sentence of its own
    *yarns, last = merged
    whole = not yarns or (scribe.now().in_rounds and not scribe.now().held())
    if isinstance(last, st.Part) and whole and all(isinstance(one, st.UseYarn) for one in yarns):
        return [*yarns, *labelled_rows(scribe, label, last.items)]
    merged = _turned(scribe, label, opened(scribe, merged))
    if label.numbers:
        scribe.context.last = label.numbers[-1]
    scribe.context.course = "RND" if _course(scribe, label) == "RND" else "ROW"
    if (
        any(isinstance(one, st.Part) and has_picks(one.items) for one in merged)
        and scribe.now().held()
    ):
        flat = tuple(item for one in merged if isinstance(one, st.Part) for item in one.items)
        if all(isinstance(one, st.Part | st.BeginHere | st.Join) for one in merged):
            return list(scribe.laid_out(flat))
    return merged


def _turned(scribe: Scribe, label: Label, says: list[Says]) -> list[Says]:
    """Turn at the end of a flat row of which some stitches were bound off or cast on."""
    last = says[-1]
    if (
        _course(scribe, label) == "RND"
        or scribe.now().in_rounds
        or scribe.now().held()
        or not any(isinstance(one, st.BindOff | st.CastOn) for one in says)
        or not isinstance(last, st.Part)
        or not isinstance(last.items[-1], Run | Repeat)
    ):
        return says
    return [*says[:-1], st.Part((*last.items, Turn()))]


def _merge_parts(says: list[Says]) -> list[Says]:
    found: list[Says] = []
    for one in says:
        last = found[-1] if found else None
        if isinstance(one, st.Part) and isinstance(last, st.Part):
            found[-1] = as_one_part(last, one)
        else:
            found.append(one)
    return found


def goes_round(scribe: Scribe) -> bool:
    """Tell whether what is called a row can only be a round: the work was joined, and not parted."""
    if not any(
        isinstance(entry.step, st.Join) or (scribe.loose and isinstance(entry.step, st.Round))
        for entry in scribe.assembler.entries[-40:]
    ):
        return False
    live = scribe.now()
    return (
        live.in_rounds
        and live.sure
        and not live.held()
        and not any(tally.behind or not tally.right_side for tally in live.tallies)
    )


def _course(scribe: Scribe, label: Label) -> str:
    if label.course == "ROW" and not label.side and goes_round(scribe):
        return "RND"
    if label.course in ("RND", "ROW"):
        return label.course
    if label.side:
        return "ROW"
    if label.name == "set-up" and not scribe.context.rows:
        return "RND" if scribe.now().in_rounds or not scribe.now().held() else scribe.course
    return (
        "RND"
        if scribe.now().in_rounds and not scribe.now().held() and scribe.context.course != "ROW"
        else scribe.course
    )


def ends_amid_heel(scribe: Scribe, step: st.Round | st.Row) -> bool:
    """Tell whether a row of a heel goes to its middle, and no further: the next round begins there."""
    counted = all(isinstance(one, Run) and not isinstance(one.amount, To) for one in step.items)
    if isinstance(step, st.Round) or not counted:
        return False
    live = scribe.now()
    if len(live.held()) != 1 or live.in_rounds or not live.sure:
        return False
    ends = [live.trial((st.Part(step.items),), size) for size in range(len(live.tallies))]
    return all(
        not end.troubles and end.tally.ahead and end.tally.ahead == end.tally.behind for end in ends
    )


def only_begins(scribe: Scribe, step: st.Round | st.Row) -> bool:
    """Tell whether a few stitches are worked: to where the round begins anew, or others wait."""
    runs = all(isinstance(item, Run) for item in step.items)
    if not runs or PART_THERE.match(scribe.following) is None:
        return False
    live = scribe.now()
    return any(live.trial([step], size).troubles for size in range(len(live.tallies)))


def labelled_rows(scribe: Scribe, label: Label, items: Sequence[Item]) -> list[Says]:
    """Return the rows that a label and a list of stitches make."""
    several = [made("ROW", row, "") for row in between_turns(items)]
    if len(several) > 1 and not label.numbers:
        for row in several:
            scribe.numbered(row, ())
        return [Numbered(row) for row in several]
    step = made(_course(scribe, label), items, label.side)
    context = scribe.context
    items = step.items
    if not label.numbers and (ends_amid_heel(scribe, step) or only_begins(scribe, step)):
        return [st.Part(items)]
    if label.which:
        step = on_halves(scribe, step)
        items = step.items
        parity = 1 if label.which == "odd" else 0
        other, context.alternate = context.alternate, (parity, tuple(items))
        every = context.alternate
        context.alternate_at = len(scribe.assembler.entries)
        if not label.numbers and other is not None and other[0] != parity:
            return by_turns(scribe, _course(scribe, label), dict([other, every]))
        if not label.numbers:
            return []
    numbers = label.numbers
    if label.which and all(number % 2 == numbers[0] % 2 for number in numbers):
        numbers = numbers[
            :1
        ]  # "rounds 2, 4, 6 and all even rounds": the others follow in their turn
    step = on_halves(scribe, step)
    arrange_by_instep(scribe, step.items)
    weave_in(scribe, numbers)
    rows = as_set_up(scribe, step)
    if rows is not None:
        return rows
    scribe.numbered(step, numbers, label.name)
    context.alternate = every if label.which else context.alternate  # row 1 forgets those before
    if not numbers and (is_worked_below(scribe, label.name, step) or "told only" in label.aside):
        scribe.context.defined = step, len(scribe.assembler.entries)
        return []
    if (missing := between(scribe, numbers)) is not None:
        return [Numbered(step, numbers), missing]
    if label.times > 1:
        return [st.RepeatRounds((attrs.evolve(step, at=scribe.place),), label.times)]
    return [Numbered(step, numbers)]


def between(scribe: Scribe, numbers: tuple[int, ...]) -> Numbered | None:
    """Return the rows that "rows 4 and 6" leave out, where the text gave them once for all."""
    alternate = scribe.context.alternate
    missing = tuple(
        n for n in range(min(numbers, default=0), max(numbers, default=0)) if n not in numbers
    )
    if alternate is None or not missing or any(n % 2 != alternate[0] for n in missing):
        return None
    return Numbered(made(scribe.course, alternate[1], ""), missing)


def _as_before(scribe: Scribe, label: Label, match: re.Match[str]) -> list[Says] | None:
    """Return rows that are worked as others were."""
    what, of = match["what"].lower(), (match["of"] or "").lower().strip()
    of = "" if re.match(r"(?:this|that|same)\b", of) else of  # "as rows 1 and 2 of this band"
    if match["nth"]:
        wanted: tuple[int, ...] = (int(match["nth"]),)
    elif re.search(r"\d", what):
        wanted = numbers_in(what.partition(",")[0] if says_longer(what) else what)
    else:
        name = re.sub(r"^the | (?:round|rnd|row)$|(?:round|rnd|row) (?=[a-h]$)", "", what).strip()
        step = named_row(scribe, "last" if name in ("last", "previous") else name)
        if step is None:
            return None
        found = in_purl([step]) if says_purled(match.string) else [step]
        again = max(1, number_of(match["times"] or ""))  # "Rib rnds: work the rib rnd 3 times"
        return _copied(scribe, label, [_for_either_side(one) for one in found] * again)
    rows = [scribe.context.row(number, of) for number in wanted]
    if None in rows and _goes_on_with(scribe, label, wanted, of):
        rows = [scribe.context.rows.get(number) for number in wanted]
    found = [row for row in rows if row is not None]
    if not found or len(found) != len(rows):
        return None
    if says_purled(match.string):
        return _copied(scribe, label, [_for_either_side(row) for row in in_purl(found)])
    if says_longer(match.string):
        return _as_before_but_longer(scribe, label, match.string, found)
    times, many = number_of(match["times"] or ""), len(label.numbers)
    if any((one - wanted[at % len(wanted)]) % 2 for at, one in enumerate(label.numbers)):
        found = [_for_either_side(row) for row in found]
    if not times and many > len(found) and label.times <= 1:  # the last time may end before all
        return _copied(scribe, label, [found[at % len(found)] for at in range(many)])
    often = times or label.times // len(found), many // len(found) * (not times)
    return _copied(scribe, label, found * max(1, *often))


def _goes_on_with(scribe: Scribe, label: Label, wanted: Sequence[int], of: str) -> bool:
    """Tell whether rows of a pattern, which no title names, go on from those that they name."""
    told = re.fullmatch(r"(?:[a-z]+ ){0,2}(?:patt(?:ern)?|cables?|lace|panel|motif)", of)
    on = bool(label.numbers) and label.numbers[0] == scribe.context.last + 1
    return bool(told) and on and max(wanted) <= scribe.context.last


def _as_before_but_longer(
    scribe: Scribe, label: Label, text: str, rows: list[st.Round | st.Row]
) -> list[Says]:
    """Return "rows 13-18: as rows 11 and 12, with 1 st more in each row"."""
    found = lengthened(scribe, text, rows, len(label.numbers) // 2)
    if found is None:
        raise Lost(text)
    scribe.context.last = max(label.numbers)
    return found


def _for_either_side(row: st.Round | st.Row) -> st.Round | st.Row:
    """Return a row without its side: "rows 2-6: as row 1" are worked on both."""
    return attrs.evolve(row, side=None) if isinstance(row, st.Row) else row


def _copied(scribe: Scribe, label: Label, rows: list[st.Round | st.Row]) -> list[Says]:
    says: list[Says] = []
    numbers = label.numbers
    weave_in(scribe, numbers)
    for place, row in enumerate(rows):
        one = attrs.evolve(row, count=None, at=None)
        if isinstance(one, st.Round) and _course(scribe, label) == "ROW":
            one = st.Row(one.items)  # "row 1 (RS): work as rnd 1 of lace"
        if isinstance(one, st.Row) and label.side and len(rows) == 1:
            one = attrs.evolve(one, side=label.side.strip("()"))
        own = numbers[place : place + 1] if len(numbers) == len(rows) else ()
        number = numbers if len(rows) == 1 else own
        if place and number and (missing := between(scribe, numbers[place - 1 : place + 1])):
            says.append(missing)  # "rows 5, 7, 9: as row 3", the even ones told once for all
        scribe.numbered(one, number, label.name if len(rows) == 1 else "")
        says.append(Numbered(one, number))
    return says


def shaped_evenly(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read "k 1 rnd, inc 2 sts evenly", which has no label."""
    match = _EVENLY.match(said.text.strip(" ."))
    if match is None or match["items"]:
        return None
    course = "ROW" if re.search(r"\brow\b", said.text, re.IGNORECASE) else ""
    return _shaped_evenly(scribe, Label(course or "R", name="next"), match, said)


def _shaped_evenly(
    scribe: Scribe, label: Label, match: re.Match[str], body: MappedText
) -> list[Says] | None:
    amount = count_in(match["n"] or match["n2"])
    down = (match["what"] or match["what2"]).lower() == "dec"
    if match["items"]:
        start = match.start("items")
        items = scribe.items(body.piece(start, len(body.text.rstrip(" ."))))
        if items is None:
            return None
        scribe.claim("change", _negative(amount) if down else amount)
        return labelled_rows(scribe, label, items)
    rows = evenly(scribe, amount, down=down, course=_course(scribe, label))
    if rows is None:
        return None
    scribe.context.course = _course(scribe, label)
    if label.name and isinstance(rows[0], Numbered):
        scribe.context.named[row_name(label.name)] = rows[0].step
    return rows


def _negative(amount: Count) -> Count:
    if isinstance(amount, Sized):
        return Sized(tuple(-int(value) for value in amount.values))
    return -amount
