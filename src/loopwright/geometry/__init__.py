"""The shape of any knitted piece: relaxed in space, with lines, girths and sections on it."""

from loopwright.border import guard
from loopwright.geometry._cloth_doubt import cloth_sd_mm
from loopwright.geometry._export import FORMATS, export
from loopwright.geometry._geodesic import SurfaceLine, distances, shortest_line, shortest_loop
from loopwright.geometry._girths import TubePath, girth_through, tube_path
from loopwright.geometry._mesh import Mesh
from loopwright.geometry._plane_section import section_through
from loopwright.geometry._shape import Quality, Shape, shape
from loopwright.geometry._surface import Surface

__all__ = [
    "FORMATS",
    "Mesh",
    "Quality",
    "Shape",
    "Surface",
    "SurfaceLine",
    "TubePath",
    "cloth_sd_mm",
    "distances",
    "export",
    "girth_through",
    "section_through",
    "shape",
    "shortest_line",
    "shortest_loop",
    "tube_path",
]

guard(globals())
