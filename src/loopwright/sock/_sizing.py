"""From a girth or a length to a number of stitches or rounds, and what rounding did to it.

A fabric has whole stitches, a rib has whole repeats, and a heel wants an even share. So a measure
is met only nearly. Every count here carries what was asked and what it gives. So a plan can say "64
stitches: 200 mm, 2.6 mm less than asked" without working it out again.

Ease is the sock less the foot, as a fraction of the foot. -0.10 is ten per cent of negative ease,
the usual for socks round the foot (10 to 20 % in published advice). Lengthwise a sock is knitted
about 1 cm or half an inch shorter than the foot, by the same sources.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import attrs

from loopwright.errors import SizingError
from loopwright.gauge import Gauge
from loopwright.length import Length
from loopwright.plurals import plural

__all__ = [
    "Fitted",
    "HeelShare",
    "Multiple",
    "common_multiple",
    "fit_rounds",
    "fit_stitches",
    "heel_share",
    "rounds_between",
    "rounds_up",
]


@attrs.frozen
class Multiple:
    """Counts that suit a stitch pattern: a multiple of `of`, plus `plus`.

    Examples
    --------
    >>> Multiple(4, 2).suits(62), Multiple(4, 2).suits(64)
    (True, False)
    """

    of: int = 1
    plus: int = 0

    def __attrs_post_init__(self) -> None:
        if self.of < 1 or self.plus < 0:
            found = f"a multiple of {self.of} plus {self.plus}"
            raise SizingError("multiple", found, "expected at least 1, plus at least 0")

    def suits(self, count: int) -> bool:
        """Whether this number of stitches suits the pattern."""
        return count >= self.plus and (count - self.plus) % self.of == 0

    def __str__(self) -> str:
        return f"a multiple of {self.of}" + (f" plus {self.plus}" if self.plus else "")


def common_multiple(multiples: Iterable[Multiple | int]) -> Multiple:
    """Return the counts that suit all of these patterns.

    Raises
    ------
    SizingError
        No count suits them all.

    Examples
    --------
    >>> print(common_multiple([4, Multiple(6, 2)]))
    a multiple of 12 plus 8
    """
    rules = [rule if isinstance(rule, Multiple) else Multiple(rule) for rule in multiples]
    of = math.lcm(*(rule.of for rule in rules))
    least = max((rule.plus for rule in rules), default=0)
    for plus in range(least, least + of):
        if all(rule.suits(plus) for rule in rules):
            # A remainder of 0 needs no plus unless a pattern has more edge stitches than that.
            return Multiple(of, plus) if plus % of or least else Multiple(of)
    raise SizingError("stitch patterns", " and ".join(map(str, rules)), "no count suits them all")


@attrs.frozen
class Fitted:
    """A whole number of stitches or courses for a length that was asked.

    Parameters
    ----------
    count : int
    asked : float
        The number before rounding.
    unit : str
        ``"stitch"`` or ``"course"``.
    asked_mm : float, mm
        The length on the fabric that was asked, ease taken off.
    finished : Length
        How long the count is at the gauge.

    Examples
    --------
    >>> fitted = fit_stitches(225.0, Gauge.of(32, 44))
    >>> print(fitted)
    64 stitches: 200.0 ± 1.8 mm, 2.5 mm less than the 202.5 mm asked
    >>> round(fitted.moved, 1), fitted.moved_mm
    (-0.8, -2.5)
    """

    count: int
    asked: float
    unit: str
    asked_mm: float
    finished: Length

    @property
    def moved(self) -> float:
        """How far rounding moved the number, in stitches or courses."""
        return self.count - self.asked

    @property
    def moved_mm(self) -> float:
        """How far rounding moved the finished measure, mm."""
        return self.finished.mm - self.asked_mm

    def __str__(self) -> str:
        plural = {"stitch": "stitches", "course": "courses"}[self.unit]
        moved, words = abs(self.moved_mm), "more" if self.moved_mm > 0 else "less"
        more = f"{moved:.1f} mm {words} than the {self.asked_mm:.1f} mm asked"
        return (
            f"{self.count} {self.unit if self.count == 1 else plural}: "
            f"{self.finished.mm:.1f} ± {self.finished.sd_mm:.1f} mm"
            f", {more if moved >= 0.05 else 'as asked'}"
        )


def fit_stitches(
    girth_mm: float,
    gauge: Gauge,
    *,
    ease: float = -0.10,
    multiple: Multiple | int | Iterable[Multiple | int] = 4,
    at_least: int = 8,
) -> Fitted:
    """Return how many stitches go round a girth.

    Parameters
    ----------
    girth_mm : float, mm
        Of the foot or leg.
    gauge : Gauge
    ease : float
        The sock less the foot, as a fraction of the foot; negative for a close fit.
    multiple : Multiple or int, or several
        What the rib and the construction divide by; several must all be met.
    at_least : int, stitches
        Fewer are never given.

    Returns
    -------
    Fitted
        The nearest count that suits; of two as near, the smaller, since fabric stretches.

    Raises
    ------
    SizingError
        A girth or an ease out of reason, or patterns that no count suits.

    Examples
    --------
    >>> fit_stitches(9 * 25.4, Gauge.of(7.5, 10, over="1 in"), ease=-0.10).count
    60
    """
    if not -0.5 < ease < 1.0:
        hint = "; write 10 % of negative ease as -0.10" if abs(ease) >= 1 else ""
        raise SizingError("ease", f"{ease:g}", f"expected more than -0.5 and less than 1{hint}")
    asked_mm = _positive("girth", girth_mm) * (1 + ease)
    asked = asked_mm / gauge.stitch_width_mm
    count = _nearest(asked, _together(multiple), at_least)
    return Fitted(count, asked, "stitch", asked_mm, gauge.width(count))


def fit_rounds(
    length_mm: float,
    gauge: Gauge,
    *,
    ease_mm: float = 0.0,
    multiple: Multiple | int | Iterable[Multiple | int] = 1,
    at_least: int = 0,
) -> Fitted:
    """Return how many rounds or rows make a length.

    Parameters
    ----------
    length_mm : float, mm
    gauge : Gauge
    ease_mm : float, mm
        Added to the length; -10 for a foot knitted 1 cm short.
    multiple : Multiple or int, or several
        What the rounds divide by: 2 where every other one is a decrease round.
    at_least : int, courses

    Raises
    ------
    SizingError
        A length that the ease takes away entirely, or below zero.

    Examples
    --------
    >>> print(fit_rounds(50.0, Gauge.of(32, 44), multiple=2))
    22 courses: 50.0 ± 0.3 mm, as asked
    """
    asked_mm = length_mm + ease_mm
    if not (math.isfinite(asked_mm) and asked_mm >= 0):
        found = f"{length_mm:g} mm with an ease of {ease_mm:g} mm"
        raise SizingError("length", found, "expected something to knit")
    asked = asked_mm / gauge.course_height_mm
    count = _nearest(asked, _together(multiple), at_least)
    return Fitted(count, asked, "course", asked_mm, gauge.height(count))


def rounds_between(
    whole_mm: float,
    gauge: Gauge,
    *,
    heel_mm: float,
    toe_mm: float,
    ease_mm: float = 0.0,
    multiple: Multiple | int | Iterable[Multiple | int] = 1,
) -> Fitted:
    """Return the plain rounds of the foot, once heel and toe have had their share of its length.

    Parameters
    ----------
    whole_mm : float, mm
        The foot's length, back of the heel to the tip of the toes.
    gauge : Gauge
    heel_mm, toe_mm : float, mm
        What heel and toe, as they are knitted, add along the sole.
    ease_mm : float, mm
        The sock's length less the foot's.
    multiple : Multiple or int, or several

    Raises
    ------
    SizingError
        Heel and toe are longer than the foot.

    Examples
    --------
    >>> rounds_between(246.0, Gauge.of(32, 44), heel_mm=50.0, toe_mm=48.0, ease_mm=-10.0).count
    61
    """
    left = _positive("foot's length", whole_mm) + ease_mm - heel_mm - toe_mm
    if not left >= 0:
        raise SizingError(
            "foot",
            f"{whole_mm + ease_mm:.0f} mm, of which heel {heel_mm:.0f} mm, toe {toe_mm:.0f} mm",
            "make the heel or the toe shorter: fewer rounds, or more stitches left at its end",
        )
    return fit_rounds(left, gauge, multiple=multiple)


def rounds_up(whole_mm: float, others_mm: float, gauge: Gauge) -> Fitted:
    """Return the rounds of the leg, once heel and cuff have had their share of its height.

    Raises
    ------
    SizingError
        Heel and cuff are higher than the leg.

    Examples
    --------
    >>> rounds_up(200.0, 90.0, Gauge.of(32, 44)).count
    48
    """
    left = whole_mm - others_mm
    if left < 0:
        found = f"{whole_mm:.0f} mm, of which heel and cuff {-left:.0f} mm more"
        raise SizingError("leg height", found, "make the cuff lower or the leg higher")
    return fit_rounds(left, gauge)


@attrs.frozen
class HeelShare:
    """How a round is divided between heel and instep.

    Parameters
    ----------
    heel, instep : int, stitches
    asked : float
        The heel's share that was asked.
    """

    heel: int
    instep: int
    asked: float

    @property
    def share(self) -> float:
        """The heel's share as it came out."""
        return self.heel / (self.heel + self.instep)

    @property
    def moved(self) -> float:
        """How far rounding moved the heel, in stitches."""
        return self.heel - self.asked * (self.heel + self.instep)

    def __str__(self) -> str:
        return (
            f"heel {self.heel}, instep {self.instep} stitches: {100 * self.share:.1f} % "
            f"({100 * self.asked:.1f} % asked)"
        )


