# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Sections that are worked again by the name of their heading."""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import zip_longest

from loopwright.pattern import steps as st
from loopwright.pattern._reading.assemble import fresh
from loopwright.pattern._reading.heel_again import worked_as_heel
from loopwright.pattern._reading.labels import numbers_in
from loopwright.pattern._reading.marked_parts import CALL
from loopwright.pattern._reading.scribe import Lost, Says, Scribe
from loopwright.pattern._reading.stated import number_of
from loopwright.pattern._reading.yarn_in_hand import with_first_yarn
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import NUMBER_WORDS

__all__ = ["again_here", "of_two_sections", "only_rows", "rows_under", "title_of", "told_part", "told_section"]  # fmt: skip

_LIKE = r"(?:exactly |just )?(?:(?:the same )?as|like|in the same way as)(?: (?:given |told |worked )?(?:for|in))?"
_TIMES = r"(?P<times>twice|\w+(?P<more> more)? times)(?P<more2> more)?(?:,? (?:in all|in total|altogether))?"
_AGAIN = WordForm(
    rf"(?:now |then )?(?:(?:(?:re)?work|knit|make|do) (?:{_LIKE}|another|a second|one more|all(?: the)? (?:rows|rounds|rnds) of)"
    r"|rep(?:eat)?(?: all(?: the)? (?:rows|rounds|rnds) of)?) (?:the )?(?P<name>[a-z][a-z' -]{2,40}?(?: \d{1,2})?)"
    r"(?: (?:as before|again|once more|above|once again|as above|in full))*"
    rf"(?: {_TIMES})?[.!]*",
)
_SO_OFTEN = WordForm(
    rf"(?:now |then )?(?:work|knit) (?:the )?(?:whole |full )?(?P<name>[a-z][a-z' -]{{2,40}}?) {_TIMES}[.!]*",
)
_ANEW = r"(?: (?:(?:just |exactly )?(?:as|like) (?:before|above|you did before|given(?: above| before)?|described(?: above)?|told(?: above)?)|again|once more|once again|one more time|in full))"
_NAME = r"(?P<name>(?!last|next|first|these|those|this|that)[a-z][a-z' -]{2,40}?)"
_COUNTED = WordForm(  # "work the 3 eyelet rnds as before", "work the 6 rnds of the lower border again"
    rf"(?:now |then )?(?:(?:re)?work|knit|make|do|rep(?:eat)?) (?:(?:all|the|same|those) )*(?:(?P<n>\d{{1,2}}|{'|'.join(NUMBER_WORDS[:20])}) )?(?:the )?"
    rf"(?:(?:rounds|rnds|rows) (?:(?:of|from|in)|(?:as|like) (?:(?:given |told |worked )?(?:for|in|on)))(?: the)? {_NAME}|{_NAME.replace('name', 'name2')} (?:rounds|rnds|rows))(?P<anew>{_ANEW}*)[.!]*",
)
_THEN = r"(?:,? and then|,? then|,? followed by|,? and|,)"
_TOGETHER = WordForm(  # "work eyelet band and garter band two more times"
    rf"(?:now |then )?(?:work|knit|rep(?:eat)?) (?:both )?(?P<names>(?:the )?[a-z][a-z' -]{{2,40}}?(?:{_THEN} (?:the )?[a-z][a-z' -]{{2,40}}?)+?)"
    rf"(?:,? [(]?(?:(?:always |each time |and )*(?:in|by) (?:(?:that|this|the same) (?:order|way)|order|turns?)|alternately|together|one after the other)[)]?,?)? (?:another )?(?:{_TIMES}|(?P<once>once more|again|once again|one more time))[.!]*",
)
MAX_TIMES = 40
_OF_A_PIECE = WordForm(  # of which a section is a part
    r"\b(?:mitt\w*|gloves?|socks?|stockings?|slippers?|boot\w*|sleeves?|hands?|hats?|pieces?|sides?|ones?|rows?|rnds?|rounds?|needles?)\b",
    re.NOFLAG,
)


_BETWEEN = WordForm(
    rf"(?:now |then )?(?:rep(?:eat)?|work|knit|make|do|complete|finish|end|cont(?:inue)?)(?: the (?:section|part|rows|rounds|rnds|instructions|bit))?(?: (?:exactly |just )?(?:as|like|to match) (?:(?:given|told|described|worked) )?(?:(?:for|on|in) )?(?:the )?[a-z ]+?)?,?(?: up)? {CALL}"
    rf"\s*(?:,? (?:exactly )?(?:as|to match)(?: given| told| described)?(?: (?:for|on|in))? (?:the )?[a-z ]+)?(?: (?:again|once(?: more)?|{_TIMES}))*[.!]*",
)


