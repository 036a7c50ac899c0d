"""How much yarn a loop takes, from the gauge: the geometry of relaxed plain knitting.

In a relaxed plain fabric the loop length ``l`` fixes the gauge, whatever the yarn [1]_::

    courses per cm = Kc / l    wales per cm = Kw / l    loops per cm² = Kc Kw / l²    (l in cm)

so the gauge tells the loop length. A hand-knitted fabric seldom has exactly the ratio Kc / Kw of
courses to wales; then the two equations disagree. What they disagree by goes into the uncertainty,
with that of the constants (2 % each) and that of the gauge. The constants hold for plain fabric;
ribs have none that are safe (they change with the loop length).

References
----------
.. [1] D. L. Munden, "The geometry and dimensional properties of plain-knit fabrics", Journal of
   the Textile Institute 50, 1959, T448. The pair 5.5 and 4.2 is used in a published examination
   (GATE 2015, Textile Engineering, question 54). The others, and the 2 % (Knapton and others,
   1968), are quoted from memory.
"""

from __future__ import annotations

import math

import attrs

from loopwright.errors import YarnError
from loopwright.gauge import Gauge, Relaxation
from loopwright.length import Length, Origin

__all__ = [
    "CONSTANTS",
    "Constants",
    "loop_length",
    "loops_per_cm2",
    "mass_per_m2",
    "tightness",
]

_CONSTANT_SD = 0.02 / math.sqrt(2)  # of l: 2 % in Kc and in Kw, and l goes with √(Kc Kw)
_AS_KNITTED_SD = 0.04  # of l: an unrelaxed fabric obeys no constants; a guess


@attrs.frozen
class Constants:
    """Dimensional constants of relaxed plain knitting, for a loop length in cm.

    Parameters
    ----------
    kc, kw : float
        Courses and wales per cm, times the loop length in cm.
    source : str

    Examples
    --------
    >>> full = CONSTANTS[Relaxation.FULL]
    >>> round(full.ks, 2), round(full.shape, 2)
    (23.1, 1.31)
    """

    kc: float
    kw: float
    source: str

    @property
    def ks(self) -> float:
        """Loops per cm², times the loop length in cm squared."""
        return self.kc * self.kw

    @property
    def shape(self) -> float:
        """Courses to wales in a square of fabric."""
        return self.kc / self.kw


CONSTANTS = {
    Relaxation.DRY: Constants(5.0, 3.8, "Munden 1959, wool, dry relaxed; from memory"),
    Relaxation.WASHED: Constants(5.3, 4.1, "Munden 1959, wool, wet relaxed; from memory"),
    Relaxation.FULL: Constants(5.5, 4.2, "GATE 2015, question 54; Munden 1959"),
    # No fabric fresh from the needles is relaxed; it is nearest to the dry-relaxed state.
    Relaxation.AS_KNITTED: Constants(5.0, 3.8, "as dry relaxed, for want of better"),
}
"""Constants by state of relaxation."""


def loop_length(gauge: Gauge) -> Length:
    """Return the yarn in one plain loop.

    Parameters
    ----------
    gauge : Gauge
        Of plain fabric; its state chooses the constants.

    Returns
    -------
    Length

    Examples
    --------
    >>> print(loop_length(Gauge.of(32, 44, state=Relaxation.FULL)))
    12.8 ± 0.4 mm (calculated: Kc 5.5, Kw 4.2, fully relaxed)
    """
    constants = CONSTANTS[gauge.state]
    by_courses = constants.kc / gauge.courses_per_cm
    by_wales = constants.kw / gauge.stitches_per_cm
    relative = math.hypot(
        0.5 * gauge.stitches_sd / gauge.stitches_per_cm,
        0.5 * gauge.courses_sd / gauge.courses_per_cm,
        0.5 * math.log(by_courses / by_wales),
        _CONSTANT_SD,
        _AS_KNITTED_SD if gauge.state is Relaxation.AS_KNITTED else 0.0,
    )
    mm = 10 * math.sqrt(by_courses * by_wales)
    how = f"Kc {constants.kc:g}, Kw {constants.kw:g}, {gauge.state.value}"
    return Length(mm, mm * relative, Origin.CALCULATED, how)


def loops_per_cm2(loop_mm: float, state: Relaxation = Relaxation.FULL) -> float:
    """Return how many loops a square centimetre of plain fabric has.

    Examples
    --------
    >>> round(loops_per_cm2(5.0), 1)
    92.4
    """
    return CONSTANTS[state].ks / (_above_zero("loop length", loop_mm) / 10) ** 2


def mass_per_m2(loops_cm2: float, loop_mm: float, tex: float) -> float:
    """Return the weight of a square metre of plain fabric, g.

    Parameters
    ----------
    loops_cm2 : float, loops per cm²
    loop_mm : float, mm
    tex : float, g per 1000 m

    Notes
    -----
    S l tex / 100, from a textile handbook (Texcoms 2023, p. 147).

    Examples
    --------
    >>> round(mass_per_m2(92.4, 5.0, 30.0), 1)
    138.6
    """
    _above_zero("loops per cm²", loops_cm2)
    return loops_cm2 * _above_zero("loop length", loop_mm) * _above_zero("tex", tex) / 100


def tightness(loop_mm: float, tex: float) -> float:
    """Return the tightness factor √tex / l, l in mm.

    Machine-knitted plain fabrics lie at 1.3 to 1.5; hand-knitted sock fabric near 1.1.

    Examples
    --------
    >>> round(tightness(13.125, 238.1), 2)
    1.18
    """
    return math.sqrt(_above_zero("tex", tex)) / _above_zero("loop length", loop_mm)


def _above_zero(what: str, value: float) -> float:
    if not (math.isfinite(value) and value > 0):
        raise YarnError(what, f"{value:g}", "expected a number above zero")
    return value
