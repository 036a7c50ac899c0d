"""Findings of several sizes as one: a mistake that sizes share, with the numbers of each."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

import attrs

from loopwright.pattern._editing.findings import Finding, by_size
from loopwright.plurals import plural

__all__ = ["of_all_sizes"]


def of_all_sizes(sizes: list[str], found: Sequence[Sequence[Finding]]) -> list[Finding]:
    """Return what was found in each of some sizes; findings alike but for their numbers are one."""
    shared: dict[Finding, list[str]] = {}
    for name, findings in zip(sizes, found, strict=True):
        for finding in dict.fromkeys(findings):  # once, however often worked
            shared.setdefault(finding, []).append(name)
    if len(sizes) == 1:
        return list(shared)
    alike: dict[tuple[Finding, int], list[tuple[str, str]]] = {}  # but for their numbers
    often = Counter[tuple[Finding, str]]()  # in one size, which has each for itself
    for finding, names in shared.items():
        kind = attrs.evolve(finding, message=_NUMBER.sub("\0", _as_of_many(finding.message)))
        for name in names:
            alike.setdefault((kind, often[kind, name]), []).append((name, finding.message))
            often[kind, name] += 1
    return [
        _of_sizes(kind, sorted(said, key=lambda one: sizes.index(one[0])))
        for (kind, _), said in alike.items()
    ]


_NUMBER = re.compile(r"\d+")


_ONE = re.compile(
    r"(?<![\w.])1(?P<noun> (?:st|stitch|row|round|time|loop|repeat))?\b(?P<be> is\b)?"
)


def _as_of_many(message: str) -> str:
    """Return a message in the plural: "1 is left" in one size, "3 are left" in another."""

    def many(one: re.Match[str]) -> str:
        noun = (one["noun"] or "").strip()
        return "1" + (f" {plural(2, noun)[2:]}" if noun else "") + (" are" if one["be"] else "")

    return _ONE.sub(many, message)


def _of_sizes(kind: Finding, said: Sequence[tuple[str, str]]) -> Finding:
    """Return one finding of several sizes, with the numbers of each."""
    numbers = zip(*(map(int, _NUMBER.findall(message)) for _, message in said), strict=True)
    by_place = map(by_size, numbers)
    told = said[0][1]
    if len({_NUMBER.sub("", message) for _, message in said}) > 1:
        told = _as_of_many(told)
    message = _NUMBER.sub(lambda _: next(by_place), told)
    return attrs.evolve(kind, message=message, sizes=tuple(name for name, _ in said))