def told_part(scribe: Scribe, text: str) -> list[Says] | None:
    """Read "rep from ** to ** twice more", the marks of which were taken out of the text.

    Raises
    ------
    Lost
        There is such a part, and it can't be worked with the stitches in work.
    """
    said = _BETWEEN.fullmatch(text.strip())
    here = (scribe.place.line, scribe.place.column)
    spans = [span for span in scribe.context.parts if span[1] <= here]
    if said is None or not spans:
        return None
    first, last = spans[-1]
    steps = [
        entry.step
        for entry in scribe.assembler.entries
        if (at := entry.step.at) is not None
        and first <= (at.line, at.column) <= last
        and not isinstance(entry.step, st.Note | st.Section)
    ]
    in_all = re.search(r"\b(?:in all|in total|altogether)\b", said[0], re.IGNORECASE) is not None
    often = number_of(said["times"]) - in_all if said["times"] else 1
    if not steps or not 0 < often < MAX_TIMES:
        raise Lost("what stands between the marks was not read")
    return list(
        again_here(scribe, [step for _ in range(often) for step in steps], "between the marks")
    )


def again_here(scribe: Scribe, steps: list[st.Step], called: str) -> list[st.Step]:
    """Return steps as they are worked once more here."""
    there = scribe.assembler.as_read()
    first = next((n for n, step in enumerate(there) if step is steps[0]), len(there))
    begins = with_first_yarn(there[:first], steps)
    again = [fresh(begins if step is steps[0] else step, scribe.place) for step in steps]
    live = scribe.now()
    if live.sure and any(live.trial(again, size).troubles for size in range(len(live.tallies))):
        raise Lost(f"the rows {called} can't be worked here")
    return again


def told_section(scribe: Scribe, text: str) -> list[Says] | None:
    """Read "work as the first eyelet band": the rows under that heading once more.

    Raises
    ------
    Lost
        There is such a heading, and its rows can't be worked with the stitches in work.
    """
    for other in (worked_as_heel, _counted, _sections_together, _lettered, _one_by_one, _listed):
        if (found := other(scribe, text.strip())) is not None:
            return found
    said = _AGAIN.fullmatch(text.strip()) or _SO_OFTEN.fullmatch(text.strip())
    name = said["name"].lower() if said is not None else ""
    steps = [] if not name or _OF_A_PIECE.search(name) else rows_under(scribe, name)
    while steps and isinstance(steps[-1], _CLOSINGS) and _ALL_ROWS.search(text):
        steps = steps[:-1]
    if not only_rows([one.step if isinstance(one, st.OnlySizes) else one for one in steps]):
        return None
    often = _often(scribe, said, steps) if said is not None and said["times"] else 1
    if not 0 < often < MAX_TIMES:
        return None
    return list(again_here(scribe, [step for _ in range(often) for step in steps], f"of '{name}'"))


_ALL_ROWS = WordForm(r"\ball(?: the)? (?:rows|rounds|rnds) of\b")  # and not what closes it
_CLOSINGS = (st.Graft, st.DrawUp, st.BindOff, st.ThreeNeedleBindOff, st.CutYarn)


def _counted(scribe: Scribe, text: str) -> list[Says] | None:
    """Read that so many rounds of a section are worked anew: all of them, or those it repeats."""
    said = _COUNTED.fullmatch(text)
    if said is None or not (said["n"] or said["anew"]):
        return None
    name = (said["name"] or said["name2"]).lower()
    steps = [] if _OF_A_PIECE.search(name) else rows_under(scribe, name)
    while steps and isinstance(steps[0], st.CastOn | st.Join):
        steps = steps[1:]
    if not only_rows(steps):
        return None
    if said["n"] and number_of(said["n"]) != _rows_of(steps):
        return None
    return list(again_here(scribe, steps, f"of '{name}'"))


def _sections_together(scribe: Scribe, text: str) -> list[Says] | None:
    """Read that sections are worked again by turns, so many times."""
    said = _TOGETHER.fullmatch(text)
    if said is None:
        return None
    names = [re.sub(r"^the ", "", one) for one in re.split(rf"{_THEN} ", said["names"].lower())]
    if (both := re.search(r" ([a-z]+)s$", names[-1])) is not None and not rows_under(
        scribe, names[-1]
    ):
        names = [
            one.removesuffix(f" {both[0].strip()}") for one in names
        ]  # "eyelet and garter bands"
        names = [f"{one} {both[1]}" for one in names]
    told = [rows_under(scribe, name) for name in names]
    if not all(only_rows(steps) for steps in told):
        return None
    steps = [step for one in told for step in one]
    often = _of_all(scribe, said, steps)
    if not 0 < often < MAX_TIMES:
        return None
    return list(again_here(scribe, steps * often, f"of '{' and '.join(names)}'"))


