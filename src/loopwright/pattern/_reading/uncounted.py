# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Which rows are meant where a text says "repeat until …" and neither names nor counts them."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._reading.context import is_titled
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._reading.stated import number_of
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._words import figure
from loopwright.pattern.items import Run, items_in

__all__ = ["changes_count", "unshaped_block", "with_rows"]

_SO_FAR = rf"(?=(?:un)?til+\b|for {COUNT}|another\b|a further\b|a total\b|once\b|twice\b|(?:\d+|[a-z]+)(?: ?[\[(][^)\]]*[\])])? (?:more |further )?times\b)"
_VERB = r"(?:and |then |now )*(?:work|knit|do|alternate|(?:keep|go|carry|continue)(?: on)? (?:repeating|working|doing|knitting|alternating|with))"
_UNCOUNTED = WordForm(  # "rep these rows until …", "do these 14 times", "repeat 5 more times"
    rf"(?:(?:and |then |now )*rep(?:eat)?(?: (?:all )?(?:these|those|the above) (?:rows|rounds|rnds))?|{_VERB} (?:all |both )?(?:of )?(?:these|those|the above)(?: (?:rows|rounds|rnds))?),? {_SO_FAR}",
    re.NOFLAG,
)
_PAIR = WordForm(  # "keep alternating those two until", "do the pair 9 times"
    rf"(?P<verb>{_VERB}|(?:and |then |now )*rep(?:eat)?) (?:both(?: of (?:them|these|those))?|(?:the|these|those|this|that)(?: last)? (?:two|2|pair)(?: of (?:them|these|rows|rounds|rnds))?)(?: (?:rows|rounds|rnds)(?=,))?(?:, [a-z ]{{3,30}},)?,? {_SO_FAR}",
    re.NOFLAG,
)
_IN_THIS_WAY = r"(?:(?:in|as|like) (?:this|the same|that|pattern|patt|set|established|est)(?: (?:way|manner|fashion|pattern|patt|set|established))?|so|thus)"
_ON_FOR_A_LENGTH = WordForm(  # "continue in this way until it measures 5 cm", "keep going for 12 rounds"
    rf"(?:and |then |now )*(?:(?:continue|cont\b\.?|carry on|go on|keep on|work)(?: (?:on|to work|working|even|straight))*,? {_IN_THIS_WAY}|(?:carry on|go on|keep (?:on )?going|keep (?:this|that|it) up)(?: {_IN_THIS_WAY})?),? (?=(?:(?:un)?til+ (?:[a-z]+ ){{1,4}}?(?:measures?|is|are|reach(?:es)?)|for) (?:about )?{COUNT} ?(?:cm|mm|in\b|inch|\")|for (?:another |a further )?{COUNT} (?:more |further )?(?:rows|rounds|rnds)\b|(?:un)?til+ (?:(?:you have|there are|worked|knitted|done|in all|a total of) )*{COUNT} (?:flap |heel )?(?:rows|rounds|rnds)\b)",
    re.NOFLAG,
)
_ROWS = r"(?:rounds?|rnds?|rows?|r(?=\d))\.? ?\d+(?:(?: ?[-–,&]| and| to| through)+ ?(?:r(?:ow|nd|ound)? ?)?\d+)*"
_NAME_FIRST = WordForm(  # "work lamp rows 1-4 twice more", "as for toe rounds 1 and 2 until …"
    rf"^(?P<verb>(?:and |then |now )*(?:rep(?:eat)?|work|knit)(?: (?:exactly )?(?:as|like|the same as)(?: for| in)?)? (?:the )?)(?P<name>[a-z][a-z'-]*(?: [a-z'-]+){{0,2}}?) (?P<rows>{_ROWS})(?! ?of\b)(?P<again> again$)?",
    re.NOFLAG,
)
_LIKE_ROWS = WordForm(  # "now work as rounds 1 and 2 of the toe until 16 sts remain"
    rf"^(?:and |then |now )*(?:work|knit|continue|cont|go on|dec(?:rease)?|inc(?:rease)?|shape) (?:exactly )?(?:as|like|the same as) (?:(?:given )?(?:for|in) )?(?:the )?(?={_ROWS} (?:of|from|in|for) (?:the )?[a-z][a-z' -]*?,? (?:until|once|twice|[a-z0-9]+ (?:more )?times)\b)",
    re.NOFLAG,
)
_FLAP = WordForm(  # "row 1: …, row 2: …. Work 34 rows.": those of the flap in all
    rf"(?:and |then |now )*work (?:a total of )?(?P<n>{COUNT}) rows(?: in all| in total| altogether)?",
    re.NOFLAG,
)
_REPEATS = WordForm(
    rf"(?:and |then |now )*(?:work|knit|make|do) (?P<n>{COUNT}|two|three|four|five|six)(?: (?:full|whole|complete|pattern|vertical|motif))* (?:repeats|patterns|patts)(?: (?:in all|in total|altogether|of (?:the |this )?(?:pattern|motif)))?(?: ?\({COUNT} (?:rounds|rnds|rows)\))?",
    re.NOFLAG,
)

