"""The sock on the foot: what is coloured how, by hand from the law of plain fabric."""

from __future__ import annotations

import re

import numpy as np

from loopwright.fitting import Draped
from loopwright.fitting.limits import Feel
from loopwright.geometry import Surface
from loopwright.picture import draw_worn
from together import together

# Tension across and along in `shared/cloth.md`'s table of plain fabric: 1.2 along pulls like 1.62
# across (4.4 lies between 4.2 at 1.6 and 5.1 at 1.7), 1.1 along (0.84) like 1.17.
BY_HAND = [
    (-0.05, -0.02, Feel.LOOSE),
    (0.05, 0.0, Feel.EASY),
    (0.25, -0.10, Feel.CLOSE),
    (0.05, 0.10, Feel.CLOSE),
    (0.50, -0.20, Feel.TIGHT),
    (0.05, 0.20, Feel.TIGHT),
    (0.80, -0.30, Feel.STRAINED),
    (0.00, 0.25, Feel.STRAINED),
]


def worn(*strains: tuple[float, float], gap_mm: float = 0.0) -> Draped:
    """A row of squares, two corners to each pair of strains."""
    x = np.repeat(np.arange(len(strains) + 1.0), 2) * 4
    points = np.stack([x, np.tile([0.0, 3.0], len(strains) + 1), np.zeros(len(x))], axis=1)
    squares = [[[k, k + 2, k + 3], [k, k + 3, k + 1]] for k in range(0, 2 * len(strains), 2)]
    both = np.repeat(np.array([*strains, strains[-1]]), 2, axis=0)
    surface = Surface(points, np.concatenate(squares))
    return Draped(surface, both[:, 0], both[:, 1], np.full(len(x), gap_mm))


@together(("across", "along", "feel"), BY_HAND)
def test_the_harder_direction_says_how_it_sits(across: float, along: float, feel: Feel) -> None:
    sits = worn((across, along), (across, along)).feels
    assert {list(Feel)[k] for k in sits.tolist()} == {feel}


def test_every_sock_has_the_same_scale_and_no_pull_is_told_off_the_skin() -> None:
    """All six names with their stretches in each drawing, whatever occurs in it."""
    names = {
        "off the skin", "loose, under 1.00", "easy, to 1.11", "close, to 1.34", "tight, to 1.68",
        "strained, over 1.68",
    }  # fmt: skip
    keys = []
    for drawn in (worn((0.5, 0.0), (0.5, 0.0)), worn((0.5, 0.0), (0.5, 0.0), gap_mm=3.0)):
        svg = draw_worn(drawn).svg()
        assert names <= set(re.findall(r">([^<]+)</text>", svg))
        keys.append(re.findall(r"<rect[^>]*fill=\"(#[0-9a-f]{6})\" stroke=\"#555555\"", svg))
        assert drawn.words in draw_worn(drawn).description
    assert keys[0] == keys[1]
    assert len(set(keys[0])) == len(names)


def test_it_shows_itself_in_a_notebook() -> None:
    drawn = worn((0.25, 0.0), (0.25, 0.0))
    assert drawn._repr_html_() == f"{draw_worn(drawn).svg()}<p>{drawn.words}</p>"
    assert str(drawn) == drawn.words


def test_the_words_count_what_is_seen() -> None:
    half = worn((0.25, 0.0), (0.25, 0.0), (0.5, 0.0), (0.5, 0.0), (0.5, 0.0))
    assert "100 % of the fabric touches the skin" in half.words
    assert "By how hard it pulls: 33 % close, 67 % tight." in half.words
    assert "1.50 times across and 1.00 times along" in half.words
