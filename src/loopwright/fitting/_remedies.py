"""What would mend a sock on a foot: each remedy knitted, checked, measured and judged.

A remedy is enough where its verdict is good: it goes on, and no place is likely tight or loose.
That is the verdict of `fit`, the same as everywhere. Those that are enough come first, the one that
changes the sock least before the others.
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Any, overload

import attrs

from loopwright.errors import LoopwrightError, SizingError, UnsoundFabricError
from loopwright.fitting._fit import Fit
from loopwright.fitting._sample import Sample
from loopwright.fitting._verdict import per_cent
from loopwright.shown import Shown
from loopwright.sock import Change, Sock

__all__ = ["LeftOut", "Remedies", "Remedy", "why_not"]


@attrs.frozen
class Remedy:
    """A sock with a change, or two, that is better on the foot.

    Parameters
    ----------
    changes : tuple of Change
        What is changed, one thing or two.
    sample : Sample
        The sock with that change, knitted, checked and measured.
    fit : Fit
        How it sits.
    girth_mm, change_mm : float, mm
        Its heel girth, exact on the relaxed surface, and that less the girth it was before.
    estimate_mm : float, mm, or None
        The heel girth as the search estimated it; None where no estimate holds.
    yarn_m : float, m
        What the sock takes more.
    rounds : int
        Rounds and rows more in the whole sock.
    foot_mm : float, mm
        What its finished foot length is longer.
    size : float
        How much it changes the sock: the relative changes of its girths at ball, heel and top and
        of its length, added up; another kind of heel counts 0.1, another leg 0.03.
    is_enough : bool
        Whether its verdict is good, and the heel as wide as was asked.
    """

    changes: tuple[Change, ...]
    sample: Sample
    fit: Fit
    girth_mm: float
    change_mm: float
    estimate_mm: float | None
    yarn_m: float
    rounds: int
    foot_mm: float
    size: float
    is_enough: bool

    @property
    def words(self) -> str:
        """What is changed, as one would tell a knitter."""
        return words_of(self.changes)

    @property
    def sock(self) -> Sock:
        """The sock with that change."""
        return self.sample.sock

    @property
    def stretch(self) -> float:
        """How far its heel must stretch."""
        return self.fit.at("heel").stretch

    def to_dict(self) -> dict[str, Any]:
        """Return it as plain data, for programs."""
        return {
            "words": self.words,
            "is_enough": self.is_enough,
            "verdict": self.fit.verdict.to_dict(),
            "heel_girth_mm": round(self.girth_mm, 1),
            "heel_girth_change_mm": round(self.change_mm, 1),
            "heel_stretch_ratio": round(self.stretch, 3),
            "stitches": self.sample.plan.stitches.count,
            "yarn_m": round(self.yarn_m, 1),
            "rounds": self.rounds,
            "foot_mm": round(self.foot_mm, 1),
        }

    def __str__(self) -> str:
        return (
            f"{self.words}: {self.fit.verdict.short}; heel {self.girth_mm:.0f} mm "
            f"({self.change_mm:+z.0f}), yarn {self.yarn_m:+z.1f} m, rounds {self.rounds:+d}, "
            f"foot {self.foot_mm:+z.1f} mm"
        )


def words_of(changes: Sequence[Change]) -> str:
    """Return changes in one sentence."""
    return ", and ".join(change.words for change in changes)


@attrs.frozen
class LeftOut:
    """A change that is no remedy, and why.

    Examples
    --------
    >>> print(LeftOut("flap with 4 rows more", "tight at the heel (80 %)"))
    flap with 4 rows more: tight at the heel (80 %)
    """

    words: str
    reason: str

    def __str__(self) -> str:
        return f"{self.words}: {self.reason}"


def why_not(error: LoopwrightError) -> str:
    """Return in words why a sock with a change can't be offered."""
    if isinstance(error, UnsoundFabricError):
        return f"the checks find a mistake in what comes of it: {error}"
    if isinstance(error, SizingError):
        return f"it doesn't fit into this sock: {error}"
    return f"it can't be knitted in this sock: {error}"


