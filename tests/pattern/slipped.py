"""A right text with one slip: a check finds the slip, and nothing before it was made."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeAlias

from loopwright.pattern._editing.findings import Finding
from loopwright.pattern._editing.spoken import Sentences, spoken

Check: TypeAlias = Callable[[Sentences], Iterable[Finding]]
Case: TypeAlias = tuple[str, str, str, str]  # a right text, what is changed to what, what is said


def only_the_slip(check: Check, case: Case) -> None:
    right, old, new, said = case
    assert right.count(old) == 1
    assert list(check(spoken(right))) == []
    assert [one.message for one in check(spoken(right.replace(old, new)))] == [said]
