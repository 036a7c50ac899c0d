"""The relaxed fabric to turn, colour and ask: one viewer, for the report's page and for notebooks.

It is a piece of HTML with a style and a script of our own, and asks for nothing outside itself.
"""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Mapping
from html import escape
from importlib.resources import files
from string import Template
from typing import Any

from loopwright.border import guard
from loopwright.picture.shape_scene import Scene, pack

__all__ = ["LOOK", "SCRIPT", "STYLE", "VIEWER", "allowed", "shape_frame", "shape_page", "shapes"]

_ASSETS = files("loopwright.picture").joinpath("assets")


def _asset(name: str) -> str:
    return _ASSETS.joinpath(name).read_text("utf-8")


LOOK = _asset("look.css")
"""Colours, light and dark, and how things to press look, for the whole page around."""

STYLE = _asset("shape_view.css")
"""Of the viewer."""

SCRIPT = _asset("shape_view.js")
"""Reads `shapes` from the JSON in the element ``data``; the event ``size`` shows another."""

VIEWER = _asset("shape_view.html")
"""The viewer itself, once in a page."""

_PAGE = Template("""<!doctype html>
<html lang="en"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src $style_hash; \
script-src $script_hash; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>$title</title><style>$style</style></head>
<body><main>$viewer</main>
<noscript><p class="caution">Turning the shape needs a script.</p></noscript>
<script type="application/json" id="data">$data</script>
<script>$script</script></body></html>
""")
_ALONE = "main { padding: .5rem 1rem; } body { font-size: .95rem; }"
_FRAME = (
    '<iframe title="{}" srcdoc="{}" sandbox="allow-scripts" loading="lazy" '
    'style="width:100%;height:{:.0f}px;border:0"></iframe>'
)


def shapes(scenes: Mapping[str, tuple[str, Scene]]) -> dict[str, dict[str, Any]]:
    """Return what the viewer's script reads.

    Parameters
    ----------
    scenes : mapping of str to (str, Scene)
        By the key that the event ``size`` names it with: its name in words, and what is shown.
    """
    return {key: {"name": name, **pack(shown)} for key, (name, shown) in scenes.items()}


def shape_page(shown: Scene, *, title: str = "A relaxed fabric") -> str:
    """Return a page of its own that shows one relaxed fabric, to be saved and opened offline.

    Parameters
    ----------
    shown : Scene
    title : str
    """
    style = LOOK + STYLE + _ALONE
    data = json.dumps({"shapes": shapes({"": ("", shown)})}).replace("<", "\\u003c")
    return _PAGE.substitute(
        title=escape(title),
        style=style,
        style_hash=allowed(style),
        script=SCRIPT,
        script_hash=allowed(SCRIPT),
        viewer=VIEWER,
        data=data,
    )


def shape_frame(shown: Scene, *, title: str = "A relaxed fabric", height: float = 1000) -> str:
    """Return the same page in a frame, as HTML for a notebook.

    Parameters
    ----------
    shown : Scene
    title : str
    height : float, px
    """
    return _FRAME.format(escape(title), escape(shape_page(shown, title=title)), height)


def allowed(source: str) -> str:
    """Return what a content security policy calls a script or a style.

    Examples
    --------
    >>> allowed("")
    "'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='"
    """
    return f"'sha256-{base64.b64encode(hashlib.sha256(source.encode()).digest()).decode()}'"


guard(globals())
