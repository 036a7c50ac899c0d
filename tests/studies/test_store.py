"""The store: a partition is whole or not there, whatever happens while it is written."""

from __future__ import annotations

import errno
import os
from multiprocessing import Pipe
from pathlib import Path
from typing import Any

import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from loopwright.errors import StoreError
from loopwright.studies._engines import _context
from loopwright.studies._store import FORMAT, Store
from studies.toys import hold

TABLE = pa.table({"case": [0, 1, 2], "girth_mm": [248.0, None, 1 / 3]})


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    with Store(tmp_path / "study") as store:
        store.claim({"designs": ["plain"], "cases": 3})
        store.write("cases", 0, TABLE)
        store.write("cases", 7, TABLE)
    return store.folder


def partition(folder: Path, part: int = 0) -> Path:
    (path,) = (folder / "cases").glob(f"part-{part:06d}-*.parquet")
    return path


def test_what_was_written_is_read_bit_for_bit(folder: Path) -> None:
    store = Store(folder)
    assert store.finished("cases") == {0, 7}
    assert store.finished("socks") == set()
    assert store.read("cases", 7).equals(TABLE)


def test_partitions_are_parquet_that_others_read(folder: Path) -> None:
    assert pq.read_table(partition(folder)).equals(TABLE)


@pytest.mark.parametrize("damage", ["truncated", "flipped", "emptied", "longer"])
def test_a_damaged_partition_is_removed_and_counted_as_missing(folder: Path, damage: str) -> None:
    path = partition(folder)
    data = path.read_bytes()
    middle = len(data) // 2
    flipped = data[:middle] + bytes([data[middle] ^ 1]) + data[middle + 1 :]
    damaged = {"truncated": data[:middle], "flipped": flipped, "emptied": b""}
    path.write_bytes(damaged.get(damage, data + b"x"))
    store = Store(folder)
    assert store.finished("cases") == {7}
    assert not path.exists()
    with pytest.raises(StoreError, match="partition 0 of 'cases' is gone or damaged"):
        store.read("cases", 0)


def test_damage_between_looking_and_reading_is_seen(folder: Path) -> None:
    store = Store(folder)
    store.finished("cases")
    partition(folder).write_bytes(b"PAR1")
    with pytest.raises(StoreError, match="damaged"):
        store.read("cases", 0)


def test_a_partition_that_is_there_twice_counts_once(folder: Path) -> None:
    path = partition(folder)
    other = pa.table({"case": [9]})
    with Store(folder) as store:
        store.write("cases", 0, other)
    assert Store(folder).finished("cases") == {0, 7}
    assert len(list((folder / "cases").glob("part-000000-*"))) == 1
    assert path.exists() or partition(folder).exists()


def test_what_a_killed_writer_left_is_cleared_away(folder: Path) -> None:
    left = folder / "cases" / ".part-abc123"
    left.write_bytes(b"half a parti")
    assert Store(folder).finished("cases") == {0, 7}
    assert not left.exists()


@pytest.mark.parametrize("call", ["fsync", "replace"])
def test_a_full_disk_is_told_and_harms_nothing(
    folder: Path, call: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: Any) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    before = sorted(folder.rglob("*"))
    with Store(folder) as store:
        with monkeypatch.context() as patch:
            patch.setattr(os, call, full)
            with pytest.raises(StoreError) as caught:
                store.write("cases", 1, TABLE)
        assert caught.value.problem == "no space left on device"
        assert "is kept" in caught.value.advice
        assert sorted(folder.rglob("*")) == before
        store.write("cases", 1, TABLE)
    assert Store(folder).finished("cases") == {0, 1, 7}


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may do anything")
def test_a_folder_that_is_not_ours_is_refused(folder: Path) -> None:
    folder.chmod(0o500)
    with pytest.raises(StoreError, match="permission denied"), Store(folder) as store:
        store.write("socks", 0, TABLE)
    folder.chmod(0o700)


