from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from importlib.metadata import version
from pathlib import Path

import click
import pytest

from loopwright.cli import commands, main
from loopwright.cli.files import read_text, write_files
from loopwright.errors import FileError, UnitError

Register = Callable[[Callable[[], int | None]], list[str]]


@pytest.fixture
def register() -> Iterator[Register]:
    """Add a command for the length of one test; its words come back."""
    name = "command-of-a-test"

    def add(callback: Callable[[], int | None]) -> list[str]:
        commands.add_command(click.Command(name, callback=callback))
        return [name]

    yield add
    commands.commands.pop(name, None)


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"loopwright, version {version('loopwright')}\n"


@pytest.mark.parametrize("flag", ["--help", "-h"])
def test_help_lists_every_command(flag: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([flag]) == 0
    out = capsys.readouterr().out
    assert out.startswith("Usage: loopwright ")
    for name in commands.commands:
        assert name in out


def test_unknown_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["unravel"]) == 2
    assert "No such command 'unravel'" in capsys.readouterr().err


@pytest.mark.parametrize("code", [None, 0, 1])
def test_a_command_returns_its_exit_code(register: Register, code: int | None) -> None:
    assert main(register(lambda: code)) == (code or 0)


def _refuse() -> None:
    raise UnitError("foot length", "a number without a unit", "25", "a length")


def _refuse_the_system() -> None:
    Path("no such folder/no such file").read_bytes()


def _stop() -> None:
    raise KeyboardInterrupt


def _blunder() -> None:
    raise ZeroDivisionError


@pytest.mark.parametrize(
    ("callback", "code", "message"),
    [
        (_refuse, 2, "foot length: a number without a unit: found 25; expected a length"),
        (_refuse_the_system, 2, "no such folder/no such file: No such file or directory"),
        (_stop, 130, "stopped"),
    ],
)
def test_one_message_and_nothing_on_stdout(
    callback: Callable[[], None],
    code: int,
    message: str,
    register: Register,
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(register(callback)) == code
    out, err = capsys.readouterr()
    assert out == ""
    assert err.strip() == f"loopwright: {message}"


def test_a_blunder_of_ours_is_not_dressed_up_as_the_users(register: Register) -> None:
    with pytest.raises(ZeroDivisionError):
        main(register(_blunder))


def test_module_runs() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "loopwright", "--version"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.startswith("loopwright, version ")
    assert done.stderr == ""


_FLOOD = """
import sys, click
from loopwright.cli import commands, main
@commands.command()
def flood():
    while True:
        click.echo("knit " * 100)
sys.exit(main(["flood"]))
"""

_LAST_WORDS = """
import os, sys
from loopwright.cli import commands, main
@commands.command()
def speak():
    sys.stdout.write("knit")  # stays in the buffer until the end
    sys.stdin.read()
sys.exit(main(["speak"]))
"""


@pytest.mark.skipif(os.name == "nt", reason="pipes end otherwise there")
def test_the_reader_of_a_pipe_goes_away_while_printing() -> None:
    with subprocess.Popen(
        [sys.executable, "-c", _FLOOD], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        assert process.stdout.readline().startswith(b"knit")
        process.stdout.close()
        assert process.stderr.read() == b""
        assert process.wait(timeout=30) == 1


@pytest.mark.skipif(os.name == "nt", reason="pipes end otherwise there")
def test_the_reader_of_a_pipe_goes_away_before_the_last_flush() -> None:
    with subprocess.Popen(
        [sys.executable, "-c", _LAST_WORDS],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        process.stdin.close()
        assert process.stderr.read() == b""
        assert process.wait(timeout=30) == 1


@pytest.mark.skipif(os.name == "nt", reason="signals differ there")
def test_control_c_ends_without_a_traceback() -> None:
    """Also where this run itself ignores it, as shells let what they start in the background."""
    ours = signal.getsignal(signal.SIGINT)
    signal.signal(signal.SIGINT, signal.default_int_handler)  # what is ignored is inherited
    try:
        process = subprocess.Popen(
            [sys.executable, "-u", "-c", _FLOOD], stdout=subprocess.PIPE, stderr=subprocess.PIPE
        )
    finally:
        signal.signal(signal.SIGINT, ours)
    watchdog = threading.Timer(30, process.kill)  # a flood that went on would fill the memory
    watchdog.start()
    with process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.readline()
        time.sleep(0.1)
        process.send_signal(signal.SIGINT)
        while process.stdout.read(1 << 16):
            pass
        assert process.stderr.read().strip() == b"loopwright: stopped"
        assert process.wait(timeout=30) == 130
    watchdog.cancel()


def test_signs_that_a_terminal_lacks_do_not_end_a_command() -> None:
    done = subprocess.run(
        [sys.executable, "-c", _FLOOD.replace("while True", "if True").replace("knit", "\u2212")],
        capture_output=True,
        env={**os.environ, "PYTHONIOENCODING": "latin-1"},
        check=True,
    )
    assert done.stdout.startswith(b"\\u2212 ")


def test_read_text(tmp_path: Path) -> None:
    path = tmp_path / "design.toml"
    path.write_bytes(b"\xef\xbb\xbfheel = 'flap'\r\n")
    assert read_text(path) == "heel = 'flap'\n"


@pytest.mark.parametrize(
    ("content", "problem"),
    [
        (None, "no such file or directory"),
        (b"a\nb\xff", "line 2 is not UTF-8 text (byte 3)"),
        (b" " * (16 * 2**20 + 1), "is larger than 16 MiB"),
    ],
)
def test_read_text_says_what_is_wrong(tmp_path: Path, content: bytes | None, problem: str) -> None:
    path = tmp_path / "pattern.txt"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(FileError) as caught:
        read_text(path)
    assert caught.value.path == str(path)
    assert caught.value.problem == problem


def test_read_text_of_a_folder(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="director"):
        read_text(tmp_path)


def test_write_files(tmp_path: Path) -> None:
    write_files(tmp_path / "new", {"a.txt": "k2tog ×", "charts/b.bin": b"\x00"})
    assert (tmp_path / "new/a.txt").read_text(encoding="utf-8") == "k2tog ×"
    assert (tmp_path / "new/charts/b.bin").read_bytes() == b"\x00"
    plain = tmp_path / "plain"
    plain.write_text("")
    assert (tmp_path / "new/a.txt").stat().st_mode == plain.stat().st_mode


def test_a_file_is_written_whole_or_not_at_all(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_files(tmp_path, {"a.txt": "before"})

    def full(source: str, target: Path) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(FileError, match="no space left"):
        write_files(tmp_path, {"a.txt": "after"})
    assert [path.name for path in tmp_path.iterdir()] == ["a.txt"]
    assert (tmp_path / "a.txt").read_text() == "before"


def test_a_file_where_a_folder_should_be(tmp_path: Path) -> None:
    (tmp_path / "report").write_text("")
    with pytest.raises(FileError) as caught:
        write_files(tmp_path / "report", {"a.txt": ""})
    assert caught.value.path == str(tmp_path / "report" / "a.txt")
