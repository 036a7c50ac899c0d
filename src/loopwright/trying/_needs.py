"""Imported before the server: what it needs beyond loopwright's own packages."""

from __future__ import annotations

from loopwright.extras import MissingExtraError, is_installed

__all__: list[str] = []

for _package in ("starlette", "uvicorn"):
    if not is_installed(_package):
        raise MissingExtraError("trying a sock in a browser", _package, "explore")
