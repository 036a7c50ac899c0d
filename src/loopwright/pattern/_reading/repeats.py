# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows said to be worked again: which, how often, and how it ends."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import takewhile

import attrs

from loopwright.errors import PatternSyntaxError
from loopwright.pattern import steps as st
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._grammar.said import Again
from loopwright.pattern._reading.alternate import weave_in
from loopwright.pattern._reading.changing import fitted
from loopwright.pattern._reading.growth import shapes
from loopwright.pattern._reading.how_far import RepeatBody, is_doubled, unit_of, until
from loopwright.pattern._reading.how_often import TIMES, in_addition, in_all, stride_in, times_in
from loopwright.pattern._reading.labels import letters_in, numbers_in
from loopwright.pattern._reading.named_rows import is_shaping, last_shaping, named_row, rows_named
from loopwright.pattern._reading.once_more import ROW_OF_KIND, is_apart, once_more, so_often
from loopwright.pattern._reading.one_sided import on_one_side
from loopwright.pattern._reading.onward import rows_before
from loopwright.pattern._reading.repeat_ends import by_their_numbers, ends_with, names_side
from loopwright.pattern._reading.rows_on import left_of
from loopwright.pattern._reading.scribe import Lost, Says, Scribe
from loopwright.pattern._reading.stated import count_in, number_of
from loopwright.pattern._reading.uncounted import with_rows
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, NUMBER, STS
from loopwright.pattern.values import (
    Count,
    Sized,
    SizedLength,
    UntilCount,
    UntilMeasures,
    plus,
    sized,
    values_of,
)

__all__ = ["again_rows", "repeated"]

