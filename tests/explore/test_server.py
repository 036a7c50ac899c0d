"""The server on this machine: who may ask it, and for what; and how it ends."""

from __future__ import annotations

import json
import os
import re
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from http.client import HTTPConnection
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest

from loopwright.cli import main
from loopwright.extras import MissingExtraError
from loopwright.gauge import Gauge
from loopwright.sock import Foot, Sock
from loopwright.trying import Bench

uvicorn = pytest.importorskip("uvicorn")


class Site:
    """A server in a thread of this process, and how it is asked."""

    def __init__(self, folder: Path) -> None:
        from loopwright.trying.server import app_of, new_token

        sock = Sock(foot=Foot.of(length="16 cm", ball_girth="15.5 cm"), gauge=Gauge.of(14, 20))
        self.bench = Bench({"": sock}, folder=folder)
        self.token = new_token()
        self.listening = socket.create_server(("127.0.0.1", 0))
        self.port = self.listening.getsockname()[1]
        config = uvicorn.Config(
            app_of(self.bench, self.token, self.port), http="h11", ws="none", lifespan="off",
            log_level="critical",
        )  # fmt: skip
        self.server = uvicorn.Server(config)
        self.thread = threading.Thread(
            target=self.server.run, kwargs={"sockets": [self.listening]}, daemon=True
        )
        self.thread.start()

    def ask(
        self, method: str, path: str, body: bytes | None = None, **headers: str
    ) -> tuple[int, dict[str, str], bytes]:
        """Send one request as it is; headers in lower case with _ for -."""
        connection = HTTPConnection("127.0.0.1", self.port, timeout=60)
        try:
            connection.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
            given = {"host": f"127.0.0.1:{self.port}"} | {
                name.replace("_", "-"): value for name, value in headers.items()
            }
            for name, value in given.items():
                if value:
                    connection.putheader(name, value)
            if body is not None:
                connection.putheader("content-length", str(len(body)))
            connection.endheaders(body)
            answer = connection.getresponse()
            told = {name.lower(): value for name, value in answer.getheaders()}
            return answer.status, told, answer.read()
        finally:
            connection.close()

    def question(self, message: object, **headers: str) -> tuple[int, list[Any]]:
        body = message if isinstance(message, bytes) else json.dumps(message).encode()
        headers = {"content_type": "application/json"} | headers
        status, _, told = self.ask("POST", f"/{self.token}/ask", body, **headers)
        if status != 200:
            return status, []
        return status, [json.loads(line) for line in told.splitlines()]


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    running = Site(tmp_path_factory.mktemp("taken"))
    yield running
    running.bench.stop()
    running.server.should_exit = True
    running.thread.join(10)
    running.listening.close()
    for thread in threading.enumerate():  # what still computes would meet the end of the process
        if thread.name.startswith("loopwright-"):
            thread.join(60)


def test_the_page_is_there_for_who_knows_the_token(site: Site) -> None:
    status, headers, body = site.ask("GET", f"/{site.token}/")
    assert status == 200
    assert b'<script type="module" src="wire.js">' in body
    assert headers["content-type"].startswith("text/html")
    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert headers["referrer-policy"] == "no-referrer"
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["cache-control"] == "no-store"
    assert "access-control-allow-origin" not in headers
    for name in ("page.js", "page.css", "wire.js"):
        assert site.ask("GET", f"/{site.token}/{name}")[0] == 200


def test_a_question_is_answered_in_stages(site: Site) -> None:
    status, told = site.question({"ask": "look", "run": 7, "choices": {"fit.ease": -8}})
    assert status == 200
    assert [one["stage"] for one in told] == ["reckoned", "drawn", "measured", "rest", "worn"]
    assert {(one["run"], one["side"]) for one in told} == {(7, 0)}
    _, (begun,) = site.question({"ask": "begin"})
    assert begun["tried"][0]["words"] == "ease -8 %"


