"""The foot that a sock is for: what was measured, and what had to be estimated.

Measures that nobody took are estimated from those that somebody did:

* those that the survey has, by `loopwright.sock.survey`;
* the instep girth, from the ball girth. The survey hasn't got it. Two places bear the name. Here
  it is the last-maker's: over the small bony prominence on the inner side of the foot, the tape
  passing under its hollow. A last-maker's table has it 1.0625 times the joint, and 0.75 of the
  heel girth (Golding, *The Manufacture of Boots and Shoes*, about 1902). With the survey's heel
  girth the latter is 1.02 times the ball. So it is taken as 1.04 ± 0.03. Knitters' 10 to 15 %
  above the foot's girth, where a gusset ends, are of a place nearer the ankle. An estimate this
  poor draws a foot form; no fit is judged by it;
* the height that the leg is to reach, 0.72 of the foot's length (from memory: the median of adult
  rows of a size chart), and the leg's girth there, between ankle and calf (common practice).

The longer a foot, the more feet of one sex differ from the regression. So the spread is taken in
proportion to the length. The survey's own feet bear this out. They spread 0.91 times as far as it
says at 2.3 SDs below the mean length, 1.03 times at one above, 1.07 to 1.2 times from 1.6 on.
Without it, only 60 in 100 of the feet over 295 mm lie within one SD.

Some feet are smaller or larger than any in the survey, children's above all. They are taken to
have the shape of its nearest foot, at another scale, and twice the uncertainty. That is a guess,
and too narrow by about a tenth for babies if the chart in ``sizes.toml`` is right: measure.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import attrs
import numpy as np

from loopwright import units
from loopwright._late import LatePackage
from loopwright.border import guard
from loopwright.errors import FootError
from loopwright.length import Length, Origin
from loopwright.shown import Shown
from loopwright.sock._shoes import ShoeScale, ShoeSize
from loopwright.sock.survey import Sex, condition, population

if TYPE_CHECKING:
    from loopwright import scanning
else:  # few feet are scanned
    scanning = LatePackage("loopwright.scanning")

__all__ = ["TAPE_SD_MM", "Foot", "complete"]

TAPE_SD_MM = 3.0  # mm, how far two readings of a tape differ: common practice, not from a study

# What nobody has, with room: from premature babies to the tallest people (from memory). mm.
_POSSIBLE = {
    "length": (50.0, 500.0),
    "ball_girth": (50.0, 450.0),
    "instep_girth": (50.0, 550.0),
    "heel_girth": (70.0, 650.0),
    "ankle_girth": (50.0, 500.0),
    "calf_girth": (60.0, 900.0),
    "leg_girth": (50.0, 900.0),
    "leg_height": (20.0, 700.0),
    "ball_length": (35.0, 400.0),
    "heel_breadth": (15.0, 150.0),
    "ball_breadth": (20.0, 200.0),
    "ankle_height": (15.0, 150.0),
}
# Smaller, larger, why: true of every one of the survey's 6,068 feet that has both.
_ORDER = (
    ("ball_girth", "heel_girth", "the heel girth goes over the heel and the front of the ankle"),
    ("instep_girth", "heel_girth", "the heel girth goes over the heel and the front of the ankle"),
    ("ankle_girth", "heel_girth", "a foot passes no ankle that is wider than its heel"),
    ("ankle_girth", "calf_girth", "the ankle girth is the smallest of the lower leg"),
    ("ball_length", "length", "the ball lies behind the toes"),
    ("ball_breadth", "ball_girth", "a girth goes round the breadth"),
    ("heel_breadth", "length", "a heel is narrower than the foot is long"),
)
_SUSPECT_SD = 4.5  # the survey's own 6,068 feet reach 4.7 in one measure given all the others
_INSTEP_TO_BALL, _INSTEP_SD = 1.04, 0.03  # from 1.02 to 1.0625: the two figures of the table above
_LEG_TO_LENGTH, _LEG_SD = 0.72, 0.05
# Heights of the smallest ankle girth and the largest calf girth above the floor, as multiples of
# the ankle bone's height and of the foot's length: from memory of drawings of legs.
_ANKLE_LEVEL, _CALF_LEVEL = 1.5, 1.3


@attrs.frozen(repr=False)
class Foot(Shown):
    """A foot's measures, each with its uncertainty and origin.

    Parameters
    ----------
    length : Length
        Back of the heel to the tip of the longest toe, standing.
    ball_girth : Length
        Round the ball, the foot's widest place before the toes.
    instep_girth : Length
        Over the small bony prominence on the inner side of the foot, above its hollow: about
        the middle of the foot's length. Not the place nearer the ankle where a gusset ends.
    heel_girth : Length
        Over the tip of the heel and the front of the ankle: what the sock must pass.
    ankle_girth : Length
        The smallest just above the ankle bones.
    leg_girth, leg_height : Length
        Round the leg where the sock is to end, and how high above the floor that is.
    calf_girth, ball_length, heel_breadth, ball_breadth, ankle_height : Length
        As in the survey, see ``survey.toml``.
    sex : Sex
        Which feet the missing measures were taken from.
    notes : tuple of str
        What a person should know about these measures.
    scale : float
        How many times larger the foot is than the nearest of the survey; 1 within it. Beyond it
        what was estimated is a guess.

    See Also
    --------
    Foot.of : from what was measured.

    Examples
    --------
    >>> foot = Foot.of(length="24.6 cm", ball_girth="9 in", sex=Sex.FEMALE)
    >>> print(foot.heel_girth)
    310.4 ± 8.1 mm (estimated from the survey: from ball girth, length; female)
    >>> [name for name, length in foot.measures() if not length.is_estimated]
    ['length', 'ball_girth']
    >>> foot.estimated[:3]
    ('instep_girth', 'heel_girth', 'ankle_girth')
    """

    length: Length
    ball_girth: Length
    instep_girth: Length
    heel_girth: Length
    ankle_girth: Length
    leg_girth: Length
    leg_height: Length
    calf_girth: Length
    ball_length: Length
    heel_breadth: Length
    ball_breadth: Length
    ankle_height: Length
    sex: Sex = Sex.UNKNOWN
    notes: tuple[str, ...] = ()
    scale: float = 1.0

    @classmethod
    def of(
        cls,
        *,
        length: units.QuantityLike | None = None,
        ball_girth: units.QuantityLike | None = None,
        instep_girth: units.QuantityLike | None = None,
        heel_girth: units.QuantityLike | None = None,
        ankle_girth: units.QuantityLike | None = None,
        leg_girth: units.QuantityLike | None = None,
        leg_height: units.QuantityLike | None = None,
        calf_girth: units.QuantityLike | None = None,
        ball_length: units.QuantityLike | None = None,
        heel_breadth: units.QuantityLike | None = None,
        ball_breadth: units.QuantityLike | None = None,
        ankle_height: units.QuantityLike | None = None,
        shoe: ShoeSize | str | None = None,
        sex: Sex | str | None = None,
        tape_sd: units.QuantityLike = f"{TAPE_SD_MM} mm",
    ) -> Foot:
        """Return a foot from the measures that were taken; the others are estimated.

        Parameters
        ----------
        length, ball_girth, ... : str or Quantity, optional
            At least one of them that the survey has, best length and ball girth.
        shoe : ShoeSize or str, optional
            Instead of a length, such as ``"EU 39"``; a Mondopoint width counts as ball breadth.
        sex : Sex or str, optional
            From the shoe's scale where that tells it, else unknown: the two are mixed.
        tape_sd : str or Quantity
            How uncertain a measured length or girth is, as a standard deviation.

        Raises
        ------
        FootError
            Nothing to go by, a measure that no foot has, or two that contradict each other.
        ShoeSizeError, UnitError
            From the shoe size, or from a length without a unit.

        Examples
        --------
        >>> Foot.of(length="2.45 m")
        Traceback (most recent call last):
          ...
        loopwright.errors.FootError: length: found 2450 mm; expected 50 to 500 mm; 245 mm may be
        meant
        """
        sex = None if sex is None else _as_sex(sex)
        given = {
            name: value
            for name, value in (
                ("length", length), ("ball_girth", ball_girth), ("instep_girth", instep_girth),
                ("heel_girth", heel_girth), ("ankle_girth", ankle_girth),
                ("leg_girth", leg_girth), ("leg_height", leg_height), ("calf_girth", calf_girth),
                ("ball_length", ball_length), ("heel_breadth", heel_breadth),
                ("ball_breadth", ball_breadth), ("ankle_height", ankle_height),
            )
            if value is not None
        }  # fmt: skip
        sd_mm = units.to_mm(tape_sd, what="uncertainty of the tape")
        known = {
            name: Length(units.to_mm(value, what=_words(name)), sd_mm, Origin.MEASURED)
            for name, value in given.items()
        }
        if shoe is not None:
            size = ShoeSize.of(shoe) if isinstance(shoe, str) else shoe
            known = _with_shoe(known, size, sd_mm)
            sex = sex or _WEARER.get(size.scale)
        return complete(known, sex or Sex.UNKNOWN)

    @classmethod
    def from_scan(
        cls,
        scan: scanning.FootScan | Path | str | bytes,
        *,
        unit: str | None = None,
        side: scanning.FootSide | str | None = None,
        leg_height: units.QuantityLike | None = None,
        sex: Sex | str | None = None,
    ) -> Foot:
        """Return a foot from a scan of it; what the scan doesn't show is estimated.

        Parameters
        ----------
        scan : FootScan, Path, str or bytes
            A PLY, OBJ or STL file, or what `read_scan` made of one.
        unit, side, leg_height : optional
            As `loopwright.scanning.read_scan` takes them, for a file.
        sex : Sex or str, optional
            Whose feet the missing measures are taken from; by default of both.

        Raises
        ------
        ScanError
            No mesh, one too large, two feet, or nothing that looks like a foot.
        FootError
            Measures that no foot has.
        MissingExtraError
            The reader of meshes is not installed: it comes with the extra ``scan``.

        Examples
        --------
        >>> from loopwright.fitting import foot_form
        >>> from loopwright.geometry import export
        >>> mesh = foot_form(Foot.of(length="24.6 cm", ball_girth="22.8 cm")).surface
        >>> foot = Foot.from_scan(export(mesh, "stl"), unit="mm", sex="female")
        >>> print(foot.ball_girth)
        228... ± ... mm (measured: on a scan)
        >>> foot.estimated
        ('calf_girth', 'ankle_height')
        """
        if not isinstance(scan, scanning.FootScan):
            scan = scanning.read_scan(scan, unit=unit, side=side, leg_height=leg_height)
        elif (unit, side, leg_height) != (None, None, None):
            found = "a unit, a side or a leg's height"
            raise FootError("scan", found, "give these to read_scan: this one is measured")
        foot = complete(scan.measures, Sex.UNKNOWN if sex is None else _as_sex(sex))
        return attrs.evolve(foot, notes=(*scan.remarks, *foot.notes))

    @property
    def estimated(self) -> tuple[str, ...]:
        """Names of the measures that nobody took."""
        return tuple(name for name, length in self.measures() if length.is_estimated)

    def measures(self) -> Iterator[tuple[str, Length]]:
        """Yield each measure's name and length, in the order of the fields."""
        for name in _POSSIBLE_IN_ORDER:
            yield name, getattr(self, name)

    def __str__(self) -> str:
        lines = [f"{_words(name):<13} {length}" for name, length in self.measures()]
        return "\n".join([*lines, *(f"Note: {note}" for note in self.notes)])


