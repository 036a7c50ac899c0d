"""Configuration of the documentation; `sphinx-build -W docs docs/_build/html` builds it."""

from __future__ import annotations

import json
import sys
from importlib.metadata import version as installed_version
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent / "_ext"))

project = "loopwright"
author = "loopwright contributors"
project_copyright = author
version = release = installed_version("loopwright")

extensions = [
    "myst_parser",
    "sphinx.ext.autodoc",
    "sphinx.ext.mathjax",
    "numpydoc",
    "public_names",
    "references",
    "drawn",
    "shown",
]
exclude_patterns = ["_build", "news/*"]
nitpicky = False
default_role = "py:obj"

autodoc_member_order = "bysource"
autodoc_typehints = "signature"
numpydoc_show_class_members = False  # the generated pages list them once
numpydoc_class_members_toctree = False

myst_enable_extensions = ["colon_fence", "deflist", "dollarmath"]
myst_heading_anchors = 3

html_theme = "furo"
html_title = "loopwright"
html_copy_source = False
html_show_sphinx = False


def own_branch(
    app: object, name: str, template: str, context: dict[str, Any], doctree: object
) -> None:
    """Unfold the sidebar where the page is, and not everywhere: that took 2/5 of the build."""
    whole = context.get("toctree")
    if whole is not None:
        context["toctree"] = lambda **asked: whole(**{**asked, "collapse": True})


def setup(app: Any) -> None:
    """Write the schemas of files for the pages that hand them on: they follow the classes."""
    from loopwright.files import KINDS, schema

    app.connect("html-page-context", own_branch, priority=400)  # before the theme asks for it
    folder = Path(__file__).parent / "reference" / "schemas"
    folder.mkdir(exist_ok=True)
    for kind in (*KINDS, "design"):
        text = json.dumps(schema(kind), indent=1, ensure_ascii=False)
        (folder / f"{kind}.json").write_text(f"{text}\n", encoding="utf-8")
