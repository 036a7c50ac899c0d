"""The sock on the foot, drawn: where it lies on the skin, and how hard it pulls.

Before a sock is drawn onto the form, its girths say how far each place must stretch. The form is
coloured by that, with the colours between two places shaded from one to the other.

One scale for every sock, place and direction: that of `loopwright.fitting.limits`. The harder of
the two directions counts, given as the stretch across that pulls as hard.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loopwright.border import guard
from loopwright.errors import PictureError
from loopwright.fitting import Draped, FootForm
from loopwright.fitting.limits import COURSEWISE, Feel
from loopwright.geometry import Surface
from loopwright.picture._colouring import Colouring
from loopwright.picture._colours import SEQUENTIAL
from loopwright.picture.shape_drawing import draw_surface
from loopwright.picture.svg import Picture
from loopwright.shown import shows

__all__ = ["draw_stretch", "draw_worn"]

# From light to dark, so that a grey print keeps the order; off the skin there is no pull to tell.
_PLACES: Final = (1.0, 0.8, 0.6, 0.35, 0.0)
_OFF: Final = "#efefef"


def draw_worn(worn: Draped, *, turned: float = 25.0, size: float = 420.0) -> Picture:
    """Return a sock on a foot, seen from one side, coloured by how it sits.

    Parameters
    ----------
    worn : Draped
    turned : float, degrees
        How far it is turned about its upright axis, 0 for the plain view from the side.
    size : float, px
        The longer side of the drawing.

    Examples
    --------
    >>> from loopwright.fitting import Sample
    >>> from loopwright.gauge import Gauge
    >>> from loopwright.sock import Foot, Sock
    >>> foot = Foot.of(length="16 cm", ball_girth="15.5 cm")
    >>> worn = Sample(Sock(foot=foot, gauge=Gauge.of(14, 20))).worn
    >>> print(draw_worn(worn).description)
    The sock on the foot, seen from the side, coloured by how it sits. On the foot ... % of ...
    """
    title = "On the foot: how hard it pulls, as stretched across"
    said = f"The sock on the foot, seen from the side, coloured by how it sits. {worn.words}"
    colours = _colours(worn)
    return draw_surface(worn.surface, colours, title=title, said=said, turned=turned, size=size)


@shows(Draped)
def worn_html(worn: Draped) -> str:
    """Return a draped sock's picture and its words."""
    return f"{draw_worn(worn).svg()}<p>{worn.words}</p>"


def draw_stretch(
    form: FootForm, stretch: Mapping[str, float], *, title: str, turned: float = 25.0,
    size: float = 420.0,
) -> Picture:  # fmt: skip
    """Return a foot, seen from one side, coloured by how far a sock is stretched at its places.

    Parameters
    ----------
    form : FootForm
    stretch : mapping of str to float
        Foot over sock by place: ball, instep, heel, ankle, and leg at the upper end; those that
        are missing take what lies between.
    title : str
    turned, size : float
        As for `draw_worn`.

    Raises
    ------
    PictureError
        None of these places.

    Examples
    --------
    >>> from loopwright.fitting import foot_form
    >>> from loopwright.sock import Foot
    >>> form = foot_form(Foot.of(length="24.6 cm"), rings=40, columns=24)
    >>> drawn = draw_stretch(form, {"ball": 1.1, "heel": 1.4}, title="Estimated")
    >>> drawn.title, drawn.description
    ('Estimated', 'A foot, seen from the side: ball 1.10, heel 1.40 times.')
    """
    known = {name: far for name, far in stretch.items() if name in form.stations}
    if not known:
        found = ", ".join(map(repr, stretch)) or "none"
        raise PictureError("stretch", f"places are {found}", f"give some of {[*form.stations]}")
    order = sorted(known, key=lambda name: form.stations[name])
    at = [form.stations[name] for name in order]
    between = np.interp(form.along, at, [known[name] for name in order])
    feels = np.searchsorted([limit.stretch for limit in COURSEWISE.limits], between)
    names = _names()
    told = ", ".join(f"{name} {far:.2f}" for name, far in stretch.items())
    said = f"A foot, seen from the side: {told} times."
    colours = _coloured(1 + feels, names)
    return draw_surface(_open(form), colours, title=title, said=said, turned=turned, size=size)


def _open(form: FootForm) -> Surface:
    """Return the form's skin without the top of the leg, by which a picture knows what is up."""
    surface = form.surface
    top = int(np.argmin(form.along))
    kept = surface.triangles[~(surface.triangles == top).any(axis=1)]
    return Surface(surface.vertices_mm, kept)


def _names() -> dict[str, str]:
    names = {"off the skin": _OFF}
    bounds = [limit.stretch for limit in COURSEWISE.limits]
    ends = [f"under {bounds[0]:.2f}", *(f"to {bound:.2f}" for bound in bounds[1:])]
    for feel, place, end in zip(Feel, _PLACES, [*ends, f"over {bounds[-1]:.2f}"], strict=True):
        names[f"{feel.value}, {end}"] = SEQUENTIAL.hex(place)
    return names


def _colours(worn: Draped) -> Colouring:
    return _coloured(np.where(worn.touches, 1 + worn.feels, 0), _names())


def _coloured(places: NDArray[np.int64], names: Mapping[str, str]) -> Colouring:
    table = np.array(
        [[int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)] for colour in names.values()]
    )
    return Colouring("how it sits", table[places], places.astype(np.float64), names=names)


guard(globals())