def _as_sex(value: Sex | str) -> Sex:
    words = {sex.value: sex for sex in Sex}
    if isinstance(value, Sex) or value in words:
        return value if isinstance(value, Sex) else words[value]
    raise FootError("sex", repr(value), f"expected {', '.join(words)}: the survey's groups")


_WEARER = {ShoeScale.US_MEN: Sex.MALE, ShoeScale.US_WOMEN: Sex.FEMALE}
_POSSIBLE_IN_ORDER = tuple(
    field.name for field in attrs.fields(Foot) if field.name not in ("sex", "notes", "scale")
)


def complete(known: Mapping[str, Length], sex: Sex) -> Foot:
    """Estimate the measures that are missing, and refuse those that can't be.

    Parameters
    ----------
    known : mapping of str to Length
        Fields of `Foot`; at least one that the survey has.
    sex : Sex

    Raises
    ------
    FootError
        See `Foot.of`.

    Examples
    --------
    >>> print(complete({"length": Length(271.0)}, Sex.MALE).ball_girth)
    251.9 ± 10.4 mm (estimated from the survey: from length; male)
    """
    _refuse_impossible(known)
    surveyed = {name: known[name] for name in _SURVEYED if name in known}
    if not surveyed:
        found = ", ".join(_words(name) for name in known) or "no measure"
        raise FootError("foot", found, "give the length, the ball girth or both (or a shoe size)")
    notes = list(_suspicions(surveyed, sex))
    whole = {**_from_survey(surveyed, sex, notes), **known}
    _add_instep(whole)
    _add_leg(whole)
    notes.extend(_contradictions(whole, known))
    scale = _scale({name: length.mm for name, length in surveyed.items()}, sex)
    return Foot(**whole, sex=sex, notes=tuple(notes), scale=scale)


