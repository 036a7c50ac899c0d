# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows told by turns: "knit the odd rows, purl the even rows", "purl every even row", rows A and B."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Rewordings
from loopwright.pattern._words import NUMBER_WORDS

__all__ = ["with_odd_and_even"]

_C = r"(?:rounds?|rnds?|rows?)"
_ODD = r"(?:odd|odd-numbered|rs|right[- ]side|knit)"
_EVEN = r"(?:even|even-numbered|ws|wrong[- ]side|purl)"
_EITHER = r"(?:odd|even|odd-numbered|even-numbered|rs|ws|right[- ]side|wrong[- ]side)"
_ALL = r"(?:(?:all|every|each|the|all of the|on|in|other|remaining|following|further|later) )*"
_VERB = r"(?:knit|purl|k|p)"
_N = r"\d+(?: ?[(\[][^)\]]*[)\]])?"
_SIDE = r"(?: ?\((?:rs|ws|right side|wrong side)\))?"
_MANY = "|".join(NUMBER_WORDS[:12])
_HEAD = rf"(?:(?P<crs>{_C}) (?P<n>\d+)|(?P<nth>\d+)(?:st|nd|rd|th) (?P<crs2>{_C}))(?P<side> ?\([^)]*\))?"
_MOST = 12  # rows that are written out one by one

_BOTH = "|".join(
    form.format(a=a, b=b, x=x, y=y)
    for a, b, x, y in ((_ODD, _EVEN, "o", "e"), (_EVEN, _ODD, "E", "O"))
    for form in (
        rf"(?P<{{x}}1>{_VERB}) {_ALL}{{a}}(?: numbered)? (?:{_C}|ones){_SIDE}(?:,|;| and|, and) (?P<{{y}}1>{_VERB}) {_ALL}{{b}}(?: numbered)? (?:{_C}|ones){_SIDE}",
        rf"{_ALL}{{a}}(?: numbered)? {_C}{_SIDE}:?(?: are)? (?P<{{x}}2>{_VERB})(?:ted|ed)?(?:,|;| and|, and) {_ALL}{{b}}(?: numbered)? (?:{_C}|ones){_SIDE}:?(?: are)? (?P<{{y}}2>{_VERB})(?:ted|ed)?",
    )
)  # fmt: skip
_LISTED = rf"(?P<l1>{_VERB}) {_C} (?P<la>\d+(?:(?:, | and |, and )\d+)*)(?:,|;| and|, and) (?P<l2>{_VERB}) {_C} (?P<lb>\d+(?:(?:, | and |, and )\d+)*)"


def _written(first: int, last: int, course: str, odd: str, even: str) -> str:
    """Return rows one by one, or two of them and how often, where there are many."""
    rows = [
        f"{course} {n}: {(odd if n % 2 else even).capitalize()}." for n in range(first, last + 1)
    ]
    if len(rows) <= _MOST:
        return " ".join(rows)[:-1]
    return f"{rows[0]} {rows[1]} Rep {course.lower()}s {first} and {first + 1} until you have {len(rows)} {course.lower()}s"


def _verbs(match: re.Match[str]) -> tuple[str, str]:
    odd = next(match[key] for key in ("o1", "o2", "O1", "O2") if match[key])
    even = next(match[key] for key in ("e1", "e2", "E1", "E2") if match[key])
    full = {"k": "knit", "p": "purl"}
    return full[odd[0].lower()], full[even[0].lower()]


def _in_turn(match: re.Match[str]) -> str:
    """Put "rows 1-4: knit the odd rows, purl the even rows" row by row."""
    first, last = int(match["a"]), int(match["z"])
    course = match["crs"].rstrip("sS").capitalize()
    if not first < last:
        return match[0]
    return _written(first, last, course, *_verbs(match))


def _so_many(match: re.Match[str]) -> str:
    """Put "work 4 rows: knit the odd rows, purl the even rows" as two rows and how often."""
    odd, even = _verbs(match)
    course = match["crs"].lower()
    one = course.rstrip("s")
    return f"{match['lead']}{one.capitalize()} 1: {odd.capitalize()}. {one.capitalize()} 2: {even.capitalize()}. Rep {one}s 1 and 2 until you have {match['many']} {course}"


def _listed(match: re.Match[str]) -> str:
    """Put "rows 1-4: knit rows 1 and 3, purl rows 2 and 4" row by row."""
    verbs = {
        int(n): match[verb] for verb, rows in (("l1", "la"), ("l2", "lb"))
        for n in re.findall(r"\d+", match[rows])
    }  # fmt: skip
    first, last = int(match["a"]), int(match["z"])
    if sorted(verbs) != list(range(first, last + 1)):
        return match[0]
    full = {"k": "Knit", "p": "Purl"}
    course = match["crs"].rstrip("sS").capitalize()
    return " ".join(f"{course} {n}: {full[verbs[n][0].lower()]}." for n in sorted(verbs))[:-1]