_LETTER = r"(?:(?:section|part|band|block)s? )?(?-i:[A-H])"
_LETTERED = WordForm(  # "work B and C once more", "repeat sections A, B and C twice", "work part B again"
    rf"(?:now |then )*(?:(?:re)?work|knit|make|do|rep(?:eat)?) (?:all of )?(?:the )?(?:rows? )?(?P<names>{_LETTER}(?:{_THEN} {_LETTER})*)"
    rf",? (?:another )?(?:{_TIMES}|(?P<once>once more|again|once again|one more time|once))[.!]*",
)


def _lettered(scribe: Scribe, text: str) -> list[Says] | None:
    """Read that sections are worked again that are headed by letters: "B – Basket band"."""
    said = _LETTERED.fullmatch(text)
    if said is None:
        return None
    told = [rows_under(scribe, one.lower()) for one in re.findall(r"\b[A-H]\b", said["names"])]
    steps = [step for one in told for step in one]
    often = _of_all(scribe, said, steps)
    if not all(only_rows(one) for one in told) or not 0 < often < MAX_TIMES:
        return None
    return list(again_here(scribe, steps * often, f"of {said['names']}"))


_LAST = WordForm(  # "repeat these 40 rows 10 times more, then the 28 rib rows once again"
    rf"(?:now |then )*(?:rep(?:eat)?|work|knit) (?:all )?(?:these|those|the last) (?P<n>\d{{1,3}}|{'|'.join(NUMBER_WORDS[:20])}) (?:rounds|rnds|rows) (?:another )?{_TIMES}(?:,? (?:and )?then (?P<then>[^.;]+))?[.!]*",
)


def of_two_sections(scribe: Scribe, sentence: MappedText) -> list[Says] | None:
    """Read that the last rows are worked again, some of which stand under a heading before this one."""
    text = sentence.text.strip()
    said = _LAST.fullmatch(text)
    if said is None:
        return None
    wanted, crosses = number_of(said["n"]), False
    steps: list[st.Step] = []
    for step in reversed([entry.step for entry in scribe.assembler.entries]):
        if _rows_of(steps) >= wanted:
            break
        if isinstance(step, st.Note | st.Section):
            crosses = crosses or bool(steps and title_of(step))
            continue
        steps.insert(0, step)
        if not only_rows([step]):
            return None
    more = said["more"] or said["more2"] or re.match(r"(?:now |then )*rep", text, re.IGNORECASE)
    often = number_of(said["times"]) - (not more)
    if not crosses or _rows_of(steps) != wanted or not 0 < often < MAX_TIMES:
        return None
    again = again_here(scribe, steps * often, f"of the last {wanted} rows")
    if not said["then"]:
        return list(again)
    then = told_section(scribe, re.sub(r"^(?!work|rep|knit)", "work ", said["then"]))
    return None if then is None else [*again, *then]


def _of_all(scribe: Scribe, said: re.Match[str], steps: list[st.Step]) -> int:
    """Return how often sections are still to be worked; once less where they were just worked."""
    if said["once"]:
        return 1
    more = said["more"] or said["more2"] or re.search(r"\banother\b", said[0], re.IGNORECASE)
    worked = [
        e.step for e in scribe.assembler.entries if not isinstance(e.step, st.Note | st.Section)
    ]
    return number_of(said["times"]) - (not more and worked[-len(steps) :] == steps)


