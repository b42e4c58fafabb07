"""A scan or photo made ready to lie under the plan."""

import base64
from io import BytesIO
from pathlib import Path
from typing import Any

PICTURE_PX = 1400  # most pixels of a scan sent to the page. House value.


def data_url(path: Path) -> str:
    """Return a picture as text that the page can show, made smaller when it is large."""
    from PIL import Image

    with Image.open(path) as opened:
        small = opened.convert("RGB")
    small.thumbnail((PICTURE_PX, PICTURE_PX))
    held = BytesIO()
    small.save(held, "JPEG", quality=80)
    return "data:image/jpeg;base64," + base64.b64encode(held.getvalue()).decode("ascii")


def no_picture() -> dict[str, list[Any]]:
    """Return the columns of a scan that is not there."""
    return {key: [] for key in ("url", "x", "y", "w", "h", "angle")}