_PLAIN_ROW = r"(?:(?:one|1|an?) (?:k(?:nit)?|p(?:url)?)|(?:knit|purl|[kp])(?: (?:1|one|a))?)(?: (?:row|rnd|round))?"


def _one_each(match: re.Match[str]) -> str:
    """Put "rows 3-6: knit, purl, knit, purl" row by row."""
    verbs = re.findall(r"\b(k|p)(?:nit|url)?\b", match["rows"], re.IGNORECASE)
    verbs *= {"": 1, "twice": 2}.get((match["often"] or "").lower(), 3)
    first, last = int(match["a"]), int(match["z"])
    many, rest = divmod(last - first + 1, len(verbs))
    if rest or many < 1 or (many > 1 and not re.search(r"[a-z]{3}", match["rows"])):
        return match[0]  # "k, p" over eight rounds is a rib
    verbs *= many
    course = match["crs"].rstrip("sS").capitalize()
    told = (
        f"{course} {n}: {'Knit' if verb in 'kK' else 'Purl'}."
        for n, verb in enumerate(verbs, first)
    )
    return " ".join(told)[:-1]


def _is_same(verb: str | None, row: str) -> bool:
    """Tell whether a verb asks for what a row does: "work", or the row's own."""
    return not verb or verb[0].lower() in ("w", row[0].lower())


def _number(match: re.Match[str]) -> int:
    return int(match["n"] or match["nth"])


def _and_all(match: re.Match[str], which: str, end: str = "") -> str:
    course = (match["crs"] or match["crs2"]).lower().rstrip("s")
    head = match[0][: match[0].index(":")]
    side = match["side"] or ""
    head = head[: len(head) - len(side)] if side else head
    return f"{head} and all {which} {course}s{end}{side}: {match['row']}"


_WHICH = ("which", "which2", "which3", "which4")


def _as_told(match: re.Match[str]) -> str:
    """Put "2nd row: Purl. Purl every even row" as "2nd row and all even rows: Purl"."""
    which = "odd" if _number(match) % 2 else "even"
    told = next(match[key] for key in _WHICH if match[key]).lower()
    if told.startswith(("odd", "even")) and not told.startswith(which):
        return match[0]
    if not _is_same(match["verb"] or match["verb2"], match["row"]):
        return match[0]
    return _and_all(match, which)


def _same_on(match: re.Match[str]) -> str:
    """Put "row 6: Purl. Do the same on rows 8, 10 and 12" as the row and all even ones to the last."""
    first = _number(match)
    told = match["list"] or match["list2"] or match["list3"]
    rows = [int(n) for n in re.findall(r"\d+", told)]
    if [first, *rows] != list(range(first, rows[-1] + 1, 2)):
        return match[0]
    if not _is_same(match["verb"], match["row"]):
        return match[0]
    which = "odd" if first % 2 else "even"
    course = (match["crs"] or match["crs2"]).lower().rstrip("s")
    return _and_all(match, which, f" to {course} {rows[-1]}")


def _lettered(match: re.Match[str]) -> str:
    """Put "work A and B 5 times, then A once more" with the word for what they are."""
    a, b = match["a"], match["b"]
    if ord(b) != ord(a) + 1:
        return match[0]
    last = re.search(r"\b[A-H]\b", match["last"] or "")
    reached = match["many"] is None and "end" in (match["last"] or "")  # the last of them ends it
    more = f". Work row {last[0]} once more" if last and not reached else ""
    said, far = (
        match["verb"] or "Do",
        re.sub(r"^ (?:down |up )?to ", " until there are ", match["far"]),
    )
    if re.match(r" for \d+ (?:rounds|rnds|rows)$", far):
        far += " in all"  # what has a letter was only told until now
    verb = "work" if said.lower() in ("work", "do") else "repeat"
    verb = verb.capitalize() if said[0].isupper() else verb
    return f"{match['lead']}{verb} rows {a} and {b}{far}{more}"


