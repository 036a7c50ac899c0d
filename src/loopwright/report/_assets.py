"""Files that the documents are made from: styles, scripts and templates of the package."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

from loopwright._late import LatePackage

__all__ = ["asset", "template"]

if TYPE_CHECKING:
    import jinja2
else:
    jinja2 = LatePackage("jinja2")

_ASSETS = files("loopwright.report").joinpath("assets")


def asset(name: str) -> str:
    """Return the text of a file that the page is made from."""
    return _ASSETS.joinpath(name).read_text("utf-8")


@cache
def template(name: str) -> jinja2.Template:
    """Return one of the package's templates; every text passes through its escaping."""
    environment = jinja2.Environment(
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        keep_trailing_newline=True,
        loader=jinja2.FunctionLoader(asset),
    )
    return environment.get_template(name)
