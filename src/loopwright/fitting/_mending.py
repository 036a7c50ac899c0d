"""The search for remedies: by estimates first, then by knitting those that should be enough.

Girths of tubes follow from the counts. Only heel, instep and ankle need a relaxed shape; a search
estimates them. It takes the heel by its flattened profile, scaled to what the sock at hand
measures, the other two with the stitches. So every change, and every pair of changes, has an
estimated verdict without knitting. Those that should be good are knitted, the least change first;
where one falls short, the estimate of its kind is scaled anew. Two changes together are tried where
one doesn't do, and three where two don't.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Final

import attrs

from loopwright.errors import LoopwrightError, SizingError
from loopwright.fitting._estimate import estimate_mm, estimated_girths
from loopwright.fitting._fit import Fit, fit, judged
from loopwright.fitting._remedies import LeftOut, Remedies, Remedy, why_not, words_of
from loopwright.fitting._sample import Sample, sample
from loopwright.fitting._verdict import LIKELY, PERHAPS
from loopwright.length import Length
from loopwright.pattern.steps import Step
from loopwright.progress import Progress, share, watched
from loopwright.sock import Change, Sock
from loopwright.sock import changes as sock_changes
from loopwright.sock.foot import Foot

__all__ = ["estimate_mm", "remedies", "trouble"]

Changes = Callable[..., Iterator[Change]]
Kinds = tuple[str, ...]

_ANOTHER_HEEL, _ANOTHER_LEG = 0.1, 0.03  # what they count in a remedy's size: our choice
_TRIES: Final = 2  # socks of one kind that are knitted
_FIRSTS: Final = frozenset(  # kinds to which a second change is added
    {"more stitches", "heel on more stitches", "another leg", "longer foot", "another heel"}
)
_TOGETHER: Final = (2, 3)  # how many changes are made at once, where fewer don't do
_BEARS_ON: Final = {"longer foot": {"length"}, "another leg": {"top", "ankle"}}
_LEAST_MM: Final = 1.0  # girths of one shape from other starts differ by as much
_ROOM: Final = 0.1  # of a chance: how much better than good enough an estimate must be
_BETTER: Final = 0.02  # of a verdict's trouble: less is no help
_CLEARLY: Final = 0.2  # of a verdict's trouble: worth a second change where one is enough


def remedies(
    sock: Sock | Sample,
    foot: Foot | None = None,
    *,
    stretch: float | None = None,
    kinds: Iterable[str] | None = None,
    changes: Changes = sock_changes,
    most: int = 3,
    progress: Progress | None = None,
) -> Remedies:
    """Return what would mend a sock on a foot.

    Parameters
    ----------
    sock : Sock or Sample
    foot : Foot, optional
        The sock's own by default.
    stretch : float, optional
        How far the heel may be stretched besides; a stretch above the present one asks for a closer
        heel.
    kinds : iterable of str, optional
        Which kinds of change are tried, by `Change.key`; all by default.
    changes : callable
        What yields the changes to try.
    most : int
        How many remedies that are enough are looked for.
    progress : callable, optional
        Is given what is done, of how much, and what; see `loopwright.progress`. Nobody knows how
        many socks will be knitted: each counts a quarter of what is left.

    Returns
    -------
    Remedies
        Empty where the verdict is good already. Each is knitted, put through the checks, measured
        and judged by `fit`; none twice. Two changes together are among them where no single one is
        enough, and three where no two are.

    Raises
    ------
    UnsoundFabricError
        The checks found a mistake in the sock as it is.
    SizingError
        A stretch out of reason, or a sock that can't be made.

    Examples
    --------
    >>> from loopwright.gauge import Gauge
    >>> foot = Foot.of(length="16 cm", ball_girth="15.5 cm", heel_girth="23 cm")
    >>> found = remedies(Sock(foot=foot, gauge=Gauge.of(14, 20)), most=1)
    >>> print(found.advice)
    The least change that mends it: ... (then it goes on: ... %).
    >>> found[0].is_enough, found[0].fit.verdict.is_good, found.before.verdict.is_good
    (True, True, False)
    >>> found[0].size < 0.2
    True
    >>> found.is_needed, found.enough == tuple(found), found.to_dict()["words"] == found.verdict
    (True, True, True)
    >>> found[0].stretch < found.before.at("heel").stretch, found[0].to_dict()["is_enough"]
    (True, True)
    >>> found[0].sock == found[0].sample.sock
    True
    """
    if stretch is not None and not 0.8 <= stretch <= 2:  # before anything is knitted
        raise SizingError("heel's stretch", f"{stretch:g}", "expected 0.8 to 2, such as 1.15")
    base = sample(sock) if isinstance(sock, Sock) else sock
    search = _Search(
        base, base.sock.foot if foot is None else foot, stretch, most,
        None if kinds is None else frozenset(kinds), changes,
    )  # fmt: skip
    with watched(progress), share(0, 1, "mending"):
        return search.run()


def trouble(sits: Fit) -> float:
    """Return how far a verdict is from good, to tell what helps more: 0 is best.

    Chances of not going on, of being tight anywhere, and of being loose where the foot was
    measured, added up.
    """
    told = sits.verdict
    loose = sum(place.loose for place in told.places if not place.is_guess)
    return 1 - told.goes_on + sum(place.tight for place in told.places) + loose


@attrs.frozen
class _Candidate:
    """One change or two, with what is estimated of the sock."""

    changes: tuple[Change, ...]
    fit: Fit
    size: float
    girth_mm: float
    is_good: bool

    @property
    def sock(self) -> Sock:
        return self.changes[-1].sock

    @property
    def kinds(self) -> Kinds:
        """What tells families apart: another heel is a kind for each heel."""
        return tuple(
            change.key if change.is_series else f"{change.key}: {change.words}"
            for change in self.changes
        )


@attrs.define
class _Search:
    """What was tried so far on one sock."""

    base: Sample
    foot: Foot
    goal: float | None
    most: int
    allowed: frozenset[str] | None
    changes: Changes
    before: Fit = attrs.field(init=False)
    knitted: int = 0
    found: list[Remedy] = attrs.field(factory=list)
    left_out: list[LeftOut] = attrs.field(factory=list)
    seen: set[tuple[Step, ...]] = attrs.field(factory=set)
    scales: dict[Kinds, float] = attrs.field(factory=dict)

    def __attrs_post_init__(self) -> None:
        self.seen.add(self.base.pattern.steps)

    def run(self) -> Remedies:
        """Search, and return what was found."""
        with self._next("as it is"):
            self.before = fit(self.base, self.foot)
        if self._is_enough(self.before):
            return Remedies(before=self.before, goal=self.goal)
        singles = [*self._singles()]
        self._try_all(singles, self.most)
        self._tell_in_vain(singles)
        together: list[tuple[Change, ...]] = [
            (change,) for change in self._of(self.base.sock) if change.key in _FIRSTS
        ]
        for number in _TOGETHER:
            if any(remedy.is_enough for remedy in self.found):
                break
            several = [*self._together(together)]
            self._try_all(several, self.most)
            together = [one.changes for one in several if one.changes[-1].key in _FIRSTS]
            singles += several if number == _TOGETHER[0] else []
        self._try_better(together)
        if not self.found:
            self._try_the_most_helpful(singles)
        found = tuple(sorted(self.found, key=_rank))
        told = {remedy.words for remedy in found}
        last = {out.words: out for out in self.left_out if out.words not in told}
        return Remedies(
            before=self.before, goal=self.goal, found=found, left_out=tuple(last.values())
        )

    # What is tried

    @property
    def _ways(self) -> tuple[bool, ...]:
        """Whether more room is wanted, less of it, or each in some place."""
        if self.goal is not None:
            return (self.before.at("heel").stretch > self.goal,)
        told = self.before.verdict
        roomier = bool(told.tight) or not told.is_sure
        return (True, False) if roomier and told.loose else (roomier,)

    def _of(self, sock: Sock) -> Iterator[Change]:
        for roomier in self._ways:
            for change in self.changes(sock, roomier=roomier):
                if self._is_allowed(change.key):
                    yield change

    def _is_allowed(self, key: str) -> bool:
        """Whether a kind was asked for; by default, those that bear on what is to be mended."""
        if self.allowed is not None:
            return key in self.allowed
        told = self.before.verdict
        bad = {sits.place for sits in (*told.tight, *told.loose)}
        return key not in _BEARS_ON or bool(bad & _BEARS_ON[key])

    def _singles(self) -> Iterator[_Candidate]:
        refused: dict[str, LeftOut] = {}
        made: set[str] = set()
        for change in self._of(self.base.sock):
            if change.sock == self.base.sock:
                continue
            try:
                yield self._estimated((change,))
                made.add(change.key)
            except LoopwrightError as error:
                refused.setdefault(change.key, LeftOut(change.words, why_not(error)))
        self.left_out += [out for key, out in refused.items() if key not in made]

    def _together(self, firsts: Iterable[tuple[Change, ...]]) -> Iterator[_Candidate]:
        """Yield each of these with one more change; those that can't be made are dropped."""
        for first in firsts:
            try:
                more = [*self._of(first[-1].sock)]
            except LoopwrightError:
                continue
            keys = {change.key for change in first}
            for change in more:
                # Of two kinds that may come first either way, one order is enough.
                if change.key in keys or (change.key in _FIRSTS and change.key < first[-1].key):
                    continue
                try:
                    yield self._estimated((*first, change))
                except LoopwrightError:
                    continue  # no room for both

    # Estimates

    def _estimated(self, changed: tuple[Change, ...]) -> _Candidate:
        sock = changed[-1].sock
        girths = self._girths(sock, changed)
        sits = judged(sock, girths, self.foot)
        size = self._size(sock, sits)
        return _Candidate(changed, sits, size, girths["heel"].mm, self._is_enough(sits))

    def _girths(self, sock: Sock, changed: tuple[Change, ...]) -> Mapping[str, Length]:
        """The girths that a sock should have, in the way a sample has them."""
        kinds = _Candidate(changed, self.before, 0, 0, False).kinds
        return estimated_girths(sock, self.base, scale=self.scales.get(kinds, 1.0))

    def _is_enough(self, sits: Fit) -> bool:
        return sits.verdict.is_good and self._reaches(sits)

    def _reaches(self, sits: Fit) -> bool:
        """Whether the heel is as wide as asked, or, where less is wanted, as close."""
        if self.goal is None:
            return True
        stretch, now = sits.at("heel").stretch, self.before.at("heel").stretch
        return stretch <= self.goal if now > self.goal else stretch >= self.goal

    def _size(self, sock: Sock, sits: Fit) -> float:
        places = [(sits.at(name).sock.mm, self.before.at(name).sock.mm)
                  for name in ("ball", "heel", "length")]  # fmt: skip
        gauge, was = sock.gauge, self.base
        places.append((gauge.width(sock.plan().top).mm, gauge.width(was.plan.top).mm))
        moved = sum(abs(math.log(new / old)) for new, old in places)
        heel = _ANOTHER_HEEL * (type(sock.heel) is not type(was.sock.heel))
        return moved + heel + _ANOTHER_LEG * (type(sock.leg) is not type(was.sock.leg))

    # Knitting

    def _try_all(self, candidates: list[_Candidate], most: int) -> None:
        """Knit what should be enough, the least change first, one sock of a kind."""
        waiting = sorted((one for one in candidates if one.is_good), key=_order)
        tries: dict[Kinds, int] = {}
        done: set[Kinds] = set()
        enough = 0
        while waiting and enough < most:
            one = waiting.pop(0)
            if one.kinds in done or tries.get(one.kinds, 0) >= _TRIES:
                continue
            tries[one.kinds] = tries.get(one.kinds, 0) + 1
            remedy = self._tried(one)
            if remedy is None:
                continue
            self._keep(remedy)
            if remedy.is_enough:
                done.add(one.kinds)
                enough += 1
            else:
                off = remedy.girth_mm / one.girth_mm
                self.scales[one.kinds] = self.scales.get(one.kinds, 1.0) * off
                again = [self._estimated(c.changes) for c in waiting if c.kinds == one.kinds]
                rest = [c for c in waiting if c.kinds != one.kinds]
                rest += [c for c in again if c.is_good]
                waiting = sorted(rest, key=_order)

    def _try_better(self, firsts: list[tuple[Change, ...]]) -> None:
        """Add a second change to one that is enough, where that makes it clearly better."""
        enough = [remedy for remedy in self.found if remedy.is_enough]
        if not enough or len(enough) >= self.most or len(enough[0].changes) > 1:
            return
        best = min(trouble(remedy.fit) for remedy in enough)
        more = [one for one in self._together(firsts) if trouble(one.fit) < best - _CLEARLY]
        self._try_all(more, self.most - len(enough))

    def _try_the_most_helpful(self, singles: list[_Candidate]) -> None:
        """Knit the best of what isn't enough, so that something can be said of it."""
        now = trouble(self.before)
        helps = sorted(
            (one for one in singles if trouble(one.fit) < now - _BETTER or self.goal is not None),
            key=lambda one: (not self._reaches(one.fit), trouble(one.fit)),
        )
        for one in helps[:_TRIES]:
            remedy = self._tried(one)
            if remedy is not None:
                self._keep(remedy)
                if remedy.is_enough:
                    return

    def _tried(self, one: _Candidate) -> Remedy | None:
        """Knit, check and measure a change; None, and left out, where that fails."""
        words = words_of(one.changes)
        try:
            steps = one.sock.pattern().steps
            if steps in self.seen:
                return None
            self.seen.add(steps)
            with self._next(words):
                return self._measured(one)
        except LoopwrightError as error:
            self.left_out.append(LeftOut(words, why_not(error)))
            return None

    @contextmanager
    def _next(self, words: str) -> Iterator[None]:
        """Count the knitting of one more sock as a quarter of the work that is left."""
        of = 4 / 0.75**self.knitted
        self.knitted += 1
        with share(of - 4, of, words):
            yield

    def _measured(self, one: _Candidate) -> Remedy:
        made = sample(one.sock)
        sits = fit(made, self.foot)
        girth_mm = made.girths["heel"].mm
        has_form = estimate_mm(one.sock) is not None
        return Remedy(
            changes=one.changes,
            sample=made,
            fit=sits,
            girth_mm=girth_mm,
            change_mm=girth_mm - self.base.girths["heel"].mm,
            estimate_mm=one.girth_mm if has_form else None,
            yarn_m=made.yarn.metres.likely - self.base.yarn.metres.likely,
            rounds=made.rounds - self.base.rounds,
            foot_mm=_foot_mm(made) - _foot_mm(self.base),
            size=self._size(one.sock, sits),
            is_enough=self._is_enough(sits),
        )

    def _keep(self, remedy: Remedy) -> None:
        helps = trouble(self.before) - trouble(remedy.fit) > _BETTER
        if self.goal is not None:
            right = remedy.change_mm if self._ways[0] else -remedy.change_mm
            helps = right >= _LEAST_MM
        if remedy.is_enough or helps:
            # Of one kind only the better sock is kept: that which was enough, or went further.
            kinds = [change.key for change in remedy.changes]
            self.found = [
                one for one in self.found
                if one.is_enough or [change.key for change in one.changes] != kinds
            ]  # fmt: skip
            self.found.append(remedy)
        else:
            reason = f"no better: it {remedy.fit.verdict.short}"
            self.left_out.append(LeftOut(remedy.words, reason))

    def _tell_in_vain(self, singles: list[_Candidate]) -> None:
        """Say which kinds of change weren't knitted, since no amount of them should be enough."""
        by_kind: dict[Kinds, list[_Candidate]] = {}
        for one in singles:
            by_kind.setdefault(one.kinds, []).append(one)
        for of_kind in by_kind.values():
            if not any(one.is_good for one in of_kind):
                best = min(of_kind, key=lambda one: trouble(one.fit))
                reason = f"not enough by the estimate: it {best.fit.verdict.short}"
                self.left_out.append(LeftOut(words_of(best.changes), reason))


def _order(one: _Candidate) -> tuple[bool, float]:
    """Those that are good with room to spare first, the least change before the others."""
    return not _is_good_with_room(one.fit), one.size


def _is_good_with_room(sits: Fit) -> bool:
    """Whether an estimated verdict is good, and not by a hair: the girths will differ a little."""
    told = sits.verdict
    most = LIKELY - _ROOM
    calm = all(
        place.tight < most and (place.is_guess or place.loose < most) for place in told.places
    )
    return told.goes_on >= 1 - PERHAPS + _ROOM / 2 and calm


def _rank(remedy: Remedy) -> tuple[bool, float]:
    return not remedy.is_enough, remedy.size if remedy.is_enough else trouble(remedy.fit)


def _foot_mm(made: Sample) -> float:
    return made.plan.measure("foot length").finished.mm