_SURVEYED = population(Sex.FEMALE).names


def _words(name: str) -> str:
    return name.replace("_", " ")


def _with_shoe(known: dict[str, Length], size: ShoeSize, sd_mm: float) -> dict[str, Length]:
    if "length" in known:
        found = f"{known['length'].mm:g} mm and {size.scale.value} {size.size:g}"
        raise FootError("foot's length", found, "give the length or a shoe size, not both")
    whole = {**known, "length": size.foot_length}
    if size.foot_width_mm is not None and "ball_breadth" not in known:
        whole["ball_breadth"] = Length(size.foot_width_mm, sd_mm, Origin.SHOE_SIZE)
    return whole


def _refuse_impossible(known: Mapping[str, Length]) -> None:
    for name, length in known.items():
        if name not in _POSSIBLE:
            raise FootError(
                "foot", f"a measure {name!r}", f"expected one of {', '.join(_POSSIBLE)}"
            )
        low, high = _POSSIBLE[name]
        if not low <= length.mm <= high:
            slips = (length.mm * factor for factor in (0.1, 25.4, 10.0))
            meant = next((mm for mm in slips if 1.5 * low <= mm <= 0.8 * high), None)
            hint = f"; {meant:g} mm may be meant" if meant else ""
            raise FootError(
                _words(name), f"{length.mm:g} mm", f"expected {low:g} to {high:g} mm{hint}"
            )
    for small, large, reason in _ORDER:
        if small in known and large in known and known[small].mm >= known[large].mm:
            raise FootError(
                f"{_words(large)} of {known[large].mm:g} mm",
                f"a {_words(small)} of {known[small].mm:g} mm",
                f"expected it to be smaller: {reason}",
            )


