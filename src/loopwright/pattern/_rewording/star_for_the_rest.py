# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rounds of which a star is worked again for the other half: "…; work from * again for the back"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["with_star_for_the_rest"]

_N = r"\d+(?: ?[(\[][^)\]]*[)\]])?"
_SHAPES = (
    r"(?:k2tog|ssk|skpo?|k ?2 ?tog|p2tog|m1\w?|kfb|(?:knit|k) (?:2|two) together|slip-knit-pass)"
)
_REST = rf"(?:the )?(?:(?:other|second|2nd|next|remaining|rem) (?:half|side|needle|tip)|(?:other|second|2nd) (?:{_N}(?: (?:sts|stitches))?|sts|stitches)|(?P<vague{{0}}>(?:next|remaining|rem) (?:{_N}(?: (?:sts|stitches))?|sts|stitches)|sole|palm|back|front|top|instep|heel|needle 2)(?: (?:sts|stitches|side|half|needle))?)(?: of (?:the |all )*(?:round|rnd|sts|stitches))?"
_ONCE_MORE = r"(?:again|once(?: more| again)?|a second time|one more time|anew|afresh|as well|too)"
_DONE = r"(?:rep(?:eat)?|work|knit|do|go|start|begin|continue|carry on|keep going)"
_AGAIN_SAID = WordForm(rf"\b{_ONCE_MORE}\b|\bsame\b")
_SHAPED = WordForm(rf"\b{_SHAPES}\b")
_STAR_FOR_REST = WordForm(  # "*k1, ssk, k9, k2tog, k1; work from * again for the other half"
    rf"(?<=[\w)\]])\*?(?:[;,.] ?| [–—-] | )(?:and |then |now |finally )*(?:{_DONE}(?: (?:on|all|back|this|it|everything|the same|{_ONCE_MORE}))* |the same (?:{_ONCE_MORE} )?)?(?:from|to|between|after) (?:the )?\*(?: (?:to|and) \*)?(?:,? {_ONCE_MORE})*,? (?:for|on|over|across|along|with|in) {_REST.format(1)}(?=[.;,(]| \(|$)"
    rf"|(?<=[\w)\]])\*?(?:[;,.] ?| [–—-] )(?:and |then |now )*(?:work|knit|do|shape) {_REST.format(2)} from \*(?:,? {_ONCE_MORE}| in the same way)*(?=[.;,(]| \(|$)"
)
_STAR_AGAIN = WordForm(  # "*…; then from * once again", "…; work from * a second time"
    r"(?<=[\w)\]])\*?(?:[;,.] ?| [–—-] )(?:and |then |now )*(?:(?:work|knit|do|go|start|begin)(?: back| all| on)* )?from \* (?:again|once(?: more| again)|a second time|one more time)(?=[.;(]| \(|$)"
)


def with_star_for_the_rest(said: MappedText) -> MappedText:
    """Return a line with a star that is worked again as one that is repeated.

    Examples
    --------
    >>> told = MappedText.of("*K1, ssk, k9, k2tog, k1; work from * again for the other half.")
    >>> with_star_for_the_rest(told).text
    '*K1, ssk, k9, k2tog, k1; rep from * on the other half.'
    """
    if "*" not in said.text:
        return said
    return said.sub(_STAR_FOR_REST, _for_the_rest).sub(_STAR_AGAIN, "; rep from * once more")


def _for_the_rest(match: re.Match[str]) -> str:
    """Put a star that is worked again elsewhere as one for the other half, if it shapes a half."""
    body = match.string[: match.start()].rpartition("*")[2]
    of_a_half = len(_SHAPED.findall(body)) == 2 and " for " in match[0]  # at both of its ends
    vague = match["vague1"] and not of_a_half and not _AGAIN_SAID.search(match[0])
    return match[0] if vague or not _SHAPED.search(body) else "; rep from * on the other half"