_AGAIN = WordForm(  # "change to B and work these 6 rows again": all that were numbered
    r"(?:and |then |now )*(?:rep(?:eat)?|work|knit|do) (?:the|these|those|the same|the last|all|all the|all these|all of the|all of these|the whole) (?P<n>\d{1,2}|two|three|four|five|six|eight|ten|twelve) (?:rounds|rnds|rows)(?: (?:once )?again| once more| once)?(?: (?:in|with) (?:[a-h]|mc|cc\d?))?",
    re.NOFLAG,
)


def with_rows(scribe: Scribe, text: str) -> str:
    """Return a sentence that repeats rows with their numbers, where it leaves those out or names
    their section first.
    """
    text = _NAME_FIRST.sub(lambda match: _of_section(scribe, match), text)
    text = _LIKE_ROWS.sub("rep ", text)
    if (these := _UNCOUNTED.match(text)) is not None and (block := _block(scribe)):
        verb = "rep" if "rep" in these[0] else "work"
        text = f"{verb} {block} {text[these.end() :].strip()}"
    if (
        (flap := _FLAP.fullmatch(text)) is not None
        and "instep" in scribe.now().held()
        and "-" in (block := unshaped_block(scribe))
    ):
        text = f"rep {block} until {flap['n']} rows"
    if (pair := _PAIR.match(text)) is not None:
        verb = "rep" if "rep" in pair["verb"] else "work"
        course = "rows" if scribe.course == "ROW" else "rounds"
        text = f"{verb} the last 2 {course} {text[pair.end() :].strip()}"
    if (again := _AGAIN.fullmatch(text)) is not None:
        many, block = number_of(again["n"]), _block(scribe)
        text = f"rep {block}" if many == scribe.context.last and "-" in block else text
    if (onward := _ON_FOR_A_LENGTH.match(text)) is not None and (block := unshaped_block(scribe)):
        text = f"rep {block} {text[onward.end() :].strip()}"
    if (whole := _REPEATS.fullmatch(text)) is not None and "-" in (block := _block(scribe)):
        text = f"rep {block} a total of {whole['n']} times"
    return text


def _of_section(scribe: Scribe, match: re.Match[str]) -> str:
    """Put "rows 1-4 of lamp" for "lamp rows 1-4", where that is the name of a section."""
    name, context = match["name"], scribe.context
    titles = (context.section, *context.sections, *context.patterns)
    if not any(is_titled(title, name) for title in titles if title):
        return match[0]
    number = figure(re.findall(r"\d+", match["rows"])[0])
    named = context.named.get(f"{name} {number}") is not None
    known = context.row(number, name) is not None
    again = " once more" if match["again"] else ""
    return f"{match['verb']}{match['rows']} of {name}{again}" if known and not named else match[0]


def unshaped_block(scribe: Scribe) -> str:
    """Name the numbered rows of the pattern in work, or the last, where they were just worked and
    shape nothing.
    """
    block, context = _block(scribe), scribe.context
    told = [context.rows.get(number) for number in range(1, context.last + 1)]
    even = all(row is None or not changes_count(scribe, row) for row in told)
    return block if even and ("-" in block or told) else ""


def changes_count(scribe: Scribe, row: st.Round | st.Row) -> bool:
    """Tell whether a row holds a stitch that takes others than it leaves."""
    runs = (item.stitch for item in items_in(row.items) if isinstance(item, Run))
    return any(key in scribe.table and scribe.table[key].change for key in runs)


def _block(scribe: Scribe) -> str:
    """Name the rows that "repeat until …" means: those numbered from 1, or a shaping one and its
    plain one; "" where that is not known.
    """
    context, steps = scribe.context, [one.step for one in scribe.assembler.entries]
    steps = [step for step in steps if not isinstance(step, st.Note)]
    course = "rows" if scribe.course == "ROW" else "rounds"
    rows = [row for step in steps[-8:] for row in rounds_in((step,))]
    told = context.rows.get(context.last)
    if not rows:
        return ""
    if told is not None and rows[-1].items == told.items:
        if all(number in context.rows for number in range(1, context.last + 1)):
            return f"{course} 1-{context.last}" if context.last > 1 else f"the last {course[:-1]}"
        return ""
    if not all(isinstance(step, st.Round | st.Row) for step in steps[-2:]):
        return f"the last {course[:-1]}" if isinstance(steps[-1], st.Round | st.Row) else ""
    plain_behind = (
        len(rows) > 1 and not changes_count(scribe, rows[-1]) and changes_count(scribe, rows[-2])
    )
    return f"the last 2 {course}" if plain_behind else f"the last {course[:-1]}"
