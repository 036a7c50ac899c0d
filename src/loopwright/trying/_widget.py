"""The page in a notebook: a widget, and beside it a picture that stays when the kernel has gone.

The widget is the page of the browser and gets the same data. Before it stands a plain table with
pictures, as HTML. That is all that is seen where no kernel answers, in a notebook that is opened
later or written as a page. While the widget is alive, it hides it; and when a sock is worked out,
has it made anew, so that what was seen last is what is saved.
"""

from __future__ import annotations

import base64
import secrets
from functools import cache
from html import escape
from importlib.resources import files
from pathlib import Path
from typing import Any

import attrs

from loopwright.extras import from_extra
from loopwright.shown import Shown
from loopwright.sock import Sock
from loopwright.trying._asked import answered
from loopwright.trying._bench import Answer, Bench, Tried

__all__ = ["Explorer", "explore"]

_EXTRA = ("trying a sock in a notebook", "explore")


@attrs.define(eq=False, repr=False)
class Explorer(Shown):
    """A sock that is tried by hand in a notebook.

    Parameters
    ----------
    bench : Bench
        What answers its choices.

    See Also
    --------
    explore : makes one.
    """

    bench: Bench
    _mark: str = attrs.field(factory=lambda: secrets.token_hex(8), init=False)
    _shown: Any = attrs.field(default=None, init=False)

    @property
    def sock(self) -> Sock:
        """The sock as it was moved last."""
        return self.bench.now

    @property
    def tried(self) -> tuple[Tried, ...]:
        """The socks that were tried and measured, with their verdicts."""
        return tuple(self.bench.tried)

    def __str__(self) -> str:
        return f"{self.sock} (tried by hand: {len(self.tried)})"

    def _repr_html_(self) -> str:
        return f'<div data-lw-left="{self._mark}">{_left(self.bench)}</div>'

    def _ipython_display_(self) -> None:
        notebook = from_extra("IPython.display", *_EXTRA)
        self.bench.warm()
        still = notebook.HTML(self._repr_html_())
        self._shown = notebook.display(still, display_id=True)
        notebook.display(self.widget())

    def widget(self) -> Any:
        """Return the page as a widget, to be put among others.

        Raises
        ------
        MissingExtraError
            anywidget is not installed.
        """
        live = _live()(left=self._mark)
        live.on_msg(self._hear)
        return live

    def _hear(self, live: Any, message: Any, buffers: Any) -> None:
        """Answer what the page asks."""
        if isinstance(message, dict) and message.get("ask") == "keep":
            if self._shown is not None:
                html = from_extra("IPython.display", *_EXTRA).HTML
                self._shown.update(html(self._repr_html_()))
            return

        def tell(answer: Answer | None) -> None:
            if answer is not None:
                live.send(answer)

        answered(self.bench, message, tell)


def explore(sock: Sock, *, folder: str | Path = ".", title: str = "") -> Explorer:
    """Return a sock to be tried by hand: in a notebook, a page on which to move it.

    Counts, words and estimates follow at once, the measured shape and the sock on the foot a second
    or two later. "Take it" on the page writes the sock as a design file.

    Parameters
    ----------
    sock : Sock
        To begin with.
    folder : path
        Where a sock that is taken goes.
    title : str
        By default the sock's.

    Raises
    ------
    MissingExtraError
        anywidget, of the extra ``explore``, is not installed.

    See Also
    --------
    loopwright.fitting.fit, loopwright.fitting.remedies : the same answers, from a program.

    Examples
    --------
    >>> from loopwright import Foot, Gauge
    >>> sock = Sock(foot=Foot.of(length="16 cm", ball_girth="15.5 cm"), gauge=Gauge.of(14, 20))
    >>> tried = explore(sock)
    >>> tried  # in a notebook, the page
    <Explorer: cuff down: forethought heel, wedge toe, 2x2 rib, plain leg; foot 160 mm long and ...>
    >>> tried.sock == sock, tried.tried  # nothing was moved yet
    (True, ())
    >>> type(tried.widget()).__name__
    'Live'
    """
    from_extra("anywidget", *_EXTRA)
    return Explorer(Bench({"": sock}, title, folder=Path(folder)))


@cache
def _live() -> Any:
    """Return the widget's class; made when one is wanted, as its base comes with an extra."""
    base = from_extra("anywidget", *_EXTRA).AnyWidget
    traits = from_extra("traitlets", *_EXTRA)
    assets = files("loopwright.trying").joinpath("assets")
    return type(
        "Live",
        (base,),
        {
            "__doc__": "The page as a widget.",
            "_esm": assets.joinpath("page.js").read_text("utf-8"),
            "_css": assets.joinpath("page.css").read_text("utf-8"),
            "left": traits.Unicode("").tag(sync=True),
        },
    )


def _left(bench: Bench) -> str:
    """Return what was shown last as plain HTML, with pictures and without a script."""
    shown = bench.shown
    if "counts" not in shown:
        words = shown.get("words") or "The sock was not worked out yet."
        return f"<p>{escape(str(words))}</p>"
    verdict, girth = shown["verdict"], shown["heel_girth"]
    how = "estimated" if shown["is_estimated"] else "measured"
    heel = (
        f"{girth['sock_mm']} mm, the foot's {girth['foot_mm']} mm: stretched "
        f"{girth['stretch']:.2f} times ({how})"
    )
    rows = [*shown["counts"], ["girth over the heel", heel]]
    rows.append(["yarn of one sock", shown["yarn"]["words"]])
    told = "".join(f"<tr><th>{escape(a)}</th><td>{escape(b)}</td></tr>" for a, b in rows)
    drawn = "".join(_still(shown[key]) for key in ("foot", "rest") if key in shown)
    lines = " ".join(verdict["lines"])
    cautions = "".join(
        f"<p><strong>Caution:</strong> {escape(words)}</p>" for words in shown["cautions"]
    )
    return (
        f"<p>{escape(shown['title'])}</p><p><strong>{escape(lines)}</strong></p>{cautions}"
        f"<div>{drawn}</div><table>{told}</table><pre>{escape(shown['text'])}</pre>"
    )


def _still(picture: Answer) -> str:
    data = base64.b64encode(picture["svg"].encode()).decode()
    return (
        f'<img alt="{escape(picture["words"])}" src="data:image/svg+xml;base64,{data}" '
        f'width="{picture["width"]}" height="{picture["height"]}" '
        'style="max-width:100%;height:auto;background:#fff">'
    )
