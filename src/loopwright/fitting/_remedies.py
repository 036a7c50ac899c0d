"""What would mend a heel that is tight, or loose: each change knitted, checked and measured.

Searching goes by an estimate, reporting by the exact line on the relaxed surface: for each kind of
change the smallest amount that should be enough is found from the flattened profile, scaled to
what the sock at hand measures; that one is knitted. Where it falls short, the estimate is scaled
anew and the search goes on once. Both numbers are reported.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from html import escape
from itertools import groupby
from typing import Final, overload

import attrs

from loopwright.errors import LoopwrightError, SizingError, UnsoundFabricError
from loopwright.fitting._fit import UNMEASURED, Fit, fit
from loopwright.fitting._sample import Sample, sample
from loopwright.fitting.limits import COURSEWISE, Feel
from loopwright.pattern.steps import Step
from loopwright.shown import Shown
from loopwright.sock import Change, Sock, changes
from loopwright.sock.foot import Foot

__all__ = ["EVEN", "LeftOut", "Remedies", "Remedy", "estimate_mm", "goal_of", "remedies", "why_not"]

EVEN: Final = 1.05  # heel stretch over ball stretch up to which they are called alike: our choice
# Changes of girth below these are none. Other starts of a shape give 1 mm; the same heel, made at
# once or opened later, comes out up to 1.8 % apart, so that another heel must do more than that.
_LEAST_MM: Final = 1.0
_LEAST_OTHER: Final = 0.02


@attrs.frozen
class Remedy:
    """A change that moves the heel girth the right way.

    Parameters
    ----------
    words : str
        What is changed.
    sample : Sample
        The sock with that change, knitted, checked and measured.
    fit : Fit
        How it sits.
    girth_mm, change_mm : float, mm
        Its heel girth, exact on the relaxed surface, and that less the girth it was before.
    estimate_mm : float, mm, or None
        The heel girth as the search estimated it; None where there was no search.
    yarn_m : float, m
        What the sock takes more.
    rounds : int
        Rounds and rows more in the whole sock.
    foot_mm : float, mm
        What its finished foot length is longer.
    is_enough : bool
        Whether the heel's stretch comes to what was asked.
    """

    words: str
    sample: Sample
    fit: Fit
    girth_mm: float
    change_mm: float
    estimate_mm: float | None
    yarn_m: float
    rounds: int
    foot_mm: float
    is_enough: bool

    @property
    def sock(self) -> Sock:
        """The sock with that change."""
        return self.sample.sock

    @property
    def stretch(self) -> float:
        """How far its heel must stretch."""
        return self.fit.at("heel").stretch

    def __str__(self) -> str:
        guess = "" if self.estimate_mm is None else f", estimated {self.estimate_mm:.0f}"
        return (
            f"{self.words}: heel {self.girth_mm:.0f} mm ({self.change_mm:+.0f}{guess}), stretch "
            f"{self.stretch:.2f}; yarn {self.yarn_m:+.1f} m, rounds {self.rounds:+d}, "
            f"foot {self.foot_mm:+.1f} mm"
        )


@attrs.frozen
class LeftOut:
    """A change that is no remedy, and why."""

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

    Those that are enough come first, the smallest change of girth before the others, since a heel
    with more room than it needs bags; then those that aren't, the most effective first.

    Parameters
    ----------
    before : Fit
        How the sock sits as it is.
    goal : float
        The stretch of the heel that was asked for.
    found : tuple of Remedy
    left_out : tuple of LeftOut
        What was tried and isn't among them.
    """

    before: Fit
    goal: float
    found: tuple[Remedy, ...]
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
    def verdict(self) -> str:
        """What it comes to, in a sentence or two."""
        now = self.before.at("heel").stretch
        if not self.found and not self.left_out:
            return (
                f"Nothing to mend: the heel is stretched {now:.2f} times, and up to "
                f"{self.goal:.2f} was asked."
            )
        if now < COURSEWISE.loose.stretch and self.goal == COURSEWISE.loose.stretch:
            start = f"The heel is loose: the foot's girth is {now:.2f} times the sock's. "
        else:
            start = f"The heel is stretched {now:.2f} times, {self.goal:.2f} asked. "
        enough = [remedy for remedy in self.found if remedy.is_enough]
        if enough:
            return f"{start}The least that does it: {enough[0].words}.{_others(len(enough) - 1)}"
        if self.found:
            return f"{start}No single change is enough; most does: {self.found[0].words}."
        return f"{start}Nothing that was tried helps."

    def __str__(self) -> str:
        lines = [f"  {'+' if one.is_enough else '-'} {one}" for one in self.found]
        out = [f"  left out: {one}" for one in self.left_out]
        cautions = [f"Caution: {text}" for text in self.before.cautions]
        return "\n".join([self.verdict, *lines, *out, *cautions, UNMEASURED])

    def _repr_html_(self) -> str:
        titles = ("change", "enough", "heel mm", "change mm", "estimated mm", "stretch",
                  "yarn m", "rounds", "foot mm")  # fmt: skip
        head = "".join(f"<th>{title}</th>" for title in titles)
        out = "".join(f"<li>{escape(str(one))}</li>" for one in self.left_out)
        cautions = "".join(
            f"<p><strong>Caution:</strong> {escape(text)}</p>" for text in self.before.cautions
        )
        return (
            f"<table><caption>{escape(self.verdict)}</caption><thead><tr>{head}</tr></thead>"
            f"<tbody>{''.join(map(_row, self.found))}</tbody></table>{cautions}"
            f"<p>{escape(UNMEASURED)}</p>" + (f"<p>Left out:</p><ul>{out}</ul>" if out else "")
        )


