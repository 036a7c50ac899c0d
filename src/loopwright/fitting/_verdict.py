"""The verdict: does a sock go on, where is it tight or loose, and how sure is that.

Plain data for whoever tells it: a page, a table, a command. A place is called tight where it is
likelier so than not, and perhaps tight from a chance of 1 in 4.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, Final

import attrs

from loopwright.fitting.limits import Feel

__all__ = ["LIKELY", "PERHAPS", "Sits", "Verdict", "per_cent"]

LIKELY: Final = 0.5  # chance from which a place is called tight or loose: likelier than not
PERHAPS: Final = 0.25  # chance from which it is said that it may be: our choice
_SURELY: Final = 0.9  # chance from which a sock is said to go on without more words: our choice
_HARDLY: Final = 0.1


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


@attrs.frozen
class Sits:
    """How one place sits.

    Parameters
    ----------
    place : str
    feel : Feel
        At the likeliest stretch.
    tight, loose : float
        The chances that it is tighter, or looser, than is advised.
    is_guess : bool
        Whether the foot's measure was estimated: a small chance then says nothing of the sock.
    """

    place: str
    feel: Feel
    tight: float
    loose: float
    is_guess: bool = False

    @property
    def where(self) -> str:
        """The place as a sentence has it: "at the heel", "in length"."""
        return "in length" if self.place == "length" else f"at the {self.place}"


@attrs.frozen(kw_only=True)
class Verdict:
    """Whether it goes on and how it sits, for people.

    Parameters
    ----------
    goes_on : float
        The chance that the sock can be pulled over the heel.
    through : str
        The part that must stretch most for it, such as ``"the leg over the heel"``.
    stretch, limit : float
        How far that part must stretch, and how far such fabric gives.
    places : tuple of Sits
    unjudged : tuple of str
        Places that nobody measured, and that nothing can stand in for.
    heel_over_ball : float, optional
        How much more the heel is stretched than the ball.

    Examples
    --------
    >>> heel = Sits("heel", Feel.TIGHT, tight=0.76, loose=0.0)
    >>> ball = Sits("ball", Feel.EASY, tight=0.0, loose=0.01)
    >>> verdict = Verdict(goes_on=0.44, through="the leg over the heel", stretch=1.69, limit=1.68,
    ...                places=(ball, heel), unjudged=("instep",))
    >>> for line in verdict.lines:
    ...     print(line)
    It will hardly go on: the leg must stretch 1.69 times to pass the heel, where such fabric
    gives about 1.68 times (chance that it goes on: 44 %).
    Tight at the heel (76 %); easy at the ball. Not judged: instep (measure it).
    >>> verdict.is_on, verdict.is_good, [sits.place for sits in verdict.tight]
    (False, False, ['heel'])
    >>> verdict.on, verdict.is_sure, verdict.loose, verdict.perhaps_tight, heel.where
    ('will hardly go on', False, (), (), 'at the heel')
    >>> verdict.short
    'will hardly go on (44 %); tight at the heel (76 %)'
    >>> verdict.to_dict()["goes_on"], verdict.to_dict()["tight"]
    (0.44, {'heel': 0.76})
    """

    goes_on: float
    through: str
    stretch: float
    limit: float
    places: tuple[Sits, ...]
    unjudged: tuple[str, ...] = ()
    heel_over_ball: float | None = None

    @property
    def is_on(self) -> bool:
        """Whether it goes on, likelier than not."""
        return self.goes_on >= LIKELY

    @property
    def is_sure(self) -> bool:
        """Whether it goes on with a chance of 3 in 4 or more."""
        return self.goes_on >= 1 - PERHAPS

    @property
    def is_good(self) -> bool:
        """Whether nothing is to be mended: it goes on, and no place is likely tight or loose."""
        return self.is_sure and not self.tight and not self.loose

    @property
    def tight(self) -> tuple[Sits, ...]:
        """Places likelier tight than not, the likeliest first."""
        return _first(sits for sits in self.places if sits.tight >= LIKELY)

    @property
    def loose(self) -> tuple[Sits, ...]:
        """Places likelier loose than not, the likeliest first; of a guessed foot, surely so."""
        found = [
            sits for sits in self.places
            if sits.loose >= (1 - PERHAPS if sits.is_guess else LIKELY)
        ]  # fmt: skip
        return tuple(sorted(found, key=lambda sits: -sits.loose))

    @property
    def perhaps_tight(self) -> tuple[Sits, ...]:
        """Measured places that may be tight, though likelier not."""
        found = (sits for sits in self.places if not sits.is_guess)
        return _first(sits for sits in found if PERHAPS <= sits.tight < LIKELY)

    @property
    def on(self) -> str:
        """How it goes on, in two words or three."""
        if self.goes_on >= _SURELY:
            return "goes on"
        if self.is_sure:
            return "should go on"
        if self.is_on:
            return "may just go on"
        return "will hardly go on" if self.goes_on >= _HARDLY else "does not go on"

    @property
    def lines(self) -> tuple[str, ...]:
        """The sentences: does it go on; how does it sit; how even is that."""
        return tuple(filter(None, (self._going_on, self._sitting, self._evenness)))

    @property
    def short(self) -> str:
        """The same in half a line, for tables: only what is to be mended, or that nothing is."""
        bad = [_with_chance("tight", self.tight, "tight"),
               _with_chance("loose", self.loose, "loose")]  # fmt: skip
        parts = [text for text in bad if text]
        if not parts:
            parts = [_with_chance("perhaps tight", self.perhaps_tight, "tight") or "sits well"]
        return "; ".join([f"{self.on} ({per_cent(self.goes_on)})", *parts])

    @property
    def _going_on(self) -> str:
        chance = per_cent(self.goes_on)
        if self.is_sure:
            return f"It {self.on} (chance {chance})."
        part = self.through.split(" over ")[0]
        return (
            f"It {self.on}: {part} must stretch {self.stretch:.2f} times to pass the heel, where "
            f"such fabric gives about {self.limit:.2f} times (chance that it goes on: {chance})."
        )

    @property
    def _sitting(self) -> str:
        parts = [
            _with_chance("tight", self.tight, "tight"),
            _with_chance("loose", self.loose, "loose"),
            _with_chance("perhaps tight", self.perhaps_tight, "tight"),
        ]
        said = {*self.tight, *self.loose, *self.perhaps_tight}
        for feel in (Feel.CLOSE, Feel.EASY, Feel.LOOSE):
            rest = [one.where for one in self.places if one.feel is feel and one not in said]
            word = "rather loose" if feel is Feel.LOOSE else feel.value
            parts.append(f"{word} {_listed(rest)}" if rest else "")
        text = "; ".join(filter(None, parts))
        them = "it" if len(self.unjudged) == 1 else "them"
        out = f" Not judged: {', '.join(self.unjudged)} (measure {them})." if self.unjudged else ""
        return f"{text[:1].upper()}{text[1:]}.{out}"

    @property
    def _evenness(self) -> str:
        if self.heel_over_ball is None:
            return ""
        more = 100 * (self.heel_over_ball - 1)
        if abs(more) < 0.5:
            return "The heel is stretched as much as the ball."
        word = "more" if more > 0 else "less"
        return f"The heel is stretched {abs(more):.0f} % {word} than the ball."

    def to_dict(self) -> dict[str, Any]:
        """Return it as plain data, for programs; chances to three places."""
        return {
            "goes_on": round(self.goes_on, 3),
            "is_on": self.is_on,
            "is_good": self.is_good,
            "tight": {sits.place: round(sits.tight, 3) for sits in self.tight},
            "loose": {sits.place: round(sits.loose, 3) for sits in self.loose},
            "perhaps_tight": {sits.place: round(sits.tight, 3) for sits in self.perhaps_tight},
            "not_judged": list(self.unjudged),
            "words": str(self),
        }

    def __str__(self) -> str:
        return " ".join(self.lines)


def _first(places: Iterable[Sits]) -> tuple[Sits, ...]:
    return tuple(sorted(places, key=lambda sits: -sits.tight))


def _with_chance(word: str, places: Sequence[Sits], chance: str) -> str:
    """Return where it is so, each with its chance; nothing where it is so nowhere."""
    where = [f"{one.where} ({per_cent(getattr(one, chance))})" for one in places]
    return f"{word} {_listed(where)}" if where else ""


def _listed(words: Sequence[str]) -> str:
    """Return "at the heel and the top", "at the ball, the heel and in length"."""
    said: list[str] = []
    for word in words:
        seen = any(before.startswith("at ") for before in said)
        said.append(word.removeprefix("at ") if word.startswith("at ") and seen else word)
    *first, last = said
    return f"{', '.join(first)} and {last}" if first else last
