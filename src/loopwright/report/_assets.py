"""Files that the documents are made from: styles, scripts and templates of the package."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

from jinja2 import Environment, FunctionLoader, StrictUndefined, Template

__all__ = ["asset", "template"]

_ASSETS = files("loopwright.report").joinpath("assets")


def asset(name: str) -> str:
    """Return the text of a file that the page is made from."""
    return _ASSETS.joinpath(name).read_text("utf-8")


@cache
def template(name: str) -> Template:
    """Return one of the package's templates; every text passes through its escaping."""
    environment = Environment(
        autoescape=True,
        undefined=StrictUndefined,
        keep_trailing_newline=True,
        loader=FunctionLoader(asset),
    )
    return environment.get_template(name)