def test_a_refusal_is_an_answer(site: Site) -> None:
    _, (answer,) = site.question({"ask": "look", "choices": {"fit.ease": "tight"}})
    assert (answer["stage"], answer["key"]) == ("refused", "fit.ease")
    _, (answer,) = site.question({"ask": "take", "name": "../up.toml", "size": ""})
    assert answer["stage"] == "refused"
    assert not [*site.bench.folder.parent.glob("*.toml")]


def test_a_sock_is_taken_into_the_folder_alone(site: Site) -> None:
    _, (answer,) = site.question({"ask": "take", "name": "one.toml", "size": "", "choices": {}})
    assert (answer["stage"], answer["name"]) == ("taken", "one.toml")
    assert [one.name for one in site.bench.folder.iterdir()] == ["one.toml"]
    _, (answer,) = site.question({"ask": "take", "name": "one.toml", "size": "", "choices": {}})
    assert "is there already" in answer["words"]


@pytest.mark.parametrize("host", [
    "", "evil.example", "evil.example:{port}", "127.0.0.1", "127.0.0.1:1", "localhost",
    "127.0.0.1.evil.example:{port}", "[::1]:{port}", "0.0.0.0:{port}", "127.0.0.1:{port}@evil",
])  # fmt: skip
def test_another_host_is_refused(site: Site, host: str) -> None:
    """As a foreign name that was made to point here would have it."""
    named = host.format(port=site.port)
    status, _, body = site.ask("GET", f"/{site.token}/", host=named)
    assert status in (400, 421)  # without any host the protocol itself refuses
    assert b"script" not in body
    assert site.question({"ask": "begin"}, host=named)[0] in (400, 421)


def test_its_other_name_is_its_own(site: Site) -> None:
    own = f"localhost:{site.port}"
    assert site.ask("GET", f"/{site.token}/", host=own)[0] == 200
    assert site.question({"ask": "begin"}, host=own, origin=f"http://{own}")[0] == 200
    assert (
        site.question({"ask": "begin"}, host=own, origin=f"http://127.0.0.1:{site.port}")[0] == 403
    )


@pytest.mark.parametrize("headers", [
    {"origin": "http://evil.example"},
    {"origin": "null"},
    {"origin": "http://127.0.0.1"},
    {"origin": "https://127.0.0.1:{port}"},
    {"origin": "http://127.0.0.1:{port}.evil.example"},
    {"sec_fetch_site": "cross-site"},
    {"sec_fetch_site": "same-site"},
])  # fmt: skip
def test_another_origin_is_refused(site: Site, headers: dict[str, str]) -> None:
    told: dict[str, Any] = {name: value.format(port=site.port) for name, value in headers.items()}
    assert site.question({"ask": "begin"}, **told)[0] == 403
    assert site.ask("GET", f"/{site.token}/page.js", **told)[0] == 403
    preflight = {"access_control_request_method": "POST"} | told
    status, answered, _ = site.ask("OPTIONS", f"/{site.token}/ask", **preflight)
    assert status == 403
    assert not any(name.startswith("access-control") for name in answered)


def test_its_own_page_is_let_in(site: Site) -> None:
    own = {"origin": f"http://127.0.0.1:{site.port}", "sec_fetch_site": "same-origin"}
    assert site.question({"ask": "begin"}, **own)[0] == 200
    assert site.ask("GET", f"/{site.token}/", sec_fetch_site="none")[0] == 200  # typed by hand


def test_a_wrong_token_finds_nothing(site: Site) -> None:
    body = json.dumps({"ask": "begin"}).encode()
    for path in ("/", "/ask", "/x/ask", f"/{site.token[:-1]}/ask", f"/{site.token}x/ask",
                 f"/{site.token.swapcase()}/ask", f"/?{site.token}", f"//{site.token}/ask",
                 f"/%2e/{site.token}/ask", f"/{site.token}"):  # fmt: skip
        status, _, told = site.ask("POST", path, body, content_type="application/json")
        assert (status, told) == (404, b"there is nothing here\n"), path