_C = r"(?:rounds?|rnds?|rows?|r(?=\s?\d))(?![a-z])"
_WHICH = (
    rf"(?P<which>(?:the |all |these |both )*(?:\d+|two|three|four|six|eight)? ?(?:{_C})(?= of (?:section|the (?!(?:round|rnd|row|piece|last|work)\b)[a-z]))|(?:the )?(?:{_C}) ?\d+(?:\s*(?:-|–|—|to|through|,?\s*and|,|&)\s*(?:r|rounds?|rnds?|rows?)? ?\d+(?! ?[(\[]|\d| more| times| further| sts| stitches))*|(?:the )?(?:\d+(?:st|nd|rd|th)(?:\s*(?:and|to|-|,)\s*)?)+ (?:{_C})"
    rf"|(?:the )?(?:{_C}) (?P<letters>[a-h](?: ?(?:and|&|,|-|to) ?[a-h])+|[a-h](?= (?:once|twice|again|until|(?:a total of )?\w+ (?:more )?times)\b))(?![a-z])|sections? [^;]*?|steps? \d+(?:\s*(?:-|–|—|to|and|,|&)\s*(?:step )?\d+)*"
    rf"|(?:the )?(?:last|previous|these|those|this|that|above|both|foregoing|same|first|following)(?! (?:dec|inc)\w* (?:{_C})| (?:section|half|part|panel)\b)(?: last)?(?: of (?:them|these|those(?: rows| rounds)?))?(?: (?P<many>\d+|one|two|three|four|five|six|seven|eight|nine|ten|twelve))? ?(?:{_C})?(?: (?:just )?(?:above|worked))?"
    rf"|(?:the )?(?P<pair>(?:(?!every|each|next)[a-z]+ )?(?:dec|inc|shap)[a-z]*(?: (?:{_C}))?(?: and| then|,|/)+ (?:the )?(?:even|plain|knit|straight|non-?[a-z]+) (?:{_C}))"
    rf"|(?:the )?(?P<of_name>(?:\d+|two|three|four|six|eight) [a-z]{{3,}}(?: [a-z]{{3,}})?) (?:rows|rounds|rnds)|(?:the |an? )?(?P<name>(?:(?:last|previous|this|that) (?=dec|inc))?[a-z][\w-]*(?: \d+| (?:dec|inc)(?:reas(?:e|ing))?)?) (?:{_C}))"
)
_AGAIN = WordForm(
    rf"(?:and |then |now )*(?:rep(?:eat)?|do|work|knit|alternate|(?:continue|keep|carry on|go on)(?: (?:on |to )?(?:rep(?:eat)?(?:ing)?|work(?:ing)?|do(?:ing)?|knit(?:ting)?|alternat(?:e|ing)))|(?:carry on|go on|continue|keep going) with(?= (?:{_C}) ?\d)|cont)\b\.?(?: only)? {_WHICH}(?P<only> only| alone)?(?P<every>,? every [^;,.]*?(?:{_C}))?(?:,? (?:of|from) (?:the )?(?P<of>[a-z][^;,]*?)(?=[,;]|$| (?:(?:un)?til+|another|a further|a total|for|once|twice|in all|\w+ (?:more |further )?times)\b| \d+ ?[(\[]))?,?(?: (?P<rest>.*))?$",
)
_UNTIL = WordForm(r"\b(?:un)?til+\b (?P<what>.*)$")
_ENDING = WordForm(
    rf"[,;.]? ?(?:and )?(?:end(?:ing)?|finish(?:ing)?) (?:with|after|on|by)(?: working)? (?:a |the )?(?P<what>(?:{_C}) ?(?:\d+ ?(?:and|to|-|–|&) ?)?(?P<n>\d+)|(?P<nth>\d+)(?:st|nd|rd|th) (?:{_C})|(?P<side>ws|rs|wrong[- ]side|right[- ]side|knit|purl|dec\w*|inc\w*|plain|\w+) (?:{_C}|one\b))[^;]*$",
)
# "rep rows 2 and 3, ending with row 2, until all sts are used"
_ENDS_FIRST = WordForm(r"(,? (?:and )?(?:end|finish)(?:ing)? (?:with|after|on|by) [^,;]*?),?( (?:un)?til+ .*)$", re.NOFLAG)  # fmt: skip
_TAIL = WordForm(
    rf"(?:[,;.]? (?:and )?(?:then|after(?: that| this| which|wards?)|thereafter|from (?:then|there|that point|here|now) on),? (?:just |only |nothing but )?|,? and (?=(?:rep(?:eat)?|work|knit) (?:the )?(?:(?:{_C}) ?\d|\d+(?:st|nd|rd|th) {_C}|first\b|second\b|last\b|dec|inc)))(?:(?P<again>(?:rep(?:eat)?|do(?= (?:the )?(?:{_C}) ?\d)|work|knit|continue)\b.*)|(?P<bare>(?:the )?(?:(?:{_C}) ?\d+(?: ?(?:-|–|and|to|&) ?\d+)?|\d+(?:st|nd|rd|th) {_C}|(?:dec\w*|inc\w*|first|second) {_C})(?: only| alone|,? (?:in |on |as )?every (?:{_C}))?,? (?:(?:un)?til+\b.*|(?:down |up )?to \d.*|\w+ (?:more )?times\b.*|twice\b.*|once (?:more|again)\b.*))|(?:the )?(?P<few>(?:{_C}) ?\d+ ?(?:-|–|and|to|&) ?\d+)(?: once| again| once more| only)*$|(?:the )?(?P<what>(?:{_C}) ?\d+|\d+(?:st|nd|rd|th) {_C}|{ROW_OF_KIND}|first of them|first|second|last)(?: row| rnd| round)?(?: (?:once |only )?(?:more|again|once)\b.*| only)?)$",
)
_THEM = WordForm(  # "these 10 rows form the pattern. Repeat them until …"
    r"(?:and |then |now )*(?:rep(?:eat)?|work|(?:keep|go|carry) on (?:repeating|working|with)|continue (?:repeating|working)) (?:them|(?:the|this) (?:whole )?pattern)\b,? (?=(?:un)?til|for|\d|once|twice|another|a (?:total|further)|[a-z]+ (?:more )?times)|"
    rf"(?:and |then |now )*(?:do|repeat|work) (?:this|so),? (?=(?:un)?til you have (?:worked|knitted|done|made)? ?{COUNT} (?:rows|rounds|rnds))",
    re.NOFLAG,
)
_ALL_ROWS = WordForm(  # "work the 8 rounds 6 times in total"
    r"(?:and |then |now )*(?:rep(?:eat)?|work|knit) (?:the|all|all the|all of the|the whole) (?P<n>\d{1,2}|two|three|four|six|eight|ten|twelve) (?P<course>rounds|rnds|rows) (?=(?:a total of |another |a further |for |over )*\S+(?: [\[(][^)\]]*[)\]])? (?:more |further )?times\b|twice\b|once more\b|until\b)",
    re.NOFLAG,
)
_ENDS_WITH = WordForm(  # "rows 1-4", of which the fourth was told with the second
    rf"(?:and |then |now )*(?:rep(?:eat)?|work|knit)\b\.? (?:(?:the |these |all )*(?:{_C}) ?\d+ ?(?:-|–|to|through) ?(?P<b>\d+)|(?:the|these|those|last|all) (?:last )?(?P<n>\d+|four|six|eight|ten|twelve) (?:{_C}))",
    re.NOFLAG,
)
_WITHIN = WordForm(r"\b(?:knitting|working) (?:all )?(?:the )?other (?:sts|stitches)\b", re.NOFLAG)