def test_another_study_is_refused_and_told_apart(folder: Path) -> None:
    with Store(folder) as store:
        store.claim({"cases": 3, "designs": ["plain"]})  # the order of keys is no difference
        with pytest.raises(StoreError, match=r"differs in designs, seed") as caught:
            store.claim({"designs": ["plain", "ribbed"], "cases": 3, "seed": 1})
    assert caught.value.path == str(folder)


def test_a_newer_format_is_refused(folder: Path) -> None:
    text = (folder / "study.json").read_text()
    newer = text.replace(f'"format": {FORMAT}', f'"format": {FORMAT + 1}')
    assert newer != text
    (folder / "study.json").write_text(newer)
    with Store(folder) as store, pytest.raises(StoreError, match="differs in format"):
        store.claim({"designs": ["plain"], "cases": 3})


@pytest.mark.parametrize("text", ["", "{", "[1, 2]", "\xff\xfe"])
def test_a_damaged_definition_is_refused(folder: Path, text: str) -> None:
    (folder / "study.json").write_bytes(text.encode("latin-1"))
    with Store(folder) as store, pytest.raises(StoreError):
        store.claim({"designs": ["plain"], "cases": 3})


def test_a_folder_of_other_things_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "letters.txt").write_text("dear")
    with Store(tmp_path) as store, pytest.raises(StoreError, match=r"holds 'letters.txt'"):
        store.claim({})
    assert (tmp_path / "letters.txt").read_text() == "dear"


def test_a_file_in_the_way_is_refused(tmp_path: Path) -> None:
    (tmp_path / "study").write_text("")
    with pytest.raises(StoreError, match=r"exists|not a directory"), Store(tmp_path / "study"):
        pass


def test_two_writers_are_kept_apart_and_a_dead_one_lets_go(folder: Path) -> None:
    heard, told = Pipe(duplex=False)
    other: Any = _context().Process(target=hold, args=(folder, told))  # type: ignore[attr-defined]
    other.start()
    try:
        assert heard.recv() == "held"
        with pytest.raises(StoreError, match="another process"), Store(folder):
            pass
    finally:
        other.kill()
        other.join()
    with Store(folder) as store:
        assert store.finished("cases") == {0, 7}


def test_the_files_are_for_those_whom_the_system_lets_read(folder: Path) -> None:
    umask = os.umask(0)
    os.umask(umask)
    assert partition(folder).stat().st_mode & 0o777 == 0o666 & ~umask


def test_a_renamed_partition_is_not_believed(folder: Path) -> None:
    """The same bytes under another number, or in the store of another study."""
    path = partition(folder)
    renamed = path.with_name(path.name.replace("000000", "000005"))
    path.rename(renamed)
    assert Store(folder).finished("cases") == {7}
    assert not renamed.exists()


def test_a_partition_of_another_study_is_not_believed(folder: Path, tmp_path: Path) -> None:
    with Store(tmp_path / "other") as other:
        other.claim({"feet": 99})
        (tmp_path / "other" / "cases").mkdir()
        path = partition(folder)
        (tmp_path / "other" / "cases" / path.name).write_bytes(path.read_bytes())
        assert other.finished("cases") == set()


def test_a_folder_where_a_part_should_be_is_no_part(folder: Path) -> None:
    path = partition(folder)
    path.unlink()
    path.mkdir()
    (path / "inside").write_text("x")
    assert Store(folder).finished("cases") == {7}


def test_a_right_checksum_over_junk_is_told(folder: Path) -> None:
    store = Store(folder)
    store.finished("cases")
    junk = b"PAR1 and no more"
    path = folder / "cases" / f"part-000003-{store._checksum('cases', 3, junk)}.parquet"
    path.write_bytes(junk)
    assert store.finished("cases") == {0, 3, 7}
    with pytest.raises(StoreError, match="gone or damaged"):
        store.read("cases", 3)


def test_a_study_without_end_is_told(folder: Path) -> None:
    (folder / "study.json").write_text("[" * 100_000)
    with Store(folder) as store, pytest.raises(StoreError, match="can't be read"):
        store.claim({"feet": 3})
