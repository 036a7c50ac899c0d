"""A form on a scan: on its surface, and a sock on it."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh
from scipy.spatial import cKDTree

from loopwright.fitting import FootForm, drape, foot_form, scanned_form
from loopwright.gauge import Gauge
from loopwright.geometry import shape
from loopwright.scanning import FootScan, measure_scan
from loopwright.sock import Foot, Sock
from scanning.scans import bent, of_length, scan_of


@pytest.fixture(scope="module")
def scan() -> FootScan:
    """A right foot, turned anyhow, with noise, its leg cut at 0.7 of its length."""
    return measure_scan(bent(scan_of(of_length(240), noise_mm=0.3, top=0.7), right=True))


@pytest.fixture(scope="module")
def form(scan: FootScan) -> FootForm:
    return scanned_form(scan, rings=80, columns=48)


def test_the_form_lies_on_the_scan(scan: FootScan, form: FootForm) -> None:
    """Points spread over the scan by trimesh, against the form's; above the cut it goes on."""
    mesh = trimesh.Trimesh(scan.surface.vertices_mm, scan.surface.triangles, process=False)
    points, _ = trimesh.sample.sample_surface(mesh, 60_000, seed=1)
    p = form.surface.vertices_mm
    away, _ = cKDTree(points).query(p[p[:, 2] < 0.65 * 240])
    assert np.percentile(away, 95) < 1.5  # the samples are 1.3 mm apart
    assert p[:, 2].max() > 0.75 * 240


def test_the_form_is_closed_and_nowhere_folded(form: FootForm) -> None:
    surface = form.surface
    assert (surface.euler_characteristic, len(surface.edges.boundary)) == (2, 0)
    assert surface.volume_mm3 > 0
    assert surface.fold_overs == 0


def test_a_form_of_measures_alone_lies_elsewhere(scan: FootScan, form: FootForm) -> None:
    """The scan's ball lies aslant and inward; a form of its measures is alike on both sides."""
    alike = foot_form(Foot.from_scan(scan), rings=80, columns=48)
    apart = np.linalg.norm(alike.surface.vertices_mm - form.surface.vertices_mm, axis=1)
    assert apart.max() > 4


def test_a_sock_is_draped_on_the_scan(scan: FootScan, form: FootForm) -> None:
    sock = Sock(foot=Foot.from_scan(scan), gauge=Gauge.of(14, 20))
    worn = drape(shape(sock.fabric(), sock.gauge), form)
    assert worn.penetration_mm < 0.1
    assert worn.touches.mean() > 0.5
