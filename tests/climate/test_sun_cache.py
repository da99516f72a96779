"""Sun on faces: one cache file a set, damage and refusal to write cost time only, and no pvlib on a cached load."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from compare.climate import sun as sun_module
from compare.climate.embedded import embedded
from compare.climate.sun import SunSet, sun_on, sun_set, suns_on
from compare.climate.sun_cache import cache_folder, load_arrays, store_arrays

FACES = [(90.0, 0.0), (90.0, 180.0), (0.0, 0.0), (180.0, 77.0), (90.0, 180.0)]


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache of its own for every test."""
    monkeypatch.setenv("HPLAYOUTS_CACHE", str(tmp_path / "cache"))
    return tmp_path / "cache" / "sun"


def _same(one: SunSet, other: SunSet) -> bool:
    pairs = zip(one.faces, other.faces, strict=True)
    return all(
        np.array_equal(a.beam_w_m2, b.beam_w_m2)
        and np.array_equal(a.diffuse_w_m2, b.diffuse_w_m2)
        and np.array_equal(a.incidence_cos, b.incidence_cos)
        for a, b in pairs
    ) and np.array_equal(one.position.height_deg, other.position.height_deg)


def test_second_call_reads_the_same_numbers(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = sun_set(embedded("golden"), FACES)
    assert len(list(folder.glob("*.npz"))) == 1
    monkeypatch.setattr(sun_module, "_compute", None)
    assert _same(first, sun_set(embedded("golden"), FACES))
    turned = suns_on(embedded("golden"), FACES[::-1])
    np.testing.assert_array_equal(turned[-1].beam_w_m2, first.faces[0].beam_w_m2)


def test_bearings_wrap_and_order_does_not_matter(folder: Path) -> None:
    one = suns_on(embedded("golden"), [(90.0, -90.0), (90.0, 0.0)])
    two = suns_on(embedded("golden"), [(90.0, 360.0), (90.0, 270.0)])
    np.testing.assert_array_equal(one[0].beam_w_m2, two[1].beam_w_m2)
    assert len(list(folder.glob("*.npz"))) == 1


@pytest.mark.parametrize("damage", ["cut", "flip", "empty", "text"])
def test_damaged_file_is_recomputed(folder: Path, damage: str) -> None:
    first = sun_set(embedded("golden"), FACES)
    (path,) = folder.glob("*.npz")
    data = bytearray(path.read_bytes())
    if damage == "flip":
        for place in range(5000, 6000):
            data[place] ^= 0xFF
    spoiled = {"cut": bytes(data[: len(data) // 2]), "flip": bytes(data), "empty": b"", "text": b"no cache"}[damage]
    path.write_bytes(spoiled)
    assert _same(first, sun_set(embedded("golden"), FACES))
    assert path.read_bytes() != spoiled


def test_unwritable_cache_is_no_error(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("in the way")
    monkeypatch.setenv("HPLAYOUTS_CACHE", str(blocked))
    assert store_arrays("key", {"a": np.zeros(3)}) is False
    assert sun_on(embedded("golden"), 90.0, 180.0).beam_w_m2.max() > 500.0


def test_stored_arrays_of_another_shape_or_with_gaps_are_a_miss() -> None:
    store_arrays("shape", {"a": np.zeros(3)})
    assert load_arrays("shape", {"a": (3,)}) is not None
    assert load_arrays("shape", {"a": (4,)}) is None
    assert load_arrays("shape", {"b": (3,)}) is None
    store_arrays("gap", {"a": np.array([1.0, np.nan])})
    assert load_arrays("gap", {"a": (2,)}) is None


def test_old_files_are_pruned(folder: Path) -> None:
    for number in range(70):
        store_arrays(f"key{number}", {"a": np.zeros(1)})
    assert len(list(folder.glob("*.npz"))) == 60
    assert not list(folder.glob(".part-*"))


def test_folder_choice(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert cache_folder() == Path(os.environ["HPLAYOUTS_CACHE"])
    monkeypatch.delenv("HPLAYOUTS_CACHE")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert cache_folder() == tmp_path / "heat-pump-layouts"
    monkeypatch.delenv("XDG_CACHE_HOME")
    assert cache_folder() == Path("~/.cache/heat-pump-layouts").expanduser()


def test_cached_load_imports_no_slow_library() -> None:
    """A fresh process with a filled cache imports neither pvlib nor pandas nor scipy, for a year and a design day."""
    script = (
        "import sys\n"
        "from compare.climate.embedded import embedded\n"
        "from compare.climate.sun import suns_on\n"
        "from compare.climate.design_day import cooling_design_day\n"
        "from compare.climate.year import DesignConditions\n"
        "suns_on(embedded('golden'), [(90.0, 180.0)])\n"
        "day = cooling_design_day(DesignConditions(-13., 32., 15., 13., 'test', 39.7, -105.2, -7., 1829.))\n"
        "suns_on(day, [(90.0, 180.0)])\n"
        "print([name for name in ('pvlib', 'pandas', 'scipy') if name in sys.modules])\n"
    )
    command = [sys.executable, "-c", script]
    first = subprocess.run(command, capture_output=True, text=True, check=True)
    second = subprocess.run(command, capture_output=True, text=True, check=True)
    assert "pvlib" in first.stdout
    assert second.stdout.strip() == "[]"


def test_physical_signs() -> None:
    """South wall: no beam with the sun behind it; a floor facing down sees reflected sun only; sums stay finite."""
    year = embedded("golden")
    found = sun_set(year, FACES)
    south, down = found.faces[1], found.faces[3]
    behind = (found.position.azimuth_deg < 90.0) | (found.position.azimuth_deg > 270.0)
    assert south.beam_w_m2[behind].max() == 0.0
    assert down.beam_w_m2.max() == 0.0
    np.testing.assert_allclose(down.diffuse_w_m2, 0.2 * year.global_horizontal_w_m2, rtol=1e-9, atol=1e-9)
    for sun in found.faces:
        assert (sun.beam_w_m2 >= 0.0).all()
        assert (sun.diffuse_w_m2 >= 0.0).all()
        assert (sun.incidence_cos <= 1.0).all()
    level = found.faces[2]
    np.testing.assert_allclose(level.beam_w_m2 + level.diffuse_w_m2, year.global_horizontal_w_m2)


def test_bad_faces() -> None:
    with pytest.raises(ValueError, match="tilt"):
        sun_on(embedded("golden"), 181.0, 0.0)
    with pytest.raises(ValueError, match="bearing"):
        sun_on(embedded("golden"), 90.0, float("nan"))
    with pytest.raises(ValueError, match="albedo"):
        sun_on(embedded("golden"), 90.0, 0.0, albedo_frac=1.2)
