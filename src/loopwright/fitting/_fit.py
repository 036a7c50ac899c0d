"""Will it go over the heel, and how will it sit: a sock on a foot, place by place.

At each place the foot's girth over the relaxed sock's is how far the fabric must stretch. Both
girths are uncertain; so is their ratio, taken as log-normal. A verdict therefore is a chance,
beside the limit that it is a chance of passing. Chances say nothing of what nobody measured: how
one pair of hands differs from the swatch, how a fabric tires, what a wearer calls tight.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cached_property
from html import escape
from typing import Final

import attrs

from loopwright.fitting._sample import Sample, sample, taped
from loopwright.fitting._tension import rib_rest
from loopwright.fitting._verdict import LIKELY, PERHAPS, Sits, Verdict, per_cent
from loopwright.fitting.limits import (
    ANKLE,
    COURSEWISE,
    GOING_ON,
    WALEWISE,
    Feel,
    Limit,
    Scale,
    held,
    ribbed,
    stranded,
)
from loopwright.length import Length
from loopwright.pattern import SockPart
from loopwright.progress import Progress, watched
from loopwright.shown import Shown
from loopwright.sock import Cuff, Hands, RibbedLeg, Sock, TapeLine
from loopwright.sock.foot import Foot
from loopwright.sock.heels import RIDGE
from loopwright.sock.needles import taken

__all__ = [
    "ASLANT",
    "CAUTION",
    "RIBBED",
    "UNMEASURED",
    "Fit",
    "Passage",
    "Place",
    "Stretch",
    "fit",
    "judged",
]

_TWO_SIDED = 1.959964  # standard deviations to either side that hold 95 in 100

CAUTION: Final = (
    "A sock that is tight, or has a ridge or a tight band, can wound a foot with diabetes, "
    "neuropathy or swelling unnoticed: ask a clinician before it is worn."
)
UNMEASURED: Final = (
    "Girths over the heel, instep and ankle are calculated and good to about 9 %, as long as no "
    "knitted sample was measured; differences between two heels are safer."
)
RIBBED: Final = (
    "A rib is judged at the width that its stitches have in plain fabric: pulled out it is as wide "
    "and pulls as hard. At rest it draws in to about {share:.0f} % of that ({how})."
)
PANEL_RIB: Final = (
    "The panel on the instep is a rib and judged at the width of plain fabric, as wide as it is "
    "pulled out. At rest it draws in to about {share:.0f} % of that ({how})."
)
PANEL_WIDE: Final = "The panel on the instep is as wide as it lies at rest ({how})."
PANEL_UNKNOWN: Final = (
    "The panel on the instep is judged as if it were plain fabric: knit a swatch of it. Cables and "
    "slipped stitches draw in and give less."
)
STRANDED_NOTE: Final = (
    "Fabric of two colours in a round gives only as far as its floats do: pull a swatch of it, and "
    "say how far it went."
)
ASLANT: Final = (
    "The line over the heel runs partly along the wales, where plain fabric pulls harder; aslant "
    "it shears easily. How much that gives nobody measured."
)
_ASLANT_SD: Final = 0.05  # of the limit over the heel, relative, for its line aslant: our choice


@attrs.frozen(slots=False)
class Stretch:
    """How far a place of the sock must stretch.

    Parameters
    ----------
    place : str
    foot, sock : Length
        What it must reach, and what it measures relaxed.
    """

    place: str
    foot: Length
    sock: Length

    @property
    def stretch(self) -> float:
        """Foot over sock: 1.25 is a quarter more than at rest."""
        return self.foot.mm / self.sock.mm

    @property
    def ease(self) -> float:
        """The sock less the foot, as a fraction of the foot; negative where it is smaller."""
        return self.sock.mm / self.foot.mm - 1

    @cached_property
    def relative_sd(self) -> float:
        """Standard deviation of the stretch, relative."""
        return math.hypot(self.foot.sd_mm / self.foot.mm, self.sock.sd_mm / self.sock.mm)

    @property
    def interval(self) -> tuple[float, float]:
        """Where the stretch lies with 95 chances in 100."""
        factor = math.exp(_TWO_SIDED * self.relative_sd)
        return self.stretch / factor, self.stretch * factor

    def chance_over(self, limit: float | Limit) -> float:
        """Return the chance that the stretch is more than this one, 0 to 1.

        Parameters
        ----------
        limit : float or Limit
            A limit's own uncertainty counts.

        Examples
        --------
        >>> from loopwright.fitting.limits import GOING_ON
        >>> heel = Stretch("heel", Length(310.0, 8.0), Length(248.0, 11.0))
        >>> round(heel.chance_over(1.25), 2), round(heel.chance_over(1.40), 3)
        (0.5, 0.014)
        >>> leg = Stretch("leg", Length(340.0, 3.0), Length(200.0, 2.0))
        >>> round(leg.chance_over(1.68), 2), round(leg.chance_over(GOING_ON), 2)
        (0.81, 0.63)
        """
        where, doubt = (limit, 0.0) if isinstance(limit, float | int) else (limit.stretch, limit.sd)
        away, sd = math.log(self.stretch / where), math.hypot(self.relative_sd, doubt)
        if not sd:
            return float(away > 0)
        return 0.5 * math.erfc(-away / sd / math.sqrt(2))


@attrs.frozen(slots=False)
class Place(Stretch):
    """A place where the sock is worn.

    Parameters
    ----------
    scale : Scale
        The limits that it is judged by.
    """

    scale: Scale = COURSEWISE

    @property
    def feel(self) -> Feel:
        """How it sits, at the likeliest stretch."""
        return self.scale.feel(self.stretch)

    @property
    def tight(self) -> float:
        """The chance that it is tighter than advised."""
        return self.chance_over(self.scale.close)

    @property
    def loose(self) -> float:
        """The chance that it is loose."""
        return 1 - self.chance_over(self.scale.loose)

    @property
    def is_tight(self) -> bool:
        """Whether to warn that it may be tighter than advised.

        From a chance of 1 in 4; where the foot was only estimated, a chance that comes of not
        knowing warns of nothing, and it must be likelier than not.
        """
        return self.tight >= (LIKELY if self.foot.is_estimated else PERHAPS)

    def chances(self) -> dict[Feel, float]:
        """Return the chance of each way to sit; they add up to 1."""
        over = [1.0, *(self.chance_over(limit) for limit in self.scale.limits), 0.0]
        over = [min(over[: at + 1]) for at in range(len(over))]  # limits of unlike doubt may cross
        return {feel: over[at] - over[at + 1] for at, feel in enumerate(Feel)}

    def __str__(self) -> str:
        low, high = self.interval
        return (
            f"{self.place}: {self.feel.value}; stretched {self.stretch:.2f} times ({low:.2f} to "
            f"{high:.2f}); {per_cent(self.tight)} tight, {per_cent(self.loose)} loose"
        )


@attrs.frozen(slots=False)
class Passage(Stretch):
    """A part of the sock that must pass over the heel when the sock is put on.

    Parameters
    ----------
    limit : Limit
    """

    limit: Limit = GOING_ON

    @property
    def goes(self) -> float:
        """The chance that it passes."""
        return 1 - self.chance_over(self.limit)

    @property
    def is_doubtful(self) -> bool:
        """Whether it may well not pass: a chance of 1 in 4 or more."""
        return self.goes <= 1 - PERHAPS

    def __str__(self) -> str:
        low, high = self.interval
        return (
            f"{self.place}: must stretch {self.stretch:.2f} times ({low:.2f} to {high:.2f}); "
            f"passes with a chance of {per_cent(self.goes)}"
        )


@attrs.frozen(kw_only=True, repr=False)
class Fit(Shown):
    """A sock on a foot.

    Parameters
    ----------
    places : tuple of Place
        Ball, instep where it was measured, heel, ankle, top, and the length of the foot.
    passages : tuple of Passage
        Top and leg over the heel.
    asked_ease : float
        Negative ease that was asked for at the ball, as a fraction.
    ridges : tuple of str
        What the pattern says of its ridges.
    notes : tuple of str
        What is assumed.
    unjudged : tuple of str
        Places that nobody measured, and that nothing can stand in for.
    accuracy : str
        How good its girths are, and from how many measured pieces that is known.

    See Also
    --------
    fit : makes one.

    Examples
    --------
    A child's sock, its heel tight over a high instep:

    >>> from loopwright.gauge import Gauge
    >>> foot = Foot.of(length="16 cm", ball_girth="15.5 cm", heel_girth="23 cm")
    >>> sits = fit(sample(Sock(foot=foot, gauge=Gauge.of(14, 20)), quick=True))
    >>> sits.tightest.place, sits.tightest.feel
    ('heel', <Feel.TIGHT: 'tight'>)
    >>> print(sits.verdict)
    It should go on (chance 8... %). Tight at the heel (... %)...
    >>> sits.unjudged  # no survey has children
    ('instep', 'ankle', 'top')
    >>> max(sits.at("heel").chances().values()) > 0.5
    True
    >>> sits.heel_over_ball > 1.1  # stretched that much more than the ball
    True
    >>> f"{sits.asked_ease:+.0%} asked, {sits.got_ease:+.0%} of whole stitches"
    '-10% asked, -8% of whole stitches'
    >>> [passage.place for passage in sits.passages if passage.is_doubtful]
    []
    >>> heel, leg = sits.at("heel"), sits.passages[0]
    >>> heel.tight > 0.5 > heel.loose, leg.goes > 0.75, heel.ease < sits.at("ball").ease < 0
    (True, True, True)
    >>> low, high = heel.interval
    >>> low < heel.stretch < high, round(heel.relative_sd, 2)
    (True, 0.05)
    >>> print(sits.cautions[0])
    A sock that is tight, or has a ridge or a tight band, can wound a foot with diabetes, ...

    Each limit says what it rests on:

    >>> for limit in sits.limits()[1:3]:
    ...     print(limit)
    1.11 (1.07 to 1.15): 10 % of negative ease (pages for sock knitters: 'Ease-y Socks'; ...)
    1.34 (1.24 to 1.46): more than 20 % of negative ease, and up to a low calf 30 % wider ...
    """

    places: tuple[Place, ...]
    passages: tuple[Passage, ...]
    asked_ease: float
    ridges: tuple[str, ...] = ()
    notes: tuple[str, ...] = (ASLANT,)
    unjudged: tuple[str, ...] = ()
    accuracy: str = UNMEASURED

    def at(self, name: str) -> Place:
        """Return the place of this name; `KeyError` lists those there are."""
        for place in self.places:
            if place.place == name:
                return place
        raise KeyError(f"no place {name!r}; there are: {', '.join(p.place for p in self.places)}")

    @property
    def tightest(self) -> Place:
        """The place that is farthest beyond what is advised, or nearest below it."""
        return max(self.places, key=lambda p: p.stretch / p.scale.close.stretch)

    @property
    def heel_over_ball(self) -> float:
        """How much more the heel is stretched than the ball: 1.11 is 11 % more."""
        return self.at("heel").stretch / self.at("ball").stretch

    @property
    def got_ease(self) -> float:
        """The ease that came of whole stitches at the ball."""
        return self.at("ball").ease

    @property
    def cautions(self) -> tuple[str, ...]:
        """What a wearer should know before it is worn; empty where nothing is tight or ridged."""
        tight = any(place.is_tight for place in self.places)
        doubtful = any(passage.is_doubtful for passage in self.passages)
        return (CAUTION,) if tight or doubtful or self.ridges else ()

    @property
    def verdict(self) -> Verdict:
        """Whether it goes on, how it sits, and how sure that is."""
        worst = min(self.passages, key=lambda p: p.goes)
        names = {place.place for place in self.places}
        return Verdict(
            goes_on=worst.goes,
            through=worst.place,
            stretch=worst.stretch,
            limit=worst.limit.stretch,
            places=tuple(map(_sits, self.places)),
            unjudged=self.unjudged,
            heel_over_ball=self.heel_over_ball if {"heel", "ball"} <= names else None,
        )

    def limits(self) -> tuple[Limit, ...]:
        """Return the limits that were used, each once."""
        used = [limit for place in self.places for limit in place.scale.limits]
        return tuple(dict.fromkeys([*used, *(passage.limit for passage in self.passages)]))

    @property
    def _judged_by(self) -> tuple[Limit, ...]:
        """The limits that the chances belong to, each once."""
        used = [limit for place in self.places for limit in (place.scale.loose, place.scale.close)]
        used += [passage.limit for passage in self.passages]
        first = {(limit.stretch, limit.what): limit for limit in reversed(used)}
        return tuple(reversed(first.values()))

    def __str__(self) -> str:
        ease = (
            f"ease at the ball: asked {100 * self.asked_ease:+z.0f} %, "
            f"finished {100 * self.got_ease:+z.1f} %"
        )
        cautions = [f"Caution: {text}" for text in self.cautions]
        limits = [f"Limit {limit}" for limit in self._judged_by]
        lines = [*map(str, self.places), *map(str, self.passages), ease, *limits, *cautions]
        return "\n".join([str(self.verdict), *lines, *self.notes, self.accuracy])

    def _repr_html_(self) -> str:
        head = "".join(
            f"<th>{title}</th>"
            for title in ("", "foot mm", "sock mm", "stretch", "95 % within", "sits", "limit",
                          "chance of more")
        )  # fmt: skip
        rows = [_row(place, place.feel.value, place.scale.close) for place in self.places]
        rows += [_row(passage, "", passage.limit) for passage in self.passages]
        cautions = "".join(f"<p><strong>Caution:</strong> {escape(t)}</p>" for t in self.cautions)
        notes = "".join(f"<p>{escape(note)}</p>" for note in self.notes)
        limits = "".join(f"<li>{escape(str(limit))}</li>" for limit in self.limits())
        return (
            f"<table><caption>{escape(str(self.verdict))}</caption><thead><tr>{head}</tr></thead>"
            f"<tbody>{''.join(rows)}</tbody></table>{cautions}"
            f"{notes}<p>{escape(self.accuracy)}</p><ul>{limits}</ul>"
        )


def fit(sock: Sock | Sample, foot: Foot | None = None, *, progress: Progress | None = None) -> Fit:
    """Return how a sock sits on a foot.

    Parameters
    ----------
    sock : Sock or Sample
        A sock is knitted and relaxed first, which takes a second or two.
    foot : Foot, optional
        The sock's own by default; another to see whom it fits besides.
    progress : callable, optional
        Is given what is done, of how much, and what; see `loopwright.progress`.

    Raises
    ------
    UnsoundFabricError
        The checks found a mistake in the fabric.
    ShapeError
        The relaxed sock has no heel.

    Notes
    -----
    Each place is judged by how hard its fabric pulls back, see `loopwright.fitting.limits`. An
    instep that nobody measured is not judged: a last-maker's table and knitters' rules mean two
    places by that name, and no survey has it. Nor are ankle and top of a foot beyond the survey,
    a child's above all, unless they were measured. A rib is judged in widths of plain fabric, and
    loose only below its own width at rest.

    Examples
    --------
    >>> from loopwright.gauge import Gauge
    >>> foot = Foot.of(length="16 cm", ball_girth="15.5 cm", heel_girth="23 cm")
    >>> sits = fit(Sock(foot=foot, gauge=Gauge.of(14, 20)))
    >>> print(sits.at("ball"))
    ball: easy; stretched 1.09 times (1.03 to 1.15); under 1 % tight, 1 % loose
    >>> sits.at("heel").is_tight
    True
    """
    made = sample(sock) if isinstance(sock, Sock) else sock
    ridges = (RIDGE.text,) if RIDGE in made.pattern.steps else ()
    with watched(progress):
        girths = made.girths
    return judged(made.sock, girths, made.sock.foot if foot is None else foot, ridges=ridges)


def judged(
    sock: Sock, girths: Mapping[str, Length], on: Foot, *, ridges: tuple[str, ...] = ()
) -> Fit:
    """Return how a sock of these girths sits on a foot; the girths by place, as a sample has them.

    The one place where a sock is judged, whether its girths were measured or estimated.
    """
    top_scale, how = _rib(sock, COURSEWISE)
    ankle_scale = ribbed(ANKLE, *_rest_of(sock)) if _has_ribbed_leg(sock) else ANKLE
    heel_scale = attrs.evolve(COURSEWISE, close=_aslant(COURSEWISE.close))
    long = taped(sock.plan().measure("foot length").finished, sock.hands, TapeLine.ALONG)
    places = (
        Place("ball", on.ball_girth, girths["ball"], _held_scale(sock, COURSEWISE)),
        Place("instep", on.instep_girth, girths["instep"]),
        Place("heel", on.heel_girth, girths["heel"], heel_scale),
        Place("ankle", on.ankle_girth, girths["ankle"], ankle_scale),
        Place("top", on.leg_girth, girths["top"], top_scale),
        Place("length", on.length, long, WALEWISE),
    )
    unknown = {"instep"} if on.scale == 1 else {"instep", "ankle", "top"}
    unjudged = [p.place for p in places if p.place in unknown and p.foot.is_estimated]
    return Fit(
        places=tuple(place for place in places if place.place not in unjudged),
        passages=(
            Passage("the leg over the heel", on.heel_girth, girths["leg"], _leg_limit(sock)),
            Passage("the top over the heel", on.heel_girth, girths["top"]),
        ),
        asked_ease=sock.ease,
        ridges=ridges,
        notes=(ASLANT, *how, *_of_panel(sock), *_of_floats(sock)),
        unjudged=tuple(unjudged),
        accuracy=accuracy(sock.hands),
    )


def _floats(sock: Sock, part: SockPart) -> list[Limit]:
    """Return where floats hold a part's fabric; nothing where it has none."""
    those = (one for one in sock.all_round if one.part is part and one.is_stranded)
    return [held(one.stretch) for one in those]