def _contradictions(whole: Mapping[str, Length], known: Mapping[str, Length]) -> Iterator[str]:
    """Pairs in impossible order of which one at least was estimated; the others are refused."""
    for small, large, reason in _ORDER:
        if whole[small].mm >= whole[large].mm and not {small, large} <= set(known):
            yield (
                f"{_words(small)} {whole[small].mm:.0f} mm isn't below {_words(large)} "
                f"{whole[large].mm:.0f} mm, though {reason}; measure the one that was estimated"
            )


def _suspicions(surveyed: Mapping[str, Length], sex: Sex) -> Iterator[str]:
    """Measures that the others make very unlikely; what a chart says can't be measured again."""
    if len(surveyed) < 2:
        return
    for name, length in surveyed.items():
        if length.origin is Origin.COMMON_PRACTICE:
            continue
        others = {other: known.mm for other, known in surveyed.items() if other != name}
        scale = _scale(others, sex)
        expected = condition({other: mm / scale for other, mm in others.items()}, sex)
        place = expected.names.index(name)
        mean, sd = expected.mean_mm[place] * scale, expected.sd_mm[place] * scale
        off = abs(length.mm - mean) / math.hypot(sd, length.sd_mm)
        if off > _SUSPECT_SD:
            yield (
                f"{_words(name)} {length.mm:.0f} mm is unusual with the other measures, which "
                f"suggest {mean:.0f} ± {sd:.0f} mm; measure again"
            )