def estimate_mm(sock: Sock) -> float | None:
    """Return the heel girth by the flattened profile: for searches, without knitting.

    Good to a few per cent between variants of one heel; None where no closed form holds.

    Raises
    ------
    SizingError
        The sock can't be made.
    """
    return sock.heel.girth_mm(sock.plan().setting)


def goal_of(sits: Fit, stretch: float | None = None) -> float:
    """Return the stretch that a heel should have: as far as the ball, within 5 %.

    Never more than the most negative ease that is advised makes; of a loose heel, that it is as
    large as the foot and no larger.
    """
    if stretch is None and _is_loose(sits):
        return COURSEWISE.loose.stretch
    if stretch is None:
        return min(EVEN * sits.at("ball").stretch, COURSEWISE.close.stretch)
    return _in_reason(stretch)


def _is_loose(sits: Fit) -> bool:
    return sits.at("heel").feel is Feel.LOOSE


def _others(count: int) -> str:
    if not count:
        return ""
    return f" {count} other{'s' if count > 1 else ''} would do as well."


def _in_reason(stretch: float) -> float:
    if not 0.8 <= stretch <= 2:
        raise SizingError("heel's stretch", f"{stretch:g}", "expected 0.8 to 2, such as 1.15")
    return stretch


def remedies(
    sock: Sock,
    foot: Foot | None = None,
    *,
    stretch: float | None = None,
    kinds: Collection[str] | None = None,
    changes: Callable[..., Iterable[Change]] = changes,
) -> Remedies:
    """Return what would mend a sock's heel on a foot.

    Parameters
    ----------
    sock : Sock
    foot : Foot, optional
        The sock's own by default.
    stretch : float, optional
        How far the heel may be stretched; by default as far as the ball and 5 % more, or, where
        the heel is loose, as large as the foot. A stretch above the present one asks for a closer
        heel, and what makes it smaller is tried.
    kinds : collection of str, optional
        The keys of the changes that are tried; by default all.
    changes : callable
        Takes the sock and ``roomier=``, and gives what is tried; `loopwright.sock.changes`.

    Returns
    -------
    Remedies
        Each knitted and put through the checks; none twice, and none that moves the girth the
        wrong way. One change at a time: they may be added up by taking the sock of a remedy and
        asking again.

    Raises
    ------
    UnsoundFabricError
        The checks found a mistake in the sock as it is.
    SizingError
        A stretch out of reason, or a sock that can't be made.

    Examples
    --------
    >>> from loopwright.gauge import Gauge
    >>> foot = Foot.of(length="16 cm", ball_girth="15.5 cm", heel_girth="22 cm")
    >>> sock = Sock(foot=foot, gauge=Gauge.of(14, 20))
    >>> found = remedies(sock, kinds=["plain rounds"])
    >>> found[0].words, found[0].sock.heel.plain_rounds
    ('5 plain rounds more before the shaping', 6)
    >>> found.before.at("heel").stretch > found.goal >= found[0].stretch
    True
    """
    if stretch is not None:
        _in_reason(stretch)  # before anything is knitted
    base = sample(sock)
    before = fit(base, foot)
    goal = goal_of(before, stretch)
    now = before.at("heel").stretch
    wants_room = not _is_loose(before) if stretch is None else now > stretch
    if wants_room and now <= goal:
        return Remedies(before=before, goal=goal, found=())
    search = _Search(base, foot, before, goal, wants_room)
    asked = changes(sock, roomier=wants_room)
    for key, of_kind in groupby(asked, key=lambda change: change.key):
        if kinds is None or key in kinds:
            search.one_kind([*of_kind])
    found = sorted(search.found, key=_rank)
    return Remedies(before=before, goal=goal, found=tuple(found), left_out=tuple(search.left_out))


def _rank(remedy: Remedy) -> tuple[bool, float]:
    size = abs(remedy.change_mm)
    return not remedy.is_enough, size if remedy.is_enough else -size


