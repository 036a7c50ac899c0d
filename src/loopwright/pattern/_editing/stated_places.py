"""Where a count stands that a sentence states: there a finding about it is shown."""

from __future__ import annotations

import re

import attrs

from loopwright.pattern._editing.findings import Finding
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["at_its_count"]

_STATES = WordForm(r"states (?P<n>\d+)", re.NOFLAG)
_STATED = WordForm(rf"(?<![\w.])(?P<n>{COUNT}) ?(?:[a-z]+ )?{STS}")
_LED_TO = re.compile(
    r"(?:[.(\[=—–:-]|\b(?:are|have|now|total|until|makes|leaves))\s*$", re.IGNORECASE
)
_LEAD = 12  # characters before a count that show whether it is stated


def at_its_count(finding: Finding, text: str) -> Finding:
    r"""Return a finding about a stated count with the place of that count, if it is on its line.

    Examples
    --------
    >>> found = Finding("error", "count", "states 8 sts; working it leaves 6", 1, 1)
    >>> at_its_count(found, "Rnd 4: K2tog around. 8 sts.").column
    22
    """
    states = _STATES.match(finding.message)
    lines = text.split("\n")
    if states is None or not 0 < finding.line <= len(lines):
        return finding
    line = lines[finding.line - 1]
    stated = [
        match.start("n")
        for match in _STATED.finditer(line, max(0, finding.column - 1))
        if states["n"] in re.findall(r"\d+", match["n"])
    ]
    led = [at for at in stated if _LED_TO.search(line, max(0, at - _LEAD), at)]
    place = next(iter([*led, *stated[-1:]]), finding.column - 1)
    return attrs.evolve(finding, column=place + 1)
