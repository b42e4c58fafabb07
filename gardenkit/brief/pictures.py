"""Pictures pinned to the wall: added to the garden folder, shown small, with their colours."""

import base64
import re
from pathlib import Path

from gardenkit.brief.palette import Swatch, palette
from gardenkit.brief.photo import jpeg, photo
from gardenkit.brief.style import Picture

LONGEST_NAME = 60  # letters of a picture's file name that are kept. House value.
SHOWN = 240  # px: the longer side of a picture on a page. House value.
KEPT = 1600  # px: the longer side of a picture kept in the garden folder. House value.


def add_picture(folder: Path, name: str, content: bytes) -> Picture:
    """Save an uploaded picture into ``folder`` as JPEG under a safe name and return its record.

    Raises GardenError when the content is no picture; nothing is written then.
    """
    stem = file_stem(Path(name).stem) or "picture"
    picture = photo(content, name)
    folder.mkdir(parents=True, exist_ok=True)
    picture.thumbnail((KEPT, KEPT))
    file, number = f"{stem}.jpg", 1
    while (folder / file).exists():
        number += 1
        file = f"{stem}_{number}.jpg"
    half = folder / f".{file}.tmp"
    try:
        half.write_bytes(jpeg(picture, quality=85))
        half.replace(folder / file)
    finally:
        half.unlink(missing_ok=True)
    return Picture(file=file, caption=stem.replace("_", " "))


def file_stem(name: str) -> str:
    """Return a name as it can stand in a file's name, empty when no letter of it can.

    >>> file_stem("Kitchen court (2)")
    'kitchen_court_2'
    """
    return re.sub(r"[^a-z0-9]+", "_", name.lower()).strip("_")[:LONGEST_NAME]


def thumbnail_url(path: Path, *, side: int = SHOWN) -> str:
    """Return a small copy of a picture as a data URL that works with no network. Raises GardenError for no picture."""
    small = photo(path)
    small.thumbnail((side, side))
    return "data:image/jpeg;base64," + base64.b64encode(jpeg(small, quality=80)).decode("ascii")


def colours_of(path: Path, *, count: int = 6) -> tuple[Swatch, ...]:
    """Return the colours of one picture file, the largest share first. Raises GardenError for no picture."""
    return palette(photo(path), count=count)