def repeated(scribe: Scribe, text: str) -> list[Says] | None:
    """Return the steps that a sentence asks to be worked again; None if it asks nothing such.

    What it names must have been read; what follows ("then row 1 once more") is taken along.
    """
    text = text.strip(" .;!").lower()
    if (ends := _ENDS_WITH.match(text)) is not None:
        last = int(ends["b"]) if ends["b"] else number_of(ends["n"])
        weave_in(scribe, (last + 1,))
    if _WITHIN.search(text):  # rows of a panel, within rounds that have more stitches
        return None
    if (them := _THEM.match(text)) is not None and (last := scribe.context.last):
        course = "row" if scribe.course == "ROW" else "round"
        which = f"{course}s 1-{last}" if last > 1 else f"{course} 1"
        text = f"rep {which} {text[them.end() :]}"
    text = with_rows(scribe, text)
    if (all_rows := _ALL_ROWS.match(text)) and number_of(all_rows["n"]) == scribe.context.last:
        text = f"rep {all_rows['course']} 1-{scribe.context.last} {text[all_rows.end() :]}"
    rounds = _IN_ALL.search(text)
    text = re.sub(r"\s*[(\[][^)\]]*(?:rows?|rounds?|rnds?|times)[^)\]]*[)\]]\s*$", "", text)
    tail = _TAIL.search(text)
    if tail is None and _TWO_ENDS.search(text):
        return None
    before = text[: tail.start()] if tail else text
    found = _one(scribe, before)
    one_more = tail is not None and tail["what"] is not None
    alone = tail is None or one_more
    if rounds and alone and found and len(found) == 1 and isinstance(found[0], Again):
        _in_all(scribe, found[0], count_in(rounds[1]), int(one_more))
    if found is None or tail is None:
        return found
    kept, remarks = list(scribe.assembler.entries), list(scribe.assembler.remarks)
    again = _ONE_ROW.sub("work", tail["again"] or "")  # once, for it stood not last
    bare = f"{tail['few']} once" if tail["few"] else tail["bare"]
    try:
        scribe.give(found)
        more = (
            repeated(scribe, _of_the_same(before, again or f"work {bare}"))
            if tail["again"] or bare
            else once_more(scribe, tail["what"])
        )
        if more is None:
            scribe.assembler.entries[:] = kept
            return None
    except (Lost, PatternSyntaxError):
        scribe.assembler.entries[:], scribe.assembler.remarks[:] = kept, remarks
        raise
    return more


_TWO_ENDS = WordForm(r"\buntil [^;]*\d[^;]*[a-z][^;]*\buntil (?=[^;]*\d)", re.NOFLAG)
_ONE_ROW = WordForm(rf"^rep(?:eat)?(?= (?:the )?(?:(?:{_C}) ?\d+|\d+(?:st|nd|rd|th) (?:{_C}))(?: once)?(?: more| again)?$)", re.NOFLAG)  # fmt: skip
_NUMBERED = re.compile(rf"(?:{_C}) ?\d+(?:(?: ?[-–,&] ?| and | to )\d+)*(?! of)")


