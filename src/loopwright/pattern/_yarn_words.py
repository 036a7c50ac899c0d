"""How yarns and stripes are written."""

from __future__ import annotations

import re

from loopwright.pattern.stripes import KeepPlace, ResumeStripes, Stripes

__all__ = ["in_yarn", "stripe_words", "yarn_words"]

_LETTER = re.compile(r"[A-Z]\d?")


def yarn_words(name: str) -> str:
    """Return a yarn as it is named: a letter stands by itself."""
    return name if _LETTER.fullmatch(name) else f"yarn {name}"


def in_yarn(name: str) -> str:
    """Return a yarn as it stands behind its stitches: "k3 B", "k3 in yarn sea wool"."""
    return name if _LETTER.fullmatch(name) else f"in yarn {name}"


def stripe_words(step: Stripes | KeepPlace | ResumeStripes) -> str:
    """Return what a step says of stripes."""
    if isinstance(step, KeepPlace):
        return "Keep your place in the stripes"
    if isinstance(step, ResumeStripes):
        begun = ", with the rnd that begins here" if step.begun else ""
        return f"Resume the stripes at that place{begun}"
    bands = ", ".join(
        f"{rounds} {'rnd' if rounds == 1 else 'rnds'} {in_yarn(name)}"
        for name, rounds in step.bands
    )
    begin = f", beginning with rnd {step.start}" if step.start > 1 else ""
    return f"Work in stripes from here{begin}: *{bands}; rep from *"