def _one_by_one(scribe: Scribe, text: str) -> list[Says] | None:
    """Read "work texture once more (20 rnds), then eyelets rnds 1-4": sections, or rows of them."""
    lead = _WORKS.match(text)
    if lead is None:
        return None
    listed = _ENDING.sub("", text[lead.end() :]).lower()
    anew = bool(lead["rep"]) or re.search(r" sections?$", listed) is not None
    listed = _SO_MANY_OF.sub(r"\g<n> \g<crs> of ", re.sub(r" sections?$", "", listed))
    parts = re.split(
        rf"{_THEN} (?!\d+\b(?! (?:rounds|rnds|rows) of))(?:work |repeat |rep )?", listed
    )
    steps: list[st.Step] = []
    names: list[str] = []
    wanted, group = 0, list[st.Step]()  # "the 18 rounds of blocks and eyelets"
    for part in parts:
        said = _SECTION.fullmatch(part)
        name = (said["name"] or said["name2"]) if said is not None else ""
        whole = rows_under(scribe, name) if name and not _OF_A_PIECE.search(name) else []
        if said is None or not only_rows(whole):
            return None
        rows = said["rows"] or said["rows2"]
        found = [scribe.context.row(number, name) for number in numbers_in(rows)] if rows else whole
        these = [one for one in found if one is not None]
        often = number_of(said["times"]) if said["times"] else 1
        if len(these) != len(found) or not 0 < often < MAX_TIMES:
            return None
        if len(parts) == 1 and not (rows or said["all"]):
            return None  # a section alone is read by others
        if said["all"] and _rows_of(these) * often != int(said["all"]):
            return None
        if said["n"] and not group:
            wanted = int(said["n"])
        elif said["n"] or (group and often > 1 and _rows_of([*group, *these]) != wanted):
            return None
        if wanted:
            group += these
            these = group if _rows_of(group) == wanted else []
        wanted, group = (0, []) if these else (wanted, group)
        anew = anew or bool(rows or said["anew"] or said["times"])
        steps += [one for _ in range(often) for one in these]
        names.append(name)
    if wanted:
        return None
    return list(again_here(scribe, steps, f"of '{', '.join(names)}'")) if anew else None


_SOME = rf"(?:\d{{1,2}}|{'|'.join(NUMBER_WORDS[:20])})"
_LISTS = WordForm(  # "work one last eyelet band", "alternate: one lace band, then 5 repeats of garter"
    rf"(?:(?:and|now|then|next|finally|lastly|to (?:finish|end)),? )*(?P<verb>work|knit|do|make|add|rep(?:eat)?|alternate|(?:finish|end|close)(?:ing)? with):? (?P<list>[^.;:]+?)(?P<all>(?P<apart>,)? (?:and )?(?:(?:a total of )?(?P<n>{_SOME}) (?P<more>more )?times|twice)(?: more)?(?P<sum>,? (?:in all|altogether|in total|over))?)?[.!]*",
)
_LISTED = WordForm(
    rf"(?:(?:the|(?P<new>another|a|an|one)|(?P<n>{_SOME})) )?(?P<more>(?:(?:more|further|last|final|other|single) )*)(?:(?P<block>repeats?|repetitions?) of )?(?:the )?(?P<name>[a-z][a-z' -]{{2,40}}?)(?:,? (?:(?P<often>{_SOME}) times|(?P<word>once|twice)))?",
)


def _listed(scribe: Scribe, text: str) -> list[Says] | None:
    """Read sections, or repeats of them, that are worked one after another: all must be known."""
    said = _LISTS.fullmatch(text)
    if said is None:
        return None
    tail = said["all"] or ""
    listed = said["list"].lower()
    own = re.search(r"\b(?:once|twice|times)\b", listed) is not None
    if own and tail and not (said["apart"] or said["sum"]):
        listed, tail = listed + tail.lower(), ""  # the last of them, so often
    steps: list[st.Step] = []
    asks = said["verb"].lower().endswith(("add", "alternate", "with")) or bool(tail)
    for part in (parts := re.split(rf"{_THEN} ", listed)):
        one = _LISTED.fullmatch(part)
        if one is None or _OF_A_PIECE.search(one["name"]):
            return None
        rows = rows_under(scribe, one["name"]) or rows_under(scribe, one["name"].removesuffix("s"))
        if one["block"]:  # its rows, which it repeats itself
            told: list[st.Step] = [row for row in rows if isinstance(row, st.Round | st.Row)]
            again = [one for row in rows if isinstance(row, st.RepeatRounds) for one in row.steps]
            rows = told or again
        if not only_rows(rows):
            return None
        many = one["n"] or one["often"]
        times = number_of(many) if many else 2 if one["word"] == "twice" else 1
        if not 0 < times < MAX_TIMES or (one["n"] and one["often"]):
            return None
        asks = asks or bool(one["new"] or many or one["more"] or one["word"])
        steps += rows * times
    often = (number_of(said["n"]) if said["n"] else 2) if tail else 1
    entries = [entry.step for entry in scribe.assembler.entries]
    worked = [step for step in entries if not isinstance(step, st.Note | st.Section)]
    if tail and " more" not in tail.lower() and worked[-len(steps) :] == steps:
        often -= 1  # those just told are one of them
    if not asks or not 0 < often < MAX_TIMES or len(steps) * often > 400:
        return None
    return list(again_here(scribe, steps * often, f"of '{' and '.join(parts)}'"))


