"""Printed measures, units and yarn: a right text, and what is said of it with one number wrong."""

from __future__ import annotations

import pytest

from loopwright.pattern import review
from loopwright.pattern._editing.findings import NOTE
from loopwright.pattern._editing.measures import amounts
from loopwright.pattern._editing.standards import standards
from together import together

HEAD = """Title

Sizes: S (M)
Finished foot circumference: 7 (8) inches
Yarn: fingering weight, 180 (200) m
Gauge: 32 sts and 44 rnds = 4 inches

"""
BODY = "Cast on 56 (64) sts. Join in the round.\nKnit 200 rnds.\nBind off.\n"

# 8 sts to the inch: 56 sts are 7 inches. A loop takes sqrt(23.1 / 13.64 per cm2) cm = 13.0 mm
# (Munden 1959), so that 200 rounds of 56, cast on and bound off, take 148 m.
GIRTHS, YARN, STITCHES = "7 (8) inches", "180 (200) m", "Cast on 56 (64)"
WRONG = {
    "girth": (
        GIRTHS, "7 (10) inches",
        "10 in around is printed; 64 sts at this gauge are 8.0 in, and the other size agrees",
    ),
    "girths that shrink": (
        GIRTHS, "8 (7) inches",
        "8 (7) does not grow from size to size: are two of them swapped?",
    ),
    "yarn": (
        YARN, "80 (200) m",
        "80 m of yarn; 11368 stitches at this gauge take about 148 m",
    ),
    "yarn that shrinks": (YARN, "200 (180) m", "200 (180) m do not grow from size to size"),
    "stitches": (
        STITCHES, "Cast on 56 (80)",
        "8 in around is printed; 80 sts at this gauge are 10.0 in, and the other size agrees",
    ),
}  # fmt: skip


def _found(text: str) -> list[str]:
    return [one.message for one in review(text).findings if one.severity != NOTE]


def test_what_fits_is_left_alone() -> None:
    assert _found(HEAD + BODY) == []


@pytest.mark.parametrize("name", WRONG)
def test_one_wrong_number_is_noticed(name: str) -> None:
    old, new, said = WRONG[name]
    text = HEAD + BODY
    assert text.count(old) == 1
    assert said in _found(text.replace(old, new))


def test_a_girth_to_fit_leaves_room_for_ease() -> None:
    """Knitted 10 % smaller than the foot, or a mitten wide: common practice."""
    text = (HEAD + BODY).replace("Finished foot circumference", "To fit foot circumference")
    assert _found(text.replace("7 (8) inches", "8 (9) inches")) == []


# 1 yd = 0.9144 m, 1 oz = 28.35 g (the international yard and pound of 1959)
@together(
    ("said", "wrong"),
    [
        ("Yarn: 400 yards / 366 m", "Yarn: 400 yards / 400 m"),
        ("Yarn: 350 (400) yds [320 (366) m]", "Yarn: 350 (400) yds (320 (336) m)"),
        ("Yarn: 100 g / 3.5 oz", "Yarn: 100 g / 5 oz"),
        ("Yarn: 1¾ oz (50 g)", "Yarn: 2¾ oz (50 g)"),
        ("Yarn: 100 g / 420 m", "Yarn: 420 m / 420 yds"),
    ],
)
def test_units_are_compared(said: str, wrong: str) -> None:
    assert list(amounts(said)) == []
    assert [one.kind for one in amounts(wrong)] == ["conversion"]


# 329 to 480 m to 100 g of sock yarn: pages "Super Fine - Fingering Weight" and "What is fingering
# weight yarn". Shoe size = 1.5 times the last in cm, which is the foot + 1.0 to 2.0 cm:
# "Measurement tables", citing ISO 9407. A sock of 8 in for a foot of 9 in: page "Ease-y Socks",
# 10 % less.
@together(
    ("said", "wrong"),
    [
        ("Yarn: fingering, 400 m / 100 g", "Yarn: fingering, 200 m / 100 g"),
        ("Yarn: 50 g (210 m) of sock yarn", "Yarn: 50 g (410 m) of sock yarn"),
        ("Yarn: DK, 125 m per 50 g", "Yarn: DK, 225 m per 50 g"),
        ("To fit shoe size 39-41, foot 25 cm", "To fit shoe size 39-41, foot 29 cm"),
        ("Finished: 8 in around, to fit a 9 in foot", "Finished: 6 in around, to fit a 9 in foot"),
    ],
)
def test_published_figures_are_compared(said: str, wrong: str) -> None:
    assert list(standards(said)) == []
    assert [one.kind for one in standards(wrong)] == ["standard"]


def test_rounds_told_with_a_length_are_compared_with_the_gauge() -> None:
    """44 rounds to 4 inches are 22 to 2 inches."""
    text = (HEAD + BODY).replace("Knit 200 rnds.", "Knit for 2 inches (22 rnds).\nKnit 180 rnds.")
    assert _found(text) == []
    (said,) = _found(text.replace("(22 rnds)", "(44 rnds)"))
    assert said == "2 inches at this gauge are 22 rounds, not 44"
