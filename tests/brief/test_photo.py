"""Pictures are guests: read by the formats named, measured before they are decoded, stripped of all but colour."""

import struct
import subprocess
import zlib
from io import BytesIO
from pathlib import Path

import pillow_heif
import pytest
from PIL import Image, ImageCms, PngImagePlugin

from gardenkit.brief import pictures
from gardenkit.brief.photo import FORMATS, jpeg, photo
from gardenkit.findings import GardenError

SECRET = "Lantern Lane 4, key under the pot"
EPS = b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 10 10\n%%EndComments\nshowpage\n%%EOF\n"


def saved(picture: Image.Image, kind: str, **more: object) -> bytes:
    held = BytesIO()
    picture.save(held, kind, **more)
    return held.getvalue()


def leaf() -> Image.Image:
    return Image.new("RGB", (40, 20), (60, 120, 40))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "TIFF", "BMP", "GIF"])
def test_what_cameras_and_scanners_save_is_read(kind: str) -> None:
    found = photo(saved(leaf(), kind), "leaf")
    assert (found.mode, found.size) == ("RGB", (40, 20))


def test_a_heic_photo_of_a_telephone_is_read() -> None:
    held = BytesIO()
    pillow_heif.from_pillow(leaf()).save(held)
    assert photo(held.getvalue(), "leaf.heic").size == (40, 20)


def test_an_eps_called_jpg_starts_no_other_program(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    started: list[object] = []
    monkeypatch.setattr(subprocess, "check_call", lambda *a, **k: started.append(a))
    monkeypatch.setattr(subprocess, "Popen", lambda *a, **k: started.append(a))
    assert "EPS" not in FORMATS
    path = tmp_path / "leaf.jpg"
    path.write_bytes(EPS)
    with Image.open(path) as as_pillow_would:  # without the list of formats it is taken for what it is
        assert as_pillow_would.format == "EPS"
    with pytest.raises(GardenError, match=r"leaf\.jpg is not a picture that can be read"):
        photo(path)
    assert started == []


def test_a_picture_is_measured_before_it_is_decoded() -> None:
    head = struct.pack(">IIBBBBB", 60_000, 60_000, 8, 2, 0, 0, 0)
    chunks = [(b"IHDR", head), (b"IDAT", zlib.compress(b"\0" * 100)), (b"IEND", b"")]
    png = b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data)) for kind, data in chunks
    )
    with pytest.raises(GardenError, match="too large"):
        photo(png, "bomb.png")


def test_a_large_photo_is_read_in_little_more_than_its_own_size(tmp_path: Path) -> None:
    resource = pytest.importorskip("resource")
    side = 5000
    Image.new("RGB", (side, side), "#808080").save(tmp_path / "large.jpg")
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    assert photo(tmp_path / "large.jpg").size == (side, side)
    more = 1024 * (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before)
    assert more < 2.5 * 3 * side * side  # bytes: one picture turned upright beside the one read, and a little


def test_nothing_but_colour_leaves_with_a_picture(tmp_path: Path) -> None:
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    exif = Image.Exif()
    exif[0x010E], exif[0x9C9C] = SECRET, SECRET.encode("utf-16-le")
    exif.get_ifd(0x8825)[1] = "N"
    content = saved(leaf(), "JPEG", exif=exif, comment=SECRET.encode(), icc_profile=profile)
    assert SECRET.encode() in content
    record = pictures.add_picture(tmp_path, "leaf.jpg", content)
    kept = (tmp_path / record.file).read_bytes()
    assert SECRET.encode() not in kept
    with Image.open(BytesIO(kept)) as again:
        assert dict(again.getexif()) == {}
        assert set(again.info) <= {"icc_profile", "jfif", "jfif_version", "jfif_unit", "jfif_density"}
        assert again.info["icc_profile"] == profile
    assert [path.name for path in tmp_path.iterdir()] == [record.file]


def test_the_words_in_a_png_do_not_leave() -> None:
    words = PngImagePlugin.PngInfo()
    words.add_text("Comment", SECRET)
    assert SECRET.encode() not in jpeg(photo(saved(leaf(), "PNG", pnginfo=words)), quality=85)


def test_a_picture_taken_sideways_stands_upright() -> None:
    exif = Image.Exif()
    exif[0x0112] = 6  # Exif 2.3, orientation 6: turn by 90 degrees clockwise to view
    assert photo(saved(leaf(), "JPEG", exif=exif)).size == (20, 40)


@pytest.mark.parametrize("content", [b"", b"GIF89a", b"\xff\xd8\xff\xe0", b"<svg/>", EPS, b"\x00" * 100])
def test_what_is_no_picture_is_named_and_nothing_is_written(content: bytes, tmp_path: Path) -> None:
    with pytest.raises(GardenError, match="leaf is not a picture that can be read"):
        pictures.add_picture(tmp_path, "leaf", content)
    assert list(tmp_path.iterdir()) == []


def test_a_picture_that_links_out_of_the_garden_is_not_read(tmp_path: Path) -> None:
    """A garden from elsewhere could have brought any picture of this computer into the client copy."""
    outside, garden = tmp_path / "private", tmp_path / "garden"
    for folder in (outside, garden / "pictures"):
        folder.mkdir(parents=True)
    leaf().save(outside / "leaf.png")
    leaf().save(garden / "pictures" / "own.png")
    (garden / "pictures" / "one.png").symlink_to(outside / "leaf.png")
    (garden / "pictures" / "two.png").symlink_to(garden / "pictures" / "own.png")
    (garden / "journal").symlink_to(outside)
    for named in ("pictures/one.png", "journal/leaf.png"):
        with pytest.raises(GardenError, match="is a link to what lies outside the garden's folder"):
            photo(garden / named)
    assert photo(garden / "pictures" / "two.png").size == leaf().size


@pytest.mark.filterwarnings("error")
def test_nothing_but_a_sentence_is_said_of_a_large_picture(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 500)
    assert photo(saved(leaf(), "PNG")).size == leaf().size


def test_a_picture_cut_anywhere_is_named(often: int) -> None:
    whole = saved(Image.effect_noise((60, 60), 90).convert("RGB"), "PNG")
    for end in range(0, len(whole) - 20, max(1, len(whole) // (20 * often))):
        with pytest.raises(GardenError):
            photo(whole[:end], "cut")
