# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A heel whose stitches are told before its first row: "Heel flap (24 sts)", "over 28 sts"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from loopwright.pattern import steps as st
from loopwright.pattern._certain_changes import change_of
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._grammar.said import Numbered
from loopwright.pattern._reading.labels import label_of
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern.items import Turn, WrapTurn
from loopwright.pattern.values import Count, as_many, sized

__all__ = [
    "LEAVING",
    "PART_THERE",
    "begin_heel",
    "heel_told",
    "of_the_heel",
    "over_so_many",
    "part_of_heel",
    "without_heel",
]

_PART = r"\b(?:heel|flap)\b"
_TOLD = WordForm(
    rf"^(?=[^.;]*{_PART})(?:[A-Za-z' /,:()–—-]|\bs/w\b)*?(?P<n>{COUNT})(?: (?!sts|stitch)[a-z-]{{3,}}){{0,2}}(?: (?:of|out of) (?:the |all )?\d+)? ?{STS}(?: (?:only|for (?:the |your )?heel(?: flap)?))?(?:[ ,;()]+(?:[A-Za-z' -]|\d+ (?:rows|{STS})|N\d)*)*[.:)]*\s*$",
)
_FOR_HEEL = WordForm(
    rf"\bheel (?:needs|uses|takes|has|=) (?P<a>{COUNT}) ?{STS}|(?P<b>{COUNT}) {STS} (?:are |is )?for (?:the |your )?heel\b",
)
_TITLE = WordForm(r"(?:short[- ]row |the )?(?:heel|flap)\b[^.;:\d]{0,30}$")
_DOES = WordForm(
    r"\b(?:k|p)\s?\d|\b(?:knit|purl|turn(?:ed|ing)?|slip|sl|place|leave|divide|arrange|pick|cast|bind|rep|repeat|dec\w*|inc\w*|graft|hold|until|remain\w*|rem|left|gusset|after|there|have|has|next|first|last|half|halves|work on|continue|wait|rest|others?)\b|\*",
)

_THE_FIRST = WordForm(r"(?<=\bover )(?:the )?(?:first|next) (?=\d)")
_HALF_TURNED = WordForm(  # "Heel, first half (back needle, 22 sts)": its short rows go inwards
    r"(?<=\bheel)[,:]? (?:\(?(?:the )?(?:first|1st|inward|narrowing) (?:half|part)\)?)",
)
_OVER_ALONE = WordForm(r"(?:worked )?(?:over|on|across) (?:the )?(?:first |next )?(?=\d)")


def heel_told(scribe: Scribe, text: str) -> bool:
    """Keep how many stitches the heel takes, where a title or an aside tells it; tell whether one did."""
    if _TITLE.match(text.strip()):
        scribe.context.titled_at = len(scribe.assembler.entries)
    text = _HALF_TURNED.sub("", _THE_FIRST.sub("", text))
    found = _FOR_HEEL.search(text) or (None if _DOES.search(text) else _TOLD.match(text))
    if found is None or not (live := scribe.now()).is_whole_round:
        return False
    many = count_in(found["a"] or found["b"] if "a" in found.groupdict() else found["n"])
    whole = as_many(live.count, live.count)
    if not all(0 < int(n) < int(all_) for n, all_ in zip(as_many(many, live.count), whole, strict=True)):  # fmt: skip
        return False
    scribe.context.told, scribe.context.told_at = many, len(scribe.assembler.entries)
    return True


