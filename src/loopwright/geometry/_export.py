"""Shapes as files of other trades: PLY, OBJ, glTF and what else trimesh writes."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from loopwright.errors import ShapeError
from loopwright.extras import from_extra
from loopwright.geometry._surface import Surface

__all__ = ["FORMATS", "export"]

FORMATS = ("ply", "obj", "glb", "stl", "off")


def export(surface: Surface, file_type: str, *, colours: NDArray[np.uint8] | None = None) -> bytes:
    """Return a surface as the bytes of a file.

    Parameters
    ----------
    surface : Surface
    file_type : str
        One of `FORMATS`; ``"glb"`` is binary glTF.
    colours : ndarray, shape (n, 3), uint8, optional
        Red, green, blue for each vertex.

    Raises
    ------
    ShapeError
        An unknown format, or colours that don't fit.
    MissingExtraError
        trimesh is not installed: it comes with the extra ``mesh``.

    Notes
    -----
    Lengths are written in mm, except to glTF, whose unit is the metre.

    Examples
    --------
    >>> corner = Surface([[0, 0, 0], [1, 0, 0], [0, 1, 0]], [[0, 1, 2]])
    >>> export(corner, "off").split()[:4]
    [b'OFF', b'3', b'1', b'0']
    """
    if file_type not in FORMATS:
        raise ShapeError(f"file type {file_type!r}", f"choose from {', '.join(FORMATS)}")
    n = len(surface.vertices_mm)
    if colours is not None and np.shape(colours) != (n, 3):
        raise ShapeError(f"colours of shape {np.shape(colours)}", f"give ({n}, 3)")
    scale = 0.001 if file_type == "glb" else 1.0
    trimesh = from_extra("trimesh", "a file of a shape", "mesh")
    mesh = trimesh.Trimesh(
        scale * surface.vertices_mm, surface.triangles, vertex_colors=colours, process=False
    )
    found = mesh.export(file_type=file_type)
    return found.encode() if isinstance(found, str) else bytes(found)