def _of_the_same(before: str, tail: str) -> str:
    """Say whose rows follow in "work row 2 of the first rib, then rep rows 1 and 2 until …"."""
    whose = re.search(rf"(?:{_C}) ?\d+ (?:of|from) (?:the )?[a-z][^;,]*", before)
    if whose is None or re.search(r"\b(?:of|from) (?:the )?[a-z]", tail.split("until")[0]):
        return tail
    name = re.sub(r" (?:once|twice|again|\w+ times).*| (?:once )?more$", "", whose[0])
    name = re.sub(r".*?\d (?=of|from)", "", name)
    return _NUMBERED.sub(lambda rows: f"{rows[0]} {name}", tail, count=1)


_IN_ALL = WordForm(rf"\(({COUNT}) (?:pattern |flap |heel )*(?:rows?|rounds?|rnds?)(?: in all| in total| total| worked| of [a-z ]+)?\)$", re.NOFLAG)  # fmt: skip


def _in_all(scribe: Scribe, again: Again, stated: Count, more: int) -> None:
    """Keep how many rounds a repeat and those behind it are said to make, where numbers tell."""
    each = 0 if again.ending or again.every != 1 else len(again.numbers) or again.last
    if each and isinstance(each, int) and isinstance(again.times, int | Sized):
        made = sized([int(n) * each + more for n in values_of(again.times)])
        if stated != plus(made, min(again.numbers, default=1) - 1):  # rows 1 and 2 count, too
            scribe.claim("rounds", stated, made)


def _one(scribe: Scribe, text: str) -> list[Says] | None:
    text = _ENDS_FIRST.sub(r"\2\1", text)
    ending = _ENDING.search(text)
    if ending:
        text = text[: ending.start()].rstrip(" ,.")
    match = _AGAIN.match(text)
    if match is None:
        return None
    rest = (match["rest"] or "").strip(" ,.")
    which = match["which"].strip()
    if which.startswith("section"):
        return _sections(scribe, which + " " + rest)
    if re.search(r"\bthen\b", rest):  # more follows than a row once more
        return None
    of = re.sub(r"^(?:this|that|the same)\b.*", "", (match["of"] or "").strip(" ."))
    if of and rest.startswith("chart"):
        of, rest = f"{of} chart", rest[5:].strip()
    if of == "section" and (numbered := re.match(r"(\d+)\b\s*(.*)$", rest)):
        of, rest = f"section {numbered[1]}", numbered[2]
    if of and re.search(r"\btimes|until|twice|once|total\b", of):
        cut = re.search(
            r"\s*\b(?:another|a further|a total|\w+ (?:more )?times|until|twice|once)\b.*$", of
        )
        if cut:
            rest, of = (of[cut.start() :] + " " + rest).strip(), of[: cut.start()].strip()
    pair = _AND.match(rest) if match["name"] else None
    rest = rest[pair.end() :].strip(" ,") if pair else rest
    times = _times(rest)
    if times is None and not (match["only"] or of or which):
        return None
    body = _named_body(scribe, match, which, of)
    if pair and body:  # "work dec rnd and even rnd a total of 6 times"
        body = _just_or_copies(
            scribe, [named_row(scribe, one) for one in (match["name"], pair["b"])]
        )
    if body is None:
        return None
    body = body if ending is None else by_their_numbers(scribe, body)
    return _made(scribe, match, body, rest, times, ending)


_AND = WordForm(
    rf"(?:and|then|followed by) (?:an? |the )?(?P<b>[a-z][\w-]*) (?:{_C})(?! ?\d+(?! (?:more|times)\b))",
    re.NOFLAG,
)