def _leg_limit(sock: Sock) -> Limit:
    return min([GOING_ON, *_floats(sock, SockPart.LEG)], key=lambda limit: limit.stretch)


def _held_scale(sock: Sock, scale: Scale) -> Scale:
    for limit in _floats(sock, SockPart.FOOT):
        scale = stranded(scale, limit)
    return scale


def _of_floats(sock: Sock) -> tuple[str, ...]:
    """Return what is to be said of colours that take turns."""
    unmeasured = any(one.is_stranded and one.stretch is None for one in sock.all_round)
    return (STRANDED_NOTE,) if unmeasured else ()


def accuracy(hands: Hands | None) -> str:
    """Return how good girths are, and from how many measured pieces that is known."""
    if hands is None or not hands.pieces:
        return UNMEASURED
    _, sd = hands.factor(TapeLine.OVER_THE_HEEL)
    said = f"{hands}".removeprefix("by ")
    return (
        f"By {said}. Girths over the heel, instep and ankle are calculated, corrected so, and good "
        f"to about {200 * sd:.0f} %."
    )


def _of_panel(sock: Sock) -> tuple[str, ...]:
    """Return what is to be said of a panel on the instep."""
    rest = sock.panel_rest
    if rest is None or rest.how == "as stocking stitch":
        return ()
    if rest.is_rib:
        return (PANEL_RIB.format(share=100 * rest.width, how=rest.how),)
    return (PANEL_WIDE.format(how=rest.how) if rest.is_known else PANEL_UNKNOWN,)