@attrs.define
class _Search:
    """What was tried so far on one sock."""

    base: Sample
    foot: Foot | None
    before: Fit
    goal: float
    wants_room: bool
    found: list[Remedy] = attrs.field(factory=list)
    left_out: list[LeftOut] = attrs.field(factory=list)
    seen: set[tuple[Step, ...]] = attrs.field(factory=set)

    def __attrs_post_init__(self) -> None:
        self.seen.add(self.base.pattern.steps)

    @property
    def target_mm(self) -> float:
        """The heel girth that has the stretch asked for."""
        return self.before.at("heel").foot.mm / self.goal

    @property
    def girth_mm(self) -> float:
        """The heel girth of the sock as it is."""
        return self.base.girths["heel"].mm

    def one_kind(self, changes: Sequence[Change]) -> None:
        """Try changes of one kind; keep what helps."""
        if not all(change.is_series for change in changes):
            for change in changes:
                self._keep(self._tried(change, None))
            return
        guesses = [*self._guessed(changes)]
        scale = self.girth_mm / (estimate_mm(self.base.sock) or self.girth_mm)
        best: Remedy | None = None
        for _ in range(2):
            picked = self._pick(guesses, scale)
            if picked is None:
                break
            change, guess = guesses[picked]
            tried = self._tried(change, guess * scale)
            if tried is None:
                del guesses[picked]
                continue
            del guesses[: picked + 1]
            best = tried
            if tried.is_enough:
                break
            scale = tried.girth_mm / guess
        self._keep(best)

    def _guessed(self, changes: Sequence[Change]) -> Iterator[tuple[Change, float]]:
        """Yield those that can be made, with their girths by the flattened profile."""
        refused: LeftOut | None = None
        any_left = False
        for change in changes:
            try:
                guess = estimate_mm(change.sock)
            except LoopwrightError as error:
                refused = refused or LeftOut(change.words, why_not(error))
                continue
            if guess is not None:
                any_left = True
                yield change, guess
        if refused and not any_left:
            self.left_out.append(refused)

    def _pick(self, guesses: Sequence[tuple[Change, float]], scale: float) -> int | None:
        """Return the first that should be enough, or the last."""
        for place, (_, guess) in enumerate(guesses):
            if self._reaches(guess * scale):
                return place
        return len(guesses) - 1 if guesses else None

    def _reaches(self, girth_mm: float) -> bool:
        """Whether a girth is as large as asked, or, where less is wanted, as small."""
        return girth_mm >= self.target_mm if self.wants_room else girth_mm <= self.target_mm

    def _tried(self, change: Change, guess_mm: float | None) -> Remedy | None:
        """Knit, check and measure a change; None, and left out, where that fails."""
        try:
            steps = change.sock.pattern().steps
            if steps in self.seen:
                return None
            self.seen.add(steps)
            return self._measured(change, guess_mm)
        except LoopwrightError as error:
            self.left_out.append(LeftOut(change.words, why_not(error)))
            return None

    def _measured(self, change: Change, guess_mm: float | None) -> Remedy:
        made = sample(change.sock)
        sits = fit(made, self.foot)
        girth_mm = made.girths["heel"].mm
        return Remedy(
            words=change.words,
            sample=made,
            fit=sits,
            girth_mm=girth_mm,
            change_mm=girth_mm - self.girth_mm,
            estimate_mm=guess_mm,
            yarn_m=made.yarn.metres.likely - self.base.yarn.metres.likely,
            rounds=made.rounds - self.base.rounds,
            foot_mm=_foot_mm(made) - _foot_mm(self.base),
            is_enough=self._reaches(girth_mm),
        )

    def _keep(self, remedy: Remedy | None) -> None:
        if remedy is None:
            return
        right_way = remedy.change_mm if self.wants_room else -remedy.change_mm
        searched = remedy.estimate_mm is not None
        least_mm = _LEAST_MM if searched else _LEAST_OTHER * self.girth_mm
        if right_way < least_mm:
            how = "the wrong way" if right_way <= -least_mm else "too little to tell"
            reason = f"moves the heel girth {how}, {remedy.change_mm:+.1f} mm"
            self.left_out.append(LeftOut(remedy.words, reason))
            return
        self.found.append(remedy)


def _foot_mm(made: Sample) -> float:
    return made.plan.measure("foot length").finished.mm


def _row(one: Remedy) -> str:
    guess = "" if one.estimate_mm is None else f"{one.estimate_mm:.0f}"
    cells = (
        "yes" if one.is_enough else "no", f"{one.girth_mm:.0f}", f"{one.change_mm:+.0f}", guess,
        f"{one.stretch:.2f}", f"{one.yarn_m:+.1f}", f"{one.rounds:+d}", f"{one.foot_mm:+.1f}",
    )  # fmt: skip
    return f"<tr><th>{escape(one.words)}</th>{''.join(f'<td>{cell}</td>' for cell in cells)}</tr>"
