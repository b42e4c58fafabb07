"""The readable project file ``garden.json``: opened with every check, written whole or not at all."""

from pathlib import Path
from typing import Any

import attrs

from gardenkit import __version__
from gardenkit import project as projects
from gardenkit.findings import GardenError
from gardenkit.project import Project
from gardenkit.storage.files import DiskError, StorageError, prepared, replace_safely, settle, stamp, sweep, trouble
from gardenkit.storage.history import HIGHEST
from gardenkit.storage.records import FORMAT, file_text, from_data, parsed, to_data, upgraded

PROJECT_FILE = "garden.json"
COPY_FILE = f"{PROJECT_FILE}.before"
LARGEST = 200_000_000  # bytes: a project file above this is none of ours. House value.
_REPAIR = "restore it with gardenkit recover"


@attrs.frozen(kw_only=True)
class Stored:
    """A project as it stands on disk: ``at`` is the number of the change it stands at, 0 for the first state."""

    project: Project
    at: int
    stamp: tuple[int, ...] = ()  # of the project file it was read from or written to
    data: dict[str, Any] = attrs.field(factory=dict, eq=False, repr=False)  # what stands there, with its format


def whole(project: Project) -> dict[str, Any]:
    """Return a project as plain data with the number of its format: what the history keeps."""
    return {"format": FORMAT} | to_data(project)


def renewed(data: dict[str, Any]) -> dict[str, Any]:
    """Return whole data of any format so far as gardenkit would write it today. Raises StorageError."""
    return whole(as_project(data, where="the history"))


def as_project(data: dict[str, Any], *, where: str) -> Project:
    """Return the project in whole data, checked. Raises StorageError naming the first thing that cannot be."""
    project = from_data(upgraded(data, where=where), where=where)
    try:
        projects.check(project, opening=True)
    except GardenError as error:
        raise StorageError(f"{where} holds what cannot be: {error}; or {_REPAIR}") from error
    return project


def opened(path: Path) -> Stored:
    """Return what stands in a project file. Raises StorageError for a missing, damaged or newer one."""
    now = stamp(path)
    data = parsed(_text(path), path)
    at = data.pop("at", 0)
    data.pop("written_by", None)
    if type(at) is not int or not 0 <= at <= HIGHEST:
        raise StorageError(f'{path.name}: "at" must be a whole number, not {str(at)[:40]!r}; {_REPAIR}')
    return Stored(project=as_project(data, where=path.name), at=at, stamp=now, data=data)


def _text(path: Path) -> str:
    try:
        if path.stat().st_size > LARGEST:
            raise StorageError(f"{path.name} is larger than any garden; {_REPAIR}")
        return path.read_text(encoding="utf-8-sig")
    except FileNotFoundError as error:
        raise DiskError(
            f"{path.parent} holds no garden ({PROJECT_FILE} is missing); open another folder or make a new garden"
        ) from error
    except NotADirectoryError as error:
        raise StorageError(f"{path.parent} is a file, not a garden folder; name the folder that holds it") from error
    except OSError as error:
        raise DiskError(trouble(error)) from error
    except UnicodeDecodeError as error:
        where = f"byte {error.start:,} is no letter of it"
        raise DiskError(f"{path.name} is not saved as UTF-8 text ({where}); save it so, or {_REPAIR}") from error


def laid_ready(folder: Path, data: dict[str, Any], at: int) -> Path:
    """Write the new project file beside the old one, to be put in its place; ``data`` with its format."""
    head = {"format": data["format"], "written_by": f"gardenkit {__version__}", "at": at}
    path = folder / PROJECT_FILE
    sweep(path)
    return prepared(path, file_text(head | data).encode("utf-8"))


def put_in_place(folder: Path, temporary: Path) -> tuple[int, ...]:
    """Let a project file that was laid ready take the place of the old, which stays as a copy; returns its stamp."""
    path = folder / PROJECT_FILE
    if path.exists():
        replace_safely(folder / COPY_FILE, path.read_bytes(), durable=False)
    settle(temporary, path)
    return stamp(path)