@pytest.mark.parametrize("path", [
    "../pyproject.toml", "..%2f..%2fpyproject.toml", "%2e%2e/page.js", "assets/page.js",
    "page.js/..", "page.js%00", "_bench.py", "../_bench.py", "%2fetc%2fpasswd", "/etc/passwd",
    "page.html", "wire.js/", "page.js;x", "\xe4",
])  # fmt: skip
def test_nothing_but_the_files_of_the_page_is_served(site: Site, path: str) -> None:
    quoted = path.encode("latin-1").decode("latin-1")
    try:
        status, _, body = site.ask("GET", f"/{site.token}/{quoted}")
    except UnicodeEncodeError:
        pytest.skip("this client can't send it")
    assert status in (400, 404, 307)
    assert b"root:" not in body
    assert b"loopwright" not in body


def test_methods_and_kinds_that_are_not_asked_with(site: Site) -> None:
    for method in ("PUT", "DELETE", "PATCH", "GET"):
        assert site.ask(method, f"/{site.token}/ask")[0] == 405
    assert site.ask("POST", f"/{site.token}/", b"{}")[0] == 405
    for kind in ("text/plain", "application/x-www-form-urlencoded", ""):  # what a form can send
        assert site.question({"ask": "begin"}, content_type=kind)[0] == 415


def test_a_large_question_is_refused_told_or_not(site: Site) -> None:
    big = b'{"ask": "begin", "x": "' + b"x" * 40_000 + b'"}'
    assert site.question(big)[0] == 413
    path = f"/{site.token}/ask"
    with socket.create_connection(("127.0.0.1", site.port), timeout=30) as line:
        head = (f"POST {path} HTTP/1.1\r\nHost: 127.0.0.1:{site.port}\r\n"
                "Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n")  # fmt: skip
        line.sendall(head.encode())
        chunk = b"4000\r\n" + b"x" * 0x4000 + b"\r\n"
        try:
            for _ in range(8):
                line.sendall(chunk)
        except OSError:
            pass  # it has hung up
        assert b" 413 " in line.recv(200)


@pytest.mark.parametrize("body", [
    b"", b"{", b"nonsense", b"\xff\xfe", b"[" * 20_000, b"1" * 5000, b'{"ask": "begin"',
])  # fmt: skip
def test_what_is_no_json_is_refused(site: Site, body: bytes) -> None:
    assert site.question(body)[0] == 400


@pytest.mark.parametrize("message", [
    [], "begin", 3, None, {}, {"ask": "rm"}, {"ask": 3}, {"ask": "begin", "size": "XXL"},
    {"ask": "begin", "size": 3}, {"ask": "look", "choices": []},
    {"ask": "look", "choices": {"fit.ease": [1]}}, {"ask": "look", "choices": {"fit.ease": {}}},
    {"ask": "look", "choices": {"x" * 300: 1}}, {"ask": "look", "side": 7},
    {"ask": "look", "side": "0"}, {"ask": "take", "name": 7}, {"ask": "take"},
    {"ask": "look", "choices": {"heel.longer": 1e308}}, {"ask": "look", "run": True},
])  # fmt: skip
def test_a_question_that_is_none_is_refused_in_words(site: Site, message: object) -> None:
    status, told = site.question(message)
    assert status == 200
    assert [one["stage"] for one in told] == ["refused"]
    assert told[0]["words"]


