# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Two rows told in one breath, by sides or numbers, with how often: "RS sl 1, k31, WS sl 1, p31. 28 rows"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import MANY, whole_number

__all__ = ["with_rows_by_turns"]

_N = r"\d+(?: ?[(\[][\d ,:;/-]*[)\]])?"
_RS = r"(?:on |in )?(?:the )?(?:right[- ]side|rs|knit side|knit(?=(?: side)? rows))(?: rows?)?|(?:next row )?\((?:rs|right side)\)"
_WS = r"(?:on |in )?(?:the )?(?:wrong[- ]side|ws|purl side|purl(?=(?: side)? rows))(?: rows?)?|(?:next row )?\((?:ws|wrong side)\)"
_FIRST = r"row (?:1|a|i)\b|(?:1st|first) row|odd rows"
_SECOND = r"row (?:2|b|ii)\b|(?:2nd|second) row|even rows"
_ROW = r"\*[^*.;]{2,40}?(?:\*|[;,] ?rep(?:eat)? from \*)(?: (?:to (?:the )?end|across))?(?:, end k1)?|[^.;:*\n]{1,80}?"
_TO = r"(?: ?\((?P<s{n}>[^()]{{2,12}})\)|, (?P<side{n}>(?:rs|ws)\b|(?:right|wrong) side\b))?(?: ?[:,–—]| -)? "


def _told(one: str, other: str) -> str:
    first = rf"(?P<l1>{one}){_TO.format(n=1)}(?P<r1>{_ROW})(?:,? turn)?"
    return rf"{first} ?[.;,]? (?:and |then )?(?P<l2>{other}){_TO.format(n=2)}(?P<r2>{_ROW})(?:,? turn)?"


_BEFORE = rf"(?:(?:work|make|do|knit)\b(?P<where>[^.;:*\d]{{0,60}}?(?:{_N}[^.;:*\d]{{0,60}}?)?),? )?(?:for )?(?P<n>{_N}) (?P<unit>rows|times)(?: over| in all| altogether| like this)*[:,] "
_STAR = r"(?P<star>\*)?"
_AFTER = (
    rf"(?:[.;,] (?:(?:now |then |and )*(?:work|make|do|knit|rep(?:eat)?) )?(?:(?:these|both|the|last|two|2|rows(?! \d+ ?(?:and|&|-|–|to)\b)|rows 1 (?:and|&) 2|of them|rows a (?:and|&) b|a and b|it|this|so|for|until|(?:a )?total of|there (?:are|will be)|you have|in all,?)[ ,])*(?P<n2>{_N})(?: (?P<unit2>rows|times)(?: each| in all| in total| altogether| like this)*)"
    rf"|[.;,] rows in all:? (?P<n5>{_N})|; ?rep(?:eat)? from \*,? (?:(?P<n4>{_N}) (?P<more>more )?times(?P<more2> more)?|(?:un)?til (?:there are |you have )?(?P<n3>{_N}) rows(?: are done| have been (?:worked|done))?)"
    rf"|[.;,] (?P<n6>{MANY}) times (?:rows )?(?:a (?:and|&) b|1 (?:and|&) 2|both(?: rows)?|(?:these|those|the) (?:two|2)(?: rows)?))"
)
_END = r"(?:,? so (?:that )?(?:[a-z]+ ){0,3}(?:last|you)[^.;]*)?(?=[.;,]|$| and\b)"


_LEAD = r"(?P<lead>^|[.;:] | [–—-] )"
_SLIPPED = r"sl(?:ip)? ?1(?: [a-z]+)?,? (?:and )?(?:{verb})[^.;:*\n]{{1,40}}?"
_ALTERNATELY = rf"(?:(?:work|make|do|knit) )?(?P<n>{_N}) (?P<unit>rows)\b,? (?:alternately|alternating|by turns|in turn):? (?P<r1>{_ROW})(?:,? and|;) (?P<r2>{_ROW})(?=[.]|$)"
_STARRED = rf"(?P<star>\*) ?(?P<r1>{_SLIPPED.format(verb='k')})[;.] (?P<r2>{_SLIPPED.format(verb='p')})[;.] rep(?:eat)? from \*,? (?P<n4>{_N}) (?P<more>more )?times(?P<more2> more)?(?=[.]|$)"