def heel_share(
    stitches: int, share: float = 0.5, *, multiple: Multiple | int = 2, instep_multiple: int = 1
) -> HeelShare:
    """Divide a round between heel and instep.

    Parameters
    ----------
    stitches : int
        Of the whole round.
    share : float
        The heel's: 0.5 is usual, 0.6 where the heel is tight over a high instep.
    multiple : Multiple or int
        What the heel divides by; 1 where its middle may be a single stitch.
    instep_multiple : int
        What the instep divides by, for a panel on it.

    Raises
    ------
    SizingError
        A share outside 0.3 to 0.75, or no division that both multiples allow.

    Examples
    --------
    >>> print(heel_share(64, 0.6))
    heel 38, instep 26 stitches: 59.4 % (60.0 % asked)
    """
    if not 0.3 <= share <= 0.75:
        raise SizingError("heel's share", f"{share:g}", "expected 0.3 to 0.75 of the round")
    rule = multiple if isinstance(multiple, Multiple) else Multiple(multiple)
    heels = [
        heel
        for heel in range(2, stitches - 1)
        if rule.suits(heel) and (stitches - heel) % instep_multiple == 0
    ]
    if not heels:
        found = f"{plural(stitches, 'stitch')}, heel {rule}, instep a multiple of {instep_multiple}"
        raise SizingError("heel", found, "no division suits; change the round's count")
    heel = min(heels, key=lambda count: (abs(count - share * stitches), count))
    return HeelShare(heel, stitches - heel, share)


def _together(multiple: Multiple | int | Iterable[Multiple | int]) -> Multiple:
    several = (multiple,) if isinstance(multiple, Multiple | int) else multiple
    return common_multiple(several)


def _nearest(asked: float, rule: Multiple, at_least: int) -> int:
    """Nearest count that suits, not below `at_least`; the smaller of two that are as near."""
    steps = (asked - rule.plus) / rule.of
    lowest = max(math.ceil((at_least - rule.plus) / rule.of), 0)
    return rule.plus + rule.of * max(math.ceil(steps - 0.5 - 1e-9), lowest)


def _positive(what: str, mm: float) -> float:
    if not (math.isfinite(mm) and mm > 0):
        raise SizingError(what, f"{mm:g} mm", "expected a length above zero")
    return mm
