"""The picture of a scan: it shows each tape and landmark, and stays small."""

from __future__ import annotations

import pytest

from loopwright.picture import Picture, draw_scan
from loopwright.scanning import FootScan, measure_scan
from scanning.scans import of_length, scan_of


@pytest.fixture(scope="module")
def scan() -> FootScan:
    return measure_scan(scan_of(of_length(250), seed=2, holes=1, rings=110, columns=70))


@pytest.fixture(scope="module")
def picture(scan: FootScan) -> Picture:
    return draw_scan(scan)


def words(picture: Picture) -> list[str]:
    return [text.text or "" for text in picture.element().iter("text")]


def test_each_measure_and_landmark_is_named(scan: FootScan, picture: Picture) -> None:
    said = words(picture)
    for name, length in scan.measures.items():
        start = f"{name.replace('_', ' ')} {length.mm / 10:.1f} ± "
        assert any(word.startswith(start) for word in said)
    for name in scan.landmarks_mm:
        assert name in said
    for remark in scan.remarks:
        assert remark[:40] in " ".join(said)


def test_a_tape_has_its_number_in_the_picture_and_in_the_list(
    scan: FootScan, picture: Picture
) -> None:
    said = words(picture)
    for number in range(1, len(scan.tapes) + 1):
        assert said.count(str(number)) >= 2


def test_it_is_small_however_large_the_scan() -> None:
    fine = measure_scan(scan_of(of_length(250), rings=240, columns=150))
    assert len(fine.surface.triangles) > 50_000
    assert len(draw_scan(fine).svg()) < 700_000


def test_a_scan_shows_itself(scan: FootScan) -> None:
    assert scan._repr_html_().startswith("<svg")
