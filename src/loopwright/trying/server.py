"""The page on this machine: a small server on 127.0.0.1, for one person and one browser.

Who may ask: whoever knows the token in the address. Each start draws a new one. Other pages in the
same browser are kept out as well. The Host header must name this server, so that no foreign name
can be made to point here. So must the Origin header, where there is one, and the header in which
the browser says where a request comes from. Nothing is served but the files of the page, nothing
is read but a question of a few thousand bytes, and the page may ask nobody else.
"""

from __future__ import annotations

import asyncio
import json
import secrets
import socket
from collections.abc import AsyncIterator, Callable
from contextlib import suppress
from importlib.resources import files
from typing import Any, Final

import loopwright.trying._needs  # noqa: F401  # first: a typed error where an extra is missing

# isort: split
import uvicorn
from starlette.applications import Starlette
from starlette.requests import ClientDisconnect, Request
from starlette.responses import PlainTextResponse, Response, StreamingResponse
from starlette.routing import Route
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from loopwright.border import guard
from loopwright.errors import FileError
from loopwright.trying._asked import answered
from loopwright.trying._bench import Answer, Bench

__all__ = ["app_of", "new_token", "serve"]

HOST: Final = "127.0.0.1"
_MOST_BYTES: Final = 32 * 1024  # of a question; all the choices of a sock are two thousand
_PATIENCE_S: Final = 10.0  # for a question to arrive whole
_MOST_AT_ONCE: Final = 32  # connections; one page needs four
_PAGE: Final = {
    "": ("page.html", "text/html"),
    "page.css": ("page.css", "text/css"),
    "page.js": ("page.js", "text/javascript"),
    "wire.js": ("wire.js", "text/javascript"),
}
_HEADERS: Final = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src data: blob:; "
        "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cache-control": "no-store",
}


def new_token() -> str:
    """Return a token that nobody can guess.

    Examples
    --------
    >>> len(new_token()) >= 22
    True
    """
    return secrets.token_urlsafe(24)


def app_of(bench: Bench, token: str, port: int) -> ASGIApp:
    """Return the page and its answers, with the gate before them, for any ASGI server.

    Parameters
    ----------
    bench : Bench
    token : str
        Under whose folder all is.
    port : int
        Of this server, which a request's Host must name.
    """
    assets = files("loopwright.trying").joinpath("assets")

    async def page(request: Request) -> Response:
        name, kind = _PAGE[request.path_params.get("name", "")]
        return Response(assets.joinpath(name).read_text("utf-8"), media_type=kind)

    async def ask(request: Request) -> Response:
        if request.headers.get("content-type", "").partition(";")[0].strip() != "application/json":
            return PlainTextResponse("ask in JSON\n", 415)
        body = await _body(request)
        if isinstance(body, int):
            return PlainTextResponse("a question is shorter, and comes at once\n", body)
        try:
            message = json.loads(body)
        except (ValueError, RecursionError):
            return PlainTextResponse("that is no JSON\n", 400)
        return StreamingResponse(_lines(bench, message), media_type="application/x-ndjson")

    named = [name for name in _PAGE if name]
    routes = [Route("/", page), Route("/ask", ask, methods=["POST"])]
    routes += [Route(f"/{name}", _as_named(page, name)) for name in named]
    return _Gate(Starlette(routes=routes), token, port)


def _as_named(page: Callable[[Request], Any], name: str) -> Callable[[Request], Any]:
    async def named(request: Request) -> Response:
        request.path_params["name"] = name
        found: Response = await page(request)
        return found

    return named


async def _body(request: Request) -> bytes | int:
    """Return a question's bytes, or the status with which it is refused."""
    body = b""
    try:
        async with asyncio.timeout(_PATIENCE_S):
            async for chunk in request.stream():
                body += chunk
                if len(body) > _MOST_BYTES:
                    return 413
    except TimeoutError:
        return 408
    except ClientDisconnect:
        return 400
    return body


