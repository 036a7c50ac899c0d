# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""How the stitches come on to the needle, told the other way round: "48 sts, cast on and joined"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Rewordings
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["with_cast_on_first"]

_N = r"\d+(?:(?: ?[/:] ?\d+){1,9}|(?:, \d+){1,9}(?:,? (?:or|and) \d+)?|(?: (?:or|and) \d+)| ?[(\[]\d+(?: ?[,:;] ?\d+){0,9}[)\]])?"
_STS = r"(?:sts|stitches)\b"
_IN = r"(?: (?:up )?(?:in|into|for) (?:the |a )?(?:round|ring|circle|rounds|loop)\b| without (?:a )?twist\w*)*"
_JOINED = rf"(?:join(?:ed|ing)?|closed|made){_IN}"
_LEAD = r"(?P<lead>(?:[^*\d]|\d(?! ?(?:sts|stitches))){0,120}?)(?<!\d[,/] )(?<![\d/(\[-])"
_BEHIND = r"(?P<stop>[.;,:] (?:and (?:then )?)?|[.;]?$| and (?:then )?(?=knit|work|purl|rib|[kp]\d|put|place|mark))"


def _cast_on(match: re.Match[str]) -> str:
    """Put the cast-on first, and what is told behind it into a sentence of its own."""
    found = match.groupdict()
    lead = re.sub(r",?\s*$", "", found.get("lead") or "")
    lead += "" if not lead else " " if lead[-1] in ".:!" else ". "
    join = (
        " and join in the round"
        if "join" in match[0] or "ring" in match[0] or "round" in match[0]
        else ""
    )
    rest = (found.get("rest") or "").strip()
    rest = f". {rest[:1].upper()}{rest[1:]}" if rest else ("." if found.get("stop") else "")
    return f"{lead}Cast on {_listed(match['n'])} sts{join}{rest}"


def _listed(numbers: str) -> str:
    """Return "88, 96 or 104" as "88, 96, 104"."""
    return re.sub(r",? (?:or|and) ", ", ", numbers)


def _by_names(match: re.Match[str]) -> str:
    """Return "child 66 sts, adult 77. Cast on" with its numbers behind the words."""
    numbers = re.findall(r"\d+", match["named"])
    return f"{match['title'] or ''}Cast on {numbers[0]} ({', '.join(numbers[1:])}) sts"


def _cast_on_so_many(match: re.Match[str]) -> str:
    """Put "47 sts: nine fives. Cast on" as "Nine fives. Cast on 47 sts"."""
    lead = re.sub(r"[,:;]?\s*$", "", match["lead"])
    about = match["mid"].strip(" .,:;")
    lead = f"{lead}. " if lead else ""
    return f"{lead}{f'{about[:1].upper()}{about[1:]}. ' if about else ''}Cast on {_listed(match['n'])} sts"


