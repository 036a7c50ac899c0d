"""Findings of several sizes as one: a mistake that sizes share, with the numbers of each."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from typing import Final, TypeAlias

import attrs

from loopwright.pattern._editing.findings import ERROR, Finding, by_size
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.plurals import plural

__all__ = ["DOUBT", "of_all_sizes"]

DOUBT: Final = "; or is a line above not read as it is meant?"


def of_all_sizes(sizes: list[str], found: Sequence[Sequence[Finding]]) -> list[Finding]:
    """Return what was found in each of some sizes; findings alike but for their numbers are one."""
    shared: dict[Finding, list[str]] = {}
    for name, findings in zip(sizes, found, strict=True):
        for finding in dict.fromkeys(findings):  # once, however often worked
            shared.setdefault(finding, []).append(name)
    if len(sizes) == 1:
        return list(shared)
    alike: dict[tuple[Finding, int], list[_InSize]] = {}  # but for their numbers, and doubts
    often = Counter[tuple[Finding, str]]()  # in one size, which has each for itself
    for finding, names in shared.items():
        said = finding.message.removesuffix(DOUBT)
        as_of_many = _NUMBER.sub("\0", _as_of_many(said))
        kind = attrs.evolve(finding, message=as_of_many, severity=ERROR)
        for name in names:
            alike.setdefault((kind, often[kind, name]), []).append((name, said, finding))
            often[kind, name] += 1
    return [_of_sizes(sorted(told, key=lambda one: sizes.index(one[0]))) for told in alike.values()]


_InSize: TypeAlias = tuple[str, str, Finding]  # its name, what is said without a doubt, the finding


_NUMBER = WordForm(r"\d+", re.NOFLAG)


_ONE = WordForm(
    r"(?<![\w.])1(?P<noun> (?:st|stitch|row|round|time|loop|repeat))?\b(?P<be> is\b)?", re.NOFLAG
)


def _as_of_many(message: str) -> str:
    """Return a message in the plural: "1 is left" in one size, "3 are left" in another."""

    def many(one: re.Match[str]) -> str:
        noun = (one["noun"] or "").strip()
        return "1" + (f" {plural(2, noun)[2:]}" if noun else "") + (" are" if one["be"] else "")

    return _ONE.sub(many, message)


def _of_sizes(found: Sequence[_InSize]) -> Finding:
    """Return one finding of several sizes, with the numbers of each; sure if it is in any."""
    numbers = zip(*(map(int, _NUMBER.findall(said)) for _, said, _ in found), strict=True)
    by_place = map(by_size, numbers)
    told = found[0][1]
    if len({_NUMBER.sub("", said) for _, said, _ in found}) > 1:
        told = _as_of_many(told)
    message = _NUMBER.sub(lambda _: next(by_place), told)
    first = next((one for _, said, one in found if one.message == said), None)
    if first is None:
        first, message = found[0][2], message + DOUBT
    return attrs.evolve(first, message=message, sizes=tuple(name for name, _, _ in found))
