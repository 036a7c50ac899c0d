"""Work that is described elsewhere and was kept as text: what is on the needles after it."""

from __future__ import annotations

from loopwright.pattern import steps as st
from loopwright.pattern._reading.labels import label_of
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.harmless import is_doubtful, is_instruction
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT

__all__ = ["described_elsewhere", "is_doubted", "sides_told"]

_UNREAD_WORK = WordForm(
    r"\b(?:unpick|snip|graft (?:them|the)|(?:pull|draw|take|ease)(?:ing)? out (?:the )?(?:\w+ )?"
    r"(?:cotton|waste|scrap|thread|string)|needle through the|"
    r"(?:work|complete|knit) (?P<part>the [a-z]+ )?as (?:given )?for)\b",
)
_EVEN = WordForm(r"\b(?:cuff|wrist|rib|ribbing|welt|band|brim)\b")


def described_elsewhere(scribe: Scribe, text: str) -> bool:
    """Claim what words that were kept as text leave: nothing sure, or a cuff's stitches."""
    match = _UNREAD_WORK.search(text)
    if match is None:
        return False
    scribe.claim("lost", 0)
    first = next((e.step for e in scribe.assembler.entries if isinstance(e.step, st.CastOn)), None)
    nothing = not any(tally.count for tally in scribe.now().tallies)
    if first is not None and nothing and match["part"] and _EVEN.search(match["part"]):
        scribe.claim("adopt", first.stitches)  # "work the wrist as for the left hand"
    return True


def is_doubted(text: str) -> bool:
    """Tell whether a sentence that was kept as text may ask for something nobody knows."""
    label = label_of(text)
    words = text[label.end if label else 0 :]
    return is_doubtful(words) and not is_instruction(words)


_STS = r"(?:[a-z]+ )?(?:sts?|stitches)"
_SIDES = WordForm(
    rf"(?P<side>{COUNT}) {_STS} (?:left |waiting )?on (?:each|either) side "
    rf"(?:of|and) (?P<middle>{COUNT}) (?:{_STS}|(?:[a-z]+ )?ones)\b|"
    rf"(?P<middle2>{COUNT}) {_STS} (?:in the (?:cent(?:er|re)|middle) )?(?:are )?(?:[a-z]+ )?"
    rf",? ?(?:with|and) (?P<side2>{COUNT}) {_STS} on (?:each|either) side\b",
)


def sides_told(scribe: Scribe, text: str) -> None:
    """Claim what words say of both sides of a turn: "11 wrapped sts on each side of 10"."""
    match = _SIDES.search(text)
    if match is not None:
        middle, side = match["middle"] or match["middle2"], match["side"] or match["side2"]
        scribe.claim("each side", count_in(middle), count_in(side))