def test_a_page_that_goes_away_stops_its_run(site: Site) -> None:
    before = threading.active_count()
    connection = HTTPConnection("127.0.0.1", site.port, timeout=60)
    body = json.dumps({"ask": "look", "choices": {"fit.ease": -3}})
    connection.request("POST", f"/{site.token}/ask", body, {"content-type": "application/json"})
    answer = connection.getresponse()
    assert json.loads(answer.readline())["stage"] == "reckoned"
    answer.close()
    connection.close()
    for thread in threading.enumerate():
        if thread.name == "loopwright-trying":
            thread.join(30)
    assert threading.active_count() <= before
    assert "ease -3 %" not in [one.words for one in site.bench.tried]


def test_without_the_extra_a_typed_error_says_how_to_get_it(
    monkeypatch: pytest.MonkeyPatch, design: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in [name for name in sys.modules if name.startswith("loopwright.trying")]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.delitem(sys.modules, "loopwright.cli._explore", raising=False)
    monkeypatch.setitem(sys.modules, "starlette", None)
    assert main(["explore", str(design)]) == 2
    said = capsys.readouterr().err
    assert "pip install 'loopwright[explore]'" in said
    assert MissingExtraError.__name__ not in said


def _hear_ctrl_c() -> None:
    """Undo what a shell does to commands in the background: they ignore Ctrl-C."""
    signal.signal(signal.SIGINT, signal.default_int_handler)


def begun(*words: str) -> tuple[subprocess.Popen[str], str]:
    command = [sys.executable, "-m", "loopwright", "explore", *words]
    running = subprocess.Popen(
        command,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        preexec_fn=_hear_ctrl_c if os.name != "nt" else None,
    )
    assert running.stdout is not None
    line = running.stdout.readline()
    address = re.search(r"http://127\.0\.0\.1:\d+/[\w-]{32}/", line)
    assert address, line
    _wait_until_it_answers(address[0])
    return running, address[0]


def _wait_until_it_answers(address: str) -> None:
    """Wait for the server behind the address: it is printed a moment before it listens."""
    where, until = urlsplit(address), time.monotonic() + 60
    while time.monotonic() < until:
        try:
            connection = HTTPConnection("127.0.0.1", where.port or 0, timeout=60)
            connection.request("GET", where.path)
            connection.getresponse().read()
            connection.close()
        except ConnectionError:
            time.sleep(0.05)
        else:
            return
    raise AssertionError(f"nothing answers at {address}")


@pytest.mark.skipif(os.name == "nt", reason="signals of another kind")
@pytest.mark.parametrize("is_asked", [False, True])
def test_it_ends_with_ctrl_c_and_says_so(design: Path, tmp_path: Path, is_asked: bool) -> None:
    running, address = begun(str(design), "--out", str(tmp_path / "new.toml"))
    try:
        where = urlsplit(address)
        if is_asked:  # in the middle of an answer
            connection = HTTPConnection("127.0.0.1", where.port or 0, timeout=60)
            body = json.dumps({"ask": "look", "choices": {}})
            connection.request(
                "POST", f"{where.path}ask", body, {"content-type": "application/json"}
            )
            answer = connection.getresponse()
            answer.readline()
        running.send_signal(signal.SIGINT)
        out, err = running.communicate(timeout=30)
        if is_asked:
            answer.close()
            connection.close()
    finally:
        running.kill()
    assert running.returncode == 0
    assert out.endswith("Ended.\n")
    assert "Traceback" not in err
    assert not (tmp_path / "new.toml").exists()
    with pytest.raises(OSError, match=r"."):
        socket.create_connection(("127.0.0.1", where.port), timeout=2)


def test_what_is_there_is_not_offered_to_be_replaced(
    design: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    there = tmp_path / "there.toml"
    there.write_text("mine")
    assert main(["explore", str(design), "--out", str(there)]) == 2
    assert "is there already" in capsys.readouterr().err
    assert there.read_text() == "mine"


def test_a_port_that_is_taken_is_said(design: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with socket.create_server(("127.0.0.1", 0)) as held:
        port = str(held.getsockname()[1])
        assert main(["explore", str(design), "--port", port]) == 2
    assert f"port {port}" in capsys.readouterr().err