_EACH = rf"(?:all|every|each)(?: of)?(?: the)?(?: other(?= \w+ {_C})| following| further| later| remaining)* (?P<which{{}}>{_EITHER}|other|alternate|second)(?:-numbered| numbered)? {_C}"
_THERE = r"(?: (?:(?:in|of|for) (?:this|the) (?:part|section|gusset|thumb|wedge|shaping|piece)|from (?:here|now|this|then)(?: on(?:wards?)?| one)?|that follows?|throughout|too|as well|likewise|alike|(?:after|behind) (?:it|this)))*"
_TIMES = rf"(?:{_N}|{_MANY}) (?:more |further )?times?(?: more| in all| in total| altogether)?|twice(?: more)?|once(?: more)?"
_WAYS = Rewordings(
    (
        (
            rf"^(?P<crs>{_C}) (?P<a>\d+) ?(?:-|–|to|through) ?(?P<z>\d+): (?:{_BOTH})(?=\.|$)",
            _in_turn,
        ),
        (
            rf"^(?P<crs>{_C}) (?P<a>\d+) ?(?:-|–|to|through) ?(?P<z>\d+): {_LISTED}(?=\.|$)",
            _listed,
        ),
        (
            rf"^(?P<crs>{_C}) (?P<a>\d+) ?(?:-|–|to|through|and|&) ?(?P<z>\d+): (?P<rows>{_PLAIN_ROW}(?:(?:[,;]| and|, and) (?:then )?{_PLAIN_ROW})+)(?:,? (?P<often>twice|three times))?(?=\.|$)",
            _one_each,
        ),
        (
            rf"(?P<lead>^|[.] )(?:work|knit) (?P<many>{_N}) (?P<crs>rows|rnds|rounds)(?: of (?:stocking stitch|stockinette|st st|garter))?[:;,] ?(?:{_BOTH})(?=\.|$)",
            _so_many,
        ),
        (
            rf"(?P<lead>^|[.] )(?:{_BOTH}),? (?:for|until you have(?: worked)?) (?P<many>{_N}) (?P<crs>rows|rnds|rounds)(?: in all)?(?=\.|$)",
            _so_many,
        ),
        (
            rf"^{_HEAD}: (?P<row>(?:purl|knit|p|k)\b[^.;:]*?)(?:(?:[.;,]|,? and| [-–—]) (?:then |and )?(?:(?P<verb>purl|knit|p|k|work) {_ALL}(?P<which>{_EITHER}|(?<=every )(?:other|alternate|second))(?:-numbered| numbered)? (?:(?!in|of)[a-z]+ )?{_C}(?: (?:from|the same|alike|like|so|too|as well|until|till|up to|unless|throughout)\b[^.;:*\d]*)?|{_EACH.format('2')}{_THERE}(?::|,? (?:is|are)) (?:(?P<verb2>purl|knit)(?:ed|ted)?(?: like this| so| too)?|(?:worked )?(?:the same|alike|like this|so|likewise)))|(?:[.;,]| [(])? ?(?:and )?(?:(?:as|so) (?:you (?:do|will|work)|on|is|are|for|in)|so|as|like|likewise|also|the same)(?: (?:on|for|in|is|are))? {_EACH.format('3')}{_THERE}| [(]{_EACH.format('4')}{_THERE}(?: (?:is|are))? (?:worked )?(?:the same|alike|like this|so|likewise))[)]?(?=\.|$)",
            _as_told,
        ),
        (
            rf"^{_HEAD}: (?P<row>(?:purl|knit|p|k)\b[^.;:]*?)(?:\. (?:do the same|(?P<verb>purl|knit|work)(?: the same)?)(?: on| in)? {_C} (?P<list>\d+(?:(?:, | and |, and )\d+)*)(?: (?:the same(?: way)?|like this|too|as well|alike))?|,? (?:and so|the same|likewise)(?: on| in)? {_C} (?P<list2>\d+(?:(?:, | and |, and )\d+)*)|\. {_C} (?P<list3>\d+(?:(?:, | and |, and )\d+)*) are (?:worked )?(?:the same|alike|like this)(?: way)?)(?=\.|$)",
            _same_on,
        ),
        (
            rf"(?P<lead>^|[.;] )(?:(?P<verb>(?-i:Work|Rep|Repeat|Do|Alternate|work|rep|repeat|do|alternate))(?: rows)? )?(?-i:(?P<a>[A-G])(?: and |, then | & )(?P<b>[B-H])),?(?P<far> (?:(?P<many>{_TIMES})|(?:until|till|down to|up to|to|for) [^.;:,*]*?\d[^.;:,*]*))(?P<last>,? (?:and |then |and then )?(?:work )?(?:row )?(?-i:[A-H]) (?:once more|again|once)|,? end(?:ing)? (?:with|on|after)(?: a)?(?: row)? (?-i:[A-H]))?(?=[.:;(]| \(|$)",
            _lettered,
        ),
    )
)


def with_odd_and_even(said: MappedText) -> MappedText:
    """Return a line with rows by turns told as rows."""
    return _WAYS.put_in(said)
