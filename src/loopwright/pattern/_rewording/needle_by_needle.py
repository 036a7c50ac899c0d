# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A round told needle by needle, in whatever words, as the grammar has it.

"On the first needle, knit to the last 3 sts, k2tog, k1. Knit the second needle. K1, ssk, k to end
on needle 3" is put as ``needle 1: knit to the last 3 sts, k2tog, k1; needle 2: knit; needle 3: K1,
ssk, k to end``. It is done for clauses behind one another that name the needles in their order.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from loopwright.pattern._rewording.mapped import MappedText

__all__ = ["with_needles_ahead"]

_NTH: Final = r"(?:first|second|third|fourth|1st|2nd|3rd|4th)"
_NEEDLE: Final = rf"(?:(?:the )?{_NTH} (?:needle|dpn)\b|(?:needle|dpn|n) ?[1-4]\b|needle (?:one|two|three|four)\b)"
_LEAD: Final = r"(?P<lead>^(?:[^:*]{0,30}(?:rnds?|rounds?)\b[^:]{0,20}: )?|^(?:in|on|for) the (?:next|first) (?:round|rnd),? )"
_AHEAD: Final = r"(?:(?:and|then|next|now|finally|lastly),? )*"
_ON: Final = r"(?:on|along|over|across|for|of|from|at|with)"
_WORK: Final = r"(?:k|knit|p|purl|ssk|skp\w?|sl|slip|m1\w?|kfb|k2tog|p2tog|yo|work|\*|\[|\()"
_PLAIN: Final = r"(?: plain| straight| even| in pattern| in patt| as set| without shaping)"
_MANY: Final = r"(?:\d+(?: ?[(\[][^)\]]*[)\]])? )?"
# What a clause may be: its needle is behind "to the last 3 sts", is all that is worked, stands
# first, or last.
_FORMS: Final = tuple(
    re.compile(_LEAD + _AHEAD + form, re.IGNORECASE)
    for form in (
        rf"(?P<work>(?:k|knit|work) (?:across )?to (?:the )?last [^,;.]*?(?:sts?|stitches|stitch)) (?:on|of) (?P<needle>{_NEEDLE})(?=,)",
        rf"(?:k|knit|work)(?: all)?(?: {_ON})?(?: the)? {_MANY}(?:(?:sts|stitches) )?(?:{_ON} )?(?P<needle>{_NEEDLE})(?P<how>{_PLAIN})?(?= ?\(|$)",
        rf"(?:{_ON} )?(?P<needle>{_NEEDLE}|(?<=on )the {_NTH}|(?<=with )the {_NTH})(?:(?: ?[:,–—-])? )(?={_WORK}(?:\b|\d|(?<=\W)))",
        rf"(?P<work>(?=\b{_WORK}(?:\b|\d))[^:]*?),? {_ON} (?P<needle>{_NEEDLE})(?= ?\(|$)",
    )
)
_NAMES: Final = (("first", "1", "one"), ("second", "2", "two"), ("third", "3", "three"), ("fourth", "4", "four"))  # fmt: skip
_SAID: Final = re.compile(rf"{_NEEDLE}|\b(?:on|with) the (?:second|third)\b", re.IGNORECASE)
_CLAUSE: Final = re.compile(
    rf"(?P<clause>(?:[^.;]|\.(?=\d)|(?<=\b[a-z]\d)\.(?=,))+?)(?:[.;](?= |$)|,(?= {_AHEAD}(?:{_ON} )?{_NEEDLE}[:, ])|$) *",
    re.IGNORECASE,
)
_OURS: Final = re.compile(r"(?:^|: |(?<=; ))[Nn]eedle [1-4]: ")
_NEXT: Final = re.compile(r"^(?:in|on|for) the (?:next|first) (?:round|rnd),? $", re.IGNORECASE)


def with_needles_ahead(said: MappedText) -> MappedText:
    """Return a line with each needle's name ahead of what is worked on it.

    Examples
    --------
    >>> told = MappedText.of("Rnd 1: K to last 3 sts on needle 1, k2tog, k1. Knit the second needle.")
    >>> with_needles_ahead(told).text
    'Rnd 1: needle 1: K to last 3 sts, k2tog, k1; needle 2: knit.'
    """
    if "eedle" not in said.text or len(_SAID.findall(said.text)) < 2 or "pick" in said.text.lower():
        return said
    for clauses in reversed(list(_runs(said.text))):
        for number, (start, end, form) in reversed(list(enumerate(clauses))):
            clause = said.cut(start, end).sub(form, _put_first)
            if number < len(clauses) - 1:
                sign = re.compile(r"^[.;,]? *")
                rest = said.cut(end, len(said.text)).sub(sign, lambda _: "; ")
            else:
                rest = said.cut(end, len(said.text))
            said = said.cut(0, start).and_then(clause).and_then(rest)
    return said


def _runs(text: str) -> Iterator[list[tuple[int, int, re.Pattern[str]]]]:
    """Yield clauses behind one another that name needles 1, 2 and on; not if all are so already."""
    run: list[tuple[int, int, re.Pattern[str]]] = []
    for match in (*_CLAUSE.finditer(text), None):
        found = _form_of(match["clause"], first=not run) if match else None
        if found is not None and match is not None and found[1] == len(run) + 1:
            run.append((match.start("clause"), match.end("clause"), found[0]))
            continue
        if len(run) > 1 and not all(_OURS.search(text, *one[:2]) for one in run):
            yield run
        run = []
        if found is not None and match is not None and found[1] == 1:
            run.append((match.start("clause"), match.end("clause"), found[0]))


def _form_of(clause: str, *, first: bool) -> tuple[re.Pattern[str], int] | None:
    for form in _FORMS:
        match = form.match(clause)
        if match is not None and (first or not match["lead"]):
            return form, _number(match)
    return None


def _put_first(match: re.Match[str]) -> str:
    groups = match.groupdict()
    lead = match["lead"]
    if _NEXT.match(lead) or (not lead and _number(match) == 1):
        lead = "Next round: "
    plain = (
        ""
        if "how" not in groups
        else "work in pattern"
        if "pat" in (match["how"] or "")
        else "knit"
    )
    return f"{lead}needle {_number(match)}: {groups.get('work') or plain}"


def _number(match: re.Match[str]) -> int:
    word = match["needle"].lower()
    return next(
        number for number, names in enumerate(_NAMES, 1) if any(one in word for one in names)
    )
