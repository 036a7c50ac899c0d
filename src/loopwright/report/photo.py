"""A picture that somebody took of the finished piece: checked, turned upright, made smaller."""

from __future__ import annotations

import io
import warnings
from pathlib import Path
from typing import Final

from loopwright.border import guard
from loopwright.errors import FileError
from loopwright.extras import from_extra

__all__ = ["load_photo"]

_LARGEST: Final = 20 * 2**20  # bytes of the file
_PIXELS: Final = 1400  # along the longer side, enough for a page
# Beyond, a small file can fill the memory; a JPEG is made smaller as it is read.
_PIXELS_READ: Final = {"JPEG": 100_000_000, "PNG": 50_000_000}


def load_photo(path: Path) -> tuple[bytes, str]:
    """Return a picture's bytes and kind, ``"jpeg"`` or ``"png"``, as documents embed it.

    Raises
    ------
    FileError
        No such file, no picture, or larger than 20 MB.
    MissingExtraError
        What reads pictures is not installed.
    """
    advice = "name a PNG or JPEG file of at most 20 MB"
    try:
        with path.open("rb") as file:
            data = file.read(_LARGEST + 1)
    except OSError as error:
        raise FileError(str(path), (error.strerror or "can't be read").lower(), advice) from error
    if len(data) > _LARGEST:
        raise FileError(str(path), "is larger than 20 MB", advice)
    image_of = from_extra("PIL.Image", "a picture of the finished piece", "pdf")
    upright = from_extra("PIL.ImageOps", "a picture of the finished piece", "pdf").exif_transpose
    unread = (OSError, ValueError, SyntaxError, image_of.DecompressionBombError)
    broken = FileError(str(path), "is no picture that can be read", advice)
    try:
        with warnings.catch_warnings(action="ignore"):  # of a size that is refused below
            image = image_of.open(io.BytesIO(data), formats=("PNG", "JPEG"))
    except unread as error:
        raise broken from error
    if image.width * image.height > _PIXELS_READ[image.format]:
        raise FileError(str(path), f"has {image.width} × {image.height} pixels", advice)
    out = io.BytesIO()
    try:
        image.thumbnail((_PIXELS, _PIXELS))
        upright(image).convert("RGB").save(out, "JPEG", quality=85)
    except unread as error:
        raise broken from error
    return out.getvalue(), "jpeg"


guard(globals())