@attrs.frozen(kw_only=True, repr=False)
class Remedies(Shown, Sequence[Remedy]):
    """Remedies, the best first.

    Those that are enough come first, the one that changes the sock least before the others; then
    those that aren't, the most helpful first.

    Parameters
    ----------
    before : Fit
        How the sock sits as it is.
    goal : float, optional
        The stretch of the heel that was asked for besides.
    found : tuple of Remedy
    left_out : tuple of LeftOut
        What was tried and isn't among them.
    """

    before: Fit
    goal: float | None = None
    found: tuple[Remedy, ...] = ()
    left_out: tuple[LeftOut, ...] = ()

    def __len__(self) -> int:
        return len(self.found)

    @overload
    def __getitem__(self, index: int) -> Remedy: ...
    @overload
    def __getitem__(self, index: slice) -> Sequence[Remedy]: ...
    def __getitem__(self, index: int | slice) -> Remedy | Sequence[Remedy]:
        return self.found[index]

    @property
    def enough(self) -> tuple[Remedy, ...]:
        """Those that are enough, the least change first."""
        return tuple(remedy for remedy in self.found if remedy.is_enough)

    @property
    def is_needed(self) -> bool:
        """Whether there is anything to mend."""
        return bool(self.found or self.left_out)

    @property
    def verdict(self) -> str:
        """What there is to mend and what mends it, in a sentence or two."""
        if not self.is_needed:
            return f"Nothing to mend: it {self.before.verdict.short}."
        return f"It {self.before.verdict.short}.{self._asked} {self.advice}"

    @property
    def _asked(self) -> str:
        if self.goal is None:
            return ""
        now = self.before.at("heel").stretch
        return f" The heel is stretched {now:.2f} times, {self.goal:.2f} asked."

    @property
    def advice(self) -> str:
        """The least that mends it, in a sentence; or that nothing does."""
        if self.enough:
            best = self.enough[0]
            chance = per_cent(best.fit.verdict.goes_on)
            return f"The least change that mends it: {best.words} (then it goes on: {chance})."
        if self.found:
            return f"Nothing that was tried is enough; most helps: {self.found[0].words}."
        return "Nothing that was tried helps."

    def to_dict(self) -> dict[str, Any]:
        """Return it as plain data, for programs."""
        return {
            "verdict": self.before.verdict.to_dict(),
            "words": self.verdict,
            "remedies": [one.to_dict() for one in self.found],
            "left_out": [{"words": one.words, "reason": one.reason} for one in self.left_out],
            "cautions": list(self.before.cautions),
            "accuracy": self.before.accuracy,
        }

    def __str__(self) -> str:
        lines = [
            f"  {number}{' ' if one.is_enough else ' (not enough)'} {one}"
            for number, one in enumerate(self.found, start=1)
        ]
        out = [f"  left out: {one}" for one in self.left_out]
        cautions = [f"Caution: {text}" for text in self.before.cautions]
        return "\n".join([self.verdict, *lines, *out, *cautions, self.before.accuracy])

    def _repr_html_(self) -> str:
        titles = ("change", "enough", "verdict", "heel mm", "change mm", "estimated mm", "stretch",
                  "yarn m", "rounds", "foot mm")  # fmt: skip
        head = "".join(f"<th>{title}</th>" for title in titles)
        out = "".join(f"<li>{escape(str(one))}</li>" for one in self.left_out)
        cautions = "".join(
            f"<p><strong>Caution:</strong> {escape(text)}</p>" for text in self.before.cautions
        )
        return (
            f"<table><caption>{escape(self.verdict)}</caption><thead><tr>{head}</tr></thead>"
            f"<tbody>{''.join(map(_row, self.found))}</tbody></table>{cautions}"
            f"<p>{escape(self.before.accuracy)}</p>"
            + (f"<p>Left out:</p><ul>{out}</ul>" if out else "")
        )


def _row(one: Remedy) -> str:
    guess = "" if one.estimate_mm is None else f"{one.estimate_mm:.0f}"
    cells = (
        "yes" if one.is_enough else "no", one.fit.verdict.short, f"{one.girth_mm:.0f}",
        f"{one.change_mm:+z.0f}", guess, f"{one.stretch:.2f}", f"{one.yarn_m:+z.1f}",
        f"{one.rounds:+d}", f"{one.foot_mm:+z.1f}",
    )  # fmt: skip
    return f"<tr><th>{escape(one.words)}</th>{''.join(f'<td>{escape(c)}</td>' for c in cells)}</tr>"
