"""Documents as pages: one file that asks for nothing outside itself, and runs nothing."""

from __future__ import annotations

from importlib.metadata import version

from loopwright.picture.shape_view import LOOK, STYLE, allowed
from loopwright.report._assets import asset, template
from loopwright.report._blocks import ReportDocument
from loopwright.report._page import address_of, photo_address, shown

__all__ = ["page_of"]


def page_of(document: ReportDocument, *, shapes: str = "") -> str:
    """Return a document as one HTML page."""
    style = LOOK + asset("page.css") + STYLE
    return template("document.html").render(
        document=document,
        shown=shown,
        photo_of=photo_address,
        icon=address_of(asset("icon.svg").strip()),
        kind_of=lambda block: type(block).__name__,
        shapes=shapes,
        style=style,
        style_hash=allowed(style),
        version=version("loopwright"),
    )
