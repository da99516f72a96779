"""Where the office's page finds its folders, with clear errors where they are not."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

JOBS, OFFICE = "jobs", "office"
PASSWORD = ".password"  # noqa: S105 - the name of a file


class PlaceError(ValueError):
    """A folder that is missing or cannot serve; the text names the cure."""


@dataclass(frozen=True, slots=True)
class Place:
    """Folder of jobs, and the office's own folder apart from them."""

    name: str
    jobs: Path
    office: Path

    @classmethod
    def at(cls, folder: Path, jobs: Path | None = None, office: Path | None = None) -> Place:
        """The usual arrangement: `jobs` and `office` side by side in a company's folder, each replaceable.

        Raises
        ------
        PlaceError
            A folder that is missing, or an office folder inside the jobs, where it would be handed over with them.
        """
        if not folder.is_dir():
            raise PlaceError(f"{folder}: no such folder; give the folder that holds '{JOBS}' and '{OFFICE}'")
        found = cls(folder.resolve().name, jobs or folder / JOBS, office or folder / OFFICE)
        if not found.jobs.is_dir():
            raise PlaceError(f"{found.jobs}: no such folder; issue a proposal into it, or name another with --jobs")
        inside, around = found.office.resolve(), found.jobs.resolve()
        if inside.is_relative_to(around):
            raise PlaceError(f"{found.office}: lies inside the jobs, which are handed over whole; keep it apart")
        return found

    @property
    def password(self) -> Path:
        """File of the password's hash."""
        return self.office / PASSWORD
