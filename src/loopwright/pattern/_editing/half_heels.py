# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The half of a heel that is worked to its middle, behind the stitches picked up, against the whole heel."""

from __future__ import annotations

from collections.abc import Iterator

from loopwright.pattern._editing.figures import alike, is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["half_heels"]

_Values = tuple[int, ...]
_PICK_UP = WordForm(r"\b(?:pick(?:ing)? up|pu ?(?:&|and) ?k|pu\b|k(?:nit)?\.? up)")
_LEFT = WordForm(
    rf"(?:^|[.:;,=(\[—–-]|\b(?:have|are)) ?(?P<n>{COUNT}) (?:heel )?{STS}(?: on the heel)?(?: (?:rem\w*\.?|(?:are )?left|now))*[.)\]]*\s*$"
)
_HEEL = WordForm(
    rf"\b(?:k(?:nit)?|work|across)\.? (?:across )?(?:the |all |these |rem\w* )*(?P<n>{COUNT})(?: heel| {STS} of the heel)\b|(?<![a-z])k(?:nit)? ?(?P<m>{COUNT})(?= ?(?:{STS} ?)?[,;] ?(?:and )?(?:with the same needle,? )?(?:pick|pu\b))"
)
_HALF = WordForm(
    rf"(?<![a-z])(?:k(?:nit)?|work)\.? ?(?:(?:across|the|first|over|of|half) )*(?P<n>{COUNT})(?: {STS})?(?: of(?: the)?)? ?(?:heel\b|from (?:the )?(?:heel|first needle|1st needle|needle 1|n ?1\b)|again\b)"
    rf"|(?<![a-z])(?:k(?:nit)?|work)\.? ?(?P<m>{COUNT})(?: {STS})?,? (?:and |to )[^.;\d]{{0,40}}\b(?:middle|cent(?:er|re)) of the (?:heel|sole)",
)
NEAR = 6  # stitches by which twice the half may miss the heel, and be meant for it all the same


def half_heels(sentences: Sentences) -> Iterator[Finding]:
    """Find a half of a heel that is not the half of it."""
    left: _Values | None = None  # what the turn before leaves
    heel: _Values | None = None
    picked = 0
    if not any(_HALF.search(one.figures) for one in sentences.about(_HALF)):
        return
    for at in sentences.lines_about(_PICK_UP, _HEEL, _HALF, _LEFT):
        for one in sentences.lines[at]:
            text = one.figures
            picks = [match.start() for match in _PICK_UP.finditer(text)]
            told = _HEEL.search(text)
            if told is not None and not picked and told.start() < min(picks, default=len(text)):
                heel = values(told["n"] or told["m"])
            picked += len(picks)
            half = _HALF.search(text, picks[-1] if picks else 0)
            wholes = [whole for whole in (heel, left) if whole is not None]
            if half is not None and picked > 1 and wholes:
                wrong = [_wrong(values(half["n"] or half["m"]), whole) for whole in wholes]
                if (said := wrong[0]) and None not in wrong:
                    place = one.place_in_figures(half.start())
                    yield Finding(WARNING, "sum", said, place.line, place.column)
                heel, picked = None, 0
            if picked == 0 and (counted := _LEFT.search(text)) is not None:
                left = values(counted["n"])
        if picked > 1 and heel is None:
            picked = 0


def _wrong(half: _Values, heel: _Values) -> str | None:
    """Say what half of the heel is, "" where it may be another's; None where it is the half."""
    part, whole = alike(half, heel)
    twice = tuple(2 * n for n in part)
    if part and all(abs(a - b) <= b % 2 for a, b in zip(twice, whole, strict=True)):
        return None
    if not part or not is_near(twice, whole, NEAR) or max(part) >= min(whole):
        return ""
    return f"half of the {by_size(whole)} heel sts is {by_size([n // 2 for n in whole])}, not {by_size(half)}"