async def _lines(bench: Bench, message: object) -> AsyncIterator[bytes]:
    """Yield each answer as a line of JSON; a page that goes away stops the work."""
    loop, queue = asyncio.get_running_loop(), asyncio.Queue[Answer | None]()

    def tell(answer: Answer | None) -> None:
        with suppress(RuntimeError):  # the server has ended meanwhile
            loop.call_soon_threadsafe(queue.put_nowait, answer)

    run = answered(bench, message, tell)
    try:
        while (answer := await queue.get()) is not None:
            yield json.dumps(answer, ensure_ascii=False, allow_nan=False).encode() + b"\n"
    finally:
        if run is not None:
            run.stop()


class _Gate:
    """Lets in who names this server, comes from its own page and knows the token."""

    def __init__(self, app: ASGIApp, token: str, port: int) -> None:
        self._app = app
        self._path = f"/{token}/".encode()
        self._hosts = [f"{name}:{port}".encode() for name in (HOST, "localhost")]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            return
        refused = self._refused(scope)
        if refused is not None:
            await refused(scope, receive, _with_headers(send))
            return
        inside = scope["raw_path"][len(self._path) - 1 :].decode("ascii")
        await self._app({**scope, "path": inside, "raw_path": b""}, receive, _with_headers(send))

    def _refused(self, scope: Scope) -> Response | None:
        headers: dict[bytes, list[bytes]] = {}
        for name, value in scope["headers"]:
            headers.setdefault(name.lower(), []).append(value)
        hosts = headers.get(b"host", [])
        if len(hosts) != 1 or hosts[0].lower() not in self._hosts:
            return PlainTextResponse("this is another server\n", 421)
        own = b"http://" + hosts[0].lower()
        foreign = any(origin.lower() != own for origin in headers.get(b"origin", []))
        sites = headers.get(b"sec-fetch-site", [])
        if foreign or any(site not in (b"same-origin", b"none") for site in sites):
            return PlainTextResponse("only its own page may ask this server\n", 403)
        path = scope["raw_path"]
        if not secrets.compare_digest(path[: len(self._path)], self._path):
            return PlainTextResponse("there is nothing here\n", 404)
        if not path.isascii():
            return PlainTextResponse("there is nothing here\n", 404)
        length = headers.get(b"content-length", [b"0"])[0]
        if not length.isdigit() or int(length[:12]) > _MOST_BYTES:
            return PlainTextResponse("a question is shorter\n", 413)
        return None


def _with_headers(send: Send) -> Send:
    """Send what keeps a page to itself along with every answer."""
    added = [(name.encode(), value.encode()) for name, value in _HEADERS.items()]

    async def send_all(message: Message) -> None:
        if message["type"] == "http.response.start":
            kept = [(k, v) for k, v in message.get("headers", []) if k.decode() not in _HEADERS]
            message = {**message, "headers": [*kept, *added]}
        await send(message)

    return send_all


class _Server(uvicorn.Server):
    """Ends its runs first, so that no answer keeps it waiting."""

    bench: Bench

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        self.bench.stop()
        await super().shutdown(sockets)


def serve(bench: Bench, *, port: int = 0, on_ready: Callable[[str], object]) -> None:
    """Serve the page until the process is interrupted.

    Parameters
    ----------
    bench : Bench
    port : int
        By default one that is free.
    on_ready : callable
        Is given the address to open.

    Raises
    ------
    FileError
        The port can't be had.
    KeyboardInterrupt
        It was interrupted, and has ended.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as listening:
        try:
            listening.bind((HOST, port))
            listening.listen(_MOST_AT_ONCE)  # from here on whoever has the address is heard
        except (OSError, OverflowError) as error:
            reason = getattr(error, "strerror", None) or str(error)
            raise FileError(f"port {port}", reason.lower(), "name another, or none") from error
        token, bound = new_token(), listening.getsockname()[1]
        config = uvicorn.Config(
            app_of(bench, token, bound), http="h11", ws="none", lifespan="off",
            log_level="critical", access_log=False, server_header=False, proxy_headers=False,
            backlog=_MOST_AT_ONCE, limit_concurrency=_MOST_AT_ONCE,
            h11_max_incomplete_event_size=_MOST_BYTES, timeout_keep_alive=5,
            timeout_graceful_shutdown=1,
        )  # fmt: skip
        server = _Server(config)
        server.bench = bench
        on_ready(f"http://{HOST}:{bound}/{token}/")
        server.run(sockets=[listening])


guard(globals())
