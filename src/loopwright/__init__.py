"""Hand-knitted construction as a graph of loops: from a foot and a swatch to a sock that fits.

The names here are those that most programs need; each module has more. They are imported when
they are first used, so that a tool that only reads patterns doesn't wait for the solver of shapes.
"""

from importlib import import_module
from importlib.metadata import version
from typing import TYPE_CHECKING, Any

from loopwright._late import late

if TYPE_CHECKING:
    from loopwright import design as design
    from loopwright import errors as errors
    from loopwright import fabric as fabric
    from loopwright import files as files
    from loopwright import fitting as fitting
    from loopwright import geometry as geometry
    from loopwright import making as making
    from loopwright import pattern as pattern
    from loopwright import picture as picture
    from loopwright import report as report
    from loopwright import sock as sock
    from loopwright import studies as studies
    from loopwright import trying as trying
    from loopwright import units as units
    from loopwright import yarn as yarn
    from loopwright.errors import LoopwrightError
    from loopwright.fabric import (
        STITCHES,
        Fabric,
        Stitch,
        check,
        closings,
        difference,
        run_down,
        same_fabric,
    )
    from loopwright.fitting import (
        Comparison,
        Fit,
        Measures,
        Remedies,
        compare,
        fit,
        measure,
        remedies,
    )
    from loopwright.gauge import Gauge
    from loopwright.geometry import Shape, shape
    from loopwright.making import Hand, Work
    from loopwright.pattern import (
        Knitted,
        Pattern,
        certificate,
        derive,
        knit,
        knitted,
        read,
        review,
        write,
    )
    from loopwright.picture import chart, schematic, stages
    from loopwright.sock import Design, Foot, Sock
    from loopwright.trying import explore
    from loopwright.yarn import Yarn, yarn_need, yarn_path

    __version__: str

_HOMES = {
    "errors": ("LoopwrightError",),
    "fabric": (
        "STITCHES",
        "Fabric",
        "Stitch",
        "check",
        "closings",
        "difference",
        "run_down",
        "same_fabric",
    ),
    "fitting": (
        "Comparison",
        "Fit",
        "Measures",
        "Remedies",
        "compare",
        "fit",
        "measure",
        "remedies",
    ),
    "gauge": ("Gauge",),
    "geometry": ("Shape", "shape"),
    "making": ("Hand", "Work"),
    "pattern": (
        "Knitted",
        "Pattern",
        "certificate",
        "derive",
        "knit",
        "knitted",
        "read",
        "review",
        "write",
    ),
    "picture": ("chart", "schematic", "stages"),
    "sock": ("Design", "Foot", "Sock"),
    "trying": ("explore",),
    "yarn": ("Yarn", "yarn_need", "yarn_path"),
}
_get, _ = late(globals(), _HOMES)
_PACKAGES = (
    *("design", "errors", "fabric", "files", "fitting", "geometry", "making", "pattern", "picture"),
    *("report", "sock", "studies", "trying", "units", "yarn"),
)

__all__ = [
    "STITCHES",
    "Comparison",
    "Design",
    "Fabric",
    "Fit",
    "Foot",
    "Gauge",
    "Hand",
    "Knitted",
    "LoopwrightError",
    "Measures",
    "Pattern",
    "Remedies",
    "Shape",
    "Sock",
    "Stitch",
    "Work",
    "Yarn",
    "certificate",
    "chart",
    "check",
    "closings",
    "compare",
    "derive",
    "difference",
    "explore",
    "fit",
    "knit",
    "knitted",
    "measure",
    "read",
    "remedies",
    "review",
    "run_down",
    "same_fabric",
    "schematic",
    "shape",
    "stages",
    "write",
    "yarn_need",
    "yarn_path",
]


if not TYPE_CHECKING:  # a type checker that saw it would take every misspelt name for a good one

    def __getattr__(name: str) -> Any:
        if name in _PACKAGES:  # as if it had been imported by itself
            return import_module(f"{__name__}.{name}")
        return version(__name__) if name == "__version__" else _get(name)


def __dir__() -> list[str]:
    return sorted([*__all__, "__version__"])