_WORKS = WordForm(r"(?:(?:now|then),? )*(?:(?:work|knit|do|(?P<rep>rep(?:eat)?)) )?(?=\S)")
_ENDING = WordForm(r"(?:,? (?:and )?end(?:ing)? (?:with|on|after) [^,.;]*)?[.!]*$")
_ROWS = r"(?:rounds?|rnds?|rows?) \d{1,3}(?: ?(?:-|–|to|and|&) ?\d{1,3})?"
_SO_MANY_OF = WordForm(  # "rounds 1-18 of blocks and eyelets" are numbered through
    r"\b(?P<crs>rounds|rnds|rows) 1 ?[-–] ?(?P<n>\d{1,3}) (?:of|from|in) (?:the )?(?=[a-z' -]+ and )",
    re.NOFLAG,
)
_SECTION = WordForm(
    rf"(?:both |all |the )*(?:(?P<n>\d{{1,3}}) (?:rounds|rnds|rows) (?:of|from|in) (?:the )?)?(?:(?P<rows>{_ROWS}) (?:of|from|in) (?:the )?(?P<name>[a-z][a-z' -]{{2,40}}?)|(?P<name2>[a-z][a-z' -]{{2,40}}?),? ?(?P<rows2>{_ROWS})?)(?: section)?(?: only| alone| by itself)?"
    rf"(?P<anew>(?:,? (?:once more|once again|one more time|again|in full|as before|(?:just |exactly )?as above))*)(?:,? {_TIMES})?(?: only| alone| by itself)?(?: \((?P<all>\d{{1,3}}) (?:rounds|rnds|rows)\))?",
)


def only_rows(steps: list[st.Step]) -> bool:
    """Tell whether steps are rounds or rows, and changes of yarn between them."""
    rows = [one for one in steps if not isinstance(one, st.UseYarn)]
    return bool(rows) and all(isinstance(one, st.Round | st.Row | st.RepeatRounds) for one in rows)


def _rows_of(steps: list[st.Step]) -> int:
    """Return how many rows or rounds steps come to; 0 where that isn't told in numbers."""
    found = 0
    for step in steps:
        if isinstance(step, st.RepeatRounds):
            if not isinstance(step.times, int):
                return 0
            found += _rows_of(list(step.steps)) * step.times
        else:
            found += not isinstance(step, st.UseYarn)
    return found


def _often(scribe: Scribe, said: re.Match[str], steps: list[st.Step]) -> int:
    """Return how often a section is still to be worked; once less where it was just worked."""
    worked = [e.step for e in scribe.assembler.entries if not isinstance(e.step, st.Note)]
    just = worked[-len(steps) :] == steps
    more = said["more"] or said["more2"]
    return number_of(said["times"]) - (just and not more)


def rows_under(scribe: Scribe, name: str) -> list[st.Step]:
    """Return all steps under the last heading of this name that has any."""
    steps = [entry.step for entry in scribe.assembler.entries]
    heads = [at for at, step in enumerate(steps) if isinstance(step, st.Section | st.Note)]
    titles = [(at, title) for at in heads if (title := title_of(steps[at]))]
    ends = [at for at, _ in titles[1:]]
    for (at, title), end in reversed(list(zip_longest(titles, ends))):
        titled = _GROUP_OF.sub("", title)
        if any(
            one in (title, titled) or title.endswith(f" {one}") for one in (name, f"{name}s")
        ) or (len(name) == 1 and _heads(name, title)):
            found = [one for one in steps[at + 1 : end] if not isinstance(one, st.Note)]
            if found:
                return found
    return []


_GROUP_OF = WordForm(r" (?:pattern|band|section|stripe|panel|block)$", re.NOFLAG)  # "the rib rows"


def _heads(letter: str, title: str) -> bool:
    """Tell whether a heading begins with a letter: "b – basket band", "section b: eyelets"."""
    lead = rf"(?:(?:section|part|band|block) )?{letter}(?:$| ?[.:)–—-])"
    return re.match(lead, title) is not None


def title_of(step: st.Step) -> str:
    """Return the name that a heading gives, "" for what is none."""
    if isinstance(step, st.Section):
        return _bare(step.title)
    return _bare(step.text) if isinstance(step, st.Note) and step.text.endswith(":") else ""


@lru_cache(maxsize=1024)
def _bare(title: str) -> str:
    """Return the name alone: without "the", and what it says of it ("the toe is all in dark")."""
    return re.sub(r"\s*[(\[].*$|^the | (?:is|are) .*$", "", title.lower()).strip(" :.")
