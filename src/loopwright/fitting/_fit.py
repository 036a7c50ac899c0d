"""Will it go over the heel, and how will it sit: a sock on a foot, place by place.

At each place the foot's girth over the relaxed sock's is the stretch that is asked of the fabric.
Both girths are uncertain; so is their ratio, taken as log-normal. A verdict therefore is a chance,
beside the limit that it is a chance of passing. Chances say nothing of what nobody measured: how
one pair of hands differs from the swatch, how a fabric tires, what a wearer calls tight.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cached_property
from html import escape
from typing import Final

import attrs

from loopwright.fitting._sample import Sample, sample
from loopwright.fitting.limits import COURSEWISE, TOP, TUBE, WALEWISE, Feel, Limit, Scale
from loopwright.length import Length
from loopwright.sock import TIGHT_BAND, RibbedLeg, Sock
from loopwright.sock.foot import Foot
from loopwright.sock.heels import RIDGE

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
    "per_cent",
]

_TWO_SIDED = 1.959964  # standard deviations to either side that hold 95 in 100
_LIKELY: Final = 0.25  # chance of being tight from which a caution is due: our choice

CAUTION: Final = (
    "A tight sock can wound a foot with diabetes, neuropathy or swelling unnoticed: ask a "
    "clinician before it is worn."
)
UNMEASURED: Final = (
    "Girths over the heel, instep and ankle are calculated and good to about 9 %, as long as no "
    "knitted sample was measured; differences between two heels are safer."
)
RIBBED: Final = (
    "A rib is counted at the width of its stitches in plain fabric, whatever its own gauge (common "
    "practice: a ribbed top has as many stitches as the leg): at rest it draws in, and it gives "
    "about twice as much."
)
ASLANT: Final = (
    "The line over the heel runs partly along the wales, where fabric gives half as much: its "
    "limit is lower than stated, by an amount that nobody measured."
)


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

    def chance_over(self, stretch: float) -> float:
        """Return the chance that the stretch is more than this one, 0 to 1.

        Examples
        --------
        >>> heel = Stretch("heel", Length(310.0, 8.0), Length(248.0, 11.0))
        >>> round(heel.chance_over(1.25), 2), round(heel.chance_over(1.40), 3)
        (0.5, 0.014)
        """
        away = math.log(self.stretch / stretch)
        if not self.relative_sd:
            return float(away > 0)
        return 0.5 * math.erfc(-away / self.relative_sd / math.sqrt(2))


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
    def is_tight(self) -> bool:
        """Whether it may well be tighter than advised: a chance of 1 in 4 or more."""
        return self.chance_over(self.scale.close.stretch) >= _LIKELY

    def chances(self) -> dict[Feel, float]:
        """Return the chance of each way to sit; they add up to 1."""
        over = [1.0, *(self.chance_over(limit.stretch) for limit in self.scale.limits), 0.0]
        return {feel: over[at] - over[at + 1] for at, feel in enumerate(Feel)}

    def __str__(self) -> str:
        close, loose = self.scale.close.stretch, self.scale.loose.stretch
        low, high = self.interval
        return (
            f"{self.place}: {self.feel.value}; stretched {self.stretch:.2f} times ({low:.2f} to "
            f"{high:.2f}); {per_cent(self.chance_over(close))} more than {close:.2f}, "
            f"{per_cent(1 - self.chance_over(loose))} loose"
        )


@attrs.frozen(slots=False)
class Passage(Stretch):
    """A part of the sock that must pass over the heel when the sock is put on.

    Parameters
    ----------
    limit : Limit
    """

    limit: Limit = TOP

    @property
    def is_doubtful(self) -> bool:
        """Whether it may well not pass: a chance of 1 in 4 or more."""
        return self.chance_over(self.limit.stretch) >= _LIKELY

    def __str__(self) -> str:
        low, high = self.interval
        return (
            f"{self.place}: must stretch {self.stretch:.2f} times ({low:.2f} to {high:.2f}); "
            f"{per_cent(self.chance_over(self.limit.stretch))} more than {self.limit.stretch:.2f}"
        )


@attrs.frozen(kw_only=True)
class Fit:
    """A sock on a foot.

    Parameters
    ----------
    places : tuple of Place
        Ball, instep, heel, ankle, top, and the length of the foot.
    passages : tuple of Passage
        Top and leg over the heel.
    asked_ease : float
        Negative ease that was asked for at the ball, as a fraction.
    ridges : tuple of str
        What the pattern says of its ridges.
    notes : tuple of str
        What is assumed.

    See Also
    --------
    fit : makes one.

    Examples
    --------
    A child's sock, its heel tight over a high instep:

    >>> from loopwright.gauge import Gauge
    >>> foot = Foot.of(length="16 cm", ball_girth="15.5 cm", heel_girth="22 cm")
    >>> sits = fit(sample(Sock(foot=foot, gauge=Gauge.of(14, 20)), quick=True))
    >>> sits.tightest.place, sits.tightest.feel
    ('heel', <Feel.TIGHT: 'tight'>)
    >>> max(sits.at("heel").chances().values()) > 0.8
    True
    >>> sits.heel_over_ball > 1.1  # stretched that much more than the ball
    True
    >>> f"{sits.asked_ease:+.0%} asked, {sits.got_ease:+.0%} of whole stitches"
    '-10% asked, -8% of whole stitches'
    >>> [passage.place for passage in sits.passages if passage.is_doubtful]
    []
    >>> print(sits.cautions[0])
    A tight sock can wound a foot with diabetes, neuropathy or swelling unnoticed: ask a ...

    What a limit rests on is told with it:

    >>> for limit in sits.limits()[1:3]:
    ...     print(limit)
    1.11: 10 % of negative ease (pages for sock knitters: 'Ease-y Socks'; 'Fitting Socks', ...)
    1.25: 20 % of negative ease, the most that is advised (page 'Knit socks with ...)
    """

    places: tuple[Place, ...]
    passages: tuple[Passage, ...]
    asked_ease: float
    ridges: tuple[str, ...] = ()
    notes: tuple[str, ...] = (ASLANT,)

    def at(self, name: str) -> Place:
        """Return the place of this name; `KeyError` lists those there are."""
        for place in self.places:
            if place.place == name:
                return place
        raise KeyError(f"no place {name!r}; there are: {', '.join(p.place for p in self.places)}")

    @property
    def tightest(self) -> Place:
        """The place with the greatest chance of being tighter than advised."""
        return max(self.places, key=lambda p: (p.chance_over(p.scale.close.stretch), p.stretch))

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
        band = (TIGHT_BAND.text,) if self.at("top").is_tight else ()
        return (*((CAUTION,) if tight or doubtful else ()), *band, *self.ridges)

    @property
    def verdict(self) -> str:
        """The whole in words: goes it on, how does it sit, and how sure is that."""
        return f"{self._going_on} {self._sitting} {self._evenness}"

    @property
    def _going_on(self) -> str:
        worst = max(self.passages, key=lambda p: p.chance_over(p.limit.stretch))
        chance = 1 - worst.chance_over(worst.limit.stretch)
        doubt = f"by the limit of {worst.limit.stretch:.2f} for {worst.place}"
        return f"It goes on with a chance of {per_cent(chance)}, {doubt}."

    @property
    def _sitting(self) -> str:
        tight = [place for place in self.places if place.is_tight]
        loose = [p for p in self.places if 1 - p.chance_over(p.scale.loose.stretch) >= _LIKELY]
        told = [("tight", p.place, p.chance_over(p.scale.close.stretch)) for p in tight]
        told += [("loose", p.place, 1 - p.chance_over(p.scale.loose.stretch)) for p in loose]
        if told:
            ways = [_places(way, told) for way in ("tight", "loose")]
            return f"It may be {', and '.join(way for way in ways if way)}."
        worst = self.tightest
        chance = per_cent(worst.chance_over(worst.scale.close.stretch))
        return f"No place is likely to be tight; the {worst.place} is with a chance of {chance}."

    @property
    def _evenness(self) -> str:
        more = 100 * (self.heel_over_ball - 1)
        if abs(more) < 0.5:
            return "The heel is stretched as much as the ball."
        word = "more" if more > 0 else "less"
        return f"The heel is stretched {abs(more):.0f} % {word} than the ball."

    def limits(self) -> tuple[Limit, ...]:
        """Return the limits that were used, each once."""
        used = [limit for place in self.places for limit in place.scale.limits]
        return tuple(dict.fromkeys([*used, *(passage.limit for passage in self.passages)]))

    @property
    def _judged_by(self) -> tuple[Limit, ...]:
        """The limits that the chances are told of, each once."""
        used = [place.scale.close for place in self.places]
        return tuple(dict.fromkeys([*used, *(passage.limit for passage in self.passages)]))

    def __str__(self) -> str:
        ease = (
            f"ease at the ball: asked {100 * self.asked_ease:+.0f} %, "
            f"comes to {100 * self.got_ease:+.1f} %"
        )
        cautions = [f"Caution: {text}" for text in self.cautions]
        limits = [f"Limit {limit}" for limit in self._judged_by]
        lines = [*map(str, self.places), *map(str, self.passages), ease, *limits, *cautions]
        return "\n".join([self.verdict, *lines, *self.notes, UNMEASURED])

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
            f"<table><caption>{escape(self.verdict)}</caption><thead><tr>{head}</tr></thead>"
            f"<tbody>{''.join(rows)}</tbody></table>{cautions}"
            f"{notes}<p>{escape(UNMEASURED)}</p><ul>{limits}</ul>"
        )


def fit(sock: Sock | Sample, foot: Foot | None = None) -> Fit:
    """Return how a sock sits on a foot.

    Parameters
    ----------
    sock : Sock or Sample
        A sock is knitted and relaxed first, which takes a second or two.
    foot : Foot, optional
        The sock's own by default; another to see whom it fits besides.

    Raises
    ------
    UnsoundFabricError
        The checks found a mistake in the fabric.
    ShapeError
        The relaxed sock has no heel.

    Notes
    -----
    Stretch is judged along the courses; a line over the heel runs partly along the wales, where
    the fabric gives half as much, so that the limit of a heel is rather lower than stated. A rib
    is counted at the width of its stitches in plain fabric: it draws in at rest, and gives about
    twice as much.

    Examples
    --------
    >>> from loopwright.gauge import Gauge
    >>> foot = Foot.of(length="16 cm", ball_girth="15.5 cm", heel_girth="22 cm")
    >>> sits = fit(Sock(foot=foot, gauge=Gauge.of(14, 20)))
    >>> print(sits.at("ball"))
    ball: easy; stretched 1.09 times (1.03 to 1.15); under 1 % more than 1.25, under 1 % loose
    >>> sits.at("heel").is_tight
    True
    """
    made = sample(sock) if isinstance(sock, Sock) else sock
    on = made.sock.foot if foot is None else foot
    girths = made.girths
    long = made.plan.measure("foot length").finished
    return Fit(
        places=(
            Place("ball", on.ball_girth, girths["ball"]),
            Place("instep", on.instep_girth, girths["instep"]),
            Place("heel", on.heel_girth, girths["heel"]),
            Place("ankle", on.ankle_girth, girths["ankle"]),
            Place("top", on.leg_girth, girths["top"]),
            Place("length", on.length, long, WALEWISE),
        ),
        passages=(
            Passage("the top over the heel", on.heel_girth, girths["top"], TOP),
            Passage("the leg over the heel", on.heel_girth, girths["leg"], TUBE),
        ),
        asked_ease=made.sock.ease,
        ridges=(RIDGE.text,) if RIDGE in made.pattern.steps else (),
        notes=(ASLANT, RIBBED) if _is_ribbed(made.sock) else (ASLANT,),
    )


def _is_ribbed(sock: Sock) -> bool:
    return sock.cuff.is_rib or isinstance(sock.leg, RibbedLeg)


def per_cent(chance: float) -> str:
    """Return a chance in words; nothing that was measured is certain.

    Examples
    --------
    >>> per_cent(0.001), per_cent(0.56), per_cent(0.999)
    ('under 1 %', '56 %', 'over 99 %')
    """
    if chance < 0.005:
        return "under 1 %"
    return "over 99 %" if chance > 0.995 else f"{100 * chance:.0f} %"


def _places(way: str, told: Sequence[tuple[str, str, float]]) -> str:
    """Return how it may sit where, with chances: "tight at the heel (56 %) and the top (74 %)"."""
    places = [f"the {place} ({per_cent(chance)})" for how, place, chance in told if how == way]
    *first, last = places or [""]
    return f"{way} at {' and '.join([', '.join(first), last] if first else [last])}" if last else ""


def _row(one: Stretch, feel: str, limit: Limit) -> str:
    low, high = one.interval
    cells = (
        f"{one.foot.mm:.0f} ± {one.foot.sd_mm:.0f}", f"{one.sock.mm:.0f} ± {one.sock.sd_mm:.0f}",
        f"{one.stretch:.2f}", f"{low:.2f} to {high:.2f}", feel, f"{limit.stretch:.2f}",
        per_cent(one.chance_over(limit.stretch)),
    )  # fmt: skip
    return f"<tr><th>{escape(one.place)}</th>{''.join(f'<td>{cell}</td>' for cell in cells)}</tr>"
