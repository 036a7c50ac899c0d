# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The table of rules for clauses outside a row, and how a clause finds its rule.

A rule is an expression for a whole clause, in any case, and what is made of it. Rules are tried
in order, module by module; a clause that none of them takes may still be a list of stitches, or
plain words.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from itertools import chain

from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._rewording.triggers import Sieve, WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["Rule", "alone", "clause", "expression", "rule", "rule_expressions"]

Rule = Callable[[Scribe, re.Match[str]], list[Says] | None]
_ROOMS = ("opened_rows", "two_sides", "piece_aside", "shares", "places", "centre", "hung_marks", "joined_by_one", "casting_on", "neck", "thumb_place", "waiting", "freed", "set_apart", "heel_stitches", "named_patterns", "taking_up", "as_before", "edges", "closing")  # fmt: skip
_RULES: dict[str, list[tuple[str, Rule]]] = {room: [] for room in _ROOMS}
_CRS = r"(?:rounds?|rnds?|rows?)\b"
_PAIR = r"(?:mitt\w*|gloves?|socks?|stockings?|slippers?|boot\w*|wrist\w*|cuffs?|legs?|sleeves?|hands?|one)"
_HOLDER = r"(?:a |the |some |another |one |two |your |his |separate )*(?:smooth |spare |extra |bright |strong |loose |contrast(?:ing)?(?: |-)|colou?red |length(?:s)? of |(?:bit|scrap|loop|strand|piece|bits) of |small |stitch |st |safety |darning |sewing |tapestry |knitting |crochet |double-pointed |circular )*(?:holders?|waste|scrap|spare|thread|pins?|hold\b|needles?|yarn|wool|cotton|cables?|cord|string|strand)"


def expression(said: str) -> re.Pattern[str]:
    """Return an expression with ``N``, ``STS``, ``CRS``, ``HOLDER`` and ``PAIR`` written out."""
    return _compiled(_written_out(said))


def _written_out(said: str) -> str:
    said = said.replace("{N}", COUNT).replace("{STS}", STS).replace("{CRS}", _CRS)
    said = said.replace("{HOLDER}", _HOLDER).replace("{PAIR}", _PAIR)
    said = said.replace(" ?", r"\s*").replace(" ", r"\s+")
    return rf"(?:{said})\s*[.!]*\s*$"


@cache
def _compiled(said: str) -> re.Pattern[str]:
    return re.compile(said, re.IGNORECASE)


def rule(said: str) -> Callable[[Rule], Rule]:
    """Keep a function as what a clause of this form means."""

    def kept(made: Rule) -> Rule:
        _RULES[made.__module__.rpartition(".")[2]].append((_written_out(said), made))
        return made

    return kept


def rule_expressions() -> list[str]:
    """Return the expressions of all rules, in the order in which they are tried."""
    return [said for said, _ in chain.from_iterable(_RULES.values())]


@cache
def _all_rules() -> tuple[list[tuple[str, Rule]], Sieve]:
    """Return the rules in the order in which they are tried, and what tells which may take a text.

    It is asked for when all rooms have entered theirs: by the first clause that is read.
    """
    rules = list(chain.from_iterable(_RULES.values()))
    return rules, Sieve(said for said, _ in rules)


def clause(scribe: Scribe, text: str) -> list[Says] | None:
    """Return what a clause outside a row means; None if no rule takes it."""
    rules, sieve = _all_rules()
    for number in sieve.may_match(text):
        said, made = rules[number]
        match = _compiled(said).match(text)
        if match is None:
            sieve.rule_out(number, text)
        elif not (made in _ALONE and _MORE.search(text)):
            found = made(scribe, match)
            if found is not None:
                return found
    return None


_MORE = WordForm(
    r"[,;]\s*(?:and\s+)?(?:then\s+)?(?:k\d|k to|p\d|p to|knit|purl|cast on|co \d|pick up|work|\*|\[|m1|yo\b|ssk|k2tog|pm\b|turn\b)|[,;][^,;]*\b(?:cast on|co) \d|\band (?:k\d|knit \d|purl \d|pick up|knit to|k to|work)|(?:,|\band|\bthen) graft\b",
)
_ALONE: set[Rule] = set()  # rules for clauses that hold nothing else


def alone(made: Rule) -> Rule:
    """Let a rule take only clauses that hold nothing else."""
    _ALONE.add(made)
    return made