_TABLE = Rewordings(
    (
        (  # "To begin: 60 live sts, cast on and joined, marker after 30."
            rf"^{_LEAD}(?P<n>{_N}) (?:(?:live|new|loose) )?{_STS}(?: (?:are|were|is))?,? cast on(?: (?:very )?loosely| (?:in|with) (?:the )?(?:main colou?r|mc))?(?:,| and)+ {_JOINED}(?: (?:on|over) [^,.;:\d]{{1,30}})?{_BEHIND}(?P<rest>.*)$",
            _cast_on,
        ),
        (  # "60 stitches in the round after the cast-on; two plain rounds"
            rf"^{_LEAD}(?P<n>{_N}) (?:live )?{_STS} (?:(?P<in>in (?:the round|a ring))|on the needles?) (?:after|from|behind) (?:the |your )?(?:cast-on|cast on|casting on|cast-on edge){_BEHIND}(?P<rest>.*)$",
            _cast_on,
        ),
        (  # "On 56 sts joined in the round, the first half is …"
            rf"^(?P<lead>(?:[^*.:]{{1,60}}[.:] |with [^,.;:*\d]{{1,30}}, )?)(?:work |working )?(?:on|over|with|begin with|start with|from)? ?(?:a ring of )?(?P<n>{_N}) (?:cast-on,? )?{_STS},? (?:cast on,? )?joined{_IN}{_BEHIND}(?P<rest>.*)$",
            _cast_on,
        ),
        (  # "Work 8 rounds of k2, p2 over 72 cast-on, joined stitches."
            rf"^(?P<lead>)(?P<rest>(?:work|knit|purl|rib)\b[^.;:]*?) (?:over|on|across|with) (?:your |the )?(?P<n>{_N}) (?:cast-on(?:,| and)? joined|joined(?:,| and)? cast-on|joined) {_STS}",
            _cast_on,
        ),
        (  # "For the heel cup you need 64 sts, cast on and spread evenly over 4 needles; join."
            rf"^(?P<lead>[^*.:;\d]{{0,80}}?) ?\b(?:you(?: will|'ll)? (?:need|want|have)|(?:it |this )?(?:needs|takes|uses|begins with|starts with)|there are) (?P<n>{_N}) {_STS}(?: for [^,.;:\d]{{1,30}})?[,:;]? (?:which (?:you|are) )?cast on\b",
            lambda match: f"Cast on {_listed(match['n'])} sts",
        ),
        (  # "Legwarmers: child 66 sts, adult 77, wide calf 88. Cast on, join …"
            rf"^(?P<title>[A-Z][^:*\d]{{1,60}}[:.] )?(?P<named>[a-z'’]+(?: [a-z'’]+)?:? \d+(?: {_STS})?(?:(?:,|;| and|, and) [a-z'’]+(?: [a-z'’]+)?:? \d+(?: {_STS})?){{1,9}})[.:;] cast on(?=[,.;]| and\b| (?:in|with|using|loosely)\b)",
            _by_names,
        ),
        (  # "Table runner, 47 sts: nine repeats of 5 plus one stitch at each end. Cast on and knit 4 rows."
            rf"^{_LEAD}(?P<n>{_N}) {_STS}(?P<mid>[.,:;](?:[^*.;]{{0,120}}[.;])?) cast on(?=[,.;]| and\b| (?:in|with|using|loosely)\b)",
            _cast_on_so_many,
        ),
        (  # "Make 40 sts into a ring, one pin after the 20th."
            rf"^(?P<lead>(?:[^*.:\d]{{1,60}}[.:] )?)(?:make|set up|put|form) (?P<n>{_N}) {_STS} (?:in|into|up in|up into|as) an? (?:ring|round|circle|loop){_BEHIND}(?P<rest>.*)$",
            _cast_on,
        ),
        (  # "cast on 88, 96 or 104 sts", "cast on 48/54/60 and join"
            rf"\b(?P<co>cast on|co) (?P<n>{_N})(?! ?[,/:([] ?\d|\d)(?: {_STS})?(?=[.,;:]|$| and\b| (?:\((?!\d)|\[(?!\d)|in |with |using |loosely|for |according|depending))",
            lambda match: match[0] if match[0].endswith(("sts", "stitches")) and not re.search(" (?:or|and) ", match["n"]) else f"{match['co']} {_listed(match['n'])} sts",
        ),
        (  # "For the scarf cast on 47 sts"
            r"^(?:for|to (?:make|work|begin|start)) (?:the|a|an|each|your|this|one)\b(?![^:.;]*\b(?:second|other|size|sizes|first|left|right|next|after|end)\b)[^:.;\d*]{1,40},? (?P<co>cast on|co) (?=\d)",
            "Cast on ",
        ),
        (  # "Toe cast-on of your choice: 20 sts", "20 sts total, so 10 on each needle tip"
            rf"^(?P<lead>[^:.\d]{{0,40}})\bcast[- ]on (?:of|that) (?:your (?:own )?choice|you like(?: best)?|choice),? ?[:,–—-]? ?(?P<n>{_N}) {_STS}",
            lambda match: (
                f"{'With a closed cast-on, c' if 'toe' in match['lead'].lower() else 'C'}ast on {_listed(match['n'])} sts"
            ),
        ),
        (
            rf"(?P<on>\bcast[- ]on\b[^.;]*?\b{_N} {_STS}) (?:in )?total,? so (?=(?:that )?{_N} )",
            r"\g<on>, ",
        ),
        (  # "Wind a provisional cast-on of 28 (30) sts"
            rf"\b(?:wind|make|work|set up|do|begin with|start with) an? (?P<how>(?:[a-z-]+ ){{1,2}})cast-on (?:of|over|with) (?P<n>{_N}) {_STS}",
            lambda match: f"using a {match['how']}cast-on, cast on {_listed(match['n'])} sts",
        ),
        (  # "Cast on 42 sts and purl back."
            rf"^(?P<on>[^*]*?\b(?:cast on|co) {_N} {_STS}[^.;:*]{{0,40}}?)(?:,| and|, and) (?P<do>purl|knit|p|k) back(?: again)?(?=[.;,]|$)",
            r"\g<on> and \g<do> 1 row",
        ),
        (  # "Cast on 64 sts, join, and work *k3, p1* for 15 cm."
            rf"^(?P<on>[^*]*?\b(?:cast on|co) {_N} {_STS}[^.:*]{{0,80}}?)(?:,| and|, and|;) (?P<do>work|rib|knit) (?=\*)",
            lambda match: f"{match['on']}. {match['do'].capitalize()} ",
        ),
        (  # "CO 8 sts each on two needles, using a closed cast-on, 16 sts"
            rf"\b(?P<co>cast on|co) (?P<n>{_N}) {_STS} (?:each (?:on|over)|(?:on|over|on to) each of) (?:the |your )?(?:two|2|both) needles?,? (?P<how>(?:using|with|by|in) an?y? (?:[a-z0-9-]+ ){{1,4}}?(?:cast-on|method))\b",
            lambda match: f"Using {match['how'].split(' ', 1)[1].replace('method', 'cast-on')}, cast on {_listed(match['n'])} sts on each of two needles",
        ),
    )
)  # fmt: skip
_WOUND = WordForm(  # "Make 8 turns of yarn round the two needles (Turkish cast on) and knit both sides: 16 sts"
    rf"^(?P<lead>(?:[A-Za-z -]{{2,30}}[.:] )?)(?=[^*]*?(?:\b(?:turkish|figure[- ](?:of[- ])?(?:eight|8))\b|\b(?:two|both|2)(?: [a-z-]+){{0,2}} (?:needles|tips)\b))(?=[^*]*?\b(?:wind|wrap|turn|loop|cast(?:ing)?[ -]on)s?\b)(?:[^*\d]{{0,100}}?)(?P<n>{_N}) (?:turns|wraps|times|loops)\b(?P<mid>[^*\d]{{0,120}}?)(?P<all>{_N}) {_STS}(?: (?:in all|altogether|in total))?(?:,? (?:(?:with )?(?:half|{_N})(?: of (?:them|these))?(?: {_STS})? (?:on|to|per) (?:a |each |either |both |every |the two )?needles?|{_N} (?:a|per) needle))?(?=[.;,:]|$)",
)


