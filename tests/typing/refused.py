"""What a type checker must refuse: each line would be reported if it were not.

Both checkers report an ignored error that isn't there. Never run, only checked.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import loopwright as lw
    from loopwright import Foot, Gauge
    from loopwright import Sok  # type: ignore[attr-defined]  # pyright: ignore[reportAttributeAccessIssue, reportUnknownVariableType, reportUnusedImport]
    from loopwright.pattern import CastOn
    from loopwright.units import cm, to_mm

    lw.knitt("")  # type: ignore[attr-defined]  # pyright: ignore[reportAttributeAccessIssue, reportUnknownMemberType]
    to_mm(25)  # type: ignore[arg-type]  # pyright: ignore[reportArgumentType]
    Gauge.of(32, 44, over=10)  # type: ignore[arg-type]  # pyright: ignore[reportArgumentType]
    Foot.of(length=24.5)  # type: ignore[arg-type]  # pyright: ignore[reportArgumentType]
    CastOn("64")  # type: ignore[arg-type]  # pyright: ignore[reportArgumentType]
    str(25 * cm + 3)  # type: ignore[operator]  # pyright: ignore[reportOperatorIssue, reportUnknownArgumentType]