def _forms() -> list[re.Pattern[str]]:
    found = [_ALTERNATELY, _STARRED]
    for one, other in ((_RS, _WS), (_WS, _RS), (_FIRST, _SECOND)):
        found.append(rf"{_BEFORE}{_told(one, other)}(?=[.]|$)")
        found.append(rf"{_STAR}{_told(one, other)}{_AFTER}{_END}")
    return [re.compile(_LEAD + form, re.IGNORECASE) for form in found]


_FORMS = _forms()
_MAY_BE = WordForm(
    r"\b(?:ws|wrong[- ]side|purl side|purl rows|row (?:2|b|ii)|2nd row|second row|even rows|sl(?:ip)? ?1)\b",
)
_MANY = WordForm(r"\b(?:rows|times)\b")
_WORKS = WordForm(r"\b(?:k|p|knit|purl|sl|slip|work)\b|\b[kp]\d|\bsl\d")
_SHAPES = WordForm(r"\b(?:[kp]\d?tog|ssk|ssp|skpo?|m1\w?|yo|turn|wrap|gap)\b")


def with_rows_by_turns(said: MappedText) -> MappedText:
    """Put two rows that are told with how often they are worked each in a sentence of its own."""
    if not (_MAY_BE.search(said.text) and _MANY.search(said.text)):
        return said
    for form in _FORMS:
        said = said.sub(form, _row_by_row)
    return said


def _row_by_row(match: re.Match[str]) -> str:
    told = match.groupdict()
    one, other = _row(match["r1"]), _row(match["r2"])
    if not all(_WORKS.search(row) and not _SHAPES.search(row) for row in (one, other)):
        return match[0]
    if (often := _often(told)) is None:
        return match[0]
    where = (told.get("where") or "").strip(" ,")
    lead = "" if not match["lead"] else ". "
    lead += f"Work {where}. " if where else ""
    first = _side(told.get("l1"), told.get("s1"), told.get("side1"))
    second = _side(told.get("l2"), told.get("s2"), told.get("side2"))
    return f"{lead}Row 1{first}: {one}. Row 2{second}: {other}. {often}"


def _row(text: str) -> str:
    """Return a row with its repeat written out: "*sl 1, k1*"."""
    text = text.strip(" ,;")
    unit = re.fullmatch(
        r"\*(?P<starred>[^*;]+?)(?:\*|[;,] ?rep(?:eat)? from \*)(?P<ends>, end k1)?.*|(?P<unit>[^*]+?),? rep(?:eat)? (?:to (?:the )?end|across)",
        text,
        re.IGNORECASE,
    )
    if unit:
        end = "last st, k1" if unit["ends"] else "end"
        return f"*{(unit['starred'] or unit['unit']).strip(' ,')}; rep from * to {end}"
    return text[:1].upper() + text[1:]


def _side(*said: str | None) -> str:
    words = " ".join(word or "" for word in said).lower()
    if re.search(r"\b(?:rs|right|knit)\b", words):
        return " (RS)"
    return " (WS)" if re.search(r"\b(?:ws|wrong|purl)\b", words) else ""


def _often(told: dict[str, str | None]) -> str | None:
    """Return how often the two rows are worked, None where that is a mixture of odd and even."""
    if told.get("n4"):
        return (
            f"Rep rows 1 and 2 {told['n4']} more times"
            if told["more"] or told.get("more2")
            else None
        )
    if said := told.get("n6"):
        many = said if said[0].isdigit() else str(whole_number(said))
        return f"Work rows 1 and 2 a total of {many} times"
    many = told.get("n") or told.get("n2") or told.get("n3") or told.get("n5") or ""
    unit = (told.get("unit") or told.get("unit2") or "rows").lower()
    if told.get("star") and not told.get("n3"):
        return None
    if unit == "times":
        return f"Work rows 1 and 2 a total of {many} times"
    odd = {int(number) % 2 for number in re.findall(r"\d+", many)}
    if len(odd) > 1:
        return None
    if odd == {1}:
        many = re.sub(r"\d+", lambda number: str(int(number[0]) - 1), many)
        return f"Rep rows 1 and 2 until you have {many} rows. Work row 1 once more"
    return f"Rep rows 1 and 2 until you have {many} rows"