def _named_body(scribe: Scribe, match: re.Match[str], which: str, of: str) -> RepeatBody | None:
    numbered = re.search(r"\d|\b(?:two|three|four|six|eight)\b", which)
    if of and not numbered and not match["letters"] and not of.startswith("section"):
        return None
    if of.startswith("section") and re.match(r"(?:the |all |these |both )*(?:\w+ )?(?:rows|rounds|rnds)$", which):  # fmt: skip
        numbers = numbers_in(of)
        section = _section(scribe, numbers[0]) if numbers else None
        flat = rounds_in([row for row in section or () if isinstance(row, st.Step)])
        copies = tuple(attrs.evolve(row, count=None) for row in flat)
        return RepeatBody(copies=copies) if copies else None
    if of and (whole := _WHOLE_PATTERN.fullmatch(which)):
        rows = [scribe.context.row(number, of) for number in range(1, number_of(whole[1]) + 1)]
        copies = tuple(row for row in rows if row is not None)
        if copies and len(copies) == len(rows):
            return RepeatBody(copies=copies, of=True)
        return RepeatBody(last=len(rows)) if scribe.context.last == len(rows) > 1 else None
    if nth := re.fullmatch(rf"(?:the )?(first|second) {_C}", which):
        again = [row for row in once_more(scribe, nth[1]) or () if isinstance(row, st.Step)]
        return RepeatBody(copies=tuple(again)) if again else None
    if which.startswith("step"):
        told = [scribe.context.named.get(f"step {number}") for number in numbers_in(which)]
        named = told[:1] + [
            row for row, last in zip(told[1:], told, strict=False) if row is not last
        ]
        return _just_or_copies(scribe, named)  # steps of one round are one row
    if match["letters"]:
        names, letters = scribe.context.named, letters_in(match["letters"])
        named = [names.get(one) or names.get(f"step {ord(one) - 96}") for one in letters]
        return _just_or_copies(scribe, named)
    if match["pair"]:
        return _pair(scribe, match["pair"])
    if match["of_name"] and re.search(r"\b(?:more|plain|further)\b", match["of_name"]):
        return None
    if match["of_name"] and not re.search(r"\b(?:last|previous)\b", match["of_name"]):
        return _of_a_name(scribe, match["of_name"])
    if (
        re.search(r"\d", which)
        and not re.match(r"(?:the )?(?:last|previous|these|those|first|following)\b", which)
        and not match["name"]
    ):
        numbers = numbers_in(which)
        if of:
            rows = [scribe.context.row(number, of) for number in numbers]
            if not rows or any(row is None for row in rows):
                here = all(number in scribe.context.rows for number in numbers)
                return RepeatBody(numbers=numbers) if here and "chart" in match[0] else None
            return RepeatBody(copies=tuple(row for row in rows if row is not None), of=True)
        return RepeatBody(numbers=numbers)
    if (name := match["name"]) and not _POINTING.match(name):
        if len(called := rows_named(scribe, name)) > 1:
            return _just_or_copies(scribe, called)
        return RepeatBody(copies=tuple(called)) if called else None
    word = match["many"] or ""
    ours = r"(?:the )?(?:last|previous|these|those|this|that|both|above|foregoing|same)\b"
    if not which or re.match(ours, which):
        block = tuple(sorted(scribe.context.rows))
        if (
            not word
            and len(block) > 1
            and re.match(r"(?:these|those) (?:rounds|rnds|rows)$", which)
        ):
            return RepeatBody(numbers=block)
        many = number_of(word) or (2 if "both" in which else 1)
        of_rows = re.search(_C, which) or which.startswith("this") or word  # "those last two"
        if not of_rows or (not re.search(_C, which) and _OF_OTHERS.match(match["rest"] or "")):
            return None
        return RepeatBody(last=many)
    return None


_OF_OTHERS = WordForm(r"(?:times|sts|stitches|st|cm|mm|inch|in\b|more|repeats?|needles?|markers?|colou?rs?|halves|sides|parts)", re.NOFLAG)  # fmt: skip
_POINTING = WordForm("(?:last|this|these|previous|every|next|first|that|both)$", re.NOFLAG)
_WHOLE_PATTERN = WordForm(r"(?:the |all |these )*(\d{1,2}|two|three|four|six|eight) (?:[a-z]+ )?(?:rounds|rnds|rows)", re.NOFLAG)  # fmt: skip


