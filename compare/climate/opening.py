"""From a path or an upload to the text of one weather file, through zip and gzip, in either usual encoding."""

from __future__ import annotations

import gzip
import io
import zipfile
import zlib
from pathlib import Path

from compare.climate.columns import WeatherFileError

MAX_BYTES = 40_000_000
"""A year of hours is under 2 MB; anything far beyond is no such file (or a zip bomb)."""

_ENDINGS = (".epw", ".csv", ".tm2")


def _too_long() -> WeatherFileError:
    return WeatherFileError(
        f"file size: more than {MAX_BYTES // 1_000_000} MB unpacked; a typical year has under 2 MB. "
        "Choose the weather file itself."
    )


def _from_zip(data: bytes) -> bytes:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        names = [item for item in archive.infolist() if item.filename.lower().endswith(_ENDINGS)]
        epw = [item for item in names if item.filename.lower().endswith(".epw")]
        chosen = epw or names
        if len(chosen) != 1:
            found = ", ".join(item.filename for item in chosen) or "none"
            raise WeatherFileError(
                f"zip content: exactly one weather file (.epw, or .csv in TMY3 form) is needed, found {found}. "
                "Unpack the archive and choose one."
            )
        if chosen[0].file_size > MAX_BYTES:
            raise _too_long()
        with archive.open(chosen[0]) as stream:
            return stream.read(MAX_BYTES + 1)


def unpacked(data: bytes) -> bytes:
    """Bytes of the weather file, out of its zip or gzip wrapping if it has one."""
    try:
        if data[:4] == b"PK\x03\x04":
            data = _from_zip(data)
        elif data[:2] == b"\x1f\x8b":
            with gzip.GzipFile(fileobj=io.BytesIO(data)) as stream:
                data = stream.read(MAX_BYTES + 1)
    except (zipfile.BadZipFile, gzip.BadGzipFile, zlib.error, EOFError, NotImplementedError, RuntimeError) as fault:
        raise WeatherFileError(f"packed file: it cannot be unpacked ({fault}). Download it again.") from fault
    if len(data) > MAX_BYTES:
        raise _too_long()
    return data


def decoded(data: bytes) -> str:
    """Text by UTF-8 (with or without a byte-order mark), else Latin-1, as older weather files need."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("latin-1")


def read_bytes(source: str | Path | bytes) -> tuple[bytes, str]:
    """The raw bytes of a path or an upload, and a name for messages ("" for an upload)."""
    if isinstance(source, bytes | bytearray | memoryview):
        return bytes(source), ""
    path = Path(source)
    if not path.is_file():
        raise WeatherFileError(f"weather file: {path} is no file. Give the path of an EPW or TMY3 file.")
    if path.stat().st_size > MAX_BYTES:
        raise _too_long()
    return path.read_bytes(), path.name
