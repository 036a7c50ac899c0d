"""A heel in one file: short rows that stop where it is told, left as they are at the corners."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

import attrs

from loopwright.pattern.steps import BeginHere, Step
from loopwright.sock import heel
from loopwright.sock.heels import (
    Heel,
    HeelChange,
    HeelMeasure,
    HeelNumbers,
    HeelOutline,
    HeelPart,
    MeasureLine,
    Setting,
)
from loopwright.sock.shortrows import ShortRows


@heel
@attrs.frozen(kw_only=True)
class Harbour(Heel):
    name: ClassVar[str] = "harbour"
    begins: ClassVar[str] = "heel"
    turns: int = 4

    def numbers(self, setting: Setting) -> HeelNumbers:
        courses = ShortRows(side=self.turns).numbers(setting.heel).courses + 0.5
        return HeelNumbers(foot_courses=courses, leg_courses=courses)

    def steps(self, setting: Setting) -> list[Step]:
        rows = ShortRows(side=self.turns)
        numbers, foot = rows.numbers(setting.heel), setting.beyond()
        short = [*rows.inward(numbers), *rows.outward(numbers), rows.across(numbers)]
        return [*short, BeginHere(count=setting.stitches), *foot.arranged()]

    def changes(self, setting: Setting, *, roomier: bool) -> Iterator[HeelChange]:
        for by in range(1, 5):
            words = f"{by} turns {'more' if roomier else 'fewer'} at each side"
            turns = self.turns + (by if roomier else -by)
            yield HeelChange("turns", words, turns - self.turns, attrs.evolve(self, turns=turns))

    def outline(self, setting: Setting) -> HeelOutline:
        wide = setting.heel * setting.stitch_mm / 2
        narrow = wide - self.turns * setting.stitch_mm
        deep = 2 * self.turns * setting.course_mm
        back = ((wide, deep), (narrow, 0.0), (-narrow, 0.0), (-wide, deep))
        under = tuple((x, -y) for x, y in back)
        middle = HeelMeasure("middle", (-narrow, 0.0), (narrow, 0.0), MeasureLine.ACROSS)
        parts = (HeelPart("back", back), HeelPart("under", under))
        return HeelOutline(title="harbour heel", parts=parts, measures=(middle,))
