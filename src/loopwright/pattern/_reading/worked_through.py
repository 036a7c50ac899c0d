# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The rows just told, gone through so often: told by times, by rows, or by what shows on the work.

"Three times through", "34 rows in all", "six ridges in all", "until ten long loops can be counted".
Rows that were told and worked once are meant: by their numbers, their letters or their sides.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._contents import courses_in
from loopwright.pattern._grammar.said import Again
from loopwright.pattern._reading.alternate import weave_in
from loopwright.pattern._reading.growth import shapes
from loopwright.pattern._reading.labels import numbers_in, row_name
from loopwright.pattern._reading.scribe import Says, Scribe, made
from loopwright.pattern._reading.stated import count_in, number_of
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._words import NUMBER_WORDS
from loopwright.pattern.items import Mark, Run, items_in
from loopwright.pattern.values import Count, Sized, To, UntilCount, plus, sized, values_of

__all__ = ["rows_said", "rows_told", "worked_through"]

_Row = st.Round | st.Row
_N = rf"(?P<n>{COUNT}|{'|'.join(NUMBER_WORDS)}|twice|thrice)"
_C = r"(?:rounds|rnds|rows)"
_ALL = r"(?:in all|in total|altogether|total|all told|over(?: again)?|complete)"
_LEAD = r"(?:[^.;:*]{8,120}, so )?(?:(?:and|then|now|so|just|but|again)[ ,]+)*"
_VERB = r"(?:work|knit|do|make|go|run|take|repeat|rep|(?:keep|carry|go)(?: on)?(?: (?:with|doing|repeating|working))?|continue(?: (?:with|working|to (?:work|repeat)))?|cont|proceed(?: with)?)"
_THUS = r"(?:thus|so|like (?:this|that|these)|in (?:this|the same|that) (?:way|manner|fashion)|as (?:set|established|told|before)|by turns|alternately|in turn)"
_ITSELF = rf"(?:(?:all |both )*(?:of )?(?:these|those|the|this|that|them|it)(?: (?:same|last|whole|two|three|four|five|six|eight|ten|twelve|\d{{1,2}}))*(?: (?:pair|set|group|lot)(?: of)?)?(?: {_C}| pattern| patt| sequence| rib(?:bing)?)?|both(?: {_C})?|(?:in )?(?:the )?patt(?:ern)?(?: as set)?)"
_BY_NAME = rf"(?:(?:from )?(?:(?:{_C}|steps) )?(?P<a>\d{{1,2}}) ?(?:to|through|-|–|and|&) ?(?P<z>\d{{1,2}})|(?-i:(?:(?:rows |rounds |rnds )?(?P<la>[A-H]) ?(?:,? then|and|&|\+|,)+ ?(?P<lb>[A-H])(?:, )?)+))"
_WHICH = rf"(?:{_ITSELF}|{_BY_NAME}|{_THUS})"
_SHOWS = r"(?:(?:garter|purl|knit|long|slipped|slip|edge|chain|double|complete|full|whole|lace|stitch|st|eyelet|such|cable|twisted|pattern|patt|inc|dec|increase|decrease|of (?:these|them)) )*"
_THING = rf"(?P<shown>{_SHOWS}(?:ridges?|chains?|loops?|{_C}(?: of (?:eyelets|holes|bumps|twists|purl))?|twists?|crossings|cables|(?:slipped )?(?:sts|stitches)|bumps|repeats|bands|waves|eyelets))"
_SEEN = r"(?:(?:can be|are|have been|is|being|now|to be|you can)? ?(?:counted|seen|worked|done|made|knitted|completed?|finished|crossed|formed)(?: up| down| along| on| in| at| from| since| so far| (?:the|each|either|both|one|a|every) (?:side|edge|end|heel|flap|right side|wrong side|front|start|turn|beginning)s?| of(?: the)? (?:flap|heel|piece|work))*)"
_PLACE = r"(?:of (?-i:[A-H]|MC|CC)\b|(?:up|down|along|on|in|at|from|since|of) (?:(?:the|each|either|both|one|a|every) )?(?:(?:right|wrong|first|other|selvedge|selvage) )?(?:side|edge|end|heel|flap|front|piece|turn|leg|hand|strip|band|selvedge)s?)"
_STAND = r"(?:(?:stand|lie|sit|are|show)s? (?:one )?(?:above|over|on top of) (?:each|one an|an|the) ?other)"
_ENDING = r"(?P<end>(?:end|finish|stopp)(?:ing)? (?:with|on|after|by)(?: working)? (?:an? |the |one )?(?P<last>(?:round|rnd|row) \d{1,2}|(?:[rw]s|right[- ]side|wrong[- ]side) row|[a-z0-9]+(?: [a-z]+)?)(?: (?:round|rnd|row))?(?: (?:again|once more))?|the last (?:one |of them |row |round )?(?:being |is |to be )?(?:an? )?(?P<last2>[a-z0-9]+)(?: one| row| round)?)"
_TALK = r"(?:(?:and|then) (?:cut|break)(?: off)? (?-i:[A-H]|MC|CC)|and (?:cut|break|drop) (?:off )?the (?:[a-z]+ )?(?:thread|nylon)(?: off)?|(?:and|so|then|for|before|or) (?:that )?(?:the|your|you|it|a|here|until you) (?![^,]*\b(?:rows?|rounds?|rnds?|once|again|more|turn|[rw]s)\b)[a-z' ]{3,40}|(?:and )?no more|please)"
_TAIL = rf"(?:[ ,]*(?:{_SEEN}|{_STAND}|{_PLACE}|{_ALL}))*(?:,? (?:and )?{_ENDING})?(?:,? {_TALK})?"
_TIMES = rf"(?P<times>{_N}(?: times)?(?: (?:through|over|round|again))*)"
_BEHIND = WordForm(r"with (?P<n>\w+) (?:rounds?|rnds?|rows?) (?P<how>purl|knit|plain)")
_FORMS = tuple(
    WordForm(form)
    for form in (
        # "work it three times through", "do this pair of rows 15 times", "three times through"
        rf"{_LEAD}(?:(?P<verb>{_VERB}) )?(?:(?:through|over) )?(?P<which>{_WHICH})?[ ,;:]*(?P<more>another |a further )?{_TIMES.replace('(?: times)?', '(?: (?P<more2>more )?times?)?')}(?P<more3> more)?{_TAIL}(?P<after>,? with {_N.replace('<n>', '<k>')} (?:rounds?|rnds?|rows?) (?:purl|knit|plain) (?:after|behind) each(?: (?:pair|time|one))?)?",
        # "A then B, until 10 long loops can be counted", "until there are four eyelet rounds"
        rf"{_LEAD}(?:(?P<verb>{_VERB}) )?(?P<which>{_WHICH})?[ ,;:]*(?:over and over|again and again|on and on|by turns|alternately|in turn)?[ ,]*(?:(?:un)?til+|stop(?:ping)? (?:when|as soon as)|so that|to make|for|(?:up )?to)(?: (?:there are|you (?:have|can|count|see|make|are)|count|see|have|made|worked|done|a total of|the (?:flap|heel|piece|work|leg|rib) (?:has|shows|counts)|in all))* {_N} {_THING}{_TAIL}",
        # "six ridges in all, finishing with a knit round", "34 rows in all", "work 14 ridges"
        rf"{_LEAD}(?:(?P<verb>{_VERB}|there (?:are|must be|should be|will be)|you (?:need|want|should have|make|should end up with|end (?:up )?with)|(?:the|your) (?:flap|heel|piece|band|rib|cuff|leg|strip) (?:is|has|takes|counts|should be|will be)) )?(?P<which>(?!))?(?:(?:in all|altogether|all told),? |a total of )?{_N} (?:such )?{_THING}(?: (?:deep|long|high))?(?P<of>(?: {_THUS}| of (?:this|these|them)(?: rib| pattern| stitch)?| {_ALL})*){_TAIL}",
        # "do rows 1 to 12", where two were told for the odd and the even ones
        rf"{_LEAD}(?P<verb>work|knit|do) {_C} 1 ?(?:to|-|–|through) ?(?P<n>\d{{1,3}})(?P<shown>)(?P<which>){_TAIL}",
    )
)


