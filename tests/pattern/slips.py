"""Texts that are right, and the same with one slip: what the review says of either."""

from __future__ import annotations

from loopwright.pattern import review
from loopwright.pattern._editing.findings import NOTE


def found(text: str) -> list[str]:
    """Return the messages of a review, notes left out."""
    return [one.message for one in review(text).findings if one.severity != NOTE]


def found_with_slip(right: str, old: str, new: str) -> list[str]:
    """Return what is found where `old`, which stands there once, has become `new`."""
    assert right.count(old) == 1
    return found(right.replace(old, new))