def _sits(place: Place) -> Sits:
    return Sits(place.place, place.feel, place.tight, place.loose, place.foot.is_estimated)


def _aslant(limit: Limit) -> Limit:
    return attrs.evolve(limit, sd=math.hypot(limit.sd, _ASLANT_SD))


def _has_ribbed_leg(sock: Sock) -> bool:
    return isinstance(sock.leg, RibbedLeg) and sock.cuff.is_rib


def _rib(sock: Sock, scale: Scale) -> tuple[Scale, tuple[str, ...]]:
    """Return the scale for the top, and what is to be said of its rib."""
    if not sock.cuff.is_rib:
        return scale, ()
    rest, sd, how = _rest_of(sock)
    return ribbed(scale, rest, sd, how), (RIBBED.format(share=100 * rest, how=how),)


def _rest_of(sock: Sock) -> tuple[float, float, str]:
    """Return a rib's width at rest over that of plain fabric, its relative SD, and the source."""
    if sock.rib_gauge is not None:
        rib, plain = sock.rib_gauge, sock.gauge
        sd = math.hypot(
            rib.stitches_sd / rib.stitches_per_cm, plain.stitches_sd / plain.stitches_per_cm
        )
        return plain.stitches_per_cm / rib.stitches_per_cm, sd, "by its own gauge"
    rest, sd = rib_rest(*_knit_and_purl(sock.cuff))
    return rest, sd, f"a model's estimate, good to {200 * sd:.0f} %; measure it for a better one"


def _knit_and_purl(cuff: Cuff) -> tuple[int, int]:
    """Return the stitches of a repeat that are knitted and purled."""
    purl = taken(tuple(run for run in cuff.repeat if run.stitch.startswith("p")))
    return cuff.multiple - purl, purl


def _row(one: Stretch, feel: str, limit: Limit) -> str:
    low, high = one.interval
    cells = (
        f"{one.foot.mm:.0f} ± {one.foot.sd_mm:.0f}", f"{one.sock.mm:.0f} ± {one.sock.sd_mm:.0f}",
        f"{one.stretch:.2f}", f"{low:.2f} to {high:.2f}", feel, f"{limit.stretch:.2f}",
        per_cent(one.chance_over(limit)),
    )  # fmt: skip
    return f"<tr><th>{escape(one.place)}</th>{''.join(f'<td>{cell}</td>' for cell in cells)}</tr>"
