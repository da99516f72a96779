"""All layouts of a proposal's house in the office's figures, kept beside its entry: what else could be offered.

Written when a proposal is completed, so that the manager's page never has to work a house out to show it.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from compare.jobs.canonical import canonical_text
from compare.jobs.disk import PRIVATE, Disk, sweep, write_whole
from compare.office.view import OfficeView

FORMAT = 1
FOLDER = "layouts"


class AlternativesError(ValueError):
    """A file of layouts that cannot be read or belongs to another record."""


def view_path(office: Path, record_sha256: str) -> Path:
    """Where the office keeps the layouts of a record's house."""
    return office / FOLDER / f"{record_sha256[:12]}.json"


def write_view(path: Path, record_sha256: str, view: OfficeView, disk: Disk = PRIVATE) -> None:
    """Write the layouts whole."""
    body = {"format": FORMAT, "record_sha256": record_sha256, "view": json.loads(view.model_dump_json())}
    sweep(path.parent)
    write_whole(path, canonical_text(body), disk)


def read_view(path: Path, record_sha256: str) -> OfficeView | None:
    """Read the layouts of a record's house; None where none were kept.

    Raises
    ------
    AlternativesError
        A file that cannot be read, is of another format, or belongs to another record.
    """
    try:
        body: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
        if (body["format"], body["record_sha256"]) != (FORMAT, record_sha256):
            raise AlternativesError(f"{path}: of another record or format; complete the proposal again")
        return OfficeView.model_validate(body["view"])
    except FileNotFoundError:
        return None
    except (OSError, ValueError, KeyError, TypeError, RecursionError) as error:
        if isinstance(error, AlternativesError):
            raise
        what = type(error).__name__
        raise AlternativesError(f"{path}: cannot be read ({what}); complete the proposal again") from None
