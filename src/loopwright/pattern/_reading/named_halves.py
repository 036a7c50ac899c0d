# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Two halves of a round that a text names, where nobody has said yet which needle is which."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._tally import Tally
from loopwright.pattern.values import sized

__all__ = ["halves_by_name"]

_BOTH_NEEDLES = WordForm(  # "on instep needle: k1, ssk, …; on sole needle: …"
    r"\b(?:on |across )?(?:the )?(?P<a>instep|sole|front|back|palm)(?:(?P<needle> needle)| sts| stitches| half)? ?:(?P<told>[^:]*[;.] ?)\b(?:on |across )?(?:the )?(?!(?P=a))(?P<b>instep|sole|front|back|palm)(?: needle| sts| stitches| half)? ?:",
)
_ONE_PLAIN = WordForm(  # "round 1: knit the instep sts, k1, m1, …": the other half is shaped
    r"^[^:.;,]*: ?(?:k|knit|work)(?: even)? (?:across |over )?(?:the |all )*(?P<a>instep|front|back|palm)(?: (?:sts|stitches))?[,;.] (?=\w)(?!.*\b(?:instep|front|back|palm|holder|turn|needle \d|pick)\b.*\d)",
)
_OPPOSITE = {"instep": "sole", "front": "back", "back": "palm", "palm": "back"}


def _last(text: str, both: re.Match[str]) -> str:
    """Return what is worked at the second of two places."""
    return re.split(r"[.;(]", text[both.end() :])[0].strip(" ,").lower()


def _in_two(tally: Tally) -> bool:
    """Tell whether the round lies on two needles that have no names of their own."""
    return tuple(tally.parts) == ("needle 1", "needle 2")


def halves_by_name(scribe: Scribe, text: str) -> None:
    """Share the round between two needles where a row is told for both, and nobody did so."""
    both, plain = _BOTH_NEEDLES.search(text), _ONE_PLAIN.search(text)
    if both is None and plain is None:
        return
    live = scribe.now()
    if not live.is_whole_round:
        return
    if both is not None:
        counts = [tally.count for tally in live.tallies]
        if all(_in_two(tally) for tally in live.tallies):
            scribe.context.places = {both["a"].lower(): 1, both["b"].lower(): 2}
            return
        alike = both["needle"] is not None or both["told"].strip(" ;.,").lower() == _last(
            text, both
        )
        if not alike or any(count % 2 for count in counts):
            return
        if any(tally.parts for tally in live.tallies):
            return
        half = sized([count // 2 for count in counts])
        scribe.context.places = {both["a"].lower(): 1, both["b"].lower(): 2}
        scribe.give([st.Arrange((half, half))])
    elif plain is not None and all(len(tally.parts) == 2 for tally in live.tallies):
        scribe.context.places = {plain["a"].lower(): 1, _OPPOSITE[plain["a"].lower()]: 2}