def _wound(match: re.Match[str]) -> str:
    """Put turns of yarn round two needles as the stitches that they make; what is stated stays."""
    twice = re.sub(r"\d+", lambda one: str(2 * int(one[0])), match["n"])
    lead = "" if "cast" in match["lead"].lower() else match["lead"]
    return f"{lead}Using a closed cast-on, cast on {twice} sts. ({match['all']} sts)"


_OPENS = WordForm(
    r"\bcast(?:ing)?[ -]on\b|\bco \d|\bjoined in\b|\binto a ring\b|\bjoined (?:sts|stitches)\b"
)
_SET_OUT = WordForm(rf"^(?:cast[- ]on|co): ?(?={_N} {_STS})")  # "CO: 64 sts, join"
_CASTS_ON = WordForm(r"\b(?:cast(?:ing)? on|co) (?:\w+ )?\d")
_WORKS = WordForm(r"\s*(?:r(?:ow|ou?nd|nd)?s? ?\d+\b|[*(\[]?[kp] ?\d)")
_MOST = 30  # lines of a head
_LONGEST = 600


def with_cast_on_first(lines: Sequence[MappedText]) -> list[MappedText]:
    """Return lines with the one that brings the first stitches on to the needle in usual words.

    Examples
    --------
    >>> line = MappedText.of("Sample: 40 sts, cast on and joined, knit 2 rounds.")
    >>> with_cast_on_first([line])[0].text
    'Sample: Cast on 40 sts and join in the round. Knit 2 rounds.'
    """
    found = list(lines)
    for at, one in enumerate(found[:_MOST]):
        if _WORKS.match(one.text) or len(one.text) > _LONGEST:
            break
        if _SET_OUT.match(one.text) and not any(_CASTS_ON.search(other.text) for other in lines):
            found[at] = one.sub(_SET_OUT, "Cast on ")
            break
        if (wound := one.sub(_WOUND, _wound)) is not one:
            found[at] = wound
            break
        if _OPENS.search(one.text):
            if (said := _TABLE.put_in(one)) is not one:
                found[at] = said
                break
            if re.search(r"\b(?:cast on|co) \d", one.text, re.IGNORECASE):
                break
    return found