def _scale(known_mm: Mapping[str, float], sex: Sex) -> float:
    """How many times larger the foot is than the nearest one of the survey; 1 within it."""
    name = next(name for name in _SURVEYED if name in known_mm)
    sexes = (Sex.FEMALE, Sex.MALE) if sex is Sex.UNKNOWN else (sex,)
    place = _SURVEYED.index(name)
    smallest = min(population(each).smallest_mm[place] for each in sexes)
    largest = max(population(each).largest_mm[place] for each in sexes)
    return float(known_mm[name] / min(max(known_mm[name], smallest), largest))


def _from_survey(surveyed: Mapping[str, Length], sex: Sex, notes: list[str]) -> dict[str, Length]:
    scale = _scale({name: length.mm for name, length in surveyed.items()}, sex)
    estimate = condition(
        {name: length.mm / scale for name, length in surveyed.items()},
        sex,
        known_sd_mm={name: length.sd_mm / scale for name, length in surveyed.items()},
    )
    doubt = _spread(surveyed, scale, estimate.share_male) * (1.0 if scale == 1.0 else 2.0)
    how = f"from {', '.join(_words(name) for name in sorted(surveyed))}; "
    how += sex.value if sex is not Sex.UNKNOWN else f"male with odds {estimate.share_male:.2f}"
    if scale != 1.0:
        size = "smaller" if scale < 1 else "larger"
        how += f"; scaled by {scale:.2f}"
        notes.append(
            f"this foot is {size} than any in the survey, which has adults only: the estimates "
            "are those of its nearest foot at another scale; measure what you can"
        )
    return {
        name: Length(float(mean) * scale, float(sd) * scale * doubt, Origin.SURVEY, how)
        for name, mean, sd in zip(estimate.names, estimate.mean_mm, estimate.sd_mm, strict=True)
    }


def _spread(surveyed: Mapping[str, Length], scale: float, share_male: float) -> float:
    """How much wider the spread is than that of feet of mean length; by the ball without one."""
    name = "length" if "length" in surveyed else "ball_girth"
    if name not in surveyed:
        return 1.0
    means = [population(sex).mean_mm[_SURVEYED.index(name)] for sex in (Sex.FEMALE, Sex.MALE)]
    return float(
        surveyed[name].mm / scale / np.average(means, weights=[1 - share_male, share_male])
    )


def _add_instep(whole: dict[str, Length]) -> None:
    ball = whole["ball_girth"]
    sd = math.hypot(_INSTEP_TO_BALL * ball.sd_mm, _INSTEP_SD * ball.mm)
    how = f"{_INSTEP_TO_BALL:g} times the ball girth, by a last-maker's table"
    guess = Length(_INSTEP_TO_BALL * ball.mm, sd, Origin.COMMON_PRACTICE, how)
    whole.setdefault("instep_girth", guess)


def _add_leg(whole: dict[str, Length]) -> None:
    """Height of the sock's upper edge and the leg's girth there, by a smooth step up the leg."""
    length, ankle, calf = whole["length"], whole["ankle_girth"], whole["calf_girth"]
    height = Length(
        _LEG_TO_LENGTH * length.mm,
        math.hypot(_LEG_TO_LENGTH * length.sd_mm, _LEG_SD * length.mm),
        Origin.COMMON_PRACTICE,
        f"{_LEG_TO_LENGTH:g} of the foot's length",
    )
    height = whole.setdefault("leg_height", height)
    low, high = _ANKLE_LEVEL * whole["ankle_height"].mm, _CALF_LEVEL * length.mm
    way = min(max((height.mm - low) / (high - low), 0.0), 1.0)
    share = way * way * (3 - 2 * way)
    mm = ankle.mm + share * (calf.mm - ankle.mm)
    # Ankle and calf err together (correlation 0.8), so their errors are added, not squared; the
    # shape of the curve may be off by a tenth of the way, most in the middle.
    curve = 0.1 * abs(calf.mm - ankle.mm) * 4 * share * (1 - share)
    sd = math.hypot((1 - share) * ankle.sd_mm + share * calf.sd_mm, curve)
    how = f"{share:.2f} of the way from ankle to calf girth at a height of {height.mm:.0f} mm"
    whole.setdefault("leg_girth", Length(mm, sd, Origin.COMMON_PRACTICE, how))


guard(globals())
