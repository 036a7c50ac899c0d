"""Imported before the rest of the package: what it needs beyond loopwright's own packages."""

from __future__ import annotations

from loopwright.extras import MissingExtraError, is_installed

__all__: list[str] = []

for _package in ("pandas", "pyarrow", "dask", "distributed"):
    if not is_installed(_package):
        raise MissingExtraError("a study", _package, "study")