def _pair(scribe: Scribe, said: str) -> RepeatBody | None:
    """Return "the dec rnd and the even rnd": a round that shapes, and the plain one behind it."""
    shaping = last_shaping(scribe, "".join(re.findall(r"\b(?:dec|inc)", said)[:1]))
    plain, last = scribe.plain(ground=False)[0], scribe.context.named.get("last")
    if shaping is None:
        return None
    behind = plain if last is None or is_shaping(last) else last
    return _just_or_copies(scribe, [attrs.evolve(one, count=None) for one in (shaping, behind)])


def _of_a_name(scribe: Scribe, said: str) -> RepeatBody | None:
    """Return "the 2 garter rows": rows with this name and numbers, or of a section named so."""
    word, name = said.split(" ", 1)
    numbers = range(1, number_of(word) + 1)
    named = scribe.context.named
    rows = [named.get(f"{name} {number}") or scribe.context.row(number, name) for number in numbers]
    if not any(rows) and len(rows) == scribe.context.last > 1:  # told last, under no such name
        return RepeatBody(numbers=tuple(numbers))
    return _just_or_copies(scribe, rows)


def _just_or_copies(scribe: Scribe, rows: Sequence[st.Round | st.Row | None]) -> RepeatBody | None:
    """Return rows as those just worked, or as copies of them; None if one was not read."""
    found = tuple(row for row in rows if row is not None)
    if not found or len(found) != len(rows):
        return None
    entries = scribe.assembler.entries[-len(found) :]
    just = [getattr(entry.step, "items", None) for entry in entries]
    if just == [row.items for row in found]:
        return RepeatBody(last=len(found))
    return RepeatBody(copies=found)


def _times(rest: str) -> re.Match[str] | None:
    return TIMES.search(rest.split("until")[0]) if rest else None


def _made(
    scribe: Scribe,
    match: re.Match[str],
    body: RepeatBody,
    rest: str,
    times: re.Match[str] | None,
    ending: re.Match[str] | None,
) -> list[Says] | None:
    goal_said = _UNTIL.search(rest)
    more = vague = False
    amount: st.Times
    found = until(scribe, goal_said["what"], body) if goal_said else None
    if goal_said and found is None:
        return None
    if (
        isinstance(found, UntilCount)
        and times is not None
        and (in_all(times) or in_addition(times))
    ):
        scribe.claim("count", found.count)  # "5 times in total, until you have 32 sts"
        goal_said = None
    if goal_said:
        amount = found or 1
        if re.search(r"between|on needle", goal_said["what"]):
            body = attrs.evolve(body, grown=True)
        body = attrs.evolve(body, doubled=is_doubled(goal_said["what"]))
    elif times is not None and (
        times["word"] or number_of(times["n"] or "") or re.match(NUMBER, times["n"] or "")
    ):
        said = (
            count_in(times["n"])
            if times["n"] and re.match(NUMBER, times["n"])
            else number_of(times["word"] or times["n"])
        )
        total, more = in_all(times), in_addition(times)
        vague = not total and not more and text_says_repeat(match[0])
        more = more or vague or (not total and is_apart(scribe, body.numbers))
        amount = plus(said, 1) if more and not body.copies else said
        if body.copies and total:
            amount = left_of(scribe, said, body.copies, stride_in(match["every"] or rest))
    elif re.search(r"for|measures", rest) and (
        length := re.search(rf"({COUNT})\s*(cm|mm|\"|in\w*)", rest)
    ):
        amount = UntilMeasures(SizedLength(count_in(length[1]), unit_of(length[2])), "here")
    elif goal := re.match(rf"(?:down |up )?to ({COUNT}) {STS}", rest):
        amount = UntilCount(count_in(goal[1]))
    elif (whole := _WHOLE.fullmatch(rest)) and not body.copies:
        found = _rounds_in_all(scribe, body, whole)
        if found is None:
            return None
        amount = found
    elif not rest or re.match(r"(?:once )?(?:more|again)$|once$", rest):
        is_said = not match[0].startswith("work") or rest.endswith(("more", "again"))
        amount = 2 if is_said and not body.copies else 1
        more = amount == 2 and rest.endswith(("more", "again"))  # or once, of rows before others
    elif _ON_AND_ON.match(rest):
        amount = UntilMeasures(None, "wanted")
    elif body.last and re.match(r"to (?:form|create|make)|for (?:pattern|the)", rest):
        return []
    else:
        return None
    every = stride_in(match["every"] or rest)
    if body.copies:
        ends = ending[0] if ending else ""
        if len(body.copies) == 1:
            row = _copied(scribe, body, body.copies[0])
            if (sided := on_one_side(scribe, row, amount, match[0], ends)) is not None:
                return sided
        return _again_copies(scribe, body, amount, every)
    return again_rows(scribe, body, amount, more, vague, every, ending)