def worked_through(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Return the rows just told, once more or oftener; None for other words."""
    text = " ".join(said.text.replace("(", ",").replace(")", "").split()).strip(" .!,;")
    if (rib := _RIB.fullmatch(text)) is not None and (found := _rib_again(scribe, rib["n"])):
        return found
    if (count := _DO_TO_COUNT.fullmatch(text)) is not None:
        return _row_to_count(scribe, count_in(count["n"]))
    if (count := _TO_COUNT.fullmatch(text)) is not None:
        return _to_count(scribe, count)
    if (match := _NAMED_PAIR.fullmatch(text)) is not None:
        return _named_pair(scribe, match["name"])
    if (match := _FROM_FIRST.fullmatch(text)) is not None:
        return _from_first(scribe, match)
    if (one := _ONE.fullmatch(text)) is not None and (
        found := _one_in_all(scribe, one["n"] or one["m"])
    ):
        return found
    for form in _FORMS:
        match = form.fullmatch(text)
        if match is not None and (found := _found(scribe, match.groupdict())) is not None:
            return found
    return _with_sum(scribe, _SUM.match(text))


_SUM = WordForm(  # "work it 4 times (96 rounds)"
    rf"(?P<it>{_LEAD}{_VERB} {_WHICH},? {_TIMES}(?: {_ALL})?)[ ,;:—–-]+(?:(?:that is|that's|which is|making|for|or) )?(?P<all>{COUNT}) {_C}(?: {_ALL})?$"
)


def _with_sum(scribe: Scribe, match: re.Match[str] | None) -> list[Says] | None:
    """Return rows worked again so often, of which a text says how many rows they make."""
    again = match and _FORMS[0].fullmatch(match["it"])
    found = _found(scribe, again.groupdict()) if again else None
    if match is None or not found:
        return None
    if (
        isinstance(says := found[0], Again)
        and len(found) == 1
        and isinstance(says.times, int | Sized)
    ):
        made = sized([int(n) * len(rows_told(scribe)) for n in values_of(says.times)])
        scribe.claim("rounds", count_in(match["all"]), made)
    return found


def rows_said(scribe: Scribe, said: MappedText, number: str) -> str:
    """Take a number of rows that stands by itself: of the repeat before it, or of the rows told."""
    stated = count_in(number) if number[:1].isdigit() else number_of(number)
    entries = scribe.assembler.entries
    last = entries[-1].step if entries else None
    rows = rows_told(scribe)
    if len(rows) > 1 and len(rows) == stated:
        scribe.note(said.text)
        return "text"
    if isinstance(last, st.RepeatRounds) and isinstance(last.times, int | Sized) and last.at:
        each = courses_in(last.steps) + last.every - 1
        alone = not any(  # no other repeat of the same sentence stands before it
            isinstance(one.step, st.RepeatRounds)
            and one.step.at
            and one.step.at.line == last.at.line
            for one in entries[-4:-1]
        )
        if alone and not last.ending and not any(row.inner for row in last.steps):
            scribe.note(said.text)
            made = sized([int(value) * each for value in values_of(last.times)])
            scribe.claim("rounds", stated, made)
            return "count"
    if len(rows) > 1 and (says := _in_all(scribe, rows, stated)):
        scribe.give(says)
        return "instruction"
    scribe.note(said.text)
    return "text"


_DO_TO_COUNT = WordForm(  # "do this every row until you have 40 stitches on the needle"
    rf"{_LEAD}(?:do|work|repeat|rep) (?:this|that|so|the same) (?:on |in )?every (?:row|round|rnd),? (?:until|till) (?:there are|you have) (?P<n>{COUNT}) (?:sts|stitches)(?: (?:on|left on) the needles?| left| in all)?"
)


def _row_to_count(scribe: Scribe, wanted: Count) -> list[Says] | None:
    """Return the row just told, with a label or without, until so many stitches are there."""
    entries = scribe.assembler.entries
    last = entries[-1].step if entries else None
    if not isinstance(last, st.Round | st.Row | st.Part) or not isinstance(wanted, int):
        return None
    if getattr(last.items[-1], "amount", None) != To():
        return None
    row = made(scribe.course, last.items, "") if isinstance(last, st.Part) else last
    row = attrs.evolve(row, count=None, at=last.at)
    kept = entries.pop()
    live = scribe.now()
    ends = [live.trial((row,), size) for size in range(len(live.tallies))]
    if len(ends) != 1 or ends[0].troubles or not live.sure:
        entries.append(kept)
        return None
    grows = ends[0].tally.count > live.tallies[0].count
    scribe.numbered(row, ())
    return [st.RepeatRounds((row,), UntilCount(wanted, grows), at=last.at)]


_TO_COUNT = WordForm(  # "work until there are 22 sts, after a WS row"
    rf"{_LEAD}{_VERB}(?: (?:{_THUS}|{_ITSELF}|every row))?,? (?:(?:until|till) (?:(?:there are|you have|you are back to|only) )*|to (?:the )?last )(?P<n>{COUNT}) ?(?:sts|stitches)?(?: (?:are left|remain|left|in all|again))?(?:,? (?:after|ending (?:with|after|on)|and end with) an? (?P<side>ws|wrong[- ]side|rs|right[- ]side) row)?"
)


def _to_count(scribe: Scribe, match: re.Match[str]) -> list[Says] | None:
    """Return rows told by their sides until so many stitches are there, and the side that ends them."""
    rows = rows_told(scribe)
    names = {name for name, row in scribe.context.named.items() if row in rows}
    live, wanted = scribe.now(), count_in(match["n"])
    if len(rows) != 2 or not names & {"rs", "ws", "right-side", "wrong-side"} or not live.sure:
        return None
    if not isinstance(wanted, int) or len(live.tallies) != 1:
        return None
    until = UntilCount(wanted, wanted > live.tallies[0].count)
    side, first = (match["side"] or "")[:1].lower(), next(iter(names - {"last"}))[:1]
    first = (
        first
        if scribe.context.named.get(next(iter(names - {"last"}))) == rows[0]
        else {"r": "w", "w": "r"}[first]
    )
    end = [attrs.evolve(rows[0], count=None, at=scribe.place)] if side and side == first else []
    copies = [attrs.evolve(row, count=None, at=scribe.place) for row in rows]
    steps = [e.step for e in scribe.assembler.entries if isinstance(e.step, st.Round | st.Row)]
    if [step.items for step in steps[-2:]] != [row.items for row in rows]:
        return [st.RepeatRounds(tuple(copies), until, at=scribe.place), *end]
    return [Again((), 2, until, False, 1, 0, False), *end]


_NAMED_PAIR = WordForm(  # "work the buttonhole row and the row after it once again"
    rf"{_LEAD}(?:work|repeat|rep|knit|do) the (?P<name>[a-z][a-z -]*?) (?:row|round|rnd),? and the (?:(?:row|round|rnd|one) (?:after|behind|following)(?: (?:it|that))?|(?:next|following) (?:row|round|rnd)),? (?:once (?:more|again)|again|one more time){_TAIL}"
)


def _named_pair(scribe: Scribe, name: str) -> list[Says] | None:
    """Return the row with a name and the row that was worked behind it."""
    row = scribe.context.named.get(row_name(name))
    steps = [e.step for e in scribe.assembler.entries if isinstance(e.step, st.Round | st.Row)]
    for one, after in pairwise(steps):
        if row is not None and getattr(one, "items", None) == row.items:
            return [attrs.evolve(two, count=None, at=scribe.place) for two in (one, after)]
    return None


_FROM_FIRST = WordForm(  # "repeat from round 1, 5 times more"
    rf"{_LEAD}(?:(?:repeat|rep|begin again|start again|go on|work)(?: (?:all|everything))?(?: again)?|again) from (?:the )?(?:(?:round|rnd|row|step) 1|(?:1st|first) (?:round|rnd|row)|beginning|start|top),? (?P<more>another |a further )?(?:{_N} (?P<more2>more )?times(?P<more3> more)?|(?P<once>once more|again)){_TAIL}"
)


def _from_first(scribe: Scribe, match: re.Match[str]) -> list[Says] | None:
    """Return all rows that were told, from the first on, so many times more."""
    rows = rows_told(scribe)
    if len(rows) < 2 or not (
        match["once"] or any(match[key] for key in ("more", "more2", "more3"))
    ):
        return None
    often = "one" if match["once"] else match["n"].lower()
    many = count_in(often) if often[:1].isdigit() else number_of(often)
    return [Again((), len(rows), plus(many, 1), True, 1, 0, False)]


_ONE = WordForm(  # "do the same on every following round till 14 rounds stand above each other"
    rf"{_LEAD}(?:(?:do|work|knit|make) (?:the same|likewise|so)(?: again)?|(?:every|each|all)(?: the)?(?: other| following| further| later| next)? (?:round|rnd|row)s?(?: (?:is|are))?(?: worked)? (?:just |exactly )?(?:like (?:it|this|that)|the same|alike)|(?:repeat|rep|work) (?:this|that|the last|the same) (?:round|rnd|row))(?: (?:on|in) (?:every|each)(?: following| further| other| next)? (?:round|rnd|row))?,? (?:until|till) (?:(?:there are|you have|in all|a total of|worked|made|count) )*{_N} (?:(?:such|of these) )?(?:{_C}|of them|such|altogether){_TAIL}|{_LEAD}(?:every|each|all)(?: the)? (?:round|rnd|row)s?(?: (?:is|are))? (?:just |exactly )?(?:the same|alike|like (?:it|this|that)),? (?:until|till) (?:there are|you have) {_N.replace('<n>', '<m>')}{_TAIL.replace('?P<end>', '?:').replace('?P<last>', '?:').replace('?P<last2>', '?:')}"
)


def _one_in_all(scribe: Scribe, said: str) -> list[Says] | None:
    """Return the one row told last, so often that there are so many of it in all."""
    entries = [e for e in scribe.assembler.entries if not isinstance(e.step, st.Note)]
    last = entries[-1].step if entries else None
    many = count_in(said) if said[:1].isdigit() else number_of(said)
    if not isinstance(last, st.Round | st.Row) or min(values_of(many)) < 2:
        return None
    if len(entries) > 1 and getattr(entries[-2].step, "items", None) == last.items:
        return None  # it was worked again before
    return [Again((), 1, many, False, 1, 0, False)]


_RIB = WordForm(rf"work in rib for {_N} {_C}(?: {_ALL})?")


def _rib_again(scribe: Scribe, said: str) -> list[Says] | None:
    """Return "Rib round: …. Work 10 rib rounds" as so many in all: it had a name until then."""
    entries = scribe.assembler.entries
    named, last = scribe.context.named.get("rib"), entries[-1].step if entries else None
    if named is None or getattr(last, "items", None) != named.items:
        return None
    many = count_in(said) if said[:1].isdigit() else number_of(said)
    return [Again((), 1, many, False, 1, 0, False)]


def _found(scribe: Scribe, told: dict[str, str | None]) -> list[Says] | None:
    if scribe.context.alternate:
        weave_in(scribe, (scribe.context.last + 2,), final=True)
    rows = rows_told(scribe)
    if len(rows) < 2 or not _are_meant(scribe, told, len(rows)):
        return None
    often = (told["n"] or "").lower()
    many = {"twice": 2, "thrice": 3}.get(often) or (
        count_in(often) if often[:1].isdigit() else number_of(often)
    )
    if "times" in told and (behind := _BEHIND.search(told["after"] or "")):
        course, n = ("RND" if isinstance(rows[0], st.Round) else "ROW"), behind["n"]
        plain = made(course, (Run("p" if behind["how"] == "purl" else "k", To()),), "")
        steps = [attrs.evolve(row, count=None, at=scribe.place) for row in rows]
        steps += [attrs.evolve(plain, at=scribe.place)] * (int(n) if n.isdigit() else number_of(n))
        del scribe.assembler.entries[-len(rows) :]
        return [st.RepeatRounds(tuple(steps), many, at=scribe.place)]
    if "times" in told:
        says_times = "times" in (told["times"] or "") or often in ("twice", "thrice")
        if not says_times or min(values_of(many)) < 1:
            return None
        more = any(told.get(key) for key in ("more", "more2", "more3"))
        verb = told["verb"] or ""
        if more or verb.startswith("rep"):
            return None  # others read that, and its second meaning
        return _ended(scribe, rows, told, [Again((), len(rows), many, False, 1, 0, False)])
    shown = told["shown"] or ""
    if not shown:
        return _in_all(scribe, rows, many) if min(values_of(many)) > scribe.context.last else None
    each = _each(scribe, rows, shown)
    if not each:
        return None
    if shown in ("rows", "rounds", "rnds"):
        if not _is_sure(scribe, rows, told):
            return None
        return _ended(scribe, rows, told, _in_all(scribe, rows, many))
    total = [int(value) for value in values_of(many)]
    if each < 0:  # one of them takes so many rows
        return _ended(scribe, rows, told, _in_all(scribe, rows, sized([-each * n for n in total])))
    if any(value % each for value in total):
        return None
    times = sized([value // each for value in total])
    last = (told["last"] or "").split()[-1:]
    if each == 1 and last and last[0].isdigit() and 0 < int(last[0]) < len(rows):
        rest = [attrs.evolve(row, count=None, at=scribe.place) for row in rows[: int(last[0])]]
        less = sized([value - 1 for value in total])
        if min(values_of(less)) < 1:
            return None
        return [*([] if less == 1 else [Again((), len(rows), less, False, 1, 0, False)]), *rest]
    return _ended(scribe, rows, told, [Again((), len(rows), times, False, 1, 0, False)])


def _is_sure(scribe: Scribe, rows: Sequence[_Row], told: dict[str, str | None]) -> bool:
    """Tell whether so many rows are of those, and no plain ones behind them: "work 10 rows"."""
    names = {name for name, row in scribe.context.named.items() if row in rows}
    if told.get("which") or told.get("of") or names - {"last"}:
        return True  # those told by their sides or letters are not worked until then
    live = scribe.now()
    ends = [live.trial(rows, size) for size in range(len(live.tallies))]
    return live.sure and all(
        not end.troubles and end.tally.count == now.count
        for end, now in zip(ends, live.tallies, strict=True)
    )


def _ended(
    scribe: Scribe, rows: Sequence[_Row], told: dict[str, str | None], says: list[Says] | None
) -> list[Says] | None:
    """Return a repeat, if what is said of its last row is true of it."""
    last = (told.get("last") or told.get("last2") or "").split()
    if not last or says is None:
        return says
    told_rows = rows
    if isinstance(says[-1], st.Round | st.Row):  # it ends amid them
        rows = [says[-1]]
    if last[-1].isdigit() or last[0] in ("a", "b", "c", "d"):
        named = scribe.context.named.get(last[0])
        fits = last[-1] in (str(scribe.context.last), str(len(told_rows))) or (
            named is not None and named == rows[-1]
        )
        return says if fits else None
    kinds = {item.stitch for item in items_in(rows[-1].items) if isinstance(item, Run)}
    right = {"knit": kinds & {"p"} == set(), "plain": kinds == {"k"}, "purl": "p" in kinds}
    return says if right.get(last[0]) else None


def _are_meant(scribe: Scribe, told: dict[str, str | None], many: int) -> bool:
    """Tell whether what is named is those rows."""
    if told.get("a"):
        first, last = int(told["a"] or 0), int(told["z"] or 0)
        return last - first + 1 == many and scribe.context.row(last) is not None
    if told.get("la"):
        names = [(told[key] or "").lower() for key in ("la", "lb")]
        return many == 2 and all(name in scribe.context.named for name in names)
    which = told.get("which") or ""
    numbers = numbers_in(which)
    words = [n for n, word in enumerate(NUMBER_WORDS, 1) if word in which.split()]
    wanted = [*numbers, *words] or ([2] if "both" in which or "pair" in which else [])
    return all(one == many for one in wanted)


def rows_told(scribe: Scribe) -> list[_Row]:
    """Return the rows told and worked last, once, that belong together; none where that is open."""
    context = scribe.context
    entries = [e for e in scribe.assembler.entries if not isinstance(e.step, st.Note)]
    steps = [entry.step for entry in entries]
    numbered: list[_Row] = []
    ahead = 0
    last = entries[-1].span[1] if entries and entries[-1].span else 0
    for entry in reversed(entries):
        span = entry.span
        if span is None or (ahead and span[1] != ahead - 1):
            break
        numbered[:0], ahead = _written(entry.step), span[0]
        if ahead == 1:
            return numbered if last == len(numbered) else []
    pairs = [
        ("odd", "even"),
        ("rs", "ws"),
        ("right-side", "wrong-side"),
        ("right side", "wrong side"),
    ]
    pairs += [(chr(97 + n), chr(98 + n)) for n in range(7)]
    for pair in (*pairs, *(two[::-1] for two in pairs[:4])):
        rows = [context.named[name] for name in pair if name in context.named]
        if len(rows) == 2 and _just(steps, rows):
            return rows
    return []


def _just(steps: Sequence[st.Step], rows: Sequence[_Row]) -> bool:
    """Tell whether rows were worked last, and not twice."""
    last: list[_Row] = []
    for step in reversed(steps):
        if len(last) >= len(rows) or not isinstance(step, st.Round | st.Row | st.RepeatRounds):
            break
        last[:0] = _written(step)
    return len(last) == len(rows) and all(map(_is_alike, last, rows))


def _is_alike(row: _Row, told: _Row) -> bool:
    """Tell whether a row is as it was told, or plain as that is and places a marker besides."""
    if row.items == told.items:
        return True
    runs = {one.stitch for one in row.items if isinstance(one, Run)}
    return (
        len(told.items) == 1
        and runs == {getattr(told.items[0], "stitch", "")}
        and all(isinstance(one, Run | Mark) for one in row.items)
    )


def _written(step: st.Step) -> list[_Row]:
    if isinstance(step, st.RepeatRounds):
        few = isinstance(step.times, int) and step.times < 20 and len(step.steps) == 1
        inner = _written(step.steps[0]) if few else []
        return inner * step.times if isinstance(step.times, int) else []
    return [step] if isinstance(step, st.Round | st.Row) else []


def _in_all(scribe: Scribe, rows: Sequence[_Row], many: Count) -> list[Says] | None:
    """Return rows that were worked once so often that there are so many, and those of the next."""
    pairs = [divmod(int(value), len(rows)) for value in values_of(many)]
    over = {rest for _, rest in pairs}
    if len(over) > 1 or min(times for times, _ in pairs) < 1:
        return None
    times = sized([often for often, _ in pairs])
    rest = [attrs.evolve(row, count=None, at=scribe.place) for row in rows[: over.pop()]]
    if times == 1:
        return [*rest] if rest else None
    return [Again((), len(rows), times, False, 1, 0, False), *rest]


def _changes_count(scribe: Scribe, row: _Row) -> bool:
    """Tell whether a row leaves other stitches than it found."""
    live = scribe.now()
    ends = [live.trial((attrs.evolve(row, count=None),), size) for size in range(len(live.tallies))]
    return any(end.tally.count != now.count for end, now in zip(ends, live.tallies, strict=True))


def _each(scribe: Scribe, rows: Sequence[_Row], shown: str) -> int:
    """Return how many of a thing those rows make; less than 0 for the rows that one takes."""
    words = shown.split()
    flat = isinstance(rows[0], st.Row)
    thing = words[-1].rstrip("s")
    kinds = [{i.stitch for i in items_in(row.items) if isinstance(i, Run)} for row in rows]
    over = sum("yo" in kind for kind in kinds)
    crossed = sum(
        any("/" in k or (k in scribe.table and scribe.table[k].order) for k in kind)
        for kind in kinds
    )
    purled = sum("p" in kind and not kind & {"k"} for kind in kinds)
    if "eyelet" in words or "eyelets" in words or "holes" in words:
        return over
    if thing in ("twist", "crossing", "cable") or "twists" in words:
        return crossed
    if thing in ("ridge", "bump") or "purl" in words:
        if not flat:
            return purled
        return -2 if thing == "ridge" and "purl" not in words else 0
    if thing in ("chain", "loop") or words[0] in ("slipped", "slip", "long", "edge", "chain"):
        return -2 if flat else 0
    if words[0][:3] in ("inc", "dec"):
        return sum(shapes(row) and _changes_count(scribe, row) for row in rows)
    if thing in ("repeat", "wave", "band"):
        return 1
    if words == ["rows"] or words in (["rounds"], ["rnds"]):
        return len(rows)
    return 0
