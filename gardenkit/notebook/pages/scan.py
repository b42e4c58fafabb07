"""A scan or photo made ready to lie under the plan."""

import base64
from pathlib import Path
from typing import Any

from gardenkit.brief.photo import jpeg, photo

PICTURE_PX = 1400  # most pixels of a scan sent to the page. House value.


def data_url(path: Path) -> str:
    """Return a picture as text that the page can show, made smaller when it is large."""
    small = photo(path)
    small.thumbnail((PICTURE_PX, PICTURE_PX))
    return "data:image/jpeg;base64," + base64.b64encode(jpeg(small, quality=80)).decode("ascii")


def no_picture() -> dict[str, list[Any]]:
    """Return the columns of a scan that is not there."""
    return {key: [] for key in ("url", "x", "y", "w", "h", "angle")}