def begin_heel(scribe: Scribe, said: MappedText, says: object) -> None:
    """Leave the heel alone in work where its first row comes, and nobody set it apart."""
    label = label_of(said.text)
    step = says.step if isinstance(says, Numbered) else says
    if step is None and label is not None:
        step = _as_row(scribe, said.piece(label.end, len(said.text)))
    side = _SIDE.match(said.text) is not None
    told = _told(scribe)
    turned = isinstance(step, st.Row) and _is_turned(step)
    is_row = told is not None or turned or scribe.is_turned()
    row = label is not None and (label.course == "ROW" or (label.course == "R" and is_row))
    back = _ROW_BACK.match(scribe.following or scribe.next_line) is not None
    turns = isinstance(step, st.Part) and _is_turned(step) and (told is not None or back)
    if not (side or row or turns) or not _goes_round(scribe):
        return
    live = scribe.now()
    if not live.in_rounds or not live.sure or live.held() or not live.tallies:
        return
    if not scribe.loose:  # in our own words short rows are worked amid the round
        scribe.context.unparted = True
        return
    takes = _takes(scribe, step)
    if live.behind_any():
        half = told if told is not None else sized([tally.count // 2 for tally in live.tallies])
        ahead = live.ahead
        fits = takes is None or as_many(takes, ahead) == as_many(ahead, ahead)
        if scribe.is_turned() and fits and as_many(half, ahead) == as_many(ahead, ahead):
            rest = live.behind
            scribe.turn_later()
            scribe.loose, scribe.context.course = True, "ROW"
            scribe.give([st.Hold(rest, "instep")])
        return
    named = label is not None and not label.numbers and not side and not back
    wanted = told if told is not None else None if named else _half(scribe, takes, step, back)
    if wanted is None:
        return
    scribe.loose, scribe.context.course, scribe.context.told = True, "ROW", None
    scribe.give([*scribe.focus(wanted), *([st.InRows()] if turns else [])])


_SIDE = WordForm(r"\s*(?:(?:RS|WS)\b[^:*]{0,12}|Row \d+,? (?:RS|WS)):", re.NOFLAG)


_ROW_BACK = WordForm(  # what comes behind "k28, turn" where rows are worked on these alone
    r"(?:\d{1,2}[.)] )?(?:next row:? |(?:row |r ?)1:? |1st row:? )?(?:[(]?ws[)]?(?: rows?)?:? )?(?:m?ds\b|make (?:a |1 |one )?(?:ds|double)|(?:sl(?:ip)? ?(?:1|one)(?: wyif| pwise)?,? (?:and )?)?p(?:url)?(?:\b| ?\d+\.?$))"
)


def _goes_round(scribe: Scribe) -> bool:
    """Tell whether a round may be in work, by the steps alone: nothing waits, no row came last."""
    for entry in reversed(scribe.assembler.entries):
        rows = list(rounds_in((entry.step,)))
        if rows or isinstance(entry.step, st.Join | st.Part | st.Hold | st.CastOn):
            return not isinstance(entry.step, st.Hold | st.CastOn) and not any(
                isinstance(row, st.Row) for row in rows[-1:]
            )
    return False


def _as_row(scribe: Scribe, said: MappedText) -> st.Row | None:
    """Return the row of a label that the language itself does not have: "1st row: k28, turn."."""
    remarks = len(scribe.remarks)
    items = scribe.items(said)
    del scribe.remarks[remarks:]
    whole = items and not any(isinstance(item, Turn | WrapTurn) for item in items[:-1])
    return st.Row(items) if items and whole else None


def _titled(scribe: Scribe) -> bool:
    """Tell whether no round was worked since a title that tells of the heel."""
    if re.search(_PART, scribe.context.section, re.IGNORECASE):
        return True
    at = scribe.context.titled_at
    since = scribe.assembler.entries[at:] if at is not None else ()
    return at is not None and not any(isinstance(one.step, st.Round) for one in since)


def _is_turned(step: st.Part | st.Row) -> bool:
    return any(isinstance(item, Turn | WrapTurn) for item in step.items)


def _told(scribe: Scribe) -> Count | None:
    """Return the heel that was told, if no round was worked since."""
    told, at = scribe.context.told, scribe.context.told_at
    since = scribe.assembler.entries[at:]
    if told is None or any(isinstance(one.step, st.Round | st.Join) for one in since):
        return None
    return told


def _takes(scribe: Scribe, step: object) -> Count | None:
    """Return how many stitches a row takes, None where that is open."""
    if not isinstance(step, st.Row | st.Part):
        return None
    found = []
    for size in range(len(scribe.now().tallies)):
        (one,) = scribe.now().of_size((step,), size)
        change = change_of(one.items, scribe.table)  # type: ignore[attr-defined]
        if change is None:
            return None
        found.append(change[0])
    opens = any("To(" in repr(item) for item in step.items)
    return None if opens else sized(found)


def _half(scribe: Scribe, takes: Count | None, step: object, back: bool) -> Count | None:
    """Return half of the round, where a row takes just that, or is turned a stitch before its end."""
    counts: Sequence[int] = [tally.count for tally in scribe.now().tallies]
    if takes is None or any(count % 2 for count in counts):
        return None
    half = [count // 2 for count in counts]
    there = [int(n) for n in as_many(takes, sized(half))]
    last = step.items[-1] if isinstance(step, st.Row) else None
    if _goes_on(scribe, half) and isinstance(last, Turn | WrapTurn):
        return sized(half)
    known = _titled(scribe) or (back and isinstance(last, WrapTurn))
    near = known and isinstance(last, Turn | WrapTurn) and there == [n - 1 for n in half]
    return sized(half) if there == half or near else None


_SECOND = WordForm(
    r"\b(?:second|2nd|other|part (?:two|2)|half (?:two|2)|continued|out(?:ward)?s?)\b"
)


_OTHER_HALF = WordForm(r"(?:the )?(?:second|2nd|other) half")


def _goes_on(scribe: Scribe, half: Sequence[int]) -> bool:
    """Tell whether a title goes on with a heel that was worked on half of the round before."""
    section, steps = scribe.context.section, [one.step for one in scribe.assembler.entries]
    if not re.search(_PART, section, re.IGNORECASE) and not _OTHER_HALF.fullmatch(section):
        return False
    held = [one for one in steps if isinstance(one, st.Hold)]
    heads = [at for at, one in enumerate(steps) if isinstance(one, st.Section)]
    begun = heads and any(isinstance(one, st.Hold) for one in steps[heads[-1] :])
    if not _SECOND.search(section) and not begun:  # rounds part its halves under one title
        return False
    heels = [as_many(one.stitches, sized(list(half))) for one in held if one.name == "heel"]
    return bool(heels) and [int(n) for n in heels[-1]] == list(half)


_OVER = WordForm(
    rf"(?<![\w.])(?:over|on|using|across) (?:just |only )?(?:the )?(?:(?P<which>first|last|next) )?(?P<n>{COUNT}) (?:(?:heel|sole|back) )?{STS}(?: only| alone)?(?:, working in rows| in rows)?[,:] (?=\S)",
)
_IN_ROWS = WordForm(r"\b(?:rows?|turn|w&t|wrap)\b")


def over_so_many(scribe: Scribe, said: MappedText) -> MappedText:
    """Leave the stitches alone that a row is said to be worked over: "on the first 18 sts, …"."""
    over = _OVER.search(said.text)
    if over is None or not (live := scribe.now()).is_whole_round:
        return said
    before, rest = said.text[: over.start()], said.text[over.end() :]
    led = re.fullmatch(r"\s*|.*: ?", before) is not None
    if not led or not _IN_ROWS.search(rest if not before else before + rest):
        return said
    many = as_many(count_in(over["n"]), live.count)
    left = [tally.count - int(n) for tally, n in zip(live.tallies, many, strict=True)]
    if min(left) <= 0:
        return said
    scribe.loose, scribe.context.course = True, "ROW"
    last = (over["which"] or "").lower() == "last"
    steps: list[Says] = [st.Hold(sized(left), "instep")] if last else list(scribe.focus(sized([int(n) for n in many])))  # fmt: skip
    scribe.give(steps)
    return said.sub(_OVER, "")


def of_the_heel(scribe: Scribe, said: MappedText) -> str | None:
    """Take a count for the heel's: "Reinforced heel, 30 sts."."""
    text = said.text
    if _OVER_ALONE.match(text) and _titled(scribe):  # "Heel: over first 16 sts"
        text = f"Heel, {_OVER_ALONE.sub('over ', text)}"
    if not heel_told(scribe, text):
        return None
    scribe.note(said.text)
    return "count"


def without_heel(scribe: Scribe, said: MappedText) -> MappedText | None:
    """Return what "Heel: k32, turn." asks of a round of which no needle is named; None for others."""
    lead = _HEEL_LEAD.match(said.text)
    if lead is None or not _is_whole(scribe):
        return None
    scribe.loose, scribe.context.titled_at = True, len(scribe.assembler.entries)
    return said.piece(lead.end(), len(said.text))


_HEEL_LEAD = WordForm(r"(?:short-row )?(?:heel(?: flap| turn)?|flap)(?: set-?up)?: (?=\S)")  # fmt: skip


def _is_whole(scribe: Scribe) -> bool:
    """Tell whether a round is in work, of which no needle is named: "Heel: k32, turn."."""
    live = scribe.now()
    return live.in_rounds and not any(tally.parts or tally.held for tally in live.tallies)


LEAVING = WordForm(  # "k32, turn, leaving the remaining sts unworked"
    r"(?<=turn)(?: (?:the |your )?work)?[,;]? (?:and )?(?:leav|keep|hold|plac|put|slipp?)(?:e|ing)? (?:all )?(?:the )?(?:other|rest|rem)[^,;.]*[.]?$",
)


PART_THERE = WordForm(  # "Next row: K8. This is the beginning of the round."
    r"(?:this|here) (?:is|will be) (?:now )?the (?:new )?(?:beginning|beg|start) of the (?:round|rnd)\b|"
    r"(?:the )?(?:rounds?|rnds?) (?:now |will now )?(?:begins?|starts?) (?:here|at this point)\b|"
    r"(?:now |then |drop [^,.]{4,20}, |leave [^,.]{4,20}, )*(?:(?:with|using|slip|place|put|join)\b|(?:knit|k|work) (?:the )?(?:next )?\d)[^.]*\b(?:waste|scrap|holder)\b|"
    r"(?:now |then )?(?:drop|let go of|leave|put down|lay down) (?:the |your )?(?:working |main |real )?(?:yarn|wool)\b[^.]{0,30}\.?$"
)
_PART_OF_HEEL = WordForm(  # "Set-up: Knit the first 6 heel sts and mark this spot as the new start"
    r"(?:set[ -]?up|next|first)(?: (?:row|rnd|round))?(?: [(](?:rs|ws)[)])?: (?=(?:k|knit)(?: ?\d|\b)[^*:]*$)"
)
_NEW_START = WordForm(r"\b(?:mark|new|begin\w*|start\w*)\b[^.:*]*\b(?:round|rnd)s?\b")


def part_of_heel(scribe: Scribe, said: MappedText) -> MappedText:
    """Return a sentence without its label where only a part of a heel is knit, and rounds begin."""
    match = _PART_OF_HEEL.match(said.text)
    if match is None or (live := scribe.now()).in_rounds or not live.sure or not live.held():
        return said
    told = _NEW_START.search(said.text, match.end()) or PART_THERE.match(scribe.following)
    return said.piece(match.end(), len(said.text)) if told else said
