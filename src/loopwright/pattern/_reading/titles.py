"""The title of a pattern: a first line that asks for nothing."""

from __future__ import annotations

import re

from loopwright.fabric.stitches import StitchTable
from loopwright.pattern._grammar.sentences import Sentence, sentence_in
from loopwright.pattern._reading.labels import label_of
from loopwright.pattern._rewording.harmless import is_instruction

__all__ = ["is_title"]


def is_title(text: str, table: StitchTable) -> bool:
    """Tell whether a first line is a pattern's title.

    Examples
    --------
    >>> from loopwright.fabric.stitches import STITCHES
    >>> is_title("Harbour Socks", STITCHES), is_title("Cast on 64 sts.", STITCHES)
    (True, False)
    """
    if len(text) > 80 or re.search(r"[.;=*]$|\d\s*(?:sts|stitches|cm|mm|\")", text):
        return False
    if label_of(text) is not None:
        return False
    return not _parses(text, table) and (
        not re.search(r"\d", text) or ":" in text or not is_instruction(text)
    )


def _parses(text: str, table: StitchTable) -> bool:
    if isinstance(sentence_in(text, table), Sentence):
        return True
    begins = re.match(r"(?:cast on|co)\b", text, re.IGNORECASE)
    return begins is not None or re.search(r"\.\s", text) is not None
