"""The only door through which a picture file comes in: photos and scans, checked before they are decoded."""

import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path

from PIL import Image, ImageOps, UnidentifiedImageError

from gardenkit.findings import GardenError

# What cameras, phones and scanners save. Nothing that another program would be started for (EPS) is among them.
FORMATS = ("JPEG", "PNG", "WEBP", "TIFF", "BMP", "GIF", "HEIF")
MOST_PIXELS = 100_000_000  # larger than any camera's picture, refused
MOST_BYTES = 200_000_000  # of the file. House value.


def photo(picture: Path | bytes, name: str = "") -> Image.Image:
    """Return a picture as RGB, turned the right way up, with nothing told about it but its colours.

    Raises GardenError when it is missing, too large, or no picture of the formats that are read.
    """
    import pillow_heif

    pillow_heif.register_heif_opener()  # HEIC, as telephones save it
    shown = name or (picture.name if isinstance(picture, Path) else "the picture")
    try:
        with _unwarned(), Image.open(BytesIO(_content(picture, shown)), formats=FORMATS) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                raise GardenError(f"{shown} is {opened.width} x {opened.height} pixels, too large; save it smaller")
            profile = opened.info.get("icc_profile") if opened.mode == "RGB" else None
            opened.load()
            ImageOps.exif_transpose(opened, in_place=True)  # no copy beside it: a large photo takes 300 MB
            found: Image.Image = opened if opened.mode == "RGB" else opened.convert("RGB")
    except GardenError:
        raise
    except Image.DecompressionBombError as error:
        raise GardenError(f"{shown} is too large a picture; save it smaller") from error
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError, EOFError, MemoryError) as error:
        raise GardenError(
            f"{shown} is not a picture that can be read; use a JPEG or PNG photo saved from your camera or phone"
        ) from error
    found.info = {"icc_profile": profile} if profile else {}
    return found


@contextmanager
def _unwarned() -> Iterator[None]:
    """Let nothing be said of a large picture besides our own sentence."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", Image.DecompressionBombWarning)
        yield


def _content(picture: Path | bytes, shown: str) -> bytes:
    if isinstance(picture, bytes):
        return picture
    try:
        if not picture.resolve().is_relative_to(picture.parent.parent.resolve()):
            raise GardenError(
                f"{shown} is a link to what lies outside the garden's folder; put the picture itself there"
            )
        if picture.stat().st_size > MOST_BYTES:
            raise GardenError(f"{shown} is larger than {MOST_BYTES // 1_000_000} MB; save it smaller")
        return picture.read_bytes()
    except FileNotFoundError as error:
        raise GardenError(
            f"the picture {shown} is not in {picture.parent}; add it there or take it off the list"
        ) from error


def jpeg(picture: Image.Image, *, quality: int) -> bytes:
    """Return a picture as JPEG: its pixels and colour profile, nothing about the camera, place or hand behind it."""
    held = BytesIO()
    picture.save(held, format="JPEG", quality=quality, icc_profile=picture.info.get("icc_profile"))
    return held.getvalue()