# "work rows 1-4 over and over"
_ON_AND_ON = WordForm(r"(?:over and over|again and again|throughout|on and on|as often as)\b|for (?:the )?(?:desired |wanted |required |whole |full )?length\b", re.NOFLAG)  # fmt: skip


_WHOLE = WordForm(
    rf"(?:for )?(?:a total of |another )?({COUNT}) (?:more |further )?(?:rows|rounds|rnds)(?P<total> in all| in total| total| altogether)?",
    re.NOFLAG,
)


def _rounds_in_all(scribe: Scribe, body: RepeatBody, match: re.Match[str]) -> st.Times | None:
    """Return how often rows are worked to make a number of them: "rep rnd 1 for 14 rnds in
    total".
    """
    total = [int(value) for value in values_of(count_in(match[1]))]
    if any(value % body.many for value in total):
        return None
    times = [value // body.many for value in total]
    more = not match["total"] and "total of" not in match[0]
    return sized([value + 1 for value in times] if more else times)


def text_says_repeat(text: str) -> bool:
    """Tell whether a number of times may be meant as "more": only of something repeated."""
    return bool(re.match(r"(?:and |then |now )*(?:rep|repeat)\b", text))


def _copied(scribe: Scribe, body: RepeatBody, row: st.Step) -> st.Step:
    return attrs.evolve(row, count=None, at=row.at if body.of and row.at else scribe.place)


def _again_copies(scribe: Scribe, body: RepeatBody, amount: st.Times, every: int) -> list[Says]:
    rows = [_copied(scribe, body, row) for row in body.copies]
    steps: list[st.Step] = list(rows)
    if every > 1 and len(rows) == 1:
        plain = attrs.evolve(scribe.plain(ground=False)[0], at=scribe.place)
        since = list(takewhile(lambda row: not shapes(row), reversed(rows_before(scribe))))
        if since and (len(since) + 1) % every == 0:  # those between were worked: it is due
            steps += [attrs.evolve(row, count=None, at=scribe.place) for row in since[: every - 1]]
        else:
            steps = [*[plain] * (every - 1), *steps]
    return fitted(scribe, steps, amount) or so_often(steps, amount, scribe.place)


def again_rows(
    scribe: Scribe,
    body: RepeatBody,
    amount: st.Times,
    more: bool,
    vague: bool,
    every: int,
    ending: re.Match[str] | None,
    *,
    end: int = 0,
) -> list[Says]:
    """Return rows worked again so often; `amount` counts those that were just worked."""
    end = end or ends_with(scribe, body, ending)
    if body.doubled and ending is not None and isinstance(amount, int | Sized):
        if end == body.numbers[0]:
            amount = plus(amount, 1)  # the first of the pair makes the last on its side
        elif not end and names_side(ending):
            scribe.claim("never", plus(amount, 1))
    elif (
        end and body.grown and isinstance(amount, int | Sized) and _grows_behind(scribe, body, end)
    ):
        amount = plus(amount, 1)  # the place is full, and rows are worked on to the last named
    says = Again(body.numbers, body.last or 1, amount, more, every, end, vague)
    kept = list(scribe.assembler.entries)
    remarks = list(scribe.assembler.remarks)
    try:
        scribe.give([says])
    except (PatternSyntaxError, Lost):
        scribe.assembler.entries[:], scribe.assembler.remarks[:] = kept, remarks
    else:
        scribe.assembler.entries[:], scribe.assembler.remarks[:] = kept, remarks
        return [says]
    rows = [scribe.context.row(number) for number in body.numbers]
    if not rows or any(row is None for row in rows):
        if body.numbers[:1] == (1,) and (steps := _all_since(scribe, amount)) is not None:
            return steps
        raise Lost("the rows that are to be repeated were not read")
    if isinstance(amount, int | Sized) and more:
        amount = plus(amount, -1)
    found = tuple(attrs.evolve(row, count=None, at=scribe.place) for row in rows if row is not None)
    return so_often(found, amount, scribe.place)


def _grows_behind(scribe: Scribe, body: RepeatBody, end: int) -> bool:
    """Tell whether rows behind the one that a repeat ends with change the count."""
    rows = (scribe.context.row(number) for number in body.numbers if number > end)
    return any(row is not None and shapes(row) for row in rows)


_ONCE = (st.CastOn, st.ClosedCastOn, st.ProvisionalCastOn, st.Join, st.BindOff, st.Graft)


def _all_since(scribe: Scribe, amount: st.Times) -> list[Says] | None:
    """Return all steps since row 1 again: a row among them was more than one step.

    How often is not known where they go on until a length: then they are kept as a note.
    """
    began = [entry.step for entry in scribe.assembler.entries[scribe.context.began :]]
    steps = [s for s in began if not isinstance(s, st.Note | st.Section)]
    if not steps or len(steps) > 200 or any(isinstance(step, _ONCE) for step in steps):
        return None
    if isinstance(amount, UntilMeasures):
        scribe.claim("loose", 0)
        return []
    if not isinstance(amount, int) or not 1 < amount < 40:
        return None
    return [attrs.evolve(step, at=scribe.place) for _ in range(amount - 1) for step in steps]


def _sections(scribe: Scribe, which: str) -> list[Says] | None:
    """Return the rows of whole sections, named by number."""
    if (
        goal := re.search(rf"\buntil+ (?:there are|you have)?\s*({COUNT}) {STS}", which)
    ) is not None:
        return _section_until(scribe, which, goal)
    steps: list[Says] = []
    for part in re.split(r"\bthen\b", which):
        numbers = numbers_in(re.sub(r"\b(?:once|twice|\w+ times)\b.*", "", part))
        if not numbers:
            return None
        often = times_in(re.sub(r"sections? [\d ,&-]+(?:and \d+)?", "", part)) or 1
        if not isinstance(often, int) or not 0 < often < 40:
            return None
        rows: list[Says] = []
        for number in numbers:
            found = _section(scribe, number)
            if found is None:
                return None
            rows += found
        steps += rows * often
    return steps


def _section_until(scribe: Scribe, which: str, goal: re.Match[str]) -> list[Says] | None:
    """Read "repeat section 1 until there are 95 sts, then work section 2 once more"."""
    numbers = numbers_in(which[: goal.start()])
    rows = _section(scribe, numbers[0]) if len(numbers) == 1 else None
    flat = list(rounds_in([row for row in rows or () if isinstance(row, st.Step)]))
    if not flat:
        return None
    body = tuple(attrs.evolve(row, count=None, at=scribe.place) for row in flat)
    steps: list[Says] = [
        st.RepeatRounds(body, UntilCount(count_in(goal[1]), growing=True), at=scribe.place)
    ]
    if (
        rest := re.search(r"\bthen (?:work|repeat|knit) (section.*)$", which[goal.end() :])
    ) is None:
        return steps
    more = _sections(scribe, rest[1])
    return None if more is None else [*steps, *more]


def _section(scribe: Scribe, number: int) -> list[Says] | None:
    inside = False
    rows: list[Says] = []
    for entry in scribe.assembler.entries:
        step = entry.step
        if isinstance(step, st.Section):
            inside = bool(re.match(rf"(?:section|part)?\s*{number}\b", step.title.lower()))
        elif (
            inside
            and isinstance(step, st.Round | st.Row | st.RepeatRounds)
            and (step.at is None or step.at.line < scribe.place.line)
        ):
            rows.append(attrs.evolve(step, count=None, at=scribe.place))
    return rows or None
