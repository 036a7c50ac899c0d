"""Pictures: charts, stages, schematics, shapes and graphs, all derived from what is below."""

from typing import TYPE_CHECKING

from loopwright._late import late
from loopwright.border import guard
from loopwright.picture._chart import Chart, chart, charts, read_chart
from loopwright.picture._colouring import Colouring, colouring
from loopwright.picture._grafting import draw_graft
from loopwright.picture._graph import draw_graph, draw_surroundings
from loopwright.picture._schematic import (
    Dimensions,
    dimensions,
    lettered,
    schematic,
    schematic_parts,
)
from loopwright.picture._stage_data import Stage
from loopwright.picture._stages import Stages, stage, stages
from loopwright.picture.shape_drawing import draw_shape
from loopwright.picture.shape_scene import Scene, scene
from loopwright.picture.shape_view import shape_page
from loopwright.picture.stage_drawing import draw_stage
from loopwright.picture.svg import Picture
from loopwright.picture.worn_drawing import draw_stretch, draw_worn

if TYPE_CHECKING:
    from loopwright.picture.scan_drawing import draw_scan
else:  # few feet are scanned
    __getattr__, __dir__ = late(globals(), {"scan_drawing": ("draw_scan",)})

__all__ = [
    "Chart",
    "Colouring",
    "Dimensions",
    "Picture",
    "Scene",
    "Stage",
    "Stages",
    "chart",
    "charts",
    "colouring",
    "dimensions",
    "draw_graft",
    "draw_graph",
    "draw_scan",
    "draw_shape",
    "draw_stage",
    "draw_stretch",
    "draw_surroundings",
    "draw_worn",
    "lettered",
    "read_chart",
    "scene",
    "schematic",
    "schematic_parts",
    "shape_page",
    "stage",
    "stages",
]

guard(globals())
